//! The log of an athlete: weeks in a line, single runs, what happened.

use axum::http::StatusCode;
use ebbline_tests::TestApp;

#[tokio::test]
async fn a_week_for_which_nothing_was_planned_is_called_usual_and_one_in_a_block_planned() {
    let app = TestApp::on("2027-05-04").await;
    let ana = app.ana().await.athlete;
    let path = format!("/athletes/{ana}/log");
    assert!(
        app.get(&path)
            .await
            .texts(".log-when")
            .iter()
            .all(|week| week.contains("usually") && !week.contains("planned"))
    );
    let app = TestApp::on("2027-04-27").await;
    let block = app.ana_block().await;
    let ana = app.store.block(block).await.unwrap().unwrap().athlete.id;
    let page = app.later("2027-05-04").get(&format!("/athletes/{ana}/log")).await;
    let weeks = page.texts(".log-when");
    assert!(weeks[0].contains("planned ") && weeks[5].contains("usually "), "{weeks:?}");
}

#[tokio::test]
async fn a_week_in_one_line_is_kept_and_says_its_share_of_the_usual() {
    let app = TestApp::on("2027-05-04").await;
    let ana = app.ana().await.athlete;
    let path = format!("/athletes/{ana}/log");
    let page = app.get(&path).await;
    assert_eq!(page.text("h1"), "Log");
    assert_eq!(page.count(".log-week"), 6);
    // The week before this one: 64 km are usual.
    let form = page.attributes(".log-week", "action")[1].clone();
    assert!(form.ends_with("/log/weeks/2027-04-26"), "{form}");
    let saved =
        app.post(&form, &[("version", "0"), ("line", "less, about 32 km"), ("week_note", "a cold coming")]).await;
    let page = app.follow(&saved).await;
    assert_eq!(page.text(".notice p"), "Log saved.");
    assert_eq!(page.attribute("#line-2027-04-26", "value"), "less, about 32 km");
    assert_eq!(page.attribute("#note-2027-04-26", "value"), "a cold coming");
    assert_eq!(page.texts(".log-said"), ["50% of the usual week"]);
}

#[tokio::test]
async fn a_line_that_says_no_amount_comes_back_with_what_was_typed() {
    let app = TestApp::on("2027-05-04").await;
    let ana = app.ana().await.athlete;
    let form = format!("/athletes/{ana}/log/weeks/2027-04-26");
    let page = app.post(&form, &[("version", "0"), ("line", "went <b>great"), ("week_note", "so said she")]).await;
    assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert_eq!(page.attribute("#line-2027-04-26", "value"), "went <b>great");
    assert_eq!(page.attribute("#note-2027-04-26", "value"), "so said she");
    let told = page.text("#problems li");
    assert!(told.starts_with("Week from Monday 26 April 2027: “went <b>great” is not an amount of running"), "{told}");
}

#[tokio::test]
async fn a_stale_line_shows_both_and_loses_neither() {
    let app = TestApp::on("2027-05-04").await;
    let ana = app.ana().await.athlete;
    let form = format!("/athletes/{ana}/log/weeks/2027-04-26");
    app.post(&form, &[("version", "0"), ("line", "as planned")]).await;
    let page = app.post(&form, &[("version", "0"), ("line", "40 km")]).await;
    assert_eq!(page.status, StatusCode::CONFLICT);
    assert!(page.body().contains("as planned") && page.body().contains("40 km"));
}

#[tokio::test]
async fn what_happened_is_noted_touches_the_block_and_is_taken_back() {
    let app = TestApp::on("2027-05-04").await;
    let block = app.ana_block().await;
    let ana = app.store.block(block).await.unwrap().unwrap().athlete.id;
    let events = format!("/athletes/{ana}/events");
    let fields = [("kind", "fever"), ("from", "2027-05-03"), ("to", "2027-05-04"), ("note", "39 degrees")];
    let page = app.follow(&app.post(&events, &fields).await).await;
    assert_eq!(page.text(".notice p"), "Noted. Blocks stay as they are until you plan them again.");
    assert!(page.text(".told").contains("touches the block for Harbour 10"), "{}", page.text(".told"));
    assert!(page.body().contains("39 degrees"));
    // The block itself did not change unasked, and says what waits.
    let shown = app.get(&format!("/blocks/{block}")).await;
    assert!(shown.body().contains("Plan again from today: old and new side by side"));

    let remove = page.attribute("#happened ~ table form", "action");
    let page = app.follow(&app.post(&remove, &[]).await).await;
    assert!(page.text(".notice p").starts_with("Taken back."));
    assert_eq!(page.count(".told"), 0);
    let restore = page.attribute(".notice form", "action");
    let page = app.follow(&app.post(&restore, &[]).await).await;
    assert_eq!(page.count(".told"), 1);
}

