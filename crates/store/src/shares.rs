//! Links that show a block to its athlete, and the door behind them.

use std::collections::HashMap;

use chrono::{DateTime, NaiveDate, Utc};
use planning::DistanceUnit;
use sha2::{Digest, Sha256};
use sqlx::SqliteConnection;
use uuid::Uuid;

use crate::blocks::{current, head, read_document};
use crate::cell::{self, Place};
use crate::goals::{goal_document, read_goals};
use crate::{
    BlockId, Result, ShareId, ShareRecord, SharedBlock, SharedReader, Shown, Shows, Store, StoreError, Version,
};

/// A query over the links that work on a day, its first argument: none that has ended, and none whose
/// block, athlete, race or entry is hidden.
macro_rules! select_working {
    ($query:ident, $columns:literal, $rest:literal, $today:expr $(, $argument:expr)* $(,)?) => {
        sqlx::$query!(
            $columns
                + "
             FROM share
             JOIN block ON block.id = share.block AND block.removed_at IS NULL
             JOIN entry ON entry.race = block.race AND entry.athlete = block.athlete AND entry.withdrawn_at IS NULL
             JOIN athlete ON athlete.id = block.athlete AND athlete.removed_at IS NULL
             JOIN race ON race.id = block.race AND race.removed_at IS NULL
             WHERE share.revoked_at IS NULL AND share.ends >= ? "
                + $rest,
            $today
            $(, $argument)*
        )
    };
}

/// Links with what was last handed over by them, and the hand-over of the same block that it replaces.
macro_rules! select_shares {
    ($rest:literal $(, $argument:expr)* $(,)?) => {
        sqlx::query_as!(
            ShareRow,
            r#"SELECT share.id, share.block, share.token, share.revision, share.handed_over_at, share.ends,
                      share.shows_goals AS "shows_goals: bool", share.shows_stretches AS "shows_stretches: bool",
                      share.shows_race_day AS "shows_race_day: bool", hand_over.id AS "hand_over!", hand_over.goals,
                      hand_over.race_day, earlier.id AS "earlier?: i64", earlier.revision AS "replaces?: i64",
                      earlier.at AS "replaces_at?: String"
               FROM share
               JOIN hand_over ON hand_over.id = (SELECT max(id) FROM hand_over WHERE hand_over.share = share.id)
               LEFT JOIN hand_over AS earlier ON earlier.id =
                   (SELECT other.id FROM hand_over AS other
                    WHERE other.block = share.block
                      AND (other.revision <> share.revision OR other.goals IS NOT hand_over.goals
                           OR other.race_day IS NOT hand_over.race_day)
                    ORDER BY other.at DESC, other.id DESC LIMIT 1) "#
                + $rest
            $(, $argument)*
        )
    };
}

impl Store {
    /// Hands the present revision over with the goal notes as they are: makes a link, or lets the
    /// existing one show this revision. What is written later is not seen until it is handed over anew.
    ///
    /// The address stays the same until it is revoked. `ends` is its last day.
    ///
    /// # Errors
    ///
    /// [`StoreError::Gone`].
    pub async fn hand_over(
        &self,
        id: BlockId,
        shows: Shows,
        ends: NaiveDate,
        now: DateTime<Utc>,
    ) -> Result<ShareRecord> {
        let mut tx = self.writing().await?;
        let revision = head(&mut tx, id).await?.ok_or(StoreError::Gone)?.revision;
        let record = show_revision(&mut tx, id, revision, shows, None, ends, now).await?;
        tx.commit().await?;
        Ok(record)
    }

    /// The same with the race sheet as a document of the caller, if the block is still as it was when somebody looked at it.
    ///
    /// # Errors
    ///
    /// [`StoreError::Gone`]; [`StoreError::Conflict`] if it was saved since: nobody looked at what would be
    /// handed over.
    pub async fn hand_over_as_read(
        &self,
        id: BlockId,
        read_at: Version,
        shows: Shows,
        race_day: Option<&str>,
        ends: NaiveDate,
        now: DateTime<Utc>,
    ) -> Result<ShareRecord> {
        let mut tx = self.writing().await?;
        let revision = current(&mut tx, id, read_at).await?.revision;
        let record = show_revision(&mut tx, id, revision, shows, race_day, ends, now).await?;
        tx.commit().await?;
        Ok(record)
    }

