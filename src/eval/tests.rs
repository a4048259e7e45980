//! Whole designs worked out, against figures worked out by hand.

#![allow(clippy::unwrap_used, clippy::indexing_slicing, reason = "tests")]

mod attach;
mod bags;
mod components;
mod face;
mod order;
mod parts;
mod runs;
mod seams;
mod strokes;
mod values;

use super::{Request, resolve};
use crate::check;
use crate::diagnostic::{Look, Problems, Severity, render_text};
use crate::ir::{Attachment, Design, Edge, Operation, OperationKind, Piece, Place, Seam};
use crate::source::SourceMap;
use crate::stdlib::Nothing;

/// A cloth, a cord, and things to set on edges: all that the designs here are made of.
const GOODS: &str = r#"
material plain is cloth "Plain cloth" { mass = 50 g/m2  width = 300 cm  price = 5 EUR/m2  source = "memory" }
material fluff is batting "Fluff" { mass = 100 g/m2  width = 300 cm  source = "memory" }
material tape  is ribbon "Tape" { width = 20 mm  mass = 4 g/m  source = "memory" }
material line  is cord "Cord" { diameter = 2 mm  source = "memory" }
material stud  is hardware "Stud" { mass = 1 g  source = "memory" }
material spun  is thread "Thread" { mass = 30 tex  source = "memory" }

outline box(width: length, height: length) {
  start (0 mm, 0 mm)
  edge foot  line to (width, 0 mm)
  edge right line to (width, height)
  edge head  line to (0 mm, height)
  edge left  line to start
}

outline disc(across: length) {
  start (0 mm, 0 mm)
  edge rim arc to (across, 0 mm) rise across / 2 then arc to start rise across / 2
}

finish hem(width: length = 10 mm) { allow 2 * width  folds at 0 mm, width  encloses raw edges  stitch lockstitch 2.5 mm  sew "Fold twice and stitch" }
finish neat() {
  needs 6 mm
  encloses raw edges
  stitch zigzag 2 mm rows 2
  sew "Zigzag both edges"
}
finish shut() { stitch lockstitch 2 mm  sew "Stitch it shut" }

component loop(cut: length = 8 cm) "Loop" {
  sits at places
  footprint tape.width
  depth cut / 2 - allowance
  catches 8 mm
  faces face
  points in
  symbol bar
  uses cut of tape
  prepare "Cut {cut}"
  place "Baste it"
  complete "Bartack it"
}

component snap() "Snap" {
  sits at places
  pair socket, stud
  footprint 10 mm
  faces back, face
  symbol ring
  uses 1 of stud
  complete "Set it"
}

component casing(short: length = 15 mm) "Casing" {
  let long = stretch - 2 * short
  sits along stretch
  depth 15 mm
  catches 8 mm
  symbol band
  panel strip "Strip" {
    cut 1 of plain
    shape box(width: long, height: 30 mm)
    allow allowance
    finish left, right with hem(width: 5 mm)
    raw foot, head because "caught"
    mark line fold from (0 mm, 15 mm) to (long, 15 mm)
  }
  uses long + 16 cm of line
  prepare "Fold it"
  place "Baste it"
  complete "Thread it"
}

component band() "Band sewn on flat" { sits along stretch  depth 20 mm  uses stretch of tape  sew "Sew it on" with lockstitch 3 mm }
component cord() "Cord in a hem that is there" { sits along stretch  uses stretch + 20 cm of line  complete "Thread it" }
component badge() "Badge" { sits at places  uses 1 of stud  sew "Sew it on" }
"#;

/// A panel 1 m wide and 2 m high, cut twice: what most designs here are about.
const SHELL: &str = "
panel shell { cut 2 of plain as outer, inner  shape box(width: 1 m, height: 2 m)  allow 12 mm }
";

/// The items of a design resolved in one size, and everything that was found on the way.
fn worked(items: &str, size: Option<&str>) -> (Option<Design>, Problems, SourceMap) {
    worked_beside("", items, size)
}

/// With more that stands beside the design.
fn worked_beside(beside: &str, items: &str, size: Option<&str>) -> (Option<Design>, Problems, SourceMap) {
    let text = format!("{GOODS}\n{beside}\ndesign thing \"A thing\" {{\n{items}\n}}\n");
    let (mut sources, mut problems) = (SourceMap::default(), Problems::default());
    let file = sources.add("thing.fell", text);
    let program = check::check(file, &Nothing, &mut sources, &mut problems);
    let request = Request { size: size.map(str::to_owned), overrides: Vec::new() };
    let design = program.ok().and_then(|p| resolve(&p, &sources, &request, &mut problems));
    (design, problems, sources)
}

