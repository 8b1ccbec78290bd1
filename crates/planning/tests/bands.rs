//! The bands in which race week and the weeks before it must lie, for every base week of four to
//! seven runs whose longest run, a quarter to two fifths of the week, stands on the race's weekday.
//!
//! Source: common practice, no published source. The published figures are checked below them:
//! weekly volume down by 41-60 % by race week, intensity and frequency kept, 8-14 days, progressive
//! (Bosquet and others 2007, doi 10.1249/mss.0b013e31806010e0; Wang and others 2023,
//! doi 10.1371/journal.pone.0282838; Mujika and Padilla 2003, PubMed 12840640).

mod weeks;

use std::fmt::Write;

use chrono::{Datelike, Days};
use planning::{
    Amount, Athlete, BaseWeek, Block, Day, Kind, Milli, RaceDistance, Reason, Role, Session, Share, Slot, Unit,
};
use proptest::prelude::*;
use weeks::{Runner, monday, race_on};

/// Race week, the week before, the one before that: shares of the base week.
fn bands(race: RaceDistance) -> [(f64, f64); 3] {
    match race.event() {
        planning::Event::FiveK => [(0.42, 0.75), (0.90, 1.0), (1.0, 1.0)],
        planning::Event::TenK => [(0.38, 0.65), (0.85, 1.0), (1.0, 1.0)],
        planning::Event::Half => [(0.26, 0.45), (0.76, 0.88), (0.93, 1.0)],
        planning::Event::Marathon => [(0.23, 0.45), (0.60, 0.75), (0.80, 0.96)],
        planning::Event::Longer => [(0.15, 0.40), (0.50, 0.66), (0.75, 0.92)],
    }
}

/// Four to seven runs, the longest of them, a quarter to two fifths of the week, on Sunday. The others are
/// anything from a half to twice each other's size, on any days; a second long run may be among them.
fn typical_week() -> impl Strategy<Value = BaseWeek> {
    let days = prop::sample::subsequence((0..6_usize).collect::<Vec<_>>(), 3..=6);
    let kinds = prop::collection::vec(0..100_u8, 6);
    let spread = prop_oneof![Just(84..=116_u32), Just(50..=150), Just(67..=133)];
    let sizes = spread.prop_flat_map(|sizes| prop::collection::vec(sizes, 6));
    (days, 25..=40_u32, 30..=140_u32, sizes, kinds, 0..3_usize).prop_filter_map(
        "the longest run is the long run",
        |(places, part, km, sizes, kinds, most_hard)| {
            let long = (f64::from(km) * f64::from(part) / 100.0).round();
            let sizes = &sizes[..places.len()];
            let sum: u32 = sizes.iter().sum();
            let others = f64::from(km) - long;
            let amounts: Vec<f64> = sizes.iter().map(|s| (others * f64::from(*s) / f64::from(sum)).round()).collect();
            let typical = (0.25..=0.40).contains(&(long / (long + amounts.iter().sum::<f64>())));
            // Rounded down to less than 30 km it would be low mileage, which has bands of its own.
            let low = long + amounts.iter().sum::<f64>() < 30.0;
            if !typical || low || amounts.iter().any(|amount| *amount >= long || *amount < 4.0) {
                return None;
            }
            let mut days: [Vec<Slot>; 7] = Default::default();
            let mut hard_left = most_hard;
            let mut last_hard = None;
            for ((place, amount), dice) in places.iter().zip(&amounts).zip(&kinds) {
                let amount = Amount::exact(Milli::nearest(*amount), Unit::Km);
                let beside = last_hard.is_some_and(|last: usize| last + 1 == *place);
                let mut session = Session::new(Kind::Easy, amount);
                if hard_left > 0 && !beside && *dice < 60 {
                    (hard_left, last_hard) = (hard_left - 1, Some(*place));
                    session = Session::new([Kind::Tempo, Kind::Intervals, Kind::Hills][usize::from(dice % 3)], amount);
                    session.hard = Some(Amount::exact(amount.middle().times(Share(0.4)), Unit::Km));
                }
                days[*place].push(Slot::one(session));
            }
            days[6].push(Slot::one(Session::new(Kind::Long, Amount::exact(Milli::nearest(long), Unit::Km))));
            Some(BaseWeek::new(days, None))
        },
    )
}

