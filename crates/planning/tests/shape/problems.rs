//! What is wrong with a request: every problem, each at its place.

use chrono::{Days, NaiveDate, Weekday};
use planning::RaceDistance::Half;
use planning::problem::Field;
use planning::{
    Amount, BaseWeek, DistanceUnit, Kind, Milli, Problem, ProblemKind, RaceDistance, Session, SetUnit, Sets, Slot, Unit,
};

use crate::coach::{Coach, before};

const WEEK: &str = "- | tempo 9, hard 4 | - | 8 | - | 7 | long 18";

fn good() -> Coach {
    before(Half, WEEK)
}

fn problems(coach: &Coach) -> Vec<Problem> {
    coach.plan().err().unwrap_or_default()
}

fn only(coach: &Coach, at: Field, kind: ProblemKind) {
    assert_eq!(problems(coach), [Problem::new(at, kind)]);
}

/// The week with one session on Monday in its first slot.
fn with_session(session: Session) -> Coach {
    let mut coach = good();
    let mut days: [Vec<Slot>; 7] = planning::week::WEEKDAYS.map(|weekday| coach.week.day(weekday).to_vec());
    days[0] = vec![Slot::one(session)];
    coach.week = BaseWeek::new(days, None);
    coach
}

fn km(value: i32) -> Amount {
    Amount::exact(Milli::whole(value), Unit::Km)
}

fn wrong(session: Session, kind: ProblemKind) {
    only(&with_session(session), Field::Session(Weekday::Mon, 0), kind);
}

fn sets(reps: u16, length: i32, unit: SetUnit) -> Sets {
    Sets { reps, length: Milli::whole(length), unit, pace: String::new(), recovery: String::new() }
}

#[test]
fn a_good_request_has_none() {
    assert_eq!(problems(&good()), []);
}

#[test]
fn the_athlete_needs_a_name_of_bearable_length() {
    let named = |name: String| {
        let mut coach = good();
        coach.athlete.name = name;
        coach
    };
    for nothing in ["", "  "] {
        only(&named(nothing.into()), Field::AthleteName, ProblemKind::Missing);
    }
    assert_eq!(problems(&named("\u{e9}".repeat(80))), []);
    only(&named("\u{e9}".repeat(81)), Field::AthleteName, ProblemKind::TooLong { length: 81, most: 80 });
}

#[test]
fn the_year_of_birth_is_one_that_is_believed() {
    let born = |year| {
        let mut coach = good();
        coach.athlete.birth_year = Some(year);
        coach
    };
    for fine in [1910, 2025] {
        assert_eq!(problems(&born(fine)), []);
    }
    for year in [1909, 2026] {
        only(&born(year), Field::BirthYear, ProblemKind::YearOutOfRange { year, from: 1910, to: 2025 });
    }
}

#[test]
fn a_length_that_suits_lies_inside_the_accepted_ones() {
    for (days, fine) in [(3, false), (4, true), (35, true), (36, false)] {
        let coach = good().suits(|suits| suits.days = Some(days));
        if fine {
            assert_eq!(problems(&coach), []);
        } else {
            let kind = ProblemKind::OutOfRange { value: f64::from(days), from: 4.0, to: 35.0 };
            only(&coach, Field::SuitsDays, kind);
        }
    }
}

#[test]
fn a_week_needs_running() {
    let mut coach = good();
    coach.week = BaseWeek::default();
    only(&coach, Field::BaseWeek, ProblemKind::EmptyWeek);
    let strength = before(Half, "strength 30 | - | - | - | - | - | -");
    only(&strength, Field::BaseWeek, ProblemKind::EmptyWeek);
}

#[test]
fn a_day_holds_at_most_four_sessions() {
    let with = |count: usize| {
        let mut coach = good();
        let mut days: [Vec<Slot>; 7] = Default::default();
        days[5] = vec![Slot::one(Session::new(Kind::Easy, km(5))); count];
        coach.week = BaseWeek::new(days, None);
        coach
    };
    assert_eq!(problems(&with(4)), []);
    only(&with(5), Field::Session(Weekday::Sat, 4), ProblemKind::TooManySessions { count: 5, most: 4 });
}

#[test]
fn running_needs_an_amount_above_zero() {
    let none = Session { amount: None, ..Session::new(Kind::Easy, km(5)) };
    wrong(none, ProblemKind::AmountMissing { kind: Kind::Easy });
    wrong(Session::new(Kind::Tempo, km(0)), ProblemKind::ZeroAmount { kind: Kind::Tempo });
}

