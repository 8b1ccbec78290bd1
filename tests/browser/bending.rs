//! Bending a block in place by keyboard, undoing it, and taking a variant.

use anyhow::{Context, Result, ensure};
use planning::RaceDistance;
use thirtyfour::Key;

use crate::app::App;
use crate::driver::tell;
use crate::page::Page;

/// The first days that can be changed, from the day of the stories on.
const TUESDAY: &str = "#day-2027-04-20";
const WEDNESDAY: &str = "#day-2027-04-21";
const THURSDAY: &str = "#day-2027-04-22";

fn link(day: &str) -> String {
    format!("{day} .day-link")
}

#[tokio::test]
async fn a_coach_bends_a_block_with_the_keyboard_and_takes_it_back() -> Result<()> {
    let app = App::with_the_demo_squad().await?;
    let marathon = app.blocks().await?.into_iter().find(|kept| kept.race.race.distance == RaceDistance::Marathon);
    let kept = marathon.context("the demo squad has a marathon block")?;
    tell("bending", |page| async move {
        let block = format!("{}/blocks/{}", app.coach, kept.id);
        page.open(&block).await?;
        edit_a_day(&page).await?;
        move_it(&page).await?;
        undo_and_redo(&page).await?;
        open_one_after_the_other(&page).await?;
        type_nonsense(&page).await?;
        reload(&page, &block).await?;
        meet_another_window(&page, &app, &block, kept.id).await?;
        take_a_variant(&page).await?;
        type_settings_quickly(&page).await?;
        page.as_wide_as_a_phone().await?;
        page.open(&block).await?;
        page.focus(&link(THURSDAY)).await?;
        page.keys("e").await?;
        page.comes_to_focus("#line").await?;
        page.fits_its_width().await?;
        page.press("Variants").await?;
        page.fits_its_width().await?;
        page.open(&format!("{block}/versions")).await?;
        page.fits_its_width().await
    })
    .await
}

async fn edit_a_day(page: &Page) -> Result<()> {
    page.focus(&link(TUESDAY)).await?;
    page.keys("?").await?;
    page.sees(&["change places with the day before or after"]).await?;
    page.keys(Key::Down).await?;
    page.comes_to_focus(&link(WEDNESDAY)).await?;
    page.keys("e").await?;
    page.comes_to_focus("#line").await?;
    page.keys("easy 5 km" + Key::Enter).await?;
    page.comes_to_see("The day is changed and fixed.").await?;
    page.comes_to_focus(&link(WEDNESDAY)).await?;
    let day = page.seen_of(WEDNESDAY).await?;
    ensure!(day.contains("easy 5 km") && day.contains("fixed"), "Wednesday is {day:?}");
    page.sees(&["Undo: changed Wed 21 Apr"]).await
}

async fn move_it(page: &Page) -> Result<()> {
    page.keys(Key::Alt + Key::Down).await?;
    page.comes_to_see("Swapped. Both days are fixed.").await?;
    page.comes_to_focus(&link(THURSDAY)).await?;
    let day = page.seen_of(THURSDAY).await?;
    ensure!(day.contains("easy 5 km"), "Thursday is {day:?}");
    page.keys("p").await?;
    page.comes_to_see("The day is the planner's again.").await
}

async fn undo_and_redo(page: &Page) -> Result<()> {
    page.keys("u").await?;
    page.comes_to_see("Redo: freed Thu 22 Apr").await?;
    page.focus(&link(THURSDAY)).await?;
    page.keys(Key::Control + "z").await?;
    page.comes_to_see("Redo: swapped Wed 21 Apr and Thu 22 Apr").await?;
    let day = page.seen_of(WEDNESDAY).await?;
    ensure!(day.contains("easy 5 km"), "Wednesday is {day:?}");
    page.focus(&link(WEDNESDAY)).await?;
    page.keys(Key::Control + Key::Shift + "z").await?;
    page.comes_to_see("Undo: swapped Wed 21 Apr and Thu 22 Apr").await
}

