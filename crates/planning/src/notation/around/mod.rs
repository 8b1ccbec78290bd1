//! Warm-up and cool-down: what is run around the main part of a session.
//!
//! Elsewhere in the notation a line tells the whole and what is inside it: "9 km, hard 5 km". With a warm-up or a
//! cool-down it tells the parts in the order in which they are run, and the whole is their sum:
//!
//! ```text
//! 2 km warm up, 6 x 800 m, 2 km cool down     the whole is 8.8 km: two, six times 800 m, two
//! 2 km wu, tempo 5 km, 2 km cd                9 km, of which the tempo run between them is hard: 5 km
//! 3 km easy, 6 km tempo, 3 km easy            the same without the words: easy, hard, easy
//! 15 min wu, 6 x 800 m, 10 min cd, 10 km      what cannot be added up needs the whole behind it
//! ```
//!
//! It is read in three steps, a file for each:
//!
//! 1. [`parts`]: which pieces of a line are one run, and which of them are around its main part. "15 min wu then 5 x 3
//!    min" becomes two parts; "2 km wu + 5 km tempo + 2 km cd" one run of three.
//! 2. Here: one such piece, [`Around`]. "2 km easy warm up with drills" is a warm-up of 2 km.
//! 3. [`whole`]: once all parts are read, what they come to, and how much of it is hard. What has two meanings, or no
//!    sum, is asked about.
//!
//! The words stay as a note of the session: "tempo 9 km, hard 5 km (2 km wu, 2 km cd)". Where a block makes the session
//! shorter, [`without_amounts`] takes them out of it: what is left of the two is for the athlete to say.

mod parts;
mod whole;

pub(super) use parts::{apart, in_order, is_told_by_parts, joined, one_run};
pub(super) use whole::{Parted, Rest, Unsettled};

use super::amounts::RawAmount;
use super::line::unreadable;
use super::sets::starts_with_reps;
use super::text::Text;
use crate::plain;
use crate::problem::{Expected, ProblemKind};
use crate::units::{Amount, Milli, Unit};

const WARM_UP: [&str; 6] = ["warm up", "warmup", "warming up", "wu", "w/u", "warm ups"];
const COOL_DOWN: [&str; 9] =
    ["cool down", "cooldown", "cooling down", "cd", "c/d", "warm down", "warmdown", "cool downs", "warming down"];

/// With one of these each of them begins: hardly a line of a week holds one where a word begins, and every day
/// that is read is looked through.
const FIRST_LETTERS: [char; 4] = ['w', 'W', 'c', 'C'];

/// Words that part what is run one after the other.
const THEN: [&str; 6] = ["and then", "then", "followed by", "into", "before", "after"];

/// Words behind which stands what a whole holds.
const INSIDE: [&str; 7] = ["of which", "including", "incl.", "incl", "inc", "with", "w/"];

/// What may stand between an amount and the words: it says nothing that these do not.
const FILLING: [&str; 22] = [
    "easy", "e", "jog", "jogging", "jogged", "run", "running", "slow", "gentle", "recovery", "rec", "steady", "@",
    "at", "pace", "of", "as", "a", "to", "for", "each", "x",
];

/// Those of them that say how it is run.
const SAYING: [&str; 6] = ["easy", "jog", "jogging", "jogged", "slow", "gentle"];

/// From here on a number without a unit may as well be minutes: nobody jogs ten kilometres to get warm.
const PERHAPS_MINUTES: Milli = Milli::whole(10);

/// A part of a run that is there to get warm or to cool down: "2 km easy warm up", "cool down (10 min)".
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Around {
    warms: bool,
    cools: bool,
    amount: Option<RawAmount>,
    /// Whether it was said to be inside a whole: "9 km, incl. 2 km warm up".
    is_inside: bool,
    /// The words as typed.
    pub(super) words: String,
    /// The words without the amount.
    bare: String,
}

