//! One race: who runs it, and whose block is where.

use std::collections::HashMap;

use askama::Template;
use axum::extract::{Query, State};
use axum::http::StatusCode;
use axum::response::Response;
use chrono::NaiveDate;
use formats::words;
use planning::notation::{read_stands, read_stations};
use planning::profile::LENGTH_TOLERANCE;
use planning::{Distance, DistanceUnit, Importance};
use serde::Deserialize;
use store::{
    AthleteId, BlockId, BlockState, BoardRow, CourseHead, Enterable, Entrant, EntrantsPage, NameSearch, RaceFacts,
    RaceId, RaceRecord, RaceResult, StepId,
};

use super::brought_in::BroughtIn;
use super::withdrawn::{self, Withdrawn};
use crate::blocks::lines;
use crate::board::needs;
use crate::clock::Clock;
use crate::error::AppError;
use crate::extract::Id;
use crate::form::{Choice, Problems, group_menu};
use crate::pages::{Address, Pages};
use crate::paths;
use crate::render::{self, Area, Layout, Page};
use crate::shown;
use crate::state::AppState;
use crate::steps::Lately;

/// How many entrants stand on a page.
const ROWS_A_PAGE: u32 = 100;

/// How many athletes can be ticked at once.
const TICKS: usize = 60;

/// How many steps are shown.
const LATELY: u32 = 5;

/// A race's page.
#[derive(Template)]
#[template(path = "races/show.html")]
pub(crate) struct ShowPage {
    layout: Layout,
    id: RaceId,
    name: String,
    facts: String,
    place: String,
    /// Since when it is called off.
    called_off: Option<String>,
    is_past: bool,
    /// Whether what came out can be noted: from race day on.
    has_results: bool,
    entrants: Vec<Row>,
    /// How many are entered.
    total: u32,
    pages: Pages,
    /// How many entrants have a block.
    have: u32,
    /// How many entrants whose goal race it is have no block yet.
    lacking: u32,
    /// How many blocks were made for another day than the race has by now.
    moved: usize,
    /// Of how many the board asks how they go on, where the race is called off.
    open: u32,
    /// Who was withdrawn, still holds the block and may not know it.
    withdrawn: Vec<Withdrawn>,
    /// What is known of the course, and of the morning.
    course: String,
    morning: String,
    others: Others,
    /// What was done for many of them at once.
    lately: Vec<Lately>,
    problems: Problems,
}

/// Athletes who are not entered.
struct Others {
    /// What they are looked for by, see [`Filter`].
    text: String,
    group: String,
    /// The list that they came with, where only its athletes are looked for.
    list: Option<StepId>,
    /// Every group with somebody who is not entered, after all of them.
    groups: Vec<Choice>,
    /// How many were found, and how many there are at all.
    found: usize,
    total: usize,
    /// The first of them, by group: its name, how many of it are not entered, and those to tick.
    shown: Vec<Group>,
}

/// Athletes of one group.
struct Group {
    name: String,
    /// How many of it are not entered.
    count: usize,
    athletes: Vec<Tick>,
}

impl Group {
    fn code(&self) -> String {
        code_of(&self.name)
    }
}

/// A box to tick.
struct Tick {
    id: AthleteId,
    name: String,
    is_ticked: bool,
}

impl Others {
    /// Of those who came with a list, if there is one, the groups are no choice of their own.
    fn new(filter: &Filter, list: Option<&BroughtIn>, ticked: &[AthleteId], found: &Enterable) -> Self {
        let groups = if list.is_some() { &[][..] } else { &found.groups[..] };
        let count = |name: &str| groups.iter().find(|(group, _)| group == name).map_or(0, |(_, count)| *count);
        let mut shown: Vec<Group> = Vec::new();
        for (id, name, group) in &found.rows {
            let tick = Tick { id: *id, name: name.clone(), is_ticked: ticked.contains(id) };
            match shown.last_mut().filter(|last| last.name == *group) {
                Some(same) => same.athletes.push(tick),
                None => shown.push(Group { count: count(group), name: group.clone(), athletes: vec![tick] }),
            }
        }
        let choice = |(group, count): &(String, usize)| {
            let named = if group.is_empty() { "no group" } else { group };
            Choice::new(code_of(group), format!("{named} ({count})"))
        };
        Self {
            text: filter.text.clone(),
            group: filter.group.clone(),
            list: list.map(|list| list.step),
            groups: group_menu(found.groups.iter().map(choice)),
            found: found.found,
            total: found.groups.iter().map(|(_, count)| count).sum(),
            shown,
        }
    }

