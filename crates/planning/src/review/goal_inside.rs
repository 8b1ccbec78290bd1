//! A goal race that lies among the days of a block that leads to another one.

use super::look::Look;
use super::{About, Figure, Finding, Level, RuleId};
use crate::race::{Importance, Race};

/// Fires for each other goal race on a day of the block before its own race: the days up to it stand in the block for
/// that race, too, and the athlete would hold two plans for them. A block begins after the goal race before it by
/// itself, so this one was made before that race was known, or as long as it is by the coach's word.
///
/// # Source
///
/// Common practice, no published source: one plan for a day.
pub(super) fn judge(look: &Look<'_>) -> Vec<Finding> {
    look.subject.other_races.iter().filter(|other| is_inside(look, other)).map(|other| finding(look, other)).collect()
}

fn is_inside(look: &Look<'_>, other: &Race) -> bool {
    other.importance == Importance::Goal && look.block.has_inside(other.date)
}

fn finding(look: &Look<'_>, other: &Race) -> Finding {
    let days = (other.date - look.block.first_day()).num_days() + 1;
    let twice = Figure::Days(u16::try_from(days).unwrap_or(u16::MAX));
    Finding::new(RuleId::GoalInside, Level::Stop, twice, Figure::None)
        .on(other.date)
        .about(About::Race(other.name.clone()))
}

#[cfg(test)]
mod tests {
    use crate::race::{Importance, RaceDistance};
    use crate::review::sample::{SILENT, Sample, WEEK};
    use crate::review::{RuleId, stops};

    /// Another race so many days before a half marathon with a block of 14 days that was made without it.
    fn said(days_before: i64, importance: Importance) -> Vec<String> {
        Sample::new(WEEK, RaceDistance::Half)
            .other(days_before, RaceDistance::TenK, importance)
            .says(RuleId::GoalInside)
    }

    #[test]
    fn a_goal_race_on_a_day_of_the_block_stops_it() {
        assert_eq!(said(14, Importance::Goal), ["stop: 1 days for nothing on D14 (Goal race)"]);
        assert_eq!(said(7, Importance::Goal), ["stop: 8 days for nothing on D7 (Goal race)"]);
        assert_eq!(said(1, Importance::Goal), ["stop: 14 days for nothing on D1 (Goal race)"]);
    }

    #[test]
    fn it_is_said_by_who_asks_for_stops_alone() {
        let sample = Sample::new(WEEK, RaceDistance::Half).other(7, RaceDistance::TenK, Importance::Goal);
        let stopped: Vec<RuleId> = stops(&sample.subject()).iter().map(|finding| finding.rule).collect();
        assert_eq!(stopped, [RuleId::GoalInside]);
    }

    #[test]
    fn one_before_or_after_the_block_does_not() {
        for days in [15, 0, -1] {
            assert_eq!(said(days, Importance::Goal), SILENT, "{days}");
        }
    }

    #[test]
    fn a_race_that_has_its_place_in_the_block_does_not() {
        for importance in [Importance::TuneUp, Importance::TrainingThrough] {
            assert_eq!(said(7, importance), SILENT, "{importance:?}");
        }
    }
}
