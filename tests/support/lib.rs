//! What the tests of whole requests share: an app on a data file of its own, requests as a browser
//! sends them, and answers that are asked by CSS selectors.

#![expect(
    clippy::expect_used,
    clippy::missing_panics_doc,
    reason = "these are parts of tests: what goes wrong in them fails the test"
)]

mod squad;

use std::path::{Path, PathBuf};

use axum::Router;
use axum::body::{Body, to_bytes};
use axum::http::header::{CONTENT_TYPE, COOKIE, HOST, LOCATION, ORIGIN, SET_COOKIE};
use axum::http::{HeaderMap, Method, Request, StatusCode};
use chrono::{DateTime, NaiveDate, NaiveTime, Utc};
use scraper::{ElementRef, Html, Node, Selector};
use server::{AppState, Clock, Hosts, ShareDoor, ShareState};
use store::Store;
use tower::ServiceExt;

pub use squad::{Entered, SIX_RUNS, get_shared};

/// The host under which the coach's door answers in tests.
pub const COACH_HOST: &str = "127.0.0.1:4650";

/// The host under which the athletes' door answers in tests.
pub const SHARE_HOST: &str = "192.168.1.20:4651";

/// The coach's door on a fresh data file in a folder of its own, at nine in the morning of a fixed day.
#[derive(Debug)]
pub struct TestApp {
    /// The data file, to arrange and to look behind the pages.
    pub store: Store,
    /// The fixed clock of the pages.
    pub clock: Clock,
    router: Router,
    state: AppState,
    data: PathBuf,
    folder: tempfile::TempDir,
}

impl TestApp {
    /// An app whose today is 20 April 2027, a Tuesday.
    pub async fn new() -> Self {
        Self::on("2027-04-20").await
    }

    /// An app with another today, written `2027-04-20`.
    pub async fn on(today: &str) -> Self {
        let folder = tempfile::tempdir().expect("a temporary folder");
        let data = folder.path().join("squad.db");
        let store = Store::open(&data).await.expect("a data file");
        Self::around(store, data, folder, today)
    }

    /// The same squad on another day.
    #[must_use]
    pub fn later(self, today: &str) -> Self {
        Self::around(self.store, self.data, self.folder, today)
    }

    /// The same squad behind another athletes' door.
    #[must_use]
    pub fn behind(self, share: ShareDoor) -> Self {
        let state = AppState::new(
            self.store.clone(),
            self.clock,
            self.data.clone(),
            COACH_HOST.parse().expect("an address"),
            share,
        );
        let hosts = Hosts::loopback(COACH_HOST.parse().expect("an address"));
        Self { router: server::coach_router(state.clone(), hosts), state, ..self }
    }

    fn around(store: Store, data: PathBuf, folder: tempfile::TempDir, today: &str) -> Self {
        let clock = Clock::fixed(nine_on(today));
        let share = ShareDoor::Open {
            address: "192.168.1.20:4651".parse().expect("an address"),
            base: format!("http://{SHARE_HOST}").into(),
        };
        let state = AppState::new(store.clone(), clock, data.clone(), COACH_HOST.parse().expect("an address"), share);
        let hosts = Hosts::loopback(COACH_HOST.parse().expect("an address"));
        Self { store, clock, router: server::coach_router(state.clone(), hosts), state, data, folder }
    }

    /// Today.
    pub fn today(&self) -> NaiveDate {
        self.clock.today()
    }

    /// The present instant.
    pub fn now(&self) -> DateTime<Utc> {
        self.clock.now()
    }

    /// Where the data file lies.
    pub fn data(&self) -> &Path {
        &self.data
    }

    /// The coach's door.
    pub fn coach_door(&self) -> Router {
        self.router.clone()
    }

    /// The athletes' door to the same data file.
    pub async fn share_door(&self) -> Router {
        let reader = self.store.shared_reader().await.expect("a reader");
        let hosts = Hosts::share(SHARE_HOST.parse().expect("an address"), &[]);
        server::share_router(ShareState::new(reader, self.clock), hosts)
    }

    /// The athletes' door to the same data file on another day, written `2027-04-20`.
    pub async fn share_door_on(&self, today: &str) -> Router {
        let reader = self.store.shared_reader().await.expect("a reader");
        let hosts = Hosts::share(SHARE_HOST.parse().expect("an address"), &[]);
        server::share_router(ShareState::new(reader, Clock::fixed(nine_on(today))), hosts)
    }

    /// A page of the coach's door.
    pub async fn get(&self, path: &str) -> Answer {
        self.send(request(Method::GET, COACH_HOST, path).body(Body::empty()).expect("a request")).await
    }

