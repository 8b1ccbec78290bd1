//! Two weeks that take turns: a full one behind a light one must not rise above it.

use std::ops::Range;

use super::earlier::Earlier;
use super::{open_week, smallest_sum, sum_in};
use crate::block::draft::DraftDay;
use crate::block::facts::Facts;
use crate::block::shape::Shaped;
use crate::units::{Amount, Milli, Unit, middle_km};

/// Where two weeks take turns: what a week may hold in each unit so as not to rise above the week before
/// it, which may hold other units. The room is parted as the week's own running is; what one unit cannot
/// do without (a time trial that is run whole), the others do without.
pub(super) fn rooms(
    facts: &Facts<'_>,
    days: &[DraftDay],
    range: &Range<usize>,
    shaped: &Shaped,
    earlier: &Earlier,
) -> [Milli; 3] {
    let km = |days: &[DraftDay], wanted: &dyn Fn(Unit) -> bool| -> f64 {
        let runs = days.iter().flat_map(|day| &day.items).filter_map(|item| item.session.running());
        runs.filter(|amount| wanted(amount.unit())).map(|amount| middle_km(amount, facts.pace)).sum()
    };
    let before = km(&days[range.start - 7..range.start], &|_| true);
    let before = before.max(facts.request.week.running().middle_km(facts.pace) * SAYS_NOTHING);
    let parts = Unit::ALL.map(|unit| km(&days[range.clone()], &|of| of == unit));
    let least = Unit::ALL.map(|unit| {
        let open = open_week(facts, days, range.clone(), unit, shaped, earlier, Some(Milli::ZERO));
        open.map_or_else(|| sum_in(&days[range.clone()], unit), |open| smallest_sum(&open.choices))
    });
    let least: [f64; 3] =
        std::array::from_fn(|unit| middle_km(Amount::exact(least[unit], Unit::ALL[unit]), facts.pace));
    let room = parted(before, parts, least);
    std::array::from_fn(|unit| facts.km_in(room[unit], Unit::ALL[unit]))
}

/// Parts a whole in proportion, so that each part is at least what it must be: what one takes more, the
/// others have less.
fn parted(whole: f64, parts: [f64; 3], least: [f64; 3]) -> [f64; 3] {
    let mut must = [false; 3];
    loop {
        let taken: f64 = (0..3).filter(|unit| must[*unit]).map(|unit| least[unit]).sum();
        let sum: f64 = (0..3).filter(|unit| !must[*unit]).map(|unit| parts[unit]).sum();
        let one = if sum > 0.0 { (whole - taken).max(0.0) / sum } else { 0.0 };
        let part = |unit: usize| if must[unit] { least[unit] } else { parts[unit] * one };
        match (0..3).find(|unit| !must[*unit] && part(*unit) < least[*unit]) {
            Some(unit) => must[unit] = true,
            None => return std::array::from_fn(part),
        }
    }
}

/// Where two weeks take turns, a week that holds less than this part of their mean (seven days that
/// happen to catch the rest days of both) says nothing about the one behind it.
///
/// # Source
///
/// A convention of ours, no published source.
pub(crate) const SAYS_NOTHING: f64 = 0.45;

/// Whether a week must not rise above the one before it, where two weeks take turns: inside the block,
/// and race week in any case. Before the block they rise and fall as usual. Asked with the last day of
/// the week before.
pub(crate) const fn falls_behind(last_before: u16, is_race_week: bool, length: u8) -> bool {
    is_race_week || last_before < length as u16
}
