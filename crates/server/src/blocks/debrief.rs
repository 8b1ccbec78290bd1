//! After a race, with a block or without: what came out, what to change, and how the running comes back.

use askama::Template;
use axum::extract::State;
use axum::http::StatusCode;
use axum::response::Response;
use axum_extra::extract::Form;
use chrono::NaiveDate;
use formats::words;
use planning::notation::read_race_time;
use planning::recovery::{Step, steps};
use planning::{DistanceUnit, GoalTimes, Importance, Milli, OutOfTen, Outcome, Race, RaceDistance};
use serde::Deserialize;
use store::{
    AthleteId, BlockId, Entry, GoalNotes, RaceId, RaceRecord, RaceResult, ReallyRan, ResultRecord, StoreError, Version,
};

use super::{as_run, lines};
use crate::athletes::{SpanView, after_race};
use crate::conflict::{ConflictPage, Row};
use crate::error::AppError;
use crate::extract::Id;
use crate::form::{Choice, Problems, many_lines, one_line, read_version};
use crate::notice::{self, Notice};
use crate::races::read_ran;
use crate::render::{self, Area, Layout, Page};
use crate::state::AppState;
use crate::{paths, shown};

/// The longest place and the longest conditions, in characters.
const LINE_MOST: usize = 300;
/// The longest text of several lines, in characters.
const TEXT_MOST: usize = 3000;

/// The page after a race.
#[derive(Template)]
#[template(path = "blocks/debrief.html")]
pub(crate) struct DebriefPage {
    layout: Layout,
    /// Where the form is sent.
    action: String,
    /// The block for the race, where there is one.
    block: Option<BlockId>,
    race_id: RaceId,
    athlete: AthleteId,
    name: String,
    race: String,
    facts: String,
    /// Why nothing is noted yet; the form is left out unless something was typed.
    not_yet: Option<String>,
    form: Option<Typed>,
    problems: Problems,
    /// How the kept time lies to the goals.
    against_goals: Option<String>,
    after: Option<After>,
}

/// How the running comes back.
struct After {
    /// By how much, and until when.
    steps: Vec<String>,
    no_hard: String,
    spans: Vec<SpanView>,
}

/// The form as typed.
#[derive(Clone, Debug, Default, PartialEq, Deserialize)]
#[serde(default)]
pub(crate) struct Typed {
    version: String,
    /// How far was noted when the form was read.
    was: String,
    outcome: String,
    time: String,
    ran: String,
    place: String,
    rested: String,
    feeling: String,
    conditions: String,
    splits: String,
    words: String,
    next_time: String,
}

impl Typed {
    fn of(kept: Option<&ResultRecord>, ran: Option<RaceDistance>) -> Self {
        let ran = ran.map(words::race_distance).unwrap_or_default();
        let version = kept.map_or(Version(0), |kept| kept.version);
        let result = kept.map(|kept| kept.result.clone()).unwrap_or_default();
        let scale = |value: Option<OutOfTen>| value.map(|value| value.get().to_string()).unwrap_or_default();
        Self {
            version: version.to_string(),
            was: ran.clone(),
            outcome: result.outcome.code().to_owned(),
            time: result.time.map(|time| time.to_string()).unwrap_or_default(),
            ran,
            place: result.place,
            rested: scale(result.rested),
            feeling: scale(result.feeling),
            conditions: result.conditions,
            splits: result.splits,
            words: result.words,
            next_time: result.next_time,
        }
    }

    /// What the form says, or everything that is wrong with it.
    fn to_result(&self, race: &Race) -> Result<(RaceResult, Option<(Milli, DistanceUnit)>), Problems> {
        let mut problems = Problems::default();
        let outcome = Outcome::from_code(&self.outcome).unwrap_or_else(|| {
            problems.add("outcome", "How it ended: choose one of the three.");
            Outcome::default()
        });
        let ran = self.read_distance(race, outcome, &mut problems);
        let length = ran.map_or(race.distance, |(value, unit)| RaceDistance::Own(value, unit)).distance();
        let time = match self.time.trim() {
            "" => None,
            text if outcome == Outcome::DidNotStart => {
                problems.add("time", format!("Time: “{}” cannot be, as the race was not started.", words::quote(text)));
                None
            }
            text => read_race_time(text, length)
                .map_err(|kind| problems.add("time", format!("Time: {}.", words::problem_kind(&kind))))
                .ok(),
        };
        let (rested, feeling) = (scale(&self.rested), scale(&self.feeling));
        for (control, label, read) in [("rested", "How rested", &rested), ("feeling", "How it felt", &feeling)] {
            if let Err(text) = read {
                problems
                    .add(control, format!("{label}: “{}” is not on the scale; choose 0 to 10.", words::quote(text)));
            }
        }
        let result = RaceResult {
            outcome,
            time,
            place: one_line(&self.place),
            rested: rested.unwrap_or_default(),
            feeling: feeling.unwrap_or_default(),
            conditions: one_line(&self.conditions),
            splits: many_lines(&self.splits),
            words: many_lines(&self.words),
            next_time: many_lines(&self.next_time),
        };
        problems.check_length("place", "Place", &result.place, LINE_MOST);
        problems.check_length("conditions", "Conditions", &result.conditions, LINE_MOST);
        problems.check_length("splits", "Splits", &result.splits, TEXT_MOST);
        problems.check_length("words", "In the athlete's own words", &result.words, TEXT_MOST);
        problems.check_length("next_time", "What to change next time", &result.next_time, TEXT_MOST);
        problems.sort_by_controls(&FIELDS.map(|(control, _)| control));
        if problems.is_empty() { Ok((result, ran)) } else { Err(problems) }
    }

