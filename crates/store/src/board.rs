//! The squad board: a row an athlete, in five queries however large the squad.

use std::collections::HashMap;

use chrono::{Days, NaiveDate};
use planning::Importance;
use sqlx::SqliteConnection;

use crate::blocks::read_document;
use crate::cell::{self, Place};
use crate::entries::importance;
use crate::goals::read_goals;
use crate::messages::every_sent;
use crate::races::select_races;
use crate::{AthleteId, BlockId, BoardBlock, BoardRow, Held, RaceRecord, Raced, Result, Shows, Store};

impl Store {
    /// The squad board: a row an athlete, by name.
    pub async fn board(&self, today: NaiveDate) -> Result<Vec<BoardRow>> {
        let since = cell::day_text(today - Days::new(RESULT_DAYS));
        let today = cell::day_text(today);
        let mut tx = self.reading().await?;
        let races = races_from(&mut tx, &today).await?;
        let mut next = next_races(&mut tx, &today).await?;
        // Of several the latest stays.
        let mut behind: HashMap<_, _> = without_result(&mut tx, &since, &today).await?.into_iter().collect();
        let rows = sqlx::query!(
            r#"SELECT athlete.id, athlete.name, athlete.training_group, athlete.units,
                    base_week.saved_at AS "week_saved?"
             FROM athlete LEFT JOIN base_week ON base_week.athlete = athlete.id
             WHERE athlete.removed_at IS NULL
             ORDER BY athlete.name_key, athlete.id"#
        )
        .fetch_all(&mut *tx)
        .await?;
        rows.into_iter()
            .map(|row| {
                let mut board = BoardRow {
                    athlete: AthleteId(row.id),
                    name: row.name,
                    group: row.training_group,
                    units: Place::new("athlete", row.id).units("units", &row.units)?,
                    week_saved: row
                        .week_saved
                        .map(|text| Place::new("base_week", row.id).instant("saved_at", &text))
                        .transpose()?,
                    raced: behind.remove(&row.id),
                    next_race: None,
                    importance: None,
                    block: None,
                };
                if let Some(next) = next.remove(&row.id)
                    && let Some(race) = races.get(&next.race)
                {
                    let mut race = race.clone();
                    race.race.importance = next.importance;
                    board.next_race = Some(race);
                    board.importance = Some(next.importance);
                    board.block = next.block;
                }
                Ok(board)
            })
            .collect()
    }
}

/// How many days after a race its result is asked for.
const RESULT_DAYS: u64 = 14;

/// The races that were run lately and of which no result is noted, as far as there was a block, the latest of
/// each athlete last.
async fn without_result(db: &mut SqliteConnection, since: &str, today: &str) -> Result<Vec<(i64, Raced)>> {
    let rows = sqlx::query!(
        r#"SELECT entry.athlete, block.id AS "block!", race.day
         FROM entry
         JOIN race ON race.id = entry.race AND race.removed_at IS NULL AND race.called_off IS NULL
         JOIN block ON block.athlete = entry.athlete AND block.race = entry.race AND block.removed_at IS NULL
         LEFT JOIN result ON result.race = entry.race AND result.athlete = entry.athlete
         WHERE entry.withdrawn_at IS NULL AND result.race IS NULL AND race.day >= ? AND race.day < ?
         ORDER BY entry.athlete, race.day, race.id"#,
        since,
        today
    )
    .fetch_all(db)
    .await?;
    rows.into_iter()
        .map(|row| {
            let day = Place::new("race", row.block).day("day", &row.day)?;
            Ok((row.athlete, Raced { block: BlockId(row.block), day }))
        })
        .collect()
}

async fn races_from(db: &mut SqliteConnection, today: &str) -> Result<HashMap<i64, RaceRecord>> {
    let rows = select_races!("WHERE removed_at IS NULL AND day >= ? ORDER BY day, id", today).fetch_all(db).await?;
    rows.into_iter().map(|row| Ok((row.id, row.read()?))).collect()
}

/// The next race of one athlete, with the block for it.
struct Next {
    race: i64,
    importance: Importance,
    block: Option<BoardBlock>,
}

