//! Cords that run in a casing: that their edge has one, that it is wide enough, that they come out of it; and casings without a cord.

use super::edges::Sewn;
use super::error::CasingError;
use super::naming::{attachment as named, edge as edge_name, shared};
use super::places::{OnEdge, on_edges};
use crate::diagnostic::Problems;
use crate::geometry::Point;
use crate::ir::{Attachment, Design, EdgeId, MarkShape, MaterialKind, Piece, PieceId, Place};
use crate::quantity::Length;
use crate::source::Span;
use std::f64::consts::PI;

/// Room for a cord to slide, beside the half of its own girth that it flattens a casing to, mm. Trade habit.
const TO_SLIDE: f64 = 3.0;

/// Measures closer than this are the same to who sews, mm.
const SAME: f64 = 0.5;

/// A seam that ends so near (mm) to a casing shuts it.
const SHUTS: f64 = 3.0;

/// What is set so far (mm) inside a casing still opens it.
const BESIDE: f64 = 10.0;

/// Checks everything that needs a casing, and every casing.
pub(super) fn check(design: &Design, sewn: &[Sewn], problems: &mut Problems) {
    let all = on_edges(design);
    for one in all.iter().filter(|o| o.attachment.needs_casing) {
        let (what, edge, at, edge_at) = (named(one.attachment), one.edge_name(design), one.attachment.origin, one.edge.origin);
        match (casing(design, &all, one), narrowest(design, one)) {
            (None, _) => problems.push(CasingError::None { what, edge, at, edge_at }),
            (Some((width, casing_at)), Some(needs)) if width.as_mm() + SAME < needs.as_mm() => {
                problems.push(CasingError::Narrow { what, edge, width, needs, at, casing_at });
            }
            _ => {}
        }
    }
    for one in all.iter().filter(|o| o.attachment.needs_casing && o.attachment.one_with.is_none()) {
        shut_in(design, &all, one, sewn, problems);
    }
    without_cord(design, problems);
}

/// Where goods stand: at the first of a row of edges along which one thing lies.
fn first_of<'d>(design: &'d Design, attachment: &'d Attachment) -> &'d Attachment {
    attachment.one_with.and_then(|id| design.attachments.get(id.index())).unwrap_or(attachment)
}

fn uses_cord(design: &Design, attachment: &Attachment) -> bool {
    let uses = &first_of(design, attachment).uses;
    uses.iter().any(|u| design.material(u.material).is_some_and(|m| m.kind == MaterialKind::Cord))
}

/// Reports a cord whose casing is sewn shut at every end, and has no hole.
fn shut_in(design: &Design, all: &[OnEdge], one: &OnEdge, sewn: &[Sewn], problems: &mut Problems) {
    let in_row = |o: &&OnEdge| o.attachment.name == one.attachment.name && o.attachment.one_with.is_some();
    let row: Vec<&OnEdge> = [one].into_iter().chain(all.iter().filter(in_row)).collect();
    let mut seams: Vec<usize> = Vec::new();
    for run in &row {
        let (Some(piece), Some((width, _))) = (design.piece(run.attachment.piece), casing(design, all, run)) else { return };
        if has_hole(design, piece, run, width.as_mm() + BESIDE) {
            return;
        }
        let [Some(start), Some(end)] = shut_ends(piece, run, sewn) else { return };
        seams.extend([start, end].into_iter().filter(|s| !seams.contains(s)).collect::<Vec<_>>());
    }
    if uses_cord(design, one.attachment) {
        let edges = row.iter().map(|r| r.edge_name(design)).collect();
        seams.sort_unstable();
        seams.dedup();
        let seams = seams.iter().filter_map(|s| design.seams.get(*s)).map(|s| (s.name.clone(), s.origin)).collect();
        problems.push(CasingError::ShutIn { what: named(one.attachment), edges, seams, at: one.attachment.origin });
    }
}

/// The seams that are sewn up to either end of a casing, where it reaches the ends of its edge.
fn shut_ends(piece: &Piece, run: &OnEdge, sewn: &[Sewn]) -> [Option<usize>; 2] {
    let (count, at) = (piece.edges.len(), run.id.index());
    let (from, to) = run.stretch;
    let length = |edge: usize| piece.edges.get(edge).map_or(0.0, |e| e.length.as_mm());
    let shuts = |beside: usize, reaches: bool, corner: f64| {
        let up_to = |s: &&Sewn| s.stretch.0 <= corner + SHUTS && s.stretch.1 >= corner - SHUTS;
        let key = (run.attachment.piece, run.attachment.copy, EdgeId::at(beside));
        let found = sewn.iter().filter(|s| s.key() == key).find(up_to);
        found.filter(|_| count > 1 && reaches).map(|s| s.seam)
    };
    let before = (at + count.saturating_sub(1)) % count.max(1);
    [shuts(before, from <= SHUTS, length(before)), shuts((at + 1) % count.max(1), to >= length(at) - SHUTS, 0.0)]
}

