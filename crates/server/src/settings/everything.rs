//! The whole squad as one file.

use axum::extract::State;
use axum::response::Response;
use formats::{bundle, plan_csv, table, words};
use store::PresentBlock;

use crate::blocks::file::download;
use crate::error::AppError;
use crate::state::AppState;

/// `POST /settings/everything`: a zip of tables, for people and to be read back.
pub(crate) async fn post(State(state): State<AppState>) -> Result<Response, AppError> {
    let files = state.store.export().await?;
    let blocks = state.store.present_blocks().await?;
    let internal = |error: &dyn std::fmt::Display| AppError::Internal(error.to_string());
    let mut packed = vec![("README.txt".to_owned(), words::SQUAD_README.to_owned())];
    for file in &files {
        packed.push((format!("csv/{}.csv", file.name), table::write(&file.header, &file.rows)));
    }
    let (header, rows) = block_days(&blocks);
    packed.push(("csv/block_days.csv".to_owned(), table::write(&header, &rows)));
    packed.extend(files.into_iter().map(|file| (format!("json/{}.json", file.name), file.json)));
    let now = state.clock.moment_of(state.clock.now());
    let bytes = tokio::task::spawn_blocking(move || bundle::pack(&packed, now))
        .await
        .map_err(|error| internal(&error))?
        .map_err(|error| internal(&error))?;
    let name = format!("ebbline-squad-{}.zip", state.clock.today());
    Ok(download(&name, "application/zip", bytes))
}

/// Every session of every present block, with whose it is in front.
fn block_days(blocks: &[PresentBlock]) -> (Vec<&'static str>, Vec<Vec<String>>) {
    let header = ["block", "athlete", "race"].into_iter().chain(plan_csv::HEADER).collect();
    let rows = blocks.iter().flat_map(|one| {
        plan_csv::records(&one.block).into_iter().map(|cells| {
            let whose = [one.id.to_string(), one.athlete.clone(), one.race.clone()];
            whose.into_iter().chain(cells).collect()
        })
    });
    (header, rows.collect())
}
