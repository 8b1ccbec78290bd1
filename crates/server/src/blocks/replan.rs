//! Planning a block again after what happened: old and new side by side, kept only when the coach says so.

use askama::Template;
use axum::extract::{Query, State};
use axum::http::StatusCode;
use axum::response::Response;
use axum_extra::extract::Form;
use chrono::{Days, NaiveDate};
use formats::words;
use planning::bend::let_go;
use planning::replan::quiet_day_under;
use planning::replan::race::called_off;
use planning::review::{Subject, fixed_against_events};
use planning::{
    Amount, Block, Day, DistanceUnit, EventKind, Excess, Finding, Followed, Happened, LifeEvent, Pace, Problem,
    RaceChange, Reason, Role, Session, Settings, Share, Totals, race_changed, replan,
};
use serde::Deserialize;
use store::{BlockId, StoreError};

use super::difference::sessions_in_words;
use super::fixed_days::{AfterMove, OnMove, let_go_words};
use super::lines;
use super::load::Loaded;
use crate::error::AppError;
use crate::extract::Id;
use crate::form::read_version;
use crate::notice::{self, Notice};
use crate::paths;
use crate::render::{self, Area, Layout, Page};
use crate::shown;
use crate::state::AppState;

/// A block as it stands and as it would become.
#[derive(Template)]
#[template(path = "blocks/replan.html")]
pub(crate) struct ReplanPage {
    layout: Layout,
    id: BlockId,
    name: String,
    race: String,
    /// What happened, a sentence each.
    happened: Vec<String>,
    problems: Vec<String>,
    /// Only the days that differ.
    days: Vec<Sides>,
    weeks: Vec<WeekSides>,
    findings: Vec<(String, String)>,
    /// What the button says that lets go of the fixed days which something noted stands against, where there are any.
    let_go: Option<String>,
    /// The fixed days, where the race was moved.
    after_move: Option<AfterMove>,
    /// More was run than planned: the share, and whether some of it comes off again.
    over: Option<(String, bool)>,
    because: Because,
    /// Whether the race is called off.
    is_off: bool,
    /// Days back to the usual week, where the race was called off.
    back: Vec<(String, String)>,
    version: String,
    is_handed_over: bool,
    /// Whether the page was read at an older version than is kept now.
    stale: bool,
}

/// What the days change for.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Because {
    /// What is noted, which only ever takes away.
    Noted,
    /// Something that the block knows of was taken back, so that running comes back that it had taken away.
    TakenBack,
    /// What is noted is otherwise than it was, such as an end that came earlier: running comes back, too.
    Changed,
    /// The race is another than the block was made for: then a week may well become more than it was.
    Race,
}

/// One day as it stands and as it would become.
struct Sides {
    date: String,
    was: String,
    now: String,
    why: Vec<String>,
}

impl Sides {
    /// A day that stands before the new block. Nothing tells the athlete of it any more, not even that it was eased for
    /// what happened.
    fn fallen_out(day: &Day, units: DistanceUnit) -> Self {
        let planned = day.sessions.iter().flat_map(|planned| &planned.why);
        let mut why = planned.chain(day.dropped.iter().flat_map(|dropped| &dropped.why));
        let is_eased = why.any(|reason| matches!(reason, Reason::Life(_)));
        let told = "What is noted eased this day, and the new block, which begins after it, does not say so: tell the \
                    athlete.";
        Self {
            date: words::short_date(day.date),
            was: sessions_in_words(day, units),
            now: "as usual, before the block".to_owned(),
            why: is_eased.then(|| told.to_owned()).into_iter().collect(),
        }
    }
}

/// The totals of a week as they stand and as they would become, each as the block of that side says it.
struct WeekSides {
    name: String,
    was: String,
    now: String,
}

impl WeekSides {
    fn differ(&self) -> bool {
        self.was != self.now
    }
}

/// What the coach chose on the page.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(default)]
pub(crate) struct Typed {
    version: String,
    /// `yes`: some of what was run beyond the plan comes off again.
    take_off: String,
    /// `yes`: fixed days that something noted stands against change with the others.
    let_go: String,
    /// What becomes of the fixed days of a race that was moved, see [`OnMove`].
    fixed: String,
}

