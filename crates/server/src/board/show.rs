//! The board's page.

use askama::Template;
use axum::extract::{Query, State};
use axum::http::StatusCode;
use axum::response::Response;
use formats::words;
use planning::DistanceUnit;
use store::{AthleteId, BlockId, Board, BoardRow, RaceId};

use super::choose::{Chosen, Filter, Order, choose, groups};
use super::urgency::{Look, Standing};
use super::{needs, week};
use crate::blocks::lines;
use crate::error::AppError;
use crate::form::Choice;
use crate::log::week_start;
use crate::pages::Pages;
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
    /// Kinds of needs that occur.
    kinds: Vec<Choice>,
    sections: Vec<Section>,
    pages: Pages,
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
    /// How many there are, on this page and on others.
    count: usize,
    rows: Vec<Row>,
}

/// One athlete.
struct Row {
    id: AthleteId,
    name: String,
    group: String,
    /// What the coach has to do, each with where that is done.
    needs: Vec<(String, String)>,
    /// The race that is called off, where it is open how the athlete goes on.
    open: Option<RaceId>,
    stands: String,
    race: Option<RaceCell>,
    block: Option<BlockId>,
    week: String,
}

/// The next race.
struct RaceCell {
    id: RaceId,
    name: String,
    facts: String,
    away: String,
}

/// What a row is said with.
struct Speaker {
    look: Look,
    units: DistanceUnit,
}

impl Speaker {
    fn row(&self, row: &BoardRow, standing: &Standing) -> Row {
        let today = self.look.today;
        Row {
            id: row.athlete,
            needs: self.needs(row, standing),
            open: row.next_race.as_ref().filter(|_| row.is_called_off()).map(|race| race.id),
            stands: shown::capital(&needs::stands(row, standing, self.look.clock)),
            week: week::words(row, self.look.week, today, self.units),
            race: row.next_race.as_ref().map(|race| RaceCell {
                id: race.id,
                facts: format!(
                    "{}, {}, {}",
                    shown::day(race.race.date, today),
                    words::race_distance(race.race.distance),
                    words::importance(row.importance.unwrap_or_default())
                ),
                away: match race.called_off {
                    Some(_) => "called off".to_owned(),
                    None => shown::away(race.race.date, today),
                },
                name: lines::race_name(&race.race),
            }),
            block: row.block.as_ref().map(|block| block.state.id),
            name: row.name.clone(),
            group: row.group.clone(),
        }
    }

    /// In one sentence: the first begins it.
    fn needs(&self, row: &BoardRow, standing: &Standing) -> Vec<(String, String)> {
        let said = standing.needs.iter().enumerate().map(|(place, need)| {
            let words = needs::need(*need, self.look.clock);
            (if place == 0 { shown::capital(&words) } else { words }, needs::place(*need, row))
        });
        said.collect()
    }
}

impl ShowPage {
    fn new(layout: Layout, board: &Board, chosen: Chosen, filter: Filter, with: &Speaker) -> Self {
        // The one that is asked for stays in the menu, also where nobody is left who needs it.
        let occurs = |code: &str| chosen.kinds.contains(code) || filter.need() == Some(code);
        let kinds = needs::KINDS.into_iter().filter(|(code, _)| occurs(code));
        let kinds = std::iter::once(Choice::new("", "Everything"))
            .chain(kinds.map(|(code, name)| Choice::new(code, shown::capital(name))))
            .collect();
        let order = filter.order();
        let section = |section: super::choose::Section| Section {
            heading: section.urgency.map_or_else(|| order_heading(order), needs::heading),
            count: section.count,
            rows: section.rows.iter().map(|(row, standing)| with.row(row, standing)).collect(),
        };
        Self {
            layout: layout.at(Area::Board),
            today: words::full_date(with.look.today),
            groups: groups(board),
            kinds,
            sections: chosen.sections.into_iter().map(section).collect(),
            pages: chosen.pages,
            squad: board.len(),
            offers_demo: false,
            warnings: Vec::new(),
            filter,
        }
    }

    fn has_groups(&self) -> bool {
        self.groups.len() > 1
    }

    /// In which orders athletes can stand.
    fn orders() -> [Choice; 3] {
        [("", "Most urgent"), ("race", "Race day"), ("name", "Name")].map(|(code, label)| Choice::new(code, label))
    }
}

const fn order_heading(order: Order) -> &'static str {
    match order {
        Order::Urgency => "Everybody",
        Order::Race => "By race day",
        Order::Name => "By name",
    }
}

impl Page for ShowPage {
    #[cfg(test)]
    fn samples() -> Vec<Self> {
        let row = |block: Option<BlockId>, race: bool| Row {
            id: AthleteId(4),
            name: "Ana <b>".to_owned(),
            group: "Track <b>".to_owned(),
            needs: if race {
                let raced = ("no result noted".to_owned(), crate::paths::debrief(BlockId(3)));
                vec![("Race in 12 days, no block".to_owned(), crate::paths::athlete(AthleteId(4))), raced]
            } else {
                vec![]
            },
            open: race.then_some(RaceId(2)),
            stands: "race week".to_owned(),
            race: race.then(|| RaceCell {
                id: RaceId(2),
                name: "River Ten <b>".to_owned(),
                facts: "Sun 9 May, 10 km, goal race".to_owned(),
                away: "in 19 days".to_owned(),
            }),
            block,
            week: "34 km, usually 49 km".to_owned(),
        };
        let page = |sections, squad, offers_demo, filter: Filter| Self {
            layout: Layout::plain().at(Area::Board),
            today: "Tuesday 20 April 2027".to_owned(),
            groups: vec![Choice::new("", "All groups"), Choice::new("Track <b>", "Track <b>")],
            kinds: vec![Choice::new("", "Everything"), Choice::new("silent", "Silent")],
            sections,
            pages: Pages::of(squad, super::choose::ROWS_A_PAGE, &filter.page, &filter.query()),
            filter,
            squad,
            offers_demo,
            warnings: vec!["Today's backup could not be made <b>".to_owned()],
        };
        let filter = Filter {
            group: "Track <b>".to_owned(),
            text: "\"<b>".to_owned(),
            need: "silent".to_owned(),
            sort: "race".to_owned(),
            page: "2".to_owned(),
        };
        let section = |heading, rows: Vec<Row>| Section { heading, count: rows.len(), rows };
        vec![
            page(vec![], 0, true, Filter::default()),
            page(vec![], 0, false, Filter::default()),
            page(vec![], 3, false, filter.clone()),
            page(vec![section("By race day", vec![row(None, true)])], 312, false, filter),
            page(
                vec![
                    section("Need you now", vec![row(None, true), row(Some(BlockId(3)), true)]),
                    section("No race ahead", vec![row(None, false)]),
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
    let board = state.store.board(today).await?;
    let look = Look { clock: state.clock, today, week: week_start(today, settings.week_start) };
    let chosen = choose(&board, &filter, &look);
    let mut page = ShowPage::new(layout, &board, chosen, filter, &Speaker { look, units: settings.units });
    page.offers_demo = page.squad == 0 && state.store.is_empty().await?;
    page.warnings = state.care.warnings();
    render::page(StatusCode::OK, &page)
}
