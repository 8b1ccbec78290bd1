//! Athletes out of a spreadsheet: looked at first, then brought in at once.

use axum::http::StatusCode;
use ebbline_tests::{Answer, TestApp};
use planning::DistanceUnit;
use store::{AthleteId, Version, WeekDraft};

const PASTE: &str = "/athletes/paste";
const SAVE: &str = "/athletes/paste/save";

/// Three people of our own invention, one of whom is called like somebody of the squad.
const LIST: &str = "Athlete\tGroup\tMonday\tTue\tWed\tThu\tFri\tSat\tSun\tShoes\n\
                    Ines Marlow\tTrack\t\t6 x 800 m 10k pace, 10 km\t7\trest\t8\t-\tlong 16\t42\n\
                    Tobias Fenn\t\t8\t\t7,5\t\t\t\t18\t\n\
                    ana\tRoad\t9\t9\t9\t\t\t\t\t\n";

async fn squad() -> (TestApp, AthleteId) {
    let app = TestApp::new().await;
    let ana = app.add_athlete("Ana", DistanceUnit::Km).await;
    let week = WeekDraft::of(["5", "5", "", "", "", "", "10"].map(str::to_owned));
    app.store.save_week(ana, Version(0), &week, app.now()).await.unwrap();
    (app, ana)
}

async fn look(app: &TestApp, text: &str) -> Answer {
    app.post(PASTE, &[("text", text)]).await
}

/// Sends the form of a page as a browser would, changed a little.
async fn send(app: &TestApp, page: &Answer, path: &str, change: impl Fn(&mut Vec<(String, String)>)) -> Answer {
    let mut fields = page.filled("form.paste");
    change(&mut fields);
    let fields: Vec<(&str, &str)> = fields.iter().map(|(name, value)| (name.as_str(), value.as_str())).collect();
    app.post(path, &fields).await
}

fn set(fields: &mut [(String, String)], name: &str, value: &str) {
    let field = fields.iter_mut().find(|field| field.0 == name).unwrap_or_else(|| panic!("no {name}"));
    value.clone_into(&mut field.1);
}

fn tick(fields: &mut Vec<(String, String)>, name: &str) {
    fields.push(("take".to_owned(), name.to_owned()));
}

fn untick(fields: &mut Vec<(String, String)>, name: &str) {
    fields.retain(|field| field != &("take".to_owned(), name.to_owned()));
}

fn unchanged(_: &mut Vec<(String, String)>) {}

#[tokio::test]
async fn the_page_shows_what_a_list_looks_like_and_its_sample_can_be_pasted() {
    let app = TestApp::new().await;
    let page = app.get(PASTE).await;
    assert_eq!(page.text("h1"), "Athletes from a spreadsheet");
    assert_eq!(page.count(".paste-sample tbody tr"), 3);
    let sample = app.get(&page.attribute(".paste-sample a", "href")).await;
    assert_eq!(sample.header("content-disposition"), "attachment; filename=\"athletes-sample.csv\"");
    let page = look(&app, sample.body()).await;
    assert_eq!(page.text("button[formaction]"), "Bring in 3 of 3");
    for from in ["/", "/athletes", "/athletes/new"] {
        assert!(app.get(from).await.attributes("main a", "href").contains(&PASTE.to_owned()), "{from}");
    }
}

