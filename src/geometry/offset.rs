//! Paths that run beside another at a fixed distance.

use super::curve::Curve;
use super::meeting::meetings;
use super::{COINCIDENT, Path, Point, Segment, Side, Vector, mitre};
use kurbo::{BezPath, CubicBez, PathEl, offset::offset_cubic};

/// Offsets of cubics stray no farther than this from the true curve (mm): a fiftieth of [`super::FLATTEN`]'s purpose, a cutter's step.
const OFFSET: f64 = 1e-3;

/// Turns smaller than this (radians) are smooth joints.
const SMOOTH: f64 = 1e-7;

/// Why there is no path at that distance.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum OffsetError {
    /// It bends towards that side more tightly than the distance.
    Tight(Bend),
    /// Its pieces are too short for the turn between them here.
    Crowded {
        /// Where.
        at: Point,
    },
}

/// How a path bends somewhere.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bend {
    /// Where.
    pub at: Point,
    /// How far along the path.
    pub along: f64,
    /// The radius of the bend there.
    pub radius: f64,
}

impl Path {
    /// The path a distance to the right of this one (a negative distance lies to the left).
    ///
    /// Straights stay straight and arcs stay arcs, both exact; cubics become chains of cubics. At a kink that opens
    /// on that side the pieces run on until they meet; at one that closes they are cut where they cross.
    ///
    /// # Errors
    /// [`OffsetError`] when it bends or folds too tightly for that.
    pub fn offset(&self, right: f64) -> Result<Self, OffsetError> {
        if right == 0.0 {
            return Ok(self.clone());
        }
        let side = if right < 0.0 { Side::Left } else { Side::Right };
        if let Some(bend) = self.tightest(side).filter(|b| b.radius <= right.abs()) {
            return Err(OffsetError::Tight(bend));
        }
        let mut result: Option<(Self, Point, Vector)> = None;
        for curve in self.curves().filter(|c| c.length() > COINCIDENT) {
            let beside = offset_curve(&curve, right)?;
            let path = match result {
                None => beside,
                Some((path, corner, direction)) => join(path, direction, corner, beside, curve.tangent(0.0), right)?,
            };
            result = Some((path, curve.end(), curve.tangent(1.0)));
        }
        Ok(result.map_or_else(|| Self::new(self.start), |(path, ..)| path))
    }

    /// Where it bends most tightly towards a side, kinks left aside; none when it nowhere does.
    #[must_use]
    pub fn tightest(&self, towards: Side) -> Option<Bend> {
        let mut before = 0.0;
        let mut tightest: Option<Bend> = None;
        for curve in self.curves() {
            let (t, curvature) = sharpest(&curve, towards.sign());
            let radius = 1.0 / curvature;
            if curvature > 0.0 && tightest.is_none_or(|b| radius < b.radius) {
                tightest = Some(Bend { at: curve.at(t), along: before + curve.length_to(t), radius });
            }
            before += curve.length();
        }
        tightest
    }
}

/// Where the curvature, its sign changed by `sign`, is largest, and that.
fn sharpest(curve: &Curve, sign: f64) -> (f64, f64) {
    let value = |t: f64| {
        let k = curve.curvature(t) * sign;
        if k.is_nan() { f64::NEG_INFINITY } else { k }
    };
    if !matches!(curve.segment, Segment::Cubic { .. }) {
        return (0.5, value(0.5));
    }
    let steps = 64_u32;
    let at = |i: u32| f64::from(i) / f64::from(steps);
    let start = (0..=steps).map(|i| (at(i), value(at(i)))).fold((0.0, f64::NEG_INFINITY), |a, b| if b.1 > a.1 { b } else { a });
    let (mut low, mut high) = ((start.0 - at(1)).max(0.0), (start.0 + at(1)).min(1.0));
    for _ in 0..40 {
        let (a, b) = (low + (high - low) / 3.0, high - (high - low) / 3.0);
        if value(a) < value(b) {
            low = a;
        } else {
            high = b;
        }
    }
    let t = f64::midpoint(low, high);
    if value(t) > start.1 { (t, value(t)) } else { start }
}

