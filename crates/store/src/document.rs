//! A block as one JSON document, which a person can read as well.
//!
//! Sessions are lines as a coach writes them, reasons their short form:
//!
//! ```json
//! { "form": 1,
//!   "race": { "name": "Larkmere Half", "date": "2027-05-09", "distance": "half", "importance": "goal" },
//!   "event": "half",
//!   "curve": { "length": 14, "curvature": 1.5, "floor": 0.25, "shape": "ebb" },
//!   "days": [
//!     { "date": "2027-05-03", "to_race": 6, "usual": ["easy 8 km"],
//!       "sessions": [{ "do": "easy 6 km", "usual": "easy 8 km", "why": ["ebb 0.7113"] }] } ] }
//! ```
//!
//! What is empty is left out. A field that is not known is an error: it was written by something newer.

use std::borrow::Cow;
use std::ops::{Deref, RangeInclusive};

use chrono::{Days, NaiveDate, NaiveTime};
use planning::block::Dropped;
use planning::curve::Adjustment;
use planning::notation::write_day;
use planning::{
    Amount, Block, Cause, Ceiling, Curve, Day, Event, Importance, Milli, Pace, Planned, Race, RaceDistance, Reason,
    Role, Session, Shape, Share, Slot, Unit,
};
use serde::de::Error as _;
use serde::{Deserialize, Deserializer, Serialize};

use crate::BoardDay;
use crate::cell::{is_kept, units_of};
use crate::lines;

/// The only form of the document so far.
const FORM: u32 = 1;

/// Writes a block.
///
/// # Errors
///
/// What would not read back as it was.
pub(crate) fn write(block: &Block) -> Result<String, String> {
    let document = Document::of(block);
    let text = serde_json::to_string(&document).map_err(|error| error.to_string())?;
    match read(&text) {
        Ok(same) if same == *block => Ok(text),
        Ok(_) => Err("it would read back differently".to_owned()),
        Err(reason) => Err(reason),
    }
}

/// Reads a block.
///
/// # Errors
///
/// What cannot be read, and where.
pub(crate) fn read(text: &str) -> Result<Block, String> {
    let document: Document = serde_json::from_str(text).map_err(|error| error.to_string())?;
    document.read()
}

/// A text as it stands in the document, in place where nothing in it is escaped: a block has some hundred.
#[derive(Serialize, Deserialize)]
#[serde(transparent)]
struct Text<'a>(#[serde(borrow)] Cow<'a, str>);

impl Deref for Text<'_> {
    type Target = str;

    fn deref(&self) -> &str {
        &self.0
    }
}

impl From<String> for Text<'_> {
    fn from(text: String) -> Self {
        Self(text.into())
    }
}

/// From when to when a block is, whether it is one of youth, and nothing else.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Dates {
    /// Race day.
    pub(crate) race_day: NaiveDate,
    /// The length of the block in days.
    pub(crate) length: u8,
    /// Whether it was made for somebody under 18.
    pub(crate) of_youth: bool,
}

impl Dates {
    /// See [`Block::first_day`].
    pub(crate) fn first_day(self) -> NaiveDate {
        self.race_day - Days::new(u64::from(self.length))
    }
}

/// Reads only the dates.
///
/// # Errors
///
/// What cannot be read. What stands elsewhere in the document is not looked at.
pub(crate) fn dates(text: &str) -> Result<Dates, String> {
    let document: DatesText = serde_json::from_str(text).map_err(|error| error.to_string())?;
    known_form(document.form)?;
    Ok(Dates {
        race_day: document.race.date,
        length: document.curve.length,
        of_youth: is_of_youth(&document.adjustments),
    })
}

fn is_of_youth(adjustments: &[String]) -> bool {
    adjustments.iter().any(|code| code == adjustment_code(Adjustment::Youth))
}

fn known_form(form: u32) -> Result<(), String> {
    if form == FORM { Ok(()) } else { Err(format!("a document of form {form}")) }
}

