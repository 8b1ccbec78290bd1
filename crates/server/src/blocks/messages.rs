//! The messages of a block by date: filled, ready to paste, and which of them were sent.

use std::borrow::Cow;
use std::collections::HashMap;

use axum::extract::State;
use axum::response::Response;
use axum_extra::extract::Form;
use chrono::NaiveDate;
use formats::messages::{MessageField, fill_message, uses_field};
use formats::words;
use planning::plain::joined;
use planning::replan::race::called_off;
use planning::replan::{eased_until, is_spared_on};
use planning::{Block, Day, DistanceUnit, LifeEvent, Moment, Outcome, Planned, Role, moments};
use serde::Deserialize;
use store::{BlockId, BlockRecord, BoardRow, MessageText, SentMessage};

use super::changes::changes;
use super::hand_over::address_for_phones;
use super::lines;
use super::withheld::Withheld;
use crate::clock::Clock;
use crate::error::AppError;
use crate::extract::Id;
use crate::notice::{self, Notice};
use crate::paths;
use crate::shown;
use crate::state::{AppState, ShareDoor};

/// One message of a block.
pub(crate) struct MessageView {
    pub(crate) moment: Moment,
    /// `Block start`.
    pub(crate) name: String,
    /// `Thu 29 Apr, in 9 days`.
    pub(crate) day: String,
    /// Ready to paste.
    pub(crate) text: String,
    /// How many lines it takes.
    pub(crate) rows: usize,
    /// When it was sent, if it was.
    pub(crate) sent: Option<String>,
    /// Whether it is the next one to send.
    pub(crate) is_next: bool,
}

/// How many letters stand on a line of the field.
const LINE: usize = 74;

/// For how many days after a hand-over its message is the next to send.
const HANDED_OVER_LATELY: i64 = 2;

/// Why an athlete cannot run as the plan says, as far as it is known today.
#[derive(Clone, Debug, Default)]
pub(crate) struct Spared {
    /// Illness and injury that last today, or whose easy days do, each as it stands today.
    pub(crate) unwell: Vec<LifeEvent>,
    /// Whether what happened waits for the coach's word.
    pub(crate) waits: bool,
}

impl Spared {
    /// As the board has it.
    pub(crate) fn of(row: &BoardRow, id: BlockId) -> Self {
        let block = row.block.as_ref().filter(|block| block.state.id == id);
        Self { unwell: row.unwell.to_vec(), waits: block.is_some_and(|block| block.waits.is_some()) }
    }

    /// Those of some events that last on a day, or whose easy days do.
    pub(crate) fn by(events: Vec<LifeEvent>, waits: bool, today: NaiveDate) -> Self {
        Self { unwell: events.into_iter().filter(|event| is_spared_on(event, today)).collect(), waits }
    }

    /// Whether a version made now reckons with all of it: it waits for nobody's word, has an end, and is no fever, of which
    /// the end is never quite sure.
    fn is_planned_for(&self) -> bool {
        !self.waits && self.unwell.iter().all(|event| !event.open && !event.kind.has_fever())
    }

    /// Whether a message of a day has to reckon with it.
    fn on(&self, day: NaiveDate) -> bool {
        self.waits || self.unwell.iter().any(|event| event.open || eased_until(event) >= day)
    }
}

/// What the messages of a block are made of.
pub(crate) struct Messages<'a> {
    pub(crate) record: &'a BlockRecord,
    /// The days as the athlete held them before, where there is an earlier version.
    pub(crate) before: Option<&'a Block>,
    pub(crate) coach: &'a str,
    pub(crate) door: &'a ShareDoor,
    pub(crate) today: NaiveDate,
    pub(crate) spared: &'a Spared,
    /// Why the block must not go out as it is: then no message is given out.
    pub(crate) withheld: Option<&'a Withheld>,
}

