//! From a line to sessions.

use chrono::{NaiveDate, Weekday};

use super::amounts::{Number, RawAmount, take_number};
use super::around::{self, Around, Parted, Rest, Unsettled};
use super::doubles::{AND, by_halves, by_sports, tells_halves, tells_sum};
use super::hardness::{Inside, hides, is_gentle, is_short_part, names_hardness};
use super::line::{Note, Part, Parts, cut, unreadable};
use super::offer::with_wholes;
use super::runner::Runner;
use super::text::{Text, tidy};
use super::total::{taken, with_total};
use super::unparted::by_parts;
use crate::plain::joined;
use crate::problem::{Expected, Field, Problem, ProblemKind};
use crate::session::{Kind, Session, SetUnit, Sets};
use crate::units::{Amount, DistanceUnit, Milli, Pace, Totals, Unit};
use crate::week::{BaseWeek, SevenDays, Slot, Turns, WEEKDAYS};

/// Reads one day of a base week: `6 x 800 m 10k pace, 10 km`, `7`, `5 + strength 30`, `50 min`.
///
/// Whether a session makes sense (a hard part longer than the whole, say) is not checked here:
/// [`Session::problems`] and [`BaseWeek::problems`] do.
///
/// # Errors
///
/// Everything that cannot be read, in the order of the line.
///
/// # Example
///
/// ```
/// use planning::notation::{read_day, write_day};
/// use planning::DistanceUnit;
///
/// let day = read_day("6 x 800 m 10k pace, 10 + gym 30", DistanceUnit::Km).unwrap();
/// assert_eq!(write_day(&day), "6 x 800 m 10k pace, 10 km + strength 30 min");
/// assert!(read_day("7 furlongs", DistanceUnit::Km).is_err());
/// ```
pub fn read_day(line: &str, runner: impl Into<Runner>) -> Result<Vec<Slot>, Vec<ProblemKind>> {
    let read = read_slots(line, runner.into(), Doubt::Asked);
    read.map_err(|found| found.into_iter().map(|(_, problem)| problem).collect())
}

/// Reads a line that was kept earlier. Words that would be asked about now, as [`read_day`] does, were taken
/// for a note then, and stay one until somebody types the line anew: nothing that is kept becomes unreadable.
///
/// # Errors
///
/// Everything that cannot be read, in the order of the line.
///
/// # Example
///
/// ```
/// use planning::notation::{read_day, read_kept_day, write_day};
/// use planning::DistanceUnit;
///
/// assert!(read_day("12 km with hills", DistanceUnit::Km).is_err());
/// let day = read_kept_day("12 km with hills", DistanceUnit::Km).unwrap();
/// assert_eq!(write_day(&day), "easy 12 km (\"with hills\")");
/// ```
pub fn read_kept_day(line: &str, units: DistanceUnit) -> Result<Vec<Slot>, Vec<ProblemKind>> {
    let is_sound = |slots: &[Slot]| slots.iter().flat_map(Slot::options).all(|one| one.problems().is_empty());
    let asked = read_day(line, units);
    if asked.as_deref().is_ok_and(is_sound) {
        return asked;
    }
    let as_notes = read_slots(line, units.into(), Doubt::Noted);
    as_notes.map_err(|found| found.into_iter().map(|(_, problem)| problem).collect())
}

/// What becomes of words that may make a run hard without saying how much of it.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
enum Doubt {
    /// They are asked about.
    #[default]
    Asked,
    /// They are a note.
    Noted,
}

/// Reads seven days, Monday first, and the range of the week as a whole (empty for none).
///
/// # Errors
///
/// Everything that cannot be read, and everything that [`BaseWeek::problems`] finds in the days that
/// can.
pub fn read_week(lines: &[&str; 7], range: &str, runner: impl Into<Runner>) -> Result<BaseWeek, Vec<Problem>> {
    let runner = runner.into();
    let mut found = Vec::new();
    let days = read_days(lines, runner, &mut found, Field::Session);
    let range = if range.trim().is_empty() {
        None
    } else {
        super::read_amount(range, runner.units)
            .map_err(|problem| found.push(Problem::new(Field::WeekRange, problem)))
            .ok()
    };
    let week = BaseWeek::new(days, range);
    found.extend(week.problems());
    if found.is_empty() { Ok(week) } else { Err(found) }
}

