//! Food, weather, warm-up, morning and kit in ready texts. A page, paper and the athletes' door show the
//! same, but for amounts that would give a weight away: the reader decides those.

use chrono::NaiveDate;
use formats::race_morning::{self, timetable};
use formats::words::race_day::fuel::{self, Reader};
use formats::words::race_day::{heat, kit, morning, stop, warm_up};
use planning::fuel::{Age, Asked, ExpectedTime, Fuel, Pieces, Schedule, is_for_a_professional};
use planning::heat::Weather;
use planning::kit::Kit;
use planning::morning::Item;
use planning::{DistanceUnit, kit as kits};
use serde::{Deserialize, Serialize};
use store::{BlockRecord, RaceFacts};

use super::document::written_lines;
use super::ground::Ground;
use super::times::Times;
use crate::shown::capital;

/// For whom and from what the texts are made.
#[derive(Clone, Copy)]
pub(crate) struct Told<'a> {
    pub(crate) ground: Ground<'a>,
    /// All goals on the course, whoever reads it.
    pub(crate) times: &'a Times,
    pub(crate) today: NaiveDate,
    /// Of the places on the way.
    pub(crate) units: DistanceUnit,
    pub(crate) reader: Reader,
}

impl Told<'_> {
    /// The weather as it is expected.
    fn weather(&self) -> Weather {
        self.ground.course.facts.as_ref().map(RaceFacts::weather).unwrap_or_default()
    }
}

/// Everything a body needs around a race, ready to show; an empty text has nothing to say.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
pub(crate) struct Body {
    /// Why no amounts stand here; then none does.
    pub(crate) withheld: String,
    pub(crate) loading: String,
    pub(crate) meal: String,
    /// As rehearsed, in the coach's words.
    pub(crate) breakfast: String,
    pub(crate) during: String,
    /// Each piece that is taken on the way; nothing where they are many.
    pub(crate) takes: Vec<TakeLine>,
    pub(crate) after: String,
    pub(crate) drink: String,
    pub(crate) caffeine: String,
    pub(crate) for_whom: String,
    /// Food, drink and caffeine in the coach's own words.
    pub(crate) fuel_words: String,
    /// `Expected: air 20 °C.`
    pub(crate) weather: String,
    pub(crate) weather_advice: String,
    pub(crate) warm_up: String,
    pub(crate) morning: Vec<MorningLine>,
    pub(crate) kit: Vec<String>,
    pub(crate) travel: Vec<String>,
    pub(crate) shoes: String,
    /// How many days in another time zone are usual.
    pub(crate) arrival: String,
    pub(crate) nothing_new: String,
    pub(crate) sleep: String,
    pub(crate) feet: String,
    /// When to stop, a thing each, and what to do then.
    pub(crate) stop: Vec<String>,
    pub(crate) stop_then: String,
    pub(crate) painkillers: String,
    /// When which piece is due on the way, where that is known. It is told by texts.
    #[serde(skip)]
    pub(crate) schedule: Option<Schedule>,
    /// Never kept, printed or shared.
    #[serde(skip)]
    pub(crate) for_coach: ForCoach,
}

/// One time at which something is taken: `0:50`, `about 9.5 km`.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
pub(crate) struct TakeLine {
    pub(crate) time: String,
    pub(crate) place: String,
}

/// One line of the morning: `6:15`, `get up`.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
pub(crate) struct MorningLine {
    pub(crate) when: String,
    pub(crate) what: String,
}

/// What only the coach reads.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(crate) struct ForCoach {
    /// What the amounts rest on.
    pub(crate) fuel: Vec<String>,
    /// What in the morning does not go together.
    pub(crate) unclear: Vec<String>,
    /// What the weather may mean.
    pub(crate) weather: Vec<String>,
    /// Getting used to heat, while there is time.
    pub(crate) habituation: String,
    /// Where the figures come from.
    pub(crate) sources: Vec<&'static str>,
}

/// More times than these are a rhythm, not a list.
const TAKES_MOST: u16 = 16;

