//! From a block's history to its calendar file, for both doors and for published folders.

use formats::calendar::{self, BlockKey, Calendar, Edition, RaceNow, RaceStands, Version};
use store::BlockHistory;

use crate::error::AppError;

/// What a calendar file is said to be.
pub(crate) const CONTENT: &str = "text/calendar; charset=utf-8";

/// The file of the last revision that a history shows.
pub(crate) fn write(history: &BlockHistory) -> Result<String, AppError> {
    let versions: Vec<Version<'_>> = history
        .revisions
        .iter()
        .map(|revision| Version {
            number: revision.number,
            parent: revision.parent,
            place: &revision.place,
            block: &revision.block,
        })
        .collect();
    let editions: Vec<Edition> =
        history.shown.iter().map(|shown| Edition { version: shown.revision, at: shown.at }).collect();
    let stands = if history.called_off.is_some() { RaceStands::CalledOff } else { RaceStands::TakesPlace };
    let file = calendar::write(&Calendar {
        key: BlockKey::of_kept(history.id.0, history.made),
        athlete: &history.name,
        units: history.units,
        versions: &versions,
        editions: &editions,
        race: Some(RaceNow { stands, saved: history.race_saved }),
    });
    file.ok_or_else(|| AppError::Internal(format!("block {} was never shown", history.id)))
}
