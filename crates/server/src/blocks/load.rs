//! What the pages of one block read from the store, once for each request.

use chrono::NaiveDate;
pub(crate) use planning::bend::pins;
use planning::block::curve_of;
use planning::review::Subject;
use planning::{
    BaseWeek, Begun, Block, Curve, Edit, Finding, Happened, LifeEvent, Pin, Problem, Race, Request, RestOfWeek,
    Settings,
};
use store::{
    BlockAround, BlockId, BlockRecord, CoachSettings, DoneRecord, DoneWeekRecord, Entry, EventRecord, RaceId,
    RaceRecord, WeekRecord,
};

use super::view::Reader;
use crate::error::AppError;
use crate::state::AppState;

/// A block with everything that its pages say about it.
pub(crate) struct Loaded {
    pub(crate) record: BlockRecord,
    pub(crate) coach: CoachSettings,
    /// The athlete's base week as it is now; the block was planned from `record.week`.
    pub(crate) week: WeekRecord,
    pub(crate) other_races: Vec<Race>,
    /// Whether the race is called off and it is settled how the athlete goes on.
    pub(crate) is_settled: bool,
    /// What happened to the athlete.
    pub(crate) events: Vec<EventRecord>,
    /// What the block as it stands knew of, and was taken back since.
    pub(crate) taken_back: Vec<EventRecord>,
    /// What was run lately, and what was said of lately's weeks.
    pub(crate) sessions: Vec<DoneRecord>,
    pub(crate) done_weeks: Vec<DoneWeekRecord>,
    pub(crate) today: NaiveDate,
    /// The day on which the block was first made.
    begun: NaiveDate,
}

/// A block as it is run, and the plan under it without what happened on the way: mostly the same.
pub(crate) struct Laid {
    pub(crate) block: Block,
    pub(crate) plan: Block,
}

/// The races that an athlete is entered in, but for one that is kept and those that are not run, each with what it means to
/// the athlete. What was run only in part is as long as that.
pub(crate) fn other_races(entries: Vec<(Entry, RaceRecord)>, but: Option<RaceId>) -> Vec<Race> {
    let others = entries.into_iter().filter(|(entry, record)| Some(entry.race) != but && entry.is_run(record));
    others.map(|(entry, record)| as_run(&entry, record.race)).collect()
}

/// A race as an athlete runs it.
pub(crate) fn as_run(entry: &Entry, race: Race) -> Race {
    Race { importance: entry.importance, distance: entry.ran.unwrap_or(race.distance), ..race }
}

/// How far back the log matters to a block, in days: two weeks, the one that ended last among them.
const LATELY: u64 = 14;

impl Loaded {
    /// Reads a block; an unknown one is "not found".
    pub(crate) async fn read(state: &AppState, id: BlockId) -> Result<Self, AppError> {
        Self::read_all(state, &[id]).await?.pop().ok_or(AppError::NotFound)
    }

    /// Reads blocks, each as its own page would, in the order of their ids; one that is not there is left out.
    pub(crate) async fn read_all(state: &AppState, ids: &[BlockId]) -> Result<Vec<Self>, AppError> {
        let today = state.clock.today();
        let around = state.store.blocks_around(ids, today - chrono::Days::new(LATELY)).await?;
        let coach = state.store.settings().await?;
        let loaded = around.into_iter().map(
            |BlockAround { record, week, entries, events, taken_back, sessions, done_weeks }| Self {
                is_settled: entries.iter().any(|(entry, _)| entry.race == record.race.id && entry.is_settled),
                other_races: other_races(entries, Some(record.race.id)),
                begun: state.clock.day_of(record.begun),
                coach: coach.clone(),
                record,
                week,
                events,
                taken_back,
                sessions,
                done_weeks,
                today,
            },
        );
        Ok(loaded.collect())
    }

    /// The block that other settings would give today, from the base week and the race as they are now.
    pub(crate) fn plan(&self, settings: &Settings) -> Result<Laid, Vec<Problem>> {
        self.lay(self.plan_from(&self.week.week, settings, &pins(self.plan_under()))?)
    }

    /// The plan without what happened on the way.
    pub(crate) fn plan_under(&self) -> &Block {
        self.record.before_events.as_ref().unwrap_or(&self.record.block)
    }

