//! The shared drawing model: a design as plain shapes on a sheet.
//!
//! Millimetres, x to the right, y up, the sheet's lower left corner at the origin. A [`Sheet`] holds a
//! [`Drawing`] of each piece and its furniture (border, title block, legend, check squares). Every shape knows its
//! [`Layer`]; how a layer looks is the writer's business. All placing of words is done here, so that every
//! writer shows the same picture.

mod block;
mod cloth;
mod edges;
mod furniture;
mod grain;
mod half;
mod layout;
mod legend;
mod lines;
mod marks;
mod nest;
mod piece;
mod placed;
mod room;
mod shape;
mod title;
mod words;

pub(crate) use cloth::on_cloth;
pub use nest::{EdgeStart, Nest, NestedPiece, SizeLine, nest};
pub(crate) use piece::outline;
pub(crate) use placed::marks;
pub(crate) use shape::CAPITAL;
pub use shape::{Anchor, Item, Layer, Shape, Words};
pub(crate) use words::{copies, mark as mark_words, quantity};

use crate::geometry::{Bounds, Point, Vector};
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

/// The drawings of a design's pieces, each made once for all the sheets it stands on.
#[derive(Debug)]
pub struct Drawings<'a> {
    design: &'a Design,
    style: Style,
    /// In panel space, in the design's order.
    drawn: Vec<Drawing>,
    undrawn: Vec<PieceId>,
    /// What every sheet says to heed on which all pieces could be drawn.
    notes: title::Notes,
}

impl<'a> Drawings<'a> {
    /// Draws every piece.
    #[must_use]
    pub fn of(design: &'a Design, style: Style) -> Self {
        let (mut drawn, mut undrawn) = (Vec::new(), Vec::new());
        for (index, piece) in design.pieces.iter().enumerate() {
            let id = PieceId::at(index);
            let marks = placed::marks(design, id, piece);
            if shape::drawable(piece, &marks, LARGEST) {
                drawn.push(piece::draw(design, id, piece, &marks, style));
            } else {
                undrawn.push(id);
            }
        }
        Self { design, style, drawn, undrawn, notes: title::Notes::of(design, &[], style) }
    }

    /// Every piece on one sheet.
    #[must_use]
    pub fn sheet(&self) -> Sheet {
        self.compose(self.drawn.clone(), self.undrawn.clone())
    }

    /// One piece alone on a sheet, of one that is cut on the fold the half; an empty sheet when there is no such piece.
    #[must_use]
    pub fn single(&self, piece: PieceId) -> Sheet {
        let half = |d: &Drawing| {
            let whole = self.design.piece(d.piece).filter(|p| p.fold_line.is_some())?;
            let half = half::of(whole, &placed::marks(self.design, d.piece, whole))?;
            Some(piece::draw_half(self.design, d.piece, &half, self.style))
        };
        let drawn = self.drawn.iter().filter(|d| d.piece == piece).map(|d| half(d).unwrap_or_else(|| d.clone())).collect();
        let undrawn = self.undrawn.iter().filter(|&&id| id == piece).copied().collect();
        self.compose(drawn, undrawn)
    }

    fn compose(&self, mut drawings: Vec<Drawing>, undrawn: Vec<PieceId>) -> Sheet {
        let spread = layout::arrange(&mut drawings);
        furniture::furnish(self, drawings, undrawn, spread)
    }
}

/// Every piece of a design on one sheet.
#[cfg(test)]
pub(crate) fn sheet(design: &Design, style: Style) -> Sheet {
    Drawings::of(design, style).sheet()
}

/// One piece alone on a sheet.
#[cfg(test)]
pub(crate) fn single(design: &Design, piece: PieceId, style: Style) -> Sheet {
    Drawings::of(design, style).single(piece)
}

/// Pieces whose geometry holds a number that can't be drawn.
#[must_use]
pub(crate) fn undrawable(design: &Design) -> Vec<PieceId> {
    let ids = (0..design.pieces.len()).map(PieceId::at);
    ids.filter(|&id| design.piece(id).is_some_and(|p| !shape::drawable(p, &placed::marks(design, id, p), LARGEST))).collect()
}

/// Box around all pieces of a sheet; a point on one without pieces.
#[must_use]
pub fn bounds(sheet: &Sheet) -> Bounds {
    sheet.drawings.iter().map(|d| d.bounds).reduce(Bounds::union).unwrap_or(Bounds::of(Point::default()))
}

#[cfg(test)]
mod tests {
    use super::room::Slot;
    use super::*;
    use crate::export::sample;
    use crate::geometry::Path;
    use crate::ir::MarkShape;

