//! The squad board.

use axum::http::StatusCode;
use ebbline_tests::{Answer, Entered, TestApp};
use planning::{DistanceUnit, Importance, Pace, RaceDistance};

fn names(page: &Answer) -> Vec<String> {
    page.texts("th[scope=row] a")
}

async fn add_athlete(app: &TestApp, name: &str, group: &str) -> String {
    app.post("/athletes", &[("name", name), ("group", group)]).await.new_id().to_string()
}

async fn add_week(app: &TestApp, id: &str) {
    let week = [
        ("version", "0"),
        ("tue", "6 x 800 m, 10"),
        ("wed", "8"),
        ("thu", "tempo 9"),
        ("sat", "6"),
        ("sun", "long 15"),
    ];
    app.post(&format!("/athletes/{id}/week"), &week).await.location();
}

async fn enter(app: &TestApp, id: &str, date: &str) -> String {
    let race =
        app.post("/races", &[("name", "River Ten"), ("date", date), ("distance", "10k")]).await.new_id().to_string();
    app.post(&format!("/races/{race}/enter"), &[("athlete", id)]).await.location();
    race
}

#[tokio::test]
async fn an_empty_squad_is_offered_a_first_athlete_and_the_demo_squad() {
    let app = TestApp::new().await;
    let page = app.get("/").await;
    assert_eq!(page.attribute(".empty a.button", "href"), "/athletes/new");
    assert_eq!(page.attribute(".empty form", "action"), "/demo");
    assert_eq!(page.count("table"), 0);
}

#[tokio::test]
async fn the_demo_squad_fills_the_board_with_every_section_once() {
    let app = TestApp::new().await;
    let page = app.follow(&app.post("/demo", &[]).await).await;
    assert_eq!(page.status, StatusCode::OK);
    assert!(page.text(".notice p").contains("invented"));
    let headings = page.texts(".board-heading span:first-child");
    let order = ["Need you now", "Soon", "Later", "Nothing to do", "No race ahead"];
    let expected: Vec<_> = order.into_iter().filter(|heading| headings.iter().any(|shown| shown == heading)).collect();
    assert_eq!(headings, expected);
    assert!(names(&page).len() > 5, "{:?}", names(&page));
    let again = app.post("/demo", &[]).await;
    assert_eq!(names(&app.follow(&again).await).len(), names(&page).len(), "a second press adds nobody");
}

#[tokio::test]
async fn a_file_that_holds_anything_is_not_offered_the_demo_squad() {
    let app = TestApp::new().await;
    app.post("/races", &[("name", "River Ten"), ("date", "2027-05-09"), ("distance", "10k")]).await.location();
    let page = app.get("/").await;
    assert_eq!((page.count(".empty a.button"), page.count(".empty form")), (1, 0));
}

#[tokio::test]
async fn each_row_says_what_is_needed_the_next_race_and_this_week() {
    let app = TestApp::new().await;
    let ana = add_athlete(&app, "Ana", "Track").await;
    let row = |page: &Answer| page.texts("tr:has(th[scope=row]) td");
    assert_eq!(row(&app.get("/").await), ["No base week", "Next race: none", "This week: not known"]);
    add_week(&app, &ana).await;
    assert_eq!(row(&app.get("/").await), ["Nothing", "Next race: none", "This week: as usual"]);
    // A block for 10 km is 10 days long: it begins on Thursday 22 April.
    let race = enter(&app, &ana, "2027-05-02").await;
    assert_eq!(
        row(&app.get("/").await),
        ["Race in 12 days, no block", "River Ten in 12 days Sun 2 May, 10 km, goal race", "This week: as usual"]
    );
    app.post(&format!("/athletes/{ana}/blocks"), &[("race", race.as_str())]).await.location();
    let cells = row(&app.get("/").await);
    assert_eq!(cells[0], "Not handed over yet; no goals written Open the block of Ana: Block begins in 2 days");
    assert!(cells[2].starts_with("This week: ") && cells[2].contains(" km, usually 48 km"), "{cells:?}");
}

