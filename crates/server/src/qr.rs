//! Codes to point a camera at, as one path of an SVG picture.

use std::fmt::Write;

use qrcode::{Color, EcLevel};

/// White that a camera needs around a code, in squares of the code.
///
/// # Source
///
/// ISO/IEC 18004, quiet zone: four modules on each side.
const QUIET: usize = 4;

/// A code, ready to be drawn.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct QrCode {
    /// Width and height of the picture, in squares of the code.
    pub(crate) size: usize,
    /// The dark squares.
    pub(crate) path: String,
}

impl QrCode {
    /// The code of a text; nothing where the text is too long for one.
    pub(crate) fn of(text: &str) -> Option<Self> {
        let code = qrcode::QrCode::with_error_correction_level(text, EcLevel::M).ok()?;
        let mut path = String::new();
        for (y, row) in code.to_colors().chunks(code.width()).enumerate() {
            let mut x = 0;
            // Squares side by side are one piece, so that no line of paper shines through between them.
            for piece in row.chunk_by(PartialEq::eq) {
                if piece[0] == Color::Dark {
                    write!(path, "M{} {}h{}v1h-{}z", x + QUIET, y + QUIET, piece.len(), piece.len()).ok()?;
                }
                x += piece.len();
            }
        }
        Some(Self { size: code.width() + 2 * QUIET, path })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The dark squares of a path, drawn again.
    fn drawn(code: &QrCode) -> Vec<(usize, usize)> {
        let mut squares = Vec::new();
        for piece in code.path.split('M').skip(1) {
            let (place, rest) = piece.split_once('h').unwrap();
            let (x, y) = place.split_once(' ').unwrap();
            let wide: usize = rest.split_once('v').unwrap().0.parse().unwrap();
            let (x, y): (usize, usize) = (x.parse().unwrap(), y.parse().unwrap());
            squares.extend((x..x + wide).map(|x| (x, y)));
        }
        squares
    }

    #[test]
    fn the_path_draws_every_dark_square_once_inside_its_quiet_zone() {
        let text = "http://192.168.1.20:4651/p/3f1c2e8a5b7d4c60a1f2e3d4c5b6a7983f1c2e8a5b7d4c60a1f2e3d4c5b6a798";
        let code = QrCode::of(text).unwrap();
        let plain = qrcode::QrCode::with_error_correction_level(text, EcLevel::M).unwrap();
        let width = plain.width();
        let dark = plain.to_colors().into_iter().enumerate().filter(|(_, color)| *color == Color::Dark);
        let expected: Vec<_> = dark.map(|(at, _)| (at % width + QUIET, at / width + QUIET)).collect();
        assert_eq!(drawn(&code), expected);
        assert_eq!(code.size, width + 8);
    }

    #[test]
    fn a_text_that_no_code_can_hold_has_none() {
        assert_eq!(QrCode::of(&"x".repeat(5000)), None);
    }
}
