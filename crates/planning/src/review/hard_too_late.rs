//! A hard session so near to the race that it costs more than it gives.

use super::look::Look;
use super::{Figure, Finding, Level, RuleId};
use crate::session::Session;
use crate::units::middle_km;

/// The last day for a hard session: D3, half marathon and longer D4.
///
/// # Source
///
/// Common practice, no published source: 3-5 days before up to 10 km, 4-6 before the half, 5-10
/// before the marathon.
const fn last_day(up_to_10_miles: bool) -> u16 {
    if up_to_10_miles { 3 } else { 4 }
}

/// On D3 a key session cut to about a third of the usual is still fine.
const A_THIRD: f64 = 0.45;

/// Of two repetitions one is as near to a third as whole repetitions come.
const ONE_OF_TWO: f64 = 0.5;

/// Fires for each hard session later than that, but not for a touch of quick running: it costs next to nothing.
pub(super) fn judge(look: &Look<'_>) -> Vec<Finding> {
    let last = last_day(look.block.event.up_to_10_miles());
    let hard_km = |session: &Session| session.hard_part().map_or(0.0, |hard| middle_km(hard, look.pace));
    let usual = look.subject.week.sessions().map(|(_, session)| session).filter(|session| session.is_hard());
    let most_usual = usual.map(hard_km).fold(0.0, f64::max);
    look.block_days()
        .filter(|day| day.to_race < last)
        .flat_map(|day| day.sessions.iter().map(move |planned| (day, &planned.session)))
        .filter(|(_, session)| session.is_hard_work() && !session.is_hard_by_a_touch())
        .filter(|(day, session)| {
            let one_repetition = session.sets.iter().map(|sets| sets.reps).sum::<u16>() == 1;
            let part = if one_repetition { ONE_OF_TWO } else { A_THIRD };
            let a_third = hard_km(session) <= most_usual * part;
            !(day.to_race == 3 && session.is_hard() && a_third)
        })
        .map(|(day, _)| {
            Finding::new(RuleId::HardTooLate, Level::Caution, Figure::Days(day.to_race), Figure::Days(last))
                .on(day.date)
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use crate::race::RaceDistance;
    use crate::review::RuleId;
    use crate::review::sample::{FIFTY_KM, SILENT, Sample, WEEK};

    fn said(distance: RaceDistance, to_race: u16, line: &str) -> Vec<String> {
        Sample::new(WEEK, distance).with(to_race, line).says(RuleId::HardTooLate)
    }

    #[test]
    fn up_to_ten_miles_d3_is_the_last_day() {
        for distance in [RaceDistance::FiveK, RaceDistance::TenK, RaceDistance::TenMiles] {
            assert_eq!(said(distance, 3, "tempo 8, hard 4"), SILENT);
            assert_eq!(said(distance, 2, "tempo 8, hard 1.3"), ["caution: 2 days for 3 days on D2"]);
            assert_eq!(said(distance, 1, "tempo 8, hard 1.3"), ["caution: 1 days for 3 days on D1"]);
        }
    }

    #[test]
    fn from_the_half_marathon_up_d4_is_the_last_day() {
        for distance in [RaceDistance::Half, RaceDistance::Marathon, FIFTY_KM] {
            assert_eq!(said(distance, 4, "tempo 8, hard 4"), SILENT);
            assert_eq!(said(distance, 3, "tempo 8, hard 4"), ["caution: 3 days for 4 days on D3"]);
        }
    }

    #[test]
    fn so_it_is_for_hard_cross_training() {
        assert_eq!(said(RaceDistance::TenK, 3, "cross-training 40, hard 10"), SILENT);
        assert_eq!(said(RaceDistance::TenK, 2, "cross-training 40, hard 10"), ["caution: 2 days for 3 days on D2"]);
        assert_eq!(said(RaceDistance::Half, 3, "cross-training 40, hard 6"), ["caution: 3 days for 4 days on D3"]);
        assert_eq!(said(RaceDistance::Half, 3, "cross-training 40"), SILENT);
    }

    #[test]
    fn on_d3_about_a_third_is_still_fine_and_on_d2_it_is_not() {
        assert_eq!(said(RaceDistance::Half, 3, "tempo 6, hard 1.8"), SILENT);
        assert_eq!(said(RaceDistance::Half, 3, "tempo 6, hard 1.9"), ["caution: 3 days for 4 days on D3"]);
        assert_eq!(said(RaceDistance::Half, 2, "tempo 6, hard 1.3"), ["caution: 2 days for 4 days on D2"]);
    }

    #[test]
    fn one_of_two_repetitions_is_a_third_too() {
        let two = |line| {
            let week = "- | 2 x 2 km, 9 km | - | easy 8 | - | easy 7 | long 16";
            Sample::new(week, RaceDistance::Half).with(3, line).says(RuleId::HardTooLate)
        };
        assert_eq!(two("1 x 2 km, 6 km"), SILENT);
        assert_eq!(two("1 x 2.1 km, 6 km"), ["caution: 3 days for 4 days on D3"]);
        assert_eq!(two("2 x 1 km, 6 km"), ["caution: 3 days for 4 days on D3"]);
    }

    #[test]
    fn a_touch_of_quick_running_is_never_too_late() {
        for to_race in [1, 2, 3] {
            for silent in
                ["tempo 6, hard 1.2", "5 km with 4 x 1 min brisk", "tempo 6, 5 x 60 s", "cross-training 40, hard 5"]
            {
                assert_eq!(said(RaceDistance::Half, to_race, silent), SILENT, "{silent}");
            }
        }
        assert_eq!(said(RaceDistance::Half, 2, "tempo 6, 6 x 60 s"), ["caution: 2 days for 4 days on D2"]);
    }

    #[test]
    fn a_third_is_weighed_across_units() {
        // Twenty minutes are about 3.3 km: four hard kilometres are more, not a fifth.
        let week = "- | tempo 60 min, hard 20 min | - | easy 8 | - | easy 7 | long 16";
        let mixed = |line| Sample::new(week, RaceDistance::Half).with(3, line).says(RuleId::HardTooLate);
        assert_eq!(mixed("tempo 8, hard 4"), ["caution: 3 days for 4 days on D3"]);
        assert_eq!(mixed("tempo 40 min, hard 9 min"), SILENT);
    }
}
