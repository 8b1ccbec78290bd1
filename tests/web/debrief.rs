//! What came out of a race, and what comes after it.

use axum::http::StatusCode;
use ebbline_tests::{Answer, Entered, TestApp};
use planning::{DistanceUnit, Importance, Milli, Outcome, RaceDistance};
use store::{BlockId, GoalNotes, Version};

/// Ana on the Wednesday after her marathon, and its block.
async fn after_a_marathon() -> (TestApp, BlockId, Entered) {
    let app = TestApp::on("2027-05-12").await;
    let athlete = app.ana().await.athlete;
    let race = app.add_race("River Marathon", "2027-05-09", RaceDistance::Marathon).await;
    app.store.enter(race, athlete, Importance::Goal, app.now()).await.unwrap();
    let harbour = app.store.entries_of(athlete).await.unwrap()[0].1.id;
    app.store.withdraw(harbour, athlete, app.now()).await.unwrap();
    let entered = Entered { athlete, race };
    let block = app.plan_block(entered).await;
    (app, block, entered)
}

const FULL: [(&str, &str); 9] = [
    ("outcome", "finished"),
    ("time", "3:27"),
    ("place", " 12th "),
    ("rested", "7"),
    ("feeling", "9"),
    ("conditions", "hot <b>and</b> windy"),
    ("splits", "10 km 48:10\r\nhalf 1:42:00"),
    ("words", "The last hill\r\nwas long."),
    ("next_time", "Start slower."),
];

async fn send(app: &TestApp, block: BlockId, fields: &[(&str, &str)]) -> Answer {
    let path = format!("/blocks/{block}/debrief");
    let form = app.get(&path).await;
    let (version, was) = (form.value("version"), form.value("was"));
    app.post(&path, &[&[("version", version.as_str()), ("was", was.as_str())], fields].concat()).await
}

#[tokio::test]
async fn a_result_is_kept_shown_again_and_laid_beside_the_goals() {
    let (app, block, entered) = after_a_marathon().await;
    let goals =
        GoalNotes { a: "3:25".to_owned(), b: "sub 3:30".to_owned(), c: "finish".to_owned(), ..GoalNotes::default() };
    app.store.save_goals(block, Version(1), &goals, app.now()).await.unwrap();
    let page = app.follow(&send(&app, block, &FULL).await).await;
    assert_eq!(page.text(".notice p"), "Result saved.");
    assert_eq!(page.text(".against-goals"), "3:27:00 lies between goal A (3:25:00) and goal B (3:30:00).");
    for (name, value) in FULL {
        let kept = if name == "time" { "3:27:00".to_owned() } else { value.trim().replace("\r\n", "\n") };
        assert_eq!(page.value(name), kept, "{name}");
    }
    assert_eq!(app.store.results_of(entered.athlete).await.unwrap().len(), 1);
    for (time, said) in
        [("3:24:59", "3:24:59 is within goal A (3:25:00)."), ("3:31", "3:31:00 is slower than goal B (3:30:00).")]
    {
        let page = app.follow(&send(&app, block, &[("outcome", "finished"), ("time", time)]).await).await;
        assert_eq!(page.text(".against-goals"), said);
    }
}

#[tokio::test]
async fn everything_wrong_is_said_at_its_field_and_everything_typed_is_kept() {
    let (app, block, entered) = after_a_marathon().await;
    let long = "x".repeat(301);
    let fields = [
        ("outcome", "won"),
        ("time", "1:10:00"),
        ("ran", "50 km"),
        ("rested", "11"),
        ("place", long.as_str()),
        ("words", "Well."),
    ];
    let page = send(&app, block, &fields).await;
    assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY);
    for control in ["outcome", "time", "ran", "rested", "place"] {
        assert_eq!(page.count(&format!("#{control}-errors p")), 1, "{control}");
    }
    assert!(page.text("#ran-errors").contains("“50 km” is not less than the race (marathon)"));
    assert!(page.text("#time-errors").contains("in 1:10:00"), "{}", page.text("#time-errors"));
    assert_eq!(
        (page.value("time"), page.value("ran"), page.value("words")),
        ("1:10:00".into(), "50 km".into(), "Well.".into())
    );
    let none = [("outcome", "did-not-start"), ("time", "3:27"), ("ran", "20 km")];
    let page = send(&app, block, &none).await;
    assert!(
        page.text("#time-errors").contains("was not started") && page.text("#ran-errors").contains("was not started")
    );
    let odd = send(&app, block, &[("outcome", "did-not-finish"), ("ran", "soon")]).await;
    assert!(odd.text("#ran-errors").contains("“soon”"));
    assert_eq!(app.store.result(entered.race, entered.athlete).await.unwrap(), None);
}

