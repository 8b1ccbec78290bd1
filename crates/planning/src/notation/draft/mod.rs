//! A session put together from the parts of its line: nothing is certain before the last of them.
//!
//! ```text
//! words      one part in its order: kind, amount, and what may stand around them
//! beside     what stands over or beside a run and is a note: the day of the week, where it is run, how easily
//! inside     what of the run is hard, behind "hard", "with", "incl." and "last"
//! reps       repetitions with their recovery, and strides
//! brackets   what stands in brackets and is no note
//! settled    the session of all parts, or what is asked about it
//! ```

mod beside;
mod brackets;
mod inside;
mod reps;
mod settled;
mod words;

pub(super) use beside::take_surroundings;
pub(super) use brackets::tells_inside;
pub(super) use reps::{LEAST_METRES, strides_alone};

use super::amounts::RawAmount;
use super::around::{self, Around, Parted, Unsettled};
use super::hardness::is_pace_figure;
use super::line::{Note, Part};
use super::read::Doubt;
use super::runner::Runner;
use super::sets::{is_ratio, is_recovery, nested, short_jog};
use crate::problem::ProblemKind;
use crate::session::{Kind, Session, Sets};

/// Reads one session from its parts.
pub(super) fn read_session(parts: &[Part], runner: Runner, doubt: Doubt) -> Result<Session, Vec<Unsettled>> {
    let mut draft = Draft { doubt, ..Draft::default() };
    for part in &around::in_order(around::apart(parts)) {
        if let Err(problem) = draft.read(part) {
            draft.problems.push(problem);
        }
    }
    draft.finish(runner)
}

/// A session while its parts are read: nothing is certain before the last.
#[derive(Default)]
struct Draft {
    kind: Option<Kind>,
    amount: Option<RawAmount>,
    /// The words of the amount, as a question names them.
    amount_words: String,
    /// Whether the amount whose words are read is kilometres or miles.
    is_in_distance: bool,
    hard: Option<RawAmount>,
    sets: Vec<Sets>,
    loaded: bool,
    /// The half of the day in which it is run.
    half: String,
    notes: Vec<String>,
    /// Those of them that nobody said to be nothing but notes.
    plain_notes: Vec<String>,
    doubt: Doubt,
    /// Whether the part before ended with repetitions that have no recovery yet.
    open: bool,
    /// Warm-up and cool-down, where the run is told by its parts.
    parted: Parted,
    problems: Vec<ProblemKind>,
}

impl Draft {
    fn read(&mut self, part: &Part) -> Result<(), ProblemKind> {
        if let Some(part) = nested(part) {
            return self.read(&part);
        }
        let was_open = std::mem::take(&mut self.open);
        if let Some(around) = Around::read(&part.words)? {
            self.read_around(around, part);
            return Ok(());
        }
        let mut quoted = part.quoted.iter().cloned();
        let read = self.read_words(part, was_open, &mut quoted);
        self.notes.extend(quoted);
        for note in &part.notes {
            match note {
                Note::Plain(words)
                    if self.open && (is_recovery(words) || is_ratio(words) || self.rests_for(words, true)) =>
                {
                    self.set_recovery(words.clone());
                }
                Note::Plain(words) if self.open && short_jog(words).is_some() => {
                    self.set_recovery(short_jog(words).unwrap_or_default());
                }
                Note::Plain(words) if is_pace_figure(words) && self.ends_with_pace() => {
                    if let Some(note) = self.notes.last_mut() {
                        *note = format!("{note} ({words})");
                    }
                }
                Note::Plain(words) => self.note(words),
                Note::Quoted(words) => self.notes.push(words.clone()),
                Note::Half(words) => self.half.clone_from(words),
            }
        }
        read
    }

    /// A warm-up or a cool-down: its words stay as a note, so that the block says them too.
    fn read_around(&mut self, mut around: Around, part: &Part) {
        let place = self.notes.len();
        self.notes.push(String::new());
        for note in &part.notes {
            match note {
                Note::Half(words) => self.half.clone_from(words),
                Note::Plain(words) | Note::Quoted(words) if !around.take_note(words) => self.notes.push(words.clone()),
                Note::Plain(_) | Note::Quoted(_) => {}
            }
        }
        self.notes[place].clone_from(&around.words);
        self.notes.extend(part.quoted.iter().cloned());
        self.parted.push(around, place);
    }

    /// Whether the last note is the pace of the hard part: "at MP".
    fn ends_with_pace(&self) -> bool {
        let pace = |note: &String| {
            note.rsplit(", ").next().is_some_and(|last| last.starts_with("at ") && last != "at the end")
        };
        self.hard.is_some() && self.notes.last().is_some_and(pace)
    }

    /// A note that may say how hard the run is.
    fn note(&mut self, words: &str) {
        self.notes.push(words.to_owned());
        self.plain_notes.push(words.to_owned());
    }
}
