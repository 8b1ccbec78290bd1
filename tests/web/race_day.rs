//! The race sheet of a block: its page, what is written for the day, its print, and what of it is handed over.

use axum::http::StatusCode;
use ebbline_tests::{TestApp, get_shared};
use store::{BlockId, GoalNotes};

/// Ana's ten kilometres with three goals.
async fn with_goals(app: &TestApp) -> BlockId {
    let block = app.ana_block().await;
    let version = app.version_of(block).await.to_string();
    let goals = [
        ("version", version.as_str()),
        ("a", "44:00"),
        ("b", "45:00"),
        ("c", "under 48:00"),
        ("first_effort", "unhurried"),
        ("last_cue", "home"),
    ];
    app.post(&format!("/blocks/{block}/goals"), &goals).await.location();
    block
}

async fn save(app: &TestApp, block: BlockId, form: &str, fields: &[(&str, &str)]) {
    let version = app.version_of(block).await.to_string();
    let fields = [&[("version", version.as_str())], fields].concat();
    app.post(&format!("/blocks/{block}/race-day/{form}"), &fields).await.location();
}

#[tokio::test]
async fn goals_become_times_on_the_course_that_add_up() {
    let app = TestApp::new().await;
    let block = with_goals(&app).await;
    let page = app.get(&format!("/blocks/{block}/race-day")).await;
    assert_eq!(
        page.texts(".race-goals dd"),
        ["44:00 4:24/km on average", "45:00 4:30/km on average", "under 48:00 4:48/km on average"]
    );
    assert_eq!(
        page.texts("#live-usual tbody tr:last-child td"),
        ["44:00", "22:00", "45:00", "22:30", "48:00", "24:00"]
    );
    assert_eq!(page.texts("#live-every tbody th").len(), 10);
    let seconds = |text: &String| {
        text.split(':').fold(0, |sum, part| sum * 60 + part.parse::<u32>().expect("minutes and seconds"))
    };
    let splits = page.texts("#live-every tbody td:nth-child(5)");
    assert_eq!(splits.iter().map(seconds).sum::<u32>(), 45 * 60);
    assert!(
        page.text("#live-rules").contains("more than 30 s behind B (13:30) and breathing hard"),
        "{}",
        page.text("#live-rules")
    );
}

#[tokio::test]
async fn own_words_with_figures_go_before_rules_that_nobody_asked_for() {
    let app = TestApp::new().await;
    let block = with_goals(&app).await;
    let print = format!("/blocks/{block}/race-day/print");
    let say = async |words: &str| {
        let kept = app.store.block(block).await.unwrap().unwrap();
        let goals = GoalNotes { message: words.to_owned(), ..kept.goals };
        app.store.save_goals(block, kept.version, &goals, app.now()).await.unwrap();
        app.get(&print).await
    };
    let sheet = say("Trust the week.").await;
    assert_eq!(sheet.texts(".race-own p"), ["Trust the week."]);
    assert!(sheet.count(".race-rules li") > 0, "words without figures leave room for our rules");
    let sheet = say("4:32 to 5 km, then let it run.").await;
    assert_eq!(sheet.texts(".race-own p"), ["4:32 to 5 km, then let it run."]);
    assert_eq!(sheet.count(".race-rules"), 0, "ours would contradict them");
    assert!(
        app.get(&format!("/blocks/{block}/race-day")).await.text("main").contains("None is proposed: your own words")
    );
    save(&app, block, "edit", &[("change_rules", "At half way: smile.")]).await;
    assert_eq!(app.get(&print).await.texts(".race-rules li"), ["At half way: smile."], "the coach's own rules stay");
}

