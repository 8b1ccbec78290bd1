//! Hard running disappears.

use super::look::{Look, is_hard};
use super::{Figure, Finding, Level, RuleId};
use crate::block::WeekSummary;
use crate::race::Event;
use crate::units::Share;

/// In a full week at least this part of the usual hard running stays.
///
/// # Source
///
/// Common practice, no published source. That intensity is kept is published: Bosquet and others
/// 2007, doi 10.1249/mss.0b013e31806010e0; Mujika and Padilla 2003, PubMed 12840640.
const LEAST: Share = Share(0.70);

/// Fires (note) when a full week before race week holds less than 70 % of the usual hard running and less than the
/// planner's own rules leave this athlete, and (caution) when the base week has hard running and D6 to D3 hold none.
/// Beyond the marathon that is as the rules say.
pub(super) fn judge(look: &Look<'_>) -> Vec<Finding> {
    if !look.usually_hard() {
        return Vec::new();
    }
    let mut found: Vec<Finding> = look
        .weeks
        .iter()
        .filter(|week| week.before > 0 && week.hard_share < LEAST && loses_more_than_the_rules(look, week))
        .map(|week| {
            Finding::new(RuleId::IntensityLost, Level::Note, Figure::Share(week.hard_share), Figure::Share(LEAST))
                .on(week.from)
        })
        .collect();
    let key = look.block.days.iter().any(|day| (3..=6).contains(&day.to_race) && is_hard(day));
    let runs = look
        .block
        .days
        .iter()
        .any(|day| (3..=6).contains(&day.to_race) && !day.usual_running().is_empty() && !day.is_usually_optional());
    if !key && runs && look.block.event != Event::Longer {
        found.push(Finding::new(RuleId::IntensityLost, Level::Caution, Figure::Count(0), Figure::Count(1)));
    }
    found
}

/// Whether a week holds less hard running than it does in the block that the rules give: two hard sessions at most and a
/// long run without its hard part may be less than 70 % of a week with many.
fn loses_more_than_the_rules(look: &Look<'_>, week: &WeekSummary) -> bool {
    let Some(block) = look.by_the_rules() else { return true };
    let same = block.weeks().into_iter().find(|ruled| ruled.before == week.before);
    same.is_none_or(|ruled| week.hard_share.0 < ruled.hard_share.0 - ROUNDING)
}

/// Shares closer than this are the same.
const ROUNDING: f64 = 1e-9;

#[cfg(test)]
mod tests {
    use crate::race::RaceDistance;
    use crate::review::RuleId;
    use crate::review::sample::{FIFTY_KM, SILENT, Sample, WEEK};

    fn said(sample: &Sample) -> Vec<String> {
        sample.says(RuleId::IntensityLost)
    }

    fn half() -> Sample {
        Sample::new(WEEK, RaceDistance::Half)
    }

    #[test]
    fn seventy_per_cent_of_the_hard_running_of_a_full_week_are_enough() {
        assert_eq!(said(&half().with(12, "tempo 9, hard 2.8")), SILENT);
        assert_eq!(said(&half().with(12, "tempo 9, hard 2.7")), ["note: 67.5 % for 70.0 % on D13"]);
    }

    #[test]
    fn what_the_rules_themselves_take_off_is_not_held_against_the_block() {
        // Three hard sessions and a hard part of the long run: two stay.
        let week = "8 | tempo 10, hard 5 | 8 | intervals 10, hard 4 | - | fartlek 10, hard 4 | long 28, hard 8";
        let marathon = || Sample::new(week, RaceDistance::Marathon);
        let shares = marathon().block.weeks();
        assert!(shares.iter().any(|week| week.before > 0 && week.hard_share.0 < 0.70), "{shares:?}");
        assert_eq!(said(&marathon()), SILENT);
        assert!(!said(&marathon().with(12, "easy 6")).is_empty());
    }

    #[test]
    fn from_d6_to_d3_there_is_hard_running() {
        assert_eq!(said(&half()), SILENT);
        assert_eq!(said(&half().with(5, "easy 5")), ["caution: 0 for 1"]);
        assert_eq!(said(&half().with(5, "easy 5").with(6, "tempo 5, hard 1")), SILENT);
        assert_eq!(said(&half().with(5, "easy 5").with(3, "tempo 5, hard 1")), SILENT);
        assert_eq!(said(&half().with(5, "easy 5").with(2, "tempo 5, hard 1")), ["caution: 0 for 1"]);
    }

    #[test]
    fn beyond_the_marathon_none_is_needed_in_race_week() {
        let sample = Sample::new(WEEK, FIFTY_KM).with(12, "tempo 7, hard 3").with(5, "easy 5");
        assert_eq!(said(&sample), SILENT);
    }

    #[test]
    fn where_nothing_is_run_on_those_days_none_is_missed() {
        let sample = Sample::new("- | - | - | - | easy 10 | tempo 8, hard 3 | long 16", RaceDistance::Half);
        assert_eq!(said(&sample.with(8, "tempo 8, hard 3")), SILENT);
    }

    #[test]
    fn touches_of_quick_running_are_not_missed() {
        let week = |line: &str| format!("- | {line} | - | easy 8 | - | easy 7 | long 16");
        let eased = |line: &str| Sample::new(&week(line), RaceDistance::Half).with(12, "easy 6").with(5, "easy 5");
        assert_eq!(said(&eased("5 km with 5 x 1 min brisk")), SILENT);
        assert_eq!(said(&eased("5 km with 6 x 1 min brisk")), ["caution: 0 for 1", "note: 0.0 % for 70.0 % on D13"]);
    }

    #[test]
    fn a_week_without_hard_running_or_with_a_time_trial_alone_loses_nothing() {
        let easy = "- | easy 9 | - | easy 8 | - | easy 7 | long 16";
        assert_eq!(said(&Sample::new(easy, RaceDistance::Half)), SILENT);
        let trial = "- | easy 9 | - | easy 8 | - | time trial 7, hard 5 | long 16";
        assert_eq!(said(&Sample::new(trial, RaceDistance::Half)), SILENT);
    }
}