impl Body {
    /// All of it for one reader.
    pub(crate) fn of(told: &Told<'_>) -> Self {
        let (record, weather) = (told.ground.record, told.weather());
        let sheet = &record.race_sheet;
        let race = &record.race.race;
        let advice = planning::fuel::fuel(&asked(told));
        let said = fuel::fuel(&advice, &sheet.fuel_piece, told.reader);
        let usual_warm_up = planning::warm_up::warm_up(race.distance.event(), weather.is_warm());
        let (morning, unclear) = morning_of(told, usual_warm_up);
        let kit = kits::kit(race.distance.event(), &weather);
        let days_left = (race.date - told.today).num_days();
        let schedule = schedule(&advice);
        Self {
            withheld: said.withheld.unwrap_or_default().to_owned(),
            loading: said.loading.unwrap_or_default(),
            meal: said.meal.unwrap_or_default(),
            breakfast: sheet.breakfast.clone(),
            during: said.during.unwrap_or_default(),
            takes: takes(told, schedule),
            after: said.after.unwrap_or_default(),
            drink: said.drink.to_owned(),
            caffeine: said.caffeine,
            for_whom: said.for_whom.unwrap_or_default().to_owned(),
            fuel_words: sheet.fuel_words.clone(),
            weather: heat::expected(&weather).unwrap_or_default(),
            weather_advice: heat::for_athlete(&weather).unwrap_or_default().to_owned(),
            warm_up: sheet.warm_up.clone().unwrap_or_else(|| warm_up::warm_up(&usual_warm_up)),
            morning,
            kit: listed(sheet.kit.as_deref(), kit.into_iter().map(|item| thing(item, schedule, &sheet.fuel_piece))),
            travel: listed(sheet.travel.as_deref(), kits::TRAVEL.into_iter().map(|item| kit::travel(item).to_owned())),
            shoes: kits::shoes(days_left).map_or("", kit::shoes).to_owned(),
            arrival: arrival(record),
            nothing_new: kit::NOTHING_NEW.to_owned(),
            sleep: kit::SLEEP.to_owned(),
            feet: kit::FEET.to_owned(),
            stop: stop::STOP.map(str::to_owned).to_vec(),
            stop_then: stop::STOP_THEN.to_owned(),
            painkillers: stop::PAINKILLERS.to_owned(),
            schedule: schedule.cloned(),
            for_coach: ForCoach {
                fuel: with_cautions(said.for_coach, record, &advice),
                unclear,
                weather: heat::for_coach(&weather),
                habituation: habituation(&advice, weather, days_left),
                sources: sources(&advice, weather),
            },
        }
    }
}

/// What the figures rest on, and the cautions that may speak against them: the coach decides.
fn with_cautions(mut said: Vec<String>, record: &BlockRecord, advice: &Fuel) -> Vec<String> {
    let cautions = &record.athlete.draft.athlete.cautions;
    if matches!(advice, Fuel::Advised(_)) && !cautions.is_empty() {
        said.push(format!(
            "Noted: {}. If that concerns food or drink, tick at the athlete that a professional plans them: no amounts stand here then.",
            cautions.join("; ")
        ));
    }
    said
}

fn asked(told: &Told<'_>) -> Asked {
    let (record, draft) = (told.ground.record, &told.ground.record.athlete.draft);
    let race = &record.race.race;
    let expected =
        ExpectedTime::of_goals(told.times.goals()).unwrap_or_else(|| ExpectedTime::assumed(race.distance.distance()));
    Asked {
        expected,
        weight: draft.weight,
        age: Age::reached(draft.athlete.age_in(race.date)),
        is_referred: draft.fuel_referred || draft.athlete.cautions.iter().any(|one| is_for_a_professional(one)),
        pieces: Pieces { piece_grams: record.race_sheet.piece_grams, grams_an_hour: record.race_sheet.grams_an_hour },
    }
}

/// When which piece is due, where the coach noted what is taken.
fn schedule(advice: &Fuel) -> Option<&Schedule> {
    let Fuel::Advised(advice) = advice else { return None };
    advice.during.as_ref()?.chosen.as_ref()?.schedule.as_ref()
}

