//! Who may come in: the athletes' door from the settings, the pass phrase, signing in and out.

use std::net::{SocketAddr, TcpListener, TcpStream};

use axum::body::Body;
use axum::http::{Method, Request, StatusCode};
use ebbline_tests::{Answer, COACH_HOST, TestApp};

const PHRASE: &str = "heron under four bridges";

fn free_port() -> SocketAddr {
    TcpListener::bind(("127.0.0.1", 0)).unwrap().local_addr().unwrap()
}

async fn sharing(app: &TestApp, served: &str, address: &str, url: &str) -> Answer {
    let version = app.get("/settings/doors").await.value("version");
    let fields = [("version", version.as_str()), ("served", served), ("share_address", address), ("share_url", url)];
    app.post("/settings/sharing", &fields).await
}

async fn set_phrase(app: &TestApp) -> String {
    let answer = app.post("/settings/pass-phrase", &[("phrase", PHRASE), ("again", PHRASE)]).await;
    assert_eq!(answer.status, StatusCode::SEE_OTHER);
    secret(&answer)
}

/// The cookie of a browser that was signed in by an answer.
fn secret(answer: &Answer) -> String {
    let cookies = answer.headers.get_all("set-cookie").iter().map(|value| value.to_str().unwrap());
    let cookie = cookies.into_iter().find(|cookie| cookie.starts_with("ebbline_sign_in=")).expect("a cookie");
    assert!(cookie.ends_with("; HttpOnly; SameSite=Strict"), "{cookie}");
    cookie.split(';').next().unwrap().to_owned()
}

async fn get_with(app: &TestApp, cookie: &str, path: &str) -> Answer {
    let request = Request::builder().uri(path).header("host", COACH_HOST).header("cookie", cookie);
    app.send(request.body(Body::empty()).unwrap()).await
}

#[tokio::test]
async fn the_athletes_door_opens_moves_and_closes_while_the_program_runs() {
    let app = TestApp::new().await;
    let (first, second) = (free_port(), free_port());
    let page = app.get("/settings/doors").await;
    let asked_for = ("on".to_owned(), "192.168.1.20:4651".to_owned());
    assert_eq!((page.value("served"), page.value("share_address")), asked_for, "the door of the start is shown");
    let page = app.follow(&sharing(&app, "on", &first.to_string(), "").await).await;
    assert_eq!(page.text(".notice p"), "Athletes' pages are served, from now on and at every start.");
    assert!(TcpStream::connect(first).is_ok());
    assert!(page.body().contains("Only this machine reaches that address:"));
    let page = app.follow(&sharing(&app, "on", &second.to_string(), "https://runs.example/").await).await;
    assert_eq!(page.value("share_url"), "https://runs.example");
    assert!(page.texts("code").contains(&"https://runs.example".to_owned()));
    assert!(TcpStream::connect(second).is_ok() && TcpStream::connect(first).is_err());
    let page = app.follow(&sharing(&app, "off", &second.to_string(), "").await).await;
    assert!(page.text(".notice p").starts_with("Athletes' pages are off."));
    assert!(TcpStream::connect(second).is_err());
    assert_eq!(app.store.doors().await.unwrap().share_address, "");
}

#[tokio::test]
async fn an_address_that_is_taken_is_told_and_the_coach_goes_on() {
    let app = TestApp::new().await;
    let held = TcpListener::bind(("127.0.0.1", 0)).unwrap();
    let page = app.follow(&sharing(&app, "on", &held.local_addr().unwrap().to_string(), "").await).await;
    assert!(page.text(".notice p").contains("could not be opened"));
    assert_eq!(app.get("/").await.status, StatusCode::OK);
}

#[tokio::test]
async fn a_wrong_address_is_named_and_what_was_typed_stays() {
    let app = TestApp::new().await;
    for (address, url, field, part) in [
        ("everywhere", "", "share_address", "\u{201c}everywhere\u{201d} is not an address"),
        ("0.0.0.0:4650", "", "share_address", "Port 4650 cannot be used"),
        ("0.0.0.0:0", "", "share_address", "Port 0 cannot be used"),
        ("224.0.0.1:4651", "", "share_address", "224.0.0.1 is not an address of one machine"),
        ("255.255.255.255:4651", "", "share_address", "255.255.255.255 is not an address of one machine"),
        ("0.0.0.0:4651", "runs.example", "share_url", "\u{201c}runs.example\u{201d} is not what a link can begin with"),
    ] {
        let page = sharing(&app, "on", address, url).await;
        assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY, "{address}");
        assert!(page.text(".error-summary li").contains(part), "{}", page.text(".error-summary li"));
        assert_eq!(page.attribute(".error-summary li a", "href"), format!("#{field}"));
        assert_eq!((page.value("share_address"), page.value("share_url")), (address.to_owned(), url.to_owned()));
    }
    assert_eq!(app.store.doors().await.unwrap().share_address, "");
}

#[tokio::test]
async fn a_stale_save_of_the_address_shows_both() {
    let app = TestApp::new().await;
    let stale = app.get("/settings/doors").await.value("version");
    sharing(&app, "off", "0.0.0.0:4651", "https://one.example").await.location();
    let fields = [
        ("version", stale.as_str()),
        ("served", "off"),
        ("share_address", "0.0.0.0:4651"),
        ("share_url", "https://two.example"),
    ];
    let page = app.post("/settings/sharing", &fields).await;
    assert_eq!(page.status, StatusCode::CONFLICT);
    assert_eq!(page.texts(".differs .kept"), ["https://one.example"]);
    assert_eq!(page.value("share_url"), "https://two.example");
}

