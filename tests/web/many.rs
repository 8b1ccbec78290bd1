//! Many athletes around one race at once: entering, making, reviewing, handing over, printing.

use std::time::Duration;

use axum::http::StatusCode;
use ebbline_tests::{Answer, SIX_RUNS, TestApp, get_shared};
use planning::{DistanceUnit, Importance, RaceDistance};
use store::{AthleteDraft, AthleteId, RaceId, Shows, Version};

/// A race and so many entrants, each with a base week.
async fn squad(app: &TestApp, count: usize) -> (RaceId, Vec<AthleteId>) {
    squad_for(app, count, RaceDistance::TenK).await
}

async fn squad_for(app: &TestApp, count: usize, distance: RaceDistance) -> (RaceId, Vec<AthleteId>) {
    let race = app.add_race("River Ten", "2027-05-09", distance).await;
    let mut athletes = Vec::new();
    for number in 0..count {
        let athlete = app.add_athlete(&format!("Runner {number:03}"), DistanceUnit::Km).await;
        let lines = SIX_RUNS.map(str::to_owned);
        app.store.save_week(athlete, Version(0), &store::WeekDraft::of(lines), app.now()).await.unwrap();
        athletes.push(athlete);
    }
    app.store.enter_many(race, &athletes, Importance::Goal, app.now()).await.unwrap();
    (race, athletes)
}

async fn made(app: &TestApp, count: usize) -> (RaceId, Vec<AthleteId>) {
    let (race, athletes) = squad(app, count).await;
    app.post(&format!("/races/{race}/blocks"), &[]).await.location();
    ended(app, race).await;
    (race, athletes)
}

/// The page of how far it is, once it has ended.
async fn ended(app: &TestApp, race: RaceId) -> Answer {
    for _ in 0..600 {
        let page = app.get(&format!("/races/{race}/blocks/progress")).await;
        if page.header("refresh").is_empty() {
            return page;
        }
        tokio::time::sleep(Duration::from_millis(50)).await;
    }
    panic!("it never ends");
}

async fn group(app: &TestApp, group: &str, count: usize) -> Vec<AthleteId> {
    let mut ids = Vec::new();
    for number in 0..count {
        let athlete = planning::Athlete { name: format!("{group} {number:03}"), ..planning::Athlete::default() };
        let draft = AthleteDraft { athlete, group: group.to_owned(), ..AthleteDraft::default() };
        ids.push(app.store.add_athlete(&draft, uuid::Uuid::new_v4(), app.now()).await.unwrap());
    }
    ids
}

#[tokio::test]
async fn of_many_athletes_sixty_can_be_ticked_and_the_page_says_how_many_more_fit() {
    let app = TestApp::new().await;
    let race = app.add_race("River Ten", "2027-05-09", RaceDistance::TenK).await;
    group(&app, "Track", 70).await;
    group(&app, "Hills <b>", 5).await;
    let path = format!("/races/{race}");
    let page = app.get(&path).await;
    assert_eq!(page.count(".tick-group input"), 60);
    assert!(page.body().contains("15 more fit and are not shown."));
    let found = app.get(&format!("{path}?text=track+007&group=")).await;
    assert_eq!(found.texts(".tick-group .check"), ["Track 007"]);
    assert_eq!(found.value("text"), "track 007");
    let hills = page.attributes("#group option", "value").into_iter().find(|value| value.contains("Hills")).unwrap();
    let found = app
        .get(&format!(
            "{path}?group={}",
            hills.replace('=', "%3D").replace(' ', "+").replace('<', "%3C").replace('>', "%3E")
        ))
        .await;
    assert_eq!(found.count(".tick-group input"), 5);
    assert_eq!(found.value("group"), hills);
    assert_eq!(found.text(".tick-group-buttons button"), "Enter everybody of the group Hills <b> (5)");
    let nobody = app.get(&format!("{path}?text=zzz")).await;
    assert!(nobody.text("#athletes").starts_with("Nobody who is not entered fits."));
}

#[tokio::test]
async fn a_whole_group_is_entered_by_one_button_whether_its_boxes_are_shown_or_not() {
    let app = TestApp::new().await;
    let race = app.add_race("River Ten", "2027-05-09", RaceDistance::TenK).await;
    group(&app, "Track", 70).await;
    group(&app, "Hills", 2).await;
    let path = format!("/races/{race}");
    let fields = [("group", "=Track"), ("importance", "tune-up")];
    let page = app.follow(&app.post(&format!("{path}/enter"), &fields).await).await;
    assert_eq!(page.text(".notice p"), "70 entries made or changed.");
    assert_eq!(page.text("#entrants"), "Who runs it (70)");
    let again = app.post(&format!("{path}/enter"), &fields).await;
    assert_eq!(app.follow(&again).await.text("#entrants"), "Who runs it (70)", "twice is once");
    assert_eq!(app.get(&path).await.texts(".tick-group .check"), ["Hills 000", "Hills 001"]);
}

