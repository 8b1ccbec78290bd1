//! A block planned again after what happened.

use axum::http::StatusCode;
use ebbline_tests::{TestApp, date, get_shared};
use planning::{EventKind, LifeEvent};
use store::BlockId;

/// A block and a fever noted on Tuesday of race week, two days long.
async fn with_fever(app: &TestApp) -> (BlockId, LifeEvent) {
    let block = app.ana_block().await;
    let ana = app.store.block(block).await.unwrap().unwrap().athlete.id;
    let event = LifeEvent {
        kind: EventKind::Illness { fever: true },
        from: date("2027-05-03"),
        to: date("2027-05-04"),
        noted: date("2027-05-04"),
        open: false,
    };
    app.store.add_event(ana, &event, "39 degrees", app.now()).await.unwrap();
    (block, event)
}

#[tokio::test]
async fn old_and_new_stand_side_by_side_and_nothing_is_kept_unasked() {
    let app = TestApp::on("2027-05-04").await;
    let (block, _) = with_fever(&app).await;
    let before = app.store.block(block).await.unwrap().unwrap();
    let path = format!("/blocks/{block}/replan");
    let page = app.get(&path).await;
    assert!(page.text(".lead").ends_with("and no week becomes more than it was."), "{}", page.text(".lead"));
    let days = page.texts(".sides tbody tr");
    assert!(days.iter().any(|row| row.contains("rest") && row.contains("no running with fever")), "{days:#?}");
    assert!(page.body().contains("Stop."), "fever in race week stops");
    assert_eq!(app.store.block(block).await.unwrap().unwrap(), before);
    let review = format!("/races/{}/review", before.race.id);
    let asked = format!(".many-says a[href='{path}']");
    assert_eq!(app.get(&review).await.count(&asked), 1, "among all blocks it is asked for, too");

    let taken = app.post(&path, &[("version", &page.value("version"))]).await;
    let shown = app.follow(&taken).await;
    assert!(shown.text(".notice p").starts_with("Planned again."));
    let after = app.store.block(block).await.unwrap().unwrap();
    assert_eq!(after.before_events.as_ref(), Some(&before.block));
    assert!(after.block.day(date("2027-05-04")).unwrap().sessions.is_empty());
    assert_eq!(after.reason, "planned again: illness with fever");
    // Nothing waits any more.
    assert_eq!(app.get(&review).await.count(&asked), 0);
    assert!(!shown.body().contains("Plan again from today"));
    assert!(app.get(&path).await.body().contains("nothing changes"));
}

#[tokio::test]
async fn taken_back_the_old_plan_comes_back_to_the_letter() {
    let app = TestApp::on("2027-05-04").await;
    let (block, _) = with_fever(&app).await;
    let before = app.store.block(block).await.unwrap().unwrap();
    let path = format!("/blocks/{block}/replan");
    app.post(&path, &[("version", &before.version.to_string())]).await;
    let ana = before.athlete.id;
    let event = app.store.events_of(ana).await.unwrap()[0].id;
    app.store.remove_event(ana, event, app.now()).await.unwrap();
    let version = app.version_of(block).await.to_string();
    let page = app.get(&path).await;
    assert!(page.text(".lead").starts_with("Something that was noted was taken back"), "{}", page.text(".lead"));
    assert!(page.text("#happened + ul").contains("Taken back: Illness with fever"), "{}", page.text("#happened + ul"));
    let said = page.texts(".sides tbody td").join(" ");
    assert!(!said.contains("fever") && !said.contains("illness"), "{said}");
    app.post(&path, &[("version", &version)]).await;
    let after = app.store.block(block).await.unwrap().unwrap();
    assert_eq!((&after.block, after.before_events), (&before.block, None));
    assert_eq!(after.reason, "planned again: illness with fever taken back");
}

