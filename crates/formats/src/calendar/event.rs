//! One event: a session or the race, before it is written.

use chrono::{DateTime, NaiveDate, TimeZone as _, Utc};
use chrono_tz::Tz;
use planning::{Block, DistanceUnit, Race};
use uuid::Uuid;

use super::RaceStands;
use super::identity::BlockKey;
use crate::words;

/// What an athlete's calendar shows.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Event {
    pub(super) uid: Uuid,
    pub(super) when: When,
    pub(super) summary: String,
    pub(super) description: String,
    pub(super) location: String,
    /// A session always takes place.
    pub(super) stands: RaceStands,
}

/// When it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum When {
    /// All of a day, wherever the athlete is.
    Day(NaiveDate),
    /// From an instant on, the same in every zone.
    From(DateTime<Utc>),
}

impl When {
    /// The start of a race where both time and zone are known. A time without a zone is no instant,
    /// and as a floating one it would be wrong in every other zone: such a race takes the whole day.
    fn of_race(race: &Race) -> Self {
        let instant = || {
            let zone: Tz = race.zone.as_deref()?.parse().ok()?;
            let start = zone.from_local_datetime(&race.date.and_time(race.start?)).earliest()?;
            Some(start.with_timezone(&Utc))
        };
        instant().map_or(Self::Day(race.date), Self::From)
    }
}

/// The events of a block in the order of its days, the race last; `identities` in the same order, one for every
/// session. What the block for the race before holds is no event of this one, nor are days as usual before it begins.
///
/// Reasons of an athlete's life are left out here, whoever asks.
pub(super) fn of_block(
    block: &Block,
    place: &str,
    units: DistanceUnit,
    key: BlockKey,
    identities: &[Uuid],
) -> Vec<Event> {
    let block = block.public();
    let told_from = block.beginning().told_from;
    let planned = block.days.iter().flat_map(|day| day.sessions.iter().map(move |planned| (day.date, planned)));
    let mut events: Vec<Event> = planned
        .zip(identities)
        .filter(|((date, _), _)| *date >= told_from && block.race_before().is_none_or(|race| *date > race))
        .map(|((date, planned), uid)| Event {
            uid: *uid,
            when: When::Day(date),
            summary: words::event_summary(planned, units),
            description: words::event_description(planned, units),
            location: String::new(),
            stands: RaceStands::TakesPlace,
        })
        .collect();
    let race = &block.race;
    events.push(Event {
        uid: key.race(),
        when: When::of_race(race),
        summary: words::race_summary(race),
        description: words::race_description(race),
        location: place.to_owned(),
        stands: RaceStands::TakesPlace,
    });
    events
}
