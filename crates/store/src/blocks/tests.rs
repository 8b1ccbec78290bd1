//! Blocks and their revisions, on a real file.

use chrono::Weekday;
use planning::curve::ExtraRest;
use planning::{DayBefore, Field, Importance, Session, Shape};
use uuid::Uuid;

use super::*;
use crate::testing::{Squad, at, draft, planned_block, race_on, squad};
use crate::{BlockRecord, SecondWeek, Step, Stretch, WeekDraft};

fn wanted() -> Settings {
    Settings {
        days: Some(12),
        curve: Some(0.1 + 0.7),
        floor: Some(1.0 / 3.0),
        shape: Shape::Linear,
        day_before: DayBefore::Rest,
        extra_rest: ExtraRest::On(Weekday::Fri),
    }
}

fn written_goals() -> GoalNotes {
    let stretch = |word: &str| Stretch {
        effort: format!("{word} effort"),
        focus: format!("{word} focus"),
        cue: format!("{word} cue"),
    };
    GoalNotes {
        a: "1:38".to_owned(),
        b: "1:41".to_owned(),
        c: "smile at the bridge".to_owned(),
        belief: "four steady months".to_owned(),
        stretches: [stretch("first"), stretch("middle"), stretch("last")],
        hard_moment: "one lamp post more".to_owned(),
        message: "Enjoy it.".to_owned(),
    }
}

#[tokio::test]
async fn a_re_planned_block_keeps_the_plan_under_it() {
    let Squad { store, athlete, race, week, block } = squad().await;
    let id = store.add_block(athlete, race, &wanted(), &week, &block, at(5)).await.unwrap();
    let mut lighter = block.clone();
    lighter.days.iter_mut().for_each(|day| day.sessions.clear());
    let read_at = store.block(id).await.unwrap().unwrap().version;
    store.replan_block(id, read_at, &wanted(), &week, &lighter, &block, "re-planned", at(6)).await.unwrap();
    let kept = store.block(id).await.unwrap().unwrap();
    assert_eq!((&kept.block, kept.before_events.as_ref()), (&lighter, Some(&block)));
    store.replan_block(id, kept.version, &wanted(), &week, &block, &block, "taken back", at(7)).await.unwrap();
    let kept = store.block(id).await.unwrap().unwrap();
    assert_eq!((&kept.block, kept.before_events), (&block, None));
}

#[tokio::test]
async fn a_block_comes_back_as_it_was_made() {
    let Squad { store, athlete, race, week, block } = squad().await;
    let id = store.add_block(athlete, race, &wanted(), &week, &block, at(5)).await.unwrap();
    let kept = store.block(id).await.unwrap().unwrap();
    let expected = BlockRecord {
        outcome: None,
        goal_inside: None,
        id,
        version: Version(1),
        revision: 1,
        begun: at(5),
        made: at(5),
        reason: "made".to_owned(),
        athlete: store.athlete(athlete).await.unwrap().unwrap(),
        race: store.race(race).await.unwrap().unwrap(),
        week,
        settings: wanted(),
        block,
        before_events: None,
        goals: GoalNotes::default(),
        race_sheet: crate::RaceSheet::default(),
        share: None,
        undo: None,
        redo: None,
    };
    assert_eq!(kept, expected);
    assert_eq!(store.block_for(athlete, race).await.unwrap(), Some(id));
    assert_eq!(store.block(BlockId(99)).await.unwrap(), None);
}

#[tokio::test]
async fn a_revision_keeps_the_second_week_as_it_was_then() {
    let Squad { store, athlete, race, week, block } = squad().await;
    let second = SecondWeek { lines: week.lines.clone(), stands_on: "2027-05-03".parse().unwrap() };
    let draft = WeekDraft { second: Some(second), since: "2027-03-01".parse().ok(), ..week.draft() };
    store.save_week(athlete, week.version, &draft, at(4)).await.unwrap();
    let turning = store.week(athlete).await.unwrap().unwrap();
    let id = store.add_block(athlete, race, &wanted(), &turning, &block, at(5)).await.unwrap();
    store.save_week(athlete, turning.version, &WeekDraft::default(), at(6)).await.unwrap();
    let kept = store.block(id).await.unwrap().unwrap().week;
    assert_eq!(kept, turning);
    assert!(kept.week.turns().is_some() && kept.week.since().is_some());
}