#[tokio::test]
async fn an_end_that_came_earlier_is_a_change_and_nothing_taken_back() {
    let app = TestApp::on("2027-05-01").await;
    let block = app.ana_block().await;
    let ana = app.store.block(block).await.unwrap().unwrap().athlete.id;
    let fields = [("kind", "illness"), ("from", "2027-04-30"), ("to", "")];
    app.post(&format!("/athletes/{ana}/events"), &fields).await.location();
    let app = app.later("2027-05-04");
    let path = format!("/blocks/{block}/replan");
    app.post(&path, &[("version", &app.version_of(block).await.to_string())]).await.location();
    let event = app.store.events_of(ana).await.unwrap().remove(0);
    app.store.end_event(ana, event.id, event.version, date("2027-04-30")).await.unwrap();
    let lead = app.get(&path).await.text(".lead");
    assert!(lead.starts_with("Something that was noted was changed"), "{lead}");
}

#[tokio::test]
async fn a_stale_version_shows_what_is_kept_now_and_writes_nothing() {
    let app = TestApp::on("2027-05-04").await;
    let (block, _) = with_fever(&app).await;
    let path = format!("/blocks/{block}/replan");
    let page = app.post(&path, &[("version", "99")]).await;
    assert_eq!(page.status, StatusCode::CONFLICT);
    assert!(page.text(".told").contains("Nothing was overwritten"));
    assert_eq!(app.store.block(block).await.unwrap().unwrap().before_events, None);
}

/// Whether a page tells what happened; the general caution about fever is for everybody.
fn tells(body: &str) -> bool {
    let body = body.to_lowercase();
    ["no running with fever", "days of illness", "after an illness", "after a fever", "39 degrees"]
        .iter()
        .any(|words| body.contains(words))
}

#[tokio::test]
async fn the_athletes_door_shows_the_days_and_never_why() {
    let app = TestApp::on("2027-05-04").await;
    let (block, _) = with_fever(&app).await;
    app.post(&format!("/blocks/{block}/replan"), &[("version", &app.version_of(block).await.to_string())]).await;
    let address = app.hand_over(block, "").await;
    let door = app.share_door().await;
    let path = address.splitn(4, '/').nth(3).map_or(address.clone(), |path| format!("/{path}"));
    for path in [path.clone(), format!("{path}/print")] {
        let page = get_shared(&door, &path).await;
        assert!(!tells(page.body()), "{path}");
    }
    assert!(get_shared(&door, &path).await.body().contains("our coach adjusted this day"));
    for path in [format!("/blocks/{block}/print"), format!("/blocks/{block}/file")] {
        assert!(!tells(app.get(&path).await.body()), "{path}");
    }
}

#[tokio::test]
async fn a_day_bent_by_hand_stays_under_what_happened_and_comes_through_when_it_is_taken_back() {
    let app = TestApp::on("2027-05-04").await;
    let (block, _) = with_fever(&app).await;
    let replan = format!("/blocks/{block}/replan");
    app.post(&replan, &[("version", &app.version_of(block).await.to_string())]).await;
    let day = format!("/blocks/{block}/days/2027-05-08");
    let page = app.get(&day).await;
    let fields = [("version", page.value("version")), ("line", "easy 3".to_owned()), ("do", "change".to_owned())];
    let fields: Vec<(&str, &str)> = fields.iter().map(|(name, value)| (*name, value.as_str())).collect();
    let answer = app.post(&day, &fields).await;
    assert_eq!(answer.status, StatusCode::SEE_OTHER, "{}", answer.body());
    let bent = app.store.block(block).await.unwrap().unwrap();
    assert!(bent.block.day(date("2027-05-08")).unwrap().pinned);
    assert!(bent.block.day(date("2027-05-04")).unwrap().sessions.is_empty(), "what happened still lies over it");
    let under = bent.before_events.expect("the plan under it");
    assert!(
        under.day(date("2027-05-08")).unwrap().pinned && !under.day(date("2027-05-04")).unwrap().sessions.is_empty()
    );
}