    /// How far was really run, where it was less than the race.
    fn read_distance(&self, race: &Race, outcome: Outcome, problems: &mut Problems) -> Option<(Milli, DistanceUnit)> {
        let text = self.ran.trim();
        let ran = match read_ran(text) {
            Ok(ran) => ran?,
            Err(kind) => {
                problems.add("ran", format!("Really ran: {}.", words::problem_kind(&kind)));
                return None;
            }
        };
        let distance = RaceDistance::Own(ran.0, ran.1);
        let wrong = if outcome == Outcome::DidNotStart {
            format!("“{}” cannot be, as the race was not started", words::quote(text))
        } else if ran.0.0 <= 0 {
            format!("“{}” is no distance; leave it empty, or choose that the race was not started", words::quote(text))
        } else if let Some(kind) = distance.problem_as_run() {
            words::problem_kind(&kind)
        } else if distance.distance() >= race.distance.distance() {
            let whole = words::race_distance(race.distance);
            let text = words::quote(text);
            format!("“{text}” is not less than the race ({whole}); leave it empty where all of it was run")
        } else {
            return Some(ran);
        };
        problems.add("ran", format!("Really ran: {wrong}."));
        None
    }

    /// The values in the order of [`FIELDS`].
    fn values(&self) -> [&str; 10] {
        [
            &self.outcome,
            &self.time,
            &self.ran,
            &self.place,
            &self.rested,
            &self.feeling,
            &self.conditions,
            &self.splits,
            &self.words,
            &self.next_time,
        ]
    }
}

/// The controls in the order of the page, and what they are called where two versions stand side by side.
const FIELDS: [(&str, &str); 10] = [
    ("outcome", "How it ended"),
    ("time", "Time"),
    ("ran", "Really ran"),
    ("place", "Place"),
    ("rested", "How rested at the start"),
    ("feeling", "How it felt"),
    ("conditions", "Conditions"),
    ("splits", "Splits"),
    ("words", "In the athlete's own words"),
    ("next_time", "What to change next time"),
];

/// A number of the scale; what is none comes back as typed.
fn scale(text: &str) -> Result<Option<OutOfTen>, &str> {
    let text = text.trim();
    if text.is_empty() {
        return Ok(None);
    }
    text.parse().ok().and_then(OutOfTen::new).map(Some).ok_or(text)
}

/// What the page reads.
#[derive(Clone)]
struct Loaded {
    /// The athlete's entry, with the block for it if there is one.
    entry: Entry,
    race: RaceRecord,
    /// Empty where there is no block to carry them.
    goals: GoalNotes,
    kept: Option<ResultRecord>,
    today: NaiveDate,
}

impl Loaded {
    async fn read(state: &AppState, (race, athlete): (RaceId, AthleteId)) -> Result<Self, AppError> {
        let entries = state.store.entries_of(athlete).await?;
        let (entry, race) = entries.into_iter().find(|(entry, _)| entry.race == race).ok_or(AppError::NotFound)?;
        let goals = match entry.block {
            Some(block) => state.store.block(block).await?.map(|record| record.goals).unwrap_or_default(),
            None => GoalNotes::default(),
        };
        let kept = state.store.result(race.id, athlete).await?;
        Ok(Self { entry, race, goals, kept, today: state.clock.today() })
    }

    /// Whose result in which race.
    const fn both(&self) -> (RaceId, AthleteId) {
        (self.race.id, self.entry.athlete)
    }

    /// The address of the page.
    fn path(&self) -> String {
        let (race, athlete) = self.both();
        self.entry.block.map_or_else(|| paths::result(race, athlete), paths::debrief)
    }

