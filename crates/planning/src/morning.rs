//! The morning of a race, counted back from the start in minutes that really pass: whoever knows the
//! clocks of the place turns them into times.

use chrono::{NaiveTime, TimeDelta, Timelike};

use crate::warm_up::WarmUp;

/// Something that has its time on the morning of a race.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Item {
    /// Getting up.
    Wake,
    /// The last meal.
    Eat,
    /// Leaving for the race.
    Leave,
    /// Being there.
    Arrive,
    /// Bags are taken until then.
    BagsClose,
    /// The warm-up begins.
    WarmUp,
    /// The pens close: who is not in starts behind.
    PensClose,
    /// Standing at the line.
    LineUp,
    /// The start.
    Start,
}

/// What the morning is made of. What is counted before the start is below zero after it.
#[derive(Clone, Copy, Debug)]
pub struct Given {
    /// The start by the clocks of the place: nobody is told to get up in the afternoon.
    pub start: NaiveTime,
    /// Minutes before the start at which the athlete eats.
    pub eat: u16,
    /// Minutes that the way to the race takes, where they are known.
    pub travel: Option<u16>,
    /// Minutes before the start at which bags are no longer taken.
    pub bags_close: Option<i32>,
    /// Minutes before the start at which the pens close.
    pub pens_close: Option<i32>,
    /// The warm-up.
    pub warm_up: WarmUp,
}

/// Something and how many minutes before the start its time is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Entry {
    /// What.
    pub item: Item,
    /// Minutes before the start.
    pub before: u32,
}

/// What does not go together.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Trouble {
    /// The pens close after the start.
    PensAfterStart,
    /// Bags are taken until after the start.
    BagsAfterStart,
    /// Breakfast falls into the journey or after it.
    EatOnTheWay,
}

/// The morning in the order in which it happens, and what does not go together in it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Morning {
    /// From the first to the start.
    pub entries: Vec<Entry>,
    /// What the coach has to look at; such a time is left out.
    pub troubles: Vec<Trouble>,
}

/// Minutes before the start at which an athlete eats where nothing is set.
///
/// # Source
///
/// Inside the 1 to 4 hours of [`crate::fuel::MEAL_HOURS`]; the number is common practice, no published source.
pub const EAT_BEFORE: u16 = 180;

/// Minutes at the line before the start.
const AT_THE_LINE: u32 = 10;
/// Minutes between coming there and the warm-up: number, queue, bag.
const SETTLE: u32 = 30;
/// Minutes from getting up to eating, and from getting up to leaving.
const UP: (u32, u32) = (15, 45);
/// Getting up has a time in these hours only, from the evening before to the morning.
const NIGHT: (u32, u32) = (22, 9);

/// The morning of a race.
///
/// # Source
///
/// The minutes at the line, between coming there and the warm-up, and after getting up are common
/// practice, no published source.
pub fn morning(given: &Given) -> Morning {
    let mut troubles = Vec::new();
    let mut before_start = |minutes: Option<i32>, trouble| {
        let before = u32::try_from(minutes?).ok();
        if before.is_none() {
            troubles.push(trouble);
        }
        before
    };
    let pens = before_start(given.pens_close, Trouble::PensAfterStart);
    let bags = before_start(given.bags_close, Trouble::BagsAfterStart);
    let line_up = pens.unwrap_or_default().max(AT_THE_LINE);
    let warm_up = line_up + u32::from(given.warm_up.minutes());
    let arrive = warm_up.max(bags.unwrap_or_default()) + SETTLE;
    let leave = given.travel.map(|travel| arrive + u32::from(travel));
    let eat = u32::from(given.eat);
    let away = leave.unwrap_or(arrive);
    if eat <= away {
        troubles.push(Trouble::EatOnTheWay);
    }
    let wake = (eat + UP.0).max(away + UP.1);
    let entry = |item, before| Entry { item, before };
    let mut entries = vec![
        entry(Item::Eat, eat),
        entry(Item::Arrive, arrive),
        entry(Item::WarmUp, warm_up),
        entry(Item::LineUp, line_up),
        entry(Item::Start, 0),
    ];
    entries.extend(is_night(given.start, wake).then_some(entry(Item::Wake, wake)));
    entries.extend(leave.map(|before| entry(Item::Leave, before)));
    entries.extend(bags.map(|before| entry(Item::BagsClose, before)));
    entries.extend(pens.map(|before| entry(Item::PensClose, before)));
    entries.sort_by_key(|entry| (std::cmp::Reverse(entry.before), entry.item));
    Morning { entries, troubles }
}

