use chrono::{Days, NaiveDate};
use planning::{Block, DistanceUnit, EventKind, Importance, LifeEvent, Moment, Planned, Role, Settings};
use proptest::prelude::*;

use super::read::{self, Whose};
use super::{BlockAhead, BlockState, BoardDay, BoardRow, DAYS_AFTER, DAYS_BEFORE, FixedAgainst, Raced, Rows, Waits};

use std::collections::BTreeSet;

use crate::testing::{Squad, TestStore, add, add_race, at, day, draft, lines, open, planned_block, squad, usual_lines};
use crate::{AthleteId, BlockId, GoalNotes, NameSearch, RaceId, Shows, Store, Version, WeekDraft};

/// The days of a block that a row on a day knows of.
fn glanced(block: &Block, today: &str) -> Box<[BoardDay]> {
    let within = day(today) - Days::new(DAYS_BEFORE)..=day(today) + Days::new(DAYS_AFTER);
    let days = block.days.iter().filter(|day| within.contains(&day.date));
    days.map(|day| BoardDay {
        date: day.date,
        has_race: day.to_race == 0,
        planned: day.planned_running(),
        usual: day.usual_running(),
    })
    .collect()
}

/// The board read anew, past what is kept.
async fn anew(store: &Store, today: NaiveDate) -> Vec<BoardRow> {
    let mut tx = store.reading().await.unwrap();
    let rows = Rows::anew(&mut tx, today).await.unwrap();
    rows.board.iter().map(|row| BoardRow::clone(row)).collect()
}

async fn kept(store: &Store, today: NaiveDate) -> Vec<BoardRow> {
    store.board(today).await.unwrap().iter().map(|row| BoardRow::clone(row)).collect()
}

#[tokio::test]
async fn every_athlete_has_a_row_whatever_is_missing() {
    let Squad { store, athlete, race, week, block } = squad().await;
    add(&store, "Zoe").await;
    let gone = add(&store, "Cy").await;
    store.remove_athlete(gone, at(1)).await.unwrap();
    let rows = store.board(day("2027-04-20")).await.unwrap();
    let names: Vec<_> = rows.iter().map(|row| row.name.as_str()).collect();
    assert_eq!(names, ["Ana", "Zoe"]);
    assert_eq!((rows[0].week_saved, rows[1].week_saved), (week.saved, None));
    assert_eq!(rows[0].next_race.as_deref(), store.race(race).await.unwrap().as_ref());
    assert_eq!((rows[0].importance, &rows[0].block), (Some(Importance::Goal), &None));
    assert_eq!((&rows[1].next_race, rows[1].importance), (&None, None));

    let id = store.add_block(athlete, race, &Settings::default(), &week, &block, at(5)).await.unwrap();
    let row = store.board(day("2027-05-09")).await.unwrap()[0].clone();
    let shown = row.block.as_ref().unwrap();
    assert_eq!(shown.state, BlockState { id, revision: 1, handed_over: None, has_goals: false });
    assert_eq!((shown.first_day, shown.length), (block.first_day(), block.curve.length), "race day is before the race");
    assert_eq!(shown.days, glanced(&block, "2027-05-09"));
    let past = store.board(day("2027-05-10")).await.unwrap()[0].clone();
    assert_eq!((&past.next_race, &past.block), (&None, &None));
}

