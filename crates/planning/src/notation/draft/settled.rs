//! A session once all of its parts are read, or what is asked about it.

use super::super::amounts::{RawAmount, read_pace};
use super::super::around::{Rest, Unsettled};
use super::super::doubles::{tells_halves, tells_sum};
use super::super::hardness::{hides, is_gentle, is_pace_figure};
use super::super::kinds::{has_word, infer};
use super::super::line::unreadable;
use super::super::read::Doubt;
use super::super::runner::Runner;
use super::Draft;
use crate::plain::joined;
use crate::problem::{Expected, ProblemKind};
use crate::session::{Kind, Session, SetUnit, Sets};
use crate::units::{Amount, DistanceUnit, Milli, Pace, Unit};

impl Draft {
    pub(super) fn finish(mut self, runner: Runner) -> Result<Session, Vec<Unsettled>> {
        self.read_whole_in_brackets();
        self.read_brackets();
        self.read_parts_in_brackets(runner);
        let kind = self.kind.or_else(|| infer(&self.sets, self.amount.is_some(), self.hard.is_some()));
        let Some(kind) = kind else { return Err(asked(self.without_kind())) };
        let default = if kind.is_running() { runner.units.unit() } else { Unit::Min };
        if let Some(question) = self.asks_unit(runner.units) {
            return Err(asked(vec![question]));
        }
        let (amount, hard) = self.amounts(default).map_err(asked)?;
        let (amount, hard) = if self.parted.is_empty() {
            (amount, hard)
        } else {
            let pace = runner.easy_pace.unwrap_or(Pace::ASSUMED);
            let rest = Rest {
                kind,
                sets: &self.sets,
                amount,
                hard,
                unit: default,
                pace,
                told_pace: self.told_pace(runner.units),
                doubt: self.doubt,
            };
            let told = self.parted.settle(&rest).map_err(|unsettled| vec![unsettled])?;
            for (place, words) in self.parted.notes(told.0, default) {
                self.notes[place] = words;
            }
            told
        };
        if let Some(question) = self.asks_two_runs(amount) {
            return Err(asked(vec![question]));
        }
        let note = joined(std::iter::once(&self.half).chain(&self.notes), ", ");
        let mut session = Session { kind, amount, hard, sets: self.sets, loaded: self.loaded, note };
        as_one_repetition(&mut session);
        if self.doubt == Doubt::Noted {
            return Ok(session);
        }
        let question = self.plain_notes.iter().find_map(|note| {
            let expected = if hides(&session, note) { Expected::HowHard } else { Expected::TwoRuns };
            let is_asked =
                expected == Expected::HowHard || tells_halves(&session, note) || tells_sum(&session, note, default);
            is_asked.then(|| unreadable(note, expected))
        });
        question.map_or(Ok(session), |question| Err(asked(vec![question])))
    }

    /// The pace in figures that is told of repetitions in minutes, or of what is run hard: "@ 6:55", "@ 4:10/km".
    fn told_pace(&self, units: DistanceUnit) -> Option<Pace> {
        let figure = |words: &str| {
            let first = words.trim_start().split([' ', '-', '\u{2013}']).next()?;
            is_pace_figure(first).then(|| read_pace(first, units).ok()).flatten()
        };
        let of_sets = self.sets.iter().find(|sets| matches!(sets.unit, SetUnit::Min | SetUnit::S));
        let of_part = || self.plain_notes.iter().find_map(|note| figure(note.strip_prefix('@')?));
        of_sets.map_or_else(of_part, |sets| figure(&sets.pace))
    }

    /// What is wrong where no kind is said and none follows.
    pub(super) fn without_kind(self) -> Vec<ProblemKind> {
        if !self.problems.is_empty() {
            return self.problems;
        }
        if self.parted.is_empty() {
            return vec![unreadable(&self.notes.join(", "), Expected::Session)];
        }
        vec![self.parted.unsaid()]
    }

