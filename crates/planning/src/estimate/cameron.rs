//! A ratio of speeds that falls with distance, fitted to the best times of the world.

/// The races that the formula was fitted to, in kilometres: from 800 m to the marathon.
pub(super) const FITTED_KM: std::ops::RangeInclusive<f64> = 0.8..=42.195;

/// The factor of a distance in metres.
fn factor(metres: f64) -> f64 {
    13.496_81 - 0.000_030_363 * metres + 835.7114 / metres.powf(0.7905)
}

/// Minutes for a distance from the minutes for another, distances in kilometres:
/// `T2 = T1 (D2 / D1) f(D1) / f(D2)`.
///
/// # Source
///
/// Cameron 1998, time equivalence for running events, read in public transcriptions of 2001.
pub(super) fn minutes(minutes: f64, from_km: f64, to_km: f64) -> f64 {
    minutes * (to_km / from_km) * factor(from_km * 1000.0) / factor(to_km * 1000.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The same factor as it was also published, of a distance in miles.
    fn factor_of_miles(miles: f64) -> f64 {
        13.496_81 - 0.048_865 * miles + 2.438_936 / miles.powf(0.7905)
    }

    /// Computed in Python from the metre form; the form in miles gives the same.
    #[test]
    fn ten_kilometres_in_forty_minutes_in_both_published_forms() {
        for (to, expected) in [(5.0, 19.202_601), (21.0975, 88.191_474), (42.195, 187.408_875)] {
            let found = minutes(40.0, 10.0, to);
            assert!((found - expected).abs() < 1e-6, "{to}: {found}");
            let miles = |km: f64| km / 1.609_344;
            let other = 40.0 * (to / 10.0) * factor_of_miles(miles(10.0)) / factor_of_miles(miles(to));
            assert!((found / other - 1.0).abs() < 1e-5, "{to}: {found} and {other}");
        }
    }
}
