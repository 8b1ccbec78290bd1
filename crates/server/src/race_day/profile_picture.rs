//! The picture of a course: its heights from start to finish, with marks below.
//!
//! This module turns a profile into lengths and words; `templates/race_day/profile.html` draws them with
//! `css/profile.css`. Whoever shows it says the same facts beside it.

use formats::words;
use planning::{Distance, DistanceUnit, Profile};
use serde::{Deserialize, Serialize};

use crate::blocks::picture::Length;

/// The picture's own units: wide as a page, text sized by the style sheet.
const WIDTH: f64 = 720.0;
const HEIGHT: f64 = 216.0;
/// Where the course begins, right of the words for heights, and ends.
const LEFT: f64 = 64.0;
const RIGHT: f64 = WIDTH - 40.0;
/// Between these the heights lie; the words of the marks stand below.
const TOP: f64 = 16.0;
const BOTTOM: f64 = HEIGHT - 36.0;

/// The least difference of heights that fills the picture, in metres: on less a flat course would look like a hill.
const LEAST_SPAN: f64 = 60.0;

/// How many straight pieces the line is drawn with.
const PIECES: usize = 240;

/// The picture, ready to draw.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub(crate) struct ProfilePicture {
    pub(crate) width: Length,
    pub(crate) height: Length,
    pub(crate) left: Length,
    pub(crate) right: Length,
    pub(crate) bottom: Length,
    /// Where the words of the marks stand.
    pub(crate) words: Length,
    /// The line of the heights.
    pub(crate) line: String,
    /// The same, closed along the ground.
    pub(crate) ground: String,
    pub(crate) levels: Vec<Level>,
    pub(crate) marks: Vec<MarkLine>,
    /// Stretches of the race over it; none where they do not matter.
    pub(crate) stretches: Vec<StretchSpan>,
    pub(crate) title: String,
    pub(crate) description: String,
}

/// A stretch of the race.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub(crate) struct StretchSpan {
    /// Where it begins.
    pub(crate) from: Length,
    /// Its middle, where its name stands.
    pub(crate) middle: Length,
    pub(crate) name: String,
}

/// A height at which a line is drawn across.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub(crate) struct Level {
    pub(crate) y: Length,
    pub(crate) label: String,
}

/// A place along the course to be marked, with a short word.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct ProfileMark {
    /// Where.
    pub(crate) at: Distance,
    /// What stands below it; may be empty.
    pub(crate) label: String,
}

/// A mark as it is drawn.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub(crate) struct MarkLine {
    pub(crate) x: Length,
    /// Where it meets the line of the heights.
    pub(crate) y: Length,
    pub(crate) label: String,
}

impl ProfilePicture {
    /// The picture of a course in the reader's units; nothing where no heights are known.
    pub(crate) fn of(profile: &Profile, units: DistanceUnit, marks: &[ProfileMark]) -> Option<Self> {
        let (low, high) = profile.range()?;
        let scale = Scale::of(low, high, profile.length());
        let points: Vec<String> = (0..=PIECES)
            .map(|piece| {
                let at = profile.length().as_millimetres() * piece as i64 / PIECES as i64;
                let at = Distance::millimetres(at);
                format!("{} {}", scale.x(at), scale.y(profile.height_at(at)))
            })
            .collect();
        let line = format!("M{}", points.join("L"));
        let ground = format!("{line}L{} {b}L{} {b}Z", Length(RIGHT), Length(LEFT), b = Length(BOTTOM));
        let marks = marks
            .iter()
            .filter(|mark| mark.at <= profile.length())
            .map(|mark| MarkLine {
                x: scale.x(mark.at),
                y: scale.y(profile.height_at(mark.at)),
                label: mark.label.clone(),
            })
            .collect();
        Some(Self {
            width: Length(WIDTH),
            height: Length(HEIGHT),
            left: Length(LEFT),
            right: Length(RIGHT),
            bottom: Length(BOTTOM),
            words: Length(BOTTOM + 24.0),
            line,
            ground,
            levels: scale.levels(units),
            marks,
            stretches: Vec::new(),
            title: "Heights along the course".to_owned(),
            description: describe(profile, units),
        })
    }
}

impl ProfilePicture {
    /// The same with the stretches of the race: where each begins, and its name.
    pub(crate) fn with_stretches(mut self, profile: &Profile, stretches: &[(Distance, &str)]) -> Self {
        let length = profile.length();
        let x =
            |at: Distance| Length(LEFT + (RIGHT - LEFT) * at.as_millimetres() as f64 / length.as_millimetres() as f64);
        let end = |place: usize| stretches.get(place + 1).map_or(length, |(next, _)| *next);
        let span = |(place, (from, name)): (usize, &(Distance, &str))| StretchSpan {
            from: x(*from),
            middle: Length(f64::midpoint(x(*from).0, x(end(place)).0)),
            name: (*name).to_owned(),
        };
        self.stretches = stretches.iter().enumerate().map(span).collect();
        self
    }
}

