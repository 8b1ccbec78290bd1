//! Questions at the start of a block, and answers that come back by any messenger.

use axum::http::StatusCode;
use ebbline_tests::{TestApp, get_shared};

async fn read(app: &TestApp, block: store::BlockId, text: &str) -> ebbline_tests::Answer {
    app.post(&format!("/blocks/{block}/answers"), &[("do", "read"), ("pasted", text)]).await
}

#[tokio::test]
async fn the_questions_are_a_text_a_file_and_a_sheet_with_the_same_nine() {
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    let page = app.get(&format!("/blocks/{block}/questions")).await;
    let text = page.text("#question-text");
    assert!(text.starts_with("Hello Ana, Before your block for Harbour 10 begins"), "{text}");
    let file = app.get(&format!("/blocks/{block}/questions/file")).await;
    assert_eq!(
        file.header("content-disposition"),
        "attachment; filename=\"questions-ana-exemplo-harbour-10-2027-05-09.txt\""
    );
    let sheet = app.get(&format!("/blocks/{block}/questions/print")).await;
    let asked = sheet.texts(".questions li p");
    assert_eq!(asked.len(), 9);
    for (at, question) in asked.iter().enumerate() {
        let numbered = format!("{}. {question}", at + 1);
        assert!(text.contains(&numbered) && file.body().contains(&numbered), "{numbered}");
    }
    assert!(file.body().contains("\r\n"));
}

#[tokio::test]
async fn answers_are_shown_before_they_are_saved_and_land_in_their_fields() {
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    let before = app.store.block(block).await.unwrap().unwrap();
    let page = read(
        &app,
        block,
        "Hi coach!\n1. under 44 min\n3) finish\n5: easy; the runner in front; calm\n8. <b>the hill</b>",
    )
    .await;
    assert_eq!(page.status, StatusCode::OK);
    assert_eq!(app.store.block(block).await.unwrap().unwrap(), before, "nothing is saved yet");
    assert_eq!((page.value("a"), page.value("c")), ("under 44 min".to_owned(), "finish".to_owned()));
    assert_eq!(
        (page.value("first_focus"), page.value("worry")),
        ("the runner in front".to_owned(), "<b>the hill</b>".to_owned())
    );
    assert_eq!(page.value("rest"), "Hi coach!");

    let version = page.value("version");
    let form = [
        ("do", "save"),
        ("version", version.as_str()),
        ("a", "under 44 min"),
        ("c", "finish smiling"),
        ("first_effort", "easy"),
        ("first_focus", "the runner in front"),
        ("first_cue", "calm"),
        ("worry", "<b>the hill</b>"),
        ("rest", "Hi coach!"),
        ("pasted", "1. under 44 min"),
    ];
    let saved = app.post(&format!("/blocks/{block}/answers"), &form).await;
    let goals = app.follow(&saved).await;
    assert_eq!(goals.text(".notice p"), "Answers saved.");
    assert_eq!((goals.value("a"), goals.value("c")), ("under 44 min".to_owned(), "finish smiling".to_owned()));
    assert!(goals.text(".told-by").contains("<b>the hill</b>") && goals.text(".told-by").contains("Hi coach!"));
}

#[tokio::test]
async fn what_is_kept_is_never_written_over_unasked() {
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    let version = app.version_of(block).await.to_string();
    let goals = [("version", version.as_str()), ("a", "under 43:00"), ("b", "45:00")];
    app.post(&format!("/blocks/{block}/goals"), &goals).await.location();
    let page = read(&app, block, "A: sub 44\nB: 45:30\nC: finish").await;
    assert_eq!(page.value("use_a"), "keep");
    assert!(page.texts(".answer-choice")[0].contains("kept now: under 43:00"));
    assert_eq!(page.count(".answer-choice"), 2, "for goal C there is nothing to choose");
    let version = page.value("version");
    let form = [
        ("do", "save"),
        ("version", version.as_str()),
        ("a", "sub 44"),
        ("use_a", "keep"),
        ("b", "45:30"),
        ("use_b", "take"),
        ("c", "finish"),
    ];
    app.post(&format!("/blocks/{block}/answers"), &form).await.location();
    let kept = app.store.block(block).await.unwrap().unwrap().goals;
    assert_eq!((kept.a.as_str(), kept.b.as_str(), kept.c.as_str()), ("under 43:00", "45:30", "finish"));
}

