//! Lines that are offered in place of one that cannot be read: a way out that takes one press.
//!
//! A day that is refused is taken apart into its sessions. Those that are read stay as they were typed; each of the others is
//! tried in these ways, a file for each:
//!
//! 1. [`asked`]: what the question itself leads to. "45 easy" is 45 min or 45 km; "6/8" a range or two runs.
//! 2. [`mended`]: what is read and cannot be. "6 x 800 m" lacks the whole run, "tempo 5 km, hard 9" has its amounts in
//!    turned order.
//! 3. [`seen`]: what can be seen in words that are read by nobody, amounts, kinds and repetitions; what is left of them is
//!    a note. [`sessions`] makes sessions of it.
//!
//! Whatever comes out is read once more, so that no offer is refused in its turn. What names hard running is offered with a
//! hard part, and as a mere note only beside it; the hills of a run that is called easy are a note first.

mod asked;
mod mended;
mod seen;
mod sessions;
mod wholes;

#[cfg(test)]
mod tests;

pub(super) use seen::words_have_unit;
pub(super) use wholes::with_wholes;

use super::around::{is_named as is_named_around, jogs_far};
use super::doubles::apart_by_sport;
use super::hardness::{is_gentle, is_short_part, names_hardness};
use super::kinds::{has_word, take_kind_or_short};
use super::ladders;
use super::line::{Part, Parts, cut, written};
use super::miles;
use super::read::{Doubt, in_full, read_day, slots_of};
use super::rest::Led;
use super::rounds;
use super::runner::Runner;
use super::sets::{starts_with_reps, take_sets};
use super::text::{Text, tidy};
use crate::problem::{Expected, ProblemKind};
use crate::session::{Kind, Session, SetUnit, Sets};
use crate::units::{Amount, DistanceUnit, Pace, Unit, middle_km};
use crate::week::Slot;

/// The most lines that are offered for one.
pub const MOST_OFFERS: usize = 2;

/// A line that is read, offered in place of one that is not.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Offer {
    /// The line: [`read_day`] reads it, and nothing is wrong with its sessions.
    pub line: String,
    /// What it says.
    pub day: Vec<Slot>,
    /// What of it nobody typed.
    pub guess: Guess,
    /// Whether the words that were typed name something hard, of which this line counts nothing.
    pub leaves_hard_out: bool,
    /// Whether it may stand in the place of what was typed without a question.
    pub certainty: Certainty,
}

impl Offer {
    /// One that nobody takes unseen, and that leaves nothing hard out.
    const fn new(line: String, day: Vec<Slot>, guess: Guess) -> Self {
        Self { line, day, guess, leaves_hard_out: false, certainty: Certainty::Asked }
    }

    /// Whether nothing is left to ask: the line is taken for what was typed, and said.
    pub fn is_settled(&self) -> bool {
        self.certainty != Certainty::Asked
    }
}

/// Whether an offer is what was meant.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub enum Certainty {
    /// Something else may be meant, or part of it is in nobody's words: the coach says.
    #[default]
    Asked,
    /// It says what was typed; only the length of the whole run is reckoned, and nobody types that differently in earnest.
    Reckoned,
    /// It says what was typed and nothing else: the repetitions and every number stand in it again outside of notes.
    Said,
}

/// What in an offered line is an estimate of ours.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub enum Guess {
    /// Everything was typed.
    #[default]
    Nothing,
    /// The whole of a run: its parts are added up, at a pace where they are told in distance and in time, or with the usual
    /// warm-up and cool-down.
    Whole,
    /// How much is run hard between a warm-up and a cool-down: nothing was said of it.
    Between,
    /// How much is run: nothing was said of it, or not even whether somebody runs.
    Length,
}

/// A line on its way to an offer.
#[derive(Clone, Debug)]
struct Way {
    line: String,
    guess: Guess,
}

impl Way {
    const fn sure(line: String) -> Self {
        Self { line, guess: Guess::Nothing }
    }
}

