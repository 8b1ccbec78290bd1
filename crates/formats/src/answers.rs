//! What an athlete answers to the questions at the start of a block, read out of any text: numbered or
//! not, with the questions or without, in any order.
//!
//! A text becomes [pieces](Piece) that together are the text to the letter: nothing is lost, and what
//! belongs to no question is told apart. Whoever reads it sees the reading before anything is kept.

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
        wanted.map(|piece| piece.text.trim()).filter(|text| !text.is_empty()).collect::<Vec<_>>().join(between)
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
    let mut reader = Reader { pieces: Vec::new(), sent, open: None, part: 0 };
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

/// What has been read so far.
struct Reader<'a, 'q> {
    pieces: Vec<Piece<'a>>,
    sent: &'q Sent,
    /// The question that the lines now answer.
    open: Option<Question>,
    /// Which part of a stretch comes next.
    part: usize,
}

impl<'a> Reader<'a, '_> {
    fn push(&mut self, place: Place, text: &'a str) {
        if !text.is_empty() {
            self.pieces.push(Piece { place, text });
        }
    }

    fn line(&mut self, line: &'a str) {
        let (mark, rest) = line.split_at(marks(line));
        if self.sent.around.iter().any(|around| is_same(around, rest)) {
            self.push(Place::Sign, line);
            return;
        }
        let (said, length) = match self.numbered(rest) {
            Some((question, length)) => {
                let behind = &rest[length..];
                let asked = self.sent.questions.get(index(question)).and_then(|asked| question_length(behind, asked));
                let named = || named(behind).filter(|(named, _)| *named == question).map(|(_, length)| length);
                (Some(question), length + asked.or_else(named).unwrap_or(0))
            }
            None => match self.asked(rest).or_else(|| named(rest)) {
                Some((question, length)) => (Some(question), length),
                None => (None, 0),
            },
        };
        self.push(Place::Sign, mark);
        self.push(Place::Sign, &rest[..length]);
        if let Some(question) = said {
            self.open = Some(question);
            self.part = 0;
        }
        self.rest(&rest[length..]);
    }

    /// The number of a question at the beginning, with the mark behind it.
    fn numbered(&self, text: &str) -> Option<(Question, usize)> {
        let next = self.open.map_or(0, |open| index(open) + 1);
        number(text, Question::ALL.get(next).copied())
    }

    /// A question of ours at the beginning, without its number.
    fn asked(&self, text: &str) -> Option<(Question, usize)> {
        let all = Question::ALL.into_iter().zip(&self.sent.questions);
        all.filter_map(|(question, asked)| Some((question, question_length(text, asked)?)))
            .max_by_key(|(_, length)| *length)
    }

    /// What stands behind the signs of a line.
    fn rest(&mut self, text: &'a str) {
        match self.open {
            None => self.push(if text.trim().is_empty() { Place::Sign } else { Place::Unplaced }, text),
            Some(Question::Stretch(which)) => self.stretch(which, text),
            // "A 1:45, B 1:48, C finish" is three answers on one line.
            Some(question) => match next_goal(question, text) {
                Some((at, length, next)) => {
                    let end = text[..at].trim_end_matches([' ', '\t', ',', ';', '/', '|']).len();
                    self.push(Place::Answer(question.whole()), &text[..end]);
                    self.push(Place::Sign, &text[end..at + length]);
                    self.open = Some(next);
                    self.rest(&text[at + length..]);
                }
                None => self.push(Place::Answer(question.whole()), text),
            },
        }
    }

    /// The parts of a stretch: named, or parted by a mark, or one after the other.
    fn stretch(&mut self, which: usize, text: &'a str) {
        let mut parts: Vec<&'a str> = text.split_inclusive([';', '/', '|']).collect();
        if parts.len() == 1 && text.matches(',').count() == 2 {
            parts = text.split_inclusive(',').collect();
        }
        for part in parts {
            let space = part.len() - part.trim_start().len();
            self.push(Place::Sign, &part[..space]);
            let part = &part[space..];
            let (named, length) = part_name(part).map_or((None, 0), |(part, length)| (Some(part), length));
            self.push(Place::Sign, &part[..length]);
            let said = &part[length..];
            let end = said.trim_end_matches(|c: char| c.is_whitespace() || [';', '/', '|', ','].contains(&c)).len();
            if end == 0 {
                self.push(Place::Sign, said);
                self.part = named.unwrap_or(self.part);
                continue;
            }
            let place = named.unwrap_or(self.part).min(2);
            let answer = [Answer::Effort(which), Answer::Focus(which), Answer::Cue(which)][place];
            self.push(Place::Answer(answer), &said[..end]);
            self.push(Place::Sign, &said[end..]);
            self.part = place + 1;
        }
    }
}

