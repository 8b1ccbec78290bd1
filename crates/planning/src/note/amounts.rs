//! What is left of a note where the session is shorter than the one for which it was written: not how much is run, but
//! how fast.

use std::ops::Range;

use super::{PARTS, Part, UNITS, bare, run_and_walk};
use crate::notation::{are_turns, is_count};
use crate::units::Amount;

/// A note without what it tells of how much is run, which is not true of a shorter session: "or day off, bike 60min" is
/// "or day off". What it says of the pace or the effort stays: "8 km at marathon pace 4:12" is "at marathon pace 4:12".
/// Parts of the run stay, and so does what `is_counted` says is kept true elsewhere, as a warm-up is; so do rests and
/// strides.
///
/// # Source
///
/// Common practice, no published source.
pub(crate) fn without_amounts(note: &str, paces: Paces, is_counted: impl Fn(&str) -> bool) -> String {
    let pieces: Vec<&str> = note.split(", ").flat_map(|piece| piece.split("; ")).collect();
    // "run 4 min, walk 1 min": by which turns, of a run of any length.
    let turns = run_and_walk(note);
    let is_turn = |piece: &str| are_turns(&turns) && turns.split(", ").any(|turn| turn == piece);
    let now: Vec<String> = pieces
        .iter()
        .filter_map(|piece| {
            let stays = is_counted(piece) || is_turn(piece);
            if stays { Some((*piece).to_owned()) } else { without_its_amounts(piece, paces) }
        })
        .collect();
    if now == pieces { note.to_owned() } else { with_whole_brackets(now.join(", ")) }
}

/// What a pace that a note tells beside an amount is the pace of.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Paces {
    /// Of the hard part, which the session says: it stays.
    HardPart,
    /// Of repetitions that say it themselves: it goes with the amounts.
    Repetitions,
    /// Of what it stands beside: where nothing is said to be hard it is true of the run only if that is this amount.
    Whole(Amount),
}

impl Paces {
    /// Whether the pace beside these amounts stays true where they go.
    fn stay(self, words: &[&str], stale: &[&Range<usize>]) -> bool {
        let whole = match self {
            Self::HardPart => return true,
            Self::Repetitions => return false,
            Self::Whole(whole) => whole,
        };
        let [only] = stale else { return false };
        let next = words.get(only.start + 1).copied().unwrap_or_default();
        Part::read(bare(words[only.start]), bare(next)).is_some_and(|part| {
            part.ends.first() == Some(&whole.low().as_f64()) && part.ends.last() == Some(&whole.high().as_f64())
        })
    }
}

/// Words of a run between repetitions, and of what is none of the session: an amount with one of them behind it is no
/// amount of the session.
const BESIDE: [&str; 19] = [
    "rest",
    "rests",
    "recovery",
    "recoveries",
    "rec",
    "jog",
    "jogs",
    "float",
    "walk",
    "stride",
    "strides",
    "wu",
    "warm",
    "warmup",
    "cd",
    "cool",
    "cooldown",
    "every",
    "each",
];

/// Words that make of an amount right before them a way ("3 km to the park") or the name of a pace ("10 km pace").
const RIGHT_BEHIND: [&str; 4] = ["from", "to", "pace", "effort"];

/// Words that make of an amount right behind them something else: a place, a pace, a rest.
const RIGHT_BEFORE: [&str; 14] =
    ["at", "@", "from", "to", "every", "each", "after", "rest", "recovery", "rec", "jog", "float", "walk", "off"];

/// Words that say how fast or how hard it is run. A time of the clock does so too, and so does what stands behind "@".
const PACES: [&str; 21] = [
    "pace",
    "paces",
    "effort",
    "efforts",
    "threshold",
    "tempo",
    "marathon",
    "mp",
    "hmp",
    "hm",
    "lt",
    "t",
    "cv",
    "rpe",
    "vo2max",
    "brisk",
    "steady",
    "strong",
    "fast",
    "hard",
    "moderate",
];

