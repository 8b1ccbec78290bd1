//! Handing a block over to its athlete: what its page says of it, making the link, ending it.

use axum::extract::State;
use axum::response::Response;
use axum_extra::extract::Form;
use chrono::{Days, NaiveDate};
use formats::words;
use serde::Deserialize;
use store::{BlockId, BlockRecord, GoalNotes, RaceSheet, ShareRecord, Shows, StoreError};

use super::lines;
use super::load::Loaded;
use super::withheld::{Withheld, stopped};
use crate::clock::Clock;
use crate::error::AppError;
use crate::extract::Id;
use crate::form::read_version;
use crate::notice::{self, Notice};
use crate::paths;
use crate::qr::QrCode;
use crate::race_day::{Course, Ground, RaceDay};
use crate::state::{AppState, ShareDoor};

/// How many days after the race a link still works.
pub(crate) const DAYS_AFTER: u64 = 14;

/// What stands under "Hand over".
pub(crate) struct HandOver {
    pub(crate) door: ShareDoor,
    pub(crate) handed: Option<Handed>,
    /// What the form proposes, see [`proposed`].
    pub(crate) shows: Shows,
    /// Whether anything is written that each choice would show.
    pub(crate) written: Shows,
    /// The last day on which a new link works.
    pub(crate) would_end: String,
    /// Whether the athlete is under 18 in the year of the race.
    pub(crate) is_minor: bool,
    /// Why it must not be handed over as it is.
    pub(crate) withheld: Option<Withheld>,
    /// That the review says stop, see [`stopped`].
    pub(crate) stopped: Option<String>,
}

/// A block that was handed over.
pub(crate) struct Handed {
    pub(crate) on: String,
    /// Whether the athlete has the present version.
    pub(crate) is_current: bool,
    /// Whether the athlete is shown goal notes that were changed since.
    pub(crate) notes_changed: bool,
    pub(crate) revision: u32,
    pub(crate) ends: String,
    pub(crate) has_ended: bool,
    pub(crate) shows: Shows,
    /// The link, where it works and the door is open.
    pub(crate) link: Option<Link>,
}

/// A link that works.
pub(crate) struct Link {
    pub(crate) address: String,
    pub(crate) qr: Option<QrCode>,
}

impl HandOver {
    pub(crate) fn of((loaded, course): (&Loaded, &Course), door: &ShareDoor, clock: Clock) -> Self {
        let (record, today) = (&loaded.record, loaded.today);
        let ground = Ground { record, course };
        let race_day = |shows: Shows| RaceDay::showing(ground, shows).to_document();
        let handed = record.share.as_ref().map(|share| Handed {
            on: lines::day_month(clock.day_of(share.handed_over)),
            is_current: share.revision == record.revision,
            notes_changed: notes_changed(ground, share),
            revision: share.revision,
            ends: words::full_date(share.ends),
            has_ended: !share.works_on(today),
            shows: share.shows,
            link: link(record, door, today),
        });
        let nothing = GoalNotes::default();
        let words_only = GoalNotes { message: record.goals.message.clone(), ..nothing };
        let shown = |shows: Shows| shows.of(&record.goals) != words_only;
        let written = Shows {
            goals: shown(Shows { goals: true, ..Shows::NOTHING }),
            stretches: shown(Shows { stretches: true, ..Shows::NOTHING }),
            race_day: race_day(Shows::ALL).is_some(),
        };
        Self {
            door: door.clone(),
            shows: proposed(record),
            handed,
            written,
            would_end: words::full_date(record.block.race_day + Days::new(DAYS_AFTER)),
            is_minor: is_minor(record),
            withheld: Withheld::of(record, today),
            stopped: stopped(loaded),
        }
    }

    /// Whether the athlete has everything as it is now, and can open it.
    pub(crate) fn is_done(&self) -> bool {
        self.handed.as_ref().is_some_and(|handed| handed.is_current && !handed.notes_changed && !handed.has_ended)
    }

    /// Whether the printed sheet carries the code of the link.
    pub(crate) fn has_code(&self) -> bool {
        self.handed.as_ref().and_then(|handed| handed.link.as_ref()).is_some_and(|link| link.qr.is_some())
    }
}

