//! Text to rows: everything that is wrong is found before anything is written.

use chrono::DateTime;
use serde_json::{Map, Value};

use super::tables::{Column, Kind, Table};
use super::{ArchiveProblem, WrongField, cleaned};
use crate::cell::{day_text, instant_text, read_day};

/// What goes into one column.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Cell {
    Nothing,
    Whole(i64),
    Real(f64),
    Text(String),
}

impl Cell {
    /// The value as a message quotes it.
    pub(super) fn shown(&self) -> String {
        match self {
            Self::Nothing => String::new(),
            Self::Whole(value) => value.to_string(),
            Self::Real(value) => value.to_string(),
            Self::Text(text) => cut(text),
        }
    }
}

/// What a message quotes at most, in characters.
const QUOTED_MOST: usize = 60;

fn cut(text: &str) -> String {
    if text.chars().count() <= QUOTED_MOST {
        return text.to_owned();
    }
    text.chars().take(QUOTED_MOST).chain(['…']).collect()
}

/// The rows that a file holds, each with a cell for every column of its table.
pub(super) fn rows_of(table: &Table, text: &str) -> Result<Vec<Vec<Cell>>, ArchiveProblem> {
    let text = text.strip_prefix('\u{FEFF}').unwrap_or(text);
    let read: Value = serde_json::from_str(text)
        .map_err(|error| ArchiveProblem::Syntax { line: error.line(), column: error.column() })?;
    let Value::Array(records) = read else {
        return Err(ArchiveProblem::NoRecords);
    };
    let mut rows = Vec::with_capacity(records.len());
    for (index, record) in records.into_iter().enumerate() {
        let Value::Object(record) = record else {
            return Err(ArchiveProblem::NoRecords);
        };
        rows.push(row(table, index + 1, record)?);
    }
    Ok(rows)
}

fn row(table: &Table, number: usize, mut record: Map<String, Value>) -> Result<Vec<Cell>, ArchiveProblem> {
    let wrong = |field: &str, value: &Value, wrong: WrongField| ArchiveProblem::Field {
        record: number,
        field: field.to_owned(),
        value: if value.is_null() { String::new() } else { cut(value.as_str().unwrap_or(&value.to_string())) },
        wrong,
    };
    let name = record.get("name").and_then(Value::as_str).unwrap_or_default().to_owned();
    let mut cells = Vec::with_capacity(table.columns.len());
    for column in table.columns {
        if !column.is_told() {
            cells.push(Cell::Text(cleaned(column.kind, &name)));
            continue;
        }
        let value = record.remove(column.name).unwrap_or(Value::Null);
        cells.push(cell(column, &value).map_err(|kind| wrong(column.name, &value, kind))?);
    }
    match record.into_iter().next() {
        Some((field, value)) => Err(wrong(&field, &value, WrongField::Unknown)),
        None => Ok(cells),
    }
}

fn cell(column: &Column, value: &Value) -> Result<Cell, WrongField> {
    if value.is_null() {
        return if column.optional { Ok(Cell::Nothing) } else { Err(WrongField::Missing) };
    }
    let text = || value.as_str().ok_or(WrongField::NotText);
    Ok(match column.kind {
        Kind::Whole => Cell::Whole(value.as_i64().ok_or(WrongField::NotWhole)?),
        Kind::Real => Cell::Real(value.as_f64().ok_or(WrongField::NotNumber)?),
        Kind::Flag => Cell::Whole(value.as_bool().ok_or(WrongField::NotFlag)?.into()),
        Kind::Text | Kind::Name | Kind::Key => Cell::Text(cleaned(column.kind, text()?)),
        Kind::Day => {
            let day = read_day(text()?).ok_or(WrongField::NotDay)?;
            Cell::Text(day_text(day))
        }
        Kind::Instant => {
            let instant = DateTime::parse_from_rfc3339(text()?).map_err(|_| WrongField::NotInstant)?;
            Cell::Text(instant_text(instant.to_utc()))
        }
        Kind::Json if value.is_array() || value.is_object() => Cell::Text(value.to_string()),
        Kind::Json => return Err(WrongField::NotJson),
    })
}
