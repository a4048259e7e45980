//! Tests of the room: what is read, what is said of what can't be, and that nothing makes it panic.

mod errors;
mod random;
mod reading;

use super::ast::File;
use super::parse;
use crate::diagnostic::Problems;
use crate::source::SourceMap;

/// A source with every construct of the language.
const WHOLE: &str = include_str!("tests/whole_language.fell");

/// A text, what was read of it and what was said.
struct Read {
    sources: SourceMap,
    file: File,
    problems: Problems,
}

impl Read {
    /// Each problem as its code and the text under its main place, in source order.
    fn found(&self) -> Vec<(&'static str, &str)> {
        self.problems.sorted().iter().map(|d| (d.code, d.labels.first().map_or("", |l| self.sources.snippet(l.span)))).collect()
    }
}

fn read(text: &str) -> Read {
    let mut sources = SourceMap::default();
    let mut problems = Problems::default();
    let id = sources.add("test.fell", text);
    let file = parse(id, text, &mut problems);
    Read { sources, file, problems }
}
