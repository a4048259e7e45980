//! Caps of darts: the allowance over a dart is cut so that it ends level with the allowance it is pressed onto.
//!
//! Folded along its middle and pressed to one side, a dart lies in its mirror image about its leg. So outside that leg the cut
//! line is the mirror image of the cut line beside it, as far as the dart's middle, and from there its own mirror image.

use super::TakeKind;
use super::error::{MarkError, Report};
use super::outline::{Outline, SHORTEST};
use super::take::{Take, legs};
use crate::geometry::{Path, Point, Vector, meetings};
use std::collections::BTreeSet;

/// The two halves of a cap may miss the cut line by so much (mm) on an edge that bends otherwise on either side of its dart.
const MISSES: f64 = 0.5;

/// Where a leg, run on, meets the cut line; the way in from there, and how far it is to the edge.
pub(crate) type Leg = (Point, Vector, f64);

/// Why an allowance over a dart has no cap.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum NoCap {
    /// The dart is as wide as deep, or wider: what is folded under would lie past the edge.
    Wide,
    /// A corner, or another dart, is nearer than the cap reaches.
    Near,
    /// The edge bends otherwise on either side.
    Bends,
}

/// Shapes the cut line over each dart; `stretches` are of the edges. For each take the ends of its legs, where it has a cap.
pub(crate) fn put(outline: &Outline, takes: &[Take], stretches: &mut [Path], report: &mut Report<'_>) -> Vec<Option<[Leg; 2]>> {
    let mut told = BTreeSet::new();
    let mut found = vec![None; takes.len()];
    let mut order: Vec<(usize, &Take)> = takes.iter().enumerate().collect();
    // From the end of each edge, so that what lies before stays where it is.
    order.sort_by(|a, b| b.1.from.total_cmp(&a.1.from));
    for (index, take) in order {
        let (Some(work), Some(stretch)) = (outline.edges.get(take.edge), stretches.get_mut(take.edge)) else { continue };
        let TakeKind::Dart { deep } = take.kind else { continue };
        let legs = legs(&work.path, take, deep);
        // Without an allowance there is nothing to cap.
        if legs.iter().take(1).any(|leg| distance(stretch, *leg) < SHORTEST) {
            continue;
        }
        match capped_from_either(stretch, legs) {
            Ok((capped, ends)) => {
                *stretch = capped;
                if let Some(slot) = found.get_mut(index) {
                    *slot = Some(ends);
                }
            }
            // On the fold a dart is there twice, and told once.
            Err(why) if told.insert(take.span) => {
                report.push(MarkError::DartWithoutCap { edge: work.name.clone(), why, span: take.span });
            }
            Err(_) => {}
        }
    }
    found
}

/// Pressed to one side or to the other a dart needs the same cap: where a corner is near on one side, it is the other's.
fn capped_from_either(cut: &Path, [one, tip, two]: [Point; 3]) -> Result<(Path, [Leg; 2]), NoCap> {
    if one.distance(two) >= 2.0 * tip.distance(one.lerp(two, 0.5)) {
        return Err(NoCap::Wide);
    }
    let turned = || capped(&cut.reversed(), [two, tip, one]).map(|(path, [a, b])| (path.reversed(), [b, a]));
    capped(cut, [one, tip, two]).or_else(|why| if why == NoCap::Near { turned() } else { Err(why) })
}

/// A cut line with a cap over the dart of these legs, as it is pressed towards the first.
fn capped(cut: &Path, [one, tip, two]: [Point; 3]) -> Result<(Path, [Leg; 2]), NoCap> {
    let wide = one.distance(two);
    let reach = 4.0 * wide + 8.0 * distance(cut, one);
    let end = |leg: Point| {
        let out = (leg - tip).unit();
        let ray = Path::line(leg + out * SHORTEST, leg + out * reach);
        meetings(&ray, cut).first().map(|m| (m.second, m.at, (m.at, -out, m.at.distance(leg))))
    };
    let (Some((from, at, first)), Some((to, far, second))) = (end(one), end(two)) else { return Err(NoCap::Near) };
    if to - from < SHORTEST {
        return Err(NoCap::Near);
    }
    let way = ((one - tip).unit() + (two - tip).unit()).unit();
    let image = cut.subpath((from - reach).max(0.0), from).reversed().mirrored(one, (one - tip).unit());
    let middle = Path::line(tip, tip + way * (2.0 * reach + tip.distance(one)));
    let half = image.subpath(0.0, meetings(&image, &middle).first().ok_or(NoCap::Near)?.first);
    let other = half.reversed().mirrored(tip, way);
    if other.end().distance(far) > MISSES || half.start.distance(at) > MISSES {
        return Err(NoCap::Bends);
    }
    let capped = cut.subpath(0.0, from).then(&half).then(&other).then(&cut.subpath(to, cut.length()));
    Ok((capped, [first, second]))
}

fn distance(cut: &Path, from: Point) -> f64 {
    crate::geometry::distance_to(&cut.flatten(super::outline::LOOK), from)
}
