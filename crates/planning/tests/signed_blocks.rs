//! Base weeks and the blocks that a coach would sign for them: structure as written, amounts within
//! 1 km, 1 mile or 5 minutes a session and 3 points a week.
//!
//! Source: invented weeks, read day by day by an experienced coach (common practice, no published source).

#![expect(
    clippy::unwrap_used,
    reason = "the file of blocks is ours: a line that cannot be read is a fault of the test"
)]

use chrono::{NaiveDate, Weekday};
use planning::{
    Amount, Athlete, BaseWeek, Block, DistanceUnit, Importance, Kind, Milli, Planned, Race, RaceDistance, Request,
    Role, Session, Settings, Slot, Unit, plan,
};

struct Case {
    name: String,
    race: RaceDistance,
    race_day: NaiveDate,
    unit: Unit,
    birth_year: Option<i32>,
    days: Option<u8>,
    week: BaseWeek,
    expected: Vec<(i32, Vec<String>)>,
}

fn cases() -> Vec<Case> {
    let text = include_str!("signed/blocks.txt");
    let mut cases: Vec<Case> = Vec::new();
    for line in text.lines() {
        if let Some(rest) = line.strip_prefix("case: ") {
            let parts: Vec<&str> = rest.split(" | ").map(str::trim).collect();
            let day = match parts[2] {
                "sat" => 8,
                "sun" => 9,
                "mon" => 10,
                other => panic!("no race day for {other}"),
            };
            let unit = Unit::ALL.into_iter().find(|unit| unit.symbol() == parts[3]).unwrap();
            let fact = |name: &str| {
                parts
                    .get(4)
                    .into_iter()
                    .flat_map(|facts| facts.split(", "))
                    .find_map(|fact| fact.strip_prefix(name)?.trim().parse::<i32>().ok())
            };
            cases.push(Case {
                name: parts[0].to_owned(),
                race: RaceDistance::from_code(parts[1]).unwrap(),
                race_day: NaiveDate::from_ymd_opt(2027, 5, day).unwrap(),
                unit,
                birth_year: fact("age").map(|age| 2027 - age),
                days: fact("days").map(|days| u8::try_from(days).unwrap()),
                week: BaseWeek::default(),
                expected: Vec::new(),
            });
        } else if let Some(rest) = line.strip_prefix("base: ") {
            let case = cases.last_mut().unwrap();
            let days: Vec<Vec<Slot>> = rest.split(" | ").map(|day| read_day(day, case.unit)).collect();
            case.week = BaseWeek::new(days.try_into().unwrap(), None);
        } else if let Some(rest) = line.strip_prefix("week: ") {
            let (share, days) = rest.split_once(" | ").unwrap();
            let share = share.trim_end_matches('%').parse().unwrap();
            cases.last_mut().unwrap().expected.push((share, days.split(" | ").map(str::to_owned).collect()));
        }
    }
    cases
}

fn read_day(day: &str, unit: Unit) -> Vec<Slot> {
    if day == "-" {
        return Vec::new();
    }
    let one = |text: &str| {
        let mut words = text.split(' ');
        let kind = Kind::from_code(words.next().unwrap()).unwrap();
        let amount = |text: &str| Amount::exact(Milli::nearest(text.parse().unwrap()), unit);
        let mut session = Session::new(kind, amount(words.next().unwrap()));
        session.hard = words.next().map(|hard| amount(hard.trim_start_matches('h')));
        Slot::one(session)
    };
    day.split(" + ").map(one).collect()
}

fn block(case: &Case) -> Block {
    let athlete = Athlete {
        name: "A. Runner".into(),
        units: if case.unit == Unit::Mi { DistanceUnit::Mi } else { DistanceUnit::Km },
        birth_year: case.birth_year,
        ..Athlete::default()
    };
    let race = Race {
        name: "Goal race".into(),
        date: case.race_day,
        distance: case.race,
        start: None,
        zone: None,
        importance: Importance::Goal,
    };
    let settings = Settings { days: case.days, ..Settings::default() };
    let request = Request::new(&athlete, &case.week, &race, &settings);
    plan(&request).unwrap()
}

/// A session in the words of the file: kind, strides, amount, hard part, moved.
fn written(planned: &Planned) -> (String, f64, Option<f64>) {
    let kind = match planned.role {
        Role::ShakeOut => "shake-out".to_owned(),
        Role::EasyWithStrides => "easy+str".to_owned(),
        Role::EasyWithRacePace => "easy+pace".to_owned(),
        _ => planned.session.kind.code().to_owned(),
    };
    let hard = planned.session.is_hard().then(|| planned.session.hard_middle().as_f64());
    (kind, planned.session.running_middle().as_f64(), hard)
}

#[test]
fn blocks_are_as_a_coach_would_sign_them() {
    let mut faults = Vec::new();
    let mut sessions = 0;
    for case in cases() {
        let block = block(&case);
        let weeks = block.weeks();
        assert_eq!(weeks.len(), case.expected.len(), "{}: weeks", case.name);
        for (index, (share, days)) in case.expected.iter().enumerate() {
            let got = weeks[index].share.percent();
            if (got - share).abs() > 3 {
                faults.push(format!("{} week {index}: {got} % for {share} %", case.name));
            }
            for (offset, expected) in days.iter().enumerate() {
                let day = &block.days[index * 7 + offset];
                let shown: Vec<_> = day.sessions.iter().map(written).collect();
                let place = format!("{} D{} {:?}", case.name, day.to_race, day.weekday());
                if expected == "-" || expected == "race" {
                    if !shown.is_empty() {
                        faults.push(format!("{place}: {shown:?} for {expected}"));
                    }
                    continue;
                }
                let wanted: Vec<&str> = expected.split(" + ").collect();
                if wanted.len() != shown.len() {
                    faults.push(format!("{place}: {shown:?} for {expected}"));
                    continue;
                }
                for (wanted, (kind, amount, hard)) in wanted.into_iter().zip(shown) {
                    sessions += 1;
                    let words: Vec<&str> = wanted.trim_end_matches('*').split(' ').collect();
                    let step = if case.unit == Unit::Min { 5.0 } else { 1.0 };
                    let near = (amount - words[1].parse::<f64>().unwrap()).abs() <= step;
                    if kind != words[0] || !near || hard.is_some() != words.get(2).is_some() {
                        faults.push(format!("{place}: {kind} {amount} h{hard:?} for {wanted}"));
                    }
                }
            }
        }
    }
    assert!(faults.is_empty(), "{} of {sessions}:\n{}", faults.len(), faults.join("\n"));
    assert!(sessions > 250, "the file was read: {sessions} sessions");
}

#[test]
fn race_days_of_the_file_fall_on_their_weekdays() {
    let days: Vec<Weekday> = cases().iter().map(|case| chrono::Datelike::weekday(&case.race_day)).collect();
    assert!(days.contains(&Weekday::Sat) && days.contains(&Weekday::Sun) && days.contains(&Weekday::Mon));
}
