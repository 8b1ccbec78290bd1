//! Lines as coaches write them, and any line at all.

use chrono::Weekday;
use proptest::prelude::*;

use super::{read_amount, read_day, read_distance, read_pace, read_week, write_day};
use crate::problem::{Expected, Field, ProblemKind};
use crate::race::RaceDistance;
use crate::session::{Kind, Session, SetUnit, Sets};
use crate::units::{Amount, DistanceUnit, Milli, Unit};
use crate::week::Slot;

/// The canonical form of a line of an athlete who thinks in kilometres.
fn km(line: &str) -> String {
    match read_day(line, DistanceUnit::Km) {
        Ok(day) => write_day(&day),
        Err(problems) => panic!("{line}: {problems:?}"),
    }
}

fn problems(line: &str) -> Vec<ProblemKind> {
    read_day(line, DistanceUnit::Km).expect_err(line)
}

fn refused(line: &str, text: &str, expected: Expected) {
    assert_eq!(problems(line), [ProblemKind::Unreadable { text: text.to_owned(), expected }], "{line}");
}

#[test]
fn rest_is_rest_in_every_spelling() {
    for line in ["", "  ", "rest", "Rest", "REST", "-", "–", "—", "off", "rest day", "\u{a0}", "Rest.", "--"] {
        assert_eq!(read_day(line, DistanceUnit::Km), Ok(Vec::new()), "{line:?}");
    }
    assert_eq!(write_day(&[]), "rest");
    assert_eq!(km("rest + strength 30"), "strength 30 min");
}

#[test]
fn a_bare_number_is_easy_in_the_athletes_unit() {
    assert_eq!(km("7"), "easy 7 km");
    assert_eq!(write_day(&read_day("7", DistanceUnit::Mi).unwrap()), "easy 7 mi");
    assert_eq!(km("50 min"), "easy 50 min");
}

