//! Race day: one number changed and everything follows, the sheet that is carried, and what the athlete sees.

use anyhow::{Context, Result, ensure};

use crate::app::App;
use crate::driver::tell;

#[tokio::test]
async fn a_coach_spreads_the_effort_prints_the_race_sheet_and_hands_it_over() -> Result<()> {
    let app = App::with_the_demo_squad().await?;
    let blocks = app.blocks().await?;
    let is_written = |kept: &&store::BlockRecord| !kept.race_sheet.bib.is_empty();
    let kept = blocks.iter().find(is_written).context("the demo squad has a race sheet")?.clone();
    tell("race day", |page| async move {
        page.open(&format!("{}/blocks/{}", app.coach, kept.id)).await?;
        page.press("Race sheet").await?;
        page.sees(&["Times on the course", "When to change the goal", "The race in three parts", "3:02"]).await?;
        let before = page.seen_of("#live-usual").await?;
        page.fill("Second half slower, %", "-2").await?;
        page.comes_to_see("Preview, not saved.").await?;
        ensure!(page.seen_of("#live-usual").await? != before, "the times did not follow");
        page.sees(&["The second half 2% faster"]).await?;
        page.press("Keep this").await?;
        page.sees(&["Race sheet saved."]).await?;
        page.as_wide_as_a_phone().await?;
        page.fits_its_width().await?;

        page.press("Sheet to print").await?;
        let on_screen = page.seen_of("main").await?;
        let print = page.print().await?;
        ensure!(print.sheets == 1, "{} sheets", print.sheets);
        print.lies_inside()?;
        print.says_all_of(&on_screen)?;
        ensure!(print.says("For the wrist") && print.says("The morning"), "{}", print.text());

        page.open(&format!("{}/blocks/{}", app.coach, kept.id)).await?;
        page.tick("the race sheet").await?;
        page.press("Hand over this version").await?;
        let link = page.value("Link for").await?;
        page.open(&link).await?;
        page.sees(&["Race day", &kept.race_sheet.bib, "patience", "Stop at"]).await?;
        page.fits_its_width().await?;
        page.press("Sheet to print").await?;
        let print = page.print().await?;
        ensure!(print.sheets == 2, "the days and the race on {} sides", print.sheets);
        print.lies_inside()
    })
    .await
}

#[tokio::test]
async fn every_race_sheet_and_last_days_sheet_of_the_demo_squad_fills_one_side() -> Result<()> {
    let app = App::with_the_demo_squad().await?;
    let blocks = app.blocks().await?;
    tell("race sheets", |page| async move {
        for paper in [store::Paper::A4, store::Paper::Letter] {
            let settings = app.store.settings().await?;
            app.store.save_settings(&store::CoachSettings { paper, ..settings }, crate::app::now()?).await?;
            for kept in &blocks {
                let whose = format!("{} for {}", kept.athlete.draft.athlete.name, kept.race.race.name);
                for sheet in ["print", "three-days-out"] {
                    page.open(&format!("{}/blocks/{}/race-day/{sheet}", app.coach, kept.id)).await?;
                    let print = page.print().await?;
                    ensure!(print.sheets == 1, "{whose}: {} sides of {sheet} on {}", print.sheets, paper.code());
                    print.lies_inside().with_context(|| whose.clone())?;
                }
            }
        }
        Ok(())
    })
    .await
}
