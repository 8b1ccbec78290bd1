//! The athletes: list, page, form, removal.

use axum::http::StatusCode;
use ebbline_tests::{Answer, TestApp};

async fn add(app: &TestApp, name: &str) -> i64 {
    app.post("/athletes", &[("name", name), ("units", "km")]).await.new_id()
}

fn full<'a>() -> Vec<(&'a str, &'a str)> {
    vec![
        ("once", "018f3b7a-2f6e-7c1e-9d55-6d2f4f1c2a10"),
        ("name", "Ana Ferreira"),
        ("group", "Track"),
        ("units", "mi"),
        ("easy_pace", "9:15"),
        ("birth_year", "1988"),
        ("cautions", "left knee\r\n\r\nasthma"),
        ("recent_results", "2027-03-14 10k 42:10 (windy)\r\n2027-01-02 5k 20:05"),
        ("suits_days", "11"),
        ("suits_day_before", "shake-out"),
        ("suits_extra_rest", "fri"),
        ("weight", "140.5 lb"),
        ("notes", "Likes\r\nhills"),
    ]
}

fn with<'a>(mut fields: Vec<(&'a str, &'a str)>, name: &str, value: &'a str) -> Vec<(&'a str, &'a str)> {
    for field in &mut fields {
        if field.0 == name {
            field.1 = value;
        }
    }
    fields
}

#[tokio::test]
async fn the_list_of_an_empty_squad_says_what_to_do_next() {
    let app = TestApp::new().await;
    let page = app.get("/athletes").await;
    assert!(page.text(".empty").contains("Start with one athlete"));
    assert_eq!(page.attribute(".page-head a.button", "href"), "/athletes/new");
}

#[tokio::test]
async fn an_added_athlete_has_a_page_with_every_fact_and_the_next_step() {
    let app = TestApp::new().await;
    let page = app.follow(&app.post("/athletes", &full()).await).await;
    assert_eq!(page.text("h1"), "Ana Ferreira");
    let notice = page.text(".notice p");
    assert!(notice.starts_with("Athlete added. Your own pages count in the same units now;"), "in miles: {notice}");
    assert!(notice.ends_with("Next: type the base week."), "{notice}");
    let second = app.follow(&app.post("/athletes", &[("name", "Bo"), ("units", "mi")]).await).await;
    assert_eq!(second.text(".notice p"), "Athlete added. Next: type the base week.");
    assert_eq!(page.texts(".facts dd"), ["miles", "9:15 for a mile", "1988"]);
    assert_eq!(page.texts(".cautions li"), ["left knee", "asthma"]);
    assert_eq!(page.text(".typed"), "Likes hills");
    assert!(page.text("section[aria-labelledby=week]").contains("No base week yet"));
    assert_eq!(
        page.texts("section[aria-labelledby=suits] li"),
        ["A block of 11 days", "A shake-out run on the day before the race", "The extra rest day on a Friday"]
    );
}

#[tokio::test]
async fn sending_the_form_twice_adds_one_athlete() {
    let app = TestApp::new().await;
    let (first, second) = (app.post("/athletes", &full()).await, app.post("/athletes", &full()).await);
    assert_eq!(first.location(), second.location());
    assert_eq!(app.get("/athletes").await.count("tbody tr"), 1);
}

#[tokio::test]
async fn everything_wrong_is_said_at_once_and_everything_typed_is_kept() {
    let app = TestApp::new().await;
    let fields =
        with(with(with(with(full(), "name", "  "), "easy_pace", "quick"), "birth_year", "eighty"), "suits_days", "90");
    let page = app.post("/athletes", &fields).await;
    assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY);
    let ids = ["#easy_pace", "#birth_year", "#name", "#suits_days"];
    for id in ids {
        assert_eq!(page.count(&format!(".error-summary a[href='{id}']")), 1, "{id}");
        assert_eq!(page.count(&format!("{id}[aria-invalid=true]")), 1, "{id}");
    }
    assert_eq!(page.count(".error-summary li"), ids.len());
    assert_eq!(page.value("easy_pace"), "quick");
    assert_eq!(page.value("birth_year"), "eighty");
    assert_eq!(page.value("notes"), "Likes\nhills");
    assert_eq!(page.value("suits_extra_rest"), "fri");
    assert!(page.text("title").starts_with("Error: "));
    assert_eq!(app.get("/athletes").await.count("tbody tr"), 0);
}