#[test]
fn lines_of_the_trade_are_read() {
    for (line, canonical) in [
        ("6 x 800 m 10k pace, 10 km", "6 x 800 m 10k pace, 10 km"),
        ("6 x 800 m 10k pace, 90 s jog, 10 km", "6 x 800 m 10k pace, 90 s jog, 10 km"),
        ("6 x 800 m (90 s jog), 10 km", "6 x 800 m, 90 s jog, 10 km"),
        ("6 x 800 m 90 s jog, 10 km", "6 x 800 m, 90 s jog, 10 km"),
        ("6 x 800 m @ 10k pace with 90 s jog, 10", "6 x 800 m 10k pace, 90 s jog, 10 km"),
        ("6 x 800 m 10k pace, rec 90 s, 10", "6 x 800 m 10k pace, recovery \"90 s\", 10 km"),
        ("6x800m,10 km", "6 x 800 m, 10 km"),
        ("8×400, 9", "8 x 400 m, 9 km"),
        ("3 x 1,500 m, 10", "3 x 1500 m, 10 km"),
        ("3 x 10 min threshold, 2 min jog, 70 min", "3 x 10 min threshold, 2 min jog, 70 min"),
        ("tempo 3 x 10 min, 70 min", "tempo 70 min, 3 x 10 min"),
        ("4 x 1:30, 50 min", "4 x 90 s, 50 min"),
        ("4 x 1'30, 50 min", "4 x 90 s, 50 min"),
        ("4 x 3', 50'", "4 x 3 min, 50 min"),
        ("10 x 30\", 50 min", "10 x 30 s, 50 min"),
        ("4 x 2 min 30 s hard, 50 min", "4 x 150 s hard, 50 min"),
        ("2 x 1 km, 3 x 400 m recovery, 9", "2 x 1 km, 3 x 400 m recovery, 9 km"),
        ("hills 8 x 60 s, 9", "hills 9 km, 8 x 60 s"),
        ("8 x 60 s uphill, 9", "8 x 60 s uphill, 9 km"),
        ("hill reps 8 x 60 s, 9", "hills 9 km, 8 x 60 s"),
        ("3 x 1 km 10k pace, 4 x 200 m mile pace, 12 km", "3 x 1 km 10k pace, 4 x 200 m mile pace, 12 km"),
        ("5 + strength 30", "easy 5 km + strength 30 min"),
        ("5+gym", "easy 5 km + strength"),
        ("strength 40 loaded", "strength 40 min loaded"),
        ("gym 40 with loaded legs", "strength 40 min loaded"),
        ("mobility", "mobility"),
        ("cross-training 45 min (bike)", "cross-training 45 min (bike)"),
        ("bike 45", "cross-training 45 min (bike)"),
        ("swim 2 km", "cross-training 2 km (swim)"),
        ("long 30, hard 14", "long 30 km, hard 14 km"),
        ("long 26-32 km, hard 14 race pace", "long 26-32 km, hard 14 km (race pace)"),
        ("lr 30 with 14 km hard", "long 30 km, hard 14 km"),
        ("long run 20 mi, hard 8", "long 20 mi, hard 8 mi"),
        ("30 km long", "long 30 km"),
        ("tempo 9-10 km, hard 4.5-5", "tempo 9-10 km, hard 4.5-5 km"),
        ("7 incl. 3 tempo", "tempo 7 km, hard 3 km"),
        ("10, hard 4", "tempo 10 km, hard 4 km"),
        ("tempo 10 or hills 9", "tempo 10 km or hills 9 km"),
        ("tempo or hills 9", "tempo 9 km or hills 9 km"),
        ("race pace 12 km, hard 6", "race pace 12 km, hard 6 km"),
        ("race-pace 12, hard 6", "race pace 12 km, hard 6 km"),
        ("easy 10 (flat, with Jo)", "easy 10 km (flat, with Jo)"),
        ("easy 8 with strides", "easy 8 km (with strides)"),
        ("8 + strides", "easy 8 km (with strides)"),
        ("8 + 6 strides", "easy 8 km (with 6 strides)"),
        ("8 + 6 x 100 m strides + strength 30", "easy 8 km, 6 x 100 m strides + strength 30 min"),
        ("tempo 9 or 8 + strides", "tempo 9 km (with strides) or easy 8 km (with strides)"),
        ("easy 8, 6 x 100 m strides", "easy 8 km, 6 x 100 m strides"),
        ("8, 6 x 100 m strides", "easy 8 km, 6 x 100 m strides"),
        ("easy 8 with 6 x 100 m strides", "easy 8 km, 6 x 100 m strides"),
        ("Easy Run 8 KM", "easy 8 km"),
        ("int 11, hard 5", "intervals 11 km, hard 5 km"),
        ("reps 8", "intervals 8 km"),
        ("tt 5000 m", "time trial 5 km"),
        ("threshold 9", "tempo 9 km"),
        ("rec 5", "recovery 5 km"),
        ("prog 14, hard 4", "progression 14 km, hard 4 km"),
        ("fartlek 8", "fartlek 8 km"),
        ("long 1 h 20", "long 80 min"),
        ("long 1h20", "long 80 min"),
        ("long 1:20 h", "long 80 min"),
        ("long 1:20-1:40 h", "long 80-100 min"),
        ("long 1 h - 1 h 20", "long 60-80 min"),
        ("long 50 min - 1 h", "long 50-60 min"),
        ("80min", "easy 80 min"),
        ("1.5 h", "easy 90 min"),
        ("10,5 km", "easy 10.5 km"),
        ("10,5", "easy 10.5 km"),
        ("tempo 9, hard 4", "tempo 9 km, hard 4 km"),
        ("8-10", "easy 8-10 km"),
        ("8–10", "easy 8-10 km"),
        ("8 to 10", "easy 8-10 km"),
        ("8 - 10 mi", "easy 8-10 mi"),
        ("9-11", "easy 9-11 km"),
        ("10\u{a0}km", "easy 10 km"),
        ("6\u{a0}x\u{a0}800\u{202f}m, 10", "6 x 800 m, 10 km"),
        ("7.125 km", "easy 7.125 km"),
        ("“easy” 7", "easy 7 km (easy)"),
    ] {
        assert_eq!(km(line), canonical, "{line}");
        assert_eq!(km(canonical), canonical, "{canonical}");
    }
}

