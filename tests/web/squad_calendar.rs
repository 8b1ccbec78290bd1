//! The squad's weeks side by side: blocks, races, recovery, and the ways through them.

use axum::http::StatusCode;
use ebbline_tests::{Answer, Entered, TestApp};
use planning::{DistanceUnit, Importance, RaceDistance};
use store::{AthleteId, BlockId};

/// The words of each week of an athlete, without the weeks in which nothing stands: the week, then the rest.
fn weeks(page: &Answer, athlete: AthleteId) -> Vec<String> {
    page.texts(&format!("tr:has(a[href='/athletes/{athlete}']) td:not(:empty)"))
}

/// Ana's block of two weeks before Harbour 10 on Sunday 9 May.
async fn ana(app: &TestApp) -> (Entered, BlockId) {
    let entered = app.ana().await;
    (entered, app.plan_block(entered).await)
}

#[tokio::test]
async fn a_block_runs_through_its_weeks_to_race_week_and_recovery_comes_after() {
    let app = TestApp::on("2027-04-20").await;
    let (entered, block) = ana(&app).await;
    let page = app.get("/calendar").await;
    assert_eq!(page.status, StatusCode::OK);
    assert_eq!(page.text("h1"), "Calendar");
    assert_eq!(page.text("nav[aria-label=Ebbline] a[aria-current]"), "Calendar");
    assert!(page.text(".page-head .lead").starts_with("19 April to 11 July 2027"));

    let kept = app.store.block(block).await.unwrap().unwrap().block;
    let share =
        |from: &str, to: &str| kept.week_ending(from.parse().unwrap(), to.parse().unwrap()).unwrap().share.percent();
    let (first, race_week) = (share("2027-04-26", "2027-05-02"), share("2027-05-03", "2027-05-09"));
    assert!(race_week < first && first < 100);
    assert_eq!(
        weeks(&page, entered.athlete),
        [
            format!("26 Apr block {first}% of usual, for Harbour 10"),
            format!("3 May race week {race_week}% of usual, for Harbour 10 Harbour 10 10 km, goal, Sun"),
            "10 May recovery after Harbour 10".to_owned(),
        ]
    );
    assert_eq!(page.attribute("td a[href^='/blocks/']", "href"), format!("/blocks/{block}"));
    assert_eq!(page.attribute("td .sc-race a", "href"), format!("/races/{}", entered.race));
    assert_eq!(page.count("td .sc-block"), 2, "the line goes through both weeks");
    // Two lines for the recovery, and two for the way back in the same week.
    assert_eq!((page.count("td .sc-goal"), page.count("td .sc-recovery")), (1, 4));
}

#[tokio::test]
async fn a_race_in_the_middle_of_a_week_has_the_race_week_that_its_block_has() {
    let app = TestApp::on("2027-04-20").await;
    let Entered { athlete, .. } = app.ana().await;
    let race = app.add_race("Midweek Half", "2027-05-19", RaceDistance::Half).await;
    app.store.enter(race, athlete, Importance::Goal, app.now()).await.unwrap();
    let block = app.plan_block(Entered { athlete, race }).await;
    let told = app.get(&format!("/blocks/{block}")).await.texts(".week-sentence");
    let share = |week: &str| {
        let words: Vec<&str> = week.split(' ').collect();
        words.iter().position(|word| *word == "of").map(|at| words[at - 1].to_owned()).unwrap()
    };
    let race_week = share(told.last().unwrap());
    let page = app.get("/calendar").await;
    let cell = weeks(&page, athlete).into_iter().find(|week| week.contains("Midweek Half Midweek")).unwrap();
    assert!(cell.contains(&format!("race week {race_week} of usual")), "{cell}: {told:?}");
}

#[tokio::test]
async fn a_cell_of_a_race_week_is_one_line_with_the_race_and_says_the_rest_to_whoever_listens() {
    let app = TestApp::on("2027-04-20").await;
    let (entered, _) = ana(&app).await;
    let page = app.get("/calendar").await;
    assert_eq!(page.texts("td .sc-more"), ["race week", "10 km, goal, Sun"]);
    assert_eq!(page.attribute("td .sc-race a", "title"), "Harbour 10");
    app.post(&format!("/races/{}/call-off", entered.race), &[]).await.location();
    let off = app.get("/calendar").await;
    assert_eq!(off.count("td .sc-more"), 0, "that it is not run is seen");
}

