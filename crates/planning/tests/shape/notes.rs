//! What a coach's note says of pace and effort stands beside shorter sessions too; how much is run does not.

use planning::RaceDistance::{Half, Marathon, TenK};

use crate::coach::{Coach, before, on};

fn notes(coach: &Coach, days: impl IntoIterator<Item = u16>) -> Vec<String> {
    let block = coach.block();
    let note = |to_race| on(&block, to_race).sessions.iter().map(|planned| planned.session.note.clone()).collect();
    days.into_iter().map(note).collect()
}

#[test]
fn a_shorter_session_keeps_its_pace() {
    // D19 is as usual; D12 and the key session on D5 are shorter.
    for (usual, shorter) in [
        ("8 km at marathon pace 4:12", "at marathon pace 4:12"),
        ("3 + 8 @ 4:12 + 3", "@ 4:12"),
        ("40' threshold @ 4:15", "threshold @ 4:15"),
        ("with Jo, 8 km brisk", "with Jo, brisk"),
        ("14 km on grass", ""),
    ] {
        let week = format!("8 | race pace 14 km, hard 8 km ({usual}) | 8 | 9 | 8 | - | long 28");
        assert_eq!(notes(&before(Marathon, &week), [19, 12, 5]), [usual, shorter, shorter]);
    }
}

#[test]
fn a_pace_that_repetitions_say_is_not_said_twice() {
    let week = "8 | 6 x 1000 m in 4:40, 12 km (group, 6x1000 m in 4:40) | 8 | 9 | 8 | - | long 18";
    assert_eq!(notes(&before(Half, week), [5]), ["group"]);
}

#[test]
fn a_key_session_that_was_moved_keeps_its_pace_and_nothing_of_its_usual_length() {
    let coach = before(Half, "- | 8 | - | 8 | tempo 10, hard 5 (5 km @ 4:00, 2 km wu, 3 km cd) | - | long 18");
    assert_eq!(coach.day(5), "key tempo 8 km, hard 2.5 km (@ 4:00, 2 km wu, 3 km cd)");
}

#[test]
fn the_hard_part_of_a_long_run_keeps_its_pace_where_it_is_run_alone() {
    let coach = before(Marathon, "8 | - | 9 | 8 | - | 9 | long 26, hard 12 (last 12 km @ 4:40, 2 gels)");
    assert_eq!(coach.day(4), "key race pace 9 km, hard 5 km (@ 4:40)");
    assert_eq!(notes(&coach, [14]), ["last 9 km @ 4:40, 2 gels"]);
}

#[test]
fn a_part_told_by_a_bare_number_stays_the_same_share_of_a_long_run() {
    let coach = before(TenK, "8 | tempo 10, hard 4 | - | 8 | - | 7 | long 20, \"last 6 a bit faster\"");
    assert_eq!(notes(&coach, [7]), ["last 5 a bit faster"]);
}
