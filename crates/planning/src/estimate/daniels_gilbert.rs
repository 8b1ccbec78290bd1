//! Oxygen: what a speed costs, and how much of one's capacity can be held for how long.

/// The times that the equations cover, in minutes: from memory of their tables.
pub(super) const FITTED_MINUTES: std::ops::RangeInclusive<f64> = 3.5..=240.0;

/// Oxygen that running costs, in ml for a kilogram and a minute, at a speed in metres a minute.
///
/// # Source
///
/// Daniels and Gilbert 1979, Oxygen Power; read in several transcriptions that agree.
fn oxygen_cost(speed: f64) -> f64 {
    -4.60 + 0.182_258 * speed + 0.000_104 * speed * speed
}

/// The part of the oxygen capacity that can be held for so many minutes.
///
/// # Source
///
/// Daniels and Gilbert 1979, as [`oxygen_cost`].
fn sustainable(minutes: f64) -> f64 {
    0.8 + 0.189_439_3 * (-0.012_778 * minutes).exp() + 0.298_955_8 * (-0.193_260_5 * minutes).exp()
}

/// The oxygen capacity that a result shows, in ml for a kilogram and a minute.
fn capacity(minutes: f64, km: f64) -> f64 {
    oxygen_cost(km * 1000.0 / minutes) / sustainable(minutes)
}

/// Minutes for a distance from the minutes for another, distances in kilometres: the time that shows the same
/// capacity. It falls steadily as the time grows, so halving finds it.
pub(super) fn minutes(minutes: f64, from_km: f64, to_km: f64) -> f64 {
    let wanted = capacity(minutes, from_km);
    // From faster than any record to slower than a walk.
    let (mut fast, mut slow) = (to_km, to_km * 35.0);
    for _ in 0..80 {
        let middle = f64::midpoint(fast, slow);
        if capacity(middle, to_km) > wanted {
            fast = middle;
        } else {
            slow = middle;
        }
    }
    f64::midpoint(fast, slow)
}

/// The speed, in metres a minute, at a part of the capacity that a result shows: [`oxygen_cost`] solved for the speed.
pub(super) fn speed_at(part: f64, from_minutes: f64, from_km: f64) -> f64 {
    const LINEAR: f64 = 0.182_258;
    const SQUARE: f64 = 0.000_104;
    let wanted = part * capacity(from_minutes, from_km) + 4.60;
    ((LINEAR * LINEAR + 4.0 * SQUARE * wanted).sqrt() - LINEAR) / (2.0 * SQUARE)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Both ways of the one equation; at the whole capacity of 10 km in 40:00 the cost is that capacity.
    #[test]
    fn a_speed_costs_the_part_of_the_capacity_that_it_was_asked_for() {
        for part in [0.6, 0.65, 0.8, 1.0] {
            assert_near(oxygen_cost(speed_at(part, 40.0, 10.0)), part * 51.944_083, 1e-4);
        }
    }

    fn assert_near(found: f64, expected: f64, within: f64) {
        assert!((found - expected).abs() < within, "{found} is not {expected}");
    }

    /// Computed in Python from the transcribed equations.
    #[test]
    fn capacities_of_three_results() {
        assert_near(capacity(20.0, 5.0), 49.806_233, 1e-6);
        assert_near(capacity(180.0, 42.195), 53.528_269, 1e-6);
        assert_near(capacity(40.0, 10.0), 51.944_083, 1e-6);
        assert_near(capacity(90.0, 21.0975), 50.976_906, 1e-6);
    }

    /// Computed in Python from the transcribed equations.
    #[test]
    fn both_equations_at_round_numbers() {
        for (speed, cost) in [(150.0, 25.0787), (200.0, 36.0116), (250.0, 47.4645), (300.0, 59.4374), (350.0, 71.9303)]
        {
            assert_near(oxygen_cost(speed), cost, 1e-9);
        }
        for (minutes, part) in [
            (5.0, 1.091_463),
            (10.0, 1.009_995),
            (20.0, 0.952_983),
            (40.0, 0.913_761),
            (60.0, 0.888_007),
            (120.0, 0.840_883),
            (180.0, 0.818_992),
            (240.0, 0.808_823),
        ] {
            assert_near(sustainable(minutes), part, 1e-6);
        }
    }

    /// Found in Python by halving, from the transcribed equations.
    #[test]
    fn equivalent_times() {
        for (to, expected) in [(5.0, 19.293_234), (21.0975, 88.547_054), (42.195, 184.628_785)] {
            assert_near(minutes(40.0, 10.0, to), expected, 1e-5);
        }
        // Capacity 50: 5 km in 19:56, 10 km in 41:19.6, half in 1:31:31.2, marathon in 3:10:39.7.
        let five = 19.933_680_405;
        for (to, expected) in [(10.0, 41.326_727), (21.0975, 91.519_951), (42.195, 190.662_363)] {
            assert_near(minutes(five, 5.0, to), expected, 1e-5);
        }
        // Capacity 40: 5 km in 24:06.2, marathon in 3:49:37.4.
        assert_near(minutes(24.103_649_022, 5.0, 42.195), 229.623_688, 1e-5);
    }
}
