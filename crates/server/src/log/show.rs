//! The page of the log: weeks in a line each, sessions, events, and the blocks that they touch.

use askama::Template;
use axum::extract::State;
use axum::http::StatusCode;
use axum::response::Response;
use chrono::{Datelike, Days, NaiveDate};
use formats::words;
use planning::{Block, EventKind, Totals};
use serde::Deserialize;
use store::{
    AthleteId, AthleteRecord, BlockId, CoachSettings, DoneId, DoneRecord, DoneWeekRecord, EventId, EventRecord,
    WeekRecord,
};

use super::open::OpenEvent;
use crate::error::AppError;
use crate::extract::Id;
use crate::form::{Choice, Problems};
use crate::render::{self, Area, Layout, Page};
use crate::shown;
use crate::state::AppState;

/// How many weeks the page looks back, the present one included.
const WEEKS: u64 = 6;
/// How far back single sessions are listed, in days.
const SESSION_DAYS: u64 = 42;

/// An athlete's log.
#[derive(Template)]
#[template(path = "log/show.html")]
pub(crate) struct LogPage {
    layout: Layout,
    id: AthleteId,
    name: String,
    units: &'static str,
    /// Blocks that are not as what is noted here would have them.
    touched: Vec<Touched>,
    weeks: Vec<WeekRow>,
    sessions: Vec<SessionRow>,
    events: Vec<EventRow>,
    typed: Typed,
    problems: Problems,
}

/// A block that could be planned again.
struct Touched {
    block: BlockId,
    race: String,
    /// `5 days change`.
    days: String,
}

/// One calendar week.
struct WeekRow {
    first: NaiveDate,
    dates: String,
    planned: String,
    line: String,
    note: String,
    version: String,
    /// What the line comes to; empty where that is unknown.
    said: String,
    problems: Vec<String>,
}

impl WeekRow {
    /// The ids of its controls.
    fn line_id(&self) -> String {
        line_id(self.first)
    }
}

/// The id of the control for a week's line.
pub(super) fn line_id(first: NaiveDate) -> String {
    format!("line-{first}")
}

struct SessionRow {
    id: DoneId,
    day: String,
    line: String,
    detail: String,
}

struct EventRow {
    id: EventId,
    what: String,
    days: String,
    note: String,
    /// Where it is not over yet.
    open: Option<OpenEvent>,
}

/// The forms as typed.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(default)]
pub(crate) struct Typed {
    /// Of a week: its first day, line, note and version.
    pub(super) week: Option<NaiveDate>,
    pub(super) line: String,
    pub(super) week_note: String,
    pub(super) version: String,
    /// Of a session.
    pub(super) day: String,
    pub(super) ran: String,
    pub(super) minutes: String,
    pub(super) effort: String,
    /// Of an event.
    pub(super) kind: String,
    pub(super) from: String,
    pub(super) to: String,
    pub(super) note: String,
    /// Of the end of one: which, and the first day without it.
    #[serde(skip)]
    pub(super) ended: Option<i64>,
    pub(super) well: String,
}

/// All that the page is made of.
pub(super) struct Loaded {
    athlete: AthleteRecord,
    coach: CoachSettings,
    week: WeekRecord,
    blocks: Vec<(BlockId, Block)>,
    touched: Vec<Touched>,
    done_weeks: Vec<DoneWeekRecord>,
    sessions: Vec<DoneRecord>,
    events: Vec<EventRecord>,
    today: NaiveDate,
}

