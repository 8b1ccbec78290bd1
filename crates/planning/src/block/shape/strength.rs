//! Strength and cross-training ease with the running.

use super::hard;
use crate::block::Reason;
use crate::block::amounts::{self, SaysHard};
use crate::block::draft::{DraftDay, Item};
use crate::block::facts::Facts;
use crate::block::race_week;
use crate::notation::{has_word, is_without_load};
use crate::session::Kind;
use crate::units::{Amount, Milli, Share, Unit};

/// Strength is as usual until this day.
///
/// # Source
///
/// Common practice, no published source: heavy legs end 14 to 10 days before, nothing in the last three.
const AS_USUAL_UNTIL: u16 = 10;

/// From this day on no strength at all.
///
/// # Source
///
/// Common practice, no published source: nothing in the last three days, see [`AS_USUAL_UNTIL`].
const NONE_FROM: u16 = 3;

/// The longest cross-training on D2 and D1, in minutes: as for running.
///
/// # Source
///
/// Common practice, no published source.
const CROSS_TRAINING_LAST_DAYS: Milli = Milli::whole(40);

/// Cross-training of less is not worth getting wet or changed for: it is as long as this, or as usual where that is less.
///
/// # Source
///
/// Common practice, no published source.
const CROSS_TRAINING_LEAST: Milli = Milli::whole(20);

/// Strength that is done at all is done for so many minutes, or as usual where that is less.
///
/// # Source
///
/// Common practice, no published source.
const LEAST_MINUTES: Milli = Milli::whole(10);

/// Whether words beside rest leave strength to the athlete.
fn names_strength(words: &str) -> bool {
    has_word(words, &["gym", "strength", "lift", "lifting", "weights", "squats", "legs"])
}

/// Lightens strength and brings cross-training down with the curve.
pub(super) fn lighten(facts: &Facts<'_>, days: &mut [DraftDay]) {
    let length = u16::from(facts.curve.length);
    take_loaded_legs_off(facts, days);
    for day in
        days.iter_mut().filter(|day| (1..=length.max(AS_USUAL_UNTIL - 1)).contains(&day.to_race) && !day.is_settled())
    {
        let to_race = day.to_race;
        if to_race <= NONE_FROM {
            day.drop_items(Reason::StrengthOff, |item| item.session.kind == Kind::Strength);
            // "off (gym if time)": nobody should find time for it now.
            day.items.retain(|item| !item.session.rest_words().is_some_and(names_strength));
        }
        let share = facts.share(to_race);
        for item in &mut day.items {
            match (item.session.kind, item.session.amount) {
                (Kind::Strength, amount) if to_race < AS_USUAL_UNTIL => {
                    let before = item.session.clone();
                    item.session.loaded = false;
                    if race_week::holds(to_race) && !is_without_load(&item.session.note) {
                        // Words about legs or weights say nothing true of work with body weight only.
                        item.session.note.clear();
                    }
                    item.session.amount = amount.map(|amount| lighter(amount, share));
                    if race_week::holds(to_race) {
                        item.why.push(Reason::StrengthBodyWeight);
                    } else if amount.is_none() || item.session != before {
                        item.why.push(Reason::StrengthLight);
                    }
                }
                (Kind::CrossTraining, _) if to_race <= length.max(race_week::BEGINS) => {
                    ease_cross_training(item, to_race, share);
                }
                _ => continue,
            }
            if !item.session.problems().is_empty() {
                // What is inside no longer fits into the shorter session.
                item.session.sets.clear();
            }
        }
    }
}

/// Cross-training comes down with the curve, its hard part with it; in race week the key session is the
/// only hard work.
fn ease_cross_training(item: &mut Item, to_race: u16, share: Share) {
    let before = item.session.clone();
    if race_week::holds(to_race) && before.is_hard_work() {
        hard::ease_cross_training(item, Reason::HardEased(Kind::CrossTraining));
    }
    if let Some(amount) = before.amount {
        let mut planned = shorter(amount, share);
        if to_race <= 2 && planned.unit() == Unit::Min && planned.high() > CROSS_TRAINING_LAST_DAYS {
            planned = Amount::exact(CROSS_TRAINING_LAST_DAYS, Unit::Min);
        }
        item.session.amount = Some(planned);
    }
    if !race_week::holds(to_race) {
        amounts::shorten_hard(&mut item.session, &before, share, SaysHard::AsUsual);
    }
    if item.session != before && item.why.is_empty() {
        item.why.push(Reason::Ebb(share));
    }
}

/// Loaded legs never stand next to a hard or a long day inside the block: the strength stays, the
/// load goes.
fn take_loaded_legs_off(facts: &Facts<'_>, days: &mut [DraftDay]) {
    let length = u16::from(facts.curve.length);
    let heavy: Vec<bool> =
        days.iter().map(|day| day.items.iter().any(|item| item.long || item.session.is_hard_work())).collect();
    for index in 0..days.len() {
        let beside = (index > 0 && heavy[index - 1]) || heavy.get(index + 1).copied().unwrap_or(false);
        let day = &mut days[index];
        if !beside || day.is_settled() || !(AS_USUAL_UNTIL..=length).contains(&day.to_race) {
            continue;
        }
        for item in day.items.iter_mut().filter(|item| item.session.loaded) {
            item.session.loaded = false;
            item.why.push(Reason::LoadedLegsOff);
        }
    }
}

/// Strength that is lighter is shorter too, unless it is as short as any.
fn lighter(amount: Amount, share: Share) -> Amount {
    if amount.middle() <= LEAST_MINUTES {
        return amount;
    }
    amounts::at_most(amount, amount.middle().times(share).max(LEAST_MINUTES))
}

/// The amount at a share, as a coach would write it.
fn shorter(amount: Amount, share: Share) -> Amount {
    let least = if amount.unit() == Unit::Min { CROSS_TRAINING_LEAST.min(amount.middle()) } else { Milli::ZERO };
    let wanted = amount.middle().times(share).max(least);
    amounts::nearest(amount, wanted)
}
