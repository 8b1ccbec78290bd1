//! One day of a block, fixed and freed by hand.

use axum::http::StatusCode;
use ebbline_tests::{TestApp, date};
use store::BlockId;

#[tokio::test]
async fn a_fixed_day_stays_while_the_rest_of_the_week_is_planned_around_it() {
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    let path = format!("/blocks/{block}/days/2027-05-05");
    let before = app.store.block(block).await.unwrap().unwrap().block;
    let page = app.get(&path).await;
    assert_eq!(page.text("h1"), "Wednesday 5 May 2027");
    let version = page.value("version");
    let answer = app.post(&path, &[("version", &version), ("line", "easy 3"), ("balance", "yes")]).await;
    assert_eq!(answer.location(), format!("/blocks/{block}#day-2027-05-05"));
    let page = app.follow(&answer).await;
    assert_eq!(
        page.text(".notice p"),
        "Done: what you set is fixed. Other days followed, to keep the week in balance: they say what they held before."
    );
    let said = page.texts(".day-said p");
    let of_several = said.iter().filter(|said| said.starts_with("Before this edit the day was ")).count();
    assert!(page.count(".day-was") + of_several > 1, "each changed day says what it held: {said:?}");
    let of_the_set = page.texts("#day-2027-05-05 .day-said p");
    assert!(of_the_set.iter().any(|said| said.starts_with("The rest of the week followed: ")), "{of_the_set:?}");
    assert_eq!(app.get(&format!("/blocks/{block}")).await.count(".day-was, .day-said"), 0, "said once");
    let after = app.store.block(block).await.unwrap().unwrap();
    let day = after.block.day(date("2027-05-05")).unwrap();
    assert!(day.pinned);
    assert_eq!(day.sessions[0].session.running_middle(), planning::Milli::whole(3));
    assert_eq!(after.reason, "changed Wed 5 May");
    // The week before race week does not move, and what the day gave away is not lost on others entirely.
    assert_eq!(before.days[..7], after.block.days[..7]);
    let total = |block: &planning::Block| block.weeks().last().unwrap().planned.middle_km(planning::Pace::ASSUMED);
    assert!(total(&after.block) <= total(&before));
}

#[tokio::test]
async fn what_the_review_says_anew_stands_under_the_day_that_was_set() {
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    let path = format!("/blocks/{block}/days/2027-05-08");
    let version = app.version_of(block).await.to_string();
    let hard = [("version", version.as_str()), ("line", "tempo 10, hard 6")];
    let page = app.follow(&app.post(&path, &hard).await).await;
    let said = page.texts("#day-2027-05-08 .day-said p");
    assert!(said.iter().any(|sentence| sentence.starts_with("New in the review: ")), "{said:?}");
    assert_eq!(page.text(".notice p"), "The day is changed and fixed.", "without re-balancing nothing follows");
    assert_eq!(page.count(".day-was"), 1);
}

#[tokio::test]
async fn what_a_day_of_several_sessions_held_before_is_said_of_the_day_and_beside_none_of_them() {
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    for (day, was) in [("2027-05-04", "intervals "), ("2027-05-08", "")] {
        let kept = app.store.block(block).await.unwrap().unwrap().block;
        let is_rest = kept.day(date(day)).unwrap().is_rest();
        let version = app.version_of(block).await.to_string();
        let line = if is_rest { "easy 3 + easy 2" } else { "intervals 6, hard 3 + easy 3" };
        let fields = [("version", version.as_str()), ("line", line)];
        let answer = app.post(&format!("/blocks/{block}/days/{day}"), &fields).await;
        let page = app.follow(&answer).await;
        assert_eq!(page.count(&format!("#day-{day} .day-was")), 0);
        let said = page.texts(&format!("#day-{day} .day-said p")).swap_remove(0);
        assert!(said.starts_with(&format!("Before this edit the day was {was}")), "{said}");
    }
}

#[tokio::test]
async fn a_fixed_day_survives_making_anew_and_can_be_freed_again() {
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    let path = format!("/blocks/{block}/days/2027-05-05");
    let original = app.store.block(block).await.unwrap().unwrap().block;
    app.post(&path, &[("version", &app.version_of(block).await.to_string()), ("line", "rest"), ("balance", "yes")])
        .await;
    let version = app.version_of(block).await.to_string();
    let anew =
        [("version", version.as_str()), ("days", ""), ("shape", "ebb"), ("day_before", "auto"), ("extra_rest", "auto")];
    app.post(&format!("/blocks/{block}/settings"), &anew).await;
    let kept = app.store.block(block).await.unwrap().unwrap().block;
    assert!(kept.day(date("2027-05-05")).unwrap().pinned);
    assert!(kept.day(date("2027-05-05")).unwrap().is_rest());
    app.post(&path, &[("version", &app.version_of(block).await.to_string()), ("do", "free"), ("balance", "yes")]).await;
    assert_eq!(app.store.block(block).await.unwrap().unwrap().block, original, "freeing brings the plan back exactly");
}

