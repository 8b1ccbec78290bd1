//! The athletes' door: what a link shows, and that it shows nothing else.

use axum::http::StatusCode;
use ebbline_tests::{SHARE_HOST, TestApp, get_from, get_shared};
use store::BlockId;

/// What only the coach may see of Ana.
const PRIVATE: [&str; 6] = ["asthma", "coffee", "Track", "Caution", "Review", "href=\"/blocks"];

async fn with_goals(app: &TestApp) -> BlockId {
    let block = app.ana_block().await;
    let version = app.version_of(block).await.to_string();
    let goals = [("version", version.as_str()), ("a", "under 44:00"), ("message", "See you there.")];
    app.post(&format!("/blocks/{block}/goals"), &goals).await.location();
    block
}

#[tokio::test]
async fn today_stands_on_top_with_its_reason() {
    let app = TestApp::on("2027-05-04").await;
    let block = with_goals(&app).await;
    let path = app.hand_over(block, "yes").await;
    let page = get_shared(&app.share_door().await, &path).await;
    assert_eq!(page.status, StatusCode::OK);
    assert_eq!(page.text("h1"), "Harbour 10");
    assert_eq!(page.text(".today h2"), "Today Tuesday 4 May");
    assert!(page.text(".today").contains("3 × 800 m 10k pace"), "{}", page.text(".today"));
    assert!(page.text(".today .day-why").contains("one hard session of race week"));
    assert!(page.text(".lead").contains("5 days to go"));
    assert_eq!(page.count("[aria-labelledby=days-title] .day-list li"), 5, "the days after today");
    assert!(page.text("footer").contains("Version 1 of Tuesday 4 May 2027."));
}

#[tokio::test]
async fn nothing_private_and_nothing_to_change_stands_on_the_page() {
    let app = TestApp::on("2027-05-04").await;
    let block = with_goals(&app).await;
    let path = app.hand_over(block, "yes").await;
    let door = app.share_door().await;
    for address in [path.clone(), format!("{path}/print")] {
        let page = get_shared(&door, &address).await;
        assert_eq!(page.status, StatusCode::OK, "{address}");
        for private in PRIVATE {
            assert!(!page.body().contains(private), "{address}: {private}");
        }
        assert_eq!(page.count("form, input, button, script"), 0, "{address}");
        assert_eq!(page.header("x-robots-tag"), "noindex, nofollow, noarchive");
        assert_eq!(page.header("referrer-policy"), "no-referrer");
        assert_eq!(page.header("cache-control"), "no-store");
        assert_eq!(page.count("meta[name=robots]"), 1);
    }
}

#[tokio::test]
async fn goals_are_shown_only_where_the_coach_said_so_and_the_message_always() {
    let app = TestApp::on("2027-05-04").await;
    let block = with_goals(&app).await;
    let path = app.hand_over(block, "no").await;
    let door = app.share_door().await;
    let page = get_shared(&door, &path).await;
    assert!(!page.body().contains("under 44:00"));
    assert_eq!(page.text(".goal-message p"), "See you there.");
    app.hand_over(block, "yes").await;
    assert_eq!(get_shared(&door, &path).await.text(".goal-list dd"), "under 44:00");
}

#[tokio::test]
async fn goals_and_stretches_have_a_choice_each_and_stay_as_they_were_handed_over() {
    let app = TestApp::on("2027-05-04").await;
    let block = with_goals(&app).await;
    let save = async |a: &str, cue: &str| {
        let version = app.version_of(block).await.to_string();
        let goals = [("version", version.as_str()), ("a", a), ("last_cue", cue)];
        app.post(&format!("/blocks/{block}/goals"), &goals).await.location();
    };
    save("under 44:00", "home").await;
    let version = app.version_of(block).await.to_string();
    let fields = [("version", version.as_str()), ("stretches", "yes")];
    app.post(&format!("/blocks/{block}/hand-over"), &fields).await.location();
    let token = app.store.block(block).await.unwrap().unwrap().share.unwrap().token;
    let door = app.share_door().await;
    let page = get_shared(&door, &format!("/p/{token}")).await;
    assert!(page.text(".stretches tbody").contains("home") && !page.body().contains("under 44:00"));

    save("under 43:00", "river").await;
    let page = get_shared(&door, &format!("/p/{token}")).await;
    assert!(page.text(".stretches tbody").contains("home") && !page.body().contains("river"));
    let coach = app.get(&format!("/blocks/{block}")).await;
    assert!(coach.text(".block-version").contains("Goals or race sheet changed since it was handed over."));
    assert!(coach.text(".hand-over").contains("Goals, words or race sheet changed since it was handed over"));
    assert!(app.get("/").await.text(".board-needs").contains("oals or race sheet changed since they were handed over"));
    let version = app.version_of(block).await.to_string();
    let fields = [("version", version.as_str()), ("stretches", "yes")];
    app.post(&format!("/blocks/{block}/hand-over"), &fields).await.location();
    let page = get_shared(&door, &format!("/p/{token}")).await;
    assert!(page.text(".stretches tbody").contains("river"));
    assert!(
        page.text("footer").contains("replaces version 1 of 4 May, whose goals or words were others"),
        "{}",
        page.text("footer")
    );
}

