//! The calendar's page.

use std::collections::HashMap;

use askama::Template;
use axum::extract::{Query, State};
use axum::http::StatusCode;
use axum::response::Response;
use chrono::{Datelike, Days, NaiveDate};
use formats::words;
use store::{AthleteId, Board, CalendarWeek, Paper, RaceId, RaceRecord, SquadCalendar};

use super::asked::{Filter, ROWS, TURN, WEEKS, turned};
use super::cells::{Cell, Missing, Part, RACE_WEEK, cells};
use crate::blocks::lines;
use crate::blocks::replan::on_which_days;
use crate::board::needs;
use crate::error::AppError;
use crate::form::{Choice, group_menu};
use crate::pages::Pages;
use crate::render::{self, Area, Layout, Page};
use crate::shown;
use crate::state::AppState;

/// Who races when, and what stands before and after it.
#[derive(Template)]
#[template(path = "squad_calendar/show.html")]
pub(crate) struct ShowPage {
    layout: Layout,
    today: String,
    /// `19 April to 11 July 2027`.
    span: String,
    paper: Paper,
    filter: Filter,
    groups: Vec<Choice>,
    races: Vec<Choice>,
    /// What of the address could not be read.
    wrong: Option<String>,
    /// The first day that is shown, for the form.
    from: String,
    turns: Turns,
    heads: Vec<Head>,
    sections: Vec<Section>,
    pages: Pages,
    /// The races in these weeks.
    listed: Vec<Listed>,
    /// How many athletes there are, with or without the filter.
    squad: usize,
}

/// The ways to other weeks.
struct Turns {
    earlier: String,
    later: String,
    /// This week, where another is first.
    now: Option<String>,
}

/// One week, above its column.
struct Head {
    day: String,
    is_now: bool,
    /// Races, and athletes in race week.
    counts: Vec<String>,
}

/// One group.
struct Section {
    /// Nothing where the squad has no groups.
    heading: Option<String>,
    rows: Vec<Row>,
}

/// One athlete.
struct Row {
    id: AthleteId,
    name: String,
    /// Illness and injury as they stand, or their easy days do.
    unwell: Vec<String>,
    /// Travel in these weeks.
    travel: Vec<String>,
    cells: Vec<Cell>,
}

impl Row {
    fn is_empty(&self) -> bool {
        self.travel.is_empty() && self.cells.iter().all(|cell| cell.parts.is_empty())
    }
}

/// A race below the table.
struct Listed {
    id: RaceId,
    name: String,
    facts: String,
}

/// Which weeks are shown, and on which day.
#[derive(Clone, Copy)]
pub(super) struct Sight {
    pub(super) from: NaiveDate,
    pub(super) to: NaiveDate,
    pub(super) today: NaiveDate,
    pub(super) paper: Paper,
}

impl ShowPage {
    pub(super) fn new(
        layout: Layout,
        (calendar, board): (&SquadCalendar, &Board),
        filter: Filter,
        chosen: Option<&RaceRecord>,
        sight: Sight,
    ) -> Self {
        let Sight { from, to, today, paper } = sight;
        let in_sight: Vec<&RaceRecord> =
            calendar.races.iter().filter(|race| (from..=to).contains(&race.race.date)).collect();
        let is_now = (from..from + Days::new(7)).contains(&today);
        // This week without its day, so that the address is this week's on every day.
        let query = filter.address((!is_now).then_some(from));
        let page = if calendar.page == 0 { String::new() } else { (calendar.page + 1).to_string() };
        let link = |from| filter.address(from).with("page", &page).link();
        Self {
            layout: layout.at(Area::Calendar),
            today: words::full_date(today),
            span: span(from, to),
            paper,
            groups: groups(calendar, &filter),
            races: races(&in_sight, chosen, today),
            wrong: None,
            from: from.to_string(),
            turns: Turns {
                earlier: link(Some(turned(from, false))),
                later: link(Some(turned(from, true))),
                now: (!is_now).then(|| link(None)),
            },
            heads: heads(&calendar.weeks, &in_sight, from, today),
            sections: sections(calendar, &needs::unwell(board, today), from, today),
            pages: Pages::of(calendar.found, ROWS, &(calendar.page + 1).to_string(), &query),
            listed: in_sight.iter().map(|race| listed(race, today)).collect(),
            squad: calendar.squad,
            filter,
        }
    }

    /// Says what of the address could not be read.
    pub(super) fn say(&mut self, sentence: &str) {
        self.wrong = Some(sentence.to_owned());
    }

    const fn turn() -> u32 {
        TURN
    }

    /// What is said where nothing of anybody stands in these weeks.
    fn is_quiet(&self) -> bool {
        self.listed.is_empty() && self.sections.iter().all(|section| section.rows.iter().all(Row::is_empty))
    }

    const fn paper_style(&self) -> &'static str {
        match self.paper {
            Paper::A4 => "css/wall-a4.css",
            Paper::Letter => "css/wall-letter.css",
        }
    }
}

