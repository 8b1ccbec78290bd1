//! Random base weeks, as athletes have them.

#![expect(clippy::expect_used, reason = "a test helper stops where its own data is wrong")]

use chrono::Days;
use planning::{
    Amount, Athlete, BaseWeek, DistanceUnit, Kind, Milli, RaceDistance, Session, SetUnit, Sets, Slot, Unit,
};
use proptest::prelude::*;

use crate::weeks::{Runner, monday, race_on};

pub(crate) fn distance() -> impl Strategy<Value = RaceDistance> {
    prop_oneof![
        Just(RaceDistance::FiveK),
        Just(RaceDistance::TenK),
        Just(RaceDistance::TenMiles),
        Just(RaceDistance::Half),
        Just(RaceDistance::Marathon),
        Just(RaceDistance::Own(Milli::whole(50), DistanceUnit::Km)),
    ]
}

pub(crate) const HARD: [Kind; 6] =
    [Kind::Tempo, Kind::Intervals, Kind::Hills, Kind::Fartlek, Kind::Progression, Kind::RacePace];

/// A week as athletes have it: a long run, easy runs, up to three hard sessions not side by side,
/// sometimes doubles, strength, ranges.
pub(crate) fn usual_week(unit: Unit) -> impl Strategy<Value = BaseWeek> {
    let day = (0..100u8, 0..100u8, 0..HARD.len(), 40..=130u8, 0..100u8);
    (prop::collection::vec(day, 7), 0..7usize, 3..=14i32, 25..=40i32).prop_map(move |(days, long_day, size, part)| {
        let per = match unit {
            Unit::Km => 1.0,
            Unit::Mi => 0.625,
            Unit::Min => 5.5,
        };
        let run = |km: f64| -> Milli {
            let step = if unit == Unit::Min { 5.0 } else { 1.0 };
            Milli::nearest(((km * per / step).round() * step).max(if unit == Unit::Min { 20.0 } else { 2.0 }))
        };
        let mut last_was_hard = false;
        let mut others = 0.0;
        // Nobody runs twice a day who does not run most days.
        let doubles = size > 11 && days.iter().filter(|day| day.0 >= 25).count() >= 5;
        let mut week: Vec<Vec<Session>> = days
            .iter()
            .enumerate()
            .map(|(index, (runs, hard, kind, factor, second))| {
                if index == long_day || *runs < 25 {
                    last_was_hard = index == long_day;
                    return Vec::new();
                }
                let km = f64::from(size) * f64::from(*factor) / 100.0;
                others += km;
                let amount = Amount::exact(run(km), unit);
                let is_hard = *hard < 40 && !last_was_hard && index + 1 != long_day;
                last_was_hard = is_hard;
                let mut sessions = vec![Session::new(if is_hard { HARD[*kind] } else { Kind::Easy }, amount)];
                if is_hard && *second < 50 {
                    sessions[0].hard = Some(Amount::exact(amount.middle().times(planning::Share(0.4)), unit));
                    if *second < 30 {
                        let each = amount.middle().times(planning::Share(f64::from(*second) / 100.0));
                        let each = Milli(each.0 / 500 * 500);
                        sessions[0].note =
                            format!("{} wu, {} cd", Amount::exact(each, unit), Amount::exact(each, unit));
                    }
                }
                if doubles && *second < 20 {
                    sessions.push(Session::new(Kind::Easy, Amount::exact(run(6.0), unit)));
                }
                if *second > 85 {
                    sessions.push(Session::new(Kind::Strength, Amount::exact(Milli::whole(30), Unit::Min)));
                }
                sessions
            })
            .collect();
        let long = others * f64::from(part) / f64::from(100 - part);
        let long = long.clamp(f64::from(size), 40.0);
        week[long_day] = vec![Session::new(Kind::Long, Amount::exact(run(long), unit))];
        let days: Vec<Vec<Slot>> = week.into_iter().map(|day| day.into_iter().map(Slot::one).collect()).collect();
        BaseWeek::new(days.try_into().expect("seven days"), None)
    })
}

pub(crate) fn unit() -> impl Strategy<Value = Unit> {
    prop_oneof![Just(Unit::Km), Just(Unit::Mi), Just(Unit::Min)]
}

/// Any runner with any race on any weekday.
pub(crate) fn runner() -> impl Strategy<Value = Runner> {
    (unit().prop_flat_map(usual_week), distance(), 0..7u64, prop::option::weighted(0.1, 2010..2012i32)).prop_map(
        |(week, distance, weekday, birth_year)| Runner {
            athlete: Athlete { name: "A. Runner".into(), birth_year, ..Athlete::default() },
            week,
            race: race_on(monday() + Days::new(weekday), distance),
        },
    )
}

/// A usual week with what some athletes have besides: time trials, repetitions, hard parts of long
/// runs, ranges, alternatives, loaded strength, cross-training on rest days.
pub(crate) fn full_week(unit: Unit) -> impl Strategy<Value = BaseWeek> {
    let changes = prop::collection::vec((0..100_u8, 0..100_u8), 7);
    (usual_week(unit), changes).prop_map(|(week, changes)| {
        let days = planning::week::WEEKDAYS.map(|weekday| week.day(weekday).to_vec());
        let mut number = 0;
        let days = days.map(|slots| {
            let (what, more) = changes[number];
            number += 1;
            if slots.is_empty() && what < 15 {
                let minutes = Amount::exact(Milli::whole(20 + i32::from(more) / 10 * 5), Unit::Min);
                return vec![Slot::one(Session::new(Kind::CrossTraining, minutes))];
            }
            slots.into_iter().filter_map(|slot| Slot::any_of(changed(slot.chosen(), what, more))).collect()
        });
        BaseWeek::new(days, None)
    })
}

/// A session as some athletes have it, or alternatives.
fn changed(usual: &Session, what: u8, more: u8) -> Vec<Session> {
    let mut session = usual.clone();
    let amount = usual.amount.map_or(Milli::ZERO, Amount::middle);
    let unit = usual.amount.map_or(Unit::Min, Amount::unit);
    match usual.kind {
        Kind::Strength => session.loaded = what < 50,
        Kind::Long if what < 25 => {
            session.hard = Some(Amount::exact(amount.times(planning::Share(0.3)), unit));
        }
        Kind::Easy if what < 20 => {
            let half = Milli(amount.0 / 8 / 500 * 500);
            session.amount = Some(Amount::between(amount - half, amount + half, unit));
        }
        Kind::Intervals if what < 60 => {
            let reps = 2 + u16::from(more) % 6;
            let length = Milli::nearest((amount.as_f64() * 0.4 / f64::from(reps) * 10.0).round() / 10.0);
            let unit = match unit {
                Unit::Km => SetUnit::Km,
                Unit::Mi => SetUnit::Mi,
                Unit::Min => SetUnit::Min,
            };
            session.hard = None;
            session.sets = vec![Sets { reps, length, unit, pace: String::new(), recovery: String::new() }];
        }
        kind if usual.is_hard() && kind != Kind::Long && what < 15 => session.kind = Kind::TimeTrial,
        kind if usual.is_hard() && kind != Kind::Long && what < 30 => {
            let hills = Session { kind: Kind::Hills, hard: None, ..session.clone() };
            return vec![hills, session];
        }
        _ => {}
    }
    vec![session]
}

/// Any runner with a fuller week, and any race on any weekday.
pub(crate) fn full_runner() -> impl Strategy<Value = Runner> {
    (unit().prop_flat_map(full_week), runner()).prop_map(|(week, runner)| Runner { week, ..runner })
}
