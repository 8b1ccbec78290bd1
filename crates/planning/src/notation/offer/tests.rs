//! Whatever is offered is read.

use proptest::prelude::*;

use super::super::coaches::ASKED;
use super::super::{Guess, offers, read_day, read_kept_day, write_day};
use super::{Certainty, Offer, settled, sound};
use crate::problem::Expected;
use crate::session::Session;
use crate::units::DistanceUnit;
use crate::week::Slot;

fn is_hard(offer: &Offer) -> bool {
    offer.day.iter().flat_map(Slot::options).any(Session::is_hard)
}

/// Every offer for a line says what it is read as, and tells where it counts nothing of what is hard.
fn hold(line: &str, units: DistanceUnit) -> Vec<Offer> {
    let offered = offers(line, units);
    for offer in &offered {
        assert_eq!(sound(&offer.line, units.into()).as_ref(), Ok(&offer.day), "{line} -> {}", offer.line);
        assert!(!(offer.leaves_hard_out && is_hard(offer)), "{line} -> {}", offer.line);
    }
    offered
}

#[test]
fn every_question_about_a_day_has_an_answer_that_is_read() {
    let nothing_seen = ["5:30"];
    for (line, _, expected) in ASKED {
        for units in [DistanceUnit::Km, DistanceUnit::Mi] {
            if read_day(line, units).is_ok() {
                continue;
            }
            let offered = hold(line, units);
            assert!(!offered.is_empty() || nothing_seen.contains(line), "nothing for {line}");
            // Hills of a run that is called easy are its way.
            let is_way = line.contains("easy") && line.contains("hill");
            if *expected == Expected::HowHard && !offered.is_empty() && !line.contains("drills") && !is_way {
                assert!(is_hard(&offered[0]), "{line} -> {}", offered[0].line);
            }
        }
    }
}

#[test]
fn the_likelier_reading_comes_first() {
    for (line, lines) in [
        ("45 easy", &["45 min easy", "45 km easy"][..]),
        ("6/8", &["6-8", "6 + 8"]),
        ("8/6", &["8 + 6", "6-8"]),
        ("40/50 min", &["40-50 min", "40 min + 50 min"]),
        ("8 gym", &["8 km + gym", "8 min gym"]),
        ("gym 8", &["gym 8 min", "8 km + gym"]),
        ("rest or easy 5", &["rest (or easy 5)", "easy 5 (or rest)"]),
        ("easy 5 or rest", &["easy 5 (or rest)", "rest (or easy 5)"]),
        ("rest/easy 5", &["rest (\"/easy 5\")"]),
        ("off, hills if you like", &["rest (\"hills if you like\")"]),
        ("xx", &["rest (\"xx\")"]),
        ("x - travel", &["rest (\"travel\")"]),
        ("6 + 4 = 12", &["6 + 4"]),
        ("10 (6+4)", &["6+4", "10 (\"6+4\")"]),
        ("5, 6", &["5 + 6", "easy 5 km (6)"]),
        ("8 am", &["AM 8 km"]),
        ("6 am 8", &["8 km (\"6 am\")"]),
        ("12 km, 4 km MP", &["race pace 12 km, hard 4 km (MP)", "race pace 16 km, hard 4 km (12 km, MP)"]),
        ("10 km with hills", &["hills 10 km", "easy 10 km (\"hills\")"]),
        ("easy 8 (hill route)", &["easy 8 km (\"hill route\")", "hills 8 km (hill route)"]),
        (
            "2 km warm up, 5 km, 2 km cool down",
            &["2 km warm up, tempo 5 km, 2 km cool down", "2 km warm up, easy 5 km, 2 km cool down"],
        ),
        (
            "tempo 9 km, 2 km warm up, 2 km cool down",
            &["2 km warm up, tempo 9 km, 2 km cool down", "tempo 9 km incl. 2 km warm up and 2 km cool down"],
        ),
        ("6 x 800 m", &["6 x 800 m, 9 km"]),
        ("6 x 800 m (10k)", &["6 x 800 m, 10 km", "6 x 800 m 10k pace, 9 km"]),
        ("tempo 5 km, hard 9", &["tempo 9 km, hard 5 km"]),
        ("6 x 3 threshold, 50 min", &["6 x 3 min threshold, 50 min", "6 x 3 km threshold, 50 min"]),
        ("5-6 x 800 m, 10", &["6 x 800 m, 10 km (5-6 x)"]),
        ("easy 7 (flat", &["easy 7 (flat)"]),
        ("easy 7)", &["easy 7"]),
        ("8-", &["8"]),
        ("10-8", &["easy 8-10 km"]),
        ("8 km HR<140 + 7 furlongs", &["easy 8 km (HR<140) + easy 7 km (furlongs)"]),
        ("travel", &["rest (\"travel\")", "easy 8 km (travel)"]),
    ] {
        let offered: Vec<String> = hold(line, DistanceUnit::Km).into_iter().map(|offer| offer.line).collect();
        assert_eq!(offered, lines, "{line}");
    }
}

