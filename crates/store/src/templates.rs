//! Base weeks as templates, and whose week came from which.

use std::collections::HashMap;

use chrono::{DateTime, Utc};
use planning::notation::read_week;
use planning::{Amount, BaseWeek, DistanceUnit, Field, Milli, Problem, ProblemKind, Unit};
use sqlx::SqliteConnection;
use uuid::Uuid;

use crate::athletes::{athletes_of, name_key};
use crate::cell::{self, Place, commit_changed};
use crate::once::{self, Made};
use crate::steps::{Press, StepKind};
use crate::weeks::{kept_weeks, save, week_of};
use crate::{
    AthleteId, AthleteRecord, NameSearch, Result, StepId, Store, StoreError, TemplateId, Version, WeekDraft, WeekRecord,
};

/// A template as typed.
#[derive(Clone, Debug, PartialEq, Eq, Default)]
pub struct TemplateDraft {
    /// What it is called.
    pub name: String,
    /// The unit of a number without a unit in the lines.
    pub units: DistanceUnit,
    /// The lines, Monday first.
    pub lines: [String; 7],
    /// Notes of the coach.
    pub notes: String,
}

impl TemplateDraft {
    /// The longest name, in characters.
    pub const NAME_MOST: usize = 80;

    /// What the lines say.
    ///
    /// # Errors
    ///
    /// Everything that is wrong with name and lines; a week without running cannot be scaled.
    pub fn read(&self) -> std::result::Result<BaseWeek, Vec<Problem>> {
        let mut found = Vec::new();
        let length = self.name.chars().count();
        if self.name.trim().is_empty() {
            found.push(Problem::new(Field::AthleteName, ProblemKind::Missing));
        } else if length > Self::NAME_MOST {
            found.push(Problem::new(Field::AthleteName, ProblemKind::TooLong { length, most: Self::NAME_MOST }));
        }
        match read_week(&self.lines.each_ref().map(String::as_str), "", self.units) {
            Ok(week) if week.running().is_empty() => found.push(Problem::new(Field::BaseWeek, ProblemKind::EmptyWeek)),
            Ok(week) if found.is_empty() => return Ok(week),
            Ok(_) => {}
            Err(problems) => found.extend(problems),
        }
        Err(found)
    }
}

/// A kept template.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TemplateRecord {
    /// The template.
    pub id: TemplateId,
    /// Counts its saves.
    pub version: Version,
    /// Name, lines and notes.
    pub draft: TemplateDraft,
    /// How many athletes run it.
    pub athletes: u32,
    /// How many of them an older version.
    pub older: u32,
}

/// How a template was filled in for an athlete.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TemplateUse {
    /// The template.
    pub template: TemplateId,
    /// Its version then.
    pub version: Version,
    /// The week's running for the athlete.
    pub amount: Amount,
    /// The seven lines that it gave.
    pub given: [String; 7],
    /// The unit of a number without a unit in them.
    pub units: DistanceUnit,
}

/// An athlete for whom a template may be filled in.
#[derive(Clone, Debug, PartialEq)]
pub struct Candidate {
    /// The athlete.
    pub athlete: AthleteRecord,
    /// The base week; at `Version(0)` where none was saved.
    pub week: WeekRecord,
    /// The template that the week came from, its name, and how it was filled in.
    pub from: Option<(TemplateUse, String)>,
}

/// Which athletes are asked for.
#[derive(Clone, Debug, Default)]
pub struct WhichAthletes {
    /// Words of the name; empty for all.
    pub text: String,
    /// The group; empty for all.
    pub group: String,
    /// Who runs this template; nothing for all.
    pub runs: Option<TemplateId>,
    /// Of these, only who runs an older version.
    pub older: bool,
}

/// A week as a template fills it in for an athlete.
#[derive(Clone, Debug)]
pub struct FilledWeek {
    /// The athlete.
    pub athlete: AthleteId,
    /// The version at which the week was looked at.
    pub read_at: Version,
    /// The week to keep; nothing where the lines stay as they are.
    pub week: Option<WeekDraft>,
    /// How it was filled in.
    pub from: TemplateUse,
}

