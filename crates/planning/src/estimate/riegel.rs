//! One power of the distance.

/// How time grows with distance.
const EXPONENT: f64 = 1.06;

/// The times of the races that the formula was fitted to, in minutes.
pub(super) const FITTED_MINUTES: std::ops::RangeInclusive<f64> = 3.5..=230.0;

/// Minutes for a distance from the minutes for another, distances in kilometres:
/// `T2 = T1 (D2 / D1)^1.06`.
///
/// # Source
///
/// Riegel 1981, Athletic records and human endurance, American Scientist 69; formula and range read in
/// secondary copies.
pub(super) fn minutes(minutes: f64, from_km: f64, to_km: f64) -> f64 {
    minutes * (to_km / from_km).powf(EXPONENT)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Computed in Python from the published formula.
    #[test]
    fn ten_kilometres_in_forty_minutes() {
        for (to, expected) in [(5.0, 19.185_282), (16.093_44, 66.238_091), (21.0975, 88.256_123), (42.195, 184.007_973)]
        {
            assert!((minutes(40.0, 10.0, to) - expected).abs() < 1e-6, "{to}");
        }
    }

    /// A worked example of the formula as it was printed, to 42.2 km: 2:55, 2:40, 2:43 and 2:40, to the minute.
    #[test]
    fn a_printed_example() {
        for (minutes_run, km, printed) in
            [(38.0, 10.0, 175.0), (77.0, 21.1, 160.0), (94.0, 25.0, 163.0), (119.0, 32.0, 160.0)]
        {
            let found = minutes(minutes_run, km, 42.2);
            assert!((found - printed).abs() <= 1.0, "{km} km: {found}");
        }
    }
}
