//! What is done with every edge and every piece.

use super::error::PieceError;
use super::naming::{edge as edge_name, longest_gap, owner};
use crate::diagnostic::Problems;
use crate::ir::Lay;
use crate::ir::{Design, EdgeId, MaterialKind, Piece, PieceId, Place, SeamForm};
use crate::quantity::Length;
use std::collections::BTreeSet;

/// A stretch of an edge that a seam sews.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Sewn {
    pub(super) piece: PieceId,
    pub(super) copy: Option<u32>,
    pub(super) edge: EdgeId,
    pub(super) stretch: (f64, f64),
    /// Index of the seam.
    pub(super) seam: usize,
}

impl Sewn {
    pub(super) const fn key(&self) -> (PieceId, Option<u32>, EdgeId) {
        (self.piece, self.copy, self.edge)
    }
}

/// Every edge stretch that some seam sews.
pub(super) fn sewn(design: &Design, lays: &[Lay]) -> Vec<Sewn> {
    let mut all = Vec::new();
    for (seam, form) in design.seams.iter().map(|s| &s.form).enumerate() {
        let SeamForm::Join(join) = form else { continue };
        for side in join.first.iter().chain(&join.second).filter(|s| s.line.is_none()) {
            let stretch = (side.from.as_mm(), side.to.as_mm());
            all.push(Sewn { piece: side.piece, copy: side.copy, edge: side.edge, stretch, seam });
        }
    }
    for lay in lays {
        for (index, layer) in lay.stack.layers.iter().enumerate() {
            for edge in lay.sewn(index) {
                let length = design.edge(layer.piece, edge).map_or(0.0, |e| e.length.as_mm());
                all.push(Sewn { piece: layer.piece, copy: layer.copy, edge, stretch: (0.0, length), seam: lay.index });
            }
        }
    }
    all
}

/// An edge of a copy of a piece.
type Key = (PieceId, Option<u32>, EdgeId);

/// Copies and edges that something is done with. A copy of `None` stands for all copies.
#[derive(Default)]
struct Used {
    copies: BTreeSet<(PieceId, Option<u32>)>,
    edges: BTreeSet<Key>,
    /// Which stretches of an edge seams and attachments take.
    stretches: Vec<(Key, (f64, f64))>,
}

/// So much of an edge may stay raw beside a seam: the mouth of a casing, the end of a zipper, is left open by less.
const LEFT_RAW: f64 = 40.0;

impl Used {
    fn of(design: &Design, sewn: &[Sewn]) -> Self {
        let mut used = Self::default();
        for one in sewn {
            used.edges.insert(one.key());
            used.stretches.push((one.key(), one.stretch));
            used.copies.insert((one.piece, one.copy));
        }
        used.joined_and_layered(design);
        for attachment in &design.attachments {
            used.copies.insert((attachment.piece, attachment.copy));
            let covers = attachment.depth.as_mm() > 0.0 || attachment.catches.as_mm() > 0.0;
            if let (Place::Edge { edge, stretch: true, from, to, .. }, true) = (&attachment.place, covers) {
                let key = (attachment.piece, attachment.copy, *edge);
                used.edges.insert(key);
                used.stretches.push((key, (from.as_mm(), to.as_mm())));
            }
        }
        for applied in &design.applied {
            used.copies.insert((applied.piece, None));
            used.copies.insert((applied.onto, applied.onto_copy));
            used.edges.extend(applied.edges.iter().map(|e| (applied.piece, None, *e)));
        }
        for (piece, copy) in design.quilting.iter().flat_map(|q| &q.layers) {
            used.copies.insert((*piece, *copy));
        }
        used
    }

    /// Pieces that a seam takes without sewing an edge of theirs.
    fn joined_and_layered(&mut self, design: &Design) {
        for seam in &design.seams {
            match &seam.form {
                SeamForm::Join(join) => {
                    self.copies.extend(join.first.iter().chain(&join.second).map(|s| (s.piece, s.copy)));
                }
                SeamForm::Stack(stack) => self.copies.extend(stack.layers.iter().map(|l| (l.piece, l.copy))),
            }
        }
    }

    fn copy(&self, piece: PieceId, copy: Option<u32>) -> bool {
        self.copies.contains(&(piece, copy)) || self.copies.contains(&(piece, None))
    }

