//! An extra rest day is due in race week, and there is none.

use super::look::Look;
use super::{About, Figure, Finding, Level, RuleId};

/// Fires (note) when race week, the race counted as a run, has no running day less than usual though
/// one is due: from five running days (half marathon and longer) or seven (up to 10 miles).
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
    vec![finding.about(About::RaceWeek)]
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
    fn none_is_due_for_under_18s() {
        let youth = Athlete { name: "A".into(), birth_year: Some(2027 - 17), ..Athlete::default() };
        assert_eq!(said(&Sample::of(youth, SEVEN, RaceDistance::Half).uncut()), SILENT);
    }
}