#[tokio::test]
async fn a_stale_or_too_long_answer_comes_back_with_everything_typed() {
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    let path = format!("/blocks/{block}/answers");
    let version = app.version_of(block).await.to_string();
    let long = "x".repeat(201);
    let form = [
        ("do", "save"),
        ("version", version.as_str()),
        ("a", long.as_str()),
        ("rest", "thanks"),
        ("pasted", "all of it"),
    ];
    let page = app.post(&path, &form).await;
    assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert_eq!(
        (page.value("a"), page.value("rest"), page.value("pasted")),
        (long, "thanks".to_owned(), "all of it".to_owned())
    );
    assert!(page.text("#a-errors").contains("201 characters"));

    app.post(&format!("/blocks/{block}/goals"), &[("version", version.as_str()), ("a", "43:00")]).await.location();
    let form = [("do", "save"), ("version", version.as_str()), ("a", "sub 44"), ("rest", "thanks")];
    let page = app.post(&path, &form).await;
    assert_eq!(page.status, StatusCode::CONFLICT);
    assert!(page.text(".answer-choice").contains("kept now: 43:00"));
    assert_eq!((page.value("a"), page.value("rest")), ("sub 44".to_owned(), "thanks".to_owned()));
    assert_eq!(app.store.block(block).await.unwrap().unwrap().goals.a, "43:00");
}

#[tokio::test]
async fn a_paste_over_the_limit_is_refused_and_comes_back_to_the_letter() {
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    let long = format!("1. sub 50\n{}the end \u{1f3c1}", "2. \u{e4}bc <b>\n".repeat(10_000));
    assert!(long.len() > 100_000);
    let length = long.chars().count();
    let page = read(&app, block, &long.replace('\n', "\r\n")).await;
    assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert_eq!(
        page.text("#pasted-errors p"),
        format!("!Error: What came back: {length} characters are too many; at most 20000 are kept.")
    );
    assert_eq!(page.value("pasted").replace("\r\n", "\n"), long);

    let most = "\u{e4}".repeat(20_000);
    let page = read(&app, block, &most).await;
    assert_eq!((page.status, page.value("pasted")), (StatusCode::OK, most.clone()));
    assert_eq!(read(&app, block, &format!("{most}x")).await.status, StatusCode::UNPROCESSABLE_ENTITY);
}

#[tokio::test]
async fn a_text_that_answers_nothing_is_shown_whole_and_can_be_kept() {
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    let page = read(&app, block, "I will tell you on Sunday.\nPromise!").await;
    assert_eq!(page.status, StatusCode::OK);
    assert_eq!(page.value("rest"), "I will tell you on Sunday.\nPromise!");
    let version = page.value("version");
    let form = [("do", "save"), ("version", version.as_str()), ("rest", "I will tell you on Sunday.\nPromise!")];
    app.post(&format!("/blocks/{block}/answers"), &form).await.location();
    let again = read(&app, block, "Worry: none").await;
    assert_eq!(again.value("rest"), "I will tell you on Sunday.\nPromise!", "what was kept stays");
}

#[tokio::test]
async fn worry_and_last_taper_never_pass_the_athletes_door() {
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    let version = app.version_of(block).await.to_string();
    let form = [
        ("do", "save"),
        ("version", version.as_str()),
        ("worry", "my achilles"),
        ("last_taper", "slept badly"),
        ("rest", "asthma again"),
    ];
    app.post(&format!("/blocks/{block}/answers"), &form).await.location();
    let path = app.hand_over(block, "yes").await;
    let door = app.share_door().await;
    let mut pages = vec![get_shared(&door, &path).await, get_shared(&door, &format!("{path}/print")).await];
    for page in ["file", "print", "table"] {
        pages.push(app.get(&format!("/blocks/{block}/{page}")).await);
    }
    for page in pages {
        for private in ["achilles", "slept", "asthma"] {
            assert!(!page.body().contains(private), "{private}");
        }
    }
}