    /// The most of an edge that lies raw in one run between what is sewn, where some of it is sewn.
    fn raw_run(&self, piece: PieceId, copy: Option<u32>, edge: EdgeId, length: f64) -> f64 {
        let mine = |((p, c, e), _): &&(Key, (f64, f64))| *p == piece && *e == edge && (*c == copy || c.is_none());
        let taken: Vec<(f64, f64)> = self.stretches.iter().filter(mine).map(|(_, s)| *s).collect();
        if taken.is_empty() {
            return 0.0;
        }
        longest_gap(taken, length)
    }

    fn edge(&self, piece: PieceId, copy: Option<u32>, edge: EdgeId) -> bool {
        self.edges.contains(&(piece, copy, edge)) || self.edges.contains(&(piece, None, edge))
    }
}

/// Reports edges and pieces that nothing is done with.
pub(super) fn check(design: &Design, sewn: &[Sewn], problems: &mut Problems) {
    let used = Used::of(design, sewn);
    for (index, piece) in design.pieces.iter().enumerate() {
        // A component's own pieces are worked by its own steps.
        if !piece.name.contains('.') {
            check_piece(design, PieceId::at(index), piece, &used, problems);
        }
    }
}

fn check_piece(design: &Design, id: PieceId, piece: &Piece, used: &Used, problems: &mut Problems) {
    let several = piece.copies.len() > 1;
    let copies: Vec<Option<u32>> = if several { (0..).map(Some).take(piece.copies.len()).collect() } else { vec![None] };
    let batting = design.material(piece.material).is_some_and(|m| m.kind == MaterialKind::Batting);
    let finished = piece.edges.iter().filter(|e| e.finish.is_some()).count();
    let mut idle: Vec<Option<u32>> = Vec::new();
    let mut open: BTreeSet<(EdgeId, Option<u32>)> = BTreeSet::new();
    for copy in copies.iter().copied() {
        let left = left_open(piece, |edge| used.edge(id, copy, edge));
        // Mostly finished, it is a thing by itself, and what was forgotten is the edge left over.
        let by_itself = left.len() < finished;
        if !used.copy(id, copy) && !by_itself && !left.is_empty() {
            idle.push(copy);
        } else if !batting {
            open.extend(left.into_iter().map(|e| (e, copy)));
        }
    }
    if !batting {
        check_stretches(design, id, piece, used, &copies, problems);
    }
    if idle.len() == copies.len() {
        problems.push(PieceError::PanelUnused { piece: piece.name.clone(), at: piece.origin });
        return;
    }
    for copy in idle {
        let name = owner(design, id, copy);
        let name = if name == piece.name { format!("{name}, copy {}", copy.unwrap_or(0) + 1) } else { name };
        problems.push(PieceError::PanelUnused { piece: name, at: piece.origin });
    }
    for (edge, copy) in &open {
        // Open on every copy, it is told once, by the piece's name.
        let on_all = several && copies.iter().all(|c| open.contains(&(*edge, *c)));
        if on_all && *copy != copies.first().copied().flatten() {
            continue;
        }
        let at = piece.edges.get(edge.index()).map_or(piece.origin, |e| e.origin);
        let name = edge_name(design, id, if on_all { None } else { *copy }, *edge);
        problems.push(PieceError::EdgeUnused { edge: name, at });
    }
}

/// Reports edges of which a seam takes a part and nothing the rest.
fn check_stretches(design: &Design, id: PieceId, piece: &Piece, used: &Used, copies: &[Option<u32>], problems: &mut Problems) {
    for (index, edge) in piece.edges.iter().enumerate().filter(|(_, e)| e.finish.is_none() && e.raw_because.is_none()) {
        for copy in copies.iter().copied() {
            let raw = used.raw_run(id, copy, EdgeId::at(index), edge.length.as_mm());
            if raw > LEFT_RAW {
                let name = edge_name(design, id, copy, EdgeId::at(index));
                problems.push(PieceError::EdgePartOpen { edge: name, raw: Length::mm(raw), of: edge.length, at: edge.origin });
            }
        }
    }
}

fn left_open(piece: &Piece, used: impl Fn(EdgeId) -> bool) -> Vec<EdgeId> {
    let open = |(i, edge): (usize, &crate::ir::Edge)| {
        let id = EdgeId::at(i);
        (edge.finish.is_none() && edge.raw_because.is_none() && !used(id)).then_some(id)
    };
    piece.edges.iter().enumerate().filter_map(open).collect()
}
