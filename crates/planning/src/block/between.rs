//! Days between races that belong to no block: recovery after a race, and the bridge from there to
//! the next block or back to the usual week.

use chrono::{Days, NaiveDate};

use super::amounts::{self, SaysHard};
use super::facts::{Mileage, RunLengths};
use super::path::is_near_long;
use super::{Dropped, Planned, Reason, Role};
use crate::athlete::Athlete;
use crate::race::Race;
use crate::recovery::{self, Step};
use crate::session::{Kind, Session};
use crate::units::{Amount, Milli, Pace, Share, Totals, from_km, in_km};
use crate::week::BaseWeek;

/// A day that belongs to no block.
#[derive(Clone, Debug, PartialEq)]
pub struct QuietDay {
    /// The day.
    pub date: NaiveDate,
    /// What this weekday usually holds.
    pub usual: Vec<Session>,
    /// What is planned; empty is rest.
    pub sessions: Vec<Planned>,
    /// Usual sessions that are not run.
    pub dropped: Vec<Dropped>,
}

/// Between two long goal races one longer run stands so many days before the second, the last first.
///
/// # Source
///
/// Common practice, no published source.
const LONGER_RUN: std::ops::RangeInclusive<i64> = 14..=16;

/// That run is at most this share of the longest usual run,
///
/// # Source
///
/// Common practice, no published source.
const LONGER_RUN_SHARE: f64 = 0.80;

/// at most so many minutes,
///
/// # Source
///
/// Common practice, no published source.
const LONGER_RUN_MINUTES: f64 = 180.0;

/// and at most this share of what its week may hold: the rest is for other runs.
///
/// # Source
///
/// Common practice, no published source.
const LONGER_RUN_OF_WEEK: f64 = 0.80;

/// No other run of a recovery is longer than this share of the longest usual run.
///
/// # Source
///
/// Common practice, no published source.
const RECOVERY_RUN_SHARE: f64 = 0.40;

/// Cross-training in recovery keeps this share.
///
/// # Source
///
/// Common practice, no published source.
const CROSS_TRAINING: Share = Share(0.5);

/// The days of recovery after a race, by the distance really run.
///
/// Nothing hard, few and short runs, none in the first days; what the steps of
/// [`recovery::steps`](crate::recovery::steps) allow goes to as many runs as are worth the shoes. Where
/// the next long goal race is near, one longer run stands about two weeks before it.
pub fn recovery_days(athlete: &Athlete, week: &BaseWeek, raced: &Race, next: Option<&Race>) -> Vec<QuietDay> {
    let event = raced.distance.event();
    let quiet = Quiet::new(athlete, week);
    let mut from = 1;
    let mut found = Vec::new();
    for step in recovery::steps(event).iter().filter(|step| step.until <= recovery::days(event)) {
        found.extend(quiet.recovery_step(raced, next, from, *step));
        from = step.until + 1;
    }
    found
}

/// The days from the end of recovery up to a day, at most what the steps after the race allow.
pub(crate) fn bridge_days(
    athlete: &Athlete,
    week: &BaseWeek,
    raced: &Race,
    next: Option<&Race>,
    to: NaiveDate,
) -> Vec<QuietDay> {
    let event = raced.distance.event();
    let quiet = Quiet::new(athlete, week);
    let first = raced.date + Days::new(u64::from(recovery::days(event)) + 1);
    let near = next.is_some_and(|next| is_near_long(raced, next));
    let dates = first.iter_days().take_while(|date| *date <= to);
    dates
        .map(|date| {
            let since = u16::try_from((date - raced.date).num_days()).unwrap_or(u16::MAX);
            let most = recovery::most_after(event, since);
            let most = if near { Share(most.0.min(super::path::NO_NEW_BUILD_SHARE.0)) } else { most };
            quiet.at_share(date, most, Reason::Recovering(most))
        })
        .collect()
}

/// Days on which the running comes back evenly to the usual week, from a share of it.
pub(crate) fn return_days(
    athlete: &Athlete,
    week: &BaseWeek,
    from: NaiveDate,
    days: u16,
    present: Share,
) -> Vec<QuietDay> {
    let quiet = Quiet::new(athlete, week);
    (0..days)
        .map(|day| {
            let part = f64::from(day + 1) / f64::from(days + 1);
            let share = Share(present.0 + (1.0 - present.0) * part);
            quiet.at_share(from + Days::new(u64::from(day)), share, Reason::Returning(share))
        })
        .collect()
}