#[tokio::test]
async fn what_cannot_be_read_is_quoted_and_kept() {
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    let path = format!("/blocks/{block}/days/2027-05-05");
    for line in ["7 furlongs", "easy -3", "easy 900"] {
        let page = app.post(&path, &[("version", &app.version_of(block).await.to_string()), ("line", line)]).await;
        assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY, "{line}");
        assert_eq!(page.value("line"), line);
        assert_eq!(page.count(".error-summary li"), 1, "{line}");
    }
    assert_eq!(app.store.block(block).await.unwrap().unwrap().revision, 1);
}

#[tokio::test]
async fn a_stale_form_shows_both_versions_of_the_day() {
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    let path = format!("/blocks/{block}/days/2027-05-05");
    let stale = app.version_of(block).await.to_string();
    app.post(&path, &[("version", &stale), ("line", "easy 3")]).await;
    let page = app.post(&path, &[("version", &stale), ("line", "easy 4")]).await;
    assert_eq!(page.status, StatusCode::CONFLICT);
    assert_eq!(page.value("line"), "easy 4");
    assert!(page.texts(".kept").contains(&"easy 3 km".to_owned()));
}

#[tokio::test]
async fn race_day_and_days_of_other_weeks_are_not_bent() {
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    for day in ["2027-05-09", "2027-03-01", "2027-02-30", "tomorrow"] {
        assert_eq!(app.get(&format!("/blocks/{block}/days/{day}")).await.status, StatusCode::NOT_FOUND, "{day}");
    }
}

/// Sends an edit of a day at the present version.
async fn edit(app: &TestApp, block: BlockId, day: &str, fields: &[(&str, &str)]) -> ebbline_tests::Answer {
    let version = app.version_of(block).await.to_string();
    let mut all = vec![("version", version.as_str())];
    all.extend(fields);
    app.post(&format!("/blocks/{block}/days/{day}"), &all).await
}

async fn kept(app: &TestApp, block: BlockId) -> store::BlockRecord {
    app.store.block(block).await.unwrap().unwrap()
}

fn held(record: &store::BlockRecord, day: &str) -> Vec<planning::Session> {
    record.block.day(date(day)).unwrap().sessions.iter().map(|planned| planned.session.clone()).collect()
}

#[tokio::test]
async fn the_day_says_what_can_be_done_with_it() {
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    let page = app.get(&format!("/blocks/{block}/days/2027-04-28")).await;
    assert_eq!(page.attributes("button[name=do]", "value"), ["change", "fix", "move", "swap", "remove", "add"]);
    assert_eq!(page.texts("#session option"), ["easy 10 km", "strength 30 min"]);
    assert_eq!(page.value("to"), "2027-04-29", "the day after is proposed");
    assert_eq!(page.count("#to option"), 12, "not the day itself, and not race day");
    assert_eq!(page.count("input[name=balance][checked]"), 0, "what is set changes no other day unasked");
    let rest = app.get(&format!("/blocks/{block}/days/2027-05-07")).await;
    assert_eq!(rest.attributes("button[name=do]", "value"), ["change", "fix", "swap", "add"]);
}

#[tokio::test]
async fn a_session_moves_with_its_sets_and_undo_says_so() {
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    let before = kept(&app, block).await;
    let moved = held(&before, "2027-04-27").remove(0);
    let answer = edit(&app, block, "2027-04-27", &[("do", "move"), ("session", "0"), ("to", "2027-04-30")]).await;
    assert_eq!(answer.location(), format!("/blocks/{block}#day-2027-04-30"));
    let page = app.follow(&answer).await;
    assert!(page.text(".notice p").starts_with("Moved."));
    let after = kept(&app, block).await;
    assert_eq!((held(&after, "2027-04-27"), held(&after, "2027-04-30")), (vec![], vec![moved]));
    let differ = |(a, b): &(&planning::Day, &planning::Day)| a != b;
    assert_eq!(before.block.days.iter().zip(&after.block.days).filter(differ).count(), 2, "no other day moved");
    assert_eq!(page.text("#undo button"), "Undo: moved intervals from Tue 27 Apr to Fri 30 Apr");
    assert_eq!(page.count("#redo"), 0);
    assert_eq!(page.count("tbody.is-fixed"), 2);
}

#[tokio::test]
async fn days_are_swapped_and_sessions_added_and_taken_off() {
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    let before = kept(&app, block).await;
    edit(&app, block, "2027-05-04", &[("do", "swap"), ("to", "2027-05-05")]).await.location();
    let swapped = kept(&app, block).await;
    assert_eq!(held(&swapped, "2027-05-04"), held(&before, "2027-05-05"));
    edit(&app, block, "2027-05-03", &[("do", "add"), ("added", "mobility 15")]).await.location();
    let added = kept(&app, block).await;
    assert_eq!(held(&added, "2027-05-03").last().unwrap().kind, planning::Kind::Mobility);
    edit(&app, block, "2027-05-03", &[("do", "remove"), ("session", "1")]).await.location();
    assert_eq!(held(&kept(&app, block).await, "2027-05-03"), held(&before, "2027-05-03"));
    edit(&app, block, "2027-05-03", &[("line", "easy 5"), ("added", "strength 20")]).await.location();
    assert_eq!(held(&kept(&app, block).await, "2027-05-03").len(), 2, "Enter saves what is typed in both fields");
}

