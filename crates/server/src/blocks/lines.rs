//! Short texts of a block's pages: how the words of `formats::words` are put together where a page,
//! a picture or a sheet is narrow.

use chrono::{Datelike, NaiveDate, Timelike};
use formats::words;
use planning::{
    Amount, Block, Day, DistanceUnit, Kind, Milli, Outcome, Pace, Planned, Race, RaceDistance, Role, Session, Shape,
    Totals, Unit, WeekSummary,
};
use store::{GoalNotes, RaceResult};

use crate::shown;

/// A day without running.
pub(crate) const REST: &str = "rest";
/// A usual session that is not done, where others of the day are.
pub(crate) const LEFT_OUT: &str = "left out";

/// `4 May`.
pub(crate) fn day_month(date: NaiveDate) -> String {
    without_weekday(&words::long_date(date))
}

/// `4 May`, the month in three letters.
pub(crate) fn day_month_short(date: NaiveDate) -> String {
    without_weekday(&words::short_date(date))
}

fn without_weekday(text: &str) -> String {
    text.split_once(' ').map_or(text, |(_, rest)| rest).to_owned()
}

/// `Tue 4`.
pub(crate) fn weekday_and_day(date: NaiveDate) -> String {
    format!("{} {}", words::weekday_short(date.weekday()), date.day())
}

/// The totals of a week in a few words: `29–32 of 60–68 km before the race`; `about 48 of 62 km` where some of it is
/// minutes and a pace is known.
pub(crate) fn week_brief(week: &WeekSummary, units: DistanceUnit, pace: Option<Pace>) -> String {
    let (planned, usual) = (words::totals(&week.planned, units), words::totals(&week.usual, units));
    // "29-32 of 60-68 km": the unit is said once where there is only one.
    let unit = week.usual.single_unit().filter(|_| week.planned.single_unit() == week.usual.single_unit());
    let of = match (words::in_all_brief(&week.planned, &week.usual, units, pace), unit) {
        (Some(about), _) => about,
        (None, Some(_)) => format!("{} of {usual}", planned.rsplit_once(' ').map_or(&*planned, |(number, _)| number)),
        (None, None) => format!("{planned} of {usual}"),
    };
    if week.race.is_some() { format!("{of} before the race") } else { of }
}

/// The totals of a week as an athlete reads them; nothing above a single day, which says it itself.
pub(crate) fn week_for_athlete(week: &WeekSummary, units: DistanceUnit, pace: Option<Pace>) -> String {
    if week.from == week.to {
        return String::new();
    }
    let (planned, usual) = (running(&week.planned, units), running(&week.usual, units));
    let said = if week.race.is_some() {
        format!("{planned} before the race, usually {usual} in the whole week")
    } else {
        format!("{planned}, {}", beside(&planned, &usual))
    };
    said + &in_all(&week.planned, &week.usual, units, pace)
}

/// Totals in words: `22 km`, or `no running`.
fn running(totals: &Totals, units: DistanceUnit) -> String {
    if totals.is_empty() { "no running".to_owned() } else { words::totals(totals, units) }
}

/// `; in all about 48 km of usually 62 km, the minutes counted at 5:40/km`, where totals hold both.
fn in_all(planned: &Totals, usual: &Totals, units: DistanceUnit, pace: Option<Pace>) -> String {
    words::in_all_of(planned, usual, units, pace).map_or_else(String::new, |all| format!("; in all {all}"))
}

/// What is usual beside what is planned, where that is something else.
fn beside(planned: &str, usual: &str) -> String {
    if planned == usual { "as usual".to_owned() } else { format!("usually {usual}") }
}

/// The totals of the end of a week, of which no more is shown: `from Thursday: 22 km, usually 26 km`; nothing above a
/// single day, which says it itself.
pub(crate) fn end_of_week_for_athlete(
    block: &Block,
    (from, to): (NaiveDate, NaiveDate),
    units: DistanceUnit,
    pace: Option<Pace>,
) -> String {
    if from == to {
        return String::new();
    }
    let days = || block.days.iter().filter(|day| (from..=to).contains(&day.date));
    let has_race = days().any(|day| day.to_race == 0);
    let planned: Totals =
        days().flat_map(|day| &day.sessions).filter_map(|planned| planned.session.running()).collect();
    let usual: Totals =
        days().filter(|day| day.to_race > 0).flat_map(|day| &day.usual).filter_map(Session::running).collect();
    let all = in_all(&planned, &usual, units, pace);
    let (planned, usual) = (running(&planned, units), running(&usual, units));
    let before = if has_race { " before the race" } else { "" };
    format!("from {}: {planned}{before}, {}{all}", words::weekday(from.weekday()), beside(&planned, &usual))
}

