//! The only English for problems, rules, reasons and the names of things: pages, printed sheets and
//! files all say the same words.
//!
//! A message says what is wrong, quotes the value and says what would be right. A reason says what a
//! session usually is, what it is now, and why. Nothing here promises anything.
//!
//! Every `match` over an enum of `planning` is exhaustive: a new reason, rule or problem without words
//! does not compile.

mod amounts;
mod beginning;
mod bending;
mod calendar;
mod change_rules;
mod coming_back;
mod course;
mod dates;
mod estimates;
mod findings;
mod lines;
mod messages;
mod names;
mod pacing;
mod problems;
mod questions;
pub mod race_day;
mod reasons;
mod results;
mod sessions;
mod squad_file;
mod squad_table;
mod unwell;
mod weeks;

pub(crate) use amounts::tenth;
pub use amounts::{
    amount, amount_in, bare, in_all, in_all_brief, in_all_of, number, per_cent, short_number, totals,
    totals_as_distance,
};
pub use beginning::{beginning, beginning_for_athlete, comes_down, first_day};
pub use bending::{edit, variant};
pub use calendar::{
    calendar_name, called_off_summary, event_description, event_summary, race_description, race_summary,
};
pub use change_rules::change_rule;
pub use coming_back::{coming_back, coming_back_reservation};
pub use course::{gpx_problem, height, line_shape, measured, official, place, race_place};
pub use dates::{date_range, days_to_race, full_date, long_date, short_date, weekday, weekday_short};
pub use estimates::{formula, from_training, lacking, left_out, past_result, spread};
pub use findings::{finding, heading, rule, source, stop};
pub use lines::{day, kept_as, offer, remark};
pub use messages::{
    BLOCK_START_SPARED, CALLED_OFF, CALLED_OFF_AFTER, CALLED_OFF_DAYS, CALLED_OFF_USUAL, HAND_OVER_AGAIN,
    HAND_OVER_AGAIN_SPARED, HAND_OVER_SPARED, SPARED, WITHDRAWN, hand_over_while_it_begins, message, message_field,
    message_problem, message_where_down_before,
};
pub use names::{
    adjustment, day_before, distance_unit, event, event_kind, extra_rest, importance, kind, level, moment,
    race_distance, shape, unit,
};
pub use pacing::{for_a_clinician, goal_finding, mark, pace, strategy, too_many_words};
pub use problems::{expected, field, problem, problem_kind, quote};
pub use questions::{answer, question, question_sheet};
pub use reasons::{dropped, reason, reasons};
pub use results::{against_goals, no_hard_running, outcome, recovery_step};
pub(crate) use sessions::typed_in;
pub use sessions::{beside, hard_part, inside, is_hard_assumed, part_in_block, planned, session, session_in, sets};
pub use squad_file::{SQUAD_README, bundle_problem};
pub use squad_table::{cell_problem, table_column, table_problem, table_row};
pub use unwell::{unwell, unwell_reservation};
pub use weeks::{cut, cut_in_short, fitted, mean_of_two, seven_days, typical, usual_week, week, week_name, whose_turn};

/// The caution that every sheet and page carries.
pub const CAUTION: &str = "General guidance, not medical advice. Pain, chest symptoms, fainting, fever or illness \
below the neck: stop and see a clinician. Under 18, pregnant, or with a heart or metabolic condition, a history of an \
eating disorder or signs of low energy: plan with a qualified professional.";

/// A count and its noun: `1 day`, `2 days`.
pub fn plural(count: usize, one: &str) -> String {
    if count == 1 { format!("1 {one}") } else { format!("{count} {one}s") }
}

/// Words as a sentence: a capital in front, a full stop behind.
pub(crate) fn sentence(words: &str) -> String {
    let stop = if words.ends_with(['.', '?', '!', '\u{201d}']) { "" } else { "." };
    capital(words) + stop
}

/// Words with a capital in front.
fn capital(words: &str) -> String {
    let mut letters = words.chars();
    // Room for a full stop behind.
    let mut said = String::with_capacity(words.len() + 1);
    said.extend(letters.next().into_iter().flat_map(char::to_uppercase));
    said + letters.as_str()
}

/// `a`, `a and b`, `a, b and c`.
pub fn list(items: &[String]) -> String {
    match items {
        [] => String::new(),
        [only] => only.clone(),
        [first @ .., last] => format!("{} and {last}", first.join(", ")),
    }
}