impl Messages<'_> {
    /// Every message of the block in the order of their days; none where they are withheld.
    pub(crate) fn all(&self, texts: &[MessageText], sent: &[SentMessage], clock: Clock) -> Vec<MessageView> {
        if self.are_withheld() {
            return Vec::new();
        }
        let was_sent = |moment| sent.iter().find(|one| one.moment == moment && self.counts(one));
        let all = self.moments();
        let next = all.iter().find(|one| self.is_open(**one, sent, clock)).map(|(moment, _)| *moment);
        let block = self.as_told();
        all.into_iter()
            .map(|(moment, day)| {
                let kept = texts.iter().find(|kept| kept.moment == moment).and_then(|kept| kept.text.as_deref());
                let text = self.fill_from(&block, &self.words(moment, kept, day), day);
                MessageView {
                    moment,
                    name: shown::capital(words::moment(moment)),
                    day: self.day_in_words(moment, day, clock),
                    rows: rows(&text),
                    text,
                    sent: was_sent(moment).map(|one| lines::day_month(clock.day_of(one.at))),
                    is_next: next == Some(moment),
                }
            })
            .collect()
    }

    /// The text of a moment: the squad's own, else ours. Who holds an earlier version is told what changed: words
    /// that do not say so are for the first hand-over. Where the athlete cannot run as usual no text asks for that,
    /// nor says why.
    fn words(&self, moment: Moment, own: Option<&str>, day: NaiveDate) -> String {
        let is_again = moment == Moment::HandOver && self.before.is_some();
        let own = own.filter(|text| !is_again || uses_field(text, MessageField::Changes));
        let is_new_plan = is_again && self.spared.is_planned_for();
        if moment == Moment::DayAfter || is_new_plan || !self.spared.on(day) {
            return match own {
                Some(own) => own.to_owned(),
                None if is_again => words::HAND_OVER_AGAIN.to_owned(),
                None if moment == Moment::HandOver => self.hand_over_on(day),
                None => self.our_words(moment),
            };
        }
        match (own, moment) {
            (Some(own), _) => reserved(own),
            (None, Moment::HandOver) if !is_again => words::HAND_OVER_SPARED.to_owned(),
            (None, Moment::HandOver) => words::HAND_OVER_AGAIN_SPARED.to_owned(),
            (None, Moment::BlockStart) => words::BLOCK_START_SPARED.to_owned(),
            (None, _) => reserved(words::message(moment)),
        }
    }

    fn our_words(&self, moment: Moment) -> String {
        if self.record.block.is_down_before() {
            words::message_where_down_before(moment)
        } else {
            words::message(moment).to_owned()
        }
    }

    /// Our words for a first hand-over on a day: all is as usual only until the first day that is told.
    fn hand_over_on(&self, day: NaiveDate) -> String {
        let begins = self.record.block.beginning();
        let text = self.our_words(Moment::HandOver);
        let is_told = (begins.told_from..=begins.first).contains(&day);
        if is_told { words::hand_over_while_it_begins(&text, day == begins.first) } else { text }
    }

    /// Whether a message that was sent is the one that is shown: each hand-over has its own.
    fn counts(&self, sent: &SentMessage) -> bool {
        let handed = self.record.share.as_ref().map(|share| share.handed_over);
        sent.moment != Moment::HandOver || handed.is_none_or(|handed| sent.at >= handed)
    }

    /// The moments of the block; before the race the one of the hand-over stands first, for whenever that is.
    fn moments(&self) -> Vec<(Moment, NaiveDate)> {
        let hand_over = (self.today < self.record.block.race_day).then_some((Moment::HandOver, self.today));
        hand_over.into_iter().chain(moments(&self.record.block)).collect()
    }

    /// Whether a message is still to be sent. That of the hand-over goes with it, so it is not asked for before
    /// there is one, nor days later.
    fn is_open(&self, (moment, day): (Moment, NaiveDate), sent: &[SentMessage], clock: Clock) -> bool {
        let is_fresh = || {
            let handed = self.record.share.as_ref().map(|share| clock.day_of(share.handed_over));
            handed.is_some_and(|on| (self.today - on).num_days() <= HANDED_OVER_LATELY)
        };
        let is_due = if moment == Moment::HandOver { is_fresh() } else { day >= self.today };
        is_due && sent.iter().all(|one| one.moment != moment || !self.counts(one))
    }

    /// `Thu 29 Apr, in 9 days`.
    fn day_in_words(&self, moment: Moment, day: NaiveDate, clock: Clock) -> String {
        match &self.record.share {
            _ if moment != Moment::HandOver => {
                format!("{}, {}", shown::day(day, self.today), shown::away(day, self.today))
            }
            Some(share) => format!("handed over on {}", lines::day_month(clock.day_of(share.handed_over))),
            None => "when you hand the block over".to_owned(),
        }
    }

    /// Whether no message is given out: of a block that must not go out as it is there is nothing to write, and a race
    /// that was not started is nothing to ask about.
    fn are_withheld(&self) -> bool {
        self.did_not_start() || self.withheld.is_some()
    }

    fn did_not_start(&self) -> bool {
        self.record.outcome == Some(Outcome::DidNotStart)
    }

    /// What an athlete is told whose race is called off, and how many lines of the field that takes: the days back to
    /// the usual week that are left, which stand nowhere else for the athlete. Who cannot run as usual is asked for none.
    pub(crate) fn called_off(&self) -> Option<(String, usize)> {
        let (record, since) = (self.record, self.record.race.called_off?);
        let athlete = &record.athlete.draft.athlete;
        let days: Vec<String> = called_off(&record.block, athlete, &record.week.week, since)
            .into_iter()
            .filter(|day| day.date >= self.today)
            .map(|day| format!("{}: {}", words::short_date(day.date), lines::all_planned(&day.sessions, athlete.units)))
            .collect();
        let how = if self.spared.on(self.today) {
            words::SPARED.to_owned()
        } else if days.is_empty() {
            words::CALLED_OFF_USUAL.to_owned()
        } else {
            format!("{}\n\n{}\n\n{}", words::CALLED_OFF_DAYS, days.join("\n"), words::CALLED_OFF_AFTER)
        };
        // What is planned may hold the coach's own words, so fields are filled around it.
        let begin = self.fill(words::CALLED_OFF, self.today);
        let text = format!("{begin}\n\n{how}\n\n{}", self.coach).trim_end().to_owned();
        Some((text.clone(), rows(&text)))
    }

    /// What the coach should know before anything is sent: first that the athlete cannot run as usual.
    pub(crate) fn hint(&self) -> String {
        joined([self.reservation(), self.hint_of_versions()], " ")
    }

    /// That the athlete cannot run as usual, and what the texts make of it; empty where nothing is known.
    pub(crate) fn reservation(&self) -> String {
        let name = &self.record.athlete.draft.athlete.name;
        let unwell = self.spared.unwell.first().map(|event| format!("{name}: {}.", words::unwell(event, self.today)));
        let waits = "What is noted in the log waits for your word: plan again first.".to_owned();
        let said: Vec<String> = unwell.into_iter().chain(self.spared.waits.then_some(waits)).collect();
        if said.is_empty() || self.are_withheld() {
            return String::new();
        }
        let texts = "The messages for these days say that what you agreed goes before the plan, and not why: read them \
                     before you send one.";
        format!("{} {texts}", said.join(" "))
    }

    /// Why there are no messages, or that they speak of something else than the page that they link to.
    fn hint_of_versions(&self) -> String {
        if self.did_not_start() {
            return "The race was not started, so its messages are withheld: they speak of a race that was run."
                .to_owned();
        }
        if let Some(withheld) = self.withheld {
            return withheld.of_messages();
        }
        let (record, name) = (self.record, &self.record.athlete.draft.athlete.name);
        match &record.share {
            Some(share) if share.revision != record.revision => format!(
                "{name} holds version {}; these words speak of version {}: hand over first.",
                share.revision, record.revision
            ),
            Some(share) if share.notes_changed(&record.goals) => format!(
                "{name} holds the goals as they were handed over; these words speak of them as they are now: hand over \
                 first."
            ),
            _ => String::new(),
        }
    }

    /// A text as the athlete reads it on a day.
    pub(crate) fn fill(&self, text: &str, day: NaiveDate) -> String {
        self.fill_from(&self.as_told(), text, day)
    }

    /// What happened to the athlete stays with the coach, in messages too.
    fn as_told(&self) -> Cow<'_, Block> {
        self.record.block.public()
    }

    fn fill_from(&self, block: &Block, text: &str, day: NaiveDate) -> String {
        fill_message(text, |field| self.value(block, field, day).filter(|value| !value.is_empty()))
    }

    fn value(&self, block: &Block, field: MessageField, day: NaiveDate) -> Option<String> {
        let record = self.record;
        // A plan that knows nothing yet of what happened says nothing of what is run.
        if self.spared.waits && matches!(field, MessageField::Today | MessageField::Key | MessageField::DayBefore) {
            return None;
        }
        let units = record.athlete.draft.athlete.units;
        Some(match field {
            MessageField::Name => formats::called(&record.athlete.draft.athlete.name).to_owned(),
            MessageField::FullName => record.athlete.draft.athlete.name.clone(),
            MessageField::Race => lines::race_name(&block.race),
            MessageField::Distance => words::race_distance(block.race.distance),
            MessageField::Date => words::long_date(block.race_day),
            MessageField::Start => lines::start(&block.race)?,
            MessageField::Place => record.race.place.clone(),
            MessageField::DaysLeft => {
                let days = usize::try_from((block.race_day - day).num_days()).ok().filter(|days| *days > 0)?;
                words::plural(days, "day")
            }
            MessageField::Begins => begins_in_words(block, day)?,
            MessageField::ComesDown => words::comes_down(&block.beginning(), day)?,
            MessageField::Changes => changes(&self.before?.public(), block, day, units),
            MessageField::Today => sessions_of(block.day(day)?, units)?,
            MessageField::Key => key_session(block, day, units)?,
            MessageField::DayBefore => {
                sessions_of(block.days.iter().find(|one| one.to_race == 1 && one.date >= day)?, units)?
            }
            MessageField::Cues => {
                let shows = record.share.as_ref().is_none_or(|share| share.shows.stretches);
                let cues = record.goals.stretches.iter().map(|stretch| stretch.cue.as_str());
                joined(cues.filter(|_| shows), ", ")
            }
            MessageField::Link => address_for_phones(record, self.door, self.today)?,
            MessageField::Coach => self.coach.to_owned(),
        })
    }
}

