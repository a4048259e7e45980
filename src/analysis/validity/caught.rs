//! Whether what is to be caught in a seam or a hem is: that there is one, and that it takes enough.

use super::edges::Sewn;
use super::error::{CaughtError, Instead};
use super::naming::{attachment as named, edge as edge_name, shared};
use super::places::{OnEdge, on_edges};
use crate::diagnostic::Problems;
use crate::geometry::crossing_between;
use crate::ir::{Attachment, Design, Edge, OperationKind, Place, Pointing, Side, Symbol};
use crate::quantity::Length;
use std::collections::BTreeSet;

/// Measures closer than this are the same to who sews, mm.
const SAME: f64 = 0.5;

/// Curves are followed this closely (mm) to see what reaches across them.
const FLAT: f64 = 0.5;

/// The least that a seam should catch of a loop or tab, mm. Trade habit says 8 to 10; half a millimetre is left for inch tapes.
const HOLDS: f64 = 7.5;

/// Checks everything that says how much of it must be caught.
pub(super) fn check(design: &Design, sewn: &[Sewn], problems: &mut Problems) {
    let all = on_edges(design);
    let (mut told, mut across) = (BTreeSet::new(), BTreeSet::new());
    for one in all.iter().filter(|o| o.attachment.catches.as_mm() > 0.0) {
        if let Some(found) = reaches_across(design, sewn, one)
            && across.insert((&one.attachment.name, one.attachment.piece, one.attachment.copy, one.id))
        {
            problems.push(found);
        }
        let found = match (in_a_seam(design, sewn, &all, one), hem_width(one.edge)) {
            (true, _) => depth(design, one),
            // A piece that a component brings is worked by its own steps, which say what they sew.
            (false, _) if design.piece(one.attachment.piece).is_some_and(|p| p.name.contains('.')) => depth(design, one),
            (false, Some(width)) => in_hem(design, one, width),
            (false, None) if is_sewn_on(design, one.attachment) => depth(design, one),
            (false, None) => Some(CaughtError::NoSeam {
                what: named(one.attachment),
                edge: one.edge_name(design),
                instead: instead(design, one.attachment),
                at: one.attachment.origin,
                edge_at: one.edge.origin,
            }),
        };
        // Several places of one line on one edge are wrong in the same way, and so are the two halves of a pair.
        let edge = one.attachment.pair.is_none().then_some((one.attachment.piece, one.attachment.copy, one.id));
        let line = (&one.attachment.name, edge);
        if let Some(found) = found
            && told.insert(line)
        {
            problems.push(found);
        }
    }
}

/// What points into its piece and reaches across a seam on the far side, which would catch it as well.
fn reaches_across(design: &Design, sewn: &[Sewn], one: &OnEdge) -> Option<CaughtError> {
    let attachment = one.attachment;
    let Place::Edge { stretch: false, .. } = attachment.place else { return None };
    let piece = design.piece(attachment.piece).filter(|_| attachment.points == Pointing::In && attachment.pair.is_none())?;
    let reach = attachment.depth.as_mm();
    let across = [one.stretch.0, one.stretch.1].map(|at| {
        let (foot, along) = one.edge.path.stand_at(at);
        [foot, foot + along.left() * reach]
    });
    let copy = |c: Option<u32>| c == attachment.copy || c.is_none() || attachment.copy.is_none();
    let others = sewn.iter().filter(|s| s.piece == attachment.piece && copy(s.copy) && s.edge != one.id);
    let hit = others.filter_map(|s| {
        let edge = piece.edges.get(s.edge.index())?;
        let seam = edge.path.subpath(s.stretch.0, s.stretch.1).flatten(FLAT);
        let there = across.iter().filter_map(|line| Some(line[0].distance(crossing_between(line, &seam)?.at)));
        Some((there.reduce(f64::min)?, s))
    });
    let (distance, far) = hit.filter(|(d, _)| *d > SAME).min_by(|a, b| a.0.total_cmp(&b.0))?;
    Some(CaughtError::Twice {
        what: named(attachment),
        reach: attachment.depth,
        edge: edge_name(design, far.piece, attachment.copy, far.edge),
        distance: Length::mm(distance),
        at: attachment.origin,
        seam_at: design.seams.get(far.seam).map(|s| s.origin)?,
    })
}

