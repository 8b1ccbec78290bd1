//! The log: what was really run, a line a week or a session at a time. Silence is unknown, never
//! nothing.

use std::collections::HashMap;

use chrono::{DateTime, NaiveDate, Utc};
use planning::notation::{read_day, read_kept_day, read_week_ran};
use planning::{DoneSession, Field, Problem, ProblemKind, Slot};
use sqlx::SqliteConnection;

use crate::athletes::athlete;
use crate::cell::{self, Place, commit_changed};
use crate::{AthleteId, DoneId, DoneRecord, DoneWeekRecord, Result, Store, StoreError, Version};

impl Store {
    /// What was said of the weeks of an athlete from a day on, by their first days.
    pub async fn done_weeks_of(&self, id: AthleteId, from: NaiveDate) -> Result<Vec<DoneWeekRecord>> {
        let mut db = self.read_connection().await?;
        Ok(done_weeks_of_each(&mut db, &[id], from).await?.remove(&id).unwrap_or_default())
    }

    /// Saves what was run in the week from a day; an empty line says nothing again. A number without a
    /// unit is in the athlete's unit.
    ///
    /// # Errors
    ///
    /// [`StoreError::Refused`] where the line does not say how much, [`StoreError::Conflict`],
    /// [`StoreError::Gone`].
    #[expect(clippy::too_many_arguments, reason = "each is a thing of its own that the log keeps")]
    pub async fn save_done_week(
        &self,
        id: AthleteId,
        first_day: NaiveDate,
        read_at: Version,
        line: &str,
        note: &str,
        noted: NaiveDate,
        now: DateTime<Utc>,
    ) -> Result<()> {
        let mut tx = self.writing().await?;
        let units = athlete(&mut tx, id).await?.ok_or(StoreError::Gone)?.draft.athlete.units;
        let (line, note) = (line.trim(), note.trim());
        if !line.is_empty() {
            read_week_ran(line, units)
                .map_err(|kind| StoreError::Refused(vec![Problem::new(Field::WeekRan(first_day), kind)]))?;
        }
        let (first, noted) = (cell::day_text(first_day), cell::day_text(noted));
        let kept =
            sqlx::query_scalar!("SELECT version FROM done_week WHERE athlete = ? AND first_day = ?", id.0, first)
                .fetch_optional(&mut *tx)
                .await?;
        if kept.unwrap_or(0) != read_at.0 {
            return Err(StoreError::Conflict);
        }
        let (units, at) = (units.symbol(), cell::instant_text(now));
        sqlx::query!(
            "INSERT INTO done_week (athlete, first_day, version, line, units, note, noted, saved_at)
             VALUES (?, ?, 1, ?, ?, ?, ?, ?)
             ON CONFLICT (athlete, first_day) DO UPDATE
             SET version = version + 1, line = excluded.line, units = excluded.units, note = excluded.note,
                 noted = excluded.noted, saved_at = excluded.saved_at",
            id.0,
            first,
            line,
            units,
            note,
            noted,
            at
        )
        .execute(&mut *tx)
        .await?;
        tx.commit().await?;
        Ok(())
    }

    /// The sessions that an athlete ran from a day on, by their days.
    pub async fn done_sessions_of(&self, id: AthleteId, from: NaiveDate) -> Result<Vec<DoneRecord>> {
        let mut db = self.read_connection().await?;
        Ok(done_sessions_of_each(&mut db, &[id], from).await?.remove(&id).unwrap_or_default())
    }

