//! What was handed over of a race: who was left out, every file in one, and each athlete's message ready to copy.

use std::collections::HashMap;

use askama::Template;
use axum::extract::{RawQuery, State};
use axum::http::StatusCode;
use axum::response::Response;
use formats::bundle;
use planning::Block;
use rayon::prelude::*;
use store::{AthleteId, BlockId, BlockRecord, BoardRow, MessageText, RaceId, RaceRecord, SentMessage};

use super::all::{named_in, records_of};
use crate::blocks::messages::{MessageView, Messages, Spared, held_before};
use crate::blocks::{Withheld, file, lines};
use crate::clock::Clock;
use crate::error::AppError;
use crate::extract::Id;
use crate::race_day::{Course, Ground};
use crate::render::{self, Area, Layout, Page};
use crate::state::{AppState, ShareDoor};
use crate::{notice, paths};

/// The page after the press.
#[derive(Template)]
#[template(path = "races/handed_over.html")]
pub(crate) struct HandedOverPage {
    layout: Layout,
    id: RaceId,
    race: String,
    /// Whose block was saved or taken away while the press was made.
    left: Vec<(BlockId, String)>,
    /// Whose block must not go out as it is, and why.
    withheld: Vec<(BlockId, String, &'static str)>,
    door: ShareDoor,
    rows: Vec<Row>,
    /// Who is entered, may hold a block and holds none.
    without: Vec<(BlockId, String)>,
}

/// One athlete who holds a block that may go out.
struct Row {
    block: BlockId,
    athlete: AthleteId,
    name: String,
    /// Where the message goes, as the coach typed it; may be empty.
    phone: String,
    /// The message that is due next; nothing where all were sent or none is given out.
    message: Option<MessageView>,
    /// That the athlete cannot run as usual; empty where nothing is known.
    reservation: String,
}

impl Row {
    fn of(
        (record, before, spared): (&BlockRecord, Option<&Block>, &Spared),
        (texts, sent): (&[MessageText], &[SentMessage]),
        (coach, door): (&str, &ShareDoor),
        clock: Clock,
    ) -> Self {
        // Blocks that must not go out have no row.
        let messages = Messages { record, before, coach, door, today: clock.today(), spared, withheld: None };
        let all = messages.all(texts, sent, clock);
        Self {
            block: record.id,
            athlete: record.athlete.id,
            name: record.athlete.draft.athlete.name.clone(),
            phone: record.athlete.draft.phone.clone(),
            message: all.into_iter().find(|message| message.is_next),
            reservation: messages.reservation(),
        }
    }
}

impl HandedOverPage {
    fn new(
        layout: Layout,
        race: &RaceRecord,
        (records, before, spared): (&[BlockRecord], &HashMap<BlockId, Block>, &HashMap<BlockId, Spared>),
        (texts, sent): (&[MessageText], &HashMap<BlockId, Vec<SentMessage>>),
        (coach, door, clock): (&str, &ShareDoor, Clock),
        left: &[BlockId],
    ) -> Self {
        let nothing = Spared::default();
        let row = |one: &BlockRecord| {
            let around = (one, before.get(&one.id), spared.get(&one.id).unwrap_or(&nothing));
            Row::of(around, (texts, sent_to(sent, one.id)), (coach, door), clock)
        };
        let named = |one: &BlockRecord| (one.id, one.athlete.draft.athlete.name.clone());
        let (mut withheld, mut may_go) = (Vec::new(), Vec::new());
        for one in records {
            match Withheld::of(one, clock.today()) {
                Some(why) => withheld.push((one.id, named(one).1, why.why())),
                None => may_go.push(one),
            }
        }
        let (held, without): (Vec<&BlockRecord>, Vec<&BlockRecord>) =
            may_go.iter().copied().partition(|one| one.share.is_some());
        Self {
            layout: layout.at(Area::Races),
            id: race.id,
            race: lines::race_name(&race.race),
            left: may_go.into_iter().filter(|one| left.contains(&one.id)).map(named).collect(),
            withheld,
            door: door.clone(),
            rows: held.into_iter().map(row).collect(),
            without: without.into_iter().map(named).collect(),
        }
    }
}

impl Page for HandedOverPage {
    #[cfg(test)]
    fn samples() -> Vec<Self> {
        use super::sample;
        use crate::blocks::sample as of_block;
        let clock = Clock::fixed("2027-05-04T08:00:00Z".parse().expect("an instant"));
        let race = sample::race(planning::RaceDistance::TenK);
        let records = [
            of_block::handed_over(&of_block::ten_k()),
            of_block::handed_over(&of_block::marathon()),
            of_block::record(&of_block::ten_k()),
            of_block::goal_inside(&of_block::ten_k()),
        ];
        let records = sample::numbered(records);
        let open = ShareDoor::sample();
        let page = |records: &[BlockRecord], door: &ShareDoor, left: &[BlockId]| {
            Self::new(
                Layout::plain(),
                &race,
                (records, &HashMap::new(), &HashMap::new()),
                (&[], &HashMap::new()),
                ("Rui", door, clock),
                left,
            )
        };
        let withheld = &records[3..];
        vec![
            page(&[], &open, &[]),
            page(withheld, &open, &[]),
            page(&records, &open, &[BlockId(2)]),
            page(&records, &ShareDoor::Off, &[]),
        ]
    }
}

fn sent_to(sent: &HashMap<BlockId, Vec<SentMessage>>, id: BlockId) -> &[SentMessage] {
    sent.get(&id).map_or(&[][..], Vec::as_slice)
}

/// `GET /races/{race}/handed-over`, with `not` for each block that a press left as it was.
pub(crate) async fn get(
    State(state): State<AppState>,
    layout: Layout,
    Id(id): Id<RaceId>,
    RawQuery(query): RawQuery,
) -> Result<Response, AppError> {
    let race = state.store.race(id).await?.ok_or(AppError::NotFound)?;
    let records = records_of(&state, id).await?;
    let texts = state.store.message_texts().await?;
    let coach = state.store.settings().await?.coach_name;
    let ids: Vec<BlockId> = records.iter().map(|record| record.id).collect();
    let sent = state.store.sent_messages_of(&ids).await?;
    let left = named_in(&query.unwrap_or_default(), "not");
    let door = state.share.now();
    let before = held_before(&state, &records).await?;
    let board = state.store.board(state.clock.today()).await?;
    let rows: HashMap<AthleteId, &BoardRow> = board.iter().map(|row| (row.athlete, &**row)).collect();
    let spared: HashMap<BlockId, Spared> =
        records.iter().filter_map(|one| Some((one.id, Spared::of(rows.get(&one.athlete.id)?, one.id)))).collect();
    let around = (&records[..], &before, &spared);
    let page = HandedOverPage::new(layout, &race, around, (&texts, &sent), (&coach, &door, state.clock), &left);
    render::page(StatusCode::OK, &page)
}

/// `GET /races/{race}/files`: the file of every block that was handed over and may go out, in one zip. Where there is
/// none, the page says why.
pub(crate) async fn files(State(state): State<AppState>, Id(id): Id<RaceId>) -> Result<Response, AppError> {
    let race = state.store.race(id).await?.ok_or(AppError::NotFound)?;
    let course = Course::read(&state, &race).await?;
    let clock = state.clock;
    let may_go = |one: &BlockRecord| one.share.is_some() && Withheld::of(one, clock.today()).is_none();
    let held: Vec<_> = records_of(&state, id).await?.into_iter().filter(may_go).collect();
    if held.is_empty() {
        return Ok(notice::see_other(&paths::race_handed_over(id)));
    }
    let coach = state.store.settings().await?.coach_name;
    let internal = |error: &dyn std::fmt::Display| AppError::Internal(error.to_string());
    let pack = move || -> Result<Vec<u8>, AppError> {
        let files = held.par_iter().map(|record| file::of_block(Ground { record, course: &course }, &coach, clock));
        let mut packed: Vec<(String, String)> = Vec::new();
        for (name, text) in files.collect::<Result<Vec<_>, AppError>>()? {
            let taken = |name: &str| packed.iter().any(|(other, _)| other == name);
            packed.push((file::free_name(&name, taken), text));
        }
        bundle::pack(&packed, clock.moment_of(clock.now())).map_err(|error| internal(&error))
    };
    let bytes = tokio::task::spawn_blocking(pack).await.map_err(|error| AppError::Internal(error.to_string()))??;
    let name = file::file_name(&["blocks", &lines::race_name(&race.race)], Some(race.race.date), "zip");
    Ok(file::download(&name, "application/zip", bytes))
}