/// What is asked again and again for the days of one athlete.
struct Quiet<'a> {
    week: &'a BaseWeek,
    pace: Pace,
    mileage: Mileage,
    longest_km: f64,
}

impl<'a> Quiet<'a> {
    fn new(athlete: &Athlete, week: &'a BaseWeek) -> Self {
        let pace = athlete.easy_pace.unwrap_or(Pace::ASSUMED);
        Self {
            week,
            pace,
            mileage: Mileage::of(week.middle_km(athlete.easy_pace)),
            longest_km: RunLengths::of(week, pace).longest,
        }
    }

    fn km(&self, session: &Session) -> f64 {
        session.running_km(self.pace)
    }

    /// One step of a recovery: which days hold a run, and how long it is.
    fn recovery_step(&self, raced: &Race, next: Option<&Race>, from: u16, step: Step) -> Vec<QuietDay> {
        let event = raced.distance.event();
        let dates: Vec<NaiveDate> = (from..=step.until).map(|since| raced.date + Days::new(u64::from(since))).collect();
        let runs: Vec<(NaiveDate, Session)> =
            dates.iter().filter_map(|date| Some((*date, main_run(self.week.chosen_on(*date))?))).collect();
        let usual_km: f64 =
            dates.iter().flat_map(|date| self.week.chosen_on(*date)).map(|session| self.km(&session)).sum();
        let off_until = raced.date + Days::new(u64::from(recovery::days_off(event)));
        let may: Vec<&(NaiveDate, Session)> = runs.iter().filter(|(date, _)| *date > off_until).collect();

        let most_km = usual_km * step.most.0;
        let longer =
            next.filter(|next| is_near_long(raced, next)).and_then(|next| self.longer_run(&may, next, most_km));
        let longer_km = longer.map_or(0.0, |(_, km)| km);
        let left = if longer.is_some() { most_km - longer_km } else { usual_km * step.middle().0 };
        let others: Vec<&(NaiveDate, Session)> =
            may.into_iter().filter(|(date, _)| longer.is_none_or(|(day, _)| day != *date)).collect();
        let chosen = self.spread(&others, left);
        let each = if chosen.is_empty() { 0.0 } else { left / chosen.len() as f64 };

        dates
            .iter()
            .map(|date| {
                let wanted = if longer.is_some_and(|(day, _)| day == *date) {
                    longer_km
                } else if chosen.contains(date) {
                    each.min(self.longest_km * RECOVERY_RUN_SHARE)
                } else {
                    0.0
                };
                self.recovery_day(*date, wanted, step, from == 1, *date <= off_until)
            })
            .collect()
    }

    /// The one longer run before the next long race: on the day that usually holds the longest run.
    fn longer_run(&self, may: &[&(NaiveDate, Session)], next: &Race, most_km: f64) -> Option<(NaiveDate, f64)> {
        let stands = |date: NaiveDate| LONGER_RUN.contains(&(next.date - date).num_days());
        let run = may
            .iter()
            .filter(|(date, _)| stands(*date))
            .max_by(|one, other| self.km(&one.1).total_cmp(&self.km(&other.1)))?;
        let three_hours = LONGER_RUN_MINUTES / self.pace.minutes_per_km();
        let km = (self.longest_km * LONGER_RUN_SHARE).min(three_hours).min(most_km * LONGER_RUN_OF_WEEK);
        Some((run.0, km.min(self.km(&run.1))))
    }

    /// As many runs as the running left is worth, spread evenly, the last days first.
    fn spread(&self, runs: &[&(NaiveDate, Session)], left_km: f64) -> Vec<NaiveDate> {
        let Some(unit) = runs.first().and_then(|(_, session)| session.running()).map(Amount::unit) else {
            return Vec::new();
        };
        let least = in_km(self.mileage.least(unit), unit, self.pace);
        let count = ((left_km / least).floor() as usize).min(runs.len());
        (0..count).map(|index| runs[runs.len() - 1 - index * runs.len() / count].0).collect()
    }

