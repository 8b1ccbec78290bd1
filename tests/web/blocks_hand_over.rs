//! Handing a block over, as the coach sees it.

use ebbline_tests::TestApp;
use server::ShareDoor;

#[tokio::test]
async fn the_block_page_says_whether_the_athlete_has_this_version() {
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    let path = format!("/blocks/{block}");
    assert!(app.get(&path).await.text(".block-version").ends_with("Not handed over yet."));
    app.hand_over(block, "no").await;
    assert!(app.get(&path).await.text(".block-version").ends_with("Handed over on 20 April."));
    let version = app.version_of(block).await.to_string();
    let settings = [("version", version.as_str()), ("days", "8"), ("shape", "ebb")];
    app.post(&format!("{path}/settings"), &settings).await.location();
    let page = app.get(&path).await;
    assert!(page.text(".block-version").contains("Ana Exemplo holds version 1 of 20 April, this is version 2"));
    assert!(page.text(".hand-over").contains("Ana Exemplo holds version 1 of 20 April, this is version 2"));
}

#[tokio::test]
async fn handing_over_anew_keeps_the_link_and_ending_it_makes_the_next_a_new_one() {
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    let first = app.hand_over(block, "yes").await;
    assert_eq!(app.hand_over(block, "no").await, first);
    let page = app.follow(&app.post(&format!("/blocks/{block}/hand-over/end"), &[]).await).await;
    assert_eq!(page.text(".notice p"), "No longer handed over: no link to this block works.");
    assert_eq!(page.count("input.link"), 0);
    assert_ne!(app.hand_over(block, "no").await, first);
}

#[tokio::test]
async fn a_race_sheet_of_which_nothing_was_written_goes_out_only_where_it_is_ticked() {
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    let (path, file) = (format!("/blocks/{block}"), format!("/blocks/{block}/file"));
    let goals = format!("{path}/goals");
    let version = app.get(&goals).await.value("version");
    app.post(&goals, &[("version", &version), ("a", "under 44:00")]).await.location();
    assert!(app.get(&path).await.text(".hand-over-goals").contains("read it before the athlete does"));
    assert_eq!(app.get(&path).await.count("input[name=race_day][checked]"), 0);
    assert!(!app.get(&file).await.body().contains("id=\"race-day-title\""));
    let version = app.version_of(block).await.to_string();
    app.post(&format!("{path}/hand-over"), &[("version", &version), ("goals", "yes"), ("race_day", "yes")])
        .await
        .location();
    assert_eq!(app.get(&path).await.count("input[name=race_day][checked]"), 1);
    assert!(app.get(&file).await.body().contains("id=\"race-day-title\""));
}

#[tokio::test]
async fn the_link_works_up_to_two_weeks_after_the_race() {
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    app.hand_over(block, "no").await;
    let ends = app.store.block(block).await.unwrap().unwrap().share.unwrap().ends;
    assert_eq!(ends, ebbline_tests::date("2027-05-23"));
    assert!(app.get(&format!("/blocks/{block}")).await.text(".hand-over").contains("up to Sunday 23 May 2027"));
}

#[tokio::test]
async fn handing_over_comes_first_then_the_message_the_file_and_the_link_with_its_code() {
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    let filled = async || app.get(&format!("/blocks/{block}")).await.texts(".hand-over .button:not(.quiet, .stop)");
    assert_eq!(filled().await, ["Hand over this version"], "what is shown is chosen before anything is given");
    let path = app.hand_over(block, "yes").await;
    assert_eq!(filled().await, ["Copy the message"]);
    let page = app.get(&format!("/blocks/{block}")).await;
    assert!(page.text("#text-to-give").contains(&path), "the link is inside");
    assert_eq!(page.count(".message[open]"), 0, "the message stands once");
    assert!(page.body().find("text-to-give") < page.body().find("live-choice"), "what is next stands first");
    let first = page.attribute(".hand-over a.button", "href");
    assert_eq!(first, format!("/blocks/{block}/file"));
    let section = page.body().split("id=\"hand-over\"").nth(1).expect("the section");
    let place = |text: &str| section.find(text).unwrap_or_else(|| panic!("{text}"));
    let order = [
        "text-to-give\"".to_owned(),
        format!("/blocks/{block}/file"),
        "id=\"link\"".to_owned(),
        format!("/blocks/{block}/table"),
    ];
    assert!(order.windows(2).all(|pair| place(&pair[0]) < place(&pair[1])), "{order:?}");
    assert_eq!(page.count(".hand-over svg.qr"), 1);
    let sent = [("moment", "hand-over"), ("sent", "yes")];
    let page = app.follow(&app.post(&format!("/blocks/{block}/messages"), &sent).await).await;
    assert_eq!(page.count("#text-to-give"), 0);
    assert_eq!(filled().await, ["File to send"]);
    assert_eq!(app.get(&format!("/blocks/{block}/print")).await.count(".sheet-end svg.qr"), 1);
    app.post(&format!("/blocks/{block}/hand-over/end"), &[]).await.location();
    let sheet = app.get(&format!("/blocks/{block}/print")).await;
    assert_eq!(sheet.count("svg.qr"), 0, "no link, no code");
    assert!(sheet.text("body").contains("Once the block is handed over with a link, the sheet carries a code"));
}

