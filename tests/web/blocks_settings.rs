//! The settings of a block: preview, making anew, and what is wrong with them.

use axum::http::StatusCode;
use ebbline_tests::TestApp;
use store::BlockId;

fn fields<'a>(version: &'a str, days: &'a str, floor: &'a str) -> Vec<(&'a str, &'a str)> {
    vec![
        ("version", version),
        ("days", days),
        ("curve", "1,5"),
        ("floor", floor),
        ("shape", "ebb"),
        ("day_before", "rest"),
        ("extra_rest", "none"),
    ]
}

async fn revision(app: &TestApp, block: BlockId) -> u32 {
    app.store.block(block).await.unwrap().unwrap().revision
}

#[tokio::test]
async fn a_preview_shows_other_settings_and_saves_nothing() {
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    let kept = app.get(&format!("/blocks/{block}")).await;
    let query = "preview=1&version=1&days=7&curve=&floor=&shape=ebb&day_before=rest&extra_rest=auto";
    let page = app.get(&format!("/blocks/{block}?{query}")).await;
    assert_eq!(page.status, StatusCode::OK);
    assert!(page.texts(".preview p")[0].contains("not saved"));
    assert_ne!(page.texts(".days tbody"), kept.texts(".days tbody"));
    assert_eq!(page.value("days"), "7");
    assert_eq!(revision(&app, block).await, 1);
    assert_eq!(app.get(&format!("/blocks/{block}")).await.texts(".days tbody"), kept.texts(".days tbody"));
}

#[tokio::test]
async fn keeping_a_preview_keeps_just_what_was_shown() {
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    let version = app.version_of(block).await.to_string();
    let query = format!("preview=1&version={version}&days=7&shape=linear&day_before=rest&extra_rest=none");
    let preview = app.get(&format!("/blocks/{block}?{query}")).await;
    let kept: Vec<(String, String)> = ["version", "days", "curve", "floor", "shape", "day_before", "extra_rest"]
        .iter()
        .map(|name| ((*name).to_owned(), preview.attribute(&format!(".preview input[name={name}]"), "value")))
        .collect();
    let kept: Vec<(&str, &str)> = kept.iter().map(|(name, value)| (name.as_str(), value.as_str())).collect();
    let page = app.follow(&app.post(&format!("/blocks/{block}/settings"), &kept).await).await;
    assert_eq!(page.texts(".days tbody"), preview.texts(".days tbody"));
    assert_eq!(page.text(".notice p"), "Block saved.");
    assert_eq!(page.count(".preview"), 0);
    assert_eq!(page.value("shape"), "linear");
}

#[tokio::test]
async fn making_anew_keeps_the_goals() {
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    let version = app.version_of(block).await.to_string();
    app.post(&format!("/blocks/{block}/goals"), &[("version", &version), ("a", "under 44:00"), ("first_cue", "tall")])
        .await
        .location();
    let goals = app.store.block(block).await.unwrap().unwrap().goals;
    assert_eq!(goals.a, "under 44:00");
    let version = app.version_of(block).await.to_string();
    app.post(&format!("/blocks/{block}/settings"), &fields(&version, "8", "45")).await.location();
    let record = app.store.block(block).await.unwrap().unwrap();
    assert_eq!((record.revision, &record.goals), (2, &goals));
    assert_eq!((record.settings.days, record.settings.curve, record.settings.floor), (Some(8), Some(1.5), Some(0.45)));
}

#[tokio::test]
async fn what_lies_behind_stays_as_it_was_planned() {
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    let old = app.store.block(block).await.unwrap().unwrap().block;
    let app = app.later("2027-05-05");
    let version = app.version_of(block).await.to_string();
    app.post(&format!("/blocks/{block}/settings"), &fields(&version, "8", "25")).await.location();
    let new = app.store.block(block).await.unwrap().unwrap().block;
    let behind = |day: &&planning::Day| day.date < app.today();
    assert_eq!(new.days.iter().filter(behind).collect::<Vec<_>>(), old.days.iter().filter(behind).collect::<Vec<_>>());
    assert_ne!(new.days, old.days);
    assert_eq!((new.curve.length, new.curve.floor), (8, 0.25));
}

#[tokio::test]
async fn wrong_numbers_come_back_as_typed_with_a_sentence_at_each_field() {
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    let version = app.version_of(block).await.to_string();
    let page = app.post(&format!("/blocks/{block}/settings"), &fields(&version, "1e1", "95 %")).await;
    assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert_eq!((page.value("days"), page.value("floor")), ("1e1".to_owned(), "95 %".to_owned()));
    assert_eq!((page.value("day_before"), page.value("extra_rest")), ("rest".to_owned(), "none".to_owned()));
    assert!(page.text("#days-errors").contains("1e1") && page.text("#floor-errors").contains("95 %"));
    assert_eq!(page.count(".error-summary li"), 2);
    assert_eq!(page.count("details[open] #days"), 1, "the form stands open where something is wrong in it");
    assert_eq!(page.count(".days tbody"), 14, "the kept block stays in sight");
    assert_eq!(revision(&app, block).await, 1);
}

#[tokio::test]
async fn a_wrong_preview_says_what_is_wrong_too() {
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    let page = app.get(&format!("/blocks/{block}?preview=1&days=99&shape=ebb")).await;
    assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert_eq!(page.text("#live-state p"), "Length of the block in days: 99 is too much; a number from 4 to 35.");
}

#[tokio::test]
async fn settings_saved_meanwhile_are_shown_beside_the_typed_ones() {
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    let stale = app.version_of(block).await.to_string();
    app.post(&format!("/blocks/{block}/settings"), &fields(&stale, "8", "45")).await.location();
    let page = app.post(&format!("/blocks/{block}/settings"), &fields(&stale, "12", "30")).await;
    assert_eq!(page.status, StatusCode::CONFLICT);
    assert_eq!((page.value("days"), page.value("floor")), ("12".to_owned(), "30".to_owned()));
    assert_eq!(page.texts(".differs .kept"), ["8", "1.5", "45"]);
    assert_eq!(page.count("select[name=shape] option, select[name=day_before] option"), 7, "menus stay menus");
    assert_eq!(page.value("extra_rest"), "none");
    assert_eq!(revision(&app, block).await, 2);
    let version = page.value("version");
    app.post(&format!("/blocks/{block}/settings"), &fields(&version, "12", "30")).await.location();
    assert_eq!(revision(&app, block).await, 3);
}

#[tokio::test]
async fn a_block_of_a_race_that_is_over_is_not_made_anew() {
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    let record = app.store.block(block).await.unwrap().unwrap();
    let mut race = record.race.clone();
    race.race.date = ebbline_tests::date("2027-04-10");
    app.store.save_race(race.id, race.version, &race.race, &race.place, app.now()).await.unwrap();
    let version = app.version_of(block).await.to_string();
    let page = app.post(&format!("/blocks/{block}/settings"), &fields(&version, "8", "45")).await;
    assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(page.text(".error-summary li").contains("is past"), "{}", page.text(".error-summary li"));
    assert_eq!(revision(&app, block).await, 1);
}
