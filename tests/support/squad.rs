//! People and races to test with, all invented.

use axum::Router;
use chrono::Days;
use planning::{Athlete, DistanceUnit, Importance, Race, RaceDistance, Request, Settings, Weight, plan};
use store::{AthleteDraft, AthleteId, BlockId, RaceId, Version};
use uuid::Uuid;

use crate::{Answer, SHARE_HOST, TestApp, date, get_from};

/// Six runs and strength in kilometres, Monday first.
pub const SIX_RUNS: [&str; 7] =
    ["8", "6 x 800 m 10k pace, 12 km", "10 + strength 30", "tempo 10, hard 5", "", "6", "long 18"];

/// An athlete entered in a race.
#[derive(Clone, Copy, Debug)]
pub struct Entered {
    /// The athlete.
    pub athlete: AthleteId,
    /// The race.
    pub race: RaceId,
}

impl TestApp {
    /// Adds an athlete with a caution and private notes, which nobody but the coach may see.
    pub async fn add_athlete(&self, name: &str, units: DistanceUnit) -> AthleteId {
        let athlete = Athlete {
            name: name.to_owned(),
            units,
            cautions: vec!["asthma, carries a spray".to_owned()],
            ..Athlete::default()
        };
        let draft = AthleteDraft {
            athlete,
            group: "Track".to_owned(),
            notes: "owes me a coffee".to_owned(),
            weight: Weight::grams(61_234),
            recent_results: "2027-02-07 10k 47:11 (into the wind)".to_owned(),
            ..AthleteDraft::default()
        };
        self.store.add_athlete(&draft, Uuid::new_v4(), self.now()).await.expect("an athlete")
    }

    /// Saves the base week of an athlete, a line a day, Monday first.
    pub async fn save_week(&self, athlete: AthleteId, lines: [&str; 7]) {
        let read_at = self.store.week(athlete).await.expect("a week").expect("an athlete").version;
        let lines = lines.map(str::to_owned);
        self.store.save_week(athlete, read_at, &store::WeekDraft::of(lines), self.now()).await.expect("a week");
    }

    /// Adds a race at half past nine.
    pub async fn add_race(&self, name: &str, day: &str, distance: RaceDistance) -> RaceId {
        let race = Race {
            name: name.to_owned(),
            date: date(day),
            distance,
            start: chrono::NaiveTime::from_hms_opt(9, 30, 0),
            zone: Some("Europe/Lisbon".to_owned()),
            importance: Importance::Goal,
        };
        self.store.add_race(&race, "Harbour", Uuid::new_v4(), self.now()).await.expect("a race")
    }

    /// Ana with six runs a week, entered in a 10 km race on Sunday 9 May 2027; no block yet.
    pub async fn ana(&self) -> Entered {
        let athlete = self.add_athlete("Ana Exemplo", DistanceUnit::Km).await;
        self.save_week(athlete, SIX_RUNS).await;
        let race = self.add_race("Harbour 10", "2027-05-09", RaceDistance::TenK).await;
        self.store.enter(race, athlete, Importance::Goal, self.now()).await.expect("an entry");
        Entered { athlete, race }
    }

    /// A club of runners who all have a block for the same race, twelve days away.
    pub async fn fill_club(&self, runners: usize) -> Vec<BlockId> {
        let day = (self.today() + Days::new(12)).to_string();
        let race = self.add_race("Harbour Ten", &day, RaceDistance::TenK).await;
        let mut blocks = Vec::with_capacity(runners);
        for number in 0..runners {
            let athlete = self.add_athlete(&format!("Runner {number:04}"), DistanceUnit::Km).await;
            self.save_week(athlete, SIX_RUNS).await;
            self.store.enter(race, athlete, Importance::Goal, self.now()).await.expect("an entry");
            blocks.push(self.plan_block(Entered { athlete, race }).await);
        }
        blocks
    }

    /// Makes the block of an athlete for a race with the settings that the event takes, as if it had been made
    /// in time: the race may be past.
    pub async fn plan_block(&self, entered: Entered) -> BlockId {
        let athlete = self.store.athlete(entered.athlete).await.expect("a read").expect("an athlete").draft.athlete;
        let week = self.store.week(entered.athlete).await.expect("a read").expect("a week");
        let race = self.store.race(entered.race).await.expect("a read").expect("a race").race;
        let settings = Settings::default();
        let request = Request {
            today: None,
            athlete: &athlete,
            week: &week.week,
            race: &race,
            settings: &settings,
            pins: &[],
            other_races: &[],
            begun: None,
        };
        let block = plan(&request).expect("a sound request");
        let added = self.store.add_block(entered.athlete, entered.race, &settings, &week, &block, self.now());
        added.await.expect("a block")
    }

    /// Makes the block of an athlete for a race, as the page does.
    pub async fn make_block(&self, entered: Entered) -> BlockId {
        let path = format!("/athletes/{}/blocks", entered.athlete);
        BlockId(self.post(&path, &[("race", &entered.race.to_string())]).await.new_id())
    }

    /// Ana's block.
    pub async fn ana_block(&self) -> BlockId {
        let entered = self.ana().await;
        self.make_block(entered).await
    }

    /// The version at which a block's forms are read now.
    pub async fn version_of(&self, block: BlockId) -> Version {
        self.store.block(block).await.expect("a read").expect("a block").version
    }

    /// Hands a block over, with goals and stretches or without, and gives the path of its page on the
    /// athletes' door.
    pub async fn hand_over(&self, block: BlockId, with: &str) -> String {
        let version = self.version_of(block).await.to_string();
        let fields = [("version", version.as_str()), ("goals", with), ("stretches", with)];
        let answer = self.post(&format!("/blocks/{block}/hand-over"), &fields).await;
        let address = self.follow(&answer).await.attribute("input.link", "value");
        address.strip_prefix(&format!("http://{SHARE_HOST}")).expect("an address of the athletes' door").to_owned()
    }
}

/// A page of the athletes' door.
pub async fn get_shared(door: &Router, path: &str) -> Answer {
    get_from(door.clone(), SHARE_HOST, path).await
}
