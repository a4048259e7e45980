//! Operations: single acts at the bench and the machine, and what is known of their order.

use super::{AttachmentId, EdgeSide, OperationId, PieceId, SeamId, Stitch, Text};
use crate::quantity::Length;
use crate::source::Span;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// One act.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Operation {
    /// The source name it answers to in `after` and `before`: of a seam, an attachment, a step, a piece.
    pub name: String,
    /// What sort of act.
    pub kind: OperationKind,
    /// What it is done to.
    pub subject: Subject,
    /// What to do, one sentence, imperative.
    pub what: Text,
    /// On which edges (one entry an edge and copy), for "where"; may be empty.
    pub places: Vec<Where>,
    /// Which sides face each other or up.
    pub facing: Option<String>,
    /// The stitch, where it is sewn.
    pub stitch: Option<Stitch>,
    /// Length of stitching in all rows, for thread.
    pub sewn: Length,
    /// Plies sewn through, for thread.
    pub plies: u32,
    /// The acts it must follow, with the reason.
    pub after: Vec<After>,
    /// Where it is asked for.
    pub origin: Span,
}

/// Where an act is done.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Where {
    /// The edge: all of it for single places, the stretch itself for a stretch.
    pub side: EdgeSide,
    /// Distances from the end named, as the maker measures: middles of places, or near end of a stretch.
    pub distances: Vec<Length>,
    /// The end they are measured from; empty when the whole edge is meant.
    pub from_end: String,
}

/// A reason for order.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct After {
    /// The act that comes first.
    pub operation: OperationId,
    /// Why, as a clause: `the seam catches its ends`.
    pub because: String,
    /// Whether the source asks for it, and it does not follow from the work.
    pub asked: bool,
}

/// Sorts of act, in the order a maker prefers when nothing else decides.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum OperationKind {
    /// Cut and mark a piece.
    Cut,
    /// Bench work on a component.
    Prepare,
    /// A dart or pleat sewn into a flat piece.
    Shape,
    /// A piece, or a component, sewn on the face.
    Apply,
    /// Layers quilted together.
    Quilt,
    /// An edge hemmed.
    Hem,
    /// A component basted or set on an edge.
    Place,
    /// Two edges joined.
    Join,
    /// The allowances of a seam finished.
    FinishSeam,
    /// A component sewn to its edge.
    SewOn,
    /// Layers laid on each other and sewn round.
    Stack,
    /// Turned right side out through the opening.
    Turn,
    /// The opening closed.
    Close,
    /// A component completed (cord threaded, snap set).
    Complete,
    /// A step the source added.
    Extra,
}

/// What an act is done to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "kind", content = "id", rename_all = "snake_case")]
pub enum Subject {
    /// A piece.
    Piece(PieceId),
    /// A seam.
    Seam(SeamId),
    /// The first attachment of an `attach` line; the act covers all of that line.
    Attachment(AttachmentId),
    /// Index into [`super::Design::applied`].
    Applied(u32),
    /// Index into [`super::Design::quilting`].
    Quilting(u32),
    /// Nothing in particular.
    Whole,
}