/// Whether so many minutes before the start people mostly sleep.
fn is_night(start: NaiveTime, before: u32) -> bool {
    let (at, _) = start.overflowing_sub_signed(TimeDelta::minutes(i64::from(before)));
    let (evening, morning) = NIGHT;
    let hour = at.hour();
    hour >= evening || hour < morning
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::race::Event;
    use crate::warm_up::warm_up;

    fn given(hour: u32) -> Given {
        Given {
            start: NaiveTime::from_hms_opt(hour, 0, 0).expect("a time"),
            eat: EAT_BEFORE,
            travel: Some(40),
            bags_close: Some(60),
            pens_close: Some(15),
            warm_up: warm_up(Event::Half, false),
        }
    }

    fn before(morning: &Morning, item: Item) -> Option<u32> {
        morning.entries.iter().find(|entry| entry.item == item).map(|entry| entry.before)
    }

    #[test]
    fn a_morning_runs_from_getting_up_to_the_start() {
        let morning = morning(&given(9));
        let said: Vec<_> = morning.entries.iter().map(|entry| (entry.item, entry.before)).collect();
        let expected = [
            (Item::Wake, 195),
            (Item::Eat, 180),
            (Item::Leave, 130),
            (Item::Arrive, 90),
            (Item::BagsClose, 60),
            (Item::WarmUp, 40),
            (Item::PensClose, 15),
            (Item::LineUp, 15),
            (Item::Start, 0),
        ];
        assert_eq!(said, expected);
        assert_eq!(morning.troubles, []);
    }

    #[test]
    fn what_is_not_known_has_no_time() {
        let morning = morning(&Given { travel: None, bags_close: None, pens_close: None, ..given(9) });
        for item in [Item::Leave, Item::BagsClose, Item::PensClose] {
            assert_eq!(before(&morning, item), None, "{item:?}");
        }
        assert_eq!(before(&morning, Item::LineUp), Some(10));
    }

    #[test]
    fn pens_and_bags_after_the_start_are_told_and_left_out() {
        let at = |pens, bags| morning(&Given { pens_close: Some(pens), bags_close: Some(bags), ..given(9) });
        assert_eq!(at(0, 0).troubles, []);
        assert_eq!(at(-1, 0).troubles, [Trouble::PensAfterStart]);
        assert_eq!(at(0, -1).troubles, [Trouble::BagsAfterStart]);
        let both = at(-15, -30);
        assert_eq!((before(&both, Item::PensClose), before(&both, Item::BagsClose)), (None, None));
    }

    #[test]
    fn a_breakfast_that_falls_into_the_journey_is_told() {
        let at = |travel| morning(&Given { travel: Some(travel), ..given(9) }).troubles;
        assert_eq!((at(89), at(90)), (vec![], vec![Trouble::EatOnTheWay]));
    }

    #[test]
    fn nobody_is_told_to_get_up_in_the_afternoon() {
        let wake = |hour| before(&morning(&given(hour)), Item::Wake);
        assert_eq!((wake(0), wake(3)), (None, Some(195)), "20:45 is no time to get up, 23:45 is");
        assert_eq!((wake(12), wake(13), wake(19)), (Some(195), None, None));
    }

    proptest! {
        #[test]
        fn the_order_holds_whatever_is_given(
            hour in 0_u32..24, eat in 30_u16..=360, travel in proptest::option::of(0_u16..=1440),
            bags in proptest::option::of(-2000_i32..2000), pens in proptest::option::of(-2000_i32..2000),
            event in 0_usize..5, is_warm: bool,
        ) {
            let warm_up = warm_up(Event::ALL[event], is_warm);
            let morning = morning(&Given { eat, travel, bags_close: bags, pens_close: pens, warm_up, ..given(hour) });
            prop_assert!(morning.entries.is_sorted_by(|one, next| one.before >= next.before));
            prop_assert_eq!(morning.entries.last().map(|entry| entry.item), Some(Item::Start));
            let at = |item| before(&morning, item);
            prop_assert!(at(Item::Arrive) > at(Item::WarmUp) && at(Item::WarmUp) > at(Item::LineUp));
            prop_assert!(at(Item::Arrive) > at(Item::BagsClose) && at(Item::LineUp) >= at(Item::PensClose));
            if let Some(wake) = at(Item::Wake) {
                prop_assert!(Some(wake) > at(Item::Eat) && Some(wake) > at(Item::Leave) && Some(wake) > at(Item::Arrive));
            }
        }
    }
}
