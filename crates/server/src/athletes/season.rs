//! The races of one athlete on one timeline: blocks, recoveries, and what lies between.

use askama::Template;
use axum::extract::State;
use axum::http::StatusCode;
use axum::response::Response;
use chrono::{Days, NaiveDate};
use formats::words;
use planning::replan::eased_until;
use planning::timeline::{Phase, SHAPES_DAYS, Season, Span, timeline};
use planning::{Block, DistanceUnit, Importance, LifeEvent, Race};
use store::{AthleteId, BlockId, Entry, RaceId, RaceRecord};

use crate::blocks::{as_run, lines};
use crate::error::AppError;
use crate::extract::Id;
use crate::form::Problems;
use crate::render::{self, Area, Layout, Page};
use crate::shown;
use crate::state::AppState;

/// How far the page looks back at least, and past the last race, in days.
const BACK: u64 = 14;
const AHEAD: u64 = 35;

/// An athlete's season.
#[derive(Template)]
#[template(path = "athletes/season.html")]
pub(crate) struct SeasonPage {
    layout: Layout,
    id: AthleteId,
    name: String,
    strip: Strip,
    spans: Vec<SpanView>,
    raced: Vec<RacedView>,
    called_off: Vec<(RaceId, String, String)>,
    problems: Problems,
}

/// The picture: the spans in proportion to their days.
struct Strip {
    title: String,
    parts: Vec<Part>,
    /// Illness and injury, below the spans.
    unwell: Vec<Part>,
    today: Option<String>,
    months: Vec<(String, String)>,
}

struct Part {
    class: &'static str,
    x: String,
    width: String,
    title: String,
}

/// One span in words.
pub(crate) struct SpanView {
    pub(crate) what: String,
    pub(crate) dates: String,
    pub(crate) days: String,
    pub(crate) totals: String,
    pub(crate) others: Vec<String>,
    /// What its block's own page has otherwise.
    pub(crate) notes: Vec<String>,
    /// Illness and injury on its days, their easy days among them.
    pub(crate) unwell: Vec<String>,
    pub(crate) block: Option<BlockId>,
    pub(crate) is_now: bool,
    /// Day and what is run, where no block says it.
    pub(crate) lines: Vec<(String, String)>,
}

/// A goal race that was run lately.
struct RacedView {
    race: RaceId,
    name: String,
    day: String,
    ran: String,
    /// What is noted, which the form is sent with.
    was: String,
}

/// Width of the strip in its own units.
const WIDTH: f64 = 1000.0;

/// A block that was made.
struct Made {
    id: BlockId,
    race: RaceId,
    block: Block,
}

pub(super) struct Loaded {
    id: AthleteId,
    name: String,
    units: DistanceUnit,
    races: Vec<(Entry, RaceRecord)>,
    blocks: Vec<Made>,
    /// Those whose race is not run, in the order in which the season has them.
    off: Vec<Made>,
    spans: Vec<Span>,
    /// Illness and injury, as they stand today.
    unwell: Vec<LifeEvent>,
    today: NaiveDate,
}

impl Loaded {
    pub(super) async fn read(state: &AppState, id: AthleteId) -> Result<Self, AppError> {
        let record = state.store.athlete(id).await?.ok_or(AppError::NotFound)?;
        let week = state.store.week(id).await?.ok_or(AppError::NotFound)?;
        let units = state.store.settings().await?.units;
        let today = state.clock.today();
        let counts = |race: &Race| {
            race.date >= today || (race.importance == Importance::Goal && (today - race.date).num_days() <= SHAPES_DAYS)
        };
        let races: Vec<(Entry, RaceRecord)> =
            state.store.entries_of(id).await?.into_iter().filter(|(_, race)| counts(&race.race)).collect();
        let mut blocks = Vec::new();
        let mut off = Vec::new();
        for (entry, race) in &races {
            let Some(block) = entry.block else { continue };
            let Some(kept) = state.store.block(block).await? else { continue };
            let made = Made { id: block, race: race.id, block: kept.block };
            match not_run_since(entry, race) {
                Some(since) => off.push((made, since)),
                None => blocks.push(made),
            }
        }
        let run: Vec<Race> = races
            .iter()
            .filter(|(entry, race)| entry.is_run(race))
            .map(|(entry, race)| as_run(entry, race.race.clone()))
            .collect();
        let to = run.iter().map(|race| race.date).max().unwrap_or(today).max(today) + Days::new(AHEAD);
        let first = run.iter().map(|race| race.date).min().unwrap_or(today);
        let from = first.min(today - Days::new(BACK));
        let held: Vec<&Block> = blocks.iter().map(|made| &made.block).collect();
        let called_off: Vec<(&Block, NaiveDate)> = off.iter().map(|(made, since)| (&made.block, *since)).collect();
        let athlete = &record.draft.athlete;
        let events = state.store.events_of(id).await?.into_iter().map(|record| record.event.as_of(today));
        let unwell: Vec<LifeEvent> = events.filter(|event| event.kind.may_be_open()).collect();
        let season =
            Season { athlete, week: &week.week, races: &run, blocks: &held, called_off: &called_off, unwell: &unwell };
        let spans = if week.week.running().is_empty() { Vec::new() } else { timeline(&season, from, to) };
        let off = off.into_iter().map(|(made, _)| made).collect();
        Ok(Self { id, name: athlete.name.clone(), units, races, blocks, off, spans, unwell, today })
    }
}

