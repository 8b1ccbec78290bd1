//! A training day on one line, as a coach writes it.
//!
//! ```text
//! day     = nothing | "rest" | "-" | slot { "+" slot }
//! slot    = session { "or" session }
//! session = part { "," part }
//! part    = [kind] amount [kind] | kind
//!         | [kind] reps "x" length [pace words]      the inside of a hard session
//!         | recovery words                           right behind the repetitions: "90 s jog"
//!         | "hard" amount
//!         | "loaded"
//!         | ("with" | "incl." | "last") amount how   a part that is hard: "with 6 km @ MP", "last 5 km at MP"
//!         | [amount] ("warm up" | "cool down")       also behind "then" and "and"; see below
//!         | "(" note ")"                             also at the end of any other part
//! amount  = number [unit] | number "-" number [unit]
//! ```
//!
//! A kind that is not said follows from the rest: repetitions are intervals (hills where the pace
//! words say so, an easy run where they are strides), an amount with a hard part is tempo, an amount
//! alone is easy. A number without a unit is in the athlete's unit, or in minutes for strength,
//! mobility and cross-training.
//!
//! Where a warm-up or a cool-down is said ("wu", "cd" and their like too), the parts stand in the order
//! in which they are run, and the whole is their sum unless an amount before or behind all of them says
//! it; a slot of nothing else belongs to its neighbour ("2 km wu + 6 x 800 m + 2 km cd"). A tempo run
//! between them is the hard part. The words are kept as a note.
//! Strokes and arrows part them as commas do, where a warm-up or a cool-down is named ("WU 3k / 5x1km T / CD 2k").
//! Distance and time have no sum ("2 km wu, 20 min tempo, 2 km cd"): the whole is asked, and the line that would be
//! read is offered. The folder `around` has the examples.
//!
//! What says that running is hard, without saying how much of it, becomes no note of an easy run: [`read_day`] asks,
//! unless the words stand in quotes. "16 km (last 5 km at MP)" says how much, and is read as without the brackets. A kept
//! line stays readable, see [`read_kept_day`].
//!
//! Two sessions of a day may be told by its halves too ("AM 6, PM 8"), by another sport ("8 km, gym") or as a double
//! ("double 6/4"); "rest or" something that is no running is a note of that.
//!
//! A line that begins with a word for rest is a day of rest, whatever stands behind it: "rest - swim if legs heavy" and "rest,
//! physio" keep their words, "off, 30 min swim" is that session, and running there is asked about.
//!
//! Steady running is not counted as hard anywhere: "long 22, last 4 km steady" keeps it as a note. "About 10" and "10-ish"
//! are ten with a note that says so; a range is for what the coach leaves open.
//!
//! Where it is run, or how easily, is a note without brackets ("14-16 hilly", "8 treadmill"), and so is a time of day beside
//! an amount ("6 am 8 km"). An amount that is called the total is the whole, or the sum of the day ("9 total", "6 + 4 = 10"),
//! and so is one in brackets behind repetitions, "10 x 400 (9k)", where it is no recovery and no pace.
//!
//! What stands over a session ("Club session: 6 x 800 m", "Sunday: long run") is a note, and so are low zones and efforts
//! ("zone 2", "RPE 3") and metres of climbing ("25 km +900 m"). "2 x (6 x 400 m)" are twelve, and a run may be told by its
//! parts in brackets, "9 (2 wu, 5 @ T, 2 cd)".
//!
//! Numbers tell a run too where only one of them has a pace, "3 + 8 @ 4:12 + 3" and "14 km, 8 @ 4:12", and so do rounds and
//! ladders of repetitions, "5 x (1' hard 1' easy)" and "400 800 1200 800 400": see the files `sums` and `rounds`. Jogs between
//! repetitions count in a sum however they are told, "200 jog", "jog 200", "r 400 jog".
//!
//! Each half of a day is a line of its own, "AM 6, PM 3 + 8 @ 4:12 + 3", and parts may have the letters of their paces, "16:
//! 4E/8M/4E": see `halves`, `letters`, and `spelled` for the other ways in which numbers are told. Running and walking by
//! turns is one easy run, "17 x (1 run/1 walk)": see `turns`.
//!
//! For an athlete in miles a small number with "m" is miles, "8m easy"; lengths of repetitions and what is jogged or rested
//! between them keep theirs: see the file `miles`.
//!
//! For a line that is refused, [`offers`] finds lines that are read: see the folder `offer`.
//!
//! Words that would be taken for something else stand in double quotes, with `\"`, `\\`, `\n` and
//! `\u{...}` as in most programming languages; a note may stand in quotes inside its brackets.
//!
//! [`write_day`] always says kind and unit, so that its line reads the same for any athlete.

mod amounts;
mod around;
mod bare;
mod climb;
mod date;
mod doubles;
mod draft;
mod halves;
mod hardness;
mod hills;
mod kinds;
mod ladders;
mod letters;
mod line;
mod load;
mod miles;
mod offer;
mod ran;
mod read;
mod rest;
mod result;
mod rounds;
mod runner;
mod sets;
mod spelled;
mod stages;
mod station;
mod sums;
mod temperature;
mod text;
mod time;
mod total;
mod turns;
mod unparted;
mod weight;
mod write;

#[cfg(test)]
mod by_kind;
#[cfg(test)]
mod coaches;
#[cfg(test)]
mod kept;
#[cfg(test)]
mod strangers;
#[cfg(test)]
mod tests;

pub(crate) use around::{around_alone, as_run, fitted, in_note, jogged_in};
pub(crate) use hills::is_count;
pub(crate) use kinds::{MEDIUM_LONG, STRIDES, has_word};
pub(crate) use load::is_without_load;
pub(crate) use sets::rests_alone;
pub(crate) use turns::are_turns;

pub use amounts::{read_amount, read_distance, read_pace};
pub use date::read_date;
pub use offer::{Certainty, Guess, MOST_OFFERS, Offer, offers, settled};
pub use ran::read_week_ran;
pub use read::{read_day, read_kept_day, read_second_week, read_week};
pub use result::{read_result, read_results, with_years};
pub use runner::Runner;
pub use station::{read_stands, read_stations};
pub use temperature::read_temperature;
pub use time::{find_race_time, read_race_time};
pub use weight::read_weight;
pub use write::write_day;
