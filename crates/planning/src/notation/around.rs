//! Warm-up and cool-down: what is run around the main part of a session.
//!
//! "2 km warm up, 6 x 800 m, 2 km cool down" tells a run by its parts, in the order in which they are
//! run, where the rest of the notation tells the whole and what is inside. The whole is their sum; the
//! words stay as a note. What cannot be added up is asked for.

use super::amounts::RawAmount;
use super::line::{Part, Parts, unreadable};
use super::read::{is_recovery, starts_with_reps, take_kind, take_length};
use super::text::Text;
use crate::problem::{Expected, ProblemKind};
use crate::session::{Kind, SetUnit, Sets};
use crate::units::{Amount, Milli, Unit};

const WARM_UP: [&str; 6] = ["warm up", "warmup", "warming up", "wu", "w/u", "warm ups"];
const COOL_DOWN: [&str; 9] =
    ["cool down", "cooldown", "cooling down", "cd", "c/d", "warm down", "warmdown", "cool downs", "warming down"];

/// With one of these each of them begins: hardly a line of a week holds one where a word begins, and every day
/// that is read is looked through.
const FIRST_LETTERS: [char; 4] = ['w', 'W', 'c', 'C'];

/// Words that part what is run one after the other.
const THEN: [&str; 6] = ["and then", "then", "followed by", "into", "before", "after"];

/// Words that do so only in front of a warm-up or a cool-down: "warm up with drills and strides".
const AND: [&str; 3] = ["and", "plus", "&"];

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

/// A part of a run that is there to get warm or to cool down.
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
        let Some((before, behind, warms, cools)) = find(words) else { return Ok(None) };
        let (mut front, mut back) = (Text::new(before), Text::new(behind));
        skip_filling(&mut front);
        if starts_with_reps(front) {
            return Ok(None);
        }
        let in_front = RawAmount::take(&mut front)?;
        let how = if in_front.is_some() { front.left() } else { "" };
        skip_filling(&mut front);
        if !front.is_done() || find(behind).is_some() {
            return Ok(None);
        }
        back.take_any_phrase(&[":", "of", "for", "with", "by"]);
        back.skip_space();
        let goes_on = |index: usize| {
            let text = Text::new(&behind[index..]);
            starts_with_reps(text) || { text }.take_any_phrase(&THEN)
        };
        if starts_with_reps(back) || behind.match_indices(' ').any(|(index, _)| goes_on(index + 1)) || goes_on(0) {
            return Ok(None);
        }
        let amount = match in_front {
            None => RawAmount::take(&mut back)?,
            some => some,
        };
        let phrase = words[before.len()..].trim_end_matches(behind).trim();
        let how =
            if SAYING.iter().any(|word| how.split(' ').any(|one| one.eq_ignore_ascii_case(word))) { how } else { "" };
        let said = if in_front.is_some() || amount.is_none() { behind } else { back.left() };
        let bare = [how, phrase, said].into_iter().filter(|part| !part.is_empty()).collect::<Vec<_>>().join(" ");
        if amount.is_some_and(|amount| !amount.has_unit() && amount.is_at_least(PERHAPS_MINUTES)) {
            return Err(unreadable(words, Expected::UnitOfWarmUp));
        }
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

    /// How often its amount is run.
    const fn times(&self) -> i32 {
        if self.warms && self.cools { 2 } else { 1 }
    }
}

/// Whether the words name a warm-up or a cool-down anywhere.
pub(super) fn is_named(words: &str) -> bool {
    find(words).is_some()
}

/// What stands before and behind the first words for it, and whether these are for a warm-up, a
/// cool-down, or both ("wu/cd", "warm up and cool down").
fn find(words: &str) -> Option<(&str, &str, bool, bool)> {
    for (index, _) in words.match_indices(FIRST_LETTERS) {
        let before = words[..index].chars().next_back();
        if before.is_some_and(|before| !before.is_whitespace() && !before.is_ascii_digit()) {
            continue;
        }
        let mut text = Text::new(&words[index..]);
        let warms = text.take_any_phrase(&WARM_UP);
        if !warms && !text.take_any_phrase(&COOL_DOWN) {
            continue;
        }
        let mut after = text;
        let joined = after.take_any_phrase(&["and", "&", "/", "plus", "-"]);
        let both = joined && after.take_any_phrase(if warms { &COOL_DOWN } else { &WARM_UP });
        let behind = if both { after } else { text };
        return Some((&words[..index], behind.left(), warms || both, !warms || both));
    }
    None
}

