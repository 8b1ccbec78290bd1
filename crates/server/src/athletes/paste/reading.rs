//! What a pasted list would bring: who is new, who is in the squad already, and what is wrong.

use std::collections::HashMap;

use formats::squad_table::{self, CellProblem, Columns, Longest, Table, TableAthlete, TableProblem};
use formats::words;
use planning::{Athlete, DistanceUnit};
use store::{AthleteDraft, BroughtIn, NamedAthlete, WeekDraft};

use super::typed::Typed;
use crate::athletes::edit::{CAUTIONS_MOST, GROUP_MOST, NOTES_MOST, PHONE_MOST};
use crate::error::AppError;
use crate::form::digest;
use crate::state::AppState;
use crate::weeks::{LINE_MOST, written};

const LONGEST: Longest =
    Longest { group: GROUP_MOST, notes: NOTES_MOST, line: LINE_MOST, phone: PHONE_MOST, cautions: CAUTIONS_MOST };

/// A text that was read.
pub(super) struct Reading {
    pub(super) table: Table,
    pub(super) columns: Columns,
    /// Nothing where the columns do not say enough.
    pub(super) rows: Result<Vec<Row>, TableProblem>,
    /// A number for all of it: whoever looked at another one has to look again.
    pub(super) digest: String,
}

/// One row, and what it would do.
pub(super) struct Row {
    pub(super) athlete: TableAthlete,
    pub(super) would: Would,
    pub(super) ticked: bool,
}

/// What a row would do.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Would {
    /// Add an athlete.
    Add,
    /// Give an athlete of the squad another week.
    Replace(NamedAthlete),
    /// Nothing: the athlete is in the squad with this week.
    Same(NamedAthlete),
    /// Nothing: the athlete is in the squad, and no week came.
    NoWeek(NamedAthlete),
    /// Nothing: several athletes of the squad are called so.
    Several(Vec<NamedAthlete>),
    /// Nothing: something is wrong.
    Wrong,
}

impl Row {
    fn of(athlete: TableAthlete, known: &[NamedAthlete], typed: &Typed) -> Self {
        let would = match known {
            _ if !athlete.problems.is_empty() => Would::Wrong,
            [] => Would::Add,
            [one] if !athlete.has_week() => Would::NoWeek(one.clone()),
            [one] if is_same(&athlete, one) => Would::Same(one.clone()),
            [one] => Would::Replace(one.clone()),
            several => Would::Several(several.to_vec()),
        };
        let name = &athlete.athlete.name;
        let by_itself = would == Would::Add;
        let ticked = if typed.shown.contains(name) { typed.ticked.contains(name) } else { by_itself };
        Self { ticked: ticked && matches!(would, Would::Add | Would::Replace(_)), would, athlete }
    }

    /// What is to be kept of a row that is ticked.
    fn kept(&self) -> Option<BroughtIn> {
        let one = &self.athlete;
        match &self.would {
            Would::Add if self.ticked => Some(BroughtIn::New {
                draft: Box::new(AthleteDraft {
                    athlete: one.athlete.clone(),
                    group: one.group.clone(),
                    notes: one.notes.clone(),
                    phone: one.phone.clone(),
                    weight: one.weight,
                    recent_results: one.recent_results.clone(),
                    ..AthleteDraft::default()
                }),
                week: one.has_week().then(|| week(one, one.athlete.units)),
            }),
            Would::Replace(known) if self.ticked => {
                Some(BroughtIn::Week { athlete: known.id, read_at: known.week.version, week: week(one, known.units) })
            }
            _ => None,
        }
    }
}

/// Whether the week of a row is the one that is kept.
fn is_same(one: &TableAthlete, known: &NamedAthlete) -> bool {
    let kept = &known.week.week;
    kept.first() == one.week.first() && kept.range() == one.week.range() && kept.turns().is_none()
}

/// The lines as typed; written out with their units for an athlete who thinks in others.
fn week(one: &TableAthlete, units: DistanceUnit) -> WeekDraft {
    if one.athlete.units == units {
        return WeekDraft { range: one.range.clone(), ..WeekDraft::of(one.lines.clone()) };
    }
    let range = one.week.range().map(|range| range.to_string()).unwrap_or_default();
    WeekDraft { range, ..WeekDraft::of(written(one.week.first())) }
}

