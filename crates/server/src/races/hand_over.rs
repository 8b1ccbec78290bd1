//! Hands over the blocks of everybody who runs a race: whom, what is shown, one press.

use std::collections::HashMap;

use askama::Template;
use axum::extract::State;
use axum::http::StatusCode;
use axum::response::Response;
use axum_extra::extract::Form;
use chrono::Days;
use formats::words;
use planning::RuleId;
use rayon::prelude::*;
use serde::Deserialize;
use store::{BlockId, RaceId, RaceRecord, Shows, ToHandOver, Version};

use super::all::blocks_of;
use crate::blocks::hand_over::{DAYS_AFTER, notes_changed, proposed};
use crate::blocks::{Loaded, Withheld, lines, stopped};
use crate::error::AppError;
use crate::extract::Id;
use crate::form::{Problems, read_version};
use crate::notice::{self, Notice};
use crate::paths;
use crate::race_day::{Course, Ground, RaceDay};
use crate::render::{self, Area, Layout, Page};
use crate::state::{AppState, ShareDoor};

/// The page before the press.
#[derive(Template)]
#[template(path = "races/hand_over.html")]
pub(crate) struct HandOverPage {
    layout: Layout,
    id: RaceId,
    race: String,
    door: ShareDoor,
    shows: Shows,
    rows: Vec<Row>,
    problems: Problems,
}

/// One block.
struct Row {
    block: BlockId,
    name: String,
    version: Version,
    revision: u32,
    is_ticked: bool,
    /// Whether it must not go out as it is, so that it cannot be ticked.
    is_withheld: bool,
    /// Why it is not ticked; empty where it is.
    why: String,
    /// What the athlete holds now.
    holds: String,
    is_minor: bool,
    /// What to think of before it goes out: age, illness, injury.
    think_of: Vec<&'static str>,
}

/// Rules that speak of how the athlete is.
const HEALTH: [RuleId; 3] = [RuleId::IllnessNearRace, RuleId::Injury, RuleId::BeginsTooSoon];

impl Row {
    fn of(loaded: &Loaded, course: &Course) -> Self {
        let record = &loaded.record;
        let findings = loaded.review(&record.block);
        let withheld = Withheld::of(record, loaded.today);
        let why = match &withheld {
            Some(withheld) => Some(withheld.why().to_owned()),
            None => why_not(loaded, course),
        };
        let is_minor = crate::blocks::hand_over::is_minor(record);
        let health = findings.iter().filter(|finding| HEALTH.contains(&finding.rule));
        let mut think_of: Vec<_> =
            is_minor.then_some("under 18").into_iter().chain(health.map(words::heading)).collect();
        think_of.dedup();
        Self {
            is_minor,
            is_withheld: withheld.is_some(),
            think_of,
            block: record.id,
            name: record.athlete.draft.athlete.name.clone(),
            version: record.version,
            revision: record.revision,
            is_ticked: why.is_none(),
            why: why.unwrap_or_default(),
            holds: record
                .share
                .as_ref()
                .map_or_else(|| "nothing yet".to_owned(), |share| format!("version {}", share.revision)),
        }
    }
}

/// Why a block that may go out is better looked at by itself first, or needs no press.
fn why_not(loaded: &Loaded, course: &Course) -> Option<String> {
    let record = &loaded.record;
    if let Some(why) = stopped(loaded) {
        return Some(why);
    }
    if crate::blocks::is_stale(loaded) {
        return Some("something changed since the block was made".to_owned());
    }
    let share = record.share.as_ref().filter(|share| share.works_on(loaded.today))?;
    let holds_all = share.revision == record.revision && !notes_changed(Ground { record, course }, share);
    holds_all.then(|| "holds everything as it is".to_owned())
}

impl HandOverPage {
    fn new(
        layout: Layout,
        race: &RaceRecord,
        (loaded, course): (&[Loaded], &Course),
        door: ShareDoor,
        problems: Problems,
    ) -> Self {
        Self {
            layout: layout.at(Area::Races),
            id: race.id,
            race: lines::race_name(&race.race),
            door,
            shows: Shows { race_day: loaded.iter().any(|one| proposed(&one.record).race_day), ..Shows::ALL },
            rows: loaded.par_iter().map(|one| Row::of(one, course)).collect(),
            problems,
        }
    }

    async fn load(state: &AppState, layout: Layout, race: &RaceRecord, problems: Problems) -> Result<Self, AppError> {
        let loaded = blocks_of(state, race.id).await?;
        let course = Course::read(state, race).await?;
        Ok(Self::new(layout, race, (&loaded, &course), state.share.now(), problems))
    }

    /// Who is under 18.
    fn minors(&self) -> Vec<&str> {
        self.rows.iter().filter(|row| row.is_minor).map(|row| row.name.as_str()).collect()
    }

    /// Whether nothing may go out.
    fn is_all_withheld(&self) -> bool {
        self.rows.iter().all(|row| row.is_withheld)
    }

