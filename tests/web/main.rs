//! Whole requests through the doors: one file a page, on real data files, today fixed.

#![expect(clippy::expect_used, clippy::unwrap_used, reason = "these are tests: what goes wrong in them fails the test")]

mod athletes;
mod blocks_day;
mod blocks_file;
mod blocks_goals;
mod blocks_hand_over;
mod blocks_make;
mod blocks_print;
mod blocks_replan;
mod blocks_settings;
mod blocks_show;
mod blocks_variants;
mod blocks_versions;
mod board;
mod bring_in;
mod calendar;
mod care;
mod debrief;
mod doors;
mod forms;
mod guards;
mod hostile;
mod log;
mod many;
mod messages;
mod paste;
mod publish;
mod questions;
mod race_card;
mod race_course;
mod race_day;
mod race_morning;
mod races;
mod removed;
mod season;
mod serve;
mod settings;
mod share;
mod sources;
mod squad_calendar;
mod steps;
mod templates;
mod three_days;
mod unwell;
mod weeks;