#[test]
fn a_run_told_by_its_parts_is_their_sum() {
    for (line, canonical) in [
        ("2 km warm up, 6 x 800 m, 2 km cool down", "6 x 800 m, 8.8 km (2 km warm up, 2 km cool down)"),
        (
            "2 km warm-up, 6 x 800 m 10k pace, 90 s jog, 2 km cool-down",
            "6 x 800 m 10k pace, 90 s jog, 10.1 km (2 km warm-up, 2 km cool-down)",
        ),
        ("2k wu, 6x800m, 2k cd", "6 x 800 m, 8.8 km (2 km wu, 2 km cd)"),
        ("wu 2 km, 6 x 800 m, cd 2 km", "6 x 800 m, 8.8 km (2 km wu, 2 km cd)"),
        ("warm up: 2 km, 6 x 800 m, cool down: 2 km", "6 x 800 m, 8.8 km (2 km warm up, 2 km cool down)"),
        ("warm up (2 km), 6 x 800 m, cool down (2 km)", "6 x 800 m, 8.8 km (2 km warm up, 2 km cool down)"),
        ("2 km wu/cd, 6 x 800 m", "6 x 800 m, 8.8 km (2 km wu/cd)"),
        ("6 x 800 m with 2 km warm up and cool down", "6 x 800 m, 8.8 km (2 km warm up and cool down)"),
        ("2 wu + 6 x 800 m + 2 cd", "6 x 800 m, 8.8 km (2 km wu, 2 km cd)"),
        (
            "2 km warmup, 6 x 800 m, 400 m jog, 2 km warm down",
            "6 x 800 m, 400 m jog, 10.8 km (2 km warmup, 2 km warm down)",
        ),
        ("2-3 km warm up, 5 x 1 km, 2 km cool down", "5 x 1 km, 9-10 km (2-3 km warm up, 2 km cool down)"),
        (
            "15 min easy warm-up then 5 x 3 min, 10 min cool down",
            "5 x 3 min, 40 min (15 min easy warm-up, 10 min cool down)",
        ),
        (
            "15 min easy warm-up then 5 x 3 min, 2 min jog then 10 min jog cool down",
            "5 x 3 min, 2 min jog, 48 min (\"15 min easy warm-up, 10 min jog cool down\")",
        ),
        ("2 km warm up, tempo 5 km, 2 km cool down", "tempo 9 km, hard 5 km (2 km warm up, 2 km cool down)"),
        ("2 km warm up, 5 km threshold then 2 km cool down", "tempo 9 km, hard 5 km (2 km warm up, 2 km cool down)"),
        (
            "2 km warm up then 5 km at race pace, 2 km cool down, hard 5",
            "race pace 9 km, hard 5 km (2 km warm up, 2 km cool down)",
        ),
        ("tempo 5 km, 2 km cool down", "tempo 7 km, hard 5 km (2 km cool down)"),
        ("2 km warm up, fartlek 6 km, 2 km cool down", "fartlek 10 km (2 km warm up, 2 km cool down)"),
        ("2 km wu, 4 km tempo, 2 km cd + strength 30", "tempo 8 km, hard 4 km (2 km wu, 2 km cd) + strength 30 min"),
        ("10 min warm up, strength 40", "strength 50 min (10 min warm up)"),
    ] {
        assert_eq!(km(line), canonical, "{line}");
        assert_eq!(km(canonical), canonical, "{canonical}");
    }
    let miles = read_day("2 warm up, 3 x 1 mi, 1 cool down", DistanceUnit::Mi).map(|day| write_day(&day));
    assert_eq!(miles.as_deref(), Ok("3 x 1 mi, 6 mi (2 mi warm up, 1 mi cool down)"));
    let metres = read_day("2 warm up with drills, 6 x 800 m, 2 cool down", DistanceUnit::Mi).map(|day| write_day(&day));
    assert_eq!(metres.as_deref(), Ok("6 x 800 m, 7 mi (2 mi warm up with drills, 2 mi cool down)"));
}

