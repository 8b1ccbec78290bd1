//! The printed sheet.

use axum::http::StatusCode;
use ebbline_tests::{TestApp, get_shared};

#[tokio::test]
async fn the_sheet_holds_days_totals_cautions_version_and_nothing_private() {
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    let sheet = app.get(&format!("/blocks/{block}/print")).await;
    assert_eq!(sheet.status, StatusCode::OK);
    assert_eq!(sheet.text("h1"), "Ana Exemplo Harbour 10");
    assert_eq!(sheet.count(".sheet-days th[scope=row]"), 11, "ten days and the race");
    assert_eq!(sheet.count(".sheet-days svg"), 11);
    assert!(sheet.text(".sheet-version").starts_with("Version 1 of Tuesday 20 April 2027."));
    assert!(sheet.text(".sheet-cautions").contains("not medical advice"));
    for private in ["asthma", "coffee", "Track", "Caution."] {
        assert!(!sheet.body().contains(private), "{private}");
    }
}

#[tokio::test]
async fn the_race_sheet_is_printed_with_the_days_where_it_was_ticked() {
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    let version = app.version_of(block).await.to_string();
    app.post(&format!("/blocks/{block}/goals"), &[("version", version.as_str()), ("b", "49:30")]).await.location();
    let hand_over = async |race_day: &str| {
        let version = app.version_of(block).await.to_string();
        let fields = [("version", version.as_str()), ("goals", "yes"), ("race_day", race_day)];
        app.post(&format!("/blocks/{block}/hand-over"), &fields).await.location();
        app.get(&format!("/blocks/{block}/print")).await
    };
    let days = hand_over("").await;
    assert_eq!((days.count(".race-sheet"), days.count(".sheet-days")), (0, 1));
    let both = hand_over("yes").await;
    assert_eq!((both.count(".race-sheet .race-rows"), both.count(".sheet-days")), (1, 1));
    assert!(both.text(".sheet-hint").contains("the race sheet on a side of its own"), "{}", both.text(".sheet-hint"));
}

#[tokio::test]
async fn the_paper_is_the_coachs_and_the_name_stands_below() {
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    let path = format!("/blocks/{block}/print");
    let styles = |page: &ebbline_tests::Answer| page.body().contains("paper-letter.css");
    assert!(!styles(&app.get(&path).await));
    let version = app.get("/settings").await.value("version");
    let fields = [
        ("version", version.as_str()),
        ("units", "km"),
        ("week_start", "mon"),
        ("paper", "letter"),
        ("coach_name", "Rui"),
    ];
    app.post("/settings", &fields).await.location();
    let sheet = app.get(&path).await;
    assert!(styles(&sheet));
    assert!(sheet.text(".sheet-version").ends_with("Coach: Rui."));
}

#[tokio::test]
async fn a_new_version_says_which_sheet_it_replaces() {
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    app.hand_over(block, "no").await;
    let path = format!("/blocks/{block}/print");
    assert!(!app.get(&path).await.text(".sheet-version").contains("replaces"));
    let version = app.version_of(block).await.to_string();
    let settings = [("version", version.as_str()), ("days", "8"), ("shape", "ebb")];
    app.post(&format!("/blocks/{block}/settings"), &settings).await.location();
    let page = app.get(&path).await;
    let hint = page.text(".sheet-hint strong");
    assert!(hint.contains("holds version 1, and this sheet is version 2"), "for the coach, not on paper: {hint}");
    let text = page.text(".sheet-version");
    assert!(text.contains("Version 2") && text.contains("replaces version 1 of 20 April"), "{text}");
}

#[tokio::test]
async fn the_totals_above_days_of_a_sheet_sum_the_days_that_are_listed() {
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    let page = app.get(&format!("/blocks/{block}/print")).await;
    let totals = page.texts(".sheet-week-totals");
    assert!(totals[0].starts_with("from Thursday: "), "the block begins in the middle of a week: {totals:?}");
    assert!(!totals[1].contains("from "), "{totals:?}");
    for (week, total) in totals.iter().enumerate() {
        let planned =
            page.texts(&format!(".sheet-days tbody:nth-of-type({}) .day-planned > span:first-child", week + 1));
        let km = |line: &String| {
            let before = line.split(" km").next().filter(|_| line.contains(" km") && !line.starts_with("Race"))?;
            before.rsplit(' ').next()?.parse::<f64>().ok()
        };
        let listed: f64 = planned.iter().filter(|line| !line.contains("left out")).filter_map(km).sum();
        let total = total.trim_start_matches("from Thursday: ");
        assert!(total.starts_with(&format!("{listed} km")), "{listed} listed under {total:?}: {planned:?}");
    }
}

#[tokio::test]
async fn above_a_single_day_stand_no_totals_and_above_days_without_running_words() {
    let app = TestApp::new().await;
    let entered = app.ana().await;
    app.save_week(entered.athlete, ["8", "12", "10", "10", "8", "", ""]).await;
    let block = app.make_block(entered).await;
    let set = async |days: &str| {
        let version = app.version_of(block).await.to_string();
        let settings = [("version", version.as_str()), ("days", days), ("shape", "ebb")];
        app.post(&format!("/blocks/{block}/settings"), &settings).await.location();
        app.get(&format!("/blocks/{block}/print")).await
    };
    let two_days = set("15").await;
    assert_eq!(two_days.texts(".sheet-week-totals")[0], "from Saturday: no running, as usual");
    let one_day = set("14").await;
    assert_eq!((one_day.count(".sheet-week-name"), one_day.count(".sheet-week-totals")), (3, 2));
    assert!(!one_day.text(".sheet-days").contains("0 km, as usual"));
    let link = app.hand_over(block, "yes").await;
    let shared = get_shared(&app.share_door().await, &link).await;
    assert_eq!((shared.count(".weeks"), shared.count(".week-sentence")), (3, 2));
    let file = app.get(&format!("/blocks/{block}/file")).await;
    assert!(!file.body().contains("0 km, as usual"), "the file says the same");
}
