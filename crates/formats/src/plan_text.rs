//! A block for people: a day a line, the totals of each week, the review, and why.

use planning::{Athlete, Block, Day, DistanceUnit, Finding, Planned, Race, Share};

use crate::words;

/// Writes the block in the athlete's units.
pub fn write(block: &Block, athlete: &Athlete, findings: &[Finding]) -> String {
    let units = athlete.units;
    let mut lines = heading(block, athlete);
    let weeks = block.weeks();
    for week in &weeks {
        let name = words::sentence(&words::week_name(week.before));
        let name = name.trim_end_matches('.');
        lines.push(String::new());
        lines.push(format!("{name}, {}", words::date_range(week.from, week.to)));
        lines.extend(wrapped(&words::week(week, units, block.pace), ""));
        let days = block.days.iter().filter(|day| (week.from..=week.to).contains(&day.date));
        lines.extend(days.map(|day| day_line(day, block, units)));
    }
    lines.push(String::new());
    lines.push("Review".to_owned());
    if findings.is_empty() {
        lines.push("Nothing to say against this block.".to_owned());
    }
    for finding in findings {
        let level = words::level(finding.level).to_uppercase();
        lines.extend(wrapped(&format!("{level}: {}", words::finding(finding, units)), "  "));
    }
    let why = why(block, units);
    if !why.is_empty() {
        lines.push(String::new());
        lines.push("Why".to_owned());
        lines.extend(why);
    }
    lines.push(String::new());
    lines.extend(wrapped(words::CAUTION, ""));
    lines.push(String::new());
    lines.join("\n")
}

fn heading(block: &Block, athlete: &Athlete) -> Vec<String> {
    let curve = &block.curve;
    let mut lines = vec![
        format!("Taper block for {}", words::quote(&athlete.name)),
        race_line(&block.race),
        format!(
            "{}, from {} on. Curve {}, curvature {}, left at the end {}.",
            words::plural(usize::from(curve.length), "day"),
            words::full_date(block.first_day()),
            curve.shape.code(),
            curve.curvature,
            words::per_cent(Share(curve.floor)),
        ),
    ];
    for adjustment in &block.adjustments {
        lines.extend(wrapped(words::adjustment(*adjustment), ""));
    }
    lines.extend(wrapped(&words::beginning(&block.beginning()), ""));
    lines.extend(wrapped(&words::cut(block, athlete.units), ""));
    lines
}

fn race_line(race: &Race) -> String {
    let distance = words::race_distance(race.distance);
    let name = words::quote(&race.name);
    let what = if name.is_empty() { distance } else { format!("{name}, {distance}") };
    let start = race.start.map(|start| format!(", start {}", start.format("%H:%M"))).unwrap_or_default();
    let zone = race.zone.as_ref().filter(|_| race.start.is_some());
    let zone = zone.map(|zone| format!(" ({zone})")).unwrap_or_default();
    format!("{what}, {}{start}{zone}", words::full_date(race.date))
}

/// `Tue  4 May   5  intervals 7 km, 3 km hard   (usually intervals 12 km, 5 km hard)`.
fn day_line(day: &Day, block: &Block, units: DistanceUnit) -> String {
    let mut parts: Vec<String> = Vec::new();
    if day.to_race == 0 {
        parts.push(format!("RACE: {}", words::race_distance(block.race.distance)));
    }
    parts.extend(day.sessions.iter().map(|planned| session(planned, units)));
    if parts.is_empty() {
        parts.push("rest".to_owned());
    }
    let dropped: Vec<String> = day.dropped.iter().map(|dropped| words::session_in(&dropped.usual, units)).collect();
    let dropped = if dropped.is_empty() { String::new() } else { format!("   (usually {})", words::list(&dropped)) };
    let pinned = if day.pinned { "   (fixed by the coach)" } else { "" };
    let date = format!("{:<10}", words::short_date(day.date));
    format!("  {date} {:>3}  {}{dropped}{pinned}", day.to_race, parts.join(" + "))
}

fn session(planned: &Planned, units: DistanceUnit) -> String {
    let now = words::planned(planned, units);
    match &planned.usual {
        Some(usual) if *usual != planned.session => {
            format!("{now}   (usually {})", words::beside(usual, &planned.session, units))
        }
        _ => now,
    }
}

/// The reasons of every changed day.
fn why(block: &Block, units: DistanceUnit) -> Vec<String> {
    let mut lines = Vec::new();
    for day in block.days.iter().filter(|day| day.to_race > 0) {
        let planned = day.sessions.iter().flat_map(|planned| words::reasons(planned, units));
        let dropped = day.dropped.iter().flat_map(|dropped| words::dropped(dropped, units));
        let sentences: Vec<String> = planned.chain(dropped).collect();
        if !sentences.is_empty() {
            lines.extend(wrapped(&format!("{}: {}", words::short_date(day.date), sentences.join(" ")), "  "));
        }
    }
    lines
}

/// The longest line, in characters.
const WIDTH: usize = 100;

/// Words broken into lines; every line but the first starts with the indent.
fn wrapped(text: &str, indent: &str) -> Vec<String> {
    let mut lines = Vec::new();
    let mut line = String::new();
    for word in text.split_whitespace() {
        if !line.trim().is_empty() && line.chars().count() + 1 + word.chars().count() > WIDTH {
            lines.push(std::mem::replace(&mut line, indent.to_owned()));
        }
        if !line.trim().is_empty() {
            line.push(' ');
        }
        line.push_str(word);
    }
    lines.push(line);
    lines
}
