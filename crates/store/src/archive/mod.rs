//! The whole squad as text, and back into an empty data file.
//!
//! One file a table: a JSON list, one record a line, its fields in the order of [`tables`]. The same
//! squad gives the same bytes, wherever it lies. Links to athletes do not leave: they are secrets.

mod read;
mod tables;
mod write;

use chrono::{DateTime, Utc};
use planning::{Block, Race};
use sqlx::{AssertSqlSafe, SqliteConnection};
use uuid::Uuid;

use self::read::{Cell, rows_of};
use self::tables::{Kind, Rows, TABLES, Table};
use crate::athletes::{every_athlete, name_key};
use crate::blocks::read_document;
use crate::once::{self, Made};
use crate::races::every_race;
use crate::{BlockId, Result, Store, StoreError};

/// One table of an export.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ArchiveFile {
    /// Its name, without an ending: `athletes`.
    pub name: &'static str,
    /// Everything, to be read back.
    pub json: String,
    /// The names of the columns that a table for people has.
    pub header: Vec<&'static str>,
    /// The same rows for people; documents are left out.
    pub rows: Vec<Vec<String>>,
}

/// A block as it is now, and whose it is.
#[derive(Clone, Debug, PartialEq)]
pub struct PresentBlock {
    /// Its id.
    pub id: BlockId,
    /// The athlete's name.
    pub athlete: String,
    /// The race's name; may be empty.
    pub race: String,
    /// Its days.
    pub block: Block,
}

/// What is wrong with one file of an export that is brought in.
#[derive(Clone, Debug, PartialEq)]
pub enum ArchiveProblem {
    /// The file is not there.
    NoFile,
    /// It is not JSON.
    Syntax {
        /// Line, from 1.
        line: usize,
        /// Column, from 1.
        column: usize,
    },
    /// It is JSON, but no list of records.
    NoRecords,
    /// A file that has one record has more, or none.
    NotOne {
        /// How many it has.
        count: usize,
    },
    /// One field of a record is wrong.
    Field {
        /// The record, from 1.
        record: usize,
        /// The field by its name in the file.
        field: String,
        /// What stands there, cut where it is long; empty where nothing does.
        value: String,
        /// What is wrong.
        wrong: WrongField,
    },
    /// A record points at another that is not there.
    PointsNowhere {
        /// The record, from 1.
        record: usize,
    },
    /// A record stands there twice.
    Twice {
        /// The second of them, from 1.
        record: usize,
    },
}

/// What is wrong with a field.
#[derive(Clone, Debug, PartialEq)]
pub enum WrongField {
    /// It is missing.
    Missing,
    /// No such field is known.
    Unknown,
    /// Not a whole number.
    NotWhole,
    /// Not a number.
    NotNumber,
    /// Not text.
    NotText,
    /// Not true or false.
    NotFlag,
    /// Not a day written `2027-05-09`.
    NotDay,
    /// Not an instant written `2027-05-09T07:30:00.000000Z`.
    NotInstant,
    /// Neither a list nor an object.
    NotJson,
    /// Outside what this field may hold.
    NotAllowed,
    /// What planning finds wrong with it.
    Refused(Vec<planning::Problem>),
}

/// The file of an export that holds the records of a table, and the field that tells them apart; nothing
/// for a table that does not leave.
pub fn archive_place(table: &str) -> Option<(&'static str, &'static str)> {
    let found = TABLES.iter().find(|known| known.name == table)?;
    let has_id = found.columns.iter().any(|column| column.name == "id");
    let key = if has_id { "id" } else { found.columns.first()?.name };
    Some((found.file, key))
}

impl Store {
    /// Every table as text; the same squad always gives the same.
    ///
    /// # Errors
    ///
    /// [`StoreError::Corrupt`] where a document cannot be read.
    pub async fn export(&self) -> Result<Vec<ArchiveFile>> {
        let mut tx = self.reading().await?;
        let mut files = Vec::with_capacity(TABLES.len());
        for table in TABLES {
            files.push(write::file(&mut tx, table).await?);
        }
        Ok(files)
    }

