//! Two goal races of one athlete, so near to each other that the block for the second must know of the first.

use axum::http::StatusCode;
use ebbline_tests::{Entered, TestApp};
use planning::{DistanceUnit, Importance, RaceDistance};
use store::BlockId;

/// Bo, entered in a half marathon on 9 May with a block that was made first, and in a 5 km race a week before.
struct Bo {
    app: TestApp,
    first: Entered,
    half: BlockId,
}

async fn bo() -> Bo {
    let app = TestApp::new().await;
    let athlete = app.add_athlete("Bo", DistanceUnit::Km).await;
    app.save_week(athlete, ["", "6 x 800 m, 10", "8", "tempo 9", "", "6", "long 15"]).await;
    let second = app.add_race("Larch Half", "2027-05-09", RaceDistance::Half).await;
    app.store.enter(second, athlete, Importance::Goal, app.now()).await.unwrap();
    let half = app.make_block(Entered { athlete, race: second }).await;
    let race = app.add_race("Mill Five", "2027-05-02", RaceDistance::FiveK).await;
    app.store.enter(race, athlete, Importance::Goal, app.now()).await.unwrap();
    Bo { app, first: Entered { athlete, race }, half }
}

/// Makes a block anew with its usual settings, by the button that stands where it is asked for.
async fn make_anew(app: &TestApp, block: BlockId) {
    let page = app.get(&format!("/blocks/{block}")).await;
    assert_eq!(page.attribute(".told-answer button", "form"), "settings");
    let fields = page.filled("form#settings");
    let fields: Vec<(&str, &str)> = fields.iter().map(|(name, value)| (name.as_str(), value.as_str())).collect();
    app.post(&format!("/blocks/{block}/settings"), &fields).await.location();
}

#[tokio::test]
async fn who_held_the_second_block_is_told_which_plan_counts_up_to_the_first_race() {
    let Bo { app, first, half } = bo().await;
    app.hand_over(half, "no").await;
    app.make_block(first).await;
    make_anew(&app, half).await;
    let page = app.get(&format!("/blocks/{half}")).await;
    let message = &page.texts(".message textarea")[0];
    assert!(message.contains("up to Sunday 2 May the plan for the race on that day counts; from "), "{message}");
    assert!(!message.contains(" Apr "), "{message}");
}

#[tokio::test]
async fn no_message_says_that_running_comes_down_that_has_been_down_since_the_race_before() {
    let Bo { app, first, half } = bo().await;
    let starts = async || app.get(&format!("/blocks/{half}")).await.texts(".message textarea");
    let comes_down = |text: &String| text.contains("From today the running comes down");
    assert_eq!(starts().await.iter().filter(|text| comes_down(text)).count(), 1);
    app.make_block(first).await;
    make_anew(&app, half).await;
    let texts = starts().await;
    assert!(!texts.iter().any(comes_down), "{texts:#?}");
    assert!(texts.iter().any(|text| text.contains("Your running is less than usual already")), "{texts:#?}");
    assert!(!texts.iter().any(|text| text.contains("run as usual")), "{texts:#?}");
}

#[tokio::test]
async fn days_that_two_blocks_hold_are_named_until_the_second_is_made_anew() {
    let Bo { app, first, half } = bo().await;
    app.make_block(first).await;
    let page = format!("/blocks/{half}");
    let asked = format!(".board-needs a[href='{page}']");
    let hand_over = format!("/races/{}/hand-over", app.store.block(half).await.unwrap().unwrap().race.id);
    let board = app.get("/").await;
    let says = "The block for 9 May begins before the goal race on 2 May, so days are planned twice";
    assert_eq!(board.text(&asked), says);
    let shown = app.get(&page).await;
    let stop = shown.text("#live-review .finding-stop");
    assert!(
        stop.contains("Mill Five (Sunday 2 May) is a goal race, too, and lies inside this block: 8 days"),
        "{stop}"
    );
    assert!(shown.text(".told").contains("begins too soon"), "{}", shown.text(".told"));
    assert!(app.get(&hand_over).await.text("#main").contains("the review says stop"));

    make_anew(&app, half).await;
    let shown = app.get(&page).await;
    assert_eq!((app.get("/").await.count(&asked), shown.count(".finding-stop"), shown.count(".told")), (0, 0, 0));
    assert!(!app.get(&hand_over).await.text("#main").contains("the review says stop"));
    let block = app.store.block(half).await.unwrap().unwrap().block;
    assert!(block.first_day().to_string().as_str() > "2027-05-02", "{}", block.first_day());
}

#[tokio::test]
async fn the_second_block_tells_nothing_of_the_days_that_lead_to_the_first_race() {
    let Bo { app, first, half } = bo().await;
    app.make_block(first).await;
    make_anew(&app, half).await;
    let shown = app.get(&format!("/blocks/{half}")).await;
    let dates = shown.texts(".days tbody th");
    assert!(dates[0].contains("2 May") && dates.len() == 8, "{dates:?}");
    assert_eq!(shown.count(".ebb g.ebb-day"), 8);
    let sentences = shown.texts(".week-sentence");
    assert!(sentences[0].ends_with("The days before belong to the block for the race before."), "{sentences:?}");
    assert_eq!(shown.texts(".week-dates")[0], "2 May");
    assert!(shown.text(".block-body").contains("Mill Five"), "its race stands before the days after it");
    assert_eq!(app.get(&format!("/blocks/{half}/days/2027-05-01")).await.status, StatusCode::NOT_FOUND);
    assert_eq!(app.get(&format!("/blocks/{half}/days/2027-05-03")).await.status, StatusCode::OK);
    let calendar = app.get(&format!("/blocks/{half}/calendar")).await;
    for day in ["20270427", "20270429", "20270502"] {
        assert!(!calendar.body().contains(day), "{day} is an event of the first block: {}", calendar.body());
    }
    assert!(calendar.body().contains("20270509"));
}

#[tokio::test]
async fn a_block_that_made_room_for_a_race_says_so_when_that_is_no_longer_run() {
    let Bo { app, first, half } = bo().await;
    make_anew(&app, half).await;
    app.store.withdraw(first.race, first.athlete, app.now()).await.unwrap();
    let page = format!("/blocks/{half}");
    assert!(app.get(&page).await.text(".told").contains("may be longer"));
    make_anew(&app, half).await;
    assert_eq!(app.get(&page).await.count(".told"), 0);
}
