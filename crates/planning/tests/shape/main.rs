//! The shape of a block, rule by rule, on small weeks made for each.
//!
//! Source of the rules: common practice, no published source, unless a test names one. All weeks are
//! invented.

mod coach;
mod key_session;
mod long_runs;
mod notes;
mod optional_runs;
mod other_hard_sessions;
mod pins;
mod problems;
mod quick_touches;
mod race_day;
mod rest_days;
mod second_runs;
mod slots_and_units;
mod strength_and_cross_training;
mod strides;
mod warm_ups;
