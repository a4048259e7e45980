//! Bags that are sewn shut with their faces inside and no way to turn them.
//!
//! Cloth is closed where every stretch of every edge is sewn to more of the same closed cloth. The largest
//! such set is found by taking away, as long as there are any, pieces with a way out.

use super::error::StackError;
use super::naming::{edge as edge_name, longest_gap, owner};
use crate::diagnostic::Problems;
use crate::ir::Lay;
use crate::ir::{Design, EdgeId, EdgeSide, MaterialKind, OperationKind, PieceId, SeamForm, Subject, Together, laid_on, lines_an_edge};
use std::collections::{BTreeMap, BTreeSet};

/// Less of an edge left open than this is no way through for anything, mm.
const NO_WAY_THROUGH: f64 = 20.0;

/// A piece of cloth.
type Cloth = (PieceId, Option<u32>);

/// A stretch of an edge and the cloth it is sewn to.
struct Sewn {
    edge: EdgeId,
    stretch: (f64, f64),
    to: Vec<Cloth>,
    seam: usize,
}

/// Reports every closed bag that must be turned and has no opening.
pub(super) fn check(design: &Design, lays: &[Lay], problems: &mut Problems) {
    let sewn = all_sewn(design, lays);
    let mut closed: BTreeSet<Cloth> = sewn.keys().copied().collect();
    loop {
        let open: Vec<Cloth> = closed.iter().copied().filter(|c| has_way_out(design, *c, &sewn, &closed)).collect();
        if open.is_empty() {
            break;
        }
        closed.retain(|c| !open.contains(c));
    }
    while let Some(first) = closed.first().copied() {
        let bag = taken_together(first, &sewn, &mut closed);
        check_bag(design, &bag, &sewn, problems);
    }
}

fn is_cloth(design: &Design, piece: PieceId) -> bool {
    design.piece(piece).and_then(|p| design.material(p.material)).is_some_and(|m| m.kind == MaterialKind::Cloth)
}

/// What each piece of cloth is sewn to.
fn all_sewn(design: &Design, lays: &[Lay]) -> BTreeMap<Cloth, Vec<Sewn>> {
    let mut all: BTreeMap<Cloth, Vec<Sewn>> = BTreeMap::new();
    let laid = laid_on(&design.seams);
    for (seam, form) in design.seams.iter().enumerate().filter(|(_, s)| !lines_an_edge(s, &laid)).map(|(i, s)| (i, &s.form)) {
        let SeamForm::Join(join) = form else { continue };
        let cloths = |sides: &[EdgeSide]| sides.iter().map(|s| (s.piece, s.copy)).collect::<Vec<_>>();
        for (one, other) in [(&join.first, &join.second), (&join.second, &join.first)] {
            for side in one.iter().filter(|s| s.line.is_none() && is_cloth(design, s.piece)) {
                let stretch = (side.from.as_mm(), side.to.as_mm());
                all.entry((side.piece, side.copy)).or_default().push(Sewn { edge: side.edge, stretch, to: cloths(other), seam });
            }
        }
    }
    for lay in lays {
        let cloth = |(_, l): &(usize, &crate::ir::Layer)| is_cloth(design, l.piece);
        for (index, layer) in lay.stack.layers.iter().enumerate().filter(cloth) {
            let others = lay.stack.layers.iter().enumerate().filter(cloth).filter(|(i, _)| *i != index);
            let to: Vec<Cloth> = others.map(|(_, l)| (l.piece, l.copy)).collect();
            for edge in lay.sewn(index) {
                let length = design.edge(layer.piece, edge).map_or(0.0, |e| e.length.as_mm());
                let one = Sewn { edge, stretch: (0.0, length), to: to.clone(), seam: lay.index };
                all.entry((layer.piece, layer.copy)).or_default().push(one);
            }
        }
    }
    all
}

/// Whether some of a piece's edge is sewn to nothing of the bag.
fn has_way_out(design: &Design, cloth: Cloth, sewn: &BTreeMap<Cloth, Vec<Sewn>>, closed: &BTreeSet<Cloth>) -> bool {
    let Some(piece) = design.piece(cloth.0) else { return true };
    let shut = |edge: EdgeId| {
        let mine = sewn.get(&cloth).into_iter().flatten();
        mine.filter(move |s| s.edge == edge && s.to.iter().any(|c| closed.contains(c))).map(|s| s.stretch)
    };
    let open = |(i, e): (usize, &crate::ir::Edge)| longest_gap(shut(EdgeId::at(i)).collect(), e.length.as_mm()) > NO_WAY_THROUGH;
    !piece.holes.is_empty() || piece.edges.iter().enumerate().any(open)
}

