//! Illness, travel, nights and the like.

use planning::{DistanceUnit, EventKind, Level, Life, RaceDistance, Reason, Role, RuleId};

use super::coach::{before, before_in, between, day, is_hard, km, on, wall, words};

const FEVER: EventKind = EventKind::Illness { fever: true };
const COLD: EventKind = EventKind::Illness { fever: false };

/// Forty miles on five days.
const FORTY_MILES: &str = "- | tempo 7, hard 3 | 6 | intervals 7, hard 3 | - | 4 | long 16";
const FIFTY_FIVE: &str = "- | tempo 10, hard 4 | - | 8 | 7 | - | long 30";
const FORTY_FIVE: &str = "- | intervals 9, hard 4 | - | 8 | - | 7 | long 21";

#[test]
fn a_cold_takes_the_last_long_run_and_nobody_gives_it_back() {
    let plan = before("2027-05-16", RaceDistance::Marathon, FIFTY_FIVE);
    let sick = plan.clone().event_noted(COLD, "2027-04-23", "2027-04-26", "2027-04-26");
    let (old, new) = (plan.plan(), sick.block());
    assert_eq!(words(on(&new, "2027-04-26")), "rest");
    for (old, new) in old.weeks().iter().zip(new.weeks()) {
        let km = |totals: &planning::Totals| totals.middle_km(planning::Pace::ASSUMED);
        assert!(km(&new.planned) <= km(&old.planned), "{}", new.from);
    }
    assert!(!is_hard(on(&new, "2027-04-27")) && !is_hard(on(&new, "2027-04-28")), "two easy days: {}", wall(&new));
    // From there on it is the old plan.
    for date in ["2027-04-29", "2027-05-02", "2027-05-09", "2027-05-11"] {
        assert_eq!(words(on(&new, date)), words(on(&old, date)));
    }
}

#[test]
fn the_easy_days_after_a_cold_are_short_and_hold_one_run() {
    let plan = before("2027-05-16", RaceDistance::Half, "10 + 6 | tempo 10, hard 4 | 12 + 6 | 10 | 12 | 8 | long 24");
    let sick = plan.clone().event_noted(COLD, "2027-05-02", "2027-05-04", "2027-05-04");
    let (old, new) = (plan.plan(), sick.block());
    for date in ["2027-05-05", "2027-05-06"] {
        let (before, now) = (on(&old, date), on(&new, date));
        let longest = before.sessions.iter().map(|planned| planned.session.running_middle()).max().unwrap_or_default();
        let [only] = now.sessions.as_slice() else { panic!("{date}: {}", words(now)) };
        assert!(only.session.running_middle().as_f64() <= longest.as_f64() * 0.6 + 1e-9, "{date}: {}", words(now));
    }
}

#[test]
fn three_days_of_fever_twelve_days_before() {
    let plan = before_in(DistanceUnit::Mi, "2027-03-21", RaceDistance::Marathon, FORTY_MILES);
    let sick = plan.clone().event_noted(FEVER, "2027-03-09", "2027-03-11", "2027-03-11");
    let block = sick.block();
    for date in ["2027-03-09", "2027-03-10", "2027-03-11", "2027-03-12"] {
        assert_eq!(words(on(&block, date)), "rest", "{}", wall(&block));
    }
    let left = between(&block, 8, 1);
    let miles = km(left) / 1.609_344;
    assert!(miles <= 20.0, "{miles}\n{}", wall(&block));
    assert!(between(&block, 8, 1).all(|day| !is_hard(day)), "no quality any more: {}", wall(&block));
    let old = plan.plan();
    for (old, new) in between(&old, 8, 6).zip(between(&block, 8, 6)) {
        // Two miles are the shortest run of any block.
        assert!(km([new]) <= (km([old]) * 0.5).max(2.0 * 1.609_344) + 0.001, "{}", wall(&block));
    }
    assert!(between(&block, 8, 1).filter(|day| !day.is_rest()).count() >= 2, "{}", wall(&block));
    let findings = sick.findings(&block);
    let illness = findings.iter().find(|found| found.rule == RuleId::IllnessNearRace).expect("a choice to take");
    assert_eq!(illness.level, Level::Caution);
    // What was ill about these days is the coach's own.
    let private = block.days.iter().flat_map(|day| &day.sessions).flat_map(|planned| &planned.why);
    assert!(private.clone().any(|reason| matches!(reason, Reason::Life(_))));
    assert!(private.map(|reason| reason.public()).all(|reason| !matches!(reason, Reason::Life(_))));
    let public = block.public();
    let mut said = public.days.iter().flat_map(|day| &day.sessions).flat_map(|planned| &planned.why);
    assert!(said.all(|reason| !matches!(reason, Reason::Life(_))) && *public != block);
    assert_eq!(*old.public(), old, "where nothing happened, nothing is left out");
}

