//! Another race stands in the way.

use super::look::Look;
use super::{About, Figure, Finding, Level, RuleId};
use crate::curve::event_defaults;
use crate::race::{Event, Importance, Race};

/// Days of recovery that should lie between a goal race and the block of the next. After the longest races that
/// is more than a plan takes where it has to, see its days of recovery: the plan makes the best of the
/// season as it is, and here stands that the season is too tight.
///
/// # Source
///
/// Proposal of this program within published and practised ranges (10 km 3-6 days, half 7-13,
/// marathon 14-26, longer 21-30 and more): common practice, no published source.
const fn wanted_recovery(event: Event) -> i64 {
    match event {
        Event::FiveK => 2,
        Event::TenK => 3,
        Event::Half => 7,
        Event::Marathon => 14,
        Event::Longer => 21,
    }
}

/// Fires (note) for each other race inside the block, and (caution) for a goal race nearer to this
/// one than the recovery of the first plus half the block of the second.
pub(super) fn judge(look: &Look<'_>) -> Vec<Finding> {
    look.subject.other_races.iter().filter_map(|other| clash(look, other)).collect()
}

pub(super) fn clash(look: &Look<'_>, other: &Race) -> Option<Finding> {
    let this = &look.block.race;
    let days = (this.date - other.date).num_days();
    if other == this {
        return None;
    }
    let (first, second) = if days >= 0 { (other, this) } else { (this, other) };
    let second_length =
        if days >= 0 { look.block.curve.length } else { event_defaults(second.distance.event()).curve.length };
    let need = wanted_recovery(first.distance.event()) + i64::from(second_length) / 2;
    let figure = |days: i64| Figure::Days(u16::try_from(days).unwrap_or(u16::MAX));
    let too_near = other.importance == Importance::Goal && days.abs() < need;
    let inside = (0..=i64::from(look.block.curve.length)).contains(&days);
    let level = if too_near {
        Level::Caution
    } else if inside {
        Level::Note
    } else {
        return None;
    };
    let limit = if too_near { need } else { i64::from(look.block.curve.length) };
    Some(
        Finding::new(RuleId::RacesClash, level, figure(days.abs()), figure(limit))
            .on(other.date)
            .about(About::Race(other.name.clone())),
    )
}

#[cfg(test)]
mod tests {
    use super::wanted_recovery;
    use crate::race::{Event, Importance, RaceDistance};
    use crate::recovery;
    use crate::review::RuleId;
    use crate::review::sample::{FIFTY_KM, SILENT, Sample, WEEK};

    /// Another race so many days before a half marathon with a block of 14 days.
    fn said(days_before: i64, distance: RaceDistance, importance: Importance) -> Vec<String> {
        Sample::new(WEEK, RaceDistance::Half).other(days_before, distance, importance).says(RuleId::RacesClash)
    }

    #[test]
    fn no_plan_takes_more_recovery_than_should_be() {
        for event in Event::ALL {
            assert!(i64::from(recovery::days(event)) <= wanted_recovery(event), "{event:?}");
        }
    }

    #[test]
    fn a_goal_race_before_leaves_its_recovery_and_half_of_the_block() {
        for (distance, need) in [
            (RaceDistance::FiveK, 2 + 7),
            (RaceDistance::TenK, 3 + 7),
            (RaceDistance::Half, 7 + 7),
            (RaceDistance::Marathon, 14 + 7),
            (FIFTY_KM, 21 + 7),
        ] {
            let near = need - 1;
            assert_eq!(
                said(near, distance, Importance::Goal),
                [format!("caution: {near} days for {need} days on D{near} (Goal race)")]
            );
            let far_enough = said(need, distance, Importance::Goal);
            assert!(!far_enough.iter().any(|said| said.starts_with("caution")), "{far_enough:?}");
        }
    }

    #[test]
    fn a_goal_race_after_needs_half_of_its_own_block() {
        // Half marathon 7 days, half of the marathon's 21 days.
        assert_eq!(
            said(-16, RaceDistance::Marathon, Importance::Goal),
            ["caution: 16 days for 17 days on D-16 (Goal race)"]
        );
        assert_eq!(said(-17, RaceDistance::Marathon, Importance::Goal), SILENT);
    }

    #[test]
    fn any_race_inside_the_block_is_noted() {
        for importance in [Importance::TuneUp, Importance::TrainingThrough] {
            assert_eq!(said(8, RaceDistance::FiveK, importance), ["note: 8 days for 14 days on D8 (Goal race)"]);
            assert_eq!(said(14, RaceDistance::FiveK, importance), ["note: 14 days for 14 days on D14 (Goal race)"]);
            assert_eq!(said(15, RaceDistance::FiveK, importance), SILENT);
            assert_eq!(said(-1, RaceDistance::FiveK, importance), SILENT);
        }
    }

    #[test]
    fn a_race_does_not_clash_with_itself() {
        assert_eq!(said(0, RaceDistance::Half, Importance::Goal), SILENT);
        assert_eq!(said(0, RaceDistance::FiveK, Importance::TuneUp), ["note: 0 days for 14 days on D0 (Goal race)"]);
    }
}
