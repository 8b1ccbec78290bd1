//! What a run that is told by its parts comes to, and how much of it is hard.
//!
//! ```text
//! 2 km wu, tempo 5 km, 2 km cd           no whole is typed: 9 km by adding up, 5 km hard
//! 2 km wu, tempo 5 km, 2 km cd, 10 km    a whole is typed: 10 km it is, if the parts fit into it; 5 km hard
//! tempo 5 km, 2 km cd                    without a warm-up the first amount is a part too: 7 km, 5 km hard
//! 2 km wu, 6 x 800 m, 2 km cd            repetitions count, and the jogs between them if they are distance too
//! tempo 9 km, 2 km wu, 2 km cd           nine with the two or without? That is asked
//! 2 km wu, 20 min tempo, 2 km cd         distance and time have no sum: the whole is asked, an estimate is offered
//! ```

use super::super::amounts::RawAmount;
use super::super::line::unreadable;
use super::super::read::Doubt;
use super::super::sets::{is_bare_rest, jog_in};
use super::{Around, LEAST_MINUTES, shortest_whole};
use crate::problem::{Expected, ProblemKind};
use crate::session::{Kind, SetUnit, Sets};
use crate::units::{Amount, Milli, Pace, Totals, Unit};

/// The warm-ups and cool-downs of one session, with the amounts that stand where they do.
#[derive(Default)]
pub(in super::super) struct Parted {
    /// Each with the place of its words among the notes.
    around: Vec<(usize, Around)>,
    /// What is run between them, with its words.
    between: Option<(RawAmount, String)>,
    /// The words of the amount that was typed before or behind all of them.
    whole: Option<Typed>,
}

/// An amount that was typed as the whole, or looks like it.
struct Typed {
    words: String,
    /// Whether it stands before every warm-up and cool-down.
    is_in_front: bool,
}

/// The whole of a session and its hard part.
type Told = (Option<Amount>, Option<Amount>);

/// The rest of such a session.
pub(in super::super) struct Rest<'a> {
    pub(in super::super) kind: Kind,
    pub(in super::super) sets: &'a [Sets],
    pub(in super::super) amount: Option<Amount>,
    pub(in super::super) hard: Option<Amount>,
    /// The unit of numbers without one.
    pub(in super::super) unit: Unit,
    /// At which minutes are counted where a whole is offered.
    pub(in super::super) pace: Pace,
    /// The pace that the line tells for what is run between warm-up and cool-down: "@ 6:55".
    pub(in super::super) told_pace: Option<Pace>,
    /// What becomes of an amount that may be the whole or a part.
    pub(in super::super) doubt: Doubt,
}

impl Rest<'_> {
    /// At which pace minutes between warm-up and cool-down count: hard ones faster than easy ones.
    fn work_pace(&self) -> Pace {
        let is_hard = self.is_even() || (!self.sets.is_empty() && self.kind.assumed_hard().is_some());
        if is_hard { self.pace.hard() } else { self.pace }
    }

    /// Whether all that is run between warm-up and cool-down is hard: a tempo run is, a fartlek is not.
    const fn is_even(&self) -> bool {
        matches!(self.kind, Kind::Tempo | Kind::RacePace | Kind::TimeTrial) && self.sets.is_empty()
    }
}

/// Why a session has no whole.
pub(in super::super) enum Unsettled {
    /// This has to be asked.
    Asked(ProblemKind),
    /// Its parts have no sum and no whole is typed: these words are asked about.
    NoWhole {
        told: String,
        /// About what they come to; nothing where one of them has no amount.
        estimate: Option<Amount>,
        /// Whether minutes count there by a pace that the line tells.
        has_pace: bool,
    },
}

impl From<ProblemKind> for Unsettled {
    fn from(problem: ProblemKind) -> Self {
        Self::Asked(problem)
    }
}

/// The amounts of a session, each known to be the whole or a part.
struct Run {
    whole: Option<Amount>,
    between: Option<Amount>,
    /// All warm-ups and cool-downs together; nothing where they cannot be added up.
    around: Option<Amount>,
}