    /// How many more fit than are shown.
    fn more(&self) -> usize {
        self.found - self.shown.iter().map(|group| group.athletes.len()).sum::<usize>()
    }
}

/// A group as a field says it: no group is a choice of its own, and nothing is every group.
fn code_of(group: &str) -> String {
    format!("={group}")
}

/// The group that a field says; nothing where it says none.
pub(super) fn group_of(code: &str) -> Option<&str> {
    code.strip_prefix('=')
}

/// What is shown of a race with many entrants, and who is looked for.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(default)]
pub(crate) struct Filter {
    pub(super) page: String,
    pub(super) text: String,
    /// A group as [`code_of`] writes it, or nothing.
    pub(super) group: String,
    /// The list by which athletes came in who are to be entered, see [`BroughtIn`]: then only they are looked for.
    pub(super) list: String,
}

impl Filter {
    /// The address of the race with everything that is asked for but the page.
    fn query(&self, id: RaceId) -> Address {
        Address::new(paths::race(id)).with("text", self.text.trim()).with("group", &self.group).with("list", &self.list)
    }
}

/// One athlete who is entered.
struct Row {
    id: AthleteId,
    name: String,
    importance: Importance,
    block: Option<BlockId>,
    /// How the block stands, in words.
    state: String,
    /// Illness and injury as they stand, or their easy days do.
    unwell: Vec<String>,
    /// What came out; empty where nothing is noted.
    result: String,
}

impl Row {
    fn of(entrant: Entrant, state: String, unwell: Vec<String>, result: Option<&RaceResult>) -> Self {
        Self {
            result: result.map(|result| lines::result(result, entrant.ran)).unwrap_or_default(),
            id: entrant.athlete,
            name: entrant.name,
            importance: entrant.importance,
            block: entrant.block,
            state,
            unwell,
        }
    }

    /// Where what came out is noted.
    fn result_path(&self, race: RaceId) -> String {
        self.block.map_or_else(|| paths::result(race, self.id), paths::debrief)
    }

    fn importance(&self) -> &'static str {
        words::importance(self.importance)
    }
}

/// How an entrant stands: whether blocks can still be made for the race, and where it is called off whether it is settled
/// how the athlete goes on.
fn stands(
    entrant: &Entrant,
    block: Option<&BlockState>,
    (is_open, is_settled): (bool, Option<bool>),
    clock: Clock,
) -> String {
    match (is_settled, entrant.block, block) {
        (Some(true), ..) => "settled".to_owned(),
        (Some(false), ..) => "not settled yet".to_owned(),
        (None, None, _) if is_open => without_block(entrant.importance).to_owned(),
        (None, None, _) => "no block".to_owned(),
        (None, Some(_), None) => "block made".to_owned(),
        (None, Some(_), Some(block)) => needs::of_block(block, clock),
    }
}

/// What is said of an entrant who has no block while one could be made.
const fn without_block(importance: Importance) -> &'static str {
    if importance.has_block() { "no block yet" } else { super::NO_BLOCK_OF_ITS_OWN }
}

/// A form that was refused: what is wrong, and who was ticked.
#[derive(Default)]
pub(super) struct Refused {
    pub(super) problems: Problems,
    pub(super) ticked: Vec<AthleteId>,
}

