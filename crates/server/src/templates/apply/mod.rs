//! A template for many athletes: whom, how much each, what each week would be, and then all of them at once.

mod choose;
mod preview;

use std::collections::{BTreeMap, BTreeSet};

use axum::extract::{Query, State};
use axum::http::StatusCode;
use axum::response::Response;
use axum_extra::extract::Form;
use planning::Amount;
use planning::notation::read_amount;
use planning::week::weekday_from_code;
use store::{AthleteId, Candidate, StepId, StoreError, TemplateId, TemplateRecord};

use super::filling::{Filling, Now, fill, usual_amount};
use crate::error::AppError;
use crate::extract::Id;
use crate::form::{digest, new_once, one_line, read_once};
use crate::notice::{self, Notice};
use crate::paths;
use crate::render::{self, Layout};
use crate::state::AppState;

pub(crate) use choose::ChoosePage;
pub(crate) use preview::PreviewPage;

/// So many athletes can be ticked at a time.
const AT_A_TIME: usize = 60;

/// What was sent of the preview: whom, how much each, and what is taken of what is the athlete's own.
#[derive(Clone, Debug, Default)]
struct Typed {
    once: String,
    /// What was looked at, one for each athlete.
    versions: BTreeSet<String>,
    athletes: BTreeSet<i64>,
    amounts: BTreeMap<i64, String>,
    /// Whose typed week is replaced, and whether everybody's is.
    replaced: BTreeSet<i64>,
    replaces_all: bool,
    /// Own days of which the template's are taken after all: Monday is 0.
    taken: BTreeSet<(i64, usize)>,
}

impl Typed {
    fn of(fields: Vec<(String, String)>) -> Self {
        let mut typed = Self::default();
        for (name, value) in fields {
            let number = |text: &str| text.parse::<i64>().ok();
            match name.as_str() {
                "once" => typed.once = value,
                "version" => {
                    typed.versions.insert(value);
                }
                "athlete" => typed.athletes.extend(number(&value)),
                "replace" => typed.replaced.extend(number(&value)),
                "replace_all" => typed.replaces_all = true,
                "take" => {
                    let place = value.split_once('-').and_then(|(id, day)| number(id).zip(weekday_from_code(day)));
                    typed.taken.extend(place.map(|(id, day)| (id, day.num_days_from_monday() as usize)));
                }
                _ => {
                    if let Some(id) = name.strip_prefix("amount-").and_then(number) {
                        typed.amounts.insert(id, one_line(&value));
                    }
                }
            }
        }
        if typed.once.is_empty() {
            typed.once = new_once();
        }
        typed
    }

    /// Whom, no more than can be ticked at a time.
    fn ids(&self) -> Vec<AthleteId> {
        self.athletes.iter().take(AT_A_TIME).map(|id| AthleteId(*id)).collect()
    }
}

/// One athlete whom the template is for.
struct One {
    candidate: Candidate,
    /// The amount as typed.
    amount: String,
    filling: Result<Filling, String>,
    /// Whether a week that was typed or brought in gives way.
    is_replaced: bool,
    /// Whether that is so by the athlete's own tick.
    is_ticked: bool,
    taken: BTreeSet<usize>,
}

impl One {
    fn of(candidate: Candidate, template: &TemplateRecord, typed: &Typed) -> Self {
        let id = candidate.athlete.id.0;
        let usual = usual_amount(&candidate, template).map(|amount| amount.to_string()).unwrap_or_default();
        let amount = typed.amounts.get(&id).cloned().unwrap_or(usual);
        let taken: BTreeSet<usize> = typed.taken.range((id, 0)..(id + 1, 0)).map(|(_, day)| *day).collect();
        let filling = read(&amount, &candidate).and_then(|read| {
            fill(template, read, &candidate, |day| taken.contains(&day)).ok_or_else(|| {
                format!("“{}” gives a week that cannot be kept; write another amount.", formats::words::quote(&amount))
            })
        });
        let is_ticked = typed.replaced.contains(&id);
        Self { is_ticked, is_replaced: is_ticked || typed.replaces_all, candidate, amount, filling, taken }
    }

    /// Whether a week that was typed or brought in stands in the way and was not given up.
    fn is_in_the_way(&self) -> bool {
        !self.is_replaced && self.filling.as_ref().is_ok_and(|filling| filling.now == Now::Typed)
    }

    /// Whether anything would be kept for the athlete.
    fn takes_part(&self) -> bool {
        let would_be_kept = |filling: &Filling| filling.kept(&self.candidate).is_some();
        !self.is_in_the_way() && self.filling.as_ref().is_ok_and(would_be_kept)
    }
}

fn read(text: &str, one: &Candidate) -> Result<Amount, String> {
    if text.is_empty() {
        return Err("Write how much a week is to hold, such as 48.".to_owned());
    }
    let read = read_amount(text, one.athlete.draft.athlete.units);
    read.map_err(|kind| format!("{}.", crate::shown::capital(&formats::words::problem_kind(&kind))))
}

