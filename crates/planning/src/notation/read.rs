//! From a line to sessions.

use std::borrow::Cow;

use chrono::{NaiveDate, Weekday};

use super::amounts::RawAmount;
use super::around::{self, Unsettled};
use super::bare;
use super::climb;
use super::doubles::{by_double_strokes, by_halves, by_marks, by_sports, by_the_word};
use super::draft::{read_session, strides_alone};
use super::halves;
use super::letters;
use super::line::{Part, Parts, apart_from_notes, cut, unreadable};
use super::miles;
use super::offer::with_wholes;
use super::rest::{self, Behind, Led, is_rest};
use super::runner::Runner;
use super::spelled;
use super::stages;
use super::text::Text;
use super::total::{taken, with_total};
use super::turns;
use super::unparted::by_parts;
use crate::plain::joined;
use crate::problem::{Expected, Field, Problem, ProblemKind};
use crate::session::Session;
use crate::units::{Amount, DistanceUnit, Totals};
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
pub(super) enum Doubt {
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

/// The slots of a line; each problem with the number of its slot.
fn read_slots(line: &str, runner: Runner, doubt: Doubt) -> Result<Vec<Slot>, Vec<(usize, ProblemKind)>> {
    if let Some(led) = Led::of(line) {
        if led.read() == Behind::Other && doubt == Doubt::Asked {
            return Err(vec![(0, unreadable(line, Expected::RestOrRun))]);
        }
        if let Some(read) = read_led(line, led, runner, doubt) {
            return Ok(read);
        }
    }
    let (slots, sum) = slots_of(line, runner, doubt).map_err(|problem| vec![(0, problem)])?;
    let read = read_cut(line, &slots, runner, doubt).map_err(|found| {
        if !found.iter().any(has_pace)
            && let Some(asked) = wholes_unsaid(&slots, &found, runner, doubt)
        {
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

/// A day that begins with a word for rest; nothing where it is read as any other line.
fn read_led(line: &str, led: Led<'_>, runner: Runner, doubt: Doubt) -> Option<Vec<Slot>> {
    match led.read() {
        Behind::Nothing => Some(Vec::new()),
        Behind::Words(words) => {
            let words = if matches!(words, Cow::Owned(_)) { words } else { joined(words.split(' '), " ").into() };
            let session = Session::rest_with(&words);
            (cut(line).is_ok() && session.problems().is_empty()).then(|| vec![Slot::one(session)])
        }
        Behind::Session(words) => {
            let slots = read_slots(words, runner, doubt).ok()?;
            let [slot] = slots.as_slice() else { return None };
            let mut session = slot.chosen().clone();
            if slot.options().len() > 1 || session.kind.is_running() {
                return None;
            }
            if session.amount.is_some() {
                // "off/XT 30 min": one or the other.
                let is_either = led.behind.starts_with('/');
                note_first(
                    &mut session,
                    &if is_either { format!("or {}", led.rest.to_lowercase()) } else { led.rest.to_owned() },
                );
            }
            Some(vec![Slot::one(session)])
        }
        Behind::Other => None,
    }
}

/// The line with the wholes of all runs that have no sum, where that is all that is wrong with it.
pub(super) fn with_wholes_reckoned(line: &str, runner: Runner) -> Option<String> {
    let (slots, _) = slots_of(line, runner, Doubt::Asked).ok()?;
    let found = read_cut(line, &slots, runner, Doubt::Asked).err()?;
    match wholes_unsaid(&slots, &found, runner, Doubt::Asked)?.1 {
        ProblemKind::WholeUnsaid { line, .. } => Some(line),
        _ => None,
    }
}

/// Whether minutes count by a pace that the line tells: the question that names the easy pace would be wrong.
fn has_pace((_, unread): &(usize, Unread)) -> bool {
    matches!(unread, Unread::NoWhole { has_pace: true, .. })
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
        Unread::NoWhole { option, told, estimate: Some(whole), .. } => Some(((*slot, *option), *whole, told.clone())),
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
pub(super) fn slots_of(
    line: &str,
    runner: Runner,
    doubt: Doubt,
) -> Result<(Vec<Vec<Parts>>, Option<String>), ProblemKind> {
    let line = &*in_words(line, runner.units, doubt);
    let slots = cut(line)?;
    let slots = if doubt == Doubt::Asked { turns::told(slots) } else { slots };
    let mut slots = around::to_the_work(slots);
    let total = taken(&mut slots);
    let slots = with_their_strides(by_sports(by_halves(by_marks(by_the_word(rest::parted(in_one_word(slots)))))));
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

/// A line in the words that are cut: what is told by figures and strokes says the same as another line with commas.
fn in_words(line: &str, units: DistanceUnit, doubt: Doubt) -> String {
    if doubt == Doubt::Noted {
        return stages::parted(&climb::noted(without_mark(&in_full(line, units)))).into_owned();
    }
    let line = letters::spelled(line, units);
    let line = in_full(&line, units);
    let line = miles::spelled(&line, units);
    let line = around::short_in_full(&line);
    let line = stages::sentences_parted(without_mark(&line));
    let line = halves::spelled(&line, units);
    let line = spelled::numbers(&line);
    let line = climb::noted(&line);
    let line = stages::parted(&line);
    by_double_strokes(&line).into_owned()
}

/// "Rest." ends like a sentence; a line of nothing but points says nothing.
fn without_mark(line: &str) -> &str {
    let without_mark = line.trim_end_matches(['.', '!', ' ']);
    if without_mark.is_empty() { line } else { without_mark }
}

/// A line with what stands for an amount in full, up to the first bracket or quote: "easy hour" is 60 min, and "6M" is
/// 6 mi where the athlete counts in miles.
pub(super) fn in_full(line: &str, units: DistanceUnit) -> Cow<'_, str> {
    let may_hold = line.contains(['M', 'h', 'H']);
    let (front, behind) = apart_from_notes(line);
    let is_number = |word: &str| !word.is_empty() && word.bytes().all(|one| one.is_ascii_digit() || one == b'.');
    let mut before = "";
    let mut changed = false;
    let mut words: Vec<Cow<'_, str>> = Vec::new();
    let typed: Vec<&str> = front.split(' ').take(if may_hold { usize::MAX } else { 0 }).collect();
    for (at, word) in typed.iter().copied().enumerate() {
        // "16 w/ 8M": so much of it at the marathon's pace.
        let is_inside = ["w/", "with"].contains(&before) && (word.ends_with(',') || at + 1 == typed.len());
        let bare = word.trim_end_matches([',', ':']);
        let comma = &word[bare.len()..];
        let great = bare.strip_suffix('M').filter(|number| is_number(number));
        let full = match great.filter(|_| is_inside || units == DistanceUnit::Mi) {
            Some(number) if is_inside => Some(format!("{number} MP{comma}")),
            Some(number) => Some(format!("{number} mi{comma}")),
            None if bare.eq_ignore_ascii_case("hour")
                && ["easy", "steady", "long", ""].contains(&&*before.to_lowercase()) =>
            {
                Some(format!("60 min{comma}"))
            }
            None => None,
        };
        changed |= full.is_some();
        words.push(full.map_or(Cow::Borrowed(word), Cow::Owned));
        before = word;
    }
    if changed { Cow::Owned(words.join(" ") + behind) } else { Cow::Borrowed(line) }
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
    NoWhole { option: usize, told: String, estimate: Option<Amount>, has_pace: bool },
}

/// The slots of a line that is cut already.
fn read_cut(line: &str, slots: &[Vec<Parts>], runner: Runner, doubt: Doubt) -> Result<Vec<Slot>, Vec<(usize, Unread)>> {
    if let [only] = slots
        && let [parts] = only.as_slice()
        && (parts.is_empty() || is_rest(parts))
    {
        let rest = rest::words_of(parts).map(|words| Session::rest_with(&words));
        return Ok(rest.filter(|rest| rest.problems().is_empty()).map(Slot::one).into_iter().collect());
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
                    Unsettled::NoWhole { told, estimate, has_pace } => {
                        (index, Unread::NoWhole { option, told, estimate, has_pace })
                    }
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
    if found.is_empty() && doubt == Doubt::Asked {
        found.extend(bare::asks_unit(slots, runner.units).map(|question| (0, Unread::Asked(question))));
    }
    if found.is_empty() { Ok(read) } else { Err(found) }
}

fn note_first(session: &mut Session, words: &str) {
    session.note = joined([words, session.note.as_str()], ", ");
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
