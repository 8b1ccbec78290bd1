//! Hard running disappears.

use super::excused::is_bent_by_life;
use super::look::{Look, is_hard};
use super::{About, Figure, Finding, Level, RuleId};
use crate::block::{Block, WeekSummary};
use crate::curve::{Settings, curve_for};
use crate::race::Event;
use crate::units::Share;

/// In a full week at least this part of the usual hard running stays.
///
/// # Source
///
/// Common practice, no published source. That intensity is kept is published: Bosquet and others
/// 2007, doi 10.1249/mss.0b013e31806010e0; Mujika and Padilla 2003, PubMed 12840640.
pub const LEAST: Share = Share(0.70);

/// Where the rules themselves leave less, as of a week with three hard sessions, so many points less are no loss yet.
///
/// # Source
///
/// Common practice, no published source.
const TOLERANCE: f64 = 0.05;

/// The days on which the last hard running before the race stands.
const LAST_HARD: std::ops::RangeInclusive<u16> = 3..=6;

/// Whoever made the block, the rules, the coach or what happened on the way, it fires
///
/// - (note) when a full week before race week holds less than 70 % of the usual hard running; where the block that the
///   rules give this athlete for this race in as many days holds less than that itself, below its share less five points;
/// - (caution) when the base week has hard running and D6 to D3 hold none, unless the rules leave none there either;
///   (note) where an illness, a journey or the like took it. Beyond the marathon that is as the rules say.
pub(super) fn judge(look: &Look<'_>) -> Vec<Finding> {
    if !look.usually_hard() {
        return Vec::new();
    }
    let full = look.weeks.iter().filter(|week| week.before > 0 && week.hard_share < LEAST && !is_left_alone(look));
    let mut found: Vec<Finding> = full.filter_map(|week| lost_in(look, week)).collect();
    let days = || look.block.days.iter().filter(|day| LAST_HARD.contains(&day.to_race));
    let runs = days().any(|day| !day.usual_running().is_empty() && !day.is_usually_optional());
    if runs && !days().any(is_hard) && look.block.event != Event::Longer && holds_last_hard_by_the_rules(look) {
        let took = days().any(is_bent_by_life);
        let (level, about) = if took { (Level::Note, About::RaceWeek) } else { (Level::Caution, About::Nothing) };
        found.push(Finding::new(RuleId::IntensityLost, level, Figure::Count(0), Figure::Count(1)).about(about));
    }
    found
}

/// Whether the block is as the rules made it in its days: then it holds what they leave, and need not be planned once more
/// to see that. Most blocks of a race are, and planning is most of what a review costs.
fn is_left_alone(look: &Look<'_>) -> bool {
    let block = look.block;
    let settings = Settings { days: Some(block.curve.length), ..Settings::default() };
    let by_the_rules = || curve_for(look.subject.athlete, look.subject.week, &block.race, &settings).0;
    !block.days.iter().any(|day| day.pinned || is_bent_by_life(day)) && block.curve == by_the_rules()
}

/// What is said of a full week that holds less than 70 %.
fn lost_in(look: &Look<'_>, week: &WeekSummary) -> Option<Finding> {
    let weeks = look.by_the_rules_as_long().map(Block::weeks).unwrap_or_default();
    let same = weeks.into_iter().find(|ruled| ruled.before == week.before);
    let by_the_rules = same.map(|ruled| ruled.hard_share).filter(|share| *share < LEAST);
    let is_lost = by_the_rules.is_none_or(|ruled| week.hard_share.0 < ruled.0 - TOLERANCE - ROUNDING);
    let limit = Figure::Share(by_the_rules.unwrap_or(LEAST));
    let finding = || Finding::new(RuleId::IntensityLost, Level::Note, Figure::Share(week.hard_share), limit);
    is_lost.then(|| finding().on(week.from))
}

/// Whether the rules leave hard running in race week: not right after another race.
fn holds_last_hard_by_the_rules(look: &Look<'_>) -> bool {
    let holds = |block: &Block| block.days.iter().any(|day| LAST_HARD.contains(&day.to_race) && is_hard(day));
    look.by_the_rules_as_long().is_none_or(holds)
}

/// Shares closer than this are the same.
const ROUNDING: f64 = 1e-9;

#[cfg(test)]
mod tests {
    use crate::life::EventKind;
    use crate::race::RaceDistance;
    use crate::replan::{Happened, replan};
    use crate::review::RuleId;
    use crate::review::sample::{FIFTY_KM, SILENT, Sample, WEEK};

    fn said(sample: &Sample) -> Vec<String> {
        sample.says(RuleId::IntensityLost)
    }

    /// The same with its days fixed, as whoever changes one by hand fixes it.
    fn bent(mut sample: Sample) -> Sample {
        sample.block.days.iter_mut().for_each(|day| day.pinned = true);
        sample
    }

