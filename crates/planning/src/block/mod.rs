//! A taper block: from a base week to every session of every day, with reasons.
//!
//! [`plan`] works in three steps, each a module: `lay` puts the base week on the calendar, `shape`
//! decides which sessions stay and in what form (one rule a file), and `allocate` gives each its
//! amount. `why` holds the reasons that the steps leave behind.

pub(crate) mod allocate;
pub(crate) mod amounts;
mod around_hard;
mod beginning;
mod between;
mod draft;
pub(crate) mod facts;
mod lay;
mod path;
pub(crate) mod race_week;
mod shape;
mod solve;
mod summary;
mod why;

use std::borrow::Cow;

use chrono::{Datelike, Days, NaiveDate, Weekday};

use crate::athlete::Athlete;
use crate::curve::{Adjustment, Curve, Settings, curve_for};
use crate::problem::{Field, Problem, ProblemKind};
use crate::race::{Event, Race};
use crate::session::Session;
use crate::units::{Amount, Pace, Share, Totals};
use crate::week::BaseWeek;

pub use beginning::Beginning;
pub use between::{QuietDay, recovery_days};
pub(crate) use between::{bridge_days, return_days};
pub(crate) use path::NO_NEW_BUILD;
pub use path::{Cause, Ceiling};
#[cfg(test)]
pub(crate) use shape::long_run::ladder as long_run_step;
pub use summary::{Cut, WeekSummary};
pub use why::{Life, Reason, UnknownReason};

/// Everything that decides a block. The same request gives the same block.
#[derive(Clone, Copy, Debug)]
pub struct Request<'a> {
    /// The day from which to plan; without it the race may lie anywhere.
    pub today: Option<NaiveDate>,
    /// The athlete.
    pub athlete: &'a Athlete,
    /// What they usually run.
    pub week: &'a BaseWeek,
    /// The goal race.
    pub race: &'a Race,
    /// How the coach wants it.
    pub settings: &'a Settings,
    /// Days that the coach has fixed.
    pub pins: &'a [Pin],
    /// The athlete's other races, of any importance and on either side of this one.
    pub other_races: &'a [Race],
    /// What of the block lies behind; nothing where the plan may begin whenever it should.
    pub begun: Option<Begun<'a>>,
}

/// A block that begins, or began, on a day that the calendar chose: what lies before today is done, and
/// no plan changes it.
#[derive(Clone, Copy, Debug)]
pub struct Begun<'a> {
    /// The day on which the block was first made: it is no longer than the days that were left then.
    pub on: NaiveDate,
    /// The days as they were planned so far. Of these the ones before today stand as they are; a day before
    /// today that is not among them was as usual.
    pub days: &'a [Day],
}

impl<'a> Request<'a> {
    /// A block that may begin whenever it should: no day is fixed, and no other race stands in the way.
    pub const fn new(athlete: &'a Athlete, week: &'a BaseWeek, race: &'a Race, settings: &'a Settings) -> Self {
        Self { today: None, athlete, week, race, settings, pins: &[], other_races: &[], begun: None }
    }

    /// Whether a day lies behind, so that nothing can be planned on it.
    pub(crate) fn is_behind(&self, date: NaiveDate) -> bool {
        self.begun.is_some() && self.today.is_some_and(|today| date < today)
    }
}

/// A day that the coach has fixed: its sessions are left exactly as they are.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Pin {
    /// The day.
    pub date: NaiveDate,
    /// What is run; empty is rest.
    pub sessions: Vec<Session>,
    /// The part that each plays in the block, in their order: an easy run keeps its strides. Those beyond are plain.
    pub roles: Vec<Role>,
}

impl Pin {
    /// Sessions that play no part in the block but their own.
    pub const fn plain(date: NaiveDate, sessions: Vec<Session>) -> Self {
        Self { date, sessions, roles: Vec::new() }
    }
}