#[test]
fn a_whole_that_is_said_goes_before_the_sum_of_the_parts() {
    for (line, canonical) in [
        ("15 min warm up, 6 x 800 m, 10 min cool down, 10 km", "6 x 800 m, 10 km (15 min warm up, 10 min cool down)"),
        ("10 km: 2 km warm up, 6 x 800 m, 2 km cool down", "6 x 800 m, 10 km (2 km warm up, 2 km cool down)"),
        ("10 km, 2 km warm up, 6 x 800 m, 2 km cool down", "6 x 800 m, 10 km (2 km warm up, 2 km cool down)"),
        ("wu, 6 x 800 m, cd, 10", "6 x 800 m, 10 km (wu, cd)"),
        ("6 x 800 m 10k pace with warm up and cool down, 10 km", "6 x 800 m 10k pace, 10 km (warm up and cool down)"),
        (
            "15 min warm up, 5 km tempo, 10 min cool down, 10 km",
            "tempo 10 km, hard 5 km (15 min warm up, 10 min cool down)",
        ),
        ("tempo 9 km incl. 2 km warm up and 2 km cool down", "tempo 9 km, hard 5 km (2 km warm up, 2 km cool down)"),
        ("tempo 9 km, hard 5, 2 km warm up", "tempo 9 km, hard 5 km (2 km warm up)"),
        // What was a note before stays one.
        ("7 with warm up", "easy 7 km (with warm up)"),
        ("easy 8 with 3 k steady then 2 km cool down", "easy 8 km (with 3 k steady then 2 km cool down)"),
        ("6 x 800 m (2 km warm up), 10 km", "6 x 800 m, 10 km (2 km warm up)"),
    ] {
        assert_eq!(km(line), canonical, "{line}");
        assert_eq!(km(canonical), canonical, "{canonical}");
    }
}

#[test]
fn parts_that_do_not_make_a_whole_are_asked_by_their_words() {
    refused("warm up, 6 x 800 m, cool down", "warm up, cool down", Expected::WholeRun);
    refused("2 km warm up, 6 x 800 m, 3 km", "2 km warm up", Expected::WholeRun);
    refused("2 km warm up, 5 km, 2 km cool down", "5 km", Expected::PartBetween);
    refused("2 km warm up", "2 km warm up", Expected::PartBetween);
    refused("15 warm up, 20 tempo, 10 cool down", "20 tempo", Expected::UnitOfRun);
    refused("tempo 9 km, 2 km warm up, 2 km cool down", "tempo 9 km", Expected::PartsInOrder);
}

#[test]
fn the_inside_of_a_session_is_kept_as_said() {
    let day = read_day("6 x 800 m 10k pace, 90 s jog, 10 km", DistanceUnit::Mi).unwrap();
    let session = day[0].chosen();
    assert_eq!(session.kind, Kind::Intervals);
    assert_eq!(session.amount, Some(Amount::exact(Milli::whole(10), Unit::Km)));
    assert_eq!(
        session.sets,
        [Sets {
            reps: 6,
            length: Milli::whole(800),
            unit: SetUnit::M,
            pace: "10k pace".to_owned(),
            recovery: "90 s jog".to_owned(),
        }]
    );
}

