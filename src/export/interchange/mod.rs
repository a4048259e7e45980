//! Pieces for other pattern makers' programs: pattern interchange after ASTM D6673, in DXF release 12.
//!
//! One BLOCK a piece and size, one INSERT a block, all of it in millimetres and 7-bit ASCII. What a line means is said
//! by its layer's number ([`Layer`]), and what a piece is by texts of the form `KEYWORD: value`.
//!
//! # What is known of the standard, and what is not
//!
//! Read, in its front matter: it carries two-dimensional pieces of one style, complies with DXF, starts a piece with a
//! block, and carries no relations between pieces and no cutter's instructions. So seams, order and materials stay in
//! this project's own files, and a cutter has files of its own. Read, in a DXF library's pages about it: text is 7-bit
//! ASCII; some readers can't skip blocks that are no pieces, and the file they mind least is release 12 with an empty
//! HEADER, without TABLES, model and paper space.
//!
//! From memory, never seen in the standard: the layers' numbers, the keywords, that a closed line repeats its first
//! vertex, that every vertex has its POINT on layer 2 or 3, and what a notch's numbers mean. Readers differ in all of
//! these: try a small piece on the receiving machine before cutting from such a file.
//!
//! # What is written
//!
//! - Curves are chords within [`FLATTEN`](crate::geometry::FLATTEN); `vertex` says which vertices turn and which lie
//!   on a curve.
//! - The boundary is the cut line. The finished outline is the sew line.
//! - A notch is a POINT on the boundary, on the layer of its form: its depth stands as z (30), its width as 39 (nothing
//!   for a slit, which tells it from a vee), its direction in degrees as 50.
//! - Layer 13 holds only what is to be pricked or drilled: `mark drill`, and where a snap is set. A point that is marked
//!   and no more is a small cross among the internal lines, so that no machine makes a hole of it.
//! - A piece cut on the fold stands whole, its centre as an internal line (8). A mirror line (6, from memory) would say that half
//!   of it is left out; a reader that passes over layer 6 would then cut half a piece.
//! - Every piece has its grain line, also one whose grain may lie any way, which its ANNOTATION says.
//! - QUANTITY counts all copies of a piece. How many of them are mirrored is said in ANNOTATION: the standard has a
//!   form for it that not all readers share.
//! - No CREATION DATE and no CREATION TIME: the same source gives the same file, on any day. No GRADE RULE TABLE
//!   either: every size stands in the file whole.
//!
//! Pairs are written here and not by the `dxf` crate: what it adds to each entity (handles, classes, colours) and round
//! them (header, tables) is just what these readers stumble over. The crate reads the files back in the tests.

mod annotation;
mod block;
mod entity;
mod error;
mod grain;
mod layer;
mod name;
mod vertex;

pub use error::InterchangeError;
pub use layer::Layer;

use crate::export::drawing;
use crate::export::pairs::{Pair, pair, section, text};
use crate::geometry::{Bounds, Point, Vector};
use crate::ir::{Design, PieceId};
use crate::quantity::Style;
use name::Names;

/// How to write.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct InterchangeOptions {
    /// How measures in annotations are worded; lines are in millimetres whichever it is.
    pub style: Style,
}

/// Between pieces as they are inserted, mm.
const GAP: f64 = 50.0;
/// Height of the style's texts, mm, and from one to the next.
const TYPE: f64 = 10.0;
const LEADING: f64 = 16.0;

/// Every piece in every one of these sizes of one design.
///
/// # Errors
/// [`InterchangeError`] when a piece holds a number that can't be written.
pub fn pattern(sizes: &[&Design], options: &InterchangeOptions) -> Result<String, InterchangeError> {
    let mut undrawn: Vec<String> =
        sizes.iter().flat_map(|d| drawing::undrawable(d).into_iter().filter_map(|id| d.piece(id)).map(|p| p.label.clone())).collect();
    undrawn.dedup();
    if !undrawn.is_empty() {
        return Err(InterchangeError::NotANumber { pieces: undrawn });
    }
    let mut names = Names::default();
    let (mut blocks, mut inserts) = (Vec::new(), Vec::new());
    let mut top = 0.0;
    for design in sizes {
        let boxes: Vec<Bounds> = design.pieces.iter().map(|p| p.cut_line.bounds()).collect();
        let height = boxes.iter().fold(0.0_f64, |most, b| most.max(b.height()));
        let low = top - height;
        let mut left = 0.0;
        for (index, (piece, bounds)) in design.pieces.iter().zip(&boxes).enumerate() {
            let name = names.free(&piece.name, size_of(design));
            let content = block::content(design, PieceId::at(index), piece, options.style);
            blocks.extend(entity::block(&name, content));
            inserts.extend(entity::insert(&name, Point::new(left, low) - bounds.min));
            left += bounds.width() + GAP;
        }
        top = low - GAP;
    }
    inserts.extend(style_texts(sizes, Point::new(0.0, LEADING)));
    let mut all = section("HEADER", []);
    all.extend(section("BLOCKS", blocks));
    all.extend(section("ENTITIES", inserts));
    all.push(pair(0, "EOF"));
    Ok(text(&all))
}

/// What a size is called.
fn size_of(design: &Design) -> &str {
    design.size.as_deref().unwrap_or(&design.size_title)
}

/// What holds for all pieces. The sample size is the one as drawn, where it is there.
fn style_texts(sizes: &[&Design], foot: Point) -> Vec<Pair> {
    let Some(sample) = sizes.iter().find(|d| d.size.is_none()).or(sizes.first()) else { return Vec::new() };
    let said = [("STYLE NAME", sample.name.as_str()), ("UNITS", "METRIC"), ("SAMPLE SIZE", size_of(sample))];
    let mut at = foot + Vector::new(0.0, LEADING * 2.0);
    let mut all = Vec::new();
    for (keyword, value) in said {
        all.extend(entity::said(keyword, value, at, TYPE));
        at = at - Vector::new(0.0, LEADING);
    }
    all
}

#[cfg(test)]
mod tests;
