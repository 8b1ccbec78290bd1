//! What to take, and what has to be thought of in time.

use planning::kit::{Kit, Shoes, Travel};

use crate::words::plural;

/// Something to wear or to carry.
pub const fn kit(item: Kit) -> &'static str {
    match item {
        Kit::Shoes => "race shoes, well run in",
        Kit::Socks => "socks from long runs",
        Kit::Clothes => "clothes from long runs",
        Kit::Number => "number and pins or belt",
        Kit::Chip => "chip, where there is one",
        Kit::Watch => "watch, charged",
        Kit::Food => "food for the way",
        Kit::Chafing => "something against chafing",
        Kit::OldLayer => "old layer for the wait",
        Kit::Gloves => "gloves and headband",
        Kit::Sun => "cap and sun cream",
        Kit::Medicine => "own medicine",
        Kit::HeadLamp => "head lamp and spare power",
        Kit::StationBags => "bags for the stations",
        Kit::Layers => "layers for rain and night",
        Kit::Bottles => "bottles or cup",
        Kit::Mandatory => "what the race demands",
        Kit::DryClothes => "dry clothes for after",
    }
}

/// Something to take on the journey or to settle before it.
pub const fn travel(item: Travel) -> &'static str {
    match item {
        Travel::Papers => "entry and proof of identity",
        Travel::HandLuggage => "race shoes close at hand",
        Travel::Breakfast => "breakfast that you know",
        Travel::Charger => "charger",
        Travel::Alarms => "two alarms set",
        Travel::Way => "way to the start, noted",
        Travel::Contact => "emergency number, noted",
        Travel::WayHome => "way home, and food for it",
    }
}

/// Shoes, as far as there is something to say.
pub const fn shoes(shoes: Shoes) -> &'static str {
    match shoes {
        Shoes::BringInNow => {
            "If there are to be new race shoes, now is the time: one longer run and a few short ones in them before race day."
        }
        Shoes::SameModelOnly => {
            "It is late for new race shoes: only another pair of a model that you know, with one longer run and a few \
             short ones in it."
        }
        Shoes::RaceInKnown => "Race in a pair that you have already run far in.",
    }
}

/// Nothing new on race day, once.
pub const NOTHING_NEW: &str = "Nothing new now: shoes, socks, breakfast and drink are the ones you know.";

/// Sleep in the last nights.
pub const SLEEP: &str = "Go to bed when you usually do. The night before the race may be short; the nights before that \
                         count.";

/// Time on one's feet.
pub const FEET: &str = "Sit when you can: long walks, standing and sights keep until after the race.";

/// About how many days in the place of the race would be usual, stated and not asked for.
pub fn arrival(days: u32) -> String {
    format!(
        "The clocks at the race are other ones: about a day for each hour is usual, so about {} there. With fewer, what \
         there is has to do; keep to the meals and bedtimes of the place from the first day on.",
        plural(days as usize, "day")
    )
}
