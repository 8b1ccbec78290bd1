//! Weeks of all sorts, as anybody may have them.

#![expect(clippy::expect_used, reason = "a test helper stops where its own data is wrong")]

use chrono::Days;
use planning::{Amount, Athlete, BaseWeek, DistanceUnit, Kind, Milli, RaceDistance, Session, Slot, Unit};
use proptest::prelude::*;

use crate::random::{HARD, distance, unit};
use crate::weeks::{Runner, monday, race_on};

/// How one day of a week of all sorts comes about.
#[derive(Clone, Copy, Debug)]
struct Dice {
    what: u8,
    hard: u8,
    size: u8,
    unit: u8,
    more: u8,
}

/// A week as anybody may have it: 1 to 14 sessions and more, on any days, hard days side by side, doubles,
/// little running or much, distance and time mixed, run-walk, cross-training hard or easy, strength loaded
/// or not, time trials, alternatives, ranges, a range of the week as a whole.
fn week_of_all_sorts() -> impl Strategy<Value = BaseWeek> {
    let dice = (0..100_u8, 0..100_u8, 0..100_u8, 0..100_u8, 0..100_u8)
        .prop_map(|(what, hard, size, unit, more)| Dice { what, hard, size, unit, more });
    let runs = prop::sample::subsequence((0..7_usize).collect::<Vec<_>>(), 1..=7);
    let usual = prop_oneof![2 => 3..8_i32, 4 => 6..14_i32, 1 => 12..20_i32];
    let long = prop_oneof![1 => Just(100_i32), 4 => 130..=260_i32];
    let unit = prop_oneof![
        4 => unit().prop_map(|unit| [unit; 2]),
        1 => Just([Unit::Km, Unit::Min]),
        1 => Just([Unit::Min, Unit::Mi]),
    ];
    let share_of_hard = prop_oneof![1 => Just(0_u8), 3 => 10..60_u8];
    (prop::collection::vec(dice, 7), runs, usual, long, unit, share_of_hard, any::<bool>()).prop_map(
        |(dice, runs, usual, long, units, share_of_hard, doubles)| {
            let long_day = runs[usize::from(dice[0].more) % runs.len()];
            let mut days: [Vec<Slot>; 7] = Default::default();
            for (day, (slots, dice)) in days.iter_mut().zip(&dice).enumerate() {
                let unit = if dice.unit < 50 { units[0] } else { units[1] };
                if runs.contains(&day) {
                    let part = if day == long_day { long } else { 60 + i32::from(dice.size) * 8 / 10 };
                    let amount = run_of(usual * part, unit, dice.more);
                    slots.push(main_run(amount, day == long_day, dice.hard < share_of_hard, *dice));
                    if doubles && dice.what >= 60 {
                        slots.push(Slot::one(Session::new(Kind::Easy, run_of(usual * 50, unit, 0))));
                    }
                }
                if (20..35).contains(&dice.what) {
                    let mut strength = Session::new(Kind::Strength, Amount::exact(Milli::whole(30), Unit::Min));
                    strength.loaded = dice.more < 50;
                    slots.push(Slot::one(strength));
                } else if (35..50).contains(&dice.what) {
                    let minutes = Amount::exact(Milli::whole(25 + i32::from(dice.size) / 10 * 5), Unit::Min);
                    let mut cross = Session::new(Kind::CrossTraining, minutes);
                    cross.hard = (dice.hard < 40).then_some(Amount::exact(Milli::whole(15), Unit::Min));
                    slots.push(Slot::one(cross));
                }
            }
            let week = BaseWeek::new(days.clone(), None);
            let only = week.running().single_unit().filter(|_| dice[1].more < 30);
            let range = only.map(|unit| {
                let sum = week.running().of(unit).middle();
                Amount::between(sum.times(planning::Share(0.9)), sum.times(planning::Share(1.1)), unit)
            });
            BaseWeek::new(days, range)
        },
    )
}

/// A run of so many hundredths of a kilometre, as typed: a number or a range.
fn run_of(hundredths: i32, unit: Unit, more: u8) -> Amount {
    let low = match unit {
        Unit::Km => Milli::whole((hundredths / 100).max(2)),
        Unit::Mi => Milli((hundredths * 10 * 5 / 8 / 500 * 500).max(1_500)),
        Unit::Min => Milli::whole((hundredths * 6 / 500 * 5).max(15)),
    };
    let width = if more >= 80 { Milli(low.0 / 5 / 1_000 * 1_000) } else { Milli::ZERO };
    Amount::between(low, low + width, unit)
}

/// The first run of a day.
fn main_run(amount: Amount, is_long: bool, is_hard: bool, dice: Dice) -> Slot {
    let part = |share: f64| Some(Amount::exact(amount.low().times(planning::Share(share)), amount.unit()));
    if is_long {
        // Not everybody calls it so.
        let mut long = Session::new(if dice.more < 70 { Kind::Long } else { Kind::Easy }, amount);
        long.hard = part(0.3).filter(|_| is_hard && long.kind == Kind::Long);
        return Slot::one(long);
    }
    if !is_hard {
        let mut easy = Session::new(if dice.more < 10 { Kind::Recovery } else { Kind::Easy }, amount);
        if dice.what < 15 {
            "run 4 min, walk 1 min".clone_into(&mut easy.note);
        }
        if dice.more < 20 {
            let other = Session { kind: Kind::CrossTraining, ..easy.clone() };
            return Slot::any_of(vec![other, easy]).expect("two to choose from");
        }
        return Slot::one(easy);
    }
    let mut hard = Session::new(HARD[usize::from(dice.size) % HARD.len()], amount);
    match dice.more {
        0..=9 => hard.kind = Kind::TimeTrial,
        10..=49 => hard.hard = part(0.2 + f64::from(dice.size) / 250.0),
        _ => {}
    }
    if dice.what < 15 {
        let hills = Session { kind: Kind::Hills, hard: None, ..hard.clone() };
        return Slot::any_of(vec![hills, hard]).expect("two to choose from");
    }
    Slot::one(hard)
}

/// Anybody: a week of all sorts, any age, a pace that is known or not, and any race on any weekday.
pub(crate) fn anybody() -> impl Strategy<Value = Runner> {
    let own = |km: i32| RaceDistance::Own(Milli::whole(km), DistanceUnit::Km);
    let distance = prop_oneof![5 => distance(), 1 => prop::sample::select(vec![own(3), own(8), own(25), own(100)])];
    let birth_year =
        prop_oneof![4 => Just(None), 1 => (2010..2013_i32).prop_map(Some), 1 => (1945..1985_i32).prop_map(Some)];
    let pace = prop::option::of(210..500_u16);
    (week_of_all_sorts(), distance, 0..7_u64, birth_year, pace).prop_map(
        |(week, distance, weekday, birth_year, pace)| {
            let easy_pace = pace.and_then(|seconds| planning::Pace::new(seconds, DistanceUnit::Km).ok());
            Runner {
                athlete: Athlete { name: "A. Runner".into(), birth_year, easy_pace, ..Athlete::default() },
                week,
                race: race_on(monday() + Days::new(weekday), distance),
            }
        },
    )
}
