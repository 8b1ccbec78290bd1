//! How a block came to be what it is: its revisions, and those that left the house.

use std::borrow::Cow;

use chrono::{DateTime, NaiveDate, Utc};
use sqlx::SqliteConnection;

use crate::athletes::athlete;
use crate::blocks::{head, read_document};
use crate::cell::Place;
use crate::shares::{Behind, behind};
use crate::{BlockHistory, BlockId, PastRevision, RaceId, Result, SharedReader, Shown, Store};

impl Store {
    /// Every state in which a block ever was, for a file of the present one; nothing where there is no
    /// such block.
    pub async fn history(&self, id: BlockId) -> Result<Option<BlockHistory>> {
        let mut tx = self.reading().await?;
        let Some(head) = head(&mut tx, id).await? else {
            return Ok(None);
        };
        let Some(athlete) = athlete(&mut tx, head.athlete).await? else {
            return Ok(None);
        };
        let rows = sqlx::query!(
            "SELECT block_revision.id, block_revision.number, block_revision.made_at AS at
             FROM block_present
             JOIN block_revision ON block_revision.block = block_present.block
                                AND block_revision.number = block_present.revision
             WHERE block_present.block = ? ORDER BY block_present.id",
            id.0
        )
        .fetch_all(&mut *tx)
        .await?;
        let shown = rows.into_iter().map(|row| shown(Place::new("block_revision", row.id), row.number, &row.at));
        let shown = shown.collect::<Result<Vec<_>>>()?;
        let (made, revisions) = revisions(&mut tx, id).await?;
        let athlete = athlete.draft.athlete;
        let (called_off, race_saved) = race_now(&mut tx, head.race).await?;
        let (name, units) = (athlete.name, athlete.units);
        Ok(Some(BlockHistory { id, made, name, units, revisions, shown, called_off, race_saved }))
    }
}

impl SharedReader {
    /// What was handed over of the block behind a token, the last of it what the token shows today;
    /// nothing for an unknown, a revoked and an expired one alike.
    pub async fn shared_history(&self, token: &str, today: NaiveDate) -> Result<Option<BlockHistory>> {
        let mut tx = self.read.begin().await?;
        let Some(behind) = behind(&mut tx, token, today).await? else {
            return Ok(None);
        };
        let id = behind.block;
        let rows = sqlx::query!("SELECT id, revision AS number, at FROM hand_over WHERE block = ? ORDER BY id", id.0)
            .fetch_all(&mut *tx)
            .await?;
        let shown = rows.into_iter().map(|row| shown(Place::new("hand_over", row.id), row.number, &row.at));
        let shown = shown.collect::<Result<Vec<_>>>()?;
        let (made, mut revisions) = revisions(&mut tx, id).await?;
        // What was not handed over yet does not pass this door, and why a day changed never does.
        let newest = shown.iter().map(|shown| shown.revision).max().unwrap_or_default();
        revisions.retain(|revision| revision.number <= newest);
        for revision in &mut revisions {
            if let Cow::Owned(public) = revision.block.public() {
                revision.block = public;
            }
        }
        let Behind { name, units, called_off, race_saved, .. } = behind;
        Ok(Some(BlockHistory { id, made, name, units, revisions, shown, called_off, race_saved }))
    }
}

/// Since when a race is called off, if it is, and when it was saved last.
async fn race_now(db: &mut SqliteConnection, id: RaceId) -> Result<(Option<NaiveDate>, DateTime<Utc>)> {
    let row = sqlx::query!("SELECT called_off, saved_at FROM race WHERE id = ?", id.0).fetch_one(db).await?;
    let place = Place::new("race", id.0);
    let called_off = row.called_off.map(|text| place.day("called_off", &text)).transpose()?;
    Ok((called_off, place.instant("saved_at", &row.saved_at)?))
}

fn shown(place: Place, number: i64, at: &str) -> Result<Shown> {
    Ok(Shown { revision: place.number("revision", number)?, at: place.instant("at", at)? })
}