#[tokio::test]
async fn a_row_says_what_was_handed_over_and_whether_goals_are_written() {
    let Squad { store, athlete, race, week, block } = squad().await;
    let id = store.add_block(athlete, race, &Settings::default(), &week, &block, at(5)).await.unwrap();
    store.hand_over(id, Shows::NOTHING, day("2027-05-23"), at(6)).await.unwrap();
    store.revise_block(id, Version(1), &Settings::default(), &week, &block, "made anew", at(7)).await.unwrap();
    let state = async || {
        let shown = store.board(day("2027-05-01")).await.unwrap()[0].clone().block.clone().unwrap().state;
        (shown.revision, shown.handed_over.map(|held| (held.revision, held.notes_changed)), shown.has_goals)
    };
    assert_eq!(state().await, (2, Some((1, false)), false));
    let only_words = GoalNotes { message: "Enjoy it.".to_owned(), ..GoalNotes::default() };
    store.save_goals(id, Version(2), &only_words, at(8)).await.unwrap();
    assert_eq!(state().await, (2, Some((1, true)), false), "words to the athlete are no goal, but shown");
    store.save_goals(id, Version(3), &GoalNotes { c: "finish".to_owned(), ..only_words }, at(9)).await.unwrap();
    assert_eq!(state().await, (2, Some((1, true)), true));
    store.hand_over(id, Shows::NOTHING, day("2027-05-23"), at(9)).await.unwrap();
    assert_eq!(state().await, (2, Some((2, false)), true));
    let other_goal = GoalNotes { c: "smile".to_owned(), message: "Enjoy it.".to_owned(), ..GoalNotes::default() };
    store.save_goals(id, Version(4), &other_goal, at(9)).await.unwrap();
    assert_eq!(state().await, (2, Some((2, false)), true), "a goal that is not shown changed");
    store.revoke(id, at(10)).await.unwrap();
    assert_eq!(state().await, (2, None, true));
}

#[tokio::test]
async fn a_row_says_that_its_athlete_is_noted_as_under_18_since_the_block_was_made() {
    let Squad { store, athlete, race, week, block } = squad().await;
    let goal = add_race(&store, "2027-04-25").await;
    store.add_block(athlete, race, &Settings::default(), &week, &block, at(5)).await.unwrap();
    let young = async |is_ahead: bool| {
        let row = store.board(day("2027-04-20")).await.unwrap()[0].clone();
        if is_ahead { row.ahead[0].before_youth } else { row.block.as_ref().unwrap().before_youth }
    };
    for (year, expected) in [(None, false), (Some(2009), false), (Some(2010), true)] {
        let mut ana = store.athlete(athlete).await.unwrap().unwrap();
        ana.draft.athlete.birth_year = year;
        store.save_athlete(ana.id, ana.version, &ana.draft, at(6)).await.unwrap();
        assert_eq!(young(false).await, expected, "{year:?}");
    }
    store.enter(goal, athlete, Importance::Goal, at(7)).await.unwrap();
    assert!(young(true).await, "behind another goal race, too");
    let mut of_youth = block.clone();
    of_youth.adjustments.push(planning::curve::Adjustment::Youth);
    let id = store.board(day("2027-04-20")).await.unwrap()[0].ahead[0].block;
    store.revise_block(id, Version(1), &Settings::default(), &week, &of_youth, "made anew", at(8)).await.unwrap();
    assert!(!young(true).await, "it is one of youth");
}

#[tokio::test]
async fn a_race_behind_asks_for_its_result_for_two_weeks() {
    let Squad { store, athlete, race, week, block } = squad().await;
    let raced = async |today: &str| store.board(day(today)).await.unwrap()[0].clone().raced;
    let without = Some(Raced { race, block: None, day: day("2027-05-09") });
    assert_eq!(raced("2027-05-10").await, without, "a goal race has a result without a block, too");
    let id = store.add_block(athlete, race, &Settings::default(), &week, &block, at(5)).await.unwrap();
    let expected = Some(Raced { race, block: Some(id), day: day("2027-05-09") });
    assert_eq!(raced("2027-05-09").await, None, "race day is still before the race");
    assert_eq!(raced("2027-05-10").await, expected);
    assert_eq!(raced("2027-05-23").await, expected);
    assert_eq!(raced("2027-05-24").await, None);
    store.call_off_race(race, Some(day("2027-05-08")), at(6)).await.unwrap();
    assert_eq!(raced("2027-05-10").await, None);
    store.call_off_race(race, None, at(7)).await.unwrap();
    let (none, ran) = (crate::RaceResult::default(), crate::ReallyRan::default());
    store.save_result((race, athlete), Version(0), &none, ran, at(8)).await.unwrap();
    assert_eq!(raced("2027-05-10").await, None);
}

