//! What stands beside a session is true of it: its note was written for it, and its reasons speak of it.

use chrono::NaiveDate;
use planning::{BaseWeek, Block, Day, EventKind, Kind, Planned, Reason, Role, Session, Share, Slot};
use proptest::prelude::*;

use super::properties::{event, events, lay};
use super::random::full_runner;
use super::random::runner;
use super::weeks::{Runner, cases};

/// The same runner, each session with a note of its own.
fn noted(runner: Runner) -> Runner {
    let mut days: [Vec<Slot>; 7] = Default::default();
    for (place, (day, session)) in runner.week.first().sessions().enumerate() {
        let session = Session { note: format!("with club {place}"), ..session.clone() };
        days[day.num_days_from_monday() as usize].push(Slot::one(session));
    }
    Runner { week: BaseWeek::new(days, None), ..runner }
}

/// The same runner, each session with a note that tells so much of it at a pace.
fn paced(runner: Runner) -> Runner {
    let mut days: [Vec<Slot>; 7] = Default::default();
    for (day, session) in runner.week.first().sessions() {
        let session = Session { note: "on grass, 2.25 km @ 4:12".to_owned(), ..session.clone() };
        days[day.num_days_from_monday() as usize].push(Slot::one(session));
    }
    Runner { week: BaseWeek::new(days, None), ..runner }
}

/// The same runner, each session told by its parts.
fn parted(runner: Runner) -> Runner {
    let mut days: [Vec<Slot>; 7] = Default::default();
    for (day, session) in runner.week.first().sessions() {
        let unit = session.amount.map_or("km", |amount| amount.unit().symbol());
        let session = Session { note: format!("2 {unit} wu, on grass, 1.5 {unit} cd"), ..session.clone() };
        days[day.num_days_from_monday() as usize].push(Slot::one(session));
    }
    Runner { week: BaseWeek::new(days, None), ..runner }
}

fn someone() -> impl Strategy<Value = Runner> {
    prop_oneof![runner(), full_runner()]
}

fn sessions(block: &Block) -> impl Iterator<Item = &Planned> {
    let days = block.days.iter().filter(|day| day.to_race > 0);
    days.flat_map(|day| &day.sessions).filter(|planned| planned.role != Role::OtherRace)
}

/// Whether a session is cut to another share than the one that is told, and nothing beside it says why.
fn is_another_share(planned: &Planned, share: Share) -> bool {
    let says_why = |why: &Reason| {
        matches!(why, Reason::LeastWorth(_) | Reason::Life(_) | Reason::ChangedPlaces(_) | Reason::MovedFrom(_))
    };
    let part = planned.session.running().zip(planned.usual.as_ref().and_then(Session::running));
    let part = part.filter(|(now, usual)| now.unit() == usual.unit() && now.middle() < usual.middle());
    let is_far =
        part.is_some_and(|(now, usual)| (now.middle().as_f64() / usual.middle().as_f64() - share.0).abs() > 0.1 + 1e-9);
    is_far && planned.role != Role::Key && !planned.why.iter().any(says_why)
}

/// What is wrong with the reasons of a session, if anything.
fn lie(planned: &Planned) -> Option<String> {
    let (session, kind) = (&planned.session, planned.session.kind);
    let is_false = |reason: &&Reason| match reason {
        Reason::HardEased(Kind::CrossTraining) | Reason::ThirdHardEased(Kind::CrossTraining) => {
            kind != Kind::CrossTraining || session.is_hard_work()
        }
        Reason::ThirdHardEased(Kind::Long) => session.is_hard() || kind != Kind::Long,
        Reason::HardEased(_) | Reason::ThirdHardEased(_) | Reason::LongSlotEased(_) => {
            session.is_hard() || kind == Kind::Long
        }
        Reason::KeyMovedAway(_) | Reason::TouchOff => session.is_hard(),
        Reason::KeySession(share) => {
            let by_itself = planned.usual.as_ref().filter(|usual| usual.kind == kind && usual.is_hard());
            let left = by_itself.map(|usual| session.hard_middle().as_f64() / usual.hard_middle().as_f64());
            let is_moved = planned.why.iter().any(|why| matches!(why, Reason::KeyMovedHere(_)));
            let is_bent = planned.why.iter().any(|why| matches!(why, Reason::Life(_)));
            !session.is_hard() || (!is_moved && !is_bent && left.is_some_and(|left| (left - share.0).abs() > 0.1))
        }
        Reason::Ebb(share) => is_another_share(planned, *share),
        Reason::Strides => planned.role != Role::EasyWithStrides,
        Reason::RacePaceTouch => planned.role != Role::EasyWithRacePace,
        Reason::EasyNear(_) => session.is_hard() || planned.role == Role::Key,
        Reason::StrengthLight | Reason::StrengthBodyWeight | Reason::LoadedLegsOff => {
            kind != Kind::Strength || session.loaded
        }
        Reason::LeastWorth(least) => session.running().is_some_and(|now| now.middle() < least.middle()),
        Reason::HillsFlat => kind == Kind::Hills,
        Reason::WarmUpStays => planned
            .usual
            .as_ref()
            .is_none_or(|usual| usual.note != session.note || session.hard_middle() >= usual.hard_middle()),
        _ => false,
    };
    planned.why.iter().find(is_false).map(|reason| format!("{reason} beside {session:?}"))
}

fn holds_hard_work(day: &Day) -> bool {
    day.sessions.iter().any(|planned| planned.session.is_hard_work())
}