#[test]
fn what_cannot_be_read_is_quoted() {
    refused("1e3", "1e3", Expected::Unit);
    refused("7 furlongs", "furlongs", Expected::Unit);
    refused("7furlongs", "7furlongs", Expected::Unit);
    refused("8 m", "8 m", Expected::Unit);
    refused("frolic 7", "frolic 7", Expected::SessionKind);
    refused("easy 7 blue", "blue", Expected::Unit);
    refused("easy 7 km blue", "blue", Expected::Part);
    refused("easy blue", "blue", Expected::Part);
    refused("8-3-4", "8-3-4", Expected::Amount);
    refused("8-", "8-", Expected::Amount);
    refused("1.2.3", "1.2.3", Expected::Number);
    refused("7.12345", "7.12345", Expected::Number);
    refused("123456789 km", "123456789", Expected::Number);
    refused("1:75 h", "1:75", Expected::Number);
    refused("easy 5:30", "5:30", Expected::Duration);
    refused("4:30", "4:30", Expected::Duration);
    refused("8 km - 9 mi", "8 km - 9 mi", Expected::Unit);
    refused("6 x", "6 x", Expected::Sets);
    refused("6 x 3 threshold, 10", "6 x 3 threshold", Expected::Sets);
    refused("5-6 x 800 m, 10", "x 800 m", Expected::Sets);
    refused("long 30, hard", "", Expected::HardPart);
    refused("long 30, hard 5, hard 6", "6", Expected::OneHardPart);
    refused("easy 5, hills", "hills", Expected::OneKind);
    refused("5, 6", "6", Expected::OneAmount);
    refused("5 +", "5 +", Expected::Session);
    refused("5 or", "5 or", Expected::Session);
    refused("(flat)", "flat", Expected::Session);
    refused("easy 7 (flat", "(flat", Expected::Bracket);
    refused("easy 7)", "easy 7)", Expected::Bracket);
    refused("easy 7 \"flat", "\"flat", Expected::Quote);
    refused("5 or rest", "5 or rest", Expected::RestOrRun);
}

#[test]
fn amounts_out_of_bounds_are_told_by_their_numbers() {
    assert_eq!(problems("-5 km"), [ProblemKind::Negative { value: Milli::whole(-5) }]);
    assert_eq!(
        problems("500 km"),
        [ProblemKind::TooMuch { value: Milli::whole(500), most: Milli::whole(400), unit: Unit::Km }]
    );
    assert_eq!(problems("10-8"), [ProblemKind::LowAboveHigh { low: Milli::whole(10), high: Milli::whole(8) }]);
}

#[test]
fn every_problem_of_a_line_is_found() {
    assert_eq!(problems("7 furlongs, hard + frolic").len(), 3);
}

#[test]
fn a_week_collects_the_problems_of_all_days() {
    let lines = ["7", "frolic", "rest", "5 + 6 x 800 m", "10, hard 12", "", "long 20"];
    let found = read_week(&lines, "60-50", DistanceUnit::Km).expect_err("four faults");
    let at: Vec<_> = found.iter().map(|problem| problem.at.clone()).collect();
    assert_eq!(
        at,
        [
            Field::Session(Weekday::Tue, 0),
            Field::WeekRange,
            Field::Session(Weekday::Thu, 1),
            Field::Session(Weekday::Fri, 0),
        ]
    );
    let week = read_week(&["7", "", "", "8", "", "", "long 20"], "30-40", DistanceUnit::Mi).expect("a week");
    assert_eq!(week.range(), Amount::checked(Milli::whole(30), Milli::whole(40), Unit::Mi).ok());
    assert_eq!(week.running_days(), 3);
}

