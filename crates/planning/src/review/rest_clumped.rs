//! Two rest days side by side that are not so in the base week.

use super::look::Look;
use super::{Figure, Finding, Level, RuleId};

/// Fires for each pair of neighbouring rest days inside the block that the base week does not have.
///
/// # Source
///
/// Common practice, no published source: routine is kept.
pub(super) fn judge(look: &Look<'_>) -> Vec<Finding> {
    let days: Vec<_> = look.block_days().collect();
    days.windows(2)
        .filter(|pair| pair.iter().all(|day| day.is_rest()))
        .filter(|pair| pair.iter().any(|day| !day.usual_running().is_empty()))
        .map(|pair| {
            Finding::new(RuleId::RestClumped, Level::Caution, Figure::Days(2), Figure::Days(1)).on(pair[0].date)
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use crate::race::RaceDistance;
    use crate::review::RuleId;
    use crate::review::sample::{SILENT, Sample, WEEK};

    fn said(sample: &Sample) -> Vec<String> {
        sample.says(RuleId::RestClumped)
    }

    #[test]
    fn a_rest_day_beside_another_is_told_for_each_pair() {
        let half = || Sample::new(WEEK, RaceDistance::Half);
        assert_eq!(said(&half()), SILENT);
        // Friday is rest anyway.
        assert_eq!(said(&half().resting([8])), ["caution: 2 days for 1 days on D9"]);
        assert_eq!(
            said(&half().resting([10])),
            ["caution: 2 days for 1 days on D11", "caution: 2 days for 1 days on D10"]
        );
    }

    #[test]
    fn rest_days_that_always_stand_side_by_side_may_stay() {
        let weekend_off = "tempo 9, hard 4 | easy 8 | easy 8 | easy 8 | easy 8 | - | -";
        assert_eq!(said(&Sample::new(weekend_off, RaceDistance::Half).uncut()), SILENT);
    }

    #[test]
    fn rest_apart_is_no_clump_and_strength_alone_is_rest() {
        let six = "easy 7 | tempo 9, hard 4 | easy 7 | easy 8 | - | easy 7 | long 16";
        let half = || Sample::new(six, RaceDistance::Half).uncut();
        assert_eq!(said(&half().resting([11])), SILENT);
        assert_eq!(said(&half().with(8, "strength 30")), ["caution: 2 days for 1 days on D9"]);
    }
}
