//! An extra rest day is due in race week, and there is none.

use chrono::NaiveDate;

use super::look::Look;
use super::{About, Figure, Finding, Level, RuleId};
use crate::block::Day;

/// Fires (note) when race week, the race counted as a run, has no running day less than usual though
/// one is due, on the day that would rest but for the coach, where there is one: from five running days (half marathon and longer) or seven (up to 10 miles).
///
/// # Source
///
/// Common practice, no published source.
pub(super) fn judge(look: &Look<'_>) -> Vec<Finding> {
    let Some(week) = look.week(0) else { return Vec::new() };
    let due_from = if look.block.event.up_to_10_miles() { 7 } else { 5 };
    let due = week.usual_run_days >= due_from && !look.subject.athlete.is_under_18(look.block.race_day);
    let now = week.run_days + 1;
    if !due || now < week.usual_run_days {
        return Vec::new();
    }
    let count = |days: usize| Figure::Count(u16::try_from(days).unwrap_or(u16::MAX));
    let finding = Finding::new(RuleId::NoRestPlace, Level::Note, count(now), count(week.usual_run_days - 1));
    let finding = finding.about(About::RaceWeek);
    vec![match run_on_the_extra_rest_day(look) {
        Some(day) => finding.on(day),
        None => finding,
    }]
}

/// The day of race week that would rest if the coach had not fixed running on it.
fn run_on_the_extra_rest_day(look: &Look<'_>) -> Option<NaiveDate> {
    let rests = |date| look.without_fixed_days().and_then(|block| block.day(date)).is_some_and(Day::is_rest);
    let mut fixed = look.block.days.iter().filter(|day| day.pinned && day.is_in_race_week() && !day.is_rest());
    fixed.find(|day| rests(day.date)).map(|day| day.date)
}

#[cfg(test)]
mod tests {
    use crate::athlete::Athlete;
    use crate::race::RaceDistance;
    use crate::review::RuleId;
    use crate::review::sample::{SILENT, Sample, WEEK};

    const FIVE: &str = "easy 7 | tempo 9, hard 4 | - | easy 8 | - | easy 7 | long 16";
    const SIX: &str = "easy 7 | tempo 9, hard 4 | easy 7 | easy 8 | - | easy 7 | long 16";
    const SEVEN: &str = "easy 7 | tempo 9, hard 4 | easy 7 | easy 8 | easy 6 | easy 7 | long 16";

    fn said(sample: &Sample) -> Vec<String> {
        sample.says(RuleId::NoRestPlace)
    }

    #[test]
    fn from_the_half_marathon_up_a_rest_day_is_due_from_five_running_days() {
        let half = |week| Sample::new(week, RaceDistance::Half).uncut();
        assert_eq!(said(&half(WEEK)), SILENT);
        assert_eq!(said(&half(FIVE)), ["note: 5 for 4"]);
        assert_eq!(said(&half(FIVE).resting([3])), SILENT);
    }

    #[test]
    fn up_to_ten_miles_one_is_due_where_there_is_none() {
        let ten = |week| Sample::new(week, RaceDistance::TenMiles).uncut();
        assert_eq!(said(&ten(SIX)), SILENT);
        assert_eq!(said(&ten(SEVEN)), ["note: 7 for 6"]);
        assert_eq!(said(&ten(SEVEN).resting([2])), SILENT);
    }

    #[test]
    fn running_that_the_coach_fixed_on_the_day_that_would_rest_is_said() {
        let free = Sample::new(FIVE, RaceDistance::Half);
        let rests = free.block.days.iter().find(|day| day.is_in_race_week() && day.is_rest() && !day.usual.is_empty());
        let to_race = rests.map_or(0, |day| day.to_race);
        let fixed = free.pinned(&[(to_race, "easy 5")]);
        assert_eq!(said(&fixed), [format!("note: 5 for 4 on D{to_race}")]);
    }

    #[test]
    fn none_is_due_for_under_18s() {
        let youth = Athlete { name: "A".into(), birth_year: Some(2027 - 17), ..Athlete::default() };
        assert_eq!(said(&Sample::of(youth, SEVEN, RaceDistance::Half).uncut()), SILENT);
    }
}