#[tokio::test]
async fn a_race_that_was_moved_is_planned_again_and_past_days_stay() {
    let app = TestApp::on("2027-05-05").await;
    let block = app.ana_block().await;
    let before = app.store.block(block).await.unwrap().unwrap();
    let race = before.race.clone();
    let moved = planning::Race { date: date("2027-05-16"), ..race.race.clone() };
    app.store.save_race(race.id, race.version, &moved, &race.place, app.now()).await.unwrap();
    let shown = app.get(&format!("/blocks/{block}")).await;
    assert!(shown.text(".told").contains("The race was moved since this block was made"), "{}", shown.text(".told"));
    let path = format!("/blocks/{block}/replan");
    let page = app.get(&path).await;
    assert!(page.body().contains("The race is 7 days later."));
    // With more days to the race a week may become more than it was.
    assert_eq!(page.text(".lead"), "What is past stays, and what is missed is not made up.");
    app.post(&path, &[("version", &page.value("version"))]).await;
    let after = app.store.block(block).await.unwrap().unwrap().block;
    assert_eq!(after.race_day, date("2027-05-16"));
    for day in ["2027-05-03", "2027-05-04"] {
        // Why it is so is told by the race as it was then.
        let run = |block: &planning::Block| -> Vec<planning::Session> {
            block.day(date(day)).unwrap().sessions.iter().map(|planned| planned.session.clone()).collect()
        };
        let [old, new] = [&before.block, &after].map(run);
        assert_eq!(old, new, "{day}");
    }
}

#[tokio::test]
async fn days_that_were_eased_and_that_a_later_block_does_not_hold_any_more_are_said_before_it_is_taken() {
    let app = TestApp::on("2027-04-27").await;
    let block = app.ana_block().await;
    let ana = app.store.block(block).await.unwrap().unwrap().athlete.id;
    let day = date("2027-04-27");
    let event = LifeEvent { kind: EventKind::Illness { fever: false }, from: day, to: day, noted: day, open: false };
    app.store.add_event(ana, &event, "", app.now()).await.unwrap();
    let path = format!("/blocks/{block}/replan");
    let version = app.get(&path).await.value("version");
    app.post(&path, &[("version", &version)]).await;
    move_race(&app, block, "2027-05-23").await;
    let page = app.get(&path).await;
    let said = page.text("table.stack");
    let new = app.store.block(block).await.unwrap().unwrap().block;
    assert!(new.day(day).is_some_and(|day| !day.is_as_usual()));
    assert!(said.contains("Tue 27 Apr") && said.contains("as usual, before the block"), "{said}");
    assert!(said.contains("What is noted eased this day") && said.contains("tell the athlete"), "{said}");
    // Once it is taken, the comparison says on which side of which race a day lies.
    app.post(&path, &[("version", &page.value("version"))]).await;
    let differs = app.get(&format!("/blocks/{block}/versions/difference?from=1&to=3")).await;
    assert!(differs.body().contains("after the race"), "{}", differs.body());
}

/// Moves Ana's race, which is on Sunday 9 May, to another day.
async fn move_race(app: &TestApp, block: BlockId, to: &str) {
    let race = app.store.block(block).await.unwrap().unwrap().race;
    let moved = planning::Race { date: date(to), ..race.race.clone() };
    app.store.save_race(race.id, race.version, &moved, &race.place, app.now()).await.unwrap();
}

/// Fixes a day with what is run on it.
async fn fix(app: &TestApp, block: BlockId, day: &str, line: &str) {
    let version = app.version_of(block).await.to_string();
    let fields = [("version", version.as_str()), ("line", line), ("do", "change")];
    app.post(&format!("/blocks/{block}/days/{day}"), &fields).await.location();
}

