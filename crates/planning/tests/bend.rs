//! Edits by hand: what they touch, and what they leave alone.

#![expect(clippy::unwrap_used, reason = "helpers of tests stop where their own data is wrong")]

mod random;
mod weeks;

use chrono::{Days, NaiveDate};
use planning::bend::pins;
use planning::{
    Amount, Block, Edit, Field, Kind, Milli, Planned, Problem, ProblemKind, Request, RestOfWeek, Role, Session,
    Settings, Unit, bend,
};
use proptest::prelude::*;
use random::full_runner;
use weeks::Runner;

/// Six runs with sets on Tuesday, before a 10 km race on Sunday 9 May 2027.
fn ana() -> Runner {
    let lines = ["8", "6 x 800 m 10k pace, 12", "10 + strength 30", "tempo 10, hard 5", "rest", "6", "long 18"];
    let week = planning::notation::read_week(&lines, "", planning::DistanceUnit::Km).unwrap();
    Runner {
        athlete: planning::Athlete { name: "Ana".into(), ..Default::default() },
        week,
        race: weeks::race_on(day("2027-05-09"), planning::RaceDistance::TenK),
    }
}

fn day(text: &str) -> NaiveDate {
    text.parse().unwrap()
}

fn bent(runner: &Runner, block: &Block, edit: &Edit, rest: RestOfWeek) -> Result<Block, Vec<Problem>> {
    bend(&runner.request(&Settings::default(), &[]), block, edit, rest)
}

fn easy(km: i32) -> Session {
    Session::new(Kind::Easy, Amount::exact(Milli::whole(km), Unit::Km))
}

fn on(block: &Block, date: &str) -> Vec<Session> {
    block.day(day(date)).unwrap().sessions.iter().map(|planned| planned.session.clone()).collect()
}

/// The dates whose days are not the same in both.
fn changed(one: &Block, other: &Block) -> Vec<NaiveDate> {
    one.days.iter().zip(&other.days).filter(|(a, b)| a != b).map(|(a, _)| a.date).collect()
}

fn any_edit() -> impl Strategy<Value = (u8, usize, usize, usize)> {
    (0..7_u8, 0..60_usize, 0..60_usize, 0..3_usize)
}

/// An edit on days of the block, race day among them.
fn edit_of(block: &Block, (kind, one, other, place): (u8, usize, usize, usize)) -> Edit {
    let date = |index: usize| block.days[index % block.days.len()].date;
    let (one, other) = (date(one), date(other));
    match kind {
        0 => Edit::Change { day: one, sessions: vec![easy(4)], roles: Vec::new() },
        1 => Edit::Move { from: one, place, to: other },
        2 => Edit::Swap { one, other },
        3 => Edit::Remove { day: one, place },
        4 => Edit::Add { day: one, session: easy(3) },
        5 => Edit::Fix { day: one },
        _ => Edit::Free { day: one },
    }
}

