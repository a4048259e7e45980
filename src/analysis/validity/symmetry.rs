//! Whether an outline is its own mirror image.

use crate::ir::{Edge, EdgeId, Piece};

/// Figures of two sides closer than this are the same, mm. Generous: what differs by less needs no mirrored copy.
const SAME: f64 = 2.0;

/// What can be measured of an edge without knowing where it lies.
struct Side {
    chord: f64,
    /// Distances from the chord at a quarter, half and three quarters of its length, positive outward.
    bulge: [f64; 3],
    /// The angle to the next edge's chord, as its sine and cosine times both chords' shorter: mm that a corner moves.
    corner: (f64, f64),
}

fn sides(piece: &Piece) -> Vec<Side> {
    let next = piece.edges.iter().cycle().skip(1);
    piece.edges.iter().zip(next).map(|(edge, next)| side(edge, next)).collect()
}

fn side(edge: &Edge, next: &Edge) -> Side {
    let chord = edge.path.end() - edge.path.start;
    let along = next.path.end() - next.path.start;
    let length = edge.path.length();
    let off = |t: f64| (edge.path.point_at(length * t) - edge.path.start).dot(chord.unit().right());
    let shorter = chord.length().min(along.length());
    let (a, b) = (chord.unit(), along.unit());
    Side { chord: chord.length(), bulge: [off(0.25), off(0.5), off(0.75)], corner: (a.cross(b) * shorter, a.dot(b) * shorter) }
}

/// Whether a mirror image in some line falls on the outline itself.
pub(super) fn is_symmetric(piece: &Piece) -> bool {
    let sides = sides(piece);
    (0..sides.len()).any(|axis| folds(&sides, axis))
}

/// Whether the mirror image in the line that halves an edge at right angles falls on the outline itself.
pub(super) fn is_symmetric_about(piece: &Piece, edge: EdgeId) -> bool {
    let sides = sides(piece);
    !sides.is_empty() && folds(&sides, (2 * edge.index()) % sides.len())
}

/// Whether the outline folds onto itself so that side `i` falls on side `axis - i`.
fn folds(sides: &[Side], axis: usize) -> bool {
    let count = sides.len();
    let near = |a: f64, b: f64| (a - b).abs() <= SAME;
    (0..count).all(|i| {
        let image = (axis + count - i) % count;
        // The corner after a side falls on the corner before its image.
        let before = (image + count - 1) % count;
        let (Some(side), Some(image), Some(before)) = (sides.get(i), sides.get(image), sides.get(before)) else { return false };
        let [a, b, c] = side.bulge;
        let [x, y, z] = image.bulge;
        near(side.chord, image.chord)
            && near(a, z)
            && near(b, y)
            && near(c, x)
            && near(side.corner.0, before.corner.0)
            && near(side.corner.1, before.corner.1)
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ir::MaterialKind;
    use crate::ir::sample::Sample;

    fn piece(corners: &[(f64, f64)]) -> Piece {
        let mut s = Sample::new("x", "x");
        let cloth = s.material("cloth", MaterialKind::Cloth);
        let names = ["a", "b", "c", "d", "e", "f", "g", "h"];
        let named: Vec<_> = corners.iter().zip(names).map(|((x, y), n)| (*x, *y, n)).collect();
        let id = s.piece("p", cloth, &named, 10.0, (1.0, 1.0, 1.0));
        s.piece_mut(id).clone()
    }

    #[test]
    fn outlines_that_fold_onto_themselves() {
        let rectangle = [(0.0, 0.0), (300.0, 0.0), (300.0, 500.0), (0.0, 500.0)];
        let trapezoid = [(100.0, 0.0), (200.0, 0.0), (300.0, 500.0), (0.0, 500.0)];
        let kite = [(0.0, 0.0), (100.0, 100.0), (0.0, 400.0), (-100.0, 100.0)];
        for shape in [rectangle, trapezoid, kite] {
            assert!(is_symmetric(&piece(&shape)), "{shape:?}");
        }
    }

    #[test]
    fn outlines_that_do_not() {
        let parallelogram = [(0.0, 0.0), (300.0, 0.0), (400.0, 500.0), (100.0, 500.0)];
        let right_trapezoid = [(0.0, 0.0), (200.0, 0.0), (300.0, 500.0), (0.0, 500.0)];
        for shape in [parallelogram, right_trapezoid] {
            assert!(!is_symmetric(&piece(&shape)), "{shape:?}");
        }
        let triangle = piece(&[(0.0, 0.0), (300.0, 0.0), (0.0, 500.0)]);
        assert!(!is_symmetric(&triangle));
    }

    #[test]
    fn about_one_edge() {
        let trapezoid = piece(&[(100.0, 0.0), (200.0, 0.0), (300.0, 500.0), (0.0, 500.0)]);
        let about = |i| is_symmetric_about(&trapezoid, EdgeId(i));
        assert_eq!([about(0), about(1), about(2), about(3)], [true, false, true, false]);
    }

    #[test]
    fn a_curve_must_fold_too() {
        let mut rectangle = piece(&[(0.0, 0.0), (300.0, 0.0), (300.0, 500.0), (0.0, 500.0)]);
        let foot = rectangle.edges.first_mut().expect("an edge");
        // A wave: out on its first half, in on its second. It folds on nothing.
        foot.path = crate::geometry::Path::new(foot.path.start).cubic_to(
            crate::geometry::Point::new(100.0, -80.0),
            crate::geometry::Point::new(200.0, 80.0),
            crate::geometry::Point::new(300.0, 0.0),
        );
        assert!(!is_symmetric(&rectangle));
        let foot = rectangle.edges.first_mut().expect("an edge");
        foot.path = crate::geometry::Path::new(foot.path.start).cubic_to(
            crate::geometry::Point::new(100.0, -80.0),
            crate::geometry::Point::new(200.0, -80.0),
            crate::geometry::Point::new(300.0, 0.0),
        );
        assert!(is_symmetric(&rectangle));
    }
}
