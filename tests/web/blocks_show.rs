//! The page of one block.

use axum::body::Body;
use axum::http::header::{ACCEPT, HOST};
use axum::http::{Request, StatusCode};
use ebbline_tests::{COACH_HOST, TestApp};
use planning::DistanceUnit;
use store::AthleteId;

#[tokio::test]
async fn every_day_says_what_is_usual_planned_and_why() {
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    let page = app.get(&format!("/blocks/{block}")).await;
    assert_eq!(page.status, StatusCode::OK);
    let days = page.texts(".days tbody");
    let long = days.iter().find(|day| day.contains("2 May")).expect("the last long run");
    assert!(long.contains("long run 14 km") && long.contains("long run 18 km"), "{long}");
    assert!(long.contains("comes down in steps"), "{long}");
    let unchanged = days.iter().find(|day| day.contains("26 Apr")).expect("the first day");
    assert!(!unchanged.contains("remains"), "an unchanged day needs no reason: {unchanged}");
    let rest = days.iter().find(|day| day.contains("7 May")).expect("the rest day");
    assert!(rest.contains("rest"), "{rest}");
    let race = page.text(".days tbody.is-race");
    assert!(race.contains("Race, 10 km, 9:30"), "{race}");
}

#[tokio::test]
async fn each_week_has_a_sentence_of_totals_with_and_without_the_race() {
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    let sentences = app.get(&format!("/blocks/{block}")).await.texts(".week-sentence");
    assert_eq!(sentences.len(), 2);
    assert!(sentences[0].contains("usually 64 km"), "{}", sentences[0]);
    assert!(sentences[1].contains("before the race") && sentences[1].contains("With the race"), "{}", sentences[1]);
}

#[tokio::test]
async fn the_picture_holds_the_same_days_and_an_alternative_in_words() {
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    let page = app.get(&format!("/blocks/{block}")).await;
    let picture = "svg.ebb[role=img]";
    assert_eq!(page.count(&format!("{picture} .ebb-day")), 14);
    assert_eq!(page.attribute(picture, "aria-labelledby"), "ebb-title ebb-description");
    assert!(page.text(&format!("{picture} > desc")).contains("Race week: "));
    assert_eq!(page.count(&format!("{picture} .ebb-race")), 1);
    let days = page.texts(&format!("{picture} .ebb-day > title"));
    assert!(days[6].starts_with("Sunday 2 May: long run 14 km (usually long run 18 km)"), "{}", days[6]);
}

#[tokio::test]
async fn the_review_stands_in_words_and_a_block_that_keeps_the_rules_has_nothing_to_say() {
    let app = TestApp::new().await;
    let entered = app.ana().await;
    let mut record = app.store.athlete(entered.athlete).await.unwrap().unwrap();
    record.draft.athlete.cautions.clear();
    app.store.save_athlete(entered.athlete, record.version, &record.draft, app.now()).await.unwrap();
    let block = app.make_block(entered).await;
    let page = app.get(&format!("/blocks/{block}")).await;
    assert!(page.text("#live-review").starts_with("Nothing to say"), "{}", page.text("#live-review"));
    let query = "preview=1&days=30&shape=ebb&day_before=auto&extra_rest=auto";
    let page = app.get(&format!("/blocks/{block}?{query}")).await;
    let levels = page.texts(".finding-level");
    assert!(levels.contains(&"Caution.".to_owned()), "{levels:?}");
    assert!(page.count(".finding-source") == levels.len());
}

#[tokio::test]
async fn the_coach_reads_miles_in_kilometres_and_the_sheet_in_miles() {
    let app = TestApp::new().await;
    app.add_athlete("Ann, the first of all", DistanceUnit::Km).await;
    let athlete = app.add_athlete("Jo", DistanceUnit::Mi).await;
    app.save_week(athlete, ["", "6", "", "6", "", "5", "long 10"]).await;
    let race = app.add_race("Bridge Half", "2027-05-16", planning::RaceDistance::Half).await;
    app.store.enter(race, athlete, planning::Importance::Goal, app.now()).await.unwrap();
    let block = app.make_block(ebbline_tests::Entered { athlete, race }).await;
    let page = app.get(&format!("/blocks/{block}")).await;
    assert!(page.texts(".week-sentence")[0].contains("43.5 km"), "{:?}", page.texts(".week-sentence"));
    let sheet = app.get(&format!("/blocks/{block}/print")).await;
    assert!(sheet.texts(".sheet-week")[1].contains("27 mi"), "{:?}", sheet.texts(".sheet-week"));
}

