//! The coach's card: when everybody passes where the coach stands.

use axum::http::StatusCode;
use ebbline_tests::{Answer, Entered, SIX_RUNS, TestApp};
use planning::{DistanceUnit, Importance, RaceDistance};
use store::{BlockId, GoalNotes, RaceFacts, RaceId, RaceSheet, Version};

/// An athlete with a block for a race and goals.
async fn runner(app: &TestApp, race: RaceId, name: &str, goals: [&str; 3]) -> BlockId {
    let athlete = app.add_athlete(name, DistanceUnit::Km).await;
    app.save_week(athlete, SIX_RUNS).await;
    app.store.enter(race, athlete, Importance::Goal, app.now()).await.unwrap();
    let block = app.make_block(Entered { athlete, race }).await;
    let [a, b, c] = goals.map(str::to_owned);
    let notes = GoalNotes { a, b, c, ..GoalNotes::default() };
    let version = app.store.block(block).await.unwrap().unwrap().version;
    app.store.save_goals(block, version, &notes, app.now()).await.unwrap();
    block
}

async fn with_stands(app: &TestApp, stands: &str) -> RaceId {
    let race = app.add_race("Harbour 10", "2027-05-09", RaceDistance::TenK).await;
    let facts = RaceFacts { stands: stands.to_owned(), ..RaceFacts::default() };
    app.store.save_race_facts(race, Version(0), &facts, app.now()).await.unwrap();
    race
}

async fn set_sheet(app: &TestApp, block: BlockId, sheet: &RaceSheet) {
    let version = app.store.block(block).await.unwrap().unwrap().version;
    app.store.save_race_sheet(block, version, sheet, app.now()).await.unwrap();
}

/// Each row as its texts stand one after the other.
fn rows(card: &Answer) -> Vec<String> {
    card.texts(".card-times tbody tr")
}

#[tokio::test]
async fn everybody_stands_on_the_card_in_the_order_in_which_they_pass() {
    let app = TestApp::new().await;
    let race = with_stands(&app, "5 bridge\nfinish").await;
    runner(&app, race, "Bo", ["50:00", "", "55:00"]).await;
    runner(&app, race, "Ana", ["under 40:00", "42:30", "finish well"]).await;
    runner(&app, race, "Cy", ["", "45:00", ""]).await;
    let card = app.get(&format!("/races/{race}/card")).await;
    assert_eq!(card.texts(".card-times thead th"), ["Athlete", "5 km bridge", "10 km finish"]);
    assert_eq!(
        rows(&card),
        ["Ana 09:50\u{2013}09:52 10:10\u{2013}10:13", "Cy 09:52 10:15", "Bo 09:55\u{2013}09:58 10:20\u{2013}10:25",]
    );
    let end = card.text(".sheet-end");
    assert!(end.contains("by the clocks of the place (Europe/Lisbon), from the official start at 09:30"), "{end}");
    assert!(end.contains("Reckoned as on the flat."), "{end}");
}

#[tokio::test]
async fn waves_pens_and_the_way_to_the_line_move_the_times() {
    let app = TestApp::new().await;
    let race = with_stands(&app, "5").await;
    let ana = runner(&app, race, "Ana", ["40:00", "", ""]).await;
    set_sheet(&app, ana, &RaceSheet { pen: "A".to_owned(), ..RaceSheet::default() }).await;
    let bo = runner(&app, race, "Bo", ["40:00", "", ""]).await;
    let sheet = RaceSheet {
        bib: "71".to_owned(),
        pen: "Pen C".to_owned(),
        wave_start: chrono::NaiveTime::from_hms_opt(9, 45, 0),
        gun_seconds: Some(120),
        ..RaceSheet::default()
    };
    set_sheet(&app, bo, &sheet).await;
    let card = app.get(&format!("/races/{race}/card")).await;
    assert_eq!(rows(&card), ["Anapen A 09:50", "Bono. 71, Pen C, starts 09:45 10:07"]);
}

