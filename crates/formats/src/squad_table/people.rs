//! From rows to athletes with their weeks, each problem with its place.

use std::collections::HashMap;

use chrono::{Datelike, NaiveDate};
use planning::notation::{
    Guess, Runner, read_amount, read_date, read_day, read_pace, read_results, read_week, read_weight, settled,
    with_years,
};
use planning::plain::{joined, many_lines, one_line};
use planning::problem::Expected;
use planning::week::WEEKDAYS;
use planning::{Athlete, BaseWeek, DistanceUnit, Field, Problem, ProblemKind, Weight, WeightUnit};

use super::cells::Table;
use super::columns::{Column, Columns};
use crate::zones;

/// The longest texts that are kept, in characters.
#[derive(Clone, Copy, Debug)]
pub struct Longest {
    /// The name of a group.
    pub group: usize,
    /// Notes, and the list of recent results.
    pub notes: usize,
    /// The line of a day.
    pub line: usize,
    /// A phone number.
    pub phone: usize,
    /// How many cautions.
    pub cautions: usize,
}

/// One row, read.
#[derive(Clone, Debug, PartialEq)]
pub struct TableAthlete {
    /// The row, as a spreadsheet counts: the first one is 1.
    pub row: usize,
    /// Name, units, pace, year of birth, time zone and cautions, as far as they can be read.
    pub athlete: Athlete,
    /// The group, or empty.
    pub group: String,
    /// Notes, or empty.
    pub notes: String,
    /// A phone number, or empty.
    pub phone: String,
    /// The weight, where one came that can be read.
    pub weight: Option<Weight>,
    /// Recent results, one a line, or empty.
    pub recent_results: String,
    /// The lines of the week, Monday first: as typed, or what is kept of those with one answer.
    pub lines: [String; 7],
    /// What of those lines nobody typed.
    pub guesses: [Guess; 7],
    /// The range of the week as typed, or empty.
    pub range: String,
    /// The week as far as it can be read.
    pub week: BaseWeek,
    /// Everything that is wrong, in the order of the columns.
    pub problems: Vec<CellProblem>,
}

impl TableAthlete {
    /// Whether a week came with the athlete.
    pub fn has_week(&self) -> bool {
        self.lines.iter().any(|line| !line.is_empty()) || !self.range.is_empty()
    }
}

/// What is wrong with a cell.
#[derive(Clone, Debug, PartialEq)]
pub struct CellProblem {
    /// The row, as a spreadsheet counts.
    pub row: usize,
    /// Who stands in the row, or empty.
    pub name: String,
    /// The index of the column; the first one of a name where none holds the cell.
    pub index: usize,
    /// What the column holds.
    pub column: Column,
    /// What stands in the cell.
    pub value: String,
    /// What is wrong with it.
    pub fault: CellFault,
}

/// Why a cell cannot be taken.
#[derive(Clone, Debug, PartialEq)]
pub enum CellFault {
    /// What `planning` finds.
    Kind(ProblemKind),
    /// Neither kilometres nor miles.
    Units,
    /// More lines than are kept.
    TooMany {
        /// How many.
        count: usize,
        /// How many are kept.
        most: usize,
    },
    /// The name of a row that adds the others up.
    Sums,
    /// A long number that a spreadsheet wrote in short, so that its last digits are gone.
    Shortened,
    /// The same name stands in an earlier row.
    NamedBefore {
        /// That row.
        row: usize,
    },
}

/// The names of all rows, some of which may be empty.
pub fn names(table: &Table, columns: &Columns) -> Vec<String> {
    let row = |index| Row { table, columns, index, problems: Vec::new() };
    columns.rows(table).map(|index| row(index).name()).collect()
}

/// Reads every row. `key` is the same for two names that mean the same athlete, `units_of` gives the units of
/// numbers without a unit where the row does not say them. Days of results without a year are the last ones up to `today`.
pub fn athletes(
    table: &Table,
    columns: &Columns,
    longest: Longest,
    key: impl Fn(&str) -> String,
    units_of: impl Fn(&str) -> DistanceUnit,
    today: NaiveDate,
) -> Vec<TableAthlete> {
    let mut named: HashMap<String, usize> = HashMap::new();
    let mut read: Vec<TableAthlete> = Vec::new();
    for index in columns.rows(table) {
        let mut row = Row { table, columns, index, problems: Vec::new() };
        let mut athlete = row.athlete(longest, &units_of, today);
        let key = key(&athlete.athlete.name);
        if !key.is_empty() {
            if let Some(before) = named.get(&key) {
                row.add(Column::Name, CellFault::NamedBefore { row: *before });
            } else {
                named.insert(key, index + 1);
            }
        }
        row.problems.sort_by_key(|problem| problem.index);
        athlete.problems = row.problems;
        read.push(athlete);
    }
    read
}

/// A row on its way.
struct Row<'a> {
    table: &'a Table,
    columns: &'a Columns,
    index: usize,
    problems: Vec<CellProblem>,
}