/// The block as it would become.
pub(crate) struct Proposal {
    pub(crate) settings: Settings,
    /// The plan without what happened.
    plan: Block,
    pub(crate) block: Block,
    change: Option<RaceChange>,
    /// What the block as it stands knew of and was taken back since, where the new plan is another without it.
    taken_back: Vec<LifeEvent>,
}

/// The block that follows from everything that is known, by the planner's rules. What the coach fixed stays.
pub(crate) fn propose(loaded: &Loaded, take_off: Option<Excess>) -> Result<Proposal, Vec<Problem>> {
    propose_with(loaded, take_off, OnMove::Stay, &[])
}

/// The same without the fixed days that something noted stands against: they belong to the planner again, also once
/// that is taken back.
fn propose_letting_go(loaded: &Loaded, take_off: Option<Excess>, on_move: OnMove) -> Result<Proposal, Vec<Problem>> {
    let kept = propose_with(loaded, take_off, on_move, &[])?;
    let days: Vec<NaiveDate> = loaded.fixed_against(&kept.block).iter().filter_map(|finding| finding.date).collect();
    propose_with(loaded, take_off, on_move, &days)
}

fn propose_with(
    loaded: &Loaded,
    take_off: Option<Excess>,
    on_move: OnMove,
    free: &[NaiveDate],
) -> Result<Proposal, Vec<Problem>> {
    let mut plan = loaded.plan_under().clone();
    let record = &loaded.record;
    let athlete = &record.athlete.draft.athlete;
    let mut settings = record.settings;
    let change = RaceChange::between(&plan.race, &record.race.race).filter(|_| record.race.called_off.is_none());
    if change.is_some() {
        let (under, mut kept) = on_move.of(plan, &record.race.race, loaded.today);
        plan = let_go(&under, free);
        kept.retain(|pin| !free.contains(&pin.date));
        let changed = race_changed(&plan, &loaded.request(&record.week.week, &settings, &kept))?;
        (plan, settings) = (changed.block, changed.settings);
    } else {
        plan = let_go(&plan, free);
    }
    let lay = |plan: &Block, events: &[LifeEvent], excess| {
        replan(plan, athlete, &record.week.week, &Happened { events, excess })
    };
    // What comes off again is part of the plan from here on: taking an event back does not bring it back.
    if take_off.is_some() {
        plan = lay(&plan, &[], take_off)?;
    }
    let events = loaded.events();
    let block = lay(&plan, &events, None)?;
    let gone = loaded.taken_back.iter().map(|record| record.event.as_of(loaded.today));
    let matters = |event: &LifeEvent| {
        let with = [events.as_slice(), &[*event]].concat();
        lay(&plan, &with, None).is_ok_and(|with| differing(&with, &block, loaded.coach.units).next().is_some())
    };
    let taken_back = gone.filter(matters).collect();
    Ok(Proposal { settings, plan, block, change, taken_back })
}

/// How many days of a block would change if it were planned again now, or why it cannot be.
pub(crate) fn waiting_days(loaded: &Loaded) -> Result<usize, Vec<Problem>> {
    propose(loaded, None).map(|proposal| differing(&loaded.record.block, &proposal.block, loaded.coach.units).count())
}

/// The days of which two blocks say something else, by their dates: of a day that only one holds, its own.
fn differing<'a>(
    old: &'a Block,
    new: &'a Block,
    units: DistanceUnit,
) -> impl Iterator<Item = (Option<&'a Day>, &'a Day)> {
    let differs = move |day: &&'a Day| old.day(day.date).is_none_or(|was| !says_the_same(was, day, units));
    new.days.iter().filter(differs).map(|day| (old.day(day.date), day))
}

/// The coming days of a block that another, which begins later, does not hold any more, as far as they are not as usual.
fn fallen_out<'a>(old: &'a Block, new: &'a Block, today: NaiveDate) -> impl Iterator<Item = &'a Day> {
    let begins = new.days.first().map_or(new.race_day, |day| day.date);
    old.days.iter().filter(move |day| (today..begins).contains(&day.date) && day.to_race > 0 && !day.is_as_usual())
}