/// Rows of templates with their counts.
macro_rules! select_templates {
    ($rest:literal $(, $argument:expr)* $(,)?) => {
        sqlx::query_as!(
            TemplateRow,
            r#"SELECT id, version, name, units, mon, tue, wed, thu, fri, sat, sun, notes,
                      (SELECT count(*) FROM week_from_template AS used JOIN athlete ON athlete.id = used.athlete
                       WHERE used.template = week_template.id AND athlete.removed_at IS NULL) AS "athletes!: u32",
                      (SELECT count(*) FROM week_from_template AS used JOIN athlete ON athlete.id = used.athlete
                       WHERE used.template = week_template.id AND used.template_version < week_template.version
                         AND athlete.removed_at IS NULL) AS "older!: u32"
               FROM week_template "# + $rest
            $(, $argument)*
        )
    };
}

impl Store {
    /// Every template, by name.
    pub async fn templates(&self) -> Result<Vec<TemplateRecord>> {
        let mut db = self.read_connection().await?;
        let rows = select_templates!("WHERE removed_at IS NULL ORDER BY name_key, id").fetch_all(&mut *db).await?;
        rows.into_iter().map(TemplateRow::read).collect()
    }

    /// One template.
    pub async fn template(&self, id: TemplateId) -> Result<Option<TemplateRecord>> {
        let mut db = self.read_connection().await?;
        template(&mut db, id).await
    }

