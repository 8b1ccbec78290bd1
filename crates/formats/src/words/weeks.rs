//! Weeks and blocks in a sentence of totals.

use chrono::{NaiveDate, Weekday};
use planning::fit::Typical;
use planning::{Amount, BaseWeek, Block, Cut, DistanceUnit, Pace, SevenDays, Share, Totals, Turns, WeekSummary};

use super::amounts::{self, amount, amount_in, in_all, in_all_of, middle, per_cent, totals};
use super::dates::long_date;
use super::plural;

/// `race week`, `the week before race week`, `2 weeks before race week`.
pub fn week_name(before: u16) -> String {
    match before {
        0 => "race week".to_owned(),
        1 => "the week before race week".to_owned(),
        weeks => format!("{weeks} weeks before race week"),
    }
}

/// Up to so many per cent of the usual running are as usual: amounts are rounded.
///
/// # Source
///
/// Common practice, no published source.
const AS_USUAL_UNTIL: i32 = 102;

/// The totals of a week: usual, planned, what is taken away, with and without the race. Kilometres and minutes are added
/// up where the pace is known, and said to be an estimate then.
pub fn week(week: &WeekSummary, units: DistanceUnit, pace: Option<Pace>) -> String {
    let planned = totals(&week.planned, units);
    let usual = totals(&week.usual, units);
    let share = per_cent(week.share);
    if (week.to - week.from).num_days() < 6 {
        return format!("{planned}, usually {usual}. The days before belong to the block for the race before.");
    }
    let mut sentences = Vec::new();
    if let Some(race) = week.race {
        let value = amounts::tenth(race.in_unit(units).as_f64());
        let mut with_race = week.planned.clone();
        with_race.add(Amount::exact(value, units.unit()));
        // Where race day is a usual rest day both shares are the same.
        let same_days = if week.same_days_share.percent() == week.share.percent() {
            String::new()
        } else {
            format!(", and {} of what the days before the race usually hold", per_cent(week.same_days_share))
        };
        sentences
            .push(format!("{planned} before the race, usually {usual} in the whole week: {share} of it{same_days}."));
        sentences.push(format!("With the race {}.", totals(&with_race, units)));
    } else if week.share.percent() > AS_USUAL_UNTIL {
        sentences.push(format!("{planned}, usually {usual}: {share} of it."));
    } else if week.share.percent() >= 100 {
        sentences.push(format!("{planned}, as usual ({usual})."));
    } else {
        let cut = per_cent(Share(1.0 - week.share.0));
        sentences.push(format!("{planned}, usually {usual}: {share} of it, a cut of {cut}."));
    }
    if let Some(in_all) = in_all_of(&week.planned, &week.usual, units, pace) {
        sentences.push(format!("In all {in_all}."));
    }
    if week.usual_intensity.0 > 0.0 || week.intensity.0 > 0.0 {
        let (now, usual) = (per_cent(week.intensity), per_cent(week.usual_intensity));
        sentences.push(format!("Of the running {now} is hard, usually {usual}."));
    }
    let race = if week.race.is_some() { " and the race" } else { "" };
    sentences.push(format!("{}{race}, usually {}.", plural(week.run_days, "running day"), week.usual_run_days));
    sentences.join(" ")
}

/// So many days were the longest that did best in trials.
///
/// # Source
///
/// 8-14 days: Bosquet and others 2007, doi 10.1249/mss.0b013e31806010e0.
const TRIED_UNTIL: u8 = 14;

/// The cut of a block with the days and the amounts that it is counted from, so that whoever adds up the days finds it,
/// and how it stands to what was published.
///
/// # Source
///
/// 41-60 % did best: Bosquet and others 2007, doi 10.1249/mss.0b013e31806010e0; Wang and others 2023,
/// doi 10.1371/journal.pone.0282838.
pub fn cut(block: &Block, units: DistanceUnit) -> String {
    let whole = block.cut();
    let less = match whole.share.percent() {
        percent if percent > 0 => format!("{} less", per_cent(whole.share)),
        _ => "no less running than usual".to_owned(),
    };
    let counted = counted(block, &whole, units);
    let published = if whole.is_of_a_week() {
        published(whole.share.percent(), block.curve.length)
    } else {
        "In so few days most of that is race day's usual run."
    };
    format!("{counted}: {less}. Race day’s usual run is counted in, the race is not. {published}")
}

/// How a cut over the days of a block stands to the trials that were published.
const fn published(per_cent: i32, days: u8) -> &'static str {
    match per_cent {
        41..=60 => "That lies within the 41–60% that did best on average in published trials; single athletes differ.",
        // Amounts are whole or half kilometres: a point more or less is no difference.
        40 | 61 => {
            "That is as good as the 41–60% that did best on average in published trials: amounts are rounded, and single \
             athletes differ."
        }
        ..40 if days > TRIED_UNTIL => {
            "That is as it should be: over so many days less is taken away, as the first of them are nearly whole. In \
             published trials of two weeks 41–60% did best on average; single athletes differ."
        }
        ..40 => {
            "That is gentler than the 41–60% that did best on average in published trials; single athletes differ, and a \
             lower end in the settings takes away more."
        }
        _ => "That is more than the 41–60% that did best on average in published trials; single athletes differ.",
    }
}

