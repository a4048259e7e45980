//! Figures that no one who sews would choose: a slip of the pen, most often of the unit.

use super::error::BoundsError;
use crate::diagnostic::Problems;
use crate::ir::{Design, Stitch, StitchKind};
use crate::quantity::Length;
use crate::source::Span;

/// The widest allowance that seams and hems ask for, mm. Published allowances run from 6 to 38 mm; wide hems to 50.
const WIDEST: f64 = 60.0;

/// Measures closer than this are the same to who sews, mm.
const SAME: f64 = 0.01;

/// Reports every figure out of bounds.
pub(super) fn check(design: &Design, problems: &mut Problems) {
    for piece in design.pieces.iter().filter(|p| !p.name.contains('.')) {
        // A finish says its own width; what is stated alone is worth a second look.
        let wide: Vec<_> = piece.edges.iter().filter(|e| e.finish.is_none() && e.allowance.as_mm() > WIDEST + SAME).collect();
        if let Some(first) = wide.first() {
            let edges = wide.iter().map(|e| format!("{}.{}", piece.name, e.name)).collect();
            let allowance = first.allowance;
            problems.push(BoundsError::WideAllowance { edges, allowance, widest: Length::mm(WIDEST), at: first.origin });
        }
    }
    for (stitch, of, at) in stitches(design) {
        let (shortest, longest) = lengths(stitch.kind);
        let length = stitch.length.as_mm();
        if length < shortest - SAME || length > longest + SAME {
            let bounds = [shortest, longest].map(Length::mm);
            problems.push(BoundsError::Stitch { of, kind: stitch.kind.words(), length: stitch.length, bounds, at });
        }
    }
}

/// The stitch lengths that a machine sews, or a hand, mm. Published specifications run from 1.6 (16 to the inch) to 6.4 mm (4 to the
/// inch) for straight stitching, basting from 4 to 5; the ends of each range are those of household machines, from memory.
const fn lengths(kind: StitchKind) -> (f64, f64) {
    match kind {
        StitchKind::Lockstitch | StitchKind::Chainstitch => (1.0, 6.5),
        StitchKind::Zigzag => (0.3, 5.0),
        StitchKind::Overlock => (0.8, 5.0),
        StitchKind::Bartack => (0.2, 1.5),
        StitchKind::Handstitch => (1.0, 15.0),
    }
}

/// Every stitch of the source, whose it is and where it is asked for.
fn stitches(design: &Design) -> Vec<(&Stitch, String, Span)> {
    let mut all: Vec<(&Stitch, String, Span)> = Vec::new();
    for seam in &design.seams {
        all.push((&seam.stitch, format!("`{}`", seam.name), seam.origin));
        let finishes = seam.finish.iter().chain(seam.form.close());
        all.extend(finishes.filter_map(|f| Some((f.stitch.as_ref()?, format!("`{}`", f.name), f.origin))));
    }
    for edge in design.pieces.iter().flat_map(|p| &p.edges) {
        let finish = edge.finish.iter();
        all.extend(finish.filter_map(|f| Some((f.stitch.as_ref()?, format!("`{}`", f.name), f.origin))));
    }
    all.extend(design.quilting.iter().map(|q| (&q.stitch, format!("`{}`", q.name), q.origin)));
    all.extend(design.applied.iter().filter_map(|a| Some((a.finish.stitch.as_ref()?, format!("`{}`", a.finish.name), a.finish.origin))));
    let set = design.operations.iter().filter(|o| matches!(o.subject, crate::ir::Subject::Attachment(_)));
    all.extend(set.filter_map(|o| Some((o.stitch.as_ref()?, format!("`{}`", o.name), o.origin))));
    all
}
