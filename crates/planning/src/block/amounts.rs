//! Values that a coach would write.

use crate::session::{Session, SetUnit, Sets};
use crate::units::{Amount, Milli, Share, Unit};

/// Up to this amount half units are written, above it whole ones (minutes always by fives).
///
/// # Source
///
/// Common practice, no published source.
const fn halves_until(unit: Unit) -> i32 {
    match unit {
        Unit::Km => 5000,
        Unit::Mi => 4000,
        Unit::Min => 0,
    }
}

const fn fine_step(unit: Unit) -> i32 {
    match unit {
        Unit::Km | Unit::Mi => 500,
        Unit::Min => 5000,
    }
}

const fn coarse_step(unit: Unit) -> i32 {
    match unit {
        Unit::Km | Unit::Mi => 1000,
        Unit::Min => 5000,
    }
}

/// The smallest cut that is worth writing: 1 km, half a mile, 5 minutes.
pub(super) const fn least_cut(unit: Unit) -> Milli {
    match unit {
        Unit::Km => Milli(1000),
        Unit::Mi => Milli(500),
        Unit::Min => Milli(5000),
    }
}

fn is_written(value: i32, unit: Unit) -> bool {
    value > 0 && value % if value <= halves_until(unit) { fine_step(unit) } else { coarse_step(unit) } == 0
}

/// The next written value above.
fn next(value: i32, unit: Unit) -> i32 {
    if value < halves_until(unit) { value + fine_step(unit) } else { value + coarse_step(unit) }
}

/// The smallest written value that is not below.
pub(super) fn round_up(value: Milli, unit: Unit) -> Milli {
    let fine = (value.0 + fine_step(unit) - 1) / fine_step(unit) * fine_step(unit);
    if fine <= halves_until(unit) {
        return Milli(fine);
    }
    let coarse = coarse_step(unit);
    Milli((value.0 + coarse - 1) / coarse * coarse)
}

/// Every amount that may be written for a session of this usual amount with a middle from `lower` to
/// `upper`, smallest first: written values at least one cut below the usual, or the usual as typed.
///
/// A range keeps its usual width times (x / usual) in whole steps, and is one number when that is
/// under one step. Where the bounds leave nothing, the largest below them is the only choice, else
/// the smallest that is written at all, else the usual.
pub(super) fn choices(usual: Amount, lower: Milli, upper: Milli) -> Vec<Amount> {
    let unit = usual.unit();
    let most = usual.middle() - least_cut(unit);
    let width = usual.high() - usual.low();
    let mut found = Vec::new();
    let mut below = None;
    let mut low = fine_step(unit);
    while low <= most.0.min(upper.0) {
        for amount in ranges_from(low, usual.middle(), width, unit) {
            let middle = amount.middle();
            if middle > most || middle > upper {
                continue;
            }
            if middle < lower {
                below = Some(amount);
            } else {
                found.push(amount);
            }
        }
        low = next(low, unit);
    }
    if usual.middle() >= lower && usual.middle() <= upper {
        found.push(usual);
    }
    found.sort_by_key(|amount| (amount.middle(), amount.high()));
    found.dedup_by_key(|amount| amount.middle());
    if found.is_empty() {
        let smallest = Amount::exact(Milli(fine_step(unit)), unit);
        found.push(below.unwrap_or(if smallest.middle() <= most { smallest } else { usual }));
    }
    found
}

/// The one number or the range that starts at a written value, if its width is the right one.
fn ranges_from(low: i32, usual: Milli, width: Milli, unit: Unit) -> impl Iterator<Item = Amount> {
    let step = coarse_step(unit);
    let widest = width.0 / step;
    (0..=widest).filter_map(move |steps| {
        let high = low + steps * step;
        let middle = i64::from(low) + i64::from(high);
        // Twice the width times (x / usual), both sides in thousandths.
        let wanted = i64::from(width.0) * middle / i64::from(usual.0.max(1));
        let right = if wanted < 2 * i64::from(step) {
            steps == 0
        } else {
            steps > 0 && (2 * i64::from(steps * step) - wanted).abs() <= i64::from(step)
        };
        (right && is_written(low, unit) && is_written(high, unit))
            .then(|| Amount::between(Milli(low), Milli(high), unit))
    })
}

/// The written amount nearest to a wanted middle, the smaller of equals, never above the usual.
pub(super) fn nearest(usual: Amount, wanted: Milli) -> Amount {
    let mut best = usual;
    for amount in choices(usual, Milli::ZERO, usual.middle()) {
        let closer = (amount.middle() - wanted).0.abs() < (best.middle() - wanted).0.abs();
        let tie_below =
            (amount.middle() - wanted).0.abs() == (best.middle() - wanted).0.abs() && amount.middle() < best.middle();
        if closer || tie_below {
            best = amount;
        }
    }
    best
}

/// Hard parts are written in halves, minutes by ones.
pub(super) const fn hard_step(unit: Unit) -> i32 {
    match unit {
        Unit::Km | Unit::Mi => 500,
        Unit::Min => 1000,
    }
}

