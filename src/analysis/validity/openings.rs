//! Turning openings.

use super::error::{AllowanceError, OpeningError, StackError};
use crate::diagnostic::Problems;
use crate::geometry::Segment;
use crate::ir::Lay;
use crate::ir::{Design, Edge, EdgeSide, MaterialKind, Opening, Seam, SeamForm};
use crate::quantity::Length;

/// The least opening for a quilt with its batting, mm. Trade habit.
const WITH_BATTING: f64 = 150.0;

/// The least opening for anything else, mm: a hand goes through. Trade habit.
const A_HAND: f64 = 60.0;

/// Pieces larger than this are turned with bulk, mm.
const LARGE: f64 = 600.0;

/// A curve shorter than this at an end of an opening is a corner's rounding and no matter, mm.
const TOUCHES: f64 = 1.0;

/// Checks every opening against its edge and what must go through it.
pub(super) fn check(design: &Design, lays: &[Lay], problems: &mut Problems) {
    for (index, seam) in design.seams.iter().enumerate() {
        let Some(opening) = seam.form.opening() else { continue };
        let Some(edge) = design.edge(opening.side.piece, opening.side.edge) else { continue };
        let sewn = match &seam.form {
            SeamForm::Join(join) => join.first.iter().chain(&join.second).any(|s| holds(s, &opening.side)),
            SeamForm::Stack(_) => lays
                .iter()
                .filter(|l| l.index == index)
                .any(|lay| lay.layer_of(opening.side.piece, opening.side.copy).is_some_and(|(l, _)| lay.sews(l, opening.side.edge))),
        };
        if !sewn {
            let edge = design.edge_name(&opening.side);
            problems.push(StackError::NotSewn { seam: seam.name.clone(), edge, at: opening.origin, seam_at: seam.origin });
            continue;
        }
        measures(design, seam, (opening, edge), problems);
        closing(design, seam, (opening, edge), problems);
    }
}

/// Whether a stretch of an edge lies within another.
fn holds(sewn: &EdgeSide, part: &EdgeSide) -> bool {
    let same = sewn.piece == part.piece && sewn.copy == part.copy && sewn.edge == part.edge && sewn.line.is_none();
    same && sewn.from.as_mm() <= part.from.as_mm() + TOUCHES && part.to.as_mm() <= sewn.to.as_mm() + TOUCHES
}

fn measures(design: &Design, seam: &Seam, (opening, edge): (&Opening, &Edge), problems: &mut Problems) {
    let (from, to) = (opening.side.from.as_mm(), opening.side.to.as_mm());
    let name = || design.edge_name(&opening.side);
    let curved = |s: &Segment| !matches!(s, Segment::Line { .. });
    let stretch = edge.path.subpath(from + TOUCHES, to - TOUCHES);
    if stretch.segments.iter().any(curved) {
        problems.push(OpeningError::OnCurve { seam: seam.name.clone(), edge: name(), at: opening.origin });
    }
    let layers = if let SeamForm::Stack(stack) = &seam.form { stack.layers.as_slice() } else { &[] };
    let batting = layers.iter().any(|l| {
        let material = design.piece(l.piece).and_then(|p| design.material(p.material));
        material.is_some_and(|m| m.kind == MaterialKind::Batting)
    });
    let size = design.piece(opening.side.piece).map_or(0.0, |p| p.finished.width.as_mm().max(p.finished.height.as_mm()));
    let least = if batting && size > LARGE { WITH_BATTING } else { A_HAND };
    if to - from + Length::SAME.as_mm() < least {
        let length = Length::mm(to - from);
        problems.push(OpeningError::Short { seam: seam.name.clone(), length, least: Length::mm(least), batting, at: opening.origin });
    }
}

fn closing(design: &Design, seam: &Seam, (opening, edge): (&Opening, &Edge), problems: &mut Problems) {
    if let Some(close) = seam.form.close()
        && edge.allowance.as_mm() + Length::SAME.as_mm() < close.needs.as_mm()
    {
        problems.push(AllowanceError::TooNarrow {
            finish: close.name.clone(),
            seam: seam.name.clone(),
            needs: close.needs,
            edge: design.edge_name(&opening.side),
            allowance: edge.allowance,
            at: close.origin,
            edge_at: edge.origin,
        });
    }
}
