//! The best choice of written amounts whose sum is near a target: exact.

use std::ops::{Range, RangeInclusive};

use crate::units::{Amount, Milli};

/// One session: what may be written, and what is wished.
#[derive(Clone, Debug)]
pub(super) struct Choice {
    /// What may be written, smallest middle first, at least one.
    pub(super) amounts: Vec<Amount>,
    /// The wish.
    pub(super) reference: Milli,
    /// The usual amount, which scales the distance.
    pub(super) usual: Milli,
    /// How much the session holds on to its wish.
    pub(super) weight: u64,
}

impl Choice {
    /// Weighted square distance from the wish over the usual amount, in whole thousandths, so that
    /// equal is equal.
    fn cost(&self, pick: usize) -> u64 {
        let off = i64::from(self.amounts[pick].middle().0) - i64::from(self.reference.0);
        let square = off.unsigned_abs().pow(2);
        self.weight * square * 1000 / u64::from(self.usual.0.max(1).unsigned_abs())
    }

    /// The most that may be written.
    pub(super) fn most(&self) -> Milli {
        self.amounts.last().map_or(Milli::ZERO, |amount| amount.middle())
    }

    /// The cheapest pick, the smallest of equals.
    fn cheapest(&self) -> usize {
        // The cost falls toward the wish and rises behind it: only the two amounts around it are looked at.
        let above = self.amounts.partition_point(|amount| amount.middle() < self.reference);
        let around = above.saturating_sub(1)..self.amounts.len().min(above + 1);
        let mut best = around.min_by_key(|pick| (self.cost(*pick), *pick)).unwrap_or(0);
        while best > 0 && self.cost(best - 1) == self.cost(best) {
            best -= 1;
        }
        best
    }

    /// The picks around the cheapest that cost no more than this.
    fn no_dearer_than(&self, cheapest: usize, most: u64) -> Range<usize> {
        let below = (0..cheapest).rev().take_while(|pick| self.cost(*pick) <= most).count();
        let above = (cheapest..self.amounts.len()).take_while(|pick| self.cost(*pick) <= most).count();
        cheapest - below..cheapest + above
    }

    fn middle(&self, pick: usize) -> i64 {
        i64::from(self.amounts[pick].middle().0)
    }
}

/// Picks one amount for each session.
///
/// Among all picks whose sum lies within `sums`, the cheapest; among equals the smallest sum, then the
/// smallest amount on the last session (nearest the race), then on the one before it, and so on. If no
/// sum lies there, only the nearest sums are considered.
///
/// The table of all sums is built only of amounts that can be part of the best pick, so that odd amounts
/// as typed, far from what is wished, do not make it fine and large.
pub(super) fn solve(choices: &[Choice], sums: RangeInclusive<Milli>) -> Vec<usize> {
    let cheapest: Vec<usize> = choices.iter().map(Choice::cheapest).collect();
    let sum: i64 = choices.iter().zip(&cheapest).map(|(choice, pick)| choice.middle(*pick)).sum();
    let (low, high) = (i64::from(sums.start().0), i64::from(sums.end().0));
    if (low..=high).contains(&sum) {
        return cheapest;
    }
    let ends = |end: fn(&Choice) -> usize| choices.iter().map(end).collect::<Vec<_>>();
    let total = |picks: &[usize]| choices.iter().zip(picks).map(|(choice, pick)| choice.middle(*pick)).sum::<i64>();
    let (smallest, largest) = (ends(|_| 0), ends(|choice| choice.amounts.len() - 1));
    if total(&smallest) > high {
        return smallest;
    }
    if total(&largest) < low {
        return largest;
    }
    let Some(most) = cost_of_a_good_pick(choices, &cheapest, low, high) else {
        return Table::build(choices).pick(choices, low, high);
    };
    let worth: Vec<Range<usize>> = choices
        .iter()
        .zip(&cheapest)
        .map(|(choice, best)| choice.no_dearer_than(*best, most + choice.cost(*best)))
        .collect();
    let narrowed: Vec<Choice> = choices
        .iter()
        .zip(&worth)
        .map(|(choice, worth)| Choice { amounts: choice.amounts[worth.clone()].to_vec(), ..*choice })
        .collect();
    let picks = Table::build(&narrowed).pick(&narrowed, low, high);
    picks.iter().zip(worth).map(|(pick, worth)| worth.start + pick).collect()
}

