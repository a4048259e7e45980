//! Panels in parts, and what is marked on them.

use super::design;
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
