//! A block that begins before the athlete is well again, or has recovered.

use chrono::{Datelike, NaiveDate};

use super::look::Look;
use super::{About, Figure, Finding, Level, RuleId, illness_near_race, races_clash};
use crate::life::{EventKind, LifeEvent};
use crate::race::{Importance, Race};
use crate::recovery;
use crate::replan::eased_until;

/// Fires for an illness or injury that began before the block and of which no end is noted, for one whose
/// easy days afterwards reach into the block, and for a goal race whose recovery reaches beyond its first day. What another rule says
/// already, of an illness near the race, of an injury inside the block or of races that clash, is not said twice.
///
/// # Source
///
/// Common practice, no published source: see [`eased_until`] and [`recovery::days`].
pub(super) fn judge(look: &Look<'_>) -> Vec<Finding> {
    let after_events = look.subject.events.iter().filter_map(|event| after_event(look, event));
    after_events.chain(look.subject.other_races.iter().filter_map(|race| after_race(look, race))).collect()
}

fn after_event(look: &Look<'_>, event: &LifeEvent) -> Option<Finding> {
    let first = look.block.first_day();
    let is_injury = match event.kind {
        EventKind::Illness { .. } => false,
        EventKind::Injury => true,
        _ => return None,
    };
    let is_said = illness_near_race::judge_one(look, event).is_some() || (is_injury && event.to >= first);
    if event.from >= first || is_said {
        return None;
    }
    if event.open {
        return Some(finding(Figure::None, Figure::None, event.from, About::event(event)));
    }
    let eased = eased_until(event);
    (eased >= first).then(|| finding(days(first, event.to), days(eased, first), event.to, About::event(event)))
}

fn after_race(look: &Look<'_>, race: &Race) -> Option<Finding> {
    let first = look.block.first_day();
    let recovers = race.importance == Importance::Goal && race.date < first && recovery::ends(race) > first;
    let is_said = races_clash::clash(look, race).is_some();
    (recovers && !is_said).then(|| {
        let needed = Figure::Count(recovery::days(race.distance.event()));
        finding(days(first, race.date), needed, race.date, About::Race(race.name.clone()))
    })
}

fn finding(figure: Figure, limit: Figure, date: NaiveDate, about: About) -> Finding {
    Finding::new(RuleId::BeginsTooSoon, Level::Caution, figure, limit).on(date).about(about)
}

/// How many days one is after another.
fn days(later: NaiveDate, earlier: NaiveDate) -> Figure {
    Figure::Days(u16::try_from(later.num_days_from_ce() - earlier.num_days_from_ce()).unwrap_or(0))
}

#[cfg(test)]
mod tests {
    use crate::life::EventKind;
    use crate::race::{Importance, RaceDistance};
    use crate::review::RuleId;
    use crate::review::sample::{SILENT, Sample, WEEK};

    const FEVER: EventKind = EventKind::Illness { fever: true };
    const ILL: EventKind = EventKind::Illness { fever: false };

    /// A half marathon with a block of 14 days: it begins on D14.
    fn said(kind: EventKind, from: i64, to: i64, open: bool) -> Vec<String> {
        let mut sample = Sample::new(WEEK, RaceDistance::Half).event(kind, from, to);
        sample.events[0].open = open;
        sample.says(RuleId::BeginsTooSoon)
    }

    #[test]
    fn easy_days_after_an_illness_or_injury_reach_into_the_block_or_do_not() {
        // Three days of fever: a day without, and three easy days.
        assert_eq!(said(FEVER, 20, 18, false), ["caution: 4 days for 0 days on D18 (fever)"]);
        assert_eq!(said(FEVER, 21, 19, false), SILENT);
        assert_eq!(said(ILL, 18, 16, false), ["caution: 2 days for 0 days on D16 (illness)"]);
        assert_eq!(said(ILL, 19, 17, false), SILENT);
        assert_eq!(said(EventKind::Injury, 30, 15, false), ["caution: 1 days for 7 days on D15 (injury)"]);
        assert_eq!(said(ILL, 15, 15, false), SILENT, "a day without fever takes no easy days");
        assert_eq!(said(EventKind::Travel, 20, 15, false), SILENT);
    }

    #[test]
    fn what_goes_on_before_the_block_is_told_however_far_it_is() {
        assert_eq!(said(ILL, 40, 39, true), ["caution: nothing for nothing on D40 (illness, no end noted)"]);
        assert_eq!(said(FEVER, 40, 39, true), ["caution: nothing for nothing on D40 (fever, no end noted)"]);
        assert_eq!(
            said(EventKind::Injury, 40, 39, true),
            ["caution: nothing for nothing on D40 (injury, no end noted)"]
        );
        assert_eq!(said(EventKind::Injury, 10, 9, true), SILENT, "inside the block another rule speaks");
    }

    #[test]
    fn nothing_is_said_twice() {
        for (kind, from, to) in [(FEVER, 15, 12), (ILL, 15, 13), (EventKind::Injury, 20, 14)] {
            for open in [false, true] {
                assert_eq!(said(kind, from, to, open), SILENT, "{kind:?}");
            }
        }
    }

    #[test]
    fn a_goal_race_is_recovered_from_before_the_block_begins() {
        let said = |days_before, importance| {
            let sample = Sample::new(WEEK, RaceDistance::Half).other(days_before, RaceDistance::Half, importance);
            sample.says(RuleId::BeginsTooSoon)
        };
        assert_eq!(said(20, Importance::Goal), ["caution: 6 days for 7 on D20 (Goal race)"]);
        assert_eq!(said(21, Importance::Goal), SILENT, "a block of our own begins on the last day of a recovery");
        assert_eq!(said(15, Importance::Goal), ["caution: 1 days for 7 on D15 (Goal race)"]);
        assert_eq!(said(13, Importance::Goal), SILENT, "races that clash are told by their own rule");
        assert_eq!(said(15, Importance::TuneUp), SILENT);
    }
}