/// Words that join an amount to others, and say nothing without it.
const JOINING: [&str; 17] = [
    "with",
    "w/",
    "of",
    "and",
    "then",
    "incl",
    "incl.",
    "including",
    "in",
    "inside",
    "for",
    "over",
    "+",
    "&",
    "-",
    "\u{2013}",
    "plus",
];

/// A piece of a note without the amounts of the session; nothing where that leaves nothing of the pace. A piece that
/// tells no such amount is as it was.
fn without_its_amounts(piece: &str, paces: Paces) -> Option<String> {
    if is_count(piece) {
        return None;
    }
    let summands = summands(piece);
    if summands.len() > 1 {
        if paces != Paces::HardPart {
            return None;
        }
        let paces: Vec<String> = summands.into_iter().filter_map(pace_of_summand).collect();
        return (!paces.is_empty()).then(|| paces.join(", "));
    }
    let spaced = piece.replace('@', " @");
    let words: Vec<&str> = spaced.split_whitespace().collect();
    let amounts = amounts(&words);
    let is_stale: Vec<bool> = (0..amounts.len()).map(|index| is_of_the_session(&words, &amounts, index)).collect();
    if !is_stale.contains(&true) {
        return Some(piece.to_owned());
    }
    let stale: Vec<&Range<usize>> =
        amounts.iter().zip(&is_stale).filter(|(_, stale)| **stale).map(|(amount, _)| amount).collect();
    let is_gone = |place: &usize| stale.iter().any(|amount| amount.contains(place));
    let left = trimmed((0..words.len()).filter(|place| !is_gone(place)).map(|place| words[place]).collect());
    let says_something = is_stale.contains(&false) || (says_pace(&left) && paces.stay(&words, &stale));
    (says_something && !left.is_empty()).then(|| left.join(" "))
}

/// The runs of a sum, "3 + 8 @ 4:12 + 3"; the whole piece where it is none. "MP+10" is a pace.
fn summands(piece: &str) -> Vec<&str> {
    let mut found = Vec::new();
    let mut from = 0;
    for (place, _) in piece.match_indices('+') {
        let (before, behind) = (&piece[from..place], piece[place + 1..].trim_start());
        let tells = |word: &str| word.contains(|c: char| c.is_ascii_digit());
        let is_joined = before.ends_with(' ') || before.split(' ').next_back().is_some_and(tells);
        let first = |text: &str| text.trim_start().trim_start_matches('(').starts_with(|c: char| c.is_ascii_digit());
        if is_joined && first(before) && first(behind) {
            found.push(before);
            from = place + 1;
        }
    }
    found.push(&piece[from..]);
    found
}

/// What a run of a sum says of its pace. Its own amount may be a bare number.
fn pace_of_summand(summand: &str) -> Option<String> {
    let spaced = summand.replace('@', " @");
    let words: Vec<&str> = spaced.split_whitespace().collect();
    let amounts = amounts(&words);
    let is_first = |amount: &&Range<usize>| amount.start == 0;
    let behind = amounts.iter().find(is_first).map_or(1, |amount| amount.end);
    let left = trimmed(words.get(behind..)?.to_vec());
    says_pace(&left).then(|| left.join(" "))
}

/// Whether an amount is one of the session, and none of a rest, a stride, a way or a part of the run.
fn is_of_the_session(words: &[&str], amounts: &[Range<usize>], index: usize) -> bool {
    let amount = &amounts[index];
    let next = amounts.get(index + 1).map_or(words.len(), |next| next.start);
    let plain = |word: &&str| bare(word).to_lowercase();
    let is_beside = words[amount.end..next].iter().any(|word| BESIDE.contains(&plain(word).as_str()));
    let right_behind = words.get(amount.end).map(plain).unwrap_or_default();
    let right_before = amount.start.checked_sub(1).map(|place| plain(&words[place])).unwrap_or_default();
    !is_beside
        && !RIGHT_BEHIND.contains(&right_behind.as_str())
        && !RIGHT_BEFORE.contains(&right_before.as_str())
        && !PARTS.contains(&right_before.as_str())
}

/// The words in which amounts are told: "8 km", "60min", "4 x 2 km", "10x1'".
fn amounts(words: &[&str]) -> Vec<Range<usize>> {
    let mut found = Vec::new();
    let mut place = 0;
    while place < words.len() {
        let count = amount_at(words, place);
        if count > 0 {
            found.push(place..place + count);
        }
        place += count.max(1);
    }
    found
}

