//! Samples of the calendar: everything that a week can hold.

use chrono::NaiveDate;
use planning::{EventKind, Importance, LifeEvent, Outcome, Race, RaceDistance};
use store::{
    AthleteId, BlockId, Board, BoardRow, CalendarAthlete, CalendarRace, CalendarWeek, Entry, Paper, RaceId, RaceRecord,
    SquadCalendar, Version,
};

use super::asked::Filter;
use super::show::{ShowPage, Sight};
use crate::blocks::sample;
use crate::render::Layout;

fn day(text: &str) -> NaiveDate {
    text.parse().expect("a day")
}

fn race(id: i64, date: &str, importance: Importance) -> RaceRecord {
    let race = Race {
        name: format!("River <b>{id}"),
        date: day(date),
        distance: RaceDistance::TenK,
        start: None,
        zone: None,
        importance,
    };
    RaceRecord { id: RaceId(id), version: Version(1), race, place: String::new(), called_off: None }
}

fn run(race: &RaceRecord) -> CalendarRace {
    let entry = Entry {
        athlete: AthleteId(4),
        name: "Ana <b>".to_owned(),
        race: race.id,
        importance: race.race.importance,
        block: None,
        ran: None,
        outcome: None,
        is_settled: false,
    };
    CalendarRace { entry, race: race.clone(), block: None, off: None }
}

/// A block, a race without one, one whose block is for another day, one called off, one not started.
fn everything() -> Vec<CalendarRace> {
    let block = sample::ten_k().block();
    let mut with_block = run(&race(1, &block.race_day.to_string(), Importance::Goal));
    (with_block.entry.block, with_block.block) = (Some(BlockId(3)), Some(block));
    let without = run(&race(2, "2027-05-30", Importance::Goal));
    let mut moved = run(&race(3, "2027-06-13", Importance::Goal));
    moved.entry.block = Some(BlockId(5));
    let mut off = run(&race(4, "2027-06-20", Importance::TuneUp));
    off.race.called_off = Some(day("2027-04-20"));
    let mut not_started = run(&race(5, "2027-04-25", Importance::TrainingThrough));
    not_started.entry.outcome = Some(Outcome::DidNotStart);
    let mut given_up = run(&race(6, "2027-07-04", Importance::Goal));
    let given_up_on = day("2027-06-29");
    given_up.race.called_off = Some(given_up_on);
    let mut kept = sample::ten_k();
    kept.race.date = day("2027-07-04");
    given_up.off = Some((given_up_on, kept.block()));
    vec![not_started, with_block, without, moved, off, given_up]
}

fn calendar(athletes: Vec<CalendarAthlete>, groups: &[&str]) -> SquadCalendar {
    let mut weeks = vec![CalendarWeek::default(); 12];
    weeks[2] = CalendarWeek { races: 2, in_race_week: 12 };
    SquadCalendar {
        squad: athletes.len(),
        found: athletes.len(),
        page: 0,
        groups: groups.iter().map(|&group| group.to_owned()).collect(),
        races: athletes.iter().flat_map(|athlete| athlete.races.iter().map(|one| one.race.clone())).collect(),
        weeks,
        athletes,
    }
}

fn athlete(id: i64, group: &str, races: Vec<CalendarRace>) -> CalendarAthlete {
    let on =
        |date| LifeEvent { kind: EventKind::Travel, from: day(date), to: day(date), noted: day(date), open: false };
    let travel = if races.is_empty() { Vec::new() } else { vec![on("2027-05-04")] };
    CalendarAthlete { id: AthleteId(id), name: format!("Ana <b>{id}"), group: group.to_owned(), races, travel }
}

/// Nobody, nobody who fits, quiet weeks, and everything.
pub(super) fn pages() -> Vec<ShowPage> {
    let sight = |from: &str| Sight {
        from: day(from),
        to: day(from) + chrono::Days::new(83),
        today: day("2027-04-20"),
        paper: Paper::Letter,
    };
    let page = |calendar: &SquadCalendar, filter: Filter, from| {
        let today = day("2027-04-20");
        let ill = LifeEvent { kind: EventKind::Injury, from: today, to: today, noted: today, open: true };
        let row = BoardRow { unwell: Box::new([ill]), ..BoardRow::of(AthleteId(4), "Ana <b>4") };
        let board: Board = std::sync::Arc::new([std::sync::Arc::new(row)]);
        ShowPage::new(Layout::plain(), (calendar, &board), filter, None, sight(from))
    };
    let nobody = calendar(vec![], &[]);
    let nobody_fits = SquadCalendar { squad: 3, ..nobody.clone() };
    let filter = Filter { group: "Track <b>".to_owned(), ..Filter::default() };
    let quiet = calendar(vec![athlete(4, "", vec![])], &[]);
    let full = calendar(vec![athlete(4, "Track <b>", everything()), athlete(5, "", vec![])], &["Track <b>"]);
    let several = SquadCalendar { found: 90, ..full.clone() };
    let mut wrong = page(&several, filter.clone(), "2027-05-03");
    wrong.say("“<b>” is not a date.");
    vec![
        page(&nobody, Filter::default(), "2027-04-19"),
        page(&nobody_fits, filter, "2027-04-19"),
        page(&quiet, Filter::default(), "2027-04-19"),
        page(&full, Filter::default(), "2027-04-19"),
        wrong,
    ]
}
