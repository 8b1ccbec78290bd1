//! What must hold for every request that is accepted, however odd: any sessions on any day in any
//! unit, any settings, any pins.

use chrono::{Days, NaiveDate, Weekday};
use planning::review::Subject;
use planning::{
    Amount, Athlete, BaseWeek, Block, Day, DayBefore, DistanceUnit, ExtraRest, Importance, Kind, Milli, Pace, Pin,
    Planned, Race, RaceDistance, Request, Role, Session, SetUnit, Sets, Settings, Shape, Slot, Suits, Unit, plan,
};
use proptest::prelude::*;

#[derive(Clone, Debug)]
struct Any {
    athlete: Athlete,
    week: BaseWeek,
    race: Race,
    settings: Settings,
    pins: Vec<(u64, Vec<Session>)>,
}

impl Any {
    fn block(&self) -> Block {
        let pins: Vec<Pin> = self
            .pins
            .iter()
            .map(|(to_race, sessions)| Pin::plain(self.race.date - Days::new(*to_race), sessions.clone()))
            .collect();
        let request = Request { pins: &pins, ..Request::new(&self.athlete, &self.week, &self.race, &self.settings) };
        match plan(&request) {
            Ok(block) => block,
            Err(problems) => panic!("{problems:?}"),
        }
    }
}

fn amount(unit: Unit) -> impl Strategy<Value = Amount> {
    let (step, most) = match unit {
        Unit::Km => (100, 450),
        Unit::Mi => (100, 280),
        Unit::Min => (1000, 240),
    };
    (10..most, prop_oneof![3 => Just(0), 1 => 1..40_i32])
        .prop_map(move |(low, width)| Amount::between(Milli(low * step), Milli((low + width) * step), unit))
}

fn unit() -> impl Strategy<Value = Unit> {
    prop_oneof![3 => Just(Unit::Km), 1 => Just(Unit::Mi), 1 => Just(Unit::Min)]
}

fn sets() -> impl Strategy<Value = Vec<Sets>> {
    let unit =
        prop_oneof![Just((SetUnit::M, 400)), Just((SetUnit::Min, 2)), Just((SetUnit::S, 45)), Just((SetUnit::Km, 1))];
    let line = (1..9_u16, unit).prop_map(|(reps, (unit, length))| Sets {
        reps,
        length: Milli::whole(length),
        unit,
        pace: String::new(),
        recovery: String::new(),
    });
    prop_oneof![2 => Just(Vec::new()), 1 => prop::collection::vec(line, 1..4)]
}

/// Any session that is accepted.
fn session() -> impl Strategy<Value = Session> {
    let kind = prop::sample::select(&Kind::ALL[..]);
    (kind, unit(), prop::option::of(0..=100_u8), any::<bool>(), sets())
        .prop_flat_map(|(kind, unit, hard, loaded, sets)| {
            let timed = matches!(kind, Kind::Strength | Kind::Mobility);
            amount(if timed { Unit::Min } else { unit }).prop_map(move |amount| {
                let mut session = Session::new(kind, amount);
                if !timed {
                    session.hard = hard.map(|part| amount.scaled(planning::Share(f64::from(part) / 100.0)));
                }
                session.sets.clone_from(&sets);
                session.loaded = loaded && kind == Kind::Strength;
                session
            })
        })
        .prop_filter("as it would be accepted", |session| session.problems().is_empty())
}

fn slot() -> impl Strategy<Value = Slot> {
    prop_oneof![
        5 => session().prop_map(Slot::one),
        1 => prop::collection::vec(session(), 2..4).prop_filter_map("options", Slot::any_of),
    ]
}

fn week() -> impl Strategy<Value = BaseWeek> {
    let easy = amount(Unit::Km).prop_map(|amount| vec![Slot::one(Session::new(Kind::Easy, amount))]);
    let day = prop_oneof![2 => Just(Vec::new()), 3 => easy, 3 => prop::collection::vec(slot(), 1..4)];
    prop::collection::vec(day, 7).prop_filter_map("a week with running", |days| {
        let week = BaseWeek::new(days.try_into().ok()?, None);
        (!week.running().is_empty()).then_some(week)
    })
}

fn settings() -> impl Strategy<Value = Settings> {
    let weekday = (0..7_u8).prop_map(|day| Weekday::try_from(day).unwrap_or(Weekday::Mon));
    (
        prop::option::weighted(0.3, 4..=35_u8),
        prop::option::weighted(0.2, 0.3..=4.0_f64),
        prop::option::weighted(0.2, 0.1..=0.9_f64),
        prop::sample::select(&Shape::ALL[..]),
        prop::sample::select(&DayBefore::ALL[..]),
        prop_oneof![3 => Just(ExtraRest::Auto), 1 => Just(ExtraRest::None), 1 => weekday.prop_map(ExtraRest::On)],
    )
        .prop_map(|(days, curve, floor, shape, day_before, extra_rest)| Settings {
            days,
            curve,
            floor,
            shape,
            day_before,
            extra_rest,
        })
}

