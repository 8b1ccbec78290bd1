//! Why a session is not as usual: what it was, what it is, why.

use planning::{DistanceUnit, Dropped, Kind, Life, Planned, Reason, Role, Session, Share};

use super::amounts::{amount, amount_in, per_cent};
use super::dates::long_date;
use super::names::kind;
use super::sentence;
use super::sessions::{beside, session_in};

/// One reason as a sentence of its own.
pub fn reason(reason: &Reason, units: DistanceUnit) -> String {
    sentence(&clause(reason, units))
}

/// The reasons of a planned session, one sentence each, in the order of its `why`. The first says what
/// the session usually is and what it is now.
pub fn reasons(planned: &Planned, units: DistanceUnit) -> Vec<String> {
    sentences(what_changed(planned, units).as_deref(), &planned.why, units)
}

/// What a session usually is and what it is now, a sentence without a reason; nothing where the words would be the same.
pub(super) fn changed(planned: &Planned, units: DistanceUnit) -> Option<String> {
    what_changed(planned, units).map(|change| sentence(&change))
}

fn what_changed(planned: &Planned, units: DistanceUnit) -> Option<String> {
    planned.usual.as_ref().and_then(|usual| match planned.role {
        Role::OtherRace => Some(format!("usually {}", session_in(usual, units))),
        _ => change(usual, &planned.session, units),
    })
}

/// The reasons why a usual session is not run, one sentence each; the first says what it usually is.
pub fn dropped(dropped: &Dropped, units: DistanceUnit) -> Vec<String> {
    sentences(Some(&format!("usually {}, now left out", session_in(&dropped.usual, units))), &dropped.why, units)
}

/// The change is said once, with the first reason that changed something.
fn sentences(change: Option<&str>, why: &[Reason], units: DistanceUnit) -> Vec<String> {
    let changing = why.iter().position(|reason| !matches!(reason, Reason::Chosen | Reason::Pinned)).unwrap_or_default();
    why.iter()
        .enumerate()
        .map(|(index, reason)| {
            let clause = clause(reason, units);
            sentence(&match change {
                Some(change) if index == changing => format!("{change}: {clause}"),
                _ => clause,
            })
        })
        .collect()
}

/// "usually 10 km, now 7 km"; nothing where the words would be the same.
fn change(usual: &Session, now: &Session, units: DistanceUnit) -> Option<String> {
    let (was, is) = (beside(usual, now, units), beside(now, usual, units));
    // A day's other sentences speak of runs: strength and the like say what they are.
    let what = if usual.kind == now.kind && !usual.kind.is_running() {
        format!("{} ", kind(usual.kind))
    } else {
        String::new()
    };
    (was != is && !was.is_empty() && !is.is_empty()).then(|| format!("usually {what}{was}, now {is}"))
}