fn skip_filling(text: &mut Text<'_>) {
    while !text.is_done() && text.take_any_phrase(&FILLING) {}
}

/// Cuts the parts of a session where it goes on to a warm-up or a cool-down, or from there:
/// "15 min warm up then 5 x 3 min".
pub(super) fn apart(parts: &[Part]) -> Parts {
    parts.iter().flat_map(|part| if is_named(&part.words) { part_apart(part) } else { vec![part.clone()] }).collect()
}

fn part_apart(part: &Part) -> Parts {
    let pieces = pieces(&part.words);
    // Notes and quotes belong to repetitions where there are any: their recovery, their pace.
    let holder = pieces.iter().position(|words| starts_with_reps(Text::new(words))).unwrap_or(pieces.len() - 1);
    let of = |(index, words): (usize, &str)| {
        let rest = if index == holder { part.clone() } else { Part::default() };
        Part { words: words.to_owned(), ..rest }
    };
    pieces.into_iter().enumerate().map(of).collect()
}

/// Takes easy parts before and behind one hard part for warm-up and cool-down: "3 km easy, 6 km tempo, 3 km
/// easy" tells a run by its parts, as nobody says of a whole.
pub(super) fn in_order(parts: Parts) -> Parts {
    if parts.len() < 2 {
        return parts;
    }
    let Some(main) = main_of(&parts) else { return parts };
    let as_around = |(at, part): (usize, Part)| {
        let phrase = if at < main { WARM_UP[0] } else { COOL_DOWN[0] };
        let is_gentle = matches!(piece(&part), Some(Piece::Gentle));
        let is_jog = at == main + 1 && is_recovery(&part.words) && at + 1 < parts.len();
        if is_gentle && !is_jog { Part { words: format!("{} {phrase}", part.words), ..part } } else { part }
    };
    parts.iter().cloned().enumerate().map(as_around).collect()
}

/// Three runs in a day, of which the middle one is hard, are one that is told by its parts: "5 km easy + 4 km tempo +
/// 1 km easy".
pub(super) fn one_run(slots: Vec<Vec<Parts>>) -> Vec<Vec<Parts>> {
    if slots.len() < 3 {
        return slots;
    }
    let parts: Option<Parts> = slots
        .iter()
        .map(|slot| match slot.as_slice() {
            [parts] if parts.len() == 1 => Some(parts[0].clone()),
            _ => None,
        })
        .collect();
    let is_one = |parts: &Parts| main_of(parts).is_some_and(|main| main > 0 && main + 1 < parts.len());
    match parts.filter(is_one) {
        Some(parts) => vec![vec![parts]],
        None => slots,
    }
}

/// What a part is in a run that may be told by its parts.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Piece {
    /// "3 km easy"
    Gentle,
    /// "6 km tempo"
    Hard,
    /// "5 x 1 km"
    Reps,
}

/// Where the one hard part stands among easy ones; nothing where parts are something else.
fn main_of(parts: &[Part]) -> Option<usize> {
    let pieces: Vec<Option<Piece>> = parts.iter().map(piece).collect();
    let main = pieces.iter().position(|piece| matches!(piece, Some(Piece::Hard | Piece::Reps)))?;
    let is_gentle = |at: usize| pieces[at] == Some(Piece::Gentle);
    let others = || (0..pieces.len()).filter(|at| *at != main);
    let jog = (pieces[main] == Some(Piece::Reps) && main + 2 < parts.len()).then_some(main + 1);
    let is_recovered = |at: usize| jog == Some(at) && is_recovery(&parts[at].words);
    let fits = others().all(|at| is_gentle(at) || is_recovered(at)) && others().next().is_some();
    // "8 km easy, 6 x 100 m strides" is no run by its parts: repetitions stand between two of them.
    let between = main > 0 && main + 1 < parts.len() && is_gentle(parts.len() - 1);
    (fits && (pieces[main] == Some(Piece::Hard) || between)).then_some(main)
}

fn piece(part: &Part) -> Option<Piece> {
    let mut text = Text::new(&part.words);
    if starts_with_reps(text) {
        let strides = part.words.to_ascii_lowercase().contains("stride");
        return (!strides).then_some(Piece::Reps);
    }
    let in_front = take_kind(&mut text);
    text.skip_space();
    if starts_with_reps(text) {
        return in_front.filter(|(kind, _)| kind.assumed_hard().is_some()).map(|_| Piece::Reps);
    }
    RawAmount::take(&mut text).ok().flatten()?;
    text.take_any_phrase(&["@", "at"]);
    let (kind, _) = in_front.or_else(|| take_kind(&mut text))?;
    let is_gentle = matches!(kind, Kind::Easy | Kind::Recovery | Kind::Steady);
    match kind.assumed_hard() {
        _ if !text.is_done() => None,
        Some(_) => Some(Piece::Hard),
        None => is_gentle.then_some(Piece::Gentle),
    }
}

