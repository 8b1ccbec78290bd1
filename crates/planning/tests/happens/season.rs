//! Seasons: every day in exactly one span.

use chrono::{Datelike, Days, NaiveDate};
use planning::timeline::{Claim, NextGoal, Phase, Season, Span, after_called_off, after_race, around, timeline};
use planning::{Block, EventKind, Importance, LifeEvent, Pace, Race, RaceDistance, Role, Totals};
use proptest::prelude::*;

use super::coach::{Plan, before, day, race};
use super::random::runner;
use super::weeks::{Runner, cases};

const SEVENTY: &str = "- | intervals 12, hard 5 | 8 | tempo 12, hard 5 | - | 8 | long 30";

fn phases(spans: &[Span]) -> Vec<(Phase, i64)> {
    spans.iter().map(|span| (span.phase, (span.to - span.from).num_days() + 1)).collect()
}

fn season(races: &[Race], from: &str, to: &str) -> Vec<Span> {
    let plan = before("2027-01-01", RaceDistance::Marathon, SEVENTY);
    let all = Season { athlete: &plan.athlete, week: &plan.week, races, blocks: &[], called_off: &[], unwell: &[] };
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
    let spans = season(&races, "2027-04-01", "2027-06-30");
    assert_eq!(
        phases(&spans),
        [
            (Phase::Usual, 24),
            (Phase::Block, 14),
            (Phase::Race, 1),
            (Phase::Recovery, 7),
            (Phase::Bridge, 7),
            (Phase::Usual, 38)
        ]
    );
    assert_eq!(spans[0].usual, spans[0].planned);
    let km = |totals: &planning::Totals| totals.middle_km(planning::Pace::ASSUMED);
    assert!(km(&spans[3].planned) <= 0.5 * km(&spans[3].usual));
    assert!(km(&spans[4].planned) <= km(&spans[4].usual));
    assert_eq!(spans[3].days.len(), 7);
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
    let spans = season(&races, "2027-04-01", "2027-05-09");
    let recovery = spans.iter().find(|span| span.phase == Phase::Recovery).expect("a recovery");
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
fn tune_up_races_stand_inside_their_span() {
    let races = [
        race("2027-05-09", RaceDistance::Half, Importance::Goal),
        race("2027-05-01", RaceDistance::FiveK, Importance::TuneUp),
    ];
    let spans = season(&races, "2027-04-01", "2027-05-09");
    let block = spans.iter().find(|span| span.phase == Phase::Block).expect("a block");
    assert_eq!(block.others, [1]);
}

/// A season in which nothing is raced, with blocks for what was called off.
fn without_races<'a>(plan: &'a Plan, called_off: &'a [(&'a Block, NaiveDate)]) -> Season<'a> {
    Season { athlete: &plan.athlete, week: &plan.week, races: &[], blocks: &[], called_off, unwell: &[] }
}

#[test]
fn a_race_called_off_brings_the_usual_week_back() {
    let plan = before("2027-05-16", RaceDistance::Marathon, SEVENTY);
    let block = plan.plan();
    let called_off = [(&block, day("2027-05-13"))];
    let all = without_races(&plan, &called_off);
    let spans = timeline(&all, day("2027-05-10"), day("2027-06-10"));
    assert_eq!(phases(&spans), [(Phase::Block, 3), (Phase::Return, 10), (Phase::Usual, 19)]);
    let mut planned = Totals::default();
    for day in block.days.iter().filter(|day| (spans[0].from..=spans[0].to).contains(&day.date)) {
        planned.extend(&day.planned_running());
    }
    assert_eq!((spans[0].race, &spans[0].planned), (None, &planned), "what the block held on these days");
}

/// What the season says of a day, where it is about what lies behind.
fn coming_back(spans: &[Span], date: NaiveDate) -> Option<(Phase, NaiveDate)> {
    let span = spans.iter().find(|span| (span.from..=span.to).contains(&date))?;
    matches!(span.phase, Phase::Recovery | Phase::Bridge | Phase::Return).then_some((span.phase, span.to))
}

