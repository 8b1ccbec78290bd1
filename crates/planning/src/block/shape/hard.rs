//! Hard sessions other than the key session.

use super::key::Key;
use crate::block::amounts;
use crate::block::draft::{DraftDay, HardRule, Item, Sizing};
use crate::block::facts::Facts;
use crate::block::{Reason, Role, race_week};
use crate::notation::{around_alone, rests_alone};
use crate::plain::joined;
use crate::session::{Kind, Session};
use crate::units::{Share, is_below_km};

/// From this day on hills are run as the same short efforts on the flat.
///
/// # Source
///
/// Common practice, no published source.
const FLAT_FROM: u16 = 10;

/// Hard sessions that stay in the week before race week, half marathon and longer.
///
/// # Source
///
/// Common practice, no published source.
const MOST_HARD_BEFORE_RACE_WEEK: usize = 2;

/// Up to 10 miles a hard session on D6 stays at this share, if the key session comes later.
///
/// # Source
///
/// Common practice, no published source.
const EARLY_HARD: f64 = 0.75;

/// Hills from D10 on: the same short efforts on the flat.
pub(super) fn move_hills_to_the_flat(facts: &Facts<'_>, days: &mut [DraftDay]) {
    let from = FLAT_FROM.min(u16::from(facts.curve.length));
    for day in days.iter_mut().filter(|day| (1..=from).contains(&day.to_race) && !day.is_settled()) {
        for item in day.items.iter_mut().filter(|item| item.session.kind == Kind::Hills) {
            if item.session.holds_strides() && !item.session.is_hard() {
                // Short sprints uphill are strides on the flat.
                flatten(&mut item.session, Kind::Easy);
            } else {
                // The hard part of hills is smaller than that of flat intervals: keep what it was.
                amounts::keep_hard_part(&mut item.session);
                flatten(&mut item.session, Kind::Intervals);
            }
            item.written_for = Some(item.session.clone());
            item.why.push(Reason::HillsFlat);
        }
    }
}

/// Words that say nothing true of the flat.
const OF_A_HILL: [&str; 8] = ["hill", "hills", "uphill", "uphills", "downhill", "up", "down", "incline"];

/// Makes a session on a hill one on the flat. What its note says of the hill goes; the warm-up, the cool-down and the rest
/// between the efforts stay.
pub(super) fn flatten(session: &mut Session, kind: Kind) {
    session.kind = kind;
    let rests = without_hill(&rests_alone(&session.note));
    session.note = joined([around_alone(&session.note), rests], ", ");
    for sets in &mut session.sets {
        for words in [&mut sets.pace, &mut sets.recovery] {
            *words = without_hill(words);
        }
    }
}

/// Words without those that say nothing true of the flat.
fn without_hill(words: &str) -> String {
    let bare = |word: &str| word.trim_end_matches([',', ';']).to_owned();
    let is_of_a_hill = |word: &&str| OF_A_HILL.iter().any(|hill| bare(word).eq_ignore_ascii_case(hill));
    words.split(' ').filter(|word| !is_of_a_hill(word)).collect::<Vec<_>>().join(" ")
}

/// The last day on which a touch of quick running stays where the base week holds no more than touches: nothing is moved
/// for it, and nothing gives way to it.
///
/// # Source
///
/// Common practice, no published source.
const LAST_TOUCH: u16 = 3;

/// A touch of quick running stays on its day, and comes down with it.
fn keep_touch(facts: &Facts<'_>, item: &mut Item, to_race: u16) {
    if facts.is_as_long_as_a_long_run(&item.session) {
        super::long_run::cap_in_race_week(facts, item, to_race);
        // It is bound as a long run that becomes easy, but it is none and does not.
        for (_, why) in item.caps.iter_mut().filter(|(_, why)| matches!(why, Reason::LongSlotEased(_))) {
            *why = facts.share_reason(to_race);
        }
    }
    item.sizing = Sizing::Ebb;
    item.hard = HardRule::Follow(Share::ALL);
}

/// Race week: hard sessions that are not the key session become easy, with strides.
pub(super) fn ease_in_race_week(facts: &Facts<'_>, days: &mut [DraftDay], key: Option<Key>) {
    let late_key = key.is_some_and(|key| key.to_race <= 4);
    let mut early_hard_is_free = facts.event.up_to_10_miles() && late_key;
    for day in days.iter_mut().filter(|day| day.leads_up() && !day.is_settled()) {
        let to_race = day.to_race;
        for item in &mut day.items {
            let is_trial = item.session.kind == Kind::TimeTrial;
            if matches!(item.role, Role::Key | Role::OtherRace) || !(is_trial || item.session.is_hard()) {
                continue;
            }
            let spared_after = facts.spared_after(day.date);
            let is_touch = facts.touches_only && !is_trial && spared_after.is_none();
            if is_touch && to_race >= LAST_TOUCH && !item.long {
                keep_touch(facts, item, to_race);
                continue;
            }
            if to_race == 6 && early_hard_is_free && !is_trial && !item.long && spared_after.is_none() {
                early_hard_is_free = false;
                if let Some(amount) = item.session.amount {
                    item.caps.push((amount.middle().times(Share(EARLY_HARD)), Reason::Ebb(Share(EARLY_HARD))));
                }
                item.sizing = Sizing::Ebb;
                item.hard = HardRule::Follow(Share(EARLY_HARD));
                continue;
            }
            let reason = match spared_after {
                Some(race) => Reason::AfterOtherRace(race),
                None if is_trial => Reason::TimeTrialOff,
                None if is_touch => Reason::TouchOff,
                None => Reason::HardEased(usual_kind(item)),
            };
            ease(facts, item, to_race, reason);
        }
    }
}

