//! What every request meets before any page: host, origin, headers, addresses that lead nowhere.

use axum::body::Body;
use axum::http::{Method, Request, StatusCode};
use ebbline_tests::{COACH_HOST, SHARE_HOST, TestApp, get_from, send};

fn asking(host: Option<&str>, path: &str) -> Request<Body> {
    let mut request = Request::builder().uri(path);
    if let Some(host) = host {
        request = request.header("host", host);
    }
    request.body(Body::empty()).expect("a request")
}

#[tokio::test]
async fn a_foreign_host_is_refused_before_routing_style_sheets_and_unknown_addresses_included() {
    let app = TestApp::new().await;
    let style = app.get("/settings").await.attribute("link[rel=stylesheet]", "href");
    for path in ["/settings", "/healthz", "/no-such-page", style.as_str()] {
        for host in ["evil.example", "evil.example:4650", "localhost.:4650", "127.0.0.1:4651", "127.0.0.1", ""] {
            let answer = app.send(asking(Some(host), path)).await;
            assert_eq!(answer.status, StatusCode::MISDIRECTED_REQUEST, "{host} {path}");
        }
        assert_eq!(app.send(asking(None, path)).await.status, StatusCode::MISDIRECTED_REQUEST, "no host, {path}");
    }
    for host in ["localhost:4650", "LocalHost:4650", "[::1]:4650", COACH_HOST] {
        assert_eq!(app.send(asking(Some(host), "/settings")).await.status, StatusCode::OK, "{host}");
    }
}

#[tokio::test]
async fn two_hosts_or_a_foreign_address_in_the_request_line_are_refused() {
    let app = TestApp::new().await;
    let two = Request::builder().uri("/settings").header("host", COACH_HOST).header("host", "evil.example");
    let answer = app.send(two.body(Body::empty()).expect("a request")).await;
    assert_eq!(answer.status, StatusCode::MISDIRECTED_REQUEST);
    let absolute = Request::builder().uri("http://evil.example/settings").header("host", COACH_HOST);
    let answer = app.send(absolute.body(Body::empty()).expect("a request")).await;
    assert_eq!(answer.status, StatusCode::MISDIRECTED_REQUEST);
}

#[tokio::test]
async fn a_form_from_another_site_is_refused_and_changes_nothing() {
    let app = TestApp::new().await;
    for (origin, site) in [
        (Some("https://evil.example"), Some("cross-site")),
        (Some("null"), None),
        (Some("http://127.0.0.1:9999"), None),
        (Some("http://localhost:4650"), Some("same-site")),
    ] {
        let mut request = Request::builder()
            .method(Method::POST)
            .uri("/settings")
            .header("host", COACH_HOST)
            .header("content-type", "application/x-www-form-urlencoded");
        if let Some(origin) = origin {
            request = request.header("origin", origin);
        }
        if let Some(site) = site {
            request = request.header("sec-fetch-site", site);
        }
        let version = app.get("/settings").await.value("version");
        let body = format!("version={version}&units=mi&week_start=sun&paper=letter&coach_name=Mallory");
        let answer = app.send(request.body(Body::from(body)).expect("a request")).await;
        assert_eq!(answer.status, StatusCode::FORBIDDEN, "{origin:?} {site:?}");
        assert_eq!(answer.text("h1"), "Refused: the form came from elsewhere");
        assert_eq!(app.get("/settings").await.value("coach_name"), "");
    }
}

#[tokio::test]
async fn every_answer_carries_the_headers_that_keep_pages_to_themselves() {
    let app = TestApp::new().await;
    for path in ["/settings", "/no-such-page", "/healthz"] {
        let answer = app.get(path).await;
        assert!(answer.header("content-security-policy").starts_with("default-src 'none'; "), "{path}");
        assert_eq!(answer.header("x-content-type-options"), "nosniff", "{path}");
        assert_eq!(answer.header("referrer-policy"), "no-referrer", "{path}");
        assert_eq!(answer.header("cross-origin-opener-policy"), "same-origin", "{path}");
        assert_eq!(answer.header("cache-control"), "no-store", "{path}");
    }
}