#[tokio::test]
async fn a_race_called_off_is_said_first_wherever_the_athlete_looks_and_taken_back_at_once() {
    let app = TestApp::on("2027-05-04").await;
    let block = with_goals(&app).await;
    let path = app.hand_over(block, "yes").await;
    let door = app.share_door().await;
    let race = app.store.block(block).await.unwrap().unwrap().race.id;
    let looks = async || {
        let pages = [get_shared(&door, &path).await, get_shared(&door, &format!("{path}/print")).await];
        (pages, app.get(&format!("/blocks/{block}/file")).await, app.get(&format!("/blocks/{block}/print")).await)
    };
    let feed = async || get_shared(&door, &format!("{path}/calendar.ics")).await.body().replace("\r\n ", "");
    let before = looks().await;
    let (first_feed, messages) = (feed().await, app.get(&format!("/blocks/{block}")).await.count(".message"));
    assert!(messages > 0);

    app.post(&format!("/races/{race}/call-off"), &[]).await.location();
    let ([page, sheet], file, print) = looks().await;
    assert!(file.location().starts_with(&format!("/blocks/{block}")), "there is no file of it any more");
    for page in [&page, &sheet, &print] {
        assert_eq!(page.text(".called-off"), "This race is called off. Your coach will say how it goes on.");
        assert!(!page.body().contains("to go.") && !page.body().contains(">Today"), "{}", page.body());
    }
    let first = page.body().find("called off").unwrap();
    assert!(page.body().find("9 May").is_some_and(|day| first < day), "before anything else");
    assert_eq!((page.count(".today"), page.count("details .day-list"), page.count("main > section")), (0, 1, 0));
    assert_eq!((sheet.count("table"), print.count("table")), (0, 0), "on paper nothing is folded");
    let off = feed().await;
    assert!(off.contains("\r\nSTATUS:CANCELLED\r\nSUMMARY:Called off: Harbour 10\\, 10 km\r\n"), "{off}");
    assert_eq!(off.matches("BEGIN:VEVENT").count(), first_feed.matches("BEGIN:VEVENT").count());
    let to_give = app.get(&format!("/blocks/{block}/calendar")).await;
    assert!(to_give.location().starts_with(&format!("/blocks/{block}")), "nor a calendar to give");
    let coach = app.get(&format!("/blocks/{block}")).await;
    assert_eq!(coach.attributes(".message", "id"), ["message-called-off"]);
    assert!(coach.text(".messages-hint").starts_with("The race is called off, so its other messages are withheld"));
    assert!(coach.text(".lead").starts_with("The race is called off."), "{}", coach.text(".lead"));
    let board = app.get("/").await;
    assert_eq!(board.texts(".board-heading span:first-child"), ["Need you now"]);
    assert_eq!(board.text(".board-needs strong"), "The race is called off: agree how it goes on");
    assert_eq!(board.text(".board-away"), "called off");

    app.post(&format!("/races/{race}/take-place"), &[]).await.location();
    let after = looks().await;
    assert_eq!(after.0.map(|page| page.body().to_owned()), before.0.map(|page| page.body().to_owned()));
    assert_eq!((after.1.body(), after.2.body()), (before.1.body(), before.2.body()));
    let back = feed().await;
    assert!(!back.contains("STATUS") && back.contains("SUMMARY:Race: Harbour 10\\, 10 km"), "{back}");
    assert_eq!(app.get(&format!("/blocks/{block}")).await.count(".message"), messages);
    assert_eq!(app.get("/").await.text(".board-away"), "in 5 days");
}

