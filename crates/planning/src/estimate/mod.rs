//! What a race may take, from results of the last months and from training: several published formulas side
//! by side. Where they differ nobody knows better, so there is never one number, only a spread.

mod cameron;
mod daniels_gilbert;
mod easy_pace;
mod riegel;
mod tanda;

use chrono::{Days, NaiveDate};

pub use easy_pace::easy_pace;

use crate::past_result::PastResult;
use crate::race::RaceDistance;
use crate::race_time::RaceTime;
use crate::units::{Distance, Pace, Unit};
use crate::week::BaseWeek;

/// A formula from one race to another.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Formula {
    /// Riegel 1981.
    Riegel,
    /// Daniels and Gilbert 1979.
    DanielsGilbert,
    /// Cameron 1998.
    Cameron,
}

impl Formula {
    /// Every formula, in the order in which they stand side by side.
    pub const ALL: [Self; 3] = [Self::Riegel, Self::DanielsGilbert, Self::Cameron];

    /// The time for another distance: minutes from minutes, kilometres.
    fn minutes(self, minutes: f64, from_km: f64, to_km: f64) -> f64 {
        match self {
            Self::Riegel => riegel::minutes(minutes, from_km, to_km),
            Self::DanielsGilbert => daniels_gilbert::minutes(minutes, from_km, to_km),
            Self::Cameron => cameron::minutes(minutes, from_km, to_km),
        }
    }

    /// Whether the formula is meant for a race of this length and time at all.
    fn is_meant_for(self, km: f64, minutes: f64) -> bool {
        match self {
            Self::Riegel => riegel::FITTED_MINUTES.contains(&minutes),
            Self::DanielsGilbert => daniels_gilbert::FITTED_MINUTES.contains(&minutes),
            Self::Cameron => cameron::FITTED_KM.contains(&km),
        }
    }
}

/// What one formula says.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Estimate {
    /// The time.
    pub time: RaceTime,
    /// Whether it lies beyond the times from which the formula was made.
    pub is_beyond: bool,
}

/// What the formulas make of one result.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FromResult {
    /// The result.
    pub result: PastResult,
    /// What each formula says, in the order of [`Formula::ALL`]; nothing where it is not meant for the result.
    pub by: [Option<Estimate>; 3],
}

/// What training alone says, marathon only.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FromTraining {
    /// Kilometres a week: the base week's, which stands for the last eight weeks.
    pub km_a_week: f64,
    /// The pace of easy running as it was noted.
    pub pace: Pace,
    /// The mean pace of all running of the week, hard parts faster by [`Pace::ASSUMED_HARD`] to [`Pace::ASSUMED`], in seconds
    /// for what the easy pace is for.
    pub mean: Pace,
    /// What comes out.
    pub estimate: Estimate,
}

/// Why a result says nothing for a race.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LeftOut {
    /// It is of a day that is still to come, or not before the race.
    NotYet,
    /// It is older than [`RECENT_DAYS`].
    TooOld,
    /// One distance is more than [`MOST_TIMES`] the other, or no formula is meant for the result.
    TooFar,
}

/// Every estimate for one race.
#[derive(Clone, Debug, PartialEq)]
pub struct Estimates {
    /// The distance of the race.
    pub goal: RaceDistance,
    /// From results, the latest first.
    pub from_results: Vec<FromResult>,
    /// From training, where it is a marathon and the easy pace is known.
    pub from_training: Option<FromTraining>,
    /// Results that were not used, the latest first.
    pub left_out: Vec<(PastResult, LeftOut)>,
}

/// How many days back a result still says something: 24 weeks.
///
/// # Source
///
/// Common practice, no published source.
pub const RECENT_DAYS: u64 = 168;

/// How many times longer one distance may be than the other: from 10 km to the marathon, and from 5 km to
/// the half marathon.
///
/// # Source
///
/// Common practice, no published source.
pub const MOST_TIMES: f64 = 4.25;

/// The longest race for which any of these formulas is meant; longer ones turn on other things.
pub const LONGEST: RaceDistance = RaceDistance::Marathon;