#[tokio::test]
async fn fixed_days_of_a_race_that_was_moved_say_where_they_stand_and_go_along_at_a_press() {
    let app = TestApp::on("2027-05-05").await;
    let block = app.ana_block().await;
    fix(&app, block, "2027-05-08", "easy 3").await;
    let path = format!("/blocks/{block}/replan");
    assert_eq!(app.get(&path).await.count("button[name='fixed']"), 0);
    move_race(&app, block, "2027-05-10").await;
    let ana = app.store.block(block).await.unwrap().unwrap().athlete.id;
    let athlete = app.get(&format!("/athletes/{ana}")).await.text(".coming td strong");
    assert_eq!(athlete, "The race was moved to Monday 10 May: this block was made for Sunday 9 May.");
    let page = app.get(&path).await;
    let said = page.texts("#happened ~ ul li").join(" ");
    assert!(
        said.contains("Saturday 8 May, easy 3 km: it stood 1 day before the race, and left there it stands 2 days"),
        "{said}"
    );
    assert_eq!(page.count("button[name='fixed']"), 2);

    // Looked at before it is taken: nothing is kept by looking.
    let before = app.store.block(block).await.unwrap().unwrap();
    let along = app.get(&format!("{path}?fixed=along")).await;
    assert!(
        along.texts(".stack tbody tr").iter().any(|row| row.starts_with("Sun 9 May")),
        "{:?}",
        along.texts(".stack tbody tr")
    );
    assert_eq!((along.value("fixed"), app.store.block(block).await.unwrap().unwrap()), ("along".to_owned(), before));
    app.post(&path, &[("version", &along.value("version")), ("fixed", "along")]).await.location();
    let after = app.store.block(block).await.unwrap().unwrap();
    let fixed: Vec<String> = after.block.days.iter().filter(|day| day.pinned).map(|day| day.date.to_string()).collect();
    assert_eq!(fixed, ["2027-05-09"]);
    assert!(after.reason.ends_with("race moved, fixed days moved along"), "{}", after.reason);

    // Let go, they are the planner's.
    move_race(&app, block, "2027-05-12").await;
    let version = app.version_of(block).await.to_string();
    app.post(&path, &[("version", &version), ("fixed", "free")]).await.location();
    let after = app.store.block(block).await.unwrap().unwrap();
    assert!(after.block.days.iter().all(|day| !day.pinned) && after.reason.ends_with(", fixed days let go"));
}

#[tokio::test]
async fn a_fixed_day_on_race_day_or_behind_it_does_not_keep_a_race_from_coming_earlier() {
    let app = TestApp::on("2027-05-04").await;
    let block = app.ana_block().await;
    fix(&app, block, "2027-05-08", "easy 3").await;
    move_race(&app, block, "2027-05-08").await;
    let path = format!("/blocks/{block}/replan");
    let page = app.get(&path).await;
    assert!(page.texts("#happened ~ ul li").join(" ").contains("left there it falls away"), "{}", page.body());
    app.post(&path, &[("version", &page.value("version"))]).await.location();
    assert_eq!(app.store.block(block).await.unwrap().unwrap().block.race_day, date("2027-05-08"));
}

#[tokio::test]
async fn fixed_days_on_the_way_are_said_and_become_short_and_easy_at_one_press() {
    let app = TestApp::on("2027-05-03").await;
    let block = app.ana_block().await;
    fix(&app, block, "2027-05-04", "tempo 8, hard 4").await;
    let ana = app.store.block(block).await.unwrap().unwrap().athlete.id;
    let travel = [("kind", "travel"), ("from", "2027-05-04"), ("to", "2027-05-04")];
    app.post(&format!("/athletes/{ana}/events"), &travel).await.location();
    let needs = app.get("/").await.text(".board-needs");
    assert!(needs.contains("ard session on a day on the way: Tuesday 4 May is fixed"), "{needs}");
    let calendar = app.get("/calendar").await.text(".sc-who:has(a[href^='/athletes/'])");
    assert!(calendar.contains("Travel on Tuesday 4 May"), "{calendar}");
    let path = format!("/blocks/{block}/replan");
    let page = app.get(&path).await;
    let button = page.text("button[name='let_go']");
    assert!(button.ends_with("et the fixed day on the way be short and easy too: Tuesday 4 May"), "{button}");
    app.post(&path, &[("version", &page.value("version")), ("let_go", "yes")]).await.location();
    let after = app.store.block(block).await.unwrap().unwrap();
    let tuesday = after.block.day(date("2027-05-04")).unwrap();
    assert!(!tuesday.pinned && !tuesday.is_hard(), "{tuesday:?}");
    assert_eq!(app.get(&path).await.count("button[name='let_go']"), 0);
}

