//! Every form of the coach's door: sent twice it makes one record, and read before somebody else saved it loses
//! nothing.

use std::collections::BTreeSet;
use std::path::Path;

use axum::http::StatusCode;
use ebbline_tests::{Answer, TestApp, date};
use planning::{EventKind, LifeEvent};

/// What keeps a form from being lost or counted twice.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Net {
    /// It carries what it was read at; a stale one is a page with both, 409.
    Version,
    /// It carries what it was read at and nothing that was typed; a stale one shows how things stand.
    Step,
    /// It carries a key of its own: sent twice it is one record.
    Key,
    /// The same content twice is one record.
    Content,
    /// It sets one thing: twice is once, and the page shows how it stands.
    Choice,
    /// It writes nothing.
    Reads,
    /// It opens or closes a door, or writes beside the data file, and is tested there.
    Door,
}

/// One form: its address in `paths`, what holds it, where it goes, and two ways of filling it.
struct Form {
    name: &'static str,
    net: Net,
    path: &'static str,
    /// Fields beside the version.
    one: &'static [(&'static str, &'static str)],
    /// Another way of filling it; empty where there is only one.
    other: &'static [(&'static str, &'static str)],
    /// What the first way leaves on the page of both, and what the other does.
    both: [&'static str; 2],
}

const fn form(name: &'static str, net: Net, path: &'static str, one: &'static [(&'static str, &'static str)]) -> Form {
    Form { name, net, path, one, other: &[], both: [""; 2] }
}

impl Form {
    const fn or(self, other: &'static [(&'static str, &'static str)], both: [&'static str; 2]) -> Self {
        Self { other, both, ..self }
    }
}

use Net::{Choice, Content, Door, Key, Reads, Step, Version};

const ATHLETE: [(&str, &str); 2] = [("name", "Ana One"), ("units", "km")];
const RACE: [(&str, &str); 3] = [("name", "River One"), ("date", "2027-05-16"), ("distance", "10k")];
/// A made-up course of about 10 km.
const COURSE: &str = "<gpx><trk><name>One</name><trkseg><trkpt lat='50' lon='8'/><trkpt lat='50' lon='8.14'/></trkseg>\
                      </trk></gpx>";
const OTHER_COURSE: &str =
    "<gpx><rte><name>Two</name><rtept lat='50' lon='8'/><rtept lat='50' lon='8.14'/></rte></gpx>";
const FIVE: [(&str, &str); 3] = [("name", "Five One"), ("units", "km"), ("mon", "8")];
const FILLED: [(&str, &str); 2] = [("athlete", "2"), ("amount-2", "40")];
/// One of them is in the squad already.
const PASTED: &str = "name\tmon\tsun\nZed One\t8\tlong 15\nAna\t7\t\n";
const ONCE: (&str, &str) = ("once", "018f3b7a-2f6e-7c1e-9d55-6d2f4f1c2a11");

