//! One day of a block, bent by hand: the coach types what is run, the rest of the week is planned
//! around it. A fixed day is left alone by every later planning, until the coach frees it.

use askama::Template;
use axum::extract::State;
use axum::http::StatusCode;
use axum::response::Response;
use axum_extra::extract::Form;
use chrono::NaiveDate;
use formats::words;
use planning::notation::{read_day, write_day};
use planning::{Day, DistanceUnit, Field, Pin, Problem, ProblemKind, Session, Slot};
use serde::Deserialize;
use store::{BlockId, StoreError};

use super::lines;
use super::load::{Loaded, pins};
use crate::conflict::{ConflictPage, Row};
use crate::error::AppError;
use crate::extract::Id;
use crate::form::{Problems, read_version};
use crate::notice::{self, Notice};
use crate::paths;
use crate::render::{self, Area, Layout, Page};
use crate::state::AppState;

/// The form of one day.
#[derive(Template)]
#[template(path = "blocks/day.html")]
pub(crate) struct DayPage {
    layout: Layout,
    id: BlockId,
    day: NaiveDate,
    name: String,
    race: String,
    date: String,
    to_race: String,
    usual: String,
    planned: String,
    pinned: bool,
    units: &'static str,
    typed: Typed,
    problems: Problems,
}

/// The form as typed.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(default)]
pub(crate) struct Typed {
    version: String,
    /// What is run, as a base week's day is typed; empty is rest.
    line: String,
    /// Sent by the button that gives the day back to the planner.
    free: String,
}

impl DayPage {
    fn new(layout: Layout, loaded: &Loaded, day: &Day, typed: Typed, problems: Problems) -> Self {
        let units = athlete_units(loaded);
        let said = |sessions: Vec<&Session>| -> String {
            let said: Vec<String> = sessions.iter().map(|session| lines::session(session, units)).collect();
            if said.is_empty() { lines::REST.to_owned() } else { said.join(" + ") }
        };
        Self {
            layout: layout.at(Area::Athletes),
            id: loaded.record.id,
            day: day.date,
            name: loaded.record.athlete.draft.athlete.name.clone(),
            race: lines::race_name(&loaded.record.race.race),
            date: words::full_date(day.date),
            to_race: words::days_to_race(day.to_race),
            usual: said(day.usual.iter().collect()),
            planned: said(day.sessions.iter().map(|planned| &planned.session).collect()),
            pinned: day.pinned,
            units: words::distance_unit(units),
            typed,
            problems,
        }
    }
}

impl Page for DayPage {
    #[cfg(test)]
    fn samples() -> Vec<Self> {
        let page = |line: &str, pinned, problems| Self {
            layout: Layout::plain().at(Area::Athletes),
            id: BlockId(4),
            day: NaiveDate::default(),
            name: "<b>x</b>".to_owned(),
            race: "Harbour \"10\"".to_owned(),
            date: "Tuesday 4 May 2027".to_owned(),
            to_race: "5 days to the race".to_owned(),
            usual: "easy 8 km".to_owned(),
            planned: "easy 6 km".to_owned(),
            pinned,
            units: "kilometres",
            typed: Typed { version: "3".to_owned(), line: line.to_owned(), free: String::new() },
            problems,
        };
        let mut problems = Problems::default();
        problems.add("line", "“7 <furlongs>” is not a session.");
        vec![page("easy 6 km", false, Problems::default()), page("7 <furlongs>", true, problems)]
    }
}

/// `GET /blocks/{block}/days/{day}`
pub(crate) async fn get(
    State(state): State<AppState>,
    Id((id, date)): Id<(BlockId, NaiveDate)>,
    layout: Layout,
) -> Result<Response, AppError> {
    let loaded = Loaded::read(&state, id).await?;
    let day = day_of(&loaded, date)?;
    let typed = Typed { version: loaded.record.version.to_string(), line: line_of(day), free: String::new() };
    render::page(StatusCode::OK, &DayPage::new(layout, &loaded, day, typed, Problems::default()))
}

