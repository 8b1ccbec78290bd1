//! The words of the board.

use std::collections::HashMap;

use chrono::{Datelike, NaiveDate};
use formats::words;
use planning::plain::joined;
use planning::{EventKind, Importance, RuleId};
use store::{AthleteId, BlockState, Board, BoardRow, FixedAgainst, Waits};

use super::followed::{Followed, When};
use super::urgency::{Fault, Need, Standing, Urgency, not_handed_over};
use crate::blocks::lines::day_month;
use crate::clock::Clock;
use crate::{paths, shown};

/// What the coach has to do.
pub(crate) fn need(need: Need, clock: Clock) -> String {
    match need {
        Need::CalledOff => "the race is called off: agree how it goes on".to_owned(),
        Need::Stop(rule) => format!("the review says stop: {}", words::stop(rule)),
        Need::Withdrawn { day, .. } => {
            format!("withdrawn from the race on {}, still holds the block for it", day_month(day))
        }
        Need::Fixed(fixed) => fixed_words(fixed),
        Need::BaseWeek => "no base week".to_owned(),
        Need::OldWeek(weeks) => format!("base week is {weeks} weeks old"),
        Need::Block(race) => format!("race {}, no block", shown::away(race, clock.today())),
        Need::Moved { to, from } => {
            format!("race moved to {}: the block was made for {}", words::long_date(to), words::long_date(from))
        }
        Need::Lacks(race) => format!("the race on {} is not in the block yet: make it anew", day_month(race)),
        Need::Youth => "noted as under 18 by now: make the block anew".to_owned(),
        Need::Waits(Waits::Noted(kind)) => format!("{} noted, the block waits for your word", words::event_kind(kind)),
        Need::Waits(Waits::TakenBack) => "something noted was taken back, the block waits for your word".to_owned(),
        Need::Unwell(event) => words::unwell(&event, clock.today()),
        Need::HandOverAgain { held, at, present } => {
            format!("holds version {held} of {}, this is version {present}", day_month(clock.day_of(at)))
        }
        Need::Ahead { race_day, fault, .. } => ahead(race_day, fault, clock),
        Need::NotesAgain => "goals or race sheet changed since they were handed over".to_owned(),
        Need::LinkEnded => "the link has ended".to_owned(),
        Need::HandOver => "not handed over yet".to_owned(),
        Need::Message(moment) => format!("message due today: {}", words::moment(moment)),
        Need::ReadMessage(moment) => {
            format!(
                "read today's message ({}) before you send it, as the running is not as usual",
                words::moment(moment)
            )
        }
        Need::NewWeek => "the base week changed since the block was made".to_owned(),
        Need::Ran(ran) => ran_words(ran),
        Need::Silent(days) => format!("silent for {days} days"),
        Need::Goals => "no goals written".to_owned(),
        Need::Result(day) => format!("raced on {}, no result noted", raced_on(day, clock.today())),
    }
}

/// What is wrong with the block for the race on a day.
fn ahead(race_day: NaiveDate, fault: Fault, clock: Clock) -> String {
    match fault {
        Fault::MovedFrom(from) => format!(
            "a race farther ahead moved to {}: its block was made for {}",
            words::long_date(race_day),
            words::long_date(from)
        ),
        Fault::DaysTwice(goal) => format!(
            "the block for {} begins before the goal race on {}, so days are planned twice",
            day_month(race_day),
            day_month(goal)
        ),
        Fault::Lacks(race) => {
            format!("the race on {} is not in the block for {} yet: make it anew", day_month(race), day_month(race_day))
        }
        Fault::Youth => {
            format!("noted as under 18 by now: make the block for {} anew", day_month(race_day))
        }
        Fault::OldVersion { held, at, present } => format!(
            "holds version {held} of {} for the race on {}, that is version {present} by now",
            day_month(clock.day_of(at)),
            day_month(race_day)
        ),
    }
}

/// `hard session on a sick day: Thursday 3 December is fixed`.
fn fixed_words(fixed: FixedAgainst) -> String {
    let what = match fixed.kind {
        _ if fixed.is_hard => "hard session",
        EventKind::Travel => "more than half an hour",
        _ => "running",
    };
    let when = match (fixed.kind, fixed.is_after) {
        (EventKind::Travel, _) => "on a day on the way",
        (EventKind::Injury, false) => "on a day of injury",
        (EventKind::Injury, true) => "on the easy days after an injury",
        (_, false) => "on a sick day",
        (_, true) => "on the easy days after an illness",
    };
    format!("{what} {when}: {} is fixed", words::long_date(fixed.day))
}

