//! What is wrong with a list of athletes that was pasted.

use crate::squad_table::{CellFault, CellProblem, Column, MOST_BYTES, MOST_COLUMNS, MOST_ROWS, TableProblem};

use super::dates::weekday;
use super::problems::{problem_kind, quote};
use super::sentence;

/// What a column holds: `easy pace`, `Tuesday`.
pub fn table_column(column: Column) -> &'static str {
    match column {
        Column::Name => "name",
        Column::FirstName => "first name",
        Column::FamilyName => "family name",
        Column::Group => "group",
        Column::Units => "units",
        Column::EasyPace => "easy pace",
        Column::BirthYear => "year of birth",
        Column::Day(day) => weekday(day),
        Column::Range => "range of the week",
        Column::Notes => "notes",
        Column::Phone => "phone",
        Column::Weight => "weight",
        Column::HomeZone => "time zone at home",
        Column::Cautions => "cautions",
        Column::RecentResults => "recent results",
    }
}

/// Why a text is no list of athletes, and what would be right.
pub fn table_problem(problem: &TableProblem) -> String {
    match problem {
        TableProblem::Empty => {
            "No athlete stands in it. Copy the rows from your spreadsheet and paste them here, or choose a file."
                .to_owned()
        }
        TableProblem::TooLarge => {
            format!("This is more than {} MB. Bring the list in in several parts.", MOST_BYTES / 1024 / 1024)
        }
        TableProblem::NotText => {
            "This is not text. Save the spreadsheet as CSV, or copy its rows and paste them here.".to_owned()
        }
        TableProblem::OpenQuote { row } => format!(
            "Row {row}: a cell begins with a quotation mark that is never closed. Close it, or take it away; then read \
             the list again."
        ),
        TableProblem::TooManyRows { count } => {
            format!("{count} rows are too many at once; at most {MOST_ROWS}. Bring the list in in several parts.")
        }
        TableProblem::TooManyColumns { row, count } => format!(
            "Row {row} has {count} columns; at most {MOST_COLUMNS} are read. Leave out what is not needed here, or say \
             what parts the cells."
        ),
        TableProblem::NoNames => {
            "No column holds the names. Say below which one does: choose “name” for it, then read the list again."
                .to_owned()
        }
        TableProblem::SameColumn { column } => format!(
            "Two columns are said to hold the same, {}. Choose it for one of them, then read the list again.",
            table_column(*column)
        ),
    }
}

/// The row of a cell as its athlete's coach finds it: `row 7, Ama Boateng`; only the row where the cell is the name.
pub fn table_row(problem: &CellProblem) -> String {
    let is_name = matches!(problem.column, Column::Name | Column::FirstName | Column::FamilyName);
    match quote(&problem.name) {
        name if is_name || name.is_empty() => format!("row {}", problem.row),
        name => format!("row {}, {name}", problem.row),
    }
}

/// What is wrong with a cell: row, athlete, column, what stands there, what would be right.
pub fn cell_problem(problem: &CellProblem) -> String {
    let what = match &problem.fault {
        CellFault::Kind(kind) => problem_kind(kind),
        CellFault::Units => "is neither kilometres nor miles; write km or mi".to_owned(),
        CellFault::TooMany { count, most } => format!("holds {count} lines; at most {most} are kept"),
        CellFault::Sums => {
            "looks like a row that adds the others up, so it is left out; write the whole name if somebody \
                            is called so"
                .to_owned()
        }
        CellFault::Shortened => {
            "is a number that the spreadsheet wrote in short, and its last digits are gone; write the \
                                 whole number, or give the column the format “text” there"
                .to_owned()
        }
        CellFault::NamedBefore { row } => {
            format!("stands in row {row} already; give one of the two a name that tells them apart")
        }
    };
    let column = table_column(problem.column);
    let value = match quote(&problem.value) {
        value if value.is_empty() => String::new(),
        value => format!("“{value}”"),
    };
    let place = format!("{}, {column}", table_row(problem));
    sentence(&match &problem.fault {
        // The value is told once, by whoever tells it in full.
        _ if value.is_empty() || what.starts_with(&value) => format!("{place}: {what}"),
        CellFault::Kind(_) => format!("{place}, {value}: {what}"),
        _ => format!("{place}: {value} {what}"),
    })
}
