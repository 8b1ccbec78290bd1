//! What was removed: how long it is kept, how it comes back, and how it goes for good.

use chrono::{DateTime, NaiveDate, TimeDelta, Utc};
use planning::EventKind;
use sqlx::SqliteConnection;

use crate::cell::{self, Place, commit_changed};
use crate::{AthleteId, BlockId, DoneId, EventId, RaceId, Result, Store, TemplateId};

/// How many days what was removed can be brought back, at least.
pub const KEPT_DAYS: i64 = 30;

/// How long something has to be seen as past its days before it goes.
const SEEN_FOR: TimeDelta = TimeDelta::hours(24);

/// What can be brought back, each kind with what was removed last at the top. What went with a
/// removed athlete or race comes back with it and is not told by itself.
#[derive(Clone, Debug, PartialEq, Eq, Default)]
pub struct Removed {
    /// Athletes.
    pub athletes: Vec<RemovedThing<AthleteId>>,
    /// Races.
    pub races: Vec<RemovedThing<RaceId>>,
    /// Entries that were withdrawn, with their blocks.
    pub entries: Vec<RemovedThing<(RaceId, AthleteId)>>,
    /// Blocks that were taken back by themselves.
    pub blocks: Vec<RemovedThing<BlockId>>,
    /// Events that were taken back.
    pub events: Vec<RemovedThing<EventId>>,
    /// Templates of base weeks.
    pub templates: Vec<RemovedThing<TemplateId>>,
    /// Sessions that were taken out of the log.
    pub sessions: Vec<RemovedThing<DoneId>>,
}

impl Removed {
    /// How many things there are.
    pub fn count(&self) -> usize {
        let Self { athletes, races, entries, blocks, events, templates, sessions } = self;
        athletes.len() + races.len() + entries.len() + blocks.len() + events.len() + templates.len() + sessions.len()
    }
}

/// One thing that was removed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RemovedThing<T> {
    /// What brings it back.
    pub id: T,
    /// The athlete's name; of a race, nothing.
    pub athlete: String,
    /// What else tells it apart.
    pub what: What,
    /// When it was removed.
    pub at: DateTime<Utc>,
}

/// What tells a removed thing apart.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum What {
    /// The athlete's name says all.
    Athlete,
    /// A template by its name.
    Template(String),
    /// A race by its name (which may be empty) and its day.
    Race(String, NaiveDate),
    /// An event by its kind and its first day.
    Event(EventKind, NaiveDate),
    /// A session by its line and its day.
    Session(String, NaiveDate),
}

/// What a round of care did with what is past its days.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Purged {
    /// Nothing is past its days.
    Nothing,
    /// Something is, and goes if it still is in a day.
    Waits,
    /// So many athletes, races, entries, blocks, events, templates and sessions went for good.
    Gone(u64),
}

impl Store {
    /// Everything that can be brought back.
    pub async fn removed(&self) -> Result<Removed> {
        let mut tx = self.reading().await?;
        Ok(Removed {
            athletes: athletes(&mut tx).await?,
            races: races(&mut tx).await?,
            entries: entries(&mut tx).await?,
            blocks: blocks(&mut tx).await?,
            events: events(&mut tx).await?,
            templates: templates(&mut tx).await?,
            sessions: sessions(&mut tx).await?,
        })
    }

    /// Brings back an athlete's entry in a race as it was, with its block; how it goes on is open again.
    ///
    /// # Errors
    ///
    /// [`StoreError::Gone`](crate::StoreError::Gone) where there is no such entry.
    pub async fn restore_entry(&self, race: RaceId, athlete: AthleteId) -> Result<()> {
        let mut tx = self.writing().await?;
        // What was settled before is forgotten with the withdrawal.
        let done = sqlx::query!(
            "UPDATE entry SET settled_at = CASE WHEN withdrawn_at IS NULL THEN settled_at END, withdrawn_at = NULL
             WHERE race = ? AND athlete = ?",
            race.0,
            athlete.0
        )
        .execute(&mut *tx)
        .await?;
        commit_changed(tx, &done).await
    }