/// Reads the seven days of a second week, Monday first, that stands in the week of a Monday.
///
/// # Errors
///
/// Everything that cannot be read, and everything that [`Turns::problems`] finds in the days that can.
pub fn read_second_week(
    lines: &[&str; 7],
    stands_on: NaiveDate,
    runner: impl Into<Runner>,
) -> Result<Turns, Vec<Problem>> {
    let mut found = Vec::new();
    let days = read_days(lines, runner.into(), &mut found, Field::SecondSession);
    let turns = Turns { week: SevenDays::new(days), stands_on };
    // Days that cannot be read are not said to be empty as well.
    let unread = !found.is_empty();
    found.extend(turns.problems().into_iter().filter(|problem| !unread || problem.at != Field::SecondWeek));
    if found.is_empty() { Ok(turns) } else { Err(found) }
}

fn read_days(
    lines: &[&str; 7],
    runner: Runner,
    found: &mut Vec<Problem>,
    at: impl Fn(Weekday, usize) -> Field,
) -> [Vec<Slot>; 7] {
    let mut days: [Vec<Slot>; 7] = Default::default();
    for ((weekday, line), day) in WEEKDAYS.into_iter().zip(lines).zip(&mut days) {
        match read_slots(line, runner, Doubt::Asked) {
            Ok(slots) => *day = slots,
            Err(problems) => {
                found.extend(problems.into_iter().map(|(index, problem)| Problem::new(at(weekday, index), problem)));
            }
        }
    }
    days
}

/// Strides are no session of their own: "8 + strides" and "8 + 6 x 100 m strides" are one run that ends
/// with them.
fn with_their_strides(slots: Vec<Vec<Parts>>) -> Vec<Vec<Parts>> {
    let mut joined: Vec<Vec<Parts>> = Vec::with_capacity(slots.len());
    for slot in slots {
        let strides = match slot.as_slice() {
            [parts] if parts.len() == 1 => strides_alone(&parts[0]),
            _ => None,
        };
        match (strides, joined.last_mut()) {
            (Some(strides), Some(run)) => run.iter_mut().for_each(|option| option.push(strides.clone())),
            _ => joined.push(slot),
        }
    }
    joined
}

