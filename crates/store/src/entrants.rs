//! The entrants of a race page by page, and who could be entered: cheap for squads of any size.

use std::collections::HashSet;

use planning::{Importance, RaceDistance};
use sqlx::SqliteConnection;

use crate::entries::{importance, ran};
use crate::{AthleteId, BlockId, Board, BoardRow, NameSearch, RaceId, Result, Store};

/// Some of the entrants of a race.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct EntrantsPage {
    /// How many are entered.
    pub total: u32,
    /// How many of them have a block, whatever the race means to them.
    pub have: u32,
    /// How many of them have no block and should, see [`Importance::has_block`].
    pub lacking: u32,
    /// Of how many it is not settled how they go on; it matters where the race is called off.
    pub open: u32,
    /// These, by name.
    pub rows: Vec<Entrant>,
}

/// One entrant.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Entrant {
    /// The athlete.
    pub athlete: AthleteId,
    /// The athlete's name.
    pub name: String,
    /// What the race means to the athlete.
    pub importance: Importance,
    /// The block for it, if there is one.
    pub block: Option<BlockId>,
    /// How far it was really run, where that was less.
    pub ran: Option<RaceDistance>,
    /// Whether it is settled how the athlete goes on; it matters where the race is called off.
    pub is_settled: bool,
}

/// Who is not entered in a race, as far as it was asked for.
#[derive(Clone, Debug, PartialEq, Eq, Default)]
pub struct Enterable {
    /// How many were found.
    pub found: usize,
    /// The first of them, by group and name: id, name, group.
    pub rows: Vec<(AthleteId, String, String)>,
    /// Every group of those who are not entered, and how many they are, whatever was asked for.
    pub groups: Vec<(String, usize)>,
}

impl Store {
    /// Entrants of a race by name, so many after the first ones.
    pub async fn entrants_page(&self, race: RaceId, skip: u32, most: u32) -> Result<EntrantsPage> {
        let mut tx = self.reading().await?;
        let with_block = Importance::ALL.into_iter().filter(|one| one.has_block()).map(Importance::code);
        let with_block = with_block.collect::<serde_json::Value>().to_string();
        let counts = sqlx::query!(
            r#"SELECT count(*) AS "total!: u32", count(block.id) AS "have!: u32",
                      count(CASE WHEN entry.importance IN (SELECT value FROM json_each(?)) AND block.id IS NULL
                                 THEN 1 END) AS "lacking!: u32",
                      count(*) - count(entry.settled_at) AS "open!: u32"
               FROM entry
               JOIN athlete ON athlete.id = entry.athlete AND athlete.removed_at IS NULL
               LEFT JOIN block ON block.athlete = entry.athlete AND block.race = entry.race
                              AND block.removed_at IS NULL
               WHERE entry.race = ? AND entry.withdrawn_at IS NULL"#,
            with_block,
            race.0
        )
        .fetch_one(&mut *tx)
        .await?;
        let rows = rows(&mut tx, race, skip, most).await?;
        let (total, have) = (counts.total, counts.have);
        Ok(EntrantsPage { total, have, lacking: counts.lacking, open: counts.open, rows })
    }

    /// Who of the squad is not entered in a race: those whose name and group are looked for, at most so many,
    /// and how many each group has.
    pub async fn enterable(
        &self,
        board: &Board,
        race: RaceId,
        names: &NameSearch,
        group: Option<&str>,
        most: usize,
    ) -> Result<Enterable> {
        let all = self.not_entered(board, race).await?;
        let is_asked = |row: &&&BoardRow| names.finds(row) && group.is_none_or(|group| row.group == group);
        let found: Vec<_> = all.iter().filter(is_asked).collect();
        let groups = all.chunk_by(|one, other| one.group == other.group);
        Ok(Enterable {
            found: found.len(),
            rows: found.iter().take(most).map(|row| (row.athlete, row.name.clone(), row.group.clone())).collect(),
            groups: groups.map(|group| (group[0].group.clone(), group.len())).collect(),
        })
    }

    /// Everybody of a group who is not entered in a race, by name.
    pub async fn enterable_of_group(&self, board: &Board, race: RaceId, group: &str) -> Result<Vec<AthleteId>> {
        let all = self.not_entered(board, race).await?;
        Ok(all.into_iter().filter(|row| row.group == group).map(|row| row.athlete).collect())
    }

    /// Who of the squad is not entered in a race, by group and name.
    async fn not_entered<'a>(&self, board: &'a Board, race: RaceId) -> Result<Vec<&'a BoardRow>> {
        let mut db = self.read_connection().await?;
        let entered: HashSet<i64> =
            sqlx::query_scalar!("SELECT athlete FROM entry WHERE race = ? AND withdrawn_at IS NULL", race.0)
                .fetch_all(&mut *db)
                .await?
                .into_iter()
                .collect();
        let mut rows: Vec<_> = board.iter().map(AsRef::as_ref).collect();
        rows.retain(|row: &&BoardRow| !entered.contains(&row.athlete.0));
        // Stable: by name in each group, as they came.
        rows.sort_by_key(|row| &row.group);
        Ok(rows)
    }
}

