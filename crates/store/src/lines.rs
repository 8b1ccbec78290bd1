//! What lines of training say. A squad's weeks and blocks say the same few lines again and again, page after page, so each
//! is read once and remembered: what it says depends on nothing but the line and the unit.

use std::collections::HashMap;
use std::sync::{Arc, LazyLock, PoisonError, RwLock};

use planning::notation::read_kept_day;
use planning::{Amount, DistanceUnit, Kind, Session, Slot, Totals};

/// The lines that were read lately, of each unit.
static READ: [LazyLock<RwLock<Read>>; 2] = [const { LazyLock::new(RwLock::default) }; 2];

type Read = HashMap<String, Arc<[Slot]>>;

/// So many lines of a unit are remembered, then all are forgotten: a squad has some hundreds, and a hundred take some 50 kB.
const MOST: usize = 4096;

/// The slots of a day's line for an athlete of these units; `None` where it cannot be read.
pub(crate) fn day(line: &str, units: DistanceUnit) -> Option<Arc<[Slot]>> {
    let known = match units {
        DistanceUnit::Km => &READ[0],
        DistanceUnit::Mi => &READ[1],
    };
    // Whoever panicked while holding the lock left a whole map behind.
    if let Some(slots) = known.read().unwrap_or_else(PoisonError::into_inner).get(line) {
        return Some(Arc::clone(slots));
    }
    let slots: Arc<[Slot]> = rest_renewed(read_kept_day(line, units).ok()?).into();
    let mut known = known.write().unwrap_or_else(PoisonError::into_inner);
    if known.len() >= MOST {
        known.clear();
    }
    known.insert(line.to_owned(), Arc::clone(&slots));
    Some(slots)
}

/// The session that a line of a block says: one, and with its units named.
///
/// # Errors
///
/// What is wrong with the line.
pub(crate) fn session(line: &str) -> Result<Session, String> {
    in_session(line, Session::clone)
}

/// The running in several lines of a block together.
///
/// # Errors
///
/// What is wrong with one of them.
pub(crate) fn totals<'a>(lines: impl Iterator<Item = &'a str>) -> Result<Totals, String> {
    let running: Vec<Option<Amount>> =
        lines.map(|line| in_session(line, Session::running)).collect::<Result<_, String>>()?;
    Ok(running.into_iter().flatten().collect())
}

/// What is asked of the session of a line.
fn in_session<T>(line: &str, asked: impl Fn(&Session) -> T) -> Result<T, String> {
    // The line names its unit, so the one given here is never used.
    match day(line, DistanceUnit::Km).as_deref() {
        None => Err(format!("`{line}` is not a session")),
        Some([slot]) if slot.options().len() == 1 => Ok(asked(slot.chosen())),
        Some(_) => Err(format!("`{line}` is not one session")),
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
        for (line, words) in [
            ("rest (swim if legs heavy)", "swim if legs heavy"),
            ("mobility (\"rest: swim, or not\")", "swim, or not"),
            ("rest, physio", "physio"),
        ] {
            assert_eq!(session(line).unwrap(), Session::rest_with(words), "{line}");
        }
        for line in ["mobility 20 min (rest: easy)", "mobility (hips)", "mobility (rest: a) + easy 5 km"] {
            assert!(day(line, DistanceUnit::Km).unwrap()[0].chosen().rest_words().is_none(), "{line}");
        }
    }

    #[test]
    fn a_line_says_the_same_the_second_time_and_in_each_unit_its_own() {
        for line in ["8", "easy 8 km + strength 20 min", "rest", "6 x 800 m, 9"] {
            for units in [DistanceUnit::Km, DistanceUnit::Mi, DistanceUnit::Km] {
                assert_eq!(*day(line, units).unwrap(), *read_kept_day(line, units).unwrap(), "{line}");
            }
        }
        assert_ne!(day("8", DistanceUnit::Km), day("8", DistanceUnit::Mi));
        for _ in 0..2 {
            assert_eq!(day("8 leagues", DistanceUnit::Km), None);
            assert_eq!(session("8 leagues").unwrap_err(), "`8 leagues` is not a session");
            assert_eq!(session("easy 8 km + easy 5 km").unwrap_err(), "`easy 8 km + easy 5 km` is not one session");
        }
    }

    #[test]
    fn no_more_lines_are_remembered_than_their_number_says_and_all_say_the_same_after_it() {
        let line = |km: usize| format!("easy {}.{} km", 1 + km / 100, km % 100);
        for km in 0..=MOST {
            day(&line(km), DistanceUnit::Km).unwrap();
        }
        assert!(READ[0].read().unwrap().len() <= MOST);
        assert_eq!(*day(&line(7), DistanceUnit::Km).unwrap(), *read_kept_day(&line(7), DistanceUnit::Km).unwrap());
    }
}
