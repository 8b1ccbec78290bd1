//! Who is ill, injured or in the recovery after a race: every page of the coach says so, and nobody else's does.

use axum::http::StatusCode;
use ebbline_tests::{Answer, TestApp, date, get_shared};
use planning::{Importance, RaceDistance};
use store::AthleteId;

/// Notes something with the form of the log; `to` may be empty.
async fn note(app: &TestApp, athlete: AthleteId, kind: &str, from: &str, to: &str) -> Answer {
    let fields = [("kind", kind), ("from", from), ("to", to), ("note", "coughs at night")];
    app.follow(&app.post(&format!("/athletes/{athlete}/events"), &fields).await).await
}

fn needs(page: &Answer) -> String {
    page.text(".board-needs")
}

#[tokio::test]
async fn the_board_says_who_is_ill_since_when_and_that_no_end_is_noted() {
    // The block begins on Thursday 29 April, and its first weeks are laid out from the weeks before.
    let app = TestApp::on("2027-03-30").await;
    let block = app.ana_block().await;
    let ana = app.store.block(block).await.unwrap().unwrap().athlete.id;
    assert_eq!(app.get("/").await.text(".board-week"), "This week: as usual");
    note(&app, ana, "fever", "2027-03-28", "").await;
    let page = app.get("/").await;
    assert!(needs(&page).starts_with("Ill with fever since Sunday, no end noted; "), "{}", needs(&page));
    assert_eq!(page.attribute(".board-needs strong a", "href"), format!("/athletes/{ana}/log#happened"));
    assert!(
        page.text(".board-week").ends_with("as usual, but not while ill with fever"),
        "{}",
        page.text(".board-week")
    );
    assert_eq!(page.texts(".board-heading span:first-child"), ["Soon"]);
    assert!(page.attributes("#need option", "value").contains(&"unwell".to_owned()));
    assert_eq!(app.get("/?need=unwell").await.count(".board-needs"), 1);
    // Three days before the block begins it cannot wait.
    let app = app.later("2027-04-26");
    assert_eq!(app.get("/").await.texts(".board-heading span:first-child"), ["Need you now"]);
}

#[tokio::test]
async fn an_end_that_is_known_is_said_and_so_are_the_easy_days_after_it() {
    let app = TestApp::on("2027-04-20").await;
    let block = app.ana_block().await;
    let ana = app.store.block(block).await.unwrap().unwrap().athlete.id;
    note(&app, ana, "fever", "2027-04-18", "2027-04-21").await;
    let page = app.get("/").await;
    assert!(needs(&page).contains("ill with fever since Sunday, until Wednesday"), "{}", needs(&page));
    let app = app.later("2027-04-22");
    let page = app.get("/").await;
    let stands = page.text(".board-stands");
    assert!(
        stands.ends_with("Block begins in 7 days; ill with fever until Wednesday, easy days until Monday"),
        "{stands}"
    );
    assert!(page.text(".board-week").ends_with("as usual, but easy until Monday"), "{}", page.text(".board-week"));
    let app = app.later("2027-04-27");
    assert!(app.get("/").await.text(".board-stands").ends_with("Block begins in 2 days"));
}

#[tokio::test]
async fn the_recovery_after_a_goal_race_is_no_usual_week() {
    let app = TestApp::on("2027-04-20").await;
    let ana = app.ana().await.athlete;
    let race = app.add_race("River Half", "2027-04-19", RaceDistance::Half).await;
    app.store.enter(race, ana, Importance::Goal, app.now()).await.unwrap();
    let page = app.get("/").await;
    assert!(needs(&page).ends_with("Recovery after River Half until Mon 26 Apr"), "{}", needs(&page));
    assert_eq!(page.text(".board-week"), "This week: as usual, but recovery until Mon 26 Apr");
    // A tune-up race is run through, and who did not start has nothing to recover from.
    app.store.enter(race, ana, Importance::TuneUp, app.now()).await.unwrap();
    assert_eq!(app.get("/").await.text(".board-week"), "This week: as usual");
}

