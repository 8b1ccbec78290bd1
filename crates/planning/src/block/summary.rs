//! Weeks of a block in numbers: always the sum of the days shown.

use chrono::NaiveDate;

use super::Block;
use crate::units::{Distance, Share, Totals};

/// One week of a block, counted back from race day.
#[derive(Clone, Debug, PartialEq)]
pub struct WeekSummary {
    /// First day.
    pub from: NaiveDate,
    /// Last day.
    pub to: NaiveDate,
    /// Weeks before race week: race week is 0.
    pub before: u16,
    /// The base week's running.
    pub usual: Totals,
    /// The planned running, the race not counted.
    pub planned: Totals,
    /// Middle of planned over middle of usual, the race not counted.
    pub share: Share,
    /// The same against only those usual days that are not race day.
    pub same_days_share: Share,
    /// Hard running over all running, planned.
    pub intensity: Share,
    /// Hard running over all running, usual.
    pub usual_intensity: Share,
    /// Days with planned running, the race not counted.
    pub run_days: usize,
    /// Days with usual running.
    pub usual_run_days: usize,
    /// The race, in race week.
    pub race: Option<Distance>,
}

pub(super) fn weeks(block: &Block) -> Vec<WeekSummary> {
    let _ = block;
    todo!("next")
}

pub(super) fn cut(block: &Block) -> Share {
    let _ = block;
    todo!("next")
}