#[test]
fn fever_in_the_last_week_stops() {
    let sick = before("2027-05-16", RaceDistance::Half, FORTY_FIVE).event(FEVER, "2027-05-10", "2027-05-10");
    let block = sick.block();
    let findings = sick.findings(&block);
    assert_eq!((findings[0].rule, findings[0].level), (RuleId::IllnessNearRace, Level::Stop));
}

#[test]
fn nothing_hard_stands_on_the_four_days_after_a_day_of_fever_nor_before_a_race_within_a_week_of_it() {
    // The key session of the last week stands on Tuesday 11 May.
    for (fever, key_stays) in [("2027-05-05", true), ("2027-05-06", true), ("2027-05-07", false), ("2027-05-09", false)]
    {
        let sick = before("2027-05-16", RaceDistance::Half, FORTY_FIVE).event(FEVER, fever, fever);
        let (old, block) = (sick.plan(), sick.block());
        assert!(is_hard(on(&old, "2027-05-11")), "{}", wall(&old));
        assert_eq!(is_hard(on(&block, "2027-05-11")), key_stays, "fever on {fever}: {}", wall(&block));
        // Where the review says stop, the block says nothing else.
        let stops = sick.findings(&block).iter().any(|found| found.level == Level::Stop);
        let hard_after = block.days.iter().filter(|day| day.date > super::coach::day(fever) && day.to_race > 0);
        assert!(!stops || hard_after.into_iter().all(|day| !is_hard(day)), "fever on {fever}: {}", wall(&block));
    }
}

#[test]
fn fever_of_any_length_gives_as_many_easy_days_after_a_day_without_and_three_at_least() {
    for days in 1..=5_u64 {
        let plan = before("2027-05-16", RaceDistance::Marathon, "8 | 8 | 8 | 8 | 8 | 8 | long 24");
        let last = day("2027-04-27") + chrono::Days::new(days - 1);
        let sick = plan.clone().event(FEVER, "2027-04-27", &last.to_string());
        let (old, new) = (plan.plan(), sick.block());
        for offset in 0..=days {
            let date = (day("2027-04-27") + chrono::Days::new(offset)).to_string();
            assert_eq!(words(on(&new, &date)), "rest", "day {offset} of {days}: {}", wall(&new));
        }
        let easy = days.max(3);
        for offset in days + 1..=days + easy {
            let date = (day("2027-04-27") + chrono::Days::new(offset)).to_string();
            // Three kilometres are the shortest run of any block.
            let half = (km([on(&old, &date)]) * 0.5).max(3.0);
            assert!(km([on(&new, &date)]) <= half + 0.001, "day {offset} of {days}");
        }
        let after = (day("2027-04-27") + chrono::Days::new(days + easy + 1)).to_string();
        assert_eq!(words(on(&new, &after)), words(on(&old, &after)), "{days} days: {}", wall(&new));
    }
}

#[test]
fn a_day_of_fever_in_race_week_leaves_runs_worth_going_out_for_and_reasons_that_are_true() {
    let plan =
        before("2027-05-16", RaceDistance::Half, "6 | intervals 8, hard 4 | 6 | tempo 8, hard 3 | 5 | - | long 14");
    let sick = plan.event(FEVER, "2027-05-10", "2027-05-10");
    let block = sick.block();
    for day in between(&block, 4, 1).filter(|day| !day.is_rest()) {
        assert!(km([day]) >= 3.0, "{}", wall(&block));
    }
    assert!(between(&block, 6, 1).all(|day| !is_hard(day)), "{}", wall(&block));
    let why = between(&block, 5, 1).flat_map(|day| &day.sessions).flat_map(|planned| &planned.why);
    let speaks_of_hard = |reason: &Reason| {
        matches!(reason, Reason::HardEased(_) | Reason::KeyMovedAway(_) | Reason::KeySession(_) | Reason::Strides)
    };
    assert!(why.into_iter().all(|reason| !speaks_of_hard(reason)), "{}", wall(&block));
}

