use std::io::Write;
use std::process::{Command, Stdio};

use proptest::prelude::*;

use super::*;
use crate::units::Unit;

fn choice(middles: &[i32], reference: i32, usual: i32, weight: u64) -> Choice {
    let amounts = middles.iter().map(|middle| Amount::exact(Milli(*middle), Unit::Km)).collect();
    Choice { amounts, reference: Milli(reference), usual: Milli(usual), weight }
}

/// One session: steps of 0.5 up to 5, whole ones above, and sometimes the usual as it was typed.
fn any_choice() -> impl Strategy<Value = Choice> {
    let typed = prop_oneof![Just(None), (2_001..20_000_i32).prop_map(Some)];
    (2..16_i32, 1..6_i32, typed, 1_500..22_000_i32, prop_oneof![Just(1_u64), Just(3)]).prop_map(
        |(from, count, typed, reference, weight)| {
            let grid = (from..).map(|half| half * 500).filter(|middle| *middle <= 5_000 || middle % 1_000 == 0);
            let mut middles: Vec<i32> = grid.take(count as usize).chain(typed).collect();
            middles.sort_unstable();
            middles.dedup();
            choice(&middles, reference, middles[middles.len() - 1], weight)
        },
    )
}

/// A week of sessions, and sums that may lie anywhere around what they can reach.
fn any_week(sessions: std::ops::Range<usize>) -> impl Strategy<Value = (Vec<Choice>, RangeInclusive<Milli>)> {
    (prop::collection::vec(any_choice(), sessions), 0.0..1.0_f64, 0..2_000_i32).prop_map(|(choices, part, width)| {
        let ends = |end: fn(&Choice) -> i64| choices.iter().map(end).sum::<i64>();
        let least = ends(|choice| choice.middle(0)) - 1_000;
        let most = ends(|choice| choice.middle(choice.amounts.len() - 1)) + 1_000;
        let low = least + ((most - least) as f64 * part) as i64;
        (choices, Milli(low as i32)..=Milli(low as i32 + width))
    })
}

fn sum(choices: &[Choice], picks: &[usize]) -> i64 {
    choices.iter().zip(picks).map(|(choice, pick)| choice.middle(*pick)).sum()
}

fn cost(choices: &[Choice], picks: &[usize]) -> u64 {
    choices.iter().zip(picks).map(|(choice, pick)| choice.cost(*pick)).sum()
}

fn off(sums: &RangeInclusive<Milli>, sum: i64) -> i64 {
    (i64::from(sums.start().0) - sum).max(sum - i64::from(sums.end().0)).max(0)
}

/// The best of all picks, looked at one by one: sum nearest to the ends, then cost, then the smaller sum,
/// then less nearer the race.
pub(in crate::block) fn by_looking_at_all(choices: &[Choice], sums: &RangeInclusive<Milli>) -> Vec<usize> {
    let mut picks = vec![0; choices.len()];
    let mut best: Option<((i64, u64, i64), Vec<usize>)> = None;
    loop {
        let sum = sum(choices, &picks);
        let rank = (off(sums, sum), cost(choices, &picks), sum);
        let nearer_the_race = |a: &[usize], b: &[usize]| a.iter().rev().lt(b.iter().rev());
        let is_better =
            best.as_ref().is_none_or(|(so_far, by)| rank < *so_far || (rank == *so_far && nearer_the_race(&picks, by)));
        if is_better {
            best = Some((rank, picks.clone()));
        }
        // The next pick, as a number is counted up.
        let Some(place) = (0..picks.len()).find(|place| picks[*place] + 1 < choices[*place].amounts.len()) else {
            return best.map(|(_, picks)| picks).unwrap_or_default();
        };
        picks[..place].fill(0);
        picks[place] += 1;
    }
}

proptest! {
    #![proptest_config(crate::how_many::cases(4000))]

    #[test]
    fn nothing_better_is_found_by_looking_at_all_picks((choices, sums) in any_week(1..6)) {
        prop_assert_eq!(solve(&choices, sums.clone()), by_looking_at_all(&choices, &sums));
    }
}

#[test]
fn no_session_at_all_has_one_pick() {
    assert_eq!(solve(&[], Milli(5_000)..=Milli(6_000)), Vec::<usize>::new());
}

#[test]
fn what_is_cut_is_cut_where_it_costs_least() {
    let week = [choice(&[4_000, 5_000], 5_000, 5_000, 1), choice(&[9_000, 10_000], 10_000, 10_000, 1)];
    assert_eq!(solve(&week, Milli(14_000)..=Milli(14_000)), [1, 0], "a kilometre off ten hurts less than off five");
    let hard = [week[0].clone(), Choice { weight: 3, ..week[1].clone() }];
    assert_eq!(solve(&hard, Milli(14_000)..=Milli(14_000)), [0, 1], "unless the ten are hard");
}

