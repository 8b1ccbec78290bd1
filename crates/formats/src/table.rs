//! Any table as CSV: UTF-8, comma-separated, CRLF (RFC 4180). A cell that a spreadsheet could take for a
//! formula starts with an apostrophe.

use crate::plan_csv::harmless;

/// Writes a table with a first row of names.
///
/// # Errors
///
/// None that is known: nothing is written to but memory.
pub fn write<'a>(header: &[&str], rows: impl IntoIterator<Item = &'a Vec<String>>) -> Result<String, csv::Error> {
    let mut table = csv::WriterBuilder::new().terminator(csv::Terminator::CRLF).from_writer(Vec::new());
    table.write_record(header)?;
    for row in rows {
        table.write_record(row.iter().map(|cell| harmless(cell)))?;
    }
    let bytes = table.into_inner().map_err(csv::IntoInnerError::into_error)?;
    Ok(String::from_utf8_lossy(&bytes).into_owned())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn cells_are_quoted_and_no_cell_is_a_formula() {
        let rows = [vec!["=1+1".to_owned(), "a, \"b\"\nc".to_owned()]];
        assert_eq!(write(&["x", "y"], &rows).unwrap(), "x,y\r\n'=1+1,\"a, \"\"b\"\"\nc\"\r\n");
    }
}
