//! A session put together from the parts of its line.

use super::amounts::{RawAmount, take_roughly};
use super::around::{self, Around, Parted, Rest, Unsettled};
use super::doubles::{AND, tells_halves, tells_sum};
use super::hardness::{Inside, hides, is_gentle, is_race_name, is_short_part, names_hardness};
use super::kinds::{has_word, infer, take_kind, take_kind_or_short};
use super::line::{Note, Part, unreadable};
use super::read::Doubt;
use super::runner::Runner;
use super::sets::{RECOVERY_LABELS, TIMES, is_recovery, starts_with_ordinal, starts_with_reps, take_sets};
use super::text::Text;
use crate::plain::joined;
use crate::problem::{Expected, ProblemKind};
use crate::session::{Kind, Session, SetUnit, Sets};
use crate::units::{Amount, DistanceUnit, Milli, Pace, Unit};

/// Reads one session from its parts.
pub(super) fn read_session(parts: &[Part], runner: Runner, doubt: Doubt) -> Result<Session, Vec<Unsettled>> {
    let mut draft = Draft { doubt, ..Draft::default() };
    for part in &around::in_order(around::apart(parts)) {
        if let Err(problem) = draft.read(part) {
            draft.problems.push(problem);
        }
    }
    draft.finish(runner)
}

/// A session while its parts are read: nothing is certain before the last.
#[derive(Default)]
struct Draft {
    kind: Option<Kind>,
    amount: Option<RawAmount>,
    /// The words of the amount, as a question names them.
    amount_words: String,
    hard: Option<RawAmount>,
    sets: Vec<Sets>,
    loaded: bool,
    /// The half of the day in which it is run.
    half: String,
    notes: Vec<String>,
    /// Those of them that nobody said to be nothing but notes.
    plain_notes: Vec<String>,
    doubt: Doubt,
    /// Whether the part before ended with repetitions that have no recovery yet.
    open: bool,
    /// Warm-up and cool-down, where the run is told by its parts.
    parted: Parted,
    problems: Vec<ProblemKind>,
}

const LOADED: [&str; 5] = ["with loaded legs", "loaded legs", "loaded", "heavy legs", "heavy"];
const HARD: [&str; 3] = ["of which hard", "of it hard", "hard"];
const INSIDE: [&str; 5] = ["of which", "including", "incl.", "incl", "inc"];

/// Words for where or how easily a run is run, which change nothing of its amount or its kind.
const SURROUNDINGS: [&str; 33] = [
    "hilly",
    "undulating",
    "rolling",
    "flat",
    "off road",
    "offroad",
    "on road",
    "roads",
    "road",
    "trails",
    "trail",
    "on grass",
    "grass",
    "sand",
    "beach",
    "forest",
    "woods",
    "towpath",
    "treadmill",
    "tm",
    "very easy",
    "super easy",
    "nice and easy",
    "slowly",
    "slow",
    "relaxed",
    "gentle",
    "comfortable",
    "conversational",
    "alone",
    "solo",
    "indoors",
    "outdoors",
];

impl Draft {
    fn read(&mut self, part: &Part) -> Result<(), ProblemKind> {
        let was_open = std::mem::take(&mut self.open);
        if let Some(around) = Around::read(&part.words)? {
            self.read_around(around, part);
            return Ok(());
        }
        let mut quoted = part.quoted.iter().cloned();
        let read = self.read_words(part, was_open, &mut quoted);
        self.notes.extend(quoted);
        for note in &part.notes {
            match note {
                Note::Plain(words) if self.open && is_recovery(words) => self.set_recovery(words.clone()),
                Note::Plain(words) => self.note(words),
                Note::Quoted(words) => self.notes.push(words.clone()),
                Note::Half(words) => self.half.clone_from(words),
            }
        }
        read
    }

    /// A warm-up or a cool-down: its words stay as a note, so that the block says them too.
    fn read_around(&mut self, mut around: Around, part: &Part) {
        let place = self.notes.len();
        self.notes.push(String::new());
        for note in &part.notes {
            match note {
                Note::Half(words) => self.half.clone_from(words),
                Note::Plain(words) | Note::Quoted(words) if !around.take_note(words) => self.notes.push(words.clone()),
                Note::Plain(_) | Note::Quoted(_) => {}
            }
        }
        self.notes[place].clone_from(&around.words);
        self.notes.extend(part.quoted.iter().cloned());
        self.parted.push(around, place);
    }

