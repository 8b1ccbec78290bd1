//! What is wrong with something that was typed, and what would be right.

use chrono::{NaiveDate, Weekday};
use planning::problem::Expected;
use planning::race::YEARS;
use planning::{
    DistanceUnit, Field, Kind, Milli, Pace, Problem, ProblemKind, RaceDistance, RaceTime, Weight, WeightUnit,
};

use super::amounts::{number, short_number};
use super::dates::{day_month_year, full_date, weekday};
use super::names::{kind, unit};
use super::{list, plural};

/// A problem in one sentence without a full stop: where, what, and what would be right.
pub fn problem(problem: &Problem) -> String {
    let what = match (&problem.at, &problem.kind) {
        (Field::RecentResult(_, typed), ProblemKind::ResultLacks { day: true, distance: false, time: false }) => {
            date_lacks(typed)
        }
        (_, kind) => problem_kind(kind),
    };
    format!("{}: {what}", field(&problem.at))
}

/// The place of a problem: `Tuesday, session 2`.
pub fn field(field: &Field) -> String {
    match field {
        Field::Today => "Today's date".to_owned(),
        Field::AthleteName => "Athlete's name".to_owned(),
        Field::Units => "Units".to_owned(),
        Field::EasyPace => "Easy pace".to_owned(),
        Field::BirthYear => "Year of birth".to_owned(),
        Field::SuitsDays => "Length that suits the athlete".to_owned(),
        Field::HomeZone => "Time zone at home".to_owned(),
        Field::Weight => "Weight".to_owned(),
        Field::RecentResult(line, text) => format!("Recent results, line {line}, “{}”", quote(text)),
        Field::BaseWeek => "Base week".to_owned(),
        Field::Session(day, index) => format!("{}, session {}", weekday(*day), index + 1),
        Field::WeekRange => "Range of the week".to_owned(),
        Field::RecentWeeks => "Totals of the last weeks".to_owned(),
        Field::Since => "Runs like this since".to_owned(),
        Field::SecondWeek => "Second week".to_owned(),
        Field::SecondSession(day, index) => format!("Second week, {}, session {}", weekday(*day), index + 1),
        Field::StandsOn => "A Monday of the second week".to_owned(),
        Field::RaceName => "Name of the race".to_owned(),
        Field::RaceDate => "Date of the race".to_owned(),
        Field::RaceDistance => "Race distance".to_owned(),
        Field::RaceStart => "Start time".to_owned(),
        Field::RaceZone => "Time zone of the race".to_owned(),
        Field::StationLine(line) => format!("Aid stations, line {line}"),
        Field::StandLine(line) => format!("Where you stand, line {line}"),
        Field::BlockDays => "Length of the block in days".to_owned(),
        Field::Curve => "Curvature".to_owned(),
        Field::Floor => "Left at the end".to_owned(),
        Field::ExtraRest => "Extra rest day".to_owned(),
        Field::Pin(date) => format!("Fixed day {}", full_date(*date)),
        Field::EventDays(from) => format!("Days from {}", full_date(*from)),
        Field::Done(date) => format!("Run of {}", full_date(*date)),
        Field::WeekRan(from) => format!("Week from {}", full_date(*from)),
    }
}

