//! What the steps need to know of a request, worked out once.

use chrono::{Days, NaiveDate, Weekday};

use super::path::Path;
use crate::block::{Ceiling, Reason, Request};
use crate::curve::{Curve, ExtraRest, curve_by_the_rules, event_defaults};
use crate::race::Event;
use crate::recovery;
use crate::session::{Kind, Session};
use crate::units::{Milli, Pace, Share, Unit, from_km, is_below_km, middle_km};
use crate::week::{BaseWeek, SevenDays, WEEKDAYS};

/// A long run up to this part of the longest usual one costs no more than an easy run.
///
/// # Source
///
/// Common practice, no published source.
pub(crate) const NO_LONGER_LONG: f64 = 0.60;

/// How much an athlete runs, as far as lower bounds go.
///
/// # Source
///
/// Common practice, no published source. Where only time is known, ten kilometres count as an hour.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Mileage {
    /// Below 50 km a week.
    Below50,
    /// Below 90 km a week.
    Below90,
    /// From 90 km a week.
    From90,
}

impl Mileage {
    pub(crate) fn of(km: f64) -> Self {
        if is_below_km(km, 50.0) {
            Self::Below50
        } else if is_below_km(km, 90.0) {
            Self::Below90
        } else {
            Self::From90
        }
    }

    /// The shortest run that is worth the shoes.
    ///
    /// # Source
    ///
    /// Common practice, no published source.
    pub(crate) const fn least(self, unit: Unit) -> Milli {
        match (self, unit) {
            (Self::Below50, Unit::Km) => Milli(3000),
            (Self::Below90, Unit::Km) => Milli(4000),
            (Self::From90, Unit::Km) => Milli(5000),
            (Self::Below50, Unit::Mi) => Milli(2000),
            (Self::Below90, Unit::Mi) => Milli(2500),
            (Self::From90, Unit::Mi) => Milli(3000),
            (Self::Below50, Unit::Min) => Milli(20_000),
            (Self::Below90, Unit::Min) => Milli(25_000),
            (Self::From90, Unit::Min) => Milli(30_000),
        }
    }

    /// The shake-out run on the day before: 3-4 km, 2-2.5 miles, 15-25 minutes.
    ///
    /// # Source
    ///
    /// Common practice, no published source.
    pub(super) const fn shake_out(self, unit: Unit) -> Milli {
        match (self, unit) {
            (Self::Below50, Unit::Km) => Milli(3000),
            (Self::Below90, Unit::Km) => Milli(3500),
            (Self::From90, Unit::Km) => Milli(4000),
            (Self::Below50 | Self::Below90, Unit::Mi) => Milli(2000),
            (Self::From90, Unit::Mi) => Milli(2500),
            (Self::Below50, Unit::Min) => Milli(15_000),
            (Self::Below90, Unit::Min) => Milli(20_000),
            (Self::From90, Unit::Min) => Milli(25_000),
        }
    }
}

/// The request with everything that several steps ask of it.
#[derive(Clone, Debug)]
pub(super) struct Facts<'a> {
    pub(super) request: &'a Request<'a>,
    pub(super) event: Event,
    pub(super) curve: Curve,
    pub(super) youth: bool,
    /// What is hard in the base week is no more than a touch anywhere.
    pub(super) touches_only: bool,
    pub(super) pace: Pace,
    pub(super) mileage: Mileage,
    pub(super) lengths: RunLengths,
    /// What remains of the usual amount on each day of the block's weeks, race day first.
    shares: Vec<Share>,
    /// The curve that the rules alone give this athlete, however many days are left.
    pub(super) by_the_rules: Curve,
    /// How far the curve is that one.
    pub(super) depth: Depth,
    /// What lies on the way besides the curve.
    pub(super) path: Path<'a>,
}

