//! Time zones by name: the only place where they are known.

use chrono::{NaiveDate, NaiveDateTime, NaiveTime, Offset as _, TimeDelta, TimeZone as _};
use chrono_tz::{TZ_VARIANTS, Tz};
use planning::{ClockShift, Race};

/// The name of a zone as the list of zones writes it, whatever the case in which it was typed and with
/// spaces or without; nothing where there is no such zone.
///
/// # Example
///
/// ```
/// assert_eq!(formats::zones::read("america/new york"), Some("America/New_York"));
/// assert_eq!(formats::zones::read("Central"), Some("America/Chicago"));
/// assert_eq!(formats::zones::read("Mars/Base"), None);
/// ```
pub fn read(text: &str) -> Option<&'static str> {
    let asked = text.trim().replace(' ', "_");
    let spoken = || SPOKEN.iter().find(|(words, _)| words.iter().any(|word| word.eq_ignore_ascii_case(&asked)));
    let names = || TZ_VARIANTS.iter().map(|zone| zone.name());
    spoken().map(|(_, name)| *name).or_else(|| names().find(|name| name.eq_ignore_ascii_case(&asked)))
}

/// What people call the clocks of the places where they live. In summer and winter alike: who says "CST" of a race in
/// July means the clocks of Chicago. Names of several regions ("IST") are none of these, nor are those that some
/// people live by all the year ("GMT", "MST"): the list of zones has them.
///
/// # Source
///
/// Common practice, no published source.
const SPOKEN: [(&[&str], &str); 11] = [
    (&["Eastern", "Eastern_time", "ET", "EST", "EDT"], "America/New_York"),
    (&["Central", "Central_time", "CT", "CST", "CDT"], "America/Chicago"),
    (&["Mountain", "Mountain_time", "MT", "MDT"], "America/Denver"),
    (&["Pacific", "Pacific_time", "PT", "PST", "PDT"], "America/Los_Angeles"),
    (&["Alaska", "AKST", "AKDT"], "America/Anchorage"),
    (&["Hawaii", "HST"], "Pacific/Honolulu"),
    (&["UK", "London", "BST"], "Europe/London"),
    (&["WET", "WEST"], "Europe/Lisbon"),
    (&["CET", "CEST"], "Europe/Paris"),
    (&["EET", "EEST"], "Europe/Athens"),
    (&["AEST", "AEDT"], "Australia/Sydney"),
];

/// Whether the clocks of a zone leave out this time on a day; never in a zone that is not known.
pub fn leaves_out(zone: &str, date: NaiveDate, time: NaiveTime) -> bool {
    zone.parse::<Tz>().is_ok_and(|zone| zone.from_local_datetime(&date.and_time(time)).earliest().is_none())
}

/// Zones by the name of a place, which is how people look for them, in the order of the list.
pub fn of_places() -> impl Iterator<Item = &'static str> {
    TZ_VARIANTS.iter().map(|zone| zone.name()).filter(|name| name.contains('/') && !name.starts_with("Etc/"))
}

/// How far the clocks of a race are ahead of those at home when it starts (at noon where the start is
/// not known); nothing where either zone is unknown.
pub fn clock_shift(home: Option<&str>, race: &Race) -> Option<ClockShift> {
    let zone = |name: &str| name.parse::<Tz>().ok();
    let (home, there) = (zone(home?)?, zone(race.zone.as_deref()?)?);
    let noon = NaiveTime::from_hms_opt(12, 0, 0)?;
    let start = race.date.and_time(race.start.unwrap_or(noon));
    // A start in the hour that the clocks leave out is refused where races are typed; noon never is.
    let at = there
        .from_local_datetime(&start)
        .earliest()
        .or_else(|| there.from_local_datetime(&race.date.and_time(noon)).earliest())?;
    let seconds = at.offset().fix().local_minus_utc() - at.with_timezone(&home).offset().fix().local_minus_utc();
    Some(ClockShift::ahead(seconds / 60))
}

