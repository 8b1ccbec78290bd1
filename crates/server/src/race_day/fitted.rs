//! The course of a race as it is paced on.

use planning::{Distance, ProblemKind, Profile};
use store::Course;

/// How far the course of a race can be used.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Fit {
    /// None is kept.
    Unknown,
    /// It fits, with heights.
    Measured,
    /// It fits, but the file had no heights.
    WithoutHeights,
    /// It is too short or too long for the race as it is now, or no course at all.
    OfOtherLength(ProblemKind),
}

/// The profile on which a race of an official length is paced: flat wherever no course can be used.
pub(crate) fn fitted(course: Option<&Course>, official: Distance) -> (Profile, Fit) {
    let Some(course) = course else { return (Profile::flat(official), Fit::Unknown) };
    match Profile::fit(&course.points, official) {
        Ok(profile) if profile.has_heights() => (profile, Fit::Measured),
        Ok(profile) => (profile, Fit::WithoutHeights),
        Err(kind) => (Profile::flat(official), Fit::OfOtherLength(kind)),
    }
}

#[cfg(test)]
mod tests {
    use planning::{LineShape, MeasuredPoint};

    use super::*;

    fn course(metres: i64, height: Option<f64>) -> Course {
        let point = |along, height| MeasuredPoint { along: Distance::metres(along), height };
        let points = vec![point(0, height), point(metres, height.map(|height| height + 90.0))];
        Course { shape: LineShape::Track, file_name: String::new(), points }
    }

    #[test]
    fn a_course_that_cannot_be_used_is_paced_as_flat_and_said() {
        let official = Distance::metres(10_000);
        let ground = |course: Option<Course>| {
            let (profile, ground) = fitted(course.as_ref(), official);
            assert_eq!(profile.length(), official);
            (profile.has_heights(), ground)
        };
        assert_eq!(ground(None), (false, Fit::Unknown));
        assert_eq!(ground(Some(course(10_100, Some(5.0)))), (true, Fit::Measured));
        assert_eq!(ground(Some(course(10_100, None))), (false, Fit::WithoutHeights));
        let (flat, other) = ground(Some(course(21_100, Some(5.0))));
        assert!(!flat && matches!(other, Fit::OfOtherLength(ProblemKind::CourseOfOtherLength { .. })), "{other:?}");
    }
}
