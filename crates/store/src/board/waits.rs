//! Whether what happened to an athlete waits for the coach's word.

use chrono::{Days, NaiveDate};
use planning::{Block, Day, Happened, LifeEvent, Session, replan};
use sqlx::SqliteConnection;

use super::row::Waits;
use crate::athletes::athlete;
use crate::blocks::revision;
use crate::life::events_of;
use crate::{AthleteId, BlockId, Result};

/// How long an event may be over and still change days.
pub(super) const WAY_BACK_DAYS: u64 = 21;

/// What the block would be planned around that it is not, if it were planned again now. Asked for blocks
/// only that an event reaches into, or that lie under one.
pub(super) async fn waits(
    db: &mut SqliteConnection,
    id: AthleteId,
    block: BlockId,
    number: u32,
    today: NaiveDate,
) -> Result<Option<Waits>> {
    let (Some(athlete), Some(kept)) = (athlete(db, id).await?, revision(db, block, number).await?) else {
        return Ok(None);
    };
    let events = events_of(db, id).await?;
    let happened: Vec<LifeEvent> = events.iter().map(|record| record.event.as_of(today)).collect();
    let plan = kept.before_events.as_ref().unwrap_or(&kept.block);
    let happened = Happened { events: &happened, excess: None };
    // What cannot be planned waits for nothing that the coach could take.
    let Ok(laid) = replan(plan, &athlete.draft.athlete, &kept.week.week, &happened) else { return Ok(None) };
    if same_days(&laid, &kept.block) {
        return Ok(None);
    }
    // The way back from an event is planned, too, where it ended before the first day.
    let first = kept.block.days.first().map_or(kept.block.race_day, |day| day.date) - Days::new(WAY_BACK_DAYS);
    let reaches = |event: &LifeEvent| event.from <= kept.block.race_day && event.to >= first;
    let last = events.iter().filter(|record| reaches(&record.event.as_of(today))).max_by_key(|record| record.id);
    Ok(Some(last.map_or(Waits::TakenBack, |record| Waits::Noted(record.event.kind))))
}

fn same_days(one: &Block, other: &Block) -> bool {
    let sessions = |day: &Day| -> Vec<Session> { day.sessions.iter().map(|one| one.session.clone()).collect() };
    one.days.len() == other.days.len()
        && one
            .days
            .iter()
            .zip(&other.days)
            .all(|(one, other)| one.date == other.date && sessions(one) == sessions(other))
}
