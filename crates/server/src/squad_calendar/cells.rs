//! What one week holds for one athlete, in words, in the order of its days.

use std::collections::HashSet;

use chrono::{Datelike, Days, NaiveDate};
use formats::words;
use planning::timeline::{Claim, Phase, around, way_back_off, ways_back};
use planning::{Importance, Outcome, Race};
use store::{BlockId, CalendarAthlete, CalendarRace, RaceId};

use super::picture::{Goal, Picture};
use crate::blocks::{as_run, lines};

/// What the week of a goal race is called.
pub(super) const RACE_WEEK: &str = "race week";

/// As many letters of a name fit on a line of a week, with nothing beside them.
const SHORT_NAME: usize = 8;

/// One week of one athlete; without parts it is as any other week.
#[derive(Default)]
pub(super) struct Cell {
    /// The first day, for where the head of the column is far.
    pub(super) week: String,
    pub(super) is_now: bool,
    pub(super) parts: Vec<Part>,
    pub(super) picture: Picture,
}

/// Something that stands in a week.
pub(super) enum Part {
    Block {
        id: BlockId,
        /// `block` or `race week`.
        words: &'static str,
        /// What is left of the usual running in the block's week that ends here, as its page tells it.
        share: Option<String>,
        race: String,
    },
    /// The week of a goal race in which no day of a block lies.
    RaceWeek {
        missing: Missing,
    },
    Race {
        id: RaceId,
        name: String,
        /// Whether the name is so short that it is not cut.
        is_short: bool,
        facts: String,
        /// Why it is not run.
        off: Option<&'static str>,
    },
    Recovery {
        race: String,
    },
    /// After the recovery, until the running is as usual or the next block begins.
    WayBack {
        race: String,
    },
    /// The same after a race that is not run.
    BackOff {
        race: String,
    },
}

/// What is not there that should be.
#[derive(Clone, Copy)]
pub(super) enum Missing {
    Nothing,
    Block,
    /// There is a block, for the day on which the race was before.
    BlockForThisDay(BlockId),
}

/// The weeks of one athlete.
pub(super) fn cells(athlete: &CalendarAthlete, from: NaiveDate, weeks: u32, today: NaiveDate) -> Vec<Cell> {
    let goal_races: Vec<(&CalendarRace, Race)> = athlete
        .races
        .iter()
        .filter(|one| one.entry.importance == Importance::Goal && one.entry.is_run(&one.race))
        .map(|one| (one, as_run(&one.entry, one.race.race.clone())))
        .collect();
    let goals: Vec<Goal<'_>> = goal_races
        .iter()
        .map(|(one, race)| {
            let block = one.block.as_ref().filter(|block| block.race_day == race.date);
            Goal { race, block }
        })
        .collect();
    let begun: Vec<_> = goals.iter().map(|goal| (goal.race, goal.block.map(planning::Block::first_day))).collect();
    let mut claims = around(&begun);
    // Races that are not run stand behind those that are, by their places among all.
    let off: Vec<&CalendarRace> = athlete.races.iter().filter(|one| one.off.is_some()).collect();
    claims.extend(off.iter().enumerate().filter_map(|(place, one)| {
        let (since, block) = one.off.as_ref()?;
        way_back_off(block, *since, Some(goals.len() + place))
    }));
    claims.extend(ways_back(&goals.iter().map(|goal| goal.race).collect::<Vec<_>>()));
    let whole = Whole { athlete, races: &goal_races, goals: &goals, off, claims, today };
    (0..weeks).map(|week| whole.cell(from + Days::new(u64::from(week) * 7))).collect()
}

/// Everything of an athlete that the weeks are parts of.
struct Whole<'a> {
    athlete: &'a CalendarAthlete,
    races: &'a [(&'a CalendarRace, Race)],
    goals: &'a [Goal<'a>],
    off: Vec<&'a CalendarRace>,
    claims: Vec<Claim>,
    today: NaiveDate,
}

impl Whole<'_> {
    fn cell(&self, from: NaiveDate) -> Cell {
        let to = from + Days::new(6);
        let mut parts = Vec::new();
        let mut picture = Picture::of(from, self.goals, &self.claims);
        let mut seen = HashSet::new();
        for day in from.iter_days().take(7) {
            let claim = self.claims.iter().find(|claim| (claim.from..=claim.to).contains(&day));
            if let Some((phase, race)) = claim.and_then(|claim| Some((claim.phase, claim.race?)))
                && seen.insert((phase, race))
            {
                // The week in which the recovery ends is still called that.
                let is_recovery = |part: &Part| matches!(part, Part::Recovery { .. });
                if phase != Phase::Bridge || !parts.iter().any(is_recovery) {
                    parts.extend(self.span(phase, race, from, to));
                }
            }
            for one in self.athlete.races.iter().filter(|one| one.race.race.date == day) {
                let place = self.races.iter().position(|(goal, _)| std::ptr::eq(*goal, one));
                if let Some(place) = place.filter(|place| !seen.contains(&(Phase::Block, *place))) {
                    parts.push(Part::RaceWeek { missing: self.missing(one, place) });
                }
                picture.race(from, &one.race.race, one.entry.is_run(&one.race));
                parts.push(race_part(one));
            }
        }
        Cell { week: lines::day_month_short(from), is_now: (from..=to).contains(&self.today), parts, picture }
    }

    /// What the first day of a span in a week says of it.
    fn span(&self, phase: Phase, place: usize, from: NaiveDate, to: NaiveDate) -> Option<Part> {
        if phase == Phase::Return {
            let off = self.off.get(place.checked_sub(self.goals.len())?)?;
            return Some(Part::BackOff { race: lines::race_name(&off.race.race) });
        }
        let (one, race) = self.races.get(place)?;
        let name = lines::race_name(race);
        match phase {
            Phase::Block => Some(Part::Block {
                id: one.entry.block?,
                words: if (from..=to).contains(&race.date) { RACE_WEEK } else { "block" },
                share: self.goals.get(place)?.block?.week_ending(from, to).map(|week| words::per_cent(week.share)),
                race: name,
            }),
            Phase::Recovery => Some(Part::Recovery { race: name }),
            Phase::Bridge => Some(Part::WayBack { race: name }),
            _ => None,
        }
    }

    fn missing(&self, one: &CalendarRace, place: usize) -> Missing {
        let has_block = self.goals.get(place).is_some_and(|goal| goal.block.is_some());
        match one.entry.block {
            _ if has_block || one.race.race.date < self.today => Missing::Nothing,
            Some(block) => Missing::BlockForThisDay(block),
            None => Missing::Block,
        }
    }
}

fn race_part(one: &CalendarRace) -> Part {
    let race = &one.race.race;
    let importance = match race.importance {
        Importance::Goal => "goal",
        Importance::TuneUp => "tune-up",
        Importance::TrainingThrough => "training through",
    };
    let off = if one.race.called_off.is_some() {
        Some("called off")
    } else if one.entry.outcome == Some(Outcome::DidNotStart) {
        Some("not started")
    } else {
        None
    };
    let day = words::weekday_short(race.date.weekday());
    let name = lines::race_name(race);
    Part::Race {
        id: one.race.id,
        is_short: name.chars().count() <= SHORT_NAME,
        name,
        facts: format!("{}, {}, {day}", words::race_distance(race.distance), off.unwrap_or(importance)),
        off,
    }
}
