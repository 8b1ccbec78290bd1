//! An injury inside the block.

use super::look::Look;
use super::{About, Figure, Finding, Level, RuleId};
use crate::life::EventKind;

/// Fires for each injury that reaches into the block: nothing hard until easy running is free of pain.
///
/// # Source
///
/// Common practice, no published source.
pub(super) fn judge(look: &Look<'_>) -> Vec<Finding> {
    let (first, last) = (look.block.first_day(), look.block.race_day);
    let reaches = |from, to| from <= last && to >= first;
    look.subject
        .events
        .iter()
        .filter(|event| event.kind == EventKind::Injury && reaches(event.from, event.to))
        .map(|event| {
            let left = (look.block.race_day - event.to).num_days().max(0);
            let left = Figure::Days(u16::try_from(left).unwrap_or(u16::MAX));
            Finding::new(RuleId::Injury, Level::Caution, left, Figure::None).on(event.to).about(About::event(event))
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use crate::life::EventKind;
    use crate::race::RaceDistance;
    use crate::review::RuleId;
    use crate::review::sample::{SILENT, Sample, WEEK};

    fn said(kind: EventKind, from: i64, to: i64) -> Vec<String> {
        Sample::new(WEEK, RaceDistance::Half).event(kind, from, to).says(RuleId::Injury)
    }

    #[test]
    fn an_injury_that_reaches_into_the_block_is_told() {
        assert_eq!(said(EventKind::Injury, 20, 14), ["caution: 14 days for nothing on D14 (injury)"]);
        assert_eq!(said(EventKind::Injury, 20, 15), SILENT);
        assert_eq!(said(EventKind::Injury, 0, -3), ["caution: 0 days for nothing on D-3 (injury)"]);
        assert_eq!(said(EventKind::Injury, -1, -3), SILENT);
        assert_eq!(said(EventKind::NoTime, 6, 4), SILENT);
    }
}
