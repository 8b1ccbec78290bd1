//! Too few running days.

use super::look::Look;
use super::{About, Figure, Finding, Level, RuleId};
use crate::block::WeekSummary;

/// Outside race week at least this part of the usual running days stays.
///
/// # Source
///
/// Cut frequency by no more than 20 %: Mujika and Padilla 2003, PubMed 12840640.
const LEAST: f64 = 0.80;

/// Rest days more than usual that race week may have, the race counted as a run.
///
/// # Source
///
/// Common practice, no published source.
const MORE_REST: usize = 1;

/// Fires when a week before race week keeps less than 80 % of its running days, and when race week
/// has more than one rest day more than usual. A run that the coach left to the athlete is not counted where it is lost.
pub(super) fn judge(look: &Look<'_>) -> Vec<Finding> {
    look.weeks
        .iter()
        .filter_map(|week| {
            let usual = week.usual_run_days - optional_lost(look, week);
            let limit =
                if week.before == 0 { usual.saturating_sub(MORE_REST) } else { (usual as f64 * LEAST).ceil() as usize };
            let runs = week.run_days + usize::from(week.before == 0);
            let count = |days: usize| Figure::Count(u16::try_from(days).unwrap_or(u16::MAX));
            let about = if week.before == 0 { About::RaceWeek } else { About::Nothing };
            let finding = || Finding::new(RuleId::FrequencyLost, Level::Caution, count(runs), count(limit));
            (runs < limit).then(|| finding().on(week.from).about(about))
        })
        .collect()
}

/// How many days of a week hold nothing but an optional run as a rule, and none now.
fn optional_lost(look: &Look<'_>, week: &WeekSummary) -> usize {
    let days = look.block.days.iter().filter(|day| (week.from..=week.to).contains(&day.date) && day.is_rest());
    days.filter(|day| day.is_usually_optional()).count()
}

#[cfg(test)]
mod tests {
    use crate::race::RaceDistance;
    use crate::review::RuleId;
    use crate::review::sample::{SILENT, Sample, WEEK};

    /// Five runs a week.
    const FIVE: &str = "easy 7 | tempo 9, hard 4 | - | easy 8 | - | easy 7 | long 16";

    fn said(sample: &Sample) -> Vec<String> {
        sample.says(RuleId::FrequencyLost)
    }

    #[test]
    fn a_full_week_keeps_four_fifths_of_its_running_days() {
        let half = || Sample::new(FIVE, RaceDistance::Half);
        assert_eq!(said(&half().resting([10])), SILENT);
        assert_eq!(said(&half().resting([10, 12])), ["caution: 3 for 4 on D13"]);
        // Three of four are 75 %.
        assert_eq!(said(&Sample::new(WEEK, RaceDistance::Half).resting([10])), ["caution: 3 for 4 on D13"]);
    }

    #[test]
    fn race_week_rests_one_day_more_the_race_counted_as_a_run() {
        let half = || Sample::new(FIVE, RaceDistance::Half).uncut();
        assert_eq!(said(&half()), SILENT);
        assert_eq!(said(&half().resting([1])), SILENT);
        assert_eq!(said(&half().resting([1, 3])), ["caution: 3 for 4 on D6"]);
    }

    #[test]
    fn an_optional_run_is_not_missed() {
        let week = "easy 7 (or off) | tempo 9, hard 4 | - | easy 8 | - | easy 7 (if time) | long 16";
        let half = || Sample::new(week, RaceDistance::Half).uncut();
        assert_eq!(said(&half().resting([13, 8])), SILENT);
        assert_eq!(said(&half().resting([13, 10])), ["caution: 3 for 4 on D13"]);
        assert_eq!(said(&half().resting([6, 1])), SILENT);
        assert_eq!(said(&half().resting([6, 1, 3])), SILENT);
        assert_eq!(said(&half().resting([6, 1, 3, 5])), ["caution: 1 for 2 on D6"]);
    }

    #[test]
    fn a_race_on_a_usual_rest_day_is_a_run_more() {
        let half =
            || Sample::new("easy 7 | tempo 9, hard 4 | - | easy 8 | - | long 16 | -", RaceDistance::Half).uncut();
        assert_eq!(said(&half().resting([1, 3])), SILENT);
        assert_eq!(said(&half().resting([1, 3, 6])), ["caution: 2 for 3 on D6"]);
    }
}