#[tokio::test]
async fn after_the_recovery_the_running_comes_back_on_the_board_as_in_the_season_and_beside_the_result() {
    let app = TestApp::on("2027-04-20").await;
    let ana = app.ana().await.athlete;
    let race = app.add_race("River Half", "2027-04-19", RaceDistance::Half).await;
    app.store.enter(race, ana, Importance::Goal, app.now()).await.unwrap();
    let app = app.later("2027-04-27");
    let page = app.get("/").await;
    assert!(needs(&page).ends_with("Running comes back after River Half until Wed 28 Apr"), "{}", needs(&page));
    assert_eq!(page.text(".board-week"), "This week: as usual, but running comes back until Wed 28 Apr");
    let printed = app.get("/board/print?running=yes").await;
    assert!(printed.text("main").contains("running comes back until Wed 28 Apr"), "{}", printed.text("main"));
    let season = app.get(&format!("/athletes/{ana}/season")).await.text("tr[aria-current]");
    assert!(season.contains("Running comes back") && season.contains("27 to 28 April"), "{season}");
    let debrief = app.get(&format!("/races/{race}/results/{ana}")).await.text("tr[aria-current]");
    assert_eq!(debrief, season);
}

#[tokio::test]
async fn the_season_shows_an_illness_in_the_picture_and_beside_the_phase() {
    let app = TestApp::on("2027-04-20").await;
    let ana = app.ana().await.athlete;
    note(&app, ana, "injury", "2027-04-13", "").await;
    let page = app.get(&format!("/athletes/{ana}/season")).await;
    assert_eq!(page.count("svg[role=img] .s-unwell"), 1);
    let usual = page.text("tr[aria-current]");
    assert!(usual.contains("Injured since Tue 13 Apr, no end noted"), "{usual}");
    assert!(usual.contains("but not while injured"), "{usual}");
    assert!(!page.texts("#phases ~ table tbody tr")[1].contains("njured"), "the block is not reached so far");
}

#[tokio::test]
async fn the_review_is_cautious_where_a_block_begins_in_or_just_after_an_illness() {
    let app = TestApp::on("2027-04-20").await;
    let entered = app.ana().await;
    let block = app.make_block(entered).await;
    let review = |page: &Answer| page.text("#live-review");
    let path = format!("/blocks/{block}");
    assert!(!review(&app.get(&path).await).contains("illness"));
    note(&app, entered.athlete, "fever", "2027-04-18", "").await;
    let told = "An illness with fever since Sunday 18 April, and no end of it is noted";
    assert!(review(&app.get(&path).await).contains(told), "{}", review(&app.get(&path).await));
    let all = app.get(&format!("/races/{}/review", entered.race)).await;
    assert!(all.body().contains(told), "{}", all.body());
}

#[tokio::test]
async fn the_review_is_cautious_where_a_block_begins_in_the_recovery_from_a_goal_race() {
    // Ten days of block from Thursday 29 April, and a half marathon two days before.
    let app = TestApp::on("2027-04-20").await;
    let entered = app.ana().await;
    let half = app.add_race("River Half", "2027-04-27", RaceDistance::Half).await;
    app.store.enter(half, entered.athlete, Importance::Goal, app.now()).await.unwrap();
    let block = app.make_block(entered).await;
    let version = app.version_of(block).await.to_string();
    let ten_days = [
        ("version", version.as_str()),
        ("days", "10"),
        ("shape", "ebb"),
        ("day_before", "auto"),
        ("extra_rest", "auto"),
    ];
    app.post(&format!("/blocks/{block}/settings"), &ten_days).await.location();
    let page = app.get(&format!("/blocks/{block}")).await;
    let review = page.text("#live-review");
    let told = "The block begins 2 days after the goal race River Half, and 7 days of recovery are usual: nothing hard before \
                Wednesday 5 May";
    assert!(review.contains(told), "{review}");
}