    /// Ends the link of a block at once. Twice is once.
    ///
    /// # Errors
    ///
    /// [`StoreError::Gone`] where there is no such block.
    pub async fn revoke(&self, id: BlockId, now: DateTime<Utc>) -> Result<()> {
        let mut tx = self.writing().await?;
        head(&mut tx, id).await?.ok_or(StoreError::Gone)?;
        let at = cell::instant_text(now);
        sqlx::query!("UPDATE share SET revoked_at = ? WHERE block = ? AND revoked_at IS NULL", at, id.0)
            .execute(&mut *tx)
            .await?;
        tx.commit().await?;
        Ok(())
    }

    /// How many links work on a day.
    pub async fn count_working_links(&self, today: NaiveDate) -> Result<usize> {
        let today = cell::day_text(today);
        let mut db = self.read_connection().await?;
        let count = select_working!(query_scalar, "SELECT count(*)", "", today).fetch_one(&mut *db).await?;
        Ok(usize::try_from(count).unwrap_or_default())
    }

    /// The tokens of every link that works on a day, in the order of the athletes' names.
    pub async fn working_links(&self, today: NaiveDate) -> Result<Vec<String>> {
        let today = cell::day_text(today);
        let mut db = self.read_connection().await?;
        let tokens = select_working!(query_scalar, "SELECT share.token", "ORDER BY athlete.name, share.id", today)
            .fetch_all(&mut *db)
            .await?;
        Ok(tokens)
    }
}

impl SharedReader {
    /// What a token shows today; nothing for an unknown, a revoked and an expired one alike.
    ///
    /// A link is hidden together with its athlete, its race and its entry.
    pub async fn shared(&self, token: &str, today: NaiveDate) -> Result<Option<SharedBlock>> {
        let mut tx = self.read.begin().await?;
        let Some(behind) = behind(&mut tx, token, today).await? else {
            return Ok(None);
        };
        let Some(share) = working_share(&mut tx, behind.block).await? else {
            return Ok(None);
        };
        let row = sqlx::query!(
            "SELECT id, place, document FROM block_revision WHERE block = ? AND number = ?",
            behind.block.0,
            share.revision
        )
        .fetch_one(&mut *tx)
        .await?;
        // Why a day changed may be a matter of health: that does not pass this door.
        let block = read_document(row.id, &row.document)?.public().into_owned();
        Ok(Some(SharedBlock {
            name: behind.name,
            units: behind.units,
            race: block.race.clone(),
            place: row.place,
            called_off: behind.called_off,
            block,
            goals: share.shows.of(&share.goals),
            race_day: share.race_day.filter(|_| share.shows.race_day),
            revision: share.revision,
            handed_over: share.handed_over,
            replaces: share.replaces,
            ends: share.ends,
        }))
    }
}

/// What stands behind a link that works.
pub(crate) struct Behind {
    pub(crate) block: BlockId,
    /// The athlete's name and units.
    pub(crate) name: String,
    pub(crate) units: DistanceUnit,
    /// Since when the race is called off, if it is.
    pub(crate) called_off: Option<NaiveDate>,
    /// When the race was saved last.
    pub(crate) race_saved: DateTime<Utc>,
}

/// What a token leads to on a day; nothing for an unknown, a revoked and an expired one alike.
pub(crate) async fn behind(db: &mut SqliteConnection, token: &str, today: NaiveDate) -> Result<Option<Behind>> {
    let (hash, today) = (token_hash(token), cell::day_text(today));
    let row = select_working!(
        query,
        "SELECT share.block, block.race, block.athlete, athlete.name, athlete.units, race.called_off, race.saved_at",
        "AND share.token_hash = ?",
        today,
        hash
    )
    .fetch_optional(db)
    .await?;
    row.map(|row| {
        let race = Place::new("race", row.race);
        Ok(Behind {
            block: BlockId(row.block),
            name: row.name,
            units: Place::new("athlete", row.athlete).units("units", &row.units)?,
            called_off: row.called_off.map(|text| race.day("called_off", &text)).transpose()?,
            race_saved: race.instant("saved_at", &row.saved_at)?,
        })
    })
    .transpose()
}