#[tokio::test]
async fn another_spread_is_shown_at_once_and_saved_on_the_coachs_word() {
    let app = TestApp::new().await;
    let block = with_goals(&app).await;
    let path = format!("/blocks/{block}/race-day");
    let page = app.get(&format!("{path}?preview=1&slower_half=-2&first_easier=&descent=&version=2")).await;
    assert_eq!(page.status, StatusCode::OK);
    assert!(page.text("#live-state").contains("Preview, not saved."));
    assert_eq!(page.texts("#live-usual tbody tr:first-child td")[2], "22:44", "45:00 with the second half 2 % faster");
    assert_eq!(app.get(&path).await.texts("#live-usual tbody tr:first-child td")[2], "22:30");

    save(&app, block, "pacing", &[("slower_half", "-2")]).await;
    let kept = app.get(&path).await;
    assert_eq!(kept.texts("#live-usual tbody tr:first-child td")[2], "22:44");
    assert_eq!(kept.value("slower_half"), "-2");

    let refused = app.get(&format!("{path}?preview=1&slower_half=much")).await;
    assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert_eq!(refused.value("slower_half"), "much");
    assert!(refused.text(".error-summary").contains("\u{201c}much\u{201d} is not a number"));
}

#[tokio::test]
async fn goals_that_cannot_be_meant_come_back_with_what_was_typed() {
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    let version = app.version_of(block).await.to_string();
    for (a, b, said) in [
        (
            "46:00",
            "45:00",
            "Goal A (46:00) is not faster than goal B (45:00); A is the best day, C the least that counts.",
        ),
        ("0:00", "45:00", "Goal A: nobody runs this distance in 0:00; a time between 20:00 and 5:00:00."),
        ("30:00:00", "45:00", "Goal A: nobody runs this distance in 30:00:00; a time between 20:00 and 5:00:00."),
    ] {
        let page = app.post(&format!("/blocks/{block}/goals"), &[("version", &version), ("a", a), ("b", b)]).await;
        assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY, "{a}");
        assert_eq!((page.value("a").as_str(), page.text(".field-errors").replace("!Error: ", "").as_str()), (a, said));
    }
    assert_eq!(app.store.block(block).await.unwrap().unwrap().goals, store::GoalNotes::default());
}

#[tokio::test]
async fn goals_of_little_use_are_kept_and_told() {
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    let version = app.version_of(block).await.to_string();
    let fields = [("version", version.as_str()), ("a", "44:55"), ("b", "45:00")];
    app.post(&format!("/blocks/{block}/goals"), &fields).await.location();
    let page = app.get(&format!("/blocks/{block}/race-day")).await;
    assert_eq!(page.text(".told"), "Goals A and B are 0.5 s a kilometre apart, too close to steer by.");
    // Where the race grew longer since, nobody runs it in that time: said, and nothing lost.
    let race = app.store.block(block).await.unwrap().unwrap().race;
    let longer = planning::Race { distance: planning::RaceDistance::Marathon, ..race.race };
    app.store.save_race(race.id, race.version, &longer, &race.place, app.now()).await.unwrap();
    let page = app.get(&format!("/blocks/{block}/race-day")).await;
    assert!(page.texts(".told")[0].starts_with("Goal A gives no times: nobody runs this distance in 44:55"));
    let words = "in words, so without times";
    assert_eq!(page.texts(".race-goals dd"), [format!("44:55 {words}"), format!("45:00 {words}")]);
}