/// Every form. In the app of [`arranged`] the athlete, the race and the block have the id 1, Bo and Cy
/// are 2 and 3, a race a week ago and its block are 2, and what was taken back and the step have the id 1.
const FORMS: &[Form] = &[
    form("ATHLETES", Key, "/athletes", &[ATHLETE[0], ATHLETE[1], ONCE]),
    form("PASTE_ATHLETES", Reads, "/athletes/paste", &[("text", PASTED)]),
    form("SAVE_PASTED", Key, "/athletes/paste/save", &[("text", PASTED), ONCE]),
    form("ATHLETE", Version, "/athletes/1", &ATHLETE)
        .or(&[("name", "Ana Two"), ("units", "km")], ["Ana One", "Ana Two"]),
    form("REMOVE_ATHLETE", Choice, "/athletes/1/remove", &[]),
    form("RESTORE_ATHLETE", Choice, "/athletes/3/restore", &[]),
    form("ENTER_ONE", Choice, "/athletes/2/enter", &[("race", "1"), ("importance", "goal")]),
    form("TEMPLATES", Key, "/templates", &[FIVE[0], FIVE[1], FIVE[2], ONCE]),
    form("TEMPLATE_PREVIEW", Reads, "/templates/preview", &FIVE),
    form("TEMPLATE", Version, "/templates/1", &FIVE)
        .or(&[("name", "Five Two"), ("units", "km"), ("mon", "9")], ["Five One", "Five Two"]),
    form("REMOVE_TEMPLATE", Choice, "/templates/1/remove", &[]),
    form("RESTORE_TEMPLATE", Choice, "/templates/2/bring-back", &[]),
    form("APPLY_TEMPLATE", Reads, "/templates/1/apply", &FILLED),
    form("SAVE_APPLIED", Key, "/templates/1/apply/save", &[FILLED[0], FILLED[1], ONCE]),
    form("WEEK", Version, "/athletes/1/week", &[("mon", "8"), ("sun", "long 15")])
        .or(&[("mon", "8"), ("sun", "long 17")], ["long 15", "long 17"]),
    form("WEEK_PREVIEW", Reads, "/athletes/1/week/preview", &[("mon", "8")]),
    form("WEEK_BORROW", Reads, "/athletes/2/week/borrow", &[("borrow_from", "Ana")]),
    form("WEEK_FIT", Reads, "/athletes/1/week/fit", &[("mon", "8"), ("recent", "40")]),
    form("WEEK_FORM", Version, "/athletes/1/week/form", &[("kind-sun-0", "long"), ("low-sun-0", "15")]),
    form("RACES", Key, "/races", &[RACE[0], RACE[1], RACE[2], ONCE]),
    form("RACE", Version, "/races/1", &RACE)
        .or(&[("name", "River Two"), ("date", "2027-05-16"), ("distance", "10k")], ["River One", "River Two"]),
    form("REMOVE_RACE", Choice, "/races/1/remove", &[]),
    form("RESTORE_RACE", Choice, "/races/1/restore", &[]),
    form("ENTER", Choice, "/races/1/enter", &[("athlete", "2"), ("importance", "goal")]),
    form("WITHDRAW", Choice, "/races/1/withdraw", &[("athlete", "1")]),
    form("RESTORE_ENTRY", Choice, "/races/1/entries/1/restore", &[]),
    form("CALL_OFF", Choice, "/races/1/call-off", &[]),
    form("SETTLE", Choice, "/races/1/settle", &[("athlete", "1")]),
    form("TAKE_PLACE", Choice, "/races/1/take-place", &[]),
    form("RAN", Version, "/races/2/ran", &[("athlete", "1"), ("ran", "5 km")])
        .or(&[("athlete", "1"), ("ran", "6 km")], ["5 km", "6 km"]),
    form("PLAN_ALL", Content, "/races/1/blocks", &[]),
    form("PLAN_STOP", Choice, "/races/1/blocks/stop", &[]),
    form("RACE_HAND_OVER", Step, "/races/1/hand-over", &[("block", "1.1"), ("goals", "yes")]),
    form("RACE_COURSE", Version, "/races/1/course", &[("text", COURSE)])
        .or(&[("text", OTHER_COURSE)], ["the track in One", "Two"]),
    form("REMOVE_COURSE", Choice, "/races/2/course/remove", &[]),
    form("RACE_MORNING", Version, "/races/1/morning", &[("units", "km"), ("bags", "Tent One")])
        .or(&[("units", "km"), ("bags", "Tent Two")], ["Tent One", "Tent Two"]),
    form("MAKE_BLOCK", Content, "/athletes/1/blocks", &[("race", "1")]),
    form("BLOCK_SETTINGS", Version, "/blocks/1/settings", &[("days", "9")]).or(&[("days", "12")], ["9", "12"]),
    form("BLOCK_DAY", Version, "/blocks/1/days/2027-05-04", &[("line", "easy 3")])
        .or(&[("line", "easy 4")], ["easy 3", "easy 4"]),
    form("BLOCK_UNDO", Step, "/blocks/1/undo", &[]),
    form("BLOCK_REDO", Step, "/blocks/1/redo", &[]),
    form("BLOCK_RESTORE", Step, "/blocks/1/versions/1/restore", &[]),
    form("BLOCK_VARIANTS", Version, "/blocks/1/variants", &[("variant", "longer")])
        .or(&[("variant", "shorter")], ["12 days", "8 days"]),
    form("BLOCK_GOALS", Version, "/blocks/1/goals", &[("a", "under 44:00")])
        .or(&[("a", "under 43:30")], ["under 44:00", "under 43:30"]),
    form("RACE_DAY_PACING", Version, "/blocks/1/race-day/pacing", &[("slower_half", "-1.5")])
        .or(&[("slower_half", "2")], ["-1.5", "2"]),
    form("RACE_DAY_EDIT", Version, "/blocks/1/race-day/edit", &[("pen", "C"), ("bib", "214")])
        .or(&[("pen", "D"), ("bib", "214")], ["C", "D"]),
    form("DEBRIEF", Version, "/blocks/2/debrief", &[("outcome", "finished"), ("time", "44:10")])
        .or(&[("outcome", "finished"), ("time", "44:20")], ["44:10", "44:20"]),
    form("RESULT", Version, "/races/2/results/2", &[("outcome", "finished"), ("time", "44:10")])
        .or(&[("outcome", "finished"), ("time", "44:20")], ["44:10", "44:20"]),
    form("ANSWERS", Version, "/blocks/1/answers", &[("do", "save"), ("a", "sub 44"), ("rest", "thanks")])
        .or(&[("do", "save"), ("a", "sub 43:30"), ("rest", "thanks")], ["sub 44", "sub 43:30"]),
    form("REPLAN", Step, "/blocks/1/replan", &[]),
    form("BLOCK_HAND_OVER", Step, "/blocks/1/hand-over", &[("goals", "yes")]),
    form("BLOCK_END_LINK", Choice, "/blocks/1/hand-over/end", &[]),
    form("REMOVE_BLOCK", Choice, "/blocks/1/remove", &[]),
    form("RESTORE_BLOCK", Choice, "/blocks/1/bring-back", &[]),
    form("UNDO_STEP", Choice, "/steps/1/undo", &[]),
    form("BLOCK_MESSAGES", Choice, "/blocks/1/messages", &[("moment", "day-before"), ("sent", "yes")]),
    form("ANSWERS", Version, "/blocks/1/answers", &[("do", "save"), ("a", "sub 44")])
        .or(&[("do", "save"), ("a", "sub 43")], ["sub 44", "sub 43"]),
    form("PUBLISH", Door, "/settings/publish", &[]),
    form("MESSAGE", Version, "/messages/day-after", &[("text", "One.")]).or(&[("text", "Two.")], ["One.", "Two."]),
    form("OUR_MESSAGE", Choice, "/messages/day-after/words", &[]),
    form("LOG_WEEK", Version, "/athletes/1/log/weeks/2027-04-12", &[("line", "as planned")])
        .or(&[("line", "40 km")], ["as planned", "40 km"]),
    form("LOG_SESSIONS", Content, "/athletes/1/log/sessions", &[("day", "2027-04-18"), ("ran", "8 km")]),
    form("REMOVE_SESSION", Choice, "/athletes/1/log/sessions/1/remove", &[]),
    form("RESTORE_SESSION", Choice, "/sessions/1/restore", &[]),
    form("EVENTS", Content, "/athletes/1/events", &[("kind", "injury"), ("from", "2027-04-18"), ("to", "2027-04-19")]),
    form("REMOVE_EVENT", Choice, "/athletes/1/events/1/remove", &[]),
    form("END_EVENT", Version, "/athletes/1/events/2/end", &[("well", "2027-04-19")])
        .or(&[("well", "2027-04-20")], ["2027-04-19", "2027-04-20"]),
    form("RESTORE_EVENT", Choice, "/events/1/restore", &[]),
    form(
        "SETTINGS",
        Version,
        "/settings",
        &[("units", "km"), ("week_start", "mon"), ("paper", "a4"), ("coach_name", "One")],
    )
    .or(&[("units", "km"), ("week_start", "mon"), ("paper", "a4"), ("coach_name", "Two")], ["One", "Two"]),
    form("BACKUP", Reads, "/settings/backup", &[]),
    form("EVERYTHING", Reads, "/settings/everything", &[]),
    form("BRING_IN", Key, "/settings/bring-in", &[]),
    form("DEMO", Choice, "/demo", &[]),
    form("SHARING", Door, "/settings/sharing", &[]),
    form("PASS_PHRASE", Door, "/settings/pass-phrase", &[]),
    form("SIGN_IN", Door, "/sign-in", &[]),
    form("SIGN_OUT", Door, "/sign-out", &[]),
];