#[tokio::test]
async fn the_heads_say_which_week_is_now_and_what_each_holds() {
    let app = TestApp::on("2027-04-20").await;
    let (entered, _) = ana(&app).await;
    let bo = app.add_athlete("Bo", DistanceUnit::Km).await;
    app.store.enter(entered.race, bo, Importance::TuneUp, app.now()).await.unwrap();
    let page = app.get("/calendar").await;
    let heads = page.texts("thead th");
    assert_eq!(heads.len(), 13);
    assert_eq!(heads[1], "Week of 19 Apr this week");
    assert_eq!(page.attribute("thead th:nth-child(2)", "aria-current"), "date");
    assert_eq!(heads[3], "Week of 3 May 1 in race week Harbour 10", "a tune-up race makes no race week");
    assert_eq!(page.count("thead th[aria-current]"), 1);
    assert_eq!(weeks(&page, bo), ["3 May Harbour 10 10 km, tune-up, Sun"]);
}

#[tokio::test]
async fn a_week_begins_on_the_coachs_day() {
    let app = TestApp::on("2027-04-20").await;
    let (entered, _) = ana(&app).await;
    let settings = app.store.settings().await.unwrap();
    let sunday = store::CoachSettings { week_start: chrono::Weekday::Sun, ..settings };
    app.store.save_settings(&sunday, app.now()).await.unwrap();
    let page = app.get("/calendar").await;
    assert_eq!(page.texts("thead th")[1], "Week of 18 Apr this week");
    let weeks = weeks(&page, entered.athlete);
    let race = weeks.iter().find(|week| week.contains("goal")).unwrap();
    assert!(race.starts_with("9 May race week Harbour 10 10 km, goal, Sun recovery"), "{race}");
}

#[tokio::test]
async fn a_race_called_off_is_struck_through_in_words_and_has_no_block() {
    let app = TestApp::on("2027-04-20").await;
    let (entered, _) = ana(&app).await;
    app.store.call_off_race(entered.race, Some(app.today()), app.now()).await.unwrap();
    let page = app.get("/calendar").await;
    assert_eq!(weeks(&page, entered.athlete), ["3 May Harbour 10 10 km, called off, Sun"]);
    assert_eq!((page.text("td s"), page.count("td .sc-off")), ("Harbour 10".to_owned(), 1));
    assert_eq!(page.texts("thead th")[3], "Week of 3 May");
    assert!(page.text(".sc-races li").ends_with("called off"));
}

#[tokio::test]
async fn after_a_race_called_off_on_the_way_the_running_comes_back_here_as_in_the_season() {
    let app = TestApp::on("2027-04-20").await;
    let (entered, _) = ana(&app).await;
    let app = app.later("2027-05-04");
    app.store.call_off_race(entered.race, Some(app.today()), app.now()).await.unwrap();
    let page = app.get("/calendar").await;
    let weeks = weeks(&page, entered.athlete);
    assert!(weeks[0].starts_with("3 May this week coming back, as Harbour 10 is not run"), "{weeks:?}");
    let season = app.get(&format!("/athletes/{}/season", entered.athlete)).await;
    assert!(season.body().contains("Back to the usual week"));
    assert!(weeks[1].starts_with("10 May coming back, as Harbour 10"), "{weeks:?}");
    assert_eq!((weeks.len(), page.count("td .sc-recovery")), (2, 4), "two lines a week");
}

#[tokio::test]
async fn a_goal_race_without_a_block_says_so_and_so_does_one_that_moved() {
    let app = TestApp::on("2027-04-20").await;
    let entered = app.ana().await;
    let week = async || weeks(&app.get("/calendar").await, entered.athlete).remove(0);
    assert_eq!(week().await, "3 May race week, no block yet Harbour 10 10 km, goal, Sun");
    let block = app.plan_block(entered).await;
    let mut race = app.store.race(entered.race).await.unwrap().unwrap();
    race.race.date = "2027-05-08".parse().unwrap();
    app.store.save_race(race.id, race.version, &race.race, "", app.now()).await.unwrap();
    assert_eq!(
        week().await,
        "3 May race week, block for another day Harbour 10 10 km, goal, Sat recovery after Harbour 10"
    );
    app.store.remove_block(block, app.now()).await.unwrap();
    assert!(week().await.contains("no block yet"), "a removed block is not shown");
}

