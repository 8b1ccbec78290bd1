//! What an athlete answers to the questions at the start of a block, read out of any text: numbered or
//! not, with the questions or without, in any order.
//!
//! A text becomes [pieces](Piece) that together are the text to the letter: nothing is lost, and what
//! belongs to no question is told apart. Whoever reads it sees the reading before anything is kept.

mod number;

use number::{digit, is_blank, number};

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

/// What has been read so far.
struct Reader<'a, 'q> {
    pieces: Vec<Piece<'a>>,
    sent: &'q Sent,
    /// The question that the lines now answer.
    open: Option<Question>,
    /// Which part of a stretch comes next.
    part: usize,
    /// How many questions were opened on this line.
    run: usize,
    /// The questions that were opened so far, by their place in [`Question::ALL`].
    opened: [bool; Question::ALL.len()],
    /// Who wrote the lines, where a messenger puts a name before them.
    speaker: Option<&'a str>,
}

impl<'a, 'q> Reader<'a, 'q> {
    const fn new(sent: &'q Sent) -> Self {
        let opened = [false; Question::ALL.len()];
        Self { pieces: Vec::new(), sent, open: None, part: 0, run: 0, opened, speaker: None }
    }

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
        self.push(Place::Sign, mark);
        self.run = 0;
        match self.opening(rest).or_else(|| self.spoken(rest)) {
            Some((question, length)) => self.begin(question, length, rest),
            None => self.rest(rest),
        }
    }

    /// Takes the sign of a question, and what stands behind it.
    fn begin(&mut self, question: Question, length: usize, text: &'a str) {
        self.push(Place::Sign, &text[..length]);
        self.open = Some(question);
        self.opened[index(question)] = true;
        self.part = 0;
        self.run += 1;
        self.rest(&text[length..]);
    }

    /// The question that comes next, where they come in order.
    fn next(&self) -> Option<Question> {
        Question::ALL.get(self.open.map_or(0, |open| index(open) + 1)).copied()
    }

    /// The sign of a question at the beginning: its number, its words, or both.
    fn opening(&self, text: &str) -> Option<(Question, usize)> {
        let numbered = self.numbered(text).map(|(question, length)| {
            let words = own_words(question, &text[length..], self.sent);
            (question, length + words)
        });
        numbered.or_else(|| self.asked(text)).or_else(|| named(text))
    }

    /// The sign of a question behind the name of who wrote it. A name alone, without a time, may as well
    /// be the beginning of a sentence: it is known again, or the sign is the one that comes next.
    fn spoken(&mut self, text: &'a str) -> Option<(Question, usize)> {
        let (name, length, is_stamped) = speaker(text)?;
        let (question, sign) = self.opening(&text[length..])?;
        let is_known = is_stamped || self.speaker == Some(name) || self.open.is_none() || self.next() == Some(question);
        if !is_known || part_name(text).is_some() {
            return None;
        }
        self.speaker = Some(name);
        Some((question, length + sign))
    }

    /// The number of a question at the beginning, with the mark behind it.
    fn numbered(&self, text: &str) -> Option<(Question, usize)> {
        number(text, self.next()).or_else(|| {
            // "1 - 1h45" below "3) finish": a goal that has no answer yet, and a time that is one.
            let mut left = Question::ALL[..3].iter().filter(|goal| !self.opened[index(**goal)]);
            let found = left.find_map(|goal| number(text, Some(*goal)).filter(|(found, _)| found == goal));
            found.filter(|(_, length)| {
                let sign = text[..*length].trim_end_matches(is_blank);
                sign.ends_with(['-', '\u{2013}', '\u{2014}', '=']) && is_finish(&text[*length..])
            })
        })
    }

    /// A question of ours at the beginning, without its number.
    fn asked(&self, text: &str) -> Option<(Question, usize)> {
        let all = Question::ALL.into_iter().zip(&self.sent.questions);
        all.filter_map(|(question, asked)| Some((question, asked_length(text, asked)?)))
            .max_by_key(|(_, length)| *length)
    }

    /// What stands behind the signs of a line.
    fn rest(&mut self, text: &'a str) {
        if let Some((at, length, next)) = self.next_in_run(text) {
            let end = text[..at].trim_end_matches(|c: char| is_blank(c) || [',', ';', '/', '|'].contains(&c)).len();
            self.answer(&text[..end]);
            self.push(Place::Sign, &text[end..at]);
            let length = length + own_words(next, &text[at + length..], self.sent);
            self.begin(next, length, &text[at..]);
            return;
        }
        match self.open.and_then(|question| next_goal(question, text)) {
            // "A 1:45, B 1:48, C finish" is three answers on one line.
            Some((at, length, next)) => {
                let end = text[..at].trim_end_matches([' ', '\t', ',', ';', '/', '|']).len();
                self.answer(&text[..end]);
                self.push(Place::Sign, &text[end..at]);
                self.begin(next, length, &text[at..]);
            }
            None => self.answer(text),
        }
    }

    /// What belongs to the question that is open.
    fn answer(&mut self, text: &'a str) {
        match self.open {
            None => self.push(if text.trim().is_empty() { Place::Sign } else { Place::Unplaced }, text),
            Some(Question::Stretch(which)) => self.stretch(which, text),
            Some(question) => self.push(Place::Answer(question.whole()), text),
        }
    }

    /// The sign of the next question on the same line: its place, its length and whose it is. It counts
    /// where the signs of the line run on over three, or where both answers are times: "ran 2. half in
    /// 1:45" is one answer.
    fn next_in_run(&self, text: &str) -> Option<(usize, usize, Question)> {
        if self.run == 0 && self.open.is_some() {
            return None;
        }
        let wanted = self.next()?;
        let (at, length) = sign_within(wanted, text)?;
        let mut signs = self.run + 1;
        let (mut last, mut behind) = (wanted, &text[at + length..]);
        while signs < 3 {
            let Some((next, (at, length))) = following(last).and_then(|next| Some((next, sign_within(next, behind)?)))
            else {
                break;
            };
            signs += 1;
            (last, behind) = (next, &behind[at + length..]);
        }
        let are_times = || self.run > 0 && is_time(text) && is_time(&text[at + length..]);
        (signs >= 3 || are_times()).then_some((at, length, wanted))
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

fn following(question: Question) -> Option<Question> {
    Question::ALL.get(index(question) + 1).copied()
}

/// How many bytes of spaces, quotation and list marks stand before a line.
fn marks(line: &str) -> usize {
    let rest = line.trim_start_matches(|c: char| is_blank(c) || ['>', '*', '\u{2022}', '\u{b7}', '_'].contains(&c));
    let rest = rest.strip_prefix("- ").or_else(|| rest.strip_prefix("\u{2013} ")).unwrap_or(rest);
    line.len() - rest.trim_start_matches(is_blank).len()
}

/// The longest time or name that a messenger puts before a line, in characters.
const SPEAKER_MOST: usize = 40;

/// Who wrote a line, where a messenger put it in front: the name, the length of everything before the
/// line's own words, and whether a time stands with it.
fn speaker(text: &str) -> Option<(&str, usize, bool)> {
    let bracketed = text.strip_prefix('[').and_then(|rest| rest.split_once(']'));
    // Without brackets, only a whole day and time is more than a time of the athlete's own.
    let dated = || text.split_once(" - ").filter(|(stamp, _)| figures(stamp) >= 5);
    let stamped = bracketed.or_else(dated).filter(|(stamp, _)| is_stamp(stamp));
    let behind = stamped.map_or(text, |(_, behind)| behind).trim_start_matches(is_blank);
    let (name, said) = behind.split_once(':')?;
    let answer = said.trim_start_matches(is_blank);
    let is_name = if stamped.is_some() { name.chars().count() <= SPEAKER_MOST } else { is_speaker(name) };
    (is_name && answer.len() < said.len()).then_some((name, text.len() - answer.len(), stamped.is_some()))
}

/// Whether a text may be a day and a time: figures, their marks, and the letters of half a day.
fn is_stamp(text: &str) -> bool {
    let is_short = text.chars().count() <= SPEAKER_MOST;
    let mut words = text.split(|c: char| !c.is_alphabetic());
    is_short && figures(text) >= 2 && words.all(|word| word.chars().count() <= 2)
}

/// How many numbers stand in a text.
fn figures(text: &str) -> usize {
    text.split(|c| digit(c).is_none()).filter(|number| !number.is_empty()).count()
}

/// Whether a text may be a name: a few words without figures, none of them in lower case.
fn is_speaker(text: &str) -> bool {
    let is_of_name = |c: char| c.is_alphabetic() || ['\'', '\u{2019}', '-', '.'].contains(&c);
    let is_name =
        |word: &str| word.starts_with(|c: char| c.is_alphabetic() && !c.is_lowercase()) && word.chars().all(is_of_name);
    let words = text.split_whitespace().count();
    (1..=4).contains(&words) && text.chars().count() <= SPEAKER_MOST && text.split_whitespace().all(is_name)
}

/// Where the sign of a question stands inside a text: its number, or for goals their letter.
fn sign_within(question: Question, text: &str) -> Option<(usize, usize)> {
    let letter = match question {
        Question::GoalA => "a",
        Question::GoalB => "b",
        Question::GoalC => "c",
        _ => "",
    };
    let mut before = None;
    text.char_indices().find_map(|(at, c)| {
        let is_apart = before.is_some_and(|c| is_blank(c) || [',', ';', '/', '|', '.'].contains(&c));
        // A number in a circle needs nothing around it.
        let is_enclosed = c.is_numeric() && digit(c).is_none();
        before = Some(c);
        if !is_apart && !is_enclosed {
            return None;
        }
        let here = &text[at..];
        let numbered = number(here, None).filter(|(found, _)| *found == question).map(|(_, length)| length);
        let length = numbered.or_else(|| is_apart.then(|| letter_length(here, letter)).flatten())?;
        Some((at, length))
    })
}

/// How many bytes a goal's letter takes with the mark behind it.
fn letter_length(text: &str, letter: &str) -> Option<usize> {
    let goal = text.get(..5).filter(|word| word.eq_ignore_ascii_case("goal ")).map_or(0, str::len);
    let end = goal + text[goal..].chars().next().map_or(0, char::len_utf8);
    let behind = text[end..].trim_start_matches([' ', '\t']);
    let is_marked = behind.starts_with([':', '=', ')', '\u{ff1a}', '\u{ff09}']);
    let is_time_of_goal = text[goal..end].chars().all(char::is_uppercase) && behind.len() < text[end..].len();
    let is_sign = text[goal..end].eq_ignore_ascii_case(letter) && !letter.is_empty();
    let marked = behind.trim_start_matches([':', '=', ')', '\u{ff1a}', '\u{ff09}']).trim_start_matches(is_blank);
    (is_sign && (is_marked || is_time_of_goal && is_time(behind))).then_some(text.len() - marked.len())
}

/// How many bytes the question's own words take behind its number. A name that fills the line and has no
/// mark behind it may begin the answer: "My best day", and below "would be 1:45".
fn own_words(question: Question, text: &str, sent: &Sent) -> usize {
    let asked = sent.questions.get(index(question)).and_then(|asked| asked_length(text, asked));
    if let Some(length) = asked {
        return length;
    }
    let name = |text: &str| named(text).filter(|(named, _)| *named == question).map_or(0, |(_, length)| length);
    let length = name(text);
    let said = text[..length].to_lowercase();
    let is_marked = said.trim_end().ends_with([':', '=', '?', '-', '\u{2013}', '\u{2014}', '\u{2192}', '>']);
    let is_plain = ["goal", "third", "stretch"].iter().any(|word| said.contains(word));
    if text[length..].trim().is_empty() && !is_marked && !is_plain {
        return 0;
    }
    let again = name(&text[length..]);
    if text[length..][..again].trim_end().ends_with(':') { length + again } else { length }
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

/// How many bytes a question takes at the beginning of a text: all of it, or what stands before its colon.
fn asked_length(text: &str, question: &str) -> Option<usize> {
    let head = || {
        let head = question.split_inclusive([':', '?']).next()?;
        let length = question_length(text, head)?;
        let is_parted = !text[..length].trim_end().ends_with(char::is_alphanumeric);
        let behind = &text[length..];
        (is_parted || behind.trim().is_empty() || is_time(behind)).then_some(length)
    };
    question_length(text, question).or_else(head)
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
    text.char_indices().filter(|(at, c)| *at > 0 && c.is_alphabetic()).find_map(|(at, _)| {
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
    let mut reader = Reader::new(&nothing);
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
    is_finish(text) || {
        let text = beginning(text);
        let behind = text.trim_start_matches(|c| digit(c).is_some());
        let digits = text[..text.len() - behind.len()].chars().count();
        let behind = behind.trim_start();
        let is_unit = ["min", "m ", "h", "'"].iter().any(|unit| behind.starts_with(unit)) && !behind.starts_with("mi ");
        (1..=3).contains(&digits) && is_unit
    }
}

/// As much of a text as a time may take, in lower case: how long the text is costs nothing.
fn beginning(text: &str) -> String {
    let begin: String = text.trim_start().chars().take(TIME_MOST).collect();
    begin.trim_end().to_lowercase()
}

/// The longest words of a time, in characters.
const TIME_MOST: usize = 40;

/// Whether a text begins with what can only be a time to finish in: `1:45`, `1h45`, `sub 50`, but not `3 h`.
fn is_finish(text: &str) -> bool {
    let text = beginning(text);
    let limited = ["under", "sub", "below", "faster than", "about", "around", "<", "~"]
        .into_iter()
        .find_map(|word| text.strip_prefix(word).map(|rest| rest.trim_start_matches([' ', '-'])));
    let rest = limited.unwrap_or(&text);
    let behind = rest.trim_start_matches(|c| digit(c).is_some());
    let digits = rest[..rest.len() - behind.len()].chars().count();
    let is_clock = behind
        .trim_start()
        .strip_prefix([':', '.', 'h', '\''])
        .is_some_and(|rest| rest.trim_start().starts_with(|c| digit(c).is_some()));
    (1..=3).contains(&digits) && (is_clock || limited.is_some())
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

    #[test]
    fn numbers_are_read_in_every_script_and_with_every_usual_mark() {
        for text in [
            "Q1: sub 50\nQ2: 1h45\nQ3: finish",
            "q 1 - sub 50\nq 2 - 1h45\nq 3 - finish",
            "Question 1: sub 50\nQuestion 2: 1h45\nQUESTION 3: finish",
            "Question 3: finish\nQuestion 1: sub 50\nquestion 2. 1h45",
            "1, sub 50\n2, 1h45\n3, finish",
            "1\u{3001}sub 50\n2\u{3001}1h45\n3\u{3001}finish",
            "\u{2460}sub 50\n\u{2461} 1h45\n\u{2462} finish",
            "\u{ff11}\u{ff0e}sub 50\n\u{ff12}\u{ff0e}1h45\n\u{ff13}\u{ff0e}finish",
            "\u{661}. sub 50\n\u{662}. 1h45\n\u{663}. finish",
            "\u{967}. sub 50\n\u{968}. 1h45\n\u{969}. finish",
            "I. sub 50\nII. 1h45\nIII. finish",
            "1st: sub 50\n2nd: 1h45\n3rd: finish",
            "[1] sub 50\n[2] 1h45\n[3] finish",
            "3) finish\n1 - sub 50\n2 - 1h45",
        ] {
            assert_eq!(goals(text), ["sub 50", "1h45", "finish"], "{text}");
        }
        let nine = ["I", "II", "III", "IV", "V", "VI", "VII", "VIII", "IX"];
        let lines: Vec<_> = nine.iter().enumerate().map(|(at, roman)| format!("{roman}. answer {at}")).collect();
        let said: Vec<String> = read(&lines.join("\n")).into_iter().map(|(_, said)| said).collect();
        assert_eq!(said, (0..9).map(|at| format!("answer {at}")).collect::<Vec<_>>());
        assert_eq!(goals("1, 1:45\n2, 1:48\n3, 2:00"), ["1:45", "1:48", "2:00"]);
        assert_eq!(goals("1\u{3001}1:45\n\u{2461}1:48\n\u{ff13}\u{ff0e}2:00"), ["1:45", "1:48", "2:00"]);
    }

    #[test]
    fn a_dash_below_a_later_number_opens_a_goal_and_an_amount_does_not() {
        assert_eq!(goals("3) finish\n1 - 1h45"), ["1h45", "", "finish"]);
        assert_eq!(read("4. long runs\n2 - 3 h a week")[0].1, "long runs 2 - 3 h a week");
        assert_eq!(goals("1. 1:45\n4. tempo\n1 - 5:30 at the end")[0], "1:45");
        assert_eq!(goals("1. I ran\n3 weeks, then\n10. May")[0], "I ran 3 weeks, then 10. May");
    }

    #[test]
    fn invisible_marks_and_names_of_a_messenger_hide_no_sign() {
        for text in [
            "\u{feff}1. sub 50\n\u{200e}2. 1h45\n\u{202a}\u{200f}3. finish",
            "\u{2066}A: sub 50\n- \u{2069}B: 1h45\n\u{202e} C: finish",
            "[25/11/2026, 10:12] Ana: 1. sub 50\n[25/11/2026, 10:13] Ana: 2. 1h45\n[25/11/2026, 10:13] Ana: 3. finish",
            "\u{200e}[25.11.26, 10:12:01] Ana Exemplo: \u{200e}A: sub 50\n[25.11.26, 10:12:40] +00 12: 3. finish\n[1. 2. 2026, 9:00] Ana: 2. 1h45",
            "25/11/2026, 10:12 - Ana: 1. sub 50\n5/11/26, 10:12 am - Ana: 2. 1h45\n25/11/2026, 10:12 - Ana: 3. finish",
            "Ana: 1. sub 50\nAna: 2. 1h45\nAna: 3. finish",
            "Ana: 3. finish\nAna: 1. sub 50\nAna: 2. 1h45",
            "Ana: Goal A: sub 50\nAna: Goal B: 1h45\nAna: C: finish",
        ] {
            assert_eq!(goals(text), ["sub 50", "1h45", "finish"], "{text}");
        }
        let own = "Ana: tempo 6 - easy Ana: 1. long";
        assert_eq!(read_answers(own, &sent()).unplaced(), own);
        assert_eq!(read_answers("V. strong Ana: 1. long", &sent()).unplaced(), "V. strong Ana: 1. long");
        assert_eq!(goals("1. sub 50\n1:45 - plan two: 2. 1h45"), ["sub 50 1:45 - plan two: 2. 1h45", "", ""]);
        assert_eq!(read("Worry: 1. the heat")[0], (Answer::Worry, "1. the heat".to_owned()));
        assert_eq!(goals("1. Half: 2. place")[0], "Half: 2. place");
        assert_eq!(read("4. the tempos\nHalf: 2. place")[0].1, "the tempos Half: 2. place");
    }

    #[test]
    fn signs_that_run_on_along_a_line_are_as_many_answers() {
        for text in [
            "1. sub 50 2. 1h45 3. finish",
            "1) sub 50, 2) 1h45, 3) finish",
            "(1) sub 50 (2) 1h45 (3) finish",
            "\u{2460}sub 50\u{2461}1h45\u{2462}finish",
            "Q1: sub 50 Q2: 1h45 Q3: finish",
            "A: sub 50 B: 1h45 C: finish",
            "a) sub 50 b) 1h45 c) finish",
            "Goal A: sub 50 Goal B: 1h45 Goal C: finish",
            "Ana: 1. sub 50 2. 1h45 3. finish",
            "1. Goal A: sub 50 2. Goal B: 1h45 3. Goal C: finish",
            "1. sub 50 2. 1h45\n3. finish",
            "A sub 50 B 1h45\nC finish",
        ] {
            assert_eq!(goals(text), ["sub 50", "1h45", "finish"], "{text}");
        }
        let reading = read_answers("Hi coach, 1. sub 50 2. 1h45 3. finish", &sent());
        assert_eq!((reading.unplaced().as_str(), reading.answer(Answer::GoalC).as_str()), ("Hi coach", "finish"));
        for whole in ["ran 2. half in 1:45", "sub 50, in my 2. half", "group B: fast", "1:45 at the 2 km mark"] {
            assert_eq!(goals(&format!("1. {whole}")), [whole, "", ""]);
        }
        let read = read("4. tempos 5. easy; hips; calm 6. steady 7. all 8. heat 9. long");
        let said: Vec<&str> = read.iter().map(|(_, said)| said.as_str()).collect();
        assert_eq!(said, ["tempos", "easy", "hips", "calm", "steady", "all", "heat", "long"]);
    }

    #[test]
    fn the_words_of_a_question_are_no_answer_and_the_words_of_an_answer_no_question() {
        for text in [
            "1. Goal A, the best day: 1:45",
            "Goal A, the best day: 1:45",
            "1. Goal A: 1:45",
            "1. Goal A, best day: 1:45",
            "1. Goal A\n1:45",
            "1. best day: 1:45",
        ] {
            assert_eq!(goals(text)[0], "1:45", "{text}");
        }
        assert_eq!(read("4. Why may you believe it? the tempos")[0].1, "the tempos");
        assert_eq!(goals("1. My best day\nwould be 1:45")[0], "My best day would be 1:45");
        assert_eq!(goals("1. My best day.\nWould be 1:45")[0], "My best day. Would be 1:45");
        assert_eq!(read("8. Worry: worries, mostly")[0].1, "worries, mostly");
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

        #[test]
        fn any_mixture_of_signs_keeps_every_word(
            parts in prop::collection::vec(
                (prop::sample::select(SIGNS.to_vec()), "[d-z]{4,9}", prop::sample::select(vec![" ", "\n", ", ", "\r\n", "; "])),
                1..14,
            )
        ) {
            let text: String = parts.iter().flat_map(|(sign, word, end)| [*sign, word, *end]).collect();
            let reading = read_answers(&text, &sent());
            let together: String = reading.pieces.iter().map(|piece| piece.text).collect();
            prop_assert_eq!(&together, &text);
            let said = reading.pieces.iter().filter(|piece| piece.place != Place::Sign).map(|piece| piece.text);
            let said = said.collect::<Vec<_>>().join(" ");
            let mut words = said.split(|c: char| !c.is_ascii_alphabetic());
            for (_, word, _) in &parts {
                prop_assert!(words.any(|one| one == word), "{} in {:?} of {:?}", word, said, text);
            }
        }
    }

    /// Signs, and what looks like one.
    const SIGNS: [&str; 40] = [
        "",
        "",
        "",
        "1. ",
        "2. ",
        "3) ",
        "(4) ",
        "5: ",
        "6 - ",
        "7, ",
        "8\u{3001}",
        "Q1: ",
        "Question 3: ",
        "\u{2460}",
        "\u{2468} ",
        "\u{ff11}\u{ff0e}",
        "\u{662}. ",
        "\u{967}. ",
        "I. ",
        "V. ",
        "IX. ",
        "1st: ",
        "2nd. ",
        "\u{200e}1. ",
        "\u{feff}",
        "\u{202a}3. ",
        "[25/11/2026, 10:12] Ana: ",
        "Ana: ",
        "[25/11/2026, 10:12] Ana: 2. ",
        "Ana: 1. ",
        "A: ",
        "B: ",
        "C) ",
        "Goal A, the best day: ",
        "goal b ",
        "My best day ",
        "First third: ",
        "effort: ",
        "1:45 ",
        "1. Goal A: ",
    ];
}
