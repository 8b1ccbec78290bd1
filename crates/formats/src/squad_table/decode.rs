//! From the bytes of a file to text.

use encoding_rs::{Encoding, UTF_8, WINDOWS_1252};

use super::{MOST_BYTES, TableProblem};

/// The text of a file: by the mark in front of it, else UTF-8, else Windows-1252, in which spreadsheets on
/// Windows still write.
///
/// # Errors
///
/// Nothing in it, too much, or bytes that are no text.
pub fn decode(bytes: &[u8]) -> Result<String, TableProblem> {
    if bytes.len() > MOST_BYTES {
        return Err(TableProblem::TooLarge);
    }
    let (encoding, mark) = Encoding::for_bom(bytes).unwrap_or((UTF_8, 0));
    let (text, wrong) = encoding.decode_without_bom_handling(&bytes[mark..]);
    let text = match wrong {
        false => text,
        true if mark == 0 => WINDOWS_1252.decode_without_bom_handling(bytes).0,
        true => return Err(TableProblem::NotText),
    };
    if text.contains('\0') {
        return Err(TableProblem::NotText);
    }
    if text.trim().is_empty() { Err(TableProblem::Empty) } else { Ok(text.into_owned()) }
}
