//! One row of the squad board: small, without whole documents, so that ten thousand stay in memory.

use std::sync::Arc;

use chrono::{DateTime, NaiveDate, Utc};
use planning::timeline::ComingBack;
use planning::{Amount, DistanceUnit, EventKind, Importance, LifeEvent, Moment, Pace, RuleId, Totals, WeekRan};

use crate::athletes::name_key;
use crate::{AthleteId, BlockId, RaceId, RaceRecord};

/// One row of the squad board, as an athlete stands on one day.
#[derive(Clone, Debug, PartialEq)]
pub struct BoardRow {
    /// The athlete.
    pub athlete: AthleteId,
    /// The name.
    pub name: String,
    /// The name as it is sorted by and as [`NameSearch`] finds it: lower case, without marks.
    pub name_key: String,
    /// The group; empty for none.
    pub group: String,
    /// The athlete's units.
    pub units: DistanceUnit,
    /// How many cautions are noted.
    pub cautions: u32,
    /// When the base week was last saved; nothing where there is none.
    pub week_saved: Option<DateTime<Utc>>,
    /// Since when the athlete runs like that, if the coach said so.
    pub week_since: Option<NaiveDate>,
    /// The last goal race, or other race with a block, that was run in the two weeks before, where no result is
    /// noted.
    pub raced: Option<Raced>,
    /// The next goal race on or after the day, else the next race of any kind; what it means to the athlete
    /// stands beside it.
    pub next_race: Option<Arc<RaceRecord>>,
    /// What it means to the athlete.
    pub importance: Option<Importance>,
    /// The block for it.
    pub block: Option<BoardBlock>,
    /// Blocks for races farther ahead that take place, by the days of the races.
    pub ahead: Box<[BlockAhead]>,
    /// Illness and injury: what is not over on the day, and what is over but still takes easy days; by their first
    /// days, each as it stands on the day of the row.
    pub unwell: Box<[LifeEvent]>,
    /// The race behind, or called off, that the running still comes back from.
    pub recovering: Option<Recovering>,
    /// Races ahead that the athlete was withdrawn from while holding the block, as long as that is not settled; by their
    /// days.
    pub withdrawn: Box<[Withdrawn]>,
}

impl BoardRow {
    /// The row of an athlete of whom nothing but the name is known.
    pub fn of(athlete: AthleteId, name: &str) -> Self {
        Self {
            athlete,
            name: name.to_owned(),
            name_key: name_key(name),
            group: String::new(),
            units: DistanceUnit::default(),
            cautions: 0,
            week_saved: None,
            week_since: None,
            raced: None,
            next_race: None,
            importance: None,
            block: None,
            ahead: Box::default(),
            unwell: Box::default(),
            recovering: None,
            withdrawn: Box::default(),
        }
    }

    /// Whether a block of the athlete was made for another day than its race, which is ahead, has by now.
    pub fn is_made_for_another_day(&self, block: BlockId) -> bool {
        let next = self.next_race.as_ref().zip(self.block.as_ref()).filter(|(_, known)| known.state.id == block);
        let ahead = self.ahead.iter().find(|known| known.block == block);
        next.is_some_and(|(race, known)| known.race_day != race.race.date)
            || ahead.is_some_and(|known| known.made_for != known.race_day)
    }

    /// Whether the race for which the athlete trains is called off.
    pub fn is_called_off(&self) -> bool {
        self.next_race.as_ref().is_some_and(|race| race.called_off.is_some())
    }
}

/// A block for a race farther ahead than the next.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct BlockAhead {
    /// The block.
    pub block: BlockId,
    /// The day of its race.
    pub race_day: NaiveDate,
    /// What the race means to the athlete.
    pub importance: Importance,
    /// The race day that it was made for: that of its race, unless the race was moved since.
    pub made_for: NaiveDate,
    /// The first day of the block.
    pub first_day: NaiveDate,
    /// Its present revision.
    pub revision: u32,
    /// The revision that the athlete holds, and when that was handed over.
    pub held: Option<(u32, DateTime<Utc>)>,
    /// The day of the first race on the way that it should hold and does not know.
    pub lacks: Option<NaiveDate>,
    /// Whether the athlete is noted as under 18 by now and the block was made before.
    pub before_youth: bool,
}

/// A race whose block the athlete holds and does not run.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Withdrawn {
    /// The race.
    pub race: RaceId,
    /// Its day.
    pub day: NaiveDate,
}

/// A race that was run.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Raced {
    /// The race.
    pub race: RaceId,
    /// The block that led to it, where there is one.
    pub block: Option<BlockId>,
    /// The day.
    pub day: NaiveDate,
}

/// What the running stands under after a goal race, or after one was called off or not started.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Recovering {
    /// The name of the race.
    pub race: String,
    /// What the day of the row is, and until when: as the season has it.
    pub back: ComingBack,
}

