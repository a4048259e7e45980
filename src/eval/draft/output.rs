//! What drafting gives back.

use crate::geometry::{Path, Point};
use crate::ir::{EdgePart, Notch};
use crate::source::Span;

/// A panel drafted: what is drawn, and the pieces that come of it.
#[derive(Debug, Clone)]
pub struct Layout {
    /// The edges of the whole outline, laid open where it is cut on the fold, then the split lines.
    pub whole: Vec<DraftedEdge>,
    /// Edges as they are drawn, of the whole panel or of the half of one, then the lines that split it.
    pub drawn: Vec<DraftedEdge>,
    /// Of the whole panel, before it is split.
    pub finished: Extents,
    /// Its pieces: one, unless it is split.
    pub pieces: Vec<Drafted>,
}

/// A piece drafted.
#[derive(Debug, Clone)]
pub struct Drafted {
    /// Its name, where a split made it.
    pub name: Option<(String, Span)>,
    /// Edges of the finished outline, counter-clockwise, each starting where the one before ends.
    pub edges: Vec<DraftedEdge>,
    /// The closed line to cut along, counter-clockwise.
    pub cut_line: Path,
    /// Fold lines: what each belongs to (an edge's name, `dart head`), and the line.
    pub folds: Vec<(String, Path)>,
    /// What its darts take in.
    pub darts: Vec<Intake>,
    /// Notches.
    pub notches: Vec<Notch>,
    /// Holes, clockwise.
    pub holes: Vec<(String, Path)>,
    /// Of the finished outline, holes taken out of its area.
    pub finished: Extents,
    /// Of the cut line, holes taken out of its area.
    pub cut: Extents,
    /// The fold that it is cut on, from side to side of the cut line, with the half that is drawn to its left.
    pub fold_line: Option<Path>,
}

/// The cloth that a dart takes in.
#[derive(Debug, Clone)]
pub struct Intake {
    /// The edge it is taken out of.
    pub edge: String,
    /// Where its first leg stands on the edge, its point, and where its second leg stands.
    pub legs: [Point; 3],
    /// Where it is asked for.
    pub span: Span,
}

/// An edge of a drafted panel.
#[derive(Debug, Clone)]
pub struct DraftedEdge {
    /// Its name.
    pub name: String,
    /// The drawn edge or split line it comes from: its own name, but for the other half of a piece cut on the fold.
    pub of: String,
    /// Its curve.
    pub path: Path,
    /// Its length, mm.
    pub length: f64,
    /// Its length once darts and pleats have taken theirs, mm.
    pub sewn_length: f64,
    /// Its named parts.
    pub parts: Vec<EdgePart>,
    /// Allowance outside it, mm.
    pub allowance: f64,
    /// The neighbour its start is named by.
    pub start_neighbour: String,
    /// The neighbour its end is named by.
    pub end_neighbour: String,
    /// Where it is drawn, or the corner it comes from is treated.
    pub span: Span,
}

/// A box's sides and the area inside the outline, mm and mm².
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Extents {
    /// Along x.
    pub width: f64,
    /// Along y.
    pub height: f64,
    /// Enclosed.
    pub area: f64,
}