/// What a pick with a sum between the ends costs more than the cheapest: found by going up or down where it
/// costs least. No amount that alone costs more than that can be part of the best pick.
fn cost_of_a_good_pick(choices: &[Choice], cheapest: &[usize], low: i64, high: i64) -> Option<u64> {
    let mut picks = cheapest.to_vec();
    let mut sum: i64 = choices.iter().zip(&picks).map(|(choice, pick)| choice.middle(*pick)).sum();
    while !(low..=high).contains(&sum) {
        let goes_up = sum < low;
        let (sum_then, _, place, pick) = (0..choices.len())
            .filter_map(|place| {
                let (choice, now) = (&choices[place], picks[place]);
                let then = if goes_up { now + 1 } else { now.checked_sub(1)? };
                let sum_then = sum - choice.middle(now) + (then < choice.amounts.len()).then(|| choice.middle(then))?;
                let stays_near = if goes_up { sum_then <= high } else { sum_then >= low };
                stays_near.then(|| (sum_then, choice.cost(then) - choice.cost(now), place, then))
            })
            .min_by_key(|(_, more, place, _)| (*more, *place))?;
        (sum, picks[place]) = (sum_then, pick);
    }
    let cost = |picks: &[usize]| choices.iter().zip(picks).map(|(choice, pick)| choice.cost(*pick)).sum::<u64>();
    Some(cost(&picks) - cost(cheapest))
}

/// Least cost for each reachable sum of the first so many sessions.
struct Table {
    /// Everything is counted in this many thousandths above the smallest possible sum.
    step: i64,
    least: i64,
    /// `rows[n][s]`: the first n sessions together s steps above their smallest sum.
    rows: Vec<Vec<u64>>,
}

const OUT_OF_REACH: u64 = u64::MAX;

impl Table {
    fn build(choices: &[Choice]) -> Self {
        let step = choices
            .iter()
            .flat_map(|choice| (1..choice.amounts.len()).map(|pick| choice.middle(pick) - choice.middle(0)))
            .fold(0, gcd)
            .max(1);
        let least = choices.iter().map(|choice| choice.middle(0)).sum();
        let mut rows = vec![vec![0]];
        for choice in choices {
            let before = &rows[rows.len() - 1];
            let widest = (choice.middle(choice.amounts.len() - 1) - choice.middle(0)) / step;
            let mut row = vec![OUT_OF_REACH; before.len() + widest as usize];
            for pick in 0..choice.amounts.len() {
                let cost = choice.cost(pick);
                let up = ((choice.middle(pick) - choice.middle(0)) / step) as usize;
                for (sum, so_far) in before.iter().enumerate().filter(|(_, so_far)| **so_far != OUT_OF_REACH) {
                    row[sum + up] = row[sum + up].min(so_far + cost);
                }
            }
            rows.push(row);
        }
        Self { step, least, rows }
    }

    fn pick(&self, choices: &[Choice], low: i64, high: i64) -> Vec<usize> {
        let last = &self.rows[self.rows.len() - 1];
        let off = |sum: usize| {
            let sum = self.least + sum as i64 * self.step;
            (low - sum).max(sum - high).max(0)
        };
        let reachable = || (0..last.len()).filter(|sum| last[*sum] != OUT_OF_REACH);
        let nearest = reachable().map(off).min().unwrap_or(0);
        let mut sum = reachable().filter(|sum| off(*sum) == nearest).min_by_key(|sum| (last[*sum], *sum)).unwrap_or(0);
        let mut picks = vec![0; choices.len()];
        for index in (0..choices.len()).rev() {
            let choice = &choices[index];
            let before = &self.rows[index];
            let wanted = self.rows[index + 1][sum];
            for pick in 0..choice.amounts.len() {
                let up = ((choice.middle(pick) - choice.middle(0)) / self.step) as usize;
                let fits = up <= sum && sum - up < before.len() && before[sum - up] != OUT_OF_REACH;
                if fits && before[sum - up] + choice.cost(pick) == wanted {
                    picks[index] = pick;
                    sum -= up;
                    break;
                }
            }
        }
        picks
    }
}

fn gcd(a: i64, b: i64) -> i64 {
    if b == 0 { a.abs() } else { gcd(b, a % b) }
}

#[cfg(test)]
pub(super) mod tests;
