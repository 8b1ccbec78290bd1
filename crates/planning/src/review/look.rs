//! What several rules ask of a block.

use std::cell::OnceCell;

use super::Subject;
use super::band::Judged;
use crate::athlete::{Athlete, Suits};
use crate::block::facts::RunLengths;
use crate::block::{Block, Day, Request, WeekSummary, plan, plan_under};
use crate::curve::{Curve, Settings};
use crate::session::{Kind, Session};
use crate::units::{Milli, Pace, Unit};

/// A subject with its weeks added up.
pub(super) struct Look<'a> {
    pub(super) subject: &'a Subject<'a>,
    pub(super) block: &'a Block,
    pub(super) weeks: Vec<WeekSummary>,
    pub(super) pace: Pace,
    pub(super) lengths: RunLengths,
    /// Its weeks beside their bands: worked out only when asked for.
    pub(super) judged: OnceCell<Vec<Judged>>,
    by_the_rules: OnceCell<Option<Block>>,
    without_fixed_days: OnceCell<Option<Block>>,
    by_the_rules_as_long: OnceCell<Option<Block>>,
}

impl<'a> Look<'a> {
    pub(super) fn new(subject: &'a Subject<'a>) -> Self {
        let pace = subject.athlete.easy_pace.unwrap_or(Pace::ASSUMED);
        Self {
            subject,
            block: subject.block,
            weeks: subject.block.weeks(),
            pace,
            lengths: RunLengths::of(subject.week, pace),
            judged: OnceCell::new(),
            by_the_rules: OnceCell::new(),
            without_fixed_days: OnceCell::new(),
            by_the_rules_as_long: OnceCell::new(),
        }
    }

    /// The block that the planner's own rules give this athlete, left alone: made only when asked for.
    pub(super) fn by_the_rules(&self) -> Option<&Block> {
        let make = || {
            let athlete = Athlete { suits: Suits::default(), ..self.subject.athlete.clone() };
            let request = Request {
                today: None,
                athlete: &athlete,
                week: self.subject.week,
                race: &self.block.race,
                settings: &Settings::default(),
                pins: &[],
                other_races: self.subject.other_races,
                begun: None,
            };
            plan(&request).ok()
        };
        self.by_the_rules.get_or_init(make).as_ref()
    }

    /// The block that the planner's own rules give this athlete in as many days, on the same way to the race.
    pub(super) fn by_the_rules_as_long(&self) -> Option<&Block> {
        let (length, ceilings) = (self.block.curve.length, &self.block.ceilings);
        let usual = self.by_the_rules();
        if usual.is_some_and(|usual| usual.curve.length == length && usual.ceilings == *ceilings) {
            return usual;
        }
        let make = || self.plan_with(&Settings { days: Some(length), ..Settings::default() });
        self.by_the_rules_as_long.get_or_init(make).as_ref()
    }

    /// The block that its own curve gives with no day fixed; nothing where no day is.
    pub(super) fn without_fixed_days(&self) -> Option<&Block> {
        if !self.block.days.iter().any(|day| day.pinned) {
            return None;
        }
        if let Some(block) = self.by_the_rules().filter(|block| block.curve == self.block.curve) {
            return Some(block);
        }
        self.without_fixed_days.get_or_init(|| self.plan_without_fixed_days()).as_ref()
    }

    fn plan_without_fixed_days(&self) -> Option<Block> {
        let Curve { length, curvature, floor, shape } = self.block.curve;
        let settings =
            Settings { days: Some(length), curve: Some(curvature), floor: Some(floor), shape, ..Settings::default() };
        self.plan_with(&settings)
    }

    /// The block that other settings give this athlete on the same way to the race, with no day fixed.
    fn plan_with(&self, settings: &Settings) -> Option<Block> {
        let request = Request {
            other_races: self.subject.other_races,
            ..Request::new(self.subject.athlete, self.subject.week, &self.block.race, settings)
        };
        plan_under(&request, &self.block.ceilings).ok()
    }

    /// The days that the block may change: from its first day to the day before the race.
    pub(super) fn block_days(&self) -> impl Iterator<Item = &'a Day> + '_ {
        self.block.days.iter().filter(|day| self.is_block_day(day))
    }

    /// Whether the block may change a day.
    pub(super) fn is_block_day(&self, day: &Day) -> bool {
        (1..=u16::from(self.block.curve.length).max(8)).contains(&day.to_race)
    }

    /// The week so many weeks before race week; nothing where the block does not reach so far.
    pub(super) fn week(&self, before: u16) -> Option<&WeekSummary> {
        self.weeks.iter().find(|week| week.before == before)
    }

    pub(super) fn km(&self, session: &Session) -> f64 {
        session.running_km(self.pace)
    }

    /// Whether a session is a long run, as the planner takes it.
    pub(super) fn is_long(&self, session: &Session) -> bool {
        self.lengths.is_long(session, self.pace)
    }

    /// Whether a run is too short to be called long by anybody: 5 km, or half an hour.
    ///
    /// # Source
    ///
    /// Common practice, no published source.
    pub(super) fn is_short(&self, session: &Session) -> bool {
        let half_an_hour = Milli::whole(30);
        self.km(session) <= 5.0
            || session.running().is_some_and(|amount| amount.unit() == Unit::Min && amount.middle() <= half_an_hour)
    }

    /// Whether the base week holds hard running other than time trials, which are never shortened, and than touches of it,
    /// which nobody misses. Of two weeks that take turns only what is due in the last two weeks before the race could
    /// still be run.
    pub(super) fn usually_hard(&self) -> bool {
        if self.subject.week.is_hard_by_touches_only() {
            return false;
        }
        let counts = |session: &Session| session.is_hard() && session.kind != Kind::TimeTrial;
        if self.subject.week.turns().is_none() {
            return self.subject.week.sessions().any(|(_, session)| counts(session));
        }
        let near = self.block.days.iter().filter(|day| (1..=13).contains(&day.to_race));
        near.flat_map(|day| &day.usual).any(counts)
    }
}

/// Whether a day holds hard work, run or in cross-training.
pub(super) fn is_hard_work(day: &Day) -> bool {
    day.sessions.iter().any(|planned| planned.session.is_hard_work())
}

/// Whether a day holds hard work that is more than a touch.
pub(super) fn holds_a_hard_session(day: &Day) -> bool {
    day.sessions.iter().any(|planned| planned.session.is_hard_work() && !planned.session.is_hard_by_a_touch())
}

/// Whether a day holds hard running.
pub(super) fn is_hard(day: &Day) -> bool {
    day.sessions.iter().any(|planned| planned.session.is_hard())
}
