//! Whole sources, compiled as a maker compiles them, against figures worked out by hand.

#![allow(clippy::unwrap_used, clippy::indexing_slicing, reason = "tests")]

mod bags;
mod bodies;
mod mistakes;
mod panels;
mod values;

use lapfell::diagnostic::{Look, Severity, render_text};
use lapfell::ir::{Design, Edge, Piece};
use lapfell::pipeline::{AS_DRAWN, Compiled, Request, compile};
use lapfell::source::Loaded;
use lapfell::stdlib::{Nothing, WithLibrary};

/// What the designs here are made of.
const GOODS: &str = r#"
use std.finishes { edgestitch, overlocked, rolled_hem }
use std.shapes { circle, rectangle }
use std.trims { face_loop, ribbon_loop }

material plain is cloth "Plain cloth" {
  mass = 50 g/m2  width = 300 cm  selvedge = 0 mm  price = 5 EUR/m  source = "memory"
}
"#;

/// Compiles items of a design called `thing`, with settings as on the command line.
fn compiled_with(items: &str, settings: &[&str]) -> Compiled {
    let text = format!("{GOODS}\ndesign thing \"A thing\" {{\n{items}\n}}\n");
    let request = Request { settings: settings.iter().map(|s| (*s).to_owned()).collect(), jobs: Some(1), ..Request::default() };
    compile(Loaded { name: "thing.fell".into(), text }, &WithLibrary(Nothing), &request, &|_| {}).unwrap()
}

fn compiled(items: &str) -> Compiled {
    compiled_with(items, &[])
}

fn told(compiled: &Compiled) -> String {
    render_text(&compiled.problems, &compiled.sources, Look { colour: false, width: 100 })
}

/// The design in one size. Pieces that nothing is done with are no matter here.
fn in_size(items: &str, size: &str) -> Design {
    let found = compiled(items);
    found.size(size).unwrap_or_else(|_| panic!("{}", told(&found))).design.clone()
}

fn design(items: &str) -> Design {
    in_size(items, AS_DRAWN)
}

/// Codes of all errors but those about pieces and edges that nothing is done with.
fn errors(items: &str) -> Vec<&'static str> {
    let found = compiled(items);
    let all = found.problems.sorted().into_iter().filter(|d| d.severity == Severity::Error).map(|d| d.code);
    all.filter(|c| !c.ends_with("-unused")).collect()
}

fn piece<'d>(design: &'d Design, name: &str) -> &'d Piece {
    design.pieces.iter().find(|p| p.name == name).unwrap_or_else(|| panic!("no piece {name}"))
}

fn edge<'d>(design: &'d Design, of: &str, name: &str) -> &'d Edge {
    let piece = piece(design, of);
    let known: Vec<_> = piece.edges.iter().map(|e| &e.name).collect();
    piece.edges.iter().find(|e| e.name == name).unwrap_or_else(|| panic!("{of} has no {name}, but {known:?}"))
}

fn names(design: &Design, of: &str) -> Vec<String> {
    piece(design, of).edges.iter().map(|e| e.name.clone()).collect()
}

fn near(a: f64, b: f64) {
    assert!((a - b).abs() < 1e-6, "{a} is not {b}");
}

/// A `let`'s value in base units, as its provenance says.
fn figure(design: &Design, name: &str) -> f64 {
    let why = design.provenance.fact(name).unwrap_or_else(|| panic!("no {name}"));
    design.provenance.node(why).unwrap().number.unwrap()
}
