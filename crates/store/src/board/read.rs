//! Reads rows of the board: of everybody, or of some, in the same few queries.

use std::collections::{BTreeSet, HashMap};
use std::sync::Arc;

use chrono::{Datelike, Days, NaiveDate};
use planning::curve::{LENGTHS, event_defaults};
use planning::{Importance, Moment, moments_between};
use sqlx::SqliteConnection;

use super::coming::{Next, Plan, ahead, before_youth, next_races};
use super::log::lately;
use super::row::{BlockState, BoardBlock, BoardLog, BoardRow, DAYS_AFTER, DAYS_BEFORE, Held, Raced};
use super::spared::{Behind, behind, unwell};
use super::waits::{Judged, WAY_BACK_DAYS, judged};
use super::withdrawn::withdrawn;
use crate::cell::{self, Place, id_list};
use crate::document::{Dates, Glance, glance};
use crate::goals::read_goals;
use crate::races::select_races;
use crate::{AthleteId, BlockId, RaceId, RaceRecord, Result, Shows};

/// How many days after a race its result is asked for.
const RESULT_DAYS: u64 = 14;

/// The age of majority, in years.
const GROWN_UP: i32 = 18;

/// Whose rows are read.
pub(super) enum Whose {
    Everybody,
    /// A JSON array of athletes' ids.
    These(String),
}

/// Asks a query over entries and their races, for everybody or for some: what is selected, the connection, whose, and
/// what the query is given. The order of the join is said, because SQLite cannot know how few races are ahead.
macro_rules! fetch_entries {
    ($select:ident, $db:expr, $whose:expr $(, $argument:expr)+) => {
        match $whose {
            Whose::Everybody => {
                $select!("FROM race CROSS JOIN entry ON entry.race = race.id", "" $(, $argument)+)
                    .fetch_all(&mut *$db)
                    .await?
            }
            Whose::These(ids) => {
                $select!(
                    "FROM entry CROSS JOIN race ON race.id = entry.race",
                    "AND entry.athlete IN (SELECT value FROM json_each(?))"
                    $(, $argument)+,
                    ids
                )
                .fetch_all(&mut *$db)
                .await?
            }
        }
    };
}
pub(super) use fetch_entries;

impl Whose {
    pub(super) fn these(ids: impl Iterator<Item = i64>) -> Self {
        Self::These(id_list(ids))
    }
}

/// Athletes who are not removed, with what is needed of their base weeks.
macro_rules! select_people {
    ($rest:literal $(, $argument:expr)*) => {
        sqlx::query_as!(
            PersonRow,
            r#"SELECT athlete.id AS "id!: i64", athlete.name, athlete.name_key, athlete.training_group, athlete.units,
                      json_array_length(athlete.cautions) AS "cautions!: u32",
                      base_week.saved_at AS "week_saved?", base_week.since AS "week_since?"
               FROM athlete LEFT JOIN base_week ON base_week.athlete = athlete.id
               WHERE athlete.removed_at IS NULL "#
                + $rest
                + " ORDER BY athlete.id"
            $(, $argument)*
        )
    };
}

/// Goal races behind, and other ones with blocks, of which no result is noted.
macro_rules! select_behind {
    ($from:literal, $rest:literal, $since:expr, $today:expr $(, $argument:expr)*) => {
        sqlx::query_as!(
            BehindRow,
            r#"SELECT entry.athlete, block.id AS "block?: i64", race.id AS "race!", race.day "#
                + $from
                + " LEFT JOIN block ON block.athlete = entry.athlete AND block.race = entry.race AND block.removed_at IS NULL
               LEFT JOIN result ON result.race = entry.race AND result.athlete = entry.athlete
               WHERE race.removed_at IS NULL AND race.called_off IS NULL AND entry.withdrawn_at IS NULL
                     AND result.race IS NULL AND (entry.importance = 'goal' OR block.id IS NOT NULL)
                     AND race.day >= ? AND race.day < ? "
                + $rest
                + " ORDER BY entry.athlete, race.day, race.id",
            $since,
            $today
            $(, $argument)*
        )
    };
}

