//! The words in which the program speaks: calm, whole sentences, with figure and limit.

#![expect(clippy::expect_used, reason = "a test helper stops where its own data is wrong")]

use chrono::{NaiveDate, Weekday};
use formats::words;
use planning::notation::{Runner, read_day};
use planning::problem::Expected;
use planning::{
    About, Amount, DistanceUnit, Dropped, EventKind, Field, Figure, Finding, Kind, Level, Milli, Pace, Planned,
    Problem, ProblemKind, RaceDistance, Reason, Role, RuleId, Session, SetUnit, Share, Totals, Unit,
};

fn day(month: u32, day: u32) -> NaiveDate {
    NaiveDate::from_ymd_opt(2027, month, day).expect("a day")
}

fn session(line: &str) -> Session {
    read_day(line, DistanceUnit::Km).expect(line)[0].chosen().clone()
}

fn planned(usual: &str, now: &str, why: Vec<Reason>) -> Planned {
    Planned { session: session(now), usual: Some(session(usual)), role: Role::Plain, why }
}

/// A sentence: a capital or a figure first, a full stop last, no code names, no promise.
fn is_sentence(text: &str) {
    assert!(text.starts_with(|first: char| first.is_uppercase() || first.is_ascii_digit()), "{text}");
    assert!(text.ends_with('.'), "{text}");
    assert!(!text.contains(['_', '{', '}']) && !text.contains("  ") && !text.contains(".."), "{text}");
    for promise in ["will run", "faster", "guarantee", "peak", "invalid"] {
        assert!(!text.to_lowercase().contains(promise), "{text}");
    }
}

fn every_reason() -> Vec<Reason> {
    let amount = Amount::exact(Milli::whole(4), Unit::Km);
    vec![
        Reason::Ebb(Share(0.61)),
        Reason::LongRun(Share(0.75)),
        Reason::SecondLongRun(Share(0.45)),
        Reason::LongSlotEased(Share(0.22)),
        Reason::EasyNear(Share(0.6)),
        Reason::KeySession(Share(0.5)),
        Reason::KeyMovedHere(day(5, 6)),
        Reason::KeyMovedAway(day(5, 4)),
        Reason::HardEased(Kind::Tempo),
        Reason::ThirdHardEased(Kind::Fartlek),
        Reason::PlannedEasy(Kind::Progression),
        Reason::TouchOff,
        Reason::TimeTrialOff,
        Reason::Strides,
        Reason::RacePaceTouch,
        Reason::HillsFlat,
        Reason::Chosen,
        Reason::LeastWorth(amount),
        Reason::SmallestCut(amount),
        Reason::MostNear(amount),
        Reason::NotAboveEarlier,
        Reason::TookUp,
        Reason::AroundFixed,
        Reason::WarmUpStays,
        Reason::AroundWarmUps,
        Reason::AroundLonger(day(5, 4)),
        Reason::SecondRunOff,
        Reason::ExtraRest,
        Reason::DayBeforeRest,
        Reason::ShakeOut,
        Reason::StrengthLight,
        Reason::StrengthBodyWeight,
        Reason::StrengthOff,
        Reason::LoadedLegsOff,
        Reason::Race,
        Reason::Pinned,
        Reason::MovedFrom(day(5, 4)),
        Reason::MovedTo(day(5, 4)),
        Reason::ChangedPlaces(day(5, 4)),
        Reason::GaveWayToMoved(day(5, 4)),
        Reason::RestMovedTo(day(5, 4)),
        Reason::Recovering(Share(0.5)),
        Reason::Returning(Share(0.8)),
        Reason::AsOldPlan,
    ]
}

#[test]
fn every_reason_is_a_sentence_of_its_own() {
    let mut said: Vec<String> = every_reason().iter().map(|reason| words::reason(reason, DistanceUnit::Km)).collect();
    for text in &said {
        is_sentence(text);
    }
    said.sort();
    let count = said.len();
    said.dedup();
    assert_eq!(said.len(), count, "no two reasons say the same");
}

