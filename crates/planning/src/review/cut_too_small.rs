//! A week stays too full before the race.

use super::band::{TOLERANCE, fixed, judged};
use super::look::Look;
use super::{Finding, RuleId};

/// Fires for race week and the two weeks before it when a week lies more than 5 points above its band.
/// Fires (note) where fixed days leave a week more than 5 points above what its curve would.
///
/// # Source
///
/// The bands: common practice, no published source. That a cut of 20 % or less brings nothing and
/// 41-60 % does well: Bosquet and others 2007, doi 10.1249/mss.0b013e31806010e0.
pub(super) fn judge(look: &Look<'_>) -> Vec<Finding> {
    let mut found: Vec<Finding> = judged(look)
        .iter()
        .filter(|week| week.is_too_full())
        .map(|week| week.finding(RuleId::CutTooSmall, week.band.high))
        .collect();
    let more = fixed(look).into_iter().filter(|week| week.share.0 > week.curve.0 + TOLERANCE);
    for finding in more.map(|week| week.finding(RuleId::CutTooSmall)) {
        if found.iter().all(|other| other.date != finding.date) {
            found.push(finding);
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use crate::athlete::Athlete;
    use crate::race::RaceDistance;
    use crate::review::RuleId;
    use crate::review::sample::{SILENT, Sample, WEEK};

    fn said(sample: &Sample) -> Vec<String> {
        sample.says(RuleId::CutTooSmall)
    }

    fn half() -> Sample {
        Sample::new(WEEK, RaceDistance::Half)
    }

    #[test]
    fn the_default_block_is_cut_enough() {
        for distance in RaceDistance::STANDARD {
            assert_eq!(said(&Sample::new(WEEK, distance)), SILENT, "{distance:?}");
        }
    }

    #[test]
    fn race_week_may_be_five_points_above_its_band() {
        // Before a half marathon 26 to 45 % of 40 km: 20 km are 50 %.
        let race_week = |saturday: &str| half().with(5, "tempo 9, hard 2").with(3, "easy 5").with(1, saturday);
        assert_eq!(said(&race_week("easy 6")), SILENT);
        assert_eq!(said(&race_week("easy 6.5")), ["caution: 51.2 % for 45.0 % on D6"]);
    }

    #[test]
    fn so_may_the_week_before() {
        // 76 to 88 % of 40 km: 37.2 km are 93 %.
        let week_before =
            |saturday: &str| half().with(12, "tempo 9, hard 4").with(10, "easy 8").with(8, saturday).with(7, "long 13");
        assert_eq!(said(&week_before("easy 7")), SILENT);
        assert_eq!(said(&week_before("easy 7.4")), ["caution: 93.5 % for 88.0 % on D13"]);
    }

    #[test]
    fn a_long_slot_inside_race_week_allows_twelve_points_more() {
        // The race's weekday holds 7 of 40 km, counted as a quarter: 27 of the other 33 km are 61 %.
        let long_on_saturday = "rest | tempo 9, hard 4 | rest | easy 8 | rest | long 16 | easy 7";
        let race_week = |saturday: &str| {
            Sample::new(long_on_saturday, RaceDistance::Half)
                .with(5, "tempo 9, hard 2")
                .with(3, "easy 8")
                .with(1, saturday)
        };
        assert_eq!(said(&race_week("easy 10")), SILENT);
        assert_eq!(said(&race_week("easy 11")), ["caution: 63.6 % for 57.0 % on D6"]);
    }

    #[test]
    fn full_weeks_that_stay_whole_are_told_each() {
        assert_eq!(said(&half().uncut()), ["caution: 60.0 % for 45.0 % on D6", "caution: 100.0 % for 88.0 % on D13"]);
        let marathon = "rest | tempo 9, hard 4 | rest | easy 8 | rest | easy 7 | long 16";
        assert_eq!(
            said(&Sample::new(marathon, RaceDistance::Marathon).uncut()),
            ["caution: 60.0 % for 45.0 % on D6", "caution: 100.0 % for 75.0 % on D13"]
        );
    }

    #[test]
    fn the_week_before_a_short_block_is_judged_too() {
        let short = || Sample::long(WEEK, RaceDistance::Half, 5);
        assert_eq!(said(&short()), SILENT);
        assert_eq!(said(&short().with(7, "long 16")), ["caution: 100.0 % for 88.0 % on D13"]);
    }

    #[test]
    fn a_thin_base_and_little_running_before_a_marathon_have_other_rules() {
        let thin = "rest | easy 6 | rest | easy 6 | rest | rest | easy 7";
        assert_eq!(said(&Sample::new(thin, RaceDistance::FiveK).uncut()), SILENT);
        let little = "rest | easy 6 | rest | easy 6 | rest | rest | long 17";
        assert_eq!(said(&Sample::new(little, RaceDistance::Marathon).uncut()), SILENT);
    }

    #[test]
    fn the_band_reaches_as_far_as_the_planners_own_rules() {
        // A floor of 65 % for under-18s leaves the week before whole.
        let youth = Athlete { name: "A".into(), birth_year: Some(2027 - 16), ..Athlete::default() };
        let sample = Sample::of(youth, "8 | tempo 8, hard 4 | 8 | 8 | - | 8 | -", RaceDistance::Half);
        assert!(sample.block.weeks()[0].share.0 > 0.88 + 0.05, "{:?}", sample.block.weeks()[0]);
        assert_eq!(said(&sample), SILENT);
        assert_eq!(said(&sample.uncut()), ["caution: 75.0 % for 45.0 % on D6"]);
    }

    #[test]
    fn fixed_days_that_leave_more_than_the_curve_are_worth_a_note() {
        // The rules leave 32 % of 40 km; 18 km on a usual rest day cannot be made up for.
        let pinned = |to_race: u16, line: &str| half().pinned(&[(to_race, line)]);
        assert_eq!(said(&pinned(5, "tempo 5, hard 2")), SILENT);
        assert_eq!(said(&pinned(4, "easy 8")), ["note: 50.0 % for 32.5 % on D6"]);
        assert_eq!(said(&pinned(4, "easy 18")), ["caution: 75.0 % for 45.0 % on D6"]);
    }
}
