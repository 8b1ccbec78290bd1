use planning::{Importance, Settings};

use super::*;
use crate::testing::{Squad, add, at, day, squad};
use crate::{Entry, GoalNotes, KEPT_DAYS, PlannedBlock, Shows, ToHandOver, Version};

/// Ana of [`squad`], Bo and Cy, nobody but Ana entered.
async fn three() -> (Squad, [AthleteId; 3]) {
    let squad = squad().await;
    let (bo, cy) = (add(&squad.store, "Bo").await, add(&squad.store, "Cy").await);
    let all = [squad.athlete, bo, cy];
    (squad, all)
}

async fn entered(squad: &Squad) -> Vec<(String, Importance)> {
    let named = |entry: Entry| (entry.name, entry.importance);
    squad.store.entrants(squad.race).await.unwrap().into_iter().map(named).collect()
}

async fn given_back(squad: &Squad, step: StepId) -> Vec<(String, bool)> {
    let (_, items) = squad.store.step(step).await.unwrap().unwrap();
    items.into_iter().map(|item| (item.name, item.is_given_back)).collect()
}

fn said<T: Copy>(all: &[(&str, T)]) -> Vec<(String, T)> {
    all.iter().map(|(name, what)| ((*name).to_owned(), *what)).collect()
}

fn planned(squad: &Squad, athletes: &[AthleteId]) -> Vec<PlannedBlock> {
    let one = |athlete: &AthleteId| PlannedBlock {
        athlete: *athlete,
        settings: Settings::default(),
        week: squad.week.clone(),
        block: squad.block.clone(),
    };
    athletes.iter().map(one).collect()
}

#[tokio::test]
async fn entering_many_is_undone_for_each_as_it_was() {
    let (squad, all) = three().await;
    let Squad { store, race, .. } = &squad;
    store.enter(*race, all[1], Importance::TuneUp, at(2)).await.unwrap();
    store.withdraw(*race, all[1], at(3)).await.unwrap();
    let step = store.enter_many(*race, &all, Importance::TrainingThrough, at(4)).await.unwrap().unwrap();
    assert_eq!(entered(&squad).await.len(), 3);
    let again = store.enter_many(*race, &all, Importance::TrainingThrough, at(5)).await.unwrap();
    assert_eq!(again, None, "a second press changes nobody");

    store.undo_step(step, at(6)).await.unwrap();
    assert_eq!(entered(&squad).await, said(&[("Ana", Importance::Goal)]));
    store.restore_entry(*race, all[1]).await.unwrap();
    assert_eq!(entered(&squad).await[1].1, Importance::TuneUp, "the importance before is back too");
    store.undo_step(step, at(7)).await.unwrap();
    assert_eq!(entered(&squad).await.len(), 2, "twice is once");
    let kept = store.steps_of_race(*race, 5).await.unwrap();
    assert_eq!((kept[0].kind, kept[0].made, kept[0].undone), (StepKind::Enter, at(4), Some(at(6))));
    assert_eq!((kept[0].athletes, kept[0].given_back), (3, 3));
}

#[tokio::test]
async fn what_was_changed_since_is_left_and_named() {
    let (squad, all) = three().await;
    let Squad { store, race, .. } = &squad;
    let step = store.enter_many(*race, &all[1..], Importance::Goal, at(4)).await.unwrap().unwrap();
    store.add_blocks(*race, None, &planned(&squad, &all[2..]), at(5)).await.unwrap();
    store.undo_step(step, at(6)).await.unwrap();
    assert_eq!(entered(&squad).await, said(&[("Ana", Importance::Goal), ("Cy", Importance::Goal)]));
    assert_eq!(given_back(&squad, step).await, said(&[("Bo", true), ("Cy", false)]));
}

#[tokio::test]
async fn what_stood_on_a_step_is_named_and_once_it_is_undone_the_step_is_undone_too() {
    let (squad, all) = three().await;
    let Squad { store, race, .. } = &squad;
    let entry = store.enter_many(*race, &all[1..], Importance::Goal, at(4)).await.unwrap().unwrap();
    let first = store.add_blocks(*race, None, &planned(&squad, &all[1..]), at(5)).await.unwrap().step.unwrap();
    let id = store.block_for(all[1], *race).await.unwrap().unwrap();
    store.remove_block(id, at(6)).await.unwrap();
    let again = store.add_blocks(*race, None, &planned(&squad, &all[1..2]), at(7)).await.unwrap().step.unwrap();
    let over = store.hand_over_many(*race, &[to_hand_over(id, 2, Shows::ALL)], at(8)).await.unwrap().step.unwrap();
    let above = async |step| {
        let found = store.steps_above(step).await.unwrap();
        found.into_iter().map(|(step, count)| (step.id, count)).collect::<Vec<_>>()
    };
    store.undo_step(entry, at(9)).await.unwrap();
    assert_eq!(above(entry).await, [(again, 1), (first, 1)]);
    assert_eq!((above(again).await, above(over).await), (vec![(over, 1)], vec![]));
    for step in [over, again, first] {
        store.undo_step(step, at(10)).await.unwrap();
    }
    assert_eq!(above(entry).await, []);
    store.undo_step(entry, at(11)).await.unwrap();
    assert_eq!(entered(&squad).await, said(&[("Ana", Importance::Goal)]));
    let (record, _) = store.step(entry).await.unwrap().unwrap();
    assert_eq!((record.undone, record.is_finished()), (Some(at(11)), true));
    assert!(!store.step(first).await.unwrap().unwrap().0.is_finished(), "one of its blocks was made again");
}