#[tokio::test]
async fn the_preview_says_what_is_new_what_is_there_and_what_each_week_holds_and_saves_nothing() {
    let (app, _) = squad().await;
    let before = app.store.export().await.unwrap();
    let page = look(&app, LIST).await;
    assert_eq!(page.status, StatusCode::OK);
    assert_eq!(page.text(".lead"), "3 athletes in the list: 2 new and 1 in the squad already. Nothing is saved yet.");
    let rows = page.texts(".paste-people tbody tr");
    assert!(rows[0].contains("Ines Marlow") && rows[0].contains("41 km on 4 running days"), "{}", rows[0]);
    assert!(rows[1].contains("New.") && rows[1].contains("33.5 km on 3 running days"), "{}", rows[1]);
    assert!(rows[2].contains("Is in the squad with another week.") && rows[2].contains("20 km"), "{}", rows[2]);
    assert_eq!(page.text(".paste-left-out bdi"), "Not taken: “Shoes”. What stands in this column stays in your list.");
    assert_eq!(page.attributes("input[name=take][checked]", "value"), ["Ines Marlow", "Tobias Fenn"]);
    assert_eq!(page.value("column-0"), "name");
    assert_eq!(page.value("column-2"), "mon");
    assert_eq!(page.value("column-9"), "", "shoes are not taken");
    assert_eq!(app.store.export().await.unwrap(), before);
}

#[tokio::test]
async fn what_is_ticked_comes_in_at_once_and_undo_gives_everything_back() {
    let (app, ana) = squad().await;
    let page = look(&app, LIST).await;
    let answer = send(&app, &page, SAVE, |fields| tick(fields, "ana")).await;
    assert_eq!(answer.location(), "/athletes");
    let list = app.follow(&answer).await;
    assert!(list.text(".notice p").starts_with("Brought in: 3 athletes"), "{}", list.text(".notice p"));
    assert_eq!(list.count(".notice a[href^='/races?list=']"), 1, "and it goes on from there");
    let names: Vec<String> =
        app.store.athletes().await.unwrap().into_iter().map(|one| one.draft.athlete.name).collect();
    assert_eq!(names, ["Ana", "Ines Marlow", "Tobias Fenn"]);
    let ines = app.store.find_athletes("ines").await.unwrap().remove(0);
    assert_eq!(ines.draft.group, "Track");
    assert_eq!(app.store.week(ines.id).await.unwrap().unwrap().lines[1], "6 x 800 m 10k pace, 10 km");
    assert_eq!(app.store.week(ana).await.unwrap().unwrap().lines[2], "9");
    let ana_now = app.store.athlete(ana).await.unwrap().unwrap();
    assert_eq!((ana_now.draft.group.as_str(), ana_now.version), ("Track", Version(1)), "only the week is taken");

    let again = send(&app, &page, SAVE, |fields| tick(fields, "ana")).await;
    assert_eq!(again.location(), "/athletes", "the same form again is the same answer");
    assert_eq!(app.store.athletes().await.unwrap().len(), 3);

    let undo = list.attribute(".notice form", "action");
    let page = app.follow(&app.post(&undo, &[]).await).await;
    assert_eq!(page.text(".notice p"), "Undone for all 3 athletes: brought in or given a week.");
    let week = app.store.week(ana).await.unwrap().unwrap();
    assert_eq!((week.lines[2].as_str(), week.lines[6].as_str(), week.version), ("", "10", Version(3)));
    assert_eq!(app.store.athletes().await.unwrap().len(), 1);
    let removed = app.get("/removed").await;
    assert_eq!(removed.texts("[aria-labelledby=athletes] th[scope=row]").len(), 2);
    assert_eq!(app.store.check().await.unwrap(), Vec::<String>::new());
}

#[tokio::test]
async fn undo_leaves_who_was_changed_since_and_names_them() {
    let (app, ana) = squad().await;
    let page = look(&app, LIST).await;
    let list = app.follow(&send(&app, &page, SAVE, |fields| tick(fields, "ana")).await).await;
    let tobias = app.store.find_athletes("tobias").await.unwrap().remove(0).id;
    let race = app.add_race("River Ten", "2027-05-09", planning::RaceDistance::TenK).await;
    app.store.enter(race, tobias, planning::Importance::Goal, app.now()).await.unwrap();
    let week = WeekDraft::of(["7", "", "", "", "", "", ""].map(str::to_owned));
    app.store.save_week(ana, Version(2), &week, app.now()).await.unwrap();
    let undo = list.attribute(".notice form", "action");
    let page = app.follow(&app.post(&undo, &[]).await).await;
    assert_eq!(page.texts("[aria-labelledby=left] li"), ["Ana", "Tobias Fenn"]);
    assert_eq!(page.texts("[aria-labelledby=undone] li"), ["Ines Marlow"]);
    assert_eq!(app.store.week(ana).await.unwrap().unwrap().lines[0], "7");
}