impl Run {
    /// Whether its parts are more than a whole, as far as that can be told.
    fn exceeds(&self, whole: Amount, sets: &[Sets]) -> bool {
        let parts = match (self.around, self.between) {
            (Some(around), Some(between)) => add(around, between, 1),
            (Some(around), None) => with_sets(around, sets, Jogs::Uncounted).or(Some(around)),
            (None, _) => None,
        };
        parts.is_some_and(|parts| parts.unit() == whole.unit() && parts.high() > whole.high())
    }
}

impl Parted {
    pub(in super::super) fn push(&mut self, around: Around, note: usize) {
        self.around.push((note, around));
    }

    fn all(&self) -> impl Iterator<Item = &Around> {
        self.around.iter().map(|(_, around)| around)
    }

    /// The notes of all of them with their places: amounts that the whole counts are told with their unit.
    pub(in super::super) fn notes(&self, whole: Option<Amount>, unit: Unit) -> Vec<(usize, String)> {
        let counted = |around: &Around| {
            let amount = around.amount.and_then(|raw| raw.in_unit(unit).ok())?;
            whole.is_some_and(|whole| whole.unit() == amount.unit()).then_some(amount)
        };
        self.around.iter().map(|(at, around)| (*at, around.told(counted(around)))).collect()
    }

    pub(in super::super) fn is_empty(&self) -> bool {
        self.around.is_empty()
    }

    /// Whether what comes now is run between a warm-up and whatever follows.
    pub(in super::super) fn is_open(&self) -> bool {
        let warm = self.all().any(|around| around.warms && !around.is_inside);
        warm && !self.all().any(|around| around.cools)
    }

    /// Whether a number beside them may be minutes as theirs are, which were typed without a unit too. A whole that is
    /// less than these is none.
    pub(in super::super) fn may_be_minutes(&self, amount: RawAmount) -> bool {
        let minutes: Vec<Amount> = self.all().filter_map(|around| around.supplied).collect();
        let is_between = self.between.as_ref().is_some_and(|(between, _)| *between == amount);
        let least = if is_between { LEAST_MINUTES } else { minutes.iter().map(|amount| amount.low()).sum() };
        !minutes.is_empty() && !amount.has_unit() && amount.is_at_least(least)
    }

    /// Keeps an amount that is run between; says whether it is the first.
    pub(in super::super) fn put_between(&mut self, amount: RawAmount, words: &str) -> bool {
        let is_first = self.between.is_none();
        self.between.get_or_insert_with(|| (amount, words.to_owned()));
        is_first
    }

    /// What is run between, with its words.
    pub(in super::super) fn between(&self) -> Option<(RawAmount, &str)> {
        self.between.as_ref().map(|(amount, words)| (*amount, words.as_str()))
    }

    /// Notes where the amount of the whole was typed.
    pub(in super::super) fn note_whole(&mut self, words: &str) {
        self.whole = Some(Typed { words: words.to_owned(), is_in_front: self.around.is_empty() });
    }

    /// What is asked where no kind is said: "2 km warm up, 5 km, 2 km cool down".
    pub(in super::super) fn unsaid(&self) -> ProblemKind {
        let words = self.between.as_ref().map_or_else(|| self.told(), |(_, words)| words.clone());
        unreadable(&words, Expected::PartBetween)
    }

    /// The whole and the hard part.
    ///
    /// # Errors
    ///
    /// Parts that cannot be added up where no whole is given, a whole that is less than its parts, and
    /// what can be read in two ways.
    pub(in super::super) fn settle(&self, rest: &Rest<'_>) -> Result<Told, Unsettled> {
        let run = self.run(rest)?;
        let Some(whole) = run.whole else { return self.added_up(rest, &run) };
        if run.exceeds(whole, rest.sets) {
            return Err(unreadable(&self.told(), Expected::WholeRun).into());
        }
        Ok((Some(whole), self.hard_of(whole, rest, &run)?))
    }

