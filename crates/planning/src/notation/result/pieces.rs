//! The words of a result with their places, and what of a line is a note.

/// Words longer than this are no date, no distance and no time: "3 h 25 min 10 s".
const MOST_WORDS: usize = 6;

/// More of one kind than these are no result; looking at every choice of three would take long.
const MOST_OF_A_KIND: usize = 6;

/// A word with its place in its line.
#[derive(Clone, Copy, Debug)]
struct Word {
    from: usize,
    until: usize,
    is_bracketed: bool,
}

/// The words of a line, marks around them left out.
pub(super) struct Words<'a> {
    line: &'a str,
    words: Vec<Word>,
}

/// Some words of a line, one behind the other.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Span {
    /// The first word.
    first: usize,
    /// Just behind the last one.
    end: usize,
}

impl Span {
    pub(super) const fn length(self) -> usize {
        self.end - self.first
    }

    pub(super) const fn meets(self, other: Self) -> bool {
        self.first < other.end && other.first < self.end
    }

    const fn holds(self, other: Self) -> bool {
        self.first <= other.first && other.end <= self.end
    }
}

impl<'a> Words<'a> {
    pub(super) fn of(line: &'a str) -> Self {
        let (mut words, mut from, mut depth) = (Vec::new(), None, 0_usize);
        for (at, next) in line.char_indices().chain([(line.len(), ' ')]) {
            let behind = line[at..].chars().nth(1);
            let parts_thousands = |last: Option<char>| last.is_some_and(|last| last.is_ascii_digit());
            let is_mark = match next {
                ',' => !(parts_thousands(line[..at].chars().next_back()) && parts_thousands(behind)),
                ';' | '(' | ')' | ' ' | '=' | '|' | '"' | '\u{201c}' | '\u{201d}' => true,
                _ => false,
            };
            match from {
                None if !is_mark => from = Some(at),
                Some(start) if is_mark => {
                    words.extend(trimmed(line, start, at, depth > 0));
                    from = None;
                }
                _ => {}
            }
            match next {
                '(' => depth += 1,
                ')' => depth = depth.saturating_sub(1),
                _ => {}
            }
        }
        Self { line, words }
    }

    pub(super) fn text(&self, span: Span) -> &'a str {
        let (first, last) = (self.words[span.first], self.words[span.end - 1]);
        &self.line[first.from..last.until]
    }

    /// The words one by one.
    pub(super) fn each(&self) -> impl Iterator<Item = &'a str> {
        (0..self.words.len()).map(|first| self.text(Span { first, end: first + 1 }))
    }

    /// Whether any of it stands in brackets.
    pub(super) fn is_bracketed(&self, span: Span) -> bool {
        self.words[span.first..span.end].iter().any(|word| word.is_bracketed)
    }

    /// The longest pieces of the line that something is read from, with that.
    pub(super) fn found<T>(&self, read: impl Fn(&'a str) -> Option<T>) -> Vec<(Span, T)> {
        let mut found: Vec<(Span, T)> = Vec::new();
        for first in 0..self.words.len() {
            let ends = (first + 1..=self.words.len().min(first + MOST_WORDS)).rev();
            let spans = ends.map(|end| Span { first, end });
            let one = spans.into_iter().find_map(|span| Some((span, read(self.text(span))?)));
            found.extend(one.filter(|(span, _)| found.iter().all(|(before, _)| !before.holds(*span))));
            if found.len() == MOST_OF_A_KIND {
                break;
            }
        }
        found
    }

    /// Every piece of the line that something is read from, the longer first.
    pub(super) fn all<T>(&self, read: impl Fn(&'a str) -> Option<T>) -> Vec<(Span, T)> {
        let spans = (1..=MOST_WORDS).rev().flat_map(|length| {
            let firsts = 0..(self.words.len() + 1).saturating_sub(length);
            firsts.map(move |first| Span { first, end: first + length })
        });
        spans.filter_map(|span| Some((span, read(self.text(span))?))).take(MOST_OF_A_KIND).collect()
    }

    /// The line with other words in the place of these.
    pub(super) fn replaced(&self, span: Span, words: &str) -> String {
        let (first, last) = (self.words[span.first], self.words[span.end - 1]);
        format!("{}{words}{}", &self.line[..first.from], &self.line[last.until..])
    }

    /// What is left of a line beside these pieces and the words that lead to them.
    pub(super) fn beside(&self, mut taken: [Span; 3]) -> String {
        taken.sort_by_key(|span| span.first);
        let (mut left, mut from) = (Vec::new(), 0);
        for span in taken {
            let mut first = span.first;
            while first > 0 && leads(self.line, self.words[first - 1]) && self.words[first - 1].from >= from {
                first -= 1;
            }
            left.push(&self.line[from..self.words[first].from]);
            from = self.words[span.end - 1].until;
        }
        left.push(&self.line[from..]);
        let is_mark = |one: char| matches!(one, ' ' | ',' | ';' | ':' | '=' | '|' | '@' | '-' | '\u{2013}' | '.');
        let left: Vec<&str> = left.into_iter().map(|piece| piece.trim_matches(is_mark)).collect();
        let note = crate::plain::joined(left.iter().map(|piece| (*piece).to_owned()), " ");
        // What stood in brackets may be gone, or stand beside a piece that was taken out of them.
        if left.iter().all(|piece| is_balanced(piece)) {
            return note;
        }
        let bare: String = note.chars().map(|one| if matches!(one, '(' | ')') { ' ' } else { one }).collect();
        super::clean(&bare).trim_matches(is_mark).to_owned()
    }
}

/// A word without the marks at its ends; "8.11." keeps its last point.
fn trimmed(line: &str, from: usize, until: usize, is_bracketed: bool) -> Option<Word> {
    let text = &line[from..until];
    let front = text.trim_start_matches(['@', '-', '\u{2013}', '\u{2014}', ':', '*', '\u{2022}', '.']);
    let mut word = front.trim_end_matches([':', '-', '\u{2013}', '\u{2014}', '!']);
    let body = word.trim_end_matches('.');
    if !body.contains('.') {
        word = body;
    }
    let from = from + (text.len() - front.len());
    (!word.is_empty()).then(|| Word { from, until: from + word.len(), is_bracketed })
}

/// Whether a word leads to what stands behind it: "in 42:10", "on 8 Nov".
fn leads(line: &str, word: Word) -> bool {
    const LEADING: [&str; 9] = ["on", "in", "at", "ran", "run", "time", "date", "of", "for"];
    let text = &line[word.from..word.until];
    LEADING.iter().any(|leading| text.eq_ignore_ascii_case(leading))
}

fn is_balanced(text: &str) -> bool {
    let mut depth = 0_i32;
    text.chars().all(|next| {
        depth += i32::from(next == '(') - i32::from(next == ')');
        depth >= 0
    }) && depth == 0
}