#[test]
fn after_a_fever_one_run_a_day_is_enough() {
    let plan = before(
        "2027-05-16",
        RaceDistance::Marathon,
        "AM 12, PM 8 | AM 10, PM 8 | 14 | AM 12, PM 8 | 14 | 14 | long 30",
    );
    let block = plan.event(FEVER, "2027-04-23", "2027-04-24").block();
    for date in ["2027-04-26", "2027-04-27", "2027-04-28"] {
        assert_eq!(on(&block, date).sessions.len(), 1, "{}", wall(&block));
    }
}

#[test]
fn an_illness_takes_the_place_of_the_extra_rest_day() {
    let mut plan = before("2027-05-09", RaceDistance::Marathon, "10 | 10 | 10 | 10 | 10 | 10 | long 26");
    plan.settings.extra_rest = planning::ExtraRest::On(chrono::Weekday::Thu);
    let old = plan.plan();
    assert!(on(&old, "2027-05-06").is_rest(), "{}", wall(&old));
    for kind in [COLD, FEVER] {
        let sick = plan.clone().event(kind, "2027-05-03", "2027-05-03");
        let new = sick.block();
        let run = &on(&new, "2027-05-06").sessions;
        assert!(run.iter().any(|run| run.why.contains(&Reason::RestMovedTo(day("2027-05-03")))), "{}", wall(&new));
        assert!(km(between(&new, 6, 1)) < km(between(&old, 6, 1)), "nothing is made up: {}", wall(&new));
    }
    // An injury is no rest, and a day that is over is over.
    let hurt = plan.clone().event(EventKind::Injury, "2027-05-03", "2027-05-03").block();
    assert!(on(&hurt, "2027-05-06").is_rest(), "{}", wall(&hurt));
    let late = plan.event_noted(COLD, "2027-05-03", "2027-05-03", "2027-05-07").block();
    assert!(on(&late, "2027-05-06").is_rest(), "{}", wall(&late));
}

#[test]
fn hard_running_that_was_moved_and_then_lost_is_said_to_be_lost() {
    let plan = before("2027-05-16", RaceDistance::Half, "8 | 8 | 8 | tempo 9, hard 4 | 7 | - | long 18");
    let old = plan.plan();
    let moved = Reason::KeyMovedAway(day("2027-05-11"));
    assert!(on(&old, "2027-05-13").sessions[0].why.contains(&moved), "{}", wall(&old));
    let sick = plan.clone().event(COLD, "2027-05-11", "2027-05-11").block();
    let said = &on(&sick, "2027-05-13").sessions[0].why;
    assert!(said.contains(&Reason::FellAway(day("2027-05-11"))) && !said.contains(&moved), "{said:?}");
    // Moved on by a night of work, it is said to stand where it stands.
    let low = plan.event_noted(EventKind::LowEnergy, "2027-05-11", "2027-05-11", "2027-05-01").block();
    let stands = between(&low, 6, 1).find(|day| is_hard(day)).map(|day| day.date).expect("a day near by");
    assert_ne!(stands, day("2027-05-11"));
    assert!(on(&low, "2027-05-13").sessions[0].why.contains(&Reason::KeyMovedAway(stands)), "{}", wall(&low));
}

#[test]
fn days_around_a_race_that_an_illness_took_say_that_it_is_not_run() {
    let plan =
        before("2027-05-16", RaceDistance::Half, "8 | intervals 9, hard 4 | 8 | tempo 9, hard 4 | 7 | - | long 18")
            .other("2027-05-05", RaceDistance::FiveK, planning::Importance::TuneUp);
    let raced = on(&plan.plan(), "2027-05-06").clone();
    assert!(raced.sessions[0].why.contains(&Reason::AfterOtherRace(day("2027-05-05"))), "{raced:?}");
    let sick = plan.event(COLD, "2027-05-05", "2027-05-05").block();
    let said = &on(&sick, "2027-05-06").sessions[0].why;
    assert!(said.contains(&Reason::RaceFellAway(day("2027-05-05"))), "{said:?}");
}

