//! All sizes of each piece in one drawing, laid over one another at a common point.
//!
//! Drawn are cut lines, holes and notches: each size's in a line of its own, which the legend names, and once in a plain
//! line where several sizes run together. Sizes in which every piece is alike share a line. Pieces are known across
//! sizes by their names.

mod common;
mod family;
mod legend;
mod piece;
mod shared;
mod tags;

pub use common::EdgeStart;

use super::furniture::{self, Frame};
use super::title::{self, Notes};
use super::{Drawing, Item, layout};
use crate::ir::Design;
use crate::quantity::Style;
use family::Family;
use piece::Owner;

/// A sheet of nested pieces.
#[derive(Debug, Clone, PartialEq)]
pub struct Nest {
    /// Its width, mm.
    pub width: f64,
    /// Its height, mm.
    pub height: f64,
    /// How much wider than on a small sheet lines are drawn.
    pub pen: f64,
    /// The pieces, in the order of the first size that has them.
    pub pieces: Vec<NestedPiece>,
    /// Border, title block, legend and check squares.
    pub furniture: Vec<Item>,
    /// The legend's samples, each with the number of its line.
    pub samples: Vec<(usize, Item)>,
}

/// A piece in all its sizes.
#[derive(Debug, Clone, PartialEq)]
pub struct NestedPiece {
    /// A name for it that is unlike all others on the sheet: letters, digits, `-` and `_`.
    pub id: String,
    /// Its label.
    pub label: String,
    /// What is cut in several sizes alike.
    pub shared: Vec<Item>,
    /// What is cut in one size, or in sizes that are alike.
    pub lines: Vec<SizeLine>,
    /// Words, the grain arrow, the common point.
    pub items: Vec<Item>,
}

/// What is drawn of a size.
#[derive(Debug, Clone, PartialEq)]
pub struct SizeLine {
    /// The number of its line: the same on all pieces, and small.
    pub line: usize,
    /// The sizes it stands for.
    pub sizes: Vec<String>,
    /// What is drawn.
    pub items: Vec<Item>,
}

/// Every piece of a design in all these sizes; `at` names edges whose starts are laid over one another, instead of the
/// lower left corners of the finished outlines.
#[must_use]
pub fn nest(sizes: &[&Design], at: &[EdgeStart], style: Style) -> Nest {
    let family = Family::of(sizes);
    let mut owners = Vec::new();
    let mut drawings: Vec<Drawing> = Vec::new();
    for nested in family.pieces().into_iter().enumerate().filter_map(|(i, name)| piece::draw(&family, (i, name), at, style)) {
        drawings.push(nested.drawing);
        owners.push((nested.label, nested.lines, nested.owners));
    }
    let spread = layout::arrange(&mut drawings);
    let size = furniture::type_size(spread);
    let has_shared = owners.iter().any(|(_, _, all)| all.contains(&Owner::Shared));
    let legend = legend::of(&family, &drawings, has_shared, size);
    let Some(first) = sizes.first() else { return empty() };
    let title = title::titled(first, ("All sizes, one over the other", "Lines are cut lines"), style, size);
    let Frame { width, height, pen, pieces, items: furniture, samples } =
        furniture::frame(spread, &legend, title, &Notes::said(legend::heed(&family, style)));
    layout::shift(&mut drawings, pieces);
    let pieces = drawings.into_iter().zip(owners).map(|(drawing, (label, lines, owners))| split(drawing, label, lines, &owners)).collect();
    Nest { width, height, pen, pieces, furniture, samples }
}

fn empty() -> Nest {
    Nest { width: 0.0, height: 0.0, pen: 1.0, pieces: Vec::new(), furniture: Vec::new(), samples: Vec::new() }
}

/// A drawing's items, given to those they belong to.
fn split(drawing: Drawing, label: String, lines: Vec<(usize, Vec<String>)>, owners: &[Owner]) -> NestedPiece {
    let lines = lines.into_iter().map(|(line, sizes)| SizeLine { line, sizes, items: Vec::new() }).collect();
    let mut nested = NestedPiece { id: drawing.id, label, shared: Vec::new(), lines, items: Vec::new() };
    for (item, owner) in drawing.items.into_iter().zip(owners) {
        match owner {
            Owner::Shared => nested.shared.push(item),
            Owner::Line(index) => nested.lines.get_mut(*index).map_or(&mut nested.items, |l| &mut l.items).push(item),
            Owner::Piece => nested.items.push(item),
        }
    }
    nested
}

#[cfg(test)]
mod tests;
