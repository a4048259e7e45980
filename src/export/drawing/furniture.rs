//! What stands on a sheet beside the pieces: a border, and along its foot a band of cells with the legend,
//! the check squares, what to heed before cutting, and the title.

use super::layout::{self, Spread};
use super::legend::{self, Legend};
use super::piece::LEADING;
use super::shape::{Anchor, CAPITAL, Item, Layer, Shape, Words};
use super::title::{self, Notes};
use super::{Drawing, Drawings, Sheet};
use crate::geometry::{Path, Point, Vector};
use crate::ir::PieceId;

/// Type of the furniture as a part of the sheet's longer side, and its bounds in mm.
const TYPE_OF_SHEET: f64 = 1.0 / 135.0;
const TYPE: (f64, f64) = (4.2, 24.0);
/// Line widths are multiplied by the longer side over this (mm), within bounds: a sheet three metres wide on a
/// screen shows about two millimetres a dot, and lines of a sheet of paper would be lost on it.
const PEN_OF_SHEET: f64 = 1.0 / 1000.0;
const PEN: (f64, f64) = (0.8, 2.5);
/// Between pieces and border, in heights of type.
const PAD: f64 = 3.2;
/// Between border and the sheet's edge, in heights of type.
const MARGIN: f64 = 1.6;

/// A cell of the band: what stands in it, its lower left corner at the origin.
pub(super) struct Cell {
    /// Its width.
    pub(super) width: f64,
    /// Its height.
    pub(super) height: f64,
    /// Items, set from the cell's top (y = 0) downwards.
    pub(super) items: Vec<Item>,
    /// Samples of the lines of sizes, each with the number of its line.
    pub(super) samples: Vec<(usize, Item)>,
}

/// Frames pieces already laid out.
pub(super) fn furnish(on: &Drawings<'_>, mut drawings: Vec<Drawing>, undrawn: Vec<PieceId>, spread: Spread) -> Sheet {
    let size = type_size(spread);
    let legend = legend::of(on.design, &drawings, size);
    let title = title::title(on.design, on.style, size);
    let frame = if undrawn.is_empty() {
        frame(spread, &legend, title, &on.notes)
    } else {
        frame(spread, &legend, title, &Notes::of(on.design, &undrawn, on.style))
    };
    layout::shift(&mut drawings, frame.pieces);
    Sheet { width: frame.width, height: frame.height, pen: frame.pen, drawings, furniture: frame.items, undrawn }
}

/// What stands round the pieces.
pub(super) struct Frame {
    /// The sheet's width.
    pub(super) width: f64,
    /// The sheet's height.
    pub(super) height: f64,
    /// How much wider than on a small sheet lines are drawn.
    pub(super) pen: f64,
    /// By how much pieces laid out from the origin are moved.
    pub(super) pieces: Vector,
    /// Border and cells.
    pub(super) items: Vec<Item>,
    /// Samples of the lines of sizes.
    pub(super) samples: Vec<(usize, Item)>,
}

/// Height of the furniture's type.
pub(super) fn type_size(spread: Spread) -> f64 {
    (spread.width.max(spread.height) * TYPE_OF_SHEET).clamp(TYPE.0, TYPE.1)
}

/// A border round so much, and along its foot the legend, the check squares, what to heed, and the title.
pub(super) fn frame(spread: Spread, legend: &Legend, title: Cell, notes: &Notes) -> Frame {
    let size = type_size(spread);
    let (pad, margin) = (PAD * size, MARGIN * size);
    let Band { rows, inner } = band(legend, title, notes, size, spread.width + 2.0 * pad);
    let band: f64 = rows.iter().map(|r| r.height).sum();
    let (width, height) = (inner + 2.0 * margin, spread.height + 2.0 * pad + band + 2.0 * margin);
    let (mut items, mut samples) = (Vec::new(), Vec::new());
    let (low, high) = (Point::new(margin, margin), Point::new(width - margin, height - margin));
    items.extend(rectangle(low, high));
    let mut top = low.y + band;
    for row in rows {
        items.push(Item::line(Layer::Frame, Point::new(low.x, top), Point::new(high.x, top)));
        let mut left = low.x;
        for cell in row.cells {
            if left > low.x {
                items.push(Item::line(Layer::Frame, Point::new(left, top - row.height), Point::new(left, top)));
            }
            let top_left = Vector::new(left, top);
            let moved = |mut item: Item| {
                item.shape.shift(top_left);
                item
            };
            left += cell.width;
            items.extend(cell.items.into_iter().map(moved));
            samples.extend(cell.samples.into_iter().map(|(line, item)| (line, moved(item))));
        }
        top -= row.height;
    }
    let pen = (width.max(height) * PEN_OF_SHEET).clamp(PEN.0, PEN.1);
    let pieces = Vector::new(margin + (inner - spread.width) / 2.0, margin + band + pad);
    Frame { width, height, pen, pieces, items, samples }
}