#[tokio::test]
async fn nothing_of_health_leaves_the_coachs_pages() {
    let app = TestApp::on("2027-04-20").await;
    let block = app.ana_block().await;
    let ana = app.store.block(block).await.unwrap().unwrap().athlete.id;
    note(&app, ana, "fever", "2027-04-18", "").await;
    let link = app.hand_over(block, "").await;
    let door = app.share_door().await;
    let pages = [
        app.get("/board/print?block=yes&running=yes").await,
        app.get(&format!("/blocks/{block}/print")).await,
        app.get(&format!("/blocks/{block}/file")).await,
        get_shared(&door, &link).await,
    ];
    for page in pages {
        assert_eq!(page.status, StatusCode::OK);
        let body = page.body().replace("fever or illness below the neck", "");
        for word in ["fever", "illness", "ill with", "no end noted", "not while", "coughs"] {
            assert!(!body.contains(word), "{word} in {body}");
        }
    }
}

#[tokio::test]
async fn an_illness_without_an_end_goes_on_until_one_is_noted() {
    let app = TestApp::on("2027-04-20").await;
    let ana = app.ana().await.athlete;
    let log = format!("/athletes/{ana}/log");
    assert!(app.get(&log).await.text("#to-hint").contains("Illness or injury that is not over: leave it empty"));
    let page = note(&app, ana, "illness", "2027-04-18", "").await;
    assert!(page.text("#happened ~ table tbody tr").contains("since Sun 18 Apr, no end noted"));
    let kept = app.store.events_of(ana).await.unwrap()[0].event;
    assert!(kept.open && kept.to == date("2027-04-20"));

    let app = app.later("2027-04-24");
    let page = app.get(&log).await;
    let end = page.attribute("form[action$='/end']", "action");
    let version = page.value("version");
    assert_eq!(page.attribute("input[name=well]", "value"), "2027-04-24");
    // What cannot be comes back as typed.
    for (well, told) in [
        ("2027-04-18", "Well again on: Sunday 18 April 2027 must be after Sunday 18 April 2027, when it began"),
        ("soon", "Well again on: “soon” is not a date"),
        ("", "Well again on: nothing is given here"),
        ("2027-04-25", "Well again on: Sunday 25 April 2027 has not come yet"),
        ("2099-01-01", "Well again on: Thursday 1 January 2099 has not come yet"),
    ] {
        let page = app.post(&end, &[("version", "1"), ("well", well)]).await;
        assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY);
        assert!(page.text("#problems li").starts_with(told), "{}", page.text("#problems li"));
        assert_eq!(page.attribute("input[name=well]", "value"), well);
    }
    let page = app.follow(&app.post(&end, &[("version", "1"), ("well", "2027-04-23")]).await).await;
    assert!(page.text("#happened ~ table tbody tr").contains("18 to 22 April, 5 days"), "{version}");
    assert_eq!(page.count("form[action$='/end']"), 0);
    let stale = app.post(&end, &[("version", "1"), ("well", "2027-04-24")]).await;
    assert_eq!(stale.status, StatusCode::CONFLICT);
    assert!(stale.body().contains("2027-04-23") && stale.body().contains("2027-04-24"));
}

#[tokio::test]
async fn the_end_of_a_fever_is_asked_for_by_its_name_and_not_on_the_day_on_which_it_began() {
    let app = TestApp::on("2027-04-20").await;
    let ana = app.ana().await.athlete;
    note(&app, ana, "fever", "2027-04-20", "").await;
    let log = format!("/athletes/{ana}/log");
    let page = app.get(&log).await;
    assert_eq!(page.count("form[action$='/end']"), 0, "no day without it has come yet");
    assert!(page.text("main").contains("Its end can be noted from the day after it began."));
    let app = app.later("2027-04-21");
    let page = app.get(&log).await;
    let end = page.attribute("form[action$='/end']", "action");
    assert!(page.text("form[action$='/end'] label").starts_with("First day without fever"));
    let page = app.post(&end, &[("version", &page.value("version")), ("well", "2027-04-22")]).await;
    assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY);
    let told = "First day without fever: Thursday 22 April 2027 has not come yet";
    assert!(page.text(".field-errors").contains(told), "{}", page.text(".field-errors"));
    assert_eq!(page.attribute("input[name=well]", "value"), "2027-04-22");
    assert!(app.store.events_of(ana).await.unwrap()[0].event.open, "nothing is noted");
}

