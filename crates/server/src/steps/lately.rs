//! What was lately done with one press, on a race's page.

use formats::words;
use store::{StepId, StepRecord};

use crate::clock::Clock;
use crate::shown;

/// One step as a line.
pub(crate) struct Lately {
    pub(crate) id: StepId,
    /// `Blocks made for 40 athletes`.
    pub(crate) what: String,
    /// `today at 09:00`.
    pub(crate) when: String,
    /// How far it was undone, if it was.
    pub(crate) undone: Option<String>,
    /// Whether it can be undone for somebody still.
    pub(crate) is_open: bool,
}

impl Lately {
    pub(crate) fn of(step: &StepRecord, clock: Clock) -> Self {
        let athletes = step.athletes as usize;
        let undone = match step.given_back {
            0 => "not undone yet".to_owned(),
            count if count == step.athletes => "undone".to_owned(),
            count => format!("undone for {count} of {athletes}"),
        };
        Self {
            id: step.id,
            what: format!("{} {}", super::done(step.kind), words::plural(athletes, "athlete")),
            when: when(step, clock),
            undone: step.undone.map(|_| undone),
            is_open: !step.is_finished(),
        }
    }
}

/// `today at 09:00`, `on Sun 18 Apr at 20:15`.
pub(super) fn when(step: &StepRecord, clock: Clock) -> String {
    let (at, today) = (clock.moment_of(step.made), clock.today());
    let time = at.format("%H:%M");
    if at.date() == today {
        format!("today at {time}")
    } else {
        format!("on {} at {time}", shown::day(at.date(), today))
    }
}
