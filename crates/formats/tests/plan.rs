//! Whole requests, as a coach would send them, and everything that can be wrong with one.

#![expect(clippy::expect_used, reason = "a test helper stops where its own data is wrong")]

use chrono::NaiveDate;
use formats::plan_answer::PlanAnswer;
use formats::plan_request::PlanRequest;
use formats::{plan_csv, plan_text};
use planning::review::Subject;
use planning::{Block, Finding};
use proptest::prelude::*;
use serde_json::{Value, json};

const TEN_KM: &str = include_str!("requests/ten_km.json");
const MARATHON_MINUTES: &str = include_str!("requests/marathon_minutes.json");
const HALF_MIXED_MILES: &str = include_str!("requests/half_mixed_miles.json");

fn planned(request: &PlanRequest) -> (Block, Vec<Finding>) {
    let block = planning::plan(&request.for_planning(None)).expect("a request that can be planned");
    let subject = Subject {
        other_races: &request.other_races,
        clock_shift: request.clock_shift(),
        ..Subject::new(&block, &request.athlete, &request.week)
    };
    let findings = planning::review(&subject);
    (block, findings)
}

fn text(request: &str) -> String {
    let request = PlanRequest::read(request).expect("a good request");
    let (block, findings) = planned(&request);
    plan_text::write(&block, &request.athlete, &findings)
}

fn table(request: &str) -> String {
    let request = PlanRequest::read(request).expect("a good request");
    plan_csv::write(&planned(&request).0)
}

fn answer(request: &str) -> Value {
    let request = PlanRequest::read(request).expect("a good request");
    let (block, findings) = planned(&request);
    let json = PlanAnswer::new(&block, &request.athlete, &findings).to_json().expect("an answer");
    serde_json::from_str(&json).expect("JSON")
}

#[test]
fn text_for_people() {
    insta::assert_snapshot!("ten_km_text", text(TEN_KM));
    insta::assert_snapshot!("marathon_minutes_text", text(MARATHON_MINUTES));
    insta::assert_snapshot!("half_mixed_miles_text", text(HALF_MIXED_MILES));
}

#[test]
fn tables() {
    insta::assert_snapshot!("ten_km_csv", table(TEN_KM));
    insta::assert_snapshot!("half_mixed_miles_csv", table(HALF_MIXED_MILES));
}

#[test]
fn a_day_of_rest_with_words_is_rest_in_a_table() {
    let mut request = PlanRequest::read(TEN_KM).expect("a good request");
    let lines = ["8", "intervals 10", "Rest, physio", "tempo 9", "7", "6", "long 16"];
    request.week = planning::notation::read_week(&lines, "", planning::DistanceUnit::Km).expect("a week");
    let table = plan_csv::write(&planned(&request).0);
    let rows: Vec<&str> = table.lines().filter(|line| line.contains("physio")).collect();
    assert!(!rows.is_empty());
    for row in rows {
        assert!(row.contains(",rest,,,,,,rest,physio,,rest,,,") && !row.contains("mobility"), "{row}");
    }
}

#[test]
fn no_cell_of_a_table_is_a_formula() {
    let table = table(TEN_KM);
    assert!(table.ends_with("\r\n"));
    let mut rows = csv::Reader::from_reader(table.as_bytes());
    let cells: Vec<String> = rows
        .records()
        .flat_map(|row| row.expect("of the shape").iter().map(str::to_owned).collect::<Vec<_>>())
        .collect();
    assert!(cells.contains(&"'=track, flat".to_owned()));
    assert!(cells.iter().all(|cell| !cell.starts_with(['=', '+', '-', '@', '\t', '\r'])));
}

#[test]
fn no_cell_of_a_table_is_a_formula_where_a_spreadsheet_parts_at_semicolons_or_tabs() {
    let request = TEN_KM.replace("=track, flat", "x;=1+1\\t=2+2");
    let table = table(&request);
    assert!(table.contains(",\"x;'=1+1"), "{table}");
    for part in table.split([';', '\t', '\r', '\n']) {
        assert!(!part.starts_with(['=', '+', '-', '@']), "{part}");
    }
}

