//! Bending a block by hand: one edit, and if the coach wants it, the rest of the same week planned
//! anew around it.
//!
//! Whatever an edit touches is fixed from then on. Nothing else jumps: other weeks keep their days
//! exactly, and so do days that are fixed or past.

use chrono::NaiveDate;

use crate::block::{Block, Day, Dropped, Pin, Planned, Reason, Request, Role, plan};
use crate::curve::Settings;
use crate::problem::{Field, Problem, ProblemKind};
use crate::session::Session;
use crate::units::{Pace, Totals};
use crate::week::BaseWeek;

/// One change of a block by hand.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Edit {
    /// A day holds these sessions instead; none is rest.
    Change {
        /// The day.
        day: NaiveDate,
        /// What is run there.
        sessions: Vec<Session>,
        /// The part that each plays in the block, in their order; beyond those, the one that the same session had there.
        roles: Vec<Role>,
    },
    /// A session goes to another day, behind what stands there.
    Move {
        /// The day that it leaves.
        from: NaiveDate,
        /// Which session of that day, from 0.
        place: usize,
        /// The day that it goes to.
        to: NaiveDate,
    },
    /// Two days change places, with everything on them.
    Swap {
        /// One day.
        one: NaiveDate,
        /// The other.
        other: NaiveDate,
    },
    /// A session is taken off a day.
    Remove {
        /// The day.
        day: NaiveDate,
        /// Which session of that day, from 0.
        place: usize,
    },
    /// A day holds one session more.
    Add {
        /// The day.
        day: NaiveDate,
        /// The session.
        session: Session,
    },
    /// A day is fixed as it stands.
    Fix {
        /// The day.
        day: NaiveDate,
    },
    /// A fixed day is given back to the planner.
    Free {
        /// The day.
        day: NaiveDate,
    },
}

/// What becomes of the other days of the weeks that an edit touches.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum RestOfWeek {
    /// They stay as they are.
    Stays,
    /// They are planned anew around what is fixed.
    Follows,
}

impl Edit {
    /// The days that it touches, one or two.
    pub fn days(&self) -> Vec<NaiveDate> {
        match self {
            Self::Change { day, .. }
            | Self::Remove { day, .. }
            | Self::Add { day, .. }
            | Self::Fix { day }
            | Self::Free { day } => {
                vec![*day]
            }
            Self::Move { from, to, .. } => vec![*from, *to],
            Self::Swap { one, other } => vec![*one, *other],
        }
    }
}

/// The days that are fixed, as a block holds them.
pub fn pins(block: &Block) -> Vec<Pin> {
    block.days.iter().filter(|day| day.pinned).map(pin).collect()
}

/// A block whose days are given back to the planner as they stand: what happens on the way may change them, and what is
/// planned again.
#[must_use]
pub fn let_go(block: &Block, days: &[NaiveDate]) -> Block {
    let mut block = block.clone();
    for day in block.days.iter_mut().filter(|day| days.contains(&day.date)) {
        day.pinned = false;
    }
    block
}

/// Bends a block.
///
/// The request is the one from which the block was planned; its race, its pins and what it says of the
/// curve are taken from the block itself. Where the rest of the week follows, a day that is not as the
/// planner left it (eased after an illness, say) comes down with the week but never goes up.
///
/// # Errors
///
/// The day is race day, outside the block or past; there is no such session; what is to be run cannot
/// be; or the request itself is refused by [`plan`].
///
/// # Source
///
/// Common practice, no published source.
pub fn bend(request: &Request<'_>, block: &Block, edit: &Edit, rest: RestOfWeek) -> Result<Block, Vec<Problem>> {
    let mut bent = block.clone();
    apply(&mut bent, edit, request.today)?;
    match (rest, edit) {
        (RestOfWeek::Follows, _) => rebalance(request, block, &mut bent, edit)?,
        (RestOfWeek::Stays, Edit::Free { day }) => plan_one(request, &mut bent, *day)?,
        (RestOfWeek::Stays, _) => {}
    }
    Ok(bent)
}

