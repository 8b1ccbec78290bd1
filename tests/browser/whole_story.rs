//! From an empty data file to the page on the athlete's phone, as a coach goes through it.

use anyhow::{Context, Result, ensure};

use crate::app::App;
use crate::driver::tell;
use crate::page::Page;

/// Invented, with letters beyond ASCII as names have them.
const ATHLETE: &str = "Žofie Marešová";
const RACE: &str = "Larch Hill 10k";

/// A base week as it is typed, Monday first.
const WEEK: [(&str, &str); 7] = [
    ("Monday", ""),
    ("Tuesday", "6 x 800 m 10k pace 90 s jog, 11 km"),
    ("Wednesday", "7-8"),
    ("Thursday", "tempo 9, hard 4"),
    ("Friday", "strength 30"),
    ("Saturday", "6"),
    ("Sunday", "long 16"),
];

#[tokio::test]
async fn a_coach_goes_from_an_empty_file_to_the_page_on_the_athletes_phone() -> Result<()> {
    let app = App::start().await?;
    tell("whole story", |page| async move {
        add_the_athlete(&page, &app).await?;
        type_the_base_week(&page).await?;
        add_the_race_and_enter(&page).await?;
        make_the_block(&page).await?;
        write_goals(&page).await?;
        change_a_setting(&page).await?;
        print_on_letter(&page).await?;
        send_the_file(&page).await?;
        hand_over(&page, &app).await?;
        look_at_the_board(&page, &app).await
    })
    .await
}

async fn add_the_athlete(page: &Page, app: &App) -> Result<()> {
    page.open(&app.coach).await?;
    page.sees(&["Nobody is here yet"]).await?;
    page.press("Add the first athlete").await?;
    page.press("Add athlete").await?;
    page.sees(&["One thing is not right yet"]).await?;
    page.fill("Name", ATHLETE).await?;
    page.tick("Kilometres").await?;
    page.fill("Pace of easy running", "5:45").await?;
    page.press("Add athlete").await?;
    page.sees(&[ATHLETE, "Next: type the base week"]).await
}

async fn type_the_base_week(page: &Page) -> Result<()> {
    page.press("Type the base week").await?;
    for (day, line) in WEEK {
        page.fill(day, line).await?;
    }
    // The server reads along while the coach types.
    page.comes_to_see("52").await?;
    page.press("Save base week").await?;
    page.sees(&["Base week saved"]).await
}

async fn add_the_race_and_enter(page: &Page) -> Result<()> {
    page.press("Races").await?;
    page.press("Add a race").await?;
    page.fill("Name", RACE).await?;
    page.fill("Date", "2027-05-09").await?;
    page.choose("Distance", "10 km").await?;
    page.fill("Start", "09:30").await?;
    page.fill("Place", "Larch Hill").await?;
    page.press("Add race").await?;
    page.sees(&[RACE, "Sunday 9 May 2027", "Next: enter athletes"]).await?;
    page.tick(ATHLETE).await?;
    page.press("Enter the ticked").await?;
    page.sees(&["One entry made or changed"]).await
}

async fn make_the_block(page: &Page) -> Result<()> {
    page.press("Make the missing block").await?;
    page.sees(&["Block made"]).await?;
    page.sees(&["Version 1", "Review", "Day by day", "Not handed over yet"]).await
}

async fn write_goals(page: &Page) -> Result<()> {
    page.press("Goals and strategy").await?;
    page.fill("A: the best day", "under 43 minutes").await?;
    page.fill("Cue word", "přímo").await?;
    page.fill("In your own words", "Trust the week.\nSee you at the start.").await?;
    page.press("Save goals").await?;
    page.sees(&["Goals saved"]).await
}

async fn change_a_setting(page: &Page) -> Result<()> {
    let before = page.seen_of("#live-days").await?;
    page.unfold("10 days").await?;
    page.fill("Length, days", "8").await?;
    page.comes_to_see("Preview, not saved.").await?;
    page.sees(&["Version 1"]).await?;
    page.press("Make anew").await?;
    page.sees(&["Version 2"]).await?;
    ensure!(page.seen_of("#live-days").await? != before, "the days are as before");
    page.press("Goals and strategy").await?;
    let kept = (page.value("A: the best day").await?, page.value("Cue word").await?);
    ensure!(kept == ("under 43 minutes".to_owned(), "přímo".to_owned()), "the goals are now {kept:?}");
    page.press("Back to the block").await
}

async fn print_on_letter(page: &Page) -> Result<()> {
    let block = page.address().await?;
    page.press("Settings").await?;
    page.tick("Letter, 8.5 x 11 in").await?;
    page.press("Save settings").await?;
    page.open(&block).await?;
    page.press("Sheet to print").await?;
    let print = page.print().await?;
    ensure!((print.sheets, print.size) == (1, (612, 792)), "{} sheets of {:?}", print.sheets, print.size);
    for words in [ATHLETE, RACE, "Sun 9 May", "under 43 minutes", "přímo", "See you at the start.", "Version 2"] {
        ensure!(print.says(words), "{words:?} is not on the sheet:\n{}", print.text());
    }
    page.open(&block).await
}

async fn send_the_file(page: &Page) -> Result<()> {
    let block = page.address().await?;
    let file = page.download("File to send").await?;
    let name = file.file_name().context("a name")?.to_string_lossy().into_owned();
    ensure!(name == "zofie-maresova-larch-hill-10k-2027-05-09-v2.html", "the file is called {name}");
    page.open_file(&file).await?;
    page.sees(&[ATHLETE, RACE, "under 43 minutes"]).await?;
    page.open(&block).await
}

async fn hand_over(page: &Page, app: &App) -> Result<()> {
    let block = page.address().await?;
    page.press("Hand over this version").await?;
    page.sees(&["Handed over: this is the version that the athlete holds now."]).await?;
    let link = page.value("Link for").await?;
    ensure!(link.starts_with(&format!("{}/p/", app.athletes)), "the link leads to {link}");
    page.open(&link).await?;
    page.sees(&["Today", RACE, "under 43 minutes", "Version 2"]).await?;

    // The athlete travels on that day: the coach fixes it, and the athlete sees it when it is handed over.
    page.open(&block).await?;
    page.touch("Thu 6 May").await?;
    page.comes_to_see("What is run").await?;
    page.fill("What is run", "").await?;
    page.touch("Save this day").await?;
    page.comes_to_see("The day is changed and fixed.").await?;
    page.sees(&[
        "fixed",
        "Changed since it was handed over on 20 April",
        "holds version 2 of 20 April, this is version 3",
    ])
    .await?;
    page.open(&link).await?;
    page.sees(&["Version 2"]).await?;
    page.open(&block).await?;
    page.press("Hand over this version").await?;
    page.open(&link).await?;
    page.sees(&["Version 3", "replaces version"]).await
}

async fn look_at_the_board(page: &Page, app: &App) -> Result<()> {
    page.open(&app.coach).await?;
    page.sees(&[ATHLETE, RACE]).await
}