#[tokio::test]
async fn a_block_does_not_begin_before_the_recovery_from_the_race_before_is_over() {
    let app = TestApp::on("2027-04-20").await;
    let (entered, _) = ana(&app).await;
    let half = app.add_race("River Half", "2027-05-16", RaceDistance::Half).await;
    app.store.enter(half, entered.athlete, Importance::Goal, app.now()).await.unwrap();
    app.plan_block(Entered { race: half, ..entered }).await;
    let weeks = weeks(&app.get("/calendar").await, entered.athlete);
    let last = weeks.iter().find(|week| week.starts_with("10 May")).unwrap();
    assert!(last.starts_with("10 May recovery after Harbour 10 race week"), "{last}");
    assert!(!weeks.iter().any(|week| week.starts_with("3 May") && week.contains("for River Half")), "{weeks:?}");
}

#[tokio::test]
async fn weeks_are_turned_by_four_and_lead_back_to_this_week() {
    let app = TestApp::on("2027-04-20").await;
    let (entered, _) = ana(&app).await;
    let page = app.get("/calendar").await;
    let links = page.attributes(".sc-turns a", "href");
    assert_eq!(links, ["/calendar?from=2027-03-22", "/calendar?from=2027-05-17"]);
    let later = app.get(&links[1]).await;
    assert!(later.text(".page-head .lead").starts_with("17 May to 8 August 2027"));
    assert_eq!(later.count("[aria-current=date]"), 0);
    assert!(later.body().contains("No race, block or recovery lies in these weeks."));
    assert_eq!(weeks(&later, entered.athlete), Vec::<String>::new());
    assert_eq!(later.attributes(".sc-turns a", "href")[1], "/calendar", "this week");
    assert_eq!(app.get("/calendar?from=2027-05-20").await.value("from"), "2027-05-17", "any day asks for its week");
}

#[tokio::test]
async fn a_day_that_is_none_is_said_and_harms_nothing() {
    let app = TestApp::on("2027-04-20").await;
    ana(&app).await;
    for (asked, sentence) in [
        ("from=next+week", "“next week” is not a date such as 2027-05-09, so the calendar begins this week."),
        ("from=0001-01-01", "“0001-01-01” is too far away, so the calendar begins this week."),
        ("from=9999-12-31", "“9999-12-31” is too far away, so the calendar begins this week."),
        ("from=-262143-01-01", "“-262143-01-01” is not a date such as 2027-05-09, so the calendar begins this week."),
        (
            "from=10/11/2026",
            "“10/11/2026” is two dates at once (write 10 Nov 2026, say), so the calendar begins this week.",
        ),
        ("race=99", "That race is not there any more, so all races are shown."),
        ("race=x", "That race is not there any more, so all races are shown."),
    ] {
        let page = app.get(&format!("/calendar?{asked}")).await;
        assert_eq!((page.status, page.text(".told")), (StatusCode::OK, sentence.to_owned()));
        assert!(page.text(".page-head .lead").starts_with("19 April"), "{asked}");
    }
    for page in ["0", "-1", "99999999999999999999", "x"] {
        assert_eq!(app.get(&format!("/calendar?page={page}")).await.status, StatusCode::OK);
    }
}

