//! The whole story of a coach, in a real browser on real ports.
//!
//! One file a story. Each starts an app of its own and a browser of its own, so that stories can run
//! side by side and one that fails leaves nothing to the others.

mod app;
mod driver;
mod page;
mod print;

mod accessible;
mod bending;
mod file;
mod messages;
mod paper;
mod phone;
mod pictures;
mod race_day;
mod ticks;
mod week;
mod whole_story;
