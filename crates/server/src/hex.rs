//! Bytes as text that may stand in names and headers.

use std::fmt::Write as _;

/// Two digits a byte.
pub(crate) fn hex(bytes: &[u8]) -> String {
    bytes.iter().fold(String::with_capacity(2 * bytes.len()), |mut text, byte| {
        // Writing to a String cannot fail.
        let _ = write!(text, "{byte:02x}");
        text
    })
}

#[cfg(test)]
mod tests {
    use super::hex;

    #[test]
    fn every_byte_has_two_digits() {
        assert_eq!(hex(&[0, 9, 0xa0, 0xff]), "0009a0ff");
        assert_eq!(hex(&[]), "");
    }
}
