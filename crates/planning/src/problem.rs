//! What is wrong with something a person typed: where, and what, as data.
//!
//! No prose here: `formats::words` says it in English. A check collects every problem, not only the
//! first, so that a form can show all of them at once.

use chrono::{NaiveDate, Weekday};

use crate::race_time::RaceTime;
use crate::session::{Kind, SetUnit};
use crate::units::{DistanceUnit, Milli, Pace, Unit};
use crate::weight::WeightUnit;

/// One thing that is wrong.
#[derive(Clone, Debug, PartialEq)]
pub struct Problem {
    /// Where.
    pub at: Field,
    /// What.
    pub kind: ProblemKind,
}

impl Problem {
    /// A problem at a place.
    pub const fn new(at: Field, kind: ProblemKind) -> Self {
        Self { at, kind }
    }
}

/// The place of a problem, in the trade's words.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
#[expect(missing_docs, reason = "the names say it")]
pub enum Field {
    Today,
    AthleteName,
    Units,
    EasyPace,
    BirthYear,
    SuitsDays,
    HomeZone,
    Weight,
    /// A line of the recent results, from 1, and its text.
    RecentResult(usize, String),
    BaseWeek,
    /// A day of the base week, and which session of that day (from 0).
    Session(Weekday, usize),
    WeekRange,
    /// The totals of recent weeks.
    RecentWeeks,
    /// Since when the athlete runs like this.
    Since,
    /// The second week as a whole.
    SecondWeek,
    /// A day of the second week, and which session of that day (from 0).
    SecondSession(Weekday, usize),
    /// The Monday on which the second week stands.
    StandsOn,
    RaceName,
    RaceDate,
    RaceDistance,
    RaceStart,
    RaceZone,
    /// A line of the aid stations, from 1.
    StationLine(usize),
    /// A line of the places where the coach stands, from 1.
    StandLine(usize),
    BlockDays,
    Curve,
    Floor,
    ExtraRest,
    Pin(NaiveDate),
    /// Days of an event, by its first one.
    EventDays(NaiveDate),
    /// What was run in the week that begins on this day.
    WeekRan(NaiveDate),
    /// A session that was run on this day.
    Done(NaiveDate),
}

