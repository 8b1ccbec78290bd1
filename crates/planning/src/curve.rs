//! How the running ebbs: the share of the usual amount that remains on each day before the race.

use chrono::Weekday;

use crate::athlete::Athlete;
use crate::problem::{Field, Problem, ProblemKind};
use crate::race::{Event, Race};
use crate::units::Share;
use crate::week::BaseWeek;

/// Lengths of a block that are accepted, in days.
pub const LENGTHS: std::ops::RangeInclusive<u8> = 4..=35;
/// Curvatures that are accepted.
pub const CURVATURES: std::ops::RangeInclusive<f64> = 0.3..=4.0;
/// Floors that are accepted.
pub const FLOORS: std::ops::RangeInclusive<f64> = 0.10..=0.90;

/// The form of the curve.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default, Hash)]
pub enum Shape {
    /// The ebb: the cut deepens toward the race as the curvature says.
    #[default]
    Ebb,
    /// The same fall every day.
    Linear,
    /// One constant cut.
    Step,
    /// Fast at first, then level.
    Exponential,
}

impl Shape {
    /// Every shape.
    pub const ALL: [Self; 4] = [Self::Ebb, Self::Linear, Self::Step, Self::Exponential];

    /// The name in files and forms.
    pub const fn code(self) -> &'static str {
        match self {
            Self::Ebb => "ebb",
            Self::Linear => "linear",
            Self::Step => "step",
            Self::Exponential => "exponential",
        }
    }

    /// The shape with this code.
    pub fn from_code(code: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|shape| shape.code() == code)
    }
}

/// What the day before the race is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default, Hash)]
pub enum DayBefore {
    /// As the rules say for this athlete.
    #[default]
    Auto,
    /// Rest.
    Rest,
    /// A short easy run.
    ShakeOut,
}

impl DayBefore {
    /// Every choice.
    pub const ALL: [Self; 3] = [Self::Auto, Self::Rest, Self::ShakeOut];

    /// The name in files and forms.
    pub const fn code(self) -> &'static str {
        match self {
            Self::Auto => "auto",
            Self::Rest => "rest",
            Self::ShakeOut => "shake-out",
        }
    }

    /// The choice with this code.
    pub fn from_code(code: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|choice| choice.code() == code)
    }
}

/// The extra rest day of race week.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default, Hash)]
pub enum ExtraRest {
    /// As the rules say for this athlete.
    #[default]
    Auto,
    /// None.
    None,
    /// On this weekday.
    On(Weekday),
}

/// How the coach wants the block; everything unsaid takes the event's and the athlete's default.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Settings {
    /// Length in days.
    pub days: Option<u8>,
    /// Curvature `p`.
    pub curve: Option<f64>,
    /// Floor `e`: what remains on the day before the race.
    pub floor: Option<f64>,
    /// Form of the curve.
    pub shape: Shape,
    /// The day before the race.
    pub day_before: DayBefore,
    /// The extra rest day.
    pub extra_rest: ExtraRest,
}

impl Settings {
    /// Everything that is wrong with the settings as typed.
    pub fn problems(&self) -> Vec<Problem> {
        let mut found = Vec::new();
        let mut check = |at: Field, value: Option<f64>, from: f64, to: f64| {
            if let Some(value) = value.filter(|value| !(from..=to).contains(value)) {
                found.push(Problem::new(at, ProblemKind::OutOfRange { value, from, to }));
            }
        };
        check(Field::BlockDays, self.days.map(f64::from), f64::from(*LENGTHS.start()), f64::from(*LENGTHS.end()));
        check(Field::Curve, self.curve, *CURVATURES.start(), *CURVATURES.end());
        check(Field::Floor, self.floor, *FLOORS.start(), *FLOORS.end());
        found
    }
}

/// The curve of one block.
///
/// With `L` the length in days, `p` the curvature and `e` the floor, the share of the usual amount
/// that remains `t` days before the race is
///
/// ```text
/// f(t) = 1                                     for t > L
/// f(t) = e + (1 - e) * (1 - (1 - t/L)^p)       for 0 < t <= L
/// ```
///
/// # Source
///
/// The form is ours. What it has to meet is published: weekly volume down by 41-60 %, intensity and
/// frequency kept, progressive rather than stepwise (Bosquet and others 2007,
/// doi 10.1249/mss.0b013e31806010e0; Wang and others 2023, doi 10.1371/journal.pone.0282838).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Curve {
    /// Length of the block in days, `L`.
    pub length: u8,
    /// Curvature `p`: 1 is linear, above 1 the cut comes late, below 1 early.
    pub curvature: f64,
    /// Floor `e`.
    pub floor: f64,
    /// Form.
    pub shape: Shape,
}

impl Curve {
    /// The share of the usual amount that remains `to_race` days before the race.
    pub fn share(&self, to_race: u16) -> Share {
        let length = f64::from(self.length);
        let t = f64::from(to_race);
        if t > length {
            return Share::ALL;
        }
        let gone = 1.0 - t / length;
        let rest = 1.0 - self.floor;
        Share(match self.shape {
            Shape::Ebb => self.floor + rest * (1.0 - gone.powf(self.curvature)),
            Shape::Linear => self.floor + rest * (1.0 - gone),
            // The first day of the block is still whole, so that the block's length means the same
            // for every shape; then one constant cut with the mean of the linear fall.
            Shape::Step if to_race == u16::from(self.length) => 1.0,
            Shape::Step => self.floor + rest / 2.0,
            Shape::Exponential => self.floor + rest * (-(length - t) / (length * Self::FAST)).exp(),
        })
    }

