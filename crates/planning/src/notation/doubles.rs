//! Two sessions of a day that no "+" parts: "AM 6 easy, PM 8 easy", "6 km am, 8 km pm", "easy 8 km and strength".

use std::borrow::Cow;

use super::amounts::RawAmount;
use super::around::{is_around, is_cool_down, loosens, to_the_work};
use super::draft::take_surroundings;
use super::kinds::{WALKS, has_word, take_kind};
use super::line::{Note, Part, Parts, apart_from_notes, cut};
use super::sets::{is_recovery, starts_with_reps, walks_by_turns};
use super::text::Text;
use super::unparted::{is_down, is_up};
use crate::session::{Kind, Session};
use crate::units::{Amount, Milli, Totals, Unit};

const SHORT: [&str; 4] = ["am", "a.m", "pm", "p.m"];
const LONG: [&str; 3] = ["morning", "afternoon", "evening"];

/// A word for a half of the day, without the marks behind it.
pub(super) fn half(word: &str) -> Option<&str> {
    let bare = word.trim_end_matches([':', '.', '-']);
    SHORT.iter().chain(&LONG).any(|half| bare.eq_ignore_ascii_case(half)).then_some(bare)
}

/// Whether words name a half of the day.
pub(super) fn names_half(words: &str) -> bool {
    words.split(' ').any(|word| half(word).is_some())
}

/// The same where it stands behind: "in the morning" is a note.
pub(super) fn half_behind(word: &str) -> Option<&str> {
    half(word).filter(|bare| SHORT.iter().any(|half| bare.eq_ignore_ascii_case(half)))
}

/// "double 6/4", "doubles: 6 & 4": two runs, as the word says.
pub(super) fn by_the_word(mut slots: Vec<Vec<Parts>>) -> Vec<Vec<Parts>> {
    const DOUBLE: [&str; 6] = ["double day", "double run", "doubles", "double", "dbl", "2 runs"];
    let Some(part) = slots.first_mut().and_then(|slot| slot.first_mut()?.first_mut()) else { return slots };
    let mut text = Text::new(&part.words);
    if !text.take_any_phrase(&DOUBLE) {
        return slots;
    }
    text.take_any_phrase(&[":", "-", "of"]);
    if !text.left().starts_with(|next: char| next.is_ascii_digit()) {
        return slots;
    }
    let runs: Vec<String> =
        text.left().replace(" and ", "/").split(['/', '&']).map(|run| run.trim().to_owned()).collect();
    let Some((last, before)) = runs.split_last() else { return slots };
    last.clone_into(&mut part.words);
    let run = |words: &String| vec![vec![Part { words: words.clone(), ..Part::default() }]];
    before.iter().map(run).chain(slots).collect()
}

/// "60 min Z2, hilly // strength 30": two strokes part the sessions of a day, outside of brackets and quotes.
pub(super) fn by_double_strokes(line: &str) -> Cow<'_, str> {
    let (front, behind) = apart_from_notes(line);
    if front.contains(" // ") { Cow::Owned(front.replace(" // ", " + ") + behind) } else { Cow::Borrowed(line) }
}

/// "10E/6E", "6E | 4E", "gym / 8E": two sessions that a stroke parts, where each says what it is.
pub(super) fn by_marks(slots: Vec<Vec<Parts>>) -> Vec<Vec<Parts>> {
    let parted = |slot: &Vec<Parts>| -> Option<[Parts; 2]> {
        let [parts] = slot.as_slice() else { return None };
        let [part] = parts.as_slice() else { return None };
        // "34 min run/walk" is one run.
        if is_by_turns(&part.words) {
            return None;
        }
        let (one, other) = part.words.split_once(['/', '|'])?;
        // "60 min // 30 min strength"
        let (one, other) = (one.trim(), other.trim_start_matches(['/', '|']).trim());
        let kinds = (session_kind(one)?, session_kind(other)?);
        let two = if kinds.0.is_run() && kinds.1.is_run() {
            kinds.0.is_easy_run() && kinds.1.is_easy_run()
        } else {
            kinds.0.is_run() || kinds.1.is_run()
        };
        let piece = |words: &str, part: Part| vec![Part { words: words.to_owned(), ..part }];
        two.then(|| [piece(one, Part::default()), piece(other, part.clone())])
    };
    let apart = |slot: Vec<Parts>| match parted(&slot) {
        Some(two) => two.map(|parts| vec![parts]).to_vec(),
        None => vec![slot],
    };
    slots.into_iter().flat_map(apart).collect()
}

