//! The board's page.

use std::collections::BTreeSet;

use askama::Template;
use axum::extract::{Query, State};
use axum::http::StatusCode;
use axum::response::Response;
use chrono::{Days, NaiveDate, Weekday};
use formats::words;
use planning::{Block, DistanceUnit, Totals};
use serde::Deserialize;
use store::{AthleteId, BlockId, BoardRow, RaceId};

use super::needs;
use super::urgency::{Standing, Urgency, sort, standing};
use crate::clock::Clock;
use crate::error::AppError;
use crate::form::Choice;
use crate::render::{self, Area, Layout, Page};
use crate::shown;
use crate::state::AppState;

/// Who needs the coach.
#[derive(Template)]
#[template(path = "board/show.html")]
pub(crate) struct ShowPage {
    layout: Layout,
    today: String,
    filter: Filter,
    groups: Vec<Choice>,
    sections: Vec<Section>,
    /// How many athletes there are, with or without the filter.
    squad: usize,
    /// Whether the data file may be filled with the demo squad.
    offers_demo: bool,
    /// What the coach should know of the data file.
    warnings: Vec<String>,
}

/// Everybody who is as urgent.
struct Section {
    heading: &'static str,
    rows: Vec<Row>,
}

/// One athlete.
struct Row {
    id: AthleteId,
    name: String,
    group: String,
    needs: String,
    stands: String,
    race: Option<RaceCell>,
    block: Option<BlockId>,
    /// The block of a race that was run and of which no result is noted.
    debrief: Option<BlockId>,
    week: String,
}

/// The next race.
struct RaceCell {
    id: RaceId,
    name: String,
    facts: String,
    away: String,
}

/// The filter in the address.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(default)]
pub(crate) struct Filter {
    group: String,
    text: String,
}

impl Filter {
    fn is_set(&self) -> bool {
        !self.group.is_empty() || !self.text.trim().is_empty()
    }
}

/// What a row is said with.
struct Speaker {
    clock: Clock,
    today: NaiveDate,
    week_start: NaiveDate,
    units: DistanceUnit,
}

impl Speaker {
    fn row(&self, row: BoardRow, standing: &Standing) -> Row {
        Row {
            id: row.athlete,
            needs: shown::capital(&self.needs(standing)),
            stands: shown::capital(&needs::stands(&row, standing, self.today)),
            week: self.week(&row),
            race: row.next_race.map(|race| RaceCell {
                id: race.id,
                facts: format!(
                    "{}, {}, {}",
                    shown::day(race.race.date, self.today),
                    words::race_distance(race.race.distance),
                    words::importance(race.race.importance)
                ),
                away: match race.called_off {
                    Some(_) => "called off".to_owned(),
                    None => shown::away(race.race.date, self.today),
                },
                name: race.race.name,
            }),
            debrief: row.raced.map(|raced| raced.block),
            block: row.block.map(|block| block.id),
            name: row.name,
            group: row.group,
        }
    }

    fn needs(&self, standing: &Standing) -> String {
        let said: Vec<String> = standing.needs.iter().map(|need| needs::need(*need, self.clock)).collect();
        said.join("; ")
    }

    /// This calendar week, planned against usual.
    fn week(&self, row: &BoardRow) -> String {
        if row.block.is_some() && row.next_race.as_ref().is_some_and(|race| race.called_off.is_some()) {
            return "open: the race is called off".to_owned();
        }
        let covered = row.block.as_ref().and_then(|block| week_of(&block.block, self.week_start));
        match covered {
            Some(week) => week.words(self.units),
            None if row.week_saved.is_some() => "as usual".to_owned(),
            None => "not known".to_owned(),
        }
    }
}

/// The days of a calendar week that a block knows of.
struct CalendarWeek {
    planned: Totals,
    usual: Totals,
    days: usize,
    has_race: bool,
}

impl CalendarWeek {
    fn words(&self, units: DistanceUnit) -> String {
        let days = if self.days < 7 { format!(" on {}", words::plural(self.days, "day")) } else { String::new() };
        let race = if self.has_race { " and the race" } else { "" };
        let planned = words::totals(&self.planned, units);
        if self.planned == self.usual && !self.has_race {
            return format!("{planned}{days}, as usual");
        }
        format!("{planned}{race}{days}, usually {}", words::totals(&self.usual, units))
    }
}

fn week_of(block: &Block, from: NaiveDate) -> Option<CalendarWeek> {
    let to = from + Days::new(6);
    let days: Vec<_> = block.days.iter().filter(|day| (from..=to).contains(&day.date)).collect();
    (!days.is_empty()).then(|| CalendarWeek {
        planned: days.iter().flat_map(|day| day.planned_running().parts().to_vec()).collect(),
        usual: days.iter().flat_map(|day| day.usual_running().parts().to_vec()).collect(),
        days: days.len(),
        has_race: days.iter().any(|day| day.to_race == 0),
    })
}