/// What the squad board needs of a block, and nothing else.
#[derive(Debug, PartialEq)]
pub(crate) struct Glance {
    /// From when to when it is.
    pub(crate) dates: Dates,
    /// What compares minutes with distance, if it is known.
    pub(crate) pace: Option<Pace>,
    /// The days that were asked for, as far as the block has them.
    pub(crate) days: Vec<BoardDay>,
}

/// Reads only the running of some days: a fraction of the work of [`read`].
///
/// # Errors
///
/// What cannot be read. What stands elsewhere in the document is not looked at.
pub(crate) fn glance(text: &str, within: RangeInclusive<NaiveDate>) -> Result<Glance, String> {
    let document: GlanceText = serde_json::from_str(text).map_err(|error| error.to_string())?;
    known_form(document.form)?;
    let days = document.days.iter().filter(|day| within.contains(&day.date)).map(|day| {
        Ok(BoardDay {
            date: day.date,
            has_race: day.to_race == 0,
            planned: lines::totals(day.sessions.iter().map(|planned| &*planned.session))?,
            usual: lines::totals(day.usual.iter().map(Deref::deref))?,
        })
    });
    Ok(Glance {
        days: days.collect::<Result<_, String>>()?,
        dates: Dates {
            race_day: document.race.date,
            length: document.curve.length,
            of_youth: is_of_youth(&document.adjustments),
        },
        pace: document.pace.map(PaceText::read).transpose()?,
    })
}

/// The same document, as far as its dates are read.
#[derive(Deserialize)]
struct DatesText {
    form: u32,
    race: GlanceRace,
    curve: GlanceCurve,
    #[serde(default)]
    adjustments: Vec<String>,
}

/// The same document, as far as a glance reads it.
#[derive(Deserialize)]
struct GlanceText<'a> {
    form: u32,
    race: GlanceRace,
    curve: GlanceCurve,
    #[serde(default)]
    adjustments: Vec<String>,
    #[serde(default)]
    pace: Option<PaceText>,
    #[serde(borrow)]
    days: Vec<GlanceDay<'a>>,
}

#[derive(Deserialize)]
struct GlanceRace {
    #[serde(deserialize_with = "kept_day")]
    date: NaiveDate,
}

#[derive(Deserialize)]
struct GlanceCurve {
    length: u8,
}

#[derive(Deserialize)]
struct GlanceDay<'a> {
    #[serde(deserialize_with = "kept_day")]
    date: NaiveDate,
    to_race: u16,
    #[serde(default, borrow)]
    usual: Vec<Text<'a>>,
    #[serde(default, borrow)]
    sessions: Vec<GlancePlanned<'a>>,
}

