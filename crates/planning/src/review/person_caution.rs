//! What the coach should think of because of the person.

use super::look::Look;
use super::{Figure, Finding, Level, RuleId};
use crate::race::Event;

/// Fires (note) for an athlete under 18, (stop) for one before a marathon or longer, and (caution) for
/// each caution that the coach noted.
///
/// # Source
///
/// No marathon under 18: International Marathon Medical Directors Association 2001 (secondary copy);
/// national rules differ, so the words send the coach to the current rule book.
pub(super) fn judge(look: &Look<'_>) -> Vec<Finding> {
    let athlete = look.subject.athlete;
    let mut found = Vec::new();
    if let Some(age) = athlete.age_in(look.block.race_day).filter(|age| *age < 18) {
        let level = if look.block.event >= Event::Marathon { Level::Stop } else { Level::Note };
        let years = Figure::Count(u16::try_from(age).unwrap_or(0));
        found.push(Finding::new(RuleId::PersonCaution, level, years, Figure::Count(18)));
    }
    found.extend(athlete.cautions.iter().filter(|caution| !caution.trim().is_empty()).map(|caution| {
        Finding::new(RuleId::PersonCaution, Level::Caution, Figure::None, Figure::None).about(caution.trim())
    }));
    found
}