/// The line of an open form is marked, so that typing writes over it: that keeps no other date from opening in place.
async fn open_one_after_the_other(page: &Page) -> Result<()> {
    let before = page.address().await?;
    for day in [WEDNESDAY, THURSDAY, TUESDAY] {
        page.touch_at(&link(day)).await?;
        page.comes_to_focus(&format!("{day} #line")).await?;
        ensure!(page.count("#day-form").await? == 1, "one form is open");
    }
    let now = page.address().await?;
    ensure!(now == before, "the day opened on a page of its own: {now}");
    page.keys(Key::Escape).await?;
    page.comes_to_focus(&link(TUESDAY)).await
}

async fn type_nonsense(page: &Page) -> Result<()> {
    page.focus(&link(THURSDAY)).await?;
    page.keys("e").await?;
    page.comes_to_focus("#line").await?;
    page.keys("7 furlongs" + Key::Enter).await?;
    page.comes_to_see("furlongs\u{201d} is not a unit").await?;
    ensure!(page.value("What is run").await? == "7 furlongs", "what was typed is gone");
    page.keys(Key::Escape).await?;
    page.comes_to_focus(&link(THURSDAY)).await?;
    ensure!(page.count("#day-form").await? == 0, "the form is still there");
    Ok(())
}

async fn reload(page: &Page, block: &str) -> Result<()> {
    let (days, picture) = (page.seen_of("#live-days").await?, page.seen_of("#live-picture").await?);
    let messages = page.typed_in(".message textarea").await?;
    ensure!(!messages.is_empty(), "there are messages to copy");
    page.open(block).await?;
    ensure_eq(&page.seen_of("#live-days").await?, &days, "a reload shows other days")?;
    ensure_eq(&page.typed_in(".message textarea").await?, &messages, "the messages did not follow")?;
    ensure_eq(&page.seen_of("#live-picture").await?, &picture, "the picture did not follow")?;
    Ok(())
}

/// Fails with the lines that differ.
fn ensure_eq(now: &str, before: &str, what: &str) -> Result<()> {
    let other: Vec<_> = now.lines().zip(before.lines()).filter(|(now, before)| now != before).collect();
    ensure!(now == before, "{what}: {other:?}, {} lines and {} before", now.lines().count(), before.lines().count());
    Ok(())
}

async fn meet_another_window(page: &Page, app: &App, block: &str, id: store::BlockId) -> Result<()> {
    let version = app.store.block(id).await?.context("the block")?.version;
    app.store.undo_block(id, version).await?;
    page.focus(&link(THURSDAY)).await?;
    page.keys("p").await?;
    page.comes_to_see("Changed meanwhile").await?;
    page.sees(&["Freed Thu 22 Apr"]).await?;
    page.press("Leave what is kept").await?;
    ensure!(page.address().await? == block, "the way back leads to {}", page.address().await?);
    Ok(())
}

async fn take_a_variant(page: &Page) -> Result<()> {
    page.press("Variants").await?;
    ensure!(page.count(".variants tbody tr").await? >= 6, "too few to choose from");
    page.press("Take it: Shorter").await?;
    page.sees(&["The block is now as in the variant", "Undo: chose the variant: shorter"]).await
}

/// The answer to what was typed last is the one that stays, and every part of the page follows it.
async fn type_settings_quickly(page: &Page) -> Result<()> {
    const PARTS: [&str; 4] = ["#live-picture", "#live-review", "#live-settings", "#live-days"];
    let mut before = Vec::new();
    for part in PARTS {
        before.push(page.seen_of(part).await?);
    }
    page.unfold("17 days").await?;
    page.focus("#days").await?;
    for days in ["9", "33", "28"] {
        page.keys(Key::Control + "a").await?;
        page.keys(days).await?;
        tokio::time::sleep(std::time::Duration::from_millis(260)).await;
    }
    page.comes_to_see("28 days").await?;
    tokio::time::sleep(std::time::Duration::from_secs(1)).await;
    page.sees(&["Preview, not saved.", "28 days", "4 weeks before race week"]).await?;
    for (part, before) in PARTS.iter().zip(before) {
        ensure!(page.seen_of(part).await? != before, "{part} did not follow");
    }
    ensure!(page.count("#live-days .day-link, #undo").await? == 0, "a preview is not to be bent");
    page.press("Back to the kept block").await
}
