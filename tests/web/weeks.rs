//! The base week: lines, readings, totals, and the form of seven days.

use axum::http::StatusCode;
use ebbline_tests::{Answer, TestApp};

const DAYS: [&str; 7] = ["mon", "tue", "wed", "thu", "fri", "sat", "sun"];
const WEEK: [&str; 7] =
    ["", "6 x 800 m 10k pace, 90 s jog, 10", "7-9", "tempo 8, hard 4", "strength 30", "7", "long 14-16"];

async fn athlete(app: &TestApp) -> i64 {
    app.post("/athletes", &[("name", "Ana"), ("units", "km"), ("easy_pace", "5:45")]).await.new_id()
}

async fn send(app: &TestApp, path: &str, lines: [&str; 7], range: &str, version: &str) -> Answer {
    let mut fields: Vec<(&str, &str)> = DAYS.into_iter().zip(lines).collect();
    fields.extend([("range", range), ("version", version)]);
    app.post(path, &fields).await
}

#[tokio::test]
async fn an_empty_week_shows_seven_lines_examples_and_no_running() {
    let app = TestApp::new().await;
    let page = app.get(&format!("/athletes/{}/week", athlete(&app).await)).await;
    assert_eq!(
        page.texts("form > .week-days label"),
        ["Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday"]
    );
    assert_eq!(page.text("#totals"), "No running yet.");
    assert_eq!(page.count("form .how-to-write .examples tbody tr"), 14);
    assert_eq!(page.text(".how-such + .how-to-write summary"), "How to write a day");
}

#[tokio::test]
async fn a_day_told_by_warm_up_and_cool_down_is_read_as_their_sum_and_kept_as_typed() {
    let app = TestApp::new().await;
    let path = format!("/athletes/{}/week", athlete(&app).await);
    let mut lines = [""; 7];
    lines[1] = "2 km warm up, 6 x 800 m, 2 km cool down";
    lines[3] = "15 min easy warm-up then 5 x 1 km, 10 min cd";
    let page = app.follow(&send(&app, &path, lines, "", "0").await).await;
    assert_eq!(page.text("#tue-reading"), "intervals 8.8 km: 6 × 800 m (2 km warm up, 2 km cool down)");
    assert_eq!(page.value("thu"), "15 min easy warm-up then 5 x 1 km, 10 min cd, 9.5 km", "at the athlete's easy pace");
    lines[3] = "15 min easy warm-up then 5 x 1 km, 10 min cd, 9.5 km";
    let page = send(&app, &format!("{path}/preview"), lines, "", "0").await;
    assert_eq!(page.text("#thu-reading"), "intervals 9.5 km: 5 × 1 km (15 min easy warm-up, 10 min cd)");
    lines[3] = "15 min easy warm-up then 5 x 1 km, 10 min cd, 11";
    let page = app.follow(&send(&app, &path, lines, "", "1").await).await;
    assert_eq!(page.value("tue"), lines[1]);
    assert_eq!(page.text("#thu-reading"), "intervals 11 km: 5 × 1 km (15 min easy warm-up, 10 min cd)");
}

#[tokio::test]
async fn every_example_on_the_page_can_be_typed() {
    let app = TestApp::new().await;
    let path = format!("/athletes/{}/week", athlete(&app).await);
    for example in app.get(&path).await.texts(".examples code") {
        let mut lines = [""; 7];
        lines[1] = &example;
        let page = send(&app, &format!("{path}/preview"), lines, "", "0").await;
        assert_eq!(page.count(".error-summary"), 0, "{example}");
    }
}

#[tokio::test]
async fn a_saved_week_is_shown_as_typed_with_its_reading_and_totals() {
    let app = TestApp::new().await;
    let path = format!("/athletes/{}/week", athlete(&app).await);
    let page = app.follow(&send(&app, &path, WEEK, "46-48", "0").await).await;
    assert!(page.text(".notice p:first-child").starts_with("Base week saved."));
    for (day, line) in DAYS.into_iter().zip(WEEK) {
        assert_eq!(page.value(day), line);
    }
    assert_eq!(page.text("#mon-reading"), "rest");
    assert_eq!(page.text("#tue-reading"), "intervals 10 km: 6 × 800 m 10k pace, 90 s jog");
    assert_eq!(page.text("#wed-reading"), "easy 7–9 km");
    assert_eq!(
        page.text("#totals"),
        "46–50 km on 5 running days if each day is added up; the week as a whole 46–48 km; 18% of it hard."
    );
}

