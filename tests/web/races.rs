//! The races: list, form, entrants, blocks for all.

use axum::http::StatusCode;
use ebbline_tests::{Answer, TestApp};
use planning::{Importance, RaceDistance};

fn river_ten<'a>() -> Vec<(&'a str, &'a str)> {
    vec![
        ("once", "018f3b7a-2f6e-7c1e-9d55-6d2f4f1c2a11"),
        ("name", "River Ten"),
        ("date", "2027-05-09"),
        ("distance", "10k"),
        ("start", "09:30"),
        ("zone", "europe/lisbon"),
        ("place", "Porto"),
    ]
}

fn with<'a>(mut fields: Vec<(&'a str, &'a str)>, name: &str, value: &'a str) -> Vec<(&'a str, &'a str)> {
    for field in &mut fields {
        if field.0 == name {
            field.1 = value;
        }
    }
    fields
}

async fn add_race(app: &TestApp, name: &str, date: &str) -> i64 {
    app.post("/races", &[("name", name), ("date", date), ("distance", "10k")]).await.new_id()
}

async fn add_athlete(app: &TestApp, name: &str) -> String {
    app.post("/athletes", &[("name", name), ("group", "Track")]).await.new_id().to_string()
}

/// An athlete with a base week.
async fn add_runner(app: &TestApp, name: &str) -> String {
    let id = add_athlete(app, name).await;
    let week = [
        ("version", "0"),
        ("tue", "6 x 800 m, 10"),
        ("wed", "8"),
        ("thu", "tempo 9"),
        ("sat", "6"),
        ("sun", "long 15"),
    ];
    app.post(&format!("/athletes/{id}/week"), &week).await.location();
    id
}

fn names(page: &Answer) -> Vec<String> {
    page.texts(".entrants tbody th")
}

#[tokio::test]
async fn an_empty_calendar_says_what_to_do_next() {
    let app = TestApp::new().await;
    let page = app.get("/races").await;
    assert!(page.text(".empty").contains("No race is in the calendar"));
    assert_eq!(page.attribute(".page-head a.button", "href"), "/races/new");
}

#[tokio::test]
async fn coming_races_stand_first_and_past_ones_below_the_latest_on_top() {
    let app = TestApp::new().await;
    for (name, date) in [
        ("Later", "2027-09-01"),
        ("Past", "2027-01-10"),
        ("Today", "2027-04-20"),
        ("Long past", "2026-05-01"),
        ("Soon", "2027-04-25"),
    ] {
        add_race(&app, name, date).await;
    }
    let page = app.get("/races").await;
    assert_eq!(page.texts("main > table tbody th a"), ["Today", "Soon", "Later"]);
    assert_eq!(page.texts("section table tbody th a"), ["Past", "Long past"]);
    assert_eq!(
        page.texts("main > table tbody td:first-child"),
        ["Tue 20 Apr today", "Sun 25 Apr in 5 days", "Wed 1 Sep in 134 days"]
    );
}

#[tokio::test]
async fn an_added_race_says_all_its_facts_and_comes_back_in_the_form() {
    let app = TestApp::new().await;
    let answer = app.post("/races", &river_ten()).await;
    let id = answer.new_id();
    let page = app.follow(&answer).await;
    assert_eq!(page.text(".notice p"), "Race added. Next: enter athletes.");
    assert_eq!(page.text("h1"), "River Ten");
    assert_eq!(page.text(".lead"), "10 km, Sunday 9 May 2027, start at 09:30 (Europe/Lisbon), in 19 days");
    let form = app.get(&format!("/races/{id}/edit")).await;
    for (name, value) in river_ten() {
        match name {
            "once" => {}
            "zone" => assert_eq!(form.value(name), "Europe/Lisbon"),
            _ => assert_eq!(form.value(name), value, "{name}"),
        }
    }
}

#[tokio::test]
async fn sending_the_form_twice_adds_one_race() {
    let app = TestApp::new().await;
    app.post("/races", &river_ten()).await.location();
    app.post("/races", &river_ten()).await.location();
    assert_eq!(app.get("/races").await.count("tbody tr"), 1);
}