#[tokio::test]
async fn hills_are_reckoned_with_where_the_course_is_known() {
    let app = TestApp::new().await;
    let race = with_stands(&app, "5").await;
    runner(&app, race, "Ana", ["50:00", "", ""]).await;
    let up = "<gpx><trk><trkseg><trkpt lat='50' lon='8'><ele>0</ele></trkpt><trkpt lat='50' lon='8.07'><ele>250</ele>\
              </trkpt><trkpt lat='50' lon='8.14'><ele>250</ele></trkpt></trkseg></trk></gpx>";
    let flat = rows(&app.get(&format!("/races/{race}/card")).await);
    app.post(&format!("/races/{race}/course"), &[("version", "0"), ("text", up)]).await.location();
    let card = app.get(&format!("/races/{race}/card")).await;
    assert_eq!(flat, ["Ana 09:55"]);
    assert!(rows(&card)[0].as_str() > "Ana 09:56", "{:?}", rows(&card));
    assert!(card.text(".sheet-end").contains("Hills are reckoned with."));
}

#[tokio::test]
async fn who_has_no_time_stands_below_with_the_reason() {
    let app = TestApp::new().await;
    let race = with_stands(&app, "5").await;
    runner(&app, race, "Ana", ["finish well", "", ""]).await;
    runner(&app, race, "Bo", ["0:05", "", ""]).await;
    let cy = app.add_athlete("Cy <b>x</b>", DistanceUnit::Km).await;
    app.store.enter(race, cy, Importance::Goal, app.now()).await.unwrap();
    let card = app.get(&format!("/races/{race}/card")).await;
    assert_eq!(card.count(".card-times"), 0);
    let without = card.texts(".card-without li");
    assert_eq!(without[0], "Ana: no goal is a time");
    assert!(without[1].starts_with("Bo: goal A is “0:05”: nobody runs this distance"), "{without:?}");
    assert_eq!(without[2], "Cy <b>x</b>: no block is made yet");
}

#[tokio::test]
async fn a_card_without_places_shows_the_finish_and_says_where_they_are_noted() {
    let app = TestApp::new().await;
    let race = app.add_race("Harbour 10", "2027-05-09", RaceDistance::TenK).await;
    runner(&app, race, "Ana", ["40:00", "", ""]).await;
    let card = app.get(&format!("/races/{race}/card")).await;
    assert_eq!(rows(&card), ["Ana 10:10"]);
    assert_eq!(card.attribute(".sheet-hint a:last-child", "href"), format!("/races/{race}/morning"));
    let line = app.get(&format!("/races/{race}")).await.attributes("section[aria-labelledby=race-day] a", "href");
    assert_eq!(line, ["course", "morning", "card"].map(|page| format!("/races/{race}/{page}")));
    assert_eq!(app.get("/races/99/card").await.status, StatusCode::NOT_FOUND);
}

#[tokio::test]
async fn without_a_start_the_times_are_those_since_the_start() {
    let app = TestApp::new().await;
    let race = with_stands(&app, "5").await;
    runner(&app, race, "Ana", ["40:00", "50:00", ""]).await;
    let mut record = app.store.race(race).await.unwrap().unwrap();
    record.race.start = None;
    app.store.save_race(race, record.version, &record.race, "", app.now()).await.unwrap();
    let card = app.get(&format!("/races/{race}/card")).await;
    assert_eq!(rows(&card), ["Ana 0:20:00\u{2013}0:25:00"]);
    assert!(card.text(".sheet-end").contains("The start of the race is not known"));
    app.store.call_off_race(race, Some(app.today()), app.now()).await.unwrap();
    let card = app.get(&format!("/races/{race}/card")).await;
    assert_eq!(rows(&card).len(), 0, "nobody passes there");
    assert_eq!(card.text(".card-off"), "This race is called off.");
}
