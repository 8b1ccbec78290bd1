//! Numbers with their units.

use planning::{Amount, DistanceUnit, Milli, Share, Totals};

/// A number without trailing zeros: `7`, `7.5`.
pub fn number(value: Milli) -> String {
    value.to_string()
}

/// A number that need not be exact, to the nearest tenth.
pub fn short_number(value: f64) -> String {
    number(tenth(value))
}

/// A share in whole per cent: `83%`.
pub fn per_cent(share: Share) -> String {
    format!("{}%", share.percent())
}

/// An amount: `7 km`, `6–8 mi`, `50 min`.
pub fn amount(amount: Amount) -> String {
    format!("{} {}", bare(amount), amount.unit().symbol())
}

/// An amount without its unit: `7`, `6–8`.
pub fn bare(amount: Amount) -> String {
    if amount.is_range() { format!("{}\u{2013}{}", amount.low(), amount.high()) } else { amount.low().to_string() }
}

/// An amount in the reader's unit: as typed where that is it (and always where it is time), else to
/// the nearest tenth.
pub fn amount_in(amount: Amount, units: DistanceUnit) -> Amount {
    let converted = amount.told_in(units);
    if converted.unit() == amount.unit() {
        return amount;
    }
    Amount::between(tenth(converted.low().as_f64()), tenth(converted.high().as_f64()), units.unit())
}

/// To the nearest tenth.
pub(crate) fn tenth(value: f64) -> Milli {
    Milli::nearest((value * 10.0).round() / 10.0)
}

/// Totals in the reader's unit, time apart.
fn totals_in(totals: &Totals, units: DistanceUnit) -> Totals {
    totals.parts().iter().map(|part| amount_in(*part, units)).collect()
}

/// Totals in words: `40–45 km`, `40 km and 50 min`.
pub fn totals(totals: &Totals, units: DistanceUnit) -> String {
    let parts: Vec<String> = totals_in(totals, units).parts().iter().map(|part| amount(*part)).collect();
    if parts.is_empty() { format!("0 {}", units.symbol()) } else { super::list(&parts) }
}

/// The middle of totals in words: `42.5 km`, `40 km and 50 min`.
pub(super) fn middle(totals: &Totals, units: DistanceUnit) -> String {
    let middles = totals_in(totals, units);
    let parts: Vec<String> =
        middles.parts().iter().map(|part| amount(Amount::exact(part.middle(), part.unit()))).collect();
    super::list(&parts)
}