fn clause(reason: &Reason, units: DistanceUnit) -> String {
    match reason {
        Reason::Ebb(share) => format!("this close to the race about {} of the usual remains", per_cent(*share)),
        Reason::LongRun(share) => {
            format!("the long run comes down in steps, here to at most {} of the usual one", per_cent(*share))
        }
        Reason::SecondLongRun(share) => {
            format!("a second long run in the week is at most {} of the longest", per_cent(*share))
        }
        Reason::LongSlotEased(share) => long_slot_eased(*share),
        Reason::EasyNear(share) => easy_near(*share),
        Reason::KeySession(share) => format!(
            "the one hard session of race week keeps its pace and recovery and about {} of its hard part",
            per_cent(*share)
        ),
        Reason::KeyMovedHere(from) => {
            format!("it was moved here from {}, to stand at the right distance from the race", long_date(*from))
        }
        Reason::KeyMovedAway(to) => {
            format!("the hard running of this day was moved to {}, so this run is easy", long_date(*to))
        }
        Reason::HardEased(was) => format!("race week holds one hard session at most, so {}", eased(*was, false)),
        Reason::ThirdHardEased(was) => {
            format!("the week before race week holds two hard sessions at most, so {}", eased(*was, true))
        }
        Reason::PlannedEasy(was) => planned_easy(*was),
        Reason::TouchOff => "so near to the race the little quick running of this day is left out".to_owned(),
        Reason::TimeTrialOff => {
            "a time trial is run whole or not at all, and this close to the race not at all".to_owned()
        }
        Reason::Strides => "a few short strides keep quick running familiar and cost little".to_owned(),
        Reason::RacePaceTouch => "a few minutes at race pace keep it familiar and cost little".to_owned(),
        Reason::HillsFlat => "this close to the race hill efforts are run on the flat".to_owned(),
        Reason::Chosen => "of the sessions to choose from, the flattest and nearest to racing was taken".to_owned(),
        Reason::LeastWorth(least) => {
            format!("a run of less than {} brings little, so it is not cut further", amount(amount_in(*least, units)))
        }
        Reason::SmallestCut(step) => {
            format!("it is cut by the smallest step that is worth one: {}", amount(amount_in(*step, units)))
        }
        Reason::MostNear(most) => {
            format!("this close to the race the day holds at most {}", amount(amount_in(*most, units)))
        }
        Reason::NotAboveEarlier => "it is no longer than on the same weekday earlier in the block".to_owned(),
        Reason::AroundFixed | Reason::AroundLonger(_) | Reason::AroundWarmUps | Reason::WarmUpStays => {
            of_the_room_in_a_week(reason)
        }
        Reason::TookUp => "it takes up part of the running that was taken off other days of this week".to_owned(),
        Reason::SecondRunOff => "second runs go first when they become too short or the race is near".to_owned(),
        Reason::ExtraRest => "race week has one rest day more than usual".to_owned(),
        Reason::DayBeforeRest => "the day before the race is rest".to_owned(),
        Reason::ShakeOut => "the day before the race holds only a short easy run to loosen the legs".to_owned(),
        Reason::StrengthLight | Reason::StrengthBodyWeight | Reason::StrengthOff | Reason::LoadedLegsOff => {
            of_strength(reason).to_owned()
        }
        Reason::Race => "the race stands here".to_owned(),
        Reason::Pinned => "the coach fixed this day".to_owned(),
        Reason::Recovering(share) => {
            format!("the race before is still in the legs: these days together hold at most {}", of_usual(*share))
        }
        Reason::Held(share) => {
            format!("the race was moved, so {} of the usual is held until the running ebbs again", per_cent(*share))
        }
        Reason::BuiltAgain(share) => format!("there is time to come back a little first, to {}", of_usual(*share)),
        Reason::NotAboveOldPlan => "it is no more than the plan before held on this day".to_owned(),
        Reason::OtherRace => "another race is run here, warm-up and cool-down included".to_owned(),
        Reason::BeforeOtherRace(race) => format!("the legs are spared for the race on {}", long_date(*race)),
        Reason::AfterOtherRace(race) => format!("the race on {} is still in the legs", long_date(*race)),
        Reason::GaveWayToRace(race) => {
            format!("the race on {} takes the place of this hard running", long_date(*race))
        }
        Reason::RoomForRace(race) => {
            format!("the race on {} takes part of the week's running", long_date(*race))
        }
        Reason::Life(life) => life_clause(*life).to_owned(),
        Reason::MovedFrom(from) => format!("it was moved here from {}, which suits less", long_date(*from)),
        Reason::MovedTo(to) => format!("it was moved to {}, which suits better", long_date(*to)),
        Reason::ChangedPlaces(to) => {
            format!("it changed places with the hard running of this day, which is now on {}", long_date(*to))
        }
        Reason::GaveWayToMoved(from) => {
            format!("it gives way to the running that was moved here from {}", long_date(*from))
        }
        Reason::RestMovedTo(to) => {
            format!("the extra rest day of race week is now {}, so this day is run", long_date(*to))
        }
        Reason::FellAway(to) => {
            format!(
                "the hard running of this day was moved to {} and fell away there; what is missed is not made up",
                long_date(*to)
            )
        }
        Reason::RaceFellAway(race) => {
            format!("it made room for the race on {}, which is not run; nothing is made up", long_date(*race))
        }
        Reason::Returning(share) => {
            format!("the race was called off: the running comes back step by step, here to {}", of_usual(*share))
        }
        Reason::AsOldPlan => "this day is over and stands as the plan before the race was moved".to_owned(),
        Reason::Adjusted => "your coach adjusted this day".to_owned(),
    }
}

