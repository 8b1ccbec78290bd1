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
use planning::{Amount, Athlete, BaseWeek, Day, Kind, Milli, RaceDistance, Role, Session, Share, Slot, Unit};
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

/// Four to seven runs, the longest on Sunday, the others alike but for a sixth up or down (so that none of
/// them is a second long run).
fn typical_week() -> impl Strategy<Value = BaseWeek> {
    (4..=7usize, 25..=40u32, 36..=130u32, prop::collection::vec(84..=116u32, 6), 0..3usize).prop_filter_map(
        "the longest run is the long run",
        |(runs, part, km, sizes, hard)| {
            let long = f64::from(km) * f64::from(part) / 100.0;
            let others = f64::from(km) - long;
            let sizes = &sizes[..runs - 1];
            let sum: u32 = sizes.iter().sum();
            let amounts: Vec<f64> = sizes.iter().map(|s| (others * f64::from(*s) / f64::from(sum)).round()).collect();
            let whole = long.round() + amounts.iter().sum::<f64>();
            let typical = (0.25..=0.40).contains(&(long.round() / whole));
            if !typical || amounts.iter().any(|amount| *amount > long * 0.95 || *amount < 5.0) {
                return None;
            }
            let places = [&[1, 3, 5][..], &[1, 2, 3, 5], &[0, 1, 2, 3, 5], &[0, 1, 2, 3, 4, 5]][runs - 4];
            let mut days: [Vec<Slot>; 7] = Default::default();
            for (place, amount) in places.iter().zip(&amounts) {
                let kind =
                    if (hard > 0 && *place == 1) || (hard > 1 && *place == 3) { Kind::Tempo } else { Kind::Easy };
                let amount = Amount::exact(Milli::nearest(*amount), Unit::Km);
                let mut session = Session::new(kind, amount);
                if kind == Kind::Tempo {
                    session.hard = Some(Amount::exact(amount.middle().times(Share(0.4)), Unit::Km));
                }
                days[*place].push(Slot::one(session));
            }
            days[6].push(Slot::one(Session::new(Kind::Long, Amount::exact(Milli::nearest(long.round()), Unit::Km))));
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

/// Whether nothing of a day of race week could be longer: 90 % of the usual, 12 km on D4 and D3, 8 km
/// on D2, a shake-out, the key session on the curve, the same weekday a week before.
fn at_its_most(day: &Day, before: &Day) -> bool {
    let earlier = before.planned_running().of(Unit::Km).middle().as_f64();
    day.sessions.iter().all(|planned| {
        let now = planned.session.running_middle().as_f64();
        let usual = planned.usual.as_ref().map_or(0.0, |usual| usual.running_middle().as_f64());
        let near = match day.to_race {
            1..=2 => 8.0,
            3..=4 => 12.0,
            _ => f64::MAX,
        };
        planned.role != Role::Plain && planned.role != Role::EasyWithStrides
            || now + 1.0 > near.min(0.9 * usual).min(earlier)
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
            let bound = if share < low { days.iter().zip(before).all(|(day, before)| at_its_most(day, before)) } else { days.iter().all(at_its_least) };
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
