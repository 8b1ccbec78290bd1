//! The records that the store gives and takes.

use chrono::{DateTime, NaiveDate, NaiveTime, Utc};
use planning::heat::{Celsius, Weather};
use planning::notation::read_results;
use planning::{
    Athlete, BaseWeek, Block, Distance, DistanceUnit, DoneSession, Importance, LifeEvent, LineShape, MeasuredPoint,
    Moment, Outcome, PastResult, Problem, Race, RaceDistance, Settings, WeekRan, Weight,
};

use crate::ids::{AthleteId, BlockId, DoneId, EventId, RaceId, ShareId, Version};
use crate::race_sheets::RaceSheet;

/// What the coach tells of an athlete.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct AthleteDraft {
    /// What planning needs.
    pub athlete: Athlete,
    /// Training group; empty for none.
    pub group: String,
    /// The coach's own notes; never shared.
    pub notes: String,
    /// Only for amounts of food per kilogram; never shared.
    pub weight: Option<Weight>,
    /// Whether food and drink are planned with a professional, for whatever reason: no figures are
    /// given then.
    pub fuel_referred: bool,
    /// Recent races and time trials as typed, one a line, see [`planning::notation::read_result`].
    pub recent_results: String,
    /// How the coach reaches the athlete at a race; may be empty, never shared.
    pub phone: String,
}

impl AthleteDraft {
    /// Everything that is wrong with it.
    pub fn problems(&self) -> Vec<Problem> {
        let mut found = self.athlete.problems();
        found.extend(read_results(&self.recent_results).err().unwrap_or_default());
        found
    }

    /// The recent results, in the order in which they were typed.
    pub fn results(&self) -> Vec<PastResult> {
        read_results(&self.recent_results).unwrap_or_default()
    }
}

/// A kept athlete.
#[derive(Clone, Debug, PartialEq)]
pub struct AthleteRecord {
    /// Its id.
    pub id: AthleteId,
    /// Its version.
    pub version: Version,
    /// What the coach told.
    pub draft: AthleteDraft,
}

/// A base week as typed.
#[derive(Clone, Debug, PartialEq, Eq, Default)]
pub struct WeekDraft {
    /// The lines, Monday first.
    pub lines: [String; 7],
    /// The weekly range, or empty.
    pub range: String,
    /// The week that takes turns with it, if there is one.
    pub second: Option<SecondWeek>,
    /// Since when the athlete runs like this, if the coach said so.
    pub since: Option<NaiveDate>,
}

impl WeekDraft {
    /// One week without a range of its own.
    pub fn of(lines: [String; 7]) -> Self {
        Self { lines, ..Self::default() }
    }
}

/// A second week as typed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SecondWeek {
    /// The lines, Monday first.
    pub lines: [String; 7],
    /// A Monday on which it stands.
    pub stands_on: NaiveDate,
}

/// A kept base week: the lines as typed, and what they say.
#[derive(Clone, Debug, PartialEq)]
pub struct WeekRecord {
    /// Its version; `Version(0)` where none was saved yet.
    pub version: Version,
    /// The unit of a number without a unit in the lines and the range.
    pub units: DistanceUnit,
    /// The lines as typed, Monday first; written out with their units where the athlete's unit
    /// changed since they were typed.
    pub lines: [String; 7],
    /// The weekly range as typed, or empty.
    pub range: String,
    /// The week that takes turns with it, its lines treated the same.
    pub second: Option<SecondWeek>,
    /// Since when the athlete runs like this.
    pub since: Option<NaiveDate>,
    /// All of it, read.
    pub week: BaseWeek,
    /// When it was last saved.
    pub saved: Option<DateTime<Utc>>,
}

impl WeekRecord {
    /// What was typed.
    pub fn draft(&self) -> WeekDraft {
        let Self { lines, range, second, since, .. } = self.clone();
        WeekDraft { lines, range, second, since }
    }
}

/// A race of the squad's calendar, without what it means to one athlete.
#[derive(Clone, Debug, PartialEq)]
pub struct RaceRecord {
    /// Its id.
    pub id: RaceId,
    /// Its version.
    pub version: Version,
    /// The race; its `importance` is the goal here, each entry has its own.
    pub race: Race,
    /// Where; may be empty.
    pub place: String,
    /// Since when it is known that the race is called off, if it is.
    pub called_off: Option<NaiveDate>,
}

