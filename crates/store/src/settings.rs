//! The coach's own settings: one row.

use chrono::{DateTime, Utc};
use planning::week::{weekday_code, weekday_from_code};
use sqlx::SqliteConnection;

use crate::cell::{self, Place};
use crate::{CoachSettings, Paper, Result, Store, Version};

impl Store {
    /// The coach's settings.
    pub async fn settings(&self) -> Result<CoachSettings> {
        let mut db = self.read_connection().await?;
        settings(&mut db).await
    }

    /// Saves the coach's settings, read at their `version`.
    ///
    /// # Errors
    ///
    /// [`StoreError::Conflict`] if they were saved since.
    pub async fn save_settings(&self, settings: &CoachSettings, now: DateTime<Utc>) -> Result<()> {
        let mut tx = self.writing().await?;
        let (units, paper) = (settings.units.symbol(), settings.paper.code());
        let week_start = weekday_code(settings.week_start);
        let saved_at = cell::instant_text(now);
        let saved = sqlx::query!(
            "UPDATE coach_settings
             SET version = version + 1, units = ?, week_start = ?, paper = ?, coach_name = ?, saved_at = ?
             WHERE id = 1 AND version = ?",
            units,
            week_start,
            paper,
            settings.coach_name,
            saved_at,
            settings.version.0
        )
        .execute(&mut *tx)
        .await?;
        cell::commit_as_read(tx, &saved).await
    }
}

pub(crate) async fn settings(db: &mut SqliteConnection) -> Result<CoachSettings> {
    let row = sqlx::query!("SELECT version, units, week_start, paper, coach_name FROM coach_settings WHERE id = 1")
        .fetch_one(db)
        .await?;
    let place = Place::new("coach_settings", 1);
    Ok(CoachSettings {
        version: Version(row.version),
        units: place.units("units", &row.units)?,
        week_start: place.word("week_start", &row.week_start, weekday_from_code)?,
        paper: place.word("paper", &row.paper, Paper::from_code)?,
        coach_name: row.coach_name,
    })
}

#[cfg(test)]
mod tests {
    use chrono::Weekday;
    use planning::DistanceUnit;

    use super::*;
    use crate::StoreError;
    use crate::testing::{at, open};

    #[tokio::test]
    async fn settings_start_with_defaults_and_come_back_as_saved() {
        let store = open().await;
        let first = store.settings().await.unwrap();
        assert_eq!((first.units, first.week_start, first.paper), (DistanceUnit::Km, Weekday::Mon, Paper::A4));
        let wanted = CoachSettings {
            version: first.version,
            units: DistanceUnit::Mi,
            week_start: Weekday::Sun,
            paper: Paper::Letter,
            coach_name: "Wren".to_owned(),
        };
        store.save_settings(&wanted, at(0)).await.unwrap();
        assert_eq!(store.settings().await.unwrap(), CoachSettings { version: Version(2), ..wanted.clone() });
        let stale = store.save_settings(&wanted, at(1)).await;
        assert!(matches!(stale, Err(StoreError::Conflict)), "{stale:?}");
    }
}