#[tokio::test]
async fn a_row_says_that_a_race_sheet_that_is_shown_was_saved_since() {
    let Squad { store, athlete, race, week, block } = squad().await;
    let id = store.add_block(athlete, race, &Settings::default(), &week, &block, at(5)).await.unwrap();
    let changed = async || {
        let row = store.board(day("2027-05-01")).await.unwrap()[0].clone();
        row.block.clone().unwrap().state.handed_over.unwrap().notes_changed
    };
    for (hour, shows, expected) in [(6, Shows::ALL, true), (8, Shows::NOTHING, false)] {
        store.hand_over(id, shows, day("2027-05-23"), at(hour)).await.unwrap();
        assert!(!changed().await);
        let version = store.block(id).await.unwrap().unwrap().version;
        store.save_race_sheet(id, version, &crate::RaceSheet::default(), at(hour + 1)).await.unwrap();
        assert_eq!(changed().await, expected, "{shows:?}");
    }
    store.hand_over(id, Shows::ALL, day("2027-05-23"), at(10)).await.unwrap();
    store.save_race_facts(race, Version(0), &crate::RaceFacts::default(), at(11)).await.unwrap();
    assert!(changed().await, "what all have to know of the race stands on it too");
}

#[tokio::test]
async fn the_next_race_is_the_nearest_goal_race_and_any_other_only_without_one() {
    let Squad { store, athlete, race, .. } = squad().await;
    let same_day = add_race(&store, "2027-05-09").await;
    let later = add_race(&store, "2027-06-06").await;
    store.enter(race, athlete, Importance::TrainingThrough, at(1)).await.unwrap();
    store.enter(same_day, athlete, Importance::Goal, at(1)).await.unwrap();
    store.enter(later, athlete, Importance::Goal, at(1)).await.unwrap();
    let next = async |today: &str| {
        let row = store.board(day(today)).await.unwrap()[0].clone();
        row.next_race.as_ref().map(|race| race.id)
    };
    assert_eq!(next("2027-05-09").await, Some(same_day));
    store.call_off_race(same_day, Some(day("2027-05-01")), at(1)).await.unwrap();
    assert_eq!(next("2027-05-09").await, Some(later), "called off, and another goal race is ahead");
    store.call_off_race(later, Some(day("2027-05-01")), at(1)).await.unwrap();
    assert_eq!(next("2027-05-09").await, Some(same_day), "no goal is left, whatever else is run");
    store.call_off_race(same_day, None, at(1)).await.unwrap();
    store.call_off_race(later, None, at(1)).await.unwrap();
    assert_eq!(next("2027-05-10").await, Some(later));
    store.withdraw(later, athlete, at(2)).await.unwrap();
    assert_eq!(next("2027-05-10").await, None);
    store.remove_race(same_day, at(3)).await.unwrap();
    assert_eq!(next("2027-05-01").await, Some(race));
}

#[tokio::test]
async fn blocks_for_races_farther_ahead_are_not_hidden_by_the_nearer_one() {
    let Squad { store, athlete, race, week, block } = squad().await;
    let later = add_race(&store, "2027-06-06").await;
    store.enter(later, athlete, Importance::Goal, at(1)).await.unwrap();
    store.add_block(athlete, race, &Settings::default(), &week, &block, at(5)).await.unwrap();
    let far = store.add_block(athlete, later, &Settings::default(), &week, &block, at(5)).await.unwrap();
    let ahead = async || store.board(day("2027-04-20")).await.unwrap()[0].ahead.to_vec();
    let made = BlockAhead {
        block: far,
        race_day: day("2027-06-06"),
        importance: Importance::Goal,
        made_for: block.race_day,
        first_day: block.first_day(),
        revision: 1,
        held: None,
        lacks: None,
        before_youth: false,
    };
    assert_eq!(ahead().await, [made]);
    store.hand_over(far, Shows::NOTHING, day("2027-06-20"), at(6)).await.unwrap();
    assert_eq!(ahead().await, [BlockAhead { held: Some((1, at(6))), ..made }]);
    store.revise_block(far, Version(1), &Settings::default(), &week, &block, "made anew", at(7)).await.unwrap();
    let revised = BlockAhead { revision: 2, held: Some((1, at(6))), ..made };
    assert_eq!(ahead().await, [revised]);
    store.call_off_race(later, Some(day("2027-05-01")), at(8)).await.unwrap();
    assert_eq!(ahead().await, [], "it does not take place");
    store.call_off_race(later, None, at(8)).await.unwrap();
    assert_eq!(ahead().await, [revised]);
}

