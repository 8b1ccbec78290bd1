//! Strides are no hard running: neither counted nor kept in the place of some.

use planning::RaceDistance::{FiveK, Half, Marathon, TenK};
use planning::notation::{read_day, read_week};
use planning::{DistanceUnit, Kind};

use crate::coach::before;

#[test]
fn strides_and_short_sprints_uphill_are_not_hard_and_longer_repetitions_are() {
    let hard = |line: &str| {
        let day = read_day(line, DistanceUnit::Km).expect(line);
        day[0].chosen().hard_middle().as_f64()
    };
    for line in [
        "easy 8 + 6 x 100 m strides",
        "8 + 6 x 20 s strides",
        "long 20, 6 x 20 s strides",
        "easy 8, 4 x 120 m",
        "easy 8, 8 x 20 s",
        "hills 8, 8 x 10 s",
        "strides 6, 6 x 100 m",
    ] {
        assert!(hard(line) == 0.0, "{line}: {}", hard(line));
    }
    for line in ["easy 8, 6 x 400 m", "easy 8, 6 x 60 s", "hills 8, 8 x 30 s", "intervals 8, 20 x 100 m"] {
        assert!(hard(line) > 0.0, "{line}");
    }
    // Strides beside other repetitions leave those as hard as they are.
    assert!((hard("tempo 10, 2 x 2 km, 6 x 100 m strides") - 4.0).abs() < 1e-9);
    let week = read_week(&["8 + 6 x 100 m strides", "", "tempo 9, hard 4", "", "", "", ""], "", DistanceUnit::Km)
        .expect("a week");
    assert!((week.first().hard_running().parts()[0].middle().as_f64() - 4.0).abs() < 1e-9);
}

#[test]
fn they_are_not_counted_among_the_hard_sessions_of_a_week() {
    let coach =
        before(Marathon, "tempo 10, hard 4 | 8 | intervals 10, hard 4 | - | 9 + 6 x 100 m strides | - | long 24");
    for to_race in [13, 11] {
        assert!(!coach.why(to_race).iter().any(|why| why.starts_with("third-hard")), "{:?}", coach.why(to_race));
    }
    assert!(!coach.why(9).iter().any(|why| why.contains("hard")), "{:?}", coach.why(9));
    assert!(coach.day(9).contains("6 x 100"), "{}", coach.day(9));
}

#[test]
fn hills_that_became_easy_are_called_hills_and_not_run_on_the_flat() {
    let coach = before(Half, "- | tempo 10, hard 4 | 8 | hills 10, hard 3 | - | 7 | long 18");
    let why = coach.why(3);
    assert!(why.contains(&format!("hard-eased {}", Kind::Hills.code())), "{why:?}");
    assert!(!why.contains(&"hills-flat".to_owned()), "{why:?}");
}

#[test]
fn the_planner_puts_none_on_two_days_in_a_row() {
    let four = "tempo 10, hard 4 | intervals 10, hard 4 | fartlek 10, hard 4 | hills 10, hard 3 | - | 7 | long 18";
    let mut some = 0;
    for race in [FiveK, TenK, Half, Marathon] {
        for week in
            [four, "8 | tempo 10, hard 4 | 8 + 6 x 100 m strides | intervals 10, hard 4 | strides 8 | 7 | long 18"]
        {
            let block = before(race, week).block();
            let quick = |day: &planning::Day| day.sessions.iter().any(|planned| planned.role.holds_quick_running());
            let own = |day: &planning::Day| {
                let strides = |planned: &planning::Planned| {
                    planned.session.kind == Kind::Strides || planned.session.holds_strides()
                };
                day.sessions.iter().any(strides)
            };
            let added = |day: &planning::Day| {
                day.sessions.iter().any(|planned| planned.role == planning::Role::EasyWithStrides)
            };
            for pair in block.days.windows(2) {
                assert!(!(quick(&pair[0]) && quick(&pair[1])), "{race:?}: {pair:#?}");
                assert!(!(added(&pair[0]) && own(&pair[1])), "{race:?}: {pair:#?}");
                assert!(!(own(&pair[0]) && added(&pair[1])), "{race:?}: {pair:#?}");
            }
            some += block.days.iter().filter(|day| quick(day)).count();
        }
    }
    assert!(some > 4, "{some} days with strides");
}

#[test]
fn the_long_run_of_a_week_that_loses_its_hard_part_is_still_the_long_run() {
    let week = "- | tempo 8, hard 3 | - | intervals 8, hard 3 | - | 6 | progression 14, hard 4";
    let coach = before(Marathon, week);
    assert!(coach.day(7).starts_with("long"), "{}", coach.day(7));
    assert!(!coach.day(7).contains("strides"), "{}", coach.day(7));
    assert!(coach.why(7).contains(&"third-hard-eased long".to_owned()), "{:?}", coach.why(7));
}
