//! Undo, redo, the list of versions, what differs, and restoring.

use axum::http::StatusCode;
use ebbline_tests::{Answer, TestApp};
use store::BlockId;

async fn change(app: &TestApp, block: BlockId, day: &str, line: &str) {
    let version = app.version_of(block).await.to_string();
    app.post(&format!("/blocks/{block}/days/{day}"), &[("version", &version), ("line", line)]).await.location();
}

async fn send(app: &TestApp, block: BlockId, path: &str) -> Answer {
    let version = app.version_of(block).await.to_string();
    let answer = app.post(&format!("/blocks/{block}/{path}"), &[("version", &version)]).await;
    app.follow(&answer).await
}

#[tokio::test]
async fn undo_and_redo_say_what_they_do_and_do_it() {
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    let path = format!("/blocks/{block}");
    let original = app.get(&path).await.texts(".days tbody");
    assert_eq!(app.get(&path).await.count(".steps"), 0, "nothing to undo yet");
    change(&app, block, "2027-05-05", "easy 3").await;
    let changed = app.get(&path).await.texts(".days tbody");

    let page = send(&app, block, "undo").await;
    assert_eq!(page.texts(".days tbody"), original);
    assert!(page.text(".notice p").starts_with("Undone."));
    assert_eq!((page.count("#undo"), page.text("#redo button").as_str()), (0, "Redo: changed Wed 5 May"));
    let page = send(&app, block, "redo").await;
    assert_eq!(page.texts(".days tbody"), changed);
    assert_eq!((page.count("#redo"), page.text("#undo button").as_str()), (0, "Undo: changed Wed 5 May"));
}

#[tokio::test]
async fn a_stale_undo_changes_nothing_and_says_so() {
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    let stale = app.version_of(block).await.to_string();
    change(&app, block, "2027-05-05", "easy 3").await;
    let page = app.follow(&app.post(&format!("/blocks/{block}/undo"), &[("version", &stale)]).await).await;
    assert!(page.text(".notice p").contains("nothing was changed"), "{}", page.text(".notice p"));
    assert_eq!(app.store.block(block).await.unwrap().unwrap().revision, 2);
}

#[tokio::test]
async fn the_versions_say_why_each_was_made_and_which_one_the_athlete_holds() {
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    app.hand_over(block, "no").await;
    change(&app, block, "2027-05-05", "easy 3").await;
    change(&app, block, "2027-05-06", "rest").await;
    let page = app.get(&format!("/blocks/{block}/versions")).await;
    let rows = page.texts(".versions tbody tr");
    assert_eq!(rows.len(), 3);
    assert!(rows[0].contains("Version 3") && rows[0].contains("Made Thu 6 May a rest day"), "{}", rows[0]);
    assert!(rows[0].contains("the block as it stands") && !rows[0].contains("Restore"), "{}", rows[0]);
    assert!(rows[2].contains("with the athlete since 20 April"), "{}", rows[2]);
    assert_eq!(
        (page.value("from"), page.value("to")),
        ("1".to_owned(), "3".to_owned()),
        "what the athlete has, what is"
    );
}

#[tokio::test]
async fn the_block_says_that_it_changed_since_it_was_handed_over_and_what() {
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    let shared = app.hand_over(block, "no").await;
    let door = app.share_door().await;
    let athlete = ebbline_tests::get_shared(&door, &shared).await.texts(".day-list li");
    change(&app, block, "2027-05-05", "easy 3").await;
    let page = app.get(&format!("/blocks/{block}")).await;
    let said = page.text(".block-version");
    assert!(
        said.contains("handed over on 20 April: Ana Exemplo holds version 1 of 20 April, this is version 2."),
        "{said}"
    );
    let link = page.attribute(".block-version a", "href");
    let difference = app.get(&link).await;
    assert_eq!(difference.status, StatusCode::OK);
    assert!(difference.text(".lead").starts_with("One day is not the same"), "{}", difference.text(".lead"));
    let rows = difference.texts(".difference tbody + tbody tr");
    assert!(rows[0].starts_with("Wednesday 5 May") && rows[0].contains("easy 3 km, fixed"), "{rows:?}");
    assert_eq!(ebbline_tests::get_shared(&door, &shared).await.texts(".day-list li"), athlete, "not unasked");
}

#[tokio::test]
async fn any_version_can_be_looked_at_and_restored_as_a_new_one() {
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    let original = app.get(&format!("/blocks/{block}")).await.texts(".days tbody .day-planned");
    change(&app, block, "2027-05-05", "easy 3").await;
    let page = app.get(&format!("/blocks/{block}/versions/1")).await;
    assert!(page.text(".old-version p").contains("Only to look at"), "{}", page.text(".old-version p"));
    assert_eq!(page.texts(".days tbody .day-planned"), original);
    assert_eq!((page.count(".days a"), page.count(".day-form")), (0, 0), "nothing can be changed here");
    let page = send(&app, block, "versions/1/restore").await;
    assert_eq!(page.text(".notice p"), "Version 1 is restored as a new version. Undo brings the one before back.");
    assert_eq!(page.texts(".days tbody .day-planned"), original);
    assert_eq!(page.text("#undo button"), "Undo: restored version 1");
    assert_eq!(app.store.block(block).await.unwrap().unwrap().revision, 3);
    let same = app.get(&format!("/blocks/{block}/versions/difference?from=1&to=3")).await;
    assert!(same.text(".lead").contains("ask for the same on every day"));
}

#[tokio::test]
async fn versions_that_are_not_there_are_not_found() {
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    for path in ["versions/9", "versions/x", "versions/difference", "versions/difference?from=1&to=9"] {
        let status = app.get(&format!("/blocks/{block}/{path}")).await.status;
        assert_eq!(status, StatusCode::NOT_FOUND, "{path}");
    }
    assert_eq!(app.get("/blocks/99/versions").await.status, StatusCode::NOT_FOUND);
    let version = app.version_of(block).await.to_string();
    let lost = app.post(&format!("/blocks/{block}/versions/9/restore"), &[("version", &version)]).await;
    assert_eq!(lost.status, StatusCode::NOT_FOUND);
}
