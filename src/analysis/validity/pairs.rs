//! Halves that must meet.

use super::error::PairError;
use super::naming::{edge as edge_name, shared};
use crate::diagnostic::Problems;
use crate::ir::Lay;
use crate::ir::{Attachment, Design, Edge, EdgeId, EdgeSide, MaterialKind, Place, SeamForm, Side, Symbol};
use crate::quantity::Length;

/// Halves may lie so far off level (mm): what pinning takes up.
const LEVEL: f64 = 2.0;

/// Halves that share less of a stretch than this lie apart, mm.
const TOUCHING: f64 = 0.5;

/// One half on its edge.
struct Half<'d> {
    attachment: &'d Attachment,
    edge: &'d Edge,
    id: EdgeId,
    stretch: (f64, f64),
    distance: Length,
    end: &'d str,
}

/// Checks every pair once, from its first half.
pub(super) fn check(design: &Design, lays: &[Lay], problems: &mut Problems) {
    for first in &design.attachments {
        let Some(pair) = first.pair.as_ref().filter(|p| p.first) else { continue };
        let Some(second) = design.attachments.get(pair.with.index()) else { continue };
        sides(design, first, second, problems);
        let (Some(a), Some(b)) = (half(design, first), half(design, second)) else { continue };
        if a.attachment.piece == b.attachment.piece && a.attachment.copy == b.attachment.copy && a.id == b.id {
            if shared(a.stretch, b.stretch) > TOUCHING {
                problems.push(PairError::OneEdge { what: named(first), edge: name(design, &a), at: first.origin });
            }
            continue;
        }
        if one_seam(design, lays, &a, &b, problems) || apart(design, lays, &a, &b, problems) {
            continue;
        }
        measures(design, &a, &b, problems);
    }
}

fn named(attachment: &Attachment) -> String {
    format!("`{}`", attachment.name)
}

fn name(design: &Design, half: &Half) -> String {
    edge_name(design, half.attachment.piece, half.attachment.copy, half.id)
}

fn half<'d>(design: &'d Design, attachment: &'d Attachment) -> Option<Half<'d>> {
    let Place::Edge { edge: id, from, to, distance, from_end, .. } = &attachment.place else { return None };
    let edge = design.edge(attachment.piece, *id)?;
    Some(Half { attachment, edge, id: *id, stretch: (from.as_mm(), to.as_mm()), distance: *distance, end: from_end })
}

fn sides(design: &Design, first: &Attachment, second: &Attachment, problems: &mut Problems) {
    let uses = |kind| first.uses.iter().filter_map(|u| design.material(u.material)).any(|m| m.kind == kind);
    match (first.side, second.side) {
        (Side::Face, Side::Back) | (Side::Back, Side::Face) if uses(MaterialKind::Zipper) => {
            problems.push(PairError::Twisted { what: named(first), at: first.origin });
        }
        // A ring marks a fastener set in the cloth itself; on a tab its side says nothing.
        (Side::Face, Side::Face) if first.symbol == Symbol::Ring => {
            problems.push(PairError::SnapsAlike { what: named(first), side: "face", at: first.origin });
        }
        (Side::Back, Side::Back) if first.symbol == Symbol::Ring => {
            problems.push(PairError::SnapsAlike { what: named(first), side: "back", at: first.origin });
        }
        _ => {}
    }
}

fn measures(design: &Design, a: &Half, b: &Half, problems: &mut Problems) {
    let (first, second) = (Length::mm(a.stretch.1 - a.stretch.0), Length::mm(b.stretch.1 - b.stretch.0));
    let edges = [name(design, a), name(design, b)];
    let at = a.attachment.origin;
    if !first.is_same(second) {
        let edges_at = [a.edge.origin, b.edge.origin];
        problems.push(PairError::LengthsDiffer { what: named(a.attachment), edges, lengths: [first, second], at, edges_at });
        return;
    }
    // Measured from ends of one name, the figures are what must agree; otherwise any two ends may be those that meet.
    let off = |a: f64, b: f64| (a - b).abs();
    let far = |h: &Half| h.edge.length.as_mm() - h.distance.as_mm() - (h.stretch.1 - h.stretch.0) * if is_stretch(h) { 1.0 } else { 0.0 };
    let level = off(a.distance.as_mm(), b.distance.as_mm()) <= LEVEL
        || a.end != b.end && (off(a.distance.as_mm(), far(b)) <= LEVEL || off(far(a), b.distance.as_mm()) <= LEVEL);
    if !level {
        problems.push(PairError::NotLevel {
            what: named(a.attachment),
            edges,
            ends: [a.end.to_owned(), b.end.to_owned()],
            distances: [a.distance, b.distance],
            at,
        });
    }
}

