//! The title cell, and what to heed before cutting.

use super::furniture::{Cell, Stack};
use super::piece::{wrap, wrap_to};
use super::shape::Item;
use super::shape::Layer;
use crate::geometry::Point;
use crate::ir::{Design, PieceId};
use crate::quantity::{Style, UnitSystem};

/// The notes' cell is at least so wide, in heights of type.
pub(super) const NOTES_LEAST: f64 = 34.0;
/// Lines of notes are at most so long, in heights of type: longer ones are hard to read.
const NOTES_MOST: f64 = 46.0;
/// The title's cell is at least so wide, in heights of type.
const TITLE_LEAST: f64 = 34.0;
/// The title is broken past so many letters.
const TITLE_LETTERS: usize = 34;

/// What the sheet shows, in which size and units.
pub(super) fn title(design: &Design, style: Style, size: f64) -> Cell {
    let mut stack = Stack::new(size);
    for line in wrap(&design.title, TITLE_LETTERS) {
        stack.line(&line, size * 1.8, true);
    }
    stack.y -= size * 0.2;
    stack.line(&format!("Size: {}", design.size_title), size * 1.3, false);
    stack.y -= size * 0.5;
    let rule = stack.y;
    stack.y -= size * 0.9;
    let units = match style.system {
        UnitSystem::Metric => "lengths in metric units",
        UnitSystem::Inch => "lengths in inches",
    };
    stack.line(&format!("Scale 1:1, {units}"), size, false);
    stack.line("Finished outline = stitch line", size, false);
    stack.line("Check the square before you cut", size, true);
    let mut cell = stack.cell(TITLE_LEAST * size);
    cell.items.push(Item::line(Layer::Frame, Point::new(0.0, rule), Point::new(cell.width, rule)));
    cell
}

/// What to heed: the check squares, the design's own cautions, and pieces that could not be drawn.
pub(super) fn notes(design: &Design, undrawn: &[PieceId], size: f64, width: f64) -> Cell {
    let mut stack = Stack::new(size);
    stack.heading("Before you cut");
    let mut all = vec![
        "Measure a check square, both ways. If a side is off, print again at 100%, not fitted to the page.".to_owned(),
        "Blades, hot knives and lasers: follow the maker's instructions and local rules, and keep the air clear of fumes.".to_owned(),
    ];
    all.extend(design.cautions.iter().map(|c| c.worded(Style::default())));
    for piece in undrawn.iter().filter_map(|&id| design.piece(id)) {
        all.push(format!("Not drawn: {}. A number in it is too large, or is none.", piece.label));
    }
    let line_width = width.min(NOTES_MOST * size) - 2.0 * stack.inset;
    for note in all {
        for line in wrap_to(&note, size, line_width) {
            stack.line(&line, size, false);
        }
        stack.y -= size * 0.35;
    }
    let height = stack.cell(0.0);
    Cell { width, ..height }
}
