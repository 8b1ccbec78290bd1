//! JSON with its places kept: every fault is told by its path and its value, all faults at once.

mod node;
mod reader;

pub(crate) use node::Node;
pub(crate) use reader::{At, Object, Reader};

/// Something wrong in a JSON text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Wrong {
    /// Where: `base_week.mon[0].amount`; empty for the text as a whole.
    pub path: String,
    /// The value that stands there, as typed, if it is short enough to repeat.
    pub value: Option<String>,
    /// What is wrong, and what would be right.
    pub message: String,
}

impl std::fmt::Display for Wrong {
    /// `race.date: “2026-13-01” is not a date; ...`, with the value if the message does not say it.
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let place = if self.path.is_empty() { "the request" } else { &self.path };
        match &self.value {
            Some(value) if !says(&self.message, value.trim_matches('"')) => {
                write!(f, "{place} is {value}: {}", self.message)
            }
            _ => write!(f, "{place}: {}", self.message),
        }
    }
}

impl std::error::Error for Wrong {}

/// Whether a message holds a value as a word of its own: 3 is not in "between 4 and 35".
fn says(message: &str, value: &str) -> bool {
    let joins = |next: Option<char>| next.is_some_and(char::is_alphanumeric);
    message.match_indices(value).any(|(index, _)| {
        let behind = &message[index + value.len()..];
        let decimals = behind.starts_with('.') && joins(behind.chars().nth(1));
        !joins(message[..index].chars().next_back()) && !joins(behind.chars().next()) && !decimals
    })
}
