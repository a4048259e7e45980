//! What the analyses find, as plain data that exports read.

use crate::ir::{Amount, Design, MaterialId, OperationId, PieceId, Provenance, Stitch, StitchKind, Text, TraceId, Where};
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
    /// The stitch.
    pub stitch: Option<Stitch>,
    /// Length of stitching in all rows.
    pub sewn: Length,
    /// Why it comes before the next step that needs it.
    pub why_now: Option<WhyNow>,
}

/// Why a step comes where it does.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct WhyNow {
    /// The number of the first later step that needs this one.
    pub before: u32,
    /// The reason, a clause: `the seam catches its ends`.
    pub because: String,
}

/// The cut list and bill of materials.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct MaterialsReport {
    /// A row a piece.
    pub cuts: Vec<CutRow>,
    /// A row a material; a zipper's sliders have a row of their own.
    pub goods: Vec<GoodsRow>,
    /// A row a kind of stitch.
    pub thread: Vec<ThreadRow>,
    /// Mass of the finished design: what is in it, not what is bought.
    pub mass: Mass,
    /// Cost of the goods used, an entry a currency; empty when no price is known.
    pub cost: Vec<Money>,
    /// Titles of materials without a mass, which the total leaves out.
    pub without_mass: Vec<String>,
    /// Titles of materials without a price, which the total leaves out.
    pub without_price: Vec<String>,
    /// What was taken for granted where the design does not say.
    pub assumptions: Vec<Text>,
    /// The steps behind these figures, which go on where the design's own end; the facts `mass`, `cost`,
    /// `thread`, and `amount.`, `roll.`, `mass.` and `cost.` with a material's name can be asked for.
    pub further: Provenance,
}

impl MaterialsReport {
    /// All steps: those of the design that this is the bill of, and the further ones.
    #[must_use]
    pub fn provenance(&self, design: &Design) -> Provenance {
        let mut all = design.provenance.clone();
        all.nodes.extend_from_slice(&self.further.nodes);
        all.facts.extend_from_slice(&self.further.facts);
        all.facts.sort_by(|a, b| a.name.cmp(&b.name));
        all
    }
}

/// A piece in the cut list.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct CutRow {
    /// The piece.
    pub piece: PieceId,
    /// Its label.
    pub label: String,
    /// How many to cut.
    pub count: u32,
    /// How many of these mirrored.
    pub mirrored: u32,
    /// Material's title.
    pub material: String,
    /// Finished box: width and height.
    pub finished: (Length, Length),
    /// Cut box: width and height.
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
    /// What the design holds of it; thread with what is lost.
    pub amount: Amount,
    /// The least length of roll that could hold its pieces, before any is laid; for cloth and batting.
    pub roll_length: Option<Length>,
    /// Mass in the design.
    pub mass: Option<Mass>,
    /// Cost of what is used.
    pub cost: Option<Money>,
    /// How the amount was made; `mass.` and `cost.` facts hold the rest.
    pub why: TraceId,
}

/// The thread that one kind of stitch takes.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ThreadRow {
    /// The stitch.
    pub stitch: StitchKind,
    /// Length sewn, all rows.
    pub sewn: Length,
    /// Length of thread, all threads, with what is lost.
    pub thread: Length,
}
