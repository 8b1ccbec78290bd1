//! The course of a race as it was measured.

use chrono::{DateTime, Utc};
use planning::profile::MeasuredPoint;
use planning::{Distance, LineShape};
use sqlx::SqliteConnection;

use crate::cell::{self, Place, commit_as_read};
use crate::races::race;
use crate::{Course, CourseHead, CourseRecord, RaceId, Result, Store, StoreError, Version};

impl Store {
    /// The course of a race, if there is one.
    pub async fn course(&self, race: RaceId) -> Result<Option<CourseRecord>> {
        let mut db = self.read_connection().await?;
        course(&mut db, race).await
    }

    /// What a line of words says of it: thousands of points stay where they are.
    pub async fn course_head(&self, race: RaceId) -> Result<Option<CourseHead>> {
        let mut db = self.read_connection().await?;
        let row = sqlx::query!(
            r#"SELECT file_name, json_extract(points, '$[#-1][0]') AS "length: i64" FROM race_course WHERE race = ?"#,
            race.0
        )
        .fetch_optional(&mut *db)
        .await?;
        let place = Place::new("race_course", race.0);
        row.map(|row| {
            let length = row.length.ok_or_else(|| place.corrupt("points", "there is none"))?;
            Ok(CourseHead { length: Distance::millimetres(length), file_name: row.file_name })
        })
        .transpose()
    }

    /// Saves the course of a race, read at a version: `Version(0)` where there was none. After a course that was taken
    /// away the count goes on: whoever read that one has not seen this one.
    ///
    /// # Errors
    ///
    /// [`StoreError::Conflict`], [`StoreError::Gone`].
    pub async fn save_course(&self, id: RaceId, read_at: Version, course: &Course, now: DateTime<Utc>) -> Result<()> {
        let mut tx = self.writing().await?;
        race(&mut tx, id).await?.ok_or(StoreError::Gone)?;
        let (shape, points, saved_at) = (course.shape.code(), written(&course.points), cell::instant_text(now));
        // Nothing is inserted for a version that is not there, nothing is replaced but the version that was read.
        let saved = sqlx::query!(
            "INSERT INTO race_course (race, version, shape, file_name, points, saved_at)
             SELECT ?1, 1 + coalesce((SELECT version FROM last_version WHERE thing = 'course' AND owner = ?1), 0),
                    ?3, ?4, ?5, ?6
             WHERE ?2 = 0 OR EXISTS (SELECT 1 FROM race_course WHERE race = ?1)
             ON CONFLICT (race) DO UPDATE
             SET version = version + 1, shape = excluded.shape, file_name = excluded.file_name,
                 points = excluded.points, saved_at = excluded.saved_at
             WHERE version = ?2",
            id.0,
            read_at.0,
            shape,
            course.file_name,
            points,
            saved_at
        )
        .execute(&mut *tx)
        .await?;
        commit_as_read(tx, &saved).await
    }

    /// Takes the course of a race away, read at a version. It comes back with its file only. Twice is once.
    ///
    /// # Errors
    ///
    /// [`StoreError::Conflict`] if another course was saved since.
    pub async fn remove_course(&self, race: RaceId, read_at: Version) -> Result<()> {
        let mut tx = self.writing().await?;
        sqlx::query!("DELETE FROM race_course WHERE race = ? AND version = ?", race.0, read_at.0)
            .execute(&mut *tx)
            .await?;
        let left = sqlx::query_scalar!("SELECT version FROM race_course WHERE race = ?", race.0)
            .fetch_optional(&mut *tx)
            .await?;
        if left.is_some() {
            return Err(StoreError::Conflict);
        }
        Ok(tx.commit().await?)
    }
}

pub(crate) async fn course(db: &mut SqliteConnection, race: RaceId) -> Result<Option<CourseRecord>> {
    let row = sqlx::query_as!(
        CourseRow,
        "SELECT race, version, shape, file_name, points FROM race_course WHERE race = ?",
        race.0
    )
    .fetch_optional(db)
    .await?;
    row.map(CourseRow::read).transpose()
}

/// Every course: for the check of the whole file.
pub(crate) async fn every_course(db: &mut SqliteConnection) -> Result<Vec<Result<CourseRecord>>> {
    let rows =
        sqlx::query_as!(CourseRow, "SELECT race, version, shape, file_name, points FROM race_course ORDER BY race")
            .fetch_all(db)
            .await?;
    Ok(rows.into_iter().map(CourseRow::read).collect())
}

struct CourseRow {
    race: i64,
    version: i64,
    shape: String,
    file_name: String,
    points: String,
}

