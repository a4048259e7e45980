//! Marks that a piece does not bring itself: the stretch that a seam leaves open to turn the work through.

use crate::ir::{Design, Mark, MarkShape, Piece, PieceId, SeamForm, Stack, Text};

/// All marks of a piece: its own, then the openings on it.
pub(crate) fn marks(design: &Design, id: PieceId, piece: &Piece) -> Vec<Mark> {
    let openings = design.seams.iter().filter_map(|seam| {
        let SeamForm::Stack(Stack { opening: Some(opening), .. }) = &seam.form else { return None };
        let side = &opening.side;
        let edge = piece.edges.get(side.edge.index()).filter(|_| side.piece == id)?;
        let path = edge.path.subpath(side.from.as_mm(), side.to.as_mm());
        let text = Text::words("leave open, ").length(side.to - side.from);
        let text = text.then(", ").length(opening.distance).then(format!(" from {}", opening.from_end));
        let (name, copies) = (format!("opening of {}", seam.name), side.copy.into_iter().collect());
        Some(Mark { name, text, copies, shape: MarkShape::Line { path }, origin: opening.origin })
    });
    piece.marks.iter().cloned().chain(openings).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ir::sample;
    use crate::quantity::Style;

    #[test]
    fn the_opening_is_marked_on_its_layer() {
        let (quilt, ids) = sample::quilt();
        let design = quilt.design;
        let on = |id: PieceId| marks(&design, id, design.piece(id).expect("it is there"));
        let found = on(ids.shell);
        let [Mark { text, copies, shape: MarkShape::Line { path }, .. }] = found.as_slice() else { panic!("{found:?}") };
        assert_eq!(text.worded(Style::default()), "leave open, 30 cm, 80 cm from foot");
        assert!((path.length() - 300.0).abs() < 1e-6);
        assert_eq!(copies, &[0]);
        assert!(on(ids.batt).is_empty());
    }
}
