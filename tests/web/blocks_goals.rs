//! Goals and race strategy of a block.

use axum::http::StatusCode;
use ebbline_tests::TestApp;

fn full(version: &str) -> Vec<(&str, &str)> {
    vec![
        ("version", version),
        ("a", " under  44:00 "),
        ("b", "under 45:00"),
        ("c", "<b>smile</b>"),
        ("belief", "six times 800 m"),
        ("first_effort", "easier than it feels right"),
        ("first_focus", "the runner in front"),
        ("first_cue", "patience"),
        ("middle_cue", "tall"),
        ("last_cue", "home"),
        ("hard_moment", "Count ten breaths."),
        ("message", "You are ready.\r\nSee you there."),
    ]
}

#[tokio::test]
async fn goals_are_saved_shown_again_and_printed() {
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    let path = format!("/blocks/{block}/goals");
    let version = app.get(&path).await.value("version");
    let page = app.follow(&app.post(&path, &full(&version)).await).await;
    assert_eq!(page.text(".notice p"), "Goals saved.");
    let form = app.get(&path).await;
    assert_eq!(form.value("a"), "under 44:00");
    assert_eq!(form.value("message"), "You are ready.\nSee you there.");
    let sheet = app.get(&format!("/blocks/{block}/print")).await;
    assert_eq!(sheet.texts(".goal-list dd"), ["under 44:00", "under 45:00", "<b>smile</b>"]);
    assert_eq!(sheet.texts(".stretches tbody strong"), ["patience", "tall", "home"]);
    assert_eq!(sheet.texts(".goal-message p"), ["You are ready.", "See you there."]);
}

#[tokio::test]
async fn the_words_of_another_race_fill_what_is_still_empty_and_nothing_is_saved() {
    let app = TestApp::new().await;
    let first = app.ana_block().await;
    let none = app.get(&format!("/blocks/{first}/goals")).await;
    assert_eq!(none.count("select[name=like]"), 0, "nobody has written anything yet");
    let version = none.value("version");
    app.post(&format!("/blocks/{first}/goals"), &full(&version)).await.location();
    let ben = app.add_athlete("Ben Beispiel", planning::DistanceUnit::Km).await;
    app.save_week(ben, ebbline_tests::SIX_RUNS).await;
    let race = app.store.block(first).await.unwrap().unwrap().race.id;
    app.store.enter(race, ben, planning::Importance::Goal, app.now()).await.unwrap();
    let second = app.make_block(ebbline_tests::Entered { athlete: ben, race }).await;
    let path = format!("/blocks/{second}/goals");
    let form = app.get(&path).await;
    assert_eq!(form.texts("select[name=like] option").len(), 1);
    let like = first.to_string();
    let typed = [
        ("version", form.value("version")),
        ("like", like),
        ("take", "yes".into()),
        ("a", "under 50:00".into()),
        ("first_cue", "calm".into()),
    ];
    let typed: Vec<(&str, &str)> = typed.iter().map(|(name, value)| (*name, value.as_str())).collect();
    let taken = app.post(&path, &typed).await;
    assert_eq!(taken.status, StatusCode::OK);
    assert_eq!((taken.value("a"), taken.value("b")), ("under 50:00".to_owned(), String::new()), "goals are their own");
    assert_eq!((taken.value("first_cue"), taken.value("middle_cue")), ("calm".to_owned(), "tall".to_owned()));
    assert_eq!(taken.value("hard_moment"), "Count ten breaths.");
    assert!(taken.text(".notice p").contains("Nothing is saved yet"));
    assert_eq!(app.store.block(second).await.unwrap().unwrap().goals, store::GoalNotes::default());
}

#[tokio::test]
async fn too_long_a_line_comes_back_whole_with_the_limit() {
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    let path = format!("/blocks/{block}/goals");
    let version = app.get(&path).await.value("version");
    let long = "ü".repeat(31);
    let page = app.post(&path, &[("version", &version), ("a", "under 44:00"), ("last_cue", &long)]).await;
    assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert_eq!((page.value("a"), page.value("last_cue")), ("under 44:00".to_owned(), long));
    assert_eq!(page.text(".error-summary li"), "Last third, cue word has 31 characters; up to 30 fit on the sheet.");
    assert_eq!(page.attribute(".error-summary a", "href"), "#last_cue");
    assert_eq!(app.store.block(block).await.unwrap().unwrap().goals, store::GoalNotes::default());
}

#[tokio::test]
async fn goals_saved_meanwhile_are_shown_beside_the_typed_ones() {
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    let path = format!("/blocks/{block}/goals");
    let stale = app.get(&path).await.value("version");
    app.post(&path, &full(&stale)).await.location();
    let page = app.post(&path, &[("version", &stale), ("a", "under 43:30"), ("b", "under 45:00")]).await;
    assert_eq!(page.status, StatusCode::CONFLICT);
    assert_eq!(page.value("a"), "under 43:30");
    assert_eq!(page.texts(".differs .kept")[0], "under 44:00");
    let saved = app.post(&path, &[("version", &page.value("version")), ("a", &page.value("a"))]).await;
    saved.location();
    assert_eq!(app.store.block(block).await.unwrap().unwrap().goals.a, "under 43:30");
}

#[tokio::test]
async fn what_results_and_training_say_stands_beside_the_goals_with_its_spread() {
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    let path = format!("/blocks/{block}/goals");
    let page = app.get(&path).await;
    let of = "section[aria-labelledby=estimates]";
    assert_eq!(
        page.text(&format!("{of} > p:first-of-type")),
        "47:11: it is a result over the same distance, so every formula says the same."
    );
    let ana = app.store.block(block).await.unwrap().unwrap().athlete;
    let draft = store::AthleteDraft {
        recent_results: "2027-04-11 5k 20:00 (<b>track)\n2026-02-01 10k 39:59\n2027-04-01 marathon 3:40:00".to_owned(),
        ..ana.draft
    };
    app.store.save_athlete(ana.id, ana.version, &draft, app.now()).await.unwrap();
    let page = app.get(&path).await;
    let said = page.text(&format!("{of} > p:first-of-type"));
    assert!(
        said.starts_with("From 41:28 to 47:51, 6.4 minutes apart") && said.ends_with("nobody knows which is nearer."),
        "{said}"
    );
    let rows = page.texts(&format!("{of} tbody tr"));
    assert!(rows[0].starts_with("5 km in 20:00 on Sun 11 Apr 2027 <b>track"), "{rows:?}");
    assert_eq!(page.texts(&format!("{of} tbody tr:first-child .number")), ["41:42", "41:28", "41:40"]);
    assert!(rows[1].starts_with("Marathon in 3:40:00"), "{rows:?}");
    assert_eq!(page.texts(&format!("{of} details li")), ["10 km in 39:59 on Sun 1 Feb 2026: older than 24 weeks"]);
    assert!(!page.text(of).contains("Vickers"), "that is about marathons");

    let none = store::AthleteDraft { recent_results: String::new(), ..draft };
    app.store.save_athlete(ana.id, store::Version(ana.version.0 + 1), &none, app.now()).await.unwrap();
    let page = app.get(&path).await;
    assert!(
        page.text(of).contains("No result since Tuesday 3 November 2026 over 2.4 to 42.2 km is noted."),
        "{}",
        page.text(of)
    );
    assert_eq!(page.attribute(&format!("{of} a"), "href"), format!("/athletes/{}/edit", ana.id));
}