    /// Lets go for good what was removed more than [`KEPT_DAYS`] ago, and tells what it did.
    ///
    /// Nothing goes that was not already past its days at a call a day earlier. A call at which it is
    /// not, or whose clock stands before that earlier one, begins anew: a clock that was ahead for an
    /// hour takes nothing away. What seems removed before it was saved was removed by a wrong clock,
    /// and its days begin now.
    pub async fn purge(&self, now: DateTime<Utc>) -> Result<Purged> {
        let mut tx = self.writing().await?;
        begin_anew(&mut tx, now).await?;
        let seen = sqlx::query_scalar!("SELECT overdue_seen_at FROM care WHERE id = 1").fetch_one(&mut *tx).await?;
        let seen = seen.map(|text| Place::new("care", 1).instant("overdue_seen_at", &text)).transpose()?;
        let gone = match seen {
            Some(seen) if now - seen >= SEEN_FOR => let_go(&mut tx, seen - TimeDelta::days(KEPT_DAYS)).await?,
            _ => 0,
        };
        let waits = overdue(&mut tx, now - TimeDelta::days(KEPT_DAYS)).await?;
        let remembered = match seen {
            _ if !waits => None,
            Some(seen) if gone == 0 && seen <= now => Some(seen),
            _ => Some(now),
        };
        let text = remembered.map(cell::instant_text);
        sqlx::query!("UPDATE care SET overdue_seen_at = ? WHERE id = 1", text).execute(&mut *tx).await?;
        tx.commit().await?;
        Ok(match gone {
            0 if waits => Purged::Waits,
            0 => Purged::Nothing,
            count => Purged::Gone(count),
        })
    }

    /// The latest instant at which anything in the file was saved: a clock that stands before it is
    /// wrong, or was.
    pub async fn newest_instant(&self) -> Result<Option<DateTime<Utc>>> {
        let mut db = self.read_connection().await?;
        let newest = sqlx::query_scalar!(
            r#"SELECT max(at) AS "newest: String" FROM (
                 SELECT max(saved_at) AS at FROM athlete
                 UNION ALL SELECT max(saved_at) FROM race
                 UNION ALL SELECT max(saved_at) FROM base_week
                 UNION ALL SELECT max(saved_at) FROM week_template
                 UNION ALL SELECT max(saved_at) FROM week_from_template
                 UNION ALL SELECT max(made_at) FROM block_revision
                 UNION ALL SELECT max(saved_at) FROM goal_notes
                 UNION ALL SELECT max(saved_at) FROM race_course
                 UNION ALL SELECT max(saved_at) FROM race_facts
                 UNION ALL SELECT max(saved_at) FROM race_sheet
                 UNION ALL SELECT max(saved_at) FROM result
                 UNION ALL SELECT max(saved_at) FROM answers
                 UNION ALL SELECT max(at) FROM hand_over
                 UNION ALL SELECT max(saved_at) FROM message_text
                 UNION ALL SELECT max(sent_at) FROM message_sent
                 UNION ALL SELECT max(made_at) FROM life_event
                 UNION ALL SELECT max(saved_at) FROM done_week
                 UNION ALL SELECT max(made_at) FROM done_session
                 UNION ALL SELECT max(saved_at) FROM coach_settings
                 UNION ALL SELECT max(saved_at) FROM doors)"#
        )
        .fetch_one(&mut *db)
        .await?;
        newest.map(|text| Place::new("athlete", 0).instant("saved_at", &text)).transpose()
    }
}

async fn athletes(db: &mut SqliteConnection) -> Result<Vec<RemovedThing<AthleteId>>> {
    let rows = sqlx::query!(
        r#"SELECT id, name, removed_at AS "at!" FROM athlete WHERE removed_at IS NOT NULL
         ORDER BY removed_at DESC, id DESC"#
    )
    .fetch_all(db)
    .await?;
    let read = rows.into_iter().map(|row| {
        let at = Place::new("athlete", row.id).instant("removed_at", &row.at)?;
        Ok(RemovedThing { id: AthleteId(row.id), athlete: row.name, what: What::Athlete, at })
    });
    read.collect()
}

