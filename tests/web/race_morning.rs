//! What everybody who runs a race has to know on the day.

use axum::http::StatusCode;
use ebbline_tests::TestApp;
use planning::RaceDistance;
use planning::heat::Celsius;
use store::RaceId;

const FULL: [(&str, &str); 12] = [
    ("units", "km"),
    ("stations", "15 km Park: gels\r\n5,5 Mill: water; cut-off 1:10"),
    ("stands", "8 bridge\r\nfinish"),
    ("pens_close", "09:15"),
    ("bags_close", "9.00"),
    ("bags", "Boat house"),
    ("toilets", "Behind the  stand"),
    ("meeting", "8:30 at the oak"),
    ("contact", "Rui, 0123"),
    ("afterwards", "Tea in the hall"),
    ("air", "18,5 °C"),
    ("wbgt", "64 F"),
];

async fn with_race() -> (TestApp, RaceId, String) {
    let app = TestApp::new().await;
    let race = app.add_race("Larkmere Half", "2027-05-09", RaceDistance::Half).await;
    (app, race, format!("/races/{race}/morning"))
}

fn at<'a>(version: &'a str, fields: &[(&'a str, &'a str)]) -> Vec<(&'a str, &'a str)> {
    [&[("version", version)], fields].concat()
}

#[tokio::test]
async fn everything_that_is_noted_comes_back_and_is_read_aloud() {
    let (app, race, path) = with_race().await;
    let page = app.get(&format!("/races/{race}")).await;
    assert!(page.texts("section[aria-labelledby=race-day] li")[1].ends_with("nothing is noted yet."));
    assert_eq!(app.get(&path).await.value("version"), "0");
    let page = app.follow(&app.post(&path, &at("0", &FULL)).await).await;
    assert_eq!(page.text(".notice p"), "Race morning saved.");
    for (name, value) in
        [("bags_close", "09:00"), ("toilets", "Behind the stand"), ("air", "18.5"), ("wbgt", "17.8"), ("version", "1")]
    {
        assert_eq!(page.value(name), value, "{name}");
    }
    assert_eq!(
        page.texts("section[aria-labelledby=read-stations] tbody tr"),
        ["5.5 kmMillwater1:10:00", "15 kmParkgels"]
    );
    assert_eq!(page.texts("section[aria-labelledby=read-stands] tbody tr"), ["8 kmbridge", "21.1 kmfinish"]);
    let kept = app.store.race_facts(race).await.unwrap().unwrap().facts;
    assert_eq!((kept.air, kept.wbgt), (Some(Celsius::tenths(185)), Some(Celsius::tenths(178))));
    let line = app.get(&format!("/races/{race}")).await.texts("section[aria-labelledby=race-day] li")[1].clone();
    assert_eq!(line, "Race morning: 2 aid stations, you stand in 2 places.");
}

#[tokio::test]
async fn everything_wrong_is_said_at_its_field_with_what_was_typed() {
    let (app, race, path) = with_race().await;
    let long = "x".repeat(201);
    let wrong = [
        ("units", "km"),
        ("stations", "Mill: water\n5 a\n5 b"),
        ("stands", "30 km far"),
        ("pens_close", "25:00"),
        ("bags_close", "soon"),
        ("toilets", long.as_str()),
        ("air", "1e3"),
        ("wbgt", "60"),
    ];
    let page = app.post(&path, &at("0", &wrong)).await;
    assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY);
    for (name, value) in &wrong[1..] {
        assert_eq!(page.value(name), *value, "{name}");
        assert!(page.count(&format!("#{name}-errors")) == 1, "{name}");
    }
    assert_eq!(page.texts(".error-summary li").len(), 8);
    let said = page.text("#stations-errors");
    assert!(said.contains("Aid stations, line 1: “Mill: water” is not a place along the race"), "{said}");
    assert!(said.contains("line 3: 5 km stands in line 2 already"), "{said}");
    assert!(page.text("#stands-errors").contains("30 km is no place of this race"));
    assert!(page.text("#air-errors").contains("“1e3” is not a temperature"), "{}", page.text("#air-errors"));
    for name in ["pens_close", "bags_close"] {
        assert_eq!(page.attribute(&format!("#{name}"), "type"), "text", "a browser would hide {name} as typed");
    }
    assert_eq!(app.store.race_facts(race).await.unwrap(), None);
}

#[tokio::test]
async fn numbers_keep_the_unit_in_which_they_were_typed() {
    let (app, race, path) = with_race().await;
    app.post(&path, &at("0", &[("units", "mi"), ("stands", "8 bridge")])).await.location();
    let page = app.get(&path).await;
    assert_eq!(
        (page.value("units"), page.texts("section[aria-labelledby=read-stands] tbody th")),
        ("mi".to_owned(), vec!["8 mi".to_owned()])
    );
    assert!(page.text("fieldset legend + .hint").contains("in miles"), "though the coach's own are kilometres");
    assert_eq!(app.store.race_facts(race).await.unwrap().unwrap().facts.units, planning::DistanceUnit::Mi);
}

#[tokio::test]
async fn a_stale_save_shows_both() {
    let (app, _, path) = with_race().await;
    app.post(&path, &at("0", &FULL)).await.location();
    let page = app.post(&path, &at("0", &[("units", "km"), ("bags", "Tent"), ("stands", "9 weir")])).await;
    assert_eq!(page.status, StatusCode::CONFLICT);
    assert_eq!((page.text("tr:has(#bags) .kept"), page.value("bags")), ("Boat house".to_owned(), "Tent".to_owned()));
    let fields = [("units", "km"), ("bags", "Tent"), ("stands", "9 weir")];
    app.post(&path, &at(&page.value("version"), &fields)).await.location();
    assert_eq!(app.get(&path).await.value("bags"), "Tent");
}

#[tokio::test]
async fn a_race_that_shrinks_keeps_every_line_and_says_which_no_longer_fit() {
    let (app, race, path) = with_race().await;
    app.post(&path, &at("0", &FULL)).await.location();
    let mut record = app.store.race(race).await.unwrap().unwrap();
    record.race.distance = RaceDistance::TenK;
    app.store.save_race(race, record.version, &record.race, "", app.now()).await.unwrap();
    let page = app.get(&path).await;
    assert_eq!(page.status, StatusCode::OK);
    assert!(page.text(".told").contains("no longer fit it"));
    assert!(
        page.text("#stations-errors").contains("line 1: 15 km is no place of this race"),
        "{}",
        page.text("#stations-errors")
    );
    assert!(page.value("stations").contains("15 km Park: gels"), "nothing is lost");
    let line = app.get(&format!("/races/{race}")).await.texts("section[aria-labelledby=race-day] li")[1].clone();
    assert_eq!(line, "Race morning: some lines no longer fit the race.");
}
