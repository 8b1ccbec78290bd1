//! Athletes who came with one list, on their way to a race: whoever goes from the notice to a race finds them ticked.

use store::{AthleteId, StepId, StepKind};

use crate::error::AppError;
use crate::state::AppState;

/// Whom a list brought in, or gave a week, as far as that was not undone.
#[derive(Clone, Debug)]
pub(super) struct BroughtIn {
    pub(super) step: StepId,
    pub(super) athletes: Vec<AthleteId>,
}

impl BroughtIn {
    /// Those of the list that an address or a form names; nothing where it names none.
    pub(super) async fn named(state: &AppState, list: &str) -> Result<Option<Self>, AppError> {
        let Ok(id) = list.trim().parse().map(StepId) else { return Ok(None) };
        let found = state.store.step(id).await?.filter(|(step, _)| step.kind == StepKind::BringIn);
        Ok(found.map(|(step, items)| {
            let athletes = items.into_iter().filter(|item| !item.is_given_back).map(|item| item.athlete).collect();
            Self { step: step.id, athletes }
        }))
    }

    #[cfg(test)]
    pub(super) fn sample() -> Self {
        Self { step: StepId(6), athletes: vec![AthleteId(7), AthleteId(8)] }
    }
}
