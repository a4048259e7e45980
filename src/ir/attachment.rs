//! Attachments: things set on an edge, at a corner, or on the face.

use super::{AttachmentId, EdgeId, MaterialId, PieceId, Symbol, TraceId};
use crate::geometry::Point;
use crate::quantity::Length;
use crate::source::Span;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// One thing in one place.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Attachment {
    /// The name of the `attach` line.
    pub name: String,
    /// Which of that line's places, from 1; both halves of a pair have the same number.
    pub number: u32,
    /// The component's name.
    pub component: String,
    /// The component's doc line.
    pub title: String,
    /// The piece it is on.
    pub piece: PieceId,
    /// The copy it is on; none when the piece is cut once.
    pub copy: Option<u32>,
    /// Where.
    pub place: Place,
    /// How far it reaches into the piece from the edge.
    pub depth: Length,
    /// How much of it the seam must catch.
    pub catches: Length,
    /// The side of the piece it lies on while sewing.
    pub side: Side,
    /// Which way it points while sewing.
    pub points: Pointing,
    /// Its symbol in drawings.
    pub symbol: Symbol,
    /// Whether it runs in a casing that its edge must have.
    pub needs_casing: bool,
    /// Its part of a pair (`socket`) and the other half.
    pub pair: Option<Pair>,
    /// Where one thing lies along several edges in a row, the entry of the first of them, at which its goods stand.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub one_with: Option<AttachmentId>,
    /// What it may lie across: `corner`, `notch`, `opening`, `attachment`.
    pub may_cross: Vec<String>,
    /// What it consumes; a pair's goods stand at its first half.
    pub uses: Vec<Use>,
    /// Where it is declared.
    pub origin: Span,
}

/// Where an attachment is.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum Place {
    /// On an edge.
    Edge {
        /// Which.
        edge: EdgeId,
        /// From the edge's start, in outline direction: where its footprint begins.
        from: Length,
        /// And where it ends.
        to: Length,
        /// As the maker measures it: the distance of its middle (or, for a stretch, of its near end) …
        distance: Length,
        /// … from the end where the edge meets this one.
        from_end: String,
        /// Whether it lies along a stretch and not at a place.
        stretch: bool,
        /// Where the place comes from.
        why: TraceId,
    },
    /// At a corner: where the first edge ends and the second starts.
    Corner {
        /// First edge.
        first: EdgeId,
        /// Second edge.
        second: EdgeId,
        /// The corner.
        at: Point,
    },
    /// On the face.
    Point {
        /// Where.
        at: Point,
        /// Where the place comes from.
        why: TraceId,
    },
}

/// A half of a pair.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Pair {
    /// What this half is called.
    pub half: String,
    /// Whether it is the pair's first half.
    pub first: bool,
    /// The other half.
    pub with: AttachmentId,
}

/// The side of a piece.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Side {
    /// The face of its cloth.
    Face,
    /// The back.
    Back,
    /// It does not matter.
    Either,
}

/// Which way an attachment points while it is sewn; a turned seam reverses it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Pointing {
    /// Into the piece.
    In,
    /// Beyond the edge.
    Out,
}

/// Goods consumed.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Use {
    /// Of what.
    pub material: MaterialId,
    /// How much.
    pub amount: Amount,
    /// Where the figure comes from.
    pub why: TraceId,
}

/// How much of a material.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Amount {
    /// Off the roll or reel.
    Length(Length),
    /// Of cloth.
    Area(crate::quantity::Area),
    /// Pieces.
    Count(f64),
    /// By weight.
    Mass(crate::quantity::Mass),
}
