//! Several races on one way: blocks, races, recoveries and what lies between them.
//!
//! Every day from the first to the last asked for stands in exactly one span. Where two claim a day,
//! a race goes before a block, a block before a recovery, a recovery before the way back to the usual
//! week; and a block never begins before the recovery from the race before it is over, so that where
//! two weeks are all there is, they are recovery.

use chrono::{Days, NaiveDate};

use crate::athlete::Athlete;
use crate::block::{Block, Cut, Day, NO_NEW_BUILD, QuietDay, Request, bridge_days, plan, recovery_days};
use crate::curve::Settings;
use crate::life::LifeEvent;
use crate::race::{Importance, Race};
use crate::recovery;
use crate::replan::quiet_day_under;
use crate::replan::race::{back_until, called_off};
use crate::units::Totals;
use crate::week::BaseWeek;

/// What a span of days is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Phase {
    /// The usual week.
    Usual,
    /// The block before a goal race.
    Block,
    /// The day of a goal race.
    Race,
    /// Recovery after a goal race.
    Recovery,
    /// From recovery to the next block, or to the usual week.
    Bridge,
    /// Back to the usual week after a race was called off.
    Return,
}

/// Days of one kind, one after the other.
#[derive(Clone, Debug, PartialEq)]
pub struct Span {
    /// What it is.
    pub phase: Phase,
    /// The goal race it belongs to, by its place in [`Season::races`]; nothing for a block whose race is not run.
    pub race: Option<usize>,
    /// The block whose race is not run that it is of, by its place in [`Season::called_off`].
    pub off: Option<usize>,
    /// Its first day.
    pub from: NaiveDate,
    /// Its last day.
    pub to: NaiveDate,
    /// Usual running, added up.
    pub usual: Totals,
    /// Planned running, added up; goal races are not counted.
    pub planned: Totals,
    /// What the block takes away that it is of, as its own page counts it: with race day, which is no day of this span.
    /// Nothing where the span does not begin with the block.
    pub cut: Option<Cut>,
    /// Its days, where it belongs to no block.
    pub days: Vec<QuietDay>,
    /// Other races on its days, by their places.
    pub others: Vec<usize>,
}

/// An athlete's races, and what was made and called off for them.
#[derive(Clone, Copy, Debug)]
pub struct Season<'a> {
    /// The athlete.
    pub athlete: &'a Athlete,
    /// What they usually run.
    pub week: &'a BaseWeek,
    /// Every race that is still to be run or was run, in any order. The distance of one that was cut
    /// short is the one really run.
    pub races: &'a [Race],
    /// Blocks that were made; a goal race without one gets the default.
    pub blocks: &'a [&'a Block],
    /// Blocks whose race was called off, each with the day on which that was known.
    pub called_off: &'a [(&'a Block, NaiveDate)],
    /// Illness and injury, as they stand: nothing is run on their days, whatever the usual week holds, and on the way
    /// back from a race nothing hard on the easy days after them. What a block makes of them is in the block.
    pub unwell: &'a [LifeEvent],
}

/// How running comes back on a day: after a goal race, or because one was called off.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ComingBack {
    /// What the day is.
    pub phase: Phase,
    /// The last day that is so.
    pub to: NaiveDate,
}

/// The next goal race of an athlete, as far as it ends what lies before it.
#[derive(Clone, Copy, Debug)]
pub struct NextGoal<'a> {
    /// The race.
    pub race: &'a Race,
    /// The first day of the block before it.
    pub first_day: NaiveDate,
}

/// For how many days a goal race that was run may still shape what comes: the longest way back, and the gap in which
/// nothing is built before the next.
pub const SHAPES_DAYS: i64 = NO_NEW_BUILD;

/// What a day is after a goal race that was run, its distance the one really run: recovery, the way back from there,
/// or nothing of it, where the usual week or a block has begun. What [`timeline`] says of it.
pub fn after_race(raced: &Race, next: Option<NextGoal<'_>>, day: NaiveDate) -> Option<ComingBack> {
    let recovered = recovery::ends(raced);
    if day <= raced.date {
        return None;
    }
    if day <= recovered {
        return Some(ComingBack { phase: Phase::Recovery, to: recovered });
    }
    let to = before_next(bridge_ends(raced, next.map(|next| next.race)), next);
    (day <= to).then_some(ComingBack { phase: Phase::Bridge, to })
}

/// What a day is after it was known that the race of a block is called off: the way back to the usual week, or nothing.
/// What [`timeline`] says of it.
pub fn after_called_off(
    block: &Block,
    noted: NaiveDate,
    next: Option<NextGoal<'_>>,
    day: NaiveDate,
) -> Option<ComingBack> {
    let to = before_next(back_until(block, noted)?, next);
    (noted..=to).contains(&day).then_some(ComingBack { phase: Phase::Return, to })
}

/// A day, or the one before the next block where that comes first.
fn before_next(day: NaiveDate, next: Option<NextGoal<'_>>) -> NaiveDate {
    next.map_or(day, |next| day.min(next.first_day - Days::new(1)))
}