    /// Adds a template. `once` is the form's own key: the same key again gives the same template.
    ///
    /// # Errors
    ///
    /// [`StoreError::Refused`] where planning finds problems.
    pub async fn add_template(&self, draft: &TemplateDraft, once: Uuid, now: DateTime<Utc>) -> Result<TemplateId> {
        draft.read().map_err(StoreError::Refused)?;
        let mut tx = self.writing().await?;
        if let Some(id) = once::made_before(&mut tx, once, Made::Template).await? {
            return Ok(TemplateId(id));
        }
        let (key, units, at) = (name_key(&draft.name), draft.units.symbol(), cell::instant_text(now));
        let [mon, tue, wed, thu, fri, sat, sun] = &draft.lines;
        let id = sqlx::query_scalar!(
            "INSERT INTO week_template (version, name, name_key, units, mon, tue, wed, thu, fri, sat, sun, notes,
                                        made_at, saved_at)
             VALUES (1, ?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11, ?12, ?12) RETURNING id",
            draft.name,
            key,
            units,
            mon,
            tue,
            wed,
            thu,
            fri,
            sat,
            sun,
            draft.notes,
            at
        )
        .fetch_one(&mut *tx)
        .await?;
        once::remember(&mut tx, once, Made::Template, id, now).await?;
        tx.commit().await?;
        Ok(TemplateId(id))
    }

    /// Saves a template read at a version. Nobody's week changes by it.
    ///
    /// # Errors
    ///
    /// [`StoreError::Conflict`], [`StoreError::Gone`], [`StoreError::Refused`].
    pub async fn save_template(
        &self,
        id: TemplateId,
        read_at: Version,
        draft: &TemplateDraft,
        now: DateTime<Utc>,
    ) -> Result<()> {
        draft.read().map_err(StoreError::Refused)?;
        let mut tx = self.writing().await?;
        if template(&mut tx, id).await?.ok_or(StoreError::Gone)?.version != read_at {
            return Err(StoreError::Conflict);
        }
        let (key, units, at) = (name_key(&draft.name), draft.units.symbol(), cell::instant_text(now));
        let [mon, tue, wed, thu, fri, sat, sun] = &draft.lines;
        sqlx::query!(
            "UPDATE week_template
             SET version = version + 1, name = ?, name_key = ?, units = ?, mon = ?, tue = ?, wed = ?, thu = ?, fri = ?,
                 sat = ?, sun = ?, notes = ?, saved_at = ?
             WHERE id = ?",
            draft.name,
            key,
            units,
            mon,
            tue,
            wed,
            thu,
            fri,
            sat,
            sun,
            draft.notes,
            at,
            id.0
        )
        .execute(&mut *tx)
        .await?;
        tx.commit().await?;
        Ok(())
    }

    /// Hides a template; weeks that came from it stay as they are. Twice is once.
    ///
    /// # Errors
    ///
    /// [`StoreError::Gone`] where there never was such a template.
    pub async fn remove_template(&self, id: TemplateId, now: DateTime<Utc>) -> Result<()> {
        let mut tx = self.writing().await?;
        let at = cell::instant_text(now);
        let done = sqlx::query!("UPDATE week_template SET removed_at = coalesce(removed_at, ?) WHERE id = ?", at, id.0)
            .execute(&mut *tx)
            .await?;
        commit_changed(tx, &done).await
    }

    /// Brings a removed template back.
    ///
    /// # Errors
    ///
    /// [`StoreError::Gone`] where there never was such a template.
    pub async fn restore_template(&self, id: TemplateId, now: DateTime<Utc>) -> Result<()> {
        let mut tx = self.writing().await?;
        let at = cell::instant_text(now);
        let done = sqlx::query!("UPDATE week_template SET removed_at = NULL, saved_at = ? WHERE id = ?", at, id.0)
            .execute(&mut *tx)
            .await?;
        commit_changed(tx, &done).await
    }

    /// The template that an athlete's week came from, with its name, and how it was filled in.
    pub async fn template_of(&self, athlete: AthleteId) -> Result<Option<(TemplateUse, String)>> {
        let mut db = self.read_connection().await?;
        Ok(uses(&mut db, &[athlete]).await?.remove(&athlete))
    }

    /// The first athletes that are asked for, by name, and how many there are.
    pub async fn candidates(&self, which: &WhichAthletes, most: usize) -> Result<(Vec<AthleteId>, usize)> {
        let names = NameSearch::new(&which.text);
        let runs = which.runs.map(|template| template.0);
        let mut db = self.read_connection().await?;
        let rows = sqlx::query!(
            r#"SELECT athlete.id AS "id!", athlete.name_key AS "name_key!"
               FROM athlete
               LEFT JOIN week_from_template ON week_from_template.athlete = athlete.id
               LEFT JOIN week_template ON week_template.id = week_from_template.template
               WHERE athlete.removed_at IS NULL
                 AND (?1 = '' OR athlete.training_group = ?1)
                 AND (?2 IS NULL OR week_from_template.template = ?2)
                 AND (NOT ?3 OR week_from_template.template_version < week_template.version)
               ORDER BY athlete.name_key, athlete.id"#,
            which.group,
            runs,
            which.older
        )
        .fetch_all(&mut *db)
        .await?;
        let found: Vec<AthleteId> =
            rows.into_iter().filter(|row| names.finds_key(&row.name_key)).map(|row| AthleteId(row.id)).collect();
        Ok((found.iter().copied().take(most).collect(), found.len()))
    }

    /// These athletes with their weeks, by name; who is removed is left out.
    pub async fn candidates_of(&self, ids: &[AthleteId]) -> Result<Vec<Candidate>> {
        let mut tx = self.reading().await?;
        let athletes = athletes_of(&mut tx, ids).await?;
        let mut weeks = kept_weeks(&mut tx, ids).await?;
        let mut uses = uses(&mut tx, ids).await?;
        let candidates = athletes.into_iter().map(|athlete| {
            let units = athlete.draft.athlete.units;
            let week = week_of(weeks.remove(&athlete.id), units);
            Candidate { from: uses.remove(&athlete.id), athlete, week }
        });
        Ok(candidates.collect())
    }

    /// Keeps weeks that a template filled in, all of them or none. `once` is the form's own key: the same
    /// key again gives the same step.
    ///
    /// # Errors
    ///
    /// [`StoreError::Conflict`] where a week or the template was saved since it was looked at,
    /// [`StoreError::Gone`] where an athlete or the template is, [`StoreError::Refused`].
    pub async fn apply_template(
        &self,
        (id, read_at): (TemplateId, Version),
        weeks: &[FilledWeek],
        once: Uuid,
        now: DateTime<Utc>,
    ) -> Result<StepId> {
        let mut tx = self.writing().await?;
        if let Some(id) = once::made_before(&mut tx, once, Made::Step).await? {
            return Ok(StepId(id));
        }
        if template(&mut tx, id).await?.ok_or(StoreError::Gone)?.version != read_at {
            return Err(StoreError::Conflict);
        }
        let mut press = Press { kind: StepKind::Template, race: None, step: None, now };
        for one in weeks {
            fill(&mut tx, one, &mut press).await?;
        }
        let step = press.begun(&mut tx).await?;
        once::remember(&mut tx, once, Made::Step, step.0, now).await?;
        tx.commit().await?;
        Ok(step)
    }
}

