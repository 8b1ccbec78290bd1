//! Goal notes as a document: what a hand-over keeps of them.

use serde::Deserialize;
use sqlx::SqliteConnection;

use crate::{BlockId, GoalNotes, Result, Stretch};

/// The goal notes of a block as they are now; nothing where nothing is written.
pub(crate) async fn goal_document(db: &mut SqliteConnection, id: BlockId) -> Result<Option<String>> {
    let document =
        sqlx::query_scalar!(r#"SELECT document AS "document!: String" FROM goal_document WHERE block = ?"#, id.0)
            .fetch_optional(db)
            .await?;
    Ok(document)
}

/// What such a document says.
///
/// # Errors
///
/// What cannot be read.
pub(crate) fn read_goals(document: Option<&str>) -> std::result::Result<GoalNotes, serde_json::Error> {
    let Some(text) = document else { return Ok(GoalNotes::default()) };
    let Document { a, b, c, belief, stretches, hard_moment, message } = serde_json::from_str(text)?;
    let stretches = stretches.map(|Part { effort, focus, cue }| Stretch { effort, focus, cue });
    Ok(GoalNotes { a, b, c, belief, stretches, hard_moment, message })
}

/// The view `goal_document` writes it.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Document {
    a: String,
    b: String,
    c: String,
    belief: String,
    stretches: [Part; 3],
    hard_moment: String,
    message: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Part {
    effort: String,
    focus: String,
    cue: String,
}
