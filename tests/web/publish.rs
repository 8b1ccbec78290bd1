//! Publishing into a folder.

use std::path::Path;

use axum::http::StatusCode;
use ebbline_tests::{Answer, TestApp, get_shared};
use scraper::{Html, Selector};

fn names(folder: &Path) -> Vec<String> {
    let mut names: Vec<String> =
        std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().file_name().into_string().unwrap()).collect();
    names.sort();
    names
}

async fn publish(app: &TestApp, folder: &Path) -> Answer {
    app.post("/settings/publish", &[("folder", folder.to_str().unwrap())]).await
}

#[tokio::test]
async fn what_is_handed_over_stands_in_the_folder_as_page_and_calendar() {
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    let path = app.hand_over(block, "yes").await;
    let folder = tempfile::tempdir().unwrap();
    let site = folder.path().join("site");
    let page = publish(&app, &site).await;
    assert_eq!(page.status, StatusCode::OK);
    assert!(page.text("section").starts_with("Published 2 files written, 0 unchanged, 0 taken away in "));
    assert!(page.text("section li").starts_with("Ana Exemplo, Harbour 10: up to Sunday 23 May 2027"));
    assert!(page.text("section").contains("A folder has no end dates of its own"));
    let found = names(&site);
    assert_eq!(found.len(), 3, "{found:?}");
    assert_eq!(found[0], ".ebbline-published");
    let name = found[1].strip_suffix(".html").unwrap();
    assert_eq!((name.len(), found[2].as_str()), (40, format!("{name}.ics").as_str()));
    let token = path.rsplit('/').next().unwrap();
    let html = std::fs::read_to_string(site.join(&found[1])).unwrap();
    for secret in [token, "asthma", "coffee", "Track", "<script", "href=\"http", "src="] {
        assert!(!html.contains(secret), "{secret}");
    }
    let document = Html::parse_document(&html);
    let one = |selector: &str| document.select(&Selector::parse(selector).unwrap()).next().unwrap().value().clone();
    assert_eq!(one("meta[name=robots]").attr("content"), Some("noindex, nofollow, noarchive"));
    assert_eq!(one("a").attr("href"), Some(found[2].as_str()));
    let feed = get_shared(&app.share_door().await, &format!("{path}/calendar.ics")).await;
    assert_eq!(std::fs::read(site.join(&found[2])).unwrap(), feed.bytes, "the same file as the feed");
}

#[tokio::test]
async fn what_is_no_longer_shared_is_taken_away_and_what_did_not_change_stays() {
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    app.hand_over(block, "yes").await;
    let folder = tempfile::tempdir().unwrap();
    std::fs::write(folder.path().join("index.html"), "theirs").unwrap();
    publish(&app, folder.path()).await;
    let page = publish(&app, folder.path()).await;
    assert!(page.text("section").starts_with("Published 0 files written, 2 unchanged, 0 taken away in "));
    app.post(&format!("/blocks/{block}/hand-over/end"), &[]).await.location();
    let page = publish(&app, folder.path()).await;
    assert!(page.text("section").starts_with("Published 0 files written, 0 unchanged, 2 taken away in "));
    assert_eq!(names(folder.path()), [".ebbline-published", "index.html"]);
}

#[tokio::test]
async fn a_folder_that_will_not_do_is_said_at_the_field_and_kept() {
    let app = TestApp::new().await;
    let data = app.data().parent().unwrap().to_str().unwrap().to_owned();
    for (typed, said) in [
        ("", "is not a whole path"),
        ("runs", "is not a whole path"),
        (data.as_str(), "holds the data file"),
        (app.data().to_str().unwrap(), "is not a folder"),
    ] {
        let page = app.post("/settings/publish", &[("folder", typed)]).await;
        assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY, "{typed}");
        assert!(page.text(".error-summary li").contains(said), "{typed}: {}", page.text(".error-summary li"));
        assert_eq!(page.value("folder"), typed);
    }
    assert!(!names(Path::new(&data)).contains(&".ebbline-published".to_owned()));
}

#[tokio::test]
async fn the_way_to_it_stands_where_a_block_is_handed_over() {
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    assert_eq!(app.get(&format!("/blocks/{block}")).await.count(".hand-over a[href='/settings/publish']"), 1);
    assert_eq!(app.get("/settings/publish").await.text("h1"), "Publish into a folder");
}
