//! Brings a whole squad into an empty data file.

use std::collections::HashMap;

use askama::Template;
use axum::extract::{Multipart, State};
use axum::http::StatusCode;
use axum::response::Response;
use formats::bundle::{self, BundleProblem};
use store::StoreError;

use crate::error::AppError;
use crate::form::{Problems, new_once, read_once};
use crate::notice::{self, Notice};
use crate::render::{self, Area, Layout, Page};
use crate::state::AppState;
use crate::{paths, trouble};

/// What the form may hold: the file and a little around it.
pub(crate) const BODY_MOST: usize = bundle::MOST_BYTES + 64 * 1024;

/// The form, or why there is none.
#[derive(Template)]
#[template(path = "settings/bring_in.html")]
pub(crate) struct BringInPage {
    layout: Layout,
    is_empty: bool,
    once: String,
    problems: Problems,
}

impl Page for BringInPage {
    #[cfg(test)]
    fn samples() -> Vec<Self> {
        let mut problems = Problems::default();
        problems.add("file", formats::words::bundle_problem(&BundleProblem::OddName { name: "<b>".to_owned() }));
        let page = |is_empty, problems| Self { layout: Layout::plain(), is_empty, once: new_once(), problems };
        vec![page(true, Problems::default()), page(false, Problems::default()), page(true, problems)]
    }
}

async fn show(
    state: &AppState,
    layout: Layout,
    status: StatusCode,
    once: String,
    problems: Problems,
) -> Result<Response, AppError> {
    let is_empty = state.store.is_empty().await?;
    render::page(status, &BringInPage { layout: layout.at(Area::Settings), is_empty, once, problems })
}

/// `GET /settings/bring-in`
pub(crate) async fn get(State(state): State<AppState>, layout: Layout) -> Result<Response, AppError> {
    show(&state, layout, StatusCode::OK, new_once(), Problems::default()).await
}

/// `POST /settings/bring-in`
pub(crate) async fn post(
    State(state): State<AppState>,
    layout: Layout,
    form: Result<Multipart, axum::extract::multipart::MultipartRejection>,
) -> Result<Response, AppError> {
    let (once, bytes) = match form {
        Ok(form) => read(form).await,
        Err(_) => (new_once(), Err("Choose the file, then bring it in.".to_owned())),
    };
    let unpacked = match bytes {
        Ok(bytes) => tokio::task::spawn_blocking(move || bundle::unpack(&bytes, |name| name.starts_with("json/")))
            .await
            .map_err(|error| AppError::Internal(error.to_string()))?
            .map_err(|problem| formats::words::bundle_problem(&problem)),
        Err(sentence) => Err(sentence),
    };
    let refused = match unpacked {
        Ok(files) => {
            let files: HashMap<String, String> = files.into_iter().collect();
            let text = |name: &str| files.get(&format!("json/{name}.json")).cloned();
            match state.store.import(text, read_once(&once), state.clock.now()).await {
                Ok(count) => {
                    let count = u32::try_from(count).unwrap_or(u32::MAX);
                    return Ok(notice::redirect(paths::BOARD, Notice::BroughtIn(count)));
                }
                Err(StoreError::Exists) => "This squad is not empty, so nothing was brought in.".to_owned(),
                Err(error @ (StoreError::Archive { .. } | StoreError::Corrupt { .. })) => not_brought_in(&error),
                Err(error) => return Err(error.into()),
            }
        }
        Err(sentence) => sentence,
    };
    let mut problems = Problems::default();
    problems.add("file", refused);
    show(&state, layout, StatusCode::UNPROCESSABLE_ENTITY, once, problems).await
}

/// What does not read back is a fault of the file that was sent, not of the data file.
fn not_brought_in(error: &StoreError) -> String {
    match error {
        StoreError::Corrupt { table, column, row, reason } => match store::archive_place(table) {
            Some((file, key)) => format!(
                "json/{file}.json, the record with {key} {row}, field “{column}”: {reason}. Nothing was brought in."
            ),
            None => "Nothing was brought in: a record in it cannot be read.".to_owned(),
        },
        other => trouble::of(other).text.into_owned(),
    }
}

/// The form's key, and the file or why there is none.
async fn read(mut form: Multipart) -> (String, Result<Vec<u8>, String>) {
    let too_large = || formats::words::bundle_problem(&BundleProblem::TooLarge);
    let (mut once, mut file) = (new_once(), Vec::new());
    loop {
        let field = match form.next_field().await {
            Ok(Some(field)) => field,
            Ok(None) => break,
            Err(error) if error.status() == StatusCode::PAYLOAD_TOO_LARGE => return (once, Err(too_large())),
            Err(_) => return (once, Err("The form broke off on the way. Send it again.".to_owned())),
        };
        let name = field.name().unwrap_or_default().to_owned();
        match (name.as_str(), field.bytes().await) {
            ("once", Ok(bytes)) => once = String::from_utf8_lossy(&bytes).into_owned(),
            ("file", Ok(bytes)) => file = bytes.to_vec(),
            (_, Ok(_)) => {}
            (_, Err(error)) if error.status() == StatusCode::PAYLOAD_TOO_LARGE => return (once, Err(too_large())),
            (_, Err(_)) => return (once, Err("The form broke off on the way. Send it again.".to_owned())),
        }
    }
    if file.is_empty() { (once, Err("Choose the file, then bring it in.".to_owned())) } else { (once, Ok(file)) }
}
