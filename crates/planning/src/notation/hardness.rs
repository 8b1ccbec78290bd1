//! Words that say how hard a run is, inside its line or in its notes.
//!
//! A block keeps hard running and cuts the rest, so a word such as "marathon pace" that became a mere note of an
//! easy run would make a wrong block without anybody seeing why: it is read as a part of the run, or asked about.

use super::amounts::{RawAmount, take_roughly};
use super::kinds::{STRIDES, take_kind, take_kind_or_short};
use super::line::unreadable;
use super::sets::starts_with_reps;
use super::text::Text;
use crate::problem::{Expected, ProblemKind};
use crate::session::{Kind, Session};

/// Words that mean hard running wherever they stand.
const HARD_WORDS: &[&str] = &[
    "hard",
    "harder",
    "hardest",
    "hardish",
    "fast",
    "faster",
    "fastest",
    "quick",
    "quicker",
    "quickly",
    "strong",
    "strongly",
    "threshold",
    "thresholds",
    "thresh",
    "tempo",
    "interval",
    "intervals",
    "ints",
    "repeats",
    "reps",
    "fartlek",
    "progression",
    "progressive",
    "progressing",
    "building",
    "negative",
    "sprint",
    "sprints",
    "surge",
    "surges",
    "pickup",
    "pickups",
    "hill",
    "hills",
    "uphill",
    "vo2",
    "vo2max",
    "mp",
    "gmp",
    "hmp",
    "rp",
    "tt",
    "speed",
    "speedwork",
    "workout",
    "kick",
    "brisk",
    "hammer",
    "squeeze",
    "accelerate",
    "accelerating",
    "intense",
    "intensity",
    "lthr",
    "lt2",
    "cv",
];

/// Words that mean hard running only together.
const HARD_PHRASES: [&[&str]; 18] = [
    &["all", "out"],
    &["full", "gas"],
    &["open", "up"],
    &["open", "it", "up"],
    &["pick", "up"],
    &["pick", "ups"],
    &["pick", "it", "up"],
    &["picking", "up"],
    &["picking", "it", "up"],
    &["wind", "up"],
    &["wind", "it", "up"],
    &["winding", "it", "up"],
    &["speed", "up"],
    &["let", "rip"],
    &["let", "it", "rip"],
    &["lift", "the", "pace"],
    &["up", "the", "pace"],
    &["time", "trial"],
];

/// What somebody may push while running easily.
const PUSHED: [&str; 8] = ["buggy", "pram", "stroller", "pushchair", "chair", "wheelchair", "up", "ups"];

/// Words that mean hard running in front of "pace" and "effort".
const RACES: [&str; 26] = [
    "m", "t", "i", "r", "hm", "fm", "half", "marathon", "mile", "race", "goal", "target", "lt", "800", "1500", "3000",
    "5000", "10000", "1500m", "3k", "5k", "8k", "10k", "15k", "10mi", "miler",
];

/// Those that mean it right behind "@" and "at" too, and alone behind an amount: "4 km T".
const SHORT: &[&str] = &[
    "m", "t", "i", "r", "hm", "fm", "half", "marathon", "mile", "lt", "3k", "5k", "8k", "10k", "15k", "z3", "z4", "z5",
    "race", "goal", "target",
];

/// Words for things that are counted: without a unit the number in front of them is how many.
const COUNTED: [&str; 12] = [
    "hills",
    "hill",
    "sprints",
    "surges",
    "pickups",
    "ups",
    "intervals",
    "reps",
    "repeats",
    "repetitions",
    "strides",
    "efforts",
];

/// Words of easy running.
const GENTLE: [&str; 15] = [
    "easy",
    "easily",
    "e",
    "jog",
    "jogs",
    "jogging",
    "recovery",
    "slow",
    "slowly",
    "gentle",
    "relaxed",
    "steady",
    "comfortable",
    "walk",
    "walking",
];

/// With one of these not far before, a word says what the run is not.
const NOT: [&str; 8] = ["not", "no", "without", "never", "nothing", "avoid", "than", "nor"];

/// How many words before a hard one may say that it is not.
const NOT_WITHIN: usize = 3;