#[derive(Deserialize)]
struct GlancePlanned<'a> {
    #[serde(rename = "do", borrow)]
    session: Text<'a>,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct Document<'a> {
    form: u32,
    race: RaceText,
    event: String,
    curve: CurveText,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    adjustments: Vec<String>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pace: Option<PaceText>,
    /// What the coach said of the usual week as a whole: low and high in thousandths, and the unit.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    week_range: Option<(i32, i32, String)>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    ceilings: Vec<CeilingText>,
    #[serde(borrow)]
    days: Vec<DayText<'a>>,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct CeilingText {
    #[serde(deserialize_with = "kept_day")]
    from: NaiveDate,
    #[serde(deserialize_with = "kept_day")]
    to: NaiveDate,
    share: f64,
    cause: String,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct RaceText {
    name: String,
    #[serde(deserialize_with = "kept_day")]
    date: NaiveDate,
    /// A standard distance.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    distance: Option<String>,
    /// The coach's own distance, in thousandths of the unit.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    own_distance: Option<(i32, String)>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    start: Option<NaiveTime>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    zone: Option<String>,
    importance: String,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct CurveText {
    length: u8,
    curvature: f64,
    floor: f64,
    shape: String,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct PaceText {
    seconds: u16,
    per: String,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct DayText<'a> {
    #[serde(deserialize_with = "kept_day")]
    date: NaiveDate,
    to_race: u16,
    #[serde(default, skip_serializing_if = "is_false")]
    pinned: bool,
    #[serde(default, skip_serializing_if = "Vec::is_empty", borrow)]
    usual: Vec<Text<'a>>,
    #[serde(default, skip_serializing_if = "Vec::is_empty", borrow)]
    sessions: Vec<PlannedText<'a>>,
    #[serde(default, skip_serializing_if = "Vec::is_empty", borrow)]
    dropped: Vec<DroppedText<'a>>,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct PlannedText<'a> {
    #[serde(rename = "do", borrow)]
    session: Text<'a>,
    #[serde(default, skip_serializing_if = "Option::is_none", borrow)]
    usual: Option<Text<'a>>,
    /// Left out where the role is plain.
    #[serde(default, skip_serializing_if = "Option::is_none", borrow)]
    role: Option<Text<'a>>,
    #[serde(default, skip_serializing_if = "Vec::is_empty", borrow)]
    why: Vec<Text<'a>>,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct DroppedText<'a> {
    #[serde(borrow)]
    usual: Text<'a>,
    #[serde(default, skip_serializing_if = "Vec::is_empty", borrow)]
    why: Vec<Text<'a>>,
}

/// A day like those of every other cell: one that others can be counted from.
fn kept_day<'de, D: Deserializer<'de>>(from: D) -> Result<NaiveDate, D::Error> {
    let day = NaiveDate::deserialize(from)?;
    if is_kept(day) { Ok(day) } else { Err(D::Error::custom(format_args!("`{day}` is not a day like 2027-05-09"))) }
}

#[expect(clippy::trivially_copy_pass_by_ref, reason = "the signature that serde asks for")]
const fn is_false(value: &bool) -> bool {
    !*value
}

impl Document<'_> {
    fn of(block: &Block) -> Self {
        Self {
            form: FORM,
            race: RaceText::of(&block.race),
            event: event_code(block.event).to_owned(),
            curve: CurveText {
                length: block.curve.length,
                curvature: block.curve.curvature,
                floor: block.curve.floor,
                shape: block.curve.shape.code().to_owned(),
            },
            adjustments: block.adjustments.iter().map(|why| adjustment_code(*why).to_owned()).collect(),
            pace: block.pace.map(|pace| PaceText { seconds: pace.seconds(), per: pace.per().symbol().to_owned() }),
            week_range: block.week_range.map(|range| (range.low().0, range.high().0, range.unit().symbol().to_owned())),
            ceilings: block.ceilings.iter().map(CeilingText::of).collect(),
            days: block.days.iter().map(DayText::of).collect(),
        }
    }

    fn read(self) -> Result<Block, String> {
        if self.form != FORM {
            return Err(format!("a document of form {}", self.form));
        }
        let race = self.race.read()?;
        let shape = known("shape", &self.curve.shape, Shape::from_code)?;
        let CurveText { length, curvature, floor, .. } = self.curve;
        Ok(Block {
            race_day: race.date,
            event: known("event", &self.event, event_of)?,
            race,
            curve: Curve { length, curvature, floor, shape },
            adjustments: self
                .adjustments
                .iter()
                .map(|code| known("adjustment", code, adjustment_of))
                .collect::<Result<_, _>>()?,
            pace: self.pace.map(PaceText::read).transpose()?,
            week_range: self.week_range.as_ref().map(range_of).transpose()?,
            ceilings: self.ceilings.iter().map(CeilingText::read).collect::<Result<_, _>>()?,
            days: self.days.iter().map(DayText::read).collect::<Result<_, _>>()?,
        })
    }
}

fn range_of((low, high, unit): &(i32, i32, String)) -> Result<Amount, String> {
    let unit = known("unit", unit, |symbol| Unit::ALL.into_iter().find(|unit| unit.symbol() == symbol))?;
    Amount::checked(Milli(*low), Milli(*high), unit).map_err(|problem| format!("the weekly range: {problem:?}"))
}

impl CeilingText {
    fn of(ceiling: &Ceiling) -> Self {
        let Ceiling { from, to, share, cause } = *ceiling;
        Self { from, to, share: share.0, cause: cause.code().to_owned() }
    }

    fn read(&self) -> Result<Ceiling, String> {
        let of_code = |code: &str| Cause::ALL.into_iter().find(|cause| cause.code() == code);
        let cause = known("cause", &self.cause, of_code)?;
        Ok(Ceiling { from: self.from, to: self.to, share: Share(self.share), cause })
    }
}

impl RaceText {
    fn of(race: &Race) -> Self {
        Self {
            name: race.name.clone(),
            date: race.date,
            distance: race.distance.code().map(str::to_owned),
            own_distance: match race.distance {
                RaceDistance::Own(value, unit) => Some((value.0, unit.symbol().to_owned())),
                _ => None,
            },
            start: race.start,
            zone: race.zone.clone(),
            importance: race.importance.code().to_owned(),
        }
    }

    fn read(self) -> Result<Race, String> {
        let distance = match (self.distance, self.own_distance) {
            (Some(code), None) => known("distance", &code, RaceDistance::from_code)?,
            (None, Some((value, unit))) => RaceDistance::Own(Milli(value), known("unit", &unit, units_of)?),
            _ => return Err("a race with no distance, or with two".to_owned()),
        };
        Ok(Race {
            name: self.name,
            date: self.date,
            distance,
            start: self.start,
            zone: self.zone,
            importance: known("importance", &self.importance, Importance::from_code)?,
        })
    }
}

impl PaceText {
    fn read(self) -> Result<Pace, String> {
        let per = known("unit", &self.per, units_of)?;
        Pace::new(self.seconds, per).map_err(|_| format!("a pace of {} s", self.seconds))
    }
}

impl DayText<'_> {
    fn of(day: &Day) -> Self {
        Self {
            date: day.date,
            to_race: day.to_race,
            pinned: day.pinned,
            usual: day.usual.iter().map(line).collect(),
            sessions: day.sessions.iter().map(PlannedText::of).collect(),
            dropped: day
                .dropped
                .iter()
                .map(|dropped| DroppedText { usual: line(&dropped.usual), why: reason_texts(&dropped.why) })
                .collect(),
        }
    }

    fn read(&self) -> Result<Day, String> {
        let date = self.date;
        let inside = || -> Result<Day, String> {
            Ok(Day {
                date,
                to_race: self.to_race,
                pinned: self.pinned,
                usual: self.usual.iter().map(|line| lines::session(line)).collect::<Result<_, _>>()?,
                sessions: self.sessions.iter().map(PlannedText::read).collect::<Result<_, _>>()?,
                dropped: self
                    .dropped
                    .iter()
                    .map(|dropped| Ok(Dropped { usual: lines::session(&dropped.usual)?, why: reasons(&dropped.why)? }))
                    .collect::<Result<_, String>>()?,
            })
        };
        inside().map_err(|reason| format!("{date}: {reason}"))
    }
}

impl PlannedText<'_> {
    fn of(planned: &Planned) -> Self {
        Self {
            session: line(&planned.session),
            usual: planned.usual.as_ref().map(line),
            role: role_code(planned.role).map(|code| Text(code.into())),
            why: reason_texts(&planned.why),
        }
    }

    fn read(&self) -> Result<Planned, String> {
        Ok(Planned {
            session: lines::session(&self.session)?,
            usual: self.usual.as_deref().map(lines::session).transpose()?,
            role: self.role.as_deref().map_or(Ok(Role::Plain), |code| known("role", code, role_of))?,
            why: reasons(&self.why)?,
        })
    }
}

fn line<'a>(session: &Session) -> Text<'a> {
    write_day(&[Slot::one(session.clone())]).into()
}

fn reason_texts<'a>(why: &[Reason]) -> Vec<Text<'a>> {
    why.iter().map(|reason| reason.to_string().into()).collect()
}

fn reasons(texts: &[Text<'_>]) -> Result<Vec<Reason>, String> {
    texts.iter().map(|text| text.parse().map_err(|error: planning::block::UnknownReason| error.to_string())).collect()
}

fn known<T>(what: &str, code: &str, read: impl FnOnce(&str) -> Option<T>) -> Result<T, String> {
    read(code).ok_or_else(|| format!("unknown {what} `{code}`"))
}

const fn event_code(event: Event) -> &'static str {
    match event {
        Event::FiveK => "5k",
        Event::TenK => "10k",
        Event::Half => "half",
        Event::Marathon => "marathon",
        Event::Longer => "longer",
    }
}

fn event_of(code: &str) -> Option<Event> {
    Event::ALL.into_iter().find(|event| event_code(*event) == code)
}

const ADJUSTMENTS: [Adjustment; 9] = [
    Adjustment::LowMileage,
    Adjustment::FewRuns,
    Adjustment::Youth,
    Adjustment::ShortMarathon,
    Adjustment::SuitsLength,
    Adjustment::SuitsDayBefore,
    Adjustment::SuitsExtraRest,
    Adjustment::RaceBefore,
    Adjustment::DaysLeft,
];

const fn adjustment_code(adjustment: Adjustment) -> &'static str {
    match adjustment {
        Adjustment::LowMileage => "low-mileage",
        Adjustment::FewRuns => "few-runs",
        Adjustment::Youth => "youth",
        Adjustment::ShortMarathon => "short-marathon",
        Adjustment::SuitsLength => "suits-length",
        Adjustment::SuitsDayBefore => "suits-day-before",
        Adjustment::SuitsExtraRest => "suits-extra-rest",
        Adjustment::RaceBefore => "race-before",
        Adjustment::DaysLeft => "days-left",
    }
}

fn adjustment_of(code: &str) -> Option<Adjustment> {
    ADJUSTMENTS.into_iter().find(|adjustment| adjustment_code(*adjustment) == code)
}

const fn role_code(role: Role) -> Option<&'static str> {
    match role {
        Role::Plain => None,
        Role::Key => Some("key"),
        Role::ShakeOut => Some("shake-out"),
        Role::EasyWithStrides => Some("easy-with-strides"),
        Role::EasyWithRacePace => Some("easy-with-race-pace"),
        Role::OtherRace => Some("other-race"),
    }
}