/// What is wrong, without the place.
pub fn problem_kind(problem: &ProblemKind) -> String {
    match problem {
        ProblemKind::Missing => "nothing is given here, and something is needed".to_owned(),
        ProblemKind::TooLong { length, most } => format!("{length} characters are too many; at most {most} are kept"),
        ProblemKind::Negative { value } => format!("{} is below zero; write what is run, 0 or more", number(*value)),
        ProblemKind::TooMuch { value, most, unit } => {
            let (value, most, unit) = (number(*value), number(*most), unit.symbol());
            format!("{value} {unit} is more than anybody runs in one go; at most {most} {unit}")
        }
        ProblemKind::LowAboveHigh { low, high } => {
            let (low, high) = (number(*low), number(*high));
            format!("the range {low}–{high} starts above its end; write the smaller number first, as in {high}–{low}")
        }
        ProblemKind::HardAboveAmount { hard, amount, unit } => {
            let (hard, amount, unit) = (number(*hard), number(*amount), unit.symbol());
            format!(
                "the hard part of {hard} {unit} is more than the session of {amount} {unit}; give at most {amount} {unit}"
            )
        }
        ProblemKind::HardInOtherUnit { hard, amount } => format!(
            "the hard part is in {} and the session in {}; give both in the same unit",
            unit(*hard),
            unit(*amount)
        ),
        ProblemKind::HardNotAllowed { kind: what } => format!("{} has no hard part; leave it out", kind(*what)),
        ProblemKind::AmountMissing { kind: what } => amount_missing(*what),
        ProblemKind::AmountNotInMinutes { kind: what, unit: given } => {
            format!("{} is given in minutes, not in {}; write 30 min, say", kind(*what), unit(*given))
        }
        ProblemKind::ZeroAmount { kind: what } => {
            format!("{} of length 0 is no session; give its length or leave it out", kind(*what))
        }
        ProblemKind::SetsOutOfRange { reps, most } => {
            format!("{} cannot be; between 1 and {most}", plural(usize::from(*reps), "repetition"))
        }
        ProblemKind::RepetitionOutOfRange { length, most, unit } => {
            let (length, most, unit) = (number(*length), number(*most), unit.symbol());
            format!("a repetition of {length} {unit} cannot be; more than 0 and at most {most} {unit}")
        }
        ProblemKind::TooManySets { count, most } => {
            format!("{count} lines of repetitions in one session are too many; at most {most}")
        }
        ProblemKind::TooManySessions { count, most } => {
            format!("{} on one day are too many; at most {most}", plural(*count, "session"))
        }
        ProblemKind::TooManyWeeks { count, most } => {
            format!("{count} weeks are more than say what is typical now; at most the last {most}")
        }
        ProblemKind::EmptyWeek => NO_RUNNING.to_owned(),
        ProblemKind::PaceOutOfRange { seconds } => format!(
            "a pace of {}:{:02} cannot be right; between 2:00 and 20:00 for a kilometre or a mile",
            seconds / 60,
            seconds % 60
        ),
        ProblemKind::WeightOutOfRange { value, unit } => no_weight(*value, *unit),
        ProblemKind::YearOutOfRange { year, from, to } => year_out_of_range(*year, *from, *to),
        ProblemKind::RaceInThePast { date, today } | ProblemKind::DayIsPast { date, today } => {
            format!("{} is past (today is {}); give a day that is still to come", full_date(*date), full_date(*today))
        }
        ProblemKind::RaceTooFar { date, today } => format!(
            "{} is more than three years away (today is {}); give a nearer day",
            full_date(*date),
            full_date(*today)
        ),
        ProblemKind::EndsBeforeItBegins { from, to } => {
            format!("{} is before {}; give the first day first", full_date(*to), full_date(*from))
        }
        ProblemKind::EventTooLong { days, most } => event_too_long(*days, *most),
        ProblemKind::TwoDates { text, day_first, month_first } => two_dates(text, *day_first, *month_first),
        ProblemKind::DateOutOfRange { date } => unknown_year(*date),
        ProblemKind::NotAMonday { date } => no_monday(*date),
        ProblemKind::DistanceOutOfRange { km } => no_race(*km),
        ProblemKind::CourseTooShort { points } => too_short(*points),
        ProblemKind::CourseOfOtherLength { measured_km, official_km } => other_length(*measured_km, *official_km),
        ProblemKind::OutsideRace { value, length, unit } => outside_race(*value, *length, *unit),
        ProblemKind::SamePlace { value, unit, line } => same_place(*value, *unit, *line),
        ProblemKind::TooManyLines { count, most } => too_many_lines(*count, *most),
        ProblemKind::CutOffGoesBack { time, earlier } => cut_off_goes_back(*time, *earlier),
        ProblemKind::RaceTimeOutOfRange { time, from, to } => {
            format!("nobody runs this distance in {time}; a time between {from} and {to}")
        }
        ProblemKind::OutOfRange { value, from, to } => out_of_range([*value, *from, *to]),
        ProblemKind::PinOutsideBlock { date, first, last } => format!(
            "{} is not a day of this block, which would be from {} to {}; leave that day to the planner first, or make \
             the block long enough to hold it",
            full_date(*date),
            full_date(*first),
            full_date(*last)
        ),
        ProblemKind::PinnedTwice { date } => format!("{} is fixed twice; fix each day once", full_date(*date)),
        ProblemKind::RaceDayBent { date } => format!("{} is race day; choose another day", full_date(*date)),
        ProblemKind::SameDay { date } => format!("{} is the day itself; choose another day", full_date(*date)),
        ProblemKind::NoSuchSession { place, count } => format!(
            "there is no session {place}, the day holds {}; choose one that stands there",
            plural(*count, "session")
        ),
        ProblemKind::WholeUnsaid { told, line, pace } => whole_unsaid(told, line, *pace),
        ProblemKind::ResultLacks { day, distance, time } => result_lacks([*day, *distance, *time]),
        ProblemKind::Unreadable { text, expected: wanted } => unreadable(text, *wanted),
    }
}

