//! The race sheet as everybody reads it who may: ready texts, in the athlete's units.
//!
//! It is built field by field from what is meant for the athlete, printed, and kept as a document with a
//! hand-over, so that the athlete's page shows it as it was. A field that is new is empty in older ones.

use formats::words;
use formats::words::race_day::fuel::Reader;
use planning::station::Station;
use planning::{DistanceUnit, Event, Profile};
use serde::{Deserialize, Serialize};
use store::{GoalNotes, RaceFacts, Shows};

use super::body::{Body, MorningLine, TakeLine, Told};
use super::ground::Ground;
use super::times::{GoalLine, PaperRow, Times, mark_name};
use crate::blocks::lines;

/// A race sheet.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(default)]
pub(crate) struct RaceDay {
    /// `Number 214, pen C, wave starts 9:42`; what is known.
    pub(crate) start: Vec<String>,
    pub(crate) goals: Vec<GoalLine>,
    /// What the corridor leads from and to: `A to C`.
    pub(crate) corridor: String,
    /// The letter whose times stand in the rows; empty where no goal is a time.
    pub(crate) main: String,
    pub(crate) rows: Vec<PaperRow>,
    /// What to know of the times: markers, clocks.
    pub(crate) about_times: Vec<String>,
    pub(crate) rules: Vec<String>,
    pub(crate) stretches: Vec<StretchLine>,
    pub(crate) hard_moment: String,
    /// Worries and the answer to each.
    pub(crate) worries: Vec<String>,
    /// Stations on the way where the rows are not theirs: `10 km Mill: water, gels`.
    pub(crate) stations: Vec<String>,
    /// Food on the way, and when which piece is due.
    pub(crate) fuel: String,
    pub(crate) takes: Vec<TakeLine>,
    /// `Expected: air 8 °C.` and what that asks for.
    pub(crate) weather: String,
    pub(crate) warm_up: String,
    /// The morning by the clock.
    pub(crate) timetable: Vec<MorningLine>,
    /// What everybody has to know of the morning.
    pub(crate) morning: Vec<Fact>,
    /// When to stop, in one sentence.
    pub(crate) stop: String,
}

/// Something to know, under its name.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(default)]
pub(crate) struct Fact {
    pub(crate) name: String,
    pub(crate) text: String,
}

/// One stretch of the race.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(default)]
pub(crate) struct StretchLine {
    pub(crate) name: String,
    /// `14 to 28 km`.
    pub(crate) reach: String,
    pub(crate) effort: String,
    pub(crate) focus: String,
    pub(crate) cue: String,
}

impl RaceDay {
    /// Everything that is written, for paper.
    pub(crate) fn of(ground: Ground<'_>) -> Self {
        Self::build(ground, Shows::ALL, Reader::Paper)
    }

    /// What the coach shows of it.
    pub(crate) fn showing(ground: Ground<'_>, shows: Shows) -> Self {
        Self::build(ground, shows, Reader::Shared)
    }

    fn build(ground: Ground<'_>, shows: Shows, reader: Reader) -> Self {
        let (record, units) = (ground.record, ground.athlete_units());
        let all = ground.all_times();
        let body = Body::of(&Told { ground, times: &all, today: record.race.race.date, units, reader });
        let notes = shows.of(&record.goals);
        let times = if shows.goals { all } else { ground.times(&notes, record.race_sheet.strategy) };
        let stations = ground.stations();
        let is_long = record.race.race.distance.event() == Event::Longer;
        let at_stations = is_long && !stations.is_empty() && !times.are_none();
        let rows = if at_stations {
            times.at_stations(&stations, ground.profile(), units)
        } else {
            times.paper(ground.profile(), units, record.race.race.distance.event())
        };
        Self {
            start: start(ground),
            goals: times.lines(ground.profile(), units),
            main: times.main().map_or(String::new(), |(letter, _)| letter.as_str().to_owned()),
            corridor: times.corridor(),
            about_times: if rows.is_empty() { Vec::new() } else { about_times(ground) },
            rows,
            rules: if times.are_none() { Vec::new() } else { rules(ground, &times, units) },
            stretches: stretches(ground, &notes, units)
                .into_iter()
                .filter(|line| !(line.effort.is_empty() && line.focus.is_empty() && line.cue.is_empty()))
                .collect(),
            stations: if at_stations { Vec::new() } else { station_lines(&stations, ground.profile(), units) },
            // How long the race will take, and where on the way, would tell the goals.
            fuel: if shows.goals { body.during } else { String::new() },
            takes: if shows.goals { body.takes } else { Vec::new() },
            weather: joined(&[&body.weather, &body.weather_advice]),
            warm_up: body.warm_up,
            timetable: body.morning,
            morning: morning(ground),
            stop: format!("{}. {}", body.stop.join("; "), body.stop_then),
            hard_moment: notes.hard_moment,
            worries: if shows.stretches { written_lines(&record.race_sheet.worries) } else { Vec::new() },
        }
    }

