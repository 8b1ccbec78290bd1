//! The bands in which race week and the weeks before it must lie, for every base week of four to
//! seven runs whose longest run, a quarter to two fifths of the week, stands on the race's weekday.
//!
//! Source: common practice, no published source. The published figures are checked below them:
//! weekly volume down by 41-60 % by race week, intensity and frequency kept, 8-14 days, progressive
//! (Bosquet and others 2007, doi 10.1249/mss.0b013e31806010e0; Wang and others 2023,
//! doi 10.1371/journal.pone.0282838; Mujika and Padilla 2003, PubMed 12840640).

#![expect(clippy::unwrap_used, reason = "helpers of tests stop where their own data is wrong")]

mod weeks;

use std::fmt::Write;

use chrono::Days;
use planning::{
    Amount, Athlete, BaseWeek, Block, Day, Kind, Milli, Planned, RaceDistance, Reason, Role, Session, Share, Slot, Unit,
};
use proptest::prelude::*;
use weeks::{Runner, monday, race_on};

/// Race week, the week before, the one before that: shares of the base week.
fn bands(race: RaceDistance) -> [(f64, f64); 3] {
    match race.event() {
        planning::Event::FiveK => [(0.42, 0.75), (0.90, 1.0), (1.0, 1.0)],
        planning::Event::TenK => [(0.38, 0.65), (0.85, 1.0), (1.0, 1.0)],
        planning::Event::Half => [(0.26, 0.45), (0.76, 0.88), (0.93, 1.0)],
        planning::Event::Marathon => [(0.23, 0.45), (0.60, 0.75), (0.80, 0.96)],
        planning::Event::Longer => [(0.15, 0.40), (0.50, 0.66), (0.75, 0.92)],
    }
}

/// Four to seven runs, the longest of them, a quarter to two fifths of the week, on Sunday. The others are
/// anything from a half to twice each other's size, on any days; a second long run may be among them.
fn typical_week() -> impl Strategy<Value = BaseWeek> {
    let days = prop::sample::subsequence((0..6_usize).collect::<Vec<_>>(), 3..=6);
    let kinds = prop::collection::vec(0..100_u8, 6);
    let spread = prop_oneof![Just(84..=116_u32), Just(50..=150), Just(67..=133)];
    let sizes = spread.prop_flat_map(|sizes| prop::collection::vec(sizes, 6));
    (days, 25..=40_u32, 30..=140_u32, sizes, kinds, 0..3_usize).prop_filter_map(
        "the longest run is the long run",
        |(places, part, km, sizes, kinds, most_hard)| {
            let long = (f64::from(km) * f64::from(part) / 100.0).round();
            let sizes = &sizes[..places.len()];
            let sum: u32 = sizes.iter().sum();
            let others = f64::from(km) - long;
            let amounts: Vec<f64> = sizes.iter().map(|s| (others * f64::from(*s) / f64::from(sum)).round()).collect();
            let typical = (0.25..=0.40).contains(&(long / (long + amounts.iter().sum::<f64>())));
            // Rounded down to less than 30 km it would be low mileage, which has bands of its own.
            let low = long + amounts.iter().sum::<f64>() < 30.0;
            if !typical || low || amounts.iter().any(|amount| *amount >= long || *amount < 4.0) {
                return None;
            }
            let mut days: [Vec<Slot>; 7] = Default::default();
            let mut hard_left = most_hard;
            let mut last_hard = None;
            for ((place, amount), dice) in places.iter().zip(&amounts).zip(&kinds) {
                let amount = Amount::exact(Milli::nearest(*amount), Unit::Km);
                let beside = last_hard.is_some_and(|last: usize| last + 1 == *place);
                let mut session = Session::new(Kind::Easy, amount);
                if hard_left > 0 && !beside && *dice < 60 {
                    (hard_left, last_hard) = (hard_left - 1, Some(*place));
                    session = Session::new([Kind::Tempo, Kind::Intervals, Kind::Hills][usize::from(dice % 3)], amount);
                    session.hard = Some(Amount::exact(amount.middle().times(Share(0.4)), Unit::Km));
                    // Some coaches write the whole way there and back, some a part of it, some none.
                    let easy = amount.middle().as_f64() * [0.0, 0.2, 0.3][usize::from(dice / 20)];
                    let each = (easy * 2.0).floor() / 2.0;
                    if each > 0.0 {
                        session.note = format!("{each} km wu, {each} km cd");
                    }
                }
                days[*place].push(Slot::one(session));
            }
            days[6].push(Slot::one(Session::new(Kind::Long, Amount::exact(Milli::nearest(long), Unit::Km))));
            Some(BaseWeek::new(days, None))
        },
    )
}