#[test]
fn the_first_run_back_is_easy_however_few_runs_the_week_holds() {
    let three = before("2027-05-16", RaceDistance::Half, "- | 10 | - | tempo 12, hard 5 | - | - | long 18");
    for kind in [FEVER, COLD, EventKind::Injury] {
        // Wednesday and Thursday: the next run is Sunday's long one.
        let sick = three.clone().event(kind, "2027-05-05", "2027-05-06");
        let (old, new) = (sick.plan(), sick.block());
        let most = if kind == FEVER { km([on(&old, "2027-05-09")]) * 0.5 } else { 18.0 * 0.6 };
        assert!(km([on(&new, "2027-05-09")]) <= most + 0.001, "{kind:?}: {}", wall(&new));
        assert!(words(on(&new, "2027-05-09")).starts_with("easy"), "no long run any more: {}", wall(&new));
        assert_eq!(words(on(&new, "2027-05-11")), words(on(&old, "2027-05-11")));
    }
}

#[test]
fn feelings_alone_change_nothing() {
    // Effort and words are kept in the log; nothing of them reaches the planner. The same input twice is
    // the same plan, and hard days that felt awful are no event.
    let plan = before("2027-05-16", RaceDistance::Marathon, FIFTY_FIVE);
    assert_eq!(plan.block(), plan.block());
    assert_eq!(plan.block(), plan.plan());
    let done = [planning::DoneSession {
        date: day("2027-05-09"),
        kind: planning::Kind::Easy,
        amount: planning::Amount::exact(planning::Milli::whole(5), planning::Unit::Km),
        minutes: Some(40),
        effort: Some(10),
    }];
    let followed = planning::followed(&plan.plan(), &done, day("2027-05-10")).expect("a week that was planned");
    assert!(followed.share.0 < 1.0 && followed.excess(day("2027-05-10"), None).is_none());
}

#[test]
fn a_week_of_nights_holds_nothing_hard() {
    let nights = before("2027-04-25", RaceDistance::Marathon, FORTY_FIVE).event_noted(
        EventKind::NightShift,
        "2027-04-12",
        "2027-04-16",
        "2027-04-05",
    );
    let (old, new) = (nights.plan(), nights.block());
    for date in ["2027-04-12", "2027-04-13", "2027-04-14", "2027-04-15", "2027-04-16"] {
        assert!(!is_hard(on(&new, date)), "{}", wall(&new));
        assert_eq!(on(&new, date).is_rest(), on(&old, date).is_rest(), "easy runs stay");
    }
    for (old, new) in between(&old, 6, 1).zip(between(&new, 6, 1)) {
        assert!(km([new]) <= km([old]), "race week stays as light");
    }
}

#[test]
fn low_energy_days_move_hard_running_and_cut_nothing() {
    let plan = before("2027-05-16", RaceDistance::Marathon, "8 | 8 | - | 8 | tempo 10, hard 4 | 8 | long 24");
    let old = plan.plan();
    // The tempo of D9 is a Friday.
    let low = plan.clone().event_noted(EventKind::LowEnergy, "2027-05-07", "2027-05-07", "2027-05-01");
    let new = low.block();
    let hard = |block: &planning::Block| -> Vec<u16> {
        between(block, 13, 7).filter(|day| is_hard(day)).map(|day| day.to_race).collect()
    };
    assert_eq!(hard(&old), [9]);
    assert_ne!(hard(&new), [9], "{}", wall(&new));
    assert!(hard(&new).iter().all(|to_race| to_race.abs_diff(9) <= 2), "{:?}", hard(&new));
    assert!((km(&old.days) - km(&new.days)).abs() < 1e-9, "nothing is cut");
    // Taken back, it is the old plan to the letter.
    assert_eq!(plan.block(), old);
}

