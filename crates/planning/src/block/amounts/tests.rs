use proptest::prelude::*;

use super::*;
use crate::notation::{read_day, write_day};
use crate::units::DistanceUnit;
use crate::week::Slot;

fn session(line: &str) -> Session {
    read_day(line, DistanceUnit::Km).expect(line)[0].chosen().clone()
}

fn amount(text: &str) -> Amount {
    session(text).amount.expect(text)
}

/// What may be written between two bounds: the numbers alone.
fn written(usual: &str, lower: f64, upper: f64) -> String {
    let usual = amount(usual);
    let unit = format!(" {}", usual.unit().symbol());
    let found = choices(usual, Milli::nearest(lower), Milli::nearest(upper));
    found.iter().map(|amount| amount.to_string().replace(&unit, "")).collect::<Vec<_>>().join(" ")
}

#[test]
fn kilometres_are_written_in_halves_up_to_five_then_whole() {
    assert_eq!(written("8 km", 0.0, 8.0), "0.5 1 1.5 2 2.5 3 3.5 4 4.5 5 6 7 8");
    assert_eq!(written("12 km", 9.0, 12.0), "9 10 11 12");
}

#[test]
fn miles_are_written_in_halves_up_to_four_then_whole() {
    assert_eq!(written("6 mi", 2.5, 6.0), "2.5 3 3.5 4 5 6");
}

#[test]
fn minutes_are_written_by_fives() {
    assert_eq!(written("50 min", 25.0, 50.0), "25 30 35 40 45 50");
}

#[test]
fn a_cut_is_at_least_1_km_half_a_mile_5_minutes_or_none() {
    assert_eq!(written("7.4 km", 5.0, 7.4), "5 6 7.4");
    assert_eq!(written("4.5 km", 3.0, 4.5), "3 3.5 4.5");
    assert_eq!(written("4.4 mi", 3.0, 4.4), "3 3.5 4.4");
    assert_eq!(written("4.5 mi", 3.0, 4.5), "3 3.5 4 4.5");
    assert_eq!(written("53 min", 40.0, 53.0), "40 45 53");
}

#[test]
fn the_usual_is_written_as_typed_and_only_inside_the_bounds() {
    assert_eq!(written("7.25 km", 6.0, 7.25), "6 7.25");
    assert_eq!(written("7.25 km", 5.0, 7.0), "5 6");
}

#[test]
fn where_the_bounds_leave_nothing_the_next_below_is_taken() {
    assert_eq!(written("8 km", 5.2, 5.8), "5");
    assert_eq!(written("8 km", 0.1, 0.3), "0.5");
    assert_eq!(written("0.8 km", 0.1, 0.3), "0.8");
    assert_eq!(written("7.5 km", 7.0, 7.2), "6");
}

#[test]
fn a_range_keeps_its_width_in_proportion() {
    // 2 km wide at 12: 1 km wide from 6 to 9, and one number below 6, where it would be under 1 km wide.
    assert_eq!(written("11-13 km", 4.0, 12.0), "4 4.5 5 6 6-7 7-8 8-9 8-10 9-11 10-12 11-13");
    assert_eq!(written("40-50 min", 20.0, 45.0), "20 20-25 25-30 30-35 30-40 35-45 40-50");
    assert_eq!(written("6-7 mi", 3.0, 6.5), "3 3.5 4 5 6 6-7");
}

#[test]
fn the_nearest_amount_is_the_smaller_of_equals_and_never_above_the_usual() {
    let nearest = |usual: &str, wanted: f64| nearest(amount(usual), Milli::nearest(wanted)).to_string();
    assert_eq!(nearest("10 km", 6.4), "6 km");
    assert_eq!(nearest("10 km", 6.5), "6 km");
    assert_eq!(nearest("10 km", 6.6), "7 km");
    assert_eq!(nearest("10 km", 9.5), "9 km");
    assert_eq!(nearest("10 km", 9.6), "10 km");
    assert_eq!(nearest("10 km", 20.0), "10 km");
    assert_eq!(nearest("10 km", 0.0), "0.5 km");
    assert_eq!(nearest("11-13 km", 7.5), "7-8 km");
    assert_eq!(nearest("30 min", 13.0), "15 min");
}