/// What the board knows of blocks, with their documents or without.
macro_rules! select_states {
    ($query:ident $($into:ident)?; $more:literal, $rest:literal $(, $argument:expr)*) => {
        sqlx::$query!(
            $($into,)?
            r#"SELECT block.id AS "id!: i64", block.athlete AS "athlete!: i64", block.revision AS "revision!: i64", "#
                + $more
                + r#" share.id AS "share?: i64", share.revision AS "held_revision?: i64",
                      share.handed_over_at AS "held_at?: String", share.ends AS "held_ends?: String",
                      share.shows_goals AS "shows_goals?: bool", share.shows_stretches AS "shows_stretches?: bool",
                      share.shows_race_day AS "shows_race_day?: bool",
                      max(coalesce(race_sheet.saved_at, ''), coalesce(race_facts.saved_at, ''),
                          coalesce(race_course.saved_at, '')) AS "race_day_saved!: String",
                      hand_over.id AS "hand_over?: i64", hand_over.goals AS "held_goals?: String",
                      (SELECT document FROM goal_document WHERE goal_document.block = block.id) AS "goals_now?: String",
                      coalesce(goal_notes.goal_a || goal_notes.goal_b || goal_notes.goal_c, '') <> ''
                          AS "has_goals!: bool"
               FROM block
               JOIN block_revision ON block_revision.block = block.id AND block_revision.number = block.revision
               LEFT JOIN base_week ON base_week.athlete = block.athlete
               LEFT JOIN share ON share.block = block.id AND share.revoked_at IS NULL
               LEFT JOIN hand_over ON hand_over.id = (SELECT max(id) FROM hand_over WHERE hand_over.share = share.id)
               LEFT JOIN goal_notes ON goal_notes.block = block.id
               LEFT JOIN race_sheet ON race_sheet.block = block.id
               LEFT JOIN race_facts ON race_facts.race = block.race
               LEFT JOIN race_course ON race_course.race = block.race
               WHERE "#
                + $rest
            $(, $argument)*
        )
    };
}

/// How a block stands, out of a row of [`select_states`].
macro_rules! state {
    ($row:ident) => {{
        let held = match ($row.share, $row.hand_over, $row.held_revision, $row.held_at, $row.held_ends) {
            (Some(share), Some(hand_over), Some(revision), Some(at), Some(ends)) => {
                let shows = Shows {
                    goals: $row.shows_goals.unwrap_or(false),
                    stretches: $row.shows_stretches.unwrap_or(false),
                    race_day: $row.shows_race_day.unwrap_or(false),
                };
                let race_day_saved = $row.race_day_saved > at;
                let read = HeldRow { block: $row.id, share, hand_over, revision, at, ends, shows, race_day_saved };
                Some(read.read($row.held_goals.as_deref(), $row.goals_now.as_deref())?)
            }
            _ => None,
        };
        BlockState {
            id: BlockId($row.id),
            revision: Place::new("block", $row.id).number("revision", $row.revision)?,
            handed_over: held,
            has_goals: $row.has_goals,
        }
    }};
}

/// The rows, in no order.
pub(super) async fn rows(db: &mut SqliteConnection, whose: &Whose, today: NaiveDate) -> Result<Vec<BoardRow>> {
    let people = people(db, whose).await?;
    let mut next = next_races(db, whose, today).await?;
    // Hidden athletes may be entered, too: nothing of theirs is read any further.
    let there: BTreeSet<i64> = people.iter().map(|row| row.id).collect();
    next.retain(|athlete, _| there.contains(athlete));
    let races_ahead = races(db, next.values().map(|next| next.race)).await?;
    let mut blocks = blocks(db, &next, today).await?;
    let mut ahead = ahead(db, &next).await?;
    let mut raced = without_result(db, whose, today).await?;
    let mut unwell = unwell(db, whose, today).await?;
    let mut withdrawn = withdrawn(db, whose, today).await?;
    let goals = goals_ahead(&next, &races_ahead, &blocks);
    let Behind { mut recovering, inside } = behind(db, whose, &goals, today).await?;
    let rows = people.into_iter().map(|person| {
        let person_id = person.id;
        let next = next.remove(&person_id);
        let raced = raced.remove(&person_id);
        let mut row = person.read(raced)?;
        row.unwell = unwell.remove(&person_id).unwrap_or_default().into();
        row.recovering = recovering.remove(&person_id);
        row.withdrawn = withdrawn.remove(&person_id).unwrap_or_default().into();
        if let Some(next) = next
            && let Some(race) = races_ahead.get(&next.race)
        {
            row.next_race = Some(race.clone());
            row.importance = Some(next.importance);
            row.block = next.block.and_then(|id| blocks.remove(&id));
            if let Some(block) = row.block.as_mut().filter(|_| inside.contains(&person_id)) {
                block.stop_goal_inside();
            }
            row.ahead = ahead.remove(&person_id).unwrap_or_default().into();
        }
        Ok(row)
    });
    rows.collect()
}

