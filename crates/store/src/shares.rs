//! Links that show a block to its athlete, and the door behind them.

use chrono::{DateTime, NaiveDate, Utc};
use sha2::{Digest, Sha256};
use sqlx::SqliteConnection;
use uuid::Uuid;

use crate::blocks::{goals, head, read_document};
use crate::cell::{self, Place};
use crate::{BlockId, Result, ShareId, ShareRecord, SharedBlock, SharedReader, Store, StoreError};

impl Store {
    /// Hands the present revision over: makes a link, or lets the existing one show this revision.
    ///
    /// The address stays the same until it is revoked. `ends` is its last day.
    ///
    /// # Errors
    ///
    /// [`StoreError::Gone`].
    pub async fn hand_over(
        &self,
        id: BlockId,
        shows_goals: bool,
        ends: NaiveDate,
        now: DateTime<Utc>,
    ) -> Result<ShareRecord> {
        let mut tx = self.writing().await?;
        let revision = head(&mut tx, id).await?.ok_or(StoreError::Gone)?.revision;
        let (now, ends) = (cell::instant_text(now), cell::day_text(ends));
        let kept = sqlx::query_scalar!(
            r#"UPDATE share SET revision = ?, handed_over_at = ?, ends = ?, shows_goals = ?
             WHERE block = ? AND revoked_at IS NULL RETURNING id AS "id!""#,
            revision,
            now,
            ends,
            shows_goals,
            id.0
        )
        .fetch_optional(&mut *tx)
        .await?;
        let share = if let Some(share) = kept {
            share
        } else {
            let token = new_token();
            let hash = token_hash(&token);
            sqlx::query_scalar!(
                r#"INSERT INTO share (block, token, token_hash, revision, handed_over_at, ends, shows_goals, made_at)
                 VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?5) RETURNING id AS "id!""#,
                id.0,
                token,
                hash,
                revision,
                now,
                ends,
                shows_goals
            )
            .fetch_one(&mut *tx)
            .await?
        };
        sqlx::query!(
            "INSERT INTO hand_over (block, revision, share, at) VALUES (?, ?, ?, ?)",
            id.0,
            revision,
            share,
            now
        )
        .execute(&mut *tx)
        .await?;
        let record = working_share(&mut tx, id).await?.ok_or(StoreError::Gone)?;
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
}

impl SharedReader {
    /// What a token shows today; nothing for an unknown, a revoked and an expired one alike.
    ///
    /// A link is hidden together with its athlete, its race and its entry.
    pub async fn shared(&self, token: &str, today: NaiveDate) -> Result<Option<SharedBlock>> {
        let (hash, today) = (token_hash(token), cell::day_text(today));
        let mut tx = self.read.begin().await?;
        let row = sqlx::query!(
            r#"SELECT share.id, share.block, share.revision, share.handed_over_at, share.ends,
                    share.shows_goals AS "shows_goals: bool", athlete.id AS athlete, athlete.name, athlete.units,
                    block_revision.id AS block_revision, block_revision.place, block_revision.document,
                    (SELECT max(at) FROM hand_over
                     WHERE hand_over.block = share.block AND hand_over.revision <> share.revision) AS "replaces: String"
             FROM share
             JOIN block ON block.id = share.block
             JOIN block_revision ON block_revision.block = share.block AND block_revision.number = share.revision
             JOIN entry ON entry.race = block.race AND entry.athlete = block.athlete AND entry.withdrawn_at IS NULL
             JOIN athlete ON athlete.id = block.athlete AND athlete.removed_at IS NULL
             JOIN race ON race.id = block.race AND race.removed_at IS NULL
             WHERE share.token_hash = ? AND share.revoked_at IS NULL AND share.ends >= ?"#,
            hash,
            today
        )
        .fetch_optional(&mut *tx)
        .await?;
        let Some(row) = row else {
            return Ok(None);
        };
        let share = Place::new("share", row.id);
        // Why a day changed may be a matter of health: that does not pass this door.
        let block = read_document(row.block_revision, &row.document)?.public();
        let mut notes = goals(&mut tx, BlockId(row.block)).await?;
        let message = std::mem::take(&mut notes.message);
        Ok(Some(SharedBlock {
            name: row.name,
            units: Place::new("athlete", row.athlete).units("units", &row.units)?,
            race: block.race.clone(),
            place: row.place,
            block,
            goals: row.shows_goals.then_some(notes),
            message,
            revision: share.number("revision", row.revision)?,
            handed_over: share.instant("handed_over_at", &row.handed_over_at)?,
            replaces: row.replaces.map(|text| share.instant("handed_over_at", &text)).transpose()?,
            ends: share.day("ends", &row.ends)?,
        }))
    }
}

/// The link of a block that is not revoked; it may have ended by its date.
pub(crate) async fn working_share(db: &mut SqliteConnection, id: BlockId) -> Result<Option<ShareRecord>> {
    let row = sqlx::query_as!(
        ShareRow,
        r#"SELECT id, token, revision, handed_over_at, ends, shows_goals AS "shows_goals: bool",
                (SELECT max(at) FROM hand_over
                 WHERE hand_over.block = share.block AND hand_over.revision <> share.revision) AS "replaces: String"
         FROM share WHERE block = ? AND revoked_at IS NULL"#,
        id.0
    )
    .fetch_optional(db)
    .await?;
    row.map(ShareRow::read).transpose()
}

