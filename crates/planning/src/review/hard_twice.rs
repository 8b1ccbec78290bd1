//! Two whole hard sessions in the days that belong to one.

use super::look::Look;
use super::{Figure, Finding, Level, RuleId};
use crate::block::{Day, Planned};
use crate::units::Share;

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
const WHOLE_ABOVE: Share = Share(0.70);

/// Fires, half marathon and longer, when more than one whole hard session stands from D8 to D4.
pub(super) fn judge(look: &Look<'_>) -> Vec<Finding> {
    if look.block.event.up_to_10_miles() {
        return Vec::new();
    }
    let near = || look.block_days().filter(|day| DAYS.contains(&day.to_race));
    let whole = |day: &&Day| day.sessions.iter().any(is_whole);
    let (count, last) = (near().filter(whole).count(), near().filter(whole).last());
    let told = last.filter(|_| count > 1).map(|day| {
        let count = Figure::Count(u16::try_from(count).unwrap_or(u16::MAX));
        Finding::new(RuleId::HardTwice, Level::Caution, count, Figure::Count(1)).on(day.date)
    });
    told.into_iter().collect()
}

/// Whether a session is hard work and most of what it usually is.
fn is_whole(planned: &Planned) -> bool {
    if !planned.session.is_hard_work() {
        return false;
    }
    let middle = |session: &crate::session::Session| session.hard_part().map(crate::units::Amount::middle);
    let usual = planned.usual.as_ref().filter(|usual| usual.is_hard_work()).and_then(middle);
    match (middle(&planned.session), usual) {
        (Some(now), Some(usual)) => now > usual.times(WHOLE_ABOVE),
        _ => true,
    }
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
    }

    #[test]
    fn up_to_ten_miles_a_hard_session_on_d8_is_far_enough_away() {
        let both = [(8, "tempo 8, hard 5"), (5, "tempo 10, hard 4")];
        assert_eq!(said(RaceDistance::TenMiles, &both), SILENT);
        assert_eq!(said(RaceDistance::Half, &both), ["caution: 2 for 1 on D5"]);
    }
}
