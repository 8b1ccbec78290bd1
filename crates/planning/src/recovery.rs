//! After a race: how the running comes back.

use chrono::{Days, NaiveDate};

use crate::race::{Event, Race};
use crate::units::Share;

/// A span of days after a race and the share of the usual running that it holds.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Step {
    /// The last day of the span, counted from the race; the day after it is 1.
    pub until: u16,
    /// From this share of the usual running,
    pub least: Share,
    /// to this one.
    pub most: Share,
}

impl Step {
    const fn new(until: u16, least: f64, most: f64) -> Self {
        Self { until, least: Share(least), most: Share(most) }
    }

    /// The middle of both shares.
    pub const fn middle(self) -> Share {
        Share(f64::midpoint(self.least.0, self.most.0))
    }
}

/// The steps by which running comes back after a race of this event, by the distance really run.
///
/// # Source
///
/// Common practice, no published source: marathon 0-25, 30-50, 60-75, 80-100 % in four weeks, half
/// marathon about half as long, 10 km and below days.
pub const fn steps(event: Event) -> &'static [Step] {
    const FIVE_K: &[Step] = &[Step::new(2, 0.30, 0.60)];
    const TEN_K: &[Step] = &[Step::new(3, 0.30, 0.50), Step::new(6, 0.60, 0.80)];
    const HALF: &[Step] =
        &[Step::new(4, 0.0, 0.30), Step::new(7, 0.30, 0.50), Step::new(11, 0.60, 0.75), Step::new(14, 0.80, 1.0)];
    const MARATHON: &[Step] =
        &[Step::new(7, 0.0, 0.25), Step::new(14, 0.30, 0.50), Step::new(21, 0.60, 0.75), Step::new(28, 0.80, 1.0)];
    const LONGER: &[Step] = &[
        Step::new(7, 0.0, 0.15),
        Step::new(14, 0.15, 0.40),
        Step::new(21, 0.40, 0.50),
        Step::new(28, 0.60, 0.75),
        Step::new(35, 0.80, 1.0),
    ];
    match event {
        Event::FiveK => FIVE_K,
        Event::TenK => TEN_K,
        Event::Half => HALF,
        Event::Marathon => MARATHON,
        Event::Longer => LONGER,
    }
}

/// How many days belong to recovery, however near the next race is: nothing hard stands in them. Whether that
/// is enough before another goal race is for the review to say (`review::races_clash`).
///
/// # Source
///
/// Common practice, no published source: first hard session not before 14 days after a marathon, 7
/// after a half marathon, 3 after 10 km.
pub const fn days(event: Event) -> u16 {
    match event {
        Event::FiveK => 2,
        Event::TenK => 3,
        Event::Half => 7,
        Event::Marathon | Event::Longer => 14,
    }
}

/// How many days after a race of this event race week of the next one holds no hard session.
///
/// # Source
///
/// Common practice, no published source: up to 10 miles one easy day for each mile raced, beyond as many days as
/// [`days`] takes before the first hard session.
pub const fn spared_days(event: Event) -> u16 {
    match event {
        Event::FiveK => 3,
        Event::TenK => 6,
        longer => days(longer),
    }
}

/// The last day of the recovery from a race.
pub fn ends(race: &Race) -> NaiveDate {
    race.date + Days::new(u64::from(days(race.distance.event())))
}

/// The last day, counted from a race of this event, on which the running is still held down.
pub const fn until(event: Event) -> u16 {
    let steps = steps(event);
    steps[steps.len() - 1].until
}

/// Days without any running after a race.
///
/// # Source
///
/// Common practice, no published source.
pub const fn days_off(event: Event) -> u16 {
    match event {
        Event::FiveK => 0,
        Event::TenK => 1,
        Event::Half => 2,
        Event::Marathon => 3,
        Event::Longer => 5,
    }
}

/// The share of the usual running that a day may hold so many days after a race; all of it once the
/// steps are over.
pub fn most_after(event: Event, days_since: u16) -> Share {
    steps(event).iter().find(|step| days_since <= step.until).map_or(Share::ALL, |step| step.most)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn running_comes_back_step_by_step() {
        for event in Event::ALL {
            let steps = steps(event);
            assert!(steps.is_sorted_by(|one, next| one.until < next.until && one.most.0 <= next.least.0 + 0.2));
            assert!(steps.iter().all(|step| step.least.0 < step.most.0 && step.most.0 <= 1.0));
            let last = until(event);
            assert!(days(event) <= spared_days(event), "{event:?}");
            assert!(days(event) <= last && days_off(event) < days(event), "{event:?}");
            let ends_with_a_step = steps.iter().any(|step| step.until == days(event));
            assert!(ends_with_a_step, "{event:?}: the days of a step are all recovery or all bridge");
            assert_eq!(most_after(event, last + 1), Share::ALL);
            for day in 1..=last {
                assert!(most_after(event, day) <= most_after(event, day + 1), "{event:?} {day}");
            }
        }
    }

    #[test]
    fn longer_races_take_longer() {
        for pair in Event::ALL.windows(2) {
            for day in 1..40 {
                assert!(most_after(pair[1], day) <= most_after(pair[0], day), "{pair:?} {day}");
            }
        }
    }
}