#[tokio::test]
async fn what_is_written_for_the_day_is_kept_printed_and_never_lost() {
    let app = TestApp::new().await;
    let block = with_goals(&app).await;
    let form = app.get(&format!("/blocks/{block}/race-day/edit")).await;
    let proposed = form.value("change_rules");
    assert!(proposed.contains("behind B"), "{proposed}");
    let fields = [
        ("change_rules", proposed.as_str()),
        ("bib", "214"),
        ("pen", "C"),
        ("gun", "1:35"),
        ("middle_from", "4"),
        ("last_from", "8,5 km"),
        ("worries", "the wind at 6 km: tuck in"),
    ];
    save(&app, block, "edit", &fields).await;
    let kept = app.store.block(block).await.unwrap().unwrap().race_sheet;
    assert_eq!(kept.change_rules, None, "a proposal that was left alone stays one");
    assert_eq!(kept.gun_seconds, Some(95));
    let sheet = app.get(&format!("/blocks/{block}/race-day/print")).await;
    assert_eq!(sheet.text(".race-start"), "Number 214, pen C.");
    assert_eq!(sheet.texts(".race-rows tbody tr:nth-child(5) > *"), ["5 km", "22:30", "22:00 to 24:00"]);
    assert_eq!(sheet.texts(".strip-time").last().map(String::as_str), Some("45:00"));
    assert!(sheet.text(".race-about").contains("count from the gun: about 1:35 more"));
    assert!(sheet.text(".race-mind").contains("First stretch up to 4 km unhurried"), "{}", sheet.text(".race-mind"));
    assert!(sheet.text(".race-worries").contains("tuck in"));

    let version = app.version_of(block).await.to_string();
    let wrong = [("version", version.as_str()), ("bib", "215"), ("eat_minutes", "soon"), ("last_from", "11 km")];
    let page = app.post(&format!("/blocks/{block}/race-day/edit"), &wrong).await;
    assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert_eq!((page.value("bib"), page.value("eat_minutes")), ("215".to_owned(), "soon".to_owned()));
    assert!(page.text(".error-summary").contains("\u{201c}soon\u{201d} is not a whole number between 30 and 360"));
    assert_eq!(app.store.block(block).await.unwrap().unwrap().race_sheet.bib, "214");
}

#[tokio::test]
async fn the_athlete_sees_the_race_sheet_only_where_the_coach_said_so_and_as_it_was() {
    let app = TestApp::on("2027-05-04").await;
    let block = with_goals(&app).await;
    save(&app, block, "edit", &[("pen", "C"), ("fuel_words", "as agreed")]).await;
    let hand_over = async |fields: &[(&str, &str)]| {
        let version = app.version_of(block).await.to_string();
        let fields = [&[("version", version.as_str())], fields].concat();
        app.post(&format!("/blocks/{block}/hand-over"), &fields).await.location();
    };
    hand_over(&[("goals", "yes"), ("stretches", "yes")]).await;
    let token = app.store.block(block).await.unwrap().unwrap().share.unwrap().token;
    let door = app.share_door().await;
    let look = async |rest: &str| get_shared(&door, &format!("/p/{token}{rest}")).await;
    assert_eq!(look("").await.count(".race-day-shown"), 0);

    hand_over(&[("goals", "yes"), ("race_day", "yes")]).await;
    let page = look("").await;
    assert_eq!(page.text(".race-start"), "Pen C.");
    assert_eq!(page.texts(".race-rows tbody tr:last-child > *"), ["finish", "45:00", "44:00 to 48:00"]);
    assert!(!page.body().contains("unhurried"), "stretches have a choice of their own");
    assert_eq!(page.count(".goals-shown .goal-list"), 0, "goals are not said twice");
    assert_eq!(look("/print").await.count(".race-page .strip li"), 10);

    save(&app, block, "edit", &[("pen", "D")]).await;
    assert_eq!(look("").await.text(".race-start"), "Pen C.", "as it was handed over");
    let coach = app.get(&format!("/blocks/{block}")).await;
    assert!(coach.text(".block-version").contains("race sheet changed since it was handed over"));
    let file = app.get(&format!("/blocks/{block}/file")).await;
    assert_eq!(file.text(".race-start"), "Pen D.", "the file is what is sent now");
    hand_over(&[("goals", "yes"), ("race_day", "yes")]).await;
    assert_eq!(look("").await.text(".race-start"), "Pen D.");
    assert!(!app.get(&format!("/blocks/{block}")).await.text(".block-version").contains("changed since"));
}

#[tokio::test]
async fn a_race_in_words_or_without_goals_has_a_page_that_says_so() {
    let app = TestApp::new().await;
    let block = app.ana_block().await;
    let page = app.get(&format!("/blocks/{block}/race-day")).await;
    assert!(page.text("section[aria-labelledby=goals]").contains("No goals are written yet."));
    assert_eq!(page.count(".splits"), 0);
    assert!(app.get(&format!("/blocks/{block}/race-day/print")).await.text("main").contains("Nothing is written"));
    let version = app.version_of(block).await.to_string();
    app.post(&format!("/blocks/{block}/goals"), &[("version", &version), ("b", "finish well")]).await.location();
    let page = app.get(&format!("/blocks/{block}/race-day")).await;
    assert!(page.text("section[aria-labelledby=times]").contains("A goal in words is run by effort."));
    assert_eq!(app.get("/blocks/99/race-day").await.status, StatusCode::NOT_FOUND);
}

