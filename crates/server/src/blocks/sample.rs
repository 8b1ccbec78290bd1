//! Records to show in samples and tests. Athletes, races and weeks are invented.

use chrono::{DateTime, NaiveDate, Utc};
use planning::{
    Amount, Athlete, BaseWeek, Block, DistanceUnit, Importance, Kind, Milli, Race, RaceDistance, Request, Session,
    Settings, Slot, Unit, plan,
};
use store::{
    AthleteDraft, AthleteId, AthleteRecord, BlockId, BlockRecord, CoachSettings, GoalNotes, RaceId, RaceRecord,
    ShareId, ShareRecord, SharedBlock, Stretch, Version, WeekRecord,
};

/// What a sample block is planned from.
pub(crate) struct Sample {
    pub(crate) athlete: Athlete,
    pub(crate) week: BaseWeek,
    pub(crate) race: Race,
    pub(crate) settings: Settings,
}

impl Sample {
    pub(crate) fn block(&self) -> Block {
        plan(&Request {
            today: None,
            athlete: &self.athlete,
            week: &self.week,
            race: &self.race,
            settings: &self.settings,
            pins: &[],
            other_races: &[],
            begun: None,
        })
        .expect("the samples are sound")
    }
}

fn date(text: &str) -> NaiveDate {
    text.parse().expect("a date")
}

fn at(text: &str) -> DateTime<Utc> {
    text.parse().expect("an instant")
}

fn session(kind: Kind, low: i32, high: i32, unit: Unit) -> Session {
    Session::new(kind, Amount::between(Milli::whole(low), Milli::whole(high), unit))
}

fn hard(kind: Kind, amount: i32, hard: i32, unit: Unit) -> Session {
    Session { hard: Some(Amount::exact(Milli::whole(hard), unit)), ..session(kind, amount, amount, unit) }
}

fn race(name: &str, day: &str, distance: RaceDistance) -> Race {
    Race {
        name: name.to_owned(),
        date: date(day),
        distance,
        start: chrono::NaiveTime::from_hms_opt(9, 30, 0),
        zone: Some("Europe/Lisbon".to_owned()),
        importance: Importance::Goal,
    }
}

/// Six runs and strength, 10 km.
pub(crate) fn ten_k() -> Sample {
    let strength = session(Kind::Strength, 30, 30, Unit::Min);
    let days = [
        vec![session(Kind::Easy, 7, 9, Unit::Km)],
        vec![Session {
            sets: vec![planning::Sets {
                reps: 6,
                length: Milli::whole(800),
                unit: planning::SetUnit::M,
                pace: "10k pace".to_owned(),
                recovery: "90 s jog".to_owned(),
            }],
            ..session(Kind::Intervals, 11, 13, Unit::Km)
        }],
        vec![session(Kind::Easy, 10, 10, Unit::Km), strength],
        vec![hard(Kind::Tempo, 10, 5, Unit::Km)],
        vec![],
        vec![session(Kind::Easy, 6, 6, Unit::Km)],
        vec![session(Kind::Long, 16, 20, Unit::Km)],
    ];
    Sample {
        athlete: Athlete { name: "Ana Exemplo".to_owned(), ..Athlete::default() },
        week: week(days),
        race: race("Harbour 10 (invented)", "2027-05-09", RaceDistance::TenK),
        settings: Settings::default(),
    }
}

/// Eleven runs in miles with doubles, a marathon, a long name written from right to left.
pub(crate) fn marathon() -> Sample {
    let easy = |miles| session(Kind::Easy, miles, miles, Unit::Mi);
    let days = [
        vec![easy(8), easy(4)],
        vec![hard(Kind::Intervals, 10, 4, Unit::Mi), easy(4)],
        vec![easy(9), easy(4)],
        vec![easy(8), easy(4)],
        vec![easy(6)],
        vec![easy(5)],
        vec![session(Kind::Long, 20, 20, Unit::Mi)],
    ];
    Sample {
        athlete: Athlete {
            name: "نور بنت علي المثال ذات الاسم الطويل جدا".to_owned(),
            units: DistanceUnit::Mi,
            ..Athlete::default()
        },
        week: week(days),
        race: race("The Long Bridge and Valley Marathon <b>invented</b>", "2027-05-16", RaceDistance::Marathon),
        settings: Settings::default(),
    }
}

/// Five runs by the clock, half marathon.
pub(crate) fn timed_half() -> Sample {
    let days = [
        vec![],
        vec![session(Kind::Easy, 45, 50, Unit::Min)],
        vec![hard(Kind::Tempo, 70, 20, Unit::Min)],
        vec![session(Kind::Easy, 45, 45, Unit::Min)],
        vec![],
        vec![session(Kind::Easy, 40, 40, Unit::Min)],
        vec![session(Kind::Long, 110, 130, Unit::Min)],
    ];
    Sample {
        athlete: Athlete { name: "Šárka O'Neil-Šťastná".to_owned(), ..Athlete::default() },
        week: week(days),
        race: race("", "2027-04-25", RaceDistance::Half),
        settings: Settings { days: Some(12), floor: Some(0.3), ..Settings::default() },
    }
}

