//! Seasons: every day in exactly one stretch.

use chrono::{Days, NaiveDate};
use planning::timeline::{Claim, Phase, Season, Stretch, around, timeline};
use planning::{Importance, Race, RaceDistance};
use proptest::prelude::*;

use super::coach::{before, day, race};
use super::random::runner;
use super::weeks::{Runner, cases};

const SEVENTY: &str = "- | intervals 12, hard 5 | 8 | tempo 12, hard 5 | - | 8 | long 30";

fn phases(stretches: &[Stretch]) -> Vec<(Phase, i64)> {
    stretches.iter().map(|stretch| (stretch.phase, (stretch.to - stretch.from).num_days() + 1)).collect()
}

fn season(races: &[Race], from: &str, to: &str) -> Vec<Stretch> {
    let plan = before("2027-01-01", RaceDistance::Marathon, SEVENTY);
    let all = Season { athlete: &plan.athlete, week: &plan.week, races, blocks: &[], called_off: &[] };
    timeline(&all, day(from), day(to))
}

#[test]
fn marathons_two_four_and_five_weeks_apart() {
    let two = |second: &str| {
        let races = [
            race("2026-10-11", RaceDistance::Marathon, Importance::Goal),
            race(second, RaceDistance::Marathon, Importance::Goal),
        ];
        phases(&season(&races, "2026-09-20", second))
    };
    let first = [(Phase::Block, 21), (Phase::Race, 1)];
    assert_eq!(two("2026-10-25"), [&first[..], &[(Phase::Recovery, 13), (Phase::Race, 1)]].concat());
    assert_eq!(
        two("2026-11-08"),
        [&first[..], &[(Phase::Recovery, 14), (Phase::Block, 13), (Phase::Race, 1)]].concat()
    );
    assert_eq!(
        two("2026-11-15"),
        [&first[..], &[(Phase::Recovery, 14), (Phase::Bridge, 6), (Phase::Block, 14), (Phase::Race, 1)]].concat()
    );
}

#[test]
fn a_race_alone_is_followed_by_recovery_and_a_bridge_to_the_usual_week() {
    let races = [race("2027-05-09", RaceDistance::Half, Importance::Goal)];
    let stretches = season(&races, "2027-04-01", "2027-06-30");
    assert_eq!(
        phases(&stretches),
        [
            (Phase::Usual, 24),
            (Phase::Block, 14),
            (Phase::Race, 1),
            (Phase::Recovery, 7),
            (Phase::Bridge, 7),
            (Phase::Usual, 38)
        ]
    );
    assert_eq!(stretches[0].usual, stretches[0].planned);
    let km = |totals: &planning::Totals| totals.middle_km(planning::Pace::ASSUMED);
    assert!(km(&stretches[3].planned) <= 0.5 * km(&stretches[3].usual));
    assert!(km(&stretches[4].planned) <= km(&stretches[4].usual));
    assert_eq!(stretches[3].days.len(), 7);
}

#[test]
fn days_between_a_race_and_a_block_are_as_the_block_tells_them() {
    let ten = race("2027-05-02", RaceDistance::TenK, Importance::Goal);
    let half = before("2027-05-09", RaceDistance::Half, SEVENTY)
        .other("2027-05-02", RaceDistance::TenK, Importance::Goal)
        .plan();
    assert_eq!((half.race_before(), half.first_day()), (Some(day("2027-05-02")), day("2027-05-05")));
    let told: Vec<_> = half.told_days().iter().map(|day| day.date).collect();
    assert_eq!((told.len(), told[0]), (8, day("2027-05-02")));
    let races = [ten, race("2027-05-09", RaceDistance::Half, Importance::Goal)];
    let stretches = season(&races, "2027-04-01", "2027-05-09");
    let recovery = stretches.iter().find(|stretch| stretch.phase == Phase::Recovery).expect("a recovery");
    assert_eq!(recovery.days.len(), 3);
    for quiet in &recovery.days {
        assert_eq!(quiet.sessions, half.day(quiet.date).expect("a day").sessions, "{}", quiet.date);
    }
}

#[test]
fn a_race_cut_short_is_recovered_from_by_what_was_really_run() {
    let whole = season(&[race("2027-05-09", RaceDistance::Marathon, Importance::Goal)], "2027-05-10", "2027-06-30");
    let cut = season(&[race("2027-05-09", RaceDistance::Half, Importance::Goal)], "2027-05-10", "2027-06-30");
    assert!(phases(&cut)[0].1 < phases(&whole)[0].1);
}

