//! One day of a block, bent by hand: changed, moved, swapped, fixed or given back. The page holds the
//! whole form; in the list of days a script shows the same form in place.

use askama::Template;
use axum::extract::State;
use axum::http::StatusCode;
use axum::response::Response;
use axum_extra::extract::Form;
use chrono::NaiveDate;
use formats::words;
use planning::notation::{read_date, read_day, write_day};
use planning::problem::Expected;
use planning::{Block, Day, DistanceUnit, Edit, Field, Planned, Problem, ProblemKind, RestOfWeek, Role, Session, Slot};
use serde::Deserialize;
use store::{BlockId, StoreError};

use super::lines;
use super::load::{Laid, Loaded};
use crate::conflict::{ConflictPage, Row};
use crate::error::AppError;
use crate::extract::Id;
use crate::form::{Choice, Problems, read_version};
use crate::notice::{self, Notice};
use crate::paths;
use crate::render::{self, Area, Layout, Page};
use crate::shown;
use crate::state::AppState;
use crate::weeks::{Answer, Offered};

/// The form of one day.
#[derive(Template)]
#[template(path = "blocks/day.html")]
pub(crate) struct DayPage {
    layout: Layout,
    id: BlockId,
    day: NaiveDate,
    name: String,
    race: String,
    date: String,
    to_race: String,
    usual: String,
    planned: String,
    pinned: bool,
    units: &'static str,
    /// The sessions of the day, by their place.
    sessions: Vec<Choice>,
    /// The other days that can be bent.
    others: Vec<Choice>,
    typed: Typed,
    /// Lines that are offered for one that cannot be read.
    offered: Vec<Offered>,
    problems: Problems,
}

/// The form as typed.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(default)]
pub(crate) struct Typed {
    version: String,
    /// What to do: `change` where nothing is said.
    #[serde(rename = "do")]
    what: String,
    /// What is run, as a base week's day is typed; empty is rest.
    line: String,
    /// A line that was offered in place of the typed one: it is what is run.
    take: String,
    /// One session more, or several.
    added: String,
    /// Which session of the day, from 0.
    session: String,
    /// Another day.
    to: String,
    /// `yes` where the rest of the week follows.
    balance: String,
}

impl Typed {
    /// The day as it is kept, with the usual choices.
    fn of(loaded: &Loaded, day: &Day) -> Self {
        let next = others(loaded, day.date).into_iter().find(|other| other.value > day.date.to_string());
        Self {
            version: loaded.record.version.to_string(),
            line: line_of(day),
            to: next.map_or(String::new(), |next| next.value),
            ..Self::default()
        }
    }

    /// The same with the offered line that was pressed.
    fn with_taken(self) -> Self {
        if self.take.is_empty() {
            return self;
        }
        Self { line: self.take.clone(), take: String::new(), ..self }
    }

    fn balances(&self) -> bool {
        self.balance == "yes"
    }

    fn rest_of_week(&self) -> RestOfWeek {
        if self.balances() { RestOfWeek::Follows } else { RestOfWeek::Stays }
    }

    /// Where a problem of the edit itself is told.
    fn control(&self) -> &'static str {
        match self.what.as_str() {
            "move" | "swap" => "to",
            "add" => "added",
            _ => "line",
        }
    }

    /// The edit that is asked for.
    fn read(&self, day: &Day, units: DistanceUnit) -> Result<Edit, Problems> {
        let date = day.date;
        let place = self.session.trim().parse().unwrap_or(0);
        Ok(match self.what.as_str() {
            "move" => Edit::Move { from: date, place, to: self.other_day(date)? },
            "swap" => Edit::Swap { one: date, other: self.other_day(date)? },
            "remove" => Edit::Remove { day: date, place },
            "fix" => Edit::Fix { day: date },
            "free" => Edit::Free { day: date },
            "add" => self.add(day, units)?,
            _ => {
                let mut sessions = read_line(&self.line, units, date).map_err(|found| told("line", &found))?;
                if !self.added.trim().is_empty() {
                    sessions.extend(read_line(&self.added, units, date).map_err(|found| told("added", &found))?);
                }
                change(day, sessions)
            }
        })
    }

    fn add(&self, day: &Day, units: DistanceUnit) -> Result<Edit, Problems> {
        let date = day.date;
        let mut added = read_line(&self.added, units, date).map_err(|found| told("added", &found))?;
        match added.len() {
            0 => {
                let kind = ProblemKind::Unreadable { text: String::new(), expected: Expected::Session };
                Err(told("added", &[Problem::new(Field::Pin(date), kind)]))
            }
            1 => Ok(Edit::Add { day: date, session: added.remove(0) }),
            _ => {
                let held = day.sessions.iter().map(|planned| planned.session.clone());
                let parts = day.sessions.iter().map(|planned| planned.role);
                let roles = parts.chain(added.iter().map(|_| Role::Plain)).collect();
                Ok(Edit::Change { day: date, sessions: held.chain(added).collect(), roles })
            }
        }
    }

    fn other_day(&self, date: NaiveDate) -> Result<NaiveDate, Problems> {
        read_date(&self.to).map_err(|kind| told("to", &[Problem::new(Field::Pin(date), kind)]))
    }
}

