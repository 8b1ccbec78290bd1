//! The review: judges any block, planned or bent by hand, against the rules of the trade.
//!
//! One rule a file: its limits, the function that judges, where it comes from, and tests on both
//! sides of each border. [`Look`] holds what several rules ask of a block.

mod band;
mod base_too_thin;
mod begins_too_soon;
mod cut_too_large;
mod cut_too_small;
mod distance_untrained;
mod excused;
mod fixed_against_event;
mod frequency_lost;
mod goal_inside;
mod hard_back_to_back;
mod hard_too_late;
mod hard_twice;
mod illness_near_race;
mod injury;
mod intensity_added;
mod intensity_lost;
mod length_unusual;
mod long_run_big;
mod long_run_late;
mod look;
pub mod made_late;
mod no_rest_place;
mod person_caution;
mod races_clash;
mod ran_more;
mod rest_clumped;
#[cfg(test)]
mod sample;
mod something_new;
mod strength_late;
pub mod travel;
mod week_rises;

use crate::athlete::Athlete;
use crate::block::Block;
use crate::life::{EventKind, LifeEvent};
use crate::race::Race;
use crate::session::Kind;
use crate::units::{Share, Unit};
use crate::week::BaseWeek;

use look::Look;

pub use intensity_lost::LEAST as LEAST_HARD;
pub use travel::ClockShift;

/// How grave a finding is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Level {
    /// Likely harm, or nonsense.
    Stop,
    /// Better otherwise, or for a reason.
    Caution,
    /// Worth knowing.
    Note,
}

impl Level {
    /// The name in files: `stop`, `caution`, `note`.
    pub const fn code(self) -> &'static str {
        match self {
            Self::Stop => "stop",
            Self::Caution => "caution",
            Self::Note => "note",
        }
    }
}

/// The rules, by the names that files and pages use.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[expect(missing_docs, reason = "each rule is documented in its own module")]
pub enum RuleId {
    CutTooSmall,
    CutTooLarge,
    WeekRises,
    IntensityLost,
    IntensityAdded,
    FrequencyLost,
    RestClumped,
    NoRestPlace,
    HardTooLate,
    HardBackToBack,
    HardTwice,
    LongRunLate,
    LongRunBig,
    StrengthLate,
    SomethingNew,
    MadeLate,
    LengthUnusual,
    RacesClash,
    BaseTooThin,
    DistanceUntrained,
    IllnessNearRace,
    Injury,
    BeginsTooSoon,
    GoalInside,
    FixedAgainstEvent,
    RanMore,
    Travel,
    PersonCaution,
}

impl RuleId {
    /// Every rule.
    pub const ALL: [Self; 28] = [
        Self::PersonCaution,
        Self::IllnessNearRace,
        Self::Injury,
        Self::BeginsTooSoon,
        Self::FixedAgainstEvent,
        Self::RanMore,
        Self::GoalInside,
        Self::RacesClash,
        Self::Travel,
        Self::BaseTooThin,
        Self::DistanceUntrained,
        Self::MadeLate,
        Self::LengthUnusual,
        Self::CutTooSmall,
        Self::CutTooLarge,
        Self::WeekRises,
        Self::IntensityLost,
        Self::IntensityAdded,
        Self::FrequencyLost,
        Self::RestClumped,
        Self::NoRestPlace,
        Self::HardTooLate,
        Self::HardBackToBack,
        Self::HardTwice,
        Self::LongRunLate,
        Self::LongRunBig,
        Self::StrengthLate,
        Self::SomethingNew,
    ];

    /// The name in files: `long-run-late`.
    pub const fn code(self) -> &'static str {
        match self {
            Self::CutTooSmall => "cut-too-small",
            Self::CutTooLarge => "cut-too-large",
            Self::WeekRises => "week-rises",
            Self::IntensityLost => "intensity-lost",
            Self::IntensityAdded => "intensity-added",
            Self::FrequencyLost => "frequency-lost",
            Self::RestClumped => "rest-clumped",
            Self::NoRestPlace => "no-rest-place",
            Self::HardTooLate => "hard-too-late",
            Self::HardBackToBack => "hard-back-to-back",
            Self::HardTwice => "hard-twice",
            Self::LongRunLate => "long-run-late",
            Self::LongRunBig => "long-run-big",
            Self::StrengthLate => "strength-late",
            Self::SomethingNew => "something-new",
            Self::MadeLate => "made-late",
            Self::LengthUnusual => "length-unusual",
            Self::RacesClash => "races-clash",
            Self::BaseTooThin => "base-too-thin",
            Self::DistanceUntrained => "distance-untrained",
            Self::IllnessNearRace => "illness-near-race",
            Self::Injury => "injury",
            Self::BeginsTooSoon => "begins-too-soon",
            Self::GoalInside => "goal-inside",
            Self::FixedAgainstEvent => "fixed-against-event",
            Self::RanMore => "ran-more",
            Self::Travel => "travel",
            Self::PersonCaution => "person-caution",
        }
    }
}