/// Whether two days are told in the same words; mostly they are the same, and need none.
fn says_the_same(was: &Day, is: &Day, units: DistanceUnit) -> bool {
    fn run(day: &Day) -> impl Iterator<Item = (&Session, Role)> {
        day.sessions.iter().map(|planned| (&planned.session, planned.role))
    }
    let is_same = (was.to_race == 0) == (is.to_race == 0) && run(was).eq(run(is));
    is_same || sessions_in_words(was, units) == sessions_in_words(is, units)
}

impl Proposal {
    /// What the days of a block change for. What was taken back is known; where a week becomes more than it stands and
    /// nothing was, something noted was changed.
    fn because(&self, old: &Block) -> Because {
        let pace = self.block.pace.unwrap_or(Pace::ASSUMED);
        let km = |days: &[Day]| days.iter().map(|day| day.planned_running().middle_km(pace)).sum::<f64>();
        let mut weeks = old.days.chunks(7).zip(self.block.days.chunks(7));
        if self.change.is_some() {
            Because::Race
        } else if !self.taken_back.is_empty() {
            Because::TakenBack
        } else if weeks.any(|(old, new)| km(new) > km(old) + 1e-9) {
            Because::Changed
        } else {
            Because::Noted
        }
    }
}

impl ReplanPage {
    fn new(layout: Layout, loaded: &Loaded, typed: &Typed, stale: bool) -> Self {
        let record = &loaded.record;
        let over = loaded.over();
        let take_off = over.filter(|_| typed.take_off == "yes").map(|(_, excess)| excess);
        let units = loaded.coach.units;
        let on_move = OnMove::read(&typed.fixed);
        let (proposal, problems) = match propose_with(loaded, take_off, on_move, &[]) {
            Ok(proposal) => (Some(proposal), Vec::new()),
            Err(found) => (None, found.iter().map(crate::words::problem).collect()),
        };
        let change = proposal.as_ref().and_then(|proposal| proposal.change);
        let side = |pair: (Option<&Day>, &Day)| sides(pair, units, loaded.today);
        let days = proposal.as_ref().map_or_else(Vec::new, |new| {
            let fallen = fallen_out(&record.block, &new.block, loaded.today).map(|day| Sides::fallen_out(day, units));
            fallen.chain(differing(&record.block, &new.block, units).map(side)).collect()
        });
        let findings = proposal.as_ref().map_or_else(Vec::new, |new| {
            let found = loaded.review(&new.block);
            let said =
                |found: &planning::Finding| (shown::capital(words::level(found.level)), words::finding(found, units));
            found.iter().map(said).collect()
        });
        // Nothing is planned towards a race that is called off.
        let towards = proposal.as_ref().filter(|_| record.race.called_off.is_none());
        let fixed = towards.map_or_else(Vec::new, |new| loaded.fixed_against(&new.block));
        let back = record.race.called_off.map_or_else(Vec::new, |since| {
            let athlete = &record.athlete.draft.athlete;
            let events = loaded.events();
            let under = |day| events.iter().fold(day, quiet_day_under);
            let days = called_off(&record.block, athlete, &record.week.week, since).into_iter().map(under);
            days.map(|day| (words::short_date(day.date), lines::all_planned(&day.sessions, units))).collect()
        });
        Self {
            layout: layout.at(Area::Athletes),
            id: record.id,
            name: record.athlete.draft.athlete.name.clone(),
            race: lines::race_name(&record.race.race),
            happened: happened(loaded, change, proposal.as_ref().map_or(&[], |new| &new.taken_back)),
            problems,
            weeks: proposal.as_ref().map_or_else(Vec::new, |new| week_sides(&record.block, &new.block, units)),
            findings,
            let_go: (!fixed.is_empty()).then(|| let_go_words(&fixed, &loaded.events(), !days.is_empty())),
            after_move: AfterMove::of(loaded, on_move),
            over: over.map(|(share, _)| (words::per_cent(Share(share.0 - 1.0)), typed.take_off == "yes")),
            because: proposal.as_ref().map_or(Because::Noted, |new| new.because(&record.block)),
            is_off: record.race.called_off.is_some(),
            days,
            back,
            version: record.version.to_string(),
            is_handed_over: record.link_on(loaded.today).is_some(),
            stale,
        }
    }

