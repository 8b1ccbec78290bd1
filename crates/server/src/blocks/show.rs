//! The page of one block: picture, settings with preview, review, days, and handing it over.

use askama::Template;
use axum::extract::{Query, State};
use axum::http::header::{CONTENT_TYPE, VARY};
use axum::http::{HeaderMap, StatusCode};
use axum::response::{IntoResponse, Response};
use formats::plan_answer::PlanAnswer;
use formats::words;
use planning::block::curve_of;
use planning::curve::Adjustment;
use planning::replan::race::back_until;
use planning::{Block, DistanceUnit, Finding, Level, Moment, Problem, RaceChange, RuleId, Settings};
use store::{AthleteId, BlockId, BlockRecord, MessageText, RaceId, RaceRecord, SentMessage};

use super::edited;
use super::hand_over::HandOver;
use super::lines;
use super::load::{Laid, Loaded};
use super::messages::{MessageView, Messages, Spared, held_before};
use super::picture::Picture;
use super::settings::{self, Typed};
use super::view::{self, WeekView};
use crate::clock::Clock;
use crate::error::AppError;
use crate::extract::{Id, wants_json};
use crate::form::Problems;
use crate::race_day::Course;
use crate::render::{self, Area, Layout, Page};
use crate::shown;
use crate::state::{AppState, ShareDoor};

/// A block as the coach sees it.
#[derive(Template)]
#[template(path = "blocks/show.html")]
pub(crate) struct ShowPage {
    layout: Layout,
    id: BlockId,
    athlete: AthleteId,
    race: RaceId,
    /// How many blocks there are for the race, with this one.
    blocks_of_race: u32,
    head: Head,
    /// The goals that are written, each with its letter.
    goals: Vec<(&'static str, String)>,
    /// What was changed since the block was made and asks for a new one.
    stale: Vec<&'static str>,
    /// What happened on the way and is not in the block.
    again: Option<Again>,
    /// The race is called off.
    off: Option<Off>,
    /// The kept block, or the one that the settings in the form would give.
    weeks: Vec<WeekView>,
    picture: Picture,
    facts: Vec<String>,
    findings: Vec<FindingView>,
    /// The settings in force, in a sentence.
    settings_sentence: String,
    typed: Typed,
    /// Days, curvature and floor that an empty field takes.
    hints: (String, String, String),
    problems: Problems,
    preview: bool,
    hand_over: HandOver,
    messages: Vec<MessageView>,
    /// Why there are none, or what the coach should know before sending one; empty where nothing.
    messages_hint: String,
    /// Where the race is called off, what the athlete is told instead, and how many lines that takes.
    told_off: Option<(String, usize)>,
    /// What undoing would undo, and redoing do again; nothing over a preview.
    undo: Option<String>,
    redo: Option<String>,
    /// The version at which the forms of the days are read.
    version: String,
    /// The coach's unit and the athlete's, where these are two.
    two_units: Option<(&'static str, &'static str)>,
}

/// What is to be said where the race is called off.
pub(crate) struct Off {
    /// Whether days back to the usual week are still ahead.
    has_days_back: bool,
    /// Whether the athlete cannot run as usual, so that no message asks for these days.
    is_spared: bool,
    /// Whether the coach said that it is settled how the athlete goes on.
    is_settled: bool,
}

/// Who, which race, when, which version.
pub(crate) struct Head {
    pub(crate) name: String,
    pub(crate) race: String,
    pub(crate) date: String,
    /// Empty where the race has no name and is called by its distance.
    pub(crate) distance: String,
    pub(crate) start: Option<String>,
    pub(crate) place: String,
    pub(crate) to_go: String,
    pub(crate) revision: u32,
    pub(crate) made: String,
    /// Whether what came out of the race can be noted: from race day on.
    pub(crate) is_raced: bool,
    /// Whether the race is past, so that nothing can be planned towards it.
    pub(crate) is_past: bool,
    /// Whether the race is called off, so that there is nothing to hand over.
    pub(crate) is_off: bool,
}

/// One thing that the review says.
pub(crate) struct FindingView {
    /// `Stop`, `Caution`, `Note`.
    pub(crate) level: String,
    pub(crate) code: &'static str,
    pub(crate) sentence: String,
    /// The name of the rule and where it comes from.
    pub(crate) source: String,
    /// The block that is to be planned again, where that is the answer.
    pub(crate) replan: Option<BlockId>,
}

/// Which block the page shows, and what the form holds.
pub(crate) enum Shown {
    /// The kept one.
    Kept,
    /// One that is not kept: the settings as typed, and what they give.
    Preview { typed: Typed, block: Box<Block> },
    /// The kept one, under a form that could not be taken.
    Refused { typed: Typed, problems: Problems },
}

impl ShowPage {
    /// The page with the messages of the block, which no other page needs.
    pub(crate) async fn load(
        state: &AppState,
        layout: Layout,
        loaded: &Loaded,
        shown: Shown,
    ) -> Result<Self, AppError> {
        let texts = state.store.message_texts().await?;
        let sent = state.store.sent_messages(loaded.record.id).await?;
        let course = Course::read(state, &loaded.record.race).await?;
        let before = held_before(state, std::slice::from_ref(&loaded.record)).await?.remove(&loaded.record.id);
        let edited = match (layout.notice, &loaded.record.undo, &shown) {
            (Some(notice), Some(undo), Shown::Kept) if notice.is_edit() => {
                state.store.revision(loaded.record.id, undo.to).await?
            }
            _ => None,
        };
        let told = (&texts[..], &sent[..], before.as_ref());
        let mut page = Self::build(layout, (loaded, &course), shown, told, &state.share.now(), state.clock);
        page.blocks_of_race = state.store.entrants_page(loaded.record.race.id, 0, 0).await?.have;
        if let Some(before) = edited {
            edited::mark(&mut page.weeks, &before.block, loaded, loaded.coach_reader().units);
        }
        Ok(page)
    }