async fn fill(tx: &mut SqliteConnection, one: &FilledWeek, press: &mut Press) -> Result<()> {
    let before = press.state(tx, one.athlete).await?;
    if let Some(week) = &one.week {
        save(tx, one.athlete, one.read_at, week, press.now).await?;
    } else {
        let kept = sqlx::query_scalar!("SELECT version FROM base_week WHERE athlete = ?", one.athlete.0)
            .fetch_optional(&mut *tx)
            .await?;
        if kept != Some(one.read_at.0) {
            return Err(StoreError::Conflict);
        }
    }
    let TemplateUse { template, version, amount, given, units } = &one.from;
    let (middle, unit) = (i64::from(amount.middle().0), amount.unit().symbol());
    let (given, units) = (serde_json::Value::from(given.as_slice()).to_string(), units.symbol());
    let at = cell::instant_text(press.now);
    sqlx::query!(
        "INSERT INTO week_from_template (athlete, template, template_version, amount, amount_unit, given, units, saved_at)
         VALUES (?, ?, ?, ?, ?, ?, ?, ?)
         ON CONFLICT (athlete) DO UPDATE
         SET template = excluded.template, template_version = excluded.template_version, amount = excluded.amount,
             amount_unit = excluded.amount_unit, given = excluded.given, units = excluded.units,
             saved_at = excluded.saved_at",
        one.athlete.0,
        template.0,
        version.0,
        middle,
        unit,
        given,
        units,
        at
    )
    .execute(&mut *tx)
    .await?;
    press.note(tx, one.athlete, before).await
}

async fn template(db: &mut SqliteConnection, id: TemplateId) -> Result<Option<TemplateRecord>> {
    let row = select_templates!("WHERE id = ? AND removed_at IS NULL", id.0).fetch_optional(db).await?;
    row.map(TemplateRow::read).transpose()
}

/// Every template, removed or not, and every use: for the check of the whole file.
pub(crate) async fn every_template(db: &mut SqliteConnection) -> Result<Vec<StoreError>> {
    let rows = select_templates!("ORDER BY id").fetch_all(&mut *db).await?;
    let mut found: Vec<StoreError> = rows.into_iter().filter_map(|row| row.read().err()).collect();
    let all =
        sqlx::query_scalar!("SELECT athlete FROM week_from_template ORDER BY athlete").fetch_all(&mut *db).await?;
    for athlete in all {
        match uses(db, &[AthleteId(athlete)]).await {
            Err(error @ StoreError::Corrupt { .. }) => found.push(error),
            other => drop(other?),
        }
    }
    Ok(found)
}

/// From which templates, by their names, the weeks of some athletes came.
async fn uses(db: &mut SqliteConnection, ids: &[AthleteId]) -> Result<HashMap<AthleteId, (TemplateUse, String)>> {
    let ids = cell::id_list(ids.iter().copied());
    let rows = sqlx::query!(
        r#"SELECT athlete AS "athlete!", template AS "template!", template_version AS "version!", amount AS "amount!",
                  amount_unit AS "amount_unit!", given AS "given!", used.units AS "units!", week_template.name AS "name!"
           FROM week_from_template AS used JOIN week_template ON week_template.id = used.template
           WHERE athlete IN (SELECT value FROM json_each(?)) ORDER BY athlete"#,
        ids
    )
    .fetch_all(db)
    .await?;
    let read = rows.into_iter().map(|row| {
        let place = Place::new("week_from_template", row.athlete);
        let unit_of = |code: &str| Unit::ALL.into_iter().find(|unit| unit.symbol() == code);
        let unit = place.word("amount_unit", &row.amount_unit, unit_of)?;
        let used = TemplateUse {
            template: TemplateId(row.template),
            version: Version(row.version),
            amount: Amount::exact(Milli(place.number("amount", row.amount)?), unit),
            given: serde_json::from_str(&row.given).map_err(|error| place.corrupt("given", error))?,
            units: place.units("units", &row.units)?,
        };
        Ok((AthleteId(row.athlete), (used, row.name)))
    });
    read.collect()
}

struct TemplateRow {
    id: i64,
    version: i64,
    name: String,
    units: String,
    mon: String,
    tue: String,
    wed: String,
    thu: String,
    fri: String,
    sat: String,
    sun: String,
    notes: String,
    athletes: u32,
    older: u32,
}

