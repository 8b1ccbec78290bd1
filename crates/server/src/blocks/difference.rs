//! What differs between two versions of a block, day by day, in words.

use std::collections::BTreeSet;

use askama::Template;
use axum::extract::{Query, State};
use axum::http::StatusCode;
use axum::response::Response;
use chrono::NaiveDate;
use formats::words;
use planning::{Block, Day, DistanceUnit};
use serde::Deserialize;
use store::{BlockId, Revision};

use super::lines;
use super::load::Loaded;
use crate::clock::Clock;
use crate::error::AppError;
use crate::extract::Id;
use crate::render::{self, Area, Layout, Page};
use crate::shown;
use crate::state::AppState;

/// Two versions side by side, only where they differ.
#[derive(Template)]
#[template(path = "blocks/difference.html")]
pub(crate) struct DifferencePage {
    layout: Layout,
    id: BlockId,
    name: String,
    race: String,
    sides: [Side; 2],
    present: u32,
    /// Settings and totals that differ: what, then each side.
    frame: Vec<[String; 3]>,
    days: Vec<[String; 3]>,
}

/// One of the two versions.
struct Side {
    number: u32,
    made: String,
    reason: String,
    /// Whether the athlete's link shows it.
    is_with_athlete: bool,
}

impl DifferencePage {
    fn new(layout: Layout, loaded: &Loaded, (one, other): (&Revision, &Revision), clock: Clock) -> Self {
        let record = &loaded.record;
        let shared = record.link_on(loaded.today).map(|share| share.revision);
        let side = |revision: &Revision| Side {
            number: revision.number,
            made: lines::day_month(clock.day_of(revision.made)),
            reason: revision.reason.clone(),
            is_with_athlete: shared == Some(revision.number),
        };
        let units = loaded.coach.units;
        Self {
            layout: layout.at(Area::Athletes),
            id: record.id,
            name: record.athlete.draft.athlete.name.clone(),
            race: lines::race_name(&record.race.race),
            sides: [side(one), side(other)],
            present: record.revision,
            frame: frame(&one.block, &other.block, units),
            days: days(&one.block, &other.block, units),
        }
    }
}

/// Race day, settings and week totals, where they differ.
fn frame(one: &Block, other: &Block, units: DistanceUnit) -> Vec<[String; 3]> {
    let race_day = |block: &Block| words::full_date(block.race_day);
    let mut rows = vec![
        ["Race day".to_owned(), race_day(one), race_day(other)],
        ["Settings".to_owned(), lines::settings_sentence(one), lines::settings_sentence(other)],
    ];
    let (weeks, others) = (one.weeks(), other.weeks());
    for before in (0..weeks.len().max(others.len()) as u16).rev() {
        let brief = |weeks: &[planning::WeekSummary], block: &Block| {
            let found = weeks.iter().find(|week| week.before == before);
            found.map_or("as usual".to_owned(), |week| lines::week_brief(week, units, block.pace))
        };
        rows.push([shown::capital(&words::week_name(before)), brief(&weeks, one), brief(&others, other)]);
    }
    rows.retain(|[_, one, other]| one != other);
    rows
}

/// Days that differ, race day left out.
fn days(one: &Block, other: &Block, units: DistanceUnit) -> Vec<[String; 3]> {
    let dates: BTreeSet<NaiveDate> = one.days.iter().chain(&other.days).map(|day| day.date).collect();
    let mut rows = Vec::new();
    for date in dates {
        let (left, right) = (one.day(date), other.day(date));
        let said = |block: &Block| match block.day(date) {
            Some(day) => in_words(day, units),
            None if date > block.race_day => "after the race".to_owned(),
            None => "as usual, before the block".to_owned(),
        };
        let row = [words::long_date(date), said(one), said(other)];
        if row[1] != row[2] && (left.is_some_and(differs_from(right)) || right.is_some_and(differs_from(left))) {
            rows.push(row);
        }
    }
    rows
}

