//! Makes the block of an athlete for a race.

use askama::Template;
use axum::extract::State;
use axum::http::StatusCode;
use axum::response::Response;
use axum_extra::extract::Form;
use chrono::NaiveDate;
use planning::replan::Changed;
use planning::{Begun, Block, Field, Importance, Problem, ProblemKind, Race, Request, Settings};
use serde::Deserialize;
use store::{AthleteId, AthleteRecord, BlockId, Entry, PlannedBlock, RaceId, RaceRecord, WeekRecord};

use super::lines;
use crate::error::AppError;
use crate::extract::Id;
use crate::notice::{self, Notice};
use crate::paths;
use crate::render::{self, Area, Layout, Page};
use crate::state::AppState;

/// The form: which race.
#[derive(Debug, Default, Deserialize)]
#[serde(default)]
pub(crate) struct Typed {
    race: String,
}

/// Why no block could be made, and where that is put right.
#[derive(Template)]
#[template(path = "blocks/refused.html")]
pub(crate) struct RefusedPage {
    layout: Layout,
    athlete: AthleteId,
    name: String,
    race_name: String,
    sentences: Vec<String>,
    /// Where that is put right: address and words.
    ways: Vec<(String, &'static str)>,
    /// Whether the base week holds no running at all.
    no_running: bool,
}

impl RefusedPage {
    fn new(layout: Layout, (athlete, name): (AthleteId, &str), (race, of): (RaceId, &Race), found: &[Problem]) -> Self {
        let at = |wanted: fn(&Field) -> bool| found.iter().any(|problem| wanted(&problem.at));
        let at_week = at(|field| matches!(field, Field::BaseWeek | Field::Session(..) | Field::WeekRange));
        let at_race = at(|field| {
            matches!(
                field,
                Field::RaceName | Field::RaceDate | Field::RaceDistance | Field::RaceStart | Field::RaceZone
            )
        });
        let at_athlete =
            at(|field| matches!(field, Field::AthleteName | Field::EasyPace | Field::BirthYear | Field::SuitsDays));
        let ways = [
            (at_week, paths::week(athlete), "To the base week"),
            (at_race, paths::edit_race(race), "To the race"),
            (at_athlete, paths::edit_athlete(athlete), "To the athlete's details"),
        ];
        Self {
            layout: layout.at(Area::Athletes),
            athlete,
            name: name.to_owned(),
            race_name: lines::race_name(of),
            sentences: found.iter().map(crate::words::problem).collect(),
            ways: ways.into_iter().filter(|(wrong, ..)| *wrong).map(|(_, address, words)| (address, words)).collect(),
            no_running: found.iter().any(|problem| problem.kind == ProblemKind::EmptyWeek),
        }
    }
}

impl Page for RefusedPage {
    #[cfg(test)]
    fn samples() -> Vec<Self> {
        let sample = super::sample::marathon();
        let page = |found: &[Problem]| {
            Self::new(Layout::plain(), (AthleteId(4), &sample.athlete.name), (RaceId(5), &sample.race), found)
        };
        let past =
            ProblemKind::RaceInThePast { date: sample.race.date, today: sample.race.date + chrono::Days::new(3) };
        vec![
            page(&[Problem::new(Field::BaseWeek, ProblemKind::EmptyWeek)]),
            page(&[Problem::new(Field::RaceDate, past), Problem::new(Field::AthleteName, ProblemKind::Missing)]),
        ]
    }
}

/// Plans a block with default settings and keeps it; the race carries what it means to the athlete.
/// What planning finds wrong is not an error of the program: it is said to the coach.
pub(crate) async fn make(
    state: &AppState,
    athlete: &AthleteRecord,
    race: &RaceRecord,
) -> Result<Result<BlockId, Vec<Problem>>, AppError> {
    match Wanted::read(state, athlete.clone(), race.race.clone(), Some(race.id)).await?.plan() {
        Ok(PlannedBlock { settings, week, block, .. }) => {
            let now = state.clock.now();
            Ok(Ok(state.store.add_block(athlete.id, race.id, &settings, &week, &block, now).await?))
        }
        Err(found) => Ok(Err(found)),
    }
}

/// Everything that a new block is planned from.
pub(crate) struct Wanted {
    athlete: AthleteRecord,
    race: Race,
    week: WeekRecord,
    other_races: Vec<Race>,
    /// The block for a race that this one replaces.
    replaced: Option<Block>,
    today: NaiveDate,
}

impl Wanted {
    /// Reads it; the race carries what it means to the athlete, and its number where it is kept already.
    pub(crate) async fn read(
        state: &AppState,
        athlete: AthleteRecord,
        race: Race,
        kept: Option<RaceId>,
    ) -> Result<Self, AppError> {
        let week = state.store.week(athlete.id).await?.ok_or(AppError::NotFound)?;
        let entries = state.store.entries_of(athlete.id).await?;
        Ok(Self {
            replaced: replaced(state, &entries, &race).await?,
            other_races: super::load::other_races(entries, kept),
            today: state.clock.today(),
            race,
            athlete,
            week,
        })
    }

