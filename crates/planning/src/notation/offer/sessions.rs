//! Sessions out of what was seen in words that are not read, the likelier first.

use super::super::around::{is_named as is_named_around, up_to_half};
use super::super::hardness::names_hardness;
use super::super::kinds::{WEEKEND, has_word, infer};
use super::super::runner::Runner;
use super::mended::{estimated, way, with_usual_around};
use super::seen::{Seen, SeenAmount, may_be_hard};
use super::{Guess, Way};
use crate::session::{Kind, Session, SetUnit, Sets};
use crate::units::{Amount, Milli, Pace, Unit, middle_km};

/// Lines for what was seen. Words in which there is nothing to be seen are why somebody rests, unless they name a session.
pub(super) fn of(seen: &Seen, runner: Runner) -> Vec<Way> {
    if let Some(kind) = other_kind(seen) {
        return vec![other_sport(kind, seen)];
    }
    let is_named = seen.kinds.iter().any(|kind| kind.is_running()) || names_hard(seen);
    if !seen.sets.is_empty() {
        return vec![with_sets(seen, runner)];
    }
    // Nothing but a warm-up and a cool-down has an amount: what is run between them, nobody said.
    let is_around = |one: &SeenAmount| is_named_around(&one.words);
    if !seen.amounts.is_empty() && seen.amounts.iter().all(is_around) {
        return if is_named { hard_unsaid(seen, runner).into_iter().collect() } else { Vec::new() };
    }
    let amounts = amounts(seen, runner);
    match amounts.as_slice() {
        [] if is_named => vec![of_no_length(seen, runner)],
        [] if seen.all.contains(|one: char| one.is_ascii_digit()) => Vec::new(),
        [] => rest_or_run(seen, runner),
        [only] if is_named_around(&seen.all) && only.is_hard => vec![between(seen, only.amount)],
        [only] if is_named_around(&seen.all) && is_weekend_race(seen, only.amount) => {
            raced_or_jogged(seen, only.amount)
        }
        [only] => of_one(seen, *only),
        several => of_several(seen, several),
    }
}

/// An amount with whether it is run hard, and whether it is run behind the one before.
#[derive(Clone, Copy)]
struct Told {
    amount: Amount,
    is_hard: bool,
    follows: bool,
}

/// The amounts that can be compared: those with a unit, or the first of those without.
fn amounts(seen: &Seen, runner: Runner) -> Vec<Told> {
    let told = |one: &SeenAmount| {
        let unit = runner.units.unit();
        let amount = one.raw.in_order(unit)?;
        (amount.high() > Milli::ZERO).then(|| Told { amount, is_hard: one.is_hard(), follows: one.follows })
    };
    let with_unit: Vec<Told> =
        seen.amounts.iter().filter(|one| one.raw.has_unit() && !one.raw.is_climb()).filter_map(told).collect();
    let without: Vec<Told> = seen.amounts.iter().filter(|one| !one.raw.has_unit()).filter_map(told).collect();
    match with_unit.as_slice() {
        [] => without,
        // "24 km: 8 easy 8 steady 8 MP": its parts are in the unit of the whole.
        [whole] if parts_of(*whole, &without).is_some() => [with_unit, without].concat(),
        _ => with_unit,
    }
}

/// Amounts that come to a whole exactly.
fn parts_of(whole: Told, parts: &[Told]) -> Option<Amount> {
    let amounts: Vec<Amount> = parts.iter().map(|told| told.amount).collect();
    sum(&amounts).filter(|sum| amounts.len() > 1 && *sum == whole.amount)
}

fn names_hard(seen: &Seen) -> bool {
    names_hardness(&seen.all)
        || may_be_hard(&seen.all)
        || seen.amounts.iter().any(SeenAmount::is_hard)
        || seen.kinds.iter().any(|kind| kind.assumed_hard().is_some())
}

/// What kind of hard running it is.
fn hard_kind(seen: &Seen) -> Kind {
    let named = seen.kinds.iter().copied().find(|kind| kind.assumed_hard().is_some());
    let words = |words: &[&str]| has_word(&seen.all, words);
    named.unwrap_or_else(|| match () {
        () if words(&["hill", "hills", "uphill", "downhill", "stairs", "steps", "vk"]) => Kind::Hills,
        () if words(&["surge", "surges", "pickup", "pickups", "alternating", "off"]) => Kind::Fartlek,
        () if words(&["building", "negative", "progressing", "finish", "finishing"]) => Kind::Progression,
        () if words(&["m", "hm", "mp", "hmp", "marathon", "half"]) => Kind::RacePace,
        () if words(&["race", "xc", "timed", "out", "meet", "champs", "championships"]) => Kind::TimeTrial,
        () if words(&[
            "session", "workout", "pyramid", "ladder", "efforts", "reps", "sprint", "sprints", "speed", "parlauf",
        ]) =>
        {
            Kind::Intervals
        }
        () => Kind::Tempo,
    })
}