fn event_too_long(days: i64, most: i64) -> String {
    format!("{days} days are longer than anybody means here; at most {most}")
}

fn too_short(points: usize) -> String {
    let verb = if points == 1 { "is" } else { "are" };
    format!("a course needs two places that differ, and here {verb} {}; give the whole way", plural(points, "point"))
}

fn other_length(measured_km: f64, official_km: f64) -> String {
    let (measured, official) = (short_number(measured_km), short_number(official_km));
    format!(
        "the course is {measured} km long and the race {official} km; they may differ by a tenth, so this is another course"
    )
}

fn out_of_range(numbers: [f64; 3]) -> String {
    let [value, from, to] = numbers.map(|one| number(Milli::nearest(one)));
    let side = if numbers[0] > numbers[2] { "too much" } else { "too little" };
    format!("{value} is {side}; a number from {from} to {to}")
}

const NO_RUNNING: &str =
    "there is no running on any day, so there is nothing to plan from; give what the athlete usually runs";

fn outside_race(value: Milli, length: Milli, unit: DistanceUnit) -> String {
    let (value, length, unit) = (number(value), number(length), unit.symbol());
    format!("{value} {unit} is no place of this race; more than 0 and at most {length} {unit}")
}

fn same_place(value: Milli, unit: DistanceUnit, line: usize) -> String {
    format!("{} {} stands in line {line} already; write each place once", number(value), unit.symbol())
}

fn too_many_lines(count: usize, most: usize) -> String {
    format!("{} are too many; at most {most} are kept", plural(count, "line"))
}

fn cut_off_goes_back(time: RaceTime, earlier: RaceTime) -> String {
    format!("a cut-off of {time} is before the one of an earlier place, {earlier}; give the time since the start")
}

fn no_race(km: f64) -> String {
    let (from, to) = RaceDistance::LIMITS_KM;
    let (km, from, to) = (short_number(km), short_number(from), short_number(to));
    format!("a race of {km} km is not planned for; between {from} and {to} km")
}

fn no_weight(value: Milli, unit: WeightUnit) -> String {
    let (least, most) = Weight::limits(unit);
    let unit = unit.symbol();
    format!("{} {unit} cannot be right; between {least} and {most} {unit}", number(value))
}

fn unknown_year(date: NaiveDate) -> String {
    let (from, to) = (YEARS.start(), YEARS.end());
    format!("{date} is outside the years that are known here, {from} to {to}")
}

fn no_monday(date: NaiveDate) -> String {
    let monday = date.week(Weekday::Mon).first_day();
    format!("{} is no Monday; give a Monday, such as {}", full_date(date), full_date(monday))
}

fn two_dates(text: &str, day_first: NaiveDate, month_first: NaiveDate) -> String {
    let (one, other, example) = (full_date(day_first), full_date(month_first), day_month_year(day_first));
    format!("“{}” may be {one} or {other}; write the month as a word, as in {example}", quote(text))
}

fn date_lacks(typed: &str) -> String {
    format!("the date is missing, and a month is enough; write “{} Oct 2025”, say", quote(typed))
}

fn result_lacks(lacks: [bool; 3]) -> String {
    if lacks == [true, false, false] {
        return date_lacks("Marathon 2:57");
    }
    let parts = ["the date", "the distance", "the time"].into_iter().zip(lacks).filter(|(_, lacks)| *lacks);
    let parts: Vec<String> = parts.map(|(part, _)| part.to_owned()).collect();
    let verb = if parts.len() == 1 { "is" } else { "are" };
    format!("{} {verb} missing; write all three, as in 14 March 10k 42:10", list(&parts))
}

fn unreadable(text: &str, wanted: Expected) -> String {
    if text.trim().is_empty() {
        return format!("nothing is written where something is needed; {}", expected(wanted));
    }
    let what = match not_a(wanted) {
        Some(what) => format!("is not {what}"),
        None => "cannot be read here".to_owned(),
    };
    format!("“{}” {what}; {}", quote(text), expected(wanted))
}

