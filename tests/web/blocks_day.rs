//! One day of a block, fixed and freed by hand.

use axum::http::StatusCode;
use ebbline_tests::{TestApp, date};

#[tokio::test]
async fn a_fixed_day_stays_while_the_rest_of_the_week_is_planned_around_it() {
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    let path = format!("/blocks/{block}/days/2027-05-05");
    let before = app.store.block(block).await.unwrap().unwrap().block;
    let page = app.get(&path).await;
    assert_eq!(page.text("h1"), "Wednesday 5 May 2027");
    let version = page.value("version");
    let page = app.follow(&app.post(&path, &[("version", &version), ("line", "easy 3")]).await).await;
    assert_eq!(page.text(".notice p"), "Block saved.");
    let after = app.store.block(block).await.unwrap().unwrap();
    let day = after.block.day(date("2027-05-05")).unwrap();
    assert!(day.pinned);
    assert_eq!(day.sessions[0].session.running_middle(), planning::Milli::whole(3));
    assert_eq!(after.reason, "fixed Wed 5 May");
    // The week before race week does not move, and what the day gave away is not lost on others entirely.
    assert_eq!(before.days[..7], after.block.days[..7]);
    let total = |block: &planning::Block| block.weeks().last().unwrap().planned.middle_km(planning::Pace::ASSUMED);
    assert!(total(&after.block) <= total(&before));
}

#[tokio::test]
async fn a_fixed_day_survives_making_anew_and_can_be_freed_again() {
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    let path = format!("/blocks/{block}/days/2027-05-05");
    let original = app.store.block(block).await.unwrap().unwrap().block;
    app.post(&path, &[("version", &app.version_of(block).await.to_string()), ("line", "rest")]).await;
    let version = app.version_of(block).await.to_string();
    let anew =
        [("version", version.as_str()), ("days", ""), ("shape", "ebb"), ("day_before", "auto"), ("extra_rest", "auto")];
    app.post(&format!("/blocks/{block}/settings"), &anew).await;
    let kept = app.store.block(block).await.unwrap().unwrap().block;
    assert!(kept.day(date("2027-05-05")).unwrap().pinned);
    assert!(kept.day(date("2027-05-05")).unwrap().is_rest());
    app.post(&path, &[("version", &app.version_of(block).await.to_string()), ("free", "yes")]).await;
    assert_eq!(app.store.block(block).await.unwrap().unwrap().block, original, "freeing brings the plan back exactly");
}

#[tokio::test]
async fn what_cannot_be_read_is_quoted_and_kept() {
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    let path = format!("/blocks/{block}/days/2027-05-05");
    for line in ["7 furlongs", "easy -3", "easy 900"] {
        let page = app.post(&path, &[("version", &app.version_of(block).await.to_string()), ("line", line)]).await;
        assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY, "{line}");
        assert_eq!(page.value("line"), line);
        assert_eq!(page.count(".error-summary li"), 1, "{line}");
    }
    assert_eq!(app.store.block(block).await.unwrap().unwrap().revision, 1);
}

#[tokio::test]
async fn a_stale_form_shows_both_versions_of_the_day() {
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    let path = format!("/blocks/{block}/days/2027-05-05");
    let stale = app.version_of(block).await.to_string();
    app.post(&path, &[("version", &stale), ("line", "easy 3")]).await;
    let page = app.post(&path, &[("version", &stale), ("line", "easy 4")]).await;
    assert_eq!(page.status, StatusCode::CONFLICT);
    assert_eq!(page.value("line"), "easy 4");
    assert!(page.texts(".kept").contains(&"easy 3 km".to_owned()));
}

#[tokio::test]
async fn race_day_and_days_of_other_weeks_are_not_bent() {
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    for day in ["2027-05-09", "2027-03-01", "2027-02-30", "tomorrow"] {
        assert_eq!(app.get(&format!("/blocks/{block}/days/{day}")).await.status, StatusCode::NOT_FOUND, "{day}");
    }
}