async fn races(db: &mut SqliteConnection) -> Result<Vec<RemovedThing<RaceId>>> {
    let rows = sqlx::query!(
        r#"SELECT id, name, day, removed_at AS "at!" FROM race WHERE removed_at IS NOT NULL
         ORDER BY removed_at DESC, id DESC"#
    )
    .fetch_all(db)
    .await?;
    let read = rows.into_iter().map(|row| {
        let place = Place::new("race", row.id);
        let what = What::Race(row.name, place.day("day", &row.day)?);
        Ok(RemovedThing { id: RaceId(row.id), athlete: String::new(), what, at: place.instant("removed_at", &row.at)? })
    });
    read.collect()
}

async fn entries(db: &mut SqliteConnection) -> Result<Vec<RemovedThing<(RaceId, AthleteId)>>> {
    let rows = sqlx::query!(
        r#"SELECT entry.race, entry.athlete, athlete.name, race.name AS race_name, race.day,
                  entry.withdrawn_at AS "at!"
         FROM entry
         JOIN athlete ON athlete.id = entry.athlete AND athlete.removed_at IS NULL
         JOIN race ON race.id = entry.race AND race.removed_at IS NULL
         WHERE entry.withdrawn_at IS NOT NULL
         ORDER BY entry.withdrawn_at DESC, entry.race DESC, entry.athlete DESC"#
    )
    .fetch_all(db)
    .await?;
    let read = rows.into_iter().map(|row| {
        let what = What::Race(row.race_name, Place::new("race", row.race).day("day", &row.day)?);
        let at = Place::new("entry", row.athlete).instant("withdrawn_at", &row.at)?;
        Ok(RemovedThing { id: (RaceId(row.race), AthleteId(row.athlete)), athlete: row.name, what, at })
    });
    read.collect()
}

async fn blocks(db: &mut SqliteConnection) -> Result<Vec<RemovedThing<BlockId>>> {
    let rows = sqlx::query!(
        r#"SELECT block.id AS "id!", athlete.name, race.id AS race, race.name AS race_name, race.day,
                  block.removed_at AS "at!"
         FROM block
         JOIN entry ON entry.race = block.race AND entry.athlete = block.athlete AND entry.withdrawn_at IS NULL
         JOIN athlete ON athlete.id = block.athlete AND athlete.removed_at IS NULL
         JOIN race ON race.id = block.race AND race.removed_at IS NULL
         WHERE block.removed_at IS NOT NULL
         ORDER BY block.removed_at DESC, block.id DESC"#
    )
    .fetch_all(db)
    .await?;
    let read = rows.into_iter().map(|row| {
        let what = What::Race(row.race_name, Place::new("race", row.race).day("day", &row.day)?);
        let at = Place::new("block", row.id).instant("removed_at", &row.at)?;
        Ok(RemovedThing { id: BlockId(row.id), athlete: row.name, what, at })
    });
    read.collect()
}

async fn events(db: &mut SqliteConnection) -> Result<Vec<RemovedThing<EventId>>> {
    let rows = sqlx::query!(
        r#"SELECT life_event.id, athlete.name, kind, from_day, fever AS "fever: bool", life_event.removed_at AS "at!"
         FROM life_event JOIN athlete ON athlete.id = life_event.athlete AND athlete.removed_at IS NULL
         WHERE life_event.removed_at IS NOT NULL
         ORDER BY life_event.removed_at DESC, life_event.id DESC"#
    )
    .fetch_all(db)
    .await?;
    let read = rows.into_iter().map(|row| {
        let place = Place::new("life_event", row.id);
        let kind = place.word("kind", &row.kind, |code| EventKind::from_code(code, row.fever))?;
        let what = What::Event(kind, place.day("from_day", &row.from_day)?);
        Ok(RemovedThing { id: EventId(row.id), athlete: row.name, what, at: place.instant("removed_at", &row.at)? })
    });
    read.collect()
}

