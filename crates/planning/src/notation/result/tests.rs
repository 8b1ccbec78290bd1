//! Results of races in every order, and what of them cannot be read.

use proptest::prelude::*;

use super::*;
use crate::race::RaceDistance;
use crate::units::{DistanceUnit, Milli};

fn read(line: &str) -> (String, RaceDistance, String, String) {
    let result = read_result(line).unwrap_or_else(|problem| panic!("{line}: {problem:?}"));
    (result.date.to_string(), result.distance, result.time.to_string(), result.note)
}

#[test]
fn a_line_is_day_distance_time_and_whatever_is_said() {
    let own = |value, unit| RaceDistance::Own(Milli(value), unit);
    for (line, distance, time, note) in [
        ("2027-03-14 10k 42:10 (windy)", RaceDistance::TenK, "42:10", "windy"),
        ("  2027-03-14\t10 km  42:10", RaceDistance::TenK, "42:10", ""),
        ("2027-03-14 half marathon 1:32:05, alone", RaceDistance::Half, "1:32:05", "alone"),
        ("2027-03-14 marathon 3:25", RaceDistance::Marathon, "3:25:00", ""),
        ("2027-03-14 30 km 2 h 25 hilly (very)", own(30_000, DistanceUnit::Km), "2:25:00", "hilly (very)"),
        ("2027-03-14 3000 m 12:40", own(3_000, DistanceUnit::Km), "12:40", ""),
        ("2027-03-14 mile 5:10 track", own(1_000, DistanceUnit::Mi), "5:10", "track"),
        ("14 March 2027 10k 42.10", RaceDistance::TenK, "42:10", ""),
        ("Sun Mar 14, 2027 marathon 3.25.00", RaceDistance::Marathon, "3:25:00", ""),
        ("14/03/2027 10k 42:10", RaceDistance::TenK, "42:10", ""),
        ("2027-03-14 10 mi 72:30", RaceDistance::TenMiles, "1:12:30", ""),
    ] {
        let expected = ("2027-03-14".to_owned(), distance, time.to_owned(), note.to_owned());
        assert_eq!(read(line), expected, "{line}");
    }
}

#[test]
fn date_distance_time_and_name_stand_in_any_order() {
    let today = "2026-11-27".parse().unwrap();
    let own = |value, unit| RaceDistance::Own(Milli(value), unit);
    let km = [
        ("half 1:23:40 on 8.11.", "2026-11-08", RaceDistance::Half, "1:23:40", ""),
        ("8.11. half 1:23:40", "2026-11-08", RaceDistance::Half, "1:23:40", ""),
        ("parkland 5k 36:20, 14.11.", "2026-11-14", RaceDistance::FiveK, "36:20", "parkland"),
        ("parkland 5k 36.20 14.11.26", "2026-11-14", RaceDistance::FiveK, "36:20", "parkland"),
        ("10k 42:10 8/11", "2026-11-08", RaceDistance::TenK, "42:10", ""),
        ("8.11.2026 10k 42:10", "2026-11-08", RaceDistance::TenK, "42:10", ""),
        ("11/12/2026 10k 42:10", "2026-11-12", RaceDistance::TenK, "42:10", ""),
        ("Riverside 10 km - 8 Nov - 42:10", "2026-11-08", RaceDistance::TenK, "42:10", "Riverside"),
        ("8 Nov 10 km 42:10", "2026-11-08", RaceDistance::TenK, "42:10", ""),
        ("42:10 10 km 8 Nov 26", "2026-11-08", RaceDistance::TenK, "42:10", ""),
        ("marathon 3:28:10 (10 May)", "2026-05-10", RaceDistance::Marathon, "3:28:10", ""),
        ("half 1:32:05 (hilly, 8 Nov)", "2026-11-08", RaceDistance::Half, "1:32:05", "hilly"),
        ("half 1:32:05 8 Nov (10k in 43:20)", "2026-11-08", RaceDistance::Half, "1:32:05", "10k in 43:20"),
        ("ran 10 miles in 72:30 on Sunday 8 Nov", "2026-11-08", RaceDistance::TenMiles, "1:12:30", ""),
        ("3000m 9.40 track 1 Sept", "2026-09-01", own(3_000, DistanceUnit::Km), "9:40", "track"),
        ("HM: 1.32.05 (8.11.)", "2026-11-08", RaceDistance::Half, "1:32:05", ""),
        ("30 km trail, 2 h 58 min, 3 Oct", "2026-10-03", own(30_000, DistanceUnit::Km), "2:58:00", "trail"),
    ];
    let mi = [
        ("Turkey Trot 10k, Thu 11/26, 45:10", "2026-11-26", RaceDistance::TenK, "45:10", "Turkey Trot"),
        ("11/26 10k 45:10 (Turkey Trot)", "2026-11-26", RaceDistance::TenK, "45:10", "Turkey Trot"),
        ("16:48 5k, Nov 7 2026", "2026-11-07", RaceDistance::FiveK, "16:48", ""),
        ("Nov 26 10k 45:10 (Turkey Trot)", "2026-11-26", RaceDistance::TenK, "45:10", "Turkey Trot"),
        ("10k in 45:10 on Nov 26", "2026-11-26", RaceDistance::TenK, "45:10", ""),
        ("10k 45:10 8/11", "2026-08-11", RaceDistance::TenK, "45:10", ""),
        ("10k 45:10 Sun 8/11", "2026-11-08", RaceDistance::TenK, "45:10", ""),
        ("10k 45:10 12/1", "2025-12-01", RaceDistance::TenK, "45:10", ""),
        ("10k 45:10 26/11", "2026-11-26", RaceDistance::TenK, "45:10", ""),
        ("10k 45:10 8.11.", "2026-11-08", RaceDistance::TenK, "45:10", ""),
        ("11/7/26 5k 16:48 Regional XC", "2026-11-07", RaceDistance::FiveK, "16:48", "Regional XC"),
        ("Fall Classic 10-mile 1:12:30 10/4", "2026-10-04", RaceDistance::TenMiles, "1:12:30", "Fall Classic"),
        ("5:10 mile, 9/1", "2026-09-01", own(1_000, DistanceUnit::Mi), "5:10", ""),
    ];
    for (units, lines) in [(DistanceUnit::Km, km.as_slice()), (DistanceUnit::Mi, mi.as_slice())] {
        for (line, date, distance, time, note) in lines {
            let dated = with_years(line, today, units);
            let expected = ((*date).to_owned(), *distance, (*time).to_owned(), (*note).to_owned());
            assert_eq!(read(&dated), expected, "{line} -> {dated}");
            assert_eq!(with_years(&dated, today, units), dated, "{line}");
        }
    }
}