proptest! {
    #![proptest_config(weeks::cases(500))]

    #[test]
    fn only_days_of_the_touched_weeks_differ(
        runner in full_runner(), edits in prop::collection::vec(any_edit(), 1..5), follows in any::<bool>()
    ) {
        let rest = if follows { RestOfWeek::Follows } else { RestOfWeek::Stays };
        let mut block = runner.block();
        for edit in edits {
            let edit = edit_of(&block, edit);
            let Ok(after) = bent(&runner, &block, &edit, rest) else { continue };
            let week = |date: NaiveDate| block.days.iter().position(|day| day.date == date).unwrap() / 7;
            let weeks: Vec<usize> = edit.days().into_iter().map(week).collect();
            for date in changed(&block, &after) {
                let touched = edit.days().contains(&date);
                prop_assert!(touched || (follows && weeks.contains(&week(date))), "{edit:?} moved {date}");
                let was_fixed = block.day(date).unwrap().pinned;
                prop_assert!(touched || !was_fixed, "{edit:?} moved the fixed {date}");
            }
            for date in edit.days() {
                prop_assert_eq!(after.day(date).unwrap().pinned, !matches!(edit, Edit::Free { .. }));
            }
            prop_assert_eq!(after.days.len(), block.days.len());
            prop_assert_eq!(&after.curve, &block.curve);
            block = after;
        }
    }

    #[test]
    fn a_moved_session_arrives_whole(runner in full_runner(), one in 0..60_usize, other in 0..60_usize) {
        let block = runner.block();
        let Edit::Move { from, to, .. } = edit_of(&block, (1, one, other, 0)) else { unreachable!() };
        let edit = Edit::Move { from, place: 0, to };
        let Ok(after) = bent(&runner, &block, &edit, RestOfWeek::Follows) else { return Ok(()) };
        let moved = &block.day(from).unwrap().sessions[0].session;
        let there = |planned: &Planned| planned.session == *moved;
        prop_assert!(after.day(to).unwrap().sessions.iter().any(there), "its sets, hard part and note go with it");
        let (before, now) = (block.day(from).unwrap().sessions.len(), after.day(from).unwrap().sessions.len());
        prop_assert_eq!(now, before - 1);
    }

    #[test]
    fn a_day_set_to_more_than_usual_leaves_the_others_their_share(
        runner in full_runner(), at in 0..60_usize, km in 1..60_i32
    ) {
        let block = runner.block();
        let date = block.days[at % (block.days.len() - 1)].date;
        let edit = Edit::Change { day: date, sessions: vec![easy(km)], roles: Vec::new() };
        let after = bent(&runner, &block, &edit, RestOfWeek::Follows).unwrap();
        let pace = planning::Pace::ASSUMED;
        let usual = block.day(date).unwrap().usual_running().middle_km(pace);
        prop_assume!(f64::from(km) > usual + 0.1);
        for (day, now) in block.days.iter().zip(&after.days).filter(|(day, _)| day.date != date && day.to_race > 6) {
            for (before, now) in day.sessions.iter().zip(&now.sessions) {
                let keeps = match (before.session.is_hard(), before.session.kind) {
                    (true, _) => 0.70,
                    (_, Kind::Long) => 0.60,
                    _ => continue,
                };
                // What was written before lies within a step of what the share is taken of.
                let step = if before.session.running().is_some_and(|amount| amount.unit() == Unit::Min) { 5.0 } else { 1.0 };
                let (had, has) = (before.session.running_middle().as_f64(), now.session.running_middle().as_f64());
                prop_assert!(has >= (had - step) * keeps, "{has} of {had} on {}, {date} set", day.date);
            }
        }
    }

    #[test]
    fn freeing_what_was_fixed_brings_the_plan_back(runner in full_runner(), at in 0..60_usize) {
        let block = runner.block();
        let date = block.days[at % (block.days.len() - 1)].date;
        let change = Edit::Change { day: date, sessions: vec![easy(4)], roles: Vec::new() };
        let fixed = bent(&runner, &block, &change, RestOfWeek::Follows).unwrap();
        prop_assert_eq!(pins(&fixed).len(), 1);
        let freed = bent(&runner, &fixed, &Edit::Free { day: date }, RestOfWeek::Follows).unwrap();
        prop_assert_eq!(freed, block);
    }
}

#[test]
fn a_hard_session_moved_to_a_rest_day_carries_its_sets_and_its_part() {
    let (runner, block) = (ana(), ana().block());
    let key = block.days.iter().find(|day| day.sessions.iter().any(|planned| planned.role == Role::Key)).unwrap();
    let session = key.sessions[0].session.clone();
    let edit = Edit::Move { from: key.date, place: 0, to: day("2027-05-07") };
    let after = bent(&runner, &block, &edit, RestOfWeek::Stays).unwrap();
    let there = after.day(day("2027-05-07")).unwrap();
    assert_eq!((&there.sessions[0].session, there.sessions[0].role), (&session, Role::Key));
    assert!(after.day(key.date).unwrap().is_rest());
    assert_eq!(changed(&block, &after), [key.date, day("2027-05-07")]);
}

#[test]
fn swapping_and_swapping_back_leaves_the_same_sessions() {
    let (runner, block) = (ana(), ana().block());
    let edit = Edit::Swap { one: day("2027-05-04"), other: day("2027-05-05") };
    let once = bent(&runner, &block, &edit, RestOfWeek::Stays).unwrap();
    assert_eq!(on(&once, "2027-05-04"), on(&block, "2027-05-05"));
    let twice = bent(&runner, &once, &edit, RestOfWeek::Stays).unwrap();
    for date in ["2027-05-04", "2027-05-05"] {
        assert_eq!(on(&twice, date), on(&block, date));
    }
}

#[test]
fn a_rest_day_fixed_in_race_week_lets_the_others_take_up_a_little() {
    let (runner, block) = (ana(), ana().block());
    let rest = Edit::Change { day: day("2027-05-05"), sessions: Vec::new(), roles: Vec::new() };
    let stays = bent(&runner, &block, &rest, RestOfWeek::Stays).unwrap();
    assert_eq!(changed(&block, &stays), [day("2027-05-05")]);
    let follows = bent(&runner, &block, &rest, RestOfWeek::Follows).unwrap();
    assert_eq!(follows.days[..7], block.days[..7], "the week before does not move");
    let race_week = |block: &Block| block.weeks().last().unwrap().planned.middle_km(planning::Pace::ASSUMED);
    assert!(race_week(&follows) >= race_week(&stays));
}