#[test]
fn an_answer_has_the_fields_that_others_rely_on() {
    let answer = answer(TEN_KM);
    assert_eq!(
        answer["block"],
        json!({ "first_day": "2027-04-29", "race_day": "2027-05-09", "days": 10, "curve": 1.5, "floor": 0.4, "shape": "ebb" })
    );
    let weeks = answer["weeks"].as_array().expect("of the shape");
    assert_eq!(weeks.len(), 2);
    assert_eq!(weeks[1]["to"], "2027-05-09");
    assert_eq!(weeks[1]["usual"], json!([58, 60]));
    assert_eq!(weeks[0]["race"], Value::Null);
    assert_eq!(weeks[0]["with_race"], weeks[0]["planned"]);
    assert_eq!(weeks[1]["race"]["distance"], "10k");
    assert_eq!(weeks[1]["planned"], answer["before_race"]["amount"]);
    assert_eq!(weeks[1]["share"], answer["before_race"]["share"]);
    let days = answer["days"].as_array().expect("of the shape");
    assert_eq!(days.len(), 14);
    assert_eq!(
        (&days[13]["date"], &days[13]["to_race"], &days[13]["rest"]),
        (&json!("2027-05-09"), &json!(0), &json!(false))
    );
    assert_eq!(days[1]["weekday"], "tue");
    assert_eq!(days[1]["sessions"][0]["sets"][0]["pace"], "10k pace");
    assert_eq!(days[1]["sessions"][0]["usual"]["amount"], json!([11, 13]));
    let review = answer["review"].as_array().expect("of the shape");
    assert!(review.iter().any(|finding| finding["id"] == "races-clash" && finding["figure"] == 8), "{review:#?}");
}

#[test]
fn totals_of_an_answer_are_the_sums_of_its_days() {
    // Without a range of its own, which says that not every session is high in the same week.
    for request in [changed("/base_week/week_range", &Value::Null).as_str(), MARATHON_MINUTES] {
        let answer = answer(request);
        let days = answer["days"].as_array().expect("of the shape");
        for (week, days) in answer["weeks"].as_array().expect("of the shape").iter().zip(days.chunks(7)) {
            for (total, end) in [("planned", 0), ("planned", 1)] {
                let sum: f64 = days
                    .iter()
                    .flat_map(|day| day["sessions"].as_array().expect("of the shape"))
                    .filter(|session| {
                        !["strength", "mobility", "cross-training"]
                            .contains(&session["kind"].as_str().expect("of the shape"))
                    })
                    .map(|session| session["amount"][end].as_f64().expect("of the shape"))
                    .sum();
                assert!((sum - week[total][end].as_f64().expect("of the shape")).abs() < 1e-9, "{week}");
            }
        }
    }
}

#[test]
fn a_week_of_minutes_and_miles_is_an_estimate_with_a_pace_and_apart_without() {
    let with_pace = answer(HALF_MIXED_MILES);
    assert_eq!(with_pace["weeks"][0]["unit"], "mi");
    assert_eq!(with_pace["weeks"][0]["estimated"], true);
    let mut request: Value = serde_json::from_str(HALF_MIXED_MILES).expect("of the shape");
    request["athlete"].as_object_mut().expect("of the shape").remove("easy_pace");
    let without = answer(&request.to_string());
    assert_eq!(without["weeks"][0]["usual"], json!([31, 33]));
    assert_eq!(without["weeks"][0]["also"], json!([{ "usual": [45, 45], "planned": [45, 45], "unit": "min" }]));
    assert_eq!(without["weeks"][0].get("estimated"), None);
    assert_eq!(answer(MARATHON_MINUTES)["before_race"]["with_race"], Value::Null);
}