#[tokio::test]
async fn no_code_and_no_message_leads_a_phone_to_this_machine() {
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    app.hand_over(block, "yes").await;
    let race = app.store.block(block).await.unwrap().unwrap().race.id;
    let app = app
        .behind(ShareDoor::Open { address: "127.0.0.1:4651".parse().unwrap(), base: "http://127.0.0.1:4651".into() });
    for path in [format!("/blocks/{block}/print"), format!("/races/{race}/print")] {
        let sheet = app.get(&path).await;
        assert_eq!(sheet.count("svg.qr"), 0, "{path}");
        let why = sheet.texts(".sheet-hint").join(" ");
        assert!(why.contains("no phone can open this laptop's pages yet"), "{path}: {why}");
        assert!(sheet.attributes(".sheet-hint a", "href").contains(&"/settings/doors".to_owned()), "{path}");
        assert!(!sheet.text("main").contains("no phone"), "it is not printed");
    }
    let page = app.get(&format!("/blocks/{block}")).await;
    assert_eq!(page.count("svg.qr"), 0);
    assert!(!page.texts(".message textarea").join(" ").contains("127.0.0.1"), "no message carries such a link");
    assert!(page.text(".hand-over").contains("No phone can open these links yet"));
    let sheet = app.behind(ShareDoor::Off).get(&format!("/blocks/{block}/print")).await;
    assert!(sheet.texts(".sheet-hint").join(" ").contains("no phone can open"), "the door is closed");
}

#[tokio::test]
async fn a_link_that_ended_by_its_date_is_ended_everywhere() {
    let app = TestApp::on("2027-05-04").await;
    let block = app.ana_block().await;
    let ends = ebbline_tests::date("2027-05-03");
    app.store.hand_over(block, store::Shows::ALL, ends, app.now()).await.unwrap();
    let page = app.get(&format!("/blocks/{block}")).await;
    assert!(page.text(".block-version").ends_with("The link has ended."), "{}", page.text(".block-version"));
    assert_eq!(page.count("input.link, svg.qr"), 0);
    assert!(app.get("/").await.text(".board-needs").starts_with("The link has ended"));
    let race = app.store.block(block).await.unwrap().unwrap().race.id;
    let race = app.get(&format!("/races/{race}")).await;
    assert!(race.texts(".entrants tbody td:nth-child(3)")[0].contains("the link has ended"));
    let versions = app.get(&format!("/blocks/{block}/versions")).await;
    assert!(!versions.text(".versions").contains("with the athlete"));
}

#[tokio::test]
async fn board_and_race_say_who_holds_an_old_one() {
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    app.hand_over(block, "yes").await;
    let version = app.version_of(block).await.to_string();
    let settings = [("version", version.as_str()), ("days", "8"), ("shape", "ebb")];
    app.post(&format!("/blocks/{block}/settings"), &settings).await.location();
    let said = "olds version 1 of 20 April, this is version 2";
    assert!(app.get("/").await.text(".board-needs").contains(said));
    let race = app.store.block(block).await.unwrap().unwrap().race.id;
    assert!(app.get(&format!("/races/{race}")).await.text(".entrants").contains(said));
}

