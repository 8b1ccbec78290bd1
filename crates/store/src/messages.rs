//! Messages by date: the squad's words for them, and which of them were sent.

use std::collections::HashMap;

use chrono::{DateTime, Utc};
use planning::Moment;
use sqlx::SqliteConnection;

use crate::blocks::head;
use crate::cell::{self, Place};
use crate::{BlockId, MessageText, Result, SentMessage, Store, StoreError, Version};

impl Store {
    /// The squad's words for each moment, in their order.
    pub async fn message_texts(&self) -> Result<Vec<MessageText>> {
        let mut db = self.read_connection().await?;
        message_texts(&mut db).await
    }

    /// Saves the squad's words for a moment, read at a version.
    ///
    /// # Errors
    ///
    /// [`StoreError::Conflict`].
    pub async fn save_message_text(
        &self,
        moment: Moment,
        read_at: Version,
        text: &str,
        now: DateTime<Utc>,
    ) -> Result<()> {
        let mut tx = self.writing().await?;
        let (code, saved_at) = (moment.code(), cell::instant_text(now));
        let saved = if read_at == Version(0) {
            sqlx::query!(
                "INSERT INTO message_text (moment, version, text, in_use, saved_at) VALUES (?, 1, ?, 1, ?)
                 ON CONFLICT (moment) DO NOTHING",
                code,
                text,
                saved_at
            )
            .execute(&mut *tx)
            .await?
        } else {
            sqlx::query!(
                "UPDATE message_text SET version = version + 1, text = ?, in_use = 1, saved_at = ?
                 WHERE moment = ? AND version = ?",
                text,
                saved_at,
                code,
                read_at.0
            )
            .execute(&mut *tx)
            .await?
        };
        cell::commit_as_read(tx, &saved).await
    }

    /// Goes back to the program's words for a moment; the squad's are kept aside. Twice is once.
    pub async fn put_message_aside(&self, moment: Moment, now: DateTime<Utc>) -> Result<()> {
        self.use_words(moment, Words::Ours, now).await
    }

    /// Takes the squad's words for a moment again that were put aside. Twice is once.
    pub async fn take_message_again(&self, moment: Moment, now: DateTime<Utc>) -> Result<()> {
        self.use_words(moment, Words::Squads, now).await
    }

    async fn use_words(&self, moment: Moment, words: Words, now: DateTime<Utc>) -> Result<()> {
        let mut tx = self.writing().await?;
        let (code, in_use, saved_at) = (moment.code(), words == Words::Squads, cell::instant_text(now));
        sqlx::query!(
            "UPDATE message_text SET version = version + 1, in_use = ?, saved_at = ? WHERE moment = ? AND in_use <> ?",
            in_use,
            saved_at,
            code,
            in_use
        )
        .execute(&mut *tx)
        .await?;
        tx.commit().await?;
        Ok(())
    }

    /// The messages of a block that the coach says were sent.
    pub async fn sent_messages(&self, id: BlockId) -> Result<Vec<SentMessage>> {
        Ok(self.sent_messages_of(&[id]).await?.remove(&id).unwrap_or_default())
    }

    /// The same of several blocks; nothing for one of which none was sent.
    pub async fn sent_messages_of(&self, ids: &[BlockId]) -> Result<HashMap<BlockId, Vec<SentMessage>>> {
        let ids = cell::id_list(ids.iter().copied());
        let mut db = self.read_connection().await?;
        let rows = sqlx::query!(
            "SELECT block, moment, sent_at FROM message_sent
             WHERE block IN (SELECT value FROM json_each(?)) AND withdrawn_at IS NULL ORDER BY sent_at, moment",
            ids
        )
        .fetch_all(&mut *db)
        .await?;
        cell::grouped(rows.into_iter().map(|row| {
            let place = Place::new("message_sent", row.block);
            let moment = place.word("moment", &row.moment, Moment::from_code)?;
            Ok((BlockId(row.block), SentMessage { moment, at: place.instant("sent_at", &row.sent_at)? }))
        }))
    }

    /// Notes that a message was sent. Twice is once.
    ///
    /// # Errors
    ///
    /// [`StoreError::Gone`] where there is no such block.
    pub async fn mark_sent(&self, id: BlockId, moment: Moment, now: DateTime<Utc>) -> Result<()> {
        let mut tx = self.writing().await?;
        head(&mut tx, id).await?.ok_or(StoreError::Gone)?;
        let (code, at) = (moment.code(), cell::instant_text(now));
        sqlx::query!(
            "INSERT INTO message_sent (block, moment, sent_at) VALUES (?, ?, ?)
             ON CONFLICT (block, moment) DO UPDATE SET sent_at = excluded.sent_at, withdrawn_at = NULL
             WHERE withdrawn_at IS NOT NULL
                   OR moment = 'hand-over'
                      AND sent_at < (SELECT max(hand_over.at) FROM hand_over WHERE hand_over.block = message_sent.block)",
            id.0,
            code,
            at
        )
        .execute(&mut *tx)
        .await?;
        tx.commit().await?;
        Ok(())
    }

