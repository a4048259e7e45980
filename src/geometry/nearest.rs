//! The place on a path that lies nearest to a point.

use super::curve::Curve;
use super::{Path, Point, Segment};
use kurbo::ParamCurveNearest;

/// Nearest places on cubics are found to this (mm).
const NEAREST: f64 = 1e-9;

/// A place on a path, and how far off it lies.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Nearest {
    /// Distance along the path.
    pub along: f64,
    /// Distance from the point asked about.
    pub distance: f64,
}

impl Path {
    /// The place on it nearest to a point; none on a path without segments.
    #[must_use]
    pub fn nearest(&self, to: Point) -> Option<Nearest> {
        let mut before = 0.0;
        let mut found: Option<Nearest> = None;
        for curve in self.curves() {
            // What lies in a box is no nearer than the box.
            if found.is_none_or(|f| curve.bounds().distance(to) < f.distance) {
                let t = curve.nearest(to);
                let distance = curve.at(t).distance(to);
                if found.is_none_or(|f| distance < f.distance) {
                    found = Some(Nearest { along: before + curve.length_to(t), distance });
                }
            }
            before += curve.length();
        }
        found
    }
}

impl Curve {
    /// The parameter of its point nearest to another.
    fn nearest(&self, to: Point) -> f64 {
        match (self.segment, self.cubic()) {
            (Segment::Cubic { .. }, Some(cubic)) => cubic.nearest(kurbo::Point::new(to.x, to.y), NEAREST).t,
            (Segment::Arc { bulge, .. }, _) if bulge != 0.0 => self.nearest_on_arc(to),
            _ => {
                let along = self.end() - self.start;
                let square = along.dot(along);
                if square > 0.0 { ((to - self.start).dot(along) / square).clamp(0.0, 1.0) } else { 0.0 }
            }
        }
    }

    fn nearest_on_arc(&self, to: Point) -> f64 {
        let (chord, sweep) = (self.end() - self.start, self.sweep());
        let half = sweep / 2.0;
        // Negative with a negative sweep: the centre lies to the left of a left turn of less than half a circle.
        let radius = chord.length() / (2.0 * half.sin());
        let centre = self.start.lerp(self.end(), 0.5) + chord.unit().left() * (radius * half.cos());
        let turn = (self.start - centre).turn_to(to - centre);
        let round = std::f64::consts::TAU;
        let on = [turn, turn + round, turn - round].map(|a| a / sweep);
        let candidates = on.into_iter().filter(|t| (0.0..=1.0).contains(t)).chain([0.0, 1.0]);
        candidates.min_by(|a, b| self.at(*a).distance(to).total_cmp(&self.at(*b).distance(to))).unwrap_or(0.0)
    }
}