    /// "45 easy", "2 wu, 20 tempo, 2 cd": distance or time? "8 gym": a run and another session, or minutes?
    pub(super) fn asks_unit(&self, units: DistanceUnit) -> Option<ProblemKind> {
        if self.doubt == Doubt::Noted {
            return None;
        }
        // "20 with 8 at MP": nobody runs eight minutes of it so, and the two are in one unit.
        if self.hard.is_some_and(|hard| !hard.has_unit() && !hard.is_round(Milli::ZERO)) {
            return None;
        }
        let whole = self.amount.map(|amount| (amount, self.amount_words.as_str()));
        // Who tells the hard part of a run tells the whole beside it, and no minutes.
        let told_whole = self.hard.is_some() || !self.sets.is_empty();
        // "2 wu, 20 min T, 2 cd, 10": beside parts in distance the whole is distance too.
        let is_beside_distance =
            !self.parted.is_empty() && self.parted.between().is_none_or(|(between, _)| between.has_unit());
        let all = whole.into_iter().chain(self.parted.between());
        let (amount, words) = all.into_iter().find(|(amount, words)| {
            let is_whole = is_beside_distance && self.amount == Some(*amount);
            let kind = self.kind.map(|kind| {
                if (told_whole || is_whole) && kind.is_running() && kind != Kind::Long { Kind::Easy } else { kind }
            });
            may_be_minutes(*amount, kind, words, units)
                || self.parted.may_be_minutes(*amount)
                || may_be_a_run(*amount, self.kind, words)
        })?;
        let is_run = may_be_a_run(amount, self.kind, words);
        Some(unreadable(words, if is_run { Expected::RunOrMinutes } else { Expected::UnitOfRun }))
    }

    /// "2 x 40 min easy": repetitions, or two runs of a day?
    pub(super) fn asks_two_runs(&self, amount: Option<Amount>) -> Option<ProblemKind> {
        let is_gentle = |sets: &Sets| is_gentle(&sets.pace);
        let asks = self.doubt == Doubt::Asked && amount.is_none() && self.kind.is_none();
        let first = self.sets.first().filter(|_| asks && self.sets.iter().all(is_gentle))?;
        Some(unreadable(&format!("{} x", first.reps), Expected::TwoRuns))
    }

    /// The amount and the hard part as they were typed, or everything that is wrong with the session.
    pub(super) fn amounts(&mut self, default: Unit) -> Result<(Option<Amount>, Option<Amount>), Vec<ProblemKind>> {
        let mut problems = std::mem::take(&mut self.problems);
        let mut resolve = |raw: Option<RawAmount>, unit| {
            let amount = raw.map(|raw| raw.in_unit(unit)).transpose();
            amount.map_err(|problem| problems.push(problem)).ok().flatten()
        };
        let amount = resolve(self.amount, default);
        let hard = resolve(self.hard, amount.map_or(default, Amount::unit));
        if problems.is_empty() { Ok((amount, hard)) } else { Err(problems) }
    }
}

fn asked(problems: Vec<ProblemKind>) -> Vec<Unsettled> {
    problems.into_iter().map(Unsettled::Asked).collect()
}

/// "12 km w/ 20 min tempo": a hard part in another unit than the whole is one repetition, whose amount needs no
/// pace to be kept.
fn as_one_repetition(session: &mut Session) {
    let (Some(amount), Some(hard)) = (session.amount, session.hard) else { return };
    if hard.unit() == amount.unit() || hard.low() != hard.high() || !session.sets.is_empty() {
        return;
    }
    let unit = match hard.unit() {
        Unit::Km => SetUnit::Km,
        Unit::Mi => SetUnit::Mi,
        Unit::Min => SetUnit::Min,
    };
    if session.kind.is_running() && hard.high() > Milli::ZERO {
        session.hard = None;
        session.sets.push(Sets { reps: 1, length: hard.high(), unit, pace: String::new(), recovery: String::new() });
    }
}

/// Whether a number without a unit may as well be minutes: round as these are told, and further than hardly anybody
/// runs without saying the unit.
fn may_be_minutes(amount: RawAmount, kind: Option<Kind>, words: &str, units: DistanceUnit) -> bool {
    if amount.has_unit() || kind.is_some_and(|kind| !kind.is_running()) {
        return false;
    }
    let (from_km, from_mi) = match kind {
        Some(Kind::Long) => (60, 40),
        // "tempo 20", "jog 20": most who write it mean minutes.
        Some(Kind::Tempo | Kind::Recovery) => (15, 10),
        None | Some(Kind::Easy) if has_word(words, &["jog", "jogging", "walk", "walking"]) => (15, 10),
        None => (40, 27),
        Some(Kind::Intervals | Kind::Hills | Kind::Fartlek) => (20, 15),
        Some(_) => (30, 20),
    };
    amount.is_round(Milli::whole(if units == DistanceUnit::Km { from_km } else { from_mi }))
}

/// Whether a number without a unit beside another sport may be a run: few do it for so few minutes, "8 gym" least of all.
fn may_be_a_run(amount: RawAmount, kind: Option<Kind>, words: &str) -> bool {
    let is_in_front = words.starts_with(|first: char| first.is_ascii_digit());
    let most = Milli::whole(if is_in_front { 20 } else { 10 });
    !amount.has_unit() && kind.is_some_and(|kind| !kind.is_running()) && amount.is_below(most)
}
