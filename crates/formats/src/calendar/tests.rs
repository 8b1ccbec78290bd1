//! What phones and desktop calendars stumble over; all people are invented.

use std::collections::{BTreeMap, HashSet};

use chrono::{NaiveDate, TimeDelta, TimeZone as _};
use chrono_tz::Tz;
use planning::notation::read_week;
use planning::{Athlete, Importance, Life, Race, RaceDistance, Reason, Request, Settings, plan};
use proptest::prelude::*;

use super::events as events_of;
use super::*;

fn date(text: &str) -> NaiveDate {
    text.parse().unwrap()
}

fn at(minutes: i64) -> DateTime<Utc> {
    DateTime::from_timestamp(1_790_000_000, 0).unwrap() + TimeDelta::minutes(minutes)
}

fn vienna() -> Race {
    Race {
        name: "Ring Half (invented)".to_owned(),
        date: date("2026-10-25"),
        distance: RaceDistance::Half,
        start: chrono::NaiveTime::from_hms_opt(9, 0, 0),
        zone: Some("Europe/Vienna".to_owned()),
        importance: Importance::Goal,
    }
}

fn block_for(race: &Race) -> Block {
    let lines =
        ["easy 8 + easy 5", "6 x 1000 m 10k pace, 12 km", "8", "tempo 10, hard 5", "", "6 + strength 30", "long 18"];
    let week = read_week(&lines, "", DistanceUnit::Km).unwrap();
    let (athlete, settings) = (Athlete { name: "Ana Exemplo".to_owned(), ..Athlete::default() }, Settings::default());
    plan(&Request::new(&athlete, &week, race, &settings)).unwrap()
}

/// The versions of a block, each made from the one before, handed over ten minutes apart in an order.
fn write_handed(versions: &[Block], editions: &[u32]) -> String {
    let editions: Vec<Edition> = editions
        .iter()
        .enumerate()
        .map(|(index, version)| Edition { version: *version, at: at(10 * index as i64) })
        .collect();
    write_editions(versions, &editions)
}

/// Versions in their order, each made from the one before.
fn numbered(blocks: &[Block]) -> Vec<Version<'_>> {
    let version = |(number, block): (u32, _)| Version {
        number,
        parent: (number > 1).then(|| number - 1),
        place: "Ring; gate 2",
        block,
    };
    (1..).zip(blocks).map(version).collect()
}

fn write_editions(versions: &[Block], editions: &[Edition]) -> String {
    write_with_race(versions, editions, None)
}

fn write_with_race(versions: &[Block], editions: &[Edition], race: Option<RaceNow>) -> String {
    let versions = numbered(versions);
    let key = BlockKey::of_kept(7, at(0));
    write(&Calendar { key, athlete: "Ana Exemplo", units: DistanceUnit::Km, versions: &versions, editions, race })
        .unwrap()
}

type Properties = BTreeMap<String, String>;

/// The events of a file as they are read: lines unfolded, names with their parameters.
fn events(file: &str) -> Vec<Properties> {
    let file = file.replace("\r\n ", "");
    let lines: Vec<&str> = file.split_terminator("\r\n").collect();
    let bodies = lines.split(|line| *line == "BEGIN:VEVENT").skip(1);
    bodies
        .map(|body| {
            let body = body.iter().take_while(|line| **line != "END:VEVENT");
            body.filter_map(|line| line.split_once(':')).map(|(name, value)| (name.into(), value.into())).collect()
        })
        .collect()
}

/// The event of a day whose summary begins with a word.
fn find<'a>(events: &'a [Properties], day: &str, word: &str) -> &'a Properties {
    let found: Vec<&Properties> = events
        .iter()
        .filter(|event| event.get("DTSTART;VALUE=DATE").is_some_and(|start| start == day))
        .filter(|event| event["SUMMARY"].starts_with(word))
        .collect();
    assert_eq!(found.len(), 1, "{day} {word}: {found:?}");
    found[0]
}

fn race_of(events: &[Properties]) -> &Properties {
    events.iter().find(|event| event["SUMMARY"].starts_with("Race: ")).unwrap()
}

fn uids(events: &[Properties]) -> Vec<&String> {
    events.iter().map(|event| &event["UID"]).collect()
}