/// Whether words are a warm-up or a cool-down, be it one that has to be asked about.
pub(super) fn is_around(words: &str) -> bool {
    matches!(Around::read(words), Ok(Some(_)) | Err(_))
}

/// Words in more places than these are no list of parts; trying every place in every rest would take long.
const MOST_PLACES: usize = 20;

fn pieces(words: &str) -> Vec<&str> {
    if is_named(words) && !is_around(words) && words.matches(' ').count() <= MOST_PLACES {
        for (index, _) in words.match_indices(' ') {
            let (front, behind) = (&words[..index], &words[index + 1..]);
            let mut text = Text::new(behind);
            let is_inside = Text::new(behind).take_any_phrase(&INSIDE);
            let goes_on = text.take_any_phrase(&THEN);
            if !goes_on && !is_inside && !front.ends_with(':') && !text.take_any_phrase(&AND) {
                continue;
            }
            let front = front.trim_end_matches(':');
            let rest = pieces(text.left());
            let joins = rest.first().is_some_and(|first| is_around(first)) && stands_alone(front, behind);
            if joins || (goes_on && is_around(front)) {
                return std::iter::once(front).chain(rest).collect();
            }
        }
    }
    vec![words]
}

/// Whether words are repetitions, or an amount and a kind without a tail that has always been a note.
fn stands_alone(words: &str, behind: &str) -> bool {
    const TAILS: [&str; 8] = ["with", "w/", "at", "@", "in", "on", "by", "hard"];
    let is_tail = |word: &str| TAILS.iter().any(|tail| word.eq_ignore_ascii_case(tail));
    let first_behind = behind.split(' ').next().unwrap_or_default();
    starts_with_reps(Text::new(words)) || !words.split(' ').chain([first_behind]).any(is_tail)
}

/// Joins a slot that is nothing but a warm-up to the one behind it, and a cool-down to the one before:
/// "2 km wu + 6 x 800 m + 2 km cd" is one run.
pub(super) fn joined(slots: Vec<Vec<Parts>>) -> Vec<Vec<Parts>> {
    let alone = |slot: &[Parts]| match slot {
        [parts] => match parts.as_slice() {
            [part] => Around::read(&part.words).ok().flatten().map(|around| (part.clone(), around)),
            _ => None,
        },
        _ => None,
    };
    let mut done: Vec<Vec<Parts>> = Vec::with_capacity(slots.len());
    let mut waiting: Parts = Vec::new();
    for mut slot in slots {
        match (alone(&slot), done.last_mut()) {
            (Some((part, around)), Some(before)) if around.cools => {
                for option in before {
                    option.push(part.clone());
                }
            }
            (Some((part, _)), _) => waiting.push(part),
            (None, _) => {
                for option in &mut slot {
                    option.splice(0..0, waiting.iter().cloned());
                }
                waiting.clear();
                done.push(slot);
            }
        }
    }
    if !waiting.is_empty() {
        done.push(vec![waiting]);
    }
    done
}

/// The warm-ups and cool-downs of one session, with the amounts that stand where they do.
#[derive(Default)]
pub(super) struct Parted {
    /// Each with the place of its words among the notes.
    around: Vec<(usize, Around)>,
    /// What is run between them, with its words.
    between: Option<(RawAmount, String)>,
    /// The words of the amount that was typed before or behind all of them.
    whole: Option<(String, bool)>,
}

/// The whole of a session and its hard part.
type Told = (Option<Amount>, Option<Amount>);

/// The rest of such a session.
pub(super) struct Rest<'a> {
    pub(super) kind: Kind,
    pub(super) sets: &'a [Sets],
    pub(super) amount: Option<Amount>,
    pub(super) hard: Option<Amount>,
    /// The unit of numbers without one.
    pub(super) unit: Unit,
}

impl Parted {
    pub(super) fn push(&mut self, around: Around, note: usize) {
        self.around.push((note, around));
    }

    fn all(&self) -> impl Iterator<Item = &Around> {
        self.around.iter().map(|(_, around)| around)
    }