    fn half() -> Sample {
        Sample::new(WEEK, RaceDistance::Half)
    }

    #[test]
    fn seventy_per_cent_of_the_hard_running_of_a_full_week_are_enough() {
        assert_eq!(said(&bent(half().with(12, "tempo 9, hard 2.8"))), SILENT);
        assert_eq!(said(&bent(half().with(12, "tempo 9, hard 2.7"))), ["note: 67.5 % for 70.0 % on D13"]);
    }

    #[test]
    fn what_the_rules_themselves_take_off_is_not_held_against_the_block() {
        // Three hard sessions and a hard part of the long run: two stay.
        let week = "8 | tempo 10, hard 5 | 8 | intervals 10, hard 4 | - | fartlek 10, hard 4 | long 28, hard 8";
        let marathon = || Sample::new(week, RaceDistance::Marathon);
        let shares = marathon().block.weeks();
        assert!(shares.iter().any(|week| week.before > 0 && week.hard_share.0 < 0.70), "{shares:?}");
        assert_eq!(said(&marathon()), SILENT);
        // Nor is it up to five points less, whoever took them; one kilometre of 21 is nearly five.
        let hard = |km: f64| bent(marathon().with(12, &format!("tempo 9, hard {km}")));
        let as_planned =
            marathon().block.day(marathon().race.date - chrono::Days::new(12)).unwrap().sessions[0].clone();
        let planned = as_planned.session.hard_middle().as_f64();
        assert_eq!(said(&hard(planned - 1.0)), SILENT);
        assert_eq!(said(&hard(planned - 1.5)), ["note: 26.2 % for 33.3 % on D13"]);
        assert_eq!(said(&bent(marathon().with(12, "easy 6"))), ["note: 14.3 % for 33.3 % on D13"]);
    }

    #[test]
    fn what_an_illness_takes_is_said_too_and_of_race_week_as_a_note() {
        let ill = |from, to| {
            let sample = half().event(EventKind::Illness { fever: false }, from, to);
            let happened = Happened { events: &sample.events, excess: None };
            let block = replan(&sample.block, &sample.athlete, &sample.week, &happened).expect("events that can be");
            said(&Sample { block, ..sample })
        };
        assert_eq!(ill(13, 11), ["note: 0.0 % for 70.0 % on D13"]);
        assert_eq!(ill(6, 5), ["note: 0 for 1"]);
    }

    #[test]
    fn from_d6_to_d3_there_is_hard_running() {
        assert_eq!(said(&half()), SILENT);
        assert_eq!(said(&half().with(5, "easy 5")), ["caution: 0 for 1"]);
        assert_eq!(said(&half().with(5, "easy 5").with(6, "tempo 5, hard 1")), SILENT);
        assert_eq!(said(&half().with(5, "easy 5").with(3, "tempo 5, hard 1")), SILENT);
        assert_eq!(said(&half().with(5, "easy 5").with(2, "tempo 5, hard 1")), ["caution: 0 for 1"]);
    }

    #[test]
    fn beyond_the_marathon_none_is_needed_in_race_week() {
        let sample = Sample::new(WEEK, FIFTY_KM).with(12, "tempo 7, hard 3").with(5, "easy 5");
        assert_eq!(said(&sample), SILENT);
    }

    #[test]
    fn where_nothing_is_run_on_those_days_none_is_missed() {
        let sample = Sample::new("- | - | - | - | easy 10 | tempo 8, hard 3 | long 16", RaceDistance::Half);
        assert_eq!(said(&sample.with(8, "tempo 8, hard 3")), SILENT);
    }

    #[test]
    fn touches_of_quick_running_are_not_missed() {
        let week = |line: &str| format!("- | {line} | - | easy 8 | - | easy 7 | long 16");
        let eased = |line: &str| Sample::new(&week(line), RaceDistance::Half).with(12, "easy 6").with(5, "easy 5");
        let eased = |line: &str| bent(eased(line));
        assert_eq!(said(&eased("5 km with 5 x 1 min brisk")), SILENT);
        assert_eq!(said(&eased("5 km with 6 x 1 min brisk")), ["caution: 0 for 1", "note: 0.0 % for 70.0 % on D13"]);
    }

    #[test]
    fn a_week_without_hard_running_or_with_a_time_trial_alone_loses_nothing() {
        let easy = "- | easy 9 | - | easy 8 | - | easy 7 | long 16";
        assert_eq!(said(&Sample::new(easy, RaceDistance::Half)), SILENT);
        let trial = "- | easy 9 | - | easy 8 | - | time trial 7, hard 5 | long 16";
        assert_eq!(said(&Sample::new(trial, RaceDistance::Half)), SILENT);
    }
}