/// The climbing in a sentence: the same facts as the picture.
pub(crate) fn describe(profile: &Profile, units: DistanceUnit) -> String {
    let height = |metres| words::height(metres, units);
    let Some((low, high)) = profile.range() else {
        return "No heights are known: taken as flat.".to_owned();
    };
    let ends = format!(
        "It starts at {} and ends at {}; the lowest point is at {}, the highest at {}.",
        height(profile.height_at(Distance::metres(0))),
        height(profile.height_at(profile.length())),
        height(low),
        height(high)
    );
    match (profile.climb(), profile.descent()) {
        (0.0, 0.0) => format!("Flat: no climb that counts, once the measured heights are smoothed. {ends}"),
        (climb, descent) => {
            let (climb, descent) = (height(climb), height(descent));
            format!("Smoothed, it climbs {climb} and falls {descent} in all. {ends}")
        }
    }
}

/// From places and heights to the picture's units.
#[derive(Clone, Copy, Debug)]
struct Scale {
    low: f64,
    high: f64,
    length: f64,
}

impl Scale {
    fn of(low: f64, high: f64, length: Distance) -> Self {
        let lacking = (LEAST_SPAN - (high - low)).max(0.0) / 2.0;
        Self { low: low - lacking, high: high + lacking, length: length.as_km() }
    }

    fn x(self, at: Distance) -> Length {
        Length(LEFT + (RIGHT - LEFT) * at.as_km() / self.length)
    }

    fn y(self, metres: f64) -> Length {
        Length(BOTTOM - (BOTTOM - TOP) * (metres - self.low) / (self.high - self.low))
    }

    /// Two to six round heights.
    fn levels(self, units: DistanceUnit) -> Vec<Level> {
        let metres = match units {
            DistanceUnit::Km => 1.0,
            DistanceUnit::Mi => 0.3048,
        };
        let (low, high) = (self.low / metres, self.high / metres);
        let steps = [20.0, 50.0, 100.0, 200.0, 500.0, 1000.0, 2000.0, 5000.0];
        let step = steps.into_iter().find(|step| (high - low) / step <= 5.0).unwrap_or(10_000.0);
        let first = (low / step).ceil() as i64;
        let last = (high / step).floor() as i64;
        (first..=last)
            .map(|count| count as f64 * step * metres)
            .map(|height| Level { y: self.y(height), label: words::height(height, units) })
            .collect()
    }
}

#[cfg(test)]
mod tests {
    use planning::MeasuredPoint;

    use super::*;

    fn hill(top: f64) -> Profile {
        let point = |metres, height| MeasuredPoint { along: Distance::metres(metres), height: Some(height) };
        let points = [point(0, 20.0), point(5_000, top), point(10_000, 20.0)];
        Profile::fit(&points, Distance::metres(10_000)).unwrap()
    }

    #[test]
    fn a_hill_stands_in_the_middle_with_round_heights_beside_it() {
        let marks = [5_000, 10_000, 12_000].map(|at| ProfileMark { at: Distance::metres(at), label: at.to_string() });
        let picture = ProfilePicture::of(&hill(220.0), DistanceUnit::Km, &marks).unwrap();
        let labels: Vec<_> = picture.levels.iter().map(|level| level.label.as_str()).collect();
        assert_eq!(labels, ["50 m", "100 m", "150 m", "200 m"]);
        let [middle, end] = &picture.marks[..] else { panic!("a mark beyond the finish is left out") };
        assert_eq!((middle.x, end.x), (Length(372.0), Length(RIGHT)));
        assert!(middle.y < end.y && middle.y >= Length(TOP), "{middle:?}");
        assert!(picture.description.starts_with("Smoothed, it climbs 19"), "{}", picture.description);
        let feet = ProfilePicture::of(&hill(220.0), DistanceUnit::Mi, &[]).unwrap();
        assert!(feet.levels.iter().all(|level| level.label.ends_with("00 ft")), "{:?}", feet.levels);
    }

    #[test]
    fn a_flat_course_looks_flat_and_is_said_to_be() {
        let picture = ProfilePicture::of(&hill(21.0), DistanceUnit::Km, &[]).unwrap();
        let heights: Vec<f64> =
            picture.line[1..].split('L').map(|point| point.split_once(' ').unwrap().1.parse().unwrap()).collect();
        let (low, high) = heights.iter().fold((f64::MAX, f64::MIN), |(low, high), y| (low.min(*y), high.max(*y)));
        assert!(high - low < 4.0, "{low} to {high}");
        assert!(picture.description.starts_with("Flat:"), "{}", picture.description);
        assert_eq!(ProfilePicture::of(&Profile::flat(Distance::metres(5000)), DistanceUnit::Km, &[]), None);
    }
}
