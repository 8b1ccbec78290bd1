//! The races ahead of each athlete: the next one, the blocks for others farther ahead, and those that have their place
//! in a block for another race.

use std::collections::HashMap;

use chrono::{Days, NaiveDate};
use planning::{Athlete, Importance};
use sqlx::SqliteConnection;

use super::read::{Whose, fetch_entries};
use super::row::BlockAhead;
use crate::blocks::read_document;
use crate::cell::{self, Place, id_list};
use crate::document::{Dates, dates};
use crate::entries::importance;
use crate::{BlockId, Result};

/// Entries in races to come, each athlete's next one first. Everybody's are found by the races, some
/// athletes' by these: there are few of either.
macro_rules! select_coming {
    ($from:literal, $rest:literal, $today:expr $(, $argument:expr)*) => {
        sqlx::query_as!(
            ComingRow,
            r#"SELECT entry.athlete, entry.race, entry.importance, race.day, block.id AS "block?: i64",
                      race.called_off IS NOT NULL AS "is_off!: bool" "#
                + $from
                + " LEFT JOIN block ON block.athlete = entry.athlete AND block.race = entry.race AND block.removed_at IS NULL
               WHERE entry.withdrawn_at IS NULL AND race.removed_at IS NULL AND race.day >= ?
                     AND (race.called_off IS NULL OR entry.settled_at IS NULL) "
                + $rest
                + " ORDER BY entry.athlete,
                        CASE WHEN entry.importance <> 'goal' THEN 2
                             WHEN race.called_off IS NOT NULL THEN 1 ELSE 0 END,
                        race.called_off IS NOT NULL,
                        race.day,
                        CASE entry.importance WHEN 'tune-up' THEN 0 ELSE 1 END,
                        race.id",
            $today
            $(, $argument)*
        )
    };
}

/// The next race of one athlete, with the block for it.
pub(super) struct Next {
    pub(super) race: i64,
    pub(super) importance: Importance,
    pub(super) block: Option<i64>,
    /// The blocks for the others that take place.
    others: Vec<Other>,
    /// Every race that is no goal and takes place: it belongs into the block that has its day.
    on_the_way: Vec<OnTheWay>,
}

/// A block for a race farther ahead.
struct Other {
    block: i64,
    race: i64,
    /// The day of its race.
    day: NaiveDate,
    importance: Importance,
}

/// A race on the way to another.
struct OnTheWay {
    race: i64,
    day: NaiveDate,
}

impl Next {
    fn new(race: i64, importance: Importance, block: Option<i64>) -> Self {
        Self { race, importance, block, others: Vec::new(), on_the_way: Vec::new() }
    }

    /// The days of races that have their place in a block for this race, if they lie in it.
    pub(super) fn on_the_way_to(&self, race: i64) -> Vec<NaiveDate> {
        self.on_the_way.iter().filter(|other| other.race != race).map(|other| other.day).collect()
    }
}

struct ComingRow {
    athlete: i64,
    race: i64,
    importance: String,
    day: String,
    block: Option<i64>,
    is_off: bool,
}

/// The next goal race of each athlete who has one, else the next race of any kind: a block leads to a
/// goal race, so that is where an athlete stands. One that is called off counts only where no other
/// goal race is ahead, and not once it is settled how the athlete goes on.
pub(super) async fn next_races(
    db: &mut SqliteConnection,
    whose: &Whose,
    today: NaiveDate,
) -> Result<HashMap<i64, Next>> {
    let today = cell::day_text(today);
    let coming = fetch_entries!(select_coming, db, whose, today);
    let mut next: HashMap<i64, Next> = HashMap::new();
    for row in coming {
        let importance = importance(row.athlete, &row.importance)?;
        let (block, is_first) = (row.block.filter(|_| !row.is_off), !next.contains_key(&row.athlete));
        let known = next.entry(row.athlete).or_insert_with(|| Next::new(row.race, importance, row.block));
        let is_on_the_way = importance != Importance::Goal && !row.is_off;
        if is_on_the_way || (block.is_some() && !is_first) {
            let day = Place::new("race", row.race).day("day", &row.day)?;
            known.on_the_way.extend(is_on_the_way.then_some(OnTheWay { race: row.race, day }));
            let other = block.filter(|_| !is_first).map(|block| Other { block, race: row.race, day, importance });
            known.others.extend(other);
        }
    }
    Ok(next)
}

