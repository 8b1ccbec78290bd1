//! What happens to an athlete: illness, travel and the like. The coach's own: no query of the
//! athletes' door reads it.

use std::collections::HashMap;

use chrono::{DateTime, NaiveDate, Utc};
use planning::{EventKind, LifeEvent};
use sqlx::SqliteConnection;

use crate::athletes::athlete;
use crate::cell::{self, Place, commit_changed};
use crate::{AthleteId, BlockId, EventId, EventRecord, Result, Store, StoreError, Version};

/// Every query for events reads the same columns into [`EventRow`].
macro_rules! select_events {
    ($rest:literal $(+ $more:literal)* $(, $argument:expr)* $(,)?) => {
        sqlx::query_as!(
            EventRow,
            r#"SELECT id, athlete, version, kind, from_day, to_day, fever AS "fever: bool", note, noted,
                      no_end IS 1 AS "open!: bool" FROM life_event "# + $rest $(+ $more)*
            $(, $argument)*
        )
    };
}

impl Store {
    /// What happened to an athlete and was not taken back, by its first day.
    pub async fn events_of(&self, id: AthleteId) -> Result<Vec<EventRecord>> {
        let mut db = self.read_connection().await?;
        events_of(&mut db, id).await
    }

    /// Keeps an event.
    ///
    /// # Errors
    ///
    /// [`StoreError::Refused`] with what is wrong with its days, [`StoreError::Gone`].
    pub async fn add_event(&self, id: AthleteId, event: &LifeEvent, note: &str, now: DateTime<Utc>) -> Result<EventId> {
        let problems = event.problems();
        if !problems.is_empty() {
            return Err(StoreError::Refused(problems));
        }
        let mut tx = self.writing().await?;
        athlete(&mut tx, id).await?.ok_or(StoreError::Gone)?;
        let (from, to, noted) = (cell::day_text(event.from), cell::day_text(event.to), cell::day_text(event.noted));
        let (kind, fever, at) = (event.kind.code(), event.kind.has_fever(), cell::instant_text(now));
        let (note, no_end) = (note.trim(), event.open.then_some(1));
        // A double click is one event.
        let same = sqlx::query_scalar!(
            r#"SELECT id AS "id!" FROM life_event
             WHERE athlete = ? AND kind = ? AND from_day = ? AND to_day = ? AND fever = ? AND note = ?
                   AND no_end IS ? AND removed_at IS NULL"#,
            id.0,
            kind,
            from,
            to,
            fever,
            note,
            no_end
        )
        .fetch_optional(&mut *tx)
        .await?;
        if let Some(same) = same {
            return Ok(EventId(same));
        }
        let made = sqlx::query_scalar!(
            r#"INSERT INTO life_event (version, athlete, kind, from_day, to_day, fever, note, noted, made_at, no_end)
             VALUES (1, ?, ?, ?, ?, ?, ?, ?, ?, ?) RETURNING id AS "id!""#,
            id.0,
            kind,
            from,
            to,
            fever,
            note,
            noted,
            at,
            no_end
        )
        .fetch_one(&mut *tx)
        .await?;
        tx.commit().await?;
        Ok(EventId(made))
    }

    /// Notes the last day of an event that had no end so far.
    ///
    /// # Errors
    ///
    /// [`StoreError::Refused`] with what is wrong with its days, [`StoreError::Conflict`] where it was changed
    /// since it was read, [`StoreError::Gone`] where the athlete has no such event.
    pub async fn end_event(&self, athlete: AthleteId, id: EventId, read_at: Version, last: NaiveDate) -> Result<()> {
        let mut tx = self.writing().await?;
        let kept = events_of(&mut tx, athlete).await?.into_iter().find(|record| record.id == id);
        let kept = kept.ok_or(StoreError::Gone)?;
        if kept.version != read_at {
            return Err(StoreError::Conflict);
        }
        let problems = LifeEvent { to: last, open: false, ..kept.event }.problems();
        if !problems.is_empty() {
            return Err(StoreError::Refused(problems));
        }
        let to = cell::day_text(last);
        sqlx::query!("UPDATE life_event SET to_day = ?, no_end = NULL, version = version + 1 WHERE id = ?", to, id.0)
            .execute(&mut *tx)
            .await?;
        tx.commit().await?;
        Ok(())
    }

    /// Takes an event back. Twice is once.
    ///
    /// # Errors
    ///
    /// [`StoreError::Gone`] where the athlete has no such event.
    pub async fn remove_event(&self, athlete: AthleteId, id: EventId, now: DateTime<Utc>) -> Result<()> {
        let at = cell::instant_text(now);
        let mut tx = self.writing().await?;
        let done = sqlx::query!(
            "UPDATE life_event SET removed_at = coalesce(removed_at, ?), version = version + 1
             WHERE id = ? AND athlete = ?",
            at,
            id.0,
            athlete.0
        )
        .execute(&mut *tx)
        .await?;
        commit_changed(tx, &done).await
    }

