//! A block shorter or longer than the event needs.

use super::look::Look;
use super::{Figure, Finding, Level, RuleId};
use crate::curve::{Adjustment, event_defaults};

/// Fires when the block's length lies outside the event's range; not for the short blocks of youth.
///
/// # Source
///
/// See [`event_defaults`].
pub(super) fn judge(look: &Look<'_>) -> Vec<Finding> {
    let length = look.block.curve.length;
    let (least, most) = event_defaults(look.block.event).lengths;
    let youth = look.block.adjustments.contains(&Adjustment::Youth);
    let limit = if length < least && !youth {
        least
    } else if length > most {
        most
    } else {
        return Vec::new();
    };
    let days = |days: u8| Figure::Days(u16::from(days));
    vec![Finding::new(RuleId::LengthUnusual, Level::Caution, days(length), days(limit))]
}

#[cfg(test)]
mod tests {
    use crate::athlete::Athlete;
    use crate::race::RaceDistance;
    use crate::review::RuleId;
    use crate::review::sample::{FIFTY_KM, SILENT, Sample, WEEK};

    fn said(distance: RaceDistance, days: u8) -> Vec<String> {
        Sample::long(WEEK, distance, days).says(RuleId::LengthUnusual)
    }

    #[test]
    fn lengths_inside_the_events_range_pass_at_both_ends() {
        for (distance, least, most) in [
            (RaceDistance::FiveK, 4, 10),
            (RaceDistance::TenK, 7, 12),
            (RaceDistance::TenMiles, 7, 12),
            (RaceDistance::Half, 8, 14),
            (RaceDistance::Marathon, 14, 22),
            (FIFTY_KM, 14, 22),
        ] {
            assert_eq!(said(distance, least), SILENT, "{distance:?}");
            assert_eq!(said(distance, most), SILENT, "{distance:?}");
        }
    }

    #[test]
    fn a_day_more_is_long() {
        assert_eq!(said(RaceDistance::FiveK, 11), ["caution: 11 days for 10 days"]);
        assert_eq!(said(RaceDistance::TenK, 13), ["caution: 13 days for 12 days"]);
        assert_eq!(said(RaceDistance::Half, 15), ["caution: 15 days for 14 days"]);
        assert_eq!(said(RaceDistance::Marathon, 23), ["caution: 23 days for 22 days"]);
        assert_eq!(said(FIFTY_KM, 23), ["caution: 23 days for 22 days"]);
    }

    #[test]
    fn a_day_less_is_short() {
        assert_eq!(said(RaceDistance::TenK, 6), ["caution: 6 days for 7 days"]);
        assert_eq!(said(RaceDistance::Half, 7), ["caution: 7 days for 8 days"]);
        assert_eq!(said(RaceDistance::Marathon, 13), ["caution: 13 days for 14 days"]);
        assert_eq!(said(FIFTY_KM, 13), ["caution: 13 days for 14 days"]);
        let mut bent = Sample::new(WEEK, RaceDistance::FiveK);
        bent.block.curve.length = 3;
        assert_eq!(bent.says(RuleId::LengthUnusual), ["caution: 3 days for 4 days"]);
    }

    #[test]
    fn blocks_of_youth_may_be_short_but_not_long() {
        let youth = Athlete { name: "A".into(), birth_year: Some(2027 - 17), ..Athlete::default() };
        let mut sample = Sample::of(youth, WEEK, RaceDistance::Marathon);
        assert_eq!(sample.block.curve.length, 10);
        assert_eq!(sample.says(RuleId::LengthUnusual), SILENT);
        sample.block.curve.length = 23;
        assert_eq!(sample.says(RuleId::LengthUnusual), ["caution: 23 days for 22 days"]);
    }
}