#[tokio::test]
async fn the_days_that_are_counted_are_the_days_that_are_listed_and_each_reads_otherwise() {
    for (kind, from, to) in [
        ("travel", "2027-05-03", "2027-05-04"),
        ("night-shift", "2027-05-04", "2027-05-05"),
        ("fever", "2027-05-03", "2027-05-03"),
    ] {
        let app = TestApp::on("2027-05-03").await;
        let block = app.ana_block().await;
        let ana = app.store.block(block).await.unwrap().unwrap().athlete.id;
        app.post(&format!("/athletes/{ana}/events"), &[("kind", kind), ("from", from), ("to", to)]).await.location();
        let told = app.get(&format!("/athletes/{ana}/log")).await.text(".told");
        let page = app.get(&format!("/blocks/{block}/replan")).await;
        let sides = |side: &str| page.texts(&format!(".stack td.{side} bdi"));
        let (was, now) = (sides("was"), sides("now"));
        assert!(!was.is_empty() && was.iter().zip(&now).all(|(was, now)| was != now), "{kind}: {was:?} {now:?}");
        let days = if was.len() == 1 { "1 day".to_owned() } else { format!("{} days", was.len()) };
        assert!(told.contains(&days), "{kind}: {told}, and {was:?}");
        // What a week holds stands as the block's own page says it, and bold only where it differs.
        let weeks = page.texts(".sides:not(.stack) tbody tr");
        let cells = page.texts(".sides:not(.stack) tbody td");
        let differ = cells.chunks(2).filter(|sides| sides[0] != sides[1]).count();
        assert_eq!(page.count(".sides:not(.stack) td.now"), differ, "{kind}: {cells:?}");
        for (row, week) in weeks.iter().zip(app.store.block(block).await.unwrap().unwrap().block.weeks()) {
            let said = formats::words::totals(&week.planned, planning::DistanceUnit::Km);
            assert!(row.contains(&said), "{kind}: {row}, {said}");
        }
    }
}

#[tokio::test]
async fn a_race_that_was_moved_is_named_wherever_its_blocks_are_looked_at() {
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    let race = app.store.block(block).await.unwrap().unwrap().race;
    let (of_race, of_block, replan) =
        (format!("/races/{}", race.id), format!("/blocks/{block}"), format!("/blocks/{block}/replan"));
    let all = [of_race.clone(), format!("{of_race}/review"), format!("{of_race}/print"), of_block.clone()];
    let said = "moved to Saturday 8 May: this block was made for Sunday 9 May";
    for path in &all {
        let page = app.get(path).await;
        assert!(!page.body().contains("moved to") && !page.body().contains("another day"), "{path}");
    }
    assert!(app.get(&of_block).await.count("details.message") > 0);
    app.hand_over(block, "no").await;
    let hand_over = format!("{of_block}/hand-over");
    let moved = planning::Race { date: date("2027-05-08"), ..race.race.clone() };
    app.store.save_race(race.id, race.version, &moved, &race.place, app.now()).await.unwrap();

    let board = app.get("/").await;
    assert_eq!(board.text(".board-heading span:first-child"), "Need you now", "the athlete holds it");
    let asked = format!(".board-needs a[href='{replan}']");
    assert_eq!(board.text(&asked), "Race moved to Saturday 8 May: the block was made for Sunday 9 May");

    let page = app.get(&of_block).await;
    assert!(page.text("#live-review .finding-stop").contains(said), "{}", page.text("#live-review"));
    assert_eq!(page.attribute("#live-review .finding-stop a", "href"), replan);
    assert_eq!((page.count(".review-none"), page.count("details.message")), (0, 0));
    assert!(page.text(".messages-hint").contains("withheld"));

    let review = app.get(&all[1]).await;
    assert!(review.text(".many-says .finding-stop").contains(said), "{}", review.text(".many-says"));
    assert_eq!(review.attribute(".many-says .finding-stop a", "href"), replan);
    for print in [format!("{of_block}/print"), all[2].clone()] {
        let page = app.get(&print).await;
        assert!(page.texts(".sheet-hint strong").iter().any(|one| one.contains(said)), "{print}");
        assert!(!page.text("#main").contains("moved"), "{print}");
    }
    let told = app.get(&of_race).await;
    assert!(told.text(".told").starts_with("One block was made for another day"), "{}", told.text(".told"));
    assert_eq!(told.attribute(".told a", "href"), all[1]);

    assert_eq!(page.attribute(".hand-over p a", "href"), replan);
    assert!(!page.attributes("main form", "action").contains(&hand_over));
    let sent = app.follow(&app.post(&hand_over, &[("version", "1")]).await).await;
    assert!(sent.text(".notice").contains("nothing was handed over"), "{}", sent.text(".notice"));
    app.post(&format!("{hand_over}/end"), &[]).await.location();
    assert_eq!(app.get("/").await.text(".board-heading span:first-child"), "Soon", "nobody holds it");

    let version = app.version_of(block).await.to_string();
    app.post(&replan, &[("version", &version)]).await.location();
    assert_eq!(app.get("/").await.count(&asked), 0);
    for path in &all {
        let page = app.get(path).await;
        assert!(
            !page.body().contains("this block was made for") && !page.body().contains("another day than"),
            "{path}"
        );
    }
}

