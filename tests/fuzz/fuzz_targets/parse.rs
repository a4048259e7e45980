//! Any text parses or is refused; nothing panics, hangs or grows without bound.
#![no_main]

use lapfell::diagnostic::Problems;
use lapfell::source::SourceMap;

libfuzzer_sys::fuzz_target!(|text: &str| {
    let mut sources = SourceMap::default();
    let mut problems = Problems::default();
    let file = sources.add("fuzz.fell", text);
    let _ = lapfell::syntax::parse(file, text, &mut problems);
});
