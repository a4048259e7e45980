//! Pieces for pen plotters and cutters that read HP-GL, the open plotter language.
//!
//! Units are fortieths of a millimetre, whole numbers; the lower left of all that is drawn lies at the origin, and the
//! pieces lie as on their sheet. Pen 1 writes marks and words, pen 2 folds and stitch lines, pen 3 cuts: in this order
//! over the whole file, so that nothing is cut before all is drawn, and within pen 3 a piece's holes and notches come
//! before its outline. Curves become chords within [`FLATTEN`](crate::geometry::FLATTEN).
//!
//! Read, in public descriptions of the language: the unit, `IN`, `SP`, `PA`, `PU`, `PD`, `LB`. From memory: that a label
//! ends with ETX, how `SI` and `DI` size and turn it, and that `SP0` puts the pen away. Old machines hold numbers up
//! to 32,767 only, 819 mm; a longer piece needs one that reads on. Which tool sits in which pen is the maker's to set.

mod error;
mod pen;

pub use error::PlotterError;

use crate::export::cutting::Frame;
use crate::export::drawing::{Layer, Shape, Sheet};
use crate::geometry::{Bounds, Point};
use crate::ir::Design;
use pen::Plot;

/// Each pen with its layers, in the order they are drawn; the outline is cut last.
const PENS: [(u8, &[Layer]); 3] =
    [(1, &[Layer::Text, Layer::Grain, Layer::Mark]), (2, &[Layer::Fold, Layer::Stitch]), (3, &[Layer::Hole, Layer::Notch, Layer::Cut])];

/// Every piece of a design, placed as on this sheet of them.
///
/// # Errors
/// [`PlotterError`] when a piece holds a number that can't be written.
pub fn plot(design: &Design, sheet: &Sheet) -> Result<String, PlotterError> {
    let undrawn: Vec<String> = sheet.undrawn.iter().filter_map(|&id| design.piece(id)).map(|p| p.label.clone()).collect();
    if !undrawn.is_empty() {
        return Err(PlotterError::NotANumber { pieces: undrawn });
    }
    let items = || sheet.drawings.iter().flat_map(|d| &d.items);
    let around = items().map(|i| i.shape.bounds()).reduce(Bounds::union).unwrap_or(Bounds::of(Point::default()));
    let mut plot = Plot::from(around.min);
    for (pen, layers) in PENS {
        let mut taken = false;
        for piece in &sheet.drawings {
            for layer in layers {
                for item in piece.items.iter().filter(|i| i.layer == *layer) {
                    if !taken {
                        plot.take(pen);
                        taken = true;
                    }
                    plot.draw(&item.shape);
                }
            }
        }
    }
    Ok(plot.done())
}

/// A frame of a cutter's bed, whose corner is the origin: pen 1 draws the crosses where there are any, and each pass has the next pen.
#[must_use]
pub fn frame(frame: &Frame) -> String {
    let mut plot = Plot::from(Point::default());
    let crosses: Vec<Shape> = frame.crosses.iter().cloned().map(Shape::Line).collect();
    let passes = (!crosses.is_empty()).then_some(&crosses).into_iter().chain(&frame.passes);
    for (pen, shapes) in (1..=u8::MAX).zip(passes) {
        if !shapes.is_empty() {
            plot.take(pen);
        }
        shapes.iter().for_each(|shape| plot.draw(shape));
    }
    plot.done()
}

#[cfg(test)]
mod tests;
