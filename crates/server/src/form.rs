//! What forms have in common: everything arrives as typed, nothing fails on content, and what is
//! wrong stands in few words on top of the page and in full at its field.

use chrono::NaiveTime;
use planning::DistanceUnit;
use sha2::{Digest, Sha256};
use store::Version;
use uuid::Uuid;

use crate::hex::hex;

pub(crate) use planning::plain::{many_lines, one_line};

/// What is wrong with a form: each sentence with the id of the control it belongs to.
#[derive(Clone, Debug, Default)]
pub(crate) struct Problems {
    list: Vec<FieldProblem>,
}

/// One thing that is wrong.
#[derive(Clone, Debug)]
pub(crate) struct FieldProblem {
    /// The id of the control.
    pub(crate) field: String,
    /// What is wrong and what would be right.
    pub(crate) sentence: String,
}

/// Up to so many letters a sentence is a short one: a line of the summary.
const SHORT: usize = 72;

impl FieldProblem {
    /// What is wrong, for the list on top of the page: a short sentence whole, a long one up to its first `;` or full stop
    /// that nobody typed. What would be right stands at the field.
    pub(crate) fn brief(&self) -> &str {
        if self.sentence.chars().count() <= SHORT {
            return &self.sentence;
        }
        let mut quoted = false;
        let mut letters = self.sentence.char_indices().peekable();
        while let Some((at, letter)) = letters.next() {
            match letter {
                '\u{201c}' => quoted = true,
                '\u{201d}' => quoted = false,
                ';' | '.' if !quoted && letters.peek().is_none_or(|(_, next)| *next == ' ') => {
                    return &self.sentence[..at];
                }
                _ => {}
            }
        }
        &self.sentence
    }
}

impl Problems {
    /// Adds a sentence at a control.
    pub(crate) fn add(&mut self, field: impl Into<String>, sentence: impl Into<String>) {
        self.list.push(FieldProblem { field: field.into(), sentence: sentence.into() });
    }

    /// Adds a sentence if a text is longer than can be kept, in characters.
    pub(crate) fn check_length(&mut self, field: &str, what: &str, text: &str, most: usize) {
        let length = text.chars().count();
        if length > most {
            self.add(field, crate::words::too_long(what, length, most));
        }
    }

    /// Puts the problems in the order in which their controls stand on the page.
    pub(crate) fn sort_by_controls(&mut self, controls: &[&str]) {
        self.list.sort_by_key(|problem| controls.iter().position(|control| *control == problem.field));
    }

    /// Leaves out what is wrong at one control.
    pub(crate) fn leave_out(&mut self, field: &str) {
        self.list.retain(|problem| problem.field != field);
    }

    /// Whether nothing is wrong.
    pub(crate) fn is_empty(&self) -> bool {
        self.list.is_empty()
    }

    /// Everything, in the order in which it was found.
    pub(crate) fn all(&self) -> &[FieldProblem] {
        &self.list
    }

    /// The sentences at one control.
    pub(crate) fn of(&self, field: &str) -> Vec<&str> {
        self.list.iter().filter(|problem| problem.field == field).map(|problem| problem.sentence.as_str()).collect()
    }

    /// What is wrong at one control in a few words, once: for where what would be right stands beside it.
    pub(crate) fn first_at(&self, field: &str) -> &str {
        self.list.iter().find(|problem| problem.field == field).map_or("", FieldProblem::brief)
    }

    /// Whether something is wrong at one control.
    pub(crate) fn at(&self, field: &str) -> bool {
        self.list.iter().any(|problem| problem.field == field)
    }
}

/// One choice of a menu or a row of radio buttons.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Choice {
    /// What the form sends.
    pub(crate) value: String,
    /// What stands on the page.
    pub(crate) label: String,
}

impl Choice {
    /// A choice.
    pub(crate) fn new(value: impl Into<String>, label: impl Into<String>) -> Self {
        Self { value: value.into(), label: label.into() }
    }
}

/// A menu of groups to look in, after all of them.
pub(crate) fn group_menu(groups: impl IntoIterator<Item = Choice>) -> Vec<Choice> {
    std::iter::once(Choice::new("", "All groups")).chain(groups).collect()
}

/// A fresh key that makes a form count once, however often it is sent.
pub(crate) fn new_once() -> String {
    Uuid::new_v4().to_string()
}

/// The key of a form; a form without one counts each time.
pub(crate) fn read_once(text: &str) -> Uuid {
    Uuid::parse_str(text.trim()).unwrap_or_else(|_| Uuid::new_v4())
}

/// The version that a form was read at; what is not one conflicts with every version.
pub(crate) fn read_version(text: &str) -> Version {
    Version(text.trim().parse().unwrap_or(-1))
}