/// The hard part of a session at a share: in halves, minutes by ones, at most the usual, at least a half.
pub(super) fn hard_part(usual: &Session, share: Share) -> Option<Amount> {
    let hard = usual.hard_part()?;
    if share.0 >= 1.0 {
        return Some(hard);
    }
    if usual.hard.is_none() && !usual.hard_is_assumed() && !usual.sets.is_empty() {
        // The repetitions that are left say it exactly.
        return Session { sets: shorter_sets(&usual.sets, share), ..usual.clone() }.hard_part();
    }
    let share = if usual.sets.is_empty() { share } else { Share(sets_share(&usual.sets, share)) };
    let step = f64::from(hard_step(hard.unit()));
    let written = |value: Milli| {
        let rounded = (f64::from(value.0) * share.0 / step).round().max(1.0) * step;
        Milli((rounded as i32).min(value.0))
    };
    Some(Amount::between(written(hard.low()), written(hard.high()), hard.unit()))
}

/// Gives a session the hard part of its usual one at a share: repetitions go, their length, pace and
/// recovery stay.
pub(super) fn shorten_hard(session: &mut Session, usual: &Session, share: Share, says_hard: SaysHard) {
    if share.0 >= 1.0 || usual.hard_part().is_none() {
        return;
    }
    session.sets = shorter_sets(&usual.sets, share);
    if let Some(amount) = session.amount {
        fit(&mut session.sets, amount);
    }
    let said_by_sets = usual.hard.is_none() && !usual.hard_is_assumed() && !usual.sets.is_empty();
    if !said_by_sets && (usual.hard.is_some() || says_hard == SaysHard::Always) {
        session.hard = hard_part(usual, share);
    }
    if let (Some(hard), Some(amount)) = (session.hard, session.amount) {
        session.hard = Some(Amount::between(hard.low().min(amount.low()), hard.high().min(amount.high()), hard.unit()));
    }
}

/// Lets more repetitions go where those that are left are still longer than the whole session: one of
/// the longest line at a time, then whole lines from the end.
fn fit(sets: &mut Vec<Sets>, amount: Amount) {
    let total = |sets: &[Sets]| sets.iter().map(|line| line.total_in(amount.unit())).sum::<Option<Milli>>();
    while total(sets).is_some_and(|total| total > amount.high()) {
        match sets.iter_mut().max_by_key(|line| line.reps) {
            Some(most) if most.reps > 1 => most.reps -= 1,
            _ => drop(sets.pop()),
        }
    }
}

/// Whether a hard part that the coach left to the kind's assumption is written out.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum SaysHard {
    /// As the usual session does.
    AsUsual,
    /// Always: it is no longer the kind's usual part of the session.
    Always,
}

/// In a full week at least this part of the repetitions stays.
///
/// # Source
///
/// Common practice, no published source: less than 70 % of the usual hard running is worth a note.
const LEAST_REPS: f64 = 0.70;

/// The sets at a share: each line loses repetitions, to the nearest, halves up, at least one, and no
/// more than leaves 70 % while the share is above that; a list of single repetitions loses its last
/// ones; one single repetition becomes shorter.
fn shorter_sets(sets: &[Sets], share: Share) -> Vec<Sets> {
    let kept = |count: usize| {
        let nearest = (count as f64 * share.0 + 0.5).floor();
        let least = if share.0 >= LEAST_REPS { (count as f64 * LEAST_REPS).ceil() } else { 1.0 };
        (nearest.max(least) as usize).clamp(1, count.max(1))
    };
    if sets.iter().all(|line| line.reps == 1) {
        return match sets {
            [] => Vec::new(),
            [only] => vec![Sets { length: shorter_rep(only, share), ..only.clone() }],
            several => several[..kept(several.len())].to_vec(),
        };
    }
    sets.iter().map(|line| Sets { reps: kept(usize::from(line.reps)) as u16, ..line.clone() }).collect()
}

fn shorter_rep(line: &Sets, share: Share) -> Milli {
    let step = match line.unit {
        SetUnit::M => 100_000.0,
        SetUnit::S => 10_000.0,
        SetUnit::Km | SetUnit::Mi => 500.0,
        SetUnit::Min => 1000.0,
    };
    let rounded = (f64::from(line.length.0) * share.0 / step).round().max(1.0) * step;
    Milli((rounded as i32).min(line.length.0))
}

/// What part of the repetitions' running is left when whole repetitions go.
fn sets_share(sets: &[Sets], share: Share) -> f64 {
    let metres = |lines: &[Sets]| -> f64 {
        lines
            .iter()
            .map(|line| {
                let one = match line.unit {
                    SetUnit::M => 1.0,
                    SetUnit::Km => 1000.0,
                    SetUnit::Mi => 1609.344,
                    // About the speed of such repetitions: only their proportion matters here.
                    SetUnit::S => 4.0,
                    SetUnit::Min => 240.0,
                };
                f64::from(line.reps) * line.length.as_f64() * one
            })
            .sum()
    };
    let whole = metres(sets);
    if whole <= 0.0 { share.0 } else { metres(&shorter_sets(sets, share)) / whole }
}

#[cfg(test)]
mod tests;
