//! A week, or a session, grows toward the race.

use super::look::Look;
use super::{Figure, Finding, Level, RuleId, long_run_big};
use crate::block::allocate::{SAYS_NOTHING, falls_behind};
use crate::block::{Day, WeekSummary};
use crate::session::Session;
use crate::units::Share;

/// A week's share may rise by this much: rounding of single runs.
const TOLERANCE: f64 = 0.02;

/// Fires when a week's share rises toward the race by more than 2 points, and when a session is
/// longer than it usually is, but not than any usual run. Where two weeks take turns, their running is held against the mean of the
/// two: a light week that keeps more of its own running than the full one before it does not rise. Of
/// two weeks that are thin anyway one may hold a single run, and nothing is to be said of weeks then.
///
/// # Source
///
/// Progressive falling tapers did better than relaxed ones: Smyth and Lawlor 2021,
/// doi 10.3389/fspor.2021.735220. The tolerance is common practice.
pub(super) fn judge(look: &Look<'_>) -> Vec<Finding> {
    let says_something = look.subject.week.turns().is_none() || !super::base_too_thin::is_thin(look);
    let rising = look.weeks.windows(2).filter(|_| says_something).filter_map(|pair| {
        let (before, after) = (share_before(look, &pair[0])?, share(look, &pair[1]));
        (after.0 > before.0 + TOLERANCE).then(|| {
            Finding::new(RuleId::WeekRises, Level::Caution, Figure::Share(after), Figure::Share(before))
                .on(pair[1].from)
        })
    });
    let longer = look.block_days().flat_map(|day| day.sessions.iter().map(move |planned| (day, planned))).filter_map(
        |(day, planned)| {
            let (now, usual) = (planned.session.running()?, planned.usual.as_ref()?.running()?);
            let grows = now.unit() == usual.unit() && now.middle() > usual.middle();
            let moved = day.pinned && stands_elsewhere(look, day, &planned.session);
            let figure = |amount: crate::units::Amount| Figure::Amount(amount.middle().as_f64(), amount.unit());
            // What is longer than any usual run is told by the rule for that.
            let is_said = long_run_big::is_longest_of_all(look, planned);
            (grows && !moved && !is_said)
                .then(|| Finding::new(RuleId::WeekRises, Level::Caution, figure(now), figure(usual)).on(day.date))
        },
    );
    rising.chain(longer).collect()
}

/// Whether another day of the same week usually holds this kind of session, no shorter: then it only stands
/// on another day than usual.
fn stands_elsewhere(look: &Look<'_>, day: &Day, session: &Session) -> bool {
    let (Some(now), Some(index)) = (session.running(), look.block.days.iter().position(|other| other.date == day.date))
    else {
        return false;
    };
    let week = look.block.days.chunks(7).nth(index / 7).unwrap_or_default();
    let others = week.iter().filter(|other| other.date != day.date).flat_map(|other| &other.usual);
    others
        .filter(|usual| usual.kind == session.kind)
        .filter_map(Session::running)
        .any(|usual| usual.unit() == now.unit() && usual.middle() >= now.middle())
}

/// What a week must not rise above; nothing where two weeks take turns as usual before the block.
fn share_before(look: &Look<'_>, week: &WeekSummary) -> Option<Share> {
    if look.subject.week.turns().is_none() {
        return Some(week.share);
    }
    let falls = falls_behind(week.before * 7, week.before == 1, look.block.curve.length);
    falls.then(|| Share(share(look, week).0.max(SAYS_NOTHING)))
}

fn share(look: &Look<'_>, week: &WeekSummary) -> Share {
    let base = look.subject.week;
    if base.turns().is_none() {
        return week.share;
    }
    let mean = base.running().middle_km(look.pace);
    if mean > 0.0 { Share(week.planned.middle_km(look.pace) / mean) } else { Share::ALL }
}

#[cfg(test)]
mod tests {
    use crate::race::RaceDistance;
    use crate::review::RuleId;
    use crate::review::sample::{SILENT, Sample, WEEK};

    fn said(sample: &Sample) -> Vec<String> {
        sample.says(RuleId::WeekRises)
    }

    fn uncut() -> Sample {
        Sample::new(WEEK, RaceDistance::Half).uncut()
    }

    #[test]
    fn a_week_may_be_two_points_above_the_one_before_it() {
        assert_eq!(said(&uncut().with(14, "long 15.2")), SILENT);
        assert_eq!(said(&uncut().with(14, "long 15")), ["caution: 100.0 % for 97.5 % on D13"]);
    }

    #[test]
    fn race_week_may_not_rise_either() {
        let low = uncut().with(12, "easy 5").with(10, "rest").with(8, "rest").with(7, "long 16");
        assert_eq!(said(&low), ["caution: 60.0 % for 52.5 % on D6"]);
    }

    #[test]
    fn a_session_is_not_longer_than_usual() {
        assert_eq!(said(&uncut().with(12, "tempo 9.5, hard 4")), ["caution: 9.50 km for 9.00 km on D12"]);
        assert_eq!(said(&uncut().with(12, "tempo 9, hard 4")), SILENT);
        assert_eq!(said(&uncut().with(12, "tempo 8-10, hard 4")), SILENT);
    }

    #[test]
    fn a_session_that_the_coach_moved_is_held_against_its_own_kind() {
        let moved = |line: &str| {
            let mut sample = uncut().with(12, "easy 7").with(8, line);
            for day in sample.block.days.iter_mut().filter(|day| [12, 8].contains(&day.to_race)) {
                day.pinned = true;
            }
            said(&sample)
        };
        assert_eq!(moved("tempo 9, hard 4"), SILENT, "the tempo of another day");
        assert_eq!(moved("tempo 9.5, hard 4"), ["caution: 9.50 km for 7.00 km on D8"], "longer than that as well");
    }

    #[test]
    fn what_cannot_be_compared_is_not() {
        // A session where usually none stands, and one in another unit.
        let sample = Sample::new(WEEK, RaceDistance::Half);
        assert_eq!(said(&sample.with(11, "easy 3").with(10, "easy 20 min")), SILENT);
    }
}
