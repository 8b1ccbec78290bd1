//! What can be seen in words that are not read: amounts, kinds, repetitions. The rest stays words.

use super::super::amounts::{RawAmount, is_short_kind, take_roughly};
use super::super::around::is_around;
use super::super::hardness::{is_counted, is_short, names_hardness};
use super::super::kinds::take_kind;
use super::super::line::{Note, Part};
use super::super::sets::{TIMES, is_recovery, starts_with_reps, take_sets};
use super::super::text::Text;
use crate::plain::joined;
use crate::session::{Kind, Session, SetUnit, Sets};
use crate::units::{Amount, Unit};

/// What was seen in the parts of a session.
#[derive(Clone, Debug, Default)]
pub(super) struct Seen {
    pub(super) kinds: Vec<Kind>,
    pub(super) amounts: Vec<SeenAmount>,
    pub(super) sets: Vec<Sets>,
    pub(super) loaded: bool,
    /// The half of the day.
    half: String,
    /// Everything in its order, a part at a time.
    parts: Vec<Vec<Piece>>,
    /// All of the words.
    pub(super) all: String,
    /// Whether some amount has a unit: numbers without one are words then.
    any_unit: bool,
}

/// A piece of a part, as typed.
#[derive(Clone, Debug)]
struct Piece {
    words: String,
    is: Is,
}

impl Piece {
    /// "3 km", "hard/2'"
    fn tells_amount(&self) -> bool {
        matches!(self.is, Is::Amount(_) | Is::Word) && self.words.contains(|one: char| one.is_ascii_digit())
    }
}

/// What a piece was seen to be.
#[derive(Clone, Copy, Debug)]
enum Is {
    Word,
    /// What parts others: "/".
    Mark,
    /// A kind; whether its name says more than the kind.
    Kind {
        kind: Kind,
        tells_more: bool,
    },
    /// The name of a kind in brackets, and nothing else there.
    Aside(Kind),
    Amount(RawAmount),
    Sets,
}

/// An amount with the words that belong to it.
#[derive(Clone, Debug)]
pub(super) struct SeenAmount {
    pub(super) raw: RawAmount,
    /// What stands behind it up to the next one, and in front of the first.
    pub(super) words: String,
    /// Whether it is run as a part behind another: "then 10 min", "+ 2 km".
    pub(super) follows: bool,
}

impl SeenAmount {
    /// Whether a sport that is no running stands among its own words.
    pub(super) fn names_sport(&self) -> bool {
        let starts = std::iter::once(0).chain(self.words.match_indices(' ').map(|(at, _)| at + 1));
        let kind = |at: usize| take_kind(&mut Text::new(&self.words[at..]));
        starts.into_iter().filter_map(kind).any(|(kind, _)| !kind.is_running())
    }

    /// Whether its own words say that it is run hard.
    pub(super) fn is_hard(&self) -> bool {
        let mut text = Text::new(&self.words);
        let kind = take_kind(&mut text).map(|(kind, _)| kind);
        may_be_hard(&self.words)
            || names_hardness(&self.words)
            || is_short(&self.words)
            || kind.is_some_and(|kind| kind.assumed_hard().is_some())
    }
}

/// Behind one of these a number is no amount of running.
const NO_AMOUNT: [&str; 22] = [
    "@", "at", "zone", "z", "rpe", "hr", "hr:", "level", "effort", "pace", "grade", "rate", "max", "under", "below",
    "over", "no", "x", "of", "group", "off", "r",
];

/// Words that join others, and say nothing where they stand at an end.
const JOINING: [&str; 28] = [
    "with",
    "w/",
    "w",
    "and",
    "then",
    "at",
    "@",
    "in",
    "on",
    "of",
    "the",
    "a",
    "to",
    "into",
    "plus",
    "&",
    "by",
    "for",
    "incl",
    "incl.",
    "including",
    "inc",
    "inside",
    "within",
    "-",
    "\u{2013}",
    "/",
    "from",
];

/// Words of clubs for a session that is hard, though they name no running.
const SESSIONS: [&str; 22] = [
    "champs",
    "championships",
    "session",
    "workout",
    "pyramid",
    "ladder",
    "efforts",
    "effort",
    "alternating",
    "kenyan",
    "vk",
    "race",
    "xc",
    "timed",
    "parlauf",
    "paarlauf",
    "bounding",
    "downhill",
    "downhills",
    "stairs",
    "steps",
    "max",
];

