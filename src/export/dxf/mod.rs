//! Pieces as DXF for cutters: millimetres, one layer a kind of line, named in plain words.
//!
//! Of entities there are five kinds at most, and they are written pair by pair; `frame` writes header, tables, blocks
//! and objects, which a cutter file needs few of and always the same. The `dxf` crate reads the files back in the tests.
//! What it writes itself is not legal: its R12 holds codes of later versions and no drawing unit, its R2000 lacks owners
//! and the two spaces.
//!
//! Lines are polylines whose arcs stay arcs (bulges); free curves become chords that stray less than
//! [`FLATTEN`](crate::geometry::FLATTEN). What is drawn with a pen comes before what is cut, and within a piece holes
//! and notches before the outline, so that a piece lies still until its last cut.

mod entities;
mod error;
mod frame;

pub use error::DxfError;

use crate::export::drawing::{self, Layer, Sheet};
use crate::ir::Design;
use entities::{Form, entities};

/// Which form of the file.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Flavour {
    /// Release 12: the oldest still in use, which every cutter reads. Polylines with vertices, ASCII text.
    #[default]
    R12,
    /// Release 2000: light polylines, handles, a declared unit.
    R2000,
}

/// Layers in the order they are written: what is drawn, then what is cut, the outline last.
const WRITTEN: [Layer; 8] = [Layer::Text, Layer::Grain, Layer::Mark, Layer::Fold, Layer::Stitch, Layer::Hole, Layer::Notch, Layer::Cut];

/// A layer's name in the file.
fn layer_name(layer: Layer) -> String {
    layer.name().to_ascii_uppercase()
}

/// A layer's colour, as an index into the format's fixed palette: near to what it has on paper, and legible on
/// black and on white, since screens show either.
const fn colour(layer: Layer) -> u8 {
    match layer {
        // 7 is black on white and white on black.
        Layer::Cut | Layer::Hole | Layer::Notch | Layer::Text | Layer::Frame => 7,
        Layer::Stitch => 132,
        Layer::Fold => 222,
        Layer::Mark => 32,
        Layer::Grain => 8,
    }
}

/// Every piece of a design, placed as on this sheet of them.
///
/// # Errors
/// [`DxfError`] when a piece holds a number that can't be written.
pub fn cutter(design: &Design, sheet: &Sheet, flavour: Flavour) -> Result<String, DxfError> {
    let undrawn: Vec<String> = sheet.undrawn.iter().filter_map(|&id| design.piece(id)).map(|p| p.label.clone()).collect();
    if !undrawn.is_empty() {
        return Err(DxfError::NotANumber { pieces: undrawn });
    }
    let bounds = drawing::bounds(sheet);
    Ok(match flavour {
        Flavour::R12 => frame::r12(bounds, &entities(sheet, Form::R12)),
        Flavour::R2000 => frame::r2000(bounds, |handles, owner| entities(sheet, Form::R2000 { handles, owner })),
    })
}

#[cfg(test)]
mod tests;