    /// Keeps a session that was run, as a line of the notation that holds exactly one. The same line on
    /// the same day is kept once: a double click is one session.
    ///
    /// # Errors
    ///
    /// [`StoreError::Refused`], [`StoreError::Gone`].
    #[expect(clippy::too_many_arguments, reason = "each is a thing of its own that the log keeps")]
    pub async fn add_done_session(
        &self,
        id: AthleteId,
        day: NaiveDate,
        line: &str,
        minutes: Option<u16>,
        effort: Option<u8>,
        noted: NaiveDate,
        now: DateTime<Utc>,
    ) -> Result<DoneId> {
        let mut tx = self.writing().await?;
        let units = athlete(&mut tx, id).await?.ok_or(StoreError::Gone)?.draft.athlete.units;
        let line = line.trim();
        one_session(line, units, day).map_err(StoreError::Refused)?;
        let (day, noted, at) = (cell::day_text(day), cell::day_text(noted), cell::instant_text(now));
        let units = units.symbol();
        let same = sqlx::query_scalar!(
            r#"SELECT id AS "id!" FROM done_session
             WHERE athlete = ? AND day = ? AND line = ? AND minutes IS ? AND effort IS ?
                   AND removed_at IS NULL"#,
            id.0,
            day,
            line,
            minutes,
            effort
        )
        .fetch_optional(&mut *tx)
        .await?;
        if let Some(same) = same {
            return Ok(DoneId(same));
        }
        let made = sqlx::query_scalar!(
            r#"INSERT INTO done_session (version, athlete, day, line, units, minutes, effort, noted, made_at)
             VALUES (1, ?, ?, ?, ?, ?, ?, ?, ?) RETURNING id AS "id!""#,
            id.0,
            day,
            line,
            units,
            minutes,
            effort,
            noted,
            at
        )
        .fetch_one(&mut *tx)
        .await?;
        tx.commit().await?;
        Ok(DoneId(made))
    }

    /// Takes a session out of the log again. Twice is once.
    ///
    /// # Errors
    ///
    /// [`StoreError::Gone`] where the athlete has no such session.
    pub async fn remove_done_session(&self, athlete: AthleteId, id: DoneId, now: DateTime<Utc>) -> Result<()> {
        let at = cell::instant_text(now);
        let mut tx = self.writing().await?;
        let done = sqlx::query!(
            "UPDATE done_session SET removed_at = coalesce(removed_at, ?), version = version + 1
             WHERE id = ? AND athlete = ?",
            at,
            id.0,
            athlete.0
        )
        .execute(&mut *tx)
        .await?;
        commit_changed(tx, &done).await
    }

    /// Brings a session of the log back, and tells whose it is. Twice is once.
    ///
    /// # Errors
    ///
    /// [`StoreError::Gone`] where there is no such session.
    pub async fn restore_done_session(&self, id: DoneId) -> Result<AthleteId> {
        let mut tx = self.writing().await?;
        let athlete = sqlx::query_scalar!(
            r#"UPDATE done_session SET removed_at = NULL, version = version + 1 WHERE id = ?
             RETURNING athlete AS "athlete!""#,
            id.0
        )
        .fetch_optional(&mut *tx)
        .await?
        .ok_or(StoreError::Gone)?;
        tx.commit().await?;
        Ok(AthleteId(athlete))
    }
}

/// The one session that a line says, with its amount.
pub(crate) fn one_session(
    line: &str,
    units: planning::DistanceUnit,
    day: NaiveDate,
) -> std::result::Result<planning::Session, Vec<Problem>> {
    one_of(read_day(line, units), day)
}

/// The same of a line that is kept.
pub(crate) fn kept_session(
    line: &str,
    units: planning::DistanceUnit,
    day: NaiveDate,
) -> std::result::Result<planning::Session, Vec<Problem>> {
    one_of(read_kept_day(line, units), day)
}

fn one_of(
    read: std::result::Result<Vec<Slot>, Vec<ProblemKind>>,
    day: NaiveDate,
) -> std::result::Result<planning::Session, Vec<Problem>> {
    let slots =
        read.map_err(|kinds| kinds.into_iter().map(|kind| Problem::new(Field::Done(day), kind)).collect::<Vec<_>>())?;
    let refuse = |kind| Err(vec![Problem::new(Field::Done(day), kind)]);
    match slots.as_slice() {
        [] => refuse(ProblemKind::Missing),
        [slot] if slot.options().len() == 1 && slot.chosen().amount.is_some() => Ok(slot.chosen().clone()),
        [slot] => refuse(ProblemKind::AmountMissing { kind: slot.chosen().kind }),
        several => refuse(ProblemKind::TooManySessions { count: several.len(), most: 1 }),
    }
}

