//! The versions of a block: every revision with its date and reason.

use askama::Template;
use axum::extract::State;
use axum::http::StatusCode;
use axum::response::Response;
use store::{BlockId, RevisionHead};

use super::lines;
use super::load::Loaded;
use crate::clock::Clock;
use crate::error::AppError;
use crate::extract::Id;
use crate::form::Choice;
use crate::render::{self, Area, Layout, Page};
use crate::shown;
use crate::state::AppState;

/// The list of versions.
#[derive(Template)]
#[template(path = "blocks/versions.html")]
pub(crate) struct VersionsPage {
    layout: Layout,
    id: BlockId,
    name: String,
    race: String,
    rows: Vec<VersionRow>,
    /// Every version, for comparing two.
    choices: Vec<Choice>,
    /// The two that are proposed for comparing.
    from: String,
    to: String,
    /// The version at which forms are read.
    version: String,
}

/// One version.
struct VersionRow {
    number: u32,
    made: String,
    reason: String,
    is_present: bool,
    /// When it was handed over last.
    handed_over: Option<String>,
    /// Whether the athlete's link shows it.
    is_with_athlete: bool,
    /// The version it was made from, where that is not the one before it.
    from: Option<u32>,
}

impl VersionsPage {
    fn new(layout: Layout, loaded: &Loaded, heads: &[RevisionHead], clock: Clock) -> Self {
        let record = &loaded.record;
        let shared = record.link_on(loaded.today).map(|share| share.revision);
        let held = record.share.as_ref().map(|share| share.revision);
        let rows: Vec<VersionRow> = heads
            .iter()
            .map(|head| VersionRow {
                number: head.number,
                made: lines::day_month(clock.day_of(head.made)),
                reason: shown::capital(&head.reason),
                is_present: head.is_present,
                handed_over: head.handed_over.map(|at| lines::day_month(clock.day_of(at))),
                is_with_athlete: shared == Some(head.number),
                from: head.parent.filter(|parent| parent + 1 != head.number),
            })
            .collect();
        let before = heads.iter().find(|head| head.is_present).and_then(|head| head.parent);
        Self {
            layout: layout.at(Area::Athletes),
            id: record.id,
            name: record.athlete.draft.athlete.name.clone(),
            race: lines::race_name(&record.race.race),
            choices: heads
                .iter()
                .map(|head| Choice::new(head.number.to_string(), format!("version {}: {}", head.number, head.reason)))
                .collect(),
            from: held
                .filter(|held| *held != record.revision)
                .or(before)
                .or(heads.iter().map(|head| head.number).find(|number| *number != record.revision))
                .unwrap_or(record.revision)
                .to_string(),
            to: record.revision.to_string(),
            version: record.version.to_string(),
            rows,
        }
    }
}

impl Page for VersionsPage {
    #[cfg(test)]
    fn samples() -> Vec<Self> {
        use super::sample;
        let clock = Clock::fixed("2027-05-04T08:00:00Z".parse().expect("an instant"));
        let loaded = |record| Loaded::sample(record, clock);
        let head = |number, reason: &str, parent, is_present| RevisionHead {
            number,
            made: "2027-04-18T18:00:00Z".parse().expect("an instant"),
            reason: reason.to_owned(),
            parent,
            is_present,
            handed_over: (number == 1).then(|| "2027-04-18T18:00:00Z".parse().expect("an instant")),
        };
        let many = [
            head(3, "restored version 1", Some(1), false),
            head(2, "moved <tempo> to Wed 5 May", Some(1), true),
            head(1, "made", None, false),
        ];
        vec![
            Self::new(Layout::plain(), &loaded(sample::handed_over(&sample::ten_k())), &many, clock),
            Self::new(Layout::plain(), &loaded(sample::record(&sample::marathon())), &many[2..], clock),
        ]
    }
}

/// `GET /blocks/{block}/versions`
pub(crate) async fn get(
    State(state): State<AppState>,
    Id(id): Id<BlockId>,
    layout: Layout,
) -> Result<Response, AppError> {
    let loaded = Loaded::read(&state, id).await?;
    let heads = state.store.revisions(id).await?.ok_or(AppError::NotFound)?;
    render::page(StatusCode::OK, &VersionsPage::new(layout, &loaded, &heads, state.clock))
}
