//! What the log says of a block that is being run, beside what was planned. Silence is unknown, never nothing.

use chrono::{Days, NaiveDate};
use planning::{Amount, Pace, Share, Totals};
use store::{BoardBlock, BoardDay};

/// Much more or much less than planned.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Followed {
    /// What was run, in whole per cent of what was planned.
    pub(crate) per_cent: i64,
    /// Which days are meant.
    pub(crate) when: When,
}

/// Which days are meant.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum When {
    /// From this day on: the first of the calendar week that the block knows.
    Since(NaiveDate),
    /// The calendar week before.
    LastWeek,
}

/// So much more than planned, as a share of it, is worth a word.
///
/// # Source
///
/// Common practice, no published source.
const MORE: f64 = 0.25;

/// So much less than planned, as a share of it, is worth a word.
///
/// # Source
///
/// Common practice, no published source.
const LESS: f64 = 0.4;

/// Less than this, in kilometres, is no matter, whatever its share.
///
/// # Source
///
/// Common practice, no published source.
const LEAST_KM: f64 = 3.0;

impl Followed {
    pub(crate) const fn is_more(self) -> bool {
        self.per_cent > 100
    }

    /// Both in kilometres; nothing where they are near enough, or where nothing was planned.
    fn between(ran: f64, planned: f64, when: When) -> Option<Self> {
        let share = ran / planned;
        // Whole metres, so that converting between units cannot tip it.
        let far = ((ran - planned).abs() * 1000.0).round() >= LEAST_KM * 1000.0;
        let notable = share - 1.0 >= MORE - 1e-9 || 1.0 - share >= LESS - 1e-9;
        (planned > 0.0 && far && notable).then(|| Self { per_cent: i64::from(Share(share).percent()), when })
    }
}

/// How a block that has begun is followed: by what was noted of this calendar week, else of the one before;
/// nothing where nobody said, or where it is about as planned.
pub(super) fn followed(block: &BoardBlock, today: NaiveDate, week: NaiveDate) -> Option<Followed> {
    let before = week - Days::new(7);
    let this = Window { from: week, to: today, last: week + Days::new(6) };
    let last = Window { from: before, to: week - Days::new(1), last: week - Days::new(1) };
    let first = block.days.iter().map(|day| day.date).find(|day| *day >= week)?;
    if this.is_told(block) {
        this.line(block, When::Since(first)).or_else(|| this.runs(block, today, When::Since(first)))
    } else {
        last.line(block, When::LastWeek).or_else(|| last.runs(block, today, When::LastWeek))
    }
}

/// Days of the calendar that are looked at.
struct Window {
    from: NaiveDate,
    to: NaiveDate,
    /// The last day of its week.
    last: NaiveDate,
}

impl Window {
    fn holds(&self, day: NaiveDate) -> bool {
        (self.from..=self.to).contains(&day)
    }

    /// Whether anybody said anything of these days.
    fn is_told(&self, block: &BoardBlock) -> bool {
        block.log.runs.iter().any(|(day, _)| self.holds(*day))
            || block.log.weeks.iter().any(|(day, _)| *day == self.from)
    }

    /// By the line of a whole week that is over, all of which the block planned.
    fn line(&self, block: &BoardBlock, when: When) -> Option<Followed> {
        let (_, ran) = block.log.weeks.iter().find(|(day, _)| *day == self.from)?;
        let days: Vec<&BoardDay> = block.days.iter().filter(|day| self.holds(day.date)).collect();
        if days.len() < 7 || self.to < self.last {
            return None;
        }
        let planned = planned(days.into_iter());
        let km = planned.middle_km(pace(block));
        Followed::between(ran.share_of(&planned, block.pace)?.0 * km, km, when)
    }

    /// By single runs: of today only where it was run already. Less than planned is said only where every
    /// day on which running was planned has its run.
    fn runs(&self, block: &BoardBlock, today: NaiveDate, when: When) -> Option<Followed> {
        let ran_on = |day: NaiveDate| block.log.runs.iter().any(|(ran, _)| *ran == day);
        let over = |day: NaiveDate| self.holds(day) && (day < today || ran_on(day));
        let days = || block.days.iter().filter(|day| over(day.date));
        let first = days().next()?.date;
        let runs = block.log.runs.iter().filter(|(day, _)| over(*day) && *day >= first);
        let ran: Totals = runs.map(|(_, amount)| *amount).collect::<Vec<Amount>>().into_iter().collect();
        if ran.is_empty() {
            return None;
        }
        let found = Followed::between(ran.middle_km(pace(block)), planned(days()).middle_km(pace(block)), when)?;
        let is_whole = days().all(|day| day.planned.is_empty() || ran_on(day.date));
        (found.is_more() || is_whole).then_some(found)
    }
}

fn pace(block: &BoardBlock) -> Pace {
    block.pace.unwrap_or(Pace::ASSUMED)
}

fn planned<'a>(days: impl Iterator<Item = &'a BoardDay>) -> Totals {
    let mut totals = Totals::default();
    days.for_each(|day| totals.extend(&day.planned));
    totals
}

