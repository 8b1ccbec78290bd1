//! The athlete's page on a phone.

use anyhow::{Context, Result, ensure};

use crate::app::App;
use crate::driver::tell;

#[tokio::test]
async fn an_athlete_opens_the_link_on_a_phone_until_the_coach_ends_it() -> Result<()> {
    let app = App::with_the_demo_squad().await?;
    let not_handed_over = app.blocks().await?.into_iter().find(|kept| kept.share.is_none());
    let kept = not_handed_over.context("the demo squad has a block that is not handed over")?;
    tell("phone", |page| async move {
        let block = format!("{}/blocks/{}", app.coach, kept.id);
        page.open(&block).await?;
        page.press("Hand over this version").await?;
        let link = page.value("Link for").await?;
        ensure!(link.starts_with(&format!("{}/p/", app.athletes)), "the link leads to {link}");
        // The goals and stretches alone, then with the race sheet.
        page.open(&link).await?;
        page.as_wide_as_a_phone_at_twice_the_size().await?;
        page.fits_its_width().await?;
        page.open(&block).await?;
        page.touch("Show something else, or hand over once more").await?;
        page.tick("the race sheet").await?;
        page.press("Hand over this version").await?;

        page.as_wide_as_a_phone().await?;
        page.open(&link).await?;
        page.fits_its_width().await?;
        let first = page.seen_of("main h2").await?;
        ensure!(first.starts_with("Today"), "first comes {first:?}");
        page.sees(&[&kept.race.race.name, "Day by day", "How the running ebbs"]).await?;
        ensure!(page.count("form, input, button, script").await? == 0, "nothing can be changed here");
        let text = page.text().await?;
        for secret in kept.athlete.draft.athlete.cautions.iter().chain([&kept.athlete.draft.notes]) {
            ensure!(secret.is_empty() || !text.contains(secret.as_str()), "the athlete must not read {secret:?}");
        }

        page.as_wide_as_a_phone_at_twice_the_size().await?;
        page.fits_its_width().await?;
        page.as_wide_as_a_phone().await?;

        page.press("Sheet to print").await?;
        let print = page.print().await?;
        ensure!(print.sheets == 2, "the days and the race on {} sheets", print.sheets);
        page.press("Back").await?;
        page.sees(&["Today", &kept.race.race.name]).await?;

        page.open(&block).await?;
        page.press("End the link now").await?;
        page.open(&link).await?;
        ensure!(!page.text().await?.contains(&kept.race.race.name), "an ended link still shows the block");
        Ok(())
    })
    .await
}