#[tokio::test]
async fn everything_wrong_is_said_at_once_and_everything_typed_is_kept() {
    let app = TestApp::new().await;
    let fields = [
        ("name", " "),
        ("date", "9 May"),
        ("distance", "own"),
        ("own_distance", "far"),
        ("start", "25:00"),
        ("zone", "Mars/Base"),
        ("place", "Porto"),
    ];
    let page = app.post("/races", &fields).await;
    assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY);
    for name in ["name", "date", "own_distance", "start", "zone"] {
        assert_eq!(page.count(&format!(".error-summary a[href='#{name}']")), 1, "{name}");
        assert_eq!(page.count(&format!("#{name}[aria-invalid=true]")), 1, "{name}");
    }
    for (name, value) in fields {
        assert_eq!(page.value(name), value, "{name}");
    }
    for name in ["date", "start"] {
        assert_eq!(page.attribute(&format!("#{name}"), "type"), "text", "a browser would hide {name} as typed");
    }
    let order: Vec<_> = ["name", "date", "own_distance", "start", "zone"].map(|name| format!("#{name}")).into();
    assert_eq!(page.attributes(".error-summary a", "href"), order);
    let page = app.post("/races", &[("name", "x"), ("date", ""), ("distance", "")]).await;
    assert_eq!(page.count(".error-summary li"), 2, "date and distance are missing");
}

#[tokio::test]
async fn own_distances_and_early_starts_are_kept_as_typed() {
    let app = TestApp::new().await;
    let fields =
        [("name", "Ridge"), ("date", "2027-08-01"), ("distance", "own"), ("own_distance", "50 mi"), ("start", "5.45")];
    let id = app.post("/races", &fields).await.new_id();
    assert!(
        app.get(&format!("/races/{id}"))
            .await
            .text(".lead")
            .starts_with("50 miles, Sunday 1 August 2027, start at 05:45,")
    );
    let form = app.get(&format!("/races/{id}/edit")).await;
    assert_eq!((form.value("distance"), form.value("own_distance")), ("own".into(), "50 miles".into()));
}

#[tokio::test]
async fn a_stale_save_shows_both_versions() {
    let app = TestApp::new().await;
    let path = format!("/races/{}", app.post("/races", &river_ten()).await.new_id());
    let version = app.get(&format!("{path}/edit")).await.value("version");
    let stale = |date| {
        let mut fields = with(river_ten(), "date", date);
        fields.push(("version", version.as_str()));
        fields
    };
    app.post(&path, &stale("2027-05-16")).await.location();
    let page = app.post(&path, &stale("2027-05-23")).await;
    assert_eq!(page.status, StatusCode::CONFLICT);
    assert_eq!(page.text("tr:has(#date) .kept"), "2027-05-16");
    assert_eq!(page.value("date"), "2027-05-23");
}

#[tokio::test]
async fn several_athletes_are_entered_at_once_and_withdrawn_one_by_one() {
    let app = TestApp::new().await;
    let race = format!("/races/{}", add_race(&app, "River Ten", "2027-05-09").await);
    let (ana, bo) = (add_athlete(&app, "Ana").await, add_athlete(&app, "Bo").await);
    add_athlete(&app, "Cy").await;
    let fields = [("athlete", ana.as_str()), ("athlete", bo.as_str()), ("importance", "tune-up")];
    let page = app.follow(&app.post(&format!("{race}/enter"), &fields).await).await;
    assert_eq!(page.text(".notice p"), "2 entries made or changed.");
    assert_eq!(names(&page), ["Ana", "Bo"]);
    assert_eq!(page.texts(".entrants tbody td:nth-child(2)"), ["tune-up race", "tune-up race"]);
    assert_eq!(page.texts(".tick-group .check"), ["Cy"]);
    let fields = [("athlete", ana.as_str()), ("importance", "goal")];
    let page = app.follow(&app.post(&format!("{race}/enter"), &fields).await).await;
    assert_eq!(page.texts(".entrants tbody td:nth-child(2)"), ["goal race", "tune-up race"]);
    let page = app.follow(&app.post(&format!("{race}/withdraw"), &[("athlete", bo.as_str())]).await).await;
    assert_eq!(names(&page), ["Ana"]);
}

