//! The folder itself: written so that it can be broken off at any moment and run again, and so that
//! nothing is touched which another run did not write.
//!
//! The list of what was written holds only digests of the names: a web host that serves it gives no
//! page away.

use std::collections::BTreeSet;
use std::fs;
use std::io::{ErrorKind, Write as _};
use std::path::Path;

use sha2::{Digest, Sha256};

use super::PublishError;
use crate::hex::hex;

/// The list of what was written.
const LIST: &str = ".ebbline-published";
/// Its first line.
const HEAD: &str = "ebbline-published 1";
/// What a file that is not whole yet ends with.
const PART: &str = ".part";

/// A file as it is to be.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct File {
    pub(super) name: String,
    pub(super) bytes: Vec<u8>,
}

/// What was done.
#[derive(Debug, Default, PartialEq, Eq)]
pub(super) struct Done {
    pub(super) written: usize,
    pub(super) unchanged: usize,
    pub(super) removed: usize,
    pub(super) left: Vec<String>,
}

/// The folder of the data file would be put up with it.
pub(super) fn refuse_data_folder(folder: &Path, data: &Path) -> Result<(), PublishError> {
    let real = |path: &Path| fs::canonicalize(path).ok();
    let (folder_is, data_is) = (real(folder), data.parent().and_then(real));
    if folder_is.is_some() && folder_is == data_is {
        return Err(PublishError::DataFolder(folder.to_owned()));
    }
    Ok(())
}

/// Brings a folder to exactly these files, and leaves alone whatever no run has written.
pub(super) fn bring_up_to_date(folder: &Path, files: &[File]) -> Result<Done, PublishError> {
    if folder.exists() && !folder.is_dir() {
        return Err(PublishError::NotAFolder(folder.to_owned()));
    }
    let failed = |name: &str| {
        let path = folder.join(name);
        move |source| PublishError::Io { path, source }
    };
    fs::create_dir_all(folder).map_err(failed(""))?;
    let wanted: BTreeSet<String> = files.iter().map(|file| digest(&file.name)).collect();
    let ours = read_list(folder)?;
    // Told before it is done: what a run that breaks off leaves behind is still known as ours.
    let all: BTreeSet<String> = ours.union(&wanted).cloned().collect();
    if all != ours {
        write_list(folder, &all)?;
    }
    let mut done = Done::default();
    for file in files {
        if holds(&folder.join(&file.name), &file.bytes) {
            done.unchanged += 1;
        } else {
            replace(folder, &file.name, &file.bytes).map_err(failed(&file.name))?;
            done.written += 1;
        }
    }
    let mut kept = wanted.clone();
    for entry in fs::read_dir(folder).map_err(failed(""))? {
        let entry = entry.map_err(failed(""))?;
        let Ok(name) = entry.file_name().into_string() else { continue };
        let whole = digest(name.strip_suffix(PART).unwrap_or(&name));
        if !all.contains(&whole) || (wanted.contains(&whole) && !name.ends_with(PART)) {
            continue;
        }
        // Neither a folder nor what a link points at was written by us.
        if entry.file_type().is_ok_and(|kind| kind.is_file()) {
            fs::remove_file(entry.path()).map_err(failed(&name))?;
            done.removed += usize::from(!name.ends_with(PART));
        } else {
            kept.insert(whole);
            done.left.push(name);
        }
    }
    done.left.sort();
    if kept != all {
        write_list(folder, &kept)?;
    }
    Ok(done)
}

/// Whether a file of its own holds these bytes; what a link points at is not one.
fn holds(path: &Path, bytes: &[u8]) -> bool {
    let is_file = fs::symlink_metadata(path).is_ok_and(|found| found.is_file() && found.len() == bytes.len() as u64);
    is_file && fs::read(path).is_ok_and(|found| found == bytes)
}

/// Writes beside and renames: whoever reads sees the old file or the new one. A link in the place of
/// either is replaced, not followed.
fn replace(folder: &Path, name: &str, bytes: &[u8]) -> std::io::Result<()> {
    let part = folder.join(format!("{name}{PART}"));
    match fs::remove_file(&part) {
        Err(error) if error.kind() != ErrorKind::NotFound => return Err(error),
        _ => {}
    }
    let mut file = fs::OpenOptions::new().write(true).create_new(true).open(&part)?;
    file.write_all(bytes)?;
    file.sync_all()?;
    drop(file);
    fs::rename(&part, folder.join(name))
}

fn read_list(folder: &Path) -> Result<BTreeSet<String>, PublishError> {
    let path = folder.join(LIST);
    let refused = || PublishError::List(path.clone());
    match fs::symlink_metadata(&path) {
        Err(error) if error.kind() == ErrorKind::NotFound => return Ok(BTreeSet::new()),
        Ok(found) if found.is_file() => {}
        _ => return Err(refused()),
    }
    let text = fs::read_to_string(&path).map_err(|_| refused())?;
    let mut lines = text.lines();
    let is_digest = |line: &str| line.len() == 64 && line.bytes().all(|byte| byte.is_ascii_hexdigit());
    if lines.next() != Some(HEAD) || !lines.clone().all(is_digest) {
        return Err(refused());
    }
    Ok(lines.map(str::to_owned).collect())
}

fn write_list(folder: &Path, digests: &BTreeSet<String>) -> Result<(), PublishError> {
    let lines = digests.iter().fold(format!("{HEAD}\n"), |text, digest| text + digest + "\n");
    replace(folder, LIST, lines.as_bytes()).map_err(|source| PublishError::Io { path: folder.join(LIST), source })
}

