//! What a cutter does not do of its pieces, or not as they are drawn: whoever stands at it must know.

use crate::geometry::Path;
use crate::ir::{Cutter, CutterKind, Design, EdgeId, LineSort, MarkShape, Piece, PieceId};

/// What is left to whoever stands at a cutter.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Undone {
    /// Sorts of line that its pieces have and no pass takes.
    pub left_out: Vec<LineSort>,
    /// Sorts of line that are for cutting, and that it only draws.
    pub only_drawn: Vec<LineSort>,
    /// Lines that are cut where they are drawn, since they leave no room for half of the kerf.
    pub not_made_up: Vec<NotMadeUp>,
    /// Notches narrower than what is burnt away, each cut as one line.
    pub narrow: Vec<NarrowNotches>,
    /// Pieces with holes to prick or drill.
    pub drilled: Vec<PieceId>,
}

/// A line that is cut without making up for the kerf.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NotMadeUp {
    /// The piece it is on.
    pub piece: PieceId,
    /// The hole, or none for the outline.
    pub hole: Option<String>,
}

/// Notches of an edge that are narrower than the kerf.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NarrowNotches {
    /// The piece they are on.
    pub piece: PieceId,
    /// Their edge.
    pub edge: EdgeId,
    /// How many.
    pub count: usize,
}

/// What is left of the pieces that go to a cutter.
pub(super) fn of(design: &Design, cutter: &Cutter, undrawable: &[PieceId]) -> Undone {
    let pieces: Vec<(PieceId, &Piece)> = design
        .pieces
        .iter()
        .enumerate()
        .map(|(index, piece)| (PieceId::at(index), piece))
        .filter(|(id, piece)| !undrawable.contains(id) && cutter.materials.iter().any(|m| m.material == piece.material))
        .collect();
    let some = |has: fn(&Piece) -> bool| pieces.iter().any(|(_, piece)| has(piece));
    let has = |sort: LineSort| match sort {
        LineSort::Outlines => !pieces.is_empty(),
        LineSort::Holes => some(|p| !p.holes.is_empty()),
        LineSort::Notches => some(|p| !p.notches.is_empty()),
        LineSort::Marks => some(|p| !p.marks.is_empty()),
        LineSort::Folds => some(|p| !p.folds.is_empty()),
        // A dart is sewn along lines that no edge and no notch shows.
        LineSort::Stitching => some(|p| p.folds.iter().any(|f| f.sewn().is_some())),
        LineSort::Grain | LineSort::Text => false,
    };
    // Whoever takes a pen to the cloth means to cut by hand.
    let expected = |sort: LineSort| sort != LineSort::Outlines || cutter.kind != CutterKind::Pen;
    let to_cut = [LineSort::Outlines, LineSort::Holes, LineSort::Notches].into_iter();
    Undone {
        left_out: LineSort::ALL.into_iter().filter(|&sort| !cutter.does(sort) && has(sort) && expected(sort)).collect(),
        only_drawn: to_cut.filter(|&sort| cutter.does(sort) && !cutter.cuts(sort) && has(sort)).collect(),
        not_made_up: pieces.iter().flat_map(|(id, piece)| not_made_up(cutter, *id, piece)).collect(),
        narrow: pieces.iter().flat_map(|(id, piece)| narrow(cutter, *id, piece)).collect(),
        drilled: pieces
            .iter()
            .filter(|(_, p)| p.marks.iter().any(|m| matches!(m.shape, MarkShape::Drill { .. })))
            .map(|(id, _)| *id)
            .collect(),
    }
}

fn not_made_up(cutter: &Cutter, id: PieceId, piece: &Piece) -> Vec<NotMadeUp> {
    let outline = || cutter.cuts(LineSort::Outlines) && !cutter.outline_to_follow(piece).made_up;
    let tight = |path: &Path| cutter.cuts(LineSort::Holes) && cutter.hole_to_follow(path).is_err();
    let whole = outline().then_some(NotMadeUp { piece: id, hole: None });
    let holes = piece.holes.iter().filter(|h| tight(&h.path)).map(|h| NotMadeUp { piece: id, hole: Some(h.name.clone()) });
    whole.into_iter().chain(holes).collect()
}

fn narrow(cutter: &Cutter, id: PieceId, piece: &Piece) -> Vec<NarrowNotches> {
    if !(cutter.cuts(LineSort::Outlines) && cutter.cuts(LineSort::Notches)) {
        return Vec::new();
    }
    let mut all: Vec<NarrowNotches> = Vec::new();
    for notch in cutter.outline_to_follow(piece).narrow {
        match all.iter_mut().find(|n| n.edge == notch.edge) {
            Some(found) => found.count += 1,
            None => all.push(NarrowNotches { piece: id, edge: notch.edge, count: 1 }),
        }
    }
    all
}
