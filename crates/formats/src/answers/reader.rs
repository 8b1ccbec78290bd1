//! Reads a text line by line: which question is open, and what of a line is sign and what answer.

use super::number::{is_blank, number};
use super::signs::{asked_length, is_same, marks, named, next_goal, own_words, part_name, sign_within};
use super::speaker::speaker;
use super::time::{is_finish, is_time};
use super::{Answer, Piece, Place, Question, Sent};

/// What has been read so far.
pub(super) struct Reader<'a, 'q> {
    pub(super) pieces: Vec<Piece<'a>>,
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
    pub(super) const fn new(sent: &'q Sent) -> Self {
        let opened = [false; Question::ALL.len()];
        Self { pieces: Vec::new(), sent, open: None, part: 0, run: 0, opened, speaker: None }
    }

    fn push(&mut self, place: Place, text: &'a str) {
        if !text.is_empty() {
            self.pieces.push(Piece { place, text });
        }
    }

    pub(super) fn line(&mut self, line: &'a str) {
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
        self.opened[question.index()] = true;
        self.part = 0;
        self.run += 1;
        self.rest(&text[length..]);
    }

    /// The question that comes next, where they come in order.
    fn next(&self) -> Option<Question> {
        self.open.map_or(Question::ALL.first().copied(), Question::following)
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
            let mut left = Question::ALL[..3].iter().filter(|goal| !self.opened[goal.index()]);
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
            let Some((next, (at, length))) = last.following().and_then(|next| Some((next, sign_within(next, behind)?)))
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

/// Without any sign: as many lines as questions, or times in front, are taken in their order.
pub(super) fn guess<'a>(text: &'a str, pieces: &[Piece<'a>]) -> Vec<Piece<'a>> {
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
