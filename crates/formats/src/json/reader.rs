//! Reads values out of nodes and collects what is wrong, each with its place.

use planning::ProblemKind;
use planning::problem::Expected;

use super::{Node, Wrong};
use crate::words;

/// A value and where it stands.
#[derive(Clone, Debug)]
pub(crate) struct At<'a> {
    pub(crate) node: &'a Node,
    pub(crate) path: String,
}

/// An object whose fields are all known.
#[derive(Clone, Debug)]
pub(crate) struct Object<'a> {
    fields: &'a [(String, Node)],
    path: String,
}

/// Collects what is wrong while values are read.
#[derive(Debug, Default)]
pub(crate) struct Reader {
    pub(crate) wrong: Vec<Wrong>,
}

impl<'a> At<'a> {
    pub(crate) const fn root(node: &'a Node) -> Self {
        Self { node, path: String::new() }
    }

    /// Something wrong here.
    pub(crate) fn wrong(&self, message: impl Into<String>) -> Wrong {
        Wrong { path: self.path.clone(), value: self.node.shown(), message: message.into() }
    }
}

impl<'a> Object<'a> {
    /// A field; nothing where it is missing or null.
    pub(crate) fn get(&self, name: &str) -> Option<At<'a>> {
        let (_, node) = self.fields.iter().find(|(known, node)| known == name && *node != Node::Null)?;
        Some(At { node, path: self.path_of(name) })
    }

    /// The path of a field, whether it is there or not.
    pub(crate) fn path_of(&self, name: &str) -> String {
        if self.path.is_empty() { name.to_owned() } else { format!("{}.{name}", self.path) }
    }
}

impl Reader {
    pub(crate) fn add(&mut self, wrong: Wrong) {
        self.wrong.push(wrong);
    }

    /// Notes a problem of a value in the words of all forms.
    pub(crate) fn problem(&mut self, at: &At<'_>, problem: &ProblemKind) {
        self.add(at.wrong(words::problem_kind(problem)));
    }

    /// Notes a text that is not what it should be.
    pub(crate) fn unreadable(&mut self, at: &At<'_>, expected: Expected) {
        let text = match at.node {
            Node::Text(text) => text.clone(),
            other => other.shown().unwrap_or_else(|| other.type_name().to_owned()),
        };
        self.problem(at, &ProblemKind::Unreadable { text, expected });
    }

    fn wrong_type(&mut self, at: &At<'_>, wanted: &str) {
        self.add(at.wrong(format!("{} stands here, {wanted} is needed", at.node.type_name())));
    }

    /// An object; every field that is not known and every field given twice is noted.
    pub(crate) fn object<'a>(&mut self, at: &At<'a>, known: &[&str]) -> Option<Object<'a>> {
        let Node::Object(fields) = at.node else {
            self.wrong_type(at, "an object in braces");
            return None;
        };
        let object = Object { fields, path: at.path.clone() };
        for (index, (name, node)) in fields.iter().enumerate() {
            let field = At { node, path: object.path_of(&words::quote(name)) };
            if !known.contains(&name.as_str()) {
                self.add(field.wrong(format!("there is no such field; known here are {}", known.join(", "))));
            } else if fields[..index].iter().any(|(earlier, _)| earlier == name) {
                self.add(field.wrong("this field is given twice; give it once"));
            }
        }
        Some(object)
    }

    /// A field that has to be there.
    pub(crate) fn needed<'a>(&mut self, object: &Object<'a>, name: &str) -> Option<At<'a>> {
        let found = object.get(name);
        if found.is_none() {
            let message = words::problem_kind(&ProblemKind::Missing);
            self.add(Wrong { path: object.path_of(name), value: None, message });
        }
        found
    }

    pub(crate) fn list<'a>(&mut self, at: &At<'a>) -> Vec<At<'a>> {
        let Node::List(items) = at.node else {
            self.wrong_type(at, "a list in square brackets");
            return Vec::new();
        };
        items.iter().enumerate().map(|(index, node)| At { node, path: format!("{}[{index}]", at.path) }).collect()
    }

    pub(crate) fn text<'a>(&mut self, at: &At<'a>) -> Option<&'a str> {
        if let Node::Text(text) = at.node {
            return Some(text);
        }
        self.wrong_type(at, "a text in quotation marks");
        None
    }

    /// A text of at most so many characters.
    pub(crate) fn short_text(&mut self, at: &At<'_>, most: usize) -> Option<String> {
        let text = self.text(at)?;
        let length = text.chars().count();
        if length > most {
            self.problem(at, &ProblemKind::TooLong { length, most });
            return None;
        }
        Some(text.to_owned())
    }

    pub(crate) fn truth(&mut self, at: &At<'_>) -> Option<bool> {
        if let Node::Bool(value) = at.node {
            return Some(*value);
        }
        self.wrong_type(at, "true or false");
        None
    }

    pub(crate) fn number(&mut self, at: &At<'_>) -> Option<f64> {
        if let Node::Number(value) = at.node {
            return Some(*value);
        }
        self.wrong_type(at, "a number");
        None
    }

    /// A whole number between two limits, both inside.
    pub(crate) fn whole(&mut self, at: &At<'_>, from: i32, to: i32) -> Option<i32> {
        let value = self.number(at)?;
        if value.fract() != 0.0 {
            self.add(at.wrong("a whole number is needed"));
            return None;
        }
        if !(f64::from(from)..=f64::from(to)).contains(&value) {
            let message = format!("outside what is possible; between {from} and {to}");
            self.add(at.wrong(message));
            return None;
        }
        Some(value as i32)
    }

    /// One of a few words.
    pub(crate) fn one_of<T: Copy>(&mut self, at: &At<'_>, choices: &[(&str, T)]) -> Option<T> {
        let text = self.text(at)?;
        let found = choices.iter().find(|(code, _)| *code == text).map(|(_, value)| *value);
        if found.is_none() {
            let codes: Vec<&str> = choices.iter().map(|(code, _)| *code).collect();
            self.add(at.wrong(format!("“{}” is not known here; one of {}", words::quote(text), codes.join(", "))));
        }
        found
    }
}
