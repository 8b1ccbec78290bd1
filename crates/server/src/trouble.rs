//! What the store's errors are called, on pages and on the terminal: one clear sentence each, and a way
//! out.

use std::borrow::Cow;
use std::io::ErrorKind;

use axum::http::StatusCode;
use store::StoreError;

use crate::words;

/// One thing that went wrong with the data file.
#[derive(Clone, Debug)]
pub(crate) struct Trouble {
    pub(crate) status: StatusCode,
    pub(crate) title: &'static str,
    /// What happened, and what did not.
    pub(crate) text: Cow<'static, str>,
    /// What can be done on a page; empty where the text says it.
    pub(crate) way: &'static str,
    /// Whether the log should know more than the page says.
    pub(crate) is_logged: bool,
}

impl Trouble {
    fn new(status: StatusCode, title: &'static str, text: impl Into<Cow<'static, str>>, way: &'static str) -> Self {
        Self { status, title, text: text.into(), way, is_logged: false }
    }

    fn logged(self) -> Self {
        Self { is_logged: true, ..self }
    }
}

/// What an error of the store is called on a terminal.
pub fn said(error: &StoreError) -> String {
    let Trouble { title, text, .. } = of(error);
    format!("{title}. {text}")
}

const AGAIN: &str = "Go back and send the form again.";

/// What an error of the store is called.
#[expect(clippy::too_many_lines, reason = "a table: one row for each error")]
pub(crate) fn of(error: &StoreError) -> Trouble {
    use StatusCode as S;
    match error {
        StoreError::Gone => Trouble::new(
            S::NOT_FOUND,
            "Nothing stands here",
            "What this led to may have been removed, or the address was mistyped.",
            "Removed things can be brought back for thirty days; the settings page leads to them.",
        ),
        StoreError::Conflict => Trouble::new(
            S::CONFLICT,
            "This was changed meanwhile",
            "It was saved from another window since you opened it, so nothing was written over.",
            "Go back, reload and enter your change again.",
        ),
        StoreError::Exists => Trouble::new(
            S::CONFLICT,
            "It is there already",
            "There is something in that place, so nothing was written over.",
            "Go back and reload to see it.",
        ),
        StoreError::Refused(found) => {
            let sentences: Vec<String> = found.iter().map(words::problem).collect();
            let text = format!("Nothing was changed. {}", sentences.join(" "));
            Trouble::new(S::UNPROCESSABLE_ENTITY, "That cannot be kept as it is", text, "Go back and change it.")
        }
        StoreError::Archive { file, problem } => {
            let text = format!("{} Nothing was brought in.", words::archive_problem(file, problem));
            Trouble::new(S::UNPROCESSABLE_ENTITY, "That cannot be brought in", text, "Put it right and try again.")
        }
        StoreError::Corrupt { table, column, row, reason } => Trouble::new(
            S::INTERNAL_SERVER_ERROR,
            "A record in the data file cannot be read",
            format!(
                "It is left as it is ({table} {row}, {column}: {reason}). That is a fault of Ebbline, or something else \
                 wrote to the file; “ebbline check” lists all such records, and the daily backups lie beside the file."
            ),
            "",
        )
        .logged(),
        StoreError::Newer => Trouble::new(
            S::INTERNAL_SERVER_ERROR,
            "The data file was made by a newer version of Ebbline",
            "It was left untouched. Start the newer version to go on.",
            "",
        ),
        StoreError::NotOurs(path) => Trouble::new(
            S::INTERNAL_SERVER_ERROR,
            "This is not a data file of Ebbline",
            format!("{} was left untouched. Name another file.", path.display()),
            "",
        ),
        StoreError::Damaged(found) => Trouble::new(
            S::INTERNAL_SERVER_ERROR,
            "The data file is damaged",
            format!(
                "Nothing more is written to it. Stop Ebbline and go back to the last good backup with “ebbline restore \
                 FILE”; the daily backups lie beside the data file, and the damaged file is kept. The database says: {found}"
            ),
            "",
        )
        .logged(),
        StoreError::ReadOnly => Trouble::new(
            S::INTERNAL_SERVER_ERROR,
            "The data file cannot be written",
            "Nothing was changed. The file or its folder is read-only; allow writing there.",
            AGAIN,
        ),
        StoreError::NoFolder(path) => Trouble::new(
            S::INTERNAL_SERVER_ERROR,
            "The folder is not there",
            format!("Nothing was written: there is no folder {}. Make it, or name another.", path.display()),
            "",
        ),
        StoreError::CannotOpen => Trouble::new(
            S::INTERNAL_SERVER_ERROR,
            "The data file cannot be opened",
            "Nothing was changed. Mostly its folder may not be written to, or is not there any more.",
            AGAIN,
        ),
        StoreError::FileExists(path) => Trouble::new(
            S::CONFLICT,
            "There is a file in that place already",
            format!("{} was left untouched. Choose another name.", path.display()),
            "",
        ),
        StoreError::InUse => Trouble::new(
            S::SERVICE_UNAVAILABLE,
            "Another program holds the data file",
            "Nothing was changed. Perhaps a backup or a second Ebbline is at work; wait a moment.",
            AGAIN,
        ),
        StoreError::DiskFull => Trouble::new(
            S::INSUFFICIENT_STORAGE,
            "The disk is full",
            "Nothing was written, and what was saved before is safe. Make room on the disk.",
            AGAIN,
        ),
        StoreError::Migrate(_) => Trouble::new(
            S::INTERNAL_SERVER_ERROR,
            "The data file could not be brought to the form of this version",
            "It is as it was before, and a copy lies beside it. Go on with the version that you had, and report this.",
            "",
        )
        .logged(),
        StoreError::File(error) => of_file(error),
        StoreError::Database(_) => Trouble::new(
            S::INTERNAL_SERVER_ERROR,
            "Something went wrong with the data file",
            "It is not your fault. What was saved before is safe; look whether your last change has arrived.",
            "",
        )
        .logged(),
    }
}

