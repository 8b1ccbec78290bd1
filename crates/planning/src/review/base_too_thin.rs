//! There is little to taper from.

use super::look::Look;
use super::{Figure, Finding, Level, RuleId};
use crate::units::{Unit, is_below_km};

/// Fewer running days a week than this is thin.
const LEAST_RUNS: usize = 3;
/// Less than this a week is thin: 20 km, or 2 hours where only time is known (then they are the same).
const LEAST_KM: f64 = 20.0;

/// Less than this many days of it, when the block begins, is thin.
const LEAST_DAYS: i64 = 28;

/// Whether a week holds so little that the bands of weeks say nothing about it.
pub(super) fn is_thin(look: &Look<'_>) -> bool {
    little(look).is_some()
}

/// Fires when the base week has running on fewer than three days or less than 20 km (2 hours), and when
/// the block begins less than four weeks after the day since when the athlete runs like this.
///
/// # Source
///
/// Common practice, no published source: a shorter, shallower block is enough then.
pub(super) fn judge(look: &Look<'_>) -> Vec<Finding> {
    little(look).into_iter().chain(new(look)).collect()
}

fn new(look: &Look<'_>) -> Option<Finding> {
    let since = look.subject.week.since()?;
    let days = (look.block.first_day() - since).num_days();
    let figure = |days: i64| Figure::Days(u16::try_from(days.max(0)).unwrap_or(u16::MAX));
    let finding = || Finding::new(RuleId::BaseTooThin, Level::Caution, figure(days), figure(LEAST_DAYS));
    (days < LEAST_DAYS).then(|| finding().on(since))
}

fn little(look: &Look<'_>) -> Option<Finding> {
    let week = look.subject.week;
    let runs = week.running_days();
    let km = week.middle_km(look.subject.athlete.easy_pace);
    if runs < LEAST_RUNS {
        let count = |runs: usize| Figure::Count(u16::try_from(runs).unwrap_or(u16::MAX));
        return Some(Finding::new(RuleId::BaseTooThin, Level::Caution, count(runs), count(LEAST_RUNS)));
    }
    if is_below_km(km, LEAST_KM) {
        let (figure, limit) = if week.is_timed() && look.subject.athlete.easy_pace.is_none() {
            let minutes = week.running().of(Unit::Min).middle().as_f64();
            (Figure::Amount(minutes, Unit::Min), Figure::Amount(120.0, Unit::Min))
        } else {
            (Figure::Amount(km, Unit::Km), Figure::Amount(LEAST_KM, Unit::Km))
        };
        return Some(Finding::new(RuleId::BaseTooThin, Level::Caution, figure, limit));
    }
    None
}

#[cfg(test)]
mod tests {
    use crate::athlete::Athlete;
    use crate::race::RaceDistance;
    use crate::review::RuleId;
    use crate::review::sample::{SILENT, Sample};
    use crate::units::{DistanceUnit, Pace};

    fn said(week: &str) -> Vec<String> {
        Sample::new(week, RaceDistance::FiveK).says(RuleId::BaseTooThin)
    }

    fn said_at(seconds: u16, week: &str) -> Vec<String> {
        let easy_pace = Some(Pace::new(seconds, DistanceUnit::Km).unwrap());
        let athlete = Athlete { name: "A".into(), easy_pace, ..Athlete::default() };
        Sample::of(athlete, week, RaceDistance::FiveK).says(RuleId::BaseTooThin)
    }

    #[test]
    fn two_running_days_are_thin_and_three_are_not() {
        assert_eq!(said("15 | - | 15 | - | - | - | -"), ["caution: 2 for 3"]);
        assert_eq!(said("8 + 8 | - | 15 | - | - | - | -"), ["caution: 2 for 3"]);
        assert_eq!(said("10 | - | 10 | - | 10 | - | -"), SILENT);
    }

    #[test]
    fn less_than_20_km_is_thin() {
        assert_eq!(said("6 | - | 6 | - | 7.9 | - | -"), ["caution: 19.90 km for 20.00 km"]);
        assert_eq!(said("6 | - | 6 | - | 8 | - | -"), SILENT);
        assert_eq!(said("4 mi | - | 4 mi | - | 4.4 mi | - | -"), ["caution: 19.96 km for 20.00 km"]);
        assert_eq!(said("4 mi | - | 4 mi | - | 4.43 mi | - | -"), SILENT);
    }

    #[test]
    fn less_than_two_hours_is_thin_where_only_time_is_known() {
        assert_eq!(said("40 min | - | 40 min | - | 39 min | - | -"), ["caution: 119.00 min for 120.00 min"]);
        assert_eq!(said("40 min | - | 40 min | - | 40 min | - | -"), SILENT);
    }

    #[test]
    fn where_the_pace_is_known_time_is_weighed_as_distance() {
        assert_eq!(said_at(300, "35 min | - | 35 min | - | 35 min | - | -"), SILENT);
        assert_eq!(said_at(480, "45 min | - | 45 min | - | 45 min | - | -"), ["caution: 16.88 km for 20.00 km"]);
    }

    #[test]
    fn less_than_four_weeks_of_it_is_thin() {
        // The block of a 5 km race on 9 May 2027 begins on 2 May.
        let said = |since: &str| {
            let mut sample = Sample::new("10 | - | 10 | - | 10 | - | -", RaceDistance::FiveK);
            sample.week = sample.week.run_since(Some(since.parse().unwrap()));
            sample.says(RuleId::BaseTooThin)
        };
        assert_eq!(said("2027-04-04"), SILENT);
        assert_eq!(said("2027-04-05"), ["caution: 27 days for 28 days on D34"]);
        assert_eq!(said("2027-05-02"), ["caution: 0 days for 28 days on D7"]);
        assert_eq!(said("2027-05-08"), ["caution: 0 days for 28 days on D1"]);
    }

    #[test]
    fn a_new_week_that_is_little_too_is_told_both() {
        let mut sample = Sample::new("15 | - | 15 | - | - | - | -", RaceDistance::FiveK);
        sample.week = sample.week.run_since("2027-04-20".parse().ok());
        assert_eq!(sample.says(RuleId::BaseTooThin), ["caution: 2 for 3", "caution: 12 days for 28 days on D19"]);
    }
}
