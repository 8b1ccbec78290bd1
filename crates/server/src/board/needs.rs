//! The words of the board.

use chrono::NaiveDate;
use planning::Importance;
use store::{BoardBlock, BoardRow};

use super::urgency::{Need, Standing, Urgency, not_handed_over};

/// What the coach has to do.
pub(crate) const fn need(need: Need) -> &'static str {
    match need {
        Need::BaseWeek => "no base week",
        Need::Block => "no block yet",
        Need::HandOverAgain => "changed since it was handed over",
        Need::HandOver => "not handed over yet",
        Need::Goals => "no goals written",
    }
}

/// The heading above everybody who is as urgent.
pub(crate) const fn heading(urgency: Urgency) -> &'static str {
    match urgency {
        Urgency::Now => "Need you now",
        Urgency::Soon => "Soon",
        Urgency::Later => "In time",
        Urgency::Calm => "Nothing to do",
        Urgency::Resting => "No race ahead",
    }
}

/// How a block stands: handed over or not, with goals or without.
pub(crate) fn of_block(block: &BoardBlock) -> String {
    let mut said = vec![not_handed_over(block).map_or("handed over", need)];
    if !block.has_goals {
        said.push(need(Need::Goals));
    }
    said.join(", ")
}

/// Where the athlete stands between base week and race; empty where there is nothing to say.
pub(crate) fn stands(row: &BoardRow, standing: &Standing, today: NaiveDate) -> String {
    match (standing.to_race, &row.block) {
        (None, _) => String::new(),
        (Some(0), _) => "race today".to_owned(),
        (Some(1), _) => "race tomorrow".to_owned(),
        (Some(_), None) if row.importance == Some(Importance::TrainingThrough) => "out of normal training".to_owned(),
        (Some(_), None) => String::new(),
        (Some(days), Some(_)) if days <= 6 => "race week".to_owned(),
        (Some(_), Some(block)) => {
            let day = (today - block.block.first_day()).num_days();
            match day {
                -1 => "block begins tomorrow".to_owned(),
                day if day < 0 => format!("block begins in {} days", -day),
                day => format!("day {} of {} of the block", day + 1, block.block.curve.length),
            }
        }
    }
}