#[tokio::test]
async fn a_double_click_makes_one_block() {
    let Squad { store, athlete, race, week, block } = squad().await;
    let first = store.add_block(athlete, race, &Settings::default(), &week, &block, at(5)).await.unwrap();
    let second = store.add_block(athlete, race, &wanted(), &week, &block, at(6)).await.unwrap();
    assert_eq!(first, second);
    let kept = store.block(first).await.unwrap().unwrap();
    assert_eq!((kept.settings, kept.revision), (Settings::default(), 1), "the second click wrote nothing");
}

#[tokio::test]
async fn goal_notes_and_old_revisions_survive_a_new_revision() {
    let Squad { store, athlete, race, week, block } = squad().await;
    let id = store.add_block(athlete, race, &Settings::default(), &week, &block, at(5)).await.unwrap();
    store.save_goals(id, Version(1), &written_goals(), at(6)).await.unwrap();

    let mut bent = block.clone();
    bent.days[3].sessions.clear();
    let number = store.revise_block(id, Version(2), &wanted(), &week, &bent, "made anew", at(7)).await.unwrap();
    let kept = store.block(id).await.unwrap().unwrap();
    assert_eq!((number, kept.revision, kept.version), (2, 2, Version(3)));
    assert_eq!((kept.block, kept.settings, kept.reason.as_str()), (bent, wanted(), "made anew"));
    assert_eq!((kept.goals, kept.made), (written_goals(), at(7)));

    let mut db = store.read_connection().await.unwrap();
    let first = revision(&mut db, id, 1).await.unwrap().unwrap();
    assert_eq!((first.block, first.made), (block, at(5)));
}

#[tokio::test]
async fn stale_saves_of_days_and_of_goals_are_conflicts() {
    let Squad { store, athlete, race, week, block } = squad().await;
    let id = store.add_block(athlete, race, &Settings::default(), &week, &block, at(5)).await.unwrap();
    store.save_goals(id, Version(1), &written_goals(), at(6)).await.unwrap();
    let stale = store.save_goals(id, Version(1), &GoalNotes::default(), at(7)).await;
    assert!(matches!(stale, Err(StoreError::Conflict)), "{stale:?}");
    let stale = store.revise_block(id, Version(1), &wanted(), &week, &block, "made anew", at(8)).await;
    assert!(matches!(stale, Err(StoreError::Conflict)), "{stale:?}");
    let kept = store.block(id).await.unwrap().unwrap();
    assert_eq!((kept.goals, kept.revision, kept.version), (written_goals(), 1, Version(2)));
}

#[tokio::test]
async fn a_block_is_hidden_with_its_entry_its_athlete_or_its_race_and_comes_back() {
    let Squad { store, athlete, race, week, block } = squad().await;
    let id = store.add_block(athlete, race, &Settings::default(), &week, &block, at(5)).await.unwrap();
    let hidden = async || {
        assert_eq!(store.block(id).await.unwrap(), None);
        assert_eq!(store.block_for(athlete, race).await.unwrap(), None);
        let gone = store.save_goals(id, Version(1), &written_goals(), at(6)).await;
        assert!(matches!(gone, Err(StoreError::Gone)), "{gone:?}");
        let gone = store.add_block(athlete, race, &Settings::default(), &week, &block, at(6)).await;
        assert!(matches!(gone, Err(StoreError::Gone)), "{gone:?}");
    };
    store.withdraw(race, athlete, at(6)).await.unwrap();
    hidden().await;
    store.enter(race, athlete, Importance::TuneUp, at(7)).await.unwrap();
    let back = store.block(id).await.unwrap().unwrap();
    assert_eq!((back.block, back.race.race.importance), (block.clone(), Importance::TuneUp));

    store.remove_race(race, at(8)).await.unwrap();
    hidden().await;
    store.restore_race(race, at(9)).await.unwrap();
    store.remove_athlete(athlete, at(10)).await.unwrap();
    hidden().await;
    store.restore_athlete(athlete, at(11)).await.unwrap();
    assert!(store.block(id).await.unwrap().is_some());
}

