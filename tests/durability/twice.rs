//! Started a second time.

use crate::program::{Program, serve_at};

#[test]
fn a_second_start_says_where_the_first_one_is() {
    let folder = tempfile::tempdir().expect("a folder");
    let data = folder.path().join("squad.db");
    let first = Program::start(&data);
    let second = serve_at(&data, first.address);
    let said = String::from_utf8_lossy(&second.stdout).into_owned();
    assert!(second.status.success(), "{said}");
    assert_eq!(said, format!("Ebbline is open already at http://{}\n", first.address));
}

#[test]
fn a_second_start_with_another_file_is_told_that_the_address_is_taken() {
    let folder = tempfile::tempdir().expect("a folder");
    let first = Program::start(&folder.path().join("squad.db"));
    let second = serve_at(&folder.path().join("other.db"), first.address);
    assert_eq!(second.status.code(), Some(1));
    let said = String::from_utf8_lossy(&second.stderr).into_owned();
    assert!(said.contains("is in use by another program") && said.contains("--listen"), "{said}");
    assert!(!folder.path().join("other.db").exists());
}