fn athlete() -> impl Strategy<Value = Athlete> {
    let weekday = (0..7_u8).prop_map(|day| Weekday::try_from(day).unwrap_or(Weekday::Mon));
    (
        prop::option::of(200..500_u16),
        prop::option::weighted(0.2, 2008..2013_i32),
        prop::option::weighted(0.1, 4..=35_u8),
        prop::option::weighted(0.1, prop::sample::select(&DayBefore::ALL[..])),
        prop::option::weighted(0.1, weekday),
    )
        .prop_map(|(pace, birth_year, days, day_before, extra_rest)| Athlete {
            name: "A. Runner".into(),
            easy_pace: pace.and_then(|seconds| Pace::new(seconds, DistanceUnit::Km).ok()),
            birth_year,
            suits: Suits { days, day_before, extra_rest },
            ..Athlete::default()
        })
}

fn any_request() -> impl Strategy<Value = Any> {
    let race = prop_oneof![
        Just(RaceDistance::FiveK),
        Just(RaceDistance::TenK),
        Just(RaceDistance::Half),
        Just(RaceDistance::Marathon),
        Just(RaceDistance::Own(Milli::whole(100), DistanceUnit::Km)),
    ];
    let pins = prop::collection::btree_map(1..7_u64, prop::collection::vec(session(), 0..3), 0..3);
    (athlete(), week(), race, 0..7_u64, settings(), pins).prop_map(|(athlete, week, distance, day, settings, pins)| {
        let date = NaiveDate::from_ymd_opt(2027, 5, 3).unwrap_or_default() + Days::new(day);
        let race = Race { name: "Goal".into(), date, distance, start: None, zone: None, importance: Importance::Goal };
        Any { athlete, week, race, settings, pins: pins.into_iter().collect() }
    })
}

/// The days that the planner may change.
fn free(block: &Block) -> impl Iterator<Item = &Day> {
    block.days.iter().filter(|day| day.to_race > 0 && !day.pinned)
}

fn sessions(block: &Block) -> impl Iterator<Item = (&Day, &Planned)> {
    free(block).flat_map(|day| day.sessions.iter().map(move |planned| (day, planned)))
}

fn show(block: &Block) -> String {
    use std::fmt::Write;
    let mut text = format!("{:?} {:?}\n", block.event, block.curve);
    for day in &block.days {
        let line = |sessions: Vec<&Session>| {
            let slots: Vec<Slot> = sessions.into_iter().cloned().map(Slot::one).collect();
            planning::notation::write_day(&slots)
        };
        let usual = line(day.usual.iter().collect());
        let planned = line(day.sessions.iter().map(|planned| &planned.session).collect());
        let roles: Vec<Role> = day.sessions.iter().map(|planned| planned.role).collect();
        let pinned = if day.pinned { " pinned" } else { "" };
        let _ = writeln!(text, "D{}{pinned}: {usual} -> {planned} {roles:?}", day.to_race);
    }
    text
}

fn is_written(value: Milli, unit: Unit) -> bool {
    let (fine, coarse, halves_until) = match unit {
        Unit::Km => (500, 1000, 5000),
        Unit::Mi => (500, 1000, 4000),
        Unit::Min => (5000, 5000, 0),
    };
    value.0 % if value.0 <= halves_until { fine } else { coarse } == 0
}

