//! What typed lines say, and what is wrong with them.

use chrono::{NaiveDate, Weekday};
use formats::words;
use planning::fit::{Typical, typical};
use planning::notation::{read_amount, read_date, read_day, read_second_week, read_week, write_day};
use planning::week::{SevenDays, Slot, Turns, WEEKDAYS, weekday_code};
use planning::{Amount, Athlete, BaseWeek, Field, Problem, ProblemKind, Unit};
use store::{SecondWeek, WeekDraft, WeekRecord};

use super::offered::Answer;
use crate::form::Problems;

/// Everything that stands on the page of a base week, as typed.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(crate) struct Lines {
    /// Monday first.
    pub(crate) days: [String; 7],
    pub(crate) range: String,
    /// A day, or empty.
    pub(crate) since: String,
    /// The second week; there is none where nothing was typed on any day.
    pub(crate) second: [String; 7],
    /// A Monday on which the second week stands.
    pub(crate) stands_on: String,
    /// Totals of recent weeks: looked at, never kept.
    pub(crate) recent: String,
    /// Whose week to take: a name or a part of it, never kept.
    pub(crate) borrow_from: String,
    /// To which total to fit that week, never kept.
    pub(crate) borrow_total: String,
}

impl Lines {
    /// What is kept of an athlete.
    pub(crate) fn kept(week: WeekRecord) -> Self {
        let (second, stands_on) =
            week.second.map_or_else(Default::default, |second| (second.lines, second.stands_on.to_string()));
        let since = week.since.map_or_else(String::new, |since| since.to_string());
        Self { days: week.lines, range: week.range, since, second, stands_on, ..Self::default() }
    }

    /// Every line with its control.
    pub(super) fn by_control(&mut self) -> impl Iterator<Item = (String, &mut String)> {
        let codes = weekdays().map(|(code, _)| code.to_owned());
        let second = weekdays().map(|(code, _)| second_control(code));
        codes.into_iter().chain(second).zip(self.days.iter_mut().chain(&mut self.second))
    }

    /// The same with the lines that are kept for those that were typed.
    fn answered(mut self, days: &[Answer; 7], second: &[Answer; 7]) -> Self {
        let lines = self.days.iter_mut().chain(&mut self.second);
        for (line, answer) in lines.zip(days.iter().chain(second)) {
            *line = answer.line(line).to_owned();
        }
        self
    }

    /// Whether a second week was typed.
    pub(crate) fn has_second(&self) -> bool {
        self.second.iter().any(|line| !line.is_empty())
    }

    /// The same as a draft; lines that were read without a problem lose nothing by it.
    pub(crate) fn draft(&self) -> WeekDraft {
        let second = read_date(&self.stands_on).ok().filter(|_| self.has_second());
        WeekDraft {
            lines: self.days.clone(),
            range: self.range.clone(),
            second: second.map(|stands_on| SecondWeek { lines: self.second.clone(), stands_on }),
            since: read_date(&self.since).ok(),
        }
    }
}