/// Of how many words the amount that begins here consists; none where none does.
fn amount_at(words: &[&str], place: usize) -> usize {
    let word = |place: usize| words.get(place).map_or("", |word| bare(word));
    let is_count = |word: &str| !word.is_empty() && word.chars().all(|c| c.is_ascii_digit());
    let first = word(place);
    if is_count(first) && matches!(word(place + 1), "x" | "\u{d7}") {
        let repetition = repetition_at(&[word(place + 2), word(place + 3)]);
        return if repetition > 0 { 2 + repetition } else { 0 };
    }
    match first.split_once(['x', '\u{d7}']) {
        Some((count, "")) if is_count(count) => match repetition_at(&[word(place + 1), word(place + 2)]) {
            0 => 0,
            repetition => 1 + repetition,
        },
        Some((count, length)) if is_count(count) => repetition_at(&[length, word(place + 1)]).max(1),
        _ => Part::read(first, word(place + 1)).map_or(0, |part| if part.behind.is_empty() { 2 } else { 1 }),
    }
}

/// Of how many words the length of a repetition consists.
fn repetition_at(words: &[&str; 2]) -> usize {
    let is_unit = |word: &str| {
        let word = word.to_lowercase();
        UNITS.iter().any(|(unit, _)| *unit == word) || matches!(word.as_str(), "m" | "s" | "sec" | "secs" | "\"")
    };
    let [length, unit] = words;
    if is_unit(length) {
        return 1;
    }
    match length.starts_with(|c: char| c.is_ascii_digit()) {
        false => 0,
        true if length.ends_with(|c: char| c.is_ascii_digit()) && is_unit(unit) => 2,
        true => 1,
    }
}

/// Words without those at either end that only joined what is gone.
fn trimmed(mut words: Vec<&str>) -> Vec<&str> {
    let joins = |word: &&str| {
        let word = word.trim_matches(['(', ')', ',', ';', ':']).to_lowercase();
        word.is_empty() || JOINING.contains(&word.as_str())
    };
    while words.last().is_some_and(joins) {
        words.pop();
    }
    let first = words.iter().position(|word| !joins(word)).unwrap_or(words.len());
    words.split_off(first)
}

fn says_pace(words: &[&str]) -> bool {
    let is_clock = |word: &str| {
        let parts = word.split_once(':');
        parts.is_some_and(|(before, behind)| {
            before.ends_with(|c: char| c.is_ascii_digit()) && behind.starts_with(|c: char| c.is_ascii_digit())
        })
    };
    let says = |word: &str| word.starts_with('@') || is_clock(word) || PACES.contains(&word.to_lowercase().as_str());
    words.iter().any(|word| says(bare(word)))
}

/// A text in which every bracket has its other half, else none.
fn with_whole_brackets(text: String) -> String {
    if text.matches('(').count() == text.matches(')').count() { text } else { text.replace(['(', ')'], "") }
}

