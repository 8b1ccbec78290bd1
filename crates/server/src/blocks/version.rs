//! One version of a block, to look at and to restore.

use askama::Template;
use axum::extract::State;
use axum::http::StatusCode;
use axum::response::Response;
use axum_extra::extract::Form;
use serde::Deserialize;
use store::{BlockId, Revision, StoreError};

use super::lines;
use super::load::Loaded;
use super::picture::Picture;
use super::show::FindingView;
use super::view::{self, WeekView};
use crate::clock::Clock;
use crate::error::AppError;
use crate::extract::Id;
use crate::form::read_version;
use crate::notice::{self, Notice};
use crate::paths;
use crate::render::{self, Area, Layout, Page};
use crate::state::AppState;

/// A version as it was, read-only.
#[derive(Template)]
#[template(path = "blocks/version.html")]
pub(crate) struct VersionPage {
    layout: Layout,
    id: BlockId,
    name: String,
    race: String,
    number: u32,
    present: u32,
    made: String,
    reason: String,
    weeks: Vec<WeekView>,
    picture: Picture,
    facts: Vec<String>,
    findings: Vec<FindingView>,
    settings_sentence: String,
    /// The version at which the form is read.
    version: String,
}

impl VersionPage {
    fn new(layout: Layout, loaded: &Loaded, revision: &Revision, clock: Clock) -> Self {
        let record = &loaded.record;
        let block = &revision.block;
        let reader = loaded.coach_reader();
        let name = record.athlete.draft.athlete.name.clone();
        let mut weeks = view::weeks(block, reader);
        view::make_read_only(&mut weeks);
        let title = format!("Usual and planned running of {name} in version {}", revision.number);
        Self {
            layout: layout.at(Area::Athletes),
            id: record.id,
            race: lines::race_name(&block.race),
            number: revision.number,
            present: record.revision,
            made: lines::day_month(clock.day_of(revision.made)),
            reason: revision.reason.clone(),
            picture: view::picture(block, &weeks, reader, title),
            weeks,
            facts: lines::block_facts(block, reader.units),
            findings: loaded
                .review_from(&revision.week.week, block)
                .iter()
                .map(|found| FindingView::of(found, reader.units))
                .collect(),
            settings_sentence: lines::settings_sentence(block),
            version: record.version.to_string(),
            name,
        }
    }
}

impl Page for VersionPage {
    #[cfg(test)]
    fn samples() -> Vec<Self> {
        use super::sample;
        let clock = Clock::fixed("2027-05-04T08:00:00Z".parse().expect("an instant"));
        let page = |record: store::BlockRecord, number| {
            let revision = Revision {
                number,
                made: record.made,
                reason: "swapped <two> days".to_owned(),
                settings: record.settings,
                week: record.week.clone(),
                block: record.block.clone(),
                before_events: None,
            };
            Self::new(Layout::plain(), &Loaded::sample(record, clock), &revision, clock)
        };
        vec![page(sample::record(&sample::ten_k()), 1), page(sample::handed_over(&sample::marathon()), 2)]
    }
}

/// `GET /blocks/{block}/versions/{number}`
pub(crate) async fn get(
    State(state): State<AppState>,
    Id((id, number)): Id<(BlockId, u32)>,
    layout: Layout,
) -> Result<Response, AppError> {
    let loaded = Loaded::read(&state, id).await?;
    let revision = state.store.revision(id, number).await?.ok_or(AppError::NotFound)?;
    render::page(StatusCode::OK, &VersionPage::new(layout, &loaded, &revision, state.clock))
}

/// The form: the version at which the page was read.
#[derive(Debug, Default, Deserialize)]
#[serde(default)]
pub(crate) struct Typed {
    version: String,
}

/// `POST /blocks/{block}/versions/{number}/restore`: a new version with everything of the old one.
pub(crate) async fn restore(
    State(state): State<AppState>,
    Id((id, number)): Id<(BlockId, u32)>,
    Form(typed): Form<Typed>,
) -> Result<Response, AppError> {
    let read_at = read_version(&typed.version);
    match state.store.restore_revision(id, read_at, number, state.clock.now()).await {
        Ok(Some(_)) => Ok(notice::redirect(&paths::block(id), Notice::VersionRestored(number))),
        Ok(None) => Err(AppError::NotFound),
        Err(StoreError::Conflict) => Ok(notice::redirect(&paths::block(id), Notice::StepNotTaken)),
        Err(error) => Err(error.into()),
    }
}
