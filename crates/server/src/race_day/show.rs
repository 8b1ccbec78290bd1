//! The race sheet of a block as the coach sees it.

use askama::Template;
use axum::extract::{Query, State};
use axum::http::StatusCode;
use axum::response::Response;
use formats::words;
use formats::words::race_day::fuel::Reader;
use planning::DistanceUnit;
use planning::fuel::is_for_a_clinician;
use planning::station::Station;
use store::{AthleteId, BlockId, RaceId};

use super::body::{Body, Told};
use super::document::{self, Fact, StretchLine};
use super::fitted::Fit;
use super::ground::{Ground, Opened};
use super::pacing::Typed;
use super::profile_picture::ProfilePicture;
use super::times::{GoalLine, SplitTable, Times};
use crate::error::AppError;
use crate::extract::Id;
use crate::form::Problems;
use crate::render::{self, Area, Layout, Page};
use crate::state::AppState;

/// A race sheet.
#[derive(Template)]
#[template(path = "race_day/show.html")]
pub(crate) struct ShowPage {
    layout: Layout,
    id: BlockId,
    athlete: AthleteId,
    race: RaceId,
    name: String,
    race_name: String,
    facts: String,
    called_off: bool,
    goals: Vec<GoalLine>,
    findings: Vec<String>,
    typed: Typed,
    problems: Problems,
    preview: bool,
    strategy: String,
    /// What course the times stand on.
    course: String,
    picture: Option<ProfilePicture>,
    usual: Option<SplitTable>,
    every: Option<SplitTable>,
    stretches: Vec<StretchLine>,
    hard_moment: String,
    rules: Vec<String>,
    whose_rules: WhoseRules,
    start: Vec<String>,
    worries: Vec<String>,
    morning: Vec<Fact>,
    stations: Vec<String>,
    body: Body,
}

/// Where the rules for changing the goal come from.
#[derive(Clone, Copy, PartialEq, Eq)]
enum WhoseRules {
    /// The coach wrote them.
    Coach,
    /// They are proposed from the goals.
    Proposed,
    /// None are proposed: the coach's own words say how to run it.
    OwnWords,
}

impl WhoseRules {
    fn of(ground: Ground<'_>) -> Self {
        match &ground.record.race_sheet.change_rules {
            Some(_) => Self::Coach,
            None if document::has_own_rules(ground) => Self::OwnWords,
            None => Self::Proposed,
        }
    }

    const fn are_proposed(self) -> bool {
        matches!(self, Self::Proposed)
    }

    const fn are_in_own_words(self) -> bool {
        matches!(self, Self::OwnWords)
    }
}

/// What stands in the form beside the times.
pub(super) struct Shown {
    pub(super) typed: Typed,
    pub(super) problems: Problems,
}

impl ShowPage {
    pub(super) fn new(layout: Layout, opened: &Opened, shown: Shown) -> Self {
        let (record, units, ground) = (&opened.record, opened.coach.units, opened.ground());
        let Shown { typed, mut problems } = shown;
        let strategy = match typed.to_strategy() {
            Ok(strategy) => strategy,
            Err(found) => {
                problems = found;
                record.race_sheet.strategy
            }
        };
        let times = ground.times(&record.goals, strategy);
        let table = |table: SplitTable| (!times.are_none()).then_some(table);
        let (name, race_name) = document::title(ground);
        let stations = ground.stations();
        let body = Body::of(&Told { ground, times: &times, today: opened.today, units, reader: Reader::Coach });
        let then = document::legs(ground, &stations, &times, &body).after;
        Self {
            layout: layout.at(Area::Athletes),
            id: record.id,
            athlete: record.athlete.id,
            race: record.race.id,
            name,
            race_name,
            facts: document::facts(ground),
            called_off: record.race.called_off.is_some(),
            goals: times.lines(ground.profile(), units),
            findings: findings(ground, &times, &stations, units),
            preview: typed.is_preview() && problems.is_empty() && strategy != record.race_sheet.strategy,
            typed,
            problems,
            strategy: words::strategy(strategy, ground.profile(), units),
            course: course(ground, units),
            picture: document::picture(ground, &times, units),
            usual: table(times.usual(ground.profile(), units)),
            every: table(times.every(ground.profile(), units, record.race.race.distance.event())),
            stretches: document::stretches(ground, &record.goals, units),
            hard_moment: record.goals.hard_moment.clone(),
            rules: document::rules(ground, &times, ground.athlete_units()),
            whose_rules: WhoseRules::of(ground),
            start: document::start(ground),
            morning: document::morning(ground),
            stations: document::station_lines(&stations, &then, ground.profile(), units),
            worries: document::written_lines(&record.race_sheet.worries),
            body,
        }
    }

