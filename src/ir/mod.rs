//! Resolved geometry: one design in one size, as plain data.
//!
//! Everything a back end may know stands here. Ids are indices into the lists of [`Design`].
//! Lengths are millimetres, areas mm², masses grams, angles radians. The JSON form is
//! versioned ([`FORMAT_VERSION`]) and described by `grammar/ir.schema.json`.

mod attachment;
mod chain;
mod cutter;
mod flat;
mod followed;
mod json;
mod lay;
mod layout;
mod material;
mod meeting;
mod notched;
mod operation;
mod piece;
mod provenance;
#[cfg(test)]
pub(crate) mod sample;
mod seam;
mod text;
mod words;

pub use attachment::*;
pub(crate) use chain::{Joint, joints_apart};
pub use cutter::*;
pub use followed::Followed;
pub use json::{from_json, pretty, rounded, schema, to_json};
pub(crate) use lay::{Lay, lays};
pub use material::*;
pub(crate) use meeting::{Apart, By, Meetings, Pin, SLIT};
pub use notched::Notched;
pub use operation::*;
pub use piece::*;
pub use provenance::*;
pub use seam::*;
pub use text::*;

use crate::source::Span;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// The version of the JSON form; it grows when a field changes its meaning or goes.
pub const FORMAT_VERSION: u32 = 1;

macro_rules! ids {
    ($($(#[$doc:meta])* $name:ident),+ $(,)?) => {$(
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
        #[serde(transparent)]
        pub struct $name(pub u32);

        impl $name {
            /// The id of the item at an index.
            #[must_use]
            pub fn at(index: usize) -> Self {
                Self(u32::try_from(index).unwrap_or(u32::MAX))
            }

            /// The index of the item.
            #[must_use]
            pub const fn index(self) -> usize {
                self.0 as usize
            }
        }
    )+};
}

ids! {
    /// Of [`Design::pieces`].
    PieceId,
    /// Of one piece's [`Piece::edges`].
    EdgeId,
    /// Of [`Design::attachments`].
    AttachmentId,
    /// Of [`Design::seams`].
    SeamId,
    /// Of [`Design::operations`].
    OperationId,
    /// Of [`Design::materials`].
    MaterialId,
    /// Of [`Provenance::nodes`].
    TraceId,
}

/// One design, resolved in one size.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Design {
    /// [`FORMAT_VERSION`].
    pub format: u32,
    /// The design's name: a file-name stem.
    pub name: String,
    /// Its title, or its name.
    pub title: String,
    /// The named size; none for the defaults.
    pub size: Option<String>,
    /// The size's title, or its name; `as drawn` for the defaults.
    pub size_title: String,
    /// Names of the source files, by [`crate::source::FileId`].
    pub files: Vec<String>,
    /// Parameters with the values they have here, in source order.
    pub parameters: Vec<Parameter>,
    /// Every material that something uses, in order of first use; the thread last.
    pub materials: Vec<Material>,
    /// Every distinct piece to cut.
    pub pieces: Vec<Piece>,
    /// Everything attached, one entry a place (two a pair).
    pub attachments: Vec<Attachment>,
    /// Everything sewn together.
    pub seams: Vec<Seam>,
    /// Pieces sewn on the face of others.
    pub applied: Vec<Applied>,
    /// Layers quilted or tied through.
    pub quilting: Vec<Quilting>,
    /// What is done at the bench and the machine, in no order; [`Operation::after`] holds what is known of it.
    pub operations: Vec<Operation>,
    /// Cutters that something is cut with; what none takes is cut by hand.
    pub cutters: Vec<Cutter>,
    /// Safety notes that components, finishes and cutters carry, each once.
    pub cautions: Vec<Text>,
    /// Diagnostics accepted on purpose.
    pub accepted: Vec<Accepted>,
    /// Where every number comes from.
    pub provenance: Provenance,
}

/// A parameter and its value in this size.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Parameter {
    /// Its name.
    pub name: String,
    /// Its value, worded as a source would: `176 cm`, `zipped`.
    pub value: String,
    /// Who set it.
    pub set_by: SetBy,
    /// Its doc line.
    pub doc: String,
    /// Where the value came from.
    pub why: TraceId,
}

/// Who set a parameter.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum SetBy {
    /// Its default.
    Default,
    /// The named size.
    Size,
    /// The command line.
    CommandLine,
}

/// A warning the designer accepted.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Accepted {
    /// Its code.
    pub code: String,
    /// Why.
    pub because: String,
    /// Where this is said.
    pub origin: Span,
}

impl Design {
    /// A piece by id. Ids are made by the evaluator and always valid in their own design.
    #[must_use]
    pub fn piece(&self, id: PieceId) -> Option<&Piece> {
        self.pieces.get(id.index())
    }

    /// An edge of a piece.
    #[must_use]
    pub fn edge(&self, piece: PieceId, edge: EdgeId) -> Option<&Edge> {
        self.piece(piece).and_then(|p| p.edges.get(edge.index()))
    }

    /// A material by id.
    #[must_use]
    pub fn material(&self, id: MaterialId) -> Option<&Material> {
        self.materials.get(id.index())
    }

    /// The name under which a maker knows an edge: `outer.left`, or `shell.left` when the copy does not matter.
    #[must_use]
    pub fn edge_name(&self, side: &EdgeSide) -> String {
        let Some(piece) = self.piece(side.piece) else { return String::new() };
        let owner = side.copy.and_then(|c| piece.copies.get(c as usize)).and_then(|c| c.name.as_deref()).unwrap_or(&piece.name);
        let edge = piece.edges.get(side.edge.index()).map_or("", |e| e.name.as_str());
        format!("{owner}.{}", side.line.as_deref().unwrap_or(edge))
    }
}
