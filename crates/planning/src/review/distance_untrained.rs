//! The longest usual run is short for the race.

use super::look::Look;
use super::{Figure, Finding, Level, RuleId};
use crate::race::Event;
use crate::units::{Amount, Unit, middle_km};
use crate::week::WEEKDAYS;

/// The longest run should be at least this part of the race, up to the half marathon.
const LEAST_PART: f64 = 0.60;
/// The same before a marathon.
const LEAST_PART_MARATHON: f64 = 0.45;
/// Or this long, where only time is known, in minutes.
const LEAST_MINUTES_MARATHON: f64 = 120.0;
/// Beyond the marathon the longest run should be at least this, in kilometres.
const LEAST_KM_LONGER: f64 = 30.0;
/// And two days together at least this part of the race.
const LEAST_TWO_DAYS_LONGER: f64 = 0.40;

/// Fires when the longest run of the base week is short for the race. Where the week is in minutes and
/// no pace is known, only the marathon's two hours can be judged.
///
/// # Source
///
/// Common practice, no published source.
pub(super) fn judge(look: &Look<'_>) -> Vec<Finding> {
    let race_km = look.block.race.distance.distance().as_km();
    let longest = look
        .subject
        .week
        .sessions()
        .filter_map(|(_, session)| session.running())
        .max_by(|a, b| middle_km(*a, look.pace).total_cmp(&middle_km(*b, look.pace)));
    let Some(longest) = longest else { return Vec::new() };
    let timed = longest.unit() == Unit::Min && look.subject.athlete.easy_pace.is_none();
    match look.block.event {
        Event::Marathon if timed => short(longest, longest.middle().as_f64(), LEAST_MINUTES_MARATHON, Unit::Min),
        _ if timed => Vec::new(),
        Event::Marathon => {
            let enough_time = longest.unit() == Unit::Min && longest.middle().as_f64() >= LEAST_MINUTES_MARATHON;
            if enough_time { Vec::new() } else { in_km(look, longest, race_km * LEAST_PART_MARATHON) }
        }
        Event::Longer => {
            let found = in_km(look, longest, LEAST_KM_LONGER);
            if found.is_empty() { two_days(look, race_km * LEAST_TWO_DAYS_LONGER) } else { found }
        }
        Event::FiveK | Event::TenK | Event::Half => in_km(look, longest, race_km * LEAST_PART),
    }
}

fn in_km(look: &Look<'_>, longest: Amount, least: f64) -> Vec<Finding> {
    short(longest, middle_km(longest, look.pace), least, Unit::Km)
}

fn short(longest: Amount, value: f64, least: f64, unit: Unit) -> Vec<Finding> {
    // Compared at the upper end of a range: the athlete does run that far.
    let value = value * longest.high().as_f64() / longest.middle().as_f64().max(0.001);
    if value + 0.05 >= least {
        return Vec::new();
    }
    vec![Finding::new(
        RuleId::DistanceUntrained,
        Level::Caution,
        Figure::Amount(value, unit),
        Figure::Amount(least, unit),
    )]
}

fn two_days(look: &Look<'_>, least: f64) -> Vec<Finding> {
    let day = |index: usize| -> f64 {
        look.subject
            .week
            .day(WEEKDAYS[index % 7])
            .iter()
            .filter_map(|slot| slot.chosen().running())
            .map(|amount| middle_km(amount, look.pace))
            .sum()
    };
    let most = (0..7).map(|index| day(index) + day(index + 1)).fold(0.0, f64::max);
    if most >= least {
        return Vec::new();
    }
    vec![Finding::new(
        RuleId::DistanceUntrained,
        Level::Caution,
        Figure::Amount(most, Unit::Km),
        Figure::Amount(least, Unit::Km),
    )]
}
