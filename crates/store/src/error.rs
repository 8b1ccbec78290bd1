//! What can go wrong in the store.

use std::path::PathBuf;

/// A result of the store.
pub type Result<T> = std::result::Result<T, StoreError>;

/// What went wrong. Absence is not an error: look-ups give `Option`.
#[derive(Debug, thiserror::Error)]
pub enum StoreError {
    /// The record was saved by somebody else since it was read; nothing was written.
    #[error("the record was changed since it was read")]
    Conflict,
    /// The record is gone; nothing was written.
    #[error("the record does not exist any more")]
    Gone,
    /// The same thing exists already; nothing was written.
    #[error("it exists already")]
    Exists,
    /// Planning finds something wrong with it; nothing was written.
    #[error("it cannot be kept as it is: {0:?}")]
    Refused(Vec<planning::Problem>),
    /// The file holds something that the program never writes.
    #[error("{table}.{column} of row {row} cannot be read: {reason}")]
    Corrupt {
        /// Table.
        table: &'static str,
        /// Column.
        column: &'static str,
        /// Row id; of a base week and of an entry the athlete's id.
        row: i64,
        /// What is wrong with it.
        reason: String,
    },
    /// A file of an export that is brought in is wrong; nothing was written.
    #[error("{file}: {problem:?}")]
    Archive {
        /// The file, without an ending.
        file: &'static str,
        /// What is wrong with it.
        problem: crate::ArchiveProblem,
    },
    /// The file was written by a newer program; it was not touched.
    #[error("the data file was made by a newer version of the program")]
    Newer,
    /// The file is not a data file of this program; it was not touched.
    #[error("{} is not a data file of this program", .0.display())]
    NotOurs(PathBuf),
    /// The file is damaged: what the database engine says of it.
    #[error("the data file is damaged: {0}")]
    Damaged(String),
    /// The file may be read but not written.
    #[error("the data file is read-only")]
    ReadOnly,
    /// The folder of the file does not exist.
    #[error("there is no folder {}", .0.display())]
    NoFolder(PathBuf),
    /// The file cannot be opened or made: mostly its folder may not be written.
    #[error("the data file cannot be opened or made")]
    CannotOpen,
    /// A file stands where a new one should be written; it was not touched.
    #[error("{} exists already", .0.display())]
    FileExists(PathBuf),
    /// Another program holds the data file and did not let go in time; nothing was written.
    #[error("the data file is in use by another program")]
    InUse,
    /// No room is left on the disk; nothing was written.
    #[error("the disk is full")]
    DiskFull,
    /// Anything else that the database says.
    #[error("database: {0}")]
    Database(#[source] sqlx::Error),
    /// Bringing the file to the present form failed; it is as it was before.
    #[error("migration: {0}")]
    Migrate(#[source] sqlx::migrate::MigrateError),
    /// The file system said no.
    #[error("file: {0}")]
    File(#[from] std::io::Error),
}

/// The primary result codes of SQLite that a coach can do something about.
///
/// # Source
///
/// SQLite, "Result and Error Codes": the low eight bits of an extended code are the primary code.
mod code {
    pub(super) const BUSY: i32 = 5;
    pub(super) const READONLY: i32 = 8;
    pub(super) const CORRUPT: i32 = 11;
    pub(super) const FULL: i32 = 13;
    pub(super) const CANNOT_OPEN: i32 = 14;
    pub(super) const NOT_A_DATABASE: i32 = 26;
}

impl From<sqlx::Error> for StoreError {
    fn from(error: sqlx::Error) -> Self {
        if matches!(error, sqlx::Error::PoolTimedOut) {
            // Whoever writes before us takes longer than anybody waits.
            return Self::InUse;
        }
        let primary = error
            .as_database_error()
            .and_then(sqlx::error::DatabaseError::code)
            .and_then(|text| text.parse::<i32>().ok())
            .map(|extended| extended & 0xff);
        match primary {
            Some(code::BUSY) => Self::InUse,
            Some(code::READONLY) => Self::ReadOnly,
            Some(code::CANNOT_OPEN) => Self::CannotOpen,
            Some(code::FULL) => Self::DiskFull,
            Some(code::CORRUPT | code::NOT_A_DATABASE) => Self::Damaged(error.to_string()),
            _ => Self::Database(error),
        }
    }
}

impl From<sqlx::migrate::MigrateError> for StoreError {
    fn from(error: sqlx::migrate::MigrateError) -> Self {
        use sqlx::migrate::MigrateError;
        match error {
            MigrateError::VersionMissing(_) => Self::Newer,
            MigrateError::Execute(inner) | MigrateError::ExecuteMigration(inner, _) => Self::from(inner),
            other => Self::Migrate(other),
        }
    }
}
