//! What holds for every week and everything that may happen.

use chrono::{Days, NaiveDate};
use planning::review::Subject;
use planning::{
    Amount, Block, DistanceUnit, EventKind, Excess, Happened, Importance, LifeEvent, Milli, Pace, Pin, Problem, Race,
    RaceDistance, Request, Settings, Unit, plan, race_changed, replan,
};
use proptest::prelude::*;

use super::coach::day;
use super::random::{full_runner, runner};
use super::weeks::{Runner, cases};

pub(super) fn event() -> impl Strategy<Value = (EventKind, u64, u64, u64)> {
    (proptest::sample::select(EventKind::ALL.to_vec()), 0_u64..40, 1_u64..8, 0_u64..10)
}

pub(super) fn events(block: &Block, drawn: &[(EventKind, u64, u64, u64)]) -> Vec<LifeEvent> {
    let at = |(kind, before, days, late): (EventKind, u64, u64, u64)| {
        let from = block.race_day - Days::new(before);
        let to = from + Days::new(days - 1);
        LifeEvent { kind, from, to, noted: from + Days::new(late), open: false }
    };
    drawn.iter().copied().map(at).collect()
}

pub(super) fn lay(block: &Block, runner: &Runner, events: &[LifeEvent]) -> Block {
    let happened = Happened { events, excess: None };
    match replan(block, &runner.athlete, &runner.week, &happened) {
        Ok(block) => block,
        Err(problems) => panic!("events that cannot be: {problems:?}"),
    }
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
            matches!(event.kind, EventKind::LowEnergy | EventKind::NightShift | EventKind::NoTime | EventKind::Travel)
        });
        if !moves {
            for (old, new) in plan.days.iter().zip(&block.days) {
                let km = |day: &planning::Day| day.planned_running().middle_km(Pace::ASSUMED);
                // An illness may take the place of the extra rest day of race week.
                let rests_elsewhere = |planned: &planning::Planned| {
                    planned.why.iter().any(|reason| matches!(reason, planning::Reason::RestMovedTo(_)))
                };
                let is_run_after_all = old.is_rest() && new.sessions.iter().any(rests_elsewhere);
                prop_assert!(is_run_after_all || km(new) <= km(old) + 1e-9, "{}", new.date);
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
    fn after_a_fever_no_run_is_shortened_to_less_than_is_worth_going_out_for(
        runner in full_runner(),
        from in 1_u64..20,
        days in 1_u64..6,
    ) {
        let plan = runner.block();
        let event = events(&plan, &[(EventKind::Illness { fever: true }, from, days, 0)])[0];
        let block = lay(&plan, &runner, &[event]);
        for (old, new) in plan.days.iter().zip(&block.days).filter(|(old, new)| old.to_race > 0 && old != new) {
            for run in new.sessions.iter().filter_map(|planned| planned.session.running()) {
                let least = match run.unit() {
                    Unit::Km => Milli(3000),
                    Unit::Mi => Milli(2000),
                    Unit::Min => Milli(20_000),
                };
                let was_as_short = || old.sessions.iter().any(|planned| planned.session.running() == Some(run));
                prop_assert!(run.middle() >= least || was_as_short(), "{old:?}\n{new:?}");
            }
        }
    }

    #[test]
    fn days_before_the_event_stay(runner in runner(), drawn in event()) {
        let plan = runner.block();
        let event = events(&plan, &[drawn])[0];
        // Travel that is known in time also spares the two days before it.
        let from = event.from - Days::new(if event.kind == EventKind::Travel { 2 } else { 0 });
        let moves = matches!(
            event.kind,
            EventKind::LowEnergy | EventKind::NightShift | EventKind::NoTime | EventKind::Travel
        );
        let from = if moves { from.min(event.noted) } else { from };
        let block = lay(&plan, &runner, &[event]);
        for (old, new) in plan.days.iter().zip(&block.days).filter(|(old, _)| old.date < from) {
            prop_assert_eq!(old, new);
        }
    }
}

/// Any day that can be written at all.
fn any_date() -> impl Strategy<Value = NaiveDate> {
    prop_oneof![
        8 => (0_i64..400).prop_map(|days| day("2027-01-01") + chrono::TimeDelta::days(days)),
        1 => (-90_000_000_i32..90_000_000)
            .prop_map(|days| NaiveDate::from_num_days_from_ce_opt(days).unwrap_or(NaiveDate::MAX)),
        1 => proptest::sample::select(vec![NaiveDate::MIN, NaiveDate::MAX]),
    ]
}

fn any_race() -> impl Strategy<Value = Race> {
    let own = (proptest::num::i32::ANY, any::<bool>()).prop_map(|(value, miles)| {
        RaceDistance::Own(Milli(value), if miles { DistanceUnit::Mi } else { DistanceUnit::Km })
    });
    let distance = prop_oneof![4 => proptest::sample::select(RaceDistance::STANDARD.to_vec()), 1 => own];
    let importance = proptest::sample::select(Importance::ALL.to_vec());
    (any_date(), distance, importance, "\\PC{0,12}").prop_map(|(date, distance, importance, name)| Race {
        name,
        date,
        distance,
        start: None,
        zone: None,
        importance,
    })
}

fn any_event() -> impl Strategy<Value = LifeEvent> {
    (proptest::sample::select(EventKind::ALL.to_vec()), any_date(), any_date(), any_date())
        .prop_map(|(kind, from, to, noted)| LifeEvent { kind, from, to, noted, open: false })
}

proptest! {
    #![proptest_config(cases(400))]

    #[test]
    fn whatever_is_asked_is_a_plan_or_a_refusal(
        runner in full_runner(),
        race in any_race(),
        others in proptest::collection::vec(any_race(), 0..5),
        changed in any_race(),
        events in proptest::collection::vec(any_event(), 0..5),
        pinned in proptest::collection::vec(any_date(), 0..3),
        today in proptest::option::of(any_date()),
        days in proptest::option::of(any::<u8>()),
        excess in proptest::option::of((0_i32..400_000, any_date())),
    ) {
        let settings = Settings { days, ..Settings::default() };
        let pins: Vec<Pin> = pinned.into_iter().map(|date| Pin::plain(date, Vec::new())).collect();
        let excess = excess.map(|(value, noted)| Excess { amount: Amount::exact(Milli(value), Unit::Km), noted });
        let request = |race, today| Request {
            today,
            pins: &pins,
            other_races: &others,
            ..Request::new(&runner.athlete, &runner.week, race, &settings)
        };
        let refusal = |found: &[Problem]| !found.is_empty();
        let block = match plan(&request(&race, today)) {
            Ok(block) => block,
            Err(found) => {
                prop_assert!(refusal(&found));
                runner.block()
            }
        };
        match replan(&block, &runner.athlete, &runner.week, &Happened { events: &events, excess }) {
            Ok(laid) => prop_assert_eq!(laid.days.len(), block.days.len()),
            Err(found) => prop_assert!(refusal(&found)),
        }
        match race_changed(&block, &request(&changed, today)) {
            Ok(changed) => prop_assert!(!changed.block.days.is_empty()),
            Err(found) => prop_assert!(refusal(&found)),
        }
        let judged = planning::review(&Subject {
            other_races: &others,
            events: &events,
            ..Subject::new(&block, &runner.athlete, &runner.week)
        });
        prop_assert!(judged.is_sorted_by_key(|finding| finding.level));
    }
}

proptest! {
    #![proptest_config(cases(400))]

    #[test]
    fn after_an_illness_planner_and_review_agree_on_what_is_too_hard(
        runner in full_runner(),
        from in 1_u64..30,
        days in 1_u64..6,
        fever in any::<bool>(),
    ) {
        let plan = runner.block();
        let event = events(&plan, &[(EventKind::Illness { fever }, from, days, 0)])[0];
        let block = lay(&plan, &runner, &[event]);
        let events = [event];
        let subject = Subject { events: &events, ..Subject::new(&block, &runner.athlete, &runner.week) };
        let all = planning::review(&subject);
        let grave: Vec<_> = all.iter().filter(|finding| finding.level == planning::Level::Stop).cloned().collect();
        prop_assert_eq!(&planning::review::stops(&subject), &grave, "what stops is what the review says");
        // Whatever the planner left hard would be no fault if the coach had fixed it.
        let mut fixed = block.clone();
        for day in &mut fixed.days {
            day.pinned = day.date >= event.from;
        }
        let fixed = planning::review(&Subject { block: &fixed, ..subject });
        let told: Vec<_> =
            fixed.iter().filter(|finding| finding.rule == planning::RuleId::FixedAgainstEvent).collect();
        prop_assert!(told.is_empty(), "{told:?}");
    }
}

proptest! {
    #![proptest_config(cases(400))]

    #[test]
    fn on_the_way_planner_and_review_agree_on_what_is_too_much(
        runner in full_runner(),
        before in 1_u64..30,
        days in 1_u64..8,
    ) {
        let plan = runner.block();
        let event = events(&plan, &[(EventKind::Travel, before, days, 0)])[0];
        let block = lay(&plan, &runner, &[event]);
        let mut fixed = block.clone();
        for day in &mut fixed.days {
            day.pinned = true;
        }
        let events = [event];
        let subject = Subject { events: &events, ..Subject::new(&fixed, &runner.athlete, &runner.week) };
        let told = planning::review::fixed_against_events(&subject);
        prop_assert!(told.is_empty(), "{told:?}");
        for (old, new) in plan.days.iter().zip(&block.days) {
            let is_between = event.from < new.date && new.date < event.to && new.to_race > 0;
            // Nothing hard comes to a day between but from one on the way or just before it, and nothing else changes.
            if is_between && !new.is_hard() && !old.is_hard() {
                let km = |day: &planning::Day| day.planned_running().middle_km(Pace::ASSUMED);
                prop_assert!((km(new) - km(old)).abs() < 1e-9, "{}", new.date);
            }
        }
    }
}
