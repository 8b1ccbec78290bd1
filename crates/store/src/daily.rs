//! One backup a day in a folder beside the data file, and which of them are kept.

use std::ffi::OsString;
use std::path::{Path, PathBuf};

use chrono::{Datelike, NaiveDate};
use sqlx::{ConnectOptions, Connection};

use crate::check::structure;
use crate::open::reading;
use crate::{Result, Store, StoreError};

/// Of the last days on which there was a backup, so many stay.
const DAYS_KEPT: usize = 7;
/// Before those, the last backup of so many weeks stays.
const WEEKS_KEPT: usize = 4;

/// A backup that the program made by itself.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DailyBackup {
    /// The day on which it was made, by the clock of that day.
    pub day: NaiveDate,
    /// Where it lies.
    pub path: PathBuf,
    /// How large it is.
    pub bytes: u64,
}

impl Store {
    /// The folder of the daily backups: `squad.db-backups` beside `squad.db`.
    pub fn backup_folder(&self) -> PathBuf {
        let mut name = self.path().file_name().map_or_else(OsString::new, ToOwned::to_owned);
        name.push("-backups");
        self.path().with_file_name(name)
    }

    /// The daily backups, the newest first; other files in their folder are not ours.
    ///
    /// # Errors
    ///
    /// What the file system says; a folder that does not exist yet is empty.
    pub fn daily_backups(&self) -> Result<Vec<DailyBackup>> {
        let entries = match std::fs::read_dir(self.backup_folder()) {
            Err(error) if error.kind() == std::io::ErrorKind::NotFound => return Ok(Vec::new()),
            entries => entries?,
        };
        let mut found = Vec::new();
        for entry in entries {
            let entry = entry?;
            if let Some(day) = day_of(&entry.path()) {
                found.push(DailyBackup { day, path: entry.path(), bytes: entry.metadata()?.len() });
            }
        }
        found.sort_by_key(|backup| std::cmp::Reverse(backup.day));
        Ok(found)
    }

    /// Makes the backup of a day, unless there is one, and takes away those that are no longer kept.
    ///
    /// The copy is checked first: as long as the data file is damaged, nothing older is taken away.
    /// Days are counted, not hours: a clock that jumps makes one more backup, and what is dated after
    /// `today` is neither counted nor taken away.
    ///
    /// # Errors
    ///
    /// [`StoreError::Damaged`] where the copy is not well, [`StoreError::DiskFull`] and what the file
    /// system says: the backups are as they were.
    pub async fn back_up_day(&self, today: NaiveDate) -> Result<()> {
        let folder = self.backup_folder();
        let target = folder.join(format!("{today}.db"));
        if target.try_exists()? {
            return Ok(());
        }
        std::fs::create_dir_all(&folder)?;
        let part = target.with_extension("part");
        if part.try_exists()? {
            // What is left of a program that was stopped in the middle.
            std::fs::remove_file(&part)?;
        }
        self.backup(&part).await?;
        let well = checked(&part).await;
        if well.is_err() {
            // The first error tells more than that the copy could not be taken away.
            let _ = std::fs::remove_file(&part);
        }
        well?;
        std::fs::rename(&part, &target)?;
        let backups = self.daily_backups()?;
        let days: Vec<NaiveDate> = backups.iter().map(|backup| backup.day).collect();
        let spare = spare(&days, today);
        for backup in backups.into_iter().filter(|backup| spare.contains(&backup.day)) {
            std::fs::remove_file(backup.path)?;
        }
        Ok(())
    }
}

/// The day that a file's name tells, if it is a daily backup.
fn day_of(path: &Path) -> Option<NaiveDate> {
    let is_ours = path.extension().is_some_and(|extension| extension == "db");
    let stem = path.file_stem()?.to_str()?;
    let day: NaiveDate = stem.parse().ok()?;
    (is_ours && day.to_string() == stem).then_some(day)
}

/// Asks the copy, not the original: that is what one will go back to.
async fn checked(copy: &Path) -> Result<()> {
    let mut connection = reading(copy).connect().await?;
    let found = structure(&mut connection).await;
    connection.close().await?;
    let found = found?;
    if found.is_empty() { Ok(()) } else { Err(StoreError::Damaged(found.join("; "))) }
}

