//! Blocks of which a part lies behind: made late, or planned again on the way.
//!
//! What the days hold: common practice, no published source. Every runner, week and race is invented.

#![expect(clippy::unwrap_used, reason = "helpers of tests stop where their own data is wrong")]

mod random;
mod weeks;

use chrono::Days;
use planning::curve::Adjustment;
use planning::{
    Amount, Begun, Block, Day, Event, Kind, Milli, Planned, RaceDistance, Reason, Request, Session, Settings, Share,
    Unit, plan,
};
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

#[test]
fn made_two_days_before_the_race_it_is_two_days_long_and_they_are_the_end_of_a_curve() {
    let lines = ["10", "tempo 14, hard 6", "10", "14", "10", "8", "long 24"];
    let runner = Runner {
        athlete: planning::Athlete { name: "Ana".into(), ..Default::default() },
        week: planning::notation::read_week(&lines, "", planning::DistanceUnit::Km).unwrap(),
        race: weeks::race_on("2027-05-09".parse().unwrap(), RaceDistance::TenK),
    };
    for left in 1..=3_u16 {
        let block = plan_on(&runner, left.into(), left.into(), &[], &Settings::default());
        assert_eq!(
            (u16::from(block.curve.length), block.beginning().first),
            (left, block.race_day - Days::new(left.into()))
        );
        let longer = plan_on(&runner, 4, 4, &[], &Settings::default());
        for to_race in 1..=left {
            assert_eq!(block.share(to_race), longer.share(to_race), "D{to_race} of {left}");
        }
    }
}

/// The most of a usual easy run that a coach would write on D3, D2 and D1.
fn sensible_share(event: Event, to_race: u16) -> f64 {
    let shares = match event {
        Event::FiveK => [0.60, 0.70, 0.80],
        Event::TenK => [0.50, 0.60, 0.65],
        Event::Half => [0.40, 0.50, 0.60],
        Event::Marathon | Event::Longer => [0.40, 0.45, 0.55],
    };
    shares[usize::from(to_race) - 1]
}

/// The easy runs of some days before the race, what became of long runs among them: to race, usual and planned.
fn easy_runs(block: &Block, days: std::ops::RangeInclusive<u16>) -> Vec<(u16, Amount, Amount)> {
    let on = block.days.iter().filter(|day| days.contains(&day.to_race));
    on.flat_map(|day| day.sessions.iter().map(|planned| (day.to_race, planned)))
        .filter(|(_, planned)| planned.role.plays_no_part() && !planned.session.is_hard())
        .filter_map(|(to_race, planned)| {
            let usual = planned.usual.as_ref()?;
            Some((to_race, usual.running()?, planned.session.running()?))
        })
        .collect()
}

/// The longest run of the week in a unit that is neither hard nor called long; runs between hard days that are shorter
/// than most say nothing.
fn longest_easy(runner: &Runner, unit: Unit) -> Milli {
    let of_median = |runs: Vec<Milli>| runs.get(runs.len() / 2).copied().unwrap_or(Milli::ZERO).times(Share(0.8));
    let of_day = |weekday| {
        let runs = runner.week.sessions().filter(|(day, _)| *day == weekday).filter_map(|(_, run)| run.running());
        runs.filter(|amount| amount.unit() == unit).map(Amount::middle).max()
    };
    let mut runs: Vec<Milli> = planning::week::WEEKDAYS.into_iter().filter_map(of_day).collect();
    runs.sort_unstable();
    let is_easy = |session: &&Session| !session.is_hard() && session.kind != Kind::Long;
    let easy = runner.week.sessions().map(|(_, session)| session).filter(is_easy).filter_map(Session::running);
    easy.filter(|amount| amount.unit() == unit)
        .map(Amount::middle)
        .max()
        .map_or(Milli(i32::MAX), |easy| easy.max(of_median(runs)))
}

/// Whether the rules leave this athlete more of a week than others, whatever the race.
fn keeps_more(block: &Block) -> bool {
    let raised = [Adjustment::LowMileage, Adjustment::FewRuns, Adjustment::Youth];
    block.adjustments.iter().any(|reason| raised.contains(reason))
}

/// The shortest run that is worth the shoes to those who run most; and half of the step in which amounts are written.
fn least_and_half_a_step(unit: Unit) -> (Milli, Milli) {
    match unit {
        Unit::Km => (Milli(5000), Milli(500)),
        Unit::Mi => (Milli(3000), Milli(500)),
        Unit::Min => (Milli(30_000), Milli(2500)),
    }
}

