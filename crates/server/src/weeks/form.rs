//! The base week as a form of seven days: writes the same lines.

use std::collections::HashMap;

use askama::Template;
use axum::extract::State;
use axum::http::StatusCode;
use axum::response::Response;
use axum_extra::extract::Form;
use chrono::NaiveDate;
use formats::words;
use planning::notation::{read_amount, read_day, read_kept_day, write_day};
use planning::problem::Expected;
use planning::week::{Slot, WEEKDAYS};
use planning::{Amount, Athlete, DistanceUnit, Field, Kind, Problem, ProblemKind, Session, Sets, Unit};
use store::{AthleteId, WeekRecord};

use super::reading::{Lines, Reading, control, weekdays};
use super::show::{Saved, load, save};
use crate::error::AppError;
use crate::extract::Id;
use crate::form::{Choice, Problems, one_line};
use crate::render::{self, Area, Layout, Page};
use crate::state::AppState;

/// Sessions that the form has room for on one day.
const ROOM: usize = 2;

/// Seven days of two sessions.
#[derive(Template)]
#[template(path = "weeks/form.html")]
pub(crate) struct FormPage {
    layout: Layout,
    id: AthleteId,
    name: String,
    version: String,
    range: String,
    days: Vec<DayForm>,
    totals: String,
    problems: Problems,
}

/// One day of the form.
struct DayForm {
    code: &'static str,
    name: &'static str,
    content: Content,
}

/// What a day of the form holds.
#[expect(clippy::large_enum_variant, reason = "seven on a page, nearly all of them the large one")]
enum Content {
    /// Sessions, each in fields of its own.
    Sessions([SessionForm; ROOM]),
    /// More than the fields have room for: the line as typed.
    Line(String),
}

/// The fields of one session, as typed.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
struct SessionForm {
    kind: String,
    amount: String,
    unit: String,
    hard: String,
    sets: String,
    loaded: bool,
    note: String,
}

impl SessionForm {
    fn of(session: &Session, units: DistanceUnit) -> Self {
        let unit = session.amount.map_or_else(|| usual_unit(session.kind, units), Amount::unit);
        Self {
            kind: session.kind.code().to_owned(),
            amount: session.amount.map_or_else(String::new, bare),
            unit: unit.symbol().to_owned(),
            hard: session.hard.map_or_else(String::new, bare),
            sets: session.sets.iter().map(words::sets).collect(),
            loaded: session.loaded,
            note: session.note.clone(),
        }
    }

    fn typed(fields: &HashMap<String, String>, day: &str, number: usize) -> Self {
        let text = |field: &str| one_line(fields.get(&format!("{day}-{number}-{field}")).map_or("", String::as_str));
        Self {
            kind: text("kind"),
            amount: text("amount"),
            unit: text("unit"),
            hard: text("hard"),
            sets: text("sets"),
            loaded: !text("loaded").is_empty(),
            note: text("note"),
        }
    }

    /// The session, nothing where no kind was chosen and nothing was typed.
    fn read(&self) -> Result<Option<Session>, Vec<ProblemKind>> {
        let kind = Kind::from_code(&self.kind);
        if kind.is_none() && [&self.amount, &self.hard, &self.sets, &self.note].iter().all(|text| text.is_empty()) {
            return Ok(None);
        }
        let mut found = Vec::new();
        let mut amount = |text: &str| {
            if text.is_empty() {
                return None;
            }
            read_in_unit(text, &self.unit).map_err(|problem| found.push(problem)).ok()
        };
        let (whole, hard) = (amount(&self.amount), amount(&self.hard));
        let sets = read_sets(&self.sets).unwrap_or_else(|problem| {
            found.push(problem);
            Vec::new()
        });
        let inferred = if sets.is_empty() { Kind::Easy } else { Kind::Intervals };
        let session = Session {
            kind: kind.unwrap_or(inferred),
            amount: whole,
            hard,
            sets,
            loaded: self.loaded,
            note: self.note.clone(),
        };
        if found.is_empty() { Ok(Some(session)) } else { Err(found) }
    }
}

/// The number of an amount alone: its unit stands in the menu beside it.
fn bare(amount: Amount) -> String {
    if amount.is_range() { format!("{}-{}", amount.low(), amount.high()) } else { amount.low().to_string() }
}

const fn usual_unit(kind: Kind, units: DistanceUnit) -> Unit {
    if kind.is_running() { units.unit() } else { Unit::Min }
}

/// An amount with the unit of the menu, unless it says one of its own.
fn read_in_unit(text: &str, unit: &str) -> Result<Amount, ProblemKind> {
    if text.chars().any(char::is_alphabetic) {
        read_amount(text, DistanceUnit::Km)
    } else {
        read_amount(&format!("{text} {unit}"), DistanceUnit::Km)
    }
}

