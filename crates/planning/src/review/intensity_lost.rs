//! Hard running disappears.

use super::look::{Look, is_hard};
use super::{Figure, Finding, Level, RuleId};
use crate::race::Event;
use crate::units::Share;

/// In a full week at least this part of the usual hard running stays.
///
/// # Source
///
/// Common practice, no published source. That intensity is kept is published: Bosquet and others
/// 2007, doi 10.1249/mss.0b013e31806010e0; Mujika and Padilla 2003, PubMed 12840640.
const LEAST: Share = Share(0.70);

/// Fires (note) when a full week before race week holds less than 70 % of the usual hard running, and
/// (caution) when the base week has hard running and D6 to D3 hold none. Beyond the marathon that is
/// as the rules say.
pub(super) fn judge(look: &Look<'_>) -> Vec<Finding> {
    if !look.usually_hard() {
        return Vec::new();
    }
    let mut found: Vec<Finding> = look
        .weeks
        .iter()
        .filter(|week| week.before > 0 && week.hard_share < LEAST)
        .map(|week| {
            Finding::new(RuleId::IntensityLost, Level::Note, Figure::Share(week.hard_share), Figure::Share(LEAST))
                .on(week.from)
        })
        .collect();
    let key = look.block.days.iter().any(|day| (3..=6).contains(&day.to_race) && is_hard(day));
    let runs = look.block.days.iter().any(|day| (3..=6).contains(&day.to_race) && !day.usual_running().is_empty());
    if !key && runs && look.block.event != Event::Longer {
        found.push(Finding::new(RuleId::IntensityLost, Level::Caution, Figure::Count(0), Figure::Count(1)));
    }
    found
}