impl<'a> Facts<'a> {
    pub(super) fn new(request: &'a Request<'a>, curve: Curve, held: &[Ceiling]) -> Self {
        let pace = request.athlete.easy_pace.unwrap_or(Pace::ASSUMED);
        let by_the_rules = curve_by_the_rules(request.athlete, request.week, request.race);
        let mut facts = Self {
            request,
            event: request.race.distance.event(),
            curve,
            touches_only: request.week.is_hard_by_touches_only(),
            youth: request.athlete.is_under_18(request.race.date),
            pace,
            mileage: Mileage::of(request.week.middle_km(request.athlete.easy_pace)),
            lengths: RunLengths::of(request.week, pace),
            shares: Vec::new(),
            by_the_rules,
            depth: Depth::of(request, curve, by_the_rules),
            path: Path::of(request, held),
        };
        facts.shares = (0..curve.weeks() * 7).map(|to_race| facts.work_out_share(to_race)).collect();
        facts
    }

    /// How much of what the curve leaves of some days is left by what holds the running down besides it.
    pub(super) fn left_of_the_curve(&self, days: impl Iterator<Item = u16> + Clone) -> Share {
        if self.path.ceilings.is_empty() {
            return Share::ALL;
        }
        let curve: f64 = days.clone().map(|to_race| self.curve.share(to_race).0).sum();
        let left: f64 = days.map(|to_race| self.share(to_race).0).sum();
        Share(left / curve)
    }

    /// What remains of the usual amount so many days before the race.
    pub(super) fn share(&self, to_race: u16) -> Share {
        self.shares.get(usize::from(to_race)).copied().unwrap_or_else(|| self.work_out_share(to_race))
    }

    fn work_out_share(&self, to_race: u16) -> Share {
        let curve = self.curve.share(to_race);
        if self.path.ceilings.is_empty() { curve } else { Share(curve.0.min(self.path.most_on(self.date(to_race)).0)) }
    }

    /// Why no more remains on that day: the curve, or what holds the running down further.
    pub(super) fn share_reason(&self, to_race: u16) -> Reason {
        let curve = self.curve.share(to_race);
        self.path.reason_on(self.date(to_race), curve).unwrap_or(Reason::Ebb(curve))
    }

    /// Whether sessions of that day come down at all.
    pub(super) fn ebbs(&self, to_race: u16) -> bool {
        to_race <= u16::from(self.curve.length) || self.share(to_race) < Share::ALL
    }

    /// Whether a day belongs to the recovery from the race before, or lies before that race.
    pub(super) fn is_recovering(&self, date: NaiveDate) -> bool {
        self.path.recovery_ends().is_some_and(|last| date <= last)
    }

    /// The goal race before that is still too near for hard running in race week on this day, if one is.
    pub(super) fn spared_after(&self, date: NaiveDate) -> Option<NaiveDate> {
        let race = self.path.before?;
        let spared = Days::new(u64::from(recovery::spared_days(race.distance.event())));
        (race.date < date && date <= race.date + spared).then_some(race.date)
    }

    fn date(&self, to_race: u16) -> NaiveDate {
        self.request.race.date - Days::new(u64::from(to_race))
    }

    /// The middle of a session's running in kilometres.
    pub(super) fn km(&self, session: &Session) -> f64 {
        session.running_km(self.pace)
    }

    /// Whether a session takes the place of a long run: see [`RunLengths::is_long`].
    pub(super) fn is_long(&self, session: &Session) -> bool {
        self.lengths.is_long(session, self.pace)
    }

    /// Whether a run, hard or not, is as long as a long run.
    pub(super) fn is_as_long_as_a_long_run(&self, session: &Session) -> bool {
        self.lengths.is_as_long_as_a_long_run(session, self.pace)
    }

    /// Kilometres in another unit.
    pub(super) fn km_in(&self, km: f64, unit: Unit) -> Milli {
        from_km(km, unit, self.pace)
    }

    /// The weekday that the coach, else the athlete's habit, sets for the extra rest day of race week.
    pub(super) fn extra_rest_weekday(&self) -> Option<Weekday> {
        match self.request.settings.extra_rest {
            ExtraRest::On(weekday) => Some(weekday),
            ExtraRest::Auto => self.request.athlete.suits.extra_rest,
            ExtraRest::None => None,
        }
    }
}

