//! Strength and cross-training.

use planning::Kind;
use planning::RaceDistance::{FiveK, Half, Marathon};

use crate::coach::{Coach, before, hardly_cut, on};

/// Strength every day on which nothing heavy stands near.
const EVERY_DAY: &str = "8 + strength 40 loaded | 8 + strength 40 loaded | 8 + strength 40 loaded | 8 + strength 40 loaded | 8 + strength 40 loaded | 8 + strength 40 loaded | 10";

fn strength(coach: &Coach, to_race: u16) -> Option<(String, bool)> {
    let block = coach.block();
    let day = on(&block, to_race);
    let session = &day.sessions.iter().find(|planned| planned.session.kind == Kind::Strength)?.session;
    Some((session.amount.map(|amount| amount.to_string()).unwrap_or_default(), session.loaded))
}

#[test]
fn as_usual_until_d10_then_light_then_body_weight_then_none() {
    let coach = before(Half, EVERY_DAY);
    assert_eq!(strength(&coach, 10), Some(("40 min".into(), true)));
    assert!(!coach.why(10).iter().any(|reason| reason.starts_with("strength")));
    for to_race in [9, 8] {
        let (_, loaded) = strength(&coach, to_race).expect("strength");
        assert!(!loaded, "D{to_race}");
        assert!(coach.why(to_race).contains(&"strength-light".to_owned()));
    }
    for to_race in [6, 5, 4] {
        let (_, loaded) = strength(&coach, to_race).expect("strength");
        assert!(!loaded, "D{to_race}");
        assert!(coach.why(to_race).contains(&"strength-body-weight".to_owned()));
    }
    for to_race in [3, 2, 1] {
        assert_eq!(strength(&coach, to_race), None, "D{to_race}");
        assert!(coach.why(to_race).contains(&"strength-off".to_owned()));
    }
}

#[test]
fn strength_without_minutes_eases_by_the_same_rule_and_says_so() {
    let coach =
        before(Half, "8 + strength | 8 + strength | 8 + strength | 8 + strength | 8 + strength | 8 + strength | 10");
    for (days, why) in [(8..=9, "strength-light"), (4..=6, "strength-body-weight"), (1..=3, "strength-off")] {
        for to_race in days {
            assert!(coach.why(to_race).contains(&why.to_owned()), "D{to_race}: {:?}", coach.why(to_race));
            assert_eq!(strength(&coach, to_race).is_some(), to_race > 3, "D{to_race}");
        }
    }
    assert!(!coach.why(10).iter().any(|reason| reason.starts_with("strength")));
}

#[test]
fn in_race_week_no_word_about_legs_or_weights_stands_beside_body_weight_only() {
    let note = |note: &str, to_race: u16| {
        let line = format!("8 + strength 40 min ({note})");
        let week = [line.as_str(); 6].join(" | ");
        let block = before(Half, &format!("{week} | 10")).block();
        let kept = on(&block, to_race).sessions.iter().find(|planned| planned.session.kind == Kind::Strength);
        kept.expect("strength").session.note.clone()
    };
    assert_eq!((note("legs", 8), note("legs", 6)), ("legs".into(), String::new()));
    assert_eq!(note("5 x 5 squats", 5), "");
    assert_eq!(note("core and balance", 4), "core and balance");
}

#[test]
fn it_is_so_before_a_short_block_too() {
    let coach = before(FiveK, EVERY_DAY);
    assert_eq!(strength(&coach, 10), Some(("40 min".into(), true)));
    assert_eq!(strength(&coach, 9).map(|(_, loaded)| loaded), Some(false));
}

