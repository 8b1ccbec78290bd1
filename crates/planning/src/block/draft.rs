//! A block in the making: the calendar with everything that the steps decide.

use chrono::NaiveDate;

use crate::block::{Day, Dropped, Planned, Reason, Role, race_week};
use crate::session::{Kind, Session};
use crate::units::{Milli, Share};

/// A day in the making.
#[derive(Clone, Debug)]
pub(super) struct DraftDay {
    pub(super) date: NaiveDate,
    pub(super) to_race: u16,
    pub(super) stands: Stands,
    pub(super) usual: Vec<Session>,
    pub(super) items: Vec<Item>,
    pub(super) dropped: Vec<Dropped>,
}

/// Whether a day can still be changed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Stands {
    /// It can.
    Free,
    /// The coach fixed it.
    Fixed,
    /// It lies behind.
    Behind,
}

/// A session in the making.
#[derive(Clone, Debug)]
pub(super) struct Item {
    /// Which slot of its weekday it comes from: the same slot a week later may not be longer.
    pub(super) place: usize,
    /// What usually stands here.
    pub(super) usual: Option<Session>,
    /// What is planned; its amount is still the usual one until amounts are given.
    pub(super) session: Session,
    pub(super) role: Role,
    /// A long slot: takes up nothing.
    pub(super) long: bool,
    pub(super) sizing: Sizing,
    pub(super) hard: HardRule,
    /// Upper bounds that the shape sets, each with its reason.
    pub(super) caps: Vec<(Milli, Reason)>,
    pub(super) why: Vec<Reason>,
    /// What its note was written for, where that is not what usually stands here.
    pub(super) written_for: Option<Session>,
}

/// How an item comes by its amount.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Sizing {
    /// Exactly as it stands: before the block, pinned, a time trial, no running.
    Fixed,
    /// Share of the usual, between bounds.
    Ebb,
    /// This amount or a little more.
    AtLeast(Milli),
    /// This amount or less.
    About(Milli),
}

/// What becomes of the hard part.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum HardRule {
    /// As the session stands.
    AsIs,
    /// In proportion to the amount, at most this share of the usual hard part.
    Follow(Share),
    /// This share of the usual hard part, whatever the amount.
    Exactly(Share),
}

impl Item {
    /// An item that stays as usual.
    pub(super) fn as_usual(place: usize, usual: &Session) -> Self {
        Self {
            place,
            usual: Some(usual.clone()),
            session: usual.clone(),
            role: Role::Plain,
            long: false,
            sizing: Sizing::Fixed,
            hard: HardRule::AsIs,
            caps: Vec::new(),
            why: Vec::new(),
            written_for: None,
        }
    }

    pub(super) fn is_running(&self) -> bool {
        self.session.kind.is_running()
    }

    /// Whether the coach said what is hard in it, so that its warm-up and cool-down are known. A long run with a hard part
    /// has none: it comes down as long runs do. Nor has a touch of quick running in an easy run, unless the coach wrote it.
    pub(super) fn keeps_its_warm_up(&self) -> bool {
        let is_told = self.session.hard.is_some() || self.session.holds_hard_sets();
        let is_touch = self.session.is_hard_by_a_touch() && self.session.warm_up_and_cool_down() == Milli::ZERO;
        is_told && !is_touch && !self.long && self.session.kind != Kind::Long && self.session.is_hard()
    }

    /// Takes the hard part out, and with it the sets and the note that go with them.
    pub(super) fn ease(&mut self, kind: Kind) {
        self.session.kind = kind;
        self.session.hard = None;
        self.session.sets.clear();
        self.session.note.clear();
        self.hard = HardRule::AsIs;
    }
}

impl Item {
    /// A note that was written for another kind of session, for its hard running or its load, says nothing true of
    /// what stands here now; nor do the amounts in that of a longer one.
    fn with_true_note(mut self) -> Self {
        let written_for = self.written_for.as_ref().or(self.usual.as_ref());
        if let Some(usual) = written_for.filter(|usual| usual.note == self.session.note)
            && self.role != Role::OtherRace
        {
            if self.session.is_of_the_sort_of(usual) {
                self.session.keep_note_true(usual);
            } else {
                self.session.note.clear();
            }
        }
        self
    }
}

/// A note without "AM" or "PM".
fn without_half_of_day(note: &str) -> String {
    let is_half =
        |piece: &&str| ["am", "pm", "a.m.", "p.m."].iter().any(|half| piece.trim().eq_ignore_ascii_case(half));
    if !note.split(", ").any(|piece| is_half(&piece)) {
        return note.to_owned();
    }
    note.split(", ").filter(|piece| !is_half(piece)).collect::<Vec<_>>().join(", ")
}

impl DraftDay {
    /// Whether it can no longer be changed.
    pub(super) fn is_settled(&self) -> bool {
        self.stands != Stands::Free
    }

    /// Whether it is one of the days of race week before the race.
    pub(super) fn leads_up(&self) -> bool {
        race_week::leads_up(self.to_race)
    }

    pub(super) fn runs(&self) -> bool {
        self.items.iter().any(Item::is_running)
    }

    /// Whether all that is run on it is optional.
    pub(super) fn is_optional(&self) -> bool {
        let usual = |item: &Item| item.usual.as_ref().is_some_and(Session::is_optional);
        self.runs() && self.items.iter().filter(|item| item.is_running()).all(usual)
    }

    pub(super) fn is_hard(&self) -> bool {
        self.items.iter().any(|item| item.session.is_hard())
    }

    pub(super) fn holds_a_race(&self) -> bool {
        self.items.iter().any(|item| item.role == Role::OtherRace)
    }

    pub(super) fn run_count(&self) -> usize {
        self.items.iter().filter(|item| item.is_running()).count()
    }

    /// Removes the items that match, each with the reason.
    pub(super) fn drop_items(&mut self, reason: Reason, matches: impl Fn(&Item) -> bool) -> Vec<Item> {
        if !self.items.iter().any(&matches) {
            return Vec::new();
        }
        let (gone, kept): (Vec<Item>, Vec<Item>) = std::mem::take(&mut self.items).into_iter().partition(matches);
        self.items = kept;
        for item in &gone {
            if let Some(usual) = &item.usual {
                self.dropped.push(Dropped { usual: usual.clone(), why: vec![reason] });
            }
        }
        gone
    }

    /// The day as it leaves the planner.
    pub(super) fn finish(mut self) -> Day {
        Session::without_rest(&mut self.items, |item| &item.session);
        if let (Stands::Free, [only], true) = (self.stands, self.items.as_mut_slice(), self.usual.len() > 1) {
            // The other half of the day is left out: nothing has to be told apart.
            only.session.note = without_half_of_day(&only.session.note);
        }
        let sessions = self
            .items
            .into_iter()
            .map(|item| {
                let item = if self.stands == Stands::Free { item.with_true_note() } else { item };
                let unchanged = item.usual.as_ref() == Some(&item.session);
                let why =
                    if unchanged { item.why.into_iter().filter(Reason::is_not_a_change).collect() } else { item.why };
                Planned { session: item.session, usual: item.usual, role: item.role, why }
            })
            .collect();
        Day {
            date: self.date,
            to_race: self.to_race,
            pinned: self.stands == Stands::Fixed,
            usual: self.usual,
            sessions,
            dropped: self.dropped,
        }
    }
}