#[tokio::test]
async fn reading_it_saves_nothing() {
    let app = TestApp::new().await;
    let path = format!("/athletes/{}/week", athlete(&app).await);
    let page = send(&app, &format!("{path}/preview"), WEEK, "", "0").await;
    assert_eq!((page.status, page.text("#sat-reading").as_str()), (StatusCode::OK, "easy 7 km"));
    assert_eq!(page.value("version"), "0");
    assert_eq!(app.get(&path).await.value("sat"), "");
}

#[tokio::test]
async fn lines_that_cannot_be_read_are_kept_and_each_is_said_at_its_day() {
    let app = TestApp::new().await;
    let path = format!("/athletes/{}/week", athlete(&app).await);
    let page = send(&app, &path, ["7 furlongs", "tempo 5 km, hard 9", "", "", "", "1e3", "8"], "lots", "0").await;
    assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert_eq!(page.value("mon"), "7 furlongs");
    assert_eq!(page.value("range"), "lots");
    for day in ["mon", "tue", "sat"] {
        assert_eq!(page.count(&format!("#{day}[aria-invalid=true]")), 1, "{day}");
        let full = page.text(&format!("#{day}-errors p")).replace("!Error: ", "");
        let brief = page.text(&format!(".error-summary a[href='#{day}']"));
        // Beside lines that are offered, what would be right need not be said.
        let offers = page.count(&format!("#{day}-reading .offers")) > 0;
        assert!(full.starts_with(&brief) && (full == brief) == offers, "{brief}: {full}");
    }
    assert_eq!(page.count("#range-errors"), 1);
    assert!(page.text("#totals").ends_with("Days that cannot be read yet are not counted."));
    assert!(page.text("title").starts_with("Error: "));
    assert_eq!(app.get(&path).await.value("sun"), "");
}

#[tokio::test]
async fn a_stale_save_shows_both_weeks() {
    let app = TestApp::new().await;
    let path = format!("/athletes/{}/week", athlete(&app).await);
    send(&app, &path, WEEK, "", "0").await.location();
    let mut mine = WEEK;
    mine[6] = "long 18";
    let page = send(&app, &path, mine, "", "0").await;
    assert_eq!(page.status, StatusCode::CONFLICT);
    assert_eq!(page.text("tr.differs .kept"), "long 14-16");
    assert_eq!(page.value("sun"), "long 18");
    send(&app, &path, mine, "", &page.value("version")).await.location();
    assert_eq!(app.get(&path).await.value("sun"), "long 18");
}

#[tokio::test]
async fn the_form_of_seven_days_shows_the_lines_and_writes_lines() {
    let app = TestApp::new().await;
    let path = format!("/athletes/{}/week", athlete(&app).await);
    let mut lines = WEEK;
    lines[0] = "tempo or hills 9";
    send(&app, &path, lines, "", "0").await.location();
    let form = app.get(&format!("{path}/form")).await;
    assert_eq!(form.value("mon-line"), "tempo or hills 9");
    assert_eq!(
        (form.value("tue-1-kind"), form.value("tue-1-amount"), form.value("tue-1-unit")),
        ("intervals".into(), "10".into(), "km".into())
    );
    assert_eq!(form.value("tue-1-sets"), "6 × 800 m 10k pace, 90 s jog");
    assert_eq!((form.value("fri-1-kind"), form.value("fri-1-unit")), ("strength".into(), "min".into()));
    let version = form.value("version");
    let fields = [
        ("version", version.as_str()),
        ("mon-line", "tempo or hills 9"),
        ("tue-1-kind", "intervals"),
        ("tue-1-amount", "11-12"),
        ("tue-1-unit", "km"),
        ("tue-1-sets", "6 × 800 m 10k pace, 90 s jog"),
        ("wed-1-kind", "easy"),
        ("wed-1-amount", "7-9"),
        ("wed-1-unit", "km"),
        ("fri-1-kind", "strength"),
        ("fri-1-amount", "30"),
        ("fri-1-unit", "min"),
        ("fri-1-loaded", "yes"),
        ("fri-2-amount", "5"),
        ("fri-2-unit", "mi"),
        ("fri-2-note", "with dog (brown)"),
    ];
    let page = app.follow(&app.post(&format!("{path}/form"), &fields).await).await;
    assert_eq!(page.value("mon"), "tempo or hills 9");
    assert_eq!(page.value("tue"), "6 x 800 m 10k pace, 90 s jog, 11-12 km");
    assert_eq!(page.value("wed"), "7-9", "what did not change keeps its words");
    assert_eq!(page.value("fri"), "strength 30 min loaded + easy 5 mi (with dog (brown))");
    assert_eq!(page.value("sun"), "");
}

