//! From sessions to a line that reads back to the same sessions.

use std::borrow::Cow;

use super::around::is_named;
use super::climb;
use super::doubles::{is_sport_behind, tells_halves, tells_sum};
use super::draft::{LEAST_METRES, tells_inside};
use super::hardness::hides;
use super::kinds::infer;
use super::line::{is_opening_quote, is_space, quote};
use super::miles;
use super::read::{in_full, read_day};
use super::rest::{Behind, Led};
use super::sets::{RECOVERY_LABELS, is_recovery, take_sets};
use super::text::Text;
use super::total::{names_total, tells_total};
use crate::session::{Kind, Session, SetUnit, Sets};
use crate::units::{DistanceUnit, Unit};
use crate::week::Slot;

/// Writes one day in the form that [`read_day`](super::read_day) reads back to the same slots.
///
/// Kind and unit are always said, so the line is the same for every athlete's units. A day without
/// sessions is `rest`.
pub fn write_day(slots: &[Slot]) -> String {
    if slots.is_empty() {
        return "rest".to_owned();
    }
    let slot = |slot: &Slot| slot.options().iter().map(write_session).collect::<Vec<_>>().join(" or ");
    slots.iter().map(slot).collect::<Vec<_>>().join(" + ")
}

/// "rest (swim if legs heavy)"; in quotes too where these words would be read otherwise.
fn write_rest(words: &str) -> String {
    if words.is_empty() {
        return "rest".to_owned();
    }
    let line = format!("rest ({words})");
    let reads = matches!(Led::of(&line).map(Led::read), Some(Behind::Words(read)) if read == words);
    if reads && is_tidy(words) { line } else { format!("rest ({})", quote(words)) }
}

fn write_session(session: &Session) -> String {
    if let Some(words) = session.rest_words() {
        return write_rest(words);
    }
    let line = spelled(session, Words::Plain);
    let has_words = !session.note.is_empty() || !session.sets.is_empty();
    if has_words && !reads_back(&line, session) { spelled(session, Words::Quoted) } else { line }
}

/// How the words of a session stand in a line.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Words {
    /// As they are, as far as anybody sees that they are read as words.
    Plain,
    /// In quotes, all of them.
    Quoted,
}

/// Whether a line is read as this session, whatever the units of the athlete.
fn reads_back(line: &str, session: &Session) -> bool {
    [DistanceUnit::Km, DistanceUnit::Mi].into_iter().all(|units| {
        let day = read_day(line, units);
        matches!(day.as_deref(), Ok([slot]) if slot.options() == std::slice::from_ref(session))
    })
}

fn spelled(session: &Session, words: Words) -> String {
    let mut parts = Vec::new();
    let amount = session.amount.map(|amount| amount.to_string());
    let kind = write_kind(session.kind);
    let kind_follows = !session.sets.is_empty()
        && session.kind != Kind::Easy
        && infer(&session.sets, session.amount.is_some(), session.hard.is_some()) == Some(session.kind);
    let loaded = session.loaded.then(|| "loaded".to_owned());
    if kind_follows {
        parts.extend(session.sets.iter().map(|sets| write_sets(sets, words)));
        parts.extend(amount);
        parts.extend(loaded);
    } else {
        parts.push(std::iter::once(kind.to_owned()).chain(amount).chain(loaded).collect::<Vec<_>>().join(" "));
        parts.extend(session.sets.iter().map(|sets| write_sets(sets, words)));
    }
    if let Some(hard) = session.hard {
        parts.push(format!("hard {hard}"));
    }
    let mut line = parts.join(", ");
    if !session.note.is_empty() {
        line.push(' ');
        let note = session.note.as_str();
        let is_more = words == Words::Quoted
            || hides(session, note)
            || tells_halves(session, note)
            || Unit::ALL.iter().any(|unit| tells_sum(session, note, *unit))
            || tells_total(note)
            || has_small_miles(note)
            || tells_inside(session, note);
        line.push_str(&write_note(note, is_more));
    }
    line
}

const fn write_kind(kind: Kind) -> &'static str {
    match kind {
        Kind::RacePace => "race pace",
        Kind::TimeTrial => "time trial",
        _ => kind.code(),
    }
}

fn write_sets(sets: &Sets, words: Words) -> String {
    let may_be_plain = words == Words::Plain;
    // "6 x 3 m" would be minutes or miles, as nobody repeats three metres.
    let is_short = sets.unit == SetUnit::M && sets.length < LEAST_METRES;
    let unit = if is_short { "metres" } else { sets.unit.symbol() };
    let mut line = format!("{} x {} {unit}", sets.reps, sets.length);
    if !sets.pace.is_empty() {
        let plain = format!("{line} {}", sets.pace);
        let expected = Sets { recovery: String::new(), ..sets.clone() };
        let reads_back = take_sets(&mut Text::new(&plain)).is_ok_and(|read| read == expected);
        if may_be_plain && is_plain(&sets.pace) && reads_back && !names_total(&plain) {
            line = plain;
        } else {
            line = format!("{line} {}", quote(&sets.pace));
        }
    }
    if !sets.recovery.is_empty() {
        let labelled = Text::new(&sets.recovery).take_any_phrase(&RECOVERY_LABELS);
        if may_be_plain
            && is_plain(&sets.recovery)
            && is_recovery(&sets.recovery)
            && !labelled
            && !is_sport_behind(&sets.recovery)
        {
            line = format!("{line}, {}", sets.recovery);
        } else {
            line = format!("{line}, recovery {}", quote(&sets.recovery));
        }
    }
    line
}

/// In brackets, and in quotes too where the words alone would be read otherwise.
fn write_note(note: &str, hides: bool) -> String {
    let balanced = {
        let mut depth = 0_i32;
        note.chars().all(|next| {
            depth += i32::from(next == '(') - i32::from(next == ')');
            depth >= 0
        }) && depth == 0
    };
    if balanced && is_tidy(note) && !note.starts_with(is_opening_quote) && !is_recovery(note) && !hides {
        format!("({note})")
    } else {
        format!("({})", quote(note))
    }
}

/// Whether words would be told otherwise to an athlete in miles.
fn has_small_miles(words: &str) -> bool {
    let line = format!("8 mi ({words})");
    matches!(miles::spelled(&line, DistanceUnit::Mi), Cow::Owned(_))
}

/// Whether words can stand in a line as they are.
fn is_plain(text: &str) -> bool {
    let special = |next: char| matches!(next, ',' | ';' | '+' | '=' | '(' | ')') || is_opening_quote(next);
    is_tidy(text)
        && !is_named(text)
        && matches!(in_full(text, DistanceUnit::Mi), Cow::Borrowed(_))
        && matches!(climb::noted(&format!("8 km {text}")), Cow::Borrowed(_))
        && !text.contains(special)
        // At the end of a line these would be its end.
        && !text.ends_with(['.', '!'])
        && !text.split(' ').any(|word| word.eq_ignore_ascii_case("or"))
}

/// Whether reading leaves the spaces of a text as they are.
fn is_tidy(text: &str) -> bool {
    !text.is_empty()
        && text.split(' ').all(|word| !word.is_empty())
        && text.chars().all(|next| next == ' ' || !is_space(next))
}
