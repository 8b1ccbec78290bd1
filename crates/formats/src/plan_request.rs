//! The plan request: one block asked for in JSON.
//!
//! The names and forms of the fields are fixed. Whatever is wrong is told by its path and value, all
//! of it at once, and nothing is silently passed over: a field that is not known is refused.

mod sessions;

use chrono::{NaiveDate, NaiveTime};
use planning::problem::Expected;
use planning::review::Subject;
use planning::week::{WEEKDAYS, weekday_code};
use planning::{
    Athlete, BaseWeek, Begun, Block, DayBefore, DistanceUnit, DoneSession, EventKind, ExtraRest, Field, Finding,
    Happened, Importance, LifeEvent, Milli, Pin, Problem, ProblemKind, Race, RaceDistance, Request, Settings, Shape,
    Suits,
};

use crate::json::{At, Node, Object, Reader};
use crate::words;

pub use crate::json::Wrong;

/// A block asked for: everything that [`planning::plan`] and the review need.
#[derive(Clone, Debug, PartialEq)]
pub struct PlanRequest {
    /// The day from which to plan, if the request says it.
    pub today: Option<NaiveDate>,
    /// The athlete.
    pub athlete: Athlete,
    /// What they usually run.
    pub week: BaseWeek,
    /// The goal race.
    pub race: Race,
    /// The athlete's other races.
    pub other_races: Vec<Race>,
    /// How the coach wants the block.
    pub settings: Settings,
    /// Days that the coach has fixed.
    pub pins: Vec<Pin>,
    /// What happened on the way.
    pub events: Vec<LifeEvent>,
    /// What was really run.
    pub done: Vec<DoneSession>,
}

impl PlanRequest {
    /// Reads a request.
    ///
    /// # Errors
    ///
    /// Everything that is wrong with it, in the order of reading.
    ///
    /// # Example
    ///
    /// ```
    /// use formats::plan_request::PlanRequest;
    ///
    /// let wrong = PlanRequest::read(r#"{ "today": "2027-02-30" }"#).unwrap_err();
    /// assert!(wrong[0].to_string().starts_with("today: “2027-02-30” is not a date"));
    /// assert!(wrong[1].to_string().starts_with("athlete: "));
    /// ```
    pub fn read(text: &str) -> Result<Self, Vec<Wrong>> {
        let root = parse(text).map_err(|wrong| vec![wrong])?;
        let mut reader = Reader::default();
        let request = read_request(&mut reader, &At::root(&root));
        match request {
            Some(request) if reader.wrong.is_empty() => Ok(request),
            _ => Err(reader.wrong),
        }
    }