/// The block with the sessions of two days exchanged.
fn swapped(block: &Block, one: &str, other: &str) -> Block {
    let mut block = block.clone();
    let at = |day: &str| block.days.iter().position(|found| found.date == date(day)).unwrap();
    let (one, other) = (at(one), at(other));
    let sessions = std::mem::take(&mut block.days[one].sessions);
    block.days[one].sessions = std::mem::replace(&mut block.days[other].sessions, sessions);
    block
}

#[test]
fn a_race_called_off_is_cancelled_and_takes_place_again_with_stamps_that_never_fall() {
    let block = block_for(&vienna());
    let editions = [Edition { version: 1, at: at(0) }];
    let now = |stands, minutes| Some(RaceNow { stands, saved: at(minutes) });
    let blocks = [block];
    let before = write_with_race(&blocks, &editions, now(RaceStands::TakesPlace, -5));
    assert_eq!(before, write_editions(&blocks, &editions), "a race saved before the hand-over changes nothing");
    let off = write_with_race(&blocks, &editions, now(RaceStands::CalledOff, 10));
    let (before, off) = (events(&before), events(&off));
    let cancelled: Vec<&Properties> = off.iter().filter(|event| event.contains_key("STATUS")).collect();
    assert_eq!(cancelled.len(), 1);
    assert_eq!(cancelled[0]["STATUS"], "CANCELLED");
    assert_eq!(cancelled[0]["SUMMARY"], "Called off: Ring Half (invented)\\, half marathon");
    assert_eq!((cancelled[0]["TRANSP"].as_str(), &cancelled[0]["UID"]), ("TRANSPARENT", &race_of(&before)["UID"]));
    assert_eq!(uids(&off), uids(&before), "nothing is gone");
    assert_eq!(off[..off.len() - 1], before[..before.len() - 1], "sessions stay as they were");
    let back = events(&write_with_race(&blocks, &editions, now(RaceStands::TakesPlace, 20)));
    let stamps: Vec<&str> =
        [race_of(&before), cancelled[0], race_of(&back)].map(|event| event["LAST-MODIFIED"].as_str()).to_vec();
    assert!(stamps.is_sorted_by(|one, next| one < next), "{stamps:?}");
    assert!([cancelled[0], race_of(&back)].iter().all(|event| event["SEQUENCE"] == "0"));
    assert_eq!((race_of(&back).get("STATUS"), race_of(&back)["TRANSP"].as_str()), (None, "OPAQUE"));
}

#[test]
fn an_all_day_session_ends_on_the_next_day() {
    let race = Race { date: date("2026-11-08"), ..vienna() };
    let events = events(&write_handed(&[block_for(&race)], &[1]));
    let tuesday = find(&events, "20261103", "Intervals");
    assert_eq!(tuesday["DTEND;VALUE=DATE"], "20261104");
    for event in events.iter().filter(|event| event.contains_key("DTSTART;VALUE=DATE")) {
        let day = |name: &str| NaiveDate::parse_from_str(&event[name], "%Y%m%d").unwrap();
        assert_eq!(day("DTSTART;VALUE=DATE") + Days::new(1), day("DTEND;VALUE=DATE"));
    }
    let end_of_year = Race { date: date("2027-01-03"), ..vienna() };
    let file = write_handed(&[block_for(&end_of_year)], &[1]);
    assert!(file.contains("DTSTART;VALUE=DATE:20261230\r\nDTEND;VALUE=DATE:20261231\r\n"), "{file}");
}

#[test]
fn summary_description_and_location_are_escaped_alike() {
    let mut block = block_for(&Race { name: "Ring; Half, \\ (invented)".to_owned(), ..vienna() });
    let day = block.days.iter_mut().find(|day| day.date == date("2026-10-13")).unwrap();
    day.sessions[0].session.note = "path C:\\runs, then; cool down".to_owned();
    let events = events(&write_handed(&[block], &[1]));
    assert_eq!(race_of(&events)["SUMMARY"], "Race: Ring\\; Half\\, \\\\ (invented)\\, half marathon");
    assert_eq!(race_of(&events)["LOCATION"], "Ring\\; gate 2");
    let told = &find(&events, "20261013", "Intervals")["DESCRIPTION"];
    assert!(told.contains("path C:\\\\runs\\, then\\; cool down.\\n"), "{told}");
}

