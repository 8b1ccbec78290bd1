//! Travel: the days on the way, and those of a stay between them.

use planning::{DistanceUnit, EventKind, Life, RaceDistance, Reason, Role};

use super::coach::{before, before_in, between, is_hard, km, on, wall, words};

const FIFTY_FIVE: &str = "- | tempo 10, hard 4 | - | 8 | 7 | - | long 30";
const SIX_DAYS: &str = "8 | intervals 12, hard 6 | 10 | tempo 13, hard 7 | 9 | - | long 24";

#[test]
fn travel_four_days_before_a_marathon() {
    let plan = before("2026-09-27", RaceDistance::Marathon, FIFTY_FIVE);
    let away = plan.clone().event_noted(EventKind::Travel, "2026-09-23", "2026-09-24", "2026-09-14");
    let block = away.block();
    for date in ["2026-09-23", "2026-09-24"] {
        assert!(km([on(&block, date)]) <= 5.0 && !is_hard(on(&block, date)), "{}", wall(&block));
    }
    for date in ["2026-09-21", "2026-09-22"] {
        assert!(!is_hard(on(&block, date)), "nothing hard before flying: {}", wall(&block));
    }
    let strides = between(&block, 2, 1).flat_map(|day| &day.sessions).any(|one| one.role == Role::EasyWithStrides);
    let runs_after = between(&block, 2, 2).any(|day| !day.is_rest());
    assert!(strides || !runs_after, "strides keep quick running familiar: {}", wall(&block));
}

#[test]
fn of_a_stay_of_three_days_or_more_only_the_first_and_the_last_day_are_spent_on_the_way() {
    // Friday to Tuesday: Saturday's rest and Sunday's long run stand as without it.
    let plan = before("2027-05-16", RaceDistance::Half, SIX_DAYS);
    let away = plan.clone().event_noted(EventKind::Travel, "2027-04-30", "2027-05-04", "2027-04-10");
    let (old, new) = (plan.plan(), away.block());
    for date in ["2027-04-30", "2027-05-04"] {
        assert!(km([on(&new, date)]) <= 5.0 && !is_hard(on(&new, date)), "{date}: {}", wall(&new));
    }
    for date in ["2027-05-01", "2027-05-02"] {
        assert_eq!(words(on(&new, date)), words(on(&old, date)), "{date}: {}", wall(&new));
    }
    // Two days are both spent on the way.
    let short = plan.event_noted(EventKind::Travel, "2027-05-03", "2027-05-04", "2027-04-10").block();
    for date in ["2027-05-03", "2027-05-04"] {
        assert!(km([on(&short, date)]) <= 5.0 && !is_hard(on(&short, date)), "{date}: {}", wall(&short));
    }
}

#[test]
fn a_hard_session_on_a_day_on_the_way_or_just_before_moves_where_there_is_a_day_for_it() {
    // The only hard session of race week stands on Tuesday 11 May.
    let week = "8 | intervals 9, hard 4 | 8 | 8 | 8 | - | long 18";
    let plan = before("2027-05-16", RaceDistance::Half, week);
    let on_its_last_day = ("2027-05-10", "2027-05-11");
    let on_its_first_day = ("2027-05-11", "2027-05-11");
    let just_before = ("2027-05-12", "2027-05-12");
    for (from, to) in [on_its_last_day, on_its_first_day, just_before] {
        let block = plan.clone().event_noted(EventKind::Travel, from, to, "2027-04-10").block();
        assert!(is_hard(on(&plan.plan(), "2027-05-11")) && !is_hard(on(&block, "2027-05-11")), "{}", wall(&block));
        let stands: Vec<_> = between(&block, 6, 1).filter(|day| is_hard(day)).collect();
        if (from, to) == on_its_last_day {
            assert_eq!(stands.len(), 1, "after it: {}", wall(&block));
        }
        // Never on the way, nor in the two days before it.
        assert!(stands.iter().all(|day| day.date.to_string().as_str() > to), "{from}: {}", wall(&block));
        let is_easy = |date| km([on(&block, date)]) <= 5.0;
        assert!(is_easy(from) && is_easy(to), "what changes places with it is short there too: {}", wall(&block));
    }
    // Nothing moves to a day that is past, nor from one.
    let late = plan.event_noted(EventKind::Travel, "2027-05-10", "2027-05-11", "2027-05-13").block();
    assert!(between(&late, 6, 1).all(|day| !is_hard(day)), "{}", wall(&late));
}

#[test]
fn a_day_on_the_way_holds_half_an_hour_in_all() {
    let week = "AM 6, PM 4 | 6 + 4 | AM 2, PM 2 | 8 | cross-training 60 min + 6 | - | long 16";
    let plan = before_in(DistanceUnit::Mi, "2027-05-16", RaceDistance::Marathon, week);
    for date in ["2027-04-19", "2027-04-20", "2027-04-21", "2027-04-23"] {
        let block = plan.clone().event_noted(EventKind::Travel, date, date, "2027-04-10").block();
        let day = on(&block, date);
        assert_eq!(day.sessions.len(), 1, "{}", words(day));
        assert!((1.9..=3.0).contains(&(km([day]) / 1.609_344)), "{}", words(day));
    }
}

#[test]
fn strength_on_a_day_on_the_way_goes_for_a_reason_that_is_true_of_it_too() {
    let week = "strength 15 min + 8 | 8 | 8 | 8 | 8 | - | long 18";
    let plan = before("2027-05-16", RaceDistance::Half, week);
    let block = plan.event_noted(EventKind::Travel, "2027-05-03", "2027-05-03", "2027-04-10").block();
    let gone = &on(&block, "2027-05-03").dropped;
    assert!(gone.iter().any(|gone| gone.why == [Reason::Life(Life::Travelling)]), "{gone:?}");
}

#[test]
fn what_a_note_says_of_the_zone_stays_with_the_run_and_a_run_that_stays_keeps_all_of_it() {
    let week = "8 (Z2) | 4 (with Jo, Z1-Z2) | 8 (with Jo) | 8 | 8 | - | long 18";
    let plan = before("2027-05-16", RaceDistance::Half, week);
    let note = |kind, from: &str, date: &str| {
        let block = plan.clone().event_noted(kind, from, date, "2027-04-20").block();
        let runs = &on(&block, date).sessions;
        (runs[0].session.note.clone(), km([on(&block, date)]))
    };
    let said = |text: &str, km| (text.to_owned(), km);
    assert_eq!(note(EventKind::Travel, "2027-05-03", "2027-05-03"), said("Z2", 5.0));
    let (told, ran) = note(EventKind::Travel, "2027-05-04", "2027-05-04");
    assert!(told == "with Jo, Z1-Z2" && ran < 5.0, "the run stays as it is: {told}, {ran}");
    assert_eq!(note(EventKind::Travel, "2027-05-05", "2027-05-05"), said("", 5.0));
    // On the easy days after an illness, too.
    let cold = EventKind::Illness { fever: false };
    let block = plan.event_noted(cold, "2027-05-01", "2027-05-02", "2027-05-02").block();
    assert_eq!(on(&block, "2027-05-03").sessions[0].session.note, "Z2", "{}", wall(&block));
    assert_eq!(on(&block, "2027-05-04").sessions[0].session.note, "Z1-Z2", "{}", wall(&block));
}
