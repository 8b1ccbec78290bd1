//! What each athlete needs from the coach, and how soon. Pure: the same row on the same day is always
//! as urgent.

use chrono::{DateTime, NaiveDate, Utc};
use planning::curve::event_defaults;
use planning::{Importance, Moment, RaceDistance, moments};
use store::{BoardBlock, BoardRow};

/// One thing that the coach has to do for an athlete.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Need {
    /// Say how it goes on: the race is called off, and there is no other to plan for.
    CalledOff,
    /// Type the base week.
    BaseWeek,
    /// Make the block for the next race.
    Block,
    /// Hand over what was changed: the athlete holds an old version.
    HandOverAgain {
        /// The version that the athlete holds.
        held: u32,
        /// When it was handed over.
        at: DateTime<Utc>,
        /// The version that the block stands at.
        present: u32,
    },
    /// Hand over anew: the days are the same, what is shown of the goals is not.
    NotesAgain,
    /// Hand over anew: the link has ended by its date.
    LinkEnded,
    /// Send a message that is due today.
    Message(Moment),
    /// Hand the block over.
    HandOver,
    /// Write the goals.
    Goals,
    /// Note what came out of the race of this day.
    Result(NaiveDate),
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

/// Race week: the seven days that end on race day.
const RACE_WEEK: i64 = 6;

/// Where the athlete of a board row stands today.
pub(crate) fn standing(row: &BoardRow, today: NaiveDate) -> Standing {
    let mut found: Vec<(Urgency, Need)> = Vec::new();
    let to_race = row.next_race.as_ref().map(|race| (race.race.date - today).num_days());
    let Some((race, days)) = row.next_race.as_ref().zip(to_race) else {
        let mut needs = if row.week_saved.is_none() { vec![Need::BaseWeek] } else { Vec::new() };
        needs.extend(no_result(row));
        let urgency = if needs.is_empty() { Urgency::Resting } else { Urgency::Later };
        return Standing { urgency, needs, to_race };
    };
    if race.called_off.is_some() {
        let needs = std::iter::once(Need::CalledOff).chain(no_result(row)).collect();
        return Standing { urgency: Urgency::Now, needs, to_race };
    }
    let importance = row.importance.unwrap_or_default();
    let runs_through = importance == Importance::TrainingThrough;
    let until_start = match &row.block {
        Some(block) => (block.block.first_day() - today).num_days(),
        None => days - usual_length(race.race.distance),
    };
    if row.week_saved.is_none() {
        found.push((if runs_through { Urgency::Later } else { at_start(until_start, MAKE_DAYS) }, Need::BaseWeek));
    }
    match &row.block {
        None if runs_through => {}
        None => found.push((at_start(until_start, MAKE_DAYS), Need::Block)),
        Some(block) => {
            if let Some(lack) = not_handed_over(block, today) {
                let urgency = match lack {
                    Need::HandOverAgain { .. } => Urgency::Now,
                    Need::NotesAgain => Urgency::Soon,
                    _ => at_start(until_start, LEAD_DAYS),
                };
                found.push((urgency, lack));
            }
            found.extend(due_today(block, today).map(|moment| (Urgency::Soon, Need::Message(moment))));
            if !block.has_goals && importance == Importance::Goal {
                found.push((if days <= GOAL_DAYS { Urgency::Soon } else { Urgency::Later }, Need::Goals));
            }
        }
    }
    found.extend(no_result(row).map(|need| (Urgency::Later, need)));
    // Stable: what was found first stays first among equals.
    found.sort_by_key(|(urgency, _)| *urgency);
    let rest = if days <= RACE_WEEK && !runs_through { Urgency::Soon } else { Urgency::Calm };
    let urgency = found.first().map_or(rest, |(urgency, _)| (*urgency).min(rest));
    Standing { urgency, needs: found.into_iter().map(|(_, need)| need).collect(), to_race }
}

/// The result of the last race, where none is noted: there is time.
fn no_result(row: &BoardRow) -> Option<Need> {
    row.raced.map(|raced| Need::Result(raced.day))
}