/// The first day of a block, while it is to come; with the changed days before it, while these are.
fn begins_in_words(block: &Block, day: NaiveDate) -> Option<String> {
    let begins = block.beginning();
    let told = if begins.told_from > day { words::first_day(&begins) } else { words::long_date(begins.first) };
    (begins.first > day).then_some(told)
}

/// How many lines of the field a text takes.
pub(crate) fn rows(text: &str) -> usize {
    text.lines().map(|line| line.chars().count() / LINE + 1).sum::<usize>() + 1
}

/// A text with the reservation after its greeting.
fn reserved(text: &str) -> String {
    match text.split_once("\n\n") {
        Some((greeting, rest)) => format!("{greeting}\n\n{}\n\n{rest}", words::SPARED),
        None => format!("{}\n\n{text}", words::SPARED),
    }
}

/// `easy 6 km + strength 20 min`, with what is inside a hard session; nothing on race day.
pub(super) fn sessions_of(day: &Day, units: DistanceUnit) -> Option<String> {
    if day.to_race == 0 {
        return None;
    }
    let said: Vec<String> = day.sessions.iter().map(|planned| said(planned, units)).collect();
    Some(if said.is_empty() { lines::REST.to_owned() } else { said.join(" + ") })
}

/// A session with its sets, without the coach's note; of a race on the way that is its name.
fn said(planned: &Planned, units: DistanceUnit) -> String {
    let quick = words::part_in_block(planned.role).filter(|_| planned.role.holds_quick_running());
    let outside = joined([lines::planned(planned, units).as_str(), quick.unwrap_or_default()], ", ");
    let note = planned.session.note.trim();
    if planned.role == Role::OtherRace && !note.is_empty() {
        return format!("{outside}: {note}");
    }
    let sets: Vec<String> = planned.session.sets.iter().map(words::sets).collect();
    if sets.is_empty() { outside } else { format!("{outside} ({})", sets.join("; ")) }
}