/// A session that is nothing but strides, as part of another one.
fn strides_alone(part: &Part) -> Option<Part> {
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

/// The slots of a line; each problem with the number of its slot.
fn read_slots(line: &str, runner: Runner, doubt: Doubt) -> Result<Vec<Slot>, Vec<(usize, ProblemKind)>> {
    let (slots, sum) = slots_of(line, runner, doubt).map_err(|problem| vec![(0, problem)])?;
    let read = read_cut(line, &slots, runner, doubt).map_err(|found| {
        if let Some(asked) = wholes_unsaid(&slots, &found, runner, doubt) {
            return vec![asked];
        }
        let asked = |unread: Unread| match unread {
            Unread::Asked(problem) => problem,
            Unread::NoWhole { told, .. } => unreadable(&told, Expected::WholeRun),
        };
        found.into_iter().map(|(index, unread)| (index, asked(unread))).collect::<Vec<_>>()
    })?;
    match sum {
        Some(sum) if !comes_to(&read, &sum, runner) => Err(vec![(0, unreadable(&sum, Expected::TotalOfDay))]),
        _ => Ok(read),
    }
}

/// The question for the wholes of all runs without a sum, with a line that says them; nothing where something else is
/// wrong too, or no such line is read.
fn wholes_unsaid(
    slots: &[Vec<Parts>],
    found: &[(usize, Unread)],
    runner: Runner,
    doubt: Doubt,
) -> Option<(usize, ProblemKind)> {
    let whole = |(slot, unread): &(usize, Unread)| match unread {
        Unread::NoWhole { option, told, estimate: Some(whole) } => Some(((*slot, *option), *whole, told.clone())),
        Unread::NoWhole { estimate: None, .. } | Unread::Asked(_) => None,
    };
    let wholes: Vec<((usize, usize), Amount, String)> = found.iter().map(whole).collect::<Option<_>>()?;
    let reads = |line: &str| {
        slots_of(line, runner, doubt).is_ok_and(|(slots, _)| read_cut(line, &slots, runner, doubt).is_ok())
    };
    let line = with_wholes(slots, wholes.iter().map(|(place, whole, _)| (*place, *whole)), reads)?;
    let told = wholes.iter().map(|(_, _, told)| told.as_str()).collect::<Vec<_>>().join("; ");
    Some((found.first()?.0, ProblemKind::WholeUnsaid { told, line, pace: runner.easy_pace }))
}

/// A line cut into its runs and other sessions, and the total that these must come to where several are run.
fn slots_of(line: &str, runner: Runner, doubt: Doubt) -> Result<(Vec<Vec<Parts>>, Option<String>), ProblemKind> {
    // "Rest." ends like a sentence; a line of nothing but points says nothing.
    let without_mark = line.trim_end_matches(['.', '!', ' ']);
    let mut slots = cut(if without_mark.is_empty() { line } else { without_mark })?;
    let total = taken(&mut slots);
    let slots = with_their_strides(by_sports(by_halves(rest_parted(in_one_word(slots)))));
    let mut slots = around::joined(around::one_run(by_parts(slots)));
    let Some(total) = total else { return Ok((slots, None)) };
    let is_run = |at: &usize| {
        let read = read_cut(line, &slots[*at..=*at], runner, doubt);
        read.map_or(true, |read| read.is_empty() || read.iter().any(|slot| slot.chosen().kind.is_running()))
    };
    let runs: Vec<usize> = (0..slots.len()).filter(is_run).collect();
    if let [only] = runs.as_slice() {
        with_total(&mut slots[*only], &total);
        return Ok((slots, None));
    }
    Ok((slots, Some(total)))
}

/// Whether the runs of a day come to a total.
fn comes_to(day: &[Slot], total: &str, runner: Runner) -> bool {
    let amount =
        RawAmount::take(&mut Text::new(total)).ok().flatten().and_then(|raw| raw.in_unit(runner.units.unit()).ok());
    let runs = day.iter().map(Slot::chosen).filter(|session| session.kind.is_running());
    let sum: Option<Totals> = runs.map(Session::running).collect();
    amount.zip(sum).is_some_and(|(amount, sum)| sum.parts() == [amount])
}

/// "S+C" is strength and conditioning: one session, and no two.
fn in_one_word(mut slots: Vec<Vec<Parts>>) -> Vec<Vec<Parts>> {
    let last = |slot: &Vec<Parts>| slot.last().and_then(|parts| parts.last()).map(|part| part.words.clone());
    let at = (1..slots.len()).find(|at| {
        let behind = slots[*at].first().and_then(|parts| parts.first()).map_or("", |part| part.words.as_str());
        let is =
            |words: &str, wanted: &str| words.split(' ').next().is_some_and(|word| word.eq_ignore_ascii_case(wanted));
        last(&slots[at - 1]).is_some_and(|words| words.eq_ignore_ascii_case("s")) && is(behind, "c")
    });
    if let Some(at) = at {
        let joined = slots.remove(at);
        if let (Some(slot), Some(part)) = (slots.get_mut(at - 1), joined.into_iter().flatten().next())
            && let Some(front) = slot.last_mut().and_then(|parts| parts.last_mut())
        {
            let rest = part.words.get(1..).unwrap_or_default().to_owned();
            *front = Part { words: format!("s&c{rest}"), ..part };
        }
    }
    slots
}

/// Why a session cannot be read.
enum Unread {
    /// This is asked.
    Asked(ProblemKind),
    /// The parts of this option of its slot have no sum, see [`Unsettled::NoWhole`].
    NoWhole { option: usize, told: String, estimate: Option<Amount> },
}

/// The slots of a line that is cut already.
fn read_cut(line: &str, slots: &[Vec<Parts>], runner: Runner, doubt: Doubt) -> Result<Vec<Slot>, Vec<(usize, Unread)>> {
    if let [only] = slots
        && let [parts] = only.as_slice()
        && (parts.is_empty() || is_rest(parts))
    {
        return Ok(Vec::new());
    }
    let mut read = Vec::new();
    let mut found = Vec::new();
    for (index, options) in slots.iter().enumerate() {
        if matches!(options.as_slice(), [only] if is_rest(only)) {
            continue;
        }
        let mut sessions = Vec::new();
        let rest = options.iter().find(|parts| is_rest(parts)).and_then(|parts| parts.first());
        for (option, parts) in options.iter().enumerate().filter(|(_, parts)| !is_rest(parts)) {
            if parts.is_empty() {
                found.push((index, Unread::Asked(unreadable(line, Expected::Session))));
                continue;
            }
            match read_session(parts, runner, doubt) {
                // Whether a day holds running decides what a block makes of it.
                Ok(session) if rest.is_some() && session.kind.is_running() => {
                    found.push((index, Unread::Asked(unreadable(line, Expected::RestOrRun))));
                }
                Ok(session) => sessions.push(session),
                Err(unsettled) => found.extend(unsettled.into_iter().map(|one| match one {
                    Unsettled::Asked(problem) => (index, Unread::Asked(problem)),
                    Unsettled::NoWhole { told, estimate } => (index, Unread::NoWhole { option, told, estimate }),
                })),
            }
        }
        share_amounts(&mut sessions);
        if let Some(rest) = rest {
            for session in &mut sessions {
                note_first(session, &format!("or {}", rest.words.to_lowercase()));
            }
        }
        read.extend(Slot::any_of(sessions));
    }
    if found.is_empty() { Ok(read) } else { Err(found) }
}

/// "Rest/XT" is one or the other.
fn rest_parted(slots: Vec<Vec<Parts>>) -> Vec<Vec<Parts>> {
    let apart = |slot: &[Parts]| -> Option<Vec<Parts>> {
        let [parts] = slot else { return None };
        let [part] = parts.as_slice() else { return None };
        let (one, other) = part.words.split_once('/')?;
        let as_parts = |words: &str, part: Part| vec![Part { words: words.trim().to_owned(), ..part }];
        let both = vec![as_parts(one, Part::default()), as_parts(other, part.clone())];
        both.iter().any(is_rest).then_some(both)
    };
    slots.into_iter().map(|slot| apart(&slot).unwrap_or(slot)).collect()
}

fn note_first(session: &mut Session, words: &str) {
    session.note = joined([words, session.note.as_str()], ", ");
}

fn is_rest(parts: &Parts) -> bool {
    const WORDS: [&str; 21] = [
        "rest",
        "rest day",
        "off",
        "day off",
        "off day",
        "complete rest",
        "full rest",
        "no run",
        "no running",
        "-",
        "\u{2013}",
        "\u{2014}",
        "\u{2212}",
        "--",
        "---",
        "none",
        "nil",
        "n/a",
        "0",
        "0 km",
        "0 mi",
    ];
    let is = |words: &str| WORDS.iter().any(|word| words.eq_ignore_ascii_case(word));
    // "Rest - travel": why, which is no session.
    let says_why = |words: &str| {
        let why = words.split_once(" - ").or_else(|| words.split_once(" \u{2013} "));
        why.is_some_and(|(rest, why)| {
            is(rest) && !why.contains(|one: char| one.is_ascii_digit()) && take_kind(&mut Text::new(why)).is_none()
        })
    };
    matches!(parts.as_slice(), [only] if is(&only.words) || says_why(&only.words))
}

/// "tempo or hills 9 km": a run without an amount takes that of the option behind it.
fn share_amounts(options: &mut [Session]) {
    for index in (1..options.len()).rev() {
        let behind = options[index].running();
        let option = &mut options[index - 1];
        if option.amount.is_none() && option.kind.is_running() && option.sets.is_empty() {
            option.amount = behind;
        }
    }
}

fn read_session(parts: &[Part], runner: Runner, doubt: Doubt) -> Result<Session, Vec<Unsettled>> {
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
        skip_roughly(&mut text);
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
            if self.doubt == Doubt::Asked && Inside::is_place(here) && self.read_told(*text, false)? {
                return Ok(());
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

    /// "16 km (last 5 km at MP)" is "16 km, last 5 km at MP": a part that stands in brackets is no note, where nothing
    /// else tells of a hard part.
    fn read_brackets(&mut self) {
        let may_be_told = self.doubt == Doubt::Asked
            && self.hard.is_none()
            && self.sets.is_empty()
            && self.kind.is_none_or(|kind| kind.is_running() && kind != Kind::Strides);
        let told = self.plain_notes.iter().filter(|_| may_be_told).find(|note| self.tells_part(note)).cloned();
        let Some(told) = told else { return };
        let notes = (self.notes.clone(), self.kind);
        self.notes.retain(|note| *note != told);
        if self.read_told(Text::new(&told), false).is_err() {
            // Nothing that can be told as a part after all: it is asked about as it stands.
            (self.notes, self.kind) = notes;
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

    fn finish(mut self, runner: Runner) -> Result<Session, Vec<Unsettled>> {
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

/// "~10", "about 10": ten.
fn skip_roughly(text: &mut Text<'_>) {
    const ROUGHLY: [&str; 9] = ["~", "\u{2248}", "about", "around", "approx.", "approx", "roughly", "circa", "ca."];
    let mut after = *text;
    if after.take_any_phrase(&ROUGHLY) || after.take_any_phrase(&["ca", "c."]) {
        after.skip_space();
        if after.peek().is_some_and(|next| next.is_ascii_digit()) {
            *text = after;
        }
    }
}

/// The kind of a session whose kind is not said.
pub(super) fn infer(sets: &[Sets], has_amount: bool, has_hard: bool) -> Option<Kind> {
    let any = |words: &[&str]| sets.iter().any(|sets| has_word(&sets.pace, words));
    if sets.is_empty() {
        return match (has_amount, has_hard) {
            (_, true) => Some(Kind::Tempo),
            (true, false) => Some(Kind::Easy),
            (false, false) => None,
        };
    }
    if any(&["hill", "hills", "uphill"]) {
        Some(Kind::Hills)
    } else if has_amount && sets.iter().all(|sets| has_word(&sets.pace, &["stride", "strides"])) {
        Some(Kind::Easy)
    } else {
        Some(Kind::Intervals)
    }
}

fn has_word(text: &str, words: &[&str]) -> bool {
    text.split(|next: char| !next.is_alphabetic())
        .any(|word| words.iter().any(|wanted| word.eq_ignore_ascii_case(wanted)))
}

/// The strokes that people type or paste for "times".
const TIMES: [char; 5] = ['x', 'X', '\u{d7}', '*', '\u{2715}'];

pub(super) const RECOVERY_LABELS: [&str; 4] = ["recovery", "recoveries", "rec.", "rec"];

/// Whether words tell of the rest between repetitions.
pub(super) fn is_recovery(words: &str) -> bool {
    has_word(
        words,
        &["jog", "jogs", "jogging", "walk", "walking", "rest", "standing", "float", "recovery", "recoveries"],
    )
}

/// "2nd half" is no amount.
fn starts_with_ordinal(mut text: Text<'_>) -> bool {
    !text.take_digits().is_empty() && text.take_any_phrase(&["st", "nd", "rd", "th"])
}

pub(super) fn starts_with_reps(mut text: Text<'_>) -> bool {
    let digits = !text.take_digits().is_empty();
    text.skip_space();
    digits && text.take_any(&TIMES).is_some() && !text.peek().is_some_and(char::is_alphabetic)
}

/// Takes `6 x 800 m 10k pace`, `8x400`, `4 x 1:30 with 60 s jog`: all of the text.
pub(super) fn take_sets(text: &mut Text<'_>) -> Result<Sets, ProblemKind> {
    let start = *text;
    let fault = || unreadable(start.left(), Expected::Sets);
    let reps = text.take_digits().parse().map_err(|_| fault())?;
    text.skip_space();
    text.take_any(&TIMES);
    let (length, unit) = take_length(text)?.ok_or_else(fault)?;
    text.skip_space();
    text.take_any_phrase(&["@", "at"]);
    let tail = text.left();
    if tail.chars().all(|next| next.is_ascii_digit()) && !tail.is_empty() {
        return Err(fault());
    }
    *text = Text::new("");
    let (pace, recovery) = split_recovery(tail);
    Ok(Sets { reps, length, unit, pace: tidy(pace), recovery: tidy(recovery) })
}

/// "10k pace with 90 s jog", or only "90 s jog": pace words and recovery.
fn split_recovery(tail: &str) -> (&str, &str) {
    if tail.starts_with(|first: char| first.is_ascii_digit()) && is_recovery(tail) && !tail.contains("pace") {
        return ("", tail);
    }
    let lower = tail.to_ascii_lowercase();
    for word in ["with ", "w/ ", "w/"] {
        for (index, _) in lower.match_indices(word) {
            let starts_word = tail[..index].chars().next_back().is_none_or(char::is_whitespace);
            let behind = tail[index + word.len()..].trim();
            if starts_word && is_recovery(behind) {
                return (tail[..index].trim(), behind);
            }
        }
    }
    (tail, "")
}

/// Without a unit a number from here on is metres: "8 x 400".
const PLAIN_METRES: Milli = Milli::whole(100);

/// The length of one repetition; nothing where it cannot be told.
pub(super) fn take_length(text: &mut Text<'_>) -> Result<Option<(Milli, SetUnit)>, ProblemKind> {
    text.skip_space();
    let start = *text;
    let Some(number) = take_number(text)? else { return Ok(None) };
    let written = text.since(&start);
    let unit = take_set_unit(text);
    Ok(match (number, unit) {
        (Number::Clock(minutes, seconds), None | Some(SetUnit::Min)) => in_seconds(minutes, seconds),
        (Number::Clock(..), Some(_)) | (Number::Hours(..), _) => None,
        (Number::Plain(value), Some(SetUnit::Min)) if value.0 % 1000 == 0 => {
            let before = *text;
            if let Some(seconds) = take_seconds(text) {
                in_seconds(value.0 / 1000, seconds)
            } else {
                *text = before;
                Some((value, SetUnit::Min))
            }
        }
        // In metres a comma before three digits parts the thousands: nobody measures millimetres.
        (Number::Plain(value), Some(SetUnit::M)) if is_thousands(written) => {
            value.0.checked_mul(1000).map(|value| (Milli(value), SetUnit::M))
        }
        (Number::Plain(value), Some(unit)) => Some((value, unit)),
        (Number::Plain(value), None) => (value >= PLAIN_METRES).then_some((value, SetUnit::M)),
    })
}

fn is_thousands(written: &str) -> bool {
    written.split_once(',').is_some_and(|(_, decimals)| decimals.len() == 3)
}

fn in_seconds(minutes: i32, seconds: i32) -> Option<(Milli, SetUnit)> {
    let total = minutes.checked_mul(60)?.checked_add(seconds)?.checked_mul(1000)?;
    Some(if seconds == 0 { (Milli::whole(minutes), SetUnit::Min) } else { (Milli(total), SetUnit::S) })
}

/// The seconds of `1 min 30 s` and `1'30`.
fn take_seconds(text: &mut Text<'_>) -> Option<i32> {
    let attached = text.peek().is_some_and(|next| next.is_ascii_digit());
    text.skip_space();
    let digits = text.take_digits();
    let seconds = digits.parse().ok().filter(|seconds| *seconds < 60)?;
    let unit = take_set_unit(text);
    let ends = !text.peek().is_some_and(char::is_alphanumeric);
    (ends && (unit == Some(SetUnit::S) || (unit.is_none() && attached))).then_some(seconds)
}

fn take_set_unit(text: &mut Text<'_>) -> Option<SetUnit> {
    let here = *text;
    text.skip_space();
    if text.take_phrase("''") || text.take_any(&['"', '\u{201d}', '\u{201c}', '\u{2033}']).is_some() {
        return Some(SetUnit::S);
    }
    if text.take_any(&['\'', '\u{2019}', '\u{2032}']).is_some() {
        return Some(SetUnit::Min);
    }
    let unit = match text.take_while(char::is_alphabetic).to_ascii_lowercase().as_str() {
        "m" | "metre" | "metres" | "meter" | "meters" => Some(SetUnit::M),
        "km" | "k" | "kms" | "kilometre" | "kilometres" | "kilometer" | "kilometers" => Some(SetUnit::Km),
        "mi" | "mile" | "miles" => Some(SetUnit::Mi),
        "s" | "sec" | "secs" | "second" | "seconds" => Some(SetUnit::S),
        "min" | "mins" | "minute" | "minutes" => Some(SetUnit::Min),
        _ => None,
    };
    if unit.is_none() {
        *text = here;
    }
    unit
}

/// Takes a kind by any of its names. For a name that says more than the kind ("bike", "MP"), the name too.
pub(super) fn take_kind(text: &mut Text<'_>) -> Option<(Kind, Option<String>)> {
    for (name, kind) in TELLING_NAMES {
        if text.take_phrase(name) {
            text.take_any_phrase(&["session", "class"]);
            take_mark(text);
            return Some((*kind, Some((*name).to_owned())));
        }
    }
    for (name, kind) in NAMES {
        if text.take_phrase(name) {
            text.take_any_phrase(&["run", "jog", "session", "class"]);
            take_mark(text);
            return Some((*kind, None));
        }
    }
    let start = *text;
    for (name, kind) in PACES {
        if text.take_phrase(name) {
            let typed = text.since(&start).to_owned();
            take_mark(text);
            return Some((*kind, Some(typed)));
        }
    }
    None
}

/// "easy: 8 km", "easy - 8 km".
fn take_mark(text: &mut Text<'_>) {
    let is_dash = [" - ", " \u{2013} "].iter().any(|dash| text.starts_with(dash));
    if is_dash {
        text.skip_space();
        text.take_any(&['-', '\u{2013}']);
    } else {
        text.take_phrase(":");
    }
}

/// The same, with the names that only stand where a pace does: "4 km @ HM".
fn take_kind_or_short(text: &mut Text<'_>) -> Option<(Kind, Option<String>)> {
    let start = *text;
    let taken = take_kind(text);
    if taken.is_some() && text.is_done() {
        return taken;
    }
    *text = start;
    let (_, kind) = SHORT_PACES.iter().find(|(name, _)| text.take_phrase(name))?;
    Some((*kind, Some(text.since(&start).to_owned())))
}

/// Names of a pace that say the kind and are kept as typed.
const PACES: &[(&str, Kind)] = &[
    ("goal marathon pace", Kind::RacePace),
    ("marathon race pace", Kind::RacePace),
    ("marathon pace", Kind::RacePace),
    ("marathon effort", Kind::RacePace),
    ("half marathon pace", Kind::RacePace),
    ("half marathon effort", Kind::RacePace),
    ("half pace", Kind::RacePace),
    ("race effort", Kind::RacePace),
    ("goal effort", Kind::RacePace),
    ("m pace", Kind::RacePace),
    ("hm pace", Kind::RacePace),
    ("hm effort", Kind::RacePace),
    ("gmp", Kind::RacePace),
    ("hmp", Kind::RacePace),
    ("mp", Kind::RacePace),
    ("vo2max", Kind::Intervals),
    ("vo2 max", Kind::Intervals),
    ("vo2", Kind::Intervals),
    ("medium long run", Kind::Long),
    ("medium long", Kind::Long),
    ("med long run", Kind::Long),
    ("med long", Kind::Long),
    ("mlr", Kind::Long),
];

/// Names that are too short to mean a pace anywhere else.
const SHORT_PACES: &[(&str, Kind)] = &[
    ("half marathon", Kind::RacePace),
    ("marathon", Kind::RacePace),
    ("half", Kind::RacePace),
    ("hm", Kind::RacePace),
    ("goal", Kind::RacePace),
    ("race", Kind::RacePace),
    ("m", Kind::RacePace),
    ("lt", Kind::Tempo),
];

/// The names of kinds, a longer one before those it starts with.
const NAMES: &[(&str, Kind)] = &[
    ("easy pace", Kind::Easy),
    ("easy effort", Kind::Easy),
    ("e pace", Kind::Easy),
    ("easy", Kind::Easy),
    ("ez", Kind::Easy),
    ("e", Kind::Easy),
    ("jogging", Kind::Easy),
    ("jog", Kind::Easy),
    ("running", Kind::Easy),
    ("run", Kind::Easy),
    ("recovery pace", Kind::Recovery),
    ("recovery", Kind::Recovery),
    ("rec", Kind::Recovery),
    ("recov", Kind::Recovery),
    ("regeneration", Kind::Recovery),
    ("steady state", Kind::Steady),
    ("steady", Kind::Steady),
    ("tempo pace", Kind::Tempo),
    ("tempo effort", Kind::Tempo),
    ("tempo", Kind::Tempo),
    ("threshold pace", Kind::Tempo),
    ("threshold effort", Kind::Tempo),
    ("threshold", Kind::Tempo),
    ("thresh", Kind::Tempo),
    ("thr", Kind::Tempo),
    ("lt pace", Kind::Tempo),
    ("lt", Kind::Tempo),
    ("t pace", Kind::Tempo),
    ("t", Kind::Tempo),
    ("intervals", Kind::Intervals),
    ("interval", Kind::Intervals),
    ("ints", Kind::Intervals),
    ("int", Kind::Intervals),
    ("repetitions", Kind::Intervals),
    ("repeats", Kind::Intervals),
    ("reps", Kind::Intervals),
    ("track", Kind::Intervals),
    ("speedwork", Kind::Intervals),
    ("speed work", Kind::Intervals),
    ("speed", Kind::Intervals),
    ("hill repeats", Kind::Hills),
    ("hill reps", Kind::Hills),
    ("hills", Kind::Hills),
    ("hill", Kind::Hills),
    ("fartlek", Kind::Fartlek),
    ("progression", Kind::Progression),
    ("build", Kind::Progression),
    ("cutdown", Kind::Progression),
    ("cut down", Kind::Progression),
    ("progressive", Kind::Progression),
    ("prog", Kind::Progression),
    ("race pace", Kind::RacePace),
    ("goal pace", Kind::RacePace),
    ("rp", Kind::RacePace),
    ("long slow distance", Kind::Long),
    ("long slow", Kind::Long),
    ("long", Kind::Long),
    ("lsd", Kind::Long),
    ("lsr", Kind::Long),
    ("lr", Kind::Long),
    ("strides", Kind::Strides),
    ("stride", Kind::Strides),
    ("time trial", Kind::TimeTrial),
    ("tt", Kind::TimeTrial),
    ("cross training", Kind::CrossTraining),
    ("crosstraining", Kind::CrossTraining),
    ("cross train", Kind::CrossTraining),
    ("cross", Kind::CrossTraining),
    ("x training", Kind::CrossTraining),
    ("x train", Kind::CrossTraining),
    ("xt", Kind::CrossTraining),
    ("strength and conditioning", Kind::Strength),
    ("strength & conditioning", Kind::Strength),
    ("strength training", Kind::Strength),
    ("strength work", Kind::Strength),
    ("strength", Kind::Strength),
    ("s&c", Kind::Strength),
    ("s & c", Kind::Strength),
    ("s/c", Kind::Strength),
    ("lifting", Kind::Strength),
    ("gym", Kind::Strength),
    ("weights", Kind::Strength),
    ("mobility", Kind::Mobility),
];

/// Names that say more than the kind; they are kept as a note.
const TELLING_NAMES: &[(&str, Kind)] = &[
    ("walk/jog", Kind::Easy),
    ("jog/walk", Kind::Easy),
    ("shake out", Kind::Easy),
    ("shakeout", Kind::Easy),
    ("run/walk", Kind::Easy),
    ("walk/run", Kind::Easy),
    ("run walk", Kind::Easy),
    ("walk run", Kind::Easy),
    ("tempo intervals", Kind::Intervals),
    ("threshold intervals", Kind::Intervals),
    ("threshold reps", Kind::Intervals),
    ("cruise intervals", Kind::Intervals),
    ("moderate", Kind::Steady),
    ("hill sprints", Kind::Hills),
    ("bike", Kind::CrossTraining),
    ("biking", Kind::CrossTraining),
    ("cycling", Kind::CrossTraining),
    ("cycle", Kind::CrossTraining),
    ("spinning", Kind::CrossTraining),
    ("spin", Kind::CrossTraining),
    ("turbo", Kind::CrossTraining),
    ("swimming", Kind::CrossTraining),
    ("swim", Kind::CrossTraining),
    ("rowing machine", Kind::CrossTraining),
    ("rowing", Kind::CrossTraining),
    ("row", Kind::CrossTraining),
    ("elliptical", Kind::CrossTraining),
    ("cross trainer", Kind::CrossTraining),
    ("pool running", Kind::CrossTraining),
    ("pool run", Kind::CrossTraining),
    ("aqua jogging", Kind::CrossTraining),
    ("aqua jog", Kind::CrossTraining),
    ("walking", Kind::CrossTraining),
    ("walk", Kind::CrossTraining),
    ("hiking", Kind::CrossTraining),
    ("hike", Kind::CrossTraining),
    ("football", Kind::CrossTraining),
    ("soccer", Kind::CrossTraining),
    ("tennis", Kind::CrossTraining),
    ("badminton", Kind::CrossTraining),
    ("squash", Kind::CrossTraining),
    ("hockey", Kind::CrossTraining),
    ("netball", Kind::CrossTraining),
    ("basketball", Kind::CrossTraining),
    ("climbing", Kind::CrossTraining),
    ("skiing", Kind::CrossTraining),
    ("core", Kind::Strength),
    ("circuits", Kind::Strength),
    ("pilates", Kind::Strength),
    ("plyometrics", Kind::Strength),
    ("stretching", Kind::Mobility),
    ("stretch", Kind::Mobility),
    ("foam rolling", Kind::Mobility),
    ("drills", Kind::Mobility),
    ("yoga", Kind::Mobility),
];