/// The next goal race of each athlete who has one, else the next race of any kind: a block leads to a
/// goal race, so that is where an athlete stands. One that is called off counts only where no other
/// goal race is ahead.
async fn next_races(db: &mut SqliteConnection, today: &str) -> Result<HashMap<i64, Next>> {
    let rows = sqlx::query!(
        r#"WITH coming AS (
             SELECT entry.athlete, entry.race, entry.importance,
                    row_number() OVER (
                        PARTITION BY entry.athlete
                        ORDER BY CASE WHEN entry.importance <> 'goal' THEN 2
                                      WHEN race.called_off IS NOT NULL THEN 1 ELSE 0 END,
                                 race.called_off IS NOT NULL,
                                 race.day,
                                 CASE entry.importance WHEN 'tune-up' THEN 0 ELSE 1 END,
                                 race.id) AS place
             FROM entry JOIN race ON race.id = entry.race AND race.removed_at IS NULL
             WHERE entry.withdrawn_at IS NULL AND race.day >= ?)
           SELECT coming.athlete AS "athlete!: i64", coming.race AS "race!: i64",
                  coming.importance AS "importance!: String",
                  block.id AS "block?: i64", block.revision AS "revision?: i64",
                  block_revision.id AS "block_revision?: i64", block_revision.document AS "document?: String",
                  share.id AS "share?: i64", share.revision AS "held_revision?: i64",
                  share.handed_over_at AS "held_at?: String", share.ends AS "held_ends?: String",
                  share.shows_goals AS "shows_goals?: bool", share.shows_stretches AS "shows_stretches?: bool",
                  share.shows_race_day AS "shows_race_day?: bool",
                  max(coalesce(race_sheet.saved_at, ''), coalesce(race_facts.saved_at, ''),
                      coalesce(race_course.saved_at, '')) AS "race_day_saved!: String",
                  hand_over.goals AS "held_goals?: String", goal_document.document AS "goals_now?: String",
                  coalesce(goal_notes.goal_a || goal_notes.goal_b || goal_notes.goal_c, '') <> ''
                      AS "has_goals!: bool"
           FROM coming
           LEFT JOIN block ON block.athlete = coming.athlete AND block.race = coming.race
                          AND block.removed_at IS NULL
           LEFT JOIN block_revision ON block_revision.block = block.id AND block_revision.number = block.revision
           LEFT JOIN share ON share.block = block.id AND share.revoked_at IS NULL
           LEFT JOIN hand_over ON hand_over.id = (SELECT max(id) FROM hand_over WHERE hand_over.share = share.id)
           LEFT JOIN goal_notes ON goal_notes.block = block.id
           LEFT JOIN goal_document ON goal_document.block = block.id
           LEFT JOIN race_sheet ON race_sheet.block = block.id
           LEFT JOIN race_facts ON race_facts.race = coming.race
           LEFT JOIN race_course ON race_course.race = coming.race
           WHERE coming.place = 1
           ORDER BY coming.athlete"#,
        today
    )
    .fetch_all(&mut *db)
    .await?;
    let mut sent = every_sent(db).await?;
    rows.into_iter()
        .map(|row| {
            let importance = importance(row.athlete, &row.importance)?;
            let held = match (row.share, row.held_revision, row.held_at, row.held_ends) {
                (Some(share), Some(revision), Some(at), Some(ends)) => {
                    let shows = Shows {
                        goals: row.shows_goals.unwrap_or(false),
                        stretches: row.shows_stretches.unwrap_or(false),
                        race_day: row.shows_race_day.unwrap_or(false),
                    };
                    let race_day_saved = row.race_day_saved > at;
                    let read = HeldRow { share, revision, at, ends, shows, race_day_saved };
                    Some(read.read(row.held_goals.as_deref(), row.goals_now.as_deref())?)
                }
                _ => None,
            };
            let block = match (row.block, row.revision, row.block_revision, row.document) {
                (Some(id), Some(revision), Some(block_revision), Some(document)) => Some(BoardBlock {
                    id: BlockId(id),
                    revision: Place::new("block", id).number("revision", revision)?,
                    handed_over: held,
                    sent: sent.remove(&id).unwrap_or_default(),
                    block: read_document(block_revision, &document)?,
                    has_goals: row.has_goals,
                }),
                _ => None,
            };
            Ok((row.athlete, Next { race: row.race, importance, block }))
        })
        .collect()
}

