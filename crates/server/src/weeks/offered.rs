//! What is made of a line that is not read as it stands: what it is kept as, or lines that are offered in its place.
//!
//! Where nothing is left to ask, the page says what the line is kept as, and saving keeps that. Otherwise each line that is
//! read is a button: it sends the whole form with that line in a field of its own, `take-tue`, and the page comes back with
//! it in the day's field, read, and nothing saved.

use std::collections::HashMap;

use formats::words;
use planning::notation::{Runner, offers};

use crate::form::one_line;

/// One line in the place of another, ready to show.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Offered {
    pub(crate) line: String,
    /// What it says.
    pub(crate) says: String,
}

/// What becomes of a line.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(crate) enum Answer {
    /// It is read as it stands, or nothing can be seen in it.
    #[default]
    Nothing,
    /// It is kept as this.
    Kept(Offered),
    /// The coach chooses.
    Asked(Vec<Offered>),
}

impl Answer {
    /// What becomes of a line.
    pub(crate) fn of(line: &str, runner: impl Into<Runner>) -> Self {
        let offers = offers(line, runner);
        match offers.as_slice() {
            [] => Self::Nothing,
            [only] if only.is_settled() => Self::Kept(Offered { line: only.line.clone(), says: words::kept_as(only) }),
            several => {
                let offered =
                    |offer: &planning::notation::Offer| Offered { line: offer.line.clone(), says: words::offer(offer) };
                Self::Asked(several.iter().map(offered).collect())
            }
        }
    }

    /// The line that is kept for a line that was typed.
    pub(crate) fn line<'a>(&'a self, typed: &'a str) -> &'a str {
        self.kept().map_or(typed, |kept| kept.line.as_str())
    }

    /// What the line is kept as; nothing where it is kept as it was typed, or asked about.
    pub(crate) fn kept(&self) -> Option<&Offered> {
        if let Self::Kept(kept) = self { Some(kept) } else { None }
    }

    /// The lines between which the coach chooses.
    pub(crate) fn asked(&self) -> &[Offered] {
        if let Self::Asked(offered) = self { offered } else { &[] }
    }
}

/// The offer that was pressed.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(crate) struct Taken(
    /// The control of a day and the line for it.
    pub(crate) Option<(String, String)>,
);

impl Taken {
    /// Out of a form.
    pub(crate) fn of(fields: &HashMap<String, String>) -> Self {
        Self(fields.iter().find_map(|(name, line)| Some((name.strip_prefix("take-")?.to_owned(), one_line(line)))))
    }

    /// Puts the line into the field of its day.
    pub(crate) fn put<'a>(&self, days: impl IntoIterator<Item = (String, &'a mut String)>) {
        let Some((day, line)) = &self.0 else { return };
        for (_, kept) in days.into_iter().filter(|(code, _)| code == day) {
            kept.clone_from(line);
        }
    }
}

#[cfg(test)]
mod tests {
    use planning::DistanceUnit;

    use super::*;

    #[test]
    fn a_line_is_kept_as_its_one_answer_and_asked_about_otherwise() {
        let of = |line| Answer::of(line, DistanceUnit::Km);
        assert_eq!(of("8 km"), Answer::Nothing);
        assert_eq!(of("8 km HR<140").line("8 km HR<140"), "easy 8 km (HR<140)");
        assert_eq!(of("6 x 800 m").line("6 x 800 m"), "6 x 800 m, 9 km");
        for line in ["6/8", "tempo"] {
            assert_eq!(of(line).line(line), line);
            assert!(!of(line).asked().is_empty(), "{line}");
        }
    }
}
