//! The morning of a race by the clocks of its place.

use chrono::{DateTime, MappedLocalTime, NaiveDateTime, NaiveTime, TimeDelta, TimeZone as _};
use chrono_tz::Tz;
use planning::Race;
use planning::morning::{EAT_BEFORE, Given, Item, Trouble, morning};
use planning::warm_up::WarmUp;

/// What is known of the morning; times by the clocks of the place.
#[derive(Clone, Copy, Debug)]
pub struct Told<'a> {
    /// The race.
    pub race: &'a Race,
    /// When the athlete's wave starts, where it starts after the race.
    pub wave: Option<NaiveTime>,
    /// When the pens close.
    pub pens_close: Option<NaiveTime>,
    /// Until when bags are taken.
    pub bags_close: Option<NaiveTime>,
    /// Minutes of the way to the race.
    pub travel_minutes: Option<u16>,
    /// Minutes before the start at which the athlete eats.
    pub eat_minutes: Option<u16>,
    /// The warm-up.
    pub warm_up: WarmUp,
}

/// Which of the two hours it is, in a night in which one comes twice.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Turn {
    /// Before the clocks go back.
    First,
    /// After it.
    Second,
}

/// Something with its time.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Row {
    /// What.
    pub item: Item,
    /// When.
    pub at: NaiveDateTime,
    /// Which hour is meant, where it comes twice.
    pub turn: Option<Turn>,
}

/// What in the times does not go together, or is no time.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Unclear {
    /// In the order of the morning.
    Order(Trouble),
    /// The wave starts before the race: the start of the race is taken.
    WaveBeforeStart,
    /// The clocks leave this time out that night.
    LeftOut(Item, NaiveTime),
}

/// The morning in order.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Timetable {
    /// From the first to the start.
    pub rows: Vec<Row>,
    /// What the coach has to look at.
    pub unclear: Vec<Unclear>,
}

/// The morning of a race, counted back in hours that really pass: in a night in which the clocks change,
/// six hours before the start are six hours of sleep and breakfast. Nothing where no start is known. Where
/// the zone is not known, the clocks stand as they are.
pub fn timetable(told: &Told<'_>) -> Option<Timetable> {
    let race = told.race;
    let race_start = race.date.and_time(race.start?);
    let zone = race.zone.as_deref().and_then(|zone| zone.parse().ok()).unwrap_or(Tz::UTC);
    let mut unclear = Vec::new();
    let wave = told.wave.map(|wave| near(race_start, wave));
    unclear.extend(wave.filter(|wave| *wave < race_start).map(|_| Unclear::WaveBeforeStart));
    let start_clock = wave.filter(|wave| *wave >= race_start).unwrap_or(race_start);
    let start = zone.from_local_datetime(&start_clock).earliest()?;
    let mut before = |item, time: Option<NaiveTime>| {
        let time = time?;
        let instant = zone.from_local_datetime(&near(start_clock, time)).earliest();
        if instant.is_none() {
            unclear.push(Unclear::LeftOut(item, time));
        }
        Some((start - instant?).num_minutes() as i32)
    };
    let given = Given {
        start: start_clock.time(),
        eat: told.eat_minutes.unwrap_or(EAT_BEFORE),
        travel: told.travel_minutes,
        bags_close: before(Item::BagsClose, told.bags_close),
        pens_close: before(Item::PensClose, told.pens_close),
        warm_up: told.warm_up,
    };
    let morning = morning(&given);
    unclear.extend(morning.troubles.into_iter().map(Unclear::Order));
    let rows = morning.entries.iter().map(|entry| row(entry.item, start - minutes(i64::from(entry.before))));
    Some(Timetable { rows: rows.collect(), unclear })
}

const fn minutes(minutes: i64) -> TimeDelta {
    TimeDelta::seconds(minutes * 60)
}

fn row(item: Item, instant: DateTime<Tz>) -> Row {
    let at = instant.naive_local();
    let turn = match instant.timezone().from_local_datetime(&at) {
        MappedLocalTime::Ambiguous(first, _) if first == instant => Some(Turn::First),
        MappedLocalTime::Ambiguous(..) => Some(Turn::Second),
        _ => None,
    };
    Row { item, at, turn }
}

/// The time of day that is nearest to a start: half past eleven in the evening before a start at midnight.
fn near(start: NaiveDateTime, time: NaiveTime) -> NaiveDateTime {
    let same_day = start.date().and_time(time);
    let half_a_day = minutes(12 * 60);
    if same_day - start > half_a_day {
        same_day - minutes(24 * 60)
    } else if start - same_day > half_a_day {
        same_day + minutes(24 * 60)
    } else {
        same_day
    }
}

#[cfg(test)]
mod tests {
    use chrono::NaiveDate;
    use planning::warm_up::warm_up;
    use planning::{Event, Importance, RaceDistance};

    use super::*;