/// Lines that are read, in place of a line of a day that is not; the likelier first, and none for a line that is read.
///
/// # Example
///
/// ```
/// use planning::notation::offers;
/// use planning::DistanceUnit;
///
/// let lines = |line| offers(line, DistanceUnit::Km).into_iter().map(|offer| offer.line).collect::<Vec<_>>();
/// assert_eq!(lines("6/8"), ["6-8", "6 + 8"]);
/// assert_eq!(lines("8 km HR<140"), ["easy 8 km (HR<140)"]);
/// assert!(lines("easy 8 km").is_empty());
/// ```
pub fn offers(line: &str, runner: impl Into<Runner>) -> Vec<Offer> {
    let runner = runner.into();
    let Err(wrong) = sound(line, runner) else { return Vec::new() };
    let closed = rounds::spelled(&closed(line)).into_owned();
    let closed = miles::spelled(&closed, runner.units).into_owned();
    if let Some(offer) = of_rest(&closed, runner) {
        return vec![offer];
    }
    if let Some(offers) = of_short_form(&closed, runner) {
        return offers;
    }
    let in_either_unit = of_either_unit(&closed, runner);
    if !in_either_unit.is_empty() {
        return in_either_unit;
    }
    let mut found: Vec<Offer> = Vec::new();
    // "6M easy": miles, where the athlete counts in kilometres too.
    let in_miles = Some(in_full(&closed, DistanceUnit::Mi).into_owned()).filter(|line| *line != closed);
    if let Some(line) = in_miles
        && let Ok(day) = sound(&line, runner)
    {
        return vec![Offer::new(line, day, Guess::Nothing)];
    }
    let mut is_ruled_out = false;
    for way in ways(&closed, runner) {
        let Ok(day) = sound(&way.line, runner) else { continue };
        if is_far(&closed, &day) {
            is_ruled_out = true;
            continue;
        }
        if found.iter().all(|other| other.day != day)
            && keeps_reps(&closed, &day)
            && is_plausible(&day)
            && keeps_runs(&closed, &day, way.guess)
        {
            found.push(Offer::new(way.line, day, way.guess));
        }
    }
    let is_hard = |offer: &Offer| offer.day.iter().flat_map(Slot::options).any(Session::is_hard);
    let names_hard = names_hard(&closed) || found.iter().any(is_hard);
    for offer in &mut found {
        offer.leaves_hard_out = names_hard && !is_hard(offer);
    }
    // Where hard running is named, a line that counts it comes first; but hills of a run that is called easy are its way.
    let is_way = says_easy(&closed) && !self::names_hard(&without_hills(&closed));
    found.sort_by_key(|offer| offer.leaves_hard_out != is_way);
    found.truncate(MOST_OFFERS);
    if let [only] = found.as_mut_slice()
        && !is_ruled_out
        && wrong.iter().all(is_about_words)
    {
        only.certainty = certainty(&closed, only);
    }
    found
}

/// The line that stands in the place of one that is not read, where nothing is left to ask.
///
/// # Example
///
/// ```
/// use planning::notation::settled;
/// use planning::DistanceUnit;
///
/// let line = |line| settled(line, DistanceUnit::Km).map(|offer| offer.line);
/// assert_eq!(line("8 km HR<140").as_deref(), Some("easy 8 km (HR<140)"));
/// assert_eq!(line("6 x 800 m").as_deref(), Some("6 x 800 m, 9 km"));
/// assert_eq!(line("6/8"), None);
/// ```
pub fn settled(line: &str, runner: impl Into<Runner>) -> Option<Offer> {
    offers(line, runner).into_iter().next().filter(Offer::is_settled)
}

/// Whether what is wrong with a line is that words are not known, or that nobody said how long the run is: amounts that
/// contradict each other are somebody's slip, and "+ 10 allunghi" may be ten of something.
const fn is_about_words(problem: &ProblemKind) -> bool {
    match problem {
        ProblemKind::WholeUnsaid { .. } | ProblemKind::AmountMissing { .. } => true,
        ProblemKind::Unreadable { expected, .. } => !matches!(expected, Expected::Unit | Expected::Amount),
        _ => false,
    }
}

