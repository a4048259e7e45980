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

use crate::export::cutting::Frame;
use crate::export::drawing::{self, Layer, Shape, Sheet};
use crate::geometry::{Bounds, Point};
use crate::ir::{Cutter, Design};
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

/// The colour of crosses: grey, unlike what is cut.
const CROSSES_COLOUR: u8 = 8;

/// A layer of the file.
struct Named {
    name: String,
    colour: u8,
}

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
    let layers: Vec<Named> = WRITTEN.iter().map(|&l| Named { name: layer_name(l), colour: colour(l) }).collect();
    let mut items: Vec<(&str, &Shape)> = Vec::new();
    for piece in &sheet.drawings {
        for (layer, named) in WRITTEN.into_iter().zip(&layers) {
            items.extend(piece.items.iter().filter(|i| i.layer == layer).map(|i| (named.name.as_str(), &i.shape)));
        }
    }
    Ok(write(&layers, &items, drawing::bounds(sheet), flavour))
}

/// A frame of a cutter's bed: the crosses first, then pass by pass in the order the lines are followed, on the maker's own layers.
#[must_use]
pub fn frame(cutter: &Cutter, frame: &Frame, flavour: Flavour) -> String {
    let mut layers: Vec<Named> = Vec::new();
    let crosses = (cutter.crosses.as_str(), CROSSES_COLOUR);
    let passes = || cutter.passes.iter().map(|p| (p.layer.as_str(), p.colour));
    for (name, colour) in Some(crosses).filter(|_| !frame.crosses.is_empty()).into_iter().chain(passes()) {
        if layers.iter().all(|l| l.name != name) {
            layers.push(Named { name: name.to_owned(), colour });
        }
    }
    let marks: Vec<Shape> = frame.crosses.iter().cloned().map(Shape::Line).collect();
    let done = cutter.passes.iter().zip(&frame.passes).flat_map(|(pass, shapes)| shapes.iter().map(|s| (pass.layer.as_str(), s)));
    let items: Vec<(&str, &Shape)> = marks.iter().map(|s| (cutter.crosses.as_str(), s)).chain(done).collect();
    let bed = Bounds::of(Point::default()).with(Point::new(cutter.bed_length.as_mm(), cutter.bed_width.as_mm()));
    write(&layers, &items, bed, flavour)
}

fn write(layers: &[Named], items: &[(&str, &Shape)], bounds: Bounds, flavour: Flavour) -> String {
    match flavour {
        Flavour::R12 => frame::r12(layers, bounds, &entities(items, Form::R12)),
        Flavour::R2000 => frame::r2000(layers, bounds, |handles, owner| entities(items, Form::R2000 { handles, owner })),
    }
}

#[cfg(test)]
mod tests;
