//! Variants: the same athlete and race with other settings, side by side.

use crate::athlete::{Athlete, Suits};
use crate::block::{Block, Day, Reason, Request, plan, race_week};
use crate::curve::{Curve, DayBefore, ExtraRest, FLOORS, LENGTHS, Settings, Shape};
use crate::problem::Problem;
use crate::review::{Finding, Subject, review};
use crate::session::Session;

/// What sets a variant apart from what the athlete usually gets.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum VariantName {
    /// As the rules say, whatever was noted as suiting the athlete.
    AsRules,
    /// As the coach noted that it suits the athlete.
    AsSuits,
    /// Fewer days.
    Shorter,
    /// More days.
    Longer,
    /// A lower floor.
    Deeper,
    /// A lower floor, and most of the fall comes early: for legs that hurt. Only where a caution is noted.
    Soonest,
    /// A higher floor.
    Shallower,
    /// The same fall every day.
    Even,
    /// Rest on the day before the race, where usually something is run.
    RestBefore,
    /// A short run on the day before the race, where usually nothing is.
    RunBefore,
    /// No extra rest day in race week.
    NoExtraRest,
    /// Most of the fall comes early.
    Early,
    /// Most of the fall comes late.
    Late,
    /// One constant cut.
    Step,
    /// More days and a higher floor.
    LongShallow,
    /// More days and a lower floor.
    LongDeep,
}

impl VariantName {
    /// Every name, in the order in which variants are shown.
    pub const ALL: [Self; 16] = [
        Self::AsRules,
        Self::AsSuits,
        Self::Shorter,
        Self::Longer,
        Self::Deeper,
        Self::Soonest,
        Self::Shallower,
        Self::Even,
        Self::RestBefore,
        Self::RunBefore,
        Self::NoExtraRest,
        Self::Early,
        Self::Late,
        Self::Step,
        Self::LongShallow,
        Self::LongDeep,
    ];

    /// The name in forms: `as-rules`.
    pub const fn code(self) -> &'static str {
        match self {
            Self::AsRules => "as-rules",
            Self::AsSuits => "as-suits",
            Self::Shorter => "shorter",
            Self::Longer => "longer",
            Self::Deeper => "deeper",
            Self::Soonest => "soonest",
            Self::Shallower => "shallower",
            Self::Even => "even",
            Self::RestBefore => "rest-before",
            Self::RunBefore => "run-before",
            Self::NoExtraRest => "no-extra-rest",
            Self::Early => "early",
            Self::Late => "late",
            Self::Step => "step",
            Self::LongShallow => "long-shallow",
            Self::LongDeep => "long-deep",
        }
    }

    /// The name with this [`code`](Self::code).
    pub fn from_code(code: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|name| name.code() == code)
    }
}

/// One way to plan the block.
#[derive(Clone, Debug, PartialEq)]
pub struct Variant {
    /// What sets it apart.
    pub name: VariantName,
    /// The settings that give it.
    pub settings: Settings,
    /// The block.
    pub block: Block,
    /// What the review says of it.
    pub findings: Vec<Finding>,
}

/// Enough to choose from.
const ENOUGH: usize = 8;

/// The variants of a block, the athlete's default first; no two of them hold the same days.
///
/// Settings of the request are not asked, its pins are kept. A step that changes nothing is taken
/// further until it does; where no step does, the variant is left out.
///
/// # Errors
///
/// What [`plan`] refuses.
///
/// # Source
///
/// Steps: common practice, no published source.
pub fn variants(request: &Request<'_>) -> Result<Vec<Variant>, Vec<Problem>> {
    let usual = plan(&Request { settings: &Settings::default(), ..*request })?;
    let mut found: Vec<Variant> = Vec::new();
    for name in VariantName::ALL {
        if found.len() == ENOUGH {
            break;
        }
        for settings in steps(name, request, &usual) {
            let Ok(block) = plan(&Request { settings: &settings, ..*request }) else { continue };
            if found.iter().any(|other| holds_the_same(&other.block, &block)) {
                continue;
            }
            let findings = review(&Subject {
                block: &block,
                athlete: request.athlete,
                week: request.week,
                other_races: request.other_races,
                events: &[],
                ran: None,
                // The same for all of them.
                clock_shift: None,
                made: None,
            });
            found.push(Variant { name, settings, block, findings });
            break;
        }
    }
    Ok(found)
}

/// What a block teaches about an athlete, to be noted as suiting them.
pub fn what_suits(block: &Block) -> Suits {
    let extra = block.days.iter().find(|day| race_week::leads_up(day.to_race) && rests_extra(day));
    Suits { days: Some(block.curve.length), day_before: Some(day_before(block)), extra_rest: extra.map(Day::weekday) }
}

