//! Courses from GPX files, versions 1.0 and 1.1: text in, points with their distance along the course out.
//!
//! Whatever the bytes are, they are read or refused within limits: no document type is accepted, so nothing in a
//! file can grow or reach out; size, depth and number of points are bounded. Distance is the shortest way on the
//! ellipsoid from each point to the next (`measure`). Between segments, tracks and routes nothing is added.

mod decode;
mod measure;
mod read;

#[cfg(test)]
mod tests;

use planning::profile::{LENGTH_TOLERANCE, MeasuredPoint};
use planning::{Distance, LineShape};

/// The largest file that is read, in bytes.
pub const MOST_BYTES: usize = 10 * 1024 * 1024;

/// The most points that are read from one file.
pub const MOST_POINTS: usize = 100_000;

/// The most points of a line that are given back. Fewer change no length, each keeps where it lies.
pub const MOST_KEPT: usize = 20_000;

/// The deepest that elements may lie in each other: GPX needs six, extensions a few more.
pub const MOST_DEPTH: usize = 64;

/// One track or route of a file, measured.
#[derive(Clone, Debug, PartialEq)]
pub struct Line {
    /// `<trk>` or `<rte>`.
    pub shape: LineShape,
    /// Its own name, else the file's; may be empty.
    pub name: String,
    /// From the start on: the distance grows from each point to the next; heights in metres, nothing where the file
    /// has none. At least two points.
    pub points: Vec<MeasuredPoint>,
    /// How often it breaks off and goes on elsewhere, which adds nothing to its length.
    pub gaps: usize,
}

impl Line {
    /// How long it is.
    pub fn length(&self) -> Distance {
        self.points.last().map_or(Distance::metres(0), |last| last.along)
    }

    /// Whether any point has a height.
    pub fn has_heights(&self) -> bool {
        self.points.iter().any(|point| point.height.is_some())
    }
}

/// Which lines of a file make a course.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Taken {
    /// The file holds one.
    TheOnly,
    /// Of several the one whose length comes nearest to the official one.
    Nearest {
        /// How many there are.
        of: usize,
    },
    /// All, one after the other: none alone is about as long as the race, together they are.
    All {
        /// How many there are.
        count: usize,
    },
}

/// Reads the lines of a file that have a length: its tracks, or its routes where it has no track.
///
/// # Errors
///
/// The first thing that is wrong. Nothing of such a file is taken.
pub fn read(bytes: &[u8]) -> Result<Vec<Line>, GpxProblem> {
    if bytes.len() > MOST_BYTES {
        return Err(GpxProblem::TooLarge);
    }
    let found = read::lines(&decode::text(bytes)?)?;
    let count = found.lines.len();
    let points: usize = found.lines.iter().map(read::RawLine::count).sum();
    let measured = measure::lines(found.lines);
    if !measured.is_empty() {
        return Ok(measured);
    }
    Err(match (count, points) {
        (0, _) if found.waypoints > 0 => GpxProblem::WaypointsOnly { count: found.waypoints },
        (0, _) => GpxProblem::NoLine,
        (_, 0) => GpxProblem::EmptyLine,
        (_, 1) => GpxProblem::OnePoint,
        _ => GpxProblem::NoLength { points },
    })
}

/// The course among the lines of a file for a race of an official length.
pub fn choose(mut lines: Vec<Line>, official: Distance) -> Option<(Line, Taken)> {
    let of = lines.len();
    let off = |length: Distance| (length.as_km() / official.as_km()).ln().abs();
    let near = |length: Distance| (length.as_km() / official.as_km() - 1.0).abs() <= LENGTH_TOLERANCE;
    let nearest = (0..of).min_by(|one, other| off(lines[*one].length()).total_cmp(&off(lines[*other].length())))?;
    if of > 1 && !near(lines[nearest].length()) {
        let all = measure::joined(&lines);
        if near(all.length()) {
            return Some((all, Taken::All { count: of }));
        }
    }
    Some((lines.swap_remove(nearest), if of == 1 { Taken::TheOnly } else { Taken::Nearest { of } }))
}

/// Why a file is not taken.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum GpxProblem {
    /// There is nothing in it.
    Empty,
    /// It is larger than [`MOST_BYTES`].
    TooLarge,
    /// It names an encoding that is not known.
    UnknownEncoding {
        /// As it is written there.
        name: String,
    },
    /// It is no text in the encoding that it names, or in UTF-8 where it names none.
    NotText {
        /// The encoding.
        encoding: &'static str,
    },
    /// It is no XML, or damaged.
    NotXml {
        /// The line at which it stops being one, from 1.
        line: usize,
    },
    /// It ends before its elements do.
    BreaksOff,
    /// It brings a document type of its own.
    DocumentType,
    /// Its elements lie deeper in each other than [`MOST_DEPTH`].
    TooDeep,
    /// It is another kind of XML.
    NotGpx {
        /// The name of its first element.
        root: String,
    },
    /// It holds more than [`MOST_POINTS`].
    TooManyPoints,
    /// Neither track nor route nor point is in it.
    NoLine,
    /// It holds single points only.
    WaypointsOnly {
        /// How many.
        count: usize,
    },
    /// Its tracks and routes hold no point.
    EmptyLine,
    /// Its tracks and routes hold one point.
    OnePoint,
    /// No two of its points follow each other in different places.
    NoLength {
        /// How many points there are.
        points: usize,
    },
    /// A point without one of its coordinates.
    NoCoordinate {
        /// Which point, from 1, counted through the file.
        point: usize,
        /// Which coordinate.
        axis: Axis,
    },
    /// A coordinate that is no number, or outside of the globe.
    Coordinate {
        /// Which point, from 1, counted through the file.
        point: usize,
        /// Which coordinate.
        axis: Axis,
        /// As it is written there.
        value: String,
    },
    /// A point at 0° N, 0° E, in the open sea, which devices write while they know no position.
    NoPosition {
        /// Which point, from 1, counted through the file.
        point: usize,
    },
}

/// One of the two coordinates of a point.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Axis {
    /// Degrees north of the equator, -90 to 90.
    Latitude,
    /// Degrees east of Greenwich, -180 to 180.
    Longitude,
}

impl Axis {
    /// The attribute that holds it.
    pub const fn attribute(self) -> &'static str {
        match self {
            Self::Latitude => "lat",
            Self::Longitude => "lon",
        }
    }

    /// The largest value, in degrees either way.
    pub const fn most(self) -> f64 {
        match self {
            Self::Latitude => 90.0,
            Self::Longitude => 180.0,
        }
    }
}