/// Whether words name running and walking by turns anywhere.
fn is_by_turns(words: &str) -> bool {
    let starts = std::iter::once(0).chain(words.match_indices(' ').map(|(at, _)| at + 1));
    starts.into_iter().any(|at| { Text::new(&words[at..]) }.take_any_phrase(&WALKS))
}

/// "easy 8 km swim 30 min": the run and what is done beside it; whether both have an amount.
pub(super) fn apart_by_sport(words: &str) -> Option<(String, bool)> {
    let has_amount = |words: &str| words.contains(|one: char| one.is_ascii_digit());
    let places = words.match_indices(' ').map(|(at, _)| (&words[..at], &words[at + 1..]));
    let is_two = |(one, other): &(&str, &str)| {
        let (Some(run), Some(sport)) = (session_kind(one), session_kind(other)) else { return false };
        let is_work = matches!(sport.kind, Some(Kind::Strength | Kind::Mobility));
        run.is_run() != sport.is_run() && has_amount(one) && (has_amount(other) || (run.is_said_run() && is_work))
    };
    places.into_iter().find(is_two).map(|(one, other)| (format!("{one} + {other}"), has_amount(other)))
}

/// Whether words are an easy run by its kind and its amount.
pub(super) fn is_easy_run(words: &str) -> bool {
    session_kind(words).is_some_and(Told::is_easy_run)
}

/// The kind of a session that is told by its kind and its amount alone, easy where only the amount is told; a run needs the
/// amount. Nothing where it is told otherwise.
fn session_kind(words: &str) -> Option<Told> {
    let mut text = Text::new(words);
    let in_front = take_kind(&mut text).map(|(kind, _)| kind);
    let before = text;
    let has_amount = matches!(RawAmount::take(&mut text), Ok(Some(_)));
    if !has_amount {
        text = before;
    }
    while take_surroundings(&mut text) {}
    let kind = in_front.or_else(|| take_kind(&mut text).map(|(kind, _)| kind));
    while take_surroundings(&mut text) {}
    // "gym pm"
    text.take_any_phrase(&SHORT);
    let is_told = text.is_done() && (has_amount || kind.is_some_and(|kind| !kind.is_running()));
    is_told.then_some(Told { kind })
}

/// A session that is told by its kind, its amount or both.
#[derive(Clone, Copy)]
struct Told {
    kind: Option<Kind>,
}

impl Told {
    fn is_run(self) -> bool {
        self.kind.is_none_or(Kind::is_running)
    }

    /// Whether the kind of a run is said.
    fn is_said_run(self) -> bool {
        self.kind.is_some_and(Kind::is_running)
    }

    fn is_easy_run(self) -> bool {
        self.kind.is_some_and(|kind| kind.is_running() && kind.assumed_hard().is_none())
    }
}

/// Parts the slots of a line where another half of the day begins; the word for it stays as a note.
pub(super) fn by_halves(slots: Vec<Vec<Parts>>) -> Vec<Vec<Parts>> {
    let (slots, has_both) = halves_apart(slots);
    let first_word = slots.first().and_then(|slot| slot.first()?.first()?.words.split(' ').next());
    let leads = first_word.is_some_and(|word| half(word).is_some());
    let named = |part: &Part| names_half(&part.words);
    if !slots.iter().flatten().flatten().any(named) {
        return slots;
    }
    let mut parted = Vec::with_capacity(slots.len());
    for slot in slots {
        match <[Parts; 1]>::try_from(slot) {
            Ok([parts]) if leads => parted.extend(led(parts).into_iter().map(|parts| vec![parts])),
            Ok([parts]) => parted.extend(followed(parts, has_both).into_iter().map(|parts| vec![parts])),
            Err(slot) => parted.push(slot),
        }
    }
    // "PM club: 2 mi w/u, 6 x 800"
    to_the_work(parted)
}

