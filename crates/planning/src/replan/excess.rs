//! More was run than planned, and the coach wants some of it back.

use chrono::NaiveDate;

use super::{Measure, is_free};
use crate::block::amounts;
use crate::block::{Block, Life, Planned, Reason};
use crate::life::Excess;
use crate::session::Kind;
use crate::units::{Amount, Milli, Share};

/// At most this share of the excess comes off again.
///
/// # Source
///
/// Common practice, no published source.
const GIVEN_BACK: Share = Share(0.5);

/// It comes off the easy runs of so many days, at least this far from the race.
///
/// # Source
///
/// Common practice, no published source.
const WITHIN_DAYS: i64 = 7;
const NOT_LATER_THAN: u16 = 3;

/// No run gives more than this share of itself.
///
/// # Source
///
/// Common practice, no published source.
const MOST_OF_A_RUN: Share = Share(0.5);

/// Takes up to half of the excess off the easy runs of the coming week, each in proportion.
pub(super) fn take_off(block: &mut Block, excess: Excess, measure: &Measure) {
    let unit = excess.amount.unit();
    let comes_off = |date: NaiveDate| (0..WITHIN_DAYS).contains(&(date - excess.noted).num_days());
    let gives = |planned: &Planned| -> Option<Amount> {
        let easy = matches!(planned.session.kind, Kind::Easy | Kind::Recovery | Kind::Steady)
            && planned.role.plays_no_part()
            && !planned.session.is_hard();
        planned.session.running().filter(|amount| easy && amount.unit() == unit)
    };
    let mut runs: Vec<&mut Planned> = block
        .days
        .iter_mut()
        .filter(|day| is_free(day) && day.to_race >= NOT_LATER_THAN && comes_off(day.date))
        .flat_map(|day| &mut day.sessions)
        .filter(|planned| gives(planned).is_some())
        .collect();
    let sum: Milli = runs.iter().filter_map(|planned| gives(planned)).map(Amount::middle).sum();
    if sum == Milli::ZERO {
        return;
    }
    let most = excess.amount.middle().times(GIVEN_BACK);
    let part = Share((most.as_f64() / sum.as_f64()).min(MOST_OF_A_RUN.0));
    let mut left = most;
    for planned in &mut runs {
        let Some(amount) = gives(planned) else { continue };
        let least = measure.least.least(unit).min(amount.middle());
        let wanted = (amount.middle() - amount.middle().times(part)).max(least);
        let shorter = amounts::nearest(amount, wanted);
        let off = amount.middle() - shorter.middle();
        if off > Milli::ZERO && off <= left {
            left = left - off;
            planned.session.amount = Some(shorter);
            planned.why.retain(|reason| matches!(reason, Reason::Life(_)));
            planned.why.push(Reason::Life(Life::RanMore));
        }
    }
}