    /// Brings an event back that was taken back, and tells whose it is.
    ///
    /// # Errors
    ///
    /// [`StoreError::Gone`] where there is no such event.
    pub async fn restore_event(&self, id: EventId) -> Result<AthleteId> {
        let mut tx = self.writing().await?;
        let athlete = sqlx::query_scalar!(
            r#"UPDATE life_event SET removed_at = NULL, version = version + 1 WHERE id = ? RETURNING athlete AS "athlete!""#,
            id.0
        )
        .fetch_optional(&mut *tx)
        .await?
        .ok_or(StoreError::Gone)?;
        tx.commit().await?;
        Ok(AthleteId(athlete))
    }
}

pub(crate) async fn events_of(db: &mut SqliteConnection, id: AthleteId) -> Result<Vec<EventRecord>> {
    Ok(events_of_each(db, &[id]).await?.remove(&id).unwrap_or_default())
}

/// What the present versions of some blocks knew of and was taken back since, by block.
pub(crate) async fn taken_back_since(
    db: &mut SqliteConnection,
    ids: &[BlockId],
) -> Result<HashMap<BlockId, Vec<EventRecord>>> {
    let ids = cell::id_list(ids.iter().map(|id| id.0));
    let pairs = sqlx::query!(
        r#"SELECT block.id AS "block!: i64", life_event.id AS "event!: i64"
           FROM block
           JOIN block_revision ON block_revision.block = block.id AND block_revision.number = block.revision
           JOIN life_event ON life_event.athlete = block.athlete
           WHERE block.id IN (SELECT value FROM json_each(?)) AND life_event.made_at <= block_revision.made_at
                 AND life_event.removed_at >= block_revision.made_at"#,
        ids
    )
    .fetch_all(&mut *db)
    .await?;
    let events = cell::id_list(pairs.iter().map(|pair| pair.event));
    let rows = select_events!("WHERE id IN (SELECT value FROM json_each(?)) ORDER BY from_day, id", events)
        .fetch_all(db)
        .await?;
    let mut found: HashMap<BlockId, Vec<EventRecord>> = HashMap::new();
    for row in rows {
        let event = row.read()?;
        for pair in pairs.iter().filter(|pair| pair.event == event.id.0) {
            found.entry(BlockId(pair.block)).or_default().push(event.clone());
        }
    }
    Ok(found)
}

/// What happened to some athletes, see [`Store::events_of`]; nothing for one to whom nothing did.
pub(crate) async fn events_of_each(
    db: &mut SqliteConnection,
    ids: &[AthleteId],
) -> Result<HashMap<AthleteId, Vec<EventRecord>>> {
    let ids = cell::id_list(ids.iter().copied());
    let rows = select_events!(
        "WHERE athlete IN (SELECT value FROM json_each(?)) AND removed_at IS NULL ORDER BY from_day, id",
        ids
    );
    cell::grouped(rows.fetch_all(db).await?.into_iter().map(|row| Ok((AthleteId(row.athlete), row.read()?))))
}

/// The queries of [`unwell`].
macro_rules! select_unwell {
    ($whose:literal, $by:expr, $since:expr $(, $argument:expr)*) => {
        select_events!(
            "WHERE removed_at IS NULL AND kind IN ('illness', 'injury') AND from_day <= ? AND (to_day >= ? OR no_end = 1) "
                + $whose
                + " ORDER BY athlete, from_day, id",
            $by,
            $since
            $(, $argument)*
        )
    };
}

/// Illness and injury that had begun by a day and went on to another one, or have no end: of the athletes of a list
/// of ids, else of everybody.
pub(crate) async fn unwell(
    db: &mut SqliteConnection,
    ids: Option<&str>,
    by: NaiveDate,
    since: NaiveDate,
) -> Result<HashMap<AthleteId, Vec<EventRecord>>> {
    let (by, since) = (cell::day_text(by), cell::day_text(since));
    let rows = match ids {
        None => select_unwell!("", by, since).fetch_all(db).await?,
        Some(ids) => {
            select_unwell!("AND athlete IN (SELECT value FROM json_each(?))", by, since, ids).fetch_all(db).await?
        }
    };
    cell::grouped(rows.into_iter().map(|row| Ok((AthleteId(row.athlete), row.read()?))))
}

/// Every event, hidden or not: for the check of the whole file.
pub(crate) async fn every_event(db: &mut SqliteConnection) -> Result<Vec<Result<EventRecord>>> {
    let rows = select_events!("ORDER BY id").fetch_all(db).await?;
    Ok(rows.into_iter().map(EventRow::read).collect())
}