/// The course of a race as it was measured, not yet fitted to the official distance.
#[derive(Clone, Debug, PartialEq)]
pub struct Course {
    /// Whether somebody ran it or planned it.
    pub shape: LineShape,
    /// What the file was called; may be empty.
    pub file_name: String,
    /// Two or more, each farther along than the one before; the first at the start.
    pub points: Vec<MeasuredPoint>,
}

impl Course {
    /// The longest name of a file, in characters.
    pub const FILE_NAME_MOST: usize = 200;

    /// How long it was measured.
    pub fn length(&self) -> Distance {
        self.points.last().map_or(Distance::metres(0), |last| last.along)
    }
}

/// A kept course.
#[derive(Clone, Debug, PartialEq)]
pub struct CourseRecord {
    /// Its version.
    pub version: Version,
    /// All of it.
    pub course: Course,
}

/// What a line of words says of a course, read without its points.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CourseHead {
    /// How long it was measured.
    pub length: Distance,
    /// What the file was called; may be empty.
    pub file_name: String,
}

/// What everybody who runs a race has to know on the day; texts may be empty.
#[derive(Clone, Debug, PartialEq, Eq, Default)]
pub struct RaceFacts {
    /// Aid stations and cut-offs, one a line, as typed.
    pub stations: String,
    /// Where the coach stands, one a line, as typed.
    pub stands: String,
    /// How a number without a unit was meant in both.
    pub units: DistanceUnit,
    /// When the start pens close, by the clocks of the place.
    pub pens_close: Option<NaiveTime>,
    /// Until when bags are taken, by the clocks of the place.
    pub bags_close: Option<NaiveTime>,
    /// Where bags are taken.
    pub bags: String,
    /// Where toilets are.
    pub toilets: String,
    /// Where and when all meet.
    pub meeting: String,
    /// Whom to call.
    pub contact: String,
    /// What comes after the finish.
    pub afterwards: String,
    /// What the air is expected to have.
    pub air: Option<Celsius>,
    /// The wet bulb globe temperature that is expected.
    pub wbgt: Option<Celsius>,
}

impl RaceFacts {
    /// The longest text of one line, in characters.
    pub const LINE_MOST: usize = 200;

    /// What the weather is expected to be.
    pub fn weather(&self) -> Weather {
        Weather { air: self.air, wbgt: self.wbgt }
    }
}

/// Kept facts of a race.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RaceFactsRecord {
    /// Their version.
    pub version: Version,
    /// All of them.
    pub facts: RaceFacts,
}

/// One athlete entered in one race.
#[derive(Clone, Debug, PartialEq)]
pub struct Entry {
    /// The athlete.
    pub athlete: AthleteId,
    /// The athlete's name.
    pub name: String,
    /// The race.
    pub race: RaceId,
    /// What it means to the athlete.
    pub importance: Importance,
    /// The block made for it, if any.
    pub block: Option<BlockId>,
    /// What was really run of it, where it was less.
    pub ran: Option<RaceDistance>,
    /// How it ended, where that is noted.
    pub outcome: Option<Outcome>,
    /// Whether the race is called off and the coach said that it is settled how the athlete goes on.
    pub is_settled: bool,
}

impl Entry {
    /// Whether the race is run, or was: not where it is called off or where the athlete did not start.
    pub fn is_run(&self, race: &RaceRecord) -> bool {
        race.called_off.is_none() && self.outcome != Some(Outcome::DidNotStart)
    }

    /// Whether there should be a block for it and there is none.
    pub fn lacks_block(&self) -> bool {
        self.importance.has_block() && self.block.is_none()
    }
}

/// One third of the race.
#[derive(Clone, Debug, PartialEq, Eq, Default)]
pub struct Stretch {
    /// How hard it should feel.
    pub effort: String,
    /// Where the mind is.
    pub focus: String,
    /// A word to hold on to.
    pub cue: String,
}