#[test]
fn loaded_legs_never_stand_next_to_a_hard_or_a_long_day() {
    let coach = before(
        Marathon,
        "8 + strength 30 loaded | 8 | tempo 10, hard 4 | 8 + strength 30 loaded | 8 | 8 + strength 30 loaded | long 28",
    );
    // Monday after the long run, Thursday after the hard day, Saturday before the long run.
    for to_race in [20, 17, 15] {
        assert_eq!(strength(&coach, to_race), Some(("30 min".into(), false)), "D{to_race}");
        assert!(coach.why(to_race).contains(&"loaded-legs-off".to_owned()), "D{to_race}");
    }
    let apart = before(Marathon, "8 | 8 + strength 30 loaded | 8 | 8 | 8 | 8 | long 28");
    assert_eq!(strength(&apart, 19), Some(("30 min".into(), true)));
}

#[test]
fn strength_without_an_amount_stays_without_one() {
    let coach = before(Half, "8 | 8 | 8 + strength | 8 | 8 | 8 | 10");
    assert_eq!(strength(&coach, 4), Some((String::new(), false)));
    assert_eq!(strength(&coach, 11), Some((String::new(), false)));
}

#[test]
fn loaded_strength_without_an_amount_loses_its_load_too() {
    let coach = before(Half, "8 | 8 | 8 + strength loaded | 8 | 8 | 8 | 10");
    assert_eq!(strength(&coach, 4), Some((String::new(), false)));
    assert!(coach.why(4).contains(&"strength-body-weight".to_owned()));
}

#[test]
fn mobility_stays() {
    let coach = before(Half, "8 + mobility 15 | 8 | 8 | 8 | 8 + mobility 15 | 8 | 10");
    assert!(coach.day(6).ends_with("+ mobility 15 min"));
    assert!(coach.day(2).ends_with("+ mobility 15 min"));
}

#[test]
fn cross_training_comes_down_with_the_curve() {
    // 47.8 % on D3 of 60 minutes, in fives; half marathon, 14 days.
    let coach = before(Half, "8 | 8 | cross-training 60 | cross-training 60 | - | 8 | long 14");
    assert_eq!(coach.day(11), "cross-training 55 min");
    assert_eq!(coach.day(3), "cross-training 30 min");
}

#[test]
fn cross_training_is_never_so_short_that_nobody_changes_for_it() {
    let coach = before(Half, "8 | 8 | 8 | 8 | cross-training 30 | cross-training 15 | long 14");
    assert_eq!(coach.day(2), "cross-training 20 min");
    assert_eq!(coach.day(8), "cross-training 15 min");
}

#[test]
fn a_hard_part_of_cross_training_comes_down_and_goes_in_race_week() {
    let coach = before(Half, "8 | 8 | cross-training 60, hard 20 | 8 | - | 8 | long 14");
    assert_eq!(coach.day(18), "cross-training 60 min, hard 20 min");
    assert!(coach.day(11).contains("hard 1"), "{}", coach.day(11));
    assert_eq!(coach.day(4), "cross-training 35 min");
}

#[test]
fn cross_training_is_at_most_40_minutes_on_d2() {
    let coach = hardly_cut(before(Half, "8 | 8 | 8 | 8 | cross-training 90 | 8 | long 14"), 10);
    assert_eq!(coach.day(2), "cross-training 40 min");
}

#[test]
fn repetitions_of_cross_training_go_in_race_week_too() {
    let coach = before(Half, "8 | 8 | cross-training 60, 6 x 3 min | 8 | - | 8 | long 14");
    assert_eq!(coach.day(11), "cross-training 55 min, 6 x 3 min");
    assert_eq!(coach.day(4), "cross-training 35 min");
}

#[test]
fn what_no_longer_fits_inside_light_strength_goes() {
    let coach = before(Half, "8 | 8 + strength 40, 4 x 9 min | 8 | 8 | - | 8 | long 14");
    assert_eq!(coach.day(12), "easy 8 km + strength 40 min, 4 x 9 min");
    assert!(coach.day(5).ends_with("strength 20 min"), "{}", coach.day(5));
}

