//! The form of a race, new or known.

use askama::Template;
use axum::extract::{Query, State};
use axum::http::StatusCode;
use axum::response::Response;
use axum_extra::extract::Form;
use chrono::{NaiveDate, NaiveTime};
use formats::{words, zones};
use planning::notation::{read_date, read_distance};
use planning::problem::Expected;
use planning::{Field, Importance, Problem, ProblemKind, Race, RaceDistance};
use serde::Deserialize;
use store::{AthleteId, RaceId, RaceRecord, StoreError};

use super::brought_in::BroughtIn;
use super::first_block::{Entrant, GOAL, check_goal, make_block};
use crate::conflict::{ConflictPage, Row};
use crate::error::AppError;
use crate::extract::Id;
use crate::form::{Choice, Problems, new_once, one_line, read_once, read_time, read_version, time_kind};
use crate::notice::{self, Notice};
use crate::render::{self, Area, Layout, Page};
use crate::state::AppState;
use crate::{paths, shown};

/// The longest name of a place, in characters.
const PLACE_MOST: usize = 120;

/// The controls that may be wrong, in the order of the page.
const CONTROLS: [&str; 8] = ["name", "date", "distance", "own_distance", GOAL, "start", "zone", "place"];

/// A race's form.
#[derive(Template)]
#[template(path = "races/edit.html")]
pub(crate) struct EditPage {
    layout: Layout,
    about: About,
    typed: Typed,
    problems: Problems,
}

/// Which race it is.
enum About {
    /// One that is kept, by its name.
    Known(RaceId, String),
    /// A new one; where it was asked for on an athlete's page, that athlete is entered in it.
    New(Option<Entrant>),
}

/// The form as typed.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(default)]
pub(crate) struct Typed {
    version: String,
    once: String,
    name: String,
    date: String,
    distance: String,
    own_distance: String,
    start: String,
    zone: String,
    place: String,
    /// The athlete who is entered with it, and what the race means to that one.
    athlete: String,
    importance: String,
    goal: String,
    /// The list of athletes who are to be entered in it next, see [`BroughtIn`].
    list: String,
}

impl Typed {
    fn of(record: &RaceRecord) -> Self {
        let race = &record.race;
        let own = if race.distance.code().is_some() { String::new() } else { words::race_distance(race.distance) };
        Self {
            version: record.version.to_string(),
            once: String::new(),
            name: race.name.clone(),
            date: race.date.to_string(),
            distance: race.distance.code().unwrap_or("own").to_owned(),
            own_distance: own,
            start: race.start.map_or_else(String::new, |time| time.format("%H:%M").to_string()),
            zone: race.zone.clone().unwrap_or_default(),
            place: record.place.clone(),
            ..Self::default()
        }
    }

    /// What the form says, or everything that is wrong with it.
    fn to_race(&self) -> Result<(Race, String), Problems> {
        let mut found = Vec::new();
        let name = one_line(&self.name);
        if name.is_empty() {
            found.push(Problem::new(Field::RaceName, ProblemKind::Missing));
        }
        let date = kept(&mut found, Field::RaceDate, self.day());
        let distance = kept(&mut found, Field::RaceDistance, self.distance());
        let start = kept(&mut found, Field::RaceStart, self.start()).flatten();
        let zone = kept(&mut found, Field::RaceZone, self.zone()).flatten();
        let place = one_line(&self.place);
        let race = date.zip(distance).map(|(date, distance)| Race {
            name,
            date,
            distance,
            start,
            zone,
            importance: Importance::Goal,
        });
        found.extend(race.as_ref().map(Race::problems).unwrap_or_default());
        let mut problems = Problems::default();
        for problem in &found {
            problems.add(self.control(&problem.at), crate::words::problem(problem));
        }
        if let Some(Race { date, start: Some(start), zone: Some(zone), .. }) = &race
            && zones::leaves_out(zone, *date, *start)
        {
            let (time, day) = (start.format("%H:%M"), words::full_date(*date));
            problems
                .add("start", format!("Start: the clocks of {zone} leave out {time} on {day}; give another start."));
        }
        problems.check_length("place", "Place", &place, PLACE_MOST);
        problems.sort_by_controls(&CONTROLS);
        match race {
            Some(race) if problems.is_empty() => Ok((race, place)),
            _ => Err(problems),
        }
    }

    fn day(&self) -> Result<NaiveDate, ProblemKind> {
        match self.date.trim() {
            "" => Err(ProblemKind::Missing),
            text => read_date(text),
        }
    }

    fn distance(&self) -> Result<RaceDistance, ProblemKind> {
        match (RaceDistance::from_code(&self.distance), self.own_distance.trim()) {
            (Some(standard), _) => Ok(standard),
            (None, "") => Err(ProblemKind::Missing),
            (None, own) => read_distance(own),
        }
    }

