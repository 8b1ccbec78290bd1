//! What may be run, by formulas: names, spread, and why a result says nothing.

use chrono::{Datelike, Days, NaiveDate};
use planning::estimate::{Estimates, FromTraining, LeftOut, MOST_TIMES, RECENT_DAYS};
use planning::{DistanceUnit, Formula, PastResult, RaceDistance};

use super::amounts::short_number;
use super::dates::{full_date, short_date};
use super::names::race_distance;

/// A formula by those who published it, and when.
pub const fn formula(formula: Formula) -> &'static str {
    match formula {
        Formula::Riegel => "Riegel 1981",
        Formula::DanielsGilbert => "Daniels and Gilbert 1979",
        Formula::Cameron => "Cameron 1998",
    }
}

/// A result: `10 km in 42:10 on Sun 14 Mar 2027`.
pub fn past_result(result: &PastResult) -> String {
    let day = format!("{} {}", short_date(result.date), result.date.year());
    format!("{} in {} on {day}", race_distance(result.distance), result.time)
}

/// Why a result says nothing for a race of this distance.
pub fn left_out(why: LeftOut, goal: RaceDistance) -> String {
    match why {
        LeftOut::NotYet => "not run before the race".to_owned(),
        LeftOut::TooOld => format!("older than {} weeks", RECENT_DAYS / 7),
        LeftOut::TooFar => format!("too far from {}, or beyond what the formulas were made from", race_distance(goal)),
    }
}

/// How far the estimates lie apart, in a sentence; nothing where there is none.
pub fn spread(estimates: &Estimates) -> Option<String> {
    let (fastest, slowest) = estimates.spread()?;
    Some(if fastest == slowest {
        let why = match (estimates.from_results.is_empty(), estimates.from_training.is_some()) {
            (true, _) => "the only estimate, from training alone",
            (false, true) => "training and results say the same",
            (false, false) => "it is a result over the same distance, so every formula says the same",
        };
        format!("{fastest}: {why}.")
    } else {
        let minutes = f64::from(slowest.as_seconds() - fastest.as_seconds()) / 60.0;
        format!("From {fastest} to {slowest}, {} minutes apart; nobody knows which is nearer.", short_number(minutes))
    })
}

/// What training stands for: `usual week of 62 km, easy pace 5:45/km, with its hard parts about 5:33/km in the mean`.
pub fn from_training(training: &FromTraining, units: DistanceUnit) -> String {
    let amount = match units {
        DistanceUnit::Km => training.km_a_week,
        DistanceUnit::Mi => training.km_a_week * 1_000_000.0 / DistanceUnit::Mi.millimetres() as f64,
    };
    let (unit, per) = (units.symbol(), training.pace.per().symbol());
    let mean = if training.mean == training.pace {
        String::new()
    } else {
        format!(", with its hard parts about {}/{per} in the mean", training.mean)
    };
    format!("usual week of {} {unit}, easy pace {}/{per}{mean}", short_number(amount), training.pace)
}

/// What has to be typed so that something can be said of a race.
pub fn lacking(goal: RaceDistance, today: NaiveDate) -> String {
    let km = goal.distance().as_km();
    let longest = planning::estimate::LONGEST.distance().as_km();
    let (from, to) = (short_number(km / MOST_TIMES), short_number((km * MOST_TIMES).min(longest)));
    let since = full_date(today - Days::new(RECENT_DAYS));
    format!("No result since {since} over {from} to {to} km is noted.")
}
