//! Making paths: straights, arcs by rise, hung curves, circles.

use super::{COINCIDENT, Path, Point, Segment, Vector};

/// A hung curve's cubics stray no farther than this from the chain curve (mm): well under [`super::FLATTEN`].
const HUNG: f64 = 1e-4;

/// Directions closer than this (radians) are one.
const SAME_WAY: f64 = 1e-9;

/// A hung curve never becomes more cubics than this.
const MOST_CUBICS: u32 = 256;

/// Which side of the direction of travel.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Side {
    /// To the left: inward, on a counter-clockwise path.
    Left,
    /// To the right: outward, on a counter-clockwise path.
    Right,
}

impl Side {
    /// 1 for the left, -1 for the right.
    #[must_use]
    pub const fn sign(self) -> f64 {
        match self {
            Self::Left => 1.0,
            Self::Right => -1.0,
        }
    }
}

impl Path {
    /// A straight.
    #[must_use]
    pub fn line(start: Point, end: Point) -> Self {
        Self::new(start).line_to(end)
    }

    /// Straights from point to point; none for no points.
    #[must_use]
    pub fn polyline(points: &[Point]) -> Option<Self> {
        let (start, rest) = points.split_first()?;
        Some(Self { start: *start, segments: rest.iter().map(|p| Segment::Line { end: *p }).collect() })
    }

    /// Straights from point to point and back to the first; none for no points.
    #[must_use]
    pub fn polygon(points: &[Point]) -> Option<Self> {
        Self::polyline(points).map(|p| {
            let start = p.start;
            p.line_to(start)
        })
    }

    /// A circular arc whose middle stands `rise` off its chord, on one side; a negative rise stands on the other.
    #[must_use]
    pub fn arc_by_rise(start: Point, end: Point, rise: f64, side: Side) -> Self {
        let chord = start.distance(end);
        let bulge = 2.0 * rise / chord * -side.sign();
        if chord == 0.0 || rise.abs() <= 1e-9 {
            return Self::line(start, end);
        }
        Self::new(start).arc_to(end, bulge)
    }

    /// The circular arc (mm) that leaves its start in a direction (of any length but zero) and ends at a point; straight when
    /// the point lies straight ahead. None when it would turn by more than a half circle, or the two points are one.
    #[must_use]
    pub fn arc_leaving(start: Point, direction: Vector, end: Point) -> Option<Self> {
        let chord = end - start;
        // An arc turns as far before its chord's direction as after it.
        let half = direction.turn_to(chord);
        if chord.length() <= COINCIDENT || direction.length() == 0.0 || half.abs() > std::f64::consts::FRAC_PI_2 + SAME_WAY {
            return None;
        }
        if half.abs() <= SAME_WAY {
            return Some(Self::line(start, end));
        }
        Some(Self::new(start).arc_to(end, (half / 2.0).tan()))
    }

    /// A circle, counter-clockwise, as two arcs from its rightmost point.
    #[must_use]
    pub fn circle(centre: Point, radius: f64) -> Self {
        let across = Vector::new(radius, 0.0);
        Self::new(centre + across).arc_to(centre - across, 1.0).arc_to(centre + across, 1.0)
    }

    /// The curve of a chain hung between two points, `sag` deep on one side of the chord; a negative sag hangs on the other.
    ///
    /// `y = a cosh(x/a) − a`, where `a` follows from the sag. It becomes a chain of cubics whose ends and tangents lie
    /// exactly on that curve.
    #[must_use]
    pub fn catenary(start: Point, end: Point, sag: f64, side: Side) -> Self {
        let span = start.distance(end);
        let depth = sag.abs();
        if !(span > COINCIDENT && depth > COINCIDENT && (depth / span).is_finite()) {
            return Self::line(start, end);
        }
        let hung = Hung::new(span, depth);
        let along = (end - start).unit();
        let down = along.left() * (side.sign() * sag.signum());
        let middle = start.lerp(end, 0.5);
        let place = |p: Point| middle + along * p.x + down * p.y;
        let turn = |v: Vector| along * v.x + down * v.y;
        let mut path = Self::new(start);
        let pieces = hung.pieces();
        let step = 2.0 * hung.half_length / f64::from(pieces);
        for i in 0..pieces {
            let from = f64::from(i).mul_add(step, -hung.half_length);
            let [_, leaving, arriving, to] = hung.cubic(from, step);
            let end = if i + 1 == pieces { end } else { place(to) };
            let arriving = end + turn(arriving - to);
            path = path.cubic_to(place(leaving), arriving, end);
        }
        path
    }
}

/// A hung curve in its own frame: its ends at height 0, its lowest point `depth` along positive y, x from the middle.
struct Hung {
    a: f64,
    depth: f64,
    half_length: f64,
}

impl Hung {
    fn new(span: f64, depth: f64) -> Self {
        let a = span / (2.0 * half_angle(2.0 * depth / span));
        Self { a, depth, half_length: a * (span / (2.0 * a)).sinh() }
    }

    /// The point at a length from the middle.
    fn at(&self, s: f64) -> Point {
        let x = self.a * (s / self.a).asinh();
        // cosh − 1, without its cancellation.
        let height = 2.0 * self.a * (x / (2.0 * self.a)).sinh().powi(2);
        Point::new(x, self.depth - height)
    }

    /// The direction at a length from the middle.
    fn tangent(&self, s: f64) -> Vector {
        Vector::new(self.a, -s).unit()
    }

    /// The cubic over a stretch of it.
    fn cubic(&self, from: f64, step: f64) -> [Point; 4] {
        let (start, end) = (self.at(from), self.at(from + step));
        [start, start + self.tangent(from) * (step / 3.0), end - self.tangent(from + step) * (step / 3.0), end]
    }

    /// How many equal stretches hold the cubics to the curve: an even number, so that the lowest point is a joint.
    fn pieces(&self) -> u32 {
        let mut pieces = 2;
        while pieces < MOST_CUBICS {
            let step = 2.0 * self.half_length / f64::from(pieces);
            let strays = (0..pieces).any(|i| {
                let from = f64::from(i).mul_add(step, -self.half_length);
                let [p, q, r, s] = self.cubic(from, step);
                let middle = p + ((q - p) * 3.0 + (r - p) * 3.0 + (s - p)) * 0.125;
                middle.distance(self.at(step.mul_add(0.5, from))) > HUNG
            });
            if !strays {
                break;
            }
            pieces *= 2;
        }
        pieces
    }
}

/// Solves (cosh u − 1) / u = k for u. The left side is convex and grows from u/2, so that Newton's steps from above
/// come down on the root; where a step would leave the bracket, it is halved instead.
fn half_angle(k: f64) -> f64 {
    let value = |u: f64| 2.0 * (u / 2.0).sinh().powi(2) / u;
    let (mut low, mut high) = (0.0_f64, (2.0 * k).min(700.0));
    let mut u = high.min(60.0);
    for _ in 0..200 {
        let off = value(u) - k;
        if off > 0.0 {
            high = u;
        } else {
            low = u;
        }
        let slope = (u.sinh() - value(u)) / u;
        let next = u - off / slope;
        let next = if next.is_finite() && next > low && next <= high { next } else { f64::midpoint(low, high) };
        if (next - u).abs() <= u * 1e-15 {
            return next;
        }
        u = next;
    }
    u
}
