//! Templates and the weeks that came from them, on a real file.

use planning::{Amount, Milli, Unit};

use super::*;
use crate::testing::{add, at, lines, once, open};
use crate::{KEPT_DAYS, Purged, SecondWeek, WeekDraft};

fn five(name: &str) -> TemplateDraft {
    let lines = lines(["", "8", "7", "tempo 9", "", "6", "long 16"]);
    TemplateDraft { name: name.to_owned(), units: DistanceUnit::Km, lines, notes: "For the winter.".to_owned() }
}

fn filled(athlete: AthleteId, read_at: i64, template: TemplateId, mon: &str) -> FilledWeek {
    let given = lines([mon, "", "", "", "", "", "9"]);
    FilledWeek {
        athlete,
        read_at: Version(read_at),
        week: Some(WeekDraft::of(given.clone())),
        from: TemplateUse {
            template,
            version: Version(1),
            amount: Amount::exact(Milli::whole(40), Unit::Km),
            given,
            units: DistanceUnit::Km,
        },
    }
}

#[tokio::test]
async fn a_template_is_kept_changed_removed_and_brought_back() {
    let (store, key) = (open().await, once());
    let empty = TemplateDraft { lines: lines([""; 7]), ..five("") };
    let refused = store.add_template(&empty, key, at(0)).await;
    assert!(matches!(&refused, Err(StoreError::Refused(found)) if found.len() == 2), "{refused:?}");
    let id = store.add_template(&five("Winter"), key, at(0)).await.unwrap();
    assert_eq!(store.add_template(&five("Winter"), key, at(1)).await.unwrap(), id);
    store.save_template(id, Version(1), &five("Ááron's winter"), at(2)).await.unwrap();
    let stale = store.save_template(id, Version(1), &five("x"), at(3)).await;
    assert!(matches!(stale, Err(StoreError::Conflict)), "{stale:?}");
    let kept = store.template(id).await.unwrap().unwrap();
    assert_eq!((kept.version, &kept.draft, kept.athletes), (Version(2), &five("Ááron's winter"), 0));
    store.remove_template(id, at(4)).await.unwrap();
    assert_eq!((store.templates().await.unwrap(), store.removed().await.unwrap().templates.len()), (vec![], 1));
    store.restore_template(id, at(5)).await.unwrap();
    assert_eq!(store.templates().await.unwrap(), [kept]);
}

#[tokio::test]
async fn weeks_are_filled_in_as_a_whole_once_and_undone_with_what_they_came_from() {
    let store = open().await;
    let (ana, bo) = (add(&store, "Ana").await, add(&store, "Bo").await);
    let id = store.add_template(&five("Winter"), once(), at(0)).await.unwrap();
    let turning = WeekDraft {
        second: Some(SecondWeek { lines: lines(["5"; 7]), stands_on: "2027-05-03".parse().unwrap() }),
        ..WeekDraft::of(lines(["8"; 7]))
    };
    store.save_week(ana, Version(0), &turning, at(1)).await.unwrap();
    let stale =
        store.apply_template((id, Version(1)), &[filled(bo, 0, id, "7"), filled(ana, 9, id, "7")], once(), at(2)).await;
    assert!(matches!(stale, Err(StoreError::Conflict)), "{stale:?}");
    assert_eq!(
        (store.week(bo).await.unwrap().unwrap().version, store.template_of(bo).await.unwrap()),
        (Version(0), None)
    );

    let key = once();
    let both = [filled(ana, 1, id, "7"), filled(bo, 0, id, "9")];
    let step = store.apply_template((id, Version(1)), &both, key, at(3)).await.unwrap();
    assert_eq!(store.apply_template((id, Version(1)), &both, key, at(4)).await.unwrap(), step);
    assert_eq!(store.week(bo).await.unwrap().unwrap().lines[0], "9");
    assert_eq!(store.template_of(ana).await.unwrap(), Some((both[0].from.clone(), "Winter".to_owned())));
    assert_eq!(store.template(id).await.unwrap().unwrap().athletes, 2);
    store.save_template(id, Version(1), &five("Winter"), at(5)).await.unwrap();
    assert_eq!(store.template(id).await.unwrap().unwrap().older, 2);
    let old = store.apply_template((id, Version(1)), &both, once(), at(6)).await;
    assert!(matches!(old, Err(StoreError::Conflict)), "the template was saved since: {old:?}");

    store.undo_step(step, at(7)).await.unwrap();
    let week = store.week(ana).await.unwrap().unwrap();
    assert_eq!((week.lines, week.second, week.version), (turning.lines, turning.second, Version(3)));
    assert_eq!(store.week(bo).await.unwrap().unwrap().version, Version(0));
    assert_eq!(store.template_of(ana).await.unwrap(), None);
    assert_eq!(store.check().await.unwrap(), Vec::<String>::new());
}