async fn templates(db: &mut SqliteConnection) -> Result<Vec<RemovedThing<TemplateId>>> {
    let rows = sqlx::query!(
        r#"SELECT id, name, removed_at AS "at!" FROM week_template WHERE removed_at IS NOT NULL
         ORDER BY removed_at DESC, id DESC"#
    )
    .fetch_all(db)
    .await?;
    let read = rows.into_iter().map(|row| {
        let at = Place::new("week_template", row.id).instant("removed_at", &row.at)?;
        Ok(RemovedThing { id: TemplateId(row.id), athlete: String::new(), what: What::Template(row.name), at })
    });
    read.collect()
}

async fn sessions(db: &mut SqliteConnection) -> Result<Vec<RemovedThing<DoneId>>> {
    let rows = sqlx::query!(
        r#"SELECT done_session.id, athlete.name, day, line, done_session.removed_at AS "at!"
         FROM done_session JOIN athlete ON athlete.id = done_session.athlete AND athlete.removed_at IS NULL
         WHERE done_session.removed_at IS NOT NULL
         ORDER BY done_session.removed_at DESC, done_session.id DESC"#
    )
    .fetch_all(db)
    .await?;
    let read = rows.into_iter().map(|row| {
        let place = Place::new("done_session", row.id);
        let what = What::Session(row.line, place.day("day", &row.day)?);
        Ok(RemovedThing { id: DoneId(row.id), athlete: row.name, what, at: place.instant("removed_at", &row.at)? })
    });
    read.collect()
}

/// Gives their days to what a wrong clock removed.
async fn begin_anew(db: &mut SqliteConnection, now: DateTime<Utc>) -> Result<()> {
    let now = cell::instant_text(now);
    sqlx::query!("UPDATE athlete SET removed_at = ? WHERE removed_at < saved_at", now).execute(&mut *db).await?;
    sqlx::query!("UPDATE race SET removed_at = ? WHERE removed_at < saved_at", now).execute(&mut *db).await?;
    sqlx::query!("UPDATE entry SET withdrawn_at = ? WHERE withdrawn_at < entered_at", now).execute(&mut *db).await?;
    sqlx::query!("UPDATE block SET removed_at = ? WHERE removed_at < made_at", now).execute(&mut *db).await?;
    sqlx::query!("UPDATE life_event SET removed_at = ? WHERE removed_at < made_at", now).execute(&mut *db).await?;
    sqlx::query!("UPDATE week_template SET removed_at = ? WHERE removed_at < saved_at", now).execute(&mut *db).await?;
    sqlx::query!("UPDATE done_session SET removed_at = ? WHERE removed_at < made_at", now).execute(&mut *db).await?;
    Ok(())
}

/// Whether anything was removed at this instant or before.
async fn overdue(db: &mut SqliteConnection, before: DateTime<Utc>) -> Result<bool> {
    let before = cell::instant_text(before);
    Ok(sqlx::query_scalar!(
        r#"SELECT EXISTS (SELECT 1 FROM athlete WHERE removed_at <= ?1)
               OR EXISTS (SELECT 1 FROM race WHERE removed_at <= ?1)
               OR EXISTS (SELECT 1 FROM entry WHERE withdrawn_at <= ?1)
               OR EXISTS (SELECT 1 FROM block WHERE removed_at <= ?1)
               OR EXISTS (SELECT 1 FROM life_event WHERE removed_at <= ?1)
               OR EXISTS (SELECT 1 FROM week_template WHERE removed_at <= ?1)
               OR EXISTS (SELECT 1 FROM done_session WHERE removed_at <= ?1) AS "any!: bool""#,
        before
    )
    .fetch_one(db)
    .await?)
}