/// A year of birth that cannot be one.
fn year_out_of_range(year: i32, from: i32, to: i32) -> String {
    if (0..100).contains(&year) {
        format!("{year} may be an age or the end of a year; write all four digits of the year, such as 1988")
    } else {
        format!("{year} cannot be right; a year from {from} to {to}")
    }
}

fn whole_unsaid(told: &str, line: &str, pace: Option<Pace>) -> String {
    let pace_words =
        |pace: Pace| format!("{pace} for one {}", if pace.per() == DistanceUnit::Km { "kilometre" } else { "mile" });
    let counted = match pace {
        Some(pace) => format!("the athlete’s easy pace, {}", pace_words(pace)),
        None => format!("{}, as no easy pace is noted", pace_words(Pace::ASSUMED)),
    };
    format!(
        "“{}”: how much is the whole run? Distance and minutes have no sum, so write it too, as in {line}. There the \
         minutes count at {counted}; put in the distance if you know it better",
        quote(told)
    )
}

fn amount_missing(what: Kind) -> String {
    let example = match what {
        Kind::Intervals | Kind::Hills | Kind::Fartlek => {
            "the whole run with warm-up and cool-down, as in 6 x 800 m, 10 km"
        }
        _ => "a length, as in 8 km, 5 mi or 50 min",
    };
    format!("{} without a length; give {example}", kind(what))
}

/// The thing that a text is not, where naming it helps.
const fn not_a(expected: Expected) -> Option<&'static str> {
    match expected {
        Expected::Number => Some("a number"),
        Expected::Amount => Some("an amount"),
        Expected::Range => Some("a number or a range"),
        Expected::Unit => Some("a unit that is known here"),
        Expected::OneUnit => Some("a list in one unit"),
        Expected::SessionKind => Some("a kind of session"),
        Expected::Date => Some("a date"),
        Expected::Duration => Some("a length that is sure"),
        Expected::Time => Some("a time of day"),
        Expected::RaceTime => Some("a time for a race"),
        Expected::Zone => Some("a time zone that is known here"),
        Expected::WeekRan => Some("an amount of running"),
        Expected::Pace => Some("a pace"),
        Expected::Weight => Some("a weight"),
        Expected::Year => Some("a year"),
        Expected::RaceDistance => Some("a race distance"),
        Expected::Temperature => Some("a temperature"),
        Expected::Place => Some("a place along the race"),
        Expected::Sets
        | Expected::DayOfMonth
        | Expected::OneResult
        | Expected::HardPart
        | Expected::Quote
        | Expected::Bracket
        | Expected::Session
        | Expected::Part
        | Expected::OneKind
        | Expected::OneAmount
        | Expected::OneHardPart
        | Expected::WholeRun
        | Expected::PartBetween
        | Expected::PartsInOrder
        | Expected::HowHard
        | Expected::RestOrRun
        | Expected::TwoRuns
        | Expected::HalfOrClock
        | Expected::RangeOrRuns
        | Expected::RunOrMinutes
        | Expected::TotalOfDay
        | Expected::UnitOfRun => None,
    }
}

