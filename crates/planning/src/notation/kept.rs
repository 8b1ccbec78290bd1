//! What is written is read: every line of every test of this folder, and lines of the trade put together by chance.

use proptest::prelude::*;

use super::{Certainty, Guess, offers, read_day, read_kept_day, write_day};
use crate::session::Session;
use crate::units::DistanceUnit;
use crate::week::Slot;

/// The files of which every text in quotes is tried as a line.
const FILES: [&str; 5] = [
    include_str!("coaches.rs"),
    include_str!("strangers.rs"),
    include_str!("tests.rs"),
    include_str!("offer/tests.rs"),
    include_str!("kept.rs"),
];

/// Every text in quotes, one line of the file at a time.
fn lines() -> Vec<String> {
    let mut all = Vec::new();
    for line in FILES.iter().flat_map(|file| file.lines()) {
        let mut text: Option<String> = None;
        let mut letters = line.chars();
        while let Some(next) = letters.next() {
            match (&mut text, next) {
                (Some(_), '"') => all.extend(text.take()),
                (None, '"') => text = Some(String::new()),
                (Some(text), '\\') => text.extend(letters.next()),
                (Some(text), other) => text.push(other),
                (None, _) => {}
            }
        }
    }
    all
}

/// Reads a line, writes the day and reads it once more; says whether it was read.
fn stays(line: &str, units: DistanceUnit) -> bool {
    let Ok(day) = read_day(line, units) else { return false };
    if day.iter().flat_map(Slot::options).any(|session: &Session| !session.problems().is_empty()) {
        return false;
    }
    let written = write_day(&day);
    for units in [DistanceUnit::Km, DistanceUnit::Mi] {
        assert_eq!(read_kept_day(&written, units).as_ref(), Ok(&day), "{line} -> {written}");
        assert_eq!(read_day(&written, units).as_ref(), Ok(&day), "{line} -> {written}");
    }
    true
}

#[test]
fn every_line_that_is_read_is_read_again_as_it_is_written() {
    let mut count = 0;
    for line in lines() {
        for units in [DistanceUnit::Km, DistanceUnit::Mi] {
            count += usize::from(stays(&line, units));
            for offer in offers(&line, units) {
                assert!(stays(&offer.line, units), "{line} -> {}", offer.line);
            }
        }
    }
    assert!(count > 1500, "{count}");
}

#[test]
fn a_walk_behind_repetitions_is_their_recovery() {
    for (line, written) in [
        ("WU 3k, 5x1km T (2' walk), CD 2k", "5 x 1 km T, 2' walk, 10 km (3 km WU, 2 km CD)"),
        ("2k wu, 6x400 (walk back), 2k cd", "6 x 400 m, walk back, 6.4 km (2 km wu, 2 km cd)"),
        ("5x1km T, 2 min walk, 10k", "5 x 1 km T, 2 min walk, 10 km"),
        ("hills 10 x 60s, walk back, 9k", "hills 9 km, 10 x 60 s, walk back"),
        ("6 x 800 (standing 90 s), 10k", "6 x 800 m, standing 90 s, 10 km"),
        ("6 x 800 (bike 2 min recovery), 10k", "6 x 800 m, bike 2 min recovery, 10 km"),
        ("6 x 800 m, recovery \"gym 30\", 10 km", "6 x 800 m, recovery \"gym 30\", 10 km"),
        ("10 km, 6 x 100 m strides, walk 30 min", "easy 10 km, 6 x 100 m strides + cross-training 30 min (\"walk\")"),
        ("easy 8 km, walk 10 min", "easy 8 km + cross-training 10 min (\"walk\")"),
    ] {
        let day = read_day(line, DistanceUnit::Km).unwrap_or_else(|problems| panic!("{line}: {problems:?}"));
        assert_eq!(write_day(&day), written, "{line}");
        assert_eq!(read_kept_day(written, DistanceUnit::Mi), Ok(day), "{written}");
    }
}

/// Whether somebody runs on a day.
fn runs(day: &[Slot]) -> bool {
    day.iter().flat_map(Slot::options).any(|session| session.kind.is_running())
}

/// On a day that begins with a word for rest nobody runs: neither as it is read nor in what is offered first.
fn rests(line: &str, units: DistanceUnit) {
    assert!(read_day(line, units).map_or(true, |day| !runs(&day)), "{line}");
    assert!(offers(line, units).first().is_none_or(|first| !runs(&first.day)), "{line}");
}

