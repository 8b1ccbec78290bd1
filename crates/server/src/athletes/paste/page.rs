//! The page: the list as text, and what it would bring.

use askama::Template;
use formats::squad_table::{CellProblem, Column, Separator, TableAthlete, TableRow, sample};
use formats::words;
use planning::DistanceUnit;
use planning::notation::Guess;
use planning::week::WEEKDAYS;
use store::NamedAthlete;

use super::reading::{Reading, Row, Would, facts};
use super::typed::{AS_FOUND, Typed, first_line};
use crate::form::{Choice, Problems};
use crate::render::{Area, Layout, Page};
use crate::shown::capital;
use crate::weeks::{Answer, Offered};

/// So many cells can be put right on the page at once; the others in the text.
const FIXED_AT_ONCE: usize = 40;

/// A list of athletes, and what it would bring.
#[derive(Template)]
#[template(path = "athletes/paste.html")]
pub(crate) struct PastePage {
    layout: Layout,
    text: String,
    once: String,
    problems: Problems,
    /// Why nothing was saved although it was asked for.
    told: Option<&'static str>,
    preview: Option<Preview>,
}

/// What was read.
struct Preview {
    separator: &'static str,
    heads: &'static str,
    chosen_for: String,
    read: String,
    columns: Vec<ColumnView>,
    /// Which columns are left out, in a sentence; empty where all are taken.
    left_out: String,
    people: Vec<Person>,
    fixes: Vec<Fix>,
    /// Cells that are wrong and have no field of their own.
    more: usize,
}

/// One column, and what it is taken for.
struct ColumnView {
    index: usize,
    /// What stands over it: its head, or which one it is.
    head: String,
    /// The first cell below it.
    example: String,
    code: &'static str,
}

/// One row that can be looked at.
struct Person {
    row: usize,
    name: String,
    facts: String,
    /// The week in a sentence.
    week: String,
    /// How each day was read; empty where no week came.
    days: Vec<DayRead>,
    /// What would be done, or why nothing is.
    would: String,
    /// The week that is kept now.
    now: String,
    ticked: bool,
    /// What ticking it does; empty where there is nothing to tick.
    label: &'static str,
    is_new: bool,
    is_wrong: bool,
}

/// One day of a week, in the program's words.
struct DayRead {
    /// `Mon`
    day: &'static str,
    reading: String,
    is_unread: bool,
}

/// One cell that is wrong.
struct Fix {
    /// Row and column from 0.
    place: String,
    label: String,
    value: String,
    sentences: Vec<String>,
    /// Lines that are offered for a day.
    offered: Vec<Offered>,
}

impl Person {
    fn of(row: &Row, usual: DistanceUnit) -> Self {
        let one = &row.athlete;
        let week = if one.has_week() {
            words::seven_days(one.week.first(), one.week.range(), one.athlete.units, one.athlete.easy_pace)
        } else {
            "No week in this row.".to_owned()
        };
        let kept = |known: &NamedAthlete| match known.week.saved {
            Some(_) => words::usual_week(&known.week.week, known.units, None),
            None => "No base week yet.".to_owned(),
        };
        let (would, now, label) = match &row.would {
            Would::Add => ("New.".to_owned(), String::new(), "Add"),
            Would::Replace(known) => (
                match known.week.second {
                    Some(_) => {
                        "Is in the squad with two weeks that take turns; the new one would stand in place of both."
                    }
                    None if known.week.saved.is_none() => "Is in the squad without a base week.",
                    None => "Is in the squad with another week.",
                }
                .to_owned(),
                kept(known),
                "Take the new week",
            ),
            Would::Same(_) => ("Is in the squad with this week already.".to_owned(), String::new(), ""),
            Would::NoWeek(known) => ("Is in the squad, and stays as it is.".to_owned(), kept(known), ""),
            Would::Several(all) => (
                format!(
                    "{} athletes of the squad are called so: change the week on the athlete's own page.",
                    all.len()
                ),
                String::new(),
                "",
            ),
            Would::Wrong => ("Is left out until it is put right.".to_owned(), String::new(), ""),
        };
        Self {
            row: one.row,
            name: one.athlete.name.clone(),
            facts: facts(one, usual),
            week,
            days: days_read(one),
            would,
            now,
            ticked: row.ticked,
            label,
            is_new: row.would == Would::Add,
            is_wrong: row.would == Would::Wrong,
        }
    }
}