/// What a text should have been.
pub const fn expected(expected: Expected) -> &'static str {
    match expected {
        Expected::Number => "write a number such as 8 or 10.5, with at most three decimals",
        Expected::Amount => "write an amount such as 8, 8-10 km, 5 mi, 50 min or 1:20 h",
        Expected::Range => "give a number or two in square brackets, low and high, as in [8, 10]",
        Expected::Unit => "write the unit as km, mi or min",
        Expected::OneUnit => "give all of them in km, all in mi or all in min",
        Expected::Sets => "write repetitions and the whole run, as in 6 x 800 m, 10 km or as in 3 x 10 min, 70 min",
        Expected::HardPart => "write the hard part as an amount, as in 10 km, hard 4 km",
        Expected::SessionKind => {
            "say what it is: easy, long, steady, tempo, intervals, hills, time trial (a race or a timed run too), \
             cross-training, strength, mobility or rest, with an amount, as in time trial 5 km; your own word for it \
             may stand in brackets, as in tempo 8 km (club night)"
        }
        Expected::HowHard => {
            "is some of this run hard? Say how much, as in 12 km, hard 4 km or as in 16 km, last 5 km at marathon pace; \
             or the kind, as in hills 9 km. What is nothing but a note stands in brackets and quotes, as in easy 8 km \
             (\"hill route\")"
        }
        Expected::RestOrRun => {
            "is this a day of rest or of running? Write what it usually is, the other in brackets, as in rest (or easy 5) \
             or as in easy 5 km (or rest)"
        }
        Expected::UnitOfRun => {
            "is this distance or time? Write km, mi or min behind the number, as in 45 min or as in 45 km"
        }
        Expected::TwoRuns => {
            "are these two runs of a day? Write each, as in AM 8 km easy, PM 6 km easy or as in 40 min + 40 min; repetitions inside a run need the whole, \
             as in 6 x 800 m, 10 km"
        }
        Expected::HalfOrClock => {
            "is the number the run or the hour? Write AM 8 for a run of 8 in the morning, or the run with its hour in \
             brackets, as in 10 km (8 am)"
        }
        Expected::RangeOrRuns => {
            "is this a range, or two runs of a day? Write the range as in 8-10, two runs as in 8 + 10"
        }
        Expected::RunOrMinutes => {
            "is the number a run beside it, or its minutes? Write both as in 8 km + gym, or the minutes as in gym 30 min"
        }
        Expected::TotalOfDay => {
            "the runs of this day do not come to that total; write each with its amount and its unit, as in 6 km + 4 km, \
             and leave the total out"
        }
        Expected::Duration => "is this a time or a pace? Write a time with its unit, as in 1:30 h or as in 45 min",
        Expected::Date => "write YYYY-MM-DD, a day of the calendar, as in 2027-05-09",
        Expected::DayOfMonth => "write the day too, as in 9 May 2027",
        Expected::OneResult => {
            "which date, distance and time belong together? Write one race a line, and other numbers in brackets, as in \
             14 March half 1:32:05 (10k in 43:20)"
        }
        Expected::Time => "write a time such as 09:30",
        Expected::WeekRan => "write as planned, nothing, more, less, 60 %, or an amount such as 35 km or 4:30 h",
        Expected::RaceTime => "write a time such as 42:10, 3:25:00 or 3 h 25",
        Expected::Zone => {
            "write a time zone by continent and city, such as Europe/Lisbon, or as people say it, such as Central or CET"
        }
        Expected::Pace => "write a pace such as 5:45, minutes and seconds for one kilometre or mile",
        Expected::Weight => "write a weight such as 62 kg or 140 lb",
        Expected::Year => "write a year such as 1988",
        Expected::RaceDistance => "write 5k, 10k, 10 mi, half, marathon, or a distance with its unit such as 30 km",
        Expected::Temperature => "write degrees Celsius such as 18, or 64 F",
        Expected::Place => "write how far it is and what it is called, as in 8 km bridge",
        Expected::Quote => {
            "close the quote with a second quotation mark, and write the words once, as in easy 8 km (\"flat\")"
        }
        Expected::Bracket => "open and close the bracket, as in easy 8 km (flat)",
        Expected::Session => "write a session, as in easy 8 km",
        Expected::Part => {
            "write only kind, amount, repetitions, hard part or loaded, and your own words in brackets, as in easy 8 km \
             (on the grass)"
        }
        Expected::OneKind => {
            "a session has one kind; join two sessions with +, as in 5 + strength 30; or say how much of a run is hard, \
             as in 12 km, hard 5 km"
        }
        Expected::OneAmount => {
            "a session has one amount; write the whole and how much of it is hard, as in 12 km, hard 5 km; join two runs \
             of a day with +, as in 10 + 6"
        }
        Expected::OneHardPart => "a session has one hard part; add them up, as in 12 km, hard 5 km",
        Expected::WholeRun => {
            "how much is the whole run? Give every part in the same unit, or the whole behind them, as in 15 min warm up, \
             6 x 800 m, 10 min cool down, 10 km"
        }
        Expected::PartBetween => {
            "what is run beside it, and how? Write it in its place, as in 2 km warm up, tempo 5 km, 2 km cool down"
        }
        Expected::PartsInOrder => {
            "is this the whole run or a part of it? Write the parts in the order in which they are run, as in 2 km warm \
             up, tempo 5 km, 2 km cool down; or say what of the whole is hard, as in tempo 9 km, hard 5 km"
        }
    }
}

/// The longest piece of somebody's text that a message repeats, in characters.
const QUOTED_MOST: usize = 60;

/// Somebody's text for repeating in a message: on one line, and not too long.
pub fn quote(text: &str) -> String {
    let line: String =
        text.trim().chars().map(|next| if next.is_control() || next.is_whitespace() { ' ' } else { next }).collect();
    if line.chars().count() <= QUOTED_MOST {
        return line;
    }
    let start: String = line.chars().take(QUOTED_MOST).collect();
    format!("{start}…")
}
