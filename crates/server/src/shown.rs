//! How dates, amounts and counts are written on pages.

use chrono::{Datelike, NaiveDate, Weekday};
use planning::{Amount, BaseWeek, Importance, Pace, RaceDistance, Share, Totals, Unit};

/// `Sun 9 May 2027`.
pub(crate) fn day(date: NaiveDate) -> String {
    date.format("%a %-d %b %Y").to_string()
}

/// `Sun 9 May`: where the year is plain.
pub(crate) fn short_day(date: NaiveDate) -> String {
    date.format("%a %-d %b").to_string()
}

/// A day without its year where that is this year or the race is near.
pub(crate) fn near_day(date: NaiveDate, today: NaiveDate) -> String {
    if date.year() == today.year() { short_day(date) } else { day(date) }
}

/// `Monday`.
pub(crate) const fn weekday(day: Weekday) -> &'static str {
    match day {
        Weekday::Mon => "Monday",
        Weekday::Tue => "Tuesday",
        Weekday::Wed => "Wednesday",
        Weekday::Thu => "Thursday",
        Weekday::Fri => "Friday",
        Weekday::Sat => "Saturday",
        Weekday::Sun => "Sunday",
    }
}

/// `mon`: the name in forms.
pub(crate) const fn weekday_code(day: Weekday) -> &'static str {
    match day {
        Weekday::Mon => "mon",
        Weekday::Tue => "tue",
        Weekday::Wed => "wed",
        Weekday::Thu => "thu",
        Weekday::Fri => "fri",
        Weekday::Sat => "sat",
        Weekday::Sun => "sun",
    }
}

/// The weekday with this name in forms.
pub(crate) fn weekday_from_code(code: &str) -> Option<Weekday> {
    planning::week::WEEKDAYS.into_iter().find(|day| weekday_code(*day) == code)
}

/// How far a day is: `today`, `tomorrow`, `in 12 days`, `3 days ago`.
pub(crate) fn distance_in_days(date: NaiveDate, today: NaiveDate) -> String {
    match (date - today).num_days() {
        0 => "today".to_owned(),
        1 => "tomorrow".to_owned(),
        -1 => "yesterday".to_owned(),
        days if days > 0 => format!("in {days} days"),
        days => format!("{} days ago", -days),
    }
}

/// `1 day`, `5 days`: a noun whose plural takes an s.
pub(crate) fn count(number: usize, noun: &str) -> String {
    if number == 1 { format!("1 {noun}") } else { format!("{number} {noun}s") }
}

/// `7 km`, `6–8 mi`, `50 min`.
pub(crate) fn amount(amount: Amount) -> String {
    if amount.is_range() {
        format!("{}–{} {}", amount.low(), amount.high(), amount.unit().symbol())
    } else {
        format!("{} {}", amount.low(), amount.unit().symbol())
    }
}

/// Every unit of a total: `46–52 km and 90 min`; `no running` where there is none.
pub(crate) fn totals(totals: &Totals) -> String {
    let parts: Vec<String> = totals.parts().iter().map(|part| amount(*part)).collect();
    match parts.split_last() {
        None => "no running".to_owned(),
        Some((only, [])) => only.clone(),
        Some((last, before)) => format!("{} and {last}", before.join(", ")),
    }
}

/// The middles of a total: `49 km and 90 min`.
pub(crate) fn middles(sum: &Totals) -> String {
    totals(&sum.parts().iter().map(|part| Amount::exact(part.middle(), part.unit())).collect())
}

/// `18 %`.
pub(crate) fn percent(share: Share) -> String {
    format!("{} %", share.percent())
}

/// The name of a race distance as runners say it.
pub(crate) fn distance(distance: RaceDistance) -> String {
    match distance {
        RaceDistance::FiveK => "5 km".to_owned(),
        RaceDistance::TenK => "10 km".to_owned(),
        RaceDistance::TenMiles => "10 miles".to_owned(),
        RaceDistance::Half => "Half marathon".to_owned(),
        RaceDistance::Marathon => "Marathon".to_owned(),
        RaceDistance::Own(value, unit) => format!("{value} {}", unit.symbol()),
    }
}

/// What a race means to an athlete.
pub(crate) const fn importance(importance: Importance) -> &'static str {
    match importance {
        Importance::Goal => "goal race",
        Importance::TuneUp => "tune-up",
        Importance::TrainingThrough => "training through",
    }
}

