//! A block as a table: one row a session, rest days and the race too.
//!
//! Written as [every table](crate::table) is; amounts keep the units in which they were typed.

use planning::notation::write_day;
use planning::week::weekday_code;
use planning::{Amount, Block, Day, Dropped, Milli, Planned, Session, Slot};

use crate::{table, words};

/// The first row.
pub const HEADER: [&str; 16] = [
    "date",
    "weekday",
    "to_race",
    "kind",
    "low",
    "high",
    "unit",
    "hard_low",
    "hard_high",
    "session",
    "note",
    "part",
    "usual",
    "usual_low",
    "usual_high",
    "why",
];

/// Writes the table.
pub fn write(block: &Block) -> String {
    table::write(&HEADER, records(block))
}

/// The rows below [`HEADER`], their cells as they are.
pub fn records(block: &Block) -> Vec<[String; 16]> {
    block.days.iter().flat_map(|day| rows(day, block)).collect()
}

/// One session, or what stands in its place.
#[derive(Default)]
struct Row {
    kind: String,
    /// Low, high, unit, hard low, hard high, line and note.
    session: [String; 7],
    part: String,
    /// Line, low and high.
    usual: [String; 3],
    why: String,
}

fn rows(day: &Day, block: &Block) -> Vec<[String; 16]> {
    let mut rows: Vec<Row> = Vec::new();
    if day.to_race == 0 {
        let line = words::race_distance(block.race.distance);
        let session =
            [String::new(), String::new(), String::new(), String::new(), String::new(), line, block.race.name.clone()];
        rows.push(Row { kind: "race".to_owned(), session, ..Row::default() });
    }
    rows.extend(day.sessions.iter().map(planned));
    let instead = if rows.is_empty() { "rest" } else { "left-out" };
    rows.extend(day.dropped.iter().map(|item| dropped(item, instead)));
    if rows.is_empty() {
        rows.push(Row { kind: "rest".to_owned(), ..Row::default() });
    }
    rows.into_iter().map(|row| row.on(day)).collect()
}

impl Row {
    fn on(self, day: &Day) -> [String; 16] {
        let [low, high, unit, hard_low, hard_high, line, note] = self.session;
        let [usual, usual_low, usual_high] = self.usual;
        let weekday = weekday_code(day.weekday()).to_owned();
        [
            day.date.to_string(),
            weekday,
            day.to_race.to_string(),
            self.kind,
            low,
            high,
            unit,
            hard_low,
            hard_high,
            line,
            note,
            self.part,
            usual,
            usual_low,
            usual_high,
            self.why,
        ]
    }
}

fn planned(planned: &Planned) -> Row {
    let session = &planned.session;
    let amount = session.amount;
    let hard = session.hard_part();
    Row {
        kind: session.kind.code().to_owned(),
        session: [
            number(amount.map(Amount::low)),
            number(amount.map(Amount::high)),
            amount.map(|amount| amount.unit().symbol().to_owned()).unwrap_or_default(),
            number(hard.map(Amount::low)),
            number(hard.map(Amount::high)),
            line(session),
            session.note.clone(),
        ],
        part: words::part_in_block(planned.role).unwrap_or_default().to_owned(),
        usual: planned.usual.as_ref().map(usual).unwrap_or_default(),
        why: words::reasons(planned, words::typed_in(session)).join(" "),
    }
}

/// A usual session that is not run: the day is rest, or only the session is left out.
fn dropped(dropped: &Dropped, instead: &str) -> Row {
    let why = words::dropped(dropped, words::typed_in(&dropped.usual)).join(" ");
    Row { kind: instead.to_owned(), usual: usual(&dropped.usual), why, ..Row::default() }
}

fn usual(session: &Session) -> [String; 3] {
    [line(session), number(session.amount.map(Amount::low)), number(session.amount.map(Amount::high))]
}

/// The session as a coach types it, without its note.
fn line(session: &Session) -> String {
    write_day(&[Slot::one(Session { note: String::new(), ..session.clone() })])
}

fn number(value: Option<Milli>) -> String {
    value.map(words::number).unwrap_or_default()
}