/// The closed cloth that hangs together with a piece, taken out of the set.
fn taken_together(first: Cloth, sewn: &BTreeMap<Cloth, Vec<Sewn>>, closed: &mut BTreeSet<Cloth>) -> BTreeSet<Cloth> {
    let (mut bag, mut next) = (BTreeSet::new(), vec![first]);
    while let Some(cloth) = next.pop() {
        if closed.remove(&cloth) {
            bag.insert(cloth);
            next.extend(sewn.get(&cloth).into_iter().flatten().flat_map(|s| s.to.iter().copied()));
        }
    }
    bag
}

fn check_bag(design: &Design, bag: &BTreeSet<Cloth>, sewn: &BTreeMap<Cloth, Vec<Sewn>>, problems: &mut Problems) {
    let inside = bag.iter().filter_map(|c| sewn.get(c)).flatten().filter(|s| s.to.iter().any(|c| bag.contains(c)));
    let seams: BTreeSet<usize> = inside.map(|s| s.seam).collect();
    let form = |seam: usize| design.seams.get(seam).map(|s| &s.form);
    let turned = seams.iter().any(|s| form(*s).is_some_and(|f| f.opening().is_some()));
    // A stack sewn round at one go is told by itself, with what ends on the wrong side.
    let told = seams.iter().any(|s| matches!(form(*s), Some(SeamForm::Stack(stack)) if stack.around));
    // So is a fastener whose two halves are sewn into one seam: it was meant to be the way out.
    let zipped = design.attachments.iter().any(|a| {
        let other = a.pair.as_ref().and_then(|p| design.attachments.get(p.with.index()));
        other.is_some_and(|b| (b.piece, b.copy) != (a.piece, a.copy) && [a, b].iter().all(|h| bag.contains(&(h.piece, h.copy))))
    });
    let inside_out: Vec<usize> = seams.iter().copied().filter(|s| form(*s).is_some_and(|f| is_inside_out(design, f))).collect();
    let Some(last) = last_sewn(design, &seams).filter(|_| !turned && !told && !zipped && !inside_out.is_empty()) else { return };
    let Some(seam) = design.seams.get(last) else { return };
    let edge = bag.iter().find_map(|c| {
        let longest = sewn.get(c)?.iter().filter(|s| s.seam == last).max_by(|a, b| length(a).total_cmp(&length(b)))?;
        Some(edge_name(design, c.0, c.1, longest.edge))
    });
    let faces_in = inside_out.iter().find(|s| **s != last).or(inside_out.first());
    problems.push(StackError::SewnShut {
        seam: seam.name.clone(),
        pieces: bag.iter().map(|(piece, copy)| owner(design, *piece, *copy)).collect(),
        edge: edge.unwrap_or_default(),
        at: seam.origin,
        inside_at: faces_in.filter(|s| **s != last).and_then(|s| design.seams.get(*s)).map(|s| s.origin),
    });
}

fn length(sewn: &Sewn) -> f64 {
    sewn.stretch.1 - sewn.stretch.0
}

/// Whether a seam is sewn with the faces inside.
fn is_inside_out(design: &Design, form: &SeamForm) -> bool {
    match form {
        SeamForm::Join(join) => join.together == Together::Faces,
        SeamForm::Stack(stack) => {
            let has_face = |piece| design.piece(piece).and_then(|p| design.material(p.material)).is_some_and(|m| m.one_sided);
            let lies = |layer: Option<&crate::ir::Layer>, up| layer.is_some_and(|l| has_face(l.piece) && l.face_up == Some(up));
            lies(stack.layers.first(), true) || lies(stack.layers.last(), false)
        }
    }
}

/// The seam that none of the others waits for; of several, the last in the source.
fn last_sewn(design: &Design, seams: &BTreeSet<usize>) -> Option<usize> {
    let sewn = |seam: usize| {
        let is_it = |o: &crate::ir::Operation| {
            matches!(o.kind, OperationKind::Join | OperationKind::Stack) && matches!(o.subject, Subject::Seam(id) if id.index() == seam)
        };
        design.operations.iter().position(is_it)
    };
    let acts: BTreeMap<usize, usize> = seams.iter().filter_map(|s| sewn(*s).map(|op| (op, *s))).collect();
    let (mut earlier, mut path): (BTreeSet<usize>, Vec<usize>) = (BTreeSet::new(), acts.keys().copied().collect());
    while let Some(at) = path.pop() {
        for before in design.operations.get(at).into_iter().flat_map(|o| &o.after).map(|a| a.operation) {
            if earlier.insert(before.index()) {
                path.push(before.index());
            }
        }
    }
    acts.iter().filter(|(op, _)| !earlier.contains(op)).map(|(_, seam)| *seam).max().or(seams.last().copied())
}
