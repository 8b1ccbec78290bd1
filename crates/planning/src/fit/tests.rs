use proptest::prelude::*;

use super::*;
use crate::notation::{read_second_week, read_week, write_day};
use crate::units::Pace;

fn median(text: &str) -> String {
    match typical(text, Unit::Km) {
        Ok(typical) => format!("{} {} of {}", typical.median, typical.unit.symbol(), typical.weeks),
        Err(problem) => format!("{problem:?}"),
    }
}

#[test]
fn the_middle_week_is_typical_not_the_highest_and_not_the_lowest() {
    let found = typical("58, 62, 47, 68, 60, 61", Unit::Mi).unwrap();
    assert_eq!((found.weeks, found.unit), (6, Unit::Mi));
    assert_eq!((found.median, found.least, found.most), (Milli(60_500), Milli::whole(47), Milli::whole(68)));
    assert_eq!(median("58, 62, 47, 68, 60"), "60 km of 5");
    assert_eq!(median("42"), "42 km of 1");
    assert_eq!(median("12, 60, 61, 62, 160"), "61 km of 5", "one week of illness and one of folly");
}

#[test]
fn weeks_are_parted_as_people_part_them() {
    for text in ["58,62,47", "58, 62, 47", "58 62 47", "58; 62; 47", " 58km, 62 km ,47km, ", "58\n62\t47"] {
        assert_eq!(median(text), "58 km of 3", "{text}");
    }
    assert_eq!(median("58,5 62,5"), "60.5 km of 2", "decimal commas");
    assert_eq!(median("58.5, 62.5"), "60.5 km of 2");
    assert_eq!(median("45-60"), "52.5 km of 1", "the middle of a range");
    assert_eq!(median("300 min, 335 min"), "317.5 min of 2");
}

#[test]
fn what_is_no_list_of_weeks_is_refused_with_the_text() {
    assert_eq!(median(" , "), "Missing");
    for junk in ["lots", "58, many", "58 furlongs", "-5, 58", "1e3"] {
        assert!(typical(junk, Unit::Km).is_err(), "{junk}");
    }
    assert_eq!(
        typical("58 km, 40 mi", Unit::Km),
        Err(ProblemKind::Unreadable { text: "58 km, 40 mi".into(), expected: Expected::OneUnit })
    );
    assert!(matches!(typical(&"50 ".repeat(27), Unit::Km), Err(ProblemKind::TooManyWeeks { count: 27, most: 26 })));
    assert!(typical(&"50 ".repeat(26), Unit::Km).is_ok());
}

fn week(lines: [&str; 7]) -> BaseWeek {
    read_week(&lines, "", DistanceUnit::Km).unwrap()
}

fn lines(week: &SevenDays) -> Vec<String> {
    WEEKDAYS.into_iter().map(|weekday| write_day(week.day(weekday))).filter(|line| line != "rest").collect()
}

fn km(total: i32) -> Amount {
    Amount::exact(Milli::whole(total), Unit::Km)
}

#[test]
fn a_week_is_scaled_to_values_that_a_coach_would_write() {
    let usual = week(["", "6 x 800 m, 10", "7", "tempo 8, hard 4", "strength 30", "7-9", "long 16"]);
    let more = scaled_to(&usual, km(60), None);
    assert_eq!(
        lines(more.first()),
        ["7 x 800 m, 12 km", "easy 8 km", "tempo 10 km, hard 5 km", "strength 30 min", "easy 9-11 km", "long 20 km"]
    );
    assert_eq!(more.running().of(Unit::Km).middle(), Milli::whole(60));
    let less = scaled_to(&usual, km(30), None);
    assert_eq!(
        lines(less.first())[..4],
        ["4 x 800 m, 6 km", "easy 4 km", "tempo 5 km, hard 2.5 km", "strength 30 min"]
    );
    assert!((less.running().of(Unit::Km).middle() - Milli::whole(30)).0.abs() <= 500, "as near as written values come");
    assert_eq!(scaled_to(&usual, km(49), None), usual, "it is that already");
    assert_eq!(scaled_to(&usual, km(0), None), usual);
    assert_eq!(scaled_to(&BaseWeek::default(), km(50), None), BaseWeek::default());
}

#[test]
fn a_total_is_met_by_itself_not_by_what_each_run_was_rounded_to() {
    // 84.501 km lie nearer to 85 than to 84; the shares of the six runs, each rounded, add up to a metre less.
    let usual = week(["13.163", "4.401", "18.113", "4.439", "13.687", "14.897", ""]);
    let scaled = scaled_to(&usual, Amount::exact(Milli(84_501), Unit::Km), None);
    assert_eq!(scaled.running().of(Unit::Km).middle(), Milli::whole(85));
}

#[test]
fn of_two_weeks_the_mean_is_scaled_and_minutes_stay_minutes() {
    let second =
        read_second_week(&["", "5", "", "5", "", "", "50 min"], "2027-05-03".parse().unwrap(), DistanceUnit::Km);
    let usual = week(["", "8", "", "8", "", "", "90 min"]).taking_turns(second.ok());
    let pace = Pace::new(360, DistanceUnit::Km).ok();
    let now = usual.middle_km(pace);
    let twice = scaled_to(&usual, Amount::exact(Milli::nearest(now * 2.0), Unit::Km), pace);
    assert_eq!(lines(twice.first()), ["easy 16 km", "easy 16 km", "easy 180 min"]);
    assert_eq!(lines(&twice.turns().unwrap().week), ["easy 10 km", "easy 10 km", "easy 100 min"]);
}

proptest! {
    #[test]
    fn any_scaled_week_is_a_good_one_near_its_total(
        sizes in prop::collection::vec((2_000..30_000_i32, any::<bool>()), 1..7), percent in 40..220_i32,
    ) {
        let mut days: [Vec<Slot>; 7] = Default::default();
        for (day, (size, hard)) in days.iter_mut().zip(&sizes) {
            let kind = if *hard { crate::Kind::Tempo } else { crate::Kind::Easy };
            day.push(Slot::one(Session::new(kind, Amount::exact(Milli(*size), Unit::Km))));
        }
        let usual = BaseWeek::new(days, None);
        let wanted = Milli(usual.running().of(Unit::Km).middle().0 / 100 * percent);
        let scaled = scaled_to(&usual, Amount::exact(wanted, Unit::Km), None);
        prop_assert!(scaled.problems().is_empty());
        prop_assert_eq!(scaled.running_days(), usual.running_days());
        let off = (scaled.running().of(Unit::Km).middle() - wanted).0.abs();
        prop_assert!(off <= 500 || scaled == usual, "{off}");
    }
}
