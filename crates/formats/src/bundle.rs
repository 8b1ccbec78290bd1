//! Several files as one zip, and back: in memory only, so that no name in it can reach a disk.

use std::io::{Cursor, Read, Write};

use chrono::{Datelike, NaiveDateTime, Timelike};
use zip::result::ZipError;
use zip::write::SimpleFileOptions;
use zip::{CompressionMethod, DateTime, ZipArchive, ZipWriter};

/// The largest zip that is taken, in bytes.
pub const MOST_BYTES: usize = 20 * 1024 * 1024;

/// The most that all files of a zip may hold once unpacked, in bytes.
pub const MOST_UNPACKED: u64 = 200 * 1024 * 1024;

/// The most files that a zip may hold.
pub const MOST_FILES: usize = 100;

/// Why a zip is not taken.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum BundleProblem {
    /// It is no zip, or its list of files is damaged.
    NotZip,
    /// It is larger than [`MOST_BYTES`].
    TooLarge,
    /// It holds more than [`MOST_FILES`].
    TooMany {
        /// How many.
        count: usize,
    },
    /// Unpacked it is larger than [`MOST_UNPACKED`].
    TooLargeUnpacked,
    /// A file has a name that leads out of a folder.
    OddName {
        /// The name.
        name: String,
    },
    /// Two files have the same name; wanted or not, because which of them counts is anybody's guess.
    Twice,
    /// A file is damaged, packed in another way, or locked with a password.
    Unreadable {
        /// Its name.
        name: String,
    },
    /// A file is no text in UTF-8.
    NotText {
        /// Its name.
        name: String,
    },
}

/// How hard files are packed: a third larger than at the usual 6, and five times as fast, with a coach waiting for it.
const PACKED: i64 = 1;

/// Packs files by name, in this order, as made at an instant by the clocks where the coach is: programs that unpack
/// show it as their day. The same files and instant always give the same bytes.
///
/// # Errors
///
/// None that is known: nothing is written to but memory.
pub fn pack(files: &[(String, String)], made: NaiveDateTime) -> Result<Vec<u8>, std::io::Error> {
    pack_at(PACKED, files, made)
}

fn pack_at(level: i64, files: &[(String, String)], made: NaiveDateTime) -> Result<Vec<u8>, std::io::Error> {
    let mut zip = ZipWriter::new(Cursor::new(Vec::new()));
    // A year that a zip cannot say, before 1980 or after 2107, is left out.
    let made = day_and_time(made).unwrap_or_default();
    let options = SimpleFileOptions::default()
        .compression_method(CompressionMethod::Deflated)
        .compression_level(Some(level))
        .last_modified_time(made)
        .unix_permissions(0o644);
    for (name, text) in files {
        zip.start_file(name.as_str(), options).map_err(std::io::Error::other)?;
        zip.write_all(text.as_bytes())?;
    }
    Ok(zip.finish().map_err(std::io::Error::other)?.into_inner())
}

fn day_and_time(at: NaiveDateTime) -> Option<DateTime> {
    let part = |number: u32| u8::try_from(number).ok();
    DateTime::from_date_and_time(
        u16::try_from(at.year()).ok()?,
        part(at.month())?,
        part(at.day())?,
        part(at.hour())?,
        part(at.minute())?,
        part(at.second())?,
    )
    .ok()
}

/// Unpacks the files of a zip whose names are wanted, within the limits of this module.
///
/// What a file claims of its size is not believed: it is read until the limit and not further.
///
/// # Errors
///
/// The first thing that is wrong.
pub fn unpack(bytes: &[u8], wanted: impl Fn(&str) -> bool) -> Result<Vec<(String, String)>, BundleProblem> {
    unpack_within(bytes, wanted, MOST_UNPACKED)
}

