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
    /// An easy run of race week is at most this share of a usual easy run.
    EasyNear(Share),
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
    /// The plan had this hard session as an easy one already, for the sake of others that fell away since.
    PlannedEasy(Kind),
    /// A touch of quick running is left out where it would come too late, or stood in a long run.
    TouchOff,
    /// A time trial is run whole or not at all: not at all here.
    TimeTrialOff,
    /// A few strides keep the legs awake.
    Strides,
    /// A few minutes at race pace keep it familiar.
    RacePaceTouch,
    /// Hills move to the flat this near the race.
    HillsFlat,
    /// Of several sessions the flattest and nearest to racing was taken.
    Chosen,
    /// Not shorter than this: below it a run is not worth the shoes.
    LeastWorth(Amount),
    /// Cut by this, the smallest step that is worth one.
    SmallestCut(Amount),
    /// Not longer than this so near to the race.
    MostNear(Amount),
    /// Not longer than the same weekday earlier in the block.
    NotAboveEarlier,
    /// Takes up some of the running that a rest day gave away.
    TookUp,
    /// A day that the coach fixed takes more of its week than the curve would give it.
    AroundFixed,
    /// Warm-up and cool-down are no shorter than usual, so the hard part between them is.
    WarmUpStays,
    /// Hard sessions of the same week keep their warm-up and cool-down, and this run makes room for it.
    AroundWarmUps,
    /// The coach set this day to more than it usually holds, and it takes more of its week.
    AroundLonger(NaiveDate),
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
    /// Recovery from the race before: at most this share of the usual remains.
    Recovering(Share),
    /// The race was moved: this share is held before the running ebbs again.
    Held(Share),
    /// The race was moved far: the running comes back to this share, then ebbs again.
    BuiltAgain(Share),
    /// Never more than the plan that this one replaces.
    NotAboveOldPlan,
    /// Another race is run here.
    OtherRace,
    /// Lighter before the race on this day.
    BeforeOtherRace(NaiveDate),
    /// Easy after the race on this day.
    AfterOtherRace(NaiveDate),
    /// The race on this day takes the place of the hard session.
    GaveWayToRace(NaiveDate),
    /// The race on this day takes part of the week's running.
    RoomForRace(NaiveDate),
    /// Something happened in the athlete's life.
    Life(Life),
    /// Moved here from another day, which suits less.
    MovedFrom(NaiveDate),
    /// Moved away to a day that suits better.
    MovedTo(NaiveDate),
    /// Changed places with the hard running of its day, which stands on this date now.
    ChangedPlaces(NaiveDate),
    /// Left out for hard running that was moved here from this date.
    GaveWayToMoved(NaiveDate),
    /// Run after all: the extra rest day is on this date now.
    RestMovedTo(NaiveDate),
    /// The hard running of this day was moved to this date, and is not run there either.
    FellAway(NaiveDate),
    /// It made room for the race on this day, which is not run.
    RaceFellAway(NaiveDate),
    /// The race was called off: the running comes back step by step, here to this share.
    Returning(Share),
    /// Past, and as the plan before the race was moved.
    AsOldPlan,
    /// Changed for a reason that stays between coach and athlete.
    Adjusted,
}

/// What happened, as a reason. Whoever is not the coach reads [`Reason::Adjusted`] instead.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Life {
    /// No running with fever, and for a day without fever and medicine after it.
    Fever,
    /// No running on days of illness.
    Ill,
    /// Easy days after an illness.
    WellAgain,
    /// No hard running any more: a fever so near to the race.
    FeverNearRace,
    /// No running on days of an injury.
    Injured,
    /// Easy days after an injury.
    HealedAgain,
    /// The first or last day of travel.
    Travelling,
    /// Nothing hard in the two days before travel.
    BeforeTravelling,
    /// No time on this day.
    NoTime,
    /// A day with a night shift holds nothing hard.
    NightShift,
    /// More was run than planned: easy running gives some back.
    RanMore,
}

impl Life {
    /// Every one.
    pub const ALL: [Self; 11] = [
        Self::Fever,
        Self::Ill,
        Self::WellAgain,
        Self::FeverNearRace,
        Self::Injured,
        Self::HealedAgain,
        Self::Travelling,
        Self::BeforeTravelling,
        Self::NoTime,
        Self::NightShift,
        Self::RanMore,
    ];

    /// The name in files.
    pub const fn code(self) -> &'static str {
        match self {
            Self::Fever => "fever",
            Self::Ill => "ill",
            Self::WellAgain => "well-again",
            Self::FeverNearRace => "fever-near-race",
            Self::Injured => "injured",
            Self::HealedAgain => "healed-again",
            Self::Travelling => "travelling",
            Self::BeforeTravelling => "before-travelling",
            Self::NoTime => "no-time",
            Self::NightShift => "night-shift",
            Self::RanMore => "ran-more",
        }
    }
}