#[tokio::test]
async fn a_race_on_the_way_that_a_block_does_not_know_is_named_for_the_next_block_and_for_those_after_it() {
    let Squad { store, athlete, race, week, block } = squad().await;
    let later = add_race(&store, "2027-06-06").await;
    store.enter(later, athlete, Importance::Goal, at(1)).await.unwrap();
    for race in [race, later] {
        store.add_block(athlete, race, &Settings::default(), &week, &block, at(5)).await.unwrap();
    }
    let lacks = async || {
        let row = store.board(day("2027-04-20")).await.unwrap()[0].clone();
        (row.block.as_ref().unwrap().lacks, row.ahead[0].lacks)
    };
    assert_eq!(lacks().await, (None, None));
    let on_the_way = block.race_day - Days::new(8);
    for (date, importance, known) in [
        (on_the_way, Importance::TuneUp, Some(on_the_way)),
        (on_the_way, Importance::TrainingThrough, Some(on_the_way)),
        (block.race_day, Importance::TuneUp, None),
        (block.days[0].date - Days::new(1), Importance::TuneUp, None),
    ] {
        let other = add_race(&store, &date.to_string()).await;
        store.enter(other, athlete, importance, at(6)).await.unwrap();
        assert_eq!(lacks().await, (known, known), "{importance:?} on {date}");
        store.call_off_race(other, Some(day("2027-04-20")), at(7)).await.unwrap();
        assert_eq!(lacks().await, (None, None), "it does not take place");
    }
}

#[tokio::test]
async fn what_was_marked_as_sent_is_not_due() {
    let Squad { store, athlete, race, week, block } = squad().await;
    let id = store.add_block(athlete, race, &Settings::default(), &week, &block, at(5)).await.unwrap();
    let due = async |today: &str| store.board(day(today)).await.unwrap()[0].block.clone().unwrap().due;
    assert_eq!(due("2027-05-02").await, Some(Moment::WeekOut));
    assert_eq!(due("2027-05-03").await, None);
    store.mark_sent(id, Moment::WeekOut, at(6)).await.unwrap();
    assert_eq!(due("2027-05-02").await, None);
}

#[tokio::test]
async fn an_event_waits_until_the_block_is_planned_around_it() {
    let Squad { store, athlete, race, week, block } = squad().await;
    let id = store.add_block(athlete, race, &Settings::default(), &week, &block, at(5)).await.unwrap();
    let waits = async || store.board(day("2027-04-29")).await.unwrap()[0].block.clone().unwrap().waits;
    assert_eq!(waits().await, None);
    let event = |kind, from: &str, to: &str| LifeEvent {
        kind,
        from: day(from),
        to: day(to),
        noted: day("2027-04-29"),
        open: false,
    };
    store.add_event(athlete, &event(EventKind::LowEnergy, "2027-01-02", "2027-01-03"), "", at(6)).await.unwrap();
    assert_eq!(waits().await, None, "it is long past and changes no day");
    let ill = event(EventKind::Illness { fever: false }, "2027-04-29", "2027-05-01");
    let noted = store.add_event(athlete, &ill, "", at(6)).await.unwrap();
    assert_eq!(waits().await, Some(Waits::Noted(ill.kind)));
    let happened = planning::Happened { events: &[ill], excess: None };
    let laid = planning::replan(&block, &draft("Ana").athlete, &week.week, &happened).unwrap();
    store.replan_block(id, Version(1), &Settings::default(), &week, &laid, &block, "re-planned", at(7)).await.unwrap();
    assert_eq!(waits().await, None, "the coach said yes");
    store.remove_event(athlete, noted, at(8)).await.unwrap();
    assert_eq!(waits().await, Some(Waits::TakenBack));
}