/// A whole number between two limits; nothing where nothing is typed.
///
/// # Errors
///
/// What is wrong, as the end of a sentence.
pub(crate) fn whole_number(text: &str, (from, to): (u16, u16)) -> Result<Option<u16>, String> {
    let typed = text.trim();
    if typed.is_empty() {
        return Ok(None);
    }
    match typed.parse::<u16>() {
        Ok(number) if (from..=to).contains(&number) => Ok(Some(number)),
        _ => Err(format!("“{}” is not a whole number between {from} and {to}.", formats::words::quote(typed))),
    }
}

/// A time of day: `9:30`, `09:30`, `9.30` and the same with seconds, as browsers may send them.
pub(crate) fn read_time(text: &str) -> Option<NaiveTime> {
    let text = text.trim().replace('.', ":");
    ["%H:%M", "%H:%M:%S"].iter().find_map(|format| NaiveTime::parse_from_str(&text, format).ok())
}

/// The kind of the field for a time of day: one for times shows times only, what is none stays readable in
/// one for text.
pub(crate) fn time_kind(typed: &str) -> &'static str {
    if typed.is_empty() || NaiveTime::parse_from_str(typed, "%H:%M").is_ok() { "time" } else { "short" }
}

/// The units of distance to choose from.
pub(crate) fn unit_choices() -> Vec<Choice> {
    vec![Choice::new(DistanceUnit::Km.symbol(), "Kilometres"), Choice::new(DistanceUnit::Mi.symbol(), "Miles")]
}

/// The units of a form; kilometres where it names none.
pub(crate) fn read_units(symbol: &str) -> DistanceUnit {
    if symbol == DistanceUnit::Mi.symbol() { DistanceUnit::Mi } else { DistanceUnit::Km }
}

/// A number for texts, the same for the same ones.
pub(crate) fn digest<'a>(texts: impl IntoIterator<Item = &'a str>) -> String {
    // Each with an end, so that no two lists of texts run together to the same.
    let all = texts.into_iter().fold(Sha256::new(), |all, text| all.chain_update(text).chain_update([0]));
    hex(&all.finalize()[..8])
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn problems_are_said_in_the_order_of_the_page() {
        let mut problems = Problems::default();
        for field in ["pace", "days", "name", "pace"] {
            problems.add(field, format!("{field} is wrong."));
        }
        problems.sort_by_controls(&["name", "pace", "days"]);
        let fields: Vec<_> = problems.all().iter().map(|problem| problem.field.as_str()).collect();
        assert_eq!(fields, ["name", "pace", "pace", "days"]);
    }

    #[test]
    fn in_short_a_problem_is_what_is_wrong_whatever_was_typed() {
        for (sentence, brief) in [
            ("Monday: 12 km is more than 10.5 km; give at most 10.5 km", "Monday: 12 km is more than 10.5 km"),
            ("Nothing was handed over. Look at it once more", "Nothing was handed over"),
            ("\u{201c}a; b. c\u{201d} is no date; write it as 4 May", "\u{201c}a; b. c\u{201d} is no date"),
        ] {
            let long = format!("{sentence}{}.", " and so on".repeat(8));
            let problem = |sentence: &str| FieldProblem { field: "a".to_owned(), sentence: sentence.to_owned() };
            assert_eq!(problem(&long).brief(), brief);
            assert_eq!(problem(sentence).brief(), sentence, "short enough to stand whole");
        }
    }

    #[test]
    fn a_version_that_is_no_number_conflicts_with_all() {
        assert_eq!(read_version("x"), Version(-1));
        assert_eq!(read_version(" 12 "), Version(12));
    }

    #[test]
    fn a_whole_number_keeps_its_limits_and_nothing_is_no_number() {
        assert_eq!(whole_number(" ", (1, 10)), Ok(None));
        assert_eq!([whole_number("1", (1, 10)), whole_number(" 10 ", (1, 10))], [Ok(Some(1)), Ok(Some(10))]);
        for typed in ["0", "11", "-1", "2.5", "soon", "70000"] {
            let said = whole_number(typed, (1, 10)).unwrap_err();
            assert_eq!(said, format!("“{typed}” is not a whole number between 1 and 10."));
        }
    }

    #[test]
    fn a_time_of_day_is_read_however_it_is_written() {
        let half_past_nine = NaiveTime::from_hms_opt(9, 30, 0);
        for typed in ["9:30", "09:30", " 9.30 ", "09:30:00"] {
            assert_eq!(read_time(typed), half_past_nine, "{typed}");
        }
        for typed in ["", "9", "24:10", "half past nine"] {
            assert_eq!(read_time(typed), None, "{typed}");
        }
    }
}
