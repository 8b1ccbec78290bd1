//! A list of athletes with their weeks, brought in by one press.

use chrono::{DateTime, Utc};
use planning::DistanceUnit;
use sqlx::SqliteConnection;
use uuid::Uuid;

use crate::athletes::{athlete, insert};
use crate::cell::Place;
use crate::once::{self, Made};
use crate::steps::{Press, StepKind};
use crate::weeks::{kept_weeks, save, week_of};
use crate::{AthleteDraft, AthleteId, Result, StepId, Store, StoreError, Version, WeekDraft, WeekRecord, name_key};

/// An athlete of the squad who was asked for by name.
#[derive(Clone, Debug, PartialEq)]
pub struct NamedAthlete {
    /// The athlete.
    pub id: AthleteId,
    /// The name as the squad has it.
    pub name: String,
    /// The athlete's units.
    pub units: DistanceUnit,
    /// The base week; at `Version(0)` where none was saved.
    pub week: WeekRecord,
}

/// One athlete of a list.
#[derive(Clone, Debug)]
pub enum BroughtIn {
    /// Somebody new, with a week or without.
    New {
        /// The athlete.
        draft: Box<AthleteDraft>,
        /// The week.
        week: Option<WeekDraft>,
    },
    /// Another week for somebody of the squad; it takes the place of two that take turns.
    Week {
        /// The athlete.
        athlete: AthleteId,
        /// The version at which the week was looked at.
        read_at: Version,
        /// The week.
        week: WeekDraft,
    },
}

impl Store {
    /// The athletes of the squad who are called like one of these, in capitals or not, with marks or not.
    pub async fn named(&self, names: &[String]) -> Result<Vec<NamedAthlete>> {
        let keys: Vec<String> = names.iter().map(|name| name_key(name)).collect();
        let keys = serde_json::Value::from(keys).to_string();
        let mut tx = self.reading().await?;
        let rows = sqlx::query!(
            "SELECT id, name, units FROM athlete
             WHERE removed_at IS NULL AND name_key IN (SELECT value FROM json_each(?)) ORDER BY name_key, id",
            keys
        )
        .fetch_all(&mut *tx)
        .await?;
        let ids: Vec<AthleteId> = rows.iter().map(|row| AthleteId(row.id)).collect();
        let mut weeks = kept_weeks(&mut tx, &ids).await?;
        let read = rows.into_iter().map(|row| {
            let units = Place::new("athlete", row.id).units("units", &row.units)?;
            let week = week_of(weeks.remove(&AthleteId(row.id)), units);
            Ok(NamedAthlete { id: AthleteId(row.id), name: row.name, units, week })
        });
        read.collect()
    }

    /// The step that the form of this key made, if it was sent before.
    pub async fn step_of_form(&self, once: Uuid) -> Result<Option<StepId>> {
        let mut db = self.read_connection().await?;
        Ok(once::made_before(&mut db, once, Made::Step).await?.map(StepId))
    }

    /// Brings in a list: all of it or nothing. `once` is the form's own key: the same key again gives the
    /// same step.
    ///
    /// # Errors
    ///
    /// [`StoreError::Conflict`] where a week was saved since it was looked at, [`StoreError::Gone`] where an
    /// athlete is, [`StoreError::Refused`] where planning finds problems.
    pub async fn bring_in(&self, list: &[BroughtIn], once: Uuid, now: DateTime<Utc>) -> Result<StepId> {
        let mut tx = self.writing().await?;
        if let Some(id) = once::made_before(&mut tx, once, Made::Step).await? {
            return Ok(StepId(id));
        }
        let mut press = Press { kind: StepKind::BringIn, race: None, step: None, now };
        for one in list {
            take(&mut tx, one, &mut press).await?;
        }
        let step = press.begun(&mut tx).await?;
        once::remember(&mut tx, once, Made::Step, step.0, now).await?;
        tx.commit().await?;
        Ok(step)
    }
}