/// Days that lead to a race: whole weeks counted back from race day, the last of them race week.
#[derive(Clone, Debug, PartialEq)]
pub struct Block {
    /// Race day.
    pub race_day: NaiveDate,
    /// The event class of the race.
    pub event: Event,
    /// The race, in full.
    pub race: Race,
    /// The curve, after all defaults.
    pub curve: Curve,
    /// Why the curve is not the event's default.
    pub adjustments: Vec<Adjustment>,
    /// The athlete's easy pace, if known: weighs minutes against distance in a mixed week.
    pub pace: Option<Pace>,
    /// What the coach said of the usual week as a whole, where not every session is high in the same week, as
    /// far as its days allow it.
    pub week_range: Option<Amount>,
    /// What holds the running down besides the curve: recovery from a race before, a race that was moved.
    pub ceilings: Vec<Ceiling>,
    /// Every day in order, whole weeks, race day last. Days before [`Block::first_day`] are as usual, but for
    /// a long run on D7 or D8 of the shortest blocks, and for those that [`Block::told_days`] leaves out.
    pub days: Vec<Day>,
}

/// One day of a block.
#[derive(Clone, Debug, PartialEq)]
pub struct Day {
    /// The day.
    pub date: NaiveDate,
    /// Days to race; race day is 0.
    pub to_race: u16,
    /// Fixed by the coach.
    pub pinned: bool,
    /// What this weekday usually holds, alternatives chosen.
    pub usual: Vec<Session>,
    /// What is planned; empty is rest. On race day the race itself is not a session.
    pub sessions: Vec<Planned>,
    /// Usual sessions that are not run.
    pub dropped: Vec<Dropped>,
}

/// A session as planned.
#[derive(Clone, Debug, PartialEq)]
pub struct Planned {
    /// What is to be done.
    pub session: Session,
    /// What usually stands in its place; nothing if the session is new here.
    pub usual: Option<Session>,
    /// Its part in the block.
    pub role: Role,
    /// Why it is not as usual; empty where it is.
    pub why: Vec<Reason>,
}

/// What part a session plays in the block.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Role {
    /// As its kind says.
    Plain,
    /// The one hard session of race week.
    Key,
    /// The day before the race.
    ShakeOut,
    /// Easy, with 4-6 strides of 15-20 s.
    EasyWithStrides,
    /// Easy, with 3 times 2 minutes at race pace.
    EasyWithRacePace,
    /// Another race on the way, warm-up and cool-down included.
    OtherRace,
}

impl Role {
    /// Whether an easy run holds a little quick running that does not make it hard.
    pub const fn holds_quick_running(self) -> bool {
        matches!(self, Self::EasyWithStrides | Self::EasyWithRacePace)
    }

    /// Whether the block gives the session no part of its own, a little quick running aside.
    pub const fn plays_no_part(self) -> bool {
        matches!(self, Self::Plain) || self.holds_quick_running()
    }

    /// The part of a session where it stands now: a key session belongs to race week, a shake-out run to
    /// the day before.
    pub(crate) const fn on(self, to_race: u16) -> Self {
        match self {
            Self::Key if !race_week::holds(to_race) => Self::Plain,
            Self::ShakeOut if to_race > 1 => Self::Plain,
            same => same,
        }
    }
}

/// A usual session that is not run, and why.
#[derive(Clone, Debug, PartialEq)]
pub struct Dropped {
    /// What usually stands here.
    pub usual: Session,
    /// Why it is not run.
    pub why: Vec<Reason>,
}

impl Dropped {
    /// Usual sessions that are not run, each for the same reason. Words beside rest are no session.
    pub(crate) fn each<'a>(usual: impl Iterator<Item = &'a Session>, why: Reason) -> impl Iterator<Item = Self> {
        let sessions = usual.filter(|usual| usual.rest_words().is_none());
        sessions.map(move |usual| Self { usual: usual.clone(), why: vec![why] })
    }
}