#[tokio::test]
async fn a_past_race_whose_day_is_put_right_leaves_its_block_as_it_was() {
    let app = TestApp::on("2027-05-05").await;
    let block = app.ana_block().await;
    let app = app.later("2027-05-14");
    let race = app.store.block(block).await.unwrap().unwrap().race;
    let moved = planning::Race { date: date("2027-05-08"), ..race.race.clone() };
    app.store.save_race(race.id, race.version, &moved, &race.place, app.now()).await.unwrap();
    let told = app.get(&format!("/blocks/{block}")).await;
    assert_eq!(told.count(".told"), 1);
    let said = told.text(".told");
    assert!(said.contains("its day is past: Saturday 8 May 2027. The block stays as it was"), "{said}");
    assert_eq!(told.attributes(".told a", "href"), [format!("/races/{}/edit", race.id)]);
    let page = app.get(&format!("/blocks/{block}/replan")).await;
    assert!(page.text("section[aria-labelledby=sides]").contains("It cannot be planned again"));
}

#[tokio::test]
async fn running_beyond_the_plan_comes_off_only_when_the_coach_says_so() {
    let app = TestApp::on("2027-05-04").await;
    let block = app.ana_block().await;
    let ana = app.store.block(block).await.unwrap().unwrap().athlete.id;
    app.store
        .save_done_week(ana, date("2027-04-26"), store::Version(0), "50 % more", "", app.today(), app.now())
        .await
        .unwrap();
    let path = format!("/blocks/{block}/replan");
    let page = app.get(&path).await;
    assert!(page.body().contains("50% more than planned was run lately") && page.body().contains("nothing changes"));
    let page = app.get(&format!("{path}?take_off=yes")).await;
    assert!(page.count(".sides") > 0);
    let fields = [("version", page.value("version")), ("take_off", page.value("take_off"))];
    let fields: Vec<(&str, &str)> = fields.iter().map(|(name, value)| (*name, value.as_str())).collect();
    let before = app.store.block(block).await.unwrap().unwrap().block;
    app.post(&path, &fields).await;
    let after = app.store.block(block).await.unwrap().unwrap();
    let km = |block: &planning::Block| -> f64 {
        block.days.iter().map(|day| day.planned_running().middle_km(planning::Pace::ASSUMED)).sum()
    };
    assert!(km(&after.block) < km(&before));
    assert_eq!(after.reason, "planned again: ran more than planned");
}

