//! The words of a part in their order: what it is, how much, and what may stand around these.

use super::super::amounts::{RawAmount, take_roughly};
use super::super::around::loosens;
use super::super::doubles::WHEN;
use super::super::hardness::{Inside, is_gentle, is_pace_figure, is_pace_only, names_hardness};
use super::super::kinds::{has_word, take_kind, take_kind_or_short};
use super::super::line::{Part, unreadable};
use super::super::read::Doubt;
use super::super::sets::{TIMES, starts_with_ordinal, starts_with_reps, walks_by_turns};
use super::super::text::Text;
use super::Draft;
use super::inside::INSIDE;
use super::reps::strides_alone;
use crate::problem::{Expected, ProblemKind};
use crate::session::Kind;

/// How an amount is told that is not meant to the metre: "about 10", "10-ish".
const ABOUT: &str = "about";

const LOADED: [&str; 5] = ["with loaded legs", "loaded legs", "loaded", "heavy legs", "heavy"];

const SPRINTS: [&str; 4] = ["hill sprints", "hill sprint", "sprints", "sprint"];

const HARD: [&str; 3] = ["of which hard", "of it hard", "hard"];

impl Draft {
    pub(super) fn read_words(
        &mut self,
        part: &Part,
        was_open: bool,
        quoted: &mut dyn Iterator<Item = String>,
    ) -> Result<(), ProblemKind> {
        let words = part.words.as_str();
        if words.is_empty() {
            return Ok(());
        }
        let mut text = Text::new(words);
        if was_open && !starts_with_reps(text) && self.read_recovery(words, quoted) {
            return Ok(());
        }
        if was_open && self.is_time_of_one(words) {
            self.note(words);
            return Ok(());
        }
        if self.read_weekend_run(words)? {
            return Ok(());
        }
        let is_run_told = self.amount.is_some() || !self.parted.is_empty();
        // "6 x strides" are six; "6 x 100 m strides" are repetitions.
        let is_counted = |strides: &Part| !starts_with_reps(text) || strides.words != words;
        // "6 x 800, strides, 10k" are strides behind the repetitions, whose whole comes last.
        let may_end = is_run_told || !self.sets.is_empty();
        if let Some(strides) = strides_alone(part).filter(|strides| may_end && is_counted(strides)) {
            self.notes.push(strides.words);
            return Ok(());
        }
        // "2k wu, drills, 6x400": what loosens up between warm-up and work is no session.
        if self.doubt == Doubt::Asked
            && self.parted.is_open()
            && (loosens(words) || take_kind(&mut { text }).is_some_and(|(kind, _)| kind == Kind::Mobility))
        {
            self.notes.push(words.to_owned());
            return Ok(());
        }
        if self.is_beside(words, is_run_told) {
            self.notes.push(words.to_owned());
            return Ok(());
        }
        if text.take_any_phrase(&HARD) {
            return self.read_hard(&mut text);
        }
        if text.take_any_phrase(&INSIDE) {
            return self.read_inside(&mut text);
        }
        if words.eq_ignore_ascii_case("x") {
            return Err(unreadable(words, Expected::SessionKind));
        }
        let kind_at = text;
        self.read_heading(&mut text);
        while self.read_surroundings(&mut text) {}
        let has_kind = self.read_kind(&mut text)?;
        while has_kind && self.read_surroundings(&mut text) {}
        // "gym easy 30"
        if has_kind && self.kind.is_some_and(|kind| !kind.is_running()) && !starts_with_reps(text) {
            self.read_kind(&mut text)?;
        }
        // "easy gym 30"
        if let Some((kind, word)) = self.kind.filter(|_| has_kind).and_then(|known| self.take_sport(known, &mut text)) {
            self.take_for(kind, word);
        }
        text.skip_space();
        if starts_with_reps(text) {
            return self.read_sets(&mut text, quoted);
        }
        let is_roughly = take_roughly(&mut text);
        let start = text;
        if starts_with_ordinal(text) {
            return self.read_tail(&mut text, Expected::SessionKind);
        }
        if let Some(amount) = RawAmount::take(&mut text)? {
            let amount = amount.by_the_clock()?;
            if text.take_phrase("hard") {
                let mut again = start;
                return self.read_hard(&mut again);
            }
            // "+ 4 hill sprints" are four of them, and no run.
            if self.doubt == Doubt::Asked && !amount.has_unit() && { text }.take_any_phrase(&SPRINTS) {
                return Err(unreadable(kind_at.left(), Expected::HowHard));
            }
            if let Some(question) = asks_first(kind_at, text) {
                return Err(question);
            }
            let is_between = self.parted.is_open();
            if !is_between && self.amount.is_some() {
                return Err(unreadable(kind_at.left(), Expected::OneAmount));
            }
            let expected = if amount.has_unit() { Expected::Part } else { Expected::Unit };
            self.is_in_distance = amount.is_distance();
            self.read_tail(&mut text, expected)?;
            if !is_between {
                self.parted.note_whole(kind_at.left());
                self.amount_words = kind_at.left().to_owned();
                self.amount = Some(amount);
                // A range is for what the coach leaves open; how near "about 10" is, nobody said.
                if is_roughly || amount.is_roughly() {
                    self.notes.push(ABOUT.to_owned());
                }
            } else if !self.parted.put_between(amount, kind_at.left()) {
                return Err(unreadable(kind_at.left(), Expected::OneAmount));
            }
            return Ok(());
        }
        let expected = if has_kind { Expected::Part } else { Expected::SessionKind };
        self.read_tail(&mut text, expected)
    }

