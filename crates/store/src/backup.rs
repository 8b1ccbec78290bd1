//! Copies of the data file, and the way back from one.

use std::ffi::OsString;
use std::io::ErrorKind;
use std::path::{Path, PathBuf};

use sqlx::sqlite::SqliteConnectOptions;
use sqlx::{ConnectOptions, Connection, SqliteConnection};

use crate::folder;
use crate::open::{Found, beside, has_magic, look, newest, reading};
use crate::{MIGRATOR, Result, Store, StoreError};

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

/// Puts a backup in the place of a data file that is not in use, and says where the file that stood
/// there is kept, if there was one.
///
/// The backup is checked from end to end and brought to the present form before anything is moved.
///
/// # Errors
///
/// [`StoreError::NotOurs`], [`StoreError::Newer`] and [`StoreError::Damaged`] of the backup,
/// [`StoreError::InUse`] of the data file, and what the file system says: the data file is as it was.
pub async fn restore(from: &Path, to: &Path) -> Result<Option<PathBuf>> {
    std::fs::metadata(from)?;
    if look(from, newest(&MIGRATOR)).await? == Found::Nothing {
        return Err(StoreError::NotOurs(from.to_owned()));
    }
    let new = first_free(to, "restoring")?;
    let outcome = match prepare(from, &new).await {
        Ok(()) => replace(to, &new).await,
        Err(error) => Err(error),
    };
    if outcome.is_err() {
        // Whatever else failed is told; that a leftover could not be taken away is not worth a word.
        for file in [new.clone(), with_suffix(&new, "-wal"), with_suffix(&new, "-shm")] {
            let _ = std::fs::remove_file(file);
        }
    }
    outcome
}

/// A checked copy of the backup in the present form.
async fn prepare(from: &Path, new: &Path) -> Result<()> {
    let mut connection = reading(from).connect().await?;
    let copied = copy_into(&mut connection, new).await;
    connection.close().await?;
    copied?;
    let store = Store::connect(new, &MIGRATOR).await?;
    let found = store.check().await;
    store.close().await;
    let found = found?;
    if found.is_empty() { Ok(()) } else { Err(StoreError::Damaged(found.join("; "))) }
}

/// Keeps the old file beside and lets the new one take its name in one step: at no moment is there
/// no data file.
async fn replace(to: &Path, new: &Path) -> Result<Option<PathBuf>> {
    let kept = if to.try_exists()? {
        fold(to).await?;
        let kept = first_free(to, "before-restore")?;
        copy_file(to, &kept)?;
        // A log is left only beside a file that the database engine could not open.
        for suffix in ["-wal", "-shm"] {
            let log = with_suffix(to, suffix);
            if log.try_exists()? {
                copy_file(&log, &with_suffix(&kept, suffix))?;
                std::fs::remove_file(log)?;
            }
        }
        Some(kept)
    } else {
        None
    };
    std::fs::rename(new, to)?;
    Ok(kept)
}

/// Brings what is still in the log into the file itself; nobody else may have it open for that.
async fn fold(file: &Path) -> Result<()> {
    if !has_magic(file)? {
        // Nothing to fold, and opening it would cost it the log beside it.
        return Ok(());
    }
    let folded = async {
        let mut connection = SqliteConnectOptions::new().filename(file).connect().await?;
        let mode: String = sqlx::query_scalar("PRAGMA journal_mode = DELETE").fetch_one(&mut connection).await?;
        connection.close().await?;
        Ok(mode)
    };
    match folded.await.map_err(|error: sqlx::Error| StoreError::from(error)) {
        Ok(mode) if mode == "delete" => Ok(()),
        Ok(_) => Err(StoreError::InUse),
        // This is why one restores.
        Err(StoreError::Damaged(_)) => Ok(()),
        Err(error) => Err(error),
    }
}