    /// Whether there is neither an athlete nor a race, not even a removed one.
    pub async fn is_empty(&self) -> Result<bool> {
        let mut db = self.read_connection().await?;
        is_empty(&mut db).await
    }

    /// The present days of every block that is not hidden.
    pub async fn present_blocks(&self) -> Result<Vec<PresentBlock>> {
        let mut db = self.read_connection().await?;
        let rows = sqlx::query!(
            r#"SELECT block.id, athlete.name, race.name AS race, block_revision.id AS "revision!", document
             FROM block
             JOIN block_revision ON block_revision.block = block.id AND block_revision.number = block.revision
             JOIN entry ON entry.race = block.race AND entry.athlete = block.athlete AND entry.withdrawn_at IS NULL
             JOIN athlete ON athlete.id = block.athlete AND athlete.removed_at IS NULL
             JOIN race ON race.id = block.race AND race.removed_at IS NULL
             WHERE block.removed_at IS NULL
             ORDER BY block.id"#
        )
        .fetch_all(&mut *db)
        .await?;
        let read = rows.into_iter().map(|row| {
            let block = read_document(row.revision, &row.document)?;
            Ok(PresentBlock { id: BlockId(row.id), athlete: row.name, race: row.race, block })
        });
        read.collect()
    }

    /// Brings an export into an empty data file, all of it or nothing, and gives the number of
    /// athletes. `file` gives the text of a file by its name. `once` is the form's own key: the same
    /// key again gives the same answer and brings in nothing.
    ///
    /// Everything is read before anything is written, and read back before it is kept.
    ///
    /// # Errors
    ///
    /// [`StoreError::Exists`] where there is an athlete or a race, be it a removed one;
    /// [`StoreError::Archive`] with the first thing that is wrong; [`StoreError::Corrupt`] for what
    /// does not read back.
    pub async fn import(&self, file: impl Fn(&str) -> Option<String>, once: Uuid, now: DateTime<Utc>) -> Result<u64> {
        let mut read = Vec::with_capacity(TABLES.len());
        for table in TABLES {
            let wrong = |problem| StoreError::Archive { file: table.file, problem };
            let text = file(table.file).ok_or_else(|| wrong(ArchiveProblem::NoFile))?;
            read.push((table, rows_of(table, &text).map_err(wrong)?));
        }
        let mut tx = self.writing().await?;
        if let Some(count) = once::made_before(&mut tx, once, Made::Squad).await? {
            return Ok(count.unsigned_abs());
        }
        if !is_empty(&mut tx).await? {
            return Err(StoreError::Exists);
        }
        for (table, rows) in read {
            bring_in(&mut tx, table, rows)
                .await?
                .map_err(|problem| StoreError::Archive { file: table.file, problem })?;
        }
        read_back(&mut tx).await?;
        let count = sqlx::query_scalar!("SELECT count(*) FROM athlete").fetch_one(&mut *tx).await?;
        once::remember(&mut tx, once, Made::Squad, count, now).await?;
        tx.commit().await?;
        Ok(count.unsigned_abs())
    }
}

async fn is_empty(db: &mut SqliteConnection) -> Result<bool> {
    let taken = sqlx::query_scalar!(
        r#"SELECT EXISTS (SELECT 1 FROM athlete) OR EXISTS (SELECT 1 FROM race) AS "taken!: bool""#
    )
    .fetch_one(db)
    .await?;
    Ok(!taken)
}

/// Writes the rows of one table.
async fn bring_in(
    db: &mut SqliteConnection,
    table: &Table,
    rows: Vec<Vec<Cell>>,
) -> Result<std::result::Result<(), ArchiveProblem>> {
    if table.rows == Rows::One && rows.len() != 1 {
        return Ok(Err(ArchiveProblem::NotOne { count: rows.len() }));
    }
    let sql = insert(table);
    for (index, cells) in rows.iter().enumerate() {
        let mut query = sqlx::query(AssertSqlSafe(sql.clone()));
        for cell in cells {
            query = match cell {
                Cell::Nothing => query.bind(None::<String>),
                Cell::Whole(value) => query.bind(value),
                Cell::Real(value) => query.bind(value),
                Cell::Text(value) => query.bind(value),
            };
        }
        if let Err(error) = query.execute(&mut *db).await {
            let found = refused(table, cells, index + 1, &error);
            return found.map_or_else(|| Err(error.into()), |problem| Ok(Err(problem)));
        }
    }
    Ok(Ok(()))
}

