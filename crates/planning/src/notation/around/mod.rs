//! Warm-up and cool-down: what is run around the main part of a session.
//!
//! Elsewhere in the notation a line tells the whole and what is inside it: "9 km, hard 5 km". With a warm-up or a
//! cool-down it tells the parts in the order in which they are run, and the whole is their sum:
//!
//! ```text
//! 2 km warm up, 6 x 800 m, 2 km cool down     the whole is 8.8 km: two, six times 800 m, two
//! 2 km wu, tempo 5 km, 2 km cd                9 km, of which the tempo run between them is hard: 5 km
//! 3 km easy, 6 km tempo, 3 km easy            the same without the words: easy, hard, easy
//! 20 wu, 2 x 15 min, 10 cd                    ten and more without a unit are minutes
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
//! shorter, they stay as they are as long as there is room for them; then [`fitted`] makes them shorter too.

mod heading;
mod parts;
mod short;
mod whole;

pub(super) use heading::to_the_work;
pub(super) use parts::{apart, in_order, is_told_by_parts, joined, loosens, one_run};
pub(super) use short::in_full as short_in_full;
pub(crate) use whole::jogged_in;
pub(super) use whole::{Parted, Rest, Unsettled, jogged_at, up_to_half};

use super::amounts::RawAmount;
use super::sets::starts_with_reps;
use super::text::Text;
use crate::plain;
use crate::problem::ProblemKind;
use crate::units::{Amount, Milli, Unit};

const WARM_UP: [&str; 9] =
    ["warm up", "warmup", "warming up", "warming", "wu", "w/u", "warm ups", "einlaufen", "inlopen"];
const COOL_DOWN: [&str; 14] = [
    "cool down",
    "cooldown",
    "cooling down",
    "cooling",
    "cd",
    "c/d",
    "wd",
    "w/d",
    "warm down",
    "warmdown",
    "cool downs",
    "warming down",
    "auslaufen",
    "uitlopen",
];

/// With one of these each of them begins: few words of a week do, and every day that is read is looked through.
const FIRST_LETTERS: [char; 12] = ['w', 'W', 'c', 'C', 'e', 'E', 'a', 'A', 'i', 'I', 'u', 'U'];

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

/// From here on a number without a unit is minutes: nobody jogs ten kilometres or miles to get warm.
///
/// # Source
///
/// Common practice, no published source.
const LEAST_MINUTES: Milli = Milli::whole(10);

/// The shortest run that has room for a warm-up, a cool-down and something hard between them.
///
/// # Source
///
/// Common practice, no published source.
pub(super) const fn shortest_whole(unit: Unit) -> Milli {
    match unit {
        Unit::Km => Milli::whole(8),
        Unit::Mi => Milli::whole(5),
        Unit::Min => Milli::whole(40),
    }
}

/// A part of a run that is there to get warm or to cool down: "2 km easy warm up", "cool down (10 min)".
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Around {
    warms: bool,
    cools: bool,
    amount: Option<RawAmount>,
    /// Whether it was said to be inside a whole: "9 km, incl. 2 km warm up".
    is_inside: bool,
    /// The amount where its number was typed without a unit, and is minutes for its size.
    supplied: Option<Amount>,
    /// The words as typed, with a unit that was supplied.
    pub(super) words: String,
    /// The words without the amount.
    bare: String,
}

