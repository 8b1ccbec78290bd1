//! Messages by date: the squad's words, and each block's, ready to paste.

use axum::http::StatusCode;
use ebbline_tests::{Answer, SHARE_HOST, TestApp, get_shared};

#[tokio::test]
async fn the_next_message_is_open_filled_and_can_be_noted_as_sent() {
    let app = TestApp::on("2027-04-29").await;
    let block = app.ana_block().await;
    let path = format!("/blocks/{block}");
    let page = app.get(&path).await;
    assert_eq!(
        page.texts(".message-name"),
        ["Hand-over", "Block start", "A week out", "Three days out", "The day before", "The day after"]
    );
    assert_eq!(page.text(".message[open] .message-name"), "Block start");
    let text = page.text(".message[open] textarea");
    assert!(text.starts_with("Hello Ana, 10 days to Harbour 10: your block begins today."), "{text}");
    assert!(!text.contains('{') && !text.contains("Every day with its reason"), "no link, no sentence: {text}");
    assert!(app.get("/").await.text(".board-needs").contains("essage due today: block start"));

    let sent = app.post(&format!("{path}/messages"), &[("moment", "block-start"), ("sent", "yes")]).await;
    assert_eq!(sent.location(), format!("{path}#messages"));
    let page = app.get(&path).await;
    assert!(page.texts(".message-day")[1].ends_with("sent on 29 April"), "{:?}", page.texts(".message-day"));
    assert_eq!(page.text(".message[open] .message-name"), "A week out");
    assert!(!app.get("/").await.text(".board-needs").contains("essage due"));
    app.post(&format!("{path}/messages"), &[("moment", "block-start")]).await.location();
    assert_eq!(app.get(&path).await.text(".message[open] .message-name"), "Block start");
    let unknown = app.post(&format!("{path}/messages"), &[("moment", "noon"), ("sent", "yes")]).await;
    assert_eq!(unknown.status, StatusCode::NOT_FOUND);
}

#[tokio::test]
async fn the_link_in_a_message_opens_the_athletes_page() {
    let app = TestApp::on("2027-04-29").await;
    let block = app.ana_block().await;
    let path = app.hand_over(block, "yes").await;
    let text = app.get(&format!("/blocks/{block}")).await.text("#text-to-give");
    let link = text.split_whitespace().find(|word| word.starts_with("http")).expect("a link").to_owned();
    assert_eq!(link, format!("http://{SHARE_HOST}{path}"));
    assert_eq!(get_shared(&app.share_door().await, &path).await.status, StatusCode::OK);
}

#[tokio::test]
async fn the_squads_own_words_stand_on_every_block_until_ours_come_back() {
    let app = TestApp::on("2027-04-29").await;
    let block = app.ana_block().await;
    let edit = "/messages/block-start";
    let page = app.get(edit).await;
    assert!(page.value("text").starts_with("Hello {name},"), "{}", page.value("text"));
    let own = [("version", "0"), ("text", "Go, {name}! Every day: {link}. See you on {date}.")];
    assert_eq!(app.post(edit, &own).await.location(), "/messages");
    let text = app.get(&format!("/blocks/{block}")).await.text("#text-block-start");
    assert_eq!(text, "Go, Ana! See you on Sunday 9 May.");
    assert!(app.get("/messages").await.text("section:nth-of-type(2)").contains("Go, Ana!"));

    let page = app.follow(&app.post(&format!("{edit}/words"), &[("whose", "ours")]).await).await;
    assert!(page.value("text").starts_with("Hello {name},"));
    assert!(page.text("[aria-labelledby=aside]").contains("Go, {name}!"), "what was typed is kept");
    let page = app.follow(&app.post(&format!("{edit}/words"), &[("whose", "own")]).await).await;
    assert!(page.value("text").starts_with("Go, {name}!"));
}

