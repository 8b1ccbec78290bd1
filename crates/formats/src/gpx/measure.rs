//! From points on the globe to points along a course.
//!
//! # Source
//!
//! The shortest way on the WGS 84 ellipsoid after C. F. F. Karney, Algorithms for geodesics, Journal of Geodesy 87
//! (2013), 43-55, exact to nanometres, in the crate `geographiclib-rs`. `tests/reference` holds it against the
//! author's own library.

use geographiclib_rs::{Geodesic, InverseGeodesic};
use planning::profile::MeasuredPoint;
use planning::{Distance, LineShape};

use super::read::{RawLine, RawPoint};
use super::{Line, MOST_KEPT};

/// The lines that have a length: the tracks, or the routes where no track has one.
pub(super) fn lines(raw: Vec<RawLine>) -> Vec<Line> {
    let globe = Geodesic::wgs84();
    let (tracks, routes): (Vec<_>, Vec<_>) = raw.into_iter().partition(|line| line.shape == LineShape::Track);
    let measured = |lines: Vec<RawLine>| -> Vec<Line> {
        lines.into_iter().map(|line| measure(&globe, line)).filter(|line| line.points.len() > 1).collect()
    };
    let tracks = measured(tracks);
    if tracks.is_empty() { measured(routes) } else { tracks }
}

/// Metres from one point to another over the ellipsoid.
pub(super) fn metres(globe: &Geodesic, from: &RawPoint, to: &RawPoint) -> f64 {
    globe.inverse(from.latitude, from.longitude, to.latitude, to.longitude)
}

fn measure(globe: &Geodesic, line: RawLine) -> Line {
    let segments: Vec<_> = line.segments.into_iter().filter(|segment| !segment.is_empty()).collect();
    let gaps = segments.len().saturating_sub(1);
    let mut along = 0.0;
    let mut points: Vec<MeasuredPoint> = Vec::new();
    for segment in segments {
        let mut before: Option<RawPoint> = None;
        for point in segment {
            along += before.map_or(0.0, |before| metres(globe, &before, &point));
            before = Some(point);
            push(&mut points, Distance::millimetres((along * 1000.0).round() as i64), point.height);
        }
    }
    Line { shape: line.shape, name: line.name, points: thinned(points), gaps }
}

/// Adds a point; where one stands already, only a height that is missing there.
fn push(points: &mut Vec<MeasuredPoint>, along: Distance, height: Option<f64>) {
    match points.last_mut() {
        Some(last) if last.along >= along => last.height = last.height.or(height),
        _ => points.push(MeasuredPoint { along, height }),
    }
}

/// At most [`MOST_KEPT`] of the points: both ends, and of each small group one, with a height where one has it.
fn thinned(points: Vec<MeasuredPoint>) -> Vec<MeasuredPoint> {
    if points.len() <= MOST_KEPT {
        return points;
    }
    let size = (points.len() - 2).div_ceil(MOST_KEPT - 2);
    let inner = &points[1..points.len() - 1];
    let one = |group: &[MeasuredPoint]| group.iter().find(|point| point.height.is_some()).or(group.first()).copied();
    points
        .first()
        .copied()
        .into_iter()
        .chain(inner.chunks(size).filter_map(one))
        .chain(points.last().copied())
        .collect()
}

/// All lines as one, in the order of the file; between them nothing is added.
pub(super) fn joined(lines: &[Line]) -> Line {
    let mut all = Vec::new();
    let mut start = 0;
    for line in lines {
        for point in &line.points {
            push(&mut all, Distance::millimetres(start + point.along.as_millimetres()), point.height);
        }
        start += line.length().as_millimetres();
    }
    Line {
        shape: lines.first().map_or(LineShape::Track, |line| line.shape),
        name: lines.first().map(|line| line.name.clone()).unwrap_or_default(),
        points: thinned(all),
        gaps: lines.iter().map(|line| line.gaps).sum::<usize>() + lines.len().saturating_sub(1),
    }
}