/// Plans a block.
///
/// # Errors
///
/// Every problem of the request: the athlete's, the week's, the race's, the settings' and the pins'.
///
/// # Source
///
/// The rules stand with their reasons in the modules below.
pub fn plan(request: &Request<'_>) -> Result<Block, Vec<Problem>> {
    plan_under(request, &[])
}

/// Plans a block that holds no more than some ceilings allow, whatever the curve says.
pub(crate) fn plan_under(request: &Request<'_>, held: &[Ceiling]) -> Result<Block, Vec<Problem>> {
    let problems = problems(request);
    if !problems.is_empty() {
        return Err(problems);
    }
    let free = lay_out(&Request { today: None, ..*request }, held);
    let Some(begun) = request.begun else { return Ok(free) };
    let stands = |day: &&Day| day.to_race > 0 && request.is_behind(day.date);
    let is_the_same =
        free.days.iter().filter(stands).all(|day| match begun.days.iter().find(|old| old.date == day.date) {
            Some(old) => old.sessions == day.sessions,
            // Nothing was planned on it, so nothing is said of it.
            None => {
                day.sessions.iter().map(|planned| &planned.session).eq(&day.usual)
                    && day.sessions.iter().all(|planned| planned.why.is_empty())
            }
        });
    // What lies behind is as this plan has it: then the rest is that of this plan too, to the last step.
    Ok(if is_the_same { free } else { lay_out(request, held) })
}

/// The block of a request that is in order.
fn lay_out(request: &Request<'_>, held: &[Ceiling]) -> Block {
    let (curve, adjustments) = curve_of(request);
    let facts = facts::Facts::new(request, curve, held);
    let mut days = lay::lay(&facts);
    let shaped = shape::shape(&facts, &mut days);
    allocate::allocate(&facts, &mut days, &shaped);
    shape::race_pace::touch(&facts, &mut days);
    shape::strides::not_on_two_days(&mut days);
    let days = days.into_iter().map(|day| lay::finish(request, day)).collect();
    Block {
        race_day: request.race.date,
        event: facts.event,
        race: request.race.clone(),
        curve,
        adjustments,
        pace: request.athlete.easy_pace,
        week_range: request.week.range_of_days(),
        ceilings: facts.path.ceilings.clone(),
        days,
    }
}

/// The curve of a request: what the coach set, what suits the athlete, the event's default, and no
/// more days than the race before leaves.
pub fn curve_of(request: &Request<'_>) -> (Curve, Vec<Adjustment>) {
    let (mut curve, mut why) = curve_for(request.athlete, request.week, request.race, request.settings);
    path::shorten(&mut curve, &mut why, request);
    (curve, why)
}

/// Everything that is wrong with a request.
fn problems(request: &Request<'_>) -> Vec<Problem> {
    let mut found = request.athlete.problems();
    found.extend(request.week.problems());
    if request.week.running().is_empty() {
        found.push(Problem::new(Field::BaseWeek, ProblemKind::EmptyWeek));
    }
    found.extend(request.race.problems());
    found.extend(request.settings.problems());
    let date = request.race.date;
    if let Some(today) = request.today {
        if date < today {
            found.push(Problem::new(Field::RaceDate, ProblemKind::RaceInThePast { date, today }));
        } else if (date - today).num_days() > FARTHEST_DAYS {
            found.push(Problem::new(Field::RaceDate, ProblemKind::RaceTooFar { date, today }));
        }
    }
    found.extend(request.other_races.iter().flat_map(Race::problems));
    let (curve, _) = curve_of(request);
    let first = date.checked_sub_days(Days::new(u64::from(curve.weeks() * 7 - 1))).unwrap_or(date);
    let last = date.pred_opt().unwrap_or(date);
    for (index, pin) in request.pins.iter().enumerate() {
        if request.pins[..index].iter().any(|earlier| earlier.date == pin.date) {
            found.push(Problem::new(Field::Pin(pin.date), ProblemKind::PinnedTwice { date: pin.date }));
        }
        let (count, most) = (pin.sessions.len(), BaseWeek::MOST_A_DAY);
        if count > most {
            found.push(Problem::new(Field::Pin(pin.date), ProblemKind::TooManySessions { count, most }));
        }
        if !(first..=last).contains(&pin.date) {
            found
                .push(Problem::new(Field::Pin(pin.date), ProblemKind::PinOutsideBlock { date: pin.date, first, last }));
        }
        for kind in pin.sessions.iter().flat_map(Session::problems) {
            found.push(Problem::new(Field::Pin(pin.date), kind));
        }
    }
    found
}

