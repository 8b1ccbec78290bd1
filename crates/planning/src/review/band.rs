//! The bands in which a week's running should lie before a race.

use super::look::Look;
use super::{Figure, Finding, Level, RuleId, Subject};
use crate::block::{WeekSummary, race_week};
use crate::curve::{Band, LOW_MILEAGE_KM, RACE_WEEKDAY_PART, band};
use crate::race::Event;
use crate::units::{Share, is_below_km};

/// How far outside a band a week may be before a rule speaks.
pub(super) const TOLERANCE: f64 = 0.05;

/// A long slot inside race week raises the upper end of its band.
const LONG_SLOT_IN_RACE_WEEK: f64 = 0.12;

/// A week's share and the band it is held against.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Judged {
    pub(super) share: Share,
    pub(super) band: Band,
    /// The first day of the week.
    pub(super) from: chrono::NaiveDate,
}

impl Judged {
    /// Whether it lies above its band, by more than a rule lets pass.
    pub(super) fn is_too_full(&self) -> bool {
        self.share.0 > self.band.high + TOLERANCE
    }

    /// Whether it lies below.
    pub(super) fn is_too_empty(&self) -> bool {
        self.share.0 < self.band.low - TOLERANCE
    }

    /// A finding about this week, held against an end of its band.
    pub(super) fn finding(&self, rule: RuleId, limit: f64) -> Finding {
        Finding::new(rule, Level::Caution, Figure::Share(self.share), Figure::Share(Share(limit))).on(self.from)
    }
}

/// Race week and the two weeks before it as far as the block reaches, each with its band.
///
/// Nothing for a base week that is too thin to taper from, and nothing for low mileage before a
/// marathon or longer, where other rules speak: runs that are worth the shoes leave little to cut.
pub(super) fn judged<'a>(look: &'a Look<'_>) -> &'a [Judged] {
    look.judged.get_or_init(|| judge(look))
}

fn judge(look: &Look<'_>) -> Vec<Judged> {
    let km = look.subject.week.middle_km(look.subject.athlete.easy_pace);
    let little_for_far = look.block.event > Event::Half && is_below_km(km, LOW_MILEAGE_KM);
    if little_for_far || super::base_too_thin::is_thin(look) {
        return Vec::new();
    }
    let mut weeks = in_event_bands(look);
    if weeks.iter().any(|week| week.is_too_full() || week.is_too_empty()) {
        widen_to_the_rules(look, &mut weeks);
    }
    weeks
}

/// What fixed days leave of a week, beside what its curve would leave.
pub(super) struct Fixed {
    pub(super) share: Share,
    pub(super) curve: Share,
    from: chrono::NaiveDate,
}

impl Fixed {
    /// A note about this week.
    pub(super) fn finding(&self, rule: RuleId) -> Finding {
        Finding::new(rule, Level::Note, Figure::Share(self.share), Figure::Share(self.curve)).on(self.from)
    }
}

/// The weeks with fixed days.
pub(super) fn fixed(look: &Look<'_>) -> Vec<Fixed> {
    let Some(free) = look.without_fixed_days() else { return Vec::new() };
    let weeks = look.weeks.iter().rev().zip(free.weeks().into_iter().rev());
    let holds_fixed = |from: chrono::NaiveDate, to: chrono::NaiveDate| {
        look.block.days.iter().any(|day| day.pinned && (from..=to).contains(&day.date))
    };
    weeks
        .filter(|(week, _)| holds_fixed(week.from, week.to))
        .map(|(week, free)| Fixed { share: week.share, curve: free.share, from: week.from })
        .collect()
}

fn in_event_bands(look: &Look<'_>) -> Vec<Judged> {
    (0..=2)
        .filter_map(|before| {
            let band = band(look.block.event, before)?;
            let week = look.week(before)?;
            Some(if before == 0 {
                race_week(look, week, band)
            } else {
                Judged { share: week.share, band, from: week.from }
            })
        })
        .collect()
}

/// The bands were drawn from usual weeks. Where the planner's own rules, left alone, end outside them
/// for this athlete (raised floors, a race on a rest day, a long run that is half the week), the band
/// reaches as far as they do.
fn widen_to_the_rules(look: &Look<'_>, weeks: &mut [Judged]) {
    let Some(block) = look.by_the_rules() else { return };
    let subject = Subject { block, ..*look.subject };
    for (week, own) in weeks.iter_mut().zip(in_event_bands(&Look::new(&subject))) {
        week.band.low = week.band.low.min(own.share.0);
        week.band.high = week.band.high.max(own.share.0);
    }
}

/// Race week, as if the race's weekday usually held a quarter to two fifths of the week: that
/// running is not there to be cut, and where it is less or more the plain share would mislead.
fn race_week(look: &Look<'_>, week: &WeekSummary, band: Band) -> Judged {
    let long_inside = look
        .block
        .days
        .iter()
        .filter(|day| race_week::leads_up(day.to_race))
        .any(|day| day.usual.iter().any(|session| look.is_long(session)));
    let (least, most) = RACE_WEEKDAY_PART;
    let part = race_weekday_part(look).clamp(least, most);
    let high = band.high + if long_inside { LONG_SLOT_IN_RACE_WEEK } else { 0.0 };
    let share = Share(week.same_days_share.0 * (1.0 - part));
    Judged { share, band: Band { high, ..band }, from: week.from }
}

/// The part of race week's usual running that stands on the race's weekday.
fn race_weekday_part(look: &Look<'_>) -> f64 {
    let whole = look.week(0).map_or(0.0, |week| week.usual.middle_km(look.pace));
    let day = look.block.day(look.block.race_day).map_or(0.0, |day| day.usual_running().middle_km(look.pace));
    if whole > 0.0 { day / whole } else { 0.0 }
}