/// The next goal race that takes place, by athlete, with the first day of the block before it: the one that was made, or
/// the usual one.
fn goals_ahead(
    next: &HashMap<i64, Next>,
    races: &HashMap<i64, Arc<RaceRecord>>,
    blocks: &HashMap<i64, BoardBlock>,
) -> HashMap<i64, (Arc<RaceRecord>, NaiveDate)> {
    let goals = next.iter().filter(|(_, next)| next.importance == Importance::Goal);
    let found = goals.filter_map(|(athlete, next)| {
        let race = races.get(&next.race).filter(|race| race.called_off.is_none())?;
        let usual = || {
            let length = event_defaults(race.race.distance.event()).curve.length;
            race.race.date - Days::new(u64::from(length))
        };
        let block = next.block.and_then(|block| blocks.get(&block));
        Some((*athlete, (race.clone(), block.map_or_else(usual, |block| block.first_day))))
    });
    found.collect()
}

struct PersonRow {
    id: i64,
    name: String,
    name_key: String,
    training_group: String,
    units: String,
    cautions: u32,
    week_saved: Option<String>,
    week_since: Option<String>,
}

async fn people(db: &mut SqliteConnection, whose: &Whose) -> Result<Vec<PersonRow>> {
    Ok(match whose {
        Whose::Everybody => select_people!("").fetch_all(db).await?,
        Whose::These(ids) => {
            select_people!("AND athlete.id IN (SELECT value FROM json_each(?))", ids).fetch_all(db).await?
        }
    })
}

impl PersonRow {
    fn read(self, raced: Option<Raced>) -> Result<BoardRow> {
        let week = Place::new("base_week", self.id);
        Ok(BoardRow {
            athlete: AthleteId(self.id),
            name: self.name,
            name_key: self.name_key,
            group: self.training_group,
            units: Place::new("athlete", self.id).units("units", &self.units)?,
            cautions: self.cautions,
            week_saved: self.week_saved.map(|text| week.instant("saved_at", &text)).transpose()?,
            week_since: self.week_since.map(|text| week.day("since", &text)).transpose()?,
            raced,
            next_race: None,
            importance: None,
            block: None,
            ahead: Box::default(),
            unwell: Box::default(),
            recovering: None,
            withdrawn: Box::default(),
        })
    }
}

pub(super) async fn races(
    db: &mut SqliteConnection,
    ids: impl Iterator<Item = i64>,
) -> Result<HashMap<i64, Arc<RaceRecord>>> {
    let ids = id_list(ids.collect::<BTreeSet<_>>());
    let rows =
        select_races!("WHERE race.id IN (SELECT value FROM json_each(?)) ORDER BY race.id", ids).fetch_all(db).await?;
    rows.into_iter().map(|row| Ok((row.id, Arc::new(row.read()?)))).collect()
}

struct BehindRow {
    athlete: i64,
    block: Option<i64>,
    race: i64,
    day: String,
}

/// The races that were run lately and of which no result is noted, as far as they were goals or there was a block:
/// the latest of each athlete.
async fn without_result(db: &mut SqliteConnection, whose: &Whose, today: NaiveDate) -> Result<HashMap<i64, Raced>> {
    let (since, today) = (cell::day_text(today - Days::new(RESULT_DAYS)), cell::day_text(today));
    let rows = fetch_entries!(select_behind, db, whose, since, today);
    // Of several the latest stays.
    rows.into_iter()
        .map(|row| {
            let day = Place::new("race", row.race).day("day", &row.day)?;
            Ok((row.athlete, Raced { race: RaceId(row.race), block: row.block.map(BlockId), day }))
        })
        .collect()
}