/// The number that fired a rule.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Figure {
    /// Nothing to count.
    None,
    /// A share, shown in per cent.
    Share(Share),
    /// Days to race, or a number of days.
    Days(u16),
    /// A plain count.
    Count(u16),
    /// Kilometres or minutes.
    Amount(f64, Unit),
}

/// What a finding is about, where its figure and its day do not say it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum About {
    /// Nothing that has to be named.
    Nothing,
    /// Another race, by its name, which may be empty.
    Race(String),
    /// An illness or injury.
    Event {
        /// Which.
        kind: EventKind,
        /// No end of it is noted: as far as anybody knows it lasts.
        open: bool,
    },
    /// Hard running on the easy days after an illness or injury.
    HardAfter(EventKind),
    /// More running than belongs on the first and last day of travel, or hard running.
    OnTheWay,
    /// Race week, in which the race counts as a run.
    RaceWeek,
    /// A kind of session.
    Kind(Kind),
    /// A second run on a day.
    SecondRun,
    /// A caution, in the words of the coach.
    Noted(String),
}

impl About {
    const fn event(event: &LifeEvent) -> Self {
        Self::Event { kind: event.kind, open: event.open }
    }
}

/// One thing that a rule has to say.
#[derive(Clone, Debug, PartialEq)]
pub struct Finding {
    /// The rule.
    pub rule: RuleId,
    /// How grave.
    pub level: Level,
    /// The number that fired it.
    pub figure: Figure,
    /// The limit it was held against.
    pub limit: Figure,
    /// The day it is about, where it is about one.
    pub date: Option<chrono::NaiveDate>,
    /// What it is about beside that.
    pub about: About,
}

impl Finding {
    /// A finding with a figure and the limit it was held against.
    const fn new(rule: RuleId, level: Level, figure: Figure, limit: Figure) -> Self {
        Self { rule, level, figure, limit, date: None, about: About::Nothing }
    }

    const fn on(mut self, date: chrono::NaiveDate) -> Self {
        self.date = Some(date);
        self
    }

    fn about(mut self, about: About) -> Self {
        self.about = about;
        self
    }
}

/// What the review looks at.
#[derive(Clone, Copy, Debug)]
pub struct Subject<'a> {
    /// The block.
    pub block: &'a Block,
    /// The athlete.
    pub athlete: &'a Athlete,
    /// The base week it was planned from.
    pub week: &'a BaseWeek,
    /// The athlete's other races.
    pub other_races: &'a [Race],
    /// What happened on the way.
    pub events: &'a [LifeEvent],
    /// What was run in the last seven days as a share of what was planned, where that is known.
    pub ran: Option<Share>,
    /// How far the clocks of the race are from those at home; nothing where either zone is unknown.
    pub clock_shift: Option<ClockShift>,
    /// How many days before the race the block was first made; nothing where the plan could begin when it should.
    pub made: Option<u16>,
}

impl<'a> Subject<'a> {
    /// A block of which nothing else is known: nothing happened, nothing was run, no other race stands near.
    pub const fn new(block: &'a Block, athlete: &'a Athlete, week: &'a BaseWeek) -> Self {
        Self { block, athlete, week, other_races: &[], events: &[], ran: None, clock_shift: None, made: None }
    }
}