/// Changes the days that the edit names, and fixes or frees them.
fn apply(block: &mut Block, edit: &Edit, today: Option<NaiveDate>) -> Result<(), Vec<Problem>> {
    let at = |date| open_day(block, date, today);
    match edit {
        Edit::Change { day, sessions, roles } => {
            let index = at(*day)?;
            let before = held(&block.days[index]);
            let role = |place: usize, session: &Session| {
                roles.get(place).copied().unwrap_or_else(|| known_role(&before, session))
            };
            let with_role = |(place, session): (usize, &Session)| (session.clone(), role(place, session));
            let held = sessions.iter().enumerate().map(with_role).collect();
            set(block, index, held)
        }
        Edit::Move { from, place, to } => {
            let (from, to) = (at(*from)?, different(*from, *to).and_then(|()| at(*to))?);
            let mut left = held(&block.days[from]);
            let mut joined = held(&block.days[to]);
            joined.push(take(&mut left, block.days[from].date, *place)?);
            set(block, from, left)?;
            set(block, to, joined)
        }
        Edit::Swap { one, other } => {
            let (one, other) = (at(*one)?, different(*one, *other).and_then(|()| at(*other))?);
            let (first, second) = (held(&block.days[one]), held(&block.days[other]));
            set(block, one, second)?;
            set(block, other, first)
        }
        Edit::Remove { day, place } => {
            let index = at(*day)?;
            let mut left = held(&block.days[index]);
            take(&mut left, *day, *place)?;
            set(block, index, left)
        }
        Edit::Add { day, session } => {
            let index = at(*day)?;
            let mut more = held(&block.days[index]);
            more.push((session.clone(), Role::Plain));
            set(block, index, more)
        }
        Edit::Fix { day } => {
            let index = at(*day)?;
            let same = held(&block.days[index]);
            set(block, index, same)
        }
        Edit::Free { day } => {
            let index = at(*day)?;
            block.days[index].pinned = false;
            Ok(())
        }
    }
}

/// A day that can be bent.
fn open_day(block: &Block, date: NaiveDate, today: Option<NaiveDate>) -> Result<usize, Vec<Problem>> {
    let refuse = |kind| Err(vec![Problem::new(Field::Pin(date), kind)]);
    let Some(index) = block.days.iter().position(|day| day.date == date) else {
        let first = block.days.first().map_or(block.race_day, |day| day.date);
        let last = block.race_day.pred_opt().unwrap_or(block.race_day);
        return refuse(ProblemKind::PinOutsideBlock { date, first, last });
    };
    if block.days[index].to_race == 0 {
        return refuse(ProblemKind::RaceDayBent { date });
    }
    match today.filter(|today| date < *today) {
        Some(today) => refuse(ProblemKind::DayIsPast { date, today }),
        None => Ok(index),
    }
}

fn different(one: NaiveDate, other: NaiveDate) -> Result<(), Vec<Problem>> {
    if one == other { Err(vec![Problem::new(Field::Pin(other), ProblemKind::SameDay { date: other })]) } else { Ok(()) }
}

/// What a day holds, each session with its part in the block.
type Held = Vec<(Session, Role)>;

fn held(day: &Day) -> Held {
    day.sessions.iter().map(|planned| (planned.session.clone(), planned.role)).collect()
}

fn known_role(held: &Held, session: &Session) -> Role {
    held.iter().find(|(known, _)| known == session).map_or(Role::Plain, |(_, role)| *role)
}

fn take(held: &mut Held, date: NaiveDate, place: usize) -> Result<(Session, Role), Vec<Problem>> {
    if place < held.len() {
        return Ok(held.remove(place));
    }
    Err(vec![Problem::new(Field::Pin(date), ProblemKind::NoSuchSession { place: place + 1, count: held.len() })])
}

/// Fixes what a day holds.
fn set(block: &mut Block, index: usize, mut held: Held) -> Result<(), Vec<Problem>> {
    let day = &mut block.days[index];
    Session::without_rest(&mut held, |(session, _)| session);
    let mut found: Vec<ProblemKind> = held.iter().flat_map(|(session, _)| session.problems()).collect();
    let most = BaseWeek::MOST_A_DAY;
    if held.len() > most {
        found.push(ProblemKind::TooManySessions { count: held.len(), most });
    }
    if !found.is_empty() {
        return Err(found.into_iter().map(|kind| Problem::new(Field::Pin(day.date), kind)).collect());
    }
    day.pinned = true;
    day.dropped = Dropped::each(day.usual.iter().skip(held.len()), Reason::Pinned).collect();
    let to_race = day.to_race;
    day.sessions = held
        .into_iter()
        .enumerate()
        .map(|(place, (session, role))| Planned {
            usual: day.usual.get(place).cloned(),
            session,
            role: role.on(to_race),
            why: vec![Reason::Pinned],
        })
        .collect();
    Ok(())
}

