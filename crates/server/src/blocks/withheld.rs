//! Why a block must not go to its athlete as it is, and what is said first of one that may. Messages, sheet, print and
//! every way to hand over ask here and nowhere else.

use axum::response::Response;
use chrono::NaiveDate;
use formats::words;
use planning::Race;
use store::BlockRecord;

use super::lines;
use super::load::Loaded;
use super::show::moved;
use crate::notice::{self, Notice};
use crate::paths;
use crate::shown;

/// Why a block must not go out as it is.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum Withheld {
    /// Its race is called off: nothing is planned towards it any more.
    CalledOff,
    /// Its race, which is ahead, is on another day than the block was made for: the two days, in a clause.
    Moved(String),
    /// Another goal race lies among its days, so that these are planned twice: that race, in a clause.
    GoalInside(String),
}

impl Withheld {
    /// Nothing for a block that may go out; one whose race is over may, for the record.
    pub(crate) fn of(record: &BlockRecord, today: NaiveDate) -> Option<Self> {
        let race = &record.race;
        if race.called_off.is_some() {
            return Some(Self::CalledOff);
        }
        if race.race.date < today {
            return None;
        }
        let inside = || record.goal_inside.as_ref().map(|other| Self::GoalInside(lies_inside(other)));
        moved(&record.block, race).map(Self::Moved).or_else(inside)
    }

    /// Back to the block's page, which says why, where it must not go out; from old pages and addresses, too.
    pub(crate) fn sent_back(record: &BlockRecord, today: NaiveDate) -> Option<Response> {
        Self::of(record, today).map(|_| notice::redirect(&paths::block(record.id), Notice::NotHandedOver))
    }

    /// Why, in a clause: `the race is called off`.
    pub(crate) const fn why(&self) -> &'static str {
        match self {
            Self::CalledOff => "the race is called off",
            Self::Moved(_) => "the race was moved: plan again first",
            Self::GoalInside(_) => "a goal race lies inside the block: make it anew first",
        }
    }

    /// Why a block's messages are withheld, and what brings them back.
    pub(crate) fn of_messages(&self) -> String {
        match self {
            Self::CalledOff => {
                "The race is called off, so its other messages are withheld; should it take place after \
                                all, they are back at once."
                    .to_owned()
            }
            Self::Moved(_) => "The race was moved since this block was made, so its messages are withheld: they speak \
                               of the old day. Plan again from today first."
                .to_owned(),
            Self::GoalInside(race) => {
                format!("{race}, so its messages are withheld: they speak of days that are planned twice.")
            }
        }
    }

    /// What the coach reads above a sheet; nothing where the sheet itself says it.
    fn of_sheet(&self) -> Option<String> {
        match self {
            Self::CalledOff => None,
            Self::Moved(days) => Some(format!("{days}. The sheet has the old day; plan again first.")),
            Self::GoalInside(race) => {
                Some(format!("{race}. The sheet has days that are planned twice; make the block anew first."))
            }
        }
    }
}

/// That the review says stop, in a clause, of a block that may go out all the same: it is said wherever one block can be
/// given, many at once leave it out until it is ticked, and the coach chooses.
/// `the review says stop: fever within a week of the race`.
pub(crate) fn stopped(loaded: &Loaded) -> Option<String> {
    if Withheld::of(&loaded.record, loaded.today).is_some() {
        return None;
    }
    let mut why: Vec<_> = loaded.stops().iter().map(|finding| words::stop(finding.rule)).collect();
    // Several fixed days may stop by the same rule.
    why.dedup();
    (!why.is_empty()).then(|| format!("the review says stop: {}", why.join("; ")))
}

/// What the coach reads above a sheet before it is printed; nothing where nothing speaks against it, or the sheet itself
/// says it.
pub(crate) fn before_print(loaded: &Loaded) -> Option<String> {
    match Withheld::of(&loaded.record, loaded.today) {
        Some(withheld) => withheld.of_sheet(),
        None => stopped(loaded).map(|why| format!("{}.", shown::capital(&why))),
    }
}

/// `Mill Five (Sunday 2 May) is a goal race, too, and lies inside this block`.
fn lies_inside(other: &Race) -> String {
    let (name, day) = (lines::race_name(other), words::long_date(other.date));
    format!("{name} ({day}) is a goal race, too, and lies inside this block")
}
