//! Something that the athlete does not usually do.

use super::look::Look;
use super::{About, Figure, Finding, Level, RuleId};
use crate::block::Day;
use crate::session::{Kind, Session};
use crate::units::middle_km;
use crate::week::WEEKDAYS;

/// Fires for each kind of session and each second run that the base week does not know. Easy running
/// and strides are known to everybody, and so is rest.
///
/// # Source
///
/// Common practice, no published source: nothing new before a race.
pub(super) fn judge(look: &Look<'_>) -> Vec<Finding> {
    let known = &known_kinds(look);
    let new_kinds = look.block_days().flat_map(|day| {
        let kinds = day.sessions.iter().map(|planned| planned.session.kind);
        kinds.filter(|kind| !known.contains(kind)).map(|kind| finding(day).about(About::Kind(kind)))
    });
    new_kinds.chain(new_doubles(look)).collect()
}

/// Days with more runs than any day of the base week, and second runs on other weekdays than usual in a
/// week that holds more of them than the base week. One that only moved to another day is not new.
fn new_doubles(look: &Look<'_>) -> Vec<Finding> {
    let usual = |day: &Day| usual_runs(day).max(1);
    let most = look.block.days.iter().map(usual).max().unwrap_or(1);
    let mut found = Vec::new();
    for week in look.block.days.chunks(7) {
        let usually: usize = week.iter().map(|day| usual(day) - 1).sum();
        let planned: usize = week.iter().map(|day| planned_runs(day).saturating_sub(1)).sum();
        let is_new = |day: &&Day| {
            let runs = planned_runs(day);
            runs > most || (planned > usually && runs > usual(day))
        };
        found.extend(
            week.iter()
                .filter(|day| look.is_block_day(day))
                .filter(is_new)
                .map(|day| finding(day).about(About::SecondRun)),
        );
    }
    found
}

fn finding(day: &Day) -> Finding {
    Finding::new(RuleId::SomethingNew, Level::Caution, Figure::None, Figure::None).on(day.date)
}

/// The kinds that the base week knows, some more than once.
fn known_kinds(look: &Look<'_>) -> Vec<Kind> {
    let mut known = vec![Kind::Rest, Kind::Easy, Kind::Recovery, Kind::Strides];
    let stands_for_a_long_run = |session: &Session| {
        session.running().is_some_and(|amount| middle_km(amount, look.pace) >= look.lengths.long_from)
    };
    let weeks = look.subject.week.weeks();
    for slot in weeks.flat_map(|week| WEEKDAYS.into_iter().flat_map(|weekday| week.day(weekday))) {
        for session in slot.options() {
            known.push(session.kind);
            if stands_for_a_long_run(session) {
                known.push(Kind::Long);
            }
            // The same efforts on the flat, and the hard part of a long run on its own.
            match session.kind {
                Kind::Hills => known.push(Kind::Intervals),
                Kind::Long if session.is_hard() => known.push(Kind::RacePace),
                _ => {}
            }
        }
    }
    known
}

fn planned_runs(day: &Day) -> usize {
    day.sessions.iter().filter(|planned| planned.session.running().is_some()).count()
}

fn usual_runs(day: &Day) -> usize {
    day.usual.iter().filter(|session| session.running().is_some()).count()
}

#[cfg(test)]
mod tests {
    use crate::race::RaceDistance;
    use crate::review::RuleId;
    use crate::review::sample::{SILENT, Sample, WEEK};

    fn said(week: &str, line: &str) -> Vec<String> {
        Sample::new(week, RaceDistance::Half).with(8, line).says(RuleId::SomethingNew)
    }

    #[test]
    fn kinds_that_the_base_week_does_not_know_are_new() {
        for (line, kind) in [
            ("fartlek 7, hard 2", "fartlek"),
            ("hills 7, hard 2", "hills"),
            ("race pace 7, hard 2", "race-pace"),
            ("easy 7 + strength 20", "strength"),
            ("cross-training 40", "cross-training"),
        ] {
            assert_eq!(said(WEEK, line), [format!("caution: nothing for nothing on D8 ({kind})")]);
        }
    }

    #[test]
    fn kinds_of_the_base_week_and_easy_running_are_known() {
        for line in ["tempo 7, hard 2", "long 7", "easy 7", "recovery 5", "strides 5", "rest", "rest (pack your bag)"] {
            assert_eq!(said(WEEK, line), SILENT, "{line}");
        }
    }

    #[test]
    fn a_long_run_is_known_whatever_the_base_week_calls_it() {
        let long = "- | tempo 9, hard 4 | - | easy 8 | - | easy 7 | easy 16";
        assert_eq!(said(long, "long 7"), SILENT);
        let even = "- | tempo 9, hard 4 | - | easy 8 | - | easy 9 | easy 10";
        assert_eq!(said(even, "long 7"), ["caution: nothing for nothing on D8 (long)"]);
    }

    #[test]
    fn every_alternative_of_a_slot_is_known() {
        let week = "- | tempo 9 or fartlek 9 | - | easy 8 | - | easy 7 | long 16";
        assert_eq!(said(week, "fartlek 7, hard 2"), SILENT);
    }

    #[test]
    fn hills_on_the_flat_and_the_pace_of_a_long_run_are_known() {
        let hills = "- | hills 9, hard 2 | - | easy 8 | - | easy 7 | long 16";
        assert_eq!(said(hills, "intervals 7, hard 2"), SILENT);
        let pace_in_long = "- | easy 9 | - | easy 8 | - | easy 7 | long 16, hard 6";
        assert_eq!(said(pace_in_long, "race pace 7, hard 2"), SILENT);
    }

    #[test]
    fn a_second_run_is_new_where_the_day_has_one_run() {
        assert_eq!(said(WEEK, "easy 4 + easy 3"), ["caution: nothing for nothing on D8 (second run)"]);
        let doubles = "- | tempo 9 | - | easy 8 | - | easy 7 + easy 5 | long 16";
        assert_eq!(said(doubles, "easy 4 + easy 3"), SILENT);
        assert_eq!(said(doubles, "easy 4 + easy 3 + easy 3"), ["caution: nothing for nothing on D8 (second run)"]);
    }

    #[test]
    fn what_only_moved_to_another_weekday_is_not_new() {
        // Saturday's second run on Thursday, Tuesday's tempo on Saturday, strength a day later.
        let week = "strength 20 | tempo 9, hard 4 | - | easy 8 | - | easy 7 + easy 5 | long 16";
        let half = || Sample::new(week, RaceDistance::Half);
        let moved = half().with(10, "easy 7 + easy 5").with(8, "tempo 7, hard 3").with(12, "strength 20");
        assert_eq!(moved.says(RuleId::SomethingNew), SILENT);
        let one_more = half().with(10, "easy 7 + easy 5").with(8, "easy 7 + easy 5");
        assert_eq!(one_more.says(RuleId::SomethingNew), ["caution: nothing for nothing on D10 (second run)"]);
        let in_another_week = half().with(3, "easy 4 + easy 3").with(8, "easy 7 + easy 5").with(1, "easy 4");
        assert_eq!(in_another_week.says(RuleId::SomethingNew), SILENT);
    }
}