fn pin(day: &Day) -> Pin {
    let (sessions, roles) = held(day).into_iter().unzip();
    Pin { date: day.date, sessions, roles }
}

/// Plans with the block's own race and curve around the days that `stays` names.
fn plan_around(request: &Request<'_>, block: &Block, stays: impl Fn(&Day) -> bool) -> Result<Block, Vec<Problem>> {
    let pins: Vec<Pin> = block.days.iter().filter(|day| day.to_race > 0 && stays(day)).map(pin).collect();
    let curve = &block.curve;
    let settings = Settings {
        days: Some(curve.length),
        curve: Some(curve.curvature),
        floor: Some(curve.floor),
        shape: curve.shape,
        ..*request.settings
    };
    plan(&Request { race: &block.race, settings: &settings, pins: &pins, ..*request })
}

/// Plans one day anew while every other stays.
fn plan_one(request: &Request<'_>, bent: &mut Block, date: NaiveDate) -> Result<(), Vec<Problem>> {
    let planned = plan_around(request, bent, |day| day.date != date)?;
    replace(bent, &planned, |day| day.date == date);
    Ok(())
}

/// Plans the open days of the touched weeks anew.
fn rebalance(request: &Request<'_>, old: &Block, bent: &mut Block, edit: &Edit) -> Result<(), Vec<Problem>> {
    let touched = edit.days();
    let weeks: Vec<usize> = old
        .days
        .iter()
        .enumerate()
        .filter(|(_, day)| touched.contains(&day.date))
        .map(|(index, _)| index / 7)
        .collect();
    let is_past = |day: &Day| request.today.is_some_and(|today| day.date < today);
    let stays = |day: &Day| day.pinned || is_past(day);
    let usual_plan = plan_around(request, old, stays)?;
    let mut planned = plan_around(request, bent, stays)?;
    // What happened on the way has eased some days: the planner does not know of it, and does not undo it.
    let eased: Vec<NaiveDate> = old
        .days
        .iter()
        .filter(|day| !stays(day) && usual_plan.day(day.date).is_none_or(|usual| !same_sessions(usual, day)))
        .map(|day| day.date)
        .collect();
    let goes_up = |planned: &Block, day: &Day| {
        eased.contains(&day.date) && planned.day(day.date).is_none_or(|planned| is_more(planned, day))
    };
    let kept: Vec<NaiveDate> = bent.days.iter().filter(|day| goes_up(&planned, day)).map(|day| day.date).collect();
    if !kept.is_empty() {
        planned = plan_around(request, bent, |day| stays(day) || kept.contains(&day.date))?;
    }
    let follows: Vec<NaiveDate> = bent
        .days
        .iter()
        .enumerate()
        .filter(|(index, day)| weeks.contains(&(index / 7)) && day.to_race > 0 && !stays(day))
        .filter(|(_, day)| !kept.contains(&day.date) && !goes_up(&planned, day))
        .map(|(_, day)| day.date)
        .collect();
    replace(bent, &planned, |day| follows.contains(&day.date));
    Ok(())
}

fn replace(bent: &mut Block, planned: &Block, which: impl Fn(&Day) -> bool) {
    for day in bent.days.iter_mut().filter(|day| which(day)) {
        if let Some(fresh) = planned.day(day.date) {
            *day = fresh.clone();
        }
    }
}

fn same_sessions(one: &Day, other: &Day) -> bool {
    one.sessions.iter().map(|planned| &planned.session).eq(other.sessions.iter().map(|planned| &planned.session))
}

/// Whether a day holds more running or more hard running than another.
fn is_more(one: &Day, other: &Day) -> bool {
    let pace = Pace::ASSUMED;
    let hard =
        |day: &Day| -> Totals { day.sessions.iter().filter_map(|planned| planned.session.hard_running()).collect() };
    let (running, most) = (one.planned_running().middle_km(pace), other.planned_running().middle_km(pace));
    running > most || hard(one).middle_km(pace) > hard(other).middle_km(pace)
}
