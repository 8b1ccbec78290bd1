//! The base week: lines, readings, totals, and the form of seven days.

use axum::http::StatusCode;
use ebbline_tests::{Answer, TestApp};

const DAYS: [&str; 7] = ["mon", "tue", "wed", "thu", "fri", "sat", "sun"];
const WEEK: [&str; 7] =
    ["", "6 x 800 m 10k pace, 90 s jog, 10", "7-9", "tempo 8, hard 4", "strength 30", "7", "long 14-16"];

async fn athlete(app: &TestApp) -> i64 {
    app.post("/athletes", &[("name", "Ana"), ("units", "km"), ("easy_pace", "5:45")]).await.new_id()
}

async fn send(app: &TestApp, path: &str, lines: [&str; 7], range: &str, version: &str) -> Answer {
    let mut fields: Vec<(&str, &str)> = DAYS.into_iter().zip(lines).collect();
    fields.extend([("range", range), ("version", version)]);
    app.post(path, &fields).await
}

#[tokio::test]
async fn an_empty_week_shows_seven_lines_examples_and_no_running() {
    let app = TestApp::new().await;
    let page = app.get(&format!("/athletes/{}/week", athlete(&app).await)).await;
    assert_eq!(
        page.texts(".week-day label"),
        ["Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday"]
    );
    assert_eq!(page.text("#totals"), "No running yet.");
    assert_eq!(page.count(".examples tbody tr"), 6);
}

#[tokio::test]
async fn every_example_on_the_page_can_be_typed() {
    let app = TestApp::new().await;
    let path = format!("/athletes/{}/week", athlete(&app).await);
    for example in app.get(&path).await.texts(".examples code") {
        let mut lines = [""; 7];
        lines[1] = &example;
        let page = send(&app, &format!("{path}/preview"), lines, "", "0").await;
        assert_eq!(page.count(".error-summary"), 0, "{example}");
    }
}

#[tokio::test]
async fn a_saved_week_is_shown_as_typed_with_its_reading_and_totals() {
    let app = TestApp::new().await;
    let path = format!("/athletes/{}/week", athlete(&app).await);
    let page = app.follow(&send(&app, &path, WEEK, "46-48", "0").await).await;
    assert_eq!(page.text(".notice p"), "Base week saved.");
    for (day, line) in DAYS.into_iter().zip(WEEK) {
        assert_eq!(page.value(day), line);
    }
    assert_eq!(page.text("#mon-reading"), "rest");
    assert_eq!(page.text("#tue-reading"), "intervals 10 km: 6 × 800 m 10k pace, 90 s jog");
    assert_eq!(page.text("#wed-reading"), "easy 7–9 km");
    assert_eq!(
        page.text("#totals"),
        "46–50 km on 5 running days if each day is added up; the week as a whole 46–48 km; 18% of it hard."
    );
}

#[tokio::test]
async fn reading_it_saves_nothing() {
    let app = TestApp::new().await;
    let path = format!("/athletes/{}/week", athlete(&app).await);
    let page = send(&app, &format!("{path}/preview"), WEEK, "", "0").await;
    assert_eq!((page.status, page.text("#sat-reading").as_str()), (StatusCode::OK, "easy 7 km"));
    assert_eq!(page.value("version"), "0");
    assert_eq!(app.get(&path).await.value("sat"), "");
}

#[tokio::test]
async fn lines_that_cannot_be_read_are_kept_and_each_is_said_at_its_day() {
    let app = TestApp::new().await;
    let path = format!("/athletes/{}/week", athlete(&app).await);
    let page = send(&app, &path, ["7 furlongs", "tempo 5 km, hard 9", "", "", "", "1e3", "8"], "lots", "0").await;
    assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert_eq!(page.value("mon"), "7 furlongs");
    assert_eq!(page.value("range"), "lots");
    for day in ["mon", "tue", "sat"] {
        assert_eq!(page.count(&format!("#{day}[aria-invalid=true]")), 1, "{day}");
        assert!(
            page.texts(".error-summary a").contains(&page.text(&format!("#{day}-errors p")).replace("!Error: ", ""))
        );
    }
    assert_eq!(page.count("#range-errors"), 1);
    assert!(page.text("#totals").ends_with("Days that cannot be read yet are not counted."));
    assert!(page.text("title").starts_with("Error: "));
    assert_eq!(app.get(&path).await.value("sun"), "");
}

