//! Sessions and weeks of a request.

use planning::problem::Expected;
use planning::week::{WEEKDAYS, weekday_code};
use planning::{
    Amount, BaseWeek, DistanceUnit, DoneSession, Field, Kind, Milli, ProblemKind, Session, SetUnit, Sets, SevenDays,
    Slot, Turns, Unit,
};

use super::read_date;
use crate::json::{At, Node, Object, Reader, Wrong};
use crate::words;

/// Seven days, each a list of slots, and perhaps the range of the week as a whole.
pub(super) fn read_week(reader: &mut Reader, at: &At<'_>, units: DistanceUnit) -> Option<BaseWeek> {
    let mut known = WEEKDAYS.map(weekday_code).to_vec();
    known.extend(["week_range", "since", "second_week"]);
    let object = reader.object(at, &known)?;
    let week = BaseWeek::new(read_days(reader, &object), None);
    if week.running().is_empty() && reader.wrong.is_empty() {
        reader.add(Wrong { path: at.path.clone(), value: None, message: words::problem_kind(&ProblemKind::EmptyWeek) });
    }
    // A range without a unit is in the unit of the week, where the week has one.
    let unit = week.running().single_unit().unwrap_or(units.unit());
    let range = object.get("week_range").and_then(|at| read_range(reader, &at, unit));
    let since = object.get("since").and_then(|at| read_date(reader, &at));
    let turns = object.get("second_week").and_then(|at| read_second_week(reader, &at));
    let days = WEEKDAYS.map(|weekday| week.day(weekday).to_vec());
    let week = BaseWeek::new(days, range).run_since(since).taking_turns(turns);
    note_calendar_problems(reader, &object, &week);
    Some(week)
}

fn read_days(reader: &mut Reader, object: &Object<'_>) -> [Vec<Slot>; 7] {
    WEEKDAYS
        .map(|weekday| object.get(weekday_code(weekday)).map(|at| read_day(reader, &at, read_slot)).unwrap_or_default())
}

/// Seven more days, and a Monday on which they stand.
fn read_second_week(reader: &mut Reader, at: &At<'_>) -> Option<Turns> {
    let mut known = WEEKDAYS.map(weekday_code).to_vec();
    known.push("stands_on");
    let object = reader.object(at, &known)?;
    let week = SevenDays::new(read_days(reader, &object));
    let stands_on = reader.needed(&object, "stands_on").and_then(|at| read_date(reader, &at));
    Some(Turns { week, stands_on: stands_on? })
}

/// What planning says of the dates and of the second week as a whole; sessions were checked as they
/// were read.
fn note_calendar_problems(reader: &mut Reader, object: &Object<'_>, week: &BaseWeek) {
    for problem in week.problems() {
        let place = match problem.at {
            Field::Since => object.get("since"),
            Field::SecondWeek => {
                // A second week that could not be read is not said to be empty as well.
                let at = object.get("second_week").map(|at| At { node: &Node::Null, path: at.path });
                at.filter(|at| !reader.wrong.iter().any(|wrong| wrong.path.starts_with(&at.path)))
            }
            Field::StandsOn => object.get("second_week").and_then(|at| match at.node {
                Node::Object(fields) => {
                    let (_, node) = fields.iter().find(|(name, _)| name == "stands_on")?;
                    Some(At { node, path: format!("{}.stands_on", at.path) })
                }
                _ => None,
            }),
            _ => None,
        };
        if let Some(at) = place {
            reader.problem(&at, &problem.kind);
        }
    }
}

