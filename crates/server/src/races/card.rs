//! The coach's card: when everybody passes where the coach stands, on one side of paper.

use askama::Template;
use axum::extract::State;
use axum::http::StatusCode;
use axum::response::Response;
use chrono::{NaiveDate, NaiveDateTime, NaiveTime, Timelike};
use formats::{words, zones};
use planning::notation::{find_race_time, read_stands};
use planning::{GoalLetter, Pacing, Profile, Race, RaceTime, Stand};
use store::{CardEntry, CourseRecord, Paper, RaceFactsRecord, RaceId, RaceRecord};

use crate::blocks::sheet::paper_style;
use crate::error::AppError;
use crate::extract::Id;
use crate::race_day;
use crate::race_day::fitted::{Fit, fitted};

use crate::render::{self, Page};
use crate::shown;
use crate::state::AppState;

/// The card.
#[derive(Template)]
#[template(path = "races/card.html")]
pub(crate) struct CardPage {
    id: RaceId,
    name: String,
    facts: String,
    called_off: bool,
    /// Why there is no column of the coach's own, or why there should be others.
    told: Option<&'static str>,
    columns: Vec<Column>,
    rows: Vec<Row>,
    /// Who has no time to reckon with, and why.
    without: Vec<Without>,
    /// How the times came about.
    notes: Vec<String>,
    paper: Paper,
}

/// A place where the coach stands.
struct Column {
    at: String,
    name: String,
}

/// One athlete.
struct Row {
    name: String,
    /// Number, pen, wave and phone, as far as they are known.
    start: String,
    /// First and last passing at each place.
    passes: Vec<String>,
    /// The first passing of all, by which rows are sorted.
    first: Moment,
}

/// One athlete without times.
struct Without {
    name: String,
    why: String,
    /// As in [`Row`].
    start: String,
}

/// When somebody passes: by the clocks of the place, or since the start where that is not known.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Moment {
    Clock(NaiveDateTime),
    Elapsed(RaceTime),
}

/// What all rows are reckoned with.
struct Reckoning<'a> {
    race: &'a Race,
    profile: &'a Profile,
    stands: &'a [Stand],
}

impl Reckoning<'_> {
    /// The row of an athlete, or why there is none.
    fn row(&self, entry: &CardEntry) -> Result<Row, String> {
        let goals = self.goals(entry)?;
        let (fastest, slowest) = (goals.iter().min(), goals.iter().max());
        let (Some(fastest), Some(slowest)) = (fastest, slowest) else {
            return Err("no goal is a time".to_owned());
        };
        let pacing = |goal: &RaceTime| Pacing::new(self.profile, entry.strategy, *goal);
        let (fastest, slowest) = (pacing(fastest), pacing(slowest));
        let at = |pacing: &Pacing, stand: &Stand| self.moment(entry, pacing.elapsed(stand.at.distance()));
        let passes: Vec<(Moment, Moment)> =
            self.stands.iter().map(|stand| (at(&fastest, stand), at(&slowest, stand))).collect();
        let first = passes.first().map_or(Moment::Elapsed(RaceTime::seconds(0)), |(first, _)| *first);
        let passes = passes.into_iter().map(|(first, last)| said(first, last, self.race.date)).collect();
        Ok(Row { name: entry.name.clone(), start: start(entry), passes, first })
    }

    /// The goals that are times.
    fn goals(&self, entry: &CardEntry) -> Result<Vec<RaceTime>, String> {
        if entry.block.is_none() {
            return Err("no block is made yet".to_owned());
        }
        let length = self.profile.length();
        let mut wrong = None;
        let mut found = Vec::new();
        for (letter, goal) in GoalLetter::ALL.into_iter().zip(&entry.goals) {
            match find_race_time(goal, length) {
                Ok(time) => found.extend(time),
                Err(kind) => wrong = wrong.or(Some((letter, goal, kind))),
            }
        }
        match wrong {
            Some((letter, goal, kind)) if found.is_empty() => {
                let (letter, goal) = (letter.as_str(), words::quote(goal));
                Err(format!("goal {letter} is “{goal}”: {}", words::problem_kind(&kind)))
            }
            _ => Ok(found),
        }
    }

    /// When an athlete passes who has run so long since crossing the start line.
    fn moment(&self, entry: &CardEntry, elapsed: RaceTime) -> Moment {
        let seconds = elapsed.as_seconds() + u32::from(entry.gun_seconds);
        match entry.wave_start.or(self.race.start) {
            Some(start) => {
                let zone = self.race.zone.as_deref();
                Moment::Clock(zones::clock_after(self.race.date.and_time(start), seconds, zone))
            }
            None => Moment::Elapsed(RaceTime::seconds(seconds)),
        }
    }
}

