//! The printed sheet: the sides that its page names, nothing cut off.

use anyhow::{Context, Result, ensure};
use formats::words;
use planning::Day;
use store::Paper;

use crate::app::{App, now};
use crate::driver::tell;

#[tokio::test]
async fn every_sheet_of_the_demo_squad_takes_the_sides_that_it_says_on_a4() -> Result<()> {
    every_sheet_fits("sheets on A4", Paper::A4, (595, 842)).await
}

#[tokio::test]
async fn every_sheet_of_the_demo_squad_takes_the_sides_that_it_says_on_letter() -> Result<()> {
    every_sheet_fits("sheets on Letter", Paper::Letter, (612, 792)).await
}

async fn every_sheet_fits(name: &str, paper: Paper, points: (u32, u32)) -> Result<()> {
    let app = App::with_the_demo_squad().await?;
    let settings = app.store.settings().await?;
    app.store.save_settings(&store::CoachSettings { paper, ..settings }, now()?).await?;
    let blocks = app.blocks().await?;
    ensure!(blocks.len() >= 3, "the demo squad has only {} blocks", blocks.len());
    tell(name, |page| async move {
        for kept in blocks {
            let sheet = format!("{}/blocks/{}/print", app.coach, kept.id);
            page.open(&sheet).await?;
            let on_screen = page.seen_of("main").await?;
            let print = page.print().await?;
            let whose = format!("{} for {}", kept.athlete.draft.athlete.name, kept.race.race.name);
            ensure!(print.size == points, "{whose}: the paper is {:?}", print.size);
            let sides =
                if page.seen_of("body").await?.contains("it needs two sides, the days on the first") { 2 } else { 1 };
            ensure!(print.sheets == sides, "{whose}: {} sheets, not {sides}", print.sheets);
            // Weeks in which everything is as usual may be left out.
            for day in kept.block.days.iter().skip_while(|day| is_as_usual(day)) {
                let date = words::short_date(day.date);
                ensure!(print.says(&date), "{whose}: {date} is not on the sheet:\n{}", print.text());
            }
            print.lies_inside().with_context(|| whose.clone())?;
            print.says_all_of(&on_screen).with_context(|| whose.clone())?;
        }
        Ok(())
    })
    .await
}

fn is_as_usual(day: &Day) -> bool {
    day.dropped.is_empty() && day.sessions.iter().all(|planned| planned.why.is_empty())
}
