//! A body weight as people write it.

use super::amounts::{Number, clean, take_number};
use super::line::unreadable;
use super::text::Text;
use crate::problem::{Expected, ProblemKind};
use crate::weight::{Weight, WeightUnit};

/// Reads a weight: `62`, `62.5 kg`, `140 lb`. A number without a unit is in the given one.
///
/// # Errors
///
/// Not a weight, or one that nobody has ([`Weight::new`]).
pub fn read_weight(text: &str, unless_said: WeightUnit) -> Result<Weight, ProblemKind> {
    let line = clean(text);
    let fault = || unreadable(&line, Expected::Weight);
    let mut left = Text::new(&line);
    let Some(Number::Plain(value)) = take_number(&mut left).map_err(|_| fault())? else { return Err(fault()) };
    let unit = match left.left().trim_end_matches('.').to_ascii_lowercase().as_str() {
        "" => unless_said,
        "kg" | "kgs" | "kilo" | "kilos" | "kilogram" | "kilograms" => WeightUnit::Kg,
        "lb" | "lbs" | "pound" | "pounds" => WeightUnit::Lb,
        _ => return Err(fault()),
    };
    Weight::new(value, unit)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_weight_is_read_with_and_without_its_unit() {
        for (text, unit, grams) in [
            ("62", WeightUnit::Kg, 62_000),
            ("62,5 kg", WeightUnit::Lb, 62_500),
            (" 62.5kg ", WeightUnit::Kg, 62_500),
            ("140", WeightUnit::Lb, 63_503),
            ("140 lbs.", WeightUnit::Kg, 63_503),
        ] {
            assert_eq!(read_weight(text, unit).map(Weight::as_grams), Ok(grams), "{text}");
        }
    }

    #[test]
    fn what_is_no_weight_is_refused() {
        for text in ["", "light", "10 stone", "60-62", "6:20", "62 km", "-62", "9", "99999999999 kg"] {
            assert!(read_weight(text, WeightUnit::Kg).is_err(), "{text}");
        }
    }
}
