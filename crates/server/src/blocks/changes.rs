//! What is other in a version of a block than in the one that was handed over before, in few words: for the message
//! that goes with it.

use std::collections::BTreeSet;

use chrono::{Days, NaiveDate};
use formats::words;
use planning::{Block, Day, DistanceUnit};

use super::messages::sessions_of;

/// So many days are named one by one.
const NAMED: usize = 3;

/// What changed from a day on; both as the athlete is told of them. Where no day did it was goals or the race sheet.
pub(super) fn changes(before: &Block, now: &Block, from: NaiveDate, units: DistanceUnit) -> String {
    if before.race_day == now.race_day {
        return of_days(before, now, from, units);
    }
    let days = of_days(before, now, from, units);
    format!(
        "the race is on {} instead of {}; {days}",
        words::long_date(now.race_day),
        words::long_date(before.race_day)
    )
}

/// What changed on the days before the race.
fn of_days(before: &Block, now: &Block, from: NaiveDate, units: DistanceUnit) -> String {
    let is_moved = before.race_day != now.race_day;
    // Days up to the race before are none of this block any more: it is the plan for that race that says them.
    let other = now.race_before().filter(|race| *race >= from);
    let from = other.map_or(from, |race| race + Days::new(1));
    let dates: BTreeSet<NaiveDate> = before.days.iter().chain(&now.days).map(|day| day.date).collect();
    let said = |block: &Block, date: NaiveDate| match block.day(date) {
        Some(day) => sessions_of(day, units).unwrap_or_else(|| "the race".to_owned()),
        None => String::new(),
    };
    // A day that is none of a block is as usual: it may be so in the other block, too.
    let is_usual = |block: &Block, date: NaiveDate| block.day(date).is_none_or(Day::is_as_usual);
    // That the race itself is on another day was said, and what comes behind it is none of the block.
    let ahead = dates.into_iter().filter(|date| *date >= from && *date < now.race_day);
    let both = ahead.map(|date| (date, said(before, date), said(now, date)));
    let other_than_before =
        |(date, was, is): &(NaiveDate, String, String)| was != is && !(is_usual(before, *date) && is_usual(now, *date));
    let changed: Vec<_> = both.filter(other_than_before).collect();
    let up_to =
        other.map(|race| format!("up to {} the plan for the race on that day counts; ", words::long_date(race)));
    let up_to = up_to.unwrap_or_default();
    let Some((first, ..)) = changed.first() else {
        if is_moved {
            return format!("{up_to}the days before it are as they were");
        }
        let days = if other.is_some() { "the days after it" } else { "the days" };
        return format!("{up_to}the goals, the words or the race sheet; {days} are as they were");
    };
    let usual = |text: &str| if text.is_empty() { "as usual".to_owned() } else { text.to_owned() };
    let named = changed
        .iter()
        .take(NAMED)
        .map(|(date, was, is)| format!("{} {}, before it was {}", words::short_date(*date), usual(is), usual(was)));
    let named = named.collect::<Vec<_>>().join("; ");
    let left = changed.len().saturating_sub(NAMED);
    let more = match changed.last() {
        Some((last, ..)) if left > 0 => {
            format!("; and {} up to {}", words::plural(left, "more day"), words::long_date(*last))
        }
        _ => String::new(),
    };
    format!("{up_to}from {} on, {named}{more}", words::long_date(*first))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::blocks::sample;

    const KM: DistanceUnit = DistanceUnit::Km;

    fn day(text: &str) -> NaiveDate {
        text.parse().expect("a day")
    }

    /// The block with rest on its first days from one on.
    fn resting(from: NaiveDate, days: u64) -> Block {
        let mut block = sample::ten_k().block();
        let until = from + chrono::Days::new(days);
        block.days.iter_mut().filter(|day| day.date >= from && day.date < until).for_each(|day| day.sessions.clear());
        block
    }

    #[test]
    fn the_first_days_are_named_and_of_the_others_how_many_there_are() {
        let block = sample::ten_k().block();
        let from = day("2027-04-29");
        let one = changes(&block, &resting(day("2027-05-04"), 1), from, KM);
        assert!(one.starts_with("from Tuesday 4 May on, Tue 4 May rest, before it was intervals"), "{one}");
        assert!(!one.contains("more day"), "{one}");
        let many = changes(&block, &resting(from, 10), from, KM);
        assert!(many.starts_with("from Thursday 29 April on, Thu 29 Apr rest, before it was "), "{many}");
        assert!(many.contains("more days up to "), "{many}");
        assert_eq!(many.matches("before it was").count(), 3, "{many}");
    }

    #[test]
    fn a_day_that_was_as_usual_did_not_change_where_the_block_is_shorter_now() {
        let before = sample::ten_k().block();
        let mut now = before.clone();
        let gone = now.days.iter().take_while(|day| day.is_as_usual()).count();
        assert!(gone > 0);
        now.days.drain(..gone);
        let said = changes(&before, &now, before.days[0].date, KM);
        assert_eq!(said, "the goals, the words or the race sheet; the days are as they were");
    }

    /// The block with its race a day later and the days before it as they were, with rest on the old race day.
    fn a_day_later(block: &Block) -> Block {
        let mut now = block.clone();
        let mut last = block.days.last().expect("race day").clone();
        for day in &mut now.days {
            day.to_race += 1;
        }
        last.date = block.race_day + Days::new(1);
        now.days.push(last);
        (now.race_day, now.race.date) = (block.race_day + Days::new(1), block.race_day + Days::new(1));
        now
    }

    #[test]
    fn of_a_race_that_was_moved_the_days_that_differ_are_named_and_no_others() {
        let before = sample::ten_k().block();
        let from = before.days[0].date;
        let now = a_day_later(&before);
        let said = changes(&before, &now, from, KM);
        assert!(
            said.starts_with("the race is on Monday 10 May instead of Sunday 9 May; from Sunday 9 May on, "),
            "{said}"
        );
        assert!(said.ends_with("before it was the race"), "{said}");
        let mut other = now;
        other.days.iter_mut().filter(|other| other.date == day("2027-05-04")).for_each(|day| day.sessions.clear());
        let said = changes(&before, &other, from, KM);
        assert!(said.contains("from Tuesday 4 May on, Tue 4 May rest, before it was intervals"), "{said}");
        assert!(!said.contains("anew") && said.matches("before it was").count() == 2, "{said}");
        // Back again, the days from the race on are none of the block.
        let said = changes(&other, &before, from, KM);
        assert!(
            said.starts_with("the race is on Sunday 9 May instead of Monday 10 May; from Tuesday 4 May on, "),
            "{said}"
        );
        assert_eq!(said.matches("before it was").count(), 1, "{said}");
    }

    #[test]
    fn days_that_are_over_are_not_spoken_of() {
        let block = sample::ten_k().block();
        let said = changes(&block, &resting(day("2027-04-29"), 1), day("2027-04-30"), KM);
        assert_eq!(said, "the goals, the words or the race sheet; the days are as they were");
    }
}