/// How a block stands: what was handed over, and whether goals are written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct BlockState {
    /// Its id.
    pub id: BlockId,
    /// Its present revision.
    pub revision: u32,
    /// What was handed over last, if its link was not ended by hand.
    pub handed_over: Option<Held>,
    /// Whether any of the goals A, B and C is written.
    pub has_goals: bool,
}

/// What an athlete holds of a block.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Held {
    /// The revision.
    pub revision: u32,
    /// When it was handed over.
    pub at: DateTime<Utc>,
    /// The last day on which its link works.
    pub ends: NaiveDate,
    /// Whether what is shown of the goal notes is another text by now.
    pub notes_changed: bool,
}

impl Held {
    /// Whether the link works on a day.
    pub fn works_on(&self, today: NaiveDate) -> bool {
        today <= self.ends
    }
}

/// What the board knows of a block.
#[derive(Clone, Debug, PartialEq)]
pub struct BoardBlock {
    /// How it stands.
    pub state: BlockState,
    /// The first day of the block.
    pub first_day: NaiveDate,
    /// The race day that it was made for: that of its race, unless the race was moved since.
    pub race_day: NaiveDate,
    /// How many days before race day that is.
    pub length: u8,
    /// The message that is due on the day of the row and was not marked as sent.
    pub due: Option<Moment>,
    /// Its days from [`DAYS_BEFORE`] before the day of the row to [`DAYS_AFTER`] after, as far as it has them.
    pub days: Box<[BoardDay]>,
    /// The pace that compares minutes with distance.
    pub pace: Option<Pace>,
    /// When it was handed over for the first time, by whatever link.
    pub first_handed_over: Option<DateTime<Utc>>,
    /// Whether the base week is another one than it was made from.
    pub week_changed: bool,
    /// Whether the athlete is noted as under 18 by now and the block was made before.
    pub before_youth: bool,
    /// The day of the first race on the way that it should hold and does not know.
    pub lacks: Option<NaiveDate>,
    /// What waits on the page where a block is planned again.
    pub waits: Option<Waits>,
    /// The rule by which the review says stop, the first if there are several.
    pub stop: Option<RuleId>,
    /// The first day to come that is fixed with running which an illness, injury or travel stands against.
    pub fixed: Option<FixedAgainst>,
    /// What the log says since [`DAYS_BEFORE`]; empty for a block that has not begun.
    pub log: BoardLog,
}

/// A fixed day with running that an illness or injury keeps from being run, or that would be easy after it; or with
/// more than belongs on a day on the way.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct FixedAgainst {
    /// The day.
    pub day: NaiveDate,
    /// What stands against it.
    pub kind: EventKind,
    /// Whether the running is hard.
    pub is_hard: bool,
    /// Whether the day is one of the easy ones after it, and none of it.
    pub is_after: bool,
}

impl BoardBlock {
    /// Notes that another goal race lies among its days, which the review says by a rule of its own: nothing is told
    /// then, as the days are planned twice.
    pub(super) fn stop_goal_inside(&mut self) {
        self.stop = self.stop.or(Some(RuleId::GoalInside));
        self.due = None;
    }
}

/// How many days before its day a row knows of: two calendar weeks, wherever they begin.
pub const DAYS_BEFORE: u64 = 13;
/// How many days after its day a row knows of: to the end of the calendar week.
pub const DAYS_AFTER: u64 = 6;

/// One day of a block.
#[derive(Clone, Debug, PartialEq)]
pub struct BoardDay {
    /// The day.
    pub date: NaiveDate,
    /// Whether it is race day.
    pub has_race: bool,
    /// Planned running, the race not counted.
    pub planned: Totals,
    /// Usual running.
    pub usual: Totals,
}

/// What happened and is not in the block.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Waits {
    /// An event that was noted; of several the one noted last.
    Noted(EventKind),
    /// What the block was planned around was taken back.
    TakenBack,
}

/// What the log says of the running lately.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct BoardLog {
    /// The last day on which anything was noted, in the last weeks.
    pub heard: Option<NaiveDate>,
    /// Runs, by their days.
    pub runs: Box<[(NaiveDate, Amount)]>,
    /// What was said of weeks, by their first days.
    pub weeks: Box<[(NaiveDate, WeekRan)]>,
}

/// Words that are looked for in names: each anywhere, in capitals or not, with marks or not.
#[derive(Clone, Debug)]
pub struct NameSearch(String);

impl NameSearch {
    /// What somebody typed; nothing finds everybody.
    pub fn new(typed: &str) -> Self {
        Self(name_key(typed))
    }

    /// Whether every word stands in the name.
    pub fn finds(&self, row: &BoardRow) -> bool {
        self.finds_key(&row.name_key)
    }

    /// Whether every word stands in a name that is written as names are sorted.
    pub(crate) fn finds_key(&self, name_key: &str) -> bool {
        self.0.split(' ').all(|word| name_key.contains(word))
    }
}
