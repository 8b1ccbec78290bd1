//! Hard days side by side that are not so in the base week.

use super::look::{Look, holds_a_hard_session};
use super::{Figure, Finding, Level, RuleId};
use crate::block::facts::NO_LONGER_LONG;
use crate::block::{Day, Planned};
use crate::race::Event;

/// Fires for each pair of neighbouring hard days inside the block that the base week does not have, a touch of quick
/// running not counted;
/// from the marathon up a long run counts as hard while it is most of the longest.
///
/// # Source
///
/// Common practice, no published source.
pub(super) fn judge(look: &Look<'_>) -> Vec<Finding> {
    let long_counts = look.block.event >= Event::Marathon;
    let planned = |day: &Day| {
        holds_a_hard_session(day) || (long_counts && day.sessions.iter().any(|planned| is_still_long(look, planned)))
    };
    let usual =
        |day: &Day| day.usual.iter().any(|session| session.is_hard_work() || (long_counts && look.is_long(session)));
    let days: Vec<_> = look.block_days().collect();
    days.windows(2)
        .filter(|pair| pair.iter().all(|day| planned(day)) && !pair.iter().all(|day| usual(day)))
        .map(|pair| {
            Finding::new(RuleId::HardBackToBack, Level::Caution, Figure::Days(2), Figure::Days(1)).on(pair[0].date)
        })
        .collect()
}

fn is_still_long(look: &Look<'_>, planned: &Planned) -> bool {
    look.is_long(&planned.session)
        && !look.is_short(&planned.session)
        && look.km(&planned.session) > look.lengths.longest * NO_LONGER_LONG
}

#[cfg(test)]
mod tests {
    use crate::race::RaceDistance;
    use crate::review::RuleId;
    use crate::review::sample::{FIFTY_KM, SILENT, Sample, WEEK};

    fn said(sample: &Sample) -> Vec<String> {
        sample.says(RuleId::HardBackToBack)
    }

    #[test]
    fn hard_days_side_by_side_are_told_and_apart_they_are_not() {
        let half = || Sample::new(WEEK, RaceDistance::Half).with(12, "tempo 9, hard 4");
        assert_eq!(said(&half().with(11, "tempo 6, hard 2")), ["caution: 2 days for 1 days on D12"]);
        assert_eq!(said(&half().with(10, "tempo 6, hard 2")), SILENT);
    }

    #[test]
    fn a_touch_of_quick_running_beside_a_hard_day_is_none() {
        let half = || Sample::new(WEEK, RaceDistance::Half).with(12, "tempo 9, hard 4");
        assert_eq!(said(&half().with(11, "tempo 6, hard 1.2")), SILENT);
        assert_eq!(said(&half().with(11, "tempo 6, hard 1.3")), ["caution: 2 days for 1 days on D12"]);
    }

    #[test]
    fn hard_cross_training_is_a_hard_day_and_easy_cross_training_is_not() {
        let half = || Sample::new(WEEK, RaceDistance::Half).with(12, "tempo 9, hard 4");
        assert_eq!(said(&half().with(11, "cross-training 60, hard 20")), ["caution: 2 days for 1 days on D12"]);
        assert_eq!(said(&half().with(11, "cross-training 60")), SILENT);
    }

    #[test]
    fn hard_days_that_always_stand_side_by_side_may_stay() {
        let week = "- | tempo 9, hard 4 | intervals 8, hard 3 | - | easy 8 | easy 7 | long 16";
        assert_eq!(said(&Sample::new(week, RaceDistance::Half).uncut()), SILENT);
    }

    #[test]
    fn a_long_run_counts_as_hard_from_the_marathon_up() {
        let beside_the_long_run = |distance| {
            Sample::new("- | tempo 10, hard 4 | - | 10 | - | 10 | long 30", distance)
                .with(14, "long 30")
                .with(13, "tempo 8, hard 4")
                .with(12, "rest")
        };
        assert_eq!(said(&beside_the_long_run(RaceDistance::Half)), SILENT);
        assert_eq!(said(&beside_the_long_run(RaceDistance::Marathon)), ["caution: 2 days for 1 days on D14"]);
        assert_eq!(said(&beside_the_long_run(FIFTY_KM)), ["caution: 2 days for 1 days on D14"]);
    }

    #[test]
    fn a_long_run_of_three_fifths_costs_no_more_than_an_easy_run() {
        let marathon = |long| {
            Sample::new("- | tempo 10, hard 4 | - | 10 | - | 10 | long 30", RaceDistance::Marathon)
                .with(8, "tempo 8, hard 4")
                .with(7, long)
        };
        assert_eq!(said(&marathon("long 18")), SILENT);
        assert_eq!(said(&marathon("long 18.1")), ["caution: 2 days for 1 days on D8"]);
        assert_eq!(said(&marathon("long 12, hard 4")), ["caution: 2 days for 1 days on D8"]);
    }
}