/// The items of a design, resolved without an error.
fn design(items: &str) -> Design {
    design_beside("", items)
}

fn design_beside(beside: &str, items: &str) -> Design {
    let (design, mut problems, sources) = worked_beside(beside, items, None);
    problems.retain(|d| d.severity == Severity::Error);
    let told = || render_text(&problems, &sources, Look::plain(100));
    let design = design.unwrap_or_else(|| panic!("{}", told()));
    no_rings(&design);
    design
}

/// Codes of all errors, in source order.
fn errors(items: &str) -> Vec<&'static str> {
    let (design, problems, _) = worked(items, None);
    assert!(design.is_none(), "it was worked out");
    problems.sorted().into_iter().filter(|d| d.severity == Severity::Error).map(|d| d.code).collect()
}

#[track_caller]
fn near(a: f64, b: f64) {
    assert!((a - b).abs() < 1e-6, "{a} is not {b}");
}

fn piece<'d>(design: &'d Design, name: &str) -> &'d Piece {
    design.pieces.iter().find(|p| p.name == name).unwrap_or_else(|| panic!("no piece {name}"))
}

fn edge<'d>(design: &'d Design, of: &str, name: &str) -> &'d Edge {
    piece(design, of).edges.iter().find(|e| e.name == name).unwrap_or_else(|| panic!("no edge {of}.{name}"))
}

fn seam<'d>(design: &'d Design, name: &str) -> &'d Seam {
    design.seams.iter().find(|s| s.name == name).unwrap_or_else(|| panic!("no seam {name}"))
}

fn attached<'d>(design: &'d Design, name: &str) -> Vec<&'d Attachment> {
    design.attachments.iter().filter(|a| a.name == name).collect()
}

/// From, to, distance and the end it is measured from.
fn on_edge(attachment: &Attachment) -> (f64, f64, f64, &str) {
    match &attachment.place {
        Place::Edge { from, to, distance, from_end, .. } => (from.as_mm(), to.as_mm(), distance.as_mm(), from_end),
        other => panic!("{other:?} is not on an edge"),
    }
}

#[track_caller]
fn lies(attachment: &Attachment, (from, to): (f64, f64), distance: f64, end: &str) {
    let found = on_edge(attachment);
    near(found.0, from);
    near(found.1, to);
    near(found.2, distance);
    assert_eq!(found.3, end);
}

fn operations<'d>(design: &'d Design, kind: OperationKind, name: &str) -> Vec<(usize, &'d Operation)> {
    design.operations.iter().enumerate().filter(|(_, o)| o.kind == kind && o.name == name).collect()
}

#[track_caller]
fn operation<'d>(design: &'d Design, kind: OperationKind, name: &str) -> (usize, &'d Operation) {
    let found = operations(design, kind, name);
    assert_eq!(found.len(), 1, "{kind:?} {name}");
    found[0]
}

/// Everything an operation must follow, by whatever way round.
fn all_before(design: &Design, index: usize) -> Vec<usize> {
    let (mut found, mut open) = (Vec::new(), vec![index]);
    while let Some(at) = open.pop() {
        for after in &design.operations[at].after {
            let before = after.operation.index();
            if !found.contains(&before) {
                found.push(before);
                open.push(before);
            }
        }
    }
    found
}

fn no_rings(design: &Design) {
    for (index, op) in design.operations.iter().enumerate() {
        assert!(!all_before(design, index).contains(&index), "{:?} {} waits for itself", op.kind, op.name);
        assert!(!op.what.is_empty(), "{:?} {} says nothing", op.kind, op.name);
    }
}

/// Asserts that each of these must come after the one before it.
#[track_caller]
fn in_order(design: &Design, steps: &[(OperationKind, &str)]) {
    for pair in steps.windows(2) {
        let (earlier, later) = (operation(design, pair[0].0, pair[0].1).0, operation(design, pair[1].0, pair[1].1).0);
        assert!(all_before(design, later).contains(&earlier), "{:?} does not wait for {:?}", pair[1], pair[0]);
    }
}

/// The reason that one operation itself gives for following another.
fn because<'d>(design: &'d Design, later: (OperationKind, &str), earlier: (OperationKind, &str)) -> Option<&'d str> {
    let (first, (_, op)) = (operation(design, earlier.0, earlier.1).0, operation(design, later.0, later.1));
    op.after.iter().find(|a| a.operation.index() == first).map(|a| a.because.as_str())
}