/// What is wrong there.
#[derive(Clone, Debug, PartialEq)]
#[expect(missing_docs, reason = "fields are named after what they hold")]
pub enum ProblemKind {
    /// Nothing was given where something is needed.
    Missing,
    /// Longer than can be kept, in characters.
    TooLong {
        length: usize,
        most: usize,
    },
    Negative {
        value: Milli,
    },
    TooMuch {
        value: Milli,
        most: Milli,
        unit: Unit,
    },
    LowAboveHigh {
        low: Milli,
        high: Milli,
    },
    /// The hard part is more than the whole session.
    HardAboveAmount {
        hard: Milli,
        amount: Milli,
        unit: Unit,
    },
    /// A hard part in another unit than the session.
    HardInOtherUnit {
        hard: Unit,
        amount: Unit,
    },
    /// A hard part in a kind of session that has none (strength, mobility).
    HardNotAllowed {
        kind: Kind,
    },
    /// A running session without any amount.
    AmountMissing {
        kind: Kind,
    },
    /// An amount in km or miles for strength or mobility.
    AmountNotInMinutes {
        kind: Kind,
        unit: Unit,
    },
    /// A running session of no length at all.
    ZeroAmount {
        kind: Kind,
    },
    /// No repetitions, or more than anybody runs.
    SetsOutOfRange {
        reps: u16,
        most: u16,
    },
    /// A repetition of no length, or longer than anybody runs.
    RepetitionOutOfRange {
        length: Milli,
        most: Milli,
        unit: SetUnit,
    },
    /// More lines of repetitions in one session than are kept.
    TooManySets {
        count: usize,
        most: usize,
    },
    /// More sessions on one day than are kept.
    TooManySessions {
        count: usize,
        most: usize,
    },
    /// More recent weeks than are asked about.
    TooManyWeeks {
        count: usize,
        most: usize,
    },
    /// No running on any day of the base week.
    EmptyWeek,
    PaceOutOfRange {
        seconds: u16,
    },
    /// A weight that nobody has.
    WeightOutOfRange {
        value: Milli,
        unit: WeightUnit,
    },
    YearOutOfRange {
        year: i32,
        from: i32,
        to: i32,
    },
    /// The race lies before today.
    RaceInThePast {
        date: NaiveDate,
        today: NaiveDate,
    },
    /// The race is so far away that no plan makes sense.
    RaceTooFar {
        date: NaiveDate,
        today: NaiveDate,
    },
    /// Figures that are one day where the day stands first and another where the month does.
    TwoDates {
        text: String,
        day_first: NaiveDate,
        month_first: NaiveDate,
    },
    /// A date outside the years that the program knows.
    DateOutOfRange {
        date: NaiveDate,
    },
    /// A day that is not a Monday, where one is needed.
    NotAMonday {
        date: NaiveDate,
    },
    DistanceOutOfRange {
        km: f64,
    },
    /// A place at the start or before it, or beyond the finish.
    OutsideRace {
        value: Milli,
        length: Milli,
        unit: DistanceUnit,
    },
    /// A place that stands in an earlier line already.
    SamePlace {
        value: Milli,
        unit: DistanceUnit,
        line: usize,
    },
    /// More lines than are kept.
    TooManyLines {
        count: usize,
        most: usize,
    },
    /// A cut-off before that of an earlier place.
    CutOffGoesBack {
        time: RaceTime,
        earlier: RaceTime,
    },
    /// A time in which nobody runs the distance, with the limits of what is believed.
    RaceTimeOutOfRange {
        time: RaceTime,
        from: RaceTime,
        to: RaceTime,
    },
    /// A course of fewer than two places.
    CourseTooShort {
        points: usize,
    },
    /// A course that cannot be that of the race: its length is another.
    CourseOfOtherLength {
        measured_km: f64,
        official_km: f64,
    },
    /// A number outside what is allowed, both ends named.
    OutOfRange {
        value: f64,
        from: f64,
        to: f64,
    },
    /// A pinned day outside the block.
    PinOutsideBlock {
        date: NaiveDate,
        first: NaiveDate,
        last: NaiveDate,
    },
    /// A day is fixed more than once.
    PinnedTwice {
        date: NaiveDate,
    },
    /// Race day holds the race; nothing on it is bent.
    RaceDayBent {
        date: NaiveDate,
    },
    /// A day before today: what was run there is for the log.
    DayIsPast {
        date: NaiveDate,
        today: NaiveDate,
    },
    /// A day cannot change places with itself.
    SameDay {
        date: NaiveDate,
    },
    /// A session of a day by its number, from 1, where the day holds fewer.
    NoSuchSession {
        place: usize,
        count: usize,
    },
    /// Days that end before they begin.
    EndsBeforeItBegins {
        from: NaiveDate,
        to: NaiveDate,
    },
    /// An event that lasts longer than anybody means.
    EventTooLong {
        days: i64,
        most: i64,
    },
    /// A run that is told by parts in distance and in time: these have no sum, and the whole is not said.
    WholeUnsaid {
        /// The words that are asked about.
        told: String,
        /// The line with a whole, which is read.
        line: String,
        /// At which minutes are counted there; [`Pace::ASSUMED`](crate::Pace::ASSUMED) where none is known.
        pace: Option<Pace>,
    },
    /// What the line of a result does not say.
    ResultLacks {
        day: bool,
        distance: bool,
        time: bool,
    },
    /// Text that cannot be read, and what was expected.
    Unreadable {
        text: String,
        expected: Expected,
    },
}

/// What a text should have been.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[expect(missing_docs, reason = "the names say it")]
pub enum Expected {
    Number,
    Amount,
    /// A number, or a low and a high one.
    Range,
    Unit,
    /// The same unit everywhere.
    OneUnit,
    Sets,
    HardPart,
    SessionKind,
    Date,
    /// A whole date, where only its month is told.
    DayOfMonth,
    /// One result of a race, where several may be meant.
    OneResult,
    Time,
    RaceTime,
    Zone,
    WeekRan,
    Pace,
    Weight,
    Year,
    RaceDistance,
    /// A place along a race.
    Place,
    Temperature,
    /// A quote that is closed, and words either plain or in quotes.
    Quote,
    /// A bracket that is closed.
    Bracket,
    /// A whole session, where nothing or only a note stands.
    Session,
    /// One of the things that a session is made of.
    Part,
    /// Only one kind in a session; several sessions are joined by "+".
    OneKind,
    /// Only one amount in a session.
    OneAmount,
    /// Only one hard part in a session.
    OneHardPart,
    /// The whole of a run whose parts do not add up to it, because one is missing or in another unit.
    WholeRun,
    /// What is run between warm-up and cool-down, and how.
    PartBetween,
    /// The parts of a run in the order in which they are run, where the whole could be one of them.
    PartsInOrder,
    /// How much of a run is hard, where words say only that some of it may be.
    HowHard,
    /// Rest or a run, where a day may be either.
    RestOrRun,
    /// Distance or time of a run, where a number may be either.
    UnitOfRun,
    /// Two runs of a day, where easy repetitions are told.
    TwoRuns,
    /// How long a run takes, where the figures may be a pace.
    Duration,
    /// A run or a time of day, where a number stands before a half of the day.
    HalfOrClock,
    /// A range or two runs, where two amounts stand side by side.
    RangeOrRuns,
    /// A run beside another sport or its minutes, where a number may be either.
    RunOrMinutes,
    /// The total of a day's runs, where they come to another.
    TotalOfDay,
}