fn role_of(code: &str) -> Option<Role> {
    let named = [Role::Key, Role::ShakeOut, Role::EasyWithStrides, Role::EasyWithRacePace, Role::OtherRace];
    named.into_iter().find(|role| role_code(*role) == Some(code))
}

#[cfg(test)]
mod tests {
    use planning::{Amount, DistanceUnit, Kind, SetUnit, Sets, Unit};
    use proptest::prelude::*;

    use super::*;
    use crate::testing::{day, planned_block, race_on};

    /// A number that a coach may have typed or a plan may have found.
    fn milli(most: i32) -> impl Strategy<Value = Milli> {
        prop_oneof![(0..=most / 500).prop_map(|halves| Milli(halves * 500)), (0..=most).prop_map(Milli)]
    }

    fn amount() -> impl Strategy<Value = Amount> {
        (milli(60_000), milli(60_000), proptest::sample::select(Unit::ALL.to_vec()))
            .prop_map(|(one, other, unit)| Amount::between(one, other, unit))
    }

    /// Words of every kind, those that look like a line of training among them.
    fn words() -> impl Strategy<Value = String> {
        prop_oneof![
            Just(String::new()),
            "[a-z0-9 ]{1,12}",
            "\\PC{1,20}",
            Just("90 s jog".to_owned()),
            Just("easy + 5 km, (\"hard\" 3)\nnext line".to_owned()),
        ]
    }