#[tokio::test]
async fn days_to_go_go_on_with_the_sentence_that_they_stand_in() {
    let app = TestApp::on("2027-05-08").await;
    let block = app.ana_block().await;
    let path = app.hand_over(block, "no").await;
    let page = get_shared(&app.share_door().await, &path).await;
    assert!(page.text(".lead").starts_with("Ana Exemplo: one day to go."), "{}", page.text(".lead"));
    assert!(app.get(&format!("/blocks/{block}")).await.text(".lead").starts_with("One day to go."));
}

#[tokio::test]
async fn a_preview_in_a_chat_says_no_more_than_who_and_which_race() {
    let app = TestApp::on("2027-05-04").await;
    let block = with_goals(&app).await;
    let path = app.hand_over(block, "yes").await;
    let page = get_shared(&app.share_door().await, &path).await;
    assert_eq!(page.text("head title"), "Ana Exemplo, Harbour 10");
    let told = page.attributes("meta[property], meta[name=description]", "content");
    assert_eq!(told, ["Ana Exemplo, Harbour 10", "Harbour 10"]);
}

#[tokio::test]
async fn the_picture_has_its_facts_beside_it_and_days_behind_are_folded() {
    let app = TestApp::new().await;
    let block = with_goals(&app).await;
    let app = app.later("2027-05-04");
    let path = app.hand_over(block, "yes").await;
    let page = get_shared(&app.share_door_on("2027-05-04").await, &path).await;
    let facts = page.texts(".ebb-facts li");
    assert_eq!(facts.len(), 2, "{facts:?}");
    assert!(facts[1].starts_with("Race week, 3 to 9 May: ") && facts[1].contains("before the race, usually"));
    assert!(page.texts("details .day-list li").iter().any(|day| day.starts_with("Monday 3 May")));
}

#[tokio::test]
async fn the_athlete_sees_what_was_handed_over_until_it_is_handed_over_anew() {
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    let path = app.hand_over(block, "no").await;
    let door = app.share_door().await;
    let before = get_shared(&door, &path).await.texts(".day-list li");
    let version = app.version_of(block).await.to_string();
    let settings = [("version", version.as_str()), ("days", "7"), ("floor", "30"), ("shape", "linear")];
    app.post(&format!("/blocks/{block}/settings"), &settings).await.location();
    assert_eq!(get_shared(&door, &path).await.texts(".day-list li"), before);
    app.hand_over(block, "no").await;
    let page = get_shared(&door, &path).await;
    assert_ne!(page.texts(".day-list li"), before);
    assert!(page.text("footer").contains("replaces version 1 of 20 April"), "{}", page.text("footer"));
}

#[tokio::test]
async fn sheets_of_one_day_are_told_apart_by_their_numbers() {
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    let path = app.hand_over(block, "no").await;
    for days in ["8", "7"] {
        let version = app.version_of(block).await.to_string();
        let settings = [("version", version.as_str()), ("days", days), ("shape", "ebb")];
        app.post(&format!("/blocks/{block}/settings"), &settings).await.location();
        app.hand_over(block, "no").await;
    }
    let said = "Version 3 of Tuesday 20 April 2027; replaces version 2 of 20 April.";
    let door = app.share_door().await;
    for address in [path.clone(), format!("{path}/print")] {
        let page = get_shared(&door, &address).await;
        assert!(page.text("body").contains(said), "{}", page.text("body"));
    }
    assert!(app.get(&format!("/blocks/{block}/file")).await.text("footer").contains(said));
    assert!(app.get(&format!("/blocks/{block}/print")).await.text(".sheet-version").contains(said));
}

#[tokio::test]
async fn unknown_ended_and_revoked_links_look_like_any_other_address() {
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    let path = app.hand_over(block, "no").await;
    let door = app.share_door().await;
    let other = get_shared(&door, "/nothing/here").await;
    assert_eq!(other.status, StatusCode::NOT_FOUND);
    let mut paths = vec!["/p/0".to_owned(), "/p/%FF".to_owned(), format!("{path}x"), format!("{path}/calendar")];
    app.post(&format!("/blocks/{block}/hand-over/end"), &[]).await.location();
    paths.extend([path.clone(), format!("{path}/print")]);
    for path in paths {
        let page = get_shared(&door, &path).await;
        assert_eq!((page.status, page.body()), (other.status, other.body()), "{path}");
        assert_eq!(page.headers, other.headers, "{path}");
    }
}

