//! What was done for many at once, and the way back.

use axum::http::StatusCode;
use ebbline_tests::{TestApp, get_shared};
use planning::{DistanceUnit, Importance, RaceDistance};

async fn race_with(app: &TestApp, names: &[&str]) -> (store::RaceId, Vec<String>) {
    let race = app.add_race("River Ten", "2027-05-09", RaceDistance::TenK).await;
    let mut ids = Vec::new();
    for name in names {
        ids.push(app.add_athlete(name, DistanceUnit::Km).await.to_string());
    }
    (race, ids)
}

#[tokio::test]
async fn entering_many_says_how_many_and_is_undone_with_the_next_press() {
    let app = TestApp::new().await;
    let (race, ids) = race_with(&app, &["Ana", "Bo", "Cy"]).await;
    let fields: Vec<_> = ids.iter().map(|id| ("athlete", id.as_str())).collect();
    let path = format!("/races/{race}/enter");
    let page = app.follow(&app.post(&path, &fields).await).await;
    assert_eq!(page.text(".notice p"), "3 entries made or changed.");
    assert_eq!(page.texts(".lately a"), ["Entered or changed 3 athletes"]);
    assert!(page.text(".lately").contains("today at 09:00"));
    let undo = page.attribute(".notice form", "action");

    let again = app.follow(&app.post(&path, &fields).await).await;
    assert_eq!((again.count(".notice"), again.count(".lately a")), (0, 1), "the same press again is no step");

    let page = app.follow(&app.post(&undo, &[]).await).await;
    assert_eq!(page.text(".notice p"), "Undone for all 3 athletes: entered in River Ten.");
    assert_eq!(page.count(".entrants tbody tr"), 0);
    assert!(page.text(".lately").ends_with(", undone"), "{}", page.text(".lately"));
    assert_eq!(page.count(".lately form"), 0);
    app.post(&undo, &[]).await.location();
    assert_eq!(app.store.entrants(race).await.unwrap(), []);
}

#[tokio::test]
async fn who_was_changed_since_is_left_and_named() {
    let app = TestApp::new().await;
    let (race, ids) = race_with(&app, &["Ana", "Bo <b>"]).await;
    let fields: Vec<_> = ids.iter().map(|id| ("athlete", id.as_str())).collect();
    let page = app.follow(&app.post(&format!("/races/{race}/enter"), &fields).await).await;
    let undo = page.attribute(".notice form", "action");
    let bo = store::AthleteId(ids[1].parse().unwrap());
    app.store.enter(race, bo, Importance::TuneUp, app.now()).await.unwrap();
    let before = app.get(undo.trim_end_matches("/undo")).await;
    assert_eq!(before.texts(".names li"), ["Ana", "Bo <b>"]);
    let page = app.follow(&app.post(&undo, &[]).await).await;
    assert_eq!(page.text("[aria-labelledby=left] li"), "Bo <b>");
    assert_eq!(page.text("[aria-labelledby=undone] li"), "Ana");
    assert_eq!(app.store.entrants(race).await.unwrap().len(), 1);
    let race_page = app.get(&format!("/races/{race}")).await;
    assert!(race_page.text(".lately").contains(", undone for 1 of 2"), "{}", race_page.text(".lately"));
    assert_eq!(race_page.attribute(".lately form", "action"), undo, "the one who is left can be tried again");
    assert_eq!(app.get("/steps/99").await.status, StatusCode::NOT_FOUND);
    assert_eq!(app.post("/steps/99/undo", &[]).await.status, StatusCode::NOT_FOUND);
}

#[tokio::test]
async fn a_removed_block_is_nowhere_its_link_is_dead_and_it_comes_back_or_is_made_again() {
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    let link = app.hand_over(block, "yes").await;
    let door = app.share_door().await;
    assert_eq!(get_shared(&door, &link).await.status, StatusCode::OK);
    let remove = format!("/blocks/{block}/remove");
    assert_eq!(app.get(&format!("/blocks/{block}")).await.count(&format!("form[action='{remove}']")), 1);
    let page = app.follow(&app.post(&remove, &[]).await).await;
    assert_eq!(page.text(".notice p"), "Block removed. Its link leads nowhere.");
    let back = page.attribute(".notice form", "action");
    for path in ["", "/print", "/file", "/calendar", "/race-day", "/versions", "/table"] {
        let gone = app.get(&format!("/blocks/{block}{path}")).await;
        assert_eq!(gone.status, StatusCode::NOT_FOUND, "{path}");
    }
    for path in ["", "/print", "/calendar.ics"] {
        assert_eq!(get_shared(&door, &format!("{link}{path}")).await.status, StatusCode::NOT_FOUND, "{path}");
    }
    assert!(!app.get("/").await.body().contains(&format!("/blocks/{block}")));
    assert!(app.get("/races/1").await.text(".entrants tbody").contains("no block yet"));
    assert_eq!(app.get("/removed").await.texts("h2"), ["Blocks"]);

    let page = app.follow(&app.post(&back, &[]).await).await;
    assert_eq!(page.text(".notice p"), "The block is back, as it was.");
    assert_eq!(get_shared(&door, &link).await.status, StatusCode::OK);

    app.post(&remove, &[]).await.location();
    let again = app.make_block(ebbline_tests::Entered { athlete: store::AthleteId(1), race: store::RaceId(1) }).await;
    assert_eq!(again, block, "the same block");
    let versions = app.store.revisions(block).await.unwrap().unwrap();
    assert_eq!((versions[0].number, versions[0].reason.as_str()), (2, "made again"));
}

