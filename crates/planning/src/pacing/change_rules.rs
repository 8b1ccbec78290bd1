//! When to change the goal in a race: where to look at the clock, and what counts from there.

use super::{Pacing, paper_step};
use crate::goals::GoalLetter;
use crate::profile::Profile;
use crate::race_time::RaceTime;
use crate::station::Station;
use crate::units::{Distance, DistanceUnit, Milli};

/// A place at which the athlete looks at the clock.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Look<'a> {
    /// Its distance from the start.
    pub at: Distance,
    /// The station that stands there; nothing at a whole kilometre or mile.
    pub station: Option<&'a Station>,
}

/// When to change the goal.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum ChangeRule<'a> {
    /// B is run up to there; A from there only if it felt easy.
    GoForA {
        /// Where the athlete looks.
        look: Look<'a>,
        /// B's time there.
        elapsed: RaceTime,
        /// What is left of A's time then: the rest is a little faster than A's own, which begins at the start.
        left: RaceTime,
        /// What is left of the way.
        rest: Distance,
    },
    /// A is too far from B to change to it on the way.
    AFromTheStart,
    /// Further behind B's time than this many seconds and breathing hard: C from here.
    RunC(Look<'a>, RaceTime, u32),
    /// Further behind B's time than this many seconds: C is the goal now.
    CCounts(Look<'a>, RaceTime, u32),
}

/// When to change the goal, from the goals that have times. `pacings` are those of A, B and C; `stations` where the
/// athlete looks at the clock, whole kilometres or miles where there are none.
///
/// # Source
///
/// Common practice, no published source.
pub fn change_rules<'a>(
    pacings: &[Option<Pacing>; 3],
    profile: &Profile,
    stations: &'a [Station],
    unit: DistanceUnit,
) -> Vec<ChangeRule<'a>> {
    let of = |letter: GoalLetter| pacings[letter as usize].as_ref();
    let mut rules = Vec::new();
    let length = profile.length();
    let at_station =
        |share| nearest(stations, length, share).map(|one| Look { at: one.at.distance(), station: Some(one) });
    let whole = |share| Look { at: whole_units(length, unit, share), station: None };
    let looks = |share: f64| at_station(share).unwrap_or_else(|| whole(share));
    let are_apart = looks(EARLY).at < looks(TURNING).at;
    let mark = |share| if are_apart { looks(share) } else { whole(share) };
    if let (Some(a), Some(b)) = (of(GoalLetter::A), of(GoalLetter::B)) {
        let later = [TURNING, HALFWAY, EARLY].map(mark).into_iter().find(|look| is_believable(a, b, look.at));
        rules.push(later.map_or(ChangeRule::AFromTheStart, |look| go_for_a(a, b, look, length)));
    }
    if let (Some(b), Some(c)) = (of(GoalLetter::B), of(GoalLetter::C)) {
        let (early, turn) = (mark(EARLY), mark(TURNING));
        rules.push(ChangeRule::RunC(early, b.elapsed(early.at), half_the_gap(b, c, early.at)));
        rules.push(ChangeRule::CCounts(turn, b.elapsed(turn.at), half_the_gap(b, c, turn.at)));
    }
    rules
}

fn go_for_a<'a>(a: &Pacing, b: &Pacing, look: Look<'a>, length: Distance) -> ChangeRule<'a> {
    let elapsed = b.elapsed(look.at);
    let left = RaceTime::seconds(a.goal().as_seconds().saturating_sub(elapsed.as_seconds()));
    let rest = Distance::millimetres(length.as_millimetres() - look.at.as_millimetres());
    ChangeRule::GoForA { look, elapsed, left, rest }
}

/// Whether whoever has run B up to a mark can still reach A: the rest is then hardly faster than A's own.
fn is_believable(a: &Pacing, b: &Pacing, at: Distance) -> bool {
    let rest_of_a = a.goal().as_seconds().saturating_sub(a.elapsed(at).as_seconds());
    let left = a.goal().as_seconds().saturating_sub(b.elapsed(at).as_seconds());
    f64::from(left) >= f64::from(rest_of_a) * (1.0 - FASTER_AT_MOST)
}

/// From so many seconds on a gap is told in whole minutes.
///
/// # Source
///
/// A convention of ours: nobody works out seconds of a quarter of an hour on the way.
const WHOLE_MINUTES_FROM: u32 = 600;

/// Half of what lies between two goals at a mark, in seconds, to five of them, from [`WHOLE_MINUTES_FROM`] on to a minute:
/// whoever is further behind is nearer to the other goal.
fn half_the_gap(better: &Pacing, lesser: &Pacing, at: Distance) -> u32 {
    let gap = lesser.elapsed(at).as_seconds().saturating_sub(better.elapsed(at).as_seconds());
    let half = (gap / 2).div_ceil(5).max(1) * 5;
    if half < WHOLE_MINUTES_FROM { half } else { half.div_ceil(60) * 60 }
}