/// Deletes what was removed at an instant or before, with all that hangs on it: leaves first, so that
/// no row ever points nowhere.
async fn let_go(db: &mut SqliteConnection, before: DateTime<Utc>) -> Result<u64> {
    let before = cell::instant_text(before);
    /// Rows that hang on a block that goes: it goes by itself or with its entry, its athlete or its race.
    macro_rules! with_blocks {
        ($sql:literal) => {
            sqlx::query!(
                $sql + " IN (SELECT block.id FROM block
                             JOIN entry ON entry.race = block.race AND entry.athlete = block.athlete
                             JOIN athlete ON athlete.id = block.athlete
                             JOIN race ON race.id = block.race
                             WHERE block.removed_at <= ?1 OR entry.withdrawn_at <= ?1
                                OR athlete.removed_at <= ?1 OR race.removed_at <= ?1)",
                before
            )
            .execute(&mut *db)
            .await?
        };
    }
    /// Rows that hang on an athlete who goes.
    macro_rules! with_athletes {
        ($sql:literal) => {
            sqlx::query!($sql + " IN (SELECT id FROM athlete WHERE removed_at <= ?1)", before).execute(&mut *db).await?
        };
    }
    /// Rows that hang on a race that goes.
    macro_rules! with_races {
        ($sql:literal) => {
            sqlx::query!($sql + " IN (SELECT id FROM race WHERE removed_at <= ?1)", before).execute(&mut *db).await?
        };
    }
    with_blocks!("DELETE FROM hand_over WHERE block");
    with_blocks!("DELETE FROM share WHERE block");
    with_blocks!("DELETE FROM goal_notes WHERE block");
    with_blocks!("DELETE FROM race_sheet WHERE block");
    with_blocks!("DELETE FROM answers WHERE block");
    with_blocks!("DELETE FROM message_sent WHERE block");
    with_blocks!("DELETE FROM block_present WHERE block");
    with_blocks!("DELETE FROM block_revision WHERE block");
    let mut gone = sqlx::query!("DELETE FROM block WHERE removed_at <= ?1", before).execute(&mut *db).await?;
    with_blocks!("DELETE FROM block WHERE id");
    sqlx::query!(
        "DELETE FROM result WHERE EXISTS
             (SELECT 1 FROM entry
              JOIN athlete ON athlete.id = entry.athlete
              JOIN race ON race.id = entry.race
              WHERE entry.race = result.race AND entry.athlete = result.athlete
                AND (entry.withdrawn_at <= ?1 OR athlete.removed_at <= ?1 OR race.removed_at <= ?1))",
        before
    )
    .execute(&mut *db)
    .await?;
    gone.extend([sqlx::query!("DELETE FROM entry WHERE withdrawn_at <= ?1", before).execute(&mut *db).await?]);
    with_athletes!("DELETE FROM entry WHERE athlete");
    with_races!("DELETE FROM entry WHERE race");
    gone.extend([sqlx::query!("DELETE FROM life_event WHERE removed_at <= ?1", before).execute(&mut *db).await?]);
    with_athletes!("DELETE FROM life_event WHERE athlete");
    gone.extend([sqlx::query!("DELETE FROM done_session WHERE removed_at <= ?1", before).execute(&mut *db).await?]);
    with_athletes!("DELETE FROM done_session WHERE athlete");
    with_athletes!("DELETE FROM done_week WHERE athlete");
    with_athletes!("DELETE FROM second_week WHERE athlete");
    with_athletes!("DELETE FROM week_from_template WHERE athlete");
    sqlx::query!(
        "DELETE FROM week_from_template WHERE template IN (SELECT id FROM week_template WHERE removed_at <= ?1)",
        before
    )
    .execute(&mut *db)
    .await?;
    sqlx::query!(
        "DELETE FROM once
         WHERE kind = 'template' AND made IN (SELECT id FROM week_template WHERE removed_at <= ?1)",
        before
    )
    .execute(&mut *db)
    .await?;
    gone.extend([sqlx::query!("DELETE FROM week_template WHERE removed_at <= ?1", before).execute(&mut *db).await?]);
    with_athletes!("DELETE FROM base_week WHERE athlete");
    with_athletes!("DELETE FROM last_version WHERE thing = 'week' AND owner");
    with_athletes!("DELETE FROM once WHERE kind = 'athlete' AND made");
    with_athletes!("DELETE FROM squad_step_item WHERE athlete");
    with_races!("DELETE FROM squad_step_item WHERE (SELECT race FROM squad_step WHERE squad_step.id = step)");
    with_races!("DELETE FROM squad_step WHERE race");
    sqlx::query!(
        "DELETE FROM squad_step
         WHERE race IS NULL AND id NOT IN (SELECT step FROM squad_step_item)"
    )
    .execute(&mut *db)
    .await?;
    sqlx::query!("DELETE FROM once WHERE kind = 'step' AND made NOT IN (SELECT id FROM squad_step)")
        .execute(&mut *db)
        .await?;
    with_races!("DELETE FROM race_course WHERE race");
    with_races!("DELETE FROM last_version WHERE thing = 'course' AND owner");
    with_races!("DELETE FROM race_facts WHERE race");
    with_races!("DELETE FROM once WHERE kind = 'race' AND made");
    gone.extend([sqlx::query!("DELETE FROM athlete WHERE removed_at <= ?1", before).execute(&mut *db).await?]);
    gone.extend([sqlx::query!("DELETE FROM race WHERE removed_at <= ?1", before).execute(&mut *db).await?]);
    Ok(gone.rows_affected())
}