    /// Whether something stands beside the times of a row.
    pub(crate) fn has_notes(&self) -> bool {
        self.rows.iter().any(|row| !row.note.is_empty())
    }

    /// Whether nothing at all was written for it: what the program says by itself is no sheet.
    pub(crate) fn is_empty(&self) -> bool {
        let said = [self.start.len(), self.goals.len(), self.stretches.len(), self.worries.len(), self.stations.len()];
        said.iter().all(|count| *count == 0) && self.morning.is_empty() && self.hard_moment.is_empty()
    }

    /// The document that is kept with a hand-over; nothing where nothing is written.
    pub(crate) fn to_document(&self) -> Option<String> {
        if self.is_empty() { None } else { serde_json::to_string(self).ok() }
    }

    /// What such a document says. One that cannot be read shows nothing: the days matter more.
    pub(crate) fn of_document(document: Option<&str>) -> Option<Self> {
        let read = serde_json::from_str::<Self>(document?);
        read.inspect_err(|error| tracing::error!(%error, "a race sheet that was handed over cannot be read")).ok()
    }
}

/// Stations in words.
pub(super) fn station_lines(stations: &[Station], profile: &Profile, units: DistanceUnit) -> Vec<String> {
    let line = |station: &Station| {
        let name = if station.name.is_empty() { String::new() } else { format!(" {}", station.name) };
        let what = if station.what.is_empty() { String::new() } else { format!(": {}", station.what) };
        let cut_off = station.cut_off.map_or_else(String::new, |time| format!(" (cut-off {time})"));
        format!("{}{name}{what}{cut_off}", mark_name(station.at.distance(), profile, units))
    };
    stations.iter().map(line).collect()
}

/// What is noted of the race's morning, and what the coach adds for this athlete.
pub(super) fn morning(ground: Ground<'_>) -> Vec<Fact> {
    let none = RaceFacts::default();
    let facts = ground.course.facts.as_ref().unwrap_or(&none);
    let clock =
        |time: Option<chrono::NaiveTime>| time.map_or_else(String::new, |time| time.format("%-H:%M").to_string());
    let with = |time: String, place: &str| match (time.is_empty(), place.is_empty()) {
        (true, _) => place.to_owned(),
        (false, true) => format!("until {time}"),
        (false, false) => format!("until {time}, {place}"),
    };
    let all = [
        ("Meet", facts.meeting.clone()),
        ("Bags", with(clock(facts.bags_close), &facts.bags)),
        ("Toilets", facts.toilets.clone()),
        ("Pens close", clock(facts.pens_close)),
        ("Afterwards", facts.afterwards.clone()),
        ("Call", facts.contact.clone()),
        ("Also", ground.record.race_sheet.morning.lines().collect::<Vec<_>>().join("; ")),
    ];
    let fact = |(name, text): (&str, String)| Fact { name: name.to_owned(), text };
    all.into_iter().filter(|(_, text)| !text.is_empty()).map(fact).collect()
}

/// Sentences in a row, without the empty ones.
fn joined(parts: &[&str]) -> String {
    parts.iter().filter(|part| !part.is_empty()).copied().collect::<Vec<_>>().join(" ")
}

