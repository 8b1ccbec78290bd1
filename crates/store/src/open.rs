//! Opening the data file: look first, touch later.

use std::ffi::OsString;
use std::io::Read;
use std::ops::{Deref, DerefMut};
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::atomic::{AtomicI64, AtomicU64, Ordering};
use std::time::Duration;

use sqlx::migrate::Migrator;
use sqlx::pool::PoolConnection;
use sqlx::sqlite::{SqliteConnectOptions, SqliteJournalMode, SqlitePoolOptions, SqliteSynchronous};
use sqlx::{ConnectOptions, Connection, Sqlite, SqliteConnection, SqlitePool, Transaction};

use crate::backup::{copy_into, with_suffix};
use crate::board::Kept;
use crate::{Result, StoreError};

/// Brings a data file to the present form.
pub static MIGRATOR: Migrator = sqlx::migrate!("../../migrations");

/// The squad's data file, open for reading and writing. Cheap to clone.
#[derive(Clone, Debug)]
pub struct Store {
    /// One connection: writers queue here, in order, rather than inside SQLite, where one may starve.
    write: SqlitePool,
    /// Several connections that cannot write.
    read: SqlitePool,
    /// One connection that only ever asks whether another program has written.
    watch: SqlitePool,
    changes: Arc<Changes>,
    /// The squad board as it was read last.
    pub(crate) board: Arc<Kept>,
    path: Arc<Path>,
}

/// How often the file was written to since it was opened.
#[derive(Debug, Default)]
pub(crate) struct Changes {
    count: AtomicU64,
    /// What the engine said last of changes by others.
    seen: AtomicI64,
}

/// A transaction that writes; it is counted once it is kept, before whoever asked for it is answered.
#[derive(Debug)]
pub(crate) struct Writing {
    tx: Transaction<'static, Sqlite>,
    changes: Arc<Changes>,
}

impl Writing {
    /// Keeps what was written.
    pub(crate) async fn commit(self) -> std::result::Result<(), sqlx::Error> {
        let done = self.tx.commit().await;
        self.changes.count.fetch_add(1, Ordering::AcqRel);
        done
    }
}

impl Deref for Writing {
    type Target = SqliteConnection;

    fn deref(&self) -> &SqliteConnection {
        &self.tx
    }
}

impl DerefMut for Writing {
    fn deref_mut(&mut self) -> &mut SqliteConnection {
        &mut self.tx
    }
}

/// The athletes' door: read-only by construction.
#[derive(Clone, Debug)]
pub struct SharedReader {
    pub(crate) read: SqlitePool,
    watch: SqlitePool,
    changes: Arc<Changes>,
}

impl SharedReader {
    /// A number that is another one after every change of the file that this program made: as long as
    /// it is the same, everything read is still true.
    pub fn changes(&self) -> u64 {
        self.changes.count.load(Ordering::Acquire)
    }

    /// Lets [`SharedReader::changes`] count what other programs have written, too.
    ///
    /// # Errors
    ///
    /// The file cannot be read any more.
    ///
    /// # Source
    ///
    /// SQLite, "Pragma statements", `data_version`: on one and the same connection the number is
    /// another one after any other connection has changed the file.
    pub async fn look(&self) -> Result<()> {
        let version: i64 = sqlx::query_scalar("PRAGMA data_version").fetch_one(&self.watch).await?;
        if self.changes.seen.swap(version, Ordering::AcqRel) != version {
            self.changes.count.fetch_add(1, Ordering::AcqRel);
        }
        Ok(())
    }
}

/// Makes the empty file that SQLite then fills, so that what lies beside it is as private as it. What stands
/// in the way of that is told by SQLite, which meets it next.
fn make_private(path: &Path) {
    if let Err(error) = crate::folder::new_private_file().open(path) {
        tracing::debug!(%error, "the data file was not made beforehand");
    }
}

/// How long one connection waits for another program to let go of the file.
const BUSY: Duration = Duration::from_secs(5);
/// Pages read at the same time.
const READERS: u32 = 4;
/// So many rows of an answer are read while the first are worked on: those of a large race without a pause.
const ROWS_AHEAD: usize = 1000;

impl Store {
    /// Opens the data file, makes it if it does not exist, brings it to the present form.
    ///
    /// An existing file that has to be brought to a newer form is copied beside itself first.
    ///
    /// # Errors
    ///
    /// [`StoreError::NoFolder`], [`StoreError::NotOurs`], [`StoreError::Newer`],
    /// [`StoreError::ReadOnly`]: the file was not touched. [`StoreError::CannotOpen`],
    /// [`StoreError::Damaged`] and others where the database engine fails.
    pub async fn open(path: &Path) -> Result<Self> {
        Self::open_with(path, &MIGRATOR).await
    }

