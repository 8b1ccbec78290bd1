//! Variants of a block: enough to choose from, no two alike.

#![expect(clippy::unwrap_used, reason = "helpers of tests stop where their own data is wrong")]

mod random;
mod weeks;

use chrono::Datelike;
use planning::variants::what_suits;
use planning::{Block, DayBefore, Session, Settings, Suits, VariantName, plan, variants};
use proptest::prelude::*;
use random::{full_runner, runner};
use weeks::Runner;

fn sessions(block: &Block) -> Vec<(chrono::NaiveDate, Vec<&Session>)> {
    let days = block.days.iter().map(|day| (day, day.sessions.iter().map(|planned| &planned.session)));
    let days = days.filter(|(day, sessions)| !sessions.clone().eq(&day.usual));
    days.map(|(day, sessions)| (day.date, sessions.collect())).collect()
}

fn of(runner: &Runner) -> Vec<planning::Variant> {
    variants(&runner.request(&Settings::default(), &[])).unwrap()
}

proptest! {
    #![proptest_config(weeks::cases(150))]

    #[test]
    fn there_are_six_at_least_and_no_two_ask_for_the_same(runner in prop_oneof![runner(), full_runner()]) {
        let found = of(&runner);
        // With three runs a week that can be cut or under 30 km there is little to vary: as many as differ.
        let is_worth_cutting = |session: &&planning::Session| {
            let amount = session.running().into_iter().collect::<planning::Totals>();
            amount.middle_km(planning::Pace::ASSUMED) >= 5.0
        };
        // On race day and the day before it nothing usual is run, whatever the settings; up to 10 miles those
        // weekdays come only once more, where the block begins.
        let (race_day, day_before) = (runner.race.date.weekday(), runner.race.date.weekday().pred());
        let is_short = runner.race.distance.event().up_to_10_miles();
        let is_left = |weekday: chrono::Weekday| !is_short || ![race_day, day_before].contains(&weekday);
        let left = runner.week.sessions().filter(|(weekday, _)| is_left(*weekday)).map(|(_, session)| session);
        let cuttable = left.filter(is_worth_cutting).count();
        let thin = runner.week.running_days() <= 3 || runner.week.middle_km(None) < 30.0 || cuttable <= 3;
        let names: Vec<_> = found.iter().map(|variant| variant.name).collect();
        prop_assert!(!names.is_empty() && (thin || names.len() >= 6), "{names:?}");
        for (index, variant) in found.iter().enumerate() {
            for other in &found[..index] {
                prop_assert!(sessions(&variant.block) != sessions(&other.block), "{:?} {:?}", variant.name, other.name);
                prop_assert!(variant.name != other.name);
            }
        }
    }

    #[test]
    fn each_is_what_its_settings_give(runner in runner()) {
        for variant in of(&runner) {
            let block = plan(&runner.request(&variant.settings, &[])).unwrap();
            prop_assert_eq!(&block, &variant.block);
        }
    }

    #[test]
    fn what_one_teaches_gives_its_frame_again(runner in runner(), index in 0..6_usize) {
        let found = of(&runner);
        let variant = &found[index % found.len()];
        let mut taught = runner.clone();
        taught.athlete.suits = what_suits(&variant.block);
        let block = taught.block();
        prop_assert_eq!(block.curve.length, variant.block.curve.length);
        let rests = |block: &Block| block.days.iter().find(|day| day.to_race == 1).map(planning::Day::is_rest);
        prop_assert_eq!(rests(&block), rests(&variant.block));
    }
}

#[test]
fn what_usually_stands_on_race_day_and_the_day_before_is_nothing_to_vary() {
    let names = |lines: [&str; 7], days: u64| -> Vec<VariantName> {
        let runner = Runner {
            athlete: planning::Athlete { name: "Ana".into(), ..Default::default() },
            week: planning::notation::read_week(&lines, "", planning::DistanceUnit::Km).unwrap(),
            race: weeks::race_on(weeks::monday() + chrono::Days::new(days), planning::RaceDistance::FiveK),
        };
        of(&runner).iter().map(|variant| variant.name).collect()
    };
    let few = ["as-rules", "longer", "rest-before", "long-shallow", "long-deep"].map(VariantName::from_code);
    let few: Vec<VariantName> = few.into_iter().flatten().collect();
    assert_eq!(names(["5", "tempo 2, hard 0.8", "5", "fartlek 5, hard 2", "3", "long 10", "rest"], 3), few);
    assert_eq!(names(["17", "tempo 15 km", "5", "rest", "rest", "long 14", "5"], 2), few);
}

#[test]
fn the_rules_come_first_and_what_suits_second() {
    let runner = Runner {
        athlete: planning::Athlete {
            name: "Ana".into(),
            suits: Suits { days: Some(13), day_before: Some(DayBefore::Rest), extra_rest: Some(chrono::Weekday::Thu) },
            ..Default::default()
        },
        week: planning::notation::read_week(
            &["8", "tempo 12", "10", "10", "7", "6", "long 18"],
            "",
            planning::DistanceUnit::Km,
        )
        .unwrap(),
        race: weeks::race_on(weeks::monday() + chrono::Days::new(6), planning::RaceDistance::TenK),
    };
    let found = of(&runner);
    assert_eq!(found[0].name, VariantName::AsRules);
    assert_eq!((found[0].block.curve.length, found[1].name), (10, VariantName::AsSuits));
    assert_eq!(found[1].block.curve.length, 13);
    let mut plain = runner.clone();
    plain.athlete.suits = Suits::default();
    assert_eq!(sessions(&found[0].block), sessions(&plain.block()), "nothing that was noted shines through");
}

#[test]
fn names_read_back_from_their_codes() {
    for name in VariantName::ALL {
        assert_eq!(VariantName::from_code(name.code()), Some(name));
    }
    assert_eq!(VariantName::from_code("best"), None);
}
