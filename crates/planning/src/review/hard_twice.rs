//! Two whole hard sessions in the days that belong to one.

use super::look::{Look, is_hard_work};
use super::{Figure, Finding, Level, RuleId};
use crate::block::{Day, Planned, race_week};
use crate::session::Session;
use crate::units::middle_km;

/// Days before the race in which one whole hard session stands at most, half marathon and longer.
///
/// # Source
///
/// Common practice, no published source.
const DAYS: std::ops::RangeInclusive<u16> = 4..=8;

/// A session that keeps no more than this of its hard part is no longer a whole one: a tune-up race on
/// D8 and a short key session after it go together.
///
/// # Source
///
/// Common practice, no published source.
const WHOLE_ABOVE: f64 = 0.70;

/// Nor is one with so little hard running, in kilometres: whole repetitions of little, or half miles, are soon most of it.
const LITTLE_KM: f64 = 2.5;

/// Fires, half marathon and longer, when more than one whole hard session stands from D8 to D4, the last of
/// them in race week: two before it that the athlete is used to are the routine of the week before.
pub(super) fn judge(look: &Look<'_>) -> Vec<Finding> {
    if look.block.event.up_to_10_miles() {
        return Vec::new();
    }
    let near = || look.block_days().filter(|day| DAYS.contains(&day.to_race));
    if near().filter(|day| is_hard_work(day)).count() < 2 {
        return Vec::new();
    }
    let hard_km = |session: &Session| session.hard_part().map_or(0.0, |hard| middle_km(hard, look.pace));
    let most_usual = look.subject.week.sessions().map(|(_, session)| hard_km(session)).fold(0.0, f64::max);
    // A session that was moved here stands in the place of another, mostly of another kind: it is held against
    // the hardest of the week.
    let is_whole = |day: &Day, planned: &Planned| {
        let same = |usual: &&Session| usual.is_hard_work() && usual.kind == planned.session.kind;
        let usual = planned.usual.as_ref().filter(same).map_or(most_usual, hard_km);
        // Where a raised floor leaves more of everything, it leaves more of hard running too.
        let whole_above = look.block.share(day.to_race).0.max(WHOLE_ABOVE);
        planned.session.is_hard_work() && hard_km(&planned.session) > (usual * whole_above).max(LITTLE_KM)
    };
    let whole = |day: &&Day| day.sessions.iter().any(|planned| is_whole(day, planned));
    let (count, last) = (near().filter(whole).count(), near().filter(whole).last());
    let told = last.filter(|day| count > 1 && race_week::holds(day.to_race)).map(|day| {
        let count = Figure::Count(u16::try_from(count).unwrap_or(u16::MAX));
        Finding::new(RuleId::HardTwice, Level::Caution, count, Figure::Count(1)).on(day.date)
    });
    told.into_iter().collect()
}

#[cfg(test)]
mod tests {
    use crate::race::RaceDistance;
    use crate::review::RuleId;
    use crate::review::sample::{SILENT, Sample};

    const WEEK: &str = "rest | tempo 10, hard 4 | 8 | 10 | rest | tempo 8, hard 5 | long 24";

    fn said(distance: RaceDistance, days: &[(u16, &str)]) -> Vec<String> {
        let sample = Sample::new(WEEK, distance);
        days.iter().fold(sample, |sample, (to_race, line)| sample.with(*to_race, line)).says(RuleId::HardTwice)
    }

    #[test]
    fn a_whole_session_on_d8_goes_with_a_short_one_later_and_not_with_a_whole_one() {
        let on_d5 = |line| said(RaceDistance::Marathon, &[(8, "tempo 8, hard 5"), (5, line)]);
        assert_eq!(on_d5("tempo 7, hard 2.8"), SILENT);
        assert_eq!(on_d5("tempo 7, hard 2.9"), ["caution: 2 for 1 on D5"]);
    }

    #[test]
    fn what_stands_before_d8_or_after_d4_is_no_business_of_this_rule() {
        let with_d5 =
            |to_race| said(RaceDistance::Half, &[(8, "8"), (5, "tempo 10, hard 4"), (to_race, "tempo 8, hard 5")]);
        assert_eq!(with_d5(9), SILENT);
        assert_eq!(with_d5(8), ["caution: 2 for 1 on D5"]);
        assert_eq!(with_d5(4), ["caution: 2 for 1 on D4"]);
        assert_eq!(with_d5(3), SILENT);
        let usual = "rest | tempo 10, hard 4 | 8 | 10 | rest | tempo 8, hard 5 | long 24, hard 8";
        assert_eq!(Sample::new(usual, RaceDistance::Half).uncut().with(5, "8").says(RuleId::HardTwice), SILENT);
    }

    #[test]
    fn two_and_a_half_kilometres_are_little_whatever_is_usual() {
        let week = "rest | tempo 6, hard 2 | 8 | 10 | rest | tempo 6, hard 2 | long 24";
        let both =
            |line: &str| Sample::new(week, RaceDistance::Half).with(8, line).with(5, line).says(RuleId::HardTwice);
        assert_eq!(both("tempo 6, hard 2.5"), SILENT);
        assert_eq!(both("tempo 6, hard 2.6"), ["caution: 2 for 1 on D5"]);
    }

    #[test]
    fn up_to_ten_miles_a_hard_session_on_d8_is_far_enough_away() {
        let both = [(8, "tempo 8, hard 5"), (5, "tempo 10, hard 4")];
        assert_eq!(said(RaceDistance::TenMiles, &both), SILENT);
        assert_eq!(said(RaceDistance::Half, &both), ["caution: 2 for 1 on D5"]);
    }
}