#[cfg(test)]
mod tests {
    use planning::{Milli, Unit, WeekRan};
    use store::{BlockId, BlockState, BoardLog};

    use super::*;

    fn day(text: &str) -> NaiveDate {
        text.parse().unwrap()
    }

    const MONDAY: &str = "2027-04-19";

    fn km(km: f64) -> Amount {
        Amount::exact(Milli((km * 1000.0).round() as i32), Unit::Km)
    }

    /// Two weeks of 10 km on Monday, Wednesday and Saturday.
    fn block(runs: &[(&str, f64)], weeks: &[(&str, WeekRan)]) -> BoardBlock {
        let days = day("2027-04-12").iter_days().take(14).map(|date| {
            let runs = [0, 2, 5].contains(&chrono::Datelike::weekday(&date).num_days_from_monday());
            let planned: Totals = runs.then(|| km(10.0)).into_iter().collect();
            BoardDay { date, has_race: false, usual: planned.clone(), planned }
        });
        BoardBlock {
            state: BlockState { id: BlockId(1), revision: 1, handed_over: None, has_goals: true },
            first_day: day("2027-04-12"),
            race_day: day("2027-05-02"),
            length: 20,
            due: None,
            days: days.collect(),
            pace: None,
            first_handed_over: None,
            week_changed: false,
            lacks: None,
            before_youth: false,
            waits: None,
            stop: None,
            fixed: None,
            log: BoardLog {
                heard: None,
                runs: runs.iter().map(|(date, ran)| (day(date), km(*ran))).collect(),
                weeks: weeks.iter().map(|(date, ran)| (day(date), *ran)).collect(),
            },
        }
    }

    fn on(today: &str, block: &BoardBlock) -> Option<(i64, When)> {
        followed(block, day(today), day(MONDAY)).map(|found| (found.per_cent, found.when))
    }

    const SINCE: When = When::Since(NaiveDate::from_ymd_opt(2027, 4, 19).unwrap());

    #[test]
    fn a_quarter_more_and_three_kilometres_are_worth_a_word() {
        let two_days = |ran| block(&[("2027-04-19", 10.0), ("2027-04-21", ran)], &[]);
        assert_eq!(on("2027-04-22", &two_days(15.0)), Some((125, SINCE)));
        assert_eq!(on("2027-04-22", &two_days(14.99)), None);
        let one_day = |ran| block(&[("2027-04-19", ran)], &[]);
        assert_eq!(on("2027-04-20", &one_day(13.0)), Some((130, SINCE)));
        assert_eq!(on("2027-04-20", &one_day(12.99)), None, "more than a quarter, less than three kilometres");
    }

    #[test]
    fn forty_per_cent_less_are_worth_a_word_where_every_day_has_its_run() {
        let two_days = |ran| block(&[("2027-04-19", ran), ("2027-04-21", ran)], &[]);
        assert_eq!(on("2027-04-22", &two_days(6.0)), Some((60, SINCE)));
        assert_eq!(on("2027-04-22", &two_days(6.01)), None);
        assert_eq!(on("2027-04-22", &block(&[("2027-04-19", 6.0)], &[])), None, "nobody said what Wednesday was");
    }

    #[test]
    fn a_run_of_today_counts_with_the_plan_of_today() {
        let run = |ran| block(&[("2027-04-19", 10.0), ("2027-04-21", ran)], &[]);
        assert_eq!(on("2027-04-21", &run(15.0)), Some((125, SINCE)));
        assert_eq!(
            on("2027-04-21", &block(&[("2027-04-19", 13.0)], &[])),
            Some((130, SINCE)),
            "today is still to come"
        );
    }

    #[test]
    fn silence_says_nothing() {
        assert_eq!(on("2027-04-25", &block(&[], &[])), None);
    }

    #[test]
    fn last_weeks_line_counts_until_something_is_said_of_this_week() {
        let last = [("2027-04-12", WeekRan::Share(Share(0.4)))];
        assert_eq!(on("2027-04-19", &block(&[], &last)), Some((40, When::LastWeek)));
        assert_eq!(on("2027-04-20", &block(&[("2027-04-19", 10.0)], &last)), None);
        assert_eq!(on("2027-04-19", &block(&[], &[("2027-04-12", WeekRan::Nothing)])), Some((0, When::LastWeek)));
        assert_eq!(
            on("2027-04-19", &block(&[], &[("2027-04-12", WeekRan::About(km(40.0)))])),
            Some((133, When::LastWeek))
        );
        assert_eq!(on("2027-04-19", &block(&[], &[("2027-04-12", WeekRan::Less)])), None, "nobody knows how much");
    }

    #[test]
    fn a_line_of_a_week_that_goes_on_is_not_compared() {
        let this = [(MONDAY, WeekRan::About(km(10.0)))];
        assert_eq!(on("2027-04-24", &block(&[], &this)), None);
        assert_eq!(on("2027-04-25", &block(&[], &this)), Some((33, SINCE)));
    }
}
