//! A list of athletes with their weeks, as it is copied out of a spreadsheet or read from a file.
//!
//! [`decode`] makes text of a file, [`read`] makes rows of cells of the text, [`Columns`] says what each
//! column holds, and [`athletes`] reads each row; what is wrong keeps its row, its column and its value.
//! Nothing here knows who is in the squad already.
//!
//! A cell is text and nothing else: what looks like a formula is only looked at.

mod cells;
mod columns;
mod decode;
mod people;
mod write;

pub use cells::{Separator, Table, read};
pub use columns::{Column, Columns};
pub use decode::decode;
pub use people::{CellFault, CellProblem, Longest, TableAthlete, athletes, names};
pub use write::{TableRow, sample, write};

/// The most rows with something in them, the one with the heads aside.
pub const MOST_ROWS: usize = 2_000;

/// The most columns of a row.
pub const MOST_COLUMNS: usize = 60;

/// The largest text, in bytes.
pub const MOST_BYTES: usize = 1024 * 1024;

/// Why a text is no table that can be read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum TableProblem {
    /// Nothing is in it.
    Empty,
    /// More than [`MOST_BYTES`].
    TooLarge,
    /// It holds characters that no text has.
    NotText,
    /// A cell begins with a quotation mark that is never closed.
    OpenQuote {
        /// The row of the cell, the first one is 1.
        row: usize,
    },
    /// More than [`MOST_ROWS`].
    TooManyRows {
        /// How many.
        count: usize,
    },
    /// More than [`MOST_COLUMNS`].
    TooManyColumns {
        /// The first row that has so many.
        row: usize,
        /// How many.
        count: usize,
    },
    /// No column holds names.
    NoNames,
    /// Two columns are said to hold the same.
    SameColumn {
        /// What they hold.
        column: Column,
    },
}

#[cfg(test)]
mod tests;