#[tokio::test]
async fn the_form_of_seven_days_keeps_what_is_wrong_and_says_it_at_the_day() {
    let app = TestApp::new().await;
    let path = format!("/athletes/{}/week/form", athlete(&app).await);
    let fields = [
        ("version", "0"),
        ("thu-2-kind", "tempo"),
        ("thu-2-amount", "ten"),
        ("thu-2-unit", "km"),
        ("sat-1-kind", "easy"),
    ];
    let page = app.post(&path, &fields).await;
    assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert_eq!((page.value("thu-2-kind"), page.value("thu-2-amount")), ("tempo".into(), "ten".into()));
    assert_eq!(page.count("#thu-errors p"), 1);
    assert_eq!(page.count("#sat-errors p"), 1, "a run without an amount");
    assert_eq!(page.count(".error-summary a[href='#thu']"), 1);
}

#[tokio::test]
async fn the_form_of_seven_days_keeps_a_session_with_one_answer_as_that_too() {
    let app = TestApp::new().await;
    let path = format!("/athletes/{}/week", athlete(&app).await);
    let fields =
        [("version", "0"), ("tue-1-kind", "intervals"), ("tue-1-sets", "6 x 800 m"), ("thu-line", "8 km HR<140")];
    let page = app.follow(&app.post(&format!("{path}/form"), &fields).await).await;
    assert_eq!((page.value("tue").as_str(), page.value("thu").as_str()), ("6 x 800 m, 9 km", "easy 8 km (HR<140)"));
    assert_eq!(page.texts(".week-day.is-settled label"), ["Tuesday", "Thursday"]);
}

#[tokio::test]
async fn a_week_without_an_athlete_is_not_found() {
    let app = TestApp::new().await;
    for path in ["/athletes/9/week", "/athletes/9/week/form"] {
        assert_eq!(app.get(path).await.status, StatusCode::NOT_FOUND);
        assert_eq!(app.post(path, &[]).await.status, StatusCode::NOT_FOUND);
    }
}

/// A second week beside a first, on 5 May 2027, a Wednesday.
fn with_second<'a>(stands_on: &'a str, version: &'a str) -> Vec<(&'a str, &'a str)> {
    let mut fields: Vec<(&str, &str)> = DAYS.into_iter().zip(WEEK).collect();
    fields.extend([("second-tue", "6"), ("second-sat", "5"), ("second-sun", "long 11"), ("stands_on", stands_on)]);
    fields.push(("version", version));
    fields
}

