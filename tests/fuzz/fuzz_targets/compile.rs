//! Any text compiles to every page or is refused; nothing panics, hangs or grows without bound.
#![no_main]

use lapfell::pipeline::{self, Request};
use lapfell::source::Loaded;
use lapfell::stdlib::{Nothing, WithLibrary};

libfuzzer_sys::fuzz_target!(|text: &str| {
    let main = Loaded { name: "fuzz.fell".to_owned(), text: text.to_owned() };
    let request = Request { jobs: Some(1), ..Request::default() };
    let Ok(compiled) = pipeline::compile(main, &WithLibrary(Nothing), &request, &|_| {}) else { return };
    if compiled.problems.has_errors() {
        return;
    }
    let chosen: Vec<_> = compiled.sizes.iter().take(1).collect();
    let _ = pipeline::files(&compiled, &chosen, &pipeline::Options::default());
});
