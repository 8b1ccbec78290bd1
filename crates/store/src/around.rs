//! What the pages of blocks know beside the blocks, of one as of many.

use std::collections::HashMap;

use chrono::NaiveDate;

use crate::blocks::Blocks;
use crate::entries::entries_of_each;
use crate::life::{events_of_each, taken_back_since};
use crate::log::{done_sessions_of_each, done_weeks_of_each};
use crate::weeks::{kept_weeks, week_of};
use crate::{
    AthleteId, BlockId, BlockRecord, DoneRecord, DoneWeekRecord, Entry, EventRecord, RaceRecord, Result, Store,
    WeekRecord,
};

/// A block, and what else is known of its athlete.
#[derive(Clone, Debug, PartialEq)]
pub struct BlockAround {
    /// The block.
    pub record: BlockRecord,
    /// The base week as it is now, see [`Store::week`].
    pub week: WeekRecord,
    /// The races that the athlete is entered in, see [`Store::entries_of`].
    pub entries: Vec<(Entry, RaceRecord)>,
    /// What happened to the athlete, see [`Store::events_of`].
    pub events: Vec<EventRecord>,
    /// What the block as it stands knew of, and was taken back since.
    pub taken_back: Vec<EventRecord>,
    /// What was run lately, see [`Store::done_sessions_of`].
    pub sessions: Vec<DoneRecord>,
    /// What was said of lately's weeks, see [`Store::done_weeks_of`].
    pub done_weeks: Vec<DoneWeekRecord>,
}

impl Store {
    /// Blocks in the order of their ids, each with what is known of its athlete, of the log from a day on; one
    /// that is not there is left out. All is of one moment, and however many blocks there are, each table is
    /// asked once.
    pub async fn blocks_around(&self, ids: &[BlockId], from: NaiveDate) -> Result<Vec<BlockAround>> {
        let mut tx = self.reading().await?;
        let blocks = Blocks::of(&mut tx, ids).await?;
        let athletes = blocks.athletes();
        let weeks = kept_weeks(&mut tx, &athletes).await?;
        let entries = entries_of_each(&mut tx, &athletes).await?;
        let events = events_of_each(&mut tx, &athletes).await?;
        let mut taken_back = taken_back_since(&mut tx, ids).await?;
        let sessions = done_sessions_of_each(&mut tx, &athletes, from).await?;
        let done_weeks = done_weeks_of_each(&mut tx, &athletes, from).await?;
        let around = blocks.read(&mut tx).await?.into_iter().map(|record| {
            let athlete = record.athlete.id;
            BlockAround {
                week: week_of(weeks.get(&athlete).cloned(), record.athlete.draft.athlete.units),
                entries: of(&entries, athlete),
                events: of(&events, athlete),
                taken_back: taken_back.remove(&record.id).unwrap_or_default(),
                sessions: of(&sessions, athlete),
                done_weeks: of(&done_weeks, athlete),
                record,
            }
        });
        Ok(around.collect())
    }
}

