//! What athletes answered at the start of a block.

use chrono::{DateTime, Utc};
use sqlx::SqliteConnection;

use crate::blocks::current;
use crate::cell;
use crate::goals::write_goals;
use crate::{Answers, BlockId, GoalNotes, Result, Store, Version};

impl Store {
    /// What was answered; empty where nothing was.
    pub async fn answers(&self, id: BlockId) -> Result<Answers> {
        let mut db = self.read_connection().await?;
        answers(&mut db, id).await
    }

    /// Saves answers, and the goals and stretches that go with them, in one step.
    ///
    /// # Errors
    ///
    /// [`crate::StoreError::Conflict`], [`crate::StoreError::Gone`].
    pub async fn save_answers(
        &self,
        id: BlockId,
        read_at: Version,
        goals: &GoalNotes,
        answers: &Answers,
        now: DateTime<Utc>,
    ) -> Result<()> {
        let mut tx = self.writing().await?;
        current(&mut tx, id, read_at).await?;
        write_goals(&mut tx, id, goals, now).await?;
        let saved_at = cell::instant_text(now);
        sqlx::query!(
            "INSERT INTO answers (block, worry, last_taper, rest, pasted, saved_at) VALUES (?, ?, ?, ?, ?, ?)
             ON CONFLICT (block) DO UPDATE
             SET worry = excluded.worry, last_taper = excluded.last_taper, rest = excluded.rest,
                 pasted = excluded.pasted, saved_at = excluded.saved_at",
            id.0,
            answers.worry,
            answers.last_taper,
            answers.rest,
            answers.pasted,
            saved_at
        )
        .execute(&mut *tx)
        .await?;
        tx.commit().await?;
        Ok(())
    }
}

async fn answers(db: &mut SqliteConnection, id: BlockId) -> Result<Answers> {
    let row = sqlx::query!("SELECT worry, last_taper, rest, pasted FROM answers WHERE block = ?", id.0)
        .fetch_optional(db)
        .await?;
    Ok(row.map_or_else(Answers::default, |row| Answers {
        worry: row.worry,
        last_taper: row.last_taper,
        rest: row.rest,
        pasted: row.pasted,
    }))
}

#[cfg(test)]
mod tests {
    use planning::Settings;

    use super::*;
    use crate::StoreError;
    use crate::testing::{Squad, at, squad};

    #[tokio::test]
    async fn answers_and_goals_are_saved_together_or_not_at_all() {
        let Squad { store, athlete, race, week, block } = squad().await;
        let id = store.add_block(athlete, race, &Settings::default(), &week, &block, at(5)).await.unwrap();
        assert_eq!(store.answers(id).await.unwrap(), Answers::default());
        let goals = GoalNotes { a: "sub 50".to_owned(), ..GoalNotes::default() };
        let told = Answers {
            worry: "the last hill".to_owned(),
            last_taper: "rested too much".to_owned(),
            rest: "see you".to_owned(),
            pasted: "A sub 50".to_owned(),
        };
        store.save_answers(id, Version(1), &goals, &told, at(6)).await.unwrap();
        assert_eq!(store.answers(id).await.unwrap(), told);
        let kept = store.block(id).await.unwrap().unwrap();
        assert_eq!((kept.goals, kept.version), (goals.clone(), Version(2)));
        let stale = store.save_answers(id, Version(1), &GoalNotes::default(), &Answers::default(), at(7)).await;
        assert!(matches!(stale, Err(StoreError::Conflict)), "{stale:?}");
        assert_eq!(store.answers(id).await.unwrap(), told);
        assert_eq!(store.block(id).await.unwrap().unwrap().goals, goals);
    }
}
