//! Whether everything in the data file is well.

use sqlx::sqlite::SqliteConnectOptions;
use sqlx::{ConnectOptions, Connection, SqliteConnection};

use crate::athletes::every_athlete;
use crate::blocks::check_revisions;
use crate::cell::Place;
use crate::courses::every_course;
use crate::entries::every_entry;
use crate::race_facts::every_race_facts;
use crate::races::every_race;
use crate::shares::{every_hand_over, every_share};
use crate::weeks::kept_week;
use crate::{AthleteId, Result, Store, StoreError};

impl Store {
    /// What the integrity and referential checks and reading every record find; empty is well.
    ///
    /// Each line names what is wrong where, in the database's own words: it is meant for a report,
    /// not for a page.
    ///
    /// # Errors
    ///
    /// The check could not be done.
    pub async fn check(&self) -> Result<Vec<String>> {
        // A connection opened read-only does not load the CHECKs, and so would never miss them.
        let options = SqliteConnectOptions::new().filename(self.path()).pragma("query_only", "ON");
        let mut db = options.connect().await?;
        let found = every_check(&mut db).await;
        db.close().await?;
        found
    }
}

async fn every_check(db: &mut SqliteConnection) -> Result<Vec<String>> {
    let mut tx = db.begin().await?;
    let mut found = Vec::new();
    let read = async |tx: &mut SqliteConnection| Ok(records(tx).await?.iter().map(ToString::to_string).collect());
    for part in [engine(&mut tx).await, references(&mut tx).await, read(&mut tx).await] {
        match part {
            Ok(lines) => found.extend(lines),
            Err(error @ (StoreError::Damaged(_) | StoreError::Corrupt { .. })) => found.push(error.to_string()),
            Err(error) => return Err(error),
        }
    }
    Ok(found)
}

/// What the database engine finds, without reading every record as the pages would.
pub(crate) async fn structure(db: &mut SqliteConnection) -> Result<Vec<String>> {
    let mut found = engine(db).await?;
    found.extend(references(db).await?);
    Ok(found)
}

/// What the database engine finds in its own structure, in CHECKs and in UNIQUEs.
async fn engine(db: &mut SqliteConnection) -> Result<Vec<String>> {
    let lines: Vec<String> = sqlx::query_scalar("PRAGMA integrity_check").fetch_all(db).await?;
    Ok(lines.into_iter().filter(|line| line != "ok").collect())
}

/// Rows that point nowhere.
async fn references(db: &mut SqliteConnection) -> Result<Vec<String>> {
    let rows: Vec<(String, Option<i64>, String, i64)> =
        sqlx::query_as("PRAGMA foreign_key_check").fetch_all(db).await?;
    let line = |(table, row, parent, _): (String, Option<i64>, String, i64)| match row {
        Some(row) => format!("row {row} of {table} points to no row of {parent}"),
        None => format!("a row of {table} points to no row of {parent}"),
    };
    Ok(rows.into_iter().map(line).collect())
}

/// Everything is read as the pages would read it, what is hidden too.
async fn records(db: &mut SqliteConnection) -> Result<Vec<StoreError>> {
    let mut found: Vec<StoreError> = Vec::new();
    found.extend(every_athlete(db).await?.into_iter().filter_map(Result::err));
    found.extend(every_race(db).await?.into_iter().filter_map(Result::err));
    found.extend(every_course(db).await?.into_iter().filter_map(Result::err));
    found.extend(every_race_facts(db).await?.into_iter().filter_map(Result::err));
    found.extend(every_entry(db).await?.into_iter().filter_map(Result::err));
    found.extend(crate::results::every_result(db).await?.into_iter().filter_map(Result::err));
    found.extend(weeks(db).await?);
    found.extend(check_revisions(db).await?);
    found.extend(present_revisions(db).await?);
    found.extend(every_share(db).await?.into_iter().filter_map(Result::err));
    found.extend(every_hand_over(db).await?.into_iter().filter_map(Result::err));
    found.extend(crate::life::every_event(db).await?.into_iter().filter_map(Result::err));
    found.extend(crate::log::check_log(db).await?);
    found.extend(crate::race_sheets::every_race_sheet(db).await?.into_iter().filter_map(Result::err));
    found.extend(crate::messages::check_messages(db).await?);
    found.extend(crate::steps::every_step(db).await?.into_iter().filter_map(Result::err));
    found.extend(crate::templates::every_template(db).await?);
    found.extend(crate::settings::settings(db).await.err());
    Ok(found)
}

/// The first record that cannot be read, if there is one.
pub(crate) async fn first_unreadable(db: &mut SqliteConnection) -> Result<Option<StoreError>> {
    Ok(records(db).await?.into_iter().next())
}

