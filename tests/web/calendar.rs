//! The calendar: the feed on the athletes' door and the file on the coach's.

use std::collections::{BTreeMap, HashSet};

use axum::Router;
use axum::body::Body;
use axum::http::header::{HOST, IF_NONE_MATCH};
use axum::http::{Method, Request, StatusCode};
use ebbline_tests::{Answer, SHARE_HOST, TestApp, get_shared, send};
use store::BlockId;

type Properties = BTreeMap<String, String>;

/// The events of a file by their identities.
fn events(file: &str) -> BTreeMap<String, Properties> {
    let file = file.replace("\r\n ", "");
    let lines: Vec<&str> = file.split_terminator("\r\n").collect();
    let events = lines.split(|line| *line == "BEGIN:VEVENT").skip(1).map(|body| {
        let body = body.iter().take_while(|line| **line != "END:VEVENT");
        body.filter_map(|line| line.split_once(':')).map(|(name, value)| (name.to_owned(), value.to_owned())).collect()
    });
    events.map(|event: Properties| (event["UID"].clone(), event)).collect()
}

fn day(event: &Properties) -> &str {
    event.get("DTSTART;VALUE=DATE").or_else(|| event.get("DTSTART")).map_or("", String::as_str)
}

async fn feed(door: &Router, path: &str) -> Answer {
    let answer = get_shared(door, &format!("{path}/calendar.ics")).await;
    assert_eq!(answer.status, StatusCode::OK);
    answer
}

async fn asked_with(door: &Router, method: Method, path: &str, tag: &str) -> Answer {
    let request = Request::builder().method(method).uri(format!("{path}/calendar.ics")).header(HOST, SHARE_HOST);
    send(door.clone(), request.header(IF_NONE_MATCH, tag).body(Body::empty()).expect("a request")).await
}

/// Exchanges two days of a block, as the coach does on the page.
async fn exchange(app: &TestApp, block: BlockId, one: &str, other: &str) {
    let version = app.version_of(block).await.to_string();
    let fields = [("version", version.as_str()), ("do", "swap"), ("to", other)];
    app.post(&format!("/blocks/{block}/days/{one}"), &fields).await.location();
}

#[tokio::test]
async fn a_feed_says_what_it_is_and_has_a_tag() {
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    let path = app.hand_over(block, "yes").await;
    let door = app.share_door().await;
    let answer = feed(&door, &path).await;
    assert_eq!(answer.header("content-type"), "text/calendar; charset=utf-8");
    assert_eq!(answer.header("cache-control"), "private, no-cache");
    assert_eq!(answer.header("x-robots-tag"), "noindex, nofollow, noarchive");
    let tag = answer.header("etag").to_owned();
    assert!(tag.starts_with("W/\"") && tag.len() > 20, "{tag}");
    let same = asked_with(&door, Method::GET, &path, &tag).await;
    assert_eq!((same.status, same.bytes.len(), same.header("etag")), (StatusCode::NOT_MODIFIED, 0, tag.as_str()));
    assert_eq!(same.header("cache-control"), "private, no-cache");
    assert_eq!(asked_with(&door, Method::GET, &path, "\"other\"").await.status, StatusCode::OK);
    let head = asked_with(&door, Method::HEAD, &path, "\"other\"").await;
    assert_eq!((head.status, head.bytes.len(), head.header("etag")), (StatusCode::OK, 0, tag.as_str()));
}

#[tokio::test]
async fn a_feed_holds_the_sessions_in_words_and_nothing_private() {
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    let path = app.hand_over(block, "yes").await;
    let answer = feed(&app.share_door().await, &path).await;
    let file = answer.body().replace("\r\n ", "");
    for said in [
        "NAME:Ana Exemplo: Harbour 10",
        "SUMMARY:Race: Harbour 10\\, 10 km",
        "LOCATION:Harbour",
        "DTSTART:20270509T083000Z",
    ] {
        assert!(file.contains(&format!("\r\n{said}\r\n")), "{said} in {file}");
    }
    assert!(file.contains("3 × 800 m 10k pace") && file.contains("\\nUsually "), "{file}");
    let token = path.rsplit('/').next().unwrap();
    for private in ["asthma", "coffee", "Track", token] {
        assert!(!file.contains(private), "{private}");
    }
}

#[tokio::test]
async fn feed_and_file_know_a_session_by_the_same_identity_before_and_after_a_move() {
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    let path = app.hand_over(block, "yes").await;
    let door = app.share_door().await;
    let file = format!("/blocks/{block}/calendar");
    let first = events(feed(&door, &path).await.body());
    let set = |events: &BTreeMap<String, Properties>| events.keys().cloned().collect::<HashSet<_>>();
    let downloaded = app.get(&file).await;
    assert_eq!(
        downloaded.header("content-disposition"),
        "attachment; filename=\"ana-exemplo-harbour-10-2027-05-09-v1.ics\""
    );
    assert_eq!(downloaded.header("content-type"), "text/calendar; charset=utf-8");
    assert_eq!(set(&events(downloaded.body())), set(&first));
    assert_eq!(app.get(&file).await.body(), downloaded.body());

    exchange(&app, block, "2027-05-04", "2027-05-05").await;
    let moved = events(app.get(&file).await.body());
    assert_eq!(set(&moved), set(&first));
    let went: Vec<(&str, &str)> = moved
        .iter()
        .filter(|(uid, event)| day(event) != day(&first[*uid]))
        .map(|(_, event)| (day(event), event["SEQUENCE"].as_str()))
        .collect();
    assert!(!went.is_empty() && went.iter().all(|(_, sequence)| *sequence == "1"), "{went:?}");
    assert!(moved.iter().all(|(uid, event)| day(event) != day(&first[uid]) || event["SEQUENCE"] == "0"));

    // The feed waits for the hand-over, then says the same.
    assert_eq!(events(feed(&door, &path).await.body()), first);
    app.hand_over(block, "yes").await;
    let fed = events(feed(&door, &path).await.body());
    for (uid, event) in &fed {
        assert_eq!((day(event), &event["SEQUENCE"]), (day(&moved[uid]), &moved[uid]["SEQUENCE"]));
    }
}

