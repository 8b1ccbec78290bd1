//! The block that is made with a race, where the race is added on the way from an athlete: who comes from there wants it, and
//! knows the goal.

use planning::Race;
use store::{AthleteId, BlockId, GoalNotes, RaceId, RaceRecord};

use crate::blocks::check_goals;
use crate::blocks::make::{Wanted, make};
use crate::error::AppError;
use crate::form::Problems;
use crate::state::AppState;

/// The control of the goal.
pub(super) const GOAL: &str = "goal";

/// Who is entered with a new race.
pub(super) struct Entrant {
    pub(super) id: AthleteId,
    pub(super) name: String,
    /// Whether a usual week is known, from which a block can be made.
    pub(super) has_week: bool,
}

impl Entrant {
    pub(super) async fn read(state: &AppState, id: AthleteId) -> Result<Option<Self>, AppError> {
        let Some(record) = state.store.athlete(id).await? else { return Ok(None) };
        let week = state.store.week(id).await?;
        let has_week = week.is_some_and(|week| !week.week.running().is_empty());
        Ok(Some(Self { id, name: record.draft.athlete.name, has_week }))
    }
}

/// What keeps a goal from being kept with the block: looked at before anything is saved, as it would be lost then.
pub(super) async fn check_goal(
    state: &AppState,
    entrant: &Entrant,
    race: &Race,
    goal: &str,
) -> Result<Problems, AppError> {
    let mut problems = Problems::default();
    if goal.is_empty() {
        return Ok(problems);
    }
    if !race.importance.has_block() {
        problems.add(
            GOAL,
            "Goal: it is kept with a block, and only a goal race has one. Leave it empty, or make this a goal race.",
        );
        return Ok(problems);
    }
    let notes = GoalNotes { a: goal.to_owned(), ..GoalNotes::default() };
    if let Err(wrong) = check_goals(&notes, race.distance.distance()) {
        wrong.all().iter().for_each(|problem| problems.add(GOAL, problem.sentence.clone()));
        return Ok(problems);
    }
    let Some(athlete) = state.store.athlete(entrant.id).await? else { return Ok(problems) };
    if let Some(found) = Wanted::read(state, athlete, race.clone(), None).await?.plan().err() {
        let why = found.first().map(crate::words::problem).unwrap_or_default();
        problems.add(
            GOAL,
            format!("Goal: it is kept with the block, and none can be made yet. {why} Leave it empty until then."),
        );
    }
    Ok(problems)
}

/// Makes the block of who was entered, with the goal; nothing where none can be made, or the race is none to ebb for. A form
/// that is sent twice leads to the same block.
pub(super) async fn make_block(
    state: &AppState,
    entrant: &Entrant,
    race: RaceId,
    goal: &str,
) -> Result<Option<BlockId>, AppError> {
    let entries = state.store.entries_of(entrant.id).await?;
    let Some((entry, record)) = entries.into_iter().find(|(entry, _)| entry.race == race) else { return Ok(None) };
    if entry.block.is_some() || !entrant.has_week || !entry.importance.has_block() {
        return Ok(entry.block);
    }
    let Some(athlete) = state.store.athlete(entrant.id).await? else { return Ok(None) };
    let race = RaceRecord { race: Race { importance: entry.importance, ..record.race }, ..record };
    let Ok(block) = make(state, &athlete, &race).await? else { return Ok(None) };
    if !goal.is_empty()
        && let Some(kept) = state.store.block(block).await?
    {
        let goals = GoalNotes { a: goal.to_owned(), ..GoalNotes::default() };
        state.store.save_goals(block, kept.version, &goals, state.clock.now()).await?;
    }
    Ok(Some(block))
}
