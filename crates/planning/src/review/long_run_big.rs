//! The last long runs are too long, or a run is longer than any usual one.

use super::look::Look;
use super::{Figure, Finding, Level, RuleId};
use crate::block::{Day, Planned, Role};
use crate::race::Event;
use crate::session::{Kind, Session};
use crate::units::{Amount, Share, is_below_km, middle_km};
use crate::week::{Slot, WEEKDAYS};

/// How much of the longest usual run a long run may be on a day; nothing where any length is fine.
///
/// # Source
///
/// Common practice, no published source: the last long run 10-14 days before a half marathon and
/// 14-22 before a marathon; the open log `Stat2Data/Marathon` agrees for the marathon.
const fn most(event: Event, to_race: u16) -> Option<f64> {
    match (event, to_race) {
        (Event::FiveK, 7..=8) => Some(0.85),
        (_, 7..=8) => Some(0.80),
        (Event::Marathon | Event::Longer, 9..=13) => Some(0.85),
        _ => None,
    }
}

/// Fires for each long run above that, and on any day of the block for each run that is longer than the longest
/// usual one; another race is no run of the plan's making.
///
/// # Source
///
/// Common practice, no published source: nothing new before a race.
pub(super) fn judge(look: &Look<'_>) -> Vec<Finding> {
    let longest = longest_usual(look);
    look.block_days()
        .flat_map(|day| day.sessions.iter().map(move |planned| (day, planned)))
        .filter_map(|(day, planned)| {
            longer_than_usual(look, planned, longest)
                .or_else(|| too_late(look, day, planned))
                .map(|found| found.on(day.date))
        })
        .collect()
}

/// A long run that is too much of the longest usual one on its day.
fn too_late(look: &Look<'_>, day: &Day, planned: &Planned) -> Option<Finding> {
    let limit = most(look.block.event, day.to_race)?;
    let share = look.km(&planned.session) / look.lengths.longest;
    let is_long =
        (look.is_long(&planned.session) || is_hard_long_run(look, planned)) && !look.is_short(&planned.session);
    (is_long && share > limit + 0.001).then(|| {
        let limit = Figure::Share(Share(limit));
        Finding::new(RuleId::LongRunBig, Level::Caution, Figure::Share(Share(share)), limit)
    })
}

/// Whether a hard run of another kind stands where the longest run of the week usually stands, and still is as long
/// as a long run.
fn is_hard_long_run(look: &Look<'_>, planned: &Planned) -> bool {
    let is_longest = |usual: &Session| !is_below_km(look.km(usual), look.lengths.longest);
    let is_free = planned.role != Role::OtherRace && planned.session.kind != Kind::TimeTrial;
    is_free
        && planned.session.is_hard()
        && look.lengths.is_as_long_as_a_long_run(&planned.session, look.pace)
        && planned.usual.as_ref().is_some_and(is_longest)
}

/// A run that is longer than the longest usual one, upper end against upper end.
fn longer_than_usual(look: &Look<'_>, planned: &Planned, longest: Option<Amount>) -> Option<Finding> {
    let (now, longest) = (planned.session.running()?, longest?);
    let is_longer = is_below_km(most_km(look, longest), most_km(look, now)) && planned.role != Role::OtherRace;
    let figure = |amount: Amount| Figure::Amount(amount.high().as_f64(), amount.unit());
    is_longer.then(|| Finding::new(RuleId::LongRunBig, Level::Caution, figure(now), figure(longest)))
}

/// Whether a run is longer than any usual one.
pub(super) fn is_longest_of_all(look: &Look<'_>, planned: &Planned) -> bool {
    longer_than_usual(look, planned, longest_usual(look)).is_some()
}

/// The longest run of the base week, of both where two take turns, and of all that a slot lets choose.
fn longest_usual(look: &Look<'_>) -> Option<Amount> {
    let slots = look.subject.week.weeks().flat_map(|week| WEEKDAYS.into_iter().flat_map(|weekday| week.day(weekday)));
    let runs = slots.flat_map(Slot::options).filter_map(Session::running);
    runs.max_by(|one, other| most_km(look, *one).total_cmp(&most_km(look, *other)))
}

/// The upper end of an amount in kilometres.
fn most_km(look: &Look<'_>, amount: Amount) -> f64 {
    middle_km(Amount::exact(amount.high(), amount.unit()), look.pace)
}

#[cfg(test)]
mod tests {
    use super::most;
    use crate::block::long_run_step;
    use crate::race::{Event, RaceDistance};
    use crate::review::RuleId;
    use crate::review::sample::{FIFTY_KM, SILENT, Sample};

    /// The longest run is 20 km, the median 10 km.
    fn said(distance: RaceDistance, to_race: u16, line: &str) -> Vec<String> {
        Sample::long("- | tempo 10, hard 4 | - | 10 | - | 10 | long 20", distance, 14)
            .with(to_race, line)
            .says(RuleId::LongRunBig)
    }