/// The ten-kilometre request with one value set or, by `null`, taken away.
fn changed(pointer: &str, value: &Value) -> String {
    let mut request: Value = serde_json::from_str(TEN_KM).expect("of the shape");
    let (parent, name) = pointer.rsplit_once('/').expect("of the shape");
    match request.pointer_mut(parent).expect("of the shape") {
        Value::Object(fields) if value.is_null() => {
            fields.remove(name);
        }
        Value::Object(fields) => {
            fields.insert(name.to_owned(), value.clone());
        }
        Value::Array(items) => items[name.parse::<usize>().expect("of the shape")] = value.clone(),
        other => panic!("{other} has no fields"),
    }
    request.to_string()
}

/// What is wrong with a request, whether reading or planning finds it.
fn wrong(text: &str) -> Vec<String> {
    let request = match PlanRequest::read(text) {
        Ok(request) => request,
        Err(wrong) => return wrong.iter().map(ToString::to_string).collect(),
    };
    match planning::plan(&request.for_planning(None)) {
        Ok(_) => Vec::new(),
        Err(problems) => problems.iter().map(|problem| request.locate(problem).to_string()).collect(),
    }
}

/// Each value alone makes one message that starts so.
fn told(cases: &[(&str, Value, &str)]) {
    for (pointer, value, message) in cases {
        let found = wrong(&changed(pointer, value));
        assert!(
            found.first().is_some_and(|first| first.starts_with(message)),
            "{pointer} = {value}:\n  found    {found:#?}\n  expected {message}"
        );
        assert_eq!(found.len(), 1, "one message for one fault: {found:#?}");
    }
}

#[test]
fn every_bad_value_of_race_and_athlete_is_named_with_its_field() {
    told(&[
        ("/block", json!({ "dayz": 9 }), "block.dayz is 9: there is no such field; known here are days, curve"),
        ("/today", json!("2027-02-30"), "today: “2027-02-30” is not a date; write YYYY-MM-DD"),
        ("/race/date", json!("2026-13-01"), "race.date: “2026-13-01” is not a date; write YYYY-MM-DD"),
        ("/race/date", json!("9 May 2027"), "race.date: “9 May 2027” is not a date; write YYYY-MM-DD"),
        (
            "/race/date",
            json!(20_270_509),
            "race.date is 20270509: a number stands here, a text in quotation marks is needed",
        ),
        (
            "/race/date",
            json!("2026-05-09"),
            "race.date is 2026-05-09: Saturday 9 May 2026 is past (today is Tuesday 20 April 2027)",
        ),
        ("/race/date", json!("2031-05-09"), "race.date is 2031-05-09: Friday 9 May 2031 is more than three years away"),
        ("/race/date", json!("1890-05-09"), "race.date: 1890-05-09 is outside the years that are known here"),
        ("/race/date", Value::Null, "race.date: nothing is given here"),
        (
            "/race/distance",
            json!("15k"),
            "race.distance: \"15k\" is not a race distance; one of 5k, 10k, 10mi, half, marathon",
        ),
        ("/race/distance", json!({ "km": 4000 }), "race.distance.km: a race of 4000 km is not planned for"),
        ("/race/distance", json!({ "mi": 0.1 }), "race.distance.mi is 0.1: a race of 0.2 km is not planned for"),
        ("/race/distance", json!({ "km": -5 }), "race.distance.km: a race of -5 km is not planned for"),
        ("/race/distance", json!({ "km": 5, "mi": 3 }), "race.distance: give the distance either in km or in mi"),
        ("/race/start", json!("25:00"), "race.start: “25:00” is not a time of day; write a time such as 09:30"),
        ("/race/zone", json!("Europe/Lisbonne"), "race.zone: “Europe/Lisbonne” is not a time zone that is known here"),
        ("/race/importance", json!("big"), "race.importance: “big” is not known here; one of goal, tune-up"),
        ("/athlete/units", json!("furlongs"), "athlete.units: “furlongs” is not known here; one of km, mi"),
        ("/athlete/easy_pace", json!("5.45"), "athlete.easy_pace: “5.45” is not a pace"),
        ("/athlete/easy_pace", json!("1:00"), "athlete.easy_pace: a pace of 1:00 cannot be right"),
        (
            "/athlete/birth_year",
            json!(1788),
            "athlete.birth_year is 1788: outside what is possible; between 1910 and 2025",
        ),
        ("/athlete/name", json!(" "), "athlete.name: nothing is given here"),
        ("/athlete/suits", json!({ "days": 3 }), "athlete.suits.days is 3: outside what is possible; between 4 and 35"),
        ("/athlete", Value::Null, "athlete: nothing is given here"),
    ]);
}