/// The readings of "str" in a line, where all of them are read.
fn of_short_form(line: &str, runner: Runner) -> Option<Vec<Offer>> {
    let lines = asked::strides_or_strength(line);
    let offer = |line: String| Some(Offer::new(line.clone(), sound(&line, runner).ok()?, Guess::Nothing));
    let mut found: Vec<Offer> = lines.into_iter().map(offer).collect::<Option<_>>()?;
    if let [only] = found.as_mut_slice() {
        only.certainty = certainty(line, only);
    }
    Some(found).filter(|found| !found.is_empty())
}

/// The readings of repetitions that are told without a unit, each with its whole where nobody said it.
fn of_either_unit(line: &str, runner: Runner) -> Vec<Offer> {
    let with_unit = |line: String| match sound(&line, runner) {
        Ok(day) if is_plausible(&day) => Some(Offer::new(line, day, Guess::Nothing)),
        Ok(_) => None,
        Err(_) => offers(&line, runner).into_iter().next(),
    };
    let lines = [ladders::in_either_unit(line, runner.units), rounds::in_either_unit(line, runner.units)].concat();
    let asked = |offer: Offer| Offer { certainty: Certainty::Asked, ..offer };
    lines.into_iter().filter_map(with_unit).map(asked).collect()
}

/// How sure the only offer for a line is.
fn certainty(typed: &str, offer: &Offer) -> Certainty {
    let asks = offer.leaves_hard_out
        || notes_work(&offer.day)
        || !words_stand(typed, offer)
        || may_be_no_run(typed, &offer.day);
    match offer.guess {
        Guess::Nothing if !asks && numbers_stand(typed, &offer.line) == Stand::Same => Certainty::Said,
        Guess::Whole if !asks && numbers_stand(typed, &offer.line) >= Stand::Among => Certainty::Reckoned,
        _ => Certainty::Asked,
    }
}

/// Whether something hard, or an amount without a word, is left in a note beside what counts: "6 x 800 m, 9 km (then hill
/// sprints)".
fn notes_work(day: &[Slot]) -> bool {
    let is_run = |session: &&Session| session.kind.is_running();
    let is_bare =
        |piece: &str| piece.starts_with(|one: char| one.is_ascii_digit()) && !piece.contains(char::is_alphabetic);
    let notes = day.iter().flat_map(Slot::options).filter(is_run).map(|session| session.note.as_str());
    notes.into_iter().any(|note| names_hardness(note) || note.split(", ").any(is_bare))
}

/// A line that begins with a word for rest: rest, with everything behind it as a note. Nobody runs on such a day.
fn of_rest(line: &str, runner: Runner) -> Option<Offer> {
    let led = Led::of(line).or_else(|| Led::by_cross(line))?;
    let words = [led.rest, led.behind][usize::from(!led.behind.is_empty())];
    let line = format!("rest ({})", super::line::quote(words));
    let day = sound(&line, runner).ok()?;
    Some(Offer { certainty: Certainty::Said, ..Offer::new(line, day, Guess::Nothing) })
}

/// Whether the repetitions of a line, "12x400", are still some in a day; or as many runs, "2 x 40 min easy".
fn keeps_reps(line: &str, day: &[Slot]) -> bool {
    let sessions: Vec<&Session> = day.iter().flat_map(Slot::options).collect();
    let is_place = |at: usize| !line[..at].ends_with(|before: char| before.is_ascii_digit());
    let reps = line.char_indices().filter(|(at, _)| is_place(*at)).filter_map(|(at, _)| {
        let mut text = Text::new(&line[at..]);
        let is_counted = line[at..].trim_start_matches(|one: char| one.is_ascii_digit()).trim_start();
        let mut behind = is_counted.chars().skip(1).skip_while(|one| matches!(one, ' ' | '('));
        let is_length = behind.next().is_some_and(|one| one.is_ascii_digit());
        (starts_with_reps(text) && is_length).then(|| text.take_digits().parse::<usize>().ok()).flatten()
    });
    let kept = |reps: usize| {
        reps == day.len()
            || sessions.iter().flat_map(|session| &session.sets).any(|sets| usize::from(sets.reps) % reps.max(1) == 0)
    };
    // A day of rest keeps them among its words.
    sessions.iter().all(|session| session.rest_words().is_some()) || reps.into_iter().all(kept)
}

