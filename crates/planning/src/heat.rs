//! What warm and cold weather mean for a race: ranges from published figures, never a promise.

use crate::units::Share;

/// A temperature in tenths of a degree Celsius.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Celsius(i16);

impl Celsius {
    /// From tenths of a degree.
    pub const fn tenths(tenths: i16) -> Self {
        Self(tenths)
    }

    /// Tenths of a degree.
    pub const fn as_tenths(self) -> i16 {
        self.0
    }
}

/// The weather as it is expected.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub struct Weather {
    /// Of the air, in the shade.
    pub air: Option<Celsius>,
    /// Wet-bulb globe temperature: air, damp, sun and wind in one number, as races measure it.
    pub wbgt: Option<Celsius>,
}

/// The flag that a race puts up for the wet-bulb globe temperature.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Flag {
    /// Below 10 degrees: risk from cold.
    White,
    /// From 10: low risk.
    Green,
    /// From 18: some risk from heat.
    Yellow,
    /// From 23: high risk.
    Red,
    /// Above 28: extreme risk; races are called off.
    Black,
}

/// The flag for a wet-bulb globe temperature.
///
/// # Source
///
/// Race flags of the American College of Sports Medicine, read in a secondary source: below 10 white,
/// below 18 green, 18 to 22 yellow, 23 to 28 red, above 28 black; from 22 to 23 the lower flag.
pub fn flag(wbgt: Celsius) -> Flag {
    match wbgt.0 {
        ..100 => Flag::White,
        100..180 => Flag::Green,
        180..230 => Flag::Yellow,
        230..=280 => Flag::Red,
        281.. => Flag::Black,
    }
}

/// By how much the best runners of marathons were slower than the record of the course.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Slowing {
    /// The wet-bulb globe temperatures of those races, from and to.
    pub wbgt: (Celsius, Celsius),
    /// The best men, on average.
    pub men: Share,
    /// By how much that differed from race to race: one standard deviation.
    pub men_spread: Share,
    /// The best women, on average; no difference between the bands was certain.
    pub women: Share,
}

impl Slowing {
    /// The best men, one standard deviation to each side.
    pub fn men_range(&self) -> (Share, Share) {
        (Share((self.men.0 - self.men_spread.0).max(0.0)), Share(self.men.0 + self.men_spread.0))
    }
}

/// What heat cost the best runners of marathons; nothing outside the temperatures that were looked at.
///
/// # Source
///
/// Ely and others 2007, Medicine and Science in Sports and Exercise 39(3), abstract: seven marathons
/// over up to 36 years; slower runners lost more than these.
pub fn slowing(wbgt: Celsius) -> Option<Slowing> {
    // From and to in tenths of a degree, men, their spread, women in per cent.
    const BANDS: [(i16, i16, f64, f64, f64); 4] =
        [(51, 100, 1.7, 1.5, 3.2), (101, 150, 2.5, 2.1, 3.2), (151, 200, 3.3, 2.0, 3.8), (201, 250, 4.5, 2.3, 5.4)];
    let (from, to, men, spread, women) = BANDS.into_iter().find(|(from, to, ..)| (*from..=*to).contains(&wbgt.0))?;
    let share = |percent: f64| Share(percent / 100.0);
    Some(Slowing {
        wbgt: (Celsius(from), Celsius(to)),
        men: share(men),
        men_spread: share(spread),
        women: share(women),
    })
}

/// Where the air stands against the temperatures at which marathons are run fastest.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Air {
    /// Colder.
    Cooler,
    /// Among them.
    Best,
    /// Warmer.
    Warmer,
}

/// The air temperatures at which marathons were run fastest, from the best runners to the others.
///
/// # Source
///
/// El Helou and others 2012, doi 10.1371/journal.pone.0037407, 1.8 million results; the range read in a
/// secondary source.
pub const FASTEST_AIR: (Celsius, Celsius) = (Celsius(38), Celsius(99));

/// Where the air stands against [`FASTEST_AIR`].
pub fn air(air: Celsius) -> Air {
    let (from, to) = FASTEST_AIR;
    if air < from {
        Air::Cooler
    } else if air <= to {
        Air::Best
    } else {
        Air::Warmer
    }
}

/// From this air temperature on a race is warm.
///
/// # Source
///
/// Common practice, no published source; the same number as the border of the yellow flag, though air
/// and wet bulb globe differ.
pub const WARM_AIR: Celsius = Celsius(180);

impl Weather {
    /// Whether a runner should begin slower and warm up less: a yellow flag or more, or warm air where no
    /// wet-bulb globe temperature is known.
    pub fn is_warm(&self) -> bool {
        match (self.wbgt, self.air) {
            (Some(wbgt), _) => flag(wbgt) >= Flag::Yellow,
            (None, Some(air)) => air >= WARM_AIR,
            (None, None) => false,
        }
    }

