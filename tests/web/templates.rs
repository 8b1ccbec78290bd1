//! Templates of base weeks: written once, filled in for many, with every athlete's own days left alone.

use axum::http::StatusCode;
use ebbline_tests::{Answer, TestApp};
use planning::DistanceUnit;
use store::{AthleteId, Version, WeekDraft};

const FIVE: [(&str, &str); 8] = [
    ("name", "Five days <b>"),
    ("units", "km"),
    ("tue", "6 x 800 m 10k pace, 10"),
    ("wed", "7-9"),
    ("thu", "tempo 9, hard 4"),
    ("fri", "strength 30"),
    ("sat", "6"),
    ("sun", "long 17"),
];

async fn template(app: &TestApp) -> String {
    app.post("/templates", &FIVE).await.location().to_owned()
}

async fn typed_week(app: &TestApp, athlete: AthleteId, lines: [&str; 7]) {
    let version = app.store.week(athlete).await.unwrap().unwrap().version;
    app.store.save_week(athlete, version, &WeekDraft::of(lines.map(str::to_owned)), app.now()).await.unwrap();
}

/// Sends the form of the preview as a browser would, with more fields.
async fn send(app: &TestApp, page: &Answer, path: &str, more: &[(&str, &str)]) -> Answer {
    let fields = page.filled("main form");
    let mut fields: Vec<(&str, &str)> = fields.iter().map(|(name, value)| (name.as_str(), value.as_str())).collect();
    fields.extend(more);
    app.post(path, &fields).await
}

/// Fills a template in for one athlete who has no week.
async fn fill(app: &TestApp, template: &str, athlete: AthleteId, amount: &str) -> Answer {
    let (id, field) = (athlete.to_string(), format!("amount-{athlete}"));
    let page = app.post(&format!("{template}/apply"), &[("athlete", &id), (&field, amount)]).await;
    app.follow(&send(app, &page, &format!("{template}/apply/save"), &[]).await).await
}

async fn lines(app: &TestApp, athlete: AthleteId) -> [String; 7] {
    app.store.week(athlete).await.unwrap().unwrap().lines
}

#[tokio::test]
async fn a_template_is_written_like_a_week_and_stands_in_the_list() {
    let app = TestApp::new().await;
    assert!(app.get("/athletes").await.attributes("main a", "href").contains(&"/templates".to_owned()));
    let page = app.get("/templates/new").await;
    assert_eq!((page.count(".week-days label"), page.text("#totals").as_str()), (7, "No running yet."));
    let read = app.post("/templates/preview", &FIVE).await;
    assert_eq!(read.text("#tue-reading"), "intervals 10 km: 6 × 800 m 10k pace");
    assert_eq!(app.store.templates().await.unwrap(), []);
    let refused = app.post("/templates", &[("name", ""), ("mon", "7 furlongs")]).await;
    assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(refused.text("#problems").contains("Name: nothing is given here"), "{}", refused.text("#problems"));
    assert_eq!(refused.value("mon"), "7 furlongs");
    let rest = app.post("/templates", &[("name", "Rest"), ("mon", "rest")]).await;
    assert!(rest.text("#problems").contains("there is no running on any day"), "{}", rest.text("#problems"));
    let saved = app.post("/templates", &FIVE).await;
    let page = app.follow(&saved).await;
    assert_eq!(
        (page.text(".notice p").as_str(), page.text("h1").as_str()),
        ("Template added. Next: fill it in for athletes.", "Five days <b>")
    );
    let list = app.get("/templates").await;
    assert!(list.text("tbody tr").contains("49–51 km on 5 running days"), "{}", list.text("tbody tr"));
    assert!(list.text("tbody tr").contains("nobody yet"));
}