    fn sets() -> impl Strategy<Value = Sets> {
        let units = [SetUnit::M, SetUnit::Km, SetUnit::Mi, SetUnit::S, SetUnit::Min];
        (1..=Sets::MOST, 1..2_000_000, proptest::sample::select(units.to_vec()), words(), words())
            .prop_map(|(reps, length, unit, pace, recovery)| Sets { reps, length: Milli(length), unit, pace, recovery })
    }

    prop_compose! {
        fn any_session()(
            kind in proptest::sample::select(Kind::ALL.to_vec()),
            amount in proptest::option::of(amount()),
            hard in proptest::option::of(amount()),
            sets in proptest::collection::vec(sets(), 0..3),
            loaded in any::<bool>(),
            note in words(),
        ) -> Session {
            // In another unit than the whole it is no hard part that a session may have.
            let unit = |hard: Amount| amount.map_or(hard.unit(), Amount::unit);
            let hard = hard.map(|hard| Amount::between(hard.low(), hard.high(), unit(hard)));
            Session { kind, amount, hard, sets, loaded, note }
        }
    }

    fn reason() -> impl Strategy<Value = Reason> {
        prop_oneof![
            (0.0..1.0).prop_map(|share| Reason::Ebb(Share(share))),
            (0.0..1.0).prop_map(|share| Reason::KeySession(Share(share))),
            amount().prop_map(Reason::LeastWorth),
            proptest::sample::select(Kind::ALL.to_vec()).prop_map(Reason::HardEased),
            Just(Reason::KeyMovedHere(day("2027-05-04"))),
            Just(Reason::ExtraRest),
            (0.0..1.0).prop_map(|share| Reason::Held(Share(share))),
            Just(Reason::MovedFrom(day("2027-05-04"))),
            proptest::sample::select(planning::Life::ALL.to_vec()).prop_map(Reason::Life),
        ]
    }

