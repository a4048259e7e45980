//! Small designs, resolved by hand, for the tests of the back ends.

use crate::geometry::{Path, Point, Segment, Vector};
use crate::ir::*;
use crate::quantity::{Angle, Area, Length};
use crate::source::Span;
use std::f64::consts::FRAC_PI_2;

fn p(x: f64, y: f64) -> Point {
    Point::new(x, y)
}

fn mm(value: f64) -> Length {
    Length::mm(value)
}

fn span() -> Span {
    Span::default()
}

const WHY: TraceId = TraceId(0);

/// A design without anything in it.
pub(crate) fn design(name: &str, title: &str, size: &str) -> Design {
    Design {
        format: FORMAT_VERSION,
        name: name.into(),
        title: title.into(),
        size: None,
        size_title: size.into(),
        files: vec![format!("{name}.fell")],
        parameters: Vec::new(),
        materials: vec![cloth("skin", "Light nylon, 33 g/m2", Some(true)), cloth("fly", "Coated polyester, 50 g/m2", Some(false))],
        pieces: Vec::new(),
        attachments: Vec::new(),
        seams: Vec::new(),
        applied: Vec::new(),
        quilting: Vec::new(),
        operations: Vec::new(),
        cautions: Vec::new(),
        accepted: Vec::new(),
        provenance: Provenance::default(),
    }
}

fn cloth(name: &str, title: &str, laser: Option<bool>) -> Material {
    Material {
        name: name.into(),
        title: title.into(),
        kind: MaterialKind::Cloth,
        mass: None,
        price: None,
        width: Some(mm(1480.0)),
        selvedge: mm(15.0),
        thickness: None,
        one_sided: false,
        direction: Direction::TwoWay,
        laser,
        chain: None,
        separating: false,
        slider_mass: None,
        slider_price: None,
        source: "memory".into(),
        why_mass: WHY,
        why_price: WHY,
        origin: span(),
    }
}

/// A piece of edges; its cut line is given.
pub(crate) fn piece(name: &str, label: &str, edges: Vec<Edge>, cut_line: Path) -> Piece {
    let extent = Extent { width: mm(0.0), height: mm(0.0), area: Area::mm2(0.0), why: WHY };
    Piece {
        name: name.into(),
        label: label.into(),
        copies: vec![Copy { name: None, mirrored: false }],
        material: MaterialId(0),
        edges,
        cut_line,
        folds: Vec::new(),
        notches: Vec::new(),
        marks: Vec::new(),
        holes: Vec::new(),
        grain: Grain { angle: Some(Angle::radians(FRAC_PI_2)), within: Angle::radians(0.05), origin: span() },
        finished: extent,
        cut: extent,
        origin: span(),
    }
}

/// An edge whose length is given by hand.
pub(crate) fn edge(name: &str, path: Path, length: f64, allowance: f64) -> Edge {
    Edge {
        name: name.into(),
        path,
        length: mm(length),
        sewn_length: mm(length),
        parts: Vec::new(),
        allowance: mm(allowance),
        finish: None,
        raw_because: None,
        start_neighbour: String::new(),
        end_neighbour: String::new(),
        why: WHY,
        why_allowance: WHY,
        origin: span(),
    }
}

/// A chain of straight lines.
pub(crate) fn chain(points: &[Point]) -> Path {
    Path::polyline(points).expect("a chain has points")
}

/// A closed polygon.
fn ring(points: &[Point]) -> Path {
    Path::polygon(points).expect("a ring has points")
}

fn arc(start: Point, end: Point, bulge: f64) -> Path {
    Path::new(start).arc_to(end, bulge)
}

/// A rectangle of four edges `foot`, `right`, `head`, `left`, the same allowance all round.
pub(crate) fn rectangle(name: &str, label: &str, width: f64, height: f64, allowance: f64) -> Piece {
    let c = [p(0.0, 0.0), p(width, 0.0), p(width, height), p(0.0, height)];
    let [a, b, d, e] = c;
    let edges = vec![
        edge("foot", chain(&[a, b]), width, allowance),
        edge("right", chain(&[b, d]), height, allowance),
        edge("head", chain(&[d, e]), width, allowance),
        edge("left", chain(&[e, a]), height, allowance),
    ];
    let s = allowance;
    let cut = ring(&[p(-s, -s), p(width + s, -s), p(width + s, height + s), p(-s, height + s)]);
    piece(name, label, edges, cut)
}

fn on_edge(piece: &mut Piece, name: &str, text: Text, (edge, at, inward): (u32, Point, Vector), half: f64, symbol: Symbol) {
    let along = inward.right();
    let stretch = chain(&[at - along * half, at + along * half]);
    piece.marks.push(Mark {
        name: name.into(),
        text,
        copies: Vec::new(),
        shape: MarkShape::OnEdge { edge: EdgeId(edge), stretch, at, inward, symbol },
        origin: span(),
    });
}