impl Loaded {
    /// Reads the log of an athlete; an unknown one is "not found".
    pub(super) async fn read(state: &AppState, id: AthleteId) -> Result<Self, AppError> {
        let athlete = state.store.athlete(id).await?.ok_or(AppError::NotFound)?;
        let week = state.store.week(id).await?.ok_or(AppError::NotFound)?;
        let coach = state.store.settings().await?;
        let today = state.clock.today();
        let first = week_start(today, coach.week_start) - Days::new(7 * (WEEKS - 1));
        let mut blocks = Vec::new();
        let mut touched = Vec::new();
        for (entry, race) in state.store.entries_of(id).await? {
            let Some(block) = entry.block.filter(|_| race.race.date + Days::new(SESSION_DAYS) >= today) else {
                continue;
            };
            let loaded = crate::blocks::Loaded::read(state, block).await?;
            let days =
                if race.race.date >= today { crate::blocks::replan::waiting_days(&loaded).unwrap_or(0) } else { 0 };
            if days > 0 {
                touched.push(Touched {
                    block,
                    race: crate::blocks::lines::race_name(&race.race),
                    days: format!("{} would change", words::plural(days, "day")),
                });
            }
            blocks.push((block, loaded.record.block));
        }
        Ok(Self {
            athlete,
            coach,
            week,
            blocks,
            touched,
            done_weeks: state.store.done_weeks_of(id, first).await?,
            sessions: state.store.done_sessions_of(id, today - Days::new(SESSION_DAYS)).await?,
            events: state.store.events_of(id).await?,
            today,
        })
    }

    /// Whether a block has any of the seven days from one.
    fn is_planned(&self, first: NaiveDate) -> bool {
        let last = first + Days::new(6);
        self.blocks.iter().any(|(_, block)| block.first_day() <= last && block.race_day >= first)
    }

    /// What was planned for the seven days from one: by the blocks, else the usual week.
    fn planned(&self, first: NaiveDate) -> Totals {
        let mut totals = Totals::default();
        for date in first.iter_days().take(7) {
            let of_block = self.blocks.iter().find_map(|(_, block)| block.day(date));
            let day = of_block.map_or_else(|| self.week.week.running_on(date), planning::Day::planned_running);
            totals.extend(&day);
        }
        totals
    }
}

/// The first day of the calendar week that holds a day.
pub(crate) fn week_start(date: NaiveDate, first: chrono::Weekday) -> NaiveDate {
    date - Days::new(u64::from(date.weekday().days_since(first)))
}

impl LogPage {
    pub(super) fn new(layout: Layout, loaded: Loaded, typed: Typed, problems: Problems) -> Self {
        let units = loaded.athlete.draft.athlete.units;
        let this_week = week_start(loaded.today, loaded.coach.week_start);
        let weeks = (0..WEEKS)
            .map(|back| this_week - Days::new(7 * back))
            .map(|first| week_row(&loaded, first, &typed, &problems))
            .collect();
        Self {
            layout: layout.at(Area::Athletes),
            id: loaded.athlete.id,
            units: words::distance_unit(units),
            weeks,
            sessions: loaded.sessions.iter().rev().map(|record| session_row(record, loaded.today)).collect(),
            events: loaded
                .events
                .iter()
                .rev()
                .map(|record| event_row(record, loaded.today, &typed, &problems))
                .collect(),
            touched: loaded.touched,
            name: loaded.athlete.draft.athlete.name,
            typed,
            problems,
        }
    }

    fn kinds() -> Vec<Choice> {
        EventKind::ALL.into_iter().map(|kind| Choice::new(kind_value(kind), words::event_kind(kind))).collect()
    }
}

/// What the menu of kinds sends: fever is a kind of its own there.
pub(super) fn kind_value(kind: EventKind) -> String {
    if kind.has_fever() { "fever".to_owned() } else { kind.code().to_owned() }
}

fn week_row(loaded: &Loaded, first: NaiveDate, typed: &Typed, problems: &Problems) -> WeekRow {
    let units = loaded.coach.units;
    let planned = loaded.planned(first);
    let (what, whole) = if loaded.is_planned(first) { ("planned", "the plan") } else { ("usually", "the usual week") };
    let kept = loaded.done_weeks.iter().find(|week| week.first_day == first);
    let refused = typed.week == Some(first);
    let pace = loaded.athlete.draft.athlete.easy_pace;
    let share = kept.and_then(|week| week.ran.as_ref()).and_then(|ran| ran.share_of(&planned, pace));
    WeekRow {
        first,
        dates: words::date_range(first, first + Days::new(6)),
        planned: if planned.is_empty() { String::new() } else { format!("{what} {}", words::totals(&planned, units)) },
        line: if refused { typed.line.clone() } else { kept.map(|week| week.line.clone()).unwrap_or_default() },
        note: if refused { typed.week_note.clone() } else { kept.map(|week| week.note.clone()).unwrap_or_default() },
        version: if refused { typed.version.clone() } else { kept.map_or(0, |week| week.version.0).to_string() },
        said: share.map(|share| format!("{} of {whole}", words::per_cent(share))).unwrap_or_default(),
        problems: problems.of(&line_id(first)).into_iter().map(str::to_owned).collect(),
    }
}