/// A race farther away than this is a slip of the pen: three years.
const FARTHEST_DAYS: i64 = 3 * 366;

impl Block {
    /// The first day of the block: as many days before the race as the block is long.
    pub fn first_day(&self) -> NaiveDate {
        self.race_day - Days::new(u64::from(self.curve.length))
    }

    /// How it begins. Everything that tells or shows an athlete where a block begins asks this.
    pub fn beginning(&self) -> Beginning {
        beginning::of(self)
    }

    /// The share of the usual amount that may remain so many days before the race: the curve, or what
    /// holds the running down further.
    pub fn share(&self, to_race: u16) -> Share {
        let curve = self.curve.share(to_race);
        if self.ceilings.is_empty() {
            return curve;
        }
        let date = self.race_day - Days::new(u64::from(to_race));
        path::lowest(&self.ceilings, date).map_or(curve, |ceiling| Share(ceiling.share.0.min(curve.0)))
    }

    /// The day of the goal race before, where it lies among the days before the block begins. The days up to it
    /// belong to the block for that race.
    pub fn race_before(&self) -> Option<NaiveDate> {
        let recovery = self.ceilings.iter().filter(|ceiling| ceiling.cause == Cause::Recovery);
        let race = recovery.map(|ceiling| ceiling.from).min()?.pred_opt()?;
        let before_the_block = self.days.first()?.date..self.first_day();
        before_the_block.contains(&race).then_some(race)
    }

    /// Whether the running is less than usual already on the day before the block begins: since the race before, or
    /// because the race was moved.
    pub fn is_down_before(&self) -> bool {
        let eve = self.first_day() - Days::new(1);
        self.ceilings.iter().any(|ceiling| ceiling.covers(eve) && ceiling.share < Share::ALL)
    }

    /// The days that this block tells about: all but those in which it is another block that leads to the race
    /// before. That race's day stands first among them.
    pub fn told_days(&self) -> &[Day] {
        let first = self.race_before().and_then(|race| self.days.iter().position(|day| day.date == race));
        &self.days[first.unwrap_or(0)..]
    }

    /// The same by weeks, race week last; of the first there may be only the end.
    pub fn told_weeks(&self) -> impl DoubleEndedIterator<Item = &[Day]> {
        self.told_days().rchunks(7).rev()
    }

    /// The day with this date.
    pub fn day(&self, date: NaiveDate) -> Option<&Day> {
        self.days.iter().find(|day| day.date == date)
    }

    /// Whether a day lies in the block and before its race: what is raced then lies inside the block.
    pub fn has_inside(&self, date: NaiveDate) -> bool {
        (self.first_day()..self.race_day).contains(&date)
    }

    /// Whether another race on a day is one on the way of which the block does not know: the day is one that the block
    /// tells about, the coach has not fixed it, and no race stands on it.
    pub fn lacks_race_on(&self, date: NaiveDate) -> bool {
        let day = self.told_days().iter().find(|day| day.date == date && day.to_race > 0 && !day.pinned);
        day.is_some_and(|day| day.sessions.iter().all(|planned| planned.role != Role::OtherRace))
    }