/// Whether a hole is cut, drilled or set in a casing so deep.
fn has_hole(design: &Design, piece: &Piece, run: &OnEdge, depth: f64) -> bool {
    let near = |p: Point| run.edge.path.nearest(p).is_some_and(|n| n.distance <= depth);
    let drilled = piece.marks.iter().any(|m| matches!(m.shape, MarkShape::Drill { at, .. } if near(at)));
    let cut = piece.holes.iter().any(|h| near(h.path.start) || near(h.path.point_at(h.path.length() / 2.0)));
    // What no seam catches is set through the cloth, on the face or at a place of the edge.
    let (first, last) = run.stretch;
    let within = |at: Length| at.as_mm() >= first - SAME && at.as_mm() <= last + SAME;
    let set = |a: &Attachment| match a.place {
        Place::Point { at, .. } => near(at),
        Place::Edge { edge, from, to, stretch: false, .. } => edge == run.id && a.catches.as_mm() <= 0.0 && within(from) && within(to),
        _ => false,
    };
    let owner = (run.attachment.piece, run.attachment.copy);
    drilled || cut || design.attachments.iter().any(|a| (a.piece, a.copy) == owner && set(a))
}

/// Reports edges that are hemmed as a casing for a cord, and along which none runs.
fn without_cord(design: &Design, problems: &mut Problems) {
    for (index, piece) in design.pieces.iter().enumerate().filter(|(_, p)| !p.name.contains('.')) {
        let id = PieceId::at(index);
        let copies: Vec<Option<u32>> = if piece.copies.len() > 1 { (0..).map(Some).take(piece.copies.len()).collect() } else { vec![None] };
        for (edge_id, edge) in piece.edges.iter().enumerate().map(|(i, e)| (EdgeId::at(i), e)) {
            let Some((cord, at)) = edge.finish.as_ref().and_then(|f| Some((f.casing_for.clone()?, f.origin))) else { continue };
            let threaded = |copy: Option<u32>| {
                let runs =
                    |a: &&Attachment| matches!(a.place, Place::Edge { edge, .. } if edge == edge_id) && (a.piece, a.copy) == (id, copy);
                design.attachments.iter().filter(runs).any(|a| a.needs_casing || uses_cord(design, a))
            };
            let empty: Vec<Option<u32>> = copies.iter().copied().filter(|c| !threaded(*c)).collect();
            // Empty on every copy, it is told once, by the piece's name.
            let told = if empty.len() == copies.len() { vec![None] } else { empty };
            for copy in told {
                problems.push(CasingError::Empty { edge: edge_name(design, id, copy, edge_id), cord: cord.clone(), at });
            }
        }
    }
}

/// How wide a casing must lie flat for the cord that a thing uses.
fn narrowest(design: &Design, one: &OnEdge) -> Option<Length> {
    let cords =
        first_of(design, one.attachment).uses.iter().filter_map(|u| design.material(u.material)).filter(|m| m.kind == MaterialKind::Cord);
    let across = cords.filter_map(|m| m.thickness).map(Length::as_mm).reduce(f64::max)?;
    Some(Length::mm(PI * across / 2.0 + TO_SLIDE))
}

/// The casing that an edge has, how wide and where it is asked for: its hem up to the stitching, or a strip of cloth along it.
fn casing(design: &Design, all: &[OnEdge], one: &OnEdge) -> Option<(Length, Span)> {
    let hem = one.edge.finish.as_ref().filter(|f| f.folds.iter().any(|fold| fold.as_mm() > 0.0));
    if let Some(hem) = hem {
        return Some((hem.stitch_at, hem.origin));
    }
    let (a, key) = (one.attachment, |o: &OnEdge| (o.attachment.piece, o.attachment.copy, o.id));
    let strips = all.iter().filter(|o| key(o) == key(one) && o.attachment.name != a.name && shared(o.stretch, one.stretch) > 0.0);
    let strip = strips.into_iter().find(|o| {
        let brings = format!("{}.", o.attachment.name);
        o.attachment.depth.as_mm() > 0.0 && design.pieces.iter().any(|p| p.name.starts_with(&brings))
    })?;
    Some((strip.attachment.depth, strip.attachment.origin))
}