#[tokio::test]
async fn an_event_that_cannot_be_comes_back_with_everything_typed() {
    let app = TestApp::on("2027-05-04").await;
    let ana = app.ana().await.athlete;
    let events = format!("/athletes/{ana}/events");
    for (from, to, told) in [
        ("soon", "", "From: “soon” is not a date"),
        ("", "2027-05-04", "From: nothing is given here"),
        ("2027-05-04", "2027-05-03", "To: Monday 3 May 2027 is before Tuesday 4 May 2027"),
    ] {
        let fields = [("kind", "travel"), ("from", from), ("to", to), ("note", "to the <sea>")];
        let page = app.post(&events, &fields).await;
        assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY);
        assert!(page.text("#problems li").starts_with(told), "{}", page.text("#problems li"));
        assert_eq!((page.value("kind"), page.value("from")), ("travel".to_owned(), from.to_owned()));
        assert_eq!((page.value("to"), page.value("note")), (to.to_owned(), "to the <sea>".to_owned()));
    }
}

#[tokio::test]
async fn an_illness_or_injury_that_is_still_ahead_is_refused_with_a_way_out() {
    let app = TestApp::on("2027-05-04").await;
    let ana = app.ana().await.athlete;
    let events = format!("/athletes/{ana}/events");
    for (kind, to) in [("illness", ""), ("fever", "2027-06-03"), ("injury", "")] {
        let fields = [("kind", kind), ("from", "2027-06-01"), ("to", to)];
        let page = app.post(&events, &fields).await;
        assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY, "{kind}");
        let told = page.text("#problems li");
        assert!(told.starts_with("From: an i") && told.contains("Tuesday 1 June 2027, which is still ahead"), "{told}");
        assert!(page.text(".field-errors").contains("for days away choose travel or no time."), "{kind}");
        assert_eq!((page.value("kind"), page.value("from")), (kind.to_owned(), "2027-06-01".to_owned()));
    }
    assert!(app.store.events_of(ana).await.unwrap().is_empty());
    // What can be known beforehand may lie ahead, and an illness may begin today.
    for (kind, from) in [("travel", "2027-06-01"), ("no-time", "2027-06-05"), ("illness", "2027-05-04")] {
        app.post(&events, &[("kind", kind), ("from", from), ("to", "")]).await.location();
    }
}

#[tokio::test]
async fn travel_of_three_days_or_more_says_which_days_are_on_the_way() {
    let app = TestApp::on("2027-05-04").await;
    let block = app.ana_block().await;
    let ana = app.store.block(block).await.unwrap().unwrap().athlete.id;
    let log = app.get(&format!("/athletes/{ana}/log")).await;
    assert!(log.body().contains("only the first and the last day count as days on the way"));
    let happened = async |from: &str, to: &str| {
        app.post(&format!("/athletes/{ana}/events"), &[("kind", "travel"), ("from", from), ("to", to)])
            .await
            .location();
        app.get(&format!("/blocks/{block}/replan")).await.texts("#happened ~ ul li")
    };
    assert_eq!(happened("2027-05-04", "2027-05-05").await, ["Travel, 4 to 5 May."]);
    let said = happened("2027-05-06", "2027-05-08").await;
    assert!(said[1].starts_with("Travel, 6 to 8 May. Only its first and its last day count"), "{said:?}");
}

