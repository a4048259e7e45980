//! Holes pricked or drilled through a piece keep clear of its seams.

use super::error::PieceError;
use crate::diagnostic::Problems;
use crate::geometry::{FLATTEN, Point, distance_to};
use crate::ir::{Design, Edge, MarkShape, Piece};
use crate::quantity::Length;

/// So much cloth is left between a hole and a stitch line (mm), as a notch leaves it. Common practice, no source.
const CLEAR: f64 = 2.0;

/// Checks every drilled hole against the edges of its piece that are seamed.
pub(super) fn check(design: &Design, problems: &mut Problems) {
    for piece in &design.pieces {
        for mark in &piece.marks {
            let MarkShape::Drill { at, diameter } = mark.shape else { continue };
            let Some((edge, off)) = nearest(piece, at) else { continue };
            let between = off - diameter.as_mm() / 2.0;
            if between < CLEAR - FLATTEN {
                problems.push(PieceError::DrillNearSeam {
                    drill: mark.name.clone(),
                    piece: piece.name.clone(),
                    edge: edge.name.clone(),
                    between: Length::mm(between.max(0.0)),
                    clear: Length::mm(CLEAR),
                    at: mark.origin,
                    edge_at: edge.origin,
                });
            }
        }
    }
}

/// The nearest edge with an allowance that no hem folds over, and how far off it is.
fn nearest(piece: &Piece, at: Point) -> Option<(&Edge, f64)> {
    let hemmed = |e: &Edge| e.finish.as_ref().is_some_and(|f| !f.folds.is_empty());
    let seamed = piece.edges.iter().filter(|e| e.allowance.as_mm() > 0.0 && e.raw_because.is_none() && !hemmed(e));
    seamed.map(|e| (e, distance_to(&e.path.flatten(FLATTEN), at))).min_by(|a, b| a.1.total_cmp(&b.1))
}
