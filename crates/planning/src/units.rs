//! Amounts of running, exactly: thousandths of the unit in which they were typed.
//!
//! A coach who types 3.5 miles reads 3.5 miles for ever: nothing is stored in another unit, and
//! conversion happens only to show or to compare.

use std::fmt;

/// A unit in which a session's amount is given.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Unit {
    /// Kilometres.
    Km,
    /// International miles of 1609.344 m.
    Mi,
    /// Minutes.
    Min,
}

impl Unit {
    /// Every unit, in the order in which totals are shown.
    pub const ALL: [Self; 3] = [Self::Km, Self::Mi, Self::Min];

    /// The short name used in text and in files: `km`, `mi`, `min`.
    pub const fn symbol(self) -> &'static str {
        match self {
            Self::Km => "km",
            Self::Mi => "mi",
            Self::Min => "min",
        }
    }
}

/// A unit of distance: what an athlete thinks in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Default)]
pub enum DistanceUnit {
    /// Kilometres.
    #[default]
    Km,
    /// International miles.
    Mi,
}

impl DistanceUnit {
    /// The same unit as a unit of amounts.
    pub const fn unit(self) -> Unit {
        match self {
            Self::Km => Unit::Km,
            Self::Mi => Unit::Mi,
        }
    }

    /// The short name: `km` or `mi`.
    pub const fn symbol(self) -> &'static str {
        self.unit().symbol()
    }

    /// Millimetres in one unit.
    ///
    /// # Source
    ///
    /// International yard and pound agreement of 1959: one mile is 1609.344 m exactly.
    pub const fn millimetres(self) -> i64 {
        match self {
            Self::Km => 1_000_000,
            Self::Mi => 1_609_344,
        }
    }
}

/// Thousandths of a unit: the only number in which amounts are kept. 3.5 km is `Milli(3500)`.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Milli(pub i32);

impl Milli {
    /// Nothing.
    pub const ZERO: Self = Self(0);

    /// Whole units: `Milli::whole(3)` is 3 km, 3 miles or 3 minutes.
    pub const fn whole(units: i32) -> Self {
        Self(units * 1000)
    }

    /// The number of units.
    pub fn as_f64(self) -> f64 {
        f64::from(self.0) / 1000.0
    }

    /// The nearest thousandth to a number of units; out of range saturates.
    pub fn nearest(units: f64) -> Self {
        Self((units * 1000.0).round() as i32)
    }

    /// This amount times a share, to the nearest thousandth.
    #[must_use]
    pub fn times(self, share: Share) -> Self {
        Self::nearest(self.as_f64() * share.0)
    }
}

impl std::ops::Add for Milli {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0 + other.0)
    }
}

impl std::ops::Sub for Milli {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self(self.0 - other.0)
    }
}

impl std::iter::Sum for Milli {
    fn sum<I: Iterator<Item = Self>>(iter: I) -> Self {
        iter.fold(Self::ZERO, |total, item| total + item)
    }
}

impl fmt::Display for Milli {
    /// Without trailing zeros: `7`, `3.5`, `21.098`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (sign, value) = if self.0 < 0 { ("-", -i64::from(self.0)) } else { ("", i64::from(self.0)) };
        let (whole, mut rest) = (value / 1000, value % 1000);
        if rest == 0 {
            return write!(f, "{sign}{whole}");
        }
        let mut digits = 3;
        while rest % 10 == 0 {
            (rest, digits) = (rest / 10, digits - 1);
        }
        write!(f, "{sign}{whole}.{rest:0digits$}")
    }
}

/// How much a session is: a number or a range, in one unit.
///
/// `low <= high`, both from 0 to [`Amount::most`]. A plain number has `low == high`.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Amount {
    low: Milli,
    high: Milli,
    unit: Unit,
}

impl Amount {
    /// The most one session can be: 400 km, 250 miles, or 72 hours. Above that it is a slip of the pen.
    pub const fn most(unit: Unit) -> Milli {
        match unit {
            Unit::Km => Milli::whole(400),
            Unit::Mi => Milli::whole(250),
            Unit::Min => Milli::whole(72 * 60),
        }
    }

    /// A plain number of units. Not checked against [`Amount::most`]: use [`Amount::checked`] for
    /// what a person typed.
    pub const fn exact(value: Milli, unit: Unit) -> Self {
        Self { low: value, high: value, unit }
    }

    /// A range as a person typed it.
    ///
    /// # Errors
    ///
    /// What is wrong with it: below zero, above [`Amount::most`], or low above high.
    pub fn checked(low: Milli, high: Milli, unit: Unit) -> Result<Self, crate::ProblemKind> {
        let most = Self::most(unit);
        for value in [low, high] {
            if value < Milli::ZERO {
                return Err(crate::ProblemKind::Negative { value });
            }
            if value > most {
                return Err(crate::ProblemKind::TooMuch { value, most, unit });
            }
        }
        if low > high {
            return Err(crate::ProblemKind::LowAboveHigh { low, high });
        }
        Ok(Self { low, high, unit })
    }