fn index(question: Question) -> usize {
    Question::ALL.iter().position(|one| *one == question).unwrap_or(0)
}

/// How many bytes of spaces, quotation and list marks stand before a line.
fn marks(line: &str) -> usize {
    let rest =
        line.trim_start_matches(|c: char| c.is_whitespace() || ['>', '*', '\u{2022}', '\u{b7}', '_'].contains(&c));
    let rest = rest.strip_prefix("- ").or_else(|| rest.strip_prefix("\u{2013} ")).unwrap_or(rest);
    line.len() - rest.trim_start().len()
}

/// The number of a question with the mark behind it: `1.`, `(2)`, `3:`; a time is no number. The number
/// that comes next may also stand alone before a time, or before a dash.
fn number(text: &str, next: Option<Question>) -> Option<(Question, usize)> {
    let rest = text.strip_prefix(['(', '#']).unwrap_or(text);
    let digits = rest.len() - rest.trim_start_matches(|c: char| c.is_ascii_digit()).len();
    let which: usize = rest.get(..digits)?.parse().ok()?;
    let question = *Question::ALL.get(which.checked_sub(1)?)?;
    let behind_digits = &rest[digits..];
    // A digit in a box, as telephones write it, is the digit with two marks behind it.
    let marked = behind_digits.trim_start_matches(['.', ')', ':', '-', '\u{2013}', '\u{fe0f}', '\u{20e3}']);
    let behind = marked.trim_start();
    let mark = &behind_digits[..behind_digits.len() - marked.len()];
    let is_apart = behind.len() < marked.len() || !marked.starts_with(|c: char| c.is_ascii_digit());
    if !mark.is_empty() && (is_apart || mark.ends_with([')', '\u{20e3}'])) {
        return Some((question, text.len() - behind.len()));
    }
    let spaced = behind_digits.trim_start();
    if next != Some(question) || spaced.len() == behind_digits.len() {
        return None;
    }
    let dashed = spaced.trim_start_matches(['-', '\u{2013}', '\u{2014}', '=']).trim_start();
    (dashed.len() < spaced.len() || is_time(dashed)).then_some((question, text.len() - dashed.len()))
}

/// Whether two lines have the same letters and digits.
fn is_same(one: &str, other: &str) -> bool {
    let mut of_one = letters(one).map(|(_, c)| c).peekable();
    of_one.peek().is_some() && of_one.eq(letters(other).map(|(_, c)| c))
}

/// How many bytes a question as it was sent takes at the beginning of a text, with what parts it from the
/// answer; spaces, marks and capitals do not matter.
fn question_length(text: &str, question: &str) -> Option<usize> {
    let mut asked = letters(question).map(|(_, c)| c).peekable();
    asked.peek()?;
    for (at, c) in letters(text) {
        match asked.next() {
            None => return Some(behind_marks(text, at)),
            Some(wanted) if wanted == c => {}
            Some(_) => return None,
        }
    }
    asked.next().is_none().then_some(text.len())
}

fn letters(text: &str) -> impl Iterator<Item = (usize, char)> {
    text.char_indices().filter(|(_, c)| c.is_alphanumeric()).map(|(at, c)| (at, c.to_lowercase().next().unwrap_or(c)))
}

/// Back over quotation marks and the like that belong to what begins here.
fn behind_marks(text: &str, at: usize) -> usize {
    let before = &text[..at];
    at - (before.len() - before.trim_end_matches(['"', '(', '\u{201c}', '<', '+', '~']).len())
}