#[tokio::test]
async fn what_changed_below_a_block_is_told() {
    let app = TestApp::new().await;
    let entered = app.ana().await;
    let block = app.make_block(entered).await;
    let path = format!("/blocks/{block}");
    assert_eq!(app.get(&path).await.count(".told"), 0);
    app.save_week(entered.athlete, ["8", "12", "10", "10", "", "6", "long 20"]).await;
    let mut race = app.store.race(entered.race).await.unwrap().unwrap();
    race.race.date = ebbline_tests::date("2027-05-16");
    app.store.save_race(race.id, race.version, &race.race, &race.place, app.now()).await.unwrap();
    let told = app.get(&path).await.texts(".told");
    assert_eq!(told.len(), 2, "{told:?}");
    assert!(told[0].contains("race was moved") && told[1].contains("base week"), "{told:?}");
}

/// A block that was made before its athlete was noted as under 18: where it is, and whose.
async fn block_before_youth(app: &TestApp) -> (String, AthleteId) {
    let entered = app.ana().await;
    let path = format!("/blocks/{}", app.make_block(entered).await);
    let mut ana = app.store.athlete(entered.athlete).await.unwrap().unwrap();
    ana.draft.athlete.birth_year = Some(2011);
    app.store.save_athlete(ana.id, ana.version, &ana.draft, app.now()).await.unwrap();
    (path, ana.id)
}

#[tokio::test]
async fn the_board_leads_to_a_block_made_before_the_athlete_was_noted_as_under_18_until_it_is_made_anew() {
    let app = TestApp::new().await;
    let (path, _) = block_before_youth(&app).await;
    let board = app.get("/?need=under-18").await;
    assert!(
        board.text(".board-needs").contains("oted as under 18 by now: make the block anew"),
        "{}",
        board.text("main")
    );
    assert!(board.attributes(".board-needs a", "href").contains(&path));
    let page = app.get(&path).await;
    let fields = page.filled("#settings");
    let fields: Vec<_> = fields.iter().map(|(name, value)| (name.as_str(), value.as_str())).collect();
    let anew = app.follow(&app.post(&page.attribute("#settings", "action"), &fields).await).await;
    assert!(!anew.text("main").contains("under 18 by now"));
    assert!(!app.get("/").await.text("main").contains("under 18"), "made anew it is a block of youth");
}

#[tokio::test]
async fn a_block_made_before_the_athlete_was_noted_as_under_18_says_so() {
    let app = TestApp::new().await;
    let (path, athlete) = block_before_youth(&app).await;
    let told = app.get(&path).await.texts(".told");
    assert!(told.iter().any(|told| told.starts_with("The athlete is noted as under 18 by now")), "{told:?}");
    let mut ana = app.store.athlete(athlete).await.unwrap().unwrap();
    (ana.draft.athlete.birth_year, ana.draft.athlete.suits.days) = (None, Some(8));
    app.store.save_athlete(ana.id, ana.version, &ana.draft, app.now()).await.unwrap();
    let told = app.get(&path).await.texts(".told");
    assert!(told.len() == 1 && told[0].starts_with("What is noted as suiting this athlete changed"), "{told:?}");
}

#[tokio::test]
async fn who_asks_for_json_gets_the_plan_answer_of_the_kept_and_of_a_previewed_block() {
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    let ask = async |path: String| {
        let request = Request::builder().uri(path).header(HOST, COACH_HOST).header(ACCEPT, "application/json");
        app.send(request.body(Body::empty()).unwrap()).await
    };
    let answer = ask(format!("/blocks/{block}")).await;
    assert_eq!(answer.header("content-type"), "application/json");
    let kept: serde_json::Value = serde_json::from_str(answer.body()).unwrap();
    assert_eq!(kept["block"]["days"], 10);
    assert_eq!(kept["days"].as_array().unwrap().len(), 14);
    let answer = ask(format!("/blocks/{block}?preview=1&days=7&shape=ebb")).await;
    let previewed: serde_json::Value = serde_json::from_str(answer.body()).unwrap();
    assert_eq!(previewed["block"]["days"], 7);
}