    #[test]
    fn on_d8_and_d7_a_long_run_is_at_most_80_per_cent() {
        for distance in
            [RaceDistance::TenK, RaceDistance::TenMiles, RaceDistance::Half, RaceDistance::Marathon, FIFTY_KM]
        {
            for day in [7, 8] {
                assert_eq!(said(distance, day, "long 16"), SILENT, "{distance:?}");
                assert_eq!(said(distance, day, "long 16.1"), [format!("caution: 80.5 % for 80.0 % on D{day}")]);
            }
        }
        assert_eq!(said(RaceDistance::Half, 9, "long 20"), SILENT);
    }

    #[test]
    fn the_longest_run_counts_whatever_its_kind() {
        for kind in ["race pace", "progression", "tempo", "fartlek"] {
            let week = format!("- | tempo 10, hard 4 | - | 10 | - | 10 | {kind} 28, hard 10");
            let of = |line: String| Sample::long(&week, RaceDistance::TenK, 14).with(7, &line).says(RuleId::LongRunBig);
            assert_eq!(of(format!("{kind} 25, hard 9")), ["caution: 89.3 % for 80.0 % on D7"], "{kind}");
            assert_eq!(of(format!("{kind} 22, hard 8")), SILENT, "{kind}");
        }
    }

    #[test]
    fn the_planners_own_steps_lie_inside() {
        for event in Event::ALL {
            for to_race in 7..=28 {
                let limit = most(event, to_race).unwrap_or(1.0);
                assert!(long_run_step(event, to_race) <= limit, "{event:?} D{to_race}");
            }
        }
    }

    #[test]
    fn before_5_km_it_is_at_most_85_per_cent() {
        assert_eq!(said(RaceDistance::FiveK, 8, "long 17"), SILENT);
        assert_eq!(said(RaceDistance::FiveK, 8, "long 17.1"), ["caution: 85.5 % for 85.0 % on D8"]);
    }

    #[test]
    fn from_the_marathon_up_the_longest_is_over_by_d14() {
        for distance in [RaceDistance::Marathon, FIFTY_KM] {
            for day in [9, 13] {
                assert_eq!(said(distance, day, "long 17"), SILENT);
                assert_eq!(said(distance, day, "long 17.1"), [format!("caution: 85.5 % for 85.0 % on D{day}")]);
            }
            assert_eq!(said(distance, 14, "long 20"), SILENT);
        }
    }

    #[test]
    fn an_easy_run_as_long_is_a_long_run_and_a_short_one_is_not() {
        assert_eq!(said(RaceDistance::Half, 8, "easy 17"), ["caution: 85.0 % for 80.0 % on D8"]);
        let flat = Sample::new("- | 10 | - | 10 | - | 10 | 12", RaceDistance::Half).with(8, "easy 12");
        assert_eq!(flat.says(RuleId::LongRunBig), SILENT);
        let short = Sample::new("- | 2 | - | 2 | - | 2 | long 5", RaceDistance::FiveK).with(8, "long 5");
        assert_eq!(short.says(RuleId::LongRunBig), SILENT);
        // Half an hour is short too, however fast the runner.
        let fast = |long: &str| {
            let easy_pace = crate::units::Pace::new(210, crate::units::DistanceUnit::Km).ok();
            let athlete = crate::athlete::Athlete { name: "A".into(), easy_pace, ..Default::default() };
            let week = "- | 20 min | - | 20 min | - | 20 min | long 35 min";
            Sample::of(athlete, week, RaceDistance::FiveK).with(8, long).says(RuleId::LongRunBig).len()
        };
        assert_eq!((fast("long 30 min"), fast("long 35 min")), (0, 1));
    }

    /// On a Wednesday inside the block, far from the last days of long runs.
    #[test]
    fn a_run_longer_than_the_longest_usual_one_is_never_silent() {
        for line in ["easy 20", "long 20"] {
            assert_eq!(said(RaceDistance::Half, 11, line), SILENT);
        }
        for line in ["easy 20.1", "long 20.1", "tempo 20.1, hard 4"] {
            assert_eq!(said(RaceDistance::Half, 11, line), ["caution: 20.10 km for 20.00 km on D11"]);
        }
        // Once, and not once more for its share, nor outside the block.
        assert_eq!(said(RaceDistance::Half, 8, "long 25"), ["caution: 25.00 km for 20.00 km on D8"]);
        let short = Sample::long("- | tempo 10, hard 4 | - | 10 | - | 10 | long 20", RaceDistance::Half, 10);
        assert_eq!(short.with(11, "easy 25").says(RuleId::LongRunBig), SILENT);
    }

    #[test]
    fn the_longest_usual_run_is_the_upper_end_of_a_range_and_may_be_in_the_other_unit() {
        let range = || Sample::new("- | tempo 10, hard 4 | - | 10 | - | 10 | long 16-20", RaceDistance::Half);
        assert_eq!(range().with(11, "easy 20").says(RuleId::LongRunBig), SILENT);
        assert_eq!(range().with(11, "easy 20.5").says(RuleId::LongRunBig), ["caution: 20.50 km for 20.00 km on D11"]);
        assert_eq!(
            range().with(11, "easy 300 min").says(RuleId::LongRunBig),
            ["caution: 300.00 min for 20.00 km on D11"]
        );
    }
}
