//! The web server: two doors, their guards, and every page.
//!
//! [`coach_router`] is the coach's door, on loopback only. [`share_router`] is the athletes' door: it
//! holds a read-only connection and no route but what a link shows, so nothing else can leak.
//!
//! A request passes [`guard`] (host, origin, headers, limits), reaches one handler in one page's file
//! (`athletes/show.rs`), which loads from the store, computes in `planning`, and presents a page
//! struct through [`render`]. Addresses are in [`paths`], the clock in [`clock`], the words of the
//! program in `formats::words`.

mod assets;
mod athletes;
mod blocks;
mod board;
mod calendar;
pub mod care;
pub mod clock;
mod conflict;
mod doors;
mod error;
mod extract;
mod form;
pub mod guard;
mod health;
mod hex;
mod log;
mod messages;
mod notice;
mod pages;
pub mod paths;
mod publish;
mod qr;
mod race_day;
mod races;
mod removed;
mod render;
#[cfg(test)]
mod samples;
mod serve;
mod settings;
mod share;
mod shown;
mod sources;
mod squad_calendar;
mod state;
mod steps;
mod templates;
mod trouble;
mod weeks;
mod words;

use axum::Router;
use axum::http::StatusCode;
use axum::middleware::from_fn_with_state;
use axum::routing::get;

pub use clock::Clock;
pub use doors::{Limit, ShareSwitch};
pub use guard::Hosts;
pub use health::answers;
pub use notice::Notice;
pub use publish::{PublishError, Published, PublishedPage, publish};
pub use races::Jobs;
pub use serve::{Config, ServeError, Server, stop_signal};
pub use state::{AppState, Reach, ShareDoor, ShareState};
pub use trouble::said;

/// Every page of the coach's door behind its guards.
pub fn coach_router(state: AppState, hosts: Hosts) -> Router {
    let routes = Router::new()
        .merge(athletes::routes())
        .merge(board::routes())
        .merge(races::routes())
        .merge(weeks::routes())
        .merge(templates::routes())
        .merge(settings::routes())
        .merge(sources::routes())
        .merge(publish::routes())
        .merge(doors::routes())
        .merge(blocks::routes())
        .merge(race_day::routes())
        .merge(log::routes())
        .merge(messages::routes())
        .merge(removed::routes())
        .merge(steps::routes())
        .merge(squad_calendar::routes())
        .route(paths::HEALTH, get(health::get_coach))
        .route(paths::ASSET, get(assets::get))
        .fallback(|| async { StatusCode::NOT_FOUND })
        .layer(from_fn_with_state(state.clone(), doors::require))
        .with_state(state);
    guard::coach(routes, hosts)
}

/// Everything that the athletes' door holds, behind its guards.
pub fn share_router(state: ShareState, hosts: Hosts) -> Router {
    let routes = Router::new()
        .merge(share::routes())
        .route(paths::HEALTH, get(health::get))
        .route(paths::ASSET, get(assets::get_shared))
        .fallback(|| async { StatusCode::NOT_FOUND })
        .with_state(state);
    guard::share(routes, hosts)
}