#[tokio::test]
async fn in_race_week_the_race_is_named_beside_the_running() {
    let app = TestApp::on("2027-04-27").await;
    let ana = add_athlete(&app, "Ana", "").await;
    add_week(&app, &ana).await;
    let race = enter(&app, &ana, "2027-05-02").await;
    app.post(&format!("/athletes/{ana}/blocks"), &[("race", race.as_str())]).await.location();
    let page = app.get("/").await;
    assert_eq!(page.text(".board-stands"), "Open the block of Ana: Race week");
    assert!(page.text(".board-week").contains(" km and the race, usually 48 km"), "{}", page.text(".board-week"));
}

#[tokio::test]
async fn the_most_urgent_stand_first() {
    let app = TestApp::new().await;
    let (ana, bo, cy) =
        (add_athlete(&app, "Ana", "").await, add_athlete(&app, "Bo", "").await, add_athlete(&app, "Cy", "").await);
    for id in [&ana, &bo, &cy] {
        add_week(&app, id).await;
    }
    enter(&app, &bo, "2027-04-26").await;
    enter(&app, &cy, "2027-06-20").await;
    let page = app.get("/").await;
    assert_eq!(names(&page), ["Bo", "Cy", "Ana"]);
    assert_eq!(page.texts(".board-heading span:first-child"), ["Need you now", "Later", "No race ahead"]);
}

#[tokio::test]
async fn the_board_is_filtered_by_group_and_by_name() {
    let app = TestApp::new().await;
    add_athlete(&app, "Béla", "Road").await;
    add_athlete(&app, "Ana", "Track & Field").await;
    add_athlete(&app, "Bo", "").await;
    let page = app.get("/?group=Track+%26+Field").await;
    assert_eq!((names(&page), page.value("group")), (vec!["Ana".to_owned()], "Track & Field".to_owned()));
    assert_eq!(names(&app.get("/?text=bela").await), ["Béla"]);
    let page = app.get("/?text=nobody").await;
    assert!(page.text(".empty").starts_with("Nobody of the 3"));
    assert_eq!(page.value("text"), "nobody");
}

#[tokio::test]
async fn what_is_needed_leads_to_where_it_is_done() {
    let app = TestApp::new().await;
    let ana = add_athlete(&app, "Ana", "").await;
    assert_eq!(app.get("/").await.attribute(".board-needs strong a", "href"), format!("/athletes/{ana}/week"));
    add_week(&app, &ana).await;
    let race = enter(&app, &ana, "2027-04-29").await;
    let block = app.post(&format!("/athletes/{ana}/blocks"), &[("race", race.as_str())]).await.new_id();
    let page = app.get("/").await;
    let links = page.attributes(".board-needs strong a", "href");
    assert_eq!(links, ["", "#messages", "/goals"].map(|part| format!("/blocks/{block}{part}")));
}

#[tokio::test]
async fn the_board_is_narrowed_to_what_is_needed_and_only_by_what_occurs() {
    let app = TestApp::new().await;
    add_athlete(&app, "Ana", "").await;
    let bo = add_athlete(&app, "Bo", "").await;
    add_week(&app, &bo).await;
    enter(&app, &bo, "2027-05-02").await;
    let page = app.get("/").await;
    assert_eq!(page.attributes("#need option", "value"), ["", "no-block", "no-week"]);
    assert_eq!(names(&app.get("/?need=no-week").await), ["Ana"]);
    assert_eq!(names(&app.get("/?need=no-block&sort=name").await), ["Bo"]);
    let asked = app.get("/?need=silent").await;
    assert!(asked.text(".empty").starts_with("Nobody of the 2"));
    assert_eq!(
        asked.attributes("#need option", "value"),
        ["", "no-block", "silent", "no-week"],
        "what is asked for stays"
    );
    let all = app.get("/?need=x&sort=y&page=z").await;
    assert_eq!((all.status, names(&all).len()), (StatusCode::OK, 2));
}

