//! Messages to an athlete: a text with named fields in braces, and how it is filled.
//!
//! A sentence in which a field has nothing to say falls away: without a link nobody reads half a
//! sentence about one.

use std::ops::Range;

/// What a message can say of an athlete's block.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum MessageField {
    /// What the athlete is called, see [`called`](crate::called).
    Name,
    /// The athlete's whole name.
    FullName,
    /// The race, by its name or distance.
    Race,
    /// Its distance.
    Distance,
    /// Its day.
    Date,
    /// When it starts.
    Start,
    /// Where it is.
    Place,
    /// How many days are left on the day of the message.
    DaysLeft,
    /// The first day of the block, while it is still to come.
    Begins,
    /// The first day of the block on which less is run than usual: "today", or the day while it is to come.
    ComesDown,
    /// What is other than in the version that was handed over before.
    Changes,
    /// What is run on the day of the message.
    Today,
    /// The key session of race week and its day, while it is still to come.
    Key,
    /// What is run on the day before the race.
    DayBefore,
    /// The cue words of the three stretches.
    Cues,
    /// The address of the athlete's page.
    Link,
    /// The coach's name.
    Coach,
}

impl MessageField {
    /// Every field.
    pub const ALL: [Self; 17] = [
        Self::Name,
        Self::FullName,
        Self::Race,
        Self::Distance,
        Self::Date,
        Self::Start,
        Self::Place,
        Self::DaysLeft,
        Self::Begins,
        Self::ComesDown,
        Self::Changes,
        Self::Today,
        Self::Key,
        Self::DayBefore,
        Self::Cues,
        Self::Link,
        Self::Coach,
    ];

    /// The name in braces: `days_left`.
    pub const fn code(self) -> &'static str {
        match self {
            Self::Name => "name",
            Self::FullName => "full_name",
            Self::Race => "race",
            Self::Distance => "distance",
            Self::Date => "date",
            Self::Start => "start",
            Self::Place => "place",
            Self::DaysLeft => "days_left",
            Self::Begins => "begins",
            Self::ComesDown => "comes_down",
            Self::Changes => "changes",
            Self::Today => "today",
            Self::Key => "key",
            Self::DayBefore => "day_before",
            Self::Cues => "cues",
            Self::Link => "link",
            Self::Coach => "coach",
        }
    }

    /// The field with this name, however it is capitalised and spaced.
    pub fn from_code(code: &str) -> Option<Self> {
        let code = code.trim().to_lowercase().replace([' ', '-'], "_");
        Self::ALL.into_iter().find(|field| field.code() == code)
    }
}

/// Whether a text fills a field somewhere.
pub fn uses_field(text: &str, field: MessageField) -> bool {
    pieces(text).iter().any(|piece| matches!(piece, Piece::Field(found, _) if *found == field))
}

/// What is wrong with a message's text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum MessageProblem {
    /// A name in braces that is no field, as typed.
    Unknown(String),
    /// A brace that is not closed on its line, with what follows it.
    Open(String),
}

/// Everything that is wrong with a text, in its order; each once.
pub fn message_problems(text: &str) -> Vec<MessageProblem> {
    let mut found = Vec::new();
    for piece in pieces(text) {
        let problem = match piece {
            Piece::Unknown(name) => MessageProblem::Unknown(text[name].to_owned()),
            Piece::Open(rest) => MessageProblem::Open(text[rest].chars().take(20).collect()),
            Piece::Text(_) | Piece::Field(..) => continue,
        };
        if !found.contains(&problem) {
            found.push(problem);
        }
    }
    found
}

/// Fills a text. Sentences in which a field has no value fall away, and lines of which nothing is left;
/// what is no field stays as it was typed.
pub fn fill_message(text: &str, value: impl Fn(MessageField) -> Option<String>) -> String {
    let mut lines: Vec<String> = Vec::new();
    for line in text.lines() {
        let sentences = sentences(line);
        let filled: Vec<Option<String>> = sentences.iter().map(|range| fill(&line[range.clone()], &value)).collect();
        let lacks = filled.iter().any(Option::is_none);
        let said: String = filled.into_iter().flatten().collect();
        let said = if lacks { said.trim_end().to_owned() } else { said };
        if !(lacks && said.is_empty()) {
            lines.push(said);
        } else if lines.last().is_some_and(String::is_empty) {
            // The line stood alone between two empty ones: one of them goes with it.
            lines.pop();
        }
    }
    lines.join("\n").trim_end().to_owned()
}

/// One sentence with its fields filled; nothing where one of them has no value.
fn fill(sentence: &str, value: &impl Fn(MessageField) -> Option<String>) -> Option<String> {
    let mut said = String::new();
    for piece in pieces(sentence) {
        match piece {
            Piece::Field(field, _) => said.push_str(&value(field)?),
            Piece::Text(range) | Piece::Open(range) => said.push_str(&sentence[range]),
            Piece::Unknown(name) => said.push_str(&sentence[name.start - 1..=name.end]),
        }
    }
    Some(said)
}