/// How much faster than the goal's own pace anybody may hope to run the rest.
///
/// # Source
///
/// Common practice, no published source.
const FASTER_AT_MOST: f64 = 0.02;

/// The share of the way after which the first look back is worth it,
///
/// # Source
///
/// Common practice, no published source.
const EARLY: f64 = 0.25;

/// and the one after which the look back decides.
///
/// # Source
///
/// Common practice, no published source.
const TURNING: f64 = 2.0 / 3.0;

/// Where a goal that is out of reach from [`TURNING`] on may still be in reach.
///
/// # Source
///
/// Common practice, no published source.
const HALFWAY: f64 = 0.5;

/// The station nearest to a share of the way, the finish left out.
fn nearest(stations: &[Station], length: Distance, share: f64) -> Option<&Station> {
    let wanted = (length.as_millimetres() as f64 * share) as i64;
    let on_the_way = stations.iter().filter(|station| station.at.distance() < length);
    on_the_way.min_by_key(|station| (station.at.distance().as_millimetres() - wanted).abs())
}

/// The row of the paper nearest to a share of the way: there the athlete has a time to look at.
fn whole_units(length: Distance, unit: DistanceUnit, share: f64) -> Distance {
    let units = length.as_millimetres() as f64 / unit.millimetres() as f64 * share;
    let step = f64::from(paper_step(unit, length));
    let at = Distance::from_milli(Milli::nearest((units / step).round().max(1.0) * step), unit);
    if at < length { at } else { Distance::millimetres(length.as_millimetres() / 2) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::goals::GoalTimes;
    use crate::pacing::Strategy;
    use crate::race::RaceDistance;
    use crate::station::Place;

    fn pacing(profile: &Profile, goal: u32) -> Pacing {
        Pacing::new(profile, Strategy::default(), RaceTime::seconds(goal))
    }

    #[test]
    fn one_time_alone_has_no_other_to_change_to() {
        let profile = Profile::flat(RaceDistance::Marathon.distance());
        let times = GoalTimes::readable(["", "3:30", "finish well"], profile.length());
        let pacings = times.times.map(|time| time.map(|time| Pacing::new(&profile, Strategy::default(), time)));
        assert_eq!(change_rules(&pacings, &profile, &[], DistanceUnit::Km), []);
    }

    #[test]
    fn no_rule_asks_for_a_rest_that_nobody_believes() {
        for length in [5_000, 10_000, 21_097, 42_195, 100_000] {
            let profile = Profile::flat(Distance::metres(length));
            let b = u32::try_from(length).unwrap() / 3;
            for half_percents in 1..=12 {
                let a = b - b * half_percents / 200;
                let pacings = [Some(pacing(&profile, a)), Some(pacing(&profile, b)), None];
                match change_rules(&pacings, &profile, &[], DistanceUnit::Km)[..] {
                    [ChangeRule::GoForA { look: Look { at, .. }, elapsed, left, rest }] => {
                        assert_eq!(left.as_seconds() + elapsed.as_seconds(), a);
                        assert_eq!(rest.as_millimetres() + at.as_millimetres(), profile.length().as_millimetres());
                        // How many times faster than A's even pace the rest has to be run.
                        let even = f64::from(a)
                            * (1.0 - at.as_millimetres() as f64 / profile.length().as_millimetres() as f64);
                        let faster = even / f64::from(a - elapsed.as_seconds());
                        assert!(faster < 1.03, "{length} m, {half_percents}/2 %: {faster} from {at:?}");
                    }
                    [ChangeRule::AFromTheStart] => assert!(half_percents > 2, "{length} m, {half_percents}/2 %"),
                    ref rules => panic!("{rules:?}"),
                }
            }
        }
    }

    #[test]
    fn half_of_what_lies_between_goals_is_in_fives_of_seconds_and_in_minutes_from_ten_on() {
        let profile = Profile::flat(Distance::metres(160_000));
        let gap = |lesser| half_the_gap(&pacing(&profile, 80_000), &pacing(&profile, lesser), profile.length());
        assert_eq!([80_000, 80_170, 81_198, 81_290, 84_000].map(gap), [5, 85, 600, 660, 2_040]);
        assert_eq!([87_200, 89_720].map(gap), [3_600, 4_860]);
    }

    #[test]
    fn stations_too_near_to_each_other_give_way_to_whole_kilometres() {
        let profile = Profile::flat(Distance::metres(10_000));
        let pacings = [3_000, 3_060, 3_200].map(|goal| Some(pacing(&profile, goal)));
        let at = Place::within(Milli::whole(5), DistanceUnit::Km, profile.length()).unwrap();
        let station = Station { at, name: "Mill".into(), what: String::new(), cut_off: None };
        let looked = |stations: &[Station]| {
            let rules = change_rules(&pacings, &profile, stations, DistanceUnit::Km);
            rules.iter().any(|rule| matches!(rule, ChangeRule::RunC(look, ..) if look.station.is_some()))
        };
        assert!(!looked(&[station]), "one station is both looks");
    }
}