/// Number, pen, wave and clock, as far as they are noted.
pub(super) fn start(ground: Ground<'_>) -> Vec<String> {
    let sheet = &ground.record.race_sheet;
    let mut said = Vec::new();
    if !sheet.bib.is_empty() {
        said.push(format!("Number {}", sheet.bib));
    }
    if !sheet.pen.is_empty() {
        said.push(format!("{} {}", if said.is_empty() { "Pen" } else { "pen" }, sheet.pen));
    }
    if let Some(wave) = sheet.wave_start {
        let your = if said.is_empty() { "Your wave" } else { "your wave" };
        said.push(format!("{your} starts {}", wave.format("%-H:%M")));
    }
    said
}

/// What to know of the times.
fn about_times(ground: Ground<'_>) -> Vec<String> {
    let mut said = vec![
        "Go by the official markers and the time since you crossed the start. A watch reads up to 1.5% long."
            .to_owned(),
    ];
    let sheet = &ground.record.race_sheet;
    let gun = u32::from(sheet.gun_seconds.unwrap_or_default());
    let later = |seconds: u32| planning::RaceTime::seconds(seconds);
    let wave = sheet.wave_start.zip(ground.record.race.race.start).map(|(wave, start)| (wave - start).num_seconds());
    match wave.and_then(|seconds| u32::try_from(seconds).ok()).filter(|seconds| *seconds > 0) {
        Some(wave) => said.push(format!(
            "Clocks on the course that count from the first start show about {} more than your own time.",
            later(wave + gun)
        )),
        None if gun > 0 => {
            said.push(format!(
                "Clocks on the course count from the gun: about {} more than your own time.",
                later(gun)
            ));
        }
        None => {}
    }
    said
}

/// The rules for changing the goal: the coach's, else the proposed ones.
pub(super) fn rules(ground: Ground<'_>, times: &Times, units: DistanceUnit) -> Vec<String> {
    match &ground.record.race_sheet.change_rules {
        Some(written) => written_lines(written),
        None => words::change_rules(times.pacings(), ground.profile(), units),
    }
}

/// The three stretches with where they begin and end.
pub(super) fn stretches(ground: Ground<'_>, notes: &GoalNotes, units: DistanceUnit) -> Vec<StretchLine> {
    let sheet = &ground.record.race_sheet;
    let [middle, last] = sheet.borders(ground.profile().length());
    let place = |at| words::place(at, units);
    let reach = [
        format!("up to {}", place(middle)),
        format!("from there to {}", place(last)),
        "from there to the finish".to_owned(),
    ];
    let names = if sheet.borders.is_some() {
        ["First stretch", "Middle stretch", "Last stretch"]
    } else {
        ["First third", "Middle third", "Last third"]
    };
    names
        .into_iter()
        .zip(reach)
        .zip(&notes.stretches)
        .map(|((name, reach), written)| StretchLine {
            name: name.to_owned(),
            reach,
            effort: written.effort.clone(),
            focus: written.focus.clone(),
            cue: written.cue.clone(),
        })
        .collect()
}

/// The lines of a text on which something stands.
pub(super) fn written_lines(text: &str) -> Vec<String> {
    text.lines().map(str::trim).filter(|line| !line.is_empty()).map(str::to_owned).collect()
}

/// Who runs which race, for the head of a page.
pub(super) fn title(ground: Ground<'_>) -> (String, String) {
    (ground.record.athlete.draft.athlete.name.clone(), lines::race_name(&ground.record.race.race))
}

/// `Half marathon, Sunday 9 May 2027, starts 9:30 (Europe/Lisbon), Harbour`.
pub(super) fn facts(ground: Ground<'_>) -> String {
    let race = &ground.record.race.race;
    let mut facts = vec![lines::capital(&words::race_distance(race.distance)), words::full_date(race.date)];
    if let Some(start) = lines::start(race) {
        let zone = race.zone.as_ref().map_or_else(String::new, |zone| format!(" ({zone})"));
        facts.push(format!("starts {start}{zone}"));
    }
    if !ground.record.race.place.is_empty() {
        facts.push(ground.record.race.place.clone());
    }
    facts.join(", ")
}