#[tokio::test]
async fn a_second_week_is_kept_and_the_page_says_which_of_the_two_stands() {
    let app = TestApp::on("2027-05-05").await;
    let athlete = athlete(&app).await;
    let path = format!("/athletes/{athlete}/week");
    let empty = app.get(&path).await;
    assert_eq!(empty.count("details.second-week[open]"), 0, "closed where there is none");
    assert_eq!(empty.attributes("input[name=stands_on]", "value"), ["2027-05-03", "2027-05-10"]);
    assert_eq!(empty.attribute("input[name=stands_on][checked]", "value"), "2027-05-10");

    let page = app.follow(&app.post(&path, &with_second("2027-05-03", "0")).await).await;
    assert_eq!(page.count("details.second-week[open]"), 1);
    assert_eq!((page.value("second-sun").as_str(), page.value("sun").as_str()), ("long 11", "long 14-16"));
    assert_eq!(page.text("#second-sun-reading"), "long run 11 km");
    assert_eq!(
        page.text("#second-totals"),
        "22 km on 3 running days; none of it hard. In the mean 35 km a week. In this calendar week, from Monday 3 May, the \
         second week stands; in the next one the first."
    );
    assert_eq!(page.attribute("input[name=stands_on][checked]", "value"), "2027-05-03");
    let shown = app.get(&format!("/athletes/{athlete}")).await;
    assert!(shown.text("main").contains("Second week: 22 km on 3 running days"), "{}", shown.text("main"));
}

#[tokio::test]
async fn a_second_week_goes_where_all_its_lines_are_empty() {
    let app = TestApp::on("2027-05-05").await;
    let path = format!("/athletes/{}/week", athlete(&app).await);
    app.post(&path, &with_second("2027-05-03", "0")).await.location();
    let mut fields: Vec<(&str, &str)> = DAYS.into_iter().zip(WEEK).collect();
    fields.extend([("stands_on", "2027-05-03"), ("version", "1")]);
    let page = app.follow(&app.post(&path, &fields).await).await;
    assert_eq!((page.count("details.second-week[open]"), page.value("second-sun").as_str()), (0, ""));
}

#[tokio::test]
async fn what_is_wrong_with_a_second_week_is_said_at_its_place_and_nothing_typed_is_lost() {
    let app = TestApp::on("2027-05-05").await;
    let path = format!("/athletes/{}/week", athlete(&app).await);
    let mut fields = with_second("2027-05-04", "0");
    fields.extend([("second-wed", "7 furlongs"), ("since", "spring"), ("recent", "many")]);
    let page = app.post(&path, &fields).await;
    assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert_eq!(page.count("details.second-week[open]"), 1);
    for (control, kept) in [("second-wed", "7 furlongs"), ("since", "spring"), ("recent", "many"), ("second-sat", "5")]
    {
        assert_eq!(page.value(control), kept, "{control}");
    }
    let links = page.attributes(".error-summary a", "href");
    assert_eq!(links, ["#second-wed", "#stands_on", "#recent", "#since"], "in the order of the page");
    assert!(page.text("#stands_on-errors").contains("Tuesday 4 May 2027 is no Monday; give a Monday"));
    assert_eq!(app.get(&path).await.value("sun"), "", "nothing was saved");

    let only_rest = [("second-mon", "rest"), ("stands_on", "2027-05-03"), ("version", "0"), ("mon", "8")];
    let page = app.post(&path, &only_rest).await;
    assert!(page.text("#second-mon-errors").contains("there is no running on any day"));
}

#[tokio::test]
async fn a_stale_save_shows_both_second_weeks() {
    let app = TestApp::on("2027-05-05").await;
    let path = format!("/athletes/{}/week", athlete(&app).await);
    app.post(&path, &with_second("2027-05-03", "0")).await.location();
    let mut mine = with_second("2027-05-10", "0");
    mine.extend([("second-mon", "4"), ("since", "2027-03-01"), ("recent", "40, 41")]);
    let page = app.post(&path, &mine).await;
    assert_eq!(page.status, StatusCode::CONFLICT);
    for (control, typed) in
        [("second-mon", "4"), ("stands_on", "2027-05-10"), ("since", "2027-03-01"), ("recent", "40, 41")]
    {
        assert_eq!(page.value(control), typed);
    }
    let version = page.value("version");
    let again: Vec<(&str, &str)> =
        mine.iter().map(|(name, value)| (*name, if *name == "version" { version.as_str() } else { value })).collect();
    let page = app.follow(&app.post(&path, &again).await).await;
    assert_eq!((page.value("second-mon"), page.value("since")), ("4".to_owned(), "2027-03-01".to_owned()));
}