/// The words of a text, with "@" and "at" as "@".
fn tokens(words: &str) -> Vec<String> {
    let spaced = words.replace('@', " @ ").replace('%', " % ").to_lowercase();
    let parts = spaced.split(|next: char| !next.is_alphanumeric() && !matches!(next, '@' | '%'));
    parts.filter(|word| !word.is_empty()).map(|word| if word == "at" { "@" } else { word }.to_owned()).collect()
}

/// Whether words name running that is hard: a race's pace, a threshold, something fast.
pub(super) fn names_hardness(words: &str) -> bool {
    let all = tokens(words);
    let at = |index: usize| all.get(index).map_or("", String::as_str);
    (0..all.len()).any(|index| {
        let (word, next) = (at(index), at(index + 1));
        let is_hard = HARD_WORDS.contains(&word)
            || (RACES.contains(&word) && ["pace", "effort", "speed"].contains(&next))
            || (word == "@" && SHORT.contains(&next) && ["", "@", "with", "and", "then"].contains(&at(index + 2)))
            || (["half", "hm"].contains(&word) && next == "marathon" && ["pace", "effort"].contains(&at(index + 2)))
            || HARD_PHRASES.iter().any(|phrase| phrase.iter().enumerate().all(|(behind, one)| at(index + behind) == *one))
            // "flat, out and back" is where it is run.
            || (word == "flat" && next == "out" && at(index + 2) != "and")
            || (["push", "pushing"].contains(&word)
                && !(index + 1..index + 4).any(|behind| PUSHED.contains(&at(behind))))
            || (["race", "racing"].contains(&word) && next == "the" && ["last", "final"].contains(&at(index + 2)))
            // "last 5 at pace"
            || (word == "@" && next == "pace")
            || (word == "zone" && ["3", "4", "5"].contains(&next))
            || ["z3", "z4", "z5"].contains(&word)
            || (["rpe", "effort"].contains(&word)
                && [next, at(index + 2)].iter().any(|effort| is_from(effort, 6..=10)))
            || (next == "%" && is_from(word, 80..=100))
            || (word == "on" && all[index..].iter().any(|later| later == "off"));
        let is_denied = all[index.saturating_sub(NOT_WITHIN)..index].iter().any(|word| NOT.contains(&word.as_str()));
        let of_strides = (1..3).any(|ahead| at(index + ahead).starts_with("stride"));
        is_hard && !is_denied && !of_strides
    })
}

/// Whether words are the short name of a race, by which a pace is called: "10k".
pub(super) fn is_race_name(words: &str) -> bool {
    RACES.iter().any(|race| words.trim().eq_ignore_ascii_case(race))
}

/// Whether words begin with a thing of which the number in front is a count: "6 strides".
pub(super) fn is_counted(words: &str) -> bool {
    let first = words.split(|next: char| !next.is_alphanumeric()).next().unwrap_or_default().to_lowercase();
    COUNTED.contains(&first.as_str()) || STRIDES.contains(&first.as_str())
}

/// Whether a word is one of these numbers.
fn is_from(word: &str, numbers: std::ops::RangeInclusive<u8>) -> bool {
    word.parse().is_ok_and(|number| numbers.contains(&number))
}

/// Whether words are about easy running and about nothing hard.
pub(super) fn is_gentle(words: &str) -> bool {
    tokens(words).iter().any(|word| GENTLE.contains(&word.as_str())) && !names_hardness(words)
}

/// Whether words are an amount and the short name of a pace, or its figures: "5 T", "8 @ 4:12".
pub(super) fn is_short_part(words: &str) -> bool {
    let mut text = Text::new(words);
    let has_amount = matches!(RawAmount::take(&mut text), Ok(Some(_)));
    let how = text.left();
    has_amount
        && (is_short(how) || names_hardness(how) || (starts_at(how) && !how.starts_with("in") && is_pace_only(how)))
}