/// How the blocks for a race stand that are not hidden.
pub(super) async fn states_of_race(db: &mut SqliteConnection, race: RaceId) -> Result<HashMap<AthleteId, BlockState>> {
    let rows = select_states!(query; "", "block.race = ? AND block.removed_at IS NULL ORDER BY block.id", race.0)
        .fetch_all(db)
        .await?;
    rows.into_iter().map(|row| Ok((AthleteId(row.athlete), state!(row)))).collect()
}

/// What the board knows of the blocks for the next races, by their ids.
async fn blocks(
    db: &mut SqliteConnection,
    next: &HashMap<i64, Next>,
    today: NaiveDate,
) -> Result<HashMap<i64, BoardBlock>> {
    let wanted: HashMap<i64, &Next> = next.values().filter_map(|next| Some((next.block?, next))).collect();
    let mut read = HashMap::with_capacity(wanted.len());
    for row in known_rows(db, id_list(wanted.keys().copied()), today).await? {
        let (id, athlete) = (row.id, row.athlete);
        let on_the_way = wanted.get(&id).map(|next| next.on_the_way_to(next.race)).unwrap_or_default();
        let judged = row.judged(db, today).await?;
        read.insert(id, (athlete, row.read((&on_the_way, judged), today)?));
    }
    add_logs(db, &mut read, today).await?;
    Ok(read.into_iter().map(|(id, (_, block))| (id, block)).collect())
}

/// The log of those whose block has begun.
async fn add_logs(
    db: &mut SqliteConnection,
    read: &mut HashMap<i64, (i64, BoardBlock)>,
    today: NaiveDate,
) -> Result<()> {
    let mut begun: Vec<_> = read.values_mut().filter(|(_, block)| block.first_day <= today).collect();
    let mut logs = lately(db, &id_list(begun.iter().map(|(athlete, _)| *athlete)), today).await?;
    for (athlete, block) in &mut begun {
        block.log = logs.remove(athlete).unwrap_or_default();
    }
    Ok(())
}

/// A block as its rows hold it, with what says whether it has to be read whole.
struct KnownRow {
    id: i64,
    athlete: i64,
    revision: i64,
    block_revision: i64,
    document: String,
    before_events: Option<String>,
    /// The moments whose messages were sent, between commas.
    sent: Option<String>,
    first_at: Option<String>,
    week_changed: bool,
    birth_year: Option<i32>,
    /// Whether it has to be read whole: something happened that may reach into it, or that it was planned around, or the
    /// athlete may be too young for the race.
    must_be_judged: bool,
    share: Option<i64>,
    held_revision: Option<i64>,
    held_at: Option<String>,
    held_ends: Option<String>,
    shows_goals: Option<bool>,
    shows_stretches: Option<bool>,
    shows_race_day: Option<bool>,
    race_day_saved: String,
    hand_over: Option<i64>,
    held_goals: Option<String>,
    goals_now: Option<String>,
    has_goals: bool,
}

