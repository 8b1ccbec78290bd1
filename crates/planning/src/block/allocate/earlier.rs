//! What the slots of the base week had earlier in the block: a later week gives none of them more.

use std::collections::BTreeMap;

use chrono::Datelike;

use crate::block::Reason;
use crate::block::draft::{DraftDay, Item, Stands};
use crate::block::facts::Facts;
use crate::session::Session;
use crate::units::{Amount, Milli};

/// A slot of the base week: whether of the second week, its weekday from Monday, its place in the day.
type SlotKey = (bool, u8, usize);

/// What every slot usually holds and what it had last, of two weeks that take turns each on its own.
#[derive(Default)]
pub(super) struct Earlier(BTreeMap<SlotKey, (Option<Amount>, Milli)>);

impl Earlier {
    /// Notes what the slots of a week have, once their amounts are given.
    pub(super) fn remember(&mut self, facts: &Facts<'_>, week: &[DraftDay]) {
        let counts =
            |day: &&DraftDay| facts.ebbs(day.to_race) && day.stands != Stands::Fixed && !facts.is_recovering(day.date);
        for day in week.iter().filter(counts) {
            for item in day.items.iter().filter(|item| item.is_running() && !is_short_for_another(item)) {
                self.0.insert(slot_of(facts, day, item), (usual_running(item), item.session.running_middle()));
            }
        }
    }

    /// What the slot of a session had earlier in the block; and what the same slot of the week that takes
    /// turns with its own had, unless that is the lighter one there.
    pub(super) fn had(&self, facts: &Facts<'_>, day: &DraftDay, item: &Item) -> [Option<Milli>; 2] {
        let (second, weekday, place) = slot_of(facts, day, item);
        let same = self.0.get(&(second, weekday, place)).map(|(_, had)| *had);
        let usual = usual_running(item);
        let no_lighter = |other: Option<Amount>| match (other, usual) {
            (Some(other), Some(usual)) => other.unit() == usual.unit() && other.middle() >= usual.middle(),
            _ => false,
        };
        let other = self.0.get(&(!second, weekday, place)).filter(|(other, _)| no_lighter(*other)).map(|(_, had)| *had);
        [same, other]
    }
}

/// A run that is short because of another race, or of a day that was set to more than usual, says nothing about
/// the same weekday later.
fn is_short_for_another(item: &Item) -> bool {
    let says_nothing =
        |why: &Reason| matches!(why, Reason::BeforeOtherRace(_) | Reason::AfterOtherRace(_) | Reason::AroundLonger(_));
    item.why.iter().any(says_nothing)
}

fn usual_running(item: &Item) -> Option<Amount> {
    item.usual.as_ref().and_then(Session::running)
}

/// The slot of the base week from which a session comes.
fn slot_of(facts: &Facts<'_>, day: &DraftDay, item: &Item) -> SlotKey {
    let weekday = day.date.weekday().num_days_from_monday() as u8;
    (facts.request.week.is_second_due(day.date), weekday, item.place)
}