/// The last day on which the running is held down after a goal race; where the next one is near, all days before it.
fn bridge_ends(raced: &Race, next: Option<&Race>) -> NaiveDate {
    let last = raced.date + Days::new(u64::from(recovery::until(raced.distance.event())));
    next.filter(|next| is_near(raced, next)).map_or(last, |next| next.date - Days::new(1))
}

/// A span that claims its days for a phase.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Claim {
    /// What its days are.
    pub phase: Phase,
    /// The goal race it belongs to, by its place.
    pub race: Option<usize>,
    /// Its first day.
    pub from: NaiveDate,
    /// Its last day; a span that ends before it begins claims nothing.
    pub to: NaiveDate,
}

/// What goal races, in the order of their days, claim around them: their own day, the block that begins on the
/// day given with each, and the recovery. The strongest stand first: a day belongs to the first that holds it.
pub fn around(goals: &[(&Race, Option<NaiveDate>)]) -> Vec<Claim> {
    let race = |place: usize| goals[place].0;
    let claim = |phase, place: usize, from, to| Claim { phase, race: Some(place), from, to };
    let mut found: Vec<Claim> =
        (0..goals.len()).map(|place| claim(Phase::Race, place, race(place).date, race(place).date)).collect();
    for (place, (goal, first)) in goals.iter().enumerate() {
        let Some(first) = *first else { continue };
        let recovered = (place > 0).then(|| recovery::ends(race(place - 1)) + Days::new(1));
        let from = recovered.map_or(first, |recovered| first.max(recovered));
        found.push(claim(Phase::Block, place, from, goal.date - Days::new(1)));
    }
    // Of two races that are still in the legs the later one counts.
    for place in (0..goals.len()).rev() {
        found.push(claim(Phase::Recovery, place, race(place).date + Days::new(1), recovery::ends(race(place))));
    }
    found
}

/// The spans from one day to another, both inside, in the order of their days.
pub fn timeline(season: &Season<'_>, from: NaiveDate, to: NaiveDate) -> Vec<Span> {
    let mut goals: Vec<usize> =
        (0..season.races.len()).filter(|race| season.races[*race].importance == Importance::Goal).collect();
    goals.sort_by_key(|race| season.races[*race].date);
    let blocks: Vec<Option<Block>> = goals.iter().map(|race| block_of(season, *race)).collect();
    let claims = claims(season, &goals, &blocks);
    let quiet = quiet_days(season, &goals, &claims);

    let mut found: Vec<Span> = Vec::new();
    for date in from.iter_days().take_while(|date| *date <= to) {
        let claim = claims.iter().find(|claim| (claim.from..=claim.to).contains(&date));
        let (phase, race) = claim.map_or((Phase::Usual, None), |claim| (claim.phase, claim.race));
        let off = if phase == Phase::Block && race.is_none() { off_on(season, date) } else { None };
        let goes_on = found.last().is_some_and(|last| (last.phase, last.race, last.off) == (phase, race, off));
        if !goes_on {
            let (usual, planned) = (Totals::default(), Totals::default());
            let of_block = goals.iter().zip(&blocks).find(|(goal, _)| phase == Phase::Block && race == Some(**goal));
            // A block that begins in the recovery from the race before has other days here than on its own page.
            let whole = of_block.and_then(|(_, block)| block.as_ref()).filter(|block| block.first_day() == date);
            let cut = whole.map(Block::cut);
            found.push(Span {
                phase,
                race,
                off,
                from: date,
                to: date,
                usual,
                planned,
                cut,
                days: Vec::new(),
                others: Vec::new(),
            });
        }
        let Some(span) = found.last_mut() else { continue };
        span.to = date;
        add_day(season, span, date, &blocks, &quiet);
    }
    found
}

/// The block that was made for a goal race, or the one that the rules give.
fn block_of(season: &Season<'_>, index: usize) -> Option<Block> {
    let race = &season.races[index];
    if let Some(made) = season.blocks.iter().find(|block| block.race_day == race.date) {
        return Some((*made).clone());
    }
    let others: Vec<Race> = others_of(season, index);
    let settings = Settings::default();
    plan(&request(season, race, &others, &settings)).ok()
}

fn others_of(season: &Season<'_>, index: usize) -> Vec<Race> {
    season.races.iter().enumerate().filter(|(other, _)| *other != index).map(|(_, race)| race.clone()).collect()
}

const fn request<'a>(season: &Season<'a>, race: &'a Race, others: &'a [Race], settings: &'a Settings) -> Request<'a> {
    Request { other_races: others, ..Request::new(season.athlete, season.week, race, settings) }
}