fn any_race() -> impl Strategy<Value = RaceDistance> {
    prop_oneof![
        Just(RaceDistance::FiveK),
        Just(RaceDistance::TenK),
        Just(RaceDistance::TenMiles),
        Just(RaceDistance::Half),
        Just(RaceDistance::Marathon),
        Just(RaceDistance::Own(Milli::whole(50), planning::DistanceUnit::Km)),
    ]
}

/// Whether nothing of a day of race week could be longer: 90 % of the usual (a hard run on D6 75 %), 12 km
/// on D4 and D3, 8 km on D2, a shake-out, what becomes of a long slot, the same weekday a week before.
fn at_its_most(block: &Block, day: &Day, before: &Day) -> bool {
    let earlier = before.planned_running().of(Unit::Km).middle().as_f64();
    day.sessions.iter().all(|planned| {
        let now = planned.session.running_middle().as_f64();
        let moved_from = planned.why.iter().find_map(|reason| match reason {
            Reason::KeyMovedHere(date) => block.day(*date),
            _ => None,
        });
        let stands_here = planned.usual.as_ref().map_or(0.0, |usual| usual.running_middle().as_f64());
        let usual = moved_from.map_or(stands_here, |day| day.usual_running().of(Unit::Km).middle().as_f64());
        let near = match day.to_race {
            1..=2 => 8.0,
            3..=4 => 12.0,
            _ => f64::MAX,
        };
        let is_hard = planned.session.is_hard() && planned.role == Role::Plain;
        let part = if is_hard && day.to_race == 6 { 0.75 } else { 0.9 };
        let was_long = planned.why.iter().any(|reason| matches!(reason, Reason::LongSlotEased(_)));
        // The steps of the long run and of a second one go before the band too.
        let steps_down =
            planned.why.iter().any(|reason| matches!(reason, Reason::LongRun(_) | Reason::SecondLongRun(_)));
        planned.role == Role::ShakeOut || was_long || steps_down || now + 1.0 > near.min(part * usual).min(earlier)
    })
}

/// Whether nothing of a day could be shorter.
fn at_its_least(day: &Day) -> bool {
    day.sessions.iter().all(|planned| planned.session.running_middle().as_f64() <= 5.0)
}

fn show(days: &[Day]) -> String {
    let run = |session: &Session| format!("{} {}", session.kind.code(), session.running_middle());
    let mut text = String::new();
    for day in days {
        let usual: Vec<_> = day.usual.iter().map(run).collect();
        let planned: Vec<_> = day.sessions.iter().map(|planned| run(&planned.session)).collect();
        let _ = writeln!(text, "D{} {usual:?} -> {planned:?}", day.to_race);
    }
    text
}

proptest! {
    #![proptest_config(weeks::cases(2000))]

    #[test]
    fn weeks_lie_in_their_bands(week in typical_week(), race in any_race()) {
        let date = monday() + Days::new(6);
        prop_assert_eq!(date.weekday(), chrono::Weekday::Sun);
        let runner = Runner {
            athlete: Athlete { name: "A".into(), ..Athlete::default() },
            week,
            race: race_on(date, race),
        };
        let block = runner.block();
        for summary in block.weeks() {
            let Some((low, high)) = bands(race).get(usize::from(summary.before)).copied() else { continue };
            // Amounts are whole kilometres: half a step of a week counts as inside.
            let step = 0.6 / summary.usual.of(Unit::Km).middle().as_f64();
            let share = summary.share.0;
            let days = &block.days[block.days.len() - 7 * (usize::from(summary.before) + 1)..][..7];
            let start = block.days.len().saturating_sub(7 * (usize::from(summary.before) + 2));
            let before = &block.days[start..][..7];
            // Two bounds go before the band: the longest that is run so near to the race, and the
            // shortest that is worth the shoes.
            let inside = (low - step..=high + step).contains(&share);
            let bound = if share < low { days.iter().zip(before).all(|(day, before)| at_its_most(&block, day, before)) } else { days.iter().all(at_its_least) };
            prop_assert!(inside || bound, "week {}: {share:.3} not in {low}-{high}\n{}", summary.before, show(days));
        }
    }

    #[test]
    fn frequency_is_kept(week in typical_week(), race in any_race()) {
        // Mujika and Padilla 2003: frequency down by no more than 20 %.
        let runner = Runner {
            athlete: Athlete { name: "A".into(), ..Athlete::default() },
            week,
            race: race_on(monday() + Days::new(6), race),
        };
        for summary in runner.block().weeks().iter().filter(|summary| summary.before > 0) {
            prop_assert!(summary.run_days as f64 >= 0.8 * summary.usual_run_days as f64);
        }
    }
}
