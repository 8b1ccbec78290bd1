//! The settings page.

use axum::http::StatusCode;
use ebbline_tests::{Answer, TestApp};

async fn save(app: &TestApp, version: &str, name: &str) -> Answer {
    let fields =
        [("version", version), ("units", "mi"), ("week_start", "sun"), ("paper", "letter"), ("coach_name", name)];
    app.post("/settings", &fields).await
}

#[tokio::test]
async fn what_is_saved_is_shown_again_with_a_notice_that_is_said_once() {
    let app = TestApp::new().await;
    let version = app.get("/settings").await.value("version");
    let page = app.follow(&save(&app, &version, "Ana <Ferreira>").await).await;
    assert_eq!(page.text(".notice p"), "Settings saved.");
    assert!(page.header("set-cookie").contains("Max-Age=0"));
    let page = app.get("/settings").await;
    assert_eq!(page.count(".notice"), 0);
    assert_eq!(page.value("coach_name"), "Ana <Ferreira>");
    assert_eq!(
        (page.value("units"), page.value("week_start"), page.value("paper")),
        ("mi".into(), "sun".into(), "letter".into())
    );
}

#[tokio::test]
async fn a_refused_form_keeps_what_was_typed_and_says_it_on_top_and_at_the_field() {
    let app = TestApp::new().await;
    let long = "x".repeat(90);
    let page = save(&app, "0", &long).await;
    assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert_eq!(page.value("coach_name"), long);
    assert_eq!(page.value("units"), "mi");
    let sentence = "Your name: 90 characters are too many; at most 80 are kept.";
    assert_eq!(page.text(".error-summary li"), sentence);
    assert_eq!(page.attribute(".error-summary li a", "href"), "#coach_name");
    assert_eq!(page.text("#coach_name-errors p"), format!("!Error: {sentence}"));
    assert!(page.text("title").starts_with("Error: "));
}

#[tokio::test]
async fn a_stale_save_shows_both_versions_and_loses_nothing() {
    let app = TestApp::new().await;
    let version = app.get("/settings").await.value("version");
    save(&app, &version, "First").await;
    let page = save(&app, &version, "Second").await;
    assert_eq!(page.status, StatusCode::CONFLICT);
    assert_eq!(page.value("coach_name"), "Second");
    assert!(page.texts(".kept").contains(&"First".to_owned()), "{}", page.body());
    let page = app.follow(&save(&app, &page.value("version"), "Second").await).await;
    assert_eq!(page.value("coach_name"), "Second");
}

#[tokio::test]
async fn the_page_says_where_the_data_lie_and_where_athletes_look() {
    let app = TestApp::new().await;
    let page = app.get("/settings").await;
    assert!(page.texts("code").contains(&app.data().display().to_string()));
    assert!(page.texts("code").contains(&"http://192.168.1.20:4651".to_owned()));
}

#[tokio::test]
async fn a_backup_is_a_whole_data_file_and_leaves_nothing_behind() {
    let app = TestApp::new().await;
    app.post("/athletes", &[("name", "Ana")]).await.location();
    let before = std::fs::read_dir(app.data().parent().expect("a folder")).expect("a listing").count();
    let answer = app.post("/settings/backup", &[]).await;
    assert_eq!(answer.status, StatusCode::OK);
    assert_eq!(answer.header("content-disposition"), "attachment; filename=\"ebbline-2027-04-20.db\"");
    let folder = tempfile::tempdir().expect("a folder");
    let copy = folder.path().join("copy.db");
    std::fs::write(&copy, &answer.bytes).expect("a copy");
    let store = store::Store::open(&copy).await.expect("a data file");
    assert_eq!(store.athletes().await.expect("athletes").len(), 1);
    assert!(store.check().await.expect("a check").is_empty());
    let after = std::fs::read_dir(app.data().parent().expect("a folder")).expect("a listing").count();
    assert_eq!(after, before);
}

#[tokio::test]
async fn reading_a_backup_is_a_form_so_that_no_link_can_set_it_off() {
    let app = TestApp::new().await;
    assert_eq!(app.get("/settings/backup").await.status, StatusCode::METHOD_NOT_ALLOWED);
}
