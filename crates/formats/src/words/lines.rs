//! What a line of a day says, where more has to be said than its sessions.

use planning::notation::{Guess, Offer};
use planning::{Kind, Session, Slot};

use super::{sentence, session};

/// A day on one line: `intervals 10 km: 6 × 800 m + strength 30 min`; `rest` for one without a session.
pub fn day(slots: &[Slot]) -> String {
    if slots.is_empty() {
        return "rest".to_owned();
    }
    let slot = |slot: &Slot| slot.options().iter().map(session).collect::<Vec<_>>().join(" or ");
    slots.iter().map(slot).collect::<Vec<_>>().join(" + ")
}

/// What a line that is offered says, what of it nobody typed, and whether something hard is left out of the count.
pub fn offer(offer: &Offer) -> String {
    let left_out = if offer.leaves_hard_out { " Nothing of it counts as hard." } else { "" };
    format!("{}{}{left_out}", sentence(&day(&offer.day)), guess(offer))
}

/// What a line is kept as where nothing is left to ask, and what of it nobody typed.
pub fn kept_as(offer: &Offer) -> String {
    format!("Kept as: {}.{}", offer.line, guess(offer))
}

fn guess(offer: &Offer) -> &'static str {
    match offer.guess {
        _ if offer.day.iter().all(|slot| slot.chosen().rest_words().is_some()) => "",
        Guess::Nothing => "",
        Guess::Whole => " The length of the whole run is an estimate; put in your own if you know it.",
        Guess::Between => " How much of it is hard is a guess, as nothing is said of it; put in your own.",
        Guess::Length => " How much is run is a guess, as nothing is said of it; put in your own.",
    }
}

/// What a day that is read does not do although its words may seem to; nothing for most.
pub fn remark(slots: &[Slot]) -> Option<&'static str> {
    let is_steady = |session: &Session| {
        let has_part =
            session.note.to_lowercase().contains("steady") && session.note.contains(|one: char| one.is_ascii_digit());
        session.kind.is_running() && session.kind != Kind::Steady && !session.is_hard() && has_part
    };
    slots.iter().flat_map(Slot::options).any(is_steady).then_some(
        "Steady running is not counted as hard. If it is to be kept as such, write how much of it is, as in hard 4 km.",
    )
}
