//! One athlete: base week, races and blocks, facts.

use askama::Template;
use axum::extract::State;
use axum::http::StatusCode;
use axum::response::Response;
use chrono::NaiveDate;
use formats::words;
use planning::week::WEEKDAYS;
use planning::{DayBefore, Importance};
use store::{AthleteId, AthleteRecord, BlockId, Entry, RaceId, RaceRecord, WeekRecord};

use crate::error::AppError;
use crate::extract::Id;
use crate::form::Choice;
use crate::render::{self, Area, Layout, Page};
use crate::shown;
use crate::state::AppState;

/// An athlete's page.
#[derive(Template)]
#[template(path = "athletes/show.html")]
pub(crate) struct ShowPage {
    layout: Layout,
    id: AthleteId,
    name: String,
    group: String,
    facts: Vec<(&'static str, String)>,
    suits: Vec<String>,
    cautions: Vec<String>,
    notes: String,
    /// Recent results as typed.
    results: Vec<String>,
    /// Weekday and line; empty where no week was saved yet.
    week: Vec<(&'static str, String)>,
    /// The same of the week that takes turns with it; empty where there is none.
    second_week: Vec<(&'static str, String)>,
    /// Which of the two stands now, and since when the athlete runs like this.
    week_notes: Vec<String>,
    totals: String,
    coming: Vec<RaceRow>,
    past: Vec<RaceRow>,
    /// Coming races that the athlete is not entered in.
    open: Vec<Choice>,
}

/// A race that the athlete is entered in.
struct RaceRow {
    race: RaceId,
    name: String,
    day: String,
    away: String,
    distance: String,
    importance: &'static str,
    /// Whether it is run out of normal training: a block is possible, but not called for.
    runs_through: bool,
    block: Option<BlockId>,
}

/// All that the page is made of.
struct Loaded {
    athlete: AthleteRecord,
    week: WeekRecord,
    entries: Vec<(Entry, RaceRecord)>,
    races: Vec<(RaceRecord, u32)>,
    today: NaiveDate,
}

impl ShowPage {
    fn new(layout: Layout, loaded: Loaded) -> Self {
        let Loaded { athlete: record, week, entries, races, today } = loaded;
        let athlete = record.draft.athlete;
        let mut facts = vec![("Units", words::distance_unit(athlete.units).to_owned())];
        if let Some(pace) = athlete.easy_pace {
            facts.push((
                "Easy pace",
                format!("{pace} for a {}", if pace.per().symbol() == "mi" { "mile" } else { "kilometre" }),
            ));
        }
        if let Some(year) = athlete.birth_year {
            facts.push(("Born", year.to_string()));
        }
        if let Some(zone) = athlete.home_zone {
            facts.push(("At home", zone));
        }
        // Not the weight: it is for amounts of food, and others may look on.
        let results = record.draft.recent_results.lines().filter(|line| !line.trim().is_empty());
        let results = results.map(str::to_owned).collect();
        if record.draft.fuel_referred {
            facts.push(("Food and drink", "planned with a professional".to_owned()));
        }
        let saved = week.saved.is_some();
        let lines = |lines: &[String; 7]| -> Vec<_> {
            let days = WEEKDAYS.into_iter().zip(lines).filter(|_| saved);
            days.map(|(day, line)| (words::weekday(day), rest_if_empty(line))).collect()
        };
        let turn = week.week.turns().map(|turns| words::whose_turn(turns, today));
        let since = week.since.map(|since| format!("Runs like this since {}.", words::full_date(since)));
        let open = races
            .iter()
            .filter(|(race, _)| race.race.date >= today && entries.iter().all(|(entry, _)| entry.race != race.id))
            .map(|(race, _)| {
                Choice::new(race.id.to_string(), format!("{}, {}", race.race.name, words::full_date(race.race.date)))
            })
            .collect();
        let (coming, mut past): (Vec<_>, Vec<_>) = entries.into_iter().partition(|(_, race)| race.race.date >= today);
        past.reverse();
        let rows = |entries: Vec<(Entry, RaceRecord)>| {
            entries.into_iter().map(|(entry, race)| RaceRow::new(&entry, race, today)).collect()
        };
        Self {
            layout: layout.at(Area::Athletes),
            id: record.id,
            group: record.draft.group,
            facts,
            suits: suits(athlete.suits),
            week: lines(&week.lines),
            second_week: week.second.as_ref().map(|second| lines(&second.lines)).unwrap_or_default(),
            week_notes: turn.into_iter().chain(since).collect(),
            totals: words::usual_week(&week.week, athlete.units, athlete.easy_pace),
            name: athlete.name,
            cautions: athlete.cautions,
            notes: record.draft.notes,
            results,
            coming: rows(coming),
            past: rows(past),
            open,
        }
    }

    fn importances() -> Vec<Choice> {
        Importance::ALL.into_iter().map(|one| Choice::new(one.code(), words::importance(one))).collect()
    }
}

impl RaceRow {
    fn new(entry: &Entry, race: RaceRecord, today: NaiveDate) -> Self {
        Self {
            race: race.id,
            day: shown::day(race.race.date, today),
            away: shown::away(race.race.date, today),
            distance: words::race_distance(race.race.distance),
            importance: words::importance(entry.importance),
            runs_through: entry.importance == Importance::TrainingThrough,
            name: race.race.name,
            block: entry.block,
        }
    }
}

fn rest_if_empty(line: &str) -> String {
    if line.trim().is_empty() { "rest".to_owned() } else { line.to_owned() }
}

fn suits(suits: planning::Suits) -> Vec<String> {
    let mut said = Vec::new();
    if let Some(days) = suits.days {
        said.push(format!("A block of {}", words::plural(usize::from(days), "day")));
    }
    match suits.day_before {
        Some(DayBefore::Rest) => said.push("Rest on the day before the race".to_owned()),
        Some(DayBefore::ShakeOut) => said.push("A shake-out run on the day before the race".to_owned()),
        Some(DayBefore::Auto) | None => {}
    }
    if let Some(day) = suits.extra_rest {
        said.push(format!("The extra rest day on a {}", words::weekday(day)));
    }
    said
}

impl Page for ShowPage {
    #[cfg(test)]
    fn samples() -> Vec<Self> {
        let bare = || Self {
            layout: Layout::plain().at(Area::Athletes),
            id: AthleteId(4),
            name: "Ana <b>".to_owned(),
            group: String::new(),
            facts: vec![("Units", "kilometres".to_owned())],
            suits: vec![],
            cautions: vec![],
            notes: String::new(),
            results: vec![],
            week: vec![],
            second_week: vec![],
            week_notes: vec![],
            totals: String::new(),
            coming: vec![],
            past: vec![],
            open: vec![],
        };
        let race = |block| RaceRow {
            race: RaceId(2),
            name: "River Ten <b>".to_owned(),
            day: "Sun 9 May 2027".to_owned(),
            away: "in 19 days".to_owned(),
            distance: "10 km".to_owned(),
            importance: "goal race",
            runs_through: false,
            block,
        };
        let full = Self {
            group: "Road".to_owned(),
            suits: vec!["A block of 11 days".to_owned()],
            cautions: vec!["<b>knee</b>".to_owned()],
            notes: "two\nlines".to_owned(),
            results: vec!["2027-03-14 10k 42:10 (<b>)".to_owned()],
            week: vec![("Monday", "rest".to_owned()), ("Tuesday", "<b>7".to_owned())],
            second_week: vec![("Monday", "rest".to_owned()), ("Tuesday", "<b>5".to_owned())],
            week_notes: vec!["Runs like this since Monday 1 March 2027.".to_owned()],
            totals: "7 km on 1 running day; none of it hard.".to_owned(),
            coming: vec![race(None), race(Some(BlockId(3)))],
            past: vec![race(Some(BlockId(3))), race(None)],
            open: vec![Choice::new("9", "Hill Half <b>")],
            ..bare()
        };
        vec![bare(), full]
    }
}

/// `GET /athletes/{athlete}`
pub(crate) async fn get(
    State(state): State<AppState>,
    layout: Layout,
    Id(id): Id<AthleteId>,
) -> Result<Response, AppError> {
    let loaded = Loaded {
        athlete: state.store.athlete(id).await?.ok_or(AppError::NotFound)?,
        week: state.store.week(id).await?.ok_or(AppError::NotFound)?,
        entries: state.store.entries_of(id).await?,
        races: state.store.races().await?,
        today: state.clock.today(),
    };
    render::page(StatusCode::OK, &ShowPage::new(layout, loaded))
}
