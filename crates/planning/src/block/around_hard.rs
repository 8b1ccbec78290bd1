//! What is run easily around the hard part of a session: its warm-up and its cool-down.
//!
//! A shorter session is one with less in the middle. Ten minutes to get warm are ten minutes whether four repetitions
//! follow or six, so the hard part gives first, as far as a week may let it.

use super::amounts;
use crate::session::{Kind, Session};
use crate::units::{Amount, Milli, Share, Unit};

/// The easy running around a hard part of which the coach wrote no warm-up and no cool-down is at least this much, or the
/// usual where that is less.
///
/// # Source
///
/// Common practice, no published source.
const fn least_easy(unit: Unit) -> Milli {
    match unit {
        Unit::Km => Milli(3000),
        Unit::Mi => Milli(2000),
        Unit::Min => Milli(20_000),
    }
}

/// Warm-up and cool-down of a hard session, in its own unit.
#[derive(Clone, Copy, Debug)]
pub(super) struct Around {
    usual: Milli,
    usual_hard: Milli,
    /// What stays whatever becomes of the hard part.
    stays: Milli,
    /// What is jogged between repetitions, where the coach's warm-up and cool-down leave something over: it goes with them.
    between: Milli,
}

impl Around {
    pub(super) fn of(session: &Session) -> Self {
        let (usual, usual_hard) = (session.running_middle(), session.hard_middle());
        let easy = usual - usual_hard;
        let unit = session.amount.map_or(Unit::Km, Amount::unit);
        let told = session.warm_up_and_cool_down().min(easy);
        let is_told = told > Milli::ZERO;
        // The rest of a long run is a run of its own, and none between its hard parts.
        let between = if is_told && session.kind != Kind::Long { easy - told } else { Milli::ZERO };
        let stays = if is_told { told } else { least_easy(unit).min(easy) };
        Self { usual, usual_hard, stays, between }
    }

    /// How long the session is, at least, with so much hard running in it.
    pub(super) fn with(self, hard: Milli) -> Milli {
        let part = hard.as_f64() / self.usual_hard.as_f64().max(0.001);
        self.stays + hard + self.between.times(Share(part))
    }

    /// The same with this share of its hard running, as that would be written; the usual where it is as short.
    pub(super) fn at(self, session: &Session, share: Share) -> Milli {
        let hard = amounts::hard_part(session, share).map_or(Milli::ZERO, Amount::middle);
        self.with(hard).min(self.usual)
    }
}

/// The share of its hard running that a session of this length keeps: `most`, or less where warm-up and cool-down would
/// have no room beside it, but `least` at least.
///
/// # Source
///
/// Common practice, no published source.
pub(super) fn hard_share(session: &Session, length: Milli, least: Share, most: Share) -> Share {
    /// One of twenty repetitions.
    const STEP: f64 = 0.05;
    let around = Around::of(session);
    let least = Share(least.0.min(most.0));
    let steps = ((most.0 - least.0) / STEP).ceil() as u16;
    let mut shares = (0..steps).map(|step| Share(most.0 - f64::from(step) * STEP));
    shares.find(|share| around.at(session, *share) <= length).unwrap_or(least)
}