#[test]
fn what_is_said_of_one_day_after_a_race_is_what_the_season_shows() {
    let raced_on = day("2026-10-11");
    for distance in RaceDistance::STANDARD {
        for gap in [None, Some(16_u64), Some(28), Some(35), Some(60), Some(90)] {
            let mut races = vec![race(&raced_on.to_string(), distance, Importance::Goal)];
            races.extend(gap.map(|gap| {
                let date = raced_on + Days::new(gap);
                race(&date.to_string(), RaceDistance::TenK, Importance::Goal)
            }));
            let all = season(&races, "2026-10-12", "2027-02-01");
            let first_day = all.iter().find(|span| span.phase == Phase::Block).map(|span| span.from);
            let next = races.get(1).zip(first_day).map(|(race, first_day)| NextGoal { race, first_day });
            let until = races.get(1).map_or(day("2027-02-01"), |next| next.date - Days::new(1));
            for date in raced_on.iter_days().skip(1).take_while(|date| *date <= until) {
                let said = after_race(&races[0], next, date).map(|one| (one.phase, one.to));
                assert_eq!(said, coming_back(&all, date), "{distance:?} {gap:?} {date}");
            }
        }
    }
}

#[test]
fn what_is_said_of_one_day_after_a_race_called_off_is_what_the_season_shows() {
    let plan = before("2027-05-16", RaceDistance::Marathon, SEVENTY);
    let block = plan.plan();
    for noted in ["2027-04-01", "2027-04-30", "2027-05-13", "2027-05-16"] {
        let noted = day(noted);
        let called_off = [(&block, noted)];
        let all = without_races(&plan, &called_off);
        let all = timeline(&all, noted, noted + Days::new(30));
        for date in noted.iter_days().take(30) {
            let said = after_called_off(&block, noted, None, date).map(|one| (one.phase, one.to));
            assert_eq!(said, coming_back(&all, date), "{noted} {date}");
        }
    }
}

#[test]
fn days_of_illness_and_injury_are_not_counted_as_run() {
    let plan = before("2027-01-01", RaceDistance::Marathon, SEVENTY);
    let raced = [race("2027-05-09", RaceDistance::Half, Importance::Goal)];
    let of = |races: &[Race], unwell: &[LifeEvent], from: &str, to: &str| {
        let all = Season { athlete: &plan.athlete, week: &plan.week, races, blocks: &[], called_off: &[], unwell };
        timeline(&all, day(from), day(to))
    };
    let km = |totals: &Totals| format!("{:.1}", totals.middle_km(planning::Pace::ASSUMED));
    let event = |kind, from, to| LifeEvent { kind, from: day(from), to: day(to), noted: day(from), open: false };
    // Tuesday and Wednesday hold 20 km of the week.
    let hurt = [event(EventKind::Injury, "2027-03-02", "2027-03-03")];
    let week = &of(&[], &hurt, "2027-03-01", "2027-03-07")[0];
    assert_eq!((week.phase, km(&week.usual), km(&week.planned)), (Phase::Usual, "70.0".to_owned(), "50.0".to_owned()));
    // After a fever the day without it is no running day either.
    let fever = [event(EventKind::Illness { fever: true }, "2027-03-02", "2027-03-02")];
    assert_eq!(km(&of(&[], &fever, "2027-03-01", "2027-03-07")[0].planned), "50.0");
    let travel = [event(EventKind::Travel, "2027-03-02", "2027-03-03")];
    assert_eq!(km(&of(&[], &travel, "2027-03-01", "2027-03-07")[0].planned), "70.0");
    // On the way back from a race nothing hard stands on the easy days after an illness either.
    let hard = |unwell: &[LifeEvent]| -> Vec<NaiveDate> {
        let days = of(&raced, unwell, "2027-05-17", "2027-05-23").into_iter().flat_map(|span| span.days);
        let is_hard = |day: &planning::QuietDay| day.sessions.iter().any(|planned| planned.session.is_hard());
        days.filter(is_hard).map(|day| day.date).collect()
    };
    let weakened = [event(EventKind::Illness { fever: true }, "2027-05-16", "2027-05-16")];
    assert_eq!((hard(&[]), hard(&weakened)), (vec![day("2027-05-18"), day("2027-05-20")], vec![]));
    // And after a fever each of these days holds at most half.
    let run = |unwell: &[LifeEvent]| -> f64 {
        let days = of(&raced, unwell, "2027-05-18", "2027-05-20").into_iter().flat_map(|span| span.days);
        days.map(|day| day.planned_running().middle_km(planning::Pace::ASSUMED)).sum()
    };
    assert!((0.1..=0.5).contains(&(run(&weakened) / run(&[]))), "{} of {} km", run(&weakened), run(&[]));
    // Neither is a recovery run on a day of illness.
    let cold = [event(EventKind::Illness { fever: false }, "2027-05-10", "2027-05-23")];
    for span in of(&raced, &cold, "2027-05-10", "2027-05-23") {
        assert!(span.planned.is_empty(), "{:?}", span.phase);
        assert!(span.days.iter().all(|day| day.sessions.is_empty()));
    }
}

