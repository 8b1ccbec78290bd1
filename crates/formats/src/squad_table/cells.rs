//! From text to rows of cells, and back to text.

use super::{MOST_BYTES, MOST_COLUMNS, MOST_ROWS, TableProblem};
use crate::table;

/// What parts the cells of a row.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Separator {
    /// What a spreadsheet copies.
    Tab,
    /// What spreadsheets write where the comma is the decimal mark.
    Semicolon,
    /// What the others write.
    Comma,
}

impl Separator {
    /// Every separator.
    pub const ALL: [Self; 3] = [Self::Tab, Self::Semicolon, Self::Comma];

    /// A short word for forms.
    pub const fn code(self) -> &'static str {
        match self {
            Self::Tab => "tab",
            Self::Semicolon => "semicolon",
            Self::Comma => "comma",
        }
    }

    /// The separator of a code.
    pub fn from_code(code: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|one| one.code() == code)
    }

    /// The mark itself.
    pub const fn mark(self) -> char {
        match self {
            Self::Tab => '\t',
            Self::Semicolon => ';',
            Self::Comma => ',',
        }
    }
}

/// Rows of cells. Empty rows keep their place, so that rows have the numbers that the spreadsheet gives them.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Table {
    /// What parts the cells.
    pub separator: Separator,
    /// The rows; they may differ in length.
    pub rows: Vec<Vec<String>>,
}

impl Table {
    /// How many columns the longest row has.
    pub fn width(&self) -> usize {
        self.rows.iter().map(Vec::len).max().unwrap_or(0)
    }

    /// The text of a cell; nothing where the row is shorter.
    pub fn cell(&self, row: usize, column: usize) -> &str {
        self.rows.get(row).and_then(|row| row.get(column)).map_or("", String::as_str)
    }

    /// Puts another text into a cell of a row that is there.
    pub fn set(&mut self, row: usize, column: usize, text: &str) {
        let Some(row) = self.rows.get_mut(row).filter(|_| column < MOST_COLUMNS) else { return };
        if row.len() <= column {
            row.resize(column + 1, String::new());
        }
        text.clone_into(&mut row[column]);
    }

    /// The same table as text that reads back to it.
    pub fn to_text(&self) -> String {
        let mark = self.separator.mark();
        let mut text = String::new();
        for row in &self.rows {
            for (at, cell) in row.iter().enumerate() {
                if at > 0 {
                    text.push(mark);
                }
                let is_parted = cell.starts_with('"') || cell.contains([mark, '\r', '\n']);
                if is_parted {
                    text.extend(["\"", &cell.replace('"', "\"\""), "\""]);
                } else {
                    text.push_str(cell);
                }
            }
            text.push('\n');
        }
        text
    }

    /// The index of the first row with something in it.
    pub(super) fn first(&self) -> Option<usize> {
        self.rows.iter().position(|row| !is_blank(row))
    }
}

/// Whether nothing stands in a row.
pub(super) fn is_blank(row: &[String]) -> bool {
    row.iter().all(|cell| cell.trim().is_empty())
}

/// Reads rows of cells; without a separator it is taken from the text.
///
/// A cell may stand in quotes, with a quote inside written twice; a cell that only begins with words in
/// quotes stands as it is. An apostrophe that keeps a spreadsheet from taking a cell for a formula is left
/// out again, as [`table`] writes it.
///
/// # Errors
///
/// Nothing in it, too much, a quote that is never closed, or characters that no text has.
pub fn read(text: &str, separator: Option<Separator>) -> Result<Table, TableProblem> {
    if text.len() > MOST_BYTES {
        return Err(TableProblem::TooLarge);
    }
    if text.contains('\0') {
        return Err(TableProblem::NotText);
    }
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    if text.trim().is_empty() {
        return Err(TableProblem::Empty);
    }
    let separator = separator.unwrap_or_else(|| guessed(text));
    let rows = rows(text, separator.mark())?;
    let count = rows.iter().filter(|row| !is_blank(row)).count();
    // One of them may be the heads.
    if count > MOST_ROWS + 1 {
        return Err(TableProblem::TooManyRows { count });
    }
    if let Some((at, row)) = rows.iter().enumerate().find(|(_, row)| row.len() > MOST_COLUMNS) {
        return Err(TableProblem::TooManyColumns { row: at + 1, count: row.len() });
    }
    Ok(Table { separator, rows })
}

/// So many rows are looked at to find what parts the cells.
const LOOKED_AT: usize = 20;

/// What parts the cells: what gives every row the same number of cells; else what the first row holds.
fn guessed(text: &str) -> Separator {
    let start = match text.char_indices().filter(|(_, next)| *next == '\n').nth(LOOKED_AT * 2) {
        Some((end, _)) => &text[..end],
        None => text,
    };
    let widths = Separator::ALL.map(|separator| {
        // A start that ends inside a quote says nothing of this separator.
        let rows = rows(start, separator.mark()).unwrap_or_default();
        rows.iter().filter(|row| !is_blank(row)).take(LOOKED_AT).map(Vec::len).collect::<Vec<_>>()
    });
    let all = || Separator::ALL.into_iter().zip(&widths);
    let is_even =
        |widths: &[usize]| widths.first().is_some_and(|first| *first > 1 && widths.iter().all(|w| w == first));
    let even = all().find(|(_, widths)| is_even(widths));
    let in_first = all().find(|(_, widths)| widths.first().is_some_and(|first| *first > 1));
    even.or(in_first).map_or(Separator::Comma, |(separator, _)| separator)
}

fn rows(text: &str, mark: char) -> Result<Vec<Vec<String>>, TableProblem> {
    let (mut rows, mut row) = (Vec::new(), Vec::new());
    let mut left = text;
    loop {
        let (cell, rest) = cell(left, mark).ok_or(TableProblem::OpenQuote { row: rows.len() + 1 })?;
        row.push(table::as_meant(&cell));
        if let Some(next) = rest.strip_prefix(mark) {
            left = next;
            continue;
        }
        rows.push(std::mem::take(&mut row));
        left = rest.strip_prefix("\r\n").or_else(|| rest.strip_prefix(['\r', '\n'])).unwrap_or_default();
        if left.is_empty() {
            return Ok(rows);
        }
    }
}

/// The next cell and what is left behind it; nothing where its quote is never closed.
fn cell(text: &str, mark: char) -> Option<(String, &str)> {
    if let Some(inside) = text.strip_prefix('"') {
        let (cell, rest) = quoted(inside)?;
        if rest.is_empty() || rest.starts_with([mark, '\r', '\n']) {
            return Some((cell, rest));
        }
    }
    let end = text.find([mark, '\r', '\n']).unwrap_or(text.len());
    Some((text[..end].to_owned(), &text[end..]))
}

/// The longest cell in quotes that is read, in bytes: a quote that is closed later than that was not meant so.
const QUOTED_MOST: usize = 20_000;

fn quoted(inside: &str) -> Option<(String, &str)> {
    let mut cell = String::new();
    let mut left = inside;
    loop {
        let (before, rest) = left.split_once('"').filter(|(before, _)| cell.len() + before.len() <= QUOTED_MOST)?;
        cell.push_str(before);
        match rest.strip_prefix('"') {
            Some(next) => {
                cell.push('"');
                left = next;
            }
            None => return Some((cell, rest)),
        }
    }
}
