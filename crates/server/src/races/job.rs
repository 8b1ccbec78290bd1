//! Making the blocks of a race beside the requests: one job a race, in pieces, each of them kept before the next.
//!
//! A closed browser does not stop it; a program that ends leaves what was kept, and its step.

use std::collections::HashMap;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Mutex, PoisonError};
use std::time::Duration;

use planning::{Problem, Race};
use store::{AthleteId, Entry, PlannedBlock, RaceId, RaceRecord, StepId};
use tokio::sync::watch;

use crate::blocks::make::Wanted;
use crate::error::{self, AppError};
use crate::state::AppState;

/// How many blocks are planned and kept in one piece.
const PIECE: usize = 10;

/// The jobs that run, and the last one of each race.
#[derive(Clone, Debug, Default)]
pub struct Jobs(Arc<Mutex<HashMap<RaceId, Arc<Job>>>>);

/// The blocks of one race on their way.
#[derive(Debug)]
pub(crate) struct Job {
    pub(crate) total: usize,
    told: watch::Sender<Told>,
    is_cancelled: AtomicBool,
}

/// How far a job is.
#[derive(Clone, Debug, Default)]
pub(crate) struct Told {
    /// How many athletes were looked at.
    pub(crate) done: usize,
    pub(crate) made: u32,
    pub(crate) step: Option<StepId>,
    /// Who has no block, and why.
    pub(crate) failed: Vec<Unplanned>,
    pub(crate) end: Option<End>,
}

/// How a job ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum End {
    Finished,
    Cancelled,
    /// Something went wrong; where it is known, the log says what under this reference.
    Broken(Option<u32>),
}

/// An athlete whose block could not be planned.
#[derive(Clone, Debug)]
pub(crate) struct Unplanned {
    pub(crate) athlete: AthleteId,
    pub(crate) name: String,
    /// What planning found; nothing where the athlete is no longer entered.
    pub(crate) problems: Vec<Problem>,
}

impl Jobs {
    /// The job of a race, running or ended.
    pub(crate) fn of(&self, race: RaceId) -> Option<Arc<Job>> {
        self.0.lock().unwrap_or_else(PoisonError::into_inner).get(&race).map(Arc::clone)
    }

    /// The job of a race that runs now.
    pub(crate) fn running(&self, race: RaceId) -> Option<Arc<Job>> {
        self.of(race).filter(|job| job.now().end.is_none())
    }

    /// A new job for a race, or the one that runs: whether it is new stands beside it.
    fn begin(&self, race: RaceId, total: usize) -> (Arc<Job>, bool) {
        let mut all = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(job) = all.get(&race).filter(|job| job.now().end.is_none()) {
            return (Arc::clone(job), false);
        }
        let (told, _) = watch::channel(Told::default());
        let job = Arc::new(Job { total, told, is_cancelled: AtomicBool::new(false) });
        all.insert(race, Arc::clone(&job));
        (job, true)
    }
}

impl Job {
    pub(crate) fn now(&self) -> Told {
        self.told.borrow().clone()
    }

    /// No further piece is begun. What was kept stays.
    pub(crate) fn cancel(&self) {
        self.is_cancelled.store(true, Ordering::Relaxed);
    }

    /// How far it is as soon as it has ended, or after a while.
    pub(crate) async fn wait(&self, most: Duration) -> Told {
        let mut told = self.told.subscribe();
        let ended = told.wait_for(|told| told.end.is_some());
        match tokio::time::timeout(most, ended).await {
            Ok(Ok(told)) => told.clone(),
            Ok(Err(_)) | Err(_) => self.now(),
        }
    }

    fn end(&self, end: End) {
        self.told.send_if_modified(|told| told.end.is_none() && told.end.replace(end).is_none());
    }
}

/// A job that is dropped on the way, be it by a panic, does not seem to run for ever.
struct Ends(Arc<Job>);

impl Drop for Ends {
    fn drop(&mut self) {
        self.0.end(End::Broken(None));
    }
}

/// Starts to make the blocks of these entrants, or gives the job that does already.
pub(crate) fn start(state: &AppState, race: &RaceRecord, lacking: Vec<Entry>) -> Arc<Job> {
    let (job, is_new) = state.jobs.begin(race.id, lacking.len());
    if is_new {
        tokio::spawn(run(state.clone(), race.clone(), lacking, Ends(Arc::clone(&job))));
    }
    job
}

async fn run(state: AppState, race: RaceRecord, lacking: Vec<Entry>, ends: Ends) {
    let job = &ends.0;
    for piece in lacking.chunks(PIECE) {
        if job.is_cancelled.load(Ordering::Relaxed) {
            return job.end(End::Cancelled);
        }
        if let Err(found) = make_piece(&state, &race, piece, job).await {
            return job.end(End::Broken(Some(error::log(&found))));
        }
    }
    job.end(End::Finished);
}

/// Reads what the blocks of a few athletes are made of, plans them beside the requests, and keeps them.
async fn make_piece(state: &AppState, race: &RaceRecord, piece: &[Entry], job: &Job) -> Result<(), AppError> {
    let (mut wanted, mut failed) = (Vec::new(), Vec::new());
    let unplanned = |entry: &Entry, problems| Unplanned { athlete: entry.athlete, name: entry.name.clone(), problems };
    for entry in piece {
        let Some(athlete) = state.store.athlete(entry.athlete).await? else {
            failed.push(unplanned(entry, Vec::new()));
            continue;
        };
        let of_athlete = Race { importance: entry.importance, ..race.race.clone() };
        wanted.push(Wanted::read(state, athlete, of_athlete, Some(race.id)).await?);
    }
    let plan = move || -> Vec<Result<PlannedBlock, (AthleteId, Vec<Problem>)>> {
        wanted.iter().map(|one| one.plan().map_err(|found| (one.athlete(), found))).collect()
    };
    let planned = tokio::task::spawn_blocking(plan).await.map_err(|error| AppError::Internal(error.to_string()))?;
    let mut made = Vec::new();
    let entry_of = |athlete: AthleteId| piece.iter().find(|entry| entry.athlete == athlete);
    for one in planned {
        match one {
            Ok(block) => made.push(block),
            Err((athlete, found)) => failed.extend(entry_of(athlete).map(|entry| unplanned(entry, found))),
        }
    }
    let kept = state.store.add_blocks(race.id, job.now().step, &made, state.clock.now()).await?;
    failed.extend(kept.gone.iter().filter_map(|athlete| entry_of(*athlete)).map(|entry| unplanned(entry, Vec::new())));
    job.told.send_modify(|told| {
        told.done += piece.len();
        told.made += kept.made;
        told.step = kept.step;
        told.failed.append(&mut failed);
    });
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_job_a_race_runs_at_a_time_and_the_next_begins_when_it_has_ended() {
        let jobs = Jobs::default();
        let (first, is_new) = jobs.begin(RaceId(1), 40);
        assert!(is_new);
        let (same, is_new) = jobs.begin(RaceId(1), 12);
        assert!(!is_new && same.total == 40);
        assert!(jobs.begin(RaceId(2), 3).1, "another race has its own");
        drop(Ends(first));
        assert_eq!(same.now().end, Some(End::Broken(None)), "a job that was dropped has ended");
        same.end(End::Finished);
        assert_eq!(same.now().end, Some(End::Broken(None)), "it ends once");
        assert!(jobs.begin(RaceId(1), 12).1);
    }
}