#[tokio::test]
async fn the_form_of_seven_days_leaves_the_second_week_and_the_rest_as_they_are() {
    let app = TestApp::on("2027-05-05").await;
    let path = format!("/athletes/{}/week", athlete(&app).await);
    let mut fields = with_second("2027-05-03", "0");
    fields.push(("since", "2027-03-01"));
    app.post(&path, &fields).await.location();
    let form = [("version", "1"), ("sat-1-kind", "easy"), ("sat-1-amount", "9"), ("sat-1-unit", "km")];
    let page = app.follow(&app.post(&format!("{path}/form"), &form).await).await;
    assert_eq!((page.value("sat"), page.value("sun")), ("easy 9 km".to_owned(), String::new()));
    assert_eq!((page.value("second-sun"), page.value("since")), ("long 11".to_owned(), "2027-03-01".to_owned()));
}

#[tokio::test]
async fn a_week_is_fitted_to_what_is_typical_and_saved_only_when_the_coach_saves() {
    let app = TestApp::on("2027-05-05").await;
    let path = format!("/athletes/{}/week", athlete(&app).await);
    let mut fields: Vec<(&str, &str)> = DAYS.into_iter().zip(WEEK).collect();
    fields.extend([("version", "0"), ("recent", "58, 62, 47, 68, 60, 61")]);
    let read = app.post(&format!("{path}/preview"), &fields).await;
    assert_eq!(
        read.text("#typical p:first-child"),
        "Typical of these 6 weeks is 60.5 km, the middle one by size: not the highest, 68 km, and not the lowest, 47 km. The \
         base week as typed holds 48 km."
    );
    assert_eq!(read.text("#typical button"), "Fit the lines to 60.5 km");

    let page = app.post(&read.attribute("#typical button", "formaction"), &fields).await;
    assert_eq!(page.status, StatusCode::OK);
    assert!(page.text(".notice").starts_with("The lines are fitted to 60.5 km"), "{}", page.text(".notice"));
    assert_eq!((page.value("fri").as_str(), page.value("mon").as_str()), ("strength 30", ""), "words that stay");
    // Runs of this size are written in whole kilometres: 61 in the middle is as near to 60.5 as any week comes.
    assert!(page.text("#totals").starts_with("59–63 km on 5 running days"), "{}", page.text("#totals"));
    assert_eq!(page.value("recent"), "58, 62, 47, 68, 60, 61", "the choice stays on the page");
    assert_eq!(app.get(&path).await.value("sun"), "", "nothing was saved");

    let sent: Vec<(&str, String)> = DAYS.into_iter().map(|day| (day, page.value(day))).collect();
    let mut sent: Vec<(&str, &str)> = sent.iter().map(|(day, line)| (*day, line.as_str())).collect();
    sent.push(("version", "0"));
    let kept = app.follow(&app.post(&path, &sent).await).await;
    assert_eq!((kept.value("sun"), kept.value("recent")), (page.value("sun"), String::new()));
}

#[tokio::test]
async fn weeks_that_cannot_be_compared_or_are_near_are_only_said() {
    let app = TestApp::on("2027-05-05").await;
    let id = app.post("/athletes", &[("name", "Bo"), ("units", "km")]).await.new_id();
    let preview = format!("/athletes/{id}/week/preview");
    let near = app.post(&preview, &[("mon", "20"), ("thu", "20"), ("recent", "40")]).await;
    assert_eq!(near.text("#typical"), "The one week given is 40 km. The base week as typed holds 40 km.");
    let mixed = app.post(&preview, &[("mon", "20"), ("thu", "50 min"), ("recent", "60 km, 70 km")]).await;
    assert!(mixed.text("#typical").contains("only with a pace of easy running"), "{}", mixed.text("#typical"));
    assert_eq!(near.count("#typical button") + mixed.count("#typical button"), 0);
    let timed = app.post(&preview, &[("mon", "50 min"), ("thu", "50 min"), ("recent", "120, 140")]).await;
    assert_eq!(timed.text("#typical button"), "Fit the lines to 130 min");
}

