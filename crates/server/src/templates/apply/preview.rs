//! Every week as it would be.

use askama::Template;
use formats::words;
use store::{AthleteId, TemplateId, TemplateRecord};

use super::choose::stands;
use super::{One, Typed, seen};
use crate::render::{Area, Layout, Page};
use crate::templates::filling::{FilledDay, Now};
use crate::weeks::{or_rest, weekdays};

/// The preview.
#[derive(Template)]
#[template(path = "week_templates/preview.html")]
pub(crate) struct PreviewPage {
    layout: Layout,
    id: TemplateId,
    name: String,
    once: String,
    told: Option<&'static str>,
    people: Vec<Person>,
    /// For how many a week would be kept.
    take_part: usize,
    /// How many weeks were typed or brought in, and whether all of them are to be replaced.
    typed: usize,
    replaces_all: bool,
}

/// One athlete.
struct Person {
    id: AthleteId,
    name: String,
    /// What was looked at.
    version: String,
    /// What stands now, in words.
    now: String,
    amount: String,
    problem: Option<String>,
    /// The week as it would be, in a sentence.
    totals: String,
    /// Whether the week was typed or brought in and has to be given up for the template.
    asks: bool,
    /// Whether it is, by the athlete's own tick.
    is_ticked: bool,
    /// What else is to be known.
    notes: Vec<&'static str>,
    days: Vec<Day>,
}

/// One day.
struct Day {
    code: &'static str,
    weekday: &'static str,
    now: String,
    line: String,
    given: String,
    is_own: bool,
    is_taken: bool,
    changes: bool,
}

impl Day {
    fn of((code, weekday): (&'static str, &'static str), day: &FilledDay, is_taken: bool) -> Self {
        let changes = day.now != day.line;
        let (now, line, given) = (or_rest(&day.now), or_rest(&day.line), or_rest(&day.given));
        Self { code, weekday, now, line, given, is_own: day.is_own, is_taken, changes }
    }
}

impl Person {
    fn of(one: &One, template: &TemplateRecord) -> Self {
        let athlete = &one.candidate.athlete.draft.athlete;
        let mut person = Self {
            id: one.candidate.athlete.id,
            name: athlete.name.clone(),
            version: seen(template, one),
            now: stands(&one.candidate, template),
            amount: one.amount.clone(),
            problem: None,
            totals: String::new(),
            asks: false,
            is_ticked: one.is_ticked,
            notes: Vec::new(),
            days: Vec::new(),
        };
        let filling = match &one.filling {
            Ok(filling) => filling,
            Err(sentence) => {
                person.problem = Some(sentence.clone());
                return person;
            }
        };
        person.totals = words::seven_days(filling.week.first(), filling.week.range(), athlete.units, athlete.easy_pace);
        person.asks = filling.now == Now::Typed;
        let two = one.candidate.week.week.turns().is_some();
        match filling.now {
            Now::Typed if two => person.notes.push("Two weeks take turns; the template would stand in place of both."),
            Now::This | Now::Other if two => person.notes.push("The second week, which takes turns, stays as it is."),
            _ => {}
        }
        if filling.kept(&one.candidate).is_none() {
            person.notes.push("Nothing changes.");
        } else if filling.stays {
            person.notes.push("The days stay as they are; it is noted that they are by this version.");
        }
        let days = weekdays().into_iter().zip(&filling.days).enumerate();
        person.days = days.map(|(at, (names, day))| Day::of(names, day, one.taken.contains(&at))).collect();
        person
    }
}

impl PreviewPage {
    pub(super) fn new(layout: Layout, template: &TemplateRecord, typed: &Typed, all: &[One]) -> Self {
        let people: Vec<_> = all.iter().map(|one| Person::of(one, template)).collect();
        Self {
            layout: layout.at(Area::Athletes),
            id: template.id,
            name: template.draft.name.clone(),
            once: typed.once.clone(),
            told: None,
            take_part: all.iter().filter(|one| one.takes_part()).count(),
            typed: people.iter().filter(|person| person.asks).count(),
            replaces_all: typed.replaces_all,
            people,
        }
    }

    /// Whether nobody's week would be saved because a tick is missing.
    fn wants_tick(&self) -> bool {
        self.take_part == 0 && !self.replaces_all && self.people.iter().any(|person| person.asks && !person.is_ticked)
    }

    pub(super) fn saying(mut self, told: &'static str) -> Self {
        self.told = Some(told);
        self
    }
}

impl Page for PreviewPage {
    #[cfg(test)]
    fn samples() -> Vec<Self> {
        let day = |is_own| Day {
            code: "mon",
            weekday: "Monday",
            now: "7 <b>".to_owned(),
            line: "easy 8 km".to_owned(),
            given: "easy 9 km <b>".to_owned(),
            is_own,
            is_taken: false,
            changes: true,
        };
        let person = |id, problem: Option<&str>, asks| Person {
            id: AthleteId(id),
            name: "Ana <b>".to_owned(),
            version: "2f".to_owned(),
            now: "52 km, from the template <b>".to_owned(),
            amount: "52 <b>".to_owned(),
            problem: problem.map(str::to_owned),
            totals: "52 km on 5 running days.".to_owned(),
            asks,
            is_ticked: false,
            notes: vec!["Nothing changes."],
            days: if problem.is_some() { vec![] } else { vec![day(!asks)] },
        };
        let page = |people: Vec<Person>, told| Self {
            layout: Layout::plain().at(Area::Athletes),
            id: TemplateId(2),
            name: "Five days <b>".to_owned(),
            once: "1".to_owned(),
            told,
            take_part: people.iter().filter(|person| !person.asks).count(),
            typed: people.iter().filter(|person| person.asks).count(),
            replaces_all: false,
            people,
        };
        vec![
            page(vec![person(1, None, true), person(2, None, false)], None),
            page(vec![person(1, None, true)], None),
            page(vec![person(1, Some("“lots <b>” is not an amount."), false)], Some("Nothing was saved.")),
        ]
    }
}