#[test]
fn rounding_up_lands_on_a_written_value() {
    let up = |value: f64, unit| round_up(Milli::nearest(value), unit).as_f64();
    for (value, rounded) in [(0.0, 0.0), (3.0, 3.0), (3.001, 3.5), (5.0, 5.0), (5.1, 6.0), (7.2, 8.0)] {
        assert!((up(value, Unit::Km) - rounded).abs() < 1e-9, "{value}");
    }
    for (value, rounded) in [(3.6, 4.0), (4.1, 5.0)] {
        assert!((up(value, Unit::Mi) - rounded).abs() < 1e-9, "{value}");
    }
    assert!((up(21.0, Unit::Min) - 25.0).abs() < 1e-9);
}

proptest! {
    #[test]
    fn no_two_neighbouring_choices_lie_more_than_a_step_apart(
        low in 1_500..120_000_i32,
        width in prop_oneof![Just(0), 500..20_000_i32],
        unit in prop::sample::select(&Unit::ALL[..]),
    ) {
        let times = if unit == Unit::Min { 5 } else { 1 };
        let usual = Amount::between(Milli(low * times), Milli((low + width.min(low)) * times), unit);
        let found = choices(usual, Milli::ZERO, usual.middle());
        prop_assert!(found.is_sorted_by(|a, b| a.middle() < b.middle()), "{usual}: {found:?}");
        prop_assert_eq!(found.last(), Some(&usual));
        // The usual itself stands apart by the least cut and what is left of a step.
        for pair in found[..found.len() - 1].windows(2) {
            let apart = pair[1].middle() - pair[0].middle();
            prop_assert!(apart.0 <= coarse_step(unit), "{usual}: {} and {}", pair[0], pair[1]);
        }
        if let [.., before, _] = &found[..] {
            let apart = usual.middle() - before.middle();
            prop_assert!(apart.0 <= least_cut(unit).0 + coarse_step(unit), "{usual}: {before}");
        }
        for amount in &found {
            let wanted = f64::from(usual.high().0 - usual.low().0) * amount.middle().as_f64() / usual.middle().as_f64();
            let off = f64::from(amount.high().0 - amount.low().0) - wanted;
            prop_assert!(off.abs() <= f64::from(coarse_step(unit)) + 1.0, "{usual}: {amount}");
            prop_assert!(amount.high() <= usual.high(), "{usual}: {amount}");
        }
    }
}

/// The hard part at a share, in words.
fn hard(line: &str, share: f64) -> String {
    hard_part(&session(line), Share(share)).map_or_else(|| "none".to_owned(), |hard| hard.to_string())
}

#[test]
fn a_hard_part_is_written_in_halves_or_whole_minutes() {
    assert_eq!(hard("tempo 10, hard 5", 0.5), "2.5 km");
    assert_eq!(hard("tempo 10, hard 5", 1.0 / 3.0), "1.5 km");
    assert_eq!(hard("tempo 10 mi, hard 3 mi", 0.6), "2 mi");
    assert_eq!(hard("tempo 70 min, hard 25 min", 0.5), "13 min");
    assert_eq!(hard("tempo 10, hard 3-4", 0.5), "1.5-2 km");
}

#[test]
fn a_hard_part_is_at_least_a_half_and_never_above_the_usual() {
    assert_eq!(hard("tempo 10, hard 0.6", 0.3), "0.5 km");
    assert_eq!(hard("tempo 10, hard 0.4", 0.5), "0.4 km");
    assert_eq!(hard("tempo 10, hard 5", 1.0), "5 km");
    assert_eq!(hard("tempo 10, hard 5", 2.0), "5 km");
}

#[test]
fn where_none_is_given_the_kinds_part_is_cut() {
    assert_eq!(hard("tempo 10", 0.5), "2.5 km");
    assert_eq!(hard("intervals 10", 0.5), "2 km");
    assert_eq!(hard("hills 10", 0.5), "1.5 km");
    assert_eq!(hard("easy 10", 0.5), "none");
}