fn any_race() -> impl Strategy<Value = RaceDistance> {
    prop_oneof![
        Just(RaceDistance::FiveK),
        Just(RaceDistance::TenK),
        Just(RaceDistance::TenMiles),
        Just(RaceDistance::Half),
        Just(RaceDistance::Marathon),
        Just(RaceDistance::Own(Milli::whole(50), planning::DistanceUnit::Km)),
    ]
}

/// The share of the longest run that stays of a long slot: by steps until D7, as an easy run in race week.
fn long_slot_share(event: planning::Event, to_race: u16) -> f64 {
    use planning::Event::{FiveK, Half, Longer, Marathon, TenK};
    let race_week = |shares: [f64; 6]| shares[usize::from(6 - to_race)];
    match (event, to_race) {
        (FiveK | TenK, 1..=6) => race_week([0.60, 0.55, 0.50, 0.45, 0.35, 0.25]),
        (_, 1..=6) => race_week([0.50, 0.40, 0.33, 0.28, 0.22, 0.15]),
        (FiveK, 7..=8) => 0.85,
        (TenK, 7..=8) | (Half, 9..=11) | (Longer, 17..=19) => 0.80,
        (Half, 12..=14) | (Marathon, 17..=19) => 0.90,
        (Half, 7..=8) => 0.70,
        (Marathon, 12..=16) => 0.75,
        (Longer, 12..=16) => 0.65,
        (Marathon, 7..=11) => 0.55,
        (Longer, 7..=11) => 0.45,
        _ => 1.0,
    }
}

/// How long the runs of a week are that holds one a day.
struct Lengths {
    longest: f64,
    median: f64,
    /// The longest run that is neither hard nor as long as a long run, at least 0.8 of the median, which it is where
    /// there is none.
    longest_easy: f64,
    /// The shortest run that is worth the shoes.
    least: f64,
}

impl Lengths {
    fn of(week: &BaseWeek) -> Self {
        let mut runs: Vec<f64> = week.sessions().map(|(_, session)| session.running_middle().as_f64()).collect();
        runs.sort_by(f64::total_cmp);
        let half = runs.len() / 2;
        let median = if runs.len() % 2 == 1 { runs[half] } else { f64::midpoint(runs[half - 1], runs[half]) };
        let least = match runs.iter().sum::<f64>() {
            ..50.0 => 3.0,
            ..90.0 => 4.0,
            _ => 5.0,
        };
        let easy = week.sessions().filter(|(_, session)| !session.is_hard() && session.kind != Kind::Long);
        let easy = easy.map(|(_, session)| session.running_middle().as_f64()).filter(|km| *km < 1.5 * median);
        let longest_easy =
            Some(easy.fold(0.0, f64::max)).filter(|km| *km > 0.0).map_or(median, |km| km.max(0.8 * median));
        Self { longest: runs[runs.len() - 1], median, longest_easy, least }
    }

    /// The most that an easy run may be in the last three days: a share of a usual easy run, or what the rules leave
    /// where that is more; before that the week is filled up first. To the nearest half, above 5 km whole kilometre.
    fn most_of_easy(&self, block: &Block, planned: &Planned, usual: f64, to_race: u16) -> f64 {
        use planning::Event::{FiveK, Half, Longer, Marathon, TenK};
        let is_easy = planned.role.plays_no_part() && !planned.session.is_hard();
        let share = match (block.event, to_race) {
            (FiveK, 3) => 0.75,
            (FiveK, 2) | (TenK, 3) => 0.65,
            (TenK, 2) | (Half, 3) => 0.60,
            (Marathon | Longer, 3) => 0.55,
            (Half, 2) => 0.50,
            (Marathon | Longer, 2) => 0.45,
            _ => return f64::MAX,
        };
        let few_runs = block.adjustments.contains(&planning::curve::Adjustment::FewRuns);
        let of = if few_runs { usual } else { usual.min(self.longest_easy) };
        let most = of * f64::max(share, block.curve.share(to_race).0);
        if is_easy { (most * 2.0).round() / 2.0 } else { f64::MAX }
    }

