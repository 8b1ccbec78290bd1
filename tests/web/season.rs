//! The races of one athlete on one timeline, races called off and races cut short.

use axum::http::StatusCode;
use ebbline_tests::{TestApp, date};
use planning::{Importance, RaceDistance};

#[tokio::test]
async fn block_race_recovery_and_the_way_back_stand_in_order() {
    let app = TestApp::on("2027-05-04").await;
    let block = app.ana_block().await;
    let ana = app.store.block(block).await.unwrap().unwrap().athlete.id;
    let page = app.get(&format!("/athletes/{ana}/season")).await;
    assert_eq!(page.text("h1"), "Season");
    let what = page.texts("#phases ~ table tbody th > a, #phases ~ table tbody th > bdi");
    assert_eq!(
        what,
        [
            "Usual weeks",
            "Taper block for Harbour 10",
            "Race: Harbour 10",
            "Recovery after Harbour 10",
            "Running comes back",
            "Usual weeks"
        ]
    );
    assert_eq!(page.text("tr[aria-current] a"), "Taper block for Harbour 10");
    assert!(page.attribute("svg[role=img]", "aria-label").contains("season of Ana Exemplo"));
}

#[tokio::test]
async fn the_cut_of_a_block_is_the_same_in_the_season_and_on_its_page_and_says_what_it_counts() {
    let app = TestApp::on("2027-04-20").await;
    let block = app.ana_block().await;
    let record = app.store.block(block).await.unwrap().unwrap();
    let cut = record.block.cut().share.percent();
    let season = app.get(&format!("/athletes/{}/season", record.athlete.id)).await;
    let row = season.texts("#phases ~ table tbody tr").into_iter().find(|row| row.starts_with("Taper block")).unwrap();
    assert!(row.contains(" before the race, usually ") && row.contains(" with race day"), "{row}");
    assert!(row.ends_with(&format!(": a cut of {cut}% over the block’s 10 days")), "{row}");
    let page = app.get(&format!("/blocks/{block}")).await;
    let fact =
        page.texts(".block-fact").into_iter().find(|fact| fact.contains(" to race day the block holds ")).unwrap();
    assert!(fact.contains(&format!(": {cut}% less.")), "{fact}");
}

#[tokio::test]
async fn a_race_called_off_stays_visible_and_its_block_shows_the_way_back() {
    let app = TestApp::on("2027-05-06").await;
    // Made in time: the running has come down for days.
    let entered = app.ana().await;
    let block = app.plan_block(entered).await;
    let record = app.store.block(block).await.unwrap().unwrap();
    let (ana, race) = (record.athlete.id, record.race.id);
    let page = app.follow(&app.post(&format!("/races/{race}/call-off"), &[]).await).await;
    assert!(page.text(".told").starts_with("This race is called off"));
    assert!(app.get(&format!("/blocks/{block}")).await.text(".told").contains("The race is called off."));
    let page = app.get(&format!("/blocks/{block}/replan")).await;
    assert!(page.count("#back ~ table tbody tr") >= 7);
    let page = app.get(&format!("/athletes/{ana}/season")).await;
    let what = page.texts("#phases ~ table tbody th");
    assert!(what.iter().any(|what| what.starts_with("Back to the usual week")));
    assert!(what.contains(&"Taper block for Harbour 10, which is not run".to_owned()), "{what:?}");
    assert_eq!(page.attribute("#phases ~ table a[href^='/blocks/']", "href"), format!("/blocks/{block}"));
    assert!(page.body().contains("Harbour 10"), "called off, not forgotten");
    let page = app.follow(&app.post(&format!("/races/{race}/take-place"), &[]).await).await;
    assert_eq!(page.count(".told"), 0);
}