#[tokio::test]
async fn a_link_ends_by_its_date() {
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    let ends = ebbline_tests::date("2027-04-19");
    let share = app.store.hand_over(block, store::Shows::NOTHING, ends, app.now()).await.unwrap();
    let page = get_shared(&app.share_door().await, &format!("/p/{}", share.token)).await;
    assert_eq!(page.status, StatusCode::NOT_FOUND);
}

#[tokio::test]
async fn looking_changes_nothing_and_the_coachs_pages_are_not_on_this_door() {
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    let path = app.hand_over(block, "no").await;
    let door = app.share_door().await;
    let before = app.store.block(block).await.unwrap();
    get_shared(&door, &path).await;
    assert_eq!(app.store.block(block).await.unwrap(), before);
    for address in ["/", "/athletes", &format!("/blocks/{block}"), "/settings"] {
        let page = get_from(door.clone(), SHARE_HOST, address).await;
        assert_eq!(page.status, StatusCode::NOT_FOUND, "{address}");
    }
    assert_eq!(app.get(&path).await.status, StatusCode::NOT_FOUND, "nor links on the coach's");
}

#[tokio::test]
async fn before_and_after_the_block_the_page_says_so() {
    for (today, expected) in
        [("2027-04-21", "as usual"), ("2027-05-09", "Race, 10 km, 9:30"), ("2027-05-11", "The race is behind you.")]
    {
        let app = TestApp::on("2027-04-20").await;
        let block = app.ana_block().await;
        let path = app.hand_over(block, "no").await;
        let page = get_shared(&app.share_door_on(today).await, &path).await;
        assert_eq!(page.text(".today .day-planned"), expected, "{today}");
    }
}

#[tokio::test]
async fn a_race_called_off_says_on_the_page_of_the_block_what_can_be_done_and_taking_it_ends_the_asking() {
    // The block begins on Thursday 29 April.
    for (today, begun) in [("2027-04-20", false), ("2027-05-04", true)] {
        let app = TestApp::on("2027-04-20").await;
        let block = app.ana_block().await;
        let app = app.later(today);
        let record = app.store.block(block).await.unwrap().unwrap();
        let (race, ana) = (record.race.id, record.athlete.id.to_string());
        app.post(&format!("/races/{race}/call-off"), &[]).await.location();
        let path = format!("/blocks/{block}");
        assert_eq!(app.get("/").await.attribute(".board-needs a", "href"), path);
        let page = app.get(&path).await;
        let links = page.attributes(".told a", "href");
        assert_eq!(links.contains(&format!("/blocks/{block}/replan")), begun, "{links:?}");
        assert_eq!(page.text(".told").contains("else the usual week goes on"), !begun);
        assert!(page.text("#live-review").starts_with("The race is called off"), "{}", page.text("#live-review"));
        let answers = page.attributes(".told-answer form", "action");
        assert_eq!(answers, [format!("/races/{race}/settle"), format!("/races/{race}/withdraw")]);
        assert_eq!(page.attributes(".told-answer input[name=athlete]", "value"), [ana.clone(), ana.clone()]);
        app.post(&format!("/races/{race}/withdraw"), &[("athlete", &ana)]).await.location();
        assert_eq!(app.get("/").await.count(".board-needs strong"), 0);
        assert!(app.get("/removed").await.text("main").contains("Harbour 10"), "it can be brought back");
    }
}

