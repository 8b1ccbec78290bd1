//! Two rest days side by side that are not so in the base week.

use super::look::Look;
use super::{Figure, Finding, Level, RuleId};
use crate::block::{Day, Life, Reason};
use crate::life::LifeEvent;
use crate::week::WEEKDAYS;

/// Fires once for each row of rest days inside the block that is longer than any row of days without running in the base
/// week, whatever else these hold, as long as the block made it. A day without running because of an illness or injury is nobody's choice, and a run that the coach left to the athlete is one that may
/// be missing in any week: neither is told.
///
/// # Source
///
/// Common practice, no published source: routine is kept.
pub(super) fn judge(look: &Look<'_>) -> Vec<Finding> {
    let days: Vec<_> = look.block_days().collect();
    let usual = usual_row(look);
    let is_told = |pair: &[&Day]| {
        let usually_runs = |day: &&&Day| !day.usual_running().is_empty();
        pair.iter().all(|day| day.is_rest())
            && pair.iter().filter(usually_runs).any(|day| !day.is_usually_optional())
            && !pair.iter().filter(usually_runs).any(|day| is_kept_by_health(look, day))
    };
    let told: Vec<bool> = days.windows(2).map(is_told).collect();
    let mut found = Vec::new();
    let mut from = 0;
    while from < told.len() {
        let pairs = told[from..].iter().take_while(|told| **told).count();
        let row = u16::try_from(pairs + 1).unwrap_or(u16::MAX);
        if pairs > 0 && row > usual {
            let finding = Finding::new(RuleId::RestClumped, Level::Caution, Figure::Days(row), Figure::Days(usual));
            found.push(finding.on(days[from].date));
        }
        from += pairs + 1;
    }
    found
}

/// How many days without running stand side by side in the base week, round its end too; one at the least.
fn usual_row(look: &Look<'_>) -> u16 {
    let weeks = || look.subject.week.weeks().flat_map(|week| WEEKDAYS.map(|weekday| !week.runs_on(weekday)));
    let (mut most, mut row) = (1, 0);
    for rests in weeks().chain(weeks()) {
        row = if rests { row + 1 } else { 0 };
        most = most.max(row);
    }
    most
}

/// Whether an illness or injury that was noted keeps the athlete from running on a day, or has taken its running.
fn is_kept_by_health(look: &Look<'_>, day: &Day) -> bool {
    let covers = |event: &LifeEvent| event.kind.may_be_open() && event.covers(day.date);
    let took = |why: &Reason| {
        matches!(why, Reason::Life(Life::Ill | Life::Fever | Life::Injured | Life::WellAgain | Life::HealedAgain))
    };
    let lost = day.dropped.iter().filter(|dropped| dropped.usual.running().is_some());
    look.subject.events.iter().any(covers) || lost.flat_map(|dropped| &dropped.why).any(took)
}

#[cfg(test)]
mod tests {
    use crate::life::EventKind;
    use crate::race::RaceDistance;
    use crate::review::RuleId;
    use crate::review::sample::{SILENT, Sample, WEEK};

    fn said(sample: &Sample) -> Vec<String> {
        sample.says(RuleId::RestClumped)
    }

    #[test]
    fn rest_days_side_by_side_are_told_once_for_each_row() {
        let half = || Sample::new(WEEK, RaceDistance::Half);
        assert_eq!(said(&half()), SILENT);
        // Friday is rest anyway.
        assert_eq!(said(&half().resting([8])), ["caution: 2 days for 1 days on D9"]);
        assert_eq!(said(&half().resting([10])), ["caution: 3 days for 1 days on D11"]);
    }

    #[test]
    fn an_optional_run_that_is_left_out_beside_a_rest_day_is_not_told() {
        let half = |line: &str| {
            Sample::new(
                &format!("rest | tempo 9, hard 4 | rest | {line} | rest | easy 7 | long 16"),
                RaceDistance::Half,
            )
        };
        assert_eq!(said(&half("easy 8 (or off)").resting([10])), SILENT);
        assert_eq!(said(&half("easy 8 (with Jo)").resting([10])).len(), 1);
    }

    #[test]
    fn days_of_an_illness_or_injury_are_not_told_in_whichever_week_they_stand() {
        let daily = "easy 7 | tempo 9, hard 4 | easy 7 | easy 8 | easy 7 | easy 7 | long 16";
        let resting = |from: i64, to: i64| {
            let days = (to..=from).filter_map(|day| u16::try_from(day).ok());
            Sample::new(daily, RaceDistance::Half).uncut().resting(days)
        };
        for kind in EventKind::ALL {
            for from in 4..=13 {
                for to in 3..from {
                    let noted = resting(from, to).event(kind, from, to);
                    assert_eq!(said(&noted).is_empty(), kind.may_be_open(), "{kind:?} from D{from} to D{to}");
                }
            }
        }
        let other_days = resting(12, 11).event(EventKind::Injury, 9, 8);
        assert_eq!(said(&other_days), ["caution: 2 days for 1 days on D12"]);
    }

    #[test]
    fn rest_days_that_always_stand_side_by_side_may_stay() {
        let weekend_off = "tempo 9, hard 4 | easy 8 | easy 8 | easy 8 | easy 8 | - | -";
        assert_eq!(said(&Sample::new(weekend_off, RaceDistance::Half).uncut()), SILENT);
    }

    #[test]
    fn whoever_always_has_two_days_without_running_side_by_side_is_used_to_it_on_other_days() {
        // A walk on Sunday, rest on Monday.
        let week = "- | tempo 9, hard 4 | easy 8 | - | easy 7 | long 16 | walk 60 min";
        let half = || Sample::new(week, RaceDistance::Half);
        assert_eq!(said(&half()), SILENT);
        assert_eq!(said(&half().resting([11])), SILENT);
        assert_eq!(said(&half().resting([11, 9])), ["caution: 3 days for 2 days on D11"]);
    }

    #[test]
    fn rest_apart_is_no_clump_and_strength_alone_is_rest() {
        let six = "easy 7 | tempo 9, hard 4 | easy 7 | easy 8 | - | easy 7 | long 16";
        let half = || Sample::new(six, RaceDistance::Half).uncut();
        assert_eq!(said(&half().resting([11])), SILENT);
        assert_eq!(said(&half().with(8, "strength 30")), ["caution: 2 days for 1 days on D9"]);
    }
}
