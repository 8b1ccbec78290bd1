//! How a taper block is planned and judged: the point of the project.
//!
//! A coach says what an athlete usually runs ([`BaseWeek`]), which race it is for ([`Race`]) and, if
//! need be, how the block should be ([`Settings`]). [`plan`] answers with a [`Block`]: every day from
//! the start of the block to the race, every session with its usual and its planned amount, and the
//! reason for each change as data ([`Reason`]). [`review`] judges any block, planned or bent by hand.
//!
//! # What this crate may know
//!
//! Nothing but its arguments. No file, no socket, no clock, no randomness, no English: today is an
//! argument, and words are chosen above, in `formats::words`. The same arguments give the same
//! block, always.
//!
//! # Vocabulary
//!
//! *Days to race*: race day is 0, the day before is 1; written D1 in comments. *Race week*: D6 to D0.
//! *Base week*: seven days of sessions, Monday first. *Share*: what remains of the usual amount.
//! *Slot*: a place in the base week that holds one session, or several to choose from. *Second week*:
//! one that takes turns with the first, a lighter one for most.
//!
//! # Modules, in reading order
//!
//! [`units`] and [`session`] are the nouns; [`notation`] is how a coach types a day on one line,
//! [`plain`] what text may hold;
//! [`week`], [`athlete`], [`weight`], [`race`], [`race_time`], [`station`] and [`past_result`] are what the
//! coach tells us; [`curve`] is how the running ebbs; [`block`] turns a base week into a block; [`review`](mod@review) judges it;
//! [`bend`](mod@bend) changes it by hand, [`variants`](mod@variants) lays others beside it. [`recovery`] is what
//! comes after a race; [`life`] is what happens on the way, and [`replan`](mod@replan) plans again from there;
//! [`goals`] are the times to run, [`profile`] is the course, and [`pacing`] spreads a goal time over it;
//! [`estimate`] asks published formulas what a race may take;
//! [`timeline`](mod@timeline) lays several races on one way, [`moment`](mod@moment) says on which days an athlete hears
//! from the coach. [`fuel`], [`heat`], [`warm_up`](mod@warm_up), [`morning`](mod@morning) and [`kit`](mod@kit) are what a
//! body needs around a race.

pub mod athlete;
pub mod bend;
pub mod block;
pub mod curve;
pub mod estimate;
pub mod fit;
pub mod fuel;
pub mod goals;
pub mod heat;
pub mod kit;
pub mod life;
pub mod line_shape;
pub mod moment;
pub mod morning;
pub mod notation;
mod note;
pub mod pacing;
pub mod past_result;
pub mod plain;
pub mod problem;
pub mod profile;
pub mod race;
pub mod race_time;
pub mod recovery;
pub mod replan;
pub mod review;
pub mod session;
pub mod station;
pub mod timeline;
pub mod units;
pub mod variants;
pub mod warm_up;
pub mod week;
pub mod weight;

#[cfg(test)]
#[path = "../tests/weeks/how_many.rs"]
mod how_many;

pub use athlete::{Athlete, Suits};
pub use bend::{Edit, RestOfWeek, bend};
pub use block::{
    Beginning, Begun, Block, Cause, Ceiling, Cut, Day, Dropped, Life, Pin, Planned, QuietDay, Reason, Request, Role,
    WeekSummary, plan,
};
pub use curve::{Curve, DayBefore, ExtraRest, Settings, Shape};
pub use estimate::{Estimates, Formula, estimates};
pub use goals::{GoalFinding, GoalLetter, GoalTimes};
pub use life::{DoneSession, EventKind, Excess, Followed, LifeEvent, WeekRan, followed};
pub use line_shape::LineShape;
pub use moment::{Moment, moments, moments_between};
pub use pacing::{Pacing, Split, Strategy};
pub use past_result::{OutOfTen, Outcome, PastResult};
pub use problem::{Field, Problem, ProblemKind};
pub use profile::{MeasuredPoint, Profile};
pub use race::{Event, Importance, Race, RaceDistance};
pub use race_time::RaceTime;
pub use replan::{Happened, RaceChange, race_changed, replan};
pub use review::{About, ClockShift, Figure, Finding, Level, RuleId, review};
pub use session::{Kind, Session, SetUnit, Sets};
pub use station::{Place, Stand, Station};
pub use timeline::{Phase, Season, Span, timeline};
pub use units::{Amount, Distance, DistanceUnit, Milli, Pace, Share, Totals, Unit};
pub use variants::{Variant, VariantName, variants};
pub use week::{BaseWeek, SevenDays, Slot, Turns};
pub use weight::{Weight, WeightUnit};