impl SeasonPage {
    pub(super) fn new(layout: Layout, loaded: &Loaded, problems: Problems) -> Self {
        let run: Vec<&RaceRecord> =
            loaded.races.iter().filter(|(entry, race)| entry.is_run(race)).map(|(_, race)| race).collect();
        let raced = loaded.races.iter().filter(|(entry, race)| {
            entry.importance == Importance::Goal && race.race.date <= loaded.today && entry.is_run(race)
        });
        Self {
            layout: layout.at(Area::Athletes),
            id: loaded.id,
            strip: strip(loaded, &run),
            spans: loaded.spans.iter().map(|span| span_view(loaded, span, &run)).collect(),
            raced: raced.map(|(entry, race)| raced_view(entry, race, loaded.today)).collect(),
            called_off: loaded.races.iter().filter_map(|(entry, race)| off_view(entry, race, loaded.today)).collect(),
            name: loaded.name.clone(),
            problems,
        }
    }
}

fn raced_view(entry: &Entry, race: &RaceRecord, today: NaiveDate) -> RacedView {
    let ran = entry.ran.map(words::race_distance).unwrap_or_default();
    RacedView {
        race: race.id,
        name: lines::race_name(&race.race),
        day: shown::day(race.race.date, today),
        was: ran.clone(),
        ran,
    }
}

/// Since when it is known that a race is not run: called off, or the athlete did not start.
fn not_run_since(entry: &Entry, race: &RaceRecord) -> Option<NaiveDate> {
    race.called_off.or_else(|| (!entry.is_run(race)).then_some(race.race.date))
}

fn off_view(entry: &Entry, race: &RaceRecord, today: NaiveDate) -> Option<(RaceId, String, String)> {
    let since = not_run_since(entry, race)?;
    let day = shown::day(race.race.date, today);
    let said = match race.called_off {
        Some(_) => format!("{day}, called off, known since {}", shown::day(since, today)),
        None => format!("{day}, did not start"),
    };
    Some((race.id, lines::race_name(&race.race), said))
}

/// The block that a span is of.
fn made<'a>(loaded: &'a Loaded, span: &Span, run: &[&RaceRecord]) -> Option<&'a Made> {
    if let Some(place) = span.off {
        return loaded.off.get(place);
    }
    let race = run.get(span.race.filter(|_| matches!(span.phase, Phase::Block | Phase::Race))?)?;
    loaded.blocks.iter().find(|made| made.race == race.id)
}

/// What a block's own page has otherwise than the span: it was made for another day than its race has by now, or it
/// begins before the recovery from the race before is over.
fn notes(loaded: &Loaded, span: &Span, made: &Made, race: Option<&RaceRecord>) -> Vec<String> {
    let was = made.block.race_day;
    let is_moved = race.is_some_and(|race| race.race.date != was && race.race.date >= loaded.today);
    let first = made.block.first_day();
    match span.phase {
        Phase::Race if is_moved => vec![format!("Moved: its block was made for {}", words::long_date(was))],
        Phase::Block if is_moved => {
            vec![format!("As it would be made now; the block that was made is for {}", words::long_date(was))]
        }
        Phase::Block if first < span.from && race.is_some() => {
            vec![format!(
                "The block that was made begins on {}, before the recovery from the race before is over",
                words::long_date(first)
            )]
        }
        _ => Vec::new(),
    }
}

fn what(span: &Span, run: &[&RaceRecord], made: Option<&Made>) -> String {
    let race = span.race.and_then(|index| run.get(index)).map(|race| lines::race_name(&race.race));
    match (span.phase, race) {
        (Phase::Usual, _) => "Usual weeks".to_owned(),
        (Phase::Block, Some(race)) => format!("Taper block for {race}"),
        (Phase::Race, Some(race)) => format!("Race: {race}"),
        (Phase::Recovery, Some(race)) => format!("Recovery after {race}"),
        (Phase::Block, None) => made.map_or_else(
            || "Taper block".to_owned(),
            |made| format!("Taper block for {}, which is not run", lines::race_name(&made.block.race)),
        ),
        (Phase::Bridge, _) => "Running comes back".to_owned(),
        (Phase::Return, _) => "Back to the usual week".to_owned(),
        (_, None) => "Race".to_owned(),
    }
}

