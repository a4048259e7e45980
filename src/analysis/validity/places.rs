//! Where attachments lie on their edges.

use super::error::{CaughtError, PlaceError, Taken};
use super::naming::{attachment as named, edge as edge_name, from_end, shared};
use crate::diagnostic::Problems;
use crate::ir::Lay;
use crate::ir::{Attachment, Design, Edge, EdgeId, MaterialKind, NotchReason, Opening, PieceId, Place, SeamForm};
use crate::quantity::Length;

/// Stretches that share less than this lie side by side, mm.
const TOUCHING: f64 = 0.5;

/// A notch this near to the end of what lies over it can still be seen, mm.
const NOTCH_SHOWS: f64 = 1.0;

/// An attachment on an edge, with what it takes.
pub(super) struct OnEdge<'d> {
    pub(super) attachment: &'d Attachment,
    pub(super) edge: &'d Edge,
    pub(super) id: EdgeId,
    pub(super) stretch: (f64, f64),
}

/// Checks each attachment against its edge, its neighbours, notches and openings.
pub(super) fn check(design: &Design, lays: &[Lay], problems: &mut Problems) {
    let all = on_edges(design);
    for one in &all {
        past_end(design, one, problems);
        notches(design, one, problems);
        cord(design, one, problems);
    }
    collisions(design, &all, problems);
    for lay in lays {
        if let Some(opening) = &lay.stack.opening {
            for one in &all {
                in_opening(design, lay, opening, one, problems);
            }
        }
    }
    for seam in &design.seams {
        let (SeamForm::Join(_), Some(opening)) = (&seam.form, seam.form.opening()) else { continue };
        let side = &opening.side;
        for one in all.iter().filter(|o| (o.attachment.piece, o.attachment.copy, o.id) == (side.piece, side.copy, side.edge)) {
            lies_in(design, &seam.name, opening, one, (side.from.as_mm(), side.to.as_mm()), problems);
        }
    }
}

/// Every attachment that lies on an edge.
pub(super) fn on_edges(design: &Design) -> Vec<OnEdge<'_>> {
    design.attachments.iter().filter_map(|a| on_edge(design, a)).collect()
}

fn on_edge<'d>(design: &'d Design, attachment: &'d Attachment) -> Option<OnEdge<'d>> {
    let Place::Edge { edge: id, from, to, .. } = &attachment.place else { return None };
    let edge = design.edge(attachment.piece, *id)?;
    Some(OnEdge { attachment, edge, id: *id, stretch: (from.as_mm(), to.as_mm()) })
}

impl OnEdge<'_> {
    fn may_cross(&self, what: &str) -> bool {
        self.attachment.may_cross.iter().any(|c| c == what)
    }

    pub(super) fn edge_name(&self, design: &Design) -> String {
        edge_name(design, self.attachment.piece, self.attachment.copy, self.id)
    }

    /// The end its maker measures from, or the edge's start where that is the end of a part.
    fn end(&self) -> &str {
        match &self.attachment.place {
            Place::Edge { from_end, .. } if *from_end == self.edge.end_neighbour => from_end,
            _ => &self.edge.start_neighbour,
        }
    }

    fn taken(&self, end: &str) -> Taken {
        Taken { what: named(self.attachment), stretch: from_end(self.edge, end, self.stretch), at: self.attachment.origin }
    }
}

fn past_end(design: &Design, one: &OnEdge, problems: &mut Problems) {
    if one.may_cross("corner") {
        return;
    }
    let before = -one.stretch.0;
    let behind = one.stretch.1 - one.edge.length.as_mm();
    for (past, end) in [(before, &one.edge.start_neighbour), (behind, &one.edge.end_neighbour)] {
        if past > TOUCHING {
            problems.push(PlaceError::PastEnd {
                what: named(one.attachment),
                edge: one.edge_name(design),
                past: Length::mm(past),
                end: end.clone(),
                length: one.edge.length,
                at: one.attachment.origin,
                edge_at: one.edge.origin,
            });
        }
    }
}

fn notches(design: &Design, one: &OnEdge, problems: &mut Problems) {
    let Place::Edge { stretch: false, .. } = one.attachment.place else { return };
    let Some(piece) = design.piece(one.attachment.piece).filter(|_| !one.may_cross("notch")) else { return };
    for notch in piece.notches.iter().filter(|n| n.edge == one.id && n.reason == NotchReason::Asked) {
        let at = notch.at.as_mm();
        if at > one.stretch.0 + NOTCH_SHOWS && at < one.stretch.1 - NOTCH_SHOWS {
            problems.push(PlaceError::AcrossNotch {
                what: named(one.attachment),
                edge: one.edge_name(design),
                notch: from_end(one.edge, one.end(), (at, at)).0,
                end: one.end().to_owned(),
                at: one.attachment.origin,
                notch_at: notch.origin,
            });
        }
    }
}