#[test]
fn reasons_say_what_was_what_is_and_why() {
    let of = |usual, now, why| words::reasons(&planned(usual, now, why), DistanceUnit::Km);
    assert_eq!(
        of("10", "6", vec![Reason::Ebb(Share(0.61)), Reason::LeastWorth(Amount::exact(Milli::whole(4), Unit::Km))]),
        [
            "Usually 10 km, now 6 km: this close to the race about 61% of the usual remains.",
            "A run of less than 4 km brings little, so it is not cut further.",
        ]
    );
    assert_eq!(
        of(
            "6 x 800 m 10k pace, 90 s jog, 10 km",
            "3 x 800 m 10k pace, 90 s jog, 6 km",
            vec![Reason::KeySession(Share(0.5))]
        ),
        [
            "Usually 10 km with 6 × 800 m, now 6 km with 3 × 800 m: the one hard session of race week keeps its pace and \
          recovery and about 50% of its hard part."
        ]
    );
    assert_eq!(
        of("tempo 10, hard 5", "6", vec![Reason::Chosen, Reason::HardEased(Kind::Tempo)])[1],
        "Usually tempo 10 km, 5 km hard, now easy 6 km: race week holds one hard session at most, so this is an easy run \
         instead of tempo."
    );
    assert_eq!(
        words::dropped(&Dropped { usual: session("easy 6 km"), why: vec![Reason::SecondRunOff] }, DistanceUnit::Km),
        ["Usually easy 6 km, now left out: second runs go first when they become too short or the race is near."]
    );
}

#[test]
fn an_easy_run_that_lost_its_hard_part_is_not_an_easy_run_instead_of_easy() {
    let said = |was| words::reason(&Reason::ThirdHardEased(was), DistanceUnit::Km);
    for kind in Kind::ALL {
        assert!(!said(kind).contains("instead of easy") && !said(kind).contains("instead of steady"), "{}", said(kind));
    }
    assert!(said(Kind::Easy).ends_with("so this easy run holds nothing hard."), "{}", said(Kind::Easy));
    assert!(said(Kind::Hills).ends_with("so this is an easy run instead of hills."), "{}", said(Kind::Hills));
}

#[test]
fn strides_are_not_told_as_hard_running() {
    let told = words::session_in(&session("easy 8 + 6 x 100 m strides"), DistanceUnit::Mi);
    assert!(!told.contains("hard"), "{told}");
    assert!(words::hard_part(&session("easy 8 + 6 x 100 m strides"), DistanceUnit::Mi).is_none());
}

#[test]
fn strength_says_what_it_is_and_an_assumed_part_is_not_repeated() {
    let of = |usual, now, why| words::reasons(&planned(usual, now, vec![why]), DistanceUnit::Km)[0].clone();
    assert!(
        of("strength 40 loaded", "strength 20", Reason::StrengthBodyWeight)
            .starts_with("Usually strength 40 min, loaded legs, now 20 min: ")
    );
    assert!(
        of("bike 60, hard 20", "bike 40", Reason::HardEased(Kind::CrossTraining))
            .starts_with("Usually cross-training 60 min, 20 min hard, now 40 min: ")
    );
    assert!(of("hills 12", "hills 8", Reason::Ebb(Share(0.67))).starts_with("Usually 12 km, now 8 km: "));
    assert!(
        of("hills 12", "easy 8", Reason::Ebb(Share(0.67)))
            .starts_with("Usually hills 12 km, about 3.6 km hard (assumed), now easy 8 km: ")
    );
}

#[test]
fn a_time_trial_over_a_usual_distance_is_all_hard() {
    for alone in ["time trial 5 km", "time trial 3 km", "time trial 10 km", "time trial 30 min", "5k TT"] {
        let trial = session(alone);
        assert_eq!(trial.hard_part(), trial.amount, "{alone}");
        let told = words::session(&trial);
        assert!(told.ends_with(", all of it hard"), "{alone}: {told}");
    }
    // With warm-up and cool-down in it nobody knows how much is raced.
    for whole in ["time trial 9 km", "time trial 14 km"] {
        assert!(words::session(&session(whole)).ends_with(" hard (assumed)"), "{whole}");
    }
    assert_eq!(words::session(&session("time trial 8 km, hard 5 km")), "time trial 8 km, 5 km hard");
}

#[test]
fn a_race_is_not_told_to_the_metre() {
    assert_eq!(words::session(&session("time trial 23 km, hard 21.098 km")), "time trial 23 km, 21.1 km hard");
}

#[test]
fn minutes_of_hard_running_are_not_told_as_kilometres() {
    let told = |line: &str| words::session(&session(line));
    assert_eq!(told("12 km with 25 min tempo"), "tempo 12 km: 1 × 25 min");
    let hard = |line: &str| words::hard_part(&session(line), DistanceUnit::Km).map(words::amount);
    assert_eq!(hard("12 km with 25 min tempo").as_deref(), Some("25 min"));
    assert_eq!(hard("intervals 60 min, 6 x 800 m").as_deref(), Some("4.8 km"));
    assert_eq!(hard("4 x 800 m, 2 x 2 min, 10 km").as_deref(), Some("4 km"), "4 min more at the assumed pace");
}