    /// Whether planning again changes anything.
    fn changes(&self) -> bool {
        !self.days.is_empty()
    }
}

/// What happened, in sentences.
fn happened(loaded: &Loaded, change: Option<RaceChange>, taken_back: &[LifeEvent]) -> Vec<String> {
    let days = |count: u16| words::plural(usize::from(count), "day");
    let mut said = Vec::new();
    if let Some(since) = loaded.record.race.called_off {
        said.push(format!("The race is called off, known since {}.", words::long_date(since)));
    }
    match change {
        Some(RaceChange::Later(count)) => said.push(format!("The race is {} later.", days(count))),
        Some(RaceChange::Earlier(count)) => said.push(format!("The race is {} earlier.", days(count))),
        Some(RaceChange::Distance) => said.push("The race has another distance.".to_owned()),
        None => {}
    }
    said.extend(loaded.events().iter().map(|event| {
        let on = on_which_days(event);
        if event.open {
            format!("{on}, no end noted: planned as if today were its last day.")
        } else if event.kind == EventKind::Travel && event.days() > 2 {
            format!(
                "{on}. Only its first and its last day count as days on the way: on those between them the plan stands."
            )
        } else {
            format!("{on}.")
        }
    }));
    said.extend(taken_back.iter().map(|event| format!("Taken back: {}.", on_which_days(event))));
    said
}

/// `Illness, 26 to 27 April`, `Injury on Monday 26 April`.
pub(crate) fn on_which_days(event: &LifeEvent) -> String {
    let what = shown::capital(words::event_kind(event.kind));
    if event.open {
        format!("{what} since {}", words::long_date(event.from))
    } else if event.from == event.to {
        format!("{what} on {}", words::long_date(event.from))
    } else {
        format!("{what}, {}", words::date_range(event.from, event.to))
    }
}

fn sides((was, now): (Option<&Day>, &Day), units: DistanceUnit, today: NaiveDate) -> Sides {
    let planned = now.sessions.iter().flat_map(|planned| words::reasons(planned, units));
    let dropped = now.dropped.iter().flat_map(|dropped| words::dropped(dropped, units));
    let past = if now.date < today { " (past)" } else { "" };
    Sides {
        date: format!("{}{past}", words::short_date(now.date)),
        was: was.map_or_else(|| "not in the block".to_owned(), |day| sessions_in_words(day, units)),
        now: sessions_in_words(now, units),
        why: planned.chain(dropped).collect(),
    }
}

fn week_sides(old: &Block, new: &Block, units: DistanceUnit) -> Vec<WeekSides> {
    let totals = |totals: &Totals| {
        if totals.is_empty() { "no running".to_owned() } else { words::totals(totals, units) }
    };
    let weeks = old.weeks();
    let side = |week: &planning::WeekSummary, other: Option<&planning::WeekSummary>| {
        let said = totals(&week.planned);
        // A week of a race that was moved lies on other days.
        let is_elsewhere = other.is_some_and(|other| (other.from, other.to) != (week.from, week.to));
        if is_elsewhere { format!("{said} ({})", words::date_range(week.from, week.to)) } else { said }
    };
    let both = |now: &planning::WeekSummary| {
        let was = weeks.iter().find(|was| was.before == now.before);
        WeekSides {
            name: shown::capital(&words::week_name(now.before)),
            was: was.map_or_else(|| "not in the block".to_owned(), |was| side(was, Some(now))),
            now: side(now, was),
        }
    };
    new.weeks().iter().map(both).collect()
}

impl Loaded {
    /// The fixed days to come of a block that something noted stands against, as the review says it.
    fn fixed_against(&self, block: &Block) -> Vec<Finding> {
        let events = self.events();
        let record = &self.record;
        let athlete = &record.athlete.draft.athlete;
        let subject = Subject { events: &events, ..Subject::new(block, athlete, &record.week.week) };
        fixed_against_events(&subject).into_iter().filter(|finding| finding.date >= Some(self.today)).collect()
    }