/// What kind of run it is where nothing hard is counted.
fn easy_kind(seen: &Seen) -> Kind {
    let any = |wanted: Kind| seen.kinds.contains(&wanted).then_some(wanted);
    any(Kind::Long).or(any(Kind::Recovery)).or(any(Kind::Steady)).unwrap_or(Kind::Easy)
}

fn session(kind: Kind, amount: Amount, seen: &Seen) -> Session {
    Session { loaded: seen.loaded, ..Session::new(kind, amount) }
}

/// A line of one session, with what it does not say itself as its note.
fn noted(session: Session, seen: &Seen, guess: Guess) -> Way {
    let note = cut(seen.note(&session));
    way(Session { note, ..session }, guess)
}

/// A note that is not longer than one may be.
fn cut(note: String) -> String {
    if note.chars().count() > Session::NOTE_MOST { note.chars().take(Session::NOTE_MOST).collect() } else { note }
}

/// The sport that a line is about: it is named first, beside the first amount that stands there. An amount that stands
/// apart from it may be a run, "60 min Z2 // 30 min strength", and goes into no note of another sport.
fn other_kind(seen: &Seen) -> Option<Kind> {
    let mut kinds = seen.kinds.iter().copied();
    let kind = match seen.amounts.first() {
        Some(first) if seen.amounts.len() == 1 => {
            kinds.find(|kind| !kind.is_running()).filter(|_| first.names_sport())?
        }
        Some(first) => kinds.next().filter(|kind| !kind.is_running() && first.names_sport())?,
        None => kinds.next().filter(|kind| !kind.is_running())?,
    };
    // "easy 8 km gym": nobody lifts eight kilometres.
    let is_distance = seen.amounts.iter().any(|one| one.raw.is_distance());
    (seen.sets.is_empty() && (kind == Kind::CrossTraining || !is_distance)).then_some(kind)
}

fn other_sport(kind: Kind, seen: &Seen) -> Way {
    let of_kind = |amount: &Amount| kind == Kind::CrossTraining || amount.unit() == Unit::Min;
    let amount = match seen.amounts.as_slice() {
        [only] => only.raw.in_order(Unit::Min).filter(of_kind),
        _ => None,
    };
    let note = String::new();
    noted(Session { kind, amount, hard: None, sets: Vec::new(), loaded: seen.loaded, note }, seen, Guess::Nothing)
}

/// Repetitions with the greatest amount that may be the whole, or with one that is estimated.
fn with_sets(seen: &Seen, runner: Runner) -> Way {
    let long = seen.kinds.contains(&Kind::Long).then_some(Kind::Long);
    let named = long.or_else(|| seen.kinds.iter().copied().find(|kind| kind.assumed_hard().is_some()));
    let kind = named.or_else(|| infer(&seen.sets, true, false)).unwrap_or(Kind::Intervals);
    let shortest = |amount: Amount| {
        let run: Option<Milli> = seen.sets.iter().map(|sets| sets.total_in(amount.unit())).sum();
        run.map_or(amount.unit() != Unit::Min || amount.high() >= Milli::whole(20), |run| amount.high() > run)
    };
    let all = amounts(seen, runner);
    let whole =
        all.iter().map(|told| told.amount).filter(|amount| shortest(*amount)).max_by_key(|amount| amount.high());
    let (sets, note) = (seen.sets.clone(), String::new());
    let bare = Session { kind, amount: whole, hard: None, sets, loaded: seen.loaded, note };
    let amount = whole.unwrap_or_else(|| no_less_than_its_parts(estimated(&bare, runner), &bare.sets, &all, runner));
    let guess = if whole.is_some() { Guess::Nothing } else { Guess::Whole };
    noted(Session { amount: Some(amount), ..bare }, seen, guess)
}

/// An estimated whole, but no less than the repetitions and what else is told beside them come to, in halves: "wander 2.5 km,
/// 6 x 1000 m, trot 2.5 km" is more than the usual 10.
fn no_less_than_its_parts(whole: Amount, sets: &[Sets], told: &[Told], runner: Runner) -> Amount {
    let unit = whole.unit();
    let pace = runner.easy_pace.unwrap_or(Pace::ASSUMED).hard();
    let run = sets.iter().map(|sets| sets.reckoned_at(unit, pace));
    let beside = told.iter().map(|told| told.amount).filter(|amount| amount.unit() == unit).map(Amount::high);
    let least: Milli = run.chain(beside).sum();
    if least <= whole.high() { whole } else { Amount::exact(up_to_half(least).min(Amount::most(unit)), unit) }
}