impl DayPage {
    fn new(layout: Layout, loaded: &Loaded, day: &Day, typed: Typed, problems: Problems) -> Self {
        let units = athlete_units(loaded);
        let said = |sessions: Vec<&Session>| -> String {
            let said: Vec<String> = sessions.iter().map(|session| lines::session(session, units)).collect();
            if said.is_empty() { lines::REST.to_owned() } else { said.join(" + ") }
        };
        let sessions = day.sessions.iter().enumerate();
        Self {
            layout: layout.at(Area::Athletes),
            id: loaded.record.id,
            day: day.date,
            name: loaded.record.athlete.draft.athlete.name.clone(),
            race: lines::race_name(&loaded.record.race.race),
            date: words::full_date(day.date),
            to_race: words::days_to_race(day.to_race),
            usual: said(day.usual.iter().collect()),
            planned: said(day.sessions.iter().map(|planned| &planned.session).collect()),
            pinned: day.pinned,
            units: words::distance_unit(units),
            sessions: sessions
                .map(|(place, planned)| Choice::new(place.to_string(), lines::planned(planned, units)))
                .collect(),
            others: others(loaded, day.date),
            offered: if problems.at("line") { Answer::of(&typed.line, units).asked().to_vec() } else { Vec::new() },
            typed,
            problems,
        }
    }
}

impl Page for DayPage {
    #[cfg(test)]
    fn samples() -> Vec<Self> {
        let page = |line: &str, pinned, sessions: Vec<Choice>, problems| Self {
            layout: Layout::plain().at(Area::Athletes),
            id: BlockId(4),
            day: NaiveDate::default(),
            name: "<b>x</b>".to_owned(),
            race: "Harbour \"10\"".to_owned(),
            date: "Tuesday 4 May 2027".to_owned(),
            to_race: "5 days to the race".to_owned(),
            usual: "easy 8 km".to_owned(),
            planned: "easy 6 km".to_owned(),
            pinned,
            units: "kilometres",
            sessions,
            others: vec![
                Choice::new("2027-05-05", "Wed 5 May: easy 6 km"),
                Choice::new("2027-05-06", "Thu 6 May: rest"),
            ],
            offered: Answer::of(line, DistanceUnit::Km).asked().to_vec(),
            typed: Typed {
                version: "3".to_owned(),
                line: line.to_owned(),
                balance: "yes".to_owned(),
                ..Typed::default()
            },
            problems,
        };
        let mut problems = Problems::default();
        problems.add("line", "“7 <furlongs>” is not a session.");
        problems.add("added", "nothing is written.");
        problems.add("to", "Sunday is race day.");
        let one = vec![Choice::new("0", "easy 6 km")];
        let two = vec![Choice::new("0", "easy 6 km"), Choice::new("1", "strength 20 min")];
        vec![
            page("easy 6 km", false, one, Problems::default()),
            page("7 <furlongs>", true, two, problems),
            page("", true, Vec::new(), Problems::default()),
        ]
    }
}

/// `GET /blocks/{block}/days/{day}`
pub(crate) async fn get(
    State(state): State<AppState>,
    Id((id, date)): Id<(BlockId, NaiveDate)>,
    layout: Layout,
) -> Result<Response, AppError> {
    let loaded = Loaded::read(&state, id).await?;
    let day = day_of(&loaded, date)?;
    let typed = Typed::of(&loaded, day);
    render::page(StatusCode::OK, &DayPage::new(layout, &loaded, day, typed, Problems::default()))
}