/// Goals A, B and C, as far as they are written, each with its letter.
pub(crate) fn written_goals(notes: &GoalNotes) -> Vec<(&'static str, String)> {
    let all = [("A", &notes.a), ("B", &notes.b), ("C", &notes.c)];
    all.into_iter().filter(|(_, goal)| !goal.is_empty()).map(|(letter, goal)| (letter, goal.clone())).collect()
}

/// Kind, amount and hard part, without what is inside: `intervals 6-7 km, 2.4 km hard`.
pub(crate) fn session(session: &Session, units: DistanceUnit) -> String {
    if session.rest_words().is_some() {
        return REST.to_owned();
    }
    let hard = if words::is_hard_assumed(session) { None } else { session.hard_as_said() };
    words::session_in(&outside(session, hard), units)
}

fn outside(session: &Session, hard: Option<Amount>) -> Session {
    if session.rest_words().is_some() {
        return session.clone();
    }
    Session { kind: session.kind, amount: session.amount, hard, sets: Vec::new(), loaded: false, note: String::new() }
}

/// What is inside a session, and the coach's own words: `6 x 800 m 10k pace, 90 s jog`.
pub(crate) fn detail(session: &Session) -> String {
    words::inside(session)
}

/// The inside of a planned session after its part in the block.
pub(crate) fn planned_detail(planned: &Planned) -> String {
    let part = match planned.role {
        // The line itself says it.
        Role::ShakeOut | Role::OtherRace => None,
        role => words::part_in_block(role).map(str::to_owned),
    };
    let inside = Some(detail(&planned.session)).filter(|inside| !inside.is_empty());
    part.into_iter().chain(inside).collect::<Vec<_>>().join("; ")
}

/// A planned session: `easy 6 km`, `shake-out run 3.5 km`.
pub(crate) fn planned(planned: &Planned, units: DistanceUnit) -> String {
    // Called a shake-out run, a run with strides would not say that it has some.
    let strides = planned.role == Role::ShakeOut && planned.session.kind == Kind::Strides;
    with_part(planned, session(&planned.session, units)) + if strides { ", with strides" } else { "" }
}

/// The sessions of a day: `easy 6 km + strength 20 min`, or rest.
pub(crate) fn all_planned(sessions: &[Planned], units: DistanceUnit) -> String {
    let said: Vec<String> = sessions.iter().map(|one| planned(one, units)).collect();
    if said.is_empty() { REST.to_owned() } else { said.join(" + ") }
}

/// A planned session, short enough for the picture: `intervals 6-7 km, 2.4 hard`.
pub(crate) fn planned_brief(planned: &Planned, units: DistanceUnit) -> String {
    let session = &planned.session;
    let nothing = session.amount.map(|amount| Amount::exact(Milli::ZERO, amount.unit()));
    let text = with_part(planned, words::session_in(&outside(session, nothing), units));
    let hard = words::hard_part(session, units);
    match (planned.role, hard) {
        (Role::EasyWithStrides, _) => format!("{text}, strides"),
        (Role::EasyWithRacePace, _) => format!("{text}, race pace"),
        // Minutes of a run in kilometres say that they are.
        (_, Some(hard))
            if session.amount.is_some_and(|amount| (amount.unit() == Unit::Min) != (hard.unit() == Unit::Min)) =>
        {
            format!("{text}, {} hard", words::amount(hard))
        }
        (_, Some(hard)) => format!("{text}, {} hard", words::bare(hard)),
        (_, None) => text,
    }
}

/// A shake-out run is called so rather than by its kind.
fn with_part(planned: &Planned, text: String) -> String {
    match (planned.role, words::part_in_block(planned.role)) {
        (Role::ShakeOut | Role::OtherRace, Some(part)) => text.replacen(words::kind(planned.session.kind), part, 1),
        _ => text,
    }
}

/// `usually easy 8 km`.
pub(crate) fn usually(usual: &str) -> String {
    format!("usually {usual}")
}

/// `9:30`.
pub(crate) fn start(race: &Race) -> Option<String> {
    race.start.map(|start| format!("{}:{:02}", start.hour(), start.minute()))
}

/// `Race, 10 km, 9:30`.
pub(crate) fn race_day(race: &Race) -> String {
    let start = start(race).map_or(String::new(), |start| format!(", {start}"));
    format!("Race, {}{start}", words::race_distance(race.distance))
}

