//! Who it is for.

use planning::DistanceUnit::{Km, Mi};
use planning::RaceDistance::{FiveK, Half, Marathon, TenK};
use planning::{About, BaseWeek, Field, Level, ProblemKind, Request, RuleId, Unit, plan};

use crate::runner::{key_day, of, on, runner, sessions, show, sum, within};

#[test]
fn a_beginner_keeps_the_rhythm_and_runs_no_longer_than_before() {
    let beginner = runner(Km, FiveK, "- | 30 min | - | 30 min | - | - | 30 min");
    for other in beginner.on_every_weekday().chain([beginner.at_percent(85), beginner.at_percent(120)]) {
        let longest = other.week.sessions().map(|(_, session)| session.running_middle()).max();
        let block = other.block();
        assert!(sessions(&block).all(|(_, session)| Some(session.running_middle()) <= longest), "{}", show(&block));
        assert!(sessions(&block).all(|(_, session)| !session.is_hard()), "no pace work");
        let days: Vec<u16> = sessions(&block).map(|(day, _)| day.to_race).filter(|day| *day < 7).collect();
        assert_eq!(days, [5, 3], "every other day, the last two at rest\n{}", show(&block));
        let race_week = block.weeks().pop().expect("race week");
        // A third to a fifth less; minutes are written by fives, an eighth of such a run.
        within(race_week.same_days_share.0, 0.60, 0.88, &block);
        assert!(other.says(RuleId::BaseTooThin), "there is little to taper from");
    }
    // Two patchy weeks behind: told, and not made up for.
    let mut patchy = beginner.clone();
    patchy.week = patchy.week.run_since(Some(patchy.race.date - chrono::Days::new(28)));
    assert_eq!(patchy.block().weeks(), beginner.block().weeks());
    let told = patchy.findings(&patchy.block());
    assert_eq!(told.iter().filter(|finding| finding.rule == RuleId::BaseTooThin).count(), 2, "{told:?}");
}

#[test]
fn age_alone_changes_nothing_and_what_hurts_is_said() {
    let week = "10 | tempo 14, hard 6 | 10 | 14 | - | 8 | long 24";
    let mut sore = runner(Km, Marathon, week).aged(52);
    sore.athlete.cautions = vec!["hip and heel sore".into()];
    let today = sore.race.date - chrono::Days::new(14);
    let late = Request { today: Some(today), begun: Some(planning::Begun { on: today, days: &[] }), ..sore.request() };
    let block = plan(&late).expect("a block");
    assert_eq!(block.first_day(), sore.race.date - chrono::Days::new(14), "no lost week is squeezed in");
    within(sum(&block, 1..=6, Unit::Km) / 80.0, 0.20, 0.36, &block);
    let race_week = block.weeks().pop().expect("race week");
    assert_eq!(race_week.run_days + 1, race_week.usual_run_days - 1, "one extra rest day\n{}", show(&block));
    // The larger end of the cut stands among the variants, one click away.
    let offered = planning::variants(&late).expect("variants");
    let deeper = offered.iter().find(|variant| variant.name == planning::VariantName::Soonest).expect("a deeper one");
    within(sum(&deeper.block, 7..=13, Unit::Km) / 80.0, 0.45, 0.60, &deeper.block);
    within(sum(&deeper.block, 1..=6, Unit::Km) / 80.0, 0.20, 0.35, &deeper.block);
    let said = sore.findings(&block);
    let caution = said.iter().find(|finding| finding.rule == RuleId::PersonCaution).expect("a caution");
    assert_eq!((caution.level, &caution.about), (Level::Caution, &About::Noted("hip and heel sore".to_owned())));
    for distance in [FiveK, TenK, Half, Marathon] {
        for age in [18, 35, 52, 70] {
            let mut plain = runner(Km, distance, week);
            let unknown = plain.block();
            plain = plain.aged(age);
            assert_eq!(plain.block(), unknown, "{age}");
        }
    }
}

#[test]
fn a_school_runner_is_cut_little_and_not_for_long() {
    let young = runner(Mi, FiveK, "6 | 5 x 800 m, 8 | 7 | tempo 7, hard 3 | 4 | - | long 10").aged(16);
    let mut saturday = runner(Mi, FiveK, "6 | tempo 7, hard 3 | 5 x 800 m, 8 | 6 | 5 | long 10 | -").aged(16);
    saturday.race.date = saturday.race.date - chrono::Days::new(1);
    for other in young.on_every_weekday().chain([80, 120].map(|percent| saturday.at_percent(percent))) {
        let block = other.block();
        within(f64::from(block.curve.length), 7.0, 10.0, &block);
        let race_week = block.weeks().pop().expect("race week");
        within(1.0 - race_week.same_days_share.0, 0.10, 0.36, &block);
        assert_eq!(race_week.run_days + 1, race_week.usual_run_days, "no day is taken from the young");
        assert!(other.says(RuleId::PersonCaution));
    }
    let block = saturday.block();
    within(1.0 - block.weeks().pop().expect("race week").same_days_share.0, 0.10, 0.255, &block);
    let day_before = on(&block, 1);
    assert!(day_before.sessions.iter().all(|planned| planned.role == planning::Role::ShakeOut), "{}", show(&block));
    within(of(&block, 1), 2.0, 3.0, &block);
    assert!(matches!(key_day(&block), Some(3..=5)), "one moderate session\n{}", show(&block));
}

#[test]
fn without_any_base_nothing_is_divided_and_nothing_made_up() {
    for week in ["- | - | - | - | - | - | -", "strength 30 | - | mobility | - | - | - | -"] {
        for distance in [FiveK, TenK, Half, Marathon] {
            let broken = runner(Km, distance, week).days(10);
            let problems = plan(&broken.request()).expect_err("there is nothing to plan from");
            assert_eq!(problems.len(), 1, "{problems:?}");
            assert_eq!((&problems[0].at, &problems[0].kind), (&Field::BaseWeek, &ProblemKind::EmptyWeek));
        }
    }
    // The least that is anything is planned without a number that is none.
    let least = runner(Km, FiveK, "- | - | 2 | - | - | - | -").block();
    assert!(least.cut().share.0.is_finite() && least.weeks().iter().all(|week| week.share.0.is_finite()));
    assert_eq!(BaseWeek::default().running_days(), 0);
}
