//! The grain line of a piece: along the warp, well inside the finished outline.

use crate::export::drawing;
use crate::geometry::{FLATTEN, Point, Vector};
use crate::ir::Piece;
use std::f64::consts::FRAC_PI_2;

/// Where lines are tried, as parts of the piece's extent across the grain: its middle first.
const ACROSS: [f64; 9] = [0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8, 0.1, 0.9];
/// A line at one of these places is long enough when it spans this part of the piece's extent along the grain.
const ENOUGH: f64 = 0.6;
/// The part of the span that is drawn.
const DRAWN: f64 = 0.6;

/// Both ends of the line; up the piece when its grain may lie any way.
pub(super) fn ends(piece: &Piece) -> (Point, Point) {
    let along = Vector::at_angle(piece.grain.angle.map_or(FRAC_PI_2, |a| a.as_radians()));
    let points = drawing::outline(piece).flatten(FLATTEN);
    let origin = points.first().copied().unwrap_or(piece.cut_line.start);
    // As seen along the grain: how far along it, and how far to its left.
    let seen: Vec<(f64, f64)> = points.iter().map(|&p| ((p - origin).dot(along), (p - origin).dot(along.left()))).collect();
    let range = |get: fn(&(f64, f64)) -> f64| {
        seen.iter().map(get).fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), v| (low.min(v), high.max(v)))
    };
    let ((begin, end), (right, left)) = (range(|p| p.0), range(|p| p.1));
    let mut best = (begin, begin, (right + left) / 2.0);
    for part in ACROSS {
        let side = right + (left - right) * part;
        if let Some((from, to)) = longest_inside(&seen, side).filter(|(from, to)| to - from > best.1 - best.0) {
            best = (from, to, side);
        }
        if best.1 - best.0 >= ENOUGH * (end - begin) {
            break;
        }
    }
    let (from, to, side) = best;
    let at = |t: f64| origin + along * t + along.left() * side;
    let (middle, half) = ((from + to) / 2.0, (to - from) / 2.0 * DRAWN);
    (at(middle - half), at(middle + half))
}

/// The longest stretch inside a closed outline of a line along the grain, a distance to the left of the origin.
fn longest_inside(seen: &[(f64, f64)], side: f64) -> Option<(f64, f64)> {
    let pairs = seen.iter().zip(seen.iter().cycle().skip(1));
    let mut crossings: Vec<f64> = pairs
        .filter(|((_, a), (_, b))| (*a <= side) != (*b <= side))
        .map(|((x0, y0), (x1, y1))| x0 + (x1 - x0) * (side - y0) / (y1 - y0))
        .collect();
    crossings.sort_by(f64::total_cmp);
    let stretches = crossings.chunks_exact(2).filter_map(|c| Some((*c.first()?, *c.last()?)));
    stretches.max_by(|a, b| (a.1 - a.0).total_cmp(&(b.1 - b.0)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::Path;
    use crate::ir::sample::Sample;
    use crate::ir::{MaterialId, MaterialKind};
    use crate::quantity::Angle;

    fn piece(corners: &[(f64, f64, &str)], degrees: Option<f64>) -> Piece {
        let mut sample = Sample::new("given", "Given");
        let cloth: MaterialId = sample.material("cloth", MaterialKind::Cloth);
        let id = sample.piece("it", cloth, corners, 0.0, (1.0, 1.0, 1.0));
        let piece = sample.piece_mut(id);
        piece.grain.angle = degrees.map(|d| Angle::radians(d.to_radians()));
        piece.cut_line = Path::line(Point::default(), Point::default());
        piece.clone()
    }

    fn near(found: (Point, Point), wanted: ((f64, f64), (f64, f64))) {
        let far = |p: Point, (x, y)| p.distance(Point::new(x, y)) > 1e-9;
        assert!(!far(found.0, wanted.0) && !far(found.1, wanted.1), "{found:?}");
    }

    #[test]
    fn it_runs_through_the_middle() {
        let square = [(0.0, 0.0, "foot"), (100.0, 0.0, "right"), (100.0, 200.0, "head"), (0.0, 200.0, "left")];
        near(ends(&piece(&square, Some(90.0))), ((50.0, 40.0), (50.0, 160.0)));
        near(ends(&piece(&square, None)), ((50.0, 40.0), (50.0, 160.0)));
        near(ends(&piece(&square, Some(0.0))), ((20.0, 100.0), (80.0, 100.0)));
    }

    #[test]
    fn it_keeps_inside_a_hollow_piece() {
        // A U, 100 by 100, hollow from x 20 to 80 and y 20 up: at x 50 only 20 of it are cloth, in its right arm 100.
        let corners = [
            (0.0, 0.0, "a"),
            (100.0, 0.0, "b"),
            (100.0, 100.0, "c"),
            (80.0, 100.0, "d"),
            (80.0, 20.0, "e"),
            (20.0, 20.0, "f"),
            (20.0, 100.0, "g"),
            (0.0, 100.0, "h"),
        ];
        // Seen along y, left is -x: the first place tried inside an arm is 0.9 of the way to the left or 0.1 of it.
        near(ends(&piece(&corners, Some(90.0))), ((90.0, 20.0), (90.0, 80.0)));
    }
}