/// The days, the newest first, whose backups are no longer kept.
fn spare(days: &[NaiveDate], today: NaiveDate) -> Vec<NaiveDate> {
    let older = days.iter().copied().filter(|day| *day <= today).skip(DAYS_KEPT);
    let mut weeks = Vec::new();
    older
        .filter(|day| {
            let week = day.iso_week();
            let is_newest = !weeks.contains(&week);
            if is_newest {
                weeks.push(week);
            }
            !is_newest || weeks.len() > WEEKS_KEPT
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::testing::{add, day, names, open};

    fn after(start: NaiveDate, days: i64) -> NaiveDate {
        start + chrono::TimeDelta::days(days)
    }

    /// The days that are left after a backup on each of these days, the newest first.
    fn kept_after(made_on: impl IntoIterator<Item = NaiveDate>) -> Vec<NaiveDate> {
        let mut kept = Vec::new();
        for today in made_on {
            kept.push(today);
            kept.sort_by_key(|day| std::cmp::Reverse(*day));
            kept.dedup();
            let gone = spare(&kept, today);
            kept.retain(|day| !gone.contains(day));
        }
        kept
    }

    #[test]
    fn seven_days_and_four_weeks_are_kept() {
        let start = day("2027-01-01");
        let kept = kept_after((0..110).map(|number| after(start, number)));
        let text: Vec<String> = kept.iter().map(NaiveDate::to_string).collect();
        let expected = [
            "2027-04-20",
            "2027-04-19",
            "2027-04-18",
            "2027-04-17",
            "2027-04-16",
            "2027-04-15",
            "2027-04-14",
            "2027-04-13",
            "2027-04-11",
            "2027-04-04",
            "2027-03-28",
        ];
        assert_eq!(text, expected);
    }

    #[test]
    fn a_clock_that_runs_ahead_takes_no_good_backup_away() {
        let start = day("2027-04-10");
        let days: Vec<NaiveDate> = (0..5).map(|number| after(start, number)).collect();
        let ahead = days.iter().copied().chain([day("2030-01-01"), day("2028-05-05")]);
        let back = ahead.chain((5..9).map(|number| after(start, number)));
        let kept = kept_after(back);
        let untroubled = kept_after((0..9).map(|number| after(start, number)));
        assert!(untroubled.iter().all(|day| kept.contains(day)), "{kept:?}");
        assert!(kept.contains(&day("2030-01-01")), "nor the one that it made");
    }

    proptest! {
        #[test]
        fn whatever_the_clock_does_backups_only_become_fewer_beyond_what_is_kept(
            jumps in prop::collection::vec(-800_i64..800, 1..60)
        ) {
            let mut today = day("2027-04-20");
            let mut kept: Vec<NaiveDate> = Vec::new();
            for jump in jumps {
                today = after(today, jump);
                let before = kept.len();
                if !kept.contains(&today) {
                    kept.push(today);
                }
                kept.sort_by_key(|day| std::cmp::Reverse(*day));
                let gone = spare(&kept, today);
                prop_assert!(!gone.contains(&today));
                prop_assert!(gone.iter().all(|day| *day < today));
                kept.retain(|day| !gone.contains(day));
                prop_assert!(kept.len() >= before.min(DAYS_KEPT));
            }
        }
    }

    #[tokio::test]
    async fn a_day_has_one_backup_that_opens_and_strangers_stay() {
        let store = open().await;
        add(&store, "Ana").await;
        store.back_up_day(day("2027-04-20")).await.unwrap();
        add(&store, "Bo").await;
        store.back_up_day(day("2027-04-20")).await.unwrap();
        let folder = store.backup_folder();
        std::fs::write(folder.join("notes.txt"), "mine").unwrap();
        std::fs::write(folder.join("2027-04-21.part"), "half of one").unwrap();
        store.back_up_day(day("2027-04-21")).await.unwrap();
        assert_eq!(names(&folder), ["2027-04-20.db", "2027-04-21.db", "notes.txt"]);
        let backups = store.daily_backups().unwrap();
        assert_eq!(backups.iter().map(|backup| backup.day).collect::<Vec<_>>(), [day("2027-04-21"), day("2027-04-20")]);
        assert!(backups.iter().all(|backup| backup.bytes > 10_000));
        let first = Store::open(&backups[1].path).await.unwrap();
        assert_eq!(first.athletes().await.unwrap().len(), 1, "as the day began");
    }

    #[tokio::test]
    async fn a_damaged_data_file_pushes_no_good_backup_out() {
        let store = open().await;
        add(&store, "Ana").await;
        for number in 1..=11 {
            std::fs::create_dir_all(store.backup_folder()).unwrap();
            std::fs::write(store.backup_folder().join(format!("2027-04-{number:02}.db")), "good").unwrap();
        }
        let before = names(&store.backup_folder());
        sqlx::raw_sql("INSERT INTO base_week SELECT 99, 1, 'km', '', '', '', '', '', '', '', '', '', NULL")
            .execute(&mut store.stray().await)
            .await
            .unwrap();
        let refused = store.back_up_day(day("2027-04-20")).await;
        assert!(matches!(&refused, Err(StoreError::Damaged(found)) if found.contains("base_week")), "{refused:?}");
        assert_eq!(names(&store.backup_folder()), before);
    }
}