    /// The most that a run may be where it takes the place of a long one: called so, or easy and 1.5 times the
    /// median run. A second long run is at most 45 % of the longest from D14 on, half marathon and longer, or as
    /// long as a plain run.
    fn most_of_long(&self, event: planning::Event, planned: &Session, usual: f64, to_race: u16) -> f64 {
        let is_long = planned.kind == Kind::Long || (!planned.is_hard() && usual >= 1.5 * self.median);
        if !is_long {
            return f64::MAX;
        }
        let is_second = usual < self.longest && !event.up_to_10_miles() && (7..=14).contains(&to_race);
        let second = if is_second { f64::max(0.45, self.median / self.longest) } else { 1.0 };
        self.longest * long_slot_share(event, to_race).min(second)
    }
}

/// Whether nothing of a day could be longer. The most is the usual, in race week 90 % of it (a hard run on D6
/// 75 %); an easy run of the last three days a share of a usual one; 12 km on D4 and D3, 8 km on D2; what stays of a long slot; what the same weekday had a week before.
/// A key session that moved here is held against what it usually is, and is no longer than the run that it
/// replaces. A shake-out is as short as it should be.
fn at_its_most(block: &Block, lengths: &Lengths, day: &Day, before: &Day) -> bool {
    let earlier = before.planned_running().of(Unit::Km).middle().as_f64();
    day.sessions.iter().all(|planned| {
        let now = planned.session.running_middle().as_f64();
        let moved_from = planned.why.iter().find_map(|reason| match reason {
            Reason::KeyMovedHere(date) => block.day(*date),
            _ => None,
        });
        let stands_here = planned.usual.as_ref().map_or(0.0, |usual| usual.running_middle().as_f64());
        let is_hard = planned.session.is_hard() && planned.role == Role::Plain;
        let part = match day.to_race {
            7.. => 1.0,
            6 if is_hard => 0.75,
            _ => 0.9,
        };
        let own = match moved_from {
            Some(day) => stands_here.min(part * day.usual_running().of(Unit::Km).middle().as_f64()),
            None => (part * stands_here).min(earlier),
        };
        let near = match day.to_race {
            1..=2 => 8.0,
            3..=4 => 12.0,
            _ => f64::MAX,
        };
        let long = lengths.most_of_long(block.event, &planned.session, stands_here, day.to_race);
        let easy = lengths.most_of_easy(block, planned, stands_here, day.to_race);
        planned.role == Role::ShakeOut || now + 1.0 > own.min(near).min(long).min(easy)
    })
}

/// The warm-up and cool-down that [`typical_week`] writes: "2.5 km wu, 2.5 km cd".
fn told(session: &Session) -> f64 {
    session.note.split(' ').filter_map(|word| word.parse::<f64>().ok()).sum()
}

/// Whether nothing of a day could be shorter. The least is what is worth the shoes, 3, 4 or 5 km by the week's
/// running, or the usual where that is less; a key session keeps half of itself (60 % on D6), and the warm-up and cool-down that the coach
/// wrote, else 4 km of easy running, or the usual where that is less, around half of its hard part (60 % on D6, a third on D3 before the
/// half marathon and longer). A floor above these shares keeps more.
fn at_its_least(block: &Block, lengths: &Lengths, day: &Day) -> bool {
    day.sessions.iter().all(|planned| {
        let now = planned.session.running_middle().as_f64();
        let moved_from = planned.why.iter().find_map(|reason| match reason {
            Reason::KeyMovedHere(date) => block.day(*date).and_then(|day| day.usual.first()),
            _ => None,
        });
        let least = match moved_from.or(planned.usual.as_ref()) {
            Some(usual) if planned.role == Role::Key => {
                let share = match day.to_race {
                    3 if !block.event.up_to_10_miles() => 1.0 / 3.0,
                    6 => f64::max(0.6, block.curve.floor),
                    _ => f64::max(0.5, block.curve.floor),
                };
                let (whole, hard) = (usual.running_middle().as_f64(), usual.hard_middle().as_f64());
                let hard_now = (hard * share * 2.0).round() / 2.0;
                let easy = whole - hard;
                let (stays, between) = match told(usual) {
                    0.0 => (easy.min(4.0), 0.0),
                    told => (told, (easy - told) * hard_now / hard),
                };
                f64::max(whole * share.max(0.5), hard_now + stays + between)
            }
            usual => usual.map_or(0.0, |usual| usual.running_middle().as_f64()).min(lengths.least),
        };
        let step = if now <= 5.0 { 0.5 } else { 1.0 };
        planned.role == Role::ShakeOut || now - step < least
    })
}

