//! What the athlete is used to besides: the gym, the day before, a weekly test.

use planning::DistanceUnit::Km;
use planning::RaceDistance::{FiveK, Half, Marathon, TenK};
use planning::{DayBefore, Kind, Level, Role, RuleId, Unit};

use crate::runner::{key_day, of, on, runner, sessions, show};

#[test]
fn the_gym_stands_away_from_the_long_run_and_ends_in_time() {
    let week = "8 + strength 45 loaded | 6 x 1 km, 12 | 10 + strength 30 | 8 | strength 30 | - | long 26";
    for distance in [Half, Marathon] {
        let lifter = runner(Km, distance, week);
        for other in lifter.on_every_weekday().chain([80, 120].map(|percent| lifter.at_percent(percent))) {
            let block = other.block();
            let length = u16::from(block.curve.length);
            let has = |to_race: u16, wanted: &dyn Fn(&planning::Session) -> bool| {
                sessions(&block).any(|(day, session)| day.to_race == to_race && wanted(session))
            };
            let strength = |session: &planning::Session| session.kind == Kind::Strength;
            for to_race in 1..=length {
                let loaded = has(to_race, &|session| session.loaded);
                assert!(!loaded || to_race >= 10, "heavy legs end in time\n{}", show(&block));
                let beside_long = has(to_race + 1, &|session| session.kind == Kind::Long);
                assert!(!loaded || !beside_long, "not the day after the long run\n{}", show(&block));
                assert!(to_race > 3 || !has(to_race, &strength), "nothing in the last three days");
            }
            let two_weeks_before = (14..=20).filter(|day| has(*day, &strength)).count();
            assert!(length < 20 || two_weeks_before >= 2, "{}", show(&block));
            let running: planning::Totals = sessions(&block).filter_map(|(_, session)| session.running()).collect();
            assert_eq!(running.of(Unit::Min), planning::Totals::default().of(Unit::Min), "the gym is no running");
        }
    }
}

#[test]
fn the_day_before_follows_the_habit_and_can_be_switched() {
    let runs = "- | tempo 10, hard 4 | - | 8 | - | 6 | long 18";
    let rests = "- | tempo 10, hard 4 | - | 8 | 6 | - | long 18";
    for distance in [FiveK, TenK, Half, Marathon] {
        for (week, habit) in [(runs, true), (rests, false)] {
            let base = runner(Km, distance, week);
            for other in base.on_every_weekday() {
                assert_eq!(!on(&other.block(), 1).is_rest(), habit, "{}", show(&other.block()));
                for (choice, wanted) in [(DayBefore::Rest, false), (DayBefore::ShakeOut, true)] {
                    let mut switched = other.clone();
                    switched.athlete.suits.day_before = Some(choice);
                    let block = switched.block();
                    assert_eq!(!on(&block, 1).is_rest(), wanted, "{}", show(&block));
                    assert!(of(&block, 1) <= 5.0, "{}", show(&block));
                    for planned in &on(&block, 1).sessions {
                        assert!(planned.role == Role::ShakeOut && !planned.session.is_hard(), "{}", show(&block));
                    }
                }
            }
        }
    }
}

#[test]
fn a_weekly_test_is_no_copy_of_the_habit_near_the_race() {
    let weekly = runner(Km, Marathon, "- | tempo 12, hard 5 | 10 | 10 | - | time trial 5 | long 23");
    for other in weekly.on_every_weekday().chain([85, 120].map(|percent| weekly.at_percent(percent))) {
        let block = other.block();
        let hard = |to_race: u16| on(&block, to_race).sessions.iter().any(|planned| planned.session.is_hard());
        let trial =
            |to_race: u16| on(&block, to_race).sessions.iter().any(|planned| planned.session.kind == Kind::TimeTrial);
        assert!(!trial(1) && !hard(1), "the day before is a jog or nothing\n{}", show(&block));
        assert!(!hard(7), "{}", show(&block));
        assert!(of(&block, 7) <= 16.0, "{}", show(&block));
        let in_week = (7..=13).filter(|day| hard(*day)).count();
        assert!(in_week <= 2, "{}", show(&block));
        let near = (4..=8).filter(|day| hard(*day)).count();
        assert_eq!(near, usize::from(key_day(&block).is_some()), "one hard day from D8 on\n{}", show(&block));
        let told = other.findings(&block);
        assert!(told.iter().all(|finding| finding.level == Level::Note), "{told:?}");
        // Run whole all the same, with a whole session behind it: that is one too many.
        let stubborn = other.clone().fixed(&[(8, "time trial 5"), (5, "tempo 12, hard 5")]);
        assert!(stubborn.says(RuleId::HardTwice), "{}", show(&stubborn.block()));
    }
}