/// The last hard session of race week and its day, while it is to come: the key session, or what the coach set in its
/// place.
fn key_session(block: &Block, day: NaiveDate, units: DistanceUnit) -> Option<String> {
    let is_last = |one: &Day, planned: &Planned| {
        let by_hand = one.pinned && planned.role != Role::OtherRace && planned.session.is_hard();
        planned.role == Role::Key || (by_hand && one.is_in_race_week())
    };
    let key = |one: &Day| {
        let planned = one.sessions.iter().find(|planned| is_last(one, planned))?;
        Some(format!("{}, {}", words::long_date(one.date), said(planned, units)))
    };
    block.days.iter().rev().filter(|one| one.date >= day).find_map(key)
}

/// The days that athletes held before what they hold now, or hold while there is something newer.
pub(crate) async fn held_before(
    state: &AppState,
    records: &[BlockRecord],
) -> Result<HashMap<BlockId, Block>, AppError> {
    let held = |record: &BlockRecord| {
        let share = record.share.as_ref()?;
        let is_behind = share.revision != record.revision;
        Some((record.id, if is_behind { share.revision } else { share.replaces?.revision }))
    };
    let wanted: Vec<(BlockId, u32)> = records.iter().filter_map(held).collect();
    Ok(state.store.blocks_at(&wanted).await?)
}

/// Which message, and whether it was sent.
#[derive(Debug, Default, Deserialize)]
#[serde(default)]
pub(crate) struct Typed {
    moment: String,
    sent: String,
}

