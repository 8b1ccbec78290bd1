//! The squad on paper, for the notice board of a club: who races when. What everybody may read there and nothing
//! else: no cautions, nothing of health, nothing of the log, nothing of what the coach has to do.

use std::sync::Arc;

use askama::Template;
use axum::extract::{Query, State};
use axum::http::StatusCode;
use axum::response::Response;
use chrono::{Days, NaiveDate};
use formats::words;
use planning::DistanceUnit;
use planning::plain::joined;
use serde::Deserialize;
use store::{Board, BoardRow, Paper};

use super::choose::groups;
use super::week;
use crate::blocks::lines;
use crate::blocks::sheet::paper_style;
use crate::error::AppError;
use crate::form::Choice;
use crate::log::week_start;
use crate::render::{self, Page};
use crate::shown;
use crate::state::AppState;

/// The squad to hang up.
#[derive(Template)]
#[template(path = "board/print.html")]
pub(crate) struct PrintPage {
    today: String,
    asked: Asked,
    groups: Vec<Choice>,
    sections: Vec<Section>,
    /// `19 to 25 April`, where this week's running is shown.
    week: String,
    paper: Paper,
}

/// Athletes under one heading.
struct Section {
    heading: String,
    /// What else is said of all of them: day and distance of their race.
    facts: String,
    rows: Vec<Row>,
}

/// One athlete.
struct Row {
    name: String,
    /// Name and facts of the next race, where they do not stand in the heading.
    race: String,
    facts: String,
    /// `22 April to 2 May`; empty where there is no block.
    block: String,
    week: String,
}

/// What is asked for in the address. A value that means nothing asks for nothing.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(default)]
pub(crate) struct Asked {
    group: String,
    /// `race`; else by group.
    by: String,
    /// `yes`: with the days of the block.
    block: String,
    /// `yes`: with this week's running, which is personal.
    running: String,
}

impl Asked {
    fn is_by_race(&self) -> bool {
        self.by == "race"
    }

    fn with_block(&self) -> bool {
        self.block == "yes"
    }

    fn with_running(&self) -> bool {
        self.running == "yes"
    }

    /// Whether nothing stands beside the names.
    fn is_names_only(&self) -> bool {
        self.is_by_race() && !self.with_block() && !self.with_running()
    }
}

/// What a row is said with.
struct Speaker<'a> {
    asked: &'a Asked,
    today: NaiveDate,
    /// The first day of the calendar week.
    week: NaiveDate,
    units: DistanceUnit,
}

impl Speaker<'_> {
    fn row(&self, row: &BoardRow) -> Row {
        let block = row.block.as_ref().filter(|_| self.asked.with_block() && !row.is_called_off());
        Row {
            name: row.name.clone(),
            race: row.next_race.as_ref().map(|race| lines::race_name(&race.race)).unwrap_or_default(),
            facts: self.race(row),
            block: block.map_or_else(String::new, |block| {
                words::date_range(block.first_day, block.first_day + Days::new(u64::from(block.length)))
            }),
            week: if self.asked.with_running() {
                week::planned(row, self.week, self.today, self.units)
            } else {
                String::new()
            },
        }
    }

    /// `Sun 2 May, 10 km, in 12 days`.
    fn race(&self, row: &BoardRow) -> String {
        let Some(race) = &row.next_race else { return String::new() };
        let away = if row.is_called_off() { "called off".to_owned() } else { shown::away(race.race.date, self.today) };
        let distance = lines::distance_beside_name(&race.race);
        joined([shown::day(race.race.date, self.today), distance, away], ", ")
    }

    /// Everybody by group, those without one last.
    fn by_group(&self, mut rows: Vec<&Arc<BoardRow>>) -> Vec<Section> {
        rows.sort_by_key(|row| (row.group.is_empty(), &row.group));
        let groups = rows.chunk_by(|one, other| one.group == other.group);
        groups
            .map(|rows| Section {
                heading: rows[0].group.clone(),
                facts: String::new(),
                rows: rows.iter().map(|row| self.row(row)).collect(),
            })
            .collect()
    }

    /// Everybody who races by race, the nearest first.
    fn by_race(&self, mut rows: Vec<&Arc<BoardRow>>) -> Vec<Section> {
        let race = |row: &BoardRow| row.next_race.as_ref().map(|race| (race.race.date, race.id));
        rows.retain(|row| row.next_race.is_some());
        rows.sort_by_key(|row| race(row));
        let races = rows.chunk_by(|one, other| race(one) == race(other));
        races
            .map(|rows| Section {
                heading: self.row(rows[0]).race,
                facts: self.race(rows[0]),
                rows: rows
                    .iter()
                    .map(|row| Row { race: String::new(), facts: String::new(), ..self.row(row) })
                    .collect(),
            })
            .collect()
    }
}

impl PrintPage {
    fn new(board: &Board, asked: Asked, today: NaiveDate, coach: &store::CoachSettings) -> Self {
        let week = week_start(today, coach.week_start);
        let with = Speaker { asked: &asked, today, week, units: coach.units };
        let rows = board.iter().filter(|row| asked.group.is_empty() || row.group == asked.group).collect();
        let sections = if asked.is_by_race() { with.by_race(rows) } else { with.by_group(rows) };
        Self {
            today: words::full_date(today),
            groups: groups(board),
            sections,
            week: if asked.with_running() { words::date_range(week, week + Days::new(6)) } else { String::new() },
            paper: coach.paper,
            asked,
        }
    }

    fn paper_style(&self) -> &'static str {
        paper_style(self.paper)
    }
}

impl Page for PrintPage {
    #[cfg(test)]
    fn samples() -> Vec<Self> {
        let row = |race: &str| Row {
            name: "Ana <b>".to_owned(),
            race: race.to_owned(),
            facts: if race.is_empty() { String::new() } else { "Sun 2 May, 10 km, in 12 days".to_owned() },
            block: "22 April to 2 May".to_owned(),
            week: "34 km and the race".to_owned(),
        };
        let page = |sections, asked, week: &str| Self {
            today: "Tuesday 20 April 2027".to_owned(),
            asked,
            groups: vec![Choice::new("", "All groups"), Choice::new("Track <b>", "Track <b>")],
            sections,
            week: week.to_owned(),
            paper: Paper::A4,
        };
        let section = |heading: &str, facts: &str, rows| Section { heading: heading.into(), facts: facts.into(), rows };
        let yes = || "yes".to_owned();
        let all = Asked { group: "Track <b>".to_owned(), by: "race".to_owned(), block: yes(), running: yes() };
        vec![
            page(vec![], Asked::default(), ""),
            page(
                vec![section("Track <b>", "", vec![row("River <b>"), row("")]), section("", "", vec![row("")])],
                Asked::default(),
                "",
            ),
            page(vec![section("River <b>", "Sun 2 May", vec![row("")])], all, "19 to 25 April"),
        ]
    }
}

/// `GET /board/print`
pub(crate) async fn get(State(state): State<AppState>, Query(asked): Query<Asked>) -> Result<Response, AppError> {
    let today = state.clock.today();
    let coach = state.store.settings().await?;
    let board = state.store.board(today).await?;
    render::page(StatusCode::OK, &PrintPage::new(&board, asked, today, &coach))
}
