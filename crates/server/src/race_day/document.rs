//! The race sheet as everybody reads it who may: ready texts, in the athlete's units.
//!
//! It is built field by field from what is meant for the athlete, printed, and kept as a document with a
//! hand-over, so that the athlete's page shows it as it was. A field that is new is empty in older ones.

use formats::words;
use formats::words::race_day::fuel::{self, Reader};
use planning::pacing::{change_rules, every, paper_step};
use planning::plain::joined;
use planning::station::Station;
use planning::{Distance, DistanceUnit, Event, Profile, RaceTime};
use serde::{Deserialize, Serialize};
use store::{GoalNotes, RaceFacts, Shows};

use super::body::{Body, MorningLine, TakeLine, Told};
use super::ground::Ground;
use super::profile_picture::{ProfileMark, ProfilePicture};
use super::times::{GoalLine, PaperRow, Times, mark_name};
use crate::blocks::lines;
use crate::shown;

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
    /// How to run it in the coach's own words, line by line.
    pub(crate) own_words: Vec<String>,
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
    /// The course with its hills, for pages and files; nothing where it is flat or not known.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(crate) profile: Option<ProfilePicture>,
}

/// The most times on one strip: 180 mm, each as wide as `9:59:59` in the strip's bold figures.
const STRIP_MOST: usize = 9;

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
        // How long the race will take, and where on the way, would tell the goals.
        let legs = if shows.goals { legs(ground, &stations, &times, &body) } else { Legs::default() };
        let rows = if at_stations {
            times.at_stations(&stations, &legs.after, ground.profile(), units)
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
            own_words: written_lines(&notes.message),
            stretches: stretches(ground, &notes, units)
                .into_iter()
                .filter(|line| !(line.effort.is_empty() && line.focus.is_empty() && line.cue.is_empty()))
                .collect(),
            stations: if at_stations {
                Vec::new()
            } else {
                station_lines(&stations, &legs.after, ground.profile(), units)
            },
            fuel: match (shows.goals, at_stations) {
                (true, true) => joined([&body.during, &legs.first], " "),
                (true, false) => body.during,
                (false, _) => String::new(),
            },
            // By stations the legs tell it, and the rhythm stands in the sentence.
            takes: if shows.goals && !at_stations { body.takes } else { Vec::new() },
            weather: joined([&body.weather, &body.weather_advice], " "),
            warm_up: body.warm_up,
            timetable: body.morning,
            morning: morning(ground),
            profile: is_hilly(ground.profile()).then(|| picture(ground, &times, units)).flatten(),
            stop: format!("{}. {}", body.stop.join("; "), body.stop_then),
            hard_moment: notes.hard_moment,
            worries: if shows.stretches { written_lines(&record.race_sheet.worries) } else { Vec::new() },
        }
    }

    /// Whether something stands beside the times of a row.
    pub(crate) fn has_notes(&self) -> bool {
        self.rows.iter().any(|row| !row.note.is_empty())
    }

    /// Whether a row has to be reached by some time.
    pub(crate) fn has_cut_offs(&self) -> bool {
        self.rows.iter().any(|row| !row.cut_off.is_empty())
    }

    /// The rows as strips that fit on paper: one, or where there are many or long times several as long as each other.
    pub(crate) fn strips(&self) -> Vec<&[PaperRow]> {
        let is_wide = self.rows.iter().any(|row| row.time.len() > "9:59:59".len());
        let most = if is_wide { STRIP_MOST - 1 } else { STRIP_MOST };
        let strips = self.rows.len().div_ceil(most).max(1);
        self.rows.chunks(self.rows.len().div_ceil(strips).max(1)).collect()
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

fn is_hilly(profile: &Profile) -> bool {
    profile.climb() > 0.0 || profile.descent() > 0.0
}

/// What is eaten between the stations: as many texts as there are stations.
#[derive(Default)]
pub(super) struct Legs {
    /// `To the first station: 2 × gel.`
    first: String,
    /// `then 3 × gel`; empty where nothing is due before the next station.
    pub(super) after: Vec<String>,
}

/// The pieces on the way by the stations between which they are due; nothing where no goal is a time.
pub(super) fn legs(ground: Ground<'_>, stations: &[Station], times: &Times, body: &Body) -> Legs {
    let Some((plan, (_, main))) = body.schedule.as_ref().zip(times.main()) else { return Legs::default() };
    let piece = &ground.record.race_sheet.fuel_piece;
    let passes = stations.iter().map(|station| main.elapsed(station.at.distance()));
    let borders: Vec<RaceTime> = passes.chain([main.goal()]).collect();
    let count = |from: RaceTime, until: RaceTime| plan.pieces_within(from, until);
    Legs {
        first: fuel::to_the_first_station(count(RaceTime::seconds(0), borders[0]), piece).unwrap_or_default(),
        after: borders
            .windows(2)
            .map(|ends| fuel::from_a_station(count(ends[0], ends[1]), piece).unwrap_or_default())
            .collect(),
    }
}

/// Stations in words, `then` what is eaten from each of them.
pub(super) fn station_lines(
    stations: &[Station],
    then: &[String],
    profile: &Profile,
    units: DistanceUnit,
) -> Vec<String> {
    let line = |(place, station): (usize, &Station)| {
        let name = if station.name.is_empty() { String::new() } else { format!(" {}", station.name) };
        let what = if station.what.is_empty() { String::new() } else { format!(": {}", station.what) };
        let cut_off = station.cut_off.map(|time| format!("cut-off {time}"));
        let then = then.get(place).filter(|then| !then.is_empty()).cloned();
        let beside = then.into_iter().chain(cut_off).collect::<Vec<_>>().join("; ");
        let beside = if beside.is_empty() { beside } else { format!(" ({beside})") };
        format!("{}{name}{what}{beside}", mark_name(station.at.distance(), profile, units))
    };
    stations.iter().enumerate().map(line).collect()
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

/// Number, pen, wave and clock, as far as they are noted.
pub(super) fn start(ground: Ground<'_>) -> Vec<String> {
    let sheet = &ground.record.race_sheet;
    let mut said = Vec::new();
    if !sheet.bib.is_empty() {
        said.push(format!("Number {}", sheet.bib));
    }
    if !sheet.pen.is_empty() {
        let pen = pen(&sheet.pen);
        said.push(if said.is_empty() { shown::capital(&pen) } else { pen });
    }
    if let Some(wave) = sheet.wave_start {
        let your = if said.is_empty() { "Your wave" } else { "your wave" };
        said.push(format!("{your} starts {}", wave.format("%-H:%M")));
    }
    said
}

/// The course with the three stretches and the main goal's times.
pub(super) fn picture(ground: Ground<'_>, times: &Times, units: DistanceUnit) -> Option<ProfilePicture> {
    let profile = ground.profile();
    // A time for about every tenth of the way would stand too close together.
    let step = 2 * paper_step(units, profile.length());
    let mark = |at: Distance| {
        let time = times.main().map(|(_, pacing)| format!(" {}", pacing.elapsed(at))).unwrap_or_default();
        ProfileMark { at, label: format!("{}{time}", words::place(at, units)) }
    };
    let inside = every(units, step, profile.length()).into_iter().filter(|at| *at < profile.length());
    let marks: Vec<ProfileMark> = inside.map(mark).collect();
    let [middle, last] = ground.record.race_sheet.borders(profile.length());
    let stretches = [(Distance::metres(0), "first"), (middle, "middle"), (last, "last")];
    Some(ProfilePicture::of(profile, units, &marks)?.with_stretches(profile, &stretches))
}

/// A pen or wave by its name: a letter alone would read as a goal.
pub(crate) fn pen(name: &str) -> String {
    let lower = name.to_lowercase();
    let says_what = ["pen", "wave", "corral", "block", "start"].iter().any(|word| lower.contains(word));
    if says_what { name.to_owned() } else { format!("pen {name}") }
}

/// What to know of the times.
fn about_times(ground: Ground<'_>) -> Vec<String> {
    let mut said = vec![
        "Go by the official markers and the time since you crossed the start. A watch reads up to 1.5% long."
            .to_owned(),
    ];
    let behind = RaceTime::seconds(ground.behind());
    let has_cut_offs = ground.stations().iter().any(|station| station.cut_off.is_some());
    let what = if has_cut_offs { "Clocks on the course and cut-offs" } else { "Clocks on the course" };
    if ground.wave_behind() > 0 {
        said.push(format!("{what} that count from the first start show about {behind} more than your own time."));
    } else if ground.behind() > 0 {
        said.push(format!("{what} count from the gun: about {behind} more than your own time."));
    }
    said
}

/// The rules for changing the goal: the coach's, else the proposed ones.
pub(super) fn rules(ground: Ground<'_>, times: &Times, units: DistanceUnit) -> Vec<String> {
    match &ground.record.race_sheet.change_rules {
        Some(written) => written_lines(written),
        None => proposed_rules(ground, times, units),
    }
}

/// Whether the coach's own words say how fast or how far: "4:30 to 5 km, then 4:27". Who writes that has rules already, and
/// ours beside them would be others.
pub(super) fn has_own_rules(ground: Ground<'_>) -> bool {
    ground.record.goals.message.contains(|one: char| one.is_ascii_digit())
}

/// The rules that the program proposes, where the coach's own words leave room for some: at the stations where the rows are
/// theirs, so that the athlete can look.
pub(super) fn proposed_rules(ground: Ground<'_>, times: &Times, units: DistanceUnit) -> Vec<String> {
    if has_own_rules(ground) {
        return Vec::new();
    }
    let is_long = ground.record.race.race.distance.event() == Event::Longer;
    let stations = if is_long { ground.stations() } else { Vec::new() };
    let rules = change_rules(times.pacings(), ground.profile(), &stations, units);
    rules.iter().map(|rule| words::change_rule(rule, units)).collect()
}

/// The three stretches with where they begin and end.
pub(super) fn stretches(ground: Ground<'_>, notes: &GoalNotes, units: DistanceUnit) -> Vec<StretchLine> {
    let sheet = &ground.record.race_sheet;
    let [middle, last] = sheet.borders(ground.profile().length());
    let place = |at| words::place(at, units);
    let reach = [
        format!("up to {}", place(middle)),
        format!("from {} to {}", place(middle), place(last)),
        format!("from {} to the finish", place(last)),
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
    let mut facts = vec![shown::capital(&words::race_distance(race.distance)), words::full_date(race.date)];
    if let Some(start) = lines::start(race) {
        let zone = race.zone.as_ref().map_or_else(String::new, |zone| format!(" ({zone})"));
        facts.push(format!("starts {start}{zone}"));
    }
    if !ground.record.race.place.is_empty() {
        facts.push(ground.record.race.place.clone());
    }
    facts.join(", ")
}
