//! Athletes.

use chrono::{DateTime, Utc};
use planning::week::{weekday_code, weekday_from_code};
use planning::{Athlete, DayBefore, DistanceUnit, Pace, Suits, Weight};
use sqlx::SqliteConnection;
use unicode_normalization::UnicodeNormalization;
use unicode_normalization::char::is_combining_mark;

use crate::cell::{self, Place, commit_changed};
use crate::once::{self, Made};
use crate::{AthleteDraft, AthleteId, AthleteRecord, NameSearch, Result, Store, StoreError, Version};

/// Every query for athletes reads the same columns into [`AthleteRow`].
macro_rules! select_athletes {
    ($rest:literal $(, $argument:expr)* $(,)?) => {
        sqlx::query_as!(
            AthleteRow,
            r#"SELECT id, version, name, units, easy_pace_seconds, easy_pace_per, birth_year, home_zone, cautions,
                    suits_days, suits_day_before, suits_extra_rest, training_group, notes, weight_grams,
                    fuel_referred AS "fuel_referred: bool", recent_results, phone
             FROM athlete "# + $rest
            $(, $argument)*
        )
    };
}

/// Lets the coach's own pages count in the units of the first athlete of all, as long as nothing was set: who coaches in
/// miles would find a first block in kilometres.
async fn count_as_the_first(db: &mut SqliteConnection, units: DistanceUnit, now: DateTime<Utc>) -> Result<()> {
    let (units, saved_at) = (units.symbol(), cell::instant_text(now));
    sqlx::query!(
        "UPDATE coach_settings SET version = version + 1, units = ?, saved_at = ?
         WHERE id = 1 AND version = 1 AND units <> ? AND (SELECT count(*) FROM (SELECT 1 FROM athlete LIMIT 2)) = 1",
        units,
        saved_at,
        units
    )
    .execute(db)
    .await?;
    Ok(())
}

impl Store {
    /// Every athlete, by name.
    pub async fn athletes(&self) -> Result<Vec<AthleteRecord>> {
        let mut db = self.read_connection().await?;
        let rows = select_athletes!("WHERE removed_at IS NULL ORDER BY name_key, id").fetch_all(&mut *db).await?;
        rows.into_iter().map(AthleteRow::read).collect()
    }

    /// The athletes whose names hold every one of the words, in capitals or not, with marks or not,
    /// by name; every athlete where there is no word.
    pub async fn find_athletes(&self, words: &str) -> Result<Vec<AthleteRecord>> {
        let search = NameSearch::new(words);
        let mut db = self.read_connection().await?;
        let rows = select_athletes!("WHERE removed_at IS NULL ORDER BY name_key, id").fetch_all(&mut *db).await?;
        rows.into_iter().filter(|row| search.finds_key(&name_key(&row.name))).map(AthleteRow::read).collect()
    }

    /// The groups of the squad, by name.
    pub async fn groups(&self) -> Result<Vec<String>> {
        let mut db = self.read_connection().await?;
        Ok(sqlx::query_scalar!(
            "SELECT DISTINCT training_group FROM athlete
             WHERE removed_at IS NULL AND training_group <> '' ORDER BY training_group"
        )
        .fetch_all(&mut *db)
        .await?)
    }

    /// One athlete.
    pub async fn athlete(&self, id: AthleteId) -> Result<Option<AthleteRecord>> {
        let mut db = self.read_connection().await?;
        athlete(&mut db, id).await
    }

    /// Adds an athlete. `once` is the form's own key: the same key again gives the same athlete.
    ///
    /// # Errors
    ///
    /// [`StoreError::Refused`] where planning finds problems.
    pub async fn add_athlete(&self, draft: &AthleteDraft, once: uuid::Uuid, now: DateTime<Utc>) -> Result<AthleteId> {
        // What is wrong is said before the file is asked for.
        Written::of(draft)?;
        let mut tx = self.writing().await?;
        if let Some(id) = once::made_before(&mut tx, once, Made::Athlete).await? {
            return Ok(AthleteId(id));
        }
        let id = insert(&mut tx, draft, now).await?;
        once::remember(&mut tx, once, Made::Athlete, id.0, now).await?;
        count_as_the_first(&mut tx, draft.athlete.units, now).await?;
        tx.commit().await?;
        Ok(id)
    }