    /// What happened to the athlete that may touch the block.
    pub(crate) fn events(&self) -> Vec<LifeEvent> {
        self.events.iter().map(|record| record.event.as_of(self.today)).collect()
    }

    /// How the plan was followed lately, where that is known: by single runs of the last seven days, else by
    /// the line of the last week that has one.
    fn followed(&self) -> Option<Followed> {
        let done: Vec<_> = self.sessions.iter().map(|record| record.done).collect();
        planning::followed(&self.record.block, &done, self.today).or_else(|| self.last_week())
    }

    /// How much of the plan was run lately.
    pub(crate) fn ran(&self) -> Option<Share> {
        self.followed().map(|followed| followed.share)
    }

    /// What was run beyond the plan, where that is worth a word.
    pub(crate) fn over(&self) -> Option<(Share, Excess)> {
        let followed = self.followed()?;
        let excess = followed.excess(self.today, self.record.athlete.draft.athlete.easy_pace)?;
        Some((followed.share, excess))
    }

    /// What the newest line of a week says, if that week ended lately.
    fn last_week(&self) -> Option<Followed> {
        let ended = |first: NaiveDate| {
            let last = first + Days::new(6);
            last < self.today && last + Days::new(7) >= self.today
        };
        let week = self.done_weeks.iter().rev().find(|week| ended(week.first_day) && week.ran.is_some())?;
        let days: Vec<_> = week.first_day.iter_days().take(7).filter_map(|date| self.record.block.day(date)).collect();
        if days.len() < 7 {
            return None;
        }
        let runs = days.iter().flat_map(|day| &day.sessions).filter_map(|planned| planned.session.running());
        let planned: Totals = runs.collect();
        let pace = self.record.athlete.draft.athlete.easy_pace;
        let share = week.ran.as_ref()?.share_of(&planned, pace)?;
        let part = |part: &Amount| Amount::exact(part.middle().times(share), part.unit());
        Some(Followed { ran: planned.parts().iter().map(part).collect(), planned, share })
    }
}

/// `GET /blocks/{block}/replan`
pub(crate) async fn get(
    State(state): State<AppState>,
    Id(id): Id<BlockId>,
    layout: Layout,
    Query(typed): Query<Typed>,
) -> Result<Response, AppError> {
    let loaded = Loaded::read(&state, id).await?;
    render::page(StatusCode::OK, &ReplanPage::new(layout, &loaded, &typed, false))
}

/// `POST /blocks/{block}/replan`: keeps the new plan as a revision. The athlete goes on seeing what was
/// handed over.
pub(crate) async fn post(
    State(state): State<AppState>,
    Id(id): Id<BlockId>,
    layout: Layout,
    Form(typed): Form<Typed>,
) -> Result<Response, AppError> {
    let loaded = Loaded::read(&state, id).await?;
    let take_off = loaded.over().filter(|_| typed.take_off == "yes").map(|(_, excess)| excess);
    let (lets_go, on_move) = (typed.let_go == "yes", OnMove::read(&typed.fixed));
    let proposed = if lets_go {
        propose_letting_go(&loaded, take_off, on_move)
    } else {
        propose_with(&loaded, take_off, on_move, &[])
    };
    let Ok(proposal) = proposed else {
        return render::page(StatusCode::UNPROCESSABLE_ENTITY, &ReplanPage::new(layout, &loaded, &typed, false));
    };
    let (now, mut reason) = (state.clock.now(), reason(&loaded, &proposal, take_off.is_some()));
    if lets_go {
        reason.push_str(OnMove::Free.in_reason());
    }
    if proposal.change.is_some() && !(lets_go && on_move == OnMove::Free) {
        reason.push_str(on_move.in_reason());
    }
    let (week, read_at) = (&loaded.record.week, read_version(&typed.version));
    let Proposal { settings, plan, block, .. } = &proposal;
    match state.store.replan_block(id, read_at, settings, week, block, plan, &reason, now).await {
        Ok(_) => Ok(notice::redirect(&paths::block(id), Notice::Replanned)),
        // Nothing was typed here: the page shows what is kept now, and what would become of that.
        Err(StoreError::Conflict) => {
            let page = ReplanPage::new(layout, &loaded, &typed, true);
            render::page(StatusCode::CONFLICT, &page)
        }
        Err(error) => Err(error.into()),
    }
}