/// The band along a sheet's foot: one row of cells, or several one below the other.
struct Band {
    rows: Vec<Row>,
    inner: f64,
}

/// Cells beside each other.
struct Row {
    cells: Vec<Cell>,
    height: f64,
}

/// Where one row of cells is so many times as wide as the pieces, cells are stacked.
const WIDER: f64 = 1.8;

/// The best band of those tried: the legend in short or in long columns, the notes in one column or more.
fn band(legend: &Legend, title: Cell, heed: &Notes, size: f64, least: f64) -> Band {
    const SHORT: usize = 6;
    const LONG: usize = 12;
    let [short, long] = [SHORT, LONG].map(|per_column| legend::extent(legend, size, per_column));
    let squares = squares(size);
    let others = squares.height.max(title.height);
    let built = |(width, height): (f64, f64), columns: u8| {
        let taken = width + squares.width + title.width;
        let inner = least.max(taken + title::NOTES_LEAST * size * f64::from(columns));
        let notes = heed.height(size, inner - taken, columns);
        Tried { columns, inner, notes: inner - taken, height: others.max(height).max(notes) }
    };
    // A sheet grown wider costs half of one grown higher; a little lower is not worth a change.
    let cost = |tried: &Tried| ((tried.inner - least) * 0.5 + tried.height) / size;
    let (mut best, mut is_long) = (built(short, 1), false);
    for (longer, columns) in [(false, 2), (false, 3), (true, 1), (true, 2), (true, 3)] {
        let other = built(if longer { long } else { short }, columns);
        if cost(&other) + 1.0 < cost(&best) {
            (best, is_long) = (other, longer);
        }
    }
    if best.inner > least * WIDER {
        return stacked(legend::cell(legend, size, LONG), squares, title, heed, size, least);
    }
    let legend = legend::cell(legend, size, if is_long { LONG } else { SHORT });
    let notes = heed.cell(size, best.notes, best.columns);
    let cells = vec![legend, squares, notes, title];
    Band { rows: vec![Row { cells, height: best.height }], inner: best.inner }
}

/// The legend beside the title, the notes, and the check squares, one below the other.
fn stacked(mut legend: Cell, squares: Cell, title: Cell, heed: &Notes, size: f64, least: f64) -> Band {
    let inner = least.max(legend.width + title.width).max(squares.width);
    legend.width = inner - title.width;
    let columns = if inner > 2.0 * title::NOTES_LEAST * size { 2 } else { 1 };
    let notes = heed.cell(size, inner, columns);
    let row = |cells: Vec<Cell>| Row { height: cells.iter().fold(0.0, |most, c| c.height.max(most)), cells };
    Band { rows: vec![row(vec![legend, title]), row(vec![notes]), row(vec![squares])], inner }
}

/// A band as it would be.
struct Tried {
    /// Columns of the notes.
    columns: u8,
    /// Width inside the border.
    inner: f64,
    /// Width of the notes.
    notes: f64,
    height: f64,
}

/// Squares to measure on the print.
fn squares(size: f64) -> Cell {
    let mut stack = Stack::new(size);
    stack.heading("Check squares");
    let (gap, inset) = (size * 2.0, size * 1.4);
    let mut left = inset;
    let top = stack.y - size * 0.2;
    for (side, text) in [(100.0, "100 mm"), (101.6, "4 in")] {
        let (low, high) = (Point::new(left, top - side), Point::new(left + side, top));
        stack.items.extend(rectangle(low, high));
        let middle = low.lerp(high, 0.5);
        let at = middle - Vector::new(0.0, CAPITAL * size / 2.0);
        stack.items.push(words(at, size, Anchor::Middle, false, text));
        left += side + gap;
    }
    Cell { width: left - gap + inset, height: 101.6 - top + size * 1.4, items: stack.items, samples: Vec::new() }
}

pub(super) fn rectangle(low: Point, high: Point) -> Option<Item> {
    let corners = [low, Point::new(high.x, low.y), high, Point::new(low.x, high.y)];
    Path::polygon(&corners).map(|path| Item::new(Layer::Frame, Shape::Line(path)))
}

pub(super) fn words(at: Point, size: f64, anchor: Anchor, bold: bool, text: impl Into<String>) -> Item {
    Item::new(Layer::Text, Shape::Words(Words { at, angle: 0.0, size, anchor, bold, text: text.into() }))
}