    fn build(
        layout: Layout,
        (loaded, course): (&Loaded, &Course),
        shown: Shown,
        (texts, sent, before): (&[MessageText], &[SentMessage], Option<&Block>),
        door: &ShareDoor,
        clock: Clock,
    ) -> Self {
        let record = &loaded.record;
        let preview = matches!(shown, Shown::Preview { .. });
        let (typed, problems, changed) = match shown {
            Shown::Kept => (Typed::of(&record.settings, record.version), Problems::default(), None),
            Shown::Preview { typed, block } => (typed, Problems::default(), Some(block)),
            Shown::Refused { typed, problems } => (typed, problems, None),
        };
        let block = changed.as_deref().unwrap_or(&record.block);
        let reader = loaded.coach_reader();
        let mut weeks = view::weeks(block, reader);
        if preview {
            view::make_read_only(&mut weeks);
        }
        let head = Head::of(record, loaded.today, clock);
        let again = again(loaded);
        let log_waits = again.as_ref().is_some_and(|again| again.is_of_log);
        let spared = Spared::by(loaded.events(), log_waits, loaded.today);
        let hand_over = HandOver::of((loaded, course), door, clock);
        let messages = Messages {
            record,
            before,
            coach: &loaded.coach.coach_name,
            door,
            today: loaded.today,
            spared: &spared,
            withheld: hand_over.withheld.as_ref(),
        };
        let (mine, theirs) = (reader.units, record.athlete.draft.athlete.units);
        let title = format!("Usual and planned running of {}, day by day, down to the race", head.name);
        Self {
            layout: layout.at(Area::Athletes),
            id: record.id,
            athlete: record.athlete.id,
            race: record.race.id,
            blocks_of_race: 1,
            goals: lines::written_goals(&record.goals),
            stale: if preview { Vec::new() } else { stale(loaded) },
            again: again.filter(|_| !preview && record.race.called_off.is_none()),
            off: record.race.called_off.map(|since| Off {
                has_days_back: back_until(&record.block, since).is_some_and(|last| last >= loaded.today),
                is_spared: !spared.unwell.is_empty(),
                is_settled: loaded.is_settled,
            }),
            picture: view::picture(block, &weeks, reader, title),
            weeks,
            facts: lines::block_facts(block, reader.units),
            findings: FindingView::all(loaded, block, reader.units),
            settings_sentence: lines::settings_sentence(block),
            typed,
            hints: settings::hints(loaded.usual_curve()),
            problems,
            preview,
            undo: record.undo.as_ref().filter(|_| !preview).map(|step| step.reason.clone()),
            redo: record.redo.as_ref().filter(|_| !preview).map(|step| step.reason.clone()),
            version: record.version.to_string(),
            two_units: (mine != theirs).then(|| (words::distance_unit(mine), words::distance_unit(theirs))),
            messages_hint: messages.hint(),
            told_off: messages.called_off(),
            messages: messages.all(texts, sent, clock),
            hand_over,
            head,
        }
    }
}

impl ShowPage {
    /// The message that goes with the block once it is handed over, until it was sent: it stands where the block is given.
    fn to_give(&self) -> Option<&MessageView> {
        let is_done = self.hand_over.is_done() && !self.preview && self.problems.is_empty();
        self.messages.iter().find(|one| is_done && one.is_next && one.moment == Moment::HandOver)
    }
}

impl Head {
    pub(crate) fn of(record: &BlockRecord, today: chrono::NaiveDate, clock: Clock) -> Self {
        let race = &record.race.race;
        Self {
            name: record.athlete.draft.athlete.name.clone(),
            race: lines::race_name(race),
            date: words::full_date(race.date),
            distance: lines::distance_beside_name(race),
            start: lines::start(race),
            place: record.race.place.clone(),
            to_go: match record.race.called_off {
                Some(_) => "The race is called off".to_owned(),
                None => shown::capital(&lines::days_to_go(race.date, today)),
            },
            revision: record.revision,
            made: lines::day_month(clock.day_of(record.made)),
            is_raced: race.date <= today && record.race.called_off.is_none(),
            is_past: race.date < today,
            is_off: record.race.called_off.is_some(),
        }
    }
}

impl FindingView {
    pub(crate) fn of(finding: &Finding, units: DistanceUnit) -> Self {
        Self {
            level: shown::capital(words::level(finding.level)),
            code: finding.level.code(),
            sentence: words::finding(finding, units),
            source: format!("{}: {}", shown::capital(words::heading(finding)), words::source(finding)),
            replan: None,
        }
    }

