//! Any table as CSV: UTF-8, comma-separated, CRLF (RFC 4180).
//!
//! Spreadsheets differ in where they part cells: at commas, at semicolons, at tabs. So every cell that
//! holds any of them is quoted, and what could be taken for a formula carries an apostrophe: at the
//! beginning of a cell, and inside of one behind a mark at which another spreadsheet begins a new cell. Quotes between that
//! mark and the formula hide nothing: who parts elsewhere may take two of them for a cell's empty beginning.

/// What parts cells or rows somewhere, the comma aside: who parts at commas also reads the quotes.
const FOREIGN_ENDS: [char; 4] = [';', '\t', '\r', '\n'];

/// Writes a table with a first row of names.
pub fn write<Row>(header: &[&str], rows: impl IntoIterator<Item = Row>) -> String
where
    Row: IntoIterator<Item: AsRef<str>>,
{
    let mut table = String::new();
    write_row(&mut table, header);
    for row in rows {
        write_row(&mut table, row);
    }
    table
}

fn write_row(table: &mut String, cells: impl IntoIterator<Item: AsRef<str>>) {
    for (at, cell) in cells.into_iter().enumerate() {
        if at > 0 {
            table.push(',');
        }
        table.push_str(&quoted(&harmless(cell.as_ref())));
    }
    table.push_str("\r\n");
}

/// A cell in quotes where any spreadsheet would part it.
fn quoted(cell: &str) -> String {
    let is_parted = cell.contains([',', '"']) || cell.contains(FOREIGN_ENDS);
    if is_parted { format!("\"{}\"", cell.replace('"', "\"\"")) } else { cell.to_owned() }
}

/// A cell that no spreadsheet runs as a formula, wherever it parts cells.
///
/// # Source
///
/// OWASP, "CSV Injection": cells that start with `=`, `+`, `-`, `@`, tab or carriage return, their
/// full-width forms too; separators inside a cell may start a new one.
fn harmless(cell: &str) -> String {
    let mut written = String::with_capacity(cell.len() + 1);
    let mut is_start = true;
    for c in cell.chars() {
        let is_break = FOREIGN_ENDS[1..].contains(&c);
        let is_first = written.is_empty();
        if is_start && (is_formula_sign(c) || is_first && is_break) {
            written.push('\'');
        }
        written.push(c);
        is_start = begins_behind(c, is_start);
    }
    written
}

/// A cell as it was before [`write`] put apostrophes into it.
pub(crate) fn as_meant(cell: &str) -> String {
    let mut meant = String::with_capacity(cell.len());
    let mut characters = cell.chars().peekable();
    let mut is_start = true;
    while let Some(c) = characters.next() {
        let next = characters.peek().copied();
        let guards =
            next.is_some_and(|next| is_formula_sign(next) || meant.is_empty() && FOREIGN_ENDS[1..].contains(&next));
        if is_start && c == '\'' && guards {
            is_start = false;
            continue;
        }
        meant.push(c);
        is_start = begins_behind(c, is_start);
    }
    meant
}

/// Whether a cell may begin behind a character, `is_start` in front of it as well.
fn begins_behind(c: char, is_start: bool) -> bool {
    FOREIGN_ENDS.contains(&c) || (is_start && c == '"')
}

fn is_formula_sign(c: char) -> bool {
    ['=', '+', '-', '@', '\u{ff1d}', '\u{ff0b}', '\u{ff0d}', '\u{ff20}'].contains(&c)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    #[test]
    fn cells_are_quoted_and_no_cell_is_a_formula() {
        assert_eq!(
            write(&["x", "y"], [["=1+1", "a, \"b\"\nc"], ["plain", ""]]),
            "x,y\r\n'=1+1,\"a, \"\"b\"\"\nc\"\r\nplain,\r\n"
        );
        assert_eq!(
            write(&["x", "y"], [["x;=1+1", "x\t=1+1"], ["easy; 8 km", "8-10"], ["a\n-b", "\tc"]]),
            "x,y\r\n\"x;'=1+1\",\"x\t'=1+1\"\r\n\"easy; 8 km\",8-10\r\n\"a\n'-b\",\"'\tc\"\r\n"
        );
    }

    #[test]
    fn quotes_in_front_of_a_formula_do_not_hide_it_from_who_parts_elsewhere() {
        let rows = [["", ";"], ["\n\"=1+1", "\"\"-2"]];
        let table = write(&["x", "y"], rows);
        assert_eq!(table, "x,y\r\n,\";\"\r\n\"'\n\"\"'=1+1\",\"\"\"\"\"'-2\"\r\n");
        for mark in [b',', b';', b'\t'] {
            let cells = cells_parted_at(mark, &table);
            assert!(cells.iter().all(|cell| !cell.starts_with(is_formula_sign)), "{cells:?}");
        }
        for cell in rows.as_flattened() {
            assert_eq!(as_meant(&harmless(cell)), *cell);
        }
        // What is in quotes anywhere else stays as it is.
        assert_eq!(harmless("8 km \"-\" easy"), "8 km \"-\" easy");
    }

    /// The cells as a spreadsheet reads them that parts at the given mark.
    fn cells_parted_at(mark: u8, table: &str) -> Vec<String> {
        let mut rows =
            csv::ReaderBuilder::new().has_headers(false).flexible(true).delimiter(mark).from_reader(table.as_bytes());
        rows.records().flat_map(|row| row.unwrap().iter().map(str::to_owned).collect::<Vec<_>>()).collect()
    }

    proptest! {
        #[test]
        fn no_spreadsheet_sees_a_formula_and_commas_give_the_cells_back(
            rows in prop::collection::vec(["([=+@x;,'\"\t\n -]|\r\n|\u{ff1d}){0,12}", "\\PC{0,12}"], 1..6)
        ) {
            let table = write(&["one", "two"], &rows);
            for mark in [b',', b';', b'\t'] {
                for cell in cells_parted_at(mark, &table) {
                    prop_assert!(!cell.starts_with(is_formula_sign), "{} at {}", cell, mark);
                }
            }
            for part in table.split([';', '\t', '\r', '\n']) {
                prop_assert!(!part.starts_with(is_formula_sign), "{}", part);
            }
            let expected: Vec<String> = ["one".to_owned(), "two".to_owned()]
                .into_iter()
                .chain(rows.iter().flatten().map(|cell| harmless(cell)))
                .collect();
            prop_assert_eq!(cells_parted_at(b',', &table), expected);
            for cell in rows.iter().flatten() {
                let written = harmless(cell).replace('\'', "");
                prop_assert_eq!(written, cell.replace('\'', ""), "nothing but apostrophes comes in");
            }
        }
    }
}