fn session_row(record: &DoneRecord, today: NaiveDate) -> SessionRow {
    let minutes = record.done.minutes.map(|minutes| words::plural(usize::from(minutes), "minute"));
    let effort = record.done.effort.map(|effort| format!("effort {effort} of 10"));
    SessionRow {
        id: record.id,
        day: shown::day(record.done.date, today),
        line: record.line.clone(),
        detail: [minutes, effort].into_iter().flatten().collect::<Vec<_>>().join(", "),
    }
}

fn event_row(record: &EventRecord, today: NaiveDate, typed: &Typed, problems: &Problems) -> EventRow {
    let event = record.event;
    let days = if event.open {
        format!("since {}, no end noted", shown::day(event.from, today))
    } else if event.from == event.to {
        shown::day(event.from, today)
    } else {
        format!("{}, {}", words::date_range(event.from, event.to), words::plural(event.days() as usize, "day"))
    };
    EventRow {
        id: record.id,
        what: shown::capital(words::event_kind(event.kind)),
        days,
        note: record.note.clone(),
        open: OpenEvent::of(record, today).map(|open| open.with_typed(typed, problems)),
    }
}

impl Page for LogPage {
    #[cfg(test)]
    fn samples() -> Vec<Self> {
        let first: NaiveDate = "2027-04-26".parse().expect("a day");
        let page = || Self {
            layout: Layout::plain().at(Area::Athletes),
            id: AthleteId(4),
            name: "Ana <b>".to_owned(),
            units: "kilometres",
            touched: vec![],
            weeks: vec![WeekRow {
                first,
                dates: "26 April to 2 May".to_owned(),
                planned: "planned 42 km".to_owned(),
                line: "less, <b>20".to_owned(),
                note: "tired <i>".to_owned(),
                version: "1".to_owned(),
                said: "48% of the plan".to_owned(),
                problems: vec![],
            }],
            sessions: vec![],
            events: vec![],
            typed: Typed::default(),
            problems: Problems::default(),
        };
        let mut problems = Problems::default();
        problems.add(line_id(first), "Week from Monday 26 April 2027: “went <b>” is not an amount of running.");
        problems.add("from", "From: “soon” is not a date.");
        let mut refused = Self {
            touched: vec![Touched {
                block: BlockId(3),
                race: "River <b>".to_owned(),
                days: "5 days would change".into(),
            }],
            sessions: vec![SessionRow {
                id: DoneId(2),
                day: "Tue 27 Apr".to_owned(),
                line: "tempo 9, \"<b>\"".to_owned(),
                detail: "46 minutes, effort 7 of 10".to_owned(),
            }],
            events: vec![EventRow {
                id: EventId(2),
                what: "Illness with fever".to_owned(),
                days: "since Sun 25 Apr, no end noted".to_owned(),
                note: "<b>39</b>".to_owned(),
                open: Some(OpenEvent::sample()),
            }],
            problems,
            ..page()
        };
        refused.weeks[0].problems = vec!["“went <b>” is not an amount of running.".to_owned()];
        vec![page(), refused]
    }
}

/// `GET /athletes/{athlete}/log`
pub(crate) async fn get(
    State(state): State<AppState>,
    layout: Layout,
    Id(id): Id<AthleteId>,
) -> Result<Response, AppError> {
    let loaded = Loaded::read(&state, id).await?;
    render::page(StatusCode::OK, &LogPage::new(layout, loaded, Typed::default(), Problems::default()))
}