proptest! {
    #[test]
    fn each_session_is_no_more_than_usual_and_written_as_a_coach_writes(any in any_request()) {
        let block = any.block();
        for (day, planned) in sessions(&block) {
            let (Some(now), Some(usual)) = (planned.session.running(), planned.usual.as_ref().and_then(Session::running))
            else { continue };
            if planned.role == Role::Key {
                continue;
            }
            prop_assert_eq!(now.unit(), usual.unit());
            prop_assert!(now.high() <= usual.high(), "D{}\n{}", day.to_race, show(&block));
            let fine = now == usual || (is_written(now.low(), now.unit()) && is_written(now.high(), now.unit()));
            prop_assert!(fine, "D{}\n{}", day.to_race, show(&block));
        }
    }

    #[test]
    fn a_hard_part_lies_inside_its_session_and_is_no_more_than_usual(any in any_request()) {
        let block = any.block();
        for (day, planned) in sessions(&block) {
            let session = &planned.session;
            prop_assert!(session.problems().is_empty(), "D{} {:?}\n{}", day.to_race, session.problems(), show(&block));
            if let (Some(usual), false) = (&planned.usual, planned.role == Role::Key) {
                prop_assert!(session.hard_middle() <= usual.hard_middle(), "D{}\n{}", day.to_race, show(&block));
            }
        }
    }

    #[test]
    fn every_change_has_a_reason(any in any_request()) {
        let block = any.block();
        for day in &block.days {
            for planned in &day.sessions {
                let changed = planned.usual.as_ref() != Some(&planned.session);
                prop_assert!(!changed || !planned.why.is_empty(), "D{}\n{}", day.to_race, show(&block));
            }
            prop_assert!(day.dropped.iter().all(|dropped| !dropped.why.is_empty()));
            let kept = day.sessions.iter().filter(|planned| planned.usual.is_some()).count() + day.dropped.len();
            prop_assert_eq!(kept, day.usual.len(), "D{}: no usual session is lost\n{}", day.to_race, show(&block));
        }
    }

    #[test]
    fn the_last_days_hold_nothing_hard_and_no_strength(any in any_request()) {
        let block = any.block();
        for (day, planned) in sessions(&block) {
            let session = &planned.session;
            prop_assert!(day.to_race > 2 || !session.is_hard(), "D{}\n{}", day.to_race, show(&block));
            prop_assert!(day.to_race > 3 || session.kind != Kind::Strength, "D{}\n{}", day.to_race, show(&block));
            prop_assert!(day.to_race > 9 || !session.loaded, "D{}\n{}", day.to_race, show(&block));
            let strides = planned.role.holds_quick_running();
            prop_assert!(day.to_race > 1 || !strides, "D{}\n{}", day.to_race, show(&block));
            prop_assert!(day.to_race > 6 || session.kind != Kind::TimeTrial, "D{}\n{}", day.to_race, show(&block));
            prop_assert!(day.to_race > 6 || session.kind != Kind::Long, "D{}\n{}", day.to_race, show(&block));
        }
    }

    #[test]
    fn race_week_holds_at_most_one_key_session_and_up_to_ten_miles_one_hard_session_more(any in any_request()) {
        let block = any.block();
        let keys = sessions(&block).filter(|(_, planned)| planned.role == Role::Key).count();
        prop_assert!(keys <= 1, "{}", show(&block));
        let hard = sessions(&block)
            .filter(|(day, planned)| day.to_race <= 6 && planned.role != Role::Key && planned.session.is_hard());
        let places: Vec<u16> = hard.map(|(day, _)| day.to_race).collect();
        if any.week.is_hard_by_touches_only() {
            // Touches of quick running stay where they are until they would be too late.
            prop_assert!(keys == 0 && places.iter().all(|to_race| *to_race > 2), "{places:?}\n{}", show(&block));
            return Ok(());
        }
        let allowed = if block.event.up_to_10_miles() { vec![6] } else { vec![] };
        prop_assert!(places.is_empty() || places == allowed, "{places:?}\n{}", show(&block));
    }

    #[test]
    fn usual_rest_days_stay_but_for_a_shake_out_that_is_asked_for(any in any_request()) {
        let block = any.block();
        for day in free(&block).filter(|day| day.usual_running().is_empty()) {
            let asked = day.to_race == 1 && day.sessions.iter().any(|planned| planned.role == Role::ShakeOut);
            prop_assert!(asked || day.is_rest(), "D{}\n{}", day.to_race, show(&block));
        }
    }

    #[test]
    fn pinned_days_are_left_as_they_are(any in any_request()) {
        let block = any.block();
        for (to_race, sessions) in &any.pins {
            let day = block.days.iter().find(|day| u64::from(day.to_race) == *to_race);
            let planned: Option<Vec<_>> = day.map(|day| day.sessions.iter().map(|p| p.session.clone()).collect());
            prop_assert_eq!(planned.as_ref(), Some(sessions));
        }
    }

    #[test]
    fn the_same_request_gives_the_same_block_and_can_be_reviewed(any in any_request()) {
        let block = any.block();
        prop_assert_eq!(&any.block(), &block);
        let subject = Subject::new(&block, &any.athlete, &any.week);
        let findings = planning::review(&subject);
        prop_assert_eq!(planning::review(&subject), findings);
        // A run that the coach wants on a usual rest day comes on top: of a week with a single kilometre more is
        // planned than is usual.
        let on_top = sessions(&block).any(|(_, planned)| planned.role == Role::ShakeOut && planned.usual.is_none());
        let cut = block.cut().share.0;
        prop_assert!(cut <= 1.0 && (cut >= 0.0 || on_top) || !any.pins.is_empty(), "{}", show(&block));
    }

    #[test]
    fn weeks_fall_where_nothing_is_fixed(mut any in any_request()) {
        any.pins.clear();
        // A run that the coach wants on a usual rest day comes on top of everything.
        any.settings.day_before = DayBefore::Rest;
        // A key session is half of the usual one even where the coach's own curve leaves less.
        (any.settings.curve, any.settings.floor, any.settings.shape) = (None, None, Shape::Ebb);
        let block = any.block();
        for pair in block.weeks().windows(2) {
            prop_assert!(pair[1].share.0 <= pair[0].share.0 + 1e-9, "{}", show(&block));
        }
    }
}
