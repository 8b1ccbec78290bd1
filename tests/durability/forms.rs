//! Data files of other versions (case D21), and files that cannot be used.

use std::borrow::Cow;
use std::path::Path;
use std::time::Duration;

use sqlx::migrate::Migrator;
use sqlx::sqlite::SqliteConnectOptions;
use sqlx::{ConnectOptions, Connection, SqliteConnection};
use store::{MIGRATOR, Store};

use crate::program::{assert_well, ebbline, serve_at};
use crate::{Dice, asked};

const PEOPLE: i64 = 3_000;

async fn connect(data: &Path) -> SqliteConnection {
    SqliteConnectOptions::new().filename(data).create_if_missing(true).connect().await.expect("a connection")
}

/// A file of the second form with many athletes, all invented.
async fn older(data: &Path) {
    let migrations: Vec<_> = MIGRATOR.iter().filter(|one| one.version <= 2).cloned().collect();
    let migrator = Migrator { migrations: Cow::Owned(migrations), ..Migrator::DEFAULT };
    let mut connection = connect(data).await;
    migrator.run_direct(None, &mut connection, false).await.expect("the second form");
    sqlx::query(
        "WITH RECURSIVE number (n) AS (SELECT 1 UNION ALL SELECT n + 1 FROM number WHERE n < ?)
         INSERT INTO athlete (version, name, name_key, units, cautions, training_group, notes, made_at, saved_at)
         SELECT 1, 'Athlete ' || n, 'athlete ' || n, 'km', '[]', '', printf('%.400c', 'n'),
                '2026-11-01T08:00:00.000000Z', '2026-11-01T08:00:00.000000Z' FROM number",
    )
    .bind(PEOPLE)
    .execute(&mut connection)
    .await
    .expect("athletes");
    connection.close().await.expect("a closed file");
}

#[tokio::test]
async fn d21a_an_older_file_is_copied_then_brought_up_with_everybody_in_it() {
    let folder = tempfile::tempdir().expect("a folder");
    let data = folder.path().join("squad.db");
    older(&data).await;
    let before = std::fs::read(&data).unwrap();
    assert_well(&data, "an older file");
    let newest = MIGRATOR.iter().map(|one| one.version).max().unwrap();
    let copy = folder.path().join(format!("squad.db.before-form-{newest}"));
    assert!(copy.metadata().unwrap().len() > 1_000_000);
    assert_ne!(std::fs::read(&data).unwrap(), before);
    for file in [&data, &copy] {
        let store = Store::open(file).await.unwrap();
        assert_eq!(store.athletes().await.unwrap().len(), usize::try_from(PEOPLE).unwrap());
        store.close().await;
    }
}

#[tokio::test]
async fn d21b_a_newer_file_is_refused_in_words_and_left_as_it_is() {
    let folder = tempfile::tempdir().expect("a folder");
    let data = folder.path().join("squad.db");
    Store::open(&data).await.unwrap().close().await;
    let mut connection = connect(&data).await;
    sqlx::query("PRAGMA user_version = 99").execute(&mut connection).await.unwrap();
    connection.close().await.unwrap();
    let before = std::fs::read(&data).unwrap();
    let refused = serve_at(&data, "127.0.0.1:0".parse().unwrap());
    assert_eq!(refused.status.code(), Some(1));
    assert_eq!(
        String::from_utf8_lossy(&refused.stderr),
        "The data file was made by a newer version of Ebbline. It was left untouched. Start the newer version to go on.\n"
    );
    assert_eq!(std::fs::read(&data).unwrap(), before);
    assert_eq!(std::fs::read_dir(folder.path()).unwrap().count(), 1);
}

#[tokio::test]
async fn d21c_a_start_after_a_power_cut_in_the_middle_of_an_upgrade_finds_everybody() {
    let mut dice = Dice(3);
    for round in 0..asked("EBBLINE_ROUNDS", 10) {
        let folder = tempfile::tempdir().expect("a folder");
        let data = folder.path().join("squad.db");
        older(&data).await;
        let mut child =
            ebbline().arg("check").arg("--data").arg(&data).stdout(std::process::Stdio::null()).spawn().unwrap();
        std::thread::sleep(Duration::from_millis(dice.below(90)));
        child.kill().unwrap();
        child.wait().unwrap();
        assert_well(&data, &format!("round {round}"));
        let store = Store::open(&data).await.unwrap();
        assert_eq!(store.athletes().await.unwrap().len(), usize::try_from(PEOPLE).unwrap(), "round {round}");
        store.close().await;
    }
}

#[tokio::test]
async fn files_that_cannot_be_used_are_told_in_one_sentence_and_left_alone() {
    let folder = tempfile::tempdir().expect("a folder");
    let text = folder.path().join("notes.txt");
    std::fs::write(&text, "not a data file, but longer than the header of one ".repeat(4)).unwrap();
    let read_only = folder.path().join("read-only.db");
    Store::open(&read_only).await.unwrap().close().await;
    let mut permissions = read_only.metadata().unwrap().permissions();
    permissions.set_readonly(true);
    std::fs::set_permissions(&read_only, permissions).unwrap();
    let broken = folder.path().join("broken.db");
    let store = Store::open(&broken).await.unwrap();
    store.close().await;
    let mut bytes = std::fs::read(&broken).unwrap();
    bytes[4096..].fill(0x5a);
    std::fs::write(&broken, bytes).unwrap();
    for (file, title) in [
        (&text, "This is not a data file of Ebbline. "),
        (&read_only, "The data file cannot be written. Nothing was changed."),
        (&broken, "The data file is damaged. "),
    ] {
        let before = std::fs::read(file).unwrap();
        let refused = serve_at(file, "127.0.0.1:0".parse().unwrap());
        let said = String::from_utf8_lossy(&refused.stderr).into_owned();
        assert_eq!(refused.status.code(), Some(1), "{said}");
        assert!(said.starts_with(title), "{said}");
        assert_eq!(std::fs::read(file).unwrap(), before);
    }
}