#[test]
fn an_injury_leaves_mobility_and_what_does_not_hurt() {
    let plan = before(
        "2027-05-16",
        RaceDistance::Half,
        "strength 30 min loaded | tempo 9, hard 4 | mobility 20 min + 8 | 8 | cross-training 40 min | 7 | long 18",
    );
    let hurt = plan.event(EventKind::Injury, "2027-05-03", "2027-05-07");
    let block = hurt.block();
    assert_eq!(words(on(&block, "2027-05-04")), "rest");
    assert_eq!(words(on(&block, "2027-05-05")), "mobility 20 min");
    assert!(words(on(&block, "2027-05-07")).starts_with("cross-training"), "{}", wall(&block));
    let reasons = on(&block, "2027-05-04").dropped.iter().flat_map(|dropped| &dropped.why);
    assert!(reasons.into_iter().all(|reason| *reason == Reason::Life(Life::Injured)));
    assert!(hurt.findings(&block).iter().any(|found| found.rule == RuleId::Injury));
}

#[test]
fn a_day_without_time_is_let_go_and_its_hard_running_moves_if_it_can() {
    let plan = before("2027-05-16", RaceDistance::Half, "8 | intervals 9, hard 4 | 8 | - | 8 | - | long 18");
    let busy = plan.clone().event_noted(EventKind::NoTime, "2027-05-04", "2027-05-04", "2027-05-01");
    let block = busy.block();
    assert_eq!(words(on(&block, "2027-05-04")), "rest");
    assert!(is_hard(on(&block, "2027-05-03")) || is_hard(on(&block, "2027-05-05")), "{}", wall(&block));
    assert!(km(between(&block, 13, 7)) < km(between(&plan.plan(), 13, 7)), "what is missed is not made up");
    // Known only on the day itself there is nowhere to move it back to.
    let late = plan.event(EventKind::NoTime, "2027-05-04", "2027-05-04");
    assert!(!is_hard(on(&late.block(), "2027-05-03")));
}

#[test]
fn what_was_noted_later_changes_no_day_before() {
    let plan = before("2027-05-16", RaceDistance::Marathon, "8 | 8 | 8 | 8 | 8 | 8 | long 24");
    let sick = plan.clone().event_noted(FEVER, "2027-04-27", "2027-04-29", "2027-05-02");
    let (old, new) = (plan.plan(), sick.block());
    assert_eq!(words(on(&new, "2027-04-28")), "rest", "days of the event are facts");
    for date in ["2027-04-30", "2027-05-01"] {
        assert_eq!(words(on(&new, date)), words(on(&old, date)), "past and unknown");
    }
    assert!(km([on(&new, "2027-05-02")]) <= km([on(&old, "2027-05-02")]) * 0.5, "{}", wall(&new));
}

/// A marathon week whose long run is not called so.
const EIGHTY: &str = "8 | intervals 12, hard 6 | 10 | tempo 13, hard 7 | - | 8 | 30";

#[test]
fn the_last_hard_session_stays_in_race_week_and_no_long_run_comes_nearer_to_the_race() {
    for kind in [EventKind::NightShift, EventKind::LowEnergy, EventKind::NoTime] {
        for (from, to) in [("2027-05-03", "2027-05-05"), ("2027-05-04", "2027-05-04"), ("2027-05-03", "2027-05-04")] {
            let plan = before("2027-05-09", RaceDistance::Marathon, EIGHTY).event_noted(kind, from, to, "2027-04-20");
            let (old, new) = (plan.plan(), plan.block());
            assert_eq!(words(on(&new, "2027-05-02")), words(on(&old, "2027-05-02")), "{kind:?}: {}", wall(&new));
            let race_week = |block: &planning::Block| km(between(block, 6, 1));
            assert!(race_week(&new) <= race_week(&old) + 1e-9, "{kind:?}: {}", wall(&new));
            assert!(between(&new, 6, 1).filter(|day| is_hard(day)).count() <= 1, "{kind:?}: {}", wall(&new));
        }
    }
}

#[test]
fn nights_that_cost_the_last_hard_session_leave_strides() {
    let plan = before("2027-05-09", RaceDistance::Marathon, "8 | intervals 12, hard 6 | 10 | 10 | - | 8 | 30");
    let block = plan.event_noted(EventKind::NightShift, "2027-05-03", "2027-05-05", "2027-04-20").block();
    assert!(between(&block, 6, 1).all(|day| !is_hard(day)), "{}", wall(&block));
    let strides = |day: &planning::Day| day.sessions.iter().any(|planned| planned.role == Role::EasyWithStrides);
    assert_eq!(between(&block, 6, 1).filter(|day| strides(day)).count(), 1, "{}", wall(&block));
}