fn digest(name: &str) -> String {
    hex(&Sha256::digest(name.as_bytes()))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn file(name: &str, text: &str) -> File {
        File { name: name.to_owned(), bytes: text.as_bytes().to_vec() }
    }

    fn names(folder: &Path) -> Vec<String> {
        let mut names: Vec<String> =
            fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().file_name().into_string().unwrap()).collect();
        names.sort();
        names
    }

    /// A folder of the system's for temporary files, taken away at the end.
    struct Folder(std::path::PathBuf);

    impl Folder {
        fn new() -> Self {
            let path = std::env::temp_dir().join(format!("ebbline-publish-{}", uuid::Uuid::new_v4()));
            fs::create_dir(&path).unwrap();
            Self(path)
        }
    }

    impl Drop for Folder {
        fn drop(&mut self) {
            let _ = fs::remove_dir_all(&self.0);
        }
    }

    #[test]
    fn a_second_run_writes_only_what_changed_and_takes_away_what_is_no_longer_wanted() {
        let folder = Folder::new();
        let path = folder.0.join("site").join("runs");
        let done = bring_up_to_date(&path, &[file("a.html", "one"), file("b.html", "two")]).unwrap();
        assert_eq!((done.written, done.unchanged, done.removed), (2, 0, 0));
        assert_eq!(names(&path), [LIST, "a.html", "b.html"]);
        let list = fs::read_to_string(path.join(LIST)).unwrap();
        assert!(!list.contains("a.html"), "the list gives no name away");
        let written = fs::metadata(path.join("a.html")).unwrap().modified().unwrap();
        let done = bring_up_to_date(&path, &[file("a.html", "one"), file("c.html", "three")]).unwrap();
        assert_eq!((done.written, done.unchanged, done.removed), (1, 1, 1));
        assert_eq!(names(&path), [LIST, "a.html", "c.html"]);
        assert_eq!(fs::metadata(path.join("a.html")).unwrap().modified().unwrap(), written, "not touched");
        let done = bring_up_to_date(&path, &[]).unwrap();
        assert_eq!((done.removed, names(&path)), (2, vec![LIST.to_owned()]));
    }

    #[test]
    fn what_others_put_there_stays() {
        let folder = Folder::new();
        for (name, text) in [("index.html", "theirs"), ("notes.txt", "theirs"), ("b.html.part", "theirs")] {
            fs::write(folder.0.join(name), text).unwrap();
        }
        fs::create_dir(folder.0.join("pictures")).unwrap();
        bring_up_to_date(&folder.0, &[file("a.html", "one")]).unwrap();
        bring_up_to_date(&folder.0, &[]).unwrap();
        assert_eq!(names(&folder.0), [LIST, "b.html.part", "index.html", "notes.txt", "pictures"]);
        assert_eq!(fs::read_to_string(folder.0.join("index.html")).unwrap(), "theirs");
    }

    #[test]
    fn what_a_run_that_broke_off_left_is_taken_away() {
        let folder = Folder::new();
        bring_up_to_date(&folder.0, &[file("a.html", "one")]).unwrap();
        fs::write(folder.0.join("a.html.part"), "half").unwrap();
        bring_up_to_date(&folder.0, &[file("a.html", "one")]).unwrap();
        assert_eq!(names(&folder.0), [LIST, "a.html"]);
        fs::write(folder.0.join("a.html.part"), "half").unwrap();
        bring_up_to_date(&folder.0, &[]).unwrap();
        assert_eq!(names(&folder.0), [LIST]);
    }

    #[test]
    fn a_list_that_is_none_of_ours_stops_everything() {
        let folder = Folder::new();
        for text in ["", "their list\n", "ebbline-published 1\na.html\n"] {
            fs::write(folder.0.join(LIST), text).unwrap();
            fs::write(folder.0.join("a.html"), "theirs").unwrap();
            let refused = bring_up_to_date(&folder.0, &[file("b.html", "one")]);
            assert!(matches!(refused, Err(PublishError::List(_))), "{refused:?}");
            assert_eq!(names(&folder.0), [LIST, "a.html"]);
        }
        fs::write(folder.0.join("a.html"), "").unwrap();
        let refused = bring_up_to_date(&folder.0.join("a.html"), &[]);
        assert!(matches!(refused, Err(PublishError::NotAFolder(_))), "{refused:?}");
    }

    #[test]
    fn the_folder_of_the_data_file_is_refused() {
        let folder = Folder::new();
        let data = folder.0.join("squad.db");
        assert!(matches!(refuse_data_folder(&folder.0, &data), Err(PublishError::DataFolder(_))));
        assert!(refuse_data_folder(&folder.0.join("site"), &data).is_ok());
    }

    #[cfg(unix)]
    #[test]
    fn links_are_never_followed() {
        let (folder, other) = (Folder::new(), Folder::new());
        let theirs = other.0.join("theirs.txt");
        fs::write(&theirs, "theirs").unwrap();
        bring_up_to_date(&folder.0, &[file("a.html", "one"), file("b.html", "two")]).unwrap();
        for name in ["a.html", "b.html"] {
            fs::remove_file(folder.0.join(name)).unwrap();
            std::os::unix::fs::symlink(&theirs, folder.0.join(name)).unwrap();
        }
        let done = bring_up_to_date(&folder.0, &[file("a.html", "one")]).unwrap();
        assert_eq!(done.left, ["b.html"]);
        assert_eq!(fs::read_to_string(&theirs).unwrap(), "theirs");
        assert_eq!(fs::read_to_string(folder.0.join("a.html")).unwrap(), "one");
        assert!(fs::symlink_metadata(folder.0.join("a.html")).unwrap().is_file());
    }
}
