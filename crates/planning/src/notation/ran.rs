//! One line for a week that was run: "as planned", "less, about 20 km", "60 %".

use super::amounts::read_amount;
use super::text::tidy;
use crate::life::WeekRan;
use crate::problem::{Expected, ProblemKind};
use crate::units::{DistanceUnit, Milli, Share};

/// Words for a week that went as planned.
const AS_PLANNED: [&str; 7] = ["as planned", "all", "all of it", "ok", "yes", "done", "100 %"];
/// Words for a week without running.
const NOTHING: [&str; 6] = ["nothing", "none", "no running", "0", "rest", "not at all"];
/// Words that may stand before an amount and say nothing more.
const ABOUT: [&str; 7] = ["about", "roughly", "around", "ca", "~", "more", "less"];
/// More than this share of a plan is a slip of the pen.
const MOST_SHARE: f64 = 5.0;

/// Reads what was run in a week. A number without a unit is in the given unit of distance.
///
/// # Errors
///
/// Nothing that says how much.
pub fn read_week_ran(text: &str, units: DistanceUnit) -> Result<WeekRan, ProblemKind> {
    let unreadable = || ProblemKind::Unreadable { text: text.trim().to_owned(), expected: Expected::WeekRan };
    let said = tidy(&text.to_lowercase().replace('%', " %").replace([',', ';'], " "));
    // A comma between digits is a decimal point, not a pause.
    let typed = tidy(text.trim().trim_end_matches('.'));
    let said = said.trim_end_matches('.').trim();
    if said.is_empty() {
        return Err(ProblemKind::Missing);
    }
    if AS_PLANNED.contains(&said) {
        return Ok(WeekRan::AsPlanned);
    }
    if NOTHING.contains(&said) {
        return Ok(WeekRan::Nothing);
    }
    match said {
        "more" => return Ok(WeekRan::More),
        "less" => return Ok(WeekRan::Less),
        "half" | "half of it" | "about half" => return Ok(WeekRan::Share(Share(0.5))),
        _ => {}
    }
    if let Some(share) = read_share(said, unreadable)? {
        return Ok(if share == Share::NONE { WeekRan::Nothing } else { WeekRan::Share(share) });
    }
    let amount = read_amount(strip(&typed), units).map_err(|problem| match problem {
        ProblemKind::Unreadable { .. } => unreadable(),
        // A week holds more than a session may.
        other => other,
    })?;
    Ok(if amount.high() == Milli::ZERO { WeekRan::Nothing } else { WeekRan::About(amount) })
}

/// `60 %`, `about 60 %`, `20 % less`, `more 20 %`: nothing where no per cent are said.
///
/// # Errors
///
/// Per cent that make no sense.
fn read_share(said: &str, unreadable: impl Fn() -> ProblemKind) -> Result<Option<Share>, ProblemKind> {
    let Some((before, after)) = said.split_once('%') else { return Ok(None) };
    let number: Option<f64> = strip(before.trim()).trim().replace(' ', ".").parse().ok();
    let after = after.trim();
    let sign = if said.contains("less") {
        Some(-1.0)
    } else if said.contains("more") {
        Some(1.0)
    } else {
        None
    };
    let known = after.is_empty()
        || ["less", "more", "of it", "of the plan", "less than planned", "more than planned"].contains(&after);
    let number = number.filter(|_| known).ok_or_else(&unreadable)?;
    let share = match sign {
        Some(sign) if after.starts_with("less") || after.starts_with("more") => 1.0 + sign * number / 100.0,
        _ => number / 100.0,
    };
    if (0.0..=MOST_SHARE).contains(&share) { Ok(Some(Share(share))) } else { Err(unreadable()) }
}

/// The text without words that say nothing more.
fn strip(text: &str) -> &str {
    let mut left = text.trim();
    loop {
        let lower = left.to_lowercase();
        let word = ABOUT.iter().find(|word| {
            lower.strip_prefix(**word).is_some_and(|rest| !rest.starts_with(|next: char| next.is_alphabetic()))
        });
        let Some(word) = word else { return left };
        left = left[word.len()..].trim_start_matches([',', ':', ' ']);
    }
}

impl WeekRan {
    /// What was run as a share of what was planned; nothing where nobody knows how much.
    pub fn share_of(&self, planned: &crate::units::Totals, pace: Option<crate::units::Pace>) -> Option<Share> {
        let pace = pace.unwrap_or(crate::units::Pace::ASSUMED);
        match self {
            Self::AsPlanned => Some(Share::ALL),
            Self::Nothing => Some(Share::NONE),
            Self::More | Self::Less => None,
            Self::Share(share) => Some(*share),
            Self::About(amount) => {
                let whole = planned.middle_km(pace);
                (whole > 0.0).then(|| Share(crate::units::middle_km(*amount, pace) / whole))
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::{Amount, Unit};

    fn read(text: &str) -> WeekRan {
        read_week_ran(text, DistanceUnit::Km).unwrap_or_else(|problem| panic!("{text}: {problem:?}"))
    }

    fn km(value: i32) -> WeekRan {
        WeekRan::About(Amount::exact(Milli(value), Unit::Km))
    }

    #[test]
    fn a_week_in_a_few_words() {
        for text in ["as planned", "As planned.", "all", "100 %"] {
            assert_eq!(read(text), WeekRan::AsPlanned, "{text}");
        }
        for text in ["nothing", "0", "none", "0 %", "0 km"] {
            assert_eq!(read(text), WeekRan::Nothing, "{text}");
        }
        assert_eq!(read("more"), WeekRan::More);
        assert_eq!(read("Less"), WeekRan::Less);
        for text in ["20", "20 km", "about 20 km", "less, about 20 km", "less: 20", "~20 km", "more 20"] {
            assert_eq!(read(text), km(20_000), "{text}");
        }
        assert_eq!(read("20,5"), km(20_500));
        assert_eq!(read("3:30 h"), WeekRan::About(Amount::exact(Milli(210_000), Unit::Min)));
        assert_eq!(read_week_ran("20", DistanceUnit::Mi), Ok(WeekRan::About(Amount::exact(Milli(20_000), Unit::Mi))));
        for text in ["60 %", "60%", "about 60 %", "40 % less", "less, about 60 %"] {
            assert_eq!(read(text), WeekRan::Share(Share(0.6)), "{text}");
        }
        assert_eq!(read("20% more"), WeekRan::Share(Share(1.2)));
        assert_eq!(read("half"), WeekRan::Share(Share(0.5)));
    }

    #[test]
    fn what_says_no_amount_is_refused() {
        for text in ["felt great", "20 leagues", "as much as I liked", "900 %", "% less", "-5"] {
            assert!(read_week_ran(text, DistanceUnit::Km).is_err(), "{text}");
        }
        assert_eq!(read_week_ran("  ", DistanceUnit::Km), Err(ProblemKind::Missing));
    }

    proptest::proptest! {
        #[test]
        fn any_text_is_read_or_refused(text in "\\PC{0,40}") {
            let _ = read_week_ran(&text, DistanceUnit::Km);
        }

        #[test]
        fn any_words_about_a_week(text in "(about |less |more |~)*[0-9.,]{0,6} ?(%|km|mi|h|min)?( less| more)?") {
            let _ = read_week_ran(&text, DistanceUnit::Mi);
        }
    }
}