/// `POST /blocks/{block}/days/{day}`
pub(crate) async fn post(
    State(state): State<AppState>,
    Id((id, date)): Id<(BlockId, NaiveDate)>,
    layout: Layout,
    Form(typed): Form<Typed>,
) -> Result<Response, AppError> {
    let loaded = Loaded::read(&state, id).await?;
    let day = day_of(&loaded, date)?;
    let record = &loaded.record;
    let typed = typed.with_taken();
    let read_at = read_version(&typed.version);
    let edit = typed.read(day, athlete_units(&loaded));
    if read_at != record.version {
        return conflict(layout, &loaded, day, &typed, edit.ok().as_ref());
    }
    let edit = match edit {
        Ok(edit) => edit,
        Err(problems) => return refused(layout, &loaded, day, typed, problems),
    };
    let Laid { block, plan } = match loaded.bend(&edit, typed.rest_of_week()) {
        Ok(laid) => laid,
        Err(found) => {
            let problems = told(typed.control(), &found);
            return refused(layout, &loaded, day, typed, problems);
        }
    };
    let back = paths::block_at_day(id, edit.days().last().copied().unwrap_or(date));
    if block == record.block {
        return Ok(notice::see_other(&back));
    }
    let reason = words::edit(&edit, &record.block);
    let now = state.clock.now();
    match state.store.replan_block(id, read_at, &record.settings, &record.week, &block, &plan, &reason, now).await {
        // A day that is given back is the planner's to change.
        Ok(_) if !matches!(edit, Edit::Free { .. }) && others_followed(&record.block, &block) => {
            Ok(notice::redirect(&back, Notice::OthersFollowed))
        }
        Ok(_) => Ok(notice::redirect(&back, done(&edit))),
        Err(StoreError::Conflict) => conflict(layout, &loaded, day, &typed, Some(&edit)),
        Err(error) => Err(error.into()),
    }
}

/// Whether an edit changed what is done on days that it does not fix.
fn others_followed(before: &Block, after: &Block) -> bool {
    let is_same = |was: &Day, is: &Day| {
        let was = was.sessions.iter().map(|planned| &planned.session);
        was.eq(is.sessions.iter().map(|planned| &planned.session))
    };
    before.days.iter().zip(&after.days).any(|(was, is)| !is.pinned && !is_same(was, is))
}

const fn done(edit: &Edit) -> Notice {
    match edit {
        Edit::Change { .. } => Notice::DayChanged,
        Edit::Move { .. } => Notice::SessionMoved,
        Edit::Swap { .. } => Notice::DaysSwapped,
        Edit::Remove { .. } => Notice::SessionRemoved,
        Edit::Add { .. } => Notice::SessionAdded,
        Edit::Fix { .. } => Notice::DayFixed,
        Edit::Free { .. } => Notice::DayFreed,
    }
}

/// A day of the block that can be bent: any but race day, and but those of the block for the race before.
fn day_of(loaded: &Loaded, date: NaiveDate) -> Result<&Day, AppError> {
    bendable(loaded).find(|day| day.date == date).ok_or(AppError::NotFound)
}

fn bendable(loaded: &Loaded) -> impl Iterator<Item = &Day> {
    loaded.record.block.told_days().iter().filter(|day| day.to_race > 0)
}

/// The days to which something can go, each with what stands there.
fn others(loaded: &Loaded, date: NaiveDate) -> Vec<Choice> {
    let units = athlete_units(loaded);
    let open = bendable(loaded).filter(|day| day.date >= loaded.today);
    open.filter(|day| day.date != date)
        .map(|day| {
            let held: Vec<String> = day.sessions.iter().map(|planned| lines::planned_brief(planned, units)).collect();
            let held = if held.is_empty() { lines::REST.to_owned() } else { held.join(" + ") };
            Choice::new(day.date.to_string(), format!("{}: {held}", words::short_date(day.date)))
        })
        .collect()
}

fn athlete_units(loaded: &Loaded) -> DistanceUnit {
    loaded.record.athlete.draft.athlete.units
}

fn line_of(day: &Day) -> String {
    let slots: Vec<Slot> = day.sessions.iter().map(|planned| Slot::one(with_strides_said(planned))).collect();
    write_day(&slots)
}

/// What is said of the strides that the planner put into an easy run.
fn strides() -> &'static str {
    words::part_in_block(Role::EasyWithStrides).unwrap_or_default()
}

/// A session with its strides in its words, so that they can be seen and taken out of the line.
fn with_strides_said(planned: &Planned) -> Session {
    let mut session = planned.session.clone();
    if planned.role == Role::EasyWithStrides {
        session.note =
            if session.note.is_empty() { strides().to_owned() } else { format!("{}, {}", session.note, strides()) };
    }
    session
}

/// A day that holds what its line says: strides in the planner's words are the planner's strides, and every other session
/// plays the part that the same one had there.
fn change(day: &Day, mut sessions: Vec<Session>) -> Edit {
    let role = |session: &mut Session| {
        if let Some(note) = session.note.strip_suffix(strides()).filter(|_| session.kind.is_running()) {
            session.note = note.trim_end_matches([' ', ',']).to_owned();
            return Role::EasyWithStrides;
        }
        let same = day.sessions.iter().find(|planned| planned.session == *session);
        same.map(|planned| planned.role).filter(|role| *role != Role::EasyWithStrides).unwrap_or(Role::Plain)
    };
    let roles = sessions.iter_mut().map(role).collect();
    Edit::Change { day: day.date, sessions, roles }
}

