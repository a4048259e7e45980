//! Paths: chains of lines, circular arcs and cubic curves.

use super::curve::Curve;
use super::{Bounds, COINCIDENT, Point, Vector};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// One piece of a path; it starts where the one before ends.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum Segment {
    /// Straight.
    Line {
        /// Its end.
        end: Point,
    },
    /// A circular arc: `bulge` is the tangent of a quarter of its angle, positive when it turns left.
    Arc {
        /// Its end.
        end: Point,
        /// tan(angle / 4).
        bulge: f64,
    },
    /// A cubic curve.
    Cubic {
        /// Handle of its start.
        leaving: Point,
        /// Handle of its end.
        arriving: Point,
        /// Its end.
        end: Point,
    },
}

impl Segment {
    /// Where it ends.
    #[must_use]
    pub const fn end(&self) -> Point {
        match self {
            Self::Line { end } | Self::Arc { end, .. } | Self::Cubic { end, .. } => *end,
        }
    }

    /// Lets it end elsewhere: a rounding error away.
    pub const fn move_end(&mut self, to: Point) {
        match self {
            Self::Line { end } | Self::Arc { end, .. } | Self::Cubic { end, .. } => *end = to,
        }
    }
}

/// A chain of segments. Closed when its end is its start.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Path {
    /// Where it starts.
    pub start: Point,
    /// Its segments.
    pub segments: Vec<Segment>,
}

/// Arcs become cubics within this (mm) where a back end knows no arcs.
const ARC_AS_CUBICS: f64 = 1e-3;

/// Stretches shorter than this (mm) are rounding noise of a split, not geometry.
const SLIVER: f64 = 1e-9;

impl Path {
    /// A path that has only a start.
    #[must_use]
    pub const fn new(start: Point) -> Self {
        Self { start, segments: Vec::new() }
    }

    /// Adds a straight.
    #[must_use]
    pub fn line_to(mut self, end: Point) -> Self {
        self.segments.push(Segment::Line { end });
        self
    }

    /// Adds an arc; see [`Segment::Arc`].
    #[must_use]
    pub fn arc_to(mut self, end: Point, bulge: f64) -> Self {
        self.segments.push(Segment::Arc { end, bulge });
        self
    }

    /// Adds a cubic.
    #[must_use]
    pub fn cubic_to(mut self, leaving: Point, arriving: Point, end: Point) -> Self {
        self.segments.push(Segment::Cubic { leaving, arriving, end });
        self
    }

    /// Goes on along another path, straight to its start when that lies elsewhere.
    #[must_use]
    pub fn then(mut self, other: &Self) -> Self {
        if self.end().distance(other.start) > COINCIDENT {
            self.segments.push(Segment::Line { end: other.start });
        }
        self.segments.extend_from_slice(&other.segments);
        self
    }

    /// Where it ends.
    #[must_use]
    pub fn end(&self) -> Point {
        self.segments.last().map_or(self.start, Segment::end)
    }

    /// Whether it ends where it starts, and goes somewhere in between.
    #[must_use]
    pub fn is_closed(&self) -> bool {
        !self.segments.is_empty() && self.start.distance(self.end()) <= COINCIDENT
    }

    /// Whether every number in it is one.
    #[must_use]
    pub fn is_finite(&self) -> bool {
        self.start.is_finite() && self.curves().all(|c| c.is_finite())
    }

