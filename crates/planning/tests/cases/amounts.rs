//! Units, ranges and what a total is.

use planning::DistanceUnit::{Km, Mi};
use planning::RaceDistance::{FiveK, Half, Marathon, TenK};
use planning::notation::{read_amount, read_day, write_day};
use planning::week::WEEKDAYS;
use planning::{Amount, Distance, DistanceUnit, Milli, Pace, RaceDistance, Unit, fit};
use proptest::prelude::*;

use crate::runner::{runner, sessions, show, sum, within};

#[test]
fn a_lumpy_base_is_planned_from_its_typical_week() {
    let typical = fit::typical("58, 62, 47, 68, 60, 61", Unit::Mi).expect("six weeks");
    assert_eq!((typical.median, typical.least, typical.most), (Milli(60_500), Milli::whole(47), Milli::whole(68)));
    let typed = runner(Mi, Marathon, "8 | tempo 9, hard 4 | 8 | 7 | - | 6 | long 16").days(18);
    let total = Amount::exact(typical.median, typical.unit);
    let mut fitted = typed.clone();
    fitted.week = fit::scaled_to(&typed.week, total, None);
    let block = fitted.block();
    within(fitted.week.running().of(Unit::Mi).middle().as_f64(), 60.0, 61.0, &block);
    within(sum(&block, 7..=13, Unit::Mi), 33.0, 45.0, &block);
    within(sum(&block, 1..=6, Unit::Mi), 15.0, 27.0, &block);
    assert!(
        block
            .days
            .iter()
            .filter(|day| day.to_race > 18)
            .all(|day| day.sessions.iter().all(|planned| planned.why.is_empty()))
    );
}

proptest! {
    #[test]
    fn neither_the_highest_nor_the_lowest_week_moves_what_is_typical(
        mut weeks in prop::collection::vec(20..120_i32, 3..12), folly in 150..400_i32,
    ) {
        let text = |weeks: &[i32]| weeks.iter().map(ToString::to_string).collect::<Vec<_>>().join(", ");
        weeks.sort_unstable();
        let before = fit::typical(&text(&weeks), Unit::Km).expect("weeks");
        let (last, middle) = (weeks.len() - 1, (weeks.len() - 1) / 2);
        weeks[last] = folly;
        weeks[0] = 1;
        let after = fit::typical(&text(&weeks), Unit::Km).expect("weeks");
        prop_assert_eq!(before.median, after.median);
        prop_assert!(before.median >= Milli::whole(weeks[middle]));
    }

    #[test]
    fn miles_that_are_read_as_kilometres_and_back_are_the_same_miles(thousandths in 100..250_000_i32) {
        let miles = Milli(thousandths);
        let there = Distance::from_milli(miles, DistanceUnit::Mi);
        prop_assert_eq!(there.in_unit(DistanceUnit::Mi), miles);
        let km = there.as_km();
        prop_assert!((km - miles.as_f64() * 1.609_344).abs() < 1e-5);
    }

    #[test]
    fn a_range_is_a_range_however_it_is_written(low in 1..40_i32, width in 1..20_i32) {
        let high = low + width;
        let expected = Amount::between(Milli::whole(low), Milli::whole(high), Unit::Km);
        for dash in ["-", "\u{2013}", " - "] {
            prop_assert_eq!(read_amount(&format!("{low}{dash}{high}"), Km), Ok(expected));
        }
        let day = read_day(&format!("{low}-{high} km"), Km).expect("a day");
        prop_assert_eq!(day[0].chosen().running(), Some(expected));
        prop_assert_eq!(read_day(&write_day(&day), Mi), Ok(day));
    }
}

#[test]
fn a_week_in_miles_before_a_course_in_kilometres() {
    let typed = runner(Mi, Marathon, "- | 5 | tempo 8, hard 3 | - | 6 | 5 | long 16");
    let running = typed.week.running();
    assert_eq!(running.of(Unit::Mi).middle(), Milli::whole(40));
    assert!((running.middle_km(Pace::ASSUMED) - 64.37).abs() < 0.01);
    let in_km = running.estimate(Unit::Km, Pace::ASSUMED);
    let days: f64 = typed
        .week
        .sessions()
        .filter_map(|(_, session)| session.running())
        .map(|amount| planning::Totals::from_iter([amount]).estimate(Unit::Km, Pace::ASSUMED).middle().as_f64())
        .sum();
    assert!((in_km.middle().as_f64() - days).abs() < 0.01, "days add up to the total in either unit");
    // Whatever page shows kilometres, the plan stays in the miles that were typed.
    let block = typed.block();
    assert!(sessions(&block).filter_map(|(_, session)| session.running()).all(|amount| amount.unit() == Unit::Mi));
    assert_eq!(Marathon.distance().in_unit(Mi), Milli(26_219));
    assert_eq!(Half.distance().in_unit(Km), Milli(21_098));
    assert_eq!(Half.distance().as_millimetres(), 21_097_500);
    // The same course typed by its length takes the same rules.
    let own = RaceDistance::Own(Milli(42_195), Km);
    assert_eq!((own.distance(), own.event()), (Marathon.distance(), Marathon.event()));
}