    /// The same for planning. The day from which to plan is that of the request, else the given one.
    ///
    /// A request that says what was done or what happened is about a block that runs already; any other
    /// one begins on that day at the earliest.
    pub fn for_planning(&self, today: Option<NaiveDate>) -> Request<'_> {
        let today = self.today.or(today);
        let is_new = self.done.is_empty() && self.events.is_empty();
        Request {
            today,
            athlete: &self.athlete,
            week: &self.week,
            race: &self.race,
            settings: &self.settings,
            pins: &self.pins,
            other_races: &self.other_races,
            begun: today.filter(|_| is_new).map(|on| Begun { on, days: &[] }),
        }
    }

    /// The block that the request asks for: planned, then laid under what happened.
    ///
    /// # Errors
    ///
    /// Everything that planning finds wrong.
    pub fn plan(&self, today: Option<NaiveDate>) -> Result<Block, Vec<Problem>> {
        let block = planning::plan(&self.for_planning(today))?;
        let happened = Happened { events: &self.events, excess: None };
        planning::replan(&block, &self.athlete, &self.week, &happened)
    }

    /// What the review says of that block.
    pub fn review(&self, block: &Block, today: Option<NaiveDate>) -> Vec<Finding> {
        let today = self.today.or(today);
        planning::review(&Subject {
            block,
            athlete: &self.athlete,
            week: &self.week,
            other_races: &self.other_races,
            events: &self.events,
            clock_shift: self.clock_shift(),
            made: None,
            ran: today.and_then(|today| planning::followed(block, &self.done, today)).map(|followed| followed.share),
        })
    }

    /// How far the clocks of the race are from those at home, for the review.
    pub fn clock_shift(&self) -> Option<planning::ClockShift> {
        crate::zones::clock_shift(self.athlete.home_zone.as_deref(), &self.race)
    }

    /// Says where in the request a problem stands that planning found.
    pub fn locate(&self, problem: &Problem) -> Wrong {
        Wrong {
            path: self.path(&problem.at),
            value: self.value(&problem.at),
            message: words::problem_kind(&problem.kind),
        }
    }

    fn path(&self, field: &Field) -> String {
        match field {
            Field::Today => "today".to_owned(),
            Field::AthleteName => "athlete.name".to_owned(),
            Field::Units => "athlete.units".to_owned(),
            Field::EasyPace => "athlete.easy_pace".to_owned(),
            Field::BirthYear => "athlete.birth_year".to_owned(),
            Field::SuitsDays => "athlete.suits.days".to_owned(),
            Field::HomeZone => "athlete.home_zone".to_owned(),
            // A request has neither: only forms ask for them.
            Field::Weight | Field::RecentResult(..) => "athlete".to_owned(),
            Field::BaseWeek | Field::RecentWeeks => "base_week".to_owned(),
            Field::Since => "base_week.since".to_owned(),
            Field::SecondWeek => "base_week.second_week".to_owned(),
            Field::SecondSession(day, index) => format!("base_week.second_week.{}[{index}]", weekday_code(*day)),
            Field::StandsOn => "base_week.second_week.stands_on".to_owned(),
            Field::Session(day, index) => format!("base_week.{}[{index}]", weekday_code(*day)),
            Field::WeekRange => "base_week.week_range".to_owned(),
            Field::RaceName => "race.name".to_owned(),
            Field::RaceDate => "race.date".to_owned(),
            Field::RaceDistance => "race.distance".to_owned(),
            Field::RaceStart => "race.start".to_owned(),
            Field::RaceZone => "race.zone".to_owned(),
            // A request has no places along the race.
            Field::StationLine(_) | Field::StandLine(_) => "race".to_owned(),
            Field::BlockDays => "block.days".to_owned(),
            Field::Curve => "block.curve".to_owned(),
            Field::Floor => "block.floor".to_owned(),
            Field::ExtraRest => "block.extra_rest".to_owned(),
            Field::Pin(date) => {
                let index = self.pins.iter().position(|pin| pin.date == *date).unwrap_or_default();
                format!("pins[{index}].date")
            }
            Field::EventDays(from) => {
                let index = self.events.iter().position(|event| event.from == *from).unwrap_or_default();
                format!("events[{index}]")
            }
            Field::WeekRan(_) | Field::Done(_) => "done".to_owned(),
        }
    }

    /// The value of a field, as far as it has one that a person would recognise.
    fn value(&self, field: &Field) -> Option<String> {
        match field {
            Field::AthleteName => Some(format!("\"{}\"", words::quote(&self.athlete.name))),
            Field::BirthYear => self.athlete.birth_year.map(|year| year.to_string()),
            Field::SuitsDays => self.athlete.suits.days.map(|days| days.to_string()),
            Field::RaceName => Some(format!("\"{}\"", words::quote(&self.race.name))),
            Field::RaceDate => Some(self.race.date.to_string()),
            Field::BlockDays => self.settings.days.map(|days| days.to_string()),
            Field::Curve => self.settings.curve.map(|curve| curve.to_string()),
            Field::Floor => self.settings.floor.map(|floor| floor.to_string()),
            Field::Pin(date) | Field::EventDays(date) | Field::WeekRan(date) | Field::Done(date) => {
                Some(date.to_string())
            }
            Field::RaceDistance => self.race.distance.code().map(str::to_owned),
            Field::HomeZone => self.athlete.home_zone.clone(),
            Field::Since => self.week.since().map(|date| date.to_string()),
            Field::StandsOn => self.week.turns().map(|turns| turns.stands_on.to_string()),
            Field::SecondWeek
            | Field::RecentWeeks
            | Field::SecondSession(..)
            | Field::Today
            | Field::Units
            | Field::EasyPace
            | Field::BaseWeek
            | Field::Session(..)
            | Field::WeekRange
            | Field::RaceStart
            | Field::RaceZone
            | Field::Weight
            | Field::RecentResult(..)
            | Field::StationLine(_)
            | Field::StandLine(_)
            | Field::ExtraRest => None,
        }
    }
}

