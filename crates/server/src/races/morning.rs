//! What everybody who runs a race has to know on the day.

use askama::Template;
use axum::extract::State;
use axum::http::StatusCode;
use axum::response::Response;
use axum_extra::extract::Form;
use chrono::NaiveTime;
use formats::words;
use planning::heat::Celsius;
use planning::notation::{read_stands, read_stations, read_temperature};
use planning::problem::Expected;
use planning::{Distance, DistanceUnit, Field, Problem, ProblemKind, Stand, Station};
use serde::Deserialize;
use store::{RaceFacts, RaceFactsRecord, RaceId, RaceRecord, StoreError, Version};

use crate::conflict::{ConflictPage, Row};
use crate::error::AppError;
use crate::extract::Id;
use crate::form::{Problems, many_lines, one_line, read_time, read_units, read_version};
use crate::notice::{self, Notice};
use crate::render::{self, Area, Layout, Page};
use crate::state::AppState;
use crate::{paths, shown};

/// What the air and the wet bulb globe temperature of a race may be, in whole degrees Celsius: what the
/// data file keeps.
const AIR: (i16, i16) = (-30, 50);
const WBGT: (i16, i16) = (-30, 45);

/// The controls, in the order of the page.
const CONTROLS: [&str; 11] = [
    "stations",
    "stands",
    "pens_close",
    "bags_close",
    "bags",
    "toilets",
    "meeting",
    "contact",
    "afterwards",
    "air",
    "wbgt",
];

/// The form of a race's morning.
#[derive(Template)]
#[template(path = "races/morning.html")]
pub(crate) struct MorningPage {
    layout: Layout,
    id: RaceId,
    name: String,
    distance: String,
    /// How a number without a unit is meant.
    units: DistanceUnit,
    typed: Typed,
    /// Whether what is kept no longer fits the race as it is now.
    outgrown: bool,
    stations: Vec<StationRow>,
    stands: Vec<(String, String)>,
    problems: Problems,
}

/// A station as it was read.
struct StationRow {
    at: String,
    name: String,
    what: String,
    cut_off: String,
}

/// The form as typed.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(default)]
pub(crate) struct Typed {
    version: String,
    units: String,
    stations: String,
    stands: String,
    pens_close: String,
    bags_close: String,
    bags: String,
    toilets: String,
    meeting: String,
    contact: String,
    afterwards: String,
    air: String,
    wbgt: String,
}

impl Typed {
    fn of(facts: &RaceFacts, version: Version) -> Self {
        let time = |time: Option<NaiveTime>| time.map_or_else(String::new, |time| time.format("%H:%M").to_string());
        let degrees = |value: Option<Celsius>| {
            value.map_or_else(String::new, |value| words::short_number(f64::from(value.as_tenths()) / 10.0))
        };
        let text = RaceFacts::clone(facts);
        Self {
            version: version.to_string(),
            units: facts.units.symbol().to_owned(),
            stations: text.stations,
            stands: text.stands,
            pens_close: time(facts.pens_close),
            bags_close: time(facts.bags_close),
            bags: text.bags,
            toilets: text.toilets,
            meeting: text.meeting,
            contact: text.contact,
            afterwards: text.afterwards,
            air: degrees(facts.air),
            wbgt: degrees(facts.wbgt),
        }
    }

    fn units(&self) -> DistanceUnit {
        read_units(&self.units)
    }

    /// Single lines: control, label, value.
    fn lines(&self) -> [(&'static str, &'static str, &str); 5] {
        [
            ("bags", "Bag drop", &self.bags),
            ("toilets", "Toilets", &self.toilets),
            ("meeting", "Meeting point", &self.meeting),
            ("contact", "Whom to call", &self.contact),
            ("afterwards", "Afterwards", &self.afterwards),
        ]
    }

