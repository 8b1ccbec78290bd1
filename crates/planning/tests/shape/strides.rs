//! Strides are no hard running: neither counted nor kept in the place of some.

use planning::RaceDistance::{Half, Marathon};
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