/// Each day as it was read.
fn days_read(one: &TableAthlete) -> Vec<DayRead> {
    if !one.has_week() {
        return Vec::new();
    }
    let day = |weekday| {
        let is_unread = one.problems.iter().any(|problem| problem.column == Column::Day(weekday));
        let slots = one.week.first().day(weekday);
        let reading = match one.guesses[weekday.num_days_from_monday() as usize] {
            _ if is_unread => "not read".to_owned(),
            Guess::Nothing => words::day(slots),
            _ => format!("{} (the whole run is an estimate)", words::day(slots)),
        };
        DayRead { day: words::weekday_short(weekday), reading, is_unread }
    };
    WEEKDAYS.into_iter().map(day).collect()
}

/// The columns with something in them that are not taken, in a sentence.
fn left_out(reading: &Reading) -> String {
    let (table, columns) = (&reading.table, &reading.columns);
    let holds = |index: usize| columns.rows(table).any(|row| !table.cell(row, index).trim().is_empty());
    let names: Vec<String> = (0..columns.of.len())
        .filter(|index| columns.of[*index].is_none() && holds(*index))
        .map(|index| match columns.heads.map_or("", |row| table.cell(row, index)).trim() {
            "" => format!("column {}", index + 1),
            head => format!("“{}”", words::quote(head)),
        })
        .collect();
    match names.as_slice() {
        [] => String::new(),
        [one] => format!("Not taken: {one}. What stands in this column stays in your list."),
        several => format!("Not taken: {}. What stands in these columns stays in your list.", words::list(several)),
    }
}

impl Preview {
    fn of(reading: &Reading, typed: &Typed, usual: DistanceUnit) -> Self {
        let table = &reading.table;
        let first_athlete = reading.columns.rows(table).next();
        let columns = reading.columns.of.iter().enumerate().map(|(index, column)| {
            let head = reading.columns.heads.map_or("", |row| table.cell(row, index)).trim();
            ColumnView {
                index,
                head: if head.is_empty() { format!("Column {}", index + 1) } else { words::quote(head) },
                example: first_athlete.map_or_else(String::new, |row| words::quote(table.cell(row, index))),
                code: column.map_or(AS_FOUND, Column::code),
            }
        });
        let (fixes, more) = fixes(reading);
        Self {
            separator: table.separator.code(),
            heads: if reading.columns.heads.is_some() { "yes" } else { "no" },
            chosen_for: first_line(&typed.text),
            read: reading.digest.clone(),
            columns: columns.collect(),
            left_out: left_out(reading),
            people: reading.rows().iter().map(|row| Person::of(row, usual)).collect(),
            fixes,
            more,
        }
    }

    fn ticked(&self) -> usize {
        self.people.iter().filter(|person| person.ticked).count()
    }

    /// Whether anybody could be brought in.
    fn any(&self) -> bool {
        self.people.iter().any(|person| !person.label.is_empty())
    }

    /// How it went, in a sentence or two.
    fn counted(&self) -> String {
        let athletes = words::plural(self.people.len(), "athlete");
        let count = |what: &dyn Fn(&&Person) -> bool| self.people.iter().filter(what).count();
        let new = count(&|person| person.is_new);
        let wrong = count(&|person| person.is_wrong);
        let known = self.people.len() - new - wrong;
        let mut parts = vec![format!("{new} new")];
        if known > 0 {
            parts.push(format!("{known} in the squad already"));
        }
        if wrong > 0 {
            parts.push(format!("{wrong} with something to put right"));
        }
        format!("{athletes} in the list: {}. Nothing is saved yet.", words::list(&parts))
    }
}

/// What is offered for a day that cannot be read.
fn offered(reading: &Reading, problem: &CellProblem) -> Vec<Offered> {
    let row = reading.rows().iter().find(|row| row.athlete.row == problem.row);
    match (problem.column, row) {
        (Column::Day(day), Some(row)) => {
            let at = day.num_days_from_monday() as usize;
            Answer::of(&row.athlete.lines[at], &row.athlete.athlete).asked().to_vec()
        }
        _ => Vec::new(),
    }
}

