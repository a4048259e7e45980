//! Small designs, resolved by hand, for the tests of the back ends that draw: what curves, tapers, holes and marks they must show.

use crate::geometry::{Path, Point, Vector};
use crate::ir::sample::{Sample, mm};
use crate::ir::{
    Copy, Design, Edge, EdgeId, EdgePart, FoldLine, Hole, Mark, MarkShape, MaterialId, MaterialKind, Notch, NotchReason, NotchShape, Piece,
    PieceId, Pointing, Symbol, Text,
};
use crate::quantity::Angle;
use crate::source::Span;

fn p(x: f64, y: f64) -> Point {
    Point::new(x, y)
}

fn span() -> Span {
    Span::default()
}

const SKIN: MaterialId = MaterialId(0);
const FLY: MaterialId = MaterialId(1);

fn start(name: &str, title: &str, size: &str) -> Sample {
    let mut sample = Sample::new(name, title);
    sample.design.size_title = size.into();
    let skin = sample.material("skin", MaterialKind::Cloth);
    sample.goods(skin).title = "Light nylon, 33 g/m2".into();
    let fly = sample.material("fly", MaterialKind::Cloth);
    sample.goods(fly).title = "Coated polyester, 50 g/m2".into();
    sample.goods(fly).laser = Some(false);
    sample
}

/// A piece of edges of any form: name, path, length by hand, allowance.
fn piece(
    sample: &mut Sample,
    (name, label): (&str, &str),
    material: MaterialId,
    edges: Vec<(&str, Path, f64, f64)>,
    cut_line: Path,
) -> PieceId {
    let id = sample.rectangle(name, material, (100.0, 100.0), 0.0);
    let piece = sample.piece_mut(id);
    let template = piece.edges.first().expect("a rectangle has edges").clone();
    let edge = |(name, path, length, allowance): (&str, Path, f64, f64)| Edge {
        name: name.into(),
        path,
        length: mm(length),
        sewn_length: mm(length),
        allowance: mm(allowance),
        ..template.clone()
    };
    piece.edges = edges.into_iter().map(edge).collect();
    piece.label = label.into();
    piece.cut_line = cut_line;
    id
}

fn rectangle(sample: &mut Sample, (name, label): (&str, &str), size: (f64, f64), allowance: f64) -> PieceId {
    let id = sample.rectangle(name, SKIN, size, allowance);
    let piece = sample.piece_mut(id);
    piece.label = label.into();
    let s = allowance;
    piece.cut_line = ring(&[p(-s, -s), p(size.0 + s, -s), p(size.0 + s, size.1 + s), p(-s, size.1 + s)]);
    id
}

fn chain(points: &[Point]) -> Path {
    Path::polyline(points).expect("a chain has points")
}

fn ring(points: &[Point]) -> Path {
    Path::polygon(points).expect("a ring has points")
}

fn mark(name: &str, text: Text, shape: MarkShape) -> Mark {
    Mark { name: name.into(), text, copies: Vec::new(), shape, origin: span() }
}

fn on_edge(piece: &mut Piece, name: &str, text: Text, (edge, at, inward): (u32, Point, Vector), half: f64, symbol: Symbol) {
    let along = inward.right();
    let stretch = chain(&[at - along * half, at + along * half]);
    piece.marks.push(mark(name, text, MarkShape::OnEdge { edge: EdgeId(edge), stretch, at, inward, points: Pointing::In, symbol }));
}

/// A quilt: a shell 2000 by 1300 whose sides taper to the foot, its batting, loops, a casing strip and a tab.
pub(crate) fn quilt() -> Design {
    let mut sample = start("larch", "Larch, a top quilt for cool nights", "tall");
    let (_, batt) = (shell(&mut sample, "shell", "Shell"), shell(&mut sample, "batt", "Batting"));
    let batt = sample.piece_mut(batt);
    batt.marks.clear();
    batt.copies = vec![Copy { name: None, mirrored: false }];
    strip(&mut sample);
    rectangle(&mut sample, ("tab", "Tab"), (80.0, 25.0), 5.0);
    sample.design.cautions = vec![Text::words("Keep cords and casings away from the neck of a child.")];
    sample.design
}