/// What an athlete holds, as its row says it.
struct HeldRow {
    share: i64,
    revision: i64,
    at: String,
    ends: String,
    shows: Shows,
    /// Whether anything that a race sheet is made of was saved since.
    race_day_saved: bool,
}

impl HeldRow {
    fn read(self, then: Option<&str>, now: Option<&str>) -> Result<Held> {
        let place = Place::new("share", self.share);
        let shown = |document| {
            read_goals(document).map(|notes| self.shows.of(&notes)).map_err(|error| place.corrupt("goals", error))
        };
        Ok(Held {
            revision: place.number("revision", self.revision)?,
            at: place.instant("handed_over_at", &self.at)?,
            ends: place.day("ends", &self.ends)?,
            // Mostly the texts are the same, and nothing has to be read.
            notes_changed: self.shows.race_day && self.race_day_saved || then != now && shown(then)? != shown(now)?,
        })
    }
}

#[cfg(test)]
mod tests {
    use planning::{Importance, Settings};

    use super::*;
    use crate::testing::{Squad, add, add_race, at, day, squad};
    use crate::{GoalNotes, Version};

    #[tokio::test]
    async fn every_athlete_has_a_row_whatever_is_missing() {
        let Squad { store, athlete, race, week, block } = squad().await;
        add(&store, "Zoe").await;
        let gone = add(&store, "Cy").await;
        store.remove_athlete(gone, at(1)).await.unwrap();
        let rows = store.board(day("2027-04-20")).await.unwrap();
        let names: Vec<_> = rows.iter().map(|row| row.name.as_str()).collect();
        assert_eq!(names, ["Ana", "Zoe"]);
        assert_eq!((rows[0].week_saved, rows[1].week_saved), (week.saved, None));
        assert_eq!(rows[0].next_race, store.race(race).await.unwrap());
        assert_eq!((rows[0].importance, &rows[0].block), (Some(Importance::Goal), &None));
        assert_eq!((&rows[1].next_race, rows[1].importance), (&None, None));

        let id = store.add_block(athlete, race, &Settings::default(), &week, &block, at(5)).await.unwrap();
        let row = store.board(day("2027-05-09")).await.unwrap().remove(0);
        let expected =
            BoardBlock { id, revision: 1, handed_over: None, sent: vec![], block: block.clone(), has_goals: false };
        assert_eq!(row.block, Some(expected), "race day is still before the race");
        let past = store.board(day("2027-05-10")).await.unwrap().remove(0);
        assert_eq!((past.next_race, past.block), (None, None));
    }

    #[tokio::test]
    async fn a_row_says_what_was_handed_over_and_whether_goals_are_written() {
        let Squad { store, athlete, race, week, block } = squad().await;
        let id = store.add_block(athlete, race, &Settings::default(), &week, &block, at(5)).await.unwrap();
        store.hand_over(id, Shows::NOTHING, day("2027-05-23"), at(6)).await.unwrap();
        store.mark_sent(id, planning::Moment::WeekOut, at(6)).await.unwrap();
        store.revise_block(id, Version(1), &Settings::default(), &week, &block, "made anew", at(7)).await.unwrap();
        let state = async || {
            let shown = store.board(day("2027-05-01")).await.unwrap().remove(0).block.unwrap();
            assert_eq!(shown.sent, [planning::Moment::WeekOut]);
            (shown.revision, shown.handed_over.map(|held| (held.revision, held.notes_changed)), shown.has_goals)
        };
        assert_eq!(state().await, (2, Some((1, false)), false));
        let only_words = GoalNotes { message: "Enjoy it.".to_owned(), ..GoalNotes::default() };
        store.save_goals(id, Version(2), &only_words, at(8)).await.unwrap();
        assert_eq!(state().await, (2, Some((1, true)), false), "words to the athlete are no goal, but shown");
        store.save_goals(id, Version(3), &GoalNotes { c: "finish".to_owned(), ..only_words }, at(9)).await.unwrap();
        assert_eq!(state().await, (2, Some((1, true)), true));
        store.hand_over(id, Shows::NOTHING, day("2027-05-23"), at(9)).await.unwrap();
        assert_eq!(state().await, (2, Some((2, false)), true));
        let other_goal = GoalNotes { c: "smile".to_owned(), message: "Enjoy it.".to_owned(), ..GoalNotes::default() };
        store.save_goals(id, Version(4), &other_goal, at(9)).await.unwrap();
        assert_eq!(state().await, (2, Some((2, false)), true), "a goal that is not shown changed");
        store.revoke(id, at(10)).await.unwrap();
        assert_eq!(state().await, (2, None, true));
    }

