//! What holds for every week and everything that may happen.

use chrono::Days;
use planning::{Block, EventKind, Happened, LifeEvent, Pace, replan};
use proptest::prelude::*;

use super::random::{full_runner, runner};
use super::weeks::{Runner, cases};

fn event() -> impl Strategy<Value = (EventKind, u64, u64, u64)> {
    (proptest::sample::select(EventKind::ALL.to_vec()), 0_u64..40, 1_u64..8, 0_u64..10)
}

fn events(block: &Block, drawn: &[(EventKind, u64, u64, u64)]) -> Vec<LifeEvent> {
    let at = |(kind, before, days, late): (EventKind, u64, u64, u64)| {
        let from = block.race_day - Days::new(before);
        let to = from + Days::new(days - 1);
        LifeEvent { kind, from, to, noted: from + Days::new(late) }
    };
    drawn.iter().copied().map(at).collect()
}

fn lay(block: &Block, runner: &Runner, events: &[LifeEvent]) -> Block {
    replan(block, &runner.athlete, &runner.week, &Happened { events, excess: None }).expect("events that can be")
}

fn km(block: &Block, days: std::ops::Range<usize>) -> f64 {
    block.days[days].iter().map(|day| day.planned_running().middle_km(Pace::ASSUMED)).sum()
}

proptest! {
    #![proptest_config(cases(400))]

    #[test]
    fn no_week_ever_holds_more_than_the_plan_under_it(runner in runner(), drawn in proptest::collection::vec(event(), 0..4)) {
        let plan = runner.block();
        let events = events(&plan, &drawn);
        let block = lay(&plan, &runner, &events);
        prop_assert_eq!(block.days.len(), plan.days.len());
        let moves = events.iter().any(|event| {
            matches!(event.kind, EventKind::LowEnergy | EventKind::NightShift | EventKind::NoTime)
        });
        if !moves {
            for (old, new) in plan.days.iter().zip(&block.days) {
                let km = |day: &planning::Day| day.planned_running().middle_km(Pace::ASSUMED);
                prop_assert!(km(new) <= km(old) + 1e-9, "{}", new.date);
            }
        }
        prop_assert!(km(&block, 0..block.days.len()) <= km(&plan, 0..plan.days.len()) + 1e-9);
        for planned in block.days.iter().flat_map(|day| &day.sessions) {
            prop_assert!(planned.session.problems().is_empty(), "{planned:?}");
        }
    }

    #[test]
    fn the_same_twice_in_any_order_and_nothing_gives_the_plan_back(
        runner in runner(),
        drawn in proptest::collection::vec(event(), 1..4),
    ) {
        let plan = runner.block();
        let mut events = events(&plan, &drawn);
        let once = lay(&plan, &runner, &events);
        prop_assert_eq!(&lay(&plan, &runner, &events), &once);
        events.reverse();
        prop_assert_eq!(&lay(&plan, &runner, &events), &once);
        prop_assert_eq!(&lay(&plan, &runner, &[]), &plan);
    }

    #[test]
    fn nobody_runs_with_fever_or_the_day_after(runner in full_runner(), from in 1_u64..20, days in 1_u64..6) {
        let plan = runner.block();
        let kind = EventKind::Illness { fever: true };
        let event = events(&plan, &[(kind, from, days, 0)])[0];
        let block = lay(&plan, &runner, &[event]);
        for day in block.days.iter().filter(|day| day.to_race > 0) {
            if (event.from..=event.to + Days::new(1)).contains(&day.date) {
                prop_assert!(day.sessions.is_empty(), "{}", day.date);
            }
        }
    }

    #[test]
    fn days_before_the_event_stay(runner in runner(), drawn in event()) {
        let plan = runner.block();
        let event = events(&plan, &[drawn])[0];
        // A journey that is known in time also spares the two days before it.
        let from = event.from - Days::new(if event.kind == EventKind::Travel { 2 } else { 0 });
        let moves = matches!(event.kind, EventKind::LowEnergy | EventKind::NightShift | EventKind::NoTime);
        let from = if moves { from.min(event.noted) } else { from };
        let block = lay(&plan, &runner, &[event]);
        for (old, new) in plan.days.iter().zip(&block.days).filter(|(old, _)| old.date < from) {
            prop_assert_eq!(old, new);
        }
    }
}