impl Row<'_> {
    fn cell(&self, column: Column) -> &str {
        self.columns.at(column).map_or("", |at| self.table.cell(self.index, at))
    }

    fn line(&self, column: Column) -> String {
        one_line(self.cell(column))
    }

    fn add(&mut self, column: Column, fault: CellFault) {
        let names = [Column::Name, Column::FirstName, Column::FamilyName];
        let mut at = self.columns.at(column).map(|at| (at, column));
        if names.contains(&column) {
            at = at.or_else(|| names.into_iter().find_map(|name| self.columns.at(name).map(|at| (at, name))));
        }
        let (index, column) = at.unwrap_or((0, column));
        let value = self.line(column);
        self.problems.push(CellProblem { row: self.index + 1, name: self.name(), index, column, value, fault });
    }

    fn check_length(&mut self, column: Column, text: &str, most: usize) {
        let length = text.chars().count();
        if length > most {
            self.add(column, CellFault::Kind(ProblemKind::TooLong { length, most }));
        }
    }

    fn name(&self) -> String {
        joined([Column::Name, Column::FirstName, Column::FamilyName].map(|column| self.line(column)), " ")
    }

    fn athlete(&mut self, longest: Longest, units_of: impl Fn(&str) -> DistanceUnit, today: NaiveDate) -> TableAthlete {
        let name = self.name();
        let units = self.units().unwrap_or_else(|| units_of(&name));
        let athlete = Athlete {
            easy_pace: self.read(Column::EasyPace, |text| read_pace(&without_hours(text), units)),
            birth_year: self.read(Column::BirthYear, birth_year),
            home_zone: self.read(Column::HomeZone, home_zone),
            cautions: self.cautions(longest.cautions),
            name,
            units,
            ..Athlete::default()
        };
        for problem in athlete.problems() {
            let column = if problem.at == Field::BirthYear { Column::BirthYear } else { Column::Name };
            self.add(column, CellFault::Kind(problem.kind));
        }
        if adds_up(&athlete.name) {
            self.add(Column::Name, CellFault::Sums);
        }
        let group = self.line(Column::Group);
        let phone = without_formula(&self.line(Column::Phone)).to_owned();
        if is_shortened(&phone) {
            self.add(Column::Phone, CellFault::Shortened);
        }
        let notes = many_lines(self.cell(Column::Notes));
        self.check_length(Column::Group, &group, longest.group);
        self.check_length(Column::Notes, &notes, longest.notes);
        self.check_length(Column::Phone, &phone, longest.phone);
        let weight = self.weight(units);
        let recent_results = self.recent_results(longest.notes, today, units);
        let mut lines = WEEKDAYS.map(|day| self.line(Column::Day(day)));
        let guesses = lines.each_mut().map(|line| settle(line, Runner::from(&athlete)));
        let range = self.line(Column::Range);
        let week = self.week(&lines, &range, Runner::from(&athlete), longest.line);
        let (row, problems) = (self.index + 1, Vec::new());
        TableAthlete {
            row,
            athlete,
            group,
            notes,
            phone,
            weight,
            recent_results,
            lines,
            guesses,
            range,
            week,
            problems,
        }
    }

    /// One a line, or parted by semicolons.
    fn cautions(&mut self, most: usize) -> Vec<String> {
        let lines = self.several(Column::Cautions);
        let longest = lines.iter().max_by_key(|line| line.chars().count()).cloned().unwrap_or_default();
        self.check_length(Column::Cautions, &longest, Athlete::CAUTION_MOST);
        if lines.len() > most {
            self.add(Column::Cautions, CellFault::TooMany { count: lines.len(), most });
        }
        lines
    }

    /// The weight; a number alone is in the unit that the head names, else in the one beside the athlete's units.
    fn weight(&mut self, units: DistanceUnit) -> Option<Weight> {
        let head = self.head(Column::Weight).to_lowercase();
        let unit = match () {
            () if head.contains("kg") => WeightUnit::Kg,
            () if head.contains("lb") => WeightUnit::Lb,
            () => WeightUnit::beside(units),
        };
        self.read(Column::Weight, |text| read_weight(text, unit))
    }

    fn recent_results(&mut self, longest: usize, today: NaiveDate, units: DistanceUnit) -> String {
        let text = with_years(&self.several(Column::RecentResults).join("\n"), today, units);
        self.check_length(Column::RecentResults, &text, longest);
        for problem in read_results(&text).err().unwrap_or_default() {
            self.add(Column::RecentResults, CellFault::Kind(problem.kind));
        }
        text
    }

    /// The lines of a cell, or what semicolons part in it.
    fn several(&self, column: Column) -> Vec<String> {
        let lines = self.cell(column).split(['\n', '\r', ';']).map(one_line);
        lines.filter(|line| !line.is_empty()).collect()
    }

    fn head(&self, column: Column) -> &str {
        let place = self.columns.heads.zip(self.columns.at(column));
        place.map_or("", |(row, at)| self.table.cell(row, at))
    }

    fn units(&mut self) -> Option<DistanceUnit> {
        let text = self.line(Column::Units);
        match text.to_lowercase().as_str() {
            "" => None,
            "km" | "kilometre" | "kilometres" | "kilometer" | "kilometers" => Some(DistanceUnit::Km),
            "mi" | "mile" | "miles" => Some(DistanceUnit::Mi),
            _ => {
                self.add(Column::Units, CellFault::Units);
                None
            }
        }
    }

    /// Nothing where nothing stands; what cannot be read is kept as a problem.
    fn read<T>(&mut self, column: Column, read: impl Fn(&str) -> Result<T, ProblemKind>) -> Option<T> {
        let text = self.line(column);
        if text.is_empty() {
            return None;
        }
        read(&text).map_err(|kind| self.add(column, CellFault::Kind(kind))).ok()
    }

    fn week(&mut self, lines: &[String; 7], range: &str, runner: Runner, longest: usize) -> BaseWeek {
        for (day, line) in WEEKDAYS.into_iter().zip(lines) {
            self.check_length(Column::Day(day), line, longest);
        }
        let texts = lines.each_ref().map(String::as_str);
        match read_week(&texts, range, runner) {
            Ok(week) => week,
            Err(found) => {
                for problem in found {
                    self.add_of_week(problem);
                }
                let days = texts.map(|line| read_day(line, runner).unwrap_or_default());
                BaseWeek::new(days, read_amount(range, runner.units).ok())
            }
        }
    }

    fn add_of_week(&mut self, problem: Problem) {
        let column = match problem.at {
            Field::Session(day, _) => Column::Day(day),
            _ => Column::Range,
        };
        self.add(column, CellFault::Kind(problem.kind));
    }
}