    fn role() -> impl Strategy<Value = Role> {
        proptest::sample::select(vec![
            Role::Plain,
            Role::Key,
            Role::ShakeOut,
            Role::EasyWithStrides,
            Role::EasyWithRacePace,
            Role::OtherRace,
        ])
    }

    fn why() -> impl Strategy<Value = Vec<Reason>> {
        proptest::collection::vec(reason(), 0..4)
    }

    fn planned() -> impl Strategy<Value = Planned> {
        (any_session(), proptest::option::of(any_session()), role(), why())
            .prop_map(|(session, usual, role, why)| Planned { session, usual, role, why })
    }

    prop_compose! {
        fn any_day()(
            to_race in 0_u16..40,
            pinned in any::<bool>(),
            usual in proptest::collection::vec(any_session(), 0..3),
            sessions in proptest::collection::vec(planned(), 0..3),
            dropped in proptest::collection::vec(
                (any_session(), why()).prop_map(|(usual, why)| Dropped { usual, why }), 0..2),
        ) -> Day {
            let date = day("2027-05-09") - chrono::Days::new(u64::from(to_race));
            Day { date, to_race, pinned, usual, sessions, dropped }
        }
    }

    fn distance() -> impl Strategy<Value = RaceDistance> {
        prop_oneof![
            proptest::sample::select(RaceDistance::STANDARD.to_vec()),
            (800..400_000, any::<bool>()).prop_map(|(value, miles)| {
                RaceDistance::Own(Milli(value), if miles { DistanceUnit::Mi } else { DistanceUnit::Km })
            }),
        ]
    }