    /// Why there is nothing to note yet.
    fn not_yet(&self) -> Option<String> {
        let race = &self.race;
        if race.called_off.is_some() {
            return Some("The race is called off, so there is nothing to note.".to_owned());
        }
        (race.race.date > self.today).then(|| {
            let day = shown::day(race.race.date, self.today);
            format!("This page is for after the race: {day}, {}.", shown::away(race.race.date, self.today))
        })
    }

    /// How the kept time of a whole race lies to the goals.
    fn against_goals(&self) -> Option<String> {
        let result = &self.kept.as_ref()?.result;
        let time = result.time.filter(|_| result.outcome == Outcome::Finished && self.entry.ran.is_none())?;
        let goals = &self.goals;
        let distance = self.race.race.distance.distance();
        words::against_goals(time, &GoalTimes::readable([&goals.a, &goals.b, &goals.c], distance))
    }

    /// How the running comes back from a goal race that was run.
    async fn after(&self, state: &AppState) -> Result<Option<After>, AppError> {
        let race = &self.race;
        let is_over = race.race.date <= self.today && self.entry.is_run(race);
        if !is_over || self.entry.importance != Importance::Goal {
            return Ok(None);
        }
        let spans = after_race(state, self.entry.athlete, race.id).await?;
        Ok((!spans.is_empty()).then(|| After::new(&as_run(&self.entry, race.race.clone()), spans)))
    }

    fn page(self, layout: Layout, typed: Option<Typed>, problems: Problems, after: Option<After>) -> DebriefPage {
        let (race, not_yet) = (&self.race.race, self.not_yet());
        let of_kept = || Typed::of(self.kept.as_ref(), self.entry.ran);
        DebriefPage {
            layout: layout.at(Area::Athletes),
            action: self.path(),
            block: self.entry.block,
            race_id: self.race.id,
            athlete: self.entry.athlete,
            name: self.entry.name.clone(),
            race: lines::race_name(race),
            facts: format!("{}, {}", shown::capital(&words::race_distance(race.distance)), words::full_date(race.date)),
            form: typed.or_else(|| not_yet.is_none().then(of_kept)),
            not_yet,
            problems,
            against_goals: self.against_goals(),
            after,
        }
    }
}

impl After {
    fn new(ran: &Race, spans: Vec<SpanView>) -> Self {
        let event = ran.distance.event();
        let step = |step: &Step| shown::capital(&words::recovery_step(ran.date, *step));
        Self { steps: steps(event).iter().map(step).collect(), no_hard: words::no_hard_running(ran.date, event), spans }
    }
}

impl DebriefPage {
    fn outcomes() -> Vec<Choice> {
        let choice = |outcome: Outcome| Choice::new(outcome.code(), shown::capital(words::outcome(outcome)));
        Outcome::ALL.into_iter().map(choice).collect()
    }

    fn scale() -> Vec<Choice> {
        let numbers = (0..=10).map(|number: u8| Choice::new(number.to_string(), number.to_string()));
        std::iter::once(Choice::new("", "not said")).chain(numbers).collect()
    }
}

impl Page for DebriefPage {
    #[cfg(test)]
    fn samples() -> Vec<Self> {
        use super::sample;
        let record = sample::handed_over(&sample::marathon());
        let entry = Entry {
            athlete: record.athlete.id,
            name: "Ana".to_owned(),
            race: record.race.id,
            importance: Importance::Goal,
            block: Some(record.id),
            ran: None,
            outcome: Some(Outcome::Finished),
            is_settled: false,
        };
        let alone = Entry { block: None, ..entry.clone() };
        let result = RaceResult {
            time: Some(planning::RaceTime::seconds(12_345)),
            conditions: "<b>hot".to_owned(),
            words: "Never <i>again</i>.\nOr so.".to_owned(),
            rested: OutOfTen::new(7),
            ..RaceResult::default()
        };
        let race = record.race.race.clone();
        let (entered, goals) = (record.race.clone(), record.goals);
        let of = |entry: &Entry, today, kept| Loaded {
            entry: entry.clone(),
            race: entered.clone(),
            goals: goals.clone(),
            kept,
            today,
        };
        let loaded = |today, kept| of(&entry, today, kept);
        let after = || After::new(&race, vec![SpanView::sample()]);
        let kept = ResultRecord { version: Version(2), result };
        let wrong = Typed {
            outcome: "did-not-start".to_owned(),
            time: "<b>".to_owned(),
            ran: "<b>".to_owned(),
            rested: "<b>".to_owned(),
            place: "x".repeat(400),
            ..Typed::default()
        };
        let problems = wrong.to_result(&race).err().unwrap_or_default();
        let early = race.date - chrono::Days::new(9);
        vec![
            loaded(early, None).page(Layout::plain(), None, Problems::default(), None),
            loaded(race.date, None).page(Layout::plain(), None, Problems::default(), None),
            loaded(race.date, Some(kept)).page(Layout::plain(), None, Problems::default(), Some(after())),
            loaded(early, None).page(Layout::plain(), Some(wrong), problems, None),
            of(&alone, race.date, None).page(Layout::plain(), None, Problems::default(), None),
            of(&alone, early, None).page(Layout::plain(), None, Problems::default(), None),
        ]
    }
}

