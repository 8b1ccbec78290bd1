//! What stands over a run that begins with its warm-up: "track: 2 mi w/u, 6 x 800, 1 c/d".

use super::super::doubles::{is_easy_run, names_half};
use super::super::hardness::names_hardness;
use super::super::kinds::{has_word, take_kind};
use super::super::line::{Note, Part, Parts};
use super::super::rest::Led;
use super::super::sets::starts_with_reps;
use super::super::text::Text;
use super::super::unparted::is_up;
use super::{is_around, loosens};
use crate::session::Kind;

/// Puts the word over a run that begins with a warm-up where it belongs: the kind of a session in front of its work,
/// "tempo: 2 wu, 4 mi, 1 cd"; anything else, a place or a day, is a note.
pub(in super::super) fn to_the_work(slots: Vec<Vec<Parts>>) -> Vec<Vec<Parts>> {
    let in_slot = |slot: Vec<Parts>| slot.into_iter().map(in_session).collect();
    slots.into_iter().map(in_slot).collect()
}

fn in_session(mut parts: Parts) -> Parts {
    let Some((first, rest)) = parts.split_first_mut() else { return parts };
    // "Club track. 2 mi w/u": a sentence of its own.
    let marked = first.words.split_once(':').or_else(|| first.words.split_once(". "));
    let Some((heading, warm)) = marked else { return parts };
    let (heading, warm) = (heading.trim().to_owned(), warm.trim().to_owned());
    let is_word = heading.starts_with(char::is_alphabetic) && !heading.contains(|one: char| one.is_ascii_digit());
    if !is_word || names_half(&heading) || is_rest(&heading) || is_around(&heading) {
        return parts;
    }
    if !is_around(&warm) && !is_up(&warm) {
        // "club: 8 easy", "club: 5 x 1 km"
        if is_place(&heading) && (is_easy_run(&warm) || starts_with_reps(Text::new(&warm))) {
            first.notes.push(Note::Quoted(heading));
            first.words = warm;
        }
        return parts;
    }
    let mut name = Text::new(&heading);
    let kind = take_kind(&mut name).map(|(kind, _)| kind).filter(|kind| name.is_done() && kind.is_running());
    let work = rest.iter_mut().find(|part| !is_around(&part.words) && !loosens(&part.words));
    match (kind, work) {
        (Some(kind), Some(work)) if takes(&work.words, kind) => {
            work.words = format!("{heading}: {}", work.words);
        }
        (Some(Kind::Intervals), Some(_)) => first.notes.push(Note::Quoted(heading)),
        (None, Some(_)) if !names_hardness(&heading) => first.notes.push(Note::Quoted(heading)),
        _ => return parts,
    }
    parts.first_mut().into_iter().for_each(|first: &mut Part| first.words.clone_from(&warm));
    parts
}

/// Whether words over an easy run may be where or with whom it is run: they name no session and no sum.
fn is_place(heading: &str) -> bool {
    const OTHERS: [&str; 9] = ["session", "workout", "race", "total", "sum", "double", "doubles", "option", "either"];
    let kind = take_kind(&mut Text::new(heading));
    // "XC": where it is run.
    let is_ground = matches!(kind, Some((Kind::Easy, Some(_))));
    !has_word(heading, &OTHERS) && !names_hardness(heading) && (kind.is_none() || is_ground)
}

/// Whether a word says that nobody runs: "rest", "x".
fn is_rest(heading: &str) -> bool {
    Led::of(heading).or_else(|| Led::by_cross(heading)).is_some() || heading.bytes().all(|one| one == b'x')
}

/// Whether the work may be of a kind: repetitions, or words that name no other.
fn takes(work: &str, kind: Kind) -> bool {
    let places = std::iter::once(0).chain(work.match_indices(' ').map(|(at, _)| at + 1));
    let mut named = places.filter_map(|at| take_kind(&mut Text::new(&work[at..])).map(|(kind, _)| kind));
    starts_with_reps(Text::new(work)) || named.all(|other| other == kind)
}
