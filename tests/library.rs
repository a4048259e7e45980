//! The standard library and the examples, whole: every item is used somewhere and sewable, and its figures are
//! those worked out by hand or given in tables of the trade.

#![allow(clippy::disallowed_methods, clippy::unwrap_used, reason = "a test of files that stand beside it; what fails is shown")]

use lapfell::diagnostic::{Look, Problems, render_text};
use lapfell::ir::{Amount, Design, Piece};
use lapfell::pipeline::{AS_DRAWN, Compiled, Request, compile};
use lapfell::quantity::Style;
use lapfell::source::{FileId, LoadError, Loaded, Loader};
use lapfell::stdlib::{WithLibrary, modules};
use lapfell::syntax::ast::Declaration;
use lapfell::syntax::parse;
use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

/// Serves the modules beside a design.
struct Beside(PathBuf);

impl Loader for Beside {
    fn load(&self, path: &str) -> Result<Loaded, LoadError> {
        let name = format!("{path}.fell");
        let text = std::fs::read_to_string(self.0.join(&name)).map_err(|_| LoadError::Missing { known: Vec::new() })?;
        Ok(Loaded { name, text })
    }
}

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

fn built(file: &str, settings: &[&str]) -> Compiled {
    let path = root().join(file);
    let main = Loaded { name: file.to_owned(), text: std::fs::read_to_string(&path).unwrap() };
    let loader = WithLibrary(Beside(path.parent().unwrap().to_owned()));
    let request = Request { settings: settings.iter().map(|s| (*s).to_owned()).collect(), jobs: Some(1), ..Request::default() };
    let compiled = compile(main, &loader, &request, &|_| {}).unwrap();
    let report = render_text(&compiled.problems, &compiled.sources, Look { colour: false, width: 120 });
    assert!(compiled.problems.is_empty(), "{file} {settings:?}\n{report}");
    compiled
}

fn as_drawn(compiled: &Compiled) -> &Design {
    &compiled.sizes.iter().find(|s| s.name == AS_DRAWN).unwrap().design
}

fn piece<'d>(design: &'d Design, name: &str) -> &'d Piece {
    design.pieces.iter().find(|p| p.name == name).unwrap_or_else(|| panic!("no piece {name}"))
}

fn edge(design: &Design, name: &str) -> f64 {
    let (owner, edge) = name.split_once('.').unwrap();
    piece(design, owner).edges.iter().find(|e| e.name == edge).unwrap_or_else(|| panic!("no edge {name}")).length.as_mm()
}

#[track_caller]
fn near(found: f64, expected: f64, tolerance: f64, what: &str) {
    assert!((found - expected).abs() <= tolerance, "{what} is {found}, not {expected}");
}