#[tokio::test]
async fn who_is_withdrawn_with_a_block_in_hand_is_asked_about_until_it_is_settled_with_a_message_to_copy() {
    let app = TestApp::on("2027-04-20").await;
    let block = app.ana_block().await;
    let app = app.later("2027-05-04");
    let record = app.store.block(block).await.unwrap().unwrap();
    let (race, ana) = (record.race.id, record.athlete.id.to_string());
    let (page, withdraw) = (format!("/races/{race}"), format!("/races/{race}/withdraw"));
    let taken_off = app.follow(&app.post(&withdraw, &[("athlete", &ana)]).await).await;
    assert_eq!(taken_off.count("#withdrawn"), 0, "nothing was handed over");
    app.post(&format!("/races/{race}/entries/{ana}/restore"), &[]).await.location();
    let link = app.hand_over(block, "yes").await;

    let taken_off = app.follow(&app.post(&withdraw, &[("athlete", &ana)]).await).await;
    let message = taken_off.text(".message textarea");
    for said in ["Hello Ana,", "you no longer run Harbour 10 on Sunday 9 May", "the link to it no longer works"] {
        assert!(message.contains(said), "{message}");
    }
    let shown = get_shared(&app.share_door().await, &link).await;
    assert!(shown.text("main").starts_with("Nothing is shown here"), "the link no longer works");
    let board = app.get("/").await;
    assert_eq!(board.text(".board-heading span:first-child"), "Need you now");
    let said = "Withdrawn from the race on 9 May, still holds the block for it";
    assert_eq!(board.text(".board-needs a"), said);
    assert_eq!(board.attribute(".board-needs a", "href"), format!("{page}#withdrawn"));
    assert_eq!(app.get("/?need=withdrawn").await.texts(".board-needs a"), [said]);

    let settled =
        app.follow(&app.post(&taken_off.attribute(".message form", "action"), &[("athlete", &ana)]).await).await;
    assert!(settled.text(".notice").contains("Settled: the board no longer asks"), "{}", settled.text(".notice"));
    assert_eq!((settled.count("#withdrawn"), app.get("/").await.count(".board-needs strong")), (0, 0));
    let fields = [("athlete", ana.as_str()), ("open", "yes")];
    let open = app.follow(&app.post(&settled.attribute(".notice form", "action"), &fields).await).await;
    assert_eq!(open.count("#withdrawn"), 1, "asked again");
    assert_eq!(app.later("2027-05-10").get(&page).await.count("#withdrawn"), 0, "the race is over");
}

#[tokio::test]
async fn a_race_called_off_is_settled_with_one_press_and_open_again_with_another() {
    let app = TestApp::on("2027-04-20").await;
    let block = app.ana_block().await;
    let app = app.later("2027-05-04");
    let link = app.hand_over(block, "yes").await;
    let record = app.store.block(block).await.unwrap().unwrap();
    let (race, ana) = (record.race.id, record.athlete.id.to_string());
    app.post(&format!("/races/{race}/call-off"), &[]).await.location();
    let settle = format!("/races/{race}/settle");
    let board = app.get("/").await;
    assert_eq!(board.attribute(".board-settle", "action"), settle);
    assert_eq!(board.text(".board-settle button"), "Settled for Ana Exemplo");
    let fields = [("athlete", ana.as_str()), ("back", "board")];
    let sent = app.post(&settle, &fields).await;
    assert_eq!(sent.location(), "/");
    let board = app.follow(&sent).await;
    assert_eq!((board.count(".board-needs strong"), board.count(".board-settle")), (0, 0), "{}", board.text("main"));
    assert!(board.text(".notice").contains("Settled: the board no longer asks"), "{}", board.text(".notice"));
    // The running still comes back, and the board says so as the season does.
    let (stands, week) = (board.text(".board-stands"), board.text(".board-week"));
    assert_eq!(stands, "Running comes back until Mon 10 May, as Harbour 10 is not run");
    assert_eq!(week, "This week: as usual, but running comes back until Mon 10 May");
    let season = app.get(&format!("/athletes/{ana}/season")).await;
    assert!(season.text("tr[aria-current]").contains("4 to 10 May"), "{}", season.text("tr[aria-current]"));
    // Block, entry and link stay; nothing is lost that the athlete reads.
    let page = app.get(&format!("/blocks/{block}")).await;
    assert!(page.text(".told").contains("How it goes on is settled"), "{}", page.text(".told"));
    assert!(get_shared(&app.share_door().await, &link).await.text(".called-off").contains("called off"));
    assert!(
        app.get(&format!("/races/{race}")).await.text(".entrants").contains("Open the block of Ana Exemplo, settled")
    );
    // Open again, from the page of the block.
    let fields = [("athlete", ana.as_str()), ("open", "yes"), ("back", &block.to_string())];
    let page = app.follow(&app.post(&settle, &fields).await).await;
    assert!(page.text(".told").contains("Say that it is settled"), "{}", page.text(".told"));
    assert_eq!(app.get("/").await.count(".board-settle"), 1);
    // Pressed on a board that was asked for something, it leads back to that board.
    let board = app.get("/?group=&text=an&sort=name").await;
    assert_eq!(board.attributes(".board-settle input[name=text]", "value"), ["an"]);
    let fields = [("athlete", ana.as_str()), ("back", "board"), ("text", "an"), ("sort", "name"), ("open", "yes")];
    assert_eq!(app.post(&settle, &fields).await.location(), "/?text=an&sort=name");
    // For everybody, from the page of the race.
    let bo = app.add_athlete("Bo", planning::DistanceUnit::Km).await;
    app.store.enter(race, bo, planning::Importance::Goal, app.now()).await.unwrap();
    app.post(&settle, &[("athlete", &bo.to_string())]).await.location();
    let page = app.follow(&app.post(&settle, &[]).await).await;
    assert!(!page.attributes(".told-ways form", "action").contains(&settle), "nobody is open any more");
    assert_eq!(app.get("/").await.count(".board-settle"), 0);
    // Taken back it is open again for whom it was open, and for nobody else.
    let undo = page.filled(".notice form");
    let undo: Vec<(&str, &str)> = undo.iter().map(|(name, value)| (name.as_str(), value.as_str())).collect();
    app.post(&settle, &undo).await.location();
    assert_eq!(app.get("/").await.texts(".board-settle button"), ["Settled for Ana Exemplo"]);
    app.post(&settle, &[]).await.location();
    // A race that takes place after all asks for nothing, and a press on an old page changes nothing.
    app.post(&format!("/races/{race}/take-place"), &[]).await.location();
    let page = app.follow(&app.post(&settle, &[("athlete", &ana), ("back", "board")]).await).await;
    assert_eq!(page.count(".notice"), 0);
    assert_eq!(page.texts(".board-away"), ["in 5 days"; 2]);
    app.post(&format!("/races/{race}/call-off"), &[]).await.location();
    assert_eq!(app.get("/").await.count(".board-settle"), 2, "called off once more it asks once more");
}

