//! Pieces sewn on the face of others.

use super::error::{AllowanceError, PieceError};
use super::naming::owner;
use crate::diagnostic::Problems;
use crate::geometry::{FLATTEN, Point, Vector, distance_to, encloses};
use crate::ir::{Applied, Design, Piece};
use crate::quantity::Length;

/// Overhang that a fold or a line of stitching takes up, mm.
const HANGS: f64 = 1.0;

/// Checks every piece sewn on.
pub(super) fn check(design: &Design, problems: &mut Problems) {
    for applied in &design.applied {
        let (Some(piece), Some(onto)) = (design.piece(applied.piece), design.piece(applied.onto)) else { continue };
        finish(applied, piece, problems);
        let past = overhang(applied, piece, onto);
        if past > HANGS {
            problems.push(PieceError::PatchPastEdge {
                patch: piece.name.clone(),
                onto: owner(design, applied.onto, applied.onto_copy),
                past: Length::mm(past),
                at: applied.origin,
            });
        }
    }
}

fn finish(applied: &Applied, piece: &Piece, problems: &mut Problems) {
    let edges = applied.edges.iter().filter_map(|id| piece.edges.get(id.index()));
    let narrow = edges.filter(|e| e.allowance.as_mm() + Length::SAME.as_mm() < applied.finish.needs.as_mm());
    if let Some(edge) = narrow.min_by(|a, b| a.allowance.as_mm().total_cmp(&b.allowance.as_mm())) {
        problems.push(AllowanceError::TooNarrow {
            finish: applied.finish.name.clone(),
            seam: piece.name.clone(),
            needs: applied.finish.needs,
            edge: format!("{}.{}", piece.name, edge.name),
            allowance: edge.allowance,
            at: applied.finish.origin,
            edge_at: edge.origin,
        });
    }
}

/// How far the patch's finished outline hangs over, at its worst; its corners and middles of edges are looked at.
fn overhang(applied: &Applied, piece: &Piece, onto: &Piece) -> f64 {
    let outline: Vec<Point> = onto.edges.iter().flat_map(|e| e.path.flatten(FLATTEN)).collect();
    let moved = applied.at - Point::default();
    let places = piece.edges.iter().flat_map(|e| [e.path.start, e.path.point_at(e.path.length() / 2.0)]);
    let hangs = |p: Point| {
        let p: Point = p + Vector::new(moved.x, moved.y);
        if encloses(&outline, p) { 0.0 } else { distance_to(&outline, p) }
    };
    places.map(hangs).filter(|d| d.is_finite()).fold(0.0, f64::max)
}