#[tokio::test]
async fn a_template_is_filled_in_for_many_each_at_the_own_amount_and_undone() {
    let app = TestApp::new().await;
    let path = template(&app).await;
    let (ana, bo) = (app.add_athlete("Ana", DistanceUnit::Km).await, app.add_athlete("Bo", DistanceUnit::Mi).await);
    typed_week(&app, ana, ["8", "8", "8", "", "", "", "16"]).await;
    let choose = app.get(&format!("{path}/apply")).await;
    assert_eq!(choose.attributes(".template-person input[type=text]", "value"), ["40 km", ""]);
    assert!(choose.texts(".template-person")[0].contains("40 km, typed or brought in"));
    assert!(choose.texts(".template-person")[1].contains("no base week yet"));
    let nobody = app.post(&format!("{path}/apply"), &[]).await;
    assert_eq!(
        (nobody.status, nobody.text(".told").as_str()),
        (StatusCode::UNPROCESSABLE_ENTITY, "Tick at least one athlete.")
    );

    let (one, other) = (ana.to_string(), bo.to_string());
    let page = send(&app, &choose, &format!("{path}/apply"), &[("athlete", &one), ("athlete", &other)]).await;
    assert!(page.body().contains("Write how much a week is to hold"));
    let amount = (format!("amount-{bo}"), "26".to_owned());
    let page =
        app.post(&format!("{path}/apply"), &[("athlete", &one), ("athlete", &other), (&amount.0, &amount.1)]).await;
    assert_eq!(page.texts(".template-week h2"), ["Ana", "Bo"]);
    assert!(
        page.texts(".template-week")[0].contains("39–41 km on 5 running days"),
        "{}",
        page.texts(".template-week")[0]
    );
    assert!(
        page.texts(".template-week")[1].contains("25.5–27 mi on 5 running days"),
        "{}",
        page.texts(".template-week")[1]
    );
    assert_eq!(page.count("input[name=replace]"), 1, "only the week that was typed is asked for");
    assert_eq!(lines(&app, bo).await, [""; 7].map(str::to_owned), "nothing is saved yet");

    let save = format!("{path}/apply/save");
    let answer = send(&app, &page, &save, &[]).await;
    let first = app.follow(&answer).await;
    assert!(first.text(".notice p").starts_with("The week of one athlete is saved."), "{}", first.text(".notice p"));
    assert_eq!(lines(&app, ana).await[0], "8", "a week that was typed stays unless it is ticked");
    assert_eq!(lines(&app, bo).await[6], "long 9 mi");
    assert_eq!(send(&app, &page, &save, &[]).await.location(), answer.location(), "the same form again");

    let page = app.post(&format!("{path}/apply"), &[("athlete", &one), ("replace", &one)]).await;
    let saved = app.follow(&send(&app, &page, &save, &[]).await).await;
    assert_eq!(lines(&app, ana).await[4], "strength 30");
    let week = app.get(&format!("/athletes/{ana}/week")).await;
    assert!(
        week.text("main").contains("From the template Five days <b>, no day changed since."),
        "{}",
        week.text("main")
    );
    let page = app.follow(&app.post(&saved.attribute(".notice form", "action"), &[]).await).await;
    assert_eq!(page.text(".notice p"), "Undone for one athlete: template filled in.");
    assert_eq!(lines(&app, ana).await[0], "8");
    assert_eq!(app.store.check().await.unwrap(), Vec::<String>::new());
}

#[tokio::test]
async fn one_tick_puts_the_template_in_place_of_all_typed_weeks_and_is_named_where_it_is_missing() {
    let app = TestApp::new().await;
    let path = template(&app).await;
    let (apply, save) = (format!("{path}/apply"), format!("{path}/apply/save"));
    let mut ids = Vec::new();
    for name in ["Ana", "Bo", "Cy"] {
        let athlete = app.add_athlete(name, DistanceUnit::Km).await;
        typed_week(&app, athlete, ["8", "8", "8", "", "", "", "16"]).await;
        ids.push(athlete);
    }
    let typed: Vec<String> = ids.iter().map(ToString::to_string).collect();
    let fields: Vec<(&str, &str)> = typed.iter().map(|id| ("athlete", id.as_str())).collect();
    let button = format!("button[formaction='{save}']");
    let page = app.post(&apply, &fields).await;
    assert!(page.text("main").contains("Put the template in place of all weeks typed or brought in (3)"));
    assert_eq!(page.text(&button), "Save the weeks of 0 of 3");
    assert!(
        page.text("main").contains("Nobody's week would be saved yet. Tick “Put the template in place of all weeks")
    );
    let refused = send(&app, &page, &save, &[]).await;
    assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(
        refused.text(".told").contains("the tick “Put the template in place of all weeks"),
        "{}",
        refused.text(".told")
    );
    assert_eq!(lines(&app, ids[0]).await[0], "8");

    let one = send(&app, &page, &apply, &[("replace", &typed[1])]).await;
    assert_eq!(one.text(&button), "Save the weeks of 1 of 3");
    let all = send(&app, &page, &apply, &[("replace_all", "yes")]).await;
    assert_eq!((all.text(&button).as_str(), all.count("[name=replace_all][checked]")), ("Save the weeks of 3 of 3", 1));
    assert!(!all.text("main").contains("Nobody’s week"));
    let saved = app.follow(&send(&app, &page, &save, &[("replace_all", "yes")]).await).await;
    assert!(saved.text(".notice p").starts_with("The week of 3 athletes is saved."), "{}", saved.text(".notice p"));
    for athlete in ids {
        assert_eq!(lines(&app, athlete).await[4], "strength 30");
    }
}