#[tokio::test]
async fn entrants_stand_on_pages_of_a_hundred() {
    let app = TestApp::new().await;
    let race = app.add_race("River Ten", "2027-05-09", RaceDistance::TenK).await;
    let ids = group(&app, "Track", 130).await;
    app.store.enter_many(race, &ids, Importance::Goal, app.now()).await.unwrap();
    let page = app.get(&format!("/races/{race}")).await;
    assert_eq!((page.count(".entrants tbody tr"), page.count("a[rel=prev]")), (100, 0));
    let next = page.attribute("a[rel=next]", "href");
    let page = app.get(&next).await;
    assert_eq!((page.count(".entrants tbody tr"), page.count("a[rel=next]")), (30, 0));
    assert_eq!(page.texts(".entrants tbody th")[0], "Track 100");
    assert_eq!(page.text(".pages p"), "101 to 130 of 130 athletes, page 2 of 2");
    let last = app.get(&format!("/races/{race}?page=4294967296")).await;
    assert_eq!(last.count(".entrants tbody tr"), 30, "a page that is not there is the nearest that is");
    assert_eq!(app.get(&format!("/races/{race}?page=x")).await.count(".entrants tbody tr"), 100);
}

#[tokio::test]
async fn who_was_removed_meanwhile_is_named_nobody_is_entered_and_the_others_stay_ticked() {
    let app = TestApp::new().await;
    let race = app.add_race("River Ten", "2027-05-09", RaceDistance::TenK).await;
    let ids = group(&app, "Track", 3).await;
    app.store.remove_athlete(ids[1], app.now()).await.unwrap();
    let typed: Vec<String> = ids.iter().map(ToString::to_string).collect();
    let mut fields: Vec<(&str, &str)> = typed.iter().map(|id| ("athlete", id.as_str())).collect();
    fields.push(("athlete", "999"));
    let page = app.post(&format!("/races/{race}/enter"), &fields).await;
    assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY);
    let said = "Track 001 and 1 athlete who went for good were removed meanwhile, so nobody was entered";
    assert_eq!(page.text(".error-summary li"), said);
    assert_eq!(page.text(".field-errors"), format!("!Error: {said}. The others are still ticked."));
    assert_eq!(page.count(".tick-group input[checked]"), 2);
    assert_eq!(app.store.entrants(race).await.unwrap(), []);
}

#[tokio::test]
async fn making_forty_blocks_ends_in_the_review_and_is_undone_in_one_press() {
    let app = TestApp::new().await;
    let (race, _) = made(&app, 40).await;
    assert!(app.store.entrants(race).await.unwrap().iter().all(|entry| entry.block.is_some()));
    let page = app.get(&format!("/races/{race}/blocks/progress")).await;
    assert_eq!(page.text("h1"), "All blocks are made");
    assert_eq!(page.text("main > .lead"), "40 blocks were made and kept.");
    let undo = page.attribute("form[action$='/undo']", "action");
    let back = app.follow(&app.post(&undo, &[]).await).await;
    assert_eq!(back.text(".notice p"), "Undone for all 40 athletes: blocks made for River Ten.");
    assert!(app.store.entrants(race).await.unwrap().iter().all(|entry| entry.block.is_none()));
    assert_eq!(app.store.removed().await.unwrap().blocks.len(), 40);
    assert_eq!(app.store.check().await.unwrap(), Vec::<String>::new());
}

#[tokio::test]
async fn a_second_press_joins_the_first_and_stopping_keeps_what_is_made() {
    let app = TestApp::new().await;
    let (race, _) = squad(&app, 60).await;
    let path = format!("/races/{race}/blocks");
    let stop = async {
        tokio::time::sleep(Duration::from_millis(30)).await;
        app.post(&format!("{path}/stop"), &[]).await
    };
    let (one, two, stopped) = tokio::join!(app.post(&path, &[]), app.post(&path, &[]), stop);
    assert_eq!(one.location(), two.location());
    assert_eq!(stopped.location(), format!("{path}/progress"));
    let page = ended(&app, race).await;
    let steps = app.store.steps_of_race(race, 9).await.unwrap();
    let planned: Vec<_> = steps.iter().filter(|step| step.kind == store::StepKind::Plan).collect();
    assert!(planned.len() <= 1, "one press, one step: {planned:?}");
    let have = app.store.entrants(race).await.unwrap().iter().filter(|entry| entry.block.is_some()).count();
    assert_eq!(have, planned.first().map_or(0, |step| step.athletes as usize), "{}", page.text("h1"));
    app.post(&path, &[]).await.location();
    ended(&app, race).await;
    assert!(
        app.store.entrants(race).await.unwrap().iter().all(|entry| entry.block.is_some()),
        "the rest is made later"
    );
}