fn insert(table: &Table) -> String {
    let names: Vec<&str> = table.columns.iter().map(|column| column.name).collect();
    match table.rows {
        Rows::Many => {
            let marks = vec!["?"; names.len()].join(", ");
            format!("INSERT INTO {} ({}) VALUES ({marks})", table.name, names.join(", "))
        }
        Rows::One => {
            format!("UPDATE {} SET version = version + 1, {} = ?", table.name, names.join(" = ?, "))
        }
    }
}

/// What the last net says of a row, where it is the row's fault.
fn refused(table: &Table, cells: &[Cell], record: usize, error: &sqlx::Error) -> Option<ArchiveProblem> {
    use sqlx::error::ErrorKind;
    let error = error.as_database_error()?;
    match error.kind() {
        ErrorKind::UniqueViolation => Some(ArchiveProblem::Twice { record }),
        ErrorKind::ForeignKeyViolation => Some(ArchiveProblem::PointsNowhere { record }),
        ErrorKind::CheckViolation => {
            // The message holds the condition, and that the column first of all.
            let said = error.message();
            let at = |name: &str| {
                let mut from = 0;
                while let Some(found) = said[from..].find(name).map(|found| found + from) {
                    let bounded = |letter: Option<char>| !letter.is_some_and(|c| c.is_alphanumeric() || c == '_');
                    if bounded(said[..found].chars().next_back()) && bounded(said[found + name.len()..].chars().next())
                    {
                        return Some(found);
                    }
                    from = found + name.len();
                }
                None
            };
            let named =
                table.columns.iter().zip(cells).filter_map(|(column, cell)| Some((at(column.name)?, column, cell)));
            let (_, column, cell) = named.min_by_key(|(place, ..)| *place)?;
            Some(ArchiveProblem::Field {
                record,
                field: column.name.to_owned(),
                value: cell.shown(),
                wrong: WrongField::NotAllowed,
            })
        }
        _ => None,
    }
}

/// Reads everything as the pages would, and asks planning what it thinks of it.
async fn read_back(db: &mut SqliteConnection) -> Result<()> {
    for (index, athlete) in every_athlete(&mut *db).await?.into_iter().enumerate() {
        let athlete = athlete?;
        let (draft, of_athlete) = (&athlete.draft, athlete.draft.athlete.problems());
        let of_results = draft.problems().split_off(of_athlete.len());
        refuse("athletes", "name", index, &draft.athlete.name, of_athlete)?;
        refuse("athletes", "recent_results", index, &draft.recent_results, of_results)?;
    }
    for (index, race) in every_race(&mut *db).await?.into_iter().enumerate() {
        let race: Race = race?.race;
        refuse("races", "day", index, &race.date.to_string(), race.problems())?;
    }
    match crate::check::first_unreadable(db).await? {
        Some(error) => Err(error),
        None => Ok(()),
    }
}

fn refuse(file: &'static str, field: &str, index: usize, value: &str, found: Vec<planning::Problem>) -> Result<()> {
    if found.is_empty() {
        return Ok(());
    }
    let problem = ArchiveProblem::Field {
        record: index + 1,
        field: field.to_owned(),
        value: value.to_owned(),
        wrong: WrongField::Refused(found),
    };
    Err(StoreError::Archive { file, problem })
}

/// What a name is kept as: one line, without marks that turn the direction of what stands around it.
fn cleaned(kind: Kind, text: &str) -> String {
    match kind {
        Kind::Name => planning::plain::one_line(text),
        Kind::Key => name_key(&planning::plain::one_line(text)),
        _ => text.to_owned(),
    }
}

#[cfg(test)]
mod tests;