/// Every link, revoked or not: for the check of the whole file.
pub(crate) async fn every_share(db: &mut SqliteConnection) -> Result<Vec<Result<ShareRecord>>> {
    let rows = sqlx::query_as!(
        ShareRow,
        r#"SELECT id, token, revision, handed_over_at, ends, shows_goals AS "shows_goals: bool",
                (SELECT max(at) FROM hand_over
                 WHERE hand_over.block = share.block AND hand_over.revision <> share.revision) AS "replaces: String"
         FROM share ORDER BY id"#
    )
    .fetch_all(db)
    .await?;
    Ok(rows.into_iter().map(ShareRow::read).collect())
}

/// When each hand-over was: for the check of the whole file.
pub(crate) async fn every_hand_over(db: &mut SqliteConnection) -> Result<Vec<Result<DateTime<Utc>>>> {
    let rows = sqlx::query!("SELECT id, at FROM hand_over ORDER BY id").fetch_all(db).await?;
    Ok(rows.into_iter().map(|row| Place::new("hand_over", row.id).instant("at", &row.at)).collect())
}

struct ShareRow {
    id: i64,
    token: String,
    revision: i64,
    handed_over_at: String,
    ends: String,
    shows_goals: bool,
    replaces: Option<String>,
}

impl ShareRow {
    fn read(self) -> Result<ShareRecord> {
        let place = Place::new("share", self.id);
        Ok(ShareRecord {
            id: ShareId(self.id),
            token: self.token,
            revision: place.number("revision", self.revision)?,
            handed_over: place.instant("handed_over_at", &self.handed_over_at)?,
            ends: place.day("ends", &self.ends)?,
            shows_goals: self.shows_goals,
            replaces: self.replaces.map(|text| place.instant("handed_over_at", &text)).transpose()?,
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
        let share = store.hand_over(id, false, day("2027-05-23"), at(6)).await.unwrap();
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
            block,
            goals: None,
            message: String::new(),
            revision: 1,
            handed_over: at(6),
            replaces: None,
            ends: day("2027-05-23"),
        };
        assert_eq!(shown, expected);

        let again = store.hand_over(id, true, day("2027-05-30"), at(8)).await.unwrap();
        assert_eq!((&again.token, again.id, again.revision), (&share.token, share.id, 2), "the same address");
        assert_eq!((again.handed_over, again.replaces), (at(8), Some(at(6))));
        let shown = door.shared(&share.token, day("2027-05-30")).await.unwrap().unwrap();
        assert_eq!((shown.block, shown.revision, shown.replaces), (bent, 2, Some(at(6))));
    }

    #[tokio::test]
    async fn handing_the_same_revision_over_again_replaces_nothing() {
        let (Squad { store, .. }, id, _) = shared_squad().await;
        store.hand_over(id, false, day("2027-05-23"), at(6)).await.unwrap();
        let again = store.hand_over(id, true, day("2027-05-23"), at(7)).await.unwrap();
        assert_eq!((again.replaces, again.handed_over, again.shows_goals), (None, at(7), true));
    }

    #[tokio::test]
    async fn goals_are_shown_on_choice_and_the_message_always() {
        let (Squad { store, .. }, id, door) = shared_squad().await;
        let written = GoalNotes { a: "1:38".to_owned(), message: "Enjoy it.".to_owned(), ..GoalNotes::default() };
        store.save_goals(id, Version(1), &written, at(6)).await.unwrap();
        for (shows_goals, expected) in [(false, None), (true, Some("1:38".to_owned()))] {
            let share = store.hand_over(id, shows_goals, day("2027-05-23"), at(7)).await.unwrap();
            let shown = door.shared(&share.token, day("2027-05-01")).await.unwrap().unwrap();
            assert_eq!((shown.goals.map(|goals| goals.a), shown.message.as_str()), (expected, "Enjoy it."));
        }
    }

    #[tokio::test]
    async fn unknown_revoked_ended_and_hidden_links_are_alike() {
        let (Squad { store, athlete, race, .. }, id, door) = shared_squad().await;
        let share = store.hand_over(id, false, day("2027-05-23"), at(6)).await.unwrap();
        let today = day("2027-05-23");
        let opens = async || door.shared(&share.token, today).await.unwrap().is_some();
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
        let old = store.hand_over(id, false, day("2027-05-23"), at(6)).await.unwrap();
        store.revoke(id, at(7)).await.unwrap();
        store.revise_block(id, Version(1), &Settings::default(), &week, &block, "made anew", at(8)).await.unwrap();
        let new = store.hand_over(id, false, day("2027-05-23"), at(9)).await.unwrap();
        assert_ne!(old.token, new.token);
        assert_eq!(new.replaces, Some(at(6)), "the athlete may still hold the sheet of the old one");
        assert_eq!(door.shared(&old.token, day("2027-05-01")).await.unwrap(), None);
        assert!(door.shared(&new.token, day("2027-05-01")).await.unwrap().is_some());
    }

    #[tokio::test]
    async fn a_block_that_is_gone_is_not_handed_over() {
        let (Squad { store, .. }, _, _) = shared_squad().await;
        let gone = store.hand_over(BlockId(99), false, day("2027-05-23"), at(6)).await;
        assert!(matches!(gone, Err(StoreError::Gone)), "{gone:?}");
        let gone = store.revoke(BlockId(99), at(6)).await;
        assert!(matches!(gone, Err(StoreError::Gone)), "{gone:?}");
    }
}