fn shell(sample: &mut Sample, name: &str, label: &str) -> PieceId {
    let (foot_left, foot_right, head_right, head_left) = (p(150.0, 0.0), p(1150.0, 0.0), p(1300.0, 2000.0), p(0.0, 2000.0));
    let (break_right, break_left) = (p(1300.0, 800.0), p(0.0, 800.0));
    // The tapered part: 800 up, 150 in.
    let slope = 800.0_f64.hypot(150.0);
    let edges = vec![
        ("foot", chain(&[foot_left, foot_right]), 1000.0, 12.0),
        ("right", chain(&[foot_right, break_right, head_right]), slope + 1200.0, 12.0),
        ("head", chain(&[head_right, head_left]), 1300.0, 12.0),
        ("left", chain(&[head_left, break_left, foot_left]), slope + 1200.0, 12.0),
    ];
    let cut = ring(&[p(140.04, -12.0), p(1159.96, -12.0), p(1312.0, 798.88), p(1312.0, 2012.0), p(-12.0, 2012.0), p(-12.0, 798.88)]);
    let id = piece(sample, (name, label), SKIN, edges, cut);
    sample.copies(id, &[("outer", false), ("inner", true)]);
    let part = |name: &str, from: f64, to: f64| EdgePart { name: name.into(), from: mm(from), to: mm(to) };
    sample.edge_mut(id, "right").parts = vec![part("tapered", 0.0, slope), part("straight", slope, slope + 1200.0)];
    sample.edge_mut(id, "left").parts = vec![part("straight", 0.0, 1200.0), part("tapered", 1200.0, 1200.0 + slope)];
    let shell = sample.piece_mut(id);
    for (i, down) in [250.0, 600.0, 1100.0].into_iter().enumerate() {
        let text = || Text::words(format!("loop {}, ", i + 1)).length(mm(down)).then(" from head");
        on_edge(shell, "loops", text(), (3, p(0.0, 2000.0 - down), Vector::new(1.0, 0.0)), 10.0, Symbol::Bar);
        on_edge(shell, "loops", text(), (1, p(1300.0, 2000.0 - down), Vector::new(-1.0, 0.0)), 10.0, Symbol::Bar);
    }
    for x in [400.0, 650.0, 900.0] {
        let text = Text::words("snap, ").length(mm(x - 150.0)).then(" from left");
        on_edge(shell, "snaps", text, (0, p(x, 0.0), Vector::new(0.0, 1.0)), 6.0, Symbol::Ring);
    }
    let text = Text::words("zip half, from foot for ").length(mm(450.0));
    on_edge(shell, "zip", text, (1, p(1192.0, 225.0), Vector::new(-0.983, 0.184)), 225.0, Symbol::Band);
    shell.marks.push(Mark { copies: vec![0], ..mark("tag", Text::words("name tag"), MarkShape::Point { at: p(650.0, 1800.0) }) });
    id
}

/// A casing strip, cut twice, with notches and a hole at each end.
fn strip(sample: &mut Sample) {
    let id = rectangle(sample, ("hem_cord.strip", "Casing strip"), (1260.0, 50.0), 8.0);
    let strip = sample.piece_mut(id);
    strip.grain.angle = Some(Angle::radians(0.0));
    strip.copies = vec![Copy { name: None, mirrored: false }; 2];
    for (edge, x, y, up) in [(0, 315.0, -8.0, 1.0), (0, 945.0, -8.0, 1.0), (2, 945.0, 58.0, -1.0), (2, 315.0, 58.0, -1.0)] {
        let at = mm(if edge == 0 { x } else { 1260.0 - x });
        let (edge, point, inward) = (EdgeId(edge), p(x, y), Vector::new(0.0, up));
        let lines = vec![Path::line(point, point + inward * 4.0)];
        let (shape, depth, width) = (NotchShape::Slit, mm(4.0), mm(0.0));
        let (place, reason, origin) = (at, NotchReason::Asked, span());
        strip.notches.push(Notch { edge, at, place, shape, rows: 1, point, inward, depth, width, lines, reason, origin });
    }
    for x in [30.0, 1230.0] {
        strip.holes.push(Hole { name: "cord".into(), path: Path::circle(p(x, 25.0), 4.0).reversed() });
    }
    strip.marks.push(mark("fold", Text::words("middle"), MarkShape::Line { path: chain(&[p(60.0, 25.0), p(1200.0, 25.0)]) }));
}