/// Words in which nothing is to be seen: why nobody runs, or a run by a name of the coach's own.
fn rest_or_run(seen: &Seen, runner: Runner) -> Vec<Way> {
    let quoted = super::super::line::quote(&seen.all);
    let rest = Way { line: format!("rest ({quoted})"), guess: Guess::Length };
    let is_why = has_word(
        &seen.all,
        &["travel", "travelling", "holiday", "holidays", "free", "pause", "tbc", "work", "family", "ill"],
    ) || !seen.all.contains(char::is_alphabetic);
    let run = of_no_length(seen, runner);
    if is_why { vec![rest, run] } else { vec![run, rest] }
}

/// "Tuesday hard, 2k wu 2k cd": how much is run hard between the two, nobody said; as much as is usual.
///
/// # Source
///
/// Common practice, no published source. Offered to the coach as a guess.
fn hard_unsaid(seen: &Seen, runner: Runner) -> Option<Way> {
    // "15 wu 10 cd": nobody jogs ten kilometres to get warm.
    let longest = Milli::whole(10);
    let is_long = |one: &SeenAmount| !one.raw.has_unit() && one.raw.is_at_least(longest);
    let unit = if seen.amounts.iter().any(is_long) { Unit::Min } else { runner.units.unit() };
    let around: Vec<Amount> = seen.amounts.iter().map(|one| one.raw.in_order(unit)).collect::<Option<_>>()?;
    let around = sum(&around)?;
    let hard = match around.unit() {
        Unit::Km => Milli::whole(4),
        Unit::Mi => Milli::whole(3),
        Unit::Min => Milli::whole(20),
    };
    let hard = Amount::exact(hard, around.unit());
    let run = session(hard_kind(seen), sum(&[around, hard])?, seen);
    Some(noted(Session { hard: Some(hard), ..run }, seen, Guess::Between))
}

/// "warm up, 25 min tempo, cool down": what is told is the hard part, the whole is estimated.
fn between(seen: &Seen, hard: Amount) -> Way {
    let run = session(hard_kind(seen), with_usual_around(hard), seen);
    noted(Session { hard: Some(hard), ..run }, seen, Guess::Whole)
}

/// "parkland 5k + wu/cd": a timed run that many race and some jog, with what is run before and after it.
fn raced_or_jogged(seen: &Seen, run: Amount) -> Vec<Way> {
    let whole = with_usual_around(run);
    let raced = Session { hard: Some(run), ..session(Kind::TimeTrial, whole, seen) };
    let jogged = session(Kind::Easy, whole, seen);
    vec![noted(raced, seen, Guess::Whole), noted(jogged, seen, Guess::Whole)]
}

/// A kind of running, and no word of how much.
fn of_no_length(seen: &Seen, runner: Runner) -> Way {
    let kind = if names_hard(seen) { hard_kind(seen) } else { easy_kind(seen) };
    let note = String::new();
    let bare = Session { kind, amount: None, hard: None, sets: Vec::new(), loaded: seen.loaded, note };
    let amount = estimated(&bare, runner);
    noted(Session { amount: Some(amount), ..bare }, seen, Guess::Length)
}

/// One amount: hard where its words name something hard, and beside it easy with these words as a note.
fn of_one(seen: &Seen, told: Told) -> Vec<Way> {
    let easy = noted(session(easy_kind(seen), told.amount, seen), seen, Guess::Nothing);
    if !names_hard(seen) && !is_weekend_race(seen, told.amount) {
        return vec![easy];
    }
    let kind = if is_weekend_race(seen, told.amount) { Kind::TimeTrial } else { hard_kind(seen) };
    let is_long = seen.kinds.contains(&Kind::Long);
    // A long run stays one: how much of it is hard is what its kind usually holds.
    let hard = kind.assumed_hard().filter(|_| is_long).map(|share| {
        let amount = told.amount.scaled(share);
        Amount::between(halves(amount.low()), halves(amount.high()), amount.unit())
    });
    let kind = if is_long { Kind::Long } else { kind };
    let hard_run = noted(Session { hard, ..session(kind, told.amount, seen) }, seen, Guess::Nothing);
    // Nobody races easily.
    if kind == Kind::TimeTrial && !is_weekend_race(seen, told.amount) { vec![hard_run] } else { vec![hard_run, easy] }
}

/// "Saturday 5k", "community 5k": timed runs of a weekend, which many race and some jog.
fn is_weekend_race(seen: &Seen, amount: Amount) -> bool {
    // Who counts in miles calls it 3.1.
    let is_five = [Amount::exact(Milli::whole(5), Unit::Km), Amount::exact(Milli(3100), Unit::Mi)].contains(&amount);
    is_five && has_word(&seen.all, &WEEKEND)
}

