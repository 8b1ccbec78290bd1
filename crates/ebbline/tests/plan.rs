//! `ebbline plan` as it is run: arguments, input, output, exit codes.

#![expect(clippy::expect_used, reason = "a test helper stops where its own data is wrong")]

use std::io::Write as _;
use std::process::{Command, Output, Stdio};

const REQUEST: &str = include_str!("../../formats/tests/requests/ten_km.json");

/// Runs the program with the text on its standard input.
fn ebbline(arguments: &[&str], input: &str) -> Output {
    let mut child = Command::new(env!("CARGO_BIN_EXE_ebbline"))
        .args(arguments)
        .env_remove("EBBLINE_FORMAT")
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("the program starts");
    // A program that refuses its arguments does not read its input: then the pipe is closed.
    let _ = child.stdin.take().expect("a pipe").write_all(input.as_bytes());
    child.wait_with_output().expect("the program ends")
}

fn text(bytes: &[u8]) -> &str {
    std::str::from_utf8(bytes).expect("UTF-8")
}

#[test]
fn a_request_on_standard_input_gives_a_block_as_text() {
    for arguments in [&["plan"][..], &["plan", "-"], &["plan", "-", "--format", "text"]] {
        let output = ebbline(arguments, REQUEST);
        assert_eq!(output.status.code(), Some(0), "{}", text(&output.stderr));
        assert!(text(&output.stdout).starts_with("Taper block for Ines Example\n"));
        assert!(text(&output.stdout).contains("Sun 9 May    0  RACE: 10 km"));
        assert_eq!(text(&output.stderr), "");
    }
}

#[test]
fn a_request_in_a_file_gives_json_and_csv() {
    let file = tempfile::NamedTempFile::new().expect("a file");
    std::fs::write(file.path(), REQUEST).expect("written");
    let path = file.path().to_str().expect("a plain name");
    let output = ebbline(&["plan", path, "--format", "json"], "");
    assert_eq!(output.status.code(), Some(0), "{}", text(&output.stderr));
    let answer: serde_json::Value = serde_json::from_slice(&output.stdout).expect("JSON");
    assert_eq!(answer["block"]["race_day"], "2027-05-09");
    let output = ebbline(&["plan", path, "--format=csv"], "");
    assert_eq!(output.status.code(), Some(0), "{}", text(&output.stderr));
    assert!(text(&output.stdout).starts_with("date,weekday,to_race,kind,"));
}

#[test]
fn a_request_gives_a_calendar_file_the_same_each_time() {
    let output = ebbline(&["plan", "--format", "ics"], REQUEST);
    assert_eq!(output.status.code(), Some(0), "{}", text(&output.stderr));
    let file = text(&output.stdout);
    assert!(file.starts_with("BEGIN:VCALENDAR\r\nVERSION:2.0\r\n") && file.ends_with("END:VCALENDAR\r\n"));
    assert!(file.contains("SUMMARY:Race: ") && file.contains("DTSTART;VALUE=DATE:"));
    assert_eq!(text(&ebbline(&["plan", "--format", "ics"], REQUEST).stdout), file);
}

#[test]
fn a_wrong_request_is_told_by_field_and_value() {
    for (from, to, message) in [
        (
            "2027-05-09\", \"distance",
            "2027-13-01\", \"distance",
            "race.date: “2027-13-01” is not a date; write YYYY-MM-DD",
        ),
        ("[8, 10]", "[12, 8]", "base_week.mon[0].amount is [12, 8]: the range 12–8 starts above its end"),
        (
            "2027-04-20",
            "2027-06-20",
            "race.date is 2027-05-09: Sunday 9 May 2027 is past (today is Sunday 20 June 2027)",
        ),
        ("\"birth_year\"", "\"birthday\"", "athlete.birthday is 1988: there is no such field"),
        ("{ \"today\"", "\"today\"", "the request: not JSON at line 1, column 8"),
    ] {
        let output = ebbline(&["plan"], &REQUEST.replacen(from, to, 1));
        assert_eq!(output.status.code(), Some(1), "{message}");
        assert!(text(&output.stderr).starts_with(message), "{}", text(&output.stderr));
        assert_eq!(text(&output.stdout), "");
    }
}

#[test]
fn without_today_the_day_of_the_machine_counts() {
    let request = REQUEST.replacen("\"today\": \"2027-04-20\",", "", 1).replacen("2027-05-09", "2020-05-09", 1);
    let output = ebbline(&["plan"], &request);
    assert_eq!(output.status.code(), Some(1));
    assert!(text(&output.stderr).starts_with("race.date is 2020-05-09: Saturday 9 May 2020 is past (today is "));
}

#[test]
fn files_that_are_no_request_are_told() {
    let output = ebbline(&["plan", "no-such-file.json"], "");
    assert_eq!(output.status.code(), Some(1));
    assert!(text(&output.stderr).starts_with("the file “no-such-file.json”: cannot be read ("));
    let file = tempfile::NamedTempFile::new().expect("a file");
    std::fs::write(file.path(), [0xff, 0xfe, 0x00]).expect("written");
    let output = ebbline(&["plan", file.path().to_str().expect("a plain name")], "");
    assert_eq!(output.status.code(), Some(1));
    assert!(text(&output.stderr).contains("is not text in UTF-8"));
    let output = ebbline(&["plan"], &" ".repeat(1_000_001));
    assert_eq!(output.status.code(), Some(1));
    assert!(text(&output.stderr).contains("is larger than 1 MB"));
}

#[test]
fn wrong_usage_is_not_a_wrong_request() {
    for arguments in [&["plan", "--format", "xml"][..], &["plan", "--form"], &["plan", "a", "b"], &["plain"]] {
        assert_eq!(ebbline(arguments, REQUEST).status.code(), Some(2), "{arguments:?}");
    }
}

#[test]
fn help_fits_on_a_screen() {
    let output = ebbline(&["plan", "--help"], "");
    assert_eq!(output.status.code(), Some(0));
    assert!(text(&output.stdout).lines().count() <= 30);
    assert!(text(&output.stdout).contains("EBBLINE_FORMAT"));
}