    /// Its segments with their starts.
    pub(crate) fn curves(&self) -> impl DoubleEndedIterator<Item = Curve> + '_ {
        (0..self.segments.len()).filter_map(|i| {
            let start = match i.checked_sub(1) {
                Some(before) => self.segments.get(before)?.end(),
                None => self.start,
            };
            self.segments.get(i).map(|s| Curve::new(start, *s))
        })
    }

    /// A path along curves, each of which starts where the one before ends.
    pub(crate) fn of_curves(start: Point, curves: impl IntoIterator<Item = Curve>) -> Self {
        Self { start, segments: curves.into_iter().map(|c| c.segment).collect() }
    }

    /// Its length (mm).
    #[must_use]
    pub fn length(&self) -> f64 {
        self.curves().map(|c| c.length()).sum()
    }

    /// The curve on which a distance along the path lies, and the parameter there; none on an empty path.
    fn place(&self, distance: f64) -> Option<(Curve, f64)> {
        let mut left = distance;
        let mut last = None;
        for curve in self.curves() {
            let length = curve.length();
            if left <= length {
                return Some((curve, curve.parameter(left, length)));
            }
            left -= length;
            last = Some((curve, 1.0));
        }
        last
    }

    /// The point (mm) at a distance (mm) along it, held within its ends.
    #[must_use]
    pub fn point_at(&self, distance: f64) -> Point {
        self.place(distance).map_or(self.start, |(c, t)| c.at(t))
    }

    /// The direction of travel at a distance (mm) along it, length one; at a kink, that of the segment that ends there.
    #[must_use]
    pub fn tangent_at(&self, distance: f64) -> Vector {
        self.place(distance).map_or_else(Vector::default, |(c, t)| c.tangent(t))
    }

    /// [`Path::point_at`] and [`Path::tangent_at`] in one.
    #[must_use]
    pub fn stand_at(&self, distance: f64) -> (Point, Vector) {
        self.place(distance).map_or((self.start, Vector::default()), |(c, t)| (c.at(t), c.tangent(t)))
    }

    /// The direction in which it leaves its start, length one; zero when it has no length.
    #[must_use]
    pub fn tangent_at_start(&self) -> Vector {
        let first = self.curves().find(|c| c.length() > SLIVER);
        first.map_or_else(Vector::default, |c| c.tangent(0.0))
    }

    /// The direction in which it arrives at its end, length one; zero when it has no length.
    #[must_use]
    pub fn tangent_at_end(&self) -> Vector {
        let last = self.curves().rev().find(|c| c.length() > SLIVER);
        last.map_or_else(Vector::default, |c| c.tangent(1.0))
    }

    /// The parts before and after a distance (mm) along it; a part past an end is empty.
    #[must_use]
    pub fn split_at(&self, distance: f64) -> (Self, Self) {
        let mut before = Self::new(self.start);
        let mut left = distance;
        let mut curves = self.curves();
        while let Some(curve) = curves.next() {
            let length = curve.length();
            if left >= length - SLIVER {
                before.segments.push(curve.segment);
                left -= length;
                continue;
            }
            let mut after = Self::new(before.end());
            if left > SLIVER {
                let (first, second) = curve.split(curve.parameter(left, length));
                before.segments.push(first.segment);
                after = Self::new(second.start);
                after.segments.push(second.segment);
            } else {
                after.segments.push(curve.segment);
            }
            after.segments.extend(curves.map(|c| c.segment));
            return (before, after);
        }
        let end = before.end();
        (before, Self::new(end))
    }

    /// The stretch between two distances (mm) along it, held within its ends; empty when `to` is not past `from`.
    #[must_use]
    pub fn subpath(&self, from: f64, to: f64) -> Self {
        if to.is_nan() || from.is_nan() || to <= from {
            return Self::new(self.point_at(from));
        }
        let (before, _) = self.split_at(to);
        if from <= 0.0 {
            return before;
        }
        before.split_at(from).1
    }

    /// The same travelled the other way.
    #[must_use]
    pub fn reversed(&self) -> Self {
        Self::of_curves(self.end(), self.curves().rev().map(|c| c.reversed()))
    }

    fn mapped(&self, map: impl Fn(Point) -> Point, turns_over: bool) -> Self {
        Self::of_curves(map(self.start), self.curves().map(|c| c.mapped(&map, turns_over)))
    }

    /// Moved.
    #[must_use]
    pub fn translated(&self, by: Vector) -> Self {
        let mut moved = self.clone();
        moved.shift(by);
        moved
    }

    /// Moves it.
    pub fn shift(&mut self, by: Vector) {
        self.start = self.start + by;
        for segment in &mut self.segments {
            match segment {
                Segment::Line { end } | Segment::Arc { end, .. } => *end = *end + by,
                Segment::Cubic { leaving, arriving, end } => {
                    (*leaving, *arriving, *end) = (*leaving + by, *arriving + by, *end + by);
                }
            }
        }
    }

    /// All its measures multiplied, its place included; by more than nothing.
    #[must_use]
    pub fn scaled(&self, by: f64) -> Self {
        self.mapped(|p| Point::new(p.x * by, p.y * by), false)
    }

    /// Turned about a point by an angle, radians, to the left.
    #[must_use]
    pub fn rotated(&self, about: Point, radians: f64) -> Self {
        self.mapped(|p| p.rotated(about, radians), false)
    }

    /// Its mirror image in the line through `on` along `direction`. A path that ran counter-clockwise now runs clockwise.
    #[must_use]
    pub fn mirrored(&self, on: Point, direction: Vector) -> Self {
        self.mapped(|p| p.mirrored(on, direction), true)
    }

    /// The area it encloses, positive when it runs counter-clockwise; an open path is closed straight.
    #[must_use]
    pub fn signed_area(&self) -> f64 {
        // Measured from its own start, so that a small piece far out loses no digits.
        let origin = Point::default();
        let home = self.translated(origin - self.start);
        let closing = (home.end() - origin).cross(home.start - origin);
        (home.curves().map(|c| c.double_area()).sum::<f64>() + closing) / 2.0
    }

    /// The smallest upright box round it.
    #[must_use]
    pub fn bounds(&self) -> Bounds {
        self.curves().map(|c| c.bounds()).fold(Bounds::of(self.start), Bounds::union)
    }

    /// As a chain of points (mm) from which it strays nowhere farther than the tolerance (mm).
    #[must_use]
    pub fn flatten(&self, tolerance: f64) -> Vec<Point> {
        let mut points = Vec::with_capacity(self.segments.len() + 1);
        points.push(self.start);
        for curve in self.curves() {
            let pieces = curve.pieces(tolerance);
            #[expect(clippy::cast_precision_loss, reason = "pieces are few thousand at most")]
            points.extend((1..pieces).map(|i| curve.at(i as f64 / pieces as f64)));
            points.push(curve.end());
        }
        points
    }

    /// For the curve library and back ends without arcs: arcs become cubics within a micron; closed when this is.
    #[must_use]
    pub fn to_kurbo(&self) -> kurbo::BezPath {
        let k = |p: Point| kurbo::Point::new(p.x, p.y);
        let mut path = kurbo::BezPath::new();
        path.move_to(k(self.start));
        for segment in self.curves().flat_map(|c| c.cubics(ARC_AS_CUBICS)) {
            match segment {
                Segment::Line { end } | Segment::Arc { end, .. } => path.line_to(k(end)),
                Segment::Cubic { leaving, arriving, end } => path.curve_to(k(leaving), k(arriving), k(end)),
            }
        }
        if self.is_closed() {
            path.close_path();
        }
        path
    }

    /// Without segments of no length, and with straights that run on in one direction made one; on a closed path also
    /// across its start.
    #[must_use]
    pub fn tidied(&self) -> Self {
        let mut tidy = Self::new(self.start);
        for curve in self.curves() {
            let straight = matches!(curve.segment, Segment::Line { .. });
            if straight && tidy.end().distance(curve.end()) <= COINCIDENT {
                continue;
            }
            let last = tidy.curves().next_back();
            if straight && last.is_some_and(|last| runs_on(&last, curve.end())) {
                tidy.segments.pop();
            }
            tidy.segments.push(curve.segment);
        }
        let seam = tidy.curves().next_back().zip(tidy.curves().next());
        let through = seam.is_some_and(|(last, first)| matches!(first.segment, Segment::Line { .. }) && runs_on(&last, first.end()));
        if tidy.segments.len() > 2 && tidy.is_closed() && through {
            tidy.segments.pop();
            tidy.start = tidy.end();
        }
        tidy
    }
}

/// Whether a straight goes straight on to a point.
fn runs_on(last: &Curve, to: Point) -> bool {
    let (along, on) = (last.end() - last.start, to - last.start);
    let straight = matches!(last.segment, Segment::Line { .. });
    straight && along.dot(to - last.end()) > 0.0 && along.cross(on).abs() <= COINCIDENT / 10.0 * on.length()
}
