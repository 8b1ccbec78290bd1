//! Keeps the squad: the only crate that contains SQL.
//!
//! One SQLite file. [`Store`] is the coach's door: it reads and writes. [`SharedReader`] is the
//! athletes' door: it holds read-only connections and can do nothing but look up what is shared.
//! Public methods open the transaction (`BEGIN IMMEDIATE` to write), private functions take it; rows
//! become values of `planning` in one place per table. One file per aggregate: `athletes`, `weeks`,
//! `races`, `courses`, `race_facts`, `entries`, `entrants`, `lists`, `results`, `blocks`, `goals`, `answers`, `life`, `log`,
//! `shares`, `messages`, `settings`, `steps`, `templates`, `board`, `squad_calendar`.
//!
//! # What this crate may know
//!
//! SQLite and `planning`. No HTTP, no English for users; the day of today and the present instant are
//! arguments. Instants are kept to the microsecond.
//!
//! # What always holds
//!
//! * A save carries the version it was read at; a stale one is [`StoreError::Conflict`] and writes nothing.
//! * No press deletes: what is removed is hidden and can be brought back for thirty days.
//! * What does not read back is not written: [`StoreError::Refused`].

mod answers;
mod archive;
mod around;
mod athletes;
mod backup;
mod blocks;
mod board;
mod card;
mod care;
mod cell;
mod check;
mod courses;
mod daily;
mod demo;
mod document;
mod doors;
mod entrants;
mod entries;
mod error;
mod folder;
mod goals;
mod history;
mod ids;
mod life;
mod lines;
mod lists;
mod log;
mod messages;
mod model;
mod once;
mod open;
mod race_facts;
mod race_sheets;
mod races;
mod results;
mod settings;
mod shares;
mod squad_calendar;
mod steps;
mod templates;
mod weeks;

pub use archive::{ArchiveFile, ArchiveProblem, PresentBlock, WrongField, archive_place};
pub use around::BlockAround;
pub use athletes::name_key;
pub use backup::restore;
pub use board::{
    BlockAhead, BlockState, Board, BoardBlock, BoardDay, BoardLog, BoardRow, DAYS_AFTER, DAYS_BEFORE, FixedAgainst,
    Held, NameSearch, Raced, Recovering, Waits, Withdrawn,
};
pub use card::CardEntry;
pub use care::{KEPT_DAYS, Purged, Removed, RemovedThing, What};
pub use daily::DailyBackup;
pub use demo::fill_demo;
pub use entrants::{Enterable, Entrant, EntrantsPage};
pub use entries::Settling;
pub use error::{Result, StoreError};
pub use ids::{AthleteId, BlockId, DoneId, EventId, RaceId, ShareId, StepId, TemplateId, Version};
pub use lists::{BroughtIn, NamedAthlete};
pub use model::*;
pub use open::{MIGRATOR, SharedReader, Store};
pub use race_sheets::{Borders, RaceSheet};
pub use results::{RaceResult, ReallyRan, ResultRecord, past_results};
pub use squad_calendar::{CalendarAsked, CalendarAthlete, CalendarRace, CalendarWeek, SquadCalendar};
pub use steps::{HandedOver, PlannedBlock, Planning, StepItem, StepKind, StepRecord, ToHandOver};
pub use templates::{Candidate, FilledWeek, TemplateDraft, TemplateRecord, TemplateUse, WhichAthletes};

#[cfg(test)]
mod testing;
