//! Places along a race, one a line: `12.5 km Mill: water, gels; cut-off 2:10`, `8 km bridge`.

use super::amounts::{RawAmount, clean};
use super::line::unreadable;
use super::text::Text;
use super::time::read_race_time;
use crate::plain::one_line;
use crate::problem::{Expected, Field, Problem, ProblemKind};
use crate::race_time::RaceTime;
use crate::station::{Place, Stand, Station};
use crate::units::{Distance, DistanceUnit, Milli, Unit};

/// Words before the time until which a station has to be reached.
const CUT_OFF: [&str; 5] = ["cut-off", "cutoff", "cut off", "closes", "closed"];

/// The end of the race by its name.
const FINISH: &str = "finish";

/// Reads aid stations and cut-offs, one a line: how far, a name, what is there behind a colon, and
/// `cut-off 2:10` or `closes 2:10` as time from the start. A number without a unit is in the given unit;
/// `finish` is the finish. They come back in the order in which they are passed.
///
/// # Errors
///
/// Everything that is wrong, by line: not a place of the race, the same place twice, a time that is
/// none, or a cut-off before an earlier one.
pub fn read_stations(text: &str, units: DistanceUnit, length: Distance) -> Result<Vec<Station>, Vec<Problem>> {
    let lines = Lines { field: Field::StationLine, most: Station::MOST, longest: Station::LINE_MOST };
    let read = |line: &str| {
        let (line, cut_off) = cut_off_of(line);
        let (at, rest) = place(line, units, length)?;
        let (name, what) = rest.split_once(':').unwrap_or((&rest, ""));
        let (name, what) = (tidy_end(name), tidy_end(what));
        let cut_off = cut_off.map(|time| read_cut_off(time, at.distance())).transpose()?;
        Ok(Station { at, name, what, cut_off })
    };
    let mut found = lines.read(text, read, |station| station.at)?;
    let mut problems = Vec::new();
    let mut before: Option<RaceTime> = None;
    for (number, station) in &found {
        match (before, station.cut_off) {
            (Some(earlier), Some(time)) if time < earlier => {
                problems.push(Problem::new(Field::StationLine(*number), ProblemKind::CutOffGoesBack { time, earlier }));
            }
            (_, time) => before = time.or(before),
        }
    }
    if problems.is_empty() { Ok(found.drain(..).map(|(_, station)| station).collect()) } else { Err(problems) }
}

/// Reads the places where the coach stands, one a line: how far, and a name.
///
/// # Errors
///
/// Everything that is wrong, by line: not a place of the race, or the same place twice.
pub fn read_stands(text: &str, units: DistanceUnit, length: Distance) -> Result<Vec<Stand>, Vec<Problem>> {
    let lines = Lines { field: Field::StandLine, most: Stand::MOST, longest: Stand::LINE_MOST };
    let read = |line: &str| {
        let (at, name) = place(line, units, length)?;
        Ok(Stand { at, name: tidy_end(name.trim_start_matches(':')) })
    };
    Ok(lines.read(text, read, |stand| stand.at)?.into_iter().map(|(_, stand)| stand).collect())
}

/// What both kinds of lines have in common.
struct Lines {
    field: fn(usize) -> Field,
    most: usize,
    longest: usize,
}

impl Lines {
    /// Every line with its number, from 1, in the order of their places.
    fn read<T>(
        &self,
        text: &str,
        read: impl Fn(&str) -> Result<T, ProblemKind>,
        at: impl Fn(&T) -> Place,
    ) -> Result<Vec<(usize, T)>, Vec<Problem>> {
        let lines = (1..).zip(text.lines()).map(|(number, line)| (number, one_line(&clean(line))));
        let lines: Vec<_> = lines.filter(|(_, line)| !line.is_empty()).collect();
        if let Some((number, _)) = lines.get(self.most) {
            let kind = ProblemKind::TooManyLines { count: lines.len(), most: self.most };
            return Err(vec![Problem::new((self.field)(*number), kind)]);
        }
        let (mut found, mut problems) = (Vec::<(usize, T)>::new(), Vec::new());
        for (number, line) in lines {
            let length = line.chars().count();
            let kind = match read(&line) {
                _ if length > self.longest => ProblemKind::TooLong { length, most: self.longest },
                Err(kind) => kind,
                Ok(one) => {
                    let place = at(&one);
                    let twin = found.iter().find(|(_, other)| at(other).distance() == place.distance());
                    let Some((first, _)) = twin else {
                        found.push((number, one));
                        continue;
                    };
                    ProblemKind::SamePlace { value: place.value(), unit: place.unit(), line: *first }
                }
            };
            problems.push(Problem::new((self.field)(number), kind));
        }
        found.sort_by_key(|(_, one)| at(one).distance());
        if problems.is_empty() { Ok(found) } else { Err(problems) }
    }
}

