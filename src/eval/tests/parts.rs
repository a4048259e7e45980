//! Panels in parts, and what is marked on them.

use super::{design, near};
use crate::geometry::Point;
use crate::ir::MarkShape;

#[test]
fn a_line_marked_across_splits_is_on_each_piece_up_to_the_split() {
    let d = design(
        "panel roof { cut 1 of plain  shape box(width: 3 m, height: 2 m)  allow 12 mm
           split near from (1 m, 0 m) to (1 m, 2 m) as port, rest
           split far of rest from (2 m, 0 m) to (2.4 m, 2 m) as centre, starboard
           mark line batten from (50 cm, 1 m) to (2.5 m, 1 m) \"batten\" }",
    );
    // The slanted split crosses half-way up, at 2.2 m.
    for (piece, from, to) in [("port", 500.0, 1000.0), ("centre", 1000.0, 2200.0), ("starboard", 2200.0, 2500.0)] {
        let found = d.pieces.iter().find(|p| p.name == piece).unwrap();
        let [mark] = found.marks.as_slice() else { panic!("{:?}", found.marks) };
        let MarkShape::Line { path } = &mark.shape else { panic!("{mark:?}") };
        assert_eq!(mark.name, "batten");
        assert!(path.start.distance(Point::new(from, 1000.0)) < 1e-6 && path.end().distance(Point::new(to, 1000.0)) < 1e-6, "{path:?}");
    }
}

#[test]
fn marks_of_a_half_that_is_split_fall_to_the_piece_they_lie_on_with_their_images() {
    let d = design(
        "panel cape { cut 2 of plain as outer, inner  shape box(width: 50 cm, height: 1 m)  allow 12 mm
           place left on fold
           split yoke from (0 m, 70 cm) to (50 cm, 70 cm) as upper, lower
           mark point snap at (30 cm, 90 cm)  mark line rib from (20 cm, 50 cm) to (20 cm, 80 cm) }
         panel lining { cut 1 of plain  shape as cape  allow 0 mm }",
    );
    let names = |piece: &str| {
        let mut all: Vec<&str> = d.pieces.iter().find(|p| p.name == piece).unwrap().marks.iter().map(|m| m.name.as_str()).collect();
        all.sort_unstable();
        all
    };
    assert_eq!(names("upper"), ["rib", "rib_opposite", "snap", "snap_opposite"]);
    assert_eq!(names("lower"), ["rib", "rib_opposite"]);
    // What is taken over is the whole, laid open.
    near(d.pieces.iter().find(|p| p.name == "lining").unwrap().finished.width.as_mm(), 1000.0);
}
