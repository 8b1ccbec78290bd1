//! The same form sent twice makes one record.

use chrono::{DateTime, Utc};
use sqlx::SqliteConnection;
use uuid::Uuid;

use crate::cell::instant_text;
use crate::{Result, StoreError};

/// What a form makes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Made {
    Athlete,
    Race,
    Squad,
    Step,
    Template,
}

impl Made {
    const fn code(self) -> &'static str {
        match self {
            Self::Athlete => "athlete",
            Self::Race => "race",
            Self::Squad => "squad",
            Self::Step => "step",
            Self::Template => "template",
        }
    }
}

/// What this key made before, if anything.
///
/// # Errors
///
/// [`StoreError::Exists`] where the key belongs to another kind of record.
pub(crate) async fn made_before(db: &mut SqliteConnection, key: Uuid, kind: Made) -> Result<Option<i64>> {
    let form_key = key.to_string();
    let found = sqlx::query!("SELECT kind, made FROM once WHERE form_key = ?", form_key).fetch_optional(db).await?;
    match found {
        Some(row) if row.kind == kind.code() => Ok(Some(row.made)),
        Some(_) => Err(StoreError::Exists),
        None => Ok(None),
    }
}

/// Keeps what this key made.
pub(crate) async fn remember(
    db: &mut SqliteConnection,
    key: Uuid,
    kind: Made,
    made: i64,
    now: DateTime<Utc>,
) -> Result<()> {
    let (form_key, kind, at) = (key.to_string(), kind.code(), instant_text(now));
    sqlx::query!("INSERT INTO once (form_key, kind, made, at) VALUES (?, ?, ?, ?)", form_key, kind, made, at)
        .execute(db)
        .await?;
    Ok(())
}
