//! Illness and injury: rest, then easy days.

use chrono::{Days, NaiveDate};

use super::{Measure, days_ahead, days_of};
use super::{change, extra_rest};
use crate::block::facts::NO_LONGER_LONG;
use crate::block::{Block, Dropped, Life, Planned, QuietDay, Reason};
use crate::life::{EventKind, LifeEvent};
use crate::session::{Kind, Session};
use crate::units::{Amount, Milli, Share};

/// On easy days after a fever a session keeps at most this share of what was planned.
///
/// # Source
///
/// Common practice, no published source.
const AFTER_FEVER: Share = Share(0.5);

/// A fever takes at least so many easy days after the day without it, however short it was: nothing hard on the four
/// days after the last day with fever.
///
/// # Source
///
/// Common practice, no published source, on the careful side.
const EASY_AFTER_FEVER: u64 = 3;

/// Easy days after an illness without fever, or an injury, of at least [`LONG_ENOUGH`] days; half as many
/// as were lost where those were [`LONG_BREAK`] or more.
///
/// # Source
///
/// Common practice, no published source.
const EASY_DAYS: u64 = 2;
/// See [`EASY_DAYS`].
const LONG_ENOUGH: i64 = 2;
/// See [`EASY_DAYS`].
const LONG_BREAK: u64 = 5;

/// Each of those days holds one run of at most this share of what was planned: easy and short, as its reason says.
///
/// # Source
///
/// Common practice, no published source.
const AFTER_ILLNESS: Share = Share(0.6);

/// No run of those days is longer than [`NO_LONGER_LONG`] of the longest; after a break of [`LONG_BREAK`]
/// days or more than this share of it.
///
/// # Source
///
/// Common practice, no published source: as in the first weeks after a long race.
const NO_LONGER_LONG_AFTER_A_BREAK: f64 = 0.40;

/// A fever of so many days, that ends so near to the race, leaves no hard running before it.
///
/// # Source
///
/// Common practice, no published source.
const LONG_FEVER: i64 = 3;
/// See [`LONG_FEVER`].
const NEAR_RACE: i64 = 14;

/// Fever that ends so many days before the race or fewer: coach and clinician decide on starting, and until then
/// nothing hard is planned, however short it was.
///
/// # Source
///
/// Common practice, no published source, on the careful side.
pub(crate) const FEVER_STOPS_FROM: i64 = 7;

/// Rest on the days of an illness or injury, then the way back.
///
/// Fever: no running until a day without fever and medicine has passed, then as many easy days as
/// there were with fever, at least [`EASY_AFTER_FEVER`], each with one run of at most half of planned, where that is
/// worth going out for; the first run back is easy whenever it comes. Nothing hard is left before a race that is as near
/// as [`FEVER_STOPS_FROM`].
/// Other illness and injury of two days or more: two easy days, after a longer break half as many as
/// were lost, each with one run of at most [`AFTER_ILLNESS`] of planned.
///
/// # Source
///
/// Common practice, no published source; when to run again after an illness is for the athlete's
/// doctor to say.
pub(super) fn rest_and_return(
    block: &mut Block,
    plan: &Block,
    event: &LifeEvent,
    all: &[LifeEvent],
    measure: &Measure,
) {
    let (ill, well) = reasons(event);
    let injured = event.kind == EventKind::Injury;
    for day in days_of(block, event) {
        change::rest(day, ill, |session| !injured || hurts(session));
    }
    if event.kind.has_fever() {
        for day in days_ahead(block, event, event.after(1), event.after(1)) {
            change::rest(day, ill, |_| true);
        }
    }
    if !injured {
        extra_rest::give_back(block, plan, event, all, measure);
    }
    if event.kind.has_fever() {
        come_back(block, event, event.after(2), well, |amount| amount.middle().times(AFTER_FEVER));
        spare_the_race(block, event);
    } else if event.days() >= LONG_ENOUGH {
        let longest = if is_long_break(event) { NO_LONGER_LONG_AFTER_A_BREAK } else { NO_LONGER_LONG };
        come_back(block, event, event.after(1), well, |amount| {
            amount.middle().times(AFTER_ILLNESS).min(measure.in_unit(measure.longest_km * longest, amount.unit()))
        });
    }
}

/// Why nothing is run on its days, and why less on those after it.
const fn reasons(event: &LifeEvent) -> (Life, Life) {
    match event.kind {
        EventKind::Illness { fever: true } => (Life::Fever, Life::WellAgain),
        EventKind::Injury => (Life::Injured, Life::HealedAgain),
        _ => (Life::Ill, Life::WellAgain),
    }
}