impl Around {
    /// Reads words that are nothing but a warm-up, a cool-down or both.
    ///
    /// # Errors
    ///
    /// An amount in them that is none, or a number that may be distance or minutes.
    pub(super) fn read(words: &str) -> Result<Option<Self>, ProblemKind> {
        let mut text = Text::new(words);
        let is_inside = text.take_any_phrase(&INSIDE);
        let words = text.left();
        let Some(named) = Named::find(words) else { return Ok(None) };
        let Some((in_front, how)) = named.read_in_front()? else { return Ok(None) };
        if !named.is_all() {
            return Ok(None);
        }
        let (amount, said) = match in_front {
            Some(_) => (in_front, named.behind),
            None => named.read_behind()?,
        };
        if amount.is_some_and(|amount| !amount.has_unit() && amount.is_at_least(PERHAPS_MINUTES)) {
            return Err(unreadable(words, Expected::UnitOfWarmUp));
        }
        let bare = plain::joined([how, named.phrase, said], " ");
        let Named { warms, cools, .. } = named;
        Ok(Some(Self { warms, cools, amount, is_inside, words: words.to_owned(), bare }))
    }

    /// Takes the amount from a note behind the words, "warm up (2 km)"; says whether it did.
    pub(super) fn take_note(&mut self, note: &str) -> bool {
        let mut text = Text::new(note);
        if self.amount.is_none()
            && let Ok(Some(amount)) = RawAmount::take(&mut text)
            && text.is_done()
            && amount.has_unit()
        {
            self.amount = Some(amount);
            self.words = format!("{} {note}", self.words);
            return true;
        }
        false
    }

    /// The words with an amount that the whole counts, its unit said; any other amount as it was typed.
    fn told(&self, counted: Option<Amount>) -> String {
        counted.map_or_else(|| self.words.clone(), |amount| format!("{amount} {}", self.bare))
    }

    /// How often its amount is run.
    const fn times(&self) -> i32 {
        if self.warms && self.cools { 2 } else { 1 }
    }
}

/// A note without the amounts of warm-up and cool-down that a whole in this unit counts: "2 km wu, on the track" is "wu, on
/// the track".
pub(crate) fn without_amounts(note: &str, unit: Unit) -> String {
    let bare = |piece: &str| {
        let around = Around::read(piece).ok().flatten()?;
        let amount = around.amount.filter(RawAmount::has_unit)?.in_unit(unit).ok()?;
        (amount.unit() == unit).then_some(around.bare)
    };
    note.split(", ").map(|piece| bare(piece).unwrap_or_else(|| piece.to_owned())).collect::<Vec<_>>().join(", ")
}

/// Whether the words name a warm-up or a cool-down anywhere.
pub(super) fn is_named(words: &str) -> bool {
    Named::find(words).is_some()
}

/// Whether words are a warm-up or a cool-down, be it one that has to be asked about.
pub(super) fn is_around(words: &str) -> bool {
    matches!(Around::read(words), Ok(Some(_)) | Err(_))
}

/// The first words for a warm-up or a cool-down in a text, or for both ("wu/cd", "warm up and cool down"), and what
/// stands around them.
struct Named<'a> {
    before: &'a str,
    phrase: &'a str,
    behind: &'a str,
    warms: bool,
    cools: bool,
}

impl<'a> Named<'a> {
    fn find(words: &'a str) -> Option<Self> {
        let starts = words.match_indices(FIRST_LETTERS).map(|(index, _)| index);
        starts.filter(|index| begins_word(&words[..*index])).find_map(|index| Self::at(words, index))
    }

    fn at(words: &'a str, index: usize) -> Option<Self> {
        let start = Text::new(&words[index..]);
        let mut text = start;
        let warms = text.take_any_phrase(&WARM_UP);
        if !warms && !text.take_any_phrase(&COOL_DOWN) {
            return None;
        }
        let mut after = text;
        let joined = after.take_any_phrase(&["and", "&", "/", "plus", "-"]);
        let both = joined && after.take_any_phrase(if warms { &COOL_DOWN } else { &WARM_UP });
        let end = if both { after } else { text };
        Some(Self {
            before: &words[..index],
            phrase: end.since(&start),
            behind: end.left(),
            warms: warms || both,
            cools: !warms || both,
        })
    }