    /// Saves an athlete read at a version.
    ///
    /// Where the units change, a form of the base week that is open elsewhere becomes stale: its
    /// numbers were meant in the old unit.
    ///
    /// # Errors
    ///
    /// [`StoreError::Conflict`], [`StoreError::Gone`], [`StoreError::Refused`].
    pub async fn save_athlete(
        &self,
        id: AthleteId,
        read_at: Version,
        draft: &AthleteDraft,
        now: DateTime<Utc>,
    ) -> Result<()> {
        let row = Written::of(draft)?;
        let mut tx = self.writing().await?;
        let before = athlete(&mut tx, id).await?.ok_or(StoreError::Gone)?;
        if before.version != read_at {
            return Err(StoreError::Conflict);
        }
        let now_text = cell::instant_text(now);
        sqlx::query!(
            "UPDATE athlete
             SET version = version + 1, name = ?, name_key = ?, units = ?, easy_pace_seconds = ?, easy_pace_per = ?,
                 birth_year = ?, home_zone = ?, cautions = ?, suits_days = ?, suits_day_before = ?, suits_extra_rest = ?,
                 training_group = ?, notes = ?, weight_grams = ?, fuel_referred = ?, recent_results = ?,
                 phone = ?, saved_at = ?
             WHERE id = ?",
            row.name,
            row.name_key,
            row.units,
            row.easy_pace_seconds,
            row.easy_pace_per,
            row.birth_year,
            row.home_zone,
            row.cautions,
            row.suits_days,
            row.suits_day_before,
            row.suits_extra_rest,
            draft.group,
            draft.notes,
            row.weight_grams,
            draft.fuel_referred,
            draft.recent_results,
            draft.phone,
            now_text,
            id.0
        )
        .execute(&mut *tx)
        .await?;
        if before.draft.athlete.units != draft.athlete.units {
            sqlx::query!("UPDATE base_week SET version = version + 1 WHERE athlete = ?", id.0)
                .execute(&mut *tx)
                .await?;
        }
        tx.commit().await?;
        Ok(())
    }

    /// Hides an athlete and all that belongs to it, links included; undoable. Twice is once.
    ///
    /// # Errors
    ///
    /// [`StoreError::Gone`] where there never was such an athlete.
    pub async fn remove_athlete(&self, id: AthleteId, now: DateTime<Utc>) -> Result<()> {
        let mut tx = self.writing().await?;
        let at = cell::instant_text(now);
        let done = sqlx::query!("UPDATE athlete SET removed_at = coalesce(removed_at, ?) WHERE id = ?", at, id.0)
            .execute(&mut *tx)
            .await?;
        commit_changed(tx, &done).await
    }

    /// Brings a removed athlete back, with all that belongs to it.
    ///
    /// # Errors
    ///
    /// [`StoreError::Gone`] where there never was such an athlete.
    pub async fn restore_athlete(&self, id: AthleteId, now: DateTime<Utc>) -> Result<()> {
        let mut tx = self.writing().await?;
        let at = cell::instant_text(now);
        let done = sqlx::query!("UPDATE athlete SET removed_at = NULL, saved_at = ? WHERE id = ?", at, id.0)
            .execute(&mut *tx)
            .await?;
        commit_changed(tx, &done).await
    }

    /// Removed athletes, latest first.
    pub async fn removed_athletes(&self) -> Result<Vec<AthleteRecord>> {
        let mut db = self.read_connection().await?;
        let rows = select_athletes!("WHERE removed_at IS NOT NULL ORDER BY removed_at DESC, id DESC")
            .fetch_all(&mut *db)
            .await?;
        rows.into_iter().map(AthleteRow::read).collect()
    }
}