/// What is shown beside the days where nobody says otherwise: as it was when the block was handed over last, else all but
/// a race sheet of which the coach wrote nothing, which goals and course alone have filled. It would go out unread.
pub(crate) fn proposed(record: &BlockRecord) -> Shows {
    let race_day = record.race_sheet != RaceSheet::default();
    record.share.as_ref().map_or(Shows { race_day, ..Shows::ALL }, |share| share.shows)
}

/// Whether an athlete is under 18 in the year of the race, as far as it is known.
pub(crate) fn is_minor(record: &BlockRecord) -> bool {
    record.athlete.draft.athlete.age_in(record.block.race_day).is_some_and(|age| age < 18)
}

/// Whether the athlete is shown goal notes or a race sheet that are others by now.
pub(crate) fn notes_changed(ground: Ground<'_>, share: &ShareRecord) -> bool {
    share.notes_changed(&ground.record.goals)
        || share.shows.race_day && share.race_day != RaceDay::showing(ground, share.shows).to_document()
}

/// The address of the athlete's page, where it works today.
pub(crate) fn address(record: &BlockRecord, door: &ShareDoor, today: NaiveDate) -> Option<String> {
    let address = |share: &ShareRecord| door.base().map(|base| format!("{base}{}", paths::shared(&share.token)));
    record.link_on(today).and_then(address)
}

/// The same where a phone can open it.
pub(crate) fn address_for_phones(record: &BlockRecord, door: &ShareDoor, today: NaiveDate) -> Option<String> {
    address(record, door, today).filter(|_| !door.is_for_nobody_else())
}

/// The same with its code to point a camera at, where a phone can open it.
pub(crate) fn link(record: &BlockRecord, door: &ShareDoor, today: NaiveDate) -> Option<Link> {
    let qr = address_for_phones(record, door, today).as_deref().and_then(QrCode::of);
    address(record, door, today).map(|address| Link { address, qr })
}

/// Why a printed sheet carries no code to point a phone at.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum NoCode {
    /// No phone can open any link: athletes' pages are off, or served to this machine only.
    NoPhone,
    /// There is no link that works.
    NoLink,
}

/// What a printed sheet carries: the code, or nothing and why.
pub(crate) fn code(record: &BlockRecord, door: &ShareDoor, today: NaiveDate) -> Result<Option<QrCode>, NoCode> {
    if door.base().is_none() || door.is_for_nobody_else() {
        return Err(NoCode::NoPhone);
    }
    link(record, door, today).map(|link| link.qr).ok_or(NoCode::NoLink)
}

/// The form: what the athlete's page shows beside the days and their reasons.
#[derive(Debug, Default, Deserialize)]
#[serde(default)]
pub(crate) struct Typed {
    version: String,
    goals: String,
    stretches: String,
    race_day: String,
}

/// `POST /blocks/{block}/hand-over`: the link shows the revision that the coach looked at; nothing is handed
/// over that was saved from another window meanwhile.
pub(crate) async fn post(
    State(state): State<AppState>,
    Id(id): Id<BlockId>,
    Form(typed): Form<Typed>,
) -> Result<Response, AppError> {
    let record = state.store.block(id).await?.ok_or(AppError::NotFound)?;
    if let Some(back) = Withheld::sent_back(&record, state.clock.today()) {
        return Ok(back);
    }
    let ends = record.block.race_day + Days::new(DAYS_AFTER);
    let shows =
        Shows { goals: typed.goals == "yes", stretches: typed.stretches == "yes", race_day: typed.race_day == "yes" };
    let course = Course::read(&state, &record.race).await?;
    let race_day = RaceDay::showing(Ground { record: &record, course: &course }, shows).to_document();
    let read_at = read_version(&typed.version);
    let done =
        match state.store.hand_over_as_read(id, read_at, shows, race_day.as_deref(), ends, state.clock.now()).await {
            Ok(_) => Notice::HandedOver,
            Err(StoreError::Conflict) => Notice::StepNotTaken,
            Err(error) => return Err(error.into()),
        };
    Ok(notice::redirect(&format!("{}#hand-over", paths::block(id)), done))
}

/// `POST /blocks/{block}/hand-over/end`: the link no longer works, at once.
pub(crate) async fn end(State(state): State<AppState>, Id(id): Id<BlockId>) -> Result<Response, AppError> {
    state.store.revoke(id, state.clock.now()).await?;
    Ok(notice::redirect(&format!("{}#hand-over", paths::block(id)), Notice::LinkEnded))
}