/// The same slots with "8am/5pm" as "8 am, 5 pm" where the line tells both halves of the day, and whether it does. A time
/// of day that stands beside an amount becomes a note: "6 am 8 km".
fn halves_apart(slots: Vec<Vec<Parts>>) -> (Vec<Vec<Parts>>, bool) {
    // Every day that is read is looked through: few speak of either half.
    if !slots.iter().flatten().flatten().any(|part| may_tell_half(&part.words)) {
        return (slots, false);
    }
    let spaced = |part: &Part| part.words.split(' ').flat_map(half_apart).collect::<Vec<_>>();
    let all: Vec<String> = slots.iter().flatten().flatten().flat_map(spaced).map(|word| word.to_lowercase()).collect();
    let tells = |first: char| all.iter().filter_map(|word| half_behind(word)).any(|half| half.starts_with(first));
    if !tells('a') && !tells('p') {
        return (slots, false);
    }
    let has_both = tells('a') && tells('p');
    let leads = all.first().is_some_and(|word| half(word).is_some());
    let in_part = |part: Part| {
        let words = spaced(&part);
        let without_clock = clock_noted(&words, &part);
        match without_clock {
            Some(part) => vec![part],
            None if has_both && !leads => behind_halves(&words, &part),
            None if has_both => vec![Part { words: words.join(" "), ..part }],
            None => vec![part],
        }
    };
    let in_session = |parts: Parts| parts.into_iter().flat_map(in_part).collect();
    (slots.into_iter().map(|slot| slot.into_iter().map(in_session).collect()).collect(), has_both)
}

/// Whether "am" or "pm" stands anywhere, with a point inside or without.
pub(super) fn may_tell_half(words: &str) -> bool {
    let is = |bytes: &[u8], point: usize| {
        matches!(bytes[0], b'a' | b'A' | b'p' | b'P') && matches!(bytes[point], b'm' | b'M')
    };
    let bytes = words.as_bytes();
    bytes.windows(2).any(|two| is(two, 1)) || bytes.windows(3).any(|three| three[1] == b'.' && is(three, 2))
}

/// "am6/pm4" as "am 6 / pm 4"; other words as they are.
fn half_apart(word: &str) -> Vec<String> {
    let attached = |word: &str| {
        let digit = |one: char| one.is_ascii_digit();
        let lower = word.to_ascii_lowercase();
        let is_number = |rest: &str| rest.starts_with(digit) && !rest.contains(char::is_alphabetic);
        let front = ["am", "pm"].into_iter().find(|half| lower.strip_prefix(half).is_some_and(is_number));
        let behind = ["am", "pm"].into_iter().find(|half| lower.strip_suffix(half).is_some_and(is_number));
        match (front, behind) {
            (Some(_), _) => Some(vec![word[..2].to_owned(), word[2..].to_owned()]),
            (None, Some(_)) => {
                let at = word.len() - 2;
                Some(vec![word[..at].to_owned(), word[at..].to_owned()])
            }
            (None, None) => half(word).map(|_| vec![word.to_owned()]),
        }
    };
    if let Some(pieces) = attached(word) {
        return pieces;
    }
    match word.split_once('/').map(|(one, other)| (attached(one), attached(other))) {
        Some((Some(one), Some(other))) => one.into_iter().chain(["/".to_owned()]).chain(other).collect(),
        _ => vec![word.to_owned()],
    }
}