/// Copies all that a connection sees into a new file.
pub(crate) async fn copy_into(connection: &mut SqliteConnection, to: &Path) -> Result<()> {
    let Some(target) = to.to_str() else {
        return Err(std::io::Error::new(ErrorKind::InvalidInput, "the name of the copy is not Unicode").into());
    };
    // Claims the name: SQLite writes into an empty file, and nobody else's file is ever written over.
    match folder::new_private_file().open(to) {
        Ok(_) => {}
        Err(error) if error.kind() == ErrorKind::AlreadyExists => return Err(StoreError::FileExists(to.to_owned())),
        Err(error) if error.kind() == ErrorKind::NotFound => {
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

fn copy_file(from: &Path, to: &Path) -> Result<()> {
    let mut copy = folder::new_private_file().open(to)?;
    std::io::copy(&mut std::fs::File::open(from)?, &mut copy)?;
    flush(to)
}

/// A name beside a file that nothing has yet.
fn first_free(path: &Path, word: &str) -> Result<PathBuf> {
    let mut number = 1;
    loop {
        let candidate = beside(path, word, number);
        if !candidate.try_exists()? {
            return Ok(candidate);
        }
        number += 1;
    }
}

pub(crate) fn with_suffix(path: &Path, suffix: &str) -> PathBuf {
    let mut name: OsString = path.as_os_str().to_owned();
    name.push(suffix);
    name.into()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::{TestStore, add, names, open};

    async fn backed_up() -> (TestStore, PathBuf) {
        let store = open().await;
        add(&store, "Ana").await;
        let backup = store.folder.path().join("backup.db");
        store.backup(&backup).await.unwrap();
        add(&store, "Bo").await;
        (store, backup)
    }

    async fn squad_of(path: &Path) -> Vec<String> {
        let store = Store::open(path).await.unwrap();
        let names = store.athletes().await.unwrap().into_iter().map(|athlete| athlete.draft.athlete.name).collect();
        store.close().await;
        names
    }

    #[tokio::test]
    async fn a_backup_is_one_file_with_all_that_was_there_and_nothing_is_written_over() {
        let (store, backup) = backed_up().await;
        assert_eq!(squad_of(&backup).await, ["Ana"]);
        let refused = store.backup(&backup).await;
        assert!(matches!(&refused, Err(StoreError::FileExists(file)) if *file == backup), "{refused:?}");
        let nowhere = store.folder.path().join("nowhere/backup.db");
        let refused = store.backup(&nowhere).await;
        assert!(matches!(refused, Err(StoreError::NoFolder(_))), "{refused:?}");
    }

    #[tokio::test(flavor = "multi_thread")]
    async fn a_backup_does_not_stop_the_coach_from_saving() {
        let store = open().await;
        let adding = {
            let store = store.store.clone();
            tokio::spawn(async move {
                for number in 0..50 {
                    add(&store, &format!("Athlete {number}")).await;
                }
            })
        };
        for number in 0..5 {
            let backup = store.folder.path().join(format!("backup-{number}.db"));
            store.backup(&backup).await.unwrap();
            assert_eq!(Store::open(&backup).await.unwrap().check().await.unwrap(), Vec::<String>::new());
        }
        adding.await.unwrap();
        assert_eq!(store.athletes().await.unwrap().len(), 50);
    }

    #[tokio::test]
    async fn a_restore_brings_back_what_was_and_keeps_what_is() {
        let (store, backup) = backed_up().await;
        store.close().await;
        let kept = restore(&backup, store.path()).await.unwrap().unwrap();
        assert_eq!(squad_of(store.path()).await, ["Ana"]);
        assert_eq!(squad_of(&kept).await, ["Ana", "Bo"]);
        let again = restore(&backup, store.path()).await.unwrap().unwrap();
        assert_ne!(kept, again, "the first is kept too");
        let there = ["backup.db", "squad.db", "squad.db.before-restore", "squad.db.before-restore-2"];
        assert_eq!(names(store.folder.path()), there);

        let elsewhere = store.folder.path().join("elsewhere.db");
        assert_eq!(restore(&backup, &elsewhere).await.unwrap(), None);
        assert_eq!(squad_of(&elsewhere).await, ["Ana"]);
    }

    #[tokio::test]
    async fn a_file_in_use_is_not_replaced() {
        let (store, backup) = backed_up().await;
        let refused = restore(&backup, store.path()).await;
        assert!(matches!(refused, Err(StoreError::InUse)), "{refused:?}");
        assert_eq!(store.athletes().await.unwrap().len(), 2);
        add(&store, "Cy").await;
        store.close().await;
        assert_eq!(names(store.folder.path()), ["backup.db", "squad.db"]);
    }

    #[tokio::test]
    async fn a_backup_that_is_not_well_is_refused_and_changes_nothing() {
        let (store, backup) = backed_up().await;
        store.close().await;
        let bytes = std::fs::read(&backup).unwrap();
        let damaged = store.folder.path().join("damaged.db");
        let mut broken = bytes.clone();
        let middle = broken.len() / 2;
        broken[8192..middle].fill(0x5a);
        std::fs::write(&damaged, broken).unwrap();
        let cut = store.folder.path().join("cut.db");
        std::fs::write(&cut, &bytes[..bytes.len() / 3]).unwrap();
        let text = store.folder.path().join("text.db");
        std::fs::write(&text, "not a backup ".repeat(50)).unwrap();
        let empty = store.folder.path().join("empty.db");
        std::fs::write(&empty, "").unwrap();
        let before = names(store.folder.path());
        for (file, kind) in [(&damaged, "damaged"), (&cut, "damaged"), (&text, "not ours"), (&empty, "not ours")] {
            let refused = restore(file, store.path()).await;
            let as_expected = match (kind, &refused) {
                ("damaged", Err(StoreError::Damaged(_))) => true,
                ("not ours", Err(StoreError::NotOurs(named))) => named == file,
                _ => false,
            };
            assert!(as_expected, "{kind}: {refused:?}");
        }
        let missing = restore(&store.folder.path().join("missing.db"), store.path()).await;
        assert!(matches!(&missing, Err(StoreError::File(error)) if error.kind() == ErrorKind::NotFound), "{missing:?}");
        assert_eq!(names(store.folder.path()), before);
        assert_eq!(squad_of(store.path()).await, ["Ana", "Bo"]);
    }

    #[tokio::test]
    async fn a_damaged_data_file_is_replaced_and_kept() {
        let (store, backup) = backed_up().await;
        store.close().await;
        std::fs::write(store.path(), "not a data file any more ".repeat(50)).unwrap();
        let log = with_suffix(store.path(), "-wal");
        std::fs::write(&log, "a log of something").unwrap();
        let kept = restore(&backup, store.path()).await.unwrap().unwrap();
        assert_eq!(squad_of(store.path()).await, ["Ana"]);
        assert!(std::fs::read_to_string(&kept).unwrap().starts_with("not a data file"));
        assert_eq!(std::fs::read_to_string(with_suffix(&kept, "-wal")).unwrap(), "a log of something");
    }

    #[tokio::test]
    async fn a_read_only_backup_is_as_good_as_any() {
        let (store, backup) = backed_up().await;
        store.close().await;
        let mut permissions = std::fs::metadata(&backup).unwrap().permissions();
        permissions.set_readonly(true);
        std::fs::set_permissions(&backup, permissions).unwrap();
        restore(&backup, store.path()).await.unwrap();
        assert_eq!(squad_of(store.path()).await, ["Ana"]);
    }
}