#[tokio::test]
async fn a_change_comes_back_as_typed() {
    let app = TestApp::new().await;
    let id = app.post("/athletes", &full()).await.new_id();
    let form = app.get(&format!("/athletes/{id}/edit")).await;
    for (name, value) in full() {
        if name != "once" {
            assert_eq!(form.value(name), value.replace("\r\n\r\n", "\n").replace("\r\n", "\n"), "{name}");
        }
    }
    let version = form.value("version");
    let mut fields = with(full(), "easy_pace", "5:45/km");
    fields.push(("version", &version));
    let page = app.follow(&app.post(&format!("/athletes/{id}"), &fields).await).await;
    assert_eq!(page.text(".notice p"), "Athlete saved.");
    assert_eq!(app.get(&format!("/athletes/{id}/edit")).await.value("easy_pace"), "5:45/km");
}

#[tokio::test]
async fn a_stale_save_shows_both_versions() {
    let app = TestApp::new().await;
    let id = app.post("/athletes", &full()).await.new_id();
    let path = format!("/athletes/{id}");
    let version = app.get(&format!("{path}/edit")).await.value("version");
    let stale = |group| {
        let mut fields = with(full(), "group", group);
        fields.push(("version", version.as_str()));
        fields
    };
    app.post(&path, &stale("Road")).await.location();
    let page = app.post(&path, &stale("Trail")).await;
    assert_eq!(page.status, StatusCode::CONFLICT);
    assert_eq!(page.text("tr:has(#group) .kept"), "Road");
    assert_eq!(page.value("group"), "Trail");
    assert_eq!(page.value("cautions"), "left knee\n\nasthma");
    let newer = page.value("version");
    let mut fields = with(full(), "group", "Trail");
    fields.push(("version", newer.as_str()));
    let page = app.follow(&app.post(&path, &fields).await).await;
    assert_eq!(page.text(".eyebrow"), "Trail");
}

#[tokio::test]
async fn names_of_every_script_are_isolated_and_never_markup() {
    let app = TestApp::new().await;
    for (typed, shown) in [
        ("O'Neil-Šťastný", "O'Neil-Šťastný"),
        ("نور علي", "نور علي"),
        ("A\u{202E}gnik", "Agnik"),
        ("\u{2069}\u{202E}Jamie", "Jamie"),
        ("👩🏽‍🦽 Ana", "👩🏽‍🦽 Ana"),
        ("<b>x</b>", "<b>x</b>"),
    ] {
        let id = add(&app, typed).await;
        let page = app.get(&format!("/athletes/{id}")).await;
        assert_eq!(page.text("h1 bdi"), shown);
        assert_eq!(page.count("h1 b"), 0);
    }
    let page = app.post("/athletes", &[("name", &"é".repeat(81))]).await;
    assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY);
    add(&app, &"é".repeat(80)).await;
}

#[tokio::test]
async fn a_removed_athlete_comes_back_by_undo_and_from_the_list() {
    let app = TestApp::new().await;
    let id = add(&app, "Ana").await;
    let page = app.follow(&app.post(&format!("/athletes/{id}/remove"), &[]).await).await;
    assert_eq!(page.count("tbody tr"), 0);
    assert_eq!(app.get(&format!("/athletes/{id}")).await.status, StatusCode::NOT_FOUND);
    let undo = page.attribute(".notice form", "action");
    assert_eq!(undo, format!("/athletes/{id}/restore"));
    let from_list = page.attribute("details form", "action");
    assert_eq!(from_list, undo);
    let page = app.follow(&app.post(&undo, &[]).await).await;
    assert_eq!(page.text("h1"), "Ana");
    assert_eq!(app.get("/athletes").await.count("details"), 0);
}

#[tokio::test]
async fn the_list_is_searched_by_any_part_of_a_name_without_marks() {
    let app = TestApp::new().await;
    add(&app, "Béla Kovács").await;
    add(&app, "Ana").await;
    let names = |page: &Answer| page.texts("tbody th");
    assert_eq!(names(&app.get("/athletes").await), ["Ana", "Béla Kovács"]);
    assert_eq!(names(&app.get("/athletes?text=kovacs").await), ["Béla Kovács"]);
    let page = app.get("/athletes?text=%3Cb%3E").await;
    assert!(page.text(".empty").contains("<b>"));
}

#[tokio::test]
async fn an_address_without_an_athlete_is_our_page_not_found() {
    let app = TestApp::new().await;
    for path in ["/athletes/99", "/athletes/x", "/athletes/99/edit", "/athletes/99999999999999999999"] {
        let page = app.get(path).await;
        assert_eq!((page.status, page.text("h1").as_str()), (StatusCode::NOT_FOUND, "Nothing stands here"), "{path}");
    }
    for path in ["/athletes/99/remove", "/athletes/99/restore", "/athletes/99"] {
        assert_eq!(app.post(path, &full()).await.status, StatusCode::NOT_FOUND, "{path}");
    }
}

