//! What is said of a file with a course.

use planning::LineShape;

use super::{plural, quote};
use crate::gpx::{Axis, GpxProblem, MOST_BYTES, MOST_POINTS, Taken};

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

/// What of a file was taken, as a sentence.
pub fn taken(taken: Taken, shape: LineShape) -> String {
    let shape = line_shape(shape);
    match taken {
        Taken::TheOnly => format!("Taken from the only {shape} in the file."),
        Taken::Nearest { of } => {
            format!("The file holds {of} {shape}s; taken is the one whose length comes nearest to the race's.")
        }
        Taken::All { count } => format!(
            "The file holds {count} {shape}s, none of which is as long as the race; taken are all of them, one after \
             the other."
        ),
    }
}

/// `track`, `route`.
pub fn line_shape(shape: LineShape) -> &'static str {
    match shape {
        LineShape::Track => "track",
        LineShape::Route => "route",
    }
}