fn distances() -> impl Strategy<Value = Vec<(u64, RaceDistance, Importance)>> {
    let distance = proptest::sample::select(RaceDistance::STANDARD.to_vec());
    let importance = proptest::sample::select(Importance::ALL.to_vec());
    proptest::collection::vec((0_u64..120, distance, importance), 0..6)
}

proptest! {
    #![proptest_config(cases(150))]

    #[test]
    fn every_day_stands_in_exactly_one_span_and_none_is_above_usual(runner in runner(), drawn in distances()) {
        let first = day("2027-03-01");
        let races: Vec<Race> = drawn
            .into_iter()
            .map(|(offset, distance, importance)| race(&(first + Days::new(offset)).to_string(), distance, importance))
            .collect();
        let last = first + Days::new(150);
        let Runner { athlete, week, .. } = &runner;
        let all = Season { athlete, week, races: &races, blocks: &[], called_off: &[], unwell: &[] };
        let spans = timeline(&all, first, last);
        let mut next: NaiveDate = first;
        for span in &spans {
            prop_assert_eq!(span.from, next);
            prop_assert!(span.to >= span.from);
            next = span.to + Days::new(1);
            let km = |totals: &planning::Totals| totals.middle_km(planning::Pace::ASSUMED);
            prop_assert!(!span.others.is_empty() || km(&span.planned) <= km(&span.usual) + 1e-6);
            // Another race so soon after is told as it stands, and the review speaks of it.
            let hard = |planned: &planning::Planned| planned.session.is_hard() && planned.role != Role::OtherRace;
            let is_recovery = span.phase == Phase::Recovery;
            prop_assert!(!is_recovery || !span.days.iter().flat_map(|day| &day.sessions).any(hard));
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
fn each_week_of_a_calendar_has_the_one_week_of_the_block_that_ends_in_it() {
    // A race on a Sunday, whose weeks are those of the calendar, and one on a Wednesday.
    for race_day in ["2027-05-09", "2027-05-12"] {
        let block = before(race_day, RaceDistance::Half, SEVENTY).plan();
        let weeks = block.weeks();
        assert!(weeks.iter().any(|week| week.share.0 < 0.7));
        let monday = |date: NaiveDate| date - Days::new(u64::from(date.weekday().num_days_from_monday()));
        for week in &weeks {
            let from = monday(week.to);
            assert_eq!(block.week_ending(from, from + Days::new(6)).as_ref(), Some(week), "{race_day}");
        }
        let after = monday(block.race_day) + Days::new(7);
        assert_eq!(block.week_ending(after, after + Days::new(6)), None);
    }
}

#[test]
fn a_season_tells_the_cut_of_a_block_as_the_block_does() {
    for race_day in ["2027-05-09", "2027-05-12"] {
        let block = before(race_day, RaceDistance::Half, SEVENTY).plan();
        let spans = season(&[race(race_day, RaceDistance::Half, Importance::Goal)], "2027-04-01", "2027-06-30");
        let cut =
            spans.iter().find(|span| span.phase == Phase::Block).and_then(|span| span.cut.clone()).expect("a cut");
        assert_eq!(cut, block.cut());
        let days = || block.days.iter().filter(|day| day.to_race < u16::from(block.curve.length));
        assert!(days().any(|day| day.to_race == 0), "race day counts as usual");
        let usual: f64 = days().map(|day| day.usual_running().middle_km(Pace::ASSUMED)).sum();
        assert!((cut.usual.middle_km(Pace::ASSUMED) - usual).abs() < 0.01);
        assert!(spans.iter().all(|span| span.cut.is_some() == (span.phase == Phase::Block)));
    }
}
