//! Sessions on one line.

use planning::plain::{joined, one_line};
use planning::{Amount, DistanceUnit, Kind, Planned, Role, Session, Sets, Unit};

use super::amounts::{amount, amount_in, bare, number, tenth};
use super::names::kind;

/// A session with everything that is known of it, in the reader's unit:
/// `intervals 10–12 km: 6 × 800 m 10k pace, 90 s jog`, `tempo 9 km, 4.5 km hard`, `strength 40 min`.
pub fn session_in(session: &Session, units: DistanceUnit) -> String {
    if let Some(words) = session.rest_words() {
        return format!("rest ({})", one_line(words));
    }
    // Pages say it hundreds of times: it grows in one piece.
    let mut said = kind(session.kind).to_owned() + &size(session, units);
    for (place, of_one_length) in session.sets.iter().enumerate() {
        said += if place == 0 { ": " } else { "; " };
        said += &sets(of_one_length);
    }
    if session.loaded {
        said += ", loaded legs";
    }
    if !session.note.is_empty() {
        said = said + " (" + &one_line(&session.note) + ")";
    }
    said
}

/// A session in the units in which it was typed.
pub fn session(session: &Session) -> String {
    session_in(session, typed_in(session))
}

/// The unit of distance in which a session was typed; kilometres where it was in none.
pub(crate) fn typed_in(session: &Session) -> DistanceUnit {
    match session.amount.map(Amount::unit) {
        Some(Unit::Mi) => DistanceUnit::Mi,
        _ => DistanceUnit::Km,
    }
}

/// What part a planned session plays, where that is worth a word.
pub const fn part_in_block(role: Role) -> Option<&'static str> {
    match role {
        Role::Plain => None,
        Role::Key => Some("key session"),
        Role::ShakeOut => Some("shake-out run"),
        Role::EasyWithStrides => Some("with 4–6 strides of 15–20 s"),
        Role::EasyWithRacePace => Some("with 3 × 2 min at race pace"),
        Role::OtherRace => Some("race"),
    }
}

/// A planned session with its part in the block: `easy 6 km, with 4–6 strides of 15–20 s`,
/// `shake-out run 3.5 km`.
pub fn planned(planned: &Planned, units: DistanceUnit) -> String {
    let line = session_in(&planned.session, units);
    match (planned.role, part_in_block(planned.role)) {
        (Role::ShakeOut, Some(part)) => {
            let behind = line.strip_prefix(kind(planned.session.kind)).unwrap_or(&line);
            let strides = if planned.session.kind == Kind::Strides { ", with strides" } else { "" };
            format!("{part}{behind}{strides}")
        }
        (Role::OtherRace, Some(part)) => {
            format!("{part}{}", line.strip_prefix(kind(planned.session.kind)).unwrap_or(&line))
        }
        (_, Some(part)) => format!("{line}, {part}"),
        (_, None) => line,
    }
}

/// A session in as few words as tell it from the other: the kind only where it differs, repetitions
/// without pace and recovery, no note.
pub fn beside(session: &Session, other: &Session, units: DistanceUnit) -> String {
    let inside: Vec<String> = session.sets.iter().map(reps).collect();
    // Both hard parts were assumed, the one as the other.
    let is_assumed = is_hard_assumed(session) && is_hard_assumed(other) && session.kind == other.kind;
    let words = [
        if session.kind == other.kind { String::new() } else { kind(session.kind).to_owned() },
        if inside.is_empty() && !is_assumed { size(session, units) } else { whole(session, units) },
        if inside.is_empty() { String::new() } else { format!(" with {}", inside.join(" and ")) },
        if session.loaded { ", loaded legs".to_owned() } else { String::new() },
    ]
    .concat();
    let words = words.trim_start_matches([' ', ',']).trim_start_matches("with ");
    if words.is_empty() { kind(session.kind).to_owned() } else { words.to_owned() }
}

/// `6 × 800 m`
fn reps(sets: &Sets) -> String {
    format!("{} \u{d7} {} {}", sets.reps, number(sets.length), sets.unit.symbol())
}

