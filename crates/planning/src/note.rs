//! What a coach's note says of a part of a run, kept true where the run is shorter or longer than usual.

mod amounts;
mod optional;
mod zones;

use crate::notation::{MEDIUM_LONG, has_word};
use crate::units::{Amount, Share, Unit};

pub(crate) use amounts::{Paces, pace_alone, without_amounts};
pub(crate) use optional::is_optional;
pub(crate) use zones::zones_alone;

/// The words behind which a part of a run stands.
const PARTS: [&str; 4] = ["last", "final", "first", "middle"];

/// Words of how a part is run, behind a number that says no unit.
const HOW: [&str; 26] = [
    "a",
    "at",
    "@",
    "bit",
    "slightly",
    "little",
    "faster",
    "fast",
    "quicker",
    "quick",
    "steady",
    "steadier",
    "brisk",
    "brisker",
    "hard",
    "harder",
    "strong",
    "moderate",
    "progressive",
    "mp",
    "hmp",
    "marathon",
    "threshold",
    "tempo",
    "race",
    "goal",
];

/// Units of a part, each with the step in which it is written. Some metres at the end are as many of any run.
const UNITS: [(&str, f64); 11] = [
    ("km", 0.5),
    ("kms", 0.5),
    ("k", 0.5),
    ("mi", 0.5),
    ("mile", 0.5),
    ("miles", 0.5),
    ("min", 1.0),
    ("mins", 1.0),
    ("minutes", 1.0),
    ("'", 1.0),
    ("\u{2032}", 1.0),
];

/// Whether words speak of walking.
pub(crate) fn walks(note: &str) -> bool {
    has_word(note, &["walk", "walks", "walking"])
}

/// What a note says of running and walking by turns: "run 4 min, walk 1 min", "r/w"; nothing where it speaks of neither.
pub(crate) fn run_and_walk(note: &str) -> String {
    let is_short = |piece: &str| piece.to_lowercase().split(' ').any(|word| word == "r/w" || word == "w/r");
    let of_it = |piece: &&str| walks(piece) || is_short(piece) || has_word(piece, &["run", "jog"]);
    let pieces: Vec<&str> = note.split(", ").filter(of_it).collect();
    let tells = pieces.iter().any(|piece| walks(piece) || is_short(piece));
    if tells { pieces.join(", ") } else { String::new() }
}

/// A note without the name of a length that the run no longer has: a medium long run that is cut far is none.
///
/// # Source
///
/// Common practice, no published source: below three quarters of the usual one.
pub(crate) fn without_length(note: &str, usual: Amount, now: Amount) -> String {
    const LEAST: Share = Share(0.75);
    let names_length = |piece: &&str| MEDIUM_LONG.iter().any(|name| piece.eq_ignore_ascii_case(name));
    if now.middle() >= usual.middle().times(LEAST) || !note.split(", ").any(|piece| names_length(&piece)) {
        return note.to_owned();
    }
    note.split(", ").filter(|piece| !names_length(piece)).collect::<Vec<_>>().join(", ")
}

/// A note in which parts of the run ("last 4 km steady", "final 20 min brisk") are the same share of the run as they are
/// in the note of the usual one. What else differs between the two stays.
///
/// # Source
///
/// Common practice, no published source.
pub(crate) fn in_proportion(note: &str, usual_note: &str, usual: Amount, now: Amount) -> String {
    let (told, written) = (parts(note, usual), parts(usual_note, usual));
    if told.is_empty() || told.len() != written.len() {
        return note.to_owned();
    }
    let share = now.middle().as_f64() / usual.middle().as_f64().max(0.001);
    let is_as_long = now.middle() == usual.middle();
    let value = |value: f64, step: f64| {
        if is_as_long { value } else { ((value * share / step).round() * step).max(step.min(value)) }
    };
    let mut words: Vec<String> = note.split(' ').map(str::to_owned).collect();
    for ((place, part), (_, usual)) in told.iter().zip(&written) {
        words[*place] = part.written(&usual.ends.iter().map(|end| value(*end, usual.step)).collect::<Vec<_>>());
    }
    words.join(" ")
}

/// The parts that a note tells of a run, each with its place among the words.
fn parts(note: &str, run: Amount) -> Vec<(usize, Part<'_>)> {
    let words: Vec<&str> = note.split(' ').collect();
    let is_of = |word: &str| PARTS.iter().any(|part| word.trim_start_matches('(').eq_ignore_ascii_case(part));
    let read = |place: usize| {
        let next = words.get(place + 1).copied().unwrap_or_default();
        let part = Part::read(words[place], next).or_else(|| Part::read_bare(words[place], next, run));
        part.map(|part| (place, part))
    };
    (1..words.len()).filter(|place| is_of(words[place - 1])).filter_map(read).collect()
}

/// A word without brackets and without what closes a sentence.
fn bare(word: &str) -> &str {
    word.trim_start_matches('(').trim_end_matches([')', ',', ';', '.', ':'])
}

/// `4km`, `4`, `3-4`: one end or two, and what is written right behind them.
struct Part<'a> {
    ends: Vec<f64>,
    between: &'static str,
    behind: &'a str,
    step: f64,
}

