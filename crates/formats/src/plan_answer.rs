//! The plan answer: a block as JSON.
//!
//! The names and forms of the fields are fixed; amounts are always `[low, high]`.

mod totals;

use planning::curve::Shape;
use planning::week::weekday_code;
use planning::{
    Amount, Athlete, Block, Day, DistanceUnit, Dropped, Figure, Finding, Milli, Planned, RaceDistance, Reason, Role,
    Session, Sets, Share,
};
use serde::{Serialize, Serializer};

use crate::words;
use totals::{BeforeRace, Week};

/// A block with its weeks, days and review, ready to be written as JSON.
#[derive(Debug, Serialize)]
pub struct PlanAnswer {
    block: Head,
    before_race: BeforeRace,
    weeks: Vec<Week>,
    days: Vec<DayOut>,
    review: Vec<FindingOut>,
}

impl PlanAnswer {
    /// A block and what the review found, in the athlete's units.
    pub fn new(block: &Block, athlete: &Athlete, findings: &[Finding]) -> Self {
        let weeks = block.weeks();
        Self {
            block: Head::new(block),
            before_race: BeforeRace::new(weeks.last(), athlete),
            weeks: weeks.iter().map(|week| Week::new(week, block, athlete)).collect(),
            days: block.days.iter().map(|day| DayOut::new(day, block, athlete.units)).collect(),
            review: findings.iter().map(|finding| FindingOut::new(finding, athlete.units)).collect(),
        }
    }

    /// The answer as JSON text, for people to read too, with a line end behind it.
    ///
    /// # Errors
    ///
    /// None that is known: every value here can be written as JSON.
    pub fn to_json(&self) -> Result<String, serde_json::Error> {
        serde_json::to_string_pretty(self).map(|text| text + "\n")
    }
}

#[derive(Debug, Serialize)]
struct Head {
    first_day: String,
    race_day: String,
    days: u8,
    curve: f64,
    floor: f64,
    shape: &'static str,
}

impl Head {
    fn new(block: &Block) -> Self {
        let shape: Shape = block.curve.shape;
        Self {
            first_day: block.first_day().to_string(),
            race_day: block.race_day.to_string(),
            days: block.curve.length,
            curve: block.curve.curvature,
            floor: block.curve.floor,
            shape: shape.code(),
        }
    }
}

/// A number as people write it: 7 and not 7.0.
#[derive(Clone, Copy, Debug)]
struct Number(Milli);

impl Serialize for Number {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        if self.0.0 % 1000 == 0 {
            serializer.serialize_i32(self.0.0 / 1000)
        } else {
            serializer.serialize_f64(self.0.as_f64())
        }
    }
}

/// Low and high.
type Range = [Number; 2];

fn range(amount: Amount) -> Range {
    [Number(amount.low()), Number(amount.high())]
}

/// A share to the nearest thousandth.
fn share(share: Share) -> f64 {
    (share.0 * 1000.0).round() / 1000.0
}

/// A race distance in the form of the request.
#[derive(Debug, Serialize)]
#[serde(untagged)]
enum DistanceOut {
    Standard(&'static str),
    Km { km: Number },
    Mi { mi: Number },
}

impl DistanceOut {
    fn new(distance: RaceDistance) -> Self {
        match distance {
            RaceDistance::Own(value, DistanceUnit::Km) => Self::Km { km: Number(value) },
            RaceDistance::Own(value, DistanceUnit::Mi) => Self::Mi { mi: Number(value) },
            standard => Self::Standard(standard.code().unwrap_or_default()),
        }
    }
}

#[derive(Debug, Serialize)]
struct DayOut {
    date: String,
    weekday: &'static str,
    to_race: u16,
    /// Whether the day lies inside the block; the days before it complete its first week.
    in_block: bool,
    rest: bool,
    pinned: bool,
    sessions: Vec<PlannedOut>,
    dropped: Vec<DroppedOut>,
}

impl DayOut {
    fn new(day: &Day, block: &Block, units: DistanceUnit) -> Self {
        Self {
            date: day.date.to_string(),
            weekday: weekday_code(day.weekday()),
            to_race: day.to_race,
            in_block: day.date >= block.first_day(),
            rest: day.is_rest(),
            pinned: day.pinned,
            sessions: day.sessions.iter().map(|planned| PlannedOut::new(planned, units)).collect(),
            dropped: day.dropped.iter().map(|dropped| DroppedOut::new(dropped, units)).collect(),
        }
    }
}

#[derive(Debug, Serialize)]
struct PlannedOut {
    #[serde(flatten)]
    session: SessionOut,
    role: &'static str,
    usual: Option<SessionOut>,
    why: Vec<WhyOut>,
}

impl PlannedOut {
    fn new(planned: &Planned, units: DistanceUnit) -> Self {
        Self {
            session: SessionOut::new(&planned.session),
            role: role(planned.role),
            usual: planned.usual.as_ref().map(SessionOut::new),
            why: why(&planned.why, words::reasons(planned, units)),
        }
    }
}

const fn role(role: Role) -> &'static str {
    match role {
        Role::Plain => "plain",
        Role::Key => "key",
        Role::ShakeOut => "shake-out",
        Role::EasyWithStrides => "easy-with-strides",
        Role::EasyWithRacePace => "easy-with-race-pace",
        Role::OtherRace => "other-race",
    }
}