#[tokio::test]
async fn the_week_of_a_block_stays_as_it_was_when_the_base_week_changes() {
    let Squad { store, athlete, race, week, block } = squad().await;
    let id = store.add_block(athlete, race, &Settings::default(), &week, &block, at(5)).await.unwrap();
    store.save_week(athlete, week.version, &WeekDraft::default(), at(6)).await.unwrap();
    let mut miles = draft("Ana");
    miles.athlete.units = planning::DistanceUnit::Mi;
    store.save_athlete(athlete, Version(1), &miles, at(7)).await.unwrap();
    assert_eq!(store.block(id).await.unwrap().unwrap().week, week);
}

#[tokio::test]
async fn what_would_not_read_back_is_not_kept() {
    let Squad { store, athlete, race, mut week, mut block } = squad().await;
    let strange = Settings { floor: Some(2.0), ..Settings::default() };
    let refused = store.add_block(athlete, race, &strange, &week, &block, at(5)).await;
    let Err(StoreError::Refused(problems)) = refused else { panic!("{refused:?}") };
    assert_eq!(problems[0].at, Field::Floor);

    block.race_day = race_on("2027-05-10").date;
    let refused = store.add_block(athlete, race, &Settings::default(), &week, &block, at(5)).await;
    assert!(matches!(refused, Err(StoreError::Corrupt { column: "document", .. })), "{refused:?}");

    week.lines[2] = "8 leagues".to_owned();
    let block = planned_block("2027-05-09");
    let refused = store.add_block(athlete, race, &Settings::default(), &week, &block, at(5)).await;
    assert!(matches!(refused, Err(StoreError::Refused(_))), "{refused:?}");
    assert_eq!(store.block_for(athlete, race).await.unwrap(), None);
}

#[tokio::test]
async fn a_document_that_cannot_be_read_names_its_place() {
    let Squad { store, athlete, race, week, block } = squad().await;
    let id = store.add_block(athlete, race, &Settings::default(), &week, &block, at(5)).await.unwrap();
    sqlx::raw_sql("UPDATE block_revision SET document = replace(document, 'easy 8 km', 'easy 8 leagues')")
        .execute(&mut store.stray().await)
        .await
        .unwrap();
    let error = store.block(id).await.unwrap_err().to_string();
    assert!(error.starts_with("block_revision.document of row 1 cannot be read: 2027-"), "{error}");
}

#[tokio::test(flavor = "multi_thread")]
async fn of_twenty_blocks_made_at_once_one_is_kept() {
    let Squad { store, athlete, race, week, block } = squad().await;
    let makes: Vec<_> = (0..20)
        .map(|number| {
            let (store, week, mut block) = (store.store.clone(), week.clone(), block.clone());
            block.days[0].sessions.truncate(number % 2);
            tokio::spawn(async move {
                store.add_block(athlete, race, &Settings::default(), &week, &block, at(5)).await.unwrap()
            })
        })
        .collect();
    let mut ids = Vec::new();
    for make in makes {
        ids.push(make.await.unwrap());
    }
    ids.dedup();
    assert_eq!(ids.len(), 1, "{ids:?}");
}

#[tokio::test]
async fn a_session_note_comes_back_with_the_block() {
    let Squad { store, athlete, race, week, mut block } = squad().await;
    let noted: &mut Session = &mut block.days[8].sessions[0].session;
    noted.note = "with Bo; \"no watch\"\n(really)".to_owned();
    let id = store.add_block(athlete, race, &Settings::default(), &week, &block, at(5)).await.unwrap();
    assert_eq!(store.block(id).await.unwrap().unwrap().block, block);
}

/// A block of which one more day is rest in each revision.
async fn bent_twice() -> (Squad, BlockId, Vec<Block>) {
    let squad = squad().await;
    let mut blocks = vec![squad.block.clone()];
    let Squad { store, athlete, race, week, block } = &squad;
    let id = store.add_block(*athlete, *race, &Settings::default(), week, block, at(5)).await.unwrap();
    for (number, reason) in ["fixed Tue 27 Apr", "swapped two days"].into_iter().enumerate() {
        let mut bent = blocks[number].clone();
        bent.days[number + 1].sessions.clear();
        let read_at = store.block(id).await.unwrap().unwrap().version;
        store.revise_block(id, read_at, &wanted(), week, &bent, reason, at(6)).await.unwrap();
        blocks.push(bent);
    }
    (squad, id, blocks)
}

fn step(to: u32, reason: &str) -> Step {
    Step { to, reason: reason.to_owned() }
}