/// Goals and race strategy, written while there is time.
#[derive(Clone, Debug, PartialEq, Eq, Default)]
pub struct GoalNotes {
    /// The best day.
    pub a: String,
    /// A good day.
    pub b: String,
    /// The least that counts.
    pub c: String,
    /// Why the athlete may believe it.
    pub belief: String,
    /// First, middle and last stretch.
    pub stretches: [Stretch; 3],
    /// One sentence for the moment it gets hard.
    pub hard_moment: String,
    /// Words to the athlete, shown on sheet and page.
    pub message: String,
}

/// A block whose stretches are written, for the choice of taking them over.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct WrittenStretches {
    /// The block.
    pub block: BlockId,
    /// Whose it is.
    pub athlete: String,
    /// The race's name; may be empty.
    pub race: String,
    /// The day of the race.
    pub day: NaiveDate,
}

impl WrittenStretches {
    /// How many of one race, and of all others, a choice holds.
    pub const MOST: u8 = 12;
}

/// A kept block: its present revision with everything around it.
#[derive(Clone, Debug, PartialEq)]
pub struct BlockRecord {
    /// Its id.
    pub id: BlockId,
    /// Counts every save of the block's days or settings, and of its goal notes.
    pub version: Version,
    /// The present revision of the days, by its number: the first is 1.
    pub revision: u32,
    /// When the block was first made.
    pub begun: DateTime<Utc>,
    /// When this revision was made.
    pub made: DateTime<Utc>,
    /// Why it was made, in the program's words (`made`, `made anew`).
    pub reason: String,
    /// The athlete.
    pub athlete: AthleteRecord,
    /// The race and the athlete's stake in it (in `race.importance`).
    pub race: RaceRecord,
    /// How the race ended, where that is noted.
    pub outcome: Option<Outcome>,
    /// The first other goal race of the athlete that lies among the block's days, see [`Block::has_inside`].
    pub goal_inside: Option<Race>,
    /// The base week from which it was planned.
    pub week: WeekRecord,
    /// What the coach set.
    pub settings: Settings,
    /// The days.
    pub block: Block,
    /// The plan without what happened on the way, where this revision lies under that.
    pub before_events: Option<Block>,
    /// Goals and strategy.
    pub goals: GoalNotes,
    /// What else is set and written for the race.
    pub race_sheet: RaceSheet,
    /// What was handed over last, if its link was not ended by hand; it may have ended by its date, see
    /// [`BlockRecord::link_on`].
    pub share: Option<ShareRecord>,
    /// Where undoing leads, if it leads anywhere.
    pub undo: Option<Step>,
    /// Where redoing leads, if it leads anywhere.
    pub redo: Option<Step>,
}

impl BlockRecord {
    /// The link to the athlete, if there is one that works on a day.
    pub fn link_on(&self, today: NaiveDate) -> Option<&ShareRecord> {
        self.share.as_ref().filter(|share| share.works_on(today))
    }
}

/// A step from the present revision of a block to another.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Step {
    /// The number of the revision that it leads to.
    pub to: u32,
    /// What is undone or done again, in the program's words.
    pub reason: String,
}

/// One revision in the list of a block's revisions, without its days.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RevisionHead {
    /// Its number.
    pub number: u32,
    /// When it was made.
    pub made: DateTime<Utc>,
    /// Why it was made, in the program's words.
    pub reason: String,
    /// The revision from which it was made; nothing for the first.
    pub parent: Option<u32>,
    /// Whether it is the present one.
    pub is_present: bool,
    /// When it was handed over last, if ever.
    pub handed_over: Option<DateTime<Utc>>,
}

/// One revision of a block with its days.
#[derive(Clone, Debug, PartialEq)]
pub struct Revision {
    /// Its number.
    pub number: u32,
    /// When it was made.
    pub made: DateTime<Utc>,
    /// Why it was made, in the program's words.
    pub reason: String,
    /// What the coach set.
    pub settings: Settings,
    /// The base week from which it was planned.
    pub week: WeekRecord,
    /// The days.
    pub block: Block,
    /// The plan without what happened on the way, where this revision lies under that.
    pub before_events: Option<Block>,
}

