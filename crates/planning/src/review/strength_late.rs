//! Loaded strength work in race week.

use super::look::Look;
use super::{Figure, Finding, Level, RuleId};

/// The last day for loaded strength.
///
/// # Source
///
/// Common practice, no published source: heavy legs end 14 to 10 days before the race.
const LAST_DAY: u16 = 7;

/// Fires for each loaded strength session at D6 or later.
pub(super) fn judge(look: &Look<'_>) -> Vec<Finding> {
    look.block_days()
        .filter(|day| day.to_race < LAST_DAY && day.sessions.iter().any(|planned| planned.session.loaded))
        .map(|day| {
            Finding::new(RuleId::StrengthLate, Level::Caution, Figure::Days(day.to_race), Figure::Days(LAST_DAY))
                .on(day.date)
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use crate::race::RaceDistance;
    use crate::review::RuleId;
    use crate::review::sample::{SILENT, Sample, WEEK};

    fn said(to_race: u16, line: &str) -> Vec<String> {
        Sample::new(WEEK, RaceDistance::Half).with(to_race, line).says(RuleId::StrengthLate)
    }

    #[test]
    fn loaded_strength_in_race_week_is_late() {
        assert_eq!(said(6, "strength 30 loaded"), ["caution: 6 days for 7 days on D6"]);
        assert_eq!(said(1, "easy 3 + strength 30 loaded"), ["caution: 1 days for 7 days on D1"]);
    }

    #[test]
    fn on_the_last_day_before_race_week_or_without_load_it_is_not() {
        assert_eq!(said(7, "strength 30 loaded"), SILENT);
        assert_eq!(said(6, "strength 30"), SILENT);
    }
}