#[test]
fn every_bad_value_of_the_base_week_is_named_with_its_field() {
    told(&[
        ("/base_week", json!({}), "base_week: there is no running on any day"),
        ("/base_week", json!({ "mon": [{ "kind": "strength" }] }), "base_week: there is no running on any day"),
        ("/base_week/mon/0/amount", json!(-5), "base_week.mon[0].amount: -5 is below zero"),
        (
            "/base_week/mon/0/amount",
            json!(4000),
            "base_week.mon[0].amount: 4000 km is more than anybody runs in one go; at most 400 km",
        ),
        (
            "/base_week/mon/0/amount",
            json!(1e300),
            "base_week.mon[0].amount is 1e300: not an amount that anybody runs; at most 400 km",
        ),
        (
            "/base_week/mon/0/amount",
            json!([12, 8]),
            "base_week.mon[0].amount is [12, 8]: the range 12–8 starts above its end",
        ),
        ("/base_week/mon/0/amount", json!("8-10"), "base_week.mon[0].amount: “8-10” is not a number or a range"),
        (
            "/base_week/mon/0/amount",
            json!([8, 9, 10]),
            "base_week.mon[0].amount: “[8, 9, 10]” is not a number or a range",
        ),
        ("/base_week/mon/0/amount", json!(0), "base_week.mon[0].amount: easy of length 0 is no session"),
        ("/base_week/mon/0/amount", Value::Null, "base_week.mon[0].amount: easy without a length"),
        ("/base_week/mon/0/unit", Value::Null, "base_week.mon[0].unit: nothing is given here"),
        ("/base_week/mon/0/unit", json!("m"), "base_week.mon[0].unit: “m” is not known here; one of km, mi, min"),
        (
            "/base_week/mon/0/kind",
            json!("jogging"),
            "base_week.mon[0].kind: “jogging” is not known here; one of easy, recovery",
        ),
        ("/base_week/mon/0/kind", json!("rest"), "base_week.mon[0].kind: “rest” is not a session"),
        ("/base_week/mon/0", json!({ "any_of": [] }), "base_week.mon[0].any_of is []: there is nothing to choose from"),
        ("/base_week/mon/0", json!(null), "base_week.mon[0]: nothing stands here, an object in braces is needed"),
        (
            "/base_week/thu/0/any_of/0/hard",
            json!(12),
            "base_week.thu[0].any_of[0].hard: the hard part of 12 km is more than the session of 10 km",
        ),
        ("/base_week/wed/1/unit", json!("km"), "base_week.wed[1].unit is \"km\": strength is given in minutes"),
        ("/base_week/wed/1/hard", json!(5), "base_week.wed[1].hard is 5: strength has no hard part"),
        (
            "/base_week/wed/1/loaded",
            json!("yes"),
            "base_week.wed[1].loaded is \"yes\": a text stands here, true or false is needed",
        ),
        (
            "/base_week/tue/0/sets/0/reps",
            json!(0),
            "base_week.tue[0].sets[0].reps is 0: outside what is possible; between 1 and 100",
        ),
        ("/base_week/tue/0/sets/0/reps", json!(2.5), "base_week.tue[0].sets[0].reps is 2.5: a whole number is needed"),
        (
            "/base_week/tue/0/sets/0/length",
            json!(-800),
            "base_week.tue[0].sets[0].length: a repetition of -800 m cannot be",
        ),
        (
            "/base_week/tue/0/sets/0/length",
            json!(5000),
            "base_week.tue[0].sets: the hard part of 30 km is more than the session of 13 km",
        ),
        (
            "/base_week/week_range",
            json!([60, 50]),
            "base_week.week_range is [60, 50]: the range 60–50 starts above its end",
        ),
    ]);
}

