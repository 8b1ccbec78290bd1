//! What each athlete needs from the coach, and how soon. Pure: the same row on the same day is always
//! as urgent.

use chrono::{DateTime, Days, NaiveDate, Utc};
use planning::curve::event_defaults;
use planning::replan::eased_until;
use planning::{Importance, LifeEvent, Moment, RaceDistance, RuleId};
use store::{BlockId, BlockState, BoardBlock, BoardRow, FixedAgainst, RaceId, Waits};

use super::followed::{Followed, followed};
use crate::clock::Clock;

/// One thing that the coach has to do for an athlete.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Need {
    /// Say how it goes on: the race is called off, and there is no other to plan for.
    CalledOff,
    /// Decide about something that is likely harm, as the review says by this rule.
    Stop(RuleId),
    /// Tell the athlete, who was withdrawn from a race and still holds the block for it.
    Withdrawn {
        /// The race.
        race: RaceId,
        /// Its day.
        day: NaiveDate,
    },
    /// Let go of a day that is fixed with running in spite of an illness or injury.
    Fixed(FixedAgainst),
    /// Type the base week.
    BaseWeek,
    /// Ask whether the base week still is what it was so many weeks ago.
    OldWeek(i64),
    /// Make the block for the race of this day.
    Block(NaiveDate),
    /// Plan the block again: its race is on another day than it was made for.
    Moved {
        /// The day of the race by now.
        to: NaiveDate,
        /// The day that the block was made for.
        from: NaiveDate,
    },
    /// Make the block anew: a race on the way, on this day, is not in it.
    Lacks(NaiveDate),
    /// Make the block anew: since it was made the athlete is noted as under 18.
    Youth,
    /// Say whether the block is planned around what was noted.
    Waits(Waits),
    /// Look after somebody who is ill or injured, as far as it is known.
    Unwell(LifeEvent),
    /// Hand over what was changed: the athlete holds an old version.
    HandOverAgain {
        /// The version that the athlete holds.
        held: u32,
        /// When it was handed over.
        at: DateTime<Utc>,
        /// The version that the block stands at.
        present: u32,
    },
    /// Put a block for a race farther ahead right.
    Ahead {
        /// The block.
        block: BlockId,
        /// The day of its race.
        race_day: NaiveDate,
        /// What is wrong with it.
        fault: Fault,
    },
    /// Hand over anew: the days are the same, what is shown of the goals is not.
    NotesAgain,
    /// Hand over anew: the link has ended by its date.
    LinkEnded,
    /// Send a message that is due today.
    Message(Moment),
    /// Read a message that is due today before it is sent: the athlete cannot run as usual.
    ReadMessage(Moment),
    /// Hand the block over.
    HandOver,
    /// Look at the block: it was made from another base week than there is now.
    NewWeek,
    /// Ask why so much more or so much less was run than planned.
    Ran(Followed),
    /// Ask how it goes: so many days nobody said anything.
    Silent(i64),
    /// Write the goals.
    Goals,
    /// Note what came out of the race of this day.
    Result(NaiveDate),
}

/// What is wrong with a block that is not the one for the next race.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Fault {
    /// Its race is on another day than this one, which it was made for.
    MovedFrom(NaiveDate),
    /// It holds days up to the goal race before it, on this day, that belong to that race's block.
    DaysTwice(NaiveDate),
    /// A race on the way, on this day, is not in it.
    Lacks(NaiveDate),
    /// Since it was made the athlete is noted as under 18.
    Youth,
    /// The athlete holds an old version of it.
    OldVersion {
        /// The version that the athlete holds.
        held: u32,
        /// When it was handed over.
        at: DateTime<Utc>,
        /// The version that the block stands at.
        present: u32,
    },
}

/// How soon an athlete needs the coach; the order is that of the board.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub(crate) enum Urgency {
    /// Today: running days of the block are being lost, or an old version is in use.
    Now,
    /// Within days, and everybody in race week.
    Soon,
    /// There is time.
    Later,
    /// A race is ahead and nothing is to be done.
    Calm,
    /// No race ahead.
    Resting,
}

/// Where an athlete stands.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Standing {
    pub(crate) urgency: Urgency,
    /// Most urgent first.
    pub(crate) needs: Vec<Need>,
    /// Days to the next race.
    pub(crate) to_race: Option<i64>,
}

/// When the board is looked at.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Look {
    pub(crate) clock: Clock,
    pub(crate) today: NaiveDate,
    /// The first day of the calendar week.
    pub(crate) week: NaiveDate,
}

/// How many days before its start a block should be ready and handed over.
///
/// # Source
///
/// Common practice, no published source.
const LEAD_DAYS: i64 = 3;

/// How many days before the usual start of a block it is time to make it.
///
/// # Source
///
/// Common practice, no published source.
const MAKE_DAYS: i64 = 14;

/// How many days before the race goals should be written.
///
/// # Source
///
/// Common practice, no published source.
const GOAL_DAYS: i64 = 10;

/// In the last days before a race, as many as this, running more than planned cannot wait.
///
/// # Source
///
/// Common practice, no published source.
const MORE_IS_URGENT_DAYS: i64 = 14;