/// A squad in which every form has something to do.
async fn arranged() -> TestApp {
    let app = TestApp::new().await;
    let ana = app.ana().await;
    let block = app.make_block(ana).await;
    assert_eq!((ana.athlete.0, ana.race.0, block.0), (1, 1, 1));
    app.add_athlete("Bo", planning::DistanceUnit::Km).await;
    let cy = app.add_athlete("Cy", planning::DistanceUnit::Km).await;
    app.store.remove_athlete(cy, app.now()).await.unwrap();
    let past = app.add_race("River Past", "2027-04-11", planning::RaceDistance::TenK).await;
    app.store.enter(past, ana.athlete, planning::Importance::Goal, app.now()).await.unwrap();
    let behind = app.plan_block(ebbline_tests::Entered { athlete: ana.athlete, race: past }).await;
    assert_eq!(behind.0, 2);
    let noted = app.today();
    let ill =
        LifeEvent { kind: EventKind::NoTime, from: date("2027-04-15"), to: date("2027-04-15"), noted, open: false };
    app.store.add_event(ana.athlete, &ill, "", app.now()).await.unwrap();
    let open = LifeEvent { kind: EventKind::Injury, from: date("2027-04-18"), to: noted, noted, open: true };
    app.store.add_event(ana.athlete, &open, "", app.now()).await.unwrap();
    app.store.add_done_session(ana.athlete, date("2027-04-14"), "7 km", None, None, noted, app.now()).await.unwrap();
    app.post(&format!("/races/{past}/enter"), &[("athlete", "2"), ("importance", "tune-up")]).await.location();
    for name in ["Five", "Four"] {
        let lines = ["7", "", "", "", "", "", "long 12"].map(str::to_owned);
        let draft = store::TemplateDraft { name: name.to_owned(), lines, ..store::TemplateDraft::default() };
        app.store.add_template(&draft, uuid::Uuid::new_v4(), app.now()).await.unwrap();
    }
    app.store.remove_template(store::TemplateId(2), app.now()).await.unwrap();
    let course = [("version", "0"), ("text", COURSE)];
    app.post(&format!("/races/{past}/course"), &course).await.location();
    app
}

