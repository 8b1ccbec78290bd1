//! The page of sources: every rule as the code itself says it, under what it rests on.

use askama::Template;
use axum::http::StatusCode;
use axum::response::Response;

use super::works::{WORKS, Work};
use crate::error::AppError;
use crate::render::{self, Area, Layout, Page};

/// One rule, as its comment in the code says it; `build.rs` reads them.
#[derive(Clone, Copy, Debug)]
pub(super) struct Rule {
    file: &'static str,
    says: &'static str,
    /// The number of a constant, else empty.
    value: &'static str,
    source: &'static str,
}

/// Every rule of training that says its source.
const RULES: &[Rule] = include!(concat!(env!("OUT_DIR"), "/rules.rs"));

/// What a part of the code is about; the first that fits.
const AREAS: &[(&str, &str)] = &[
    ("planning/src/curve.rs", "How far and how fast running comes down"),
    ("planning/src/block/between.rs", "Between two races"),
    ("planning/src/block/path.rs", "Between two races"),
    ("planning/src/block/shape/other_race.rs", "Other races in a block"),
    ("planning/src/block/shape", "Which sessions stay, and how"),
    ("planning/src/block", "Amounts"),
    ("planning/src/bend.rs", "Bending a block by hand"),
    ("planning/src/variants.rs", "Bending a block by hand"),
    ("planning/src/review", "Review"),
    ("planning/src/replan", "When life intervenes"),
    ("planning/src/life.rs", "When life intervenes"),
    ("planning/src/recovery.rs", "After the race"),
    ("planning/src/timeline.rs", "Several races"),
    ("planning/src/fit", "Base weeks"),
    ("planning/src/session.rs", "Base weeks"),
    ("planning/src/week.rs", "Base weeks"),
    ("planning/src/units.rs", "Base weeks"),
    ("planning/src/weight.rs", "Base weeks"),
    ("planning/src/line_shape.rs", "Base weeks"),
    ("planning/src/fuel.rs", "Food and drink"),
    ("planning/src/heat.rs", "Heat"),
    ("planning/src/estimate", "What results make likely"),
    ("planning/src/goals.rs", "Goals"),
    ("planning/src/race_time.rs", "Goals"),
    ("planning/src/pacing", "Times on the course"),
    ("planning/src/profile.rs", "Times on the course"),
    ("planning/src/station.rs", "Times on the course"),
    ("planning/src/race.rs", "Times on the course"),
    ("planning/src", "Race day"),
    ("formats/src/words", "Race day"),
    ("server/src/board", "The squad board"),
    ("server/src/races", "Many blocks beside each other"),
];

/// The page.
#[derive(Template)]
#[template(path = "sources/show.html")]
pub(crate) struct SourcesPage {
    layout: Layout,
    works: Vec<Cited>,
    areas: Vec<Practice>,
}

/// A work and what rests on it.
struct Cited {
    work: &'static Work,
    address: Option<String>,
    rules: Vec<Line>,
}

/// The rules of one area that rest on no work.
struct Practice {
    id: String,
    title: &'static str,
    rules: Vec<Line>,
}

/// One rule as the page says it.
struct Line {
    says: String,
    source: &'static str,
}

impl Rule {
    /// The area that it belongs to.
    fn area(&self) -> Option<&'static str> {
        AREAS.iter().find(|(start, _)| self.file.starts_with(start)).map(|(_, title)| *title)
    }

    fn cites(&self, work: &Work) -> bool {
        self.source.contains(work.mark)
    }

    fn rests_on_a_work(&self) -> bool {
        WORKS.iter().any(|work| self.cites(work))
    }

    /// The rule with its number.
    fn line(&self) -> Line {
        let says = self.says.trim_end_matches('.');
        let says = if self.value.is_empty() { format!("{says}.") } else { format!("{says}: {}.", self.value) };
        Line { says, source: self.source }
    }
}

impl SourcesPage {
    fn new(layout: Layout) -> Self {
        let works = WORKS.iter().map(|work| Cited {
            work,
            address: work.address(),
            rules: RULES.iter().filter(|rule| rule.cites(work)).map(Rule::line).collect(),
        });
        let mut areas: Vec<Practice> = Vec::new();
        for rule in RULES.iter().filter(|rule| !rule.rests_on_a_work()) {
            let title = rule.area().unwrap_or("Other");
            let line = rule.line();
            match areas.iter_mut().find(|area| area.title == title) {
                Some(area) => area.rules.push(line),
                None => areas.push(Practice { id: format!("practice-{}", areas.len()), title, rules: vec![line] }),
            }
        }
        Self { layout: layout.at(Area::Settings), works: works.collect(), areas }
    }

    /// How many rules rest on common practice or on a convention of ours.
    fn practices(&self) -> usize {
        self.areas.iter().map(|area| area.rules.len()).sum()
    }
}

impl Page for SourcesPage {
    #[cfg(test)]
    fn samples() -> Vec<Self> {
        vec![Self::new(Layout::plain())]
    }
}

/// `GET /sources`
pub(crate) async fn get(layout: Layout) -> Result<Response, AppError> {
    render::page(StatusCode::OK, &SourcesPage::new(layout))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_rule_rests_on_a_work_or_says_that_nothing_was_published() {
        let mut unknown = Vec::new();
        for rule in RULES {
            let source = rule.source.to_lowercase();
            let is_ours =
                ["common practice", "convention of ours", "guard of ours"].iter().any(|told| source.contains(told));
            if !(rule.rests_on_a_work() || is_ours) || rule.says.is_empty() || rule.area().is_none() {
                unknown.push(rule);
            }
        }
        assert!(unknown.is_empty(), "sources that `works.rs` does not know, or nothing that they are of: {unknown:#?}");
        assert!(RULES.len() > 100, "only {} rules were found", RULES.len());
    }

    #[test]
    fn every_work_is_used() {
        for work in WORKS {
            assert!(RULES.iter().any(|rule| rule.cites(work)), "nothing rests on {}", work.mark);
        }
    }

    #[test]
    fn what_is_cited_by_a_number_has_that_number_here_too() {
        for rule in RULES {
            for cited in rule.source.split("doi ").skip(1) {
                let doi: &str = cited.split([' ', ',', ';', ')']).next().unwrap_or_default().trim_end_matches('.');
                assert!(WORKS.iter().any(|work| work.at.ends_with(doi)), "{}: doi {doi}", rule.file);
            }
        }
    }

    #[test]
    fn no_mark_of_code_is_left() {
        for rule in RULES {
            let said = format!("{} {}", rule.says, rule.source);
            assert!(!said.contains('`') && !said.contains("::"), "{}: {said}", rule.file);
        }
    }
}
