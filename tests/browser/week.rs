//! A base week that is typed without a mouse.

use anyhow::{Context, Result, ensure};
use server::paths;
use thirtyfour::Key;

use crate::app::App;
use crate::driver::tell;

#[tokio::test]
async fn a_line_that_is_mended_leaves_the_next_key_with_the_next_day() -> Result<()> {
    let app = App::with_the_demo_squad().await?;
    let kept = app.blocks().await?.into_iter().next().context("the demo squad has a block")?;
    tell("week", |page| async move {
        page.open(&format!("{}{}", app.coach, paths::week(kept.athlete.id))).await?;
        page.focus("#tue").await?;
        page.keys(Key::Control + "a").await?;
        page.keys("6/8").await?;
        page.comes_to_see("Take 6-8").await?;
        page.keys(Key::Control + "a").await?;
        page.keys("6-8" + Key::Tab).await?;
        page.comes_to_focus("#wed").await?;
        while page.count(".week-day:has(#tue) button[data-take], .has-errors:has(#tue)").await? > 0 {
            tokio::time::sleep(std::time::Duration::from_millis(50)).await;
        }
        page.comes_to_focus("#wed").await?;

        // What is offered anew may be reached and taken by keys.
        page.focus("#tue").await?;
        page.keys(Key::Control + "a").await?;
        page.keys("8/6").await?;
        page.comes_to_see("Take 8 + 6").await?;
        page.keys(Key::Tab + Key::Enter).await?;
        page.comes_to_focus("#tue").await?;
        ensure!(page.typed_in("#tue").await? == "8 + 6", "the line is not taken");
        Ok(())
    })
    .await
}