#[tokio::test]
async fn entering_nobody_says_so_and_enters_nobody() {
    let app = TestApp::new().await;
    let race = format!("/races/{}", add_race(&app, "River Ten", "2027-05-09").await);
    add_athlete(&app, "Ana").await;
    let page = app.post(&format!("{race}/enter"), &[("importance", "goal")]).await;
    assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert_eq!(page.text(".error-summary li"), "Tick at least one athlete, then enter them.");
    assert_eq!(page.attribute(".error-summary a", "href"), "#athletes");
    assert_eq!(app.get(&race).await.count(".entrants"), 0);
}

#[tokio::test]
async fn an_athlete_enters_a_race_from_their_own_page() {
    let app = TestApp::new().await;
    let race = add_race(&app, "River Ten", "2027-05-09").await.to_string();
    let ana = add_runner(&app, "Ana").await;
    let path = format!("/athletes/{ana}");
    let fields = [("race", race.as_str()), ("importance", "goal")];
    let page = app.follow(&app.post(&format!("{path}/enter"), &fields).await).await;
    assert_eq!(page.texts("section[aria-labelledby=races] tbody th a"), ["River Ten"]);
    assert_eq!(page.attribute("section[aria-labelledby=races] form", "action"), format!("{path}/blocks"));
    let made = app.post(&format!("{path}/blocks"), &[("race", race.as_str())]).await;
    assert_eq!(app.follow(&made).await.status, StatusCode::OK);
    assert_eq!(app.get(&path).await.attribute("section[aria-labelledby=races] td a", "href"), made.location());
}

#[tokio::test]
async fn the_blocks_of_a_whole_race_are_made_in_one_step() {
    let app = TestApp::new().await;
    let race = format!("/races/{}", add_race(&app, "River Ten", "2027-05-09").await);
    let mut fields = Vec::new();
    for name in ["Ana", "Bo", "Cy"] {
        fields.push(("athlete", add_runner(&app, name).await));
    }
    let fields: Vec<(&str, &str)> = fields.iter().map(|(name, id)| (*name, id.as_str())).collect();
    let page = app.follow(&app.post(&format!("{race}/enter"), &fields).await).await;
    assert_eq!(page.text(".section-head button"), "Make the 3 missing blocks");
    let answer = app.post(&format!("{race}/blocks"), &[]).await;
    assert_eq!(answer.location(), format!("{race}/review"), "a small squad is planned at once");
    let page = app.follow(&answer).await;
    assert_eq!(page.text(".notice p"), "3 blocks made. Look through them before you hand them over.");
    assert_eq!(page.texts(".many-review tbody th"), ["Ana", "Bo", "Cy"]);
    let page = app.get(&race).await;
    assert_eq!(
        page.texts(".entrants tbody td:nth-child(3) a"),
        ["Open the block of Ana", "Open the block of Bo", "Open the block of Cy"]
    );
    assert!(page.texts(".entrants tbody td:nth-child(3)")[0].ends_with(", not handed over yet, no goals written"));
    assert_eq!(page.count(".section-head button"), 0);
}

#[tokio::test]
async fn who_cannot_be_planned_is_named_with_the_reason_and_the_others_are_planned() {
    let app = TestApp::new().await;
    let race = format!("/races/{}", add_race(&app, "River Ten", "2027-05-09").await);
    let (ana, bo) = (add_runner(&app, "Ana").await, add_athlete(&app, "Bo <b>").await);
    app.post(&format!("{race}/enter"), &[("athlete", ana.as_str()), ("athlete", bo.as_str())]).await.location();
    let page = app.follow(&app.post(&format!("{race}/blocks"), &[]).await).await;
    assert_eq!(page.text("h1"), "One block could not be made");
    assert!(page.text(".lead").starts_with("One block was made and kept."));
    assert_eq!(page.texts("tbody th"), ["Bo <b>"]);
    let why = &page.texts("tbody td")[0];
    assert!(why.starts_with("Base week: "), "{why}");
    assert_eq!(page.attribute("tbody td a", "href"), format!("/athletes/{bo}/week"));
    assert_eq!(app.get(&race).await.text(".section-head button"), "Make the missing block");
}