#[test]
fn tune_up_races_stand_inside_their_stretch() {
    let races = [
        race("2027-05-09", RaceDistance::Half, Importance::Goal),
        race("2027-05-01", RaceDistance::FiveK, Importance::TuneUp),
    ];
    let stretches = season(&races, "2027-04-01", "2027-05-09");
    let block = stretches.iter().find(|stretch| stretch.phase == Phase::Block).expect("a block");
    assert_eq!(block.others, [1]);
}

#[test]
fn a_race_called_off_brings_the_usual_week_back() {
    let plan = before("2027-05-16", RaceDistance::Marathon, SEVENTY);
    let block = plan.plan();
    let called_off = [(&block, day("2027-05-13"))];
    let all = Season { athlete: &plan.athlete, week: &plan.week, races: &[], blocks: &[], called_off: &called_off };
    let stretches = timeline(&all, day("2027-05-10"), day("2027-06-10"));
    assert_eq!(phases(&stretches), [(Phase::Usual, 3), (Phase::Return, 10), (Phase::Usual, 19)]);
}

fn distances() -> impl Strategy<Value = Vec<(u64, RaceDistance, Importance)>> {
    let distance = proptest::sample::select(RaceDistance::STANDARD.to_vec());
    let importance = proptest::sample::select(Importance::ALL.to_vec());
    proptest::collection::vec((0_u64..120, distance, importance), 0..6)
}

proptest! {
    #![proptest_config(cases(150))]

    #[test]
    fn every_day_stands_in_exactly_one_stretch_and_none_is_above_usual(runner in runner(), drawn in distances()) {
        let first = day("2027-03-01");
        let races: Vec<Race> = drawn
            .into_iter()
            .map(|(offset, distance, importance)| race(&(first + Days::new(offset)).to_string(), distance, importance))
            .collect();
        let last = first + Days::new(150);
        let Runner { athlete, week, .. } = &runner;
        let all = Season { athlete, week, races: &races, blocks: &[], called_off: &[] };
        let stretches = timeline(&all, first, last);
        let mut next: NaiveDate = first;
        for stretch in &stretches {
            prop_assert_eq!(stretch.from, next);
            prop_assert!(stretch.to >= stretch.from);
            next = stretch.to + Days::new(1);
            let km = |totals: &planning::Totals| totals.middle_km(planning::Pace::ASSUMED);
            prop_assert!(!stretch.others.is_empty() || km(&stretch.planned) <= km(&stretch.usual) + 1e-6);
            let hard = |planned: &planning::Planned| planned.session.is_hard();
            let is_recovery = stretch.phase == Phase::Recovery;
            prop_assert!(!is_recovery || !stretch.days.iter().flat_map(|day| &day.sessions).any(hard));
        }
        prop_assert_eq!(next, last + Days::new(1));
    }
}

#[test]
fn what_is_claimed_around_races_is_what_the_season_shows() {
    let races = [
        race("2026-10-11", RaceDistance::Marathon, Importance::Goal),
        race("2026-11-08", RaceDistance::Marathon, Importance::Goal),
    ];
    let first_days = [Some(day("2026-09-20")), Some(day("2026-10-18"))];
    let goals: Vec<_> = races.iter().zip(first_days).collect();
    let claims = around(&goals);
    let at = |date: &str| {
        let date = day(date);
        claims.iter().find(|claim| (claim.from..=claim.to).contains(&date)).map(|claim| (claim.phase, claim.race))
    };
    assert_eq!(at("2026-09-19"), None);
    assert_eq!(at("2026-09-20"), Some((Phase::Block, Some(0))));
    assert_eq!(at("2026-10-11"), Some((Phase::Race, Some(0))));
    assert_eq!(at("2026-10-25"), Some((Phase::Recovery, Some(0))), "no block begins before recovery is over");
    assert_eq!(at("2026-10-26"), Some((Phase::Block, Some(1))));
    assert_eq!(at("2026-11-09"), Some((Phase::Recovery, Some(1))));
    let no_block = |claim: &Claim| claim.phase != Phase::Block;
    assert!(around(&[(&races[0], None)]).iter().all(no_block), "a race without a block has none");
}

#[test]
fn the_share_of_some_days_is_that_of_their_week_and_nothing_outside_the_block() {
    let block = before("2027-05-09", RaceDistance::Half, SEVENTY).plan();
    let weeks = block.weeks();
    assert!(weeks.iter().any(|week| week.share.0 < 0.7));
    for week in weeks {
        let share = block.share_between(week.from, week.to).map(planning::Share::percent);
        assert_eq!(share, Some(week.share.percent()), "{} to {}", week.from, week.to);
    }
    let after = block.race_day + Days::new(1);
    assert_eq!(block.share_between(after, after + Days::new(6)), None);
}
