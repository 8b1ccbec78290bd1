//! The squad's messages by date: their words, for every athlete.

mod edit;
mod list;

use axum::Router;
use axum::routing::{get, post};
use chrono::NaiveDate;
use planning::{Moment, moments};
use store::{BlockId, BlockRecord};

use crate::blocks::lines;
use crate::blocks::messages::{Messages, Spared};
use crate::error::AppError;
use crate::form::Choice;
use crate::paths;
use crate::state::AppState;

#[cfg(test)]
pub(crate) use {edit::EditPage, list::ListPage};

/// Every page and form of the messages.
pub(crate) fn routes() -> Router<AppState> {
    Router::new()
        .route(paths::MESSAGES, get(list::get))
        .route(paths::MESSAGE, get(edit::get).post(edit::post))
        .route(paths::OUR_MESSAGE, post(edit::words))
}

/// The block with which messages are tried out, and the others that they could be tried out with.
struct Trial {
    blocks: Vec<Choice>,
    chosen: Option<BlockRecord>,
}

impl Trial {
    /// The block that was asked for, else the first with a race ahead.
    async fn read(state: &AppState, wanted: &str) -> Result<Self, AppError> {
        let board = state.store.board(state.clock.today()).await?;
        let blocks: Vec<Choice> = board
            .iter()
            .filter_map(|row| {
                let block = row.block.as_ref()?;
                let race = lines::race_name(&row.next_race.as_ref()?.race);
                Some(Choice::new(block.state.id.to_string(), format!("{}, {race}", row.name)))
            })
            .collect();
        let known = blocks.iter().find(|choice| choice.value == wanted).or(blocks.first());
        let chosen = match known.and_then(|choice| choice.value.parse().ok()) {
            Some(id) => state.store.block(BlockId(id)).await?,
            None => None,
        };
        Ok(Self { blocks, chosen })
    }

    /// The value of the chosen one in its menu.
    fn value(&self) -> String {
        self.chosen.as_ref().map(|record| record.id.to_string()).unwrap_or_default()
    }

    /// A text as the athlete of the block would read it; nothing where there is no block.
    fn fill(&self, state: &AppState, coach: &str, moment: Moment, text: &str) -> Option<String> {
        let record = self.chosen.as_ref()?;
        // The words themselves are tried out: as they are for whoever runs as usual.
        let spared = Spared::default();
        let today = state.clock.today();
        let door = state.share.now();
        let messages = Messages { record, before: None, coach, door: &door, today, spared: &spared, withheld: None };
        Some(messages.fill(text, day_of(record, moment, state.clock.today())))
    }
}

/// The day of a moment; of one that a short block has not, the first day. A block can be handed over today.
fn day_of(record: &BlockRecord, moment: Moment, today: NaiveDate) -> NaiveDate {
    if moment == Moment::HandOver {
        return today.min(record.block.race_day);
    }
    let found = moments(&record.block).into_iter().find(|(one, _)| *one == moment);
    found.map_or(record.block.first_day(), |(_, day)| day)
}
