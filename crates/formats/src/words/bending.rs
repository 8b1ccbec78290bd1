//! What was bent by hand, and how variants are called.

use planning::{Block, Edit, VariantName};

use super::dates::short_date;
use super::names::kind;

/// An edit in a few words, as something that was done: `moved intervals from Tue 4 May to Wed 5 May`.
/// The block is the one before the edit.
pub fn edit(edit: &Edit, block: &Block) -> String {
    let session = |day, place: usize| {
        let planned = block.day(day).and_then(|day| day.sessions.get(place));
        planned.map_or("a session", |planned| kind(planned.session.kind))
    };
    match edit {
        Edit::Change { day, sessions, .. } if sessions.iter().all(|session| session.rest_words().is_some()) => {
            format!("made {} a rest day", short_date(*day))
        }
        Edit::Change { day, .. } => format!("changed {}", short_date(*day)),
        Edit::Move { from, place, to } => {
            format!("moved {} from {} to {}", session(*from, *place), short_date(*from), short_date(*to))
        }
        Edit::Swap { one, other } => format!("swapped {} and {}", short_date(*one), short_date(*other)),
        Edit::Remove { day, place } => format!("took {} off {}", session(*day, *place), short_date(*day)),
        Edit::Add { day, session } => format!("added {} on {}", kind(session.kind), short_date(*day)),
        Edit::Fix { day } => format!("fixed {}", short_date(*day)),
        Edit::Free { day } => format!("freed {}", short_date(*day)),
    }
}

/// What sets a variant apart.
pub const fn variant(name: VariantName) -> &'static str {
    match name {
        VariantName::AsRules => "as the rules say",
        VariantName::AsSuits => "as noted to suit",
        VariantName::Shorter => "shorter",
        VariantName::Longer => "longer",
        VariantName::Deeper => "deeper",
        VariantName::Shallower => "shallower",
        VariantName::Even => "even fall",
        VariantName::RestBefore => "rest on the day before",
        VariantName::RunBefore => "a short run on the day before",
        VariantName::NoExtraRest => "no extra rest day",
        VariantName::Early => "early fall",
        VariantName::Late => "late fall",
        VariantName::Step => "one constant cut",
        VariantName::Soonest => "deeper from the start",
        VariantName::LongShallow => "longer and shallower",
        VariantName::LongDeep => "longer and deeper",
    }
}
