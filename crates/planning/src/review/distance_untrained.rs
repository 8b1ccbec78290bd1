//! The longest usual run is short for the race.

use super::look::Look;
use super::{Figure, Finding, Level, RuleId};
use crate::race::Event;
use crate::units::{Amount, Unit, middle_km};
use crate::week::{SevenDays, WEEKDAYS};

/// The longest run should be at least this part of the race, up to the half marathon.
const LEAST_PART: f64 = 0.60;
/// The same before a marathon.
const LEAST_PART_MARATHON: f64 = 0.45;
/// Or this long, where only time is known, in minutes.
const LEAST_MINUTES_MARATHON: f64 = 120.0;
/// Beyond the marathon the longest run should be at least this, in kilometres.
const LEAST_KM_LONGER: f64 = 30.0;
/// And two days together at least this part of the race.
const LEAST_TWO_DAYS_LONGER: f64 = 0.40;

/// Fires when the longest run of the base week is short for the race. Where the week is in minutes and
/// no pace is known, only the marathon's two hours can be judged.
///
/// # Source
///
/// Common practice, no published source.
pub(super) fn judge(look: &Look<'_>) -> Vec<Finding> {
    let race_km = look.block.race.distance.distance().as_km();
    let longest = look
        .subject
        .week
        .sessions()
        .filter_map(|(_, session)| session.running())
        .max_by(|a, b| middle_km(*a, look.pace).total_cmp(&middle_km(*b, look.pace)));
    let Some(longest) = longest else { return Vec::new() };
    let timed = longest.unit() == Unit::Min && look.subject.athlete.easy_pace.is_none();
    match look.block.event {
        Event::Marathon if timed => short(longest, longest.middle().as_f64(), LEAST_MINUTES_MARATHON, Unit::Min),
        _ if timed => Vec::new(),
        Event::Marathon => {
            let enough_time = longest.unit() == Unit::Min && longest.middle().as_f64() >= LEAST_MINUTES_MARATHON;
            if enough_time { Vec::new() } else { in_km(look, longest, race_km * LEAST_PART_MARATHON) }
        }
        Event::Longer => {
            let found = in_km(look, longest, LEAST_KM_LONGER);
            if found.is_empty() { two_days(look, race_km * LEAST_TWO_DAYS_LONGER) } else { found }
        }
        Event::FiveK | Event::TenK | Event::Half => in_km(look, longest, race_km * LEAST_PART),
    }
}

fn in_km(look: &Look<'_>, longest: Amount, least: f64) -> Vec<Finding> {
    short(longest, middle_km(longest, look.pace), least, Unit::Km)
}

fn short(longest: Amount, value: f64, least: f64, unit: Unit) -> Vec<Finding> {
    // Compared at the upper end of a range: the athlete does run that far.
    let value = value * longest.high().as_f64() / longest.middle().as_f64().max(0.001);
    if value + 0.05 >= least {
        return Vec::new();
    }
    vec![Finding::new(
        RuleId::DistanceUntrained,
        Level::Caution,
        Figure::Amount(value, unit),
        Figure::Amount(least, unit),
    )]
}

fn two_days(look: &Look<'_>, least: f64) -> Vec<Finding> {
    let on = |week: &SevenDays, weekday| -> f64 {
        let runs = week.day(weekday).iter().filter_map(|slot| slot.chosen().running());
        runs.map(|amount| middle_km(amount, look.pace)).sum()
    };
    let days: Vec<f64> = look.subject.week.weeks().flat_map(|week| WEEKDAYS.map(|weekday| on(week, weekday))).collect();
    let next = days.iter().cycle().skip(1);
    let most = days.iter().zip(next).map(|(day, next)| day + next).fold(0.0, f64::max);
    if most >= least {
        return Vec::new();
    }
    vec![Finding::new(
        RuleId::DistanceUntrained,
        Level::Caution,
        Figure::Amount(most, Unit::Km),
        Figure::Amount(least, Unit::Km),
    )]
}