#[tokio::test]
async fn a_program_that_ended_in_the_middle_says_how_it_stands_and_goes_on() {
    let app = TestApp::new().await;
    let (race, athletes) = squad(&app, 3).await;
    app.plan_block(ebbline_tests::Entered { athlete: athletes[0], race }).await;
    let page = app.get(&format!("/races/{race}/blocks/progress")).await;
    assert_eq!(page.text("h1"), "No blocks are being made now");
    assert_eq!(page.text(".lead"), "1 of 3 blocks are made.");
    assert_eq!(page.text("main form button"), "Make the 2 that are lacking");
    assert_eq!(page.header("refresh"), "");
    assert_eq!(app.get("/races/99/blocks/progress").await.status, StatusCode::NOT_FOUND);
    assert_eq!(app.post("/races/99/blocks", &[]).await.status, StatusCode::NOT_FOUND);
}

#[tokio::test]
async fn the_review_puts_what_is_odd_before_what_is_not_and_opens_each_block() {
    let app = TestApp::new().await;
    let (race, athletes) = made(&app, 6).await;
    let last = app.store.block_for(athletes[5], race).await.unwrap().unwrap();
    let settings = [("version", "1"), ("days", "21"), ("floor", "80")];
    app.post(&format!("/blocks/{last}/settings"), &settings).await;
    let page = app.get(&format!("/races/{race}/review")).await;
    assert_eq!(page.count(".many-review tbody"), 6);
    assert_eq!(page.texts(".many-review tbody th")[0], "Runner 005", "{}", page.text("main"));
    assert_eq!(page.attribute(".many-review tbody a", "href"), format!("/blocks/{last}"));
    assert!(
        page.texts(".many-odd")
            .iter()
            .any(|odd| odd.starts_with("Unlike the others: 21 days long, the middle of the others"))
    );
    let only = app.get(&format!("/races/{race}/review?odd=yes")).await;
    assert_eq!(only.texts(".many-review tbody th"), ["Runner 005"]);
    assert_eq!(only.count("input[name=odd][checked]"), 1);
    assert_eq!(app.get("/races/99/review").await.status, StatusCode::NOT_FOUND);
}

fn ticked(page: &Answer) -> Vec<String> {
    page.attributes("input[name=block][checked]", "value")
}

#[tokio::test]
async fn handing_over_all_makes_links_files_and_messages_and_names_who_was_left() {
    let app = TestApp::new().await;
    let (race, athletes) = made(&app, 4).await;
    let path = format!("/races/{race}/hand-over");
    let page = app.get(&path).await;
    assert_eq!(ticked(&page).len(), 4);
    let refused = app.post(&path, &[("goals", "yes")]).await;
    assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert_eq!(refused.text(".error-summary li"), "Tick at least one block, then hand over.");
    assert_eq!(refused.count("input[name=stretches][checked]"), 0, "the choice is kept");

    let ids = ticked(&page);
    let late = app.store.block_for(athletes[3], race).await.unwrap().unwrap();
    app.store.save_goals(late, Version(1), &store::GoalNotes::default(), app.now()).await.unwrap();
    let mut fields: Vec<(&str, &str)> = ids.iter().map(|id| ("block", id.as_str())).collect();
    fields.extend([("goals", "yes"), ("stretches", "yes"), ("race_day", "yes")]);
    let done = app.follow(&app.post(&path, &fields).await).await;
    assert!(done.text(".notice p").starts_with("3 blocks handed over."));
    assert!(done.text(".told").contains("Runner 003"), "{}", done.text(".told"));
    assert_eq!(done.texts(".many-messages h3"), ["Runner 000", "Runner 001", "Runner 002"]);
    assert_eq!(done.texts("[aria-labelledby=without] li"), ["Runner 003"]);
    let texts = done.texts(".many-messages textarea");
    let door = app.share_door().await;
    for (number, athlete) in athletes[..3].iter().enumerate() {
        let block = app.store.block_for(*athlete, race).await.unwrap().unwrap();
        let share = app.store.block(block).await.unwrap().unwrap().share.unwrap();
        assert_eq!(share.shows, Shows::ALL);
        assert!(texts[number].contains(&share.token), "each message holds its own link: {}", texts[number]);
        assert_eq!(get_shared(&door, &format!("/p/{}", share.token)).await.status, StatusCode::OK);
    }
    assert_eq!(done.texts("[aria-labelledby=files] .actions a"), ["All files in one (ZIP)", "Print all sheets"]);
    let undo = done.attribute(".notice form", "action");
    let zip = app.get(&format!("/races/{race}/files")).await;
    assert_eq!(zip.header("content-type"), "application/zip");
    let files = formats::bundle::unpack(&zip.bytes, |_| true).unwrap();
    let names: Vec<_> = files.iter().map(|(name, _)| name.as_str()).collect();
    assert_eq!(
        names,
        ["runner-000", "runner-001", "runner-002"].map(|name| format!("{name}-river-ten-2027-05-09-v1.html"))
    );
    let one = app.store.block_for(athletes[0], race).await.unwrap().unwrap();
    assert_eq!(files[0].1, app.get(&format!("/blocks/{one}/file")).await.body(), "the file as if downloaded alone");

    let page = app.get(&path).await;
    assert_eq!(ticked(&page), [format!("{late}.2")], "who holds everything needs no press");
    app.post(&undo, &[]).await.location();
    assert_eq!(app.get(&format!("/races/{race}/handed-over")).await.count(".many-messages"), 0);
    for text in texts {
        let token = text.split("/p/").nth(1).unwrap().split_whitespace().next().unwrap();
        assert_eq!(get_shared(&door, &format!("/p/{token}")).await.status, StatusCode::NOT_FOUND);
    }
}

