//! A sentence shown once after a redirect ("Saved."), carried by a short-lived cookie.
//!
//! The cookie holds a code and at most two numbers, never free text: what a page says is decided here
//! and in the template, so nobody can put words on a page by setting a cookie.

use axum::extract::{FromRequestParts, Request};
use axum::http::header::{COOKIE, LOCATION, SET_COOKIE};
use axum::http::request::Parts;
use axum::http::{HeaderMap, HeaderValue, StatusCode};
use axum::middleware::Next;
use axum::response::{IntoResponse, Response};
use chrono::{DateTime, Utc};
use store::{AthleteId, BlockId, EventId, RaceId, StepId, StepKind, TemplateId};

const NAME: &str = "ebbline_notice";

/// What was just done.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[expect(missing_docs, reason = "the names say it")]
pub enum Notice {
    AthleteAdded,
    /// The first of all, whose units are the coach's now.
    FirstAthleteAdded,
    AthleteSaved,
    AthleteRemoved(AthleteId),
    AthleteRestored,
    /// The days that are kept otherwise than they were typed, a bit each.
    WeekSaved(u32),
    RaceAdded,
    /// A race was added on the way from an athlete, who is entered in it.
    RaceAddedFor(AthleteId),
    /// The same, and the block is made with it.
    RaceAddedAndBlockMade,
    RaceSaved,
    RaceRemoved(RaceId),
    RaceRestored,
    CourseSaved,
    CourseOf(u32),
    CourseOfAll(u32),
    CourseWithGaps(u32),
    CourseRemoved,
    MorningSaved,
    Entered(u32),
    ListBroughtIn(StepId, u32),
    TemplateApplied(StepId, u32),
    TemplateAdded,
    TemplateSaved,
    TemplateRemoved(TemplateId),
    EnteredAtOnce(StepId, u32),
    Withdrawn,
    BlocksMadeAtOnce(StepId, u32),
    HandedOverAtOnce(StepId, u32),
    StepUndone(StepKind, u32),
    BlockRemoved(BlockId),
    BlockBack,
    BlockMade,
    BlockSaved,
    DayChanged,
    /// What was set is fixed, and other days of its week are not as before.
    OthersFollowed,
    SessionMoved,
    DaysSwapped,
    SessionRemoved,
    SessionAdded,
    DayFixed,
    DayFreed,
    Undone,
    Redone,
    StepNotTaken,
    VariantTaken,
    VariantRemembered,
    VersionRestored(u32),
    GoalsSaved,
    RaceSheetSaved,
    /// What came out of a race was saved.
    ResultSaved,
    HandedOver,
    LinkEnded,
    MessageSent,
    MessageUnsent,
    MessageSaved,
    MessageOurs,
    MessageTakenAgain,
    AnswersSaved,
    SettingsSaved,
    SharingOn,
    SharingOff,
    SharingTaken,
    PassPhraseSet,
    PassPhraseRemoved,
    SignedOut,
    DemoFilled,
    LogSaved,
    EventAdded,
    EventRemoved(EventId),
    Replanned,
    CalledOff(RaceId),
    TakesPlace,
    /// How an athlete goes on, by number, after a race was called off, is settled.
    Settled(RaceId, u32),
    /// The same of everybody of whom it was open, by the moment of the press.
    SettledForAll(DateTime<Utc>, RaceId),
    /// The same is open again.
    Unsettled,
    /// Nothing was handed over, because it must not go out as it is.
    NotHandedOver,
    BroughtBack,
    BroughtIn(u32),
}

impl Notice {
    /// Whether a day of a block was changed by hand: the days then say what that did.
    pub(crate) const fn is_edit(self) -> bool {
        matches!(
            self,
            Self::DayChanged
                | Self::OthersFollowed
                | Self::SessionMoved
                | Self::DaysSwapped
                | Self::SessionRemoved
                | Self::SessionAdded
                | Self::DayFixed
                | Self::DayFreed
        )
    }

