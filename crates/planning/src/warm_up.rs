//! Getting warm before a race, by how long it is.

use crate::race::Event;

/// A warm-up; minutes and counts from the least to the most.
///
/// # Source
///
/// Common practice, no published source.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct WarmUp {
    /// Minutes of easy jogging; where it may be none, walking is enough.
    pub easy: (u8, u8),
    /// Minutes near the pace that can be held for an hour.
    pub brisk: Option<(u8, u8)>,
    /// Short strides.
    pub strides: Option<(u8, u8)>,
    /// How many minutes before the start it is over.
    pub over: (u8, u8),
    /// Whether it is shorter than usual because of the heat.
    pub is_shortened: bool,
}

/// The warm-up for an event; shorter where it is warm.
///
/// # Source
///
/// Common practice, no published source.
pub const fn warm_up(event: Event, is_warm: bool) -> WarmUp {
    let usual = match event {
        Event::FiveK | Event::TenK => {
            WarmUp { easy: (10, 20), brisk: Some((2, 4)), strides: Some((3, 5)), over: (5, 15), is_shortened: false }
        }
        Event::Half => WarmUp { easy: (5, 15), brisk: None, strides: Some((2, 3)), over: (5, 15), is_shortened: false },
        Event::Marathon | Event::Longer => {
            WarmUp { easy: (0, 10), brisk: None, strides: None, over: (5, 15), is_shortened: false }
        }
    };
    if is_warm { usual.shortened() } else { usual }
}

impl WarmUp {
    /// Half the jogging and nothing brisk.
    const fn shortened(self) -> Self {
        Self { easy: (self.easy.0 / 2, self.easy.1 / 2), brisk: None, is_shortened: true, ..self }
    }

    /// The minutes that are kept free for it in a timetable: its most, two minutes for a stride and the
    /// walk back, rounded up to five.
    pub const fn minutes(self) -> u16 {
        let brisk = if let Some((_, most)) = self.brisk { most } else { 0 };
        let strides = if let Some((_, most)) = self.strides { most * 2 } else { 0 };
        (self.easy.1 as u16 + brisk as u16 + strides as u16).div_ceil(5) * 5
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_longer_the_race_the_shorter_the_warm_up() {
        let minutes = Event::ALL.map(|event| warm_up(event, false).minutes());
        assert_eq!(minutes, [35, 35, 25, 10, 10]);
    }

    #[test]
    fn heat_shortens_every_warm_up() {
        let minutes = Event::ALL.map(|event| warm_up(event, true).minutes());
        assert_eq!(minutes, [20, 20, 15, 5, 5]);
        for event in Event::ALL {
            let (usual, warm) = (warm_up(event, false), warm_up(event, true));
            assert!(warm.is_shortened && !usual.is_shortened && warm.brisk.is_none() && warm.easy.1 < usual.easy.1);
        }
    }
}
