//! Every piece of every example, written as a drawing and traced back: the same outline, within a hundredth of a millimetre.

#![allow(clippy::disallowed_methods, clippy::unwrap_used, clippy::indexing_slicing, reason = "examples are files of this project")]

use lapfell::cli::Folder;
use lapfell::geometry::{Bounds, FLATTEN, Path, Point, Segment, Vector, distance_to};
use lapfell::ir::Piece;
use lapfell::pipeline::{self, Compiled, Flavour, Options, Request, Resolved};
use lapfell::source::{Loaded, Span};
use lapfell::stdlib::WithLibrary;
use lapfell::trace::{self, Drawn};
use std::collections::BTreeMap;
use std::fs;

/// How far an outline may be off, mm, once it was written and traced back.
const OFF: f64 = 0.01;
/// Curves are compared as chains of points this near (mm).
const FINE: f64 = 0.001;

fn compile(example: &str) -> Compiled {
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("examples").join(example);
    let name = format!("{example}.fell");
    let text = fs::read_to_string(folder.join(&name)).unwrap();
    let loader = WithLibrary(Folder::at(&folder).unwrap());
    pipeline::compile(Loaded { name, text }, &loader, &Request::default(), &|_| {}).unwrap()
}

fn files(compiled: &Compiled, size: &Resolved, dxf: Flavour) -> BTreeMap<String, String> {
    let options = Options { dxf, ..Options::default() };
    pipeline::files(compiled, &[size], &options).unwrap().into_iter().map(|f| (f.path, f.contents)).collect()
}

/// What is asked for of a drawing.
#[derive(Default)]
struct Asked<'a> {
    path: Option<&'a str>,
    block: Option<&'a str>,
    layer: Option<&'a str>,
    around: Option<(f64, f64)>,
}

fn traced(text: &str, asked: &Asked<'_>) -> Drawn {
    let choice = |name: Option<&str>| name.map(|n| (n.to_owned(), Span::default()));
    let request = trace::Request {
        file: ("drawing".to_owned(), Span::default()),
        path: choice(asked.path),
        block: choice(asked.block),
        layer: choice(asked.layer),
        around: asked.around.map(|at| (at, Span::default())),
    };
    trace::read(&request, text.as_bytes()).unwrap_or_else(|e| panic!("{e:?}"))
}

fn outline(piece: &Piece) -> Path {
    Path { start: piece.edges[0].path.start, segments: piece.edges.iter().flat_map(|e| e.path.segments.clone()).collect() }
}

/// With the lower left corner of its box at the origin.
fn home(path: &Path) -> Path {
    let Bounds { min, .. } = path.bounds();
    path.translated(Vector::new(-min.x, -min.y))
}

/// The farthest that a point of either lies from the other.
fn apart(a: &Path, b: &Path) -> f64 {
    let (p, q) = (a.flatten(FINE), b.flatten(FINE));
    let one = |from: &[Point], to: &[Point]| from.iter().map(|x| distance_to(to, *x)).fold(0.0, f64::max);
    one(&p, &q).max(one(&q, &p))
}

/// Where a file holds chords for a curve, what comes back is these chords; the curve itself lies as near them as the file says.
fn assert_same(what: &str, drawn: &Drawn, asked: &Path, holds_chords: bool) {
    let (made, asked) = (home(drawn.outline()), home(asked));
    assert!(made.signed_area() > 0.0, "{what}: it runs clockwise");
    let far = apart(&made, &asked);
    assert!(far <= if holds_chords { OFF + FLATTEN } else { OFF }, "{what}: {far} mm apart");
    let written = if holds_chords { home(&Path::polyline(&asked.flatten(FLATTEN)).unwrap()) } else { asked };
    let far = apart(&made, &written);
    assert!(far <= OFF, "{what}: {far} mm apart");
    let (is, was) = (made.length(), written.length());
    assert!((is - was).abs() <= OFF, "{what}: {is} and {was} mm round");
}

#[test]
fn every_piece_comes_back_from_every_drawing_of_it() {
    let mut seen = 0;
    for example in ["pouch", "stuff_sack", "tarp", "top_quilt"] {
        let compiled = compile(example);
        for size in &compiled.sizes {
            let r12 = files(&compiled, size, Flavour::R12);
            let r2000 = files(&compiled, size, Flavour::R2000);
            let sheet = &r12[&format!("{}/pieces.svg", size.name)];
            let height: f64 = sheet.split("viewBox=\"0 0 ").nth(1).unwrap().split(['"', ' ']).nth(1).unwrap().parse().unwrap();
            for (index, piece) in size.design.pieces.iter().enumerate() {
                let what = |file: &str| format!("{example} {} {} {file}", size.name, piece.name);
                let asked = outline(piece);
                let bends = |is: fn(&Segment) -> bool| asked.segments.iter().any(is);
                let (free, curved) = (bends(|s| matches!(s, Segment::Cubic { .. })), bends(|s| !matches!(s, Segment::Line { .. })));
                let id = format!("piece-{}-{}-stitch", index + 1, piece.name.replace('.', "-"));
                let alone = &r12[&format!("{}/pieces/{}.svg", size.name, piece.name)];
                assert_same(&what("svg"), &traced(alone, &Asked { path: Some(&id), ..Asked::default() }), &asked, false);
                let on_sheet = traced(sheet, &Asked { path: Some(&id), ..Asked::default() });
                assert_same(&what("sheet"), &on_sheet, &asked, false);
                // A place just inside, where the cutter's drawing has it: on the same sheet, y counted from its foot.
                let at = on_sheet.outline().point_at(1.0);
                let inside = at + on_sheet.outline().tangent_at(1.0).left() * 0.5;
                let around = Some((inside.x, inside.y + height));
                for (flavour, files) in [("R12", &r12), ("R2000", &r2000)] {
                    let cutter = &files[&format!("{}/cutter.dxf", size.name)];
                    let drawn = traced(cutter, &Asked { layer: Some("stitch"), around, ..Asked::default() });
                    assert_same(&what(flavour), &drawn, &asked, free);
                }
                let pattern = &r12[&format!("{}/pattern.dxf", size.name)];
                let name = format!("{}_", piece.name.replace('.', "-").to_ascii_uppercase());
                let block = pattern.lines().find(|l| l.starts_with(&name)).unwrap_or_else(|| panic!("no block {name}"));
                let drawn = traced(pattern, &Asked { block: Some(block), layer: Some("14"), ..Asked::default() });
                assert_same(&what("pattern"), &drawn, &asked, curved);
                seen += 1;
            }
        }
    }
    assert!(seen > 40, "{seen}");
}