    fn recovery_day(&self, date: NaiveDate, wanted_km: f64, step: Step, first: bool, off: bool) -> QuietDay {
        let reason = Reason::Recovering(step.most);
        let usual = self.week.chosen_on(date);
        let main = main_run(usual.clone());
        let mut day = QuietDay { date, usual: usual.clone(), sessions: Vec::new(), dropped: Vec::new() };
        let mut run_placed = false;
        for session in usual {
            let is_main = main.as_ref() == Some(&session) && !run_placed;
            let kept = match session.kind {
                kind if kind.is_running() => (is_main && wanted_km > 0.0).then(|| {
                    run_placed = true;
                    self.easy(&session, wanted_km)
                }),
                Kind::Mobility | Kind::Rest => Some(session.clone()),
                Kind::Strength if first => None,
                Kind::Strength => Some(without_load(&session)),
                _ if off => None,
                _ => Some(eased_cross_training(&session)),
            };
            match kept {
                Some(now) => day.sessions.push(planned(now, session, reason)),
                None => day.dropped.push(Dropped { usual: session, why: vec![reason] }),
            }
        }
        day
    }

    /// The run as an easy one of about so many kilometres, never above: a longer one stays a long run.
    fn easy(&self, session: &Session, wanted_km: f64) -> Session {
        let Some(usual) = session.running() else { return session.clone() };
        let wanted = from_km(wanted_km, usual.unit(), self.pace);
        let amount = amounts::at_most(usual, wanted.min(usual.middle()));
        let long = session.kind == Kind::Long && wanted_km > self.longest_km * RECOVERY_RUN_SHARE;
        Session::new(if long { Kind::Long } else { Kind::Easy }, amount)
    }

    /// The usual sessions of a day at a share, hard parts with them.
    fn at_share(&self, date: NaiveDate, share: Share, reason: Reason) -> QuietDay {
        let usual = self.week.chosen_on(date);
        let sessions = usual
            .iter()
            .map(|session| {
                let mut now = session.clone();
                match session.amount {
                    Some(amount)
                        if share < Share::ALL && (session.kind.is_running() || session.kind == Kind::CrossTraining) =>
                    {
                        let least = self.mileage.least(amount.unit()).min(amount.middle());
                        now.amount = Some(amounts::nearest(amount, amount.middle().times(share).max(least)));
                        amounts::shorten_hard(&mut now, session, share, SaysHard::AsUsual);
                        if !now.problems().is_empty() {
                            now.sets.clear();
                        }
                    }
                    _ if share < Share::ALL => now = without_load(session),
                    _ => {}
                }
                planned(now, session.clone(), reason)
            })
            .collect();
        QuietDay { date, usual, sessions, dropped: Vec::new() }
    }
}

fn eased_cross_training(session: &Session) -> Session {
    let amount = session.amount.map(|amount| amounts::nearest(amount, amount.middle().times(CROSS_TRAINING)));
    let now = Session { amount, hard: None, sets: Vec::new(), ..session.clone() };
    if session.is_hard_work() { Session { note: String::new(), ..now } } else { now }
}

/// The same without a load, and without the words that were written for it.
fn without_load(session: &Session) -> Session {
    let note = if session.loaded { String::new() } else { session.note.clone() };
    Session { loaded: false, note, ..session.clone() }
}

fn planned(mut now: Session, usual: Session, reason: Reason) -> Planned {
    now.keep_note_true(&usual);
    let why = if now == usual { Vec::new() } else { vec![reason] };
    Planned { session: now, usual: Some(usual), role: Role::Plain, why }
}

/// The longest run of a day, the earlier of equals.
fn main_run(sessions: Vec<Session>) -> Option<Session> {
    let runs = sessions.into_iter().filter(|session| session.running_middle() > Milli::ZERO);
    runs.reduce(|best, run| if run.running_middle() > best.running_middle() { run } else { best })
}

impl QuietDay {
    /// The planned running, unit by unit.
    pub fn planned_running(&self) -> Totals {
        self.sessions.iter().filter_map(|planned| planned.session.running()).collect()
    }

    /// The usual running, unit by unit.
    pub fn usual_running(&self) -> Totals {
        self.usual.iter().filter_map(Session::running).collect()
    }
}
