//! A demo squad: a club, its people and its races, all invented, around the day of today.
//!
//! Every state that an athlete's row can be in occurs once at least, so that a coach who looks
//! around meets each of them, and so that pages can be tried on real records.

use chrono::{DateTime, Datelike, Days, NaiveDate, NaiveTime, TimeDelta, Utc, Weekday};
use planning::curve::ExtraRest;
use planning::heat::Celsius;
use planning::profile::MeasuredPoint;
use planning::{
    Athlete, Distance, DistanceUnit, Importance, LineShape, Milli, Pace, Race, RaceDistance, Request, Settings, Suits,
    plan,
};
use uuid::Uuid;

use crate::{
    AthleteDraft, AthleteId, BlockId, Course, GoalNotes, RaceFacts, RaceId, RaceSheet, Result, SecondWeek, Shows,
    Store, StoreError, Stretch, Version, WeekDraft,
};

/// Fills an empty data file with the demo squad.
///
/// # Errors
///
/// [`StoreError::Exists`] where the file holds an athlete or a race already, were it a removed one; what the store
/// refuses.
pub async fn fill_demo(store: &Store, today: NaiveDate, now: DateTime<Utc>) -> Result<()> {
    if !store.is_empty().await? {
        return Err(StoreError::Exists);
    }
    let demo = Demo { store, today, now };
    let races = demo.races().await?;
    demo.before_a_block(&races).await?;
    demo.on_the_way(&races).await?;
    demo.at_the_line(&races).await?;
    demo.race_days(&races).await
}

/// Every note of the demo squad begins with this.
const INVENTED: &str = "Invented for the demo squad, like the club and its races.";

struct Demo<'a> {
    store: &'a Store,
    today: NaiveDate,
    now: DateTime<Utc>,
}

/// The calendar of the club.
struct Races {
    ten_miles_just_run: RaceId,
    five_k_tomorrow: RaceId,
    ten_k_this_week: RaceId,
    half_in_two_weeks: RaceId,
    marathon_in_three_weeks: RaceId,
    fifty_k_later: RaceId,
}