async fn weeks(db: &mut SqliteConnection) -> Result<Vec<StoreError>> {
    let mut found = Vec::new();
    let athletes = sqlx::query_scalar!("SELECT athlete FROM base_week ORDER BY athlete").fetch_all(&mut *db).await?;
    for athlete in athletes {
        match kept_week(db, AthleteId(athlete)).await {
            Err(error @ StoreError::Corrupt { .. }) => found.push(error),
            other => drop(other?),
        }
    }
    Ok(found)
}

/// No foreign key holds this one, because block and revision would point at each other.
async fn present_revisions(db: &mut SqliteConnection) -> Result<Vec<StoreError>> {
    let blocks = sqlx::query_scalar!(
        r#"SELECT block.id AS "id!" FROM block
         LEFT JOIN block_revision ON block_revision.block = block.id AND block_revision.number = block.revision
         WHERE block_revision.id IS NULL ORDER BY block.id"#
    )
    .fetch_all(db)
    .await?;
    Ok(blocks.into_iter().map(|id| Place::new("block", id).corrupt("revision", "there is no such revision")).collect())
}

#[cfg(test)]
mod tests {
    use planning::Settings;
    use sqlx::AssertSqlSafe;

    use crate::testing::{Squad, at, day, squad};

    /// A store with a row in every table.
    async fn full() -> Squad {
        let squad = squad().await;
        let Squad { store, athlete, race, week, block } = &squad;
        let id = store.add_block(*athlete, *race, &Settings::default(), week, block, at(5)).await.unwrap();
        store.save_goals(id, crate::Version(1), &crate::GoalNotes::default(), at(6)).await.unwrap();
        store.hand_over(id, crate::Shows::ALL, day("2027-05-23"), at(7)).await.unwrap();
        store.mark_sent(id, planning::Moment::WeekOut, at(8)).await.unwrap();
        store.save_message_text(planning::Moment::WeekOut, crate::Version(0), "A week.", at(8)).await.unwrap();
        store.save_course(*race, crate::Version(0), &crate::testing::course(), at(9)).await.unwrap();
        store.save_race_facts(*race, crate::Version(0), &crate::testing::race_facts(), at(9)).await.unwrap();
        squad
    }

    #[tokio::test]
    async fn nothing_is_found_where_all_is_well() {
        assert_eq!(full().await.store.check().await.unwrap(), Vec::<String>::new());
    }

    #[tokio::test]
    async fn each_kind_of_damage_is_found_even_in_what_is_hidden() {
        for (damage, expected) in [
            ("UPDATE athlete SET cautions = '[1]'", "athlete.cautions of row 1"),
            ("UPDATE base_week SET sat = '5 leagues'", "base_week.sat of row 1"),
            ("UPDATE race SET day = '2027-02-30'", "race.day of row 1"),
            ("UPDATE race_course SET shape = 'maze'", "race_course.shape of row 1"),
            ("UPDATE race_course SET points = '[[0,null],[0,5]]'", "race_course.points of row 1"),
            ("UPDATE race_facts SET units = 'furlong'", "race_facts.units of row 1"),
            ("UPDATE race_facts SET bags_close = '25:00:00'", "race_facts.bags_close of row 1"),
            ("UPDATE entry SET importance = 'big'", "entry.importance of row 1"),
            ("UPDATE block SET revision = 7", "block.revision of row 1"),
            ("UPDATE block_revision SET document = '{}'", "block_revision.document of row 1"),
            ("UPDATE share SET handed_over_at = 'soon'", "share.handed_over_at of row 1"),
            ("UPDATE hand_over SET at = 'soon'", "hand_over.at of row 1"),
            ("UPDATE hand_over SET goals = '{}'", "hand_over.goals of row 1"),
            ("UPDATE message_sent SET sent_at = 'soon'", "message_sent.sent_at of row 1"),
            ("UPDATE message_text SET moment = 'noon'", "message_text.moment of row 1"),
            ("UPDATE coach_settings SET paper = 'papyrus'", "coach_settings.paper of row 1"),
            ("UPDATE athlete SET units = 'furlong'", "CHECK constraint failed in athlete"),
            ("DELETE FROM entry", "row 1 of block points to no row of entry"),
        ] {
            let Squad { store, athlete, .. } = full().await;
            store.remove_athlete(athlete, at(8)).await.unwrap();
            let mut db = store.stray().await;
            sqlx::raw_sql(AssertSqlSafe(damage)).execute(&mut db).await.unwrap();
            let found = store.check().await.unwrap();
            assert!(found.iter().any(|line| line.contains(expected)), "{damage}: {found:?}");
        }
    }
}