/// How many days without a word in the log are nothing to ask about.
///
/// # Source
///
/// Common practice, no published source.
const SILENCE_DAYS: i64 = 7;

/// After how many days it is asked whether a base week is still run, where a block is to be made from it or made
/// from it is about to begin.
///
/// # Source
///
/// Common practice, no published source.
const OLD_WEEK_DAYS: i64 = 56;

/// How many days before a race whose block has not begun the age of the base week matters.
///
/// # Source
///
/// Common practice, no published source.
const WEEK_MATTERS_DAYS: i64 = 56;

/// Race week: the seven days that end on race day.
const RACE_WEEK: i64 = 6;

/// Needs while they are found, each with how soon.
type Found = Vec<(Urgency, Need)>;

/// Where the athlete of a board row stands today.
pub(crate) fn standing(row: &BoardRow, look: &Look) -> Standing {
    let to_race = row.next_race.as_ref().map(|race| (race.race.date - look.today).num_days());
    let Some((race, days)) = row.next_race.as_ref().zip(to_race) else {
        let mut needs: Vec<_> = withdrawn(row).collect();
        let is_urgent = !needs.is_empty();
        needs.extend(row.week_saved.is_none().then_some(Need::BaseWeek));
        needs.extend(unwell(row, look).map(Need::Unwell));
        needs.extend(no_result(row));
        let urgency = match (is_urgent, needs.is_empty()) {
            (true, _) => Urgency::Now,
            (false, true) => Urgency::Resting,
            (false, false) => Urgency::Later,
        };
        return Standing { urgency, needs, to_race };
    };
    if race.called_off.is_some() {
        let needs = std::iter::once(Need::CalledOff)
            .chain(withdrawn(row))
            .chain(unwell(row, look).map(Need::Unwell))
            .chain(no_result(row))
            .collect();
        return Standing { urgency: Urgency::Now, needs, to_race };
    }
    let mut found = match &row.block {
        Some(block) => of_block(row, block, race.race.date, look),
        None => before_a_block(row, days - usual_length(race.race.distance), look, race.race.date),
    };
    let first = row
        .block
        .as_ref()
        .map_or(race.race.date - Days::new(usual_length(race.race.distance).unsigned_abs()), |block| block.first_day);
    found.extend(unwell(row, look).map(|event| (of_unwell(event, first, look.today), Need::Unwell(event))));
    found.extend(ahead(row, race.race.date, look.today));
    found.extend(withdrawn(row).map(|need| (Urgency::Now, need)));
    found.extend(no_result(row).map(|need| (Urgency::Later, need)));
    // Stable: what was found first stays first among equals.
    found.sort_by_key(|(urgency, _)| *urgency);
    let rest = if days <= RACE_WEEK && !runs_through(row) { Urgency::Soon } else { Urgency::Calm };
    let urgency = found.first().map_or(rest, |(urgency, _)| (*urgency).min(rest));
    Standing { urgency, needs: found.into_iter().map(|(_, need)| need).collect(), to_race }
}

/// The races that the athlete was withdrawn from and may still train for.
fn withdrawn(row: &BoardRow) -> impl Iterator<Item = Need> {
    row.withdrawn.iter().map(|out| Need::Withdrawn { race: out.race, day: out.day })
}

/// What is wrong with blocks for races farther ahead than the next, which is on a day: of each the gravest.
fn ahead(row: &BoardRow, next: NaiveDate, today: NaiveDate) -> Found {
    let mut goal_before = (row.importance == Some(Importance::Goal)).then_some(next);
    let mut found = Found::new();
    for one in &row.ahead {
        // A block of a length that was set begins on its own day, wherever its race was moved to.
        let is_twice = goal_before.filter(|goal| one.importance == Importance::Goal && one.first_day <= *goal);
        let fault = if one.made_for != one.race_day {
            Some(Fault::MovedFrom(one.made_for))
        } else if let Some(goal) = is_twice {
            Some(Fault::DaysTwice(goal))
        } else if let Some(race) = one.lacks {
            Some(Fault::Lacks(race))
        } else if one.before_youth {
            Some(Fault::Youth)
        } else {
            let old = one.held.filter(|(held, _)| *held != one.revision);
            old.map(|(held, at)| Fault::OldVersion { held, at, present: one.revision })
        };
        let urgency = of_wrong_days(one.held.is_some(), one.first_day, today);
        found.extend(fault.map(|fault| (urgency, Need::Ahead { block: one.block, race_day: one.race_day, fault })));
        if one.importance == Importance::Goal {
            goal_before = Some(one.race_day);
        }
    }
    found
}

/// What is needed so that there can be a block.
fn before_a_block(row: &BoardRow, until_start: i64, look: &Look, race: NaiveDate) -> Found {
    let mut found: Found = no_week(row, until_start).into_iter().collect();
    if row.importance.is_some_and(|importance| !importance.has_block()) {
        return found;
    }
    let soon = at_start(until_start, MAKE_DAYS);
    if (race - look.today).num_days() <= WEEK_MATTERS_DAYS {
        found.extend(old_week(row, look).map(|need| (soon.max(Urgency::Soon), need)));
    }
    found.push((soon, Need::Block(race)));
    found
}

/// Whether the next race is run out of normal training.
fn runs_through(row: &BoardRow) -> bool {
    row.importance == Some(Importance::TrainingThrough)
}