/// A part cut behind each half of the day: "8 am 5 pm".
fn behind_halves(words: &[String], part: &Part) -> Parts {
    let mut pieces: Vec<Vec<&str>> = vec![Vec::new()];
    for word in words {
        pieces.last_mut().into_iter().for_each(|piece| piece.push(word));
        if half_behind(word).is_some() {
            pieces.push(Vec::new());
        }
    }
    let mut pieces: Vec<String> = pieces.iter().map(|piece| tidied(piece)).filter(|piece| !piece.is_empty()).collect();
    let last = Part { words: pieces.pop().unwrap_or_default(), ..part.clone() };
    pieces.into_iter().map(|words| Part { words, ..Part::default() }).chain([last]).collect()
}

/// The part with the time of day in a note, where an amount stands beside it: "6 am 8 km", "7:30 pm easy 8".
fn clock_noted(words: &[String], part: &Part) -> Option<Part> {
    const LEADING: [&str; 10] = ["with", "w/", "w", "at", "@", "in", "on", "by", "from", "around"];
    let at =
        (0..words.len().checked_sub(1)?).find(|at| is_clock(&words[*at]) && half_behind(&words[at + 1]).is_some())?;
    let rest: Vec<&str> = words[..at].iter().chain(&words[at + 2..]).map(String::as_str).collect();
    let is_led = words[..at].iter().any(|word| LEADING.iter().any(|one| word.eq_ignore_ascii_case(one)));
    // "6 am 8": which of the two is the run?
    let is_sure = words[at].contains([':', '.']) || !rest.iter().all(|word| is_clock(word));
    let is_run = rest.iter().any(|word| word.contains(|one: char| one.is_ascii_digit()));
    let one_half = rest.iter().all(|word| half_behind(word).is_none());
    if is_led || !is_sure || !is_run || !one_half {
        return None;
    }
    let mut left = Part { words: tidied(&rest), ..part.clone() };
    left.notes.push(Note::Quoted(format!("{} {}", words[at], words[at + 1])));
    Some(left)
}

/// "6", "7:30": what a clock shows.
fn is_clock(word: &str) -> bool {
    let (hours, minutes) = word.split_once([':', '.']).unwrap_or((word, "00"));
    let is_hour = hours.parse::<u8>().is_ok_and(|hours| (1..=12).contains(&hours));
    is_hour && minutes.len() == 2 && minutes.parse::<u8>().is_ok_and(|minutes| minutes < 60)
}

fn numbers_in(words: &str) -> usize {
    words.split(' ').filter(|word| word.contains(|one: char| one.is_ascii_digit())).count()
}

/// Whether a note tells of two runs of a day by their amounts, "10 km (6 + 4)": the two come to the whole.
pub(super) fn tells_sum(session: &Session, note: &str, unit: Unit) -> bool {
    let amount = |words: &str| {
        let mut text = Text::new(words);
        let raw = RawAmount::take(&mut text).ok().flatten().filter(|_| text.is_done())?;
        raw.in_unit(unit).ok()
    };
    let two = ["+", "/", "&", " and "].into_iter().find_map(|mark| note.split_once(mark));
    let both = two.and_then(|(one, other)| Some([amount(one)?, amount(other)?]));
    let sum = both.map(|both| both.into_iter().collect::<Totals>());
    session.amount.zip(sum).is_some_and(|(whole, sum)| sum.parts() == [whole])
}

/// Whether a note tells of two runs of a day, "14 km (AM 8 km, PM 6 km)": as a note it would stay when a block
/// shortens what it speaks of.
pub(super) fn tells_halves(session: &Session, note: &str) -> bool {
    let has_half = names_half(note);
    let is_run = |parts: &[Parts]| {
        let words = parts.first().and_then(|parts| parts.first()).map_or("", |part| part.words.as_str());
        let mut text = Text::new(words);
        take_kind(&mut text);
        matches!(RawAmount::take(&mut text), Ok(Some(_)))
    };
    session.kind.is_running()
        && has_half
        && cut(note).is_ok_and(|slots| by_halves(slots).iter().filter(|slot| is_run(slot)).count() > 1)
}