    pub(crate) async fn open_with(path: &Path, migrator: &Migrator) -> Result<Self> {
        match look(path, newest(migrator)).await? {
            Found::Nothing => make_private(path),
            _ if std::fs::metadata(path)?.permissions().readonly() => return Err(StoreError::ReadOnly),
            Found::Present => {}
            Found::Older { form } => {
                let copy = copy_beside(path, &format!("before-form-{}", newest(migrator))).await?;
                tracing::info!(form, copy = %copy.display(), "the data file is of an older form and was copied");
            }
        }
        Self::connect(path, migrator).await
    }

    /// Opens a file that was looked at before.
    pub(crate) async fn connect(path: &Path, migrator: &Migrator) -> Result<Self> {
        let options = SqliteConnectOptions::new()
            .filename(path)
            .create_if_missing(true)
            .journal_mode(SqliteJournalMode::Wal)
            .synchronous(SqliteSynchronous::Full)
            .foreign_keys(true)
            .busy_timeout(BUSY);
        // A full disk ends a transaction behind the back of whoever counts them: such a connection would
        // refuse every later one, so another takes its place.
        let write = SqlitePoolOptions::new()
            .max_connections(1)
            .min_connections(1)
            .idle_timeout(None)
            .max_lifetime(None)
            .test_before_acquire(false)
            .before_acquire(|connection, _| Box::pin(async move { Ok(!connection.is_in_transaction()) }))
            .connect_with(options)
            .await?;
        migrator.run(&write).await?;
        let read = SqlitePoolOptions::new()
            .max_connections(READERS)
            .idle_timeout(None)
            .max_lifetime(None)
            .test_before_acquire(false)
            .connect_with(reading(path))
            .await?;
        let watch = SqlitePoolOptions::new()
            .max_connections(1)
            .idle_timeout(None)
            .max_lifetime(None)
            .test_before_acquire(false)
            .connect_lazy_with(reading(path));
        Ok(Self { write, read, watch, changes: Arc::default(), board: Arc::default(), path: path.into() })
    }

    /// The read-only door to the same file.
    ///
    /// # Errors
    ///
    /// The file cannot be read any more.
    pub async fn shared_reader(&self) -> Result<SharedReader> {
        // Fails here, at the start, rather than before the first athlete.
        drop(self.read.acquire().await?);
        Ok(SharedReader { read: self.read.clone(), watch: self.watch.clone(), changes: self.changes.clone() })
    }

    /// Waits for running statements and closes the file, for every clone and for the shared door.
    pub async fn close(&self) {
        self.read.close().await;
        self.watch.close().await;
        self.write.close().await;
    }

    /// Where the data file is.
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// A transaction that writes: it waits its turn now, so that no statement inside it can fail
    /// because another one wrote first.
    pub(crate) async fn writing(&self) -> Result<Writing> {
        let tx = self.write.begin_with("BEGIN IMMEDIATE").await?;
        Ok(Writing { tx, changes: self.changes.clone() })
    }

    /// One connection that reads, for a single query.
    pub(crate) async fn read_connection(&self) -> Result<PoolConnection<Sqlite>> {
        Ok(self.read.acquire().await?)
    }

    /// A transaction that reads: everything in it is of one moment.
    pub(crate) async fn reading(&self) -> Result<Transaction<'static, Sqlite>> {
        Ok(self.read.begin().await?)
    }
}

/// What stands at the place of the data file.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Found {
    /// No file, or one in which nothing was kept yet.
    Nothing,
    /// A data file of the present form.
    Present,
    /// A data file of an older form.
    Older {
        /// Its form.
        form: i64,
    },
}

/// The number of the last migration.
pub(crate) fn newest(migrator: &Migrator) -> i64 {
    migrator.iter().map(|migration| migration.version).max().unwrap_or(0)
}

/// The bytes 'Ebba' in the header of our files; the first migration writes them.
pub(crate) const APPLICATION: u32 = 0x4562_6261;

/// Looks at the file without writing to it.
pub(crate) async fn look(path: &Path, newest: i64) -> Result<Found> {
    let folder = match path.parent() {
        Some(folder) if folder != Path::new("") => folder,
        _ => Path::new("."),
    };
    if !folder.is_dir() {
        return Err(StoreError::NoFolder(folder.to_owned()));
    }
    let data = match std::fs::metadata(path) {
        Err(error) if error.kind() == std::io::ErrorKind::NotFound => return Ok(Found::Nothing),
        found => found?,
    };
    if !data.is_file() {
        return Err(StoreError::NotOurs(path.to_owned()));
    }
    if data.len() == 0 {
        return Ok(Found::Nothing);
    }
    look_at_header(path, newest)?;
    look_inside(path, newest).await
}

