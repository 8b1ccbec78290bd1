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
    app.store.withdraw(first.race, first.athlete, app.now()).await.unwrap();
    app.hand_over(half, "no").await;
    app.store.enter(first.race, first.athlete, Importance::Goal, app.now()).await.unwrap();
    app.make_block(first).await;
    make_anew(&app, half).await;
    let page = app.get(&format!("/blocks/{half}")).await;
    let message = &page.texts(".message textarea")[0];
    assert!(message.contains("up to Sunday 2 May the plan for the race on that day counts; from "), "{message}");
    assert!(!message.contains(" Apr "), "{message}");
}

#[tokio::test]
async fn the_season_says_that_the_block_as_it_was_made_begins_before_the_recovery_is_over() {
    let Bo { app, first, half } = bo().await;
    let told = async || {
        let begins = app.store.block(half).await.unwrap().unwrap().block.first_day();
        let season = app.get(&format!("/athletes/{}/season", first.athlete)).await;
        let day = begins.format("%A %-d %B");
        let told = format!("The block that was made begins on {day}, before the recovery from the race before is over");
        assert!(season.body().contains(&told), "{told}: {}", season.text("main"));
        begins
    };
    let race = ebbline_tests::date("2027-05-02");
    assert!(told().await < race, "it does not know the race");
    make_anew(&app, half).await;
    assert!(told().await > race, "the last day of the recovery is easy in either");
}

#[tokio::test]
async fn no_message_says_that_running_comes_down_that_has_been_down_since_the_race_before() {
    let Bo { app, first, half } = bo().await;
    let starts = async || app.get(&format!("/blocks/{half}")).await.texts(".message textarea");
    let comes_down = |text: &String| text.contains("on the running comes down");
    // With the race in it the block is withheld, and its messages are.
    app.store.withdraw(first.race, first.athlete, app.now()).await.unwrap();
    assert_eq!(starts().await.iter().filter(|text| comes_down(text)).count(), 1);
    app.store.enter(first.race, first.athlete, Importance::Goal, app.now()).await.unwrap();
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
    assert!(app.get(&hand_over).await.text("#main").contains("a goal race lies inside the block"));

    make_anew(&app, half).await;
    let shown = app.get(&page).await;
    assert_eq!((app.get("/").await.count(&asked), shown.count(".finding-stop"), shown.count(".told")), (0, 0, 0));
    assert!(!app.get(&hand_over).await.text("#main").contains("a goal race lies inside the block"));
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

#[tokio::test]
async fn a_block_with_days_planned_twice_goes_to_nobody_until_it_is_made_anew() {
    let Bo { app, half, .. } = bo().await;
    let race = app.store.block(half).await.unwrap().unwrap().race.id;
    let (page, all) = (format!("/blocks/{half}"), format!("/races/{race}/hand-over"));
    let said = "Mill Five (Sunday 2 May) is a goal race, too, and lies inside this block";
    let shown = app.get(&page).await;
    assert_eq!((shown.count("details.message"), shown.count(".hand-over form")), (0, 0));
    assert!(shown.text(".messages-hint").starts_with(said), "{}", shown.text(".messages-hint"));
    assert!(shown.text(".hand-over").contains(said), "{}", shown.text(".hand-over"));
    assert!(!shown.text(".block-ways").contains("File to send"), "{}", shown.text(".block-ways"));
    for download in ["file", "calendar"] {
        let back = app.follow(&app.get(&format!("{page}/{download}")).await).await;
        assert!(back.text(".notice").contains("It must not go out as it is"), "{download}");
        assert!(back.text(".hand-over").contains(said), "{download}");
    }
    for print in [format!("{page}/print"), format!("/races/{race}/print")] {
        let hints = app.get(&print).await.texts(".sheet-hint strong");
        assert!(hints.iter().any(|hint| hint.contains(said)), "{print}: {hints:?}");
    }
    assert_eq!(app.get(&all).await.count("input[name=block]"), 0);
    let ticked = format!("{half}.{}", app.version_of(half).await);
    for (path, fields) in [(format!("{page}/hand-over"), ("version", "1")), (all.clone(), ("block", ticked.as_str()))] {
        app.post(&path, &[fields]).await.location();
        assert!(app.store.block(half).await.unwrap().unwrap().share.is_none(), "{path}");
    }
    let told = app.get(&format!("/races/{race}/handed-over?not={half}")).await;
    assert!(told.text("section[aria-labelledby=withheld]").contains("Bo: a goal race lies inside the block"));
    assert_eq!(told.count(".told"), 0, "it was not saved from another window");

    make_anew(&app, half).await;
    let shown = app.get(&page).await;
    assert!(shown.count("details.message") > 0 && shown.count(".hand-over form") > 0);
    assert_eq!(app.get(&all).await.count("input[name=block][checked]"), 1);
    app.hand_over(half, "no").await;
}

#[tokio::test]
async fn the_board_stops_a_block_whose_first_days_hold_a_goal_race_that_was_run() {
    let Bo { app, half, .. } = bo().await;
    let app = app.later("2027-05-03");
    let needs = app.get("/").await.texts(".board-needs");
    assert!(needs[0].starts_with("The review says stop: a goal race inside the block of another"), "{needs:?}");
    make_anew(&app, half).await;
    let needs = app.get("/").await.texts(".board-needs");
    assert!(!needs[0].contains("stop"), "{needs:?}");
}

#[tokio::test]
async fn a_race_on_the_way_that_a_block_does_not_know_is_asked_for_on_the_board() {
    let Bo { app, first, half } = bo().await;
    app.store.enter(first.race, first.athlete, Importance::TuneUp, app.now()).await.unwrap();
    let says = "The race on 2 May is not in the block yet: make it anew";
    let page = format!("/blocks/{half}");
    let board = app.get("/").await;
    assert_eq!(board.texts(&format!(".board-needs a[href='{page}']"))[0], says);
    assert_eq!(board.text(".board-heading span:first-child"), "Soon");
    assert_eq!(app.get("/?need=lacks-race").await.count(".board-needs"), 1);
    let shown = app.get(&page).await;
    assert!(shown.text(".told").contains("Another race on the way is not in this block yet"));
    let review = shown.text("#live-review");
    assert!(review.contains("Mill Five (Sunday 2 May) is on a day of this block, 7 days before"), "{review}");
    make_anew(&app, half).await;
    assert!(!app.get("/").await.text("#main").contains("is not in the block yet"));
    assert_eq!(app.get(&page).await.count(".told"), 0);
}

#[tokio::test]
async fn the_message_of_the_day_of_a_race_on_the_way_says_its_name() {
    let Bo { app, first, half } = bo().await;
    app.store.withdraw(first.race, first.athlete, app.now()).await.unwrap();
    let start = app.store.block(half).await.unwrap().unwrap().block.first_day();
    let race = app.add_race("Brook Five", &start.to_string(), RaceDistance::FiveK).await;
    app.store.enter(race, first.athlete, Importance::TuneUp, app.now()).await.unwrap();
    make_anew(&app, half).await;
    let texts = app.get(&format!("/blocks/{half}")).await.texts(".message textarea");
    let today: Vec<&str> = texts.iter().flat_map(|text| text.lines()).filter(|line| line.contains("Today: ")).collect();
    assert!(today.iter().any(|line| line.contains("race ") && line.contains(": Brook Five")), "{texts:?}");
}