#[tokio::test]
async fn a_removed_race_comes_back_by_undo() {
    let app = TestApp::new().await;
    let race = format!("/races/{}", add_race(&app, "River Ten", "2027-05-09").await);
    let page = app.follow(&app.post(&format!("{race}/remove"), &[]).await).await;
    assert_eq!(app.get(&race).await.status, StatusCode::NOT_FOUND);
    let undo = page.attribute(".notice form", "action");
    assert_eq!(app.follow(&app.post(&undo, &[]).await).await.text("h1"), "River Ten");
}

#[tokio::test]
async fn an_address_without_a_race_is_our_page_not_found() {
    let app = TestApp::new().await;
    for path in ["/races/99", "/races/x", "/races/99/edit"] {
        assert_eq!(app.get(path).await.status, StatusCode::NOT_FOUND, "{path}");
    }
    for path in ["/races/99", "/races/99/remove", "/races/99/blocks", "/races/99/restore"] {
        assert_eq!(app.post(path, &river_ten()).await.status, StatusCode::NOT_FOUND, "{path}");
    }
    assert_eq!(app.post("/races/99/enter", &[("athlete", "1")]).await.status, StatusCode::NOT_FOUND);
}

#[tokio::test]
async fn a_start_that_the_clocks_leave_out_is_refused_with_zone_and_day() {
    let app = TestApp::new().await;
    let fields = |start| {
        [
            ("name", "Night Mile"),
            ("date", "2027-03-28"),
            ("distance", "5k"),
            ("start", start),
            ("zone", "Europe/Dublin"),
        ]
    };
    let page = app.post("/races", &fields("01:30")).await;
    assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert_eq!(page.value("start"), "01:30");
    let said = "Start: the clocks of Europe/Dublin leave out 01:30 on Sunday 28 March 2027; give another start.";
    assert_eq!(page.text("#start-errors p"), format!("!Error: {said}"));
    app.post("/races", &fields("02:00")).await.location();
}

#[tokio::test]
async fn a_race_whose_day_is_past_is_kept_and_told_with_what_can_still_be_done() {
    let app = TestApp::new().await;
    let hint = app.get("/races/new").await.text("#date-hint");
    assert!(hint.contains("No block can be made for a day that is past"), "{hint}");
    let fields = with(river_ten(), "date", "2027-04-11");
    let page = app.follow(&app.post("/races", &fields).await).await;
    assert_eq!(page.text(".notice p"), "Race added. Its day is past.");
    let told = page.text(".told");
    assert!(told.contains("so no block can be made for it"), "{told}");
    assert!(told.ends_with("change it."), "{told}");
    let id = page.attribute(".told a", "href").replace("/races/", "").replace("/edit", "");
    let runner = add_runner(&app, "Ana").await;
    app.post(&format!("/races/{id}/enter"), &[("athlete", &runner)]).await.location();
    let page = app.get(&format!("/races/{id}")).await;
    assert_eq!(page.count(".section-head form"), 0);
    assert_eq!(app.get(&format!("/races/{}", add_race(&app, "Ahead", "2027-05-09").await)).await.count(".told"), 0);
}

#[tokio::test]
async fn no_block_is_offered_or_made_for_a_race_that_is_called_off() {
    let app = TestApp::new().await;
    let race = add_race(&app, "River Ten", "2027-05-09").await;
    let runner = add_runner(&app, "Ana").await;
    app.post(&format!("/races/{race}/enter"), &[("athlete", &runner)]).await.location();
    app.post(&format!("/races/{race}/call-off"), &[]).await.location();
    let page = app.get(&format!("/races/{race}")).await;
    assert_eq!(page.count(".section-head form"), 0);
    assert!(page.text(".told").contains("No blocks are made for it"));
    assert_eq!(page.text("form[action$=take-place] button"), "It takes place after all");
    assert!(app.get(&format!("/athletes/{runner}")).await.text(".stack").contains("called off, so no block"));
    let answers = [
        app.post(&format!("/races/{race}/blocks"), &[]).await,
        app.post(&format!("/athletes/{runner}/blocks"), &[("race", &race.to_string())]).await,
    ];
    for answer in answers {
        assert_eq!(answer.location(), format!("/races/{race}"));
    }
    app.post(&format!("/races/{race}/take-place"), &[]).await.location();
    assert_eq!(app.get(&format!("/races/{race}")).await.count(".section-head form"), 1);
}