#[tokio::test]
async fn a_caution_that_concerns_food_withholds_every_amount_and_any_other_is_put_beside_them() {
    let app = TestApp::new().await;
    let block = with_goals(&app).await;
    let athlete = app.store.block(block).await.unwrap().unwrap().athlete;
    let food = async || app.get(&format!("/blocks/{block}/race-day")).await.text("section[aria-labelledby=food]");
    let noted = async |caution: &str| {
        let athlete = app.store.athlete(athlete.id).await.unwrap().unwrap();
        let mut draft = athlete.draft.clone();
        draft.athlete.cautions = vec![caution.to_owned()];
        app.store.save_athlete(athlete.id, athlete.version, &draft, app.now()).await.unwrap();
    };
    noted("calf strain").await;
    let said = food().await;
    assert!(said.contains("Noted: calf strain."), "{said}");
    noted("pregnant, 20th week").await;
    let said = food().await;
    assert!(
        !said.contains(|letter: char| letter.is_ascii_digit()) && said.contains("a dietitian or a clinician"),
        "{said}"
    );
}

#[tokio::test]
async fn waves_and_borders_that_cannot_be_are_refused_and_proposals_come_back() {
    let app = TestApp::new().await;
    let block = with_goals(&app).await;
    let race = app.store.block(block).await.unwrap().unwrap().race;
    let at_nine = planning::Race { start: chrono::NaiveTime::from_hms_opt(9, 0, 0), ..race.race };
    app.store.save_race(race.id, race.version, &at_nine, &race.place, app.now()).await.unwrap();
    let path = format!("/blocks/{block}/race-day/edit");
    for (field, value, said) in [
        ("wave_start", "08:30", "08:30 is before the race starts"),
        ("wave_start", "23:59", "23:59 is more than three hours after the race itself"),
        ("middle_from", "4", "or leave both empty for thirds"),
        ("worries", "a\nb\nc\nd\ne\nf\ng\nh\ni", "9 lines are too many; up to 8 fit"),
    ] {
        let version = app.version_of(block).await.to_string();
        let page = app.post(&path, &[("version", &version), (field, value)]).await;
        assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY, "{value}");
        assert!(page.text(".error-summary").contains(said), "{}", page.text(".error-summary"));
    }
    save(&app, block, "edit", &[("change_rules", ""), ("wave_start", "09:20"), ("gun", "1:40")]).await;
    let sheet = app.get(&format!("/blocks/{block}/race-day/print")).await;
    assert!(sheet.text(".race-about").contains("first start show about 21:40 more"), "{}", sheet.text(".race-about"));
    assert_eq!(sheet.count(".race-rules"), 0, "an empty text is meant to be empty");
    save(&app, block, "edit", &[("change_rules", ""), ("propose", "yes")]).await;
    assert_eq!(app.store.block(block).await.unwrap().unwrap().race_sheet.change_rules, None);
}

#[tokio::test]
async fn the_race_comes_first_on_the_athletes_page_from_the_day_before() {
    let app = TestApp::on("2027-05-04").await;
    let block = with_goals(&app).await;
    let version = app.version_of(block).await.to_string();
    let fields = [("version", version.as_str()), ("goals", "yes"), ("race_day", "yes")];
    app.post(&format!("/blocks/{block}/hand-over"), &fields).await.location();
    let token = app.store.block(block).await.unwrap().unwrap().share.unwrap().token;
    for (day, first) in [("2027-05-07", false), ("2027-05-08", true), ("2027-05-09", true), ("2027-05-10", false)] {
        let page = get_shared(&app.share_door_on(day).await, &format!("/p/{token}")).await;
        let order = page.attributes("main section", "aria-labelledby");
        let place = |id: &str| order.iter().position(|found| found == id).expect(id);
        assert_eq!(place("race-day-title") < place("picture-title"), first, "{day}: {order:?}");
    }
}