/// A base week in sentences: how much, on how many days, how much of it hard.
pub(crate) fn week_totals(week: &BaseWeek, pace: Option<Pace>) -> Vec<String> {
    let sum = week.running();
    if sum.is_empty() {
        return vec!["No running on any day yet.".to_owned()];
    }
    let days = count(week.running_days(), "day");
    let mut said = Vec::new();
    let ranged = sum.parts().iter().any(|part| part.is_range());
    match week.range() {
        Some(range) => said.push(format!(
            "{} a week as you set it, on {days}; the days add up to {}.",
            amount(range),
            totals(&sum)
        )),
        None if ranged => said.push(format!("{} a week on {days}, the middle {}.", totals(&sum), middles(&sum))),
        None => said.push(format!("{} a week on {days}.", totals(&sum))),
    }
    said.push(intensity(week, pace));
    if ranged && week.range().is_none() {
        said.push(
            "The low and the high ends of the days are added up; give the week a range of its own if not every \
             session is high in the same week."
                .to_owned(),
        );
    }
    if sum.parts().len() > 1 && pace.is_none() {
        said.push(
            "Minutes are weighed as 6:00 for a kilometre, because the athlete has no pace of easy running.".to_owned(),
        );
    }
    said
}

fn intensity(week: &BaseWeek, pace: Option<Pace>) -> String {
    let hard = week.hard_running();
    if hard.is_empty() {
        return "None of it is hard.".to_owned();
    }
    let pace = pace.unwrap_or(Pace::ASSUMED);
    let share = Share(hard.middle_km(pace) / week.running().middle_km(pace));
    let assumed = week.sessions().any(|(_, session)| session.hard_is_assumed());
    let how = if assumed { ", part of it assumed because no hard part is given" } else { "" };
    format!("{} of it, {}, is hard{how}.", percent(share), middles(&hard))
}

/// A unit of distance in full.
pub(crate) const fn units(units: planning::DistanceUnit) -> &'static str {
    match units.unit() {
        Unit::Mi => "miles",
        Unit::Km | Unit::Min => "kilometres",
    }
}

#[cfg(test)]
mod tests {
    use planning::notation::read_week;
    use planning::{DistanceUnit, Milli};

    use super::*;

    fn date(text: &str) -> NaiveDate {
        text.parse().unwrap()
    }

    #[test]
    fn the_distance_of_a_day_is_said_as_people_say_it() {
        let today = date("2027-04-20");
        for (day, words) in [
            ("2027-04-20", "today"),
            ("2027-04-21", "tomorrow"),
            ("2027-04-22", "in 2 days"),
            ("2027-04-19", "yesterday"),
            ("2027-04-10", "10 days ago"),
        ] {
            assert_eq!(distance_in_days(date(day), today), words);
        }
    }

    #[test]
    fn the_year_is_said_only_when_it_is_another() {
        assert_eq!(near_day(date("2027-05-09"), date("2027-04-20")), "Sun 9 May");
        assert_eq!(near_day(date("2028-01-02"), date("2027-12-20")), "Sun 2 Jan 2028");
    }

    #[test]
    fn ranges_have_a_dash_and_units_are_joined_by_and() {
        let sum: Totals =
            [Amount::between(Milli::whole(46), Milli(52_500), Unit::Km), Amount::exact(Milli::whole(90), Unit::Min)]
                .into_iter()
                .collect();
        assert_eq!(totals(&sum), "46–52.5 km and 90 min");
        assert_eq!(middles(&sum), "49.25 km and 90 min");
        assert_eq!(totals(&Totals::default()), "no running");
    }

    #[test]
    fn a_week_is_said_in_sentences() {
        let lines = ["", "6 x 800 m, 10", "7-9", "tempo 8, hard 4", "", "7", "long 14-16"];
        let week = read_week(&lines, "", DistanceUnit::Km).unwrap();
        assert_eq!(
            week_totals(&week, None)[..2],
            ["46–50 km a week on 5 days, the middle 48 km.", "18 % of it, 8.8 km, is hard."]
        );
        let week = read_week(&lines, "46-48", DistanceUnit::Km).unwrap();
        assert_eq!(
            week_totals(&week, None)[0],
            "46–48 km a week as you set it, on 5 days; the days add up to 46–50 km."
        );
        assert_eq!(week_totals(&BaseWeek::default(), None), ["No running on any day yet."]);
    }
}
