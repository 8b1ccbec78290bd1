//! The file to send.

use axum::http::StatusCode;
use ebbline_tests::TestApp;

#[tokio::test]
async fn the_file_stands_alone_and_has_a_plain_name() {
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    let file = app.get(&format!("/blocks/{block}/file")).await;
    assert_eq!(file.status, StatusCode::OK);
    assert_eq!(
        file.header("content-disposition"),
        "attachment; filename=\"ana-exemplo-harbour-10-2027-05-09-v1.html\""
    );
    assert_eq!(file.count("link, script, img, iframe, form, a"), 0);
    assert_eq!(file.count("style"), 1);
    assert_eq!(file.count("svg.ebb .ebb-day"), 14);
    assert_eq!(file.count(".day-list li"), 11);
    for private in ["asthma", "coffee", "Track"] {
        assert!(!file.body().contains(private), "{private}");
    }
}

#[tokio::test]
async fn days_as_usual_are_spoken_of_only_where_some_are_left() {
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    // The block begins on Thursday 29 April.
    let app = app.later("2027-04-28");
    let says =
        |body: String| body.contains("Your block begins on Thursday 29 April; until then everything is as usual");
    assert!(says(app.get(&format!("/blocks/{block}/file")).await.body().to_owned()));
    let app = app.later("2027-04-29");
    assert!(!says(app.get(&format!("/blocks/{block}/file")).await.body().to_owned()));
}