#[tokio::test]
async fn only_a_group_or_those_who_run_a_race_are_shown_and_links_keep_it() {
    let app = TestApp::on("2027-04-20").await;
    let (entered, _) = ana(&app).await;
    let draft = store::AthleteDraft { group: "Hills & more".to_owned(), ..store::AthleteDraft::default() };
    let athlete = planning::Athlete { name: "Cy".to_owned(), ..planning::Athlete::default() };
    let draft = store::AthleteDraft { athlete, ..draft };
    app.store.add_athlete(&draft, uuid::Uuid::new_v4(), app.now()).await.unwrap();
    let names = |page: &Answer| page.texts("tbody th[scope=row] a");
    let page = app.get("/calendar").await;
    assert_eq!(page.texts("tbody th[scope=rowgroup]"), ["Hills & more", "Track"]);
    assert_eq!(names(&page), ["Cy", "Ana Exemplo"]);
    let page = app.get("/calendar?group=Hills+%26+more").await;
    assert_eq!((names(&page), page.value("group")), (vec!["Cy".to_owned()], "Hills & more".to_owned()));
    assert_eq!(page.texts("thead th")[3], "Week of 3 May", "only those who fit are counted");
    assert_eq!(page.attributes(".sc-turns a", "href")[1], "/calendar?group=Hills%20%26%20more&from=2027-05-17");
    let page = app.get(&format!("/calendar?race={}", entered.race)).await;
    assert_eq!((names(&page), page.value("race")), (vec!["Ana Exemplo".to_owned()], entered.race.to_string()));
    let page = app.get(&format!("/calendar?group=Hills+%26+more&race={}", entered.race)).await;
    assert!(page.text(".empty").starts_with("Nobody of the 2 in the squad fits."));
    assert_eq!(page.attribute(".empty a", "href"), "/calendar");
}

#[tokio::test]
async fn forty_athletes_stand_on_a_page_and_the_page_stays_when_weeks_are_turned() {
    let app = TestApp::on("2027-04-20").await;
    for number in 0..41 {
        app.add_athlete(&format!("Runner {number:02}"), DistanceUnit::Km).await;
    }
    let page = app.get("/calendar?from=2027-05-17").await;
    assert_eq!(page.count("tbody th[scope=row]"), 40);
    assert_eq!(page.text(".pages p"), "1 to 40 of 41 athletes, page 1 of 2");
    let next = app.get(&page.attribute(".pages a[rel=next]", "href")).await;
    assert_eq!(next.texts("tbody th[scope=row] a"), ["Runner 40"]);
    assert_eq!(next.attributes(".sc-turns a", "href")[1], "/calendar?page=2");
    assert_eq!(app.get("/calendar?page=9").await.texts("tbody th[scope=row] a"), ["Runner 40"]);
}

#[tokio::test]
async fn an_empty_squad_is_led_to_its_first_athlete() {
    let page = TestApp::new().await.get("/calendar").await;
    assert_eq!((page.status, page.count("table")), (StatusCode::OK, 0));
    assert_eq!(page.attribute(".empty a.button", "href"), "/athletes/new");
}

#[tokio::test]
async fn nothing_private_stands_on_the_wall() {
    let app = TestApp::on("2027-04-20").await;
    ana(&app).await;
    let page = app.get("/calendar").await;
    for private in ["asthma", "owes me"] {
        assert!(!page.body().contains(private), "{private}");
    }
    assert!(page.attributes("link[rel=stylesheet]", "href").iter().any(|file| file.ends_with("css/wall-a4.css")));
}

#[tokio::test]
async fn after_the_recovery_the_running_comes_back_as_the_season_says() {
    let app = TestApp::on("2027-05-10").await;
    let ana = app.ana().await.athlete;
    let race = app.add_race("River Marathon", "2027-05-09", RaceDistance::Marathon).await;
    app.store.withdraw(app.store.entries_of(ana).await.unwrap()[0].0.race, ana, app.now()).await.unwrap();
    app.store.enter(race, ana, Importance::Goal, app.now()).await.unwrap();
    let said = |kind: &str| format!("{kind} after River Marathon");
    let expected = ["10 May", "17 May", "24 May", "31 May"].into_iter().zip([
        "recovery",
        "recovery",
        "coming back",
        "coming back",
    ]);
    let expected: Vec<String> = expected
        .map(|(week, kind)| {
            let now = if week == "10 May" { " this week" } else { "" };
            format!("{week}{now} {}", said(kind))
        })
        .collect();
    assert_eq!(weeks(&app.get("/calendar").await, ana), expected);
    let season = app.get(&format!("/athletes/{ana}/season")).await;
    let back = season.texts("#phases ~ table tbody tr").into_iter().find(|row| row.starts_with("Running comes back"));
    assert!(back.as_ref().is_some_and(|row| row.contains("24 May to 6 June")), "{back:?}");
}