/// A line without its cut-off, and the time behind the word for it.
fn cut_off_of(line: &str) -> (&str, Option<&str>) {
    let lower = line.to_ascii_lowercase();
    let begins = |at: usize| !lower[..at].ends_with(char::is_alphanumeric);
    let ends = |at: usize| !lower[at..].starts_with(char::is_alphanumeric);
    let found = CUT_OFF
        .iter()
        .filter_map(|word| lower.find(word).map(|at| (at, at + word.len())))
        .filter(|(start, end)| begins(*start) && ends(*end))
        .min();
    found.map_or((line, None), |(start, end)| (&line[..start], Some(line[end..].trim_matches([' ', ':', ')', '.']))))
}

fn read_cut_off(text: &str, so_far: Distance) -> Result<RaceTime, ProblemKind> {
    read_race_time(text.trim_start_matches("at ").trim_start_matches("after "), so_far)
}

/// The place in front of a line, and what stands behind it.
fn place(line: &str, units: DistanceUnit, length: Distance) -> Result<(Place, String), ProblemKind> {
    let fault = || unreadable(line, Expected::Place);
    let plain = without_stroke(line);
    let mut left = Text::new(&plain);
    if left.take_phrase(FINISH) {
        let name = if left.is_done() { FINISH } else { left.left() };
        return Ok((Place::finish(length, units), name.to_owned()));
    }
    let amount = RawAmount::take(&mut left)?.ok_or_else(fault)?.in_unit(units.unit())?;
    let unit = match amount.unit() {
        Unit::Km => DistanceUnit::Km,
        Unit::Mi => DistanceUnit::Mi,
        Unit::Min => return Err(fault()),
    };
    if amount.is_range() {
        return Err(fault());
    }
    let mark = Place::within(amount.low(), unit, length);
    Ok((mark.ok_or_else(|| outside(amount.low(), unit, length))?, left.left().to_owned()))
}

/// A line in which no stroke between place and name looks like the one of a range: `8 km - bridge`.
fn without_stroke(line: &str) -> String {
    for stroke in [" - ", " \u{2013} ", " \u{2014} "] {
        if let Some((place, name)) = line.split_once(stroke)
            && !name.starts_with(|next: char| next.is_ascii_digit())
        {
            return format!("{place} {name}");
        }
    }
    line.to_owned()
}

fn outside(value: Milli, unit: DistanceUnit, length: Distance) -> ProblemKind {
    ProblemKind::OutsideRace { value, length: length.in_unit(unit), unit }
}