#[test]
fn outlines_measure_what_they_should() {
    let compiled = built("tests/library/shapes.fell", &[]);
    let design = as_drawn(&compiled);
    // Edge, length in mm, tolerance.
    for (name, expected, tolerance) in [
        ("oblong.foot", 600.0, 1e-6),
        ("oblong.left", 400.0, 1e-6),
        // A quarter of a circle of radius 100: 50 pi.
        ("soft.right_head", 157.0796, 1e-3),
        ("soft.foot", 400.0, 1e-6),
        ("soft.left", 200.0, 1e-6),
        // sqrt(2000^2 + 200^2)
        ("wedge.left", 2009.975, 1e-3),
        ("wedge.head", 1300.0, 1e-6),
        ("wedge.foot", 900.0, 1e-6),
        // Three, four, five.
        ("peak.left", 500.0, 1e-6),
        ("gusset.slope", 500.0, 1e-6),
        ("disc.rim", 471.2389, 1e-3),
        ("dome.rim", 314.1593, 1e-3),
        ("fan.rim", 157.0796, 1e-3),
        // Ramanujan: pi 250 (1 + 3h / (10 + sqrt(4 - 3h))), h = (50/250)^2.
        ("egg.rim", 793.272, 0.25),
        ("base.rim", 471.2389, 1e-4),
        // The length of the rim as drawn, found by halving, against the one asked for.
        ("long_base.rim", 1000.0, 0.01),
        ("flat_base.rim", 1000.0, 0.1),
        ("tall_base.rim", 1000.0, 0.1),
        ("round_base.rim", 1000.0, 0.001),
        // Three, four, five.
        ("crotch.right_head", 50.0, 1e-6),
        ("side.foot", 1400.0, 1e-6),
        // Half round 180 with 50 between: 565.5 inside, 722.6 outside (pi 180, pi 230).
        ("outer_tube.foot", 722.5663, 1e-3),
        // 2 r asin(62.5 / r) with r = 90.625, and 2 pi 25.
        ("outer_tube.left", 137.934 + 157.0796, 1e-3),
        // Diameters 200 and 300, 300 high: slant 304.1381, rims pi d.
        ("bucket.foot", 628.3185, 1e-3),
        ("bucket.head", 942.4778, 1e-3),
        ("bucket.left", 304.1381, 1e-3),
        ("funnel.foot", 942.4778, 1e-3),
        ("funnel.head", 628.3185, 1e-3),
        ("funnel.right", 304.1381, 1e-3),
        // Nearly a full disc: slant sqrt(60^2 + 150^2).
        ("hat.foot", 1256.6371, 1e-3),
        ("hat.head", 314.1593, 1e-3),
        ("hat.left", 161.5549, 1e-3),
        // Catenaries: 3000 by 125, and 1000 by 50.
        ("roof.eave", 3013.8442, 1e-3),
        ("roof.left", 1006.6358, 1e-3),
        ("roof.ridge", 3000.0, 1e-6),
    ] {
        near(edge(design, name), expected, tolerance, name);
    }
    for (name, expected, tolerance) in [
        ("oblong", 240_000.0, 1e-3),
        // Less four corners of (1 - pi/4) 100^2.
        ("soft", 231_415.927, 0.1),
        ("wedge", 2_200_000.0, 1e-3),
        ("peak", 120_000.0, 1e-3),
        ("gusset", 60_000.0, 1e-3),
        ("disc", 17_671.459, 0.1),
        ("dome", 15_707.963, 0.1),
        ("fan", 7_853.982, 0.1),
        // pi a b, to three parts in ten thousand.
        ("egg", 47_123.890, 15.0),
        // Of the ellipse 1 m round, by Ramanujan: a = 195.871, pi a^2 0.6.
        ("long_base", 72_317.2, 40.0),
        ("crotch", 2400.0, 1e-6),
        // pi (R + r) slant
        ("bucket", 238_869.5, 0.5),
        ("funnel", 238_869.5, 0.5),
        ("hat", 126_884.9, 0.5),
        // 3000 x 1000 less what the three curves take: 250115.1 and twice 33355.4.
        ("roof", 2_683_174.1, 1.0),
    ] {
        near(piece(design, name).finished.area.as_mm2(), expected, tolerance, name);
    }
}

#[test]
fn finishes_and_trims_can_be_sewn() {
    let finishes = built("tests/library/finishes.fell", &[]);
    assert_eq!(as_drawn(&finishes).seams.len(), 10);
    // A strip for 4960 mm and 40 more to turn in: (1500 - 50) sqrt 2 = 2050.61 across the cloth, 12 sqrt 2 = 16.97 lost in a
    // join; three strips, two joins, 5033.94 in all, 36 wide.
    let ground = piece(as_drawn(&finishes), "ground").edges.iter().find(|e| e.name == "right").unwrap();
    let Amount::Area(area) = ground.finish.as_ref().unwrap().uses[0].amount else { panic!("a strip is an area of cloth") };
    near(area.as_mm2(), 5033.941 * 36.0, 1.0, "strip of a bias binding");
    let metric = Style::METRIC;
    let told = |words: &str| as_drawn(&finishes).operations.iter().any(|o| o.what.worded(metric).contains(words));
    assert!(told("Cut 3 strips 36 mm wide") && told("with 2 seams, 6 mm from their ends"), "three strips, two joins");
    let trims = built("tests/library/trims.fell", &[]);
    let design = as_drawn(&trims);
    // A loop of two ends caught by 12 mm: 80 / 2 - 12 stands out.
    let loops = design.attachments.iter().find(|a| a.name == "loops").unwrap();
    near(loops.depth.as_mm(), 28.0, 1e-9, "visible length of a ribbon loop");
    // The strip of a casing: 15 mm short of each end, folded in half.
    let strip = piece(design, "cord.strip");
    near(strip.finished.width.as_mm(), 800.0 - 30.0, 1e-6, "casing strip");
    near(strip.finished.height.as_mm(), 30.0, 1e-6, "casing strip");
    near(strip.cut.height.as_mm(), 54.0, 1e-6, "casing strip with allowances");
    // Two patches a line, four corners.
    let patches: usize = design.pieces.iter().filter(|p| p.name.ends_with(".patch")).map(|p| p.copies.len()).sum();
    assert_eq!(patches, 4);
}

/// Every outline, finish and component that a module declares.
fn declared(module: &str) -> BTreeSet<String> {
    let (_, text) = modules().find(|(name, _)| name == module).unwrap();
    let file = parse(FileId::default(), text, &mut Problems::default());
    let wanted = |d: &&Declaration| matches!(d, Declaration::Outline(_) | Declaration::Finish(_) | Declaration::Component(_));
    file.declarations.iter().filter(wanted).map(|d| d.name().text.clone()).collect()
}