#[tokio::test]
async fn a_second_click_is_no_conflict() {
    let app = TestApp::new().await;
    let block = with_goals(&app).await;
    let version = app.version_of(block).await.to_string();
    let fields = [("version", version.as_str()), ("pen", "C"), ("worries", "wind\r\nrain")];
    let path = format!("/blocks/{block}/race-day/edit");
    for _ in 0..2 {
        let answer = app.post(&path, &fields).await;
        assert_eq!(answer.location(), format!("/blocks/{block}/race-day"));
    }
    assert_eq!(app.version_of(block).await.to_string(), (version.parse::<i64>().unwrap() + 1).to_string());
}

#[tokio::test]
async fn a_cut_off_that_a_goal_misses_is_told() {
    let app = TestApp::new().await;
    let block = with_goals(&app).await;
    let race = app.store.block(block).await.unwrap().unwrap().race.id;
    let facts =
        store::RaceFacts { stations: "5 km Mill: water; cut-off 23:00".to_owned(), ..store::RaceFacts::default() };
    app.store.save_race_facts(race, store::Version(0), &facts, app.now()).await.unwrap();
    let page = app.get(&format!("/blocks/{block}/race-day")).await;
    assert_eq!(page.text(".told"), "After the cut-off 23:00 at 5 km: goal C passes at 24:00.");
    // A cut-off counts from the start of the race, not from when the athlete crosses its line.
    save(&app, block, "edit", &[("gun", "1:00")]).await;
    let page = app.get(&format!("/blocks/{block}/race-day")).await;
    assert_eq!(
        page.text(".told"),
        "After the cut-off 23:00 at 5 km: goal B passes at 23:30 and goal C passes at 25:00."
    );
    let print = app.get(&format!("/blocks/{block}/race-day/print")).await;
    assert!(
        print
            .text(".race-about")
            .ends_with("Clocks on the course and cut-offs count from the gun: about 1:00 more than your own time."),
        "{}",
        print.text(".race-about")
    );
}

/// Ana's block as one for a race of another length, with these stations.
async fn over(app: &TestApp, distance: planning::RaceDistance, goals: [&str; 3], stations: &str) -> BlockId {
    let block = with_goals(app).await;
    let race = app.store.block(block).await.unwrap().unwrap().race;
    let longer = planning::Race { distance, ..race.race };
    app.store.save_race(race.id, race.version, &longer, &race.place, app.now()).await.unwrap();
    let facts = store::RaceFacts { stations: stations.to_owned(), ..store::RaceFacts::default() };
    app.store.save_race_facts(race.id, store::Version(0), &facts, app.now()).await.unwrap();
    let version = app.version_of(block).await.to_string();
    let [a, b, c] = goals;
    let fields = [("version", version.as_str()), ("a", a), ("b", b), ("c", c)];
    app.post(&format!("/blocks/{block}/goals"), &fields).await.location();
    block
}

const FIFTY: planning::RaceDistance =
    planning::RaceDistance::Own(planning::Milli::whole(50), planning::DistanceUnit::Km);

#[tokio::test]
async fn going_for_a_says_the_pace_of_the_rest_and_a_goal_as_typed_is_not_repeated() {
    let app = TestApp::new().await;
    let block = over(&app, planning::RaceDistance::Half, ["sub 1:45", "1:46:30", "under 1:50"], "").await;
    let page = app.get(&format!("/blocks/{block}/race-day")).await;
    let rule = app.get(&format!("/blocks/{block}/race-day/print")).await.texts(".race-rules li").remove(0);
    assert!(
        rule.contains("Go for A from there only if it felt easy so far: 4:") && rule.contains("/km on average"),
        "{rule}"
    );
    assert!(rule.ends_with("A's own times are for whoever runs A from the start."), "{rule}");
    assert!(page.text("main").contains("sub 1:45 4:59/km on average"), "{}", page.text("main"));
}