/// A text without the marks that part it from what stood around it.
fn tidy_end(text: &str) -> String {
    one_line(text.trim_matches(|next: char| next.is_whitespace() || ",;-\u{2013}\u{2014}(".contains(next)))
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    const HALF: Distance = Distance::millimetres(21_097_500);
    const KM: DistanceUnit = DistanceUnit::Km;

    /// `km|name|what|cut-off` of every line.
    fn stations(text: &str) -> Vec<String> {
        let found = read_stations(text, KM, HALF).unwrap_or_else(|problems| panic!("{text}: {problems:?}"));
        let said = |one: &Station| {
            let cut_off = one.cut_off.map(|time| time.to_string()).unwrap_or_default();
            format!("{}|{}|{}|{cut_off}", one.at.distance().as_km(), one.name, one.what)
        };
        found.iter().map(said).collect()
    }

    fn problems(text: &str) -> Vec<(Field, ProblemKind)> {
        let found = read_stations(text, KM, HALF).expect_err(text);
        found.into_iter().map(|problem| (problem.at, problem.kind)).collect()
    }

    #[test]
    fn a_station_is_read_in_every_usual_way() {
        for (line, read) in [
            ("12.5 km Mill: water, gels; cut-off 2:10", "12.5|Mill|water, gels|2:10:00"),
            ("12,5 Mill: water, gels, closes 2:10:00", "12.5|Mill|water, gels|2:10:00"),
            ("12.5km Mill: water, gels (cut-off after 2 h 10)", "12.5|Mill|water, gels|2:10:00"),
            ("12.5 km - Mill - cut off: 2:10", "12.5|Mill||2:10:00"),
            ("5 water", "5|water||"),
            ("5", "5|||"),
            ("5 km: water; bananas", "5||water; bananas|"),
            ("  21.1 km   goal ", "21.0975|goal||"),
            ("finish: tea", "21.0975||tea|"),
            ("10000 m bridge", "10|bridge||"),
            ("5 km Cutoffs Lane: water", "5|Cutoffs Lane|water|"),
        ] {
            assert_eq!(stations(line), [read], "{line}");
        }
        assert_eq!(stations("8 mi: water")[0], format!("{}||water|", 8.0 * 1.609_344));
    }

    #[test]
    fn stations_come_in_the_order_of_the_course_and_empty_lines_do_not_count() {
        assert_eq!(stations("15 c\n\n5 a\r\n 10 b\n"), ["5|a||", "10|b||", "15|c||"]);
        assert_eq!(stations(" \n"), Vec::<String>::new());
    }

    #[test]
    fn every_line_that_is_wrong_is_told_with_its_number() {
        let twice = ProblemKind::SamePlace { value: Milli::whole(5), unit: KM, line: 1 };
        assert_eq!(problems("5 a\n\n5.0 km b"), [(Field::StationLine(3), twice)]);
        let outside = |value| ProblemKind::OutsideRace { value, length: Milli(21_098), unit: KM };
        assert_eq!(
            problems("0 a\n22 b\n21.2 c"),
            [
                (Field::StationLine(1), outside(Milli::ZERO)),
                (Field::StationLine(2), outside(Milli::whole(22))),
                (Field::StationLine(3), outside(Milli(21_200))),
            ]
        );
        for line in ["Mill: water", "5-8 km Mill", "20 min Mill"] {
            let unreadable = ProblemKind::Unreadable { text: line.to_owned(), expected: Expected::Place };
            assert_eq!(problems(line), [(Field::StationLine(1), unreadable)], "{line}");
        }
        for line in ["5 Mill; cut-off soon", "5 Mill; cut-off", "5 Mill; cut-off 40:00 cut-off 41:00"] {
            let found = problems(line);
            assert!(
                matches!(found[0].1, ProblemKind::Unreadable { expected: Expected::RaceTime, .. }),
                "{line}: {found:?}"
            );
        }
        let (time, earlier) = (RaceTime::seconds(3600), RaceTime::seconds(4200));
        assert_eq!(
            problems("15 b; cut-off 1:00\n10 a; cut-off 1:10"),
            [(Field::StationLine(1), ProblemKind::CutOffGoesBack { time, earlier })]
        );
    }

    #[test]
    fn no_more_is_kept_than_fits() {
        let lines = |count: usize| {
            let line = |number| format!("{}.{} x", number / 10, number % 10);
            (1..=count).map(line).collect::<Vec<_>>().join("\n")
        };
        assert_eq!(read_stands(&lines(Stand::MOST), KM, HALF).map(|found| found.len()), Ok(Stand::MOST));
        let kind = ProblemKind::TooManyLines { count: Stand::MOST + 2, most: Stand::MOST };
        assert_eq!(
            read_stands(&lines(Stand::MOST + 2), KM, HALF),
            Err(vec![Problem::new(Field::StandLine(Stand::MOST + 1), kind)])
        );
        assert_eq!(read_stations(&lines(Station::MOST), KM, HALF).map(|found| found.len()), Ok(Station::MOST));
        let long = format!("5 {}", "x".repeat(Stand::LINE_MOST - 2));
        assert!(read_stands(&long, KM, HALF).is_ok());
        assert!(read_stands(&format!("{long}x"), KM, HALF).is_err());
    }

    #[test]
    fn where_the_coach_stands_is_a_place_and_a_name() {
        let found = read_stands("finish\n8 km: bridge\n3 mi - the red barn, left side", KM, HALF).unwrap();
        let said: Vec<_> =
            found.iter().map(|one| format!("{} {} {}", one.at.value(), one.at.unit().symbol(), one.name)).collect();
        assert_eq!(said, ["3 mi the red barn, left side", "8 km bridge", "21.098 km finish"]);
    }

    proptest! {
        #[test]
        fn no_text_is_too_strange(text in "[0-9a-z:;,.\u{2013}() \n-]{0,40}|(?s).{0,40}") {
            if let Ok(found) = read_stations(&text, KM, HALF) {
                prop_assert!(found.windows(2).all(|pair| pair[0].at.distance() < pair[1].at.distance()));
                prop_assert!(found.iter().all(|one| one.at.distance() <= HALF));
            }
            drop(read_stands(&text, DistanceUnit::Mi, HALF));
        }
    }
}