/// What a note says of the pace or the effort, and nothing else: of a long run "last 12 km @ 4:40, 2 gels" it is "@ 4:40".
///
/// # Source
///
/// Common practice, no published source.
pub(crate) fn pace_alone(note: &str) -> String {
    let pace = |piece: &str| {
        let words: Vec<&str> =
            piece.split(' ').filter(|word| !PARTS.iter().any(|part| bare(word).eq_ignore_ascii_case(part))).collect();
        let left = without_its_amounts(&words.join(" "), Paces::HardPart)?;
        says_pace(&left.split(' ').collect::<Vec<_>>()).then_some(left)
    };
    let pieces = note.split(", ").flat_map(|piece| piece.split("; "));
    with_whole_brackets(pieces.filter_map(pace).collect::<Vec<_>>().join(", "))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::{Milli, Unit};

    fn left(note: &str) -> String {
        without_amounts(note, Paces::HardPart, |piece| piece.ends_with("wu"))
    }

    #[test]
    fn how_much_is_run_is_not_said_of_a_shorter_session() {
        assert_eq!(left("or day off, bike 60min"), "or day off");
        assert_eq!(left("10x1' on/1' off"), "");
        assert_eq!(left("6 up, steep, 6 x hills, x 6"), "steep");
        assert_eq!(left("2 km wu, 3 km to the park, 8 miles hilly, grass"), "2 km wu, 3 km to the park, grass");
        for kept in [
            "with 4 x 100 m strides",
            "6 x strides",
            "last 5 km steady",
            "last 6 a bit faster",
            "at 10k pace",
            "2 min rest",
            "3 min float",
            "400 m jog",
            "gel every 30 min",
            "@ 4:15",
            "at 5:00/km",
            "MP+10",
            "easy + drills",
            "run 4 min, walk 1 min",
            "run 4 min walk 1 min",
            "with Jo at 6",
            "with club at 7",
            "flat",
            "route 66",
        ] {
            assert_eq!(left(kept), kept);
        }
    }

    #[test]
    fn how_fast_it_is_run_is_said_of_a_shorter_one_too() {
        for (note, expected) in [
            ("8 km at marathon pace 4:12", "at marathon pace 4:12"),
            ("14 km, 8 km at marathon pace 4:12", "at marathon pace 4:12"),
            ("on the track, 20' threshold @ 4:15", "on the track, threshold @ 4:15"),
            ("3 km at marathon pace, with Jo", "at marathon pace, with Jo"),
            ("14 km (8 km @ 4:12)", "@ 4:12"),
            ("8km@4:12", "@4:12"),
            ("20 min T", "T"),
            ("threshold 25 mins inside 8 miles", "threshold"),
            ("10 km with 6 km at 10 km pace", "at 10 km pace"),
            ("5 x 1 km @ 3:50 with 2 min jog", "@ 3:50 with 2 min jog"),
            ("4 x 8' @ 4:00; 2' rest", "@ 4:00, 2' rest"),
            ("8 km MP then 2 km HMP", "MP then HMP"),
            ("2 x (10 min MP, 5 min HMP)", "MP, HMP"),
            ("16 km with last 4 km @ 4:30", "last 4 km @ 4:30"),
            ("8 km incl. 4 x 100 m strides", "4 x 100 m strides"),
        ] {
            assert_eq!(left(note), expected, "{note}");
            assert_eq!(left(expected), expected, "the same again");
        }
    }

    #[test]
    fn of_a_sum_the_paces_are_left() {
        for (note, expected) in [
            ("3 + 8 @ 4:12 + 3", "@ 4:12"),
            ("3+8@4:12+3, with Jo", "@4:12, with Jo"),
            ("3 km + 8 km marathon pace + 3 km", "marathon pace"),
            ("2 + 4 @ 4:00 + 4 @ 3:50 + 2", "@ 4:00, @ 3:50"),
            ("3 + 8 + 3", ""),
            ("8 km @ MP+10", "@ MP+10"),
        ] {
            assert_eq!(left(note), expected, "{note}");
        }
    }

    #[test]
    fn of_a_run_that_says_nothing_hard_a_pace_stays_only_where_it_is_that_of_the_whole() {
        let whole = Amount::exact(Milli::whole(14), Unit::Km);
        for (note, expected) in [
            ("3 + 8 @ 4:12 + 3, with Jo", "with Jo"),
            ("8 km @ 4:12", ""),
            ("14 km @ 5:30, grass", "@ 5:30, grass"),
            ("@ 5:30", "@ 5:30"),
        ] {
            assert_eq!(without_amounts(note, Paces::Whole(whole), |_| false), expected, "{note}");
        }
    }

    #[test]
    fn the_pace_alone_is_told_where_a_part_of_a_run_is_run_alone() {
        for (note, expected) in [
            ("last 12 km @ 4:40, 2 gels", "@ 4:40"),
            ("with Jo, final 20 min at marathon pace", "at marathon pace"),
            ("3 + 8 @ 4:12 + 3", "@ 4:12"),
            ("with Jo, hilly", ""),
            ("", ""),
        ] {
            assert_eq!(pace_alone(note), expected, "{note}");
        }
    }
}