#[tokio::test]
async fn a_fixed_day_that_an_illness_stands_against_is_told_until_it_is_past() {
    let Squad { store, athlete, race, week, block } = squad().await;
    let fixed_days = [day("2027-04-29"), day("2027-05-01")];
    let hard = planning::notation::read_day("tempo 8, hard 4", DistanceUnit::Km).unwrap()[0].chosen().clone();
    let mut block = block;
    for held in block.days.iter_mut().filter(|held| fixed_days.contains(&held.date)) {
        held.sessions = vec![Planned { session: hard.clone(), usual: None, role: Role::Plain, why: Vec::new() }];
        held.pinned = true;
    }
    store.add_block(athlete, race, &Settings::default(), &week, &block, at(5)).await.unwrap();
    let fixed = async |today: &str| store.board(day(today)).await.unwrap()[0].block.clone().unwrap().fixed;
    assert_eq!(fixed("2027-04-29").await, None);
    let kind = EventKind::Illness { fever: false };
    let ill = LifeEvent { kind, from: day("2027-04-28"), to: day("2027-04-29"), noted: day("2027-04-28"), open: false };
    store.add_event(athlete, &ill, "", at(6)).await.unwrap();
    let on = |day, is_after| Some(FixedAgainst { day, kind, is_hard: true, is_after });
    assert_eq!(fixed("2027-04-29").await, on(fixed_days[0], false));
    assert_eq!(fixed("2027-04-30").await, on(fixed_days[1], true), "two easy days follow");
    assert_eq!(fixed("2027-05-02").await, None);
}

#[tokio::test]
async fn another_base_week_than_the_block_was_made_from_is_told() {
    let Squad { store, athlete, race, week, block } = squad().await;
    store.add_block(athlete, race, &Settings::default(), &week, &block, at(5)).await.unwrap();
    let changed = async || store.board(day("2027-04-20")).await.unwrap()[0].block.clone().unwrap().week_changed;
    assert!(!changed().await);
    store.save_week(athlete, Version(1), &WeekDraft::of(usual_lines()), at(6)).await.unwrap();
    assert!(!changed().await, "saved again with the same lines");
    let other = lines(["", "", "8", "", "", "", "long 12"]);
    store.save_week(athlete, Version(2), &WeekDraft::of(other), at(7)).await.unwrap();
    assert!(changed().await);
}

#[tokio::test]
async fn the_log_is_read_of_a_block_that_has_begun() {
    let Squad { store, athlete, race, week, block } = squad().await;
    store.add_block(athlete, race, &Settings::default(), &week, &block, at(5)).await.unwrap();
    let first = block.first_day();
    let log = async |today| store.board(today).await.unwrap()[0].block.clone().unwrap().log;
    store.add_done_session(athlete, first, "8 km", None, None, first, at(6)).await.unwrap();
    store.add_done_session(athlete, first, "strength 30", None, None, first, at(6)).await.unwrap();
    store.save_done_week(athlete, first - Days::new(7), Version(0), "all", "", first, at(6)).await.unwrap();
    let told = log(first).await;
    assert_eq!(told.heard, Some(first));
    assert_eq!((told.runs.len(), told.weeks.len()), (1, 1), "strength is no running");
    assert_eq!(log(first - Days::new(1)).await, super::BoardLog::default());
}

#[tokio::test]
async fn names_are_found_by_any_part_with_or_without_marks() {
    let store = open().await;
    for name in ["Béla Ö. Nagy", "Ana", "Bo"] {
        add(&store, name).await;
    }
    let board = store.board(day("2027-04-20")).await.unwrap();
    for typed in ["", "bel", "NAGY bé", "zz", "o", " "] {
        let found: Vec<_> =
            board.iter().filter(|row| NameSearch::new(typed).finds(row)).map(|row| row.athlete).collect();
        let listed: Vec<_> = store.find_athletes(typed).await.unwrap().into_iter().map(|record| record.id).collect();
        assert_eq!(found, listed, "{typed:?}");
    }
}

#[tokio::test]
async fn what_another_program_wrote_is_in_the_next_look() {
    let store = open().await;
    let ana = add(&store, "Ana").await;
    assert_eq!(store.board(day("2027-04-20")).await.unwrap()[0].name, "Ana");
    let mut stray = store.stray().await;
    sqlx::query("UPDATE athlete SET name = 'Bea', name_key = 'bea' WHERE id = ?")
        .bind(ana.0)
        .execute(&mut stray)
        .await
        .unwrap();
    assert_eq!(store.board(day("2027-04-20")).await.unwrap()[0].name, "Bea");
    sqlx::query("DELETE FROM athlete").execute(&mut stray).await.unwrap();
    assert!(store.board(day("2027-04-20")).await.unwrap().is_empty());
}

