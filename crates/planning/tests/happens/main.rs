//! What happens on the way: other races, races that move, illness and the like. Situations that
//! runners and coaches meet, with weeks and people of our own invention, and properties over random weeks.
//!
//! Source of the rules: common practice, no published source, unless a test names one.

mod coach;
mod events;
mod moved_races;
mod properties;
#[path = "../random/mod.rs"]
mod random;
mod season;
mod several_races;
mod travel;
mod true_words;
#[path = "../weeks/mod.rs"]
mod weeks;