/// Whether words may be about a hard session, as clubs call it.
pub(super) fn may_be_hard(words: &str) -> bool {
    let lower = words.to_lowercase();
    let all: Vec<&str> = lower.split(|next: char| !next.is_alphanumeric()).filter(|word| !word.is_empty()).collect();
    let at = |index: usize| all.get(index).copied().unwrap_or_default();
    (0..all.len()).any(|index| {
        // "effort 5", "easy effort": how easily it is run.
        let is_named =
            SESSIONS.contains(&at(index)) && (at(index) != "effort" || at(index + 1).starts_with(['6', '7', '8', '9']));
        let is_meet = at(index) == "meet" && at(index + 1) == "day";
        let is_gentle = index > 0 && ["easy", "steady", "strength", "gym", "core", "cross"].contains(&at(index - 1));
        is_attached(at(index)) || is_meet || (is_named && !is_gentle) || (at(index) == "all" && at(index + 1) == "out")
    })
}

/// "8M", "M8", "8MP": an amount and the letter of a pace, as sheets have it; "800m" are metres.
fn is_attached(word: &str) -> bool {
    let digits = |text: &str| (1..=2).contains(&text.len()) && text.bytes().all(|one| one.is_ascii_digit());
    let behind = ["gmp", "hmp", "mp", "m", "t", "i"].iter().any(|pace| word.strip_suffix(pace).is_some_and(digits));
    behind || ["mp", "m"].iter().any(|pace| word.strip_prefix(pace).is_some_and(digits))
}

impl Seen {
    pub(super) fn of(parts: &[Part]) -> Self {
        let mut seen = Self { any_unit: parts.iter().any(has_unit), ..Self::default() };
        let mut all = Vec::new();
        for part in parts {
            all.push(part.words.clone());
            seen.look(&part.words);
            for words in &part.quoted {
                seen.leave(words);
                all.push(words.clone());
            }
            for note in &part.notes {
                match note {
                    Note::Half(half) => seen.half.clone_from(half),
                    Note::Plain(words) | Note::Quoted(words) => {
                        seen.look_aside(words, parts.len() == 1);
                        all.push(words.clone());
                    }
                }
            }
        }
        seen.all = joined(all, ", ");
        seen
    }

    /// A note in brackets: the recovery of the repetitions before it, what nobody told outside of it, or words.
    fn look_aside(&mut self, words: &str, is_alone: bool) {
        match self.sets.last_mut() {
            Some(sets) if sets.recovery.is_empty() && is_recovery(words) => words.clone_into(&mut sets.recovery),
            None if starts_with_reps(Text::new(words)) => self.look(words),
            None if is_alone && self.amounts.is_empty() && !words.contains([',', '(', '"']) => self.look(words),
            None if names_hardness(words) && words_have_unit(words) => self.look(words),
            _ => self.leave(words),
        }
    }

    fn leave(&mut self, words: &str) {
        if let Some(amount) = self.amounts.last_mut() {
            amount.words = joined([amount.words.as_str(), words], " ");
        }
        // "10 km (tempo)"
        let mut text = Text::new(words);
        let is = match take_kind(&mut text).filter(|_| text.is_done() && !words.contains(' ')) {
            Some((kind, None)) => Is::Aside(kind),
            Some((_, Some(_))) | None => Is::Word,
        };
        self.parts.push(vec![Piece { words: words.to_owned(), is }]);
    }

