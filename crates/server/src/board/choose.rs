//! Who is shown on the board: filtered, sorted and in pages, all of it said in the address.

use std::collections::HashSet;
use std::sync::Arc;

use serde::Deserialize;
use store::{Board, BoardRow, NameSearch};

use super::needs;
use super::urgency::{Look, Standing, Urgency, standing};
use crate::form::{Choice, group_menu};
use crate::pages::{Address, Pages};
use crate::paths;

/// How many athletes stand on a page.
pub(crate) const ROWS_A_PAGE: usize = 50;

/// What is asked for in the address. A value that means nothing asks for nothing.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(default)]
pub(crate) struct Filter {
    pub(super) group: String,
    pub(super) text: String,
    /// A kind of need, see [`needs::KINDS`].
    pub(super) need: String,
    /// `race` or `name`; else the most urgent come first.
    pub(super) sort: String,
    pub(super) page: String,
}

/// In which order athletes stand.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Order {
    Urgency,
    Race,
    Name,
}

impl Filter {
    /// Whether anybody is left out.
    pub(super) fn is_set(&self) -> bool {
        !self.group.is_empty() || !self.text.trim().is_empty() || self.need().is_some()
    }

    pub(super) fn order(&self) -> Order {
        match self.sort.as_str() {
            "race" => Order::Race,
            "name" => Order::Name,
            _ => Order::Urgency,
        }
    }

    /// The kind of need that is asked for, if it is one.
    pub(super) fn need(&self) -> Option<&str> {
        needs::KINDS.iter().map(|(code, _)| *code).find(|code| *code == self.need)
    }

    /// What a form that leads back to this board sends along, the page but not what is empty.
    pub(super) fn asked(&self) -> impl Iterator<Item = (&'static str, &str)> {
        let fields = [
            ("group", self.group.as_str()),
            ("text", self.text.as_str()),
            ("need", self.need.as_str()),
            ("sort", self.sort.as_str()),
            ("page", self.page.as_str()),
        ];
        fields.into_iter().filter(|(_, value)| !value.is_empty())
    }

    /// The address of the board with everything that is asked for.
    pub(crate) fn address(&self) -> String {
        self.query().with("page", &self.page).link()
    }

    /// The address of the board with everything that is asked for but the page.
    pub(super) fn query(&self) -> Address {
        Address::new(paths::BOARD)
            .with("group", &self.group)
            .with("text", self.text.trim())
            .with("need", self.need().unwrap_or_default())
            .with("sort", if self.order() == Order::Urgency { "" } else { &self.sort })
    }
}

/// What a page of the board shows.
pub(super) struct Chosen {
    /// The rows of this page, in their sections.
    pub(super) sections: Vec<Section>,
    pub(super) pages: Pages,
    /// Kinds of needs that anybody of the squad has, by their codes.
    pub(super) kinds: HashSet<&'static str>,
}

/// Rows under one heading.
pub(super) struct Section {
    /// Nothing where they are not sorted by urgency.
    pub(super) urgency: Option<Urgency>,
    /// How many there are, on this page and on others.
    pub(super) count: usize,
    pub(super) rows: Vec<(Arc<BoardRow>, Standing)>,
}

/// Chooses the rows of one page.
pub(super) fn choose(board: &Board, filter: &Filter, look: &Look) -> Chosen {
    let search = NameSearch::new(&filter.text);
    let mut kinds = HashSet::new();
    let mut found: Vec<(&Arc<BoardRow>, Standing)> = Vec::with_capacity(board.len());
    for row in board.iter() {
        let standing = standing(row, look);
        kinds.extend(standing.needs.iter().map(|need| needs::kind(*need)));
        let is_of_group = filter.group.is_empty() || row.group == filter.group;
        let has_need = filter.need().is_none_or(|kind| standing.needs.iter().any(|need| needs::kind(*need) == kind));
        if is_of_group && has_need && search.finds(row) {
            found.push((row, standing));
        }
    }
    let order = filter.order();
    sort(&mut found, order);
    let pages = Pages::of(found.len(), ROWS_A_PAGE, &filter.page, &filter.query());
    Chosen { sections: sections(&found, order, &pages), pages, kinds }
}

/// A menu of the squad's groups, by name; only the first choice where there is none.
pub(crate) fn groups(board: &Board) -> Vec<Choice> {
    let names: HashSet<&str> = board.iter().map(|row| row.group.as_str()).filter(|group| !group.is_empty()).collect();
    let mut names: Vec<&str> = names.into_iter().collect();
    names.sort_unstable();
    group_menu(names.into_iter().map(|group| Choice::new(group, group)))
}

/// By urgency and within it by the nearest race, by race alone, or by name as they came.
fn sort(rows: &mut [(&Arc<BoardRow>, Standing)], order: Order) {
    let to_race = |standing: &Standing| standing.to_race.unwrap_or(i64::MAX);
    match order {
        Order::Urgency => rows.sort_by_key(|(_, standing)| (standing.urgency, to_race(standing))),
        Order::Race => rows.sort_by_key(|(_, standing)| to_race(standing)),
        Order::Name => {}
    }
}