    /// Lays a plan under what happened, where the coach took that into the kept block: nothing that was
    /// only noted comes in by another door.
    pub(crate) fn lay(&self, plan: Block) -> Result<Laid, Vec<Problem>> {
        if self.record.before_events.is_none() {
            return Ok(Laid { block: plan.clone(), plan });
        }
        let happened = Happened { events: &self.events(), excess: None };
        let athlete = &self.record.athlete.draft.athlete;
        let block = planning::replan(&plan, athlete, &self.record.week.week, &happened)?;
        Ok(Laid { block, plan })
    }

    /// The block from a base week, around days that are fixed.
    fn plan_from(&self, week: &BaseWeek, settings: &Settings, pins: &[Pin]) -> Result<Block, Vec<Problem>> {
        planning::plan(&self.request(week, settings, pins))
    }

    /// The kept block after an edit, from the base week that it was planned from.
    ///
    /// The edit is of the days as they are shown. Where they lie under what happened, those that it
    /// touches go into the plan below, and what happened is laid over that again.
    pub(crate) fn bend(&self, edit: &Edit, rest: RestOfWeek) -> Result<Laid, Vec<Problem>> {
        let record = &self.record;
        let request = self.request(&record.week.week, &record.settings, &[]);
        let Some(under) = &record.before_events else {
            let block = planning::bend(&request, &record.block, edit, rest)?;
            return Ok(Laid { plan: block.clone(), block });
        };
        if matches!(edit, Edit::Free { .. }) {
            return self.lay(planning::bend(&request, under, edit, rest)?);
        }
        let shown = planning::bend(&request, &record.block, edit, RestOfWeek::Stays)?;
        let mut plan = under.clone();
        for date in edit.days() {
            let bent = shown.day(date).cloned();
            if let (Some(day), Some(bent)) = (plan.days.iter_mut().find(|day| day.date == date), bent) {
                *day = bent;
            }
        }
        if rest == RestOfWeek::Follows {
            for day in edit.days() {
                plan = planning::bend(&request, &plan, &Edit::Fix { day }, rest)?;
            }
        }
        self.lay(plan)
    }

    /// What a block is planned from.
    pub(crate) fn request<'a>(&'a self, week: &'a BaseWeek, settings: &'a Settings, pins: &'a [Pin]) -> Request<'a> {
        Request {
            today: Some(self.today),
            athlete: &self.record.athlete.draft.athlete,
            week,
            race: &self.record.race.race,
            settings,
            pins,
            other_races: &self.other_races,
            begun: Some(Begun { on: self.begun, days: &self.plan_under().days }),
        }
    }

    /// The curve that a block takes where the coach sets nothing.
    pub(crate) fn usual_curve(&self) -> Curve {
        curve_of(&self.request(&self.week.week, &Settings::default(), &[])).0
    }

    /// What the review says of a block.
    pub(crate) fn review(&self, block: &Block) -> Vec<Finding> {
        self.review_from(&self.record.week.week, block)
    }

    /// What the review says of a block that was planned from another base week.
    pub(crate) fn review_from(&self, week: &BaseWeek, block: &Block) -> Vec<Finding> {
        planning::review(&self.subject(week, block, &self.events()))
    }

    /// The findings of that review that say stop, without the rest of its work.
    pub(crate) fn stops(&self) -> Vec<Finding> {
        planning::review::stops(&self.subject(&self.record.week.week, &self.record.block, &self.events()))
    }

    fn subject<'a>(&'a self, week: &'a BaseWeek, block: &'a Block, events: &'a [LifeEvent]) -> Subject<'a> {
        Subject {
            block,
            athlete: &self.record.athlete.draft.athlete,
            week,
            other_races: &self.other_races,
            events,
            ran: self.ran(),
            clock_shift: formats::zones::clock_shift(
                self.record.athlete.draft.athlete.home_zone.as_deref(),
                &self.record.race.race,
            ),
            made: Some(u16::try_from((block.race_day - self.begun).num_days()).unwrap_or(0)),
        }
    }

    /// A sample as it would be read on the day of a clock.
    #[cfg(test)]
    pub(crate) fn sample(record: BlockRecord, clock: crate::clock::Clock) -> Self {
        let week = record.week.clone();
        Self {
            record,
            coach: super::sample::coach(),
            week,
            other_races: Vec::new(),
            is_settled: false,
            events: Vec::new(),
            taken_back: Vec::new(),
            sessions: Vec::new(),
            done_weeks: Vec::new(),
            today: clock.today(),
            begun: clock.today(),
        }
    }

    /// The coach's page in the coach's units.
    pub(crate) fn coach_reader(&self) -> Reader {
        Reader { units: self.coach.units, today: Some(self.today), ..Reader::athlete_of(&self.record) }
    }
}
