//! The pace of easy running that a result makes likely: an offer where the coach noted none.

use chrono::{Days, NaiveDate};

use super::{RECENT_DAYS, daniels_gilbert};
use crate::past_result::PastResult;
use crate::units::{DistanceUnit, Pace};

/// The part of the oxygen capacity at which easy running mostly is.
///
/// # Source
///
/// Common practice, no published source: six to seven tenths.
const EASY: f64 = 0.65;

/// Shorter races say little of easy running.
const SHORTEST_KM: f64 = 3.0;

/// Paces are offered in steps of so many seconds: they are no surer than that.
const STEP: f64 = 5.0;

/// The pace of easy running by the latest result that says something of it on a day, and that result.
///
/// # Source
///
/// The speed at a part of the capacity: Daniels and Gilbert 1979, Oxygen Power. Which part: [`EASY`].
pub fn easy_pace(results: &[PastResult], units: DistanceUnit, today: NaiveDate) -> Option<(Pace, PastResult)> {
    let says = |result: &&PastResult| {
        let km = result.distance.distance().as_km();
        result.date <= today
            && result.date + Days::new(RECENT_DAYS) >= today
            && km >= SHORTEST_KM
            && daniels_gilbert::FITTED_MINUTES.contains(&result.time.as_minutes())
    };
    let latest = results.iter().filter(says).max_by_key(|result| result.date)?;
    let km = latest.distance.distance().as_km();
    let speed = daniels_gilbert::speed_at(EASY, latest.time.as_minutes(), km);
    let metres = units.millimetres() as f64 / 1000.0;
    let seconds = (60.0 * metres / speed / STEP).round() * STEP;
    Pace::new(seconds as u16, units).ok().map(|pace| (pace, latest.clone()))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::notation::read_result;

    #[test]
    fn the_latest_race_of_some_length_says_how_easily_is_run() {
        let today = "2027-04-20".parse().expect("a day");
        let of = |lines: &[&str], units| {
            let results: Vec<PastResult> = lines.iter().map(|line| read_result(line).expect(line)).collect();
            easy_pace(&results, units, today).map(|(pace, by)| (pace.to_string(), by.time.to_string()))
        };
        let said = |pace: &str, by: &str| Some((pace.to_owned(), by.to_owned()));
        assert_eq!(of(&["2027-03-14 10k 40:00"], DistanceUnit::Km), said("5:15", "40:00"));
        assert_eq!(of(&["2027-03-14 10k 40:00"], DistanceUnit::Mi), said("8:30", "40:00"));
        assert_eq!(of(&["2027-03-14 10k 40:00", "2027-04-04 5k 38:12"], DistanceUnit::Km), said("9:55", "38:12"));
        assert_eq!(of(&["2027-03-14 10k 40:00", "2027-04-04 1 km 3:10"], DistanceUnit::Km), said("5:15", "40:00"));
        for nothing in [&[][..], &["2026-03-14 10k 40:00"], &["2027-04-21 10k 40:00"]] {
            assert_eq!(of(nothing, DistanceUnit::Km), None, "{nothing:?}");
        }
    }
}
