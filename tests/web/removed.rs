//! What was removed, and the way back.

use ebbline_tests::TestApp;

#[tokio::test]
async fn what_was_removed_is_listed_with_its_last_day_and_comes_back() {
    let app = TestApp::new().await;
    let page = app.get("/removed").await;
    assert!(page.text(".empty").starts_with("Nothing."));
    let athlete = app.post("/athletes", &[("name", "Ana <b>"), ("units", "km")]).await.new_id();
    let race = app.post("/races", &[("name", "River Ten"), ("date", "2027-06-06"), ("distance", "10k")]).await.new_id();
    app.post(&format!("/races/{race}/enter"), &[("athlete", &athlete.to_string()), ("importance", "tune-up")])
        .await
        .location();
    app.post(&format!("/races/{race}/withdraw"), &[("athlete", &athlete.to_string())]).await.location();
    let page = app.get("/removed").await;
    assert_eq!(page.texts("h2"), ["Withdrawn from a race"]);
    assert_eq!(page.texts("tbody th"), ["Ana <b>"]);
    assert!(page.text("tbody td:nth-of-type(1)").starts_with("River Ten, "), "{}", page.body());
    assert_eq!(page.text("tbody td:nth-of-type(3)"), "kept until Thursday 20 May 2027");

    let back = page.attribute("tbody form", "action");
    let shown = app.follow(&app.post(&back, &[]).await).await;
    assert_eq!(shown.text(".notice p"), "It is back, as it was.");
    app.post(&back, &[]).await.location();
    assert_eq!(app.store.entrants(store::RaceId(race)).await.unwrap()[0].importance.code(), "tune-up");

    app.post(&format!("/athletes/{athlete}/remove"), &[]).await.location();
    app.post(&format!("/races/{race}/remove"), &[]).await.location();
    let page = app.get("/removed").await;
    assert_eq!(page.texts("h2"), ["Athletes", "Races"]);
    for action in page.attributes("tbody form", "action") {
        app.post(&action, &[]).await.location();
    }
    assert_eq!(app.get("/removed").await.count("tbody tr"), 0);
    assert_eq!(app.get(&format!("/athletes/{athlete}")).await.text("h1"), "Ana <b>");
}

#[tokio::test]
async fn events_and_sessions_that_were_taken_back_are_listed_too() {
    let app = TestApp::new().await;
    let athlete = app.post("/athletes", &[("name", "Ana"), ("units", "km")]).await.new_id();
    let log = format!("/athletes/{athlete}/log");
    app.post(
        &format!("/athletes/{athlete}/events"),
        &[("kind", "injury"), ("from", "2027-04-18"), ("to", "2027-04-19")],
    )
    .await
    .location();
    app.post(&format!("{log}/sessions"), &[("day", "2027-04-18"), ("ran", "8 km")]).await.location();
    let id = store::AthleteId(athlete);
    let event = app.store.events_of(id).await.unwrap()[0].id;
    app.store.remove_event(id, event, app.now()).await.unwrap();
    let session = app.store.done_sessions_of(id, app.today() - chrono::Days::new(9)).await.unwrap()[0].id;
    app.store.remove_done_session(id, session, app.now()).await.unwrap();
    let page = app.get("/removed").await;
    assert_eq!(page.texts("h2"), ["What happened on the way", "Sessions of the log"]);
    assert!(page.texts("tbody").iter().all(|kind| kind.contains("Ana")), "{}", page.body());
    for action in page.attributes("tbody form", "action") {
        app.post(&action, &[]).await.location();
        app.post(&action, &[]).await.location();
    }
    assert_eq!(app.store.removed().await.unwrap().count(), 0);
    assert_eq!(app.store.events_of(id).await.unwrap().len(), 1);
}