/// Adds an athlete.
pub(crate) async fn insert(tx: &mut SqliteConnection, draft: &AthleteDraft, now: DateTime<Utc>) -> Result<AthleteId> {
    let row = Written::of(draft)?;
    let now_text = cell::instant_text(now);
    let id = sqlx::query_scalar!(
        "INSERT INTO athlete (version, name, name_key, units, easy_pace_seconds, easy_pace_per, birth_year,
                              home_zone, cautions, suits_days, suits_day_before, suits_extra_rest, training_group,
                              notes, weight_grams, fuel_referred, recent_results, phone, made_at, saved_at)
         VALUES (1, ?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11, ?12, ?13, ?14, ?15, ?16, ?17, ?18, ?18)
         RETURNING id",
        row.name,
        row.name_key,
        row.units,
        row.easy_pace_seconds,
        row.easy_pace_per,
        row.birth_year,
        row.home_zone,
        row.cautions,
        row.suits_days,
        row.suits_day_before,
        row.suits_extra_rest,
        draft.group,
        draft.notes,
        row.weight_grams,
        draft.fuel_referred,
        draft.recent_results,
        draft.phone,
        now_text
    )
    .fetch_one(&mut *tx)
    .await?;
    Ok(AthleteId(id))
}

/// An athlete who is not removed.
pub(crate) async fn athlete(db: &mut SqliteConnection, id: AthleteId) -> Result<Option<AthleteRecord>> {
    let row = select_athletes!("WHERE id = ? AND removed_at IS NULL", id.0).fetch_optional(db).await?;
    row.map(AthleteRow::read).transpose()
}

/// Some athletes who are not removed, by name.
pub(crate) async fn athletes_of(db: &mut SqliteConnection, ids: &[AthleteId]) -> Result<Vec<AthleteRecord>> {
    let ids = cell::id_list(ids.iter().copied());
    let rows = select_athletes!(
        "WHERE removed_at IS NULL AND id IN (SELECT value FROM json_each(?)) ORDER BY name_key, id",
        ids
    )
    .fetch_all(db)
    .await?;
    rows.into_iter().map(AthleteRow::read).collect()
}

/// Every athlete, removed or not: for the check of the whole file.
pub(crate) async fn every_athlete(db: &mut SqliteConnection) -> Result<Vec<Result<AthleteRecord>>> {
    let rows = select_athletes!("ORDER BY id").fetch_all(db).await?;
    Ok(rows.into_iter().map(AthleteRow::read).collect())
}

/// A name for finding and for order: lower case, without marks, words one space apart.
pub fn name_key(name: &str) -> String {
    let plain: String = name.to_lowercase().nfd().filter(|letter| !is_combining_mark(*letter)).collect();
    plain.split_whitespace().collect::<Vec<_>>().join(" ")
}

struct AthleteRow {
    id: i64,
    version: i64,
    name: String,
    units: String,
    easy_pace_seconds: Option<i64>,
    easy_pace_per: Option<String>,
    birth_year: Option<i64>,
    home_zone: Option<String>,
    cautions: String,
    suits_days: Option<i64>,
    suits_day_before: Option<String>,
    suits_extra_rest: Option<String>,
    training_group: String,
    notes: String,
    weight_grams: Option<i64>,
    fuel_referred: bool,
    recent_results: String,
    phone: String,
}