#[tokio::test]
async fn beyond_a_marathon_rules_strip_and_food_go_by_the_stations() {
    let app = TestApp::new().await;
    let stations = "12 Mill: water; cut-off 2:00\n20: tea\n34 Hut: soup; cut-off 5:30";
    let block = over(&app, FIFTY, ["4:58", "5:00", "5:50"], stations).await;
    let fuel = [("fuel_piece", "bar"), ("piece_grams", "30"), ("grams_an_hour", "60"), ("propose", "yes")];
    save(&app, block, "edit", &fuel).await;
    let print = app.get(&format!("/blocks/{block}/race-day/print")).await;
    let rules = print.texts(".race-rules li");
    assert!(rules[0].starts_with("Run B up to 34 km (Hut) (3:24:00)."), "{rules:?}");
    assert!(rules[1].starts_with("At 12 km (Mill) more than "), "{rules:?}");
    assert_eq!(
        print.texts(".strip li"),
        ["12 km 1:12:00 until 2:00:00", "20 km 2:00:00", "34 km 3:24:00 until 5:30:00", "finish 5:00:00"]
    );
    assert_eq!(
        print.texts(".race-rows td:last-child"),
        ["Mill; water; then 1 \u{d7} bar", "tea; then 3 \u{d7} bar", "Hut; soup; then 3 \u{d7} bar", "",]
    );
    assert_eq!(print.texts(".race-rows td:nth-child(4)"), ["2:00:00", "", "5:30:00", ""]);
    assert!(print.text(".race-fuel").ends_with("9 in all, 270 g of carbohydrate. To the first station: 2 \u{d7} bar."));
}

#[tokio::test]
async fn up_to_a_marathon_pieces_stand_at_the_stations_on_the_way() {
    let app = TestApp::new().await;
    let half = planning::RaceDistance::Half;
    let block = over(&app, half, ["", "1:45:30", ""], "5 Mill: water\n8 Weir\n15 School: gels").await;
    save(&app, block, "edit", &[("fuel_piece", "gel"), ("piece_grams", "25"), ("grams_an_hour", "50")]).await;
    let print = app.get(&format!("/blocks/{block}/race-day/print")).await;
    assert_eq!(
        print.text(".race-stations"),
        "On the way: 5 km Mill: water (then 1 \u{d7} gel); 8 km Weir (then 1 \u{d7} gel); 15 km School: gels (then 1 \u{d7} gel)."
    );
}

#[tokio::test]
async fn times_at_many_stations_become_several_strips() {
    let app = TestApp::new().await;
    let hundred = planning::RaceDistance::Own(planning::Milli::whole(100), planning::DistanceUnit::Km);
    let stations: Vec<String> = (1..=19).map(|place| format!("{} Hut {place}", place * 5)).collect();
    let block = over(&app, hundred, ["", "12:30:00", ""], &stations.join("\n")).await;
    let print = app.get(&format!("/blocks/{block}/race-day/print")).await;
    let of = |strip: usize| print.texts(&format!(".strip:nth-of-type({strip}) li")).len();
    assert_eq!([of(1), of(2), of(3), of(4)], [7, 7, 6, 0]);
}

#[tokio::test]
async fn more_words_than_are_remembered_and_what_a_clinician_has_to_say_are_told_to_the_coach_alone() {
    let app = TestApp::new().await;
    let block = with_goals(&app).await;
    let athlete = app.store.block(block).await.unwrap().unwrap().athlete;
    let mut draft = athlete.draft.clone();
    draft.athlete.cautions = vec!["calf strain".to_owned(), "pregnant".to_owned()];
    app.store.save_athlete(athlete.id, athlete.version, &draft, app.now()).await.unwrap();
    let version = app.version_of(block).await.to_string();
    let effort = "as easy as it ever felt";
    let goals = [("version", version.as_str()), ("b", "45:00"), ("first_effort", effort), ("last_cue", "home")];
    app.post(&format!("/blocks/{block}/goals"), &goals).await.location();
    let path = format!("/blocks/{block}/race-day");
    assert_eq!(
        app.get(&path).await.texts(".told"),
        [
            "First third, effort: 6 words; in a race at most 5 are remembered.",
            "Noted: pregnant. Whether and how hard to race is for the athlete and a clinician to say first; the times here \
             are reckoned, not advised.",
        ]
    );
    let print = app.get(&format!("{path}/print")).await;
    assert!(print.text("main").contains(effort) && !print.body().contains("pregnant"));
}