/// Whether a day has no more runs than its line tells, or none of them is made up: one session that is not understood
/// does not become two, of which both are hard or one has an amount that nobody typed.
fn keeps_runs(line: &str, day: &[Slot], guess: Guess) -> bool {
    let half = |half: &str| {
        let lower = line.to_lowercase();
        lower.split(|one: char| !one.is_alphabetic()).any(|word| word == half)
    };
    let told = line.matches(['+', '&']).count() + usize::from(half("am") && half("pm")) + 1;
    let runs: Vec<&Session> = day.iter().map(Slot::chosen).filter(|session| session.kind.is_running()).collect();
    let hard = runs.iter().filter(|run| run.is_hard()).count();
    runs.len() <= told || (hard < 2 && guess == Guess::Nothing)
}

/// Whether a day may be one that somebody runs: nobody jogs ten kilometres to get warm, or runs far more hard than a
/// marathon. What is typed so is read; it is not what is offered for something else.
///
/// # Source
///
/// Common practice, no published source.
fn is_plausible(day: &[Slot]) -> bool {
    const MOST_HARD_KM: f64 = 45.0;
    // A session by its kind, with nothing said of what of it is hard.
    const MOST_SESSION_KM: f64 = 35.0;
    const MOST_KM: f64 = 120.0;
    let is_usual = |session: &Session| {
        let hard = session.hard_running().map_or(0.0, |hard| middle_km(hard, Pace::ASSUMED_HARD));
        let is_session = matches!(session.kind, Kind::Tempo | Kind::Intervals | Kind::Hills | Kind::Fartlek);
        let is_long_session =
            is_session && session.hard_is_assumed() && session.running_km(Pace::ASSUMED) > MOST_SESSION_KM;
        !is_long_session
            && hard <= MOST_HARD_KM
            && session.running_km(Pace::ASSUMED) <= MOST_KM
            && !jogs_far(&session.note)
    };
    day.iter().flat_map(Slot::options).all(is_usual)
}

/// Whether somebody runs easily further in one run or in all of a day than anybody does who says no unit: "60 ez" are
/// minutes, and so are "am 40 pm 30".
///
/// # Source
///
/// Common practice, no published source.
fn is_far(line: &str, day: &[Slot]) -> bool {
    const MOST_EASY_KM: f64 = 50.0;
    let is_gentle = |session: &&Session| matches!(session.kind, Kind::Easy | Kind::Recovery | Kind::Steady);
    let in_km = |amount: Amount| if amount.unit() == Unit::Min { 0.0 } else { middle_km(amount, Pace::ASSUMED) };
    let of_session = |session: &Session| session.amount.map_or(0.0, in_km);
    let is_far = |session: &Session| of_session(session) > MOST_EASY_KM;
    let of_day: f64 = day.iter().map(Slot::chosen).filter(is_gentle).map(of_session).sum();
    let any = day.iter().flat_map(Slot::options).filter(is_gentle).any(is_far) || of_day > MOST_EASY_KM;
    any && !seen::words_have_distance(line)
}

/// Whether minutes with a word that nobody knows here are taken for a run: "Yoga 45 min" may be anything.
fn may_be_no_run(typed: &str, day: &[Slot]) -> bool {
    const BESIDE: [&str; 8] = ["min", "mins", "minutes", "bpm", "zone", "zones", "with", "and"];
    let is_timed = |session: &Session| {
        session.kind.is_running() && session.amount.is_some_and(|amount| amount.unit() == Unit::Min)
    };
    let is_known = |word: &str| BESIDE.iter().any(|known| word.eq_ignore_ascii_case(known));
    let is_kind = |word: &str| take_kind_or_short(&mut Text::new(word)).is_some();
    // Each session of the day names its own: "easy 40 min + Zumba 30 min".
    let is_unnamed = |session: &str| {
        let mut words = session.split(|one: char| !one.is_alphabetic()).filter(|word| word.chars().count() > 2);
        !words.clone().any(is_kind) && !is_named_around(session) && words.any(|word| !is_known(word))
    };
    let outside = typed.split('(').next().unwrap_or_default();
    day.iter().flat_map(Slot::options).any(is_timed) && outside.split(['+', '&']).any(is_unnamed)
}