/// "AM 6 easy, PM 8 easy": each session behind its half.
fn led(parts: Parts) -> Vec<Parts> {
    let mut sessions: Vec<Parts> = vec![Vec::new()];
    for part in parts {
        let words: Vec<&str> = part.words.split(' ').collect();
        let starts: Vec<usize> = (0..words.len()).filter(|at| half(words[*at]).is_some()).collect();
        if starts.is_empty() {
            sessions.last_mut().into_iter().for_each(|session| session.push(part.clone()));
            continue;
        }
        let before = tidied(&words[..starts[0]]);
        if !before.is_empty() {
            let session = Part { words: before, ..Part::default() };
            sessions.last_mut().into_iter().for_each(|parts| parts.push(session.clone()));
        }
        for (index, start) in starts.iter().enumerate() {
            let end = starts.get(index + 1).copied().unwrap_or(words.len());
            // What stands in brackets and quotes was typed behind the last of them.
            let rest = if end == words.len() { part.clone() } else { Part::default() };
            let mut session = Part { words: tidied(&words[start + 1..end]), ..rest };
            session.notes.extend(half(words[*start]).map(|half| Note::Half(half.to_owned())));
            sessions.push(vec![session]);
        }
    }
    sessions.retain(|session| !session.is_empty());
    sessions
}

/// "6 km am, 8 km pm": each session in front of its half. Behind a bare number it may be the time of day, unless the line
/// tells both halves and nothing else is counted: "8 am + 5 pm".
fn followed(parts: Parts, has_both: bool) -> Vec<Parts> {
    let mut sessions: Vec<Parts> = vec![Vec::new()];
    for mut part in parts {
        let ends = part.words.rsplit_once(' ').and_then(|(before, last)| {
            let is_clock = before
                .rsplit(' ')
                .next()
                .is_some_and(|word| word.bytes().all(|one| one.is_ascii_digit() || one == b':'));
            let is_amount = has_both && numbers_in(before) == 1 && !before.contains(':');
            half_behind(last)
                .filter(|_| !is_clock || is_amount)
                .map(|half| (tidied(&before.split(' ').collect::<Vec<_>>()), half.to_owned()))
        });
        let is_last = ends.is_some();
        if let Some((words, half)) = ends {
            part.words = words;
            part.notes.push(Note::Half(half));
        }
        sessions.last_mut().into_iter().for_each(|session| session.push(part.clone()));
        if is_last {
            sessions.push(Vec::new());
        }
    }
    sessions.retain(|session| !session.is_empty());
    sessions
}

/// Words without what parted them from the other half.
fn tidied(words: &[&str]) -> String {
    let is_mark = |word: &&str| matches!(*word, "/" | "|" | "&" | "and" | "then" | "-" | "\u{2013}" | ":");
    let from = words.iter().take_while(|word| is_mark(word)).count();
    let until = words.len() - words[from..].iter().rev().take_while(|word| is_mark(word)).count();
    words[from..until].join(" ")
}

/// Parts the slots of a line where another sport begins: "easy 8 km, gym", "easy 8 km and core 15".
pub(super) fn by_sports(slots: Vec<Vec<Parts>>) -> Vec<Vec<Parts>> {
    let mut parted = Vec::with_capacity(slots.len());
    for slot in slots {
        match <[Parts; 1]>::try_from(slot) {
            Ok([parts]) if parts.iter().enumerate().any(|(at, part)| at > 0 || may_go_on(&part.words)) => {
                parted.extend(sports(parts).into_iter().map(|parts| vec![parts]));
            }
            Ok([parts]) => parted.push(vec![parts]),
            Err(slot) => parted.extend(beside_all(slot)),
        }
    }
    parted
}

