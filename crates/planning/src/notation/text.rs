//! A text read from its front: what every reader of this folder is made of.

/// The part of a text that is not read yet. Copying it marks a place to come back to.
#[derive(Clone, Copy, Debug)]
pub(super) struct Text<'a> {
    left: &'a str,
}

/// Where a piece begins in the text that it was cut from.
pub(super) fn place(text: &str, piece: &str) -> usize {
    piece.as_ptr() as usize - text.as_ptr() as usize
}

impl<'a> Text<'a> {
    pub(super) const fn new(text: &'a str) -> Self {
        Self { left: text }
    }

    /// What is left, without space around it.
    pub(super) fn left(&self) -> &'a str {
        self.left.trim()
    }

    pub(super) fn is_done(&self) -> bool {
        self.left().is_empty()
    }

    /// What was read since an earlier copy of this text.
    pub(super) fn since(&self, earlier: &Self) -> &'a str {
        earlier.left[..earlier.left.len() - self.left.len()].trim()
    }

    /// Whether exactly this stands in front, space counted.
    pub(super) fn starts_with(&self, exact: &str) -> bool {
        self.left.starts_with(exact)
    }

    pub(super) fn skip_space(&mut self) {
        self.left = self.left.trim_start();
    }

    pub(super) fn peek(&self) -> Option<char> {
        self.left.chars().next()
    }

    /// Takes the next character if it is one of these.
    pub(super) fn take_any(&mut self, wanted: &[char]) -> Option<char> {
        let next = self.peek().filter(|next| wanted.contains(next))?;
        self.left = &self.left[next.len_utf8()..];
        Some(next)
    }

    /// Takes characters while they fit; may be none.
    pub(super) fn take_while(&mut self, fits: impl Fn(char) -> bool) -> &'a str {
        let end = self.left.find(|next| !fits(next)).unwrap_or(self.left.len());
        let (taken, left) = self.left.split_at(end);
        self.left = left;
        taken
    }

    /// Takes the digits in front; may be none.
    pub(super) fn take_digits(&mut self) -> &'a str {
        self.take_while(|next| next.is_ascii_digit())
    }

    /// Takes a phrase in any case, if a word ends where it ends. A hyphen in the text stands for a
    /// space in the phrase.
    pub(super) fn take_phrase(&mut self, phrase: &str) -> bool {
        let left = self.left.trim_start();
        // Most phrases that are tried do not even begin like the text: no need to look at characters.
        let begins_alike = |(here, wanted): (&u8, &u8)| here.eq_ignore_ascii_case(wanted);
        if !left.as_bytes().first().zip(phrase.as_bytes().first()).is_some_and(begins_alike) {
            return false;
        }
        let mut left = left.chars();
        for wanted in phrase.chars() {
            let fits = left.next().is_some_and(|next| {
                next.eq_ignore_ascii_case(&wanted) || (wanted == ' ' && (next == '-' || next.is_whitespace()))
            });
            if !fits {
                return false;
            }
        }
        let left = left.as_str();
        let ends_in_letter = phrase.ends_with(|last: char| last.is_alphanumeric());
        if ends_in_letter && left.starts_with(char::is_alphabetic) {
            return false;
        }
        self.left = left;
        true
    }

    /// Takes the first phrase that stands in front.
    pub(super) fn take_any_phrase(&mut self, phrases: &[&str]) -> bool {
        let Some(first) = self.first_letter() else { return false };
        phrases.iter().any(|phrase| first.begins(phrase) && self.take_phrase(phrase))
    }

    /// The letter with which it goes on, for whoever tries many phrases: most do not even begin with it.
    pub(super) fn first_letter(&self) -> Option<FirstLetter> {
        let first = self.left.trim_start().as_bytes().first();
        first.map(|byte| FirstLetter(byte.to_ascii_lowercase()))
    }
}

/// What [`Text::first_letter`] gives.
#[derive(Clone, Copy)]
pub(super) struct FirstLetter(u8);

impl FirstLetter {
    /// Whether a phrase begins with it.
    pub(super) fn begins(self, phrase: &str) -> bool {
        phrase.as_bytes().first().is_some_and(|byte| byte.to_ascii_lowercase() == self.0)
    }
}

/// The words of a text with one space between them.
pub(super) fn tidy(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}
