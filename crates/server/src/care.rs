//! Looks after the data file while the program runs: the day's backup, what is past its days, and what
//! the coach should know of the place where the file lies.

use std::sync::{Arc, RwLock};
use std::time::Duration;

use chrono::TimeDelta;
use store::{Purged, StoreError};

use crate::state::AppState;
use crate::trouble;

/// How often it is asked whether a new day has begun: a laptop that slept sees its new day soon.
const EVERY: Duration = Duration::from_mins(15);

/// How long the first round waits: who has just started the program waits for the first page, and of a large
/// squad a backup would take half of the machine meanwhile.
const FIRST_AFTER: Duration = Duration::from_secs(2);

/// How far behind a clock may be without a word.
const SLACK: TimeDelta = TimeDelta::minutes(2);

/// What the last round found.
#[derive(Clone, Debug, Default)]
pub struct Care(Arc<RwLock<Vec<String>>>);

impl Care {
    /// What the coach should know, a sentence or two each; mostly nothing.
    pub fn warnings(&self) -> Vec<String> {
        // A round that broke off in the middle leaves the list as it was.
        self.0.read().unwrap_or_else(std::sync::PoisonError::into_inner).clone()
    }

    fn tell(&self, warnings: Vec<String>) {
        *self.0.write().unwrap_or_else(std::sync::PoisonError::into_inner) = warnings;
    }
}

/// Looks around without changing anything: where the file lies, and whether the clock can be right.
pub async fn look_around(state: &AppState) {
    state.care.tell(around(state).await);
}

/// One round: looks around, makes the day's backup unless there is one, then lets go what is past its
/// days. Without the day's backup nothing goes.
pub async fn round(state: &AppState) {
    let mut warnings = around(state).await;
    match state.store.back_up_day(state.clock.today()).await {
        Ok(()) => match state.store.purge(state.clock.now()).await {
            Ok(Purged::Gone(count)) => tracing::info!(count, "what was removed thirty days ago is gone for good"),
            Ok(Purged::Waits | Purged::Nothing) => {}
            Err(error) => {
                tracing::warn!(%error, "what was removed could not be let go");
                warnings.push(failed("What was removed long ago could not be let go.", &error));
            }
        },
        Err(error) => {
            tracing::warn!(%error, "there is no backup of today");
            warnings.push(failed("Today's backup could not be made.", &error));
        }
    }
    state.care.tell(warnings);
}

/// Goes round soon after the start and then at least once a day, for as long as it is polled.
pub(crate) async fn keep(state: AppState) {
    tokio::time::sleep(FIRST_AFTER).await;
    loop {
        round(&state).await;
        tokio::time::sleep(EVERY).await;
    }
}

async fn around(state: &AppState) -> Vec<String> {
    let mut found = Vec::new();
    match state.store.newest_instant().await {
        Ok(Some(newest)) if newest > state.clock.now() + SLACK => {
            let (now, newest) = (state.clock.now(), newest);
            found.push(format!(
                "The clock of this machine may be wrong: it says {}, but something was saved on {}. Set it right before \
                 you plan; days to go are counted by it. Nothing is lost.",
                now.format("%-d %B %Y, %H:%M UTC"),
                newest.format("%-d %B %Y, %H:%M UTC")
            ));
        }
        Ok(_) => {}
        Err(error) => found.push(failed("The data file could not be read.", &error)),
    }
    if let Some(folder) = state.store.synced_folder() {
        found.push(format!(
            "The data file lies in {}, which looks like a folder that is kept the same on several machines. Two of them \
             can damage it between them: keep the file in a folder of this machine (start with --data), and put only \
             backups there.",
            folder.display()
        ));
    }
    let copies = state.store.conflicted_copies();
    if let [first, ..] = copies.as_slice() {
        found.push(format!(
            "Beside the data file lies {}{}, a second version that was made where two machines saved at once. Ebbline \
             does not open it by itself. To look into it, start Ebbline with --data and this name.",
            first.display(),
            match copies.len() {
                1 => String::new(),
                more => format!(" and {} more", more - 1),
            }
        ));
    }
    found
}

/// What failed, in a sentence, and what the data file says of it.
fn failed(what: &str, error: &StoreError) -> String {
    format!("{what} {}", trouble::said(error))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_warning_is_whole_sentences_with_one_stop_each() {
        let warning = failed("What was removed long ago could not be let go.", &StoreError::DiskFull);
        assert_eq!(
            warning,
            "What was removed long ago could not be let go. The disk is full. Nothing was written, and what was saved \
             before is safe. Make room on the disk."
        );
    }
}
