//! Bindings: that tape cut straight is not led round a tight curve.

use super::error::PieceError;
use crate::diagnostic::Problems;
use crate::geometry::Side;
use crate::ir::{Design, MaterialKind};
use crate::quantity::Length;

/// What woven tape gives or takes up along its edge, as a share. Common practice, no source.
const GIVES: f64 = 0.04;

/// Reports every edge that is bound with tape and bends too tightly for it.
pub(super) fn check(design: &Design, problems: &mut Problems) {
    for piece in &design.pieces {
        for edge in piece.edges.iter().filter(|e| e.allowance.as_mm() <= 0.0) {
            let Some(finish) = edge.finish.as_ref().filter(|f| f.encloses && f.folds.is_empty()) else { continue };
            let tape = finish.uses.iter().filter_map(|u| design.material(u.material)).find(|m| m.kind == MaterialKind::Ribbon);
            let Some(width) = tape.and_then(|t| t.width) else { continue };
            let bends = [Side::Left, Side::Right].into_iter().filter_map(|side| edge.path.tightest(side));
            let radius = bends.map(|b| b.radius).fold(f64::INFINITY, f64::min);
            // Folded lengthwise, the tape reaches half its width in; its edge there is longer or shorter by that over the radius.
            let least = width.as_mm() / 2.0 / GIVES;
            if radius < least {
                problems.push(PieceError::StraightBinding {
                    finish: finish.name.clone(),
                    edge: format!("{}.{}", piece.name, edge.name),
                    width,
                    radius: Length::mm(radius),
                    least: Length::mm(least),
                    at: finish.origin,
                });
            }
        }
    }
}
