//! The changes that events make to a day: rest, easy, shorter.

use crate::block::amounts;
use crate::block::facts::Mileage;
use crate::block::{Block, Day, Dropped, Life, Planned, Reason, Role};
use crate::note::zones_alone;
use crate::session::{Kind, Session};
use crate::units::{Amount, Milli, Unit};

/// No event makes a run shorter than the shortest that any block plans: about twenty minutes. One that is planned as
/// short as that stays as long.
///
/// # Source
///
/// Common practice, no published source.
const fn least(unit: Unit) -> Milli {
    Mileage::Below50.least(unit)
}

/// Takes the sessions that match off a day.
pub(super) fn rest(day: &mut Day, why: Life, mut matches: impl FnMut(&Session) -> bool) {
    let (gone, kept): (Vec<Planned>, Vec<Planned>) =
        // Words beside rest are nothing that can be left out.
        std::mem::take(&mut day.sessions)
            .into_iter()
            .partition(|planned| planned.session.rest_words().is_none() && matches(&planned.session));
    day.sessions = kept;
    for planned in gone {
        let usual = planned.usual.unwrap_or(planned.session);
        day.dropped.push(Dropped { usual, why: vec![Reason::Life(why)] });
    }
}

/// Makes hard running on a day easy; a long run stays a long run.
pub(super) fn ease_hard(day: &mut Day, why: Life) {
    for planned in day.sessions.iter_mut().filter(|planned| planned.session.hard_part().is_some()) {
        ease(planned, why);
    }
}

/// Makes a session easy: its hard part goes, and with it what was inside.
pub(super) fn ease(planned: &mut Planned, why: Life) {
    if planned.session.kind.is_running() {
        let long = planned.session.kind == Kind::Long;
        planned.session.kind = if long { Kind::Long } else { Kind::Easy };
        planned.role = if planned.role == Role::ShakeOut { Role::ShakeOut } else { Role::Plain };
    }
    planned.session.hard = None;
    planned.session.sets.clear();
    planned.session.note.clear();
    say(planned, why);
}

/// Takes strides off an easy run: quick running waits as hard running does.
pub(super) fn without_strides(day: &mut Day, why: Life) {
    for planned in day.sessions.iter_mut().filter(|planned| planned.role.holds_quick_running()) {
        planned.role = Role::Plain;
        say(planned, why);
    }
}

/// What was easy because other running was hard is easy for the same reason as that now.
pub(super) fn speak_of_no_other_hard(day: &mut Day, why: Life) {
    let speaks_of_other =
        |reason: &Reason| matches!(reason, Reason::HardEased(_) | Reason::ThirdHardEased(_) | Reason::KeyMovedAway(_));
    for planned in &mut day.sessions {
        for reason in planned.why.iter_mut().filter(|reason| speaks_of_other(reason)) {
            *reason = Reason::Life(why);
        }
        planned.why.dedup();
    }
}

/// Lets go of what was written beside runs: a day that is run otherwise, alone and easy, is no usual day with a club
/// or a run in the park. The zone in which it is run stays with it.
pub(super) fn forget_notes(day: &mut Day, why: Life) {
    day.sessions.iter_mut().for_each(|planned| forget_note(planned, why));
}

/// The same of the runs that are not as they were.
pub(super) fn forget_notes_of_changed(day: &mut Day, before: &[Planned], why: Life) {
    let is_changed = |planned: &&mut Planned| before.iter().all(|before| before.session != planned.session);
    day.sessions.iter_mut().filter(is_changed).for_each(|planned| forget_note(planned, why));
}

fn forget_note(planned: &mut Planned, why: Life) {
    let left = zones_alone(&planned.session.note);
    if is_endurance(&planned.session) && left != planned.session.note {
        planned.session.note = left;
        say(planned, why);
    }
}

/// What is shorter now than the usual session tells no amounts of that one's warm-up and cool-down.
pub(super) fn keep_notes_true(block: &mut Block) {
    for planned in block.days.iter_mut().filter(|day| super::is_free(day)).flat_map(|day| &mut day.sessions) {
        if let Some(usual) = &planned.usual {
            planned.session.keep_note_true(usual);
        }
    }
}

/// Brings the running of a day down to at most so much a session.
pub(super) fn at_most(day: &mut Day, why: Life, most: impl Fn(Amount) -> Milli) {
    for planned in &mut day.sessions {
        shorten(planned, why, &most);
    }
}

/// Leaves one run of a day, the longest, the first of equals.
pub(super) fn one_run(day: &mut Day, why: Life) {
    let runs = day.sessions.iter().map(|planned| &planned.session).filter(|session| session.kind.is_running());
    let Some(longest) = runs.rev().max_by_key(|session| session.running_middle()).cloned() else { return };
    let mut stays = true;
    rest(day, why, |session| session.kind.is_running() && !(*session == longest && std::mem::take(&mut stays)));
}

/// Leaves one session of a day that takes breath: the longest run, else the longest of the others.
pub(super) fn one_that_takes_breath(day: &mut Day, why: Life) {
    one_run(day, why);
    let of_breath = || day.sessions.iter().map(|planned| &planned.session).filter(|session| is_endurance(session));
    let middle = |session: &Session| session.amount.map_or(Milli::ZERO, Amount::middle);
    let stays = of_breath().rev().max_by_key(|session| (session.kind.is_running(), middle(session))).cloned();
    let mut is_there = false;
    rest(day, why, |session| {
        let is_it = stays.as_ref() == Some(session) && !is_there;
        is_there |= is_it;
        is_endurance(session) && !is_it
    });
}

/// Brings a session that takes breath down to at most so much, and to no less than is worth going out for. What was a
/// long run is none any more: no event leaves one that costs more than an easy run.
pub(super) fn shorten(planned: &mut Planned, why: Life, most: impl Fn(Amount) -> Milli) {
    let Some(amount) = planned.session.amount.filter(|_| is_endurance(&planned.session)) else { return };
    let least = least(amount.unit());
    let shorter = amounts::at_most(amount, most(amount).max(least));
    if shorter.middle() < amount.middle() && shorter.middle() >= least {
        planned.session.amount = Some(shorter);
        if planned.session.kind == Kind::Long {
            planned.session.kind = Kind::Easy;
        }
        say(planned, why);
    }
}

/// Running and cross-training: what takes breath.
pub(super) fn is_endurance(session: &Session) -> bool {
    session.kind.is_running() || session.kind == Kind::CrossTraining
}

/// The first reason is what happened; what the plan under it said no longer explains the day.
fn say(planned: &mut Planned, why: Life) {
    planned.why.retain(|reason| matches!(reason, Reason::Life(_) | Reason::RestMovedTo(_)));
    if !planned.why.contains(&Reason::Life(why)) {
        planned.why.push(Reason::Life(why));
    }
}

/// Adds strides to the first easy run of some days: quick running stays familiar.
pub(super) fn add_strides<'a>(days: impl Iterator<Item = &'a mut Day>) {
    for day in days {
        if day.sessions.iter().any(|planned| planned.role.holds_quick_running()) {
            return;
        }
        let easy = |planned: &&mut Planned| {
            planned.session.kind.is_running() && !planned.session.is_hard() && planned.role == Role::Plain
        };
        if day.to_race >= 2
            && let Some(planned) = day.sessions.iter_mut().find(easy)
        {
            planned.role = Role::EasyWithStrides;
            planned.why.push(Reason::Strides);
            return;
        }
    }
}
