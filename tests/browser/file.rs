//! The file to send: everything inside, read when the laptop sleeps.

use anyhow::{Context, Result, ensure};
use formats::words;

use crate::app::App;
use crate::driver::tell;

#[tokio::test]
async fn the_file_to_send_opens_from_disk_when_the_app_is_gone() -> Result<()> {
    let app = App::with_the_demo_squad().await?;
    let kept = app.blocks().await?.into_iter().next().context("the demo squad has a block")?;
    tell("file", |page| async move {
        page.open(&format!("{}/blocks/{}", app.coach, kept.id)).await?;
        let file = page.download("File to send").await?;
        drop(app);

        page.as_wide_as_a_phone().await?;
        page.open_file(&file).await?;
        page.fits_its_width().await?;
        page.sees(&[&kept.race.race.name, "Day by day"]).await?;
        for day in &kept.block.days {
            page.sees(&[&words::long_date(day.date)]).await?;
        }
        let loaded = page.loaded().await?;
        ensure!(loaded.is_empty(), "the file asks for {loaded:?}");
        Ok(())
    })
    .await
}