    /// What the form says for a race of some length, or everything that is wrong with it.
    fn to_facts(&self, length: Distance) -> Result<RaceFacts, Problems> {
        let mut problems = Problems::default();
        add_places(&mut problems, &self.stations, &self.stands, self.units(), length);
        let mut say = |control: &str, label: &str, kind: &ProblemKind| {
            problems.add(control, format!("{label}: {}.", words::problem_kind(kind)));
        };
        let mut time = |control, label, text: &str| match text.trim() {
            "" => None,
            text => read_time(text).or_else(|| {
                let kind = ProblemKind::Unreadable { text: text.to_owned(), expected: Expected::Time };
                say(control, label, &kind);
                None
            }),
        };
        let pens_close = time("pens_close", "Pens close", &self.pens_close);
        let bags_close = time("bags_close", "Bags are taken until", &self.bags_close);
        let mut degrees = |control, label, text: &str, limits| match text.trim() {
            "" => None,
            text => read_temperature(text, limits).map_err(|kind| say(control, label, &kind)).ok(),
        };
        let air = degrees("air", "Air", &self.air, AIR);
        let wbgt = degrees("wbgt", "Wet bulb globe temperature", &self.wbgt, WBGT);
        for (control, label, value) in self.lines() {
            problems.check_length(control, label, &one_line(value), RaceFacts::LINE_MOST);
        }
        if !problems.is_empty() {
            problems.sort_by_controls(&CONTROLS);
            return Err(problems);
        }
        Ok(RaceFacts {
            stations: many_lines(&self.stations),
            stands: many_lines(&self.stands),
            units: self.units(),
            pens_close,
            bags_close,
            bags: one_line(&self.bags),
            toilets: one_line(&self.toilets),
            meeting: one_line(&self.meeting),
            contact: one_line(&self.contact),
            afterwards: one_line(&self.afterwards),
            air,
            wbgt,
        })
    }
}

/// What is wrong with the lines that name places, each at its field.
fn add_places(problems: &mut Problems, stations: &str, stands: &str, units: DistanceUnit, length: Distance) {
    let mut found: Vec<Problem> = read_stations(stations, units, length).err().unwrap_or_default();
    found.extend(read_stands(stands, units, length).err().unwrap_or_default());
    for problem in &found {
        let control = if matches!(problem.at, Field::StandLine(_)) { "stands" } else { "stations" };
        problems.add(control, crate::words::problem(problem));
    }
}

impl StationRow {
    fn of(station: Station, length: Distance) -> Self {
        Self {
            at: words::race_place(station.at, length),
            name: station.name,
            what: station.what,
            cut_off: station.cut_off.map_or_else(String::new, |time| time.to_string()),
        }
    }
}

impl MorningPage {
    fn new(layout: Layout, race: &RaceRecord, kept: Option<&RaceFactsRecord>, units: DistanceUnit) -> Self {
        let length = race.race.distance.distance();
        let units = kept.map_or(units, |record| record.facts.units);
        let fresh = || Typed { units: units.symbol().to_owned(), ..Typed::of(&RaceFacts::default(), Version(0)) };
        let mut problems = Problems::default();
        let (mut stations, mut stands) = (Vec::new(), Vec::new());
        if let Some(RaceFactsRecord { facts, .. }) = kept {
            add_places(&mut problems, &facts.stations, &facts.stands, units, length);
            stations = read_stations(&facts.stations, units, length).unwrap_or_default();
            stands = read_stands(&facts.stands, units, length).unwrap_or_default();
        }
        Self {
            layout: layout.at(Area::Races),
            id: race.id,
            name: race.race.name.clone(),
            distance: shown::capital(&words::race_distance(race.race.distance)),
            units,
            typed: kept.map_or_else(fresh, |record| Typed::of(&record.facts, record.version)),
            outgrown: !problems.is_empty(),
            stations: stations.into_iter().map(|station| StationRow::of(station, length)).collect(),
            stands: stands.into_iter().map(|Stand { at, name }| (words::race_place(at, length), name)).collect(),
            problems,
        }
    }

    async fn load(state: &AppState, layout: Layout, race: &RaceRecord) -> Result<Self, AppError> {
        let kept = state.store.race_facts(race.id).await?;
        let units = state.store.settings().await?.units;
        Ok(Self::new(layout, race, kept.as_ref(), units))
    }

    fn units_words(&self) -> &'static str {
        words::distance_unit(self.units)
    }
}