#[tokio::test]
async fn nothing_is_read_again_while_nothing_is_written() {
    let Squad { store, .. } = squad().await;
    let first = store.board(day("2027-04-20")).await.unwrap();
    let other = add(&store, "Zoe").await;
    let second = store.board(day("2027-04-20")).await.unwrap();
    assert!(std::sync::Arc::ptr_eq(&first[0], &second[0]), "only Zoe was written for");
    assert_eq!(second[1].athlete, other);
    assert!(std::sync::Arc::ptr_eq(&second, &store.board(day("2027-04-20")).await.unwrap()));
}

/// Tables that tell of athletes or races and of which no row depends, each with its reason.
const TELL_NOTHING: [(&str, &str); 3] = [
    ("squad_step", "what it did stands in other tables"),
    ("squad_step_item", "what it did stands in other tables"),
    ("week_from_template", "the week itself stands in another table"),
];

#[tokio::test]
async fn every_table_that_tells_of_an_athlete_makes_the_row_older() {
    let store = open().await;
    let tables: Vec<String> = sqlx::query_scalar(
        "SELECT DISTINCT tables.name FROM sqlite_schema AS tables, pragma_table_info(tables.name) AS columns
         WHERE tables.type = 'table' AND (columns.name IN ('athlete', 'block', 'race') OR tables.name IN ('athlete', 'race'))
               AND tables.name <> 'board_change'
         ORDER BY tables.name",
    )
    .fetch_all(&mut store.stray().await)
    .await
    .unwrap();
    assert!(tables.len() > 15, "{tables:?}");
    let triggers: Vec<(String, String)> =
        sqlx::query_as("SELECT tbl_name, name FROM sqlite_schema WHERE type = 'trigger'")
            .fetch_all(&mut store.stray().await)
            .await
            .unwrap();
    for table in tables.into_iter().filter(|table| TELL_NOTHING.iter().all(|(name, _)| name != table)) {
        let named: BTreeSet<_> = triggers.iter().filter(|(on, _)| *on == table).map(|(_, name)| name.clone()).collect();
        let wanted = ["insert", "update", "delete"].map(|change| format!("board_{table}_{change}"));
        let missing: Vec<_> = wanted.iter().filter(|name| !named.contains(*name)).collect();
        assert!(missing.is_empty(), "{table}: a migration should give it {missing:?}, as 0009_board.sql does");
    }
}

/// One thing that a coach does, on one of few athletes and races.
#[derive(Clone, Copy, Debug)]
struct Act {
    what: u8,
    who: usize,
    race: usize,
}

fn acts() -> impl Strategy<Value = Vec<Act>> {
    let one = (0..20_u8, 0..3_usize, 0..3_usize).prop_map(|(what, who, race)| Act { what, who, race });
    prop::collection::vec(one, 1..25)
}

struct Played {
    store: TestStore,
    people: Vec<AthleteId>,
    races: Vec<RaceId>,
    minutes: i64,
}

impl Played {
    async fn new() -> Self {
        let store = open().await;
        let mut people = Vec::new();
        for name in ["Ana", "Bo", "Cy"] {
            people.push(add(&store, name).await);
        }
        let mut races = Vec::new();
        for date in ["2027-05-09", "2027-05-09", "2027-04-25"] {
            races.push(add_race(&store, date).await);
        }
        for (who, race) in [(0, 0), (1, 0), (1, 2), (2, 2)] {
            store.enter(races[race], people[who], Importance::Goal, at(1)).await.unwrap();
        }
        for who in &people[..2] {
            store.save_week(*who, Version(0), &WeekDraft::of(usual_lines()), at(1)).await.unwrap();
        }
        Self { store, people, races, minutes: 10 }
    }

    async fn block(&self, act: Act) -> Option<(BlockId, Version)> {
        let id = self.store.block_for(self.people[act.who], self.races[act.race]).await.unwrap()?;
        Some((id, self.store.block(id).await.unwrap()?.version))
    }