    /// The notes that stay without their amount, because the whole counts it: a block that shortens the whole
    /// would else contradict it.
    pub(super) fn counted(&self, whole: Option<Amount>, unit: Unit) -> Vec<(usize, String)> {
        let is_counted = |around: &Around| {
            let amount = around.amount.and_then(|raw| raw.in_unit(unit).ok());
            amount.zip(whole).is_some_and(|(amount, whole)| amount.unit() == whole.unit())
        };
        self.around.iter().filter(|(_, one)| is_counted(one)).map(|(at, one)| (*at, one.bare.clone())).collect()
    }

    pub(super) fn is_empty(&self) -> bool {
        self.around.is_empty()
    }

    /// Whether what comes now is run between a warm-up and whatever follows.
    pub(super) fn is_open(&self) -> bool {
        let warm = self.all().any(|around| around.warms && !around.is_inside);
        warm && !self.all().any(|around| around.cools)
    }

    /// Keeps an amount that is run between; says whether it is the first.
    pub(super) fn put_between(&mut self, amount: RawAmount, words: &str) -> bool {
        let is_first = self.between.is_none();
        self.between.get_or_insert_with(|| (amount, words.to_owned()));
        is_first
    }

    /// Notes where the amount of the whole was typed.
    pub(super) fn note_whole(&mut self, words: &str) {
        self.whole = Some((words.to_owned(), self.around.is_empty()));
    }

    /// What is asked where no kind is said: "2 km warm up, 5 km, 2 km cool down".
    pub(super) fn unsaid(&self) -> ProblemKind {
        let words = self.between.as_ref().map_or_else(|| self.told(), |(_, words)| words.clone());
        unreadable(&words, Expected::PartBetween)
    }

    /// The whole and the hard part.
    ///
    /// # Errors
    ///
    /// Parts that cannot be added up where no whole is given, a whole that is less than its parts, and
    /// what can be read in two ways.
    pub(super) fn settle(&mut self, rest: &Rest<'_>) -> Result<Told, ProblemKind> {
        let (mut amount, mut between) = (rest.amount, None);
        if let Some((raw, words)) = self.between.take() {
            between = Some((raw.in_unit(rest.unit)?, words));
        }
        // With repetitions the one amount is the whole, as everywhere else.
        if !rest.sets.is_empty() && amount.is_none() {
            amount = between.take().map(|(between, _)| between);
        }
        let is_in_front = self.whole.as_ref().is_some_and(|(_, in_front)| *in_front);
        let only_cools = self.all().all(|around| !around.warms && !around.is_inside && around.amount.is_some());
        if only_cools && is_in_front && rest.sets.is_empty() && rest.hard.is_none() {
            let words = self.whole.as_ref().map_or_else(String::new, |(words, _)| words.clone());
            between = amount.take().map(|amount| (amount, words));
        }
        let is_even = matches!(rest.kind, Kind::Tempo | Kind::RacePace | Kind::TimeTrial);
        let around = self.sum_around(rest.unit)?;
        let Some(amount) = amount else { return self.added_up(rest, between.as_ref(), around, is_even) };
        let parts = match (&between, around) {
            (Some((between, _)), Some(around)) => add(around, *between, 1),
            (None, Some(around)) => with_sets(around, rest.sets, Jogs::Uncounted).or(Some(around)),
            (_, None) => None,
        };
        if parts.is_some_and(|parts| parts.unit() == amount.unit() && parts.high() > amount.high()) {
            return Err(unreadable(&self.told(), Expected::WholeRun));
        }
        let mut hard = rest.hard;
        if hard.is_none() && is_even && rest.sets.is_empty() {
            let warms_and_cools = self.all().any(|one| one.warms) && self.all().any(|one| one.cools);
            let is_inside = self.all().any(|one| one.is_inside);
            match (between, around) {
                (Some((between, _)), _) => hard = Some(between),
                (None, Some(around)) if warms_and_cools && is_inside => {
                    hard = less(amount, around);
                }
                // "tempo 9 km, 2 km warm up, 2 km cool down": nine with them or without?
                (None, Some(_)) if is_in_front && !is_inside => {
                    let words = self.whole.as_ref().map_or_else(String::new, |(words, _)| words.clone());
                    return Err(unreadable(&words, Expected::PartsInOrder));
                }
                _ => {}
            }
        }
        Ok((Some(amount), hard))
    }