/// `POST /blocks/{block}/messages`: the coach says that a message was sent, or takes that back.
pub(crate) async fn post(
    State(state): State<AppState>,
    Id(id): Id<BlockId>,
    Form(typed): Form<Typed>,
) -> Result<Response, AppError> {
    let moment = Moment::from_code(&typed.moment).ok_or(AppError::NotFound)?;
    let now = state.clock.now();
    let notice = if typed.sent == "yes" {
        state.store.mark_sent(id, moment, now).await?;
        Notice::MessageSent
    } else {
        state.store.mark_unsent(id, moment, now).await?;
        Notice::MessageUnsent
    };
    Ok(notice::redirect(&format!("{}#messages", paths::block(id)), notice))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::blocks::sample;

    fn filled(record: &BlockRecord, door: &ShareDoor, day: &str) -> String {
        let day: NaiveDate = day.parse().expect("a day");
        let spared = Spared::default();
        let messages =
            Messages { record, before: None, coach: "Rui", door, today: day, spared: &spared, withheld: None };
        let moment = moments(&record.block).into_iter().find(|(_, date)| *date == day).expect("a message").0;
        messages.fill(words::message(moment), day)
    }

    #[test]
    fn what_the_coach_set_in_the_place_of_the_key_session_is_the_last_hard_one() {
        let mut record = sample::handed_over(&sample::ten_k());
        let day = record.block.days.iter_mut().find(|day| day.sessions.iter().any(|one| one.role == Role::Key));
        let day = day.expect("a key session");
        day.pinned = true;
        day.sessions.iter_mut().for_each(|one| one.role = Role::Plain);
        let text = filled(&record, &ShareDoor::sample(), "2027-04-29");
        assert!(text.contains("The last hard session: Tuesday 4 May, intervals"), "{text}");
    }

    #[test]
    fn the_first_message_says_the_day_the_key_session_and_the_link() {
        let record = sample::handed_over(&sample::ten_k());
        let text = filled(&record, &ShareDoor::sample(), "2027-04-29");
        assert!(
            text.starts_with("Hello Ana,\n\n10 days to Harbour 10 (invented): your block begins today. From Sunday 2 May on the running"),
            "{text}"
        );
        assert!(text.contains("Today: tempo 10 km"), "{text}");
        assert!(text.contains("The last hard session: Tuesday 4 May, intervals"), "{text}");
        assert!(text.contains("Every day with its reason: http://192.168.1.20:4651/p/3f1c2e8a"), "{text}");
        assert!(text.ends_with("\n\nRui"), "{text}");
    }

    #[test]
    fn a_message_of_a_day_says_what_quick_running_goes_with_the_run() {
        for (role, said) in [
            (Role::EasyWithStrides, ", with 4–6 strides of 15–20 s."),
            (Role::EasyWithRacePace, ", with 3 × 2 min at race pace."),
        ] {
            let mut record = sample::handed_over(&sample::ten_k());
            let day = record.block.days.iter_mut().find(|day| day.to_race == 1).expect("the day before");
            let mut planned = day.sessions[0].clone();
            planned.role = role;
            day.sessions = vec![planned];
            let text = filled(&record, &ShareDoor::sample(), "2027-05-08");
            assert!(text.contains(said), "{text}");
        }
    }

    #[test]
    fn without_a_link_no_sentence_speaks_of_one() {
        let record = sample::record(&sample::ten_k());
        for (record, door) in [(record, ShareDoor::sample()), (sample::handed_over(&sample::ten_k()), ShareDoor::Off)] {
            let text = filled(&record, &door, "2027-04-29");
            assert!(!text.contains("Every day with its reason") && !text.contains("http"), "{text}");
            assert!(text.ends_with("tell me first.\n\nRui"), "{text}");
        }
    }

    #[test]
    fn what_is_over_is_not_spoken_of_and_nothing_is_left_open() {
        let record = sample::handed_over(&sample::marathon());
        for (_, day) in moments(&record.block) {
            let text = filled(&record, &ShareDoor::sample(), &day.to_string());
            assert!(!text.contains('{') && !text.contains("\n\n\n"), "{text}");
        }
        assert!(!filled(&record, &ShareDoor::sample(), "2027-05-13").contains("hard session"));
        assert!(
            filled(&record, &ShareDoor::sample(), "2027-05-15")
                .contains("Your words on the way: patience, tall, home.")
        );
        assert!(filled(&record, &ShareDoor::sample(), "2027-05-09").contains(" mi"), "in the athlete's units");
    }
}