/// The first 100 bytes tell most, and reading them leaves no trace beside the file.
fn look_at_header(path: &Path, newest: i64) -> Result<()> {
    let header = header(path)?;
    let number = |at: usize| u32::from_be_bytes([header[at], header[at + 1], header[at + 2], header[at + 3]]);
    // The id may still be 0 in the file itself while the log beside it holds the first migration.
    if !header.starts_with(MAGIC) || ![0, APPLICATION].contains(&number(68)) {
        return Err(StoreError::NotOurs(path.to_owned()));
    }
    if number(68) == APPLICATION && i64::from(number(60)) > newest {
        return Err(StoreError::Newer);
    }
    Ok(())
}

/// Whether a file begins as a database does.
pub(crate) fn has_magic(path: &Path) -> Result<bool> {
    Ok(header(path)?.starts_with(MAGIC))
}

/// How every database file begins.
///
/// # Source
///
/// SQLite, "Database File Format", 1.3: the header is 100 bytes long and big-endian, with this text
/// at 0, the user version at 60 and the application id at 68.
const MAGIC: &[u8] = b"SQLite format 3\0";

/// The first bytes of a file, zeros behind its end.
fn header(path: &Path) -> Result<[u8; 100]> {
    let mut start = Vec::with_capacity(100);
    std::fs::File::open(path)?.take(100).read_to_end(&mut start)?;
    let mut header = [0_u8; 100];
    header[..start.len()].copy_from_slice(&start);
    Ok(header)
}

/// What the file says once its log is taken into account.
async fn look_inside(path: &Path, newest: i64) -> Result<Found> {
    let found = look_with(reading(path), path, newest).await;
    let journal = with_suffix(path, "-journal");
    if matches!(found, Err(StoreError::ReadOnly)) && journal.try_exists()? {
        // The program was ended in the middle of a write that is to be taken back before anything can be
        // read, and only who may write can do that.
        return look_with(SqliteConnectOptions::new().filename(path).busy_timeout(BUSY), path, newest).await;
    }
    found
}

async fn look_with(options: SqliteConnectOptions, path: &Path, newest: i64) -> Result<Found> {
    let mut connection = options.connect().await?;
    let found = look_through(&mut connection, path, newest).await;
    connection.close().await?;
    found
}

async fn look_through(connection: &mut SqliteConnection, path: &Path, newest: i64) -> Result<Found> {
    let application: i64 = sqlx::query_scalar("PRAGMA application_id").fetch_one(&mut *connection).await?;
    let form: i64 = sqlx::query_scalar("PRAGMA user_version").fetch_one(&mut *connection).await?;
    let tables: i64 =
        sqlx::query_scalar("SELECT count(*) FROM sqlite_schema WHERE name NOT LIKE '\\_sqlx%' ESCAPE '\\' AND name NOT LIKE 'sqlite\\_%' ESCAPE '\\'")
            .fetch_one(&mut *connection)
            .await?;
    if application == 0 && tables == 0 {
        return Ok(Found::Nothing);
    }
    if application != i64::from(APPLICATION) {
        return Err(StoreError::NotOurs(path.to_owned()));
    }
    match form.cmp(&newest) {
        std::cmp::Ordering::Greater => Err(StoreError::Newer),
        std::cmp::Ordering::Equal => Ok(Found::Present),
        std::cmp::Ordering::Less => Ok(Found::Older { form }),
    }
}

/// How a file is opened by whoever may not write.
pub(crate) fn reading(path: &Path) -> SqliteConnectOptions {
    SqliteConnectOptions::new()
        .filename(path)
        .read_only(true)
        .foreign_keys(true)
        .busy_timeout(BUSY)
        .row_buffer_size(ROWS_AHEAD)
}

/// Copies a data file beside itself under a name that is still free.
async fn copy_beside(path: &Path, word: &str) -> Result<PathBuf> {
    let mut connection = reading(path).connect().await?;
    let mut number = 1;
    let copied = loop {
        let target = beside(path, word, number);
        match copy_into(&mut connection, &target).await {
            Err(StoreError::FileExists(_)) => number += 1,
            done => break done.map(|()| target),
        }
    };
    connection.close().await?;
    copied
}

/// `squad.db` becomes `squad.db.word`, `squad.db.word-2` and so on.
pub(crate) fn beside(path: &Path, word: &str, number: u32) -> PathBuf {
    let mut name = path.file_name().map_or_else(OsString::new, ToOwned::to_owned);
    name.push(format!(".{word}"));
    if number > 1 {
        name.push(format!("-{number}"));
    }
    path.with_file_name(name)
}