/// The race by its name, else by its distance.
pub(crate) fn race_name(race: &Race) -> String {
    if race.name.is_empty() { shown::capital(&words::race_distance(race.distance)) } else { race.name.clone() }
}

/// The distance where it stands beside the name of the race; nothing where it is the name.
pub(crate) fn distance_beside_name(race: &Race) -> String {
    if race.name.is_empty() { String::new() } else { words::race_distance(race.distance) }
}

/// `44:10`, `did not finish, 15 km run, 1:14:10`: what came out of a race, and what of it was run where less.
pub(crate) fn result(result: &RaceResult, ran: Option<RaceDistance>) -> String {
    let time = result.time.map(|time| time.to_string());
    // A time says by itself that the race was finished.
    let outcome =
        (result.outcome != Outcome::Finished || time.is_none()).then(|| words::outcome(result.outcome).to_owned());
    let ran = ran.map(|ran| format!("{} run", words::race_distance(ran)));
    [outcome, ran, time].into_iter().flatten().collect::<Vec<_>>().join(", ")
}

/// `12 days to go`, `one day to go`: within a sentence.
pub(crate) fn days_to_go(race: NaiveDate, today: NaiveDate) -> String {
    match (race - today).num_days() {
        0 => "race day is today".to_owned(),
        1 => "one day to go".to_owned(),
        -1 => "the race was yesterday".to_owned(),
        days if days > 0 => format!("{days} days to go"),
        days => format!("the race was {} days ago", -days),
    }
}

/// The curve of a block in a sentence, by what it does and not by its figures: `10 days, coming down slowly at first, then
/// faster; the day before the race keeps 46% of its usual running.` Where that day is rest, the last one before it that is
/// none.
pub(crate) fn settings_sentence(block: &Block) -> String {
    let curve = &block.curve;
    let shape = match curve.shape {
        Shape::Ebb => ebbing(curve.curvature),
        Shape::Linear => "falling evenly",
        Shape::Step => "in one step",
        Shape::Exponential => "fast at first, then level",
    };
    let runs = |day: &&Day| day.to_race > 0 && !day.is_rest();
    let last = block.days.iter().filter(runs).map(|day| day.to_race).min();
    let last = last.filter(|to_race| *to_race <= u16::from(curve.length)).map_or_else(String::new, |to_race| {
        let day = match to_race {
            1 => "the day before the race keeps".to_owned(),
            days => format!("{days} days before the race it keeps"),
        };
        format!("; {day} about {} of a usual day", words::per_cent(curve.share(to_race)))
    });
    format!("{} days, {shape}{last}.", curve.length)
}

/// What a curvature means to who never saw the formula.
fn ebbing(curvature: f64) -> &'static str {
    if curvature > 1.0 {
        "coming down slowly at first, then faster"
    } else if curvature < 1.0 {
        "coming down fast at first, then slowly"
    } else {
        "coming down evenly"
    }
}

/// What holds for the block as a whole: where it begins, its cut, and why it is not as the event's default.
pub(crate) fn block_facts(block: &Block, units: DistanceUnit) -> Vec<String> {
    let why = block.adjustments.iter().map(|adjustment| words::adjustment(*adjustment).to_owned());
    [words::beginning(&block.beginning()), words::cut(block, units)].into_iter().chain(why).collect()
}

#[cfg(test)]
mod tests {
    use planning::{SetUnit, Sets};

    use super::*;

    #[test]
    fn a_curvature_is_said_by_what_it_does() {
        let mut block = crate::blocks::sample::record(&crate::blocks::sample::ten_k()).block;
        for (curvature, said) in [
            (1.5, "coming down slowly at first, then faster;"),
            (1.0, "coming down evenly;"),
            (0.7, "coming down fast at first, then slowly;"),
        ] {
            block.curve.curvature = curvature;
            assert!(settings_sentence(&block).contains(said), "{}", settings_sentence(&block));
        }
    }

    #[test]
    fn what_the_last_running_day_keeps_is_said_of_the_day_that_runs() {
        let mut block = crate::blocks::sample::record(&crate::blocks::sample::ten_k()).block;
        let said = |block: &Block| settings_sentence(block);
        let runs_before = block.days.iter().any(|day| day.to_race == 1 && !day.is_rest());
        assert_eq!(said(&block).contains("; the day before the race keeps about "), runs_before, "{}", said(&block));
        for day in block.days.iter_mut().filter(|day| day.to_race == 1) {
            day.sessions.clear();
        }
        assert!(said(&block).contains(" days before the race it keeps about "), "{}", said(&block));
        block.days.iter_mut().for_each(|day| day.sessions.clear());
        assert!(!said(&block).contains("keeps"), "{}", said(&block));
    }