#[test]
fn repetitions_are_not_told_to_the_metre_in_miles() {
    let fives = words::hard_part(&session("intervals 8 mi, 5 x 800 m"), DistanceUnit::Mi);
    assert_eq!(fives.map(words::amount), Some("2.5 mi".to_owned()));
    assert_eq!(words::session(&session("tempo 5 mi, hard 2.25")), "tempo 5 mi, 2.25 mi hard", "as it was typed");
}

#[test]
fn amounts_are_told_in_the_readers_unit() {
    let miles = planned("easy 10 km", "easy 6 km", vec![Reason::Ebb(Share(0.61))]);
    assert!(words::reasons(&miles, DistanceUnit::Mi)[0].starts_with("Usually 6.2 mi, now 3.7 mi: "));
    let week: Totals =
        ["easy 40 km", "easy 10 mi", "easy 50 min"].iter().filter_map(|line| session(line).running()).collect();
    assert_eq!(words::totals(&week, DistanceUnit::Km), "56.1 km and 50 min");
    assert_eq!(words::totals(&week, DistanceUnit::Mi), "34.9 mi and 50 min");
    assert_eq!(words::totals(&Totals::default(), DistanceUnit::Mi), "0 mi");
    assert_eq!(words::amount(Amount::between(Milli(4500), Milli(6000), Unit::Km)), "4.5–6 km");
}

#[test]
fn minutes_beside_distance_are_told_as_an_estimate_where_a_pace_is_known() {
    let running =
        |lines: &[&str]| -> Totals { lines.iter().filter_map(|line| session(line).running()).collect::<Totals>() };
    let (week, usual, km) =
        (running(&["easy 4 km", "easy 20 min"]), running(&["easy 60 min"]), running(&["easy 4 km"]));
    let (unit, pace) = (DistanceUnit::Km, Pace::new(300, DistanceUnit::Km).ok());
    assert_eq!(words::totals_as_distance(&week, unit, pace), "4 km and 20 min, about 8 km");
    assert_eq!(words::totals_as_distance(&usual, unit, pace), "60 min, about 12 km");
    assert_eq!(words::totals_as_distance(&week, unit, None), "4 km and 20 min");
    assert_eq!(words::totals_as_distance(&km, unit, pace), "4 km");
    assert_eq!(words::in_all_brief(&week, &usual, unit, pace).as_deref(), Some("about 8 of 12 km"));
    assert_eq!(words::in_all_brief(&usual, &usual, unit, pace), None, "minutes alone need no estimate");
    // A week in kilometres and a block in minutes are two units, too.
    let said = Some("about 12 km of usually 4 km, the minutes counted at 5:00/km");
    assert_eq!(words::in_all_of(&usual, &km, unit, pace).as_deref(), said);
    assert_eq!(
        words::in_all_of(&week, &week, unit, pace).as_deref(),
        Some("about 8 km, the minutes counted at 5:00/km"),
        "said once"
    );
    assert_eq!(words::in_all_of(&week, &usual, unit, None), None);
}

#[test]
fn sessions_are_told_whole() {
    for (line, said) in [
        ("6 x 800 m 10k pace, 90 s jog, 10-12 km (track)", "intervals 10–12 km: 6 × 800 m 10k pace, 90 s jog (track)"),
        ("tempo 9-10 km, hard 4.5-5", "tempo 9–10 km, 4.5–5 km hard"),
        ("tempo 10", "tempo 10 km, about 5 km hard (assumed)"),
        ("long 30, hard 14", "long run 30 km, 14 km hard"),
        ("strength 40 loaded", "strength 40 min, loaded legs"),
        ("bike 45", "cross-training 45 min (bike)"),
        ("mobility", "mobility"),
        ("50 min", "easy 50 min"),
    ] {
        assert_eq!(words::session(&session(line)), said);
    }
}

fn finding(rule: RuleId, level: Level, figure: Figure, limit: Figure) -> Finding {
    Finding { rule, level, figure, limit, date: None, about: About::Nothing }
}