#[tokio::test]
async fn undo_goes_back_step_by_step_and_redo_comes_forward_again() {
    let (Squad { store, .. }, id, blocks) = bent_twice().await;
    let kept = async || store.block(id).await.unwrap().unwrap();
    let present = kept().await;
    assert_eq!((&present.block, present.undo, present.redo), (&blocks[2], Some(step(2, "swapped two days")), None));
    assert_eq!(store.redo_block(id, present.version).await.unwrap(), None, "nothing to redo");

    assert_eq!(store.undo_block(id, present.version).await.unwrap(), Some(2));
    let back = kept().await;
    assert_eq!((&back.block, back.revision), (&blocks[1], 2));
    assert_eq!((back.undo, back.redo), (Some(step(1, "fixed Tue 27 Apr")), Some(step(3, "swapped two days"))));
    assert_eq!(store.undo_block(id, back.version).await.unwrap(), Some(1));
    let first = kept().await;
    assert_eq!((&first.block, first.settings, first.undo), (&blocks[0], Settings::default(), None));
    assert_eq!(store.undo_block(id, first.version).await.unwrap(), None, "the first was made from nothing");

    assert_eq!(store.redo_block(id, first.version).await.unwrap(), Some(2));
    assert_eq!(store.redo_block(id, kept().await.version).await.unwrap(), Some(3));
    let again = kept().await;
    assert_eq!((&again.block, again.settings, again.revision), (&blocks[2], wanted(), 3));
}

#[tokio::test]
async fn redo_is_lost_only_when_a_new_save_branches_off_and_numbers_never_come_twice() {
    let (Squad { store, week, block, .. }, id, blocks) = bent_twice().await;
    let version = async || store.block(id).await.unwrap().unwrap().version;
    store.undo_block(id, version().await).await.unwrap();
    store.save_goals(id, version().await, &written_goals(), at(7)).await.unwrap();
    assert!(store.block(id).await.unwrap().unwrap().redo.is_some(), "goals are no branch");
    let branch = store.revise_block(id, version().await, &wanted(), &week, &block, "made anew", at(8)).await.unwrap();
    assert_eq!(branch, 4);
    let kept = store.block(id).await.unwrap().unwrap();
    assert_eq!((kept.redo, kept.undo), (None, Some(step(2, "made anew"))));
    store.undo_block(id, version().await).await.unwrap();
    assert_eq!(store.block(id).await.unwrap().unwrap().redo, Some(step(4, "made anew")), "the newest of two");
    let third = store.revision(id, 3).await.unwrap().unwrap();
    assert_eq!((third.number, third.block), (3, blocks[2].clone()), "the other branch is still there");
}

#[tokio::test]
async fn a_restored_revision_is_a_new_one_that_can_be_undone() {
    let (Squad { store, .. }, id, blocks) = bent_twice().await;
    let present = store.block(id).await.unwrap().unwrap();
    assert_eq!(store.restore_revision(id, present.version, 1, at(9)).await.unwrap(), Some(4));
    let kept = store.block(id).await.unwrap().unwrap();
    assert_eq!((&kept.block, kept.settings, kept.revision), (&blocks[0], Settings::default(), 4));
    assert_eq!((kept.reason.as_str(), kept.made), ("restored version 1", at(9)));
    assert_eq!(store.undo_block(id, kept.version).await.unwrap(), Some(3));
    let undone = store.block(id).await.unwrap().unwrap();
    assert_eq!((&undone.block, undone.redo), (&blocks[2], Some(step(4, "restored version 1"))));
    assert_eq!(store.restore_revision(id, undone.version, 9, at(9)).await.unwrap(), None);
    assert_eq!(store.revision(id, 9).await.unwrap(), None);
}

#[tokio::test]
async fn a_restored_revision_knows_since_when_its_week_is_run() {
    let Squad { store, athlete, race, mut week, block } = squad().await;
    week.since = Some(crate::testing::day("2027-02-01"));
    let id = store.add_block(athlete, race, &Settings::default(), &week, &block, at(5)).await.unwrap();
    store.restore_revision(id, Version(1), 1, at(6)).await.unwrap();
    assert_eq!(store.block(id).await.unwrap().unwrap().week.since, week.since);
}