#[test]
fn every_bad_value_of_a_second_week_is_named_with_its_field() {
    let second =
        |stands_on: &str| json!({ "sun": [{ "kind": "long", "amount": 10, "unit": "km" }], "stands_on": stands_on });
    told(&[
        (
            "/base_week/second_week",
            second("2027-05-04"),
            "base_week.second_week.stands_on is \"2027-05-04\": Tuesday 4 May 2027 is no Monday; give a Monday, such as \
             Monday 3 May 2027",
        ),
        ("/base_week/second_week", second("May"), "base_week.second_week.stands_on: “May” is not a date"),
        (
            "/base_week/second_week",
            second("2290-01-06"),
            "base_week.second_week.stands_on: 2290-01-06 is outside the years",
        ),
        ("/base_week/second_week", json!({ "mon": [] }), "base_week.second_week.stands_on: nothing is given here"),
        (
            "/base_week/second_week",
            json!({ "stands_on": "2027-05-03" }),
            "base_week.second_week: there is no running on any day",
        ),
        (
            "/base_week/second_week",
            json!({ "mun": [], "stands_on": "2027-05-03" }),
            "base_week.second_week.mun is []: there is no such field; known here are mon, tue, wed, thu, fri, sat, sun, stands_on",
        ),
        (
            "/base_week/second_week",
            json!({ "wed": [{ "kind": "tempo", "amount": 5, "unit": "km", "hard": 9 }], "stands_on": "2027-05-03" }),
            "base_week.second_week.wed[0].hard: the hard part of 9 km is more than the session of 5 km",
        ),
        ("/base_week/since", json!("1 May"), "base_week.since: “1 May” is not a date"),
        ("/base_week/since", json!("1989-05-01"), "base_week.since: 1989-05-01 is outside the years"),
        ("/athlete/home_zone", json!("Mars/Base"), "athlete.home_zone: “Mars/Base” is not a time zone"),
    ]);
}

#[test]
fn a_second_week_stands_on_its_days_and_zones_and_dates_reach_the_review() {
    let mut request: Value = serde_json::from_str(TEN_KM).expect("JSON");
    request["base_week"]["second_week"] =
        json!({ "wed": [{ "kind": "easy", "amount": 33, "unit": "min" }], "stands_on": "2027-05-03" });
    request["base_week"]["since"] = json!("2027-04-20");
    request["athlete"]["home_zone"] = json!("America/Chicago");
    request["race"]["zone"] = json!("Europe/Lisbon");
    request["race"]["date"] = json!("2027-05-16");
    let request = PlanRequest::read(&request.to_string()).expect("a good request");
    let (block, findings) = planned(&request);
    let wednesday = |date: &str| {
        let day = block.day(date.parse().expect("a date")).expect("a day of the block");
        day.usual.iter().filter_map(planning::Session::running).map(|amount| amount.to_string()).collect::<Vec<_>>()
    };
    assert_eq!(wednesday("2027-05-05"), ["33 min"], "in the week of 3 May the second week stands");
    assert_ne!(wednesday("2027-05-12"), ["33 min"]);
    let said = |rule: planning::RuleId| -> Vec<String> {
        let found = findings.iter().filter(|finding| finding.rule == rule);
        found.map(|finding| formats::words::finding(finding, request.athlete.units)).collect()
    };
    assert!(said(planning::RuleId::Travel)[0].starts_with("The clocks at the race are 6 h ahead of those at home"));
    assert!(said(planning::RuleId::BaseTooThin).iter().any(|text| text.contains("since Tuesday 20 April")));
}