#[test]
fn where_repetitions_say_the_hard_part_what_is_left_of_them_does() {
    assert_eq!(hard("6 x 800 m, 10 km", 0.5), "2.4 km");
    assert_eq!(hard("5 x 3 min, 50 min", 0.5), "9 min");
    // Minutes in a run of kilometres are weighed at the assumed pace, whatever the kind, and distances in minutes too.
    assert_eq!(hard("6 x 2 min, 10 km", 0.5), "1.2 km");
    assert_eq!(hard("6 x 2 min, 6.5 mi", 0.5), "0.746 mi");
    assert_eq!(hard("6 x 800 m, 60 min", 0.5), "12 min");
    assert_eq!(hard("5 x 1000 m, 12 km, hard 6", 0.5), "3.5 km");
}

/// A session with its hard part cut to a share, as a coach would write it.
fn shortened(line: &str, share: f64, says_hard: SaysHard) -> String {
    let usual = session(line);
    let mut shorter = usual.clone();
    shorten_hard(&mut shorter, &usual, Share(share), says_hard);
    write_day(&[Slot::one(shorter)])
}

fn half(line: &str) -> String {
    shortened(line, 0.5, SaysHard::Always)
}

#[test]
fn repetitions_go_and_their_length_pace_and_recovery_stay() {
    assert_eq!(half("6 x 800 m 10k pace, 90 s jog, 12 km"), "3 x 800 m 10k pace, 90 s jog, 12 km");
    assert_eq!(half("5 x 1000 m, 12 km"), "3 x 1000 m, 12 km");
    assert_eq!(half("1 x 400 m, 6 x 200 m, 8 km"), "1 x 400 m, 3 x 200 m, 8 km");
    assert_eq!(shortened("8 x 400 m, 10 km", 1.0 / 3.0, SaysHard::Always), "3 x 400 m, 10 km");
    assert_eq!(shortened("2 x 3 km, 12 km", 0.1, SaysHard::Always), "1 x 3 km, 12 km");
}

#[test]
fn a_list_of_single_repetitions_loses_its_last() {
    assert_eq!(half("1 x 400 m, 1 x 800 m, 1 x 1200 m, 1 x 800 m, 10 km"), "1 x 400 m, 1 x 800 m, 10 km");
    assert_eq!(half("1 x 400 m, 1 x 800 m, 1 x 400 m, 10 km"), "1 x 400 m, 1 x 800 m, 10 km");
}

#[test]
fn one_single_repetition_becomes_shorter() {
    assert_eq!(half("1 x 20 min threshold, 60 min"), "1 x 10 min threshold, 60 min");
    assert_eq!(half("1 x 5 km, 12 km"), "1 x 2.5 km, 12 km");
    assert_eq!(half("1 x 3000 m, 10 km"), "1 x 1500 m, 10 km");
    assert_eq!(half("1 x 45 s, 30 min"), "1 x 20 s, 30 min");
    assert_eq!(shortened("1 x 1 km, 8 km", 0.1, SaysHard::Always), "1 x 0.5 km, 8 km");
}

#[test]
fn in_full_weeks_seven_tenths_of_the_repetitions_stay() {
    let at = |line: &str, share: f64| shortened(line, share, SaysHard::AsUsual);
    assert_eq!(at("6 x 800 m, 10 km", 0.70), "5 x 800 m, 10 km");
    assert_eq!(at("10 x 400 m, 10 km", 0.70), "7 x 400 m, 10 km");
    assert_eq!(at("6 x 800 m, 10 km", 0.69), "4 x 800 m, 10 km");
}

#[test]
fn a_hard_part_that_the_coach_left_open_is_written_only_where_it_is_no_longer_the_kinds() {
    assert_eq!(shortened("tempo 10", 0.5, SaysHard::AsUsual), "tempo 10 km");
    assert_eq!(shortened("tempo 10", 0.5, SaysHard::Always), "tempo 10 km, hard 2.5 km");
    assert_eq!(shortened("tempo 10, hard 4", 0.5, SaysHard::AsUsual), "tempo 10 km, hard 2 km");
    assert_eq!(shortened("6 x 2 min, 10 km", 0.5, SaysHard::Always), "3 x 2 min, 10 km", "the repetitions say it");
}

#[test]
fn a_hard_part_fits_into_its_session() {
    let usual = session("tempo 10, hard 8");
    let mut shorter = Session { amount: Some(amount("3 km")), ..usual.clone() };
    shorten_hard(&mut shorter, &usual, Share(0.5), SaysHard::Always);
    assert_eq!(write_day(&[Slot::one(shorter)]), "tempo 3 km, hard 3 km");
}