/// "4 or bike 45 min, gym after": what is done before or after either of two is no part of the last of them.
fn beside_all(mut slot: Vec<Parts>) -> Vec<Vec<Parts>> {
    let is_work = |part: &Part| {
        let (words, kind) = begins(&part.words);
        let is_led = words.len() < part.words.len();
        matches!(kind, Some(Kind::Strength | Kind::Mobility)) && (is_led || has_word(words, &WHEN))
    };
    let at = slot.last().and_then(|parts| (1..parts.len()).find(|at| is_work(&parts[*at])));
    let (Some(at), Some(last)) = (at, slot.last_mut()) else { return vec![slot] };
    let mut work = last.split_off(at);
    if let Some(first) = work.first_mut() {
        first.words = begins(&first.words).0.to_owned();
    }
    vec![slot, vec![work]]
}

/// Words for when work beside a run is done.
pub(super) const WHEN: [&str; 5] = ["after", "afterwards", "afterward", "before", "beforehand"];

/// Words that join what is run or done one after the other.
pub(super) const AND: [&str; 6] = ["and then", "and", "then", "plus", "&", "followed by"];

fn sports(parts: Parts) -> Vec<Parts> {
    let mut sessions: Vec<(Option<Kind>, Parts)> = Vec::new();
    let last_around = parts.iter().rposition(|part| is_around(&part.words) || is_down(&part.words));
    for (at, part) in parts.into_iter().enumerate() {
        // "2 wu, 6 x 800, drills, 2 cd": what stands in front of the cool-down belongs to the run.
        let is_inside = last_around.is_some_and(|last| at < last);
        for piece in pieces(part) {
            let (words, kind) = begins(&piece.words);
            let words = words.to_owned();
            let (known, all_around) = match sessions.last() {
                Some((known, before)) => (*known, before.iter().all(|part| is_before_work(&part.words))),
                None => (None, true),
            };
            let rests = sessions.last().and_then(|(_, before)| before.last()).is_some_and(is_open)
                && is_rest_between(&piece.words);
            let rests = rests || (is_inside && loosens(&words)) || walks_by_turns(&piece.words);
            let other = kind.filter(|kind| !kind.is_running() && !all_around && !rests && known != Some(*kind));
            let is_run = session_kind(words.as_str()).is_some_and(Told::is_said_run);
            let is_after_work = is_run && sessions.last().is_some_and(|(_, before)| begins_with_work(before));
            match sessions.last_mut() {
                Some((known, session)) if other.is_none() && !is_after_work => {
                    *known = known.or(kind);
                    session.push(piece);
                }
                _ => sessions.push((kind, vec![Part { words, ..piece }])),
            }
        }
    }
    sessions.into_iter().map(|(_, parts)| parts).collect()
}

/// Whether a session is another sport by its first words: "gym before".
fn begins_with_work(parts: &[Part]) -> bool {
    let kind = parts.first().and_then(|part| begins(&part.words).1);
    kind.is_some_and(|kind| !kind.is_running())
}

/// Whether words are a warm-up or what loosens up behind it.
fn is_before_work(words: &str) -> bool {
    (is_around(words) && !is_cool_down(words)) || is_up(words) || loosens(words)
}

/// Whether a part ends with repetitions of which no recovery is told.
fn is_open(part: &Part) -> bool {
    let tells = |note: &Note| matches!(note, Note::Plain(words) if is_recovery(words));
    // "hills 10 x 60 s", "track: 6 x 400".
    let starts = std::iter::once(0).chain(part.words.match_indices(' ').map(|(at, _)| at + 1));
    let has_reps = starts.into_iter().any(|at| starts_with_reps(Text::new(&part.words[at..])));
    has_reps && !is_recovery(&part.words) && !part.notes.iter().any(tells)
}

/// From here on a walk behind repetitions is a session of its own.
///
/// # Source
///
/// Common practice, no published source.
const LONGEST_REST: Milli = Milli::whole(20);