/// Who claims which days, the strongest first.
fn claims(season: &Season<'_>, goals: &[usize], blocks: &[Option<Block>]) -> Vec<Claim> {
    let race = |place: usize| &season.races[goals[place]];
    let begun: Vec<_> =
        blocks.iter().enumerate().map(|(place, block)| (race(place), block.as_ref().map(Block::first_day))).collect();
    let of_race = |claim: Claim| Claim { race: claim.race.map(|place| goals[place]), ..claim };
    let mut found: Vec<Claim> = around(&begun).into_iter().map(of_race).collect();
    for (block, noted) in season.called_off {
        let claim = |phase, from, to| Claim { phase, race: None, from, to };
        // Up to then it was run.
        found.push(claim(Phase::Block, block.first_day(), *noted - Days::new(1)));
        found.extend(way_back_off(block, *noted, None));
    }
    let goals: Vec<&Race> = (0..goals.len()).map(race).collect();
    found.extend(ways_back(&goals).into_iter().map(of_race));
    found
}

/// The days of the way back from a block whose race is not run, since that was known; nothing where the running had not
/// ebbed. Weaker than all that [`around`] gives, stronger than [`ways_back`].
pub fn way_back_off(block: &Block, noted: NaiveDate, race: Option<usize>) -> Option<Claim> {
    back_until(block, noted).map(|to| Claim { phase: Phase::Return, race, from: noted, to })
}

/// The days of the way back that goal races claim after their recovery, in the order of their days. Weaker than all that
/// [`around`] gives.
pub fn ways_back(goals: &[&Race]) -> Vec<Claim> {
    let claim = |place: usize| {
        let from = recovery::ends(goals[place]) + Days::new(1);
        let to = bridge_ends(goals[place], goals.get(place + 1).copied());
        Claim { phase: Phase::Bridge, race: Some(place), from, to }
    };
    (0..goals.len()).map(claim).collect()
}

/// A next goal race so near that nothing is built before it.
fn is_near(race: &Race, next: &Race) -> bool {
    (next.date - race.date).num_days() <= NO_NEW_BUILD
}

/// Every day that belongs to no block and is not as usual.
fn quiet_days(season: &Season<'_>, goals: &[usize], claims: &[Claim]) -> Vec<(Phase, QuietDay)> {
    let mut found = Vec::new();
    for (place, goal) in goals.iter().enumerate() {
        let raced = &season.races[*goal];
        let next = goals.get(place + 1).map(|next| &season.races[*next]);
        let of_phase = |phase: Phase| move |day: QuietDay| (phase, day);
        found
            .extend(recovery_days(season.athlete, season.week, raced, next).into_iter().map(of_phase(Phase::Recovery)));
        let bridge = claims.iter().find(|claim| claim.phase == Phase::Bridge && claim.race == Some(*goal));
        if let Some(bridge) = bridge {
            let days = bridge_days(season.athlete, season.week, raced, next, bridge.to);
            found.extend(days.into_iter().map(of_phase(Phase::Bridge)));
        }
    }
    for (block, noted) in season.called_off {
        let days = called_off(block, season.athlete, season.week, *noted);
        found.extend(days.into_iter().map(|day| (Phase::Return, day)));
    }
    found
}

/// A day between a race and the block for the next one, where that block tells of it: the athlete holds it as it
/// stands there.
fn led_by_next(blocks: &[Option<Block>], date: NaiveDate) -> Option<QuietDay> {
    let tells = |block: &&Block| block.race_before().is_some_and(|race| race < date) && date < block.race_day;
    let day = blocks.iter().flatten().find(tells)?.day(date)?;
    Some(QuietDay { date, usual: day.usual.clone(), sessions: day.sessions.clone(), dropped: day.dropped.clone() })
}

/// The block of a race that is not run, on a day on which that was not known yet, by its place in the season.
fn off_on(season: &Season<'_>, date: NaiveDate) -> Option<usize> {
    season.called_off.iter().position(|(block, noted)| (block.first_day()..*noted).contains(&date))
}

fn add_day(
    season: &Season<'_>,
    span: &mut Span,
    date: NaiveDate,
    blocks: &[Option<Block>],
    quiet: &[(Phase, QuietDay)],
) {
    let is_other = |race: &Race| race.date == date && race.importance != Importance::Goal;
    span.others.extend((0..season.races.len()).filter(|race| is_other(&season.races[*race])));
    let usual = season.week.running_on(date);
    let is_unwell = || season.unwell.iter().any(|event| event.keeps_from_running_on(date));
    let planned = match span.phase {
        Phase::Usual if is_unwell() => Totals::default(),
        Phase::Usual => usual.clone(),
        Phase::Race => Totals::default(),
        Phase::Block => {
            let next =
                || blocks.iter().flatten().filter(|block| block.race_day >= date).min_by_key(|block| block.race_day);
            let block = span.off.map_or_else(next, |place| Some(season.called_off[place].0));
            block.and_then(|block| block.day(date)).map_or_else(|| usual.clone(), Day::planned_running)
        }
        phase => {
            let of_phase =
                || quiet.iter().find(|(of, day)| *of == phase && day.date == date).map(|(_, day)| day.clone());
            let under = |day: QuietDay| season.unwell.iter().fold(day, quiet_day_under);
            let day = led_by_next(blocks, date).or_else(|| of_phase().map(under));
            let planned = day.as_ref().map_or_else(|| usual.clone(), QuietDay::planned_running);
            span.days.extend(day);
            planned
        }
    };
    span.usual.extend(&usual);
    span.planned.extend(&planned);
}