impl Reason {
    /// The reason for whoever is not the coach: what happened in a life stays between coach and athlete.
    #[must_use]
    pub const fn public(self) -> Self {
        match self {
            Self::Life(_) => Self::Adjusted,
            other => other,
        }
    }

    /// Whether it says how long a session is, and nothing else.
    pub(crate) const fn is_about_length(&self) -> bool {
        matches!(
            self,
            Self::Ebb(_)
                | Self::LongRun(_)
                | Self::SecondLongRun(_)
                | Self::LeastWorth(_)
                | Self::SmallestCut(_)
                | Self::MostNear(_)
                | Self::NotAboveEarlier
                | Self::TookUp
                | Self::AroundFixed
                | Self::WarmUpStays
                | Self::AroundWarmUps
                | Self::AroundLonger(_)
                | Self::Recovering(_)
                | Self::Held(_)
                | Self::BuiltAgain(_)
        )
    }

    /// Whether it stands beside a session even if nothing about the session changed. Strength that tells no minutes
    /// reads the same when it is lighter.
    pub(super) const fn is_not_a_change(&self) -> bool {
        matches!(
            self,
            Self::Chosen | Self::Pinned | Self::RacePaceTouch | Self::StrengthLight | Self::StrengthBodyWeight
        )
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
            Self::EasyNear(_) => "easy-near",
            Self::KeySession(_) => "key-session",
            Self::KeyMovedHere(_) => "key-moved-here",
            Self::KeyMovedAway(_) => "key-moved-away",
            Self::HardEased(_) => "hard-eased",
            Self::ThirdHardEased(_) => "third-hard-eased",
            Self::PlannedEasy(_) => "planned-easy",
            Self::TouchOff => "touch-off",
            Self::TimeTrialOff => "time-trial-off",
            Self::Strides => "strides",
            Self::RacePaceTouch => "race-pace-touch",
            Self::HillsFlat => "hills-flat",
            Self::Chosen => "chosen",
            Self::LeastWorth(_) => "least-worth",
            Self::SmallestCut(_) => "smallest-cut",
            Self::MostNear(_) => "most-near",
            Self::NotAboveEarlier => "not-above-earlier",
            Self::TookUp => "took-up",
            Self::AroundFixed => "around-fixed",
            Self::WarmUpStays => "warm-up-stays",
            Self::AroundWarmUps => "around-warm-ups",
            Self::AroundLonger(_) => "around-longer",
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
            Self::Recovering(_) => "recovering",
            Self::Held(_) => "held",
            Self::BuiltAgain(_) => "built-again",
            Self::NotAboveOldPlan => "not-above-old-plan",
            Self::OtherRace => "other-race",
            Self::BeforeOtherRace(_) => "before-other-race",
            Self::AfterOtherRace(_) => "after-other-race",
            Self::GaveWayToRace(_) => "gave-way-to-race",
            Self::RoomForRace(_) => "room-for-race",
            Self::Life(_) => "life",
            Self::MovedFrom(_) => "moved-from",
            Self::MovedTo(_) => "moved-to",
            Self::ChangedPlaces(_) => "changed-places",
            Self::GaveWayToMoved(_) => "gave-way-to-moved",
            Self::RestMovedTo(_) => "rest-moved-to",
            Self::FellAway(_) => "fell-away",
            Self::RaceFellAway(_) => "race-fell-away",
            Self::Returning(_) => "returning",
            Self::AsOldPlan => "as-old-plan",
            Self::Adjusted => "adjusted",
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
            | Self::EasyNear(share)
            | Self::KeySession(share)
            | Self::Recovering(share)
            | Self::Held(share)
            | Self::BuiltAgain(share)
            | Self::Returning(share) => write!(f, " {}", share.0),
            Self::KeyMovedHere(date)
            | Self::KeyMovedAway(date)
            | Self::BeforeOtherRace(date)
            | Self::AfterOtherRace(date)
            | Self::GaveWayToRace(date)
            | Self::RoomForRace(date)
            | Self::AroundLonger(date)
            | Self::MovedFrom(date)
            | Self::MovedTo(date)
            | Self::ChangedPlaces(date)
            | Self::GaveWayToMoved(date)
            | Self::RestMovedTo(date)
            | Self::FellAway(date)
            | Self::RaceFellAway(date) => write!(f, " {date}"),
            Self::Life(life) => write!(f, " {}", life.code()),
            Self::HardEased(kind) | Self::ThirdHardEased(kind) | Self::PlannedEasy(kind) => {
                write!(f, " {}", kind.code())
            }
            Self::LeastWorth(amount) | Self::SmallestCut(amount) | Self::MostNear(amount) => {
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
            "easy-near" => Self::EasyNear(share()?),
            "key-session" => Self::KeySession(share()?),
            "key-moved-here" => Self::KeyMovedHere(date()?),
            "key-moved-away" => Self::KeyMovedAway(date()?),
            "hard-eased" => Self::HardEased(kind()?),
            "third-hard-eased" => Self::ThirdHardEased(kind()?),
            "planned-easy" => Self::PlannedEasy(kind()?),
            "least-worth" => Self::LeastWorth(amount()?),
            "smallest-cut" => Self::SmallestCut(amount()?),
            "most-near" => Self::MostNear(amount()?),
            "recovering" => Self::Recovering(share()?),
            "held" => Self::Held(share()?),
            "built-again" => Self::BuiltAgain(share()?),
            "before-other-race" => Self::BeforeOtherRace(date()?),
            "after-other-race" => Self::AfterOtherRace(date()?),
            "gave-way-to-race" => Self::GaveWayToRace(date()?),
            "room-for-race" => Self::RoomForRace(date()?),
            "around-longer" => Self::AroundLonger(date()?),
            "moved-from" => Self::MovedFrom(date()?),
            "moved-to" => Self::MovedTo(date()?),
            "changed-places" => Self::ChangedPlaces(date()?),
            "gave-way-to-moved" => Self::GaveWayToMoved(date()?),
            "rest-moved-to" => Self::RestMovedTo(date()?),
            "fell-away" => Self::FellAway(date()?),
            "race-fell-away" => Self::RaceFellAway(date()?),
            "returning" => Self::Returning(share()?),
            "life" => Self::Life(Life::ALL.into_iter().find(|life| life.code() == rest).ok_or_else(unknown)?),
            _ if !rest.is_empty() => return Err(unknown()),
            "touch-off" => Self::TouchOff,
            "time-trial-off" => Self::TimeTrialOff,
            "strides" => Self::Strides,
            "race-pace-touch" => Self::RacePaceTouch,
            "hills-flat" => Self::HillsFlat,
            "chosen" => Self::Chosen,
            "not-above-earlier" => Self::NotAboveEarlier,
            "took-up" => Self::TookUp,
            "around-fixed" => Self::AroundFixed,
            "warm-up-stays" => Self::WarmUpStays,
            "around-warm-ups" => Self::AroundWarmUps,
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
            "not-above-old-plan" => Self::NotAboveOldPlan,
            "other-race" => Self::OtherRace,
            "as-old-plan" => Self::AsOldPlan,
            "adjusted" => Self::Adjusted,
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
            Reason::EasyNear(Share(0.65)),
            Reason::KeySession(Share(1.0 / 3.0)),
            Reason::KeyMovedHere(day),
            Reason::KeyMovedAway(day),
            Reason::HardEased(Kind::RacePace),
            Reason::ThirdHardEased(Kind::TimeTrial),
            Reason::PlannedEasy(Kind::Tempo),
            Reason::SmallestCut(amount),
            Reason::TouchOff,
            Reason::TimeTrialOff,
            Reason::Strides,
            Reason::RacePaceTouch,
            Reason::HillsFlat,
            Reason::Chosen,
            Reason::LeastWorth(amount),
            Reason::MostNear(amount),
            Reason::NotAboveEarlier,
            Reason::TookUp,
            Reason::AroundFixed,
            Reason::WarmUpStays,
            Reason::AroundWarmUps,
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
            Reason::Recovering(Share(0.25)),
            Reason::Held(Share(0.405)),
            Reason::BuiltAgain(Share(0.75)),
            Reason::NotAboveOldPlan,
            Reason::OtherRace,
            Reason::BeforeOtherRace(day),
            Reason::AfterOtherRace(day),
            Reason::GaveWayToRace(day),
            Reason::RoomForRace(day),
            Reason::AroundLonger(day),
            Reason::MovedFrom(day),
            Reason::MovedTo(day),
            Reason::ChangedPlaces(day),
            Reason::GaveWayToMoved(day),
            Reason::RestMovedTo(day),
            Reason::FellAway(day),
            Reason::RaceFellAway(day),
            Reason::Returning(Share(0.8)),
            Reason::AsOldPlan,
            Reason::Adjusted,
        ];
        for reason in reasons.into_iter().chain(Life::ALL.map(Reason::Life)) {
            assert_eq!(reason.to_string().parse(), Ok(reason));
        }
    }

    #[test]
    fn what_happened_in_a_life_is_not_public() {
        for life in Life::ALL {
            assert_eq!(Reason::Life(life).public(), Reason::Adjusted);
        }
        assert_eq!(Reason::Ebb(Share(0.5)).public(), Reason::Ebb(Share(0.5)));
    }

    #[test]
    fn text_that_is_no_reason_is_refused() {
        for text in
            ["", "ebb", "ebb much", "race 3", "key-moved-here 2027-13-01", "most-near 3 km", "life tired", "tired"]
        {
            assert_eq!(text.parse::<Reason>(), Err(UnknownReason(text.to_owned())));
        }
    }
}