#[tokio::test]
async fn a_large_squad_is_shown_fifty_at_a_time_and_counted_whole() {
    let app = TestApp::new().await;
    for number in 0..51 {
        app.add_athlete(&format!("Runner {number:02}"), planning::DistanceUnit::Km).await;
    }
    let page = app.get("/?need=no-week").await;
    assert_eq!((names(&page).len(), page.text(".board-count").as_str()), (50, "51"));
    assert_eq!(page.text(".pages p"), "1 to 50 of 51 athletes, page 1 of 2");
    let next = page.attribute(".pages a[rel=next]", "href");
    assert_eq!(next, "/?need=no-week&page=2");
    let second = app.get(&next).await;
    assert_eq!((names(&second), second.text(".board-count").as_str()), (vec!["Runner 50".to_owned()], "51"));
    assert_eq!(second.attribute(".pages a[rel=prev]", "href"), "/?need=no-week");
}

#[tokio::test]
async fn what_was_saved_is_on_the_next_board() {
    let app = TestApp::new().await;
    let ana = add_athlete(&app, "Ana", "").await;
    assert_eq!(names(&app.get("/").await), ["Ana"]);
    app.post(&format!("/athletes/{ana}/remove"), &[]).await.location();
    assert_eq!(app.get("/").await.count("table"), 0);
    app.post(&format!("/athletes/{ana}/restore"), &[]).await.location();
    assert_eq!(names(&app.get("/").await), ["Ana"]);
}

/// Ana, whose block begins today, a Thursday.
async fn block_begun() -> (TestApp, String) {
    let app = TestApp::on("2027-04-29").await;
    let ana = add_athlete(&app, "Ana", "").await;
    add_week(&app, &ana).await;
    let race = enter(&app, &ana, "2027-05-05").await;
    app.post(&format!("/athletes/{ana}/blocks"), &[("race", race.as_str())]).await.location();
    (app, ana)
}

#[tokio::test]
async fn running_much_more_than_planned_is_said_with_its_share() {
    let (app, ana) = block_begun().await;
    app.post(&format!("/athletes/{ana}/log/sessions"), &[("day", "2027-04-28"), ("ran", "40 km")]).await.location();
    let needs = app.get("/").await.text(".board-needs strong");
    assert!(needs.contains("% more than planned since Monday"), "{needs}");
    assert_eq!(app.get("/?need=more").await.count("th[scope=row]"), 1);
}

#[tokio::test]
async fn an_illness_that_is_noted_waits_for_the_coach() {
    let (app, ana) = block_begun().await;
    let ill = [("kind", "illness"), ("from", "2027-04-29"), ("to", "2027-05-01")];
    app.post(&format!("/athletes/{ana}/events"), &ill).await.location();
    let needs = app.get("/").await.text(".board-needs strong");
    assert!(needs.starts_with("Illness noted, the block waits for your word"), "{needs}");
}

#[tokio::test]
async fn the_sheet_for_the_notice_board_names_races_and_nothing_that_is_the_coachs() {
    let (app, ana) = block_begun().await;
    let ill = [("kind", "illness"), ("from", "2027-04-29"), ("to", "2027-05-01"), ("note", "fever at night")];
    app.post(&format!("/athletes/{ana}/events"), &ill).await.location();
    app.post(&format!("/athletes/{ana}/log/sessions"), &[("day", "2027-04-28"), ("ran", "40 km")]).await.location();
    assert_eq!(app.get("/").await.attribute(".head-ways a", "href"), "/board/print");
    let sheet = app.get("/board/print").await;
    assert_eq!(sheet.status, StatusCode::OK);
    assert_eq!(sheet.texts("main td"), ["River Ten Wed 5 May, 10 km, in 6 days"]);
    let all = app.get("/board/print?by=race&block=yes&running=yes").await;
    assert_eq!(all.text("main h2"), "River Ten Wed 5 May, 10 km, in 6 days");
    let cells = all.texts("main td");
    assert_eq!(cells[0], "29 April to 5 May");
    assert!(cells[1].contains("km"), "{cells:?}");
    for page in [sheet, all] {
        let said = page.text("main").to_lowercase();
        for word in ["ill", "fever", "more than", "40", "hand", "goal", "usual", "silent"] {
            assert!(!said.contains(word), "{word}: {said}");
        }
    }
}

