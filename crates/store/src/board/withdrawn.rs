//! Who was withdrawn from a race ahead, holds its block all the same, and may not know it: the link is hidden with the
//! entry, what is on paper or in a phone's calendar is not.

use std::collections::HashMap;

use chrono::NaiveDate;
use sqlx::SqliteConnection;

use super::read::{Whose, fetch_entries};
use super::row::Withdrawn;
use crate::cell::{self, Place};
use crate::{RaceId, Result};

/// Entries in races to come that were withdrawn after the block was handed over, of which nobody said that this is
/// settled, and whose link was neither ended by hand nor has ended by its date.
macro_rules! select_withdrawn {
    ($from:literal, $rest:literal, $today:expr $(, $argument:expr)*) => {
        sqlx::query_as!(
            WithdrawnRow,
            "SELECT entry.athlete, entry.race, race.day "
                + $from
                + " JOIN block ON block.athlete = entry.athlete AND block.race = entry.race AND block.removed_at IS NULL
               JOIN share ON share.block = block.id AND share.revoked_at IS NULL
               WHERE entry.withdrawn_at IS NOT NULL AND entry.settled_at IS NULL AND race.removed_at IS NULL
                     AND race.day >= ? AND share.ends >= ? "
                + $rest
                + " ORDER BY entry.athlete, race.day, race.id",
            $today,
            $today
            $(, $argument)*
        )
    };
}

struct WithdrawnRow {
    athlete: i64,
    race: i64,
    day: String,
}

/// The races that each athlete was withdrawn from so, by their days.
pub(super) async fn withdrawn(
    db: &mut SqliteConnection,
    whose: &Whose,
    today: NaiveDate,
) -> Result<HashMap<i64, Vec<Withdrawn>>> {
    let today = cell::day_text(today);
    let mut found: HashMap<i64, Vec<Withdrawn>> = HashMap::new();
    for row in fetch_entries!(select_withdrawn, db, whose, today) {
        let day = Place::new("race", row.race).day("day", &row.day)?;
        found.entry(row.athlete).or_default().push(Withdrawn { race: RaceId(row.race), day });
    }
    Ok(found)
}

#[cfg(test)]
mod tests {
    use planning::{Importance, Settings};

    use super::super::BoardRow;
    use super::*;
    use crate::testing::{Squad, at, day, squad};
    use crate::{Settling, Shows, Store};

    /// Since when the race is called off.
    const OFF: &str = "2027-04-30";

    async fn row(store: &Store, today: &str) -> BoardRow {
        BoardRow::clone(&store.board(day(today)).await.unwrap()[0])
    }

    async fn asks(store: &Store) -> bool {
        !row(store, "2027-05-01").await.withdrawn.is_empty()
    }

    /// The same with the block handed over.
    async fn held() -> Squad {
        let squad = squad().await;
        let Squad { store, athlete, race, week, block } = &squad;
        let id = store.add_block(*athlete, *race, &Settings::default(), week, block, at(1)).await.unwrap();
        store.hand_over(id, Shows::NOTHING, day("2027-05-23"), at(2)).await.unwrap();
        squad
    }

    #[tokio::test]
    async fn who_is_withdrawn_with_a_block_in_hand_is_asked_about_up_to_race_day() {
        let Squad { store, athlete, race, .. } = held().await;
        assert!(!asks(&store).await, "entered");
        store.withdraw(race, athlete, at(3)).await.unwrap();
        let expected = Withdrawn { race, day: day("2027-05-09") };
        assert_eq!(*row(&store, "2027-05-01").await.withdrawn, [expected]);
        assert_eq!(*row(&store, "2027-05-09").await.withdrawn, [expected]);
        assert_eq!(*row(&store, "2027-05-10").await.withdrawn, [], "over");
        store.restore_entry(race, athlete).await.unwrap();
        assert!(!asks(&store).await, "entered again");
    }

    #[tokio::test]
    async fn nobody_is_asked_about_who_holds_nothing() {
        let Squad { store, athlete, race, week, block } = squad().await;
        store.withdraw(race, athlete, at(1)).await.unwrap();
        assert!(!asks(&store).await, "no block");
        store.enter(race, athlete, Importance::Goal, at(2)).await.unwrap();
        let id = store.add_block(athlete, race, &Settings::default(), &week, &block, at(3)).await.unwrap();
        store.withdraw(race, athlete, at(4)).await.unwrap();
        assert!(!asks(&store).await, "not handed over");
        store.enter(race, athlete, Importance::Goal, at(5)).await.unwrap();
        store.hand_over(id, Shows::NOTHING, day("2027-05-23"), at(6)).await.unwrap();
        store.revoke(id, at(7)).await.unwrap();
        store.withdraw(race, athlete, at(8)).await.unwrap();
        assert!(!asks(&store).await, "the link was ended by hand");
        store.enter(race, athlete, Importance::Goal, at(9)).await.unwrap();
        store.hand_over(id, Shows::NOTHING, day("2027-04-30"), at(10)).await.unwrap();
        store.withdraw(race, athlete, at(11)).await.unwrap();
        assert!(!asks(&store).await, "the link has ended by its date");
    }

    #[tokio::test]
    async fn it_is_settled_once_and_asked_anew_after_a_further_withdrawal() {
        let Squad { store, athlete, race, .. } = held().await;
        let settle = async |is_settled| store.settle(race, Settling::One(athlete), is_settled, at(9)).await.unwrap();
        assert_eq!(settle(true).await, None, "the athlete runs it");
        store.withdraw(race, athlete, at(3)).await.unwrap();
        store.settle(race, Settling::Everybody, true, at(4)).await.unwrap();
        assert!(asks(&store).await, "that press is over those who are entered");
        for _ in 0..2 {
            assert!(settle(true).await.is_some());
            store.withdraw(race, athlete, at(5)).await.unwrap();
            assert!(!asks(&store).await);
        }
        assert!(settle(false).await.is_some());
        assert!(asks(&store).await, "taken back");
        for again in 0..2 {
            settle(true).await;
            if again == 0 {
                store.enter(race, athlete, Importance::Goal, at(6)).await.unwrap();
            } else {
                store.restore_entry(race, athlete).await.unwrap();
            }
            store.withdraw(race, athlete, at(7)).await.unwrap();
            assert!(asks(&store).await, "{again}");
        }
    }

    #[tokio::test]
    async fn taking_somebody_off_a_race_that_is_called_off_settles_it_and_the_other_way_round_does_not() {
        let Squad { store, athlete, race, .. } = held().await;
        store.call_off_race(race, Some(day(OFF)), at(3)).await.unwrap();
        store.withdraw(race, athlete, at(4)).await.unwrap();
        assert!(!asks(&store).await, "the race asked already");
        store.call_off_race(race, None, at(5)).await.unwrap();
        assert!(!asks(&store).await, "it takes place without this athlete");
        store.restore_entry(race, athlete).await.unwrap();
        store.withdraw(race, athlete, at(6)).await.unwrap();
        store.call_off_race(race, Some(day(OFF)), at(7)).await.unwrap();
        assert!(asks(&store).await, "withdrawn before");
        store.restore_entry(race, athlete).await.unwrap();
        assert!(row(&store, "2027-05-01").await.is_called_off(), "how it goes on is open");
    }
}
