//! Text in and out: plan requests, answers, tables, and the words in which the program speaks.
//!
//! Nothing here opens a file or a socket or looks at a clock: text in, values or located errors out,
//! and the other way round.

pub mod answers;
pub mod bundle;
pub mod calendar;
mod called;
pub mod gpx;
mod json;
pub mod log_csv;
pub mod messages;
pub mod plan_answer;
pub mod plan_csv;
pub mod plan_request;
pub mod plan_text;
pub mod race_morning;
pub mod squad_table;
pub mod table;
pub mod words;
pub mod zones;

pub use called::called;
