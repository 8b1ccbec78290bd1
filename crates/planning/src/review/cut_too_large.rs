//! Too much is taken away.

use super::band::{TOLERANCE, judged};
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
/// running, and when the whole block is cut by more than 70 %.
pub(super) fn judge(look: &Look<'_>) -> Vec<Finding> {
    let mut found: Vec<Finding> = judged(look)
        .into_iter()
        .filter(|week| week.share.0 < week.band.low - TOLERANCE)
        .map(|week| {
            let limit = Figure::Share(Share(week.band.low));
            let finding = Finding::new(RuleId::CutTooLarge, Level::Caution, Figure::Share(week.share), limit);
            match look.week(week.before) {
                Some(summary) => finding.on(summary.from),
                None => finding,
            }
        })
        .collect();
    let most = (longest_gap(look.subject.week) + 1).max(LEAST_GAP);
    let gap = longest_planned_gap(look);
    if gap > most {
        found.push(Finding::new(RuleId::CutTooLarge, Level::Caution, Figure::Days(gap), Figure::Days(most)));
    }
    let cut = look.block.cut();
    if cut > MOST_CUT && !super::base_too_thin::is_thin(look) && cuts_more_than_the_rules(look, cut) {
        found.push(Finding::new(RuleId::CutTooLarge, Level::Caution, Figure::Share(cut), Figure::Share(MOST_CUT)));
    }
    found
}

/// A block of race week alone, before a race that takes the place of a long run, is cut by more than
/// that if left to the rules: then only a still deeper one is worth a word.
fn cuts_more_than_the_rules(look: &Look<'_>, cut: Share) -> bool {
    look.by_the_rules().is_none_or(|block| cut > block.cut())
}

/// The longest run of days without running, over the week's end too.
fn longest_gap(week: &BaseWeek) -> u16 {
    let mut longest = 0;
    let mut now = 0;
    for weekday in WEEKDAYS.into_iter().chain(WEEKDAYS) {
        now = if week.runs_on(weekday) { 0 } else { now + 1 };
        longest = longest.max(now);
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
