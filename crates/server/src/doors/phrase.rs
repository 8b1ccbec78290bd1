//! The pass phrase of the coach's pages: set, changed, removed.

use argon2::Argon2;
use argon2::password_hash::{PasswordHash, PasswordHasher, PasswordVerifier, SaltString};
use axum::extract::State;
use axum::http::StatusCode;
use axum::response::Response;
use axum_extra::extract::Form;
use serde::Deserialize;
use tokio::sync::Semaphore;
use uuid::Uuid;

use super::show::DoorsPage;
use super::sign_in;
use crate::error::AppError;
use crate::form::Problems;
use crate::notice::{self, Notice};
use crate::paths;
use crate::render::{self, Layout};
use crate::state::{AppState, Reach};

/// The fewest characters of a pass phrase.
pub(super) const LEAST: usize = 12;
/// The most characters.
const MOST: usize = 200;

/// One hash at a time: each takes 19 MiB and tens of milliseconds, which nobody should multiply by asking often.
static ONE_AT_A_TIME: Semaphore = Semaphore::const_new(1);

/// The form as typed; phrases are never shown again.
#[derive(Default, Deserialize)]
#[serde(default)]
pub(crate) struct Typed {
    present: String,
    phrase: String,
    again: String,
    /// `remove` takes it away.
    action: String,
}

/// `POST /settings/pass-phrase`
pub(crate) async fn post(
    State(state): State<AppState>,
    layout: Layout,
    Form(typed): Form<Typed>,
) -> Result<Response, AppError> {
    let doors = state.store.doors().await?;
    let mut problems = Problems::default();
    if let Some(kept) = &doors.pass_phrase
        && !is_right(&typed.present, kept).await?
    {
        problems.add("present", "This is not the present pass phrase.");
    }
    let removes = typed.action == "remove";
    if removes && state.reach == Reach::Network {
        problems.add(
            "present",
            "The coach's pages can be reached from other machines, so they keep a pass phrase. Start Ebbline on \
             127.0.0.1 to remove it.",
        );
    }
    if !removes {
        check(&typed, &mut problems);
    }
    if !problems.is_empty() {
        let page = DoorsPage::read(layout, &state, problems).await?;
        return render::page(StatusCode::UNPROCESSABLE_ENTITY, &page);
    }
    if removes {
        state.store.set_pass_phrase(None, state.clock.now()).await?;
        return Ok(notice::redirect(paths::DOORS, Notice::PassPhraseRemoved));
    }
    let hash = hash(&typed.phrase).await?;
    state.store.set_pass_phrase(Some(&hash), state.clock.now()).await?;
    // Whoever set it need not prove at once that they know it.
    let mut response = notice::redirect(paths::DOORS, Notice::PassPhraseSet);
    sign_in::start(&state, &mut response).await?;
    Ok(response)
}

fn check(typed: &Typed, problems: &mut Problems) {
    let length = typed.phrase.chars().count();
    if length < LEAST {
        problems.add(
            "phrase",
            format!("The pass phrase has {length} characters; use {LEAST} or more, such as four words that only you put together."),
        );
    } else if length > MOST {
        problems.add("phrase", crate::words::too_long("The pass phrase", length, MOST));
    } else if typed.phrase != typed.again {
        problems.add("again", "The two pass phrases are not the same: type it once more.");
    }
}

/// The salted hash of a phrase (Argon2id, RFC 9106), as the PHC string format writes it.
async fn hash(phrase: &str) -> Result<String, AppError> {
    let phrase = phrase.to_owned();
    apart(move || {
        let salt = SaltString::encode_b64(Uuid::new_v4().as_bytes()).map_err(|error| error.to_string())?;
        let hash = Argon2::default().hash_password(phrase.as_bytes(), &salt).map_err(|error| error.to_string())?;
        Ok(hash.to_string())
    })
    .await
}

/// Whether a phrase is the one that was hashed.
pub(super) async fn is_right(phrase: &str, kept: &str) -> Result<bool, AppError> {
    let (phrase, kept) = (phrase.to_owned(), kept.to_owned());
    apart(move || {
        let kept = PasswordHash::new(&kept).map_err(|error| format!("the kept hash: {error}"))?;
        Ok(Argon2::default().verify_password(phrase.as_bytes(), &kept).is_ok())
    })
    .await
}

/// Runs slow work where it keeps nobody waiting but the next of its kind.
async fn apart<T: Send + 'static>(work: impl FnOnce() -> Result<T, String> + Send + 'static) -> Result<T, AppError> {
    let failed = |error: &dyn std::fmt::Display| AppError::Internal(error.to_string());
    let _turn = ONE_AT_A_TIME.acquire().await.map_err(|error| failed(&error))?;
    tokio::task::spawn_blocking(work).await.map_err(|error| failed(&error))?.map_err(AppError::Internal)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[tokio::test]
    async fn a_phrase_is_right_if_it_is_the_same_to_the_letter() {
        let kept = hash("four words of ours").await.unwrap();
        assert!(kept.starts_with("$argon2id$v=19$m=19456,t=2,p=1$"), "{kept}");
        assert!(is_right("four words of ours", &kept).await.unwrap());
        for wrong in ["four words of our", "Four words of ours", "", "four words of ours "] {
            assert!(!is_right(wrong, &kept).await.unwrap(), "{wrong:?}");
        }
        assert_ne!(hash("four words of ours").await.unwrap(), kept, "each with a salt of its own");
        assert!(is_right("x", "no hash").await.is_err());
    }
}