#[cfg(test)]
mod tests {
    use std::borrow::Cow;

    use sqlx::AssertSqlSafe;
    use sqlx::migrate::{Migration, MigrationType};

    use super::*;
    use crate::testing::{add, names, open};

    /// The migrations of a later release of our own invention.
    fn later() -> Migrator {
        let mut all: Vec<Migration> = MIGRATOR.iter().cloned().collect();
        let next = newest(&MIGRATOR) + 1;
        let text = format!("CREATE TABLE next (id INTEGER PRIMARY KEY) STRICT; PRAGMA user_version = {next};");
        let sql = sqlx::SqlSafeStr::into_sql_str(AssertSqlSafe(text));
        all.push(Migration::new(next, Cow::Borrowed("next"), MigrationType::Simple, sql, false));
        Migrator { migrations: Cow::Owned(all), ..Migrator::DEFAULT }
    }

    #[tokio::test]
    async fn a_file_tells_its_form_in_its_header() {
        let store = open().await;
        store.close().await;
        let bytes = std::fs::read(store.path()).unwrap();
        assert_eq!(bytes[60..64], u32::try_from(newest(&MIGRATOR)).unwrap().to_be_bytes());
        assert_eq!(bytes[68..72], *b"Ebba");
        assert_eq!(look(store.path(), newest(&MIGRATOR)).await.unwrap(), Found::Present);
    }

    #[tokio::test]
    async fn what_was_kept_is_there_when_the_file_is_opened_again() {
        let store = open().await;
        let id = add(&store, "Ana").await;
        store.close().await;
        let again = Store::open(store.path()).await.unwrap();
        assert_eq!(again.athlete(id).await.unwrap().unwrap().draft.athlete.name, "Ana");
    }

    #[tokio::test]
    async fn the_pragmas_are_set_on_every_door() {
        let store = open().await;
        for pool in [&store.write, &store.read] {
            let journal: String = sqlx::query_scalar("PRAGMA journal_mode").fetch_one(pool).await.unwrap();
            let synchronous: i64 = sqlx::query_scalar("PRAGMA synchronous").fetch_one(pool).await.unwrap();
            let keys: i64 = sqlx::query_scalar("PRAGMA foreign_keys").fetch_one(pool).await.unwrap();
            let busy: i64 = sqlx::query_scalar("PRAGMA busy_timeout").fetch_one(pool).await.unwrap();
            assert_eq!((journal.as_str(), synchronous, keys, busy), ("wal", 2, 1, 5000));
        }
    }

    #[tokio::test]
    async fn a_full_disk_writes_nothing_by_halves_and_is_told_apart() {
        let store = open().await;
        let id = add(&store, "Ana").await;
        let pages: i64 = sqlx::query_scalar("PRAGMA page_count").fetch_one(&store.write).await.unwrap();
        let limit = async |pages: i64| {
            sqlx::raw_sql(AssertSqlSafe(format!("PRAGMA max_page_count = {pages}")))
                .execute(&store.write)
                .await
                .unwrap();
        };
        limit(pages).await;
        let mut draft = store.athlete(id).await.unwrap().unwrap().draft;
        draft.notes = "x".repeat(200_000);
        let refused = store.save_athlete(id, crate::Version(1), &draft, crate::testing::at(1)).await;
        assert!(matches!(refused, Err(StoreError::DiskFull)), "{refused:?}");
        let kept = store.athlete(id).await.unwrap().unwrap();
        assert_eq!((kept.version, kept.draft.notes.as_str()), (crate::Version(1), ""));
        assert_eq!(store.check().await.unwrap(), Vec::<String>::new());
        limit(pages + 1_000).await;
        store.save_athlete(id, crate::Version(1), &draft, crate::testing::at(2)).await.unwrap();
    }

    #[tokio::test]
    async fn the_shared_door_cannot_write() {
        let store = open().await;
        let door = store.shared_reader().await.unwrap();
        let refused = sqlx::query("DELETE FROM athlete").execute(&door.read).await.map_err(StoreError::from);
        assert!(matches!(refused, Err(StoreError::ReadOnly)), "{refused:?}");
    }