/// A quilt: a shell 2000 by 1300 whose sides taper to the foot, its batting, loops, and a strip.
pub(crate) fn quilt() -> Design {
    let mut design = design("larch", "Larch, a top quilt for cool nights", "tall");
    let shell = shell();
    let mut batt = shell.clone();
    batt.name = "batt".into();
    batt.label = "Batting".into();
    batt.marks.clear();
    batt.copies.truncate(1);
    batt.copies.iter_mut().for_each(|c| c.name = None);
    design.pieces = vec![shell, batt, strip(), tab()];
    design.cautions = vec![Text::words("Keep cords and casings away from the neck of a child.")];
    design
}

fn shell() -> Piece {
    let (foot_left, foot_right, head_right, head_left) = (p(150.0, 0.0), p(1150.0, 0.0), p(1300.0, 2000.0), p(0.0, 2000.0));
    let (break_right, break_left) = (p(1300.0, 800.0), p(0.0, 800.0));
    // The tapered part: 800 up, 150 in.
    let slope = 800.0_f64.hypot(150.0);
    let part = |name: &str, from: f64, to: f64| EdgePart { name: name.into(), from: mm(from), to: mm(to) };
    let mut right = edge("right", chain(&[foot_right, break_right, head_right]), slope + 1200.0, 12.0);
    right.parts = vec![part("tapered", 0.0, slope), part("straight", slope, slope + 1200.0)];
    let mut left = edge("left", chain(&[head_left, break_left, foot_left]), slope + 1200.0, 12.0);
    left.parts = vec![part("straight", 0.0, 1200.0), part("tapered", 1200.0, 1200.0 + slope)];
    let edges = vec![
        edge("foot", chain(&[foot_left, foot_right]), 1000.0, 12.0),
        right,
        edge("head", chain(&[head_right, head_left]), 1300.0, 12.0),
        left,
    ];
    let cut = ring(&[p(140.04, -12.0), p(1159.96, -12.0), p(1312.0, 798.88), p(1312.0, 2012.0), p(-12.0, 2012.0), p(-12.0, 798.88)]);
    let mut shell = piece("shell", "Shell", edges, cut);
    shell.copies = ["outer", "inner"].map(|n| Copy { name: Some(n.into()), mirrored: n == "inner" }).to_vec();
    for (i, down) in [250.0, 600.0, 1100.0].into_iter().enumerate() {
        let text = || Text::words(format!("loop {}, ", i + 1)).length(mm(down)).then(" from head");
        on_edge(&mut shell, "loops", text(), (3, p(0.0, 2000.0 - down), Vector::new(1.0, 0.0)), 10.0, Symbol::Bar);
        on_edge(&mut shell, "loops", text(), (1, p(1300.0, 2000.0 - down), Vector::new(-1.0, 0.0)), 10.0, Symbol::Bar);
    }
    for x in [400.0, 650.0, 900.0] {
        let text = Text::words("snap, ").length(mm(x - 150.0)).then(" from left");
        on_edge(&mut shell, "snaps", text, (0, p(x, 0.0), Vector::new(0.0, 1.0)), 6.0, Symbol::Ring);
    }
    on_edge(
        &mut shell,
        "zip",
        Text::words("zip half, from foot for ").length(mm(450.0)),
        (1, p(1192.0, 225.0), Vector::new(-0.983, 0.184)),
        225.0,
        Symbol::Band,
    );
    shell.marks.push(Mark {
        name: "label".into(),
        text: Text::words("name tag"),
        copies: vec![0],
        shape: MarkShape::Point { at: p(650.0, 1800.0) },
        origin: span(),
    });
    shell
}

/// A casing strip with notches and a hole at each end.
fn strip() -> Piece {
    let mut strip = rectangle("hem_cord.strip", "Casing strip", 1260.0, 50.0, 8.0);
    strip.grain.angle = Some(Angle::radians(0.0));
    strip.copies = vec![Copy { name: None, mirrored: false }; 2];
    for (edge, x, y, up) in [(0, 315.0, -8.0, 1.0), (0, 945.0, -8.0, 1.0), (2, 945.0, 58.0, -1.0), (2, 315.0, 58.0, -1.0)] {
        let at = if edge == 0 { x } else { 1260.0 - x };
        strip.notches.push(Notch {
            edge: EdgeId(edge),
            at: mm(at),
            point: p(x, y),
            inward: Vector::new(0.0, up),
            depth: mm(4.0),
            reason: NotchReason::Asked,
            origin: span(),
        });
    }
    for x in [30.0, 1230.0] {
        let (right, left) = (p(x + 4.0, 25.0), p(x - 4.0, 25.0));
        let path = Path { start: right, segments: vec![Segment::Arc { end: left, bulge: -1.0 }, Segment::Arc { end: right, bulge: -1.0 }] };
        strip.holes.push(Hole { name: "cord".into(), path });
    }
    strip.marks.push(Mark {
        name: "fold".into(),
        text: Text::words("middle"),
        copies: Vec::new(),
        shape: MarkShape::Line { path: chain(&[p(60.0, 25.0), p(1200.0, 25.0)]) },
        origin: span(),
    });
    strip
}

