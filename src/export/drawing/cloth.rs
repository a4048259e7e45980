//! What is written and marked on the cloth itself: marks, their names, the grain arrow, and what the piece is called.

use super::marks;
use super::piece::Draft;
use super::shape::{Item, Layer, Shape};
use crate::geometry::{FLATTEN, Point, encloses};
use crate::ir::{Design, Mark, Piece};
use crate::quantity::Style;

/// Type on cloth is no larger than this (mm): it is read from a table's edge, and has to be hidden or washed out.
const TYPE_MOST: f64 = 12.0;

/// Marks, words and grain arrow of a piece as it lies on the table; words that have no room inside its cut line are left out.
pub(crate) fn on_cloth(design: &Design, laid: &Piece, drawn: &[Mark], title: Vec<String>, style: Style) -> Vec<Item> {
    let mut draft = Draft::new(design, laid, style);
    draft.size = draft.size.min(TYPE_MOST);
    for line in laid.holes.iter().map(|h| &h.path).chain(laid.folds.iter().map(|f| &f.path)) {
        draft.room.take_line(line);
    }
    marks::draw(&mut draft, drawn);
    draft.title(title.iter().map(|line| super::words::clipped(line)).collect());
    let cut = laid.cut_line.flatten(FLATTEN);
    let inside = |p: &Point| encloses(&cut, *p);
    draft.items.retain(|item| match &item.shape {
        _ if item.layer != Layer::Text => true,
        Shape::Words(words) => words.corners().iter().all(inside),
        Shape::Line(path) | Shape::Symbol(path) | Shape::Solid(path) => inside(&path.start) && inside(&path.end()),
        Shape::Circle { centre, .. } => inside(centre),
    });
    draft.items
}
