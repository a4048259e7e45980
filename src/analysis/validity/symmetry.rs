//! Whether an outline is its own mirror image, and which way round one edge fits another.

use crate::geometry::Vector;
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

/// Whether two outlines are the same, edge by edge.
pub(super) fn is_same(one: &Piece, other: &Piece) -> bool {
    let near = |a: f64, b: f64| (a - b).abs() <= SAME;
    let (one, other) = (sides(one), sides(other));
    one.len() == other.len()
        && one.iter().zip(&other).all(|(a, b)| {
            let bulges = a.bulge.iter().zip(&b.bulge).all(|(a, b)| near(*a, *b));
            bulges && near(a.chord, b.chord) && near(a.corner.0, b.corner.0) && near(a.corner.1, b.corner.1)
        })
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

/// Edges whose curves differ by more than this (mm) don't fit; by less than half of it they do.
const UNLIKE: f64 = 3.0;

/// Corners that differ by more than this don't fit, in radians: 3 degrees; by less than half of it they do.
const ASKEW: f64 = 0.052;

/// How well two edges fit on each other: which of the two ways round they do.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Fit {
    /// Both ways, or neither: nothing can be told.
    Any,
    /// Only with the start of one on the end of the other.
    Against,
    /// Only with the start of one on the start of the other.
    Along,
}

/// Which way round the curve of an edge falls on that of another; of strips along an edge also their corners count, since their ends
/// lie on the edge's neighbours.
pub(super) fn fit(one: (&Piece, EdgeId), other: (&Piece, EdgeId)) -> Fit {
    let corners = is_strip(one.0) || is_strip(other.0);
    let (Some(a), Some(b)) = (profile(one.0, one.1), profile(other.0, other.1)) else { return Fit::Any };
    let off = |b: &Profile| {
        let curves = a.bulges.iter().zip(&b.bulges).map(|(a, b)| (a - b).abs()).fold(0.0, f64::max) / UNLIKE;
        let askew = a.corners.iter().zip(&b.corners).map(|(a, b)| (a - b).abs()).fold(0.0, f64::max) / ASKEW;
        if corners { curves.max(askew) } else { curves }
    };
    let turned = Profile { bulges: b.bulges.iter().rev().copied().collect(), corners: [b.corners[1], b.corners[0]] };
    match (off(&turned), off(&b)) {
        (against, along) if against < 0.5 && along > 1.0 => Fit::Against,
        (against, along) if along < 0.5 && against > 1.0 => Fit::Along,
        _ => Fit::Any,
    }
}

/// The curve of an edge, as it bulges out along its chord, and the corners at its start and end.
struct Profile {
    bulges: Vec<f64>,
    corners: [f64; 2],
}

fn profile(piece: &Piece, edge: EdgeId) -> Option<Profile> {
    let (count, at) = (piece.edges.len(), edge.index());
    let path = |i: usize| piece.edges.get(i % count.max(1)).map(|e| &e.path);
    let (before, own, after) = (path(at + count.saturating_sub(1))?, path(at)?, path(at + 1)?);
    let right = (own.end() - own.start).unit().right();
    let bulge = |i: i32| (own.point_at(own.length() * f64::from(i) / 8.0) - own.start).dot(right);
    let turn = |a: Vector, b: Vector| a.turn_to(b);
    let corners = [turn(before.tangent_at_end(), own.tangent_at_start()), turn(own.tangent_at_end(), after.tangent_at_start())];
    Some(Profile { bulges: (1..8).map(bulge).collect(), corners })
}

/// Whether a piece is a strip along an edge of another, by the names such a strip's sides have.
pub(super) fn is_strip(piece: &Piece) -> bool {
    ["outer", "inner"].iter().all(|name| piece.edges.iter().any(|e| e.name == *name))
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
    fn edges_that_fit_one_way_round() {
        // Slanted ends count where a strip is meant.
        let slanted = [(0.0, 0.0), (300.0, 0.0), (340.0, 40.0), (0.0, 40.0)];
        let mut strip = piece(&slanted);
        let edge = EdgeId(0);
        assert_eq!(fit((&strip, edge), (&strip, edge)), Fit::Any);
        for (edge, name) in strip.edges.iter_mut().zip(["outer", "right", "inner", "left"]) {
            edge.name = name.to_owned();
        }
        // Start on start its corners fit themselves: 90 and 45 degrees; the other way they do not.
        assert_eq!(fit((&strip, edge), (&strip, edge)), Fit::Along);
        // A curve that is deepest near one end.
        let mut curved = piece(&[(0.0, 0.0), (300.0, 0.0), (300.0, 500.0), (0.0, 500.0)]);
        let start = crate::geometry::Point::new(0.0, 0.0);
        let end = crate::geometry::Point::new(300.0, 0.0);
        let foot = crate::geometry::Path::new(start).cubic_to(
            crate::geometry::Point::new(20.0, -80.0),
            crate::geometry::Point::new(120.0, -60.0),
            end,
        );
        curved.edges.first_mut().expect("an edge").path = foot;
        assert_eq!(fit((&curved, edge), (&curved, edge)), Fit::Along);
        let mut other = curved.clone();
        let image = crate::geometry::Path::new(start).cubic_to(
            crate::geometry::Point::new(180.0, -60.0),
            crate::geometry::Point::new(280.0, -80.0),
            end,
        );
        other.edges.first_mut().expect("an edge").path = image;
        assert_eq!(fit((&curved, edge), (&other, edge)), Fit::Against);
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
