//! More hard running than usual.

use super::look::Look;
use super::{Figure, Finding, Level, RuleId};
use crate::block::WeekSummary;
use crate::units::Share;

/// Rounding of hard parts to halves.
const TOLERANCE: f64 = 0.03;

/// Fires when a week holds more hard running than usual; where two weeks take turns, more than the
/// harder of the two: a light race week may take over a hard session of the full week before it.
///
/// # Source
///
/// Common practice, no published source: a taper keeps hard running, it does not add any.
pub(super) fn judge(look: &Look<'_>) -> Vec<Finding> {
    look.weeks
        .iter()
        .filter(|week| week.hard_share.0 > 1.0 + TOLERANCE || (week.usual_intensity.0 <= 0.0 && week.intensity.0 > 0.0))
        .filter(|week| hard_km(look, week) > usual_hard_km(look) * (1.0 + TOLERANCE))
        .map(|week| {
            let (figure, limit) = if week.usual_intensity.0 <= 0.0 {
                (Figure::Share(week.intensity), Figure::Share(Share::NONE))
            } else {
                (Figure::Share(week.hard_share), Figure::Share(Share::ALL))
            };
            Finding::new(RuleId::IntensityAdded, Level::Caution, figure, limit).on(week.from)
        })
        .collect()
}

fn hard_km(look: &Look<'_>, week: &WeekSummary) -> f64 {
    week.intensity.0 * week.planned.middle_km(look.pace)
}

/// The hard running of the harder week that takes turns; nothing where there is only one.
fn usual_hard_km(look: &Look<'_>) -> f64 {
    let week = look.subject.week;
    if week.turns().is_none() {
        return 0.0;
    }
    week.weeks().map(|week| week.hard_running().middle_km(look.pace)).fold(0.0, f64::max)
}

#[cfg(test)]
mod tests {
    use crate::race::RaceDistance;
    use crate::review::RuleId;
    use crate::review::sample::{SILENT, Sample, WEEK};

    fn said(sample: &Sample) -> Vec<String> {
        sample.says(RuleId::IntensityAdded)
    }

    #[test]
    fn a_week_holds_no_more_hard_running_than_usual_but_for_rounding() {
        let half = || Sample::new(WEEK, RaceDistance::Half);
        assert_eq!(said(&half()), SILENT);
        assert_eq!(said(&half().with(10, "tempo 7, hard 0.1")), SILENT);
        assert_eq!(said(&half().with(10, "tempo 7, hard 0.2")), ["caution: 105.0 % for 100.0 % on D13"]);
        assert_eq!(said(&half().with(5, "tempo 8, hard 4.2")), ["caution: 105.0 % for 100.0 % on D6"]);
    }

    #[test]
    fn a_base_week_without_hard_running_allows_none() {
        let easy = || Sample::new("- | easy 9 | - | easy 8 | - | easy 7 | long 16", RaceDistance::Half).uncut();
        assert_eq!(said(&easy()), SILENT);
        assert_eq!(said(&easy().with(12, "tempo 9, hard 4")), ["caution: 10.0 % for 0.0 % on D13"]);
    }
}
