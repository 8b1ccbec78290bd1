//! Findings that something on the way explains: illness and the like, another race, the recovery from
//! the race before. The days say so themselves, in their reasons.

use super::look::Look;
use super::made_late;
use super::{Figure, Finding, RuleId};
use crate::block::{Day, Reason};
use crate::curve::Adjustment;

/// Whether nobody needs to hear of a finding, because its cause is known and wanted.
pub(super) fn is_excused(look: &Look<'_>, finding: &Finding) -> bool {
    let days = days_about(look, finding);
    if is_of_days(finding.rule) && was_over(look, finding, days) {
        return true;
    }
    match finding.rule {
        RuleId::CutTooLarge | RuleId::FrequencyLost | RuleId::RestClumped | RuleId::NoRestPlace => {
            days.iter().any(is_bent_by_life) || is_held_down(look, days)
        }
        RuleId::WeekRises => {
            let before = before(look, days);
            is_held_down(look, before)
                || days.iter().any(Day::holds_a_race)
                || (is_of_weeks(finding) && lost_to_life(before))
        }
        // That it is short says the rule which knows why.
        RuleId::LengthUnusual => made_late::is_late(look) && look.block.adjustments.contains(&Adjustment::DaysLeft),
        RuleId::IntensityAdded | RuleId::SomethingNew | RuleId::CutTooSmall => days.iter().any(Day::holds_a_race),
        _ => false,
    }
}

/// Whether a rule speaks of what stands on days, which somebody could plan otherwise while they are to come.
const fn is_of_days(rule: RuleId) -> bool {
    matches!(
        rule,
        RuleId::CutTooSmall
            | RuleId::CutTooLarge
            | RuleId::LongRunBig
            | RuleId::LongRunLate
            | RuleId::HardBackToBack
            | RuleId::HardTwice
            | RuleId::IntensityLost
            | RuleId::IntensityAdded
            | RuleId::FrequencyLost
            | RuleId::RestClumped
            | RuleId::NoRestPlace
            | RuleId::StrengthLate
    )
}

/// Whether the week was over when the block was made: it cannot be eased any more, and that the block was made late
/// is said.
fn was_over(look: &Look<'_>, finding: &Finding, days: &[Day]) -> bool {
    finding.date.is_some() && look.subject.made.is_some_and(|made| days.iter().all(|day| day.to_race > made))
}

/// The week that a finding is about, or all days where it is about the block.
fn days_about<'a>(look: &Look<'a>, finding: &Finding) -> &'a [Day] {
    let week = finding.date.and_then(|date| {
        let index = look.block.days.iter().position(|day| day.date == date)?;
        look.block.days.chunks(7).nth(index / 7)
    });
    week.unwrap_or(&look.block.days)
}

/// Those days and the week before them.
fn before<'a>(look: &Look<'a>, days: &'a [Day]) -> &'a [Day] {
    let Some(first) = days.first() else { return days };
    let index = look.block.days.iter().position(|day| day.date == first.date).unwrap_or(0);
    &look.block.days[index.saturating_sub(7)..index + days.len()]
}

/// Whether a finding compares shares of weeks.
const fn is_of_weeks(finding: &Finding) -> bool {
    matches!(finding.figure, Figure::Share(_))
}

/// Whether the first of two weeks lost running to illness and the like: then the second does not rise.
fn lost_to_life(weeks: &[Day]) -> bool {
    let lost =
        |day: &Day| day.dropped.iter().flat_map(|dropped| &dropped.why).any(|why| matches!(why, Reason::Life(_)));
    weeks.iter().take(7).any(lost)
}

pub(super) fn is_bent_by_life(day: &Day) -> bool {
    let planned = day.sessions.iter().flat_map(|planned| &planned.why);
    let dropped = day.dropped.iter().flat_map(|dropped| &dropped.why);
    planned.chain(dropped).any(|reason| matches!(reason, Reason::Life(_) | Reason::Adjusted | Reason::MovedTo(_)))
}

/// Whether something besides the curve holds the running down.
fn is_held_down(look: &Look<'_>, days: &[Day]) -> bool {
    days.iter().any(|day| look.block.ceilings.iter().any(|ceiling| ceiling.covers(day.date)))
}