/// Before race week: time trials are run whole or not at all, and half marathon up at most two hard
/// sessions stay from D13 to D7.
pub(super) fn ease_before_race_week(facts: &Facts<'_>, days: &mut [DraftDay]) {
    let whole_until = if facts.event.up_to_10_miles() { 7 } else { 10 };
    let length = u16::from(facts.curve.length);
    for day in days.iter_mut().filter(|day| (7..=length).contains(&day.to_race) && !day.is_settled()) {
        let to_race = day.to_race;
        let is_trial = |item: &&mut Item| item.session.kind == Kind::TimeTrial && item.role != Role::OtherRace;
        for item in day.items.iter_mut().filter(is_trial) {
            if to_race < whole_until {
                ease(facts, item, to_race, Reason::TimeTrialOff);
            } else {
                item.sizing = Sizing::Fixed;
            }
        }
    }
    if facts.event.up_to_10_miles() {
        return;
    }
    while count_hard(days, length) > MOST_HARD_BEFORE_RACE_WEEK {
        let Some((day, place)) = one_too_many(days, length) else { return };
        let to_race = days[day].to_race;
        let item = &mut days[day].items[place];
        let reason = Reason::ThirdHardEased(usual_kind(item));
        ease(facts, item, to_race, reason);
    }
}

/// What a hard session usually is: hills that would have been run on the flat are hills.
fn usual_kind(item: &Item) -> Kind {
    item.usual.as_ref().filter(|usual| usual.is_hard_work()).map_or(item.session.kind, |usual| usual.kind)
}

fn in_the_week_before(day: &DraftDay, length: u16) -> bool {
    (7..=13).contains(&day.to_race) && day.to_race <= length && !day.is_settled()
}

/// A touch of quick running is no hard session among them.
fn counts_as_hard(session: &Session) -> bool {
    session.is_hard_work() && !session.is_hard_by_a_touch()
}

fn count_hard(days: &[DraftDay], length: u16) -> usize {
    days.iter()
        .filter(|day| in_the_week_before(day, length))
        .flat_map(|day| &day.items)
        .filter(|item| counts_as_hard(&item.session))
        .count()
}

/// The hard session that gives way: a time trial first, then the hard part of cross-training, for hard
/// running is what the race asks for; else the one nearest the race.
fn one_too_many(days: &[DraftDay], length: u16) -> Option<(usize, usize)> {
    let gives_way = |kind: Kind| match kind {
        Kind::TimeTrial => 2,
        Kind::CrossTraining => 1,
        _ => 0,
    };
    days.iter()
        .enumerate()
        .filter(|(_, day)| in_the_week_before(day, length))
        .flat_map(|(index, day)| day.items.iter().enumerate().map(move |(place, item)| (index, place, item)))
        .filter(|(_, _, item)| counts_as_hard(&item.session) && item.role != Role::OtherRace)
        .max_by_key(|(index, place, item)| (gives_way(item.session.kind), *index, *place))
        .map(|(index, place, _)| (index, place))
}

/// Makes a hard session easy: strides keep the legs awake, none on the day before the race. A long
/// run stays a long run.
pub(super) fn ease(facts: &Facts<'_>, item: &mut Item, to_race: u16, reason: Reason) {
    if item.session.kind == Kind::CrossTraining {
        ease_cross_training(item, reason);
        return;
    }
    // As easy running it takes the place of a long run: the same bound.
    if !item.long && facts.is_as_long_as_a_long_run(&item.session) {
        if race_week::holds(to_race) {
            super::long_run::cap_in_race_week(facts, item, to_race);
        } else {
            super::long_run::cap_by_the_ladder(facts, item, to_race);
        }
    }
    item.why.retain(|earlier| *earlier != Reason::HillsFlat);
    let is_third = matches!(reason, Reason::ThirdHardEased(_));
    if item.long && to_race >= 7 {
        item.why.push(reason);
        item.ease(Kind::Long);
        return;
    }
    if is_third && item.session.kind != Kind::TimeTrial && takes_the_place_of_the_long_run(facts, item) {
        item.why.push(Reason::ThirdHardEased(Kind::Long));
        item.ease(Kind::Long);
        item.sizing = Sizing::Ebb;
        return;
    }
    item.why.push(reason);
    item.ease(Kind::Easy);
    item.sizing = Sizing::Ebb;
    if to_race > 1 && !item.long {
        item.role = Role::EasyWithStrides;
        item.why.push(Reason::Strides);
    }
}

/// Whether a hard run is the long run of its week: as long as one, and the week has no longer run.
fn takes_the_place_of_the_long_run(facts: &Facts<'_>, item: &Item) -> bool {
    facts.is_as_long_as_a_long_run(&item.session) && !is_below_km(facts.km(&item.session), facts.lengths.longest)
}

/// Takes the hard part out of cross-training.
pub(super) fn ease_cross_training(item: &mut Item, reason: Reason) {
    item.ease(Kind::CrossTraining);
    item.why.push(reason);
}