#[tokio::test]
async fn with_a_pass_phrase_nobody_passes_who_is_not_signed_in() {
    let app = TestApp::new().await;
    let ana = app.ana().await;
    let mine = set_phrase(&app).await;
    assert_eq!(get_with(&app, &mine, "/athletes").await.status, StatusCode::OK, "who set it is in");
    for path in ["/", "/athletes", "/settings", "/no-such-page", &format!("/athletes/{}", ana.athlete)] {
        let answer = app.get(path).await;
        assert_eq!(answer.status, StatusCode::SEE_OTHER, "{path}");
        assert!(answer.location().starts_with("/sign-in?to=%2F"), "{}", answer.location());
        assert!(!answer.body().contains("Ana"), "{path}");
    }
    let style = app.get("/sign-in").await.attribute("link[rel=stylesheet]", "href");
    assert_eq!(app.get(&style).await.status, StatusCode::OK);
    assert_eq!(app.get("/healthz").await.status, StatusCode::OK);
}

#[tokio::test]
async fn a_form_that_comes_after_the_end_of_a_sign_in_changes_nothing_and_is_not_lost() {
    let app = TestApp::new().await;
    set_phrase(&app).await;
    let page = app.post("/athletes", &[("name", "Rui")]).await;
    assert_eq!(page.status, StatusCode::UNAUTHORIZED);
    assert_eq!(page.text("h1"), "Your sign-in has ended");
    assert!(app.store.athletes().await.unwrap().is_empty());
    let json = Request::builder().uri("/blocks/1").header("host", COACH_HOST).header("accept", "application/json");
    assert_eq!(app.send(json.body(Body::empty()).unwrap()).await.status, StatusCode::UNAUTHORIZED);
}

#[tokio::test]
async fn signing_in_leads_to_the_page_that_was_wanted_and_nowhere_else() {
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    set_phrase(&app).await;
    let wanted = format!("/blocks/{block}?preview=1&days=9");
    let page = app.get(app.get(&wanted).await.location()).await;
    assert_eq!(page.value("to"), wanted);
    let answer = app.post("/sign-in", &[("phrase", PHRASE), ("to", &wanted)]).await;
    assert_eq!(answer.location(), wanted);
    assert_eq!(get_with(&app, &secret(&answer), &wanted).await.status, StatusCode::OK);
    let answer = app.post("/sign-in", &[("phrase", PHRASE), ("to", "https://evil.example/")]).await;
    assert_eq!(answer.location(), "/");
}

#[tokio::test]
async fn wrong_phrases_are_told_and_soon_have_to_wait() {
    let app = TestApp::new().await;
    set_phrase(&app).await;
    for _ in 0..5 {
        let page = app.post("/sign-in", &[("phrase", "heron under five bridges")]).await;
        assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY);
        assert_eq!(page.text(".error-summary li"), "This is not the pass phrase.");
        assert!(!page.body().contains("five bridges"), "a phrase is never shown again");
    }
    let page = app.post("/sign-in", &[("phrase", PHRASE)]).await;
    assert_eq!(page.status, StatusCode::TOO_MANY_REQUESTS);
    assert!(page.text(".error-summary li").starts_with("Too many wrong tries. Wait "));
}

#[tokio::test]
async fn a_sign_in_ends_when_the_browser_signs_out_the_phrase_changes_or_a_month_is_over() {
    let app = TestApp::new().await;
    let first = set_phrase(&app).await;
    let second = secret(&app.post("/sign-in", &[("phrase", PHRASE)]).await);
    let out = Request::builder()
        .method(Method::POST)
        .uri("/sign-out")
        .header("host", COACH_HOST)
        .header("origin", format!("http://{COACH_HOST}"))
        .header("cookie", &second);
    assert_eq!(app.send(out.body(Body::empty()).unwrap()).await.status, StatusCode::SEE_OTHER);
    assert_eq!(get_with(&app, &second, "/athletes").await.status, StatusCode::SEE_OTHER);
    assert_eq!(get_with(&app, &first, "/athletes").await.status, StatusCode::OK);
    let app = app.later("2027-05-21");
    assert_eq!(get_with(&app, &first, "/athletes").await.status, StatusCode::SEE_OTHER);
    for made_up in ["ebbline_sign_in=", "ebbline_sign_in=x", &format!("ebbline_sign_in={}", "0".repeat(64))] {
        assert_eq!(get_with(&app, made_up, "/athletes").await.status, StatusCode::SEE_OTHER);
    }
}

#[tokio::test]
async fn a_phrase_is_set_changed_and_removed_only_as_it_should_be() {
    let app = TestApp::new().await;
    for (phrase, again, part) in [
        ("short", "short", "has 5 characters; use 12 or more"),
        (PHRASE, "heron under", "are not the same"),
        (&"x".repeat(201), &"x".repeat(201), "201 characters are too many"),
    ] {
        let page = app.post("/settings/pass-phrase", &[("phrase", phrase), ("again", again)]).await;
        assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY);
        assert!(page.text(".field-errors").contains(part), "{}", page.text(".field-errors"));
    }
    let mine = set_phrase(&app).await;
    let send = async |fields: &str| {
        let request = Request::builder()
            .method(Method::POST)
            .uri("/settings/pass-phrase")
            .header("host", COACH_HOST)
            .header("origin", format!("http://{COACH_HOST}"))
            .header("content-type", "application/x-www-form-urlencoded")
            .header("cookie", &mine);
        app.send(request.body(Body::from(fields.to_owned())).unwrap()).await
    };
    let page = send("present=wrong&action=remove").await;
    assert_eq!(page.text(".error-summary li"), "This is not the present pass phrase.");
    let answer = send(&format!("present={}&action=remove", PHRASE.replace(' ', "+"))).await;
    assert_eq!(answer.status, StatusCode::SEE_OTHER);
    assert_eq!(app.get("/athletes").await.status, StatusCode::OK);
}
