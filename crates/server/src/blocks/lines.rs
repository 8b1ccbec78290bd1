//! Short texts of a block's pages: how the words of `formats::words` are put together where a page,
//! a picture or a sheet is narrow.

use chrono::{Datelike, NaiveDate, Timelike};
use formats::words;
use planning::{Amount, Block, DistanceUnit, Milli, Planned, Race, Role, Session, Shape, Share, WeekSummary};

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

/// The same words with a capital in front.
pub(crate) fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or(String::new(), |first| first.to_uppercase().collect::<String>() + letters.as_str())
}

/// The totals of a week in a few words: `29–32 of 60–68 km before the race`.
pub(crate) fn week_brief(week: &WeekSummary, units: DistanceUnit) -> String {
    let (planned, usual) = (words::totals(&week.planned, units), words::totals(&week.usual, units));
    // "29-32 of 60-68 km": the unit is said once where there is only one.
    let unit = week.usual.single_unit().filter(|_| week.planned.single_unit() == week.usual.single_unit());
    let of = match unit.and_then(|_| planned.rsplit_once(' ')) {
        Some((number, _)) => format!("{number} of {usual}"),
        None => format!("{planned} of {usual}"),
    };
    if week.race.is_some() { format!("{of} before the race") } else { of }
}

/// The totals of a week as an athlete reads them.
pub(crate) fn week_for_athlete(week: &WeekSummary, units: DistanceUnit) -> String {
    let (planned, usual) = (words::totals(&week.planned, units), words::totals(&week.usual, units));
    if week.race.is_some() {
        format!("{planned} before the race, usually {usual} in the whole week")
    } else if planned == usual {
        format!("{planned}, as usual")
    } else {
        format!("{planned}, usually {usual}")
    }
}

/// Kind, amount and hard part, without what is inside: `intervals 6-7 km, 2.4 km hard`.
pub(crate) fn session(session: &Session, units: DistanceUnit) -> String {
    let hard =
        if session.hard_is_assumed() && session.kind.assumed_hard().is_some() { None } else { session.hard_part() };
    words::session_in(&outside(session, hard), units)
}

fn outside(session: &Session, hard: Option<Amount>) -> Session {
    Session { hard, sets: Vec::new(), loaded: false, note: String::new(), ..session.clone() }
}

/// What is inside a session, and the coach's own words: `6 x 800 m 10k pace, 90 s jog`.
pub(crate) fn detail(session: &Session) -> String {
    let mut parts: Vec<String> = session.sets.iter().map(words::sets).collect();
    if session.loaded {
        parts.push("loaded legs".to_owned());
    }
    if !session.note.is_empty() {
        parts.push(session.note.split_whitespace().collect::<Vec<_>>().join(" "));
    }
    parts.join("; ")
}

/// The inside of a planned session after its part in the block.
pub(crate) fn planned_detail(planned: &Planned) -> String {
    let part = match planned.role {
        // The line itself says it.
        Role::ShakeOut => None,
        role => words::part_in_block(role).map(str::to_owned),
    };
    let inside = Some(detail(&planned.session)).filter(|inside| !inside.is_empty());
    part.into_iter().chain(inside).collect::<Vec<_>>().join("; ")
}

/// A planned session: `easy 6 km`, `shake-out run 3.5 km`.
pub(crate) fn planned(planned: &Planned, units: DistanceUnit) -> String {
    with_part(planned, session(&planned.session, units))
}

/// The same, short enough for the picture: `intervals 6-7 km, 2.4 hard`.
pub(crate) fn planned_brief(planned: &Planned, units: DistanceUnit) -> String {
    let session = &planned.session;
    let nothing = session.amount.map(|amount| Amount::exact(Milli::ZERO, amount.unit()));
    let text = with_part(planned, words::session_in(&outside(session, nothing), units));
    let hard = session.hard_part().map(|hard| words::amount_in(hard, units));
    match (planned.role, hard) {
        (Role::EasyWithStrides, _) => format!("{text}, strides"),
        (_, Some(hard)) if hard.is_range() => {
            format!("{text}, {}\u{2013}{} hard", words::number(hard.low()), words::number(hard.high()))
        }
        (_, Some(hard)) => format!("{text}, {} hard", words::number(hard.low())),
        (_, None) => text,
    }
}

/// A shake-out run is called so rather than by its kind.
fn with_part(planned: &Planned, text: String) -> String {
    match (planned.role, words::part_in_block(Role::ShakeOut)) {
        (Role::ShakeOut, Some(part)) => text.replacen(words::kind(planned.session.kind), part, 1),
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
    if race.name.is_empty() { capital(&words::race_distance(race.distance)) } else { race.name.clone() }
}

/// The distance where it stands beside the name of the race; nothing where it is the name.
pub(crate) fn distance_beside_name(race: &Race) -> String {
    if race.name.is_empty() { String::new() } else { words::race_distance(race.distance) }
}

/// `12 days to go`.
pub(crate) fn days_to_go(race: NaiveDate, today: NaiveDate) -> String {
    match (race - today).num_days() {
        0 => "Race day is today".to_owned(),
        1 => "One day to go".to_owned(),
        -1 => "The race was yesterday".to_owned(),
        days if days > 0 => format!("{days} days to go"),
        days => format!("The race was {} days ago", -days),
    }
}

/// The curve of a block in a sentence: `10 days, floor 40%, curvature 1.5, deeper toward the race.`
pub(crate) fn settings_sentence(block: &Block) -> String {
    let curve = &block.curve;
    let floor = words::per_cent(Share(curve.floor));
    let shape = match curve.shape {
        Shape::Ebb => format!("ebbing with curvature {}", words::short_number(curve.curvature)),
        Shape::Linear => "falling evenly".to_owned(),
        Shape::Step => "in one step".to_owned(),
        Shape::Exponential => "fast at first, then level".to_owned(),
    };
    format!("{} days, {shape}, down to {floor} on the day before the race.", curve.length)
}

/// What holds for the block as a whole: its cut, and why it is not as the event's default.
pub(crate) fn block_facts(block: &Block) -> Vec<String> {
    let why = block.adjustments.iter().map(|adjustment| words::adjustment(*adjustment).to_owned());
    std::iter::once(words::cut(block)).chain(why).collect()
}