impl<'a> Part<'a> {
    /// A word that is an amount, its unit in it or in the next one.
    fn read(word: &'a str, next: &str) -> Option<Self> {
        let (numbers, behind) = Self::cut(word);
        let unit = if behind.is_empty() { next } else { behind };
        let unit = unit.trim_end_matches([',', ';', '.', ':', ')']).to_lowercase();
        let step = UNITS.iter().find(|(name, _)| *name == unit)?.1;
        Self::of(numbers, behind, step)
    }

    /// A number alone before words of how it is run, "last 6 a bit faster": it is told in the unit of the run, or in
    /// minutes where the run is not as long as that.
    fn read_bare(word: &'a str, next: &str, run: Amount) -> Option<Self> {
        let (numbers, behind) = Self::cut(word);
        let is_alone = behind.is_empty() && HOW.contains(&bare(next).to_lowercase().as_str());
        let part = Self::of(numbers, behind, 1.0).filter(|_| is_alone)?;
        let is_of_the_unit = part.ends.iter().all(|end| *end < run.middle().as_f64());
        let step = if is_of_the_unit && run.unit() != Unit::Min { 0.5 } else { 1.0 };
        Some(Self { step, ..part })
    }

    /// The digits at the front of a word, and what stands behind them.
    fn cut(word: &'a str) -> (&'a str, &'a str) {
        let number = word.find(|c: char| !(c.is_ascii_digit() || matches!(c, '.' | ',' | '-' | '\u{2013}')));
        word.split_at(number.unwrap_or(word.len()))
    }

    fn of(numbers: &str, behind: &'a str, step: f64) -> Option<Self> {
        let between = if numbers.contains('\u{2013}') { "\u{2013}" } else { "-" };
        let ends: Option<Vec<f64>> = numbers.split(between).map(|end| end.replace(',', ".").parse().ok()).collect();
        ends.filter(|ends| ends.len() <= 2).map(|ends| Self { ends, between, behind, step })
    }

    fn written(&self, ends: &[f64]) -> String {
        let mut ends: Vec<String> = ends.iter().map(f64::to_string).collect();
        ends.dedup();
        format!("{}{}", ends.join(self.between), self.behind)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::Milli;

    fn said(note: &str, usual: i32, now: i32) -> String {
        let amount = |value| Amount::exact(Milli::whole(value), Unit::Km);
        in_proportion(note, note, amount(usual), amount(now))
    }

    #[test]
    fn a_part_of_a_run_shrinks_with_it_and_nothing_else_does() {
        for (note, expected) in [
            ("last 4 km steady", "last 2.5 km steady"),
            ("with club, Last 4km brisk", "with club, Last 2.5km brisk"),
            ("final 20 min at marathon effort, 2 gels", "final 13 min at marathon effort, 2 gels"),
            ("first 2 miles slow, last 3-4 miles steady", "first 1.5 miles slow, last 2-2.5 miles steady"),
            ("(last 4 km fast)", "(last 2.5 km fast)"),
            ("last 200 m fast", "last 200 m fast"),
            ("last 0,5 km hard", "last 0.5 km hard"),
            ("last third steady, 4 x 20 s strides", "last third steady, 4 x 20 s strides"),
            ("as last 3 weeks", "as last 3 weeks"),
            ("4 km of it on grass", "4 km of it on grass"),
            ("last 1-2-3 km", "last 1-2-3 km"),
            ("last 6 a bit faster", "last 4 a bit faster"),
            ("with Jo, final 5 @ 4:40", "with Jo, final 3 @ 4:40"),
            ("first 3-4 steady", "first 2-2.5 steady"),
            ("last 20 brisk", "last 13 brisk"),
            ("last 2 hills hard", "last 2 hills hard"),
            ("last 3 easy weeks", "last 3 easy weeks"),
            ("route 12 fast", "route 12 fast"),
        ] {
            assert_eq!(said(note, 16, 10), expected);
        }
        assert_eq!(said("last 4 km steady", 16, 16), "last 4 km steady");
        assert_eq!(said("last 4 km steady", 16, 20), "last 5 km steady");
    }

    #[test]
    fn a_run_that_is_cut_far_is_no_medium_long_one() {
        let amount = |value| Amount::exact(Milli::whole(value), Unit::Mi);
        for (note, now, left) in [
            ("MLR", 9, "MLR"),
            ("MLR", 6, ""),
            ("PM, medium long, hilly", 6, "PM, hilly"),
            ("with the MLR group", 6, "with the MLR group"),
        ] {
            assert_eq!(without_length(note, amount(11), amount(now)), left, "{note}");
        }
    }

    #[test]
    fn a_note_that_was_cut_before_follows_the_usual_one_and_keeps_what_else_became_of_it() {
        let amount = |value| Amount::exact(Milli::whole(value), Unit::Km);
        let again = |note: &str| in_proportion(note, "2 km wu, last 4 km steady", amount(16), amount(8));
        assert_eq!(again("1.5 km wu, last 2.5 km steady"), "1.5 km wu, last 2 km steady");
        assert_eq!(again("easy"), "easy");
    }
}