/// The running of a span, and what is usual.
fn totals(span: &Span, units: DistanceUnit) -> String {
    if let Some(cut) = &span.cut {
        return words::cut_in_short(cut, units);
    }
    let usual = words::totals(&span.usual, units);
    match span.phase {
        Phase::Race => String::new(),
        Phase::Usual if span.planned == span.usual => usual,
        _ if span.planned.is_empty() => format!("no running, usually {usual}"),
        _ => format!("{}, usually {usual}", words::totals(&span.planned, units)),
    }
}

fn span_view(loaded: &Loaded, span: &Span, run: &[&RaceRecord]) -> SpanView {
    let days = (span.to - span.from).num_days() + 1;
    let race = span.race.and_then(|index| run.get(index));
    let made = made(loaded, span, run);
    let totals = totals(span, loaded.units);
    let unwell = loaded.unwell.iter().filter(|event| event.from <= span.to && eased_until(event) >= span.from);
    let unwell: Vec<&LifeEvent> = unwell.collect();
    // The usual week knows nothing of it; a block says so in its days once it is planned around it.
    let now = unwell.iter().find(|event| span.phase == Phase::Usual && eased_until(event) >= loaded.today);
    let totals = match now {
        Some(event) => format!("{totals}, but {}", words::unwell_reservation(event, loaded.today)),
        None => totals,
    };
    let other = |index: &usize| {
        run.get(*index).map(|race| format!("{} on {}", lines::race_name(&race.race), words::long_date(race.race.date)))
    };
    SpanView {
        what: what(span, run, made),
        dates: if days == 1 { words::long_date(span.from) } else { words::date_range(span.from, span.to) },
        days: if days == 1 { String::new() } else { words::plural(usize::try_from(days).unwrap_or(0), "day") },
        totals,
        others: span.others.iter().filter_map(other).collect(),
        unwell: unwell.into_iter().map(|event| shown::capital(&words::unwell(event, loaded.today))).collect(),
        notes: made.map(|made| notes(loaded, span, made, race.copied())).unwrap_or_default(),
        block: made.filter(|_| span.phase == Phase::Block).map(|made| made.id),
        is_now: (span.from..=span.to).contains(&loaded.today),
        lines: span
            .days
            .iter()
            .map(|day| (words::short_date(day.date), lines::all_planned(&day.sessions, loaded.units)))
            .collect(),
    }
}

fn strip(loaded: &Loaded, run: &[&RaceRecord]) -> Strip {
    let title = format!("The season of {}: phases in proportion to their days", loaded.name);
    let (Some(first), Some(last)) = (loaded.spans.first(), loaded.spans.last()) else {
        return Strip { title, parts: Vec::new(), unwell: Vec::new(), today: None, months: Vec::new() };
    };
    let from = first.from;
    let days = (last.to - from).num_days() as f64 + 1.0;
    let at = |date: NaiveDate| format!("{:.1}", (date - from).num_days() as f64 / days * WIDTH);
    let width = |from: NaiveDate, to: NaiveDate| format!("{:.1}", ((to - from).num_days() as f64 + 1.0) / days * WIDTH);
    let parts = loaded
        .spans
        .iter()
        .map(|span| Part {
            class: class(span.phase),
            x: at(span.from),
            width: width(span.from, span.to),
            title: what(span, run, made(loaded, span, run)),
        })
        .collect();
    let seen = loaded.unwell.iter().filter(|event| event.from <= last.to && event.to >= from);
    let unwell = seen.map(|event| {
        let (first, last) = (event.from.max(from), event.to.min(last.to));
        Part { class: "s-unwell", x: at(first), width: width(first, last), title: words::unwell(event, loaded.today) }
    });
    let unwell = unwell.collect();
    let first_of_month = |date: &NaiveDate| chrono::Datelike::day(date) == 1;
    let months = from.iter_days().take_while(|date| *date <= last.to).filter(first_of_month);
    Strip {
        title,
        parts,
        unwell,
        today: (from <= loaded.today && loaded.today <= last.to).then(|| at(loaded.today)),
        months: months.map(|date| (at(date), date.format("%b").to_string())).collect(),
    }
}

