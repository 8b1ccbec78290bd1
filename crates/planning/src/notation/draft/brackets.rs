//! Brackets that are no notes: the whole, or what of it is hard.

use super::super::amounts::RawAmount;
use super::super::hardness::{Inside, is_race_name, is_short_part, names_hardness};
use super::super::line::{Part, cut};
use super::super::read::Doubt;
use super::super::runner::Runner;
use super::super::sets::starts_with_reps;
use super::super::sums::spelled_inside;
use super::super::text::Text;
use super::super::unparted::by_parts;
use super::{Draft, read_session};
use crate::session::{Kind, Session};
use crate::units::{Amount, DistanceUnit, Milli, Unit};

/// Below this many minutes, what stands in brackets behind repetitions is a recovery.
const SHORTEST_SESSION: Milli = Milli::whole(20);

impl Draft {
    /// Takes a note away; its place stays, as others are known by theirs.
    pub(super) fn take_note(&mut self, words: &str) {
        self.notes.iter_mut().filter(|note| *note == words).for_each(String::clear);
        self.plain_notes.retain(|note| note != words);
    }

    /// "16 km (last 5 km at MP)" is "16 km, last 5 km at MP": a part that stands in brackets is no note, where nothing
    /// else tells of a hard part.
    pub(super) fn read_brackets(&mut self) {
        let may_be_told = self.doubt == Doubt::Asked
            && self.parted.is_empty()
            && self.hard.is_none()
            && self.sets.is_empty()
            && self.kind.is_none_or(|kind| kind.is_running() && kind != Kind::Strides);
        let told = self.plain_notes.iter().filter(|_| may_be_told).find(|note| self.tells_part(note)).cloned();
        let Some(told) = told else { return };
        let before = (self.notes.clone(), self.plain_notes.clone(), self.kind);
        self.take_note(&told);
        if self.read_told(Text::new(&told), false).is_err() {
            // Nothing that can be told as a part after all: it is asked about as it stands.
            (self.notes, self.plain_notes, self.kind) = before;
        }
    }

    /// "9 (2 wu, 5 @ T, 2 cd)": what of a run is hard stands among its parts in brackets. They stay a note.
    pub(super) fn read_parts_in_brackets(&mut self, runner: Runner) {
        let is_open = self.doubt == Doubt::Asked
            && self.parted.is_empty()
            && self.hard.is_none()
            && self.sets.is_empty()
            && self.kind.is_none_or(|kind| matches!(kind, Kind::Easy | Kind::Long));
        // Numbers without a unit are in that of their whole.
        let whole = self.amount.and_then(|whole| whole.in_unit(runner.units.unit()).ok());
        let units = match whole.map(Amount::unit) {
            Some(Unit::Km) => DistanceUnit::Km,
            Some(Unit::Mi) => DistanceUnit::Mi,
            Some(Unit::Min) | None => runner.units,
        };
        let inside = |note: &String| parts_inside(note, Runner { units, ..runner }, whole);
        let Some(run) = self.plain_notes.iter().filter(|_| is_open).find_map(inside) else { return };
        if self.kind != Some(Kind::Long) {
            self.kind = Some(run.kind);
        }
        self.hard = run.hard.map(RawAmount::from);
        self.sets = run.sets;
    }

    /// Whether a note tells how much of the run is hard. Repetitions only where the kind does not already say that the
    /// run is.
    pub(super) fn tells_part(&self, note: &str) -> bool {
        if is_hard_later(note) {
            return false;
        }
        let is_hard_kind = self.kind.is_some_and(|kind| kind.assumed_hard().is_some());
        (names_hardness(note) || is_short_part(note) || starts_with_reps(Text::new(note)))
            && match Inside::read(&mut Text::new(note), false) {
                Ok(Inside::Hard { .. }) => true,
                Ok(Inside::Reps) => !is_hard_kind || self.kind == Some(Kind::Fartlek),
                Ok(Inside::Note) | Err(_) => false,
            }
    }