    fn start(&self) -> Result<Option<NaiveTime>, ProblemKind> {
        optional(&self.start, Expected::Time, read_time)
    }

    fn zone(&self) -> Result<Option<String>, ProblemKind> {
        optional(&self.zone, Expected::Zone, |text| zones::read(text).map(str::to_owned))
    }

    /// A date field shows dates only: what is none stays readable in a field for text.
    fn date_kind(&self) -> &'static str {
        if self.date.is_empty() || self.date.parse::<NaiveDate>().is_ok() { "date" } else { "short" }
    }

    /// The same for the start.
    fn start_kind(&self) -> &'static str {
        time_kind(&self.start)
    }

    /// The control of a field of planning.
    fn control(&self, at: &Field) -> &'static str {
        match at {
            Field::RaceDate => "date",
            Field::RaceDistance if self.distance == "own" => "own_distance",
            Field::RaceDistance => "distance",
            Field::RaceStart => "start",
            Field::RaceZone => "zone",
            _ => "name",
        }
    }
}

/// What a field says, or nothing and its problem among those found.
fn kept<T>(found: &mut Vec<Problem>, at: Field, read: Result<T, ProblemKind>) -> Option<T> {
    read.map_err(|kind| found.push(Problem::new(at, kind))).ok()
}

/// What a field says that may be left empty.
fn optional<T>(text: &str, expected: Expected, read: impl Fn(&str) -> Option<T>) -> Result<Option<T>, ProblemKind> {
    match text.trim() {
        "" => Ok(None),
        text => read(text).map(Some).ok_or_else(|| ProblemKind::Unreadable { text: text.to_owned(), expected }),
    }
}

impl EditPage {
    /// Who is entered with a new race.
    const fn entrant(&self) -> Option<&Entrant> {
        match &self.about {
            About::New(entrant) => entrant.as_ref(),
            About::Known(..) => None,
        }
    }

    /// What the button says: of whom a usual week is known, the block is made with the race.
    const fn press(&self) -> &'static str {
        match &self.about {
            About::Known(..) => "Save",
            About::New(Some(Entrant { has_week: true, .. })) => "Add race and make the block",
            About::New(_) => "Add race",
        }
    }

    fn action(&self) -> String {
        match &self.about {
            About::Known(id, _) => paths::race(id),
            About::New(_) => paths::RACES.to_owned(),
        }
    }

    fn distance_choices() -> Vec<Choice> {
        let standard = RaceDistance::STANDARD.into_iter().map(|distance| {
            Choice::new(distance.code().unwrap_or_default(), shown::capital(&words::race_distance(distance)))
        });
        std::iter::once(Choice::new("", "Choose"))
            .chain(standard)
            .chain(std::iter::once(Choice::new("own", "Another, typed below")))
            .collect()
    }

    /// Zones by the name of a place, which is how people look for them.
    fn zones() -> Vec<&'static str> {
        zones::of_places().collect()
    }
}

impl Page for EditPage {
    #[cfg(test)]
    fn samples() -> Vec<Self> {
        let page = |about, typed: Typed| Self {
            layout: Layout::plain().at(Area::Races),
            about,
            problems: if typed.version.is_empty() {
                Problems::default()
            } else {
                typed.to_race().err().unwrap_or_default()
            },
            typed,
        };
        let wrong = Typed {
            version: "2".to_owned(),
            name: "River <b>".to_owned(),
            date: "9 May <b>".to_owned(),
            distance: "own".to_owned(),
            own_distance: "far".to_owned(),
            start: "25:00".to_owned(),
            zone: "Mars/Base".to_owned(),
            place: "x".repeat(200),
            ..Typed::default()
        };
        let empty = Typed { version: "2".to_owned(), ..Typed::default() };
        let known = || About::Known(RaceId(2), "River <b>".to_owned());
        let asked = |has_week| About::New(Some(Entrant { id: AthleteId(4), name: "Ana <b>".to_owned(), has_week }));
        let plain = page(About::New(None), Typed::default());
        let with_goal = page(asked(true), Typed { goal: "under 1:30 <b>".to_owned(), ..Typed::default() });
        vec![plain, page(asked(false), Typed::default()), with_goal, page(known(), wrong), page(known(), empty)]
    }
}

/// Whom a new race was asked for.
#[derive(Debug, Default, Deserialize)]
#[serde(default)]
pub(crate) struct Asked {
    athlete: String,
    list: String,
}

/// `GET /races/new`
pub(crate) async fn get_new(
    State(state): State<AppState>,
    layout: Layout,
    Query(asked): Query<Asked>,
) -> Result<Response, AppError> {
    let enters = enters(&state, &asked.athlete).await?;
    let typed = Typed { once: new_once(), list: asked.list, ..Typed::default() };
    show(layout, StatusCode::OK, About::New(enters), typed, Problems::default())
}