#[tokio::test]
async fn an_unknown_field_is_refused_by_name_and_nothing_typed_is_lost() {
    let app = TestApp::on("2027-04-29").await;
    app.ana_block().await;
    let typed = [("version", "0"), ("text", "Hello {nmae}, <b>see {weather} and {start")];
    let page = app.post("/messages/week-out", &typed).await;
    assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert_eq!(page.value("text"), "Hello {nmae}, <b>see {weather} and {start");
    let said = page.texts("#text-errors p").join(" ");
    assert!(said.contains("“{nmae}” is not a field. Did you mean {name}?"), "{said}");
    assert!(said.contains("“{weather}” is not a field.") && said.contains("brace is not closed"), "{said}");
    assert_eq!(app.store.message_texts().await.unwrap()[1].text, None);
    let empty = app.post("/messages/week-out", &[("version", "0"), ("text", " \n ")]).await;
    assert_eq!(empty.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert_eq!(app.get("/messages/noon").await.status, StatusCode::NOT_FOUND);
}

#[tokio::test]
async fn a_message_is_tried_out_on_an_athlete_before_it_is_saved() {
    let app = TestApp::on("2027-04-29").await;
    let block = app.ana_block().await.to_string();
    let typed = [("version", "0"), ("text", "Hi {name}: {today}."), ("block", block.as_str()), ("do", "try")];
    let page = app.post("/messages/three-days-out", &typed).await;
    assert_eq!(page.status, StatusCode::OK);
    assert_eq!(page.text(".message-shown"), "Hi Ana: easy 6 km, with 4–6 strides of 15–20 s.");
    assert_eq!(page.value("text"), "Hi {name}: {today}.");
    assert_eq!(app.store.message_texts().await.unwrap()[2].text, None, "nothing was saved");
}

#[tokio::test]
async fn two_windows_that_change_a_message_see_both_texts() {
    let app = TestApp::new().await;
    let post = async |text: &str| app.post("/messages/day-after", &[("version", "0"), ("text", text)]).await;
    post("One.").await.location();
    let page = post("Two.").await;
    assert_eq!(page.status, StatusCode::CONFLICT);
    assert!(page.text("table").contains("One.") && page.value("text") == "Two.");
}

#[tokio::test]
async fn why_a_day_changed_stands_in_no_message() {
    let app = TestApp::on("2027-04-29").await;
    let block = app.ana_block().await;
    let athlete = app.store.block(block).await.unwrap().unwrap().athlete.id;
    let ill = [("kind", "illness"), ("from", "2027-04-28"), ("to", "2027-04-29"), ("note", "cough")];
    app.post(&format!("/athletes/{athlete}/events"), &ill).await.location();
    let version = app.version_of(block).await.to_string();
    app.post(&format!("/blocks/{block}/replan"), &[("version", version.as_str())]).await;
    let page = app.get(&format!("/blocks/{block}")).await;
    for text in page.texts(".message textarea") {
        for private in ["illness", "cough", "asthma", "coffee"] {
            assert!(!text.to_lowercase().contains(private), "{private}: {text}");
        }
    }
}

#[tokio::test]
async fn on_the_evening_of_the_hand_over_a_message_brings_the_plan_and_greets_by_the_first_name() {
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    let path = format!("/blocks/{block}");
    assert_eq!(app.get(&path).await.text(".message[open] .message-name"), "Block start", "nothing was handed over yet");
    app.hand_over(block, "yes").await;
    let page = app.get(&path).await;
    assert_eq!(page.text("#message-hand-over .message-day"), "handed over on 20 April");
    let text = page.text("#text-to-give");
    assert!(text.starts_with("Hello Ana, your plan for Harbour 10 is here: Sunday 9 May, 19 days to go."), "{text}");
    // A printed sheet of many lines has no reasons.
    assert!(text.contains("every day says what is planned. Tell me soon"), "{text}");
    assert!(
        text.contains("It begins on Thursday 29 April; until then run as usual, unless we agreed otherwise.")
            && text.contains("http"),
        "{text}"
    );
    let ana = app.store.block(block).await.unwrap().unwrap().athlete;
    let draft = store::AthleteDraft { phone: "555 0100 <b>".to_owned(), ..ana.draft };
    app.store.save_athlete(ana.id, ana.version, &draft, app.now()).await.unwrap();
    let files = app.get("/races/1/handed-over").await;
    let by_phone = "Hand-over, handed over on 20 April; phone 555 0100 <b>";
    assert!(files.text(".many-messages").contains(by_phone), "{}", files.text(".many-messages"));

    app.post(&format!("{path}/messages"), &[("moment", "hand-over"), ("sent", "yes")]).await.location();
    let page = app.get(&path).await;
    assert_eq!(page.text(".message[open] .message-name"), "Block start");
    let own = [("version", "0"), ("text", "{name} or {full_name}: {days_left}.")];
    app.post("/messages/hand-over", &own).await.location();
    assert_eq!(app.get(&path).await.text("#text-hand-over"), "Ana or Ana Exemplo: 19 days.");

    app.post(&format!("{path}/messages"), &[("moment", "hand-over")]).await.location();
    let app = app.later("2027-04-24");
    assert_eq!(app.get(&path).await.text(".message[open] .message-name"), "Block start", "days later it is over");
    let app = app.later("2027-05-09");
    assert_eq!(app.get(&path).await.count("#text-hand-over"), 0);
}

/// Changes a day of a block by its form.
async fn change_day(app: &TestApp, block: store::BlockId, day: &str, line: &str) {
    let version = app.version_of(block).await.to_string();
    let fields = [("version", version.as_str()), ("line", line), ("do", "change")];
    app.post(&format!("/blocks/{block}/days/{day}"), &fields).await.location();
}

/// The text of the message that goes with a hand-over.
fn of_hand_over(page: &Answer) -> String {
    page.texts(".message textarea")[0].clone()
}

#[tokio::test]
async fn a_second_hand_over_says_what_changed_and_the_first_does_not() {
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    app.hand_over(block, "").await;
    let path = format!("/blocks/{block}");
    let first = of_hand_over(&app.get(&path).await);
    assert!(first.contains("your plan for Harbour 10 is here") && !first.contains("new version"), "{first}");
    app.post(&format!("{path}/messages"), &[("moment", "hand-over"), ("sent", "yes")]).await.location();

    for (day, line) in
        [("2027-05-01", "rest"), ("2027-05-04", "easy 5"), ("2027-05-05", "rest"), ("2027-05-07", "easy 3")]
    {
        change_day(&app, block, day, line).await;
    }
    let app = app.later("2027-04-21");
    app.hand_over(block, "").await;
    let page = app.get(&path).await;
    let again = of_hand_over(&page);
    assert!(again.contains("there is a new version of your plan for Harbour 10"), "{again}");
    assert!(again.contains("What has changed: from Saturday 1 May on, Sat 1 May rest, before it was easy"), "{again}");
    assert!(again.contains("Tue 4 May easy 5 km, before it was intervals"), "{again}");
    assert!(again.contains(" more day") && !again.contains("is here"), "{again}");
    // It is a message of its own: not sent because the first was, and sent once it is.
    assert_eq!(page.text("#message-hand-over .message-day"), "handed over on 21 April");
    let race = app.store.block(block).await.unwrap().unwrap().race.id;
    assert!(app.get(&format!("/races/{race}/handed-over")).await.body().contains("there is a new version"));
    app.post(&format!("{path}/messages"), &[("moment", "hand-over"), ("sent", "yes")]).await.location();
    assert_eq!(app.get(&path).await.text(".message[open] .message-name"), "Block start");
}

#[tokio::test]
async fn own_words_are_for_later_hand_overs_only_where_they_say_what_changed() {
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    app.hand_over(block, "").await;
    change_day(&app, block, "2027-05-04", "easy 5").await;
    app.hand_over(block, "").await;
    let path = format!("/blocks/{block}");
    let save = async |version: &str, text: &str| {
        app.post("/messages/hand-over", &[("version", version), ("text", text)]).await.location();
        of_hand_over(&app.get(&path).await)
    };
    assert!(save("0", "Here it is.").await.contains("there is a new version"));
    let own = save("1", "Here it is. New: {changes}.").await;
    assert!(own.starts_with("Here it is. New: from Tuesday 4 May on, Tue 4 May easy 5 km"), "{own}");
}

#[tokio::test]
async fn the_block_begins_on_the_same_day_everywhere_after_it_was_planned_again() {
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    let ana = app.store.block(block).await.unwrap().unwrap().athlete.id;
    let travel = [("kind", "no-time"), ("from", "2027-04-27"), ("to", "2027-04-27")];
    app.post(&format!("/athletes/{ana}/events"), &travel).await.location();
    let replan = format!("/blocks/{block}/replan");
    app.post(&replan, &[("version", &app.version_of(block).await.to_string())]).await.location();
    let link = app.hand_over(block, "").await;
    let begins = "begins on Thursday 29 April, with changed days from ";
    let door = app.share_door().await;
    let page = get_shared(&door, &link).await;
    assert!(page.text(".today").contains(begins), "{}", page.text(".today"));
    let message = of_hand_over(&app.get(&format!("/blocks/{block}")).await);
    assert!(message.contains(begins), "{message}");
    assert!(app.get("/").await.text(".board-stands").contains("Block begins in 9 days; handed over on 20 April"));
    let season = app.get(&format!("/athletes/{ana}/season")).await;
    assert!(season.body().contains("29 April to 8 May"));
}

#[tokio::test]
async fn while_an_athlete_is_ill_no_message_asks_for_running_as_usual_or_says_why_not() {
    let app = TestApp::on("2027-04-29").await;
    let block = app.ana_block().await;
    app.hand_over(block, "yes").await;
    let (path, files) = (format!("/blocks/{block}"), "/races/1/handed-over");
    assert!(app.get("/").await.text(".board-needs").to_lowercase().contains("message due today: block start"));
    assert!(app.get(&path).await.text("#text-block-start").contains("on the running comes down"));
    assert_eq!(app.get(&path).await.count(".messages-hint"), 0);

    let athlete = app.store.block(block).await.unwrap().unwrap().athlete.id;
    let ill = [("kind", "fever"), ("from", "2027-04-29"), ("to", ""), ("note", "cough")];
    app.post(&format!("/athletes/{athlete}/events"), &ill).await.location();
    let board = app.get("/").await.text(".board-needs").to_lowercase();
    assert!(
        !board.contains("message due today") && board.contains("read today's message (block start) before you send it"),
        "{board}"
    );
    let page = app.get(&path).await;
    let hint = page.text(".messages-hint");
    assert!(hint.starts_with("Ana Exemplo: ill with fever since today, no end noted."), "{hint}");
    for text in page.texts(".message textarea").into_iter().chain(app.get(files).await.texts("textarea")) {
        for wrong in ["run as usual", "the running comes down", "add nothing", "fever", "cough"] {
            assert!(!text.contains(wrong), "{wrong}: {text}");
        }
        let reserved = text.contains("keep to what we have agreed, even where the");
        assert!(reserved || text.contains("is behind you"), "{text}");
    }
    assert!(app.get(files).await.text(".many-messages").contains("ill with fever since today"));
    // The squad's own words stay, under the same reservation.
    let own = [("version", "0"), ("text", "Hi {name},\n\nit begins: {today}.")];
    app.post("/messages/block-start", &own).await.location();
    let text = app.get(&path).await.text("#text-block-start");
    assert!(text.starts_with("Hi Ana, For now keep to what we have agreed"), "{text}");
}