fn unpack_within(
    bytes: &[u8],
    wanted: impl Fn(&str) -> bool,
    most: u64,
) -> Result<Vec<(String, String)>, BundleProblem> {
    if bytes.len() > MOST_BYTES {
        return Err(BundleProblem::TooLarge);
    }
    let mut zip = ZipArchive::new(Cursor::new(bytes)).map_err(|_| BundleProblem::NotZip)?;
    // The reader lists each name once, so this has to be asked before anything is read.
    if zip.has_duplicate_names() {
        return Err(BundleProblem::Twice);
    }
    if zip.len() > MOST_FILES {
        return Err(BundleProblem::TooMany { count: zip.len() });
    }
    let mut left = most;
    let mut files: Vec<(String, String)> = Vec::new();
    for index in 0..zip.len() {
        let name = zip.name_for_index(index).and_then(Result::ok).ok_or(BundleProblem::NotZip)?.into_owned();
        let mut file = match zip.by_index(index) {
            Ok(file) => file,
            Err(ZipError::InvalidArchive(_)) => return Err(BundleProblem::NotZip),
            Err(_) => return Err(BundleProblem::Unreadable { name }),
        };
        if file.enclosed_name().is_none() || name.starts_with('/') || name.contains('\\') {
            return Err(BundleProblem::OddName { name });
        }
        if file.is_dir() || !wanted(&name) {
            continue;
        }
        let mut content = Vec::new();
        let read = file.by_ref().take(left + 1).read_to_end(&mut content);
        let length = content.len() as u64;
        if length > left {
            return Err(BundleProblem::TooLargeUnpacked);
        }
        if read.is_err() {
            return Err(BundleProblem::Unreadable { name });
        }
        left -= length;
        match String::from_utf8(content) {
            Ok(text) => files.push((name, text)),
            Err(_) => return Err(BundleProblem::NotText { name }),
        }
    }
    Ok(files)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn noon() -> NaiveDateTime {
        "2027-04-20T12:30:10".parse().unwrap()
    }

    fn files(all: &[(&str, &str)]) -> Vec<(String, String)> {
        all.iter().map(|(name, text)| ((*name).to_owned(), (*text).to_owned())).collect()
    }

    #[test]
    fn what_is_packed_comes_back_and_the_same_files_give_the_same_bytes() {
        let some =
            files(&[("README.txt", "Hello\n"), ("json/athletes.json", "[{\"name\":\"Zoë 🏃\"}]"), ("json/empty", "")]);
        let packed = pack(&some, noon()).unwrap();
        assert_eq!(packed, pack(&some, noon()).unwrap());
        assert_eq!(unpack(&packed, |_| true).unwrap(), some);
        assert_eq!(unpack(&packed, |name| name.starts_with("json/")).unwrap(), some[1..]);
    }

    #[test]
    fn what_is_packed_carries_its_day_and_time() {
        let made_at = |at: &str| {
            let packed = pack(&files(&[("a", "")]), at.parse().unwrap()).unwrap();
            let mut zip = ZipArchive::new(Cursor::new(packed)).unwrap();
            let made = zip.by_index(0).unwrap().last_modified().unwrap_or_default();
            (made.year(), made.month(), made.day(), made.hour(), made.minute(), made.second())
        };
        assert_eq!(made_at("2027-04-20T12:30:10"), (2027, 4, 20, 12, 30, 10));
        assert_eq!(made_at("1970-01-01T00:00:00"), (1980, 1, 1, 0, 0, 0), "before what a zip can say");
    }

    #[test]
    fn a_bomb_is_refused_before_it_fills_the_memory() {
        let much = "0".repeat(4 * 1024 * 1024);
        let bomb: Vec<(String, String)> = (0..3).map(|number| (format!("json/{number}"), much.clone())).collect();
        // Whoever means harm packs as tight as it goes.
        let packed = pack_at(9, &bomb, noon()).unwrap();
        assert!(packed.len() < 100_000, "{}", packed.len());
        assert_eq!(unpack_within(&packed, |_| true, 10 << 20), Err(BundleProblem::TooLargeUnpacked));
        assert_eq!(unpack_within(&packed, |_| true, 12 << 20).unwrap(), bomb);
        let many: Vec<(String, String)> = (0..101).map(|number| (format!("json/{number}"), String::new())).collect();
        assert_eq!(unpack(&pack(&many, noon()).unwrap(), |_| true), Err(BundleProblem::TooMany { count: 101 }));
        assert_eq!(unpack(&vec![0; MOST_BYTES + 1], |_| true), Err(BundleProblem::TooLarge));
    }

    #[test]
    fn names_that_lead_elsewhere_and_files_that_are_no_text_are_named() {
        for odd in ["../athletes.json", "json/../../x", "/etc/x", "json\\x"] {
            let packed = pack(&files(&[(odd, "")]), noon()).unwrap();
            assert_eq!(unpack(&packed, |_| true), Err(BundleProblem::OddName { name: odd.to_owned() }), "{odd}");
        }
        for no_zip in [&b""[..], b"PK", b"not a zip at all", b"PK\x03\x04 and then nothing of the kind"] {
            assert_eq!(unpack(no_zip, |_| true), Err(BundleProblem::NotZip));
        }
        let packed = pack(&files(&[("json/a", "plain text that is long enough to be told apart")]), noon()).unwrap();
        let at = packed.windows(6).position(|part| part == b"json/a").unwrap() + 8;
        let mut broken = packed;
        broken[at..at + 20].fill(0xff);
        let refused = unpack(&broken, |_| true).unwrap_err();
        assert_eq!(refused, BundleProblem::Unreadable { name: "json/a".to_owned() });
    }

    #[test]
    fn two_files_of_one_name_are_refused() {
        for (one, other) in [("json/a", "json/b"), ("else/a", "else/b")] {
            let mut packed = pack(&files(&[(one, "first"), (other, "second"), ("json/c", "third")]), noon()).unwrap();
            for at in 0..packed.len() - other.len() {
                if packed[at..].starts_with(other.as_bytes()) {
                    packed[at..at + one.len()].copy_from_slice(one.as_bytes());
                }
            }
            assert_eq!(unpack(&packed, |name| name.starts_with("json/")), Err(BundleProblem::Twice), "{one}");
        }
    }

    proptest! {
        #[test]
        fn whatever_the_bytes_nothing_panics(bytes in prop::collection::vec(any::<u8>(), 0..400)) {
            let _ = unpack(&bytes, |_| true);
        }

        #[test]
        fn a_zip_that_was_changed_anywhere_gives_its_files_or_a_reason(at in 0_usize..400, to in any::<u8>()) {
            let some = files(&[("json/athletes.json", "[\n{\"name\":\"Ana\"}\n]\n"), ("json/races.json", "[]\n")]);
            let mut packed = pack(&some, noon()).unwrap();
            let place = at % packed.len();
            packed[place] = to;
            if let Ok(found) = unpack(&packed, |_| true) {
                prop_assert!(found.iter().all(|(_, text)| some.iter().any(|(_, known)| known == text)));
            }
        }
    }
}