    /// The block for whoever is not the coach: what happened in the athlete's life is not said. Mostly nothing did, and it
    /// is the block itself.
    pub fn public(&self) -> Cow<'_, Self> {
        let is_said = |why: &Vec<Reason>| {
            why.iter().any(|reason| reason.public() != *reason) || why.windows(2).any(|two| two[0] == two[1])
        };
        let planned = |day: &Day| day.sessions.iter().any(|planned| is_said(&planned.why));
        if !self.days.iter().any(|day| planned(day) || day.dropped.iter().any(|dropped| is_said(&dropped.why))) {
            return Cow::Borrowed(self);
        }
        let mut block = self.clone();
        for day in &mut block.days {
            let planned = day.sessions.iter_mut().map(|planned| &mut planned.why);
            let dropped = day.dropped.iter_mut().map(|dropped| &mut dropped.why);
            for why in planned.chain(dropped) {
                for reason in why.iter_mut() {
                    *reason = reason.public();
                }
                why.dedup();
            }
        }
        Cow::Owned(block)
    }

    /// The weeks in order, race week last; of the first only what [`Block::told_days`] holds.
    pub fn weeks(&self) -> Vec<WeekSummary> {
        summary::weeks(self)
    }

    /// Its week that ends on one of these days, both inside; as weeks end on the weekday of the race, seven days hold
    /// the end of one at most. Nothing where none of its weeks ends there, or where nothing is usually run in it.
    pub fn week_ending(&self, from: NaiveDate, to: NaiveDate) -> Option<WeekSummary> {
        self.weeks().into_iter().find(|week| (from..=to).contains(&week.to) && !week.usual.is_empty())
    }

    /// The days of race week on which nothing is run, whatever strength or cross-training they hold. Every page that
    /// tells or counts days without running tells these: the same six days for every block.
    pub fn days_without_running(&self) -> impl Iterator<Item = &Day> {
        self.days.iter().filter(|day| race_week::holds(day.to_race) && day.is_rest())
    }

    /// What the block takes away: planned against usual running over its days, race day's usual run in
    /// the base, the race not counted. Every page that tells a cut tells this one.
    pub fn cut(&self) -> Cut {
        summary::cut(self)
    }
}

impl Day {
    /// Whether everything stands as in the base week; a race never does.
    pub fn is_as_usual(&self) -> bool {
        let as_usual = |planned: &Planned| planned.usual.as_ref() == Some(&planned.session);
        let rests = self.usual.iter().all(|usual| usual.rest_words().is_some());
        let is_all_there = (self.sessions.is_empty() == self.usual.is_empty() || rests) && self.dropped.is_empty();
        self.to_race > 0 && is_all_there && self.sessions.iter().all(as_usual)
    }

    /// Whether it is one of the days of race week, before the race.
    pub const fn is_in_race_week(&self) -> bool {
        race_week::leads_up(self.to_race)
    }

    /// Whether nothing is to be run: no running planned and no race. Strength and the like may stand there.
    pub fn is_rest(&self) -> bool {
        self.to_race != 0 && self.sessions.iter().all(|planned| planned.session.running().is_none())
    }

    /// Whether all that is usually run on it is optional.
    pub fn is_usually_optional(&self) -> bool {
        let mut runs = self.usual.iter().filter(|usual| usual.running().is_some()).peekable();
        runs.peek().is_some() && runs.all(Session::is_optional)
    }

    /// Whether it holds hard running.
    pub fn is_hard(&self) -> bool {
        self.sessions.iter().any(|planned| planned.session.is_hard())
    }

    /// Whether another race is run on it.
    pub(crate) fn holds_a_race(&self) -> bool {
        self.sessions.iter().any(|planned| planned.role == Role::OtherRace)
    }

    /// The usual running, unit by unit.
    pub fn usual_running(&self) -> Totals {
        self.usual.iter().filter_map(Session::running).collect()
    }

    /// The planned running, unit by unit, the race not counted.
    pub fn planned_running(&self) -> Totals {
        self.sessions.iter().filter_map(|planned| planned.session.running()).collect()
    }

    /// The weekday.
    pub fn weekday(&self) -> Weekday {
        self.date.weekday()
    }
}