    /// Time constant of the exponential shape as a part of the length.
    ///
    /// # Source
    ///
    /// The faster of two exponential falls did better in Banister and others 1999,
    /// doi 10.1007/s004210050493 (4 of 14 days).
    const FAST: f64 = 0.25;
}

/// What an event's block is by default, and which lengths pass without a caution.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct EventDefaults {
    /// The curve.
    pub curve: Curve,
    /// Lengths in days that need no word.
    pub lengths: (u8, u8),
}

/// The defaults of an event.
///
/// # Source
///
/// Lengths: Spilsbury and others 2015 (6 days up to 10 km, 14 for the marathon, elite), Smyth and
/// Lawlor 2021, doi 10.3389/fspor.2021.735220 (up to three weeks, recreational marathon), Bosquet
/// and others 2007 (8-14 days). Curvature and floor: common practice, no published source.
pub const fn event_defaults(event: Event) -> EventDefaults {
    let (length, lengths, curvature, floor) = match event {
        Event::FiveK => (7, (4, 10), 1.5, 0.50),
        Event::TenK => (10, (7, 12), 1.5, 0.40),
        Event::Half => (14, (8, 14), 1.5, 0.25),
        Event::Marathon => (21, (14, 22), 1.5, 0.25),
        Event::Longer => (21, (14, 22), 1.2, 0.20),
    };
    EventDefaults { curve: Curve { length, curvature, floor, shape: Shape::Ebb }, lengths }
}

/// Why a curve is not the event's default.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Adjustment {
    /// Less than 30 km or 3 hours a week.
    LowMileage,
    /// Three runs a week or fewer.
    FewRuns,
    /// Under 18.
    Youth,
    /// A marathon block of 16 days or less falls evenly.
    ShortMarathon,
    /// The length that the coach noted as suiting this athlete.
    SuitsLength,
}

/// Below this a week is low mileage: 30 km, or 3 h where only time is known.
///
/// # Source
///
/// Common practice, no published source.
pub const LOW_MILEAGE_KM: f64 = 30.0;

/// The curve for an athlete's block: what the coach set, else what suits the athlete, else the
/// event's default with raised floors for low mileage, few runs and youth.
///
/// # Source
///
/// Raised floors and shortened blocks: common practice, no published source.
pub fn curve_for(athlete: &Athlete, week: &BaseWeek, race: &Race, settings: &Settings) -> (Curve, Vec<Adjustment>) {
    let event = race.distance.event();
    let mut curve = event_defaults(event).curve;
    let mut why = Vec::new();
    let short = |curve: &mut Curve, floor: f64| {
        curve.floor = curve.floor.max(floor);
        curve.length = curve.length.min(10);
    };
    if event <= Event::Half {
        if crate::units::is_below_km(week.middle_km(athlete.easy_pace), LOW_MILEAGE_KM) {
            short(&mut curve, 0.55);
            why.push(Adjustment::LowMileage);
        } else if week.running_days() <= 3 {
            short(&mut curve, 0.40);
            why.push(Adjustment::FewRuns);
        }
    }
    if athlete.is_under_18(race.date) {
        short(&mut curve, 0.65);
        why.push(Adjustment::Youth);
    }
    if let Some(days) = athlete.suits.days {
        curve.length = days;
        why.push(Adjustment::SuitsLength);
    }
    if let Some(days) = settings.days {
        curve.length = days;
        why.retain(|reason| *reason != Adjustment::SuitsLength);
    }
    if event == Event::Marathon && curve.length <= 16 {
        curve.curvature = 1.0;
        why.push(Adjustment::ShortMarathon);
    }
    if let Some(curvature) = settings.curve {
        curve.curvature = curvature;
    }
    if let Some(floor) = settings.floor {
        curve.floor = floor;
    }
    curve.shape = settings.shape;
    (curve, why)
}

/// A band in shares of the base week, both ends inside.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Band {
    pub(crate) low: f64,
    pub(crate) high: f64,
}

impl Band {
    /// Whether a share lies inside.
    pub(crate) fn holds(self, share: Share) -> bool {
        (self.low..=self.high).contains(&share.0)
    }
}

/// The band of a week of an event: race week (0), the week before (1), the one before that (2).
///
/// # Source
///
/// Common practice, no published source. For base weeks whose longest run, a quarter to two fifths
/// of the week, stands on the race's weekday: the race takes its place.
pub(crate) const fn band(event: Event, before: u16) -> Option<Band> {
    let (low, high) = match (event, before) {
        (Event::FiveK, 0) => (0.42, 0.75),
        (Event::FiveK, 1) => (0.90, 1.00),
        (Event::TenK, 0) => (0.38, 0.65),
        (Event::TenK, 1) => (0.85, 1.00),
        (Event::Half, 0) => (0.26, 0.45),
        (Event::Half, 1) => (0.76, 0.88),
        (Event::Half, 2) => (0.93, 1.00),
        (Event::Marathon, 0) => (0.23, 0.45),
        (Event::Marathon, 1) => (0.60, 0.75),
        (Event::Marathon, 2) => (0.80, 1.00),
        (Event::Longer, 0) => (0.15, 0.40),
        (Event::Longer, 1) => (0.50, 0.66),
        (Event::Longer, 2) => (0.75, 1.00),
        (Event::FiveK | Event::TenK, 2) => (1.0, 1.0),
        _ => return None,
    };
    Some(Band { low, high })
}

/// The race's weekday holds this part of the base week in the weeks that the bands were drawn from.
pub(crate) const RACE_WEEKDAY_PART: (f64, f64) = (0.25, 0.40);
