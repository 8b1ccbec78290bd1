//! What only a whole block says: whether what happened to an athlete waits for the coach's word, and whether the
//! review says stop.

use chrono::{Days, NaiveDate};
use planning::review::{Subject, fixed_against_events, stops};
use planning::{About, Block, Day, EventKind, Finding, Happened, LifeEvent, Role, RuleId, Session, replan};
use sqlx::SqliteConnection;

use super::row::{FixedAgainst, Waits};
use crate::athletes::athlete;
use crate::blocks::revision;
use crate::life::events_of;
use crate::{AthleteId, BlockId, EventRecord, Result};

/// How long an event may be over and still change days.
pub(super) const WAY_BACK_DAYS: u64 = 21;

/// What is said of a block that was read whole.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Judged {
    pub(super) waits: Option<Waits>,
    pub(super) stop: Option<RuleId>,
    pub(super) fixed: Option<FixedAgainst>,
}

/// Reads a block whole and judges it. Asked for blocks only that an event reaches into, or that lie under one, and for
/// those of athletes who may be too young for the race.
pub(super) async fn judged(
    db: &mut SqliteConnection,
    id: AthleteId,
    block: BlockId,
    number: u32,
    today: NaiveDate,
) -> Result<Judged> {
    let (Some(athlete), Some(kept)) = (athlete(db, id).await?, revision(db, block, number).await?) else {
        return Ok(Judged::default());
    };
    let (athlete, records) = (athlete.draft.athlete, events_of(db, id).await?);
    let events: Vec<LifeEvent> = records.iter().map(|record| record.event.as_of(today)).collect();
    let subject = Subject { events: &events, ..Subject::new(&kept.block, &athlete, &kept.week.week) };
    let stop = stops(&subject).first().map(|finding| finding.rule);
    let ahead = fixed_against_events(&subject).into_iter().filter(|finding| finding.date >= Some(today));
    let fixed = ahead.filter_map(|finding| fixed_against(&finding, &kept.block, &events)).min_by_key(|fixed| fixed.day);
    let plan = kept.before_events.as_ref().unwrap_or(&kept.block);
    // What cannot be planned waits for nothing that the coach could take.
    let laid = replan(plan, &athlete, &kept.week.week, &Happened { events: &events, excess: None });
    let waits = laid.is_ok_and(|laid| !same_days(&laid, &kept.block)).then(|| waits(&kept.block, &records, today));
    Ok(Judged { waits, stop, fixed })
}

/// What stands on a fixed day, and against what.
fn fixed_against(finding: &Finding, block: &Block, events: &[LifeEvent]) -> Option<FixedAgainst> {
    let day = finding.date?;
    let is_hard = block.day(day).is_some_and(Day::is_hard);
    if let About::HardAfter(kind) = finding.about {
        return Some(FixedAgainst { day, kind, is_hard, is_after: true });
    }
    if finding.about == About::OnTheWay {
        return Some(FixedAgainst { day, kind: EventKind::Travel, is_hard, is_after: false });
    }
    let event = events.iter().find(|event| event.keeps_from_running_on(day))?;
    Some(FixedAgainst { day, kind: event.kind, is_hard, is_after: false })
}

/// What the block would be planned around that it is not, if it were planned again now.
fn waits(block: &Block, events: &[EventRecord], today: NaiveDate) -> Waits {
    // The way back from an event is planned, too, where it ended before the first day.
    let first = block.days.first().map_or(block.race_day, |day| day.date) - Days::new(WAY_BACK_DAYS);
    let reaches = |event: &LifeEvent| event.from <= block.race_day && event.to >= first;
    let last = events.iter().filter(|record| reaches(&record.event.as_of(today))).max_by_key(|record| record.id);
    last.map_or(Waits::TakenBack, |record| Waits::Noted(record.event.kind))
}

fn same_days(one: &Block, other: &Block) -> bool {
    // The part that a session plays is said beside it, such as strides.
    let sessions = |day: &Day| -> Vec<(Session, Role)> {
        day.sessions.iter().map(|one| (one.session.clone(), one.role)).collect()
    };
    one.days.len() == other.days.len()
        && one
            .days
            .iter()
            .zip(&other.days)
            .all(|(one, other)| one.date == other.date && sessions(one) == sessions(other))
}