    /// The amount in front and how it is run: "2 km easy" of "2 km easy warm up". Nothing where something else stands
    /// there.
    fn read_in_front(&self) -> Result<Option<(Option<RawAmount>, &'a str)>, ProblemKind> {
        let mut text = Text::new(self.before);
        skip_filling(&mut text);
        if starts_with_reps(text) {
            return Ok(None);
        }
        let amount = RawAmount::take(&mut text)?;
        let how = if amount.is_some() { text.left() } else { "" };
        skip_filling(&mut text);
        let says = |word: &str| SAYING.iter().any(|saying| word.eq_ignore_ascii_case(saying));
        let how = if how.split(' ').any(says) { how } else { "" };
        Ok(text.is_done().then_some((amount, how)))
    }

    /// The amount behind, and what is left there: "of 2 km with drills".
    fn read_behind(&self) -> Result<(Option<RawAmount>, &'a str), ProblemKind> {
        let mut text = self.text_behind();
        let amount = RawAmount::take(&mut text)?;
        Ok((amount, if amount.is_some() { text.left() } else { self.behind }))
    }

    /// Whether nothing but words about it stands behind: no second one, no repetitions, nothing that is run after it.
    fn is_all(&self) -> bool {
        let goes_on = |words: &str| starts_with_reps(Text::new(words)) || { Text::new(words) }.take_any_phrase(&THEN);
        let further = self.behind.match_indices(' ').map(|(index, _)| &self.behind[index + 1..]);
        !is_named(self.behind)
            && !starts_with_reps(self.text_behind())
            && !goes_on(self.behind)
            && !further.into_iter().any(goes_on)
    }

    /// What stands behind, without a word that leads over to it.
    fn text_behind(&self) -> Text<'a> {
        let mut text = Text::new(self.behind);
        text.take_any_phrase(&[":", "of", "for", "with", "by"]);
        text.skip_space();
        text
    }
}

/// Whether a word begins behind this text: "wu" in "2wu", not in "rewu".
fn begins_word(before: &str) -> bool {
    before.chars().next_back().is_none_or(|last| last.is_whitespace() || last.is_ascii_digit())
}

fn skip_filling(text: &mut Text<'_>) {
    while !text.is_done() && text.take_any_phrase(&FILLING) {}
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn whoever_looks_for_first_letters_misses_no_words() {
        for phrase in WARM_UP.into_iter().chain(COOL_DOWN) {
            assert!(phrase.starts_with(FIRST_LETTERS), "{phrase}");
            assert!(is_named(phrase) && is_named(&phrase.to_uppercase()), "{phrase}");
            assert!(is_named(&format!("2 km {phrase}")) && is_named(&format!("10{phrase}")), "{phrase}");
        }
    }

    #[test]
    fn a_note_lets_go_of_the_amounts_that_a_whole_counts_and_of_nothing_else() {
        for (note, unit, left) in [
            ("2 km wu, 2 km cd", Unit::Km, "wu, cd"),
            ("PM, 2 km easy warm-up, on the track, 1.5 km cd", Unit::Km, "PM, easy warm-up, on the track, cd"),
            ("15 min wu, 10 min cd", Unit::Km, "15 min wu, 10 min cd"),
            ("last 5 km at MP", Unit::Km, "last 5 km at MP"),
            ("2-3 mi warm up", Unit::Mi, "warm up"),
        ] {
            assert_eq!(without_amounts(note, unit), left);
        }
    }

    #[test]
    fn a_warm_up_is_its_amount_and_its_words() {
        for (words, has_amount, bare) in [
            ("2 km warm up", true, "warm up"),
            ("2 km easy warm up with drills", true, "easy warm up with drills"),
            ("warm up of 2 km", true, "warm up"),
            ("warm up", false, "warm up"),
            ("wu/cd 2 km", true, "wu/cd"),
        ] {
            let around = Around::read(words).expect(words).expect(words);
            assert_eq!((around.amount.is_some(), around.bare.as_str()), (has_amount, bare), "{words}");
        }
        for words in ["6 x 800 m", "warm up then 5 km", "warm up 6 x 100 m", "tempo 5 km"] {
            assert_eq!(Around::read(words), Ok(None), "{words}");
        }
    }
}