#[test]
fn strength_and_mobility_are_in_minutes_and_not_hard() {
    for kind in [Kind::Strength, Kind::Mobility] {
        wrong(Session::new(kind, km(5)), ProblemKind::AmountNotInMinutes { kind, unit: Unit::Km });
        let minutes = Amount::exact(Milli::whole(30), Unit::Min);
        let hard = Session { hard: Some(minutes), ..Session::new(kind, minutes) };
        wrong(hard, ProblemKind::HardNotAllowed { kind });
    }
}

#[test]
fn a_hard_part_fits_its_session() {
    let tempo = |hard| Session { hard: Some(hard), ..Session::new(Kind::Tempo, km(8)) };
    assert_eq!(problems(&with_session(tempo(km(8)))), []);
    let above = ProblemKind::HardAboveAmount { hard: Milli::whole(9), amount: Milli::whole(8), unit: Unit::Km };
    wrong(tempo(km(9)), above.clone());
    let minutes = Amount::exact(Milli::whole(20), Unit::Min);
    wrong(tempo(minutes), ProblemKind::HardInOtherUnit { hard: Unit::Min, amount: Unit::Km });
    let repetitions = Session { sets: vec![sets(9, 1000, SetUnit::M)], ..Session::new(Kind::Intervals, km(8)) };
    wrong(repetitions, above);
}

#[test]
fn repetitions_are_ones_that_can_be_run() {
    let intervals = |line| Session { sets: vec![line], ..Session::new(Kind::Intervals, km(8)) };
    assert_eq!(problems(&with_session(intervals(sets(100, 50, SetUnit::M)))), []);
    for reps in [0, 101] {
        wrong(intervals(sets(reps, 50, SetUnit::M)), ProblemKind::SetsOutOfRange { reps, most: 100 });
    }
    for length in [0, 601] {
        let (length, most) = (Milli::whole(length), Milli::whole(600));
        let line = Sets { length, ..sets(1, 0, SetUnit::Min) };
        wrong(intervals(line), ProblemKind::RepetitionOutOfRange { length, most, unit: SetUnit::Min });
    }
    let wordy = Sets { recovery: "x".repeat(81), ..sets(4, 400, SetUnit::M) };
    wrong(intervals(wordy), ProblemKind::TooLong { length: 81, most: 80 });
    let many = Session { sets: vec![sets(1, 100, SetUnit::M); 13], ..Session::new(Kind::Intervals, km(8)) };
    wrong(many, ProblemKind::TooManySets { count: 13, most: 12 });
}

#[test]
fn a_note_has_a_bearable_length() {
    let noted = |length| Session { note: "x".repeat(length), ..Session::new(Kind::Easy, km(8)) };
    assert_eq!(problems(&with_session(noted(300))), []);
    wrong(noted(301), ProblemKind::TooLong { length: 301, most: 300 });
}

#[test]
fn alternatives_are_looked_at_too() {
    let mut coach = good();
    let mut days: [Vec<Slot>; 7] = planning::week::WEEKDAYS.map(|weekday| coach.week.day(weekday).to_vec());
    let options = vec![Session::new(Kind::Tempo, km(8)), Session::new(Kind::Hills, km(0))];
    days[2].extend(Slot::any_of(options));
    coach.week = BaseWeek::new(days, None);
    only(&coach, Field::Session(Weekday::Wed, 0), ProblemKind::ZeroAmount { kind: Kind::Hills });
}

#[test]
fn a_typed_amount_lies_between_nothing_and_the_most() {
    let checked = |low: i32, high: i32| Amount::checked(Milli(low), Milli(high), Unit::Km);
    assert_eq!(checked(0, 400_000), Ok(Amount::between(Milli(0), Milli(400_000), Unit::Km)));
    assert_eq!(checked(-1, 5_000), Err(ProblemKind::Negative { value: Milli(-1) }));
    let too_much = ProblemKind::TooMuch { value: Milli(400_001), most: Milli(400_000), unit: Unit::Km };
    assert_eq!(checked(5_000, 400_001), Err(too_much));
    let crossed = ProblemKind::LowAboveHigh { low: Milli(6_000), high: Milli(5_000) };
    assert_eq!(checked(6_000, 5_000), Err(crossed));
}

#[test]
fn the_race_has_a_distance_that_is_planned_for_and_a_name_of_bearable_length() {
    let of = |km: i32| before(RaceDistance::Own(Milli(km), DistanceUnit::Km), WEEK);
    for fine in [800, 400_000] {
        assert_eq!(problems(&of(fine)), []);
    }
    only(&of(799), Field::RaceDistance, ProblemKind::DistanceOutOfRange { km: 0.799 });
    only(&of(400_001), Field::RaceDistance, ProblemKind::DistanceOutOfRange { km: 400.001 });
    let mut coach = good();
    coach.race.name = "x".repeat(121);
    only(&coach, Field::RaceName, ProblemKind::TooLong { length: 121, most: 120 });
}

