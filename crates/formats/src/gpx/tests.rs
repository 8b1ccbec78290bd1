use std::fmt::Write;

use proptest::prelude::*;

use super::*;
use crate::words;

fn track(points: &str) -> String {
    format!(
        "<?xml version=\"1.0\"?><gpx version=\"1.1\" xmlns=\"http://www.topografix.com/GPX/1/1\"><trk>\
         <name>Larkmere Half</name><trkseg>{points}</trkseg></trk></gpx>"
    )
}

/// A point so many hundredths of a degree along the equator.
fn at(hundredths: usize, height: &str) -> String {
    let height = if height.is_empty() { String::new() } else { format!("<ele>{height}</ele>") };
    format!("<trkpt lat=\"0\" lon=\"{}\">{height}</trkpt>", (hundredths + 1) as f64 / 100.0)
}

fn only(file: &str) -> Line {
    let mut lines = read(file.as_bytes()).unwrap_or_else(|problem| panic!("{problem:?}: {file}"));
    assert_eq!(lines.len(), 1, "{file}");
    lines.remove(0)
}

fn metres(line: &Line) -> f64 {
    line.length().as_km() * 1000.0
}

fn refused(file: &str) -> GpxProblem {
    read(file.as_bytes()).err().unwrap_or_else(|| panic!("taken: {file}"))
}

/// A hundredth of a degree of the equator: its radius on WGS 84 is 6378137 m.
const HUNDREDTH: f64 = 6_378_137.0 * std::f64::consts::PI / 18_000.0;

#[test]
fn a_track_without_times_is_measured_along_the_ellipsoid_with_its_heights() {
    let line = only(&track(&[at(0, "12.5"), at(1, ""), at(3, "-3")].concat()));
    assert_eq!((line.shape, line.name.as_str(), line.gaps), (LineShape::Track, "Larkmere Half", 0));
    let heights: Vec<_> = line.points.iter().map(|point| point.height).collect();
    assert_eq!(heights, [Some(12.5), None, Some(-3.0)], "missing is missing, not zero");
    assert!((metres(&line) - 3.0 * HUNDREDTH).abs() < 0.001, "{}", metres(&line));
    assert_eq!(line.points[0].along, Distance::metres(0));
}

/// Karney, Algorithms for geodesics (2013), the worked direct problem: 10,000 km from 40° N with an azimuth of 30°.
/// The digits of its end are from memory; his own library gives the same.
#[test]
fn a_published_geodesic_comes_out_to_the_millimetre() {
    let line = only(&track("<trkpt lat=\"40\" lon=\"0\"/><trkpt lat=\"41.79331020506\" lon=\"137.84490004377\"/>"));
    assert!((metres(&line) - 10_000_000.0).abs() <= 0.001, "{}", metres(&line));
}

/// `tests/reference/geodesic.py` wrote the file with the library of the method's author.
#[test]
fn an_outside_library_measures_the_same() {
    let rows = include_str!("../../../../tests/reference/geodesic.csv").lines().skip(1);
    let globe = geographiclib_rs::Geodesic::wgs84();
    let (mut course, mut points, mut count) = (0.0, String::new(), 0);
    for row in rows {
        let [kind, numbers @ ..] = &row.split(',').collect::<Vec<_>>()[..] else { panic!("{row}") };
        let [latitude, longitude, to_latitude, to_longitude, expected] =
            numbers.iter().map(|number| number.parse::<f64>().unwrap()).collect::<Vec<_>>()[..]
        else {
            panic!("{row}")
        };
        let point = |latitude, longitude| super::read::RawPoint { latitude, longitude, height: None };
        let ours = measure::metres(&globe, &point(latitude, longitude), &point(to_latitude, to_longitude));
        assert!((ours - expected).abs() < 0.0001, "{row}: {ours}");
        if *kind == "course" {
            if points.is_empty() {
                points = format!("<trkpt lat=\"{latitude}\" lon=\"{longitude}\"/>");
            }
            write!(points, "<trkpt lat=\"{to_latitude}\" lon=\"{to_longitude}\"/>").unwrap();
            course += expected;
        }
        count += 1;
    }
    assert_eq!(count, 843);
    let line = only(&track(&points));
    assert!((metres(&line) - course).abs() < 0.001, "{} instead of {course}", metres(&line));
}

