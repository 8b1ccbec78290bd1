//! Whom a template is for.

use askama::Template;
use formats::words;
use serde::Deserialize;
use store::{AthleteId, Candidate, TemplateId, TemplateRecord, WhichAthletes};

use super::AT_A_TIME;
use crate::error::AppError;
use crate::form::{Choice, group_menu};
use crate::render::{Area, Layout, Page};
use crate::state::AppState;
use crate::templates::filling::{Now, now, usual_amount};

/// Boxes to tick, each with an amount.
#[derive(Template)]
#[template(path = "week_templates/choose.html")]
pub(crate) struct ChoosePage {
    layout: Layout,
    id: TemplateId,
    name: String,
    filter: Filter,
    groups: Vec<Choice>,
    rows: Vec<Row>,
    /// How many there are, shown here or not.
    found: usize,
    told: Option<&'static str>,
}

/// The filter in the address.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(default)]
pub(crate) struct Filter {
    text: String,
    group: String,
    /// `runs`, `older`, or empty for everybody.
    who: String,
}

/// One athlete.
struct Row {
    id: AthleteId,
    name: String,
    group: String,
    /// What stands now, in words.
    now: String,
    amount: String,
    is_ticked: bool,
}

/// What stands now for an athlete: `52 km, typed or brought in`.
pub(super) fn stands(one: &Candidate, template: &TemplateRecord) -> String {
    let units = one.athlete.draft.athlete.units;
    let total = words::totals(&one.week.week.running(), units);
    let two = one.week.week.turns().is_some();
    match (now(one, template), one.from.as_ref()) {
        (Now::This, Some((used, _))) if used.version < template.version => {
            format!("{total}, from an older version of this template")
        }
        (Now::This, _) => format!("{total}, from this template"),
        (Now::Other, Some((_, name))) => format!("{total}, from the template {name}"),
        (Now::Nothing, _) => "no base week yet".to_owned(),
        _ if two => format!("{total} in the mean of two weeks, typed or brought in"),
        _ => format!("{total}, typed or brought in"),
    }
}

impl ChoosePage {
    pub(super) async fn load(
        state: &AppState,
        layout: Layout,
        template: TemplateRecord,
        filter: Filter,
    ) -> Result<Self, AppError> {
        let which = WhichAthletes {
            text: filter.text.clone(),
            group: filter.group.clone(),
            runs: matches!(filter.who.as_str(), "runs" | "older").then_some(template.id),
            older: filter.who == "older",
        };
        let (ids, found) = state.store.candidates(&which, AT_A_TIME).await?;
        let rows = state.store.candidates_of(&ids).await?.into_iter().map(|one| Row {
            now: stands(&one, &template),
            amount: usual_amount(&one, &template).map(|amount| amount.to_string()).unwrap_or_default(),
            is_ticked: which.runs.is_some(),
            id: one.athlete.id,
            name: one.athlete.draft.athlete.name,
            group: one.athlete.draft.group,
        });
        let rows = rows.collect();
        let groups = state.store.groups().await?.into_iter().map(|group| Choice::new(group.clone(), group));
        let groups = group_menu(groups);
        let layout = layout.at(Area::Athletes);
        Ok(Self { layout, id: template.id, name: template.draft.name, filter, groups, rows, found, told: None })
    }

    pub(super) fn saying(mut self, told: &'static str) -> Self {
        self.told = Some(told);
        self
    }

    fn who_choices() -> Vec<Choice> {
        vec![
            Choice::new("", "Everybody"),
            Choice::new("runs", "Who runs it"),
            Choice::new("older", "Who runs an older version"),
        ]
    }

    /// How many are found, and how many of them stand here.
    fn counted(&self) -> String {
        let found = words::plural(self.found, "athlete");
        if self.found <= self.rows.len() {
            return found;
        }
        format!(
            "The first {} of {found}, by name. Narrow the list by a name or a group to see the others.",
            self.rows.len()
        )
    }
}

impl Page for ChoosePage {
    #[cfg(test)]
    fn samples() -> Vec<Self> {
        let row = |id, amount: &str| Row {
            id: AthleteId(id),
            name: "Ana <b>".to_owned(),
            group: "Track <b>".to_owned(),
            now: "52 km, typed or brought in".to_owned(),
            amount: amount.to_owned(),
            is_ticked: id == 1,
        };
        let page = |rows: Vec<Row>, found, told| Self {
            layout: Layout::plain().at(Area::Athletes),
            id: TemplateId(2),
            name: "Five days <b>".to_owned(),
            filter: Filter { text: "\"<b>".to_owned(), ..Filter::default() },
            groups: vec![Choice::new("", "All groups"), Choice::new("<b>", "<b>")],
            rows,
            found,
            told,
        };
        vec![
            page(vec![], 0, None),
            page(vec![row(1, "52 km"), row(2, "")], 900, Some("Tick at least one athlete.")),
            page(vec![row(1, "52 km")], 1, None),
        ]
    }
}