fn week(days: [Vec<Session>; 7]) -> BaseWeek {
    BaseWeek::new(days.map(|sessions| sessions.into_iter().map(Slot::one).collect()), None)
}

/// Goals with every line written.
pub(crate) fn goals() -> GoalNotes {
    let stretch = |effort: &str, focus: &str, cue: &str| Stretch {
        effort: effort.to_owned(),
        focus: focus.to_owned(),
        cue: cue.to_owned(),
    };
    GoalNotes {
        a: "under 44:00".to_owned(),
        b: "under 45:00".to_owned(),
        c: "finish strong & smiling".to_owned(),
        belief: "Six times 800 m in 3:20, and every Tuesday since January.".to_owned(),
        stretches: [
            stretch("easier than it feels right", "the runner in front", "patience"),
            stretch("steady, two words at a time", "tall hips, quick feet", "tall"),
            stretch("everything that is left", "one lamp post to the next", "home"),
        ],
        hard_moment: "It is hard because it matters: count ten breaths, then decide.".to_owned(),
        message: "You are ready.\nSee you at the bridge.".to_owned(),
    }
}

/// A kept block around a sample.
pub(crate) fn record(sample: &Sample) -> BlockRecord {
    BlockRecord {
        id: BlockId(7),
        version: Version(3),
        revision: 2,
        begun: at("2027-04-10T18:00:00Z"),
        made: at("2027-04-20T18:00:00Z"),
        reason: "made anew".to_owned(),
        athlete: AthleteRecord {
            id: AthleteId(4),
            version: Version(1),
            draft: AthleteDraft {
                athlete: sample.athlete.clone(),
                group: "Track".to_owned(),
                ..AthleteDraft::default()
            },
        },
        outcome: None,
        goal_inside: None,
        race: RaceRecord {
            id: RaceId(5),
            version: Version(1),
            race: sample.race.clone(),
            place: "Harbour".to_owned(),
            called_off: None,
        },
        week: WeekRecord {
            version: Version(2),
            units: sample.athlete.units,
            lines: Default::default(),
            range: String::new(),
            second: None,
            since: None,
            week: sample.week.clone(),
            saved: Some(at("2027-03-01T18:00:00Z")),
        },
        settings: sample.settings,
        block: sample.block(),
        before_events: None,
        goals: GoalNotes::default(),
        race_sheet: store::RaceSheet::default(),
        share: None,
        undo: Some(store::Step { to: 1, reason: "swapped Tue 4 May and Wed 5 May".to_owned() }),
        redo: Some(store::Step { to: 3, reason: "fixed Thu 6 May".to_owned() }),
    }
}

/// The same, handed over as it was one revision ago.
pub(crate) fn handed_over(sample: &Sample) -> BlockRecord {
    BlockRecord {
        goals: goals(),
        share: Some(ShareRecord {
            id: ShareId(1),
            token: "3f1c2e8a5b7d4c60a1f2e3d4c5b6a798".to_owned(),
            revision: 1,
            handed_over: at("2027-04-18T18:00:00Z"),
            ends: date("2027-05-23"),
            shows: store::Shows::ALL,
            goals: GoalNotes { a: "under 45:00".to_owned(), ..goals() },
            race_day: None,
            replaces: None,
        }),
        ..record(sample)
    }
}

/// The same, and the race is called off.
pub(crate) fn called_off(sample: &Sample) -> BlockRecord {
    let mut record = handed_over(sample);
    record.race.called_off = Some(date("2027-05-03"));
    record
}

/// The same, and another goal race lies inside the block.
pub(crate) fn goal_inside(sample: &Sample) -> BlockRecord {
    let mut record = handed_over(sample);
    let date = record.block.first_day() + chrono::Days::new(2);
    record.goal_inside = Some(Race { name: "Mill Five <b>".to_owned(), date, ..sample.race.clone() });
    record
}

/// A coach who thinks in kilometres.
pub(crate) fn coach() -> CoachSettings {
    CoachSettings {
        version: Version(1),
        units: DistanceUnit::Km,
        week_start: chrono::Weekday::Mon,
        paper: store::Paper::A4,
        coach_name: "Rui".to_owned(),
    }
}

/// What the athletes' door knows of a sample.
pub(crate) fn shared(sample: &Sample) -> SharedBlock {
    SharedBlock {
        name: sample.athlete.name.clone(),
        units: sample.athlete.units,
        race: sample.race.clone(),
        place: "Harbour".to_owned(),
        called_off: None,
        block: sample.block(),
        goals: goals(),
        race_day: None,
        revision: 2,
        handed_over: at("2027-04-20T18:00:00Z"),
        replaces: Some(store::Shown { revision: 1, at: at("2027-04-18T18:00:00Z") }),
        ends: sample.race.date + chrono::Days::new(14),
    }
}

/// Answers beside the goals.
pub(crate) fn answers() -> store::Answers {
    store::Answers {
        worry: "the <b>hill</b> at the end".to_owned(),
        last_taper: "rested too much".to_owned(),
        rest: "thanks!\nsee you".to_owned(),
        pasted: "1. under 44:00".to_owned(),
    }
}
