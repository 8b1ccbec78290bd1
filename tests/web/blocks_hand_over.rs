//! Handing a block over, as the coach sees it.

use ebbline_tests::TestApp;

#[tokio::test]
async fn the_block_page_says_whether_the_athlete_has_this_version() {
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    let path = format!("/blocks/{block}");
    assert!(app.get(&path).await.text(".block-version").ends_with("Not handed over yet."));
    app.hand_over(block, "no").await;
    assert!(app.get(&path).await.text(".block-version").ends_with("Handed over on 20 April."));
    let version = app.version_of(block).await.to_string();
    let settings = [("version", version.as_str()), ("days", "8"), ("shape", "ebb")];
    app.post(&format!("{path}/settings"), &settings).await.location();
    let page = app.get(&path).await;
    assert!(page.text(".block-version").contains("version 1 is with the athlete, this is version 2"));
    assert!(page.text(".hand-over").contains("Version 1 is with the athlete, this is version 2"));
}

#[tokio::test]
async fn handing_over_anew_keeps_the_link_and_ending_it_makes_the_next_a_new_one() {
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    let first = app.hand_over(block, "yes").await;
    assert_eq!(app.hand_over(block, "no").await, first);
    let page = app.follow(&app.post(&format!("/blocks/{block}/hand-over/end"), &[]).await).await;
    assert_eq!(page.text(".notice p"), "The link no longer works.");
    assert_eq!(page.count("input.link"), 0);
    assert_ne!(app.hand_over(block, "no").await, first);
}

#[tokio::test]
async fn the_link_works_up_to_two_weeks_after_the_race() {
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    app.hand_over(block, "no").await;
    let ends = app.store.block(block).await.unwrap().unwrap().share.unwrap().ends;
    assert_eq!(ends, ebbline_tests::date("2027-05-23"));
    assert!(app.get(&format!("/blocks/{block}")).await.text(".hand-over").contains("up to Sunday 23 May 2027"));
}