#[test]
fn a_mark_alone_in_a_note_says_nothing_of_what_stands_behind_that_note() {
    let easy = |note: &str| {
        let amount = Amount::exact(Milli::whole(5), Unit::Mi);
        Slot::one(Session { note: note.to_owned(), ..Session::new(Kind::Easy, amount) })
    };
    for (first, second) in [("go \"\"\"", "1m("), ("say \"go", "then 2m (hills"), ("5 \" apart", "3m \" apart")] {
        let day = vec![easy(first), easy(second)];
        let line = write_day(&day);
        for units in [DistanceUnit::Km, DistanceUnit::Mi] {
            assert_eq!(read_day(&line, units), Ok(day.clone()), "{line}");
        }
    }
    // Nor does a bracket inside of quotes end the note in which these stand.
    let named = vec![easy(")go/2 warm up")];
    assert_eq!(read_day(&write_day(&named), DistanceUnit::Mi), Ok(named));
    // A small "m" behind such a note is told in miles as it is elsewhere; in quotes inside a note it stays.
    let read = |line| read_day(line, DistanceUnit::Mi).map(|day| write_day(&day));
    assert_eq!(read("easy 8 mi (say \"go) + easy 6m"), read("easy 8 mi (say \"go) + easy 6 mi"));
    assert_eq!(read("easy 8 mi (say \"2m\" aloud)"), Ok("easy 8 mi (say \"2m\" aloud)".to_owned()));
}

#[test]
fn amounts_of_forms() {
    let read = |text| read_amount(text, DistanceUnit::Km).map(|amount| amount.to_string());
    assert_eq!(read("10,5"), Ok("10.5 km".to_owned()));
    assert_eq!(read(" 8 – 10 mi "), Ok("8-10 mi".to_owned()));
    assert_eq!(read("1h20"), Ok("80 min".to_owned()));
    for (text, expected) in [("", Expected::Amount), ("km", Expected::Amount), ("7 x", Expected::Unit)] {
        assert_eq!(read(text), Err(ProblemKind::Unreadable { text: text.to_owned(), expected }), "{text}");
    }
}

#[test]
fn paces_of_forms() {
    let read = |text| read_pace(text, DistanceUnit::Km).map(|pace| (pace.seconds(), pace.per()));
    assert_eq!(read("5:45"), Ok((345, DistanceUnit::Km)));
    assert_eq!(read("5'45"), Ok((345, DistanceUnit::Km)));
    assert_eq!(read("9:15 min/mi"), Ok((555, DistanceUnit::Mi)));
    assert_eq!(read("5:45 / km"), Ok((345, DistanceUnit::Km)));
    assert_eq!(read("1:45"), Err(ProblemKind::PaceOutOfRange { seconds: 105 }));
    for text in ["5.45", "5", "5:4", "5:75", "5:45 /h", "fast", "5:45/"] {
        assert_eq!(read(text), Err(ProblemKind::Unreadable { text: text.to_owned(), expected: Expected::Pace }));
    }
}

#[test]
fn race_distances_of_forms() {
    for (text, distance) in [
        ("half", RaceDistance::Half),
        ("Half Marathon", RaceDistance::Half),
        ("21.1 km", RaceDistance::Half),
        ("21.0975 km", RaceDistance::Half),
        ("13.1 mi", RaceDistance::Half),
        ("10k", RaceDistance::TenK),
        ("10 km", RaceDistance::TenK),
        ("10 miles", RaceDistance::TenMiles),
        ("10mi", RaceDistance::TenMiles),
        ("5000 m", RaceDistance::FiveK),
        ("marathon", RaceDistance::Marathon),
        ("42.195 km", RaceDistance::Marathon),
        ("26.2 mi", RaceDistance::Marathon),
        ("30 km", RaceDistance::Own(Milli::whole(30), DistanceUnit::Km)),
        ("50 mi", RaceDistance::Own(Milli::whole(50), DistanceUnit::Mi)),
        ("1 mile", RaceDistance::Own(Milli::whole(1), DistanceUnit::Mi)),
        ("21 km", RaceDistance::Own(Milli::whole(21), DistanceUnit::Km)),
    ] {
        assert_eq!(read_distance(text), Ok(distance), "{text}");
    }
    for text in ["", "30", "30 min", "30-40 km", "far", "2 h"] {
        assert!(read_distance(text).is_err(), "{text}");
    }
}