#[test]
fn a_line_that_begins_with_rest_is_a_day_of_rest() {
    let behind = ["!! ", ".", " - ", ", ", ": ", " / ", "/", " (", ". ", " "];
    for rest in ["Rest", "REST", "off", "Day off", "rest day", "nowt", "x", "xx"] {
        rests(rest, DistanceUnit::Km);
        for mark in behind {
            let is_tried = |line: &&String| {
                let lower = line.to_lowercase();
                // "x 6 km" is one of some repetitions, "rest AM 8 km" rest in the morning.
                let may_add = mark == " " && (rest.starts_with('x') || lower.starts_with(['a', 'p']));
                !may_add && !lower.starts_with("or ") && !line.contains(['/', '(', ')', '"', '=', '+'])
            };
            for line in lines().iter().filter(is_tried).step_by(3) {
                let closing = if mark == " (" { ")" } else { "" };
                rests(&format!("{rest}{mark}{line}{closing}"), DistanceUnit::Km);
            }
        }
    }
}

#[test]
fn words_of_a_day_of_rest_are_kept() {
    for line in [
        "Rest - swim if legs heavy",
        "Rest (swim if legs heavy)",
        "Rest - yoga",
        "rest/yoga",
        "off - mobility at home",
        "Rest, physio",
        "off - massage",
        "rest (travel day)",
        "rest - no gym",
        "- (physio)",
    ] {
        let day = read_day(line, DistanceUnit::Km).expect(line);
        let words = day[0].chosen().rest_words().expect(line);
        assert!(line.ends_with(words) || line.ends_with(&format!("{words})")), "{line}: {words}");
        assert!(stays(line, DistanceUnit::Km), "{line}");
        assert!(!runs(&day), "{line}");
    }
    for line in ["rest", "Rest.", "rest day !", "rest ()", "rest (\"\")", "- ", "", "OFF"] {
        assert_eq!(read_day(line, DistanceUnit::Km), Ok(Vec::new()), "{line}");
    }
}

#[test]
fn shorthand_of_the_track_is_read() {
    for (line, written) in [
        ("3 w/u, 12x400 @ 72 (1:1), 2 c/d", "12 x 400 m 72 s, recovery \"1:1\", 8 mi (3 mi w/u, 2 mi c/d)"),
        ("8x400 @ 85, 6", "8 x 400 m 85 s, 6 mi"),
        ("4x1200 @ 10k, 400j (8 total)", "4 x 1200 m 10k, 400 m jog, 8 mi"),
        ("6x(3' hard/2' float), 8", "6 x 3 min hard, 2' float, 8 mi"),
        ("DBL: 6/4", "easy 6 mi + easy 4 mi"),
        ("6M easy", "easy 6 mi"),
        ("20 w/ 8 @ GMP", "race pace 20 mi, hard 8 mi (at GMP)"),
        ("12 w. 5 @ HMP", "race pace 12 mi, hard 5 mi (at HMP)"),
        ("20 mi, last 6 @ MP (7:25)", "race pace 20 mi, hard 6 mi (at the end, at MP (7:25))"),
        ("Long 20k easy, last 5k @ HMP", "long 20 km, hard 5 km (easy, at the end, at HMP)"),
        ("club run 8k", "easy 8 km (club run)"),
        ("easy hour", "easy 60 min"),
        ("midweek long 90 mins off road", "long 90 min (midweek, off road)"),
        ("fartlek 8mi (10x1' on/1' off)", "fartlek 8 mi, 10 x 1 min on/1' off"),
    ] {
        let day = read_day(line, DistanceUnit::Mi).unwrap_or_else(|problems| panic!("{line}: {problems:?}"));
        assert_eq!(write_day(&day), written, "{line}");
        assert!(stays(line, DistanceUnit::Mi), "{line}");
    }
}

#[test]
fn what_is_taken_with_one_press_says_what_was_typed() {
    let numbers = |line: &str| {
        let mut all: Vec<String> = line
            .split(|one: char| !one.is_ascii_digit())
            .filter(|number| !number.is_empty())
            .map(str::to_owned)
            .collect();
        all.sort();
        all
    };
    let mut count = 0;
    for line in lines() {
        for units in [DistanceUnit::Km, DistanceUnit::Mi] {
            let offered = offers(&line, units);
            for offer in offered.iter().filter(|offer| offer.certainty == Certainty::Said) {
                assert_eq!(offered.len(), 1, "{line}");
                assert_eq!(offer.guess, Guess::Nothing, "{line}");
                assert_eq!(numbers(&offer.line), numbers(&line), "{line} -> {}", offer.line);
                assert!(!offer.leaves_hard_out, "{line}");
                count += 1;
            }
        }
    }
    assert!(count > 20, "{count}");
    for line in ["6 x 800 m", "20k prog: 10k easy, 6k steady, 4k HMP", "2 km wu, 20' tempo, 2 km cd", "6/8", "tempo"] {
        assert!(offers(line, DistanceUnit::Km).iter().all(|offer| offer.certainty != Certainty::Said), "{line}");
    }
}