/// `ran 38% more than planned since Monday`.
fn ran_words(ran: Followed) -> String {
    let when = match ran.when {
        When::Since(day) => format!("since {}", words::weekday(day.weekday())),
        When::LastWeek => "last week".to_owned(),
    };
    match ran.per_cent {
        0 => format!("ran nothing of what was planned {when}"),
        more if ran.is_more() => format!("ran {}% more than planned {when}", more - 100),
        less => format!("ran {}% less than planned {when}", 100 - less),
    }
}

/// Where the coach does it.
pub(super) fn place(need: Need, row: &BoardRow) -> String {
    let block = row.block.as_ref().map(|block| block.state.id);
    let of_block = |path: fn(store::BlockId) -> String| block.map_or_else(|| paths::athlete(row.athlete), path);
    match need {
        Need::BaseWeek | Need::OldWeek(_) => paths::week(row.athlete),
        Need::Block(_) => paths::athlete(row.athlete),
        Need::CalledOff => {
            let race = row.next_race.as_ref().map(|race| paths::race(race.id));
            block.map(paths::block).or(race).unwrap_or_else(|| paths::athlete(row.athlete))
        }
        Need::Withdrawn { race, .. } => format!("{}#withdrawn", paths::race(race)),
        Need::Waits(_) | Need::Fixed(_) | Need::Moved { .. } | Need::Stop(RuleId::FixedAgainstEvent) => {
            of_block(paths::replan)
        }
        Need::HandOverAgain { .. }
        | Need::NotesAgain
        | Need::LinkEnded
        | Need::HandOver
        | Need::NewWeek
        | Need::Lacks(_)
        | Need::Youth => of_block(paths::block),
        Need::Ahead { block, fault: Fault::MovedFrom(_), .. } => paths::replan(block),
        Need::Ahead { block, .. } => paths::block(block),
        Need::Stop(_) => of_block(|id| format!("{}#review-title", paths::block(id))),
        Need::Message(_) | Need::ReadMessage(_) => of_block(|id| format!("{}#messages", paths::block(id))),
        Need::Unwell(_) => format!("{}#happened", paths::log(row.athlete)),
        Need::Ran(_) | Need::Silent(_) => paths::log(row.athlete),
        Need::Goals => of_block(paths::block_goals),
        Need::Result(_) => row.raced.map_or_else(
            || paths::athlete(row.athlete),
            |raced| raced.block.map_or_else(|| paths::result(raced.race, row.athlete), paths::debrief),
        ),
    }
}

/// Kinds of needs as the filter of the board has them: each with the code in the address and its name.
pub(super) const KINDS: [(&str, &str); 23] = [
    ("called-off", "race called off"),
    ("withdrawn", "withdrawn, holds a block"),
    ("stop", "review says stop"),
    ("no-block", "no block"),
    ("moved", "race moved"),
    ("days-twice", "days in two blocks"),
    ("lacks-race", "race not in its block"),
    ("under-18", "under 18 by now"),
    ("waits", "waits for your word"),
    ("unwell", "ill or injured"),
    ("old-version", "old version in hand"),
    ("not-handed-over", "not handed over"),
    ("link-ended", "link ended"),
    ("message", "message due"),
    ("more", "ran more than planned"),
    ("less", "ran less than planned"),
    ("silent", "silent"),
    ("no-week", "no base week"),
    ("old-week", "old base week"),
    ("new-week", "base week changed"),
    ("notes-changed", "goals or race sheet changed"),
    ("goals", "no goals"),
    ("result", "no result"),
];

