//! The sheet of a shared block, for the athlete's own printer.

use axum::extract::State;
use axum::response::Response;
use planning::DistanceUnit;
use store::Paper;

use super::kept::{self, Answer, What};
use super::{Refused, Token, show};
use crate::blocks::sheet::{Sheet, SheetPage};
use crate::paths;
use crate::state::ShareState;

/// `GET /p/{token}/print`
pub(crate) async fn get(State(state): State<ShareState>, Token(token): Token) -> Result<Response, Refused> {
    let answer = kept::answer(&state, What::Sheet, &token, "", async || {
        let shared = show::read(&state, &token).await?;
        let sheet = Sheet::of_shared(&shared, show::reader(&shared, None), state.clock);
        // The door does not know the coach's paper; who thinks in miles mostly prints on Letter.
        let paper = if shared.units == DistanceUnit::Mi { Paper::Letter } else { Paper::A4 };
        Answer::page(&SheetPage {
            sheet,
            paper,
            back: paths::shared(&token),
            qr: None,
            no_code: None,
            look_first: None,
        })
    });
    Ok(answer.await?.response())
}
