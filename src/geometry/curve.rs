//! One segment of a path together with its start: everything a path asks of its parts.
//!
//! A parameter `t` runs from 0 to 1: along lines and arcs in proportion to length, along
//! cubics as Bézier's parameter.

use super::{Bounds, Point, Segment, Vector};
use kurbo::{CubicBez, ParamCurve, ParamCurveArclen, ParamCurveArea, ParamCurveDeriv, ParamCurveExtrema};

/// Arc lengths of cubics are found to this (mm): far below what a tape shows, and quick.
const ARC_LENGTH: f64 = 1e-9;

/// Places along a cubic, by length, are found to this (mm).
const ARC_PLACE: f64 = 1e-8;

/// A curve is never flattened into more pieces than this, however large: memory before beauty.
const MOST_PIECES: usize = 4096;

/// Past this (mm, a thousand kilometres) a cubic is measured by its chord: subdividing it could take for ever.
const ABSURD: f64 = 1e9;

/// A segment and where it starts.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Curve {
    /// Where it starts.
    pub(crate) start: Point,
    /// How it goes on.
    pub(crate) segment: Segment,
}

impl Curve {
    pub(crate) const fn new(start: Point, segment: Segment) -> Self {
        Self { start, segment }
    }

    pub(crate) const fn end(&self) -> Point {
        self.segment.end()
    }

    fn chord(&self) -> Vector {
        self.end() - self.start
    }

    /// The angle an arc turns through, positive to the left; zero for a line.
    pub(crate) fn sweep(&self) -> f64 {
        match self.segment {
            Segment::Arc { bulge, .. } => 4.0 * bulge.atan(),
            Segment::Line { .. } | Segment::Cubic { .. } => 0.0,
        }
    }

    /// The cubic, when it is one of sane size.
    pub(crate) fn cubic(&self) -> Option<CubicBez> {
        let Segment::Cubic { leaving, arriving, end } = self.segment else { return None };
        let sane = [self.start, leaving, arriving, end].iter().all(|p| p.x.abs() < ABSURD && p.y.abs() < ABSURD);
        let k = |p: Point| kurbo::Point::new(p.x, p.y);
        sane.then(|| CubicBez::new(k(self.start), k(leaving), k(arriving), k(end)))
    }

    /// Radius of an arc; infinite for a line.
    fn radius(&self) -> f64 {
        self.chord().length() / (2.0 * (self.sweep() / 2.0).sin()).abs()
    }

    pub(crate) fn is_finite(&self) -> bool {
        let ends = [self.start, self.end()].iter().all(|p| p.is_finite());
        ends && match self.segment {
            Segment::Line { .. } => true,
            Segment::Arc { bulge, .. } => bulge.is_finite(),
            Segment::Cubic { leaving, arriving, .. } => leaving.is_finite() && arriving.is_finite(),
        }
    }

    pub(crate) fn length(&self) -> f64 {
        match self.segment {
            Segment::Line { .. } => self.chord().length(),
            Segment::Arc { .. } => self.chord().length() / sinc(self.sweep() / 2.0),
            Segment::Cubic { .. } => match self.cubic() {
                Some(c) if c.p0 == c.p1 && c.p1 == c.p2 && c.p2 == c.p3 => 0.0,
                Some(c) => c.arclen(ARC_LENGTH),
                None => self.chord().length(),
            },
        }
    }

    /// The point at a parameter.
    pub(crate) fn at(&self, t: f64) -> Point {
        match self.segment {
            Segment::Line { end } => self.start.lerp(end, t),
            Segment::Arc { .. } => {
                let half = self.sweep() / 2.0;
                let scale = t * sinc(t * half) / sinc(half);
                self.start + self.chord().turned((t - 1.0) * half) * scale
            }
            Segment::Cubic { end, .. } => self.cubic().map_or_else(|| self.start.lerp(end, t), |c| from_kurbo(c.eval(t))),
        }
    }

    /// How the point moves with the parameter.
    pub(crate) fn velocity(&self, t: f64) -> Vector {
        match self.segment {
            Segment::Line { .. } => self.chord(),
            Segment::Arc { .. } => {
                let half = self.sweep() / 2.0;
                self.chord().turned((2.0 * t - 1.0) * half) * (1.0 / sinc(half))
            }
            Segment::Cubic { .. } => self.cubic().map_or_else(
                || self.chord(),
                |c| {
                    let v = c.deriv().eval(t);
                    Vector::new(v.x, v.y)
                },
            ),
        }
    }