/// Lets the link of a block, or a new one, show one of its revisions, and writes down what was handed over.
pub(crate) async fn show_revision(
    db: &mut SqliteConnection,
    id: BlockId,
    revision: u32,
    shows: Shows,
    race_day: Option<&str>,
    ends: NaiveDate,
    now: DateTime<Utc>,
) -> Result<ShareRecord> {
    let race_day = race_day.filter(|_| shows.race_day);
    let (now, ends) = (cell::instant_text(now), cell::day_text(ends));
    let kept = sqlx::query_scalar!(
        r#"UPDATE share SET revision = ?, handed_over_at = ?, ends = ?, shows_goals = ?, shows_stretches = ?,
                shows_race_day = ?
         WHERE block = ? AND revoked_at IS NULL RETURNING id AS "id!""#,
        revision,
        now,
        ends,
        shows.goals,
        shows.stretches,
        shows.race_day,
        id.0
    )
    .fetch_optional(&mut *db)
    .await?;
    let share = if let Some(share) = kept {
        share
    } else {
        let token = new_token();
        let hash = token_hash(&token);
        sqlx::query_scalar!(
            r#"INSERT INTO share (block, token, token_hash, revision, handed_over_at, ends, shows_goals,
                                  shows_stretches, shows_race_day, made_at)
             VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?5) RETURNING id AS "id!""#,
            id.0,
            token,
            hash,
            revision,
            now,
            ends,
            shows.goals,
            shows.stretches,
            shows.race_day
        )
        .fetch_one(&mut *db)
        .await?
    };
    let goals = goal_document(&mut *db, id).await?;
    sqlx::query!(
        "INSERT INTO hand_over (block, revision, share, at, goals, race_day) VALUES (?, ?, ?, ?, ?, ?)",
        id.0,
        revision,
        share,
        now,
        goals,
        race_day
    )
    .execute(&mut *db)
    .await?;
    working_share(&mut *db, id).await?.ok_or(StoreError::Gone)
}

/// The link of a block that is not revoked; it may have ended by its date.
pub(crate) async fn working_share(db: &mut SqliteConnection, id: BlockId) -> Result<Option<ShareRecord>> {
    Ok(working_shares(db, &[id]).await?.remove(&id))
}

/// The same of several blocks; nothing for one that has none.
pub(crate) async fn working_shares(
    db: &mut SqliteConnection,
    ids: &[BlockId],
) -> Result<HashMap<BlockId, ShareRecord>> {
    let ids = cell::id_list(ids.iter().copied());
    let rows =
        select_shares!("WHERE share.block IN (SELECT value FROM json_each(?)) AND share.revoked_at IS NULL", ids);
    rows.fetch_all(db).await?.into_iter().map(|row| Ok((BlockId(row.block), row.read()?))).collect()
}

/// Every link, revoked or not: for the check of the whole file.
pub(crate) async fn every_share(db: &mut SqliteConnection) -> Result<Vec<Result<ShareRecord>>> {
    let rows = select_shares!("ORDER BY share.id").fetch_all(db).await?;
    Ok(rows.into_iter().map(ShareRow::read).collect())
}

/// When each hand-over was: for the check of the whole file.
pub(crate) async fn every_hand_over(db: &mut SqliteConnection) -> Result<Vec<Result<DateTime<Utc>>>> {
    let rows = sqlx::query!("SELECT id, at FROM hand_over ORDER BY id").fetch_all(db).await?;
    Ok(rows.into_iter().map(|row| Place::new("hand_over", row.id).instant("at", &row.at)).collect())
}

struct ShareRow {
    id: i64,
    block: i64,
    token: String,
    revision: i64,
    handed_over_at: String,
    ends: String,
    shows_goals: bool,
    shows_stretches: bool,
    shows_race_day: bool,
    hand_over: i64,
    goals: Option<String>,
    race_day: Option<String>,
    earlier: Option<i64>,
    replaces: Option<i64>,
    replaces_at: Option<String>,
}

