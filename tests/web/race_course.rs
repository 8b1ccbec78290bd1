//! The course of a race: a file goes in, lengths and heights come out, whatever the file is.

use axum::http::StatusCode;
use ebbline_tests::{Answer, TestApp};
use planning::{LineShape, RaceDistance};
use store::{RaceId, Version};

/// A track due east on the 50th parallel: hundredths of a degree of longitude, each about 717 m, with heights.
fn gpx(name: &str, hundredths: &[(u32, &str)]) -> String {
    let point = |(east, height): &(u32, &str)| {
        let height = if height.is_empty() { String::new() } else { format!("<ele>{height}</ele>") };
        format!("<trkpt lat=\"50\" lon=\"8.{east:02}\">{height}</trkpt>")
    };
    let points: Vec<String> = hundredths.iter().map(point).collect();
    format!("<gpx version=\"1.1\"><trk><name>{name}</name><trkseg>{}</trkseg></trk></gpx>", points.concat())
}

/// About 10.04 km with a hill of 80 m.
fn hill() -> String {
    gpx("Harbour", &[(0, "20"), (7, "100"), (14, "20")])
}

/// A race of 10 km.
async fn with_race() -> (TestApp, RaceId, String) {
    let app = TestApp::new().await;
    let race = app.add_race("Harbour 10", "2027-05-09", RaceDistance::TenK).await;
    (app, race, format!("/races/{race}/course"))
}

async fn upload(app: &TestApp, path: &str, version: &str, file: &[u8]) -> Answer {
    app.post_file(path, &[("version", version), ("text", "")], "gpx", file).await
}

#[tokio::test]
async fn a_race_without_a_course_says_so_and_offers_the_form() {
    let (app, race, path) = with_race().await;
    let page = app.get(&format!("/races/{race}")).await;
    let line = page.text("section[aria-labelledby=race-day] li:first-child");
    assert_eq!(line, "Course: not known yet, so the pace is planned as on the flat.");
    let page = app.get(&path).await;
    assert_eq!((page.count("input[type=file]"), page.count("svg.profile")), (1, 0));
    assert!(page.text(".lead").starts_with("No course is known yet"));
    assert_eq!(app.get("/races/99/course").await.status, StatusCode::NOT_FOUND);
}

#[tokio::test]
async fn an_uploaded_course_is_shown_with_its_length_its_fit_and_its_heights() {
    let (app, race, path) = with_race().await;
    let answer = upload(&app, &path, "0", hill().as_bytes()).await;
    assert_eq!(answer.location(), path);
    let page = app.follow(&answer).await;
    assert_eq!(page.text(".notice p"), "Course saved.");
    assert_eq!(page.text(".lead"), "Measured 10.04 km from the track in file, shrunk by 0.4% to the official 10 km.");
    let says = page.text(".course-says");
    assert!(says.starts_with("Smoothed, it climbs 7") && says.contains("starts at 2"), "{says}");
    assert_eq!(page.text("svg.profile desc"), says, "the picture says what the sentence says");
    assert_eq!(
        page.texts(".course-table tbody th"),
        ["Start", "1 km", "2 km", "3 km", "4 km", "5 km", "6 km", "7 km", "8 km", "9 km", "10 km"]
    );
    let changes = page.texts(".course-table td:last-child");
    assert!(changes[1].ends_with("m up") && changes[10].ends_with("m down"), "{changes:?}");
    assert_eq!(page.count(".told"), 0);
    let kept = app.store.course(race).await.unwrap().unwrap();
    assert_eq!((kept.version, kept.course.shape, kept.course.points.len()), (Version(1), LineShape::Track, 3));
    let page = app.get(&format!("/races/{race}")).await;
    assert_eq!(page.text("section[aria-labelledby=race-day] li:first-child"), "Course: 10.04 km measured, from file.");
}

