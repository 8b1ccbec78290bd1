//! The pictures of the README: real pages of the demo squad, as they are on the day of every story.

use std::path::{Path, PathBuf};

use anyhow::{Context, Result};

use crate::app::App;
use crate::driver::tell;

/// Where the README looks for them, seen from this package.
const FOLDER: &str = "pictures";

/// How wide and how high a picture is.
const SIZE: (u32, u32) = (1120, 900);

#[tokio::test]
#[ignore = "changes files of the project: cargo xtask pictures"]
async fn the_board_a_block_and_a_race_sheet() -> Result<()> {
    let app = App::with_the_demo_squad().await?;
    let blocks = app.blocks().await?;
    let half = |block: &&store::BlockRecord| block.race.race.distance == planning::RaceDistance::Half;
    let runs =
        |block: &&store::BlockRecord| block.block.days.iter().filter(|day| !day.planned_running().is_empty()).count();
    let block = blocks.iter().filter(half).max_by_key(runs).context("somebody is on the way to a half marathon")?.id;
    let hilly = |block: &&store::BlockRecord| block.race.race.distance == planning::RaceDistance::Marathon;
    let marathon = blocks.iter().filter(hilly).find(|block| !block.goals.a.is_empty());
    let marathon = marathon.context("somebody has goals for the marathon")?.id;
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join(FOLDER);
    std::fs::create_dir_all(&folder)?;
    let wanted: Vec<(String, PathBuf)> = [
        (format!("{}/", app.coach), "board.png"),
        (format!("{}/blocks/{block}", app.coach), "block.png"),
        (format!("{}/blocks/{marathon}/race-day", app.coach), "race-day.png"),
    ]
    .map(|(address, name)| (address, folder.join(name)))
    .into();
    tell("pictures", |page| async move {
        page.as_large_as(SIZE).await?;
        for (address, path) in wanted {
            page.open(&address).await?;
            page.picture(&path).await?;
        }
        Ok(())
    })
    .await
}
