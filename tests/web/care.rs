//! The data file while the program runs: the day's backup, what goes for good, and what the coach is
//! told of the place where it lies.

use chrono::TimeDelta;
use ebbline_tests::TestApp;
use server::care;

#[tokio::test]
async fn a_day_on_which_the_program_runs_has_its_backup_and_the_settings_list_it() {
    let app = TestApp::new().await;
    assert!(app.get("/settings").await.text("section[aria-labelledby=backups]").contains("There is none yet"));
    care::round(&app.state()).await;
    care::round(&app.state()).await;
    care::round(&app.state_on("2027-04-21")).await;
    let page = app.get("/settings").await;
    let rows = "section[aria-labelledby=backups] tbody";
    assert_eq!(page.texts(&format!("{rows} th")), ["Wednesday 21 April 2027", "Tuesday 20 April 2027"]);
    assert_eq!(page.texts(&format!("{rows} code")), ["2027-04-21.db", "2027-04-20.db"]);
    assert!(page.texts(&format!("{rows} td.soft")).iter().all(|size| size.ends_with("kB")));
    assert_eq!(page.count(".warning"), 0, "{}", page.body());
}

#[tokio::test]
async fn what_was_removed_goes_for_good_only_after_a_backup_and_a_second_day() {
    let app = TestApp::new().await;
    let athlete = app.post("/athletes", &[("name", "Ana"), ("units", "km")]).await.new_id();
    app.post(&format!("/athletes/{athlete}/remove"), &[]).await.location();
    let left = async || app.store.removed().await.unwrap().count();
    care::round(&app.state_on("2027-05-19")).await;
    care::round(&app.state_on("2027-05-20")).await;
    assert_eq!(left().await, 1);
    // A file where the folder of the backups should be: no backup can be made, so nothing goes.
    let folder = app.store.backup_folder();
    let elsewhere = folder.with_extension("elsewhere");
    std::fs::rename(&folder, &elsewhere).unwrap();
    std::fs::write(&folder, "in the way").unwrap();
    care::round(&app.state_on("2027-05-22")).await;
    assert_eq!(left().await, 1);
    let page = app.get("/settings").await;
    assert!(page.text(".warning").starts_with("Note: Today's backup could not be made."), "{}", page.body());
    assert!(app.get("/").await.text(".warning").contains("backup"));
    std::fs::remove_file(&folder).unwrap();
    std::fs::rename(&elsewhere, &folder).unwrap();
    care::round(&app.state_on("2027-05-22")).await;
    assert_eq!(left().await, 0);
    assert_eq!(app.get("/settings").await.count(".warning"), 0);
    assert_eq!(app.store.check().await.unwrap(), Vec::<String>::new());
    let backup = folder.join("2027-05-22.db");
    let kept = store::Store::open(&backup).await.unwrap();
    assert_eq!(kept.removed().await.unwrap().athletes.len(), 1, "the backup of that day still has it");
}

#[tokio::test]
async fn a_clock_that_was_set_back_is_told_and_versions_still_grow() {
    let app = TestApp::new().await;
    let athlete = app.post("/athletes", &[("name", "Ana"), ("units", "km")]).await.new_id();
    let id = store::AthleteId(athlete);
    let before = app.store.athlete(id).await.unwrap().unwrap();
    let back = app.state_on("2025-04-20");
    care::round(&back).await;
    let page = app.get("/").await;
    assert!(page.text(".warning").contains("The clock of this machine may be wrong: it says 20 April 2025"));
    app.store.save_athlete(id, before.version, &before.draft, back.clock.now()).await.unwrap();
    assert!(app.store.athlete(id).await.unwrap().unwrap().version > before.version);
    assert_eq!(app.store.daily_backups().unwrap().len(), 1);
    // An hour ahead, as after a wrong time zone, is no word worth once it is right again.
    care::round(&app.state_on("2027-04-21")).await;
    assert_eq!(app.get("/").await.count(".warning"), 0);
    let newest = app.store.newest_instant().await.unwrap();
    assert!(newest <= Some(app.now() + TimeDelta::hours(1)));
}

#[tokio::test]
async fn a_conflicted_copy_beside_the_file_is_told_and_left_alone() {
    let app = TestApp::new().await;
    let copy = app.data().with_file_name("squad (Bo's conflicted copy).db");
    std::fs::write(&copy, "somebody else's").unwrap();
    care::look_around(&app.state()).await;
    let page = app.get("/settings").await;
    assert!(page.text(".warning").contains("squad (Bo's conflicted copy).db"), "{}", page.body());
    assert!(page.text(".warning").contains("does not open it by itself"));
    assert_eq!(std::fs::read_to_string(copy).unwrap(), "somebody else's");
}
