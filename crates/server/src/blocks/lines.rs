//! Short texts of a block's pages: dates, amounts in the reader's units, sessions on one line.
//! Reasons, findings and problems are said by `formats::words`.

use chrono::{Datelike, NaiveDate, Weekday};
use planning::units::DistanceUnit;
use planning::{Amount, Milli, Pace, Planned, Race, RaceDistance, Reason, Role, Session, Totals, Unit, WeekSummary};

/// A day without running.
pub(crate) const REST: &str = "rest";
/// A usual session that is not done, where others of the day are.
pub(crate) const LEFT_OUT: &str = "left out";

/// `Tue`.
pub(crate) const fn weekday_short(day: Weekday) -> &'static str {
    match day {
        Weekday::Mon => "Mon",
        Weekday::Tue => "Tue",
        Weekday::Wed => "Wed",
        Weekday::Thu => "Thu",
        Weekday::Fri => "Fri",
        Weekday::Sat => "Sat",
        Weekday::Sun => "Sun",
    }
}

/// `Tuesday`.
pub(crate) const fn weekday_long(day: Weekday) -> &'static str {
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

fn month(date: NaiveDate) -> &'static str {
    const MONTHS: [&str; 12] = [
        "January",
        "February",
        "March",
        "April",
        "May",
        "June",
        "July",
        "August",
        "September",
        "October",
        "November",
        "December",
    ];
    MONTHS[date.month0() as usize]
}

/// `4 May`.
pub(crate) fn day_month(date: NaiveDate) -> String {
    format!("{} {}", date.day(), month(date))
}

/// `Tue 4`.
pub(crate) fn weekday_and_day(date: NaiveDate) -> String {
    format!("{} {}", weekday_short(date.weekday()), date.day())
}

/// `Tuesday 4 May`.
pub(crate) fn long_date(date: NaiveDate) -> String {
    format!("{} {}", weekday_long(date.weekday()), day_month(date))
}

/// `Tuesday 4 May 2027`.
pub(crate) fn full_date(date: NaiveDate) -> String {
    format!("{} {}", long_date(date), date.year())
}

/// `26 April to 2 May`.
pub(crate) fn date_range(from: NaiveDate, to: NaiveDate) -> String {
    if from.month() == to.month() && from.year() == to.year() {
        format!("{} to {}", from.day(), day_month(to))
    } else {
        format!("{} to {}", day_month(from), day_month(to))
    }
}

/// `Race week`, `The week before`, `2 weeks before race week`.
pub(crate) fn week_name(before: u16) -> String {
    match before {
        0 => "Race week".to_owned(),
        1 => "The week before".to_owned(),
        weeks => format!("{weeks} weeks before race week"),
    }
}

/// An amount in the reader's units: as typed where they are the same, else to the nearest tenth.
pub(crate) fn amount(amount: Amount, units: DistanceUnit) -> String {
    in_units(amount, units).to_string()
}

fn in_units(amount: Amount, units: DistanceUnit) -> Amount {
    if amount.unit() == Unit::Min || amount.unit() == units.unit() {
        return amount;
    }
    let mut totals = Totals::default();
    totals.add(amount);
    let converted = totals.estimate(units.unit(), Pace::ASSUMED);
    let tenth = |value: Milli| Milli((f64::from(value.0) / 100.0).round() as i32 * 100);
    Amount::between(tenth(converted.low()), tenth(converted.high()), units.unit())
}

/// Totals, unit by unit: `40 km and 50 min`.
pub(crate) fn totals(totals: &Totals, units: DistanceUnit) -> String {
    let mut shown = Totals::default();
    for part in totals.parts() {
        shown.add(in_units(*part, units));
    }
    let parts: Vec<String> = shown.parts().iter().map(ToString::to_string).collect();
    if parts.is_empty() { format!("0 {}", units.symbol()) } else { parts.join(" and ") }
}

/// The totals of a week in a few words: `12 of 40 km before the race`.
pub(crate) fn week_brief(week: &WeekSummary, units: DistanceUnit) -> String {
    let of = format!("{} of {}", totals(&week.planned, units), totals(&week.usual, units));
    if week.race.is_some() { format!("{of} before the race") } else { of }
}

/// The totals of a week in full.
pub(crate) fn week_sentence(week: &WeekSummary, units: DistanceUnit) -> String {
    week_brief(week, units)
}

/// `intervals 11-13 km, 5-6 hard`.
pub(crate) fn session(session: &Session, units: DistanceUnit) -> String {
    let kind = kind(session);
    let Some(all) = session.amount else { return kind.to_owned() };
    let hard = session.hard_part().map_or(String::new(), |hard| {
        let hard = in_units(hard, units);
        if hard.is_range() {
            format!(", {}-{} hard", hard.low(), hard.high())
        } else {
            format!(", {} hard", hard.low())
        }
    });
    format!("{kind} {}{hard}", amount(all, units))
}

const fn kind(session: &Session) -> &'static str {
    use planning::Kind;
    match session.kind {
        Kind::RacePace => "race pace",
        Kind::TimeTrial => "time trial",
        Kind::CrossTraining => "cross-training",
        Kind::Long => "long run",
        kind => kind.code(),
    }
}