struct EventRow {
    id: i64,
    athlete: i64,
    kind: String,
    from_day: String,
    to_day: String,
    fever: bool,
    note: String,
    noted: String,
    open: bool,
    version: i64,
}

impl EventRow {
    fn read(self) -> Result<EventRecord> {
        let place = Place::new("life_event", self.id);
        Ok(EventRecord {
            id: EventId(self.id),
            version: Version(self.version),
            event: LifeEvent {
                kind: place.word("kind", &self.kind, |code| EventKind::from_code(code, self.fever))?,
                from: place.day("from_day", &self.from_day)?,
                to: place.day("to_day", &self.to_day)?,
                noted: place.day("noted", &self.noted)?,
                open: self.open,
            },
            note: self.note,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::{add, at, day, open};

    fn fever() -> LifeEvent {
        LifeEvent {
            kind: EventKind::Illness { fever: true },
            from: day("2027-04-26"),
            to: day("2027-04-27"),
            noted: day("2027-04-27"),
            open: false,
        }
    }

    #[tokio::test]
    async fn events_are_kept_taken_back_and_brought_back() {
        let store = open().await;
        let ana = add(&store, "Ana").await;
        let id = store.add_event(ana, &fever(), " 39 degrees ", at(1)).await.unwrap();
        assert_eq!(store.add_event(ana, &fever(), "39 degrees", at(2)).await.unwrap(), id, "a double click");
        let kept = store.events_of(ana).await.unwrap();
        assert_eq!(kept, [EventRecord { id, version: Version(1), event: fever(), note: "39 degrees".into() }]);
        store.remove_event(ana, id, at(3)).await.unwrap();
        store.remove_event(ana, id, at(4)).await.unwrap();
        assert_eq!(store.events_of(ana).await.unwrap(), []);
        assert_eq!(store.restore_event(id).await.unwrap(), ana);
        let back = EventRecord { version: Version(4), ..kept[0].clone() };
        assert_eq!(store.events_of(ana).await.unwrap(), [back]);
    }

    #[tokio::test]
    async fn an_event_without_an_end_gets_one_once() {
        let store = open().await;
        let (ana, ben) = (add(&store, "Ana").await, add(&store, "Ben").await);
        let open = LifeEvent { open: true, ..fever() };
        let id = store.add_event(ana, &open, "", at(1)).await.unwrap();
        assert_eq!(store.add_event(ana, &open, "", at(2)).await.unwrap(), id, "a double click");
        assert_eq!(store.events_of(ana).await.unwrap()[0].event, open);
        let end =
            async |athlete, version, day_text| store.end_event(athlete, id, Version(version), day(day_text)).await;
        assert!(matches!(end(ben, 1, "2027-04-29").await, Err(StoreError::Gone)));
        assert!(matches!(end(ana, 1, "2027-04-25").await, Err(StoreError::Refused(_))), "before it began");
        end(ana, 1, "2027-04-29").await.unwrap();
        assert!(matches!(end(ana, 1, "2027-04-30").await, Err(StoreError::Conflict)));
        let ended = LifeEvent { to: day("2027-04-29"), ..fever() };
        assert_eq!(store.events_of(ana).await.unwrap()[0].event, ended);
    }

    #[tokio::test]
    async fn every_kind_reads_back() {
        let store = open().await;
        let ana = add(&store, "Ana").await;
        for kind in EventKind::ALL {
            let event = LifeEvent { kind, ..fever() };
            store.add_event(ana, &event, "", at(1)).await.unwrap();
        }
        let kinds: Vec<EventKind> = store.events_of(ana).await.unwrap().iter().map(|kept| kept.event.kind).collect();
        assert_eq!(kinds, EventKind::ALL);
    }

    #[tokio::test]
    async fn days_that_end_before_they_begin_and_strangers_are_refused() {
        let store = open().await;
        let (ana, ben) = (add(&store, "Ana").await, add(&store, "Ben").await);
        let wrong = LifeEvent { to: day("2027-04-25"), ..fever() };
        assert!(matches!(store.add_event(ana, &wrong, "", at(1)).await, Err(StoreError::Refused(_))));
        assert!(matches!(store.add_event(AthleteId(99), &fever(), "", at(1)).await, Err(StoreError::Gone)));
        let id = store.add_event(ana, &fever(), "", at(1)).await.unwrap();
        assert!(matches!(store.remove_event(ben, id, at(2)).await, Err(StoreError::Gone)));
        assert!(matches!(store.restore_event(EventId(99)).await, Err(StoreError::Gone)));
    }
}