/// When the first revision was made, and all of them in the order of their numbers.
async fn revisions(db: &mut SqliteConnection, id: BlockId) -> Result<(DateTime<Utc>, Vec<PastRevision>)> {
    let rows = sqlx::query!(
        "SELECT id, number, parent, made_at, place, document FROM block_revision WHERE block = ? ORDER BY number",
        id.0
    )
    .fetch_all(db)
    .await?;
    let Some(first) = rows.first() else {
        return Err(Place::new("block", id.0).corrupt("revision", "there is no such revision"));
    };
    let made = Place::new("block_revision", first.id).instant("made_at", &first.made_at)?;
    let read = rows.into_iter().map(|row| {
        let place = Place::new("block_revision", row.id);
        Ok(PastRevision {
            number: place.number("number", row.number)?,
            parent: row.parent.map(|parent| place.number("parent", parent)).transpose()?,
            block: read_document(row.id, &row.document)?,
            place: row.place,
        })
    });
    Ok((made, read.collect::<Result<_>>()?))
}

#[cfg(test)]
mod tests {
    use planning::Settings;

    use super::*;
    use crate::testing::{Squad, at, day, squad};
    use crate::{Shows, Version};

    #[tokio::test]
    async fn every_state_is_told_in_order_and_what_was_handed_over_apart() {
        let Squad { store, athlete, race, week, block } = squad().await;
        let settings = Settings::default();
        let id = store.add_block(athlete, race, &settings, &week, &block, at(5)).await.unwrap();
        let ends = day("2027-05-23");
        let token = store.hand_over(id, Shows::NOTHING, ends, at(6)).await.unwrap().token;
        let mut bent = block.clone();
        bent.days[3].sessions.clear();
        store.revise_block(id, Version(1), &settings, &week, &bent, "bent", at(7)).await.unwrap();
        store.undo_block(id, Version(2)).await.unwrap();
        store.redo_block(id, Version(3)).await.unwrap();
        store.restore_revision(id, Version(4), 1, at(9)).await.unwrap();

        let told = store.history(id).await.unwrap().unwrap();
        let numbers = |shown: &[Shown]| shown.iter().map(|shown| shown.revision).collect::<Vec<_>>();
        assert_eq!(numbers(&told.shown), [1, 2, 1, 2, 3]);
        assert_eq!(told.revisions.iter().map(|one| one.parent).collect::<Vec<_>>(), [None, Some(1), Some(2)]);
        assert_eq!((told.made, told.name.as_str()), (at(5), "Ana"));
        assert_eq!((&told.revisions[1].block, told.revisions[0].place.as_str()), (&bent, "Harbour"));

        let door = store.shared_reader().await.unwrap();
        let handed = door.shared_history(&token, ends).await.unwrap().unwrap();
        assert_eq!((numbers(&handed.shown), handed.revisions.len()), (vec![1], 1), "nothing that was not handed over");
        store.hand_over(id, Shows::NOTHING, ends, at(10)).await.unwrap();
        let handed = door.shared_history(&token, ends).await.unwrap().unwrap();
        assert_eq!((numbers(&handed.shown), handed.made), (vec![1, 3], at(5)));
        assert_eq!(door.shared_history(&token, day("2027-05-24")).await.unwrap(), None);
        assert_eq!((handed.called_off, told.called_off), (None, None));
        store.call_off_race(race, Some(day("2027-05-06")), at(11)).await.unwrap();
        for told in [door.shared_history(&token, ends).await.unwrap(), store.history(id).await.unwrap()] {
            let told = told.unwrap();
            assert_eq!((told.called_off, told.race_saved), (Some(day("2027-05-06")), at(11)));
        }
        assert_eq!(door.shared(&token, ends).await.unwrap().unwrap().called_off, Some(day("2027-05-06")));
        store.call_off_race(race, None, at(12)).await.unwrap();
        let back = door.shared_history(&token, ends).await.unwrap().unwrap();
        assert_eq!((back.called_off, back.race_saved, back.shown), (None, at(12), handed.shown));
        assert_eq!(door.shared(&token, ends).await.unwrap().unwrap().called_off, None);
        store.revoke(id, at(13)).await.unwrap();
        assert_eq!(door.shared_history(&token, ends).await.unwrap(), None);
        assert_eq!(store.history(BlockId(99)).await.unwrap(), None);
    }
}
