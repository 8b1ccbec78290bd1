//! What is said of a file with a course.

use planning::{Distance, DistanceUnit, LineShape, Place};

use super::{plural, quote};
use crate::gpx::{Axis, GpxProblem, MOST_BYTES, MOST_POINTS};

/// Why a file is not taken, as a sentence or two: what is wrong, and what to do.
pub fn gpx_problem(problem: &GpxProblem) -> String {
    const AGAIN: &str = "Save the course as GPX once more, and choose that file.";
    match problem {
        GpxProblem::Empty => "The file is empty. Choose one with a course in it.".to_owned(),
        GpxProblem::TooLarge => {
            format!("The file is larger than {} MB; more is not taken. {AGAIN}", MOST_BYTES / 1_048_576)
        }
        GpxProblem::UnknownEncoding { name } => {
            format!("The file says that its text is in “{}”, which is not known here. Save it in UTF-8.", quote(name))
        }
        GpxProblem::NotText { encoding } => {
            format!("The file is no text in {encoding}: it is damaged, or no GPX file. {AGAIN}")
        }
        GpxProblem::NotXml { line } => {
            format!("From line {line} on the file cannot be read: it is damaged, or no GPX file. {AGAIN}")
        }
        GpxProblem::BreaksOff => format!("The file breaks off before its end. {AGAIN}"),
        GpxProblem::DocumentType => {
            "The file brings a document type (DOCTYPE) of its own, which GPX does not need and which is not taken here. \
             Save the course as GPX once more, without it."
                .to_owned()
        }
        GpxProblem::TooDeep => format!("The elements of the file lie too deep in each other for a course. {AGAIN}"),
        GpxProblem::NotGpx { root } => {
            format!("This is no GPX file: its first element is “{}” where “gpx” should be. {AGAIN}", quote(root))
        }
        GpxProblem::TooManyPoints => {
            format!("The file holds more than {MOST_POINTS} points. Save the course with fewer, one every few metres.")
        }
        GpxProblem::NoLine => format!("The file holds no course: no track, no route, no point. {AGAIN}"),
        GpxProblem::WaypointsOnly { count } => format!(
            "The file holds {} only, no track and no route, so nobody can tell the way from one to the next. {AGAIN}",
            plural(*count, "single point")
        ),
        GpxProblem::EmptyLine => format!("The track or route in the file has no points. {AGAIN}"),
        GpxProblem::OnePoint => format!("The file holds one point of a course; a course needs two or more. {AGAIN}"),
        GpxProblem::NoLength { points } => format!(
            "The {points} points in the file give no length: all lie in one place, or each stands alone in its \
             segment. {AGAIN}"
        ),
        GpxProblem::NoCoordinate { point, axis: which } => {
            format!("Point {point} has no {}. {AGAIN}", axis(*which))
        }
        GpxProblem::Coordinate { point, axis: which, value } => {
            let (name, most) = (axis(*which), which.most());
            format!("Point {point}: “{}” is not a {name} between -{most} and {most} degrees. {AGAIN}", quote(value))
        }
        GpxProblem::NoPosition { point } => format!(
            "Point {point} lies at latitude 0 and longitude 0, in the open sea: a device writes that while it does not \
             know where it is. Take the point out, and choose the file again."
        ),
    }
}

fn axis(axis: Axis) -> &'static str {
    match axis {
        Axis::Latitude => "latitude",
        Axis::Longitude => "longitude",
    }
}

/// `track`, `route`.
pub fn line_shape(shape: LineShape) -> &'static str {
    match shape {
        LineShape::Track => "track",
        LineShape::Route => "route",
    }
}

/// A length as it was measured, to the hundredth: `21.15 km`.
pub fn measured(length: Distance, units: DistanceUnit) -> String {
    format!("{:.2} {}", length.as_millimetres() as f64 / units.millimetres() as f64, units.symbol())
}

/// The official length of a race, as exactly as it is laid down: `42.195 km`, `21.0975 km`.
pub fn official(length: Distance, units: DistanceUnit) -> String {
    let exact = format!("{:.4}", length.as_millimetres() as f64 / units.millimetres() as f64);
    format!("{} {}", exact.trim_end_matches('0').trim_end_matches('.'), units.symbol())
}

/// A place on a course by how far it is, to the tenth, as markers stand: `5 km`, `21.1 km`, `3.1 mi`.
pub fn place(at: Distance, units: DistanceUnit) -> String {
    let value = at.as_millimetres() as f64 / units.millimetres() as f64;
    format!("{} {}", super::short_number(value), units.symbol())
}

/// A place of a race as it was typed, and its end without the millimetres: `12.5 km`, `21.1 km`.
pub fn race_place(typed: Place, length: Distance) -> String {
    if typed.distance() == length {
        return place(length, typed.unit());
    }
    format!("{} {}", super::number(typed.value()), typed.unit().symbol())
}

/// Metres in one foot: the international yard and pound agreement of 1959.
const FOOT: f64 = 0.3048;

/// A height or a difference of heights in whole metres, or in feet beside miles: `34 m`, `112 ft`.
pub fn height(metres: f64, units: DistanceUnit) -> String {
    let (value, unit) = match units {
        DistanceUnit::Km => (metres, "m"),
        DistanceUnit::Mi => (metres / FOOT, "ft"),
    };
    // No "-0".
    let value = value.round();
    format!("{} {unit}", if value == 0.0 { 0.0 } else { value })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn places_are_said_as_typed_and_the_finish_without_millimetres() {
        let half = Distance::millimetres(21_097_500);
        let typed = |value| Place::within(planning::Milli(value), DistanceUnit::Km, half).unwrap();
        assert_eq!(
            (race_place(typed(12_525), half), race_place(typed(21_098), half)),
            ("12.525 km".into(), "21.1 km".into())
        );
    }

    #[test]
    fn lengths_and_heights_are_said_in_the_units_of_the_reader() {
        let half = Distance::millimetres(21_097_500);
        assert_eq!(
            (measured(half, DistanceUnit::Km), measured(half, DistanceUnit::Mi)),
            ("21.10 km".into(), "13.11 mi".into())
        );
        assert_eq!(
            (place(half, DistanceUnit::Km), place(Distance::metres(5000), DistanceUnit::Km)),
            ("21.1 km".into(), "5 km".into())
        );
        assert_eq!(place(planning::RaceDistance::Marathon.distance(), DistanceUnit::Mi), "26.2 mi");
        for (metres, km, miles) in [(34.4, "34 m", "113 ft"), (-0.1, "0 m", "0 ft"), (-12.0, "-12 m", "-39 ft")] {
            assert_eq!((height(metres, DistanceUnit::Km), height(metres, DistanceUnit::Mi)), (km.into(), miles.into()));
        }
    }
}