    /// What is refused is no matter here.
    async fn act(&mut self, act: Act) {
        self.minutes += 1;
        let now = at(self.minutes);
        let (store, who, race) = (&self.store, self.people[act.who], self.races[act.race]);
        let block = self.block(act).await;
        let today = day("2027-04-26");
        match (act.what, block) {
            (0, _) => drop(store.remove_athlete(who, now).await),
            (1, _) => drop(store.restore_athlete(who, now).await),
            (2, _) => drop(store.enter(race, who, Importance::Goal, now).await),
            (3, _) => drop(store.enter(race, who, Importance::TuneUp, now).await),
            (4, _) => drop(store.withdraw(race, who, now).await),
            (5, _) => drop(store.remove_race(race, now).await),
            (6, _) => drop(store.restore_race(race, now).await),
            (7, _) => drop(store.call_off_race(race, Some(today), now).await),
            (8, _) => drop(store.call_off_race(race, None, now).await),
            (9, None) => {
                if let (Some(week), Some(kept)) = (store.week(who).await.unwrap(), store.race(race).await.unwrap()) {
                    let block = planned_block(&kept.race.date.to_string());
                    drop(store.add_block(who, race, &Settings::default(), &week, &block, now).await);
                }
            }
            (10, Some((id, _))) => drop(store.hand_over(id, Shows::ALL, day("2027-05-01"), now).await),
            (11, Some((id, _))) => drop(store.revoke(id, now).await),
            (12, Some((id, version))) => {
                let notes = GoalNotes { a: format!("goal {}", self.minutes), ..GoalNotes::default() };
                drop(store.save_goals(id, version, &notes, now).await);
            }
            (13, Some((id, _))) => drop(store.mark_sent(id, Moment::BlockStart, now).await),
            (14, _) => drop(store.add_done_session(who, today, "9 km", None, None, today, now).await),
            (15, _) => {
                let ill = LifeEvent {
                    kind: EventKind::Injury,
                    from: today,
                    to: today + Days::new(2),
                    noted: today,
                    open: false,
                };
                drop(store.add_event(who, &ill, "", now).await);
            }
            (16, _) => {
                let version = store.week(who).await.unwrap().map_or(Version(0), |week| week.version);
                drop(store.save_week(who, version, &WeekDraft::of(usual_lines()), now).await);
            }
            (17, Some((id, version))) => {
                drop(store.save_race_sheet(id, version, &crate::RaceSheet::default(), now).await);
            }
            (18, _) => {
                drop(store.save_race_facts(race, Version(0), &crate::RaceFacts::default(), now).await);
            }
            (19, _) => {
                let (none, ran) = (crate::RaceResult::default(), crate::ReallyRan::default());
                drop(store.save_result((race, who), Version(0), &none, ran, now).await);
            }
            _ => {}
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, ..ProptestConfig::default() })]

    #[test]
    fn rows_that_are_kept_are_those_that_would_be_read(acts in acts()) {
        let runtime = tokio::runtime::Builder::new_current_thread().enable_all().build().unwrap();
        runtime.block_on(async {
            let mut played = Played::new().await;
            for act in acts {
                played.act(act).await;
                let today = day("2027-04-27");
                assert_eq!(kept(&played.store, today).await, anew(&played.store, today).await, "{act:?}");
            }
        });
    }
}

#[tokio::test]
async fn some_rows_read_are_the_same_as_everybodys() {
    let store = open().await;
    let today = day("2027-04-20");
    crate::fill_demo(&store, today, at(0)).await.unwrap();
    let mut tx = store.reading().await.unwrap();
    for row in anew(&store, today).await {
        let one = read::rows(&mut tx, &Whose::these(std::iter::once(row.athlete.0)), today).await.unwrap();
        assert_eq!(one, std::slice::from_ref(&row));
        if let (Some(block), Some(kept)) = (&row.block, row.block.as_ref().map(|block| block.state.id)) {
            let kept = store.block(kept).await.unwrap().unwrap().block;
            assert_eq!(block.days, glanced(&kept, "2027-04-20"));
            assert_eq!((block.first_day, block.length, block.pace), (kept.first_day(), kept.curve.length, kept.pace));
            let states = store.block_states(row.next_race.as_ref().unwrap().id).await.unwrap();
            assert_eq!(states.get(&row.athlete), Some(&block.state));
        }
    }
}