#[test]
fn both_versions_any_prefix_and_routes_are_read() {
    let old = "<gpx version='1.0' xmlns='http://www.topografix.com/GPX/1/0'><name>All of it</name><trk><trkseg>\
               <trkpt lat='50' lon='8'><ele>100</ele></trkpt><trkpt lat='50' lon='8.1'/></trkseg></trk></gpx>";
    let prefixed = "<x:gpx xmlns:x='http://www.topografix.com/GPX/1/1'><x:metadata><x:name>All of it</x:name>\
                    </x:metadata><x:trk><x:trkseg><x:trkpt lat='50' lon='8'><x:ele>100</x:ele></x:trkpt>\
                    <x:trkpt lon='8.1' lat='50'></x:trkpt></x:trkseg></x:trk></x:gpx>";
    assert_eq!(only(old), only(prefixed));
    assert_eq!(only(old).name, "All of it");
    let route =
        only("<gpx><rte><name>A &amp; B &#233;</name><rtept lat='50' lon='8'/><rtept lat='50' lon='8.1'/></rte></gpx>");
    assert_eq!((route.shape, route.name.as_str()), (LineShape::Route, "A & B é"));
    assert_eq!(route.length(), only(old).length());
}

#[test]
fn jumps_between_segments_and_tracks_add_nothing() {
    let apart =
        "<gpx><trk><trkseg><trkpt lat='1' lon='0'/></trkseg><trkseg><trkpt lat='1' lon='1'/></trkseg></trk></gpx>";
    assert_eq!(refused(apart), GpxProblem::NoLength { points: 2 });
    let paused = track(&[at(0, ""), at(1, "")].concat())
        .replace("</trkseg></trk>", &format!("</trkseg><trkseg>{}{}</trkseg></trk>", at(5, "7"), at(6, "")));
    let line = only(&paused);
    assert!((metres(&line) - 2.0 * HUNDREDTH).abs() < 0.001, "{}", metres(&line));
    assert_eq!((line.gaps, line.points.len()), (1, 3), "the same place along the course stands once");
    assert_eq!(line.points[1].height, Some(7.0), "a height that one side of the gap has");
}

#[test]
fn of_several_tracks_the_one_that_fits_the_race_is_taken_or_all_where_only_they_do() {
    let file = |lengths: &[usize]| {
        let one = |length: &usize| {
            format!("<trk><name>{length}</name><trkseg>{}{}</trkseg></trk>", at(0, ""), at(*length, ""))
        };
        format!("<gpx>{}</gpx>", lengths.iter().map(one).collect::<String>())
    };
    let choose = |lengths: &[usize], official: i64| {
        let (line, taken) = choose(read(file(lengths).as_bytes()).unwrap(), Distance::metres(official)).unwrap();
        (line.name.clone(), (metres(&line) / HUNDREDTH).round() as usize, taken)
    };
    assert_eq!(choose(&[9, 4, 19], 10_000), ("9".to_owned(), 9, Taken::Nearest { of: 3 }));
    assert_eq!(choose(&[9, 5], 16_000), ("9".to_owned(), 14, Taken::All { count: 2 }));
    assert_eq!(choose(&[9, 5], 40_000), ("9".to_owned(), 9, Taken::Nearest { of: 2 }), "nothing fits");
    assert_eq!(choose(&[9], 40_000), ("9".to_owned(), 9, Taken::TheOnly));
    let both = "<gpx><rte><rtept lat='50' lon='8'/><rtept lat='50' lon='8.1'/></rte><trk><trkseg><trkpt lat='50' \
                lon='8'/><trkpt lat='50' lon='8.2'/></trkseg></trk></gpx>";
    assert_eq!(only(both).shape, LineShape::Track, "a track says more than a route");
}