#[test]
fn a_day_without_its_year_is_the_last_one_up_to_today() {
    let today = "2027-05-09".parse().unwrap();
    let with_years = |text| with_years(text, today, DistanceUnit::Km);
    for (typed, dated) in [
        ("11 Oct 10k 49:30", "11 Oct 2026 10k 49:30"),
        ("9 May 5k 20:10", "9 May 2027 5k 20:10"),
        ("May 10th, 5k 20:10", "May 10th 2026, 5k 20:10"),
        ("Sun 11 Oct: half 1:50:00 (hot)", "Sun 11 Oct 2026: half 1:50:00 (hot)"),
        ("29 Feb 10 km 42:10", "29 Feb 2024 10 km 42:10"),
        ("3/4 10k 42:10", "2027-04-03 10k 42:10"),
        ("2027-03-14 10k 42:10\n\n14 March 10 mi 72:30", "2027-03-14 10k 42:10\n\n14 March 2027 10 mi 72:30"),
    ] {
        assert_eq!(with_years(typed), dated);
        assert!(read_results(dated).is_ok(), "{dated}");
    }
    for strange in ["10k last year", "10 km 42:10", "", "14 10k 42:10", "10k 31.10 30.11", "5k 18.10"] {
        assert_eq!(with_years(strange), strange);
    }
    // What lacks something else lacks nothing but that.
    assert_eq!(with_years("parkland 5k, 14 March"), "parkland 5k, 14 March 2027");
}

#[test]
fn a_month_is_day_enough() {
    let today = "2026-11-10".parse().unwrap();
    for (typed, dated) in [
        ("Sept '26 Dublin half 1:36:40", "15 Sep 2026 Dublin half 1:36:40 (day not told)"),
        ("10k 43:20 Oct", "10k 43:20 15 Oct 2026 (day not told)"),
        ("Marathon 2:57 Oct 2025", "Marathon 2:57 15 Oct 2025 (day not told)"),
        ("marathon 3:28:10 (May 2026)", "marathon 3:28:10 (15 May 2026) (day not told)"),
        ("10k 43:20 December", "10k 43:20 15 Dec 2025 (day not told)"),
        ("10k 43:20 Nov", "10k 43:20 10 Nov 2026 (day not told)"),
    ] {
        let written = with_years(typed, today, DistanceUnit::Km);
        assert_eq!(written, dated);
        assert_eq!(with_years(&written, today, DistanceUnit::Km), dated);
        let read = read_result(dated).unwrap_or_else(|problem| panic!("{dated}: {problem:?}"));
        assert!(read.date <= today && read.note.contains("day not told"), "{read:?}");
    }
    for refused in ["Marathon PR 2:57", "10k 43:20 Dec 2026"] {
        assert_eq!(with_years(refused, today, DistanceUnit::Km), refused);
    }
}

