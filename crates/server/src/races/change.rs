//! A race is called off, takes place after all, or was not run to its end; and whether it is settled how athletes go on.

use axum::extract::State;
use axum::response::Response;
use axum_extra::extract::Form;
use chrono::DateTime;
use formats::words;
use planning::notation::read_distance;
use planning::{DistanceUnit, Milli, ProblemKind, RaceDistance};
use serde::Deserialize;
use store::{AthleteId, BlockId, RaceId, Settling, StoreError};

use crate::conflict::{ConflictPage, Row};
use crate::error::AppError;
use crate::extract::Id;
use crate::notice::{self, Notice};
use crate::paths;
use crate::render::{Area, Layout};
use crate::state::AppState;

/// `POST /races/{race}/call-off`
pub(crate) async fn call_off(State(state): State<AppState>, Id(id): Id<RaceId>) -> Result<Response, AppError> {
    state.store.call_off_race(id, Some(state.clock.today()), state.clock.now()).await?;
    Ok(notice::redirect(&paths::race(id), Notice::CalledOff(id)))
}

/// `POST /races/{race}/take-place`
pub(crate) async fn take_place(State(state): State<AppState>, Id(id): Id<RaceId>) -> Result<Response, AppError> {
    state.store.call_off_race(id, None, state.clock.now()).await?;
    Ok(notice::redirect(&paths::race(id), Notice::TakesPlace))
}

/// The form of what is settled.
#[derive(Debug, Default, Deserialize)]
#[serde(default)]
pub(crate) struct Settled {
    /// Who; empty is everybody who is entered.
    athlete: String,
    /// Whom one press settled, by its moment in microseconds; empty where it is not asked for.
    pressed: String,
    /// `yes`: it is open again.
    open: String,
    /// Where it was pressed: `board`, the number of a block, or nothing for the race.
    back: String,
    /// What the board was asked for, where it was pressed there.
    #[serde(flatten)]
    board: crate::board::Filter,
}

/// `POST /races/{race}/settle`: of a race that takes place meanwhile nothing is settled, and nothing is said.
pub(crate) async fn settle(
    State(state): State<AppState>,
    Id(id): Id<RaceId>,
    Form(typed): Form<Settled>,
) -> Result<Response, AppError> {
    let whom = typed.whom()?;
    let back = match (typed.back.as_str(), typed.back.parse()) {
        ("board", _) => typed.board.address(),
        (_, Ok(block)) => paths::block(BlockId(block)),
        _ => paths::race(id),
    };
    let is_open = typed.open == "yes";
    let Some(moment) = state.store.settle(id, whom, !is_open, state.clock.now()).await? else {
        return Ok(notice::see_other(&back));
    };
    let done = match whom {
        _ if is_open => Notice::Unsettled,
        Settling::One(athlete) => Notice::Settled(id, u32::try_from(athlete.0).unwrap_or_default()),
        Settling::Everybody | Settling::Pressed(_) => Notice::SettledForAll(moment, id),
    };
    Ok(notice::redirect(&back, done))
}

impl Settled {
    fn whom(&self) -> Result<Settling, AppError> {
        let number = |text: &str| text.parse().map_err(|_| AppError::NotFound);
        Ok(match (self.athlete.trim(), self.pressed.trim()) {
            ("", "") => Settling::Everybody,
            ("", micros) => {
                let moment = DateTime::from_timestamp_micros(number(micros)?);
                Settling::Pressed(moment.ok_or(AppError::NotFound)?)
            }
            (athlete, _) => Settling::One(AthleteId(number(athlete)?)),
        })
    }
}

/// The form: who, and how far; empty is all of it.
#[derive(Debug, Default, Deserialize)]
#[serde(default)]
pub(crate) struct Typed {
    athlete: String,
    ran: String,
    /// What was noted when the form was read.
    was: String,
}

/// `POST /races/{race}/ran`
pub(crate) async fn ran(
    State(state): State<AppState>,
    Id(race): Id<RaceId>,
    layout: Layout,
    Form(typed): Form<Typed>,
) -> Result<Response, AppError> {
    let athlete = AthleteId(typed.athlete.trim().parse().map_err(|_| AppError::NotFound)?);
    let text = typed.ran.trim();
    let refuse =
        |sentence: String| crate::athletes::refused_season(&state, layout, athlete, race, (text, &typed.was), sentence);
    let distance = match read_ran(text) {
        Ok(distance) => distance,
        Err(problem) => return refuse(format!("Really ran: {}.", words::problem_kind(&problem))).await,
    };
    // What cannot be read was never noted: such a form is stale wherever something is.
    let was = read_ran(typed.was.trim()).unwrap_or_default().map(|(value, unit)| RaceDistance::Own(value, unit));
    match state.store.ran_of_race(race, athlete, was, distance).await {
        Ok(()) => Ok(notice::redirect(&paths::season(athlete), Notice::LogSaved)),
        Err(StoreError::Refused(found)) => {
            let said = found.first().map(|problem| words::problem_kind(&problem.kind)).unwrap_or_default();
            refuse(format!("Really ran: {said}.")).await
        }
        Err(StoreError::Conflict) => conflict(&state, layout, race, athlete, text).await,
        Err(error) => Err(error.into()),
    }
}

/// A distance as typed; nothing is all of the race.
pub(crate) fn read_ran(text: &str) -> Result<Option<(Milli, DistanceUnit)>, ProblemKind> {
    if text.is_empty() {
        return Ok(None);
    }
    Ok(Some(match read_distance(text)? {
        RaceDistance::Own(value, unit) => (value, unit),
        // A distance by its name is as far as the road is.
        named => (named.distance().in_unit(DistanceUnit::Km), DistanceUnit::Km),
    }))
}

async fn conflict(
    state: &AppState,
    layout: Layout,
    race: RaceId,
    athlete: AthleteId,
    typed: &str,
) -> Result<Response, AppError> {
    let entries = state.store.entries_of(athlete).await?;
    let (entry, record) = entries.into_iter().find(|(entry, _)| entry.race == race).ok_or(AppError::NotFound)?;
    let kept = entry.ran.map(words::race_distance).unwrap_or_default();
    let page = ConflictPage {
        layout: layout.at(Area::Athletes),
        what: format!("What {} ran of {}", entry.name, record.race.name),
        rows: vec![
            Row::new("ran", "Really ran", &kept, typed),
            Row::hidden("was", &kept),
            Row::hidden("athlete", &athlete.to_string()),
        ],
        version: String::new(),
        action: paths::ran(race),
        back: paths::season(athlete),
    };
    page.answer()
}