fn parse(text: &str) -> Result<Node, Wrong> {
    let text = text.trim_start_matches('\u{feff}');
    let fault = |message: String| Wrong { path: String::new(), value: None, message };
    if text.trim().is_empty() {
        return Err(fault("it is empty; a request in JSON is needed".to_owned()));
    }
    serde_json::from_str(text).map_err(|error| {
        let message = error.to_string();
        let message = message.split(" at line ").next().unwrap_or_default();
        fault(format!("not JSON at line {}, column {}: {message}", error.line(), error.column()))
    })
}

fn read_request(reader: &mut Reader, root: &At<'_>) -> Option<PlanRequest> {
    let known = ["today", "athlete", "base_week", "race", "other_races", "block", "pins", "done", "events"];
    let object = reader.object(root, &known)?;
    let today = object.get("today").and_then(|at| read_date(reader, &at));
    let athlete = reader.needed(&object, "athlete").and_then(|at| read_athlete(reader, &at));
    let units = athlete.as_ref().map_or(DistanceUnit::Km, |athlete| athlete.units);
    let week = reader.needed(&object, "base_week").and_then(|at| sessions::read_week(reader, &at, units));
    let race = reader.needed(&object, "race").and_then(|at| read_race(reader, &at));
    let other_races = read_all(reader, &object, "other_races", read_race);
    let settings = object.get("block").map_or(Some(Settings::default()), |at| read_settings(reader, &at));
    let pins = read_all(reader, &object, "pins", read_pin);
    refuse_twice(reader, &object, &pins);
    let events = read_all(reader, &object, "events", |reader, at| read_event(reader, at, today));
    let done = read_all(reader, &object, "done", sessions::read_done);
    Some(PlanRequest {
        today,
        athlete: athlete?,
        week: week?,
        race: race?,
        other_races,
        settings: settings?,
        pins,
        events,
        done,
    })
}

