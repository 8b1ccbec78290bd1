//! Paths and commands that the documents name.

use crate::{read, root};

const DOCUMENTS: [&str; 3] = ["README.md", "DEVELOPERS.md", "migrations/README.md"];

/// The folders in which the project's files lie, as a path begins with them.
const FOLDERS: [&str; 6] = ["crates/", "migrations/", "static/", "templates/", "tests/", ".ci/"];

#[test]
fn every_path_that_a_document_names_exists() {
    let mut count = 0;
    for document in DOCUMENTS {
        for path in paths(&read(document)) {
            assert!(root().join(&path).exists(), "{document} names {path}, which does not exist");
            count += 1;
        }
    }
    assert!(count > 20, "only {count} paths were found: the search is broken");
}

#[test]
fn every_crate_has_a_row_in_the_code_map() {
    let map = read("DEVELOPERS.md");
    for folder in std::fs::read_dir(root().join("crates")).unwrap() {
        let name = folder.unwrap().file_name().into_string().unwrap();
        assert!(map.contains(&format!("| `crates/{name}/` |")), "crates/{name} has no row in the code map");
    }
}

#[test]
fn the_first_commands_of_the_readme_are_those_of_the_job_and_of_the_tests() {
    let readme = read("README.md");
    let mut commands = readme.lines().filter_map(|line| line.strip_prefix("    cargo "));
    assert_eq!(commands.next(), Some("run --release"));
    assert_eq!(commands.next(), Some("xtask test"));
}

/// Whatever stands in backticks or behind a link and begins like a path of ours.
fn paths(text: &str) -> Vec<String> {
    let words = text.split(|c: char| c.is_whitespace() || "`()[],;:".contains(c));
    let paths = words.filter(|word| FOLDERS.iter().any(|folder| word.starts_with(folder)));
    paths.map(|word| word.trim_end_matches('.').to_owned()).collect()
}
