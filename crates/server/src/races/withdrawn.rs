//! Athletes who were withdrawn from a race and still hold the block for it: what each can be told.

use formats::messages::{MessageField, fill_message};
use formats::words;
use store::{AthleteId, Board, RaceRecord};

use crate::blocks::lines;
use crate::blocks::messages::rows;

/// One athlete, with a message that is ready to paste.
pub(super) struct Withdrawn {
    pub(super) id: AthleteId,
    pub(super) name: String,
    pub(super) text: String,
    /// How many lines of the field it takes.
    pub(super) rows: usize,
}

/// Everybody of whom the board says so, by name.
pub(super) fn all(board: &Board, record: &RaceRecord, coach: &str) -> Vec<Withdrawn> {
    let all = board.iter().filter(|row| row.withdrawn.iter().any(|out| out.race == record.id));
    all.map(|row| Withdrawn::of(row.athlete, &row.name, record, coach)).collect()
}

impl Withdrawn {
    fn of(id: AthleteId, name: &str, record: &RaceRecord, coach: &str) -> Self {
        let text = fill_message(words::WITHDRAWN, |field| match field {
            MessageField::Name => Some(formats::called(name).to_owned()),
            MessageField::Race => Some(lines::race_name(&record.race)),
            MessageField::Date => Some(words::long_date(record.race.date)),
            MessageField::Coach => Some(coach.to_owned()).filter(|coach| !coach.is_empty()),
            _ => None,
        });
        Self { id, name: name.to_owned(), rows: rows(&text), text }
    }

    #[cfg(test)]
    pub(super) fn sample() -> Self {
        Self { id: AthleteId(6), name: "Eva <b>".to_owned(), text: "Hello Eva <b>,\n\nyou".to_owned(), rows: 4 }
    }
}