#[tokio::test]
async fn where_the_review_says_stop_so_does_the_board() {
    let app = TestApp::on("2027-05-04").await;
    let block = app.ana_block().await;
    let ana = app.store.block(block).await.unwrap().unwrap().athlete.id;
    let stop = "review says stop: fever within a week of the race";
    assert!(!needs(&app.get("/").await).contains("stop"));
    note(&app, ana, "fever", "2027-05-03", "2027-05-03").await;
    let page = app.get("/").await;
    assert!(needs(&page).contains(stop), "{}", needs(&page));
    assert!(app.get(&format!("/blocks/{block}")).await.text("#live-review").contains("Stop"));
    let page = app.get("/?need=stop").await;
    let place = format!("/blocks/{block}#review-title");
    assert!(page.attributes(".board-needs strong a", "href").contains(&place));
    // The new plan holds nothing hard before the race.
    let replan = format!("/blocks/{block}/replan");
    app.post(&replan, &[("version", &app.get(&replan).await.value("version"))]).await.location();
    let planned = app.store.block(block).await.unwrap().unwrap().block;
    let ahead = planned.days.iter().filter(|day| day.date > date("2027-05-03") && day.to_race > 0);
    assert!(ahead.flat_map(|day| &day.sessions).all(|planned| !planned.session.is_hard()));
    // Long after the easy days it is still to be decided.
    let app = app.later("2027-05-08");
    let page = app.get("/").await;
    assert!(needs(&page).contains(stop), "{}", needs(&page));
    assert_eq!(page.texts(".board-heading span:first-child"), ["Need you now"]);
    assert!(app.get(&format!("/blocks/{block}")).await.text("#live-review").contains("Stop"));
}

#[tokio::test]
async fn the_board_says_stop_for_who_is_too_young_for_a_marathon() {
    let app = TestApp::on("2027-04-20").await;
    let mut entered = app.ana().await;
    entered.race = app.add_race("River Marathon", "2027-06-13", RaceDistance::Marathon).await;
    app.store.withdraw(app.store.races().await.unwrap()[0].0.id, entered.athlete, app.now()).await.unwrap();
    app.store.enter(entered.race, entered.athlete, Importance::Goal, app.now()).await.unwrap();
    let block = app.make_block(entered).await;
    let born = async |year: i32| {
        let record = app.store.athlete(entered.athlete).await.unwrap().unwrap();
        let mut draft = record.draft;
        draft.athlete.birth_year = Some(year);
        app.store.save_athlete(entered.athlete, record.version, &draft, app.now()).await.unwrap();
        let stops = app.get(&format!("/blocks/{block}")).await.text("#live-review").contains("Stop");
        let page = app.get("/").await;
        assert_eq!(needs(&page).contains("review says stop: under 18"), stops, "{year}: {}", needs(&page));
        stops
    };
    assert!(!born(2009).await);
    assert!(born(2010).await);
}

#[tokio::test]
async fn the_season_counts_no_day_of_illness_as_run() {
    let app = TestApp::on("2027-04-20").await;
    let ana = app.ana().await.athlete;
    let season = format!("/athletes/{ana}/season");
    let first = async |app: &TestApp| app.get(&season).await.texts("#phases ~ table tbody tr").remove(0);
    let well = first(&app).await;
    assert!(!well.contains("usually"), "{well}");
    note(&app, ana, "injury", "2027-04-12", "").await;
    let hurt = first(&app).await;
    assert!(hurt.contains("usually") && hurt.contains("not while injured"), "{hurt}");
}

#[tokio::test]
async fn travel_without_an_end_is_one_day() {
    let app = TestApp::on("2027-04-20").await;
    let ana = app.ana().await.athlete;
    note(&app, ana, "travel", "2027-04-18", "").await;
    let kept = app.store.events_of(ana).await.unwrap()[0].event;
    assert!(!kept.open && kept.to == kept.from);
}

