//! Every piece of every example, written as a drawing and traced back: the same outline, within a hundredth of a millimetre.

#![allow(clippy::disallowed_methods, clippy::unwrap_used, clippy::indexing_slicing, reason = "examples are files of this project")]

use lapfell::cli::Folder;
use lapfell::geometry::{Bounds, FLATTEN, Path, Point, Segment, Vector, distance_to};
use lapfell::ir::Piece;
use lapfell::pipeline::{self, Compiled, Flavour, Options, Request, Resolved, Style};
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

/// Reads a drawing and asks it for its edges; whatever it holds, an answer comes, and soon.
fn survives(what: &str, bytes: &[u8]) -> Option<String> {
    let begun = std::time::Instant::now();
    let request = trace::Request { file: ("drawing".to_owned(), Span::default()), path: None, block: None, layer: None, around: None };
    let names = ["foot", "right", "head", "left"].map(|n| trace::Named { name: n.to_owned(), end: None, span: Span::default() });
    let read = trace::read(&request, bytes).and_then(|drawn| drawn.edges(&names, 0.35, 1.0, Span::default()));
    let took = begun.elapsed();
    // Generous: a debug build on a machine that does other work.
    assert!(took.as_secs() < 20, "{what}: {took:?}");
    read.err().map(|error| lapfell::diagnostic::Diagnostic::from(error).headline.read_in(Style::METRIC))
}

fn svg(inside: &str) -> String {
    format!("<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 500 400\">{inside}</svg>")
}

fn dxf(entities: &str) -> String {
    format!("0\nSECTION\n2\nENTITIES\n{entities}0\nENDSEC\n0\nEOF\n")
}

#[test]
fn hostile_drawings_are_refused_and_soon() {
    let ring = "<path d=\"M0 0H400V300H0Z\"/>";
    let deep = format!("{}{ring}{}", "<g>".repeat(300_000), "</g>".repeat(300_000));
    let bomb =
        "<!DOCTYPE svg [<!ENTITY a \"aaaaaaaaaa\"><!ENTITY b \"&a;&a;&a;&a;&a;&a;&a;&a;&a;&a;\">]>".to_owned() + &svg("<text>&b;</text>");
    let far = svg("<path d=\"M0 0H1e300V300H0Z\"/>");
    let curve = svg("<path d=\"M0 0C1e300 0 -1e300 5e299 400 0V300H0Z\"/>");
    let arc = svg("<path d=\"M0 0A1e308 1e308 0 0 1 400 0A1e-300 1e-300 0 1 1 400 300L0 300Z\"/>");
    let crowd = svg(&format!("<path d=\"{}\"/>", "M0 0L1 1".repeat(150_000)));
    let star: String = (0..60_000).map(|i| format!("M0 0L{} {}", i % 977 + 1, i % 571 + 1)).collect();
    let comb: String = (0..19_000).map(|i| format!("L{} {}", 380.0 - f64::from(i) / 50.0, if i % 2 == 0 { 10 } else { 290 })).collect();
    let drawings = [
        ("deep", deep.clone()),
        ("deep in svg", svg(&deep)),
        ("entities", bomb),
        ("far", far),
        ("a curve from afar", curve),
        ("arcs without measure", arc),
        ("a crowd on one line", crowd),
        ("a star", svg(&format!("<path d=\"{star}\"/>"))),
        ("many rings", svg(&(0..60_000).map(|i| format!("<path d=\"M{i} 0h4v3h-4Z\"/>")).collect::<String>())),
        ("no numbers", svg("<path d=\"MNaN 0LNaN NaN L inf 0Z\"/>")),
        ("a bad transform", svg("<g transform=\"scale(1e308) scale(1e308)\"><path d=\"M0 0H400V300H0Z\"/></g>")),
        ("a flat transform", svg("<g transform=\"scale(0)\"><path d=\"M0 0H400V300H0Z\"/></g>")),
        ("nothing", String::new()),
        ("no drawing", "foot, right, head, left".to_owned()),
        ("a page", "<html><body/></html>".to_owned()),
        ("not ended", "<svg".to_owned()),
        ("NaN in dxf", dxf("0\nLWPOLYLINE\n8\n0\n90\n3\n70\n1\n10\nnan\n20\n0\n10\n400\n20\n0\n10\n0\n20\n300\n")),
        ("bulges", dxf("0\nLWPOLYLINE\n8\n0\n90\n3\n70\n1\n10\n0\n20\n0\n42\n1e300\n10\n400\n20\n0\n42\ninf\n10\n0\n20\n300\n")),
        ("a count of vertices", dxf("0\nLWPOLYLINE\n8\n0\n90\n2000000000\n70\n1\n10\n0\n20\n0\n")),
        ("sections in sections", "0\nSECTION\n2\nENTITIES\n".repeat(100_000)),
        ("blocks in blocks", format!("0\nSECTION\n2\nBLOCKS\n{}0\nENDSEC\n0\nEOF\n", "0\nBLOCK\n2\nA\n".repeat(50_000))),
        ("polylines in polylines", dxf(&"0\nPOLYLINE\n8\n0\n66\n1\n".repeat(50_000))),
        ("circles", dxf(&"0\nCIRCLE\n8\n0\n10\n0\n20\n0\n40\n1e300\n".repeat(100))),
        ("half a pair", "0\nSECTION\n2\nENTITIES\n0\nLINE\n10".to_owned()),
    ];
    for (what, text) in &drawings {
        assert!(survives(what, text.as_bytes()).is_some(), "{what} is no outline");
    }
    // Long, and an outline all the same: as many corners as are read.
    let told = survives("a comb", svg(&format!("<path d=\"M0 0H380{comb}V300H0Z\"/>")).as_bytes());
    assert!(told.is_some_and(|t| t.contains("4 names are given")), "a comb");
    assert_eq!(survives("a rectangle", svg(ring).as_bytes()), None);
}

