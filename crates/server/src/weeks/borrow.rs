//! Another athlete's week as a start: fitted to a total, never copied as it is without a look.

use std::collections::HashMap;

use axum::extract::State;
use axum::http::StatusCode;
use axum::response::Response;
use axum_extra::extract::Form;
use formats::words;
use planning::notation::read_amount;
use planning::{Amount, Athlete, BaseWeek};
use store::AthleteId;

use super::reading::{Lines, written};
use super::show::{ShowPage, load, typed};
use crate::error::AppError;
use crate::extract::Id;
use crate::form::Problems;
use crate::render::{self, Layout};
use crate::state::AppState;

/// So many names are told where a part of a name fits several.
const TOLD: usize = 5;

/// `POST /athletes/{athlete}/week/borrow`: the lines of another athlete, fitted to a total; saves nothing.
pub(crate) async fn post(
    State(state): State<AppState>,
    layout: Layout,
    Id(id): Id<AthleteId>,
    Form(fields): Form<HashMap<String, String>>,
) -> Result<Response, AppError> {
    let (record, _) = load(&state, id).await?;
    let (version, lines) = typed(&fields);
    let athlete = &record.draft.athlete;
    let mut problems = Problems::default();
    let total = read_total(&lines.borrow_total, athlete, &mut problems);
    let from = find(&state, id, &lines.borrow_from, &mut problems).await?;
    let page = |lines| ShowPage::new(layout, id, athlete, version, lines, state.clock.today());
    let (Some((from, week)), true) = (from, problems.is_empty()) else {
        return render::page(StatusCode::UNPROCESSABLE_ENTITY, &page(lines).with_problems(problems));
    };
    let week = match total {
        Some(total) => planning::fit::scaled_to(&planning::fit::told_in(&week, athlete.units), total, from.easy_pace),
        None => week,
    };
    let taken = Lines {
        days: written(week.first()),
        second: week.turns().map(|turns| written(&turns.week)).unwrap_or_default(),
        stands_on: week.turns().map(|turns| turns.stands_on.to_string()).unwrap_or_default(),
        range: String::new(),
        ..lines
    };
    let mut page = page(taken);
    page.done = said(&from.name, total, athlete);
    render::page(StatusCode::OK, &page)
}

fn said(name: &str, total: Option<Amount>, athlete: &Athlete) -> String {
    let fitted = match total {
        Some(total) => format!(
            "fitted to {}, each session the same part of what it was",
            words::amount(words::amount_in(total, athlete.units))
        ),
        None => "as it is".to_owned(),
    };
    format!("The week of {name}, {fitted}. Nothing is saved yet: look it over, change what you like, then save.")
}

fn read_total(text: &str, athlete: &Athlete, problems: &mut Problems) -> Option<Amount> {
    if text.is_empty() {
        return None;
    }
    match read_amount(text, athlete.units) {
        Ok(total) => Some(total),
        Err(kind) => {
            let problem = planning::Problem::new(planning::Field::RecentWeeks, kind);
            problems.add("borrow_total", crate::words::problem(&problem));
            None
        }
    }
}

/// The one other athlete whom a name fits, whole or in part, with a base week that holds running.
async fn find(
    state: &AppState,
    but: AthleteId,
    name: &str,
    problems: &mut Problems,
) -> Result<Option<(Athlete, BaseWeek)>, AppError> {
    if name.is_empty() {
        problems.add("borrow_from", "Type whose week to take: a name, or a part of it.");
        return Ok(None);
    }
    let mut found = state.store.find_athletes(name).await?;
    found.retain(|record| record.id != but);
    if let Some(place) = found.iter().position(|record| record.draft.athlete.name == name) {
        found = vec![found.swap_remove(place)];
    }
    let names: Vec<&str> = found.iter().map(|record| record.draft.athlete.name.as_str()).take(TOLD).collect();
    let sentence = match found.as_slice() {
        [] => format!("No other athlete is called \u{201c}{name}\u{201d}."),
        [only] => {
            let week = state.store.week(only.id).await?.ok_or(AppError::NotFound)?.week;
            if !week.running().is_empty() {
                return Ok(Some((only.draft.athlete.clone(), week)));
            }
            format!("{} has no base week with running yet.", only.draft.athlete.name)
        }
        several => format!(
            "\u{201c}{name}\u{201d} fits {} athletes: {}{}. Type more of the name.",
            several.len(),
            names.join(", "),
            if several.len() > TOLD { ", and more" } else { "" }
        ),
    };
    problems.add("borrow_from", sentence);
    Ok(None)
}
