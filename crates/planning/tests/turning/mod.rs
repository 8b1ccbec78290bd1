//! Random pairs of base weeks that take turns, as athletes have them.

use chrono::Days;
use planning::{Amount, BaseWeek, Kind, Milli, Session, SevenDays, Slot, Turns, Unit};
use proptest::prelude::*;

use crate::random::{full_runner, runner, unit, usual_week};
use crate::weeks::{Runner, monday};

/// Any runner with two weeks that take turns: the second a lighter version of the first, or one that
/// has little to do with it.
pub(crate) fn turning_runner() -> impl Strategy<Value = Runner> {
    let changes = prop::collection::vec((50..=100_u8, 0..100_u8), 7);
    let other = unit().prop_flat_map(usual_week);
    (prop_oneof![runner(), full_runner()], other, changes, 0..100_u8, any::<bool>(), 0..2_u64).prop_filter_map(
        "weeks that somebody would take turns with",
        |(runner, other, changes, lighter, swapped, parity)| {
            let days = |week: &BaseWeek| planning::week::WEEKDAYS.map(|weekday| week.day(weekday).to_vec());
            let first = days(&runner.week);
            let second = if lighter < 70 { lighter_week(&first, &changes) } else { days(&other) };
            let (first, second) = if swapped { (second, first) } else { (first, second) };
            let stands_on = monday() + Days::new(parity * 7);
            let turns = Turns { week: SevenDays::new(second), stands_on };
            let week = BaseWeek::new(first, None).taking_turns(Some(turns));
            let km: Vec<f64> = week.weeks().map(|week| week.running().middle_km(planning::Pace::ASSUMED)).collect();
            let alike = km[0] > km[1] / 2.0 && km[1] > km[0] / 2.0;
            if alike { Some(Runner { week, ..runner }) } else { None }
        },
    )
}

/// Every day a little shorter, some hard sessions easy, an easy day off now and then.
fn lighter_week(first: &[Vec<Slot>; 7], changes: &[(u8, u8)]) -> [Vec<Slot>; 7] {
    std::array::from_fn(|day| {
        let (part, what) = changes[day];
        let slots = first[day].iter().map(|slot| {
            let mut session = slot.chosen().clone();
            if let Some(amount) = session.running() {
                let step = if amount.unit() == Unit::Min { 5000.0 } else { 1000.0 };
                let shorter = f64::from(amount.middle().0) * f64::from(part) / 100.0;
                let middle = Milli(((shorter / step).round() * step).max(step * 2.0) as i32).min(amount.middle());
                session.amount = Some(Amount::exact(middle, amount.unit()));
                session.hard = session.hard.map(|hard| hard.scaled(planning::Share(f64::from(part) / 100.0)));
            }
            if session.is_hard() && session.kind != Kind::Long && what < 50 {
                session = Session { kind: Kind::Easy, hard: None, ..session };
            }
            session
        });
        let easy_day_off = |session: &Session| what >= 85 && session.kind == Kind::Easy;
        slots.filter(|session| !easy_day_off(session)).map(Slot::one).collect()
    })
}