    /// "10 x 400 (9k)": the whole in brackets, where no other is said.
    pub(super) fn read_whole_in_brackets(&mut self) {
        if self.doubt == Doubt::Noted || self.amount.is_some() || self.sets.is_empty() {
            return;
        }
        let whole = |note: &String| {
            let mut text = Text::new(note);
            let raw = RawAmount::take(&mut text).ok().flatten().filter(|raw| text.is_done() && raw.has_unit())?;
            self.may_be_whole(raw, note).then(|| (raw, note.clone()))
        };
        let Some((raw, note)) = self.plain_notes.iter().find_map(whole) else { return };
        self.take_note(&note);
        (self.amount, self.amount_words) = (Some(raw), note);
    }

    /// Whether an amount in brackets is more than the repetitions. "(2 min)" is a recovery, and "(10k)" is a pace
    /// unless the run is told with its warm-up or cool-down.
    pub(super) fn may_be_whole(&self, raw: RawAmount, words: &str) -> bool {
        let Ok(amount) = raw.in_unit(Unit::Km) else { return false };
        let run: Option<Milli> = self.sets.iter().map(|sets| sets.total_in(amount.unit())).sum();
        let is_more = match run {
            Some(run) => amount.low() > run,
            None => amount.unit() != Unit::Min || amount.low() >= SHORTEST_SESSION,
        };
        is_more && (!self.parted.is_empty() || !is_race_name(words))
    }
}

/// "3 km wu, 5 km tempo, 2 km cd": what is hard is not the first of several parts.
fn is_hard_later(note: &str) -> bool {
    let is_hard = |part: &str| names_hardness(part) || is_short_part(part);
    let mut parts = note.split([',', '+']).map(str::trim);
    let is_first = parts.next().is_some_and(is_hard);
    !is_first && parts.any(|part| part.starts_with(|first: char| first.is_ascii_digit()) && is_hard(part))
}

/// The hard run whose parts a note tells. Parts that have no sum come to the whole in front of them.
fn parts_inside(note: &str, runner: Runner, whole: Option<Amount>) -> Option<Session> {
    // Three parts have three numbers: hardly a note does.
    if note.bytes().filter(u8::is_ascii_digit).count() < 3 {
        return None;
    }
    let slots = by_parts(cut(&spelled_inside(note)).ok()?);
    let [options] = slots.as_slice() else { return None };
    let [parts] = options.as_slice() else { return None };
    if parts.len() < 3 {
        return None;
    }
    let read = |parts: &[Part]| read_session(parts, runner, Doubt::Asked).ok().filter(|run| run.problems().is_empty());
    let with_whole = || {
        let whole = Part { words: whole?.to_string(), ..Part::default() };
        read(&[parts.as_slice(), &[whole]].concat())
    };
    let run = read(parts).or_else(with_whole)?;
    (run.is_hard() && (run.hard.is_some() || !run.sets.is_empty())).then_some(run)
}

/// Whether a note of the session would be read as a part of its run, or as its parts, if it stood in brackets without quotes.
pub(in super::super) fn tells_inside(session: &Session, note: &str) -> bool {
    if session.hard.is_some() || !session.sets.is_empty() || !session.kind.is_running() {
        return false;
    }
    let may_hold = session.kind.assumed_hard().is_none() || session.kind == Kind::Fartlek;
    let tells_reps = || may_hold && starts_with_reps(Text::new(note));
    let tells_part = || {
        (names_hardness(note) || is_short_part(note))
            && matches!(Inside::read(&mut Text::new(note), false), Ok(Inside::Hard { .. }))
    };
    let in_units = |units: DistanceUnit| parts_inside(note, Runner::from(units), session.amount).is_some();
    tells_reps() || tells_part() || in_units(DistanceUnit::Km) || in_units(DistanceUnit::Mi)
}