impl Reading {
    /// Reads what was sent, beside who is in the squad.
    pub(super) async fn of(state: &AppState, typed: &mut Typed) -> Result<Result<Self, TableProblem>, AppError> {
        let table = match typed.table() {
            Ok(table) => table,
            Err(problem) => return Ok(Err(problem)),
        };
        let mut columns = Columns::of(&table, typed.has_heads());
        if let Some(chosen) = typed.chosen() {
            columns.of = (0..table.width()).map(chosen).collect();
        }
        let rows = match columns.check(&table) {
            Ok(()) => Ok(read_rows(state, &table, &columns, typed).await?),
            Err(problem) => Err(problem),
        };
        let digest = digest_of(&table, &columns, &rows);
        Ok(Ok(Self { table, columns, rows, digest }))
    }

    pub(super) fn rows(&self) -> &[Row] {
        self.rows.as_deref().unwrap_or_default()
    }

    /// Everything that is wrong with a cell.
    pub(super) fn problems(&self) -> impl Iterator<Item = &CellProblem> {
        self.rows().iter().flat_map(|row| &row.athlete.problems)
    }

    /// What is to be kept.
    pub(super) fn chosen(&self) -> Vec<BroughtIn> {
        self.rows().iter().filter_map(Row::kept).collect()
    }
}

async fn read_rows(state: &AppState, table: &Table, columns: &Columns, typed: &Typed) -> Result<Vec<Row>, AppError> {
    let names = squad_table::names(table, columns);
    let mut known: HashMap<String, Vec<NamedAthlete>> = HashMap::new();
    for one in state.store.named(&names).await? {
        known.entry(store::name_key(&one.name)).or_default().push(one);
    }
    let usual = state.store.settings().await?.units;
    let of = |name: &str| known.get(&store::name_key(name)).map(Vec::as_slice).unwrap_or_default();
    let units_of = |name: &str| match of(name) {
        [one] => one.units,
        _ => usual,
    };
    let read = squad_table::athletes(table, columns, LONGEST, store::name_key, units_of, state.clock.today());
    Ok(read
        .into_iter()
        .map(|one| {
            let known = of(&one.athlete.name);
            Row::of(one, known, typed)
        })
        .collect())
}

fn digest_of(table: &Table, columns: &Columns, rows: &Result<Vec<Row>, TableProblem>) -> String {
    let mut texts = vec![format!("{columns:?}"), table.to_text()];
    let known = |one: &NamedAthlete| format!("{} {}", one.id, one.week.version);
    texts.extend(rows.iter().flatten().map(|row| match &row.would {
        Would::Add => "add".to_owned(),
        Would::Wrong => "wrong".to_owned(),
        Would::Replace(one) | Would::Same(one) | Would::NoWeek(one) => known(one),
        Would::Several(all) => all.iter().map(known).collect::<Vec<_>>().join(" "),
    }));
    digest(texts.iter().map(String::as_str))
}

/// What is known of an athlete beside name and week: `Track, miles, easy 9:10, born 1978, phone 555 0100`.
pub(super) fn facts(one: &TableAthlete, usual: DistanceUnit) -> String {
    let Athlete { units, easy_pace, birth_year, home_zone, cautions, .. } = &one.athlete;
    let mut facts = Vec::new();
    if !one.group.is_empty() {
        facts.push(one.group.clone());
    }
    if *units != usual {
        facts.push(words::distance_unit(*units).to_owned());
    }
    facts.extend(easy_pace.map(|pace| format!("easy {pace}")));
    facts.extend(birth_year.map(|year| format!("born {year}")));
    facts.extend(one.weight.map(|weight| crate::words::weight(weight, *units)));
    facts.extend(home_zone.clone());
    if !one.phone.is_empty() {
        facts.push(format!("phone {}", one.phone));
    }
    facts.extend(cautions.iter().map(|caution| format!("caution: {caution}")));
    let results = one.recent_results.lines().count();
    if results > 0 {
        facts.push(words::plural(results, "recent result"));
    }
    if !one.notes.is_empty() {
        facts.push("with notes".to_owned());
    }
    facts.join(", ")
}