#[tokio::test]
async fn messages_say_that_they_speak_of_another_version_than_the_athlete_holds() {
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    let path = format!("/blocks/{block}");
    let hint = async || app.get(&path).await.texts(".messages-hint");
    assert!(hint().await.is_empty(), "nothing is held yet");
    let link = app.hand_over(block, "yes").await;
    assert!(hint().await.is_empty());
    let version = app.version_of(block).await.to_string();
    app.post(&format!("{path}/goals"), &[("version", version.as_str()), ("a", "under 44:00")]).await.location();
    let said = "Ana Exemplo holds the goals as they were handed over; these words speak of them as they are now: \
                hand over first.";
    assert_eq!(hint().await, [said]);
    let version = app.version_of(block).await.to_string();
    let settings = [("version", version.as_str()), ("days", "8"), ("shape", "ebb")];
    app.post(&format!("{path}/settings"), &settings).await.location();
    let said = "Ana Exemplo holds version 1; these words speak of version 2: hand over first.";
    assert_eq!(hint().await, [said]);
    let texts = app.get(&path).await.texts(".message textarea");
    assert!(texts.iter().any(|text| text.contains(&link)), "the link stays in the words");
    app.hand_over(block, "yes").await;
    assert!(hint().await.is_empty());
}

#[tokio::test]
async fn what_is_withdrawn_or_removed_is_not_handed_over_from_a_stale_tab() {
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    let record = app.store.block(block).await.unwrap().unwrap();
    let (ana, race) = (record.athlete.id, record.race.id);
    let version = app.version_of(block).await.to_string();
    let hand_over = async || app.post(&format!("/blocks/{block}/hand-over"), &[("version", version.as_str())]).await;
    app.post(&format!("/races/{race}/withdraw"), &[("athlete", &ana.to_string())]).await.location();
    assert_eq!(hand_over().await.status, axum::http::StatusCode::NOT_FOUND, "withdrawn");
    app.post(&format!("/races/{race}/enter"), &[("athlete", &ana.to_string())]).await.location();
    app.post(&format!("/athletes/{ana}/remove"), &[]).await.location();
    assert_eq!(hand_over().await.status, axum::http::StatusCode::NOT_FOUND, "the athlete is removed");
    app.store.restore_athlete(ana, app.now()).await.unwrap();
    app.post(&format!("/races/{race}/remove"), &[]).await.location();
    assert_eq!(hand_over().await.status, axum::http::StatusCode::NOT_FOUND, "the race is removed");
    app.store.restore_race(race, app.now()).await.unwrap();
    assert_eq!(app.store.block(block).await.unwrap().unwrap().share, None, "nothing was recorded meanwhile");
    assert_eq!(hand_over().await.status, axum::http::StatusCode::SEE_OTHER);
}

#[tokio::test]
async fn what_is_chosen_holds_for_the_file_and_the_sheet_too() {
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    let version = app.version_of(block).await.to_string();
    let goals = [("version", version.as_str()), ("a", "under 44:00"), ("last_cue", "home")];
    app.post(&format!("/blocks/{block}/goals"), &goals).await.location();
    for (with, expected) in [("yes", true), ("no", false)] {
        app.hand_over(block, with).await;
        for page in ["file", "print"] {
            let text = app.get(&format!("/blocks/{block}/{page}")).await;
            assert_eq!(text.body().contains("under 44:00") && text.body().contains("home"), expected, "{page} {with}");
        }
    }
}

#[tokio::test]
async fn the_table_is_a_file_without_what_happened() {
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    let table = app.get(&format!("/blocks/{block}/table")).await;
    assert_eq!(table.header("content-type"), "text/csv; charset=utf-8");
    assert_eq!(
        table.header("content-disposition"),
        "attachment; filename=\"ana-exemplo-harbour-10-2027-05-09-v1.csv\""
    );
    assert!(table.body().starts_with("date,weekday,to_race,kind,"));
    let kept = app.store.block(block).await.unwrap().unwrap();
    assert_eq!(table.body(), formats::plan_csv::write(&kept.block.public()));
}

#[tokio::test]
async fn while_the_athletes_pages_are_off_nothing_speaks_of_a_link_that_shows_something() {
    let app = TestApp::new().await.behind(ShareDoor::Off);
    let block = app.ana_block().await;
    let path = format!("/blocks/{block}");
    let button = |page: &ebbline_tests::Answer| page.text(".hand-over-form button");
    assert_eq!(button(&app.get(&path).await), "Hand over this version");
    let version = app.version_of(block).await.to_string();
    let page = app.follow(&app.post(&format!("{path}/hand-over"), &[("version", version.as_str())]).await).await;
    assert_eq!(page.text(".notice p"), "Handed over: this is the version that the athlete holds now.");
    assert_eq!(button(&page), "Hand over this version");
    assert!(!page.body().contains("End the link now") && page.body().contains("Not handed over after all"));
}