#[test]
fn the_race_lies_in_years_that_the_program_knows() {
    let on = |date: NaiveDate| {
        let mut coach = good();
        coach.race.date = date;
        coach
    };
    let day = |year, month, day| NaiveDate::from_ymd_opt(year, month, day).expect("a day");
    assert_eq!(problems(&on(day(1990, 1, 1))), []);
    assert_eq!(problems(&on(day(2190, 12, 31))), []);
    for date in [day(1989, 12, 31), day(2191, 1, 1), NaiveDate::MIN, NaiveDate::MAX] {
        only(&on(date), Field::RaceDate, ProblemKind::DateOutOfRange { date });
    }
}

#[test]
fn the_race_lies_today_or_within_three_years() {
    let mut coach = good();
    let date = coach.race.date;
    for days in [0, 1, 3 * 366] {
        coach.today = Some(date - Days::new(days));
        assert_eq!(problems(&coach), []);
    }
    let today = date + Days::new(1);
    coach.today = Some(today);
    only(&coach, Field::RaceDate, ProblemKind::RaceInThePast { date, today });
    let today = date - Days::new(3 * 366 + 1);
    coach.today = Some(today);
    only(&coach, Field::RaceDate, ProblemKind::RaceTooFar { date, today });
}

#[test]
fn settings_lie_inside_what_is_accepted() {
    let coach = good().set(|settings| settings.days = Some(3));
    only(&coach, Field::BlockDays, ProblemKind::OutOfRange { value: 3.0, from: 4.0, to: 35.0 });
    let coach = good().set(|settings| settings.curve = Some(5.0));
    only(&coach, Field::Curve, ProblemKind::OutOfRange { value: 5.0, from: 0.3, to: 4.0 });
    let coach = good().set(|settings| settings.floor = Some(0.95));
    only(&coach, Field::Floor, ProblemKind::OutOfRange { value: 0.95, from: 0.1, to: 0.9 });
}

#[test]
fn a_pinned_day_lies_inside_the_block_and_holds_what_can_be_run() {
    // Three whole weeks before a half marathon, race day not among them.
    for to_race in [1, 20] {
        assert_eq!(problems(&good().pin(to_race, "easy 5")), []);
    }
    for to_race in [0, 21] {
        let coach = good().pin(to_race, "easy 5");
        let (date, race) = (coach.pins[0].date, coach.race.date);
        let (first, last) = (race - Days::new(20), race - Days::new(1));
        only(&coach, Field::Pin(date), ProblemKind::PinOutsideBlock { date, first, last });
    }
    let coach = good().pin(3, "easy 0");
    only(&coach, Field::Pin(coach.pins[0].date), ProblemKind::ZeroAmount { kind: Kind::Easy });
}

#[test]
fn a_day_is_pinned_once_and_holds_as_many_sessions_as_any_day() {
    let twice = good().pin(3, "easy 5").pin(4, "rest").pin(3, "rest");
    let date = twice.pins[0].date;
    only(&twice, Field::Pin(date), ProblemKind::PinnedTwice { date });
    assert_eq!(problems(&good().pin(3, "easy 5 + easy 3 + easy 3 + strength 20")), []);
    let five = good().pin(3, "easy 5 + easy 3 + easy 3 + easy 3 + strength 20");
    only(&five, Field::Pin(five.pins[0].date), ProblemKind::TooManySessions { count: 5, most: 4 });
}

#[test]
fn all_problems_are_told_at_once() {
    let mut coach = with_session(Session::new(Kind::Easy, km(0))).set(|settings| settings.days = Some(99));
    coach.athlete.name.clear();
    coach.athlete.birth_year = Some(1800);
    coach.race.distance = RaceDistance::Own(Milli(1), DistanceUnit::Km);
    coach.today = Some(coach.race.date + Days::new(9));
    let coach = coach.pin(0, "easy 5");
    let fields: Vec<Field> = problems(&coach).into_iter().map(|problem| problem.at).collect();
    assert_eq!(
        fields,
        [
            Field::AthleteName,
            Field::BirthYear,
            Field::Session(Weekday::Mon, 0),
            Field::RaceDistance,
            Field::BlockDays,
            Field::RaceDate,
            Field::Pin(coach.race.date),
        ]
    );
}