/// Repetitions alone: read as the inside of a long session, which leaves room for any of them.
fn read_sets(text: &str) -> Result<Vec<Sets>, ProblemKind> {
    if text.is_empty() {
        return Ok(Vec::new());
    }
    let wrong = || ProblemKind::Unreadable { text: text.to_owned(), expected: Expected::Sets };
    let slots = read_day(&format!("intervals 99 km, {text}"), DistanceUnit::Km).map_err(|_| wrong())?;
    match slots.as_slice() {
        [slot] => match slot.options() {
            [session] if !session.sets.is_empty() => Ok(session.sets.clone()),
            _ => Err(wrong()),
        },
        _ => Err(wrong()),
    }
}

impl DayForm {
    fn of(index: usize, slots: &[Slot], line: &str, units: DistanceUnit) -> Self {
        let (code, name) = weekdays()[index];
        let fits = slots.len() <= ROOM && slots.iter().all(|slot| slot.options().len() == 1 && fits(slot.chosen()));
        let content = if fits {
            let mut sessions: [SessionForm; ROOM] = Default::default();
            for (form, slot) in sessions.iter_mut().zip(slots) {
                *form = SessionForm::of(slot.chosen(), units);
            }
            for form in &mut sessions[slots.len()..] {
                units.symbol().clone_into(&mut form.unit);
            }
            Content::Sessions(sessions)
        } else {
            Content::Line(line.to_owned())
        };
        Self { code, name, content }
    }

    fn typed(index: usize, fields: &HashMap<String, String>) -> Self {
        let (code, name) = weekdays()[index];
        let content = match fields.get(&format!("{code}-line")) {
            Some(line) => Content::Line(one_line(line)),
            None => Content::Sessions([SessionForm::typed(fields, code, 1), SessionForm::typed(fields, code, 2)]),
        };
        Self { code, name, content }
    }

    /// The line of the day.
    fn line(&self) -> Result<String, Vec<ProblemKind>> {
        let sessions = match &self.content {
            Content::Line(line) => return Ok(line.clone()),
            Content::Sessions(sessions) => sessions,
        };
        let (mut slots, mut found) = (Vec::new(), Vec::new());
        for session in sessions {
            match session.read() {
                Ok(session) => slots.extend(session.map(Slot::one)),
                Err(problems) => found.extend(problems),
            }
        }
        if !found.is_empty() {
            return Err(found);
        }
        Ok(if slots.is_empty() { String::new() } else { write_day(&slots) })
    }
}

/// Whether the fields have room for a session; words beside rest stand in a line.
fn fits(session: &Session) -> bool {
    session.sets.len() <= 1 && session.rest_words().is_none()
}

impl FormPage {
    fn kept(layout: Layout, id: AthleteId, athlete: &Athlete, week: &WeekRecord) -> Self {
        let days = WEEKDAYS.into_iter().zip(&week.lines).enumerate();
        Self {
            layout: layout.at(Area::Athletes),
            id,
            name: athlete.name.clone(),
            version: week.version.to_string(),
            range: week.range.clone(),
            days: days
                .map(|(index, (day, line))| DayForm::of(index, week.week.day(day), line, athlete.units))
                .collect(),
            totals: words::usual_week(&week.week, athlete.units, athlete.easy_pace),
            problems: Problems::default(),
        }
    }

    fn typed(
        layout: Layout,
        id: AthleteId,
        athlete: &Athlete,
        fields: &HashMap<String, String>,
        today: NaiveDate,
    ) -> (Self, Reading) {
        let text = |field: &str| one_line(fields.get(field).map_or("", String::as_str));
        let mut page = Self {
            layout: layout.at(Area::Athletes),
            id,
            name: athlete.name.clone(),
            version: text("version"),
            range: text("range"),
            days: (0..7).map(|index| DayForm::typed(index, fields)).collect(),
            totals: String::new(),
            problems: Problems::default(),
        };
        let mut lines = Lines { range: page.range.clone(), ..Lines::default() };
        for ((day, form), line) in WEEKDAYS.into_iter().zip(&page.days).zip(&mut lines.days) {
            match form.line() {
                Ok(read) => *line = read,
                Err(found) => {
                    for kind in found {
                        let problem = Problem::new(Field::Session(day, 0), kind);
                        page.problems.add(control(&problem.at), crate::words::problem(&problem));
                    }
                }
            }
        }
        let reading = Reading::of(&lines, athlete, today);
        for problem in reading.problems.all() {
            page.problems.add(problem.field.clone(), problem.sentence.clone());
        }
        page.totals.clone_from(&reading.totals);
        (page, reading)
    }