#[tokio::test]
async fn the_list_of_revisions_says_which_is_present_and_which_was_handed_over() {
    let (Squad { store, .. }, id, _) = bent_twice().await;
    let version = async || store.block(id).await.unwrap().unwrap().version;
    store.undo_block(id, version().await).await.unwrap();
    store.hand_over(id, crate::Shows::NOTHING, crate::testing::day("2027-05-23"), at(7)).await.unwrap();
    store.redo_block(id, version().await).await.unwrap();
    let listed = store.revisions(id).await.unwrap().unwrap();
    let facts: Vec<_> = listed.iter().map(|one| (one.number, one.parent, one.is_present, one.handed_over)).collect();
    assert_eq!(facts, [(3, Some(2), true, None), (2, Some(1), false, Some(at(7))), (1, None, false, None)]);
    assert_eq!(listed[1].reason, "fixed Tue 27 Apr");
    assert_eq!(store.revisions(BlockId(99)).await.unwrap(), None);
}

#[tokio::test]
async fn stale_steps_are_conflicts_and_change_nothing() {
    let (Squad { store, .. }, id, blocks) = bent_twice().await;
    let stale = Version(1);
    let results = [
        store.undo_block(id, stale).await,
        store.redo_block(id, stale).await,
        store.restore_revision(id, stale, 1, at(9)).await,
    ];
    for result in results {
        assert!(matches!(result, Err(StoreError::Conflict)), "{result:?}");
    }
    let gone = store.undo_block(BlockId(99), stale).await;
    assert!(matches!(gone, Err(StoreError::Gone)), "{gone:?}");
    assert_eq!(store.block(id).await.unwrap().unwrap().block, blocks[2]);
    assert_eq!(store.revisions(id).await.unwrap().unwrap().len(), 3);
}

#[tokio::test]
async fn a_shared_block_never_changes_unasked() {
    let (Squad { store, .. }, id, blocks) = bent_twice().await;
    let door = store.shared_reader().await.unwrap();
    let share = store.hand_over(id, crate::Shows::NOTHING, crate::testing::day("2027-05-23"), at(7)).await.unwrap();
    let shown = async || door.shared(&share.token, crate::testing::day("2027-05-01")).await.unwrap().unwrap();
    let version = async || store.block(id).await.unwrap().unwrap().version;
    store.undo_block(id, version().await).await.unwrap();
    assert_eq!((shown().await.block, shown().await.revision), (blocks[2].clone(), 3));
    store.restore_revision(id, version().await, 1, at(8)).await.unwrap();
    assert_eq!(shown().await.block, blocks[2]);
    store.undo_block(id, version().await).await.unwrap();
    let again = store.hand_over(id, crate::Shows::NOTHING, crate::testing::day("2027-05-23"), at(9)).await.unwrap();
    assert_eq!(
        (again.revision, again.replaces),
        (2, Some(crate::Shown { revision: 3, at: at(7) })),
        "an older number can replace a newer sheet"
    );
    assert_eq!((shown().await.block, shown().await.replaces), (blocks[1].clone(), again.replaces));
}

#[tokio::test]
async fn stretches_may_be_taken_from_blocks_that_have_some_and_are_there() {
    let Squad { store, athlete, race, week, block } = squad().await;
    let id = store.add_block(athlete, race, &Settings::default(), &week, &block, at(5)).await.unwrap();
    let other = store.add_athlete(&draft("Ben"), Uuid::new_v4(), at(5)).await.unwrap();
    store.enter(race, other, Importance::Goal, at(5)).await.unwrap();
    let second = store.add_block(other, race, &Settings::default(), &week, &block, at(6)).await.unwrap();
    let of = async |id| -> Vec<BlockId> {
        store.stretches_elsewhere(id).await.unwrap().iter().map(|written| written.block).collect()
    };
    assert_eq!(of(second).await, []);
    store.save_goals(id, Version(1), &GoalNotes { a: "44:00".into(), ..GoalNotes::default() }, at(7)).await.unwrap();
    assert_eq!(of(second).await, [], "goals are no stretches");
    store.save_goals(id, Version(2), &written_goals(), at(8)).await.unwrap();
    assert_eq!((of(second).await, of(id).await), (vec![id], vec![]), "not its own");
    store.remove_block(id, at(9)).await.unwrap();
    assert_eq!(of(second).await, []);
}
