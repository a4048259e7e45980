//! Any drawing is an outline or is refused; nothing panics, hangs or grows without bound.
#![no_main]

use lapfell::source::Span;
use lapfell::trace::{self, Named, Request};

libfuzzer_sys::fuzz_target!(|drawing: &[u8]| {
    let file = ("fuzz".to_owned(), Span::default());
    let request = Request { file, path: None, block: None, layer: None, around: None };
    let Ok(drawn) = trace::read(&request, drawing) else { return };
    let names = ["foot", "right", "head", "left"].map(|n| Named { name: n.to_owned(), end: None, span: Span::default() });
    let _ = drawn.edges(&names, 0.35, 1.0, Span::default());
});