/// How an athlete of the demo squad is told.
struct Person {
    name: &'static str,
    group: &'static str,
    notes: &'static str,
    units: DistanceUnit,
    /// Minutes and seconds for one unit.
    easy_pace: Option<(u16, u16)>,
    age: Option<i32>,
    cautions: &'static [&'static str],
    suits: Suits,
    home_zone: &'static str,
    /// How many days ago which race was run in what time.
    results: &'static [(u64, &'static str)],
    /// Monday first; nothing where the coach has not asked yet.
    week: Option<[&'static str; 7]>,
    /// A lighter week that takes turns with it.
    second: Option<[&'static str; 7]>,
}

impl Person {
    const fn new(name: &'static str, group: &'static str, week: [&'static str; 7]) -> Self {
        Self {
            name,
            group,
            notes: "",
            units: DistanceUnit::Km,
            easy_pace: None,
            age: None,
            cautions: &[],
            suits: Suits { days: None, day_before: None, extra_rest: None },
            home_zone: "Europe/Dublin",
            results: &[],
            week: Some(week),
            second: None,
        }
    }
}

impl Demo<'_> {
    async fn races(&self) -> Result<Races> {
        let start = |hour, minute| NaiveTime::from_hms_opt(hour, minute, 0);
        let weeks_ahead = |days: u64, weekday| on_or_after(self.today + Days::new(days), weekday);
        Ok(Races {
            ten_miles_just_run: self
                .race(
                    "Copperbeck 10",
                    last(self.today, Weekday::Sun),
                    RaceDistance::TenMiles,
                    start(10, 0),
                    "Copperbeck",
                )
                .await?,
            five_k_tomorrow: self
                .race("Wendle Lantern 5k", self.today + Days::new(1), RaceDistance::FiveK, start(19, 30), "Wendle Park")
                .await?,
            ten_k_this_week: self
                .race("Old Orchard 10k", within_race_week(self.today), RaceDistance::TenK, start(9, 30), "Old Orchard")
                .await?,
            half_in_two_weeks: self
                .race("Larkmere Half", weeks_ahead(11, Weekday::Sun), RaceDistance::Half, start(9, 0), "Larkmere")
                .await?,
            marathon_in_three_weeks: self
                .race(
                    "Ashmarsh Marathon",
                    weeks_ahead(17, Weekday::Sun),
                    RaceDistance::Marathon,
                    start(8, 30),
                    "Ashmarsh",
                )
                .await?,
            fifty_k_later: self
                .race(
                    "Tollgate Ridge 50",
                    weeks_ahead(38, Weekday::Sat),
                    RaceDistance::Own(Milli::whole(50), DistanceUnit::Km),
                    start(7, 0),
                    "Tollgate",
                )
                .await?,
        })
    }

    /// Something is still missing before a block can be.
    async fn before_a_block(&self, races: &Races) -> Result<()> {
        // No base week, and no race either: met yesterday.
        let newcomer = Person {
            notes: "Came along on Tuesday for the first time.",
            week: None,
            ..Person::new("Femi Adébáyọ̀", "Evening", [""; 7])
        };
        self.athlete(&newcomer, 0).await?;

        // A race, but no base week.
        let unasked = Person {
            notes: "Has the place in the marathon from a friend. Ask for the usual week.",
            week: None,
            ..Person::new("Diego Peña Ruiz", "Evening", [""; 7])
        };
        let diego = self.athlete(&unasked, 0).await?;
        self.enter(races.marathon_in_three_weeks, diego, Importance::Goal).await?;

        // A base week, but no race.
        let content = Person {
            notes: "Runs for the company, no race this season.",
            ..Person::new(
                "Ingrid Sørbø",
                "Track",
                ["rest", "7", "8 x 400 m 5k pace, 60 s jog, 9", "rest", "7", "rest", "long 12-14"],
            )
        };
        self.athlete(&content, 20).await?;

        // A base week and a race, but no block; the week was told long ago.
        let waiting = Person {
            easy_pace: Some((5, 50)),
            notes: "The week is from the winter: ask whether it still holds.",
            ..Person::new("Šárka Dvořáková", "Road", ["rest", "tempo 9, hard 4", "rest", "8", "rest", "6", "long 15"])
        };
        let sarka = self.athlete(&waiting, 120).await?;
        self.enter(races.half_in_two_weeks, sarka, Importance::Goal).await?;

        // Two races, of which the first is only trained through; the goal is weeks away.
        let patient = Person {
            easy_pace: Some((5, 30)),
            age: Some(41),
            notes: "Every other week is a lighter one.",
            second: Some(["rest", "8", "easy 10", "8", "strength 30 loaded", "long 18", "10"]),
            ..Person::new(
                "Beatriz Caetano",
                "Trail",
                ["rest", "10", "tempo 12, hard 5", "10", "strength 30 loaded", "long 24", "long 16"],
            )
        };
        let beatriz = self.athlete(&patient, 12).await?;
        self.enter(races.half_in_two_weeks, beatriz, Importance::TrainingThrough).await?;
        self.enter(races.fifty_k_later, beatriz, Importance::Goal).await?;
        let block = self.block(beatriz, races.fifty_k_later, Settings::default(), 2).await?;
        self.goals(block, &ridge_goals(), 2).await
    }

    /// A block is there: fresh, handed over, or changed since.
    async fn on_the_way(&self, races: &Races) -> Result<()> {
        // Fresh, not handed over, no goals; everything in minutes.
        let timed = Person {
            notes: "Trains by the clock, owns no other watch.",
            age: Some(38),
            ..Person::new(
                "Tomasz Wiśniewski",
                "Evening",
                ["rest", "50 min", "tempo 70 min, hard 20 min", "45 min", "rest", "40 min", "long 120-140 min"],
            )
        };
        let tomasz = self.athlete(&timed, 9).await?;
        self.enter(races.marathon_in_three_weeks, tomasz, Importance::Goal).await?;
        self.block(tomasz, races.marathon_in_three_weeks, Settings::default(), 1).await?;

        // Three runs a week, handed over without goals.
        let three_runs = Person {
            units: DistanceUnit::Mi,
            easy_pace: Some((10, 15)),
            notes: "Three runs a week, and happy with them.",
            ..Person::new(
                "Mele Tuʻiʻāfitu",
                "Road",
                ["rest", "6", "rest", "tempo 7, hard 3", "rest", "rest", "long 13"],
            )
        };
        let mele = self.athlete(&three_runs, 15).await?;
        self.enter(races.half_in_two_weeks, mele, Importance::Goal).await?;
        let block = self.block(mele, races.half_in_two_weeks, Settings::default(), 4).await?;
        self.hand_over(block, races.half_in_two_weeks, 3).await?;

        // Handed over, with goals.
        let steady = Person {
            easy_pace: Some((5, 20)),
            suits: Suits { extra_rest: Some(Weekday::Wed), ..Suits::default() },
            ..Person::new(
                "Ngozi Okafor-Lindqvist",
                "Road",
                ["rest", "6 x 800 m 10k pace, 90 s jog, 11", "8", "tempo 10, hard 5", "rest", "6", "long 16-18"],
            )
        };
        let ngozi = self.athlete(&steady, 14).await?;
        self.enter(races.half_in_two_weeks, ngozi, Importance::Goal).await?;
        let block = self.block(ngozi, races.half_in_two_weeks, Settings::default(), 5).await?;
        self.goals(block, &half_goals(), 4).await?;
        self.hand_over(block, races.half_in_two_weeks, 4).await?;

        // Twice a day, handed over.
        let doubles = Person {
            easy_pace: Some((4, 40)),
            age: Some(29),
            home_zone: "Asia/Tokyo",
            notes: "Flies in for the marathon.",
            ..Person::new(
                "Kenji Morimoto",
                "Track",
                ["10 + 6", "6 x 1 km 10k pace, 2 min jog, 14 + 6", "12 + 6", "10 + 6", "8", "6", "long 30"],
            )
        };
        let kenji = self.athlete(&doubles, 6).await?;
        self.enter(races.marathon_in_three_weeks, kenji, Importance::Goal).await?;
        let block = self.block(kenji, races.marathon_in_three_weeks, Settings::default(), 5).await?;
        self.hand_over(block, races.marathon_in_three_weeks, 2).await?;

        // Changed since it was handed over; high mileage, in miles.
        let high = Person {
            units: DistanceUnit::Mi,
            easy_pace: Some((7, 40)),
            results: &[(33, "half 1:25:50 (windy)"), (75, "10k 38:40")],
            notes: "Works nights until the week before the race; Friday suits better as the extra rest day.",
            ..Person::new(
                "Aoife O'Rourke",
                "Track",
                ["10", "5 x 1 mi threshold, 2 min jog, 12", "11", "tempo 13, hard 6", "9", "10", "long 20"],
            )
        };
        let aoife = self.athlete(&high, 10).await?;
        self.enter(races.marathon_in_three_weeks, aoife, Importance::Goal).await?;
        let block = self.block(aoife, races.marathon_in_three_weeks, Settings::default(), 6).await?;
        self.goals(block, &marathon_goals(), 5).await?;
        let sheet = RaceSheet {
            bib: "318".to_owned(),
            pen: "A".to_owned(),
            gun_seconds: Some(25),
            travel_minutes: Some(40),
            breakfast: "porridge, a banana, one coffee".to_owned(),
            fuel_piece: "gel".to_owned(),
            piece_grams: Some(25),
            grams_an_hour: Some(50),
            fuel_words: "One coffee at breakfast, as before every long run.".to_owned(),
            worries: "wind on Fen Drove: tuck in, take turns\ncramp as last year: shorten the stride, keep drinking"
                .to_owned(),
            ..RaceSheet::default()
        };
        self.race_sheet(block, &sheet, 5).await?;
        self.hand_over(block, races.marathon_in_three_weeks, 5).await?;
        // The plan had put it on Saturday.
        let friday = Settings { extra_rest: ExtraRest::On(Weekday::Fri), ..Settings::default() };
        self.make_anew(block, friday, 1).await
    }

    /// Race week, the day before, and the days after.
    async fn at_the_line(&self, races: &Races) -> Result<()> {
        // Race week, all handed over; a name that runs from right to left.
        let ready = Person {
            easy_pace: Some((5, 5)),
            ..Person::new(
                "نور العلي",
                "Track",
                ["8", "8 x 600 m 5k pace, 2 min jog, 12", "10", "tempo 10, hard 5", "rest", "6", "long 16-18"],
            )
        };
        let noor = self.athlete(&ready, 11).await?;
        self.enter(races.ten_k_this_week, noor, Importance::Goal).await?;
        let block = self.block(noor, races.ten_k_this_week, Settings::default(), 9).await?;
        self.goals(block, &ten_k_goals(), 8).await?;
        self.hand_over(block, races.ten_k_this_week, 8).await?;

        // Race week, and the block still lies on the coach's table; a caution to mind.
        let cautious = Person {
            easy_pace: Some((6, 10)),
            age: Some(63),
            cautions: &["left Achilles sore since the hills in spring: no hills, ask before each hard session"],
            notes: "Wants to know the reason for everything.",
            ..Person::new(
                "Ravi Subramaniam",
                "Masters",
                [
                    "rest",
                    "fartlek 9, hard 3",
                    "7 + strength 30 loaded",
                    "rest",
                    "tempo 8, hard 3 or hills 8, hard 2",
                    "5",
                    "long 13-15",
                ],
            )
        };
        let ravi = self.athlete(&cautious, 16).await?;
        self.enter(races.ten_k_this_week, ravi, Importance::Goal).await?;
        self.block(ravi, races.ten_k_this_week, Settings::default(), 3).await?;

        // The race is tomorrow; sixteen years old.
        let young = Person {
            units: DistanceUnit::Mi,
            age: Some(16),
            notes: "School races on Saturdays. Plan together with the family.",
            ..Person::new(
                "Lily Hartmann",
                "Youth",
                ["6", "5 x 800 m 5k pace, 2 min jog, 8", "7", "tempo 7, hard 3", "4", "long 10", "rest"],
            )
        };
        let lily = self.athlete(&young, 13).await?;
        self.enter(races.five_k_tomorrow, lily, Importance::Goal).await?;
        let block = self.block(lily, races.five_k_tomorrow, Settings::default(), 10).await?;
        self.goals(block, &five_k_goals(), 9).await?;
        self.hand_over(block, races.five_k_tomorrow, 9).await?;

        // The race is just past.
        let done = Person {
            easy_pace: Some((5, 35)),
            age: Some(34),
            ..Person::new(
                "Thandiwe Mokoena",
                "Road",
                ["rest", "5 x 1 km 10k pace, 2 min jog, 10", "8", "tempo 9, hard 4", "rest", "6", "long 16"],
            )
        };
        let thandiwe = self.athlete(&done, 30).await?;
        self.enter(races.ten_miles_just_run, thandiwe, Importance::Goal).await?;
        let block = self.block(thandiwe, races.ten_miles_just_run, Settings::default(), 16).await?;
        self.goals(block, &ten_mile_goals(), 15).await?;
        self.hand_over(block, races.ten_miles_just_run, 15).await?;
        Ok(())
    }

    async fn race(
        &self,
        name: &str,
        date: NaiveDate,
        distance: RaceDistance,
        start: Option<NaiveTime>,
        place: &str,
    ) -> Result<RaceId> {
        let race = Race {
            name: name.to_owned(),
            date,
            distance,
            start,
            zone: Some("Europe/Dublin".to_owned()),
            importance: Importance::Goal,
        };
        self.store.add_race(&race, place, Uuid::new_v4(), self.ago(40)).await
    }

    /// An athlete whose base week was told so many days ago.
    async fn athlete(&self, person: &Person, days_ago: i64) -> Result<AthleteId> {
        let pace = |(minutes, seconds): (u16, u16)| Pace::new(minutes * 60 + seconds, person.units).ok();
        let result = |(days_ago, line): &(u64, &str)| format!("{} {line}", self.today - Days::new(*days_ago));
        let draft = AthleteDraft {
            athlete: Athlete {
                name: person.name.to_owned(),
                units: person.units,
                easy_pace: person.easy_pace.and_then(pace),
                birth_year: person.age.map(|age| self.today.year() - age),
                home_zone: Some(person.home_zone.to_owned()),
                cautions: person.cautions.iter().map(|caution| (*caution).to_owned()).collect(),
                suits: person.suits,
            },
            group: person.group.to_owned(),
            notes: format!("{INVENTED} {}", person.notes).trim_end().to_owned(),
            recent_results: person.results.iter().map(result).collect::<Vec<_>>().join("\n"),
            ..AthleteDraft::default()
        };
        let then = self.ago(days_ago);
        let id = self.store.add_athlete(&draft, Uuid::new_v4(), then).await?;
        if let Some(lines) = person.week {
            let stands_on = self.today.week(Weekday::Mon).first_day() + Days::new(7);
            let second = person.second.map(|lines| SecondWeek { lines: lines.map(str::to_owned), stands_on });
            let week = WeekDraft { second, ..WeekDraft::of(lines.map(str::to_owned)) };
            self.store.save_week(id, Version(0), &week, then).await?;
        }
        Ok(id)
    }

    async fn enter(&self, race: RaceId, athlete: AthleteId, importance: Importance) -> Result<()> {
        self.store.enter(race, athlete, importance, self.ago(30)).await
    }

    /// The other races of an athlete.
    async fn others(&self, athlete: AthleteId, race: RaceId) -> Result<Vec<Race>> {
        let entries = self.store.entries_of(athlete).await?;
        let others = entries.into_iter().filter(|(entry, record)| entry.race != race && entry.is_run(record));
        Ok(others.map(|(entry, record)| Race { importance: entry.importance, ..record.race }).collect())
    }

    async fn block(&self, athlete: AthleteId, race: RaceId, settings: Settings, days_ago: i64) -> Result<BlockId> {
        let record = self.store.athlete(athlete).await?.ok_or(StoreError::Gone)?;
        let week = self.store.week(athlete).await?.ok_or(StoreError::Gone)?;
        let race_record = self.store.race(race).await?.ok_or(StoreError::Gone)?;
        let other_races = self.others(athlete, race).await?;
        let request = Request {
            // The race that is just past was planned as well, when it was still ahead.
            today: None,
            athlete: &record.draft.athlete,
            week: &week.week,
            race: &race_record.race,
            settings: &settings,
            pins: &[],
            other_races: &other_races,
            begun: None,
        };
        let block = plan(&request).map_err(StoreError::Refused)?;
        self.store.add_block(athlete, race, &settings, &week, &block, self.ago(days_ago)).await
    }

    async fn make_anew(&self, id: BlockId, settings: Settings, days_ago: i64) -> Result<()> {
        let kept = self.store.block(id).await?.ok_or(StoreError::Gone)?;
        let other_races = self.others(kept.athlete.id, kept.race.id).await?;
        let request = Request {
            today: None,
            athlete: &kept.athlete.draft.athlete,
            week: &kept.week.week,
            race: &kept.race.race,
            settings: &settings,
            pins: &[],
            other_races: &other_races,
            begun: None,
        };
        let block = plan(&request).map_err(StoreError::Refused)?;
        let then = self.ago(days_ago);
        self.store.revise_block(id, kept.version, &settings, &kept.week, &block, "made anew", then).await?;
        Ok(())
    }

    async fn goals(&self, id: BlockId, goals: &GoalNotes, days_ago: i64) -> Result<()> {
        let kept = self.store.block(id).await?.ok_or(StoreError::Gone)?;
        self.store.save_goals(id, kept.version, goals, self.ago(days_ago)).await
    }

    async fn race_sheet(&self, id: BlockId, sheet: &RaceSheet, days_ago: i64) -> Result<()> {
        let kept = self.store.block(id).await?.ok_or(StoreError::Gone)?;
        self.store.save_race_sheet(id, kept.version, sheet, self.ago(days_ago)).await
    }

    async fn hand_over(&self, id: BlockId, race: RaceId, days_ago: i64) -> Result<()> {
        let race = self.store.race(race).await?.ok_or(StoreError::Gone)?;
        let ends = race.race.date + Days::new(14);
        let shows = Shows { race_day: false, ..Shows::ALL };
        self.store.hand_over(id, shows, ends, self.ago(days_ago)).await?;
        Ok(())
    }

    /// What is known of the day of a race: its course, its stations, its morning.
    async fn race_days(&self, races: &Races) -> Result<()> {
        let then = self.ago(20);
        let marathon = Course {
            shape: LineShape::Route,
            file_name: "ashmarsh-marathon.gpx".to_owned(),
            points: rolling(RaceDistance::Marathon.distance(), &ASHMARSH_HEIGHTS),
        };
        self.store.save_course(races.marathon_in_three_weeks, Version(0), &marathon, then).await?;
        let time = |hour, minute| NaiveTime::from_hms_opt(hour, minute, 0);
        let facts = RaceFacts {
            stations:
                "5 km Weir: water\n10 km: water\n15 km Fen Drove: water, drink\n21 km Abbey: water, drink, gels\n\
                       26 km: water\n30 km Sluice: water, drink, gels\n35 km: water, drink\n39 km Mill Lane: water"
                    .to_owned(),
            stands: "10 km bus stop\n30 km Sluice".to_owned(),
            pens_close: time(8, 20),
            bags_close: time(8, 0),
            bags: "in the market hall".to_owned(),
            toilets: "behind the market hall, fewer people by the church".to_owned(),
            meeting: "7:15 under the market clock".to_owned(),
            afterwards: "dry clothes first, then the caf\u{e9} on the corner".to_owned(),
            air: Some(Celsius::tenths(80)),
            ..RaceFacts::default()
        };
        self.store.save_race_facts(races.marathon_in_three_weeks, Version(0), &facts, then).await?;
        let ridge = Course {
            shape: LineShape::Track,
            file_name: "tollgate-ridge-recce.gpx".to_owned(),
            points: rolling(Distance::metres(50_600), &TOLLGATE_HEIGHTS),
        };
        self.store.save_course(races.fifty_k_later, Version(0), &ridge, then).await?;
        let facts = RaceFacts {
            stations: "11 km Low Gate: water, fruit\n22.5 km Shepherd's Hut: water, soup; cut-off 3:30\n\
                       34 km Ridge Road: water, bags; cut-off 5:30\n43 km Low Gate: water, fruit; cut-off 7:15"
                .to_owned(),
            stands: "22.5 km Hut\n43 km Low Gate".to_owned(),
            bags: "one bag to Ridge Road, given up at the start".to_owned(),
            contact: "race office, number on the shirt".to_owned(),
            ..RaceFacts::default()
        };
        self.store.save_race_facts(races.fifty_k_later, Version(0), &facts, then).await
    }

    fn ago(&self, days: i64) -> DateTime<Utc> {
        self.now - TimeDelta::days(days)
    }
}

/// Invented heights in metres, evenly along the course.
const ASHMARSH_HEIGHTS: [f64; 15] =
    [12.0, 14.0, 40.0, 72.0, 38.0, 20.0, 16.0, 55.0, 96.0, 60.0, 24.0, 18.0, 44.0, 20.0, 12.0];
const TOLLGATE_HEIGHTS: [f64; 16] =
    [140.0, 260.0, 410.0, 380.0, 520.0, 610.0, 480.0, 350.0, 470.0, 630.0, 700.0, 560.0, 420.0, 300.0, 220.0, 140.0];

/// A course that swings softly from height to height, a point every hundred metres.
fn rolling(length: Distance, heights: &[f64]) -> Vec<MeasuredPoint> {
    let points = length.as_millimetres() / 100_000;
    let height = |share: f64| {
        let place = share * (heights.len() - 1) as f64;
        let from = (place as usize).min(heights.len() - 2);
        let swing = (1.0 - (std::f64::consts::PI * (place - from as f64)).cos()) / 2.0;
        heights[from] + (heights[from + 1] - heights[from]) * swing
    };
    let point = |count: i64| MeasuredPoint {
        along: Distance::millimetres(length.as_millimetres() * count / points),
        height: Some((height(count as f64 / points as f64) * 100.0).round() / 100.0),
    };
    (0..=points).map(point).collect()
}

/// The last such weekday before a day.
fn last(day: NaiveDate, weekday: Weekday) -> NaiveDate {
    on_or_after(day - Days::new(7), weekday)
}

/// The first such weekday from a day on.
fn on_or_after(day: NaiveDate, weekday: Weekday) -> NaiveDate {
    day + Days::new(u64::from(weekday.days_since(day.weekday())))
}

/// A race day for which today is in race week, but not the day before: on the weekend where it can be.
fn within_race_week(today: NaiveDate) -> NaiveDate {
    let days = || (2..=6).map(|days| today + Days::new(days));
    [Weekday::Sun, Weekday::Sat]
        .into_iter()
        .find_map(|weekday| days().find(|day| day.weekday() == weekday))
        .unwrap_or(today + Days::new(6))
}

fn stretch(effort: &str, focus: &str, cue: &str) -> Stretch {
    Stretch { effort: effort.to_owned(), focus: focus.to_owned(), cue: cue.to_owned() }
}

fn half_goals() -> GoalNotes {
    GoalNotes {
        a: "1:44".to_owned(),
        b: "under 1:47".to_owned(),
        c: "even splits, and a smile on the quay".to_owned(),
        belief: "The tempo runs of the last five weeks were all in the range, two of them alone and in the wind."
            .to_owned(),
        stretches: [
            stretch("as on an easy tempo day", "let the others go", "quiet"),
            stretch("comfortably hard", "shoulders down at every sign", "tall"),
            stretch("all that is left", "one runner ahead at a time", "now"),
        ],
        hard_moment: "This is the place you trained for.".to_owned(),
        message: "You have done the work. From here on, rested beats busy.".to_owned(),
    }
}

fn marathon_goals() -> GoalNotes {
    GoalNotes {
        a: "2:58".to_owned(),
        b: "3:02".to_owned(),
        c: "to run the last 3 miles faster than last year".to_owned(),
        belief: "Three long runs of 20 and more, the last one the strongest.".to_owned(),
        stretches: [
            stretch("boring", "drink at every table", "patience"),
            stretch("steady", "count lamp posts, not miles", "rhythm"),
            stretch("hard", "from one friend to the next", "home"),
        ],
        hard_moment: "Everybody hurts here. Keep the rhythm until the next corner.".to_owned(),
        message: "Sleep is training now, nights at work or not.".to_owned(),
    }
}

fn ridge_goals() -> GoalNotes {
    GoalNotes {
        a: "5:40".to_owned(),
        b: "6:10".to_owned(),
        c: "6:50, and in daylight".to_owned(),
        belief: "Two long runs on the ridge itself, the second one half an hour faster.".to_owned(),
        stretches: [
            stretch("talking", "walk every steep bit", "early"),
            stretch("steady", "eat at every gate", "feet"),
            stretch("what is left", "the next marker, then the next", "home"),
        ],
        hard_moment: "Nobody feels good on Ridge Road. Walk a minute, eat, go on.".to_owned(),
        message: String::new(),
    }
}

fn ten_k_goals() -> GoalNotes {
    GoalNotes {
        a: "39:30".to_owned(),
        b: "under 40:30".to_owned(),
        c: "a brave first half".to_owned(),
        belief: "The 600s came down by two seconds each since the spring.".to_owned(),
        stretches: [
            stretch("controlled", "run the inside line", "smooth"),
            stretch("hard", "stay with the group", "here"),
            stretch("very hard", "arms first, legs follow", "drive"),
        ],
        hard_moment: "Two kilometres are one lap of the orchard.".to_owned(),
        message: "Short and quick this week. Enjoy feeling fresh.".to_owned(),
    }
}

fn five_k_goals() -> GoalNotes {
    GoalNotes {
        a: "a personal best".to_owned(),
        b: "close to it".to_owned(),
        c: "to start calmly and finish proudly".to_owned(),
        message: "Have fun under the lanterns!".to_owned(),
        ..GoalNotes::default()
    }
}

fn ten_mile_goals() -> GoalNotes {
    GoalNotes {
        a: "1:14".to_owned(),
        b: "1:16".to_owned(),
        c: "no walking on the beck hill".to_owned(),
        belief: "Ran the hill twice a week all summer.".to_owned(),
        message: "Tell me about it when you are ready.".to_owned(),
        ..GoalNotes::default()
    }
}

#[cfg(test)]
mod tests {
    use planning::units::Unit;

    use super::*;
    use crate::BoardRow;
    use crate::testing::{day, draft, once, open, race_on};

    /// Every weekday, a leap day, the turn of a year.
    const DAYS: [&str; 9] = [
        "2027-04-19",
        "2027-04-20",
        "2027-04-21",
        "2027-04-22",
        "2027-04-23",
        "2027-04-24",
        "2027-04-25",
        "2028-02-29",
        "2026-12-31",
    ];

    fn evening(today: NaiveDate) -> DateTime<Utc> {
        today.and_hms_opt(19, 0, 0).unwrap().and_utc()
    }

    #[tokio::test]
    async fn every_state_occurs_whatever_day_it_is() {
        for today in DAYS.map(day) {
            let store = open().await;
            fill_demo(&store, today, evening(today)).await.unwrap();
            let board = store.board(today).await.unwrap();
            let days_to = |row: &BoardRow| row.next_race.as_ref().map(|race| (race.race.date - today).num_days());
            let block = |row: &BoardRow| {
                row.block
                    .as_ref()
                    .map(|block| (block.state.revision, block.state.handed_over.map(|held| held.revision)))
            };
            let is = |state: &dyn Fn(&BoardRow) -> bool| board.iter().any(|row| state(row));
            assert!(is(&|row| row.week_saved.is_none() && row.next_race.is_none()), "nothing yet");
            assert!(is(&|row| row.week_saved.is_none() && row.next_race.is_some()), "a race without a week");
            assert!(is(&|row| row.week_saved.is_some() && row.next_race.is_none()), "a week without a race");
            assert!(is(&|row| row.next_race.is_some() && row.week_saved.is_some() && row.block.is_none()), "no block");
            assert!(is(&|row| block(row) == Some((1, None))), "fresh");
            assert!(is(&|row| block(row) == Some((1, Some(1)))), "handed over");
            assert!(is(&|row| block(row) == Some((2, Some(1)))), "changed since");
            assert!(
                is(&|row| row.block.is_some() && days_to(row).is_some_and(|days| (2..=6).contains(&days))),
                "race week"
            );
            assert!(is(&|row| row.block.is_some() && days_to(row) == Some(1)), "tomorrow");
            for written in [true, false] {
                assert!(is(&|row| row.block.as_ref().is_some_and(|block| block.state.has_goals == written)), "goals");
            }
            let mut through = 0;
            for (race, _) in store.races().await.unwrap() {
                let entrants = store.entrants(race.id).await.unwrap();
                through += entrants.iter().filter(|entry| entry.importance == Importance::TrainingThrough).count();
            }
            assert_eq!(through, 1, "a race that is trained through");
            let past = store.races().await.unwrap().into_iter().filter(|(race, _)| race.race.date < today).count();
            assert_eq!(past, 1, "a race just past");
            assert_eq!(store.check().await.unwrap(), Vec::<String>::new());
        }
    }

    #[tokio::test]
    async fn all_kinds_of_athletes_occur_and_all_say_that_they_are_invented() {
        let store = open().await;
        let today = day("2027-04-20");
        fill_demo(&store, today, evening(today)).await.unwrap();
        let athletes = store.athletes().await.unwrap();
        assert!(athletes.iter().all(|athlete| athlete.draft.notes.starts_with("Invented")));
        for units in [DistanceUnit::Km, DistanceUnit::Mi] {
            assert!(athletes.iter().any(|athlete| athlete.draft.athlete.units == units));
        }
        assert!(athletes.iter().any(|athlete| athlete.draft.athlete.age_in(today) == Some(16)));
        assert!(athletes.iter().any(|athlete| !athlete.draft.athlete.cautions.is_empty()));
        assert!(athletes.iter().any(|athlete| athlete.draft.athlete.name.contains('\'')));
        let mut weeks = Vec::new();
        for athlete in &athletes {
            weeks.push(store.week(athlete.id).await.unwrap().unwrap().week);
        }
        let runs =
            |week: &planning::BaseWeek| week.sessions().filter(|(_, session)| session.running().is_some()).count();
        assert!(weeks.iter().any(planning::BaseWeek::is_timed));
        assert!(weeks.iter().any(|week| runs(week) == 3));
        assert!(weeks.iter().any(|week| runs(week) > 7), "twice on some days");
        assert!(weeks.iter().any(|week| week.running().of(Unit::Mi).middle() > Milli::whole(80)));
    }

    #[tokio::test]
    async fn a_squad_that_is_there_is_left_alone() {
        let store = open().await;
        store.add_athlete(&draft("Ana"), once(), evening(day("2027-04-19"))).await.unwrap();
        let refused = fill_demo(&store, day("2027-04-20"), evening(day("2027-04-20"))).await;
        assert!(matches!(refused, Err(StoreError::Exists)), "{refused:?}");
        assert_eq!(store.athletes().await.unwrap().len(), 1);
    }

    #[tokio::test]
    async fn what_was_removed_and_can_come_back_is_a_squad_too() {
        let now = evening(day("2027-04-19"));
        let (athletes, races) = (open().await, open().await);
        let ana = athletes.add_athlete(&draft("Ana"), once(), now).await.unwrap();
        athletes.remove_athlete(ana, now).await.unwrap();
        let race = races.add_race(&race_on("2027-05-09"), "", once(), now).await.unwrap();
        races.remove_race(race, now).await.unwrap();
        for store in [athletes, races] {
            let refused = fill_demo(&store, day("2027-04-20"), now).await;
            assert!(matches!(refused, Err(StoreError::Exists)), "{refused:?}");
        }
    }
}
