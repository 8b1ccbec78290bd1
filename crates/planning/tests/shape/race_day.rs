//! The race, and the base week around it.

use planning::RaceDistance::Half;
use planning::week::WEEKDAYS;

use crate::coach::{before, on};

#[test]
fn the_race_takes_the_place_of_whatever_stood_there() {
    let coach = before(Half, "- | tempo 9, hard 4 | - | 8 | - | 7 | long 16 + strength 20");
    let block = coach.block();
    let day = on(&block, 0);
    assert!(day.sessions.is_empty() && !day.is_rest());
    assert_eq!(day.dropped.len(), 2);
    assert_eq!(coach.why(0), ["race", "race"]);
}

#[test]
fn the_base_week_stands_on_its_weekdays_whatever_the_race_day() {
    for weekday in WEEKDAYS {
        let block = before(Half, "4 | 5 | 6 | 7 | 8 | 9 | 10").on(weekday).block();
        for day in &block.days {
            let km = 4 + day.weekday().num_days_from_monday() as i32;
            assert_eq!(day.usual[0].running_middle(), planning::Milli::whole(km));
        }
    }
}
