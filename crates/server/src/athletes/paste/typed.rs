//! The form as it was sent: the text, how it is to be read, and what is to be brought in.

use std::collections::{BTreeMap, HashSet};

use axum::extract::multipart::Multipart;
use axum::extract::{FromRequest, Request};
use axum::http::StatusCode;
use axum::http::header::CONTENT_TYPE;
use axum_extra::extract::Form;
use formats::squad_table::{self, Column, MOST_BYTES, Separator, Table, TableProblem};
use formats::words;

use crate::form::{digest, new_once, one_line};

/// What the form may hold: the text, percent-encoded at worst, and a little for every row.
pub(crate) const BODY_MOST: usize = 4 * MOST_BYTES;

/// What a select sends that leaves it to the program.
pub(super) const AS_FOUND: &str = "";

/// Everything that was sent.
#[derive(Clone, Debug, Default)]
pub(super) struct Typed {
    pub(super) text: String,
    pub(super) once: String,
    /// What parts the cells; empty: as found.
    pub(super) separator: String,
    /// `yes`, `no`, or empty: as found.
    pub(super) heads: String,
    /// The first line for which all of this was chosen, and what its cells were parted by.
    pub(super) chosen_for: String,
    pub(super) parted_by: String,
    /// What the columns were said to hold, by their index.
    pub(super) columns: BTreeMap<usize, String>,
    /// Cells that may have been put right, by row and column from 0, and what stood there.
    pub(super) fixes: BTreeMap<(usize, usize), String>,
    pub(super) were: BTreeMap<(usize, usize), String>,
    /// Names that had a box to tick, and those that were ticked.
    pub(super) shown: HashSet<String>,
    pub(super) ticked: HashSet<String>,
    /// What was read when the boxes were shown.
    pub(super) read: String,
}

impl Typed {
    /// Nothing typed yet.
    pub(super) fn new() -> Self {
        Self { once: new_once(), ..Self::default() }
    }

    /// The form, with the file's text where it has a file; or what went wrong on the way.
    pub(super) async fn of(request: Request) -> (Self, Result<(), String>) {
        const BROKE_OFF: &str = "The form broke off on the way. Send it again.";
        let kind = request.headers().get(CONTENT_TYPE).and_then(|kind| kind.to_str().ok()).unwrap_or_default();
        let mut typed = Self::default();
        let sent = if kind.starts_with("multipart/form-data") {
            typed.read_parts(request).await
        } else {
            match Form::<Vec<(String, String)>>::from_request(request, &()).await {
                Ok(Form(fields)) => {
                    for (name, value) in fields {
                        typed.take(&name, value);
                    }
                    Ok(Vec::new())
                }
                Err(_) => Err(StatusCode::BAD_REQUEST),
            }
        };
        if typed.once.is_empty() {
            typed.once = new_once();
        }
        let sent = match sent {
            Ok(file) if !file.is_empty() => squad_table::decode(&file).map(|text| typed.text = text),
            Ok(_) => Ok(()),
            Err(StatusCode::PAYLOAD_TOO_LARGE) => Err(TableProblem::TooLarge),
            Err(_) => return (typed, Err(BROKE_OFF.to_owned())),
        };
        typed.settle();
        (typed, sent.map_err(|problem| words::table_problem(&problem)))
    }

    /// Forgets what was chosen for another list.
    fn settle(&mut self) {
        // Browsers send every end of a line in one way, files do not.
        self.text = self.text.replace("\r\n", "\n").replace('\r', "\n");
        if !self.chosen_for.is_empty() && self.chosen_for != first_line(&self.text) {
            (self.separator, self.heads) = (String::new(), String::new());
            self.columns.clear();
        }
        if !self.parted_by.is_empty() && self.parted_by != self.separator {
            self.columns.clear();
        }
    }

    /// Takes the parts of a form over; gives the file.
    async fn read_parts(&mut self, request: Request) -> Result<Vec<u8>, StatusCode> {
        let mut file = Vec::new();
        let mut form = Multipart::from_request(request, &()).await.map_err(|error| error.status())?;
        while let Some(field) = form.next_field().await.map_err(|error| error.status())? {
            let name = field.name().unwrap_or_default().to_owned();
            let bytes = field.bytes().await.map_err(|error| error.status())?;
            if name == "file" {
                file = bytes.to_vec();
            } else {
                self.take(&name, String::from_utf8_lossy(&bytes).into_owned());
            }
        }
        Ok(file)
    }

    fn take(&mut self, name: &str, value: String) {
        let number = |text: &str| text.parse::<usize>().ok();
        match name {
            "text" => self.text = value,
            "once" => self.once = value,
            "separator" => self.separator = value,
            "heads" => self.heads = value,
            "chosen_for" => self.chosen_for = value,
            "parted_by" => self.parted_by = value,
            "version" => self.read = value,
            "shown" => {
                self.shown.insert(value);
            }
            "take" => {
                self.ticked.insert(value);
            }
            _ => {
                let place = |name: &str| name.split_once('-').and_then(|(row, column)| number(row).zip(number(column)));
                if let Some(column) = name.strip_prefix("column-").and_then(number) {
                    self.columns.insert(column, value);
                } else if let Some(place) = name.strip_prefix("fix-").and_then(place) {
                    self.fixes.insert(place, value);
                } else if let Some(place) = name.strip_prefix("was-").and_then(place) {
                    self.were.insert(place, value);
                }
            }
        }
    }

    /// Reads the text into cells, and puts what was put right into its place.
    pub(super) fn table(&mut self) -> Result<Table, TableProblem> {
        let mut table = squad_table::read(&self.text, Separator::from_code(&self.separator))?;
        let before = table.clone();
        for (place @ (row, column), text) in &self.fixes {
            // What was put right in the text, or moved to another place there, stays as it is there.
            let is_there = self.were.get(place).is_none_or(|was| one_line(was) == one_line(table.cell(*row, *column)));
            if is_there && one_line(text) != one_line(table.cell(*row, *column)) {
                table.set(*row, *column, text);
            }
        }
        if table != before {
            self.text = table.to_text();
        }
        Ok(table)
    }

    /// Whether the first row holds heads, where the coach said so.
    pub(super) fn has_heads(&self) -> Option<bool> {
        match self.heads.as_str() {
            "yes" => Some(true),
            "no" => Some(false),
            _ => None,
        }
    }

    /// The column that was chosen for an index; nothing where none were.
    pub(super) fn chosen(&self) -> Option<impl Fn(usize) -> Option<Column>> {
        let chosen = |index: usize| self.columns.get(&index).and_then(|code| Column::from_code(code));
        (!self.columns.is_empty()).then_some(chosen)
    }
}

/// What a list is known by: its first line.
pub(super) fn first_line(text: &str) -> String {
    digest(text.lines().next())
}
