//! Tests of the room: what is read, what is said of what can't be, and that nothing makes it panic.

use super::parse;
use crate::diagnostic::Problems;
use crate::source::FileId;

#[test]
fn the_whole_language_is_read() {
    let mut problems = Problems::default();
    let file = parse(FileId(0), include_str!("tests/whole_language.fell"), &mut problems);
    assert!(problems.is_empty());
    assert_eq!((file.uses.len(), file.declarations.len()), (2, 7));
}

#[test]
fn the_standard_library_is_read() {
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("stdlib");
    for entry in std::fs::read_dir(folder).expect("the library is there") {
        let path = entry.expect("an entry").path();
        let mut problems = Problems::default();
        parse(FileId(0), &std::fs::read_to_string(&path).expect("text"), &mut problems);
        assert!(problems.is_empty(), "{}: {problems:#?}", path.display());
    }
}
