//! Words that go by messenger: messages out, answers back.

use anyhow::{Context, Result, ensure};

use crate::app::App;
use crate::driver::tell;

#[tokio::test]
async fn a_message_is_put_in_the_squads_words_and_copied_from_a_block() -> Result<()> {
    let app = App::with_the_demo_squad().await?;
    let kept = app.blocks().await?.into_iter().next().context("the demo squad has a block")?;
    let name = formats::called(&kept.athlete.draft.athlete.name).to_owned();
    tell("messages", |page| async move {
        page.open(&format!("{}/messages", app.coach)).await?;
        page.press("Change the message: The day before").await?;
        page.fill("Message", "Sleep well, {nmae}.").await?;
        page.press("Save the message").await?;
        page.sees(&["{nmae}", "is not a field", "Did you mean {name}?"]).await?;
        page.fill("Message", "Sleep well, {name}. Your page: {link}.").await?;
        page.press("Show it").await?;
        page.sees(&["Filled", "Sleep well, "]).await?;
        page.press("Save the message").await?;
        page.sees(&["Message saved for the whole squad."]).await?;

        page.open(&format!("{}/blocks/{}", app.coach, kept.id)).await?;
        page.unfold("The day before").await?;
        let text = page.value("The day before, ready to paste").await?;
        ensure!(text.starts_with(&format!("Sleep well, {name}.")), "the message says {text:?}");
        ensure!(!text.contains('{'), "a field is left open: {text:?}");
        page.press("I have sent it").await?;
        page.sees(&["Noted as sent."]).await
    })
    .await
}

#[tokio::test]
async fn answers_are_pasted_looked_at_and_saved() -> Result<()> {
    let app = App::with_the_demo_squad().await?;
    let without_goals = app.blocks().await?.into_iter().find(|kept| kept.goals == store::GoalNotes::default());
    let kept = without_goals.context("the demo squad has a block without goals")?;
    tell("answers", |page| async move {
        page.open(&format!("{}/blocks/{}", app.coach, kept.id)).await?;
        page.press("Questions").await?;
        page.sees(&["Paste the answers"]).await?;
        page.fill("What came back", "Hi!\n1. sub 50\n3) finish\n5: easy; hips; calm\n8. the last hill").await?;
        page.press("Read the answers").await?;
        page.sees(&["Nothing is saved yet"]).await?;
        ensure!(page.value("Goal A").await? == "sub 50", "goal A is read");
        page.fill("Goal C", "finish with a smile").await?;
        page.press("Save as chosen").await?;
        page.sees(&["Answers saved.", "the last hill", "Hi!"]).await?;
        let goals = (page.value("A: the best day").await?, page.value("C: the least that counts").await?);
        ensure!(goals == ("sub 50".to_owned(), "finish with a smile".to_owned()), "the goals are {goals:?}");
        page.as_wide_as_a_phone().await?;
        page.fits_its_width().await
    })
    .await
}
