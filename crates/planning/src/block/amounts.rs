//! Values that a coach would write.

use crate::session::{Session, SetUnit, Sets};
use crate::units::{Amount, DistanceUnit, Milli, Share, Unit};

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

/// The step between written amounts as far as halves go.
const fn fine_step(unit: Unit) -> i32 {
    match unit {
        Unit::Km | Unit::Mi => 500,
        Unit::Min => 5000,
    }
}

/// The step between written amounts above that.
const fn coarse_step(unit: Unit) -> i32 {
    match unit {
        Unit::Km | Unit::Mi => 1000,
        Unit::Min => 5000,
    }
}

/// The step from a written value up to the next.
pub(crate) const fn step_at(value: i32, unit: Unit) -> i32 {
    if value < halves_until(unit) { fine_step(unit) } else { coarse_step(unit) }
}

/// The smallest cut that is worth writing: 1 km, half a mile, 5 minutes.
///
/// # Source
///
/// Common practice, no published source.
pub(super) const fn least_cut(unit: Unit) -> Milli {
    match unit {
        Unit::Km => Milli(1000),
        Unit::Mi => Milli(500),
        Unit::Min => Milli(5000),
    }
}

/// The nearest half of a step: how exactly the ends of a week's total are told.
pub(super) fn nearest_half_step(value: Milli, unit: Unit) -> Milli {
    let half = coarse_step(unit) / 2;
    Milli((value.0 + half / 2).div_euclid(half) * half)
}