    /// Whose block it is.
    pub(crate) const fn athlete(&self) -> AthleteId {
        self.athlete.id
    }

    /// The block with default settings, or what planning finds wrong.
    pub(crate) fn plan(&self) -> Result<PlannedBlock, Vec<Problem>> {
        let settings = Settings::default();
        let request = Request {
            today: Some(self.today),
            athlete: &self.athlete.draft.athlete,
            week: &self.week.week,
            race: &self.race,
            settings: &settings,
            pins: &[],
            other_races: &self.other_races,
            begun: Some(Begun { on: self.today, days: &[] }),
        };
        let Changed { block, settings } = match &self.replaced {
            Some(old) => planning::race_changed(old, &request)?,
            None => Changed { block: planning::plan(&request)?, settings },
        };
        Ok(PlannedBlock { athlete: self.athlete.id, settings, week: self.week.clone(), block })
    }
}

/// A race replaces one that was not run if it is run so many days before or after it.
const REPLACES_WITHIN: i64 = 42;

/// The block for a race that was called off or not started and that this race replaces, if it had begun: the athlete
/// does not start from usual weeks, and does not ebb twice.
async fn replaced(state: &AppState, entries: &[(Entry, RaceRecord)], race: &Race) -> Result<Option<Block>, AppError> {
    let today = state.clock.today();
    let near = |off: &Race| (race.date - off.date).num_days().abs() <= REPLACES_WITHIN;
    let off = entries
        .iter()
        .filter(|(entry, record)| entry.importance == Importance::Goal && !entry.is_run(record) && near(&record.race));
    let Some(id) = off.max_by_key(|(_, record)| record.race.date).and_then(|(entry, _)| entry.block) else {
        return Ok(None);
    };
    let kept = state.store.block(id).await?;
    Ok(kept.map(|kept| kept.block).filter(|block| block.first_day() < today))
}

/// `POST /athletes/{athlete}/blocks`: with default settings; a second click leads to the same block.
pub(crate) async fn post(
    State(state): State<AppState>,
    Id(athlete): Id<AthleteId>,
    layout: Layout,
    Form(typed): Form<Typed>,
) -> Result<Response, AppError> {
    let race = RaceId(typed.race.trim().parse().map_err(|_| AppError::NotFound)?);
    let record = state.store.athlete(athlete).await?.ok_or(AppError::NotFound)?;
    let entries = state.store.entries_of(athlete).await?;
    let Some((entry, kept)) = entries.into_iter().find(|(entry, _)| entry.race == race) else {
        return Err(AppError::NotFound);
    };
    if let Some(block) = entry.block {
        return Ok(notice::see_other(&paths::block(block)));
    }
    // Its page says so, and how to take that back.
    if kept.called_off.is_some() {
        return Ok(notice::see_other(&paths::race(race)));
    }
    let race_of_athlete = RaceRecord { race: Race { importance: entry.importance, ..kept.race }, ..kept };
    match make(&state, &record, &race_of_athlete).await? {
        Ok(id) => Ok(notice::redirect(&paths::block(id), Notice::BlockMade)),
        Err(found) => {
            let name = &record.draft.athlete.name;
            let page = RefusedPage::new(layout, (athlete, name), (race, &race_of_athlete.race), &found);
            render::page(StatusCode::UNPROCESSABLE_ENTITY, &page)
        }
    }
}