/// `10:12–10:16`: the first passing rounded down and the last rounded up, so that nobody comes too late to see it.
fn said(first: Moment, last: Moment, day: NaiveDate) -> String {
    let (first, last) = match (first, last) {
        (Moment::Clock(first), Moment::Clock(last)) => {
            let up = if last.second() > 0 { last + chrono::TimeDelta::seconds(60) } else { last };
            (clock(first, day), clock(if first == last { first } else { up }, first.date()))
        }
        (Moment::Elapsed(first), Moment::Elapsed(last)) => (with_hours(first), with_hours(last)),
        // One start is one kind of moment.
        (Moment::Clock(one), Moment::Elapsed(_)) | (Moment::Elapsed(_), Moment::Clock(one)) => {
            (clock(one, day), clock(one, day))
        }
    };
    if first == last { first } else { format!("{first}\u{2013}{last}") }
}

/// `0:20:00`: without the hour it would read as a time of day.
fn with_hours(time: RaceTime) -> String {
    let seconds = time.as_seconds();
    format!("{}:{:02}:{:02}", seconds / 3600, seconds / 60 % 60, seconds % 60)
}

/// `10:12`, with the weekday where it is another than the one before.
fn clock(at: NaiveDateTime, day: NaiveDate) -> String {
    let time = at.format("%H:%M");
    if at.date() == day {
        time.to_string()
    } else {
        format!("{} {time}", words::weekday_short(chrono::Datelike::weekday(&at)))
    }
}

fn start(entry: &CardEntry) -> String {
    let wave = entry.wave_start.map(|time| format!("starts {}", hours(time)));
    let bib = (!entry.bib.is_empty()).then(|| format!("no. {}", entry.bib));
    let pen = (!entry.pen.is_empty()).then(|| race_day::pen(&entry.pen));
    let phone = (!entry.phone.is_empty()).then(|| entry.phone.clone());
    bib.into_iter().chain(pen).chain(wave).chain(phone).collect::<Vec<_>>().join(", ")
}

fn hours(time: NaiveTime) -> String {
    time.format("%H:%M").to_string()
}

impl CardPage {
    fn new(
        race: &RaceRecord,
        course: Option<&CourseRecord>,
        facts: Option<&RaceFactsRecord>,
        entries: &[CardEntry],
        paper: Paper,
        units: planning::DistanceUnit,
    ) -> Self {
        let length = race.race.distance.distance();
        let (ground_profile, ground) = fitted(course.map(|record| &record.course), length);
        let read =
            facts.map_or_else(|| Ok(Vec::new()), |kept| read_stands(&kept.facts.stands, kept.facts.units, length));
        let told = match &read {
            Err(_) => Some("The places where you stand no longer fit the race"),
            Ok(stands) if stands.is_empty() => Some("Note where you stand"),
            Ok(_) => None,
        };
        let mut stands = read.unwrap_or_default();
        if stands.is_empty() {
            stands.push(Stand { at: planning::Place::finish(length, units), name: "finish".to_owned() });
        }
        let reckoning = Reckoning { race: &race.race, profile: &ground_profile, stands: &stands };
        let (mut rows, mut without) = (Vec::new(), Vec::new());
        for entry in entries {
            match reckoning.row(entry) {
                Ok(row) => rows.push(row),
                Err(why) => without.push(Without { name: entry.name.clone(), why, start: start(entry) }),
            }
        }
        rows.sort_by(|one, other| one.first.cmp(&other.first).then_with(|| one.name.cmp(&other.name)));
        let column = |stand: &Stand| Column { at: words::race_place(stand.at, length), name: stand.name.clone() };
        Self {
            id: race.id,
            name: race.race.name.clone(),
            facts: facts_line(race),
            called_off: race.called_off.is_some(),
            told,
            columns: stands.iter().map(column).collect(),
            notes: notes(&race.race, &ground),
            rows,
            without,
            paper,
        }
    }

    fn paper_style(&self) -> &'static str {
        paper_style(self.paper)
    }
}

/// `Half marathon, Sunday 9 May 2027, start at 09:30`.
fn facts_line(race: &RaceRecord) -> String {
    let mut facts = vec![shown::capital(&words::race_distance(race.race.distance)), words::full_date(race.race.date)];
    facts.extend(race.race.start.map(|start| format!("start at {}", hours(start))));
    facts.join(", ")
}