#[test]
fn what_stands_in_extensions_is_no_point_of_the_course() {
    let inside = track(&[at(0, "5"), at(1, "")].concat()).replace(
        "</trkpt>",
        "<extensions><y:ele>900</y:ele><trkpt lat='7' lon='7'/><name>x</name></extensions></trkpt>",
    );
    let line = only(&inside);
    assert_eq!((line.points.len(), line.points[0].height, line.name.as_str()), (2, Some(5.0), "Larkmere Half"));
}

#[test]
fn heights_that_are_none_are_missing() {
    for height in ["", "x", "NaN", "inf", "-32768", "12000", "&lt;5"] {
        let line = only(&track(&[at(0, height), at(1, "3")].concat()));
        assert_eq!(line.points[0].height, None, "{height}");
    }
    let flat = only(&track(&[at(0, ""), at(1, "")].concat()));
    assert!(!flat.has_heights());
}

#[test]
fn each_file_without_a_course_has_its_own_message() {
    let point = |latitude: &str, longitude: &str| {
        track(&format!("{}<trkpt lat=\"{latitude}\" lon=\"{longitude}\"/>", at(0, "")))
    };
    let wrong = |axis, value: &str| GpxProblem::Coordinate { point: 2, axis, value: value.to_owned() };
    let (mut said, mut wrongs) = (std::collections::HashSet::new(), Vec::new());
    for (file, problem) in [
        (String::new(), GpxProblem::Empty),
        (" \n".to_owned(), GpxProblem::Empty),
        ("lap 1, lap 2".to_owned(), GpxProblem::NotXml { line: 1 }),
        ("<gpx>\n<trk>\n</gpx>".to_owned(), GpxProblem::NotXml { line: 3 }),
        ("<gpx><trk><trkseg><trkpt lat='1'".to_owned(), GpxProblem::BreaksOff),
        ("<gpx><trk>".to_owned(), GpxProblem::BreaksOff),
        ("<kml><Placemark/></kml>".to_owned(), GpxProblem::NotGpx { root: "kml".to_owned() }),
        ("<gpx/>".to_owned(), GpxProblem::NoLine),
        ("<gpx><wpt lat='1' lon='2'/><wpt lat='1' lon='3'/></gpx>".to_owned(), GpxProblem::WaypointsOnly { count: 2 }),
        ("<gpx><trk></trk></gpx>".to_owned(), GpxProblem::EmptyLine),
        ("<gpx><trk><trkseg/></trk><rte/></gpx>".to_owned(), GpxProblem::EmptyLine),
        (track(&at(0, "")), GpxProblem::OnePoint),
        (track(&at(0, "").repeat(3)), GpxProblem::NoLength { points: 3 }),
        (track("<trkpt lat='1'/>"), GpxProblem::NoCoordinate { point: 1, axis: Axis::Longitude }),
        (point("90.5", "8"), wrong(Axis::Latitude, "90.5")),
        (point("5", "-180.01"), wrong(Axis::Longitude, "-180.01")),
        (point("52,5", "8"), wrong(Axis::Latitude, "52,5")),
        (point("NaN", "8"), wrong(Axis::Latitude, "NaN")),
        (point("north", "8"), wrong(Axis::Latitude, "north")),
        (point("0.0", "-0"), GpxProblem::NoPosition { point: 2 }),
    ] {
        assert_eq!(refused(&file), problem, "{file}");
        said.insert(words::gpx_problem(&problem));
        if !wrongs.contains(&problem) {
            wrongs.push(problem);
        }
    }
    assert_eq!(said.len(), wrongs.len(), "different troubles, different words");
}

