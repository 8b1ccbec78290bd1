//! From text to raw lines: what stands where in the file, nothing measured yet.

use planning::LineShape;
use planning::plain::one_line;
use quick_xml::errors::SyntaxError;
use quick_xml::events::{BytesStart, Event};
use quick_xml::{Error, Reader};

use super::{Axis, GpxProblem, MOST_DEPTH, MOST_POINTS};

/// The longest text of an element that is looked at, in bytes; names are cut here.
const TEXT_MOST: usize = 200;

/// The highest and the lowest height that is one, in metres: outside lie the marks for "none" of elevation models.
const HEIGHTS: std::ops::RangeInclusive<f64> = -500.0..=9000.0;

/// A point of a file.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct RawPoint {
    /// Degrees.
    pub(super) latitude: f64,
    /// Degrees.
    pub(super) longitude: f64,
    /// Metres.
    pub(super) height: Option<f64>,
}

/// A track or a route of a file.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct RawLine {
    pub(super) shape: LineShape,
    pub(super) name: String,
    pub(super) segments: Vec<Vec<RawPoint>>,
}

impl RawLine {
    /// How many points it has.
    pub(super) fn count(&self) -> usize {
        self.segments.iter().map(Vec::len).sum()
    }
}

/// What a file holds.
#[derive(Debug, Default)]
pub(super) struct Found {
    pub(super) lines: Vec<RawLine>,
    pub(super) waypoints: usize,
    /// The name of the file as a whole.
    name: String,
}

/// Everything in the file that may be a course.
///
/// # Errors
///
/// The first thing that is wrong.
pub(super) fn lines(text: &str) -> Result<Found, GpxProblem> {
    let mut reader = Reader::from_str(text);
    let mut file = File::default();
    loop {
        let event = reader.read_event().map_err(|error| file.broken(text, reader.error_position(), &error))?;
        match event {
            Event::DocType(_) => return Err(GpxProblem::DocumentType),
            Event::Start(start) => file.open(&start)?,
            Event::Empty(start) => {
                file.open(&start)?;
                file.close();
            }
            Event::End(_) => file.close(),
            Event::Text(text) => file.add_text(&text.into_inner()),
            Event::CData(text) => file.add_text(&text.into_inner()),
            Event::GeneralRef(name) => {
                let letter = match name.resolve_char_ref() {
                    Ok(Some(letter)) => Some(letter),
                    Ok(None) => predefined(&name.into_inner()),
                    Err(_) => None,
                };
                // Without a document type there are no others; what one stood for is not known.
                file.add_text(letter.unwrap_or('\u{fffd}').encode_utf8(&mut [0; 4]));
            }
            Event::Comment(_) | Event::Decl(_) | Event::PI(_) => {}
            Event::Eof => return file.end(text),
        }
    }
}

fn not_xml(text: &str, position: u64) -> GpxProblem {
    let end = text.floor_char_boundary(usize::try_from(position).unwrap_or(text.len()));
    GpxProblem::NotXml { line: text[..end].matches('\n').count() + 1 }
}

fn predefined(name: &str) -> Option<char> {
    [("lt", '<'), ("gt", '>'), ("amp", '&'), ("apos", '\''), ("quot", '"')]
        .into_iter()
        .find_map(|(known, letter)| (known == name).then_some(letter))
}

/// An element, as far as it matters here.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Tag {
    Gpx,
    Metadata,
    Track,
    Segment,
    Route,
    Point,
    Waypoint,
    Name,
    Height,
    Other,
}

/// The file as far as it is read.
#[derive(Default)]
struct File {
    open: Vec<Tag>,
    /// Whether a first element was there.
    begun: bool,
    found: Found,
    points: usize,
    text: String,
}