/// What the lines say.
pub(crate) struct Reading {
    /// The lines as they are kept: those that have one answer in its words.
    pub(crate) kept: Lines,
    /// Each day in the program's words; nothing where the line cannot be read.
    pub(crate) days: [String; 7],
    /// What becomes of each line that is not read as it stands.
    pub(crate) answers: [Answer; 7],
    /// What each day does not do although it may seem to; nothing for most.
    pub(crate) remarks: [&'static str; 7],
    /// The totals in a sentence; of the readable days alone if some cannot be read.
    pub(crate) totals: String,
    /// The second week in the same way.
    pub(crate) second_days: [String; 7],
    pub(crate) second_answers: [Answer; 7],
    pub(crate) second_remarks: [&'static str; 7],
    /// Its totals, the mean of both, and which of the two is due; empty where there is none.
    pub(crate) second_totals: String,
    /// What is typical of recent weeks, and how the week stands to it; empty where none were given.
    pub(crate) typical: String,
    /// The total to which the week may be fitted.
    pub(crate) fits: Option<Amount>,
    /// The week as far as it can be read.
    pub(crate) week: BaseWeek,
    pub(crate) problems: Problems,
}

impl Reading {
    /// Reads lines for an athlete.
    pub(crate) fn of(lines: &Lines, athlete: &Athlete, today: NaiveDate) -> Self {
        let mut found = Vec::new();
        let answers = lines.days.each_ref().map(|line| Answer::of(line, athlete));
        let second_answers = lines.second.each_ref().map(|line| Answer::of(line, athlete));
        let lines = lines.clone().answered(&answers, &second_answers);
        let texts = lines.days.each_ref().map(String::as_str);
        let days = texts.map(|line| read_day(line, athlete).ok());
        found.extend(read_week(&texts, &lines.range, athlete).err().unwrap_or_default());
        let second_texts = lines.second.each_ref().map(String::as_str);
        let second_days = second_texts.map(|line| read_day(line, athlete).ok());
        let turns = read_turns(&lines, &second_texts, &second_days, athlete, &mut found);
        let since = read_since(&lines.since, &mut found);

        let known = |days: &[Option<Vec<Slot>>; 7]| days.clone().map(Option::unwrap_or_default);
        let range = read_amount(&lines.range, athlete.units).ok();
        let week = BaseWeek::new(known(&days), range).run_since(since).taking_turns(turns);
        let mut problems = Problems::default();
        let (typical, fits) = read_recent(&lines.recent, &week, athlete, &mut found);
        for problem in &found {
            problems.add(control(&problem.at), crate::words::problem(problem));
        }
        let told = |week: &SevenDays, range, days: &[Option<_>; 7]| {
            let mut totals = words::seven_days(week, range, athlete.units, athlete.easy_pace);
            if days.iter().any(Option::is_none) {
                totals.push_str(" Days that cannot be read yet are not counted.");
            }
            totals
        };
        let second_totals = week.turns().map_or_else(String::new, |turns| {
            let mean = words::mean_of_two(&week, athlete.units);
            format!("{} {mean} {}", told(&turns.week, None, &second_days), words::whose_turn(turns, today))
        });
        let remarks = |days: &[Option<Vec<Slot>>; 7]| {
            days.each_ref().map(|day| day.as_ref().and_then(|day| words::remark(day)).unwrap_or_default())
        };
        let in_words =
            |days: [Option<Vec<Slot>>; 7]| days.map(|slots| slots.map_or_else(String::new, |slots| words::day(&slots)));
        Self {
            totals: told(week.first(), range, &days),
            answers,
            second_answers,
            remarks: remarks(&days),
            second_remarks: remarks(&second_days),
            days: in_words(days),
            second_days: in_words(second_days),
            second_totals,
            typical,
            fits,
            week,
            problems,
            kept: lines,
        }
    }

    /// The days that are kept otherwise than they were typed, a bit each: those of the second week from the eighth on.
    pub(super) fn settled(&self) -> u32 {
        let all = self.answers.iter().chain(&self.second_answers).enumerate();
        all.filter(|(_, answer)| answer.kept().is_some()).map(|(at, _)| 1 << at).sum()
    }
}

/// The second week as far as it can be read.
fn read_turns(
    lines: &Lines,
    texts: &[&str; 7],
    days: &[Option<Vec<Slot>>; 7],
    athlete: &Athlete,
    found: &mut Vec<Problem>,
) -> Option<Turns> {
    if !lines.has_second() {
        return None;
    }
    let stands_on = match read_date(&lines.stands_on) {
        Ok(date) => Some(date),
        Err(_) if lines.stands_on.is_empty() => {
            found.push(Problem::new(Field::StandsOn, ProblemKind::Missing));
            None
        }
        Err(kind) => {
            found.push(Problem::new(Field::StandsOn, kind));
            None
        }
    };
    // Without a Monday the days are still read.
    let read = read_second_week(texts, stands_on.unwrap_or_default(), athlete);
    let counts = |problem: &Problem| stands_on.is_some() || problem.at != Field::StandsOn;
    found.extend(read.err().unwrap_or_default().into_iter().filter(counts));
    let week = SevenDays::new(days.clone().map(Option::unwrap_or_default));
    stands_on.map(|stands_on| Turns { week, stands_on })
}

fn read_since(text: &str, found: &mut Vec<Problem>) -> Option<NaiveDate> {
    if text.is_empty() {
        return None;
    }
    let since = read_date(text).map_err(|kind| found.push(Problem::new(Field::Since, kind))).ok()?;
    found.extend(BaseWeek::default().run_since(Some(since)).problems());
    Some(since)
}

/// What recent weeks say, and the total to which the week may be fitted: one that is not far from it
/// already, in units that can be compared.
fn read_recent(text: &str, week: &BaseWeek, athlete: &Athlete, found: &mut Vec<Problem>) -> (String, Option<Amount>) {
    if text.is_empty() {
        return (String::new(), None);
    }
    let running = week.running();
    let unit = if week.is_timed() { Unit::Min } else { athlete.units.unit() };
    let read: Typical = match typical(text, unit) {
        Ok(read) => read,
        Err(kind) => {
            found.push(Problem::new(Field::RecentWeeks, kind));
            return (String::new(), None);
        }
    };
    let said = words::typical(&read, &running, athlete.units);
    let total = Amount::exact(read.median, read.unit);
    let all_distance = |unit: Unit| unit != Unit::Min && running.parts().iter().all(|part| part.unit() != Unit::Min);
    let can_be_compared =
        athlete.easy_pace.is_some() || running.single_unit() == Some(read.unit) || all_distance(read.unit);
    if running.is_empty() {
        return (said, None);
    }
    if !can_be_compared {
        return (format!("{said} {}", crate::words::NEEDS_A_PACE), None);
    }
    let pace = athlete.easy_pace.unwrap_or(planning::Pace::ASSUMED);
    let (now, wanted) = (running.middle_km(pace), planning::units::middle_km(total, pace));
    let is_near = (now - wanted).abs() < wanted * NEAR;
    (said, (!is_near && wanted > 0.0).then_some(total))
}

/// A week this near to the typical one is left alone.
const NEAR: f64 = 0.01;

/// The control at which a problem of a week is said.
pub(crate) fn control(at: &Field) -> String {
    match at {
        Field::Session(day, _) => weekday_code(*day).to_owned(),
        Field::SecondSession(day, _) => second_control(weekday_code(*day)),
        Field::SecondWeek => second_control(weekday_code(Weekday::Mon)),
        Field::WeekRange => "range".to_owned(),
        Field::StandsOn => "stands_on".to_owned(),
        Field::Since => "since".to_owned(),
        Field::RecentWeeks => "recent".to_owned(),
        _ => weekday_code(Weekday::Mon).to_owned(),
    }
}

/// The control of a day of the second week.
pub(crate) fn second_control(day: &str) -> String {
    format!("second-{day}")
}

/// Every weekday by its code and its name, Monday first.
pub(crate) fn weekdays() -> [(&'static str, &'static str); 7] {
    WEEKDAYS.map(|day| (weekday_code(day), words::weekday(day)))
}

/// The seven lines of a week with their units, in those in which each day was typed; nothing on a day of rest.
pub(crate) fn written(week: &SevenDays) -> [String; 7] {
    WEEKDAYS.map(|weekday| if week.day(weekday).is_empty() { String::new() } else { write_day(week.day(weekday)) })
}

/// A line as it is shown: a day without one is rest.
pub(crate) fn or_rest(line: &str) -> String {
    if line.trim().is_empty() { "rest".to_owned() } else { line.to_owned() }
}

/// The problems that the store found although the page found none: a safety net, said at the days.
pub(crate) fn refused(found: &[Problem]) -> Problems {
    let mut problems = Problems::default();
    for problem in found {
        problems.add(control(&problem.at), crate::words::problem(problem));
    }
    problems
}