    /// The whole as the sum of everything that is run.
    fn added_up(
        &self,
        rest: &Rest<'_>,
        between: Option<&(Amount, String)>,
        around: Option<Amount>,
        is_even: bool,
    ) -> Result<Told, ProblemKind> {
        if between.is_none() && rest.sets.is_empty() {
            return Err(unreadable(&self.told(), Expected::PartBetween));
        }
        let sum = around.and_then(|around| match between {
            Some((between, _)) => add(around, *between, 1),
            None => with_sets(around, rest.sets, Jogs::Counted),
        });
        let Some(amount) = sum else { return Err(unreadable(&self.told(), Expected::WholeRun)) };
        let hard = rest.hard.or_else(|| between.filter(|_| is_even).map(|(between, _)| *between));
        let written = |value: Milli| if is_mixed(rest.sets, amount.unit()) { tenths(value) } else { value };
        Ok((Some(Amount::checked(written(amount.low()), written(amount.high()), amount.unit())?), hard))
    }

    /// All warm-ups and cool-downs; nothing where one has no amount or another unit.
    fn sum_around(&self, unit: Unit) -> Result<Option<Amount>, ProblemKind> {
        let mut sum: Option<Amount> = None;
        for around in self.all() {
            let Some(raw) = around.amount else { return Ok(None) };
            let amount = raw.in_unit(unit)?;
            let start = sum.unwrap_or_else(|| Amount::exact(Milli::ZERO, amount.unit()));
            sum = add(start, amount, around.times());
            if sum.is_none() {
                return Ok(None);
            }
        }
        Ok(sum)
    }

    /// The words of all of them, as a question names them.
    fn told(&self) -> String {
        self.all().map(|around| around.words.as_str()).collect::<Vec<_>>().join(", ")
    }
}

/// Two amounts of one unit; nothing for two units. What is too much for a session stays too much.
fn add(one: Amount, other: Amount, times: i32) -> Option<Amount> {
    let sum = |one: Milli, other: Milli| Milli(one.0.saturating_add(other.0.saturating_mul(times)));
    (one.unit() == other.unit())
        .then(|| Amount::between(sum(one.low(), other.low()), sum(one.high(), other.high()), one.unit()))
}

/// Whether repetitions in metres or kilometres are summed in miles, or the other way round.
fn is_mixed(sets: &[Sets], unit: Unit) -> bool {
    sets.iter().any(|sets| match sets.unit {
        SetUnit::M | SetUnit::Km => unit == Unit::Mi,
        SetUnit::Mi => unit == Unit::Km,
        SetUnit::S | SetUnit::Min => false,
    })
}

/// To a tenth: nobody writes 6.983 miles.
const fn tenths(value: Milli) -> Milli {
    Milli((value.0.saturating_add(50)) / 100 * 100)
}

/// What of a whole is left beside a part.
fn less(whole: Amount, part: Amount) -> Option<Amount> {
    let left = |whole: Milli, part: Milli| Milli(whole.0.saturating_sub(part.0));
    let (low, high) = (left(whole.low(), part.low()), left(whole.high(), part.high()));
    (whole.unit() == part.unit() && low > Milli::ZERO && high >= low).then(|| Amount::between(low, high, whole.unit()))
}

/// Whether jogs between repetitions count: they do in a sum of ours, but many a whole leaves them out.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Jogs {
    Counted,
    Uncounted,
}

/// The repetitions on top, and the jogs between them as far as these are told in the same unit; nothing
/// where the repetitions are in another unit.
fn with_sets(around: Amount, sets: &[Sets], jogs: Jogs) -> Option<Amount> {
    let mut sum = around;
    for sets in sets {
        let run = sets.total_in(around.unit())?;
        let jogged = jogged(sets, around.unit()).filter(|_| jogs == Jogs::Counted).unwrap_or(Milli::ZERO);
        sum = add(sum, Amount::exact(Milli(run.0.saturating_add(jogged.0)), around.unit()), 1)?;
    }
    Some(sum)
}

/// The jogs between repetitions, in a unit in which they are told.
fn jogged(sets: &Sets, unit: Unit) -> Option<Milli> {
    let is_run = sets.recovery.split(' ').any(|word| ["jog", "jogging", "float"].contains(&word));
    let mut text = Text::new(&sets.recovery);
    let (length, of) = take_length(&mut text).ok().flatten()?;
    let between =
        Sets { reps: sets.reps.saturating_sub(1), length, unit: of, pace: String::new(), recovery: String::new() };
    is_run.then(|| between.total_in(unit)).flatten()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn whoever_looks_for_first_letters_misses_no_words() {
        for phrase in WARM_UP.into_iter().chain(COOL_DOWN) {
            assert!(phrase.starts_with(FIRST_LETTERS), "{phrase}");
            assert!(find(phrase).is_some() && find(&phrase.to_uppercase()).is_some(), "{phrase}");
            assert!(find(&format!("2 km {phrase}")).is_some() && find(&format!("10{phrase}")).is_some(), "{phrase}");
        }
    }
}