/// What a form of this kind is read at now.
async fn read_at(app: &TestApp, form: &Form) -> String {
    match form.name {
        "ATHLETE" => app.store.athlete(store::AthleteId(1)).await.unwrap().unwrap().version.to_string(),
        "WEEK" | "WEEK_FORM" => app.store.week(store::AthleteId(1)).await.unwrap().unwrap().version.to_string(),
        "RACE" => app.store.race(store::RaceId(1)).await.unwrap().unwrap().version.to_string(),
        "SETTINGS" => app.store.settings().await.unwrap().version.to_string(),
        "REMOVE_COURSE" | "END_EVENT" => "1".to_owned(),
        "TEMPLATE" => app.store.template(store::TemplateId(1)).await.unwrap().unwrap().version.to_string(),
        "SAVE_APPLIED" => app.post("/templates/1/apply", &FILLED).await.value("version"),
        "SAVE_PASTED" => app.post("/athletes/paste", &[("text", PASTED)]).await.value("version"),
        "MESSAGE" | "LOG_WEEK" | "DEBRIEF" | "RESULT" | "RACE_COURSE" | "RACE_MORNING" => "0".to_owned(),
        _ => app.version_of(store::BlockId(1)).await.to_string(),
    }
}

async fn send(app: &TestApp, form: &Form, version: &str, fields: &[(&str, &str)]) -> Answer {
    let fields = [&[("version", version)], fields].concat();
    app.post(form.path, &fields).await
}

/// How many records there are of each kind.
async fn counted(app: &TestApp) -> Vec<(&'static str, usize)> {
    app.store.export().await.unwrap().into_iter().map(|file| (file.name, file.rows.len())).collect()
}