impl ShowPage {
    /// Everything that the page shows, in a few queries whatever the size of the squad.
    pub(super) async fn load(
        state: &AppState,
        layout: Layout,
        id: RaceId,
        filter: &Filter,
        refused: Refused,
    ) -> Result<Self, AppError> {
        let record = state.store.race(id).await?.ok_or(AppError::NotFound)?;
        let (pages, entrants) = entrants(state, id, filter).await?;
        let blocks = state.store.block_states(id).await?;
        let board = state.store.board(state.clock.today()).await?;
        let is_moved =
            |row: &BoardRow| blocks.get(&row.athlete).is_some_and(|block| row.is_made_for_another_day(block.id));
        let moved = board.iter().filter(|row| is_moved(row)).count();
        let mut unwell = needs::unwell(&board, state.clock.today());
        let names = NameSearch::new(&filter.text);
        let list = BroughtIn::named(state, &filter.list).await?;
        let most = if list.is_some() { usize::MAX } else { TICKS };
        let mut others = state.store.enterable(&board, id, &names, group_of(&filter.group), most).await?;
        if let Some(list) = &list {
            others.rows.retain(|(athlete, ..)| list.athletes.contains(athlete));
            others.found = others.rows.len();
        }
        // What was ticked when a form was refused stays as it was.
        let ticked = match &list {
            Some(list) if refused.problems.is_empty() => &list.athletes,
            _ => &refused.ticked,
        };
        let length = record.race.distance.distance();
        let settings = state.store.settings().await?;
        let course = match state.store.course_head(id).await? {
            Some(head) => course_words(&head, length, settings.units),
            None => "not known yet, so the pace is planned as on the flat".to_owned(),
        };
        let morning = state.store.race_facts(id).await?.map_or_else(
            || "aid stations, pens, bags, weather, and where you stand: nothing is noted yet".to_owned(),
            |kept| morning_words(&kept.facts, length),
        );
        let lately = state.store.steps_of_race(id, LATELY).await?;
        let today = state.clock.today();
        let is_open = record.race.date >= today && record.called_off.is_none();
        let has_results = record.race.date <= today && record.called_off.is_none();
        let results = if has_results { state.store.results_of_race(id).await? } else { HashMap::new() };
        Ok(Self {
            layout: layout.at(Area::Races),
            id: record.id,
            withdrawn: withdrawn::all(&board, &record, &settings.coach_name),
            facts: facts(&record, today),
            is_past: record.race.date < today,
            has_results,
            name: record.race.name,
            called_off: record.called_off.map(words::long_date),
            place: record.place,
            pages,
            total: entrants.total,
            have: entrants.have,
            lacking: entrants.lacking,
            moved,
            open: if record.called_off.is_some() && record.race.date >= today { entrants.open } else { 0 },
            entrants: entrants
                .rows
                .into_iter()
                .map(|row| {
                    let is_settled = record.called_off.map(|_| row.is_settled);
                    let stands = stands(&row, blocks.get(&row.athlete), (is_open, is_settled), state.clock);
                    let unwell = unwell.remove(&row.athlete).unwrap_or_default();
                    let result = results.get(&row.athlete);
                    Row::of(row, stands, unwell, result)
                })
                .collect(),
            course,
            morning,
            others: Others::new(filter, list.as_ref(), ticked, &others),
            lately: lately.iter().map(|step| Lately::of(step, state.clock)).collect(),
            problems: refused.problems,
        })
    }

    /// Whether blocks are lacking that can still be made: not for a race that is past or called off.
    const fn can_make(&self) -> bool {
        self.lacking > 0 && !self.is_past && self.called_off.is_none()
    }

    fn lacking_words(&self) -> String {
        match self.lacking {
            1 => "Make the missing block".to_owned(),
            count => format!("Make the {count} missing blocks"),
        }
    }
}

/// The entrants of the page that is asked for. They are counted first, so that a page that is not there is the
/// nearest that is.
async fn entrants(state: &AppState, id: RaceId, filter: &Filter) -> Result<(Pages, EntrantsPage), AppError> {
    let total = state.store.entrants_page(id, 0, 0).await?.total;
    let pages = Pages::of(total as usize, ROWS_A_PAGE as usize, &filter.page, &filter.query(id));
    let skip = u32::try_from(pages.range().start).unwrap_or(total);
    let entrants = state.store.entrants_page(id, skip, ROWS_A_PAGE).await?;
    Ok((pages, entrants))
}

/// `10 km, Sunday 9 May 2027, 09:30 (Europe/Lisbon), in 19 days`.
fn facts(record: &RaceRecord, today: NaiveDate) -> String {
    let race = &record.race;
    let mut facts = vec![shown::capital(&words::race_distance(race.distance)), words::full_date(race.date)];
    if let Some(start) = race.start {
        let zone = race.zone.as_ref().map_or_else(String::new, |zone| format!(" ({zone})"));
        facts.push(format!("start at {}{zone}", start.format("%H:%M")));
    }
    facts.push(shown::away(race.date, today));
    facts.join(", ")
}

/// `21.15 km measured, from larkmere.gpx`, and whether that fits.
fn course_words(head: &CourseHead, official: Distance, units: DistanceUnit) -> String {
    let measured = words::measured(head.length, units);
    let from = if head.file_name.is_empty() { String::new() } else { format!(", from {}", head.file_name) };
    let off = (head.length.as_km() / official.as_km() - 1.0).abs();
    let fits =
        if off > LENGTH_TOLERANCE { "; it no longer fits the race, so the pace is planned as on the flat" } else { "" };
    format!("{measured} measured{from}{fits}")
}

