//! Blocks of which a part lies behind: made late, or planned again on the way.
//!
//! What the days hold: common practice, no published source. Every runner, week and race is invented.

#![expect(clippy::unwrap_used, reason = "helpers of tests stop where their own data is wrong")]

mod random;
mod weeks;

use chrono::Days;
use planning::curve::Adjustment;
use planning::{Begun, Block, Day, Planned, Request, Session, Settings, plan};
use proptest::prelude::*;
use random::full_runner;
use weeks::Runner;

/// The block that is planned on a day, so many days before the race.
fn plan_on(runner: &Runner, left: u64, begun_left: u64, days: &[Day], settings: &Settings) -> Block {
    let day = |left: u64| runner.race.date - Days::new(left);
    let request = Request {
        today: Some(day(left)),
        begun: Some(Begun { on: day(begun_left), days }),
        ..runner.request(settings, &[])
    };
    plan(&request).unwrap()
}

fn sessions(day: &Day) -> Vec<&Session> {
    day.sessions.iter().map(|planned: &Planned| &planned.session).collect()
}

fn km(day: &Day) -> f64 {
    day.planned_running().middle_km(planning::Pace::ASSUMED)
}

#[test]
fn a_marathon_two_weeks_away_gets_the_two_weeks_that_are_left() {
    let lines = ["10", "tempo 14, hard 6", "10", "14", "rest", "8", "long 24"];
    let runner = Runner {
        athlete: planning::Athlete { name: "Ana".into(), ..Default::default() },
        week: planning::notation::read_week(&lines, "", planning::DistanceUnit::Km).unwrap(),
        race: weeks::race_on("2027-05-09".parse().unwrap(), planning::RaceDistance::Marathon),
    };
    let late = plan_on(&runner, 14, 14, &[], &Settings::default());
    assert_eq!((late.curve.length, late.curve.curvature), (14, 1.0));
    assert_eq!(late.adjustments, [Adjustment::DaysLeft, Adjustment::ShortMarathon]);
    let in_time = plan_on(&runner, 22, 22, &[], &Settings::default());
    assert_eq!((in_time.curve.length, in_time.adjustments.as_slice()), (21, [].as_slice()));
    // The coach's own word on the length stands; what lies behind is still not cut.
    let by_hand = plan_on(&runner, 10, 10, &[], &Settings { days: Some(21), ..Settings::default() });
    assert_eq!(by_hand.curve.length, 21);
    assert!(by_hand.days.iter().filter(|day| day.to_race > 10).all(|day| sessions(day).into_iter().eq(&day.usual)));
}

proptest! {
    #![proptest_config(weeks::cases(192))]

    #[test]
    fn a_block_made_late_leaves_what_lies_behind_as_usual(runner in full_runner(), left in 1..=40_u64) {
        let block = plan_on(&runner, left, left, &[], &Settings::default());
        let usual = runner.block();
        prop_assert!(block.curve.length <= usual.curve.length);
        prop_assert!(u64::from(block.curve.length) <= left.max(4));
        for day in block.days.iter().filter(|day| u64::from(day.to_race) > left) {
            prop_assert!(sessions(day).into_iter().eq(&day.usual), "D{}", day.to_race);
            prop_assert!(day.sessions.iter().all(|planned| planned.why.is_empty()) && !day.pinned);
        }
        for day in block.days.iter().filter(|day| day.to_race > 0) {
            prop_assert!(km(day) <= day.usual_running().middle_km(planning::Pace::ASSUMED) + 1e-9 || day.to_race < 7);
        }
    }

    #[test]
    fn planned_again_on_any_day_with_nothing_changed_it_is_the_same(runner in full_runner(), left in 1..=30_u64) {
        let block = runner.block();
        prop_assert_eq!(plan_on(&runner, left, 60, &block.days, &Settings::default()), block);
    }

    #[test]
    fn other_settings_on_the_way_change_nothing_that_lies_behind(
        runner in full_runner(), left in 1..=20_u64, days in 4..=28_u8, floor in 20..=80_u8,
    ) {
        let old = runner.block();
        let settings = Settings { days: Some(days), floor: Some(f64::from(floor) / 100.0), ..Settings::default() };
        let new = plan_on(&runner, left, 60, &old.days, &settings);
        for day in new.days.iter().filter(|day| u64::from(day.to_race) > left) {
            match old.day(day.date) {
                Some(before) => prop_assert_eq!(day, before),
                None => prop_assert!(sessions(day).into_iter().eq(&day.usual), "D{}", day.to_race),
            }
        }
        // And once more, from what it is now: the same.
        let again = plan_on(&runner, left, 60, &new.days, &settings);
        prop_assert_eq!(again.days, new.days);
    }
}