/// Whether every word of a line stands in the one that is offered for it, or is the kind of one of its sessions.
fn words_stand(typed: &str, offer: &Offer) -> bool {
    /// What shorter words say, their numbers and units say too.
    const LEAST_LETTERS: usize = 3;
    const JOINING: [&str; 14] = [
        "and",
        "then",
        "with",
        "plus",
        "incl",
        "including",
        "for",
        "the",
        "followed",
        "min",
        "mins",
        "minutes",
        "miles",
        "after",
    ];
    let offered = offer.line.to_lowercase();
    let kinds: Vec<Kind> = offer.day.iter().flat_map(Slot::options).map(|session| session.kind).collect();
    let stands = |word: &str| {
        offered.contains(word.trim_end_matches('s'))
            || JOINING.contains(&word)
            || take_kind_or_short(&mut Text::new(word)).is_some_and(|(kind, _)| kinds.contains(&kind))
    };
    let typed = typed.to_lowercase();
    typed.split(|one: char| !one.is_alphabetic()).filter(|word| word.chars().count() >= LEAST_LETTERS).all(stands)
}

/// How the numbers of a line stand in another one.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Stand {
    /// One is missing there, or is left in a note.
    Lost,
    /// All of them, those outside of notes outside of notes, beside others.
    Among,
    /// The same, and no other number.
    Same,
}

fn numbers_stand(typed: &str, offered: &str) -> Stand {
    let (outside, inside) = numbers(typed);
    let (mut other_outside, mut others) = numbers(offered);
    let takes = |from: &mut Vec<String>, number: &String| {
        from.iter().position(|other| other == number).map(|at| from.swap_remove(at)).is_some()
    };
    if !outside.iter().all(|number| takes(&mut other_outside, number)) {
        return Stand::Lost;
    }
    others.append(&mut other_outside);
    if !inside.iter().all(|number| takes(&mut others, number)) {
        return Stand::Lost;
    }
    if others.is_empty() { Stand::Same } else { Stand::Among }
}

/// The numbers of a line outside of brackets and quotes, and those inside.
fn numbers(line: &str) -> (Vec<String>, Vec<String>) {
    let (mut outside, mut inside) = (Vec::new(), Vec::new());
    let (mut depth, mut number, mut is_bound) = (0_i32, String::new(), false);
    for (at, next) in line.char_indices().chain([(line.len(), ' ')]) {
        if next.is_ascii_digit() || (next == '.' && !number.is_empty()) {
            number.push(next);
            continue;
        }
        if !number.is_empty() {
            let ended = std::mem::take(&mut number).trim_end_matches('.').to_owned();
            if depth == 0 && !is_bound { outside.push(ended) } else { inside.push(ended) }
        }
        // "HR<140", "HR 140-150" are no amounts of running.
        let names_beat = || line[..at].split(' ').next_back().is_some_and(|word| word.eq_ignore_ascii_case("hr"));
        is_bound = matches!(next, '<' | '>') || (is_bound && next == '-') || names_beat();
        depth += i32::from(next == '(') - i32::from(next == ')');
    }
    (outside, inside)
}

/// What a line says, or everything that is wrong with it and with its sessions.
fn sound(line: &str, runner: Runner) -> Result<Vec<Slot>, Vec<ProblemKind>> {
    let day = read_day(line, runner)?;
    let wrong: Vec<ProblemKind> = day.iter().flat_map(Slot::options).flat_map(Session::problems).collect();
    if wrong.is_empty() { Ok(day) } else { Err(wrong) }
}