#[tokio::test]
async fn without_a_time_as_goal_no_time_is_told_to_the_athlete() {
    let app = TestApp::new().await;
    let block = over(&app, planning::RaceDistance::Marathon, ["finish smiling", "", ""], "").await;
    let food = app.get(&format!("/blocks/{block}/race-day/print")).await.text(".race-fuel");
    assert!(food.contains("60\u{2013}90 g of carbohydrate an hour, in what you have practised with."), "{food}");
}

#[tokio::test]
async fn goals_that_are_not_shown_are_not_told_by_food_on_the_way_either() {
    let app = TestApp::on("2027-05-04").await;
    let block = with_goals(&app).await;
    let race = app.store.block(block).await.unwrap().unwrap().race;
    let half = planning::Race { distance: planning::RaceDistance::Half, ..race.race };
    app.store.save_race(race.id, race.version, &half, &race.place, app.now()).await.unwrap();
    let version = app.version_of(block).await.to_string();
    let goals = [("version", version.as_str()), ("b", "1:47:13")];
    app.post(&format!("/blocks/{block}/goals"), &goals).await.location();
    save(&app, block, "edit", &[("fuel_piece", "gel"), ("piece_grams", "25"), ("grams_an_hour", "50"), ("pen", "C")])
        .await;
    for (shown, pieces) in [("yes", true), ("no", false)] {
        let version = app.version_of(block).await.to_string();
        let fields = [("version", version.as_str()), ("goals", shown), ("race_day", "yes")];
        app.post(&format!("/blocks/{block}/hand-over"), &fields).await.location();
        let token = app.store.block(block).await.unwrap().unwrap().share.unwrap().token;
        let page = get_shared(&app.share_door().await, &format!("/p/{token}")).await;
        assert_eq!(page.body().contains("gel"), pieces, "{shown}");
        assert_eq!(page.text(".race-start"), "Pen C.");
        assert_eq!(page.body().contains("1:47"), pieces, "{shown}");
    }
}

#[tokio::test]
async fn the_athlete_sees_the_hills_of_the_course_with_no_more_than_the_coach_shows() {
    let app = TestApp::on("2027-05-04").await;
    let block = with_goals(&app).await;
    let race = app.store.block(block).await.unwrap().unwrap().race.id;
    let hill = "<gpx><trk><trkseg><trkpt lat='50' lon='8'><ele>20</ele></trkpt><trkpt lat='50' lon='8.07'><ele>180</ele>\
                </trkpt><trkpt lat='50' lon='8.14'><ele>20</ele></trkpt></trkseg></trk></gpx>";
    app.post(&format!("/races/{race}/course"), &[("version", "0"), ("text", hill)]).await.location();
    save(&app, block, "edit", &[("pen", "C")]).await;
    for goals in ["yes", "no"] {
        let version = app.version_of(block).await.to_string();
        let fields = [("version", version.as_str()), ("goals", goals), ("race_day", "yes")];
        app.post(&format!("/blocks/{block}/hand-over"), &fields).await.location();
        let token = app.store.block(block).await.unwrap().unwrap().share.unwrap().token;
        let page = get_shared(&app.share_door().await, &format!("/p/{token}")).await;
        assert!(page.text(".race-day-shown figcaption").starts_with("Smoothed, it climbs 1"));
        let mark = &page.texts(".race-day-shown .profile-word")[0];
        assert!(mark.starts_with("2 km") && mark.contains(':') == (goals == "yes"), "{mark}");
        let file = app.get(&format!("/blocks/{block}/file")).await;
        assert!(file.body().contains("class=\"profile\""));
    }
}
