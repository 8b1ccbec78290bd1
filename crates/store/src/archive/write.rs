//! Rows to text.

use serde_json::Value;
use sqlx::sqlite::SqliteRow;
use sqlx::{AssertSqlSafe, Row, SqliteConnection};

use super::ArchiveFile;
use super::tables::{Column, Kind, Table};
use crate::cell::Place;
use crate::{Result, StoreError};

/// One table as text.
pub(super) async fn file(db: &mut SqliteConnection, table: &Table) -> Result<ArchiveFile> {
    let told: Vec<&Column> = table.columns.iter().filter(|column| column.is_told()).collect();
    let names: Vec<&'static str> = told.iter().map(|column| column.name).collect();
    let sql = format!("SELECT {} FROM {} ORDER BY 1, 2", names.join(", "), table.name);
    let found = sqlx::query(AssertSqlSafe(sql)).fetch_all(db).await?;
    let (mut lines, mut rows) = (Vec::new(), Vec::new());
    for row in found {
        let mut values = Vec::with_capacity(told.len());
        for (index, column) in told.iter().enumerate() {
            values.push(value(&row, index, column, table.name)?);
        }
        lines.push(record(&told, &values));
        let cells = told.iter().zip(&values).filter(|(column, _)| is_for_people(column));
        rows.push(cells.map(|(_, value)| for_people(value)).collect());
    }
    let header = told.iter().filter(|column| is_for_people(column)).map(|column| column.name).collect();
    let json = if lines.is_empty() { "[]\n".to_owned() } else { format!("[\n{}\n]\n", lines.join(",\n")) };
    Ok(ArchiveFile { name: table.file, json, header, rows })
}

fn is_for_people(column: &Column) -> bool {
    !["document", "before_events"].contains(&column.name)
}

fn for_people(value: &Value) -> String {
    match value {
        Value::Null => String::new(),
        Value::String(text) => text.clone(),
        Value::Array(list) if list.iter().all(Value::is_string) => {
            list.iter().filter_map(Value::as_str).collect::<Vec<_>>().join("; ")
        }
        other => other.to_string(),
    }
}

/// One record on one line, its fields in the order of the table.
fn record(columns: &[&Column], values: &[Value]) -> String {
    let fields = columns.iter().zip(values).map(|(column, value)| format!("\"{}\":{value}", column.name));
    format!("{{{}}}", fields.collect::<Vec<_>>().join(","))
}

fn value(row: &SqliteRow, index: usize, column: &Column, table: &'static str) -> Result<Value> {
    let text = || row.try_get::<Option<String>, _>(index).map_err(StoreError::from);
    let whole = || row.try_get::<Option<i64>, _>(index).map_err(StoreError::from);
    Ok(match column.kind {
        Kind::Whole => whole()?.map_or(Value::Null, Value::from),
        Kind::Flag => whole()?.map_or(Value::Null, |value| Value::from(value != 0)),
        Kind::Real => row.try_get::<Option<f64>, _>(index).map_err(StoreError::from)?.map_or(Value::Null, Value::from),
        Kind::Json => match text()? {
            Some(text) => serde_json::from_str(&text)
                .map_err(|error| Place::new(table, row.try_get(0).unwrap_or(0)).corrupt(column.name, error))?,
            None => Value::Null,
        },
        Kind::Text | Kind::Name | Kind::Day | Kind::Instant | Kind::Key => text()?.map_or(Value::Null, Value::from),
    })
}