/// Puts what is kept of a line in its place; says what of it nobody typed.
fn settle(line: &mut String, runner: Runner) -> Guess {
    let Some(offer) = settled(line, runner) else { return Guess::Nothing };
    *line = offer.line;
    offer.guess
}

fn home_zone(text: &str) -> Result<String, ProblemKind> {
    let unknown = || ProblemKind::Unreadable { text: text.to_owned(), expected: Expected::Zone };
    zones::read(text).map(str::to_owned).ok_or_else(unknown)
}

/// A year, or the year of a day: which of two days it may be does not matter for it.
fn birth_year(text: &str) -> Result<i32, ProblemKind> {
    let of_date = |text: &str| match read_date(text) {
        Ok(date) | Err(ProblemKind::TwoDates { day_first: date, .. }) => Some(date.year()),
        Err(_) => None,
    };
    let year = of_date(text).or_else(|| of_date(&with_century(text)?)).or_else(|| text.parse().ok());
    year.ok_or_else(|| ProblemKind::Unreadable { text: text.to_owned(), expected: Expected::Year })
}

/// `3/4/88` with its whole year: nobody who runs was born before 1931, and nobody after 2030 yet.
fn with_century(text: &str) -> Option<String> {
    let (before, year) = text.rsplit_once(['/', '.', '-', ' '])?;
    let year: i32 = year.parse().ok().filter(|_| year.len() == 2)?;
    let mark = &text[before.len()..=before.len()];
    Some(format!("{before}{mark}{}", if year > 30 { 1900 + year } else { 2000 + year }))
}

/// Whether a row is no person's but adds the others up, as many a list ends.
fn adds_up(name: &str) -> bool {
    const SUMS: [&str; 9] = ["total", "totals", "sum", "sums", "average", "averages", "mean", "avg", "squad total"];
    let name = name.trim_end_matches([':', '.']);
    SUMS.iter().any(|sum| name.eq_ignore_ascii_case(sum))
}

/// `=+44…` and `="07…"`, by which people make a spreadsheet keep a number as it is: the number.
fn without_formula(text: &str) -> &str {
    text.strip_prefix('=').map_or(text, |number| number.trim().trim_matches('"'))
}

/// `7.7009E+09`: a long number as a spreadsheet writes it in a narrow column, its last digits lost.
fn is_shortened(text: &str) -> bool {
    let is_digits = |text: &str| !text.is_empty() && text.bytes().all(|one| one.is_ascii_digit());
    text.split_once(['E', 'e']).is_some_and(|(number, power)| {
        is_digits(power.trim_start_matches('+')) && is_digits(&number.replace(['.', ','], ""))
    })
}

/// A pace that a spreadsheet took for a time of day: `5:40:00` is 5:40.
fn without_hours(text: &str) -> String {
    let parts: Vec<&str> = text.split(':').collect();
    match parts.as_slice() {
        [minutes, seconds, "00"] => format!("{minutes}:{seconds}"),
        ["0" | "00", minutes, seconds] => format!("{minutes}:{seconds}"),
        _ => text.to_owned(),
    }
}