/// Each piece on the way with its place on the course, where a goal is a time.
fn takes(told: &Told<'_>, schedule: Option<&Schedule>) -> Vec<TakeLine> {
    let Some(schedule) = schedule.filter(|plan| plan.times <= TAKES_MOST) else { return Vec::new() };
    let takes = schedule.takes(|after| told.times.main().map(|(_, pacing)| pacing.place_at(after)));
    takes
        .iter()
        .map(|take| {
            let (time, place) = fuel::take(take, told.units);
            TakeLine { time, place: place.unwrap_or_default() }
        })
        .collect()
}

/// The morning in order, and what in it does not go together.
fn morning_of(told: &Told<'_>, warm_up: planning::warm_up::WarmUp) -> (Vec<MorningLine>, Vec<String>) {
    let (record, sheet) = (told.ground.record, &told.ground.record.race_sheet);
    let race = &record.race.race;
    let facts = told.ground.course.facts.as_ref();
    let found = timetable(&race_morning::Told {
        race,
        wave: sheet.wave_start,
        pens_close: facts.and_then(|facts| facts.pens_close),
        bags_close: facts.and_then(|facts| facts.bags_close),
        travel_minutes: sheet.travel_minutes,
        eat_minutes: sheet.eat_minutes,
        warm_up,
    });
    let Some(found) = found else { return (Vec::new(), Vec::new()) };
    let what = |item| {
        let what = morning::item(item);
        if item == Item::Eat && !sheet.breakfast.is_empty() {
            format!("{what}: {}", sheet.breakfast)
        } else {
            what.to_owned()
        }
    };
    let line = |row: &race_morning::Row| MorningLine { when: morning::when(row, race.date), what: what(row.item) };
    (found.rows.iter().map(line).collect(), found.unclear.iter().map(morning::unclear).collect())
}

/// The coach's lines, else the proposed ones.
fn listed(written: Option<&str>, proposed: impl Iterator<Item = String>) -> Vec<String> {
    match written {
        Some(text) => written_lines(text),
        None => proposed.map(|thing| capital(&thing)).collect(),
    }
}

/// Something to wear or to carry; food by its pieces where they are known.
fn thing(item: Kit, schedule: Option<&Schedule>, piece: &str) -> String {
    let plan = schedule.filter(|_| item == Kit::Food);
    plan.map_or_else(|| kit::kit(item).to_owned(), |plan| fuel::pieces_to_carry(plan, piece))
}

fn arrival(record: &BlockRecord) -> String {
    let shift = formats::zones::clock_shift(record.athlete.draft.athlete.home_zone.as_deref(), &record.race.race);
    kits::arrival_days(shift).map_or(String::new(), kit::arrival)
}

/// Nothing for whom a professional plans.
fn habituation(advice: &Fuel, weather: Weather, days_left: i64) -> String {
    match advice {
        Fuel::Withheld { .. } => String::new(),
        Fuel::Advised(_) => {
            planning::heat::habituation(&weather, days_left).map_or(String::new(), |note| heat::habituation(&note))
        }
    }
}

fn sources(advice: &Fuel, weather: Weather) -> Vec<&'static str> {
    let of_fuel = matches!(advice, Fuel::Advised(_)).then_some(fuel::SOURCES);
    let of_weather = (weather != Weather::default()).then_some(heat::SOURCES);
    of_fuel.into_iter().chain(of_weather).collect()
}

#[cfg(test)]
mod tests {
    use planning::Weight;
    use planning::heat::Celsius;

    use super::*;
    use crate::blocks::sample;
    use crate::race_day::Course;

    fn marathon() -> BlockRecord {
        let mut record = sample::record(&sample::marathon());
        record.goals.b = "3:30:00".to_owned();
        record.race_sheet.fuel_piece = "gel".to_owned();
        record.race_sheet.piece_grams = Some(25);
        record.race_sheet.grams_an_hour = Some(60);
        record.athlete.draft.weight = Weight::grams(60_000);
        record.athlete.draft.athlete.birth_year = Some(1990);
        record
    }