#[test]
fn findings_carry_figure_and_limit() {
    let on = |finding: Finding| Finding { date: Some(day(5, 3)), ..finding };
    let share = |value: f64| Figure::Share(Share(value));
    for (finding, units, said) in [
        (
            on(finding(RuleId::LongRunLate, Level::Caution, Figure::Days(6), Figure::Days(7))),
            DistanceUnit::Km,
            "A long run on Monday 3 May, 6 days before the race; the last one stands 7 days before the race or earlier.",
        ),
        (
            on(finding(
                RuleId::LongRunBig,
                Level::Caution,
                Figure::Amount(25.0, Unit::Km),
                Figure::Amount(18.0, Unit::Km),
            )),
            DistanceUnit::Km,
            "25 km on Monday 3 May is longer than the longest usual run, 18 km: nothing new before a race.",
        ),
        (
            on(finding(RuleId::CutTooSmall, Level::Caution, share(0.9), share(0.65))),
            DistanceUnit::Km,
            "The week from Monday 3 May keeps 90% of the usual running, more than the usual 65% at most: the legs may not \
             be rested.",
        ),
        (
            finding(RuleId::CutTooLarge, Level::Caution, Figure::Days(4), Figure::Days(3)),
            DistanceUnit::Km,
            "4 days in a row without running, and 3 days is the most that keeps the routine.",
        ),
        (
            finding(
                RuleId::BaseTooThin,
                Level::Caution,
                Figure::Amount(17.0, Unit::Km),
                Figure::Amount(20.0, Unit::Km),
            ),
            DistanceUnit::Mi,
            "10.6 mi a week, less than 12.4 mi: there is little to taper from, a shorter and shallower block is enough.",
        ),
        (
            finding(RuleId::BaseTooThin, Level::Caution, Figure::Count(1), Figure::Count(3)),
            DistanceUnit::Km,
            "1 running day a week, fewer than 3: there is little to taper from, a shorter and shallower block is enough.",
        ),
        (
            Finding {
                about: About::RaceWeek,
                ..finding(RuleId::FrequencyLost, Level::Caution, Figure::Count(3), Figure::Count(4))
            },
            DistanceUnit::Km,
            "Race week has 2 running days and the race, fewer than 3 running days and the race: the routine is kept, only \
             shorter.",
        ),
        (
            finding(RuleId::LengthUnusual, Level::Caution, Figure::Days(4), Figure::Days(8)),
            DistanceUnit::Km,
            "A block of 4 days; for this event 8 days is where the usual range begins.",
        ),
        (
            finding(RuleId::LengthUnusual, Level::Caution, Figure::Days(28), Figure::Days(21)),
            DistanceUnit::Km,
            "A block of 28 days; for this event 21 days is where the usual range ends.",
        ),
        (
            on(Finding {
                about: About::SecondRun,
                ..finding(RuleId::SomethingNew, Level::Caution, Figure::None, Figure::None)
            }),
            DistanceUnit::Km,
            "A second run on Monday 3 May, which the athlete is not used to: nothing new before a race.",
        ),
        (
            on(Finding {
                about: About::Race("Mill Five (invented)".to_owned()),
                ..finding(RuleId::RacesClash, Level::Note, Figure::Days(6), Figure::Days(10))
            }),
            DistanceUnit::Km,
            "Mill Five (invented) (Monday 3 May) is on a day of this block, 6 days before the goal race.",
        ),
    ] {
        assert_eq!(words::finding(&finding, units), said);
    }
}

#[test]
fn a_caution_is_said_whole_and_is_the_coachs_own() {
    let detail = "left Achilles sore since the hills in spring: no hills, ask before every hard session, stop if it warms up badly";
    let finding = Finding {
        rule: RuleId::PersonCaution,
        level: Level::Caution,
        figure: Figure::None,
        limit: Figure::None,
        date: None,
        about: About::Noted(detail.to_owned()),
    };
    assert_eq!(words::finding(&finding, DistanceUnit::Km), format!("Noted for this athlete: {detail}."));
    assert_eq!(words::source(&finding), "Noted by the coach.");
}

fn every_about() -> [About; 9] {
    let kind = EventKind::Illness { fever: true };
    [
        About::Nothing,
        About::RaceWeek,
        About::Race("Mill Five".to_owned()),
        About::Event { kind, open: true },
        About::HardAfter(kind),
        About::OnTheWay,
        About::Kind(Kind::Easy),
        About::SecondRun,
        About::Noted("a stiff ankle".to_owned()),
    ]
}

