//! Variants of a block, side by side: the same athlete and race with other settings, one of them taken
//! with one click.

use std::collections::HashSet;

use askama::Template;
use axum::extract::State;
use axum::http::StatusCode;
use axum::response::Response;
use axum_extra::extract::Form;
use formats::words;
use planning::variants::what_suits;
use planning::{Block, DistanceUnit, Finding, Kind, Level, Planned, RuleId, Settings, Suits, Variant, VariantName};
use serde::Deserialize;
use store::{BlockId, BlockRecord, StoreError};

use super::lines;
use super::load::{Loaded, pins};
use super::picture::{Bar, Scale};
use super::view::Reader;
use crate::conflict::{ConflictPage, Row};
use crate::error::AppError;
use crate::extract::Id;
use crate::form::read_version;
use crate::notice::{self, Notice};
use crate::paths;
use crate::render::{self, Area, Layout, Page};
use crate::shown;
use crate::state::AppState;

/// The variants side by side.
#[derive(Template)]
#[template(path = "blocks/variants.html")]
pub(crate) struct VariantsPage {
    layout: Layout,
    id: BlockId,
    name: String,
    race: String,
    rows: Vec<VariantRow>,
    /// The settings of the block as it stands, where it is none of the variants.
    apart: Option<String>,
    /// What the review says of all of them.
    common: Vec<String>,
    /// What was noted so far as suiting the athlete.
    noted: Option<String>,
    version: String,
}

/// One variant.
struct VariantRow {
    code: &'static str,
    name: String,
    settings: String,
    /// Whether the block stands like this now.
    is_present: bool,
    thumb: Thumb,
    /// Name, totals and share of each week, the first week first.
    weeks: Vec<(String, String)>,
    cut: String,
    long: String,
    hard: String,
    not_run: String,
    /// Level and rule, without what is said of all.
    findings: Vec<String>,
}

/// The ebb picture, very small: a bar a day.
struct Thumb {
    height: usize,
    bars: Vec<(usize, Bar)>,
}

impl Thumb {
    /// The width of the longest bar.
    const WIDEST: f64 = 60.0;
    /// From one day to the next.
    const STEP: usize = 4;

    fn of(block: &Block, reader: Reader) -> Self {
        let scale = Scale::fit(block, reader.pace, Self::WIDEST);
        Self {
            height: block.days.len() * Self::STEP,
            bars: block.days.iter().enumerate().map(|(index, day)| (index * Self::STEP, Bar::of(day, scale))).collect(),
        }
    }
}

impl VariantsPage {
    fn new(layout: Layout, loaded: &Loaded, variants: &[Variant]) -> Self {
        let record = &loaded.record;
        let reader = loaded.coach_reader();
        // As they would be run: under what happened on the way, where that is taken in.
        let run =
            |variant: &Variant| loaded.lay(variant.block.clone()).map_or(variant.block.clone(), |laid| laid.block);
        let blocks: Vec<Block> = variants.iter().map(run).collect();
        // With what only the pages know, such as the clocks at the race.
        let judged: Vec<Vec<Finding>> =
            blocks.iter().map(|block| loaded.review_from(&loaded.week.week, block)).collect();
        let common: Vec<&Finding> = judged.first().map_or(Vec::new(), |first| {
            let in_all = |found: &&Finding| judged.iter().all(|findings| findings.contains(found));
            first.iter().filter(in_all).collect()
        });
        let athlete = &record.athlete.draft.athlete;
        Self {
            layout: layout.at(Area::Athletes),
            id: record.id,
            name: athlete.name.clone(),
            race: lines::race_name(&record.race.race),
            rows: variants
                .iter()
                .zip(blocks.iter().zip(&judged))
                .map(|(variant, (block, findings))| VariantRow {
                    is_present: block.days == record.block.days,
                    ..VariantRow::of(variant, block, (findings, &common), reader)
                })
                .collect(),
            apart: (!blocks.iter().any(|block| block.days == record.block.days))
                .then(|| lines::settings_sentence(&record.block)),
            common: common.iter().map(|found| words::finding(found, reader.units)).collect(),
            noted: noted(athlete.suits),
            version: record.version.to_string(),
        }
    }
}

