//! Everything that can be brought back, and until when.

use askama::Template;
use axum::extract::State;
use axum::http::StatusCode;
use axum::response::Response;
use chrono::Days;
use formats::words;
use store::{KEPT_DAYS, Removed, RemovedThing, What};

use crate::clock::Clock;
use crate::error::AppError;
use crate::paths;
use crate::render::{self, Area, Layout, Page};
use crate::state::AppState;

/// The page, one table for each kind of thing.
#[derive(Template)]
#[template(path = "removed/show.html")]
pub(crate) struct ShowPage {
    layout: Layout,
    tables: Vec<Table>,
}

/// Things of one kind.
struct Table {
    /// The id of its heading.
    id: &'static str,
    title: &'static str,
    /// What comes back with each.
    hint: &'static str,
    rows: Vec<Row>,
}

/// One thing.
struct Row {
    /// A name as somebody typed it; may be empty.
    name: String,
    what: String,
    removed: String,
    until: String,
    /// Where the form goes that brings it back.
    back: String,
}

impl Row {
    fn new<T>(clock: Clock, thing: RemovedThing<T>, back: impl Fn(T) -> String) -> Self {
        let removed = clock.day_of(thing.at);
        let until = removed.checked_add_days(Days::new(KEPT_DAYS.unsigned_abs())).unwrap_or(removed);
        let (name, what) = match thing.what {
            What::Athlete => (thing.athlete, String::new()),
            What::Template(name) => (name, String::new()),
            What::Race(name, day) if thing.athlete.is_empty() => {
                (if name.is_empty() { "A race".to_owned() } else { name }, words::full_date(day))
            }
            What::Race(name, day) => (thing.athlete, of(&name, &words::full_date(day))),
            What::Event(kind, day) => (thing.athlete, of(words::event_kind(kind), &words::full_date(day))),
            What::Session(line, day) => (thing.athlete, of(&line, &words::full_date(day))),
        };
        Self { name, what, removed: words::short_date(removed), until: words::full_date(until), back: back(thing.id) }
    }
}

fn of(what: &str, day: &str) -> String {
    if what.is_empty() { day.to_owned() } else { format!("{what}, {day}") }
}

impl ShowPage {
    fn new(layout: Layout, clock: Clock, removed: Removed) -> Self {
        let Removed { athletes, races, entries, blocks, events, templates, sessions } = removed;

        let tables = [
            Table {
                id: "athletes",
                title: "Athletes",
                hint: "Each comes back with base week, entries, blocks and log.",
                rows: athletes.into_iter().map(|one| Row::new(clock, one, paths::restore_athlete)).collect(),
            },
            Table {
                id: "races",
                title: "Races",
                hint: "Each comes back with its entries and blocks.",
                rows: races.into_iter().map(|one| Row::new(clock, one, paths::restore_race)).collect(),
            },
            Table {
                id: "entries",
                title: "Withdrawn from a race",
                hint: "The entry comes back as it was, with its block.",
                rows: entries
                    .into_iter()
                    .map(|one| Row::new(clock, one, |(race, athlete)| paths::restore_entry(race, athlete)))
                    .collect(),
            },
            Table {
                id: "blocks",
                title: "Blocks",
                hint: "Each comes back with all its versions, its goals and its link. Making it again does that too, with \
                       a further version.",
                rows: blocks.into_iter().map(|one| Row::new(clock, one, paths::restore_block)).collect(),
            },
            Table {
                id: "events",
                title: "What happened on the way",
                hint: "It counts again for the blocks that it touches, once you take it in there.",
                rows: events.into_iter().map(|one| Row::new(clock, one, paths::restore_event)).collect(),
            },
            Table {
                id: "templates",
                title: "Templates of base weeks",
                hint: "Each comes back as it was.",
                rows: templates.into_iter().map(|one| Row::new(clock, one, paths::restore_template)).collect(),
            },
            Table {
                id: "sessions",
                title: "Sessions of the log",
                hint: "Each counts as run again.",
                rows: sessions.into_iter().map(|one| Row::new(clock, one, paths::restore_session)).collect(),
            },
        ];
        Self {
            layout: layout.at(Area::Settings),
            tables: tables.into_iter().filter(|table| !table.rows.is_empty()).collect(),
        }
    }
}

impl Page for ShowPage {
    #[cfg(test)]
    fn samples() -> Vec<Self> {
        use chrono::DateTime;
        use planning::EventKind;
        use store::{AthleteId, BlockId, DoneId, EventId, RaceId};

        let at = DateTime::from_timestamp(1_808_000_000, 0).unwrap_or_default();
        let clock = Clock::fixed(at);
        let day = at.date_naive();
        let athlete = || "Ana <b>".to_owned();
        let full = Removed {
            athletes: vec![RemovedThing { id: AthleteId(1), athlete: athlete(), what: What::Athlete, at }],
            races: vec![
                RemovedThing { id: RaceId(1), athlete: String::new(), what: What::Race("<b>Ten".to_owned(), day), at },
                RemovedThing { id: RaceId(2), athlete: String::new(), what: What::Race(String::new(), day), at },
            ],
            entries: vec![RemovedThing {
                id: (RaceId(3), AthleteId(2)),
                athlete: athlete(),
                what: What::Race("<b>Ten".to_owned(), day),
                at,
            }],
            blocks: vec![RemovedThing {
                id: BlockId(6),
                athlete: athlete(),
                what: What::Race("<b>Ten".to_owned(), day),
                at,
            }],
            events: vec![RemovedThing {
                id: EventId(4),
                athlete: athlete(),
                what: What::Event(EventKind::Injury, day),
                at,
            }],
            templates: vec![RemovedThing {
                id: store::TemplateId(6),
                athlete: String::new(),
                what: What::Template("Five <b>".to_owned()),
                at,
            }],
            sessions: vec![RemovedThing {
                id: DoneId(5),
                athlete: athlete(),
                what: What::Session("<b>8 km".to_owned(), day),
                at,
            }],
        };
        vec![Self::new(Layout::plain(), clock, Removed::default()), Self::new(Layout::plain(), clock, full)]
    }
}

/// `GET /removed`
pub(crate) async fn get(State(state): State<AppState>, layout: Layout) -> Result<Response, AppError> {
    let removed = state.store.removed().await?;
    render::page(StatusCode::OK, &ShowPage::new(layout, state.clock, removed))
}