/// Makes all blocks of a race and gives the page once they are made.
async fn blocks_made(app: &TestApp, race: store::RaceId) -> ebbline_tests::Answer {
    app.post(&format!("/races/{race}/blocks"), &[]).await.location();
    for _ in 0..600 {
        let page = app.get(&format!("/races/{race}/blocks/progress")).await;
        if page.header("refresh").is_empty() {
            return page;
        }
        tokio::time::sleep(std::time::Duration::from_millis(50)).await;
    }
    panic!("it never ends");
}

#[tokio::test]
async fn entries_whose_blocks_were_forgotten_say_what_to_undo_first_and_are_undone_after_that() {
    let app = TestApp::new().await;
    let (race, ids) = race_with(&app, &["Ana", "Bo", "Cy", "Di", "Eve", "Finn"]).await;
    for id in &ids {
        let lines = store::WeekDraft::of(ebbline_tests::SIX_RUNS.map(str::to_owned));
        let athlete = store::AthleteId(id.parse().unwrap());
        app.store.save_week(athlete, store::Version(0), &lines, app.now()).await.unwrap();
    }
    let race_path = format!("/races/{race}");
    let fields: Vec<_> = ids.iter().map(|id| ("athlete", id.as_str())).collect();
    let page = app.follow(&app.post(&format!("{race_path}/enter"), &fields).await).await;
    let undo_entries = page.attribute(".notice form", "action");
    let undo_blocks = blocks_made(&app, race).await.attribute("form[action$='/undo']", "action");
    let hand_over = format!("{race_path}/hand-over");
    let blocks = app.get(&hand_over).await.attributes("input[name=block]", "value");
    let fields: Vec<_> = blocks.iter().map(|block| ("block", block.as_str())).collect();
    let page = app.follow(&app.post(&hand_over, &fields).await).await;
    let undo_hand_over = page.attribute(".notice form", "action");

    let page = app.follow(&app.post(&undo_blocks, &[]).await).await;
    let left = page.text("[aria-labelledby=left]");
    assert!(left.contains("Not undone for 6 athletes. First undo: Handed over to 6 athletes"), "{left}");
    let page = app.follow(&app.post(&undo_hand_over, &[]).await).await;
    assert_eq!(page.text(".notice p"), "Undone for all 6 athletes: blocks handed over for River Ten.");

    let page = app.follow(&app.post(&undo_entries, &[]).await).await;
    let left = page.text("[aria-labelledby=left]");
    assert!(left.contains("Not undone for 6 athletes. First undo: Blocks made for 6 athletes"), "{left}");
    assert_eq!(page.attributes("[aria-labelledby=left] form", "action"), [undo_blocks.clone(), undo_entries.clone()]);
    let lately = app.get(&race_path).await;
    assert!(lately.texts(".lately li")[2].contains("Entered or changed 6 athletes, today at 09:00, not undone yet"));
    assert_eq!(lately.attributes(".lately form", "action"), [undo_blocks.clone(), undo_entries.clone()]);
    assert_eq!(app.store.entrants(race).await.unwrap().len(), 6);

    let page = app.follow(&app.post(&undo_blocks, &[]).await).await;
    assert_eq!(page.text(".notice p"), "Undone for all 6 athletes: blocks made for River Ten.");
    assert_eq!(page.attributes(".lately form", "action"), std::slice::from_ref(&undo_entries));
    let page = app.follow(&app.post(&undo_entries, &[]).await).await;
    assert_eq!(page.text(".notice p"), "Undone for all 6 athletes: entered in River Ten.");
    assert_eq!((page.count(".lately form"), page.count(".entrants tbody tr")), (0, 0));
    app.post(&undo_entries, &[]).await.location();
    assert_eq!(app.store.entrants(race).await.unwrap(), [], "twice is once");
    assert_eq!(app.store.check().await.unwrap(), Vec::<String>::new());
}