/// A piece of a text, by where it stands.
#[derive(Clone, Debug)]
enum Piece {
    Text(Range<usize>),
    Field(MessageField, Range<usize>),
    /// What stands between the braces.
    Unknown(Range<usize>),
    /// From the brace to the end of its line.
    Open(Range<usize>),
}

fn pieces(text: &str) -> Vec<Piece> {
    let mut found = Vec::new();
    let mut at = 0;
    while let Some(open) = text[at..].find('{').map(|offset| at + offset) {
        if open > at {
            found.push(Piece::Text(at..open));
        }
        let line = text[open..].find('\n').map_or(text.len(), |offset| open + offset);
        let inside = open + 1;
        match text[inside..line].find(['{', '}']).map(|offset| inside + offset) {
            Some(close) if text[close..].starts_with('}') => {
                at = close + 1;
                found.push(match MessageField::from_code(&text[inside..close]) {
                    Some(field) => Piece::Field(field, open..at),
                    None => Piece::Unknown(inside..close),
                });
            }
            end => {
                at = end.unwrap_or(line);
                found.push(Piece::Open(open..at));
            }
        }
    }
    if at < text.len() {
        found.push(Piece::Text(at..text.len()));
    }
    found
}

/// The sentences of a line, each with the space behind it: together they are the line.
fn sentences(line: &str) -> Vec<Range<usize>> {
    let fields: Vec<Range<usize>> = pieces(line)
        .into_iter()
        .filter_map(|piece| if let Piece::Field(_, range) = piece { Some(range) } else { None })
        .collect();
    let mut found = Vec::new();
    let mut start = 0;
    let mut after_end = false;
    for (at, c) in line.char_indices() {
        let is_inside = fields.iter().any(|field| field.contains(&at));
        if after_end && c.is_whitespace() {
            continue;
        }
        let before = line[..at].chars().next_back();
        if after_end && before.is_some_and(char::is_whitespace) {
            found.push(start..at);
            start = at;
            after_end = false;
        }
        let closes = matches!(c, ')' | '"' | '\'' | '\u{201d}' | '\u{2019}');
        after_end =
            !is_inside && (matches!(c, '.' | '!' | '?' | '\u{2026}' | '\u{061f}' | '\u{3002}') || after_end && closes);
    }
    if start < line.len() {
        found.push(start..line.len());
    }
    found
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn value(field: MessageField) -> Option<String> {
        match field {
            MessageField::Name => Some("Ana".to_owned()),
            MessageField::Race => Some("St. Mary's 10. Run".to_owned()),
            MessageField::Start => Some("9:30".to_owned()),
            _ => None,
        }
    }

    #[test]
    fn fields_are_filled_however_they_are_written() {
        assert_eq!(fill_message("Hello {name}, {Race} at { START }.", value), "Hello Ana, St. Mary's 10. Run at 9:30.");
    }

    #[test]
    fn a_sentence_without_its_value_falls_away_and_a_line_with_nothing_else() {
        let text = "Hello {name}. Every day: {link}! Where: {place}?\n\nThe days: {link}\n\n{coach}\n";
        assert_eq!(fill_message(text, value), "Hello Ana.");
    }

    #[test]
    fn what_falls_away_is_the_sentence_and_no_more() {
        for (text, expected) in [
            ("One. {link}. Three.", "One. Three."),
            ("One. Two {link}", "One."),
            ("{link} is one. Two.", "Two."),
            ("(At {place}.) Two.", "Two."),
            ("One\n{link}\nTwo", "One\nTwo"),
            ("One\n\n{link}\n\nTwo", "One\n\nTwo"),
            ("At 9.30 sharp. See {link}.", "At 9.30 sharp."),
        ] {
            assert_eq!(fill_message(text, value), expected, "{text}");
        }
    }

    #[test]
    fn an_unknown_field_is_named_as_it_was_typed_and_each_once() {
        let found = message_problems("{nmae} {name} {nmae} {} and {start\n{ {race}");
        let expected = [
            MessageProblem::Unknown("nmae".to_owned()),
            MessageProblem::Unknown(String::new()),
            MessageProblem::Open("{start".to_owned()),
            MessageProblem::Open("{ ".to_owned()),
        ];
        assert_eq!(found, expected);
    }

    #[test]
    fn every_field_is_found_by_its_name() {
        for field in MessageField::ALL {
            assert_eq!(MessageField::from_code(field.code()), Some(field));
        }
    }

    proptest! {
        #[test]
        fn any_text_can_be_asked_and_filled(text in "(\\PC|\n|\\{name\\}|\\{link\\}|[{}.!? ]){0,60}") {
            let _ = message_problems(&text);
            let _ = fill_message(&text, value);
        }

        #[test]
        fn a_text_without_fields_stays_as_it_is(text in "[^{\r]{0,60}") {
            let lines: Vec<&str> = text.lines().collect();
            prop_assert_eq!(fill_message(&text, |_| None), lines.join("\n").trim_end().to_owned());
        }

        #[test]
        fn sentences_together_are_the_line(line in "(\\PC|[.!?\"() ]|\\{name\\}){0,60}") {
            let parts: Vec<&str> = sentences(&line).into_iter().map(|range| &line[range]).collect();
            prop_assert_eq!(parts.concat(), line);
        }
    }
}