    fn look(&mut self, words: &str) {
        if let Some(sets) = self.sets.last_mut().filter(|sets| sets.recovery.is_empty())
            && is_recovery(words)
            && !starts_with_reps(Text::new(words))
        {
            words.clone_into(&mut sets.recovery);
            return;
        }
        let mut text = Text::new(words);
        let mut run = Run::default();
        let first = self.amounts.len();
        let mut pieces: Vec<Piece> = Vec::new();
        while !text.is_done() {
            text.skip_space();
            let here = text;
            let taken = self.take_sets(&mut text).then_some(Is::Sets);
            let taken = taken.or_else(|| self.take_amount(&mut text, &run).map(Is::Amount));
            if let Some(is) = taken {
                pieces.push(Piece { words: text.since(&here).to_owned(), is });
                run.before = String::new();
                continue;
            }
            let is = if let Some((kind, word)) = take_kind(&mut text).filter(|_| ends_kind(text)) {
                self.kinds.push(kind);
                Is::Kind { kind, tells_more: word.is_some() }
            } else if text.take_any_phrase(&["loaded legs", "loaded", "heavy legs"]) {
                self.loaded = true;
                continue;
            } else if text.take_any(&['/', '|', ':', ';', '>', '=']).is_some() {
                pieces.push(Piece { words: text.since(&here).to_owned(), is: Is::Mark });
                continue;
            } else {
                text.take_while(|next| !next.is_whitespace());
                Is::Word
            };
            text.since(&here).clone_into(&mut run.before);
            pieces.push(Piece { words: run.before.clone(), is });
            if let Some(amount) = self.amounts.get_mut(first..).and_then(<[_]>::last_mut) {
                amount.words = joined([amount.words.as_str(), run.before.as_str()], " ");
            } else {
                run.lead = joined([run.lead.as_str(), run.before.as_str()], " ");
            }
        }
        // What stands in front of the first belongs to it: "tempo 5 km".
        if let Some(amount) = self.amounts.get_mut(first) {
            amount.words = joined([run.lead.as_str(), amount.words.as_str()], " ");
        }
        self.parts.push(pieces);
    }

    /// Repetitions take the rest of the words, with their pace and their recovery.
    fn take_sets(&mut self, text: &mut Text<'_>) -> bool {
        let mut range = *text;
        let is_range = !range.take_digits().is_empty() && range.take_any(&['-', '\u{2013}']).is_some();
        if is_range && starts_with_reps(range) {
            // "5-6 x 800 m": the greater number, and the words say so.
            let until = range.left().find(TIMES).unwrap_or_default();
            let both = text.left().len() - range.left().len() + until;
            self.leave(&format!("{} x", text.left()[..both].trim()));
            *text = range;
        }
        if !starts_with_reps(*text) {
            return false;
        }
        let Some(sets) = take_sets(&mut { *text }).ok().filter(|sets| sets.problems().is_empty()) else { return false };
        self.sets.push(sets);
        *text = Text::new("");
        true
    }

    fn take_amount(&mut self, text: &mut Text<'_>, run: &Run) -> Option<RawAmount> {
        let before = run.before.trim_start_matches(['-', '\u{2013}', '+']).to_lowercase();
        if NO_AMOUNT.contains(&before.as_str()) || before.ends_with(['<', '>', '=', '@']) {
            return None;
        }
        let mut after = *text;
        after.take_any(&['+', '-', '\u{2013}', '\u{2014}']);
        take_roughly(&mut after);
        let starts = after.peek().is_some_and(|next| next.is_ascii_digit());
        let raw = starts.then(|| RawAmount::take(&mut after).ok().flatten()?.by_the_clock().ok()).flatten();
        let raw = raw.filter(|_| ends_word(after) || is_short_kind(after))?;
        let is_word = !raw.has_unit()
            && !is_around(after.left())
            && (is_counted(after.left()) || ((self.any_unit || !self.amounts.is_empty()) && !is_short_kind(after)));
        let is_times = after.left().starts_with(TIMES) && !after.left().chars().nth(1).is_some_and(char::is_alphabetic);
        if is_word || is_times {
            return None;
        }
        let follows = ["then", "and", "plus", "+", "into", "by"].contains(&before.as_str());
        self.amounts.push(SeenAmount { raw, words: String::new(), follows });
        *text = after;
        Some(raw)
    }

