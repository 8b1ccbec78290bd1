//! Hills that are counted, and their whole beside them: "hills: 6 up, 8k", "hills x 6, 8 km".
//!
//! How long one of them takes nobody said, and how often is a note.

use std::borrow::Cow;

use super::amounts::RawAmount;
use super::line::{apart_from_notes, quote};
use super::sets::TIMES;
use super::text::Text;

const HILLS: [&str; 4] = ["hill repeats", "hill reps", "hills", "hill"];

/// How they are counted.
const COUNTED: [&str; 6] = ["ups", "up", "times", "reps", "repeats", "climbs"];

/// Fewer may be the kilometres or miles of a warm-up, and more nobody runs.
///
/// # Source
///
/// Common practice, no published source.
const COUNTS: std::ops::RangeInclusive<u8> = 3..=30;

/// The line with how often in a note; nearly every line stays as it is.
pub(super) fn spelled(line: &str) -> Cow<'_, str> {
    let (words, behind) = apart_from_notes(line);
    if !words.contains("ill") && !words.contains("ILL") {
        return Cow::Borrowed(line);
    }
    let parts: Vec<&str> = words.split(", ").collect();
    // "hills: 3 up, 6 x 60 s, 2 down" begins with its warm-up.
    let is_down = |part: &&str| part.trim().ends_with("down");
    if parts.iter().any(is_down) || !(parts.len() == 1 || parts.iter().any(is_amount)) {
        return Cow::Borrowed(line);
    }
    let Some((at, count)) = parts.iter().enumerate().find_map(|(at, part)| Some((at, count(part)?))) else {
        return Cow::Borrowed(line);
    };
    let counted = format!("{} ({})", HILLS[2], quote(count));
    let part = |(index, part): (usize, &&str)| if index == at { counted.clone() } else { (*part).to_owned() };
    Cow::Owned(parts.iter().enumerate().map(part).collect::<Vec<_>>().join(", ") + behind)
}

fn is_amount(part: &&str) -> bool {
    let mut text = Text::new(part);
    matches!(RawAmount::take(&mut text), Ok(Some(_))) && text.is_done()
}

/// Whether a piece of a note says how many hills are run, and nothing else: "6 up", "x 6", "6 x hills".
pub(crate) fn is_count(piece: &str) -> bool {
    let mut text = Text::new(piece);
    take_count(&mut text).is_some() && text.is_done()
}

/// How often, of a part that says nothing else: "6 up" of "hills: 6 up".
fn count(part: &str) -> Option<&str> {
    let mut text = Text::new(part);
    text.take_any_phrase(&HILLS).then_some(())?;
    text.take_any_phrase(&[":", "-"]);
    text.skip_space();
    let start = text;
    take_count(&mut text)?;
    text.is_done().then(|| text.since(&start))
}

/// Takes a number that a word or a stroke says to be how many.
fn take_count(text: &mut Text<'_>) -> Option<()> {
    let is_turned = text.take_any(&TIMES).is_some();
    text.skip_space();
    text.take_digits().parse().ok().filter(|count| COUNTS.contains(count))?;
    if is_turned {
        return Some(());
    }
    text.skip_space();
    let is_times = text.take_any(&TIMES).is_some();
    let is_counted = text.take_any_phrase(&COUNTED) || text.take_any_phrase(&HILLS) || is_times;
    // "8 times up", "8 x up"
    text.take_any_phrase(&COUNTED);
    is_counted.then_some(())
}