impl Page for MorningPage {
    #[cfg(test)]
    fn samples() -> Vec<Self> {
        use planning::RaceDistance;

        use super::sample;
        let race = sample::race(RaceDistance::Half);
        let facts = RaceFacts {
            stations: "12.5 Mill <b>: water, gels; cut-off 2:10\n5 water".to_owned(),
            stands: "8 bridge <b>\nfinish".to_owned(),
            pens_close: NaiveTime::from_hms_opt(9, 15, 0),
            bags: "Boat house <b>".to_owned(),
            air: Some(Celsius::tenths(-15)),
            ..RaceFacts::default()
        };
        let kept = RaceFactsRecord { version: Version(2), facts };
        let wrong = Typed {
            version: "2".to_owned(),
            stations: "<b>".to_owned(),
            stands: "80 far".to_owned(),
            pens_close: "<b>".to_owned(),
            air: "<b>".to_owned(),
            toilets: "x".repeat(201),
            ..Typed::default()
        };
        let problems = wrong.to_facts(race.race.distance.distance()).err().unwrap_or_default();
        let full = Self::new(Layout::plain(), &race, Some(&kept), DistanceUnit::Mi);
        vec![
            Self::new(Layout::plain(), &race, None, DistanceUnit::Mi),
            Self { typed: wrong, problems, ..Self::new(Layout::plain(), &race, Some(&kept), DistanceUnit::Km) },
            Self::new(Layout::plain(), &sample::race(RaceDistance::FiveK), Some(&kept), DistanceUnit::Km),
            full,
        ]
    }
}

/// `GET /races/{race}/morning`
pub(crate) async fn get(
    State(state): State<AppState>,
    layout: Layout,
    Id(id): Id<RaceId>,
) -> Result<Response, AppError> {
    let race = state.store.race(id).await?.ok_or(AppError::NotFound)?;
    render::page(StatusCode::OK, &MorningPage::load(&state, layout, &race).await?)
}

/// `POST /races/{race}/morning`
pub(crate) async fn post(
    State(state): State<AppState>,
    layout: Layout,
    Id(id): Id<RaceId>,
    Form(typed): Form<Typed>,
) -> Result<Response, AppError> {
    let race = state.store.race(id).await?.ok_or(AppError::NotFound)?;
    let facts = match typed.to_facts(race.race.distance.distance()) {
        Ok(facts) => facts,
        Err(problems) => {
            let page = MorningPage::load(&state, layout, &race).await?;
            let units = typed.units();
            let page = MorningPage { typed, problems, units, outgrown: false, ..page };
            return render::page(StatusCode::UNPROCESSABLE_ENTITY, &page);
        }
    };
    match state.store.save_race_facts(id, read_version(&typed.version), &facts, state.clock.now()).await {
        Ok(()) => Ok(notice::redirect(&paths::race_morning(id), Notice::MorningSaved)),
        Err(StoreError::Conflict) => {
            let kept = state.store.race_facts(id).await?;
            let (facts, version) = kept.map_or((RaceFacts::default(), Version(0)), |kept| (kept.facts, kept.version));
            conflict(layout, &race, &Typed::of(&facts, version), &typed).answer()
        }
        Err(error) => Err(error.into()),
    }
}

fn conflict(layout: Layout, race: &RaceRecord, kept: &Typed, typed: &Typed) -> ConflictPage {
    let mut rows = vec![
        Row::new("stations", "Aid stations and cut-offs", &kept.stations, &typed.stations),
        Row::new("stands", "Where you stand", &kept.stands, &typed.stands),
        Row::hidden("units", &typed.units),
        Row::new("pens_close", "Pens close", &kept.pens_close, &typed.pens_close),
        Row::new("bags_close", "Bags are taken until", &kept.bags_close, &typed.bags_close),
    ];
    let lines = kept.lines().into_iter().zip(typed.lines());
    rows.extend(lines.map(|((control, label, kept), (.., typed))| Row::new(control, label, kept, typed)));
    rows.push(Row::new("air", "Air, degrees Celsius", &kept.air, &typed.air));
    rows.push(Row::new("wbgt", "Wet bulb globe temperature, degrees Celsius", &kept.wbgt, &typed.wbgt));
    ConflictPage {
        layout: layout.at(Area::Races),
        what: format!("The morning of {}", race.race.name),
        rows,
        version: kept.version.clone(),
        action: paths::race_morning(race.id),
        back: paths::race_morning(race.id),
    }
}
