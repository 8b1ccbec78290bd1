//! Too much is taken away.

use super::band::{TOLERANCE, fixed, judged};
use super::look::Look;
use super::{Figure, Finding, Level, RuleId};
use crate::units::Share;
use crate::week::{BaseWeek, WEEKDAYS};

/// More than this cut over the whole block is too much.
///
/// # Source
///
/// Cuts above 60 % did less than 41-60 % (Bosquet and others 2007); the limit is common practice.
const MOST_CUT: Share = Share(0.70);

/// Days in a row without running that need no word, whatever the base week.
const LEAST_GAP: u16 = 3;

/// Fires when a week lies more than 5 points below its band, when too many days in a row are without
/// running, and when the whole block, if it is of a week or more, is cut by more than 70 %.
/// Fires (note) where fixed days leave a week more than 5 points below what its curve would.
pub(super) fn judge(look: &Look<'_>) -> Vec<Finding> {
    let mut found: Vec<Finding> = judged(look)
        .iter()
        .filter(|week| week.is_too_empty())
        .map(|week| week.finding(RuleId::CutTooLarge, week.band.low))
        .collect();
    let less = fixed(look).into_iter().filter(|week| week.share.0 < week.curve.0 - TOLERANCE);
    for finding in less.map(|week| week.finding(RuleId::CutTooLarge)) {
        if found.iter().all(|other| other.date != finding.date) {
            found.push(finding);
        }
    }
    let most = (longest_gap(look.subject.week) + 1).max(LEAST_GAP);
    let gap = longest_planned_gap(look);
    if gap > most {
        found.push(Finding::new(RuleId::CutTooLarge, Level::Caution, Figure::Days(gap), Figure::Days(most)));
    }
    let whole = look.block.cut();
    let cut = whole.share;
    if whole.is_of_a_week()
        && cut > MOST_CUT
        && !super::base_too_thin::is_thin(look)
        && cuts_more_than_the_rules(look, cut)
    {
        found.push(Finding::new(RuleId::CutTooLarge, Level::Caution, Figure::Share(cut), Figure::Share(MOST_CUT)));
    }
    found
}

/// A block of race week alone, before a race that takes the place of a long run, is cut by more than
/// that if left to the rules: then only a still deeper one is worth a word.
fn cuts_more_than_the_rules(look: &Look<'_>, cut: Share) -> bool {
    look.by_the_rules().is_none_or(|block| cut > block.cut().share)
}

/// The longest run of days without running, over the week's end too, and from one week to the other
/// where two take turns.
fn longest_gap(week: &BaseWeek) -> u16 {
    let mut longest = 0;
    let mut now = 0;
    for week in week.weeks().chain(week.weeks()) {
        for weekday in WEEKDAYS {
            now = if week.runs_on(weekday) { 0 } else { now + 1 };
            longest = longest.max(now);
        }
    }
    longest.min(7)
}

fn longest_planned_gap(look: &Look<'_>) -> u16 {
    let mut longest = 0;
    let mut now = 0;
    for day in look.block_days() {
        now = if day.is_rest() { now + 1 } else { 0 };
        longest = longest.max(now);
    }
    longest
}

#[cfg(test)]
mod tests {
    use crate::race::RaceDistance;
    use crate::review::RuleId;
    use crate::review::sample::{SILENT, Sample, WEEK};

    fn said(sample: &Sample) -> Vec<String> {
        sample.says(RuleId::CutTooLarge)
    }

    fn half() -> Sample {
        Sample::new(WEEK, RaceDistance::Half)
    }

    #[test]
    fn what_a_few_days_take_away_is_not_held_against_trials() {
        let whole_block = |days| {
            let sample = Sample::long(WEEK, RaceDistance::Half, days).with(2, "rest").with(1, "rest");
            said(&sample).iter().any(|finding| finding.ends_with("for 70.0 %"))
        };
        assert!(!whole_block(6));
        assert!(whole_block(7));
    }

    #[test]
    fn race_week_may_be_five_points_below_its_band() {
        // Before a half marathon 26 to 45 % of 40 km: 8.4 km are 21 %.
        let race_week = |saturday: &str| half().with(5, "tempo 4, hard 2").with(3, "easy 2").with(1, saturday);
        assert_eq!(said(&race_week("easy 2.5")), SILENT);
        assert_eq!(said(&race_week("easy 2")), ["caution: 20.0 % for 26.0 % on D6"]);
    }

    #[test]
    fn so_may_the_week_before() {
        // 76 to 88 % of 40 km: 28.4 km are 71 %.
        let week_before =
            |saturday: &str| half().with(12, "tempo 8, hard 4").with(10, "easy 6").with(8, saturday).with(7, "long 10");
        assert_eq!(said(&week_before("easy 4.5")), SILENT);
        assert_eq!(said(&week_before("easy 4.2")), ["caution: 70.5 % for 76.0 % on D13"]);
    }

    #[test]
    fn three_days_without_running_pass_and_four_do_not() {
        // Wednesday and Friday are rest anyway.
        assert_eq!(said(&half().resting([10]).with(8, "easy 7").with(7, "long 14")), SILENT);
        let four = half().resting([10, 8]).with(7, "long 16").with(12, "tempo 14, hard 4");
        assert_eq!(said(&four), ["caution: 4 days for 3 days"]);
    }

    #[test]
    fn a_base_week_with_long_gaps_may_have_one_day_more() {
        // Wednesday to Friday are rest anyway.
        let half = || Sample::new("easy 5 | tempo 9, hard 4 | - | - | - | easy 10 | long 16", RaceDistance::Half);
        let gap = |sample: &Sample| said(sample).into_iter().find(|said| said.contains("days"));
        assert_eq!(gap(&half().resting([8])), None);
        assert_eq!(gap(&half().resting([12, 8])).as_deref(), Some("caution: 5 days for 4 days"));
    }

    #[test]
    fn more_than_70_per_cent_of_the_whole_block_is_too_much() {
        // Fourteen days of 80 km in all: 24 km are 30 %.
        let whole = |tuesday: &str| {
            let sample = half().resting([10, 8, 3, 1]).with(12, tuesday).with(7, "long 10").with(5, "tempo 5, hard 2");
            said(&sample).into_iter().filter(|said| said.contains("for 70.0 %")).collect::<Vec<_>>()
        };
        assert_eq!(whole("tempo 9, hard 4"), SILENT);
        assert_eq!(whole("tempo 8.5, hard 4"), ["caution: 70.6 % for 70.0 %"]);
    }

    #[test]
    fn what_the_rules_themselves_cut_is_not_too_much() {
        // A block of race week alone, the race in the place of most of the week's running.
        let five_k = || Sample::new("- | easy 6 | - | easy 6 | - | - | long 24", RaceDistance::FiveK);
        let cut = |sample: &Sample| said(sample).into_iter().find(|said| said.contains("for 70.0 %"));
        assert!(five_k().block.cut().share.0 > 0.70, "{:?}", five_k().block.cut());
        assert_eq!(cut(&five_k()), None);
        assert_eq!(cut(&five_k().with(5, "easy 4").with(3, "easy 4")).as_deref(), Some("caution: 77.8 % for 70.0 %"));
    }

    #[test]
    fn fixed_days_that_leave_less_than_the_curve_are_worth_a_note() {
        let marathon = |line: &str| Sample::new(WEEK, RaceDistance::Marathon).pinned(&[(19, line)]);
        assert_eq!(said(&marathon("tempo 9, hard 4")), SILENT);
        assert_eq!(said(&marathon("easy 4")), ["note: 77.5 % for 87.5 % on D20"]);
    }
}