/// What the file system says, as far as a coach can do something about it.
fn of_file(error: &std::io::Error) -> Trouble {
    match error.kind() {
        ErrorKind::StorageFull | ErrorKind::QuotaExceeded => of(&StoreError::DiskFull),
        ErrorKind::PermissionDenied | ErrorKind::ReadOnlyFilesystem => of(&StoreError::ReadOnly),
        ErrorKind::NotFound => Trouble::new(
            StatusCode::INTERNAL_SERVER_ERROR,
            "The file is not there",
            "Nothing was changed. It may have been moved or renamed, or a drive is not connected.",
            "",
        ),
        _ => Trouble::new(
            StatusCode::INTERNAL_SERVER_ERROR,
            "The file cannot be read or written",
            format!("Nothing was changed. The system says: {error}."),
            "",
        )
        .logged(),
    }
}

#[cfg(test)]
pub(crate) fn samples() -> Vec<Trouble> {
    use std::path::PathBuf;

    let path = || PathBuf::from("/home/ana/<squad>.db");
    let corrupt =
        StoreError::Corrupt { table: "athlete", column: "cautions", row: 7, reason: "unknown word `<b>`".to_owned() };
    let file = |kind: ErrorKind| StoreError::File(kind.into());
    let wrong = planning::Problem::new(planning::Field::AthleteName, planning::ProblemKind::Missing);
    [
        StoreError::Gone,
        StoreError::Conflict,
        StoreError::Exists,
        StoreError::Refused(vec![wrong]),
        StoreError::Archive { file: "athletes", problem: store::ArchiveProblem::NoFile },
        corrupt,
        StoreError::Newer,
        StoreError::NotOurs(path()),
        StoreError::Damaged("page 7 is never used".to_owned()),
        StoreError::ReadOnly,
        StoreError::NoFolder(path()),
        StoreError::CannotOpen,
        StoreError::FileExists(path()),
        StoreError::InUse,
        StoreError::DiskFull,
        file(ErrorKind::StorageFull),
        file(ErrorKind::PermissionDenied),
        file(ErrorKind::NotFound),
        file(ErrorKind::Other),
    ]
    .iter()
    .map(of)
    .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_trouble_is_said_in_whole_sentences_without_the_words_of_the_code() {
        for trouble in samples() {
            assert!(!trouble.title.ends_with('.'), "{}", trouble.title);
            assert!(trouble.text.ends_with(['.', '”', '`']) || trouble.is_logged, "{}", trouble.text);
            for code in ["StoreError", "sqlx", "Err(", "None"] {
                assert!(!trouble.text.contains(code), "{}", trouble.text);
            }
        }
        let full = said(&StoreError::DiskFull);
        assert_eq!(
            full,
            "The disk is full. Nothing was written, and what was saved before is safe. Make room on the disk."
        );
    }
}
