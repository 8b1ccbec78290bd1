//! The squad board: a row an athlete, kept in memory, never older than the file.
//!
//! The first look at a day reads everybody in a few light queries; documents are read only of blocks whose
//! race is ahead. After that a look asks the file who was written for since (`board_change`, which triggers
//! fill, whichever program wrote) and reads those anew: all of it in one transaction, so that the rows are
//! those of one moment. Another day is another board.

mod coming;
mod log;
mod read;
mod row;
mod spared;
#[cfg(test)]
mod tests;
mod waits;
mod withdrawn;

use std::collections::{HashMap, HashSet};
use std::sync::Arc;

use chrono::NaiveDate;
use sqlx::SqliteConnection;
use tokio::sync::Mutex;

use read::Whose;
pub use row::{
    BlockAhead, BlockState, BoardBlock, BoardDay, BoardLog, BoardRow, DAYS_AFTER, DAYS_BEFORE, FixedAgainst, Held,
    NameSearch, Raced, Recovering, Waits, Withdrawn,
};

use crate::{AthleteId, RaceId, Result, Store};

/// Every athlete's row, by name. Cheap to clone.
pub type Board = Arc<[Arc<BoardRow>]>;

/// The rows as they were read last.
#[derive(Debug, Default)]
pub(crate) struct Kept(Mutex<Option<Rows>>);

#[derive(Debug)]
struct Rows {
    today: NaiveDate,
    /// The last change that is in them.
    seq: i64,
    board: Board,
}

/// With more changes than this it is quicker to read everybody anew.
const CHANGES_MOST: usize = 1000;

impl Store {
    /// The squad board on a day: a row an athlete who is not removed, by name.
    ///
    /// The rows are kept in memory; what was written since the last call, by whatever program, is in them.
    pub async fn board(&self, today: NaiveDate) -> Result<Board> {
        // Held throughout, so that rows are never read twice at the same time.
        let mut kept = self.board.0.lock().await;
        let mut tx = self.reading().await?;
        let rows = match kept.as_ref().filter(|rows| rows.today == today) {
            Some(rows) => rows.refreshed(&mut tx).await?,
            None => Some(Rows::anew(&mut tx, today).await?),
        };
        if let Some(rows) = rows {
            *kept = Some(rows);
        }
        Ok(kept.as_ref().map_or_else(|| Arc::from([]), |rows| rows.board.clone()))
    }

    /// How the blocks for a race stand, by their athletes.
    pub async fn block_states(&self, race: RaceId) -> Result<HashMap<AthleteId, BlockState>> {
        let mut tx = self.reading().await?;
        read::states_of_race(&mut tx, race).await
    }
}

impl Rows {
    /// Everybody, read in one pass.
    async fn anew(db: &mut SqliteConnection, today: NaiveDate) -> Result<Self> {
        let seq = sqlx::query_scalar!(r#"SELECT coalesce(max(seq), 0) AS "seq!: i64" FROM board_change"#)
            .fetch_one(&mut *db)
            .await?;
        let mut rows: Vec<_> = read::rows(db, &Whose::Everybody, today).await?.into_iter().map(Arc::new).collect();
        sort(&mut rows);
        Ok(Self { today, seq, board: rows.into() })
    }

    /// The same with everything that was written since; nothing where nothing was.
    async fn refreshed(&self, db: &mut SqliteConnection) -> Result<Option<Self>> {
        let changed = sqlx::query!(
            r#"SELECT athlete AS "athlete!", seq AS "seq!" FROM board_change WHERE seq > ? ORDER BY seq"#,
            self.seq
        )
        .fetch_all(&mut *db)
        .await?;
        let Some(last) = changed.last() else { return Ok(None) };
        if changed.len() > CHANGES_MOST {
            return Ok(Some(Self::anew(db, self.today).await?));
        }
        let seq = last.seq;
        let ids: HashSet<i64> = changed.into_iter().map(|row| row.athlete).collect();
        let fresh = read::rows(db, &Whose::these(ids.iter().copied()), self.today).await?;
        let same = self.board.iter().filter(|row| !ids.contains(&row.athlete.0)).cloned();
        let mut rows: Vec<_> = same.chain(fresh.into_iter().map(Arc::new)).collect();
        sort(&mut rows);
        Ok(Some(Self { today: self.today, seq, board: rows.into() }))
    }
}

/// By name, then by who was added first.
fn sort(rows: &mut [Arc<BoardRow>]) {
    rows.sort_by(|one, other| (&one.name_key, one.athlete).cmp(&(&other.name_key, other.athlete)));
}