/// `3 aid stations, you stand in 2 places`.
fn morning_words(facts: &RaceFacts, length: Distance) -> String {
    let stations = read_stations(&facts.stations, facts.units, length);
    let stands = read_stands(&facts.stands, facts.units, length);
    let (Ok(stations), Ok(stands)) = (stations, stands) else {
        return "some lines no longer fit the race".to_owned();
    };
    let stand = match stands.len() {
        0 => "where you stand is not noted".to_owned(),
        count => format!("you stand in {}", words::plural(count, "place")),
    };
    match stations.len() {
        0 => stand,
        count => format!("{}, {stand}", words::plural(count, "aid station")),
    }
}

impl Page for ShowPage {
    #[cfg(test)]
    fn samples() -> Vec<Self> {
        let entrant = |id, block| Row {
            id: AthleteId(id),
            name: "Ana <b>".to_owned(),
            importance: Importance::TuneUp,
            block,
            state: "not handed over yet".to_owned(),
            unwell: vec!["Ill since Tuesday, no end noted".to_owned()],
            result: String::new(),
        };
        let lately = |id, undone: &str| Lately {
            id: store::StepId(id),
            what: "Entered or changed 34 athletes".to_owned(),
            when: "today at 09:00".to_owned(),
            undone: (!undone.is_empty()).then(|| undone.to_owned()),
            is_open: true,
        };
        let others = |found: usize, group: &str| {
            let rows = [(7, "<b>Bo", ""), (8, "Cy", "Track <b>"), (9, "Di", "Track <b>")];
            let filter = Filter { group: group.to_owned(), text: "<b>".to_owned(), ..Filter::default() };
            let found = Enterable {
                found,
                rows: rows
                    .into_iter()
                    .take(found)
                    .map(|(id, name, group)| (AthleteId(id), name.to_owned(), group.to_owned()))
                    .collect(),
                groups: vec![(String::new(), 1), ("Track <b>".to_owned(), 34)],
            };
            let list = BroughtIn::sample();
            Others::new(&filter, (found.found == 2).then_some(&list), &[AthleteId(8)], &found)
        };
        let nobody = || Others::new(&Filter::default(), None, &[], &Enterable::default());
        let filter = Filter { group: "=Track <b>".to_owned(), ..Filter::default() };
        let pages = |total, asked| Pages::of(total, ROWS_A_PAGE as usize, asked, &filter.query(RaceId(2)));
        let page = |entrants: Vec<Row>, others, problems| Self {
            called_off: (!entrants.is_empty()).then(|| "Thursday 6 May".to_owned()),
            layout: Layout::plain().at(Area::Races),
            id: RaceId(2),
            name: "River Ten <b>".to_owned(),
            facts: "10 km, Sunday 9 May 2027, in 19 days".to_owned(),
            place: "Porto <b>".to_owned(),
            is_past: false,
            has_results: false,
            moved: 2,
            have: entrants.iter().map(|entrant| u32::from(entrant.block.is_some())).sum(),
            lacking: entrants.iter().map(|entrant| u32::from(entrant.block.is_none())).sum(),
            open: entrants.iter().map(|_| 1).sum(),
            total: entrants.iter().map(|_| 1).sum(),
            pages: pages(1, ""),
            withdrawn: vec![Withdrawn::sample()],
            course: "10.12 km measured, from harbour <b>.gpx".to_owned(),
            morning: "1 aid station, you stand in 2 places".to_owned(),
            entrants,
            lately: ["undone for 33 of 34", ""].iter().zip(1..).map(|(undone, id)| lately(id, undone)).collect(),
            others,
            problems,
        };
        let mut problems = Problems::default();
        problems.add("athletes", "Tick at least one athlete, then enter them.");
        let two = || vec![entrant(1, None), entrant(2, Some(BlockId(3)))];
        vec![
            page(vec![], nobody(), Problems::default()),
            page(vec![], others(3, ""), problems),
            page(vec![], others(2, ""), Problems::default()),
            Self { pages: pages(500, "2"), total: 500, ..page(two(), others(90, "=Track <b>"), Problems::default()) },
            page(vec![entrant(2, Some(BlockId(3)))], others(0, ""), Problems::default()),
            Self {
                is_past: true,
                has_results: true,
                called_off: None,
                ..page(
                    vec![entrant(1, None), Row { result: "44:10".to_owned(), ..entrant(2, Some(BlockId(3))) }],
                    others(0, ""),
                    Problems::default(),
                )
            },
        ]
    }
}

/// `GET /races/{race}`
pub(crate) async fn get(
    State(state): State<AppState>,
    layout: Layout,
    Id(id): Id<RaceId>,
    Query(filter): Query<Filter>,
) -> Result<Response, AppError> {
    render::page(StatusCode::OK, &ShowPage::load(&state, layout, id, &filter, Refused::default()).await?)
}
