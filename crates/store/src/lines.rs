//! Lines of training that were read already: a squad's weeks and blocks say the same few lines again and again.

use std::collections::HashMap;

use planning::notation::read_kept_day;
use planning::{Amount, DistanceUnit, Kind, Session, Slot, Totals};

/// What lines say, each line read once. It is kept for one reading of many rows and then let go, so that it
/// grows no larger than what was read.
#[derive(Default)]
pub(crate) struct Lines {
    km: HashMap<String, Vec<Slot>>,
    mi: HashMap<String, Vec<Slot>>,
}

impl Lines {
    /// The slots of a day's line for an athlete of these units; `None` where it cannot be read.
    pub(crate) fn day(&mut self, line: &str, units: DistanceUnit) -> Option<&[Slot]> {
        let read = match units {
            DistanceUnit::Km => &mut self.km,
            DistanceUnit::Mi => &mut self.mi,
        };
        if !read.contains_key(line) {
            read.insert(line.to_owned(), rest_renewed(read_kept_day(line, units).ok()?));
        }
        read.get(line).map(Vec::as_slice)
    }

    /// The session that a line of a block says: one, and with its units named.
    ///
    /// # Errors
    ///
    /// What is wrong with the line.
    pub(crate) fn session(&mut self, line: &str) -> Result<&Session, String> {
        // The line names its unit, so the one given here is never used.
        match self.day(line, DistanceUnit::Km) {
            None => Err(format!("`{line}` is not a session")),
            Some([slot]) if slot.options().len() == 1 => Ok(slot.chosen()),
            Some(_) => Err(format!("`{line}` is not one session")),
        }
    }

    /// The running in several lines of a block together.
    ///
    /// # Errors
    ///
    /// What is wrong with one of them.
    pub(crate) fn totals<'a>(&mut self, lines: impl Iterator<Item = &'a str>) -> Result<Totals, String> {
        let mut totals = Totals::default();
        for line in lines {
            if let Some(amount) = self.running(line)? {
                totals.add(amount);
            }
        }
        Ok(totals)
    }

    fn running(&mut self, line: &str) -> Result<Option<Amount>, String> {
        self.session(line).map(Session::running)
    }
}

/// A day of rest with words was once kept as mobility with "rest: " in front of its note.
fn rest_renewed(slots: Vec<Slot>) -> Vec<Slot> {
    let words = match slots.as_slice() {
        [slot] if slot.options().len() == 1 => slot.chosen().note.strip_prefix("rest: "),
        _ => None,
    };
    let renewed = words.map(|words| vec![Slot::one(Session::rest_with(words))]);
    let is_bare = slots.iter().map(Slot::chosen).all(|old| {
        old.kind == Kind::Mobility && old.amount.is_none() && old.hard.is_none() && old.sets.is_empty() && !old.loaded
    });
    renewed.filter(|_| is_bare).unwrap_or(slots)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_day_of_rest_with_words_is_one_in_its_old_form_too() {
        let mut lines = Lines::default();
        for (line, words) in [
            ("rest (swim if legs heavy)", "swim if legs heavy"),
            ("mobility (\"rest: swim, or not\")", "swim, or not"),
            ("rest, physio", "physio"),
        ] {
            assert_eq!(lines.session(line).unwrap(), &Session::rest_with(words), "{line}");
        }
        for line in ["mobility 20 min (rest: easy)", "mobility (hips)", "mobility (rest: a) + easy 5 km"] {
            assert!(lines.day(line, DistanceUnit::Km).unwrap()[0].chosen().rest_words().is_none(), "{line}");
        }
    }

    #[test]
    fn a_line_says_the_same_the_second_time_and_in_each_unit_its_own() {
        let mut lines = Lines::default();
        for line in ["8", "easy 8 km + strength 20 min", "rest", "6 x 800 m, 9"] {
            for units in [DistanceUnit::Km, DistanceUnit::Mi, DistanceUnit::Km] {
                assert_eq!(lines.day(line, units).unwrap(), read_kept_day(line, units).unwrap(), "{line}");
            }
        }
        assert_ne!(
            lines.day("8", DistanceUnit::Km).map(<[_]>::to_vec),
            lines.day("8", DistanceUnit::Mi).map(<[_]>::to_vec)
        );
        for _ in 0..2 {
            assert_eq!(lines.day("8 leagues", DistanceUnit::Km), None);
            assert_eq!(lines.session("8 leagues").unwrap_err(), "`8 leagues` is not a session");
            assert_eq!(
                lines.session("easy 8 km + easy 5 km").unwrap_err(),
                "`easy 8 km + easy 5 km` is not one session"
            );
        }
    }
}