const fn class(phase: Phase) -> &'static str {
    match phase {
        Phase::Usual => "s-usual",
        Phase::Block => "s-block",
        Phase::Race => "s-race",
        Phase::Recovery => "s-recovery",
        Phase::Bridge => "s-bridge",
        Phase::Return => "s-return",
    }
}

#[cfg(test)]
impl SpanView {
    /// A recovery on whose days another race lies.
    pub(crate) fn sample() -> Self {
        Self {
            what: "Recovery after River <b>".to_owned(),
            dates: "3 to 9 May".to_owned(),
            days: "7 days".to_owned(),
            totals: "12 km, usually 50 km".to_owned(),
            others: vec!["Mile <i> on Saturday 8 May".to_owned()],
            notes: vec!["Its first day lies before the end of the recovery <b>".to_owned()],
            unwell: vec!["Ill since Tuesday, no end noted".to_owned()],
            block: Some(BlockId(3)),
            is_now: true,
            lines: vec![("Thu 6 May".to_owned(), "easy 5 km".to_owned())],
        }
    }
}

impl Page for SeasonPage {
    #[cfg(test)]
    fn samples() -> Vec<Self> {
        let bare = || Self {
            layout: Layout::plain().at(Area::Athletes),
            id: AthleteId(4),
            name: "Ana <b>".to_owned(),
            strip: Strip {
                title: "The season of Ana <b>".to_owned(),
                parts: vec![],
                unwell: vec![],
                today: None,
                months: vec![],
            },
            spans: vec![],
            raced: vec![],
            called_off: vec![],
            problems: Problems::default(),
        };
        let part =
            |class, x: &str| Part { class, x: x.to_owned(), width: "100".to_owned(), title: "Race: <b>".to_owned() };
        let mut problems = Problems::default();
        problems.add("ran-2", "Really ran: “<b>” is not a distance.");
        let full = Self {
            strip: Strip {
                title: "The season of Ana <b>".to_owned(),
                parts: vec![part("s-block", "0"), part("s-race", "100"), part("s-recovery", "200")],
                unwell: vec![part("s-unwell", "20")],
                today: Some("50".to_owned()),
                months: vec![("10".to_owned(), "May".to_owned())],
            },
            spans: vec![SpanView::sample()],
            raced: vec![RacedView {
                race: RaceId(2),
                name: "River <b>".to_owned(),
                day: "Sun 2 May".to_owned(),
                ran: String::new(),
                was: String::new(),
            }],
            called_off: vec![(RaceId(5), "Hill <b>".to_owned(), "Sun 6 Jun, called off".to_owned())],
            problems,
            ..bare()
        };
        vec![bare(), full]
    }
}

/// What comes after a goal race of an athlete: recovery, the way back, and all up to the next goal race. Nothing
/// where there is nothing to recover from any more.
pub(crate) async fn after_race(state: &AppState, id: AthleteId, race: RaceId) -> Result<Vec<SpanView>, AppError> {
    let loaded = Loaded::read(state, id).await?;
    let run: Vec<&RaceRecord> =
        loaded.races.iter().filter(|(entry, race)| entry.is_run(race)).map(|(_, race)| race).collect();
    let place = run.iter().position(|known| known.id == race);
    let is_recovery = |span: &&Span| span.phase == Phase::Recovery && span.race == place;
    let Some(first) = loaded.spans.iter().find(is_recovery).filter(|_| place.is_some()) else {
        return Ok(Vec::new());
    };
    let mut found = Vec::new();
    for span in loaded.spans.iter().filter(|span| span.from >= first.from) {
        found.push(span_view(&loaded, span, &run));
        if span.phase == Phase::Race {
            break;
        }
    }
    Ok(found)
}

/// `GET /athletes/{athlete}/season`
pub(crate) async fn get(
    State(state): State<AppState>,
    layout: Layout,
    Id(id): Id<AthleteId>,
) -> Result<Response, AppError> {
    let loaded = Loaded::read(&state, id).await?;
    render::page(StatusCode::OK, &SeasonPage::new(layout, &loaded, Problems::default()))
}

/// The page again after a distance that could not be read.
pub(crate) async fn refused(
    state: &AppState,
    layout: Layout,
    id: AthleteId,
    race: RaceId,
    (typed, was): (&str, &str),
    sentence: String,
) -> Result<Response, AppError> {
    let loaded = Loaded::read(state, id).await?;
    let mut problems = Problems::default();
    problems.add(format!("ran-{race}"), sentence);
    let mut page = SeasonPage::new(layout, &loaded, problems);
    for raced in page.raced.iter_mut().filter(|raced| raced.race == race) {
        typed.clone_into(&mut raced.ran);
        was.clone_into(&mut raced.was);
    }
    render::page(StatusCode::UNPROCESSABLE_ENTITY, &page)
}
