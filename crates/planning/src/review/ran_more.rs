//! More was run than planned.

use super::look::Look;
use super::{Figure, Finding, Level, RuleId};
use crate::life::{OVER, is_over};
use crate::units::Share;

/// Fires when the last seven days held more than 15 % over their plan. Nothing changes by itself: at
/// most half of it may come off easy runs, if the coach says so.
///
/// # Source
///
/// Common practice, no published source.
pub(super) fn judge(look: &Look<'_>) -> Vec<Finding> {
    let over = look.subject.ran.filter(|ran| is_over(*ran));
    over.map(|ran| {
        let figure = Figure::Share(Share(ran.0 - 1.0));
        Finding::new(RuleId::RanMore, Level::Note, figure, Figure::Share(Share(OVER)))
    })
    .into_iter()
    .collect()
}

#[cfg(test)]
mod tests {
    use crate::race::RaceDistance;
    use crate::review::RuleId;
    use crate::review::sample::{SILENT, Sample, WEEK};
    use crate::units::Share;

    fn said(ran: f64) -> Vec<String> {
        let mut sample = Sample::new(WEEK, RaceDistance::Half);
        sample.ran = Some(Share(ran));
        sample.says(RuleId::RanMore)
    }

    #[test]
    fn more_than_15_per_cent_over_the_plan_is_noted() {
        assert_eq!(said(1.16), ["note: 16.0 % for 15.0 %"]);
        assert_eq!(said(1.15), SILENT);
        assert_eq!(said(0.4), SILENT);
        assert_eq!(Sample::new(WEEK, RaceDistance::Half).says(RuleId::RanMore), SILENT);
    }
}