/// The settings to try for a name, the mildest first.
fn steps(name: VariantName, request: &Request<'_>, usual: &Block) -> Vec<Settings> {
    let curve = usual.curve;
    let none = Settings::default();
    // A block made late has no more days than were left.
    let left = request.begun.map_or(i64::MAX, |begun| (request.race.date - begun.on).num_days());
    let lengths = |days: &mut dyn Iterator<Item = u8>| -> Vec<Settings> {
        days.filter(|days| LENGTHS.contains(days) && i64::from(*days) <= left)
            .map(|days| Settings { days: Some(days), ..none })
            .collect()
    };
    let floors = |sign: f64| -> Vec<Settings> {
        (2..=16_u8)
            .map(|step| hundredths(curve.floor + sign * 0.05 * f64::from(step)))
            .filter(|floor| FLOORS.contains(floor))
            .map(|floor| Settings { floor: Some(floor), ..none })
            .collect()
    };
    let step = (curve.length / 5).max(2);
    let only = |wanted: bool, settings: Settings| if wanted { vec![settings] } else { Vec::new() };
    let rests = day_before(usual) == DayBefore::Rest;
    match name {
        VariantName::AsRules => as_rules(request),
        VariantName::AsSuits => only(request.athlete.suits != Suits::default(), none),
        VariantName::Shorter => lengths(&mut (*LENGTHS.start()..=curve.length.saturating_sub(step)).rev()),
        VariantName::Longer => lengths(&mut (curve.length + step..=*LENGTHS.end())),
        VariantName::Deeper => floors(-1.0),
        VariantName::Soonest if request.athlete.cautions.is_empty() => Vec::new(),
        VariantName::Soonest => floors(-1.0)
            .into_iter()
            .flat_map(|settings| SOON.map(|curve| Settings { curve: Some(curve), ..settings }))
            .collect(),
        VariantName::Shallower => floors(1.0),
        VariantName::Even => only(true, Settings { shape: Shape::Linear, ..none }),
        VariantName::RestBefore => only(!rests, Settings { day_before: DayBefore::Rest, ..none }),
        VariantName::RunBefore => only(rests, Settings { day_before: DayBefore::ShakeOut, ..none }),
        VariantName::NoExtraRest => only(true, Settings { extra_rest: ExtraRest::None, ..none }),
        VariantName::Early => bent(curve, &[0.6, 0.3]),
        VariantName::Late => bent(curve, &[2.5, 4.0]),
        VariantName::Step => only(true, Settings { shape: Shape::Step, ..none }),
        VariantName::LongShallow => both(&lengths(&mut (curve.length + step..=*LENGTHS.end())), &floors(1.0)),
        VariantName::LongDeep => both(&lengths(&mut (curve.length + step..=*LENGTHS.end())), &floors(-1.0)),
    }
}

/// Curvatures of a fall that comes at once.
const SOON: [f64; 2] = [0.5, 0.3];

fn bent(curve: Curve, curvatures: &[f64]) -> Vec<Settings> {
    let others = curvatures.iter().filter(|curvature| (**curvature - curve.curvature).abs() > 0.2);
    others.map(|curvature| Settings { curve: Some(*curvature), ..Settings::default() }).collect()
}

/// Every third length with every third floor: together they change enough.
fn both(lengths: &[Settings], floors: &[Settings]) -> Vec<Settings> {
    let pairs = lengths.iter().step_by(3).flat_map(|length| floors.iter().step_by(3).map(move |floor| (length, floor)));
    pairs.map(|(length, floor)| Settings { floor: floor.floor, ..*length }).collect()
}

fn hundredths(share: f64) -> f64 {
    (share * 100.0).round() / 100.0
}

/// The rules' own block, said so that nothing noted as suiting the athlete changes it.
fn as_rules(request: &Request<'_>) -> Vec<Settings> {
    if request.athlete.suits == Suits::default() {
        return vec![Settings::default()];
    }
    let plain = Athlete { suits: Suits::default(), ..request.athlete.clone() };
    let Ok(block) = plan(&Request { athlete: &plain, settings: &Settings::default(), ..*request }) else {
        return Vec::new();
    };
    let suits = what_suits(&block);
    vec![Settings {
        days: suits.days,
        day_before: day_before(&block),
        extra_rest: suits.extra_rest.map_or(ExtraRest::None, ExtraRest::On),
        ..Settings::default()
    }]
}

fn day_before(block: &Block) -> DayBefore {
    let rests = block.days.iter().any(|day| day.to_race == 1 && day.is_rest());
    if rests { DayBefore::Rest } else { DayBefore::ShakeOut }
}

fn rests_extra(day: &Day) -> bool {
    day.is_rest() && day.dropped.iter().any(|dropped| dropped.why.contains(&Reason::ExtraRest))
}

/// Whether two blocks for one race ask for the same sessions; days outside one of them are as usual.
fn holds_the_same(one: &Block, other: &Block) -> bool {
    let (long, short) = if one.days.len() < other.days.len() { (other, one) } else { (one, other) };
    let extra = long.days.len() - short.days.len();
    let (before, shared) = long.days.split_at(extra);
    before.iter().all(is_as_usual)
        && shared.iter().zip(&short.days).all(|(one, other)| sessions(one).eq(sessions(other)))
}

fn sessions(day: &Day) -> impl Iterator<Item = &Session> {
    day.sessions.iter().map(|planned| &planned.session)
}

fn is_as_usual(day: &Day) -> bool {
    sessions(day).eq(&day.usual)
}