/// Every item of a list that may be missing.
fn read_all<T>(
    reader: &mut Reader,
    object: &Object<'_>,
    name: &str,
    read: impl Fn(&mut Reader, &At<'_>) -> Option<T>,
) -> Vec<T> {
    let Some(at) = object.get(name) else { return Vec::new() };
    reader.list(&at).iter().filter_map(|item| read(reader, item)).collect()
}

/// `2027-05-09` and nothing else.
fn read_date(reader: &mut Reader, at: &At<'_>) -> Option<NaiveDate> {
    let text = reader.text(at)?;
    let shape = text.len() == 10
        && text
            .bytes()
            .enumerate()
            .all(|(index, byte)| if matches!(index, 4 | 7) { byte == b'-' } else { byte.is_ascii_digit() });
    let date = shape.then(|| text.parse().ok()).flatten();
    if date.is_none() {
        reader.unreadable(at, Expected::Date);
    }
    date
}

fn read_athlete(reader: &mut Reader, at: &At<'_>) -> Option<Athlete> {
    let known = ["name", "units", "easy_pace", "birth_year", "home_zone", "cautions", "suits"];
    let object = reader.object(at, &known)?;
    let name = reader.needed(&object, "name").and_then(|at| {
        let name = reader.short_text(&at, Athlete::NAME_MOST)?;
        if name.trim().is_empty() {
            reader.problem(&at, &ProblemKind::Missing);
        }
        Some(name)
    });
    let units = object
        .get("units")
        .map_or(Some(DistanceUnit::Km), |at| reader.one_of(&at, &[("km", DistanceUnit::Km), ("mi", DistanceUnit::Mi)]));
    let easy_pace = object.get("easy_pace").and_then(|at| {
        let text = reader.text(&at)?;
        planning::notation::read_pace(text, units.unwrap_or_default())
            .map_err(|problem| reader.problem(&at, &problem))
            .ok()
    });
    let (from, to) = (*Athlete::YEARS.start(), *Athlete::YEARS.end());
    let birth_year = object.get("birth_year").and_then(|at| reader.whole(&at, from, to));
    let home_zone = object.get("home_zone").and_then(|at| read_zone(reader, &at)).map(|zone| zone.name().to_owned());
    let cautions = read_all(reader, &object, "cautions", |reader, at| reader.short_text(at, Athlete::CAUTION_MOST));
    let suits = object.get("suits").and_then(|at| read_suits(reader, &at)).unwrap_or_default();
    Some(Athlete { name: name?, units: units?, easy_pace, birth_year, home_zone, cautions, suits })
}

fn read_suits(reader: &mut Reader, at: &At<'_>) -> Option<Suits> {
    let object = reader.object(at, &["days", "day_before", "extra_rest"])?;
    let days = object.get("days").and_then(|at| read_length(reader, &at));
    let choices = DayBefore::ALL.map(|choice| (choice.code(), choice));
    let day_before = object.get("day_before").and_then(|at| reader.one_of(&at, &choices));
    let weekdays = WEEKDAYS.map(|day| (weekday_code(day), day));
    let extra_rest = object.get("extra_rest").and_then(|at| reader.one_of(&at, &weekdays));
    Some(Suits { days, day_before, extra_rest })
}

/// The length of a block in days.
fn read_length(reader: &mut Reader, at: &At<'_>) -> Option<u8> {
    let lengths = planning::curve::LENGTHS;
    let days = reader.whole(at, i32::from(*lengths.start()), i32::from(*lengths.end()))?;
    u8::try_from(days).ok()
}

fn read_race(reader: &mut Reader, at: &At<'_>) -> Option<Race> {
    let object = reader.object(at, &["name", "date", "distance", "start", "zone", "importance"])?;
    let name = object.get("name").map_or(Some(String::new()), |at| reader.short_text(&at, Race::NAME_MOST));
    let date = reader.needed(&object, "date").and_then(|at| read_date(reader, &at));
    let distance = reader.needed(&object, "distance").and_then(|at| read_distance(reader, &at));
    let zone = object.get("zone").and_then(|at| read_zone(reader, &at));
    let start = object.get("start").and_then(|at| {
        let start = read_time(reader, &at)?;
        if let (Some(date), Some(zone)) = (date, zone)
            && crate::zones::leaves_out(zone.name(), date, start)
        {
            reader.add(at.wrong(format!("the clocks of {zone} leave out this time on {date}; give another start")));
        }
        Some(start)
    });
    let choices = Importance::ALL.map(|choice| (choice.code(), choice));
    let importance = object.get("importance").map_or(Some(Importance::Goal), |at| reader.one_of(&at, &choices));
    let zone = zone.map(|zone| zone.name().to_owned());
    let race = Race { name: name?, date: date?, distance: distance?, start, zone, importance: importance? };
    // Name and distance were measured while they were read.
    for problem in race.problems().iter().filter(|problem| problem.at == Field::RaceDate) {
        if let Some(at) = object.get("date") {
            reader.problem(&at, &problem.kind);
        }
    }
    Some(race)
}

/// `"10k"`, `{"km": 30}` or `{"mi": 50}`.
fn read_distance(reader: &mut Reader, at: &At<'_>) -> Option<RaceDistance> {
    if !matches!(at.node, Node::Object(_)) {
        let found = reader.text(at).map(RaceDistance::from_code);
        if found == Some(None) {
            let codes: Vec<&str> = RaceDistance::STANDARD.into_iter().filter_map(RaceDistance::code).collect();
            let text = at.node.shown().unwrap_or_default();
            reader.add(at.wrong(format!(
                "{text} is not a race distance; one of {}, or {{\"km\": 30}} or {{\"mi\": 50}}",
                codes.join(", ")
            )));
        }
        return found.flatten();
    }
    let object = reader.object(at, &["km", "mi"])?;
    let (at, unit) = match (object.get("km"), object.get("mi")) {
        (Some(km), None) => (km, DistanceUnit::Km),
        (None, Some(mi)) => (mi, DistanceUnit::Mi),
        _ => {
            reader.add(at.wrong("give the distance either in km or in mi"));
            return None;
        }
    };
    let value = reader.number(&at)?;
    let (from, to) = RaceDistance::LIMITS_KM;
    let km = value * unit.millimetres() as f64 / 1_000_000.0;
    if !(from..=to).contains(&km) {
        reader.problem(&at, &ProblemKind::DistanceOutOfRange { km });
        return None;
    }
    Some(RaceDistance::Own(Milli::nearest(value), unit))
}

fn read_time(reader: &mut Reader, at: &At<'_>) -> Option<NaiveTime> {
    let text = reader.text(at)?;
    let time = text
        .split_once(':')
        .filter(|(hours, minutes)| {
            (1..=2).contains(&hours.len())
                && minutes.len() == 2
                && text.bytes().all(|byte| byte == b':' || byte.is_ascii_digit())
        })
        .and_then(|(hours, minutes)| NaiveTime::from_hms_opt(hours.parse().ok()?, minutes.parse().ok()?, 0));
    if time.is_none() {
        reader.unreadable(at, Expected::Time);
    }
    time
}

fn read_zone(reader: &mut Reader, at: &At<'_>) -> Option<chrono_tz::Tz> {
    let zone = reader.text(at)?.parse().ok();
    if zone.is_none() {
        reader.unreadable(at, Expected::Zone);
    }
    zone
}

fn read_settings(reader: &mut Reader, at: &At<'_>) -> Option<Settings> {
    let object = reader.object(at, &["days", "curve", "floor", "shape", "day_before", "extra_rest"])?;
    let days = object.get("days").and_then(|at| read_length(reader, &at));
    let curve = object.get("curve").and_then(|at| read_between(reader, &at, planning::curve::CURVATURES));
    let floor = object.get("floor").and_then(|at| read_between(reader, &at, planning::curve::FLOORS));
    let shapes = Shape::ALL.map(|shape| (shape.code(), shape));
    let shape = object.get("shape").and_then(|at| reader.one_of(&at, &shapes)).unwrap_or_default();
    let choices = DayBefore::ALL.map(|choice| (choice.code(), choice));
    let day_before = object.get("day_before").and_then(|at| reader.one_of(&at, &choices)).unwrap_or_default();
    let mut rests = vec![("auto", ExtraRest::Auto), ("none", ExtraRest::None)];
    rests.extend(WEEKDAYS.map(|day| (weekday_code(day), ExtraRest::On(day))));
    let extra_rest = object.get("extra_rest").and_then(|at| reader.one_of(&at, &rests)).unwrap_or_default();
    Some(Settings { days, curve, floor, shape, day_before, extra_rest })
}

fn read_between(reader: &mut Reader, at: &At<'_>, limits: std::ops::RangeInclusive<f64>) -> Option<f64> {
    let value = reader.number(at)?;
    if limits.contains(&value) {
        return Some(value);
    }
    reader.problem(at, &ProblemKind::OutOfRange { value, from: *limits.start(), to: *limits.end() });
    None
}

fn read_pin(reader: &mut Reader, at: &At<'_>) -> Option<Pin> {
    let object = reader.object(at, &["date", "sessions"])?;
    let date = reader.needed(&object, "date").and_then(|at| read_date(reader, &at));
    let list = reader.needed(&object, "sessions")?;
    let sessions = sessions::read_day(reader, &list, sessions::read_session);
    Some(Pin::plain(date?, sessions))
}

/// An event: what it is, from when to when. It is known since the day from which is planned, or its
/// first day where the request does not say today.
fn read_event(reader: &mut Reader, at: &At<'_>, today: Option<NaiveDate>) -> Option<LifeEvent> {
    let object = reader.object(at, &["kind", "from", "to", "fever"])?;
    let fever = object.get("fever").map_or(Some(false), |at| reader.truth(&at));
    let codes: Vec<(&str, &str)> =
        EventKind::ALL.into_iter().filter(|kind| !kind.has_fever()).map(|kind| (kind.code(), kind.code())).collect();
    let code = reader.needed(&object, "kind").and_then(|at| reader.one_of(&at, &codes));
    let from = reader.needed(&object, "from").and_then(|at| read_date(reader, &at));
    let to = object.get("to").map_or(Some(from), |at| Some(read_date(reader, &at)));
    let (code, fever, from, to) = (code?, fever?, from?, to??);
    if fever
        && code != "illness"
        && let Some(at) = object.get("fever")
    {
        reader.add(at.wrong("fever belongs to illness; leave it out here"));
    }
    let kind = EventKind::from_code(code, fever)?;
    let event = LifeEvent { kind, from, to, noted: today.unwrap_or(from), open: false };
    for problem in event.problems() {
        reader.problem(at, &problem.kind);
    }
    Some(event)
}

fn refuse_twice(reader: &mut Reader, object: &Object<'_>, pins: &[Pin]) {
    for (index, pin) in pins.iter().enumerate() {
        if pins[..index].iter().any(|earlier| earlier.date == pin.date)
            && let Some(at) = object.get("pins")
        {
            let path = format!("{}[{index}].date", at.path);
            reader.problem(&At { node: at.node, path }, &ProblemKind::PinnedTwice { date: pin.date });
        }
    }
}
