//! Races that are moved, changed, replaced or called off.

use planning::{Block, DistanceUnit, Importance, RaceDistance, Reason, Request, race_changed};

use super::coach::{Plan, before, before_in, between, day, is_hard, km, on, race, wall, words};

/// The block after the race became another one on a day.
fn changed(plan: &Plan, new: &planning::Race, noted: &str) -> Block {
    let old = plan.plan();
    let request = Request { today: Some(day(noted)), race: new, ..plan.request() };
    race_changed(&old, &request).unwrap_or_else(|problems| panic!("{problems:?}")).block
}

#[test]
fn a_monday_marathon_that_was_a_week_off() {
    let week = "- | tempo 7, hard 3 | 6 | 6 | 6 | long 20 | -";
    let plan = before_in(DistanceUnit::Mi, "2027-04-12", RaceDistance::Marathon, week);
    let new = race("2027-04-19", RaceDistance::Marathon, Importance::Goal);
    let block = changed(&plan, &new, "2027-03-27");
    let miles = |date: &str| km([on(&block, date)]) / 1.609_344;
    assert!((14.0..=16.0).contains(&miles("2027-04-03")), "{}\n{}", miles("2027-04-03"), wall(&block));
    assert!((10.0..=11.0).contains(&miles("2027-04-10")), "{}\n{}", miles("2027-04-10"), wall(&block));
    let longest = block.days.iter().filter(|at| at.date >= day("2027-03-27")).map(|at| km([at])).fold(0.0, f64::max);
    assert!(longest / 1.609_344 < 19.0, "no repeat of the twenty: {}", wall(&block));
}

#[test]
fn put_off_by_a_week_three_days_before() {
    let week = "- | tempo 12, hard 5 | 8 | intervals 12, hard 5 | - | 8 | long 30";
    let plan = before("2026-10-25", RaceDistance::Marathon, week);
    let old = plan.plan();
    let new = race("2026-11-01", RaceDistance::Marathon, Importance::Goal);
    let block = changed(&plan, &new, "2026-10-22");
    for date in ["2026-10-19", "2026-10-20", "2026-10-21"] {
        assert_eq!(words(on(&block, date)), words(on(&old, date)), "past days stay");
    }
    for date in ["2026-10-22", "2026-10-23", "2026-10-24"] {
        assert!(!is_hard(on(&block, date)) || date == "2026-10-22", "{}", wall(&block));
    }
    let sunday = km([on(&block, "2026-10-25")]) * 6.0;
    assert!((60.0..=95.0).contains(&sunday), "{sunday} minutes\n{}", wall(&block));
    let short = ["2026-10-27", "2026-10-28"].iter().filter(|date| is_hard(on(&block, date))).count();
    assert_eq!(short, 1, "{}", wall(&block));
    let added = km(block.days.iter().filter(|at| (day("2026-10-22")..=day("2026-10-28")).contains(&at.date)));
    assert!((0.40..=0.60).contains(&(added / 70.0)), "{added}\n{}", wall(&block));
}

#[test]
fn another_marathon_three_weeks_later() {
    let week = "- | tempo 12, hard 5 | 8 | intervals 12, hard 5 | - | 8 | long 30";
    let plan = before("2026-10-25", RaceDistance::Marathon, week);
    let new = race("2026-11-15", RaceDistance::Marathon, Importance::Goal);
    let block = changed(&plan, &new, "2026-10-24");
    let third: f64 = km(between(&block, 20, 14)) / 70.0;
    let second: f64 = km(between(&block, 13, 7)) / 70.0;
    assert!((0.65..=0.80).contains(&third), "{third}\n{}", wall(&block));
    assert!((0.55..=0.72).contains(&second), "{second}\n{}", wall(&block));
    let long = between(&block, 20, 14).map(|day| km([day])).fold(0.0, f64::max);
    assert!((18.0..=26.0).contains(&long), "{long}");
    assert!(third > second);
}

#[test]
fn a_race_that_comes_earlier_gets_the_days_that_are_left() {
    let week = "- | tempo 12, hard 5 | 8 | intervals 12, hard 5 | - | 8 | long 30";
    let plan = before("2027-05-30", RaceDistance::Marathon, week);
    for (date, noted, days) in [("2027-05-16", "2027-05-05", 11), ("2027-05-16", "2027-04-20", 21)] {
        let new = race(date, RaceDistance::Marathon, Importance::Goal);
        let block = changed(&plan, &new, noted);
        assert_eq!(i64::from(block.curve.length), days, "{noted}");
        for kept in block.days.iter().filter(|at| at.date < day(noted)) {
            assert_eq!(kept.planned_running(), kept.usual_running(), "{} had not begun to ebb", kept.date);
        }
    }
}