    /// A form sent from one of our own pages; repeat a name to send several values.
    pub async fn post(&self, path: &str, fields: &[(&str, &str)]) -> Answer {
        let request = request(Method::POST, COACH_HOST, path)
            .header(ORIGIN, format!("http://{COACH_HOST}"))
            .header("sec-fetch-site", "same-origin")
            .header(CONTENT_TYPE, "application/x-www-form-urlencoded");
        self.send(request.body(Body::from(encode(fields))).expect("a request")).await
    }

    /// A form with a file, sent from one of our own pages.
    pub async fn post_file(&self, path: &str, fields: &[(&str, &str)], name: &str, file: &[u8]) -> Answer {
        const BORDER: &str = "border-of-our-own";
        let mut body = Vec::new();
        for (name, value) in fields {
            let part = format!("--{BORDER}\r\nContent-Disposition: form-data; name=\"{name}\"\r\n\r\n{value}\r\n");
            body.extend(part.into_bytes());
        }
        let head = format!(
            "--{BORDER}\r\nContent-Disposition: form-data; name=\"{name}\"; filename=\"file\"\r\nContent-Type: \
             application/octet-stream\r\n\r\n"
        );
        body.extend(head.into_bytes());
        body.extend(file);
        body.extend(format!("\r\n--{BORDER}--\r\n").into_bytes());
        let request = request(Method::POST, COACH_HOST, path)
            .header(ORIGIN, format!("http://{COACH_HOST}"))
            .header("sec-fetch-site", "same-origin")
            .header(CONTENT_TYPE, format!("multipart/form-data; boundary={BORDER}"));
        self.send(request.body(Body::from(body)).expect("a request")).await
    }

    /// What the coach's door holds, for what runs beside the pages.
    pub fn state(&self) -> AppState {
        self.state.clone()
    }

    /// The same data file behind a door whose clock stands elsewhere, written `2027-04-20`.
    pub fn state_on(&self, day: &str) -> AppState {
        AppState { clock: Clock::fixed(nine_on(day)), ..self.state.clone() }
    }

    /// The page that an answer leads to, with the cookies that it set.
    pub async fn follow(&self, answer: &Answer) -> Answer {
        let cookies: Vec<&str> = answer
            .headers
            .get_all(SET_COOKIE)
            .iter()
            .filter_map(|value| value.to_str().ok()?.split(';').next())
            .collect();
        let request = request(Method::GET, COACH_HOST, answer.location()).header(COOKIE, cookies.join("; "));
        self.send(request.body(Body::empty()).expect("a request")).await
    }

    /// Any request, as it is.
    pub async fn send(&self, request: Request<Body>) -> Answer {
        send(self.router.clone(), request).await
    }
}

/// A page of any door, asked under a host.
pub async fn get_from(door: Router, host: &str, path: &str) -> Answer {
    send(door, request(Method::GET, host, path).body(Body::empty()).expect("a request")).await
}

/// Sends any request to any door.
pub async fn send(door: Router, request: Request<Body>) -> Answer {
    let response = door.oneshot(request).await.expect("an answer");
    let (parts, body) = response.into_parts();
    let bytes = to_bytes(body, usize::MAX).await.expect("a body").to_vec();
    Answer { status: parts.status, headers: parts.headers, bytes }
}

fn request(method: Method, host: &str, path: &str) -> axum::http::request::Builder {
    Request::builder().method(method).uri(path).header(HOST, host)
}

/// Nine in the morning of a day written `2027-04-20`.
pub fn nine_on(day: &str) -> DateTime<Utc> {
    let nine = NaiveTime::from_hms_opt(9, 0, 0).expect("a time");
    date(day).and_time(nine).and_utc()
}

/// A day written `2027-04-20`.
pub fn date(day: &str) -> NaiveDate {
    day.parse().expect("a date")
}

fn encode(fields: &[(&str, &str)]) -> String {
    let part = |text: &str| -> String {
        text.bytes()
            .map(|byte| match byte {
                b'a'..=b'z' | b'A'..=b'Z' | b'0'..=b'9' | b'-' | b'_' | b'.' => char::from(byte).to_string(),
                _ => format!("%{byte:02X}"),
            })
            .collect()
    };
    fields.iter().map(|(name, value)| format!("{}={}", part(name), part(value))).collect::<Vec<_>>().join("&")
}

/// What came back.
#[derive(Debug)]
pub struct Answer {
    /// Status.
    pub status: StatusCode,
    /// Headers.
    pub headers: HeaderMap,
    /// The body as it came.
    pub bytes: Vec<u8>,
}

impl Answer {
    /// The body as text.
    pub fn body(&self) -> &str {
        std::str::from_utf8(&self.bytes).expect("a body in UTF-8")
    }

