//! The sheet of the last three days.

use axum::http::StatusCode;
use ebbline_tests::{Answer, SIX_RUNS, TestApp};
use planning::{DistanceUnit, Importance, RaceDistance};
use store::{AthleteDraft, BlockId, Version};

/// A block for a marathon on 9 May 2027, goal B 3:30:00, and the athlete changed as asked.
async fn marathon(app: &TestApp, change: impl FnOnce(&mut AthleteDraft)) -> BlockId {
    let athlete = app.add_athlete("Ana Exemplo", DistanceUnit::Km).await;
    app.save_week(athlete, SIX_RUNS).await;
    let kept = app.store.athlete(athlete).await.unwrap().unwrap();
    let mut draft = kept.draft;
    draft.weight = planning::Weight::grams(60_000);
    draft.athlete.birth_year = Some(1990);
    change(&mut draft);
    app.store.save_athlete(athlete, kept.version, &draft, app.now()).await.unwrap();
    let race = app.add_race("Harbour Marathon", "2027-05-09", RaceDistance::Marathon).await;
    app.store.enter(race, athlete, Importance::Goal, app.now()).await.unwrap();
    let block = app.make_block(ebbline_tests::Entered { athlete, race }).await;
    let version = app.version_of(block).await.to_string();
    let goals = [("version", version.as_str()), ("b", "3:30:00")];
    app.post(&format!("/blocks/{block}/goals"), &goals).await.location();
    block
}

async fn sheet(app: &TestApp, block: BlockId) -> Answer {
    let page = app.get(&format!("/blocks/{block}/race-day/three-days-out")).await;
    assert_eq!(page.status, StatusCode::OK);
    page
}

fn food(page: &Answer) -> String {
    page.text(".said-list")
}

#[tokio::test]
async fn an_adult_reads_the_three_days_and_grams_but_never_a_weight() {
    let app = TestApp::new().await;
    let block = marathon(&app, |_| ()).await;
    let page = sheet(&app, block).await;
    assert_eq!(page.text("h1"), "Ana Exemplo Harbour Marathon");
    assert_eq!(page.texts(".last-days th[scope=row]"), ["Thu 6 May", "Fri 7 May", "Sat 8 May"]);
    let kept = app.store.block(block).await.unwrap().unwrap().block;
    let days = page.texts(".last-days tbody td:nth-of-type(1)");
    for (text, day) in days.iter().zip(kept.days.iter().filter(|day| (1..=3).contains(&day.to_race))) {
        assert_eq!(text.contains("rest"), day.is_rest(), "{text}");
    }
    let food = food(&page);
    assert!(food.contains("600\u{2013}720 g of carbohydrate a day") && food.contains("at most 180 mg"), "{food}");
    assert!(page.text(".for-whom").contains("healthy adults"));
    for private in ["kilogram", "60 kg", "60000", "asthma", "coffee", "Track", "into the wind"] {
        assert!(!page.body().contains(private), "{private}");
    }
}

#[tokio::test]
async fn an_adult_without_a_weight_reads_grams_for_each_kilogram() {
    let app = TestApp::new().await;
    let block = marathon(&app, |draft| draft.weight = None).await;
    let food = food(&sheet(&app, block).await);
    assert!(food.contains("10\u{2013}12 g for each kilogram of body weight of carbohydrate a day"), "{food}");
    assert!(!food.contains("mg"), "{food}");
}

#[tokio::test]
async fn nobody_of_sixteen_reads_an_amount() {
    let app = TestApp::new().await;
    let block = marathon(&app, |draft| draft.athlete.birth_year = Some(2011)).await;
    let page = sheet(&app, block).await;
    let food = food(&page);
    assert!(food.contains("with their parents") && food.contains("Leave caffeine out"), "{food}");
    assert!(!food.contains(|letter: char| letter.is_ascii_digit()), "{food}");
    assert_eq!(page.count(".for-whom"), 0);
    assert!(!page.text(".last-days").contains("stores"));
}

#[tokio::test]
async fn whose_food_a_professional_plans_reads_no_amount_either() {
    let app = TestApp::new().await;
    let block = marathon(&app, |draft| draft.fuel_referred = true).await;
    let food = food(&sheet(&app, block).await);
    assert!(food.contains("a dietitian or a clinician plans"), "{food}");
    assert!(!food.contains(|letter: char| letter.is_ascii_digit()), "{food}");
}

#[tokio::test]
async fn a_short_race_fills_no_stores() {
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    let page = sheet(&app, block).await;
    assert!(!food(&page).contains("stores") && !page.text(".last-days").contains("stores"));
}

#[tokio::test]
async fn what_the_coach_wrote_stands_in_the_place_of_our_lists_and_the_weather_is_said() {
    let app = TestApp::new().await;
    let block = marathon(&app, |_| ()).await;
    let record = app.store.block(block).await.unwrap().unwrap();
    let written = store::RaceSheet {
        kit: Some("red shoes\nthe <b>cap</b>".to_owned()),
        breakfast: "porridge at six".to_owned(),
        ..record.race_sheet.clone()
    };
    app.store.save_race_sheet(block, record.version, &written, app.now()).await.unwrap();
    let facts = store::RaceFacts { air: Some(planning::heat::Celsius::tenths(210)), ..store::RaceFacts::default() };
    app.store.save_race_facts(record.race.id, Version(0), &facts, app.now()).await.unwrap();
    let page = sheet(&app, block).await;
    let boxes = page.texts(".ticks li");
    assert_eq!(boxes[..2], ["red shoes", "the <b>cap</b>"]);
    assert!(boxes.contains(&"Entry and proof of identity".to_owned()), "the journey is still proposed: {boxes:?}");
    assert!(food(&page).contains("porridge at six"));
    assert!(page.text("main").contains("Expected: air 21 \u{b0}C. It will be warm: start slower"));
}

#[tokio::test]
async fn a_race_that_is_called_off_needs_no_getting_ready() {
    let app = TestApp::new().await;
    let block = marathon(&app, |_| ()).await;
    let race = app.store.block(block).await.unwrap().unwrap().race;
    app.store.call_off_race(race.id, Some(app.today()), app.now()).await.unwrap();
    let page = sheet(&app, block).await;
    assert_eq!(page.count(".last-days"), 0);
    assert_eq!(page.count(".ticks"), 0);
}

#[tokio::test]
async fn the_race_sheets_page_says_the_same_to_the_coach_and_no_amount_where_none_is_due() {
    let app = TestApp::new().await;
    let block = marathon(&app, |_| ()).await;
    let page = app.get(&format!("/blocks/{block}/race-day")).await;
    let food = page.text("section[aria-labelledby=food]");
    assert!(food.contains("10\u{2013}12 g for each kilogram (600\u{2013}720 g) of carbohydrate a day"), "{food}");
    let morning = page.texts(".body-morning dt");
    assert_eq!((morning[0].as_str(), morning[morning.len() - 1].as_str()), ("6:15", "9:30"));

    let record = app.store.block(block).await.unwrap().unwrap();
    let mut young = record.athlete.draft;
    young.athlete.birth_year = Some(2011);
    app.store.save_athlete(record.athlete.id, record.athlete.version, &young, app.now()).await.unwrap();
    let page = app.get(&format!("/blocks/{block}/race-day")).await;
    let food = page.text("section[aria-labelledby=food] dl") + &page.text("section[aria-labelledby=food] p");
    assert!(food.contains("with their parents"), "{food}");
    assert!(!food.contains(|letter: char| letter.is_ascii_digit()), "{food}");
}