#[tokio::test]
async fn who_stopped_recovers_from_what_was_run_and_the_season_says_the_same() {
    let (app, block, entered) = after_a_marathon().await;
    let page = app.get(&format!("/blocks/{block}/debrief")).await;
    let after = "section[aria-labelledby=after]";
    assert!(page.text(after).contains("Until Sunday 16 May: 0% to 25% of the usual running"), "{}", page.text(after));
    assert!(page.text(after).contains("No hard running before Monday 24 May"), "{}", page.text(after));
    assert!(page.text(&format!("{after} tbody tr:first-child")).contains("14 days"));

    let fields = [("outcome", "did-not-finish"), ("ran", "15 km"), ("time", "1:14:10")];
    let page = app.follow(&send(&app, block, &fields).await).await;
    assert_eq!((page.value("ran"), page.value("time")), ("15 km".to_owned(), "1:14:10".to_owned()));
    assert!(page.text(after).contains("No hard running before Thursday 13 May"), "{}", page.text(after));
    assert_eq!(page.count(".against-goals"), 0, "part of a race is no time for a goal");
    let entry = app.store.entrants(entered.race).await.unwrap().remove(0);
    assert_eq!(entry.ran, Some(RaceDistance::Own(Milli::whole(15), DistanceUnit::Km)));
    let season = app.get(&format!("/athletes/{}/season", entered.athlete)).await;
    assert_eq!(season.attribute("input[name=ran]", "value"), "15 km");

    assert!(!app.get(&format!("/blocks/{block}")).await.text("main").contains("messages are withheld"));
    let page = app.follow(&send(&app, block, &[("outcome", "did-not-start")]).await).await;
    assert_eq!(page.count(after), 0);
    assert!(
        app.get(&format!("/blocks/{block}")).await.text("main").contains("not started, so its messages are withheld")
    );
    let season = app.get(&format!("/athletes/{}/season", entered.athlete)).await;
    assert!(!season.text("main").contains("Recovery after"), "{}", season.text("main"));
}