/// Whether a component says how it is sewn to its edge.
fn is_sewn_on(design: &Design, attachment: &Attachment) -> bool {
    design.operations.iter().any(|o| o.kind == OperationKind::SewOn && o.name == attachment.name)
}

/// How wide an edge's hem is, if it has one.
fn hem_width(edge: &Edge) -> Option<Length> {
    let finish = edge.finish.as_ref().filter(|f| !f.folds.is_empty())?;
    let last = finish.folds.iter().copied().max_by(|a, b| a.as_mm().total_cmp(&b.as_mm()))?;
    Some(if last.as_mm() > 0.0 { last } else { edge.allowance })
}

/// Whether a seam runs where a thing lies, or another thing is sewn on over it, as a loop beside a zipper is.
fn in_a_seam(design: &Design, sewn: &[Sewn], all: &[OnEdge], one: &OnEdge) -> bool {
    let (piece, copy) = (one.attachment.piece, one.attachment.copy);
    let mine = |p, c: Option<u32>, e| p == piece && e == one.id && (c == copy || c.is_none() || copy.is_none());
    let seams = sewn.iter().filter(|s| mine(s.piece, s.copy, s.edge)).map(|s| s.stretch);
    let whole = (0.0, one.edge.length.as_mm());
    let applied = design.applied.iter().filter(|a| a.piece == piece && a.edges.contains(&one.id)).map(|_| whole);
    let sets = |o: &&OnEdge| o.attachment.name != one.attachment.name && o.attachment.catches.as_mm() > 0.0;
    let over = all.iter().filter(|o| mine(o.attachment.piece, o.attachment.copy, o.id)).filter(sets);
    let over = over.filter(|o| is_sewn_on(design, o.attachment)).map(|o| o.stretch);
    let taken: f64 = seams.chain(applied).chain(over).map(|s| shared(s, one.stretch)).sum();
    taken + SAME >= (one.stretch.1 - one.stretch.0) / 2.0 && taken > 0.0
}

/// What a hem can't hold: what lies on the face and points in, which the hem folds away from, and what reaches past it.
fn in_hem(design: &Design, one: &OnEdge, width: Length) -> Option<CaughtError> {
    let (attachment, finish) = (one.attachment, one.edge.finish.as_ref()?);
    let (what, edge, at) = (named(attachment), one.edge_name(design), attachment.origin);
    if attachment.pair.is_some() || attachment.points == Pointing::In && attachment.side != Side::Back {
        let (finish, finish_at) = (finish.name.clone(), finish.origin);
        return Some(CaughtError::OnHem { what, edge, finish, instead: instead(design, attachment), at, finish_at });
    }
    let catches = attachment.catches;
    (catches.as_mm() > width.as_mm() + SAME).then_some(CaughtError::PastHem { what, edge, width, catches, at, hem_at: finish.origin })
}

fn depth(design: &Design, one: &OnEdge) -> Option<CaughtError> {
    let (catches, allowance) = (one.attachment.catches, one.edge.allowance);
    let (what, edge) = (named(one.attachment), one.edge_name(design));
    let (at, edge_at) = (one.attachment.origin, one.edge.origin);
    if catches.as_mm() > allowance.as_mm() + SAME {
        Some(CaughtError::TooShallow { what, edge, allowance, catches, at, edge_at })
    } else if one.attachment.symbol == Symbol::Bar && allowance.as_mm() < HOLDS {
        Some(CaughtError::Shallow { what, edge, allowance, least: Length::mm(8.0), at, edge_at })
    } else {
        None
    }
}

/// What does the work of a thing where no seam catches it.
fn instead(design: &Design, attachment: &Attachment) -> Instead {
    let strip = format!("{}.", attachment.name);
    if attachment.pair.is_some() {
        Instead::Fastener
    } else if design.pieces.iter().any(|p| p.name.starts_with(&strip)) && matches!(attachment.place, Place::Edge { stretch: true, .. }) {
        Instead::Casing
    } else {
        Instead::Loop
    }
}