/// The fields for cells that are wrong, and how many cells have none.
fn fixes(reading: &Reading) -> (Vec<Fix>, usize) {
    let mut fixes: Vec<Fix> = Vec::new();
    let mut more = 0;
    for problem in reading.problems() {
        let place = format!("{}-{}", problem.row - 1, problem.index);
        let sentence = words::cell_problem(problem);
        if let Some(fix) = fixes.iter_mut().find(|fix| fix.place == place) {
            fix.sentences.push(sentence);
        } else if fixes.len() < FIXED_AT_ONCE {
            fixes.push(Fix {
                place,
                label: capital(&format!("{}, {}", words::table_row(problem), words::table_column(problem.column))),
                value: reading.table.cell(problem.row - 1, problem.index).to_owned(),
                sentences: vec![sentence],
                offered: offered(reading, problem),
            });
        } else {
            more += 1;
        }
    }
    (fixes, more)
}

impl PastePage {
    pub(super) fn new(
        layout: Layout,
        typed: Typed,
        read: Option<Result<Reading, String>>,
        usual: DistanceUnit,
    ) -> Self {
        let mut problems = Problems::default();
        let preview = match read {
            None => None,
            Some(Ok(reading)) => {
                if let Err(problem) = &reading.rows {
                    problems.add("columns", words::table_problem(problem));
                }
                Some(Preview::of(&reading, &typed, usual))
            }
            Some(Err(sentence)) => {
                problems.add("text", sentence);
                None
            }
        };
        Self { layout: layout.at(Area::Athletes), text: typed.text, once: typed.once, problems, told: None, preview }
    }

    pub(super) fn saying(mut self, told: Option<&'static str>) -> Self {
        self.told = told;
        self
    }

    /// How much of the text is to be seen at once.
    fn text_rows(&self) -> usize {
        self.text.lines().count().clamp(8, 16)
    }

    fn separators() -> Vec<Choice> {
        Separator::ALL.map(|one| Choice::new(one.code(), capital(one.code()))).into()
    }

    fn heads_choices() -> Vec<Choice> {
        vec![Choice::new("yes", "Heads of the columns"), Choice::new("no", "The first athlete")]
    }

    fn column_choices() -> Vec<Choice> {
        let all = Column::all().map(|column| Choice::new(column.code(), capital(words::table_column(column))));
        std::iter::once(Choice::new(AS_FOUND, "Not taken")).chain(all).collect()
    }

    /// The heads of the days in the sample.
    const fn days() -> [&'static str; 7] {
        ["Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"]
    }

    fn sample_rows() -> Vec<TableRow> {
        sample()
    }
}

impl Page for PastePage {
    #[cfg(test)]
    fn samples() -> Vec<Self> {
        let person = |row: usize, label: &'static str, is_wrong: bool| Person {
            row,
            name: format!("Ana <b>{row}"),
            facts: "Track <b>, miles".to_owned(),
            week: "40 km on 5 running days; none of it hard.".to_owned(),
            days: vec![
                DayRead { day: "Mon", reading: "easy 8 km; <b>".to_owned(), is_unread: false },
                DayRead { day: "Tue", reading: "not read".to_owned(), is_unread: true },
            ],
            would: "Is in the squad with another week.".to_owned(),
            now: "38 km".to_owned(),
            ticked: label == "Add",
            label,
            is_new: label == "Add",
            is_wrong,
        };
        let column =
            |index, code| ColumnView { index, head: "Shoe <b>".to_owned(), example: "\"42<b>".to_owned(), code };
        let preview = || Preview {
            separator: "tab",
            heads: "yes",
            chosen_for: "1f".to_owned(),
            read: "2a".to_owned(),
            columns: vec![column(0, "name"), column(1, "")],
            left_out: "Not taken: “Shoe <b>”.".to_owned(),
            people: vec![person(2, "Add", false), person(3, "Take the new week", false), person(4, "", true)],
            fixes: vec![Fix {
                place: "3-1".to_owned(),
                label: "Row 4, Ana <b>, Monday".to_owned(),
                value: "7 <b>".to_owned(),
                sentences: vec!["Row 4, Monday: <b>.".to_owned()],
                offered: Answer::of("7 furlongs <b>", DistanceUnit::Km).asked().to_vec(),
            }],
            more: 3,
        };
        let page = |problem: Option<(&str, &str)>, preview| {
            let mut problems = Problems::default();
            if let Some((at, sentence)) = problem {
                problems.add(at, sentence);
            }
            let layout = Layout::plain().at(Area::Athletes);
            Self { layout, text: "<b>\n</textarea>".to_owned(), once: "1".to_owned(), problems, told: None, preview }
        };
        vec![
            page(None, None),
            page(Some(("text", "Nothing <b> in it.")), None),
            page(None, Some(preview())),
            page(Some(("columns", "No column holds names.")), Some(preview())).saying(Some("Look again.")),
        ]
    }
}