const fn is_stretch(half: &Half) -> bool {
    matches!(half.attachment.place, Place::Edge { stretch: true, .. })
}

/// Whether one seam sews both halves to each other, and says so.
fn one_seam(design: &Design, lays: &[Lay], a: &Half, b: &Half, problems: &mut Problems) -> bool {
    if a.attachment.catches.as_mm() <= 0.0 || b.attachment.catches.as_mm() <= 0.0 {
        return false;
    }
    let stacked = lays.iter().find(|lay| {
        let layer = |h: &Half| lay.layer_of(h.attachment.piece, h.attachment.copy);
        let (Some((at, one)), Some((_, other))) = (layer(a), layer(b)) else { return false };
        let mate = lay.mate(one, a.id, other).filter(|m| m.edge == b.id);
        mate.is_some_and(|m| lay.sews(at, a.id) && shared(a.stretch, facing(b, m.reversed)) > TOUCHING)
    });
    let joined = || {
        design.seams.iter().find(|seam| match &seam.form {
            SeamForm::Stack(_) => false,
            SeamForm::Join(join) => {
                let has = |sides: &[EdgeSide], h: &Half| sides.iter().any(|s| is_on(s, h));
                has(&join.first, a) && has(&join.second, b) || has(&join.first, b) && has(&join.second, a)
            }
        })
    };
    let Some(seam) = stacked.map(|lay| lay.seam).or_else(joined) else { return false };
    problems.push(PairError::OneSeam {
        what: named(a.attachment),
        edges: [name(design, a), name(design, b)],
        seam: seam.name.clone(),
        at: a.attachment.origin,
        seam_at: seam.origin,
    });
    true
}

/// Both halves caught in one stack, on two layers whose edges do not lie on each other.
fn apart(design: &Design, lays: &[Lay], a: &Half, b: &Half, problems: &mut Problems) -> bool {
    if a.attachment.catches.as_mm() <= 0.0 || b.attachment.catches.as_mm() <= 0.0 {
        return false;
    }
    for lay in lays {
        let layer = |h: &Half| lay.layer_of(h.attachment.piece, h.attachment.copy);
        let (Some((at, one)), Some((to, other))) = (layer(a), layer(b)) else { continue };
        let Some(mate) = lay.mate(one, a.id, other).filter(|m| m.edge != b.id) else { continue };
        if at == to || !lay.sews(at, a.id) || !lay.sews(to, b.id) {
            continue;
        }
        problems.push(PairError::Apart {
            what: named(a.attachment),
            edges: [name(design, a), name(design, b)],
            mate: edge_name(design, b.attachment.piece, b.attachment.copy, mate.edge),
            seam: lay.seam.name.clone(),
            two: lay.stack.layers.len() == 2,
            at: a.attachment.origin,
            seam_at: lay.seam.origin,
        });
        return true;
    }
    false
}

fn facing(half: &Half, reversed: bool) -> (f64, f64) {
    let length = half.edge.length.as_mm();
    if reversed { (length - half.stretch.1, length - half.stretch.0) } else { half.stretch }
}

fn is_on(side: &EdgeSide, half: &Half) -> bool {
    side.line.is_none()
        && side.piece == half.attachment.piece
        && side.copy == half.attachment.copy
        && side.edge == half.id
        && shared((side.from.as_mm(), side.to.as_mm()), half.stretch) > TOUCHING
}
