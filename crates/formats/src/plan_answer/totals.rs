//! The totals of a week in one unit, as far as they have one.
//!
//! A week all in one unit is told in that unit. Kilometres and miles together are told in the
//! athlete's unit. Minutes and distance together are an estimate in the athlete's unit where an easy
//! pace is known; where none is, minutes stand apart under `also`.

use planning::{Amount, Athlete, Block, DistanceUnit, Milli, Pace, Race, Share, Totals, Unit, WeekSummary};
use serde::Serialize;

use super::{DistanceOut, Range, is_not, range, share};
use crate::words::tenth;

#[derive(Debug, Serialize)]
pub(super) struct Week {
    from: String,
    to: String,
    usual: Range,
    planned: Range,
    unit: &'static str,
    share: f64,
    intensity_share: f64,
    usual_intensity_share: f64,
    run_days: usize,
    usual_run_days: usize,
    race: Option<RaceOut>,
    /// Nothing where the week is in minutes: a race is not.
    with_race: Option<Range>,
    #[serde(skip_serializing_if = "is_not")]
    estimated: bool,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    also: Vec<AlsoWeek>,
}

#[derive(Debug, Serialize)]
struct AlsoWeek {
    usual: Range,
    planned: Range,
    unit: &'static str,
}

#[derive(Debug, Serialize)]
struct RaceOut {
    name: String,
    date: String,
    distance: DistanceOut,
}

impl RaceOut {
    fn new(race: &Race) -> Self {
        Self { name: race.name.clone(), date: race.date.to_string(), distance: DistanceOut::new(race.distance) }
    }
}

#[derive(Debug, Serialize)]
pub(super) struct BeforeRace {
    amount: Range,
    unit: &'static str,
    share: f64,
    with_race: Option<Range>,
    #[serde(skip_serializing_if = "is_not")]
    estimated: bool,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    also: Vec<Also>,
}

#[derive(Debug, Serialize)]
struct Also {
    amount: Range,
    unit: &'static str,
}

impl Week {
    pub(super) fn new(week: &WeekSummary, block: &Block, athlete: &Athlete) -> Self {
        let way = Way::of(week, athlete);
        let minutes = |totals: &Totals| range(totals.of(Unit::Min));
        Self {
            from: week.from.to_string(),
            to: week.to.to_string(),
            usual: range(way.total(&week.usual)),
            planned: range(way.total(&week.planned)),
            unit: way.unit.symbol(),
            share: share(week.share),
            intensity_share: share(week.intensity),
            usual_intensity_share: share(week.usual_intensity),
            run_days: week.run_days,
            usual_run_days: week.usual_run_days,
            race: week.race.is_some().then(|| RaceOut::new(&block.race)),
            with_race: way.with_race(week).map(range),
            estimated: way.estimated(),
            also: way
                .minutes_apart()
                .then(|| AlsoWeek {
                    usual: minutes(&week.usual),
                    planned: minutes(&week.planned),
                    unit: Unit::Min.symbol(),
                })
                .into_iter()
                .collect(),
        }
    }
}

impl BeforeRace {
    pub(super) fn new(race_week: Option<&WeekSummary>, athlete: &Athlete) -> Self {
        let Some(week) = race_week else {
            let none = range(Amount::exact(Milli::ZERO, athlete.units.unit()));
            let unit = athlete.units.symbol();
            return Self {
                amount: none,
                unit,
                share: share(Share::ALL),
                with_race: None,
                estimated: false,
                also: vec![],
            };
        };
        let way = Way::of(week, athlete);
        let minutes = || Also { amount: range(week.planned.of(Unit::Min)), unit: Unit::Min.symbol() };
        Self {
            amount: range(way.total(&week.planned)),
            unit: way.unit.symbol(),
            share: share(week.share),
            with_race: way.with_race(week).map(range),
            estimated: way.estimated(),
            also: way.minutes_apart().then(minutes).into_iter().collect(),
        }
    }
}

/// How a week's totals are brought to one unit.
#[derive(Clone, Copy, Debug)]
struct Way {
    unit: Unit,
    mix: Mix,
}

/// What a week is made of.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Mix {
    /// One unit, or kilometres and miles.
    Plain,
    /// Minutes and distance, and the pace that brings them together.
    Estimated(Pace),
    /// Minutes and distance, which nothing brings together.
    Apart,
}

impl Way {
    fn of(week: &WeekSummary, athlete: &Athlete) -> Self {
        let everything: Totals = week.usual.parts().iter().chain(week.planned.parts()).copied().collect();
        if let Some(unit) = everything.single_unit() {
            return Self { unit, mix: Mix::Plain };
        }
        let has_minutes = everything.parts().iter().any(|part| part.unit() == Unit::Min);
        let mix = match athlete.easy_pace {
            _ if !has_minutes => Mix::Plain,
            Some(pace) => Mix::Estimated(pace),
            None => Mix::Apart,
        };
        Self { unit: athlete.units.unit(), mix }
    }

    const fn estimated(self) -> bool {
        matches!(self.mix, Mix::Estimated(_))
    }

    const fn minutes_apart(self) -> bool {
        matches!(self.mix, Mix::Apart)
    }

    fn total(self, totals: &Totals) -> Amount {
        if let [only] = totals.parts()
            && only.unit() == self.unit
        {
            return *only;
        }
        let pace = match self.mix {
            Mix::Estimated(pace) => pace,
            Mix::Plain | Mix::Apart => Pace::ASSUMED,
        };
        let counted: Totals =
            totals.parts().iter().copied().filter(|part| self.mix != Mix::Apart || part.unit() != Unit::Min).collect();
        let total = counted.estimate(self.unit, pace);
        if self.estimated() {
            Amount::between(tenth(total.low().as_f64()), tenth(total.high().as_f64()), self.unit)
        } else {
            total
        }
    }

    /// The planned running and the race.
    fn with_race(self, week: &WeekSummary) -> Option<Amount> {
        let planned = self.total(&week.planned);
        let Some(race) = week.race else { return Some(planned) };
        let race = match self.unit {
            Unit::Km => race.in_unit(DistanceUnit::Km),
            Unit::Mi => race.in_unit(DistanceUnit::Mi),
            Unit::Min => return None,
        };
        Some(Amount::between(planned.low() + race, planned.high() + race, self.unit))
    }
}
