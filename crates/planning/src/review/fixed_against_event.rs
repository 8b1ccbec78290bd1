//! A day that the coach fixed holds running while the athlete is ill or injured, or more than belongs on a day on the way.

use super::look::Look;
use super::{About, Figure, Finding, Level, RuleId};
use crate::block::Day;
use crate::life::LifeEvent;
use crate::replan::{is_more_than_half_an_hour, spares_from_hard_on};

/// Fires for each fixed day with running inside an illness or injury: (stop) with fever and for the day
/// after it, (caution) otherwise; and (caution) for each with hard running on the way back, where everything else is
/// made easy. And (caution) for each first or last day of travel with more than half an hour or with hard running. What
/// the coach fixed stays, so it has to be said.
///
/// # Source
///
/// Common practice, no published source.
pub(super) fn judge(look: &Look<'_>) -> Vec<Finding> {
    let fixed = look.block.days.iter().filter(|day| day.pinned && !day.is_rest() && day.to_race > 0);
    fixed
        .filter_map(|day| {
            inside(look, day).or_else(|| hard_on_the_way_back(look, day)).or_else(|| on_the_way(look, day))
        })
        .collect()
}

fn inside(look: &Look<'_>, day: &Day) -> Option<Finding> {
    let event = look.subject.events.iter().find(|event| event.keeps_from_running_on(day.date))?;
    let level = if event.kind.has_fever() { Level::Stop } else { Level::Caution };
    Some(finding(level, day))
}

fn hard_on_the_way_back(look: &Look<'_>, day: &Day) -> Option<Finding> {
    let spares = |event: &&LifeEvent| spares_from_hard_on(event, look.block.race_day, day.date);
    let event = look.subject.events.iter().find(spares)?;
    let is_hard = day.sessions.iter().any(|planned| planned.session.is_hard_work());
    is_hard.then(|| finding(Level::Caution, day).about(About::HardAfter(event.kind)))
}

fn on_the_way(look: &Look<'_>, day: &Day) -> Option<Finding> {
    let is_on_the_way = look.subject.events.iter().any(|event| event.is_on_the_way(day.date));
    let is_too_much = is_on_the_way && (is_more_than_half_an_hour(day) || day.is_hard());
    is_too_much.then(|| finding(Level::Caution, day).about(About::OnTheWay))
}

fn finding(level: Level, day: &Day) -> Finding {
    Finding::new(RuleId::FixedAgainstEvent, level, Figure::Days(day.to_race), Figure::None).on(day.date)
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
    fn hard_running_fixed_in_the_easy_days_after_it_is_a_caution() {
        // Three days of fever that end on D10: D9 without running, D8 to D6 easy, and nothing hard before the race.
        let fever = EventKind::Illness { fever: true };
        assert_eq!(said(fever, 8, "tempo 8, hard 3"), ["caution: 8 days for nothing on D8 (hard after illness)"]);
        assert_eq!(said(fever, 5, "tempo 8, hard 3"), ["caution: 5 days for nothing on D5 (hard after illness)"]);
        let cold = EventKind::Illness { fever: false };
        assert_eq!(said(cold, 8, "tempo 8, hard 3"), ["caution: 8 days for nothing on D8 (hard after illness)"]);
        assert_eq!(said(cold, 7, "tempo 8, hard 3"), SILENT);
        let injury = EventKind::Injury;
        assert_eq!(said(injury, 9, "tempo 8, hard 3"), ["caution: 9 days for nothing on D9 (hard after injury)"]);
        assert_eq!(said(injury, 13, "tempo 8, hard 3"), SILENT);
    }

    #[test]
    fn more_than_half_an_hour_or_hard_running_fixed_on_the_first_or_last_day_of_travel_is_a_caution() {
        let on = |fixed, line| said(EventKind::Travel, fixed, line);
        for fixed in [12, 10] {
            assert_eq!(on(fixed, "long 18"), [format!("caution: {fixed} days for nothing on D{fixed} (on the way)")]);
            assert_eq!(on(fixed, "easy 3 + easy 3").len(), 1, "both together");
            assert_eq!(on(fixed, "intervals 5, hard 2").len(), 1);
            assert_eq!(on(fixed, "easy 5"), SILENT);
            assert_eq!(on(fixed, "rest"), SILENT);
        }
        for fixed in [13, 11, 9] {
            assert_eq!(on(fixed, "long 18"), SILENT, "at home, or there");
        }
    }

    #[test]
    fn running_fixed_on_other_days_of_illness_or_injury_is_a_caution() {
        assert_eq!(said(EventKind::Injury, 10, "easy 5"), ["caution: 10 days for nothing on D10"]);
        assert_eq!(said(EventKind::Illness { fever: false }, 9, "easy 5"), SILENT);
        assert_eq!(said(EventKind::NoTime, 10, "easy 5"), SILENT);
    }
}