    fn intervals() -> Session {
        Session {
            sets: vec![Sets {
                reps: 6,
                length: Milli::whole(800),
                unit: SetUnit::M,
                pace: "10k pace".to_owned(),
                recovery: "90 s jog".to_owned(),
            }],
            note: "on the\n grass".to_owned(),
            ..Session::new(Kind::Intervals, Amount::exact(Milli::whole(12), Unit::Km))
        }
    }

    fn planned_as(session: Session, role: Role) -> Planned {
        Planned { session, usual: None, role, why: Vec::new() }
    }

    #[test]
    fn a_session_is_said_outside_and_inside_apart() {
        assert_eq!(session(&intervals(), DistanceUnit::Km), "intervals 12 km, 4.8 km hard");
        assert_eq!(detail(&intervals()), "6 \u{d7} 800 m 10k pace, 90 s jog; on the grass");
        assert_eq!(
            planned_detail(&planned_as(intervals(), Role::Key)),
            format!("key session; {}", detail(&intervals()))
        );
    }

    #[test]
    fn minutes_of_a_run_in_kilometres_stay_minutes() {
        let tempo = Session {
            sets: vec![Sets {
                reps: 1,
                length: Milli::whole(25),
                unit: SetUnit::Min,
                pace: String::new(),
                recovery: String::new(),
            }],
            ..Session::new(Kind::Tempo, Amount::exact(Milli::whole(12), Unit::Km))
        };
        assert_eq!(session(&tempo, DistanceUnit::Km), "tempo 12 km, 25 min hard");
        assert_eq!(planned_brief(&planned_as(tempo, Role::Plain), DistanceUnit::Mi), "tempo 7.5 mi, 25 min hard");
    }

    #[test]
    fn an_assumed_hard_part_is_said_to_be_one() {
        let tempo = Session::new(Kind::Tempo, Amount::exact(Milli::whole(10), Unit::Km));
        assert!(session(&tempo, DistanceUnit::Km).contains("assumed"));
    }

    #[test]
    fn the_picture_takes_the_shortest_words() {
        let brief = |planned: &Planned| planned_brief(planned, DistanceUnit::Km);
        assert_eq!(brief(&planned_as(intervals(), Role::Key)), "intervals 12 km, 4.8 hard");
        let easy = Session::new(Kind::Easy, Amount::exact(Milli::whole(4), Unit::Km));
        assert_eq!(brief(&planned_as(easy.clone(), Role::ShakeOut)), "shake-out run 4 km");
        assert_eq!(brief(&planned_as(easy.clone(), Role::EasyWithStrides)), "easy 4 km, strides");
        assert_eq!(brief(&planned_as(easy, Role::EasyWithRacePace)), "easy 4 km, race pace");
        let half = Amount::exact(Milli(21_098), Unit::Km);
        let race =
            Session { hard: Some(half), ..Session::new(Kind::TimeTrial, Amount::exact(Milli::whole(23), Unit::Km)) };
        let other = planned_as(Session { note: "Mill Half".to_owned(), ..race }, Role::OtherRace);
        assert_eq!(brief(&other), "race 23 km, 21.1 hard", "as beside the picture");
        assert_eq!(planned_detail(&other), "Mill Half", "that it is a race stands before");
    }

    #[test]
    fn days_to_go_are_counted_in_words_on_both_sides_of_the_race() {
        let race: NaiveDate = "2027-05-09".parse().expect("a date");
        let on = |day: &str| days_to_go(race, day.parse().expect("a date"));
        assert_eq!(on("2027-05-07"), "2 days to go");
        assert_eq!(on("2027-05-08"), "one day to go");
        assert_eq!(on("2027-05-09"), "race day is today");
        assert_eq!(on("2027-05-10"), "the race was yesterday");
        assert_eq!(on("2027-05-12"), "the race was 3 days ago");
    }

    #[test]
    fn a_race_without_a_name_is_called_by_its_distance_and_that_is_said_once() {
        let mut race = crate::blocks::sample::ten_k().race;
        race.name.clear();
        assert_eq!((race_name(&race).as_str(), distance_beside_name(&race).as_str()), ("10 km", ""));
        race.distance = planning::RaceDistance::Half;
        assert_eq!(race_name(&race), "Half marathon");
    }
}