#[test]
fn what_cannot_be_read_says_which_part() {
    let wrong = |line: &str| match read_result(line) {
        Err(ProblemKind::Unreadable { text, expected }) => (text, expected),
        other => panic!("{line}: {other:?}"),
    };
    for (line, text, expected) in [
        ("2027-02-30 10k 42:10", "2027-02-30", Expected::Date),
        ("2027-03-14 10 42:10", "10", Expected::RaceDistance),
        ("2027-03-14 10k 42", "42", Expected::RaceTime),
        ("marathon 3:28:10 (May 2026)", "May 2026", Expected::DayOfMonth),
        ("10k 42:10, 5k 20:15, 2027-03-14", "10k 42:10, 5k 20:15, 2027-03-14", Expected::OneResult),
        ("10k 42:10 chip 42:02 2027-03-14", "10k 42:10 chip 42:02 2027-03-14", Expected::OneResult),
    ] {
        assert_eq!(wrong(line), (text.to_owned(), expected), "{line}");
    }
    for (line, lacks) in [
        ("", [true, true, true]),
        ("soon", [true, true, true]),
        ("Turkey Trot 10k 45:10", [true, false, false]),
        ("14 March 10k 42:10", [true, false, false]),
        ("2027-03-14", [false, true, true]),
        ("2027-03-14 Turkey Trot 45:10", [false, true, false]),
        ("2027-03-14 10k", [false, false, true]),
        ("parkland 5k, 2027-03-14", [false, false, true]),
    ] {
        let [day, distance, time] = lacks;
        assert_eq!(read_result(line), Err(ProblemKind::ResultLacks { day, distance, time }), "{line}");
    }
    for nobody in ["2027-03-14 10k 12:10", "10k 12:10, 2027-03-14"] {
        let said = read_result(nobody);
        assert!(matches!(said, Err(ProblemKind::RaceTimeOutOfRange { .. })), "{said:?}");
    }
    let far = read_result("2027-03-14 900 km 90:00:00");
    assert!(matches!(far, Err(ProblemKind::DistanceOutOfRange { .. })), "{far:?}");
    let old = read_result("1927-03-14 10k 42:10");
    assert!(matches!(old, Err(ProblemKind::DateOutOfRange { .. })), "{old:?}");
    let two = read_result("10k 42:10 10/11/2026");
    assert!(matches!(two, Err(ProblemKind::TwoDates { .. })), "{two:?}");
}

#[test]
fn every_line_that_cannot_be_read_is_named_by_number_and_text() {
    let wrong = read_results("2027-03-14 10k 42:10\n\n10k last year\n2027-03-20 5k 20:10\nfast ").unwrap_err();
    let places: Vec<_> = wrong.into_iter().map(|problem| problem.at).collect();
    let line = |number, text: &str| Field::RecentResult(number, text.to_owned());
    assert_eq!(places, [line(3, "10k last year"), line(5, "fast")]);
    assert_eq!(read_results("\n2027-03-14 10k 42:10\n").map(|read| read.len()), Ok(1));
}

proptest! {
    #[test]
    fn no_line_is_too_strange(line in "\\PC{0,40}") {
        let _ = read_result(&line);
    }

    #[test]
    fn dates_in_any_line_are_completed_once(
        line in "((8|11|26)(/|\\.|-)(11|26|8)(\\.|/26|/2026)?|Nov 7|7 Nov 26|10k|half|5|42[:.]10|1:32:05|\\(|\\)|,|on|Turkey)( (8\\.11\\.|11/26|10 km|42:10|in|Sat|May 2026|\\(hot\\)|3 h 10|km)){0,5}",
        is_km in any::<bool>(),
    ) {
        let units = if is_km { DistanceUnit::Km } else { DistanceUnit::Mi };
        let today = "2026-11-27".parse().unwrap();
        let dated = with_years(&line, today, units);
        if let Ok(result) = read_result(&dated) {
            prop_assert!(dated == line || result.date <= today, "{} -> {}", line, dated);
            prop_assert_eq!(with_years(&dated, today, units), dated);
        }
    }

    #[test]
    fn no_result_is_too_strange(line in "2027-0[0-9]-1[0-9] ?(10k|half|[0-9.]{1,4} (km|mi|m)) [0-9:hms ]{0,9}( \\PC{0,9})?") {
        if let Ok(result) = read_result(&line) {
            prop_assert!(result.distance.problem().is_none());
        }
    }
}