#[test]
fn every_item_is_used_in_a_test() {
    for name in ["shapes", "finishes", "trims"] {
        let text = std::fs::read_to_string(root().join(format!("tests/library/{name}.fell"))).unwrap();
        let file = parse(FileId::default(), &text, &mut Problems::default());
        let module = format!("std.{name}");
        let uses = file.uses.iter().filter(|u| u.path.text == module).flat_map(|u| &u.names);
        // An import that nothing uses is a warning, and these files have none.
        let used: BTreeSet<String> = uses.map(|n| n.name.text.clone()).collect();
        assert_eq!(used, declared(&module));
    }
}

#[test]
fn every_declaration_of_the_library_is_described() {
    for (module, text) in modules() {
        let file = parse(FileId::default(), text, &mut Problems::default());
        assert!(text.starts_with("// "), "{module} says nothing of itself");
        for d in &file.declarations {
            let (doc, source) = match d {
                Declaration::Outline(o) => (o.doc.is_some(), true),
                Declaration::Finish(f) => (f.doc.is_some(), true),
                Declaration::Component(c) => (c.doc.is_some(), true),
                Declaration::Function(f) => (f.doc.is_some(), true),
                Declaration::Constant(c) => (c.doc.is_some(), true),
                Declaration::Material(m) => (m.title.is_some(), m.settings.iter().any(|s| s.name.text == "source")),
                Declaration::Cutter(c) => (c.title.is_some(), true),
                Declaration::Design(_) => (false, true),
            };
            assert!(doc && source, "{module}.{} lacks its line or its source", d.name().text);
        }
    }
}

#[test]
fn a_sack_holds_what_it_should() {
    // A cylinder 150 mm across and 300 mm tall holds 5.3014 l.
    let compiled = built("examples/stuff_sack/stuff_sack.fell", &["volume=5.301437603 l", "slim=2"]);
    let design = as_drawn(&compiled);
    near(edge(design, "body.foot"), 471.2389, 1e-3, "girth");
    near(edge(design, "base.rim"), 471.2389, 1e-3, "rim");
    near(piece(design, "base").cut.width.as_mm(), 170.0, 1e-2, "base with its allowance");
    // Filled part, half a diameter to close over the top, the casing.
    near(edge(design, "body.left"), 300.0 + 75.0 + 18.0, 1e-3, "height");
}

#[test]
fn a_pouch_stands_as_deep_as_asked() {
    let compiled = built("examples/pouch/pouch.fell", &["wide=20 cm", "tall=12 cm", "deep=6 cm"]);
    let design = as_drawn(&compiled);
    // Flat 260 x 150 with squares of 30 out: base 200 wide, 60 deep, walls 120 tall.
    near(edge(design, "wall.foot"), 200.0, 1e-6, "base");
    near(edge(design, "wall.left"), 120.0, 1e-6, "wall");
    near(edge(design, "wall.left_foot_1") + edge(design, "wall.left_foot_2"), 60.0, 1e-6, "depth");
    near(piece(design, "wall").finished.area.as_mm2(), 260.0 * 150.0 - 2.0 * 900.0, 1e-3, "wall");
}

#[test]
fn a_quilt_tapers_and_a_tarp_is_a_pair() {
    let quilt = built("examples/top_quilt/top_quilt.fell", &["stature=176 cm", "girth=118 cm"]);
    // 1840 long: 1012 straight, then sqrt(828^2 + 150^2).
    near(edge(as_drawn(&quilt), "shell.left"), 1012.0 + 841.477, 1e-2, "side of the quilt");
    near(edge(as_drawn(&quilt), "shell.foot"), 1100.0, 1e-6, "foot of the quilt");
    let tarp = built("examples/tarp/tarp.fell", &[]);
    let mirrored: Vec<bool> = piece(as_drawn(&tarp), "side").copies.iter().map(|c| c.mirrored).collect();
    assert_eq!(mirrored, [false, true]);
}

#[test]
fn a_quilt_can_be_had_in_every_way() {
    for foot in ["zipped", "sewn", "open"] {
        for fill in ["67 g/m2", "100 g/m2", "135 g/m2"] {
            let compiled = built("examples/top_quilt/top_quilt.fell", &[&format!("foot={foot}"), &format!("fill={fill}")]);
            assert_eq!(compiled.sizes.len(), 4);
            let zipper = compiled.sizes.iter().filter(|s| s.design.attachments.iter().any(|a| a.name == "foot_zip")).count();
            assert_eq!(zipper, if foot == "zipped" { 4 } else { 0 });
        }
    }
}
