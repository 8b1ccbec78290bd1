//! A day that the coach fixed holds running while the athlete is ill or injured.

use super::look::Look;
use super::{Figure, Finding, Level, RuleId};
use crate::life::{EventKind, LifeEvent};

/// Fires for each fixed day with running inside an illness or injury: (stop) with fever and for the day
/// after it, (caution) otherwise. What the coach fixed stays, so it has to be said.
///
/// # Source
///
/// Common practice, no published source.
pub(super) fn judge(look: &Look<'_>) -> Vec<Finding> {
    let fixed = look.block.days.iter().filter(|day| day.pinned && !day.is_rest() && day.to_race > 0);
    fixed
        .filter_map(|day| {
            let event = look.subject.events.iter().find(|event| forbids(event, day.date))?;
            let level = if event.kind.has_fever() { Level::Stop } else { Level::Caution };
            Some(Finding::new(RuleId::FixedAgainstEvent, level, Figure::Days(day.to_race), Figure::None).on(day.date))
        })
        .collect()
}

fn forbids(event: &LifeEvent, date: chrono::NaiveDate) -> bool {
    let day_after = event.kind.has_fever() && date == event.after(1);
    matches!(event.kind, EventKind::Illness { .. } | EventKind::Injury) && (event.covers(date) || day_after)
}

#[cfg(test)]
mod tests {
    use crate::life::EventKind;
    use crate::race::RaceDistance;
    use crate::review::RuleId;
    use crate::review::sample::{SILENT, Sample, WEEK};

    fn said(kind: EventKind, fixed: u16, line: &str) -> Vec<String> {
        let mut sample = Sample::new(WEEK, RaceDistance::Half).with(fixed, line).event(kind, 12, 10);
        let day = sample.block.days.iter_mut().find(|day| day.to_race == fixed).unwrap();
        day.pinned = true;
        sample.says(RuleId::FixedAgainstEvent)
    }

    #[test]
    fn running_fixed_on_a_day_with_fever_or_the_day_after_stops() {
        let fever = EventKind::Illness { fever: true };
        assert_eq!(said(fever, 12, "easy 5"), ["stop: 12 days for nothing on D12"]);
        assert_eq!(said(fever, 9, "easy 5"), ["stop: 9 days for nothing on D9"]);
        assert_eq!(said(fever, 8, "easy 5"), SILENT);
        assert_eq!(said(fever, 10, "rest"), SILENT);
    }

    #[test]
    fn running_fixed_on_other_days_of_illness_or_injury_is_a_caution() {
        assert_eq!(said(EventKind::Injury, 10, "easy 5"), ["caution: 10 days for nothing on D10"]);
        assert_eq!(said(EventKind::Illness { fever: false }, 9, "easy 5"), SILENT);
        assert_eq!(said(EventKind::NoTime, 10, "easy 5"), SILENT);
    }
}