#[cfg(test)]
mod tests {
    use crate::athlete::Athlete;
    use crate::race::RaceDistance;
    use crate::review::RuleId;
    use crate::review::sample::{FIFTY_KM, SILENT, Sample};
    use crate::units::{DistanceUnit, Milli, Pace};

    const HUNDRED_KM: RaceDistance = RaceDistance::Own(Milli::whole(100), DistanceUnit::Km);

    fn said(week: &str, distance: RaceDistance) -> Vec<String> {
        Sample::new(week, distance).says(RuleId::DistanceUntrained)
    }

    fn longest(run: &str, distance: RaceDistance) -> Vec<String> {
        said(&format!("2 | 2 | - | 2 | - | 2 | {run}"), distance)
    }

    #[test]
    fn up_to_the_half_marathon_three_fifths_of_the_race_are_trained_for() {
        assert_eq!(longest("2.9", RaceDistance::FiveK), ["caution: 2.90 km for 3.00 km"]);
        assert_eq!(longest("3", RaceDistance::FiveK), SILENT);
        assert_eq!(longest("5.9", RaceDistance::TenK), ["caution: 5.90 km for 6.00 km"]);
        assert_eq!(longest("6", RaceDistance::TenK), SILENT);
        assert_eq!(longest("12.6", RaceDistance::Half), ["caution: 12.60 km for 12.66 km"]);
        assert_eq!(longest("12.7", RaceDistance::Half), SILENT);
    }

    #[test]
    fn a_marathon_needs_45_per_cent_or_two_hours() {
        assert_eq!(longest("18.9", RaceDistance::Marathon), ["caution: 18.90 km for 18.99 km"]);
        assert_eq!(longest("19", RaceDistance::Marathon), SILENT);
        assert_eq!(longest("119 min", RaceDistance::Marathon), ["caution: 119.00 min for 120.00 min"]);
        assert_eq!(longest("120 min", RaceDistance::Marathon), SILENT);
    }

    #[test]
    fn minutes_at_a_known_pace_are_a_distance_too() {
        let at = |seconds: u16, run: &str| {
            let easy_pace = Some(Pace::new(seconds, DistanceUnit::Km).unwrap());
            let athlete = Athlete { name: "A".into(), easy_pace, ..Athlete::default() };
            Sample::of(athlete, &format!("2 | 2 | - | 2 | - | 2 | {run}"), RaceDistance::Marathon)
                .says(RuleId::DistanceUntrained)
        };
        assert_eq!(at(300, "95 min"), SILENT);
        assert_eq!(at(300, "94 min"), ["caution: 18.80 km for 18.99 km"]);
        assert_eq!(at(480, "120 min"), SILENT);
        assert_eq!(at(480, "119 min"), ["caution: 14.88 km for 18.99 km"]);
    }

    #[test]
    fn minutes_alone_say_nothing_about_other_races() {
        for distance in [RaceDistance::FiveK, RaceDistance::TenK, RaceDistance::Half, FIFTY_KM] {
            assert_eq!(longest("30 min", distance), SILENT);
        }
    }

    #[test]
    fn beyond_the_marathon_30_km_or_two_long_days_are_needed() {
        assert_eq!(longest("29.9", FIFTY_KM), ["caution: 29.90 km for 30.00 km"]);
        assert_eq!(longest("30", FIFTY_KM), SILENT);
        assert_eq!(said("- | 8 | - | 8 | - | 9.9 | 30", HUNDRED_KM), ["caution: 39.90 km for 40.00 km"]);
        assert_eq!(said("- | 8 | - | 8 | - | 10 | 30", HUNDRED_KM), SILENT);
        // Sunday and Monday stand together too.
        assert_eq!(said("10 | 8 | - | 8 | - | - | 30", HUNDRED_KM), SILENT);
    }

    #[test]
    fn a_range_counts_by_its_upper_end() {
        assert_eq!(longest("11-13", RaceDistance::Half), SILENT);
        assert_eq!(longest("10-12", RaceDistance::Half), ["caution: 12.00 km for 12.66 km"]);
    }
}