/// A note that was made of a line does not say again what became the session's own: neither its amount, as typed, nor the
/// plain name of its kind, except beside the amount of another part.
fn says_nothing_twice(typed: &str, offer: &super::Offer) {
    let [slot] = offer.day.as_slice() else { return };
    let session = slot.chosen();
    let Some(amount) = session.amount.filter(|_| slot.options().len() == 1) else { return };
    let is_own = |words: &str| super::read_amount(words, DistanceUnit::Km) == Ok(amount);
    let words: Vec<&str> = session.note.split([' ', ',']).filter(|word| !word.is_empty()).collect();
    let own = |words: &[&str]| (1..=2).any(|len| words.windows(len).any(|one| has_unit(one) && is_own(&one.join(" "))));
    let has_number = session.note.contains(|one: char| one.is_ascii_digit());
    // Typed twice, it is left once.
    let often = typed.split([' ', ',']).collect::<Vec<_>>();
    let is_twice = (1..=2)
        .map(|len| often.windows(len).filter(|one| has_unit(one) && is_own(&one.join(" "))).count())
        .sum::<usize>()
        > 1;
    assert!(is_twice || !own(&words), "{typed} -> {}", offer.line);
    // "tempo effort" says more than the kind.
    let is_name = |piece: &str| {
        let mut words = piece.split(' ');
        let is_code = words.next().is_some_and(|first| first.eq_ignore_ascii_case(session.kind.code()));
        is_code && !words.next().is_some_and(|next| ["effort", "pace"].contains(&next))
    };
    let names = session.note.split(", ").any(is_name);
    assert!(has_number || !names, "{typed} -> {}", offer.line);
}

fn has_unit(words: &[&str]) -> bool {
    words.iter().any(|word| word.contains(char::is_alphabetic) || word.contains('\''))
        && words.first().is_some_and(|word| word.starts_with(|one: char| one.is_ascii_digit()))
}

#[test]
fn no_note_of_an_offer_says_again_what_became_the_session() {
    let mut count = 0;
    for line in lines() {
        for units in [DistanceUnit::Km, DistanceUnit::Mi] {
            for offer in offers(&line, units) {
                says_nothing_twice(&line, &offer);
                count += 1;
            }
        }
    }
    assert!(count > 300, "{count}");
}

proptest! {
    #[test]
    fn no_note_of_any_offer_says_again_what_became_the_session(
        front in "(easy|long|tempo|bike|gym|langtur|run|steady|MP|)",
        amount in "( 8 km| 60'| 45 min| 1 hr| 2:30| 10 mi)",
        behind in "( zz| Z2| easy| round the lake|, HR<140|, 5 min walk every 30 min| with Jo| hilly, felt ok| tempo| bike|)",
        last in "(, parkland| fasted| \\(kids\\)|)",
    ) {
        let line = format!("{front}{amount}{behind}{last}");
        for offer in offers(&line, DistanceUnit::Km) {
            says_nothing_twice(&line, &offer);
        }
    }

    #[test]
    fn any_words_beside_rest_are_read_as_they_were_written(words in "\\PC{1,60}") {
        let day = vec![Slot::one(Session::rest_with(&words))];
        let written = write_day(&day);
        prop_assert_eq!(read_day(&written, DistanceUnit::Km), Ok(day), "{}", written);
    }

    #[test]
    fn lines_of_repetitions_stay_what_they_are(
        front in "(WU 3k, |2k wu, |track: |hills |)",
        reps in "(5x1km|6x400|10 x 60s|4 x 5 min)( T| 10k pace| hard|)",
        recovery in "(, | \\()(2' walk|walk back|2 min walk|walk 90 s|standing|stand 1 min|float 200|90s jog|easy 2'|rest 2 min|2 min bike recovery|walk/jog 400|jog back down|walk 30 min|gym 2 min rest)",
        behind in "(, 9k|, CD 2k|, 2k cd|, 50 min|, 10k, gym| \\+ strength 30)",
    ) {
        let closing = if recovery.starts_with(" (") { ")" } else { "" };
        stays(&format!("{front}{reps}{recovery}{closing}{behind}"), DistanceUnit::Km);
    }
}