#[tokio::test]
async fn single_runs_are_added_and_taken_out_and_wrong_ones_come_back() {
    let app = TestApp::on("2027-05-04").await;
    let ana = app.ana().await.athlete;
    let sessions = format!("/athletes/{ana}/log/sessions");
    let fields = [("day", "2027-05-03"), ("ran", "tempo 9, hard 4"), ("minutes", "46"), ("effort", "7")];
    let page = app.follow(&app.post(&sessions, &fields).await).await;
    let row = page.text("#sessions ~ table tbody tr");
    assert!(row.contains("tempo 9, hard 4") && row.contains("46 minutes, effort 7 of 10"), "{row}");
    let again = app.follow(&app.post(&sessions, &fields).await).await;
    assert_eq!(again.count("#sessions ~ table tbody tr"), 1, "a double click is one run");
    let remove = page.attribute("#sessions ~ table form", "action");
    assert_eq!(app.follow(&app.post(&remove, &[]).await).await.count("#sessions ~ table"), 0);

    let wrong = [("day", "2027-05-09"), ("ran", "8 + 5"), ("minutes", "1e3"), ("effort", "11")];
    let page = app.post(&sessions, &wrong).await;
    assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert_eq!(page.texts("#problems li").len(), 3);
    assert_eq!((page.value("ran"), page.value("minutes")), ("8 + 5".to_owned(), "1e3".to_owned()));
    let page = app.post(&sessions, &[("day", "2027-05-03"), ("ran", "8 + 5")]).await;
    assert!(page.text("#problems li").contains("2 sessions"), "{}", page.text("#problems li"));
}

#[tokio::test]
async fn days_beyond_every_calendar_are_refused_in_words() {
    let app = TestApp::on("2027-05-04").await;
    let ana = app.ana().await.athlete;
    for day in ["+262142-12-31", "-262143-01-01", "0000-01-01", "2191-01-01"] {
        let far = app.post(&format!("/athletes/{ana}/log/weeks/{day}"), &[("version", "0"), ("line", "20")]).await;
        assert_eq!(far.status, StatusCode::NOT_FOUND, "{day}");
        let page = app.post(&format!("/athletes/{ana}/events"), &[("kind", "injury"), ("from", day)]).await;
        assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY, "{day}");
        let page = app.post(&format!("/athletes/{ana}/log/sessions"), &[("day", day), ("ran", "5")]).await;
        assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY, "{day}");
    }
}

#[tokio::test]
async fn the_log_is_a_table_without_what_happened_and_without_formulas() {
    let app = TestApp::new().await;
    let ana = app.ana().await.athlete;
    let log = format!("/athletes/{ana}/log");
    let week = [("version", "0"), ("line", "less, about 20 km"), ("week_note", "=1+1")];
    app.post(&format!("{log}/weeks/2027-04-12"), &week).await.location();
    let run = [("day", "2027-04-15"), ("ran", "8"), ("minutes", "46"), ("effort", "3")];
    app.post(&format!("{log}/sessions"), &run).await.location();
    let event = [("kind", "illness"), ("from", "2027-04-13"), ("to", "2027-04-14"), ("note", "cough")];
    app.post(&format!("/athletes/{ana}/events"), &event).await.location();
    let table = app.get(&format!("{log}/table")).await;
    assert_eq!(table.header("content-disposition"), "attachment; filename=\"log-ana-exemplo.csv\"");
    let lines: Vec<&str> = table.body().lines().collect();
    assert_eq!(
        lines[1..],
        ["2027-04-12,week,,,,,,,\"less, about 20 km\",'=1+1", "2027-04-15,session,easy,8,8,km,46,3,8,",]
    );
    assert_eq!(app.get(&log).await.count(&format!("a[href='{log}/table']")), 1);
}

#[tokio::test]
async fn the_form_for_an_illness_is_one_link_away_at_the_top_of_the_log() {
    let app = TestApp::on("2027-05-04").await;
    let ana = app.ana().await.athlete;
    let page = app.get(&format!("/athletes/{ana}/log")).await;
    let first = page.attributes("main nav a", "href")[0].clone();
    assert_eq!(
        (first.as_str(), page.texts("main nav a")[0].as_str()),
        ("#note-something", "Note an illness, injury or travel")
    );
    assert_eq!(page.count(&format!("{first} + form[action$=\"/events\"]")), 1, "the form stands right below");
}