/// What was said of the weeks of some athletes, see [`Store::done_weeks_of`].
pub(crate) async fn done_weeks_of_each(
    db: &mut SqliteConnection,
    ids: &[AthleteId],
    from: NaiveDate,
) -> Result<HashMap<AthleteId, Vec<DoneWeekRecord>>> {
    let (ids, from) = (cell::id_list(ids.iter().copied()), cell::day_text(from));
    let rows = sqlx::query_as!(
        WeekRow,
        "SELECT athlete, first_day, version, line, units, note, noted FROM done_week
         WHERE athlete IN (SELECT value FROM json_each(?)) AND first_day >= ? ORDER BY first_day",
        ids,
        from
    );
    cell::grouped(rows.fetch_all(db).await?.into_iter().map(|row| Ok((AthleteId(row.athlete), row.read()?))))
}

/// The sessions that some athletes ran, see [`Store::done_sessions_of`].
pub(crate) async fn done_sessions_of_each(
    db: &mut SqliteConnection,
    ids: &[AthleteId],
    from: NaiveDate,
) -> Result<HashMap<AthleteId, Vec<DoneRecord>>> {
    let (ids, from) = (cell::id_list(ids.iter().copied()), cell::day_text(from));
    let rows = sqlx::query_as!(
        SessionRow,
        "SELECT id, athlete, day, line, units, minutes, effort FROM done_session
         WHERE athlete IN (SELECT value FROM json_each(?)) AND day >= ? AND removed_at IS NULL ORDER BY day, id",
        ids,
        from
    );
    cell::grouped(rows.fetch_all(db).await?.into_iter().map(|row| Ok((AthleteId(row.athlete), row.read()?))))
}

/// Every line of the log, hidden or not: for the check of the whole file.
pub(crate) async fn check_log(db: &mut SqliteConnection) -> Result<Vec<StoreError>> {
    let weeks = sqlx::query_as!(
        WeekRow,
        "SELECT athlete, first_day, version, line, units, note, noted FROM done_week ORDER BY athlete, first_day"
    )
    .fetch_all(&mut *db)
    .await?;
    let sessions = sqlx::query_as!(
        SessionRow,
        "SELECT id, athlete, day, line, units, minutes, effort FROM done_session ORDER BY id"
    )
    .fetch_all(&mut *db)
    .await?;
    let weeks = weeks.into_iter().filter_map(|row| row.read().err());
    Ok(weeks.chain(sessions.into_iter().filter_map(|row| row.read().err())).collect())
}

struct WeekRow {
    athlete: i64,
    first_day: String,
    version: i64,
    line: String,
    units: String,
    note: String,
    noted: String,
}

impl WeekRow {
    fn read(self) -> Result<DoneWeekRecord> {
        let place = Place::new("done_week", self.athlete);
        let units = place.units("units", &self.units)?;
        let ran = match self.line.as_str() {
            "" => None,
            line => Some(
                read_week_ran(line, units)
                    .map_err(|_| place.corrupt("line", format_args!("`{line}` is not a week that was run")))?,
            ),
        };
        Ok(DoneWeekRecord {
            first_day: place.day("first_day", &self.first_day)?,
            version: Version(self.version),
            line: self.line,
            units,
            ran,
            note: self.note,
            noted: place.day("noted", &self.noted)?,
        })
    }
}

struct SessionRow {
    id: i64,
    athlete: i64,
    day: String,
    line: String,
    units: String,
    minutes: Option<i64>,
    effort: Option<i64>,
}