    /// Over which part of the race the start is held back.
    const FIRST_KILOMETRES: &str = "Over the first 5 km, or the first third of a shorter race.";
}

/// What the coach should look at again: goals, cut-offs, words, and what a clinician has to say first.
fn findings(ground: Ground<'_>, times: &Times, stations: &[Station], units: DistanceUnit) -> Vec<String> {
    let mut found = times.findings(ground.profile());
    found.extend(times.late_at(stations, ground.behind(), ground.profile(), units));
    let stretches = document::stretches(ground, &ground.record.goals, units);
    found.extend(stretches.iter().flat_map(|stretch| {
        let texts = [("effort", &stretch.effort), ("focus", &stretch.focus), ("cue", &stretch.cue)];
        texts.into_iter().filter_map(|(what, text)| words::too_many_words(&stretch.name, what, text))
    }));
    let cautions = ground.record.athlete.draft.athlete.cautions.iter();
    let clinical: Vec<&str> = cautions.map(String::as_str).filter(|one| is_for_a_clinician(one)).collect();
    found.extend((!clinical.is_empty() && !times.are_none()).then(|| words::for_a_clinician(&clinical)));
    found
}

/// What course the times stand on, in a sentence.
fn course(ground: Ground<'_>, units: DistanceUnit) -> String {
    let profile = ground.profile();
    match &ground.course.fit {
        Fit::OfOtherLength(kind) => format!(
            "The course that is kept does not fit the race: {}. Times are for a flat one.",
            words::problem_kind(kind)
        ),
        Fit::Unknown => "No course is kept for this race: times are for a flat one.".to_owned(),
        Fit::WithoutHeights => "The course has no heights: times are for a flat one.".to_owned(),
        Fit::Measured => {
            let height = |metres| words::height(metres, units);
            if (profile.climb(), profile.descent()) == (0.0, 0.0) {
                return "On the course of the race, which is flat.".to_owned();
            }
            format!("On the course of the race, {} up and {} down.", height(profile.climb()), height(profile.descent()))
        }
    }
}

impl Page for ShowPage {
    #[cfg(test)]
    fn samples() -> Vec<Self> {
        use super::ground::sample;
        let shown = |ground: &Opened| Shown {
            typed: Typed::of(ground.record.race_sheet.strategy, ground.record.version),
            problems: Problems::default(),
        };
        let empty = sample::empty();
        let full = sample::full();
        let wrong = Shown {
            typed: Typed { slower_half: "<b>".to_owned(), preview: "1".to_owned(), ..Typed::default() },
            problems: Problems::default(),
        };
        let preview = Shown {
            typed: Typed { slower_half: "2".to_owned(), preview: "1".to_owned(), ..Typed::default() },
            problems: Problems::default(),
        };
        vec![
            Self::new(Layout::plain(), &empty, shown(&empty)),
            Self::new(Layout::plain(), &full, shown(&full)),
            Self::new(Layout::plain(), &full, wrong),
            Self::new(Layout::plain(), &full, preview),
        ]
    }
}

/// `GET /blocks/{block}/race-day`; with a strategy in the address it shows that without saving it.
pub(crate) async fn get(
    State(state): State<AppState>,
    Id(id): Id<BlockId>,
    layout: Layout,
    Query(asked): Query<Typed>,
) -> Result<Response, AppError> {
    let opened = Opened::read(&state, id).await?;
    let typed =
        if asked.is_preview() { asked } else { Typed::of(opened.record.race_sheet.strategy, opened.record.version) };
    let page = ShowPage::new(layout, &opened, Shown { typed, problems: Problems::default() });
    let status = if page.problems.is_empty() { StatusCode::OK } else { StatusCode::UNPROCESSABLE_ENTITY };
    render::page(status, &page)
}