    /// Takes back that a message was sent. Twice is once.
    ///
    /// # Errors
    ///
    /// [`StoreError::Gone`] where there is no such block.
    pub async fn mark_unsent(&self, id: BlockId, moment: Moment, now: DateTime<Utc>) -> Result<()> {
        let mut tx = self.writing().await?;
        head(&mut tx, id).await?.ok_or(StoreError::Gone)?;
        let (code, at) = (moment.code(), cell::instant_text(now));
        sqlx::query!(
            "UPDATE message_sent SET withdrawn_at = ? WHERE block = ? AND moment = ? AND withdrawn_at IS NULL",
            at,
            id.0,
            code
        )
        .execute(&mut *tx)
        .await?;
        tx.commit().await?;
        Ok(())
    }
}

/// Whose words a message is written in.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Words {
    Ours,
    Squads,
}

pub(crate) async fn message_texts(db: &mut SqliteConnection) -> Result<Vec<MessageText>> {
    let rows = sqlx::query!(
        r#"SELECT moment AS "moment!", version, text, in_use AS "in_use: bool" FROM message_text ORDER BY moment"#
    )
    .fetch_all(db)
    .await?;
    let place = Place::new("message_text", 1);
    let mut kept = HashMap::new();
    for row in rows {
        let moment = place.word("moment", &row.moment, Moment::from_code)?;
        let (text, aside) = if row.in_use { (Some(row.text), None) } else { (None, Some(row.text)) };
        kept.insert(moment, MessageText { moment, version: Version(row.version), text, aside });
    }
    let ours = |moment| MessageText { moment, version: Version(0), text: None, aside: None };
    Ok(Moment::ALL.into_iter().map(|moment| kept.remove(&moment).unwrap_or_else(|| ours(moment))).collect())
}

/// When each message was sent: for the check of the whole file.
pub(crate) async fn check_messages(db: &mut SqliteConnection) -> Result<Vec<StoreError>> {
    let rows = sqlx::query!("SELECT block, moment, sent_at FROM message_sent ORDER BY block, moment")
        .fetch_all(&mut *db)
        .await?;
    let read = |block, moment: &str, at: &str| {
        let place = Place::new("message_sent", block);
        place.word("moment", moment, Moment::from_code)?;
        place.instant("sent_at", at)
    };
    let sent = rows.into_iter().filter_map(|row| read(row.block, &row.moment, &row.sent_at).err());
    let mut found: Vec<StoreError> = sent.collect();
    found.extend(message_texts(db).await.err());
    Ok(found)
}

#[cfg(test)]
mod tests {
    use planning::Settings;

    use super::*;
    use crate::testing::{Squad, at, open, squad};

    #[tokio::test]
    async fn words_are_ours_until_the_squad_has_its_own_and_those_outlive_going_back() {
        let store = open().await;
        let of =
            async |moment| store.message_texts().await.unwrap().into_iter().find(|kept| kept.moment == moment).unwrap();
        assert_eq!(of(Moment::WeekOut).await.text, None);
        store.save_message_text(Moment::WeekOut, Version(0), "A week, {name}.", at(0)).await.unwrap();
        let kept = of(Moment::WeekOut).await;
        assert_eq!((kept.version, kept.text.as_deref()), (Version(1), Some("A week, {name}.")));
        assert_eq!(of(Moment::DayAfter).await.text, None, "others stay ours");
        for stale in [Version(0), Version(7)] {
            let refused = store.save_message_text(Moment::WeekOut, stale, "Lost?", at(1)).await;
            assert!(matches!(refused, Err(StoreError::Conflict)), "{refused:?}");
        }
        store.put_message_aside(Moment::WeekOut, at(2)).await.unwrap();
        store.put_message_aside(Moment::WeekOut, at(3)).await.unwrap();
        let kept = of(Moment::WeekOut).await;
        assert_eq!((kept.text, kept.aside.as_deref()), (None, Some("A week, {name}.")));
        store.take_message_again(Moment::WeekOut, at(4)).await.unwrap();
        assert_eq!(of(Moment::WeekOut).await.text.as_deref(), Some("A week, {name}."));
    }

    #[tokio::test]
    async fn what_was_sent_is_said_once_and_can_be_taken_back() {
        let Squad { store, athlete, race, week, block } = squad().await;
        let id = store.add_block(athlete, race, &Settings::default(), &week, &block, at(5)).await.unwrap();
        store.mark_sent(id, Moment::WeekOut, at(6)).await.unwrap();
        store.mark_sent(id, Moment::WeekOut, at(7)).await.unwrap();
        let expected = SentMessage { moment: Moment::WeekOut, at: at(6) };
        assert_eq!(store.sent_messages(id).await.unwrap(), [expected], "a second click changes nothing");
        store.mark_unsent(id, Moment::WeekOut, at(8)).await.unwrap();
        assert_eq!(store.sent_messages(id).await.unwrap(), []);
        store.mark_sent(id, Moment::WeekOut, at(9)).await.unwrap();
        assert_eq!(store.sent_messages(id).await.unwrap()[0].at, at(9));
        let gone = store.mark_sent(BlockId(99), Moment::WeekOut, at(9)).await;
        assert!(matches!(gone, Err(StoreError::Gone)), "{gone:?}");
    }
}