#[cfg(test)]
mod tests {
    use chrono::Days;
    use planning::{LifeEvent, Settings};
    use sqlx::AssertSqlSafe;

    use super::*;
    use crate::testing::{Squad, add, at, day, lines, once, open, race_on, squad, usual_lines};
    use crate::{GoalNotes, SecondWeek, Version, WeekDraft};

    /// The same time of day so many days after the first.
    fn on(day: i64) -> DateTime<Utc> {
        at(day * 24 * 60)
    }

    /// A squad with a row in every table that hangs on an athlete or a race, and a second athlete who
    /// shares the race.
    async fn full() -> Squad {
        let squad = squad().await;
        let Squad { store, athlete, race, week, block } = &squad;
        let id = store.add_block(*athlete, *race, &Settings::default(), week, block, at(5)).await.unwrap();
        let told = crate::Answers { worry: "the hill".to_owned(), ..crate::Answers::default() };
        store.save_answers(id, Version(1), &GoalNotes::default(), &told, at(6)).await.unwrap();
        store.save_race_sheet(id, Version(2), &crate::RaceSheet::default(), at(6)).await.unwrap();
        store.mark_sent(id, planning::Moment::BlockStart, at(7)).await.unwrap();
        store.hand_over(id, crate::Shows::ALL, day("2027-05-23"), at(7)).await.unwrap();
        let turning = WeekDraft {
            second: Some(SecondWeek { lines: usual_lines(), stands_on: day("2027-04-19") }),
            ..WeekDraft::of(usual_lines())
        };
        store.save_week(*athlete, Version(1), &turning, at(8)).await.unwrap();
        let template = crate::TemplateDraft {
            name: "Five days".to_owned(),
            lines: usual_lines(),
            ..crate::TemplateDraft::default()
        };
        let template = store.add_template(&template, once(), at(8)).await.unwrap();
        let from = crate::TemplateUse {
            template,
            version: Version(1),
            amount: planning::Amount::exact(planning::Milli::whole(40), planning::Unit::Km),
            given: usual_lines(),
            units: planning::DistanceUnit::Km,
        };
        let filled = crate::FilledWeek { athlete: *athlete, read_at: Version(2), week: None, from };
        store.apply_template((template, Version(1)), &[filled], once(), at(8)).await.unwrap();
        let ill = LifeEvent {
            kind: EventKind::Injury,
            from: day("2027-04-20"),
            to: day("2027-04-21"),
            noted: day("2027-04-21"),
            open: false,
        };
        store.add_event(*athlete, &ill, "", at(8)).await.unwrap();
        store
            .add_done_session(*athlete, day("2027-04-18"), "8 km", None, None, day("2027-04-19"), at(8))
            .await
            .unwrap();
        store
            .save_done_week(*athlete, day("2027-04-12"), Version(0), "40 km", "", day("2027-04-19"), at(8))
            .await
            .unwrap();
        let result = crate::RaceResult { words: "Well run.".to_owned(), ..crate::RaceResult::default() };
        store.save_result((*race, *athlete), Version(0), &result, crate::ReallyRan::default(), at(8)).await.unwrap();
        let bo = add(store, "Bo").await;
        store.enter(*race, bo, planning::Importance::Goal, at(8)).await.unwrap();
        store.save_course(*race, Version(0), &crate::testing::course(), at(8)).await.unwrap();
        store.save_race_facts(*race, Version(0), &crate::testing::race_facts(), at(8)).await.unwrap();
        squad
    }