#[tokio::test]
async fn a_race_that_ended_soon_after_the_start_is_noted_with_where() {
    let (app, block, entered) = after_a_marathon().await;
    let nothing = send(&app, block, &[("outcome", "did-not-finish"), ("ran", "0 km")]).await;
    assert_eq!(nothing.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(nothing.text(".error-summary").contains("is no distance"), "{}", nothing.text(".error-summary"));
    let kept = send(&app, block, &[("outcome", "did-not-finish"), ("ran", "0.5 km")]).await;
    assert_eq!(app.follow(&kept).await.value("ran"), "0.5 km");
    let page = app.get(&format!("/athletes/{}", entered.athlete)).await;
    assert!(page.text("main").contains("Did not finish, 0.5 km run"), "{}", page.text("main"));
}

#[tokio::test]
async fn on_the_evening_of_the_race_its_result_stands_on_the_athletes_page() {
    let (app, block, entered) = after_a_marathon().await;
    let app = app.later("2027-05-09");
    let path = format!("/athletes/{}", entered.athlete);
    assert!(!app.get(&path).await.body().contains("Past blocks"));
    send(&app, block, &FULL).await.location();
    assert!(app.get(&path).await.text("main").contains("3:27:00"));
}

#[tokio::test]
async fn what_the_season_noted_meanwhile_is_shown_beside_the_typed_and_nothing_is_lost() {
    let (app, block, entered) = after_a_marathon().await;
    let path = format!("/blocks/{block}/debrief");
    let ten = (Milli::whole(10), DistanceUnit::Km);
    app.store.ran_of_race(entered.race, entered.athlete, None, Some(ten)).await.unwrap();
    let stale = [("version", "0"), ("was", ""), ("outcome", "did-not-finish"), ("ran", "20 km"), ("words", "Stopped.")];
    let page = app.post(&path, &stale).await;
    assert_eq!(page.status, StatusCode::CONFLICT);
    assert_eq!(page.text("tr:has(#ran) .kept"), "10 km");
    assert_eq!((page.value("ran"), page.value("words")), ("20 km".to_owned(), "Stopped.".to_owned()));
    let (version, was) = (page.value("version"), page.value("was"));
    let mine = [("version", version.as_str()), ("was", was.as_str()), stale[2], stale[3], stale[4]];
    app.post(&path, &mine).await.location();
    let entry = app.store.entrants(entered.race).await.unwrap().remove(0);
    assert_eq!((entry.outcome, entry.ran.is_some()), (Some(Outcome::DidNotFinish), true));
}

#[tokio::test]
async fn before_the_race_there_is_no_form_and_one_that_is_sent_comes_back_whole() {
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    let path = format!("/blocks/{block}/debrief");
    let page = app.get(&path).await;
    assert!(page.text(".empty").starts_with("This page is for after the race: Sun 9 May, in 19 days."));
    assert_eq!(page.count("main form"), 0);
    let page = app.post(&path, &[("version", "0"), ("outcome", "finished"), ("words", "From the future.")]).await;
    assert_eq!((page.status, page.value("words")), (StatusCode::UNPROCESSABLE_ENTITY, "From the future.".to_owned()));
    assert!(page.text("#outcome-errors").contains("after the race"));
    assert_eq!(app.get("/blocks/99/debrief").await.status, StatusCode::NOT_FOUND);
    let links = async |app: &TestApp| app.get(&format!("/blocks/{block}")).await.attributes(".block-head a", "href");
    assert!(!links(&app).await.contains(&path), "it is not offered before it can be used");
    let app = app.later("2027-05-09");
    assert!(links(&app).await.contains(&path));
    let app = app.later("2027-05-10");
    let page = app.get(&format!("/blocks/{block}")).await;
    assert_eq!(page.count("#settings, #keys"), 0, "nothing is offered that a past race refuses");
    assert!(page.text("section[aria-labelledby=settings-title]").contains("The race is over"));

    let race = app.store.block(block).await.unwrap().unwrap().race.id;
    app.store.call_off_race(race, Some(app.today()), app.now()).await.unwrap();
    let page = app.later("2027-05-12").get(&path).await;
    assert!(page.text(".empty").starts_with("The race is called off"));
}

#[tokio::test]
async fn the_way_to_the_next_goal_race_stands_below_in_one_piece() {
    let (app, block, entered) = after_a_marathon().await;
    let next = app.add_race("Hill Half", "2027-07-11", RaceDistance::Half).await;
    app.store.enter(next, entered.athlete, Importance::Goal, app.now()).await.unwrap();
    let page = app.get(&format!("/blocks/{block}/debrief")).await;
    let what = page.texts("#after ~ table, section[aria-labelledby=after] tbody th bdi");
    assert_eq!(what.first().map(String::as_str), Some("Recovery after River Marathon"));
    assert_eq!(what.last().map(String::as_str), Some("Race: Hill Half"));
    assert!(what.contains(&"Taper block for Hill Half".to_owned()), "{what:?}");
    let season = app.get(&format!("/athletes/{}/season", entered.athlete)).await.texts("#phases ~ table tbody th bdi");
    assert!(season.ends_with(&what[..what.len()]) || what.iter().all(|one| season.contains(one)), "{season:?}");
}

#[tokio::test]
async fn the_athletes_page_lays_past_blocks_beside_what_came_out_without_a_verdict() {
    let (app, block, entered) = after_a_marathon().await;
    let goals = GoalNotes { a: "3:25".to_owned(), b: "3:30".to_owned(), ..GoalNotes::default() };
    app.store.save_goals(block, Version(1), &goals, app.now()).await.unwrap();
    let path = format!("/athletes/{}", entered.athlete);
    let cells = async || app.get(&path).await.texts("section[aria-labelledby=looked-back] tbody td");
    let before = cells().await;
    assert!(before[0].starts_with("21 days, ") && before[0].ends_with("% less"), "{before:?}");
    assert_eq!(before[2], "Not noted");
    send(&app, block, &FULL).await.location();
    let after = cells().await;
    assert_eq!(after[1], "Rested: 7 of 10");
    assert_eq!(after[2], "3:27:00 goal B reached");
    assert_eq!(after[3], "hot <b>and</b> windy The last hill was long.");
    send(&app, block, &[("outcome", "finished"), ("time", "3:31")]).await.location();
    assert_eq!(cells().await[2], "3:31:00 no goal reached");
    send(&app, block, &[("outcome", "did-not-finish"), ("ran", "15 km"), ("time", "1:10:00")]).await.location();
    assert_eq!(cells().await[2], "Did not finish, 15 km run, 1:10:00");
    send(&app, block, &[("outcome", "did-not-start")]).await.location();
    assert_eq!(cells().await[2], "Did not start");
    let page = app.get(&path).await;
    assert_eq!(page.attribute("section[aria-labelledby=looked-back] th a", "href"), format!("/blocks/{block}/debrief"));
    assert!(page.text("section[aria-labelledby=looked-back] .hint").contains("hundreds of races"));
    assert!(page.attributes("details a", "href").contains(&format!("/blocks/{block}/debrief")));
}

/// Bo, entered in a race of the week before without a block; and the page of the result.
async fn raced_without_a_block() -> (TestApp, Entered, String) {
    let app = TestApp::new().await;
    let athlete = app.add_athlete("Bo", DistanceUnit::Km).await;
    let race = app.add_race("Bridge Ten", "2027-04-18", RaceDistance::TenK).await;
    app.store.enter(race, athlete, Importance::TuneUp, app.now()).await.unwrap();
    (app, Entered { athlete, race }, format!("/races/{race}/results/{athlete}"))
}

#[tokio::test]
async fn a_race_that_was_run_without_a_block_has_its_result_in_its_row_and_with_the_athlete() {
    let (app, Entered { athlete, race }, path) = raced_without_a_block().await;
    let (of_race, of_athlete) = (format!("/races/{race}"), format!("/athletes/{athlete}"));
    let page = app.get(&of_race).await;
    assert!(page.text(".told").contains("What came out is noted for each athlete below"), "{}", page.text(".told"));
    assert_eq!(page.text(".entrants td:nth-child(4)"), "Note the result of Bo");
    assert_eq!(page.attribute(".entrants td:nth-child(4) a", "href"), path);
    let page = app.get(&of_athlete).await;
    assert_eq!(page.attribute("details li a[href*='/results/']", "href"), path);

    let form = app.get(&path).await;
    assert_eq!((form.text("h1"), form.count("a[href*=blocks]")), ("Debrief".to_owned(), 0));
    let wrong = app.post(&path, &[("version", "0"), ("outcome", "finished"), ("time", "soon")]).await;
    assert_eq!((wrong.status, wrong.value("time")), (StatusCode::UNPROCESSABLE_ENTITY, "soon".to_owned()));
    let told = [("version", "0"), ("outcome", "finished"), ("time", "47:05"), ("words", "Windy.")];
    let saved = app.post(&path, &told).await;
    assert_eq!(saved.location(), path);
    let page = app.follow(&saved).await;
    assert_eq!((page.text(".notice p"), page.value("words")), ("Result saved.".to_owned(), "Windy.".to_owned()));

    assert_eq!(app.get(&of_race).await.text(".entrants td:nth-child(4)"), "47:05 Debrief of Bo");
    let page = app.get(&of_athlete).await;
    let recent = page.texts("section[aria-labelledby=results] li");
    assert_eq!(recent, ["Sun 18 Apr, Bridge Ten: 47:05", "2027-02-07 10k 47:11 (into the wind)"]);
    assert_eq!(page.attribute("section[aria-labelledby=results] li a", "href"), path);
    assert!(page.text("section[aria-labelledby=races] details li").contains("47:05"));
    let stale = app.post(&path, &[("version", "0"), ("outcome", "did-not-finish"), ("words", "Mine.")]).await;
    assert_eq!((stale.status, stale.value("words")), (StatusCode::CONFLICT, "Mine.".to_owned()));
}

#[tokio::test]
async fn a_typed_result_of_a_race_that_is_noted_too_stands_once() {
    let (app, Entered { athlete, .. }, path) = raced_without_a_block().await;
    let record = app.store.athlete(athlete).await.unwrap().unwrap();
    let typed = "2027-04-18 10k 47:00\n2027-02-07 10k 47:11".to_owned();
    let draft = store::AthleteDraft { recent_results: typed, ..record.draft };
    app.store.save_athlete(athlete, record.version, &draft, app.now()).await.unwrap();
    let recent = async || app.get(&format!("/athletes/{athlete}")).await.texts("section[aria-labelledby=results] li");
    assert_eq!(recent().await, ["2027-04-18 10k 47:00", "2027-02-07 10k 47:11"]);
    app.post(&path, &[("version", "0"), ("outcome", "finished"), ("time", "47:05")]).await.location();
    assert_eq!(recent().await, ["Sun 18 Apr, Bridge Ten: 47:05", "2027-02-07 10k 47:11"]);
}

#[tokio::test]
async fn a_result_is_offered_from_race_day_on_and_only_to_who_is_entered() {
    let (app, Entered { athlete, race }, path) = raced_without_a_block().await;
    let cy = app.add_athlete("Cy", DistanceUnit::Km).await;
    assert_eq!(app.get(&format!("/races/{race}/results/{cy}")).await.status, StatusCode::NOT_FOUND);
    assert_eq!(app.get(&format!("/races/99/results/{athlete}")).await.status, StatusCode::NOT_FOUND);
    let app = app.later("2027-04-17");
    assert_eq!(app.get(&format!("/races/{race}")).await.count("a[href*='/results/']"), 0);
    assert!(app.get(&path).await.text(".empty").contains("This page is for after the race"));
    let app = app.later("2027-04-18");
    assert_eq!(app.get(&format!("/races/{race}")).await.count("a[href*='/results/']"), 1);
    assert_eq!(app.get(&format!("/athletes/{athlete}")).await.count(".coming a[href*='/results/']"), 1);
    app.store.call_off_race(race, Some(app.today()), app.now()).await.unwrap();
    let app = app.later("2027-04-20");
    for page in [format!("/races/{race}"), format!("/athletes/{athlete}")] {
        assert_eq!(app.get(&page).await.count("a[href*='/results/']"), 0, "{page}");
    }
}

#[tokio::test]
async fn the_result_of_who_has_a_block_is_the_debrief_of_the_block() {
    let (app, block, Entered { athlete, race }) = after_a_marathon().await;
    let page = app.get(&format!("/races/{race}")).await;
    assert_eq!(page.attribute(".entrants td:nth-child(4) a", "href"), format!("/blocks/{block}/debrief"));
    let path = format!("/races/{race}/results/{athlete}");
    assert_eq!(app.get(&path).await.attribute("main form", "action"), format!("/blocks/{block}/debrief"));
    let saved = app.post(&path, &[("version", "0"), ("outcome", "finished"), ("time", "3:27")]).await;
    assert_eq!(saved.location(), format!("/blocks/{block}/debrief"));
    assert!(app.get(&format!("/races/{race}")).await.text(".entrants td:nth-child(4)").starts_with("3:27:00"));
}

#[tokio::test]
async fn the_board_asks_for_the_result_of_a_goal_race_without_a_block_too() {
    let app = TestApp::new().await;
    let athlete = app.add_athlete("Bo", DistanceUnit::Km).await;
    let race = app.add_race("Bridge Ten", "2027-04-18", RaceDistance::TenK).await;
    app.store.enter(race, athlete, Importance::Goal, app.now()).await.unwrap();
    let path = format!("/races/{race}/results/{athlete}");
    let page = app.get("/").await;
    let asked = format!(".board-needs a[href='{path}']");
    assert_eq!(page.text(&asked), "raced on Sunday, no result noted");
    app.post(&path, &[("version", "0"), ("outcome", "finished"), ("time", "47:05")]).await.location();
    assert_eq!(app.get("/").await.count(&asked), 0);
}

#[tokio::test]
async fn the_board_asks_for_a_result_calmly_and_only_until_it_is_noted() {
    let (app, block, entered) = after_a_marathon().await;
    let page = app.get("/").await;
    assert_eq!(page.text(".board-heading th span:first-child"), "Later");
    assert_eq!(page.text(".board-needs strong"), "Raced on Sunday, no result noted");
    assert_eq!(page.attribute(".board-needs a", "href"), format!("/blocks/{block}/debrief"));
    send(&app, block, &FULL).await.location();
    assert_eq!(app.get("/").await.count(".board-needs strong"), 0);
    assert_eq!(app.get(&format!("/athletes/{}", entered.athlete)).await.status, StatusCode::OK);
}
