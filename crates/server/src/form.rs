//! What forms have in common: everything arrives as typed, nothing fails on content, and what is
//! wrong stands on top of the page and at its field in the same words.

use store::Version;
use uuid::Uuid;

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

/// A text of one line: no control characters, no marks that turn the direction of what stands
/// around it, single spaces, none at the ends.
pub(crate) fn one_line(text: &str) -> String {
    let kept: String = text.chars().map(|c| if c.is_whitespace() { ' ' } else { c }).filter(|c| is_kept(*c)).collect();
    kept.split(' ').filter(|word| !word.is_empty()).collect::<Vec<_>>().join(" ")
}

/// A text of several lines, each without control and direction characters; no empty line at the ends.
pub(crate) fn many_lines(text: &str) -> String {
    let lines: Vec<String> = text
        .replace("\r\n", "\n")
        .replace('\r', "\n")
        .split('\n')
        .map(|line| line.chars().filter(|c| *c == '\t' || is_kept(*c)).collect::<String>().trim_end().to_owned())
        .collect();
    lines.join("\n").trim_matches('\n').to_owned()
}

/// Control characters and the marks of Unicode Standard Annex 9 that turn the direction of text.
/// The joiners stay: emoji and several scripts need them.
fn is_kept(c: char) -> bool {
    !(c.is_control()
        || matches!(c, '\u{061C}' | '\u{200E}' | '\u{200F}' | '\u{202A}'..='\u{202E}' | '\u{2066}'..='\u{2069}'))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn direction_marks_and_control_characters_never_reach_a_name() {
        assert_eq!(one_line("A\u{202E}gnik"), "Agnik");
        assert_eq!(one_line("\u{2069}\u{202E}Jamie"), "Jamie");
        assert_eq!(one_line("  O'Neil-Šťastný\t\n Jr\u{0000} "), "O'Neil-Šťastný Jr");
    }

    #[test]
    fn letters_of_every_script_and_joined_emoji_stay() {
        for name in ["نور علي", "👩🏽‍🦽 Ana", "<b>x</b>"] {
            assert_eq!(one_line(name), name);
        }
    }

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
    fn lines_stay_lines() {
        assert_eq!(many_lines("\r\nknee\r\n\r\nasthma \u{202E}\r\n"), "knee\n\nasthma");
    }

    #[test]
    fn a_version_that_is_no_number_conflicts_with_all() {
        assert_eq!(read_version("x"), Version(-1));
        assert_eq!(read_version(" 12 "), Version(12));
    }
}