#[test]
fn identities_are_the_same_on_each_export_and_after_a_move() {
    let first = block_for(&vienna());
    let file = write_handed(std::slice::from_ref(&first), &[1]);
    assert_eq!(write_handed(std::slice::from_ref(&first), &[1]), file);
    // The hard session of Tuesday changes places with the easy one of Wednesday.
    let moved = swapped(&first, "2026-10-13", "2026-10-14");
    let (before, after) = (events(&file), events(&write_handed(&[first, moved], &[1, 2])));
    let set = |events: &[Properties]| uids(events).into_iter().cloned().collect::<HashSet<String>>();
    assert_eq!(set(&before), set(&after));
    assert_eq!(set(&before).len(), before.len(), "each has its own, morning and evening too");
    let (was, is) = (find(&before, "20261013", "Intervals"), find(&after, "20261014", "Intervals"));
    assert_eq!(was["UID"], is["UID"], "a session that was moved keeps its own");
    let monday: HashSet<&String> = before
        .iter()
        .filter(|event| event.get("DTSTART;VALUE=DATE").is_some_and(|day| day == "20261012"))
        .map(|event| &event["UID"])
        .collect();
    assert_eq!(monday.len(), 2);
    for uid in uids(&after) {
        let uid = uuid::Uuid::parse_str(uid).unwrap();
        assert_eq!(uid.get_version_num(), 8);
    }
    let other = BlockKey::of_kept(8, at(0));
    assert_ne!(other.race(), BlockKey::of_kept(7, at(0)).race());
    assert_ne!(BlockKey::of_request("Ana", &vienna()).race(), BlockKey::of_request("Rui", &vienna()).race());
}

#[test]
fn a_session_that_was_removed_is_absent_and_nothing_else_changes() {
    let first = block_for(&vienna());
    let mut second = first.clone();
    let day = second.days.iter_mut().find(|day| day.date == date("2026-10-18")).unwrap();
    day.sessions.clear();
    let (before, after) =
        (events(&write_handed(std::slice::from_ref(&first), &[1])), events(&write_handed(&[first, second], &[1, 2])));
    let expected: Vec<&Properties> =
        before.iter().filter(|event| event.get("DTSTART;VALUE=DATE").is_none_or(|day| day != "20261018")).collect();
    assert_eq!(after.iter().collect::<Vec<_>>(), expected);
    assert!(after.iter().all(|event| !event.contains_key("STATUS")));
}

#[test]
fn a_moved_race_keeps_its_identity_and_raises_its_sequence_by_one() {
    let first = block_for(&vienna());
    let second = block_for(&Race { date: date("2026-11-01"), ..vienna() });
    let before = events(&write_handed(std::slice::from_ref(&first), &[1]));
    let after = events(&write_handed(&[first, second], &[1, 2]));
    let (was, is) = (race_of(&before), race_of(&after));
    assert_eq!((&was["UID"], was["SEQUENCE"].as_str(), is["SEQUENCE"].as_str()), (&is["UID"], "0", "1"));
    assert_eq!((was["DTSTART"].as_str(), is["DTSTART"].as_str()), ("20261025T080000Z", "20261101T080000Z"));
    assert!(was["DTSTAMP"] < is["DTSTAMP"] && was["LAST-MODIFIED"] < is["LAST-MODIFIED"]);
    let old: BTreeMap<&String, &Properties> = before.iter().map(|event| (&event["UID"], event)).collect();
    for event in &after {
        let Some(same) = old.get(&event["UID"]) else { continue };
        let is_moved = same.get("DTSTART;VALUE=DATE") != event.get("DTSTART;VALUE=DATE")
            || same.get("DTSTART") != event.get("DTSTART");
        assert_eq!(event["SEQUENCE"], if is_moved { "1" } else { "0" }, "{event:?}");
    }
}

#[test]
fn a_race_moved_by_a_month_takes_its_sessions_with_it() {
    let first = block_for(&vienna());
    let second = block_for(&Race { date: date("2026-11-29"), ..vienna() });
    let before = events(&write_handed(std::slice::from_ref(&first), &[1]));
    let after = events(&write_handed(&[first, second], &[1, 2]));
    assert_eq!(find(&before, "20261020", "Intervals")["UID"], find(&after, "20261124", "Intervals")["UID"]);
}