/// Whether a note of the session would hide how hard it is: nothing else in it says so.
pub(super) fn hides(session: &Session, note: &str) -> bool {
    if !session.kind.is_running() || session.kind == Kind::Strides || session.hard.is_some() || !session.sets.is_empty()
    {
        return false;
    }
    if session.kind.assumed_hard().is_none() {
        // "3 wu, 20 min T, 2 cd" names its hard part by a letter.
        return names_hardness(note) || is_short_part(note) || note.split(", ").any(is_short_part);
    }
    let is_part = |text: &mut Text<'_>| matches!(Inside::read(text, false), Ok(Inside::Hard { .. }));
    names_hardness(note) && is_part(&mut Text::new(note))
}

/// Words that say where in a run a part of it is: "last 5 km at marathon pace".
const PLACES: [&str; 13] = [
    "at the end",
    "at the finish",
    "in the middle",
    "at the start",
    "last",
    "final",
    "finishing",
    "finish",
    "ending",
    "end",
    "closing",
    "middle",
    "first",
];

/// What words behind "with", "incl." and "last" tell.
pub(super) enum Inside {
    /// So much of the run is hard, and how.
    Hard {
        amount: RawAmount,
        /// The words in front that say where in the run: "last".
        place: String,
        /// The words behind.
        how: String,
    },
    /// Nothing of it is.
    Note,
    /// Repetitions; the text stands before them.
    Reps,
}

impl Inside {
    /// Reads what stands behind a word for inside. `is_said`: the word itself says that what follows is the hard
    /// part, as "incl." does.
    ///
    /// # Errors
    ///
    /// An amount that is none, or a second hard part.
    pub(super) fn read(text: &mut Text<'_>, is_said: bool) -> Result<Self, ProblemKind> {
        let mut place = String::new();
        loop {
            let here = *text;
            if text.take_any_phrase(&PLACES) {
                if !place.is_empty() {
                    place.push(' ');
                }
                place.push_str(text.since(&here));
            } else if !text.take_any_phrase(&["the", "a", "with", "w/", "w.", "w", ","]) {
                break;
            }
        }
        text.skip_space();
        if starts_with_reps(*text) {
            return Ok(Self::Reps);
        }
        take_roughly(text);
        let one = if place.is_empty() { None } else { RawAmount::take_one(text) };
        let Some(amount) = one.map_or_else(|| RawAmount::take(text), |one| Ok(Some(one)))? else {
            return Ok(Self::Note);
        };
        let how = text.left();
        let is_hard = if is_said {
            !is_gentle(how)
        } else if is_gentle(how) {
            false
        } else if amount.has_unit() {
            // "last 3 km 4:40"
            is_short(how) || names_hardness(how) || is_pace(how) || (!place.is_empty() && is_pace_only(how))
        } else {
            is_short(how) || is_pace(how) || (names_hardness(how) && (starts_at(how) || is_nothing_else(how)))
        };
        let is_count = !amount.has_unit() && tokens(how).iter().any(|word| COUNTED.contains(&word.as_str()));
        let is_hard = is_hard && !is_count;
        if !is_hard {
            return Ok(Self::Note);
        }
        if let Some(second) = second_part(how) {
            return Err(unreadable(second, Expected::OneHardPart));
        }
        Ok(Self::Hard { amount, place, how: how.to_owned() })
    }

    /// Whether the text goes on with a part of a run, as in "last 5 km at marathon pace".
    pub(super) fn is_place(text: Text<'_>) -> bool {
        let mut text = text;
        text.take_phrase("the");
        text.take_any_phrase(&PLACES) && {
            while text.take_any_phrase(&PLACES) || text.take_any_phrase(&["the", "with", "w/", "w"]) {}
            text.skip_space();
            text.peek().is_some_and(|next| next.is_ascii_digit()) || RawAmount::take_one(&mut text).is_some()
        }
    }
}

/// "@ 4:30": a pace in figures.
fn is_pace(how: &str) -> bool {
    let mut text = Text::new(how);
    text.take_any_phrase(&["@", "at", "in"]) && is_pace_figure(text.left())
}

/// "4:30"
pub(super) fn is_pace_figure(words: &str) -> bool {
    let mut text = Text::new(words);
    !text.take_digits().is_empty() && text.take_any(&[':', '\'']).is_some() && !text.take_digits().is_empty()
}

