//! Weeks of a block in numbers: always the sum of the days shown.

use chrono::NaiveDate;

use super::{Block, Day, amounts};
use crate::session::Session;
use crate::units::{Amount, Distance, Milli, Pace, Share, Totals};

/// One week of a block, counted back from race day, as far as the block tells about it.
#[derive(Clone, Debug, PartialEq)]
pub struct WeekSummary {
    /// First day.
    pub from: NaiveDate,
    /// Last day.
    pub to: NaiveDate,
    /// Weeks before race week: race week is 0.
    pub before: u16,
    /// The base week's running: the sum of its days, its ends as the coach said of the week as a whole.
    pub usual: Totals,
    /// The planned running, the race not counted: the sum of its days. Where the coach gave the usual week
    /// a range of its own, the ends stand to it as the days' ends stand to theirs.
    pub planned: Totals,
    /// Middle of planned over middle of usual, the race not counted.
    pub share: Share,
    /// The same against only those usual days that are not race day.
    pub same_days_share: Share,
    /// Hard running over all running, planned.
    pub intensity: Share,
    /// Hard running over all running, usual.
    pub usual_intensity: Share,
    /// Hard running, planned over usual; all of it where there usually is none.
    pub hard_share: Share,
    /// Days with planned running, the race not counted.
    pub run_days: usize,
    /// Days with usual running.
    pub usual_run_days: usize,
    /// The race, in race week.
    pub race: Option<Distance>,
}

pub(super) fn weeks(block: &Block) -> Vec<WeekSummary> {
    let back_from_race_day = block.told_weeks().rev().zip(0..);
    let mut found: Vec<WeekSummary> = back_from_race_day.map(|(days, before)| summarise(block, days, before)).collect();
    found.reverse();
    found
}

fn summarise(block: &Block, days: &[Day], before: u16) -> WeekSummary {
    let pace = block.pace.unwrap_or(Pace::ASSUMED);
    let usual: Totals = days.iter().flat_map(|day| &day.usual).filter_map(Session::running).collect();
    let planned: Totals = planned_sessions(days).filter_map(Session::running).collect();
    let same_days: Totals =
        days.iter().filter(|day| day.to_race > 0).flat_map(|day| &day.usual).filter_map(Session::running).collect();
    let usual_hard: Totals = days.iter().flat_map(|day| &day.usual).filter_map(Session::hard_running).collect();
    let hard: Totals = planned_sessions(days).filter_map(Session::hard_running).collect();
    let part = |some: &Totals, whole: &Totals| ratio(some.middle_km(pace), whole.middle_km(pace));
    let hard_part = |hard: &Totals, whole: &Totals| if hard.is_empty() { Share::NONE } else { part(hard, whole) };
    let ends = block.week_range.and_then(|range| Ends::of(range, &usual));
    let hard_share = if usual_hard.is_empty() { Share::ALL } else { hard_part(&hard, &usual_hard) };
    WeekSummary {
        from: days[0].date,
        to: days[days.len() - 1].date,
        before,
        share: part(&planned, &usual),
        same_days_share: part(&planned, &same_days),
        intensity: hard_part(&hard, &planned),
        usual_intensity: hard_part(&usual_hard, &usual),
        hard_share,
        run_days: days.iter().filter(|day| !day.planned_running().is_empty()).count(),
        usual_run_days: days.iter().filter(|day| !day.usual_running().is_empty()).count(),
        race: days.iter().any(|day| day.to_race == 0).then(|| block.race.distance.distance()),
        planned: match ends {
            Some(ends) => ends.bring_in(&planned),
            None => planned,
        },
        usual: ends.map_or(usual, |ends| Totals::from_iter([ends.range])),
    }
}

/// A week's own range beside what the ends of its days add up to.
#[derive(Clone, Copy)]
struct Ends {
    range: Amount,
    added_up: Amount,
}

impl Ends {
    /// Nothing where the range says nothing of these days: another unit, or not inside what they add up to
    /// (of two weeks that take turns it is said of the first alone).
    fn of(range: Amount, usual: &Totals) -> Option<Self> {
        let added_up = usual.of(range.unit());
        let lies_inside = added_up.low() <= range.low() && range.high() <= added_up.high();
        (usual.single_unit() == Some(range.unit()) && lies_inside).then_some(Self { range, added_up })
    }

    /// Totals of the same weekdays with their ends brought in, in proportion to what is planned of the usual.
    fn bring_in(self, planned: &Totals) -> Totals {
        let sum = planned.of(self.range.unit());
        if planned.single_unit() != Some(self.range.unit()) || !sum.is_range() {
            return planned.clone();
        }
        let part = Share(sum.middle().as_f64() / self.added_up.middle().as_f64());
        let low = sum.low() + (self.range.low() - self.added_up.low()).times(part);
        let high = sum.high() - (self.added_up.high() - self.range.high()).times(part);
        let written = |value: Milli| amounts::nearest_half_step(value, self.range.unit()).clamp(sum.low(), sum.high());
        Totals::from_iter([Amount::between(written(low), written(high), self.range.unit())])
    }
}

fn planned_sessions(days: &[Day]) -> impl Iterator<Item = &Session> {
    days.iter().flat_map(|day| &day.sessions).map(|planned| &planned.session)
}

/// Some over whole; all of it where there is no whole to take a part of.
fn ratio(some: f64, whole: f64) -> Share {
    if whole > 0.0 { Share(some / whole) } else { Share::ALL }
}

/// The running of a whole block, and what it takes away.
#[derive(Clone, Debug, PartialEq)]
pub struct Cut {
    /// How many days it is counted over: the length of the block.
    pub days: u8,
    /// Planned running, without the race.
    pub planned: Totals,
    /// Usual running of the same days, with that of race day.
    pub usual: Totals,
    /// The part of the usual that is taken away, middle against middle.
    pub share: Share,
}

impl Cut {
    /// Whether it may be held against published trials, which cut a week of running or more. In fewer days race day's
    /// usual run alone is most of what is taken away.
    pub const fn is_of_a_week(&self) -> bool {
        self.days >= 7
    }
}

/// The first day of a block is still whole: the cut is counted from the day after it, up to race day.
pub(super) fn cut(block: &Block) -> Cut {
    let days = || block.days.iter().filter(|day| day.to_race < u16::from(block.curve.length));
    let sum = |of: fn(&Day) -> Totals| {
        days().map(of).fold(Totals::default(), |mut sum, day| {
            sum.extend(&day);
            sum
        })
    };
    let (planned, usual) = (sum(Day::planned_running), sum(Day::usual_running));
    let pace = block.pace.unwrap_or(Pace::ASSUMED);
    let share = Share(1.0 - ratio(planned.middle_km(pace), usual.middle_km(pace)).0);
    Cut { days: block.curve.length, planned, usual, share }
}