#[tokio::test]
async fn nobody_is_entered_where_one_of_them_is_gone() {
    let (squad, all) = three().await;
    squad.store.remove_athlete(all[2], at(3)).await.unwrap();
    let gone = squad.store.enter_many(squad.race, &all, Importance::Goal, at(4)).await;
    assert!(matches!(gone, Err(StoreError::Gone)), "{gone:?}");
    assert_eq!(entered(&squad).await.len(), 1);
    assert_eq!(squad.store.steps_of_race(squad.race, 5).await.unwrap(), []);
    assert!(matches!(squad.store.undo_step(StepId(9), at(5)).await, Err(StoreError::Gone)));
}

#[tokio::test]
async fn blocks_made_at_once_are_hidden_again_and_made_again_are_the_same_blocks() {
    let (squad, all) = three().await;
    let Squad { store, race, .. } = &squad;
    store.enter_many(*race, &all[..2], Importance::Goal, at(3)).await.unwrap();
    let first = store.add_blocks(*race, None, &planned(&squad, &all[..1]), at(4)).await.unwrap();
    let done = store.add_blocks(*race, first.step, &planned(&squad, &all), at(4)).await.unwrap();
    assert_eq!((done.made, done.gone, done.step), (1, vec![all[2]], first.step), "in pieces, one step");
    let step = first.step.unwrap();
    let ids: Vec<_> = store.entrants(*race).await.unwrap().into_iter().filter_map(|entry| entry.block).collect();
    store.save_goals(ids[1], Version(1), &GoalNotes::default(), at(5)).await.unwrap();

    store.undo_step(step, at(6)).await.unwrap();
    assert_eq!(given_back(&squad, step).await, said(&[("Ana", true), ("Bo", false)]));
    assert_eq!(store.block(ids[0]).await.unwrap(), None);
    assert_eq!(store.block_for(all[0], *race).await.unwrap(), None);
    assert_eq!(store.entrants(*race).await.unwrap()[0].block, None);
    assert_eq!(store.card_entries(*race).await.unwrap()[0].block, None);
    assert_eq!(store.present_blocks().await.unwrap().len(), 1);
    let board = store.board(day("2027-04-20")).await.unwrap();
    assert_eq!((board[0].block.is_none(), board[1].block.is_none()), (true, false));
    assert_eq!(store.past_blocks(all[0], day("2028-01-01")).await.unwrap().len(), 0);

    let again = store.add_blocks(*race, None, &planned(&squad, &all[..1]), at(7)).await.unwrap();
    let back = store.block(ids[0]).await.unwrap().unwrap();
    assert_eq!((back.revision, back.undo.unwrap().to, back.reason.as_str()), (2, 1, "made again"));
    store.undo_step(again.step.unwrap(), at(8)).await.unwrap();
    assert_eq!(store.block(ids[0]).await.unwrap(), None, "and is taken back again");
    assert_eq!(store.check().await.unwrap(), Vec::<String>::new());
}

#[tokio::test]
async fn a_block_alone_is_removed_with_its_link_and_comes_back() {
    let Squad { store, athlete, race, week, block } = squad().await;
    let id = store.add_block(athlete, race, &Settings::default(), &week, &block, at(5)).await.unwrap();
    let token = store.hand_over(id, Shows::ALL, day("2027-05-23"), at(6)).await.unwrap().token;
    let door = store.shared_reader().await.unwrap();
    let shown = async || door.shared(&token, day("2027-05-01")).await.unwrap().is_some();
    assert!(shown().await);
    store.remove_block(id, at(7)).await.unwrap();
    store.remove_block(id, at(8)).await.unwrap();
    assert!(!shown().await && store.working_links(day("2027-05-01")).await.unwrap().is_empty());
    let removed = store.removed().await.unwrap();
    assert_eq!((removed.count(), removed.blocks[0].id, removed.blocks[0].at), (1, id, at(7)));
    let stale = store.hand_over(id, Shows::ALL, day("2027-05-23"), at(8)).await;
    assert!(matches!(stale, Err(StoreError::Gone)), "{stale:?}");
    store.restore_block(id).await.unwrap();
    assert!(shown().await);
    assert_eq!(store.removed().await.unwrap().count(), 0);
    assert!(store.restore_block(crate::BlockId(99)).await.is_err());
}

