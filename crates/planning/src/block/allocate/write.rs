//! The amount that was chosen, written into its session with the hard part and the reasons.

use super::{Entry, HARD_KEEPS, HARD_KEEPS_IN_RACE_WEEK};
use crate::block::amounts::{self, SaysHard};
use crate::block::around_hard::{Around, hard_share};
use crate::block::draft::{HardRule, Item, Sizing};
use crate::block::facts::Facts;
use crate::block::{Reason, race_week};
use crate::session::Session;
use crate::units::{Amount, Milli, Share};

/// A share that is told is no further from what is planned than this: who reads "about 72%" beside 8 of 10 km reckons.
const FAR: f64 = 0.03;

/// And that of a hard part no further than this.
const FAR_OF_HARD: f64 = 0.05;

/// Writes the amount into the session, brings the hard part along, and says why.
pub(super) fn write(facts: &Facts<'_>, item: &mut Item, entry: &Entry, amount: Amount, to_race: u16) {
    if item.sizing == Sizing::Fixed {
        return;
    }
    let before = item.session.clone();
    item.session.amount = Some(amount);
    let part = amount.middle().as_f64() / entry.usual.middle().as_f64().max(0.001);
    match item.hard {
        HardRule::AsIs => {}
        HardRule::Follow(most) => {
            let share = share_of_hard(item, &before, amount, Share(part.min(most.0)), to_race);
            let says = if share.0 < part { SaysHard::Always } else { SaysHard::AsUsual };
            if before.is_hard() {
                amounts::shorten_hard(&mut item.session, &before, share, says);
            }
        }
        HardRule::Exactly(share) => {
            amounts::shorten_hard(&mut item.session, &before, share, SaysHard::Always);
            if matches!(item.sizing, Sizing::AtLeast(least) if amount.middle() < least) {
                at_most_half(&mut item.session, &before);
            }
            tell_what_is_left(item, &before);
        }
    }
    if amount.middle() < entry.usual.middle() && size_wants_a_reason(item) {
        let warm_up_stays = warm_up_stays(item, &before);
        item.why.extend(size_reasons(facts, entry, amount, to_race, warm_up_stays));
    } else if item.usual.as_ref() != Some(&item.session) && item.why.is_empty() {
        // The whole is too short to cut; the hard part or the kind is not as usual.
        item.why.push(entry.upper_why.unwrap_or(facts.share_reason(to_race)));
    }
}

/// What a session of this length keeps of its hard part, in proportion at most: warm-up and cool-down stay first.
fn share_of_hard(item: &Item, before: &Session, amount: Amount, in_proportion: Share, to_race: u16) -> Share {
    if in_proportion >= Share::ALL || !item.keeps_its_warm_up() {
        return in_proportion;
    }
    let least = if race_week::holds(to_race) { HARD_KEEPS_IN_RACE_WEEK } else { HARD_KEEPS };
    hard_share(before, amount.middle(), least, in_proportion)
}

/// A session that had to fit a shorter day keeps at least half of it easy, unless it was harder before or has room for its
/// warm-up and cool-down.
fn at_most_half(session: &mut Session, before: &Session) {
    let (Some(amount), Some(hard)) = (session.amount, session.hard) else { return };
    let usual_part = before.hard_middle().as_f64() / before.running_middle().as_f64().max(0.001);
    let half = amount.middle().times(Share(usual_part.max(0.5)));
    let most = half.max(Around::of(before).room_in(amount.middle()));
    if hard.middle() > most {
        let step = amounts::hard_step(hard.unit());
        let most = Milli((most.0 / step * step).max(step)).min(amount.high()).min(hard.high());
        session.hard = Some(Amount::between(most.min(amount.low()), most, hard.unit()));
    }
}

/// Whole repetitions may leave more or less of the hard part than was meant: what is left is told.
fn tell_what_is_left(item: &mut Item, before: &Session) {
    let left = item.session.hard_middle().as_f64() / before.hard_middle().as_f64().max(0.001);
    for reason in &mut item.why {
        if matches!(reason, Reason::KeySession(share) if (share.0 - left).abs() > FAR_OF_HARD) {
            *reason = Reason::KeySession(Share(left));
        }
    }
}

/// Whether the size of the session is still to be explained: key session and shake-out say it all.
fn size_wants_a_reason(item: &Item) -> bool {
    item.role.plays_no_part()
}

