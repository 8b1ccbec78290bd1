//! Which pieces of a line are parts of one run, and which of them stand around its main part.
//!
//! Four small passes over a line that is cut but not read yet, in the order in which they are used:
//!
//! ```text
//! one_run    5 km easy + 4 km tempo + 1 km easy        three runs of a day are one: the middle one is hard
//! joined     2 km wu + 6 x 800 m + 2 km cd             what is nothing but a warm-up belongs to its neighbour
//! apart      15 min wu then 5 x 3 min                  one piece of text is two parts
//! in_order   3 km easy, 6 km tempo, 3 km easy          easy, hard, easy are warm-up, main part, cool-down
//! ```

use super::super::amounts::RawAmount;
use super::super::doubles::half;
use super::super::kinds::{STRIDES, has_word, take_kind, take_kind_or_short};
use super::super::line::{Note, Part, Parts};
use super::super::sets::{is_recovery, starts_with_reps};
use super::super::text::Text;
use super::{Around, COOL_DOWN, INSIDE, THEN, WARM_UP, is_around, is_named};
use crate::session::Kind;

/// Words that part only in front of a warm-up or a cool-down: "warm up with drills and strides".
const AND: [&str; 3] = ["and", "plus", "&"];

/// Three runs in a day, of which the middle one is hard, are one that is told by its parts: "5 km easy + 4 km tempo +
/// 1 km easy". What is done besides stays beside it: "3 + 5T + 2 + gym".
pub(in super::super) fn one_run(slots: Vec<Vec<Parts>>) -> Vec<Vec<Parts>> {
    // Nobody warms up in the morning for the evening.
    let is_half = |note: &Note| match note {
        Note::Half(_) => true,
        Note::Plain(words) | Note::Quoted(words) => half(words).is_some(),
    };
    let begins_half = |slot: &Vec<Parts>| slot.iter().flatten().any(|part| part.notes.iter().any(is_half));
    if slots.len() < 3 || slots.iter().skip(1).any(begins_half) {
        return slots;
    }
    let is_run = |slot: &Vec<Parts>| {
        let first = slot.first().and_then(|parts| parts.first());
        let has_number = |part: &Part| part.words.starts_with(|one: char| one.is_ascii_digit());
        first.is_some_and(|part| has_number(part) || Piece::of(part).is_some())
    };
    let runs = |from: usize| {
        let further = slots[from + 1..].iter().position(|slot| !is_run(slot));
        let until = further.map_or(slots.len(), |at| from + 1 + at);
        of_parts(&slots[from..until]).map(|run| (from, until, run))
    };
    match (0..slots.len() - 2).find_map(runs) {
        Some((from, until, run)) => [&slots[..from], &[vec![run]], &slots[until..]].concat(),
        None => slots,
    }
}

/// The one run of which each of these slots is a part.
fn of_parts(slots: &[Vec<Parts>]) -> Option<Parts> {
    let mut slots = kind_in_front(slots.to_vec());
    // "3 + 5T + 2, with strides"
    let besides = match slots.last_mut()?.as_mut_slice() {
        [last] if last.len() > 1 && last[1..].iter().all(is_besides) => last.split_off(1),
        _ => Vec::new(),
    };
    let only_part = |slot: &Vec<Parts>| match slot.as_slice() {
        [parts] if parts.len() == 1 => Some(parts[0].clone()),
        _ => None,
    };
    // Nobody runs three times a day with the hard run between two bare numbers: "3 + 5T + 2".
    let easy = |part: Part| if is_bare(&part) { Part { words: format!("{} easy", part.words), ..part } } else { part };
    let parts: Parts = slots.iter().map(only_part).collect::<Option<Parts>>()?.into_iter().map(easy).collect();
    let is_one = main_of(&parts).is_some_and(|main| main > 0 && main + 1 < parts.len());
    is_one.then(|| [parts, besides].concat())
}