    fn time(text: &str) -> NaiveTime {
        NaiveTime::parse_from_str(text, "%H:%M").unwrap()
    }

    fn race(day: &str, start: &str, zone: Option<&str>) -> Race {
        Race {
            name: String::new(),
            date: day.parse::<NaiveDate>().unwrap(),
            distance: RaceDistance::Marathon,
            start: Some(time(start)),
            zone: zone.map(str::to_owned),
            importance: Importance::Goal,
        }
    }

    fn told(race: &Race) -> Told<'_> {
        Told {
            race,
            wave: None,
            pens_close: None,
            bags_close: None,
            travel_minutes: Some(60),
            eat_minutes: None,
            warm_up: warm_up(Event::Marathon, false),
        }
    }

    fn said(told: &Told<'_>) -> Vec<String> {
        let timetable = timetable(told).unwrap();
        let turn = |row: &Row| row.turn.map_or(String::new(), |turn| format!(" {turn:?}"));
        let rows = timetable.rows.iter();
        let rows = rows.map(|row| format!("{} {:?}{}", row.at.format("%d %H:%M"), row.item, turn(row)));
        rows.chain(timetable.unclear.iter().map(|unclear| format!("{unclear:?}"))).collect()
    }

    #[test]
    fn times_are_counted_back_from_the_start() {
        let race = race("2027-05-09", "09:30", Some("Europe/Lisbon"));
        let told = Told { bags_close: Some(time("08:45")), pens_close: Some(time("09:15")), ..told(&race) };
        assert_eq!(
            said(&told),
            [
                "09 06:15 Wake",
                "09 06:30 Eat",
                "09 07:15 Leave",
                "09 08:15 Arrive",
                "09 08:45 BagsClose",
                "09 09:05 WarmUp",
                "09 09:15 PensClose",
                "09 09:15 LineUp",
                "09 09:30 Start"
            ]
        );
    }

    #[test]
    fn in_a_night_in_which_an_hour_is_left_out_the_hours_still_pass() {
        // In Vienna 2:00 becomes 3:00 on 28 March 2027.
        let race = race("2027-03-28", "05:00", Some("Europe/Vienna"));
        let told = Told { bags_close: Some(time("02:30")), ..told(&race) };
        let said = said(&told);
        assert_eq!(said[..2], ["28 00:45 Wake", "28 01:00 Eat"], "three hours before 5:00");
        assert_eq!(said.last().map(String::as_str), Some("LeftOut(BagsClose, 02:30:00)"));
    }

    #[test]
    fn in_a_night_in_which_an_hour_comes_twice_it_is_said_which() {
        // In Vienna 3:00 becomes 2:00 on 31 October 2027.
        let race = race("2027-10-31", "04:30", Some("Europe/Vienna"));
        let told = Told { travel_minutes: None, bags_close: Some(time("02:40")), ..told(&race) };
        let said = said(&told);
        let expected = ["31 01:25 Wake", "31 02:10 Arrive First", "31 02:30 Eat First", "31 02:40 BagsClose First"];
        assert_eq!(said[..4], expected);
        assert_eq!(said.last().map(String::as_str), Some("Order(EatOnTheWay)"));
        let late = Told { bags_close: None, eat_minutes: Some(105), ..told };
        assert!(self::said(&late).contains(&"31 02:45 Eat Second".to_owned()), "{:?}", self::said(&late));
    }

    #[test]
    fn before_midnight_is_the_day_before() {
        let race = race("2027-05-09", "00:30", Some("Europe/Lisbon"));
        let told = Told { pens_close: Some(time("00:15")), bags_close: Some(time("23:30")), ..told(&race) };
        let said = said(&told);
        assert_eq!(said[0], "08 21:30 Eat");
        assert!(said.contains(&"08 23:30 BagsClose".to_owned()), "{said:?}");
    }

    #[test]
    fn a_wave_counts_for_the_athlete_unless_it_starts_before_the_race() {
        let race = race("2027-05-09", "09:30", None);
        let last = |wave| said(&Told { wave: Some(time(wave)), travel_minutes: None, ..told(&race) });
        assert_eq!(last("09:45").last().map(String::as_str), Some("09 09:45 Start"));
        let wrong = last("09:15");
        assert_eq!(wrong[wrong.len() - 2..], ["09 09:30 Start", "WaveBeforeStart"]);
    }

    #[test]
    fn pens_that_close_after_the_start_are_told() {
        let race = race("2027-05-09", "09:30", None);
        let said = said(&Told { pens_close: Some(time("09:45")), ..told(&race) });
        assert_eq!(said.last().map(String::as_str), Some("Order(PensAfterStart)"));
        assert!(said.iter().all(|line| !line.contains("PensClose")), "{said:?}");
    }

    #[test]
    fn without_a_start_there_is_no_morning() {
        let race = Race { start: None, ..race("2027-05-09", "09:30", None) };
        assert_eq!(timetable(&told(&race)), None);
    }
}