/// The athlete of a form, if there still is one.
async fn enters(state: &AppState, typed: &str) -> Result<Option<Entrant>, AppError> {
    let Ok(id) = typed.trim().parse().map(AthleteId) else { return Ok(None) };
    Entrant::read(state, id).await
}

/// `GET /races/{race}/edit`
pub(crate) async fn get(
    State(state): State<AppState>,
    layout: Layout,
    Id(id): Id<RaceId>,
) -> Result<Response, AppError> {
    let record = state.store.race(id).await?.ok_or(AppError::NotFound)?;
    let typed = Typed::of(&record);
    show(layout, StatusCode::OK, About::Known(id, record.race.name), typed, Problems::default())
}

/// `POST /races`
pub(crate) async fn add(
    State(state): State<AppState>,
    layout: Layout,
    Form(typed): Form<Typed>,
) -> Result<Response, AppError> {
    let enters = enters(&state, &typed.athlete).await?;
    let (race, place) = match typed.to_race() {
        Ok(read) => read,
        Err(problems) => return show(layout, StatusCode::UNPROCESSABLE_ENTITY, About::New(enters), typed, problems),
    };
    let importance = Importance::from_code(&typed.importance).unwrap_or_default();
    let goal = one_line(&typed.goal);
    if let Some(entrant) = &enters {
        let race = Race { importance, ..race.clone() };
        let problems = check_goal(&state, entrant, &race, &goal).await?;
        if !problems.is_empty() {
            return show(layout, StatusCode::UNPROCESSABLE_ENTITY, About::New(enters), typed, problems);
        }
    }
    let id = state.store.add_race(&race, &place, read_once(&typed.once), state.clock.now()).await?;
    // The form was sent before, then changed by way of the back button.
    if let Some(kept) = state.store.race(id).await?
        && (&kept.race, &kept.place) != (&race, &place)
    {
        return conflict(layout, id, &Typed::of(&kept), &typed).answer();
    }
    let Some(entrant) = enters else {
        let list = BroughtIn::named(&state, &typed.list).await?;
        let next = list.map_or_else(|| paths::race(id), |list| paths::race_for_list(id, list.step));
        return Ok(notice::redirect(&next, Notice::RaceAdded));
    };
    state.store.enter(id, entrant.id, importance, state.clock.now()).await?;
    Ok(match make_block(&state, &entrant, id, &goal).await? {
        Some(block) => notice::redirect(&paths::block(block), Notice::RaceAddedAndBlockMade),
        None => notice::redirect(&paths::race(id), Notice::RaceAddedFor(entrant.id)),
    })
}

/// `POST /races/{race}`
pub(crate) async fn save(
    State(state): State<AppState>,
    layout: Layout,
    Id(id): Id<RaceId>,
    Form(typed): Form<Typed>,
) -> Result<Response, AppError> {
    let kept = state.store.race(id).await?.ok_or(AppError::NotFound)?;
    let (race, place) = match typed.to_race() {
        Ok(read) => read,
        Err(problems) => {
            let known = About::Known(id, kept.race.name);
            return show(layout, StatusCode::UNPROCESSABLE_ENTITY, known, typed, problems);
        }
    };
    match state.store.save_race(id, read_version(&typed.version), &race, &place, state.clock.now()).await {
        Ok(()) => Ok(notice::redirect(&paths::race(id), Notice::RaceSaved)),
        Err(StoreError::Conflict) => {
            let kept = state.store.race(id).await?.ok_or(AppError::NotFound)?;
            conflict(layout, id, &Typed::of(&kept), &typed).answer()
        }
        Err(error) => Err(error.into()),
    }
}

fn show(
    layout: Layout,
    status: StatusCode,
    about: About,
    typed: Typed,
    problems: Problems,
) -> Result<Response, AppError> {
    render::page(status, &EditPage { layout: layout.at(Area::Races), about, typed, problems })
}

fn conflict(layout: Layout, id: RaceId, kept: &Typed, typed: &Typed) -> ConflictPage {
    let rows = [
        ("name", "Name", &kept.name, &typed.name),
        ("date", "Date", &kept.date, &typed.date),
        ("distance", "Distance", &kept.distance, &typed.distance),
        ("own_distance", "Own distance", &kept.own_distance, &typed.own_distance),
        ("start", "Start", &kept.start, &typed.start),
        ("zone", "Time zone", &kept.zone, &typed.zone),
        ("place", "Place", &kept.place, &typed.place),
    ];
    ConflictPage {
        layout: layout.at(Area::Races),
        what: kept.name.clone(),
        rows: rows.into_iter().map(|(name, label, kept, typed)| Row::new(name, label, kept, typed)).collect(),
        version: kept.version.clone(),
        action: paths::race(id),
        back: paths::race(id),
    }
}
