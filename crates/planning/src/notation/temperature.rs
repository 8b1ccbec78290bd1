//! Temperatures as people write them.

use super::amounts::{Number, clean, take_number};
use super::line::unreadable;
use super::text::Text;
use crate::heat::Celsius;
use crate::problem::{Expected, ProblemKind};

/// Reads a temperature: `18`, `18.5 °C`, `-3`, `64 F`. A number without a unit is in degrees Celsius.
///
/// # Errors
///
/// Not a temperature, or one outside the given whole degrees Celsius.
pub fn read_temperature(text: &str, (from, to): (i16, i16)) -> Result<Celsius, ProblemKind> {
    let line = clean(text);
    let fault = || unreadable(&line, Expected::Temperature);
    let mut left = Text::new(&line);
    let below = left.take_any(&['-', '\u{2212}', '\u{2013}']).is_some();
    left.skip_space();
    let Ok(Some(Number::Plain(value))) = take_number(&mut left) else { return Err(fault()) };
    let degrees = if below { -value.as_f64() } else { value.as_f64() };
    left.skip_space();
    left.take_any(&['°', 'º', '\u{2da}']);
    let celsius = match left.left().to_ascii_lowercase().as_str() {
        "" | "c" | "celsius" | "degrees" | "degrees c" => degrees,
        // By definition: 32 °F is 0 °C, and 9 degrees of one are 5 of the other.
        "f" | "fahrenheit" | "degrees f" => (degrees - 32.0) / 1.8,
        _ => return Err(fault()),
    };
    let (from, to) = (f64::from(from), f64::from(to));
    let tenths = (celsius * 10.0).round();
    if (from * 10.0..=to * 10.0).contains(&tenths) {
        Ok(Celsius::tenths(tenths as i16))
    } else {
        Err(ProblemKind::OutOfRange { value: celsius, from, to })
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    const AIR: (i16, i16) = (-30, 50);

    #[test]
    fn temperatures_are_read_in_both_scales() {
        for (text, tenths) in [
            ("18", 180),
            ("18,5", 185),
            ("18.5 °C", 185),
            ("-3°", -30),
            ("\u{2212}3 c", -30),
            ("64 F", 178),
            ("32 °F", 0),
            ("50", 500),
            ("-30", -300),
        ] {
            assert_eq!(read_temperature(text, AIR), Ok(Celsius::tenths(tenths)), "{text}");
        }
    }

    #[test]
    fn what_is_no_temperature_of_a_race_is_refused() {
        for text in ["", "warm", "18-20", "18 K", "1e1", "18.5.5", "1:30"] {
            assert!(matches!(read_temperature(text, AIR), Err(ProblemKind::Unreadable { .. })), "{text}");
        }
        for text in ["50.1", "-31", "64 C", "999"] {
            assert!(matches!(read_temperature(text, AIR), Err(ProblemKind::OutOfRange { .. })), "{text}");
        }
    }

    proptest! {
        #[test]
        fn no_text_is_too_strange(text in "[0-9.,:°cfCF -]{0,12}|.{0,12}") {
            if let Ok(read) = read_temperature(&text, AIR) {
                prop_assert!((-300..=500).contains(&read.as_tenths()));
            }
        }
    }
}