/// Whether words name something hard, or repetitions that are neither strides nor easy.
fn names_hard(line: &str) -> bool {
    let is_place = |at: usize| at == 0 || !line[..at].ends_with(|before: char| before.is_ascii_digit());
    let reps = || line.char_indices().any(|(at, _)| is_place(at) && take_sets(&mut Text::new(&line[at..])).is_ok());
    let is_strides = || line.to_ascii_lowercase().contains("stride");
    let names_part = || line.split([',', '(', ')']).any(|part| is_short_part(part.trim()));
    names_hardness(line) || names_part() || seen::may_be_hard(line) || (!is_strides() && !is_gentle(line) && reps())
}

/// Whether the line calls its run easy outside of brackets.
fn says_easy(line: &str) -> bool {
    has_word(line.split('(').next().unwrap_or_default(), &["easy", "ez"])
}

fn without_hills(line: &str) -> String {
    let is_hill = |word: &&str| has_word(word, &["hill", "hills", "hilly"]);
    line.split(' ').filter(|word| !is_hill(word)).collect::<Vec<_>>().join(" ")
}

/// The line with its brackets and quotes closed, or let go where they were never opened.
///
/// Dots stand for a breath: "8 x … 800".
fn closed(line: &str) -> String {
    let is_dotted = line.contains("...") || line.contains('\u{2026}');
    let line = if is_dotted { tidy(&line.replace("...", " ").replace('\u{2026}', " ")) } else { line.to_owned() };
    if cut(&line).is_ok() {
        return line;
    }
    [format!("{line})"), format!("{line}\""), format!("{line}\")"), line.replacen(')', "", 1)]
        .into_iter()
        .find(|closed| cut(closed).is_ok())
        .unwrap_or_else(|| line.replace(['(', ')', '"', '\u{201c}', '\u{201d}', '\u{201e}', '\\'], " "))
}

fn ways(line: &str, runner: Runner) -> Vec<Way> {
    let Ok((slots, _)) = slots_of(line, runner, Doubt::Asked) else { return Vec::new() };
    let mut all = vec![Way::sure(line.to_owned())];
    let two = apart_by_sport(line).filter(|(two, _)| sound(two, runner).is_ok());
    if let Some((two, is_sure)) = two {
        if is_sure {
            return vec![Way::sure(two)];
        }
        all.push(Way::sure(two));
    }
    if let [slot] = slots.as_slice() {
        all.extend(asked::of_day(line, runner).into_iter().map(Way::sure));
        all.extend(of_slot(slot, runner));
        return all;
    }
    let in_one_unit = asked::in_one_unit(&slots, runner);
    if !in_one_unit.is_empty() {
        return in_one_unit.into_iter().map(Way::sure).collect();
    }
    let each: Vec<Vec<Way>> = slots.iter().map(|slot| of_slot(slot, runner)).collect();
    let pieces: Vec<String> = slots.iter().map(|slot| written(std::slice::from_ref(slot))).collect();
    if let ([Some(run), _], [_, reps]) =
        (each.iter().map(|ways| ways.first()).collect::<Vec<_>>().as_slice(), pieces.as_slice())
    {
        let one_run = asked::run_with_reps(&run.line, reps, runner);
        let are_strides = |sets: Sets| sets.unit == SetUnit::S && sets.are_strides_in(Kind::Easy);
        if let Some(line) = &one_run
            && take_sets(&mut Text::new(reps)).is_ok_and(are_strides)
        {
            return vec![Way::sure(line.clone())];
        }
        all.extend(one_run.into_iter().map(Way::sure));
        all.extend(both_hard(&slots, runner));
    }
    // Without its total, the day may be read as it is.
    all.push(Way::sure(written(&slots)));
    all.extend((0..MOST_OFFERS).filter_map(|nth| together(&each, &pieces, nth)));
    all
}