#[tokio::test]
async fn who_changed_a_day_since_keeps_it_when_a_step_is_undone() {
    let store = open().await;
    let ana = add(&store, "Ana").await;
    let id = store.add_template(&five("Winter"), once(), at(0)).await.unwrap();
    let first = store.apply_template((id, Version(1)), &[filled(ana, 0, id, "7")], once(), at(1)).await.unwrap();
    let second = store.apply_template((id, Version(1)), &[filled(ana, 1, id, "8")], once(), at(2)).await.unwrap();
    store.undo_step(first, at(3)).await.unwrap();
    assert_eq!(store.step(first).await.unwrap().unwrap().0.given_back, 0, "not what stands now");
    store.undo_step(second, at(4)).await.unwrap();
    assert_eq!(store.week(ana).await.unwrap().unwrap().lines[0], "7");
    assert_eq!(store.template_of(ana).await.unwrap().unwrap().0.given[0], "7");
}

#[tokio::test]
async fn nothing_is_filled_in_for_who_is_removed_were_the_lines_to_stay_as_they_are() {
    let store = open().await;
    let ana = add(&store, "Ana").await;
    let id = store.add_template(&five("Winter"), once(), at(0)).await.unwrap();
    store.save_week(ana, Version(0), &WeekDraft::of(lines(["8"; 7])), at(1)).await.unwrap();
    store.remove_athlete(ana, at(2)).await.unwrap();
    let same = FilledWeek { week: None, ..filled(ana, 1, id, "8") };
    for one in [filled(ana, 1, id, "8"), same] {
        let refused = store.apply_template((id, Version(1)), &[one], once(), at(3)).await;
        assert!(matches!(refused, Err(StoreError::Gone)), "{refused:?}");
    }
}

#[tokio::test]
async fn athletes_are_found_by_name_group_and_what_they_run() {
    let store = open().await;
    let (ana, bo, _) = (add(&store, "Ána One").await, add(&store, "Bo One").await, add(&store, "Cy Two").await);
    let id = store.add_template(&five("Winter"), once(), at(0)).await.unwrap();
    store.apply_template((id, Version(1)), &[filled(bo, 0, id, "7")], once(), at(1)).await.unwrap();
    let found = async |text: &str, runs: bool, older: bool| {
        let runs = runs.then_some(id);
        let which = WhichAthletes { text: text.to_owned(), runs, older, ..WhichAthletes::default() };
        store.candidates(&which, 1).await.unwrap()
    };
    assert_eq!(found("one", false, false).await, (vec![ana], 2), "the first of two");
    assert_eq!(found("", false, false).await.1, 3);
    assert_eq!(found("", true, false).await, (vec![bo], 1));
    assert_eq!(found("", true, true).await, (vec![], 0));
    store.save_template(id, Version(1), &five("Winter"), at(2)).await.unwrap();
    assert_eq!(found("", true, true).await, (vec![bo], 1));
    let all = store.candidates_of(&[bo, ana]).await.unwrap();
    assert_eq!(
        all.iter().map(|one| (one.athlete.id, one.from.is_some())).collect::<Vec<_>>(),
        [(ana, false), (bo, true)]
    );
}

#[tokio::test]
async fn a_removed_template_goes_for_good_and_leaves_the_weeks() {
    let store = open().await;
    let ana = add(&store, "Ana").await;
    let id = store.add_template(&five("Winter"), once(), at(0)).await.unwrap();
    let step = store.apply_template((id, Version(1)), &[filled(ana, 0, id, "7")], once(), at(1)).await.unwrap();
    let again = store.apply_template((id, Version(1)), &[filled(ana, 1, id, "8")], once(), at(2)).await.unwrap();
    store.remove_template(id, at(3)).await.unwrap();
    let later = |days: i64| at(3) + chrono::TimeDelta::days(days);
    assert_eq!(store.purge(later(KEPT_DAYS + 1)).await.unwrap(), Purged::Waits);
    assert_eq!(store.purge(later(KEPT_DAYS + 3)).await.unwrap(), Purged::Gone(1));
    assert_eq!(
        (store.template_of(ana).await.unwrap(), store.week(ana).await.unwrap().unwrap().lines[0].as_str()),
        (None, "8")
    );
    store.undo_step(again, later(40)).await.unwrap();
    store.undo_step(step, later(40)).await.unwrap();
    assert_eq!(store.check().await.unwrap(), Vec::<String>::new());
}