impl ShareRow {
    fn read(self) -> Result<ShareRecord> {
        let (place, handed_over) = (Place::new("share", self.id), Place::new("hand_over", self.hand_over));
        let replaced = |((id, revision), at): ((i64, i64), String)| -> Result<Shown> {
            let earlier = Place::new("hand_over", id);
            Ok(Shown { revision: earlier.number("revision", revision)?, at: earlier.instant("at", &at)? })
        };
        Ok(ShareRecord {
            id: ShareId(self.id),
            token: self.token,
            revision: place.number("revision", self.revision)?,
            handed_over: place.instant("handed_over_at", &self.handed_over_at)?,
            ends: place.day("ends", &self.ends)?,
            shows: Shows { goals: self.shows_goals, stretches: self.shows_stretches, race_day: self.shows_race_day },
            race_day: self.race_day,
            goals: read_goals(self.goals.as_deref()).map_err(|error| handed_over.corrupt("goals", error))?,
            replaces: self.earlier.zip(self.replaces).zip(self.replaces_at).map(replaced).transpose()?,
        })
    }
}

/// 64 hexadecimal digits, 244 of their bits random: nobody guesses one.
fn new_token() -> String {
    format!("{}{}", Uuid::new_v4().simple(), Uuid::new_v4().simple())
}

/// What a token is looked up by.
fn token_hash(token: &str) -> Vec<u8> {
    Sha256::digest(token.as_bytes()).to_vec()
}

#[cfg(test)]
mod tests {
    use planning::Settings;

    use super::*;
    use crate::testing::{Squad, at, day, squad};
    use crate::{GoalNotes, Version};

    async fn shared_squad() -> (Squad, BlockId, SharedReader) {
        let squad = squad().await;
        let id = squad
            .store
            .add_block(squad.athlete, squad.race, &Settings::default(), &squad.week, &squad.block, at(5))
            .await
            .unwrap();
        let door = squad.store.shared_reader().await.unwrap();
        (squad, id, door)
    }

    #[tokio::test]
    async fn a_link_shows_what_was_handed_over_and_nothing_later() {
        let (Squad { store, week, block, .. }, id, door) = shared_squad().await;
        let share = store.hand_over(id, Shows::NOTHING, day("2027-05-23"), at(6)).await.unwrap();
        assert_eq!(share.token.len(), 64);
        assert_eq!(store.block(id).await.unwrap().unwrap().share, Some(share.clone()));

        let mut bent = block.clone();
        bent.days[3].sessions.clear();
        store.revise_block(id, Version(1), &Settings::default(), &week, &bent, "made anew", at(7)).await.unwrap();
        let shown = door.shared(&share.token, day("2027-04-20")).await.unwrap().unwrap();
        let expected = SharedBlock {
            name: "Ana".to_owned(),
            units: planning::DistanceUnit::Km,
            race: block.race.clone(),
            place: "Harbour".to_owned(),
            called_off: None,
            block,
            goals: GoalNotes::default(),
            race_day: None,
            revision: 1,
            handed_over: at(6),
            replaces: None,
            ends: day("2027-05-23"),
        };
        assert_eq!(shown, expected);

        let again = store.hand_over(id, Shows::ALL, day("2027-05-30"), at(8)).await.unwrap();
        assert_eq!((&again.token, again.id, again.revision), (&share.token, share.id, 2), "the same address");
        assert_eq!((again.handed_over, again.replaces), (at(8), Some(Shown { revision: 1, at: at(6) })));
        let shown = door.shared(&share.token, day("2027-05-30")).await.unwrap().unwrap();
        assert_eq!((shown.block, shown.revision, shown.replaces), (bent, 2, Some(Shown { revision: 1, at: at(6) })));
    }

    #[tokio::test]
    async fn handing_the_same_revision_over_again_replaces_nothing() {
        let (Squad { store, .. }, id, _) = shared_squad().await;
        store.hand_over(id, Shows::NOTHING, day("2027-05-23"), at(6)).await.unwrap();
        let again = store.hand_over(id, Shows::ALL, day("2027-05-23"), at(7)).await.unwrap();
        assert_eq!((again.replaces, again.handed_over, again.shows), (None, at(7), Shows::ALL));
    }

    fn notes(goal: &str) -> GoalNotes {
        let mut notes = GoalNotes { a: goal.to_owned(), message: "Enjoy it.".to_owned(), ..GoalNotes::default() };
        notes.stretches[2].cue = "home".to_owned();
        notes
    }