fn notes(race: &Race, ground: &Fit) -> Vec<String> {
    let zone = race.zone.as_ref().map_or_else(String::new, |zone| format!(" ({zone})"));
    let clocks = match race.start {
        Some(start) => format!(
            "Times of day by the clocks of the place{zone}, from the official start at {} or the athlete's wave, with the time to \
             the line where it is noted.",
            hours(start)
        ),
        None => {
            "The start of the race is not known: times since the start, but for who has a wave with its own.".to_owned()
        }
    };
    let course = match ground {
        Fit::Measured => "Hills are reckoned with.",
        Fit::Unknown | Fit::WithoutHeights | Fit::OfOtherLength(_) => "Reckoned as on the flat.",
    };
    vec![
        format!("{clocks} From the fastest goal that is a time to the slowest; a single goal is one time."),
        format!("{course} Places are those of the official course, not of a watch."),
    ]
}

impl Page for CardPage {
    #[cfg(test)]
    fn samples() -> Vec<Self> {
        use planning::{DistanceUnit, RaceDistance};
        use store::{AthleteId, BlockId, RaceFacts, Version};

        use super::sample;
        let race = sample::race(RaceDistance::Half);
        let entry = |number: i64, goal: &str| CardEntry {
            phone: "+351 900 000 000 <b>".to_owned(),
            athlete: AthleteId(number),
            name: format!("Runner {number} <b>"),
            block: (number != 3).then_some(BlockId(number)),
            goals: [goal.to_owned(), String::new(), "1:59:59".to_owned()],
            strategy: planning::Strategy::default(),
            bib: number.to_string(),
            pen: "C <b>".to_owned(),
            wave_start: (number == 2).then(|| NaiveTime::from_hms_opt(9, 40, 0).expect("a time")),
            gun_seconds: 30,
        };
        let entries = [entry(1, "1:45 <b>"), entry(2, "1:40"), entry(3, "")];
        let facts = |stands: &str| RaceFactsRecord {
            version: Version(1),
            facts: RaceFacts { stands: stands.to_owned(), ..RaceFacts::default() },
        };
        let page = |race: &RaceRecord, stands: &str, entries: &[CardEntry], paper| {
            Self::new(race, None, Some(&facts(stands)), entries, paper, DistanceUnit::Km)
        };
        let off = RaceRecord { called_off: Some(race.race.date), ..race.clone() };
        vec![
            page(&race, "8 bridge <b>\n15 mill\nfinish", &entries, Paper::A4),
            page(&off, "30 far", &entries, Paper::Letter),
            Self::new(&race, None, None, &[], Paper::A4, DistanceUnit::Mi),
        ]
    }
}

/// `GET /races/{race}/card`
pub(crate) async fn get(State(state): State<AppState>, Id(id): Id<RaceId>) -> Result<Response, AppError> {
    let race = state.store.race(id).await?.ok_or(AppError::NotFound)?;
    let course = state.store.course(id).await?;
    let facts = state.store.race_facts(id).await?;
    let entries = state.store.card_entries(id).await?;
    let coach = state.store.settings().await?;
    let page = CardPage::new(&race, course.as_ref(), facts.as_ref(), &entries, coach.paper, coach.units);
    render::page(StatusCode::OK, &page)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(text: &str) -> Moment {
        Moment::Clock(text.parse().unwrap())
    }

    #[test]
    fn a_passing_is_said_so_that_nobody_misses_it() {
        let day = "2027-05-09".parse().unwrap();
        let clock = |first: &str, last: &str| said(at(first), at(last), day);
        assert_eq!(clock("2027-05-09T10:12:59", "2027-05-09T10:16:01"), "10:12\u{2013}10:17");
        assert_eq!(clock("2027-05-09T10:12:00", "2027-05-09T10:16:00"), "10:12\u{2013}10:16");
        assert_eq!(clock("2027-05-09T10:12:30", "2027-05-09T10:12:30"), "10:12", "one goal is one time");
        assert_eq!(clock("2027-05-09T23:50:00", "2027-05-10T00:20:00"), "23:50\u{2013}Mon 00:20");
        assert_eq!(clock("2027-05-10T01:50:00", "2027-05-10T02:20:00"), "Mon 01:50\u{2013}02:20");
        let elapsed = |seconds| Moment::Elapsed(RaceTime::seconds(seconds));
        assert_eq!(said(elapsed(2400), elapsed(4000), day), "0:40:00\u{2013}1:06:40");
    }
}
