//! The runs of a day that are told by numbers alone: "am 40 pm 30", "double 30/20".
//!
//! Who leaves out the unit of several has one in mind for all of them. Minutes are as many as nobody runs kilometres in a
//! day, each of them round.

use super::amounts::RawAmount;
use super::kinds::take_kind;
use super::line::{Part, Parts, unreadable};
use super::rest::is_rest;
use super::text::Text;
use crate::problem::{Expected, ProblemKind};
use crate::session::Kind;
use crate::units::{Amount, DistanceUnit, Milli, Unit};

/// Fewer minutes than these nobody runs for a run of their own.
///
/// # Source
///
/// Common practice, no published source.
const LEAST_MINUTES: Milli = Milli::whole(15);

/// Where the runs of a day stand that are told by numbers alone, all of them as many as minutes may be; nothing where one
/// is told otherwise or there is only one.
pub(super) fn runs(slots: &[Vec<Parts>]) -> Option<Vec<usize>> {
    if slots.len() < 2 {
        return None;
    }
    let mut runs = Vec::new();
    for (at, slot) in slots.iter().enumerate() {
        match bare(slot) {
            Some(amount) if amount.is_at_least(LEAST_MINUTES) => runs.push(at),
            Some(_) => return None,
            None if is_no_run(slot) => {}
            None => return None,
        }
    }
    (runs.len() > 1).then_some(runs)
}

/// What is asked of a day whose runs come to more than anybody runs in kilometres or miles: "am 30 pm 20".
///
/// # Source
///
/// Common practice, no published source.
pub(super) fn asks_unit(slots: &[Vec<Parts>], units: DistanceUnit) -> Option<ProblemKind> {
    const FROM_KM: i32 = 40;
    const FROM_MI: i32 = 27;
    let from = Milli::whole(if units == DistanceUnit::Km { FROM_KM } else { FROM_MI });
    let runs = runs(slots)?;
    let amounts: Vec<RawAmount> = runs.iter().filter_map(|at| bare(&slots[*at])).collect();
    let sum: Milli = amounts.iter().filter_map(|raw| raw.in_unit(Unit::Min).ok()).map(Amount::high).sum();
    let words = only_part(&slots[runs[0]]).map_or("", |part| part.words.as_str());
    (sum >= from && amounts.iter().all(|amount| amount.is_round(LEAST_MINUTES)))
        .then(|| unreadable(words, Expected::UnitOfRun))
}

/// The number of a run that is told by it, and at most by a kind of easy running.
fn bare(slot: &[Parts]) -> Option<RawAmount> {
    let mut text = Text::new(&only_part(slot)?.words);
    let in_front = take_kind(&mut text);
    let amount = RawAmount::take(&mut text).ok().flatten().filter(|amount| !amount.has_unit())?;
    let behind = take_kind(&mut text);
    let is_easy = |(kind, _): (Kind, _)| kind.is_running() && kind.assumed_hard().is_none();
    (text.is_done() && in_front.into_iter().chain(behind).all(is_easy)).then_some(amount)
}

fn is_no_run(slot: &[Parts]) -> bool {
    let [parts] = slot else { return false };
    let kind = parts.first().and_then(|part| take_kind(&mut Text::new(&part.words)));
    is_rest(parts) || kind.is_some_and(|(kind, _)| !kind.is_running())
}

fn only_part(slot: &[Parts]) -> Option<&Part> {
    match slot {
        [parts] if parts.len() == 1 => parts.first(),
        _ => None,
    }
}