    /// Which amount is the whole, and which a part.
    fn run(&self, rest: &Rest<'_>) -> Result<Run, ProblemKind> {
        let mut whole = rest.amount;
        let mut between = self.between.as_ref().map(|(raw, _)| raw.in_unit(rest.unit)).transpose()?;
        // With repetitions the one amount is the whole, as everywhere else.
        if !rest.sets.is_empty() && whole.is_none() {
            whole = between.take();
        }
        if self.first_is_a_part(rest) {
            between = whole.take();
        }
        Ok(Run { whole, between, around: self.sum_around(rest.unit)? })
    }

    /// "tempo 5 km, 2 km cool down": where nothing is said of a warm-up, what stands in front is what is run first.
    fn first_is_a_part(&self, rest: &Rest<'_>) -> bool {
        let only_cools = self.all().all(|around| !around.warms && !around.is_inside && around.amount.is_some());
        only_cools && self.whole_in_front().is_some() && rest.sets.is_empty() && rest.hard.is_none()
    }

    fn whole_in_front(&self) -> Option<&str> {
        self.whole.as_ref().filter(|typed| typed.is_in_front).map(|typed| typed.words.as_str())
    }

    /// The hard part of a run whose whole was typed.
    fn hard_of(&self, whole: Amount, rest: &Rest<'_>, run: &Run) -> Result<Option<Amount>, ProblemKind> {
        if rest.hard.is_some() || !rest.is_even() {
            return Ok(rest.hard);
        }
        if run.between.is_some() {
            return Ok(run.between);
        }
        let has_both = self.all().any(|one| one.warms) && self.all().any(|one| one.cools);
        let is_inside = self.all().any(|one| one.is_inside);
        let Some(around) = run.around else {
            // "20 min tempo incl. wu/cd": hardly anybody's whole run.
            let may_hold = is_inside && whole.high() >= shortest_whole(whole.unit());
            let says_nothing = has_both && !may_hold && self.all().all(|one| one.amount.is_none());
            return match self.whole_in_front() {
                Some(words) if says_nothing && rest.doubt == Doubt::Asked => {
                    Err(unreadable(words, Expected::PartsInOrder))
                }
                _ => Ok(None),
            };
        };
        match self.whole_in_front() {
            // "tempo 9 km incl. 2 km warm up and 2 km cool down": what is left.
            _ if has_both && is_inside => Ok(less(whole, around)),
            // "tempo 9 km, 2 km warm up, 2 km cool down": nine with them or without?
            Some(words) if !is_inside => Err(unreadable(words, Expected::PartsInOrder)),
            _ => Ok(None),
        }
    }

    /// The whole as the sum of everything that is run.
    fn added_up(&self, rest: &Rest<'_>, run: &Run) -> Result<Told, Unsettled> {
        if run.between.is_none() && rest.sets.is_empty() {
            return Err(unreadable(&self.told(), Expected::PartBetween).into());
        }
        let sum = run.around.and_then(|around| match run.between {
            Some(between) => add(around, in_distance(between, around.unit()).unwrap_or(between), 1),
            None => with_sets(around, rest.sets, Jogs::Counted),
        });
        let Some(sum) = sum else {
            let (told, has_pace) = (self.told(), rest.told_pace.is_some());
            return Err(Unsettled::NoWhole { told, estimate: self.estimate(rest, run), has_pace });
        };
        let hard = rest.hard.or_else(|| run.between.filter(|_| rest.is_even()));
        // Metres of repetitions and of the jogs between them make no round miles.
        let is_reckoned =
            |sets: &Sets| jogged(sets, sum.unit()).is_none() && jogged_at(sets, sum.unit(), Pace::ASSUMED).is_some();
        let is_about = is_mixed(rest.sets, sum.unit()) || rest.sets.iter().any(is_reckoned);
        let is_odd = |value: Milli| is_about || value.0 % HUNDREDTH != 0;
        let written = |value: Milli| if is_odd(value) { tenths(value) } else { value };
        Ok((Some(Amount::checked(written(sum.low()), written(sum.high()), sum.unit())?), hard))
    }

