//! Seams: edges joined, and layers stacked and sewn round.

use super::{EdgeId, PieceId, TraceId, Use};
use crate::geometry::{Path, Point};
use crate::quantity::Length;
use crate::source::Span;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use std::collections::BTreeSet;

/// A seam.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Seam {
    /// Its name.
    pub name: String,
    /// Its title, or its name.
    pub title: String,
    /// Its form.
    pub form: SeamForm,
    /// The stitch of its main row.
    pub stitch: Stitch,
    /// How its allowances are finished.
    pub finish: Option<SeamFinish>,
    /// Length of its main stitch line.
    pub length: Length,
    /// Where that length comes from.
    pub why: TraceId,
    /// Where it is declared.
    pub origin: Span,
}

/// The forms of seam.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum SeamForm {
    /// Edges joined to edges.
    Join(Join),
    /// Layers laid on each other and sewn round.
    Stack(Stack),
}

/// Two chains of edges joined.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Join {
    /// One side, in the order met.
    pub first: Vec<EdgeSide>,
    /// The other.
    pub second: Vec<EdgeSide>,
    /// Length of the first side, darts and pleats taken.
    pub first_length: Length,
    /// Length of the second.
    pub second_length: Length,
    /// How they lie.
    pub together: Together,
    /// Ease stated, as a fraction of the shorter side; none when none is stated.
    pub ease: Option<f64>,
    /// Gathering stated: longer over shorter.
    pub gather: Option<f64>,
    /// The opening, if it is turned; it lies between the two sides.
    pub opening: Option<Opening>,
    /// How the opening is closed.
    pub close: Option<SeamFinish>,
}

impl Join {
    /// Whether it joins a piece to itself, after which that no longer lies flat.
    #[must_use]
    pub fn closes_tube(&self) -> bool {
        self.first.iter().any(|a| self.second.iter().any(|b| a.piece == b.piece && a.copy == b.copy))
    }
}

impl SeamForm {
    /// The opening it is turned through.
    #[must_use]
    pub const fn opening(&self) -> Option<&Opening> {
        match self {
            Self::Join(join) => join.opening.as_ref(),
            Self::Stack(stack) => stack.opening.as_ref(),
        }
    }

    /// How that is closed.
    #[must_use]
    pub const fn close(&self) -> Option<&SeamFinish> {
        match self {
            Self::Join(join) => join.close.as_ref(),
            Self::Stack(stack) => stack.close.as_ref(),
        }
    }
}

/// A piece, and the copy of it.
type Laid = (PieceId, Option<u32>);

/// Pieces of which one is sewn to a line on the other, and so lies on it.
pub(crate) fn laid_on(seams: &[Seam]) -> BTreeSet<[Laid; 2]> {
    let mut all = BTreeSet::new();
    for seam in seams {
        let SeamForm::Join(join) = &seam.form else { continue };
        for (one, other) in [(&join.first, &join.second), (&join.second, &join.first)] {
            for line in one.iter().filter(|s| s.line.is_some()) {
                for edge in other.iter().filter(|s| s.piece != line.piece) {
                    let (a, b) = ((line.piece, line.copy), (edge.piece, edge.copy));
                    all.extend([[a, b], [b, a]]);
                }
            }
        }
    }
    all
}

/// Whether a seam joins only pieces that lie on each other: it lines an edge, and shuts nothing.
pub(crate) fn lines_an_edge(seam: &Seam, laid: &BTreeSet<[Laid; 2]>) -> bool {
    let SeamForm::Join(join) = &seam.form else { return false };
    join.first.iter().all(|a| join.second.iter().all(|b| laid.contains(&[(a.piece, a.copy), (b.piece, b.copy)])))
}

/// How two edges lie while sewn.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Together {
    /// Face to face.
    Faces,
    /// Back to back.
    Backs,
    /// Lapped.
    Lapped,
}

/// An edge of a copy of a piece, or a stretch of it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct EdgeSide {
    /// The piece.
    pub piece: PieceId,
    /// The copy; none when the piece is cut once.
    pub copy: Option<u32>,
    /// The edge. For a marked line of the face, see `line`.
    pub edge: EdgeId,
    /// The name of the marked line, when it is one and not an edge.
    pub line: Option<String>,
    /// From the edge's start, in outline direction.
    pub from: Length,
    /// And to.
    pub to: Length,
}

/// Layers sewn round.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Stack {
    /// From the table up, as they lie while sewing.
    pub layers: Vec<Layer>,
    /// Names of the edges sewn, in outline order of the first layer.
    pub edges: Vec<String>,
    /// Whether all edges are sewn.
    pub around: bool,
    /// The opening, if it is turned.
    pub opening: Option<Opening>,
    /// How the opening is closed.
    pub close: Option<SeamFinish>,
}

/// A layer of a stack.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Layer {
    /// The piece.
    pub piece: PieceId,
    /// The copy; none when the piece is cut once.
    pub copy: Option<u32>,
    /// Face up; none where the two sides are alike.
    pub face_up: Option<bool>,
    /// Where this is said.
    pub origin: Span,
}

/// The opening a seam is turned through.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Opening {
    /// On which edge, and which stretch.
    pub side: EdgeSide,
    /// As the maker measures it: its near end lies this far …
    pub distance: Length,
    /// … from the end where the edge meets this one.
    pub from_end: String,
    /// Indices of the two layers it is said to lie between, the lower first; 0 and 1 in a join. That
    /// they are neighbours is checked later, where it can be said in the maker's words.
    pub between: (u32, u32),
    /// Where it is declared.
    pub origin: Span,
}

/// How a seam's allowances, or a closed opening, are finished.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct SeamFinish {
    /// The finish's name.
    pub name: String,
    /// The least allowance it needs on each side.
    pub needs: Length,
    /// Whether no raw edge shows once it is done.
    pub encloses: bool,
    /// Its stitching, beside the seam's main row.
    pub stitch: Option<Stitch>,
    /// How far that lies from the seam line.
    pub stitch_at: Length,
    /// How many rows.
    pub rows: u32,
    /// What it consumes.
    pub uses: Vec<Use>,
    /// Where this is said.
    pub origin: Span,
}

/// A stitch.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Stitch {
    /// Which.
    pub kind: StitchKind,
    /// Its length.
    pub length: Length,
}

/// Stitches by ISO 4915 type.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum StitchKind {
    /// 301
    Lockstitch,
    /// 304
    Zigzag,
    /// 401
    Chainstitch,
    /// 504
    Overlock,
    /// 304, dense and short.
    Bartack,
    /// Class 200.
    Handstitch,
}

/// A piece sewn on the face of another.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Applied {
    /// The piece put on.
    pub piece: PieceId,
    /// The piece it is put on.
    pub onto: PieceId,
    /// Its copy; none when cut once.
    pub onto_copy: Option<u32>,
    /// Where its origin lies on that.
    pub at: Point,
    /// The edges sewn.
    pub edges: Vec<EdgeId>,
    /// How.
    pub finish: SeamFinish,
    /// Length sewn.
    pub length: Length,
    /// Where it is declared.
    pub origin: Span,
}

/// Layers quilted or tied through.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Quilting {
    /// Its name.
    pub name: String,
    /// Layers; the first carries the marks.
    pub layers: Vec<(PieceId, Option<u32>)>,
    /// Lines sewn.
    pub lines: Vec<Path>,
    /// Points tied.
    pub ties: Vec<Point>,
    /// The stitch.
    pub stitch: Stitch,
    /// Where it is declared.
    pub origin: Span,
}