#[tokio::test]
async fn fixing_a_day_changes_nothing_but_that_it_stays() {
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    let before = kept(&app, block).await;
    let page = app.follow(&edit(&app, block, "2027-05-03", &[("do", "fix"), ("balance", "yes")]).await).await;
    assert!(page.text(".notice p").contains("fixed"));
    let after = kept(&app, block).await;
    assert_eq!(held(&after, "2027-05-03"), held(&before, "2027-05-03"));
    assert!(after.block.day(date("2027-05-03")).unwrap().pinned);
    edit(&app, block, "2027-05-03", &[("do", "fix")]).await.location();
    assert_eq!(kept(&app, block).await.revision, after.revision, "fixing twice is fixing once");
}

#[tokio::test]
async fn a_refused_edit_keeps_what_was_typed_with_a_sentence_at_its_field() {
    let app = TestApp::on("2027-05-05").await;
    let block = app.ana_block().await;
    for (fields, control, words) in [
        (vec![("do", "move"), ("to", "2027-05-09")], "to", "Sunday 9 May 2027 is race day"),
        (vec![("do", "swap"), ("to", "2027-05-04")], "to", "is past"),
        (vec![("do", "swap"), ("to", "someday")], "to", "“someday” is not a date"),
        (vec![("do", "add"), ("added", "")], "added", "Nothing is written"),
        (vec![("do", "add"), ("added", "9 leagues")], "added", "“leagues” is not"),
        (vec![("do", "remove"), ("session", "3")], "line", "There is no session 4"),
    ] {
        let page = edit(&app, block, "2027-05-06", &[&fields[..], &[("balance", "yes")]].concat()).await;
        assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY, "{fields:?}");
        assert!(page.text(&format!("#{control}-errors")).contains(words), "{}", page.text(".error-summary li"));
        assert_eq!(page.count("input[name=balance][checked]"), 1, "the choice stays as it was made");
    }
    assert_eq!(kept(&app, block).await.revision, 1);
}

#[tokio::test]
async fn a_stale_move_shows_the_day_as_it_is_and_what_was_asked_and_can_be_sent_again() {
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    let path = format!("/blocks/{block}/days/2027-05-05");
    let stale = app.version_of(block).await.to_string();
    app.post(&path, &[("version", &stale), ("line", "easy 3")]).await.location();
    let asked =
        [("version", stale.as_str()), ("do", "move"), ("session", "0"), ("to", "2027-05-07"), ("balance", "yes")];
    let page = app.post(&path, &asked).await;
    assert_eq!(page.status, StatusCode::CONFLICT);
    assert_eq!(
        (page.text(".kept"), page.text(".asked").as_str()),
        ("easy 3 km".to_owned(), "Moved easy from Wed 5 May to Fri 7 May")
    );
    let again: Vec<(String, String)> = ["version", "do", "session", "to", "balance", "line", "added"]
        .map(|name| (name.to_owned(), page.attribute(&format!("input[name={name}]"), "value")))
        .into();
    let again: Vec<(&str, &str)> = again.iter().map(|(name, value)| (name.as_str(), value.as_str())).collect();
    app.post(&path, &again).await.location();
    assert_eq!(held(&kept(&app, block).await, "2027-05-07").len(), 1);
}

#[tokio::test]
async fn a_line_that_cannot_be_read_is_offered_as_one_that_is_and_saved_by_a_press() {
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    let path = format!("/blocks/{block}/days/2027-05-05");
    let version = app.version_of(block).await.to_string();
    let page = app.post(&path, &[("version", &version), ("line", "6/8"), ("do", "change")]).await;
    assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert_eq!(page.texts(".offers li"), ["Save 6-8 Easy 6–8 km.", "Save 6 + 8 Easy 6 km + easy 8 km."]);
    assert_eq!(page.attribute(".day-form button", "value"), "change", "the first one, which Enter presses");
    let line = page.attribute(".offers button", "value");
    let saved = app.post(&path, &[("version", &version), ("line", "6/8"), ("take", &line)]).await;
    assert!(saved.status.is_redirection(), "{}", saved.status);
    let amount = held(&kept(&app, block).await, "2027-05-05")[0].amount;
    assert_eq!(amount.map(|amount| amount.to_string()).as_deref(), Some("6-8 km"));
}

#[tokio::test]
async fn a_line_with_one_answer_is_saved_as_that() {
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    let path = format!("/blocks/{block}/days/2027-05-05");
    let version = app.version_of(block).await.to_string();
    app.post(&path, &[("version", &version), ("line", "7 km HR<140"), ("do", "change")]).await.location();
    let kept = kept(&app, block).await;
    let day = kept.block.told_days().iter().find(|day| day.date == date("2027-05-05")).unwrap();
    assert_eq!(day.sessions[0].session.note, "HR<140");
}
