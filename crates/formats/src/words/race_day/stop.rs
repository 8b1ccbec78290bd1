//! When to stop, and whom to ask.

/// What makes a runner stop there and get help, one thing each.
pub const STOP: [&str; 4] = [
    "a pain that changes your stride",
    "pain or pressure in the chest, or a heart that stumbles",
    "feeling faint, or having fainted",
    "being confused, or shivering in the heat",
];

/// What to do then.
pub const STOP_THEN: &str = "Stop there and go to the nearest medical help, whatever the watch says.";

/// Painkillers around a race.
///
/// # Source
///
/// Lipman and others 2017: more kidney injury with ibuprofen in a 50-mile trial, read in a secondary source;
/// Wharam and others 2006: a risk for low blood sodium.
pub const PAINKILLERS: &str = "Painkillers: none around the race unless a clinician says so.";

/// Illness in the last days.
pub const ILL: &str = "Fever, illness below the neck, pain or chest symptoms in these days: tell your coach and see a \
                       clinician before you run.";