fn sections(found: &[(&Arc<BoardRow>, Standing)], order: Order, pages: &Pages) -> Vec<Section> {
    let of = |standing: &Standing| (order == Order::Urgency).then_some(standing.urgency);
    let mut sections: Vec<Section> = Vec::new();
    for (row, standing) in &found[pages.range()] {
        let urgency = of(standing);
        let row = (Arc::clone(row), standing.clone());
        match sections.last_mut() {
            Some(section) if section.urgency == urgency => section.rows.push(row),
            _ => {
                let count = found.iter().filter(|(_, standing)| of(standing) == urgency).count();
                sections.push(Section { urgency, count, rows: vec![row] });
            }
        }
    }
    sections
}

#[cfg(test)]
mod tests {
    use chrono::{DateTime, NaiveDate, Utc};
    use planning::{Importance, Race, RaceDistance};
    use store::{AthleteId, RaceId, RaceRecord, Version};

    use super::*;
    use crate::clock::Clock;

    fn look() -> Look {
        let now: DateTime<Utc> = "2027-04-20T12:00:00Z".parse().unwrap();
        Look { clock: Clock::fixed(now), today: now.date_naive(), week: NaiveDate::from_ymd_opt(2027, 4, 19).unwrap() }
    }

    /// An athlete with a base week, and a race of 10 km in so many days.
    fn row(id: i64, name: &str, group: &str, race: Option<u64>) -> Arc<BoardRow> {
        let record = |days| RaceRecord {
            id: RaceId(1),
            version: Version(1),
            race: Race {
                name: "River Ten".to_owned(),
                date: look().today + chrono::Days::new(days),
                distance: RaceDistance::TenK,
                start: None,
                zone: None,
                importance: Importance::Goal,
            },
            place: String::new(),
            called_off: None,
        };
        Arc::new(BoardRow {
            group: group.to_owned(),
            week_saved: Some(look().clock.now()),
            next_race: race.map(|days| Arc::new(record(days))),
            importance: race.map(|_| Importance::Goal),
            ..BoardRow::of(AthleteId(id), name)
        })
    }

    fn squad() -> Board {
        Arc::from([
            row(1, "Ana", "Track", None),
            row(2, "Béla", "Road", Some(40)),
            row(3, "Cy", "", Some(9)),
            row(4, "Di", "Road", Some(20)),
            row(5, "Ed", "Road", Some(12)),
        ])
    }

    fn names(filter: &Filter) -> Vec<String> {
        let chosen = choose(&squad(), filter, &look());
        chosen.sections.iter().flat_map(|section| &section.rows).map(|(row, _)| row.name.clone()).collect()
    }

    #[test]
    fn the_most_urgent_come_first_and_the_nearest_race_among_them() {
        let chosen = choose(&squad(), &Filter::default(), &look());
        assert_eq!(names(&Filter::default()), ["Cy", "Ed", "Di", "Béla", "Ana"]);
        let sections: Vec<_> = chosen.sections.iter().map(|section| (section.urgency, section.count)).collect();
        let expected = [(Urgency::Now, 1), (Urgency::Soon, 2), (Urgency::Later, 1), (Urgency::Resting, 1)];
        assert_eq!(sections, expected.map(|(urgency, count)| (Some(urgency), count)));
        assert_eq!(chosen.kinds, HashSet::from(["no-block"]));
    }

    #[test]
    fn everything_that_is_asked_for_narrows() {
        let asked = |group: &str, text: &str, need: &str, sort: &str| {
            let [group, text, need, sort] = [group, text, need, sort].map(str::to_owned);
            names(&Filter { group, text, need, sort, page: String::new() })
        };
        assert_eq!(asked("Road", "", "", "name"), ["Béla", "Di", "Ed"]);
        assert_eq!(asked("Road", "", "", "race"), ["Ed", "Di", "Béla"]);
        assert_eq!(asked("", "BELA", "", ""), ["Béla"]);
        assert_eq!(asked("", "", "no-block", "name"), ["Béla", "Cy", "Di", "Ed"]);
        assert_eq!(asked("", "", "silent", ""), Vec::<String>::new());
        assert_eq!(asked("", "", "<script>", "x").len(), 5, "what means nothing asks for nothing");
        assert_eq!(asked("Nowhere", "", "", ""), Vec::<String>::new());
    }

    #[test]
    fn counts_are_of_everybody_on_whatever_page() {
        let many: Board = (0..120).map(|id| row(id, &format!("Runner {id:03}"), "", None)).collect();
        let filter = Filter { page: "3".to_owned(), ..Filter::default() };
        let chosen = choose(&many, &filter, &look());
        assert_eq!((chosen.sections[0].count, chosen.sections[0].rows.len()), (120, 20));
        assert_eq!(chosen.pages.previous.as_deref(), Some("/?page=2"));
    }
}
