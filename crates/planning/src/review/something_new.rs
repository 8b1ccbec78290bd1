//! Something that the athlete does not usually do.

use std::collections::BTreeSet;

use super::look::Look;
use super::{Figure, Finding, Level, RuleId};
use crate::block::Day;
use crate::session::Kind;
use crate::week::WEEKDAYS;

/// Fires for each kind of session and each second run that the base week does not know. Easy running
/// and strides are known to everybody.
///
/// # Source
///
/// Common practice, no published source: nothing new before a race.
pub(super) fn judge(look: &Look<'_>) -> Vec<Finding> {
    let known = known_kinds(look);
    let new_kinds = look.block_days().flat_map(|day| {
        day.sessions
            .iter()
            .map(|planned| planned.session.kind)
            .filter(|kind| !known.contains(kind))
            .map(|kind| finding(day).about(kind.code()))
            .collect::<Vec<_>>()
    });
    let doubles = look
        .block_days()
        .filter(|day| planned_runs(day) > 1 && planned_runs(day) > usual_runs(day))
        .map(|day| finding(day).about(DOUBLE));
    new_kinds.chain(doubles).collect()
}

/// What [`Finding::detail`] says for a second run; otherwise it is the code of a kind.
pub const DOUBLE: &str = "double";

fn finding(day: &Day) -> Finding {
    Finding::new(RuleId::SomethingNew, Level::Caution, Figure::None, Figure::None).on(day.date)
}

fn known_kinds(look: &Look<'_>) -> BTreeSet<Kind> {
    let mut known = BTreeSet::from([Kind::Easy, Kind::Recovery, Kind::Strides]);
    for slot in WEEKDAYS.into_iter().flat_map(|weekday| look.subject.week.day(weekday)) {
        for session in slot.options() {
            known.insert(session.kind);
            // The same efforts on the flat, and the hard part of a long run on its own.
            match session.kind {
                Kind::Hills => known.insert(Kind::Intervals),
                Kind::Long if session.is_hard() => known.insert(Kind::RacePace),
                _ => false,
            };
        }
    }
    known
}

fn planned_runs(day: &Day) -> usize {
    day.sessions.iter().filter(|planned| planned.session.running().is_some()).count()
}

fn usual_runs(day: &Day) -> usize {
    day.usual.iter().filter(|session| session.running().is_some()).count()
}