/// Whether a part is told beside a run and is none of what is run one after the other: strides, drills, company.
fn is_besides(part: &Part) -> bool {
    let is_led = { Text::new(&part.words) }.take_any_phrase(&["with", "w/"]);
    let has_number = part.words.contains(|one: char| one.is_ascii_digit());
    !part.words.is_empty() && !has_number && (is_led || loosens(&part.words) || has_word(&part.words, &STRIDES))
}

/// "T: 2 + 5 + 2": the kind that stands over three numbers is that of the middle one.
fn kind_in_front(mut slots: Vec<Vec<Parts>>) -> Vec<Vec<Parts>> {
    let [first, middle, last] = slots.as_mut_slice() else { return slots };
    let ([one], [two], [three]) = (first.as_mut_slice(), middle.as_mut_slice(), last.as_mut_slice()) else {
        return slots;
    };
    let ([one], [two], [three]) = (one.as_mut_slice(), two.as_mut_slice(), three.as_mut_slice()) else { return slots };
    let Some((kind, amount)) = one.words.split_once(':') else { return slots };
    let mut text = Text::new(kind);
    let is_hard = take_kind(&mut text).is_some_and(|(kind, _)| kind.assumed_hard().is_some()) && text.is_done();
    let front = Part { words: amount.trim().to_owned(), ..one.clone() };
    if is_hard && is_bare(&front) && is_bare(two) && is_bare(three) {
        two.words = format!("{} {}", two.words, kind.trim());
        *one = front;
    }
    slots
}

/// Whether pieces of a text are one run by its parts: something hard or repetitions in the middle, around it warm-up,
/// cool-down or easy running.
pub(in super::super) fn is_told_by_parts(pieces: &[String]) -> bool {
    let Some((first, rest)) = pieces.split_first() else { return false };
    let Some((last, middle)) = rest.split_last() else { return false };
    let piece = |words: &String| Piece::of(&Part { words: words.clone(), ..Part::default() });
    let is_gentle = |words: &String| is_around(words) || piece(words) == Some(Piece::Gentle);
    matches!(middle, [main] if matches!(piece(main), Some(Piece::Hard | Piece::Reps)))
        && is_gentle(first)
        && is_gentle(last)
}

/// Joins a slot that is nothing but a warm-up to the one behind it, and a cool-down to the one before:
/// "2 km wu + 6 x 800 m + 2 km cd" is one run.
pub(in super::super) fn joined(slots: Vec<Vec<Parts>>) -> Vec<Vec<Parts>> {
    let mut done: Vec<Vec<Parts>> = Vec::with_capacity(slots.len());
    let mut waiting: Parts = Vec::new();
    for mut slot in slots {
        match (around_alone(&slot), done.last_mut()) {
            (Some((part, around)), Some(before)) if around.cools => {
                for option in before {
                    option.push(part.clone());
                }
            }
            (Some((part, _)), _) => waiting.push(part),
            (None, _) if is_before_work(&slot) => waiting.extend(slot.into_iter().flatten()),
            (None, _) => {
                for option in &mut slot {
                    option.splice(0..0, waiting.iter().cloned());
                }
                waiting.clear();
                done.push(slot);
            }
        }
    }
    match done.last_mut() {
        // "tempo 20' + wu + cd": told behind what it is run before.
        Some(last) => {
            for option in last {
                option.splice(0..0, waiting.iter().cloned());
            }
        }
        None if waiting.is_empty() => {}
        None => done.push(vec![waiting]),
    }
    done
}

/// Whether words are nothing but what loosens up between warm-up and work: "drills", "form drills", "dynamic stretching".
pub(in super::super) fn loosens(words: &str) -> bool {
    const LOOSENING: [&str; 12] = [
        "drill",
        "drills",
        "mobility",
        "stretching",
        "stretches",
        "stretch",
        "plyos",
        "plyo",
        "plyometrics",
        "skips",
        "skipping",
        "activation",
    ];
    const BESIDE: [&str; 21] = [
        "a",
        "b",
        "high",
        "knees",
        "bounds",
        "form",
        "running",
        "dynamic",
        "technique",
        "hip",
        "leg",
        "swings",
        "ankle",
        "and",
        "strides",
        "stride",
        "min",
        "mins",
        "easy",
        "light",
        "short",
    ];
    let is_beside = |word: &str| BESIDE.iter().any(|beside| word.eq_ignore_ascii_case(beside));
    let mut all = words.split(|next: char| !next.is_alphabetic()).filter(|word| !word.is_empty());
    has_word(words, &LOOSENING) && all.all(|word| is_beside(word) || has_word(word, &LOOSENING))
}