#[tokio::test]
async fn a_race_cut_short_is_recovered_from_by_what_was_run() {
    let app = TestApp::on("2027-05-12").await;
    let ana = app.ana().await.athlete;
    let race = app.add_race("River Marathon", "2027-05-10", RaceDistance::Marathon).await;
    app.store.enter(race, ana, Importance::Goal, app.now()).await.unwrap();
    let season = format!("/athletes/{ana}/season");
    let recovery = |page: &ebbline_tests::Answer| {
        let rows = page.texts("#phases ~ table tbody tr");
        rows.into_iter().find(|row| row.starts_with("Recovery after River Marathon")).expect("a recovery")
    };
    assert!(recovery(&app.get(&season).await).contains("14 days"));
    let send = async |ran: &'static str| {
        let was =
            app.get(&season).await.attribute(&format!("form[action='/races/{race}/ran'] input[name=was]"), "value");
        let fields = [("athlete", ana.to_string()), ("ran", ran.to_owned()), ("was", was)];
        let fields: Vec<(&str, &str)> = fields.iter().map(|(name, value)| (*name, value.as_str())).collect();
        app.post(&format!("/races/{race}/ran"), &fields).await
    };
    let page = app.follow(&send("15 km").await).await;
    assert!(recovery(&page).contains("3 days"), "{}", recovery(&page));
    let page = send("most of it").await;
    assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert_eq!(page.attribute(&format!("#ran-{race}"), "value"), "most of it");
    assert!(page.text("#problems li").starts_with("Really ran: “most of it”"));
    let page = app.follow(&send("").await).await;
    assert!(recovery(&page).contains("14 days"));
    assert_eq!(app.store.entrants(race).await.unwrap()[0].ran, None);
    assert!(app.today() == date("2027-05-12"));
}

#[tokio::test]
async fn a_race_that_was_not_started_is_no_race_and_needs_no_recovery() {
    let app = TestApp::on("2027-05-05").await;
    let block = app.ana_block().await;
    let record = app.store.block(block).await.unwrap().unwrap();
    let (ana, race) = (record.athlete.id, record.race.id);
    let app = app.later("2027-05-10");
    let season = format!("/athletes/{ana}/season");
    let what =
        |page: &ebbline_tests::Answer| page.texts("#phases ~ table tbody th > a, #phases ~ table tbody th > bdi");
    assert!(what(&app.get(&season).await).contains(&"Recovery after Harbour 10".to_owned()));
    let none = store::RaceResult { outcome: planning::Outcome::DidNotStart, ..store::RaceResult::default() };
    let ran = store::ReallyRan::default();
    app.store.save_result((race, ana), store::Version(0), &none, ran, app.now()).await.unwrap();
    let page = app.get(&season).await;
    let block = "Taper block for Harbour 10, which is not run";
    assert_eq!(what(&page), ["Usual weeks", block, "Back to the usual week", "Usual weeks"]);
    assert!(page.text("section[aria-labelledby=called-off] li").ends_with("did not start"));
    assert_eq!(page.count("section[aria-labelledby=raced]"), 0);

    // The next block is planned as if that race had not been: nothing is recovered from.
    let next = app.add_race("Hill Ten", "2027-05-23", RaceDistance::TenK).await;
    app.store.enter(next, ana, Importance::Goal, app.now()).await.unwrap();
    let made = app.post(&format!("/athletes/{ana}/blocks"), &[("race", &next.to_string())]).await;
    let page = app.follow(&made).await;
    assert_eq!(page.status, StatusCode::OK);
    assert!(!page.body().contains("Harbour 10"), "no reason speaks of a race that was not run");
}

#[tokio::test]
async fn a_race_that_was_moved_is_named_with_the_day_that_its_block_was_made_for() {
    let app = TestApp::on("2027-04-20").await;
    let block = app.ana_block().await;
    let record = app.store.block(block).await.unwrap().unwrap();
    let season = format!("/athletes/{}/season", record.athlete.id);
    assert!(!app.get(&season).await.text("#main").contains("made for"));
    let moved = planning::Race { date: date("2027-05-16"), ..record.race.race.clone() };
    app.store.save_race(record.race.id, record.race.version, &moved, "", app.now()).await.unwrap();
    let rows = app.get(&season).await.texts("#phases ~ table tbody th");
    assert!(rows.contains(&"Race: Harbour 10 Moved: its block was made for Sunday 9 May".to_owned()), "{rows:?}");
    let said = "As it would be made now; the block that was made is for Sunday 9 May";
    assert!(rows.iter().any(|row| row.starts_with("Taper block for Harbour 10") && row.ends_with(said)), "{rows:?}");
}