#[tokio::test]
async fn the_time_zone_at_home_is_read_in_any_case_kept_and_shown() {
    let app = TestApp::new().await;
    let fields = [("name", "Ana"), ("units", "km"), ("home_zone", "america/new york")];
    let id = app.post("/athletes", &fields).await.new_id();
    assert_eq!(app.get(&format!("/athletes/{id}/edit")).await.value("home_zone"), "America/New_York");
    assert!(app.get(&format!("/athletes/{id}")).await.text("main").contains("America/New_York"));

    let wrong = app.post("/athletes", &[("name", "Bo"), ("units", "km"), ("home_zone", "Mars/Base")]).await;
    assert_eq!((wrong.status, wrong.value("home_zone").as_str()), (StatusCode::UNPROCESSABLE_ENTITY, "Mars/Base"));
    assert!(wrong.text("#home_zone-errors").contains("“Mars/Base” is not a time zone"));
}

#[tokio::test]
async fn both_weeks_that_take_turns_are_shown_with_whose_turn_it_is() {
    let app = TestApp::on("2027-05-05").await;
    let id = app.post("/athletes", &[("name", "Ana"), ("units", "km")]).await.new_id();
    let week = [
        ("version", "0"),
        ("tue", "8"),
        ("sun", "long 16"),
        ("second-sun", "long 12"),
        ("stands_on", "2027-05-10"),
        ("since", "2027-03-01"),
    ];
    app.post(&format!("/athletes/{id}/week"), &week).await.location();
    let page = app.get(&format!("/athletes/{id}")).await;
    assert_eq!(page.texts(".week-lines caption"), ["First week", "Second week"]);
    assert_eq!(page.texts(".week-lines tr:last-child td"), ["long 16", "long 12"]);
    let said = page.text("main");
    assert!(said.contains("In this calendar week, from Monday 3 May, the first week stands"), "{said}");
    assert!(said.contains("Runs like this since Monday 1 March 2027."), "{said}");
}

#[tokio::test]
async fn recent_results_are_kept_as_typed_and_a_line_that_cannot_be_read_is_named() {
    let app = TestApp::new().await;
    let id = app.post("/athletes", &full()).await.new_id();
    let page = app.get(&format!("/athletes/{id}")).await;
    assert_eq!(
        page.texts("section[aria-labelledby=results] li"),
        ["2027-03-14 10k 42:10 (windy)", "2027-01-02 5k 20:05"]
    );
    let typed = "2027-03-14 10k 42:10\n\n2027-01-02 10 20:05\nsoon";
    let page = app.post("/athletes", &with(full(), "recent_results", typed)).await;
    assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert_eq!(page.value("recent_results"), typed);
    let said = page.texts("#recent_results-errors p");
    assert!(said[0].contains("Recent results, line 3, “2027-01-02 10 20:05”: “10” is not a race distance"), "{said:?}");
    assert!(
        said[1].contains(
            "Recent results, line 4, “soon”: the date, the distance and the time are missing; write all three"
        ),
        "{said:?}"
    );
    assert_eq!(said.len(), 2);
    // Today is 20 April 2027.
    let typed = "11 Oct 10k 49:30\n14 April: 5k 23:10";
    let mut fields = with(full(), "recent_results", typed);
    let version = app.get(&format!("/athletes/{id}/edit")).await.value("version");
    fields.push(("version", &version));
    let page = app.follow(&app.post(&format!("/athletes/{id}"), &fields).await).await;
    let dated = ["11 Oct 2026 10k 49:30", "14 April 2027: 5k 23:10"];
    assert_eq!(page.texts("section[aria-labelledby=results] li"), dated);
}

#[tokio::test]
async fn a_weight_is_in_the_unit_of_the_country_and_stays_what_it_is_where_units_change() {
    let app = TestApp::new().await;
    let id = app.post("/athletes", &with(full(), "weight", "140.5")).await.new_id();
    let form = format!("/athletes/{id}/edit");
    assert_eq!(app.get(&form).await.value("weight"), "140.5 lb");
    let version = app.get(&form).await.value("version");
    let mut fields = with(with(full(), "units", "km"), "weight", "140.5 lb");
    fields.push(("version", &version));
    app.post(&format!("/athletes/{id}"), &fields).await.location();
    assert_eq!(app.get(&form).await.value("weight"), "63.7 kg");
    assert!(!app.get(&format!("/athletes/{id}")).await.body().contains("63.7"), "others may look on");
    for (weight, said) in [("9", "9 lb cannot be right; between 56 and 551 lb"), ("thin", "“thin” is not a weight")]
    {
        let page = app.post("/athletes", &with(full(), "weight", weight)).await;
        assert_eq!((page.status, page.value("weight").as_str()), (StatusCode::UNPROCESSABLE_ENTITY, weight));
        assert!(page.text("#weight-errors").contains(said), "{}", page.text("#weight-errors"));
    }
}

