//! Paths followed by points.

use crate::geometry::{Path, Point, Segment, Vector};

/// Points along a path, its start and end among them, none of its curve farther than `tolerance` from the line through them.
pub(crate) fn points(path: &Path, tolerance: f64) -> Vec<Point> {
    let mut all = vec![path.start];
    let mut from = path.start;
    for segment in &path.segments {
        match *segment {
            Segment::Line { end } => all.push(end),
            Segment::Arc { end, bulge } => arc(&mut all, from, end, bulge, tolerance),
            Segment::Cubic { leaving, arriving, end } => {
                let bend = ((leaving - from) - (arriving - leaving)).length().max(((arriving - leaving) - (end - arriving)).length());
                let n = ((0.75 * bend / tolerance).sqrt().ceil()).clamp(1.0, 2000.0) as u32;
                all.extend((1..=n).map(|i| {
                    let t = f64::from(i) / f64::from(n);
                    let (a, b, c) = (from.lerp(leaving, t), leaving.lerp(arriving, t), arriving.lerp(end, t));
                    a.lerp(b, t).lerp(b.lerp(c, t), t)
                }));
            }
        }
        from = segment.end();
    }
    all
}

fn arc(all: &mut Vec<Point>, from: Point, end: Point, bulge: f64, tolerance: f64) {
    let chord = end - from;
    let angle = 4.0 * bulge.atan();
    let radius = chord.length() * (1.0 + bulge * bulge) / (4.0 * bulge.abs());
    if !radius.is_finite() {
        all.push(end);
        return;
    }
    let step = 2.0 * (1.0 - tolerance / radius).max(0.0).acos();
    let n = (angle.abs() / step.max(1e-3)).ceil().clamp(1.0, 5000.0);
    let centre = from.lerp(end, 0.5) + chord.left() * ((1.0 - bulge * bulge) / (4.0 * bulge));
    let first = (from - centre).angle();
    let mut i = 1.0;
    while i < n {
        all.push(centre + Vector::at_angle(first + angle * i / n) * radius);
        i += 1.0;
    }
    all.push(end);
}

/// The point a distance along a path and the direction there; none on an empty path.
pub(super) fn at_distance(path: &Path, distance: f64) -> Option<(Point, Vector)> {
    let all = points(path, 0.05);
    let mut left = distance;
    let mut last = None;
    for (a, b) in all.iter().zip(all.iter().skip(1)) {
        let length = a.distance(*b);
        if length == 0.0 {
            continue;
        }
        last = Some((*b, (*b - *a).unit()));
        if left <= length {
            return Some((a.lerp(*b, left / length), (*b - *a).unit()));
        }
        left -= length;
    }
    last
}

/// A path's length.
pub(super) fn length(path: &Path) -> f64 {
    let all = points(path, 0.02);
    all.iter().zip(all.iter().skip(1)).map(|(a, b)| a.distance(*b)).sum()
}
