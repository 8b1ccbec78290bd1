//! The page that says where the rules come from.

use axum::http::StatusCode;
use ebbline_tests::TestApp;

#[tokio::test]
async fn every_page_leads_to_what_the_rules_rest_on() {
    let app = TestApp::new().await;
    let board = app.get("/").await;
    assert_eq!(board.attribute("footer a", "href"), "/sources");
    let page = app.get("/sources").await;
    assert_eq!(page.status, StatusCode::OK);
    let text = page.text("main");
    assert!(text.contains("Bosquet and others 2007"), "published");
    assert!(text.contains("The last day for a long run: 7."), "common practice, with its number");
    assert_eq!(page.attribute("dl.sources a", "href"), "https://doi.org/10.1249/mss.0b013e31806010e0");
}
