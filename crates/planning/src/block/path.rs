//! What lies on the way to a race besides the curve: the race before and the recovery from it, other
//! races, a share that is held because the race was moved.

use chrono::{Days, NaiveDate};

use super::{Reason, Request};
use crate::curve::{Adjustment, Curve, EVEN_MARATHON_UNTIL, LENGTHS};
use crate::race::{Event, Importance, Race};
use crate::recovery;
use crate::units::Share;

/// At most this share of the usual amount on these days, whatever the curve says.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ceiling {
    /// The first day.
    pub from: NaiveDate,
    /// The last day.
    pub to: NaiveDate,
    /// What may remain of the usual amount.
    pub share: Share,
    /// Why.
    pub cause: Cause,
}

/// Why a ceiling stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Cause {
    /// Recovery from the race before.
    Recovery,
    /// The race was moved a little: the present share is held.
    Held,
    /// The race was moved far: the running comes back for a while.
    BuiltAgain,
}

impl Cause {
    /// Every cause.
    pub const ALL: [Self; 3] = [Self::Recovery, Self::Held, Self::BuiltAgain];

    /// The name in files.
    pub const fn code(self) -> &'static str {
        match self {
            Self::Recovery => "recovery",
            Self::Held => "held",
            Self::BuiltAgain => "built-again",
        }
    }

    const fn reason(self, share: Share) -> Reason {
        match self {
            Self::Recovery => Reason::Recovering(share),
            Self::Held => Reason::Held(share),
            Self::BuiltAgain => Reason::BuiltAgain(share),
        }
    }
}

impl Ceiling {
    /// Whether it stands over a day.
    pub(crate) fn covers(&self, date: NaiveDate) -> bool {
        (self.from..=self.to).contains(&date)
    }
}

/// The lowest ceiling over a day.
pub(super) fn lowest(ceilings: &[Ceiling], date: NaiveDate) -> Option<&Ceiling> {
    let over = ceilings.iter().filter(|ceiling| ceiling.covers(date));
    over.min_by(|one, other| one.share.0.total_cmp(&other.share.0))
}

/// A goal race farther back than this is over and done with.
///
/// # Source
///
/// Common practice, no published source: six weeks between long goal races leave time to build.
pub(crate) const NO_NEW_BUILD: i64 = 42;

/// Between two long goal races so near to each other running does not come back further than this.
///
/// # Source
///
/// Common practice, no published source.
pub(super) const NO_NEW_BUILD_SHARE: Share = Share(0.75);

/// The longest block, in days, so soon after a long goal race: it starts from a reduced level.
///
/// # Source
///
/// Common practice, no published source: 10 to 14 days.
const BLOCK_AFTER_A_LONG_RACE: u8 = 14;

/// The way to a race.
#[derive(Clone, Debug)]
pub(super) struct Path<'a> {
    pub(super) ceilings: Vec<Ceiling>,
    /// The goal race before, near enough to be felt.
    pub(super) before: Option<&'a Race>,
    /// Tune-up and training-through races on the way, in the order of their days.
    pub(super) others: Vec<&'a Race>,
}

impl<'a> Path<'a> {
    /// The way that a request describes, under ceilings of the caller's own.
    pub(super) fn of(request: &Request<'a>, held: &[Ceiling]) -> Self {
        if request.other_races.is_empty() {
            return Self { ceilings: held.to_vec(), before: None, others: Vec::new() };
        }
        let before = before(request);
        let mut others: Vec<&Race> = request
            .other_races
            .iter()
            .filter(|other| other.importance != Importance::Goal && other.date < request.race.date)
            .collect();
        others.sort_by_key(|other| other.date);
        let mut ceilings = before.map_or_else(Vec::new, |before| after(before, request.race));
        ceilings.extend_from_slice(held);
        Self { ceilings, before, others }
    }

    /// The last day of the recovery from the race before.
    pub(super) fn recovery_ends(&self) -> Option<NaiveDate> {
        self.before.map(recovery::ends)
    }

