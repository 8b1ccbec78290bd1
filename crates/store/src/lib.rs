//! Keeps the squad: the only crate that contains SQL.
//!
//! One SQLite file. [`Store`] is the coach's door: it reads and writes. [`SharedReader`] is the
//! athletes' door: it holds a read-only connection and can do nothing but look up what is shared.
//! Public methods open the transaction (`BEGIN IMMEDIATE` to write), private functions take it; rows
//! become values of `planning` in one place per table.
//!
//! # What this crate may know
//!
//! SQLite and `planning`. No HTTP, no English for users; the day of today and the present instant are
//! arguments.

mod error;
mod ids;
mod model;
mod store;

pub use error::{Result, StoreError};
pub use ids::{AthleteId, BlockId, RaceId, ShareId, Version};
pub use model::*;
pub use store::{SharedReader, Store};
