//! Two versions of one record side by side: what is kept, and what was typed. Nothing is lost.

use askama::Template;
use axum::http::StatusCode;
use axum::response::Response;

use crate::error::AppError;
use crate::form::{Choice, many_lines};
use crate::notice;
use crate::render::{self, Layout, Page};

/// What fits in a control of one line, in characters.
const ONE_LINE: usize = 40;

/// Shows both versions and lets the coach save theirs over the kept one, or leave it.
#[derive(Template)]
#[template(path = "conflict.html")]
pub(crate) struct ConflictPage {
    pub(crate) layout: Layout,
    /// What was changed meanwhile: "The settings", "Ana's base week".
    pub(crate) what: String,
    pub(crate) rows: Vec<Row>,
    /// The kept version, which the form is sent with.
    pub(crate) version: String,
    /// Where the form goes.
    pub(crate) action: String,
    /// Where the kept version is seen.
    pub(crate) back: String,
}

/// One field in both versions.
#[derive(Clone, Debug)]
pub(crate) struct Row {
    name: String,
    label: String,
    kept: String,
    typed: String,
    control: Control,
}

/// How the typed version of a field is shown.
#[derive(Clone, Debug)]
pub(crate) enum Control {
    /// As text that can still be changed.
    Text,
    /// As a menu.
    Menu(Vec<Choice>),
    /// In words only: other fields carry it.
    Words,
    /// Not at all: it only goes with the form.
    Hidden,
}

impl Row {
    /// A field by its name in the form and its label.
    pub(crate) fn new(name: &str, label: &str, kept: &str, typed: &str) -> Self {
        Self {
            name: name.to_owned(),
            label: label.to_owned(),
            kept: kept.to_owned(),
            typed: typed.to_owned(),
            control: Control::Text,
        }
    }

    /// Both versions of a form's fields: control, label, value, and the most characters that it takes.
    pub(crate) fn of_fields<S: AsRef<str>>(kept: &[(S, S, &str, usize)], typed: &[(S, S, &str, usize)]) -> Vec<Self> {
        kept.iter()
            .zip(typed)
            .map(|((name, label, kept, _), (_, _, typed, _))| Self::new(name.as_ref(), label.as_ref(), kept, typed))
            .collect()
    }

    /// A field that is chosen from a menu; what is kept is said by its label.
    pub(crate) fn menu(name: &str, label: &str, kept: &str, typed: &str, choices: Vec<Choice>) -> Self {
        Self { control: Control::Menu(choices), ..Self::new(name, label, kept, typed) }
    }

    /// Something that is said in words on both sides and cannot be changed here.
    pub(crate) fn words(label: &str, kept: &str, typed: &str) -> Self {
        Self { control: Control::Words, ..Self::new("", label, kept, typed) }
    }

    /// A field that only goes with the form.
    pub(crate) fn hidden(name: &str, value: &str) -> Self {
        Self { control: Control::Hidden, ..Self::new(name, "", "", value) }
    }

    /// What is kept, as a reader says it.
    pub(crate) fn kept_in_words(&self) -> &str {
        match &self.control {
            Control::Menu(choices) => {
                let label = choices.iter().find(|choice| choice.value == self.kept).map(|choice| choice.label.as_str());
                label.unwrap_or(&self.kept)
            }
            _ => &self.kept,
        }
    }

    /// Whether both versions differ here.
    pub(crate) fn differs(&self) -> bool {
        self.kept != self.typed
    }

    /// Whether the typed text needs more than one line.
    pub(crate) fn is_long(&self) -> bool {
        [&self.typed, &self.kept].iter().any(|text| text.contains('\n') || text.chars().count() > ONE_LINE)
    }
}

impl ConflictPage {
    /// The answer to a form that was read at an older version. Where it holds what is kept already, as after a
    /// second click, there is nothing to choose: it goes back to what is kept. A form that lays days anew shows
    /// the page in any case: the same settings again are a wish, too.
    pub(crate) fn answer(&self) -> Result<Response, AppError> {
        let is_kept =
            |row: &Row| matches!(row.control, Control::Hidden) || many_lines(&row.typed) == many_lines(&row.kept);
        if self.rows.iter().all(is_kept) {
            return Ok(notice::see_other(&self.back));
        }
        render::page(StatusCode::CONFLICT, self)
    }
}

impl Page for ConflictPage {
    #[cfg(test)]
    fn samples() -> Vec<Self> {
        vec![Self {
            layout: Layout::plain(),
            what: "The settings".to_owned(),
            rows: vec![
                Row::new("coach_name", "Your name", "Ana", "Ana M."),
                Row::menu(
                    "units",
                    "Units",
                    "km",
                    "mi",
                    vec![Choice::new("km", "Kilometres"), Choice::new("mi", "Miles")],
                ),
                Row::words("Tuesday 4 May 2027", "easy 8 km", "moved to <Wed 5 May>"),
                Row::hidden("do", "move"),
                Row::new("notes", "Notes", "one\ntwo", "three"),
            ],
            version: "4".to_owned(),
            action: crate::paths::SETTINGS.to_owned(),
            back: crate::paths::SETTINGS.to_owned(),
        }]
    }
}
