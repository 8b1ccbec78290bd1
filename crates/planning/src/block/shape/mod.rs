//! Step 2: which sessions stay and in what form. Structure first; each rule works only on what the
//! rules before it left.

pub(super) mod easy_run;
mod hard;
mod key;
pub(super) mod long_run;
pub(super) mod other_race;
pub(super) mod race_pace;
mod rest;
mod second_run;
mod strength;
pub(super) mod strides;

use super::draft::{DraftDay, Item};
use super::facts::Facts;
use crate::session::Session;
use crate::units::{Milli, Unit};

/// What the shape tells the amounts.
#[derive(Clone, Debug, Default)]
pub(super) struct Shaped {
    /// Race week's running that a rest day or a second run gave away, as f(t) times usual, with its
    /// unit: other easy runs may take it up.
    pub(super) given_away: Vec<(Unit, Milli)>,
}

/// Shapes the days.
pub(super) fn shape(facts: &Facts<'_>, days: &mut [DraftDay]) -> Shaped {
    let mut shaped = Shaped::default();
    other_race::place(facts, days);
    long_run::step_down(facts, days);
    long_run::ease_in_race_week(facts, days);
    hard::move_hills_to_the_flat(facts, days);
    let key = key::place(facts, days);
    hard::ease_in_race_week(facts, days, key);
    hard::ease_before_race_week(facts, days);
    second_run::leave_out(facts, days, key, &mut shaped);
    rest::place(facts, days, key, &mut shaped);
    give_away_fixed_rest(facts, days, &mut shaped);
    easy_run::cap_in_race_week(facts, days);
    strength::lighten(facts, days);
    shaped
}

/// A rest day that the coach fixed gives away as much as one that the rules place.
fn give_away_fixed_rest(facts: &Facts<'_>, days: &[DraftDay], shaped: &mut Shaped) {
    for day in days.iter().filter(|day| day.leads_up() && day.is_settled() && !day.runs()) {
        let usual = |session| Item { long: facts.is_long(session), ..Item::as_usual(0, session) };
        let gone: Vec<Item> = day.usual.iter().map(usual).collect();
        give_away(facts, day.to_race, &gone, shaped);
    }
}

/// Notes running that is not run in race week, for others to take up.
fn give_away(facts: &Facts<'_>, to_race: u16, gone: &[Item], shaped: &mut Shaped) {
    for item in gone.iter().filter(|item| !item.long && item.is_running()) {
        if let Some(amount) = item.usual.as_ref().and_then(Session::running) {
            shaped.given_away.push((amount.unit(), amount.middle().times(facts.share(to_race))));
        }
    }
}