/// The base week, where there is none.
fn no_week(row: &BoardRow, until_start: i64) -> Option<(Urgency, Need)> {
    let urgency = if runs_through(row) { Urgency::Later } else { at_start(until_start, MAKE_DAYS) };
    row.week_saved.is_none().then_some((urgency, Need::BaseWeek))
}

/// Whether the base week is so old that it is asked for.
fn old_week(row: &BoardRow, look: &Look) -> Option<Need> {
    let saved = look.clock.day_of(row.week_saved?);
    // A week that is run since later than it was typed was typed ahead.
    let days = (look.today - row.week_since.map_or(saved, |since| since.max(saved))).num_days();
    (days > OLD_WEEK_DAYS).then_some(Need::OldWeek(days / 7))
}

/// What is needed where there is a block for the race of a day.
fn of_block(row: &BoardRow, block: &BoardBlock, race: NaiveDate, look: &Look) -> Found {
    let days = (race - look.today).num_days();
    let until_start = (block.first_day - look.today).num_days();
    let mut found: Found = no_week(row, until_start).into_iter().collect();
    found.extend(block.stop.map(|rule| (of_stop(rule), Need::Stop(rule))));
    // A stop by that rule says it already.
    let fixed = block.fixed.filter(|_| block.stop != Some(RuleId::FixedAgainstEvent));
    found.extend(fixed.map(|fixed| (Urgency::Now, Need::Fixed(fixed))));
    let moved = moved(block, race, look.today);
    found.extend(moved);
    // Planning again for the other day takes in the races on the way to it, and how old the athlete is.
    let lacks = block.lacks.map(Need::Lacks).into_iter().chain(block.before_youth.then_some(Need::Youth));
    let wrong = of_wrong_days(block.state.handed_over.is_some(), block.first_day, look.today);
    found.extend(lacks.filter(|_| moved.is_none()).map(|need| (wrong, need)));
    found.extend(block.waits.map(|waits| (Urgency::Now, Need::Waits(waits))));
    if let Some(lack) = not_handed_over(&block.state, look.today) {
        let urgency = match lack {
            Need::HandOverAgain { .. } => Urgency::Now,
            Need::NotesAgain => Urgency::Soon,
            _ => at_start(until_start, LEAD_DAYS),
        };
        found.push((urgency, lack));
    }
    let is_spared = !row.unwell.is_empty() || block.waits.is_some();
    let message = if is_spared { Need::ReadMessage } else { Need::Message };
    // The messages of a block for another day are withheld.
    let due = block.due.filter(|_| moved.is_none());
    found.extend(due.map(|moment| (Urgency::Soon, message(moment))));
    if until_start <= 0 {
        found.extend(followed(block, look.today, look.week).map(|ran| (of_running(ran, days), Need::Ran(ran))));
        found.extend(silent(block, look));
    } else {
        if block.week_changed {
            found.push((at_start(until_start, LEAD_DAYS), Need::NewWeek));
        }
        // A block from an old week does not make the week newer: it is asked about until the block begins.
        if days <= WEEK_MATTERS_DAYS {
            found.extend(old_week(row, look).map(|need| (at_start(until_start, MAKE_DAYS).max(Urgency::Soon), need)));
        }
    }
    if !block.state.has_goals && row.importance.unwrap_or_default() == Importance::Goal {
        found.push((if days <= GOAL_DAYS { Urgency::Soon } else { Urgency::Later }, Need::Goals));
    }
    found
}

/// A block with days that are not those to run cannot wait where the athlete holds it, or where it begins soon.
fn of_wrong_days(is_held: bool, first: NaiveDate, today: NaiveDate) -> Urgency {
    if is_held || (first - today).num_days() <= LEAD_DAYS { Urgency::Now } else { Urgency::Soon }
}

/// Whether the race was moved since the block was made. The block begins soon where it does by the days that it has,
/// or by those that it would have.
fn moved(block: &BoardBlock, to: NaiveDate, today: NaiveDate) -> Option<(Urgency, Need)> {
    let from = block.race_day;
    let first = block.first_day.min(to - Days::new(u64::from(block.length)));
    let urgency = of_wrong_days(block.state.handed_over.is_some(), first, today);
    (from != to).then_some((urgency, Need::Moved { to, from }))
}

/// What happened cannot wait. Somebody's age is known from the first day on, and hurries nothing.
fn of_stop(rule: RuleId) -> Urgency {
    if rule == RuleId::PersonCaution { Urgency::Later } else { Urgency::Now }
}

/// More than planned is urgent where the race is near; less can still be asked about.
const fn of_running(ran: Followed, days: i64) -> Urgency {
    if ran.is_more() && days <= MORE_IS_URGENT_DAYS { Urgency::Now } else { Urgency::Soon }
}

/// How long nobody has said anything since the athlete holds a block that has begun. Where nobody ever did
/// there may be no log, so that one matters less than a voice that stopped.
fn silent(block: &BoardBlock, look: &Look) -> Option<(Urgency, Need)> {
    let held = look.clock.day_of(block.first_handed_over?);
    let begun = block.first_day.max(held);
    let days = (look.today - block.log.heard.map_or(begun, |heard| heard.max(begun))).num_days();
    let urgency = if block.log.heard >= Some(block.first_day) { Urgency::Soon } else { Urgency::Later };
    (days > SILENCE_DAYS).then_some((urgency, Need::Silent(days)))
}

