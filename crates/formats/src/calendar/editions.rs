//! What changed from one edition to the next: the number and the date of each event.

use std::collections::HashMap;

use chrono::{DateTime, SubsecRound as _, TimeDelta, Utc};
use uuid::Uuid;

use super::event::Event;

/// An event with what its edition adds.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Dated {
    pub(super) event: Event,
    /// Raised whenever the event stands elsewhere in time than before; never falls.
    pub(super) sequence: u32,
    /// When anything of it changed last.
    pub(super) modified: DateTime<Utc>,
}

/// Goes through the editions in the order in which they left the house and gives the events of the
/// last one.
///
/// The dates are those of the editions, but always later than all before them: a clock that was set
/// back does not make a change look older than what it changed.
///
/// # Source
///
/// RFC 5545, 3.8.7.4, and RFC 5546, 2.1.4: a change of the time is significant and raises the
/// sequence; a change of the words is not.
pub(super) fn fold(editions: impl Iterator<Item = (DateTime<Utc>, Vec<Event>)>) -> Vec<Dated> {
    let mut known: HashMap<Uuid, Dated> = HashMap::new();
    let mut last: Vec<Dated> = Vec::new();
    let mut latest: Option<DateTime<Utc>> = None;
    for (at, events) in editions {
        let at = at.trunc_subsecs(0);
        let stamp = latest.map_or(at, |latest| at.max(latest + TimeDelta::seconds(1)));
        let shown: Vec<Uuid> = last.iter().map(|dated| dated.event.uid).collect();
        let is_new_edition = |dated: &Dated| dated.modified == stamp;
        last = events
            .into_iter()
            .map(|event| match known.get(&event.uid) {
                None => Dated { event, sequence: 0, modified: stamp },
                Some(before) if before.event == event && shown.contains(&event.uid) => before.clone(),
                Some(before) => {
                    let is_moved = before.event.when != event.when || !shown.contains(&event.uid);
                    Dated { event, sequence: before.sequence + u32::from(is_moved), modified: stamp }
                }
            })
            .collect();
        if last.iter().any(is_new_edition) {
            latest = Some(stamp);
        }
        known.extend(last.iter().map(|dated| (dated.event.uid, dated.clone())));
    }
    last
}
