//! How a block begins: the one answer of everything that tells or shows it.

use chrono::NaiveDate;

use super::{Block, Day};
use crate::units::Pace;

/// How a block begins.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Beginning {
    /// The first day of the block, [`Block::first_day`]: everybody is told this day.
    pub first: NaiveDate,
    /// The day from which on an athlete is told what to run: `first`, or a day before it from which on something is
    /// other than usual, after an illness or around a race on the way. Until then everything is as usual.
    pub told_from: NaiveDate,
    /// The first day of the block that holds less running than usual. The curve leaves the first day whole, and small
    /// cuts are rounded away, so it mostly comes later; nothing where the running never comes down before the race.
    pub less_from: Option<NaiveDate>,
}

impl Beginning {
    /// Whether something is other than usual before the first day.
    pub fn is_changed_before(&self) -> bool {
        self.told_from < self.first
    }
}

pub(super) fn of(block: &Block) -> Beginning {
    let first = block.first_day();
    let told_from = block.told_days().iter().find(|day| !day.is_as_usual()).map_or(first, |day| day.date.min(first));
    let pace = block.pace.unwrap_or(Pace::ASSUMED);
    let is_less = |day: &&Day| {
        let (planned, usual) = (day.planned_running(), day.usual_running());
        day.date >= first && day.to_race > 0 && planned.middle_km(pace) < usual.middle_km(pace)
    };
    Beginning { first, told_from, less_from: block.days.iter().find(is_less).map(|day| day.date) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::athlete::Athlete;
    use crate::block::{Request, plan};
    use crate::curve::Settings;
    use crate::notation::read_week;
    use crate::race::{Importance, Race, RaceDistance};
    use crate::units::DistanceUnit;

    /// A block before a race on Sunday 9 May 2027.
    fn block(distance: RaceDistance) -> Block {
        let lines = ["", "tempo 9, hard 4", "", "8", "", "7", "long 16"];
        let week = read_week(&lines, "", DistanceUnit::Km).expect("a week of the trade");
        let date = NaiveDate::from_ymd_opt(2027, 5, 9).expect("a Sunday");
        let race = Race { name: String::new(), date, distance, start: None, zone: None, importance: Importance::Goal };
        let athlete = Athlete { name: "A. Runner".into(), ..Athlete::default() };
        plan(&Request::new(&athlete, &week, &race, &Settings::default())).expect("a block")
    }

    #[test]
    fn the_first_day_is_whole_and_the_running_comes_down_behind_it() {
        let block = block(RaceDistance::Marathon);
        let begins = block.beginning();
        assert_eq!((begins.first, begins.told_from), (block.first_day(), block.first_day()));
        let less = begins.less_from.expect("it comes down");
        assert!(less > begins.first, "{begins:?}");
        for day in block.days.iter().filter(|day| (begins.first..less).contains(&day.date)) {
            assert_eq!(day.planned_running(), day.usual_running(), "{}", day.date);
        }
    }

    #[test]
    fn what_is_changed_before_the_first_day_is_told_too_and_the_block_begins_as_before() {
        let mut block = block(RaceDistance::TenK);
        let before = block.beginning();
        let changed = block.days.iter_mut().rfind(|day| day.date < before.first && !day.sessions.is_empty());
        let changed = changed.expect("a run before the block");
        changed.sessions.clear();
        let told_from = changed.date;
        changed.dropped =
            changed.usual.iter().map(|usual| crate::block::Dropped { usual: usual.clone(), why: Vec::new() }).collect();
        assert_eq!(block.beginning(), Beginning { told_from, ..before });
        assert!(block.beginning().is_changed_before() && !before.is_changed_before());
    }
}
