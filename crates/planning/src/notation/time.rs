//! Race times as people write them, alone or inside a sentence.

use super::amounts::clean;
use super::line::unreadable;
use crate::problem::{Expected, ProblemKind};
use crate::race_time::RaceTime;
use crate::units::Distance;

/// Reads a time for a race: `42:10`, `3:25`, `3:25:00`, `3.25.00`, `3 h 25`, `3h25m10s`, `45 min`.
///
/// Whether `3:25` means hours or minutes follows from the distance: only one of them is ever run.
///
/// # Errors
///
/// Not a time, or one that nobody runs ([`RaceTime::for_distance`]).
pub fn read_race_time(text: &str, distance: Distance) -> Result<RaceTime, ProblemKind> {
    let line = clean(text);
    let written = with_colons(&line);
    match find(&written) {
        Some(found) if found.is_all_of(&written) => found.read(distance),
        _ => Err(unreadable(&line, Expected::RaceTime)),
    }
}

/// `1.45.30` and `42.10`, where the whole text is nothing else: in a sentence it could as well be a distance.
fn with_colons(line: &str) -> String {
    let figures: Vec<&str> = line.split('.').collect();
    let is_digits = |figure: &&str| figure.bytes().all(|one| one.is_ascii_digit());
    let is_time = (2..=3).contains(&figures.len())
        && figures.iter().all(is_digits)
        && (1..=3).contains(&figures[0].len())
        && figures[1..].iter().all(|figure| figure.len() == 2);
    if is_time { figures.join(":") } else { line.to_owned() }
}

/// The first time in a sentence, as in `under 3:30 if the wind allows`; nothing where there is none.
/// A pace (`4:30/km`, `4:30 pace`) is not one, and nor are minutes among other words in which nobody runs the distance:
/// `second half not 2 min slower`.
///
/// # Errors
///
/// Where nobody runs any of the times in it, what is wrong with the first.
pub fn find_race_time(text: &str, distance: Distance) -> Result<Option<RaceTime>, ProblemKind> {
    let line = clean(text);
    let (mut rest, mut wrong) = (line.as_str(), None);
    while let Some(found) = find(rest) {
        rest = &rest[found.end..];
        match found.read(distance) {
            Ok(time) => return Ok(Some(time)),
            Err(_) if !found.is_clock() && !found.is_all_of(&line) => {}
            Err(kind) => wrong = wrong.or(Some(kind)),
        }
    }
    wrong.map_or(Ok(None), Err)
}

/// Something in a text that looks like a time.
struct Found {
    start: usize,
    /// Just behind it.
    end: usize,
    text: String,
    parts: Parts,
}

enum Parts {
    /// `3:25`: hours and minutes, or minutes and seconds.
    Two(u32, u32),
    /// Hours, minutes and seconds.
    All(u32, u32, u32),
}

impl Found {
    fn is_all_of(&self, line: &str) -> bool {
        self.start == 0 && self.end == line.len()
    }

    /// Whether it is written as a clock shows it, "3:25", not in words for hours and minutes.
    fn is_clock(&self) -> bool {
        self.text.contains(':')
    }

    fn read(&self, distance: Distance) -> Result<RaceTime, ProblemKind> {
        let seconds = |hours: u32, minutes: u32, seconds: u32| {
            if minutes > 59 && hours > 0 || seconds > 59 {
                return Err(unreadable(&self.text, Expected::RaceTime));
            }
            RaceTime::for_distance(hours.saturating_mul(3600).saturating_add(minutes * 60 + seconds), distance)
        };
        match self.parts {
            Parts::All(hours, minutes, rest) => seconds(hours, minutes, rest),
            Parts::Two(one, two) => seconds(0, one, two).or_else(|kind| seconds(one, two, 0).map_err(|_| kind)),
        }
    }
}

/// The first thing that looks like a time.
fn find(line: &str) -> Option<Found> {
    let mut before: Option<char> = None;
    for (start, letter) in line.char_indices() {
        let begins = letter.is_ascii_digit() && !before.is_some_and(|one| one.is_alphanumeric() || ".,:".contains(one));
        if begins && let Some(found) = take(line, start) {
            return Some(found);
        }
        before = Some(letter);
    }
    None
}

fn take(line: &str, start: usize) -> Option<Found> {
    let mut left = Rest { text: &line[start..] };
    let first = left.number()?;
    let parts = if left.takes(":") {
        let second = left.number()?;
        if left.takes(":") { Parts::All(first, second, left.number()?) } else { Parts::Two(first, second) }
    } else {
        left.units(first)?
    };
    let end = line.len() - left.text.len();
    let behind = left.text.trim_start();
    let is_pace =
        behind.starts_with('/') || ["pace", "per ", "a km", "a mile"].iter().any(|word| behind.starts_with(word));
    let goes_on = left.text.starts_with(|next: char| next.is_alphanumeric() || next == ':');
    (!is_pace && !goes_on).then(|| Found { start, end, text: line[start..end].to_owned(), parts })
}

struct Rest<'a> {
    text: &'a str,
}