#[test]
fn every_bad_value_of_block_and_pins_is_named_with_its_field() {
    told(&[
        ("/block", json!({ "days": 300 }), "block.days is 300: outside what is possible; between 4 and 35"),
        ("/block", json!({ "curve": 9 }), "block.curve: 9 is too much; a number from 0.3 to 4"),
        ("/block", json!({ "floor": 0.95 }), "block.floor: 0.95 is too much; a number from 0.1 to 0.9"),
        (
            "/block",
            json!({ "shape": "wave" }),
            "block.shape: “wave” is not known here; one of ebb, linear, step, exponential",
        ),
        (
            "/block",
            json!({ "extra_rest": "friday" }),
            "block.extra_rest: “friday” is not known here; one of auto, none, mon",
        ),
        (
            "/pins",
            json!([{ "date": "2027-01-01", "sessions": [] }]),
            "pins[0].date is 2027-01-01: Friday 1 January 2027 is not a day of this block",
        ),
        (
            "/pins",
            json!([{ "date": "2027-05-04", "sessions": [] }, { "date": "2027-05-04", "sessions": [] }]),
            "pins[1].date: Tuesday 4 May 2027 is fixed twice; fix each day once",
        ),
        ("/other_races/0/date", json!("soon"), "other_races[0].date: “soon” is not a date"),
        (
            "/done",
            json!([{ "date": "2027-04-29", "kind": "easy", "unit": "km" }]),
            "done[0].amount: nothing is given here",
        ),
        (
            "/done",
            json!([{ "date": "2027-04-29", "kind": "easy", "amount": 5, "unit": "km", "effort": 11 }]),
            "done[0].effort is 11: outside what is possible; between 0 and 10",
        ),
        (
            "/events",
            json!([{ "kind": "plague", "from": "2027-04-26" }]),
            "events[0].kind: “plague” is not known here; one of illness, injury, travel",
        ),
        (
            "/events",
            json!([{ "kind": "illness", "from": "2027-04-27", "to": "2027-04-26" }]),
            "events[0]: Monday 26 April 2027 is before Tuesday 27 April 2027",
        ),
        (
            "/events",
            json!([{ "kind": "travel", "from": "2027-04-27", "to": "2027-04-27", "fever": true }]),
            "events[0].fever is true: fever belongs to illness",
        ),
    ]);
}

#[test]
fn clocks_that_skip_a_start_are_told() {
    let mut request: Value = serde_json::from_str(TEN_KM).expect("of the shape");
    request["today"] = json!("2027-03-01");
    request["race"]["date"] = json!("2027-03-28");
    request["race"]["start"] = json!("01:30");
    assert_eq!(
        wrong(&request.to_string()),
        ["race.start is \"01:30\": the clocks of Europe/Lisbon leave out this time on 2027-03-28; give another start"]
    );
}

#[test]
fn every_fault_is_told_at_once() {
    let request =
        json!({ "today": "tomorrow", "athlete": { "name": 7 }, "base_week": { "mun": [] }, "race": {}, "extra": 1 });
    let found = wrong(&request.to_string());
    let paths: Vec<&str> = found.iter().map(|line| line.split([':', ' ']).next().expect("of the shape")).collect();
    assert_eq!(paths, ["extra", "today", "athlete.name", "base_week.mun", "race.date", "race.distance"], "{found:#?}");
}