fn tab() -> Piece {
    rectangle("tab", "Tab", 80.0, 25.0, 5.0)
}

/// A tarp: its sides hung in arcs, hems folded twice.
pub(crate) fn tarp() -> Design {
    let mut design = design("heron", "Heron, a tarp for two", "as drawn");
    let (a, b, c, d) = (p(0.0, 0.0), p(3000.0, 0.0), p(3000.0, 2600.0), p(0.0, 2600.0));
    // Sag over half the chord is the tangent of half the half angle: the bulge; turning right, the edges are hollow.
    let hollow = |sag: f64, chord: f64| -sag / (chord / 2.0);
    let length = |chord: f64, sag: f64| {
        let bulge = sag / (chord / 2.0);
        chord * (1.0 + bulge * bulge) / (4.0 * bulge) * 4.0 * bulge.atan()
    };
    let (wide, high) = (hollow(110.0, 3000.0), hollow(90.0, 2600.0));
    let edges = vec![
        edge("foot", arc(a, b, wide), length(3000.0, 110.0), 30.0),
        edge("right", arc(b, c, high), length(2600.0, 90.0), 30.0),
        edge("head", arc(c, d, wide), length(3000.0, 110.0), 20.0),
        edge("left", arc(d, a, high), length(2600.0, 90.0), 30.0),
    ];
    let out = |s: f64| [p(-s, -s), p(3000.0 + s, -s), p(3000.0 + s, 2600.0 + s), p(-s, 2600.0 + s)];
    let around = |s: f64| {
        let [a, b, c, d] = out(s);
        let arcs = [(b, wide), (c, high), (d, wide), (a, high)];
        Path { start: a, segments: arcs.map(|(end, bulge)| Segment::Arc { end, bulge }).to_vec() }
    };
    let mut tarp = piece("canopy", "Canopy", edges, around(30.0));
    tarp.material = MaterialId(1);
    tarp.folds = [15.0].into_iter().map(|s| FoldLine { of: "foot".into(), path: around(s) }).collect();
    for (i, (at, into)) in
        [(a, Vector::new(1.0, 1.0)), (b, Vector::new(-1.0, 1.0)), (c, Vector::new(-1.0, -1.0)), (d, Vector::new(1.0, -1.0))]
            .into_iter()
            .enumerate()
    {
        on_edge(&mut tarp, "tie", Text::words(format!("tie-out {}", i + 1)), (0, at, into.unit()), 12.0, Symbol::Tick);
    }
    tarp.marks.push(Mark {
        name: "ridge".into(),
        text: Text::words("ridge"),
        copies: Vec::new(),
        shape: MarkShape::Line { path: chain(&[p(90.0, 1300.0), p(2910.0, 1300.0)]) },
        origin: span(),
    });
    design.pieces = vec![tarp];
    design
}

/// A sack: a round base of a curve and a body, and a pouch flap with a free curve.
pub(crate) fn sack() -> Design {
    let mut design = design("burr", "Burr, a stuff sack", "small");
    let circle = |r: f64| Path {
        start: p(r, 0.0),
        segments: vec![Segment::Arc { end: p(-r, 0.0), bulge: 1.0 }, Segment::Arc { end: p(r, 0.0), bulge: 1.0 }],
    };
    let mut base = piece("base", "Round base", vec![edge("rim", circle(75.0), std::f64::consts::TAU * 75.0, 10.0)], circle(85.0));
    base.grain.angle = None;
    let body = rectangle("body", "Body", 471.24, 300.0, 10.0);
    let curve = |w: f64, h: f64| Path {
        start: p(-w, h),
        segments: vec![
            Segment::Cubic { leaving: p(-w, h * 0.2), arriving: p(-w * 0.6, 0.0), end: p(0.0, 0.0) },
            Segment::Cubic { leaving: p(w * 0.6, 0.0), arriving: p(w, h * 0.2), end: p(w, h) },
        ],
    };
    let top = chain(&[p(90.0, 110.0), p(-90.0, 110.0)]);
    let mut cut = curve(100.0, 120.0).translated(Vector::new(0.0, -10.0));
    cut.segments.extend([p(100.0, 120.0), p(-100.0, 120.0), p(-100.0, 110.0)].map(|end| Segment::Line { end }));
    let flap = piece(
        "flap",
        "Flap",
        vec![edge("curve", curve(90.0, 110.0), curve(90.0, 110.0).length(), 10.0), edge("top", top, 180.0, 10.0)],
        cut,
    );
    design.pieces = vec![base, body, flap];
    design
}
