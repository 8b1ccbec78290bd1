//! What a block costs: planned and reviewed, over 1,000 base weeks of all sorts, event by event.
//!
//! `cargo xtask bench` runs it. One iteration is one block, so the items a second are blocks a second.

use std::hint::black_box;

use chrono::{Days, NaiveDate};
use divan::Bencher;
use divan::counter::ItemsCount;
use planning::{
    Amount, Athlete, BaseWeek, Kind, Milli, Race, RaceDistance, Request, Session, Settings, Share, Slot, Unit, plan,
    review,
};

/// As many base weeks as a large club and its neighbours have.
const WEEKS: usize = 1_000;

fn main() {
    divan::main();
}

#[divan::bench(args = ["5k", "10k", "half", "marathon", "50 km"], sample_count = 1_000)]
fn plan_and_review(bencher: Bencher<'_, '_>, event: &str) {
    let athlete = Athlete { name: "Runner".to_owned(), ..Athlete::default() };
    let settings = Settings::default();
    let race = race(event);
    let weeks = weeks();
    let request = |week| Request::new(&athlete, week, &race, &settings);
    assert!(weeks.iter().all(|week| plan(&request(week)).is_ok()), "a week that is refused measures nothing");
    let mut next = weeks.iter().cycle();
    bencher.counter(ItemsCount::new(1_usize)).with_inputs(|| next.next()).bench_local_values(|week| {
        let week = week?;
        let block = plan(black_box(&request(week))).ok()?;
        let findings = review(&review::Subject::new(&block, &athlete, week));
        Some((block, findings))
    });
}

/// A whole club, or a whole town, one athlete after the other, as the server plans who runs a race: what one athlete
/// costs must not grow with their number.
#[divan::bench(args = [100, 1_000, 10_000], sample_count = 10)]
fn plan_many(bencher: Bencher<'_, '_>, athletes: usize) {
    let athlete = Athlete { name: "Runner".to_owned(), ..Athlete::default() };
    let settings = Settings::default();
    let races = ["5k", "10k", "half", "marathon", "50 km"].map(race);
    let weeks = weeks();
    let requests: Vec<Request<'_>> = weeks
        .iter()
        .cycle()
        .zip(races.iter().cycle())
        .take(athletes)
        .map(|(week, race)| Request::new(&athlete, week, race, &settings))
        .collect();
    bencher
        .counter(ItemsCount::new(athletes))
        .bench_local(|| requests.iter().map(|request| plan(black_box(request))).collect::<Vec<_>>());
}

fn race(event: &str) -> Race {
    let distance =
        RaceDistance::from_code(event).unwrap_or(RaceDistance::Own(Milli::whole(50), planning::DistanceUnit::Km));
    // A Sunday, as most races are.
    let date = NaiveDate::default() + Days::new(31 * 365);
    Race { name: event.to_owned(), date, distance, start: None, zone: None, importance: planning::Importance::Goal }
}

/// Base weeks of 3 to 7 running days and about 20 to 140 km: kilometres, miles and minutes, numbers
/// and ranges, hard sessions, second runs and strength. The same weeks at every run.
fn weeks() -> Vec<BaseWeek> {
    let mut dice = Dice(0x2545_F491_4F6C_DD1D);
    (0..WEEKS).map(|_| week(&mut dice)).collect()
}

fn week(dice: &mut Dice) -> BaseWeek {
    let unit = [Unit::Km, Unit::Km, Unit::Mi, Unit::Min][usize::from(dice.below(4))];
    let runs = 3 + dice.below(5);
    let usual = 5 + i32::from(dice.below(12));
    let long = usize::from(dice.below(7));
    let mut hard_left = dice.below(4);
    let mut left = runs;
    let days = std::array::from_fn(|day| {
        let days_after = 7 - day as u8;
        let runs_today = day == long || dice.below(days_after) < left;
        if !runs_today {
            return Vec::new();
        }
        left = left.saturating_sub(1);
        if day == long {
            return vec![Slot::one(session(dice, Kind::Long, usual * 2, unit))];
        }
        if hard_left > 0 && dice.below(2) == 0 {
            hard_left -= 1;
            let kind =
                [Kind::Intervals, Kind::Tempo, Kind::Hills, Kind::RacePace, Kind::Fartlek][usize::from(dice.below(5))];
            return vec![Slot::one(session(dice, kind, usual + 2, unit))];
        }
        let mut slots = vec![Slot::one(session(dice, Kind::Easy, usual, unit))];
        if runs >= 6 && dice.below(4) == 0 {
            slots.push(Slot::one(session(dice, Kind::Easy, 5, unit)));
        }
        if dice.below(5) == 0 {
            slots.push(Slot::one(Session::new(Kind::Strength, Amount::exact(Milli::whole(25), Unit::Min))));
        }
        slots
    });
    BaseWeek::new(days, None)
}

/// A session of about so many kilometres.
fn session(dice: &mut Dice, kind: Kind, about: i32, unit: Unit) -> Session {
    let km = about - 1 + i32::from(dice.below(4));
    let low = match unit {
        Unit::Km => Milli::whole(km),
        Unit::Mi => Milli::whole((km * 5 / 8).max(2)),
        Unit::Min => Milli::whole(km * 6 / 5 * 5),
    };
    let width = if dice.below(3) == 0 { low.times(Share(0.2)) } else { Milli::ZERO };
    Session::new(kind, Amount::between(low, low + Milli::whole(width.0 / 1_000), unit))
}

/// Marsaglia's xorshift generator with 64 bits of state: the same throws on every machine.
///
/// # Source
///
/// Marsaglia 2003, Xorshift RNGs, doi 10.18637/jss.v008.i14; the triple 13, 7, 17.
struct Dice(u64);

impl Dice {
    /// A number from 0 to one less than the limit.
    fn below(&mut self, limit: u8) -> u8 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 % u64::from(limit)) as u8
    }
}
