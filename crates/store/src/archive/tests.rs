use planning::{DistanceUnit, EventKind, Importance, LifeEvent, RaceDistance, Settings};
use proptest::prelude::*;
use proptest::test_runner::{Config, TestRunner};

use super::*;
use crate::testing::{Squad, TestStore, add, at, day, draft, once, open, race_on, squad};
use crate::{CoachSettings, GoalNotes, Shows, Version, WeekDraft, fill_demo};

fn text_of(files: &[ArchiveFile], name: &str) -> Option<String> {
    files.iter().find(|file| file.name == name).map(|file| file.json.clone())
}

async fn brought_in(files: &[ArchiveFile]) -> TestStore {
    let store = open().await;
    store.import(|name| text_of(files, name), once(), at(99)).await.unwrap();
    assert_eq!(store.check().await.unwrap(), Vec::<String>::new());
    store
}

#[tokio::test]
async fn the_demo_squad_comes_back_to_the_letter() {
    let store = open().await;
    fill_demo(&store, day("2027-04-20"), at(0)).await.unwrap();
    let blocks = store.board(day("2027-04-20")).await.unwrap();
    store
        .hand_over(
            blocks.iter().find_map(|row| row.block.as_ref()).unwrap().state.id,
            Shows::default(),
            day("2027-06-01"),
            at(1),
        )
        .await
        .unwrap();
    let there = store.export().await.unwrap();
    let back = brought_in(&there).await;
    assert_eq!(back.export().await.unwrap(), there);
    assert_eq!(back.athletes().await.unwrap(), store.athletes().await.unwrap());
    assert_eq!(back.races().await.unwrap(), store.races().await.unwrap());
    for row in blocks.iter() {
        let Some(id) = row.block.as_ref().map(|block| block.state.id) else { continue };
        let (one, other) = (store.block(id).await.unwrap().unwrap(), back.block(id).await.unwrap().unwrap());
        assert_eq!((one.block, one.week, one.goals, one.undo), (other.block, other.week, other.goals, other.undo));
        assert_eq!(other.share, None, "links stay behind");
    }
}

#[tokio::test]
async fn no_secret_of_a_link_leaves() {
    let Squad { store, athlete, race, week, block } = squad().await;
    let id = store.add_block(athlete, race, &Settings::default(), &week, &block, at(5)).await.unwrap();
    let token = store.hand_over(id, Shows::default(), day("2027-05-23"), at(7)).await.unwrap().token;
    let files = store.export().await.unwrap();
    assert!(files.iter().all(|file| !file.json.contains(&token) && !file.rows.concat().contains(&token)));
}

#[tokio::test]
async fn a_squad_that_is_not_empty_is_left_as_it_is() {
    let files = squad().await.store.export().await.unwrap();
    let store = open().await;
    let id = add(&store, "Bo").await;
    store.remove_athlete(id, at(1)).await.unwrap();
    let before = store.export().await.unwrap();
    let refused = store.import(|name| text_of(&files, name), once(), at(9)).await;
    assert!(matches!(refused, Err(StoreError::Exists)), "{refused:?}");
    assert_eq!(store.export().await.unwrap(), before);
}

#[tokio::test]
async fn the_same_form_sent_twice_brings_in_once() {
    let files = squad().await.store.export().await.unwrap();
    let (store, key) = (open().await, once());
    for _ in 0..2 {
        assert_eq!(store.import(|name| text_of(&files, name), key, at(9)).await.unwrap(), 1);
    }
}