    #[tokio::test]
    async fn goals_and_stretches_are_shown_on_choice_and_the_message_always() {
        let (Squad { store, .. }, id, door) = shared_squad().await;
        store.save_goals(id, Version(1), &notes("1:38"), at(6)).await.unwrap();
        for (shows, goal, cue) in [
            (Shows::NOTHING, "", ""),
            (Shows { goals: true, ..Shows::NOTHING }, "1:38", ""),
            (Shows { stretches: true, ..Shows::NOTHING }, "", "home"),
            (Shows::ALL, "1:38", "home"),
        ] {
            let share = store.hand_over(id, shows, day("2027-05-23"), at(7)).await.unwrap();
            let shown = door.shared(&share.token, day("2027-05-01")).await.unwrap().unwrap().goals;
            assert_eq!((shown.a.as_str(), shown.stretches[2].cue.as_str()), (goal, cue), "{shows:?}");
            assert_eq!(shown.message, "Enjoy it.");
        }
    }

    #[tokio::test]
    async fn notes_stay_as_they_were_handed_over_until_they_are_handed_over_anew() {
        let (Squad { store, .. }, id, door) = shared_squad().await;
        store.save_goals(id, Version(1), &notes("1:38"), at(6)).await.unwrap();
        let share = store.hand_over(id, Shows::ALL, day("2027-05-23"), at(7)).await.unwrap();
        store.save_goals(id, Version(2), &notes("1:36"), at(8)).await.unwrap();
        let shown = async || door.shared(&share.token, day("2027-05-01")).await.unwrap().unwrap();
        assert_eq!(shown().await.goals, notes("1:38"));
        let kept = store.block(id).await.unwrap().unwrap();
        assert!(kept.share.is_some_and(|share| share.goals == notes("1:38") && share.notes_changed(&kept.goals)));
        let again = store.hand_over(id, Shows::ALL, day("2027-05-23"), at(9)).await.unwrap();
        assert_eq!(
            (shown().await.goals, again.replaces),
            (notes("1:36"), Some(Shown { revision: 1, at: at(7) })),
            "another sheet, same days"
        );
        assert!(!again.notes_changed(&notes("1:36")));
        let hidden = ShareRecord { shows: Shows::NOTHING, ..again };
        assert!(!hidden.notes_changed(&notes("1:35")), "what is not shown cannot be old");
    }

    #[tokio::test]
    async fn links_of_an_older_file_keep_the_goals_that_their_athletes_saw() {
        let (Squad { store, .. }, id, _) = shared_squad().await;
        store.save_goals(id, Version(1), &notes("1:38"), at(6)).await.unwrap();
        let share = store.hand_over(id, Shows::ALL, day("2027-05-23"), at(7)).await.unwrap();
        store.close().await;
        let mut db = store.stray().await;
        sqlx::raw_sql(
            "DROP VIEW goal_document; DROP INDEX hand_over_by_share; DROP TABLE message_text;
             DROP TABLE message_sent; DROP TABLE answers; ALTER TABLE hand_over DROP COLUMN goals;
             ALTER TABLE share DROP COLUMN shows_stretches; DELETE FROM _sqlx_migrations WHERE version = 4;",
        )
        .execute(&mut db)
        .await
        .unwrap();
        sqlx::Connection::close(db).await.unwrap();
        let store = Store::open(store.path()).await.unwrap();
        let door = store.shared_reader().await.unwrap();
        let shown = door.shared(&share.token, day("2027-05-01")).await.unwrap().unwrap();
        assert_eq!(shown.goals, notes("1:38"));
        assert_eq!(store.block(id).await.unwrap().unwrap().share.map(|share| share.shows), Some(Shows::ALL));
    }

    #[tokio::test]
    async fn a_link_works_up_to_its_last_day() {
        let (Squad { store, .. }, id, _) = shared_squad().await;
        store.hand_over(id, Shows::ALL, day("2027-05-23"), at(6)).await.unwrap();
        let kept = store.block(id).await.unwrap().unwrap();
        assert!(kept.link_on(day("2027-05-23")).is_some() && kept.link_on(day("2027-05-24")).is_none());
    }

