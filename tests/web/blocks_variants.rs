//! Variants side by side, and taking one.

use std::collections::HashSet;

use axum::http::StatusCode;
use ebbline_tests::TestApp;

#[tokio::test]
async fn at_least_six_variants_stand_side_by_side_with_their_facts() {
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    let page = app.get(&format!("/blocks/{block}/variants")).await;
    let rows = page.texts(".variants tbody tr");
    assert!(rows.len() >= 6, "{rows:?}");
    assert_eq!(rows.iter().collect::<HashSet<_>>().len(), rows.len(), "no two alike");
    assert!(rows[0].contains("As the rules say the block as it stands"), "{}", rows[0]);
    assert!(
        rows[0].contains("Race week") && rows[0].contains("Last long run Sun 2 May: long run 14 km"),
        "{}",
        rows[0]
    );
    assert_eq!(page.count(".variants tbody button[name=variant]"), rows.len(), "a button each");
    assert!(page.text(".variants-common").contains("asthma"), "what is said of all is said once");
    assert!(!rows[0].contains("asthma"));
}

#[tokio::test]
async fn one_click_takes_a_variant_as_a_new_version() {
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    let version = app.version_of(block).await.to_string();
    let path = format!("/blocks/{block}/variants");
    let answer = app.post(&path, &[("version", &version), ("variant", "shorter")]).await;
    assert_eq!(answer.location(), format!("/blocks/{block}"));
    let page = app.follow(&answer).await;
    assert!(page.text(".notice p").contains("as in the variant"));
    assert_eq!(page.text("#undo button"), "Undo: chose the variant: shorter");
    let record = app.store.block(block).await.unwrap().unwrap();
    assert!(record.settings.days.is_some_and(|days| days < 10));
    let present = app.get(&path).await.texts(".variants .is-present th[scope=row]");
    assert!(present.len() == 1 && present[0].starts_with("Shorter"), "{present:?}");
    let version = app.version_of(block).await.to_string();
    let fix = [("version", version.as_str()), ("line", "easy 3")];
    app.post(&format!("/blocks/{block}/days/2027-05-06"), &fix).await.location();
    let page = app.get(&path).await;
    assert_eq!(
        page.texts(".variants .is-present").len() + page.texts("p.variants-common").len(),
        1,
        "it says where it stands"
    );
    assert_eq!(record.athlete.draft.athlete.suits, planning::Suits::default(), "nobody asked to remember");
}

#[tokio::test]
async fn what_suits_is_remembered_for_the_next_block_and_the_reason_is_shown_there() {
    let app = TestApp::new().await;
    let entered = app.ana().await;
    let block = app.make_block(entered).await;
    let version = app.version_of(block).await.to_string();
    let fields = [("version", version.as_str()), ("variant", "shorter"), ("remember", "yes")];
    let page = app.follow(&app.post(&format!("/blocks/{block}/variants"), &fields).await).await;
    assert!(page.text(".notice p").contains("noted for the next block"));
    let taken = app.store.block(block).await.unwrap().unwrap();
    let suits = taken.athlete.draft.athlete.suits;
    assert_eq!(suits.days, taken.settings.days);

    let race = app.add_race("Bridge 10", "2027-06-13", planning::RaceDistance::TenK).await;
    app.store.enter(race, entered.athlete, planning::Importance::Goal, app.now()).await.unwrap();
    let next = app.make_block(ebbline_tests::Entered { race, ..entered }).await;
    assert_eq!(Some(app.store.block(next).await.unwrap().unwrap().block.curve.length), suits.days);
    let facts = app.get(&format!("/blocks/{next}")).await.texts(".block-fact");
    assert!(facts.iter().any(|fact| fact.contains("length is the one that was noted as suiting")), "{facts:?}");
    assert!(facts.iter().any(|fact| fact.contains("day before the race is as was noted")), "{facts:?}");
    let variants = app.get(&format!("/blocks/{next}/variants")).await;
    assert!(variants.text("#remember-hint").contains("Noted so far: a block of"));
    assert!(variants.texts(".variants th[scope=row]")[1].starts_with("As noted to suit"));

    let version = app.version_of(next).await.to_string();
    let rules = [("version", version.as_str()), ("variant", "as-rules"), ("remember", "yes")];
    app.post(&format!("/blocks/{next}/variants"), &rules).await.location();
    let athlete = app.store.athlete(entered.athlete).await.unwrap().unwrap();
    assert_eq!(athlete.draft.athlete.suits, planning::Suits::default(), "the rules are remembered by forgetting");
}

#[tokio::test]
async fn a_stale_choice_shows_both_and_an_unknown_one_is_not_found() {
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    let path = format!("/blocks/{block}/variants");
    let stale = app.version_of(block).await.to_string();
    app.post(&path, &[("version", &stale), ("variant", "longer")]).await.location();
    let page = app.post(&path, &[("version", &stale), ("variant", "shorter"), ("remember", "yes")]).await;
    assert_eq!(page.status, StatusCode::CONFLICT);
    assert_ne!(page.text(".kept"), page.text(".asked"));
    let again = [("version", page.value("version")), ("variant", page.value("variant"))];
    let again: Vec<(&str, &str)> = again.iter().map(|(name, value)| (*name, value.as_str())).collect();
    app.post(&path, &again).await.location();
    let version = app.version_of(block).await.to_string();
    let unknown = app.post(&path, &[("version", &version), ("variant", "best")]).await;
    assert_eq!(unknown.status, StatusCode::NOT_FOUND);
}

#[tokio::test]
async fn a_race_that_is_over_has_no_variants() {
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    let record = app.store.block(block).await.unwrap().unwrap();
    let mut race = record.race.clone();
    race.race.date = ebbline_tests::date("2027-04-10");
    app.store.save_race(race.id, race.version, &race.race, &race.place, app.now()).await.unwrap();
    let page = app.get(&format!("/blocks/{block}/variants")).await;
    assert_eq!((page.status, page.count("table")), (StatusCode::OK, 0));
    assert!(page.text(".lead").contains("nothing to choose from"));
}