#[tokio::test]
async fn a_removed_block_goes_for_good_after_its_days_and_its_entry_stays() {
    let Squad { store, athlete, race, week, block } = squad().await;
    let id = store.add_block(athlete, race, &Settings::default(), &week, &block, at(5)).await.unwrap();
    store.hand_over(id, Shows::ALL, day("2027-05-23"), at(6)).await.unwrap();
    store.remove_block(id, at(7)).await.unwrap();
    let after = |days: i64| at(7) + chrono::TimeDelta::days(days);
    assert_eq!(store.purge(after(KEPT_DAYS)).await.unwrap(), crate::Purged::Waits);
    assert_eq!(store.purge(after(KEPT_DAYS + 1)).await.unwrap(), crate::Purged::Gone(1));
    assert_eq!(store.entrants(race).await.unwrap().len(), 1);
    assert_eq!(store.removed().await.unwrap().count(), 0);
    assert_eq!(store.check().await.unwrap(), Vec::<String>::new());
}

fn to_hand_over(block: crate::BlockId, read_at: i64, shows: Shows) -> ToHandOver {
    ToHandOver { block, read_at: Version(read_at), shows, race_day: None, ends: day("2027-05-23") }
}

#[tokio::test]
async fn handing_over_many_is_undone_to_the_older_version_or_to_no_link() {
    let (squad, all) = three().await;
    let Squad { store, race, week, block, .. } = &squad;
    store.enter_many(*race, &all, Importance::Goal, at(3)).await.unwrap();
    store.add_blocks(*race, None, &planned(&squad, &all), at(4)).await.unwrap();
    let ids: Vec<_> = store.entrants(*race).await.unwrap().into_iter().filter_map(|entry| entry.block).collect();
    let held = store.hand_over(ids[0], Shows::NOTHING, day("2027-05-20"), at(5)).await.unwrap();
    let mut bent = block.clone();
    bent.days[3].sessions.clear();
    store.revise_block(ids[0], Version(1), &Settings::default(), week, &bent, "made anew", at(6)).await.unwrap();

    let wanted =
        [to_hand_over(ids[0], 2, Shows::ALL), to_hand_over(ids[1], 1, Shows::ALL), to_hand_over(ids[2], 7, Shows::ALL)];
    let done = store.hand_over_many(*race, &wanted, at(7)).await.unwrap();
    assert_eq!((done.done, done.changed, done.gone), (ids[..2].to_vec(), vec![ids[2]], vec![]));
    let step = done.step.unwrap();
    let again = store.hand_over_many(*race, &wanted[..2], at(8)).await.unwrap();
    assert_eq!((again.step, again.done.len()), (None, 2), "who holds it is left alone");

    let door = store.shared_reader().await.unwrap();
    let shown = async || door.shared(&held.token, day("2027-05-01")).await.unwrap().unwrap();
    assert_eq!((shown().await.revision, shown().await.ends), (2, day("2027-05-23")));
    store.undo_step(step, at(9)).await.unwrap();
    let back = store.block(ids[0]).await.unwrap().unwrap().share.unwrap();
    assert_eq!((back.token, back.revision, back.shows), (held.token.clone(), 1, Shows::NOTHING));
    assert_eq!((back.ends, back.handed_over), (day("2027-05-20"), at(9)));
    assert_eq!((shown().await.block, shown().await.revision), (block.clone(), 1));
    assert_eq!(store.block(ids[1]).await.unwrap().unwrap().share, None);
    assert_eq!(given_back(&squad, step).await, said(&[("Ana", true), ("Bo", true)]));
    assert_eq!(store.check().await.unwrap(), Vec::<String>::new());
}

#[tokio::test]
async fn who_was_handed_over_again_since_keeps_it() {
    let (squad, all) = three().await;
    let Squad { store, race, .. } = &squad;
    let done = store.add_blocks(*race, None, &planned(&squad, &all[..1]), at(4)).await.unwrap();
    let id = store.block_for(all[0], *race).await.unwrap().unwrap();
    let step = store.hand_over_many(*race, &[to_hand_over(id, 1, Shows::ALL)], at(5)).await.unwrap().step.unwrap();
    store.hand_over(id, Shows::NOTHING, day("2027-05-23"), at(6)).await.unwrap();
    store.undo_step(step, at(7)).await.unwrap();
    assert_eq!(given_back(&squad, step).await, said(&[("Ana", false)]));
    store.undo_step(done.step.unwrap(), at(8)).await.unwrap();
    assert!(store.block(id).await.unwrap().is_some(), "a block that was handed over since is no longer as it was made");
}