    #[tokio::test]
    async fn every_change_is_counted_by_its_own_program_at_once_and_by_others_on_a_look() {
        let store = open().await;
        let door = store.shared_reader().await.unwrap();
        door.look().await.unwrap();
        let before = door.changes();
        assert_eq!(door.changes(), before);
        add(&store, "Ana").await;
        assert!(door.changes() > before);
        door.look().await.unwrap();
        let quiet = door.changes();
        door.look().await.unwrap();
        assert_eq!(door.changes(), quiet, "nobody wrote");
        let other = Store::open(store.path()).await.unwrap();
        add(&other, "Rui").await;
        assert_eq!(door.changes(), quiet);
        door.look().await.unwrap();
        assert!(door.changes() > quiet);
        other.close().await;
    }

    #[tokio::test]
    async fn an_older_file_is_copied_before_it_is_changed() {
        let store = open().await;
        let id = add(&store, "Ana").await;
        store.close().await;
        let after = Store::open_with(store.path(), &later()).await.unwrap();
        assert_eq!(after.athlete(id).await.unwrap().unwrap().draft.athlete.name, "Ana");
        after.close().await;
        let copied = format!("squad.db.before-form-{}", newest(&MIGRATOR) + 1);
        assert_eq!(names(store.folder.path()), ["squad.db", copied.as_str()]);
        let copy = Store::open(&store.folder.path().join(copied)).await.unwrap();
        assert_eq!(copy.athlete(id).await.unwrap().unwrap().draft.athlete.name, "Ana");
    }

    #[tokio::test]
    async fn a_newer_file_is_refused_untouched() {
        let store = open().await;
        store.close().await;
        Store::open_with(store.path(), &later()).await.unwrap().close().await;
        let (bytes, files) = (std::fs::read(store.path()).unwrap(), names(store.folder.path()));
        let refused = Store::open(store.path()).await;
        assert!(matches!(refused, Err(StoreError::Newer)), "{refused:?}");
        assert_eq!(std::fs::read(store.path()).unwrap(), bytes);
        assert_eq!(names(store.folder.path()), files);
    }

    #[tokio::test]
    async fn a_newer_file_is_refused_while_its_newness_is_still_in_the_log() {
        let store = open().await;
        store.close().await;
        let newer = Store::open_with(store.path(), &later()).await.unwrap();
        let refused = Store::open(store.path()).await;
        assert!(matches!(refused, Err(StoreError::Newer)), "{refused:?}");
        newer.close().await;
    }

    #[tokio::test]
    async fn what_is_no_data_file_is_refused_untouched() {
        let folder = tempfile::tempdir().unwrap();
        let text = folder.path().join("notes.txt");
        std::fs::write(&text, "Not a data file, but longer than the header of one: ".repeat(4)).unwrap();
        let short = folder.path().join("short.txt");
        std::fs::write(&short, "short").unwrap();
        let other = folder.path().join("other.db");
        let mut connection =
            SqliteConnectOptions::new().filename(&other).create_if_missing(true).connect().await.unwrap();
        sqlx::query("CREATE TABLE shopping (item TEXT)").execute(&mut connection).await.unwrap();
        connection.close().await.unwrap();
        for path in [text.as_path(), &short, &other, folder.path()] {
            let before = std::fs::read(path).ok();
            let refused = Store::open(path).await;
            assert!(matches!(&refused, Err(StoreError::NotOurs(named)) if named == path), "{refused:?}");
            assert_eq!(std::fs::read(path).ok(), before);
        }
        assert_eq!(names(folder.path()), ["notes.txt", "other.db", "short.txt"]);
    }

    #[tokio::test]
    async fn a_missing_folder_and_a_read_only_file_are_named() {
        let store = open().await;
        store.close().await;
        let nowhere = store.folder.path().join("nowhere");
        let refused = Store::open(&nowhere.join("squad.db")).await;
        assert!(matches!(&refused, Err(StoreError::NoFolder(folder)) if *folder == nowhere), "{refused:?}");

        let mut permissions = std::fs::metadata(store.path()).unwrap().permissions();
        permissions.set_readonly(true);
        std::fs::set_permissions(store.path(), permissions).unwrap();
        let refused = Store::open(store.path()).await;
        assert!(matches!(refused, Err(StoreError::ReadOnly)), "{refused:?}");
    }

    #[cfg(target_os = "linux")]
    #[tokio::test]
    async fn a_folder_in_which_nothing_can_be_made_is_told_apart() {
        // A folder of the system's own, where not even its administrator can make a file.
        let refused = Store::open(Path::new("/proc/squad.db")).await;
        assert!(matches!(refused, Err(StoreError::CannotOpen)), "{refused:?}");
    }

    #[tokio::test]
    async fn an_empty_file_becomes_a_data_file() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("squad.db");
        std::fs::write(&path, "").unwrap();
        let store = Store::open(&path).await.unwrap();
        assert_eq!(store.athletes().await.unwrap(), []);
    }
}
