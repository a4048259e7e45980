//! Cutters: machines that cut, as their maker describes them, and what goes to them.

use super::{MaterialId, Text};
use crate::geometry::{OffsetError, Path};
use crate::quantity::Length;
use crate::source::Span;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// A machine that something is cut with.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Cutter {
    /// Its name in the source; its files are named after it.
    pub name: String,
    /// Its title, or its name.
    pub title: String,
    /// How it cuts.
    pub kind: CutterKind,
    /// How far it reaches along the warp.
    pub bed_length: Length,
    /// How far it reaches across the warp.
    pub bed_width: Length,
    /// Width of what it burns away; none when that is not made up for.
    pub kerf: Length,
    /// How far a dragged knife's tip trails its holder: the machine makes up for it, once told.
    pub offset: Length,
    /// How far it goes on past the start of a closed line.
    pub overcut: Length,
    /// The smallest thing it can cut.
    pub smallest: Length,
    /// What two frames of one piece have in common.
    pub overlap: Length,
    /// Left between pieces.
    pub gap: Length,
    /// What it does, in this order.
    pub passes: Vec<Pass>,
    /// The layer of the crosses by which frames are laid on each other.
    pub crosses: String,
    /// What is cut with it.
    pub materials: Vec<CutMaterial>,
    /// What to heed at it.
    pub cautions: Vec<Text>,
    /// Where it is declared.
    pub origin: Span,
}

impl Cutter {
    /// The smallest thing that comes out as drawn: what it says of itself, and never less than what it burns away.
    #[must_use]
    pub fn finest(&self) -> Length {
        Length::mm(self.smallest.as_mm().max(self.kerf.as_mm()))
    }

    /// Whether it draws or cuts a sort of line.
    #[must_use]
    pub fn does(&self, line: LineSort) -> bool {
        self.passes.iter().any(|p| p.lines.contains(&line))
    }

    /// Whether it cuts a sort of line.
    #[must_use]
    pub fn cuts(&self, line: LineSort) -> bool {
        self.passes.iter().any(|p| p.cuts && p.lines.contains(&line))
    }

    /// The line to follow so that the hole comes out like this: half of the kerf inside it.
    ///
    /// # Errors
    /// Where the hole has no room for that.
    pub fn hole_to_follow(&self, hole: &Path) -> Result<Path, OffsetError> {
        hole.ring_beside(-self.kerf.as_mm() / 2.0)
    }
}

/// How many beds, each with a strip in common with the next, it takes along a length; all in mm.
#[must_use]
pub fn frames_along(length: f64, bed: f64, overlap: f64) -> u32 {
    const NOISE: f64 = 1e-6;
    let wanted = ((length - overlap - NOISE) / (bed - overlap)).ceil();
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "held within 1 and a million")]
    let count = if wanted.is_nan() { 1 } else { wanted.clamp(1.0, 1e6) as u32 };
    count
}

/// A material sent to a cutter.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct CutMaterial {
    /// Which.
    pub material: MaterialId,
    /// Where this is said.
    pub origin: Span,
}

/// How a cutter cuts.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum CutterKind {
    /// It burns its way through.
    Laser,
    /// A knife dragged along, its tip behind its holder.
    Knife,
    /// A blade turned by a motor, rolled, or led by hand.
    Blade,
    /// It draws and cuts nothing.
    Pen,
}

impl CutterKind {
    /// In words.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Laser => "laser",
            Self::Knife => "drag knife",
            Self::Blade => "blade",
            Self::Pen => "pen",
        }
    }
}

/// Lines drawn or cut in one go.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Pass {
    /// Whether it goes through the cloth.
    pub cuts: bool,
    /// Which lines.
    pub lines: Vec<LineSort>,
    /// The layer they lie on, as the maker's machine knows it.
    pub layer: String,
    /// Its colour, by its number in the drawing format's palette.
    pub colour: u8,
}

/// Sorts of line on a piece.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum LineSort {
    /// The line to cut along.
    Outlines,
    /// Holes.
    Holes,
    /// Notches.
    Notches,
    /// Marks on the face.
    Marks,
    /// Lines to fold along.
    Folds,
    /// The finished outline.
    Stitching,
    /// The grain arrow.
    Grain,
    /// What a piece is called, and its marks.
    Text,
}

impl LineSort {
    /// Every sort.
    pub const ALL: [Self; 8] =
        [Self::Outlines, Self::Holes, Self::Notches, Self::Marks, Self::Folds, Self::Stitching, Self::Grain, Self::Text];

    /// How a source names it.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Outlines => "outlines",
            Self::Holes => "holes",
            Self::Notches => "notches",
            Self::Marks => "marks",
            Self::Folds => "folds",
            Self::Stitching => "stitching",
            Self::Grain => "grain",
            Self::Text => "text",
        }
    }
}