/// A day outside a block under an illness or injury: what a block would leave out on its days is left out, nothing is
/// hard on the easy days after them, and after a fever each of these holds at most half of what was planned, where that
/// is worth going out for.
pub fn quiet_day_under(mut day: QuietDay, event: &LifeEvent) -> QuietDay {
    if !event.keeps_from_running_on(day.date) {
        if is_spared_on(event, day.date) {
            day.sessions.iter_mut().for_each(|planned| ease_after(planned, event));
        }
        return day;
    }
    let injured = event.kind == EventKind::Injury;
    let (gone, kept): (Vec<Planned>, Vec<Planned>) =
        day.sessions.into_iter().partition(|planned| gone_under(injured, &planned.session));
    day.sessions = kept;
    let why = Reason::Life(reasons(event).0);
    let left_out = |planned: Planned| Dropped { usual: planned.usual.unwrap_or(planned.session), why: vec![why] };
    day.dropped.extend(gone.into_iter().map(left_out));
    day
}

/// Whether a session is left out under an injury, or else an illness; words beside rest are none.
fn gone_under(injured: bool, session: &Session) -> bool {
    session.rest_words().is_none() && (!injured || hurts(session))
}

/// Makes a session one of the easy days after an illness or injury.
fn ease_after(planned: &mut Planned, event: &LifeEvent) {
    let why = reasons(event).1;
    if planned.session.hard_part().is_some() {
        change::ease(planned, why);
    }
    if event.kind.has_fever() {
        change::shorten(planned, why, |amount| amount.middle().times(AFTER_FEVER));
    }
}

/// The easy days from one on: no strength, nothing hard, no session longer than may be.
fn come_back(block: &mut Block, event: &LifeEvent, from: NaiveDate, why: Life, most: impl Fn(Amount) -> Milli) {
    let to = from + Days::new(easy_days(event)) - Days::new(1);
    let back = way_back(block, event, from, to);
    for day in days_ahead(block, event, from, back) {
        change::rest(day, why, |session| session.kind == Kind::Strength);
        change::ease_hard(day, why);
        change::without_strides(day, why);
        change::forget_notes(day, why);
        change::one_run(day, why);
        change::at_most(day, why, &most);
    }
}

/// After a fever so near to the race nothing hard is run before it.
fn spare_the_race(block: &mut Block, event: &LifeEvent) {
    if spares_the_race(event, block.race_day) {
        let last = block.race_day;
        for day in days_ahead(block, event, event.after(1), last) {
            change::ease_hard(day, Life::FeverNearRace);
            change::speak_of_no_other_hard(day, Life::FeverNearRace);
        }
    }
}

/// Whether a fever leaves nothing hard before a race: one of [`LONG_FEVER`] days within [`NEAR_RACE`] days of it, any
/// within [`FEVER_STOPS_FROM`].
fn spares_the_race(event: &LifeEvent, race_day: NaiveDate) -> bool {
    let near = if event.days() >= LONG_FEVER { NEAR_RACE } else { FEVER_STOPS_FROM };
    event.kind.has_fever() && (race_day - event.to).num_days() <= near
}

/// Whether nothing hard belongs on a day before a race, because of an illness or injury or on the way back from it.
pub(crate) fn spares_from_hard_on(event: &LifeEvent, race_day: NaiveDate, day: NaiveDate) -> bool {
    is_spared_on(event, day) || (spares_the_race(event, race_day) && (event.from..race_day).contains(&day))
}

fn is_long_break(event: &LifeEvent) -> bool {
    u64::try_from(event.days()).is_ok_and(|days| days >= LONG_BREAK)
}

/// How many days after an illness or injury are easy, its own days and the day without fever not counted.
pub(super) fn easy_days(event: &LifeEvent) -> u64 {
    let days = u64::try_from(event.days()).unwrap_or(0);
    if event.kind.has_fever() {
        days.max(EASY_AFTER_FEVER)
    } else if is_long_break(event) {
        days.div_ceil(2)
    } else {
        EASY_DAYS
    }
}

/// Whether an illness or injury lasts on a day, or the easy days that are usual after it do.
pub fn is_spared_on(event: &LifeEvent, day: NaiveDate) -> bool {
    event.kind.may_be_open() && event.from <= day && eased_until(event) >= day
}

/// The last of the easy days that are usual after an illness or injury; its own last day where none are.
pub fn eased_until(event: &LifeEvent) -> NaiveDate {
    let easy = match event.kind {
        EventKind::Illness { fever: true } => easy_days(event) + 1,
        EventKind::Illness { fever: false } | EventKind::Injury if event.days() >= LONG_ENOUGH => easy_days(event),
        _ => 0,
    };
    event.after(easy)
}

/// The last day of the way back: at least the one with the first run, however late it stands in a week
/// of few runs.
fn way_back(block: &Block, event: &LifeEvent, from: NaiveDate, to: NaiveDate) -> NaiveDate {
    // Days before the first that the block knows are run as they come: whoever is over it by then is back already.
    if block.days.first().is_none_or(|first| first.date > to) {
        return to;
    }
    let ahead = from.max(event.noted);
    let mut runs = block.days.iter().filter(|day| day.date >= ahead && day.to_race > 0 && !day.is_rest());
    runs.next().map_or(to, |first| to.max(first.date))
}

/// What an injury forbids: running and loaded strength. The rest is for coach and clinician to judge.
fn hurts(session: &Session) -> bool {
    session.kind.is_running() || session.loaded
}
