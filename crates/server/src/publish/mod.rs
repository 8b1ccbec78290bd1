//! Publishing: every block that is handed over as static files in a folder, for any web host.
//!
//! A page and a calendar for each link that works, both as the athletes' door shows them today, under
//! names that nobody can guess. There is no page that lists them. What a run wrote and what is no longer
//! shared, the next run takes away; it touches no other file.

mod folder;
mod page;

use std::path::{Path, PathBuf};

use askama::Template as _;
use axum::Router;
use axum::routing::get;
use chrono::NaiveDate;
use formats::words;
use sha2::{Digest, Sha256};
use store::{Store, StoreError};

use crate::blocks::file::FilePage;
use crate::blocks::lines;
use crate::calendar;
use crate::clock::Clock;
use crate::error::AppError;
use crate::hex::hex;
use crate::paths;
use crate::state::AppState;

#[cfg(test)]
pub(crate) use page::PublishPage;

/// The page and its form.
pub(crate) fn routes() -> Router<AppState> {
    Router::new().route(paths::PUBLISH, get(page::get).post(page::post))
}

/// What a run did.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Published {
    /// The folder.
    pub folder: PathBuf,
    /// The pages in it, in the order of names.
    pub pages: Vec<PublishedPage>,
    /// Files that were new or had changed.
    pub written: usize,
    /// Files that were as they had to be.
    pub unchanged: usize,
    /// Files of earlier runs that were taken away.
    pub removed: usize,
    /// Files of earlier runs that should have been taken away, but are something else by now.
    pub left: Vec<String>,
}

/// One block in the folder.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PublishedPage {
    /// The athlete.
    pub athlete: String,
    /// The race.
    pub race: String,
    /// The name of the page; its calendar differs in the ending.
    pub file: String,
    /// The last day on which it is to be there.
    pub ends: NaiveDate,
}

impl Published {
    /// What was done, for people, a sentence or a page a line.
    pub fn lines(&self) -> Vec<String> {
        let mut told = vec![format!(
            "{} in {}: {} written, {} unchanged, {} taken away.",
            words::plural(self.pages.len(), "block"),
            self.folder.display(),
            words::plural(self.written, "file"),
            self.unchanged,
            self.removed
        )];
        told.extend(self.pages.iter().map(|page| {
            format!("{}, {}: {} (up to {})", page.athlete, page.race, page.file, words::full_date(page.ends))
        }));
        if !self.pages.is_empty() {
            told.push(NO_END.to_owned());
        }
        if !self.left.is_empty() {
            told.push(format!("Left where they are, because they are no files any more: {}.", self.left.join(", ")));
        }
        told
    }
}

/// What a folder cannot do by itself.
pub(crate) const NO_END: &str = "A folder has no end dates of its own: publish again after each of these days and \
whenever a link was ended, and let your web host take away what is gone from the folder.";

/// Why nothing, or not everything, was published.
#[derive(Debug, thiserror::Error)]
pub enum PublishError {
    /// The data file.
    #[error(transparent)]
    Store(#[from] StoreError),
    /// A page could not be made.
    #[error("a page could not be made: {0}")]
    Page(String),
    /// The folder in which the data file is.
    #[error("{0} holds the data file, which must not be published: choose a folder of its own")]
    DataFolder(PathBuf),
    /// Not a folder.
    #[error("{0} is not a folder")]
    NotAFolder(PathBuf),
    /// The list of what was written is not one.
    #[error("{0} is not the list that publishing keeps there: nothing was touched. Choose another folder")]
    List(PathBuf),
    /// The system says no.
    #[error("{path} could not be written: {source}")]
    Io {
        /// Which file.
        path: PathBuf,
        /// What the system says.
        source: std::io::Error,
    },
}

impl From<AppError> for PublishError {
    fn from(error: AppError) -> Self {
        match error {
            AppError::Store(error) => Self::Store(error),
            error => Self::Page(error.to_string()),
        }
    }
}

/// Writes every block whose link works today into a folder, which is made if it does not exist.
///
/// # Errors
///
/// [`PublishError`]; a run that broke off is made good by the next one.
pub async fn publish(store: &Store, clock: Clock, folder: &Path) -> Result<Published, PublishError> {
    let today = clock.today();
    let reader = store.shared_reader().await?;
    let (mut pages, mut files) = (Vec::new(), Vec::new());
    for link in store.working_links(today).await? {
        let (shared, history) = (reader.shared(&link, today).await?, reader.shared_history(&link, today).await?);
        // Ended between the list and now.
        let (Some(shared), Some(history)) = (shared, history) else { continue };
        let name = published_name(&link);
        let calendar = format!("{name}.ics");
        let page = FilePage::of_shared(&shared, calendar.clone(), clock).render().map_err(AppError::from)?;
        let file = format!("{name}.html");
        pages.push(PublishedPage {
            athlete: shared.name,
            race: lines::race_name(&shared.race),
            file: file.clone(),
            ends: shared.ends,
        });
        files.push(folder::File { name: file, bytes: page.into_bytes() });
        files.push(folder::File { name: calendar, bytes: calendar::write(&history)?.into_bytes() });
    }
    let (target, data) = (folder.to_owned(), store.path().to_owned());
    let done = tokio::task::spawn_blocking(move || {
        folder::refuse_data_folder(&target, &data)?;
        folder::bring_up_to_date(&target, &files)
    });
    let done = done.await.map_err(|error| PublishError::Page(error.to_string()))??;
    Ok(Published {
        folder: folder.to_owned(),
        pages,
        written: done.written,
        unchanged: done.unchanged,
        removed: done.removed,
        left: done.left,
    })
}

/// The name under which a block stands on a web host: as hard to guess as its link, and no way back to
/// the link from it.
fn published_name(token: &str) -> String {
    let digest = Sha256::new().chain_update(b"published page\0").chain_update(token.as_bytes()).finalize();
    hex(&digest[..20])
}