/// Who is ill or injured today.
fn unwell(row: &BoardRow, look: &Look) -> impl Iterator<Item = LifeEvent> {
    row.unwell.iter().filter(|event| event.is_unwell_on(look.today)).copied()
}

/// Before a race an illness or injury without an end is asked about soon, and now where the block is about to begin
/// as if nothing were; so is one whose easy days reach into the block. Inside a block the days themselves wait for a
/// word where they do not know of it.
fn of_unwell(event: LifeEvent, first: NaiveDate, today: NaiveDate) -> Urgency {
    let until_start = (first - today).num_days();
    if !event.open && (until_start <= 0 || eased_until(&event) < first) {
        return Urgency::Later;
    }
    if (1..=LEAD_DAYS).contains(&until_start) { Urgency::Now } else { Urgency::Soon }
}

/// The result of the last race, where none is noted: there is time.
fn no_result(row: &BoardRow) -> Option<Need> {
    row.raced.map(|raced| Need::Result(raced.day))
}

/// What the block lacks so that the athlete holds it as it is.
pub(crate) fn not_handed_over(block: &BlockState, today: NaiveDate) -> Option<Need> {
    match block.handed_over {
        None => Some(Need::HandOver),
        Some(held) if held.revision != block.revision => {
            Some(Need::HandOverAgain { held: held.revision, at: held.at, present: block.revision })
        }
        Some(held) if !held.works_on(today) => Some(Need::LinkEnded),
        Some(held) if held.notes_changed => Some(Need::NotesAgain),
        Some(_) => None,
    }
}

/// Something that should be done before a start: now if that has come, soon within some days.
const fn at_start(until_start: i64, lead: i64) -> Urgency {
    if until_start <= 0 {
        Urgency::Now
    } else if until_start <= lead {
        Urgency::Soon
    } else {
        Urgency::Later
    }
}