    /// The tables that point at others: what is let go has to go from each.
    const POINTING: [&str; 17] = [
        "answers",
        "base_week",
        "block",
        "block_present",
        "block_revision",
        "done_session",
        "done_week",
        "entry",
        "goal_notes",
        "hand_over",
        "life_event",
        "message_sent",
        "race_sheet",
        "result",
        "second_week",
        "squad_step_item",
        "week_from_template",
    ];

    #[tokio::test]
    async fn an_athlete_goes_for_good_with_everything_and_nothing_else_goes() {
        let Squad { store, athlete, race, .. } = full().await;
        store.remove_athlete(athlete, on(1)).await.unwrap();
        assert_eq!(store.purge(on(30)).await.unwrap(), Purged::Nothing);
        assert_eq!(store.purge(on(31)).await.unwrap(), Purged::Waits);
        assert_eq!(store.purge(on(31) + TimeDelta::hours(5)).await.unwrap(), Purged::Waits);
        assert_eq!(store.purge(on(32)).await.unwrap(), Purged::Gone(1));
        assert_eq!(store.purge(on(33)).await.unwrap(), Purged::Nothing);
        assert_eq!(store.check().await.unwrap(), Vec::<String>::new());
        assert_eq!(store.athletes().await.unwrap().len(), 1);
        assert_eq!(store.entrants(race).await.unwrap().len(), 1);
        let mut db = store.stray().await;
        for table in POINTING {
            let column = match table {
                "answers" | "block_present" | "block_revision" | "goal_notes" | "hand_over" | "message_sent"
                | "race_sheet" => "block",
                _ => "athlete",
            };
            let sql = AssertSqlSafe(format!("SELECT count(*) FROM {table} WHERE {column} = 1"));
            let left: i64 = sqlx::query_scalar(sql).fetch_one(&mut db).await.unwrap();
            assert_eq!(left, 0, "{table}");
        }
    }

    #[tokio::test]
    async fn every_table_that_points_at_another_is_among_those_that_are_let_go() {
        let store = open().await;
        let pointing: Vec<String> = sqlx::query_scalar(
            "SELECT DISTINCT tables.name FROM sqlite_schema AS tables, pragma_foreign_key_list(tables.name)
             WHERE tables.type = 'table' ORDER BY tables.name",
        )
        .fetch_all(&mut store.stray().await)
        .await
        .unwrap();
        let mut known = [&POINTING[..], &["share", "race_course", "race_facts", "squad_step"]].concat();
        known.sort_unstable();
        assert_eq!(pointing, known, "a new table that points at another: let it go in `let_go`, then say it here");
    }

    #[tokio::test]
    async fn a_race_an_entry_an_event_and_a_session_go_each_in_its_time() {
        let Squad { store, athlete, race, .. } = full().await;
        let event = store.events_of(athlete).await.unwrap()[0].id;
        let session = store.done_sessions_of(athlete, day("2027-01-01")).await.unwrap()[0].id;
        store.remove_event(athlete, event, on(1)).await.unwrap();
        store.remove_done_session(athlete, session, on(2)).await.unwrap();
        store.withdraw(race, athlete, on(3)).await.unwrap();
        let removed = store.removed().await.unwrap();
        assert_eq!((removed.events.len(), removed.sessions.len(), removed.entries.len()), (1, 1, 1));
        store.remove_race(race, on(4)).await.unwrap();
        let removed = store.removed().await.unwrap();
        assert_eq!((removed.races.len(), removed.entries.len()), (1, 0), "the race stands for its entries");
        let mut went = Vec::new();
        for day in 28..40 {
            if let Purged::Gone(count) = store.purge(on(day)).await.unwrap() {
                went.push((day, count));
            }
            assert_eq!(store.check().await.unwrap(), Vec::<String>::new());
        }
        assert_eq!(went.iter().map(|(_, count)| count).sum::<u64>(), 4, "{went:?}");
        assert!(went[0].0 >= 32, "{went:?}");
        assert_eq!(store.removed().await.unwrap(), Removed::default());
        assert!(store.athlete(athlete).await.unwrap().is_some());
    }