fn any_amount() -> impl Strategy<Value = Amount> {
    let unit = prop_oneof![Just(Unit::Km), Just(Unit::Mi), Just(Unit::Min)];
    (unit, 1..400_i32, prop_oneof![Just(0), 1..60_i32]).prop_map(|(unit, low, width)| {
        let step = if unit == Unit::Min { 500 } else { 100 };
        Amount::between(Milli(low * step), Milli((low + width) * step), unit)
    })
}

fn is_on_the_grid(value: Milli, unit: Unit) -> bool {
    let (fine, coarse, halves_until) = match unit {
        Unit::Km => (500, 1_000, 5_000),
        Unit::Mi => (500, 1_000, 4_000),
        Unit::Min => (5_000, 5_000, 0),
    };
    value.0 > 0 && value.0 % if value.0 <= halves_until { fine } else { coarse } == 0
}

proptest! {
    #[test]
    fn choices_are_written_values_in_order_or_the_usual(usual in any_amount(), from in 0.0..1.0_f64, to in 0.0..1.0_f64) {
        let (lower, upper) = (usual.middle().times(Share(from.min(to))), usual.middle().times(Share(from.max(to))));
        let found = choices(usual, lower, upper);
        prop_assert!(!found.is_empty());
        prop_assert!(found.windows(2).all(|pair| pair[0].middle() < pair[1].middle()), "{found:?}");
        for amount in &found {
            prop_assert_eq!(amount.unit(), usual.unit());
            if *amount == usual {
                continue;
            }
            prop_assert!(is_on_the_grid(amount.low(), usual.unit()) && is_on_the_grid(amount.high(), usual.unit()));
            prop_assert!(amount.middle() + least_cut(usual.unit()) <= usual.middle(), "{amount} of {usual}");
            prop_assert!(amount.high() <= usual.high(), "{amount} of {usual}");
        }
        if found.len() > 1 {
            prop_assert!(found.iter().all(|amount| (lower..=upper).contains(&amount.middle())));
        }
    }

    #[test]
    fn the_usual_is_always_a_choice_where_nothing_bounds_it(usual in any_amount()) {
        prop_assert_eq!(choices(usual, Milli::ZERO, usual.middle()).pop(), Some(usual));
        prop_assert_eq!(nearest(usual, usual.middle()), usual);
    }
}

#[test]
fn repetitions_fit_into_their_session() {
    let usual = session("5 x 1 km, 6 km");
    let in_km = |km: &str, line: &str| {
        let usual = session(line);
        let mut shorter = Session { amount: Some(amount(km)), ..usual.clone() };
        shorten_hard(&mut shorter, &usual, Share(0.7), SaysHard::AsUsual);
        write_day(&[Slot::one(shorter)])
    };
    assert_eq!(usual.hard_middle(), Milli::whole(5));
    assert_eq!(in_km("4 km", "5 x 1 km, 6 km"), "4 x 1 km, 4 km");
    assert_eq!(in_km("3.5 km", "5 x 1 km, 6 km"), "3 x 1 km, 3.5 km");
    assert_eq!(in_km("2 km", "1 x 1 km, 1 x 2 km, 1 x 1 km, 6 km"), "1 x 1 km, 2 km");
}

#[test]
fn a_session_that_is_said_not_to_be_hard_keeps_its_repetitions() {
    assert_eq!(half("easy 8, 6 x 100 m, hard 0"), "easy 8 km, 6 x 100 m, hard 0 km");
}

#[test]
fn a_hard_part_that_is_kept_fits_its_session_at_both_ends() {
    for (line, kept) in [
        ("hills 10", "3 km"),
        ("hills 8-12", "3 km"),
        ("hills 1-9", "1-1.5 km"),
        ("hills 1.2-2.4, 6 x 400 m", "1.2-1.8 km"),
        ("hills 10, hard 4", "4 km"),
    ] {
        let mut session = session(line);
        keep_hard_part(&mut session);
        assert_eq!(session.hard.map(|hard| hard.to_string()).as_deref(), Some(kept), "{line}");
        session.kind = crate::session::Kind::Intervals;
        assert_eq!(session.problems(), [], "{line}");
    }
}