/// How a block came to be what it is.
#[derive(Clone, Debug, PartialEq)]
pub struct BlockHistory {
    /// Its id.
    pub id: BlockId,
    /// When its first revision was made.
    pub made: DateTime<Utc>,
    /// The athlete's name.
    pub name: String,
    /// The athlete's units.
    pub units: DistanceUnit,
    /// Its revisions in the order of their numbers; whatever one was made from stands before it.
    pub revisions: Vec<PastRevision>,
    /// The revisions that were shown, in that order, the last of them the one to show.
    pub shown: Vec<Shown>,
    /// Since when it is known that the race is called off, if it is: as the race stands now, whatever
    /// was shown.
    pub called_off: Option<NaiveDate>,
    /// When the race was saved last.
    pub race_saved: DateTime<Utc>,
}

/// One revision of a history.
#[derive(Clone, Debug, PartialEq)]
pub struct PastRevision {
    /// Its number.
    pub number: u32,
    /// The revision from which it was made; nothing for the first.
    pub parent: Option<u32>,
    /// Where the race was.
    pub place: String,
    /// The days.
    pub block: Block,
}

/// That a revision was shown.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Shown {
    /// Its number.
    pub revision: u32,
    /// When.
    pub at: DateTime<Utc>,
}

/// A link that shows a block.
#[derive(Clone, Debug, PartialEq)]
pub struct ShareRecord {
    /// Its id.
    pub id: ShareId,
    /// The unguessable part of the address.
    pub token: String,
    /// The revision that the athlete sees.
    pub revision: u32,
    /// When it was handed over last.
    pub handed_over: DateTime<Utc>,
    /// The last day on which it works.
    pub ends: NaiveDate,
    /// What is shown beside the days and their reasons.
    pub shows: Shows,
    /// The goal notes as they were when it was handed over, whether they are shown or not.
    pub goals: GoalNotes,
    /// The race sheet as it was then, where it is shown: a document of whoever handed it over.
    pub race_day: Option<String>,
    /// What else was handed over last before it, if anything was: "replaces version 1 of ...".
    pub replaces: Option<Shown>,
}

impl ShareRecord {
    /// Whether the link works on a day.
    pub fn works_on(&self, today: NaiveDate) -> bool {
        today <= self.ends
    }

    /// Whether the athlete would be shown other goal notes if the block were handed over anew.
    pub fn notes_changed(&self, now: &GoalNotes) -> bool {
        self.shows.of(now) != self.shows.of(&self.goals)
    }
}

/// What an athlete is shown beside the days, their reasons and the coach's message.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub struct Shows {
    /// Goals A, B and C, and why the athlete may believe them.
    pub goals: bool,
    /// The three stretches of the race and the sentence for the moment it gets hard.
    pub stretches: bool,
    /// The race sheet.
    pub race_day: bool,
}

impl Shows {
    /// Everything.
    pub const ALL: Self = Self { goals: true, stretches: true, race_day: true };
    /// Days, reasons and message only.
    pub const NOTHING: Self = Self { goals: false, stretches: false, race_day: false };

    /// What of the notes is shown: the message in any case.
    pub fn of(self, notes: &GoalNotes) -> GoalNotes {
        let mut shown = notes.clone();
        if !self.goals {
            (shown.a, shown.b, shown.c, shown.belief) = Default::default();
        }
        if !self.stretches {
            (shown.stretches, shown.hard_moment) = Default::default();
        }
        shown
    }
}

/// What an athlete's page may know: nothing more leaves the store on that door.
#[derive(Clone, Debug, PartialEq)]
pub struct SharedBlock {
    /// First name or however the squad calls the athlete.
    pub name: String,
    /// The athlete's units.
    pub units: DistanceUnit,
    /// The race.
    pub race: Race,
    /// Where.
    pub place: String,
    /// Since when it is known that the race is called off, if it is: as it stands now, whatever was
    /// handed over.
    pub called_off: Option<NaiveDate>,
    /// The days as handed over, and the race as it was then.
    pub block: Block,
    /// What the coach shows of the goal notes, as they were when it was handed over; the words to the
    /// athlete in any case.
    pub goals: GoalNotes,
    /// The race sheet as it was then, where the coach shows it.
    pub race_day: Option<String>,
    /// The revision.
    pub revision: u32,
    /// When it was handed over.
    pub handed_over: DateTime<Utc>,
    /// What else was handed over last before it, if anything was: "replaces version 1 of ...".
    pub replaces: Option<Shown>,
    /// The last day on which the link works.
    pub ends: NaiveDate,
}