#[test]
fn text_that_is_no_request_is_told_by_line_and_column() {
    assert_eq!(wrong(""), ["the request: it is empty; a request in JSON is needed"]);
    assert_eq!(wrong("[1, 2]"), ["the request is [1, 2]: a list stands here, an object in braces is needed"]);
    assert!(wrong("{ \"today\": \n  oops }")[0].starts_with("the request: not JSON at line 2, column 3: "));
    assert!(wrong("{ \"today\": 1e999 }")[0].starts_with("the request: not JSON at line 1, column "));
    assert!(wrong(&"[".repeat(100_000))[0].starts_with("the request: not JSON at line 1, column "));
    let twice = TEN_KM.replacen("{ \"today\"", "{ \"today\": \"2027-04-01\", \"today\"", 1);
    assert_eq!(wrong(&twice), ["today is \"2027-04-20\": this field is given twice; give it once"]);
    assert!(PlanRequest::read(&format!("\u{feff}{TEN_KM}")).is_ok());
}

#[test]
fn fields_that_change_nothing_yet_may_be_empty() {
    for (pointer, value) in [("/done", json!([])), ("/events", json!([])), ("/pins", json!([]))] {
        assert_eq!(wrong(&changed(pointer, &value)), Vec::<String>::new());
    }
}

#[test]
fn today_of_the_request_goes_before_the_given_one() {
    let given = NaiveDate::from_ymd_opt(2030, 1, 1);
    let request = PlanRequest::read(TEN_KM).expect("of the shape");
    assert_eq!(request.for_planning(given).today, NaiveDate::from_ymd_opt(2027, 4, 20));
    let request = PlanRequest::read(&changed("/today", &Value::Null)).expect("of the shape");
    assert_eq!(request.for_planning(given).today, given);
}

/// JSON of any shape, with the names of a request among its fields.
fn any_json() -> impl Strategy<Value = Value> {
    let leaf = prop_oneof![
        Just(Value::Null),
        any::<bool>().prop_map(Value::from),
        any::<f64>().prop_map(Value::from),
        (-5_i64..500).prop_map(Value::from),
        any::<String>().prop_map(Value::from),
        "(km|mi|min|m|easy|long|2027-05-09|2027-04-2[0-9]|10k|half|Europe/Lisbon|09:30|5:45|mon|auto)"
            .prop_map(Value::from),
    ];
    let names = "(today|athlete|name|units|base_week|mon|tue|sun|kind|amount|unit|hard|sets|reps|length|any_of|race|date|distance|km|mi|zone|start|block|days|curve|floor|pins|sessions|other_races|week_range|suits|[a-z]{1,3})";
    leaf.prop_recursive(5, 60, 6, move |inner| {
        prop_oneof![
            prop::collection::vec(inner.clone(), 0..4).prop_map(Value::from),
            prop::collection::vec((names, inner), 0..6).prop_map(|fields| Value::Object(fields.into_iter().collect())),
        ]
    })
}

/// The places of the ten-kilometre request at which something else may stand.
const PLACES: [&str; 14] = [
    "/today",
    "/athlete",
    "/athlete/name",
    "/base_week",
    "/base_week/mon",
    "/base_week/mon/0",
    "/base_week/mon/0/amount",
    "/base_week/tue/0/sets",
    "/base_week/tue/0/sets/0/length",
    "/race",
    "/race/date",
    "/race/distance",
    "/other_races",
    "/base_week/week_range",
];

proptest! {
    #[test]
    fn any_bytes_are_read_or_refused(text in any::<String>()) {
        prop_assert!(!wrong(&text).is_empty());
    }

    #[test]
    fn any_json_is_planned_or_refused(value in any_json()) {
        let text = value.to_string();
        if let Ok(request) = PlanRequest::read(&text) {
            let _ = planning::plan(&request.for_planning(None));
        }
    }

    #[test]
    fn anything_anywhere_in_a_request_is_planned_or_refused(
        place in prop::sample::select(&PLACES[..]),
        value in any_json(),
        format in 0..3,
    ) {
        let text = changed(place, &value);
        if wrong(&text).is_empty() {
            match format {
                0 => prop_assert!(!self::text(&text).is_empty()),
                1 => prop_assert!(!table(&text).is_empty()),
                _ => prop_assert!(answer(&text).is_object()),
            }
        }
    }
}
