//! What surrounds the data file: a folder that is synchronised, copies that such a service left.

use std::path::{Path, PathBuf};

use crate::Store;

impl Store {
    /// The folder above the data file whose name or marker says that it is synchronised between
    /// machines, if there is one.
    pub fn synced_folder(&self) -> Option<PathBuf> {
        synced(self.path())
    }

    /// Files beside the data file that look like a second version of it, made where two machines saved
    /// at once. The program never opens them by itself.
    pub fn conflicted_copies(&self) -> Vec<PathBuf> {
        conflicted(self.path())
    }
}

fn synced(data: &Path) -> Option<PathBuf> {
    let data = std::path::absolute(data).ok()?;
    data.ancestors().skip(1).find(|folder| is_named_like_one(folder) || has_marker(folder)).map(Path::to_owned)
}

/// Words that such folders are called by, in capitals or not, whoever runs the service.
///
/// # Source
///
/// Common practice, no published source: what such services call their folders when they are set up.
fn is_named_like_one(folder: &Path) -> bool {
    let Some(name) = folder.file_name().and_then(|name| name.to_str()) else {
        return false;
    };
    let name = name.to_lowercase();
    let mut words = name.split(|letter: char| !letter.is_alphanumeric());
    name.contains("cloud") || words.any(|word| word == "sync" || word == "dropbox" || word.ends_with("drive"))
}

/// A hidden entry by which a service knows its own folder.
fn has_marker(folder: &Path) -> bool {
    [".stfolder", ".sync", ".dropbox.cache", ".csync_journal.db"].iter().any(|marker| folder.join(marker).exists())
}

fn conflicted(data: &Path) -> Vec<PathBuf> {
    let (Some(folder), Some(stem)) = (data.parent(), data.file_stem().and_then(|stem| stem.to_str())) else {
        return Vec::new();
    };
    let folder = if folder.as_os_str().is_empty() { Path::new(".") } else { folder };
    let Ok(entries) = std::fs::read_dir(folder) else {
        return Vec::new();
    };
    let mut found: Vec<PathBuf> = entries
        .filter_map(|entry| Some(entry.ok()?.path()))
        .filter(|path| {
            let name = path.file_name().and_then(|name| name.to_str()).unwrap_or_default();
            path.as_path() != data && name.starts_with(stem) && name.to_lowercase().contains("conflict")
        })
        .collect();
    found.sort();
    found
}

/// Options that make a new file which only its owner reads: names, cautions and links stand in it.
pub(crate) fn new_private_file() -> std::fs::OpenOptions {
    let mut options = std::fs::OpenOptions::new();
    options.write(true).create_new(true);
    #[cfg(unix)]
    std::os::unix::fs::OpenOptionsExt::mode(&mut options, 0o600);
    options
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::{add, open};

    #[test]
    fn folders_that_are_synchronised_are_known_by_their_names() {
        for yes in [
            "/home/ana/OneDrive/x.db",
            "/home/ana/My Drive/club/x.db",
            "/Users/a/iCloud~x/x.db",
            "/s/Sync/x.db",
            "/home/ana/Dropbox (Club)/x.db",
            "/home/ana/Own Cloud/x.db",
        ] {
            assert!(synced(Path::new(yes)).is_some(), "{yes}");
        }
        for no in [
            "/home/ana/.local/share/ebbline/x.db",
            "/home/driver/async/x.db",
            "/home/ana/sandbox/x.db",
            "/home/ana/synchro-team/x.db",
            "/srv/cloud.db",
        ] {
            assert_eq!(synced(Path::new(no)), None);
        }
    }

    #[tokio::test]
    async fn a_marker_tells_as_well_as_a_name() {
        let store = open().await;
        assert_eq!(store.synced_folder(), None);
        std::fs::create_dir(store.folder.path().join(".stfolder")).unwrap();
        assert_eq!(store.synced_folder().as_deref(), Some(store.folder.path()));
    }

    #[tokio::test]
    async fn conflicted_copies_are_named_and_never_opened() {
        let store = open().await;
        add(&store, "Ana").await;
        for name in [
            "squad (Bo's conflicted copy 2027-04-20).db",
            "squad.sync-conflict-20270420.db",
            "squad-notes.txt",
            "other conflict.db",
        ] {
            std::fs::write(store.folder.path().join(name), "someone else's").unwrap();
        }
        let found = store.conflicted_copies();
        assert_eq!(found.len(), 2, "{found:?}");
        let again = Store::open(store.path()).await.unwrap();
        assert_eq!(again.athletes().await.unwrap().len(), 1);
        assert!(found.iter().all(|file| std::fs::read_to_string(file).unwrap() == "someone else's"));
    }
}
