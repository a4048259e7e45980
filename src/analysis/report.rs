//! What the analyses find, as plain data that exports read.

use crate::ir::{Amount, MaterialId, OperationId, PieceId, Text, TraceId, Where};
use crate::quantity::{Area, Length, Mass, Money};
use serde::Serialize;

/// The sewing order.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct OrderReport {
    /// The steps, first to last.
    pub steps: Vec<OrderStep>,
    /// Safety notes to read before starting, each once.
    pub cautions: Vec<Text>,
}

/// One step of the sewing order.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct OrderStep {
    /// From 1.
    pub number: u32,
    /// The operation.
    pub operation: OperationId,
    /// What to do, a sentence.
    pub what: Text,
    /// Where, an entry an edge.
    pub places: Vec<Where>,
    /// The names of those edges, same order.
    pub edge_names: Vec<String>,
    /// Which sides face.
    pub facing: Option<String>,
    /// Stitch and length, worded: `lockstitch (301)`.
    pub stitch: Option<(String, Length)>,
    /// Why it comes before the next step that needs it, a sentence; empty for the last.
    pub why_now: Text,
}

/// The cut list and bill of materials.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct MaterialsReport {
    /// A row a piece.
    pub cuts: Vec<CutRow>,
    /// A row a material.
    pub goods: Vec<GoodsRow>,
    /// Mass of the finished design: what is in it, not what is bought.
    pub mass: Mass,
    /// Cost of the goods used, when every price is of one currency; empty when no price is known.
    pub cost: Vec<Money>,
    /// Materials without a mass or without a price, which the totals leave out.
    pub without_mass: Vec<String>,
    /// See `without_mass`.
    pub without_price: Vec<String>,
    /// Steps behind the totals, on top of the design's own provenance.
    pub provenance: crate::ir::Provenance,
}

/// A piece in the cut list.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct CutRow {
    /// The piece.
    pub piece: PieceId,
    /// Its label.
    pub label: String,
    /// How many to cut, and how many of these mirrored.
    pub count: u32,
    /// See `count`.
    pub mirrored: u32,
    /// Material's title.
    pub material: String,
    /// Finished box.
    pub finished: (Length, Length),
    /// Cut box.
    pub cut: (Length, Length),
    /// Area of one, finished.
    pub finished_area: Area,
    /// Area of one, cut.
    pub cut_area: Area,
    /// Mass of all, cut.
    pub mass: Option<Mass>,
}

/// A material in the bill.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct GoodsRow {
    /// The material.
    pub material: MaterialId,
    /// Its title.
    pub title: String,
    /// Its kind, worded.
    pub kind: String,
    /// What the design holds of it.
    pub amount: Amount,
    /// The least length of roll that could hold its pieces (area over usable width); for cloth and batting.
    pub roll_length: Option<Length>,
    /// Mass in the design.
    pub mass: Option<Mass>,
    /// Cost of what is used.
    pub cost: Option<Money>,
    /// How the figures were made.
    pub why: Option<TraceId>,
}