    fn code(self) -> (&'static str, i64) {
        match self {
            Self::AthleteAdded => ("athlete-added", 0),
            Self::FirstAthleteAdded => ("first-athlete-added", 0),
            Self::AthleteSaved => ("athlete-saved", 0),
            Self::AthleteRemoved(id) => ("athlete-removed", id.0),
            Self::AthleteRestored => ("athlete-restored", 0),
            Self::WeekSaved(days) => ("week-saved", i64::from(days)),
            Self::RaceAdded => ("race-added", 0),
            Self::RaceAddedFor(id) => ("race-added-for", id.0),
            Self::RaceAddedAndBlockMade => ("race-added-and-block-made", 0),
            Self::RaceSaved => ("race-saved", 0),
            Self::RaceRemoved(id) => ("race-removed", id.0),
            Self::RaceRestored => ("race-restored", 0),
            Self::CourseSaved => ("course-saved", 0),
            Self::CourseOf(count) => ("course-of", i64::from(count)),
            Self::CourseOfAll(count) => ("course-of-all", i64::from(count)),
            Self::CourseWithGaps(count) => ("course-with-gaps", i64::from(count)),
            Self::CourseRemoved => ("course-removed", 0),
            Self::MorningSaved => ("morning-saved", 0),
            Self::Entered(count) => ("entered", i64::from(count)),
            Self::Withdrawn => ("withdrawn", 0),
            Self::ListBroughtIn(id, _) => ("list-brought-in", id.0),
            Self::TemplateApplied(id, _) => ("template-applied", id.0),
            Self::TemplateAdded => ("template-added", 0),
            Self::TemplateSaved => ("template-saved", 0),
            Self::TemplateRemoved(id) => ("template-removed", id.0),
            Self::EnteredAtOnce(id, _) => ("entered-at-once", id.0),
            Self::BlocksMadeAtOnce(id, _) => ("blocks-made-at-once", id.0),
            Self::HandedOverAtOnce(id, _) => ("handed-over-at-once", id.0),
            Self::StepUndone(kind, count) => (step_undone(kind), i64::from(count)),
            Self::BlockRemoved(id) => ("block-removed", id.0),
            Self::BlockBack => ("block-back", 0),
            Self::BlockMade => ("block-made", 0),
            Self::BlockSaved => ("block-saved", 0),
            Self::DayChanged => ("day-changed", 0),
            Self::OthersFollowed => ("others-followed", 0),
            Self::SessionMoved => ("session-moved", 0),
            Self::DaysSwapped => ("days-swapped", 0),
            Self::SessionRemoved => ("session-removed", 0),
            Self::SessionAdded => ("session-added", 0),
            Self::DayFixed => ("day-fixed", 0),
            Self::DayFreed => ("day-freed", 0),
            Self::Undone => ("undone", 0),
            Self::Redone => ("redone", 0),
            Self::StepNotTaken => ("step-not-taken", 0),
            Self::VariantTaken => ("variant-taken", 0),
            Self::VariantRemembered => ("variant-remembered", 0),
            Self::VersionRestored(number) => ("version-restored", i64::from(number)),
            Self::GoalsSaved => ("goals-saved", 0),
            Self::RaceSheetSaved => ("race-sheet-saved", 0),
            Self::ResultSaved => ("result-saved", 0),
            Self::HandedOver => ("handed-over", 0),
            Self::LinkEnded => ("link-ended", 0),
            Self::MessageSent => ("message-sent", 0),
            Self::MessageUnsent => ("message-unsent", 0),
            Self::MessageSaved => ("message-saved", 0),
            Self::MessageOurs => ("message-ours", 0),
            Self::MessageTakenAgain => ("message-taken-again", 0),
            Self::AnswersSaved => ("answers-saved", 0),
            Self::SettingsSaved => ("settings-saved", 0),
            Self::SharingOn => ("sharing-on", 0),
            Self::SharingOff => ("sharing-off", 0),
            Self::SharingTaken => ("sharing-taken", 0),
            Self::PassPhraseSet => ("pass-phrase-set", 0),
            Self::PassPhraseRemoved => ("pass-phrase-removed", 0),
            Self::SignedOut => ("signed-out", 0),
            Self::DemoFilled => ("demo-filled", 0),
            Self::LogSaved => ("log-saved", 0),
            Self::EventAdded => ("event-added", 0),
            Self::EventRemoved(id) => ("event-removed", id.0),
            Self::Replanned => ("replanned", 0),
            Self::CalledOff(id) => ("called-off", id.0),
            Self::TakesPlace => ("takes-place", 0),
            Self::Settled(id, _) => ("settled", id.0),
            Self::SettledForAll(moment, _) => ("settled-for-all", moment.timestamp_micros()),
            Self::Unsettled => ("unsettled", 0),
            Self::NotHandedOver => ("not-handed-over", 0),
            Self::BroughtBack => ("brought-back", 0),
            Self::BroughtIn(count) => ("brought-in", i64::from(count)),
        }
    }