/// The rules in the order in which they speak.
const RULES: [fn(&Look<'_>) -> Vec<Finding>; 28] = [
    person_caution::judge,
    illness_near_race::judge,
    injury::judge,
    begins_too_soon::judge,
    fixed_against_event::judge,
    ran_more::judge,
    goal_inside::judge,
    races_clash::judge,
    travel::judge,
    base_too_thin::judge,
    distance_untrained::judge,
    made_late::judge,
    length_unusual::judge,
    cut_too_small::judge,
    cut_too_large::judge,
    week_rises::judge,
    intensity_lost::judge,
    intensity_added::judge,
    frequency_lost::judge,
    rest_clumped::judge,
    no_rest_place::judge,
    hard_too_late::judge,
    hard_back_to_back::judge,
    hard_twice::judge,
    long_run_late::judge,
    long_run_big::judge,
    strength_late::judge,
    something_new::judge,
];

/// What of a block is likely harm: the findings of [`Level::Stop`] that [`review`] has, without the rest of its work.
pub fn stops(subject: &Subject<'_>) -> Vec<Finding> {
    let look = Look::new(subject);
    MAY_STOP.iter().flat_map(|judge| judge(&look)).filter(|finding| finding.level == Level::Stop).collect()
}

/// Fixed days with running that an illness or injury keeps from being run, or that would be easy after it: the findings of
/// [`RuleId::FixedAgainstEvent`] that [`review`] has, without the rest of its work.
pub fn fixed_against_events(subject: &Subject<'_>) -> Vec<Finding> {
    fixed_against_event::judge(&Look::new(subject))
}

/// The rules that know a stop, in the order of [`RULES`]: none of them is ever excused.
const MAY_STOP: [fn(&Look<'_>) -> Vec<Finding>; 4] =
    [person_caution::judge, illness_near_race::judge, fixed_against_event::judge, goal_inside::judge];

/// Judges a block: every finding, gravest first, then in the order of the rules.
pub fn review(subject: &Subject<'_>) -> Vec<Finding> {
    let look = Look::new(subject);
    let mut found: Vec<Finding> = RULES.iter().flat_map(|judge| judge(&look)).collect();
    found.retain(|finding| !excused::is_excused(&look, finding));
    found.sort_by_key(|finding| finding.level);
    found
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::sample::Sample;
    use super::*;
    use crate::athlete::Athlete;
    use crate::race::{Importance, RaceDistance};

    /// A block with faults of every level.
    fn bad() -> Sample {
        let athlete = Athlete {
            name: "A".into(),
            birth_year: Some(2027 - 17),
            cautions: vec!["calf strain".into()],
            ..Athlete::default()
        };
        Sample::of(
            athlete,
            "easy 4 | tempo 9, hard 4 | easy 8 | easy 8 | easy 4 | easy 7 | long 16",
            RaceDistance::Marathon,
        )
        .uncut()
        .with(9, "easy 9")
        .with(8, "fartlek 7, hard 3")
        .with(6, "strength 30 loaded")
        .with(5, "rest")
        .with(3, "easy 9")
        .with(2, "long 16, hard 4")
        .other(9, RaceDistance::FiveK, Importance::TuneUp)
    }

    #[test]
    fn the_gravest_findings_come_first_then_the_order_of_the_rules() {
        let findings = bad().findings();
        let place =
            |finding: &Finding| (finding.level, RuleId::ALL.iter().position(|rule| *rule == finding.rule).unwrap());
        assert!(findings.is_sorted_by_key(place), "{findings:#?}");
        let levels: BTreeSet<Level> = findings.iter().map(|finding| finding.level).collect();
        assert_eq!(levels.len(), 3, "{findings:#?}");
        assert!(Level::Stop < Level::Caution && Level::Caution < Level::Note);
    }

    #[test]
    fn each_rule_speaks_in_its_own_name() {
        let sample = bad();
        let subject = Subject {
            block: &sample.block,
            athlete: &sample.athlete,
            week: &sample.week,
            other_races: &sample.other_races,
            events: &[],
            ran: None,
            clock_shift: sample.clock_shift,
            made: sample.made,
        };
        let look = Look::new(&subject);
        let mut spoken = 0;
        for (judge, rule) in RULES.iter().zip(RuleId::ALL) {
            let findings = judge(&look);
            spoken += usize::from(!findings.is_empty());
            assert!(findings.iter().all(|finding| finding.rule == rule), "{rule:?}: {findings:#?}");
        }
        assert!(spoken > 10, "{spoken} rules spoke");
    }

    #[test]
    fn every_rule_is_listed_once_with_a_name_of_its_own() {
        assert_eq!(RuleId::ALL.iter().collect::<BTreeSet<_>>().len(), RuleId::ALL.len());
        let codes: BTreeSet<&str> = RuleId::ALL.iter().map(|rule| rule.code()).collect();
        assert_eq!(codes.len(), RuleId::ALL.len());
        assert_eq!(RuleId::PersonCaution as usize + 1, RuleId::ALL.len(), "the last rule declared");
    }

    #[test]
    fn a_quiet_block_of_a_usual_week_has_no_findings() {
        for distance in [RaceDistance::FiveK, RaceDistance::TenK, RaceDistance::Half] {
            let findings = Sample::new(super::sample::WEEK, distance).findings();
            assert_eq!(findings, [], "{distance:?}");
        }
    }
}