/// Whether a slot is a warm-up with what loosens up: "2k wu, drills + strides, 6x400".
fn is_before_work(slot: &[Parts]) -> bool {
    let [parts] = slot else { return false };
    let loosens = |part: &Part| {
        loosens(&part.words) || take_kind(&mut Text::new(&part.words)).is_some_and(|(kind, _)| kind == Kind::Mobility)
    };
    let warms = |part: &Part| matches!(Around::read(&part.words), Ok(Some(around)) if around.warms);
    parts.first().is_some_and(warms) && parts[1..].iter().all(loosens)
}

/// The one part of a slot that is nothing but a warm-up or a cool-down.
fn around_alone(slot: &[Parts]) -> Option<(Part, Around)> {
    let [parts] = slot else { return None };
    let [part] = parts.as_slice() else { return None };
    let around = Around::read(&part.words).ok().flatten()?;
    Some((part.clone(), around))
}

/// Cuts the parts of a session where it goes on to a warm-up or a cool-down, or from there:
/// "15 min warm up then 5 x 3 min".
pub(in super::super) fn apart(parts: &[Part]) -> Parts {
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

/// Words in more places than these are no list of parts; trying every place in every rest would take long.
const MOST_PLACES: usize = 20;

/// The pieces of words that go on to a warm-up or from one; all of the words where they do not.
fn pieces(words: &str) -> Vec<&str> {
    let may_go_on = is_named(words) && !is_around(words) && words.matches(' ').count() <= MOST_PLACES;
    let mut places = words.match_indices(' ').filter(|_| may_go_on);
    places.find_map(|(at, _)| cut_at(&words[..at], &words[at + 1..])).unwrap_or_else(|| vec![words])
}

/// The pieces if a new one begins behind this place: a word leads over to it, and on one side stands a warm-up or a
/// cool-down.
fn cut_at<'a>(front: &'a str, behind: &'a str) -> Option<Vec<&'a str>> {
    let mut text = Text::new(behind);
    let is_inside = { text }.take_any_phrase(&INSIDE);
    let goes_on = text.take_any_phrase(&THEN);
    if !goes_on && !is_inside && !front.ends_with(':') && !text.take_any_phrase(&AND) {
        return None;
    }
    let front = front.trim_end_matches(':');
    let rest = pieces(text.left());
    let leads_to_one = rest.first().is_some_and(|first| is_around(first)) && stands_alone(front, behind);
    let comes_from_one = goes_on && is_around(front);
    (leads_to_one || comes_from_one).then(|| std::iter::once(front).chain(rest).collect())
}

/// Whether words are repetitions, or an amount and a kind without a tail that has always been a note.
fn stands_alone(words: &str, behind: &str) -> bool {
    const TAILS: [&str; 8] = ["with", "w/", "at", "@", "in", "on", "by", "hard"];
    let is_tail = |word: &str| TAILS.iter().any(|tail| word.eq_ignore_ascii_case(tail));
    let first_behind = behind.split(' ').next().unwrap_or_default();
    starts_with_reps(Text::new(words)) || !words.split(' ').chain([first_behind]).any(is_tail)
}

/// Takes easy parts before and behind one hard part for warm-up and cool-down: "3 km easy, 6 km tempo, 3 km
/// easy" tells a run by its parts, as nobody says of a whole.
pub(in super::super) fn in_order(parts: Parts) -> Parts {
    if parts.len() < 2 {
        return parts;
    }
    // A whole behind them is none of them, and no more is what is done besides.
    let mut parts = parts;
    let besides = parts.iter().rposition(|part| !is_besides(part)).map_or(0, |last| last + 1);
    let besides = parts.split_off(besides);
    let whole = parts.pop_if(|last| is_bare(last));
    let main = main_of(&parts).filter(|_| whole.is_none() || parts.len() > 2);
    let Some(main) = main else {
        parts.extend(whole.into_iter().chain(besides));
        return parts;
    };
    let as_around = |(at, part): (usize, Part)| {
        let phrase = if at < main { WARM_UP[0] } else { COOL_DOWN[0] };
        let is_gentle = Piece::of(&part) == Some(Piece::Gentle);
        let is_jog = at == main + 1 && is_recovery(&part.words) && at + 1 < parts.len();
        if is_gentle && !is_jog { Part { words: format!("{} {phrase}", part.words), ..part } } else { part }
    };
    parts.iter().cloned().enumerate().map(as_around).chain(whole).chain(besides).collect()
}

/// Where the one hard part stands among easy ones; nothing where parts are something else.
fn main_of(parts: &[Part]) -> Option<usize> {
    let pieces: Vec<Option<Piece>> = parts.iter().map(Piece::of).collect();
    let main = pieces.iter().position(|piece| matches!(piece, Some(Piece::Hard | Piece::Reps)))?;
    let is_reps = pieces[main] == Some(Piece::Reps);
    let is_gentle = |at: usize| pieces[at] == Some(Piece::Gentle);
    // Right behind repetitions a jog is their recovery, if more is run after it.
    let is_jog = |at: usize| is_reps && at == main + 1 && at + 1 < parts.len() && is_recovery(&parts[at].words);
    let mut others = (0..pieces.len()).filter(|at| *at != main);
    let are_easy = parts.len() > 1 && others.all(|at| is_gentle(at) || is_jog(at));
    // "8 km easy, 6 x 100 m strides" is no run by its parts: repetitions stand between two of them.
    let is_between = main > 0 && main + 1 < parts.len() && is_gentle(parts.len() - 1);
    (are_easy && (!is_reps || is_between)).then_some(main)
}

/// Whether a part is an amount and nothing else.
fn is_bare(part: &Part) -> bool {
    let mut text = Text::new(&part.words);
    matches!(RawAmount::take(&mut text), Ok(Some(_))) && text.is_done()
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

impl Piece {
    fn of(part: &Part) -> Option<Self> {
        let mut text = Text::new(&part.words);
        if starts_with_reps(text) {
            let strides = has_word(&part.words, &STRIDES);
            return (!strides).then_some(Self::Reps);
        }
        let in_front = take_kind(&mut text).map(|(kind, _)| kind);
        text.skip_space();
        if starts_with_reps(text) {
            return in_front.filter(|kind| kind.assumed_hard().is_some()).map(|_| Self::Reps);
        }
        RawAmount::take(&mut text).ok().flatten()?;
        text.take_any_phrase(&["@", "at"]);
        let kind = in_front.or_else(|| take_kind(&mut text).map(|(kind, _)| kind))?;
        let piece = Self::of_kind(kind)?;
        // "25' tempo at HM effort": at which pace the hard part is run.
        (text.is_done() || (piece == Self::Hard && is_pace_of(text))).then_some(piece)
    }

    fn of_kind(kind: Kind) -> Option<Self> {
        if kind.assumed_hard().is_some() {
            return Some(Self::Hard);
        }
        matches!(kind, Kind::Easy | Kind::Recovery | Kind::Steady).then_some(Self::Gentle)
    }
}

/// Whether words are the pace of the hard part before them, and nothing else: "at HM effort", "HM effort", "@ 4:10".
fn is_pace_of(mut text: Text<'_>) -> bool {
    let is_led = text.take_any_phrase(&["@", "at", "in"]);
    text.skip_space();
    let is_figure = is_led && text.peek().is_some_and(|next| next.is_ascii_digit());
    is_figure || take_kind_or_short(&mut text).is_some_and(|(kind, _)| kind.assumed_hard().is_some() && text.is_done())
}
