//! Requests that no page of ours sends, at both doors: whatever comes, nothing breaks, and nothing of the
//! coach's passes the athletes' door.
//!
//! `EBBLINE_REQUESTS` sets how many; a plain run sends a few hundred.

use axum::body::Body;
use axum::http::{HeaderName, HeaderValue, Method, Request, StatusCode};
use ebbline_tests::{COACH_HOST, SHARE_HOST, TestApp, send};
use proptest::prelude::*;
use proptest::strategy::ValueTree;
use proptest::test_runner::{Config, RngAlgorithm, TestRng, TestRunner};

/// What only the coach may read, as [`TestApp::add_athlete`] writes it, and a goal that was not handed over.
const COACHS_OWN: [&str; 6] =
    ["asthma, carries a spray", "owes me a coffee", "Rui Segredo", "under 39:59", "into the wind", "61234"];

/// A request in the making.
#[derive(Clone, Debug)]
struct Wild {
    method: Method,
    host: Option<String>,
    path: String,
    headers: Vec<(&'static str, String)>,
    body: Vec<u8>,
}

impl Wild {
    /// The request, if it can be sent at all: what HTTP itself has no way to write is no request.
    fn request(&self) -> Option<Request<Body>> {
        let mut request = Request::builder().method(self.method.clone()).uri(&self.path);
        if let Some(host) = &self.host {
            request = request.header("host", HeaderValue::from_bytes(host.as_bytes()).ok()?);
        }
        for (name, value) in &self.headers {
            request = request.header(HeaderName::from_static(name), HeaderValue::from_bytes(value.as_bytes()).ok()?);
        }
        request.body(Body::from(self.body.clone())).ok()
    }
}

fn method() -> impl Strategy<Value = Method> {
    prop_oneof![
        5 => Just(Method::GET),
        1 => Just(Method::HEAD),
        4 => Just(Method::POST),
        1 => prop::sample::select(vec![Method::PUT, Method::DELETE, Method::OPTIONS, Method::PATCH, Method::TRACE]),
    ]
}

fn host(right: &'static str) -> impl Strategy<Value = Option<String>> {
    prop_oneof![
        8 => Just(Some(right.to_owned())),
        1 => Just(None),
        1 => prop::sample::select(vec!["evil.example", "localhost", "localhost.:4650", "127.0.0.1:1", "", "[::1", "a b"])
            .prop_map(|host| Some(host.to_owned())),
        1 => "\\PC{0,40}".prop_map(Some),
    ]
}

/// Something to stand where an address has a name or a number.
fn part(token: &str) -> impl Strategy<Value = String> + use<> {
    let (token, cut) = (token.to_owned(), token[..token.len() - 1].to_owned());
    prop_oneof![
        4 => (0..4_i64).prop_map(|id| id.to_string()),
        2 => Just(token),
        1 => Just(cut),
        1 => prop::sample::select(vec![
            "-1", "9223372036854775807", "9223372036854775808", "0x1", "1e3", "2027-05-09", "9999-99-99", "%00", "%2e%2e",
            "..%2f..%2fsquad.db", "%ff%fe", "%", "a%20b", "start", "null", "1%0d%0aSet-Cookie:x",
        ])
        .prop_map(str::to_owned),
        1 => "[a-zA-Z0-9._~%-]{0,80}",
    ]
}

fn path(token: &str) -> impl Strategy<Value = String> + use<> {
    let known = prop::sample::select(server::paths::ALL.to_vec());
    let filled = (known, prop::collection::vec(part(token), 4)).prop_map(|(known, parts)| {
        let mut parts = parts.into_iter();
        known
            .split('/')
            .map(|piece| if piece.starts_with('{') { parts.next().unwrap_or_default() } else { piece.to_owned() })
            .collect::<Vec<_>>()
            .join("/")
    });
    let path = prop_oneof![
        8 => filled,
        1 => "/[a-z0-9/.%_-]{0,60}",
        1 => prop::sample::select(vec!["/../../etc/passwd", "//", "/p/", "/p", "/static/", "/.git/config", "*", "/%"])
            .prop_map(str::to_owned),
    ];
    (path, prop::option::of("[a-z_]{1,8}=[a-zA-Z0-9%+.,_-]{0,30}(&[a-z_]{1,8}=[a-zA-Z0-9%+.,_-]{0,30}){0,3}"))
        .prop_map(|(path, query)| query.map_or(path.clone(), |query| format!("{path}?{query}")))
}

fn headers(host: &'static str) -> impl Strategy<Value = Vec<(&'static str, String)>> {
    let texts = |list: &[&str]| prop::sample::select(list.iter().map(|text| (*text).to_owned()).collect::<Vec<_>>());
    let one = prop_oneof![
        4 => Just(("origin", format!("http://{host}"))),
        1 => texts(&["null", "https://evil.example", "", "http://"]).prop_map(|value| ("origin", value)),
        2 => texts(&["same-origin", "cross-site", "none", "x"]).prop_map(|value| ("sec-fetch-site", value)),
        4 => Just(("content-type", "application/x-www-form-urlencoded".to_owned())),
        2 => texts(&["multipart/form-data; boundary=x", "application/json", "text/plain", "multipart/form-data", "\u{e9}"])
            .prop_map(|value| ("content-type", value)),
        1 => texts(&["application/json", "text/html", "*/*;q=0", "x/y"]).prop_map(|value| ("accept", value)),
        1 => texts(&["gzip", "br, gzip;q=0", "identity;q=0", "x"]).prop_map(|value| ("accept-encoding", value)),
        1 => "[ -~]{0,60}".prop_map(|value| ("cookie", format!("ebbline_notice={value}"))),
        1 => "[ -~]{0,60}".prop_map(|value| ("if-none-match", value)),
        1 => texts(&["bytes=0-", "bytes=9-1", "x"]).prop_map(|value| ("range", value)),
        1 => texts(&["0", "18446744073709551615", "-1", "1"]).prop_map(|value| ("content-length", value)),
        1 => texts(&["evil.example", "127.0.0.1"]).prop_map(|value| ("x-forwarded-host", value)),
    ];
    prop::collection::vec(one, 0..6)
}

/// Names of fields that forms have, so that handlers are reached with something to chew on.
const FIELDS: [&str; 30] = [
    "version",
    "name",
    "units",
    "date",
    "distance",
    "own",
    "start",
    "zone",
    "mon",
    "tue",
    "sun",
    "range",
    "since",
    "days",
    "curve",
    "floor",
    "shape",
    "day_before",
    "extra_rest",
    "race",
    "athlete",
    "importance",
    "a",
    "b",
    "first_cue",
    "line",
    "from",
    "to",
    "kind",
    "answers",
];

fn body() -> impl Strategy<Value = Vec<u8>> {
    let value = prop_oneof![
        3 => "[a-zA-Z0-9 .,:+-]{0,20}",
        1 => prop::sample::select(vec![
            "1e309", "NaN", "-0", "2027-05-09", "0001-01-01", "24:61", "half", "km", "6 x 800 m", "((((", "on", "yes", "\0",
            "\u{202e}x", "9999999999999999999999", "<script>", "' OR 1=1 --", "10,5", "8-3-4",
        ])
        .prop_map(str::to_owned),
        1 => "\\PC{0,60}",
    ];
    let field = (prop::sample::select(FIELDS.to_vec()), value)
        .prop_map(|(name, value)| value.bytes().fold(format!("{name}="), |text, byte| format!("{text}%{byte:02X}")));
    prop_oneof![
        6 => prop::collection::vec(field, 0..10).prop_map(|fields| fields.join("&").into_bytes()),
        1 => prop::collection::vec(any::<u8>(), 0..400),
        1 => Just(Vec::new()),
        1 => (1000..200_000_usize).prop_map(|length| [b"name=".as_slice(), &vec![b'x'; length]].concat()),
    ]
}

/// An address around a link: what the athletes' door is asked most.
fn shared_path(token: &str) -> impl Strategy<Value = String> + use<> {
    let behind =
        prop::sample::select(vec!["", "/", "/print", "/calendar.ics", "/x", "/..", "?today=2027-05-01", "/print?x"]);
    prop_oneof![3 => path(token), 3 => (part(token), behind).prop_map(|(part, behind)| format!("/p/{part}{behind}"))]
}

fn wild(right: &'static str, path: impl Strategy<Value = String> + 'static) -> impl Strategy<Value = Wild> {
    (method(), host(right), path, headers(right), body()).prop_map(|(method, host, path, headers, body)| Wild {
        method,
        host,
        path,
        headers,
        body,
    })
}

fn rounds() -> usize {
    std::env::var("EBBLINE_REQUESTS").ok().and_then(|count| count.parse().ok()).unwrap_or(400)
}

/// A squad with a block that is handed over, one that is not, and goals that were not handed over; the
/// secret of the link.
async fn squad() -> (TestApp, String) {
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    let version = app.version_of(block).await.to_string();
    app.post(&format!("/blocks/{block}/goals"), &[("version", &version), ("a", "under 39:59")]).await.location();
    let path = app.hand_over(block, "no").await;
    app.add_athlete("Rui Segredo", planning::DistanceUnit::Mi).await;
    (app, path.trim_start_matches("/p/").to_owned())
}

fn runner(seed: u8) -> TestRunner {
    TestRunner::new_with_rng(Config::default(), TestRng::from_seed(RngAlgorithm::ChaCha, &[seed; 32]))
}

#[tokio::test]
async fn whatever_comes_to_the_coachs_door_is_answered_without_breaking() {
    let mut runner = runner(1);
    let (mut app, mut token) = squad().await;
    let mut sent = 0;
    while sent < rounds() {
        // Some of the requests remove what others need: begin anew now and then.
        if sent > 0 && sent % 250 == 0 {
            (app, token) = squad().await;
        }
        let wild = wild(COACH_HOST, path(&token)).new_tree(&mut runner).unwrap().current();
        let Some(request) = wild.request() else { continue };
        let answer = app.send(request).await;
        sent += 1;
        assert!(answer.status.as_u16() < 500, "{} for {wild:?}", answer.status);
        let is_ours = wild.host.as_deref().is_some_and(|host| host.eq_ignore_ascii_case(COACH_HOST));
        let others = ["localhost:4650", "[::1]:4650"];
        let is_known = is_ours || wild.host.as_deref().is_some_and(|host| others.contains(&host));
        assert!(is_known || answer.status.is_client_error(), "{} for {wild:?}", answer.status);
    }
    assert!(app.store.check().await.unwrap().is_empty(), "the data file is sound");
}

#[tokio::test]
async fn whatever_comes_to_the_athletes_door_shows_nothing_of_the_coachs() {
    let mut runner = runner(2);
    let (app, token) = squad().await;
    let door = app.share_door().await;
    let before = app.store.athletes().await.unwrap();
    let (mut sent, mut shown) = (0, 0);
    while sent < rounds() {
        let wild = wild(SHARE_HOST, shared_path(&token)).new_tree(&mut runner).unwrap().current();
        let Some(request) = wild.request() else { continue };
        let answer = send(door.clone(), request).await;
        sent += 1;
        assert!(answer.status.as_u16() < 500, "{} for {wild:?}", answer.status);
        let text = String::from_utf8_lossy(&answer.bytes);
        assert!(COACHS_OWN.iter().all(|own| !text.contains(own)), "{wild:?}");
        assert!(answer.headers.get("set-cookie").is_none(), "{wild:?}");
        let path = wild.path.split('?').next().unwrap_or_default();
        let is_open = path == "/healthz" || path.starts_with("/static/") || path.starts_with(&format!("/p/{token}"));
        assert!(!answer.status.is_success() || is_open, "{} for {wild:?}", answer.status);
        shown += usize::from(answer.status == StatusCode::OK && text.contains("Ana Exemplo"));
    }
    assert!(shown > 0, "not one of the requests reached the page: they prove little");
    assert_eq!(app.store.athletes().await.unwrap(), before);
}