/// A planned session with its part in the block: `easy 6 km with strides`.
pub(crate) fn planned(planned: &Planned, units: DistanceUnit) -> String {
    let text = session(&planned.session, units);
    match planned.role {
        Role::EasyWithStrides => format!("{text}, with strides"),
        Role::ShakeOut => text.replacen("easy", "shake-out run", 1),
        Role::Plain | Role::Key => text,
    }
}

/// The same, short enough for the picture.
pub(crate) fn planned_brief(planned: &Planned, units: DistanceUnit) -> String {
    self::planned(planned, units)
}

/// The inside of a session and the coach's own words.
pub(crate) fn detail(session: &Session) -> String {
    let mut parts: Vec<String> = session
        .sets
        .iter()
        .map(|sets| {
            let mut text = format!("{} x {} {}", sets.reps, sets.length, sets.unit.symbol());
            if !sets.pace.is_empty() {
                text.push_str(" at ");
                text.push_str(&sets.pace);
            }
            if !sets.recovery.is_empty() {
                text.push_str(", ");
                text.push_str(&sets.recovery);
            }
            text
        })
        .collect();
    if !session.note.is_empty() {
        parts.push(session.note.clone());
    }
    parts.join("; ")
}

/// `usually easy 8 km`.
pub(crate) fn usually(usual: &str) -> String {
    format!("usually {usual}")
}

/// Why, in a short sentence.
pub(crate) fn reason(reason: &Reason, _units: DistanceUnit) -> String {
    format!("{reason:?}")
}

/// `10 km`, `half marathon`.
pub(crate) fn distance(distance: RaceDistance) -> String {
    match distance {
        RaceDistance::FiveK => "5 km".to_owned(),
        RaceDistance::TenK => "10 km".to_owned(),
        RaceDistance::TenMiles => "10 miles".to_owned(),
        RaceDistance::Half => "half marathon".to_owned(),
        RaceDistance::Marathon => "marathon".to_owned(),
        RaceDistance::Own(value, unit) => format!("{value} {}", unit.symbol()),
    }
}

/// `9:30`.
pub(crate) fn start(race: &Race) -> Option<String> {
    use chrono::Timelike;
    race.start.map(|start| format!("{}:{:02}", start.hour(), start.minute()))
}

/// `Race, 10 km, 9:30`.
pub(crate) fn race_day(race: &Race) -> String {
    let start = start(race).map_or(String::new(), |start| format!(", {start}"));
    format!("Race, {}{start}", distance(race.distance))
}

/// `race, 10 km, 9:30`.
pub(crate) fn race_short(race: &Race) -> String {
    let start = start(race).map_or(String::new(), |start| format!(", {start}"));
    format!("race, {}{start}", distance(race.distance))
}

/// `12 days to go`.
pub(crate) fn days_to_go(race: NaiveDate, today: NaiveDate) -> String {
    match (race - today).num_days() {
        0 => "today".to_owned(),
        1 => "tomorrow".to_owned(),
        -1 => "yesterday".to_owned(),
        days if days > 0 => format!("{days} days to go"),
        days => format!("{} days ago", -days),
    }
}

/// The race by its name, else by its distance.
pub(crate) fn race_name(race: &Race) -> String {
    if race.name.is_empty() {
        let distance = distance(race.distance);
        let mut letters = distance.chars();
        letters.next().map_or(String::new(), |first| first.to_uppercase().collect::<String>() + letters.as_str())
    } else {
        race.name.clone()
    }
}

/// What holds for the block as a whole.
pub(crate) fn block_facts(block: &planning::Block) -> Vec<String> {
    vec![format!("cut {}", block.cut().percent())]
}

pub(crate) fn finding(finding: &planning::Finding) -> String {
    format!("{finding:?}")
}

pub(crate) fn figure(finding: &planning::Finding) -> String {
    format!("{:?}", finding.figure)
}

pub(crate) fn source(rule: planning::RuleId) -> String {
    format!("{rule:?}")
}

pub(crate) fn plan_answer(_: &planning::Block, _: &[planning::Finding]) -> serde_json::Value {
    serde_json::Value::Null
}

/// `4 May`, the month in three letters.
pub(crate) fn day_month_short(date: NaiveDate) -> String {
    format!("{} {}", date.day(), &month(date)[..3])
}

/// The totals of a week as an athlete reads them.
pub(crate) fn week_for_athlete(week: &WeekSummary, units: DistanceUnit) -> String {
    week_brief(week, units)
}

/// The curve of a block in a sentence: `10 days, curvature 1.5, floor 40 %, deeper toward the race.`
pub(crate) fn settings_sentence(block: &planning::Block) -> String {
    let curve = &block.curve;
    let shape = match curve.shape {
        planning::Shape::Ebb => "deeper toward the race",
        planning::Shape::Linear => "falling evenly",
        planning::Shape::Step => "in one step",
        planning::Shape::Exponential => "fast at first",
    };
    format!(
        "{} days, {shape}, curvature {}, floor {} %.",
        curve.length,
        curve.curvature,
        planning::Share(curve.floor).percent()
    )
}