/// Whether the warm-up and the cool-down that the coach wrote are as usual around a shorter hard part.
fn warm_up_stays(item: &Item, before: &Session) -> bool {
    let hard = item.session.hard_middle();
    item.keeps_its_warm_up()
        && before.warm_up_and_cool_down() > Milli::ZERO
        && hard < before.hard_middle()
        && Around::of(before).with(hard) <= item.session.running_middle()
}

fn size_reasons(facts: &Facts<'_>, entry: &Entry, amount: Amount, to_race: u16, warm_up_stays: bool) -> Vec<Reason> {
    let mut why = what_made_it_so_long(facts, entry, amount, to_race, warm_up_stays);
    // Where something else decided, a share that is far from what stands here would only puzzle.
    let part = amount.middle().as_f64() / entry.usual.middle().as_f64().max(0.001);
    let is_far = |reason: &Reason| matches!(reason, Reason::Ebb(share) if (share.0 - part).abs() > FAR);
    let explains_itself = |reason: &Reason| !matches!(reason, Reason::Ebb(_) | Reason::LeastWorth(_));
    if why.iter().any(explains_itself) {
        why.retain(|reason| !is_far(reason));
    }
    if why.iter().any(|reason| !matches!(reason, Reason::Ebb(_))) {
        return why;
    }
    // Alone it is the step that a cut takes, or else what it comes to.
    let step = amounts::least_cut(amount.unit());
    let is_one_step = entry.usual.middle() - amount.middle() <= step;
    for reason in why.iter_mut().filter(|reason| is_far(reason)) {
        *reason = match (entry.counted_as_easy, &*reason) {
            (Some(near), _) => near,
            (None, Reason::Ebb(share)) if is_one_step && share.0 > part => {
                Reason::SmallestCut(Amount::exact(step, amount.unit()))
            }
            (None, _) => Reason::Ebb(Share(part)),
        };
    }
    why
}

fn what_made_it_so_long(
    facts: &Facts<'_>,
    entry: &Entry,
    amount: Amount,
    to_race: u16,
    warm_up_stays: bool,
) -> Vec<Reason> {
    let share = match facts.share_reason(to_race) {
        // The curve takes nothing yet: what is missing here is run in the race.
        Reason::Ebb(whole) if whole >= Share::ALL => facts.path.race_in_week(facts.request.race.date, to_race),
        reason => reason,
    };
    let is_capped = entry.wish > entry.upper;
    let mut why = vec![if is_capped { entry.upper_why.unwrap_or(share) } else { share }];
    // By more than rounding takes away.
    let step = amounts::least_cut(amount.unit()).0;
    let gave_up = 2 * (entry.reference + entry.given - amount.middle()).0 > step;
    match entry.makes_room.filter(|_| gave_up) {
        // What the coach did comes first; a curve that takes next to nothing yet is no reason beside it.
        Some(makes_room @ Reason::AroundLonger(_)) => {
            why.retain(|reason| !matches!(reason, Reason::Ebb(whole) if whole.percent() >= 100));
            why.insert(0, makes_room);
        }
        Some(makes_room) => why.push(makes_room),
        None if is_capped => return why,
        None => {}
    }
    why.extend(other_size_reason(facts, entry, amount, warm_up_stays));
    why
}

/// What else than the curve made the session as long as it is.
fn other_size_reason(facts: &Facts<'_>, entry: &Entry, amount: Amount, warm_up_stays: bool) -> Option<Reason> {
    if warm_up_stays {
        return Some(Reason::WarmUpStays);
    }
    // The lower bound of such a session is no run that is barely worth the shoes, nor does it take up anything.
    if entry.keeps_its_warm_up() {
        return None;
    }
    let unit = amount.unit();
    let least = facts.mileage.least(unit);
    // What a session keeps beside a longer day is another bound.
    let lower = entry.lower.min(least);
    if entry.wish < lower && amount.middle() <= lower.max(amounts::round_up(lower, unit)) {
        // What is usually hardly more than that may be cut to less, where nothing between can be written.
        return (amount.middle() >= least).then_some(Reason::LeastWorth(Amount::exact(least, unit)));
    }
    // By more than rounding gives.
    let more = amount.middle() - entry.wish;
    (entry.took > Milli::ZERO && 2 * more.0 >= amounts::least_cut(unit).0).then_some(Reason::TookUp)
}