#[tokio::test]
async fn the_sheet_for_the_notice_board_is_of_one_group_if_asked() {
    let app = TestApp::new().await;
    for (name, group) in [("Ana", "Track & Field"), ("Bo", "Road"), ("Cy", "")] {
        add_athlete(&app, name, group).await;
    }
    let all = app.get("/board/print?by=x").await;
    assert_eq!(all.texts("main th[scope=row]"), ["Bo", "Ana", "Cy"]);
    assert_eq!(all.texts("main h2"), ["Road", "Track & Field", "Without a group"]);
    let one = app.get("/board/print?group=Track+%26+Field").await;
    assert_eq!((one.texts("main th[scope=row]"), one.count("main h2")), (vec!["Ana".to_owned()], 0));
    assert_eq!(one.text("h1"), "Who races when Track & Field");
    assert!(app.get("/board/print?by=race").await.text("main").contains("Nobody is entered"));
}

#[tokio::test]
async fn an_old_base_week_is_asked_about_until_the_block_made_from_it_begins() {
    let app = TestApp::on("2027-02-10").await;
    app.ana_block().await;
    let asked = async |app: &TestApp| app.get("/").await.body().contains("ase week is 9 weeks old");
    let app = app.later("2027-04-20");
    assert!(asked(&app).await);
    let app = app.later("2027-04-29");
    let page = app.get("/").await;
    assert!(page.text(".board-stands").contains("Day 1 of"), "{}", page.text(".board-stands"));
    assert!(!page.body().contains("weeks old"));
}

#[tokio::test]
async fn a_week_of_kilometres_and_minutes_says_what_it_comes_to_wherever_its_totals_stand() {
    let app = TestApp::on("2027-05-04").await;
    let ana = app.add_athlete("Ana Exemplo", DistanceUnit::Km).await;
    app.save_week(ana, ["40 min", "6 x 800 m 10k pace, 12 km", "10", "tempo 10, hard 5", "", "30 min", "long 18"])
        .await;
    let kept = app.store.athlete(ana).await.unwrap().unwrap();
    let mut draft = kept.draft.clone();
    draft.athlete.easy_pace = Pace::new(300, DistanceUnit::Km).ok();
    app.store.save_athlete(ana, kept.version, &draft, app.now()).await.unwrap();
    let race = app.add_race("Harbour 10", "2027-05-09", RaceDistance::TenK).await;
    app.store.enter(race, ana, Importance::Goal, app.now()).await.unwrap();
    let block = app.plan_block(Entered { athlete: ana, race }).await;
    let said = "the minutes counted at 5:00/km";
    let week = app.get("/").await.text(".board-week");
    assert!(week.contains("(in all about ") && week.contains(" of usually 64 km, ") && week.contains(said), "{week}");
    let printed = app.get("/board/print?running=yes").await.text("main");
    assert!(printed.contains(" (in all about ") && printed.contains(said), "{printed}");
    let sheet = app.get(&format!("/blocks/{block}/print")).await.text(".sheet-days");
    assert!(sheet.contains(" in the whole week; in all about ") && sheet.contains(said), "{sheet}");
    let page = app.get(&format!("/blocks/{block}")).await;
    let totals = page.texts(".ebb-totals");
    assert!(totals.iter().all(|brief| brief.starts_with("about ")), "{totals:?}");
    assert!(page.texts(".block-fact")[1].contains(said), "{:?}", page.texts(".block-fact"));
    let review = app.get(&format!("/races/{race}/review")).await;
    assert!(review.text("main").contains("is an estimate at the athlete's easy pace"));
}
