//! One athlete: base week, races and blocks, facts.

use askama::Template;
use axum::extract::State;
use axum::http::StatusCode;
use axum::response::Response;
use chrono::NaiveDate;
use formats::words;
use planning::notation::read_result;
use planning::replan::is_spared_on;
use planning::week::WEEKDAYS;
use planning::{DayBefore, DistanceUnit, GoalTimes, LifeEvent, Outcome, RaceDistance, estimate};
use store::{
    AthleteDraft, AthleteId, AthleteRecord, BlockId, Entry, EventRecord, PastBlock, RaceId, RaceRecord, RaceResult,
    ResultRecord, WeekRecord, past_results,
};

use crate::blocks::{self, lines};
use crate::error::AppError;
use crate::extract::Id;
use crate::form::Choice;
use crate::log::OpenEvent;
use crate::paths;
use crate::render::{self, Area, Layout, Page};
use crate::shown;
use crate::state::AppState;
use crate::weeks::or_rest;

/// How many of the results that were noted with their races stand among the recent ones.
const NOTED_MOST: usize = 8;

/// An athlete's page.
#[derive(Template)]
#[template(path = "athletes/show.html")]
pub(crate) struct ShowPage {
    layout: Layout,
    id: AthleteId,
    name: String,
    group: String,
    /// What is the matter today, as far as it is known, and until when it takes easy days.
    unwell: Vec<String>,
    /// What has no end so far.
    open_events: Vec<OpenEvent>,
    facts: Vec<(&'static str, String)>,
    suits: Vec<String>,
    cautions: Vec<String>,
    notes: String,
    /// Where no easy pace is noted and a result says one: in words, and where that is noted.
    pace_offer: Option<(String, String)>,
    /// Recent results: noted ones, the latest first, then those that were typed.
    results: Vec<ResultRow>,
    /// Weekday and line; empty where no week was saved yet.
    week: Vec<(&'static str, String)>,
    /// The same of the week that takes turns with it; empty where there is none.
    second_week: Vec<(&'static str, String)>,
    /// Which of the two stands now, and since when the athlete runs like this.
    week_notes: Vec<String>,
    totals: String,
    coming: Vec<RaceRow>,
    past: Vec<RaceRow>,
    /// Past blocks and how they went, the latest first.
    looked_back: Vec<PastRow>,
    /// Coming races that the athlete is not entered in.
    open: Vec<Choice>,
}

/// A race that the athlete is entered in.
struct RaceRow {
    race: RaceId,
    name: String,
    day: String,
    away: String,
    distance: String,
    importance: &'static str,
    /// Whether it is the goal race: any other race has its place in the block of that.
    has_own_block: bool,
    /// Whether its block is the one to be made next.
    is_next: bool,
    is_off: bool,
    block: Option<BlockId>,
    /// That the block is not for the race as it is, or not from what is known by now; mostly nothing.
    stale: Option<String>,
    /// What came out, or that it can be noted; nothing before race day and where the race is called off.
    result: Option<ResultRow>,
}

/// What came out of a race.
struct ResultRow {
    /// Empty where nothing is noted.
    said: String,
    /// Where it is noted; nothing of what was typed with the athlete.
    path: Option<String>,
}

/// A past block and how it went: facts only.
struct PastRow {
    block: BlockId,
    race: String,
    /// Day and distance.
    facts: String,
    /// How long the block was, and how much it took away.
    length: String,
    rested: String,
    result: String,
    /// Which goal was reached; empty where nothing can be said.
    goal: String,
    conditions: String,
    words: String,
}

impl PastRow {
    fn new(
        past: &PastBlock,
        (entry, race): &(Entry, RaceRecord),
        result: Option<&RaceResult>,
        today: NaiveDate,
    ) -> Self {
        let nothing = RaceResult::default();
        let (noted, result) = (result.is_some(), result.unwrap_or(&nothing));
        let distance = race.race.distance;
        let goals = GoalTimes::readable(past.goals.each_ref().map(String::as_str), distance.distance());
        let whole = result.time.filter(|_| result.outcome == Outcome::Finished && entry.ran.is_none());
        let said = match entry.ran.map(words::race_distance) {
            _ if race.called_off.is_some() => "called off".to_owned(),
            _ if noted => lines::result(result, entry.ran),
            Some(ran) => format!("not noted, {ran} run"),
            None => "not noted".to_owned(),
        };
        let known = goals.known().next().is_some();
        Self {
            block: past.id,
            race: lines::race_name(&race.race),
            facts: format!("{}, {}", shown::day(race.race.date, today), words::race_distance(distance)),
            length: format!(
                "{}, {} less",
                words::plural(usize::from(past.block.curve.length), "day"),
                words::per_cent(past.block.cut().share)
            ),
            rested: result.rested.map(|rested| format!("{} of 10", rested.get())).unwrap_or_default(),
            result: shown::capital(&said),
            goal: whole.filter(|_| known).map_or_else(String::new, |time| {
                goals
                    .reached(time)
                    .map_or("no goal reached".to_owned(), |letter| format!("goal {} reached", letter.as_str()))
            }),
            conditions: result.conditions.clone(),
            words: result.words.clone(),
        }
    }
}

/// All that the page is made of.
struct Loaded {
    athlete: AthleteRecord,
    week: WeekRecord,
    entries: Vec<(Entry, RaceRecord)>,
    /// From today on.
    races: Vec<RaceRecord>,
    past_blocks: Vec<PastBlock>,
    results: Vec<(RaceId, ResultRecord)>,
    events: Vec<EventRecord>,
    /// The blocks of the races that are ahead.
    blocks: Vec<blocks::Loaded>,
    today: NaiveDate,
}

impl ShowPage {
    fn new(layout: Layout, loaded: Loaded) -> Self {
        let Loaded { athlete: record, week, entries, races, past_blocks, results: noted, events, blocks, today } =
            loaded;
        let looked_back = looked_back(&past_blocks, &entries, &noted, today);
        let open = open_races(&races, &entries);
        let facts = facts(&record.draft);
        let pace_offer = pace_offer(&record, &entries, &noted, today);
        let results = recent(&record.draft.recent_results, &entries, &noted, today);
        let athlete = record.draft.athlete;
        let saved = week.saved.is_some();
        let week_lines = |lines: &[String; 7]| -> Vec<_> {
            let days = WEEKDAYS.into_iter().zip(lines).filter(|_| saved);
            days.map(|(day, line)| (words::weekday(day), or_rest(line))).collect()
        };
        let turn = week.week.turns().map(|turns| words::whose_turn(turns, today));
        let since = week.since.map(|since| format!("Runs like this since {}.", words::full_date(since)));
        let (coming, mut past): (Vec<_>, Vec<_>) = entries.into_iter().partition(|(_, race)| race.race.date >= today);
        past.reverse();
        let rows = |entries: Vec<(Entry, RaceRecord)>| {
            entries.into_iter().map(|(entry, race)| RaceRow::new(&entry, race, &noted, today)).collect()
        };
        let asks = |(entry, race): &(Entry, RaceRecord)| entry.lacks_block() && race.called_off.is_none();
        let next = coming.iter().position(asks);
        let mut coming: Vec<RaceRow> = rows(coming);
        if let Some(row) = next.and_then(|at| coming.get_mut(at)) {
            row.is_next = true;
        }
        for row in &mut coming {
            let block = blocks.iter().find(|loaded| Some(loaded.record.id) == row.block);
            row.stale = block.and_then(blocks::what_is_stale);
        }
        Self {
            layout: layout.at(Area::Athletes),
            id: record.id,
            group: record.draft.group,
            unwell: unwell(&events, today),
            open_events: events.iter().filter_map(|event| OpenEvent::of(event, today)).collect(),
            facts,
            suits: suits(athlete.suits),
            week: week_lines(&week.lines),
            second_week: week.second.as_ref().map(|second| week_lines(&second.lines)).unwrap_or_default(),
            week_notes: turn.into_iter().chain(since).collect(),
            totals: words::usual_week(&week.week, athlete.units, athlete.easy_pace),
            name: athlete.name,
            cautions: athlete.cautions,
            notes: record.draft.notes,
            pace_offer,
            results,
            coming,
            past: rows(past),
            looked_back,
            open,
        }
    }
}

/// What is known of an athlete. Not the weight: it is for amounts of food, and others may look on.
fn facts(draft: &AthleteDraft) -> Vec<(&'static str, String)> {
    let athlete = &draft.athlete;
    let pace = athlete.easy_pace.map(|pace| {
        let unit = match pace.per() {
            DistanceUnit::Km => "kilometre",
            DistanceUnit::Mi => "mile",
        };
        format!("{pace} for a {unit}")
    });
    let fuel = draft.fuel_referred.then(|| "planned with a professional".to_owned());
    let known = [
        ("Units", Some(words::distance_unit(athlete.units).to_owned())),
        ("Easy pace", pace),
        ("Born", athlete.birth_year.map(|year| year.to_string())),
        ("At home", athlete.home_zone.clone()),
        ("Food and drink", fuel),
    ];
    known.into_iter().filter_map(|(name, fact)| Some((name, fact?))).collect()
}

/// The easy pace that a result makes likely, where none is noted.
fn pace_offer(
    record: &AthleteRecord,
    entries: &[(Entry, RaceRecord)],
    noted: &[(RaceId, ResultRecord)],
    today: NaiveDate,
) -> Option<(String, String)> {
    let athlete = &record.draft.athlete;
    let results = past_results(record.draft.results(), entries, noted);
    let (pace, by) = estimate::easy_pace(&results, athlete.units, today).filter(|_| athlete.easy_pace.is_none())?;
    let per = athlete.units.symbol();
    let said = format!("about {pace}/{per}, by {} in {}", words::race_distance(by.distance), by.time);
    Some((said, paths::edit_athlete_pace(record.id, pace)))
}

/// The races that are over and had a block.
fn looked_back(
    past_blocks: &[PastBlock],
    entries: &[(Entry, RaceRecord)],
    noted: &[(RaceId, ResultRecord)],
    today: NaiveDate,
) -> Vec<PastRow> {
    let rows = past_blocks.iter().filter_map(|past| {
        let entered = entries.iter().find(|(entry, _)| entry.race == past.race)?;
        let result = noted.iter().find(|(race, _)| *race == past.race).map(|(_, kept)| &kept.result);
        // A race of today is past once its result is noted.
        (result.is_some() || entered.1.race.date < today).then_some(())?;
        Some(PastRow::new(past, entered, result, today))
    });
    rows.collect()
}

/// The races that are ahead and in which the athlete is not entered.
fn open_races(races: &[RaceRecord], entries: &[(Entry, RaceRecord)]) -> Vec<Choice> {
    races
        .iter()
        .filter(|race| entries.iter().all(|(entry, _)| entry.race != race.id))
        .map(|race| {
            Choice::new(race.id.to_string(), format!("{}, {}", race.race.name, words::full_date(race.race.date)))
        })
        .collect()
}

impl RaceRow {
    fn new(entry: &Entry, race: RaceRecord, noted: &[(RaceId, ResultRecord)], today: NaiveDate) -> Self {
        Self {
            result: can_be_noted(&race, today).then(|| ResultRow::of(entry, noted)),
            race: race.id,
            day: shown::day(race.race.date, today),
            away: shown::away(race.race.date, today),
            distance: words::race_distance(race.race.distance),
            importance: words::importance(entry.importance),
            has_own_block: entry.importance.has_block(),
            is_next: false,
            is_off: race.called_off.is_some(),
            name: race.race.name,
            block: entry.block,
            stale: None,
        }
    }
}

impl ResultRow {
    fn of(entry: &Entry, noted: &[(RaceId, ResultRecord)]) -> Self {
        let kept = noted.iter().find(|(race, _)| *race == entry.race);
        Self {
            said: kept.map(|(_, kept)| lines::result(&kept.result, entry.ran)).unwrap_or_default(),
            path: Some(entry.block.map_or_else(|| paths::result(entry.race, entry.athlete), paths::debrief)),
        }
    }
}

/// Whether what came out of a race can be noted.
fn can_be_noted(race: &RaceRecord, today: NaiveDate) -> bool {
    race.race.date <= today && race.called_off.is_none()
}

/// The latest results that were noted with their races, and below them what was typed with the athlete, each race
/// once.
fn recent(
    typed: &str,
    entries: &[(Entry, RaceRecord)],
    noted: &[(RaceId, ResultRecord)],
    today: NaiveDate,
) -> Vec<ResultRow> {
    let is_noted = |entry: &Entry| noted.iter().any(|(race, _)| *race == entry.race);
    let known: Vec<_> = entries
        .iter()
        .rev()
        .filter(|(entry, race)| can_be_noted(race, today) && is_noted(entry))
        .take(NOTED_MOST)
        .collect();
    let stands_above = |line: &str| {
        let same = |date: NaiveDate, distance: RaceDistance| {
            known.iter().any(|(_, race)| race.race.date == date && race.race.distance == distance)
        };
        read_result(line).is_ok_and(|read| same(read.date, read.distance))
    };
    let typed = typed.lines().filter(|line| !line.trim().is_empty() && !stands_above(line));
    let typed = typed.map(|line| ResultRow { said: line.to_owned(), path: None });
    let of_race = |(entry, race): &&(Entry, RaceRecord)| {
        let row = ResultRow::of(entry, noted);
        let (day, name) = (shown::day(race.race.date, today), lines::race_name(&race.race));
        ResultRow { said: format!("{day}, {name}: {}", row.said), ..row }
    };
    known.iter().map(of_race).chain(typed).collect()
}

/// What is the matter today, or was so lately that easy days are usual.
fn unwell(events: &[EventRecord], today: NaiveDate) -> Vec<String> {
    // What has no end stands above with the form for it.
    let matters = |event: &LifeEvent| !event.open && is_spared_on(event, today);
    let known = events.iter().map(|record| record.event).filter(matters);
    known.map(|event| format!("{}.", shown::capital(&words::unwell(&event, today)))).collect()
}

fn suits(suits: planning::Suits) -> Vec<String> {
    let mut said = Vec::new();
    if let Some(days) = suits.days {
        said.push(format!("A block of {}", words::plural(usize::from(days), "day")));
    }
    match suits.day_before {
        Some(DayBefore::Rest) => said.push("Rest on the day before the race".to_owned()),
        Some(DayBefore::ShakeOut) => said.push("A shake-out run on the day before the race".to_owned()),
        Some(DayBefore::Auto) | None => {}
    }
    if let Some(day) = suits.extra_rest {
        said.push(format!("The extra rest day on a {}", words::weekday(day)));
    }
    said
}

impl Page for ShowPage {
    #[cfg(test)]
    fn samples() -> Vec<Self> {
        let bare = || Self {
            layout: Layout::plain().at(Area::Athletes),
            id: AthleteId(4),
            name: "Ana <b>".to_owned(),
            group: String::new(),
            unwell: vec![],
            open_events: vec![],
            facts: vec![("Units", "kilometres".to_owned())],
            suits: vec![],
            cautions: vec![],
            notes: String::new(),
            pace_offer: None,
            results: vec![],
            week: vec![],
            second_week: vec![],
            week_notes: vec![],
            totals: String::new(),
            coming: vec![],
            past: vec![],
            looked_back: vec![],
            open: vec![],
        };
        let race = |block: Option<BlockId>| RaceRow {
            race: RaceId(2),
            name: "River Ten <b>".to_owned(),
            day: "Sun 9 May 2027".to_owned(),
            away: "in 19 days".to_owned(),
            distance: "10 km".to_owned(),
            importance: "goal race",
            has_own_block: true,
            is_next: block.is_none(),
            is_off: false,
            block,
            stale: block.map(|_| "The race was moved to Sunday 9 May: this block was made for <b>.".to_owned()),
            result: None,
        };
        let result =
            |said: &str, path: Option<&str>| ResultRow { said: said.to_owned(), path: path.map(str::to_owned) };
        let full = Self {
            group: "Road".to_owned(),
            unwell: vec!["Injured since Tuesday, until Friday.".to_owned()],
            open_events: vec![OpenEvent { problems: vec![], ..OpenEvent::sample() }],
            suits: vec!["A block of 11 days".to_owned()],
            cautions: vec!["<b>knee</b>".to_owned()],
            notes: "two\nlines".to_owned(),
            pace_offer: Some(("about 5:15/km".to_owned(), "/athletes/4/edit?easy_pace=5%3A15".to_owned())),
            results: vec![
                result("Sun 9 May, River Ten <b>: 44:10", Some("/blocks/3/debrief")),
                result("2027-03-14 10k 42:10 (<b>)", None),
            ],
            week: vec![("Monday", "rest".to_owned()), ("Tuesday", "<b>7".to_owned())],
            second_week: vec![("Monday", "rest".to_owned()), ("Tuesday", "<b>5".to_owned())],
            week_notes: vec!["Runs like this since Monday 1 March 2027.".to_owned()],
            totals: "7 km on 1 running day; none of it hard.".to_owned(),
            coming: vec![
                race(None),
                RaceRow { result: Some(result("", Some("/blocks/3/debrief"))), ..race(Some(BlockId(3))) },
                RaceRow { is_off: true, ..race(None) },
                RaceRow { has_own_block: false, is_next: false, ..race(None) },
            ],
            past: vec![
                RaceRow { result: Some(result("44:10", Some("/blocks/3/debrief"))), ..race(Some(BlockId(3))) },
                RaceRow { result: Some(result("", Some("/races/2/results/4"))), ..race(None) },
                RaceRow { is_off: true, ..race(None) },
            ],
            looked_back: vec![PastRow {
                block: BlockId(3),
                race: "River Ten <b>".to_owned(),
                facts: "Sun 9 May, 10 km".to_owned(),
                length: "10 days, 52% less".to_owned(),
                rested: "7 of 10".to_owned(),
                result: "44:10".to_owned(),
                goal: "goal B reached".to_owned(),
                conditions: "<b>hot".to_owned(),
                words: "Well.\n<b>".to_owned(),
            }],
            open: vec![Choice::new("9", "Hill Half <b>")],
            ..bare()
        };
        vec![bare(), full]
    }
}

/// `GET /athletes/{athlete}`
pub(crate) async fn get(
    State(state): State<AppState>,
    layout: Layout,
    Id(id): Id<AthleteId>,
) -> Result<Response, AppError> {
    let (entries, today) = (state.store.entries_of(id).await?, state.clock.today());
    let is_ahead = |(_, race): &&(Entry, RaceRecord)| race.race.date >= today && race.called_off.is_none();
    let ahead: Vec<BlockId> = entries.iter().filter(is_ahead).filter_map(|(entry, _)| entry.block).collect();
    let loaded = Loaded {
        athlete: state.store.athlete(id).await?.ok_or(AppError::NotFound)?,
        week: state.store.week(id).await?.ok_or(AppError::NotFound)?,
        entries,
        races: state.store.races_from(today).await?,
        past_blocks: state.store.past_blocks(id, today + chrono::Days::new(1)).await?,
        results: state.store.results_of(id).await?,
        events: state.store.events_of(id).await?,
        blocks: if ahead.is_empty() { Vec::new() } else { blocks::Loaded::read_all(&state, &ahead).await? },
        today,
    };
    render::page(StatusCode::OK, &ShowPage::new(layout, loaded))
}
