//! What the coach's card needs of everybody who runs a race, in one query.

use chrono::NaiveTime;
use planning::Strategy;

use crate::cell::Place;
use crate::{AthleteId, BlockId, RaceId, Result, Store};

/// One athlete on the coach's card.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CardEntry {
    /// The athlete.
    pub athlete: AthleteId,
    /// The name.
    pub name: String,
    /// How the coach reaches them; may be empty.
    pub phone: String,
    /// The block for the race, if one was made.
    pub block: Option<BlockId>,
    /// Goals A, B and C as written; empty where none is.
    pub goals: [String; 3],
    /// How the effort is spread.
    pub strategy: Strategy,
    /// Number on the shirt; may be empty.
    pub bib: String,
    /// Pen or wave; may be empty.
    pub pen: String,
    /// When the athlete's wave starts, by the clocks of the place, where that is after the race itself.
    pub wave_start: Option<NaiveTime>,
    /// Seconds from the gun to the start line.
    pub gun_seconds: u16,
}

impl Store {
    /// Everybody who is entered in a race, by name.
    pub async fn card_entries(&self, id: RaceId) -> Result<Vec<CardEntry>> {
        let mut db = self.read_connection().await?;
        let rows = sqlx::query!(
            r#"SELECT entry.athlete, athlete.name, athlete.phone, block.id AS "block?",
                      coalesce(goal_notes.goal_a, '') AS "a!: String", coalesce(goal_notes.goal_b, '') AS "b!: String",
                      coalesce(goal_notes.goal_c, '') AS "c!: String",
                      race_sheet.split_tenths AS "split_tenths?", race_sheet.descent_percent AS "descent_percent?",
                      race_sheet.first_easier_tenths AS "first_easier_tenths?",
                      coalesce(race_sheet.bib, '') AS "bib!: String", coalesce(race_sheet.pen, '') AS "pen!: String",
                      race_sheet.wave_start AS "wave_start?", race_sheet.gun_seconds AS "gun_seconds?"
               FROM entry
               JOIN athlete ON athlete.id = entry.athlete AND athlete.removed_at IS NULL
               LEFT JOIN block ON block.athlete = entry.athlete AND block.race = entry.race
                              AND block.removed_at IS NULL
               LEFT JOIN goal_notes ON goal_notes.block = block.id
               LEFT JOIN race_sheet ON race_sheet.block = block.id
               WHERE entry.withdrawn_at IS NULL AND entry.race = ?
               ORDER BY athlete.name_key, athlete.id"#,
            id.0
        )
        .fetch_all(&mut *db)
        .await?;
        rows.into_iter()
            .map(|row| {
                let place = Place::new("race_sheet", row.block.unwrap_or_default());
                let strategy = match (row.split_tenths, row.descent_percent, row.first_easier_tenths) {
                    (Some(split), Some(descent), Some(easier)) => Strategy {
                        slower_half_tenths: place.number("split_tenths", split)?,
                        descent_percent: place.number("descent_percent", descent)?,
                        first_easier_tenths: place.number("first_easier_tenths", easier)?,
                    },
                    _ => Strategy::default(),
                };
                Ok(CardEntry {
                    athlete: AthleteId(row.athlete),
                    name: row.name,
                    phone: row.phone,
                    block: row.block.map(BlockId),
                    goals: [row.a, row.b, row.c],
                    strategy,
                    bib: row.bib,
                    pen: row.pen,
                    wave_start: row.wave_start.map(|text| place.time("wave_start", &text)).transpose()?,
                    gun_seconds: place.number("gun_seconds", row.gun_seconds.unwrap_or_default())?,
                })
            })
            .collect()
    }
}

#[cfg(test)]
mod tests {
    use planning::{Importance, Settings};

    use super::*;
    use crate::testing::{Squad, add, at, squad};
    use crate::{GoalNotes, RaceSheet, Version};

    #[tokio::test]
    async fn the_card_has_goals_and_start_of_everybody_who_is_entered() {
        let Squad { store, athlete, race, week, block } = &squad().await;
        let id = store.add_block(*athlete, *race, &Settings::default(), week, block, at(2)).await.unwrap();
        let goals = GoalNotes { a: "1:40".to_owned(), c: "finish".to_owned(), ..GoalNotes::default() };
        store.save_goals(id, Version(1), &goals, at(3)).await.unwrap();
        let sheet = RaceSheet {
            strategy: Strategy { slower_half_tenths: -15, ..Strategy::default() },
            bib: "12".to_owned(),
            pen: "C".to_owned(),
            wave_start: NaiveTime::from_hms_opt(9, 50, 0),
            gun_seconds: Some(90),
            ..RaceSheet::default()
        };
        store.save_race_sheet(id, Version(2), &sheet, at(4)).await.unwrap();
        for (name, gone) in [("Bo", false), ("Cy", true)] {
            let other = add(store, name).await;
            store.enter(*race, other, Importance::Goal, at(5)).await.unwrap();
            if gone {
                store.withdraw(*race, other, at(6)).await.unwrap();
            }
        }
        let found = store.card_entries(*race).await.unwrap();
        let [ana, bo] = &found[..] else { panic!("{found:?}") };
        assert_eq!((ana.name.as_str(), ana.block, &ana.strategy), ("Ana", Some(id), &sheet.strategy));
        assert_eq!(ana.goals, ["1:40", "", "finish"].map(str::to_owned));
        assert_eq!((ana.bib.as_str(), ana.pen.as_str()), ("12", "C"));
        assert_eq!((ana.wave_start, ana.gun_seconds), (sheet.wave_start, 90));
        assert_eq!((bo.name.as_str(), bo.block, bo.gun_seconds), ("Bo", None, 0));
        assert_eq!((bo.strategy, bo.wave_start), (Strategy::default(), None));
    }
}