impl Rest<'_> {
    /// Up to three digits.
    fn number(&mut self) -> Option<u32> {
        let digits = self.text.bytes().take_while(u8::is_ascii_digit).count();
        if !(1..=3).contains(&digits) {
            return None;
        }
        let (number, rest) = self.text.split_at(digits);
        self.text = rest;
        number.parse().ok()
    }

    fn takes(&mut self, word: &str) -> bool {
        let rest = self.text.strip_prefix(word);
        self.text = rest.unwrap_or(self.text);
        rest.is_some()
    }

    /// A word for a unit, which another letter must not follow.
    fn unit(&mut self, words: &[&str]) -> bool {
        let text = self.text.trim_start_matches(' ');
        let ends = |rest: &str| !rest.starts_with(|next: char| next.is_alphabetic());
        let rest = words.iter().find_map(|word| text.strip_prefix(word).filter(|rest| ends(rest)));
        self.text = rest.unwrap_or(self.text);
        rest.is_some()
    }

    /// What follows `3` in `3 h 25 min 10 s` or `45` in `45 min`.
    fn units(&mut self, first: u32) -> Option<Parts> {
        const MINUTES: &[&str] = &["minutes", "mins", "min", "m"];
        let (hours, minutes) = if self.unit(&["hours", "hour", "hrs", "hr", "h"]) {
            (first, self.part(MINUTES, true).unwrap_or(0))
        } else if self.unit(&["minutes", "mins", "min"]) {
            (0, first)
        } else {
            return None;
        };
        let seconds = self.part(&["seconds", "secs", "sec", "s"], hours == 0).unwrap_or(0);
        Some(Parts::All(hours, minutes, seconds))
    }

    /// A number with its unit, which may be missing where the text allows it.
    fn part(&mut self, words: &[&str], bare: bool) -> Option<u32> {
        let before = self.text;
        self.text = self.text.trim_start_matches(' ');
        let number = self.number();
        if number.is_none() || !(self.unit(words) || bare && self.text.is_empty()) {
            self.text = before;
            return None;
        }
        number
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    const MARATHON: Distance = Distance::metres(42_195);
    const TEN_K: Distance = Distance::metres(10_000);

    fn read(text: &str, distance: Distance) -> Option<String> {
        read_race_time(text, distance).ok().map(|time| time.to_string())
    }

    #[test]
    fn every_usual_way_to_write_a_time_is_read() {
        for text in
            ["3:25", "3:25:00", "3h25", "3 h 25", "3h25m", "3 h 25 min", " 3:25 ", "205 min", "3 hours 25 minutes"]
        {
            assert_eq!(read(text, MARATHON).as_deref(), Some("3:25:00"), "{text}");
        }
        assert_eq!(read("3h25m10s", MARATHON).as_deref(), Some("3:25:10"));
        for text in ["42:10", "0:42:10", "42 min 10 s", "42 min 10", "42min10s"] {
            assert_eq!(read(text, TEN_K).as_deref(), Some("42:10"), "{text}");
        }
        for text in ["3.25.00", "3.25", "3h25m00s"] {
            assert_eq!(read(text, MARATHON).as_deref(), Some("3:25:00"), "{text}");
        }
        assert_eq!(read("42.10", TEN_K).as_deref(), Some("42:10"));
        assert_eq!(read("72:30", Distance::metres(21_097)).as_deref(), Some("1:12:30"));
    }

    #[test]
    fn what_is_no_time_or_nobody_runs_is_refused() {
        for text in [
            "",
            "soon",
            "3",
            "3:75",
            "3:25:61",
            "-3:25",
            "3:25x",
            "3:25 3:30",
            "0:00",
            "0:00:00",
            "30:00:00",
            "1234:00",
        ] {
            assert_eq!(read(text, MARATHON), None, "{text}");
        }
    }

    #[test]
    fn a_time_is_found_in_a_sentence_and_a_pace_is_none() {
        let found = |text: &str| find_race_time(text, MARATHON).map(|time| time.map(|time| time.to_string()));
        for text in
            ["under 3:25 if it is cool", "sub-3:25", "<3:25", "3:25, evenly", "at 4:50/km 3:25", "4:51 pace is 3 h 25"]
        {
            assert_eq!(found(text).unwrap().as_deref(), Some("3:25:00"), "{text}");
        }
        for text in ["finish well", "", "run the last 10 km", "4:50/km", "4:50 per km", "number 325"] {
            assert_eq!(found(text), Ok(None), "{text}");
        }
        assert!(found("30:00:00 would do").is_err());
        assert!(found("0:00").is_err());
    }

    proptest! {
        #[test]
        fn what_is_written_reads_back(seconds in 1200_u32..18_000) {
            let time = RaceTime::seconds(seconds);
            prop_assert_eq!(read_race_time(&time.to_string(), TEN_K), Ok(time));
        }

        #[test]
        fn no_text_is_too_strange(text in "[0-9:hms ./\u{e9}-]{0,24}") {
            let _ = read_race_time(&text, TEN_K);
            if let Ok(Some(time)) = find_race_time(&text, TEN_K) {
                prop_assert!(RaceTime::for_distance(time.as_seconds(), TEN_K).is_ok());
            }
        }
    }
}