#[tokio::test]
async fn a_coach_who_thinks_in_miles_reads_miles_and_feet() {
    let (app, _, path) = with_race().await;
    let version = app.store.settings().await.unwrap().version.to_string();
    let fields = [
        ("version", version.as_str()),
        ("units", "mi"),
        ("week_start", "mon"),
        ("paper", "letter"),
        ("coach_name", ""),
    ];
    app.post("/settings", &fields).await.location();
    let page = app.follow(&upload(&app, &path, "0", hill().as_bytes()).await).await;
    assert!(page.text(".lead").starts_with("Measured 6.24 mi "), "{}", page.text(".lead"));
    assert!(page.text(".course-says").contains(" ft"), "{}", page.text(".course-says"));
    assert!(page.texts("svg.profile .profile-height").iter().all(|label| label.ends_with(" ft")));
}

#[tokio::test]
async fn pasted_text_is_a_course_too_and_a_route_without_heights_is_said_to_be_flat() {
    let (app, _, path) = with_race().await;
    let route = hill()
        .replace("trkseg", "x")
        .replace("trkpt", "rtept")
        .replace("<x>", "")
        .replace("</x>", "")
        .replace("trk>", "rte>");
    let flat = route.replace("<ele>20</ele>", "").replace("<ele>100</ele>", "");
    let page = app.follow(&app.post(&path, &[("version", "0"), ("text", &flat)]).await).await;
    assert!(page.text(".lead").contains("from the route in Harbour"), "{}", page.text(".lead"));
    assert_eq!(page.text(".told"), "The file has no heights: the pace is planned as on the flat.");
    assert!(page.text(".course-says").contains("turning points"));
    assert_eq!(page.count("svg.profile"), 0);
}

#[tokio::test]
async fn of_several_tracks_the_nearest_is_taken_and_that_is_said() {
    let (app, _, path) = with_race().await;
    let two = hill().replace(
        "</gpx>",
        "<trk><name>Fun run</name><trkseg><trkpt lat='50' lon='8'/><trkpt lat='50' lon='8.07'/></trkseg></trk></gpx>",
    );
    let page = app.follow(&upload(&app, &path, "0", two.as_bytes()).await).await;
    assert!(page.text(".notice p").contains("holds 2 lines; taken is the one whose length comes nearest"));
    assert!(page.text(".lead").starts_with("Measured 10.04 km"));
    let halves = gpx("A", &[(0, ""), (7, "")])
        .replace("</gpx>", "<trk><trkseg><trkpt lat='50' lon='9'/><trkpt lat='50' lon='9.07'/></trkseg></trk></gpx>");
    let page = app.follow(&upload(&app, &path, "1", halves.as_bytes()).await).await;
    assert!(page.text(".notice p").contains("none as long as the race"), "{}", page.text(".notice p"));
    assert!(page.text(".lead").starts_with("Measured 10.04 km"), "{}", page.text(".lead"));
}

#[tokio::test]
async fn a_course_of_another_length_is_refused_with_both_and_nothing_is_saved() {
    let (app, race, path) = with_race().await;
    let page = upload(&app, &path, "0", gpx("Long", &[(0, "5"), (16, "5")]).as_bytes()).await;
    assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY);
    let said = page.text("#gpx-errors");
    assert!(said.contains("11.5 km") && said.contains("10 km"), "{said}");
    assert_eq!(app.store.course(race).await.unwrap(), None);
}

