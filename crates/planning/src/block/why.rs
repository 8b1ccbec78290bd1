//! Reasons: why a session is not as usual, as data. `formats::words` says them in English.

use chrono::NaiveDate;

use crate::session::Kind;
use crate::units::{Amount, Share};

/// One reason for one change.
///
/// [`std::fmt::Display`] and [`std::str::FromStr`] give a short form for keeping, such as `ebb 0.61`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Reason {
    /// The curve: this share of the usual amount remains on this day.
    Ebb(Share),
    /// The long run comes down by steps: at most this share of the usual long run.
    LongRun(Share),
    /// A second long run is at most this share of the longest.
    SecondLongRun(Share),
    /// A long slot in race week is an easy run of at most this share of the longest.
    LongSlotEased(Share),
    /// The one hard session of race week: this share of the usual hard part stays, the pace too.
    KeySession(Share),
    /// The key session was moved here from another day.
    KeyMovedHere(NaiveDate),
    /// The hard session of this day was moved to another day.
    KeyMovedAway(NaiveDate),
    /// A hard session of race week becomes easy.
    HardEased(Kind),
    /// A hard session too many in the week before race week becomes easy.
    ThirdHardEased(Kind),
    /// A time trial is run whole or not at all: not at all here.
    TimeTrialOff,
    /// A few strides keep the legs awake.
    Strides,
    /// Hills move to the flat this near the race.
    HillsFlat,
    /// Of several sessions the flattest and nearest to racing was taken.
    Chosen,
    /// Not shorter than this: below it a run is not worth the shoes.
    LeastWorth(Amount),
    /// Not longer than this so near to the race.
    MostNear(Amount),
    /// Not longer than the same weekday earlier in the block.
    NotAboveEarlier,
    /// Takes up some of the running that a rest day gave away.
    TookUp,
    /// A second run is left out.
    SecondRunOff,
    /// The extra rest day.
    ExtraRest,
    /// Rest on the day before the race.
    DayBeforeRest,
    /// A short easy run on the day before the race.
    ShakeOut,
    /// Strength is lighter and holds nothing new.
    StrengthLight,
    /// Strength with body weight only.
    StrengthBodyWeight,
    /// No strength in the last days.
    StrengthOff,
    /// Loaded legs never stand next to a hard or a long day.
    LoadedLegsMoved,
    /// The race stands here.
    Race,
    /// Fixed by the coach.
    Pinned,
}
