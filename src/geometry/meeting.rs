//! Where two paths meet, exactly.
//!
//! Flattened pieces that come near each other give the first guess; Newton's steps on the curves themselves
//! do the rest.

use super::curve::Curve;
use super::{Bounds, FLATTEN, Path, Point, Vector};

/// Two paths meet where they are no farther apart than this (mm).
const MEET: f64 = 1e-6;

/// Meetings nearer along both paths than this (mm) are one, found on two neighbouring segments.
const SAME: f64 = 1e-4;

/// A place common to two paths.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Meeting {
    /// Distance along the first path.
    pub first: f64,
    /// Distance along the second path.
    pub second: f64,
    /// Where.
    pub at: Point,
}

/// A straight piece of a curve.
#[derive(Debug, Clone, Copy)]
struct Chunk {
    from: Point,
    to: Point,
    t0: f64,
    t1: f64,
}

/// A curve made ready for comparing.
struct Ready {
    curve: Curve,
    before: f64,
    length: f64,
    bounds: Bounds,
    straight: bool,
    chunks: Vec<Chunk>,
}

/// Where two lines through points along directions meet, as multiples of the directions; none when parallel.
#[must_use]
pub fn line_meeting(p: Point, u: Vector, q: Point, v: Vector) -> Option<(f64, f64)> {
    let turn = u.cross(v);
    if turn.abs() <= 1e-12 * u.length() * v.length() {
        return None;
    }
    let gap = q - p;
    let (a, b) = (gap.cross(v) / turn, gap.cross(u) / turn);
    (a.is_finite() && b.is_finite()).then_some((a, b))
}

/// Every place common to two paths, in the order of the first. Stretches that run on each other give their ends only.
#[must_use]
pub fn meetings(first: &Path, second: &Path) -> Vec<Meeting> {
    let (a, b) = (ready(first), ready(second));
    let mut found: Vec<Meeting> = Vec::new();
    for x in &a {
        for y in b.iter().filter(|y| x.bounds.meets(y.bounds)) {
            curve_meetings(x, y, &mut found);
        }
    }
    found.sort_by(|m, n| m.first.total_cmp(&n.first).then(m.second.total_cmp(&n.second)));
    let mut kept: Vec<Meeting> = Vec::new();
    for m in found {
        if !kept.iter().any(|k| (k.first - m.first).abs() < SAME && (k.second - m.second).abs() < SAME) {
            kept.push(m);
        }
    }
    kept
}

fn ready(path: &Path) -> Vec<Ready> {
    let mut before = 0.0;
    path.curves()
        .map(|curve| {
            let length = curve.length();
            let pieces = curve.pieces(FLATTEN);
            #[expect(clippy::cast_precision_loss, reason = "pieces are few thousand at most")]
            let at = |i: usize| i as f64 / pieces as f64;
            let chunk = |i: usize| Chunk { from: curve.at(at(i)), to: curve.at(at(i + 1)), t0: at(i), t1: at(i + 1) };
            let ready = Ready {
                curve,
                before,
                length,
                bounds: curve.bounds().grown(MEET),
                straight: pieces == 1,
                chunks: (0..pieces).map(chunk).collect(),
            };
            before += length;
            ready
        })
        .collect()
}

fn curve_meetings(x: &Ready, y: &Ready, found: &mut Vec<Meeting>) {
    let slack = if x.straight && y.straight { MEET } else { 2.0 * FLATTEN };
    let bounds_of = |c: &Chunk| Bounds::of(c.from).with(c.to).grown(slack);
    for a in x.chunks.iter().filter(|a| bounds_of(a).meets(y.bounds)) {
        let near = bounds_of(a);
        for b in y.chunks.iter().filter(|b| near.meets(bounds_of(b))) {
            for (t, u) in guesses(a, b, slack) {
                found.extend(refine(x, y, t, u));
            }
        }
    }
}

/// Parameters near which two chunks may meet.
fn guesses(a: &Chunk, b: &Chunk, slack: f64) -> Vec<(f64, f64)> {
    let (r, s) = (a.to - a.from, b.to - b.from);
    let place = |t: f64, u: f64| (a.t0 + (a.t1 - a.t0) * t, b.t0 + (b.t1 - b.t0) * u);
    if let Some((t, u)) = line_meeting(a.from, r, b.from, s) {
        let (over_t, over_u) = (slack / r.length(), slack / s.length());
        if t >= -over_t && t <= 1.0 + over_t && u >= -over_u && u <= 1.0 + over_u {
            return vec![place(t.clamp(0.0, 1.0), u.clamp(0.0, 1.0))];
        }
    }
    // Parallel, or nearly: they may still touch at their ends.
    let on = |p: Point, from: Point, along: Vector| {
        let square = along.dot(along);
        let t = if square > 0.0 { ((p - from).dot(along) / square).clamp(0.0, 1.0) } else { 0.0 };
        (t, p.distance(from + along * t))
    };
    let on_b = [(0.0, a.from), (1.0, a.to)].map(|(t, p)| (t, on(p, b.from, s)));
    let on_a = [(0.0, b.from), (1.0, b.to)].map(|(u, p)| (on(p, a.from, r), u));
    let touching_b = on_b.into_iter().filter(|(_, (_, d))| *d <= slack).map(|(t, (u, _))| place(t, u));
    let touching_a = on_a.into_iter().filter(|((_, d), _)| *d <= slack).map(|((t, _), u)| place(t, u));
    touching_b.chain(touching_a).collect()
}

/// Newton's steps from a guess; none when they end apart or outside the curves.
fn refine(x: &Ready, y: &Ready, mut t: f64, mut u: f64) -> Option<Meeting> {
    for _ in 0..24 {
        let gap = y.curve.at(u) - x.curve.at(t);
        if gap.length() <= MEET * 1e-4 {
            break;
        }
        let Some((dt, du)) = line_meeting(Point::default(), x.curve.velocity(t), Point::default() + gap, y.curve.velocity(u)) else {
            break;
        };
        t = (t + dt).clamp(-0.5, 1.5);
        u = (u + du).clamp(-0.5, 1.5);
    }
    let (over_t, over_u) = (MEET / x.length, MEET / y.length);
    if !(t >= -over_t && t <= 1.0 + over_t && u >= -over_u && u <= 1.0 + over_u) {
        return None;
    }
    let (t, u) = (t.clamp(0.0, 1.0), u.clamp(0.0, 1.0));
    let (at, other) = (x.curve.at(t), y.curve.at(u));
    if at.distance(other) > 2.0 * MEET {
        return None;
    }
    Some(Meeting { first: x.before + x.curve.length_to(t), second: y.before + y.curve.length_to(u), at })
}