#[tokio::test]
async fn own_days_stay_when_the_template_changes_unless_they_are_ticked() {
    let app = TestApp::new().await;
    let path = template(&app).await;
    let ana = app.add_athlete("Ana", DistanceUnit::Km).await;
    fill(&app, &path, ana, "40").await;
    let mut own = lines(&app, ana).await;
    own[2] = "5 + strength 20".to_owned();
    typed_week(&app, ana, own.each_ref().map(String::as_str)).await;
    let week = app.get(&format!("/athletes/{ana}/week")).await;
    assert!(week.text("main").contains("From the template Five days <b>, 1 day changed since."));

    let again = app.post(&format!("{path}/apply"), &[("athlete", &ana.to_string())]).await;
    assert!(again.text(".template-week").contains("Nothing changes."), "{}", again.text(".template-week"));
    let refused = send(&app, &again, &format!("{path}/apply/save"), &[]).await;
    assert_eq!(refused.text(".told"), "Nothing was saved: no week would change.");

    let changed: Vec<(&str, &str)> =
        FIVE.into_iter().map(|field| if field.0 == "sun" { ("sun", "long 20") } else { field }).collect();
    let saved = app.post(&path, &[&changed[..], &[("version", "1")]].concat()).await;
    let page = app.follow(&saved).await;
    assert_eq!(page.text(".notice p"), "Template saved. Nobody's week changed by it.");
    assert!(page.text("main").contains("Run by 1 athlete, by an older version."), "{}", page.text("main"));
    assert_eq!(lines(&app, ana).await, own);

    let older = app.get(&format!("{path}/apply?who=older")).await;
    assert_eq!(older.count("input[name=athlete][checked]"), 1);
    let page = send(&app, &older, &format!("{path}/apply"), &[]).await;
    assert_eq!(page.texts(".template-own"), ["own, stays"]);
    let take = format!("{ana}-wed");
    let taken = send(&app, &page, &format!("{path}/apply"), &[("take", &take)]).await;
    assert_eq!(taken.texts(".template-own"), ["own, is replaced"]);
    app.follow(&send(&app, &page, &format!("{path}/apply/save"), &[]).await).await;
    let now = lines(&app, ana).await;
    assert_eq!(now[2], own[2]);
    assert_ne!(now[6], own[6]);
    assert!(!app.get(&path).await.text("main").contains("older version"));
    let page = app.post(&format!("{path}/apply"), &[("athlete", &ana.to_string()), ("take", &take)]).await;
    app.follow(&send(&app, &page, &format!("{path}/apply/save"), &[]).await).await;
    assert!(lines(&app, ana).await[2].starts_with("easy "), "the template's after all");
}

#[tokio::test]
async fn what_was_saved_meanwhile_has_to_be_looked_at_again() {
    let app = TestApp::new().await;
    let path = template(&app).await;
    let ana = app.add_athlete("Ana", DistanceUnit::Km).await;
    let fields = [("athlete", ana.to_string()), (&*format!("amount-{ana}"), "40".to_owned())];
    let fields: Vec<(&str, &str)> = fields.iter().map(|(name, value)| (*name, value.as_str())).collect();
    let page = app.post(&format!("{path}/apply"), &fields).await;
    typed_week(&app, ana, ["8", "", "", "", "", "", ""]).await;
    let stale = send(&app, &page, &format!("{path}/apply/save"), &[]).await;
    assert_eq!(stale.status, StatusCode::CONFLICT);
    assert!(stale.text(".told").contains("look again"), "{}", stale.text(".told"));
    assert_eq!(lines(&app, ana).await[0], "8");
    let other = app.post(&format!("{path}/apply/save"), &[("athlete", &ana.to_string())]).await;
    assert_eq!(other.status, StatusCode::CONFLICT, "nothing is saved unseen");
}