#[tokio::test]
async fn a_block_of_a_race_called_off_is_not_handed_over() {
    let app = TestApp::on("2027-05-04").await;
    let block = app.ana_block().await;
    let race = app.store.block(block).await.unwrap().unwrap().race.id;
    let path = format!("/blocks/{block}");
    let hand_over = format!("{path}/hand-over");
    let offers = async || {
        let page = app.get(&path).await;
        let forms = page.attributes("main form", "action").contains(&hand_over);
        (page.attributes(".block-head a", "href").contains(&"#hand-over".to_owned()), forms)
    };
    let app = &app;
    let _door = app.share_door().await;
    app.post(&format!("/races/{race}/call-off"), &[]).await.location();
    assert_eq!(offers().await, (false, false));
    let told = app.get(&path).await.text(".hand-over");
    assert!(told.contains("The race is called off, so there is nothing to hand over."), "{told}");
    let page = app.follow(&app.post(&hand_over, &[("version", "1")]).await).await;
    assert!(page.text(".notice").contains("nothing was handed over"), "{}", page.text(".notice"));
    let ticked = format!("{block}.{}", app.version_of(block).await);
    let page = app.follow(&app.post(&format!("/races/{race}/hand-over"), &[("block", &ticked)]).await).await;
    assert!(
        page.text(".notice").contains("nothing was handed over"),
        "a page that was open before: {}",
        page.text(".notice")
    );
    assert!(app.store.block(block).await.unwrap().unwrap().share.is_none());
    let all = app.get(&format!("/races/{race}/hand-over")).await;
    assert_eq!((all.count("input[name=block]"), all.count("main form")), (0, 0));
    app.post(&format!("/races/{race}/take-place"), &[]).await.location();
    app.hand_over(block, "no").await;
    let (files, told) = (format!("/races/{race}/files"), format!("/races/{race}/handed-over"));
    assert!(app.get(&told).await.attributes("main a", "href").contains(&files));
    app.post(&format!("/races/{race}/call-off"), &[]).await.location();
    assert_eq!(app.get(&files).await.location(), told, "its address gives nothing either");
    let page = app.get(&told).await;
    assert!(!page.attributes("main a", "href").contains(&files));
    assert!(page.text("#main").contains("Ana Exemplo: the race is called off"), "{}", page.text("#main"));
    app.post(&format!("/races/{race}/take-place"), &[]).await.location();
    assert!(offers().await.0, "it takes place after all");
}