#[test]
fn days_that_are_past_stay_and_are_not_bent() {
    let (runner, block) = (ana(), ana().block());
    let settings = Settings::default();
    let today = Some(day("2027-05-05"));
    let request = Request { today, ..runner.request(&settings, &[]) };
    let edit = Edit::Change { day: day("2027-05-06"), sessions: vec![easy(9)], roles: Vec::new() };
    let after = bend(&request, &block, &edit, RestOfWeek::Follows).unwrap();
    for date in ["2027-05-03", "2027-05-04"] {
        assert_eq!(after.day(day(date)), block.day(day(date)));
    }
    let past = Edit::Swap { one: day("2027-05-06"), other: day("2027-05-04") };
    let kind = ProblemKind::DayIsPast { date: day("2027-05-04"), today: day("2027-05-05") };
    let expected = vec![Problem::new(Field::Pin(day("2027-05-04")), kind)];
    assert_eq!(bend(&request, &block, &past, RestOfWeek::Follows), Err(expected));
}

#[test]
fn a_day_that_was_eased_on_the_way_is_not_raised_by_bending_another() {
    let (runner, mut block) = (ana(), ana().block());
    let eased = block.days.iter_mut().find(|planned| planned.date == day("2027-04-28")).unwrap();
    eased.sessions.clear();
    let edit = Edit::Change { day: day("2027-04-30"), sessions: vec![easy(4)], roles: Vec::new() };
    let after = bent(&runner, &block, &edit, RestOfWeek::Follows).unwrap();
    assert!(after.day(day("2027-04-28")).unwrap().is_rest(), "nobody gave it back");
}

#[test]
fn what_cannot_be_is_refused_with_the_day_and_the_reason() {
    let (runner, block) = (ana(), ana().block());
    let race = day("2027-05-09");
    let tuesday = day("2027-05-04");
    let outside = day("2027-03-01");
    let (first, last) = (block.days[0].date, race - Days::new(1));
    for (edit, at, kind) in [
        (Edit::Fix { day: race }, race, ProblemKind::RaceDayBent { date: race }),
        (Edit::Swap { one: tuesday, other: race }, race, ProblemKind::RaceDayBent { date: race }),
        (Edit::Free { day: outside }, outside, ProblemKind::PinOutsideBlock { date: outside, first, last }),
        (Edit::Move { from: tuesday, place: 0, to: tuesday }, tuesday, ProblemKind::SameDay { date: tuesday }),
        (Edit::Remove { day: tuesday, place: 1 }, tuesday, ProblemKind::NoSuchSession { place: 2, count: 1 }),
        (
            Edit::Change { day: tuesday, sessions: vec![easy(2); 5], roles: Vec::new() },
            tuesday,
            ProblemKind::TooManySessions { count: 5, most: 4 },
        ),
        (Edit::Add { day: tuesday, session: easy(0) }, tuesday, ProblemKind::ZeroAmount { kind: Kind::Easy }),
    ] {
        for rest in [RestOfWeek::Stays, RestOfWeek::Follows] {
            let refused = bent(&runner, &block, &edit, rest);
            assert_eq!(refused, Err(vec![Problem::new(Field::Pin(at), kind.clone())]), "{edit:?}");
        }
    }
}

#[test]
fn a_day_fixed_with_its_strides_keeps_them_when_the_block_is_made_anew() {
    let runner = ana();
    let block = runner.block();
    let quick = block.days.iter().find(|day| day.sessions.iter().any(|planned| planned.role == Role::EasyWithStrides));
    let date = quick.unwrap().date;
    let fixed = bent(&runner, &block, &Edit::Fix { day: date }, RestOfWeek::Stays).unwrap();
    let settings = Settings { days: Some(8), ..Settings::default() };
    let anew = planning::plan(&runner.request(&settings, &pins(&fixed))).unwrap();
    let held = |block: &Block| -> Vec<(Session, Role)> {
        block.day(date).unwrap().sessions.iter().map(|planned| (planned.session.clone(), planned.role)).collect()
    };
    assert_eq!(held(&anew), held(&block));
    // A line that says them no longer takes them out, one that says nothing of parts leaves them.
    let sessions: Vec<Session> = held(&block).into_iter().map(|(session, _)| session).collect();
    let with = |roles| {
        let edit = Edit::Change { day: date, sessions: sessions.clone(), roles };
        bent(&runner, &block, &edit, RestOfWeek::Stays).unwrap().day(date).unwrap().sessions[0].role
    };
    assert_eq!(with(Vec::new()), Role::EasyWithStrides);
    assert_eq!(with(vec![Role::Plain]), Role::Plain);
}