#[test]
fn a_shorter_race_on_the_same_day_is_no_reason_to_run_more() {
    let week = "- | tempo 12, hard 5 | 8 | intervals 12, hard 5 | - | 8 | long 30";
    let plan = before("2027-05-16", RaceDistance::Marathon, week);
    let old = plan.plan();
    let block = changed(&plan, &race("2027-05-16", RaceDistance::Half, Importance::Goal), "2027-05-06");
    for now in block.days.iter().filter(|at| at.date >= day("2027-05-06") && at.to_race > 0) {
        let before = old.day(now.date).expect("the same days");
        let rested = before.is_rest();
        assert!(rested || km([now]) <= km([before]) + 1e-9, "{}: {}", now.date, wall(&block));
    }
}

#[test]
fn called_off_the_running_comes_back_within_ten_days() {
    let week = "- | tempo 12, hard 5 | 8 | intervals 12, hard 5 | - | 8 | long 30";
    let plan = before("2027-05-16", RaceDistance::Marathon, week);
    for (noted, days) in [("2027-05-13", 10), ("2027-05-03", 7)] {
        let back = planning::replan::race::called_off(&plan.plan(), &plan.athlete, &plan.week, day(noted));
        assert_eq!(back.len(), days);
        assert_eq!(back[0].date, day(noted));
        for quiet in &back {
            let km = |totals: planning::Totals| totals.middle_km(planning::Pace::ASSUMED);
            assert!(km(quiet.planned_running()) <= km(quiet.usual_running()) + 1e-9);
        }
    }
    // Before the block began there is nothing to come back from.
    assert_eq!(planning::replan::race::called_off(&plan.plan(), &plan.athlete, &plan.week, day("2027-04-01")), []);
}

#[test]
fn nothing_changed_is_the_same_plan() {
    let plan = before("2027-05-16", RaceDistance::Half, "- | tempo 9, hard 4 | - | 8 | - | 7 | long 18");
    assert_eq!(changed(&plan, &plan.race, "2027-05-10"), plan.plan());
}

#[test]
fn past_days_do_not_count_to_a_race_day_that_was_not() {
    let week = "8 | intervals 12, hard 5 | 8 | tempo 12, hard 5 | - | 8 | long 30";
    let plan = before("2027-05-09", RaceDistance::Marathon, week);
    for (date, noted) in [("2027-05-16", "2027-05-07"), ("2027-05-30", "2027-05-07"), ("2027-05-02", "2027-04-26")] {
        let block = changed(&plan, &race(date, RaceDistance::Marathon, Importance::Goal), noted);
        for past in block.days.iter().filter(|at| at.date < day(noted)) {
            let planned = past.sessions.iter().map(|planned| &planned.why);
            let why = planned.chain(past.dropped.iter().map(|dropped| &dropped.why));
            assert!(why.flatten().all(|reason| *reason == Reason::AsOldPlan), "{}", past.date);
            let is_key = |planned: &planning::Planned| planned.role == planning::Role::Key;
            assert!(past.to_race <= 6 || !past.sessions.iter().any(is_key), "{}", past.date);
        }
    }
}

#[test]
fn what_the_old_plan_holds_down_is_explained_once() {
    let week = "8 | intervals 12, hard 5 | 10 | tempo 13, hard 7 | - | 8 | long 30";
    let plan = before("2027-05-09", RaceDistance::Marathon, week);
    let block = changed(&plan, &race("2027-05-09", RaceDistance::Half, Importance::Goal), "2027-04-21");
    let all = block.days.iter().flat_map(|at| &at.sessions).map(|planned| &planned.why);
    let held: Vec<_> = all.filter(|why| why.contains(&Reason::NotAboveOldPlan)).collect();
    assert!(!held.is_empty());
    let says_a_share = |reason: &Reason| matches!(reason, Reason::Ebb(_) | Reason::LongRun(_) | Reason::TookUp);
    assert!(held.iter().all(|why| !why.iter().any(says_a_share)), "{held:?}");
}

#[test]
fn running_that_comes_back_after_a_race_was_called_off_says_so() {
    let plan = before("2027-05-09", RaceDistance::Marathon, "8 | intervals 12, hard 5 | 8 | 12 | - | 8 | long 30");
    let days = planning::replan::race::called_off(&plan.plan(), &plan.athlete, &plan.week, day("2027-04-30"));
    let why: Vec<Reason> = days.iter().flat_map(|at| &at.sessions).flat_map(|planned| planned.why.clone()).collect();
    assert!(!why.is_empty() && why.iter().all(|reason| matches!(reason, Reason::Returning(_))), "{why:?}");
}