    /// Whether a part is told of a run beside it, and is none of its own: "5 min walk every 30 min", "5:30ish", "4 min between
    /// sets", and "6 x hills" behind other repetitions.
    fn is_beside(&self, words: &str, is_run_told: bool) -> bool {
        let is_reps = starts_with_reps(Text::new(words));
        if !self.sets.is_empty() && !is_reps && has_word(words, &["between"]) {
            return true;
        }
        let is_about_pace = || words.strip_suffix("ish").is_some_and(is_pace_only);
        self.doubt == Doubt::Asked
            && ((is_run_told && (walks_by_turns(words) || is_about_pace()))
                || (!self.sets.is_empty() && starts_with_hills(words)))
    }

    /// Takes a kind if one stands in front and says whether it did.
    pub(super) fn read_kind(&mut self, text: &mut Text<'_>) -> Result<bool, ProblemKind> {
        let start = *text;
        let Some((kind, word)) = take_kind(text) else { return Ok(false) };
        match self.kind {
            // "25' tempo HM effort": how a hard run is run.
            Some(known) if known.assumed_hard().is_some() && kind == Kind::RacePace && word.is_some() => {}
            // "bike 60' easy", "easy bike 45": how another sport is done.
            Some(known)
                if self.may_tell_how(known)
                    && !kind.is_running()
                    && kind != Kind::Strength
                    && !self.is_in_distance
                    && !has_number(text.left()) =>
            {
                self.take_for(kind, word);
                return Ok(true);
            }
            Some(known) if !known.is_running() && self.may_tell_how(kind) => self.notes.push(kind.code().to_owned()),
            Some(known) if known != kind => {
                // "easy long run": how a long run is run, not another kind.
                let is_long = |one, other| one == Kind::Long && matches!(other, Kind::Easy | Kind::Steady);
                if !is_long(known, kind) && !is_long(kind, known) {
                    return Err(unreadable(start.left(), Expected::OneKind));
                }
                let how = if known == Kind::Long { kind } else { known };
                self.notes.push(how.code().to_owned());
                self.kind = Some(Kind::Long);
            }
            _ => self.kind = Some(kind),
        }
        self.notes.extend(word);
        Ok(true)
    }

    /// Whether a kind of running says how easily another sport is done, where nothing else is read of a run.
    fn may_tell_how(&self, kind: Kind) -> bool {
        let is_open = self.doubt == Doubt::Asked && self.sets.is_empty() && self.hard.is_none();
        is_open && self.parted.is_empty() && matches!(kind, Kind::Easy | Kind::Recovery | Kind::Steady | Kind::Long)
    }

    /// Takes another sport behind a word that says how easily it is done.
    fn take_sport(&self, known: Kind, text: &mut Text<'_>) -> Option<(Kind, Option<String>)> {
        let mut after = *text;
        let sport = take_kind(&mut after).filter(|(kind, _)| !kind.is_running() && self.may_tell_how(known))?;
        *text = after;
        Some(sport)
    }

    /// Another sport in the place of a kind of running, which is how it is done: "bike, easy".
    fn take_for(&mut self, kind: Kind, word: Option<String>) {
        let how = self.kind.replace(kind).map(|known| known.code().to_owned());
        self.notes.extend(word);
        self.notes.extend(how);
    }

    /// "walk with the dog 1 hr": an amount at the end of what is done with another sport, which has none yet.
    fn read_amount_behind(&mut self, words: &str) -> Result<bool, ProblemKind> {
        let is_open = self.doubt == Doubt::Asked && self.amount.is_none() && self.sets.is_empty();
        if !is_open || self.kind.is_none_or(Kind::is_running) {
            return Ok(false);
        }
        let places = words.match_indices(' ').map(|(at, _)| (&words[..at], &words[at + 1..]));
        let amount = |words: &str| {
            let mut text = Text::new(words);
            let raw = RawAmount::take(&mut text).ok().flatten()?;
            (text.is_done() && raw.has_unit()).then_some(raw)
        };
        let told = places.into_iter().find_map(|(front, behind)| Some((front, behind, amount(behind)?)));
        let Some((front, behind, raw)) = told.filter(|(front, ..)| !has_number(front)) else { return Ok(false) };
        behind.clone_into(&mut self.amount_words);
        self.amount = Some(raw.by_the_clock()?);
        self.note(front);
        Ok(true)
    }

