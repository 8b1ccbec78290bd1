//! Easy runs of race week fall towards the race, however many days the block has and however long the session
//! is that they stand for.

use crate::block::Reason;
use crate::block::amounts;
use crate::block::draft::DraftDay;
use crate::block::facts::Facts;
use crate::curve::event_defaults;
use crate::race::Event;
use crate::units::{Milli, Share, Unit};

/// What an easy run of race week may be of a usual easy run: D6 first, D1 last.
///
/// # Source
///
/// Common practice, no published source.
const fn race_week_share(event: Event, to_race: u16) -> f64 {
    match (event, to_race) {
        (Event::FiveK, 4..) | (Event::TenK, 5..) => 0.90,
        (Event::TenK, 4) | (Event::Half, 6..) => 0.85,
        (Event::Half, 5) => 0.80,
        (Event::FiveK, 3) | (Event::Marathon | Event::Longer, 6..) => 0.75,
        (Event::Half, 4) | (Event::Marathon | Event::Longer, 5) => 0.70,
        (Event::FiveK, 2) | (Event::TenK, 3) | (Event::Marathon | Event::Longer, 4) => 0.65,
        (Event::TenK, 2) | (Event::Half, 3) => 0.60,
        (Event::FiveK, _) | (Event::Marathon | Event::Longer, 3) => 0.55,
        (Event::TenK, _) | (Event::Half, 2) => 0.50,
        (Event::Marathon | Event::Longer, 2) => 0.45,
        (Event::Half | Event::Marathon | Event::Longer, _) => 0.40,
    }
}

/// A share above this bounds nothing: no run of race week is more of itself.
///
/// # Source
///
/// Common practice, no published source.
const NO_BOUND: f64 = 0.90;

/// Bounds the easy runs of race week. A hard session that became easy is no longer than an easy run: what it is
/// usually is mostly warm-up, repetitions and cool-down.
pub(super) fn cap_in_race_week(facts: &Facts<'_>, days: &mut [DraftDay]) {
    for day in days.iter_mut().filter(|day| day.leads_up() && !day.is_settled()) {
        let share = most(facts, day.to_race);
        if share > NO_BOUND {
            continue;
        }
        // What became of a long run is bound as one before that: by a share of the longest. From then on it is also
        // counted as an easy run, see `allocate`.
        let last_days = day.to_race <= 3;
        for item in day.items.iter_mut().filter(|item| item.role.plays_no_part() && !item.session.is_hard()) {
            let Some(amount) = item.session.running().filter(|_| !item.long || last_days) else { continue };
            let usual = amount.middle().min(usual_easy(facts, amount.unit()));
            let most = amounts::nearest(amount, usual.times(Share(share))).middle();
            item.caps.push((most, Reason::EasyNear(Share(share))));
        }
    }
}

/// What an easy run usually is at most. Where the rules keep more of a week anyway (low mileage, few runs, youth), a
/// hard session that became easy keeps its length.
pub(in crate::block) fn usual_easy(facts: &Facts<'_>, unit: Unit) -> Milli {
    let keeps_more = facts.by_the_rules.floor > event_defaults(facts.event).curve.floor;
    if keeps_more { Milli(i32::MAX) } else { facts.km_in(facts.lengths.longest_easy, unit) }
}

/// The share, no less than the rules leave this athlete at all (low mileage, few runs, youth), or than the coach's own
/// curve does where its form or its floor was set by hand.
fn most(facts: &Facts<'_>, to_race: u16) -> f64 {
    let least = race_week_share(facts.event, to_race).max(facts.by_the_rules.share(to_race).0);
    let settings = facts.request.settings;
    let is_own = settings.curve.is_some() || settings.floor.is_some() || facts.curve.shape != facts.by_the_rules.shape;
    if is_own { least.max(facts.curve.share(to_race).0) } else { least }
}