    fn read_words(
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
        if let Some(strides) = strides_alone(part).filter(|_| self.amount.is_some() && !starts_with_reps(text)) {
            self.notes.push(strides.words);
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
        while self.read_surroundings(&mut text) {}
        let has_kind = self.read_kind(&mut text)?;
        while has_kind && self.read_surroundings(&mut text) {}
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
            if let Some(question) = asks_first(kind_at, text) {
                return Err(question);
            }
            let is_between = self.parted.is_open();
            if !is_between && self.amount.is_some() {
                return Err(unreadable(kind_at.left(), Expected::OneAmount));
            }
            let expected = if amount.has_unit() { Expected::Part } else { Expected::Unit };
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

    /// Takes a kind if one stands in front and says whether it did.
    fn read_kind(&mut self, text: &mut Text<'_>) -> Result<bool, ProblemKind> {
        let start = *text;
        let Some((kind, word)) = take_kind(text) else { return Ok(false) };
        match self.kind {
            // "25' tempo HM effort": how a hard run is run.
            Some(known) if known.assumed_hard().is_some() && kind == Kind::RacePace && word.is_some() => {}
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

    /// What may stand behind a kind or an amount.
    fn read_tail(&mut self, text: &mut Text<'_>, mut expected: Expected) -> Result<(), ProblemKind> {
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
            if self.read_surroundings(text) {
                continue;
            }
            if text.take_any_phrase(&["with", "w/", "w", "at", "@", "in", "on", "by"]) {
                let with = here.left().get(..1).is_some_and(|first| first.eq_ignore_ascii_case("w"));
                let is_told = with && self.read_with(*text)?;
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
                _ if left.starts_with(TIMES) => Expected::Sets,
                _ if names_hardness(left) => Expected::HowHard,
                _ => expected,
            };
            return Err(unreadable(left, expected));
        }
        Ok(())
    }

    /// Where or how easily it is run: a note that needs no brackets.
    fn read_surroundings(&mut self, text: &mut Text<'_>) -> bool {
        let here = *text;
        if !text.take_any_phrase(&SURROUNDINGS) {
            return false;
        }
        self.notes.push(text.since(&here).to_owned());
        true
    }

    /// "8 km and 4 strides", "8 km then 6 x 100 m strides".
    fn read_joined_strides(&mut self, mut text: Text<'_>) -> Result<bool, ProblemKind> {
        if !text.take_any_phrase(&AND) {
            return Ok(false);
        }
        text.skip_space();
        let part = Part { words: text.left().to_owned(), ..Part::default() };
        let Some(strides) = strides_alone(&part) else { return Ok(false) };
        if starts_with_reps(text) {
            self.read_sets(&mut text, &mut std::iter::empty())?;
        } else {
            self.notes.push(strides.words);
        }
        Ok(true)
    }

    /// A note that may say how hard the run is.
    fn note(&mut self, words: &str) {
        self.notes.push(words.to_owned());
        self.plain_notes.push(words.to_owned());
    }

    /// "8 km @ MP": the pace of the whole run is its kind.
    fn read_pace_kind(&mut self, mut text: Text<'_>) -> bool {
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

    /// A hard part told behind "with" or as the end of the run; says whether one is.
    fn read_told(&mut self, mut text: Text<'_>, is_said: bool) -> Result<bool, ProblemKind> {
        let start = text;
        match Inside::read(&mut text, is_said)? {
            Inside::Reps => self.read_sets(&mut text, &mut std::iter::empty()).map(|()| true),
            Inside::Hard { .. } if self.hard.is_some() => Err(unreadable(start.left(), Expected::OneHardPart)),
            Inside::Hard { amount, place, how } => {
                self.hard = Some(amount);
                self.read_how(&place, &how);
                Ok(true)
            }
            Inside::Note => Ok(false),
        }
    }

    /// How a hard part is run: its kind where no other is said, and a note. The amount stays out of it, so that a
    /// shortened run does not contradict it.
    fn read_how(&mut self, place: &str, how: &str) {
        let how = Text::new(how);
        let mut words = how;
        words.take_any_phrase(&["@", "at", "in"]);
        let mut said = how.left();
        if said.eq_ignore_ascii_case("hard") {
            said = "";
        } else if let Some((kind, word)) = take_kind_or_short(&mut words)
            && words.is_done()
            && self.kind.is_none_or(|known| known == kind || known == Kind::Easy)
        {
            self.kind = Some(kind);
            if word.is_none() {
                said = "";
            }
        }
        let said = said.strip_prefix('@').map_or_else(|| said.to_owned(), |pace| format!("at {}", pace.trim_start()));
        self.notes.push(joined([place, said.as_str()], " "));
    }

    /// "with 6 x 100 m strides" and "with 4 km hard" say what is inside; anything else behind "with"
    /// is a note.
    fn read_with(&mut self, mut text: Text<'_>) -> Result<bool, ProblemKind> {
        if self.doubt == Doubt::Asked {
            return self.read_told(text, false);
        }
        text.skip_space();
        if starts_with_reps(text) {
            return self.read_sets(&mut text, &mut std::iter::empty()).map(|()| true);
        }
        let mut after = text;
        if matches!(RawAmount::take(&mut after), Ok(Some(_))) && after.take_phrase("hard") {
            return self.read_hard(&mut text).map(|()| true);
        }
        Ok(false)
    }

    fn read_inside(&mut self, text: &mut Text<'_>) -> Result<(), ProblemKind> {
        text.skip_space();
        if self.doubt == Doubt::Asked {
            let has_told = self.read_told(*text, true)?;
            if !has_told {
                self.note(text.left());
            }
            return Ok(());
        }
        if starts_with_reps(*text) {
            return self.read_sets(text, &mut std::iter::empty());
        }
        self.read_hard(text)
    }

    /// The amount of a hard part; words behind it say how it is run and are kept as a note, or name
    /// the kind ("7, incl. 3 tempo").
    fn read_hard(&mut self, text: &mut Text<'_>) -> Result<(), ProblemKind> {
        let start = *text;
        let Some(hard) = RawAmount::take(text)? else { return Err(unreadable(start.left(), Expected::HardPart)) };
        if self.hard.is_some() {
            return Err(unreadable(start.left(), Expected::OneHardPart));
        }
        self.hard = Some(hard);
        text.take_phrase("hard");
        let mut words = *text;
        if self.kind.is_none() && self.read_kind(&mut words)? && words.is_done() {
            return Ok(());
        }
        if !text.is_done() {
            self.notes.push(text.left().to_owned());
        }
        Ok(())
    }

    fn read_sets(&mut self, text: &mut Text<'_>, quoted: &mut dyn Iterator<Item = String>) -> Result<(), ProblemKind> {
        let mut sets = take_sets(text)?;
        if let Some(pace) = quoted.next() {
            if !sets.pace.is_empty() {
                return Err(unreadable(&sets.pace, Expected::Quote));
            }
            sets.pace = pace;
        }
        self.open = sets.recovery.is_empty();
        self.sets.push(sets);
        Ok(())
    }

    /// Whether the words are the recovery of the repetitions before them.
    fn read_recovery(&mut self, words: &str, quoted: &mut dyn Iterator<Item = String>) -> bool {
        let mut text = Text::new(words);
        if text.take_any_phrase(&RECOVERY_LABELS) {
            let recovery = if text.is_done() { quoted.next() } else { Some(text.left().to_owned()) };
            if let Some(recovery) = recovery {
                self.set_recovery(recovery);
                return true;
            }
        } else if is_recovery(words) {
            self.set_recovery(words.to_owned());
            return true;
        }
        false
    }

    fn set_recovery(&mut self, words: String) {
        self.open = false;
        if let Some(sets) = self.sets.last_mut() {
            sets.recovery = words;
        }
    }

    /// Takes a note away; its place stays, as others are known by theirs.
    fn take_note(&mut self, words: &str) {
        self.notes.iter_mut().filter(|note| *note == words).for_each(String::clear);
        self.plain_notes.retain(|note| note != words);
    }

    /// "16 km (last 5 km at MP)" is "16 km, last 5 km at MP": a part that stands in brackets is no note, where nothing
    /// else tells of a hard part.
    fn read_brackets(&mut self) {
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

    /// Whether a note tells how much of the run is hard. Repetitions only where the kind does not already say that the
    /// run is.
    fn tells_part(&self, note: &str) -> bool {
        let is_hard_kind = self.kind.is_some_and(|kind| kind.assumed_hard().is_some());
        (names_hardness(note) || is_short_part(note))
            && match Inside::read(&mut Text::new(note), false) {
                Ok(Inside::Hard { .. }) => true,
                Ok(Inside::Reps) => !is_hard_kind,
                Ok(Inside::Note) | Err(_) => false,
            }
    }

    /// "10 x 400 (9k)": the whole in brackets, where no other is said.
    fn read_whole_in_brackets(&mut self) {
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
    fn may_be_whole(&self, raw: RawAmount, words: &str) -> bool {
        let Ok(amount) = raw.in_unit(Unit::Km) else { return false };
        let run: Option<Milli> = self.sets.iter().map(|sets| sets.total_in(amount.unit())).sum();
        let is_more = match run {
            Some(run) => amount.low() > run,
            None => amount.unit() != Unit::Min || amount.low() >= SHORTEST_SESSION,
        };
        is_more && (!self.parted.is_empty() || !is_race_name(words))
    }

    fn finish(mut self, runner: Runner) -> Result<Session, Vec<Unsettled>> {
        self.read_whole_in_brackets();
        self.read_brackets();
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
            let rest = Rest { kind, sets: &self.sets, amount, hard, unit: default, pace };
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

    /// What is wrong where no kind is said and none follows.
    fn without_kind(self) -> Vec<ProblemKind> {
        if !self.problems.is_empty() {
            return self.problems;
        }
        if self.parted.is_empty() {
            return vec![unreadable(&self.notes.join(", "), Expected::Session)];
        }
        vec![self.parted.unsaid()]
    }

    /// "45 easy", "2 wu, 20 tempo, 2 cd": distance or time? "8 gym": a run and another session, or minutes?
    fn asks_unit(&self, units: DistanceUnit) -> Option<ProblemKind> {
        if self.doubt == Doubt::Noted {
            return None;
        }
        let whole = self.amount.map(|amount| (amount, self.amount_words.as_str()));
        // Who tells the hard part of a run tells the whole beside it, and no minutes.
        let told_whole = self.hard.is_some() || !self.sets.is_empty();
        let (amount, words) = whole.into_iter().chain(self.parted.between()).find(|(amount, words)| {
            let kind = self
                .kind
                .map(|kind| if told_whole && kind.is_running() && kind != Kind::Long { Kind::Easy } else { kind });
            may_be_minutes(*amount, kind, words, units) || may_be_a_run(*amount, self.kind, words)
        })?;
        let is_run = may_be_a_run(amount, self.kind, words);
        Some(unreadable(words, if is_run { Expected::RunOrMinutes } else { Expected::UnitOfRun }))
    }

    /// "2 x 40 min easy": repetitions, or two runs of a day?
    fn asks_two_runs(&self, amount: Option<Amount>) -> Option<ProblemKind> {
        let is_gentle = |sets: &Sets| is_gentle(&sets.pace);
        let asks = self.doubt == Doubt::Asked && amount.is_none() && self.kind.is_none();
        let first = self.sets.first().filter(|_| asks && self.sets.iter().all(is_gentle))?;
        Some(unreadable(&format!("{} x", first.reps), Expected::TwoRuns))
    }

    /// The amount and the hard part as they were typed, or everything that is wrong with the session.
    fn amounts(&mut self, default: Unit) -> Result<(Option<Amount>, Option<Amount>), Vec<ProblemKind>> {
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

/// Below this many minutes, what stands in brackets behind repetitions is a recovery.
const SHORTEST_SESSION: Milli = Milli::whole(20);

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
        None => (40, 27),
        // "tempo 20", "jog 20": most who write it mean minutes.
        Some(Kind::Tempo | Kind::Recovery) => (15, 10),
        Some(Kind::Easy) if has_word(words, &["jog", "jogging"]) => (15, 10),
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

/// What is asked of an amount for what stands behind it: "8 am" may be a run or a time of day, "6/8" a range or two runs.
fn asks_first(whole: Text<'_>, behind: Text<'_>) -> Option<ProblemKind> {
    let mut text = behind;
    if text.take_any_phrase(&["am", "pm", "a.m", "p.m"]) {
        return Some(unreadable(whole.left(), Expected::HalfOrClock));
    }
    text.skip_space();
    let is_divided = text.take_any(&['/', '&']).is_some() || text.take_phrase("and");
    let is_two = is_divided && matches!(RawAmount::take(&mut text), Ok(Some(_))) && text.is_done();
    is_two.then(|| unreadable(whole.left(), Expected::RangeOrRuns))
}

/// How an amount is told that is not meant to the metre: "about 10", "10-ish".
const ABOUT: &str = "about";

/// A session that is nothing but strides, as part of another one.
pub(super) fn strides_alone(part: &Part) -> Option<Part> {
    if starts_with_reps(Text::new(&part.words)) && !part.words.to_ascii_lowercase().contains("stride") {
        return None;
    }
    let lower = part.words.to_ascii_lowercase();
    let before = lower.strip_suffix("strides").or_else(|| lower.strip_suffix("stride"))?.len();
    // "4 x strides" are four of them.
    let count = part.words[..before].trim_end().trim_end_matches(TIMES).trim_end();
    if count.bytes().all(|byte| byte.is_ascii_digit() || byte == b'-') {
        return Some(Part { words: joined(["with", count, "strides"], " "), ..part.clone() });
    }
    starts_with_reps(Text::new(&part.words)).then(|| part.clone())
}
