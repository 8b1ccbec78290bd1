//! Boxes that are ticked or cleared all at once, in groups and over them.

use anyhow::{Context, Result, ensure};

use crate::app::App;
use crate::driver::tell;

#[tokio::test]
async fn everybody_shown_is_ticked_at_once_and_each_group_says_what_its_button_does_next() -> Result<()> {
    let app = App::with_the_demo_squad().await?;
    let kept = app.blocks().await?.into_iter().next().context("the demo squad has a block")?;
    tell("ticks", |page| async move {
        page.open(&format!("{}/races/{}", app.coach, kept.race.id)).await?;
        let everybody = page.count("#athletes input[type=checkbox]").await?;
        let groups = page.count("#athletes fieldset button[type=button]").await?;
        ensure!(groups > 1 && everybody > groups, "{groups} groups of {everybody}");
        let cleared = "arguments[0]([...document.querySelectorAll('#athletes fieldset button[type=button]')]
                           .filter((button) => button.textContent === 'Clear all').length)";
        page.touch(&format!("Tick all {everybody}")).await?;
        ensure!(page.count("#athletes input:checked").await? == everybody, "not all are ticked");
        ensure!(page.answer_of::<usize>(cleared).await? == groups, "a group would tick again");
        page.run("document.querySelector('#athletes fieldset button[type=button]').click()").await?;
        ensure!(page.answer_of::<usize>(cleared).await? == groups - 1, "the group was not cleared");
        page.touch(&format!("Tick all {everybody}")).await?;
        page.touch("Clear all").await?;
        ensure!(page.count("#athletes input:checked").await? == 0, "some are still ticked");
        Ok(())
    })
    .await
}
