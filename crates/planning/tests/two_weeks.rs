//! What must hold for every block of two weeks that take turns.

mod random;
mod tripped;
mod turning;
mod weeks;

use std::fmt::Write;

use chrono::Days;
use planning::notation::read_week;
use planning::{Athlete, Block, DistanceUnit, Pace, RaceDistance, Session, Turns};
use proptest::prelude::*;
use tripped::tripped;
use turning::turning_runner;
use weeks::Runner;

fn line(sessions: &[Session]) -> String {
    let slots: Vec<_> = sessions.iter().cloned().map(planning::Slot::one).collect();
    planning::notation::write_day(&slots)
}

fn show(runner: &Runner, block: &Block) -> String {
    let mut text = format!("{:?}\n", block.curve);
    for day in &block.days {
        let planned: Vec<Session> = day.sessions.iter().map(|planned| planned.session.clone()).collect();
        let week = if runner.week.is_second_due(day.date) { 2 } else { 1 };
        let _ = writeln!(text, "D{} {week}: {} -> {}", day.to_race, line(&day.usual), line(&planned));
    }
    for week in block.weeks() {
        let (usual, planned) = (week.usual.middle_km(Pace::ASSUMED), week.planned.middle_km(Pace::ASSUMED));
        let _ = writeln!(text, "{planned:.1} of {usual:.1} km");
    }
    text
}

#[test]
fn what_a_time_trial_keeps_of_a_week_in_minutes_its_kilometres_do_without() {
    let typed = |lines: [&str; 7]| read_week(&lines, "", DistanceUnit::Km).unwrap();
    let trial = "time trial 20 min, hard 8 min";
    let first = ["long 7", "3", "tempo 5, hard 2", "3", "tempo 4, hard 1.6", "rest", "tempo 2, hard 0.8"];
    let second = ["long 20 min, hard 6 min", "rest", trial, "17.5-22.5 min", trial, "rest", trial];
    let week = typed(second).first().clone();
    let runner = Runner {
        athlete: Athlete { name: "A. Runner".into(), ..Athlete::default() },
        week: typed(first).taking_turns(Some(Turns { week, stands_on: weeks::monday() })),
        race: weeks::race_on(weeks::monday() + Days::new(3), RaceDistance::Marathon),
    };
    let block = runner.block();
    let km: Vec<f64> = block.weeks().iter().map(|week| week.planned.middle_km(Pace::ASSUMED)).collect();
    assert!(km[2] <= km[1], "{}", show(&runner, &block));
    assert_eq!(tripped(&runner, &block), [], "{}", show(&runner, &block));
}

proptest! {
    #![proptest_config(weeks::cases(1500))]

    #[test]
    fn a_default_block_does_not_trip_its_own_review(runner in turning_runner()) {
        let (mean, block) = (runner.week.middle_km(None), runner.block());
        // Seven days that catch the rest days of both weeks say nothing about those behind them.
        prop_assume!(block.weeks().iter().all(|week| week.usual.middle_km(Pace::ASSUMED) > 0.67 * mean));
        let tripped = tripped(&runner, &block);
        prop_assert!(tripped.is_empty(), "{tripped:?}\n{}", show(&runner, &block));
    }

    #[test]
    fn no_week_is_planned_above_the_one_before_it(runner in turning_runner()) {
        prop_assume!(runner.week.running_days() >= 3 && runner.week.middle_km(None) >= 20.0);
        let (mean, block) = (runner.week.middle_km(None), runner.block());
        // Seven days that catch the rest days of both weeks say nothing about those behind them.
        prop_assume!(block.weeks().iter().all(|week| week.usual.middle_km(Pace::ASSUMED) > 0.67 * mean));
        for pair in block.weeks().windows(2) {
            let [before, after] = [&pair[0], &pair[1]].map(|week| week.planned.middle_km(Pace::ASSUMED));
            let in_the_block = pair[1].before == 0 || pair[0].before * 7 < u16::from(block.curve.length);
            prop_assert!(!in_the_block || after <= before.max(0.45 * mean) + 0.02 * mean, "{}", show(&runner, &block));
        }
    }

    #[test]
    fn usual_is_what_the_week_that_is_due_holds_and_nothing_is_above_it(runner in turning_runner()) {
        let block = runner.block();
        for day in &block.days {
            let due: Vec<_> = runner.week.on(day.date).iter().map(|slot| slot.chosen().clone()).collect();
            prop_assert_eq!(&day.usual, &due);
            for planned in &day.sessions {
                let (Some(now), Some(usual)) = (planned.session.running(), planned.usual.as_ref().and_then(Session::running))
                else { continue };
                let same_unit = now.unit() == usual.unit();
                prop_assert!(!same_unit || now.high() <= usual.high(), "D{}\n{}", day.to_race, show(&runner, &block));
            }
        }
    }

    #[test]
    fn two_weeks_that_are_the_same_are_as_one(runner in random::runner()) {
        let week = runner.week.first().clone();
        let turns = Some(Turns { week, stands_on: weeks::monday() });
        let turning = Runner { week: runner.week.clone().taking_turns(turns), ..runner.clone() };
        prop_assert_eq!(runner.block().weeks(), turning.block().weeks());
    }

    #[test]
    fn two_weeks_later_the_block_is_the_same(runner in turning_runner()) {
        let mut later = runner.clone();
        later.race.date = runner.race.date + Days::new(14);
        let sessions = |block: &Block| -> Vec<_> {
            block.days.iter().map(|day| day.sessions.iter().map(|p| p.session.clone()).collect::<Vec<_>>()).collect()
        };
        prop_assert_eq!(sessions(&runner.block()), sessions(&later.block()));
    }

    #[test]
    fn the_first_week_alone_is_what_stands_there_without_a_second(runner in turning_runner()) {
        let alone = Runner { week: runner.week.clone().taking_turns(None), ..runner };
        let block = alone.block();
        prop_assert!(block.days.iter().all(|day| !alone.week.is_second_due(day.date)));
    }
}