#[tokio::test]
async fn another_athletes_week_is_taken_fitted_and_saved_only_when_the_coach_saves() {
    let app = TestApp::new().await;
    app.ana().await;
    let id = app.post("/athletes", &[("name", "Bo"), ("units", "km")]).await.new_id();
    let borrow = format!("/athletes/{id}/week/borrow");
    let page = app.post(&borrow, &[("version", "0"), ("borrow_from", "exemplo"), ("borrow_total", "32")]).await;
    assert_eq!(page.status, StatusCode::OK);
    assert!(page.text(".notice").starts_with("The week of Ana Exemplo, fitted to 32 km,"), "{}", page.text(".notice"));
    assert!(page.text("#totals").starts_with("32 km on 6 running days"), "{}", page.text("#totals"));
    assert!(page.value("wed").ends_with("+ strength 30 min"), "{}", page.value("wed"));
    assert_eq!(page.value("fri"), "");
    assert_eq!(app.get(&format!("/athletes/{id}/week")).await.value("sun"), "", "nothing was saved");
    // Without a total it is the week as it is, in the units in which it was typed.
    let page = app.post(&borrow, &[("borrow_from", "Ana Exemplo")]).await;
    assert_eq!((page.value("mon").as_str(), page.value("sun").as_str()), ("easy 8 km", "long 18 km"));
}

#[tokio::test]
async fn whose_week_to_take_is_asked_until_one_fits() {
    let app = TestApp::new().await;
    app.ana().await;
    app.add_athlete("Ana Outra", planning::DistanceUnit::Km).await;
    let id = app.post("/athletes", &[("name", "Bo"), ("units", "km")]).await.new_id();
    let borrow = format!("/athletes/{id}/week/borrow");
    for (from, total, field, part) in [
        ("", "", "borrow_from", "Type whose week to take"),
        ("Zoe", "", "borrow_from", "No other athlete is called \u{201c}Zoe\u{201d}."),
        ("Bo", "", "borrow_from", "No other athlete is called"),
        ("ana", "", "borrow_from", "fits 2 athletes: Ana Exemplo, Ana Outra."),
        ("Ana Outra", "", "borrow_from", "Ana Outra has no base week with running yet."),
        ("Ana Exemplo", "lots", "borrow_total", "lots"),
    ] {
        let page = app.post(&borrow, &[("mon", "7"), ("borrow_from", from), ("borrow_total", total)]).await;
        assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY, "{from}");
        assert_eq!(page.attribute(".error-summary li a", "href"), format!("#{field}"), "{from}");
        assert!(page.text(".error-summary li").contains(part), "{}", page.text(".error-summary li"));
        assert_eq!((page.value("mon"), page.value("borrow_from")), ("7".to_owned(), from.to_owned()));
    }
}

