//! What is set and written for one athlete's race, beside the goals.

use std::collections::HashMap;

use chrono::{DateTime, NaiveTime, Utc};
use planning::{Distance, DistanceUnit, Milli, Strategy};
use sqlx::SqliteConnection;

use crate::blocks::current;
use crate::cell::{self, Place};
use crate::{BlockId, Result, Store, Version};

/// Every query for race sheets reads the same columns into [`SheetRow`].
macro_rules! select_sheets {
    ($rest:literal $(, $argument:expr)* $(,)?) => {
        sqlx::query_as!(
            SheetRow,
            "SELECT block, split_tenths, descent_percent, first_easier_tenths, middle_from, last_from, border_unit,
                    change_rules, bib, pen, wave_start, gun_seconds, travel_minutes, eat_minutes, breakfast,
                    fuel_piece, piece_grams, grams_an_hour, fuel_words, warm_up, kit, travel, worries, morning
             FROM race_sheet " + $rest
            $(, $argument)*
        )
    };
}

/// A race sheet. A text that is nothing is still the program's proposal; an empty one is meant to be empty.
#[derive(Clone, Debug, PartialEq, Eq, Default)]
pub struct RaceSheet {
    /// How the effort is spread.
    pub strategy: Strategy,
    /// Where the middle and the last stretch begin, where that is not after a third each.
    pub borders: Option<Borders>,
    /// When to change the goal, a rule a line.
    pub change_rules: Option<String>,
    /// Number on the shirt.
    pub bib: String,
    /// Pen or wave.
    pub pen: String,
    /// When the athlete's wave starts, by the clocks of the place, where that is after the race itself.
    pub wave_start: Option<NaiveTime>,
    /// Seconds from the gun to the start line, where clocks on the course count from the gun.
    pub gun_seconds: Option<u16>,
    /// Minutes on the way to the start.
    pub travel_minutes: Option<u16>,
    /// Minutes from eating to the start.
    pub eat_minutes: Option<u16>,
    /// What is eaten before, as rehearsed.
    pub breakfast: String,
    /// What is taken during the race: `gel`.
    pub fuel_piece: String,
    /// Grams of carbohydrate in one of them.
    pub piece_grams: Option<u16>,
    /// Grams of carbohydrate in an hour, as rehearsed.
    pub grams_an_hour: Option<u16>,
    /// Food, drink and caffeine in the coach's own words.
    pub fuel_words: String,
    /// The warm-up.
    pub warm_up: Option<String>,
    /// What to take to the start, a thing a line.
    pub kit: Option<String>,
    /// What to take on the journey, a thing a line.
    pub travel: Option<String>,
    /// Worries and the answer to each, a pair a line.
    pub worries: String,
    /// Anything else about the morning.
    pub morning: String,
}

/// Where the middle and the last stretch of a race begin.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Borders {
    /// The middle stretch.
    pub middle: Milli,
    /// The last stretch.
    pub last: Milli,
    /// The unit in which both were typed.
    pub unit: DistanceUnit,
}

impl RaceSheet {
    /// Where the middle and the last stretch of a race begin: as set, as far as that lies within the
    /// race, else after a third each.
    pub fn borders(&self, length: Distance) -> [Distance; 2] {
        let third = |count: i64| Distance::millimetres(length.as_millimetres() * count / 3);
        let set = self.borders.map(|Borders { middle, last, unit }| {
            [Distance::from_milli(middle, unit), Distance::from_milli(last, unit)]
        });
        set.filter(|[middle, last]| middle < last && *last < length).unwrap_or([third(1), third(2)])
    }
}

impl Store {
    /// Saves the race sheet of a block read at a version, and counts that as a save of the block.
    ///
    /// # Errors
    ///
    /// [`StoreError::Conflict`](crate::StoreError::Conflict), [`StoreError::Gone`](crate::StoreError::Gone).
    pub async fn save_race_sheet(
        &self,
        id: BlockId,
        read_at: Version,
        sheet: &RaceSheet,
        now: DateTime<Utc>,
    ) -> Result<()> {
        let mut tx = self.writing().await?;
        current(&mut tx, id, read_at).await?;
        write(&mut tx, id, sheet, now).await?;
        sqlx::query!("UPDATE block SET version = version + 1 WHERE id = ?", id.0).execute(&mut *tx).await?;
        tx.commit().await?;
        Ok(())
    }
}

