//! Numbers with their units.

use planning::{Amount, DistanceUnit, Milli, Pace, RaceTime, Share, Totals, Unit};

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
    bare(amount) + " " + amount.unit().symbol()
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

/// Totals with the distance that their minutes come to beside them, an estimate: `95 min, about 18 km`, `4 km and 20 min,
/// about 8 km`. Totals alone where they hold no minutes, or no pace is known.
pub fn totals_as_distance(all: &Totals, units: DistanceUnit, pace: Option<Pace>) -> String {
    let said = totals(all, units);
    match pace.filter(|_| all.of(Unit::Min).high() > Milli::ZERO) {
        Some(pace) => format!("{said}, about {}", estimate(all, units, pace)),
        None => said,
    }
}

/// What totals of kilometres (or miles) and minutes come to in one unit, as an estimate that says so: `about 62 km, the
/// minutes counted at 5:40/km`. Nothing where there is one unit alone, or no pace is known.
pub fn in_all(totals: &Totals, units: DistanceUnit, pace: Option<Pace>) -> Option<String> {
    let counted = counted_at(totals, pace)?;
    Some(format!("about {}, {counted}", estimate(totals, units, pace?)))
}

/// The same for what is planned beside what is usual: `about 48 km of usually 62 km, the minutes counted at 5:40/km`; once
/// where both are the same.
pub fn in_all_of(planned: &Totals, usual: &Totals, units: DistanceUnit, pace: Option<Pace>) -> Option<String> {
    let counted = counted_at(&together(planned, usual), pace)?;
    if planned == usual {
        return in_all(usual, units, pace);
    }
    let [planned, usual] = [planned, usual].map(|totals| pace.map(|pace| estimate(totals, units, pace)));
    Some(format!("about {} of usually {}, {counted}", planned?, usual?))
}

/// The same in few words, without the pace: `about 48 of 62 km`.
pub fn in_all_brief(planned: &Totals, usual: &Totals, units: DistanceUnit, pace: Option<Pace>) -> Option<String> {
    counted_at(&together(planned, usual), pace)?;
    let [planned, usual] = [planned, usual].map(|totals| pace.map(|pace| estimate(totals, units, pace)));
    let planned = planned?;
    let number = planned.rsplit_once(' ').map_or(planned.as_str(), |(number, _)| number);
    Some(format!("about {number} of {}", usual?))
}

/// Both in one, to see whether they hold more than one unit: a base week may be in kilometres, and a block in minutes.
pub(super) fn together(planned: &Totals, usual: &Totals) -> Totals {
    planned.parts().iter().chain(usual.parts()).copied().collect()
}

/// By which pace minutes are added to distance, where totals hold both: `the minutes counted at 5:40/km`.
pub(super) fn counted_at(totals: &Totals, pace: Option<Pace>) -> Option<String> {
    let pace = pace?;
    let is_mixed = totals.parts().len() > 1 && totals.of(Unit::Min).high() > Milli::ZERO;
    let at = RaceTime::seconds(u32::from(pace.seconds()));
    is_mixed.then(|| format!("the minutes counted at {at}/{}", pace.per().symbol()))
}

/// In whole units: it is no more exact than that.
fn estimate(totals: &Totals, units: DistanceUnit, pace: Pace) -> String {
    let all = totals.estimate(units.unit(), pace);
    let whole = |value: Milli| Milli::nearest(value.as_f64().round());
    amount(Amount::between(whole(all.low()), whole(all.high()), units.unit()))
}

/// The middle of totals in words: `42.5 km`, `40 km and 50 min`.
pub(super) fn middle(totals: &Totals, units: DistanceUnit) -> String {
    let middles = totals_in(totals, units);
    let parts: Vec<String> =
        middles.parts().iter().map(|part| amount(Amount::exact(part.middle(), part.unit()))).collect();
    super::list(&parts)
}