#[tokio::test]
async fn a_race_that_replaces_one_called_off_starts_from_where_the_athlete_is() {
    let app = TestApp::on("2027-05-06").await;
    // Made in time: the running has come down for days.
    let entered = app.ana().await;
    let block = app.plan_block(entered).await;
    let old = app.store.block(block).await.unwrap().unwrap();
    app.store.call_off_race(old.race.id, Some(app.today()), app.now()).await.unwrap();
    let half = app.add_race("River Half", "2027-05-23", planning::RaceDistance::Half).await;
    app.store.enter(half, old.athlete.id, planning::Importance::Goal, app.now()).await.unwrap();
    let path = format!("/athletes/{}/blocks", old.athlete.id);
    let made = app.follow(&app.post(&path, &[("race", &half.to_string())]).await).await;
    assert_eq!(made.text("h1"), "Ana Exemplo: River Half");
    let new = app.store.block_for(old.athlete.id, half).await.unwrap().unwrap();
    let new = app.store.block(new).await.unwrap().unwrap().block;
    assert!(new.ceilings.iter().any(|ceiling| ceiling.cause == planning::Cause::BuiltAgain), "{:?}", new.ceilings);
    // The race called off is no race on the way, and no recovery follows it.
    assert!(!new.days.iter().flat_map(|day| &day.sessions).any(|one| one.role == planning::Role::OtherRace));
}

#[tokio::test]
async fn fixed_days_of_an_illness_rest_with_the_others_at_one_press_and_come_back_with_undo() {
    let app = TestApp::on("2027-05-03").await;
    let block = app.ana_block().await;
    let path = format!("/blocks/{block}/replan");
    // Tuesday is fixed with hard running, then a cold is noted for it.
    let day = format!("/blocks/{block}/days/2027-05-04");
    let version = app.version_of(block).await.to_string();
    app.post(&day, &[("version", &version), ("line", "tempo 8, hard 4"), ("do", "change")]).await.location();
    let fixed = app.store.block(block).await.unwrap().unwrap();
    let ana = fixed.athlete.id;
    let cold = [("kind", "illness"), ("from", "2027-05-03"), ("to", "2027-05-04")];
    app.post(&format!("/athletes/{ana}/events"), &cold).await.location();
    let needs = async || app.get("/").await.text(".board-needs");
    assert!(needs().await.contains("ard session on a sick day: Tuesday 4 May is fixed"), "{}", needs().await);

    let button = "button[name='let_go']";
    let page = app.get(&path).await;
    assert_eq!(page.text(button), "Take it, and let the fixed day of the illness rest too: Tuesday 4 May");
    // Taken without them, the page offers them still, and nothing else.
    app.post(&path, &[("version", &page.value("version"))]).await.location();
    let kept = app.store.block(block).await.unwrap().unwrap();
    assert!(kept.block.day(date("2027-05-04")).unwrap().is_hard());
    let told = app.get(&format!("/blocks/{block}")).await;
    assert_eq!(told.count(&format!(".finding a[href='{path}']")), 1, "the review leads there");
    let page = app.get(&path).await;
    assert_eq!(page.text(button), "Let the fixed day of the illness rest too: Tuesday 4 May");
    assert_eq!(page.count("form .actions button"), 1);

    app.post(&path, &[("version", &page.value("version")), ("let_go", "yes")]).await.location();
    let after = app.store.block(block).await.unwrap().unwrap();
    let tuesday = after.block.day(date("2027-05-04")).unwrap();
    assert!(tuesday.is_rest() && !tuesday.pinned, "{tuesday:?}");
    assert!(after.reason.ends_with(", fixed days let go"), "{}", after.reason);
    assert_eq!(app.get(&path).await.count(button), 0);
    assert!(app.get(&path).await.body().contains("nothing changes"));
    assert!(!needs().await.contains("is fixed"), "{}", needs().await);

    let version = app.version_of(block).await.to_string();
    app.post(&format!("/blocks/{block}/undo"), &[("version", &version)]).await.location();
    let undone = app.store.block(block).await.unwrap().unwrap();
    assert_eq!((&undone.block, &undone.before_events), (&kept.block, &kept.before_events));
}
