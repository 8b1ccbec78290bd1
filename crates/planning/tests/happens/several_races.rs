//! Several races on one way.

use planning::{DistanceUnit, Importance, Milli, RaceDistance, Request, Role, Settings, plan, recovery};
use proptest::prelude::*;

use super::coach::{before, between, day, is_hard, km, on, wall, words};
use super::random::full_runner;
use super::weeks::cases;

const SEVENTY: &str = "- | intervals 12, hard 5 | 8 | tempo 12, hard 5 | - | 8 | long 30";
const NINETY: &str = "8 | intervals 14, hard 6 | 12 | tempo 14, hard 6 | 8 | 6 | long 28";

#[test]
fn two_marathons_four_weeks_apart() {
    let second = before("2026-11-08", RaceDistance::Marathon, SEVENTY).other(
        "2026-10-11",
        RaceDistance::Marathon,
        Importance::Goal,
    );
    let block = second.plan();
    assert_eq!(block.curve.length, 14, "10 to 14 days from a reduced level");
    let usual = 70.0;
    let recovery = planning::block::recovery_days(&second.athlete, &second.week, &second.others[0], Some(&second.race));
    let of = |from: &str, to: &str| -> f64 {
        let within = |quiet: &&planning::QuietDay| (day(from)..=day(to)).contains(&quiet.date);
        recovery.iter().filter(within).map(|quiet| quiet.planned_running().middle_km(planning::Pace::ASSUMED)).sum()
    };
    let first_week = of("2026-10-12", "2026-10-18") / usual;
    let second_week = of("2026-10-19", "2026-10-25") / usual;
    assert!((0.0..=0.25).contains(&first_week), "{first_week}");
    assert!((0.30..=0.55).contains(&second_week), "{second_week}");
    let longest = recovery.iter().max_by(|one, other| {
        let km = |quiet: &planning::QuietDay| quiet.planned_running().middle_km(planning::Pace::ASSUMED);
        km(one).total_cmp(&km(other))
    });
    let longest = longest.expect("a day");
    assert!((14..=16).contains(&(second.race.date - longest.date).num_days()), "{}", longest.date);
    let longest_km = longest.planned_running().middle_km(planning::Pace::ASSUMED);
    assert!((20.0..=29.0).contains(&longest_km), "{longest_km}");
    assert!(recovery.iter().all(|quiet| quiet.sessions.iter().all(|planned| !planned.session.is_hard())));
    for week in block.weeks() {
        assert!(week.share.0 <= 0.75 + 0.02, "no new build: {} {}\n{}", week.from, week.share.0, wall(&block));
    }
    assert_eq!(second.findings(&block).iter().filter(|found| found.level == planning::Level::Stop).count(), 0);
}

#[test]
fn a_half_trained_through_between_two_marathons() {
    let second = before("2027-05-16", RaceDistance::Marathon, SEVENTY)
        .other("2027-04-11", RaceDistance::Marathon, Importance::Goal)
        .other("2027-05-02", RaceDistance::Half, Importance::TrainingThrough);
    let block = second.plan();
    assert!((10..=14).contains(&block.curve.length), "{}", block.curve.length);
    // The half is fourteen days before: the day before the block's first whole week.
    assert_eq!(block.first_day(), day("2027-05-02"));
    for (date, to_race) in [("2027-05-03", 13), ("2027-05-04", 12)] {
        let planned = on(&block, date);
        assert_eq!(planned.to_race, to_race);
        assert!(!is_hard(planned), "{}", wall(&block));
        let usual = planned.usual_running().middle_km(planning::Pace::ASSUMED);
        assert!(km([planned]) <= usual * 0.5 + 1.0, "{}", wall(&block));
    }
}

#[test]
fn an_8_km_race_eight_days_before_a_marathon() {
    let eight = RaceDistance::Own(Milli::whole(8), DistanceUnit::Km);
    let marathon = before("2026-11-08", RaceDistance::Marathon, NINETY).other("2026-10-31", eight, Importance::TuneUp);
    let block = marathon.plan();
    let hard: Vec<u16> = between(&block, 13, 1).filter(|day| is_hard(day)).map(|day| day.to_race).collect();
    assert!(hard.contains(&8), "{hard:?}");
    assert!(hard.iter().all(|to_race| !(9..=11).contains(to_race) && *to_race != 7), "{hard:?}\n{}", wall(&block));
    assert_eq!(hard.iter().filter(|to_race| **to_race <= 6).count(), 1, "one short session later: {hard:?}");
    assert!(hard.iter().all(|to_race| *to_race >= 4), "{hard:?}");
    let race_day = on(&block, "2026-10-31");
    assert_eq!(race_day.sessions[0].role, Role::OtherRace);
    assert!(km([race_day]) > 8.0, "warm-up and cool-down are in the day: {}", wall(&block));
    assert!((between(&block, 13, 12).filter(|day| is_hard(day)).count()) <= 1, "{}", wall(&block));
}