#[test]
fn every_rule_speaks_in_sentences_and_names_its_source() {
    let figures =
        [Figure::None, Figure::Share(Share(0.5)), Figure::Days(3), Figure::Count(2), Figure::Amount(12.5, Unit::Km)];
    for rule in RuleId::ALL {
        assert!(!words::rule(rule).is_empty());
        for level in [Level::Stop, Level::Caution, Level::Note] {
            for figure in figures {
                for date in [None, Some(day(5, 3))] {
                    for about in every_about() {
                        let finding = Finding { rule, level, figure, limit: figure, date, about };
                        is_sentence(words::source(&finding));
                        assert!(words::finding(&finding, DistanceUnit::Mi).ends_with('.'));
                    }
                }
            }
        }
    }
}

#[test]
fn problems_say_where_what_and_what_would_be_right() {
    let tuesday = || Field::Session(Weekday::Tue, 1);
    for (problem, said) in [
        (
            Problem::new(
                tuesday(),
                ProblemKind::Unreadable { text: "7 furlongs".to_owned(), expected: Expected::Unit },
            ),
            "Tuesday, session 2: “7 furlongs” is not a unit that is known here; write the unit as km, mi or min",
        ),
        (
            Problem::new(
                tuesday(),
                ProblemKind::HardAboveAmount { hard: Milli::whole(12), amount: Milli::whole(10), unit: Unit::Km },
            ),
            "Tuesday, session 2: the hard part of 12 km is more than the session of 10 km; give at most 10 km",
        ),
        (
            Problem::new(Field::BlockDays, ProblemKind::OutOfRange { value: 3.0, from: 4.0, to: 35.0 }),
            "Length of the block in days: 3 is too little; a number from 4 to 35",
        ),
        (
            Problem::new(Field::WeekRange, ProblemKind::LowAboveHigh { low: Milli::whole(60), high: Milli::whole(50) }),
            "Range of the week: the range 60–50 starts above its end; write the smaller number first, as in 50–60",
        ),
        (
            Problem::new(
                tuesday(),
                ProblemKind::RepetitionOutOfRange { length: Milli::ZERO, most: Milli::whole(600), unit: SetUnit::Min },
            ),
            "Tuesday, session 2: a repetition of 0 min cannot be; more than 0 and at most 600 min",
        ),
        (
            Problem::new(tuesday(), ProblemKind::Unreadable { text: " ".to_owned(), expected: Expected::HardPart }),
            "Tuesday, session 2: nothing is written where something is needed; write the hard part as an amount, as in 10 km, \
             hard 4 km",
        ),
    ] {
        assert_eq!(words::problem(&problem), said);
    }
}

#[test]
fn long_and_broken_text_is_quoted_short_and_on_one_line() {
    let quoted = words::quote(&"a\nb\u{7}".repeat(100));
    assert_eq!(quoted.chars().count(), 61);
    assert!(!quoted.contains(char::is_control));
}

#[test]
fn days_and_counts() {
    assert_eq!(words::full_date(day(5, 4)), "Tuesday 4 May 2027");
    assert_eq!(words::short_date(day(9, 5)), "Sun 5 Sep");
    assert_eq!(words::date_range(day(5, 3), day(5, 9)), "3 to 9 May");
    assert_eq!(words::date_range(day(4, 26), day(5, 2)), "26 April to 2 May");
    assert_eq!(words::date_range(day(5, 2), day(5, 2)), "2 May");
    let new_year = NaiveDate::from_ymd_opt(2028, 1, 2).expect("a day");
    assert_eq!(words::date_range(day(12, 27), new_year), "27 December 2027 to 2 January 2028");
    assert_eq!([0, 1, 2].map(words::days_to_race), ["race day", "the day before the race", "2 days before the race"]);
    assert_eq!([0, 1, 2].map(|count| words::plural(count, "day")), ["0 days", "1 day", "2 days"]);
    assert_eq!(words::race_distance(RaceDistance::Own(Milli::whole(1), DistanceUnit::Mi)), "1 mile");
}

#[test]
fn a_usual_week_is_told_with_range_middle_and_hard_part() {
    let lines = ["", "9-11", "", "tempo 10-13, hard 5", "", "7-9", "long 26-32"];
    let week = |range| planning::notation::read_week(&lines, range, DistanceUnit::Km).expect("a week");
    assert_eq!(
        words::usual_week(&week(""), DistanceUnit::Km, None),
        "52–65 km on 4 running days (low and high ends added up), in the middle 58.5 km; 9% of it hard."
    );
    assert_eq!(
        words::usual_week(&week("54-62"), DistanceUnit::Km, None),
        "52–65 km on 4 running days if each day is added up; the week as a whole 54–62 km; 9% of it hard."
    );
}