#[test]
fn drawings_gone_wrong_never_break_the_reader() {
    let compiled = compile("pouch");
    let size = &compiled.sizes[0];
    let (r12, r2000) = (files(&compiled, size, Flavour::R12), files(&compiled, size, Flavour::R2000));
    let named = |files: &BTreeMap<String, String>, name: &str| files[&format!("{}/{name}", size.name)].clone();
    let drawings = [named(&r12, "pieces/wall.svg"), named(&r12, "cutter.dxf"), named(&r2000, "cutter.dxf"), named(&r12, "pattern.dxf")];
    let parts = [
        "", "0", "-1", "1e309", "nan", "SECTION", "ENDSEC", "EOF", "BLOCK", "ENDBLK", "VERTEX", "SEQEND", "<", ">", "\"", "A", "Z", "M",
        " ",
    ];
    let mut state = 7_u64;
    let mut dice = |most: usize| {
        state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        usize::try_from(state >> 33).unwrap() % most
    };
    for text in &drawings {
        let lines: Vec<&str> = text.lines().collect();
        for round in 0..150 {
            let mut gone: Vec<String> = lines.iter().map(|l| (*l).to_owned()).collect();
            for _ in 0..=dice(3) {
                let (at, to) = (dice(gone.len().max(1)), dice(lines.len()));
                if gone.is_empty() {
                    break;
                }
                match dice(5) {
                    0 => drop(gone.remove(at)),
                    1 => gone.insert(at, lines[to].to_owned()),
                    2 => gone[at] = parts[dice(parts.len())].to_owned(),
                    3 => gone.truncate(at.max(1)),
                    _ => {
                        let cut = gone[at].char_indices().nth(dice(12)).map_or(gone[at].len(), |(i, _)| i);
                        gone[at].insert_str(cut, parts[dice(parts.len())]);
                    }
                }
            }
            survives(&format!("round {round}"), gone.join("\n").as_bytes());
        }
    }
}