#[test]
fn so_near_to_the_race_a_coach_writes_about_six_kilometres() {
    let lines = ["8", "intervals 13, hard 5", "10", "tempo 12, hard 6", "8", "rest", "long 20"];
    for (distance, left, most) in
        [(RaceDistance::TenMiles, 40, 6), (RaceDistance::TenK, 3, 6), (RaceDistance::Half, 6, 6)]
    {
        let runner = Runner {
            athlete: planning::Athlete { name: "Ana".into(), ..Default::default() },
            week: planning::notation::read_week(&lines, "", planning::DistanceUnit::Km).unwrap(),
            race: weeks::race_on("2027-05-09".parse().unwrap(), distance),
        };
        let block = plan_on(&runner, left, left, &[], &Settings::default());
        let thursday = easy_runs(&block, 3..=3);
        assert_eq!(thursday[0].2.middle(), Milli::whole(most), "{distance:?}, {left} days left");
    }
}

#[test]
fn a_long_run_three_days_before_the_race_is_no_longer_than_the_easy_run_before_it() {
    for (easy, long) in [(11, 22), (12, 24), (12, 30), (14, 32), (9, 20)] {
        let run = easy.to_string();
        let long = format!("long {long}, hard 6");
        let lines = ["time trial 10", "4", "time trial 4", &run, "time trial 9", &run, &long];
        for distance in [RaceDistance::Marathon, RaceDistance::Own(Milli::whole(50), planning::DistanceUnit::Km)] {
            let runner = Runner {
                athlete: planning::Athlete { name: "Ana".into(), ..Default::default() },
                week: planning::notation::read_week(&lines, "", planning::DistanceUnit::Km).unwrap(),
                race: weeks::race_on("2027-05-05".parse().unwrap(), distance),
            };
            let block = plan_on(&runner, 19, 19, &[], &Settings::default());
            let easy = easy_runs(&block, 3..=4);
            let [(4, _, saturday), (3, _, sunday)] = easy.as_slice() else { panic!("{easy:?}") };
            assert!(sunday.middle() <= saturday.middle(), "{lines:?}, {distance:?}: {sunday} after {saturday}");
            let why = &block.days[block.days.len() - 4].sessions[0].why;
            let says_easy = |why: &Reason| matches!(why, Reason::EasyNear(_) | Reason::LongSlotEased(_));
            assert!(why.iter().any(says_easy), "{why:?}");
        }
    }
}

proptest! {
    #![proptest_config(weeks::cases(192))]

    #[test]
    fn easy_runs_of_the_last_three_days_are_short_however_many_days_are_left(
        runner in full_runner(), left in 1..=40_u64
    ) {
        let block = plan_on(&runner, left, left, &[], &Settings::default());
        if keeps_more(&block) {
            return Ok(());
        }
        let first = left.min(3) as u16;
        for (to_race, usual, now) in easy_runs(&block, 1..=first) {
            let (least, half) = least_and_half_a_step(now.unit());
            let of = usual.middle().min(longest_easy(&runner, usual.unit()));
            let most = of.times(Share(sensible_share(block.event, to_race))) + half;
            prop_assert!(now.middle() <= most.max(least), "D{to_race}: {now} of {usual}, at most {most}");
        }
    }

    #[test]
    fn easy_runs_of_race_week_fall_towards_the_race(runner in full_runner(), left in 7..=40_u64) {
        let block = plan_on(&runner, left, left, &[], &Settings::default());
        // What became of a long run there has bounds of its own.
        let was_long = |planned: &Planned| {
            let is_long = |why: &Reason| matches!(why, Reason::LongSlotEased(_));
            planned.why.iter().any(is_long) || planned.usual.as_ref().is_some_and(|usual| usual.kind == Kind::Long)
        };
        let mut plain = block.clone();
        for day in &mut plain.days {
            day.sessions.retain(|planned| !was_long(planned));
        }
        let early = easy_runs(&plain, 4..=6);
        for (to_race, usual, now) in easy_runs(&block, 1..=3) {
            let (_, half) = least_and_half_a_step(now.unit());
            let of = usual.middle().min(longest_easy(&runner, usual.unit()));
            let of = if keeps_more(&block) { usual.middle() } else { of };
            for (before, other, had) in early.iter().filter(|(_, _, had)| had.unit() == now.unit()) {
                let is_as_long = other.middle() >= of;
                prop_assert!(
                    !is_as_long || now.middle() <= had.middle() + half + half,
                    "D{before}: {had} of {other}, D{to_race}: {now} of {usual}"
                );
            }
        }
    }

    #[test]
    fn a_block_made_late_leaves_what_lies_behind_as_usual(runner in full_runner(), left in 1..=40_u64) {
        let block = plan_on(&runner, left, left, &[], &Settings::default());
        let usual = runner.block();
        prop_assert!(block.curve.length <= usual.curve.length);
        prop_assert!(u64::from(block.curve.length) <= left);
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