    #[tokio::test]
    async fn a_clock_a_year_ahead_for_an_hour_lets_nothing_go() {
        let Squad { store, athlete, .. } = full().await;
        store.remove_athlete(athlete, on(1)).await.unwrap();
        for start in [on(2), on(3), on(4)] {
            let ahead = start + Days::new(365);
            assert_eq!(store.purge(start).await.unwrap(), Purged::Nothing);
            assert_eq!(store.purge(ahead).await.unwrap(), Purged::Waits);
            assert_eq!(store.purge(ahead + TimeDelta::hours(1)).await.unwrap(), Purged::Waits);
        }
        assert_eq!(store.purge(on(5)).await.unwrap(), Purged::Nothing);
        store.restore_athlete(athlete, on(5)).await.unwrap();
        assert!(store.athlete(athlete).await.unwrap().is_some());
    }

    #[tokio::test]
    async fn what_a_clock_in_the_past_removed_has_its_days_from_now() {
        let Squad { store, athlete, race, .. } = full().await;
        store.remove_athlete(athlete, on(-700)).await.unwrap();
        store.remove_race(race, on(-700)).await.unwrap();
        for day in 1..30 {
            assert_eq!(store.purge(on(day)).await.unwrap(), Purged::Nothing, "{day}");
        }
        assert_eq!(store.removed().await.unwrap().athletes[0].at, on(1));
    }

    #[tokio::test]
    async fn an_entry_comes_back_as_it_was() {
        let Squad { store, athlete, race, week, block } = squad().await;
        let id = store.add_block(athlete, race, &Settings::default(), &week, &block, at(5)).await.unwrap();
        store.withdraw(race, athlete, at(6)).await.unwrap();
        assert_eq!(store.block(id).await.unwrap(), None);
        let removed = store.removed().await.unwrap();
        assert_eq!(removed.entries[0].what, What::Race("Larkmere Half".to_owned(), day("2027-05-09")));
        store.restore_entry(race, athlete).await.unwrap();
        store.restore_entry(race, athlete).await.unwrap();
        assert!(store.block(id).await.unwrap().is_some());
        assert_eq!(store.removed().await.unwrap().count(), 0);
        assert!(store.restore_entry(RaceId(99), athlete).await.is_err());
    }

    #[tokio::test]
    async fn the_newest_instant_is_that_of_the_last_save() {
        let store = open().await;
        assert_eq!(store.newest_instant().await.unwrap(), None);
        let id = add(&store, "Ana").await;
        store.add_race(&race_on("2027-05-09"), "", once(), at(3)).await.unwrap();
        assert_eq!(store.newest_instant().await.unwrap(), Some(at(3)));
        store.save_week(id, Version(0), &WeekDraft::of(lines(["8"; 7])), at(9)).await.unwrap();
        assert_eq!(store.newest_instant().await.unwrap(), Some(at(9)));
    }

    #[tokio::test]
    async fn a_save_in_any_table_counts_for_the_newest_instant() {
        let Squad { store, .. } = full().await;
        store.save_message_text(planning::Moment::WeekOut, Version(0), "A week.", at(8)).await.unwrap();
        let mut db = store.stray().await;
        let tables: Vec<String> = sqlx::query_scalar(
            "SELECT tables.name FROM sqlite_schema AS tables, pragma_table_info(tables.name) AS columns
             WHERE tables.type = 'table' AND columns.name = 'saved_at' ORDER BY tables.name",
        )
        .fetch_all(&mut db)
        .await
        .unwrap();
        for (day, table) in (1..).zip(&tables) {
            let sql = AssertSqlSafe(format!("UPDATE {table} SET saved_at = ?"));
            let saved = sqlx::query(sql).bind(cell::instant_text(on(day))).execute(&mut db).await.unwrap();
            assert_ne!(saved.rows_affected(), 0, "{table} has a row");
            assert_eq!(store.newest_instant().await.unwrap(), Some(on(day)), "{table}");
        }
    }
}