impl File {
    fn open(&mut self, start: &BytesStart<'_>) -> Result<(), GpxProblem> {
        if self.open.len() >= MOST_DEPTH {
            return Err(GpxProblem::TooDeep);
        }
        let name = start.local_name();
        let name = name.as_ref();
        let tag = match (self.open.last(), name) {
            (None, "gpx") => Tag::Gpx,
            (None, _) => return Err(GpxProblem::NotGpx { root: one_line(&name.chars().take(40).collect::<String>()) }),
            (Some(Tag::Gpx), "metadata") => Tag::Metadata,
            (Some(Tag::Gpx), "trk") => Tag::Track,
            (Some(Tag::Gpx), "rte") => Tag::Route,
            (Some(Tag::Gpx), "wpt") => Tag::Waypoint,
            (Some(Tag::Track), "trkseg") => Tag::Segment,
            (Some(Tag::Segment), "trkpt") | (Some(Tag::Route), "rtept") => Tag::Point,
            (Some(Tag::Gpx | Tag::Metadata | Tag::Track | Tag::Route), "name") => Tag::Name,
            (Some(Tag::Point), "ele") => Tag::Height,
            _ => Tag::Other,
        };
        let line = |shape, segments| RawLine { shape, name: String::new(), segments };
        match tag {
            Tag::Track => self.found.lines.push(line(LineShape::Track, Vec::new())),
            Tag::Route => self.found.lines.push(line(LineShape::Route, vec![Vec::new()])),
            Tag::Segment => {
                if let Some(line) = self.found.lines.last_mut() {
                    line.segments.push(Vec::new());
                }
            }
            Tag::Point => self.point(start)?,
            Tag::Waypoint => self.found.waypoints += 1,
            Tag::Name | Tag::Height => self.text.clear(),
            Tag::Gpx | Tag::Metadata | Tag::Other => {}
        }
        self.begun = true;
        self.open.push(tag);
        Ok(())
    }

    fn close(&mut self) {
        match (self.open.pop(), self.open.last()) {
            (Some(Tag::Name), Some(Tag::Track | Tag::Route)) => {
                if let Some(line) = self.found.lines.last_mut() {
                    line.name = one_line(&self.text);
                }
            }
            (Some(Tag::Name), _) if self.found.name.is_empty() => self.found.name = one_line(&self.text),
            (Some(Tag::Height), _) => {
                let height = self.text.trim().parse().ok().filter(|height| HEIGHTS.contains(height));
                let segment = self.found.lines.last_mut().and_then(|line| line.segments.last_mut());
                if let Some(point) = segment.and_then(|points| points.last_mut()) {
                    point.height = height;
                }
            }
            _ => {}
        }
    }

    fn add_text(&mut self, text: &str) {
        if matches!(self.open.last(), Some(Tag::Name | Tag::Height)) {
            let room = TEXT_MOST.saturating_sub(self.text.len());
            self.text.push_str(&text[..text.floor_char_boundary(room)]);
        }
    }

    fn point(&mut self, start: &BytesStart<'_>) -> Result<(), GpxProblem> {
        self.points += 1;
        if self.points > MOST_POINTS {
            return Err(GpxProblem::TooManyPoints);
        }
        let (mut latitude, mut longitude) = (None, None);
        // To look for one that stands twice costs the square of their number; the first counts.
        for attribute in start.attributes().with_checks(false).flatten() {
            let place = match attribute.key.as_ref() {
                "lat" => &mut latitude,
                "lon" => &mut longitude,
                _ => continue,
            };
            if place.is_none() {
                *place = Some(attribute.value.into_owned());
            }
        }
        let latitude = self.coordinate(Axis::Latitude, latitude)?;
        let longitude = self.coordinate(Axis::Longitude, longitude)?;
        if latitude == 0.0 && longitude == 0.0 {
            return Err(GpxProblem::NoPosition { point: self.points });
        }
        if let Some(points) = self.found.lines.last_mut().and_then(|line| line.segments.last_mut()) {
            points.push(RawPoint { latitude, longitude, height: None });
        }
        Ok(())
    }

    fn coordinate(&self, axis: Axis, value: Option<String>) -> Result<f64, GpxProblem> {
        let value = value.ok_or(GpxProblem::NoCoordinate { point: self.points, axis })?;
        let read: Option<f64> = value.trim().parse().ok();
        let inside = |degrees: &f64| (-axis.most()..=axis.most()).contains(degrees);
        read.filter(inside).ok_or(GpxProblem::Coordinate { point: self.points, axis, value })
    }

    /// What is wrong with a text that cannot be read on.
    fn broken(&self, text: &str, position: u64, error: &Error) -> GpxProblem {
        match error {
            Error::Syntax(SyntaxError::UnclosedDoctype) => GpxProblem::DocumentType,
            // All other marks that are opened and not closed run to the end of the text.
            Error::Syntax(unclosed) if self.begun && *unclosed != SyntaxError::InvalidBangMarkup => {
                GpxProblem::BreaksOff
            }
            _ => not_xml(text, position),
        }
    }

    fn end(mut self, text: &str) -> Result<Found, GpxProblem> {
        if !self.begun {
            return Err(not_xml(text, 0));
        }
        if !self.open.is_empty() {
            return Err(GpxProblem::BreaksOff);
        }
        for line in self.found.lines.iter_mut().filter(|line| line.name.is_empty()) {
            line.name.clone_from(&self.found.name);
        }
        Ok(self.found)
    }
}