/// Why the revision was made, in a few words.
fn reason(loaded: &Loaded, proposal: &Proposal, take_off: bool) -> String {
    let mut why: Vec<String> = Vec::new();
    match proposal.change {
        Some(RaceChange::Later(_) | RaceChange::Earlier(_)) => why.push("race moved".to_owned()),
        Some(RaceChange::Distance) => why.push("race of another distance".to_owned()),
        None => {}
    }
    if take_off {
        why.push("ran more than planned".to_owned());
    }
    // What is noted still is not why the days change now.
    match proposal.because(&loaded.record.block) {
        Because::TakenBack => {
            let what: Vec<String> =
                proposal.taken_back.iter().map(|event| words::event_kind(event.kind).to_owned()).collect();
            return format!("planned again: {} taken back", words::list(&what));
        }
        Because::Changed => return "planned again: something noted was changed".to_owned(),
        Because::Noted | Because::Race => {}
    }
    for event in loaded.events().iter().filter(|event| event.to >= proposal.block.first_day()) {
        let what = words::event_kind(event.kind).to_owned();
        if !why.contains(&what) {
            why.push(what);
        }
    }
    if why.is_empty() { "planned again".to_owned() } else { format!("planned again: {}", why.join(", ")) }
}

impl Page for ReplanPage {
    #[cfg(test)]
    fn samples() -> Vec<Self> {
        let page = || Self {
            layout: Layout::plain().at(Area::Athletes),
            id: BlockId(4),
            name: "Ana <b>".to_owned(),
            race: "Harbour \"10\"".to_owned(),
            happened: vec![],
            problems: vec![],
            days: vec![],
            weeks: vec![],
            findings: vec![],
            let_go: None,
            after_move: None,
            over: None,
            because: Because::Noted,
            is_off: false,
            back: vec![],
            version: "3".to_owned(),
            is_handed_over: false,
            stale: false,
        };
        let changed = Self {
            happened: vec!["Illness with fever, 26 to 27 April.".to_owned()],
            days: vec![Sides {
                date: "Tue 27 Apr".to_owned(),
                was: "tempo 9 km (<b>)".to_owned(),
                now: "rest".to_owned(),
                why: vec!["No running with fever.".to_owned()],
            }],
            weeks: vec![WeekSides { name: "Race week".to_owned(), was: "20 km".to_owned(), now: "14 km".to_owned() }],
            findings: vec![("Stop".to_owned(), "Fever until 5 days before the race.".to_owned())],
            let_go: Some("Take it, and let the fixed day of the illness rest too: Tuesday 27 April".to_owned()),
            over: Some(("38%".to_owned(), false)),
            is_handed_over: true,
            because: Because::TakenBack,
            stale: true,
            ..page()
        };
        let off = Self {
            happened: vec!["The race is called off.".to_owned()],
            because: Because::Race,
            is_off: true,
            back: vec![("Thu 6 May".to_owned(), "easy 5 km".to_owned())],
            problems: vec!["Date of the race: it is past.".to_owned()],
            ..page()
        };
        let fixed = Self {
            let_go: Some("Let the fixed day of the illness rest too: Tuesday 27 April".to_owned()),
            findings: vec![("Caution".to_owned(), "Tuesday 27 April was fixed.".to_owned())],
            ..page()
        };
        let moved = Self {
            after_move: Some(AfterMove {
                days: vec!["Saturday 8 May, easy 4 km: it was 1 day before the race.".to_owned()],
                chosen: OnMove::Along,
            }),
            because: Because::Race,
            ..page()
        };
        vec![page(), changed, fixed, moved, off]
    }
}