fn usual_length(distance: RaceDistance) -> i64 {
    i64::from(event_defaults(distance.event()).curve.length)
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use planning::{Amount, Athlete, DistanceUnit, EventKind, Milli, Race, Request, Settings, Unit};
    use store::{AthleteId, BlockAhead, BoardDay, BoardLog, Held, RaceRecord, Version, Withdrawn};

    use super::*;

    const TODAY: &str = "2027-04-20";

    fn day(text: &str) -> NaiveDate {
        text.parse().unwrap()
    }

    fn in_days(days: u64) -> NaiveDate {
        day(TODAY) + chrono::Days::new(days)
    }

    fn race(days: u64) -> Race {
        Race {
            name: "River Ten".to_owned(),
            date: in_days(days),
            distance: RaceDistance::TenK,
            start: None,
            zone: None,
            importance: Importance::Goal,
        }
    }

    fn noon(day: NaiveDate) -> DateTime<Utc> {
        day.and_hms_opt(12, 0, 0).unwrap().and_utc()
    }

    /// An athlete with a base week and nothing else.
    fn row() -> BoardRow {
        BoardRow { week_saved: Some(noon(in_days(0))), ..BoardRow::of(AthleteId(1), "Ana") }
    }

    fn racing(days: u64) -> BoardRow {
        let next_race =
            RaceRecord { id: RaceId(1), version: Version(1), race: race(days), place: String::new(), called_off: None };
        BoardRow { next_race: Some(Arc::new(next_race)), importance: Some(Importance::Goal), ..row() }
    }

    fn held(revision: u32) -> Held {
        Held { revision, at: DateTime::UNIX_EPOCH, ends: in_days(30), notes_changed: false }
    }

    const OLD: Need = Need::HandOverAgain { held: 1, at: DateTime::UNIX_EPOCH, present: 2 };

    /// The same with a block in its second revision, of which one was handed over.
    fn planned(days: u64, handed_over: Option<u32>, has_goals: bool) -> BoardRow {
        let handed_over = handed_over.map(held);
        let lines = ["", "6 x 800 m, 10", "8", "tempo 9", "", "6", "long 15"];
        let week = planning::notation::read_week(&lines, "", DistanceUnit::Km).unwrap();
        let race = race(days);
        let request = Request {
            today: None,
            athlete: &Athlete { name: "Ana".to_owned(), ..Athlete::default() },
            week: &week,
            race: &race,
            settings: &Settings::default(),
            pins: &[],
            other_races: &[],
            begun: None,
        };
        let block = planning::plan(&request).unwrap();
        BoardRow {
            block: Some(BoardBlock {
                state: BlockState { id: BlockId(1), revision: 2, handed_over, has_goals },
                first_day: block.first_day(),
                race_day: block.race_day,
                length: block.curve.length,
                due: None,
                days: block
                    .days
                    .iter()
                    .map(|day| BoardDay {
                        date: day.date,
                        has_race: day.to_race == 0,
                        planned: day.planned_running(),
                        usual: day.usual_running(),
                    })
                    .collect(),
                pace: block.pace,
                first_handed_over: None,
                week_changed: false,
                lacks: None,
                before_youth: false,
                waits: None,
                stop: None,
                fixed: None,
                log: BoardLog::default(),
            }),
            ..racing(days)
        }
    }

    /// TODAY is a Tuesday.
    fn look() -> Look {
        Look { clock: Clock::fixed(noon(day(TODAY))), today: day(TODAY), week: day("2027-04-19") }
    }

    fn of(row: &BoardRow) -> (Urgency, Vec<Need>) {
        let standing = standing(row, &look());
        (standing.urgency, standing.needs)
    }

    /// A block of 20 days that begins 40 days from now, for a race after the one in 40 days or fewer.
    fn far() -> BlockAhead {
        BlockAhead {
            block: BlockId(9),
            race_day: in_days(60),
            importance: Importance::Goal,
            made_for: in_days(60),
            first_day: in_days(40),
            revision: 2,
            held: None,
            lacks: None,
            before_youth: false,
        }
    }

    /// What is said of blocks farther ahead than the one for a goal race in 39 days.
    fn of_ahead(ahead: &[BlockAhead]) -> (Urgency, Vec<Need>) {
        of(&BoardRow { ahead: ahead.into(), ..planned(39, Some(2), true) })
    }

    #[test]
    fn an_old_version_in_hand_for_a_race_farther_ahead_is_as_urgent_as_for_the_next() {
        let at = DateTime::UNIX_EPOCH;
        assert_eq!(of_ahead(&[far()]), (Urgency::Calm, vec![]));
        assert_eq!(of_ahead(&[BlockAhead { held: Some((2, at)), ..far() }]), (Urgency::Calm, vec![]));
        let fault = Fault::OldVersion { held: 1, at, present: 2 };
        let need = Need::Ahead { block: BlockId(9), race_day: in_days(60), fault };
        assert_eq!(of_ahead(&[BlockAhead { held: Some((1, at)), ..far() }]), (Urgency::Now, vec![need]));
    }

    #[test]
    fn a_block_made_before_its_athlete_was_noted_as_under_18_cannot_wait_where_it_is_held_or_begins_soon() {
        let young = |days, held| with(planned(days, held, true), |block| block.before_youth = true);
        assert_eq!(of(&young(14, None)), (Urgency::Soon, vec![Need::Youth, Need::HandOver]));
        assert_eq!(of(&young(13, None)).0, Urgency::Now, "it begins in three days");
        assert_eq!(of(&young(20, Some(2))), (Urgency::Now, vec![Need::Youth]));
        let need = Need::Ahead { block: BlockId(9), race_day: in_days(60), fault: Fault::Youth };
        assert_eq!(of_ahead(&[BlockAhead { before_youth: true, ..far() }]), (Urgency::Soon, vec![need]));
    }

    #[test]
    fn a_race_farther_ahead_that_was_moved_is_named() {
        let fault = Fault::MovedFrom(in_days(67));
        let need = Need::Ahead { block: BlockId(9), race_day: in_days(60), fault };
        let moved = BlockAhead { made_for: in_days(67), ..far() };
        assert_eq!(of_ahead(&[moved]), (Urgency::Soon, vec![need]));
        assert_eq!(of_ahead(&[BlockAhead { held: Some((2, DateTime::UNIX_EPOCH)), ..moved }]).0, Urgency::Now);
        assert_eq!(of_ahead(&[BlockAhead { first_day: in_days(3), ..moved }]).0, Urgency::Now);
    }

    #[test]
    fn a_block_that_begins_by_the_day_of_the_goal_race_before_it_plans_days_twice() {
        let twice =
            |days| Need::Ahead { block: BlockId(9), race_day: in_days(60), fault: Fault::DaysTwice(in_days(days)) };
        let early = BlockAhead { first_day: in_days(39), ..far() };
        assert_eq!(of_ahead(&[early]), (Urgency::Soon, vec![twice(39)]));
        assert_eq!(of_ahead(&[BlockAhead { importance: Importance::TuneUp, ..early }]), (Urgency::Calm, vec![]));
        let tune_up = BoardRow { importance: Some(Importance::TuneUp), ..planned(39, Some(2), true) };
        assert_eq!(of(&BoardRow { ahead: [early].into(), ..tune_up }).1, vec![], "it has its place in the block");
        let between = BlockAhead { block: BlockId(8), race_day: in_days(50), made_for: in_days(50), ..far() };
        assert_eq!(of_ahead(&[between, far()]).1, vec![twice(50)], "of two farther ahead the earlier one counts");
    }

    #[test]
    fn a_race_on_the_way_that_a_block_does_not_know_cannot_wait_where_the_block_is_held_or_begins_soon() {
        let lacking = |days, held| {
            let mut row = planned(days, held, true);
            if let Some(block) = &mut row.block {
                block.lacks = Some(in_days(days - 4));
            }
            of(&row)
        };
        assert_eq!(lacking(14, None), (Urgency::Soon, vec![Need::Lacks(in_days(10)), Need::HandOver]));
        assert_eq!(lacking(13, None).0, Urgency::Now, "it begins in three days");
        assert_eq!(lacking(20, Some(2)), (Urgency::Now, vec![Need::Lacks(in_days(16))]));
        let fault = Fault::Lacks(in_days(50));
        let need = Need::Ahead { block: BlockId(9), race_day: in_days(60), fault };
        assert_eq!(of_ahead(&[BlockAhead { lacks: Some(in_days(50)), ..far() }]), (Urgency::Soon, vec![need]));
    }

    #[test]
    fn a_missing_block_is_urgent_from_the_day_on_which_it_should_begin() {
        // A block for 10 km is 10 days long.
        assert_eq!(of(&racing(0)), (Urgency::Now, vec![Need::Block(in_days(0))]));
        assert_eq!(of(&racing(10)), (Urgency::Now, vec![Need::Block(in_days(10))]));
        assert_eq!(of(&racing(11)), (Urgency::Soon, vec![Need::Block(in_days(11))]));
        assert_eq!(of(&racing(24)), (Urgency::Soon, vec![Need::Block(in_days(24))]));
        assert_eq!(of(&racing(25)), (Urgency::Later, vec![Need::Block(in_days(25))]));
    }

    #[test]
    fn a_missing_base_week_comes_before_the_block_that_needs_it() {
        let without = BoardRow { week_saved: None, ..racing(12) };
        assert_eq!(of(&without), (Urgency::Soon, vec![Need::BaseWeek, Need::Block(in_days(12))]));
        let no_race = BoardRow { week_saved: None, ..row() };
        assert_eq!(of(&no_race), (Urgency::Later, vec![Need::BaseWeek]));
        assert_eq!(of(&row()), (Urgency::Resting, vec![]));
    }

    #[test]
    fn who_holds_an_old_version_needs_the_new_one_now() {
        assert_eq!(of(&planned(20, Some(1), true)), (Urgency::Now, vec![OLD]));
        assert_eq!(of(&planned(20, Some(2), true)), (Urgency::Calm, vec![]));
    }

    fn with(row: BoardRow, change: impl FnOnce(&mut BoardBlock)) -> BoardRow {
        let mut block = row.block.clone();
        block.as_mut().map(change);
        BoardRow { block, ..row }
    }

    #[test]
    fn goals_that_were_changed_are_handed_over_soon() {
        let changed = with(planned(20, Some(2), true), |block| {
            block.state.handed_over = Some(Held { notes_changed: true, ..held(2) });
        });
        assert_eq!(of(&changed), (Urgency::Soon, vec![Need::NotesAgain]));
    }

    #[test]
    fn a_link_that_has_ended_shows_nothing() {
        let ends = |day| {
            with(planned(9, Some(2), true), |block| block.state.handed_over = Some(Held { ends: day, ..held(2) }))
        };
        assert_eq!(of(&ends(day(TODAY))), (Urgency::Calm, vec![]), "it works on its last day");
        assert_eq!(of(&ends(day("2027-04-19"))), (Urgency::Now, vec![Need::LinkEnded]));
    }

    #[test]
    fn a_message_that_is_due_is_asked_for() {
        let due = with(planned(10, Some(2), true), |block| block.due = Some(Moment::BlockStart));
        assert_eq!(of(&due), (Urgency::Soon, vec![Need::Message(Moment::BlockStart)]));
    }

    #[test]
    fn a_block_should_be_handed_over_before_it_begins() {
        assert_eq!(of(&planned(14, None, true)), (Urgency::Later, vec![Need::HandOver]));
        assert_eq!(of(&planned(13, None, true)), (Urgency::Soon, vec![Need::HandOver]));
        assert_eq!(of(&planned(11, None, true)), (Urgency::Soon, vec![Need::HandOver]));
        assert_eq!(of(&planned(10, None, true)), (Urgency::Now, vec![Need::HandOver]));
    }

    #[test]
    fn goals_are_asked_for_while_there_is_time() {
        assert_eq!(of(&planned(20, Some(2), false)), (Urgency::Later, vec![Need::Goals]));
        assert_eq!(of(&planned(10, Some(2), false)), (Urgency::Soon, vec![Need::Goals]));
        let tune_up = BoardRow { importance: Some(Importance::TuneUp), ..planned(10, Some(2), false) };
        assert_eq!(of(&tune_up), (Urgency::Calm, vec![]));
    }

    #[test]
    fn the_most_urgent_need_is_said_first() {
        assert_eq!(of(&planned(10, None, false)), (Urgency::Now, vec![Need::HandOver, Need::Goals]));
        assert_eq!(of(&planned(14, None, false)).1, vec![Need::HandOver, Need::Goals]);
    }

    #[test]
    fn what_the_review_stops_is_said_at_once_and_somebodys_age_hurries_nothing() {
        let stopped = |rule| {
            let mut row = planned(5, Some(2), true);
            row.block.as_mut().unwrap().stop = Some(rule);
            of(&row)
        };
        let fever = RuleId::IllnessNearRace;
        assert_eq!(stopped(fever), (Urgency::Now, vec![Need::Stop(fever)]));
        let young = RuleId::PersonCaution;
        assert_eq!(stopped(young), (Urgency::Soon, vec![Need::Stop(young)]), "race week is soon in any case");
        let mut early = planned(30, Some(2), true);
        early.block.as_mut().unwrap().stop = Some(young);
        assert_eq!(of(&early), (Urgency::Later, vec![Need::Stop(young)]));
    }

    #[test]
    fn a_day_fixed_in_spite_of_an_illness_is_said_at_once_unless_the_review_stops_for_it() {
        let kind = EventKind::Illness { fever: false };
        let fixed = FixedAgainst { day: day(TODAY), kind, is_hard: true, is_after: false };
        let with_stop =
            |stop| of(&with(planned(30, Some(2), true), |block| (block.fixed, block.stop) = (Some(fixed), stop)));
        assert_eq!(with_stop(None), (Urgency::Now, vec![Need::Fixed(fixed)]));
        let rule = RuleId::FixedAgainstEvent;
        assert_eq!(with_stop(Some(rule)), (Urgency::Now, vec![Need::Stop(rule)]));
    }

    #[test]
    fn a_race_called_off_asks_for_one_thing_only() {
        for row in [racing(9), planned(2, Some(1), false), planned(30, None, true)] {
            assert_eq!(of(&off(row)), (Urgency::Now, vec![Need::CalledOff]));
        }
    }

    /// The same with the next race called off.
    fn off(mut row: BoardRow) -> BoardRow {
        let called_off = row.next_race.as_deref().cloned().unwrap();
        row.next_race = Some(Arc::new(RaceRecord { called_off: Some(day(TODAY)), ..called_off }));
        row
    }

    #[test]
    fn a_result_that_is_not_noted_is_asked_for_last_and_never_urgently() {
        let sunday = day("2027-04-18");
        let raced = |row: BoardRow| BoardRow {
            raced: Some(store::Raced { race: RaceId(9), block: Some(BlockId(9)), day: sunday }),
            ..row
        };
        assert_eq!(of(&raced(row())), (Urgency::Later, vec![Need::Result(sunday)]));
        assert_eq!(of(&raced(planned(20, Some(2), true))), (Urgency::Later, vec![Need::Result(sunday)]));
        let both = of(&raced(planned(20, Some(1), true)));
        assert_eq!(both, (Urgency::Now, vec![OLD, Need::Result(sunday)]));
        assert_eq!(of(&raced(planned(6, Some(2), true))), (Urgency::Soon, vec![Need::Result(sunday)]));
    }

    #[test]
    fn everybody_in_race_week_stands_high_even_with_nothing_to_do() {
        assert_eq!(of(&planned(7, Some(2), true)), (Urgency::Calm, vec![]));
        assert_eq!(of(&planned(6, Some(2), true)), (Urgency::Soon, vec![]));
    }

    #[test]
    fn a_race_that_is_not_the_goal_race_needs_no_block_of_its_own() {
        let through = BoardRow { importance: Some(Importance::TrainingThrough), ..racing(3) };
        assert_eq!(of(&through), (Urgency::Calm, vec![]));
        // It stands high in its week, as any race that is raced does.
        let tune_up = BoardRow { importance: Some(Importance::TuneUp), ..racing(3) };
        assert_eq!(of(&tune_up), (Urgency::Soon, vec![]));
    }

    /// A block that is handed over and has begun so many days ago.
    fn running(begun: i64) -> BoardRow {
        let block = planned(u64::try_from(10 - begun).unwrap(), Some(2), true);
        with(block, |block| block.first_handed_over = Some(noon(day("2027-04-01"))))
    }

    #[test]
    fn more_than_a_week_of_silence_is_asked_about() {
        // Race week stands high anyway, so what is needed is looked at.
        assert_eq!(of(&running(7)).1, vec![]);
        assert_eq!(of(&running(8)).1, vec![Need::Silent(8)]);
        let heard = |days: u64| with(running(9), |block| block.log.heard = Some(day(TODAY) - chrono::Days::new(days)));
        assert_eq!(of(&heard(7)).1, vec![]);
        assert_eq!(of(&heard(8)).1, vec![Need::Silent(8)]);
        let late = with(running(9), |block| block.first_handed_over = Some(noon(day("2027-04-13"))));
        assert_eq!(of(&late).1, vec![], "handed over a week ago");
        let never = with(running(9), |block| block.first_handed_over = None);
        assert_eq!(of(&never).1, vec![], "who holds nothing has nothing to say");
    }

    #[test]
    fn a_voice_that_stopped_matters_more_than_one_that_was_never_heard() {
        let long = |heard| {
            with(running(10), |block| {
                block.first_day = day("2027-04-05");
                block.log.heard = heard;
            })
        };
        let urgency =
            |row: &BoardRow| row.block.as_ref().and_then(|block| silent(block, &look())).map(|(soon, _)| soon);
        assert_eq!(urgency(&long(Some(day("2027-04-05")))), Some(Urgency::Soon));
        assert_eq!(urgency(&long(Some(day("2027-04-04")))), Some(Urgency::Later));
        assert_eq!(urgency(&long(None)), Some(Urgency::Later));
    }

    /// A race in so many days, and four times what was planned today.
    fn ran_more(days: u64) -> BoardRow {
        with(planned(days, Some(2), true), |block| {
            let km = |km| Amount::exact(Milli::whole(km), Unit::Km);
            let planned = || -> planning::Totals { std::iter::once(km(10)).collect() };
            let today = BoardDay { date: day(TODAY), has_race: false, planned: planned(), usual: planned() };
            (block.first_day, block.days) = (day(TODAY), Box::new([today]));
            block.log.runs = Box::new([(day(TODAY), km(40))]);
        })
    }

    #[test]
    fn running_more_is_urgent_in_the_last_two_weeks_and_less_never_is() {
        for (days, urgency) in [(14, Urgency::Now), (15, Urgency::Soon)] {
            let (found, needs) = of(&ran_more(days));
            assert!(matches!(needs[..], [Need::Ran(ran)] if ran.is_more()), "{needs:?}");
            assert_eq!(found, urgency);
        }
        let less = Followed { per_cent: 20, when: super::super::followed::When::LastWeek };
        assert_eq!(of_running(less, 3), Urgency::Soon);
    }

    #[test]
    fn who_holds_the_block_of_a_race_withdrawn_from_is_told_now_whatever_is_ahead() {
        let out = Withdrawn { race: RaceId(7), day: in_days(12) };
        let need = Need::Withdrawn { race: out.race, day: out.day };
        let with = |row: BoardRow| BoardRow { withdrawn: [out].into(), ..row };
        assert_eq!(of(&with(row())), (Urgency::Now, vec![need]), "no race ahead");
        assert_eq!(of(&with(racing(40))), (Urgency::Now, vec![need, Need::Block(in_days(40))]));
        assert_eq!(of(&with(planned(20, Some(2), true))), (Urgency::Now, vec![need]));
        assert_eq!(of(&with(planned(20, Some(1), true))), (Urgency::Now, vec![OLD, need]));
        assert_eq!(of(&with(off(racing(20)))).1, vec![Need::CalledOff, need]);
    }

    #[test]
    fn an_old_base_week_is_asked_for_before_a_block_is_made_from_it() {
        let saved =
            |ago: u64, days| BoardRow { week_saved: Some(noon(day(TODAY) - chrono::Days::new(ago))), ..racing(days) };
        assert_eq!(of(&saved(56, 30)).1, vec![Need::Block(in_days(30))]);
        assert_eq!(of(&saved(57, 30)).1, vec![Need::OldWeek(8), Need::Block(in_days(30))]);
        assert_eq!(of(&saved(63, 56)).1, vec![Need::OldWeek(9), Need::Block(in_days(56))]);
        assert_eq!(of(&saved(63, 57)).1, vec![Need::Block(in_days(57))], "there is time");
        let since = BoardRow { week_since: Some(day(TODAY)), ..saved(63, 30) };
        assert_eq!(of(&since).1, vec![Need::Block(in_days(30))], "typed ahead");
        assert_eq!(of(&saved(63, 5)).0, Urgency::Now, "the missing block is what is urgent");
        let block = BoardRow { week_saved: saved(63, 30).week_saved, ..planned(30, Some(2), true) };
        assert_eq!(of(&block), (Urgency::Later, vec![Need::OldWeek(9)]), "a block does not make the week newer");
    }

    #[test]
    fn what_was_noted_waits_for_the_coach_now() {
        let waits = Waits::Noted(EventKind::Injury);
        let noted = with(planned(20, Some(2), true), |block| block.waits = Some(waits));
        assert_eq!(of(&noted), (Urgency::Now, vec![Need::Waits(waits)]));
    }

    #[test]
    fn who_is_ill_is_told_and_the_more_urgently_the_nearer_the_block_and_the_less_is_known() {
        let ill = |from: &str, to: &str, open| LifeEvent {
            kind: EventKind::Illness { fever: true },
            from: day(from),
            to: day(to),
            noted: day(from),
            open,
        };
        let with = |row: BoardRow, event: LifeEvent| BoardRow { unwell: [event].into(), ..row };
        let open = ill("2027-04-18", TODAY, true);
        // A block for 10 km is 10 days long.
        for (days, urgency) in [(40, Urgency::Soon), (14, Urgency::Soon), (13, Urgency::Now), (11, Urgency::Now)] {
            assert_eq!(of(&with(planned(days, Some(2), true), open)), (urgency, vec![Need::Unwell(open)]), "{days}");
        }
        assert_eq!(of(&with(racing(25), open)).1, vec![Need::Unwell(open), Need::Block(in_days(25))]);
        assert_eq!(of(&with(row(), open)), (Urgency::Later, vec![Need::Unwell(open)]), "no race ahead");
        let known = ill("2027-04-18", "2027-04-21", false);
        // A day without fever and four easy days: to 26 April.
        assert_eq!(of(&with(planned(16, Some(2), true), known)).0, Urgency::Soon, "the block begins on 26 April");
        assert_eq!(of(&with(planned(17, Some(2), true), known)).0, Urgency::Later);
        let over = ill("2027-04-17", "2027-04-19", false);
        assert_eq!(of(&with(planned(30, Some(2), true), over)), (Urgency::Calm, vec![]), "well again");
    }

    #[test]
    fn another_base_week_matters_until_the_block_begins() {
        let changed = |days| with(planned(days, Some(2), true), |block| block.week_changed = true);
        assert_eq!(of(&changed(14)), (Urgency::Later, vec![Need::NewWeek]));
        assert_eq!(of(&changed(13)), (Urgency::Soon, vec![Need::NewWeek]));
        assert_eq!(of(&changed(10)).1, vec![]);
    }
}
