//! One race: who runs it, and whose block is where.

use std::collections::{BTreeMap, HashMap};

use askama::Template;
use axum::extract::State;
use axum::http::StatusCode;
use axum::response::Response;
use chrono::NaiveDate;
use formats::words;
use planning::notation::{read_stands, read_stations};
use planning::profile::LENGTH_TOLERANCE;
use planning::{Distance, DistanceUnit, Importance};
use store::{AthleteId, AthleteRecord, BlockId, BlockState, CourseHead, Entry, RaceFacts, RaceId, RaceRecord};

use crate::board::needs;
use crate::clock::Clock;
use crate::error::AppError;
use crate::extract::Id;
use crate::form::{Choice, Problems};
use crate::render::{self, Area, Layout, Page};
use crate::shown;
use crate::state::AppState;
use crate::steps::Lately;

/// A race's page.
#[derive(Template)]
#[template(path = "races/show.html")]
pub(crate) struct ShowPage {
    layout: Layout,
    id: RaceId,
    name: String,
    facts: String,
    place: String,
    /// Since when it is called off.
    called_off: Option<String>,
    is_past: bool,
    entrants: Vec<Entrant>,
    /// How many entrants have no block yet.
    lacking: usize,
    /// What is known of the course, and of the morning.
    course: String,
    morning: String,
    /// Athletes who are not entered, by group.
    others: Vec<(String, Vec<Choice>)>,
    /// What was done for many of them at once.
    lately: Vec<Lately>,
    problems: Problems,
}

/// One athlete who is entered.
struct Entrant {
    id: AthleteId,
    name: String,
    importance: Importance,
    block: Option<BlockId>,
    /// How the block stands, in words.
    state: String,
}

impl Entrant {
    fn importance(&self) -> &'static str {
        words::importance(self.importance)
    }
}

/// How many steps are shown.
const LATELY: u32 = 5;

impl ShowPage {
    /// Everything that the page shows, in a few queries.
    pub(super) async fn load(
        state: &AppState,
        layout: Layout,
        id: RaceId,
        problems: Problems,
    ) -> Result<Self, AppError> {
        let record = state.store.race(id).await?.ok_or(AppError::NotFound)?;
        let entries = state.store.entrants(id).await?;
        let athletes = state.store.athletes().await?;
        let blocks = state.store.block_states(id).await?;
        let length = record.race.distance.distance();
        let course = match state.store.course_head(id).await? {
            Some(head) => course_words(&head, length, state.store.settings().await?.units),
            None => "not known yet, so the pace is planned as on the flat".to_owned(),
        };
        let morning = state.store.race_facts(id).await?.map_or_else(
            || "aid stations, pens, bags, weather, and where you stand: nothing is noted yet".to_owned(),
            |kept| morning_words(&kept.facts, length),
        );
        let page = Self::new(layout, record, &entries, &blocks, athletes, state.clock, problems);
        let lately = state.store.steps_of_race(id, LATELY).await?;
        let lately = lately.iter().map(|step| Lately::of(step, state.clock)).collect();
        Ok(Self { course, morning, lately, ..page })
    }

    fn new(
        layout: Layout,
        record: RaceRecord,
        entries: &[Entry],
        blocks: &HashMap<AthleteId, BlockState>,
        athletes: Vec<AthleteRecord>,
        clock: Clock,
        problems: Problems,
    ) -> Self {
        let today = clock.today();
        let entrants: Vec<Entrant> = entries
            .iter()
            .map(|entry| Entrant {
                id: entry.athlete,
                name: entry.name.clone(),
                importance: entry.importance,
                block: entry.block,
                state: block_state(entry, blocks.get(&entry.athlete), clock),
            })
            .collect();
        let mut others: BTreeMap<String, Vec<Choice>> = BTreeMap::new();
        for athlete in athletes {
            if entries.iter().all(|entry| entry.athlete != athlete.id) {
                let choice = Choice::new(athlete.id.to_string(), athlete.draft.athlete.name);
                others.entry(athlete.draft.group).or_default().push(choice);
            }
        }
        Self {
            layout: layout.at(Area::Races),
            id: record.id,
            facts: facts(&record, today),
            is_past: record.race.date < today,
            name: record.race.name,
            called_off: record.called_off.map(words::long_date),
            place: record.place,
            lacking: entrants.iter().filter(|entrant| entrant.block.is_none()).count(),
            course: String::new(),
            morning: String::new(),
            entrants,
            others: others.into_iter().collect(),
            lately: Vec::new(),
            problems,
        }
    }

    fn importances() -> Vec<Choice> {
        Importance::ALL.into_iter().map(|one| Choice::new(one.code(), words::importance(one))).collect()
    }