    fn slots(items: &[Item]) -> Vec<(Slot, &str)> {
        let words = items.iter().filter_map(|i| if let Shape::Words(w) = &i.shape { Some(w) } else { None });
        words.map(|w| (Slot::bare(w), w.text.as_str())).collect()
    }

    fn no_overlap(slots: &[(Slot, &str)]) {
        for (i, (a, text)) in slots.iter().enumerate() {
            for (b, other) in slots.iter().skip(i + 1) {
                assert!(!a.overlaps(b), "'{text}' stands over '{other}'");
            }
        }
    }

    #[test]
    fn no_words_stand_over_others() {
        for design in [sample::quilt(), sample::tarp(), sample::sack(), crate::ir::sample::quilt().0.design] {
            let sheet = sheet(&design, Style::default());
            let mut all: Vec<(Slot, &str)> = slots(&sheet.furniture);
            for drawing in &sheet.drawings {
                all.extend(slots(&drawing.items));
            }
            assert!(all.len() > 20);
            no_overlap(&all);
        }
    }

    #[test]
    fn every_edge_mark_and_copy_is_named_on_the_sheet() {
        let design = sample::quilt();
        let sheet = sheet(&design, Style::default());
        for (drawing, piece) in sheet.drawings.iter().zip(&design.pieces) {
            let all: Vec<&str> = slots(&drawing.items).into_iter().map(|(_, t)| t).collect();
            let has = |word: &str| all.iter().any(|t| t.contains(word));
            assert!(piece.edges.iter().all(|e| has(&e.name)) && has(&piece.label) && has("face up"), "{all:?}");
            assert!(piece.copies.iter().filter_map(|c| c.name.as_deref()).all(has), "{all:?}");
            assert!(piece.marks.iter().all(|m| has(&m.text.worded(Style::default()))), "{all:?}");
        }
    }

    #[test]
    fn everything_lies_on_the_sheet() {
        for design in [sample::quilt(), sample::tarp(), sample::sack()] {
            for sheet in [sheet(&design, Style::default()), single(&design, PieceId(0), Style::default())] {
                for bounds in sheet.furniture.iter().chain(sheet.drawings.iter().flat_map(|d| &d.items)).map(|i| i.shape.bounds()) {
                    let inside = bounds.min.x >= 0.0 && bounds.min.y >= 0.0 && bounds.max.x <= sheet.width && bounds.max.y <= sheet.height;
                    assert!(inside, "{bounds:?}");
                }
            }
        }
    }

    #[test]
    fn a_piece_with_thousands_of_marks_loses_none_and_takes_no_age() {
        let mut design = sample::sack();
        let body = design.pieces.get_mut(1).expect("a body");
        for i in 0..3000_u32 {
            let at = crate::geometry::Point::new(f64::from(i % 60) * 7.0, f64::from(i / 60) * 5.0);
            let text = crate::ir::Text::words(format!("mark {i}"));
            let origin = crate::source::Span::default();
            body.marks.push(crate::ir::Mark { name: format!("m{i}"), text, copies: Vec::new(), shape: MarkShape::Point { at }, origin });
        }
        let sheet = single(&design, PieceId(1), Style::default());
        let drawing = sheet.drawings.first().expect("it is drawn");
        let written = slots(&drawing.items).into_iter().filter(|(_, t)| t.starts_with("mark ")).count();
        assert_eq!(written, 3000);
    }

    #[test]
    fn a_piece_with_thousands_of_edges_takes_no_age() {
        let mut design = sample::sack();
        let body = design.pieces.get_mut(1).expect("a body");
        let template = body.edges.first().expect("an edge").clone();
        // A saw of four thousand long teeth: nothing fits between them.
        let tip = |i: u32| Point::new(f64::from(i) * 0.5, if i.is_multiple_of(2) { 0.0 } else { -300.0 });
        let named = |i: u32| format!("tooth{i}");
        let tooth = |i: u32| crate::ir::Edge { name: named(i), path: Path::line(tip(i), tip(i + 1)), ..template.clone() };
        let back = crate::ir::Edge { path: Path::new(tip(4000)).line_to(Point::new(0.0, 300.0)).line_to(tip(0)), ..template.clone() };
        body.edges = (0..4000).map(tooth).chain([back]).collect();
        let sheet = single(&design, PieceId(1), Style::default());
        let drawing = sheet.drawings.first().expect("it is drawn");
        assert_eq!(slots(&drawing.items).into_iter().filter(|(_, t)| t.starts_with("tooth")).count(), 4000);
    }
}