#[derive(Debug, Serialize)]
struct DroppedOut {
    usual: SessionOut,
    why: Vec<WhyOut>,
}

impl DroppedOut {
    fn new(dropped: &Dropped, units: DistanceUnit) -> Self {
        Self { usual: SessionOut::new(&dropped.usual), why: why(&dropped.why, words::dropped(dropped, units)) }
    }
}

#[derive(Debug, Serialize)]
struct WhyOut {
    rule: &'static str,
    text: String,
}

fn why(reasons: &[Reason], texts: Vec<String>) -> Vec<WhyOut> {
    reasons.iter().zip(texts).map(|(reason, text)| WhyOut { rule: reason.rule(), text }).collect()
}

#[derive(Debug, Serialize)]
struct SessionOut {
    kind: &'static str,
    amount: Option<Range>,
    unit: Option<&'static str>,
    #[serde(skip_serializing_if = "Option::is_none")]
    hard: Option<Range>,
    /// There, and true, where nobody said how much is hard and the kind's usual part was taken.
    #[serde(skip_serializing_if = "is_not")]
    hard_assumed: bool,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    sets: Vec<SetsOut>,
    #[serde(skip_serializing_if = "is_not")]
    loaded: bool,
    #[serde(skip_serializing_if = "String::is_empty")]
    note: String,
}

#[expect(clippy::trivially_copy_pass_by_ref, reason = "serde gives a reference")]
const fn is_not(value: &bool) -> bool {
    !*value
}

impl SessionOut {
    fn new(session: &Session) -> Self {
        Self {
            kind: session.kind.code(),
            amount: session.amount.map(range),
            unit: session.amount.or(session.hard).map(|amount| amount.unit().symbol()),
            hard: session.hard_part().map(range),
            hard_assumed: session.hard_is_assumed(),
            sets: session.sets.iter().map(SetsOut::new).collect(),
            loaded: session.loaded,
            note: session.note.clone(),
        }
    }
}

#[derive(Debug, Serialize)]
struct SetsOut {
    reps: u16,
    length: Number,
    unit: &'static str,
    #[serde(skip_serializing_if = "String::is_empty")]
    pace: String,
    #[serde(skip_serializing_if = "String::is_empty")]
    recovery: String,
}

impl SetsOut {
    fn new(sets: &Sets) -> Self {
        Self {
            reps: sets.reps,
            length: Number(sets.length),
            unit: sets.unit.symbol(),
            pace: sets.pace.clone(),
            recovery: sets.recovery.clone(),
        }
    }
}

#[derive(Debug, Serialize)]
struct FindingOut {
    id: &'static str,
    level: &'static str,
    text: String,
    /// Days and counts as they are, shares as parts of one, amounts in kilometres or minutes.
    figure: Option<Number>,
    limit: Option<Number>,
    date: Option<String>,
    source: &'static str,
}

impl FindingOut {
    fn new(finding: &Finding, units: DistanceUnit) -> Self {
        Self {
            id: finding.rule.code(),
            level: finding.level.code(),
            text: words::finding(finding, units),
            figure: figure(&finding.figure),
            limit: figure(&finding.limit),
            date: finding.date.map(|date| date.to_string()),
            source: words::source(finding),
        }
    }
}

fn figure(figure: &Figure) -> Option<Number> {
    match figure {
        Figure::None => None,
        Figure::Share(share) => Some(Number(Milli::nearest(share.0))),
        Figure::Days(count) | Figure::Count(count) => Some(Number(Milli::whole(i32::from(*count)))),
        Figure::Amount(value, _) => Some(Number(words::tenth(*value))),
    }
}
