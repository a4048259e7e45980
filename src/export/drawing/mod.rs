//! The shared drawing model: a design as plain shapes on a sheet.
//!
//! Millimetres, x to the right, y up, the sheet's lower left corner at the origin. A [`Sheet`] holds a
//! [`Drawing`] of each piece and its furniture (border, title block, legend, check squares). Every shape knows its
//! [`Layer`]; how a layer looks is the writer's business. All placing of words is done here, so that every
//! writer shows the same picture.

mod block;
mod edges;
mod furniture;
mod grain;
mod layout;
mod legend;
mod marks;
mod piece;
mod room;
mod shape;
mod title;
mod words;

pub use shape::{Anchor, Item, Layer, Shape, Words};

use crate::geometry::{Bounds, Vector};
use crate::ir::{Design, PieceId};
use crate::quantity::Style;

/// Nothing sewn is a kilometre long: past this (mm) a number is a slip, and no writer could hold it.
const LARGEST: f64 = 1e6;

/// A sheet.
#[derive(Debug, Clone, PartialEq)]
pub struct Sheet {
    /// Its width, mm.
    pub width: f64,
    /// Its height, mm.
    pub height: f64,
    /// How much wider than on a small sheet lines are drawn, so that they still show when all of it is seen at once.
    pub pen: f64,
    /// The pieces, in the design's order.
    pub drawings: Vec<Drawing>,
    /// Border, title block, legend and check squares.
    pub furniture: Vec<Item>,
    /// Pieces whose geometry holds a number that can't be drawn.
    pub undrawn: Vec<PieceId>,
}

/// A piece on a sheet.
#[derive(Debug, Clone, PartialEq)]
pub struct Drawing {
    /// Which piece.
    pub piece: PieceId,
    /// A name for it that is unlike all others of its design: letters, digits, `-` and `_`.
    pub id: String,
    /// Where the origin of panel space lies on the sheet.
    pub origin: Vector,
    /// What is drawn, in sheet space.
    pub items: Vec<Item>,
    /// Box around all of it.
    pub bounds: Bounds,
}

impl Drawing {
    fn shift(&mut self, by: Vector) {
        self.origin = self.origin + by;
        self.bounds = Bounds { min: self.bounds.min + by, max: self.bounds.max + by };
        for item in &mut self.items {
            item.shape.shift(by);
        }
    }
}

/// Every piece of a design on one sheet.
#[must_use]
pub fn sheet(design: &Design, style: Style) -> Sheet {
    let ids: Vec<PieceId> = (0..design.pieces.len()).map(PieceId::at).collect();
    compose(design, &ids, style)
}

/// One piece alone on a sheet; an empty sheet when there is no such piece.
#[must_use]
pub fn single(design: &Design, piece: PieceId, style: Style) -> Sheet {
    compose(design, &[piece], style)
}

fn compose(design: &Design, ids: &[PieceId], style: Style) -> Sheet {
    let mut drawings = Vec::new();
    let mut undrawn = Vec::new();
    for &id in ids {
        let Some(piece) = design.piece(id) else { continue };
        if shape::drawable(piece, LARGEST) {
            drawings.push(piece::draw(design, id, piece, style));
        } else {
            undrawn.push(id);
        }
    }
    let spread = layout::arrange(&mut drawings);
    furniture::furnish(design, style, drawings, undrawn, spread)
}