    /// About what the parts of a run come to that are told in distance and in time: minutes count by the pace that the
    /// line tells for them, the others as wherever the planner compares the two. In halves; never less than what is
    /// known, and where the line tells the pace not more than that.
    fn estimate(&self, rest: &Rest<'_>, run: &Run) -> Option<Amount> {
        if rest.unit == Unit::Min {
            return None;
        }
        let mut parts: Vec<Amount> = Vec::new();
        for around in self.all() {
            let amount = around.amount?.in_unit(rest.unit).ok()?;
            parts.extend((0..around.times()).map(|_| amount));
        }
        let mut work: Vec<Amount> = run.between.into_iter().collect();
        for sets in rest.sets {
            let in_one = |unit| Some((sets.total_in(unit)?, unit));
            let (total, unit) = in_one(rest.unit).or_else(|| in_one(Unit::Min))?;
            work.push(Amount::exact(total, unit));
            let jogs = [rest.unit, Unit::Min].map(|unit| between(sets, unit).map(|jogged| Amount::exact(jogged, unit)));
            parts.extend(jogs.into_iter().flatten().next());
        }
        let at = |amounts: Vec<Amount>, pace: Pace| {
            let sum = amounts.into_iter().collect::<Totals>().estimate(rest.unit, pace);
            (sum.low(), sum.high())
        };
        let all_at_told_pace = parts.iter().all(|part| part.unit() != Unit::Min);
        let (around, work) = (at(parts, rest.pace), at(work, rest.told_pace.unwrap_or(rest.work_pace())));
        let half = if rest.told_pace.is_some() && all_at_told_pace { nearest_half } else { up_to_half };
        Amount::checked(half(around.0 + work.0), half(around.1 + work.1), rest.unit).ok()
    }

    /// All warm-ups and cool-downs; nothing where one has no amount or another unit.
    fn sum_around(&self, unit: Unit) -> Result<Option<Amount>, ProblemKind> {
        let mut sum: Option<Amount> = None;
        for around in self.all() {
            let Some(raw) = around.amount else { return Ok(None) };
            let amount = raw.in_unit(unit)?;
            let start = sum.unwrap_or_else(|| Amount::exact(Milli::ZERO, amount.unit()));
            sum = add(start, amount, around.times());
            if sum.is_none() {
                return Ok(None);
            }
        }
        Ok(sum)
    }

    /// The words of all of them, as a question names them.
    fn told(&self) -> String {
        self.all().map(|around| around.words.as_str()).collect::<Vec<_>>().join(", ")
    }
}

/// Two amounts of one unit; nothing for two units. What is too much for a session stays too much.
fn add(one: Amount, other: Amount, times: i32) -> Option<Amount> {
    let sum = |one: Milli, other: Milli| Milli(one.0.saturating_add(other.0.saturating_mul(times)));
    (one.unit() == other.unit())
        .then(|| Amount::between(sum(one.low(), other.low()), sum(one.high(), other.high()), one.unit()))
}

/// Kilometres in miles, or the other way round: "2 mi wu, 5k tempo, 1 mi cd" has a sum. Nothing for minutes.
fn in_distance(amount: Amount, unit: Unit) -> Option<Amount> {
    let of = match amount.unit() {
        Unit::Km => SetUnit::Km,
        Unit::Mi => SetUnit::Mi,
        Unit::Min => return None,
    };
    let one = |length| Sets { reps: 1, length, unit: of, pace: String::new(), recovery: String::new() }.total_in(unit);
    Some(Amount::between(one(amount.low())?, one(amount.high())?, unit))
}

/// What of a whole is left beside a part.
fn less(whole: Amount, part: Amount) -> Option<Amount> {
    let left = |whole: Milli, part: Milli| Milli(whole.0.saturating_sub(part.0));
    let (low, high) = (left(whole.low(), part.low()), left(whole.high(), part.high()));
    (whole.unit() == part.unit() && low > Milli::ZERO && high >= low).then(|| Amount::between(low, high, whole.unit()))
}