    /// A range from parts that are known to be right; the order is mended.
    pub fn between(one: Milli, other: Milli, unit: Unit) -> Self {
        Self { low: one.min(other), high: one.max(other), unit }
    }

    /// The lower end.
    pub const fn low(self) -> Milli {
        self.low
    }

    /// The upper end.
    pub const fn high(self) -> Milli {
        self.high
    }

    /// The unit.
    pub const fn unit(self) -> Unit {
        self.unit
    }

    /// The middle of the range: what is planned with.
    pub const fn middle(self) -> Milli {
        Milli(i32::midpoint(self.low.0, self.high.0))
    }

    /// Whether low and high differ.
    pub const fn is_range(self) -> bool {
        self.low.0 != self.high.0
    }

    /// The same distance in this unit, to the nearest thousandth; minutes stay minutes.
    #[must_use]
    pub fn told_in(self, units: DistanceUnit) -> Self {
        if self.unit == Unit::Min || self.unit == units.unit() {
            return self;
        }
        // No pace is needed from one unit of distance to the other.
        Totals::from_iter([self]).estimate(units.unit(), Pace::ASSUMED)
    }

    /// Both ends times a share, to the nearest tenth (a hard part is a measure, not a promise).
    #[must_use]
    pub fn scaled(self, share: Share) -> Self {
        let tenth = |value: Milli| Milli(((f64::from(value.0) * share.0) / 100.0).round() as i32 * 100);
        Self { low: tenth(self.low), high: tenth(self.high), unit: self.unit }
    }
}

impl fmt::Display for Amount {
    /// `7 km`, `6-8 mi`, `50 min`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.is_range() {
            write!(f, "{}-{} {}", self.low, self.high, self.unit.symbol())
        } else {
            write!(f, "{} {}", self.low, self.unit.symbol())
        }
    }
}

/// A length of course or road in millimetres: every standard race distance is exact.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Distance(i64);

impl Distance {
    /// From millimetres.
    pub const fn millimetres(value: i64) -> Self {
        Self(value)
    }

    /// From metres.
    pub const fn metres(value: i64) -> Self {
        Self(value * 1000)
    }

    /// From thousandths of a unit, to the nearest millimetre.
    pub fn from_milli(value: Milli, unit: DistanceUnit) -> Self {
        Self((i64::from(value.0) * unit.millimetres() + 500) / 1000)
    }

    /// Millimetres.
    pub const fn as_millimetres(self) -> i64 {
        self.0
    }

    /// Kilometres.
    pub fn as_km(self) -> f64 {
        self.0 as f64 / 1_000_000.0
    }

    /// In the given unit, to the nearest thousandth.
    pub fn in_unit(self, unit: DistanceUnit) -> Milli {
        let per = unit.millimetres();
        Milli(((self.0 * 1000 + per / 2) / per) as i32)
    }
}

/// Seconds for one kilometre or one mile: used only to convert between minutes and distance.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Pace {
    seconds: u16,
    per: DistanceUnit,
}

impl Pace {
    /// Seconds for one unit that are believed: from 2:00 for a kilometre, which nobody runs easily, to 20:00 for a
    /// mile, a walk.
    const SECONDS: std::ops::RangeInclusive<u16> = 120..=1200;

    /// From seconds for one unit.
    ///
    /// # Errors
    ///
    /// Outside [`Pace::SECONDS`] it is a slip of the pen.
    pub fn new(seconds: u16, per: DistanceUnit) -> Result<Self, crate::ProblemKind> {
        if !Self::SECONDS.contains(&seconds) {
            return Err(crate::ProblemKind::PaceOutOfRange { seconds });
        }
        Ok(Self { seconds, per })
    }

    /// Seconds for one unit.
    pub const fn seconds(self) -> u16 {
        self.seconds
    }

    /// The unit for which the seconds stand.
    pub const fn per(self) -> DistanceUnit {
        self.per
    }

    /// Minutes for one kilometre.
    pub(crate) fn minutes_per_km(self) -> f64 {
        f64::from(self.seconds) / 60.0 * 1_000_000.0 / self.per.millimetres() as f64
    }

    /// Ten kilometres an hour: how minutes weigh against kilometres where no pace is known.
    ///
    /// Used only to sort a week into "below 30 km" and the like and to weigh a mixed week's share;
    /// never shown as a distance.
    ///
    /// # Source
    ///
    /// Common practice, no published source.
    pub const ASSUMED: Self = Self { seconds: 360, per: DistanceUnit::Km };

    /// Twelve kilometres an hour: how minutes of hard running weigh against kilometres.
    ///
    /// Used to tell how much of a run is hard; told as a distance or a time only in the unit in which the coach said it.
    ///
    /// # Source
    ///
    /// Common practice, no published source.
    pub(crate) const ASSUMED_HARD: Self = Self::ASSUMED.hard();

    /// The pace of hard running of whoever runs easily at this one: five parts of six.
    ///
    /// # Source
    ///
    /// Common practice, no published source.
    pub(crate) const fn hard(self) -> Self {
        Self { seconds: self.seconds * 5 / 6, per: self.per }
    }
}

impl fmt::Display for Pace {
    /// `5:45`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}:{:02}", self.seconds / 60, self.seconds % 60)
    }
}