#[test]
fn an_estimated_whole_is_no_less_than_the_parts_that_are_told() {
    let whole = |line: &str| {
        hold(line, DistanceUnit::Km).first().map(|offer| offer.day[0].chosen().amount.unwrap().to_string())
    };
    assert_eq!(whole("wander 2.5 km, 6 x 1000 m @ 4:15, trot 2.5 km").as_deref(), Some("11 km"));
    assert_eq!(whole("wander 3,2 km, 6 x 1000 m @ 4:15, trot 2,5 km").as_deref(), Some("12 km"));
    assert_eq!(whole("wander 1 km, 6 x 1000 m @ 4:15, trot 1 km").as_deref(), Some("10 km"));
}

#[test]
fn an_offer_says_what_of_it_is_a_guess() {
    let guess = |line: &str| hold(line, DistanceUnit::Km).first().map(|offer| offer.guess);
    assert_eq!(guess("45 easy"), Some(Guess::Nothing));
    assert_eq!(guess("6 x 800 m"), Some(Guess::Whole));
    assert_eq!(guess("2 km wu, 20 min tempo, 2 km cd"), Some(Guess::Whole));
    assert_eq!(guess("tempo"), Some(Guess::Length));
    assert_eq!(guess("parkland loop"), Some(Guess::Length));
}

#[test]
fn a_line_with_one_answer_is_settled_and_any_other_is_asked() {
    let settled = |line: &str| settled(line, DistanceUnit::Km).map(|offer| (offer.line, offer.certainty));
    for (line, reads, certainty) in [
        ("8 km HR<140", "easy 8 km (HR<140)", Certainty::Said),
        ("8 km HR 140-150", "easy 8 km (HR 140-150)", Certainty::Said),
        ("HR 140, 50 min", "easy 50 min (HR 140)", Certainty::Said),
        ("15 wu, 20 tempo, 10 cd", "15 min wu, 20 min tempo, 10 min cd", Certainty::Said),
        ("6 x 800 m", "6 x 800 m, 9 km", Certainty::Reckoned),
        ("6x400 m, 15' wu, 10' cd", "6x400 m, 15' wu, 10' cd, 7 km", Certainty::Reckoned),
        ("6 x 1000 (3' rest) + wu/cd", "6 x 1000 m, 3' rest, 10 km (wu/cd)", Certainty::Reckoned),
        ("warm up, 20 min tempo, cool down", "tempo 45 min, hard 20 min (warm up, cool down)", Certainty::Reckoned),
        ("20' tempo + wu/cd", "tempo 45 min, hard 20 min (wu/cd)", Certainty::Reckoned),
        ("tempo 20' + wu + cd", "tempo 45 min, hard 20 min (wu, cd)", Certainty::Reckoned),
        (
            "2 up, 25 min tempo @ 4:20, 2 down",
            "2 warm up, 25 min tempo @ 4:20, 2 cool down, 10 km",
            Certainty::Reckoned,
        ),
    ] {
        assert_eq!(settled(line), Some((reads.to_owned(), certainty)), "{line}");
    }
    for line in [
        "6/8",
        "tempo",
        "6-8 x 400",
        "easy -3",
        "Zumba 45 min",
        "40 min Z1-2 + Zumba 30 min",
        "easy 40 min + Zumba 30 min",
        "7 - 3",
        "tempo 5 km, hard 9",
        "7 furlongs",
        "tempo 10 km, wu/cd",
        "easy/steady 10 km",
        "easy 8 with pickups",
        "6 x 800, then hill sprints",
        "6 x 800 if legs ok, else easy 8",
    ] {
        assert_eq!(settled(line), None, "{line}");
    }
}

