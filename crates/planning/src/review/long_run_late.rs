//! A long run in race week.

use super::look::Look;
use super::{Figure, Finding, Level, RuleId};
use crate::session::Kind;

/// A run of race week up to this part of the longest is no long run.
///
/// # Source
///
/// Common practice, no published source.
const NOT_LONG: f64 = 0.60;

/// The last day for a long run.
///
/// # Source
///
/// Common practice, no published source.
const LAST_DAY: u16 = 7;

/// Fires for each long run later than D7.
pub(super) fn judge(look: &Look<'_>) -> Vec<Finding> {
    look.block_days()
        .filter(|day| day.to_race < LAST_DAY)
        .filter(|day| {
            day.sessions.iter().any(|planned| {
                let session = &planned.session;
                session.kind == Kind::Long
                    || (look.is_long(session)
                        && !look.is_short(session)
                        && look.km(session) > look.lengths.longest * NOT_LONG + 0.02)
            })
        })
        .map(|day| {
            Finding::new(RuleId::LongRunLate, Level::Caution, Figure::Days(day.to_race), Figure::Days(LAST_DAY))
                .on(day.date)
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use crate::race::RaceDistance;
    use crate::review::RuleId;
    use crate::review::sample::{SILENT, Sample};

    /// The median run is 10 km: from 15 km on a run takes the place of a long run.
    fn said(to_race: u16, line: &str) -> Vec<String> {
        Sample::new("- | tempo 10, hard 4 | - | 10 | - | 10 | long 30", RaceDistance::Half)
            .with(to_race, line)
            .says(RuleId::LongRunLate)
    }

    #[test]
    fn what_is_called_a_long_run_is_late_in_race_week() {
        assert_eq!(said(7, "long 20"), SILENT);
        assert_eq!(said(6, "long 8"), ["caution: 6 days for 7 days on D6"]);
        assert_eq!(said(2, "long 8"), ["caution: 2 days for 7 days on D2"]);
    }

    #[test]
    fn an_easy_run_of_more_than_three_fifths_of_the_longest_is_a_long_run() {
        assert_eq!(said(6, "easy 18"), SILENT);
        assert_eq!(said(6, "easy 18.1"), ["caution: 6 days for 7 days on D6"]);
        assert_eq!(said(7, "easy 18.1"), SILENT);
    }

    #[test]
    fn a_run_as_long_as_the_others_is_none() {
        let flat = |line| Sample::new("- | 10 | - | 10 | - | 10 | 12", RaceDistance::Half).with(6, line);
        assert_eq!(flat("easy 12").says(RuleId::LongRunLate), SILENT);
        let short = Sample::new("- | 2 | - | 2 | - | 2 | 5", RaceDistance::FiveK).with(6, "easy 5");
        assert_eq!(short.says(RuleId::LongRunLate), SILENT);
    }
}
