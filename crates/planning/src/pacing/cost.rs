//! What running costs uphill and downhill.

use crate::units::Share;

/// The steepest grade that was measured; beyond it the cost is taken as there.
const STEEPEST: f64 = 0.45;

/// The energy that running takes on a grade (rise over run), in joules for each kilogram and metre.
///
/// # Source
///
/// Minetti and others 2002, Energy cost of walking and running at extreme uphill and downhill slopes, J Appl
/// Physiol 93:1039, the regression for running, -0.45 to +0.45; ten runners on a treadmill.
fn cost_of_running(grade: f64) -> f64 {
    let i = grade.clamp(-STEEPEST, STEEPEST);
    ((((155.4 * i - 30.4) * i - 43.3) * i + 46.3) * i + 19.5) * i + 3.6
}

/// How much longer the same distance takes on a grade than on the flat, at the same effort.
///
/// Of what a descent saves only a part is counted on: on a road nobody cashes in all of it, and steep ones
/// cost legs.
pub(super) fn relative_cost(grade: f64, descent: Share) -> f64 {
    let relative = cost_of_running(grade) / cost_of_running(0.0);
    if relative < 1.0 { 1.0 - descent.0 * (1.0 - relative) } else { relative }
}

#[cfg(test)]
#[expect(clippy::float_cmp, reason = "values that are computed the same way")]
mod tests {
    use super::*;

    /// The polynomial's values, computed in double precision with another program.
    #[test]
    fn the_cost_of_running_is_the_published_regression() {
        for (grade, cost) in [
            (-0.45, 4.032_305),
            (-0.20, 1.800_032),
            (-0.10, 2.151_706),
            (-0.05, 2.745_924),
            (0.0, 3.6),
            (0.02, 4.008_169),
            (0.05, 4.685_196),
            (0.10, 5.968_214),
            (0.45, 19.426_015),
        ] {
            assert!((cost_of_running(grade) - cost).abs() < 1e-6, "{grade}");
        }
        let least = (-450..=450).map(|mille| f64::from(mille) / 1000.0);
        let least = least.min_by(|one, other| cost_of_running(*one).total_cmp(&cost_of_running(*other))).unwrap();
        assert!((least + 0.181).abs() < 1e-9, "least near -0.181355: {least}");
        assert!((cost_of_running(-0.181_355) - 1.781_269).abs() < 1e-6);
    }

    /// Minetti 2002, measured means with their standard deviations.
    #[test]
    fn the_regression_lies_near_what_was_measured() {
        for (grade, measured, near) in [(0.0, 3.40, 0.25), (0.45, 18.93, 0.6), (-0.20, 1.73, 0.1), (-0.45, 3.92, 0.15)]
        {
            assert!((cost_of_running(grade) - measured).abs() < near, "{grade}");
        }
    }

    #[test]
    fn beyond_the_steepest_it_is_as_there() {
        assert_eq!(cost_of_running(2.0), cost_of_running(STEEPEST));
        assert_eq!(cost_of_running(-2.0), cost_of_running(-STEEPEST));
    }

    #[test]
    fn only_a_part_of_what_a_descent_saves_is_counted() {
        let (all, half, none) = (Share::ALL, Share(0.5), Share::NONE);
        assert!((relative_cost(-0.02, all) - 0.896_906).abs() < 1e-6);
        assert!((relative_cost(-0.02, half) - 0.948_453).abs() < 1e-6);
        assert_eq!(relative_cost(-0.02, none), 1.0);
        for descent in [all, half, none] {
            assert!((relative_cost(0.02, descent) - 1.113_380).abs() < 1e-6);
            assert!((relative_cost(-0.45, descent) - 1.120_085).abs() < 1e-6, "too steep to save anything");
        }
    }
}
