//! Copies of the data file.

use std::path::Path;

use sqlx::SqliteConnection;

use crate::{Result, Store, StoreError};

impl Store {
    /// A consistent copy of the data file while it is in use. The target must not exist.
    ///
    /// # Errors
    ///
    /// [`StoreError::FileExists`], [`StoreError::NoFolder`], [`StoreError::DiskFull`] and what the
    /// file system says; a copy that failed is taken away again.
    pub async fn backup(&self, to: &Path) -> Result<()> {
        let mut connection = self.read_connection().await?;
        copy_into(&mut connection, to).await
    }
}

/// Copies all that a connection sees into a new file.
pub(crate) async fn copy_into(connection: &mut SqliteConnection, to: &Path) -> Result<()> {
    let Some(target) = to.to_str() else {
        return Err(std::io::Error::new(std::io::ErrorKind::InvalidFilename, "the name is not valid Unicode").into());
    };
    // Claims the name: SQLite writes into an empty file, and nobody else's file is ever written over.
    match std::fs::OpenOptions::new().write(true).create_new(true).open(to) {
        Ok(_) => {}
        Err(error) if error.kind() == std::io::ErrorKind::AlreadyExists => {
            return Err(StoreError::FileExists(to.to_owned()));
        }
        Err(error) if error.kind() == std::io::ErrorKind::NotFound => {
            return Err(StoreError::NoFolder(to.parent().unwrap_or(to).to_owned()));
        }
        Err(error) => return Err(error.into()),
    }
    let copied = match sqlx::query("VACUUM INTO ?").bind(target).execute(connection).await {
        Ok(_) => flush(to),
        Err(error) => Err(error.into()),
    };
    if copied.is_err() {
        // Half a copy is worse than none; if it cannot be taken away, the first error tells more.
        let _ = std::fs::remove_file(to);
    }
    copied
}

/// `VACUUM INTO` leaves the last bytes to the system: a copy is done when it is on the disk.
fn flush(file: &Path) -> Result<()> {
    Ok(std::fs::OpenOptions::new().write(true).open(file)?.sync_all()?)
}
