//! What a coach's note says of a part of a run, kept true where the run is shorter or longer than usual.

use crate::units::Amount;

/// The words behind which a part of a run stands.
const PARTS: [&str; 4] = ["last", "final", "first", "middle"];

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

/// A note in which parts of the run ("last 4 km steady", "final 20 min brisk") are the same share of the run as they are
/// in the note of the usual one. What else differs between the two stays.
///
/// # Source
///
/// Common practice, no published source.
pub(crate) fn in_proportion(note: &str, usual_note: &str, usual: Amount, now: Amount) -> String {
    let (told, written) = (parts(note), parts(usual_note));
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

/// A note without the pieces that tell how much is run, which are not true of a shorter session: "or day off, bike 60min"
/// is "or day off". Parts of the run stay, and so does what `is_counted` says is kept true elsewhere, as a warm-up is; so do
/// paces, rests and strides.
///
/// # Source
///
/// Common practice, no published source.
pub(crate) fn without_amounts(note: &str, is_counted: impl Fn(&str) -> bool) -> String {
    let is_stale = |piece: &str| parts(piece).is_empty() && !is_counted(piece) && tells_an_amount(piece);
    if !note.split(", ").any(is_stale) {
        return note.to_owned();
    }
    note.split(", ").filter(|piece| !is_stale(piece)).collect::<Vec<_>>().join(", ")
}

/// Words beside which an amount is not one of the session: a pace, a rest, strides.
const NO_AMOUNT: [&str; 23] = [
    "pace", "effort", "rest", "rests", "recovery", "rec", "jog", "float", "walk", "stride", "strides", "wu", "warm",
    "warmup", "cd", "cool", "cooldown", "every", "each", "at", "@", "from", "to",
];

/// Whether a piece of a note tells how much is run, or how often: "bike 60min", "10x1' on/1' off".
fn tells_an_amount(piece: &str) -> bool {
    let lower = piece.to_lowercase();
    // Behind it stands the pace of what is told before it: "20' threshold @ 4:15".
    let lower = [" @", " at "].iter().fold(lower.as_str(), |told, pace| told.split(pace).next().unwrap_or(told));
    let words: Vec<&str> = lower.split([' ', '(', ')', '/']).filter(|word| !word.is_empty()).collect();
    if words.iter().any(|word| NO_AMOUNT.contains(word) || word.starts_with('@')) {
        return false;
    }
    let is_count = |word: &str| {
        let times = word.split_once(['x', '\u{d7}']);
        times.is_some_and(|(count, _)| !count.is_empty() && count.chars().all(|c| c.is_ascii_digit()))
    };
    (0..words.len()).any(|place| {
        let next = words.get(place + 1).copied().unwrap_or_default();
        is_count(words[place]) || Part::read(words[place], next).is_some()
    })
}

/// The parts that a note tells of, each with its place among the words.
fn parts(note: &str) -> Vec<(usize, Part<'_>)> {
    let words: Vec<&str> = note.split(' ').collect();
    let is_of = |word: &str| PARTS.iter().any(|part| word.trim_start_matches('(').eq_ignore_ascii_case(part));
    let read = |place: usize| {
        let next = words.get(place + 1).copied().unwrap_or_default();
        Part::read(words[place], next).map(|part| (place, part))
    };
    (1..words.len()).filter(|place| is_of(words[place - 1])).filter_map(read).collect()
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
        let number = word.find(|c: char| !(c.is_ascii_digit() || matches!(c, '.' | ',' | '-' | '\u{2013}')));
        let (numbers, behind) = word.split_at(number.unwrap_or(word.len()));
        let unit = if behind.is_empty() { next } else { behind };
        let unit = unit.trim_end_matches([',', ';', '.', ':', ')']).to_lowercase();
        let step = UNITS.iter().find(|(name, _)| *name == unit)?.1;
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
    use crate::units::{Milli, Unit};

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
        ] {
            assert_eq!(said(note, 16, 10), expected);
        }
        assert_eq!(said("last 4 km steady", 16, 16), "last 4 km steady");
        assert_eq!(said("last 4 km steady", 16, 20), "last 5 km steady");
    }

    #[test]
    fn how_much_is_run_is_not_said_of_a_shorter_session() {
        let left = |note: &str| without_amounts(note, |piece| piece.ends_with("wu"));
        assert_eq!(left("or day off, bike 60min"), "or day off");
        assert_eq!(left("10x1' on/1' off"), "");
        assert_eq!(left("2 km wu, 3 km to the park, 8 miles hilly, grass"), "2 km wu, 3 km to the park, grass");
        for kept in [
            "with 4 x 100 m strides",
            "last 5 km steady",
            "at 10k pace",
            "2 min rest",
            "with Jo at 6",
            "flat",
            "route 66",
        ] {
            assert_eq!(left(kept), kept);
        }
    }

    #[test]
    fn a_note_that_was_cut_before_follows_the_usual_one_and_keeps_what_else_became_of_it() {
        let amount = |value| Amount::exact(Milli::whole(value), Unit::Km);
        let again = |note: &str| in_proportion(note, "2 km wu, last 4 km steady", amount(16), amount(8));
        assert_eq!(again("1.5 km wu, last 2.5 km steady"), "1.5 km wu, last 2 km steady");
        assert_eq!(again("easy"), "easy");
    }

    #[test]
    fn a_part_told_with_its_pace_is_an_amount_and_a_pace_alone_is_none() {
        let left = |note: &str| without_amounts(note, |_| false);
        assert_eq!(left("on the track, 20' threshold @ 4:15"), "on the track");
        assert_eq!(left("3 km at marathon pace, with Jo"), "with Jo");
        for kept in ["@ 4:15", "at 5:00/km", "3 min float", "400 m jog", "with club at 7"] {
            assert_eq!(left(kept), kept);
        }
    }
}