#[tokio::test]
async fn the_coach_reads_what_an_old_file_leaves_behind() {
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    let page = app.get(&format!("/blocks/{block}")).await;
    assert_eq!(page.count(&format!(".hand-over a[href='/blocks/{block}/calendar']")), 1);
    assert!(
        page.text(".hand-over ul.way")
            .contains("cannot take away what is no longer planned: delete the old entries first")
    );
}

#[tokio::test]
async fn the_numbers_of_a_file_never_fall_over_undo_and_redo() {
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    let file = format!("/blocks/{block}/calendar");
    let mut known = events(app.get(&file).await.body());
    exchange(&app, block, "2027-05-04", "2027-05-05").await;
    for step in ["", "undo", "redo", "undo", "redo"] {
        if !step.is_empty() {
            let version = app.version_of(block).await.to_string();
            app.post(&format!("/blocks/{block}/{step}"), &[("version", &version)]).await.location();
        }
        let now = events(app.get(&file).await.body());
        let mut raised = 0;
        for (uid, event) in &now {
            let before = &known[uid];
            let (was, is): (u32, u32) = (before["SEQUENCE"].parse().unwrap(), event["SEQUENCE"].parse().unwrap());
            assert_eq!(is, was + u32::from(day(before) != day(event)), "{step}: {event:?}");
            assert_eq!(is > was, event["LAST-MODIFIED"] > before["LAST-MODIFIED"] && is > was, "{step}");
            raised += u32::from(is > was);
        }
        assert!(raised > 0, "{step}");
        known = now;
    }
}

#[tokio::test]
async fn the_feed_stays_the_same_to_the_byte_until_it_is_handed_over_anew() {
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    let path = app.hand_over(block, "yes").await;
    let door = app.share_door().await;
    let first = feed(&door, &path).await;
    exchange(&app, block, "2027-05-04", "2027-05-05").await;
    exchange(&app, block, "2027-05-04", "2027-05-05").await;
    let waiting = feed(&door, &path).await;
    assert_eq!((waiting.body(), waiting.header("etag")), (first.body(), first.header("etag")));
    let other_door = app.share_door_on("2027-05-02").await;
    assert_eq!(feed(&other_door, &path).await.body(), first.body(), "on another day, by another process");
    app.hand_over(block, "no").await;
    let after = feed(&door, &path).await;
    for (uid, event) in events(after.body()) {
        assert_eq!(event["SEQUENCE"], "0", "{uid}: back where it was, nobody saw it elsewhere");
    }
}

#[tokio::test]
async fn whatever_the_coach_does_is_seen_with_the_next_request() {
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    let path = app.hand_over(block, "yes").await;
    let door = app.share_door().await;
    let addresses = [path.clone(), format!("{path}/print"), format!("{path}/calendar.ics")];
    let statuses = async || {
        let mut found = Vec::new();
        for address in &addresses {
            found.push(get_shared(&door, address).await.status.as_u16());
        }
        found
    };
    assert_eq!(statuses().await, [200, 200, 200]);

    let version = app.version_of(block).await.to_string();
    let goals = [("version", version.as_str()), ("a", "under 44:00"), ("message", "See you there.")];
    app.post(&format!("/blocks/{block}/goals"), &goals).await.location();
    app.hand_over(block, "yes").await;
    assert!(get_shared(&door, &path).await.body().contains("See you there."));

    let athlete = app.store.block(block).await.unwrap().unwrap().athlete.id;
    app.store.remove_athlete(athlete, app.now()).await.unwrap();
    assert_eq!(statuses().await, [404, 404, 404]);
    app.store.restore_athlete(athlete, app.now()).await.unwrap();
    assert_eq!(statuses().await, [200, 200, 200]);

    let yesterday = app.today().pred_opt().unwrap();
    app.store.hand_over(block, store::Shows::ALL, yesterday, app.now()).await.unwrap();
    assert_eq!(statuses().await, [404, 404, 404], "ended by its date");
    app.hand_over(block, "yes").await;
    assert_eq!(statuses().await, [200, 200, 200]);

    let tag = feed(&door, &path).await.header("etag").to_owned();
    app.post(&format!("/blocks/{block}/hand-over/end"), &[]).await.location();
    assert_eq!(statuses().await, [404, 404, 404], "ended by the coach");
    assert_eq!(asked_with(&door, Method::GET, &path, &tag).await.status, StatusCode::NOT_FOUND);
}

#[tokio::test]
async fn a_feed_that_is_unknown_looks_like_any_other_address() {
    let app = TestApp::new().await;
    app.ana_block().await;
    let door = app.share_door().await;
    let other = get_shared(&door, "/nothing/here").await;
    let unknown = get_shared(&door, "/p/3f1c/calendar.ics").await;
    assert_eq!((unknown.status, unknown.body(), &unknown.headers), (other.status, other.body(), &other.headers));
}

#[tokio::test]
async fn the_athletes_page_offers_the_feed_to_the_phones_calendar() {
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    let path = app.hand_over(block, "yes").await;
    let page = get_shared(&app.share_door().await, &path).await;
    let links = page.attributes("ul.ways a", "href");
    assert!(links.contains(&format!("webcal://{SHARE_HOST}{path}/calendar.ics")), "{links:?}");
    assert!(links.contains(&format!("{path}/calendar.ics")), "{links:?}");
}
