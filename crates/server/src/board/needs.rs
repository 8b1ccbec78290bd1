//! The words of the board.

use chrono::{Datelike, NaiveDate};
use formats::words;
use planning::Importance;
use store::{BoardBlock, BoardRow};

use super::urgency::{Need, Standing, Urgency, not_handed_over};
use crate::blocks::lines::day_month;
use crate::clock::Clock;

/// What the coach has to do.
pub(crate) fn need(need: Need, clock: Clock) -> String {
    match need {
        Need::CalledOff => "the race is called off, and nothing is planned instead".to_owned(),
        Need::BaseWeek => "no base week".to_owned(),
        Need::Block => "no block yet".to_owned(),
        Need::HandOverAgain { held, at, present } => {
            format!("holds version {held} of {}, this is version {present}", day_month(clock.day_of(at)))
        }
        Need::NotesAgain => "goals or race sheet changed since they were handed over".to_owned(),
        Need::LinkEnded => "the link has ended".to_owned(),
        Need::HandOver => "not handed over yet".to_owned(),
        Need::Message(moment) => format!("message due today: {}", words::moment(moment)),
        Need::Goals => "no goals written".to_owned(),
        Need::Result(day) => format!("raced on {}, no result noted", raced_on(day, clock.today())),
    }
}

/// `Sunday` within the last week, else with its date.
fn raced_on(day: NaiveDate, today: NaiveDate) -> String {
    if (today - day).num_days() < 7 { words::weekday(day.weekday()).to_owned() } else { words::long_date(day) }
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
pub(crate) fn of_block(block: &BoardBlock, clock: Clock) -> String {
    let lack = not_handed_over(block, clock.today());
    let mut said = vec![lack.map_or_else(|| "handed over".to_owned(), |lack| need(lack, clock))];
    if !block.has_goals {
        said.push(need(Need::Goals, clock));
    }
    said.join(", ")
}

/// Where the athlete stands between base week and race; empty where there is nothing to say.
pub(crate) fn stands(row: &BoardRow, standing: &Standing, today: NaiveDate) -> String {
    if row.next_race.as_ref().is_some_and(|race| race.called_off.is_some()) {
        return row.block.as_ref().map_or_else(String::new, |_| "block for a race called off".to_owned());
    }
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