/// The rows of blocks of a JSON array of ids.
async fn known_rows(db: &mut SqliteConnection, ids: String, today: NaiveDate) -> Result<Vec<KnownRow>> {
    // Events that ended before it cannot reach into a block whose race is ahead.
    let since = cell::day_text(today - Days::new(u64::from(*LENGTHS.end()) + WAY_BACK_DAYS));
    // Who was born later may be under age for a race as long as a marathon.
    let grown_up = today.year() - GROWN_UP;
    let rows = select_states!(
        query_as KnownRow;
        r#"block_revision.id AS "block_revision!: i64", block_revision.document AS "document!: String",
           block_revision.before_events,
           (SELECT group_concat(moment) FROM message_sent
            WHERE message_sent.block = block.id AND withdrawn_at IS NULL) AS "sent?: String",
           (SELECT min(at) FROM hand_over WHERE hand_over.block = block.id) AS "first_at?: String",
           coalesce(base_week.version <> block_revision.week_version
                    AND (json_array(mon, tue, wed, thu, fri, sat, sun) <> block_revision.week_lines
                         OR base_week.week_range <> block_revision.week_range
                         OR base_week.units <> block_revision.week_units), 0) AS "week_changed!: bool",
           (SELECT birth_year FROM athlete WHERE athlete.id = block.athlete) AS "birth_year?: i32",
           (block_revision.before_events IS NOT NULL
            OR EXISTS (SELECT 1 FROM life_event
                       WHERE life_event.athlete = block.athlete AND removed_at IS NULL AND (to_day >= ? OR no_end = 1))
            OR EXISTS (SELECT 1 FROM athlete JOIN race ON race.id = block.race
                   WHERE athlete.id = block.athlete AND athlete.birth_year > ?
                       AND coalesce(race.distance, 'marathon') = 'marathon')) AS "must_be_judged!: bool","#,
        "block.id IN (SELECT value FROM json_each(?)) ORDER BY block.id",
        since,
        grown_up,
        ids
    )
    .fetch_all(db)
    .await?;
    Ok(rows)
}

impl KnownRow {
    /// What only the whole block says.
    async fn judged(&self, db: &mut SqliteConnection, today: NaiveDate) -> Result<Judged> {
        if !self.must_be_judged {
            return Ok(Judged::default());
        }
        let number = Place::new("block", self.id).number("revision", self.revision)?;
        judged(db, AthleteId(self.athlete), BlockId(self.id), number, today).await
    }

    /// The message that is due on a day and was not sent.
    fn due(&self, dates: Dates, today: NaiveDate) -> Option<Moment> {
        let sent = self.sent.as_deref().unwrap_or_default();
        let is_sent = |moment: &Moment| sent.split(',').any(|code| code == moment.code());
        let due = moments_between(dates.first_day(), dates.race_day).into_iter().find(|(_, day)| *day == today);
        due.map(|(moment, _)| moment).filter(|moment| !is_sent(moment))
    }

    /// The block without its log, which the day of the row asks for only where it has begun.
    fn read(
        self,
        (on_the_way, Judged { waits, stop, fixed }): (&[NaiveDate], Judged),
        today: NaiveDate,
    ) -> Result<BoardBlock> {
        let place = Place::new("block_revision", self.block_revision);
        let within = today - Days::new(DAYS_BEFORE)..=today + Days::new(DAYS_AFTER);
        let Glance { dates, pace, days } =
            glance(&self.document, within).map_err(|reason| place.corrupt("document", reason))?;
        let plan =
            Plan { revision: self.block_revision, document: self.before_events.as_ref().unwrap_or(&self.document) };
        let handed = Place::new("hand_over", self.id);
        let first_handed_over = self.first_at.as_deref().map(|text| handed.instant("at", text)).transpose()?;
        Ok(BoardBlock {
            first_day: dates.first_day(),
            race_day: dates.race_day,
            length: dates.length,
            due: self.due(dates, today),
            days: days.into(),
            pace,
            first_handed_over,
            week_changed: self.week_changed,
            before_youth: before_youth(self.birth_year, dates),
            lacks: plan.lacks(dates, on_the_way)?,
            waits,
            stop,
            fixed,
            log: BoardLog::default(),
            state: state!(self),
        })
    }
}

/// What an athlete holds, as its row says it.
struct HeldRow {
    block: i64,
    share: i64,
    hand_over: i64,
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
        let shown = |document, from: Place| {
            read_goals(document).map(|notes| self.shows.of(&notes)).map_err(|error| from.corrupt("goals", error))
        };
        let (handed_over, written) = (Place::new("hand_over", self.hand_over), Place::new("goal_document", self.block));
        Ok(Held {
            revision: place.number("revision", self.revision)?,
            at: place.instant("handed_over_at", &self.at)?,
            ends: place.day("ends", &self.ends)?,
            // Mostly the texts are the same, and nothing has to be read.
            notes_changed: self.shows.race_day && self.race_day_saved
                || then != now && shown(then, handed_over)? != shown(now, written)?,
        })
    }
}
