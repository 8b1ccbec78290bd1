//! The review: judges any block, planned or bent by hand, against the rules of the trade.

use crate::athlete::Athlete;
use crate::block::Block;
use crate::race::Race;
use crate::units::{Share, Unit};
use crate::week::BaseWeek;

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
    LongRunLate,
    LongRunBig,
    StrengthLate,
    SomethingNew,
    LengthUnusual,
    RacesClash,
    BaseTooThin,
    DistanceUntrained,
    PersonCaution,
    Travel,
}

impl RuleId {
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
            Self::LongRunLate => "long-run-late",
            Self::LongRunBig => "long-run-big",
            Self::StrengthLate => "strength-late",
            Self::SomethingNew => "something-new",
            Self::LengthUnusual => "length-unusual",
            Self::RacesClash => "races-clash",
            Self::BaseTooThin => "base-too-thin",
            Self::DistanceUntrained => "distance-untrained",
            Self::PersonCaution => "person-caution",
            Self::Travel => "travel",
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
    /// Words of the coach that the finding repeats (a caution, another race's name); may be empty.
    pub detail: String,
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
}

/// Judges a block: every finding, gravest first, then in the order of the rules.
pub fn review(subject: &Subject<'_>) -> Vec<Finding> {
    let _ = subject;
    todo!("next")
}