    /// The second number: how many athletes a step changed, or which one is meant.
    fn at_once(self) -> u32 {
        match self {
            Self::ListBroughtIn(_, count)
            | Self::TemplateApplied(_, count)
            | Self::EnteredAtOnce(_, count)
            | Self::BlocksMadeAtOnce(_, count)
            | Self::HandedOverAtOnce(_, count)
            | Self::Settled(_, count) => count,
            Self::SettledForAll(_, race) => u32::try_from(race.0).unwrap_or_default(),
            _ => 0,
        }
    }

    /// As the cookie holds it.
    fn write(self) -> String {
        let (code, number) = self.code();
        format!("{code}.{number}.{}", self.at_once())
    }

    fn read(value: &str) -> Option<Self> {
        let mut parts = value.split('.');
        let (code, number) = (parts.next()?, parts.next()?);
        let number: i64 = number.parse().ok()?;
        let at_once: u32 = parts.next().and_then(|count| count.parse().ok()).unwrap_or(0);
        let count = u32::try_from(number).unwrap_or(0);
        Some(match code {
            "athlete-added" => Self::AthleteAdded,
            "first-athlete-added" => Self::FirstAthleteAdded,
            "athlete-saved" => Self::AthleteSaved,
            "athlete-removed" => Self::AthleteRemoved(AthleteId(number)),
            "athlete-restored" => Self::AthleteRestored,
            "week-saved" => Self::WeekSaved(count),
            "race-added" => Self::RaceAdded,
            "race-added-for" => Self::RaceAddedFor(AthleteId(number)),
            "race-added-and-block-made" => Self::RaceAddedAndBlockMade,
            "race-saved" => Self::RaceSaved,
            "race-removed" => Self::RaceRemoved(RaceId(number)),
            "race-restored" => Self::RaceRestored,
            "course-saved" => Self::CourseSaved,
            "course-of" => Self::CourseOf(count),
            "course-of-all" => Self::CourseOfAll(count),
            "course-with-gaps" => Self::CourseWithGaps(count),
            "course-removed" => Self::CourseRemoved,
            "morning-saved" => Self::MorningSaved,
            "entered" => Self::Entered(count),
            "withdrawn" => Self::Withdrawn,
            "list-brought-in" => Self::ListBroughtIn(StepId(number), at_once),
            "template-applied" => Self::TemplateApplied(StepId(number), at_once),
            "template-added" => Self::TemplateAdded,
            "template-saved" => Self::TemplateSaved,
            "template-removed" => Self::TemplateRemoved(TemplateId(number)),
            "entered-at-once" => Self::EnteredAtOnce(StepId(number), at_once),
            "blocks-made-at-once" => Self::BlocksMadeAtOnce(StepId(number), at_once),
            "handed-over-at-once" => Self::HandedOverAtOnce(StepId(number), at_once),
            "list-undone" => Self::StepUndone(StepKind::BringIn, count),
            "template-undone" => Self::StepUndone(StepKind::Template, count),
            "entries-undone" => Self::StepUndone(StepKind::Enter, count),
            "blocks-undone" => Self::StepUndone(StepKind::Plan, count),
            "hand-over-undone" => Self::StepUndone(StepKind::HandOver, count),
            "block-removed" => Self::BlockRemoved(BlockId(number)),
            "block-back" => Self::BlockBack,
            "block-made" => Self::BlockMade,
            "block-saved" => Self::BlockSaved,
            "day-changed" => Self::DayChanged,
            "others-followed" => Self::OthersFollowed,
            "session-moved" => Self::SessionMoved,
            "days-swapped" => Self::DaysSwapped,
            "session-removed" => Self::SessionRemoved,
            "session-added" => Self::SessionAdded,
            "day-fixed" => Self::DayFixed,
            "day-freed" => Self::DayFreed,
            "undone" => Self::Undone,
            "redone" => Self::Redone,
            "step-not-taken" => Self::StepNotTaken,
            "variant-taken" => Self::VariantTaken,
            "variant-remembered" => Self::VariantRemembered,
            "version-restored" => Self::VersionRestored(count),
            "goals-saved" => Self::GoalsSaved,
            "race-sheet-saved" => Self::RaceSheetSaved,
            "result-saved" => Self::ResultSaved,
            "handed-over" => Self::HandedOver,
            "link-ended" => Self::LinkEnded,
            "message-sent" => Self::MessageSent,
            "message-unsent" => Self::MessageUnsent,
            "message-saved" => Self::MessageSaved,
            "message-ours" => Self::MessageOurs,
            "message-taken-again" => Self::MessageTakenAgain,
            "answers-saved" => Self::AnswersSaved,
            "settings-saved" => Self::SettingsSaved,
            "sharing-on" => Self::SharingOn,
            "sharing-off" => Self::SharingOff,
            "sharing-taken" => Self::SharingTaken,
            "pass-phrase-set" => Self::PassPhraseSet,
            "pass-phrase-removed" => Self::PassPhraseRemoved,
            "signed-out" => Self::SignedOut,
            "demo-filled" => Self::DemoFilled,
            "log-saved" => Self::LogSaved,
            "event-added" => Self::EventAdded,
            "event-removed" => Self::EventRemoved(EventId(number)),
            "replanned" => Self::Replanned,
            "called-off" => Self::CalledOff(RaceId(number)),
            "takes-place" => Self::TakesPlace,
            "settled" => Self::Settled(RaceId(number), at_once),
            "settled-for-all" => Self::SettledForAll(DateTime::from_timestamp_micros(number)?, RaceId(at_once.into())),
            "unsettled" => Self::Unsettled,
            "not-handed-over" => Self::NotHandedOver,
            "brought-back" => Self::BroughtBack,
            "brought-in" => Self::BroughtIn(count),
            _ => return None,
        })
    }
}

