//! Events of an athlete's calendar.

use chrono::Timelike as _;
use planning::{Amount, DistanceUnit, Milli, Planned, Race, Reason, Session};

use super::names::race_distance;
use super::reasons::{changed, reasons};
use super::sessions::{inside, is_hard_assumed, planned as planned_words};
use super::{capital, sentence};

/// The name of a calendar: `Ana Exemplo: Harbour Ten`.
pub fn calendar_name(athlete: &str, race: &Race) -> String {
    let race = if race.name.is_empty() { race_distance(race.distance) } else { race.name.clone() };
    if athlete.is_empty() { race } else { format!("{athlete}: {race}") }
}

/// A session as a calendar lists it: `Intervals 6–7 km, 2.4 km hard`, without a hard part that is only
/// assumed. What is inside stands below.
pub fn event_summary(planned: &Planned, units: DistanceUnit) -> String {
    let session = &planned.session;
    let none = session.amount.map(|amount| Amount::exact(Milli::ZERO, amount.unit()));
    let hard = if is_hard_assumed(session) { none } else { session.hard_as_said().or(none) };
    let outside = Session { hard, sets: Vec::new(), loaded: false, note: String::new(), ..session.clone() };
    capital(&planned_words(&Planned { session: outside, ..planned.clone() }, units))
}

/// What is inside a session, then what it usually is and why it is not, a line each. That the coach fixed it is no reason
/// for who reads this where nothing else is said.
pub fn event_description(planned: &Planned, units: DistanceUnit) -> String {
    let inside = Some(inside(&planned.session)).filter(|inside| !inside.is_empty()).map(|inside| sentence(&inside));
    let mut lines: Vec<String> = inside.into_iter().collect();
    let why = if planned.why == [Reason::Pinned] {
        changed(planned, units).into_iter().collect()
    } else {
        reasons(planned, units)
    };
    let is_fixed_otherwise = !planned.why.is_empty() && planned.usual.as_ref() != Some(&planned.session);
    if why.is_empty() && !is_fixed_otherwise {
        lines.push("As usual.".to_owned());
    }
    lines.extend(why);
    lines.join("\n")
}

/// The race as a calendar lists it: `Race: Harbour Ten, 10 km`.
pub fn race_summary(race: &Race) -> String {
    let distance = race_distance(race.distance);
    if race.name.is_empty() { format!("Race: {distance}") } else { format!("Race: {}, {distance}", race.name) }
}

/// The same where it is called off: `Called off: Harbour Ten, 10 km`.
pub fn called_off_summary(summary: &str) -> String {
    format!("Called off: {}", summary.strip_prefix("Race: ").unwrap_or(summary))
}

/// When the race starts where it is run, whatever zone the reader is in.
pub fn race_description(race: &Race) -> String {
    let start = race.start.map(|start| format!("starts at {}:{:02}", start.hour(), start.minute()));
    let zone = race.zone.as_ref().map(|zone| format!("time zone {zone}"));
    match (start, zone) {
        (Some(start), Some(zone)) => sentence(&format!("{start}, {zone}")),
        (Some(start), None) => sentence(&format!("{start}, local time")),
        (None, Some(zone)) => sentence(&format!("start not known yet, {zone}")),
        (None, None) => sentence("start not known yet"),
    }
}

#[cfg(test)]
mod tests {
    use planning::{Importance, Kind, RaceDistance, Reason, Role, Sets, Share, Unit};

    use super::*;

    fn km(value: i32) -> Amount {
        Amount::exact(Milli::whole(value), Unit::Km)
    }

    #[test]
    fn a_session_is_said_short_above_and_in_full_below() {
        let sets = Sets {
            reps: 3,
            length: Milli::whole(800),
            unit: planning::SetUnit::M,
            pace: "10k pace".to_owned(),
            recovery: String::new(),
        };
        let usual = Session { hard: Some(km(5)), ..Session::new(Kind::Intervals, km(11)) };
        let now =
            Session { sets: vec![sets], note: "on the\ngrass".to_owned(), ..Session::new(Kind::Intervals, km(6)) };
        let planned = Planned { session: now, usual: Some(usual), role: Role::Key, why: vec![Reason::Ebb(Share(0.5))] };
        assert_eq!(event_summary(&planned, DistanceUnit::Km), "Intervals 6 km, 2.4 km hard, key session");
        let told = event_description(&planned, DistanceUnit::Km);
        assert!(told.starts_with("3 \u{d7} 800 m 10k pace; on the grass.\nUsually 11 km"), "{told}");
        let assumed = Session::new(Kind::Hills, km(7));
        let planned = Planned { usual: Some(assumed.clone()), session: assumed, role: Role::Plain, why: Vec::new() };
        assert_eq!(event_summary(&planned, DistanceUnit::Km), "Hills 7 km");
        assert_eq!(event_description(&planned, DistanceUnit::Km), "As usual.");
        let strength = Session::new(Kind::Strength, Amount::exact(Milli::whole(30), Unit::Min));
        let planned = Planned { usual: None, session: strength, role: Role::Plain, why: Vec::new() };
        assert_eq!(event_summary(&planned, DistanceUnit::Mi), "Strength 30 min");
    }

    #[test]
    fn of_a_day_that_the_coach_fixed_it_is_said_what_changed_and_no_reason() {
        let easy = |amount| Session::new(Kind::Easy, km(amount));
        let told = |now: Session, usual: Option<Session>, why: &[Reason]| {
            let planned = Planned { session: now, usual, role: Role::Plain, why: why.to_vec() };
            event_description(&planned, DistanceUnit::Km)
        };
        let fixed = [Reason::Pinned];
        assert_eq!(told(easy(6), Some(easy(8)), &fixed), "Usually 8 km, now 6 km.");
        assert_eq!(told(easy(8), Some(easy(8)), &fixed), "As usual.");
        assert_eq!(told(easy(6), None, &fixed), "");
        let more = told(easy(6), Some(easy(8)), &[Reason::Pinned, Reason::Strides]);
        assert!(more.starts_with("The coach fixed this day."), "{more}");
    }

    #[test]
    fn a_race_is_said_with_its_own_clock() {
        let race = |name: &str, start: Option<(u32, u32)>, zone: Option<&str>| Race {
            name: name.to_owned(),
            date: "2026-10-25".parse().unwrap(),
            distance: RaceDistance::TenK,
            start: start.and_then(|(hour, minute)| chrono::NaiveTime::from_hms_opt(hour, minute, 0)),
            zone: zone.map(str::to_owned),
            importance: Importance::Goal,
        };
        let named = race("Harbour Ten", Some((9, 0)), Some("Europe/Vienna"));
        assert_eq!(race_summary(&named), "Race: Harbour Ten, 10 km");
        assert_eq!(called_off_summary(&race_summary(&named)), "Called off: Harbour Ten, 10 km");
        assert_eq!(race_description(&named), "Starts at 9:00, time zone Europe/Vienna.");
        assert_eq!(calendar_name("Ana", &named), "Ana: Harbour Ten");
        let unnamed = race("", None, Some("Europe/Vienna"));
        assert_eq!(race_summary(&unnamed), "Race: 10 km");
        assert_eq!(race_description(&unnamed), "Start not known yet, time zone Europe/Vienna.");
        assert_eq!(calendar_name("", &unnamed), "10 km");
    }
}