/// Whether words are a pace in figures and nothing else: "@ 4:12", "4:12/km", "at 4:10-4:15 pace".
pub(super) fn is_pace_only(words: &str) -> bool {
    /// "18:00" is a time of day: nobody runs so slowly.
    const SLOWEST: u8 = 14;
    let mut text = Text::new(words);
    text.take_any_phrase(&["@", "at", "in"]);
    let take_figure = |text: &mut Text<'_>| {
        text.skip_space();
        text.take_digits().parse::<u8>().is_ok_and(|minutes| (1..=SLOWEST).contains(&minutes))
            && text.take_any(&[':', '\'']).is_some()
            && text.take_digits().len() == 2
    };
    if !take_figure(&mut text) || (text.take_any(&['-', '\u{2013}']).is_some() && !take_figure(&mut text)) {
        return false;
    }
    text.take_any_phrase(&["min"]);
    text.take_any_phrase(&[
        "/km", "/k", "/mi", "/mile", "/ km", "/ mi", "pace", "per km", "per mile", "a km", "a mile",
    ]);
    text.is_done()
}

/// Takes all of the words where they are a kind, and behind it at most its pace: "MP", "marathon pace 4:12".
pub(super) fn take_kind_with_pace(words: &mut Text<'_>) -> Option<(Kind, Option<String>)> {
    let start = *words;
    if let Some(named) = take_kind(words).filter(|_| is_pace_only(words.left())) {
        return Some(named);
    }
    *words = start;
    take_kind_or_short(words).filter(|_| words.is_done())
}

fn starts_at(how: &str) -> bool {
    { Text::new(how) }.take_any_phrase(&["@", "at", "in"])
}

/// Behind a number without a unit, only words that all are about hard running make it distance or time: "4 fast
/// friends" are none.
fn is_nothing_else(how: &str) -> bool {
    const DEGREES: [&str; 11] =
        ["a bit", "a little", "a touch", "a tad", "bit", "little", "slightly", "somewhat", "much", "gradually", "even"];
    let mut text = Text::new(how);
    if { text }.take_any_phrase(&DEGREES) {
        while text.take_any_phrase(&DEGREES) {}
        let how = text.left();
        return HARD_WORDS.iter().any(|word| how.eq_ignore_ascii_case(word));
    }
    (take_kind(&mut text).is_some() && text.is_done()) || HARD_WORDS.iter().any(|word| how.eq_ignore_ascii_case(word))
}

/// "T", "@ HM": the short names of paces.
pub(super) fn is_short(how: &str) -> bool {
    let all = tokens(how);
    let bare: Vec<&str> = all.iter().map(String::as_str).filter(|word| *word != "@").collect();
    matches!(bare.as_slice(), [only] if SHORT.contains(only))
}

/// A further part behind the first, where it is hard too: "3 km tempo and 2 km at 10k pace".
fn second_part(how: &str) -> Option<&str> {
    how.match_indices(' ').map(|(index, _)| &how[index + 1..]).find(|behind| {
        let mut text = Text::new(behind);
        let joined = text.take_any_phrase(&["and then", "and", "then", "plus", "&", "followed by"]);
        joined && text.left().starts_with(|first: char| first.is_ascii_digit()) && names_hardness(text.left())
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_of_hard_running_are_known() {
        for words in [
            "with hills",
            "@ MP",
            "at marathon pace",
            "at half marathon pace",
            "5k effort",
            "last 20 min hard",
            "fast finish",
            "@ T",
            "1 on 1 off",
            "zone 4",
            "with pick-ups",
            "10k race pace",
            "push the last km",
            "open up at the end",
            "pick it up over the last 3",
            "last km flat out",
            "last 5 at pace",
            "race the last mile",
        ] {
            assert!(names_hardness(words), "{words}");
        }
        for words in [
            "flat, with Jo",
            "not too fast",
            "no hard running",
            "without hills",
            "with 4 fast strides",
            "at easy pace",
            "before the race",
            "marathon group",
            "at half past six",
            "in the hilly park",
            "at 7 pm",
            "pushing the buggy",
            "push-ups after",
            "before the race",
            "flat, out and back",
        ] {
            assert!(!names_hardness(words), "{words}");
        }
    }
}