/// Whose result in which race a block is about.
async fn of_block(state: &AppState, id: BlockId) -> Result<(RaceId, AthleteId), AppError> {
    let record = state.store.block(id).await?.ok_or(AppError::NotFound)?;
    Ok((record.race.id, record.athlete.id))
}

/// `GET /blocks/{block}/debrief`
pub(crate) async fn get(
    State(state): State<AppState>,
    Id(id): Id<BlockId>,
    layout: Layout,
) -> Result<Response, AppError> {
    let both = of_block(&state, id).await?;
    show(&state, both, layout).await
}

/// `GET /races/{race}/results/{athlete}`
pub(crate) async fn get_of_entry(
    State(state): State<AppState>,
    Id(both): Id<(RaceId, AthleteId)>,
    layout: Layout,
) -> Result<Response, AppError> {
    show(&state, both, layout).await
}

/// `POST /blocks/{block}/debrief`
pub(crate) async fn post(
    State(state): State<AppState>,
    Id(id): Id<BlockId>,
    layout: Layout,
    Form(typed): Form<Typed>,
) -> Result<Response, AppError> {
    let both = of_block(&state, id).await?;
    save(&state, both, layout, typed).await
}

/// `POST /races/{race}/results/{athlete}`
pub(crate) async fn post_of_entry(
    State(state): State<AppState>,
    Id(both): Id<(RaceId, AthleteId)>,
    layout: Layout,
    Form(typed): Form<Typed>,
) -> Result<Response, AppError> {
    save(&state, both, layout, typed).await
}

async fn show(state: &AppState, both: (RaceId, AthleteId), layout: Layout) -> Result<Response, AppError> {
    let loaded = Loaded::read(state, both).await?;
    let after = loaded.after(state).await?;
    render::page(StatusCode::OK, &loaded.page(layout, None, Problems::default(), after))
}

async fn save(state: &AppState, both: (RaceId, AthleteId), layout: Layout, typed: Typed) -> Result<Response, AppError> {
    let loaded = Loaded::read(state, both).await?;
    let read = match loaded.not_yet() {
        None => typed.to_result(&loaded.race.race),
        Some(why) => {
            let mut problems = Problems::default();
            problems.add("outcome", why);
            Err(problems)
        }
    };
    let (result, ran) = match read {
        Ok(read) => read,
        Err(problems) => {
            let after = loaded.after(state).await?;
            let page = loaded.page(layout, Some(typed), problems, after);
            return render::page(StatusCode::UNPROCESSABLE_ENTITY, &page);
        }
    };
    // What cannot be read was never noted: such a form is stale wherever something is.
    let was = read_ran(typed.was.trim()).unwrap_or_default().map(|(value, unit)| RaceDistance::Own(value, unit));
    let really_ran = ReallyRan { read_at: was, ran };
    let saved = state.store.save_result(both, read_version(&typed.version), &result, really_ran, state.clock.now());
    match saved.await {
        Ok(()) => Ok(notice::redirect(&loaded.path(), Notice::ResultSaved)),
        Err(StoreError::Conflict) => conflict(&Loaded::read(state, both).await?, layout, &typed),
        Err(error) => Err(error.into()),
    }
}

fn conflict(loaded: &Loaded, layout: Layout, typed: &Typed) -> Result<Response, AppError> {
    let kept = Typed::of(loaded.kept.as_ref(), loaded.entry.ran);
    let rows = FIELDS.iter().zip(kept.values().into_iter().zip(typed.values()));
    let mut rows: Vec<Row> = rows
        .map(|((control, label), (kept, typed))| match *control {
            "outcome" => Row::menu(control, label, kept, typed, DebriefPage::outcomes()),
            "rested" | "feeling" => Row::menu(control, label, kept, typed, DebriefPage::scale()),
            _ => Row::new(control, label, kept, typed),
        })
        .collect();
    rows.push(Row::hidden("was", &kept.was));
    let page = ConflictPage {
        layout: layout.at(Area::Athletes),
        what: format!("The result of {} in {}", loaded.entry.name, lines::race_name(&loaded.race.race)),
        rows,
        version: kept.version,
        action: loaded.path(),
        back: loaded.path(),
    };
    page.answer()
}