#[tokio::test]
async fn an_unknown_address_and_a_wrong_method_get_our_own_page() {
    let app = TestApp::new().await;
    let answer = app.get("/no-such-page").await;
    assert_eq!((answer.status, answer.text("h1").as_str()), (StatusCode::NOT_FOUND, "Nothing stands here"));
    let answer = app.post("/healthz", &[]).await;
    assert_eq!(answer.status, StatusCode::METHOD_NOT_ALLOWED);
    assert_eq!(answer.text("h1"), "This address does not take that");
}

#[tokio::test]
async fn style_sheets_are_served_under_the_present_digest_only() {
    let app = TestApp::new().await;
    let style = app.get("/settings").await.attribute("link[rel=stylesheet]", "href");
    let answer = app.get(&style).await;
    assert_eq!((answer.status, answer.header("content-type")), (StatusCode::OK, "text/css; charset=utf-8"));
    let digest = style.split('/').nth(2).expect("a digest");
    for path in [style.replace(digest, "0000000000000000"), format!("/static/{digest}/css/none.css")] {
        assert_eq!(app.get(&path).await.status, StatusCode::NOT_FOUND, "{path}");
    }
}

#[tokio::test]
async fn both_doors_say_that_they_run() {
    let app = TestApp::new().await;
    assert_eq!(app.get("/healthz").await.body(), "ok\n");
    let answer = get_from(app.share_door().await, SHARE_HOST, "/healthz").await;
    assert_eq!((answer.status, answer.body()), (StatusCode::OK, "ok\n"));
}

#[tokio::test]
async fn the_athletes_door_holds_none_of_the_coachs_pages_and_no_scripts() {
    let app = TestApp::new().await;
    let door = app.share_door().await;
    let nothing = get_from(door.clone(), SHARE_HOST, "/no-such-page").await;
    assert_eq!(nothing.status, StatusCode::NOT_FOUND);
    let script = app.get("/settings").await.attribute("script[src]", "src");
    for path in ["/", "/settings", "/athletes", "/athletes/1", "/races", "/blocks/1", script.as_str()] {
        let answer = get_from(door.clone(), SHARE_HOST, path).await;
        assert_eq!(answer.status, StatusCode::NOT_FOUND, "{path}");
        assert_eq!(answer.bytes, nothing.bytes, "{path}");
    }
    let answer = send(door, asking(Some("evil.example"), "/healthz")).await;
    assert_eq!(answer.status, StatusCode::MISDIRECTED_REQUEST);
}

#[tokio::test]
async fn a_form_that_is_too_large_or_no_form_at_all_gets_our_own_page() {
    let app = TestApp::new().await;
    let huge = "x".repeat(3 * 1024 * 1024);
    let answer = app.post("/settings", &[("coach_name", &huge)]).await;
    assert_eq!(answer.status, StatusCode::PAYLOAD_TOO_LARGE);
    assert_eq!(answer.text("h1"), "That is more than can be taken at once");
    let json = Request::builder().method(Method::POST).uri("/settings").header("host", COACH_HOST);
    let json = json.header("content-type", "application/json").body(Body::from("{}")).expect("a request");
    let answer = app.send(json).await;
    assert_eq!((answer.status, answer.count("h1")), (StatusCode::UNSUPPORTED_MEDIA_TYPE, 1));
}

#[tokio::test]
async fn a_post_from_a_program_without_a_browser_is_taken() {
    let app = TestApp::new().await;
    let request = Request::builder().method(Method::POST).uri("/athletes").header("host", COACH_HOST);
    let request = request.header("content-type", "application/x-www-form-urlencoded").body(Body::from("name=Ana"));
    app.send(request.expect("a request")).await.location();
}

#[tokio::test]
async fn sixteen_saves_at_once_are_saved_once_and_fifteen_are_told() {
    let app = std::sync::Arc::new(TestApp::new().await);
    let id = app.post("/athletes", &[("name", "Ana")]).await.new_id();
    let version = app.get(&format!("/athletes/{id}/edit")).await.value("version");
    let saves: Vec<_> = (0..16)
        .map(|number| {
            let (app, version) = (app.clone(), version.clone());
            tokio::spawn(async move {
                let name = format!("Ana {number}");
                app.post(&format!("/athletes/{id}"), &[("name", &name), ("version", &version)]).await.status
            })
        })
        .collect();
    let mut counts = std::collections::BTreeMap::new();
    for save in saves {
        *counts.entry(save.await.expect("a save").as_u16()).or_insert(0) += 1;
    }
    assert_eq!(counts, [(303, 1), (409, 15)].into());
}
