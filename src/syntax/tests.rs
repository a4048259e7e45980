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