const fn step_undone(kind: StepKind) -> &'static str {
    match kind {
        StepKind::BringIn => "list-undone",
        StepKind::Template => "template-undone",
        StepKind::Enter => "entries-undone",
        StepKind::Plan => "blocks-undone",
        StepKind::HandOver => "hand-over-undone",
    }
}

/// Goes to another page (303) that then says what was done.
pub(crate) fn redirect(to: &str, notice: Notice) -> Response {
    let mut response = see_other(to);
    let cookie = format!("{NAME}={}; Path=/; Max-Age=60; HttpOnly; SameSite=Strict", notice.write());
    if let Ok(value) = HeaderValue::from_str(&cookie) {
        response.headers_mut().append(SET_COOKIE, value);
    }
    response
}

/// Goes to another page (303) without a word.
pub(crate) fn see_other(to: &str) -> Response {
    let mut response = StatusCode::SEE_OTHER.into_response();
    if let Ok(value) = HeaderValue::from_str(to) {
        response.headers_mut().insert(LOCATION, value);
    }
    response
}

/// The notice that came with a request, if any.
pub(crate) struct Shown(pub(crate) Option<Notice>);

impl<S: Sync> FromRequestParts<S> for Shown {
    type Rejection = std::convert::Infallible;

    async fn from_request_parts(parts: &mut Parts, _: &S) -> Result<Self, Self::Rejection> {
        Ok(Self(of(&parts.headers)))
    }
}

/// Layer: a page that showed the notice takes the cookie back.
pub(crate) async fn forget(request: Request, next: Next) -> Response {
    let shown = of(request.headers()).is_some();
    let mut response = next.run(request).await;
    if shown && response.status() == StatusCode::OK && is_page(&response) {
        let gone = HeaderValue::from_static("ebbline_notice=; Path=/; Max-Age=0; HttpOnly; SameSite=Strict");
        response.headers_mut().append(SET_COOKIE, gone);
    }
    response
}