#[tokio::test]
async fn a_message_gives_the_days_back_to_the_usual_week_to_the_athlete() {
    let app = TestApp::on("2027-04-20").await;
    let block = app.ana_block().await;
    let app = app.later("2027-05-04");
    let record = app.store.block(block).await.unwrap().unwrap();
    let (race, ana) = (record.race.id, record.athlete.id);
    app.post(&format!("/races/{race}/call-off"), &[]).await.location();
    let path = format!("/blocks/{block}");
    let text = async |app: &TestApp| app.get(&path).await.text("#text-called-off");
    let said = text(&app).await;
    assert!(said.starts_with("Hello Ana, Harbour 10 is called off"), "{said}");
    // It is true for who is in the block of another race, too.
    assert!(said.contains("Unless we have agreed something else for another race, your running comes back"), "{said}");
    assert!(said.contains("run your usual week, or what we have agreed for another race, until"), "{said}");
    let replan = app.get(&format!("{path}/replan")).await;
    let days = replan.texts("#back ~ table tbody tr");
    assert_eq!(days.len(), 7);
    for day in &days {
        let (date, line) = day.split_at(day.find(" May").unwrap() + 4);
        assert!(said.contains(&format!("{date}: {}", line.trim())), "{day} in {said}");
    }
    assert!(replan.text("section[aria-labelledby=back]").contains("become no version of the block"));
    assert!(replan.attributes("section[aria-labelledby=back] a", "href").contains(&format!("{path}#messages")));
    // Who is ill is asked for no running, and nobody is told why.
    let fields = [("kind", "fever"), ("from", "2027-05-03"), ("to", ""), ("note", "")];
    app.post(&format!("/athletes/{ana}/events"), &fields).await.location();
    let ill = text(&app).await;
    assert_eq!(app.get("/").await.text(".board-week"), "This week: open: the race is called off");
    assert!(ill.contains("keep to what we have agreed, even where the plan says something else"), "{ill}");
    assert!(!ill.contains("usual week") && !ill.contains("fever"), "{ill}");
    let back = app.get(&format!("{path}/replan")).await.texts("#back ~ table tbody tr");
    assert!(back[0].ends_with("rest") && back[1].ends_with("rest"), "{back:?}");
    assert!(back[..5].iter().all(|day| !day.contains("hard")), "{back:?}");
    let event = app.store.events_of(ana).await.unwrap()[0].id;
    app.store.remove_event(ana, event, app.now()).await.unwrap();
    // Days that are over are not told, and after the last the usual week stands alone.
    let app = app.later("2027-05-06");
    let later = text(&app).await;
    assert!(!later.contains("Tue 4 May") && later.contains("Thu 6 May"), "{later}");
    let over = text(&app.later("2027-05-11")).await;
    assert!(over.contains("run your usual week") && !over.contains("step by step"), "{over}");
}

#[tokio::test]
async fn of_a_race_called_off_the_page_of_the_block_says_of_the_message_only_what_it_says() {
    // The block begins on Thursday 29 April: no running has to come back.
    let app = TestApp::on("2027-04-20").await;
    let block = app.ana_block().await;
    let record = app.store.block(block).await.unwrap().unwrap();
    let (race, ana) = (record.race.id, record.athlete.id);
    app.post(&format!("/races/{race}/call-off"), &[]).await.location();
    let read = async || app.get(&format!("/blocks/{block}")).await;
    let page = read().await;
    let (told, said) = (page.text(".told"), page.text("#text-called-off"));
    assert!(told.contains("what is agreed for another race stands, else the usual week goes on"), "{told}");
    assert!(said.contains("What we have agreed for another race stands; where there is none, run your"), "{said}");
    let fields = [("kind", "fever"), ("from", "2027-04-19"), ("to", ""), ("note", "")];
    app.post(&format!("/athletes/{ana}/events"), &fields).await.location();
    let page = read().await;
    let (told, said) = (page.text(".told"), page.text("#text-called-off"));
    assert!(told.contains("says that what you have agreed goes before the plan"), "{told}");
    assert!(said.contains("keep to what we have agreed, even where the plan says something else"), "{said}");
    assert!(!told.contains("usual week") && !said.contains("usual week"), "{told} {said}");
}
