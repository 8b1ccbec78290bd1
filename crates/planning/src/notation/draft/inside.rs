//! What of a run is hard, told behind "hard", "with", "incl." and "last".

use super::super::amounts::RawAmount;
use super::super::hardness::{Inside, take_kind_with_pace};
use super::super::line::unreadable;
use super::super::read::Doubt;
use super::super::sets::starts_with_reps;
use super::super::text::Text;
use super::Draft;
use crate::plain::joined;
use crate::problem::{Expected, ProblemKind};
use crate::session::Kind;

pub(super) const INSIDE: [&str; 10] =
    ["of which", "of them", "of that", "thereof", "therefrom", "including", "incl.", "incl", "inc.", "inc"];

/// Where in a run its hard part is, without the amount: "last" alone says nothing beside "5 km hard".
fn where_in_run(place: &str) -> &str {
    let last = place.rsplit(' ').next().unwrap_or_default().to_lowercase();
    match last.as_str() {
        "" => "",
        "middle" => "in the middle",
        "first" | "start" => "at the start",
        _ => "at the end",
    }
}

impl Draft {
    /// A hard part told behind "with" or as the end of the run; says whether one is.
    pub(super) fn read_told(&mut self, mut text: Text<'_>, is_said: bool) -> Result<bool, ProblemKind> {
        let start = text;
        match Inside::read(&mut text, is_said)? {
            Inside::Reps => self.read_sets(&mut text, &mut std::iter::empty()).map(|()| true),
            Inside::Hard { .. } if self.hard.is_some() => Err(unreadable(start.left(), Expected::OneHardPart)),
            Inside::Hard { amount, place, how } => {
                self.hard = Some(amount);
                self.read_how(&place, &how);
                Ok(true)
            }
            Inside::Note => Ok(false),
        }
    }

    /// How a hard part is run: its kind where no other is said, and a note. The amount stays out of it, so that a
    /// shortened run does not contradict it.
    pub(super) fn read_how(&mut self, place: &str, how: &str) {
        let how = Text::new(how);
        let mut words = how;
        words.take_any_phrase(&["@", "at", "in"]);
        let mut said = how.left();
        if said.eq_ignore_ascii_case("hard") {
            said = "";
        } else if let Some((kind, word)) = take_kind_with_pace(&mut words)
            && self.kind.is_none_or(|known| known == kind || known == Kind::Easy)
        {
            self.kind = Some(kind);
            if word.is_none() {
                said = words.left();
            }
        }
        let said = said.strip_prefix('@').map_or_else(|| said.to_owned(), |pace| format!("at {}", pace.trim_start()));
        self.notes.push(joined([where_in_run(place), said.as_str()], ", "));
    }

    /// "with 6 x 100 m strides" and "with 4 km hard" say what is inside; anything else behind "with"
    /// is a note.
    pub(super) fn read_with(&mut self, mut text: Text<'_>) -> Result<bool, ProblemKind> {
        if self.doubt == Doubt::Asked {
            return self.read_told(text, false);
        }
        text.skip_space();
        if starts_with_reps(text) {
            return self.read_sets(&mut text, &mut std::iter::empty()).map(|()| true);
        }
        let mut after = text;
        if matches!(RawAmount::take(&mut after), Ok(Some(_))) && after.take_phrase("hard") {
            return self.read_hard(&mut text).map(|()| true);
        }
        Ok(false)
    }

    pub(super) fn read_inside(&mut self, text: &mut Text<'_>) -> Result<(), ProblemKind> {
        text.skip_space();
        if self.doubt == Doubt::Asked {
            let has_told = self.read_told(*text, true)?;
            if !has_told {
                self.note(text.left());
            }
            return Ok(());
        }
        if starts_with_reps(*text) {
            return self.read_sets(text, &mut std::iter::empty());
        }
        self.read_hard(text)
    }

    /// The amount of a hard part; words behind it say how it is run and are kept as a note, or name
    /// the kind ("7, incl. 3 tempo").
    pub(super) fn read_hard(&mut self, text: &mut Text<'_>) -> Result<(), ProblemKind> {
        let start = *text;
        let Some(hard) = RawAmount::take(text)? else { return Err(unreadable(start.left(), Expected::HardPart)) };
        if self.hard.is_some() {
            return Err(unreadable(start.left(), Expected::OneHardPart));
        }
        self.hard = Some(hard);
        text.take_phrase("hard");
        let mut words = *text;
        if self.kind.is_none() && self.read_kind(&mut words)? && words.is_done() {
            return Ok(());
        }
        if !text.is_done() {
            self.notes.push(text.left().to_owned());
        }
        Ok(())
    }
}