impl Around {
    /// Reads words that are nothing but a warm-up, a cool-down or both.
    ///
    /// # Errors
    ///
    /// An amount in them that is none, or more than anybody runs.
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
        let bare = plain::joined([how, named.phrase, said], " ");
        let Named { warms, cools, .. } = named;
        let minutes = amount.filter(|amount| !amount.has_unit() && amount.is_at_least(LEAST_MINUTES));
        let Some(minutes) = minutes.map(RawAmount::as_minutes) else {
            let words = words.to_owned();
            return Ok(Some(Self { warms, cools, amount, is_inside, supplied: None, words, bare }));
        };
        let supplied = minutes.in_unit(Unit::Min)?;
        let words = format!("{supplied} {bare}");
        Ok(Some(Self { warms, cools, amount: Some(minutes), is_inside, supplied: Some(supplied), words, bare }))
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

/// In what steps a warm-up or a cool-down becomes shorter.
///
/// # Source
///
/// Common practice, no published source.
const fn step(unit: Unit) -> i32 {
    match unit {
        Unit::Km | Unit::Mi => 500,
        Unit::Min => 5000,
    }
}

/// The shortest that is told: below it the athlete says what is left of it.
///
/// # Source
///
/// Common practice, no published source.
const fn shortest(unit: Unit) -> i32 {
    match unit {
        Unit::Km => 1000,
        Unit::Mi => 500,
        Unit::Min => 5000,
    }
}

/// The warm-up or the cool-down that a piece of a note tells, with its amount where a whole in this unit counts it.
fn counted(piece: &str, unit: Unit) -> Option<(Around, Amount)> {
    let around = in_piece(piece)?;
    let amount = around.amount.filter(RawAmount::has_unit)?.in_unit(unit).ok()?;
    (amount.unit() == unit).then_some((around, amount))
}

/// How much warm-up and cool-down a note tells that a whole in this unit counts.
pub(crate) fn in_note(note: &str, unit: Unit) -> Milli {
    let told = note.split(", ").filter_map(|piece| counted(piece, unit));
    told.map(|(around, amount)| Milli(amount.middle().0 * around.times())).sum()
}

/// The warm-up and the cool-down of a note, without its other words.
pub(crate) fn around_alone(note: &str) -> String {
    note.split(", ").filter(|piece| in_piece(piece).is_some()).collect::<Vec<_>>().join(", ")
}

/// The warm-up or the cool-down that a piece of a note tells, whatever its amount.
fn in_piece(piece: &str) -> Option<Around> {
    Around::read(piece).ok().flatten()
}

/// A note whose warm-up and cool-down, as far as a whole in this unit counts them, need no more than there is room for:
/// "2 km wu, on the track" is "1.5 km wu, on the track", or "wu, on the track" where hardly any is left.
pub(crate) fn fitted(note: &str, unit: Unit, room: Milli) -> String {
    let whole = in_note(note, unit);
    if whole <= room {
        return note.to_owned();
    }
    let told = note.split(", ").map(|piece| (piece, counted(piece, unit)));
    let mut pieces: Vec<(&str, Option<(Around, Milli)>)> =
        told.map(|(piece, counted)| (piece, counted.map(|(around, amount)| (around, amount.middle())))).collect();
    let part = room.as_f64().max(0.0) / whole.as_f64();
    let mut left = room;
    let usual: Vec<Option<Milli>> = pieces.iter().map(|(_, told)| told.as_ref().map(|(_, usual)| *usual)).collect();
    for (around, amount) in pieces.iter_mut().filter_map(|(_, told)| told.as_mut()) {
        *amount = Milli((f64::from(amount.0) * part) as i32 / step(unit) * step(unit));
        left = left - Milli(amount.0 * around.times());
    }
    // What rounding left goes to the first, as a rule the warm-up.
    for ((_, told), usual) in pieces.iter_mut().zip(usual) {
        let (Some((around, amount)), Some(usual)) = (told.as_mut(), usual) else { continue };
        let more = Milli(step(unit));
        if *amount + more <= usual && Milli(more.0 * around.times()) <= left {
            *amount = *amount + more;
            left = left - Milli(more.0 * around.times());
        }
    }
    let is_told = pieces.iter().filter_map(|(_, told)| told.as_ref()).all(|(_, amount)| amount.0 >= shortest(unit));
    let now = |(piece, told): (&str, Option<(Around, Milli)>)| match told {
        None => piece.to_owned(),
        Some((around, amount)) if is_told => around.told(Some(Amount::exact(amount, unit))),
        Some((around, _)) => around.bare,
    };
    pieces.into_iter().map(now).collect::<Vec<_>>().join(", ")
}

/// The pieces of a note in the order in which they are run: what gets warm, what is neither, what cools down.
pub(crate) fn as_run(note: &str) -> [Vec<&str>; 3] {
    let mut pieces: [Vec<&str>; 3] = Default::default();
    for piece in note.split(", ").filter(|piece| !piece.is_empty()) {
        let place = match in_piece(piece) {
            Some(Around { warms: true, cools: false, .. }) => 0,
            Some(Around { warms: false, cools: true, .. }) => 2,
            _ => 1,
        };
        pieces[place].push(piece);
    }
    pieces
}

/// Whether a note tells a warm-up or a cool-down of kilometres or miles that is longer than any.
pub(super) fn jogs_far(note: &str) -> bool {
    let is_far = |piece: &str| {
        let amount = in_piece(piece).and_then(|around| around.amount);
        amount.is_some_and(|amount| amount.is_distance() && amount.is_at_least(LEAST_MINUTES))
    };
    note.split(", ").any(is_far)
}

/// Whether the words name a warm-up or a cool-down anywhere.
pub(super) fn is_named(words: &str) -> bool {
    Named::find(words).is_some()
}

/// Whether the first words for either name a warm-up and a cool-down at once: "wu/cd".
pub(super) fn names_both(words: &str) -> bool {
    Named::find(words).is_some_and(|named| named.warms && named.cools)
}

/// Whether words are a cool-down and no warm-up.
pub(super) fn is_cool_down(words: &str) -> bool {
    in_piece(words).is_some_and(|around| !around.warms)
}

/// Whether words are a warm-up or a cool-down, be it of an amount that is none.
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
    fn a_note_shortens_what_a_whole_counts_as_far_as_there_is_no_room_and_nothing_else() {
        for (note, unit, room, left) in [
            ("2 km wu, 2 km cd", Unit::Km, 4000, "2 km wu, 2 km cd"),
            ("2 km wu, 2 km cd", Unit::Km, 3999, "2 km wu, 1.5 km cd"),
            ("3 km wu, 2 km cd", Unit::Km, 4000, "2.5 km wu, 1.5 km cd"),
            ("2 km wu, 2 km cd", Unit::Km, 1900, "wu, cd"),
            ("2 km wu, 2 km cd", Unit::Km, -500, "wu, cd"),
            (
                "PM, 2 km easy warm-up, on the track, 1.5 km cd",
                Unit::Km,
                3000,
                "PM, 2 km easy warm-up, on the track, 1 km cd",
            ),
            ("PM, 2 km easy warm-up, on the track, 1.5 km cd", Unit::Km, 1000, "PM, easy warm-up, on the track, cd"),
            ("15 min wu, 10 min cd", Unit::Km, 0, "15 min wu, 10 min cd"),
            ("15 min wu, 10 min cd", Unit::Min, 20_000, "15 min wu, 5 min cd"),
            ("last 5 km at MP", Unit::Km, 0, "last 5 km at MP"),
            ("2-3 mi warm up", Unit::Mi, 1600, "1.5 mi warm up"),
            ("wu/cd 2 km", Unit::Km, 3500, "1.5 km wu/cd"),
        ] {
            assert_eq!(fitted(note, unit, Milli(room)), left, "{note} in {room}");
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