#[tokio::test]
async fn two_athletes_of_one_name_have_two_files() {
    let app = TestApp::new().await;
    let race = app.add_race("River Ten", "2027-05-09", RaceDistance::TenK).await;
    for _ in 0..2 {
        let athlete = app.add_athlete("Ana", DistanceUnit::Km).await;
        let lines = SIX_RUNS.map(str::to_owned);
        app.store.save_week(athlete, Version(0), &store::WeekDraft::of(lines), app.now()).await.unwrap();
        app.store.enter(race, athlete, Importance::Goal, app.now()).await.unwrap();
        let block = app.plan_block(ebbline_tests::Entered { athlete, race }).await;
        app.hand_over(block, "yes").await;
    }
    let zip = app.get(&format!("/races/{race}/files")).await;
    let files = formats::bundle::unpack(&zip.bytes, |_| true).unwrap();
    let names: Vec<_> = files.iter().map(|(name, _)| name.as_str()).collect();
    assert_eq!(names, ["ana-river-ten-2027-05-09-v1.html", "ana-river-ten-2027-05-09-v1-2.html"]);
}

#[tokio::test]
async fn every_sheet_is_printed_in_one_run_as_it_is_printed_alone() {
    let app = TestApp::new().await;
    let (race, athletes) = made(&app, 3).await;
    let page = app.get(&format!("/races/{race}/print")).await;
    assert_eq!(page.count("main > .sheet"), 3);
    assert_eq!(
        page.texts("main > .sheet h2"),
        ["Runner 000 River Ten", "Runner 001 River Ten", "Runner 002 River Ten"]
    );
    let block = app.store.block_for(athletes[1], race).await.unwrap().unwrap();
    let alone = app.get(&format!("/blocks/{block}/print")).await;
    let all = page.texts("main > .sheet .sheet-days");
    assert_eq!(all[1], alone.text(".sheet-days"));
    assert_eq!(page.texts("main > .sheet .sheet-end")[1], alone.text(".sheet-end"));
    assert_eq!(page.attributes("main > .sheet", "class")[1], alone.attribute("main", "class"));
    let goals = store::GoalNotes { a: "under 44:00".to_owned(), ..store::GoalNotes::default() };
    app.store.save_goals(block, Version(1), &goals, app.now()).await.unwrap();
    let both = app.get(&format!("/races/{race}/print?race_day=yes")).await;
    assert_eq!(both.count("main > .sheet"), 4, "who has nothing written for the race has no empty side");
    let sheet = app.get(&format!("/blocks/{block}/race-day/print")).await;
    assert_eq!(both.text("main > .race-sheet"), sheet.text("main"));
}