#[test]
fn a_note_shows_with_a_newer_date_and_the_same_sequence() {
    let first = block_for(&vienna());
    let mut second = first.clone();
    let day = second.days.iter_mut().find(|day| day.date == date("2026-10-13")).unwrap();
    day.sessions[0].session.note = "on the grass".to_owned();
    let before = events(&write_handed(std::slice::from_ref(&first), &[1]));
    let after = events(&write_handed(&[first, second], &[1, 2]));
    for (was, is) in before.iter().zip(&after) {
        assert_eq!((&was["UID"], &was["SEQUENCE"]), (&is["UID"], &is["SEQUENCE"]));
        if is["DESCRIPTION"].contains("n the grass") {
            assert!(was["LAST-MODIFIED"] < is["LAST-MODIFIED"] && was["DTSTAMP"] < is["DTSTAMP"]);
        } else {
            assert_eq!(was, is);
        }
    }
    assert_eq!(after.iter().filter(|event| event["DESCRIPTION"].contains("n the grass")).count(), 1);
}

#[test]
fn a_sequence_never_falls_whatever_was_undone_and_however_the_clock_was_set() {
    let first = block_for(&vienna());
    let second = block_for(&Race { date: date("2026-11-01"), ..vienna() });
    let versions = [first, second];
    let race = |editions: &[Edition]| {
        let events = events(&write_editions(&versions, editions));
        let race = race_of(&events);
        (race["SEQUENCE"].parse::<u32>().unwrap(), race["LAST-MODIFIED"].clone())
    };
    let all = [(1, 0), (2, 10), (1, -5000), (1, -4000), (2, -3000)]
        .map(|(version, minutes)| Edition { version, at: at(minutes) });
    let told: Vec<(u32, String)> = (1..=all.len()).map(|count| race(&all[..count])).collect();
    assert_eq!(told.iter().map(|(sequence, _)| *sequence).collect::<Vec<_>>(), [0, 1, 2, 2, 3]);
    assert!(told[0].1 < told[1].1 && told[1].1 < told[2].1 && told[2].1 == told[3].1 && told[3].1 < told[4].1);
}

#[test]
fn every_line_ends_with_both_octets_and_none_is_empty() {
    let file = write_handed(&[block_for(&vienna())], &[1]);
    assert!(file.starts_with("BEGIN:VCALENDAR\r\nVERSION:2.0\r\n") && file.ends_with("END:VCALENDAR\r\n"));
    let bare = file.replace("\r\n", "");
    assert!(!bare.contains(['\r', '\n']));
    assert!(file.split_terminator("\r\n").all(|line| !line.is_empty() && line.len() <= 75));
}

#[test]
fn a_race_on_the_morning_the_clocks_go_back_starts_when_it_starts() {
    let file = write_handed(&[block_for(&vienna())], &[1]);
    let events = events(&file);
    let race = race_of(&events);
    assert_eq!(race["DTSTART"], "20261025T080000Z");
    assert_eq!(race["DESCRIPTION"], "Starts at 9:00\\, time zone Europe/Vienna.");
    assert!(!file.contains("TZID") && !race.contains_key("DTEND") && !race.contains_key("DURATION"));
    let start = chrono::NaiveDateTime::parse_from_str(&race["DTSTART"], "%Y%m%dT%H%M%SZ").unwrap();
    for (zone, local) in [("Europe/Vienna", "09:00"), ("America/Chicago", "03:00")] {
        let zone: Tz = zone.parse().unwrap();
        assert_eq!(zone.from_utc_datetime(&start).format("%H:%M").to_string(), local);
    }
    let in_chicago = Race { zone: Some("America/Chicago".to_owned()), ..vienna() };
    assert!(write_handed(&[block_for(&in_chicago)], &[1]).contains("DTSTART:20261025T140000Z\r\n"));
}

#[test]
fn training_is_days_and_only_the_race_has_a_time() {
    let events = events(&write_handed(&[block_for(&vienna())], &[1]));
    let timed: Vec<&Properties> = events.iter().filter(|event| event.contains_key("DTSTART")).collect();
    assert_eq!(timed, [race_of(&events)]);
    for event in events.iter().filter(|event| !event.contains_key("DTSTART")) {
        assert_eq!(event["DTSTART;VALUE=DATE"].len(), 8, "a date has no zone");
    }
}

#[test]
fn training_never_blocks_the_day_and_nothing_rings() {
    let file = write_handed(&[block_for(&vienna())], &[1]);
    for event in events(&file) {
        let expected = if event.contains_key("DTSTART") { "OPAQUE" } else { "TRANSPARENT" };
        assert_eq!(event["TRANSP"], expected);
    }
    assert!(!file.contains("VALARM") && !file.contains("METHOD") && !file.contains("\r\nX-"));
}