/// `From Friday 30 April to race day the block holds 44 km instead of 80 km`; where distance and minutes are added up, what
/// they come to in front of what it is made of.
fn counted(block: &Block, cut: &Cut, units: DistanceUnit) -> String {
    let from = block.days.iter().find(|day| day.to_race < u16::from(cut.days)).map_or(block.race_day, |day| day.date);
    let [planned, usual] =
        [&cut.planned, &cut.usual].map(|one| if one.is_empty() { "no running".to_owned() } else { totals(one, units) });
    let both = format!("{planned} instead of {usual}");
    let held = if let Some(all) = in_all_of(&cut.planned, &cut.usual, units, block.pace) {
        format!("{all} ({both})")
    } else {
        let assumed = amounts::counted_at(&amounts::together(&cut.planned, &cut.usual), Some(Pace::ASSUMED));
        assumed.map_or_else(|| both.clone(), |at| format!("{both} ({at}, as no easy pace is noted)"))
    };
    format!("From {} to race day the block holds {held}", long_date(from))
}

/// `90 km before the race, usually 150 km with race day`.
fn before_race(cut: &Cut, units: DistanceUnit) -> String {
    let planned = if cut.planned.is_empty() { "no running".to_owned() } else { totals(&cut.planned, units) };
    format!("{planned} before the race, usually {} with race day", totals(&cut.usual, units))
}

/// The same as a figure with what it is counted from: `90 km before the race, usually 150 km with race day: a cut of 40%
/// over the block’s 14 days`.
pub fn cut_in_short(cut: &Cut, units: DistanceUnit) -> String {
    let told = before_race(cut, units);
    if cut.share.percent() > 0 {
        format!("{told}: a cut of {} over the block’s {} days", per_cent(cut.share), cut.days)
    } else {
        told
    }
}

/// The totals of a base week: range, middle, hard part, running days; of both where two take turns, and
/// their mean. The pace weighs minutes against distance where a week holds both.
pub fn usual_week(week: &BaseWeek, units: DistanceUnit, pace: Option<Pace>) -> String {
    let first = seven_days(week.first(), week.range(), units, pace);
    let Some(turns) = week.turns() else { return first };
    let second = seven_days(&turns.week, None, units, pace);
    format!("First week: {first} Second week: {second} {}", mean_of_two(week, units))
}

/// The mean of two weeks that take turns.
pub fn mean_of_two(week: &BaseWeek, units: DistanceUnit) -> String {
    format!("In the mean {} a week.", totals(&middles(&week.running()), units))
}

/// The totals of seven days: range, middle, hard part, running days.
pub fn seven_days(week: &SevenDays, range: Option<Amount>, units: DistanceUnit, pace: Option<Pace>) -> String {
    let running = week.running();
    if running.is_empty() {
        return "No running yet.".to_owned();
    }
    let is_range = running.parts().iter().any(|part| part.is_range());
    let more = match range {
        Some(range) => {
            format!(" if each day is added up; the week as a whole {}", amount(amount_in(range, units)))
        }
        None if is_range => format!(" (low and high ends added up), in the middle {}", middle(&running, units)),
        None => String::new(),
    };
    let hard = match hard_share(&week.hard_running(), &running, pace.unwrap_or(Pace::ASSUMED)) {
        Some(share) if share.0 > 0.0 => format!("{} of it hard", per_cent(share)),
        _ => "none of it hard".to_owned(),
    };
    let all = in_all(&running, units, pace).map(|all| format!(" In all {all}.")).unwrap_or_default();
    format!("{} on {}{more}; {hard}.{all}", totals(&running, units), plural(week.running_days(), "running day"))
}

/// Which of two weeks that take turns stands in the calendar week of a day, and in the next.
pub fn whose_turn(turns: &Turns, today: NaiveDate) -> String {
    let monday = long_date(today.week(Weekday::Mon).first_day());
    let (now, next) = if turns.stands_in_week_of(today) { ("second", "first") } else { ("first", "second") };
    format!("In this calendar week, from {monday}, the {now} week stands; in the next one the {next}.")
}

/// What is typical of recent weeks, and how the week as typed (the mean of two that take turns) stands to it.
pub fn typical(typical: &Typical, running: &Totals, units: DistanceUnit) -> String {
    let told = |value| amount(amount_in(Amount::exact(value, typical.unit), units));
    let weeks = match typical.weeks {
        1 => format!("The one week given is {}", told(typical.median)),
        weeks => format!(
            "Typical of these {weeks} weeks is {}, the middle one by size: not the highest, {}, and not the lowest, {}",
            told(typical.median),
            told(typical.most),
            told(typical.least)
        ),
    };
    if running.is_empty() {
        return format!("{weeks}.");
    }
    format!("{weeks}. The base week as typed holds {}.", middle(running, units))
}

/// What was done to a base week that was fitted, and that it is not kept yet.
pub fn fitted(total: Amount, units: DistanceUnit) -> String {
    format!(
        "The lines are fitted to {}, each session the same part of what it was. Nothing is saved yet: look them over, change \
         what you like, then save.",
        amount(amount_in(total, units))
    )
}

fn middles(running: &Totals) -> Totals {
    running.parts().iter().map(|part| Amount::exact(amounts::tenth(part.middle().as_f64()), part.unit())).collect()
}

fn hard_share(hard: &Totals, running: &Totals, pace: Pace) -> Option<Share> {
    let whole = running.middle_km(pace);
    (whole > 0.0).then(|| Share(hard.middle_km(pace) / whole))
}