#[tokio::test]
async fn inside_a_block_each_day_of_an_illness_waits_for_a_word() {
    let app = TestApp::on("2027-05-01").await;
    let block = app.ana_block().await;
    let ana = app.store.block(block).await.unwrap().unwrap().athlete.id;
    note(&app, ana, "fever", "2027-04-30", "").await;
    assert!(needs(&app.get("/").await).contains("llness with fever noted, the block waits for your word"));
    let replan = format!("/blocks/{block}/replan");
    let page = app.get(&replan).await;
    assert!(page.body().contains("Illness with fever since Friday 30 April, no end noted"), "{}", page.body());
    app.post(&replan, &[("version", &page.value("version"))]).await.location();
    let page = app.get("/").await;
    assert!(!needs(&page).contains("waits for your word"), "{}", needs(&page));
    assert!(needs(&page).contains("no end noted"));
    // Another day of it is another day of rest.
    let app = app.later("2027-05-02");
    assert!(needs(&app.get("/").await).contains("the block waits for your word"));
    assert!(app.get(&replan).await.count(".sides tbody tr") > 0);
}

#[tokio::test]
async fn noting_an_illness_is_one_step_away_and_so_is_its_end() {
    let app = TestApp::on("2027-04-20").await;
    let block = app.ana_block().await;
    let ana = app.store.block(block).await.unwrap().unwrap().athlete.id;
    let way = format!("/athletes/{ana}/log#note-something");
    for path in [format!("/athletes/{ana}"), format!("/blocks/{block}")] {
        let page = app.get(&path).await;
        assert_eq!(page.texts(&format!("main a[href='{way}']")), ["Note an illness, injury or travel"], "{path}");
    }
    assert_eq!(app.get(&format!("/athletes/{ana}/log")).await.count("#note-something"), 1);
    note(&app, ana, "injury", "2027-04-18", "").await;
    let page = app.get(&format!("/athletes/{ana}")).await;
    assert!(page.text(".told").starts_with("Injured since Sunday, no end noted."), "{}", page.text(".told"));
    let end = page.attribute("form[action$='/end']", "action");
    app.post(&end, &[("version", &page.value("version")), ("well", "2027-04-20")]).await.location();
    let page = app.get(&format!("/athletes/{ana}")).await;
    assert_eq!(page.text(".told"), "Injured until Monday, easy days until Wednesday.");
}

#[tokio::test]
async fn who_is_ill_is_named_on_the_race_above_its_prints_and_in_the_calendar() {
    let app = TestApp::on("2027-04-20").await;
    let block = app.ana_block().await;
    let record = app.store.block(block).await.unwrap().unwrap();
    let (ana, race) = (record.athlete.id, record.race.id);
    let places = [
        (format!("/races/{race}"), ".entrants th[scope=row]"),
        (format!("/races/{race}/print"), ".sheet-hint"),
        ("/calendar".to_owned(), ".sc tbody th.sc-who"),
    ];
    for (path, place) in &places {
        assert!(!app.get(path).await.text(place).contains("fever"), "{path}");
    }
    note(&app, ana, "fever", "2027-04-18", "").await;
    for (path, place) in &places {
        let page = app.get(path).await;
        let said = page.text(place);
        assert!(said.contains("Ill with fever since Sunday, no end noted"), "{path}: {said}");
        assert!(
            !page.texts("section.sheet").iter().any(|sheet| sheet.contains("Ill with")),
            "{path}: never on the paper"
        );
    }
    // Over, but its days are still easy.
    let kept = app.store.events_of(ana).await.unwrap().remove(0);
    app.store.end_event(ana, kept.id, kept.version, date("2027-04-19")).await.unwrap();
    for (path, place) in &places {
        let said = app.get(path).await.text(place);
        assert!(said.contains("Ill with fever until ") && said.contains("easy days until"), "{path}: {said}");
    }
}