/// A tarp: its sides hung in arcs, its hems folded.
pub(crate) fn tarp() -> Design {
    let mut sample = start("heron", "Heron, a tarp for two", "as drawn");
    let corners = |s: f64| [p(-s, -s), p(3000.0 + s, -s), p(3000.0 + s, 2600.0 + s), p(-s, 2600.0 + s)];
    // Sag over half the chord is the tangent of a quarter of the angle: the bulge; turning right, the edges are hollow.
    let (wide, high) = (-110.0 / 1500.0, -90.0 / 1300.0);
    let length = |chord: f64, bulge: f64| chord * (1.0 + bulge * bulge) / bulge * bulge.atan();
    let [a, b, c, d] = corners(0.0);
    let edges = vec![
        ("foot", Path::new(a).arc_to(b, wide), length(3000.0, wide), 30.0),
        ("right", Path::new(b).arc_to(c, high), length(2600.0, high), 30.0),
        ("head", Path::new(c).arc_to(d, wide), length(3000.0, wide), 20.0),
        ("left", Path::new(d).arc_to(a, high), length(2600.0, high), 30.0),
    ];
    let around = |s: f64| {
        let [a, b, c, d] = corners(s);
        Path::new(a).arc_to(b, wide).arc_to(c, high).arc_to(d, wide).arc_to(a, high)
    };
    let id = piece(&mut sample, ("canopy", "Canopy"), FLY, edges, around(30.0));
    let tarp = sample.piece_mut(id);
    tarp.folds = vec![FoldLine { of: "foot".into(), path: around(15.0) }];
    for (i, (at, x, y)) in [(a, 1.0, 1.0), (b, -1.0, 1.0), (c, -1.0, -1.0), (d, 1.0, -1.0)].into_iter().enumerate() {
        let text = Text::words(format!("tie-out {}", i + 1));
        on_edge(tarp, "tie", text, (0, at, Vector::new(x, y).unit()), 12.0, Symbol::Tick);
    }
    tarp.marks.push(mark("ridge", Text::words("ridge"), MarkShape::Line { path: chain(&[p(90.0, 1300.0), p(2910.0, 1300.0)]) }));
    sample.design
}

/// A sack: a round base, a body, and a flap with a free curve.
pub(crate) fn sack() -> Design {
    let mut sample = start("burr", "Burr, a stuff sack", "small");
    let circle = |r: f64| Path::circle(p(0.0, 0.0), r);
    let rim = vec![("rim", circle(75.0), std::f64::consts::TAU * 75.0, 10.0)];
    let base = piece(&mut sample, ("base", "Round base"), SKIN, rim, circle(85.0));
    sample.piece_mut(base).grain.angle = None;
    rectangle(&mut sample, ("body", "Body"), (471.24, 300.0), 10.0);
    let curve = |w: f64, h: f64| {
        let half = Path::new(p(-w, h)).cubic_to(p(-w, h * 0.2), p(-w * 0.6, 0.0), p(0.0, 0.0));
        half.cubic_to(p(w * 0.6, 0.0), p(w, h * 0.2), p(w, h))
    };
    let cut = curve(100.0, 120.0).translated(Vector::new(0.0, -10.0));
    let cut = cut.line_to(p(100.0, 120.0)).line_to(p(-100.0, 120.0)).line_to(p(-100.0, 110.0));
    let finished = curve(90.0, 110.0);
    let length = finished.length();
    let edges = vec![("curve", finished, length, 10.0), ("top", chain(&[p(90.0, 110.0), p(-90.0, 110.0)]), 180.0, 10.0)];
    piece(&mut sample, ("flap", "Flap"), SKIN, edges, cut);
    sample.design
}
