//! The title cell, and what to heed before cutting.

use super::furniture::{Cell, Stack};
use super::piece::{count_lines_to, word_lengths, wrap, wrap_to};
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
    // Where an edge is hemmed the finished outline is its fold.
    let lines =
        if design.pieces.iter().any(super::legend::is_hemmed) { "Dashes: the finished outline" } else { "Finished outline = stitch line" };
    titled(design, (&format!("Size: {}", design.size_title), lines), style, size)
}

/// A title with what is said of sizes and of lines.
pub(super) fn titled(design: &Design, (sizes, lines): (&str, &str), style: Style, size: f64) -> Cell {
    let mut stack = Stack::new(size);
    for line in wrap(&design.title, TITLE_LETTERS) {
        stack.line(&line, size * 1.8, true);
    }
    stack.y -= size * 0.2;
    stack.line(sizes, size * 1.3, false);
    stack.y -= size * 0.5;
    let rule = stack.y;
    stack.y -= size * 0.9;
    let units = match style.system {
        UnitSystem::Metric => "lengths in metric units",
        UnitSystem::Inch => "lengths in inches",
    };
    stack.line(format!("Scale 1:1, {units}"), size, false);
    stack.line(lines, size, false);
    stack.line("Check the square before you cut", size, true);
    let mut cell = stack.cell(TITLE_LEAST * size);
    cell.items.push(Item::line(Layer::Frame, Point::new(0.0, rule), Point::new(cell.width, rule)));
    cell
}

/// What to heed before cutting: a paragraph each, and the lengths of its words, which tell how many lines it takes.
#[derive(Debug)]
pub(super) struct Notes {
    paragraphs: Vec<String>,
    words: Vec<Vec<usize>>,
}

impl Notes {
    /// Of the check squares, a design's own cautions, and pieces that could not be drawn.
    pub(super) fn of(design: &Design, undrawn: &[PieceId], style: Style) -> Self {
        Self::said(heed(design, undrawn, style))
    }

    /// Of these paragraphs.
    pub(super) fn said(paragraphs: Vec<String>) -> Self {
        let words = paragraphs.iter().map(|note| word_lengths(note)).collect();
        Self { paragraphs, words }
    }

    /// The cell of the notes in so many columns.
    pub(super) fn cell(&self, size: f64, width: f64, columns: u8) -> Cell {
        let line_width = line_width(size, width, columns);
        let notes: Vec<Vec<String>> = self.paragraphs.iter().map(|note| wrap_to(note, size, line_width)).collect();
        let counts: Vec<usize> = notes.iter().map(Vec::len).collect();
        let mut lines = notes.into_iter().flatten();
        flow(&counts, size, width, columns, |stack| lines.next().into_iter().for_each(|line| stack.line(line, size, false)))
    }

    /// How high that cell is.
    pub(super) fn height(&self, size: f64, width: f64, columns: u8) -> f64 {
        let line_width = line_width(size, width, columns);
        let counts: Vec<usize> = self.words.iter().map(|words| count_lines_to(words, size, line_width)).collect();
        flow(&counts, size, width, columns, |stack| stack.down(size)).height
    }
}

/// What there is to heed, a paragraph each.
pub(super) fn heed(design: &Design, undrawn: &[PieceId], style: Style) -> Vec<String> {
    let mut all = vec![
        "Measure a check square, both ways. If a side is off, print again at 100%, not fitted to the page.".to_owned(),
        "Blades, hot knives and lasers: follow the maker's instructions and local rules, and keep the air clear of fumes.".to_owned(),
    ];
    all.extend(design.cautions.iter().map(|c| c.worded(style)));
    for piece in undrawn.iter().filter_map(|&id| design.piece(id)) {
        all.push(format!("Not drawn: {}. A number in it is too large, or is none.", piece.label));
    }
    all
}

fn line_width(size: f64, width: f64, columns: u8) -> f64 {
    let inset = Stack::new(size).inset;
    ((width - inset) / f64::from(columns) - inset).min(NOTES_MOST * size)
}

/// Lets notes of so many lines flow through the columns; `set` sets the next line.
fn flow(counts: &[usize], size: f64, width: f64, columns: u8, mut set: impl FnMut(&mut Stack)) -> Cell {
    let mut stack = Stack::new(size);
    stack.heading("Before you cut");
    let step = (width - stack.inset) / f64::from(columns);
    let all: usize = counts.iter().map(|lines| lines + 1).sum();
    let most = all.div_ceil(usize::from(columns));
    let (top, mut lowest, mut filled, mut column) = (stack.y, stack.y, 0, 1);
    for &lines in counts {
        // A new column once this one holds its share, but never in the middle of a note. The last takes what is left.
        if filled > 0 && filled + lines / 2 >= most && column < columns {
            stack.inset += step;
            (stack.y, filled, column) = (top, 0, column + 1);
        }
        for _ in 0..lines {
            set(&mut stack);
        }
        stack.y -= size * 0.35;
        filled += lines + 1;
        lowest = lowest.min(stack.y);
    }
    stack.y = lowest;
    Cell { width, ..stack.cell(0.0) }
}