/// "Parkland 5k hard-ish, 2 up 1 down - 6 mi": the race is the hard part of a whole that is told, or all of it is easy.
fn raced_within(seen: &Seen, all: &[Told]) -> Option<Vec<Way>> {
    let [race, whole] = all else { return None };
    let is_within = is_weekend_race(seen, race.amount)
        && !whole.is_hard
        && !whole.follows
        && middle_km(whole.amount, Pace::ASSUMED) > middle_km(race.amount, Pace::ASSUMED);
    let of = |kind: Kind| session(kind, whole.amount, seen);
    let kind = || if names_hard(seen) { hard_kind(seen) } else { Kind::TimeTrial };
    let hard = || with_hard(of(kind()), Some(race.amount));
    is_within.then(|| vec![noted(hard(), seen, Guess::Nothing), noted(of(easy_kind(seen)), seen, Guess::Nothing)])
}

/// To the half.
const fn halves(value: Milli) -> Milli {
    Milli((value.0 + 250) / 500 * 500)
}

/// Several amounts: the whole with what of it is hard, or parts that are run one after the other.
fn of_several(seen: &Seen, all: &[Told]) -> Vec<Way> {
    // "60 min alternating 3 min hard, 2 min easy": of the whole, as much as is usual.
    if let Some(first) = seen.amounts.first().filter(|one| has_word(&one.words, &["alternating", "alternate"])) {
        let whole = first.raw.in_order(all[0].amount.unit()).unwrap_or(all[0].amount);
        return vec![noted(session(Kind::Fartlek, whole, seen), seen, Guess::Nothing)];
    }
    // "20k prog: 10k easy, 6k steady, 4k HMP": the first is the whole of the others.
    if let [first, rest @ ..] = all
        && parts_of(*first, rest).is_some()
    {
        let hard: Vec<Amount> = rest.iter().filter(|told| told.is_hard).map(|told| told.amount).collect();
        let named = if names_hard(seen) { hard_kind(seen) } else { easy_kind(seen) };
        let run = with_hard(session(named, first.amount, seen), sum(&hard));
        return vec![noted(run, seen, Guess::Nothing)];
    }
    if let Some(ways) = raced_within(seen, all) {
        return ways;
    }
    let hard: Vec<Amount> = all.iter().filter(|told| told.is_hard).map(|told| told.amount).collect();
    let greatest = all.iter().filter(|told| !told.is_hard).map(|told| told.amount).max_by_key(|amount| amount.high());
    let any_hard = !hard.is_empty() || names_hard(seen);
    let kind = if !any_hard {
        easy_kind(seen)
    } else if seen.kinds.contains(&Kind::Long) {
        Kind::Long
    } else {
        hard_kind(seen)
    };
    let of = |whole: Amount| noted(with_hard(session(kind, whole, seen), sum(&hard)), seen, Guess::Nothing);
    let added = sum(&all.iter().map(|told| told.amount).collect::<Vec<_>>()).map(of);
    let whole = greatest.or_else(|| sum(&hard)).map(of);
    let rest: Vec<Amount> = all[1..].iter().map(|told| told.amount).collect();
    let holds_rest = !all[0].is_hard && sum(&rest).is_none_or(|rest| rest.high() <= all[0].amount.high());
    let in_order = all[1].follows || (all.len() > 2 && !holds_rest);
    if in_order { added.into_iter().chain(whole).collect() } else { whole.into_iter().chain(added).collect() }
}

/// The run with its hard part, as repetitions of one where it is told in another unit.
fn with_hard(session: Session, hard: Option<Amount>) -> Session {
    let (Some(hard), Some(whole)) = (hard, session.amount) else { return session };
    if hard.unit() == whole.unit() {
        return Session { hard: Some(hard), ..session };
    }
    let unit = match hard.unit() {
        Unit::Km => SetUnit::Km,
        Unit::Mi => SetUnit::Mi,
        Unit::Min => SetUnit::Min,
    };
    let once = Sets { reps: 1, length: hard.high(), unit, pace: String::new(), recovery: String::new() };
    Session { sets: vec![once], ..session }
}

/// The sum of amounts in one unit.
fn sum(amounts: &[Amount]) -> Option<Amount> {
    let (first, rest) = amounts.split_first()?;
    let add = |one: Amount, other: &Amount| {
        let sum = |one: Milli, other: Milli| Milli(one.0.saturating_add(other.0));
        (one.unit() == other.unit())
            .then(|| Amount::between(sum(one.low(), other.low()), sum(one.high(), other.high()), one.unit()))
    };
    rest.iter().try_fold(*first, add)
}