#[test]
fn a_document_type_is_refused_and_nothing_in_it_is_opened_or_grows() {
    let entity = "<?xml version=\"1.0\"?><!DOCTYPE r [<!ENTITY s SYSTEM \"file:///etc/hostname\">]>\
                  <gpx><trk><name>&s;</name></trk></gpx>";
    let mut bomb = "<!DOCTYPE b [<!ENTITY a0 \"ha\">".to_owned();
    for level in 1..10 {
        let inner = format!("&a{};", level - 1).repeat(10);
        write!(bomb, "<!ENTITY a{level} \"{inner}\">").unwrap();
    }
    bomb.push_str("]><gpx><trk><name>&a9;</name></trk></gpx>");
    for file in [entity, &bomb, "<!DOCTYPE gpx><gpx/>", "<!DOCTYPE gpx [", "<gpx><!doctype x></gpx>"] {
        assert_eq!(refused(file), GpxProblem::DocumentType);
    }
    let unknown = only(&track(&[at(0, ""), at(1, "")].concat()).replace("Larkmere Half", "a &s; b"));
    assert_eq!(unknown.name, "a \u{fffd} b", "without a document type an entity stands for nothing");
}

/// Each is so large that a way of reading which takes more than so long for each byte never ends here.
#[test]
fn hostile_files_are_refused_or_read_however_large() {
    let many = |count| (0..count).map(|number| at(number % 17_000, "5")).collect::<String>();
    let attributes: String = " lata=''".repeat(600_000);
    for (name, file, problem) in [
        ("deep", "<gpx>".repeat(100_000), Some(GpxProblem::TooDeep)),
        ("large", " ".repeat(MOST_BYTES + 1), Some(GpxProblem::TooLarge)),
        ("points", track(&many(MOST_POINTS + 1)), Some(GpxProblem::TooManyPoints)),
        (
            "attributes",
            track(&format!("<trkpt{attributes}/>")),
            Some(GpxProblem::NoCoordinate { point: 1, axis: Axis::Latitude }),
        ),
        ("comment", format!("<gpx><!--{}", "-".repeat(5_000_000)), None),
        ("brackets", "<".repeat(5_000_000), None),
        (
            "names",
            track(&format!("<trkpt lat='1' lon='1'/>{}", "<name>x</name>".repeat(500_000))),
            Some(GpxProblem::OnePoint),
        ),
        (
            "entities",
            format!("<gpx><trk><name>{}</name></trk></gpx>", "&a;".repeat(2_000_000)),
            Some(GpxProblem::EmptyLine),
        ),
    ] {
        let found = read(file.as_bytes()).expect_err(name);
        assert!(problem.is_none_or(|problem| problem == found), "{name}: {found:?}");
    }
}

#[test]
fn a_long_file_is_thinned_without_a_change_of_length() {
    let points: String = (0..50_001)
        .map(|number| at(number % 17_000 / 2 + number / 17_000, if number % 3 == 0 { "8" } else { "" }))
        .collect();
    let full: f64 = {
        let raw = super::read::lines(&track(&points)).unwrap();
        let globe = geographiclib_rs::Geodesic::wgs84();
        let segment = &raw.lines[0].segments[0];
        segment.windows(2).map(|pair| measure::metres(&globe, &pair[0], &pair[1])).sum()
    };
    let line = only(&track(&points));
    assert!(line.points.len() <= MOST_KEPT && line.points.len() > MOST_KEPT / 2, "{}", line.points.len());
    assert!((metres(&line) - full).abs() < 0.01, "{} instead of {full}", metres(&line));
    assert!(line.points.iter().skip(1).filter(|point| point.height.is_some()).count() > MOST_KEPT / 3);
}