    /// What the review of a block says, after that the block was made for another day, where it was.
    fn all(loaded: &Loaded, block: &Block, units: DistanceUnit) -> Vec<Self> {
        let moved = Self::of_move(loaded, block);
        // Where the block is planned again, the day can be let go with whatever else the event changes.
        let can_let_go = |found: &Finding| {
            let is_ahead = found.rule == RuleId::FixedAgainstEvent && found.date >= Some(loaded.today);
            is_ahead && *block == loaded.record.block && loaded.record.race.called_off.is_none()
        };
        let of =
            |found: &Finding| Self { replan: can_let_go(found).then_some(loaded.record.id), ..Self::of(found, units) };
        moved.into_iter().chain(loaded.review(block).iter().map(of)).collect()
    }

    /// That what is noted in the log waits for the coach's word.
    pub(crate) fn of_log(loaded: &Loaded) -> Option<Self> {
        again(loaded).filter(|again| again.is_of_log).map(|_| Self {
            level: shown::capital(words::level(Level::Caution)),
            code: Level::Caution.code(),
            sentence: "What is noted in the log is not in this block yet.".to_owned(),
            source: String::new(),
            replan: Some(loaded.record.id),
        })
    }

    /// That a block was made for another day than the race has: whatever the rules say of it, it leads past the race.
    pub(crate) fn of_move(loaded: &Loaded, block: &Block) -> Option<Self> {
        let record = &loaded.record;
        Some(Self {
            level: shown::capital(words::level(Level::Stop)),
            code: Level::Stop.code(),
            sentence: format!("{}.", moved(block, &record.race)?),
            source: String::new(),
            replan: (record.race.race.date >= loaded.today).then_some(record.id),
        })
    }
}

/// The two days, where a block was made for another one than its race has by now; of a race that is called off
/// there is worse to say.
pub(crate) fn moved(block: &Block, race: &RaceRecord) -> Option<String> {
    let (to, from) = (race.race.date, block.race_day);
    let is_moved = race.called_off.is_none() && to != from;
    is_moved.then(|| {
        format!("The race was moved to {}: this block was made for {}", words::long_date(to), words::long_date(from))
    })
}

/// What happened since the block was made.
struct Again {
    /// What happened, and what becomes of it.
    sentence: String,
    /// Whether planning again from today answers it.
    can_plan: bool,
    /// Whether it is what is noted in the log, and nothing else, that waits for the coach's word.
    is_of_log: bool,
}

impl Again {
    /// What planning again from today answers.
    fn answered(sentence: String) -> Self {
        Self { sentence, can_plan: true, is_of_log: false }
    }

    /// What nothing planned again would answer.
    fn unanswered(sentence: String) -> Self {
        Self { can_plan: false, ..Self::answered(sentence) }
    }

