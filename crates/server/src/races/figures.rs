//! The figures of a block that stand beside those of the others, and which of them are odd.

use formats::words;
use planning::{Block, Day, DistanceUnit, Event, Milli, Pace, Totals, Unit};

use crate::blocks::lines;

/// From so many figures on a middle says something.
const FEWEST: usize = 4;

/// What is compared between the blocks of a race.
#[derive(Clone, Debug)]
pub(super) struct Figures {
    event: Event,
    /// How many days the block takes.
    pub(super) days: i32,
    /// Race week's running without the race, of the usual, in per cent.
    pub(super) share: i32,
    /// Days from the last hard session to the race, if there is one.
    pub(super) last_hard: Option<i32>,
    /// Days of race week on which nothing is run.
    pub(super) not_run: i32,
    /// `4 km`, `25 min, about 5 km`, `rest`.
    pub(super) day_before: String,
    /// The longest run of the last fortnight, said as the day before is; `none`.
    pub(super) longest: String,
    /// Whether a distance stands beside minutes there.
    pub(super) has_estimate: bool,
}

/// The last days before the race in which the longest run is looked for.
const FORTNIGHT: u16 = 14;

impl Figures {
    pub(super) fn of(block: &Block, units: DistanceUnit) -> Self {
        let pace = block.pace.unwrap_or(Pace::ASSUMED);
        let days = || block.days.iter().filter(|day| day.to_race > 0);
        let runs = days()
            .filter(|day| day.to_race <= FORTNIGHT)
            .flat_map(|day| &day.sessions)
            .filter_map(|planned| planned.session.running());
        let longest = runs.max_by(|one, other| {
            planning::units::middle_km(*one, pace).total_cmp(&planning::units::middle_km(*other, pace))
        });
        let told = |running: &Totals| words::totals_as_distance(running, units, block.pace);
        let has_minutes = |day: &Day| day.planned_running().of(Unit::Min).high() > Milli::ZERO;
        let day_before = days().find(|day| day.to_race == 1).map(Day::planned_running);
        Self {
            event: block.event,
            days: i32::from(block.curve.length),
            share: block.weeks().last().map_or(100, |week| week.share.percent()),
            last_hard: days().filter(|day| day.is_hard()).map(|day| i32::from(day.to_race)).min(),
            not_run: i32::try_from(block.days_without_running().count()).unwrap_or_default(),
            day_before: match day_before {
                Some(running) if !running.is_empty() => told(&running),
                _ => lines::REST.to_owned(),
            },
            longest: longest.map_or_else(|| "none".to_owned(), |run| told(&[run].into_iter().collect())),
            has_estimate: block.pace.is_some() && days().any(has_minutes),
        }
    }
}

/// One kind of figure, how far it may lie from the middle, and how it is said.
struct Measure {
    of: fn(&Figures) -> Option<i32>,
    most: i32,
    said: fn(i32, i32) -> String,
}

/// How far a figure of a block may lie from the middle of those for the same race before it is odd: share of the
/// usual 10 points, length 3 days, last hard session and days of race week without running 2.
///
/// # Source
///
/// Common practice, no published source: what a coach would ask about when the same race is ahead.
const MEASURES: [Measure; 4] = [
    Measure {
        of: |figures| Some(figures.share),
        most: 10,
        said: |own, middle| format!("race week at {own}% of usual, the middle of the others is {middle}%"),
    },
    Measure {
        of: |figures| Some(figures.days),
        most: 3,
        said: |own, middle| format!("{own} days long, the middle of the others is {middle}"),
    },
    Measure {
        of: |figures| figures.last_hard,
        most: 2,
        said: |own, middle| format!("last hard session {} out, the middle of the others is {middle}", days(own)),
    },
    Measure {
        of: |figures| Some(figures.not_run),
        most: 2,
        said: |own, middle| format!("{} of race week without running, the middle of the others is {middle}", days(own)),
    },
];

fn days(count: i32) -> String {
    words::plural(usize::try_from(count).unwrap_or_default(), "day")
}

/// What is odd about each of these, beside the others who run the same kind of event.
pub(super) fn odd(all: &[Figures]) -> Vec<Vec<String>> {
    let of_one = |number: usize, figures: &Figures| -> Vec<String> {
        MEASURES
            .iter()
            .filter_map(|measure| {
                let own = (measure.of)(figures)?;
                let others = all.iter().enumerate().filter(|(other, _)| *other != number);
                let same = others.filter(|(_, other)| other.event == figures.event);
                let middle = middle(same.filter_map(|(_, other)| (measure.of)(other)).collect())?;
                ((own - middle).abs() > measure.most).then(|| (measure.said)(own, middle))
            })
            .collect()
    };
    all.iter().enumerate().map(|(number, figures)| of_one(number, figures)).collect()
}

/// The middle one of some figures, the lower of two; nothing of too few.
fn middle(mut figures: Vec<i32>) -> Option<i32> {
    if figures.len() + 1 < FEWEST {
        return None;
    }
    figures.sort_unstable();
    figures.get((figures.len() - 1) / 2).copied()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn figures(share: i32, last_hard: Option<i32>) -> Figures {
        Figures {
            event: Event::TenK,
            days: 10,
            share,
            last_hard,
            not_run: 3,
            day_before: "4 km".to_owned(),
            longest: "none".to_owned(),
            has_estimate: false,
        }
    }

    #[test]
    fn what_lies_far_from_the_middle_of_the_others_is_said_with_both() {
        let all = [50, 55, 58, 69, 60].map(|share| figures(share, Some(5)));
        let found = odd(&all);
        assert_eq!(found[3], ["race week at 69% of usual, the middle of the others is 55%"]);
        assert_eq!(found.iter().filter(|odd| !odd.is_empty()).count(), 1, "{found:?}");
        let border = [50, 50, 50, 60].map(|share| figures(share, Some(5)));
        assert!(odd(&border).iter().all(Vec::is_empty), "ten points are not more than ten");
    }

    #[test]
    fn who_has_no_such_session_is_not_compared_and_of_few_nobody_is_odd() {
        let mut all = vec![figures(50, Some(4)), figures(50, Some(4)), figures(50, Some(9)), figures(50, None)];
        assert!(odd(&all).iter().all(Vec::is_empty), "two others make no middle");
        all.push(figures(50, Some(4)));
        assert_eq!(odd(&all)[2], ["last hard session 9 days out, the middle of the others is 4"]);
        let few = [20, 90, 50].map(|share| figures(share, None));
        assert!(odd(&few).iter().all(Vec::is_empty));
        let mut other_event = [50, 50, 50, 90].map(|share| figures(share, None));
        other_event[3].event = Event::Marathon;
        assert!(odd(&other_event).iter().all(Vec::is_empty));
    }
}
