//! Repetitions, the rest between them, and strides.

use super::super::amounts::RawAmount;
use super::super::doubles::AND;
use super::super::hardness::is_pace_figure;
use super::super::kinds::{STRIDES, has_word};
use super::super::line::{Part, unreadable};
use super::super::read::Doubt;
use super::super::sets::{RECOVERY_LABELS, TIMES, is_recovery, short_jog, starts_with_reps, take_length, take_sets};
use super::super::text::Text;
use super::Draft;
use crate::plain::joined;
use crate::problem::{Expected, ProblemKind};
use crate::session::{SetUnit, Sets};
use crate::units::{Milli, Unit};

/// The shortest repetition in metres.
///
/// # Source
///
/// Common practice, no published source.
pub(in super::super) const LEAST_METRES: Milli = Milli::whole(10);

impl Draft {
    pub(super) fn read_sets(
        &mut self,
        text: &mut Text<'_>,
        quoted: &mut dyn Iterator<Item = String>,
    ) -> Result<(), ProblemKind> {
        // What follows repetitions is their rest, be they unread.
        let start = *text;
        let mut sets = take_sets(text).inspect_err(|_| self.open = true)?;
        // "6 x 3m T": nobody repeats three metres.
        let is_in_full = has_word(start.left(), &["metre", "metres", "meter", "meters"]);
        if self.doubt == Doubt::Asked && sets.unit == SetUnit::M && sets.length < LEAST_METRES && !is_in_full {
            self.open = true;
            return Err(unreadable(start.left(), Expected::Sets));
        }
        if let Some(pace) = quoted.next() {
            if !sets.pace.is_empty() {
                return Err(unreadable(&sets.pace, Expected::Quote));
            }
            sets.pace = pace;
        }
        self.open = sets.recovery.is_empty();
        self.sets.push(sets);
        Ok(())
    }

    /// Whether the words are the recovery of the repetitions before them.
    pub(super) fn read_recovery(&mut self, words: &str, quoted: &mut dyn Iterator<Item = String>) -> bool {
        let mut text = Text::new(words);
        if text.take_any_phrase(&RECOVERY_LABELS) {
            let recovery = if text.is_done() { quoted.next() } else { Some(text.left().to_owned()) };
            if let Some(recovery) = recovery {
                self.set_recovery(recovery);
                return true;
            }
        } else if let Some(jog) = short_jog(words) {
            self.set_recovery(jog);
            return true;
        } else if is_recovery(words) || is_time_off(words) || self.rests_for(words, false) {
            self.set_recovery(words.to_owned());
            return true;
        }
        false
    }

    /// Whether words right behind repetitions are how long the rest between them is: "3 min", "90 s". In brackets seconds may
    /// as well be the time of a repetition, and figures of a clock anywhere.
    pub(super) fn rests_for(&self, words: &str, is_aside: bool) -> bool {
        /// The longest rest, in seconds, and how fast a repetition may be run, in seconds for one kilometre.
        ///
        /// # Source
        ///
        /// Common practice, no published source.
        const LONGEST: f64 = 360.0;
        const FARTHEST: Milli = Milli::whole(600);
        const PACES: std::ops::RangeInclusive<f64> = 130.0..=420.0;
        let mut text = Text::new(words);
        let length = take_length(&mut text).ok().flatten().filter(|_| text.is_done() && !words.contains(':'));
        let Some(sets) = self.sets.last().filter(|_| self.doubt == Doubt::Asked) else { return false };
        let seconds = match length {
            Some((length, SetUnit::S)) => length.as_f64(),
            Some((length, SetUnit::Min)) => return length.as_f64() * 60.0 <= LONGEST,
            // "6 x 800 (400 m)": a way that is jogged or walked, and no race.
            Some((length, SetUnit::M)) => return words.ends_with('m') && length <= FARTHEST,
            _ => return false,
        };
        let of_one = Sets { reps: 1, ..sets.clone() }.total_in(Unit::Km);
        let is_time = is_aside && of_one.is_some_and(|km| PACES.contains(&(seconds / km.as_f64())));
        seconds <= LONGEST && !is_time
    }

    /// "6 x 800, 2:30": how long one of them takes, or the rest between them, and no hours of a whole run.
    pub(super) fn is_time_of_one(&self, words: &str) -> bool {
        self.doubt == Doubt::Asked
            && is_pace_figure(words)
            && words.bytes().all(|one| one.is_ascii_digit() || one == b':')
            && words.split_once(':').is_some_and(|(minutes, _)| minutes.len() == 1)
            && words.matches(':').count() == 1
    }

    pub(super) fn set_recovery(&mut self, words: String) {
        self.open = false;
        if let Some(sets) = self.sets.last_mut() {
            sets.recovery = words;
        }
    }

    /// "8 km and 4 strides", "8 km then 6 x 100 m strides".
    pub(super) fn read_joined_strides(&mut self, mut text: Text<'_>) -> Result<bool, ProblemKind> {
        if !text.take_any_phrase(&AND) {
            return Ok(false);
        }
        text.skip_space();
        let part = Part { words: text.left().to_owned(), ..Part::default() };
        let Some(strides) = strides_alone(&part) else { return Ok(false) };
        if starts_with_reps(text) {
            self.read_sets(&mut text, &mut std::iter::empty())?;
        } else {
            self.notes.push(strides.words);
        }
        Ok(true)
    }
}

/// "1 min off", behind "12 x 1 min on".
fn is_time_off(words: &str) -> bool {
    let mut text = Text::new(words);
    matches!(RawAmount::take(&mut text), Ok(Some(_))) && text.take_phrase("off") && text.is_done()
}

/// A session that is nothing but strides, as part of another one.
pub(in super::super) fn strides_alone(part: &Part) -> Option<Part> {
    if starts_with_reps(Text::new(&part.words)) && !has_word(&part.words, &STRIDES) {
        return None;
    }
    // "strides x 4"
    let turned = part.words.rsplit_once(TIMES).map(|(called, count)| (called.trim_end(), count.trim()));
    if let Some((called, count)) = turned
        && STRIDES.iter().any(|word| called.eq_ignore_ascii_case(word))
        && !count.is_empty()
        && count.bytes().all(|byte| byte.is_ascii_digit())
    {
        return Some(Part { words: joined(["with", count, called], " "), ..part.clone() });
    }
    let lower = part.words.to_ascii_lowercase();
    let before = STRIDES.iter().find_map(|word| lower.strip_suffix(word))?.len();
    let called = &part.words[before..];
    let called = if called.eq_ignore_ascii_case("stride") { STRIDES[0] } else { called };
    // "4 x strides" are four of them.
    let count = part.words[..before].trim_end().trim_end_matches(TIMES).trim_end();
    if count.bytes().all(|byte| byte.is_ascii_digit() || byte == b'-') {
        return Some(Part { words: joined(["with", count, called], " "), ..part.clone() });
    }
    starts_with_reps(Text::new(&part.words)).then(|| part.clone())
}