    /// What a session does not say itself, as its note: everything but its own amounts, its repetitions and the name of its
    /// kind.
    pub(super) fn note(&self, session: &Session) -> String {
        // Where several parts are told, each keeps its amount: they are how the run is made.
        let hard = session.hard.filter(|_| self.amounts.len() < 3);
        let once = session.sets.iter().filter_map(|sets| {
            let unit = match sets.unit {
                SetUnit::Km => Unit::Km,
                SetUnit::Mi => Unit::Mi,
                SetUnit::Min => Unit::Min,
                SetUnit::M | SetUnit::S => return None,
            };
            (sets.reps == 1 && self.amounts.len() < 3).then(|| Amount::exact(sets.length, unit))
        });
        let mut own: Vec<Amount> = session.amount.into_iter().chain(hard).chain(once).collect();
        // "bike 60' easy, 60 min" tells it twice.
        let mut is_own = |raw: &RawAmount| {
            let at = own.iter().position(|own| raw.in_order(own.unit()) == Some(*own));
            at.map(|at| own.swap_remove(at)).is_some()
        };
        let mut part = |pieces: &Vec<Piece>| {
            let stays: Vec<bool> = pieces
                .iter()
                .map(|piece| match &piece.is {
                    Is::Amount(raw) => !is_own(raw),
                    Is::Sets => session.sets.is_empty(),
                    Is::Aside(kind) => *kind != session.kind,
                    Is::Word | Is::Mark | Is::Kind { .. } => true,
                })
                .collect();
            let is_amount = |at: usize| matches!(pieces.get(at), Some(Piece { is: Is::Amount(_), .. }));
            let counts = |at: usize| stays.get(at) == Some(&true) && pieces[at].tells_amount();
            // "2 km jog", "jog to the park 2 km": of a part that is no whole the name is needed.
            let is_other = (0..pieces.len()).any(counts) && !(0..pieces.len()).any(|at| is_amount(at) && !stays[at]);
            let beside_amount = |at: usize| is_other || counts(at + 1) || at.checked_sub(1).is_some_and(counts);
            let left = pieces.iter().enumerate().filter(|(at, piece)| match piece.is {
                Is::Kind { kind, tells_more } => tells_more || beside_amount(*at) || !says_kind(session.kind, kind),
                _ => stays[*at],
            });
            without_joining(&left.map(|(_, piece)| piece).collect::<Vec<_>>())
        };
        let parts: Vec<String> = self.parts.iter().map(&mut part).collect();
        joined(std::iter::once(&self.half).chain(&parts).filter(|words| !words.is_empty()), ", ")
    }
}

/// Whether the kind of a session already says what the name of a kind does. What is easy of a hard run, and of a sport, is said.
fn says_kind(session: Kind, named: Kind) -> bool {
    session == named || (named == Kind::Easy && session.is_running() && session != Kind::Long)
}

/// What was read of the words of one part.
#[derive(Default)]
struct Run {
    /// The piece that was taken last, where it is no amount.
    before: String,
    /// Everything in front of the first amount.
    lead: String,
}

fn has_unit(part: &Part) -> bool {
    let in_note = |note: &Note| matches!(note, Note::Plain(words) if words_have_unit(words));
    words_have_unit(&part.words) || part.notes.iter().any(in_note)
}

/// Whether an amount with its unit stands somewhere in words, repetitions aside.
pub(in super::super) fn words_have_unit(words: &str) -> bool {
    any_amount(words, RawAmount::has_unit)
}

/// Whether kilometres or miles stand somewhere in words, repetitions aside.
pub(super) fn words_have_distance(words: &str) -> bool {
    any_amount(words, RawAmount::is_distance)
}

fn any_amount(words: &str, is_meant: impl Fn(&RawAmount) -> bool) -> bool {
    let starts = std::iter::once(0).chain(words.match_indices(' ').map(|(at, _)| at + 1));
    starts.into_iter().any(|at| {
        let mut text = Text::new(&words[at..]);
        let begins = text.peek().is_some_and(|next| next.is_ascii_digit()) && !words[..at].trim_end().ends_with(TIMES);
        begins && matches!(RawAmount::take(&mut text), Ok(Some(raw)) if is_meant(&raw))
    })
}

/// "LR24": a kind may end where a number begins.
fn ends_kind(text: Text<'_>) -> bool {
    text.peek().is_none_or(|next| next.is_ascii_digit()) || ends_word(text)
}

fn ends_word(text: Text<'_>) -> bool {
    // "24 km: 8 easy, …"
    text.starts_with(": ") || text.peek().is_none_or(|next| !next.is_alphanumeric() && !matches!(next, '%' | ':' | '.'))
}

/// The words of pieces without those at both ends that only join or part others.
fn without_joining(pieces: &[&Piece]) -> String {
    let joins = |piece: &&&Piece| {
        let word = piece.words.trim_end_matches([':', ';']);
        matches!(piece.is, Is::Mark) || JOINING.iter().any(|one| word.eq_ignore_ascii_case(one))
    };
    let from = pieces.iter().take_while(joins).count();
    let until = pieces.len() - pieces[from..].iter().rev().take_while(joins).count();
    let mut words = String::new();
    for piece in &pieces[from..until] {
        let is_close = matches!(piece.is, Is::Mark) && [":", ";"].contains(&piece.words.as_str());
        if !words.is_empty() && !is_close {
            words.push(' ');
        }
        words.push_str(&piece.words);
    }
    words
}