    fn body(record: &BlockRecord, reader: Reader) -> Body {
        let facts = RaceFacts { air: Some(Celsius::tenths(200)), ..RaceFacts::default() };
        let course = Course { facts: Some(facts), ..Course::flat(&record.race) };
        let today = record.race.race.date - chrono::Days::new(10);
        let ground = Ground { record, course: &course };
        let times = ground.all_times();
        Body::of(&Told { ground, times: &times, today, units: ground.athlete_units(), reader })
    }

    /// What is said of food, drink and caffeine.
    fn food(body: &Body) -> String {
        let takes: Vec<String> = body.takes.iter().map(|take| format!("{} {}", take.time, take.place)).collect();
        let said = [&body.withheld, &body.loading, &body.meal, &body.during, &body.after, &body.drink, &body.caffeine];
        said.into_iter().chain(&takes).map(String::as_str).collect::<Vec<_>>().join("\n")
    }

    #[test]
    fn pieces_stand_where_the_goal_brings_the_athlete() {
        let body = body(&marathon(), Reader::Coach);
        let takes: Vec<(&str, &str)> =
            body.takes.iter().map(|take| (take.time.as_str(), take.place.as_str())).collect();
        assert_eq!(takes.len(), 8, "{takes:?}");
        assert_eq!(takes[0].0, "0:25");
        assert!(takes.iter().all(|(_, place)| place.starts_with("about ") && place.ends_with(" mi")), "{takes:?}");
    }

    #[test]
    fn without_a_time_as_goal_pieces_have_no_place_and_the_coach_hears_why() {
        let mut record = marathon();
        record.goals.b = "finish smiling".to_owned();
        let body = body(&record, Reader::Coach);
        assert!(body.takes.iter().all(|take| take.place.is_empty()) && !body.takes.is_empty());
        assert!(body.for_coach.fuel[0].starts_with("No goal is a time"));
    }

    #[test]
    fn nobody_under_eighteen_or_referred_reads_an_amount() {
        let mut young = marathon();
        young.athlete.draft.athlete.birth_year = Some(2011);
        let mut referred = marathon();
        referred.athlete.draft.fuel_referred = true;
        for record in [young, referred] {
            for reader in [Reader::Coach, Reader::Paper, Reader::Shared] {
                let body = body(&record, reader);
                assert!(!food(&body).contains(|letter: char| letter.is_ascii_digit()), "{}", food(&body));
                assert!(body.for_coach.fuel.is_empty() && body.for_coach.habituation.is_empty());
            }
        }
    }

    #[test]
    fn a_shared_page_is_the_same_whatever_the_weight() {
        let mut light = marathon();
        light.athlete.draft.weight = None;
        assert_eq!(body(&light, Reader::Shared), body(&marathon(), Reader::Shared));
        let paper = body(&marathon(), Reader::Paper);
        assert!(food(&paper).contains("600\u{2013}720 g"));
        assert!(paper.kit.contains(&"8 \u{d7} gel for the way".to_owned()), "{:?}", paper.kit);
    }

    #[test]
    fn what_is_for_the_coach_is_not_kept() {
        let body = body(&marathon(), Reader::Shared);
        assert!(!body.for_coach.habituation.is_empty() && !body.for_coach.sources.is_empty());
        let kept = serde_json::to_string(&body).unwrap();
        let read: Body = serde_json::from_str(&kept).unwrap();
        assert_eq!(read, Body { for_coach: ForCoach::default(), schedule: None, ..body });
    }

    #[test]
    fn lists_of_the_coach_stand_in_the_place_of_ours_even_when_they_are_empty() {
        let mut record = marathon();
        record.race_sheet.kit = Some("red shoes\n\n shorts ".to_owned());
        record.race_sheet.travel = Some(String::new());
        let body = body(&record, Reader::Paper);
        assert_eq!((body.kit, body.travel.len()), (vec!["red shoes".to_owned(), "shorts".to_owned()], 0));
    }
}