    fn lacking_words(&self) -> String {
        match self.lacking {
            1 => "Make the block of the one without".to_owned(),
            count => format!("Make the blocks of all {count} without"),
        }
    }
}

/// `10 km, Sunday 9 May 2027, 09:30 (Europe/Lisbon), in 19 days`.
fn facts(record: &RaceRecord, today: NaiveDate) -> String {
    let race = &record.race;
    let mut facts = vec![shown::capital(&words::race_distance(race.distance)), words::full_date(race.date)];
    if let Some(start) = race.start {
        let zone = race.zone.as_ref().map_or_else(String::new, |zone| format!(" ({zone})"));
        facts.push(format!("start at {}{zone}", start.format("%H:%M")));
    }
    facts.push(shown::away(race.date, today));
    facts.join(", ")
}

/// `21.15 km measured, from larkmere.gpx`, and whether that fits.
fn course_words(head: &CourseHead, official: Distance, units: DistanceUnit) -> String {
    let measured = words::measured(head.length, units);
    let from = if head.file_name.is_empty() { String::new() } else { format!(", from {}", head.file_name) };
    let off = (head.length.as_km() / official.as_km() - 1.0).abs();
    let fits =
        if off > LENGTH_TOLERANCE { "; it no longer fits the race, so the pace is planned as on the flat" } else { "" };
    format!("{measured} measured{from}{fits}")
}

/// `3 aid stations, you stand in 2 places`.
fn morning_words(facts: &RaceFacts, length: Distance) -> String {
    let stations = read_stations(&facts.stations, facts.units, length);
    let stands = read_stands(&facts.stands, facts.units, length);
    let (Ok(stations), Ok(stands)) = (stations, stands) else {
        return "some lines no longer fit the race".to_owned();
    };
    let stand = match stands.len() {
        0 => "where you stand is not noted".to_owned(),
        count => format!("you stand in {}", words::plural(count, "place")),
    };
    match stations.len() {
        0 => stand,
        count => format!("{}, {stand}", words::plural(count, "aid station")),
    }
}

fn block_state(entry: &Entry, block: Option<&BlockState>, clock: Clock) -> String {
    match (entry.block, block) {
        (None, _) => "no block yet".to_owned(),
        (Some(_), None) => "block made".to_owned(),
        (Some(_), Some(block)) => needs::of_block(block, clock),
    }
}

impl Page for ShowPage {
    #[cfg(test)]
    fn samples() -> Vec<Self> {
        let entrant = |id, block| Entrant {
            id: AthleteId(id),
            name: "Ana <b>".to_owned(),
            importance: Importance::TuneUp,
            block,
            state: "not handed over yet".to_owned(),
        };
        let lately = |id, undone: &str| Lately {
            id: store::StepId(id),
            what: "Entered or changed 34 athletes".to_owned(),
            when: "today at 09:00".to_owned(),
            undone: (!undone.is_empty()).then(|| undone.to_owned()),
        };
        let page = |entrants: Vec<Entrant>, others, problems| Self {
            called_off: (!entrants.is_empty()).then(|| "Thursday 6 May".to_owned()),
            layout: Layout::plain().at(Area::Races),
            id: RaceId(2),
            name: "River Ten <b>".to_owned(),
            facts: "10 km, Sunday 9 May 2027, in 19 days".to_owned(),
            place: "Porto <b>".to_owned(),
            is_past: false,
            lacking: entrants.iter().filter(|entrant| entrant.block.is_none()).count(),
            course: "10.12 km measured, from harbour <b>.gpx".to_owned(),
            morning: "1 aid station, you stand in 2 places".to_owned(),
            entrants,
            lately: ["undone for 33 of 34", ""].iter().zip(1..).map(|(undone, id)| lately(id, undone)).collect(),
            others,
            problems,
        };
        let others = || {
            vec![
                (String::new(), vec![Choice::new("7", "<b>Bo")]),
                ("Track <b>".to_owned(), vec![Choice::new("8", "Cy"), Choice::new("9", "Di")]),
            ]
        };
        let mut problems = Problems::default();
        problems.add("athletes", "Tick at least one athlete, then enter them.");
        vec![
            page(vec![], vec![], Problems::default()),
            page(vec![], others(), problems),
            page(vec![entrant(1, None), entrant(2, Some(BlockId(3)))], others(), Problems::default()),
            page(vec![entrant(2, Some(BlockId(3)))], vec![], Problems::default()),
        ]
    }
}

/// `GET /races/{race}`
pub(crate) async fn get(
    State(state): State<AppState>,
    layout: Layout,
    Id(id): Id<RaceId>,
) -> Result<Response, AppError> {
    render::page(StatusCode::OK, &ShowPage::load(&state, layout, id, Problems::default()).await?)
}