/// A question by one of its names, with the mark behind it.
fn named(text: &str) -> Option<(Question, usize)> {
    let names = Question::ALL.into_iter().flat_map(|one| one.names().iter().map(move |name| (one, *name)));
    let found = names.filter_map(|(question, name)| Some((question, name_length(text, name)?)));
    found.max_by_key(|(_, length)| *length)
}

/// How many bytes a name takes at the beginning of a text, the mark behind it with it. A name that may
/// begin a sentence as well needs a mark, or a time behind it.
fn name_length(text: &str, name: &str) -> Option<usize> {
    let end = text.char_indices().nth(name.chars().count()).map_or(text.len(), |(at, _)| at);
    let written = &text[..end];
    if written.to_lowercase() != name {
        return None;
    }
    let rest = &text[end..];
    let spaced = rest.trim_start_matches([' ', '\t']);
    let marked = spaced
        .trim_start_matches([':', '=', ')', '.', '?', '\u{2013}', '\u{2014}', '-', '*', '_', ',', '\u{2192}', '>']);
    let answer = marked.trim_start_matches([' ', '\t']);
    let is_word = rest.chars().next().is_none_or(|c| !c.is_alphanumeric());
    let is_marked = marked.len() < spaced.len();
    let is_alone = answer.trim().is_empty() && !rest.is_empty();
    // A capital B or C alone begins no sentence, as A does.
    let is_letter = matches!(written, "B" | "C") && spaced.len() < rest.len();
    let is_plain = name.starts_with("goal ") || name.contains("third") || name.contains("stretch");
    let is_known = is_marked || is_alone || is_letter || is_plain || is_time(answer);
    (is_word && is_known).then_some(text.len() - answer.len())
}

/// A part of a stretch by its name: `effort:`, `focus`, `cue word`.
fn part_name(text: &str) -> Option<(usize, usize)> {
    let names = [(0, "effort"), (1, "focus"), (1, "mind"), (2, "cue word"), (2, "cue"), (2, "word")];
    let found = names.into_iter().filter_map(|(part, name)| Some((part, name_length(text, name)?)));
    found.max_by_key(|(_, length)| *length)
}

/// Where the next goal's letter stands on the same line: its place, its length with the mark, and whose
/// it is.
fn next_goal(question: Question, text: &str) -> Option<(usize, usize, Question)> {
    let next = match question {
        Question::GoalA => Question::GoalB,
        Question::GoalB => Question::GoalC,
        _ => return None,
    };
    let letter = if next == Question::GoalB { "b" } else { "c" };
    text.char_indices().filter(|(at, _)| *at > 0).find_map(|(at, _)| {
        let before = text[..at].trim_end_matches([' ', '\t']);
        let is_parted = before.len() < at && before.ends_with([',', ';', '/', '|', '.']) || before.ends_with('\n');
        let length = is_parted
            .then(|| name_length(&text[at..], letter).or_else(|| name_length(&text[at..], &format!("goal {letter}"))));
        length.flatten().map(|length| (at, length, next))
    })
}