#[test]
fn no_time_is_floating_and_a_start_without_a_zone_takes_the_day() {
    for (start, zone) in [(Some((9, 0)), None), (None, Some("Europe/Vienna")), (None, None)] {
        let race = Race {
            start: start.and_then(|(hour, minute)| chrono::NaiveTime::from_hms_opt(hour, minute, 0)),
            zone: zone.map(str::to_owned),
            ..vienna()
        };
        let events = events(&write_handed(&[block_for(&race)], &[1]));
        let race = race_of(&events);
        assert_eq!((race["DTSTART;VALUE=DATE"].as_str(), race["TRANSP"].as_str()), ("20261025", "TRANSPARENT"));
        let told = if start.is_some() { "Starts at 9:00\\, local time." } else { "Start not known yet" };
        assert!(race["DESCRIPTION"].starts_with(told), "{race:?}");
    }
}

#[test]
fn why_a_day_changed_stays_with_the_coach() {
    let mut block = block_for(&vienna());
    for planned in block.days.iter_mut().flat_map(|day| &mut day.sessions) {
        planned.why = vec![Reason::Life(Life::Fever)];
    }
    let file = write_handed(&[block], &[1]).replace("\r\n ", "");
    assert!(file.contains("our coach adjusted this day"), "{file}");
    // The caution that every file carries speaks of illness in general.
    assert!(events(&file).iter().all(|event| !event["DESCRIPTION"].contains("fever")));
}

#[test]
fn neither_name_nor_anything_typed_stands_in_an_identity() {
    let file = write_handed(&[block_for(&vienna())], &[1]);
    for uid in uids(&events(&file)) {
        assert!(uid.bytes().all(|byte| byte == b'-' || byte.is_ascii_hexdigit()), "{uid}");
    }
}

#[test]
fn without_an_edition_there_is_no_file() {
    let block = block_for(&vienna());
    let versions = [Version { number: 1, parent: None, place: "", block: &block }];
    let calendar = Calendar {
        key: BlockKey::of_kept(1, at(0)),
        athlete: "",
        units: DistanceUnit::Km,
        versions: &versions,
        editions: &[],
        race: None,
    };
    assert_eq!(write(&calendar), None);
    let unknown = [Edition { version: 9, at: at(0) }];
    assert_eq!(write(&Calendar { editions: &unknown, ..calendar }), None);
}

/// What an outside library must read out of the file of these versions.
fn expected(events: &[Dated]) -> serde_json::Value {
    let zones = ["Europe/Vienna", "America/Chicago", "Asia/Kathmandu"];
    let told = events.iter().map(|dated| {
        let (start, end, local) = match dated.event.when {
            When::Day(date) => (date.to_string(), Some((date + Days::new(1)).to_string()), None),
            When::From(start) => {
                let local =
                    |zone: &str| start.with_timezone(&zone.parse::<Tz>().unwrap()).format("%F %H:%M").to_string();
                let local: BTreeMap<&str, String> = zones.into_iter().map(|zone| (zone, local(zone))).collect();
                (start.format("%FT%H:%M:%SZ").to_string(), None, Some(local))
            }
        };
        serde_json::json!({
            "uid": dated.event.uid.to_string(),
            "sequence": dated.sequence,
            "modified": dated.modified.format("%FT%H:%M:%SZ").to_string(),
            "start": start,
            "end": end,
            "local": local,
            "summary": text::plain(&dated.event.summary),
            "description": text::plain(&dated.event.description),
            "location": text::plain(&dated.event.location),
        })
    });
    told.collect()
}