/// The kind of a need, as its code stands in [`KINDS`].
pub(super) const fn kind(need: Need) -> &'static str {
    match need {
        Need::CalledOff => "called-off",
        Need::Stop(_) => "stop",
        Need::Withdrawn { .. } => "withdrawn",
        Need::BaseWeek => "no-week",
        Need::OldWeek(_) => "old-week",
        Need::Block(_) => "no-block",
        Need::Moved { .. } | Need::Ahead { fault: Fault::MovedFrom(_), .. } => "moved",
        Need::Lacks(_) | Need::Ahead { fault: Fault::Lacks(_), .. } => "lacks-race",
        Need::Youth | Need::Ahead { fault: Fault::Youth, .. } => "under-18",
        Need::Waits(_) => "waits",
        Need::Unwell(_) | Need::Fixed(_) => "unwell",
        Need::HandOverAgain { .. } | Need::Ahead { fault: Fault::OldVersion { .. }, .. } => "old-version",
        Need::Ahead { fault: Fault::DaysTwice(_), .. } => "days-twice",
        Need::NotesAgain => "notes-changed",
        Need::LinkEnded => "link-ended",
        Need::HandOver => "not-handed-over",
        Need::Message(_) | Need::ReadMessage(_) => "message",
        Need::NewWeek => "new-week",
        Need::Ran(ran) if ran.is_more() => "more",
        Need::Ran(_) => "less",
        Need::Silent(_) => "silent",
        Need::Goals => "goals",
        Need::Result(_) => "result",
    }
}

/// `Sunday` within the last week, else with its date.
fn raced_on(day: NaiveDate, today: NaiveDate) -> String {
    if (today - day).num_days() < 7 { words::weekday(day.weekday()).to_owned() } else { words::long_date(day) }
}

/// The heading above everybody who is as urgent.
pub(crate) const fn heading(urgency: Urgency) -> &'static str {
    match urgency {
        Urgency::Now => "Need you now",
        Urgency::Soon => "Soon",
        Urgency::Later => "Later",
        Urgency::Calm => "Nothing to do",
        Urgency::Resting => "No race ahead",
    }
}

/// Who is ill or injured, or was only just, so that the days are still easy: in words, for pages over many.
pub(crate) fn unwell(board: &Board, today: NaiveDate) -> HashMap<AthleteId, Vec<String>> {
    let said = |row: &BoardRow| row.unwell.iter().map(|event| shown::capital(&words::unwell(event, today))).collect();
    board.iter().filter(|row| !row.unwell.is_empty()).map(|row| (row.athlete, said(row))).collect()
}

/// How a block stands: handed over or not, with goals or without.
pub(crate) fn of_block(block: &BlockState, clock: Clock) -> String {
    let lack = not_handed_over(block, clock.today());
    let mut said = vec![lack.map_or_else(|| handed_over(block, clock), |lack| need(lack, clock))];
    if !block.has_goals {
        said.push(need(Need::Goals, clock));
    }
    said.join(", ")
}

/// `handed over on 22 November`: what the athlete holds is what there is, and the link works.
fn handed_over(block: &BlockState, clock: Clock) -> String {
    let on = block.handed_over.map(|held| format!(" on {}", day_month(clock.day_of(held.at))));
    format!("handed over{}", on.unwrap_or_default())
}

/// Where the athlete stands between base week and race, and what the running is held down by; empty where there is
/// nothing to say.
pub(crate) fn stands(row: &BoardRow, standing: &Standing, clock: Clock) -> String {
    let today = clock.today();
    let well_again = row.unwell.iter().filter(|event| !event.is_unwell_on(today));
    let recovering = row.recovering.as_ref();
    let block = row.block.as_ref().map(|block| &block.state).filter(|_| !row.is_called_off());
    let held = block.filter(|block| not_handed_over(block, today).is_none()).map(|block| handed_over(block, clock));
    let said = std::iter::once(between(row, standing, today))
        .chain(held)
        .chain(well_again.map(|event| words::unwell(event, today)))
        .chain(
            recovering
                .map(|after| words::coming_back(after.back.phase, &after.race, &shown::day(after.back.to, today))),
        );
    joined(said, "; ")
}

fn between(row: &BoardRow, standing: &Standing, today: NaiveDate) -> String {
    if row.is_called_off() {
        return row.block.as_ref().map_or_else(String::new, |_| "block for a race called off".to_owned());
    }
    match (standing.to_race, &row.block) {
        (None, _) => String::new(),
        (Some(0), _) => "race today".to_owned(),
        (Some(1), _) => "race tomorrow".to_owned(),
        (Some(_), None) if row.importance == Some(Importance::TrainingThrough) => "out of normal training".to_owned(),
        (Some(_), None) => String::new(),
        (Some(days), Some(_)) if days <= 6 => "race week".to_owned(),
        (Some(_), Some(block)) => {
            let day = (today - block.first_day).num_days();
            match day {
                -1 => "block begins tomorrow".to_owned(),
                day if day < 0 => format!("block begins in {} days", -day),
                day => format!("day {} of {} of the block", day + 1, block.length),
            }
        }
    }
}
