//! Situations as coaches and runners meet them, each with its whole kind: the race on any weekday, more and
//! less running, either unit.
//!
//! Amounts and bands: common practice, no published source, unless a test names one. Every runner, week
//! and race is invented.

mod amounts;
mod habits;
mod people;
mod runner;
mod volumes;