    /// Direction of travel at a parameter, length one; where a cubic's handle lies on its end, the direction it leaves in.
    pub(crate) fn tangent(&self, t: f64) -> Vector {
        let v = self.velocity(t);
        let Segment::Cubic { leaving, arriving, end } = self.segment else { return v.unit() };
        let size = (leaving - self.start).length() + (arriving - leaving).length() + (end - arriving).length();
        if v.length() > size * 1e-9 {
            return v.unit();
        }
        let step = 1e-4;
        let (from, to) = ((t - step).max(0.0), (t + step).min(1.0));
        let near = match t {
            t if t < 0.5 && (leaving - self.start).length() <= size * 1e-9 => {
                if (arriving - self.start).length() > size * 1e-9 {
                    arriving - self.start
                } else {
                    end - self.start
                }
            }
            t if t > 0.5 && (end - arriving).length() <= size * 1e-9 => {
                if (end - leaving).length() > size * 1e-9 {
                    end - leaving
                } else {
                    end - self.start
                }
            }
            _ => self.at(to) - self.at(from),
        };
        near.unit()
    }

    /// Curvature at a parameter, positive where it turns left; not finite where a cubic stands still.
    pub(crate) fn curvature(&self, t: f64) -> f64 {
        match self.segment {
            Segment::Line { .. } => 0.0,
            Segment::Arc { bulge, .. } => bulge.signum() / self.radius(),
            Segment::Cubic { .. } => self.cubic().map_or(0.0, |c| {
                let (v, a) = (c.deriv().eval(t).to_vec2(), c.deriv().deriv().eval(t).to_vec2());
                v.cross(a) / v.hypot().powi(3)
            }),
        }
    }

    /// The parameter at a distance along it, held within it.
    pub(crate) fn parameter(&self, distance: f64, length: f64) -> f64 {
        if !(distance > 0.0 && length > 0.0) {
            return 0.0;
        }
        if distance >= length {
            return 1.0;
        }
        match (self.segment, self.cubic()) {
            (Segment::Cubic { .. }, Some(c)) => c.inv_arclen(distance, ARC_PLACE).clamp(0.0, 1.0),
            _ => distance / length,
        }
    }

    /// The length up to a parameter.
    pub(crate) fn length_to(&self, t: f64) -> f64 {
        match (self.segment, self.cubic()) {
            (Segment::Cubic { .. }, Some(_)) if t <= 0.0 => 0.0,
            (Segment::Cubic { .. }, Some(_)) => self.split(t.min(1.0)).0.length(),
            _ => self.length() * t.clamp(0.0, 1.0),
        }
    }

    /// The parts before and after a parameter.
    pub(crate) fn split(&self, t: f64) -> (Self, Self) {
        let middle = self.at(t);
        match self.segment {
            Segment::Line { end } => (Self::new(self.start, Segment::Line { end: middle }), Self::new(middle, Segment::Line { end })),
            Segment::Arc { end, .. } => {
                let quarter = self.sweep() / 4.0;
                let first = Segment::Arc { end: middle, bulge: (quarter * t).tan() };
                let second = Segment::Arc { end, bulge: (quarter * (1.0 - t)).tan() };
                (Self::new(self.start, first), Self::new(middle, second))
            }
            Segment::Cubic { leaving, arriving, end } => {
                let (a, b, c) = (self.start.lerp(leaving, t), leaving.lerp(arriving, t), arriving.lerp(end, t));
                let (d, e) = (a.lerp(b, t), b.lerp(c, t));
                let middle = d.lerp(e, t);
                let first = Segment::Cubic { leaving: a, arriving: d, end: middle };
                let second = Segment::Cubic { leaving: e, arriving: c, end };
                (Self::new(self.start, first), Self::new(middle, second))
            }
        }
    }

    /// The same travelled the other way.
    pub(crate) const fn reversed(&self) -> Self {
        let end = self.start;
        let segment = match self.segment {
            Segment::Line { .. } => Segment::Line { end },
            Segment::Arc { bulge, .. } => Segment::Arc { end, bulge: -bulge },
            Segment::Cubic { leaving, arriving, .. } => Segment::Cubic { leaving: arriving, arriving: leaving, end },
        };
        Self::new(self.end(), segment)
    }

    /// Twice the area between it and the origin, counter-clockwise positive.
    pub(crate) fn double_area(&self) -> f64 {
        let origin = Point::new(0.0, 0.0);
        let chord = (self.start - origin).cross(self.end() - origin);
        match self.segment {
            Segment::Line { .. } => chord,
            Segment::Arc { .. } => chord + self.double_cap(),
            Segment::Cubic { .. } => self.cubic().map_or(chord, |c| 2.0 * c.signed_area()),
        }
    }