async fn take(tx: &mut SqliteConnection, one: &BroughtIn, press: &mut Press) -> Result<()> {
    match one {
        BroughtIn::New { draft, week } => {
            let id = insert(tx, draft, press.now).await?;
            if let Some(week) = week {
                save(tx, id, Version(0), week, press.now).await?;
            }
            press.note(tx, id, None).await
        }
        BroughtIn::Week { athlete: id, read_at, week } => {
            athlete(tx, *id).await?.ok_or(StoreError::Gone)?;
            let before = press.state(tx, *id).await?;
            save(tx, *id, *read_at, week, press.now).await?;
            press.note(tx, *id, before).await
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::{add, at, day, draft, lines, once, open};
    use crate::{KEPT_DAYS, Purged, SecondWeek};

    fn new(name: &str, mon: &str) -> BroughtIn {
        let week = (!mon.is_empty()).then(|| WeekDraft::of(lines([mon, "", "", "", "", "", "9"])));
        BroughtIn::New { draft: Box::new(draft(name)), week }
    }

    fn week(athlete: AthleteId, read_at: i64, mon: &str) -> BroughtIn {
        BroughtIn::Week {
            athlete,
            read_at: Version(read_at),
            week: WeekDraft::of(lines([mon, "", "", "", "", "", ""])),
        }
    }

    #[tokio::test]
    async fn names_are_found_in_capitals_or_not_and_with_marks_or_not() {
        let store = open().await;
        let (ana, gone) = (add(&store, "Ána Šťastná").await, add(&store, "Bo").await);
        store.remove_athlete(gone, at(1)).await.unwrap();
        let names = ["ANA STASTNA", "Bo", "", "O'Neil \"x\""].map(str::to_owned);
        let found = store.named(&names).await.unwrap();
        assert_eq!(found.iter().map(|one| (one.id, one.week.version)).collect::<Vec<_>>(), [(ana, Version(0))]);
        store.save_week(ana, Version(0), &WeekDraft::of(lines(["5"; 7])), at(2)).await.unwrap();
        assert_eq!(store.named(&names).await.unwrap()[0].week, store.week(ana).await.unwrap().unwrap());
    }

    #[tokio::test]
    async fn a_list_comes_in_as_a_whole_or_not_at_all_and_once() {
        let store = open().await;
        let (ana, key) = (add(&store, "Ana").await, once());
        let stale = store.bring_in(&[new("Bo", "7"), week(ana, 3, "8")], key, at(1)).await;
        assert!(matches!(stale, Err(StoreError::Conflict)), "{stale:?}");
        let refused = store.bring_in(&[new("Bo", "7"), new("Cy", "7 furlongs")], key, at(1)).await;
        assert!(matches!(refused, Err(StoreError::Refused(_))), "{refused:?}");
        assert_eq!(store.athletes().await.unwrap().len(), 1, "nothing of them is kept");
        assert_eq!(store.step_of_form(key).await.unwrap(), None);

        let list = [new("Bo", "7"), new("Cy", ""), week(ana, 0, "8")];
        let step = store.bring_in(&list, key, at(2)).await.unwrap();
        assert_eq!(store.bring_in(&list, key, at(3)).await.unwrap(), step);
        assert_eq!(store.step_of_form(key).await.unwrap(), Some(step));
        assert_eq!(store.athletes().await.unwrap().len(), 3);
        assert_eq!(store.step(step).await.unwrap().unwrap().0.athletes, 3);
    }

    #[tokio::test]
    async fn undo_hides_who_is_new_and_gives_weeks_back_with_their_second_week_or_none() {
        let store = open().await;
        let (ana, bo) = (add(&store, "Ana").await, add(&store, "Bo").await);
        let turning = WeekDraft {
            range: "50-60".to_owned(),
            since: Some(day("2027-03-01")),
            second: Some(SecondWeek { lines: lines(["6"; 7]), stands_on: day("2027-05-03") }),
            ..WeekDraft::of(lines(["8"; 7]))
        };
        store.save_week(ana, Version(0), &turning, at(1)).await.unwrap();
        let before = store.week(ana).await.unwrap().unwrap();
        let step = store.bring_in(&[week(ana, 1, "9"), week(bo, 0, "9"), new("Cy", "7")], once(), at(2)).await.unwrap();
        assert_eq!(store.week(ana).await.unwrap().unwrap().second, None);
        store.undo_step(step, at(3)).await.unwrap();
        let after = store.week(ana).await.unwrap().unwrap();
        assert_eq!((&after.week, &after.lines, &after.range), (&before.week, &before.lines, &before.range));
        assert_eq!((after.second, after.since, after.version), (before.second, before.since, Version(3)));
        assert_eq!(store.week(bo).await.unwrap().unwrap().version, Version(0));
        let removed: Vec<String> = store.removed().await.unwrap().athletes.into_iter().map(|one| one.athlete).collect();
        assert_eq!(removed, ["Cy"]);
        assert_eq!(store.step(step).await.unwrap().unwrap().0.given_back, 3);
        assert_eq!(store.check().await.unwrap(), Vec::<String>::new());
    }

    #[tokio::test]
    async fn a_form_of_a_week_that_an_undone_step_took_away_meets_the_next_week_as_a_conflict() {
        let store = open().await;
        let bo = add(&store, "Bo").await;
        let step = store.bring_in(&[week(bo, 0, "9")], once(), at(1)).await.unwrap();
        let read = store.week(bo).await.unwrap().unwrap().version;
        store.undo_step(step, at(2)).await.unwrap();
        let [next, stale] = ["5", "6"].map(|line| WeekDraft::of(lines([line; 7])));
        store.save_week(bo, Version(0), &next, at(3)).await.unwrap();
        let refused = store.save_week(bo, read, &stale, at(4)).await;
        assert!(matches!(refused, Err(StoreError::Conflict)), "{refused:?}");
        assert_eq!(store.week(bo).await.unwrap().unwrap().lines, next.lines);
    }

    #[tokio::test]
    async fn a_step_goes_for_good_with_the_last_of_its_athletes() {
        let store = open().await;
        let key = once();
        let step = store.bring_in(&[new("Bo", "7")], key, at(1)).await.unwrap();
        store.undo_step(step, at(2)).await.unwrap();
        let later = |days: i64| at(2) + chrono::TimeDelta::days(days);
        assert_eq!(store.purge(later(KEPT_DAYS + 1)).await.unwrap(), Purged::Waits);
        assert_eq!(store.purge(later(KEPT_DAYS + 3)).await.unwrap(), Purged::Gone(1));
        assert_eq!((store.step(step).await.unwrap(), store.step_of_form(key).await.unwrap()), (None, None));
    }
}