    /// What is noted in the log and waits.
    fn noted(sentence: String) -> Self {
        Self { is_of_log: true, ..Self::answered(sentence) }
    }
}

/// What happened since the block was made, and whether planning again from today would answer it.
fn again(loaded: &Loaded) -> Option<Again> {
    let (record, race) = (&loaded.record, &loaded.record.race);
    if race.called_off.is_some() {
        return Some(Again::answered("The race is called off.".to_owned()));
    }
    let change = RaceChange::between(&record.block.race, &race.race).map(|change| match change {
        RaceChange::Later(_) | RaceChange::Earlier(_) => "The race was moved since this block was made",
        RaceChange::Distance => "The race has another distance since this block was made",
    });
    match (change, super::replan::waiting_days(loaded)) {
        // Towards a race that is past nothing is planned.
        (Some(what), _) if race.race.date < loaded.today => Some(Again::unanswered(format!(
            "{what}, and its day is past: {}. The block stays as it was, for the record.",
            words::full_date(race.race.date)
        ))),
        (Some(what), Ok(days)) => Some(Again::answered(format!("{what}: {}", would_change(days)))),
        (Some(what), Err(found)) => {
            Some(Again::unanswered(format!("{what}, and it cannot be planned again: {}.", problems_in_words(&found))))
        }
        (None, Ok(days)) if days > 0 => {
            Some(Again::noted(format!("What is noted in the log touches this block: {}", would_change(days))))
        }
        (None, _) => None,
    }
}

fn would_change(days: usize) -> String {
    if days == 0 { "no day would change.".to_owned() } else { format!("{} would change.", words::plural(days, "day")) }
}

fn problems_in_words(found: &[Problem]) -> String {
    found.iter().map(words::problem).collect::<Vec<_>>().join("; ")
}

/// Whether the block was made from something that is another by now, or what happened since would change it.
pub(crate) fn is_stale(loaded: &Loaded) -> bool {
    !stale(loaded).is_empty() || again(loaded).is_some()
}

/// That a block is not for its race as it is, or not from what is known by now, in a sentence.
pub(crate) fn what_is_stale(loaded: &Loaded) -> Option<String> {
    let of_move = moved(&loaded.record.block, &loaded.record.race).map(|what| format!("{what}."));
    of_move
        .or_else(|| again(loaded).map(|again| again.sentence))
        .or_else(|| stale(loaded).first().map(|what| (*what).to_owned()))
}

/// What lies under a block and is not as it was when the block was made.
fn stale(loaded: &Loaded) -> Vec<&'static str> {
    let record = &loaded.record;
    let mut found = Vec::new();
    if record.race.race.date < loaded.today {
        // Nothing is made anew towards a race that is past.
        return found;
    }
    // What is past is not planned any more.
    let is_missing = |race: &planning::Race| {
        race.importance != planning::Importance::Goal
            && race.date >= loaded.today
            && loaded.plan_under().lacks_race_on(race.date)
    };
    if loaded.other_races.iter().any(is_missing) {
        found.push("Another race on the way is not in this block yet.");
    }
    let now = curve_of(&loaded.request(&record.week.week, &record.settings, &[])).1;
    let [was, is] = [&record.block.adjustments, &now].map(|why| why.contains(&Adjustment::RaceBefore));
    if is && !was {
        found.push("The goal race before this one is not taken into account yet, so the block begins too soon.");
    } else if was && !is {
        found.push("The goal race before is no longer in the way, so the block may be longer.");
    }
    let differs = |why: Adjustment| now.contains(&why) != record.block.adjustments.contains(&why);
    if differs(Adjustment::Youth) {
        found.push(if now.contains(&Adjustment::Youth) {
            "The athlete is noted as under 18 by now, and blocks of youth are shorter and shallower."
        } else {
            "The athlete is no longer noted as under 18, and this block is one of youth."
        });
    }
    if [Adjustment::SuitsLength, Adjustment::SuitsDayBefore, Adjustment::SuitsExtraRest].into_iter().any(differs) {
        found.push("What is noted as suiting this athlete changed since this block was made.");
    }
    if loaded.week.version != record.week.version {
        found.push("The base week was saved again since this block was made.");
    }
    found
}

/// The settings in the form and the block that they give; every problem at its control.
pub(crate) fn plan_typed(loaded: &Loaded, typed: &Typed) -> Result<(Settings, Laid), Problems> {
    let read = typed.to_settings()?;
    loaded.plan(&read).map(|laid| (read, laid)).map_err(|found| {
        let mut problems = Problems::default();
        settings::add_problems(&found, &mut problems);
        problems
    })
}