/// Words in the names of edges that lie at a neck whatever the piece.
const NECK: &[&str] = &["neck", "hood", "collar", "throat", "chin"];

fn cord(design: &Design, one: &OnEdge, problems: &mut Problems) {
    let cord = one.attachment.uses.iter().filter_map(|u| design.material(u.material)).find(|m| m.kind == MaterialKind::Cord);
    let Some(cord) = cord else { return };
    let mut words = one.edge.name.split('_');
    // A head is near a neck on what is slept in, and only the top on a sack or a tarp.
    let near = words.clone().any(|w| NECK.contains(&w)) || words.any(|w| w == "head") && lies_on_batting(design, one.attachment.piece);
    if near {
        problems.push(CaughtError::CordNearNeck {
            what: named(one.attachment),
            edge: one.edge_name(design),
            cord: cord.name.clone(),
            at: one.attachment.origin,
        });
    }
}

/// Whether a piece is sewn into a stack, or quilted, with batting.
fn lies_on_batting(design: &Design, piece: PieceId) -> bool {
    let batting = |p: PieceId| design.piece(p).and_then(|p| design.material(p.material)).is_some_and(|m| m.kind == MaterialKind::Batting);
    let stacked = design.seams.iter().any(|s| match &s.form {
        SeamForm::Stack(stack) => stack.layers.iter().any(|l| l.piece == piece) && stack.layers.iter().any(|l| batting(l.piece)),
        SeamForm::Join(_) => false,
    });
    stacked || design.quilting.iter().any(|q| q.layers.iter().any(|l| l.0 == piece) && q.layers.iter().any(|l| batting(l.0)))
}

fn collisions(design: &Design, all: &[OnEdge], problems: &mut Problems) {
    // Sorted by edge and place, only neighbours that reach each other need to be looked at.
    let key = |o: &OnEdge| (o.attachment.piece, o.attachment.copy, o.id);
    let mut sorted: Vec<&OnEdge> = all.iter().filter(|o| o.stretch.1 > o.stretch.0 && takes_room(o.attachment)).collect();
    sorted.sort_by(|a, b| key(a).cmp(&key(b)).then(a.stretch.0.total_cmp(&b.stretch.0)));
    for (i, first) in sorted.iter().enumerate() {
        let rest = sorted.iter().skip(i + 1);
        for second in rest.take_while(|o| key(o) == key(first) && o.stretch.0 < first.stretch.1) {
            collide(design, first, second, problems);
        }
    }
}

/// A cord threaded through a casing that is there already takes none of its edge.
fn takes_room(attachment: &Attachment) -> bool {
    attachment.depth.as_mm() > 0.0 || attachment.catches.as_mm() > 0.0
}

fn collide(design: &Design, first: &OnEdge, second: &OnEdge, problems: &mut Problems) {
    let overlap = shared(first.stretch, second.stretch);
    let halves = first.attachment.pair.is_some()
        && first.attachment.name == second.attachment.name
        && first.attachment.number == second.attachment.number;
    if overlap <= TOUCHING || halves || first.may_cross("attachment") || second.may_cross("attachment") {
        return;
    }
    // Told in source order, then from the end they are measured from.
    let end = first.end().to_owned();
    let rank = |o: &OnEdge| (o.attachment.origin, o.attachment.number);
    let (first, second) = if rank(second) < rank(first) { (second, first) } else { (first, second) };
    problems.push(PlaceError::Collide {
        first: first.taken(&end),
        second: second.taken(&end),
        edge: first.edge_name(design),
        overlap: Length::mm(overlap),
        end,
    });
}

fn in_opening(design: &Design, lay: &Lay, opening: &Opening, one: &OnEdge, problems: &mut Problems) {
    let side = &opening.side;
    let (Some((at, open)), Some((_, mine))) =
        (lay.layer_of(side.piece, side.copy), lay.layer_of(one.attachment.piece, one.attachment.copy))
    else {
        return;
    };
    let Some(mate) = lay.mate(open, side.edge, mine).filter(|m| m.edge == one.id && lay.sews(at, side.edge)) else { return };
    let (from, to) = (side.from.as_mm(), side.to.as_mm());
    let length = one.edge.length.as_mm();
    let gap = if mate.reversed { (length - to, length - from) } else { (from, to) };
    lies_in(design, &lay.seam.name, opening, one, gap, problems);
}

/// Reports what lies where an opening keeps its edge open.
fn lies_in(design: &Design, seam: &str, opening: &Opening, one: &OnEdge, gap: (f64, f64), problems: &mut Problems) {
    let overlap = shared(gap, one.stretch);
    if overlap <= TOUCHING || one.may_cross("opening") || one.attachment.catches.as_mm() <= 0.0 {
        return;
    }
    problems.push(PlaceError::InOpening {
        what: named(one.attachment),
        edge: one.edge_name(design),
        seam: seam.to_owned(),
        overlap: Length::mm(overlap),
        at: one.attachment.origin,
        opening_at: opening.origin,
    });
}