#[tokio::test]
async fn a_saved_week_leads_on_to_a_race_then_to_its_block_then_to_the_block_as_it_stands() {
    let app = TestApp::new().await;
    let id = athlete(&app).await;
    let path = format!("/athletes/{id}/week");
    let page = app.follow(&send(&app, &path, WEEK, "", "0").await).await;
    assert_eq!(page.text(".notice p:first-child"), "Base week saved. Next: a race to plan for.");
    assert_eq!(page.attributes(".notice a", "href"), [format!("/races/new?athlete={id}")], "there is no race yet");
    let mill = app.add_race("Mill Mile", "2027-06-06", planning::RaceDistance::FiveK).await;
    let page = app.follow(&send(&app, &path, WEEK, "", &page.value("version")).await).await;
    assert_eq!(page.text(".notice .actions a:last-child"), "Enter Ana in a race of the squad");
    let fields = [("race", mill.to_string()), ("importance", "tune-up".to_owned())];
    let fields = fields.each_ref().map(|(name, value)| (*name, value.as_str()));
    app.post(&format!("/athletes/{id}/enter"), &fields).await.location();
    let page = app.follow(&send(&app, &path, WEEK, "", &page.value("version")).await).await;
    assert_eq!(
        page.text(".notice p:first-child"),
        "Base week saved. Next: a race to plan for.",
        "no block leads to it"
    );
    let river = app.add_race("River Ten", "2027-05-09", planning::RaceDistance::TenK).await;
    let fields = [("race", river.to_string()), ("importance", "goal".to_owned())];
    let fields = fields.each_ref().map(|(name, value)| (*name, value.as_str()));
    app.post(&format!("/athletes/{id}/enter"), &fields).await.location();
    let page = app.follow(&send(&app, &path, WEEK, "", &page.value("version")).await).await;
    assert_eq!(page.text(".notice p:first-child"), "Base week saved. Next: the block for River Ten.");
    let race = page.attribute(".notice input[name=race]", "value");
    let block = app.post(&page.attribute(".notice form", "action"), &[("race", &race)]).await;
    let page = app.follow(&send(&app, &path, WEEK, "", &page.value("version")).await).await;
    assert!(page.text(".notice p:first-child").starts_with("Base week saved. The block for River Ten stays as it is"));
    assert_eq!(page.attribute(".notice a", "href"), block.location());
}

#[tokio::test]
async fn another_week_is_offered_as_a_start_only_where_somebody_else_has_one() {
    let app = TestApp::new().await;
    let ana = app.ana().await.athlete;
    let path = format!("/athletes/{ana}/week");
    assert_eq!(app.get(&path).await.count(".borrow-week"), 0, "nobody else is there");
    app.add_athlete("Rui Exemplo", planning::DistanceUnit::Km).await;
    assert_eq!(app.get(&path).await.count(".borrow-week"), 1);
}

/// Presses the nth button that is offered at a day: the whole form with the line of that button.
async fn press(app: &TestApp, page: &Answer, button: &str) -> Answer {
    let mut fields = page.filled("form.week");
    fields.push((page.attribute(button, "name"), page.attribute(button, "value")));
    let fields: Vec<(&str, &str)> = fields.iter().map(|(name, value)| (name.as_str(), value.as_str())).collect();
    let action = page.attribute(button, "formaction");
    app.post(action.split('#').next().unwrap_or_default(), &fields).await
}

#[tokio::test]
async fn every_refused_line_of_a_week_offers_lines_that_one_press_takes() {
    let app = TestApp::new().await;
    let path = format!("/athletes/{}/week", athlete(&app).await);
    let week = ["45 easy", "6 x 800 m", "10 km with hills", "6/8", "tempo", "7", "long 16 km HR<140"];
    let page = send(&app, &path, week, "", "0").await;
    assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert_eq!(page.count(".week-day .field-errors"), 4, "all that are to be chosen are marked at once");
    let offered = |day: &str| page.texts(&format!("#{day}-reading .offers li"));
    assert_eq!(offered("mon"), ["Take 45 min easy Easy 45 min.", "Take 45 km easy Easy 45 km."]);
    assert_eq!(
        page.text("#tue-reading"),
        "intervals 9 km: 6 × 800 m Kept as: 6 x 800 m, 9 km. The length of the whole run is an estimate; put in your own if \
         you know it."
    );
    assert_eq!(
        offered("wed"),
        [
            "Take hills 10 km Hills 10 km, about 3 km hard (assumed).",
            "Take easy 10 km (\"hills\") Easy 10 km (hills). Nothing of it counts as hard."
        ]
    );
    assert!(offered("fri")[0].contains("How much is run is a guess"), "{:?}", offered("fri"));
    assert_eq!(page.count("#sat-reading .offers"), 0, "what is read offers nothing");

    let taken = press(&app, &page, "#wed-reading .offers li:last-child button").await;
    assert_eq!((taken.status, taken.value("wed").as_str()), (StatusCode::OK, "easy 10 km (\"hills\")"));
    assert_eq!(taken.text("#wed-reading"), "easy 10 km (hills)");
    assert!(taken.text(".notice").starts_with("Taken as offered. Nothing is saved yet"));
    assert_eq!(taken.value("tue"), "6 x 800 m", "the others stay as typed");
    assert_eq!(app.get(&path).await.value("wed"), "", "nothing was saved");
}

