//! From a goal time to times on the course.
//!
//! Effort is what is kept, not pace: on a hill the pace follows the cost of running ([`cost`]). How the effort
//! itself changes is the [`Strategy`]: the second half slower or faster, the first kilometres held back.

mod change_rules;
mod cost;
mod marks;

use crate::profile::Profile;
use crate::race_time::RaceTime;
use crate::units::{Distance, Share};

pub use change_rules::{ChangeRule, Look, change_rules};
pub use marks::{Mark, MarkName, every, paper_step, usual_marks};

/// How the effort is spread over the race.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Strategy {
    /// By how much the second half is slower than the first on equal terms, in tenths of a per cent; below
    /// zero it is faster.
    pub slower_half_tenths: i16,
    /// How much of what a descent saves is counted on, in per cent.
    pub descent_percent: u8,
    /// By how much the first kilometres are at least easier than the average, in tenths of a per cent.
    pub first_easier_tenths: u8,
}

impl Strategy {
    /// What the second half may differ by, in tenths of a per cent.
    pub const SLOWER_HALF: std::ops::RangeInclusive<i16> = -100..=100;
    /// What the first kilometres may be easier by, in tenths of a per cent.
    pub const FIRST_EASIER: std::ops::RangeInclusive<u8> = 0..=100;

    /// How far the first kilometres reach: 5 km, or a third of a shorter race.
    ///
    /// # Source
    ///
    /// Common practice, no published source. That fast starts cost time at the end: 1.7 million results in
    /// the Journal of Sports Analytics (item 200205).
    pub fn first_kilometres(length: Distance) -> Distance {
        Distance::millimetres((length.as_millimetres() / 3).min(5_000_000))
    }
}

impl Default for Strategy {
    /// Even effort, half of what descents save, no start faster than the average.
    ///
    /// # Source
    ///
    /// Even or slightly faster towards the end is what serves best: Journal of Sports Analytics as above.
    /// Half of the descents: a convention of ours.
    fn default() -> Self {
        Self { slower_half_tenths: 0, descent_percent: 50, first_easier_tenths: 0 }
    }
}

/// Times on a course for one goal.
#[derive(Clone, Debug, PartialEq)]
pub struct Pacing {
    goal: RaceTime,
    length: Distance,
    /// Seconds from the start at both ends of every cell.
    elapsed: Vec<f64>,
}

/// From one mark to the next.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Split {
    /// Where it ends.
    pub to: Distance,
    /// Since the start.
    pub elapsed: RaceTime,
    /// Since the mark before.
    pub split: RaceTime,
}

impl Pacing {
    /// Spreads a goal time over a course.
    pub fn new(profile: &Profile, strategy: Strategy, goal: RaceTime) -> Self {
        let descent = Share(f64::from(strategy.descent_percent) / 100.0);
        let costs = profile.grades().into_iter().map(|grade| cost::relative_cost(grade, descent)).collect::<Vec<f64>>();
        let first = Strategy::first_kilometres(profile.length()).as_km() / profile.length().as_km();
        let held = Held { until: first, easier: f64::from(strategy.first_easier_tenths) / 1000.0 };
        let slower = f64::from(strategy.slower_half_tenths) / 1000.0;
        let seconds = spread(&costs, slower, held, f64::from(goal.as_seconds()));
        let mut total = 0.0;
        let elapsed = std::iter::once(0.0).chain(seconds.into_iter().map(|cell| {
            total += cell;
            total
        }));
        Self { goal, length: profile.length(), elapsed: elapsed.collect() }
    }

    /// The goal that it meets.
    pub const fn goal(&self) -> RaceTime {
        self.goal
    }

    /// The time at a place of the course, to the nearest second; the goal at its end.
    pub fn elapsed(&self, at: Distance) -> RaceTime {
        if at >= self.length { self.goal } else { RaceTime::seconds(self.seconds_at(at).round() as u32) }
    }

    /// Seconds since the start at a place of the course, evenly from one end of its cell to the other.
    fn seconds_at(&self, at: Distance) -> f64 {
        let cells = self.elapsed.len() - 1;
        let place = at.as_millimetres().max(0) as f64 / self.length.as_millimetres() as f64 * cells as f64;
        let cell = (place as usize).min(cells - 1);
        let (from, to) = (self.elapsed[cell], self.elapsed[cell + 1]);
        from + (to - from) * (place - cell as f64)
    }

    /// Where on the course a time since the start is reached, to the metre; its end from the goal on.
    pub fn place_at(&self, time: RaceTime) -> Distance {
        let seconds = f64::from(time.as_seconds());
        let behind = self.elapsed.partition_point(|elapsed| *elapsed <= seconds);
        if behind == self.elapsed.len() {
            return self.length;
        }
        let (from, to) = (self.elapsed[behind - 1], self.elapsed[behind]);
        let cells = (self.elapsed.len() - 1) as f64;
        let share = ((behind - 1) as f64 + (seconds - from) / (to - from)) / cells;
        Distance::metres((share * self.length.as_km() * 1000.0).round() as i64)
    }

    /// The splits between marks, which come in order. They add up to the last time to the second, because
    /// each is the difference of two times that are shown.
    pub fn splits(&self, marks: &[Distance]) -> Vec<Split> {
        let mut before = RaceTime::seconds(0);
        let split = |to: &Distance| {
            let elapsed = self.elapsed(*to);
            let split = RaceTime::seconds(elapsed.as_seconds().saturating_sub(before.as_seconds()));
            before = elapsed;
            Split { to: *to, elapsed, split }
        };
        marks.iter().map(split).collect()
    }
}

/// A start that is held back.
#[derive(Clone, Copy)]
struct Held {
    /// Up to this part of the way
    until: f64,
    /// it is at least this part easier than the average.
    easier: f64,
}

/// Seconds for every cell, `goal` together, the second half slower by a part of the first on equal terms.
fn spread(costs: &[f64], slower: f64, held: Held, goal: f64) -> Vec<f64> {
    let cells = costs.len() as f64;
    let middle = |cell: usize| (cell as f64 + 0.5) / cells;
    // Pace drifts in a straight line from start to end; the halves then differ by exactly what is set.
    let drift = |cell: usize| 1.0 + 4.0 * slower / (2.0 + slower) * (middle(cell) - 0.5);
    // How much of a cell belongs to the first kilometres: they seldom end where a cell does.
    let first = |cell: usize| (held.until * cells - cell as f64).clamp(0.0, 1.0);
    let average = goal / costs.iter().sum::<f64>();
    let easier = average * (1.0 + held.easier);
    let cell_seconds = |level: f64| {
        costs.iter().enumerate().map(move |(cell, cost)| {
            let pace = level * drift(cell);
            cost * (pace + first(cell) * (easier - pace).max(0.0))
        })
    };
    // The level that meets the goal: the sum grows with it, so halving finds it.
    let (mut low, mut high) = (0.0, 2.0 * average);
    for _ in 0..60 {
        let level = f64::midpoint(low, high);
        if cell_seconds(level).sum::<f64>() < goal { low = level } else { high = level }
    }
    cell_seconds(f64::midpoint(low, high)).collect()
}

#[cfg(test)]
mod outside;
#[cfg(test)]
mod tests;
