//! The form of a template, new or known, with its reading beside each line.

use std::collections::HashMap;

use askama::Template;
use axum::extract::State;
use axum::http::StatusCode;
use axum::response::Response;
use axum_extra::extract::Form;
use formats::words;
use planning::Field;
use planning::notation::read_day;
use planning::week::SevenDays;
use store::{StoreError, TemplateDraft, TemplateId, TemplateRecord};

use super::list::runners;
use crate::conflict::{ConflictPage, Row};
use crate::error::AppError;
use crate::extract::Id;
use crate::form::{Problems, many_lines, new_once, one_line, read_once, read_units, read_version};
use crate::notice::{self, Notice};
use crate::paths;
use crate::render::{self, Area, Layout, Page};
use crate::state::AppState;
use crate::weeks::{Answer, LINE_MOST, Taken, control, weekdays};

/// The longest notes, in characters.
const NOTES_MOST: usize = 5000;

/// A template's form.
#[derive(Template)]
#[template(path = "week_templates/edit.html")]
pub(crate) struct EditPage {
    layout: Layout,
    /// The template as it is kept; nothing for a new one.
    known: Option<Known>,
    typed: Typed,
    problems: Problems,
    days: Vec<Day>,
    totals: String,
}

/// What is kept of the template.
#[derive(Clone)]
struct Known {
    id: TemplateId,
    name: String,
    /// Who runs it, in words; empty for nobody.
    runners: String,
    older: u32,
}

/// One day on the page.
struct Day {
    code: &'static str,
    name: &'static str,
    line: String,
    reading: String,
    answer: Answer,
}

/// The form as typed.
#[derive(Clone, Default)]
struct Typed {
    version: String,
    once: String,
    /// The id of a known one.
    template: String,
    name: String,
    units: String,
    lines: [String; 7],
    notes: String,
}

impl Typed {
    fn of_form(fields: &HashMap<String, String>) -> Self {
        let text = |name: &str| fields.get(name).map_or("", String::as_str);
        let mut lines = weekdays().map(|(code, _)| one_line(text(code)));
        Taken::of(fields).put(weekdays().map(|(code, _)| code.to_owned()).into_iter().zip(&mut lines));
        Self {
            version: text("version").to_owned(),
            once: text("once").to_owned(),
            template: text("template").to_owned(),
            name: one_line(text("name")),
            units: text("units").to_owned(),
            lines,
            notes: many_lines(text("notes")),
        }
    }

    fn of(record: &TemplateRecord) -> Self {
        let TemplateDraft { name, units, lines, notes } = record.draft.clone();
        Self {
            version: record.version.to_string(),
            once: String::new(),
            template: record.id.to_string(),
            name,
            units: units.symbol().to_owned(),
            lines,
            notes,
        }
    }

    /// What is kept: lines that have one answer in its words.
    fn draft(&self) -> TemplateDraft {
        let units = read_units(&self.units);
        let lines = self.lines.each_ref().map(|line| Answer::of(line, units).line(line).to_owned());
        TemplateDraft { name: self.name.clone(), units, lines, notes: self.notes.clone() }
    }

    fn problems(&self) -> Problems {
        let mut problems = Problems::default();
        for problem in self.draft().read().err().unwrap_or_default() {
            match problem.at {
                Field::AthleteName => {
                    problems.add("name", format!("Name: {}.", words::problem_kind(&problem.kind)));
                }
                _ => problems.add(control(&problem.at), crate::words::problem(&problem)),
            }
        }
        for ((code, name), line) in weekdays().into_iter().zip(&self.lines) {
            problems.check_length(code, name, line, LINE_MOST);
        }
        problems.check_length("notes", "Notes", &self.notes, NOTES_MOST);
        let codes = weekdays().map(|(code, _)| code);
        problems.sort_by_controls(&[&["name", "units"], &codes[..], &["notes"]].concat());
        problems
    }
}

impl EditPage {
    fn new(layout: Layout, known: Option<Known>, typed: Typed, problems: Problems) -> Self {
        let draft = typed.draft();
        let slots = draft.lines.each_ref().map(|line| read_day(line, draft.units).ok());
        let is_whole = slots.iter().all(Option::is_some);
        let days = weekdays().into_iter().zip(&typed.lines).zip(&slots).map(|(((code, name), line), slots)| Day {
            code,
            name,
            line: line.clone(),
            reading: slots.as_deref().map(words::day).unwrap_or_default(),
            answer: Answer::of(line, draft.units),
        });
        let days = days.collect();
        let week = SevenDays::new(slots.map(Option::unwrap_or_default));
        let mut totals = words::seven_days(&week, None, draft.units, None);
        if !is_whole {
            totals.push_str(" Days that cannot be read yet are not counted.");
        }
        Self { layout: layout.at(Area::Athletes), known, typed, problems, days, totals }
    }

    fn action(&self) -> String {
        self.known.as_ref().map_or_else(|| paths::TEMPLATES.to_owned(), |known| paths::template(known.id))
    }
}

impl Known {
    fn of(record: &TemplateRecord) -> Self {
        Self {
            id: record.id,
            name: record.draft.name.clone(),
            runners: if record.athletes == 0 { String::new() } else { runners(record.athletes, record.older) },
            older: record.older,
        }
    }
}