#[tokio::test]
async fn what_is_wrong_is_named_by_file_record_field_and_value_and_nothing_is_kept() {
    let Squad { store, athlete, race, week, block } = squad().await;
    store.add_block(athlete, race, &Settings::default(), &week, &block, at(5)).await.unwrap();
    let files = store.export().await.unwrap();
    let field = |field: &str, value: &str, wrong| ArchiveProblem::Field {
        record: 1,
        field: field.to_owned(),
        value: value.to_owned(),
        wrong,
    };
    for (file, from, to, expected) in [
        ("athletes", "\"units\":\"km\"", "\"units\":\"furlong\"", field("units", "furlong", WrongField::NotAllowed)),
        ("athletes", "\"version\":1", "\"version\":0", field("version", "0", WrongField::NotAllowed)),
        ("athletes", "\"version\":1", "\"version\":1.5", field("version", "1.5", WrongField::NotWhole)),
        ("athletes", "\"name\":\"Ana\"", "\"name\":7", field("name", "7", WrongField::NotText)),
        ("athletes", "\"name\":\"Ana\",", "", field("name", "", WrongField::Missing)),
        ("athletes", "\"name\"", "\"nmae\":1,\"name\"", field("nmae", "1", WrongField::Unknown)),
        ("athletes", "\"cautions\":[]", "\"cautions\":3", field("cautions", "3", WrongField::NotJson)),
        (
            "athletes",
            "\"made_at\":\"20",
            "\"made_at\":\"xx",
            field("made_at", "xx27-04-17T22:13:20.000000Z", WrongField::NotInstant),
        ),
        ("races", "2027-05-09", "2027-02-30", field("day", "2027-02-30", WrongField::NotDay)),
        ("races", "2027-05-09", "+262142-12-31", field("day", "+262142-12-31", WrongField::NotDay)),
        ("races", "\"half\"", "\"half", ArchiveProblem::Syntax { line: 2, column: 109 }),
        ("races", "[\n{", "{\"a\":[{", ArchiveProblem::Syntax { line: 3, column: 0 }),
        ("entries", "\"athlete\":1", "\"athlete\":8", ArchiveProblem::PointsNowhere { record: 1 }),
        (
            "settings",
            "[\n",
            "[\n{\"units\":\"km\",\"week_start\":\"mon\",\"paper\":\"a4\",\"coach_name\":\"\"},\n",
            ArchiveProblem::NotOne { count: 2 },
        ),
    ] {
        let target = open().await;
        let changed = |name: &str| {
            let text = text_of(&files, name)?;
            Some(if name == file { text.replacen(from, to, 1) } else { text })
        };
        assert_ne!(changed(file), text_of(&files, file), "{from} is not in {file}");
        match target.import(changed, once(), at(9)).await {
            Err(StoreError::Archive { file: named, problem }) => {
                let is_syntax = matches!((&problem, &expected), (ArchiveProblem::Syntax { line, .. }, ArchiveProblem::Syntax { line: other, .. }) if line == other);
                assert!(named == file && (problem == expected || is_syntax), "{to}: {named} {problem:?}");
            }
            other => panic!("{to}: {other:?}"),
        }
        assert_eq!(target.athletes().await.unwrap(), []);
        assert_eq!(target.races().await.unwrap(), []);
    }
}

#[tokio::test]
async fn what_planning_would_refuse_and_what_does_not_read_back_is_not_brought_in() {
    let Squad { store, athlete, race, week, block } = squad().await;
    store.add_block(athlete, race, &Settings::default(), &week, &block, at(5)).await.unwrap();
    let files = store.export().await.unwrap();
    for (file, from, to) in [
        (
            "races",
            "\"half\",\"own_distance\":null,\"own_unit\":null",
            "null,\"own_distance\":900000,\"own_unit\":\"km\"",
        ),
        ("athletes", "\"name\":\"Ana\"", "\"name\":\" \u{202e} \""),
        ("base_weeks", "tempo 9, hard 4", "tempo 9 leagues"),
        ("block_versions", "easy 8 km", "easy 8 leagues"),
        ("blocks", "\"revision\":1", "\"revision\":7"),
    ] {
        let target = open().await;
        let changed =
            |name: &str| text_of(&files, name).map(|text| if name == file { text.replacen(from, to, 1) } else { text });
        assert_ne!(changed(file), text_of(&files, file), "{from} is not in {file}");
        let refused = target.import(changed, once(), at(9)).await;
        assert!(matches!(refused, Err(StoreError::Archive { .. } | StoreError::Corrupt { .. })), "{to}: {refused:?}");
        assert_eq!(target.export().await.unwrap()[1].json, "[]\n", "{to}");
    }
    let target = open().await;
    let missing = target.import(|name| if name == "goals" { None } else { text_of(&files, name) }, once(), at(9)).await;
    assert!(
        matches!(missing, Err(StoreError::Archive { file: "goals", problem: ArchiveProblem::NoFile })),
        "{missing:?}"
    );
}

#[tokio::test]
async fn a_name_loses_the_marks_that_turn_its_direction() {
    let store = open().await;
    add(&store, "A\u{202e}gnik").await;
    let back = brought_in(&store.export().await.unwrap()).await;
    assert_eq!(back.athletes().await.unwrap()[0].draft.athlete.name, "Agnik");
    assert_eq!(back.find_athletes("agnik").await.unwrap().len(), 1);
}