impl CourseRow {
    fn read(self) -> Result<CourseRecord> {
        let place = Place::new("race_course", self.race);
        let course = Course {
            shape: place.word("shape", &self.shape, LineShape::from_code)?,
            file_name: self.file_name,
            points: read_points(&self.points).map_err(|reason| place.corrupt("points", reason))?,
        };
        Ok(CourseRecord { version: Version(self.version), course })
    }
}

/// A point of the document: millimetres along the course, millimetres of height.
type Cell = (i64, Option<i64>);

fn written(points: &[MeasuredPoint]) -> String {
    let height = |point: &MeasuredPoint| point.height.map(|metres| (metres * 1000.0).round() as i64);
    let cells: Vec<Cell> = points.iter().map(|point| (point.along.as_millimetres(), height(point))).collect();
    serde_json::json!(cells).to_string()
}

fn read_points(text: &str) -> std::result::Result<Vec<MeasuredPoint>, String> {
    let cells: Vec<Cell> = serde_json::from_str(text).map_err(|error| error.to_string())?;
    if cells.len() < 2 || cells.first().is_some_and(|(along, _)| *along != 0) {
        return Err("a course has two points or more, the first at the start".to_owned());
    }
    if let Some(at) = cells.windows(2).position(|pair| pair[0].0 >= pair[1].0) {
        return Err(format!("point {} does not lie behind the one before it", at + 2));
    }
    let point = |(along, height): Cell| MeasuredPoint {
        along: Distance::millimetres(along),
        height: height.map(|millimetres| millimetres as f64 / 1000.0),
    };
    Ok(cells.into_iter().map(point).collect())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::{add_race, at, course, open};

    #[tokio::test]
    async fn a_course_comes_back_as_it_was_measured() {
        let store = open().await;
        let race = add_race(&store, "2027-05-09").await;
        assert_eq!(store.course(race).await.unwrap(), None);
        assert_eq!(store.course_head(race).await.unwrap(), None);
        store.save_course(race, Version(0), &course(), at(1)).await.unwrap();
        assert_eq!(store.course(race).await.unwrap(), Some(CourseRecord { version: Version(1), course: course() }));
        let head = CourseHead { length: Distance::metres(21_150), file_name: "larkmere.gpx".to_owned() };
        assert_eq!(store.course_head(race).await.unwrap(), Some(head));
        assert_eq!(store.newest_instant().await.unwrap(), Some(at(1)));
    }

    #[tokio::test]
    async fn a_stale_save_or_removal_writes_nothing() {
        let store = open().await;
        let race = add_race(&store, "2027-05-09").await;
        store.save_course(race, Version(0), &course(), at(1)).await.unwrap();
        let other = Course { shape: LineShape::Route, file_name: "other.gpx".to_owned(), ..course() };
        for stale in [Version(0), Version(2), Version(-1)] {
            let saved = store.save_course(race, stale, &other, at(2)).await;
            assert!(matches!(saved, Err(StoreError::Conflict)), "{stale}: {saved:?}");
            let removed = store.remove_course(race, stale).await;
            assert!(matches!(removed, Err(StoreError::Conflict)), "{stale}: {removed:?}");
        }
        store.save_course(race, Version(1), &other, at(3)).await.unwrap();
        assert_eq!(store.course(race).await.unwrap(), Some(CourseRecord { version: Version(2), course: other }));
    }

    #[tokio::test]
    async fn a_removed_course_is_gone_and_another_may_take_its_place() {
        let store = open().await;
        let race = add_race(&store, "2027-05-09").await;
        store.save_course(race, Version(0), &course(), at(1)).await.unwrap();
        store.remove_course(race, Version(1)).await.unwrap();
        store.remove_course(race, Version(1)).await.unwrap();
        assert_eq!(store.course(race).await.unwrap(), None);
        store.save_course(race, Version(0), &course(), at(2)).await.unwrap();
        assert_eq!(store.course(race).await.unwrap().unwrap().version, Version(2));
        let stale = store.save_course(race, Version(1), &course(), at(3)).await;
        assert!(matches!(stale, Err(StoreError::Conflict)), "the course that was read is gone: {stale:?}");
        assert!(matches!(store.remove_course(race, Version(1)).await, Err(StoreError::Conflict)));
        store.remove_race(race, at(3)).await.unwrap();
        let gone = store.save_course(race, Version(1), &course(), at(4)).await;
        assert!(matches!(gone, Err(StoreError::Gone)), "{gone:?}");
    }

    #[test]
    fn points_that_are_no_course_are_told() {
        assert_eq!(read_points(&written(&course().points)).unwrap(), course().points);
        for text in ["[]", "[[0,null]]", "[[5,null],[9,null]]", "[[0,null],[0,null]]", "[[0,\"x\"],[5,1]]", "[[0],[1]]"]
        {
            assert!(read_points(text).is_err(), "{text}");
        }
    }
}
