//! Every block of a race in one table: what the reviews say, and whose figures are not like the others'.

use std::cmp::Reverse;

use askama::Template;
use axum::extract::{Query, State};
use axum::http::StatusCode;
use axum::response::Response;
use formats::words;
use planning::{DistanceUnit, Finding, Level};
use rayon::prelude::*;
use serde::Deserialize;
use store::{BlockId, RaceId, RaceRecord};

use super::all::blocks_of;
use super::figures::{Figures, odd};
use crate::blocks::{FindingView, Loaded, lines};
use crate::clock::Clock;
use crate::error::AppError;
use crate::extract::Id;
use crate::render::{self, Area, Layout, Page};
use crate::shown;
use crate::state::AppState;

/// The place of what is odd and nothing worse, see [`rank`].
const ODD: u8 = 2;

/// The review of all blocks.
#[derive(Template)]
#[template(path = "races/review.html")]
pub(crate) struct ReviewPage {
    layout: Layout,
    id: RaceId,
    race: String,
    facts: String,
    rows: Vec<Row>,
    /// Whether kilometres stand beside minutes anywhere.
    has_estimates: bool,
    /// How many blocks there are, and how many of them are odd ones.
    total: usize,
    odd: usize,
    /// Whether only the odd ones are shown.
    only_odd: bool,
    /// Who is entered and has no block.
    lacking: u32,
    /// Whether the race is called off: then nothing is handed over.
    is_off: bool,
}

/// One block.
struct Row {
    block: BlockId,
    name: String,
    first_day: String,
    figures: Figures,
    findings: Vec<FindingView>,
    /// What is not like the others.
    odd: Vec<String>,
    version: u32,
    handed: String,
    /// How far up it belongs, the least first: by the worst that the review says, and how often it says so.
    rank: (u8, Reverse<usize>),
}

impl Row {
    fn of(loaded: &Loaded, units: DistanceUnit, clock: Clock) -> Self {
        let record = &loaded.record;
        let figures = Figures::of(&record.block, units);
        let mut findings = loaded.review(&record.block);
        findings.sort_by_key(|finding| finding.level);
        let moved = FindingView::of_move(loaded, &record.block);
        let waits = FindingView::of_log(loaded);
        let by_rules = rank(&findings);
        Self {
            block: record.id,
            name: record.athlete.draft.athlete.name.clone(),
            first_day: shown::day(record.block.first_day(), loaded.today),
            // Nothing that the rules say matters as much as a block for another day.
            rank: match (&moved, &waits) {
                (Some(_), _) => (0, Reverse(usize::MAX)),
                (None, Some(_)) => by_rules.min((1, Reverse(1))),
                (None, None) => by_rules,
            },
            findings: moved
                .into_iter()
                .chain(waits)
                .chain(findings.iter().map(|finding| FindingView::of(finding, units)))
                .collect(),
            odd: Vec::new(),
            version: record.revision,
            handed: handed(loaded, clock),
            figures,
        }
    }
}

/// Where a block stands in the table; between cautions and notes there is room for what is only odd.
fn rank(worst_first: &[Finding]) -> (u8, Reverse<usize>) {
    let Some(worst) = worst_first.first().map(|finding| finding.level) else {
        return (4, Reverse(0));
    };
    let place = match worst {
        Level::Stop => 0,
        Level::Caution => 1,
        Level::Note => 3,
    };
    (place, Reverse(worst_first.iter().filter(|finding| finding.level == worst).count()))
}

/// `handed over 18 April`, `not handed over`.
fn handed(loaded: &Loaded, clock: Clock) -> String {
    match &loaded.record.share {
        None => "not handed over".to_owned(),
        Some(share) if share.revision != loaded.record.revision => format!("holds version {}", share.revision),
        Some(share) => format!("handed over {}", lines::day_month(clock.day_of(share.handed_over))),
    }
}

impl ReviewPage {
    fn new(
        layout: Layout,
        race: &RaceRecord,
        loaded: &[Loaded],
        (units, clock): (DistanceUnit, Clock),
        only_odd: bool,
    ) -> Self {
        let mut rows: Vec<Row> = loaded.par_iter().map(|one| Row::of(one, units, clock)).collect();
        let figures: Vec<Figures> = rows.iter().map(|row| row.figures.clone()).collect();
        for (row, odd) in rows.iter_mut().zip(odd(&figures)) {
            if !odd.is_empty() {
                row.rank = row.rank.min((ODD, Reverse(0)));
            }
            row.odd = odd;
        }
        let has_estimates = rows.iter().any(|row| row.figures.has_estimate);
        let (total, odd) = (rows.len(), rows.iter().filter(|row| !row.odd.is_empty()).count());
        rows.retain(|row| !only_odd || !row.odd.is_empty());
        // Stable: by name among equals, as they came.
        rows.sort_by_key(|row| (row.rank, row.odd.is_empty()));
        Self {
            layout: layout.at(Area::Races),
            id: race.id,
            race: lines::race_name(&race.race),
            facts: words::full_date(race.race.date),
            rows,
            has_estimates,
            total,
            odd,
            only_odd,
            lacking: 0,
            is_off: race.called_off.is_some(),
        }
    }
}

impl Page for ReviewPage {
    #[cfg(test)]
    fn samples() -> Vec<Self> {
        use super::sample;
        use crate::blocks::sample as of_block;
        let clock = Clock::fixed("2027-05-04T08:00:00Z".parse().expect("an instant"));
        let race = sample::race(planning::RaceDistance::TenK);
        let records = [of_block::ten_k(), of_block::ten_k(), of_block::marathon(), of_block::timed_half()];
        let loaded = sample::loaded(records.each_ref().map(of_block::record), clock);
        let page = |loaded: &[Loaded], only| Self::new(Layout::plain(), &race, loaded, (DistanceUnit::Km, clock), only);
        let mut full = page(&loaded, false);
        full.rows[0].odd = vec!["race week at 69% of usual, the middle of the others is 55%".to_owned()];
        full.lacking = 3;
        vec![page(&[], false), full, page(&loaded[..1], true)]
    }
}

/// What is shown of it.
#[derive(Debug, Default, Deserialize)]
#[serde(default)]
pub(crate) struct Filter {
    odd: String,
}

/// `GET /races/{race}/review`
pub(crate) async fn get(
    State(state): State<AppState>,
    layout: Layout,
    Id(id): Id<RaceId>,
    Query(filter): Query<Filter>,
) -> Result<Response, AppError> {
    let race = state.store.race(id).await?.ok_or(AppError::NotFound)?;
    let loaded = blocks_of(&state, id).await?;
    let units = state.store.settings().await?.units;
    let lacking = state.store.entrants_page(id, 0, 0).await?.lacking;
    let only_odd = filter.odd == "yes";
    let clock = state.clock;
    // Each review may plan a block to compare with: that is no work for the thread that answers.
    let page = tokio::task::spawn_blocking(move || ReviewPage {
        lacking,
        ..ReviewPage::new(layout, &race, &loaded, (units, clock), only_odd)
    });
    let page = page.await.map_err(|error| AppError::Internal(error.to_string()))?;
    render::page(StatusCode::OK, &page)
}