    /// Twice the area between an arc and its chord: r² (sweep − sin sweep).
    fn double_cap(&self) -> f64 {
        let sweep = self.sweep();
        let square = self.chord().dot(self.chord());
        if sweep.abs() < 0.05 {
            let s = sweep * sweep;
            // Series of (x − sin x) / (4 sin²(x/2)), which cancels for flat arcs.
            return square * sweep / 6.0 * (1.0 + s / 30.0 + s * s / 840.0);
        }
        square * (sweep - sweep.sin()) / (4.0 * (sweep / 2.0).sin().powi(2))
    }

    pub(crate) fn bounds(&self) -> Bounds {
        let mut bounds = Bounds::of(self.start).with(self.end());
        match self.segment {
            Segment::Line { .. } => {}
            Segment::Arc { .. } => {
                let (sweep, first) = (self.sweep(), self.tangent(0.0).angle());
                for quarter in -6..=6 {
                    let turn = f64::from(quarter) * std::f64::consts::FRAC_PI_2 - first;
                    let t = turn / sweep;
                    if t > 0.0 && t < 1.0 {
                        bounds = bounds.with(self.at(t));
                    }
                }
            }
            Segment::Cubic { .. } => {
                for t in self.cubic().map(|c| c.extrema()).into_iter().flatten() {
                    bounds = bounds.with(self.at(t));
                }
            }
        }
        bounds
    }

    /// How many straight pieces stand for it within a tolerance.
    pub(crate) fn pieces(&self, tolerance: f64) -> usize {
        let wanted = match self.segment {
            Segment::Line { .. } => 1.0,
            // 1 − cos x ≤ x² / 2
            Segment::Arc { .. } => (self.sweep().abs() / (8.0 * tolerance / self.radius()).sqrt().min(1.0)).ceil(),
            // Wang's bound on the distance between a Bézier curve and its chords.
            Segment::Cubic { leaving, arriving, end } => {
                let bend = |a: Point, b: Point, c: Point| ((a - b) - (b - c)).length();
                let most = bend(self.start, leaving, arriving).max(bend(leaving, arriving, end));
                (0.75 * most / tolerance).sqrt().ceil()
            }
        };
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "held within 1 and MOST_PIECES")]
        let pieces = if wanted.is_nan() { 1 } else { wanted.clamp(1.0, MOST_PIECES as f64) as usize };
        pieces
    }

    /// As cubics, within a tolerance.
    pub(crate) fn cubics(&self, tolerance: f64) -> Vec<Segment> {
        match self.segment {
            Segment::Line { .. } | Segment::Cubic { .. } => vec![self.segment],
            Segment::Arc { .. } => {
                // The usual handles leave 1.8e-5 r x⁶ of a circle.
                let most = (tolerance / (1.8e-5 * self.radius())).powf(1.0 / 6.0).min(std::f64::consts::FRAC_PI_2);
                let wanted = (self.sweep().abs() / most).ceil();
                #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "held within 1 and 64")]
                let pieces = if wanted.is_nan() { 1 } else { wanted.clamp(1.0, 64.0) as u32 };
                let angle = self.sweep() / f64::from(pieces);
                let point = |i: u32| if i == pieces { self.end() } else { self.at(f64::from(i) / f64::from(pieces)) };
                let tangent = |i: u32| self.tangent(f64::from(i) / f64::from(pieces));
                let handle = |chord: f64| chord * (2.0 / 3.0) * (angle / 4.0).tan() / (angle / 2.0).sin();
                (0..pieces)
                    .map(|i| {
                        let (from, end) = (point(i), point(i + 1));
                        let chord = from.distance(end);
                        let h = if angle.abs() < 1e-9 { chord / 3.0 } else { handle(chord) };
                        Segment::Cubic { leaving: from + tangent(i) * h, arriving: end - tangent(i + 1) * h, end }
                    })
                    .collect()
            }
        }
    }

    /// The same with its points moved by a map that keeps shapes; `turns_over` when it mirrors.
    pub(crate) fn mapped(&self, map: impl Fn(Point) -> Point, turns_over: bool) -> Self {
        let segment = match self.segment {
            Segment::Line { end } => Segment::Line { end: map(end) },
            Segment::Arc { end, bulge } => Segment::Arc { end: map(end), bulge: if turns_over { -bulge } else { bulge } },
            Segment::Cubic { leaving, arriving, end } => Segment::Cubic { leaving: map(leaving), arriving: map(arriving), end: map(end) },
        };
        Self::new(map(self.start), segment)
    }
}

/// sin x / x
fn sinc(x: f64) -> f64 {
    if x.abs() < 1e-4 { 1.0 - x * x / 6.0 } else { x.sin() / x }
}

/// From the curve library's point.
pub(crate) const fn from_kurbo(p: kurbo::Point) -> Point {
    Point::new(p.x, p.y)
}