#[tokio::test]
async fn a_stale_save_shows_both_weeks() {
    let app = TestApp::new().await;
    let path = format!("/athletes/{}/week", athlete(&app).await);
    send(&app, &path, WEEK, "", "0").await.location();
    let mut mine = WEEK;
    mine[6] = "long 18";
    let page = send(&app, &path, mine, "", "0").await;
    assert_eq!(page.status, StatusCode::CONFLICT);
    assert_eq!(page.text("tr.differs .kept"), "long 14-16");
    assert_eq!(page.value("sun"), "long 18");
    send(&app, &path, mine, "", &page.value("version")).await.location();
    assert_eq!(app.get(&path).await.value("sun"), "long 18");
}

#[tokio::test]
async fn the_form_of_seven_days_shows_the_lines_and_writes_lines() {
    let app = TestApp::new().await;
    let path = format!("/athletes/{}/week", athlete(&app).await);
    let mut lines = WEEK;
    lines[0] = "tempo or hills 9";
    send(&app, &path, lines, "", "0").await.location();
    let form = app.get(&format!("{path}/form")).await;
    assert_eq!(form.value("mon-line"), "tempo or hills 9");
    assert_eq!(
        (form.value("tue-1-kind"), form.value("tue-1-amount"), form.value("tue-1-unit")),
        ("intervals".into(), "10".into(), "km".into())
    );
    assert_eq!(form.value("tue-1-sets"), "6 × 800 m 10k pace, 90 s jog");
    assert_eq!((form.value("fri-1-kind"), form.value("fri-1-unit")), ("strength".into(), "min".into()));
    let version = form.value("version");
    let fields = [
        ("version", version.as_str()),
        ("mon-line", "tempo or hills 9"),
        ("tue-1-kind", "intervals"),
        ("tue-1-amount", "11-12"),
        ("tue-1-unit", "km"),
        ("tue-1-sets", "6 × 800 m 10k pace, 90 s jog"),
        ("wed-1-kind", "easy"),
        ("wed-1-amount", "7-9"),
        ("wed-1-unit", "km"),
        ("fri-1-kind", "strength"),
        ("fri-1-amount", "30"),
        ("fri-1-unit", "min"),
        ("fri-1-loaded", "yes"),
        ("fri-2-amount", "5"),
        ("fri-2-unit", "mi"),
        ("fri-2-note", "with dog (brown)"),
    ];
    let page = app.follow(&app.post(&format!("{path}/form"), &fields).await).await;
    assert_eq!(page.value("mon"), "tempo or hills 9");
    assert_eq!(page.value("tue"), "6 x 800 m 10k pace, 90 s jog, 11-12 km");
    assert_eq!(page.value("wed"), "7-9", "what did not change keeps its words");
    assert_eq!(page.value("fri"), "strength 30 min loaded + easy 5 mi (with dog (brown))");
    assert_eq!(page.value("sun"), "");
}

#[tokio::test]
async fn the_form_of_seven_days_keeps_what_is_wrong_and_says_it_at_the_day() {
    let app = TestApp::new().await;
    let path = format!("/athletes/{}/week/form", athlete(&app).await);
    let fields = [
        ("version", "0"),
        ("thu-2-kind", "tempo"),
        ("thu-2-amount", "ten"),
        ("thu-2-unit", "km"),
        ("sat-1-kind", "easy"),
    ];
    let page = app.post(&path, &fields).await;
    assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert_eq!((page.value("thu-2-kind"), page.value("thu-2-amount")), ("tempo".into(), "ten".into()));
    assert_eq!(page.count("#thu-errors p"), 1);
    assert_eq!(page.count("#sat-errors p"), 1, "a run without an amount");
    assert_eq!(page.count(".error-summary a[href='#thu']"), 1);
}

#[tokio::test]
async fn a_week_without_an_athlete_is_not_found() {
    let app = TestApp::new().await;
    for path in ["/athletes/9/week", "/athletes/9/week/form"] {
        assert_eq!(app.get(path).await.status, StatusCode::NOT_FOUND);
        assert_eq!(app.post(path, &[]).await.status, StatusCode::NOT_FOUND);
    }
}