#[tokio::test]
async fn two_weeks_that_take_turns_are_told_and_a_second_week_stays() {
    let app = TestApp::new().await;
    let path = template(&app).await;
    let ana = app.add_athlete("Ana", DistanceUnit::Km).await;
    let second = store::SecondWeek { lines: ["5"; 7].map(str::to_owned), stands_on: app.today() + chrono_monday(&app) };
    let turning = WeekDraft { second: Some(second.clone()), ..WeekDraft::of(["8"; 7].map(str::to_owned)) };
    app.store.save_week(ana, Version(0), &turning, app.now()).await.unwrap();
    let id = ana.to_string();
    let page = app.post(&format!("{path}/apply"), &[("athlete", &id)]).await;
    assert!(page.text(".template-week").contains("Two weeks take turns; the template would stand in place of both."));
    let page = send(&app, &page, &format!("{path}/apply"), &[("replace", &id)]).await;
    send(&app, &page, &format!("{path}/apply/save"), &[]).await.location();
    let kept = app.store.week(ana).await.unwrap().unwrap();
    assert_eq!(kept.second, None);
    let with_second = WeekDraft { second: Some(second.clone()), ..WeekDraft::of(kept.lines) };
    app.store.save_week(ana, kept.version, &with_second, app.now()).await.unwrap();
    let amount = format!("amount-{ana}");
    let page = app.post(&format!("{path}/apply"), &[("athlete", &id), (&amount, "60")]).await;
    assert!(page.text(".template-week").contains("The second week, which takes turns, stays as it is."));
    send(&app, &page, &format!("{path}/apply/save"), &[]).await.location();
    assert_eq!(app.store.week(ana).await.unwrap().unwrap().second, Some(second));
}

/// The days to the next Monday.
fn chrono_monday(app: &TestApp) -> chrono::Days {
    use chrono::Datelike;
    chrono::Days::new(u64::from(7 - app.today().weekday().num_days_from_monday()))
}

#[tokio::test]
async fn a_removed_template_leaves_weeks_alone_and_comes_back() {
    let app = TestApp::new().await;
    let path = template(&app).await;
    let ana = app.add_athlete("Ana", DistanceUnit::Km).await;
    fill(&app, &path, ana, "40").await;
    let before = lines(&app, ana).await;
    let gone = app.follow(&app.post(&format!("{path}/remove"), &[]).await).await;
    assert_eq!(app.get(&path).await.status, StatusCode::NOT_FOUND);
    assert_eq!(app.get(&format!("/athletes/{ana}/week")).await.status, StatusCode::OK);
    assert_eq!(lines(&app, ana).await, before);
    let removed = app.get("/removed").await;
    assert_eq!(removed.text("[aria-labelledby=templates] th[scope=row]"), "Five days <b>");
    let back = app.follow(&app.post(&gone.attribute(".notice form", "action"), &[]).await).await;
    assert_eq!(back.text("h1"), "Five days <b>");
}

#[tokio::test]
async fn no_more_than_sixty_can_be_ticked_and_a_name_or_a_group_narrows_them() {
    let app = TestApp::new().await;
    let path = template(&app).await;
    for number in 0..63 {
        app.add_athlete(&format!("Runner {number:02}"), DistanceUnit::Km).await;
    }
    let page = app.get(&format!("{path}/apply")).await;
    assert_eq!(page.count("input[name=athlete]"), 60);
    assert!(page.text("main").contains("The first 60 of 63 athletes, by name."));
    assert_eq!(app.get(&format!("{path}/apply?text=runner+62")).await.count("input[name=athlete]"), 1);
    let none = app.get(&format!("{path}/apply?group=Nobody%27s")).await;
    assert_eq!((none.count("input[name=athlete]"), none.count(".empty")), (0, 1));
}

#[tokio::test]
async fn a_line_of_a_template_that_cannot_be_read_is_taken_as_it_is_offered() {
    let app = TestApp::new().await;
    let refused = app.post("/templates", &[("name", "Five"), ("units", "km"), ("tue", "6/8")]).await;
    assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY);
    let button = "#tue-reading .offers li:last-child button";
    let (name, line) = (refused.attribute(button, "name"), refused.attribute(button, "value"));
    assert_eq!(refused.attribute(button, "formaction"), "/templates/preview#tue");
    let taken = send(&app, &refused, "/templates/preview", &[(&name, &line)]).await;
    assert_eq!((taken.value("tue").as_str(), taken.text("#tue-reading").as_str()), ("6 + 8", "easy 6 km + easy 8 km"));
    assert_eq!((taken.value("name").as_str(), app.store.templates().await.unwrap().len()), ("Five", 0));
}