#[tokio::test]
async fn who_is_not_ticked_stays_out_and_nobody_at_all_is_said() {
    let (app, ana) = squad().await;
    let page = look(&app, LIST).await;
    let none = |fields: &mut Vec<(String, String)>| {
        untick(fields, "Ines Marlow");
        untick(fields, "Tobias Fenn");
    };
    let refused = send(&app, &page, SAVE, none).await;
    assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert_eq!(refused.text(".told"), "Nobody is ticked, so nothing was brought in.");
    assert_eq!(refused.count("input[name=take][checked]"), 0, "what was unticked stays so");
    send(&app, &page, SAVE, |fields| untick(fields, "Ines Marlow")).await.location();
    let names: Vec<String> =
        app.store.athletes().await.unwrap().into_iter().map(|one| one.draft.athlete.name).collect();
    assert_eq!(names, ["Ana", "Tobias Fenn"]);
    assert_eq!(app.store.week(ana).await.unwrap().unwrap().version, Version(1), "left as it is");
}

#[tokio::test]
async fn what_is_wrong_is_said_with_its_place_and_put_right_in_its_field() {
    let (app, _) = squad().await;
    let text = "name;mon;tue\nBo;7 furlongs;8\nCy;8;9\n;1;2\n";
    let page = look(&app, text).await;
    assert_eq!(page.status, StatusCode::OK);
    assert_eq!(
        page.texts(".paste-fixes .field-errors p"),
        [
            "!Error: Row 2, Bo, Monday, “7 furlongs”: “furlongs” is not a unit that is known here; write the unit as km, mi or min.",
            "!Error: Row 4, name: nothing is given here, and something is needed."
        ]
    );
    assert_eq!(page.text("button[formaction]"), "Bring in 1 of 3");
    let page = send(&app, &page, PASTE, |fields| {
        set(fields, "fix-1-1", "7 furlongs; \"soft\"");
        set(fields, "fix-3-0", "Dee");
    })
    .await;
    assert!(page.text("#text").contains("\"7 furlongs; \"\"soft\"\"\";8"), "{}", page.text("#text"));
    assert!(page.texts(".paste-fixes p")[0].contains("Row 2, Bo, Monday"), "{:?}", page.texts(".paste-fixes p"));
    let page = send(&app, &page, PASTE, |fields| set(fields, "fix-1-1", "7")).await;
    assert_eq!((page.count(".paste-fixes"), page.text("button[formaction]").as_str()), (0, "Bring in 3 of 3"));
    send(&app, &page, SAVE, unchanged).await.location();
    assert_eq!(app.store.athletes().await.unwrap().len(), 4);
}

#[tokio::test]
async fn what_was_put_right_in_the_text_is_not_undone_by_the_field_beside_it() {
    let app = TestApp::new().await;
    let page = look(&app, "name,mon\nBo,7 furlongs\n").await;
    let page = send(&app, &page, PASTE, |fields| set(fields, "text", "name,mon\nBo,8\n")).await;
    assert_eq!((page.count(".paste-fixes"), page.text("#text").as_str()), (0, "name,mon Bo,8"));
}