#[derive(Clone, Debug)]
struct Told {
    names: Vec<String>,
    notes: String,
    lines: [usize; 7],
    distance: RaceDistance,
    curve: Option<f64>,
    miles: bool,
    removed: bool,
    coach: String,
}

fn told() -> impl Strategy<Value = Told> {
    let name = "[a-zA-Zàéřšñ'ßÖ🏃نع][a-zA-Z àéřšñ'\"=<>,;\\\\🏃نع-]{0,20}";
    let distance = prop_oneof![
        Just(RaceDistance::FiveK),
        Just(RaceDistance::Half),
        (4_000_i32..80_000).prop_map(|value| RaceDistance::Own(planning::Milli(value), DistanceUnit::Mi)),
    ];
    (
        (prop::collection::vec(name, 1..5), "[ -~\\n\\té🏃]{0,60}", prop::array::uniform7(0_usize..6)),
        (distance, prop::option::of(0.3_f64..4.0), any::<bool>(), any::<bool>(), "[ -~é]{0,20}"),
    )
        .prop_map(|((names, notes, lines), (distance, curve, miles, removed, coach))| Told {
            names: names.iter().map(|name| planning::plain::one_line(name)).collect(),
            notes,
            lines,
            distance,
            curve,
            miles,
            removed,
            coach: planning::plain::one_line(&coach),
        })
}

/// A squad as told, through the doors that pages use.
async fn kept(told: &Told) -> TestStore {
    const LINES: [&str; 6] =
        ["rest", "8", "6 x 800 m 10k pace, 10 km", "5 + strength 30", "tempo 9 or hills 8", "long 14-16"];
    let Squad { store, athlete, race, week, block } = squad().await;
    let settings = Settings { curve: told.curve, ..Settings::default() };
    let id = store.add_block(athlete, race, &settings, &week, &block, at(5)).await.unwrap();
    let goals = GoalNotes { message: told.notes.clone(), ..GoalNotes::default() };
    store.save_goals(id, Version(1), &goals, at(6)).await.unwrap();
    let off = planning::Race { distance: told.distance, name: told.names[0].clone(), ..race_on("2027-06-06") };
    let other = store.add_race(&off, &told.coach, once(), at(6)).await.unwrap();
    for (number, name) in told.names.iter().enumerate() {
        let mut draft = draft(name);
        draft.notes.clone_from(&told.notes);
        draft.athlete.units = if told.miles { DistanceUnit::Mi } else { DistanceUnit::Km };
        draft.athlete.cautions = vec![told.notes.clone()];
        let id = store.add_athlete(&draft, once(), at(7)).await.unwrap();
        let lines = std::array::from_fn(|day| LINES[(told.lines[day] + number) % LINES.len()].to_owned());
        store
            .save_week(id, Version(0), &WeekDraft { since: Some(day("2027-01-04")), ..WeekDraft::of(lines) }, at(8))
            .await
            .unwrap();
        store.enter(other, id, Importance::TuneUp, at(8)).await.unwrap();
        let ill = LifeEvent {
            kind: EventKind::Illness { fever: told.miles },
            from: day("2027-04-20"),
            to: day("2027-04-21"),
            noted: day("2027-04-21"),
            open: false,
        };
        store.add_event(id, &ill, &told.notes, at(8)).await.unwrap();
        if told.removed {
            store.remove_athlete(id, at(9)).await.unwrap();
        }
    }
    let coach = CoachSettings { coach_name: told.coach.clone(), ..store.settings().await.unwrap() };
    store.save_settings(&coach, at(9)).await.unwrap();
    store
}

#[test]
fn whatever_the_squad_it_leaves_and_comes_back_to_the_letter() {
    let runtime = tokio::runtime::Builder::new_current_thread().enable_all().build().unwrap();
    let mut runner = TestRunner::new(Config { cases: 24, ..Config::default() });
    runner
        .run(&told(), |told| {
            runtime.block_on(async {
                let store = kept(&told).await;
                let there = store.export().await.unwrap();
                let back = brought_in(&there).await;
                prop_assert_eq!(back.export().await.unwrap(), there);
                prop_assert_eq!(back.removed().await.unwrap(), store.removed().await.unwrap());
                Ok(())
            })
        })
        .unwrap();
}