/// Everybody who was chosen, by name.
async fn all(state: &AppState, template: &TemplateRecord, typed: &Typed) -> Result<Vec<One>, AppError> {
    let candidates = state.store.candidates_of(&typed.ids()).await?;
    Ok(candidates.into_iter().map(|one| One::of(one, template, typed)).collect())
}

/// A number for what was looked at: the template, an athlete's week, and the amount.
fn seen(template: &TemplateRecord, one: &One) -> String {
    let Candidate { athlete, week, from } = &one.candidate;
    let from = from.as_ref().map(|(used, _)| used);
    let versions = format!("{} {} {} {} {from:?}", template.id, template.version, athlete.id, week.version);
    digest([versions.as_str(), &one.amount])
}

/// `GET /templates/{template}/apply`: whom it is for.
pub(crate) async fn get(
    State(state): State<AppState>,
    layout: Layout,
    Id(id): Id<TemplateId>,
    Query(filter): Query<choose::Filter>,
) -> Result<Response, AppError> {
    let template = state.store.template(id).await?.ok_or(AppError::NotFound)?;
    let page = ChoosePage::load(&state, layout, template, filter).await?;
    render::page(StatusCode::OK, &page)
}

/// `POST /templates/{template}/apply`: shows every week as it would be, saves nothing.
pub(crate) async fn preview(
    State(state): State<AppState>,
    layout: Layout,
    Id(id): Id<TemplateId>,
    Form(fields): Form<Vec<(String, String)>>,
) -> Result<Response, AppError> {
    let template = state.store.template(id).await?.ok_or(AppError::NotFound)?;
    let typed = Typed::of(fields);
    if typed.athletes.is_empty() {
        let page = ChoosePage::load(&state, layout, template, choose::Filter::default()).await?;
        return render::page(StatusCode::UNPROCESSABLE_ENTITY, &page.saying("Tick at least one athlete."));
    }
    let all = all(&state, &template, &typed).await?;
    render::page(StatusCode::OK, &PreviewPage::new(layout, &template, &typed, &all))
}

/// `POST /templates/{template}/apply/save`: keeps the weeks of all who take part, or nobody's.
pub(crate) async fn save(
    State(state): State<AppState>,
    layout: Layout,
    Id(id): Id<TemplateId>,
    Form(fields): Form<Vec<(String, String)>>,
) -> Result<Response, AppError> {
    let template = state.store.template(id).await?.ok_or(AppError::NotFound)?;
    let typed = Typed::of(fields);
    let once = read_once(&typed.once);
    let all = all(&state, &template, &typed).await?;
    // Asked after the reading: what the same form saved meanwhile is not what somebody else changed.
    if let Some(step) = state.store.step_of_form(once).await? {
        return done(&state, id, step).await;
    }
    let page = |told| PreviewPage::new(layout, &template, &typed, &all).saying(told);
    if all.iter().any(|one| !typed.versions.contains(&seen(&template, one))) {
        return render::page(StatusCode::CONFLICT, &page(LOOK_AGAIN));
    }
    if all.iter().any(|one| one.filling.is_err()) {
        return render::page(StatusCode::UNPROCESSABLE_ENTITY, &page("Nothing was saved: an amount cannot be read."));
    }
    let weeks: Vec<_> = all.iter().filter(|one| one.takes_part()).filter_map(kept).collect();
    if weeks.is_empty() {
        let why =
            if all.iter().any(One::is_in_the_way) { TICK_FIRST } else { "Nothing was saved: no week would change." };
        return render::page(StatusCode::UNPROCESSABLE_ENTITY, &page(why));
    }
    match state.store.apply_template((id, template.version), &weeks, once, state.clock.now()).await {
        Ok(step) => done(&state, id, step).await,
        Err(StoreError::Conflict | StoreError::Gone) => render::page(StatusCode::CONFLICT, &page(LOOK_AGAIN)),
        Err(error) => Err(error.into()),
    }
}

fn kept(one: &One) -> Option<store::FilledWeek> {
    one.filling.as_ref().ok()?.kept(&one.candidate)
}

const LOOK_AGAIN: &str = "The template, a week or an amount is not as it was when you looked at it. Nothing is saved yet: \
                          look again at what every week would be.";

const TICK_FIRST: &str = "Nothing was saved: the tick “Put the template in place of all weeks typed or brought in” was \
                          missing, or the same tick at an athlete.";

/// Back to the template, with how many weeks it gave.
async fn done(state: &AppState, id: TemplateId, step: StepId) -> Result<Response, AppError> {
    let (record, _) = state.store.step(step).await?.ok_or(AppError::NotFound)?;
    Ok(notice::redirect(&paths::template(id), Notice::TemplateApplied(step, record.athletes)))
}
