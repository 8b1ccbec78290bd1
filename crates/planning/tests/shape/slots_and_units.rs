//! Alternatives, ranges and units.

use planning::RaceDistance::{Half, Marathon};
use planning::{Kind, Milli, Role, Unit};

use crate::coach::{before, on};

#[test]
fn of_alternatives_the_flattest_and_nearest_to_racing_is_taken() {
    let coach = before(Half, "- | hills 9 or tempo 9, hard 4 | - | 8 | - | 7 | long 18");
    assert_eq!(coach.day(12), "tempo 9 km, hard 4 km");
    assert_eq!(coach.why(12), ["chosen"]);
    let coach = before(Half, "- | intervals 9, hard 3 or race pace 9, hard 3 | - | 8 | - | 7 | long 18");
    assert_eq!(on(&coach.block(), 12).sessions[0].session.kind, Kind::RacePace);
}

#[test]
fn a_range_keeps_its_width_in_proportion() {
    let coach = before(Half, "- | 11-13 | - | 11-13 | - | 11-13 | long 22");
    for day in &coach.block().days {
        for planned in &day.sessions {
            let (now, usual) = (planned.session.amount, planned.usual.as_ref().and_then(|usual| usual.amount));
            let (Some(now), Some(usual)) = (now, usual) else { continue };
            if !usual.is_range() || now == usual || planned.role == Role::ShakeOut {
                continue;
            }
            let width = (now.high() - now.low()).as_f64();
            let wanted = 2.0 * now.middle().as_f64() / 12.0;
            // A single 6 stands between 5 and 6-7, so that there is no hole.
            let fills_a_hole = now.to_string() == "6 km";
            let right = if wanted < 1.0 { width.abs() < 1e-9 } else { (width - wanted).abs() <= 0.5 || fills_a_hole };
            assert!(right, "D{}: {now}", day.to_race);
        }
    }
    assert_eq!(coach.day(3), "easy 6 km");
}

#[test]
fn minutes_stay_minutes_by_fives() {
    let coach = before(Marathon, "- | 50 min | tempo 70 min, hard 20 min | 45 min | - | 40 min | long 130 min");
    for day in &coach.block().days {
        for planned in &day.sessions {
            let amount = planned.session.amount.expect("an amount");
            assert_eq!(amount.unit(), Unit::Min);
            assert_eq!(amount.middle().0 % 5_000, 0, "D{}: {amount}", day.to_race);
        }
    }
}

#[test]
fn mixed_units_are_cut_each_in_its_own() {
    let coach = before(Half, "- | tempo 9, hard 4 | - | 50 min | - | 4 mi | long 18");
    let block = coach.block();
    for day in &block.days {
        for planned in &day.sessions {
            assert_eq!(
                planned.session.amount.map(planning::Amount::unit),
                planned.usual.as_ref().and_then(|usual| usual.amount).map(planning::Amount::unit),
                "D{}",
                day.to_race
            );
        }
    }
    let week = &block.weeks()[1];
    assert!(week.planned.of(Unit::Km).middle() < week.usual.of(Unit::Km).middle());
    assert!(week.planned.of(Unit::Min).middle() < week.usual.of(Unit::Min).middle());
    assert!(week.planned.of(Unit::Mi).middle() < week.usual.of(Unit::Mi).middle());
}

#[test]
fn running_that_a_rest_day_gave_away_is_taken_up_by_a_quarter_at_most() {
    let coach = before(Half, "8 | tempo 9, hard 4 | 8 | 8 | 8 | 8 | long 18");
    let block = coach.block();
    let took: Vec<u16> = (1..=6).filter(|to_race| coach.why(*to_race).contains(&"took-up".to_owned())).collect();
    assert!(!took.is_empty(), "{}", coach.race_week());
    for to_race in took {
        let wish = 8.0 * block.curve.share(to_race).0;
        let now = on(&block, to_race).sessions[0].session.running_middle();
        assert!(now <= Milli::nearest(1.25 * wish.max(4.0) + 0.5), "D{to_race}: {now} of {wish}");
    }
}

#[test]
fn a_week_of_odd_amounts_stays_below_the_one_before() {
    // With 5.1 and 4.8 km as typed, no sum just below the 70.8 km of the week before can be reached.
    let week = "tempo 27 min, hard 10 min | 28.4 | 8.9 | 19.1 | easy 5.1, hard 0.1 + tempo 19, hard 4.4 | 28.6 | 4.8";
    let coach = before(Marathon, week).set(|settings| settings.shape = planning::Shape::Step);
    let shares: Vec<f64> = coach.block().weeks().iter().map(|week| week.share.0).collect();
    assert!(shares.windows(2).all(|pair| pair[1] <= pair[0]), "{shares:?}");
}