#[test]
fn a_hundred_miles_four_weeks_after_a_hundred_kilometres() {
    let second = before("2027-04-03", RaceDistance::Own(Milli::whole(100), DistanceUnit::Mi), NINETY).other(
        "2027-03-06",
        RaceDistance::Own(Milli::whole(100), DistanceUnit::Km),
        Importance::Goal,
    );
    let recovery = planning::block::recovery_days(&second.athlete, &second.week, &second.others[0], Some(&second.race));
    let ran: f64 = recovery.iter().map(|quiet| quiet.planned_running().middle_km(planning::Pace::ASSUMED)).sum();
    assert!(ran <= 0.40 * 180.0, "{ran}");
    let long = |quiet: &&planning::QuietDay| quiet.planned_running().middle_km(planning::Pace::ASSUMED) > 15.0;
    assert!(recovery.iter().filter(long).count() <= 1);
    let block = second.plan();
    let weeks = block.weeks();
    let [.., before_race_week, race_week] = weeks.as_slice() else { panic!("two weeks") };
    assert!(before_race_week.share.0 <= 0.56, "{}\n{}", before_race_week.share.0, wall(&block));
    assert!(race_week.share.0 <= before_race_week.share.0 && race_week.share.0 <= 0.43, "{}", race_week.share.0);
}

#[test]
fn two_weeks_between_goal_races_are_recovery_only() {
    let second = before("2026-11-08", RaceDistance::Marathon, SEVENTY).other(
        "2026-10-25",
        RaceDistance::Marathon,
        Importance::Goal,
    );
    let block = second.plan();
    assert!(between(&block, 13, 1).all(|day| !is_hard(day)), "{}", wall(&block));
    let first: f64 = km(between(&block, 13, 7));
    let last: f64 = km(between(&block, 6, 1));
    assert!(first <= 0.25 * 70.0 + 1.0 && last <= 0.50 * 70.0, "{first} {last}\n{}", wall(&block));
}

#[test]
fn a_training_through_race_leaves_the_week_as_much_running() {
    let ten_miles = || before("2027-05-16", RaceDistance::Marathon, NINETY);
    let alone = ten_miles().plan();
    let with = ten_miles().other("2027-05-01", RaceDistance::TenK, Importance::TrainingThrough).plan();
    let week = |block: &planning::Block| km(between(block, 20, 14));
    // The long run of the day after is shorter, the race makes up for most of it.
    assert!((week(&alone) - week(&with)).abs() <= 6.0, "{} {}\n{}", week(&alone), week(&with), wall(&with));
    let before_race = on(&with, "2027-04-30");
    let usual = before_race.usual_running().middle_km(planning::Pace::ASSUMED);
    assert!(km([before_race]) <= (usual * 0.5).max(5.0), "{}", wall(&with));
    assert!(!is_hard(on(&with, "2027-05-02")));
}

#[test]
fn a_tune_up_race_leaves_every_default_block_without_stops_and_cautions_of_its_own() {
    for distance in [RaceDistance::TenK, RaceDistance::Half, RaceDistance::Marathon] {
        for days in 8..=13 {
            let plan = before("2027-05-16", distance, NINETY);
            let date = super::coach::days_before(&plan.race, days).to_string();
            let plan = plan.other(&date, RaceDistance::FiveK, Importance::TuneUp);
            let block = plan.plan();
            let grave: Vec<_> =
                plan.findings(&block).into_iter().filter(|found| found.level != planning::Level::Note).collect();
            assert_eq!(grave, [], "{distance:?} D{days}\n{}", wall(&block));
        }
    }
}

const FIFTY: &str = "- | intervals 10, hard 5 | 8 | tempo 10, hard 5 | - | 6 | long 17";

#[test]
fn a_goal_race_on_the_way_stands_on_its_day_and_its_recovery_holds_nothing_hard() {
    let half =
        before("2027-05-09", RaceDistance::Half, FIFTY).other("2027-05-02", RaceDistance::TenK, Importance::Goal);
    let block = half.plan();
    assert_eq!(on(&block, "2027-05-02").sessions[0].role, Role::OtherRace, "{}", wall(&block));
    for date in ["2027-05-03", "2027-05-04", "2027-05-05"] {
        assert!(!is_hard(on(&block, date)), "{}", wall(&block));
    }
}