impl Page for EditPage {
    #[cfg(test)]
    fn samples() -> Vec<Self> {
        let known = |runners: &str, older| Known {
            id: TemplateId(3),
            name: "Five days <b>".to_owned(),
            runners: runners.to_owned(),
            older,
        };
        let lines = ["", "6 x 800 m, 10 (<b>)", "7-9", "tempo 9", "", "5", "long 16"].map(str::to_owned);
        let wrong = Typed { lines: ["7 furlongs <b>", "", "", "", "", "", ""].map(str::to_owned), ..Typed::default() };
        let good = Typed { name: "Five days <b>".to_owned(), version: "2".to_owned(), lines, ..Typed::default() };
        let problems = wrong.problems();
        let page = |known, typed, problems| Self::new(Layout::plain(), known, typed, problems);
        vec![
            page(None, Typed::default(), Problems::default()),
            page(None, wrong, problems),
            page(Some(known("", 0)), good.clone(), Problems::default()),
            page(Some(known("3 athletes, 1 of them by an older version", 1)), good, Problems::default()),
        ]
    }
}

/// `GET /templates/new`
pub(crate) async fn get_new(State(state): State<AppState>, layout: Layout) -> Result<Response, AppError> {
    let units = state.store.settings().await?.units.symbol().to_owned();
    let typed = Typed { once: new_once(), units, ..Typed::default() };
    render::page(StatusCode::OK, &EditPage::new(layout, None, typed, Problems::default()))
}

/// `GET /templates/{template}`
pub(crate) async fn get(
    State(state): State<AppState>,
    layout: Layout,
    Id(id): Id<TemplateId>,
) -> Result<Response, AppError> {
    let record = state.store.template(id).await?.ok_or(AppError::NotFound)?;
    let page = EditPage::new(layout, Some(Known::of(&record)), Typed::of(&record), Problems::default());
    render::page(StatusCode::OK, &page)
}

/// `POST /templates/preview`: reads the lines, saves nothing.
pub(crate) async fn preview(
    State(state): State<AppState>,
    layout: Layout,
    Form(fields): Form<HashMap<String, String>>,
) -> Result<Response, AppError> {
    let typed = Typed::of_form(&fields);
    let known = match typed.template.parse() {
        Ok(id) => state.store.template(TemplateId(id)).await?,
        Err(_) => None,
    };
    // What is not typed yet is not wrong yet.
    let mut problems = typed.problems();
    problems.leave_out("name");
    render::page(StatusCode::OK, &EditPage::new(layout, known.as_ref().map(Known::of), typed, problems))
}

/// `POST /templates`
pub(crate) async fn add(
    State(state): State<AppState>,
    layout: Layout,
    Form(fields): Form<HashMap<String, String>>,
) -> Result<Response, AppError> {
    let typed = Typed::of_form(&fields);
    let problems = typed.problems();
    if !problems.is_empty() {
        return render::page(StatusCode::UNPROCESSABLE_ENTITY, &EditPage::new(layout, None, typed, problems));
    }
    let draft = typed.draft();
    let id = state.store.add_template(&draft, read_once(&typed.once), state.clock.now()).await?;
    match state.store.template(id).await? {
        // The form was sent before, then changed by way of the back button.
        Some(kept) if kept.draft != draft => conflict(layout, &kept, &typed).answer(),
        _ => Ok(notice::redirect(&paths::template(id), Notice::TemplateAdded)),
    }
}

/// `POST /templates/{template}`
pub(crate) async fn save(
    State(state): State<AppState>,
    layout: Layout,
    Id(id): Id<TemplateId>,
    Form(fields): Form<HashMap<String, String>>,
) -> Result<Response, AppError> {
    let kept = state.store.template(id).await?.ok_or(AppError::NotFound)?;
    let typed = Typed { template: id.to_string(), ..Typed::of_form(&fields) };
    let problems = typed.problems();
    if !problems.is_empty() {
        let page = EditPage::new(layout, Some(Known::of(&kept)), typed, problems);
        return render::page(StatusCode::UNPROCESSABLE_ENTITY, &page);
    }
    match state.store.save_template(id, read_version(&typed.version), &typed.draft(), state.clock.now()).await {
        Ok(()) => Ok(notice::redirect(&paths::template(id), Notice::TemplateSaved)),
        Err(StoreError::Conflict) => {
            let kept = state.store.template(id).await?.ok_or(AppError::NotFound)?;
            conflict(layout, &kept, &typed).answer()
        }
        Err(error) => Err(error.into()),
    }
}

/// `POST /templates/{template}/remove`
pub(crate) async fn remove(State(state): State<AppState>, Id(id): Id<TemplateId>) -> Result<Response, AppError> {
    state.store.remove_template(id, state.clock.now()).await?;
    Ok(notice::redirect(paths::TEMPLATES, Notice::TemplateRemoved(id)))
}

/// `POST /templates/{template}/bring-back`
pub(crate) async fn restore(State(state): State<AppState>, Id(id): Id<TemplateId>) -> Result<Response, AppError> {
    state.store.restore_template(id, state.clock.now()).await?;
    Ok(notice::redirect(&paths::template(id), Notice::BroughtBack))
}

fn conflict(layout: Layout, record: &TemplateRecord, typed: &Typed) -> ConflictPage {
    let kept = Typed::of(record);
    let mut rows =
        vec![Row::new("name", "Name", &kept.name, &typed.name), Row::new("units", "Units", &kept.units, &typed.units)];
    let lines = kept.lines.iter().zip(&typed.lines);
    rows.extend(
        weekdays().into_iter().zip(lines).map(|((code, name), (kept, typed))| Row::new(code, name, kept, typed)),
    );
    rows.push(Row::new("notes", "Notes", &kept.notes, &typed.notes));
    ConflictPage {
        layout: layout.at(Area::Athletes),
        what: format!("The template {}", kept.name),
        rows,
        version: kept.version.clone(),
        action: paths::template(record.id),
        back: paths::template(record.id),
    }
}
