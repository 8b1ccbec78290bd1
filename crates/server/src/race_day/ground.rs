//! What the pages of a race sheet read from the store, once for each request.

use std::sync::Arc;

use chrono::NaiveDate;
use planning::notation::read_stations;
use planning::station::Station;
use planning::{DistanceUnit, Profile, Strategy};
use store::{BlockId, BlockRecord, CoachSettings, GoalNotes, RaceFacts, RaceRecord};

use super::fitted::{Fit, fitted};
use super::times::Times;
use crate::error::AppError;
use crate::state::AppState;

/// What a race sheet is made of.
#[derive(Clone, Copy)]
pub(crate) struct Ground<'a> {
    pub(crate) record: &'a BlockRecord,
    pub(crate) course: &'a Course,
}

/// The course of a race, and what everybody has to know of it.
#[derive(Clone)]
pub(crate) struct Course {
    /// Flat where no course is kept, or none that fits.
    pub(crate) profile: Profile,
    pub(crate) fit: Fit,
    pub(crate) facts: Option<RaceFacts>,
}

/// Everything that a page of a race sheet reads.
pub(crate) struct Opened {
    pub(crate) record: BlockRecord,
    pub(crate) coach: CoachSettings,
    /// Shared: a course has thousands of points, and a race has many who run it.
    pub(crate) course: Arc<Course>,
    pub(crate) today: NaiveDate,
}

impl Course {
    /// Reads it as the race is now.
    pub(crate) async fn read(state: &AppState, race: &RaceRecord) -> Result<Self, AppError> {
        let facts = state.store.race_facts(race.id).await?.map(|kept| kept.facts);
        let kept = state.store.course(race.id).await?.map(|kept| kept.course);
        let (profile, fit) = fitted(kept.as_ref(), race.race.distance.distance());
        Ok(Self { profile, fit, facts })
    }

    /// A race of which nothing more is known.
    #[cfg(test)]
    pub(crate) fn flat(race: &RaceRecord) -> Self {
        let (profile, fit) = fitted(None, race.race.distance.distance());
        Self { profile, fit, facts: None }
    }
}

impl Opened {
    /// Reads it; an unknown block is "not found".
    pub(crate) async fn read(state: &AppState, id: BlockId) -> Result<Self, AppError> {
        let record = state.store.block(id).await?.ok_or(AppError::NotFound)?;
        let course = Arc::new(Course::read(state, &record.race).await?);
        Ok(Self { record, coach: state.store.settings().await?, course, today: state.clock.today() })
    }

    pub(crate) fn ground(&self) -> Ground<'_> {
        Ground { record: &self.record, course: &self.course }
    }
}

impl<'a> Ground<'a> {
    pub(crate) const fn profile(self) -> &'a Profile {
        &self.course.profile
    }

    /// The units of the athlete's sheets.
    pub(crate) const fn athlete_units(self) -> DistanceUnit {
        self.record.athlete.draft.athlete.units
    }

    /// The stations of the race, as far as they can be read for its length now.
    pub(crate) fn stations(self) -> Vec<Station> {
        let facts = self.course.facts.as_ref();
        facts
            .and_then(|facts| read_stations(&facts.stations, facts.units, self.profile().length()).ok())
            .unwrap_or_default()
    }

    /// By how many seconds the athlete's wave starts after the race itself.
    pub(crate) fn wave_behind(self) -> u32 {
        let wave = self.record.race_sheet.wave_start.zip(self.record.race.race.start);
        wave.and_then(|(wave, start)| u32::try_from((wave - start).num_seconds()).ok()).unwrap_or_default()
    }

    /// How many seconds after the start of the race the athlete crosses its line, as far as it is noted.
    pub(crate) fn behind(self) -> u32 {
        self.wave_behind() + u32::from(self.record.race_sheet.gun_seconds.unwrap_or_default())
    }

    /// All goals as times on the course, spread as it is kept.
    pub(crate) fn all_times(self) -> Times {
        self.times(&self.record.goals, self.record.race_sheet.strategy)
    }

    /// Goals as times on the course.
    pub(crate) fn times(self, notes: &GoalNotes, strategy: Strategy) -> Times {
        Times::of(notes, self.profile(), strategy)
    }
}

/// Race sheets for samples and tests.
#[cfg(test)]
pub(crate) mod sample {
    use planning::Milli;
    use store::{Borders, RaceSheet};

    use super::*;
    use crate::blocks::sample as blocks;

    fn opened(record: BlockRecord) -> Opened {
        let course = Arc::new(Course::flat(&record.race));
        let today = record.block.race_day - chrono::Days::new(10);
        Opened { record, coach: blocks::coach(), course, today }
    }

    /// Nothing is written yet.
    pub(crate) fn empty() -> Opened {
        opened(blocks::record(&blocks::ten_k()))
    }

    /// Everything is written, with marks that must not become markup.
    pub(crate) fn full() -> Opened {
        let mut record = blocks::handed_over(&blocks::marathon());
        record.goals =
            GoalNotes { a: "3:25".to_owned(), b: "3:30:00 <b>".to_owned(), c: "3:30:40".to_owned(), ..record.goals };
        record.race.race.start = chrono::NaiveTime::from_hms_opt(9, 0, 0);
        record.race_sheet = RaceSheet {
            strategy: Strategy { slower_half_tenths: -10, descent_percent: 40, first_easier_tenths: 15 },
            borders: Some(Borders {
                middle: Milli::whole(7),
                last: Milli::whole(20),
                unit: record.athlete.draft.athlete.units,
            }),
            change_rules: Some("At 10 km <b>: look at the clock".to_owned()),
            bib: "214 <b>".to_owned(),
            pen: "C".to_owned(),
            wave_start: chrono::NaiveTime::from_hms_opt(9, 12, 0),
            gun_seconds: Some(95),
            travel_minutes: Some(45),
            eat_minutes: Some(150),
            breakfast: "porridge <b>".to_owned(),
            fuel_piece: "gel <b>".to_owned(),
            piece_grams: Some(25),
            grams_an_hour: Some(60),
            fuel_words: "as on the long runs <b>".to_owned(),
            warm_up: Some("walk <b>".to_owned()),
            kit: Some("shoes <b>".to_owned()),
            travel: Some("passport <b>".to_owned()),
            worries: "the hill <b>: I walk it".to_owned(),
            morning: "meet at the <b> tree".to_owned(),
        };
        opened(record)
    }
}