    #[tokio::test]
    async fn a_race_behind_asks_for_its_result_for_two_weeks() {
        let Squad { store, athlete, race, week, block } = squad().await;
        let raced = async |today: &str| store.board(day(today)).await.unwrap().remove(0).raced;
        assert_eq!(raced("2027-05-10").await, None, "there is no block, and nowhere to note it");
        let id = store.add_block(athlete, race, &Settings::default(), &week, &block, at(5)).await.unwrap();
        let expected = Some(Raced { block: id, day: day("2027-05-09") });
        assert_eq!(raced("2027-05-09").await, None, "race day is still before the race");
        assert_eq!(raced("2027-05-10").await, expected);
        assert_eq!(raced("2027-05-23").await, expected);
        assert_eq!(raced("2027-05-24").await, None);
        store.call_off_race(race, Some(day("2027-05-08")), at(6)).await.unwrap();
        assert_eq!(raced("2027-05-10").await, None);
        store.call_off_race(race, None, at(7)).await.unwrap();
        let (none, ran) = (crate::RaceResult::default(), crate::ReallyRan::default());
        store.save_result((race, athlete), Version(0), &none, ran, at(8)).await.unwrap();
        assert_eq!(raced("2027-05-10").await, None);
    }

    #[tokio::test]
    async fn a_row_says_that_a_race_sheet_that_is_shown_was_saved_since() {
        let Squad { store, athlete, race, week, block } = squad().await;
        let id = store.add_block(athlete, race, &Settings::default(), &week, &block, at(5)).await.unwrap();
        let changed = async || {
            let row = store.board(day("2027-05-01")).await.unwrap().remove(0);
            row.block.unwrap().handed_over.unwrap().notes_changed
        };
        for (hour, shows, expected) in [(6, Shows::ALL, true), (8, Shows::NOTHING, false)] {
            store.hand_over(id, shows, day("2027-05-23"), at(hour)).await.unwrap();
            assert!(!changed().await);
            let version = store.block(id).await.unwrap().unwrap().version;
            store.save_race_sheet(id, version, &crate::RaceSheet::default(), at(hour + 1)).await.unwrap();
            assert_eq!(changed().await, expected, "{shows:?}");
        }
        store.hand_over(id, Shows::ALL, day("2027-05-23"), at(10)).await.unwrap();
        store.save_race_facts(race, Version(0), &crate::RaceFacts::default(), at(11)).await.unwrap();
        assert!(changed().await, "what all have to know of the race stands on it too");
    }

    #[tokio::test]
    async fn the_next_race_is_the_nearest_goal_race_and_any_other_only_without_one() {
        let Squad { store, athlete, race, .. } = squad().await;
        let same_day = add_race(&store, "2027-05-09").await;
        let later = add_race(&store, "2027-06-06").await;
        store.enter(race, athlete, Importance::TrainingThrough, at(1)).await.unwrap();
        store.enter(same_day, athlete, Importance::Goal, at(1)).await.unwrap();
        store.enter(later, athlete, Importance::Goal, at(1)).await.unwrap();
        let next = async |today: &str| {
            let row = store.board(day(today)).await.unwrap().remove(0);
            row.next_race.map(|race| race.id)
        };
        assert_eq!(next("2027-05-09").await, Some(same_day));
        store.call_off_race(same_day, Some(day("2027-05-01")), at(1)).await.unwrap();
        assert_eq!(next("2027-05-09").await, Some(later), "called off, and another goal race is ahead");
        store.call_off_race(later, Some(day("2027-05-01")), at(1)).await.unwrap();
        assert_eq!(next("2027-05-09").await, Some(same_day), "no goal is left, whatever else is run");
        store.call_off_race(same_day, None, at(1)).await.unwrap();
        store.call_off_race(later, None, at(1)).await.unwrap();
        assert_eq!(next("2027-05-10").await, Some(later));
        store.withdraw(later, athlete, at(2)).await.unwrap();
        assert_eq!(next("2027-05-10").await, None);
        store.remove_race(same_day, at(3)).await.unwrap();
        assert_eq!(next("2027-05-01").await, Some(race));
    }
}