async fn write(db: &mut SqliteConnection, id: BlockId, sheet: &RaceSheet, now: DateTime<Utc>) -> Result<()> {
    let Strategy { slower_half_tenths, descent_percent, first_easier_tenths } = sheet.strategy;
    let middle = sheet.borders.map(|borders| borders.middle.0);
    let last = sheet.borders.map(|borders| borders.last.0);
    let unit = sheet.borders.map(|borders| borders.unit.symbol());
    let (wave, now) = (sheet.wave_start.map(cell::time_text), cell::instant_text(now));
    sqlx::query!(
        "INSERT INTO race_sheet (block, split_tenths, descent_percent, first_easier_tenths, middle_from, last_from,
                                 border_unit, change_rules, bib, pen, wave_start, gun_seconds, travel_minutes,
                                 eat_minutes, breakfast, fuel_piece, piece_grams, grams_an_hour, fuel_words, warm_up,
                                 kit, travel, worries, morning, saved_at)
         VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)
         ON CONFLICT (block) DO UPDATE
         SET split_tenths = excluded.split_tenths, descent_percent = excluded.descent_percent,
             first_easier_tenths = excluded.first_easier_tenths, middle_from = excluded.middle_from,
             last_from = excluded.last_from, border_unit = excluded.border_unit,
             change_rules = excluded.change_rules, bib = excluded.bib, pen = excluded.pen,
             wave_start = excluded.wave_start, gun_seconds = excluded.gun_seconds,
             travel_minutes = excluded.travel_minutes, eat_minutes = excluded.eat_minutes,
             breakfast = excluded.breakfast, fuel_piece = excluded.fuel_piece, piece_grams = excluded.piece_grams,
             grams_an_hour = excluded.grams_an_hour, fuel_words = excluded.fuel_words, warm_up = excluded.warm_up,
             kit = excluded.kit, travel = excluded.travel, worries = excluded.worries, morning = excluded.morning,
             saved_at = excluded.saved_at",
        id.0,
        slower_half_tenths,
        descent_percent,
        first_easier_tenths,
        middle,
        last,
        unit,
        sheet.change_rules,
        sheet.bib,
        sheet.pen,
        wave,
        sheet.gun_seconds,
        sheet.travel_minutes,
        sheet.eat_minutes,
        sheet.breakfast,
        sheet.fuel_piece,
        sheet.piece_grams,
        sheet.grams_an_hour,
        sheet.fuel_words,
        sheet.warm_up,
        sheet.kit,
        sheet.travel,
        sheet.worries,
        sheet.morning,
        now
    )
    .execute(db)
    .await?;
    Ok(())
}

/// The race sheets of some blocks; nothing for one of which none was saved: there the proposal stands.
pub(crate) async fn race_sheets_of(db: &mut SqliteConnection, ids: &[BlockId]) -> Result<HashMap<BlockId, RaceSheet>> {
    let ids = cell::id_list(ids.iter().copied());
    let rows = select_sheets!("WHERE block IN (SELECT value FROM json_each(?))", ids).fetch_all(db).await?;
    rows.into_iter().map(|row| Ok((BlockId(row.block), row.read()?))).collect()
}

/// Every race sheet: for the check of the whole file.
pub(crate) async fn every_race_sheet(db: &mut SqliteConnection) -> Result<Vec<Result<RaceSheet>>> {
    let rows = select_sheets!("ORDER BY block").fetch_all(db).await?;
    Ok(rows.into_iter().map(SheetRow::read).collect())
}

struct SheetRow {
    block: i64,
    split_tenths: i64,
    descent_percent: i64,
    first_easier_tenths: i64,
    middle_from: Option<i64>,
    last_from: Option<i64>,
    border_unit: Option<String>,
    change_rules: Option<String>,
    bib: String,
    pen: String,
    wave_start: Option<String>,
    gun_seconds: Option<i64>,
    travel_minutes: Option<i64>,
    eat_minutes: Option<i64>,
    breakfast: String,
    fuel_piece: String,
    piece_grams: Option<i64>,
    grams_an_hour: Option<i64>,
    fuel_words: String,
    warm_up: Option<String>,
    kit: Option<String>,
    travel: Option<String>,
    worries: String,
    morning: String,
}