/// Run by `cargo xtask reference`, which names the programs that read the files.
#[test]
#[ignore = "needs libraries that are not ours"]
fn outside_libraries_read_what_was_written() {
    let folder = std::env::temp_dir().join(format!("ebbline-calendar-{}", uuid::Uuid::new_v4()));
    std::fs::create_dir(&folder).unwrap();
    let moved = Race { date: date("2026-11-01"), ..vienna() };
    let no_zone =
        Race { zone: None, name: "Läufe; \u{202e}3 × 5 km, \\o/ 🏃🏽‍♀️ نور".to_owned(), ..vienna() };
    let half_past = Race { zone: Some("Asia/Kathmandu".to_owned()), date: date("2027-03-28"), ..vienna() };
    let mut noted = block_for(&vienna());
    for (number, planned) in (0..).zip(noted.days.iter_mut().flat_map(|day| &mut day.sessions)) {
        planned.session.note =
            format!("{}; C:\\runs, dann „locker“ – 🏃🏽‍♀️ {}", "ß".repeat(number * 3), "x".repeat(number));
    }
    let cases = [
        ("first", vec![block_for(&vienna())], vec![1]),
        ("moved", vec![block_for(&vienna()), block_for(&moved)], vec![1, 2]),
        ("undone", vec![block_for(&vienna()), block_for(&moved)], vec![1, 2, 1]),
        ("text", vec![block_for(&no_zone)], vec![1]),
        ("notes", vec![block_for(&vienna()), noted], vec![1, 2]),
        ("zone", vec![block_for(&half_past)], vec![1]),
    ];
    let mut count = 0;
    for (name, versions, order) in &cases {
        let editions: Vec<Edition> =
            (0..).zip(order).map(|(step, version)| Edition { version: *version, at: at(10 * step) }).collect();
        let versions = numbered(versions);
        let key = BlockKey::of_kept(7, at(0));
        let calendar = Calendar {
            key,
            athlete: "Ana Exemplo",
            units: DistanceUnit::Km,
            versions: &versions,
            editions: &editions,
            race: None,
        };
        let events = events_of(&calendar);
        count += events.len();
        std::fs::write(folder.join(format!("{name}.ics")), write(&calendar).unwrap()).unwrap();
        std::fs::write(folder.join(format!("{name}.json")), expected(&events).to_string()).unwrap();
    }
    let scripts = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("../../tests/reference");
    for (program, script) in
        [("EBBLINE_REFERENCE_PYTHON", "calendar_files.py"), ("EBBLINE_REFERENCE_NODE", "calendar_files.mjs")]
    {
        let program = std::env::var(program).unwrap();
        let output = std::process::Command::new(program).arg(scripts.join(script)).arg(&folder).output().unwrap();
        let told = String::from_utf8_lossy(&output.stdout).into_owned() + &String::from_utf8_lossy(&output.stderr);
        assert!(output.status.success(), "{script}: {told}");
        println!("{script}: {}", told.trim());
        assert!(told.contains(&format!("{count} events")), "{script} read others: {told}");
    }
    std::fs::remove_dir_all(&folder).unwrap();
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    /// Versions made by exchanging, emptying and noting days, handed over in any order.
    #[test]
    fn identities_are_unique_and_sequences_never_fall(
        edits in prop::collection::vec((0..13_usize, 0..13_usize, 0..3_u8), 0..6),
        order in prop::collection::vec((0..6_usize, -500..500_i64), 1..8),
    ) {
        let mut versions = vec![block_for(&vienna())];
        for (one, other, how) in edits {
            let mut block = versions[versions.len() - 1].clone();
            match how {
                0 if one != other => {
                    let sessions = std::mem::take(&mut block.days[one].sessions);
                    block.days[one].sessions = std::mem::replace(&mut block.days[other].sessions, sessions);
                }
                1 => block.days[one].sessions.clear(),
                _ => for planned in &mut block.days[one].sessions {
                    planned.session.note = format!("note {other}");
                },
            }
            versions.push(block);
        }
        let editions: Vec<Edition> = order.iter().map(|(index, minutes)| Edition { version: (index % versions.len()) as u32 + 1, at: at(*minutes) }).collect();
        let mut known: BTreeMap<String, (u32, Properties)> = BTreeMap::new();
        for count in 1..=editions.len() {
            let file = write_editions(&versions, &editions[..count]);
            prop_assert_eq!(&file, &write_editions(&versions, &editions[..count]));
            prop_assert!(file.split_terminator("\r\n").all(|line| (1..=75).contains(&line.len())));
            let events = events(&file);
            let distinct: HashSet<&String> = uids(&events).into_iter().collect();
            prop_assert_eq!(distinct.len(), events.len());
            for event in events {
                let sequence: u32 = event["SEQUENCE"].parse().unwrap();
                if let Some((before, same)) = known.get(&event["UID"]) {
                    prop_assert!(sequence >= *before);
                    let starts = |event: &Properties| event.get("DTSTART;VALUE=DATE").cloned();
                    if starts(same) != starts(&event) {
                        prop_assert!(sequence > *before);
                    }
                    prop_assert!(event["LAST-MODIFIED"] >= same["LAST-MODIFIED"]);
                }
                known.insert(event["UID"].clone(), (sequence, event));
            }
        }
    }
}