/// Whether repetitions in metres or kilometres are summed in miles, or the other way round.
fn is_mixed(sets: &[Sets], unit: Unit) -> bool {
    sets.iter().any(|sets| match sets.unit {
        SetUnit::M | SetUnit::Km => unit == Unit::Mi,
        SetUnit::Mi => unit == Unit::Km,
        SetUnit::S | SetUnit::Min => false,
    })
}

/// A hundredth of a kilometre or a mile.
const HUNDREDTH: i32 = 10;

/// To a tenth: nobody writes 6.983 miles.
const fn tenths(value: Milli) -> Milli {
    Milli((value.0.saturating_add(50)) / 100 * 100)
}

/// To the next half: an estimate that looks like one.
pub(in super::super) const fn up_to_half(value: Milli) -> Milli {
    Milli(value.0.saturating_add(499) / 500 * 500)
}

/// To the nearest half.
const fn nearest_half(value: Milli) -> Milli {
    Milli(value.0.saturating_add(250) / 500 * 500)
}

/// Whether jogs between repetitions count: they do in a sum of ours, but many a whole leaves them out.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Jogs {
    Counted,
    Uncounted,
}

/// The repetitions on top, and the jogs between them, at the pace that is assumed where these are told in another unit: what a
/// line says is the same for every athlete. Nothing
/// where the repetitions are in another unit.
fn with_sets(around: Amount, sets: &[Sets], jogs: Jogs) -> Option<Amount> {
    let mut sum = around;
    for sets in sets {
        let run = sets.total_in(around.unit())?;
        let jogged =
            jogged_at(sets, around.unit(), Pace::ASSUMED).filter(|_| jogs == Jogs::Counted).unwrap_or(Milli::ZERO);
        sum = add(sum, Amount::exact(Milli(run.0.saturating_add(jogged.0)), around.unit()), 1)?;
    }
    Some(sum)
}

/// The jogs between repetitions, in a unit in which they are told: with their rest, or else in the words behind them.
pub(in super::super) fn jogged(sets: &Sets, unit: Unit) -> Option<Milli> {
    let (length, of) = jog_in(sets)?;
    let of_one = |reps, length, unit| Sets { reps, length, unit, pace: String::new(), recovery: String::new() };
    let in_km = |length, unit| of_one(1, length, unit).total_in(Unit::Km);
    // "5k jog back": a race by whose pace is run, and no way back.
    let most = in_km(sets.length, sets.unit).map_or(LONGEST_JOG, |run| LONGEST_JOG.max(run + run));
    if in_km(length, of).is_some_and(|jog| jog > most) {
        return None;
    }
    of_one(sets.reps.saturating_sub(1), length, of).total_in(unit)
}

/// The same in any unit: where it is told in the other sort, at [`Pace::ASSUMED`].
pub(crate) fn jogged_in(sets: &Sets, unit: Unit) -> Milli {
    jogged_at(sets, unit, Pace::ASSUMED).unwrap_or(Milli::ZERO)
}

/// The same where only the other unit is told, which counts at an easy pace: 90 s are 250 m.
pub(in super::super) fn jogged_at(sets: &Sets, unit: Unit, pace: Pace) -> Option<Milli> {
    let other = || {
        let known = if unit == Unit::Min { Unit::Km } else { Unit::Min };
        Some(Totals::from_iter([Amount::exact(jogged(sets, known)?, known)]).estimate(unit, pace).middle())
    };
    jogged(sets, unit).or_else(other)
}

/// The jogs between repetitions where a whole is reckoned: a rest of minutes of which nothing else is said is jogged too.
///
/// # Source
///
/// Common practice, no published source.
fn between(sets: &Sets, unit: Unit) -> Option<Milli> {
    let jog = || Sets { recovery: format!("{} jog", sets.recovery), ..sets.clone() };
    jogged(sets, unit).or_else(|| is_bare_rest(&sets.recovery).then(|| jogged(&jog(), unit)).flatten())
}

/// The longest jog between short repetitions, in kilometres.
///
/// # Source
///
/// Common practice, no published source.
const LONGEST_JOG: Milli = Milli::whole(1);