fn is_written(value: i32, unit: Unit) -> bool {
    value > 0 && value % if value <= halves_until(unit) { fine_step(unit) } else { coarse_step(unit) } == 0
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

/// The written values between two ends.
fn written_between(from: Milli, to: Milli, unit: Unit) -> impl Iterator<Item = Milli> {
    let next = move |value: &Milli| Some(*value + Milli(step_at(value.0, unit)));
    std::iter::successors(Some(round_up(from, unit)), next).take_while(move |value| *value <= to)
}

/// Every amount that may be written for a session of this usual amount with a middle from `lower` to
/// `upper`, smallest first: written values at least one cut below the usual, or the usual as typed.
///
/// A range keeps its usual width times (x / usual) in whole steps, and is one number when that is
/// under one step. Where the bounds leave nothing, the largest below them is the only choice, else
/// the smallest that is written at all, else the usual.
pub(super) fn choices(usual: Amount, lower: Milli, upper: Milli) -> Vec<Amount> {
    let scale = Scale::of(usual);
    let most = (usual.middle() - least_cut(scale.unit)).min(upper);
    let from = lower.max(Milli(1));
    let mut found = Vec::with_capacity(scale.middles(from, most).size_hint().0 + 1);
    if usual.is_range() {
        found.extend(scale.middles(from, most).filter_map(|middle| scale.at(middle)));
    } else {
        found.extend(written_between(from, most, scale.unit).map(|value| Amount::exact(value, scale.unit)));
    }
    if usual.middle() >= lower && usual.middle() <= upper {
        found.push(usual);
    }
    if found.is_empty() {
        let below = scale.middles(Milli(1), most.min(lower)).rev().find_map(|middle| scale.at(middle));
        let smallest = Amount::exact(Milli(fine_step(scale.unit)), scale.unit);
        let least_cut_fits = smallest.middle() <= usual.middle() - least_cut(scale.unit);
        found.push(below.unwrap_or(if least_cut_fits { smallest } else { usual }));
    }
    found
}

/// What may be written instead of one usual amount.
#[derive(Clone, Copy)]
struct Scale {
    usual: i64,
    width: i64,
    unit: Unit,
}

impl Scale {
    fn of(usual: Amount) -> Self {
        let width = usual.high() - usual.low();
        Self { usual: i64::from(usual.middle().0.max(1)), width: i64::from(width.0), unit: usual.unit() }
    }

    /// Half a step apart: the middles of all that may be written between two ends.
    fn middles(self, from: Milli, to: Milli) -> impl DoubleEndedIterator<Item = i32> {
        let half = self.half_step();
        ((from.0 + half - 1) / half..=to.0.div_euclid(half)).map(move |steps| steps * half)
    }

    const fn half_step(self) -> i32 {
        coarse_step(self.unit) / 2
    }

    /// The amount with this middle, if there is one: of the right width, or nearly so where otherwise two
    /// neighbours would lie more than a step apart (6 between 5 and 6-7).
    fn at(self, middle: i32) -> Option<Amount> {
        if self.width == 0 {
            return is_written(middle, self.unit).then(|| Amount::exact(Milli(middle), self.unit));
        }
        let before = middle - self.half_step();
        self.of_the_right_width(middle).or_else(|| {
            let leaves_a_hole = before > 0 && self.of_the_right_width(before).is_none();
            leaves_a_hole.then(|| self.nearest_width(middle)).flatten()
        })
    }

    /// Twice the width that a range with this middle should have, in thousandths.
    fn wanted(self, middle: i32) -> i64 {
        2 * self.width * i64::from(middle) / self.usual
    }

    fn of_the_right_width(self, middle: i32) -> Option<Amount> {
        let step = i64::from(coarse_step(self.unit));
        let wanted = self.wanted(middle);
        if wanted < 2 * step {
            return self.written(middle, 0);
        }
        let narrowest = ((wanted - step + 2 * step - 1) / (2 * step)).max(1);
        let widest = (wanted + step) / (2 * step);
        (narrowest..=widest).find_map(|steps| self.written(middle, steps as i32))
    }

    /// The width nearest to the right one that can be written around a middle, the narrower of equals.
    fn nearest_width(self, middle: i32) -> Option<Amount> {
        let right = (self.wanted(middle) / (2 * i64::from(coarse_step(self.unit)))) as i32;
        let off = |amount: &Amount| (2 * i64::from((amount.high() - amount.low()).0) - self.wanted(middle)).abs();
        let around = [right - 1, right, right + 1, right + 2].into_iter().filter(|steps| *steps >= 0);
        around.filter_map(|steps| self.written(middle, steps)).min_by_key(off)
    }

    /// So many steps around a middle, if both ends are written values.
    fn written(self, middle: i32, steps: i32) -> Option<Amount> {
        let reach = steps * self.half_step();
        let (low, high) = (middle - reach, middle + reach);
        (is_written(low, self.unit) && is_written(high, self.unit))
            .then(|| Amount::between(Milli(low), Milli(high), self.unit))
    }
}

/// The written amount nearest to a wanted middle, the smaller of equals, never above the usual.
pub(crate) fn nearest(usual: Amount, wanted: Milli) -> Amount {
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

/// The largest written amount whose middle is not above the wanted one; the smallest where none is.
pub(crate) fn at_most(usual: Amount, wanted: Milli) -> Amount {
    let found = choices(usual, Milli::ZERO, wanted.min(usual.middle()));
    found.last().copied().unwrap_or(usual)
}

/// Hard parts are written in halves, minutes by ones.
///
/// # Source
///
/// Common practice, no published source.
pub(crate) const fn hard_step(unit: Unit) -> i32 {
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
    if usual.hard.is_none() && usual.holds_hard_sets() {
        // The repetitions that are left say it.
        return Session { sets: shorter_sets(&usual.sets, share), ..usual.clone() }.hard_part();
    }
    let share = if usual.holds_hard_sets() { Share(sets_share(&usual.sets, share)) } else { share };
    let step = f64::from(hard_step(hard.unit()));
    let written = |value: Milli| {
        let rounded = (f64::from(value.0) * share.0 / step).round().max(1.0) * step;
        Milli((rounded as i32).min(value.0))
    };
    Some(Amount::between(written(hard.low()), written(hard.high()), hard.unit()))
}

/// Gives a session the hard part of its usual one at a share: repetitions go, their length, pace and
/// recovery stay.
pub(crate) fn shorten_hard(session: &mut Session, usual: &Session, share: Share, says_hard: SaysHard) {
    if share.0 >= 1.0 || usual.hard_part().is_none() {
        return;
    }
    session.sets = shorter_sets(&usual.sets, share);
    if let Some(amount) = session.amount {
        fit(&mut session.sets, amount);
    }
    let said_by_sets = usual.hard.is_none() && usual.holds_hard_sets();
    if !said_by_sets && (usual.hard.is_some() || says_hard == SaysHard::Always) {
        session.hard = hard_part(usual, share);
    }
    if session.hard == usual.hard_part() && session.amount == usual.amount {
        // Nothing came of it: what the kind says of the usual session is still true.
        session.hard = usual.hard;
    }
    if let (Some(hard), Some(amount)) = (session.hard, session.amount) {
        session.hard = Some(inside(hard, amount));
    }
}

/// A hard part no longer than its session, at either end.
fn inside(hard: Amount, amount: Amount) -> Amount {
    Amount::between(hard.low().min(amount.low()), hard.high().min(amount.high()), hard.unit())
}

/// Says the hard part that is only assumed of a session's kind, so that it stays when the kind changes. Minutes of
/// repetitions say theirs whatever the kind.
pub(super) fn keep_hard_part(session: &mut Session) {
    if session.holds_hard_sets() && session.hard_is_assumed() {
        return;
    }
    if let (Some(hard), Some(amount)) = (session.hard_part(), session.amount) {
        session.hard = Some(inside(hard, amount));
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
pub(crate) enum SaysHard {
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

/// One repetition at a share, as a coach would write it: by hundreds of metres, halves, whole minutes or tens of
/// seconds.
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
                    SetUnit::Mi => DistanceUnit::Mi.millimetres() as f64 / 1000.0,
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