/// Whether words that name another sport are the recovery of the repetitions before them: "2' walk", "walk back".
fn is_rest_between(words: &str) -> bool {
    let mut text = Text::new(words);
    take_kind(&mut text);
    let amount = |mut text: Text<'_>| RawAmount::take(&mut text).ok().flatten();
    let told = amount(Text::new(words)).or_else(|| amount(text)).and_then(|raw| raw.in_order(Unit::Min));
    let is_long = |amount: Amount| match amount.unit() {
        Unit::Min => amount.high() >= LONGEST_REST,
        Unit::Km | Unit::Mi => amount.high() > Milli::whole(1),
    };
    is_recovery(words) && !told.is_some_and(is_long)
}

/// Whether words behind repetitions would be taken for another session of the day, and for no recovery.
pub(super) fn is_sport_behind(recovery: &str) -> bool {
    let begins_other = begins(recovery).1.is_some_and(|kind| !kind.is_running()) && !is_rest_between(recovery);
    let part = Part { words: recovery.to_owned(), ..Part::default() };
    begins_other || pieces(part).len() > 1
}

/// The words without a joining one in front, and the kind that they begin with.
fn begins(words: &str) -> (&str, Option<Kind>) {
    let mut text = Text::new(words);
    text.take_any_phrase(&AND);
    let words = text.left();
    text.skip_space();
    if starts_with_reps(text) {
        return (words, None);
    }
    let kind = take_kind(&mut text).map(|(kind, _)| kind);
    (words, kind.or_else(|| timed_sport(text)))
}

/// The sport of "30 min gym".
fn timed_sport(mut text: Text<'_>) -> Option<Kind> {
    RawAmount::take(&mut text).ok().flatten().filter(|amount| !amount.is_distance())?;
    take_kind(&mut text).map(|(kind, _)| kind).filter(|kind| !kind.is_running() && text.is_done())
}

/// Whether a joining word stands in the words, or a distance in front: what is left has no other sport in it, and every
/// day that is read is looked through.
fn may_go_on(words: &str) -> bool {
    let begins_with_number = words.starts_with(|first: char| first.is_ascii_digit());
    begins_with_number
        || words.match_indices(' ').any(|(index, _)| { Text::new(&words[index + 1..]) }.take_any_phrase(&AND))
}

/// Whether words are kilometres or miles and at most a kind of running: "8 km", "8 km easy".
fn is_distance(words: &str) -> bool {
    let mut text = Text::new(words);
    let is_distance = matches!(RawAmount::take(&mut text), Ok(Some(amount)) if amount.is_distance());
    is_distance && (text.is_done() || take_kind(&mut text).is_some_and(|(kind, _)| kind.is_running() && text.is_done()))
}

/// A part cut where a joining word stands in front of another sport, or a sport behind kilometres: "8 km gym".
fn pieces(part: Part) -> Vec<Part> {
    let cut = part.words.match_indices(' ').map(|(index, _)| index).find(|index| {
        let behind = &part.words[index + 1..];
        let joined = { Text::new(behind) }.take_any_phrase(&AND);
        let follows_distance = is_distance(&part.words[..*index]);
        if !joined && !follows_distance {
            return false;
        }
        let (_, kind) = begins(behind);
        let is_work = matches!(kind, Some(Kind::Strength | Kind::Mobility));
        // "bike 30 then run 5k"
        let is_run_behind = |mut text: Text<'_>| {
            text.take_any_phrase(&AND);
            begins(&part.words[..*index]).1.is_some_and(|kind| !kind.is_running())
                && session_kind(text.left()).is_some_and(Told::is_said_run)
        };
        if joined && is_run_behind(Text::new(behind)) {
            return true;
        }
        (joined && kind.is_some_and(|kind| !kind.is_running())) || (is_work && follows_distance)
    });
    match cut {
        Some(at) => {
            let front = Part { words: part.words[..at].to_owned(), ..Part::default() };
            vec![front, Part { words: part.words[at + 1..].to_owned(), ..part }]
        }
        None => vec![part],
    }
}