#[test]
fn every_form_of_the_routes_is_in_the_table() {
    let sources = Path::new(env!("CARGO_MANIFEST_DIR")).join("../crates/server/src");
    let mut found = BTreeSet::new();
    for area in std::fs::read_dir(sources).unwrap() {
        let file = area.unwrap().path().join("mod.rs");
        let Ok(text) = std::fs::read_to_string(&file) else { continue };
        for route in text.split(".route(paths::").skip(1) {
            let name: String = route.chars().take_while(|letter| letter.is_alphanumeric() || *letter == '_').collect();
            let end = route.find(".route(").or_else(|| route.find("\n}")).unwrap_or(route.len());
            // A route may be built a line above: then it is called like its address.
            if route[..end].contains("post(") || text.contains(&format!("let {} = get", name.to_lowercase())) {
                found.insert(name);
            }
        }
    }
    let known: BTreeSet<String> = FORMS.iter().map(|form| form.name.to_owned()).collect();
    assert_eq!(found, known, "a form that is new or gone: say in FORMS what keeps it from being lost or counted twice");
    for form in FORMS.iter().filter(|form| form.net == Version && form.name != "WEEK_FORM") {
        assert!(!form.other.is_empty(), "{}: another way of filling it", form.name);
    }
}

#[tokio::test]
async fn every_form_sent_twice_makes_one_record() {
    for form in FORMS.iter().filter(|form| form.net != Door && form.name != "BRING_IN") {
        let (once, twice) = (arranged().await, arranged().await);
        let version = read_at(&once, form).await;
        let first = send(&once, form, &version, form.one).await;
        assert!(
            first.status.is_success() || first.status == StatusCode::SEE_OTHER || form.name == "DEMO",
            "{}: {} {}",
            form.name,
            first.status,
            first.body()
        );
        let (left, right) =
            tokio::join!(send(&twice, form, &version, form.one), send(&twice, form, &version, form.one));
        for answer in [&left, &right] {
            assert!(!answer.status.is_server_error(), "{}: {}", form.name, answer.body());
        }
        if matches!(form.net, Key | Content) {
            assert_eq!(left.location(), right.location(), "{}: the same result", form.name);
        }
        assert_eq!(counted(&once).await, counted(&twice).await, "{}", form.name);
        assert_eq!(twice.store.check().await.unwrap(), Vec::<String>::new(), "{}", form.name);
    }
}

#[tokio::test]
async fn every_stale_form_is_a_page_with_both_and_saves_nothing() {
    for form in FORMS.iter().filter(|form| form.net == Version && !form.other.is_empty()) {
        let app = arranged().await;
        let version = read_at(&app, form).await;
        send(&app, form, &version, form.one).await.location();
        let before = app.store.export().await.unwrap();
        let page = send(&app, form, &version, form.other).await;
        assert_eq!(page.status, StatusCode::CONFLICT, "{}", form.name);
        for text in form.both {
            assert!(page.body().contains(text), "{}: {text} is not in {}", form.name, page.body());
        }
        assert_eq!(app.store.export().await.unwrap(), before, "{}", form.name);
    }
}

#[tokio::test]
async fn a_second_click_finds_what_is_kept_and_nothing_to_choose() {
    // Forms of a record; those that lay days anew ask, because the same settings again are a wish, too.
    let records = ["ATHLETE", "TEMPLATE", "WEEK", "WEEK_FORM", "RACE", "RAN", "MESSAGE", "LOG_WEEK", "SETTINGS"];
    for form in FORMS.iter().filter(|form| form.net == Version && records.contains(&form.name)) {
        let app = arranged().await;
        let version = read_at(&app, form).await;
        send(&app, form, &version, form.one).await.location();
        let before = app.store.export().await.unwrap();
        let again = send(&app, form, &version, form.one).await;
        assert_eq!(again.status, StatusCode::SEE_OTHER, "{}: {}", form.name, again.body());
        assert_eq!(app.store.export().await.unwrap(), before, "{}", form.name);
    }
}

