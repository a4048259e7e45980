//! Work on the face of a piece.

use super::{SHELL, design, near, piece};
use crate::geometry::Path;
use crate::ir::MarkShape;

#[test]
fn an_applied_piece_is_sewn_along_the_edges_named() {
    let d = design(&format!(
        "{SHELL}
         panel pocket {{ cut 2 of plain as upper, lower  shape box(width: 30 cm, height: 20 cm)  allow 10 mm  finish head with hem() }}
         apply upper on outer at (10 cm, 50 cm) sewing left, foot, right with shut()
         apply lower on inner at (10 cm, 50 cm) sewing left, foot, right with shut()"
    ));
    let first = &d.applied[0];
    // 20 + 30 + 20 cm.
    near(first.length.as_mm(), 700.0);
    assert_eq!((first.piece, first.onto_copy, d.applied[1].onto_copy), (d.applied[1].piece, Some(0), Some(1)));
    // Its outline is marked on the piece below, once for both copies.
    let marks: Vec<_> = piece(&d, "shell").marks.iter().filter(|m| matches!(m.shape, MarkShape::Line { .. })).collect();
    let MarkShape::Line { path } = &marks[0].shape else { panic!() };
    assert_eq!((path.start.x, path.start.y), (100.0, 500.0));
    near(path.length(), 1000.0);
}

fn lengths(lines: &[Path]) -> Vec<(f64, f64)> {
    lines.iter().map(|l| (l.start.y, l.length())).collect()
}

#[test]
fn quilting_lines_lie_parallel_to_their_edge_and_stop_at_the_outline() {
    let d = design(&format!(
        "{SHELL}
         panel body {{ cut 1 of plain  shape box(width: 1 m, height: 2 m)  taper left by 20 cm over 80 cm from foot  allow 12 mm }}
         quilt rows {{ layers outer, inner  lines parallel to head every 30 cm starting 20 cm  stitch zigzag 4 mm }}
         quilt thirds {{ layers inner  lines parallel to head every 50 cm }}
         quilt slanted {{ layers body  lines parallel to foot every 20 cm starting 30 cm }}"
    ));
    let rows = lengths(&d.quilting[0].lines);
    let expected = [1800.0, 1500.0, 1200.0, 900.0, 600.0, 300.0];
    assert_eq!(rows.len(), expected.len());
    for ((y, length), at) in rows.iter().zip(expected) {
        near(*y, at);
        near(*length, 1000.0);
    }
    // The fourth would lie on the foot itself.
    assert_eq!(d.quilting[1].lines.len(), 3);
    // 30 cm up, the slanted side stands 200 × (1 - 300 / 800) = 125 mm in.
    let slanted = lengths(&d.quilting[2].lines);
    near(slanted[0].0, 300.0);
    near(slanted[0].1, 875.0);
    near(slanted[3].1, 1000.0);
    assert_eq!(slanted.len(), 9);
}

#[test]
fn quilting_marks_stand_on_the_first_layer() {
    let d = design(&format!(
        "{SHELL} quilt ties {{ layers inner, outer  ties at (30 cm, 40 cm), [(50 cm, 60 cm), (70 cm, 80 cm)] stitch handstitch 3 mm }}"
    ));
    assert_eq!(d.quilting[0].ties.len(), 3);
    let marks = &piece(&d, "shell").marks;
    assert_eq!(marks.len(), 3);
    assert!(marks.iter().all(|m| m.copies == [1]));
}