#[test]
fn its_hard_part_counts_among_the_two_hard_sessions_of_the_week_before_race_week() {
    // Two hard runs stay; before them the hard part of cross-training goes, wherever it stands.
    for week in [
        "cross-training 60, hard 20 | intervals 9, hard 3 | 8 | tempo 9, hard 4 | - | 8 | long 14",
        "8 | intervals 9, hard 3 | 8 | tempo 9, hard 4 | cross-training 60, hard 20 | 8 | long 14",
    ] {
        let coach = before(Half, week);
        let block = coach.block();
        let hard = |to_race: u16| on(&block, to_race).sessions.iter().any(|planned| planned.session.is_hard_work());
        assert_eq!((7..=13).rev().filter(|to_race| hard(*to_race)).collect::<Vec<_>>(), [12, 10], "{week}");
    }
    // Beside one hard run it stays.
    let coach = before(Half, "8 | intervals 9, hard 3 | 8 | 8 | cross-training 60, hard 20 | 8 | long 14");
    assert!(coach.day(9).contains("hard"), "{}", coach.day(9));
    let eased =
        before(Half, "cross-training 60, hard 20 | intervals 9, hard 3 | 8 | tempo 9, hard 4 | - | 8 | long 14");
    assert_eq!(eased.why(13)[0], "third-hard-eased cross-training");
}

#[test]
fn its_hard_part_goes_in_race_week_before_the_shortest_block_too() {
    let coach = before(FiveK, "cross-training 60, hard 20 | 8 | 8 | 8 | - | 8 | long 14")
        .set(|settings| settings.days = Some(4));
    assert_eq!(coach.day(6), "cross-training 60 min");
    assert_eq!(coach.why(6), ["hard-eased cross-training"]);
}

#[test]
fn loaded_legs_do_not_stand_next_to_hard_cross_training_either() {
    let coach = before(Marathon, "8 + strength 30 loaded | cross-training 60, hard 20 | 8 | 8 | 8 | 8 | long 28");
    assert_eq!(strength(&coach, 20), Some(("30 min".into(), false)));
    let easy = before(Marathon, "8 | 8 + strength 30 loaded | cross-training 60 | 8 | 8 | 8 | long 28");
    assert_eq!(strength(&easy, 19), Some(("30 min".into(), true)));
}

#[test]
fn strength_that_is_called_lighter_is_shorter_or_says_nothing() {
    for minutes in [10, 15, 20, 30, 45] {
        let day = format!("8 + strength {minutes}");
        let coach = before(Half, &format!("{} | 10", [day.as_str(); 6].join(" | ")));
        for to_race in [9, 8] {
            let says = coach.why(to_race).contains(&"strength-light".to_owned());
            let (now, _) = strength(&coach, to_race).expect("strength");
            assert_eq!(says, now != format!("{minutes} min"), "D{to_race}: {now} of {minutes}");
            assert_eq!(says, minutes > 10, "D{to_race}: {now} of {minutes}");
        }
    }
}

#[test]
fn a_shorter_session_says_nothing_of_the_minutes_of_the_usual_one() {
    let coach = before(Half, "8 | tempo 8, hard 3 | cross-training 60 (or day off, bike 60min) | 8 | - | 8 | long 14");
    let note = |to_race| on(&coach.block(), to_race).sessions[0].session.note.clone();
    assert_eq!((note(4).as_str(), note(11).as_str()), ("or day off", "or day off"), "{}", coach.day(4));
}

#[test]
fn words_that_leave_strength_to_the_athlete_go_with_it_in_the_last_three_days() {
    let coach = before(Half, "8 | 9 | tempo 9, hard 4 | 8 | rest (gym if time) | 5 | long 16");
    let words = |to_race| -> Vec<String> {
        on(&coach.block(), to_race).sessions.iter().map(|planned| planned.session.note.clone()).collect()
    };
    assert_eq!((words(9), words(2)), (vec!["gym if time".to_owned()], vec![]));
    let kept = before(Half, "8 | 9 | tempo 9, hard 4 | 8 | rest (family) | 5 | long 16");
    assert_eq!(on(&kept.block(), 2).sessions.len(), 1, "other words stay");
}
