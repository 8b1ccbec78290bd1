//! The base week, a line a day with its reading beside it.

use askama::Template;
use axum::extract::State;
use axum::http::StatusCode;
use axum::response::Response;
use axum_extra::extract::Form;
use formats::words;
use planning::Athlete;
use serde::Deserialize;
use store::{AthleteId, AthleteRecord, StoreError, WeekDraft, WeekRecord};

use super::reading::{Lines, Reading, refused, weekdays};
use crate::conflict::{ConflictPage, Row};
use crate::error::AppError;
use crate::extract::Id;
use crate::form::{Problems, one_line, read_version};
use crate::notice::{self, Notice};
use crate::paths;
use crate::render::{self, Area, Layout, Page};
use crate::state::AppState;

/// The longest line of a day, in characters.
const LINE_MOST: usize = 500;

/// Seven lines, what they say, and how to write them.
#[derive(Template)]
#[template(path = "weeks/show.html")]
pub(crate) struct ShowPage {
    layout: Layout,
    id: AthleteId,
    name: String,
    unit: &'static str,
    version: String,
    lines: Lines,
    reading: Reading,
}

/// The form as typed.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(default)]
pub(crate) struct Typed {
    version: String,
    mon: String,
    tue: String,
    wed: String,
    thu: String,
    fri: String,
    sat: String,
    sun: String,
    range: String,
}

impl Typed {
    fn lines(self) -> (String, Lines) {
        let Self { version, mon, tue, wed, thu, fri, sat, sun, range } = self;
        let days = [mon, tue, wed, thu, fri, sat, sun].map(|line| one_line(&line));
        (version, Lines { days, range: one_line(&range) })
    }
}

/// One day on the page.
struct Day<'a> {
    code: &'static str,
    name: &'static str,
    line: &'a str,
    reading: &'a str,
}

impl ShowPage {
    fn new(layout: Layout, id: AthleteId, athlete: &Athlete, version: String, lines: Lines) -> Self {
        let mut reading = Reading::of(&lines, athlete);
        for ((code, name), line) in weekdays().into_iter().zip(&lines.days) {
            reading.problems.check_length(code, name, line, LINE_MOST);
        }
        Self {
            layout: layout.at(Area::Athletes),
            id,
            name: athlete.name.clone(),
            unit: words::distance_unit(athlete.units),
            version,
            lines,
            reading,
        }
    }

    fn problems(&self) -> &Problems {
        &self.reading.problems
    }

    fn days(&self) -> Vec<Day<'_>> {
        let texts = self.lines.days.iter().zip(&self.reading.days);
        weekdays()
            .into_iter()
            .zip(texts)
            .map(|((code, name), (line, reading))| Day { code, name, line, reading })
            .collect()
    }

    /// Lines as a coach may write them, and what each of them means.
    fn examples() -> [(&'static str, &'static str); 6] {
        [
            ("7", "an easy run of 7, in the athlete's unit"),
            ("50-60 min", "an easy run by time; a range is fine everywhere"),
            ("6 x 800 m 10k pace, 90 s jog, 10-11 km", "intervals: the repetitions, the recovery, the whole session"),
            ("tempo 9 km, hard 4", "of which 4 km are hard"),
            ("5 + strength 30, loaded", "two sessions; strength and mobility count in minutes"),
            ("tempo or hills 9 (with the club)", "one of two, and a note in brackets"),
        ]
    }
}

impl Page for ShowPage {
    #[cfg(test)]
    fn samples() -> Vec<Self> {
        let athlete = Athlete { name: "Ana <b>".to_owned(), ..Athlete::default() };
        let page = |days: [&str; 7], range: &str| {
            let lines = Lines { days: days.map(str::to_owned), range: range.to_owned() };
            Self::new(Layout::plain(), AthleteId(4), &athlete, "3".to_owned(), lines)
        };
        vec![
            page([""; 7], ""),
            page(["", "6 x 800 m, 10 (<b>)", "7-9", "tempo or hills 9", "strength 30", "5 + 4", "long 16"], "50-56"),
            page(["7 furlongs <b>", "9 x", "-", "tempo 5 km, hard 9", "8-3", "", "\"<b>"], "lots"),
        ]
    }
}