/// `19 April to 11 July 2027`.
fn span(from: NaiveDate, to: NaiveDate) -> String {
    let range = words::date_range(from, to);
    if from.year() == to.year() { format!("{range} {}", to.year()) } else { range }
}

fn groups(calendar: &SquadCalendar, filter: &Filter) -> Vec<Choice> {
    // The one that is asked for stays in the menu, also where nobody is left in it.
    let mut names: Vec<&str> = calendar.groups.iter().map(String::as_str).collect();
    if !filter.group.is_empty() && !names.contains(&filter.group.as_str()) {
        names.push(&filter.group);
    }
    group_menu(names.into_iter().map(|name| Choice::new(name, name)))
}

fn races(in_sight: &[&RaceRecord], chosen: Option<&RaceRecord>, today: NaiveDate) -> Vec<Choice> {
    let elsewhere = chosen.filter(|chosen| !in_sight.iter().any(|race| race.id == chosen.id));
    let choice = |race: &RaceRecord| {
        let name = lines::race_name(&race.race);
        Choice::new(race.id.to_string(), format!("{name}, {}", shown::day(race.race.date, today)))
    };
    let all = std::iter::once(Choice::new("", "All races"));
    all.chain(in_sight.iter().copied().chain(elsewhere).map(choice)).collect()
}

/// What each week holds. A race that is the only one is named: its rows have room for a part of the name.
fn heads(weeks: &[CalendarWeek], in_sight: &[&RaceRecord], from: NaiveDate, today: NaiveDate) -> Vec<Head> {
    let head = |(number, week): (u64, &CalendarWeek)| {
        let first = from + Days::new(number * 7);
        let is_here = |race: &&&RaceRecord| (first..first + Days::new(7)).contains(&race.race.date);
        let here: Vec<_> = in_sight.iter().filter(is_here).collect();
        let mut counts = Vec::new();
        if week.in_race_week > 0 {
            counts.push(format!("{} in race week", week.in_race_week));
        }
        match here.as_slice() {
            [only] if week.races == 1 => counts.push(lines::race_name(&only.race)),
            _ if week.races > 0 => counts.push(words::plural(week.races, "race")),
            _ => {}
        }
        Head { day: lines::day_month_short(first), is_now: (first..first + Days::new(7)).contains(&today), counts }
    };
    (0..).zip(weeks).map(head).collect()
}

fn sections(
    calendar: &SquadCalendar,
    unwell: &HashMap<AthleteId, Vec<String>>,
    from: NaiveDate,
    today: NaiveDate,
) -> Vec<Section> {
    let mut found: Vec<Section> = Vec::new();
    for athlete in &calendar.athletes {
        let heading = (!calendar.groups.is_empty()).then(|| match athlete.group.as_str() {
            "" => "No group".to_owned(),
            group => group.to_owned(),
        });
        let row = Row {
            id: athlete.id,
            name: athlete.name.clone(),
            unwell: unwell.get(&athlete.id).cloned().unwrap_or_default(),
            travel: athlete.travel.iter().map(on_which_days).collect(),
            cells: cells(athlete, from, WEEKS, today),
        };
        match found.last_mut() {
            Some(section) if section.heading == heading => section.rows.push(row),
            _ => found.push(Section { heading, rows: vec![row] }),
        }
    }
    found
}

fn listed(race: &RaceRecord, today: NaiveDate) -> Listed {
    let off = if race.called_off.is_some() { ", called off" } else { "" };
    Listed {
        id: race.id,
        name: lines::race_name(&race.race),
        facts: format!("{}, {}{off}", shown::day(race.race.date, today), words::race_distance(race.race.distance)),
    }
}

impl Page for ShowPage {
    #[cfg(test)]
    fn samples() -> Vec<Self> {
        super::sample::pages()
    }
}

/// `GET /calendar`
pub(crate) async fn get(
    State(state): State<AppState>,
    layout: Layout,
    Query(mut filter): Query<Filter>,
) -> Result<Response, AppError> {
    let today = state.clock.today();
    let settings = state.store.settings().await?;
    let (from, mut wrong) = filter.from(today, settings.week_start);
    let race = match filter.race.trim().parse().ok().map(RaceId) {
        Some(id) => state.store.race(id).await?,
        None => None,
    };
    if race.is_none() && !filter.race.is_empty() {
        filter.race.clear();
        wrong = wrong.or_else(|| Some("That race is not there any more, so all races are shown.".to_owned()));
    }
    let asked = filter.asked(from, race.as_ref());
    let calendar = state.store.squad_calendar(&asked).await?;
    let sight = Sight { from, to: asked.to(), today, paper: settings.paper };
    let board = state.store.board(today).await?;
    let mut page = ShowPage::new(layout, (&calendar, &board), filter, race.as_ref(), sight);
    if let Some(sentence) = wrong {
        page.say(&sentence);
    }
    render::page(StatusCode::OK, &page)
}