    /// Whether races are called off in it: a black flag.
    pub fn is_dangerous(&self) -> bool {
        self.wbgt.is_some_and(|wbgt| flag(wbgt) == Flag::Black)
    }

    /// Whether cold is what to dress for: the white flag, or cold air where nothing else is known.
    pub fn is_cold(&self) -> bool {
        match (self.wbgt, self.air) {
            (Some(wbgt), _) => flag(wbgt) == Flag::White,
            (None, Some(air)) => self::air(air) == Air::Cooler,
            (None, None) => false,
        }
    }
}

/// A few warm easy runs or baths that get a body used to heat.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Habituation {
    /// How many days with one, at least and at most.
    pub days: (u8, u8),
    /// How many days before the race they stop, at least and at most.
    pub stop: (u8, u8),
}

/// The days before the race between which there is time for it.
pub const HABITUATION_DAYS: std::ops::RangeInclusive<i64> = 4..=21;

/// Whether getting used to heat is worth a note to the coach: the air will be warm and there is time.
/// `days_left` counts to race day. It adds no running.
///
/// # Source
///
/// Getting used to heat takes 10 to 14 days: Binkley and others 2002, National Athletic Trainers'
/// Association. Fewer days help less; the numbers of days here are common practice, no published source.
pub fn habituation(weather: &Weather, days_left: i64) -> Option<Habituation> {
    let is_due = weather.air.is_some_and(|air| air >= WARM_AIR) && HABITUATION_DAYS.contains(&days_left);
    is_due.then_some(Habituation { days: (5, 10), stop: (2, 3) })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn flags_change_at_their_borders() {
        let borders = [
            (99, Flag::White, Flag::Green),
            (179, Flag::Green, Flag::Yellow),
            (229, Flag::Yellow, Flag::Red),
            (280, Flag::Red, Flag::Black),
        ];
        for (last, below, above) in borders {
            assert_eq!((flag(Celsius(last)), flag(Celsius(last + 1))), (below, above), "{last}");
        }
    }

    #[test]
    fn slowing_is_as_published_and_unknown_outside() {
        let percent = |tenths| {
            slowing(Celsius(tenths)).map(|slowing| {
                [slowing.men, slowing.men_spread, slowing.women].map(|share| (share.0 * 1000.0).round() / 10.0)
            })
        };
        assert_eq!((percent(50), percent(251)), (None, None));
        assert_eq!((percent(51), percent(100)), (Some([1.7, 1.5, 3.2]), Some([1.7, 1.5, 3.2])));
        assert_eq!((percent(101), percent(150)), (Some([2.5, 2.1, 3.2]), Some([2.5, 2.1, 3.2])));
        assert_eq!((percent(151), percent(200)), (Some([3.3, 2.0, 3.8]), Some([3.3, 2.0, 3.8])));
        assert_eq!((percent(201), percent(250)), (Some([4.5, 2.3, 5.4]), Some([4.5, 2.3, 5.4])));
    }

    #[test]
    fn air_is_best_between_its_borders() {
        let at = |tenths| air(Celsius(tenths));
        assert_eq!((at(37), at(38), at(99), at(100)), (Air::Cooler, Air::Best, Air::Best, Air::Warmer));
    }

    #[test]
    fn the_wet_bulb_globe_counts_before_the_air() {
        let weather = |air: Option<i16>, wbgt: Option<i16>| {
            let weather = Weather { air: air.map(Celsius), wbgt: wbgt.map(Celsius) };
            (weather.is_warm(), weather.is_cold())
        };
        assert_eq!(weather(Some(179), None), (false, false));
        assert_eq!(weather(Some(180), None), (true, false));
        assert_eq!(weather(Some(250), Some(179)), (false, false), "dry and in the shade");
        assert_eq!(weather(Some(150), Some(180)), (true, false), "damp and in the sun");
        assert_eq!((weather(Some(38), None), weather(Some(37), None)), ((false, false), (false, true)));
        assert_eq!((weather(None, Some(99)), weather(None, None)), ((false, true), (false, false)));
    }

    #[test]
    fn getting_used_to_heat_is_noted_while_there_is_time_and_it_will_be_warm() {
        let at = |air: Option<i16>, days| {
            habituation(&Weather { air: air.map(Celsius), wbgt: None }, days).map(|note| (note.days, note.stop))
        };
        let note = Some(((5, 10), (2, 3)));
        assert_eq!((at(Some(180), 14), at(Some(179), 14), at(None, 14)), (note, None, None));
        assert_eq!((at(Some(200), 3), at(Some(200), 4)), (None, note));
        assert_eq!((at(Some(200), 21), at(Some(200), 22)), (note, None));
    }
}
