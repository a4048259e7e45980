//! Lines as chains of vertices, each either a turn or a point on a curve.
//!
//! A reader may draw a smooth curve through the curve points between two turns. So a vertex is a curve point only where
//! the line bends before it and after it and does not turn there; one at the end of a straight is a turn, or the
//! straight would be bent along with the curve. A closed line without any turn starts with one.

use crate::geometry::{COINCIDENT, FLATTEN, Path, Point, Segment};

/// Two directions less than this apart (radians, half a degree) run on smoothly.
const SMOOTH: f64 = 0.01;

/// A vertex of a chain.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Vertex {
    /// Where.
    pub(super) at: Point,
    /// Whether the line turns there.
    pub(super) turns: bool,
}

/// A chain.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Chain {
    /// Its vertices; the start of a closed one stands once.
    pub(super) vertices: Vec<Vertex>,
    /// Whether it ends where it starts.
    pub(super) closed: bool,
}

/// A path as a chain; none for a path that goes nowhere.
pub(super) fn chain(path: &Path) -> Option<Chain> {
    let curves: Vec<_> = path.curves().filter(|c| c.length() > COINCIDENT).collect();
    let closed = path.is_closed();
    let bends = |segment: &Segment| !matches!(segment, Segment::Line { .. });
    let mut before = curves.last().filter(|_| closed);
    let mut vertices = Vec::new();
    for curve in &curves {
        let smooth = before
            .is_some_and(|b| bends(&b.segment) && bends(&curve.segment) && b.tangent(1.0).turn_to(curve.tangent(0.0)).abs() <= SMOOTH);
        vertices.push(Vertex { at: curve.start, turns: !smooth });
        let pieces = curve.pieces(FLATTEN);
        #[expect(clippy::cast_precision_loss, reason = "pieces are few thousand at most")]
        vertices.extend((1..pieces).map(|i| Vertex { at: curve.at(i as f64 / pieces as f64), turns: false }));
        before = Some(curve);
    }
    if let Some(last) = curves.last().filter(|_| !closed) {
        vertices.push(Vertex { at: last.end(), turns: true });
    }
    if vertices.iter().all(|v| !v.turns) {
        vertices.first_mut()?.turns = true;
    }
    Some(Chain { vertices, closed })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn turns(path: &Path) -> Vec<Point> {
        chain(path).expect("it goes somewhere").vertices.into_iter().filter(|v| v.turns).map(|v| v.at).collect()
    }

    #[test]
    fn corners_and_ends_of_straights_turn() {
        let p = Point::new;
        // A stadium: two straights, and two half turns that run on from them smoothly.
        let path = Path::new(p(0.0, 0.0)).line_to(p(100.0, 0.0)).arc_to(p(100.0, 50.0), 1.0).line_to(p(0.0, 50.0)).arc_to(p(0.0, 0.0), 1.0);
        assert_eq!(turns(&path), [p(0.0, 0.0), p(100.0, 0.0), p(100.0, 50.0), p(0.0, 50.0)]);
        let chain = chain(&path).expect("it goes somewhere");
        assert!(chain.closed && chain.vertices.len() > 40);
        // Chords of an arc of radius 25 within 0.02 span at most 2 acos(1 - 0.02 / 25) = 0.0800 radians: 40 for a half turn.
        assert!(chain.vertices.len() <= 4 + 2 * 40, "{}", chain.vertices.len());
    }

    #[test]
    fn arcs_that_run_on_are_one_curve_and_those_that_meet_at_an_angle_are_not() {
        let p = Point::new;
        assert_eq!(turns(&Path::circle(p(0.0, 0.0), 85.0)), [p(85.0, 0.0)], "a circle starts with its only turn");
        let leaf = Path::new(p(0.0, 0.0)).arc_to(p(100.0, 0.0), 0.5).arc_to(p(0.0, 0.0), 0.5);
        assert_eq!(turns(&leaf), [p(0.0, 0.0), p(100.0, 0.0)]);
        let open = Path::new(p(0.0, 0.0)).arc_to(p(100.0, 0.0), 0.5);
        assert_eq!(turns(&open), [p(0.0, 0.0), p(100.0, 0.0)]);
        assert_eq!(chain(&Path::line(p(1.0, 1.0), p(1.0, 1.0))), None);
    }
}
