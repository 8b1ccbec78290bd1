//! An illness or injury that goes on: how it is said, and what the form to end it holds.

use chrono::NaiveDate;
use formats::words;
use store::{EventId, EventRecord};

use super::show::Typed;
use crate::form::Problems;
use crate::shown;

/// Something that is not over yet.
pub(crate) struct OpenEvent {
    pub(crate) id: EventId,
    pub(crate) version: String,
    /// `Ill since Tuesday, no end noted`.
    pub(crate) said: String,
    /// `illness`.
    pub(crate) what: &'static str,
    /// What the end is asked for as: `First day without fever`.
    pub(crate) label: &'static str,
    /// Whether it began before today: else no day without it has come yet, and there is no end to note.
    pub(crate) can_end: bool,
    /// The first day on which the athlete is well: as typed, else today.
    pub(crate) well: String,
    pub(crate) problems: Vec<String>,
}

impl OpenEvent {
    /// Of what has no end, with nothing typed; nothing for an event that has one.
    pub(crate) fn of(record: &EventRecord, today: NaiveDate) -> Option<Self> {
        let event = record.event;
        event.open.then(|| Self {
            id: record.id,
            version: record.version.to_string(),
            said: shown::capital(&words::unwell(&event, today)),
            what: words::event_kind(event.kind),
            label: end_label(Some(record)),
            can_end: event.from < today,
            well: today.to_string(),
            problems: Vec::new(),
        })
    }

    /// The same with what was typed at it and refused.
    pub(super) fn with_typed(self, typed: &Typed, problems: &Problems) -> Self {
        if typed.ended != Some(self.id.0) {
            return self;
        }
        let problems = problems.of(&control(self.id)).into_iter().map(str::to_owned).collect();
        Self { well: typed.well.clone(), version: typed.version.clone(), can_end: true, problems, ..self }
    }

    /// The id of its control.
    pub(crate) fn control(&self) -> String {
        control(self.id)
    }

    #[cfg(test)]
    pub(crate) fn sample() -> Self {
        Self {
            id: EventId(2),
            version: "1".to_owned(),
            said: "Ill with fever since Sunday, no end noted".to_owned(),
            what: "illness with fever",
            label: "First day without fever",
            can_end: true,
            well: "2027-04-28".to_owned(),
            problems: vec!["Well again on: “<b>” is not a date.".to_owned()],
        }
    }
}

/// What the first day without an event is called.
pub(super) fn end_label(record: Option<&EventRecord>) -> &'static str {
    let has_fever = record.is_some_and(|record| record.event.kind.has_fever());
    if has_fever { "First day without fever" } else { "Well again on" }
}

/// The id of the control for the end of an event.
pub(super) fn control(id: EventId) -> String {
    format!("well-{id}")
}