    /// What may stand behind a kind or an amount.
    pub(super) fn read_tail(&mut self, text: &mut Text<'_>, mut expected: Expected) -> Result<(), ProblemKind> {
        while !text.is_done() {
            if text.take_any_phrase(&LOADED) {
                self.loaded = true;
                continue;
            }
            if text.take_any_phrase(&HARD) {
                return self.read_hard(text);
            }
            if text.take_any_phrase(&INSIDE) {
                return self.read_inside(text);
            }
            let here = *text;
            if self.doubt == Doubt::Asked && Inside::is_place(here) {
                let is_told = self.read_told(*text, false)?;
                // "last 4 km steady": steady running is not counted as hard anywhere, and stays a note.
                if is_told || is_gentle(here.left()) {
                    if !is_told {
                        self.note(here.left());
                    }
                    return Ok(());
                }
            }
            // "gym after", "core before the run"
            let is_work = self.kind.is_some_and(|kind| !kind.is_running());
            if is_work && { *text }.take_any_phrase(&WHEN) && !has_number(here.left()) {
                self.notes.push(here.left().to_owned());
                return Ok(());
            }
            if self.read_surroundings(text) {
                continue;
            }
            if is_divided_pace(here) {
                self.note(here.left());
                return Ok(());
            }
            if text.take_any_phrase(&["with", "w/", "w.", "w", "at", "@", "in", "on", "by"]) {
                let with = here.left().get(..1).is_some_and(|first| first.eq_ignore_ascii_case("w"));
                let is_told = (with && self.read_with(*text)?) || self.read_amount_behind(here.left())?;
                if !is_told && !self.read_pace_kind(here) {
                    self.note(here.left());
                }
                return Ok(());
            }
            if self.read_joined_strides(*text)? {
                return Ok(());
            }
            text.skip_space();
            if starts_with_reps(*text) {
                return self.read_sets(text, &mut std::iter::empty());
            }
            if self.read_kind(text)? {
                expected = Expected::Part;
                continue;
            }
            let left = text.left();
            let expected = match left {
                _ if left.eq_ignore_ascii_case("race") => Expected::SessionKind,
                _ if left.starts_with(TIMES) && !left.chars().nth(1).is_some_and(char::is_alphabetic) => Expected::Sets,
                _ if names_hardness(left) => Expected::HowHard,
                _ => expected,
            };
            return Err(unreadable(left, expected));
        }
        Ok(())
    }

    /// "8 km @ MP": the pace of the whole run is its kind.
    pub(super) fn read_pace_kind(&mut self, mut text: Text<'_>) -> bool {
        if self.doubt == Doubt::Noted || !text.take_any_phrase(&["@", "at"]) {
            return false;
        }
        let Some((kind, word)) = take_kind_or_short(&mut text) else { return false };
        let fits = text.is_done() && self.kind.is_none_or(|known| known == kind);
        if fits {
            self.kind = Some(kind);
            self.notes.extend(word);
        }
        fits
    }
}

/// "6 x hills": how many, and nothing of how long.
fn starts_with_hills(words: &str) -> bool {
    let mut text = Text::new(words);
    let is_counted = !text.take_digits().is_empty() && {
        text.skip_space();
        text.take_any(&TIMES).is_some()
    };
    is_counted && text.take_any_phrase(&["hills", "hill"]) && text.is_done()
}

fn has_number(words: &str) -> bool {
    words.contains(|one: char| one.is_ascii_digit())
}

/// "15 km / 5:30": the pace of the run.
fn is_divided_pace(mut text: Text<'_>) -> bool {
    text.skip_space();
    text.take_any(&['/']).is_some() && is_pace_figure(text.left())
}

/// What is asked of an amount for what stands behind it: "8 am" may be a run or a time of day, "6/8" a range or two runs.
fn asks_first(whole: Text<'_>, behind: Text<'_>) -> Option<ProblemKind> {
    let mut text = behind;
    if text.take_any_phrase(&["am", "pm", "a.m", "p.m"]) {
        return Some(unreadable(whole.left(), Expected::HalfOrClock));
    }
    text.skip_space();
    let is_divided = text.take_any(&['/', '&']).is_some() || text.take_phrase("and");
    let is_two = is_divided
        && !is_pace_figure(text.left())
        && matches!(RawAmount::take(&mut text), Ok(Some(_)))
        && text.is_done();
    is_two.then(|| unreadable(whole.left(), Expected::RangeOrRuns))
}