#[tokio::test]
async fn a_line_with_one_answer_is_saved_as_that_and_the_page_says_so() {
    let app = TestApp::new().await;
    let path = format!("/athletes/{}/week", athlete(&app).await);
    let week = ["45 easy", "6 x 800 m", "rest", "6-8", "tempo 8", "7 km HR<130", "long 16"];
    let refused = send(&app, &path, week, "", "0").await;
    assert_eq!(refused.count(".week-day .field-errors"), 1, "of two meanings only the coach can choose");
    assert_eq!((refused.value("tue").as_str(), refused.value("sat").as_str()), ("6 x 800 m", "7 km HR<130"));

    let week = ["45 min easy", "6 x 800 m", "rest", "6-8", "tempo 8", "7 km HR<130", "long 16"];
    let page = app.follow(&send(&app, &path, week, "", "0").await).await;
    let said = "Base week saved. Tuesday and Saturday are kept as they were read: look at them. Next:";
    assert!(page.text(".notice").starts_with(said), "{}", page.text(".notice"));
    assert_eq!((page.value("tue").as_str(), page.value("sat").as_str()), ("6 x 800 m, 9 km", "easy 7 km (HR<130)"));
    assert_eq!(page.texts(".week-day.is-settled label"), ["Tuesday", "Saturday"]);
    assert_eq!(app.get(&path).await.count(".is-settled"), 0, "said once");
}

#[tokio::test]
async fn a_line_of_the_second_week_with_one_answer_is_saved_so_too() {
    let app = TestApp::on("2027-05-05").await;
    let path = format!("/athletes/{}/week", athlete(&app).await);
    let mut fields = with_second("2027-05-03", "0");
    fields.retain(|(name, _)| *name != "second-wed");
    fields.push(("second-wed", "7 km HR<130"));
    let page = app.follow(&app.post(&path, &fields).await).await;
    let said = "Base week saved. Wednesday of the second week is kept as it was read: look at it.";
    assert!(page.text(".notice").starts_with(said), "{}", page.text(".notice"));
    assert_eq!(page.value("second-wed"), "easy 7 km (HR<130)");
}

#[tokio::test]
async fn a_second_week_offers_its_lines_too() {
    let app = TestApp::on("2027-05-05").await;
    let path = format!("/athletes/{}/week", athlete(&app).await);
    let mut fields = with_second("2027-05-03", "0");
    fields.push(("second-wed", "6/8"));
    let page = app.post(&path, &fields).await;
    let taken = press(&app, &page, "#second-wed-reading .offers button").await;
    assert_eq!(
        (taken.value("second-wed").as_str(), taken.text("#second-wed-reading").as_str()),
        ("6-8", "easy 6–8 km")
    );
}

#[tokio::test]
async fn enter_saves_and_presses_no_other_button() {
    let app = TestApp::new().await;
    let page = app.get(&format!("/athletes/{}/week", athlete(&app).await)).await;
    // The first button is the one that Enter presses.
    assert_eq!(page.attribute("form.week button", "class"), "unseen");
    assert_eq!(page.count("form.week button.unseen[name]"), 0, "it takes no line");
}

#[tokio::test]
async fn what_a_line_seems_to_say_and_does_not_is_told_beside_its_reading() {
    let app = TestApp::new().await;
    let path = format!("/athletes/{}/week", athlete(&app).await);
    let week = ["off (mobility at home)", "rest (travel)", "7", "long 22, last 4 km steady", "steady 8", "", ""];
    let page = send(&app, &format!("{path}/preview"), week, "", "0").await;
    assert_eq!(page.text("#mon-reading"), "rest (mobility at home)");
    assert_eq!(page.text("#tue-reading"), "rest (travel)");
    assert!(page.text("#thu-reading").contains("not counted as hard"), "{}", page.text("#thu-reading"));
    assert_eq!(page.text("#fri-reading"), "steady 8 km");
}