#[test]
fn an_edit_is_said_as_something_that_was_done() {
    use planning::{Athlete, Edit, Importance, Race, Request, Settings, plan};
    let lines = ["8", "6 x 800 m, 12", "10", "tempo 10", "", "6", "long 18"];
    let week = planning::notation::read_week(&lines, "", DistanceUnit::Km).expect("a week");
    let race = Race {
        name: "Harbour 10".into(),
        date: day(5, 9),
        distance: RaceDistance::TenK,
        start: None,
        zone: None,
        importance: Importance::Goal,
    };
    let athlete = Athlete { name: "Ana".into(), ..Athlete::default() };
    let settings = Settings::default();
    let request = Request::new(&athlete, &week, &race, &settings);
    let block = plan(&request).expect("a block");
    let (tuesday, wednesday) = (day(4, 27), day(4, 28));
    for (edit, words) in [
        (Edit::Change { day: tuesday, sessions: vec![session("5")], roles: Vec::new() }, "changed Tue 27 Apr"),
        (Edit::Change { day: tuesday, sessions: Vec::new(), roles: Vec::new() }, "made Tue 27 Apr a rest day"),
        (Edit::Move { from: tuesday, place: 0, to: wednesday }, "moved intervals from Tue 27 Apr to Wed 28 Apr"),
        (Edit::Swap { one: tuesday, other: wednesday }, "swapped Tue 27 Apr and Wed 28 Apr"),
        (Edit::Remove { day: tuesday, place: 0 }, "took intervals off Tue 27 Apr"),
        (Edit::Add { day: tuesday, session: session("strength 20") }, "added strength on Tue 27 Apr"),
        (Edit::Fix { day: tuesday }, "fixed Tue 27 Apr"),
        (Edit::Free { day: tuesday }, "freed Tue 27 Apr"),
    ] {
        assert_eq!(words::edit(&edit, &block), words);
    }
}

#[test]
fn every_variant_has_words_of_its_own() {
    let words: std::collections::BTreeSet<&str> = planning::VariantName::ALL.into_iter().map(words::variant).collect();
    assert_eq!(words.len(), planning::VariantName::ALL.len());
}

#[test]
fn what_cannot_be_bent_is_said_with_what_would_be_right() {
    let at = |kind| words::problem(&Problem::new(Field::Pin(day(5, 9)), kind));
    for (kind, end) in [
        (ProblemKind::RaceDayBent { date: day(5, 9) }, "is race day; choose another day"),
        (ProblemKind::SameDay { date: day(5, 9) }, "is the day itself; choose another day"),
        (
            ProblemKind::DayIsPast { date: day(5, 9), today: day(5, 10) },
            "(today is Monday 10 May 2027); give a day that is still to come",
        ),
        (
            ProblemKind::NoSuchSession { place: 2, count: 1 },
            "there is no session 2, the day holds 1 session; choose one that stands there",
        ),
    ] {
        assert!(at(kind).ends_with(end), "{end}");
    }
}

#[test]
fn what_is_wrong_with_a_line_of_a_race_is_said_with_the_line_and_what_would_be_right() {
    use planning::RaceTime;
    let time = RaceTime::seconds;
    for (at, kind, said) in [
        (
            Field::StationLine(3),
            ProblemKind::OutsideRace { value: Milli::whole(22), length: Milli(21_098), unit: DistanceUnit::Km },
            "Aid stations, line 3: 22 km is no place of this race; more than 0 and at most 21.098 km",
        ),
        (
            Field::StandLine(2),
            ProblemKind::SamePlace { value: Milli(3500), unit: DistanceUnit::Mi, line: 1 },
            "Where you stand, line 2: 3.5 mi stands in line 1 already; write each place once",
        ),
        (
            Field::StandLine(7),
            ProblemKind::TooManyLines { count: 9, most: 6 },
            "Where you stand, line 7: 9 lines are too many; at most 6 are kept",
        ),
        (
            Field::StationLine(1),
            ProblemKind::CutOffGoesBack { time: time(3600), earlier: time(4200) },
            "Aid stations, line 1: a cut-off of 1:00:00 is before the one of an earlier place, 1:10:00; give the time \
             since the start",
        ),
        (
            Field::StandLine(1),
            ProblemKind::Unreadable { text: "bridge".to_owned(), expected: Expected::Place },
            "Where you stand, line 1: “bridge” is not a place along the race; write how far it is and what it is \
             called, as in 8 km bridge",
        ),
    ] {
        assert_eq!(words::problem(&Problem::new(at, kind)), said);
    }
}