/// What the block lacks so that the athlete holds it as it is.
pub(crate) fn not_handed_over(block: &BoardBlock, today: NaiveDate) -> Option<Need> {
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

/// The message that is due today and was not sent yet.
fn due_today(block: &BoardBlock, today: NaiveDate) -> Option<Moment> {
    let due = moments(&block.block).into_iter().find(|(_, day)| *day == today).map(|(moment, _)| moment);
    due.filter(|moment| !block.sent.contains(moment))
}

/// Most urgent first, then the nearest race; by name as they came where both are equal.
pub(crate) fn sort<T>(rows: &mut [(T, Standing)]) {
    rows.sort_by_key(|(_, standing)| (standing.urgency, standing.to_race.unwrap_or(i64::MAX)));
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
    use planning::{Athlete, DistanceUnit, Race, Request, Settings};
    use store::{AthleteId, BlockId, Held, RaceId, RaceRecord, Version};

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

    /// An athlete with a base week and nothing else.
    fn row() -> BoardRow {
        BoardRow {
            athlete: AthleteId(1),
            name: "Ana".to_owned(),
            group: String::new(),
            units: DistanceUnit::Km,
            week_saved: Some(in_days(0).and_time(chrono::NaiveTime::MIN).and_utc()),
            raced: None,
            next_race: None,
            importance: None,
            block: None,
        }
    }

    fn racing(days: u64) -> BoardRow {
        let next_race = Some(RaceRecord {
            id: RaceId(1),
            version: Version(1),
            race: race(days),
            place: String::new(),
            called_off: None,
        });
        BoardRow { next_race, importance: Some(Importance::Goal), ..row() }
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
                id: BlockId(1),
                revision: 2,
                handed_over,
                sent: Moment::ALL.to_vec(),
                block,
                has_goals,
            }),
            ..racing(days)
        }
    }

    fn of(row: &BoardRow) -> (Urgency, Vec<Need>) {
        let standing = standing(row, day(TODAY));
        (standing.urgency, standing.needs)
    }

    #[test]
    fn a_missing_block_is_urgent_from_the_day_on_which_it_should_begin() {
        // A block for 10 km is 10 days long.
        assert_eq!(of(&racing(0)), (Urgency::Now, vec![Need::Block]));
        assert_eq!(of(&racing(10)), (Urgency::Now, vec![Need::Block]));
        assert_eq!(of(&racing(11)), (Urgency::Soon, vec![Need::Block]));
        assert_eq!(of(&racing(24)), (Urgency::Soon, vec![Need::Block]));
        assert_eq!(of(&racing(25)), (Urgency::Later, vec![Need::Block]));
    }

    #[test]
    fn a_missing_base_week_comes_before_the_block_that_needs_it() {
        let without = BoardRow { week_saved: None, ..racing(12) };
        assert_eq!(of(&without), (Urgency::Soon, vec![Need::BaseWeek, Need::Block]));
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
            block.handed_over = Some(Held { notes_changed: true, ..held(2) });
        });
        assert_eq!(of(&changed), (Urgency::Soon, vec![Need::NotesAgain]));
    }

    #[test]
    fn a_link_that_has_ended_shows_nothing() {
        let ends =
            |day| with(planned(9, Some(2), true), |block| block.handed_over = Some(Held { ends: day, ..held(2) }));
        assert_eq!(of(&ends(day(TODAY))), (Urgency::Calm, vec![]), "it works on its last day");
        assert_eq!(of(&ends(day("2027-04-19"))), (Urgency::Now, vec![Need::LinkEnded]));
    }

    #[test]
    fn a_message_is_due_on_its_day_until_it_is_sent() {
        let unsent = |days| with(planned(days, Some(2), true), |block| block.sent.clear());
        for (days, moment) in
            [(10, Moment::BlockStart), (7, Moment::WeekOut), (3, Moment::ThreeDaysOut), (1, Moment::DayBefore)]
        {
            assert_eq!(of(&unsent(days)), (Urgency::Soon, vec![Need::Message(moment)]), "{days}");
            assert_eq!(of(&planned(days, Some(2), true)).1, vec![], "{days}");
        }
        assert_eq!(of(&unsent(8)), (Urgency::Calm, vec![]));
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
    fn a_race_called_off_asks_for_one_thing_only() {
        for mut row in [racing(9), planned(2, Some(1), false), planned(30, None, true)] {
            if let Some(race) = &mut row.next_race {
                race.called_off = Some(day(TODAY));
            }
            assert_eq!(of(&row), (Urgency::Now, vec![Need::CalledOff]));
        }
    }

    #[test]
    fn a_result_that_is_not_noted_is_asked_for_last_and_never_urgently() {
        let sunday = day("2027-04-18");
        let raced = |row: BoardRow| BoardRow { raced: Some(store::Raced { block: BlockId(9), day: sunday }), ..row };
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
    fn a_race_run_out_of_normal_training_needs_no_block() {
        let through = BoardRow { importance: Some(Importance::TrainingThrough), ..racing(3) };
        assert_eq!(of(&through), (Urgency::Calm, vec![]));
    }

    #[test]
    fn the_board_goes_from_urgent_to_resting_and_by_days_within() {
        let rows = [
            ("resting", row()),
            ("calm", planned(20, Some(2), true)),
            ("later", racing(40)),
            ("soon, farther", racing(20)),
            ("soon, nearer", racing(12)),
            ("now", racing(9)),
            ("race week", planned(2, Some(2), true)),
        ];
        let mut sorted: Vec<_> = rows.iter().map(|(name, row)| (*name, standing(row, day(TODAY)))).collect();
        sort(&mut sorted);
        let names: Vec<_> = sorted.iter().map(|(name, _)| *name).collect();
        assert_eq!(names, ["now", "race week", "soon, nearer", "soon, farther", "later", "calm", "resting"]);
    }
}