/// What is inside a session in the order in which it is run, and the coach's own words:
/// `3 km warm up; 6 × 800 m 10k pace, 90 s jog; on the grass; 2 km cool down`.
pub fn inside(session: &Session) -> String {
    if let Some(words) = session.rest_words() {
        return one_line(words);
    }
    if session.sets.is_empty() && !session.loaded && session.note.is_empty() {
        return String::new();
    }
    let [warm, note, cool] = session.note_as_run().map(|pieces| one_line(&pieces.join(", ")));
    let sets: Vec<String> = session.sets.iter().map(sets).collect();
    let loaded = if session.loaded { "loaded legs" } else { "" };
    joined([&warm, &sets.join("; "), loaded, &note, &cool], "; ")
}

/// Repetitions: `6 × 800 m 10k pace, 90 s jog`, `3 × 1.5 km at 4:10, 2 min between`.
pub fn sets(sets: &Sets) -> String {
    let (pace, recovery) = (one_line(&sets.pace), one_line(&sets.recovery));
    // A bare figure does not say what it is.
    let led = match pace.as_str() {
        pace if pace.starts_with(|one: char| one.is_ascii_digit()) && pace.contains(':') => "at",
        pace if is_length(pace) => "in",
        _ => "",
    };
    let between = if is_length(&recovery) { "between" } else { "" };
    let work = joined([reps(sets).as_str(), led, &pace], " ");
    joined([work, joined([recovery.as_str(), between], " ")], ", ")
}

/// Whether words are how long something is and nothing else: `2 min`, `90 s`, `400 m`, `1'30`.
fn is_length(words: &str) -> bool {
    let units = words.split(|one: char| !one.is_alphabetic()).filter(|word| !word.is_empty());
    let is_unit = |word: &str| ["m", "km", "mi", "s", "sec", "min", "mins"].contains(&word);
    words.starts_with(|one: char| one.is_ascii_digit()) && units.into_iter().all(is_unit)
}

/// Whether nobody says how much of a session is hard: repetitions do, in minutes or metres.
pub fn is_hard_assumed(session: &Session) -> bool {
    !session.holds_hard_sets() && session.hard_is_assumed()
}

/// A hundredth of a kilometre, a mile or a minute.
const HUNDREDTH: i32 = 10;

/// The hard part of a session as the reader is told it: in minutes where the repetitions are, whatever the run is in.
pub fn hard_part(session: &Session, units: DistanceUnit) -> Option<Amount> {
    let hard = amount_in(session.hard_as_said()?, units);
    // Repetitions and a race's distance are known to the metre, and nobody says 2.485 miles for 5 × 800 m.
    let is_to_the_metre = hard.low().0 % HUNDREDTH != 0 || hard.high().0 % HUNDREDTH != 0;
    let tenths = || Amount::between(tenth(hard.low().as_f64()), tenth(hard.high().as_f64()), hard.unit());
    Some(if is_to_the_metre { tenths() } else { hard })
}

/// ` 9–10 km, 4.5–5 km hard`: amount and hard part, each with what stands before it.
fn size(session: &Session, units: DistanceUnit) -> String {
    let hard = match hard_part(session, units) {
        Some(_) if session.is_raced_whole() => ", all of it hard".to_owned(),
        Some(hard) if is_hard_assumed(session) => {
            format!(", about {} {} hard (assumed)", bare(hard), hard.unit().symbol())
        }
        Some(hard) if !session.holds_hard_sets() => format!(", {} hard", amount(hard)),
        _ => String::new(),
    };
    whole(session, units) + &hard
}

fn whole(session: &Session, units: DistanceUnit) -> String {
    session.amount.map(|whole| " ".to_owned() + &amount(amount_in(whole, units))).unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use planning::notation::read_day;

    use super::*;

    #[test]
    fn a_session_is_told_in_the_order_in_which_it_is_run_and_no_figure_stands_bare() {
        for (line, said) in [
            ("3 km wu, 6 x 800 m 10k pace, 90 s jog, 2 km cd", "3 km wu; 6 × 800 m 10k pace, 90 s jog; 2 km cd"),
            ("4 x 8 min Z4 (2 min), 14 km (on grass)", "4 × 8 min Z4, 2 min between; on grass"),
            ("3 x 1.5 km @ 4:10, 9 km", "3 × 1.5 km at 4:10"),
            ("12 x 400 @ 72, 200 m jog, 10 km", "12 × 400 m in 72 s, 200 m jog"),
            ("2 km wu, tempo 5 km, 2 km cd", "2 km wu; 2 km cd"),
            ("easy 8 km (flat)", "flat"),
        ] {
            let day = read_day(line, DistanceUnit::Km).expect(line);
            assert_eq!(inside(day[0].chosen()), said, "{line}");
        }
    }
}