#[test]
fn clocks_ahead_and_behind_are_told_with_the_days_that_are_common() {
    let said = |minutes: f64, level| {
        let finding = Finding {
            rule: RuleId::Travel,
            level,
            figure: Figure::Amount(minutes, Unit::Min),
            limit: Figure::Amount(180.0, Unit::Min),
            date: Some(day(5, 9)),
            about: About::Nothing,
        };
        let text = words::finding(&finding, DistanceUnit::Km);
        is_sentence(&text);
        text
    };
    let ahead = said(420.0, Level::Caution);
    assert!(
        ahead.starts_with("The clocks at the race are 7 h ahead of those at home: about a day for each hour"),
        "{ahead}"
    );
    assert!(ahead.contains("about 7 days there") && ahead.contains("get up earlier"), "{ahead}");
    let behind = said(-270.0, Level::Note);
    assert!(behind.starts_with("The clocks at the race are 4 h 30 min behind those at home"), "{behind}");
    assert!(behind.contains("about 5 days there") && behind.contains("get up later"), "{behind}");
}

#[test]
fn kilometres_and_minutes_are_added_up_where_the_pace_is_known_and_called_an_estimate() {
    let lines = ["", "8", "", "60 min", "", "40 min", "long 16"];
    let week = planning::notation::read_week(&lines, "", DistanceUnit::Km).expect("a week");
    let pace = planning::Pace::new(300, DistanceUnit::Km).ok();
    let told = |pace| words::usual_week(&week, DistanceUnit::Km, pace);
    assert!(told(pace).ends_with(" In all about 44 km, the minutes counted at 5:00/km."), "{}", told(pace));
    assert!(!told(None).contains("In all"), "{}", told(None));
    let miles = words::usual_week(&week, DistanceUnit::Mi, pace);
    assert!(miles.ends_with(" In all about 27 mi, the minutes counted at 5:00/km."), "{miles}");
    let minutes = planning::notation::read_week(&["30 min"; 7], "", DistanceUnit::Km).expect("a week");
    assert!(!words::usual_week(&minutes, DistanceUnit::Km, pace).contains("In all"), "one unit says it itself");
}

#[test]
fn what_fixed_days_leave_of_a_week_has_a_heading_and_a_source_of_its_own() {
    let finding = |rule, level| {
        let share = |part| planning::Figure::Share(planning::Share(part));
        planning::Finding {
            rule,
            level,
            date: Some(day(4, 19)),
            figure: share(0.92),
            limit: share(0.98),
            about: planning::About::Nothing,
        }
    };
    let note = finding(RuleId::CutTooLarge, Level::Note);
    assert_eq!(words::heading(&note), "fixed days change the cut");
    assert!(!words::source(&note).contains("60%"), "{}", words::source(&note));
    assert_eq!(
        words::finding(&note, DistanceUnit::Km),
        "The week from Monday 19 April keeps 92% of the usual running because of fixed days; without them it would keep \
         98%, so more is taken away than the curve asks for."
    );
    let caution = finding(RuleId::CutTooLarge, Level::Caution);
    assert_eq!(words::heading(&caution), words::rule(RuleId::CutTooLarge));
    assert!(words::source(&caution).contains("above 60%"));
}

#[test]
fn what_is_not_over_is_no_block_that_begins_too_soon() {
    let finding = |figure, limit| Finding {
        rule: RuleId::BeginsTooSoon,
        level: Level::Caution,
        date: Some(day(4, 1)),
        figure,
        limit,
        about: planning::About::Event { kind: planning::EventKind::Injury, open: true },
    };
    assert_eq!(words::heading(&finding(Figure::None, Figure::None)), "an injury, no end noted");
    let over = finding(Figure::Days(2), Figure::Days(3));
    assert_eq!(words::heading(&over), words::rule(RuleId::BeginsTooSoon));
}