impl AthleteRow {
    fn read(self) -> Result<AthleteRecord> {
        let place = Place::new("athlete", self.id);
        let easy_pace = match (self.easy_pace_seconds, self.easy_pace_per) {
            (Some(seconds), Some(per)) => {
                let per = place.units("easy_pace_per", &per)?;
                let seconds = place.number("easy_pace_seconds", seconds)?;
                Some(Pace::new(seconds, per).map_err(|_| place.corrupt("easy_pace_seconds", "out of range"))?)
            }
            _ => None,
        };
        let suits = Suits {
            days: self.suits_days.map(|days| place.number("suits_days", days)).transpose()?,
            day_before: self
                .suits_day_before
                .map(|text| place.word("suits_day_before", &text, DayBefore::from_code))
                .transpose()?,
            extra_rest: self
                .suits_extra_rest
                .map(|text| place.word("suits_extra_rest", &text, weekday_from_code))
                .transpose()?,
        };
        let athlete = Athlete {
            name: self.name,
            units: place.units("units", &self.units)?,
            easy_pace,
            birth_year: self.birth_year.map(|year| place.number("birth_year", year)).transpose()?,
            home_zone: self.home_zone,
            cautions: serde_json::from_str(&self.cautions).map_err(|error| place.corrupt("cautions", error))?,
            suits,
        };
        let weight = |grams| Weight::grams(grams).ok_or_else(|| place.corrupt("weight_grams", "out of range"));
        let weight_grams = self.weight_grams.map(|grams| place.number("weight_grams", grams)).transpose()?;
        Ok(AthleteRecord {
            id: AthleteId(self.id),
            version: Version(self.version),
            draft: AthleteDraft {
                athlete,
                group: self.training_group,
                notes: self.notes,
                weight: weight_grams.map(weight).transpose()?,
                fuel_referred: self.fuel_referred,
                recent_results: self.recent_results,
                phone: self.phone,
            },
        })
    }
}

/// An athlete as its row holds it.
struct Written<'a> {
    name: &'a str,
    name_key: String,
    units: &'static str,
    easy_pace_seconds: Option<i64>,
    easy_pace_per: Option<&'static str>,
    birth_year: Option<i64>,
    home_zone: Option<&'a str>,
    cautions: String,
    suits_days: Option<i64>,
    suits_day_before: Option<&'static str>,
    suits_extra_rest: Option<&'static str>,
    weight_grams: Option<i64>,
}

impl<'a> Written<'a> {
    fn of(draft: &'a AthleteDraft) -> Result<Self> {
        let athlete = &draft.athlete;
        let problems = draft.problems();
        if !problems.is_empty() {
            return Err(StoreError::Refused(problems));
        }
        Ok(Self {
            name: &athlete.name,
            name_key: name_key(&athlete.name),
            units: athlete.units.symbol(),
            easy_pace_seconds: athlete.easy_pace.map(|pace| i64::from(pace.seconds())),
            easy_pace_per: athlete.easy_pace.map(|pace| pace.per().symbol()),
            birth_year: athlete.birth_year.map(i64::from),
            home_zone: athlete.home_zone.as_deref(),
            cautions: serde_json::Value::from(athlete.cautions.as_slice()).to_string(),
            suits_days: athlete.suits.days.map(i64::from),
            suits_day_before: athlete.suits.day_before.map(DayBefore::code),
            suits_extra_rest: athlete.suits.extra_rest.map(weekday_code),
            weight_grams: draft.weight.map(|weight| i64::from(weight.as_grams())),
        })
    }
}

#[cfg(test)]
mod tests {
    use chrono::Weekday;
    use planning::{DistanceUnit, Field};

    use super::*;
    use crate::testing::{add, at, draft, once, open};

    fn full() -> AthleteDraft {
        AthleteDraft {
            athlete: Athlete {
                name: "Ngozi O'Neil-Šťastná".to_owned(),
                units: DistanceUnit::Mi,
                easy_pace: Some(Pace::new(585, DistanceUnit::Mi).unwrap()),
                birth_year: Some(1971),
                home_zone: Some("America/Chicago".to_owned()),
                cautions: vec!["left Achilles, \"old friend\"".to_owned(), "heat".to_owned()],
                suits: Suits { days: Some(11), day_before: Some(DayBefore::ShakeOut), extra_rest: Some(Weekday::Fri) },
            },
            group: "Tuesday".to_owned(),
            notes: "Invented for a test.\nSecond line.".to_owned(),
            weight: Weight::grams(61_500),
            fuel_referred: true,
            recent_results: "2027-03-14 10k 42:10 (windy)\n\n2027-01-02 5 km 20:05".to_owned(),
            phone: "+351 900 000 000".to_owned(),
        }
    }