#[tokio::test]
async fn one_block_made_is_opened_and_several_are_reviewed() {
    let app = TestApp::new().await;
    let race = add_race(&app, "River Ten", "2027-05-09").await;
    let runner = add_runner(&app, "Ana").await;
    app.post(&format!("/races/{race}/enter"), &[("athlete", &runner)]).await.location();
    let answer = app.post(&format!("/races/{race}/blocks"), &[]).await;
    assert!(answer.location().starts_with("/blocks/"), "{}", answer.location());
    let page = app.follow(&answer).await;
    assert!(page.text("h1").starts_with("Ana"));
    assert_eq!(page.text(".notice p"), "Block made. Read it through, then hand it over.");
    for name in ["Bo", "Cy"] {
        let runner = add_runner(&app, name).await;
        app.post(&format!("/races/{race}/enter"), &[("athlete", &runner)]).await.location();
    }
    assert_eq!(app.post(&format!("/races/{race}/blocks"), &[]).await.location(), format!("/races/{race}/review"));
}

#[tokio::test]
async fn a_race_that_is_added_from_an_athlete_with_a_week_makes_the_block_with_its_goal() {
    let app = TestApp::new().await;
    let ana = app.ana().await.athlete.to_string();
    let form = app.get(&format!("/races/new?athlete={ana}")).await;
    assert_eq!(form.text("main form button"), "Add race and make the block");
    let mut fields = with(river_ten(), "date", "2027-06-06");
    fields.extend([("athlete", ana.as_str()), ("importance", "goal"), ("goal", "39:30")]);
    let made = app.post("/races", &fields).await;
    let page = app.follow(&made).await;
    assert_eq!(page.text(".notice p"), "Race added, and the block made. Read it through, then hand it over.");
    assert_eq!(app.get(&format!("{}/goals", made.location())).await.value("a"), "39:30");
    assert_eq!(app.post("/races", &fields).await.location(), made.location(), "sent twice it is one block");
}

#[tokio::test]
async fn a_goal_that_no_block_could_keep_is_said_before_anything_is_saved() {
    let app = TestApp::new().await;
    let ana = app.ana().await.athlete.to_string();
    let races = app.get("/races").await.count("tbody tr");
    let asked = |name, importance, date, goal| {
        let mut fields = with(with(river_ten(), "name", name), "date", date);
        fields.extend([("athlete", ana.as_str()), ("importance", importance), ("goal", goal)]);
        fields
    };
    for (importance, date, goal, said) in [
        ("tune-up", "2027-06-06", "39:30", "only a goal race has one"),
        ("goal", "2027-01-06", "39:30", "none can be made yet"),
        ("goal", "2027-06-06", "9:30", "9:30"),
    ] {
        let refused = app.post("/races", &asked("River Two", importance, date, goal)).await;
        assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY, "{said}");
        assert!(refused.text("#goal-errors").contains(said), "{}", refused.text("#goal-errors"));
        assert_eq!((refused.value("goal"), refused.value("name")), (goal.to_owned(), "River Two".to_owned()));
    }
    assert_eq!(app.get("/races").await.count("tbody tr"), races, "nothing was saved");
    let entered = app.follow(&app.post("/races", &asked("River Two", "tune-up", "2027-06-06", "")).await).await;
    assert!(entered.text(".notice p:first-child").starts_with("Race added, with the athlete entered."));
}

#[tokio::test]
async fn a_race_that_is_added_from_an_athlete_enters_that_athlete() {
    let app = TestApp::new().await;
    let runner = add_runner(&app, "Ana").await;
    let from = app.get(&format!("/athletes/{runner}")).await.attribute("#races ~ p a", "href");
    assert_eq!(from, format!("/races/new?athlete={runner}"));
    let form = app.get(&from).await;
    assert_eq!(form.text("label[for=importance]"), "To Ana it is a");
    assert_eq!(form.value("athlete"), runner);
    let mut fields = with(river_ten(), "name", "");
    fields.extend([("athlete", runner.as_str()), ("importance", "tune-up")]);
    let refused = app.post("/races", &fields).await;
    assert_eq!((refused.status, refused.value("athlete")), (StatusCode::UNPROCESSABLE_ENTITY, runner.clone()));
    let page = app.follow(&app.post("/races", &with(fields, "name", "River Ten")).await).await;
    assert_eq!(names(&page), ["Ana"]);
    assert!(page.text(".entrants tbody").contains("tune-up"));
    assert_eq!(page.attribute(".notice a", "href"), format!("/athletes/{runner}"));
    let nobody = app.get("/races/new?athlete=99").await;
    assert_eq!((nobody.status, nobody.count("#importance")), (StatusCode::OK, 0));
}