/// Whether a day is not the same as another; a day outside a block is as usual.
fn differs_from(other: Option<&Day>) -> impl Fn(&Day) -> bool + '_ {
    move |day| match other {
        Some(_) => true,
        None => !day.sessions.iter().map(|planned| &planned.session).eq(&day.usual) || day.to_race == 0,
    }
}

fn in_words(day: &Day, units: DistanceUnit) -> String {
    let said = sessions_in_words(day, units);
    if day.pinned { format!("{said}, fixed") } else { said }
}

/// What is done on a day, with what is inside each session.
pub(super) fn sessions_in_words(day: &Day, units: DistanceUnit) -> String {
    let sessions = day.sessions.iter().map(|planned| {
        let detail = lines::planned_detail(planned);
        let line = lines::planned(planned, units);
        if detail.is_empty() { line } else { format!("{line} ({detail})") }
    });
    let said: Vec<String> = sessions.collect();
    match (day.to_race, said.is_empty()) {
        (0, _) => "race day".to_owned(),
        (_, true) => lines::REST.to_owned(),
        (_, false) => said.join(" + "),
    }
}

impl Page for DifferencePage {
    #[cfg(test)]
    fn samples() -> Vec<Self> {
        use super::sample;
        let clock = Clock::fixed("2027-05-04T08:00:00Z".parse().expect("an instant"));
        let ten_k = sample::ten_k();
        let record = sample::handed_over(&ten_k);
        let revision = |number, block: Block| Revision {
            number,
            made: record.made,
            reason: "swapped <two> days".to_owned(),
            settings: record.settings,
            week: record.week.clone(),
            block,
            before_events: None,
        };
        let shorter = planning::Settings { days: Some(7), ..planning::Settings::default() };
        let other = sample::Sample { settings: shorter, ..sample::ten_k() }.block();
        let (one, two, same) =
            (revision(1, record.block.clone()), revision(2, other), revision(3, record.block.clone()));
        let loaded = Loaded::sample(record.clone(), clock);
        vec![
            Self::new(Layout::plain(), &loaded, (&one, &two), clock),
            Self::new(Layout::plain(), &loaded, (&one, &same), clock),
        ]
    }
}

/// Which two.
#[derive(Debug, Default, Deserialize)]
#[serde(default)]
pub(crate) struct Asked {
    from: String,
    to: String,
}

/// `GET /blocks/{block}/versions/difference?from=4&to=6`
pub(crate) async fn get(
    State(state): State<AppState>,
    Id(id): Id<BlockId>,
    Query(asked): Query<Asked>,
    layout: Layout,
) -> Result<Response, AppError> {
    let loaded = Loaded::read(&state, id).await?;
    let read = async |text: &str| {
        let number = text.trim().parse().map_err(|_| AppError::NotFound)?;
        state.store.revision(id, number).await?.ok_or(AppError::NotFound)
    };
    let (one, other) = (read(&asked.from).await?, read(&asked.to).await?);
    render::page(StatusCode::OK, &DifferencePage::new(layout, &loaded, (&one, &other), state.clock))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::blocks::sample;

    #[test]
    fn only_what_differs_is_said() {
        let block = sample::ten_k().block();
        assert!(days(&block, &block, DistanceUnit::Km).is_empty());
        assert!(frame(&block, &block, DistanceUnit::Km).is_empty());
        let mut bent = block.clone();
        bent.days[9].sessions.clear();
        bent.days[9].pinned = true;
        let rows = days(&block, &bent, DistanceUnit::Km);
        assert_eq!(rows.len(), 1, "{rows:?}");
        assert_eq!(rows[0][2], "rest, fixed");
        assert_eq!(frame(&block, &bent, DistanceUnit::Km).len(), 1, "the totals of its week");
    }

    #[test]
    fn days_before_a_shorter_block_differ_only_where_they_were_changed() {
        let long = sample::Sample {
            settings: planning::Settings { days: Some(16), ..planning::Settings::default() },
            ..sample::ten_k()
        };
        let (long, short) = (long.block(), sample::ten_k().block());
        let rows = days(&short, &long, DistanceUnit::Km);
        assert!(!rows.is_empty());
        for [day, short, long] in rows {
            assert_ne!(short, long, "{day}");
        }
    }
}