/// How far a curve is the one that the rules alone give an athlete: how much the event's usual weeks say
/// of its weeks.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Depth {
    /// It is that curve.
    Usual,
    /// Only its length is another one of those that pass without a word: race week still holds what race
    /// weeks hold.
    UsualInRaceWeek,
    /// The coach's own: it says how much is left.
    Own,
}

impl Depth {
    fn of(request: &Request<'_>, curve: Curve, by_the_rules: Curve) -> Self {
        let (shortest, longest) = event_defaults(request.race.distance.event()).lengths;
        let is_deep_as_usual = request.settings.curve.is_none()
            && curve.shape == by_the_rules.shape
            && curve.floor >= by_the_rules.floor
            && (shortest..=longest).contains(&curve.length);
        if curve == by_the_rules {
            Self::Usual
        } else if is_deep_as_usual {
            Self::UsualInRaceWeek
        } else {
            Self::Own
        }
    }
}

/// How long the runs of a base week are, in kilometres.
#[derive(Clone, Copy, Debug)]
pub(crate) struct RunLengths {
    /// The longest run.
    pub(crate) longest: f64,
    /// The median run.
    pub(crate) median: f64,
    /// The longest run that is neither hard nor takes the place of a long run, and no less than a part of the median.
    pub(crate) longest_easy: f64,
    /// A run of this many takes the place of a long run even if it is not called so.
    pub(crate) long_from: f64,
}

impl RunLengths {
    /// The lengths of a week's runs. The median is taken over the longest run of each day: the second runs
    /// of an athlete who doubles would make a long run of every other run; of two weeks that take turns over
    /// the fuller one.
    pub(crate) fn of(week: &BaseWeek, pace: Pace) -> Self {
        let longest = week.weeks().flat_map(|week| longest_of_days(week, pace)).fold(0.0, f64::max);
        let mut runs = longest_of_days(week.fuller(pace), pace);
        runs.sort_by(f64::total_cmp);
        let median = match runs.len() {
            0 => 0.0,
            n if n % 2 == 1 => runs[n / 2],
            n => f64::midpoint(runs[n / 2 - 1], runs[n / 2]),
        };
        let long_from = (median * LONG_FROM).max(f64::MIN_POSITIVE);
        let mut lengths = Self { longest, median, longest_easy: median, long_from };
        let is_plain = |session: &&Session| !session.is_hard() && !lengths.is_long(session, pace);
        let easy = week.sessions().map(|(_, session)| session).filter(is_plain);
        let longest_easy = easy.map(|session| session.running_km(pace)).fold(0.0, f64::max);
        if longest_easy > 0.0 {
            lengths.longest_easy = longest_easy.max(median * EASY_FROM);
        }
        lengths
    }

    /// Whether a session takes the place of a long run: called so, or 1.5 times the median run and not hard.
    pub(crate) fn is_long(&self, session: &Session, pace: Pace) -> bool {
        session.kind == Kind::Long || (!session.is_hard() && self.is_as_long_as_a_long_run(session, pace))
    }

    /// Whether a run, hard or not, is as long as a long run.
    pub(crate) fn is_as_long_as_a_long_run(&self, session: &Session, pace: Pace) -> bool {
        session.kind.is_running() && !is_below_km(session.running_km(pace), self.long_from)
    }
}

/// The longest run of each day that holds one.
fn longest_of_days(week: &SevenDays, pace: Pace) -> Vec<f64> {
    let longest = |weekday| {
        let runs = week.day(weekday).iter().filter_map(|slot| slot.chosen().running());
        runs.map(|amount| middle_km(amount, pace)).max_by(f64::total_cmp)
    };
    WEEKDAYS.into_iter().filter_map(longest).collect()
}

/// Where the only easy runs of a week are short ones between long and hard days, an easy run in the place of a hard one
/// may be as long as this part of the median run.
///
/// # Source
///
/// Common practice, no published source.
const EASY_FROM: f64 = 0.8;

/// A run of this many times the median run is a long run even if it is not called so.
///
/// # Source
///
/// Common practice, no published source.
const LONG_FROM: f64 = 1.5;