fn offset_curve(curve: &Curve, right: f64) -> Result<Path, OffsetError> {
    let beside = |t: f64| curve.at(t) + curve.tangent(t).right() * right;
    let (start, end) = (beside(0.0), beside(1.0));
    match curve.segment {
        Segment::Line { .. } => Ok(Path::line(start, end)),
        Segment::Arc { bulge, .. } => Ok(Path::new(start).arc_to(end, bulge)),
        Segment::Cubic { leaving, arriving, end: last } => {
            let chord = last - curve.start;
            let size = (leaving - curve.start).length() + (arriving - leaving).length() + (last - arriving).length();
            let off_chord = |p: Point| chord.cross(p - curve.start).abs() <= 1e-9 * size * chord.length();
            if off_chord(leaving) && off_chord(arriving) {
                // Straight after all, unless it runs back on itself.
                let forward = curve.length() <= chord.length() + COINCIDENT;
                return if forward { Ok(Path::line(start, end)) } else { Err(OffsetError::Crowded { at: last }) };
            }
            Ok(offset_of_cubic(curve, [curve.start, leaving, arriving, last], right))
        }
    }
}

fn offset_of_cubic(curve: &Curve, points: [Point; 4], right: f64) -> Path {
    let [a, b, c, d] = points.map(|p| kurbo::Point::new(p.x, p.y));
    let mut drawn = BezPath::new();
    offset_cubic(CubicBez::new(a, b, c, d), -right, OFFSET, &mut drawn);
    let p = super::curve::from_kurbo;
    let mut path = Path::new(curve.at(0.0) + curve.tangent(0.0).right() * right);
    for element in drawn.elements() {
        path = match *element {
            PathEl::MoveTo(_) | PathEl::ClosePath => path,
            PathEl::LineTo(end) => path.line_to(p(end)),
            PathEl::QuadTo(handle, end) => {
                let (start, handle, end) = (path.end(), p(handle), p(end));
                path.cubic_to(start.lerp(handle, 2.0 / 3.0), end.lerp(handle, 2.0 / 3.0), end)
            }
            PathEl::CurveTo(leaving, arriving, end) => path.cubic_to(p(leaving), p(arriving), p(end)),
        };
    }
    if path.is_finite() && !path.segments.is_empty() { path } else { offset_by_points(curve, right) }
}

/// Where the library has no answer: straights between points beside the curve.
fn offset_by_points(curve: &Curve, right: f64) -> Path {
    let pieces = (2 * curve.pieces(OFFSET)).max(16);
    let mut path = Path::new(curve.at(0.0) + curve.tangent(0.0).right() * right);
    for i in 1..=pieces {
        #[expect(clippy::cast_precision_loss, reason = "pieces are few thousand at most")]
        let t = i as f64 / pieces as f64;
        path = path.line_to(curve.at(t) + curve.tangent(t).right() * right);
    }
    path
}

/// Goes on from one offset piece to the next over the kink between their curves.
fn join(path: Path, direction: Vector, corner: Point, next: Path, leaving: Vector, right: f64) -> Result<Path, OffsetError> {
    let turn = direction.turn_to(leaving) * right.signum();
    if turn.abs() <= SMOOTH {
        return Ok(path.then(&next));
    }
    if turn > 0.0 {
        let between = mitre(corner, (path.end(), direction), (next.start, leaving));
        return Ok(between.into_iter().fold(path, Path::line_to).then(&next));
    }
    let (kept, rest) = trim(&path, &next, right).ok_or(OffsetError::Crowded { at: corner })?;
    Ok(kept.then(&rest))
}

/// Cuts two paths where they cross nearest to the corner between them.
fn trim(path: &Path, next: &Path, right: f64) -> Option<(Path, Path)> {
    // Only the tail can meet the next piece; a chain of very many pieces would be gone through each time otherwise.
    let reach = next.length() + 8.0 * right.abs();
    let mut length = 0.0;
    let tail_segments = path.curves().rev().take_while(|c| (length <= reach).then(|| length += c.length()).is_some()).count();
    let kept = path.segments.len() - tail_segments;
    let mut head = Path { start: path.start, segments: path.segments.get(..kept)?.to_vec() };
    let tail = Path { start: head.end(), segments: path.segments.get(kept..)?.to_vec() };
    let total = tail.length();
    let nearest = meetings(&tail, next).into_iter().min_by(|m, n| (total - m.first + m.second).total_cmp(&(total - n.first + n.second)))?;
    head.segments.extend(tail.split_at(nearest.first).0.segments);
    let mut rest = next.split_at(nearest.second).1;
    rest.start = head.end();
    Some((head, rest))
}