impl ShowPage {
    fn new(
        layout: Layout,
        rows: Vec<BoardRow>,
        shown: impl Fn(&BoardRow) -> bool,
        filter: Filter,
        with: &Speaker,
    ) -> Self {
        let squad = rows.len();
        let names: BTreeSet<&str> =
            rows.iter().map(|row| row.group.as_str()).filter(|group| !group.is_empty()).collect();
        let groups = std::iter::once(Choice::new("", "All groups"))
            .chain(names.into_iter().map(|group| Choice::new(group, group)))
            .collect();
        let mut rows: Vec<(BoardRow, Standing)> = rows
            .into_iter()
            .filter(shown)
            .map(|row| {
                let standing = standing(&row, with.today);
                (row, standing)
            })
            .collect();
        sort(&mut rows);
        let mut sections: Vec<(Urgency, Section)> = Vec::new();
        for (row, standing) in rows {
            let row = with.row(row, &standing);
            match sections.last_mut() {
                Some((urgency, section)) if *urgency == standing.urgency => section.rows.push(row),
                _ => {
                    let section = Section { heading: needs::heading(standing.urgency), rows: vec![row] };
                    sections.push((standing.urgency, section));
                }
            }
        }
        Self {
            layout: layout.at(Area::Board),
            today: words::full_date(with.today),
            filter,
            groups,
            sections: sections.into_iter().map(|(_, section)| section).collect(),
            squad,
            offers_demo: false,
            warnings: Vec::new(),
        }
    }

    fn has_groups(&self) -> bool {
        self.groups.len() > 1
    }
}

impl Page for ShowPage {
    #[cfg(test)]
    fn samples() -> Vec<Self> {
        let row = |block, race: bool| Row {
            id: AthleteId(4),
            name: "Ana <b>".to_owned(),
            group: "Track <b>".to_owned(),
            needs: if race { "No block yet, no goals written".to_owned() } else { String::new() },
            stands: "race week".to_owned(),
            race: race.then(|| RaceCell {
                id: RaceId(2),
                name: "River Ten <b>".to_owned(),
                facts: "Sun 9 May, 10 km, goal race".to_owned(),
                away: "in 19 days".to_owned(),
            }),
            debrief: block,
            block,
            week: "34 km, usually 49 km".to_owned(),
        };
        let page = |sections, squad, offers_demo, filter| Self {
            layout: Layout::plain().at(Area::Board),
            today: "Tuesday 20 April 2027".to_owned(),
            filter,
            groups: vec![Choice::new("", "All groups"), Choice::new("Track <b>", "Track <b>")],
            sections,
            squad,
            offers_demo,
            warnings: vec!["Today's backup could not be made <b>".to_owned()],
        };
        let filter = Filter { group: "Track <b>".to_owned(), text: "\"<b>".to_owned() };
        vec![
            page(vec![], 0, true, Filter::default()),
            page(vec![], 0, false, Filter::default()),
            page(vec![], 3, false, filter),
            page(
                vec![
                    Section { heading: "Need you now", rows: vec![row(None, true), row(Some(BlockId(3)), true)] },
                    Section { heading: "No race ahead", rows: vec![row(None, false)] },
                ],
                3,
                false,
                Filter::default(),
            ),
        ]
    }
}

/// `GET /`
pub(crate) async fn get(
    State(state): State<AppState>,
    layout: Layout,
    Query(filter): Query<Filter>,
) -> Result<Response, AppError> {
    let today = state.clock.today();
    let settings = state.store.settings().await?;
    let rows = state.store.board(today).await?;
    let with = Speaker {
        clock: state.clock,
        today,
        week_start: week_start(today, settings.week_start),
        units: settings.units,
    };
    // Names are found as everywhere: any part, with or without marks.
    let found: Option<BTreeSet<AthleteId>> = if filter.text.trim().is_empty() {
        None
    } else {
        Some(state.store.find_athletes(&filter.text).await?.into_iter().map(|athlete| athlete.id).collect())
    };
    let group = filter.group.clone();
    let shown = |row: &BoardRow| {
        (group.is_empty() || row.group == group) && found.as_ref().is_none_or(|found| found.contains(&row.athlete))
    };
    let mut page = ShowPage::new(layout, rows, shown, filter, &with);
    page.offers_demo = page.squad == 0 && state.store.is_empty().await?;
    page.warnings = state.care.warnings();
    render::page(StatusCode::OK, &page)
}

/// The first day of the calendar week of a day.
fn week_start(day: NaiveDate, first: Weekday) -> NaiveDate {
    day.week(first).first_day()
}
