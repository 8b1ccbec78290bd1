//! What to take to a race, and what has to be thought of in time: proposals by name.

use crate::heat::Weather;
use crate::race::Event;
use crate::review::{ClockShift, travel};

/// Something to wear or to carry in the race.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Kit {
    /// Shoes that were run in.
    Shoes,
    /// Socks that were run in.
    Socks,
    /// What is worn in the race, tried on a long run.
    Clothes,
    /// The number, and what holds it.
    Number,
    /// A chip, where it is not in the number.
    Chip,
    /// A watch, charged.
    Watch,
    /// Food for the way, as practised.
    Food,
    /// Something against chafing.
    Chafing,
    /// A layer to leave at the line.
    OldLayer,
    /// Gloves and something for the ears.
    Gloves,
    /// A cap and something against the sun.
    Sun,
    /// Own medicine, as a clinician set it.
    Medicine,
    /// A head lamp with spare power.
    HeadLamp,
    /// Bags for the stations.
    StationBags,
    /// Layers for rain and night.
    Layers,
    /// A cup or bottles.
    Bottles,
    /// What the race asks everybody to carry.
    Mandatory,
    /// Dry clothes and shoes for after.
    DryClothes,
}

/// Something to take on the journey or to settle before it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Travel {
    /// Entry and proof of who one is.
    Papers,
    /// Race shoes and clothes close at hand.
    HandLuggage,
    /// Breakfast from home.
    Breakfast,
    /// A charger.
    Charger,
    /// The way to the start, looked up.
    Way,
    /// Two alarms.
    Alarms,
    /// A telephone number for an emergency.
    Contact,
    /// The way home.
    WayHome,
}

/// What to wear and to carry.
///
/// # Source
///
/// Common practice, no published source.
pub fn kit(event: Event, weather: &Weather) -> Vec<Kit> {
    let always = [Kit::Shoes, Kit::Socks, Kit::Clothes, Kit::Number, Kit::Chip, Kit::Watch];
    let longer = [Kit::HeadLamp, Kit::StationBags, Kit::Layers, Kit::Bottles, Kit::Mandatory];
    let mut kit = always.to_vec();
    if event >= Event::Half {
        kit.extend([Kit::Food, Kit::Chafing]);
    }
    if event == Event::Longer {
        kit.extend(longer);
    }
    kit.extend(weather.is_cold().then_some(Kit::Gloves));
    kit.extend(weather.is_warm().then_some(Kit::Sun));
    if !weather.is_warm() {
        kit.push(Kit::OldLayer);
    }
    kit.extend([Kit::Medicine, Kit::DryClothes]);
    kit
}

/// What to take on the journey or to settle before it.
///
/// # Source
///
/// Common practice, no published source.
pub const TRAVEL: [Travel; 8] = [
    Travel::Papers,
    Travel::HandLuggage,
    Travel::Breakfast,
    Travel::Charger,
    Travel::Alarms,
    Travel::Way,
    Travel::Contact,
    Travel::WayHome,
];

/// What is to be said of shoes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Shoes {
    /// A new pair for the race can still be run in.
    BringInNow,
    /// Only another pair of a model that is known.
    SameModelOnly,
    /// Too late for anything new.
    RaceInKnown,
}

/// What is to be said of shoes so many days before the race.
///
/// # Source
///
/// Common practice, no published source: a new pair four to six weeks before, none in the last three.
pub const fn shoes(days_left: i64) -> Option<Shoes> {
    match days_left {
        28..=42 => Some(Shoes::BringInNow),
        22..=27 => Some(Shoes::SameModelOnly),
        0..=21 => Some(Shoes::RaceInKnown),
        _ => None,
    }
}

/// How many days in the place of the race would be usual: about one for each hour that the clocks
/// differ. Nothing where the difference is hardly noticed or a zone is not known.
///
/// # Source
///
/// Common practice, no published source.
pub fn arrival_days(shift: Option<ClockShift>) -> Option<u32> {
    let minutes = shift?.minutes().unsigned_abs();
    (minutes >= travel::NOTICED).then(|| minutes.div_ceil(60))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::heat::Celsius;

    fn weather(air: i16) -> Weather {
        Weather { air: Some(Celsius::tenths(air)), wbgt: None }
    }

    #[test]
    fn longer_than_a_marathon_takes_a_lamp_bags_and_layers() {
        let extra = [Kit::HeadLamp, Kit::StationBags, Kit::Layers, Kit::Bottles, Kit::Mandatory];
        for event in Event::ALL {
            let kit = kit(event, &Weather::default());
            assert!(extra.iter().all(|item| kit.contains(item) == (event == Event::Longer)), "{event:?}");
            assert_eq!(kit.contains(&Kit::Food), event >= Event::Half, "{event:?}");
        }
    }

    #[test]
    fn the_weather_decides_what_is_worn() {
        let worn = |air| {
            let kit = kit(Event::TenK, &weather(air));
            [Kit::Gloves, Kit::OldLayer, Kit::Sun].map(|item| kit.contains(&item))
        };
        assert_eq!(worn(37), [true, true, false]);
        assert_eq!(worn(38), [false, true, false]);
        assert_eq!(worn(179), [false, true, false]);
        assert_eq!(worn(180), [false, false, true]);
    }

    #[test]
    fn nothing_is_on_a_list_twice() {
        for event in Event::ALL {
            for air in [-50, 100, 250] {
                let mut kit = kit(event, &weather(air));
                let count = kit.len();
                kit.sort();
                kit.dedup();
                assert_eq!(kit.len(), count, "{event:?} {air}");
            }
        }
    }

    #[test]
    fn new_shoes_are_for_four_to_six_weeks_before() {
        assert_eq!((shoes(43), shoes(42)), (None, Some(Shoes::BringInNow)));
        assert_eq!((shoes(28), shoes(27)), (Some(Shoes::BringInNow), Some(Shoes::SameModelOnly)));
        assert_eq!((shoes(22), shoes(21)), (Some(Shoes::SameModelOnly), Some(Shoes::RaceInKnown)));
        assert_eq!((shoes(0), shoes(-1)), (Some(Shoes::RaceInKnown), None));
    }

    #[test]
    fn about_a_day_for_each_hour_from_three_hours_on() {
        let days = |minutes| arrival_days(Some(ClockShift::ahead(minutes)));
        assert_eq!((days(179), days(180), days(210)), (None, Some(3), Some(4)));
        assert_eq!((days(-7 * 60), arrival_days(None)), (Some(7), None));
    }
}