#[tokio::test]
async fn who_the_review_stops_is_named_before_any_hand_over_and_print_and_left_out_of_many_until_ticked() {
    let app = TestApp::new().await;
    let (race, athletes) = squad_for(&app, 3, RaceDistance::Marathon).await;
    let young = app.store.athlete(athletes[1]).await.unwrap().unwrap();
    let mut draft = young.draft.clone();
    draft.athlete.birth_year = Some(2011);
    app.store.save_athlete(athletes[1], young.version, &draft, app.now()).await.unwrap();
    app.post(&format!("/races/{race}/blocks"), &[]).await.location();
    ended(&app, race).await;
    let why = "The review says stop: under 18 before a race as long as a marathon.";
    let block = app.store.block_for(athletes[1], race).await.unwrap().unwrap();
    let other = app.store.block_for(athletes[0], race).await.unwrap().unwrap();

    let page = app.get(&format!("/blocks/{block}")).await;
    let told = page.texts(".hand-over .told");
    assert!(told[0].starts_with(why), "{told:?}");
    let alone = app.get(&format!("/blocks/{block}/print")).await;
    assert!(alone.texts(".sheet-hint").contains(&why.to_owned()), "{:?}", alone.texts(".sheet-hint"));
    assert_eq!(app.get(&format!("/blocks/{other}")).await.count(".hand-over .told"), 0);
    assert!(!app.get(&format!("/blocks/{other}/print")).await.body().contains("says stop"));

    let page = app.get(&format!("/races/{race}/hand-over")).await;
    let said = page.texts(".many-list tbody td:last-child");
    assert_eq!(said, ["", "the review says stop: under 18 before a race as long as a marathon", ""]);
    assert_eq!(page.count(".many-list input[checked]"), 2);

    let path = format!("/races/{race}/print");
    let page = app.get(&path).await;
    assert_eq!(page.texts("main > .sheet h2").len(), 2);
    assert_eq!(page.text(".sheet-choice p"), format!("Runner 001: {why} The block of Runner 001"));
    let ticked =
        app.get(&format!("{path}?race_day=&{}={}", page.attribute(".sheet-choice input", "name"), block)).await;
    assert_eq!(ticked.texts("main > .sheet h2")[1], "Runner 001 River Ten");
    assert_eq!(ticked.count(".sheet-choice input[checked]"), 1);
    assert!(!ticked.text("main").contains("says stop"), "never on the paper");
}

#[tokio::test]
async fn before_a_hand_over_to_somebody_under_18_guardians_and_local_rules_are_named() {
    let app = TestApp::new().await;
    let (race, athletes) = squad(&app, 2).await;
    let young = app.store.athlete(athletes[1]).await.unwrap().unwrap();
    let mut draft = young.draft.clone();
    draft.athlete.birth_year = Some(2011);
    app.store.save_athlete(athletes[1], young.version, &draft, app.now()).await.unwrap();
    let ill = [("kind", "fever"), ("from", "2027-04-19"), ("to", "")];
    app.post(&format!("/athletes/{}/events", athletes[0]), &ill).await.location();
    app.post(&format!("/races/{race}/blocks"), &[]).await.location();
    ended(&app, race).await;
    let page = app.get(&format!("/races/{race}/hand-over")).await;
    let told = page.text(".told");
    assert!(
        told.starts_with("Under 18: Runner 001. Before a plan, a link or a message goes out, parents or guardians"),
        "{told}"
    );
    assert!(told.ends_with("Where local rules say otherwise, they hold."), "{told}");
    let names = page.texts(".many-list tbody th");
    assert_eq!(names, ["Runner 000 An illness, no end noted", "Runner 001 Under 18"]);
    assert_eq!(page.count(".many-list br"), 0, "no empty line between the name and what to think of");
    for (athlete, count) in [(athletes[0], 0), (athletes[1], 1)] {
        let block = app.get(&format!("/athletes/{athlete}")).await.attribute("a[href^='/blocks/']", "href");
        assert_eq!(app.get(&block).await.count(".hand-over .told"), count);
    }
}

#[tokio::test]
async fn a_block_leads_back_to_the_review_of_all_blocks_of_its_race_where_there_are_several() {
    let app = TestApp::new().await;
    let (race, athletes) = made(&app, 2).await;
    let review = format!("/races/{race}/review");
    let block = app.get(&review).await.attributes(".many-review th a", "href").swap_remove(0);
    let ways = async || {
        let page = app.get(&block).await;
        page.texts(&format!(".block-ways a[href='{review}']"))
    };
    assert_eq!(ways().await, ["Review of all 2 blocks for this race"]);
    app.post(&format!("/races/{race}/call-off"), &[]).await.location();
    assert!(ways().await.is_empty(), "nothing is planned towards it");
    app.post(&format!("/races/{race}/take-place"), &[]).await.location();
    app.post(&format!("/races/{race}/withdraw"), &[("athlete", &athletes[1].to_string())]).await.location();
    assert!(ways().await.is_empty(), "it is the only one");
}