/// Words as people type them, with everything that the notation uses for itself.
fn words() -> impl Strategy<Value = String> {
    prop_oneof![
        Just(String::new()),
        "[a-z0-9 ,;+()\"\\\\'x*@:/.-]{0,24}",
        "(10k|mile|walk|back|float|standing|bike|gym|30 min|or|then|and|2 km|6 x 100 m|3E|5 T|\\+600 m|up|total|=|RPE 7|zone 2|pause|Sunday:|warm up|cool down|wu|cd|with|w/|hard|jog|rest|rec|recovery|30|s|min|at|@|pace|\"|\\(|\\)|, |\\+| ){0,8}",
        "\\PC{0,12}",
        any::<String>().prop_map(|text| text.chars().take(40).collect()),
    ]
}

fn amount(unit: Unit) -> impl Strategy<Value = Amount> {
    let most = Amount::most(unit).0;
    (1..=most, 0..=most, any::<bool>()).prop_map(move |(one, other, whole)| {
        let round = |value: i32| if whole { (value / 1000).max(1) * 1000 } else { value };
        Amount::between(Milli(round(one)), Milli(round(other)), unit)
    })
}

fn sets() -> impl Strategy<Value = Sets> {
    let units =
        prop_oneof![Just(SetUnit::M), Just(SetUnit::Km), Just(SetUnit::Mi), Just(SetUnit::S), Just(SetUnit::Min)];
    let lengths = prop_oneof![1..=20_000_000, (1..=2000).prop_map(|whole| whole * 1000)];
    (1..=Sets::MOST, lengths, units, words(), words()).prop_map(|(reps, length, unit, pace, recovery)| Sets {
        reps,
        length: Milli(length),
        unit,
        pace,
        recovery,
    })
}

prop_compose! {
    fn session()(
        kind in prop::sample::select(&Kind::ALL[..]),
        unit in prop::sample::select(&Unit::ALL[..]),
    )(
        amount in prop::option::weighted(0.9, amount(unit)),
        hard in prop::option::of(amount(unit)),
        sets in prop::collection::vec(sets(), 0..3),
        loaded in any::<bool>(),
        note in words(),
        kind in Just(kind),
    ) -> Session {
        Session { kind, amount, hard, sets, loaded, note }
    }
}

fn valid(session: &Session) -> bool {
    session.problems().is_empty()
}

proptest! {
    #[test]
    fn reading_what_was_written_gives_the_same_back(
        day in prop::collection::vec(prop::collection::vec(session().prop_filter("valid", valid), 1..3), 0..4)
    ) {
        let slots: Vec<Slot> = day.into_iter().filter_map(Slot::any_of).collect();
        let line = write_day(&slots);
        prop_assert!(!line.contains(['\n', '\r']), "{line:?}");
        prop_assert_eq!(read_day(&line, DistanceUnit::Km), Ok(slots.clone()), "{}", line);
        prop_assert_eq!(read_day(&line, DistanceUnit::Mi), Ok(slots), "{}", line);
    }

    #[test]
    fn any_line_is_read_or_refused(line in any::<String>()) {
        let _ = read_day(&line, DistanceUnit::Km);
        let _ = read_amount(&line, DistanceUnit::Km);
        let _ = read_pace(&line, DistanceUnit::Mi);
        let _ = read_distance(&line);
    }

    #[test]
    fn any_line_of_the_trades_words_is_read_or_refused(
        line in "(6|800|1:20|10,5|9-11|1e3|-|–| |x|×|km|mi|min|h|m|s|'|\"|\\(|\\)|,|\\+| or |hard|with|long|easy|jog|rest|warm up|cd| then |tempo|@|ß|É|\u{a0}){0,14}"
    ) {
        if let Ok(day) = read_day(&line, DistanceUnit::Km) {
            let written = write_day(&day);
            prop_assert_eq!(read_day(&written, DistanceUnit::Mi), Ok(day), "{} -> {}", line, written);
        }
    }
}
