//! Making the block of an athlete for a race.

use axum::http::StatusCode;
use ebbline_tests::{Entered, TestApp};
use planning::{DistanceUnit, Importance, RaceDistance};

#[tokio::test]
async fn a_block_is_made_with_the_usual_settings_and_shown() {
    let app = TestApp::new().await;
    let ana = app.ana().await;
    let answer = app.post(&format!("/athletes/{}/blocks", ana.athlete), &[("race", &ana.race.to_string())]).await;
    let page = app.follow(&answer).await;
    assert_eq!(page.text("h1"), "Ana Exemplo: Harbour 10");
    assert!(page.text(".notice p").starts_with("Block made."));
    assert_eq!(page.count(".days tbody"), 14);
}

#[tokio::test]
async fn made_late_it_has_the_days_that_are_left() {
    let app = TestApp::on("2027-05-03").await;
    let block = app.ana_block().await;
    let page = app.get(&format!("/blocks/{block}")).await;
    assert!(page.body().contains("No more days were left when the block was made"), "the page says why");
    let kept = app.store.block(block).await.unwrap().unwrap().block;
    assert_eq!(kept.curve.length, 6);
    assert!(
        kept.days
            .iter()
            .filter(|day| day.to_race > 6)
            .all(|day| { day.sessions.iter().map(|planned| &planned.session).eq(&day.usual) })
    );
}

#[tokio::test]
async fn making_it_twice_makes_one_block() {
    let app = TestApp::new().await;
    let ana = app.ana().await;
    let first = app.make_block(ana).await;
    assert_eq!(app.make_block(ana).await, first);
    assert_eq!(app.store.block(first).await.unwrap().unwrap().revision, 1);
}

#[tokio::test]
async fn without_a_base_week_the_page_says_so_and_leads_there() {
    let app = TestApp::new().await;
    let athlete = app.add_athlete("Rui", DistanceUnit::Km).await;
    let race = app.add_race("Harbour 10", "2027-05-09", RaceDistance::TenK).await;
    app.store.enter(race, athlete, Importance::Goal, app.now()).await.unwrap();
    let page = app.post(&format!("/athletes/{athlete}/blocks"), &[("race", &race.to_string())]).await;
    assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(page.text(".error-summary li").contains("there is no running on any day"));
    assert_eq!(page.attribute(".actions a.button", "href"), format!("/athletes/{athlete}/week"));
}

#[tokio::test]
async fn a_race_in_the_past_is_told_with_both_days_and_leads_to_the_race() {
    let app = TestApp::on("2027-05-10").await;
    let ana = app.ana().await;
    let page = app.post(&format!("/athletes/{}/blocks", ana.athlete), &[("race", &ana.race.to_string())]).await;
    assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY);
    let sentence = page.text(".error-summary li");
    assert!(sentence.contains("Sunday 9 May 2027") && sentence.contains("Monday 10 May 2027"), "{sentence}");
    assert_eq!(page.attribute(".actions a.button", "href"), format!("/races/{}/edit", ana.race));
}

#[tokio::test]
async fn who_is_not_entered_gets_no_block() {
    let app = TestApp::new().await;
    let Entered { athlete, .. } = app.ana().await;
    for race in ["999", "nonsense", ""] {
        let page = app.post(&format!("/athletes/{athlete}/blocks"), &[("race", race)]).await;
        assert_eq!(page.status, StatusCode::NOT_FOUND, "{race}");
    }
}

#[tokio::test]
async fn a_block_made_late_says_how_many_days_were_left_and_what_they_are_good_for() {
    for (today, said) in [
        ("2027-05-08", "Made with one day left, and this event usually takes 7 days at the least: that is no taper."),
        ("2027-05-06", "Made with 3 days left, and this event usually takes 7 days at the least: legs get a little"),
        ("2027-05-04", "Made with 5 days left, and this event usually takes 7 days at the least: the days left come"),
    ] {
        let app = TestApp::on(today).await;
        let block = app.ana_block().await;
        let page = app.get(&format!("/blocks/{block}")).await;
        assert_eq!(page.count(".review-none"), 0, "{today}");
        assert!(page.text("#live-review").contains(said), "{today}: {}", page.text("#live-review"));
        assert!(!page.text("#live-review").contains("A block of"), "said once");
    }
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    assert!(!app.get(&format!("/blocks/{block}")).await.text("#live-review").contains("Made with"));
}