#[tokio::test]
async fn today_is_marked_in_words() {
    let app = TestApp::on("2027-05-04").await;
    let block = app.ana_block().await;
    let page = app.get(&format!("/blocks/{block}")).await;
    assert!(page.text(".days tbody.is-today").starts_with("Tue 4 May today"));
    assert!(page.text(".lead").starts_with("5 days to go."));
}

#[tokio::test]
async fn an_unknown_block_is_not_found() {
    let app = TestApp::new().await;
    for path in ["/blocks/99", "/blocks/x", "/blocks/99/goals", "/blocks/99/print", "/blocks/99/file"] {
        assert_eq!(app.get(path).await.status, StatusCode::NOT_FOUND, "{path}");
    }
}

#[tokio::test]
async fn the_goals_stand_on_the_block_or_it_asks_for_them() {
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    let path = format!("/blocks/{block}");
    let page = app.get(&path).await;
    assert_eq!(page.text(".block-goals"), "No goals yet. Write goals A, B and C");
    let goals = page.attribute(".block-goals a", "href");
    let version = app.get(&goals).await.value("version");
    app.post(&goals, &[("version", &version), ("a", "41:30"), ("c", "run it all")]).await.location();
    let page = app.get(&path).await;
    assert_eq!(page.text(".block-goals"), "Goals: A 41:30, C run it all. Change the goals");
    assert_eq!(page.attribute(".block-goals a", "href"), goals);
}

#[tokio::test]
async fn a_block_in_two_units_says_whose_is_which() {
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    let path = format!("/blocks/{block}");
    assert!(!app.get(&path).await.text("main").contains("the unit of your settings"));
    let settings = app.get("/settings").await;
    let version = settings.value("version");
    app.post("/settings", &[("version", &version), ("units", "mi"), ("week_start", "mon"), ("paper", "a4")])
        .await
        .location();
    let said = app.get(&path).await.text("main");
    assert!(said.contains("Shown in miles, the unit of your settings; Ana Exemplo reads kilometres"), "{said}");
}

/// The kilometres of a cell, the middle of a range: what a coach adds up.
fn kilometres(cell: &str) -> f64 {
    let outside = cell.split(" km").next().unwrap_or_default();
    let amount = outside.rsplit(' ').next().unwrap_or_default();
    let ends: Vec<f64> = amount.split('\u{2013}').filter_map(|end| end.parse().ok()).collect();
    if ends.is_empty() { 0.0 } else { ends.iter().sum::<f64>() / ends.len() as f64 }
}

#[tokio::test]
async fn whoever_adds_up_the_days_that_the_cut_names_finds_its_amounts_and_its_per_cent() {
    let app = TestApp::on("2027-04-20").await;
    let block = app.ana_block().await;
    let page = app.get(&format!("/blocks/{block}")).await;
    let fact =
        page.texts(".block-fact").into_iter().find(|fact| fact.contains(" to race day the block holds ")).unwrap();
    assert!(fact.starts_with("From Friday 30 April to race day the block holds "), "{fact}");
    let days: Vec<String> = page.attributes(".days tbody", "data-day");
    let counted: Vec<&String> = days.iter().filter(|day| day.as_str() >= "2027-04-30").collect();
    assert_eq!(counted.len(), 10, "{days:?}");
    let sum = |column: &str, but: &str| -> f64 {
        let cells = counted.iter().filter(|day| day.as_str() != but);
        let cells = cells.flat_map(|day| page.texts(&format!("#day-{day} {column}")));
        cells.map(|cell| kilometres(&cell)).sum()
    };
    let (planned, usual) = (sum(".day-planned", "2027-05-09"), sum(".day-usual", ""));
    let said = |from: &str| kilometres(fact.split(from).nth(1).unwrap());
    assert_eq!((said(" holds "), said(" instead of ")), (planned, usual), "{fact}");
    let per_cent = (100.0 * (1.0 - planned / usual)).round();
    assert!(fact.contains(&format!(": {per_cent}% less.")), "{fact}: {per_cent}");
}
