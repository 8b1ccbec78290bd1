//! The same list written as a table.

use planning::week::{WEEKDAYS, weekday_code};

use crate::table;

/// One athlete with the week, each cell as typed.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
#[expect(missing_docs, reason = "the names say it")]
pub struct TableRow {
    pub name: String,
    pub group: String,
    /// `km` or `mi`.
    pub units: String,
    pub easy_pace: String,
    pub birth_year: String,
    /// Monday first.
    pub lines: [String; 7],
    pub range: String,
    pub notes: String,
}

impl TableRow {
    /// The cells, in the order of [`head`].
    pub fn cells(&self) -> Vec<&str> {
        let Self { name, group, units, easy_pace, birth_year, lines, range, notes } = self;
        let before = [name, group, units, easy_pace, birth_year];
        before.into_iter().chain(lines).chain([range, notes]).map(String::as_str).collect()
    }
}

/// The heads, in the order of [`TableRow::cells`].
pub(super) fn head() -> Vec<&'static str> {
    let days = WEEKDAYS.into_iter().map(weekday_code);
    let before = ["name", "group", "units", "easy pace", "birth year"];
    before.into_iter().chain(days).chain(["week range", "notes"]).collect()
}

/// Writes [a table](table) that [`super::read`] reads back.
pub fn write(rows: &[TableRow]) -> String {
    table::write(&head(), rows.iter().map(TableRow::cells))
}

/// Three invented people, as an example of such a list.
pub fn sample() -> Vec<TableRow> {
    let row = |name: &str, group: &str, [units, easy_pace, birth_year]: [&str; 3], lines: [&str; 7], range: &str| {
        let text = str::to_owned;
        let lines = lines.map(text);
        TableRow {
            name: text(name),
            group: text(group),
            units: text(units),
            easy_pace: text(easy_pace),
            birth_year: text(birth_year),
            lines,
            range: text(range),
            notes: String::new(),
        }
    };
    vec![
        row(
            "Ines Marlow",
            "Tuesday track",
            ["km", "5:40", "1991"],
            ["", "6 x 800 m 10k pace, 10 km", "7", "tempo 9, hard 4", "rest", "6", "long 16"],
            "",
        ),
        row(
            "Tobias Fenn",
            "Tuesday track",
            ["km", "", ""],
            ["8", "", "7-9", "hills 9", "", "5 + strength 30", "18"],
            "46-50",
        ),
        row(
            "Ruth Oakley",
            "Half marathon",
            ["mi", "9:10", "1978"],
            ["", "5", "4", "tempo 6, hard 3", "", "4", "long 11"],
            "",
        ),
    ]
}
