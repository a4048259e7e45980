//! What fills the gap outside a corner between two lines that run beside its sides.

use super::{Point, Vector, meeting::line_meeting};

/// A mitre's tip lies no farther from the corner than this many times the larger distance: the usual limit of drawing
/// programs, which lets every corner down to 29 degrees keep its point.
pub const MITRE_LIMIT: f64 = 4.0;

/// The points between the end of one line beside a corner and the start of the next: where both would meet, when
/// that lies within [`MITRE_LIMIT`].
///
/// A sharper corner is cut off square to its halving line, so far out that the larger distance is kept at its tip. Where
/// the lines meet far out because they are nearly parallel, there is no point between: one steps straight across.
///
/// Each side is given by the point where its line ends or starts, and its direction of travel.
#[must_use]
pub fn mitre(corner: Point, (end, arriving): (Point, Vector), (start, leaving): (Point, Vector)) -> Vec<Point> {
    let far = (end - corner).length().max((start - corner).length());
    let Some((on, back)) = line_meeting(end, arriving, start, leaving) else {
        return blunt(corner, (end, arriving), (start, leaving), far);
    };
    let tip = end + arriving * on;
    if on >= 0.0 && back <= 0.0 && tip.distance(corner) <= MITRE_LIMIT * far {
        return vec![tip];
    }
    blunt(corner, (end, arriving), (start, leaving), far)
}

fn blunt(corner: Point, (end, arriving): (Point, Vector), (start, leaving): (Point, Vector), far: f64) -> Vec<Point> {
    if arriving.dot(leaving) >= 0.0 {
        return Vec::new();
    }
    let out = (arriving - leaving).unit();
    let reach = |from: Point, along: Vector| {
        let on = (far - (from - corner).dot(out)) / along.dot(out);
        if on.is_finite() && on > 0.0 { Some(from + along * on) } else { None }
    };
    [reach(end, arriving), reach(start, -leaving)].into_iter().flatten().collect()
}
