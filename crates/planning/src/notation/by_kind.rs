//! Lines that were once refused or read wrong, by what they have in common.

use super::{offers, read_day, read_kept_day, settled, write_day};
use crate::units::DistanceUnit::{self, Km, Mi};

/// Lines that are read as they stand.
fn reads(lines: &[(DistanceUnit, &str, &str)]) {
    for (units, line, meant) in lines {
        let day = read_day(line, *units).unwrap_or_else(|problems| panic!("{line}: {problems:?}"));
        assert_eq!(write_day(&day), *meant, "{line}");
        assert_eq!(read_day(meant, Km).as_ref(), Ok(&day), "{meant}");
        assert_eq!(read_kept_day(line, *units), Ok(day), "{line}");
        assert!(offers(line, *units).is_empty(), "{line}");
    }
}

/// Lines with one answer, which is taken and said.
fn settles(lines: &[(DistanceUnit, &str, &str)]) {
    for (units, line, meant) in lines {
        let offer = settled(line, *units).unwrap_or_else(|| panic!("{line}: {:?}", offers(line, *units)));
        assert_eq!(write_day(&offer.day), *meant, "{line}");
    }
}

#[test]
fn what_is_jogged_between_repetitions_is_counted_however_it_is_told() {
    reads(&[
        (Mi, "2 WU, 8x400 @ 76-77 w/ 200 jog, 2 CD", "8 x 400 m 76-77, 200 jog, 6.9 mi (2 mi WU, 2 mi CD)"),
        (Mi, "2 WU, 8x400 @ 76 w/ 200m jog, 2 CD", "8 x 400 m 76 s, 200m jog, 6.9 mi (2 mi WU, 2 mi CD)"),
        (Km, "3k wu, 6x1000 in 3:50 r 400 jog, 2k cd", "6 x 1000 m in 3:50 r 400 jog, 13 km (3 km wu, 2 km cd)"),
        (Km, "2k wu, 8x400, 200 jog, 2k cd", "8 x 400 m, 200 jog, 8.6 km (2 km wu, 2 km cd)"),
        (Km, "2k wu, 8x400, jog 200, 2k cd", "8 x 400 m, jog 200, 8.6 km (2 km wu, 2 km cd)"),
        (Km, "2k wu, 8x400 jog 200, 2k cd", "8 x 400 m jog 200, 8.6 km (2 km wu, 2 km cd)"),
        (Km, "2k wu, 8x400 off 200 easy jog, 2k cd", "8 x 400 m off 200 easy jog, 8.6 km (2 km wu, 2 km cd)"),
        (Km, "2k wu, 8x400 w/ 400 float, 2k cd", "8 x 400 m, 400 float, 10 km (2 km wu, 2 km cd)"),
        (Km, "2k wu, 10x200 (50 jog), 2k cd", "10 x 200 m, 50 jog, 6.45 km (2 km wu, 2 km cd)"),
        (Km, "20' wu, 8x2' hard jog 1', 10' cd", "8 x 2 min hard jog 1', 53 min (20 min wu, 10 min cd)"),
        // Seconds as likely as metres, and the name of a race.
        (Km, "2k wu, 8x400 w/ 90 jog, 2k cd", "8 x 400 m, 90 jog, 7.2 km (2 km wu, 2 km cd)"),
        (Km, "2k wu, 8x400 5k jog back, 2k cd", "8 x 400 m, 5k jog back, 7.2 km (2 km wu, 2 km cd)"),
        (Km, "8x400 @ 400 jog, 8", "8 x 400 m, 400 jog, 8 km"),
        // A whole that is told stays what it is.
        (Mi, "2 WU, 8x400 @ 76-77 w/ 200 jog, 2 CD, 6", "8 x 400 m 76-77, 200 jog, 6 mi (2 mi WU, 2 mi CD)"),
    ]);
    settles(&[(Km, "6x1000 in 3:50 r 400 jog", "6 x 1000 m in 3:50 r 400 jog, 12 km")]);
}