#[test]
fn ranges_are_planned_from_their_middle_and_stay_ranges() {
    let ranges = runner(Km, Marathon, "- | 9-11 | - | tempo 10-13, hard 4 | - | 7-9 | long 26-32").days(14);
    let running = ranges.week.running().of(Unit::Km);
    assert_eq!((running.low(), running.middle(), running.high()), (Milli::whole(52), Milli(58_500), Milli::whole(65)));
    let block = ranges.block();
    within(sum(&block, 7..=13, Unit::Km), 32.0, 44.0, &block);
    let week = block.weeks().into_iter().find(|week| week.before == 1).expect("a week").planned.of(Unit::Km);
    within(week.low().as_f64(), 29.0, 44.0, &block);
    within(week.high().as_f64(), 32.0, 49.0, &block);
    for distance in [FiveK, TenK, Half, Marathon] {
        let mut other = ranges.clone();
        other.race.distance = distance;
        for other in other.on_every_weekday() {
            let block = other.block();
            for (_, session) in sessions(&block) {
                let Some(amount) = session.running() else { continue };
                assert!(amount.low() <= amount.middle() && amount.middle() <= amount.high(), "{}", show(&block));
            }
        }
    }
}

#[test]
fn a_week_with_a_range_of_its_own_keeps_it_narrow_in_the_block() {
    let typed = runner(Km, Marathon, "- | 9-11 | - | tempo 10-13, hard 4 | - | 7-9 | long 26-32").days(14);
    let with = |low: i32, high: i32| {
        let range = Amount::between(Milli::whole(low), Milli::whole(high), Unit::Km);
        let days = WEEKDAYS.map(|weekday| typed.week.day(weekday).to_vec());
        planning::BaseWeek::new(days, Some(range))
    };
    let added_up = typed.block();
    for other in typed.on_every_weekday() {
        let free = other.block();
        let days = WEEKDAYS.map(|weekday| other.week.day(weekday).to_vec());
        let range = Amount::between(Milli::whole(55), Milli::whole(61), Unit::Km);
        let narrow = super::runner::Runner { week: planning::BaseWeek::new(days, Some(range)), ..other }.block_as_is();
        assert_eq!(narrow.days, free.days, "a range of the week changes no day");
        for (week, before) in narrow.weeks().iter().zip(free.weeks()) {
            let (now, sum) = (week.planned.of(Unit::Km), before.planned.of(Unit::Km));
            assert_eq!(week.usual.of(Unit::Km), range);
            assert!(sum.low() <= now.low() && now.high() <= sum.high(), "{now} in {sum}");
            assert!(!sum.is_range() || now.high() - now.low() < sum.high() - sum.low(), "{now} in {sum}");
            assert_eq!(week.share, before.share);
            let share = now.middle().as_f64() / 58.0;
            assert!((share - week.share.0).abs() < 0.02, "{share} for {:?}", week.share);
        }
    }
    // Of a range that reaches beyond the days what the days allow is meant.
    for (low, high, least, most) in [(48, 60, 52, 60), (62, 70, 62, 65)] {
        let beyond = super::runner::Runner { week: with(low, high), ..typed.clone() };
        let meant = Amount::between(Milli::whole(least), Milli::whole(most), Unit::Km);
        let weeks = beyond.block_as_is().weeks();
        assert!(weeks.iter().all(|week| week.usual.of(Unit::Km) == meant), "{low} to {high}");
    }
    // What the days add up to says nothing new, and what lies outside of it cannot be meant.
    for (low, high) in [(52, 65), (30, 40), (50, 70)] {
        let same = super::runner::Runner { week: with(low, high), ..typed.clone() };
        assert_eq!(same.block_as_is().weeks(), added_up.weeks(), "{low} to {high}");
    }
}
