//! Body weight: only for amounts of food per kilogram. Nothing else reads it, and no target is ever made of it.

use crate::problem::ProblemKind;
use crate::units::{DistanceUnit, Milli};

/// What a weight is typed in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum WeightUnit {
    /// Kilogram.
    Kg,
    /// Pound, 453.59237 g exactly.
    Lb,
}

impl WeightUnit {
    /// What goes with a unit of distance: pounds with miles.
    pub const fn beside(units: DistanceUnit) -> Self {
        match units {
            DistanceUnit::Km => Self::Kg,
            DistanceUnit::Mi => Self::Lb,
        }
    }

    /// `kg`, `lb`.
    pub const fn symbol(self) -> &'static str {
        match self {
            Self::Kg => "kg",
            Self::Lb => "lb",
        }
    }

    /// Grams in one.
    ///
    /// # Source
    ///
    /// International yard and pound agreement of 1959, from memory.
    const fn grams(self) -> f64 {
        match self {
            Self::Kg => 1000.0,
            Self::Lb => 453.592_37,
        }
    }
}

/// The weight of a person, in whole grams.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Weight(u32);

impl Weight {
    /// The least and the most that is believed, in kilograms: beyond is a slip of the pen, or the other unit.
    const LIMITS_KG: (u32, u32) = (25, 250);

    /// The least and the most that is believed, in whole units.
    pub fn limits(unit: WeightUnit) -> (u32, u32) {
        let (least, most) = Self::LIMITS_KG;
        let units = |kg: u32| f64::from(kg * 1000) / unit.grams();
        (units(least).ceil() as u32, units(most).floor() as u32)
    }

    /// From thousandths of a unit.
    ///
    /// # Errors
    ///
    /// [`ProblemKind::WeightOutOfRange`] outside [`Weight::limits`].
    pub fn new(value: Milli, unit: WeightUnit) -> Result<Self, ProblemKind> {
        let grams = (value.as_f64() * unit.grams()).round() as u32;
        Self::grams(grams).ok_or(ProblemKind::WeightOutOfRange { value, unit })
    }

    /// From grams, if somebody may weigh so much.
    pub fn grams(grams: u32) -> Option<Self> {
        let (least, most) = Self::LIMITS_KG;
        (least * 1000..=most * 1000).contains(&grams).then_some(Self(grams))
    }

    /// Whole grams.
    pub const fn as_grams(self) -> u32 {
        self.0
    }

    /// Kilograms.
    pub(crate) fn as_kg(self) -> f64 {
        f64::from(self.0) / 1000.0
    }

    /// In a unit, to the nearest tenth.
    pub fn in_unit(self, unit: WeightUnit) -> Milli {
        Milli((f64::from(self.0) / unit.grams() * 10.0).round() as i32 * 100)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_typed_in_pounds_comes_back_in_pounds() {
        for tenths in [560, 1405, 1500, 5511] {
            let typed = Milli(tenths * 100);
            assert_eq!(Weight::new(typed, WeightUnit::Lb).map(|weight| weight.in_unit(WeightUnit::Lb)), Ok(typed));
        }
    }

    #[test]
    fn the_limits_that_are_told_are_those_that_hold() {
        assert_eq!([WeightUnit::Kg, WeightUnit::Lb].map(Weight::limits), [(25, 250), (56, 551)]);
        for unit in [WeightUnit::Kg, WeightUnit::Lb] {
            let (least, most) = Weight::limits(unit);
            let is_taken = |value: u32| Weight::new(Milli::whole(value as i32), unit).is_ok();
            assert_eq!([least - 1, least, most, most + 1].map(is_taken), [false, true, true, false]);
        }
    }

    #[test]
    fn a_weight_that_nobody_has_is_refused() {
        for (value, unit) in [
            (24_999, WeightUnit::Kg),
            (250_001, WeightUnit::Kg),
            (55_100, WeightUnit::Lb),
            (551_200, WeightUnit::Lb),
            (-60_000, WeightUnit::Kg),
        ] {
            let refused = Weight::new(Milli(value), unit);
            assert_eq!(refused, Err(ProblemKind::WeightOutOfRange { value: Milli(value), unit }));
        }
        for edge in [25_000, 250_000] {
            assert!(Weight::new(Milli(edge), WeightUnit::Kg).is_ok(), "{edge}");
        }
    }
}