fn show(days: &[Day]) -> String {
    let run = |session: &Session| format!("{} {}", session.kind.code(), session.running_middle());
    let mut text = String::new();
    for day in days {
        let usual: Vec<_> = day.usual.iter().map(run).collect();
        let planned: Vec<_> = day.sessions.iter().map(|planned| run(&planned.session)).collect();
        let _ = writeln!(text, "D{} {usual:?} -> {planned:?}", day.to_race);
    }
    text
}

/// What lies outside of its band without need, for a race on Sunday; the bounds of single runs go before the band.
fn out_of_band(week: &BaseWeek, race: RaceDistance) -> Option<String> {
    let runner = Runner {
        athlete: Athlete { name: "A".into(), ..Athlete::default() },
        week: week.clone(),
        race: race_on(monday() + Days::new(6), race),
    };
    let (lengths, block) = (Lengths::of(week), runner.block());
    block.weeks().into_iter().find_map(|summary| {
        let (low, high) = bands(race).get(usize::from(summary.before)).copied()?;
        // Amounts are whole kilometres: half a step of a week counts as inside.
        let step = 0.6 / summary.usual.of(Unit::Km).middle().as_f64();
        let share = summary.share.0;
        let days = &block.days[block.days.len() - 7 * (usize::from(summary.before) + 1)..][..7];
        let start = block.days.len().saturating_sub(7 * (usize::from(summary.before) + 2));
        let before = &block.days[start..][..7];
        let inside = (low - step..=high + step).contains(&share);
        let bound = if share < low {
            days.iter().zip(before).all(|(day, before)| at_its_most(&block, &lengths, day, before))
        } else {
            days.iter().all(|day| at_its_least(&block, &lengths, day))
        };
        let says = || format!("week {}: {share:.3} not in {low}-{high}\n{}", summary.before, show(days));
        (!inside && !bound).then(says)
    })
}

/// A week typed as lines, Monday first.
fn typed(lines: [&str; 7]) -> BaseWeek {
    planning::notation::read_week(&lines, "", planning::DistanceUnit::Km).unwrap()
}

#[test]
fn a_second_long_run_late_in_race_week_is_bound_as_one_though_the_reason_is_the_curve() {
    // Friday's 8 km are 1.5 times the median: at most 35 % of the longest on D2.
    let second = typed(["tempo 11, hard 4.4", "4", "5", "4", "8", "4", "long 16"]);
    assert_eq!(out_of_band(&second, RaceDistance::FiveK), None);
    let tuesday = typed(["rest", "32", "19", "rest", "21", "16", "long 46"]);
    assert_eq!(out_of_band(&tuesday, RaceDistance::TenK), None);
    let thursday = typed(["intervals 6, hard 2.4", "10", "tempo 6, hard 2.4", "16", "6", "8", "long 26"]);
    assert_eq!(out_of_band(&thursday, RaceDistance::TenK), None);
}

#[test]
fn a_key_session_on_d6_is_not_shorter_than_its_hard_part_and_what_goes_around_it() {
    let week = typed(["intervals 9, hard 3.6", "4", "7", "8", "4", "4", "long 14"]);
    assert_eq!(out_of_band(&week, RaceDistance::Own(Milli::whole(50), planning::DistanceUnit::Km)), None);
}

#[test]
fn a_hard_session_of_the_week_before_stays_whole_where_the_week_would_hold_too_little() {
    let week = typed(["6", "rest", "hills 7, hard 2.8", "14", "hills 7, hard 2.8", "rest", "long 16"]);
    assert_eq!(out_of_band(&week, RaceDistance::Half), None);
}

proptest! {
    #![proptest_config(weeks::cases(2000))]

    #[test]
    fn weeks_lie_in_their_bands(week in typical_week(), race in any_race()) {
        let found = out_of_band(&week, race);
        prop_assert!(found.is_none(), "{}", found.unwrap_or_default());
    }

    #[test]
    fn frequency_is_kept(week in typical_week(), race in any_race()) {
        // Mujika and Padilla 2003: frequency down by no more than 20 %.
        let runner = Runner {
            athlete: Athlete { name: "A".into(), ..Athlete::default() },
            week,
            race: race_on(monday() + Days::new(6), race),
        };
        for summary in runner.block().weeks().iter().filter(|summary| summary.before > 0) {
            prop_assert!(summary.run_days as f64 >= 0.8 * summary.usual_run_days as f64);
        }
    }
}