    fn ticked(&self) -> usize {
        self.rows.iter().filter(|row| row.is_ticked).count()
    }
}

impl Page for HandOverPage {
    #[cfg(test)]
    fn samples() -> Vec<Self> {
        use super::sample;
        use crate::blocks::sample as of_block;
        let clock = crate::clock::Clock::fixed("2027-05-04T08:00:00Z".parse().expect("an instant"));
        let race = sample::race(planning::RaceDistance::TenK);
        let records = [of_block::record(&of_block::ten_k()), of_block::handed_over(&of_block::marathon())];
        let loaded = sample::loaded(records, clock);
        let withheld = sample::loaded(
            [of_block::called_off(&of_block::ten_k()), of_block::goal_inside(&of_block::ten_k())],
            clock,
        );
        let course = Course::flat(&race);
        let open = ShareDoor::sample();
        let mut problems = Problems::default();
        problems.add("blocks", "Tick at least one block, then hand over.");
        vec![
            Self::new(Layout::plain(), &race, (&[], &course), open.clone(), Problems::default()),
            Self::new(Layout::plain(), &race, (&loaded, &course), open, problems),
            Self::new(Layout::plain(), &race, (&loaded, &course), ShareDoor::Off, Problems::default()),
            Self::new(Layout::plain(), &race, (&withheld, &course), ShareDoor::Off, Problems::default()),
        ]
    }
}

/// `GET /races/{race}/hand-over`
pub(crate) async fn get(
    State(state): State<AppState>,
    layout: Layout,
    Id(id): Id<RaceId>,
) -> Result<Response, AppError> {
    let race = state.store.race(id).await?.ok_or(AppError::NotFound)?;
    render::page(StatusCode::OK, &HandOverPage::load(&state, layout, &race, Problems::default()).await?)
}

/// The form: blocks, each with the version at which it was looked at, and what is shown beside the days.
#[derive(Debug, Default, Deserialize)]
#[serde(default)]
pub(crate) struct Typed {
    block: Vec<String>,
    goals: String,
    stretches: String,
    race_day: String,
}

impl Typed {
    fn shows(&self) -> Shows {
        Shows { goals: self.goals == "yes", stretches: self.stretches == "yes", race_day: self.race_day == "yes" }
    }

    /// `12.3`: block 12 as it was at version 3.
    fn blocks(&self) -> Result<Vec<(BlockId, Version)>, AppError> {
        let read = |text: &String| {
            let (block, version) = text.split_once('.')?;
            Some((BlockId(block.parse().ok()?), read_version(version)))
        };
        self.block.iter().map(|text| read(text).ok_or(AppError::NotFound)).collect()
    }
}

/// `POST /races/{race}/hand-over`: what was saved from another window meanwhile is left and named.
pub(crate) async fn post(
    State(state): State<AppState>,
    layout: Layout,
    Id(id): Id<RaceId>,
    Form(typed): Form<Typed>,
) -> Result<Response, AppError> {
    let race = state.store.race(id).await?.ok_or(AppError::NotFound)?;
    if race.called_off.is_some() {
        return Ok(notice::redirect(&paths::race(id), Notice::NotHandedOver));
    }
    let (blocks, shows) = (typed.blocks()?, typed.shows());
    if blocks.is_empty() {
        let mut problems = Problems::default();
        problems.add("blocks", "Tick at least one block, then hand over.");
        let page = HandOverPage { shows, ..HandOverPage::load(&state, layout, &race, problems).await? };
        return render::page(StatusCode::UNPROCESSABLE_ENTITY, &page);
    }
    let course = Course::read(&state, &race).await?;
    let ids: Vec<BlockId> = blocks.iter().map(|(block, _)| *block).collect();
    let records: HashMap<_, _> =
        state.store.blocks(&ids).await?.into_iter().map(|record| (record.id, record)).collect();
    let (mut wanted, mut left) = (Vec::new(), Vec::new());
    for (block, read_at) in blocks {
        // A page that was open before may still hold its tick.
        let today = state.clock.today();
        let Some(record) = records.get(&block).filter(|record| Withheld::of(record, today).is_none()) else {
            left.push(block);
            continue;
        };
        let race_day = RaceDay::showing(Ground { record, course: &course }, shows).to_document();
        let ends = record.block.race_day + Days::new(DAYS_AFTER);
        wanted.push(ToHandOver { block, read_at, shows, race_day, ends });
    }
    let done = state.store.hand_over_many(id, &wanted, state.clock.now()).await?;
    left.extend(done.changed.into_iter().chain(done.gone));
    let to = paths::handed_over_but(id, &left);
    Ok(match done.step {
        Some(step) => {
            let count = state.store.step(step).await?.map_or(0, |(step, _)| step.athletes);
            notice::redirect(&to, Notice::HandedOverAtOnce(step, count))
        }
        None => notice::see_other(&to),
    })
}