async fn rows(db: &mut SqliteConnection, race: RaceId, skip: u32, most: u32) -> Result<Vec<Entrant>> {
    let rows = sqlx::query!(
        r#"SELECT entry.athlete, athlete.name, entry.importance, block.id AS "block?",
                  entry.ran_distance, entry.ran_unit, entry.settled_at IS NOT NULL AS "is_settled!: bool"
           FROM entry
           JOIN athlete ON athlete.id = entry.athlete AND athlete.removed_at IS NULL
           LEFT JOIN block ON block.athlete = entry.athlete AND block.race = entry.race AND block.removed_at IS NULL
           WHERE entry.race = ? AND entry.withdrawn_at IS NULL
           ORDER BY athlete.name_key, athlete.id LIMIT ? OFFSET ?"#,
        race.0,
        most,
        skip
    )
    .fetch_all(db)
    .await?;
    let read = rows.into_iter().map(|row| {
        Ok(Entrant {
            athlete: AthleteId(row.athlete),
            name: row.name,
            importance: importance(row.athlete, &row.importance)?,
            block: row.block.map(BlockId),
            ran: ran(row.athlete, row.ran_distance, row.ran_unit.as_deref())?,
            is_settled: row.is_settled,
        })
    });
    read.collect()
}

#[cfg(test)]
mod tests {
    use planning::Settings;

    use super::*;
    use crate::testing::{Squad, at, day, draft, once, squad};

    async fn add(store: &Store, name: &str, group: &str) -> AthleteId {
        let told = crate::AthleteDraft { group: group.to_owned(), ..draft(name) };
        store.add_athlete(&told, once(), at(0)).await.unwrap()
    }

    #[tokio::test]
    async fn entrants_come_in_pages_with_their_blocks() {
        let Squad { store, athlete, race, week, block } = squad().await;
        for (name, importance) in [("Bo", Importance::Goal), ("Cy", Importance::TuneUp)] {
            let other = add(&store, name, "").await;
            store.enter(race, other, importance, at(2)).await.unwrap();
        }
        let id = store.add_block(athlete, race, &Settings::default(), &week, &block, at(3)).await.unwrap();
        let first = store.entrants_page(race, 0, 2).await.unwrap();
        assert_eq!(
            (first.total, first.have, first.lacking, first.rows.len()),
            (3, 1, 1, 2),
            "a tune-up race lacks none"
        );
        assert_eq!(first.rows[0].block, Some(id));
        let second = store.entrants_page(race, 2, 2).await.unwrap();
        assert_eq!((second.rows[0].name.as_str(), second.rows[0].block), ("Cy", None));
        assert_eq!(second.rows[0].importance, Importance::TuneUp);
    }

    #[tokio::test]
    async fn who_could_be_entered_is_found_by_name_and_group() {
        let Squad { store, race, .. } = squad().await;
        let mut ids = Vec::new();
        for (name, group) in [("Bo Holt", "Track"), ("Bo Lind", "Hills"), ("Cy Holt", "Hills"), ("Di Ström", "")] {
            ids.push(add(&store, name, group).await);
        }
        let squad = async || store.board(day("2027-04-20")).await.unwrap();
        let all = store.enterable(&squad().await, race, &NameSearch::new(""), None, 2).await.unwrap();
        assert_eq!((all.found, all.rows.len()), (4, 2), "Ana is entered");
        let counted: Vec<_> = all.groups.iter().map(|(group, count)| (group.as_str(), *count)).collect();
        assert_eq!(counted, [("", 1), ("Hills", 2), ("Track", 1)]);
        let names = async |words: &str, group| -> Vec<String> {
            let found = store.enterable(&squad().await, race, &NameSearch::new(words), group, 9).await.unwrap();
            found.rows.into_iter().map(|(_, name, _)| name).collect()
        };
        assert_eq!(names("holt bo", None).await, ["Bo Holt"]);
        assert_eq!(names("strom", None).await, ["Di Ström"]);
        assert_eq!(names("", Some("Hills")).await, ["Bo Lind", "Cy Holt"]);
        assert_eq!(names("holt", Some("")).await, Vec::<String>::new());
        let hills = async || store.enterable_of_group(&squad().await, race, "Hills").await.unwrap();
        assert_eq!(hills().await, ids[1..3]);
        store.enter(race, ids[1], Importance::Goal, at(5)).await.unwrap();
        assert_eq!(hills().await, ids[2..3]);
        store.withdraw(race, ids[1], at(6)).await.unwrap();
        assert_eq!(hills().await, ids[1..3]);
    }
}
