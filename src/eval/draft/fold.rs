//! Folded corners: outside a hem's fold the cloth is the mirror image of the cloth inside, so that the hem, folded,
//! ends where the piece beside it ends.
//!
//! A hem folded several times is mirrored at each fold in turn: outside the second fold lies the image of what lies
//! between the first and the second.

use super::outline::SHORTEST;
use crate::geometry::{Path, Point, Vector, meetings};

/// A hem at one of its ends, as if its edge began there.
pub(crate) struct Hem<'a> {
    /// The corner of the finished outline.
    pub(crate) corner: Point,
    /// The way the hem's edge runs from the corner.
    pub(crate) along: Vector,
    /// Out of the piece.
    pub(crate) outward: Vector,
    /// Distances of the folds, the first 0.
    pub(crate) folds: &'a [f64],
    /// The line at the hem's allowance, beginning at the corner.
    pub(crate) line: Path,
    /// How far from the corner lines may still meet.
    pub(crate) limit: f64,
}

/// The way round a folded corner.
pub(crate) struct Folded {
    /// Where it leaves the side's line.
    pub(crate) leave: f64,
    /// From the side's line to the hem's.
    pub(crate) way: Path,
    /// Where it enters the hem's line.
    pub(crate) enter: f64,
}

/// Mirrors the side's line, which runs towards the corner, at each fold until it meets the hem's line; none when it does not.
pub(crate) fn fold_over(side: &Path, hem: &Hem<'_>) -> Option<Folded> {
    let reach = 2.0 * hem.limit;
    let fold_at = |distance: f64| {
        let middle = hem.corner + hem.outward * distance;
        Path::line(middle - hem.along * reach, middle + hem.along * reach)
    };
    let length = side.length();
    let run_on = side.clone().then(&Path::line(side.end(), side.end() + side.tangent_at_end() * reach));
    let near = |at: Point| at.distance(hem.corner) <= hem.limit * (1.0 + 1e-9);
    let first = meetings(&run_on, &fold_at(0.0)).into_iter().filter(|m| near(m.at));
    let first = first.min_by(|m, n| m.at.distance(hem.corner).total_cmp(&n.at.distance(hem.corner)))?;
    let leave = first.first.min(length);
    let start = side.point_at(leave);
    let mut way = if first.first > length { Path::line(start, first.at) } else { Path::new(start) };
    // The side's line as far as it is known, up to the fold reached.
    let mut known = run_on.subpath(0.0, first.first);
    let last = Path::line(hem.line.start - hem.along * reach, hem.line.start).then(&hem.line);
    for (i, fold) in hem.folds.iter().enumerate() {
        let image = known.reversed().mirrored(hem.corner + hem.outward * *fold, hem.along);
        let next = hem.folds.get(i + 1);
        let target = next.map_or_else(|| last.clone(), |distance| fold_at(*distance));
        let met = meetings(&image, &target).into_iter().find(|m| m.first > SHORTEST || next.is_none());
        let m = met?;
        let strip = image.subpath(0.0, m.first);
        way = way.then(&strip);
        known = known.then(&strip);
        if next.is_none() {
            let enter = (m.second - reach).max(0.0);
            return Some(Folded { leave, way, enter });
        }
    }
    None
}
