//! What is run easily around the hard part of a session: its warm-up and its cool-down.
//!
//! A shorter session is one with less in the middle. Ten minutes to get warm are ten minutes whether four repetitions
//! follow or six, so the hard part gives first, as far as a week may let it.

use super::amounts;
use crate::session::{Kind, Session};
use crate::units::{Amount, Milli, Share, Unit};

/// The easy running around a hard part of which the coach wrote no warm-up and no cool-down is at least this much, or the
/// usual where that is less: some two kilometres there and back, with the drills between them. It stays whatever becomes
/// of the repetitions, for nobody is warm sooner because fewer of them follow; what is jogged between them is no part
/// of it, and goes with them.
///
/// # Source
///
/// Common practice, no published source.
const fn least_easy(unit: Unit) -> Milli {
    match unit {
        Unit::Km => Milli(4000),
        Unit::Mi => Milli(2500),
        Unit::Min => Milli(25_000),
    }
}

/// Warm-up and cool-down of a hard session, in its own unit.
#[derive(Clone, Copy, Debug)]
pub(super) struct Around {
    usual: Milli,
    usual_hard: Milli,
    /// What stays whatever becomes of the hard part.
    stays: Milli,
    /// What is jogged between repetitions, one jog for each: it goes with them.
    between: Milli,
    /// The jog that there is not behind the last of them.
    behind: Milli,
}

impl Around {
    pub(super) fn of(session: &Session) -> Self {
        let (usual, usual_hard) = (session.running_middle(), session.hard_middle());
        let easy = usual - usual_hard;
        let unit = session.amount.map_or(Unit::Km, Amount::unit);
        let told = session.warm_up_and_cool_down().min(easy);
        let (stays, between, behind) = if told > Milli::ZERO {
            // The rest of a long run is a run of its own, and none between its hard parts.
            let between = if session.kind == Kind::Long { Milli::ZERO } else { easy - told };
            (told, between, Milli::ZERO)
        } else {
            let (jogs, one) = session.jogs();
            let beside = easy - jogs;
            // Where hardly anything would be left beside the jogs, the whole was counted without them.
            if beside.0 * 2 < least_easy(unit).0 {
                (least_easy(unit).min(easy), Milli::ZERO, Milli::ZERO)
            } else {
                (least_easy(unit).min(beside), jogs + one, one)
            }
        };
        Self { usual, usual_hard, stays, between, behind }
    }

    /// How long the session is, at least, with so much hard running in it.
    pub(super) fn with(self, hard: Milli) -> Milli {
        let part = hard.as_f64() / self.usual_hard.as_f64().max(0.001);
        let jogs = self.between.times(Share(part)) - self.behind;
        self.stays + hard + jogs.max(Milli::ZERO)
    }

    /// The same with this share of its hard running, as that would be written; the usual where it is as short.
    pub(super) fn at(self, session: &Session, share: Share) -> Milli {
        self.with(hard_at(session, share)).min(self.usual)
    }

    /// What a session of this length has room for beside what stays.
    pub(super) fn room_in(self, length: Milli) -> Milli {
        (length - self.stays).max(Milli::ZERO)
    }
}

/// The hard part at a share, as it would be written.
fn hard_at(session: &Session, share: Share) -> Milli {
    amounts::hard_part(session, share).map_or(Milli::ZERO, Amount::middle)
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
    // What is written may be rounded to less than it should keep.
    let keeps = |share: &Share| hard_at(session, *share) >= around.usual_hard.times(least);
    let shares = || (0..=steps).map(|step| Share(f64::max(most.0 - f64::from(step) * STEP, least.0))).filter(keeps);
    shares().find(|share| around.at(session, *share) <= length).or_else(|| shares().next_back()).unwrap_or(least)
}