    fn kinds() -> Vec<Choice> {
        let kinds = Kind::ALL.into_iter().map(|kind| Choice::new(kind.code(), words::kind(kind)));
        std::iter::once(Choice::new("", "-")).chain(kinds).collect()
    }

    fn unit_choices() -> Vec<Choice> {
        Unit::ALL.into_iter().map(|unit| Choice::new(unit.symbol(), unit.symbol())).collect()
    }
}

impl Page for FormPage {
    #[cfg(test)]
    fn samples() -> Vec<Self> {
        let athlete = Athlete { name: "Ana <b>".to_owned(), ..Athlete::default() };
        let fields = |pairs: &[(&str, &str)]| {
            pairs.iter().map(|(name, value)| ((*name).to_owned(), (*value).to_owned())).collect::<HashMap<_, _>>()
        };
        let page = |pairs: &[(&str, &str)]| {
            Self::typed(Layout::plain(), AthleteId(4), &athlete, &fields(pairs), NaiveDate::default()).0
        };
        vec![
            page(&[]),
            page(&[
                ("tue-1-kind", "intervals"),
                ("tue-1-amount", "10"),
                ("tue-1-unit", "km"),
                ("tue-1-sets", "6 x 800 m <b>"),
                ("wed-line", "tempo or hills 9 (<b>)"),
            ]),
            page(&[("mon-1-kind", "tempo"), ("mon-1-amount", "<b>"), ("fri-2-note", "only a note"), ("range", "lots")]),
        ]
    }
}

/// `GET /athletes/{athlete}/week/form`
pub(crate) async fn get(
    State(state): State<AppState>,
    layout: Layout,
    Id(id): Id<AthleteId>,
) -> Result<Response, AppError> {
    let (record, week) = load(&state, id).await?;
    render::page(StatusCode::OK, &FormPage::kept(layout, id, &record.draft.athlete, &week))
}

/// `POST /athletes/{athlete}/week/form`
pub(crate) async fn post(
    State(state): State<AppState>,
    layout: Layout,
    Id(id): Id<AthleteId>,
    Form(fields): Form<HashMap<String, String>>,
) -> Result<Response, AppError> {
    let (record, week) = load(&state, id).await?;
    let (mut page, reading) = FormPage::typed(layout, id, &record.draft.athlete, &fields, state.clock.today());
    let (settled, mut lines) = (reading.settled(), reading.kept);
    keep_words(&mut lines, &week, record.draft.athlete.units);
    let kept = Lines::kept(week);
    lines = Lines { days: lines.days, range: lines.range, ..kept };
    if !page.problems.is_empty() {
        return render::page(StatusCode::UNPROCESSABLE_ENTITY, &page);
    }
    match save(&state, layout, &record, &page.version, &lines, settled).await? {
        Saved::Answered(response) => Ok(response),
        Saved::Refused(problems) => {
            page.problems = problems;
            render::page(StatusCode::UNPROCESSABLE_ENTITY, &page)
        }
    }
}

/// A day that says the same as before keeps the words in which the coach typed it.
fn keep_words(lines: &mut Lines, week: &WeekRecord, units: DistanceUnit) {
    for (line, kept) in lines.days.iter_mut().zip(&week.lines) {
        if read_day(line, units).is_ok_and(|slots| read_kept_day(kept, units) == Ok(slots)) {
            line.clone_from(kept);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The line that the form writes for a day which it was filled with.
    fn round(line: &str) -> (bool, String) {
        let slots = read_day(line, DistanceUnit::Km).unwrap();
        let form = DayForm::of(1, &slots, line, DistanceUnit::Km);
        (matches!(form.content, Content::Sessions(_)), form.line().unwrap())
    }

    #[test]
    fn a_day_that_the_form_shows_comes_back_as_the_same_sessions() {
        for line in [
            "",
            "7",
            "50-60 min",
            "6 x 800 m 10k pace, 90 s jog, 10-11 km",
            "tempo 9 km, hard 4",
            "5 + strength 30, loaded",
            "hills 8 mi (with the \"club\"; by (car))",
            "mobility",
        ] {
            let (in_fields, written) = round(line);
            assert!(in_fields, "{line}");
            let (before, after) = (read_day(line, DistanceUnit::Km), read_day(&written, DistanceUnit::Km));
            assert_eq!(before, after, "{line} became {written}");
        }
    }

    #[test]
    fn a_day_with_more_than_the_fields_hold_keeps_its_line() {
        for line in ["tempo or hills 9", "3 + 4 + 5", "3 x 1 km, 6 x 200 m, 12"] {
            assert_eq!(round(line), (false, line.to_owned()));
        }
    }
}