/// "2 x 15 min T + 6 x 200": the repetitions of one session, where neither of two tells its whole.
fn both_hard(slots: &[Vec<Parts>], runner: Runner) -> Vec<Way> {
    let lacks_whole = |parts: &Parts| {
        let line = written(&[vec![parts.clone()]]);
        let wrong = sound(&line, runner).err().unwrap_or_default();
        starts_with_reps(Text::new(&line)) && matches!(wrong.as_slice(), [ProblemKind::AmountMissing { .. }])
    };
    match slots {
        [one, other] => match (one.as_slice(), other.as_slice()) {
            ([one], [other]) if lacks_whole(one) && lacks_whole(other) => {
                of_session(&[one.as_slice(), other.as_slice()].concat(), runner)
            }
            _ => Vec::new(),
        },
        _ => Vec::new(),
    }
}

/// The slots of a day, each in its nth way or the last that it has. What has none becomes a note of its neighbour.
fn together(each: &[Vec<Way>], pieces: &[String], nth: usize) -> Option<Way> {
    let mut lines: Vec<String> = Vec::new();
    let mut unread: Vec<&str> = Vec::new();
    let mut guess = Guess::Nothing;
    for (ways, piece) in each.iter().zip(pieces) {
        // Beside another session, words without an amount are no run of their own.
        let is_word = |way: &&Way| way.guess == Guess::Length && each.len() > 1 && !names_hard(piece);
        match ways.get(nth).or_else(|| ways.last()).filter(|way| !is_word(way)) {
            Some(way) => {
                lines.push(way.line.clone());
                guess = guess.max(way.guess);
            }
            None => unread.push(piece),
        }
    }
    if !unread.is_empty() {
        let note = super::line::quote(&format!("+ {}", unread.join(" + ")));
        let last = lines.last_mut()?;
        *last = format!("{last} ({note})");
    }
    Some(Way { line: lines.join(" + "), guess })
}

/// The ways in which one slot can be read, those of its options together.
fn of_slot(options: &[Parts], runner: Runner) -> Vec<Way> {
    let each: Vec<Vec<Way>> = options.iter().map(|parts| of_session(parts, runner)).collect();
    match each.as_slice() {
        [only] => only.clone(),
        several => {
            let rest = asked::rest_or_run(options);
            let nth = |nth: usize| {
                let one: Option<Vec<&Way>> = several.iter().map(|ways| ways.get(nth).or_else(|| ways.last())).collect();
                let one = one?;
                let line = one.iter().map(|way| way.line.as_str()).collect::<Vec<_>>().join(" or ");
                Some(Way { line, guess: one.iter().map(|way| way.guess).max().unwrap_or_default() })
            };
            let reads = |way: &Way| sound(&way.line, runner).is_ok();
            rest.into_iter().map(Way::sure).chain((0..MOST_OFFERS).filter_map(nth)).filter(reads).collect()
        }
    }
}

/// The ways in which one session can be read; the first is as it was typed where that is read.
fn of_session(parts: &[Part], runner: Runner) -> Vec<Way> {
    let line = written(&[vec![parts.to_vec()]]);
    let Err(problems) = sound(&line, runner) else { return vec![Way::sure(line)] };
    let mut ways: Vec<Way> =
        asked::of_session(&line, &problems, runner).into_iter().filter_map(|way| answered(way, runner)).collect();
    // Where a question has its answers, nothing else is meant.
    if ways.is_empty() {
        ways.extend(mended::of(&line, runner));
        ways.retain(|way| sound(&way.line, runner).is_ok());
    }
    if ways.is_empty() {
        ways.extend(sessions::of(&seen::Seen::of(parts), runner));
        ways.retain(|way| sound(&way.line, runner).is_ok());
    }
    ways
}

/// An answer to a question, where it is read, or where what it leads to next has one: "2 wu, 20 min tempo, 2 cd" lacks its
/// whole.
fn answered(way: Way, runner: Runner) -> Option<Way> {
    let Err(problems) = sound(&way.line, runner) else { return Some(way) };
    let next = asked::of_session(&way.line, &problems, runner).into_iter().chain(mended::of(&way.line, runner));
    next.into_iter().find(|next| sound(&next.line, runner).is_ok())
}
