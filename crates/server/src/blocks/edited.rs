//! What the edit that was just saved did, said on the days themselves: that is where the coach looks.

use formats::words;
use planning::{Block, DistanceUnit, Finding};

use super::difference::sessions_in_words;
use super::load::Loaded;
use super::view::{DayView, WeekView};

/// So many new findings are said under a day; the review has all of them.
const FINDINGS: usize = 3;

/// Marks the days that an edit changed with what they held before it, and says under the day that was set which others
/// followed and what the review says that it did not say before.
pub(super) fn mark(weeks: &mut [WeekView], before: &Block, loaded: &Loaded, units: DistanceUnit) {
    let now = &loaded.record.block;
    let held = |block: &Block, day: &DayView| {
        block.day(day.day).map(|day| (sessions_in_words(day, units), day.pinned)).unwrap_or_default()
    };
    let mut set = None;
    let mut followed = Vec::new();
    for (at, day) in weeks.iter_mut().flat_map(|week| &mut week.days).enumerate() {
        let ((was, was_pinned), (is, is_pinned)) = (held(before, day), held(now, day));
        if was != is {
            if !is_pinned {
                followed.push(format!("{} {is} instead of {was}", words::short_date(day.day)));
            }
            // Beside one of several sessions it would read as if that one had been all of it.
            if day.lines.len() == 1 {
                day.was.clone_from(&was);
            } else {
                day.said.push(format!("Before this edit the day was {was}."));
            }
        }
        if is_pinned && (!was_pinned || was != is) {
            set = Some(at);
        }
    }
    let day = set.and_then(|at| weeks.iter_mut().flat_map(|week| &mut week.days).nth(at));
    let Some(day) = day else { return };
    if !followed.is_empty() {
        day.said.push(format!("The rest of the week followed: {}.", followed.join("; ")));
    }
    day.said.extend(new_findings(&loaded.review(before), &loaded.review(now), units));
}

/// What a review says that the one before it did not.
fn new_findings(before: &[Finding], now: &[Finding], units: DistanceUnit) -> Vec<String> {
    let known: Vec<String> = before.iter().map(|finding| words::finding(finding, units)).collect();
    let new: Vec<String> =
        now.iter().map(|finding| words::finding(finding, units)).filter(|said| !known.contains(said)).collect();
    let more = new.len().saturating_sub(FINDINGS);
    let mut said: Vec<String> =
        new.into_iter().take(FINDINGS).map(|finding| format!("New in the review: {finding}")).collect();
    if more > 0 {
        said.push(format!("{more} more in the review."));
    }
    said
}
