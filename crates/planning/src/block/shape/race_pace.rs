//! A short touch of race pace in race week, where the key session is run faster than the race.

use crate::block::draft::{DraftDay, Item, Sizing};
use crate::block::facts::Facts;
use crate::block::{Reason, Role};
use crate::race::Event;
use crate::session::{Kind, Session};
use crate::units::{Milli, Unit};

/// The days on which it may stand, best first: behind the key session, and not so late that it is felt in the race.
///
/// # Source
///
/// Common practice, no published source. That pace is kept and running cut is published: Bosquet and others 2007.
const DAYS: [u16; 2] = [3, 4];

/// A run shorter than this holds none: it is easy for the most part all the same.
///
/// # Source
///
/// Common practice, no published source.
const fn shortest(unit: Unit) -> Milli {
    match unit {
        Unit::Km => Milli(4500),
        Unit::Mi => Milli(3000),
        Unit::Min => Milli(25_000),
    }
}

/// Gives one easy run a few minutes at race pace before a half marathon, in the place of strides where it holds some.
/// Who runs nothing hard has no key session, and none of this either; a tempo session is near enough to that pace.
pub(in crate::block) fn touch(facts: &Facts<'_>, days: &mut [DraftDay]) {
    let keys = days.iter().flat_map(|day| day.items.iter().map(move |item| (day.to_race, item)));
    let Some((key_day, key)) = keys.into_iter().find(|(_, item)| item.role == Role::Key) else { return };
    let is_faster = !matches!(key.session.kind, Kind::Tempo | Kind::RacePace);
    if facts.event != Event::Half || facts.youth || !is_faster {
        return;
    }
    let place = |wanted: Role| {
        // Quick running on neighbouring days would be a second hard day.
        DAYS.iter().filter(|to_race| key_day > **to_race + 1).find_map(|to_race| {
            let day = days.iter().position(|day| day.to_race == *to_race && !day.is_settled())?;
            let place = days[day].items.iter().position(|item| item.role == wanted && may_hold_it(item))?;
            Some((day, place))
        })
    };
    let Some((day, place)) = place(Role::EasyWithStrides).or_else(|| place(Role::Plain)) else { return };
    let item = &mut days[day].items[place];
    item.role = Role::EasyWithRacePace;
    if item.session.holds_strides() {
        item.session.sets.clear();
    }
    item.why.retain(|reason| *reason != Reason::Strides);
    item.why.push(Reason::RacePaceTouch);
}

/// An easy run that is long enough, and that no race before or after it spares.
fn may_hold_it(item: &Item) -> bool {
    let spared = |reason: &Reason| {
        matches!(
            reason,
            Reason::BeforeOtherRace(_) | Reason::AfterOtherRace(_) | Reason::GaveWayToRace(_) | Reason::Recovering(_)
        )
    };
    let is_easy = matches!(item.session.kind, Kind::Easy | Kind::Steady) && !item.session.is_hard() && !item.long;
    let is_long_enough = item.session.running().is_some_and(|amount| amount.low() >= shortest(amount.unit()));
    let is_optional = item.usual.as_ref().is_some_and(Session::is_optional);
    is_easy && !is_optional && is_long_enough && item.sizing != Sizing::Fixed && !item.why.iter().any(spared)
}