fn is_page(response: &Response) -> bool {
    response
        .headers()
        .get(axum::http::header::CONTENT_TYPE)
        .and_then(|value| value.to_str().ok())
        .is_some_and(|value| value.starts_with("text/html"))
}

fn of(headers: &HeaderMap) -> Option<Notice> {
    headers
        .get_all(COOKIE)
        .iter()
        .filter_map(|value| value.to_str().ok())
        .flat_map(|value| value.split(';'))
        .filter_map(|pair| pair.trim().split_once('='))
        .find(|(name, _)| *name == NAME)
        .and_then(|(_, value)| Notice::read(value))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_notice_survives_its_cookie() {
        let all = [
            Notice::AthleteAdded,
            Notice::FirstAthleteAdded,
            Notice::AthleteSaved,
            Notice::AthleteRemoved(AthleteId(12)),
            Notice::AthleteRestored,
            Notice::WeekSaved(0b101),
            Notice::RaceAdded,
            Notice::RaceAddedFor(AthleteId(4)),
            Notice::RaceAddedAndBlockMade,
            Notice::RaceSaved,
            Notice::RaceRemoved(RaceId(3)),
            Notice::RaceRestored,
            Notice::CourseSaved,
            Notice::CourseOf(3),
            Notice::CourseOfAll(2),
            Notice::CourseWithGaps(1),
            Notice::CourseRemoved,
            Notice::MorningSaved,
            Notice::Entered(4),
            Notice::Withdrawn,
            Notice::ListBroughtIn(StepId(6), 18),
            Notice::TemplateApplied(StepId(5), 12),
            Notice::TemplateAdded,
            Notice::TemplateSaved,
            Notice::TemplateRemoved(TemplateId(3)),
            Notice::EnteredAtOnce(StepId(7), 34),
            Notice::BlocksMadeAtOnce(StepId(8), 40),
            Notice::HandedOverAtOnce(StepId(9), 12),
            Notice::StepUndone(StepKind::BringIn, 3),
            Notice::StepUndone(StepKind::Template, 4),
            Notice::StepUndone(StepKind::Enter, 33),
            Notice::StepUndone(StepKind::Plan, 5),
            Notice::StepUndone(StepKind::HandOver, 6),
            Notice::BlockRemoved(BlockId(4)),
            Notice::BlockBack,
            Notice::BlockMade,
            Notice::BlockSaved,
            Notice::DayChanged,
            Notice::OthersFollowed,
            Notice::SessionMoved,
            Notice::DaysSwapped,
            Notice::SessionRemoved,
            Notice::SessionAdded,
            Notice::DayFixed,
            Notice::DayFreed,
            Notice::Undone,
            Notice::Redone,
            Notice::StepNotTaken,
            Notice::VariantTaken,
            Notice::VariantRemembered,
            Notice::VersionRestored(3),
            Notice::GoalsSaved,
            Notice::RaceSheetSaved,
            Notice::ResultSaved,
            Notice::HandedOver,
            Notice::LinkEnded,
            Notice::MessageSent,
            Notice::MessageUnsent,
            Notice::MessageSaved,
            Notice::MessageOurs,
            Notice::MessageTakenAgain,
            Notice::AnswersSaved,
            Notice::SettingsSaved,
            Notice::SharingOn,
            Notice::SharingOff,
            Notice::SharingTaken,
            Notice::PassPhraseSet,
            Notice::PassPhraseRemoved,
            Notice::SignedOut,
            Notice::DemoFilled,
            Notice::LogSaved,
            Notice::EventAdded,
            Notice::EventRemoved(EventId(5)),
            Notice::Replanned,
            Notice::CalledOff(RaceId(6)),
            Notice::TakesPlace,
            Notice::Settled(RaceId(6), 4),
            Notice::SettledForAll(DateTime::UNIX_EPOCH, RaceId(6)),
            Notice::Unsettled,
            Notice::NotHandedOver,
            Notice::BroughtBack,
            Notice::BroughtIn(30),
        ];
        for notice in all {
            assert_eq!(Notice::read(&notice.write()), Some(notice));
        }
        assert_eq!(Notice::read("<b>hello</b>.1"), None);
    }
}
