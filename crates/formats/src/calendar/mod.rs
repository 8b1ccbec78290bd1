//! A block as a calendar: all-day sessions, and the race as the instant at which it starts.
//!
//! RFC 5545 and RFC 7986, written by hand, because what phones make of it is decided by details: lines
//! are folded by octets and end with CRLF, text is escaped in one place, all-day events end on the next
//! day. No property of any vendor, no alarm, no method: it is a file to read, not an invitation.
//!
//! # Decisions
//!
//! * Sessions have no time of day in this program, so they are days (`VALUE=DATE`), which stay the
//!   same day in every zone, and never block the day (`TRANSPARENT`). No time is ever floating.
//! * A race whose start and zone are known starts at an instant, written in UTC: right on every phone
//!   without a description of the zone. The local time and the zone stand in its text. How long it
//!   takes nobody knows, so it has no end; RFC 5545, 3.6.1, then ends it where it starts.
//! * What was removed is absent; what a calendar then does with the old entry is its own affair.
//! * A race that is called off stays, as `STATUS:CANCELLED` (RFC 5545, 3.8.1.11) and without taking
//!   time. An event that is only gone stays for ever in a calendar that took the file in once; one that
//!   is said to be cancelled is struck out or hidden. Readers that know no status read it in the summary.
//!   Its sequence stays, for it would have to fall where the race takes place after all: the later stamp
//!   decides between equal sequences (RFC 5546, 2.1.5), and each of the two changes has its own. The
//!   sessions stay as they were handed over.
//!
//! # What always holds
//!
//! The same versions and editions give the same bytes. An identity stays with its session while it is
//! moved and changed, the sequence of an event never falls, and neither holds a name or a secret.

mod editions;
mod event;
mod identity;
mod lines;
#[cfg(test)]
mod tests;
mod text;

use std::collections::HashMap;

use chrono::{DateTime, Days, NaiveDate, SubsecRound as _, Utc};
use planning::{Block, DistanceUnit};

use self::editions::Dated;
use self::event::When;
pub use self::identity::BlockKey;
use self::lines::Lines;
pub use self::text::escape;
use crate::words;

/// How often a calendar that follows the feed asks for it: an hour, which is early enough for the next
/// morning and costs nothing where nothing changed.
const REFRESH: &str = "PT1H";

/// Everything that decides a calendar file.
#[derive(Clone, Copy, Debug)]
pub struct Calendar<'a> {
    /// What the identities begin from.
    pub key: BlockKey,
    /// The athlete; stands in the name of the calendar.
    pub athlete: &'a str,
    /// The athlete's units.
    pub units: DistanceUnit,
    /// The versions of the block in the order of their numbers, from the first up to the last that
    /// counts: whatever they were made from is among them.
    pub versions: &'a [Version<'a>],
    /// The versions that left the house, in that order; the last is what is written. The same version
    /// may come again.
    pub editions: &'a [Edition],
    /// How the race stands now, whatever left the house; nothing for a block that is not kept.
    pub race: Option<RaceNow>,
}

/// How a race stands, whatever was handed over of it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct RaceNow {
    /// Whether it takes place.
    pub stands: RaceStands,
    /// When the race was saved last.
    pub saved: DateTime<Utc>,
}

/// Whether a race takes place.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RaceStands {
    /// It does, as far as is known.
    TakesPlace,
    /// It is called off.
    CalledOff,
}

/// One version of a block.
#[derive(Clone, Copy, Debug)]
pub struct Version<'a> {
    /// Its number.
    pub number: u32,
    /// The number of the version from which it was made.
    pub parent: Option<u32>,
    /// Where the race is; may be empty.
    pub place: &'a str,
    /// The days.
    pub block: &'a Block,
}

/// A version that left the house.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Edition {
    /// Its number.
    pub version: u32,
    /// When.
    pub at: DateTime<Utc>,
}

/// Writes the file; nothing where no edition names a version that is there.
pub fn write(calendar: &Calendar<'_>) -> Option<String> {
    let is_known = |edition: &&Edition| calendar.versions.iter().any(|version| version.number == edition.version);
    let last = calendar.editions.iter().rfind(is_known)?.version;
    let newest = calendar.versions.iter().find(|version| version.number == last)?;
    let events = events(calendar);
    let mut lines = Lines::default();
    lines.put("BEGIN", "VCALENDAR");
    lines.put("VERSION", "2.0");
    lines.put("PRODID", "-//Ebbline//Taper block//EN");
    lines.put("CALSCALE", "GREGORIAN");
    lines.text("NAME", &words::calendar_name(calendar.athlete, &newest.block.race));
    lines.text("DESCRIPTION", words::CAUTION);
    if let Some(modified) = events.iter().map(|dated| dated.modified).max() {
        lines.put("LAST-MODIFIED", &instant(modified));
    }
    lines.put("REFRESH-INTERVAL;VALUE=DURATION", REFRESH);
    for dated in &events {
        put_event(&mut lines, dated);
    }
    lines.put("END", "VCALENDAR");
    Some(lines.finish())
}

/// The events of the last edition, with what those before it make of them.
fn events(calendar: &Calendar<'_>) -> Vec<Dated> {
    let identities = identity::of_versions(calendar.key, calendar.versions);
    let by_number: HashMap<u32, &Version<'_>> =
        calendar.versions.iter().map(|version| (version.number, version)).collect();
    let mut events = editions::fold(calendar.editions.iter().filter_map(|edition| {
        let version = by_number.get(&edition.version)?;
        let uids = identities.get(&edition.version)?;
        Some((edition.at, event::of_block(version.block, version.place, calendar.units, calendar.key, uids)))
    }));
    let race = events.iter_mut().find(|dated| dated.event.uid == calendar.key.race());
    if let Some((race, now)) = race.zip(calendar.race) {
        race.modified = race.modified.max(now.saved.trunc_subsecs(0));
        if now.stands == RaceStands::CalledOff {
            race.event.stands = RaceStands::CalledOff;
            race.event.summary = words::called_off_summary(&race.event.summary);
        }
    }
    events
}

fn put_event(lines: &mut Lines, dated: &Dated) {
    let event = &dated.event;
    lines.put("BEGIN", "VEVENT");
    lines.put("UID", &event.uid.hyphenated().to_string());
    // Without a method the stamp is the date of the last change: RFC 5545, 3.8.7.2.
    lines.put("DTSTAMP", &instant(dated.modified));
    lines.put("LAST-MODIFIED", &instant(dated.modified));
    lines.put("SEQUENCE", &dated.sequence.to_string());
    match event.when {
        When::Day(date) => {
            lines.put("DTSTART;VALUE=DATE", &day(date));
            lines.put("DTEND;VALUE=DATE", &day(date + Days::new(1)));
            lines.put("TRANSP", "TRANSPARENT");
        }
        When::From(start) => {
            lines.put("DTSTART", &instant(start));
            let blocks = event.stands == RaceStands::TakesPlace;
            lines.put("TRANSP", if blocks { "OPAQUE" } else { "TRANSPARENT" });
        }
    }
    if event.stands == RaceStands::CalledOff {
        lines.put("STATUS", "CANCELLED");
    }
    lines.text("SUMMARY", &event.summary);
    lines.text("DESCRIPTION", &event.description);
    lines.text("LOCATION", &event.location);
    lines.put("END", "VEVENT");
}

/// `20261103`.
fn day(date: NaiveDate) -> String {
    date.format("%Y%m%d").to_string()
}

/// `20261025T080000Z`.
fn instant(at: DateTime<Utc>) -> String {
    at.format("%Y%m%dT%H%M%SZ").to_string()
}
