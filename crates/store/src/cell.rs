//! One cell of a row, to text and back: what cannot be read becomes an error that names its place.

use std::collections::HashMap;
use std::fmt::Display;
use std::hash::Hash;

use chrono::{DateTime, Datelike, NaiveDate, NaiveTime, SecondsFormat, Utc};
use planning::DistanceUnit;

use crate::{Result, StoreError};

/// Ids as a JSON array: one argument of a query, however many there are; `json_each` takes it apart.
pub(crate) fn id_list(ids: impl IntoIterator<Item: Into<i64>>) -> String {
    ids.into_iter().map(Into::into).collect::<serde_json::Value>().to_string()
}

/// Rows that were read, by whose they are; each keeps its place among its own.
pub(crate) fn grouped<K: Eq + Hash, T>(rows: impl Iterator<Item = Result<(K, T)>>) -> Result<HashMap<K, Vec<T>>> {
    let mut found: HashMap<K, Vec<T>> = HashMap::new();
    for row in rows {
        let (key, value) = row?;
        found.entry(key).or_default().push(value);
    }
    Ok(found)
}

/// Where a row stands.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Place {
    table: &'static str,
    row: i64,
}

impl Place {
    pub(crate) const fn new(table: &'static str, row: i64) -> Self {
        Self { table, row }
    }

    pub(crate) fn corrupt(self, column: &'static str, reason: impl Display) -> StoreError {
        StoreError::Corrupt { table: self.table, column, row: self.row, reason: reason.to_string() }
    }

    /// A cell that holds one of a few words.
    pub(crate) fn word<T>(self, column: &'static str, text: &str, read: impl FnOnce(&str) -> Option<T>) -> Result<T> {
        read(text).ok_or_else(|| self.corrupt(column, format_args!("unknown word `{text}`")))
    }

    pub(crate) fn units(self, column: &'static str, text: &str) -> Result<DistanceUnit> {
        self.word(column, text, units_of)
    }

    pub(crate) fn number<T: TryFrom<i64>>(self, column: &'static str, value: i64) -> Result<T> {
        T::try_from(value).map_err(|_| self.corrupt(column, format_args!("{value} is out of range")))
    }

    pub(crate) fn day(self, column: &'static str, text: &str) -> Result<NaiveDate> {
        read_day(text).ok_or_else(|| self.corrupt(column, format_args!("`{text}` is not a day like 2027-05-09")))
    }

    pub(crate) fn time(self, column: &'static str, text: &str) -> Result<NaiveTime> {
        text.parse().map_err(|error: chrono::ParseError| self.corrupt(column, format_args!("`{text}`: {error}")))
    }

    pub(crate) fn instant(self, column: &'static str, text: &str) -> Result<DateTime<Utc>> {
        DateTime::parse_from_rfc3339(text)
            .map(|instant| instant.to_utc())
            .map_err(|error| self.corrupt(column, format_args!("`{text}`: {error}")))
    }
}

/// Whether an update found its row: a row that is not there is gone.
fn changed(done: &sqlx::sqlite::SqliteQueryResult) -> Result<()> {
    if done.rows_affected() == 0 { Err(StoreError::Gone) } else { Ok(()) }
}

/// The end of a save of what is always there: another version than the one that was read is a conflict,
/// else everything is kept.
pub(crate) async fn commit_as_read(tx: crate::open::Writing, done: &sqlx::sqlite::SqliteQueryResult) -> Result<()> {
    if done.rows_affected() == 0 {
        return Err(StoreError::Conflict);
    }
    Ok(tx.commit().await?)
}

/// The end of a save: a row that is not there is gone, else everything is kept.
pub(crate) async fn commit_changed(tx: crate::open::Writing, done: &sqlx::sqlite::SqliteQueryResult) -> Result<()> {
    changed(done)?;
    Ok(tx.commit().await?)
}

/// Of fixed width, so that text order is time order.
pub(crate) fn instant_text(instant: DateTime<Utc>) -> String {
    instant.to_rfc3339_opts(SecondsFormat::Micros, true)
}

/// A day as it is kept: its year has four digits, so that texts stand in the order of days and every day has
/// others before and after it.
pub(crate) fn read_day(text: &str) -> Option<NaiveDate> {
    text.parse().ok().filter(|day| is_kept(*day))
}

/// Whether a day can be kept, see [`read_day`].
pub(crate) fn is_kept(day: NaiveDate) -> bool {
    (0..=9999).contains(&day.year())
}

pub(crate) fn day_text(day: NaiveDate) -> String {
    day.format("%Y-%m-%d").to_string()
}

pub(crate) fn time_text(time: NaiveTime) -> String {
    time.format("%H:%M:%S%.f").to_string()
}

pub(crate) fn units_of(text: &str) -> Option<DistanceUnit> {
    [DistanceUnit::Km, DistanceUnit::Mi].into_iter().find(|unit| unit.symbol() == text)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn text_order_of_instants_is_time_order() {
        let base = DateTime::from_timestamp(1_800_000_000, 0).unwrap();
        let later = base + chrono::TimeDelta::milliseconds(500);
        assert!(instant_text(base) < instant_text(later));
        assert_eq!(instant_text(base).len(), instant_text(later).len());
    }

    #[test]
    fn an_instant_comes_back_to_the_microsecond() {
        let instant = DateTime::from_timestamp(1_800_000_000, 123_456_789).unwrap();
        let place = Place::new("race", 1);
        assert_eq!(
            place.instant("made_at", &instant_text(instant)).unwrap(),
            DateTime::from_timestamp(1_800_000_000, 123_456_000).unwrap()
        );
    }

    #[test]
    fn what_cannot_be_read_names_its_place() {
        for text in ["2027-02-30", "+262142-12-31", "-0001-01-01"] {
            let error = Place::new("race", 7).day("day", text).unwrap_err();
            let place = format!("race.day of row 7 cannot be read: `{text}`");
            assert!(error.to_string().starts_with(&place), "{error}");
        }
    }
}
