//! A block that was made when fewer days were left than a taper takes.

use super::look::Look;
use super::{Figure, Finding, Level, RuleId};
use crate::curve::{Adjustment, SHORT_BLOCK, event_defaults};

/// In the last days before a race, as many as this, nothing hard is run any more, whatever the event.
///
/// # Source
///
/// Common practice, no published source.
pub const EASY_ONLY_DAYS: u16 = 3;

/// Fires when the block was first made with fewer days left than the shortest usual block of the event: what
/// lies behind cannot be eased any more, so the days left are eased and do less than a whole block.
///
/// # Source
///
/// The lengths: see [`event_defaults`]. Common practice, no published source.
pub(super) fn judge(look: &Look<'_>) -> Vec<Finding> {
    let Some(made) = look.subject.made.filter(|_| is_late(look)) else { return Vec::new() };
    vec![Finding::new(RuleId::MadeLate, Level::Caution, Figure::Days(made), Figure::Days(least(look)))]
}

/// Whether the block was made late. Not where a race before, run or called off, held the running down already.
pub(super) fn is_late(look: &Look<'_>) -> bool {
    look.block.ceilings.is_empty() && look.subject.made.is_some_and(|made| made < least(look))
}

/// The shortest usual block; where a short one is planned anyway, no longer than that.
fn least(look: &Look<'_>) -> u16 {
    let least = event_defaults(look.block.event).lengths.0;
    let is_short = |adjustment: &Adjustment| {
        matches!(adjustment, Adjustment::Youth | Adjustment::LowMileage | Adjustment::FewRuns)
    };
    u16::from(if look.block.adjustments.iter().any(is_short) { least.min(SHORT_BLOCK) } else { least })
}

#[cfg(test)]
mod tests {
    use crate::athlete::Athlete;
    use crate::race::RaceDistance;
    use crate::review::RuleId;
    use crate::review::sample::{FIFTY_KM, SILENT, Sample, WEEK};

    fn said(distance: RaceDistance, made: u16) -> Vec<String> {
        let mut sample = Sample::new(WEEK, distance);
        sample.made = Some(made);
        sample.says(RuleId::MadeLate)
    }

    #[test]
    fn a_block_made_with_the_shortest_usual_length_left_is_not_late_and_a_day_later_it_is() {
        for (distance, least) in [
            (RaceDistance::FiveK, 4),
            (RaceDistance::TenK, 7),
            (RaceDistance::TenMiles, 7),
            (RaceDistance::Half, 8),
            (RaceDistance::Marathon, 14),
            (FIFTY_KM, 14),
        ] {
            assert_eq!(said(distance, least), SILENT, "{distance:?}");
            assert_eq!(said(distance, least - 1), [format!("caution: {} days for {least} days", least - 1)]);
            assert_eq!(said(distance, 0), [format!("caution: 0 days for {least} days")]);
        }
    }

    #[test]
    fn nothing_is_late_where_nobody_says_when_it_was_made() {
        assert_eq!(Sample::new(WEEK, RaceDistance::Marathon).says(RuleId::MadeLate), SILENT);
    }

    #[test]
    fn blocks_of_youth_are_short_anyway() {
        let youth = Athlete { name: "A".into(), birth_year: Some(2027 - 17), ..Athlete::default() };
        let mut sample = Sample::of(youth, WEEK, RaceDistance::Marathon);
        sample.made = Some(10);
        assert_eq!(sample.says(RuleId::MadeLate), SILENT);
        sample.made = Some(9);
        assert_eq!(sample.says(RuleId::MadeLate), ["caution: 9 days for 10 days"]);
    }

    #[test]
    fn weeks_that_were_over_by_then_are_not_judged_any_more() {
        let mut sample = Sample::new(WEEK, RaceDistance::Half).uncut();
        let about = |sample: &Sample| [sample.says(RuleId::CutTooSmall), sample.says(RuleId::LongRunLate)].concat();
        let all = about(&sample);
        sample.made = Some(7);
        assert_eq!(about(&sample), all, "its last day was still to come");
        sample.made = Some(6);
        let left = about(&sample);
        assert!(!left.is_empty() && left.len() < all.len(), "{left:?} of {all:?}");
    }

    #[test]
    fn that_it_is_short_is_then_said_once() {
        let mut sample = Sample::long(WEEK, RaceDistance::TenK, 6);
        sample.block.adjustments.push(crate::curve::Adjustment::DaysLeft);
        assert_eq!(sample.says(RuleId::LengthUnusual), ["caution: 6 days for 7 days"]);
        sample.made = Some(6);
        assert_eq!(sample.says(RuleId::LengthUnusual), SILENT);
    }
}