/// What becomes of strength work.
const fn of_strength(reason: &Reason) -> &'static str {
    match reason {
        Reason::StrengthLight => "strength work is lighter from here on and holds nothing new",
        Reason::StrengthBodyWeight => "in race week strength work is with body weight only",
        Reason::StrengthOff => "there is no strength work in the last three days before the race",
        _ => "loaded legs do not stand next to a hard or a long day, so the load is left off",
    }
}

/// What makes room for what.
fn of_the_room_in_a_week(reason: &Reason) -> String {
    match reason {
        Reason::WarmUpStays => {
            "warm-up and cool-down are as long as usual, so the hard part between them is what becomes shorter"
                .to_owned()
        }
        Reason::AroundWarmUps => {
            "the hard sessions of this week keep their warm-up and cool-down, and this run makes room for it".to_owned()
        }
        Reason::AroundLonger(day) => {
            format!("{} was set by hand to more than usual, and this run makes room for it", long_date(*day))
        }
        _ => "a fixed day takes more of this week, and this run makes room for it".to_owned(),
    }
}

fn long_slot_eased(most: Share) -> String {
    let share = per_cent(most);
    format!("in race week a run as long as this becomes an easy run, on this day at most {share} of the longest")
}

fn easy_near(most: Share) -> String {
    format!("this close to the race an easy run is at most about {} of a usual one", per_cent(most))
}

/// What was easy before others fell away.
fn planned_easy(was: Kind) -> String {
    match was {
        Kind::Long => "as planned before, this run holds nothing hard".to_owned(),
        was => format!("as planned before, {}", eased(was, false)),
    }
}

/// What became of a hard session. Before race week a long run stays a long run.
fn eased(was: Kind, stays_long: bool) -> String {
    match was {
        Kind::CrossTraining => "this cross-training is easy".to_owned(),
        Kind::Long if stays_long => "this long run is easy throughout".to_owned(),
        Kind::Long => "this is an easy run instead of a long run with hard running in it".to_owned(),
        Kind::Easy | Kind::Recovery | Kind::Steady | Kind::Strides => {
            format!("this {} run holds nothing hard", if was == Kind::Strides { "easy" } else { kind(was) })
        }
        was => format!("this is an easy run instead of {}", kind(was)),
    }
}

/// `50% of the usual`.
fn of_usual(share: Share) -> String {
    format!("{} of the usual", per_cent(share))
}

const fn life_clause(life: Life) -> &'static str {
    match life {
        Life::Fever => "no running with fever, nor until a day without fever and medicine has passed",
        Life::Ill => "no running on days of illness; what is missed is not made up",
        Life::WellAgain => "after an illness the first days are easy and short",
        Life::FeverNearRace => "after a fever so near to the race nothing hard is run any more",
        Life::Injured => "no running on days of an injury; what is missed is not made up",
        Life::HealedAgain => "after an injury the first days are easy and short",
        Life::Travelling => "on the first and the last day of travel nothing but easy running, half an hour at most",
        Life::BeforeTravelling => "nothing hard in the two days before travel",
        Life::NoTime => "there is no time on this day; what is missed is not made up",
        Life::NightShift => "nothing hard beside a night shift",
        Life::RanMore => "more was run than planned, so easy running gives a little back",
    }
}