/// `GET /blocks/{block}`: the kept block, or with `preview` the one that the settings in the query
/// would give. Nothing is saved. With `Accept: application/json` the plan answer instead of the page.
pub(crate) async fn get(
    State(state): State<AppState>,
    Id(id): Id<BlockId>,
    Query(typed): Query<Typed>,
    headers: HeaderMap,
    layout: Layout,
) -> Result<Response, AppError> {
    let loaded = Loaded::read(&state, id).await?;
    if !typed.is_preview() {
        if wants_json(&headers) {
            return answer(&loaded, &loaded.record.block);
        }
        return render::page(StatusCode::OK, &ShowPage::load(&state, layout, &loaded, Shown::Kept).await?);
    }
    match plan_typed(&loaded, &typed) {
        Ok((_, laid)) if wants_json(&headers) => answer(&loaded, &laid.block),
        Ok((_, laid)) => {
            let shown = Shown::Preview { typed, block: Box::new(laid.block) };
            render::page(StatusCode::OK, &ShowPage::load(&state, layout, &loaded, shown).await?)
        }
        Err(problems) => {
            let page = ShowPage::load(&state, layout, &loaded, Shown::Refused { typed, problems }).await?;
            render::page(StatusCode::UNPROCESSABLE_ENTITY, &page)
        }
    }
}

fn answer(loaded: &Loaded, block: &Block) -> Result<Response, AppError> {
    let athlete = &loaded.record.athlete.draft.athlete;
    let text = PlanAnswer::new(block, athlete, &loaded.review(block))
        .to_json()
        .map_err(|error| AppError::Internal(error.to_string()))?;
    Ok(([(CONTENT_TYPE, "application/json"), (VARY, "accept")], text).into_response())
}

impl Page for ShowPage {
    #[cfg(test)]
    fn samples() -> Vec<Self> {
        use super::sample;
        use planning::{Figure, Moment, RuleId};
        let clock = Clock::fixed("2027-05-04T08:00:00Z".parse().expect("an instant"));
        let open = ShareDoor::sample();
        let load = |record: BlockRecord| Loaded::sample(record, clock);
        let own = MessageText {
            moment: Moment::WeekOut,
            version: store::Version(1),
            text: Some("Hello {name} <b>.".to_owned()),
            aside: None,
        };
        let texts = [own];
        let sent = [SentMessage { moment: Moment::BlockStart, at: clock.now() }];
        let page = |record, shown, door: &ShareDoor| {
            let loaded = load(record);
            let course = Course::flat(&loaded.record.race);
            Self::build(Layout::plain(), (&loaded, &course), shown, (&texts, &sent, None), door, clock)
        };
        let (ten_k, marathon, timed) = (sample::ten_k(), sample::marathon(), sample::timed_half());
        let typed = Typed { days: "8".to_owned(), preview: "1".to_owned(), ..Typed::default() };
        let shorter = typed.to_settings().unwrap_or_default();
        let block = Box::new(sample::Sample { settings: shorter, ..sample::ten_k() }.block());
        let wrong = Typed { days: "<b>ten</b>".to_owned(), ..Typed::default() };
        let problems = wrong.to_settings().err().unwrap_or_default();
        let mut stale = load(sample::handed_over(&ten_k));
        stale.week.version = store::Version(9);
        stale.record.race.race.date = stale.record.race.race.date + chrono::Days::new(7);
        let mut judged = page(sample::record(&ten_k), Shown::Kept, &open);
        judged.findings = [Level::Stop, Level::Caution, Level::Note]
            .map(|level| Finding {
                rule: RuleId::LongRunLate,
                level,
                figure: Figure::Days(6),
                limit: Figure::Days(7),
                date: None,
                about: planning::About::Nothing,
            })
            .iter()
            .map(|found| FindingView::of(found, DistanceUnit::Km))
            .collect();
        vec![
            page(sample::record(&ten_k), Shown::Kept, &ShareDoor::Off),
            page(sample::handed_over(&marathon), Shown::Kept, &open),
            page(sample::handed_over(&timed), Shown::Kept, &ShareDoor::Off),
            page(sample::record(&ten_k), Shown::Preview { typed, block }, &open),
            page(sample::record(&ten_k), Shown::Refused { typed: wrong, problems }, &open),
            Self::build(
                Layout::plain(),
                (&stale, &Course::flat(&stale.record.race)),
                Shown::Kept,
                (&[], &[], None),
                &open,
                clock,
            ),
            Self { blocks_of_race: 9, ..judged },
            page(sample::called_off(&ten_k), Shown::Kept, &open),
        ]
    }
}
