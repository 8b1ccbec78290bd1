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
mod tests;