/// Every estimate for a race of this distance and day, as it stands on a day.
pub fn estimates(
    (goal, race_day): (RaceDistance, NaiveDate),
    results: &[PastResult],
    (week, easy_pace): (&BaseWeek, Option<Pace>),
    today: NaiveDate,
) -> Estimates {
    let mut found = Estimates { goal, from_results: Vec::new(), from_training: None, left_out: Vec::new() };
    let mut results = results.to_vec();
    results.sort_by_key(|result| std::cmp::Reverse(result.date));
    let is_meant = goal.distance() <= LONGEST.distance();
    for result in results {
        match from_result(goal.distance(), race_day, &result, today) {
            Ok(by) if is_meant => found.from_results.push(FromResult { result, by }),
            Ok(_) => found.left_out.push((result, LeftOut::TooFar)),
            Err(why) => found.left_out.push((result, why)),
        }
    }
    if goal.distance() == RaceDistance::Marathon.distance() {
        found.from_training = easy_pace.and_then(|pace| from_training(week, pace));
    }
    found
}

fn from_result(
    goal: Distance,
    race_day: NaiveDate,
    result: &PastResult,
    today: NaiveDate,
) -> Result<[Option<Estimate>; 3], LeftOut> {
    let as_of = today.min(race_day);
    if result.date > today || result.date >= race_day {
        return Err(LeftOut::NotYet);
    }
    if result.date + Days::new(RECENT_DAYS) < as_of {
        return Err(LeftOut::TooOld);
    }
    let (from, to) = (result.distance.distance().as_km(), goal.as_km());
    if from.max(to) > MOST_TIMES * from.min(to) {
        return Err(LeftOut::TooFar);
    }
    let by = Formula::ALL.map(|formula| by_formula(formula, result.time, from, goal));
    if by.iter().all(Option::is_none) { Err(LeftOut::TooFar) } else { Ok(by) }
}

fn by_formula(formula: Formula, time: RaceTime, from_km: f64, goal: Distance) -> Option<Estimate> {
    if !formula.is_meant_for(from_km, time.as_minutes()) {
        return None;
    }
    let minutes = formula.minutes(time.as_minutes(), from_km, goal.as_km());
    let is_beyond = !formula.is_meant_for(goal.as_km(), minutes);
    race_time(minutes, goal).map(|time| Estimate { time, is_beyond })
}

fn from_training(week: &BaseWeek, pace: Pace) -> Option<FromTraining> {
    let km_a_week = week.middle_km(Some(pace));
    let mean = mean_pace(week, km_a_week, pace);
    let minutes = tanda::marathon_minutes(km_a_week, mean.minutes_per_km() * 60.0);
    let is_beyond = !tanda::FITTED_MINUTES.contains(&minutes);
    let time = race_time(minutes, RaceDistance::Marathon.distance()).filter(|_| km_a_week > 0.0)?;
    Some(FromTraining { km_a_week, pace, mean, estimate: Estimate { time, is_beyond } })
}

/// The mean pace of a week's running where the easy one is known.
fn mean_pace(week: &BaseWeek, km_a_week: f64, easy: Pace) -> Pace {
    let faster = Pace::ASSUMED_HARD.minutes_per_km() / Pace::ASSUMED.minutes_per_km();
    let hard: Vec<f64> =
        week.weeks().map(|one| one.hard_running().estimate(Unit::Km, easy).middle().as_f64()).collect();
    let hard_km = hard.iter().sum::<f64>() / hard.len().max(1) as f64;
    let hard = if km_a_week > 0.0 { (hard_km / km_a_week).min(1.0) } else { 0.0 };
    let seconds = f64::from(easy.seconds()) * (1.0 - hard * (1.0 - faster));
    Pace::new(seconds.round() as u16, easy.per()).unwrap_or(easy)
}

/// To the nearest second; nothing for what nobody runs.
fn race_time(minutes: f64, distance: Distance) -> Option<RaceTime> {
    RaceTime::for_distance((minutes * 60.0).round() as u32, distance).ok()
}

impl Estimates {
    /// Every single estimate.
    pub fn all(&self) -> impl Iterator<Item = Estimate> {
        let from_results = self.from_results.iter().flat_map(|row| row.by.iter().flatten().copied());
        from_results.chain(self.from_training.map(|training| training.estimate))
    }

    /// The fastest and the slowest of them; nothing where there is none.
    pub fn spread(&self) -> Option<(RaceTime, RaceTime)> {
        let times = || self.all().map(|estimate| estimate.time);
        times().min().zip(times().max())
    }

    /// Whether any lies beyond the races from which its formula was made.
    pub fn any_beyond(&self) -> bool {
        self.all().any(|estimate| estimate.is_beyond)
    }
}

#[cfg(test)]
mod tests;
