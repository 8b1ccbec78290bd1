//! What an athlete answers to the questions at the start of a block, read out of any text: numbered or
//! not, with the questions or without, in any order.
//!
//! A text becomes [pieces](Piece) that together are the text to the letter: nothing is lost, and what
//! belongs to no question is told apart. Whoever reads it sees the reading before anything is kept.

mod number;
mod reader;
mod signs;
mod speaker;
mod time;

use planning::plain;
use reader::{Reader, guess};

/// Where an answer belongs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Answer {
    /// The best day.
    GoalA,
    /// A good day.
    GoalB,
    /// The least that counts.
    GoalC,
    /// Why the athlete may believe it.
    Belief,
    /// How hard a stretch should feel: first, middle or last by 0, 1, 2.
    Effort(usize),
    /// Where the mind is in it.
    Focus(usize),
    /// The word to hold on to.
    Cue(usize),
    /// The one worry.
    Worry,
    /// How the athlete tapered last time.
    LastTaper,
}

/// A question of the sheet; a stretch is one question with three answers.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Question {
    /// The best day.
    GoalA,
    /// A good day.
    GoalB,
    /// The least that counts.
    GoalC,
    /// Why the athlete may believe it.
    Belief,
    /// A stretch: first, middle or last by 0, 1, 2.
    Stretch(usize),
    /// The one worry.
    Worry,
    /// How the athlete tapered last time.
    LastTaper,
}

impl Question {
    /// Every question in the order of the sheet: the first is number 1.
    pub const ALL: [Self; 9] = [
        Self::GoalA,
        Self::GoalB,
        Self::GoalC,
        Self::Belief,
        Self::Stretch(0),
        Self::Stretch(1),
        Self::Stretch(2),
        Self::Worry,
        Self::LastTaper,
    ];

    /// Its place among [`Question::ALL`].
    fn index(self) -> usize {
        Self::ALL.iter().position(|one| *one == self).unwrap_or(0)
    }

    /// The question behind it on the sheet.
    fn following(self) -> Option<Self> {
        Self::ALL.get(self.index() + 1).copied()
    }

    /// The words by which a line is known to answer it, beside its number and the question itself: lower
    /// case, the longest first.
    const fn names(self) -> &'static [&'static str] {
        match self {
            Self::GoalA => &["my best day", "best day", "a goal", "goal a", "dream goal", "a"],
            Self::GoalB => &["a good day", "good day", "b goal", "goal b", "b"],
            Self::GoalC => &["the least that counts", "least that counts", "c goal", "goal c", "c"],
            Self::Belief => &["why i may believe in them", "why i may believe it", "why i believe", "why", "because"],
            Self::Stretch(0) => &["the first third", "first third", "first stretch", "stretch 1", "start of the race"],
            Self::Stretch(1) => &["the middle third", "middle third", "middle stretch", "second third", "stretch 2"],
            Self::Stretch(_) => {
                &["the last third", "last third", "last stretch", "third third", "final third", "stretch 3"]
            }
            Self::Worry => &["one worry", "my worry", "biggest worry", "worries", "worry"],
            Self::LastTaper => &["how i tapered last time", "last taper", "my last taper", "last time"],
        }
    }

    /// Where an answer in one part belongs.
    const fn whole(self) -> Answer {
        match self {
            Self::GoalA => Answer::GoalA,
            Self::GoalB => Answer::GoalB,
            Self::GoalC => Answer::GoalC,
            Self::Belief => Answer::Belief,
            Self::Stretch(which) => Answer::Effort(which),
            Self::Worry => Answer::Worry,
            Self::LastTaper => Answer::LastTaper,
        }
    }
}

/// A piece of a text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Piece<'a> {
    /// What it is.
    pub place: Place,
    /// Its letters.
    pub text: &'a str,
}

/// What a piece of a text is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Place {
    /// A number, a question, a mark or a space: it says where what follows belongs.
    Sign,
    /// A part of an answer.
    Answer(Answer),
    /// What belongs to no question.
    Unplaced,
}

/// A text as it was read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Reading<'a> {
    /// Together they are the text.
    pub pieces: Vec<Piece<'a>>,
    /// Whether nothing but the order, or the look of a time, said what belongs where.
    pub is_guessed: bool,
}

impl Reading<'_> {
    /// An answer in one line: its pieces put together; empty where there is none.
    pub fn answer(&self, wanted: Answer) -> String {
        self.joined(|place| place == Place::Answer(wanted), " ")
    }

    /// What belongs to no question, a line each.
    pub fn unplaced(&self) -> String {
        self.joined(|place| place == Place::Unplaced, "\n")
    }

    fn joined(&self, is_wanted: impl Fn(Place) -> bool, between: &str) -> String {
        let wanted = self.pieces.iter().filter(|piece| is_wanted(piece.place));
        plain::joined(wanted.map(|piece| piece.text.trim()), between)
    }
}

/// What was sent to the athlete.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Sent {
    /// The questions, in the order of [`Question::ALL`].
    pub questions: Vec<String>,
    /// The lines around them: where they come back, they are no answer.
    pub around: Vec<String>,
}

/// Reads answers to what was sent.
pub fn read_answers<'a>(text: &'a str, sent: &Sent) -> Reading<'a> {
    let mut reader = Reader::new(sent);
    for line in text.split_inclusive('\n') {
        reader.line(line);
    }
    if has_answer(&reader.pieces) {
        return Reading { pieces: reader.pieces, is_guessed: false };
    }
    let guessed = guess(text, &reader.pieces);
    Reading { is_guessed: has_answer(&guessed), pieces: guessed }
}

fn has_answer(pieces: &[Piece<'_>]) -> bool {
    pieces.iter().any(|piece| matches!(piece.place, Place::Answer(_)) && !piece.text.trim().is_empty())
}

#[cfg(test)]
mod tests;