impl VariantRow {
    fn of(variant: &Variant, block: &Block, (findings, common): (&[Finding], &[&Finding]), reader: Reader) -> Self {
        let mut said: HashSet<(Level, RuleId)> = HashSet::new();
        Self {
            code: variant.name.code(),
            name: shown::capital(words::variant(variant.name)),
            settings: lines::settings_sentence(block),
            is_present: false,
            thumb: Thumb::of(block, reader),
            weeks: block.weeks().iter().map(|week| week_line(week, reader.units)).collect(),
            cut: words::per_cent(block.cut().share),
            long: last(block, reader.units, |planned| planned.session.kind == Kind::Long),
            hard: last(block, reader.units, |planned| planned.session.is_hard() && planned.session.kind != Kind::Long),
            not_run: not_run(block),
            findings: findings
                .iter()
                .filter(|found| !common.contains(found) && said.insert((found.level, found.rule)))
                .map(|found| format!("{}: {}", shown::capital(words::level(found.level)), words::heading(found)))
                .collect(),
        }
    }
}

fn week_line(week: &planning::WeekSummary, units: DistanceUnit) -> (String, String) {
    let name = match week.before {
        0 => "Race week".to_owned(),
        1 => "The week before".to_owned(),
        weeks => format!("{weeks} weeks before"),
    };
    (name, format!("{} ({})", words::totals(&week.planned, units), words::per_cent(week.share)))
}

/// The last session of some sort before the race: `Sun 2 May: long run 14 km`.
fn last(block: &Block, units: DistanceUnit, wanted: impl Fn(&Planned) -> bool) -> String {
    let before_race = block.days.iter().rev().filter(|day| day.to_race > 0);
    let found = before_race.flat_map(|day| day.sessions.iter().map(move |planned| (day, planned)));
    let last = found.into_iter().find(|(_, planned)| wanted(planned));
    last.map_or("none".to_owned(), |(day, planned)| {
        format!("{}: {}", words::short_date(day.date), lines::planned_brief(planned, units))
    })
}

/// The days of race week without running: `Fri and Sat`.
fn not_run(block: &Block) -> String {
    let days: Vec<String> =
        block.days_without_running().map(|day| words::weekday_short(day.weekday()).to_owned()).collect();
    if days.is_empty() { "none".to_owned() } else { words::list(&days) }
}

/// `a block of 11 days, rest on the day before the race, extra rest on Friday`.
fn noted(suits: Suits) -> Option<String> {
    let days = suits.days.map(|days| format!("a block of {}", words::plural(usize::from(days), "day")));
    let before = suits
        .day_before
        .filter(|choice| *choice != planning::DayBefore::Auto)
        .map(|choice| format!("{} on the day before the race", words::day_before(choice)));
    let rest = suits.extra_rest.map(|day| format!("extra rest on {}", words::weekday(day)));
    let parts: Vec<String> = [days, before, rest].into_iter().flatten().collect();
    (!parts.is_empty()).then(|| words::list(&parts))
}

impl Loaded {
    /// The variants from the base week and the race as they are now, around the days that are fixed.
    fn variants(&self) -> Vec<Variant> {
        let settings = Settings::default();
        let pins = pins(self.plan_under());
        // What cannot be planned any more (a race that is over) has no variants.
        planning::variants(&self.request(&self.week.week, &settings, &pins)).unwrap_or_default()
    }
}

impl Page for VariantsPage {
    #[cfg(test)]
    fn samples() -> Vec<Self> {
        use super::sample;
        let clock = crate::clock::Clock::fixed("2027-04-20T08:00:00Z".parse().expect("an instant"));
        let page = |record: BlockRecord| {
            let loaded = Loaded::sample(record, clock);
            let variants = loaded.variants();
            Self::new(Layout::plain(), &loaded, &variants)
        };
        let mut suited = sample::handed_over(&sample::timed_half());
        suited.athlete.draft.athlete.suits = Suits {
            days: Some(11),
            day_before: Some(planning::DayBefore::Rest),
            extra_rest: Some(chrono::Weekday::Fri),
        };
        let mut over = sample::record(&sample::ten_k());
        over.race.race.date = clock.today() - chrono::Days::new(3);
        vec![
            page(sample::record(&sample::ten_k())),
            page(sample::record(&sample::marathon())),
            page(suited),
            page(over),
        ]
    }
}

