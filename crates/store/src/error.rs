//! What can go wrong in the store.

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
    /// The same thing exists already (an athlete entered twice in one race).
    #[error("it exists already")]
    Exists,
    /// The file holds something that the program never writes.
    #[error("{table}.{column} of row {row} cannot be read: {reason}")]
    Corrupt {
        /// Table.
        table: &'static str,
        /// Column.
        column: &'static str,
        /// Row id.
        row: i64,
        /// What is wrong with it.
        reason: String,
    },
    /// The file was written by a newer program; it was not touched.
    #[error("the data file was made by a newer version of the program")]
    Newer,
    /// Anything else that the database says.
    #[error("database: {0}")]
    Database(#[from] sqlx::Error),
    /// Bringing the file to the present form failed.
    #[error("migration: {0}")]
    Migrate(#[from] sqlx::migrate::MigrateError),
    /// The file system said no.
    #[error("file: {0}")]
    File(#[from] std::io::Error),
}