#[tokio::test]
async fn only_a_goal_race_lacks_a_block() {
    let app = TestApp::new().await;
    let goal = app.ana().await;
    app.plan_block(goal).await;
    let race = app.add_race("Mill Five", "2027-05-02", RaceDistance::FiveK).await;
    for importance in [Importance::TuneUp, Importance::TrainingThrough] {
        app.store.enter(race, goal.athlete, importance, app.now()).await.unwrap();
        let path = format!("/races/{race}");
        let page = app.get(&path).await;
        let says = page.text(".entrants tbody td:nth-child(3)");
        assert!(says.starts_with("no block of its own: it has its place in the goal race's block"), "{says}");
        assert!(!page.attributes("main form", "action").contains(&format!("{path}/blocks")), "{}", page.text("main"));
        let athlete = app.get(&format!("/athletes/{}", goal.athlete)).await;
        assert!(athlete.text(".coming").contains("no block of its own"), "{}", athlete.text(".coming"));
        let offered = athlete.attributes("main form input[name=race]", "value");
        assert_eq!(offered, Vec::<String>::new(), "the goal race has its block");
        // A press on an old page makes none either.
        app.post(&format!("{path}/blocks"), &[]).await.location();
        assert_eq!(app.store.block_for(goal.athlete, race).await.unwrap(), None);
    }
    app.store.enter(race, goal.athlete, Importance::Goal, app.now()).await.unwrap();
    assert_eq!(app.get(&format!("/races/{race}")).await.text(".section-head form button"), "Make the missing block");
    let athlete = app.get(&format!("/athletes/{}", goal.athlete)).await;
    assert_eq!(athlete.attributes("main form input[name=race]", "value"), [race.to_string()]);
}

#[tokio::test]
async fn a_race_called_off_is_called_that_wherever_it_is_listed() {
    let app = TestApp::new().await;
    let ana = app.ana().await;
    app.plan_block(ana).await;
    let (race, athlete) = (format!("/races/{}", ana.race), format!("/athletes/{}", ana.athlete));
    let places = [("/races", ".races"), (&athlete, ".coming"), (&format!("{race}/review"), "main")];
    for (path, place) in places {
        assert!(!app.get(path).await.text(place).contains("called off"), "{path}");
    }
    app.post(&format!("{race}/call-off"), &[]).await.location();
    for (path, place) in places {
        assert!(app.get(path).await.text(place).contains("called off"), "{path}");
    }
    let review = app.get(&format!("{race}/review")).await;
    assert!(
        !review.attributes("main a", "href").contains(&format!("{race}/hand-over")),
        "there is nothing to hand over"
    );
}

#[tokio::test]
async fn the_page_of_a_race_called_off_says_for_whom_the_board_asks() {
    let app = TestApp::new().await;
    let ana = app.ana().await;
    app.plan_block(ana).await;
    let next = app.add_race("Larch Half", "2027-06-20", RaceDistance::Half).await;
    app.store.enter(next, ana.athlete, Importance::Goal, app.now()).await.unwrap();
    let path = format!("/races/{}", ana.race);
    app.post(&format!("{path}/call-off"), &[]).await.location();
    let told = app.get(&path).await.text(".told");
    assert!(told.contains("whose goal race it is and who has no other goal race ahead"), "{told}");
    assert!(!app.get("/").await.text("main").contains("agree how it goes on"), "another goal race is ahead");
    app.store.withdraw(next, ana.athlete, app.now()).await.unwrap();
    assert!(app.get("/").await.text("main").contains("agree how it goes on"));
}
