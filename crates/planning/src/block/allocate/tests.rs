//! Whole weeks, from the base week to the amounts, beside every other choice that could be written.

use chrono::{Days, NaiveDate};
use proptest::prelude::*;

use super::*;
use crate::athlete::Athlete;
use crate::block::solve::tests::by_looking_at_all;
use crate::block::{Pin, Request, lay, shape};
use crate::curve::Settings;
use crate::notation::{read_day, read_week};
use crate::race::{Importance, Race, RaceDistance};
use crate::units::DistanceUnit;

/// A day on which an athlete runs little enough for every choice to be looked at.
fn any_run() -> impl Strategy<Value = String> {
    let kind = prop::sample::select(vec!["easy", "easy", "easy", "tempo", "intervals", "hills", "long", "time trial"]);
    let amount = prop_oneof![
        4 => (2..13_i32).prop_map(|km| km.to_string()),
        1 => (2..12_i32).prop_map(|km| format!("{km}.4")),
        1 => (3..9_i32, 1..3_i32).prop_map(|(km, width)| format!("{km}-{}", km + width)),
        1 => (3..8_i32).prop_map(|miles| format!("{miles} mi")),
        1 => (4..14_i32).prop_map(|fives| format!("{} min", fives * 5)),
    ];
    (kind, amount).prop_map(|(kind, amount)| format!("{kind} {amount}"))
}

/// One to four runs on any days.
fn any_week() -> impl Strategy<Value = [String; 7]> {
    let days = prop::sample::subsequence((0..7_usize).collect::<Vec<_>>(), 1..=4);
    (days, prop::collection::vec(any_run(), 4)).prop_map(|(days, runs)| {
        std::array::from_fn(|day| {
            days.iter().position(|run| *run == day).map_or_else(|| "-".to_owned(), |run| runs[run].clone())
        })
    })
}

fn any_settings() -> impl Strategy<Value = Settings> {
    let curve = prop::option::weighted(0.2, 0.3..=4.0_f64);
    let floor = prop::option::weighted(0.2, 0.1..=0.9_f64);
    (prop::option::weighted(0.2, 4..=24_u8), curve, floor).prop_map(|(days, curve, floor)| Settings {
        days,
        curve,
        floor,
        ..Settings::default()
    })
}

/// Days that the coach fixed, so that the sum of the week may be out of reach.
fn any_pins() -> impl Strategy<Value = Vec<(u64, String)>> {
    let line = prop_oneof![1 => Just("rest".to_owned()), 2 => any_run(), 1 => (15..40_i32).prop_map(|km| format!("easy {km} km"))];
    prop_oneof![
        2 => Just(Vec::new()),
        1 => prop::collection::btree_map(1..14_u64, line, 1..3).prop_map(|pins| pins.into_iter().collect()),
    ]
}

fn any_race() -> impl Strategy<Value = (RaceDistance, u64)> {
    let own = |km: i32| RaceDistance::Own(Milli::whole(km), DistanceUnit::Km);
    let distances: Vec<_> = RaceDistance::STANDARD.into_iter().chain([own(50)]).collect();
    (prop::sample::select(distances), 0..7_u64)
}

proptest! {
    #![proptest_config(crate::how_many::cases(1500))]

    #[test]
    fn each_week_holds_the_best_of_all_that_could_be_written(
        lines in any_week(), (distance, weekday) in any_race(), settings in any_settings(), pins in any_pins(),
    ) {
        let athlete = Athlete { name: "A. Runner".into(), ..Athlete::default() };
        let week = read_week(&lines.each_ref().map(String::as_str), "", DistanceUnit::Km).expect("a week of the trade");
        let date = NaiveDate::from_ymd_opt(2027, 5, 3).expect("a Monday") + Days::new(weekday);
        let race = Race { name: "Goal".into(), date, distance, start: None, zone: None, importance: Importance::Goal };
        let pins: Vec<Pin> = pins.iter().map(|(to_race, line)| {
            let slots = read_day(line, DistanceUnit::Km).expect("a day of the trade");
            Pin::plain(date - Days::new(*to_race), slots.iter().map(|slot| slot.chosen().clone()).collect())
        }).collect();
        let request = Request { pins: &pins, ..Request::new(&athlete, &week, &race, &settings) };
        let (curve, _) = crate::block::curve_of(&request);
        let facts = Facts::new(&request, curve, &[]);
        let mut days = lay::lay(&facts);
        let shaped = shape::shape(&facts, &mut days);
        let mut planned = days.clone();
        allocate(&facts, &mut planned, &shaped);
        // The same once more, week by week.
        let mut earlier = Earlier::default();
        let mut sum_before = [None; 3];
        for range in (0..days.len() / 7).map(|week| week * 7..week * 7 + 7) {
            for (unit, before) in Unit::ALL.into_iter().zip(&mut sum_before) {
                if let Some(open) = open_week(&facts, &days, range.clone(), unit, &shaped, &earlier, *before) {
                    let best = by_looking_at_all(&open.choices, &open.sums);
                    for ((entry, choice), pick) in open.entries.iter().zip(&open.choices).zip(best) {
                        let written = planned[entry.day].items[entry.item].session.amount;
                        prop_assert_eq!(written, Some(choice.amounts[pick]), "{:?} {:?}", lines, request);
                    }
                }
                allocate_week(&facts, &mut days, range.clone(), unit, &shaped, &earlier, *before);
                *before = Some(sum_in(&days[range.clone()], unit));
            }
            earlier.remember(&facts, &days[range]);
        }
    }
}
