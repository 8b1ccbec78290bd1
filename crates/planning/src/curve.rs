//! How the running ebbs: the share of the usual amount that remains on each day before the race.

use chrono::Weekday;

use crate::athlete::Athlete;
use crate::problem::{Field, Problem, ProblemKind};
use crate::race::{Event, Race};
use crate::units::{Share, is_below_km};
use crate::week::BaseWeek;

/// Lengths of a block that are accepted, in days: a coach's habit may lie outside what passes without a caution
/// ([`EventDefaults::lengths`]), but outside these it is no taper.
pub const LENGTHS: std::ops::RangeInclusive<u8> = 4..=35;
/// Curvatures that are accepted: below, nearly the whole cut comes on the first days, above, on the last.
pub const CURVATURES: std::ops::RangeInclusive<f64> = 0.3..=4.0;
/// Floors that are accepted: below, the last days hold nothing worth the shoes, above, nothing is cut.
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
    /// Floor `e`: what the curve falls toward. It would be reached on race day; the day before keeps a
    /// little more.
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
    ///
    /// A block that was made with fewer days left than the shortest one has is the end of that: where nothing could be
    /// eased in time, the last days are not run as if the curve had just begun.
    pub fn share(&self, to_race: u16) -> Share {
        if to_race > u16::from(self.length) {
            return Share::ALL;
        }
        let length = f64::from(self.length.max(*LENGTHS.start()));
        let t = f64::from(to_race);
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

    /// Whole weeks, counted back from race day, of a block: they hold every day of it and D8, from which
    /// long runs come down in the shortest.
    pub(crate) const fn weeks(&self) -> u16 {
        let days = if self.length < 8 { 8 } else { self.length as u16 };
        days / 7 + 1
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

/// Why a block is not the event's default.
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
    /// The day before the race is as the coach noted that it suits this athlete.
    SuitsDayBefore,
    /// The extra rest day is the one that the coach noted as suiting this athlete.
    SuitsExtraRest,
    /// The race before leaves no more days.
    RaceBefore,
    /// When the block was made no more days were left.
    DaysLeft,
}

/// A marathon block of so many days or fewer falls evenly.
///
/// # Source
///
/// Common practice, no published source.
pub(crate) const EVEN_MARATHON_UNTIL: u8 = 16;

/// Below this a week is low mileage: 30 km, or 3 h where only time is known.
///
/// # Source
///
/// Common practice, no published source.
pub(crate) const LOW_MILEAGE_KM: f64 = 30.0;

/// The longest default block, in days, of low mileage, few runs and youth.
///
/// # Source
///
/// Common practice, no published source.
pub(crate) const SHORT_BLOCK: u8 = 10;

/// The curve for an athlete's block: what the coach set, else what suits the athlete, else the
/// event's default with raised floors for low mileage, few runs and youth.
///
/// # Source
///
/// Raised floors and shortened blocks: common practice, no published source.
pub fn curve_for(athlete: &Athlete, week: &BaseWeek, race: &Race, settings: &Settings) -> (Curve, Vec<Adjustment>) {
    curve_with(athlete, week, race, athlete.suits.days, settings)
}

/// The curve that the rules alone give an athlete, whatever the coach set or noted.
pub(crate) fn curve_by_the_rules(athlete: &Athlete, week: &BaseWeek, race: &Race) -> Curve {
    curve_with(athlete, week, race, None, &Settings::default()).0
}

fn curve_with(
    athlete: &Athlete,
    week: &BaseWeek,
    race: &Race,
    suits: Option<u8>,
    settings: &Settings,
) -> (Curve, Vec<Adjustment>) {
    let event = race.distance.event();
    let mut curve = event_defaults(event).curve;
    let mut why = Vec::new();
    // A floor no lower and a block no longer than this; a reason only where that changes something.
    let mut short = |curve: &mut Curve, floor: f64, reason: Adjustment| {
        if curve.floor < floor || curve.length > SHORT_BLOCK {
            curve.floor = curve.floor.max(floor);
            curve.length = curve.length.min(SHORT_BLOCK);
            why.push(reason);
        }
    };
    if event <= Event::Half {
        if is_below_km(week.middle_km(athlete.easy_pace), LOW_MILEAGE_KM) {
            short(&mut curve, 0.55, Adjustment::LowMileage);
        } else if week.running_days() <= 3 {
            short(&mut curve, 0.40, Adjustment::FewRuns);
        }
    }
    if athlete.is_under_18(race.date) {
        short(&mut curve, 0.65, Adjustment::Youth);
    }
    if let Some(days) = suits {
        curve.length = days;
        why.push(Adjustment::SuitsLength);
    }
    if let Some(days) = settings.days {
        curve.length = days;
        why.retain(|reason| *reason != Adjustment::SuitsLength);
    }
    if let Some(curvature) = settings.curve {
        curve.curvature = curvature;
    } else if event == Event::Marathon && curve.length <= EVEN_MARATHON_UNTIL {
        curve.curvature = 1.0;
        why.push(Adjustment::ShortMarathon);
    }
    if let Some(floor) = settings.floor {
        curve.floor = floor;
    }
    if settings.day_before == DayBefore::Auto && athlete.suits.day_before.is_some_and(|set| set != DayBefore::Auto) {
        why.push(Adjustment::SuitsDayBefore);
    }
    if settings.extra_rest == ExtraRest::Auto && athlete.suits.extra_rest.is_some() {
        why.push(Adjustment::SuitsExtraRest);
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

/// The band of a week of an event: race week (0), the week before (1), the one before that (2).
///
/// # Source
///
/// Common practice, no published source. For base weeks whose longest run, a quarter to two fifths
/// of the week, stands on the race's weekday: the race takes its place. The week two before a marathon or a
/// longer race is open upward, for a block shorter than the event's leaves it whole; in one of the event's
/// length it stays below 96 and 92 % (`tests/bands.rs`).
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
///
/// # Source
///
/// Common practice, no published source: see [`band`].
pub(crate) const RACE_WEEKDAY_PART: (f64, f64) = (0.25, 0.40);

#[cfg(test)]
mod tests {
    use chrono::NaiveDate;

    use super::*;
    use crate::athlete::Suits;
    use crate::notation::read_week;
    use crate::race::{Importance, RaceDistance};
    use crate::units::{DistanceUnit, Milli, Pace};

    fn assert_near(got: f64, wanted: f64) {
        assert!((got - wanted).abs() < 1e-6, "{got} for {wanted}");
    }

    fn curve(shape: Shape, length: u8, curvature: f64, floor: f64) -> Curve {
        Curve { length, curvature, floor, shape }
    }

    /// Mean over the days 1 to `days` of a fall, counted from its start.
    fn mean(curve: Curve, days: u16) -> f64 {
        let start = u16::from(curve.length);
        (1..=days).map(|day| curve.share(start - day).0).sum::<f64>() / f64::from(days)
    }

    #[test]
    fn a_linear_fall_to_a_quarter_over_14_days() {
        // Computed from w = 1 - (1 - e) d / n, the definition of a linear taper, with e = 0.25, n = 14.
        for fall in [curve(Shape::Ebb, 14, 1.0, 0.25), curve(Shape::Linear, 14, 1.5, 0.25)] {
            assert_near(fall.share(13).0, 0.946_429);
            assert_near(fall.share(7).0, 0.625);
            assert_near(fall.share(0).0, 0.25);
            assert_near(mean(fall, 14), 0.598_214);
        }
    }

    #[test]
    fn an_exponential_fall_with_a_time_constant_of_four_days() {
        // Sum of exp(-d / 4) over d = 1..14 in closed form: (1 - e^(-14/4)) / (e^(1/4) - 1) / 14. Four
        // days: the faster of two exponential tapers in Banister and others 1999, doi 10.1007/s004210050493.
        let fall = curve(Shape::Exponential, 16, 1.5, 0.0);
        assert_near(mean(fall, 14), 0.243_892);
        assert_near(fall.share(16).0, 1.0);
        assert_near(fall.share(12).0, (-1.0_f64).exp());
    }

    #[test]
    fn the_ebb_falls_late() {
        // By hand: (1/2)^1.5 = 0.353553, (13/14)^1.5 = 0.894794.
        let ebb = curve(Shape::Ebb, 14, 1.5, 0.25);
        assert_near(ebb.share(7).0, 0.25 + 0.75 * (1.0 - 0.353_553_4));
        assert_near(ebb.share(1).0, 0.25 + 0.75 * (1.0 - 0.894_793_8));
        assert_near(ebb.share(0).0, 0.25);
        let early = curve(Shape::Ebb, 14, 0.5, 0.25);
        assert!(early.share(7) < Share(0.625) && ebb.share(7) > Share(0.625));
    }

    #[test]
    fn a_step_is_one_cut_with_the_mean_of_the_linear_fall() {
        let step = curve(Shape::Step, 14, 1.5, 0.25);
        for to_race in 0..14 {
            assert_near(step.share(to_race).0, 0.625);
        }
    }

    #[test]
    fn every_shape_starts_whole_falls_and_stays_above_its_floor() {
        for shape in Shape::ALL {
            for length in LENGTHS {
                for (curvature, floor) in [(0.3, 0.1), (1.0, 0.25), (1.5, 0.4), (4.0, 0.9)] {
                    let curve = curve(shape, length, curvature, floor);
                    assert_eq!(curve.share(u16::from(length)), Share::ALL, "{curve:?}");
                    assert_eq!(curve.share(u16::from(length) + 1), Share::ALL, "{curve:?}");
                    assert_eq!(curve.share(u16::MAX), Share::ALL, "{curve:?}");
                    for to_race in 0..u16::from(length) {
                        let (now, before) = (curve.share(to_race), curve.share(to_race + 1));
                        assert!(now <= before && now.0 >= floor - 1e-12, "{curve:?} D{to_race}");
                    }
                }
            }
        }
    }

    #[test]
    fn each_event_has_its_defaults() {
        let table = Event::ALL.map(|event| {
            let EventDefaults { curve, lengths } = event_defaults(event);
            assert_eq!(curve.shape, Shape::Ebb);
            (curve.length, lengths, curve.curvature, curve.floor)
        });
        assert_eq!(
            table,
            [
                (7, (4, 10), 1.5, 0.50),
                (10, (7, 12), 1.5, 0.40),
                (14, (8, 14), 1.5, 0.25),
                (21, (14, 22), 1.5, 0.25),
                (21, (14, 22), 1.2, 0.20),
            ]
        );
    }

    /// Four runs and 40 km.
    const WEEK: &str = "- | 9 | - | 8 | - | 7 | 16";
    const FIFTY_KM: RaceDistance = RaceDistance::Own(Milli::whole(50), DistanceUnit::Km);

    fn adult() -> Athlete {
        Athlete { name: "A".into(), ..Athlete::default() }
    }

    fn aged(age: i32) -> Athlete {
        Athlete { birth_year: Some(2027 - age), ..adult() }
    }

    /// Length, curvature, floor, and the reasons for them.
    fn of(
        athlete: &Athlete,
        week: &str,
        distance: RaceDistance,
        settings: &Settings,
    ) -> (u8, f64, f64, Vec<Adjustment>) {
        let lines: Vec<&str> = week.split('|').collect();
        let week = read_week(&lines.try_into().unwrap(), "", DistanceUnit::Km).unwrap();
        let date = NaiveDate::from_ymd_opt(2027, 5, 9).unwrap();
        let race = Race { name: "R".into(), date, distance, start: None, zone: None, importance: Importance::Goal };
        let (curve, why) = curve_for(athlete, &week, &race, settings);
        assert_eq!(curve.shape, settings.shape);
        (curve.length, curve.curvature, curve.floor, why)
    }

    fn by_default(week: &str, distance: RaceDistance) -> (u8, f64, f64, Vec<Adjustment>) {
        of(&adult(), week, distance, &Settings::default())
    }

    #[test]
    fn usual_weeks_take_the_events_curve() {
        assert_eq!(by_default(WEEK, RaceDistance::FiveK), (7, 1.5, 0.50, vec![]));
        assert_eq!(by_default(WEEK, RaceDistance::TenMiles), (10, 1.5, 0.40, vec![]));
        assert_eq!(by_default(WEEK, RaceDistance::Half), (14, 1.5, 0.25, vec![]));
        assert_eq!(by_default(WEEK, RaceDistance::Marathon), (21, 1.5, 0.25, vec![]));
        assert_eq!(by_default(WEEK, FIFTY_KM), (21, 1.2, 0.20, vec![]));
    }

    #[test]
    fn less_than_30_km_is_low_mileage_up_to_the_half_marathon() {
        let low = |length| (length, 1.5, 0.55, vec![Adjustment::LowMileage]);
        let (below, at) = ("- | 6 | - | 6 | - | 6 | 11.9", "- | 6 | - | 6 | - | 6 | 12");
        assert_eq!(by_default(below, RaceDistance::FiveK), low(7));
        assert_eq!(by_default(below, RaceDistance::TenK), low(10));
        assert_eq!(by_default(below, RaceDistance::Half), low(10));
        assert_eq!(by_default(at, RaceDistance::Half), (14, 1.5, 0.25, vec![]));
        assert_eq!(by_default(below, RaceDistance::Marathon), (21, 1.5, 0.25, vec![]));
        assert_eq!(by_default(below, FIFTY_KM), (21, 1.2, 0.20, vec![]));
    }

    #[test]
    fn thirty_kilometres_in_miles_are_not_below_30_km() {
        // 18.641 mi are 29.9998 km: rounding between units does not change sides.
        assert_eq!(by_default("- | 4 mi | - | 4 mi | - | 4 mi | 6.641 mi", RaceDistance::Half).3, []);
        assert_eq!(
            by_default("- | 4 mi | - | 4 mi | - | 4 mi | 6.6 mi", RaceDistance::Half).3,
            [Adjustment::LowMileage]
        );
    }

    #[test]
    fn less_than_three_hours_are_low_mileage_where_only_time_is_known() {
        let (below, at) =
            ("- | 35 min | - | 35 min | - | 35 min | 74 min", "- | 35 min | - | 35 min | - | 35 min | 75 min");
        assert_eq!(by_default(below, RaceDistance::Half), (10, 1.5, 0.55, vec![Adjustment::LowMileage]));
        assert_eq!(by_default(at, RaceDistance::Half), (14, 1.5, 0.25, vec![]));
        // Where the pace is known the kilometres count: three hours at 7:00 are 25.7 km.
        let slow = Athlete { easy_pace: Some(Pace::new(420, DistanceUnit::Km).unwrap()), ..adult() };
        assert_eq!(of(&slow, at, RaceDistance::Half, &Settings::default()).3, [Adjustment::LowMileage]);
        let fast = Athlete { easy_pace: Some(Pace::new(300, DistanceUnit::Km).unwrap()), ..adult() };
        assert_eq!(of(&fast, below, RaceDistance::Half, &Settings::default()).3, []);
    }

    #[test]
    fn three_runs_a_week_raise_the_floor_up_to_the_half_marathon() {
        let (three, two) = ("- | 10 | - | 12 | - | - | 16", "- | 15 | - | - | - | - | 16");
        for week in [three, two] {
            assert_eq!(by_default(week, RaceDistance::Half), (10, 1.5, 0.40, vec![Adjustment::FewRuns]));
            assert_eq!(by_default(week, RaceDistance::Marathon), (21, 1.5, 0.25, vec![]));
        }
        assert_eq!(by_default(WEEK, RaceDistance::Half), (14, 1.5, 0.25, vec![]));
        // Two runs on one day are one running day.
        assert_eq!(by_default("- | 6 + 6 | - | 12 | - | - | 16", RaceDistance::Half).3, [Adjustment::FewRuns]);
    }

    #[test]
    fn few_runs_are_no_reason_where_they_change_nothing() {
        let three = "- | 10 | - | 12 | - | - | 16";
        assert_eq!(by_default(three, RaceDistance::FiveK), (7, 1.5, 0.50, vec![]));
        assert_eq!(by_default(three, RaceDistance::TenK), (10, 1.5, 0.40, vec![]));
    }

    #[test]
    fn low_mileage_goes_before_few_runs() {
        assert_eq!(
            by_default("- | 8 | - | 8 | - | - | 12", RaceDistance::Half),
            (10, 1.5, 0.55, vec![Adjustment::LowMileage])
        );
    }

    #[test]
    fn under_18s_keep_more_in_a_shorter_block() {
        let young = |distance| of(&aged(17), WEEK, distance, &Settings::default());
        assert_eq!(young(RaceDistance::FiveK), (7, 1.5, 0.65, vec![Adjustment::Youth]));
        assert_eq!(young(RaceDistance::Half), (10, 1.5, 0.65, vec![Adjustment::Youth]));
        assert_eq!(young(RaceDistance::Marathon), (10, 1.0, 0.65, vec![Adjustment::Youth, Adjustment::ShortMarathon]));
        assert_eq!(of(&aged(18), WEEK, RaceDistance::Half, &Settings::default()), (14, 1.5, 0.25, vec![]));
        assert_eq!(
            of(&aged(17), "- | 6 | - | 6 | - | 6 | 9", RaceDistance::Half, &Settings::default()),
            (10, 1.5, 0.65, vec![Adjustment::LowMileage, Adjustment::Youth])
        );
    }

    #[test]
    fn a_marathon_block_of_16_days_or_less_falls_evenly() {
        let days =
            |days| of(&adult(), WEEK, RaceDistance::Marathon, &Settings { days: Some(days), ..Settings::default() });
        assert_eq!(days(16), (16, 1.0, 0.25, vec![Adjustment::ShortMarathon]));
        assert_eq!(days(17), (17, 1.5, 0.25, vec![]));
        let half = of(&adult(), WEEK, RaceDistance::Half, &Settings { days: Some(10), ..Settings::default() });
        assert_eq!(half, (10, 1.5, 0.25, vec![]));
    }

    #[test]
    fn the_curvature_that_the_coach_sets_is_no_adjustment() {
        let settings = Settings { days: Some(14), curve: Some(2.0), ..Settings::default() };
        assert_eq!(of(&adult(), WEEK, RaceDistance::Marathon, &settings), (14, 2.0, 0.25, vec![]));
    }

    #[test]
    fn what_suits_the_athlete_overrules_the_defaults_and_settings_overrule_both() {
        let suited = Athlete { suits: Suits { days: Some(9), ..Suits::default() }, ..adult() };
        assert_eq!(
            of(&suited, WEEK, RaceDistance::Half, &Settings::default()),
            (9, 1.5, 0.25, vec![Adjustment::SuitsLength])
        );
        let settings = Settings { days: Some(12), curve: Some(0.8), floor: Some(0.6), ..Settings::default() };
        assert_eq!(of(&suited, WEEK, RaceDistance::Half, &settings), (12, 0.8, 0.6, vec![]));
        let suited_youth = Athlete { suits: suited.suits, ..aged(16) };
        assert_eq!(
            of(&suited_youth, WEEK, RaceDistance::Marathon, &Settings::default()),
            (9, 1.0, 0.65, vec![Adjustment::Youth, Adjustment::SuitsLength, Adjustment::ShortMarathon])
        );
    }

    #[test]
    fn the_shape_is_the_coachs() {
        for shape in Shape::ALL {
            of(&adult(), WEEK, RaceDistance::Half, &Settings { shape, ..Settings::default() });
        }
    }

    #[test]
    fn settings_are_refused_outside_both_ends() {
        let days = |days| Settings { days: Some(days), ..Settings::default() }.problems();
        let curve = |curve| Settings { curve: Some(curve), ..Settings::default() }.problems();
        let floor = |floor| Settings { floor: Some(floor), ..Settings::default() }.problems();
        let out = |at, value, from, to| [Problem::new(at, ProblemKind::OutOfRange { value, from, to })];
        assert_eq!(Settings::default().problems(), []);
        for fine in [4, 35] {
            assert_eq!(days(fine), []);
        }
        assert_eq!(days(3), out(Field::BlockDays, 3.0, 4.0, 35.0));
        assert_eq!(days(36), out(Field::BlockDays, 36.0, 4.0, 35.0));
        for fine in [0.3, 4.0] {
            assert_eq!(curve(fine), []);
        }
        assert_eq!(curve(0.29), out(Field::Curve, 0.29, 0.3, 4.0));
        assert_eq!(curve(4.01), out(Field::Curve, 4.01, 0.3, 4.0));
        assert_eq!(curve(f64::NAN).len(), 1);
        for fine in [0.10, 0.90] {
            assert_eq!(floor(fine), []);
        }
        assert_eq!(floor(0.09), out(Field::Floor, 0.09, 0.1, 0.9));
        assert_eq!(floor(0.91), out(Field::Floor, 0.91, 0.1, 0.9));
        let all = Settings { days: Some(99), curve: Some(9.0), floor: Some(0.0), ..Settings::default() };
        let fields: Vec<Field> = all.problems().into_iter().map(|problem| problem.at).collect();
        assert_eq!(fields, [Field::BlockDays, Field::Curve, Field::Floor]);
    }

    #[test]
    fn codes_read_back() {
        for shape in Shape::ALL {
            assert_eq!(Shape::from_code(shape.code()), Some(shape));
        }
        for choice in DayBefore::ALL {
            assert_eq!(DayBefore::from_code(choice.code()), Some(choice));
        }
        assert_eq!(Shape::from_code("Ebb"), None);
        assert_eq!(DayBefore::from_code(""), None);
    }
}