impl SheetRow {
    fn read(self) -> Result<RaceSheet> {
        let place = Place::new("race_sheet", self.block);
        let number = |column, value: Option<i64>| value.map(|value| place.number::<u16>(column, value)).transpose();
        let borders = match (self.middle_from, self.last_from, self.border_unit) {
            (Some(middle), Some(last), Some(unit)) => Some(Borders {
                middle: Milli(place.number("middle_from", middle)?),
                last: Milli(place.number("last_from", last)?),
                unit: place.units("border_unit", &unit)?,
            }),
            _ => None,
        };
        Ok(RaceSheet {
            strategy: Strategy {
                slower_half_tenths: place.number("split_tenths", self.split_tenths)?,
                descent_percent: place.number("descent_percent", self.descent_percent)?,
                first_easier_tenths: place.number("first_easier_tenths", self.first_easier_tenths)?,
            },
            borders,
            change_rules: self.change_rules,
            bib: self.bib,
            pen: self.pen,
            wave_start: self.wave_start.map(|text| place.time("wave_start", &text)).transpose()?,
            gun_seconds: number("gun_seconds", self.gun_seconds)?,
            travel_minutes: number("travel_minutes", self.travel_minutes)?,
            eat_minutes: number("eat_minutes", self.eat_minutes)?,
            breakfast: self.breakfast,
            fuel_piece: self.fuel_piece,
            piece_grams: number("piece_grams", self.piece_grams)?,
            grams_an_hour: number("grams_an_hour", self.grams_an_hour)?,
            fuel_words: self.fuel_words,
            warm_up: self.warm_up,
            kit: self.kit,
            travel: self.travel,
            worries: self.worries,
            morning: self.morning,
        })
    }
}

#[cfg(test)]
mod tests {
    use planning::Settings;

    use super::*;
    use crate::StoreError;
    use crate::testing::{Squad, at, squad};

    fn written() -> RaceSheet {
        RaceSheet {
            strategy: Strategy { slower_half_tenths: -15, descent_percent: 30, first_easier_tenths: 20 },
            borders: Some(Borders { middle: Milli(3500), last: Milli(8000), unit: DistanceUnit::Km }),
            change_rules: Some(String::new()),
            pen: "C".to_owned(),
            wave_start: NaiveTime::from_hms_opt(9, 42, 30),
            gun_seconds: Some(95),
            eat_minutes: Some(150),
            fuel_piece: "gel".to_owned(),
            piece_grams: Some(25),
            worries: "the hill: I walk it".to_owned(),
            ..RaceSheet::default()
        }
    }

    #[tokio::test]
    async fn a_race_sheet_comes_back_as_it_was_written_and_leaves_days_and_goals_alone() {
        let Squad { store, athlete, race, week, block } = squad().await;
        let id = store.add_block(athlete, race, &Settings::default(), &week, &block, at(5)).await.unwrap();
        let before = store.block(id).await.unwrap().unwrap();
        assert_eq!(before.race_sheet, RaceSheet::default());
        store.save_race_sheet(id, Version(1), &written(), at(6)).await.unwrap();
        let kept = store.block(id).await.unwrap().unwrap();
        assert_eq!(kept.race_sheet, written());
        assert_eq!((kept.version, kept.revision, kept.block), (Version(2), 1, before.block));
        store.save_race_sheet(id, Version(2), &RaceSheet::default(), at(7)).await.unwrap();
        assert_eq!(store.block(id).await.unwrap().unwrap().race_sheet, RaceSheet::default());
        let stale = store.save_race_sheet(id, Version(2), &written(), at(8)).await;
        assert!(matches!(stale, Err(StoreError::Conflict)), "{stale:?}");
        let gone = store.save_race_sheet(BlockId(99), Version(1), &written(), at(8)).await;
        assert!(matches!(gone, Err(StoreError::Gone)), "{gone:?}");
    }

    #[test]
    fn stretches_begin_after_a_third_each_unless_set_within_the_race() {
        let length = Distance::metres(9_000);
        let metres = |borders: [Distance; 2]| borders.map(|border| border.as_millimetres() / 1000);
        let of = |middle: i32, last: i32| {
            let borders = Some(Borders { middle: Milli(middle), last: Milli(last), unit: DistanceUnit::Km });
            metres(RaceSheet { borders, ..RaceSheet::default() }.borders(length))
        };
        assert_eq!(metres(RaceSheet::default().borders(length)), [3_000, 6_000]);
        assert_eq!(of(2_000, 8_000), [2_000, 8_000]);
        assert_eq!(of(2_000, 9_000), [3_000, 6_000], "the race was made shorter since");
    }
}