/// What is run, as typed; of alternatives the one that a block would take.
fn read_line(line: &str, units: DistanceUnit, date: NaiveDate) -> Result<Vec<Session>, Vec<Problem>> {
    let at = |kinds: Vec<ProblemKind>| -> Vec<Problem> {
        kinds.into_iter().map(|kind| Problem::new(Field::Pin(date), kind)).collect()
    };
    let slots = read_day(Answer::of(line, units).line(line), units).map_err(at)?;
    Ok(slots.iter().map(|slot| slot.chosen().clone()).collect())
}

/// Problems at a control; which day it is stands above the form.
fn told(control: &str, found: &[Problem]) -> Problems {
    let mut problems = Problems::default();
    for problem in found {
        let sentence = match problem.at {
            Field::Pin(_) => format!("{}.", shown::capital(&words::problem_kind(&problem.kind))),
            _ => crate::words::problem(problem),
        };
        problems.add(control, sentence);
    }
    problems
}

fn refused(layout: Layout, loaded: &Loaded, day: &Day, typed: Typed, problems: Problems) -> Result<Response, AppError> {
    render::page(StatusCode::UNPROCESSABLE_ENTITY, &DayPage::new(layout, loaded, day, typed, problems))
}

fn conflict(
    layout: Layout,
    loaded: &Loaded,
    day: &Day,
    typed: &Typed,
    edit: Option<&Edit>,
) -> Result<Response, AppError> {
    let date = words::full_date(day.date);
    let kept = line_of(day);
    let (row, line) = match edit {
        Some(Edit::Change { .. }) | None => (Row::new("line", &date, &kept, &typed.line), None),
        Some(edit) => {
            let asked = shown::capital(&words::edit(edit, &loaded.record.block));
            (Row::words(&date, &kept, &asked), Some(Row::hidden("line", &typed.line)))
        }
    };
    let carried = [
        ("do", &typed.what),
        ("added", &typed.added),
        ("session", &typed.session),
        ("to", &typed.to),
        ("balance", &typed.balance),
    ];
    let page = ConflictPage {
        layout: layout.at(Area::Athletes),
        what: format!("{}'s block", loaded.record.athlete.draft.athlete.name),
        rows: std::iter::once(row)
            .chain(line)
            .chain(carried.into_iter().map(|(name, value)| Row::hidden(name, value)))
            .collect(),
        version: loaded.record.version.to_string(),
        action: paths::block_day(loaded.record.id, day.date),
        back: paths::block(loaded.record.id),
    };
    render::page(StatusCode::CONFLICT, &page)
}

#[cfg(test)]
mod tests {
    use planning::{Amount, Kind, Milli, Unit};

    use super::*;

    fn day(note: &str, role: Role) -> Day {
        let mut session = Session::new(Kind::Easy, Amount::exact(Milli::whole(4), Unit::Mi));
        session.note = note.to_owned();
        let planned = Planned { session, usual: None, role, why: Vec::new() };
        Day {
            date: NaiveDate::default(),
            to_race: 4,
            pinned: false,
            usual: Vec::new(),
            sessions: vec![planned],
            dropped: Vec::new(),
        }
    }

    fn edit_of(day: &Day, line: &str) -> (Vec<Session>, Vec<Role>) {
        match change(day, read_line(line, DistanceUnit::Mi, day.date).expect("a line that is read")) {
            Edit::Change { sessions, roles, .. } => (sessions, roles),
            other => panic!("{other:?}"),
        }
    }

    #[test]
    fn the_line_says_the_strides_of_a_run_and_reads_them_back() {
        for note in ["", "with Jo"] {
            let day = day(note, Role::EasyWithStrides);
            let line = line_of(&day);
            assert!(line.contains("strides"), "{line}");
            assert_eq!(
                edit_of(&day, &line),
                (vec![day.sessions[0].session.clone()], vec![Role::EasyWithStrides]),
                "{line}"
            );
        }
        let (longer, roles) = edit_of(
            &day("", Role::EasyWithStrides),
            &line_of(&day("", Role::EasyWithStrides)).replace('4', "5").replace("5–6", "4–6"),
        );
        assert_eq!((longer[0].running_middle(), roles), (Milli::whole(5), vec![Role::EasyWithStrides]));
    }

    #[test]
    fn strides_that_were_taken_out_of_the_line_are_gone_and_other_parts_stay() {
        assert_eq!(edit_of(&day("", Role::EasyWithStrides), "easy 4 mi").1, [Role::Plain]);
        assert_eq!(edit_of(&day("", Role::EasyWithRacePace), "easy 4 mi").1, [Role::EasyWithRacePace]);
        assert_eq!(edit_of(&day("", Role::ShakeOut), "easy 5 mi").1, [Role::Plain]);
    }
}