/// `GET /athletes/{athlete}/week`
pub(crate) async fn get(
    State(state): State<AppState>,
    layout: Layout,
    Id(id): Id<AthleteId>,
) -> Result<Response, AppError> {
    let (record, week) = load(&state, id).await?;
    let (version, lines) = kept(week);
    render::page(StatusCode::OK, &ShowPage::new(layout, id, &record.draft.athlete, version, lines))
}

/// `POST /athletes/{athlete}/week/preview`: reads the lines, saves nothing.
pub(crate) async fn preview(
    State(state): State<AppState>,
    layout: Layout,
    Id(id): Id<AthleteId>,
    Form(typed): Form<Typed>,
) -> Result<Response, AppError> {
    let (record, _) = load(&state, id).await?;
    let (version, lines) = typed.lines();
    render::page(StatusCode::OK, &ShowPage::new(layout, id, &record.draft.athlete, version, lines))
}

/// `POST /athletes/{athlete}/week`
pub(crate) async fn post(
    State(state): State<AppState>,
    layout: Layout,
    Id(id): Id<AthleteId>,
    Form(typed): Form<Typed>,
) -> Result<Response, AppError> {
    let (record, _) = load(&state, id).await?;
    let (version, lines) = typed.lines();
    let mut page = ShowPage::new(layout, id, &record.draft.athlete, version, lines);
    if !page.problems().is_empty() {
        return render::page(StatusCode::UNPROCESSABLE_ENTITY, &page);
    }
    match save(&state, layout, &record, &page.version, &page.lines).await? {
        Saved::Answered(response) => Ok(response),
        Saved::Refused(problems) => {
            page.reading.problems = problems;
            render::page(StatusCode::UNPROCESSABLE_ENTITY, &page)
        }
    }
}

/// What came of a save.
pub(super) enum Saved {
    /// Saved, or in conflict with another save: here is the answer.
    Answered(Response),
    /// The store found something wrong after all.
    Refused(Problems),
}

/// Saves lines that were read without a problem; a stale save shows both versions.
pub(super) async fn save(
    state: &AppState,
    layout: Layout,
    athlete: &AthleteRecord,
    version: &str,
    lines: &Lines,
) -> Result<Saved, AppError> {
    let id = athlete.id;
    let (_, kept_now) = load(state, id).await?;
    let draft = WeekDraft { lines: lines.days.clone(), range: lines.range.clone(), ..kept_now.draft() };
    match state.store.save_week(id, read_version(version), &draft, state.clock.now()).await {
        Ok(()) => Ok(Saved::Answered(notice::redirect(&paths::week(id), Notice::WeekSaved))),
        Err(StoreError::Conflict) => {
            let (_, week) = load(state, id).await?;
            let page = conflict(layout, athlete, kept(week), lines);
            Ok(Saved::Answered(render::page(StatusCode::CONFLICT, &page)?))
        }
        Err(StoreError::Refused(found)) => Ok(Saved::Refused(refused(&found))),
        Err(error) => Err(error.into()),
    }
}

/// The athlete and the base week.
pub(super) async fn load(state: &AppState, id: AthleteId) -> Result<(AthleteRecord, WeekRecord), AppError> {
    let record = state.store.athlete(id).await?.ok_or(AppError::NotFound)?;
    let week = state.store.week(id).await?.ok_or(AppError::NotFound)?;
    Ok((record, week))
}

fn kept(week: WeekRecord) -> (String, Lines) {
    (week.version.to_string(), Lines { days: week.lines, range: week.range })
}

fn conflict(layout: Layout, athlete: &AthleteRecord, (version, kept): (String, Lines), typed: &Lines) -> ConflictPage {
    let days = weekdays().into_iter().zip(kept.days.iter().zip(&typed.days));
    let mut rows: Vec<Row> = days.map(|((code, name), (kept, typed))| Row::new(code, name, kept, typed)).collect();
    rows.push(Row::new("range", "Range of the week", &kept.range, &typed.range));
    ConflictPage {
        layout: layout.at(Area::Athletes),
        what: format!("The base week of {}", athlete.draft.athlete.name),
        rows,
        version,
        action: paths::week(athlete.id),
        back: paths::week(athlete.id),
    }
}