    #[tokio::test]
    async fn the_first_athlete_of_all_says_in_which_units_the_coach_reads_unless_that_was_set() {
        let in_miles = |name: &str| {
            let told = draft(name);
            AthleteDraft { athlete: Athlete { units: DistanceUnit::Mi, ..told.athlete }, ..told }
        };
        let store = open().await;
        store.add_athlete(&in_miles("Ana"), once(), at(1)).await.unwrap();
        assert_eq!(store.settings().await.unwrap().units, DistanceUnit::Mi);
        store.add_athlete(&draft("Ben"), once(), at(2)).await.unwrap();
        assert_eq!(store.settings().await.unwrap().units, DistanceUnit::Mi, "the first alone");

        let store = open().await;
        let settings = store.settings().await.unwrap();
        store.save_settings(&settings, at(0)).await.unwrap();
        store.add_athlete(&in_miles("Ana"), once(), at(1)).await.unwrap();
        assert_eq!(store.settings().await.unwrap().units, DistanceUnit::Km, "the coach said so");
    }

    #[tokio::test]
    async fn an_athlete_comes_back_as_it_was_told() {
        let store = open().await;
        for told in [full(), draft("J"), draft("نور علي")] {
            let id = store.add_athlete(&told, once(), at(0)).await.unwrap();
            let kept = store.athlete(id).await.unwrap().unwrap();
            assert_eq!(kept, AthleteRecord { id, version: Version(1), draft: told });
        }
    }

    #[tokio::test]
    async fn the_same_form_sent_twice_makes_one_athlete() {
        let store = open().await;
        let key = once();
        let first = store.add_athlete(&draft("Ana"), key, at(0)).await.unwrap();
        let second = store.add_athlete(&draft("Ana"), key, at(1)).await.unwrap();
        assert_eq!(first, second);
        assert_eq!(store.athletes().await.unwrap().len(), 1);
    }

    #[tokio::test]
    async fn a_stale_save_is_a_conflict_and_writes_nothing() {
        let store = open().await;
        let id = add(&store, "Ana").await;
        store.save_athlete(id, Version(1), &draft("Ana B"), at(1)).await.unwrap();
        let stale = store.save_athlete(id, Version(1), &draft("Ana C"), at(2)).await;
        assert!(matches!(stale, Err(StoreError::Conflict)), "{stale:?}");
        let kept = store.athlete(id).await.unwrap().unwrap();
        assert_eq!((kept.version, kept.draft.athlete.name.as_str()), (Version(2), "Ana B"));
    }

    #[tokio::test]
    async fn a_removed_athlete_is_hidden_and_comes_back() {
        let store = open().await;
        let (one, other) = (add(&store, "Ana").await, add(&store, "Bo").await);
        store.remove_athlete(one, at(1)).await.unwrap();
        store.remove_athlete(other, at(2)).await.unwrap();
        store.remove_athlete(one, at(3)).await.unwrap();
        assert_eq!(store.athlete(one).await.unwrap(), None);
        let removed: Vec<_> = store.removed_athletes().await.unwrap().into_iter().map(|athlete| athlete.id).collect();
        assert_eq!(removed, [other, one], "latest first, and removing again changes nothing");
        let gone = store.save_athlete(one, Version(1), &draft("Ana"), at(4)).await;
        assert!(matches!(gone, Err(StoreError::Gone)), "{gone:?}");

        store.restore_athlete(one, at(5)).await.unwrap();
        assert_eq!(store.athletes().await.unwrap().len(), 1);
        store.save_athlete(one, Version(1), &draft("Ana"), at(6)).await.unwrap();
        let never = store.remove_athlete(AthleteId(99), at(7)).await;
        assert!(matches!(never, Err(StoreError::Gone)), "{never:?}");
    }

