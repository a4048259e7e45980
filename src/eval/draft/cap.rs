//! Caps of darts: the allowance over a dart is cut so that it ends level with the allowance it is pressed onto.
//!
//! Folded along its middle and pressed to one side, a dart lies in its mirror image about its leg. So outside that leg the cut
//! line is the mirror image of the cut line beside it, as far as the dart's middle, and from there its own mirror image.

use super::TakeKind;
use super::outline::{Outline, SHORTEST};
use super::take::{Take, legs};
use crate::geometry::{Path, Point, Vector, meetings};

/// The two halves of a cap may miss the cut line by so much (mm) on an edge that bends otherwise on either side of its dart.
const MISSES: f64 = 0.5;

/// Where a leg, run on, meets the cut line; the way in from there, and how far it is to the edge.
pub(crate) type Leg = (Point, Vector, f64);

/// Shapes the cut line over each dart; `stretches` are of the edges. For each take the ends of its legs, where it has a cap.
pub(crate) fn put(outline: &Outline, takes: &[Take], stretches: &mut [Path]) -> Vec<Option<[Leg; 2]>> {
    let mut found = vec![None; takes.len()];
    let mut order: Vec<(usize, &Take)> = takes.iter().enumerate().collect();
    // From the end of each edge, so that what lies before stays where it is.
    order.sort_by(|a, b| b.1.from.total_cmp(&a.1.from));
    for (index, take) in order {
        let (Some(work), Some(stretch)) = (outline.edges.get(take.edge), stretches.get_mut(take.edge)) else { continue };
        let TakeKind::Dart { deep } = take.kind else { continue };
        if let Some((capped, ends)) = capped(stretch, legs(&work.path, take, deep)) {
            *stretch = capped;
            if let Some(slot) = found.get_mut(index) {
                *slot = Some(ends);
            }
        }
    }
    found
}

/// A cut line with a cap over the dart of these legs; none where there is no allowance, the dart is as wide as deep, a corner is
/// too near, or the edge bends so that no cap fits both legs.
fn capped(cut: &Path, [one, tip, two]: [Point; 3]) -> Option<(Path, [Leg; 2])> {
    let wide = one.distance(two);
    let reach = 4.0 * wide + 8.0 * distance(cut, one);
    let end = |leg: Point| {
        let out = (leg - tip).unit();
        let ray = Path::line(leg + out * SHORTEST, leg + out * reach);
        meetings(&ray, cut).first().map(|m| (m.second, m.at, (m.at, -out, m.at.distance(leg))))
    };
    let ((from, at, first), (to, far, second)) = (end(one)?, end(two)?);
    if to - from < SHORTEST {
        return None;
    }
    let way = ((one - tip).unit() + (two - tip).unit()).unit();
    let image = cut.subpath((from - reach).max(0.0), from).reversed().mirrored(one, (one - tip).unit());
    let middle = Path::line(tip, tip + way * (2.0 * reach + tip.distance(one)));
    let half = image.subpath(0.0, meetings(&image, &middle).first()?.first);
    let other = half.reversed().mirrored(tip, way);
    if other.end().distance(far) > MISSES || half.start.distance(at) > MISSES {
        return None;
    }
    let capped = cut.subpath(0.0, from).then(&half).then(&other).then(&cut.subpath(to, cut.length()));
    Some((capped, [first, second]))
}

fn distance(cut: &Path, from: Point) -> f64 {
    crate::geometry::distance_to(&cut.flatten(super::outline::LOOK), from)
}