#[test]
fn rest_that_is_missing_or_too_much_of_it_is_told_by_its_cause() {
    let finding = |rule, figure, date| Finding {
        rule,
        level: Level::Note,
        date,
        figure,
        limit: Figure::Count(4),
        about: planning::About::RaceWeek,
    };
    let said = |rule, figure, date| words::finding(&finding(rule, figure, date), DistanceUnit::Km);
    let fixed = said(RuleId::NoRestPlace, Figure::Count(5), Some(day(5, 6)));
    assert!(fixed.ends_with("without an extra rest day: the coach fixed running on Thursday 6 May."), "{fixed}");
    let row = said(RuleId::RestClumped, Figure::Days(3), Some(day(5, 6)));
    assert!(row.starts_with("3 rest days stand side by side from Thursday 6 May"), "{row}");
}

#[test]
fn two_weeks_are_told_each_with_their_mean_and_whose_turn_it_is() {
    let seven = |line: &str| -> [_; 7] { std::array::from_fn(|_| read_day(line, DistanceUnit::Km).expect(line)) };
    let turns = planning::Turns { week: planning::SevenDays::new(seven("5")), stands_on: day(5, 3) };
    let week = planning::BaseWeek::new(seven("8"), None).taking_turns(Some(turns.clone()));
    assert_eq!(
        words::usual_week(&week, DistanceUnit::Km, None),
        "First week: 56 km on 7 running days; none of it hard. Second week: 35 km on 7 running days; none of it hard. In \
         the mean 45.5 km a week."
    );
    assert_eq!(
        words::whose_turn(&turns, day(5, 9)),
        "In this calendar week, from Monday 3 May, the second week stands; in the next one the first."
    );
    assert_eq!(
        words::whose_turn(&turns, day(5, 10)),
        "In this calendar week, from Monday 10 May, the first week stands; in the next one the second."
    );
}

/// What a question about a day tells to write, as it stands there.
fn told_to_write(sentence: &str) -> Vec<&str> {
    let ends = |text: &str| text.find([';', '?']).into_iter().chain(text.find(". ")).min().unwrap_or(text.len());
    let mut left = sentence;
    let mut found = Vec::new();
    while let Some(at) = left.find("as in ") {
        left = &left[at + "as in ".len()..];
        let part = &left[..ends(left)];
        let example = part.split(" or as in ").next().unwrap_or(part);
        found.push(example.trim_end_matches([',', '.']));
    }
    found
}

#[test]
fn what_a_question_about_a_day_tells_to_write_is_read() {
    let of_a_day = [
        Expected::Sets,
        Expected::HardPart,
        Expected::SessionKind,
        Expected::Session,
        Expected::Part,
        Expected::OneKind,
        Expected::OneAmount,
        Expected::OneHardPart,
        Expected::WholeRun,
        Expected::PartBetween,
        Expected::PartsInOrder,
        Expected::HowHard,
        Expected::RestOrRun,
        Expected::UnitOfRun,
        Expected::TwoRuns,
        Expected::Duration,
        Expected::Bracket,
        Expected::Quote,
    ];
    let mut count = 0;
    for expected in of_a_day {
        let sentence = words::expected(expected);
        let lines = told_to_write(sentence);
        assert!(!lines.is_empty(), "nothing to write: {sentence}");
        for line in lines {
            let read = read_day(line, DistanceUnit::Km);
            let sound = read.as_ref().is_ok_and(|day| {
                day.iter().flat_map(planning::Slot::options).all(|session| session.problems().is_empty())
            });
            assert!(sound, "{line}: {read:?}");
            count += 1;
        }
    }
    assert!(count > 20, "{count}");
    for (runner, counted) in [
        (DistanceUnit::Km.into(), "count at 6:00 for one kilometre, as no easy pace is noted;"),
        (
            Runner { units: DistanceUnit::Mi, easy_pace: Pace::new(540, DistanceUnit::Mi).ok() },
            "count at the athlete’s easy pace, 9:00 for one mile;",
        ),
    ] {
        let asked = read_day("2 wu, 20 min tempo, 2 cd", runner).expect_err("no sum");
        let sentence = words::problem_kind(&asked[0]);
        assert!(sentence.contains(counted), "{sentence}");
        let lines = told_to_write(&sentence);
        assert!(lines.len() == 1 && read_day(lines[0], runner).is_ok(), "{sentence}");
    }
    for kind in Kind::ALL {
        let sentence = words::problem_kind(&ProblemKind::AmountMissing { kind });
        for line in told_to_write(&sentence) {
            // Either one line, or several amounts to choose from.
            let mut amounts = line.split(" or ").flat_map(|part| part.split(", "));
            let reads = |line: &str| read_day(line, DistanceUnit::Km).is_ok();
            assert!(reads(line) || amounts.all(reads), "{line}");
        }
    }
}
