//! What results and training say of a race: for the coach alone, side by side, never one number.

use chrono::NaiveDate;
use formats::words;
use planning::estimate::{Estimate, Estimates, FromResult, LONGEST, estimates};
use planning::{DistanceUnit, Formula, RaceDistance};
use store::{AthleteId, BlockRecord, past_results};

use crate::error::AppError;
use crate::shown::capital;
use crate::state::AppState;

/// What a marathon gains from a pace of easy running.
const PACE_HINT: &str = "With a pace of easy running the usual week says something too.";

/// What `race_day/estimates.html` shows.
pub(crate) struct EstimatesView {
    pub(crate) athlete: AthleteId,
    /// How far everything lies apart, in a sentence.
    pub(crate) spread: Option<String>,
    pub(crate) rows: Vec<Row>,
    /// What stands for training, and what comes out.
    pub(crate) training: Option<(String, Cell)>,
    pub(crate) left_out: Vec<String>,
    /// Whether a time lies beyond the races that its formula was made from.
    pub(crate) any_beyond: bool,
    pub(crate) is_marathon: bool,
    /// Whether no formula is meant for a race so long.
    pub(crate) is_too_long: bool,
    /// What would have to be typed where nothing can be said.
    pub(crate) lacking: String,
    /// What a pace of easy running would give; empty where it gives nothing, or is there.
    pub(crate) pace_hint: &'static str,
}

/// What the formulas make of one result.
pub(crate) struct Row {
    pub(crate) result: String,
    pub(crate) note: String,
    pub(crate) by: [Cell; 3],
}

/// One estimate.
pub(crate) struct Cell {
    /// Empty where the formula says nothing.
    pub(crate) time: String,
    pub(crate) is_beyond: bool,
}

impl Cell {
    fn new(estimate: Option<Estimate>) -> Self {
        Self {
            time: estimate.map(|estimate| estimate.time.to_string()).unwrap_or_default(),
            is_beyond: estimate.is_some_and(|estimate| estimate.is_beyond),
        }
    }
}

impl EstimatesView {
    /// Reads what the athlete ran of late, and asks every formula about the race of a block.
    pub(crate) async fn read(state: &AppState, record: &BlockRecord) -> Result<Self, AppError> {
        let athlete = record.athlete.id;
        let entries = state.store.entries_of(athlete).await?;
        let noted = state.store.results_of(athlete).await?;
        let results = past_results(record.athlete.draft.results(), &entries, &noted);
        let week = state.store.week(athlete).await?.ok_or(AppError::NotFound)?;
        let (race, pace) = (&record.race.race, record.athlete.draft.athlete.easy_pace);
        let today = state.clock.today();
        let found = estimates((race.distance, race.date), &results, (&week.week, pace), today);
        let units = state.store.settings().await?.units;
        Ok(Self::new(athlete, &found, units, today.min(race.date), pace.is_some()))
    }

    fn new(athlete: AthleteId, found: &Estimates, units: DistanceUnit, as_of: NaiveDate, has_pace: bool) -> Self {
        let goal = found.goal.distance();
        Self {
            athlete,
            spread: words::spread(found),
            rows: found.from_results.iter().map(Row::new).collect(),
            training: found
                .from_training
                .map(|training| (capital(&words::from_training(&training, units)), Cell::new(Some(training.estimate)))),
            left_out: found
                .left_out
                .iter()
                .map(|(result, why)| {
                    capital(&format!("{}: {}", words::past_result(result), words::left_out(*why, found.goal)))
                })
                .collect(),
            any_beyond: found.any_beyond(),
            is_marathon: goal == RaceDistance::Marathon.distance(),
            is_too_long: goal > LONGEST.distance(),
            lacking: words::lacking(found.goal, as_of),
            pace_hint: if has_pace || goal != RaceDistance::Marathon.distance() { "" } else { PACE_HINT },
        }
    }

    pub(crate) fn formulas() -> [&'static str; 3] {
        Formula::ALL.map(words::formula)
    }

    /// A marathon from two results and training, and from nothing at all.
    #[cfg(test)]
    pub(crate) fn samples() -> [Self; 3] {
        let sample = crate::blocks::sample::marathon();
        let lines = ["2027-03-14 half 1:32:05 (<b>windy)", "2027-02-07 10k 41:30", "2026-01-02 10k 39:59"];
        let results = lines.map(|line| planning::notation::read_result(line).expect("a result")).to_vec();
        let today = "2027-04-20".parse().expect("a date");
        let pace = planning::Pace::new(345, DistanceUnit::Km).ok();
        let of = |distance, results: &[_], pace: Option<_>| {
            let found = estimates((distance, sample.race.date), results, (&sample.week, pace), today);
            Self::new(AthleteId(4), &found, DistanceUnit::Km, today, pace.is_some())
        };
        let ultra = RaceDistance::Own(planning::Milli::whole(50), DistanceUnit::Km);
        [of(sample.race.distance, &results, pace), of(sample.race.distance, &[], None), of(ultra, &results, pace)]
    }
}

impl Row {
    fn new(row: &FromResult) -> Self {
        Self {
            result: capital(&words::past_result(&row.result)),
            note: row.result.note.clone(),
            by: row.by.map(Cell::new),
        }
    }
}