    /// What may remain of the usual amount on a day.
    pub(super) fn most_on(&self, date: NaiveDate) -> Share {
        lowest(&self.ceilings, date).map_or(Share::ALL, |ceiling| ceiling.share)
    }

    /// Why a week before the block holds less on some days: another race stands in it. Days are grouped in
    /// weeks as the block's are, back from its race.
    pub(super) fn race_in_week(&self, race_day: NaiveDate, to_race: u16) -> Reason {
        let week = i64::from(to_race) / 7;
        let stands_in = |other: &&&Race| (race_day - other.date).num_days() / 7 == week;
        self.others.iter().find(stands_in).map_or(Reason::Ebb(Share::ALL), |race| Reason::RoomForRace(race.date))
    }

    /// Why no more remains, where a ceiling is lower than the curve.
    pub(super) fn reason_on(&self, date: NaiveDate, curve: Share) -> Option<Reason> {
        let lowest = lowest(&self.ceilings, date).filter(|ceiling| ceiling.share < curve)?;
        Some(lowest.cause.reason(lowest.share))
    }
}

/// The last goal race before this one, as long as it is felt.
fn before<'a>(request: &Request<'a>) -> Option<&'a Race> {
    let felt = |other: &&Race| {
        let gap = (request.race.date - other.date).num_days();
        let last = i64::from(recovery::until(other.distance.event()));
        other.importance == Importance::Goal && gap > 0 && gap <= NO_NEW_BUILD.max(last)
    };
    request.other_races.iter().filter(felt).max_by_key(|other| other.date)
}

/// The ceilings that a race leaves on the way to the next.
fn after(before: &Race, next: &Race) -> Vec<Ceiling> {
    let event = before.distance.event();
    let day = |since: u16| before.date + Days::new(u64::from(since));
    let ceiling = |from, to, share| Ceiling { from, to, share, cause: Cause::Recovery };
    let mut found = Vec::new();
    let mut from = 1;
    for step in recovery::steps(event) {
        found.push(ceiling(day(from), day(step.until), step.most));
        from = step.until + 1;
    }
    if is_near_long(before, next) {
        found.push(ceiling(day(1), next.date, NO_NEW_BUILD_SHARE));
    }
    found
}

/// Whether two long goal races are so near to each other that nothing is built between them.
pub(super) fn is_near_long(before: &Race, next: &Race) -> bool {
    let long = |race: &Race| race.distance.event() >= Event::Half;
    long(before) && long(next) && (next.date - before.date).num_days() <= NO_NEW_BUILD
}

/// Shortens a block that would begin before the day on which it was made, or in the recovery from the race
/// before, where the coach did not set its length. The day on which it was made may leave fewer days than a coach may set.
pub(super) fn shorten(curve: &mut Curve, adjustments: &mut Vec<Adjustment>, request: &Request<'_>) {
    if request.settings.days.is_some() {
        return;
    }
    let left = request.begun.map(|begun| (request.race.date - begun.on).num_days().max(1));
    let shortest = i64::from(*LENGTHS.start());
    let limits = [
        (left, Adjustment::DaysLeft),
        (days_after_the_race_before(request).map(|days| days.max(shortest)), Adjustment::RaceBefore),
    ];
    for (most, reason) in limits {
        let Some(most) = most else { continue };
        if most < i64::from(curve.length) {
            curve.length = u8::try_from(most).unwrap_or(curve.length);
            adjustments.push(reason);
        }
    }
    let even = request.race.distance.event() == Event::Marathon && curve.length <= EVEN_MARATHON_UNTIL;
    if even && request.settings.curve.is_none() && !adjustments.contains(&Adjustment::ShortMarathon) {
        curve.curvature = 1.0;
        adjustments.push(Adjustment::ShortMarathon);
    }
}

/// How long a block may be behind the race before.
fn days_after_the_race_before(request: &Request<'_>) -> Option<i64> {
    let before = before(request)?;
    let free = (request.race.date - before.date).num_days() - i64::from(recovery::days(before.distance.event()));
    let is_near = is_near_long(before, request.race);
    Some(if is_near { free.min(i64::from(BLOCK_AFTER_A_LONG_RACE)) } else { free })
}