#[tokio::test]
async fn a_form_that_was_sent_then_changed_by_way_of_the_back_button_shows_both_and_makes_one_record() {
    for (path, one, other, texts) in [
        ("/athletes", [ATHLETE[0], ATHLETE[1], ONCE].to_vec(), ("name", "Ana Two"), ["Ana One", "Ana Two"]),
        ("/races", [RACE[0], RACE[1], RACE[2], ONCE].to_vec(), ("name", "River Two"), ["River One", "River Two"]),
    ] {
        let app = TestApp::new().await;
        let id = app.post(path, &one).await.new_id();
        let changed: Vec<_> = one.iter().map(|field| if field.0 == other.0 { other } else { *field }).collect();
        let page = app.post(path, &changed).await;
        assert_eq!(page.status, StatusCode::CONFLICT);
        assert!(texts.iter().all(|text| page.body().contains(text)), "{}", page.body());
        let action = page.attribute("main form", "action");
        assert_eq!(action, format!("{path}/{id}"));
        let version = page.value("version");
        let saved: Vec<_> = changed.iter().copied().chain([("version", version.as_str())]).collect();
        assert_eq!(app.follow(&app.post(&action, &saved).await).await.text("h1"), texts[1]);
    }
}

#[tokio::test]
async fn a_stale_step_changes_nothing_and_shows_how_things_stand() {
    for form in FORMS.iter().filter(|form| form.net == Step) {
        let app = arranged().await;
        let version = read_at(&app, form).await;
        let goals = FORMS.iter().find(|form| form.name == "BLOCK_GOALS").expect("goals");
        send(&app, goals, &version, goals.one).await.location();
        let before = app.store.export().await.unwrap();
        let answer = send(&app, form, &version, form.one).await;
        assert!(
            matches!(answer.status, StatusCode::SEE_OTHER | StatusCode::CONFLICT),
            "{}: {}",
            form.name,
            answer.status
        );
        assert_eq!(app.store.export().await.unwrap(), before, "{}", form.name);
    }
}

#[tokio::test]
async fn numbers_with_a_comma_are_read_and_what_is_no_number_comes_back_as_typed() {
    let app = arranged().await;
    for (typed, kept) in [("10,5", "10.5 km"), ("10.5 km", "10.5 km"), (" 12 km", "12 km"), ("8-10", "8–10 km")] {
        let fields = [("day", "2027-04-19"), ("ran", typed)];
        let answer = app.post("/athletes/1/log/sessions", &fields).await;
        let page = app.follow(&answer).await;
        assert!(page.body().contains(kept) || page.body().contains(typed.trim()), "{typed}");
    }
    for typed in ["1e3", "10,5,5", "ten"] {
        let page = app.post("/athletes/1/log/sessions", &[("day", "2027-04-19"), ("ran", typed)]).await;
        assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY, "{typed}");
        assert_eq!(page.value("ran"), typed);
        assert!(page.text("#problems").contains(typed), "{}", page.text("#problems"));
    }
}

#[tokio::test]
async fn names_turn_nothing_around_and_are_sorted_found_and_put_into_file_names() {
    let app = TestApp::new().await;
    let long = "x".repeat(200);
    for (typed, kept) in [
        ("O'Neil-Šťastný", "O'Neil-Šťastný"),
        ("نور علي", "نور علي"),
        ("A\u{202e}gnik", "Agnik"),
        ("\u{2069}\u{202e}Jamie", "Jamie"),
        ("👩🏽\u{200d}🦽 Ana", "👩🏽\u{200d}🦽 Ana"),
        ("<b>x</b>", "<b>x</b>"),
    ] {
        let page = app.follow(&app.post("/athletes", &[("name", typed), ("units", "km")]).await).await;
        assert_eq!(page.text("h1"), kept);
        assert_eq!(page.count("h1 b"), 0);
    }
    let page = app.post("/athletes", &[("name", &long), ("units", "km")]).await;
    assert_eq!((page.status, page.value("name")), (StatusCode::UNPROCESSABLE_ENTITY, long));
    let list = app.get("/athletes").await;
    let names = list.texts("tbody th bdi");
    assert_eq!(names.len(), 6);
    assert!(names.iter().position(|name| name == "Agnik") < names.iter().position(|name| name == "Jamie"));
    assert_eq!(app.get("/athletes?text=stastny").await.texts("tbody th bdi"), ["O'Neil-Šťastný"]);
    let file = app.post("/settings/everything", &[]).await;
    let files = formats::bundle::unpack(&file.bytes, |_| true).unwrap();
    assert!(files.iter().all(|(name, _)| name.is_ascii()));
}