/// A part of a whole: 0.25 is a quarter. Shown in per cent.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Share(pub f64);

impl Share {
    /// All of it.
    pub const ALL: Self = Self(1.0);
    /// None of it.
    pub const NONE: Self = Self(0.0);

    /// Rounded whole per cent.
    pub fn percent(self) -> i32 {
        (self.0 * 100.0).round() as i32
    }
}

/// Running added up, unit by unit: what was typed in minutes stays in minutes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Totals {
    /// The first `count` are the totals, in the order of their units; the others are nothing.
    parts: [Amount; Unit::ALL.len()],
    count: usize,
}

impl Default for Totals {
    fn default() -> Self {
        Self { parts: [Amount::exact(Milli::ZERO, Unit::Km); Unit::ALL.len()], count: 0 }
    }
}

impl Totals {
    /// The totals in the order km, mi, min; units without any running are left out.
    pub fn parts(&self) -> &[Amount] {
        &self.parts[..self.count]
    }

    /// Adds one amount to the total of its unit: low to low, high to high.
    pub fn add(&mut self, amount: Amount) {
        if let Some(part) = self.parts[..self.count].iter_mut().find(|part| part.unit == amount.unit) {
            part.low = part.low + amount.low;
            part.high = part.high + amount.high;
        } else {
            self.parts[self.count] = amount;
            self.count += 1;
            self.parts[..self.count].sort_unstable_by_key(|part| part.unit);
        }
    }

    /// Adds other totals, unit by unit.
    pub fn extend(&mut self, other: &Self) {
        other.parts().iter().for_each(|part| self.add(*part));
    }

    /// Half of both together, unit by unit.
    #[must_use]
    pub fn mean(&self, other: &Self) -> Self {
        let half = |amount: Amount| Amount::between(Milli(amount.low.0 / 2), Milli(amount.high.0 / 2), amount.unit);
        let both: Self = self.parts().iter().chain(other.parts()).copied().collect();
        both.parts().iter().copied().map(half).collect()
    }

    /// The total in one unit, nothing where there is none.
    pub fn of(&self, unit: Unit) -> Amount {
        self.parts().iter().copied().find(|part| part.unit == unit).unwrap_or(Amount::exact(Milli::ZERO, unit))
    }

    /// Whether there is nothing at all.
    pub fn is_empty(&self) -> bool {
        self.parts().iter().all(|part| part.high == Milli::ZERO)
    }

    /// The one unit of everything, or none if units are mixed (or there is nothing).
    pub fn single_unit(&self) -> Option<Unit> {
        match self.parts() {
            [only] => Some(only.unit),
            _ => None,
        }
    }

    /// The middle of everything in kilometres, minutes converted by the pace: for comparing, and for
    /// showing only where the coach has given a pace.
    pub fn middle_km(&self, pace: Pace) -> f64 {
        self.parts().iter().map(|part| middle_km(*part, pace)).sum()
    }

    /// Low and high in one unit of distance or in minutes, converted by the pace: an estimate.
    pub fn estimate(&self, unit: Unit, pace: Pace) -> Amount {
        let convert = |value: Milli, from: Unit| -> f64 {
            let km = in_km(value, from, pace);
            match unit {
                Unit::Km => km,
                Unit::Mi => km * 1_000_000.0 / DistanceUnit::Mi.millimetres() as f64,
                Unit::Min => km * pace.minutes_per_km(),
            }
        };
        let low: f64 = self.parts().iter().map(|part| convert(part.low, part.unit)).sum();
        let high: f64 = self.parts().iter().map(|part| convert(part.high, part.unit)).sum();
        Amount::between(Milli::nearest(low), Milli::nearest(high), unit)
    }
}

impl FromIterator<Amount> for Totals {
    fn from_iter<I: IntoIterator<Item = Amount>>(amounts: I) -> Self {
        let mut totals = Self::default();
        for amount in amounts {
            totals.add(amount);
        }
        totals
    }
}

/// Whether an amount lies below a limit, both in kilometres, by more than rounding between units can
/// make: the same week typed in miles falls on the same side.
pub(crate) fn is_below_km(km: f64, limit: f64) -> bool {
    km < limit - 0.02
}

/// The middle of an amount in kilometres, minutes converted by the pace.
pub fn middle_km(amount: Amount, pace: Pace) -> f64 {
    in_km(amount.middle(), amount.unit(), pace)
}

/// A number of units in kilometres, minutes converted by the pace.
pub fn in_km(value: Milli, unit: Unit, pace: Pace) -> f64 {
    match unit {
        Unit::Km => value.as_f64(),
        Unit::Mi => value.as_f64() * DistanceUnit::Mi.millimetres() as f64 / 1_000_000.0,
        Unit::Min => value.as_f64() / pace.minutes_per_km(),
    }
}

/// Kilometres in any unit, to the nearest thousandth, minutes converted by the pace: [`in_km`] turned round.
pub(crate) fn from_km(km: f64, unit: Unit, pace: Pace) -> Milli {
    Milli::nearest(km / in_km(Milli::whole(1), unit, pace))
}
