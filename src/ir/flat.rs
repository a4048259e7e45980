//! Whether pieces sewn together still lie flat on a table, or make something hollow.

use super::meeting::Stretch;
use super::{Meetings, PieceId, SeamId};
use crate::geometry::{Point, Vector};
use std::collections::BTreeMap;

/// Ends may lie so far apart (mm), and besides by so much of the seam's length, and the cloth still lies flat: ease takes it up.
const SLACK: (f64, f64) = (15.0, 0.02);

/// An edge bent so far that its ends are nearer than this part of its length makes what is sewn to it hollow. A ridge cut to a hanging
/// chain is far straighter.
const STRAIGHT: f64 = 0.85;

/// Where a piece lies on the table, face up: turned, and moved.
#[derive(Clone, Copy)]
struct Lie {
    mirrored: bool,
    turned: Vector,
    moved: Vector,
}

impl Lie {
    fn of(&self, place: Point) -> Point {
        let p = drawn(self.mirrored, place);
        Point::new(p.x * self.turned.x - p.y * self.turned.y, p.x * self.turned.y + p.y * self.turned.x) + self.moved
    }

    /// So that a stretch lies between two places; none where it has no direction.
    fn between(stretch: &Stretch<'_>, [from, to]: [Point; 2]) -> Option<Self> {
        let mirrored = stretch.piece.is_mirrored(stretch.layer.1);
        let [start, end] = stretch.ends.map(|p| drawn(mirrored, p));
        let (own, wanted) = (end - start, to - from);
        if own.length() <= SLACK.0 || wanted.length() <= SLACK.0 {
            return None;
        }
        let (a, b) = (own.unit(), wanted.unit());
        let mut lie = Self { mirrored, turned: Vector::new(a.dot(b), a.cross(b)), moved: Vector::default() };
        lie.moved = from - lie.of(stretch.ends[0]);
        Some(lie)
    }
}

fn drawn(mirrored: bool, p: Point) -> Point {
    if mirrored { Point::new(-p.x, p.y) } else { p }
}

impl Meetings<'_> {
    /// Whether all pieces of these joins can be laid on a table side by side, face up, with every seam shut.
    pub(crate) fn lie_flat(&self, seams: &[SeamId]) -> bool {
        let mut waiting: Vec<[Stretch<'_>; 2]> = seams.iter().flat_map(|s| self.matched(*s)).collect();
        let mut lies: BTreeMap<(PieceId, Option<u32>), Lie> = BTreeMap::new();
        while let Some(index) =
            waiting.iter().position(|pair| pair.iter().any(|s| lies.contains_key(&s.layer))).or(waiting.len().checked_sub(1))
        {
            let [a, b] = waiting.swap_remove(index);
            let slack = SLACK.0 + SLACK.1 * a.length;
            if [&a, &b].iter().all(|s| s.ends[0].distance(s.ends[1]) < STRAIGHT * s.length) {
                return false;
            }
            let (known, other) = if lies.contains_key(&a.layer) { (a, b) } else { (b, a) };
            let lie = *lies.entry(known.layer).or_insert_with(|| Lie {
                mirrored: known.piece.is_mirrored(known.layer.1),
                turned: Vector::new(1.0, 0.0),
                moved: Vector::default(),
            });
            let wanted = known.ends.map(|p| lie.of(p));
            let there = match lies.get(&other.layer) {
                Some(there) => *there,
                None => {
                    let Some(laid) = Lie::between(&other, wanted) else { return false };
                    lies.insert(other.layer, laid);
                    laid
                }
            };
            if other.ends.iter().zip(&wanted).any(|(p, q)| there.of(*p).distance(*q) > slack) {
                return false;
            }
        }
        true
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ir::MaterialKind;
    use crate::ir::sample::Sample;

    fn flat(s: &Sample) -> bool {
        let seams: Vec<SeamId> = (0..s.design.seams.len()).map(SeamId::at).collect();
        Meetings::of(&s.design.pieces, &s.design.seams, &[]).lie_flat(&seams)
    }

    fn sample(names: &[&str]) -> (Sample, Vec<PieceId>) {
        let mut s = Sample::new("x", "X");
        let cloth = s.material("cloth", MaterialKind::Cloth);
        let pieces = names.iter().map(|n| s.rectangle(n, cloth, (300.0, 500.0), 10.0)).collect();
        (s, pieces)
    }

    fn join(s: &mut Sample, (a, one): (PieceId, &str), (b, other): (PieceId, &str)) {
        let (one, other) = (s.side(a, None, one), s.side(b, None, other));
        s.join("seam", one, other);
    }

    #[test]
    fn strips_side_by_side_are_flat_and_a_tube_is_not() {
        let (mut s, p) = sample(&["a", "b"]);
        join(&mut s, (p[0], "right"), (p[1], "left"));
        assert!(flat(&s));
        join(&mut s, (p[1], "right"), (p[0], "left"));
        assert!(!flat(&s));
        let (mut s, p) = sample(&["a"]);
        join(&mut s, (p[0], "left"), (p[0], "right"));
        assert!(!flat(&s));
    }

    #[test]
    fn four_quarters_round_a_middle_are_flat_and_three_are_not() {
        let (mut s, p) = sample(&["north", "east", "south", "west"]);
        for (a, b) in [(0, 1), (2, 3)] {
            join(&mut s, (p[a], "right"), (p[b], "left"));
        }
        join(&mut s, (p[0], "foot"), (p[2], "head"));
        join(&mut s, (p[1], "foot"), (p[3], "head"));
        assert!(flat(&s));
        // Three right angles round one corner are the corner of a box.
        let mut s = Sample::new("x", "X");
        let cloth = s.material("cloth", MaterialKind::Cloth);
        let p: Vec<PieceId> = ["a", "b", "c"].iter().map(|n| s.rectangle(n, cloth, (300.0, 300.0), 10.0)).collect();
        join(&mut s, (p[0], "right"), (p[1], "left"));
        join(&mut s, (p[0], "foot"), (p[2], "head"));
        assert!(flat(&s));
        join(&mut s, (p[1], "foot"), (p[2], "right"));
        assert!(!flat(&s));
    }

    #[test]
    fn mirrored_copies_joined_along_one_edge_are_flat() {
        let (s, _, _) = crate::ir::sample::tarp();
        assert!(flat(&s));
    }
}