    #[tokio::test]
    async fn names_are_sorted_and_found_without_regard_to_capitals_and_marks() {
        let store = open().await;
        for name in ["Zoe", "šárka Nová", "Sam", "Émile", "eva", "نور علي"] {
            add(&store, name).await;
        }
        let names = |found: Vec<AthleteRecord>| -> Vec<String> {
            found.into_iter().map(|athlete| athlete.draft.athlete.name).collect()
        };
        assert_eq!(names(store.athletes().await.unwrap()), ["Émile", "eva", "Sam", "šárka Nová", "Zoe", "نور علي"]);
        assert_eq!(names(store.find_athletes("NOVA sar").await.unwrap()), ["šárka Nová"]);
        assert_eq!(names(store.find_athletes("نور").await.unwrap()), ["نور علي"]);
        assert_eq!(store.find_athletes("% _").await.unwrap(), []);
        assert_eq!(store.find_athletes("  ").await.unwrap().len(), 6);
    }

    #[tokio::test]
    async fn what_planning_refuses_is_not_kept() {
        let store = open().await;
        let refused = store.add_athlete(&draft("  "), once(), at(0)).await;
        let Err(StoreError::Refused(problems)) = refused else { panic!("{refused:?}") };
        assert_eq!(problems[0].at, Field::AthleteName);
        let unread = AthleteDraft { recent_results: "2027-03-14 10k 42:10\nfast".to_owned(), ..draft("Ana") };
        let refused = store.add_athlete(&unread, once(), at(0)).await;
        let Err(StoreError::Refused(problems)) = refused else { panic!("{refused:?}") };
        assert_eq!(problems[0].at, Field::RecentResult(2, "fast".to_owned()));
        assert_eq!(store.athletes().await.unwrap(), []);
    }

    #[tokio::test]
    async fn a_row_that_cannot_be_read_names_its_place() {
        let store = open().await;
        let id = add(&store, "Ana").await;
        sqlx::raw_sql("UPDATE athlete SET cautions = '[1]'").execute(&mut store.stray().await).await.unwrap();
        let error = store.athlete(id).await.unwrap_err();
        assert!(
            matches!(error, StoreError::Corrupt { table: "athlete", column: "cautions", row, .. } if row == id.0),
            "{error}"
        );
    }

    #[tokio::test(flavor = "multi_thread")]
    async fn of_twenty_saves_at_once_one_wins_and_the_others_conflict() {
        let store = open().await;
        let id = add(&store, "Ana").await;
        let saves: Vec<_> = (0..20)
            .map(|number| {
                let store = store.store.clone();
                tokio::spawn(async move {
                    store.save_athlete(id, Version(1), &draft(&format!("Ana {number}")), at(number)).await
                })
            })
            .collect();
        let mut winners = 0;
        for save in saves {
            match save.await.unwrap() {
                Ok(()) => winners += 1,
                Err(StoreError::Conflict) => {}
                Err(error) => panic!("{error}"),
            }
        }
        assert_eq!(winners, 1);
        assert_eq!(store.athlete(id).await.unwrap().unwrap().version, Version(2));
    }

    #[tokio::test(flavor = "multi_thread")]
    async fn twenty_athletes_added_at_once_are_all_kept() {
        let store = open().await;
        let adds: Vec<_> = (0..20)
            .map(|number| {
                let store = store.store.clone();
                tokio::spawn(async move { add(&store, &format!("Athlete {number}")).await })
            })
            .collect();
        for add in adds {
            add.await.unwrap();
        }
        assert_eq!(store.athletes().await.unwrap().len(), 20);
    }
}