/// Something that happened to an athlete.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct EventRecord {
    /// Its id.
    pub id: EventId,
    /// Its version.
    pub version: Version,
    /// What, and from when to when.
    pub event: LifeEvent,
    /// The coach's own words; may be empty.
    pub note: String,
}

/// What was said of a week that was run.
#[derive(Clone, Debug, PartialEq)]
pub struct DoneWeekRecord {
    /// Its first day: seven days from here.
    pub first_day: NaiveDate,
    /// Its version.
    pub version: Version,
    /// The line as typed; may be empty.
    pub line: String,
    /// How a number without a unit was meant.
    pub units: DistanceUnit,
    /// What the line says; nothing where it is empty.
    pub ran: Option<WeekRan>,
    /// How it felt and what was said; may be empty.
    pub note: String,
    /// The day on which it was said.
    pub noted: NaiveDate,
}

/// A session of the log.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DoneRecord {
    /// Its id.
    pub id: DoneId,
    /// The line as typed.
    pub line: String,
    /// What it says.
    pub done: DoneSession,
}

/// The coach's own settings.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CoachSettings {
    /// Its version.
    pub version: Version,
    /// Units of the coach's pages.
    pub units: DistanceUnit,
    /// First day of calendar weeks on the board.
    pub week_start: chrono::Weekday,
    /// Paper of printed sheets.
    pub paper: Paper,
    /// Name under the printed sheet; may be empty.
    pub coach_name: String,
}

/// Paper sizes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum Paper {
    /// 210 x 297 mm.
    #[default]
    A4,
    /// 8.5 x 11 inches.
    Letter,
}

impl Paper {
    /// Every paper.
    pub const ALL: [Self; 2] = [Self::A4, Self::Letter];

    /// The name in files and forms: `a4`, `letter`.
    pub const fn code(self) -> &'static str {
        match self {
            Self::A4 => "a4",
            Self::Letter => "letter",
        }
    }

    /// The paper with this code.
    pub fn from_code(code: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|paper| paper.code() == code)
    }
}

/// A block that led to a race which is over, for a look back.
#[derive(Clone, Debug, PartialEq)]
pub struct PastBlock {
    /// Its id.
    pub id: BlockId,
    /// The race.
    pub race: RaceId,
    /// The days as they were in the end.
    pub block: Block,
    /// Goals A, B and C.
    pub goals: [String; 3],
}

/// The squad's words for a message.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct MessageText {
    /// When it is sent.
    pub moment: Moment,
    /// Its version; `Version(0)` where none was saved yet.
    pub version: Version,
    /// The coach's words; nothing where the program's are used.
    pub text: Option<String>,
    /// The coach's words that were put aside for the program's.
    pub aside: Option<String>,
}

/// A message that the coach says was sent.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct SentMessage {
    /// Which.
    pub moment: Moment,
    /// When the coach said so.
    pub at: DateTime<Utc>,
}

/// What an athlete answered at the start of a block, but for goals and stretches: the coach's alone.
#[derive(Clone, Debug, PartialEq, Eq, Default)]
pub struct Answers {
    /// The one worry.
    pub worry: String,
    /// How the athlete tapered last time.
    pub last_taper: String,
    /// Lines that belong to no question.
    pub rest: String,
    /// Everything as it was pasted last.
    pub pasted: String,
}

/// Who may come in, and where.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Doors {
    /// Counts the saves.
    pub version: Version,
    /// Where athletes' pages are served, as written; empty: nowhere.
    pub share_address: String,
    /// What links to them begin with where it is not that address.
    pub share_url: String,
    /// The hash of the coach's pass phrase, if one is set.
    pub pass_phrase: Option<String>,
}