#[test]
fn every_usual_encoding_is_decoded_or_told() {
    let file = track(&[at(0, "1"), at(1, "2")].concat()).replace("Larkmere", "Lérida");
    let declared =
        |encoding: &str| file.replacen("version=\"1.0\"", &format!("version=\"1.0\" encoding=\"{encoding}\""), 1);
    let wide = |order: fn(u16) -> [u8; 2], text: &str| text.encode_utf16().flat_map(order).collect::<Vec<u8>>();
    let narrow = |text: &str| text.chars().map(|letter| letter as u8).collect::<Vec<u8>>();
    let marked = |mark: &[u8], rest: Vec<u8>| [mark, &rest].concat();
    for bytes in [
        file.clone().into_bytes(),
        marked(b"\xef\xbb\xbf", file.clone().into_bytes()),
        declared("UTF-8").into_bytes(),
        declared("UTF-16").into_bytes(),
        marked(b"\xff\xfe", wide(u16::to_le_bytes, &declared("UTF-16"))),
        marked(b"\xfe\xff", wide(u16::to_be_bytes, &file)),
        wide(u16::to_le_bytes, &declared("UTF-16LE")),
        wide(u16::to_be_bytes, &file),
        narrow(&declared("windows-1252")),
        narrow(&declared("ISO-8859-1").replace('"', "'")),
    ] {
        let lines = read(&bytes).unwrap_or_else(|problem| panic!("{problem:?}"));
        assert_eq!(lines[0].name, "Lérida Half");
    }
    assert_eq!(read(&narrow(&file)), Err(GpxProblem::NotText { encoding: "UTF-8" }));
    let unknown = declared("runes-8");
    assert_eq!(refused(&unknown), GpxProblem::UnknownEncoding { name: "runes-8".to_owned() });
    assert!(matches!(read(b"PK\x03\x04\xff\x00"), Err(GpxProblem::NotText { .. })));
}

/// A small language of pieces from which broken files are put together.
fn pieces() -> impl Strategy<Value = String> {
    let piece = prop::sample::select(vec![
        "<?xml version='1.0' encoding='utf-16'?>",
        "<gpx>",
        "</gpx>",
        "<trk>",
        "</trk>",
        "<trkseg>",
        "</trkseg>",
        "<trkpt lat='1' lon='2'/>",
        "<trkpt lat='1.5' lon='2e300'>",
        "<trkpt lat='3' lon='4'>",
        "</trkpt>",
        "<ele>",
        "5",
        "</ele>",
        "<rte>",
        "<rtept lat=\"1\" lon=\"2\"/>",
        "</rte>",
        "<name>",
        "é\u{202e}",
        "&amp;",
        "&#x110000;",
        "<![CDATA[",
        "]]>",
        "<!--",
        "-->",
        "<!DOCTYPE",
        "<a b='",
    ]);
    prop::collection::vec(piece, 0..24).prop_map(|pieces| pieces.concat())
}

proptest! {
    #[test]
    fn any_bytes_are_read_or_refused_in_words(bytes in prop::collection::vec(any::<u8>(), 0..300)) {
        if let Err(problem) = read(&bytes) {
            prop_assert!(words::gpx_problem(&problem).ends_with('.'));
        }
    }

    #[test]
    fn any_pieces_of_a_file_are_read_or_refused(file in pieces()) {
        match read(file.as_bytes()) {
            Ok(lines) => for line in lines {
                prop_assert!(line.points.len() > 1);
                prop_assert!(line.points.windows(2).all(|pair| pair[0].along < pair[1].along));
            },
            Err(problem) => prop_assert!(words::gpx_problem(&problem).ends_with('.')),
        }
    }

    #[test]
    fn a_good_file_cut_anywhere_or_with_one_byte_changed_never_panics(at_byte in 0_usize..400, byte in any::<u8>()) {
        let mut file = track(&[at(0, "1"), at(1, "2"), at(2, "")].concat()).into_bytes();
        let at_byte = at_byte.min(file.len() - 1);
        prop_assert!(read(&file[..at_byte]).is_err());
        file[at_byte] = byte;
        drop(read(&file));
    }
}