    #[tokio::test]
    async fn unknown_revoked_ended_and_hidden_links_are_alike() {
        let (Squad { store, athlete, race, .. }, id, door) = shared_squad().await;
        let share = store.hand_over(id, Shows::NOTHING, day("2027-05-23"), at(6)).await.unwrap();
        let today = day("2027-05-23");
        let opens = async || {
            let opens = door.shared(&share.token, today).await.unwrap().is_some();
            assert_eq!(store.working_links(today).await.unwrap().contains(&share.token), opens);
            assert_eq!(store.count_working_links(today).await.unwrap(), usize::from(opens));
            opens
        };
        assert!(opens().await, "it still works on its last day");
        assert_eq!(door.shared(&share.token, day("2027-05-24")).await.unwrap(), None, "ended");
        for unknown in ["", "0", &share.token[1..], &share.token.to_uppercase(), "' OR 1 --"] {
            assert_eq!(door.shared(unknown, today).await.unwrap(), None, "{unknown}");
        }

        store.withdraw(race, athlete, at(7)).await.unwrap();
        assert!(!opens().await);
        store.enter(race, athlete, planning::Importance::Goal, at(8)).await.unwrap();
        store.remove_athlete(athlete, at(9)).await.unwrap();
        assert!(!opens().await);
        store.restore_athlete(athlete, at(10)).await.unwrap();
        store.remove_race(race, at(11)).await.unwrap();
        assert!(!opens().await);
        store.restore_race(race, at(12)).await.unwrap();
        assert!(opens().await);

        store.revoke(id, at(13)).await.unwrap();
        store.revoke(id, at(14)).await.unwrap();
        assert!(!opens().await);
        assert_eq!(store.block(id).await.unwrap().unwrap().share, None);
    }

    #[tokio::test]
    async fn after_a_link_was_revoked_the_next_one_is_another() {
        let (Squad { store, week, block, .. }, id, door) = shared_squad().await;
        let old = store.hand_over(id, Shows::NOTHING, day("2027-05-23"), at(6)).await.unwrap();
        store.revoke(id, at(7)).await.unwrap();
        store.revise_block(id, Version(1), &Settings::default(), &week, &block, "made anew", at(8)).await.unwrap();
        let new = store.hand_over(id, Shows::NOTHING, day("2027-05-23"), at(9)).await.unwrap();
        assert_ne!(old.token, new.token);
        assert_eq!(
            new.replaces,
            Some(Shown { revision: 1, at: at(6) }),
            "the athlete may still hold the sheet of the old one"
        );
        assert_eq!(door.shared(&old.token, day("2027-05-01")).await.unwrap(), None);
        assert!(door.shared(&new.token, day("2027-05-01")).await.unwrap().is_some());
    }

    #[tokio::test]
    async fn what_is_withdrawn_or_removed_is_not_handed_over() {
        let (Squad { store, athlete, race, .. }, id, _) = shared_squad().await;
        let refused = async || {
            let ends = day("2027-05-23");
            let as_read = store.hand_over_as_read(id, Version(1), Shows::ALL, None, ends, at(6)).await;
            let at_all = store.hand_over(id, Shows::ALL, ends, at(6)).await;
            assert!(matches!((&as_read, &at_all), (Err(StoreError::Gone), Err(StoreError::Gone))), "{as_read:?}");
        };
        store.withdraw(race, athlete, at(7)).await.unwrap();
        refused().await;
        store.enter(race, athlete, planning::Importance::Goal, at(8)).await.unwrap();
        store.remove_athlete(athlete, at(9)).await.unwrap();
        refused().await;
        store.restore_athlete(athlete, at(10)).await.unwrap();
        store.remove_race(race, at(11)).await.unwrap();
        refused().await;
        store.restore_race(race, at(12)).await.unwrap();
        assert_eq!(store.block(id).await.unwrap().unwrap().share, None);
    }

    #[tokio::test]
    async fn a_block_that_is_gone_is_not_handed_over() {
        let (Squad { store, .. }, _, _) = shared_squad().await;
        let gone = store.hand_over(BlockId(99), Shows::NOTHING, day("2027-05-23"), at(6)).await;
        assert!(matches!(gone, Err(StoreError::Gone)), "{gone:?}");
        let gone = store.revoke(BlockId(99), at(6)).await;
        assert!(matches!(gone, Err(StoreError::Gone)), "{gone:?}");
    }
}