#[test]
fn equals_are_cut_nearer_the_race() {
    let week = [choice(&[5_000, 6_000], 6_000, 6_000, 1), choice(&[5_000, 6_000], 6_000, 6_000, 1)];
    assert_eq!(solve(&week, Milli(11_000)..=Milli(11_000)), [1, 0]);
}

#[test]
fn the_most_and_the_oddest_that_can_be_typed_is_solved() {
    // 28 sessions of nearly 400 km, each an odd number of metres more than a whole one: tried one by one, their
    // sums would take for ever.
    let week: Vec<Choice> = (0..28)
        .map(|session| {
            let usual = 399_001 + session * 37;
            let middles: Vec<i32> = (3..399).map(|km| km * 1_000).chain([usual]).collect();
            choice(&middles, usual * 6 / 10, usual, 1)
        })
        .collect();
    let target: i32 = week.iter().map(|choice| choice.reference.0).sum();
    for sums in [target - 300_000..=target - 290_000, 0..=10_000, 20_000_000..=20_000_001] {
        let sums = Milli(*sums.start())..=Milli(*sums.end());
        assert_eq!(solve(&week, sums).len(), 28);
    }
}

/// Whole weeks against an integer solver that we did not write. `cargo xtask reference` installs it
/// and runs this with its interpreter; what each side does is said in `tests/reference/README.md`.
#[test]
#[ignore = "needs the outside solver: cargo xtask reference"]
fn an_outside_solver_finds_nothing_cheaper() {
    use proptest::strategy::ValueTree;
    use proptest::test_runner::TestRunner;

    let mut runner = TestRunner::deterministic();
    let weeks: Vec<_> = (0..400).map(|_| any_week(3..15).new_tree(&mut runner).unwrap().current()).collect();
    let (answers, its_time) = ask_the_outside_solver(&weeks);
    // A stopwatch, not a clock: what both take for the same weeks, side by side.
    let begin = std::time::Instant::now();
    for (choices, sums) in &weeks {
        std::hint::black_box(solve(choices, sums.clone()));
    }
    let our_time = begin.elapsed().as_secs_f64();
    println!(
        "{} weeks: outside solver {its_time:.3} s, ours {our_time:.3} s as compiled here ({})",
        weeks.len(),
        if cfg!(debug_assertions) { "for tests, not for speed" } else { "for speed" }
    );
    assert_eq!(answers.len(), weeks.len(), "one answer a week");
    let mut solved = 0;
    for ((choices, sums), answer) in weeks.iter().zip(answers) {
        let picks = solve(choices, sums.clone());
        let ours = (off(sums, sum(choices, &picks)) == 0).then(|| cost(choices, &picks));
        assert_eq!(ours, answer, "{choices:?} {sums:?}: ours on the left");
        solved += usize::from(ours.is_some());
    }
    assert!(solved > 200, "only {solved} weeks could be solved at all: the weeks prove little");
}

/// The least cost of each week, nothing where no sum lies between the ends; and its seconds for all of them.
fn ask_the_outside_solver(weeks: &[(Vec<Choice>, RangeInclusive<Milli>)]) -> (Vec<Option<u64>>, f64) {
    let python = std::env::var_os("EBBLINE_REFERENCE_PYTHON").expect("run by cargo xtask reference");
    let script = concat!(env!("CARGO_MANIFEST_DIR"), "/../../tests/reference/allocation.py");
    let mut solver =
        Command::new(python).arg(script).stdin(Stdio::piped()).stdout(Stdio::piped()).spawn().expect("it starts");
    let mut questions = Vec::new();
    for (choices, sums) in weeks {
        let sessions: Vec<Vec<(i64, u64)>> = choices
            .iter()
            .map(|choice| (0..choice.amounts.len()).map(|pick| (choice.middle(pick), choice.cost(pick))).collect())
            .collect();
        writeln!(questions, "{:?}", (sums.start().0, sums.end().0, sessions)).expect("memory");
    }
    // All questions are read before the first answer is written, so neither side waits for the other.
    solver.stdin.take().expect("a pipe").write_all(&questions).expect("it listens");
    let output = solver.wait_with_output().expect("it ends");
    assert!(output.status.success(), "the outside solver failed");
    let answers = String::from_utf8(output.stdout).expect("text");
    let mut lines: Vec<&str> = answers.lines().collect();
    let seconds = lines.pop().and_then(|line| line.strip_prefix("seconds ")).expect("the time at the end");
    let cost = |line: &str| (line != "none").then(|| line.parse().expect("a number"));
    (lines.into_iter().map(cost).collect(), seconds.parse().expect("seconds"))
}
