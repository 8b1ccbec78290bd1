//! From bytes to text: the mark in front, else the declaration, else UTF-8.

use std::borrow::Cow;

use encoding_rs::{Encoding, UTF_8, UTF_16BE, UTF_16LE};

use super::GpxProblem;

/// How far into a file its declaration is looked for, in bytes.
const DECLARATION_MOST: usize = 400;

/// The text of a file.
///
/// # Errors
///
/// Nothing in it, an encoding that is not known, or bytes that are none of its characters.
pub(super) fn text(bytes: &[u8]) -> Result<Cow<'_, str>, GpxProblem> {
    if bytes.iter().all(u8::is_ascii_whitespace) {
        return Err(GpxProblem::Empty);
    }
    let (encoding, mark) = match Encoding::for_bom(bytes) {
        Some(found) => found,
        None => (declared(bytes)?, 0),
    };
    let (text, wrong) = encoding.decode_without_bom_handling(&bytes[mark..]);
    if wrong { Err(GpxProblem::NotText { encoding: encoding.name() }) } else { Ok(text) }
}

/// The encoding of a file without a mark in front. What is readable as ASCII up to its declaration is no UTF-16,
/// whatever it says: such files were converted after they were written.
fn declared(bytes: &[u8]) -> Result<&'static Encoding, GpxProblem> {
    if bytes.starts_with(b"<\0") {
        return Ok(UTF_16LE);
    }
    if bytes.starts_with(b"\0<") {
        return Ok(UTF_16BE);
    }
    let Some(name) = encoding_name(&bytes[..bytes.len().min(DECLARATION_MOST)]) else { return Ok(UTF_8) };
    match Encoding::for_label_no_replacement(name.as_bytes()) {
        Some(found) if found == UTF_16LE || found == UTF_16BE => Ok(UTF_8),
        Some(found) => Ok(found),
        None => Err(GpxProblem::UnknownEncoding { name }),
    }
}

/// What stands in `<?xml version="1.0" encoding="..."?>`.
fn encoding_name(start: &[u8]) -> Option<String> {
    let start = String::from_utf8_lossy(start);
    let declaration = start.trim_start().strip_prefix("<?xml")?.split("?>").next()?;
    let value = declaration.split_once("encoding")?.1.trim_start().strip_prefix('=')?.trim_start();
    let quote = value.chars().next().filter(|quote| matches!(quote, '"' | '\''))?;
    Some(value[1..].split(quote).next()?.trim().to_owned())
}
