//! Lines that are offered at a day that cannot be read, and how one press takes them.
//!
//! The button of an offer sends the whole form with the line in a field of its own, `take-tue`; the page comes back with that
//! line in the day's field, read, and nothing saved. `take` with `all` takes the first line of every day that has one.

use std::collections::HashMap;

use formats::words;
use planning::notation::{Runner, offers};

use crate::form::one_line;

/// One line that is offered, ready to show.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Offered {
    pub(crate) line: String,
    /// What it says.
    pub(crate) says: String,
    /// Whether it says what was typed and nothing else: taken with all others by one press.
    pub(crate) is_sure: bool,
}

impl Offered {
    /// The lines that are offered for a line; none where it is read.
    pub(crate) fn of(line: &str, runner: impl Into<Runner>) -> Vec<Self> {
        let view = |offer: planning::notation::Offer| Self {
            says: words::offer(&offer),
            is_sure: offer.is_settled(),
            line: offer.line,
        };
        offers(line, runner).into_iter().map(view).collect()
    }
}

/// The first line offered for each of some days, for all of them at once: one that guesses or leaves
/// anything out is no answer, nor is the first of two.
pub(super) fn first_of_each<'a>(days: impl IntoIterator<Item = &'a Vec<Offered>>) -> Vec<Option<&'a Offered>> {
    days.into_iter().map(|offered| offered.first().filter(|first| first.is_sure)).collect()
}

/// What was pressed.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(crate) struct Taken {
    /// The control of a day and the line for it.
    pub(crate) one: Option<(String, String)>,
    /// Whether all are taken.
    pub(super) all: bool,
}

impl Taken {
    /// Out of a form.
    pub(crate) fn of(fields: &HashMap<String, String>) -> Self {
        let one = fields.iter().find_map(|(name, line)| Some((name.strip_prefix("take-")?.to_owned(), one_line(line))));
        Self { one, all: fields.get("take").is_some_and(|what| what == "all") }
    }

    /// Puts the line into the field of its day.
    pub(crate) fn put<'a>(&self, days: impl IntoIterator<Item = (String, &'a mut String)>) {
        let Some((day, line)) = &self.one else { return };
        for (_, kept) in days.into_iter().filter(|(code, _)| code == day) {
            kept.clone_from(line);
        }
    }
}

/// What was done, and that it is not kept yet.
pub(super) fn said(taken: usize) -> String {
    let lines = words::plural(taken, "line");
    format!("{lines} taken as offered. Nothing is saved yet: look the week over, change what you like, then save.")
}

#[cfg(test)]
mod tests {
    use planning::DistanceUnit;

    use super::*;

    #[test]
    fn a_guess_is_left_to_the_coach_where_all_lines_are_taken() {
        let of = |line| Offered::of(line, DistanceUnit::Km);
        let days = [of("6/8"), of("tempo"), of("8 km"), of("6 x 800 m"), of("8 km HR<140")];
        let lines: Vec<Option<&str>> =
            first_of_each(&days).into_iter().map(|first| first.map(|first| first.line.as_str())).collect();
        assert_eq!(lines, [None, None, None, None, Some("easy 8 km (HR<140)")]);
    }
}