/// Without any sign: as many lines as questions, or times in front, are taken in their order.
fn guess<'a>(text: &'a str, pieces: &[Piece<'a>]) -> Vec<Piece<'a>> {
    let lines: Vec<&'a str> = text.split_inclusive('\n').collect();
    let said: Vec<&str> = lines.iter().copied().filter(|line| !line.trim().is_empty()).collect();
    let goals = said.iter().take_while(|line| is_time(line)).count().min(3);
    let questions: &[Question] =
        if said.len() == Question::ALL.len() { &Question::ALL } else { &Question::ALL[..goals] };
    if questions.is_empty() {
        return pieces.to_vec();
    }
    let nothing = Sent::default();
    let mut reader = Reader { pieces: Vec::new(), sent: &nothing, open: None, part: 0 };
    let mut order = questions.iter();
    for line in lines {
        if line.trim().is_empty() {
            reader.push(Place::Sign, line);
            continue;
        }
        reader.open = order.next().copied();
        reader.part = 0;
        let (mark, rest) = line.split_at(marks(line));
        reader.push(Place::Sign, mark);
        reader.rest(rest);
    }
    reader.pieces
}

/// Whether a text begins with what looks like a time: `1:45`, `1h45`, `under 50 min`, `sub 50`.
pub fn is_time(text: &str) -> bool {
    let text = text.trim().to_lowercase();
    let limited = ["under", "sub", "below", "faster than", "about", "around", "<", "~"]
        .into_iter()
        .find_map(|word| text.strip_prefix(word).map(|rest| rest.trim_start_matches([' ', '-'])));
    let rest = limited.unwrap_or(&text);
    let digits = rest.len() - rest.trim_start_matches(|c: char| c.is_ascii_digit()).len();
    if digits == 0 || digits > 3 {
        return false;
    }
    let behind = rest[digits..].trim_start();
    let is_clock = behind
        .strip_prefix([':', '.', 'h', '\''])
        .is_some_and(|rest| rest.trim_start().starts_with(|c: char| c.is_ascii_digit()));
    let is_unit = ["min", "m ", "h", "'"].iter().any(|unit| behind.starts_with(unit)) && !behind.starts_with("mi ");
    is_clock || is_unit || limited.is_some()
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::words;

    fn sent() -> Sent {
        words::question_sheet("Ana", "Harbour 10").1
    }

    fn read(text: &str) -> Vec<(Answer, String)> {
        use Answer::{Belief, Cue, Effort, Focus, GoalA, GoalB, GoalC, LastTaper, Worry};
        let reading = read_answers(text, &sent());
        let parts = (0..3).flat_map(|which| [Effort(which), Focus(which), Cue(which)]);
        let all = [GoalA, GoalB, GoalC, Belief].into_iter().chain(parts).chain([Worry, LastTaper]);
        all.map(|one| (one, reading.answer(one))).filter(|(_, said)| !said.is_empty()).collect()
    }

    fn goals(text: &str) -> [String; 3] {
        let reading = read_answers(text, &sent());
        [Answer::GoalA, Answer::GoalB, Answer::GoalC].map(|goal| reading.answer(goal))
    }

    #[test]
    fn goals_are_read_however_they_are_marked() {
        for text in [
            "1. sub 50\n2. 1h45\n3. finish",
            "1) sub 50\n2)1h45\n3: finish",
            "(1) sub 50\r\n(2) 1h45\r\n(3) finish\r\n",
            "1\u{fe0f}\u{20e3} sub 50\n2\u{fe0f}\u{20e3} 1h45\n3\u{fe0f}\u{20e3} finish",
            "1 sub 50\n2 1h45\n3 - finish",
            "A: sub 50\nB: 1h45\nC: finish",
            "a = sub 50\nb = 1h45\nc = finish",
            "A sub 50\nB 1h45\nC finish",
            "A sub 50, B 1h45, C finish",
            "Goal A: sub 50 / Goal B: 1h45 / Goal C: finish",
            "C - finish\nA - sub 50\nB - 1h45",
            "goal a sub 50\ngoal c finish\ngoal b 1h45",
            "Best day: sub 50\nGood day: 1h45\nLeast that counts: finish",
            "> 1. Goal A, the best day: what could it be if everything falls into place?\n\
             sub 50\n> 2. Goal B, a good day: what does your training say?\n1h45\n\
             > 3. Goal C, the least that counts: what would be worth the trip on any day?\nfinish",
            "Goal A, the best day: what could it be if everything falls into place? sub 50\n\
             2. goal b, a good day - what does your training say 1h45\n\u{2022} c) finish",
        ] {
            assert_eq!(goals(text), ["sub 50", "1h45", "finish"], "{text}");
        }
    }

    #[test]
    fn a_time_is_no_number_of_a_question() {
        assert_eq!(goals("A: 1:45\nB: 1.50\nC: 2 h"), ["1:45", "1.50", "2 h"]);
        let reading = read_answers("3. about\n1:45", &sent());
        assert_eq!(reading.answer(Answer::GoalC), "about 1:45");
    }

    #[test]
    fn stretches_come_in_one_line_in_three_or_by_name() {
        use Answer::{Cue, Effort, Focus};
        let expected = [(Effort(0), "easy"), (Focus(0), "the runner in front"), (Cue(0), "calm")]
            .map(|(one, said)| (one, said.to_owned()));
        for text in [
            "5. easy; the runner in front; calm",
            "5. easy, the runner in front, calm",
            "5. easy / the runner in front / calm",
            "5.\neasy\nthe runner in front\ncalm",
            "First third: cue word: calm; effort: easy; focus: the runner in front",
            "first third\nEffort - easy\nCue: calm\nMind: the runner in front",
            "Stretch 1 easy | the runner in front | calm",
        ] {
            assert_eq!(read(text), expected, "{text}");
        }
        assert_eq!(read("last third: everything"), [(Effort(2), "everything".to_owned())]);
    }

    #[test]
    fn without_any_sign_times_in_front_are_goals_and_nine_lines_are_all() {
        assert_eq!(goals("sub 50\nunder 52 min\n55:00\nsee you"), ["sub 50", "under 52 min", "55:00"]);
        assert_eq!(read_answers("sub 50\nsee you", &sent()).unplaced(), "see you");
        let nine = "sub 50\n52\nfinish\nthe tempos\neasy\nsteady\nall\nthe heat\ntoo long";
        let read = read(nine);
        assert_eq!(
            (read[3].1.as_str(), read[7].1.as_str(), read[8].1.as_str()),
            ("the tempos", "the heat", "too long")
        );
        assert!(read_answers(nine, &sent()).is_guessed);
    }

    #[test]
    fn what_belongs_to_no_question_is_told_apart() {
        let reading = read_answers("Hi coach!\nA: sub 50", &sent());
        assert_eq!((reading.unplaced().as_str(), reading.is_guessed), ("Hi coach!", false));
        assert_eq!(read_answers("A marathon is long.", &sent()).unplaced(), "A marathon is long.");
        assert_eq!(
            read("Worry: my calf\nLast time: rested too much"),
            [(Answer::Worry, "my calf".to_owned()), (Answer::LastTaper, "rested too much".to_owned())]
        );
    }

    #[test]
    fn the_sheet_itself_sent_back_filled_gives_the_answers_and_nothing_else() {
        let (sheet, _) = words::question_sheet("Ana", "Harbour 10");
        let mut filled = String::new();
        let mut count = 0;
        for line in sheet.lines() {
            filled.push_str(line);
            filled.push('\n');
            if line.starts_with(|c: char| c.is_ascii_digit()) {
                count += 1;
                filled = format!("{filled}answer {count}\n");
            }
        }
        let reading = read_answers(&filled, &sent());
        assert_eq!(reading.unplaced(), "");
        let answers: Vec<String> = read(&filled).into_iter().map(|(_, said)| said).collect();
        assert_eq!(answers, (1..=9).map(|count| format!("answer {count}")).collect::<Vec<_>>());
        assert_eq!(read(&sheet), [], "an empty sheet answers nothing");
    }

    #[test]
    fn times_look_like_times() {
        for time in ["1:45", "1h45", "under 50 min", "sub 50", "sub-3", "3:29:59", "50 min", "45'", "about 2 h", "<40"]
        {
            assert!(is_time(time), "{time}");
        }
        for other in ["", "finish", "50", "2027", "10 km", "subway", "a 50"] {
            assert!(!is_time(other), "{other}");
        }
    }

    proptest! {
        #[test]
        fn the_pieces_of_any_text_are_the_text(
            text in "(\\PC|\n|\r\n|[0-9ABCabc.:);,/ -]|Goal A|sub 50|first third|effort|worry|1\\. |why){0,60}"
        ) {
            let reading = read_answers(&text, &sent());
            let together: String = reading.pieces.iter().map(|piece| piece.text).collect();
            prop_assert_eq!(together, text);
        }

        #[test]
        fn a_sign_never_swallows_an_answer(words in "[d-z]{4,9}( [d-z]{4,9}){0,3}", which in 1_usize..=9) {
            let text = format!("{which}. {words}");
            let reading = read_answers(&text, &sent());
            let said: String = reading.pieces.iter().filter(|piece| piece.place != Place::Sign).map(|piece| piece.text).collect();
            prop_assert_eq!(said, words);
        }
    }
}