#[tokio::test]
async fn columns_are_chosen_by_the_coach_and_forgotten_with_another_list() {
    let app = TestApp::new().await;
    let page = look(&app, "Wer,Di\nBo,8\n").await;
    assert_eq!(page.value("heads"), "no", "no head is known");
    let page = send(&app, &page, PASTE, |fields| {
        set(fields, "heads", "yes");
        set(fields, "column-0", "name");
        set(fields, "column-1", "tue");
    })
    .await;
    let row = page.text(".paste-people tbody tr");
    assert!(row.contains("Bo") && row.contains("8 km on 1 running day"), "{row}");
    let both = send(&app, &page, PASTE, |fields| set(fields, "column-1", "name")).await;
    assert_eq!(both.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(both.text("#problems li").starts_with("Two columns are said to hold the same, name"));
    let none = send(&app, &page, PASTE, |fields| set(fields, "column-0", "")).await;
    assert!(none.text("#problems li").starts_with("No column holds the names"));
    assert_eq!(none.value("column-1"), "tue", "what was chosen stays chosen");
    let other = send(&app, &page, PASTE, |fields| set(fields, "text", "mon;name\n9;Cy\n")).await;
    assert_eq!((other.value("column-0").as_str(), other.value("separator").as_str()), ("mon", "semicolon"));
}

#[tokio::test]
async fn nothing_is_saved_that_was_not_looked_at() {
    let (app, ana) = squad().await;
    let unseen = app.post(SAVE, &[("text", LIST), ("take", "Ines Marlow")]).await;
    assert_eq!(unseen.status, StatusCode::CONFLICT);
    let page = look(&app, LIST).await;
    let other = send(&app, &page, SAVE, |fields| set(fields, "text", &LIST.replace("long 16", "long 36"))).await;
    assert_eq!(other.status, StatusCode::CONFLICT);
    assert!(other.text(".told").contains("Nothing is saved yet"));
    app.store.save_week(ana, Version(1), &WeekDraft::of(Default::default()), app.now()).await.unwrap();
    let stale = send(&app, &page, SAVE, |fields| tick(fields, "ana")).await;
    assert_eq!(stale.status, StatusCode::CONFLICT);
    assert_eq!(stale.attributes("input[name=take][checked]", "value"), ["Ines Marlow", "Tobias Fenn", "ana"]);
    assert_eq!(app.store.athletes().await.unwrap().len(), 1);
    send(&app, &stale, SAVE, unchanged).await.location();
    assert_eq!(app.store.athletes().await.unwrap().len(), 3);
}

#[tokio::test]
async fn a_file_in_an_encoding_of_windows_comes_in_with_its_lines_as_they_are() {
    let app = TestApp::new().await;
    let file = b"Name;Mon;Notes\r\nJos\xe9 Pena;7,5;\"knee\r\nasthma\"\r\n";
    let page = app.post_file(PASTE, &[("once", "")], "file", file).await;
    assert_eq!(page.status, StatusCode::OK);
    assert!(page.text(".paste-people tbody tr").contains("José Pena"));
    send(&app, &page, SAVE, unchanged).await.location();
    let jose = app.store.athletes().await.unwrap().remove(0);
    assert_eq!(jose.draft.notes, "knee\nasthma");
    assert_eq!(app.store.week(jose.id).await.unwrap().unwrap().lines[0], "7,5");
    let refused = app.post_file(PASTE, &[("text", "kept <b>")], "file", b"PK\x03\x04\0\0").await;
    assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(refused.text("#problems li").starts_with("This is not text"), "{}", refused.text("#problems li"));
    assert_eq!(refused.text("#text"), "kept <b>");
}

#[tokio::test]
async fn what_is_no_list_is_refused_in_words_and_kept() {
    let app = TestApp::new().await;
    for (text, begin) in [
        ("", "No athlete stands in it"),
        ("name,mon\nBo,\"6 x 800 m\n", "Row 2: a cell begins with a quotation mark that is never closed"),
        ("name\nB\0o\n", "This is not text"),
        (&*"x\t".repeat(10_000), "Row 1 has 10001 columns"),
        (&*"Bo\n".repeat(2_100), "2100 rows are too many at once"),
    ] {
        let page = look(&app, text).await;
        assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY, "{begin}");
        assert!(page.text("#problems li").starts_with(begin), "{}", page.text("#problems li"));
        assert_eq!(page.text("#text").replace('\u{fffd}', "\0").len(), text.trim().replace('\n', " ").len(), "{begin}");
    }
    let large = app.post_file(PASTE, &[], "file", &vec![b'x'; 5_000_000]).await;
    assert_eq!(large.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(large.text("#problems li").starts_with("This is more than 1 MB."));
}

#[tokio::test]
async fn a_formula_is_text_and_names_turn_nothing_around() {
    let app = TestApp::new().await;
    let page = look(&app, "name\tgroup\n=HYPERLINK(\"x\")\t<b>x</b>\nA\u{202e}gnik\t+1\n").await;
    assert_eq!(page.count(".paste-people b"), 0);
    send(&app, &page, SAVE, unchanged).await.location();
    let mut names: Vec<String> =
        app.store.athletes().await.unwrap().into_iter().map(|one| one.draft.athlete.name).collect();
    names.sort();
    assert_eq!(names, ["=HYPERLINK(\"x\")", "Agnik"]);
}

#[tokio::test]
async fn numbers_are_in_the_units_of_the_row_else_of_the_athlete_else_of_the_squad() {
    let app = TestApp::new().await;
    app.add_athlete("Ann, the first of all", DistanceUnit::Km).await;
    let mo = app.add_athlete("Mo", DistanceUnit::Mi).await;
    let bo = app.add_athlete("Bo", DistanceUnit::Mi).await;
    let text = "name,units,mon\nMo,,5\nBo,km,8\nCy,miles,6\nDee,,7\n";
    let page = look(&app, text).await;
    let take = |fields: &mut Vec<(String, String)>| {
        tick(fields, "Mo");
        tick(fields, "Bo");
    };
    send(&app, &page, SAVE, take).await.location();
    let line = async |id| app.store.week(id).await.unwrap().unwrap().lines[0].clone();
    assert_eq!((line(mo).await.as_str(), line(bo).await.as_str()), ("5", "easy 8 km"), "no number changes its meaning");
    let units = async |name| app.store.find_athletes(name).await.unwrap().remove(0).draft.athlete.units;
    assert_eq!((units("cy").await, units("dee").await), (DistanceUnit::Mi, DistanceUnit::Km));
}

#[tokio::test]
async fn each_day_is_shown_as_it_was_read_and_the_columns_that_are_not_taken_are_named_once() {
    let app = TestApp::new().await;
    let list = "Name\tShoe\tBib\tMon\tTue\tWed\tThu\tFri\tSat\tSun\n\
                Ines Marlow\t10/11/1988\t555\trest or XT\t12 km w/ 6 km @ MP\t8k E\toff\tAM 6, PM 8\tfrolic\t1:45 LSD\n\
                Tobias Fenn\t\t556\t\t8\t\t\t\t\t18\n\
                Bea Holt\t\t\t\t\t\t\t\t\t\n";
    let page = look(&app, list).await;

    assert_eq!(
        page.text(".paste-left-out bdi"),
        "Not taken: “Shoe” and “Bib”. What stands in these columns stays in your list."
    );
    assert_eq!(page.attribute(".paste-left-out a", "href"), "#columns");
    assert_eq!(page.count(".paste-days"), 2, "nothing is told day by day where no week came");
    let days = page.texts(".paste-people tbody tr:first-child .paste-days li");
    assert_eq!(
        days,
        [
            "Mon cross-training (or rest)",
            "Tue race pace 12 km, 6 km hard (at MP)",
            "Wed easy 8 km",
            "Thu rest",
            "Fri easy 6 km (AM) + easy 8 km (PM)",
            "Sat not read",
            "Sun long run 105 min"
        ]
    );
    assert_eq!(page.count(".paste-unread"), 1);
}

#[tokio::test]
async fn the_phone_and_every_other_field_of_a_list_come_in_and_are_shown_before() {
    let app = TestApp::new().await;
    let list = "Name\tMobile\tDOB\tWeight (kg)\tTime zone\tCautions\tRecent results\tSun\n\
                Ines Marlow\t+351 555 0100\t10/11/1988\t62\tEurope/Lisbon\tleft calf\t2027-03-14 10k 42:10\tlong 16\n";
    let page = look(&app, list).await;
    assert_eq!(page.count(".paste-left-out"), 0);
    assert_eq!(
        page.text(".paste-people tbody th .small"),
        "born 1988, 62 kg, Europe/Lisbon, phone +351 555 0100, caution: left calf, 1 recent result"
    );
    send(&app, &page, "/athletes/paste/save", unchanged).await;
    let page = app.get("/athletes").await;
    let address = page.attribute("main table a[href^='/athletes/']", "href");
    let form = app.get(&format!("{address}/edit")).await;
    assert_eq!(form.attribute("#phone", "value"), "+351 555 0100");
    assert_eq!(form.attribute("#birth_year", "value"), "1988");
    assert_eq!(form.attribute("#weight", "value"), "62 kg");
    assert_eq!(form.attribute("#home_zone", "value"), "Europe/Lisbon");
    assert_eq!(form.text("#cautions"), "left calf");
    assert_eq!(form.text("#recent_results"), "2027-03-14 10k 42:10");
}

#[tokio::test]
async fn a_line_that_cannot_be_read_is_offered_as_one_that_is_and_taken_by_a_press() {
    let app = TestApp::new().await;
    let list = "Athlete\tUnits\tMon\tTue\tWed\n\
                Ines Marlow\tkm\t45 easy\t6 x 800 m\t7\n\
                Tobias Fenn\tmi\t6/8\t\t8\n";
    let page = look(&app, list).await;
    let offered = page.texts(".paste-fixes .offers li");
    assert_eq!(offered.len(), 4, "{offered:?}");
    assert_eq!(offered[2], "Take 6-8 Easy 6–8 mi.");
    let button = ".paste-fixes .field:first-child .offers li:first-child button";
    let (name, line) = (page.attribute(button, "name"), page.attribute(button, "value"));
    let taken = send(&app, &page, PASTE, |fields| fields.push((name.clone(), line.clone()))).await;
    assert!(taken.text("textarea").contains("Ines Marlow km 45 min easy 6 x 800 m"), "{}", taken.text("textarea"));
    assert_eq!(taken.count(".paste-fixes .field"), 1);
}

#[tokio::test]
async fn a_line_with_one_answer_comes_in_as_that_and_the_preview_says_what_is_reckoned() {
    let app = TestApp::new().await;
    let list = "Athlete\tUnits\tMon\tTue\tWed\n\
                Ines Marlow\tkm\t8 km HR<140\t6 x 800 m\t7\n\
                Tobias Fenn\tmi\t6 mi HR<130\t\t8\n";
    let page = look(&app, list).await;
    assert_eq!(page.count(".paste-fixes"), 0);
    assert_eq!(page.text("button[formaction]"), "Bring in 2 of 2");
    let days = page.texts(".paste-days li");
    assert_eq!(days[0], "Mon easy 8 km (HR<140)");
    assert_eq!(days[1], "Tue intervals 9 km: 6 × 800 m (the whole run is an estimate)");
    assert!(page.text("textarea").contains("8 km HR<140 6 x 800 m"), "the list stays as it was pasted");
    let saved = send(&app, &page, SAVE, unchanged).await;
    assert_eq!(saved.location(), "/athletes");
    let ines = app.get("/athletes").await.attribute("main table a[href^='/athletes/']", "href");
    assert_eq!(app.get(&format!("{ines}/week")).await.value("tue"), "6 x 800 m, 9 km");
}

/// The list brought in, beside somebody else; and where the notice leads.
async fn on_the_way_to_a_race() -> (TestApp, String) {
    let (app, _) = squad().await;
    app.add_athlete("Zoe", DistanceUnit::Km).await;
    let list = app.follow(&send(&app, &look(&app, LIST).await, SAVE, |fields| tick(fields, "ana")).await).await;
    let next = list.attributes(".notice a", "href").into_iter().find(|href| href.starts_with("/races"));
    (app, next.expect("the way to a race"))
}

async fn submit(app: &TestApp, page: &Answer, form: &str) -> Answer {
    let fields = page.filled(form);
    let fields: Vec<(&str, &str)> = fields.iter().map(|(name, value)| (name.as_str(), value.as_str())).collect();
    app.post(&page.attribute(form, "action"), &fields).await
}

#[tokio::test]
async fn whoever_came_with_a_list_is_ticked_on_the_page_of_the_race_that_is_chosen() {
    let (app, next) = on_the_way_to_a_race().await;
    let race = app.add_race("River Ten", "2027-05-09", planning::RaceDistance::TenK).await;
    let races = app.get(&next).await;
    assert!(races.text(".lead").starts_with("Choose the race in which the 3 athletes of the list are entered"));
    let page = app.get(&races.attribute(".races th a", "href")).await;
    let boxes = "#athletes input[type=checkbox]";
    let all = page.texts("#athletes .check");
    assert_eq!((all.len(), page.count(&format!("{boxes}[checked]"))), (3, 3), "{all:?}");
    assert!(!all.contains(&"Zoe".to_owned()) && page.count("#athletes button") == 0, "exactly these");
    let form = format!("form:has({boxes})");
    let entered = app.follow(&submit(&app, &page, &form).await).await;
    assert_eq!(entered.texts(".entrants tbody th").len(), 3);
    assert_eq!(entered.texts("#athletes .check"), ["Zoe"], "the way is over");
    let again = app.get(&format!("/races/{race}?{}", next.split_once('?').unwrap().1)).await;
    assert!(again.text("section:has(#enter)").contains("Everybody of the list who is still here is entered"));
}

#[tokio::test]
async fn a_list_is_not_forgotten_where_the_race_is_added_first_or_a_form_is_refused() {
    let (app, next) = on_the_way_to_a_race().await;
    let races = app.get(&next).await;
    assert!(races.text(".lead").starts_with("Add the race in which"));
    let form = app.get(&races.attribute(".page-head a", "href")).await;
    let mut fields = form.filled("form.form");
    set(&mut fields, "name", "River Ten");
    set(&mut fields, "date", "2027-05-09");
    set(&mut fields, "distance", "10k");
    let fields: Vec<(&str, &str)> = fields.iter().map(|(name, value)| (name.as_str(), value.as_str())).collect();
    let added = app.post("/races", &fields).await;
    let page = app.follow(&added).await;
    assert_eq!(page.count("#athletes input[checked]"), 3, "{}", added.location());
    let action = format!("{}/enter", added.location().split_once('?').unwrap().0);
    let refused = app.post(&action, &[("list", &page.value("list")), ("importance", "goal")]).await;
    assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert_eq!((refused.count("#athletes .check"), refused.count("#athletes input[checked]")), (3, 0));
    for nonsense in ["x", "99", ""] {
        let page = app.get(&format!("{}?list={nonsense}", added.location().split_once('?').unwrap().0)).await;
        assert_eq!((page.count("#athletes .check"), page.count("#athletes input[checked]")), (4, 0), "{nonsense}");
    }
}

#[tokio::test]
async fn the_page_of_what_a_list_brought_in_leads_to_a_race_too_until_it_is_undone() {
    let (app, next) = on_the_way_to_a_race().await;
    let step = format!("/steps/{}", next.split_once('=').unwrap().1);
    assert_eq!(app.get(&step).await.attribute("section:has(#whom) p a", "href"), next);
    app.post(&format!("{step}/undo"), &[]).await.location();
    assert!(!app.get(&step).await.body().contains(&next));
}