#[test]
fn a_short_run_with_a_warm_up_and_a_cool_down_is_what_is_run_between_them() {
    let offered = |line: &str| hold(line, DistanceUnit::Km).into_iter().map(|offer| offer.line).collect::<Vec<_>>();
    for (line, lines) in [
        ("20 min tempo incl. wu/cd", &["tempo 45 min, hard 20 min (incl. wu/cd)"][..]),
        ("tempo 5 km, wu and cd", &["tempo 9 km, hard 5 km (wu and cd)"]),
        ("tempo 10 km, wu/cd", &["tempo 14 km, hard 10 km (wu/cd)", "tempo 10 km (wu/cd)"]),
    ] {
        assert_eq!(offered(line), lines, "{line}");
    }
    // What is long enough to hold both does so where the words say it, and what was kept stays as it was.
    assert!(read_day("tempo 8 km incl. wu/cd", DistanceUnit::Km).is_ok());
    let kept = read_kept_day("20 min tempo + wu/cd", DistanceUnit::Km).map(|day| write_day(&day));
    assert_eq!(kept.as_deref(), Ok("tempo 20 min (wu/cd)"));
}

#[test]
fn where_nothing_is_to_be_seen_nothing_is_offered() {
    for line in ["4:30", "1.2.3", "123456789 km", "1e3"] {
        assert_eq!(offers(line, DistanceUnit::Km), [], "{line}");
    }
}

proptest! {
    #[test]
    fn every_offer_for_any_line_is_read(line in any::<String>()) {
        hold(&line, DistanceUnit::Km);
    }

    #[test]
    fn every_offer_for_words_of_the_trade_is_read(
        line in "((6|45|800|1:20|10,5|9-11|8|3|2)( |x| x |/|-)?(km|mi|min|m|'|MP|T|E|%)?( |, | \\+ | or |/| \\(|\\)|)(hard|fast|with|long|easy|jog|rest|wu|cd|then|tempo|hills|gym|at|@|last|am|total|blue|Z4|\")?( |, )?){0,6}",
        is_km in any::<bool>(),
    ) {
        hold(&line, if is_km { DistanceUnit::Km } else { DistanceUnit::Mi });
    }
}

#[test]
fn no_session_that_was_typed_once_is_offered_as_two() {
    let keeps = |line: &str, offered: &str, guess| {
        let day = read_day(offered, DistanceUnit::Mi).unwrap_or_else(|problems| panic!("{offered}: {problems:?}"));
        super::keeps_runs(line, &day, guess)
    };
    let two_hard = "tempo 5 mi, hard 3 mi + 6 x 800 m, 6 mi";
    assert!(!keeps("hills, core, 6 x 800", two_hard, Guess::Between));
    assert!(!keeps("hills, core, 6 x 800", two_hard, Guess::Nothing));
    assert!(!keeps("easy, core, 6 x 800", "easy 5 mi + 6 x 800 m, 6 mi", Guess::Length));
    for line in ["tempo + 6 x 800", "tempo & 6 x 800", "AM tempo, PM 6 x 800"] {
        assert!(keeps(line, two_hard, Guess::Whole), "{line}");
    }
    assert!(keeps("6/8", "6 + 8", Guess::Nothing));
    assert!(keeps("6 x 800, gym", "6 x 800 m, 6 mi + strength", Guess::Whole));
}