/// What the clocks at a place show some seconds after they showed another time: across the night on which
/// they go forward or back they are not simply so much later. Where the zone is unknown, they are.
pub fn clock_after(start: NaiveDateTime, seconds: u32, zone: Option<&str>) -> NaiveDateTime {
    let later = TimeDelta::seconds(i64::from(seconds));
    let zone = zone.and_then(|name| name.parse::<Tz>().ok());
    let begun = zone.and_then(|zone| zone.from_local_datetime(&start).earliest());
    begun.map_or(start + later, |begun| (begun + later).naive_local())
}

#[cfg(test)]
mod tests {
    use planning::{Importance, RaceDistance};

    use super::*;

    fn minutes(home: &str, zone: &str, (year, month, day): (i32, u32, u32), start: Option<(u32, u32)>) -> Option<i32> {
        let race = Race {
            name: String::new(),
            date: NaiveDate::from_ymd_opt(year, month, day).unwrap(),
            distance: RaceDistance::Half,
            start: start.map(|(hour, minute)| NaiveTime::from_hms_opt(hour, minute, 0).unwrap()),
            zone: (!zone.is_empty()).then(|| zone.to_owned()),
            importance: Importance::Goal,
        };
        clock_shift((!home.is_empty()).then_some(home), &race).map(ClockShift::minutes)
    }

    #[test]
    fn clocks_are_compared_at_the_start_of_the_race_in_both_directions() {
        let spring = (2027, 5, 9);
        assert_eq!(minutes("Europe/Lisbon", "Europe/Lisbon", spring, None), Some(0));
        assert_eq!(minutes("America/Chicago", "Europe/Prague", spring, Some((9, 15))), Some(7 * 60));
        assert_eq!(minutes("Europe/Prague", "America/Chicago", spring, Some((7, 30))), Some(-7 * 60));
        assert_eq!(minutes("Europe/Lisbon", "Asia/Kolkata", spring, None), Some(4 * 60 + 30));
        assert_eq!(minutes("Europe/Lisbon", "Asia/Kathmandu", spring, None), Some(4 * 60 + 45));
        assert_eq!(
            minutes("Pacific/Honolulu", "Pacific/Kiritimati", spring, None),
            Some(0),
            "another day, the same hour"
        );
    }

    #[test]
    fn clocks_that_change_at_other_times_of_the_year_are_as_they_are_on_the_day() {
        // In March the clocks of Chicago change two weeks before those of Prague.
        assert_eq!(minutes("Europe/Prague", "America/Chicago", (2027, 3, 13), None), Some(-7 * 60));
        assert_eq!(minutes("Europe/Prague", "America/Chicago", (2027, 3, 21), None), Some(-6 * 60));
        // The morning on which the clocks of Vienna go back, before and after.
        assert_eq!(minutes("Africa/Lagos", "Europe/Vienna", (2026, 10, 25), Some((1, 30))), Some(60));
        assert_eq!(minutes("Africa/Lagos", "Europe/Vienna", (2026, 10, 25), Some((9, 0))), Some(0));
    }

    #[test]
    fn an_unknown_zone_gives_nothing() {
        let day = (2027, 5, 9);
        for (home, zone) in
            [("", "Europe/Prague"), ("Europe/Prague", ""), ("Mars/Base", "Europe/Prague"), ("Europe/Prague", "here")]
        {
            assert_eq!(minutes(home, zone, day, None), None, "{home} {zone}");
        }
        assert_eq!(read(" europe/lisbon "), Some("Europe/Lisbon"));
        assert!(of_places().all(|zone| read(zone) == Some(zone)));
    }

    #[test]
    fn clocks_that_go_forward_during_a_race_show_it() {
        let start = |day, hour| NaiveDate::from_ymd_opt(2027, 3, day).unwrap().and_hms_opt(hour, 30, 0).unwrap();
        let shown = |start, zone| clock_after(start, 2 * 3600 + 5, zone).format("%d %H:%M:%S").to_string();
        assert_eq!(shown(start(27, 23), Some("Europe/Vienna")), "28 01:30:05");
        assert_eq!(shown(start(28, 1), Some("Europe/Vienna")), "28 04:30:05");
        for zone in [None, Some("Mars/Base")] {
            assert_eq!(shown(start(28, 1), zone), "28 03:30:05");
        }
        assert_eq!(shown(start(28, 2), Some("Europe/Vienna")), "28 04:30:05", "an hour that the clocks leave out");
    }
}
