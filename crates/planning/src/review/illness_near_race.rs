//! An illness near the race.

use super::look::Look;
use super::{About, Figure, Finding, Level, RuleId};
use crate::life::{EventKind, LifeEvent};
use crate::replan::FEVER_STOPS_FROM;

/// An illness so near to the race leaves a decision to take.
///
/// # Source
///
/// Common practice, no published source.
const WORTH_A_WORD_FROM: i64 = 14;

/// Fires (stop) for fever within seven days of the race, (caution) for any other illness within
/// fourteen: start easy, run a shorter distance, or another day.
///
/// # Source
///
/// Common practice, no published source.
pub(super) fn judge(look: &Look<'_>) -> Vec<Finding> {
    look.subject.events.iter().filter_map(|event| judge_one(look, event)).collect()
}

pub(super) fn judge_one(look: &Look<'_>, event: &LifeEvent) -> Option<Finding> {
    if !matches!(event.kind, EventKind::Illness { .. }) || event.from > look.block.race_day {
        return None;
    }
    let left = (look.block.race_day - event.to).num_days().max(0);
    let (level, limit) = if event.kind.has_fever() && left <= FEVER_STOPS_FROM {
        (Level::Stop, FEVER_STOPS_FROM)
    } else if left <= WORTH_A_WORD_FROM {
        (Level::Caution, WORTH_A_WORD_FROM)
    } else {
        return None;
    };
    let days = |days: i64| Figure::Days(u16::try_from(days).unwrap_or(u16::MAX));
    let finding = Finding::new(RuleId::IllnessNearRace, level, days(left), days(limit));
    Some(finding.on(event.to).about(About::event(event)))
}

#[cfg(test)]
mod tests {
    use crate::life::EventKind;
    use crate::race::RaceDistance;
    use crate::review::RuleId;
    use crate::review::sample::{SILENT, Sample, WEEK};

    fn said(fever: bool, last: i64) -> Vec<String> {
        Sample::new(WEEK, RaceDistance::Half)
            .event(EventKind::Illness { fever }, last + 2, last)
            .says(RuleId::IllnessNearRace)
    }

    #[test]
    fn fever_in_the_last_seven_days_stops() {
        assert_eq!(said(true, 7), ["stop: 7 days for 7 days on D7 (fever)"]);
        assert_eq!(said(true, 8), ["caution: 8 days for 14 days on D8 (fever)"]);
        assert_eq!(said(true, 0), ["stop: 0 days for 7 days on D0 (fever)"]);
    }

    #[test]
    fn any_illness_in_the_last_fourteen_days_is_worth_a_word() {
        assert_eq!(said(false, 1), ["caution: 1 days for 14 days on D1 (illness)"]);
        assert_eq!(said(false, 14), ["caution: 14 days for 14 days on D14 (illness)"]);
        assert_eq!(said(false, 15), SILENT);
        assert_eq!(said(true, 15), SILENT);
    }

    #[test]
    fn what_is_no_illness_and_what_comes_after_the_race_is_not_meant() {
        let half = || Sample::new(WEEK, RaceDistance::Half);
        assert_eq!(half().event(EventKind::Travel, 6, 4).says(RuleId::IllnessNearRace), SILENT);
        assert_eq!(half().event(EventKind::Illness { fever: true }, -1, -3).says(RuleId::IllnessNearRace), SILENT);
    }
}