#[test]
fn so_soon_after_a_goal_race_the_last_hard_session_is_easy_with_strides_and_says_why() {
    // Four days after ten kilometres stands the tempo of the usual week, three days before the next race.
    for distance in [RaceDistance::TenK, RaceDistance::Half] {
        let second = before("2027-05-09", distance, FIFTY);
        let block = second.clone().other("2027-05-02", RaceDistance::TenK, Importance::Goal).plan();
        assert!(between(&block, 6, 1).all(|day| !is_hard(day)), "{}", wall(&block));
        let tempo = &on(&block, "2027-05-06").sessions[0];
        assert_eq!(tempo.role, Role::EasyWithStrides, "{}", wall(&block));
        assert!(tempo.why.contains(&planning::Reason::AfterOtherRace(day("2027-05-02"))), "{tempo:?}");
        // After five kilometres, four days are enough up to ten miles: it is as the rules have it.
        let block = second.other("2027-05-02", RaceDistance::FiveK, Importance::Goal).plan();
        assert_eq!(between(&block, 6, 1).filter(|day| is_hard(day)).count(), 1, "{}", wall(&block));
    }
    // A day later than the last that is spared it stands again.
    for (first, stands) in [("2027-04-29", true), ("2027-04-30", false)] {
        let block = before("2027-05-09", RaceDistance::TenK, FIFTY).other(first, RaceDistance::TenK, Importance::Goal);
        let block = block.plan();
        assert_eq!(is_hard(on(&block, "2027-05-06")), stands, "{first}: {}", wall(&block));
    }
}

proptest! {
    #![proptest_config(cases(300))]

    #[test]
    fn race_week_holds_nothing_hard_so_soon_after_a_goal_race(
        runner in full_runner(),
        gap in 3_u64..20,
        first in proptest::sample::select(vec![
            RaceDistance::FiveK, RaceDistance::TenK, RaceDistance::Half, RaceDistance::Marathon,
        ]),
    ) {
        let date = super::coach::days_before(&runner.race, gap);
        let others = [super::coach::race(&date.to_string(), first, Importance::Goal)];
        let settings = Settings::default();
        let request = Request { other_races: &others, ..runner.request(&settings, &[]) };
        let Ok(block) = plan(&request) else { return Ok(()) };
        let spared = recovery::spared_days(first.event());
        for day in between(&block, 6, 1).filter(|day| day.date > date && is_hard(day)) {
            prop_assert!((day.date - date).num_days() > i64::from(spared), "{}", wall(&block));
        }
    }
}

#[test]
fn the_key_session_keeps_its_distance_from_a_tune_up_race_and_says_nothing_of_the_run_that_gave_way() {
    let goal = before("2027-05-09", RaceDistance::Half, NINETY);
    let block = goal.other("2027-05-02", RaceDistance::TenK, Importance::TuneUp).plan();
    assert!(!is_hard(on(&block, "2027-05-04")), "two days after the race\n{}", wall(&block));
    let key = &on(&block, "2027-05-05").sessions[0];
    assert_eq!(key.role, Role::Key, "{}", wall(&block));
    assert!(
        key.why.iter().all(|why| matches!(why, planning::Reason::KeySession(_) | planning::Reason::KeyMovedHere(_))),
        "{key:?}"
    );
}

proptest! {
    #![proptest_config(cases(300))]

    #[test]
    fn nothing_hard_stands_within_two_days_of_another_race(runner in full_runner(), gap in 7_u64..14) {
        let date = super::coach::days_before(&runner.race, gap);
        let others = [super::coach::race(&date.to_string(), RaceDistance::TenK, Importance::TuneUp)];
        let settings = Settings::default();
        let request = Request { other_races: &others, ..runner.request(&settings, &[]) };
        let Ok(block) = plan(&request) else { return Ok(()) };
        for after in between(&block, 13, 1).filter(|day| day.date > date && is_hard(day)) {
            prop_assert!((after.date - date).num_days() > 2, "{}", wall(&block));
        }
    }
}

#[test]
fn a_run_that_is_short_before_a_race_holds_down_no_later_one() {
    let alone = before("2027-05-09", RaceDistance::Marathon, SEVENTY);
    let through = alone.clone().other("2027-04-25", RaceDistance::Half, Importance::TrainingThrough);
    // The Saturday before the half is halved; the one after it is as it would be.
    assert!(km([on(&through.plan(), "2027-04-24")]) <= 4.0);
    assert_eq!(words(on(&through.plan(), "2027-05-01")), words(on(&alone.plan(), "2027-05-01")));
}