/// The blocks for races farther ahead, by athlete, in the order of their races.
pub(super) async fn ahead(
    db: &mut SqliteConnection,
    next: &HashMap<i64, Next>,
) -> Result<HashMap<i64, Vec<BlockAhead>>> {
    let others = next.values().flat_map(|next| next.others.iter().map(move |other| (other.block, (next, other))));
    let others: HashMap<i64, (&Next, &Other)> = others.collect();
    if others.is_empty() {
        return Ok(HashMap::new());
    }
    let ids = id_list(others.keys().copied());
    let rows = sqlx::query!(
        r#"SELECT block.id AS "id!: i64", block.athlete AS "athlete!: i64", block.revision,
                  block_revision.id AS "block_revision!: i64", block_revision.document AS "document!: String",
                  block_revision.before_events,
                  (SELECT birth_year FROM athlete WHERE athlete.id = block.athlete) AS "birth_year?: i32",
                  share.id AS "share?: i64", share.revision AS "held?: i64", share.handed_over_at AS "at?: String"
           FROM block
           JOIN block_revision ON block_revision.block = block.id AND block_revision.number = block.revision
           LEFT JOIN share ON share.block = block.id AND share.revoked_at IS NULL
           WHERE block.id IN (SELECT value FROM json_each(?))
           ORDER BY block.id"#,
        ids
    )
    .fetch_all(&mut *db)
    .await?;
    let mut found: HashMap<i64, Vec<BlockAhead>> = HashMap::new();
    for row in rows {
        let Some((next, other)) = others.get(&row.id) else { continue };
        let (block, revision) = (Place::new("block", row.id), Place::new("block_revision", row.block_revision));
        let dates = dates(&row.document).map_err(|reason| revision.corrupt("document", reason))?;
        let plan = Plan { revision: row.block_revision, document: row.before_events.as_ref().unwrap_or(&row.document) };
        let held = match (row.share, row.held, row.at) {
            (Some(share), Some(held), Some(at)) => {
                let share = Place::new("share", share);
                Some((share.number("revision", held)?, share.instant("handed_over_at", &at)?))
            }
            _ => None,
        };
        found.entry(row.athlete).or_default().push(BlockAhead {
            block: BlockId(row.id),
            race_day: other.day,
            importance: other.importance,
            made_for: dates.race_day,
            first_day: dates.first_day(),
            revision: block.number("revision", row.revision)?,
            held,
            lacks: plan.lacks(dates, &next.on_the_way_to(other.race))?,
            before_youth: before_youth(row.birth_year, dates),
        });
    }
    for blocks in found.values_mut() {
        blocks.sort_by_key(|one| (one.race_day, one.block));
    }
    Ok(found)
}

/// Whether somebody born in a year is under 18 in that of a race whose block was made for a grown-up.
pub(super) fn before_youth(birth_year: Option<i32>, block: Dates) -> bool {
    !block.of_youth && Athlete { birth_year, ..Athlete::default() }.is_under_18(block.race_day)
}

/// The plan of a block, under what happened on the way, as it is kept.
pub(super) struct Plan<'a> {
    pub(super) revision: i64,
    pub(super) document: &'a str,
}

/// Before its first day a block has the rest of a week at the most.
const DAYS_BEFORE_FIRST: u64 = 6;

impl Plan<'_> {
    /// The first of some days of races on the way that has no race in the plan. It is read whole only where one of the
    /// days lies in it, which is seldom.
    pub(super) fn lacks(&self, dates: Dates, races: &[NaiveDate]) -> Result<Option<NaiveDate>> {
        let within = dates.first_day() - Days::new(DAYS_BEFORE_FIRST)..dates.race_day;
        if !races.iter().any(|day| within.contains(day)) {
            return Ok(None);
        }
        let block = read_document(self.revision, self.document)?;
        Ok(races.iter().copied().find(|day| block.lacks_race_on(*day)))
    }
}