#[tokio::test]
async fn that_food_is_planned_with_a_professional_is_kept_shown_and_taken_back() {
    let app = TestApp::new().await;
    let mut fields = full();
    fields.push(("fuel_referred", "yes"));
    let id = app.post("/athletes", &fields).await.new_id();
    let form = format!("/athletes/{id}/edit");
    assert_eq!(app.get(&form).await.count("input[name=fuel_referred][checked]"), 1);
    assert!(app.get(&format!("/athletes/{id}")).await.text(".facts").contains("planned with a professional"));
    let version = app.get(&form).await.value("version");
    let mut without = full();
    without.push(("version", &version));
    app.post(&format!("/athletes/{id}"), &without).await.location();
    assert_eq!(app.get(&form).await.count("input[name=fuel_referred][checked]"), 0);
    let mut stale = fields.clone();
    stale.push(("version", &version));
    let page = app.post(&format!("/athletes/{id}"), &stale).await;
    assert_eq!((page.status, page.value("fuel_referred").as_str()), (StatusCode::CONFLICT, "yes"));
    assert_eq!(page.text("tr:has(#fuel_referred) .kept"), "With me");
}

#[tokio::test]
async fn a_length_that_fits_no_block_is_told_with_the_lengths_that_do() {
    let app = TestApp::new().await;
    for days in ["999", "3"] {
        let page = app.post("/athletes", &[("name", "Ana"), ("suits_days", days)]).await;
        assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY);
        assert_eq!(page.value("suits_days"), days);
        let told = page.text("#suits_days-errors p");
        assert!(told.contains(days) && told.ends_with("a number from 4 to 35."), "{told}");
    }
}

#[tokio::test]
async fn what_a_first_block_does_without_is_folded_away_on_the_form_of_a_new_athlete() {
    let app = TestApp::new().await;
    let page = app.get("/athletes/new").await;
    assert_eq!((page.count("details.more"), page.count("details.more[open]")), (1, 0));
    let folded = page.attributes("details.more :is(input, select, textarea)", "name");
    assert_eq!(
        folded,
        [
            "phone",
            "home_zone",
            "suits_days",
            "suits_day_before",
            "suits_extra_rest",
            "weight",
            "fuel_referred",
            "notes"
        ]
    );
    let known = add(&app, "Ana").await;
    assert_eq!(app.get(&format!("/athletes/{known}/edit")).await.count("details.more[open]"), 1);
}

#[tokio::test]
async fn a_form_with_something_folded_away_comes_back_open_where_it_is_wrong_or_was_filled_in() {
    let app = TestApp::new().await;
    for (name, value) in [("weight", "heavy"), ("home_zone", "Moon"), ("notes", "hills")] {
        let page = app.post("/athletes", &[("name", ""), ("units", "km"), (name, value)]).await;
        assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY);
        assert_eq!(page.count("details.more[open]"), 1, "{name}");
    }
    let page = app.post("/athletes", &[("name", ""), ("units", "km")]).await;
    assert_eq!(page.count("details.more[open]"), 0, "only the name is missing");
}

#[tokio::test]
async fn where_no_easy_pace_is_noted_a_result_offers_one_and_saving_it_is_left_to_the_coach() {
    let app = TestApp::on("2027-04-20").await;
    let fields = [("name", "Rui Exemplo"), ("units", "km"), ("recent_results", "10k 40:00 2027-03-14")];
    let id = app.post("/athletes", &fields).await.new_id();
    let path = format!("/athletes/{id}");
    let page = app.get(&path).await;
    let fact = page.texts(".facts dd").into_iter().find(|fact| fact.starts_with("none noted")).unwrap();
    assert!(fact.starts_with("none noted; about 5:15/km, by 10 km in 40:00."), "{fact}");
    let form = app.get(&page.attribute(".facts a", "href")).await;
    assert_eq!(form.value("easy_pace"), "5:15");
    let typed = form.filled("main form");
    let typed: Vec<(&str, &str)> = typed.iter().map(|(name, value)| (name.as_str(), value.as_str())).collect();
    let page = app.follow(&app.post(&path, &typed).await).await;
    assert!(page.texts(".facts dd").contains(&"5:15 for a kilometre".to_owned()), "{:?}", page.texts(".facts dd"));
    assert_eq!(app.get(&format!("{path}/edit?easy_pace=7:00")).await.value("easy_pace"), "5:15", "what is noted stays");
}