#[test]
fn runs_that_change_places_do_not_both_say_that_the_other_day_suits_less() {
    let plan = before("2027-05-09", RaceDistance::Half, "- | intervals 10, hard 5 | 8 | tempo 10, hard 5 | - | 6 | 17");
    let block = plan.event_noted(EventKind::LowEnergy, "2027-04-29", "2027-04-29", "2027-04-20").block();
    let (hard, easy) = (on(&block, "2027-05-01"), on(&block, "2027-04-29"));
    assert!(hard.sessions[0].why.contains(&Reason::MovedFrom(day("2027-04-29"))), "{}", wall(&block));
    assert!(easy.sessions[0].why.contains(&Reason::ChangedPlaces(day("2027-05-01"))), "{}", wall(&block));
}

#[test]
fn a_day_without_time_takes_the_place_of_the_extra_rest_day() {
    let plan = before("2027-05-09", RaceDistance::Marathon, EIGHTY);
    let busy = plan.clone().event_noted(EventKind::NoTime, "2027-05-04", "2027-05-04", "2027-04-28");
    let (old, new) = (plan.plan(), busy.block());
    assert_eq!(words(on(&old, "2027-05-03")), "rest", "the extra rest day");
    // The key session moves by a day, and one rest day more than usual is enough.
    assert!(is_hard(on(&new, "2027-05-05")) && on(&new, "2027-05-04").is_rest(), "{}", wall(&new));
    assert_eq!(on(&new, "2027-05-03").sessions[0].why, [Reason::RestMovedTo(day("2027-05-04"))], "{}", wall(&new));
    assert!(km(between(&new, 6, 1)) <= km(between(&old, 6, 1)), "nothing is made up");
    // What is left out is what the day usually holds.
    let let_go = &on(&new, "2027-05-04").dropped;
    assert_eq!(let_go[0].usual, on(&new, "2027-05-04").usual[0]);
    assert_eq!(let_go[0].why, [Reason::MovedTo(day("2027-05-05"))]);
    // Known on the day itself, the rest day before is past.
    let late = plan.event(EventKind::NoTime, "2027-05-04", "2027-05-04").block();
    assert_eq!(words(on(&late, "2027-05-03")), "rest");
}

#[test]
fn a_long_break_has_a_longer_way_back() {
    for kind in [COLD, EventKind::Injury] {
        // Seven days: four easy ones behind them, none longer than in recovery.
        let block =
            before("2027-05-09", RaceDistance::Marathon, EIGHTY).event(kind, "2027-04-23", "2027-04-29").block();
        for date in ["2027-04-30", "2027-05-01", "2027-05-02", "2027-05-03"] {
            let day = on(&block, date);
            assert!(!is_hard(day) && km([day]) <= 30.0 * 0.4 + 0.001, "{kind:?}: {}", wall(&block));
        }
    }
}

#[test]
fn a_week_that_follows_a_lost_one_does_not_rise() {
    let sick = before("2027-05-09", RaceDistance::Marathon, EIGHTY).event(COLD, "2027-04-24", "2027-04-26");
    let rises =
        |plan: &super::coach::Plan| plan.findings(&plan.block()).iter().any(|found| found.rule == RuleId::WeekRises);
    assert!(!rises(&sick), "{}", wall(&sick.block()));
}

#[test]
fn running_given_back_leaves_no_run_that_is_not_worth_the_shoes() {
    let plan = before("2027-05-09", RaceDistance::Marathon, EIGHTY);
    let amount = planning::Amount::exact(planning::Milli::whole(60), planning::Unit::Km);
    let excess = Some(planning::Excess { amount, noted: day("2027-04-26") });
    let happened = planning::Happened { events: &[], excess };
    let block = planning::replan(&plan.plan(), &plan.athlete, &plan.week, &happened).expect("an excess that can be");
    assert!(km(between(&block, 13, 7)) < km(between(&plan.plan(), 13, 7)));
    assert!(between(&block, 13, 7).all(|day| day.is_rest() || km([day]) >= 4.0), "{}", wall(&block));
}