impl SessionRow {
    fn read(self) -> Result<DoneRecord> {
        let place = Place::new("done_session", self.id);
        let date = place.day("day", &self.day)?;
        let session = kept_session(&self.line, place.units("units", &self.units)?, date)
            .map_err(|_| place.corrupt("line", format_args!("`{}` is not a session", self.line)))?;
        let Some(amount) = session.amount else {
            return Err(place.corrupt("line", "there is no amount"));
        };
        Ok(DoneRecord {
            id: DoneId(self.id),
            line: self.line,
            done: DoneSession {
                date,
                kind: session.kind,
                amount,
                minutes: self.minutes.map(|minutes| place.number("minutes", minutes)).transpose()?,
                effort: self.effort.map(|effort| place.number("effort", effort)).transpose()?,
            },
        })
    }
}

#[cfg(test)]
mod tests {
    use planning::{Amount, DistanceUnit, Kind, Milli, Unit, WeekRan};

    use super::*;
    use crate::testing::{add, at, day, open};

    const MONDAY: &str = "2027-04-26";

    #[tokio::test]
    async fn a_week_is_said_in_one_line_and_unsaid_again() {
        let store = open().await;
        let ana = add(&store, "Ana").await;
        let save = async |version, line: &str| {
            store.save_done_week(ana, day(MONDAY), Version(version), line, "tired", day("2027-05-03"), at(1)).await
        };
        save(0, "less, about 20").await.unwrap();
        let kept = store.done_weeks_of(ana, day("2027-04-01")).await.unwrap();
        assert_eq!(kept[0].ran, Some(WeekRan::About(Amount::exact(Milli::whole(20), Unit::Km))));
        assert_eq!((kept[0].line.as_str(), kept[0].note.as_str()), ("less, about 20", "tired"));
        assert_eq!((kept[0].version, kept[0].units), (Version(1), DistanceUnit::Km));
        assert!(matches!(save(0, "all").await, Err(StoreError::Conflict)));
        save(1, "").await.unwrap();
        assert_eq!(store.done_weeks_of(ana, day("2027-04-01")).await.unwrap()[0].ran, None, "silence is unknown");
        assert_eq!(store.done_weeks_of(ana, day("2027-05-01")).await.unwrap(), []);
    }

    #[tokio::test]
    async fn a_line_that_says_no_amount_is_refused_and_nothing_is_written() {
        let store = open().await;
        let ana = add(&store, "Ana").await;
        let refused =
            store.save_done_week(ana, day(MONDAY), Version(0), "went well", "", day("2027-05-03"), at(1)).await;
        assert!(matches!(&refused, Err(StoreError::Refused(found)) if found[0].at == Field::WeekRan(day(MONDAY))));
        assert_eq!(store.done_weeks_of(ana, day("2027-04-01")).await.unwrap(), []);
    }

    #[tokio::test]
    async fn sessions_are_kept_as_typed_and_taken_out_again() {
        let store = open().await;
        let ana = add(&store, "Ana").await;
        let id = store
            .add_done_session(ana, day("2027-04-27"), "tempo 9, hard 4", Some(46), Some(7), day("2027-04-28"), at(1))
            .await
            .unwrap();
        let kept = store.done_sessions_of(ana, day("2027-04-01")).await.unwrap();
        let done = DoneSession {
            date: day("2027-04-27"),
            kind: Kind::Tempo,
            amount: Amount::exact(Milli::whole(9), Unit::Km),
            minutes: Some(46),
            effort: Some(7),
        };
        assert_eq!(kept, [DoneRecord { id, line: "tempo 9, hard 4".into(), done }]);
        store.remove_done_session(ana, id, at(2)).await.unwrap();
        assert_eq!(store.done_sessions_of(ana, day("2027-04-01")).await.unwrap(), []);
    }

    #[tokio::test]
    async fn a_line_that_is_not_one_session_is_refused() {
        let store = open().await;
        let ana = add(&store, "Ana").await;
        for line in ["", "8 + 5", "ran well", "8 or 9", "strength"] {
            let refused =
                store.add_done_session(ana, day("2027-04-27"), line, None, None, day("2027-04-28"), at(1)).await;
            assert!(matches!(refused, Err(StoreError::Refused(_))), "{line}: {refused:?}");
        }
    }
}