    prop_compose! {
        fn any_block()(
            distance in distance(),
            name in "\\PC{0,30}",
            curvature in 0.3..4.0,
            floor in 0.1..0.9,
            length in 4_u8..36,
            shape in proptest::sample::select(Shape::ALL.to_vec()),
            event in proptest::sample::select(Event::ALL.to_vec()),
            adjustments in proptest::sample::subsequence(ADJUSTMENTS.to_vec(), 0..=9),
            seconds in proptest::option::of(120_u16..1200),
            days in proptest::collection::vec(any_day(), 0..4),
            share in proptest::option::of(0.1..1.0),
            range in proptest::option::of((0..90_000, 0..90_000)),
        ) -> Block {
            let race = Race { name, distance, start: NaiveTime::from_hms_opt(9, 30, 0), ..race_on("2027-05-09") };
            let pace = seconds.map(|seconds| Pace::new(seconds, DistanceUnit::Mi).unwrap());
            let curve = Curve { length, curvature, floor, shape };
            let held = share.map(|share| Ceiling { from: day("2027-05-01"), to: race.date, share: Share(share), cause: Cause::Held });
            let ceilings = held.into_iter().collect();
            let week_range = range.map(|(one, other)| Amount::between(Milli(one), Milli(other), Unit::Km));
            Block { race_day: race.date, event, race, curve, adjustments, pace, week_range, ceilings, days }
        }
    }

    proptest! {
        #[test]
        fn a_block_reads_back_as_it_was_written(block in any_block()) {
            let text = write(&block).unwrap();
            prop_assert_eq!(read(&text).unwrap(), block);
        }
    }

    #[test]
    fn a_planned_block_reads_back_and_a_person_can_read_it() {
        let block = planned_block("2027-05-09");
        let text = write(&block).unwrap();
        assert_eq!(read(&text).unwrap(), block);
        assert!(
            text.starts_with(r#"{"form":1,"race":{"name":"Larkmere Half","date":"2027-05-09","distance":"half""#),
            "{text}"
        );
        assert!(text.contains(r#""usual":"easy 8 km","why":[""#) && text.contains(r#""why":["ebb 0."#), "{text}");
    }

    #[test]
    fn a_day_of_rest_with_words_is_read_from_a_document_that_has_it_as_mobility() {
        let mut block = planned_block("2027-05-09");
        let rest = Session::rest_with("swim, if legs heavy");
        let day = block.days.iter_mut().find(|day| day.sessions.is_empty() && day.to_race > 0).unwrap();
        day.usual = vec![rest.clone()];
        let (role, why) = (Role::Plain, Vec::new());
        day.sessions = vec![Planned { session: rest.clone(), usual: Some(rest), role, why }];
        let text = write(&block).unwrap();
        let old = text.replace("rest (swim, if legs heavy)", r#"mobility (\"rest: swim, if legs heavy\")"#);
        assert_ne!(old, text);
        assert_eq!(read(&old).unwrap(), block);
    }

    #[test]
    fn what_cannot_be_read_says_where() {
        let text = write(&planned_block("2027-05-09")).unwrap();
        for (from, to, expected) in [
            ("easy 8 km", "easy 8 leagues", "`easy 8 leagues`"),
            (r#""form":1"#, r#""form":2"#, "a document of form 2"),
            (r#""form":1"#, r#""form":1,"colour":3"#, "unknown field `colour`"),
            (r#""event":"half""#, r#""event":"stroll""#, "unknown event `stroll`"),
            (r#""date":"2027-05-09""#, r#""date":"+262142-12-31""#, "`+262142-12-31` is not a day"),
            (r#""date":"2027-05-03""#, r#""date":"+262142-12-31""#, "`+262142-12-31` is not a day"),
            (r#"["ebb 0."#, r#"["ebb and flow 0."#, "is not a reason"),
            (r#""distance":"half","#, "", "a race with no distance, or with two"),
        ] {
            let error = read(&text.replace(from, to)).unwrap_err();
            assert!(error.contains(expected), "{error}");
        }
        assert!(read("{").is_err());
    }
}