/// The sessions of one day.
pub(super) fn read_day<T>(
    reader: &mut Reader,
    at: &At<'_>,
    read: impl Fn(&mut Reader, &At<'_>) -> Option<T>,
) -> Vec<T> {
    let items = reader.list(at);
    if items.len() > BaseWeek::MOST_A_DAY {
        let problem = ProblemKind::TooManySessions { count: items.len(), most: BaseWeek::MOST_A_DAY };
        reader.problem(&At { node: &Node::Null, path: at.path.clone() }, &problem);
    }
    items.iter().filter_map(|item| read(reader, item)).collect()
}

/// A session, or several of which one is done.
fn read_slot(reader: &mut Reader, at: &At<'_>) -> Option<Slot> {
    let alternatives = matches!(at.node, Node::Object(fields) if fields.iter().any(|(name, _)| name == "any_of"));
    if !alternatives {
        return read_session(reader, at).map(Slot::one);
    }
    let object = reader.object(at, &["any_of"])?;
    let list = reader.needed(&object, "any_of")?;
    let options = read_day(reader, &list, read_session);
    if matches!(list.node, Node::List(items) if items.is_empty()) {
        reader.add(list.wrong("there is nothing to choose from; give at least one session"));
    }
    Slot::any_of(options)
}

pub(super) fn read_session(reader: &mut Reader, at: &At<'_>) -> Option<Session> {
    let object = reader.object(at, &["kind", "amount", "unit", "hard", "note", "sets", "loaded"])?;
    let before = reader.wrong.len();
    let kind = reader.needed(&object, "kind").and_then(|at| read_kind(reader, &at));
    let units = Unit::ALL.map(|unit| (unit.symbol(), unit));
    let has_amount = object.get("amount").is_some() || object.get("hard").is_some();
    let unit = if has_amount { reader.needed(&object, "unit") } else { object.get("unit") };
    let unit = unit.and_then(|at| reader.one_of(&at, &units));
    let mut range = |name: &str| object.get(name).and_then(|at| read_range(reader, &at, unit.unwrap_or(Unit::Km)));
    let amount = range("amount");
    let hard = range("hard");
    let sets = object.get("sets").map(|at| {
        let items = reader.list(&at);
        items.iter().filter_map(|item| read_sets(reader, item)).collect()
    });
    let loaded = object.get("loaded").and_then(|at| reader.truth(&at)).unwrap_or_default();
    let note = object.get("note").and_then(|at| reader.short_text(&at, Session::NOTE_MOST)).unwrap_or_default();
    let session = Session { kind: kind?, amount, hard, sets: sets.unwrap_or_default(), loaded, note };
    if reader.wrong.len() == before {
        for problem in session.problems() {
            note_problem(reader, &object, &problem);
        }
    }
    Some(session)
}

/// A session that was really run.
pub(super) fn read_done(reader: &mut Reader, at: &At<'_>) -> Option<DoneSession> {
    let object = reader.object(at, &["date", "kind", "amount", "unit", "minutes", "effort"])?;
    let date = reader.needed(&object, "date").and_then(|at| read_date(reader, &at));
    let kind = reader.needed(&object, "kind").and_then(|at| read_kind(reader, &at));
    let units = Unit::ALL.map(|unit| (unit.symbol(), unit));
    let unit = reader.needed(&object, "unit").and_then(|at| reader.one_of(&at, &units));
    let amount = reader.needed(&object, "amount").and_then(|at| read_range(reader, &at, unit.unwrap_or(Unit::Km)));
    let minutes = object.get("minutes").and_then(|at| reader.whole(&at, 1, MINUTES_MOST));
    let effort = object.get("effort").and_then(|at| reader.whole(&at, 0, 10));
    Some(DoneSession {
        date: date?,
        kind: kind?,
        amount: amount?,
        minutes: minutes.and_then(|minutes| u16::try_from(minutes).ok()),
        effort: effort.and_then(|effort| u8::try_from(effort).ok()),
    })
}

/// The longest session in minutes: three days.
const MINUTES_MOST: i32 = 72 * 60;

/// Puts a session's problem at the field that it is about.
fn note_problem(reader: &mut Reader, session: &Object<'_>, problem: &ProblemKind) {
    let name = match problem {
        ProblemKind::HardAboveAmount { .. }
        | ProblemKind::HardInOtherUnit { .. }
        | ProblemKind::HardNotAllowed { .. } => {
            if session.get("hard").is_some() {
                "hard"
            } else {
                "sets"
            }
        }
        ProblemKind::AmountNotInMinutes { .. } => "unit",
        ProblemKind::SetsOutOfRange { .. }
        | ProblemKind::RepetitionOutOfRange { .. }
        | ProblemKind::TooManySets { .. } => "sets",
        _ => "amount",
    };
    if let Some(at) = session.get(name) {
        reader.problem(&at, problem);
    } else {
        let message = words::problem_kind(problem);
        reader.add(Wrong { path: session.path_of(name), value: None, message });
    }
}

fn read_kind(reader: &mut Reader, at: &At<'_>) -> Option<Kind> {
    let text = reader.text(at)?;
    if text == "rest" {
        reader.add(at.wrong("“rest” is not a session; a day of rest is an empty list"));
        return None;
    }
    reader.one_of(at, &Kind::ALL.map(|kind| (kind.code(), kind)))
}

/// A number, or `[low, high]`.
fn read_range(reader: &mut Reader, at: &At<'_>, unit: Unit) -> Option<Amount> {
    let ends = match at.node {
        Node::Number(value) => Some((*value, *value)),
        Node::List(items) => match items.as_slice() {
            [Node::Number(low), Node::Number(high)] => Some((*low, *high)),
            _ => None,
        },
        _ => None,
    };
    let Some((low, high)) = ends else {
        reader.unreadable(at, Expected::Range);
        return None;
    };
    if low.abs().max(high.abs()) > KEPT_MOST {
        let most = Amount::most(unit);
        reader.add(at.wrong(format!("not an amount that anybody runs; at most {most} {}", unit.symbol())));
        return None;
    }
    let amount = Amount::checked(Milli::nearest(low), Milli::nearest(high), unit);
    amount.map_err(|problem| reader.problem(at, &problem)).ok()
}

/// Numbers beyond this are not kept exactly.
const KEPT_MOST: f64 = 1_000_000.0;

fn read_sets(reader: &mut Reader, at: &At<'_>) -> Option<Sets> {
    let object = reader.object(at, &["reps", "length", "unit", "pace", "recovery"])?;
    let reps = reader.needed(&object, "reps").and_then(|at| reader.whole(&at, 1, i32::from(Sets::MOST)));
    let units = SetUnit::ALL.map(|unit| (unit.symbol(), unit));
    let unit = reader.needed(&object, "unit").and_then(|at| reader.one_of(&at, &units));
    let length = reader.needed(&object, "length").and_then(|at| {
        let value = reader.number(&at)?;
        let (length, unit) = (Milli::nearest(value), unit?);
        let most = Sets::longest(unit);
        if length <= Milli::ZERO || length > most {
            reader.problem(&at, &ProblemKind::RepetitionOutOfRange { length, most, unit });
            return None;
        }
        Some(length)
    });
    let mut words =
        |name: &str| object.get(name).map_or(Some(String::new()), |at| reader.short_text(&at, Sets::WORDS_MOST));
    let (pace, recovery) = (words("pace"), words("recovery"));
    Some(Sets { reps: u16::try_from(reps?).ok()?, length: length?, unit: unit?, pace: pace?, recovery: recovery? })
}