/// What of all is an athlete's. Copied: one athlete may have several of the blocks.
fn of<T: Clone>(all: &HashMap<AthleteId, Vec<T>>, athlete: AthleteId) -> Vec<T> {
    all.get(&athlete).cloned().unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use planning::{EventKind, LifeEvent, Settings};

    use super::*;
    use crate::testing::{Squad, add, add_race, at, day, lines, squad};
    use crate::{GoalNotes, RaceSheet, Shows, Version, WeekDraft};

    #[tokio::test]
    async fn many_blocks_are_read_as_each_one_is() {
        let Squad { store, athlete: ana, race, week, block } = squad().await;
        let ben = add(&store, "Ben").await;
        store.save_week(ben, Version(0), &WeekDraft::of(lines(["8"; 7])), at(1)).await.unwrap();
        let autumn = add_race(&store, "2027-10-10").await;
        for (race, athlete) in [(race, ben), (autumn, ana)] {
            store.enter(race, athlete, planning::Importance::Goal, at(1)).await.unwrap();
        }
        let keep = async |athlete, race, minute| {
            store.add_block(athlete, race, &Settings::default(), &week, &block, at(minute)).await.unwrap()
        };
        let (first, second, third) = (keep(ana, race, 5).await, keep(ben, race, 6).await, keep(ana, autumn, 7).await);
        let illness = LifeEvent {
            kind: EventKind::Illness { fever: false },
            from: day("2027-04-26"),
            to: day("2027-04-27"),
            noted: day("2027-04-27"),
            open: false,
        };
        store.add_event(ana, &illness, "", at(8)).await.unwrap();
        store.add_done_session(ben, day("2027-04-27"), "8", None, None, day("2027-04-27"), at(8)).await.unwrap();
        store.save_done_week(ana, day("2027-04-26"), Version(0), "40", "", day("2027-05-02"), at(8)).await.unwrap();
        let goals = GoalNotes { a: "sub 40".to_owned(), ..GoalNotes::default() };
        store.save_goals(first, Version(1), &goals, at(8)).await.unwrap();
        store
            .save_race_sheet(third, Version(1), &RaceSheet { bib: "7".into(), ..RaceSheet::default() }, at(8))
            .await
            .unwrap();
        store.hand_over(second, Shows::ALL, day("2027-05-23"), at(9)).await.unwrap();
        store.revise_block(second, Version(1), &Settings::default(), &week, &block, "made anew", at(9)).await.unwrap();
        store.revise_block(first, Version(2), &Settings::default(), &week, &block, "bent", at(9)).await.unwrap();
        store.undo_block(first, Version(3)).await.unwrap();

        let from = day("2027-04-20");
        let all = store.blocks_around(&[third, BlockId(99), second, first], from).await.unwrap();
        assert_eq!(all.iter().map(|one| one.record.id).collect::<Vec<_>>(), [third, second, first], "in their order");
        for one in &all {
            let athlete = one.record.athlete.id;
            let alone = BlockAround {
                record: store.block(one.record.id).await.unwrap().unwrap(),
                week: store.week(athlete).await.unwrap().unwrap(),
                entries: store.entries_of(athlete).await.unwrap(),
                events: store.events_of(athlete).await.unwrap(),
                taken_back: Vec::new(),
                sessions: store.done_sessions_of(athlete, from).await.unwrap(),
                done_weeks: store.done_weeks_of(athlete, from).await.unwrap(),
            };
            assert_eq!(one, &alone);
        }
        let [third, second, first] = all.as_slice() else { panic!("three blocks") };
        assert_eq!((first.entries.len(), first.events.len(), first.done_weeks.len()), (2, 1, 1));
        assert_eq!((&third.week, &third.entries), (&first.week, &first.entries), "both of the same athlete");
        assert_eq!((second.sessions.len(), second.entries.len(), second.record.revision), (1, 1, 2));
        assert_eq!((first.record.goals.a.as_str(), third.record.race_sheet.bib.as_str()), ("sub 40", "7"));
        assert!(first.record.redo.is_some() && second.record.undo.is_some() && second.record.share.is_some());
        assert!(first.record.share.is_none() && third.record.redo.is_none() && third.record.undo.is_none());
    }

    #[tokio::test]
    async fn what_a_version_knew_of_and_was_taken_back_since_is_told_with_it_and_nothing_else() {
        let Squad { store, athlete, race, week, block } = squad().await;
        let event = LifeEvent {
            kind: EventKind::Injury,
            from: day("2027-04-26"),
            to: day("2027-04-27"),
            noted: day("2027-04-27"),
            open: false,
        };
        let before = store.add_event(athlete, &event, "", at(1)).await.unwrap();
        store.remove_event(athlete, before, at(2)).await.unwrap();
        let known = store.add_event(athlete, &event, "knee", at(3)).await.unwrap();
        let id = store.add_block(athlete, race, &Settings::default(), &week, &block, at(5)).await.unwrap();
        let later = store.add_event(athlete, &event, "heel", at(6)).await.unwrap();
        let told = async || {
            let around = store.blocks_around(&[id], day("2027-04-20")).await.unwrap();
            around[0].taken_back.iter().map(|event| event.id).collect::<Vec<_>>()
        };
        assert_eq!(told().await, [], "all stands that it knows of");
        store.remove_event(athlete, known, at(7)).await.unwrap();
        store.remove_event(athlete, later, at(8)).await.unwrap();
        assert_eq!(told().await, [known]);
        store.revise_block(id, Version(1), &Settings::default(), &week, &block, "anew", at(9)).await.unwrap();
        assert_eq!(told().await, [], "the new version does not know of it");
        store.undo_block(id, Version(2)).await.unwrap();
        assert_eq!(told().await, [known], "the one before does");
    }

    #[tokio::test]
    async fn who_is_hidden_is_left_out_with_the_block() {
        let Squad { store, athlete, race, week, block } = squad().await;
        let id = store.add_block(athlete, race, &Settings::default(), &week, &block, at(5)).await.unwrap();
        let from = day("2027-04-20");
        assert_eq!(store.blocks_around(&[id], from).await.unwrap().len(), 1);
        store.remove_athlete(athlete, at(6)).await.unwrap();
        assert_eq!(store.blocks_around(&[id], from).await.unwrap(), []);
        assert_eq!(store.blocks_around(&[], from).await.unwrap(), []);
    }
}