#[tokio::test]
async fn hostile_and_hopeless_files_are_told_and_the_next_upload_works() {
    let (app, race, path) = with_race().await;
    let entity =
        format!("<!DOCTYPE r [<!ENTITY s SYSTEM \"file:///etc/hostname\">]>{}", hill().replace("Harbour", "&s;"));
    let bomb = format!("<!DOCTYPE b [<!ENTITY a \"ha\"><!ENTITY b \"{}\">]><gpx/>", "&a;".repeat(100));
    let deep = "<gpx>".repeat(100_000);
    let large = vec![b' '; formats::gpx::MOST_BYTES + 100_000];
    for (file, said) in [
        (entity.as_bytes(), "document type"),
        (bomb.as_bytes(), "document type"),
        (deep.as_bytes(), "too deep"),
        (&large[..], "larger than 10 MB"),
        (b"\x00\xff\xfe", "no text in UTF-8"),
        (b"PK\x03\x04", "cannot be read"),
        (b"<kml/>", "no GPX file"),
        (b"<gpx><wpt lat='1' lon='2'/></gpx>", "1 single point only"),
        (b"<gpx><trk></trk></gpx>", "has no points"),
        (b"", "Choose a GPX file"),
    ] {
        let page = upload(&app, &path, "0", file).await;
        assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY, "{said}");
        assert!(page.text("#gpx-errors").contains(said), "{said}: {}", page.text("#gpx-errors"));
        assert_eq!(app.store.course(race).await.unwrap(), None, "{said}");
    }
    let pasted = app.post(&path, &[("version", "0"), ("text", "<b>no</b>")]).await;
    assert_eq!(pasted.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert_eq!(
        (pasted.value("text"), pasted.count("#text-errors")),
        ("<b>no</b>".to_owned(), 1),
        "what was pasted stays"
    );
    assert_eq!(upload(&app, &path, "0", hill().as_bytes()).await.location(), path);
}

#[tokio::test]
async fn a_stale_upload_says_what_is_kept_and_what_is_not() {
    let (app, race, path) = with_race().await;
    upload(&app, &path, "0", hill().as_bytes()).await.location();
    let other = gpx("Other", &[(0, ""), (14, "")]);
    let page = app.post(&path, &[("version", "0"), ("text", &other)]).await;
    assert_eq!(page.status, StatusCode::CONFLICT);
    assert!(page.text(".told").contains("Yours, Other, is not saved"), "{}", page.text(".told"));
    assert!(page.text(".lead").contains("in file"), "{}", page.text(".lead"));
    assert_eq!(page.value("text"), other, "nothing is lost");
    let version = page.attribute("form[enctype] input[name=version]", "value");
    app.post(&path, &[("version", &version), ("text", &other)]).await.location();
    assert_eq!(app.store.course(race).await.unwrap().unwrap().course.file_name, "Other");
}

#[tokio::test]
async fn removing_asks_once_and_a_stale_removal_removes_nothing() {
    let (app, race, path) = with_race().await;
    upload(&app, &path, "0", hill().as_bytes()).await.location();
    let page = app.get(&path).await;
    assert_eq!(page.text("details summary + form button"), "Yes, remove it", "behind a press of its own");
    let remove = format!("{path}/remove");
    let stale = app.post(&remove, &[("version", "7")]).await;
    assert_eq!((stale.status, stale.count("svg.profile")), (StatusCode::CONFLICT, 1));
    let version = page.attribute("details form input[name=version]", "value");
    let page = app.follow(&app.post(&remove, &[("version", &version)]).await).await;
    assert!(page.text(".notice p").starts_with("Course removed."));
    assert_eq!(app.store.course(race).await.unwrap(), None);
}

#[tokio::test]
async fn a_race_that_grows_keeps_its_course_and_says_that_it_is_not_used() {
    let (app, race, path) = with_race().await;
    upload(&app, &path, "0", hill().as_bytes()).await.location();
    let mut record = app.store.race(race).await.unwrap().unwrap();
    record.race.distance = RaceDistance::Half;
    app.store.save_race(race, record.version, &record.race, "", app.now()).await.unwrap();
    let page = app.get(&path).await;
    assert_eq!(page.text(".lead"), "Measured 10.04 km from the track in file.");
    assert!(
        page.text(".told").contains("The file is kept, and the pace is planned as on the flat."),
        "{}",
        page.text(".told")
    );
    let line = app.get(&format!("/races/{race}")).await.text("section[aria-labelledby=race-day] li:first-child");
    assert!(line.contains("no longer fits the race"), "{line}");
    assert!(app.store.course(race).await.unwrap().is_some());
    assert_eq!(app.store.check().await.unwrap(), Vec::<String>::new());
}
