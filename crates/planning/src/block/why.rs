//! Reasons: why a session is not as usual, as data. `formats::words` says them in English.

use chrono::NaiveDate;

use crate::session::Kind;
use crate::units::{Amount, Milli, Share, Unit};

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
    /// Loaded legs never stand next to a hard or a long day: the load goes, the strength stays.
    LoadedLegsOff,
    /// The race stands here.
    Race,
    /// Fixed by the coach.
    Pinned,
}

impl Reason {
    /// Whether it stands beside a session even if nothing about the session changed.
    pub(super) const fn is_not_a_change(&self) -> bool {
        matches!(self, Self::Chosen | Self::Pinned)
    }
}

/// A reason that cannot be read back.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("\"{0}\" is not a reason")]
pub struct UnknownReason(String);

impl Reason {
    /// The name of the rule: the first word of the short form, and the `rule` of files.
    pub const fn rule(&self) -> &'static str {
        match self {
            Self::Ebb(_) => "ebb",
            Self::LongRun(_) => "long-run",
            Self::SecondLongRun(_) => "second-long-run",
            Self::LongSlotEased(_) => "long-slot-eased",
            Self::KeySession(_) => "key-session",
            Self::KeyMovedHere(_) => "key-moved-here",
            Self::KeyMovedAway(_) => "key-moved-away",
            Self::HardEased(_) => "hard-eased",
            Self::ThirdHardEased(_) => "third-hard-eased",
            Self::TimeTrialOff => "time-trial-off",
            Self::Strides => "strides",
            Self::HillsFlat => "hills-flat",
            Self::Chosen => "chosen",
            Self::LeastWorth(_) => "least-worth",
            Self::MostNear(_) => "most-near",
            Self::NotAboveEarlier => "not-above-earlier",
            Self::TookUp => "took-up",
            Self::SecondRunOff => "second-run-off",
            Self::ExtraRest => "extra-rest",
            Self::DayBeforeRest => "day-before-rest",
            Self::ShakeOut => "shake-out",
            Self::StrengthLight => "strength-light",
            Self::StrengthBodyWeight => "strength-body-weight",
            Self::StrengthOff => "strength-off",
            Self::LoadedLegsOff => "loaded-legs-off",
            Self::Race => "race",
            Self::Pinned => "pinned",
        }
    }
}

impl std::fmt::Display for Reason {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(self.rule())?;
        match self {
            Self::Ebb(share)
            | Self::LongRun(share)
            | Self::SecondLongRun(share)
            | Self::LongSlotEased(share)
            | Self::KeySession(share) => write!(f, " {}", share.0),
            Self::KeyMovedHere(date) | Self::KeyMovedAway(date) => write!(f, " {date}"),
            Self::HardEased(kind) | Self::ThirdHardEased(kind) => write!(f, " {}", kind.code()),
            Self::LeastWorth(amount) | Self::MostNear(amount) => {
                write!(f, " {} {} {}", amount.low(), amount.high(), amount.unit().symbol())
            }
            _ => Ok(()),
        }
    }
}

impl std::str::FromStr for Reason {
    type Err = UnknownReason;

    fn from_str(text: &str) -> Result<Self, Self::Err> {
        let unknown = || UnknownReason(text.to_owned());
        let (rule, rest) = text.split_once(' ').unwrap_or((text, ""));
        let share = || rest.parse().map(Share).map_err(|_| unknown());
        let date = || rest.parse::<NaiveDate>().map_err(|_| unknown());
        let kind = || Kind::from_code(rest).ok_or_else(unknown);
        let amount = || read_amount(rest).ok_or_else(unknown);
        Ok(match rule {
            "ebb" => Self::Ebb(share()?),
            "long-run" => Self::LongRun(share()?),
            "second-long-run" => Self::SecondLongRun(share()?),
            "long-slot-eased" => Self::LongSlotEased(share()?),
            "key-session" => Self::KeySession(share()?),
            "key-moved-here" => Self::KeyMovedHere(date()?),
            "key-moved-away" => Self::KeyMovedAway(date()?),
            "hard-eased" => Self::HardEased(kind()?),
            "third-hard-eased" => Self::ThirdHardEased(kind()?),
            "least-worth" => Self::LeastWorth(amount()?),
            "most-near" => Self::MostNear(amount()?),
            _ if !rest.is_empty() => return Err(unknown()),
            "time-trial-off" => Self::TimeTrialOff,
            "strides" => Self::Strides,
            "hills-flat" => Self::HillsFlat,
            "chosen" => Self::Chosen,
            "not-above-earlier" => Self::NotAboveEarlier,
            "took-up" => Self::TookUp,
            "second-run-off" => Self::SecondRunOff,
            "extra-rest" => Self::ExtraRest,
            "day-before-rest" => Self::DayBeforeRest,
            "shake-out" => Self::ShakeOut,
            "strength-light" => Self::StrengthLight,
            "strength-body-weight" => Self::StrengthBodyWeight,
            "strength-off" => Self::StrengthOff,
            "loaded-legs-off" => Self::LoadedLegsOff,
            "race" => Self::Race,
            "pinned" => Self::Pinned,
            _ => return Err(unknown()),
        })
    }
}

fn read_amount(text: &str) -> Option<Amount> {
    let mut words = text.split(' ');
    let mut number = || words.next()?.parse::<f64>().ok().map(Milli::nearest);
    let (low, high) = (number()?, number()?);
    let unit = words.next()?;
    let unit = Unit::ALL.into_iter().find(|known| known.symbol() == unit)?;
    words.next().is_none().then(|| Amount::between(low, high, unit))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_reason_reads_back_as_written() {
        let day = NaiveDate::from_ymd_opt(2027, 5, 4).unwrap();
        let amount = Amount::exact(Milli(7500), Unit::Mi);
        let reasons = [
            Reason::Ebb(Share(0.613_402_1)),
            Reason::LongRun(Share(0.75)),
            Reason::SecondLongRun(Share(0.45)),
            Reason::LongSlotEased(Share(0.22)),
            Reason::KeySession(Share(1.0 / 3.0)),
            Reason::KeyMovedHere(day),
            Reason::KeyMovedAway(day),
            Reason::HardEased(Kind::RacePace),
            Reason::ThirdHardEased(Kind::TimeTrial),
            Reason::TimeTrialOff,
            Reason::Strides,
            Reason::HillsFlat,
            Reason::Chosen,
            Reason::LeastWorth(amount),
            Reason::MostNear(amount),
            Reason::NotAboveEarlier,
            Reason::TookUp,
            Reason::SecondRunOff,
            Reason::ExtraRest,
            Reason::DayBeforeRest,
            Reason::ShakeOut,
            Reason::StrengthLight,
            Reason::StrengthBodyWeight,
            Reason::StrengthOff,
            Reason::LoadedLegsOff,
            Reason::Race,
            Reason::Pinned,
        ];
        for reason in reasons {
            assert_eq!(reason.to_string().parse(), Ok(reason));
        }
    }

    #[test]
    fn text_that_is_no_reason_is_refused() {
        for text in ["", "ebb", "ebb much", "race 3", "key-moved-here 2027-13-01", "most-near 3 km", "tired"] {
            assert_eq!(text.parse::<Reason>(), Err(UnknownReason(text.to_owned())));
        }
    }
}