    /// One header, empty where it is missing.
    pub fn header(&self, name: &str) -> &str {
        self.headers.get(name).and_then(|value| value.to_str().ok()).unwrap_or_default()
    }

    /// Where it leads: checks that it is a redirect after a form.
    pub fn location(&self) -> &str {
        assert_eq!(self.status, StatusCode::SEE_OTHER, "not a redirect: {}", self.body());
        self.headers.get(LOCATION).and_then(|value| value.to_str().ok()).expect("a location")
    }

    /// The id at the end of the location: of the record that was just added.
    pub fn new_id(&self) -> i64 {
        let digits = |part: &&str| !part.is_empty() && part.bytes().all(|byte| byte.is_ascii_digit());
        self.location().split('/').rev().find(digits).and_then(|part| part.parse().ok()).expect("an id")
    }

    /// The text of every element that a selector finds, spaces made single.
    pub fn texts(&self, selector: &str) -> Vec<String> {
        let page = Html::parse_document(self.body());
        let selector = self::selector(selector);
        page.select(&selector).map(text_of).collect()
    }

    /// The text of the one element that a selector finds.
    pub fn text(&self, selector: &str) -> String {
        let mut texts = self.texts(selector);
        assert_eq!(texts.len(), 1, "{selector} finds {texts:?} in {}", self.body());
        texts.remove(0)
    }

    /// How many elements a selector finds.
    pub fn count(&self, selector: &str) -> usize {
        self.texts(selector).len()
    }

    /// An attribute of the first element that a selector finds.
    pub fn attribute(&self, selector: &str, name: &str) -> String {
        let page = Html::parse_document(self.body());
        let found = page.select(&self::selector(selector)).next().unwrap_or_else(|| panic!("no {selector}"));
        found.value().attr(name).unwrap_or_default().to_owned()
    }

    /// An attribute of every element that a selector finds.
    pub fn attributes(&self, selector: &str, name: &str) -> Vec<String> {
        let page = Html::parse_document(self.body());
        let selector = self::selector(selector);
        page.select(&selector).map(|found| found.value().attr(name).unwrap_or_default().to_owned()).collect()
    }

    /// Everything that a browser sends of a form, files aside.
    pub fn filled(&self, form: &str) -> Vec<(String, String)> {
        let page = Html::parse_document(self.body());
        let controls = self::selector(&format!("{form} input, {form} select, {form} textarea"));
        let option = self::selector("option[selected]");
        let sent = page.select(&controls).filter_map(|control| {
            let name = control.attr("name")?.to_owned();
            let is_ticked = control.attr("checked").is_some();
            let value = match (control.value().name(), control.attr("type").unwrap_or("text")) {
                (_, "file") => return None,
                (_, "checkbox" | "radio") if !is_ticked => return None,
                ("select", _) => control.select(&option).next()?.attr("value").unwrap_or_default().to_owned(),
                // The first line end inside a text area is not part of its text; all others are sent as one kind.
                ("textarea", _) => {
                    let text: String = control.text().collect();
                    text.strip_prefix('\n').unwrap_or(&text).replace('\n', "\r\n")
                }
                _ => control.attr("value").unwrap_or_default().to_owned(),
            };
            Some((name, value))
        });
        sent.collect()
    }

    /// What a control holds: of a text field its value, of a menu or radio buttons the chosen one.
    pub fn value(&self, name: &str) -> String {
        let page = Html::parse_document(self.body());
        let one = |selector: &str| page.select(&self::selector(selector)).next();
        if let Some(option) = one(&format!("select[name='{name}'] option[selected]")) {
            return option.value().attr("value").unwrap_or_default().to_owned();
        }
        if let Some(area) = one(&format!("textarea[name='{name}']")) {
            return area.text().collect::<String>().trim_start_matches('\n').to_owned();
        }
        let input = one(&format!("input[name='{name}'][checked]"))
            .or_else(|| one(&format!("input[name='{name}']:not([type=radio]):not([type=checkbox])")));
        input.and_then(|input| input.value().attr("value")).unwrap_or_default().to_owned()
    }
}

fn selector(text: &str) -> Selector {
    Selector::parse(text).unwrap_or_else(|error| panic!("{text}: {error}"))
}

/// The text of an element as it is read: a line break parts words.
fn text_of(element: ElementRef<'_>) -> String {
    let parts = element.descendants().filter_map(|node| match node.value() {
        Node::Text(text) => Some(&**text),
        Node::Element(inner) if inner.name() == "br" => Some(" "),
        _ => None,
    });
    squeeze(&parts.collect::<String>())
}

fn squeeze(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}