/// Lines of words from a cell's top down.
pub(super) struct Stack {
    size: f64,
    /// Where the next line begins: its upper edge.
    pub(super) y: f64,
    /// How far the lines stand in from the left.
    pub(super) inset: f64,
    /// How wide the widest is.
    pub(super) widest: f64,
    /// The lines.
    pub(super) items: Vec<Item>,
}

impl Stack {
    pub(super) fn new(size: f64) -> Self {
        Self { size, y: -size * 1.3, inset: size * 1.4, widest: 0.0, items: Vec::new() }
    }

    pub(super) fn heading(&mut self, text: &str) {
        self.line(text, self.size, true);
        self.y -= self.size * 0.5;
    }

    pub(super) fn line(&mut self, text: impl Into<String>, size: f64, bold: bool) {
        let text = text.into();
        self.widest = self.widest.max(super::shape::text_width(&text, size, bold));
        let at = Point::new(self.inset, self.y - size * CAPITAL);
        self.items.push(words(at, size, Anchor::Start, bold, text));
        self.down(size);
    }

    /// Leaves a line empty.
    pub(super) fn down(&mut self, size: f64) {
        self.y -= size * LEADING;
    }

    /// The cell that holds the lines, at least so wide.
    pub(super) fn cell(self, least: f64) -> Cell {
        let width = (self.widest + self.inset * 2.0).max(least);
        Cell { width, height: -self.y + self.size * 0.8, items: self.items, samples: Vec::new() }
    }
}

#[cfg(test)]
mod tests {
    use super::super::room::Slot;
    use super::*;
    use crate::export::{drawing, sample};
    use crate::quantity::Style;

    /// Cautions of every length, as a design with many components gathers them.
    fn cautions(count: usize, salt: usize) -> Vec<String> {
        let words =
            "Keep bags, cords and coated cloth away from small children: they can shut off air, and a loop can strangle. ".repeat(6);
        let words: Vec<&str> = words.split_whitespace().collect();
        (0..count).map(|i| words.iter().take(3 + (i * 37 + salt * 29) % 61).copied().collect::<Vec<_>>().join(" ")).collect()
    }

    #[test]
    fn words_stand_in_their_cells_and_over_no_others_whatever_there_is_to_heed() {
        let design = sample::quilt();
        let style = Style::default();
        let drawings = drawing::sheet(&design, style).drawings;
        for width in [60.0, 300.0, 700.0, 1000.0, 1400.0, 1900.0, 2600.0, 4000.0, 9000.0] {
            for (count, salt, height) in (0..=12).flat_map(|n| (0..8).map(move |salt| (n, salt, width * [0.05, 0.6, 1.5][salt % 3]))) {
                let spread = Spread { width, height };
                let size = type_size(spread);
                let (legend, title) = (legend::of(&design, &drawings, size), title::title(&design, style, size));
                let frame = frame(spread, &legend, title, &Notes::said(cautions(count, salt)));
                let words: Vec<&Words> =
                    frame.items.iter().filter_map(|i| if let Shape::Words(w) = &i.shape { Some(w) } else { None }).collect();
                let case = format!("{count} cautions, pieces {width} by {height}");
                for (i, a) in words.iter().enumerate() {
                    let over = words.iter().skip(i + 1).find(|b| Slot::bare(a).overlaps(&Slot::bare(b)));
                    assert!(over.is_none(), "{case}: '{}' stands over '{}'", a.text, over.map_or("", |b| &b.text));
                }
                let lines = frame.items.iter().filter(|i| i.layer == Layer::Frame);
                for line in
                    lines.filter_map(|i| if let Shape::Line(path) = &i.shape { Some(path) } else { None }).filter(|p| !p.is_closed())
                {
                    let crossed = words.iter().find(|w| {
                        let (at, of) = (Shape::Words((**w).clone()).bounds(), line.bounds());
                        at.min.x < of.max.x && of.min.x < at.max.x && at.min.y < of.max.y && of.min.y < at.max.y
                            || of.min.x == of.max.x
                                && at.min.x < of.min.x
                                && of.min.x < at.max.x
                                && at.min.y < of.max.y
                                && of.min.y < at.max.y
                    });
                    assert!(crossed.is_none(), "{case}: '{}' runs over the side of its cell", crossed.map_or("", |w| &w.text));
                }
                for word in words {
                    let b = Shape::Words(word.clone()).bounds();
                    let margin = MARGIN * size;
                    let inside = b.min.x > margin && b.min.y > margin && b.max.x < frame.width - margin && b.max.y < frame.height - margin;
                    assert!(inside, "{case}: '{}' stands on the border", word.text);
                }
            }
        }
    }
}