/// `GET /blocks/{block}/variants`
pub(crate) async fn get(
    State(state): State<AppState>,
    Id(id): Id<BlockId>,
    layout: Layout,
) -> Result<Response, AppError> {
    let loaded = Loaded::read(&state, id).await?;
    let variants = loaded.variants();
    render::page(StatusCode::OK, &VariantsPage::new(layout, &loaded, &variants))
}

/// The form.
#[derive(Debug, Default, Deserialize)]
#[serde(default)]
pub(crate) struct Typed {
    version: String,
    /// The code of the variant that is taken.
    variant: String,
    /// `yes` where it is remembered as what suits the athlete.
    remember: String,
}

/// `POST /blocks/{block}/variants`: takes one.
pub(crate) async fn post(
    State(state): State<AppState>,
    Id(id): Id<BlockId>,
    layout: Layout,
    Form(typed): Form<Typed>,
) -> Result<Response, AppError> {
    let loaded = Loaded::read(&state, id).await?;
    let record = &loaded.record;
    let name = VariantName::from_code(&typed.variant).ok_or(AppError::NotFound)?;
    let found = loaded.variants().into_iter().find(|variant| variant.name == name).ok_or(AppError::NotFound)?;
    let reason = format!("chose the variant: {}", words::variant(name));
    let read_at = read_version(&typed.version);
    let now = state.clock.now();
    let laid = loaded.lay(found.block.clone()).map_err(|found| AppError::Internal(format!("{found:?}")))?;
    let kept = state
        .store
        .replan_block(id, read_at, &found.settings, &loaded.week, &laid.block, &laid.plan, &reason, now)
        .await;
    match kept {
        Ok(_) if typed.remember == "yes" => {
            let suits = if name == VariantName::AsRules { Suits::default() } else { what_suits(&found.block) };
            let noted = remember(&state, &loaded, suits).await?;
            Ok(notice::redirect(
                &paths::block(id),
                if noted { Notice::VariantRemembered } else { Notice::VariantTaken },
            ))
        }
        Ok(_) => Ok(notice::redirect(&paths::block(id), Notice::VariantTaken)),
        Err(StoreError::Conflict) => conflict(layout, record, &found, &typed),
        Err(error) => Err(error.into()),
    }
}

/// Settings of the block that is kept, and those of the variant.
fn conflict(layout: Layout, record: &BlockRecord, found: &Variant, typed: &Typed) -> Result<Response, AppError> {
    let [kept, asked] = [&record.block, &found.block].map(lines::settings_sentence);
    let page = ConflictPage {
        layout: layout.at(Area::Athletes),
        what: format!("{}'s block", record.athlete.draft.athlete.name),
        rows: vec![
            Row::words("Settings", &kept, &asked),
            Row::hidden("variant", &typed.variant),
            Row::hidden("remember", &typed.remember),
        ],
        version: record.version.to_string(),
        action: paths::block_variants(record.id),
        back: paths::block(record.id),
    };
    render::page(StatusCode::CONFLICT, &page)
}

/// Notes what suits the athlete, and says whether it was noted: the block is kept in any case, even if
/// the athlete was saved from another window in the same moment.
async fn remember(state: &AppState, loaded: &Loaded, suits: Suits) -> Result<bool, AppError> {
    let record = &loaded.record.athlete;
    let mut draft = record.draft.clone();
    draft.athlete.suits = suits;
    match state.store.save_athlete(record.id, record.version, &draft, state.clock.now()).await {
        Ok(()) => Ok(true),
        Err(StoreError::Conflict) => Ok(false),
        Err(error) => Err(error.into()),
    }
}