/// `POST /blocks/{block}/days/{day}`
pub(crate) async fn post(
    State(state): State<AppState>,
    Id((id, date)): Id<(BlockId, NaiveDate)>,
    layout: Layout,
    Form(typed): Form<Typed>,
) -> Result<Response, AppError> {
    let loaded = Loaded::read(&state, id).await?;
    let day = day_of(&loaded, date)?;
    let mut fixed: Vec<Pin> = pins(&loaded.record.block).into_iter().filter(|pin| pin.date != date).collect();
    let frees = !typed.free.is_empty();
    if !frees {
        match read_line(&typed.line, athlete_units(&loaded), date) {
            Ok(sessions) => fixed.push(Pin { date, sessions }),
            Err(found) => return refused(layout, &loaded, day, typed, &found),
        }
    }
    // From the base week that the block was planned from: bending one day moves nothing else of it.
    let block = match loaded.plan_from(&loaded.record.week.week, &loaded.record.settings, &fixed) {
        Ok(block) => block,
        Err(found) => return refused(layout, &loaded, day, typed, &found),
    };
    let reason = format!("{} {}", if frees { "freed" } else { "fixed" }, words::short_date(date));
    let record = &loaded.record;
    let read_at = read_version(&typed.version);
    let now = state.clock.now();
    match state.store.revise_block(id, read_at, &record.settings, &record.week, &block, &reason, now).await {
        Ok(_) => Ok(notice::redirect(&paths::block(id), Notice::BlockSaved)),
        Err(StoreError::Conflict) => conflict(layout, &loaded, day, &typed),
        Err(error) => Err(error.into()),
    }
}

/// A day of the block that can be bent: any but race day.
fn day_of(loaded: &Loaded, date: NaiveDate) -> Result<&Day, AppError> {
    loaded.record.block.day(date).filter(|day| day.to_race > 0).ok_or(AppError::NotFound)
}

fn athlete_units(loaded: &Loaded) -> DistanceUnit {
    loaded.record.athlete.draft.athlete.units
}

fn line_of(day: &Day) -> String {
    let slots: Vec<Slot> = day.sessions.iter().map(|planned| Slot::one(planned.session.clone())).collect();
    write_day(&slots)
}

/// What is run, as typed; of alternatives the one that a block would take.
fn read_line(line: &str, units: DistanceUnit, date: NaiveDate) -> Result<Vec<Session>, Vec<Problem>> {
    let at = |kinds: Vec<ProblemKind>| kinds.into_iter().map(|kind| Problem::new(Field::Pin(date), kind)).collect();
    let slots = read_day(line, units).map_err(at)?;
    let most = planning::BaseWeek::MOST_A_DAY;
    if slots.len() > most {
        return Err(at(vec![ProblemKind::TooManySessions { count: slots.len(), most }]));
    }
    Ok(slots.iter().map(|slot| slot.chosen().clone()).collect())
}

fn refused(layout: Layout, loaded: &Loaded, day: &Day, typed: Typed, found: &[Problem]) -> Result<Response, AppError> {
    let mut problems = Problems::default();
    for problem in found {
        problems.add("line", format!("{}.", words::problem(problem)));
    }
    render::page(StatusCode::UNPROCESSABLE_ENTITY, &DayPage::new(layout, loaded, day, typed, problems))
}

fn conflict(layout: Layout, loaded: &Loaded, day: &Day, typed: &Typed) -> Result<Response, AppError> {
    let page = ConflictPage {
        layout: layout.at(Area::Athletes),
        what: format!("{}'s block", loaded.record.athlete.draft.athlete.name),
        rows: vec![Row::new("line", &words::full_date(day.date), &line_of(day), &typed.line)],
        version: loaded.record.version.to_string(),
        action: paths::block_day(loaded.record.id, day.date),
        back: paths::block(loaded.record.id),
    };
    render::page(StatusCode::CONFLICT, &page)
}
