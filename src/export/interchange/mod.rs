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
//! - A notch is a POINT on the boundary: its depth stands as z (30), its direction in degrees as 50. A slit has no
//!   width (39).
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
use crate::export::pairs::push_text;
use crate::geometry::{Bounds, Point, Vector};
use crate::ir::{Design, Piece, PieceId};
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

/// One size, the content of each piece's block written: a file of this size and one of all sizes hold the same.
#[derive(Debug)]
pub struct Blocks<'d> {
    design: &'d Design,
    /// In the design's order; none of a piece that holds a number that can't be written.
    contents: Vec<Option<String>>,
}

impl<'d> Blocks<'d> {
    /// Every piece of a design.
    #[must_use]
    pub fn of(design: &'d Design, options: &InterchangeOptions) -> Self {
        let undrawn = drawing::undrawable(design);
        let content = |(index, piece): (usize, &Piece)| {
            let id = PieceId::at(index);
            (!undrawn.contains(&id)).then(|| block::content(design, id, piece, options.style))
        };
        Self { design, contents: design.pieces.iter().enumerate().map(content).collect() }
    }

    fn undrawn(&self) -> impl Iterator<Item = String> {
        self.design.pieces.iter().zip(&self.contents).filter(|(_, content)| content.is_none()).map(|(piece, _)| piece.label.clone())
    }
}

/// Every piece in every one of these sizes of one design.
///
/// # Errors
/// [`InterchangeError`] when a piece holds a number that can't be written.
pub fn pattern(sizes: &[Blocks<'_>]) -> Result<String, InterchangeError> {
    let mut undrawn: Vec<String> = sizes.iter().flat_map(Blocks::undrawn).collect();
    undrawn.dedup();
    if !undrawn.is_empty() {
        return Err(InterchangeError::NotANumber { pieces: undrawn });
    }
    let mut names = Names::default();
    let (mut file, mut inserts) = (String::new(), String::new());
    section(&mut file, "HEADER");
    end_section(&mut file);
    section(&mut file, "BLOCKS");
    let mut top = 0.0;
    for Blocks { design, contents } in sizes {
        let boxes: Vec<Bounds> = design.pieces.iter().map(|p| p.cut_line.bounds()).collect();
        let height = boxes.iter().fold(0.0_f64, |most, b| most.max(b.height()));
        let low = top - height;
        let mut left = 0.0;
        for ((piece, bounds), content) in design.pieces.iter().zip(&boxes).zip(contents.iter().flatten()) {
            let name = names.free(&piece.name, size_of(design));
            entity::block(&mut file, &name, content);
            entity::insert(&mut inserts, &name, Point::new(left, low) - bounds.min);
            left += bounds.width() + GAP;
        }
        top = low - GAP;
    }
    end_section(&mut file);
    section(&mut file, "ENTITIES");
    file.push_str(&inserts);
    style_texts(&mut file, sizes, Point::new(0.0, LEADING));
    end_section(&mut file);
    push_text(&mut file, 0, "EOF");
    Ok(file)
}

fn section(file: &mut String, name: &str) {
    push_text(file, 0, "SECTION");
    push_text(file, 2, name);
}

fn end_section(file: &mut String) {
    push_text(file, 0, "ENDSEC");
}

/// What a size is called.
fn size_of(design: &Design) -> &str {
    design.size.as_deref().unwrap_or(&design.size_title)
}

/// What holds for all pieces. The sample size is the one as drawn, where it is there.
fn style_texts(file: &mut String, sizes: &[Blocks<'_>], foot: Point) {
    let mut designs = sizes.iter().map(|s| s.design);
    let Some(sample) = designs.clone().find(|d| d.size.is_none()).or(designs.next()) else { return };
    let said = [("STYLE NAME", sample.name.as_str()), ("UNITS", "METRIC"), ("SAMPLE SIZE", size_of(sample))];
    let mut at = foot + Vector::new(0.0, LEADING * 2.0);
    for (keyword, value) in said {
        entity::said(file, keyword, value, at, TYPE);
        at = at - Vector::new(0.0, LEADING);
    }
}

#[cfg(test)]
mod tests;