impl TemplateRow {
    fn read(self) -> Result<TemplateRecord> {
        let draft = TemplateDraft {
            name: self.name,
            units: Place::new("week_template", self.id).units("units", &self.units)?,
            lines: [self.mon, self.tue, self.wed, self.thu, self.fri, self.sat, self.sun],
            notes: self.notes,
        };
        Ok(TemplateRecord {
            id: TemplateId(self.id),
            version: Version(self.version),
            draft,
            athletes: self.athletes,
            older: self.older,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::{add, at, lines, once, open};
    use crate::{KEPT_DAYS, Purged, SecondWeek};

    fn five(name: &str) -> TemplateDraft {
        let lines = lines(["", "8", "7", "tempo 9", "", "6", "long 16"]);
        TemplateDraft { name: name.to_owned(), units: DistanceUnit::Km, lines, notes: "For the winter.".to_owned() }
    }

    fn filled(athlete: AthleteId, read_at: i64, template: TemplateId, mon: &str) -> FilledWeek {
        let given = lines([mon, "", "", "", "", "", "9"]);
        FilledWeek {
            athlete,
            read_at: Version(read_at),
            week: Some(WeekDraft::of(given.clone())),
            from: TemplateUse {
                template,
                version: Version(1),
                amount: Amount::exact(Milli::whole(40), Unit::Km),
                given,
                units: DistanceUnit::Km,
            },
        }
    }

    #[tokio::test]
    async fn a_template_is_kept_changed_removed_and_brought_back() {
        let (store, key) = (open().await, once());
        let empty = TemplateDraft { lines: lines([""; 7]), ..five("") };
        let refused = store.add_template(&empty, key, at(0)).await;
        assert!(matches!(&refused, Err(StoreError::Refused(found)) if found.len() == 2), "{refused:?}");
        let id = store.add_template(&five("Winter"), key, at(0)).await.unwrap();
        assert_eq!(store.add_template(&five("Winter"), key, at(1)).await.unwrap(), id);
        store.save_template(id, Version(1), &five("Ááron's winter"), at(2)).await.unwrap();
        let stale = store.save_template(id, Version(1), &five("x"), at(3)).await;
        assert!(matches!(stale, Err(StoreError::Conflict)), "{stale:?}");
        let kept = store.template(id).await.unwrap().unwrap();
        assert_eq!((kept.version, &kept.draft, kept.athletes), (Version(2), &five("Ááron's winter"), 0));
        store.remove_template(id, at(4)).await.unwrap();
        assert_eq!((store.templates().await.unwrap(), store.removed().await.unwrap().templates.len()), (vec![], 1));
        store.restore_template(id, at(5)).await.unwrap();
        assert_eq!(store.templates().await.unwrap(), [kept]);
    }

    #[tokio::test]
    async fn weeks_are_filled_in_as_a_whole_once_and_undone_with_what_they_came_from() {
        let store = open().await;
        let (ana, bo) = (add(&store, "Ana").await, add(&store, "Bo").await);
        let id = store.add_template(&five("Winter"), once(), at(0)).await.unwrap();
        let turning = WeekDraft {
            second: Some(SecondWeek { lines: lines(["5"; 7]), stands_on: "2027-05-03".parse().unwrap() }),
            ..WeekDraft::of(lines(["8"; 7]))
        };
        store.save_week(ana, Version(0), &turning, at(1)).await.unwrap();
        let stale = store
            .apply_template((id, Version(1)), &[filled(bo, 0, id, "7"), filled(ana, 9, id, "7")], once(), at(2))
            .await;
        assert!(matches!(stale, Err(StoreError::Conflict)), "{stale:?}");
        assert_eq!(
            (store.week(bo).await.unwrap().unwrap().version, store.template_of(bo).await.unwrap()),
            (Version(0), None)
        );

        let key = once();
        let both = [filled(ana, 1, id, "7"), filled(bo, 0, id, "9")];
        let step = store.apply_template((id, Version(1)), &both, key, at(3)).await.unwrap();
        assert_eq!(store.apply_template((id, Version(1)), &both, key, at(4)).await.unwrap(), step);
        assert_eq!(store.week(bo).await.unwrap().unwrap().lines[0], "9");
        assert_eq!(store.template_of(ana).await.unwrap(), Some((both[0].from.clone(), "Winter".to_owned())));
        assert_eq!(store.template(id).await.unwrap().unwrap().athletes, 2);
        store.save_template(id, Version(1), &five("Winter"), at(5)).await.unwrap();
        assert_eq!(store.template(id).await.unwrap().unwrap().older, 2);
        let old = store.apply_template((id, Version(1)), &both, once(), at(6)).await;
        assert!(matches!(old, Err(StoreError::Conflict)), "the template was saved since: {old:?}");

        store.undo_step(step, at(7)).await.unwrap();
        let week = store.week(ana).await.unwrap().unwrap();
        assert_eq!((week.lines, week.second, week.version), (turning.lines, turning.second, Version(3)));
        assert_eq!(store.week(bo).await.unwrap().unwrap().version, Version(0));
        assert_eq!(store.template_of(ana).await.unwrap(), None);
        assert_eq!(store.check().await.unwrap(), Vec::<String>::new());
    }

    #[tokio::test]
    async fn who_changed_a_day_since_keeps_it_when_a_step_is_undone() {
        let store = open().await;
        let ana = add(&store, "Ana").await;
        let id = store.add_template(&five("Winter"), once(), at(0)).await.unwrap();
        let first = store.apply_template((id, Version(1)), &[filled(ana, 0, id, "7")], once(), at(1)).await.unwrap();
        let second = store.apply_template((id, Version(1)), &[filled(ana, 1, id, "8")], once(), at(2)).await.unwrap();
        store.undo_step(first, at(3)).await.unwrap();
        assert_eq!(store.step(first).await.unwrap().unwrap().0.given_back, 0, "not what stands now");
        store.undo_step(second, at(4)).await.unwrap();
        assert_eq!(store.week(ana).await.unwrap().unwrap().lines[0], "7");
        assert_eq!(store.template_of(ana).await.unwrap().unwrap().0.given[0], "7");
    }

    #[tokio::test]
    async fn athletes_are_found_by_name_group_and_what_they_run() {
        let store = open().await;
        let (ana, bo, _) = (add(&store, "Ána One").await, add(&store, "Bo One").await, add(&store, "Cy Two").await);
        let id = store.add_template(&five("Winter"), once(), at(0)).await.unwrap();
        store.apply_template((id, Version(1)), &[filled(bo, 0, id, "7")], once(), at(1)).await.unwrap();
        let found = async |text: &str, runs: bool, older: bool| {
            let runs = runs.then_some(id);
            let which = WhichAthletes { text: text.to_owned(), runs, older, ..WhichAthletes::default() };
            store.candidates(&which, 1).await.unwrap()
        };
        assert_eq!(found("one", false, false).await, (vec![ana], 2), "the first of two");
        assert_eq!(found("", false, false).await.1, 3);
        assert_eq!(found("", true, false).await, (vec![bo], 1));
        assert_eq!(found("", true, true).await, (vec![], 0));
        store.save_template(id, Version(1), &five("Winter"), at(2)).await.unwrap();
        assert_eq!(found("", true, true).await, (vec![bo], 1));
        let all = store.candidates_of(&[bo, ana]).await.unwrap();
        assert_eq!(
            all.iter().map(|one| (one.athlete.id, one.from.is_some())).collect::<Vec<_>>(),
            [(ana, false), (bo, true)]
        );
    }

    #[tokio::test]
    async fn a_removed_template_goes_for_good_and_leaves_the_weeks() {
        let store = open().await;
        let ana = add(&store, "Ana").await;
        let id = store.add_template(&five("Winter"), once(), at(0)).await.unwrap();
        let step = store.apply_template((id, Version(1)), &[filled(ana, 0, id, "7")], once(), at(1)).await.unwrap();
        let again = store.apply_template((id, Version(1)), &[filled(ana, 1, id, "8")], once(), at(2)).await.unwrap();
        store.remove_template(id, at(3)).await.unwrap();
        let later = |days: i64| at(3) + chrono::TimeDelta::days(days);
        assert_eq!(store.purge(later(KEPT_DAYS + 1)).await.unwrap(), Purged::Waits);
        assert_eq!(store.purge(later(KEPT_DAYS + 3)).await.unwrap(), Purged::Gone(1));
        assert_eq!(
            (store.template_of(ana).await.unwrap(), store.week(ana).await.unwrap().unwrap().lines[0].as_str()),
            (None, "8")
        );
        store.undo_step(again, later(40)).await.unwrap();
        store.undo_step(step, later(40)).await.unwrap();
        assert_eq!(store.check().await.unwrap(), Vec::<String>::new());
    }
}