/// What is wrong with what the reasons of a day say of another day, if anything.
fn lie_of_another_day(block: &Block, day: &Day) -> Option<String> {
    let is_hard = |date: &NaiveDate| block.day(*date).is_none_or(Day::is_hard);
    let beside = day.sessions.iter().flat_map(|planned| &planned.why);
    let mut why = beside.chain(day.dropped.iter().flat_map(|dropped| &dropped.why));
    let is_false = |reason: &&Reason| match reason {
        Reason::KeyMovedAway(to) | Reason::ChangedPlaces(to) | Reason::MovedTo(to) => !is_hard(to),
        Reason::FellAway(to) => is_hard(to),
        Reason::BeforeOtherRace(race) | Reason::AfterOtherRace(race) => {
            let held = |day: &Day| day.sessions.iter().any(|planned| planned.role == Role::OtherRace);
            block.day(*race).is_some_and(|day| !held(day))
        }
        _ => false,
    };
    why.find(is_false).map(|reason| format!("{}: {reason}", day.date))
}

proptest! {
    #![proptest_config(cases(1500))]

    #[test]
    fn a_note_stands_beside_nothing_else_than_what_it_was_written_for(
        runner in someone(),
        drawn in proptest::collection::vec(event(), 0..3),
    ) {
        let runner = noted(runner);
        let block = lay(&runner.block(), &runner, &events(&runner.block(), &drawn));
        for planned in sessions(&block).filter(|planned| !planned.session.note.is_empty()) {
            let mut week = runner.week.sessions().map(|(_, session)| session);
            let written = week.find(|usual| usual.note == planned.session.note);
            prop_assert!(written.is_some_and(|usual| planned.session.is_of_the_sort_of(usual)), "{planned:?}");
        }
    }

    #[test]
    fn warm_up_and_cool_down_need_no_more_than_a_shorter_session_has_room_for(
        runner in someone(),
        drawn in proptest::collection::vec(event(), 0..3),
    ) {
        let runner = parted(runner);
        let block = lay(&runner.block(), &runner, &events(&runner.block(), &drawn));
        for planned in sessions(&block).filter(|planned| !planned.session.note.is_empty()) {
            let now = &planned.session;
            // As hard as usual, too, where the hard part that its kind assumed is said now.
            let is_usual = |usual: &&Session| {
                (now.amount, now.hard_middle(), &now.sets) == (usual.amount, usual.hard_middle(), &usual.sets)
            };
            let told: f64 = now.note.split(' ').filter_map(|word| word.parse::<f64>().ok()).sum();
            let usual = runner.week.sessions().map(|(_, session)| session).find(is_usual);
            let room = now.amount.map_or(0.0, |amount| amount.low().as_f64()) - now.hard_middle().as_f64();
            prop_assert!(usual.is_some() || told <= room.max(0.0) + 1e-9, "{told} in {room}: {planned:?}");
            // Of a hill that is run on the flat the place may be no longer true.
            let says_where = now.note.contains("on grass") || planned.why.contains(&Reason::HillsFlat);
            prop_assert!(now.note.contains("wu") && says_where, "{planned:?}");
        }
    }

    #[test]
    fn a_shorter_session_says_no_amount_of_the_usual_one_and_a_hard_one_its_pace(
        runner in someone(),
        drawn in proptest::collection::vec(event(), 0..3),
    ) {
        let runner = paced(runner);
        let block = lay(&runner.block(), &runner, &events(&runner.block(), &drawn));
        for planned in sessions(&block).filter(|planned| !planned.session.note.is_empty()) {
            let now = &planned.session;
            let is_as_usual = |usual: &Session| (now.amount, now.hard, &now.sets) == (usual.amount, usual.hard, &usual.sets);
            if runner.week.sessions().any(|(_, session)| is_as_usual(session)) {
                continue;
            }
            let expected = if now.is_hard() || planned.role == Role::Key { "on grass, @ 4:12" } else { "on grass" };
            let of_a_long_run = now.note == "@ 4:12" && planned.role == Role::Key;
            prop_assert!(now.note == expected || of_a_long_run, "{planned:?}");
        }
    }

    #[test]
    fn after_an_illness_or_injury_no_note_of_the_usual_day_stands_beside_the_easy_runs(
        runner in someone(),
        kind in proptest::sample::select(vec![EventKind::Illness { fever: true }, EventKind::Illness { fever: false }, EventKind::Injury]),
        before in 2_u64..20,
    ) {
        let runner = noted(runner);
        let block = lay(&runner.block(), &runner, &events(&runner.block(), &[(kind, before, 3, 0)]));
        let eased = |planned: &&Planned| planned.why.iter().any(|reason| matches!(reason, Reason::Life(_)));
        for planned in sessions(&block).filter(eased) {
            prop_assert!(planned.session.note.is_empty(), "{planned:?}");
        }
    }

    #[test]
    fn reasons_are_true_of_the_session_that_they_stand_beside(
        runner in someone(),
        drawn in proptest::collection::vec(event(), 0..3),
    ) {
        let plan = runner.block();
        let events = events(&plan, &drawn);
        let block = lay(&plan, &runner, &events);
        for planned in sessions(&plan).chain(sessions(&block)) {
            prop_assert_eq!(lie(planned), None);
        }
        // What was said of days that are over was true then.
        let changed = plan.days.iter().zip(&block.days).position(|(old, new)| old != new).unwrap_or(block.days.len());
        let is_left = block.days.iter().any(|day| day.to_race <= 6 && holds_hard_work(day));
        for day in block.days[changed..].iter().filter(|day| !is_left && !day.pinned) {
            let gave_way = |planned: &Planned| planned.why.iter().any(|why| matches!(why, Reason::HardEased(_)));
            prop_assert!(!day.sessions.iter().any(gave_way), "{day:?}");
        }
        for (block, days) in [(&plan, &plan.days[..]), (&block, &block.days[changed..])] {
            for day in days {
                prop_assert_eq!(lie_of_another_day(block, day), None);
            }
        }
    }
}
