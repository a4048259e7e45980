//! The legend: lines and symbols that the sheet uses, and no others.

use super::furniture::{Cell, Stack, words};
use super::shape::{Anchor, CAPITAL, Item, Layer, Shape, text_width};
use super::{Drawing, grain, marks, placed};
use crate::geometry::{Path, Point, Vector};
use crate::ir::{Design, MarkShape, Symbol};
use std::collections::BTreeSet;

/// Length of a sample, and from one entry to the next, in heights of type.
pub(super) const SAMPLE: f64 = 7.0;
const STEP: f64 = 1.9;

/// A line or symbol that the legend explains.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Entry {
    Line(Layer),
    Point,
    Symbol(Symbol),
}

/// What the legend says of one line or symbol: drawn from the origin to the right, at half the height of a capital.
#[derive(Clone)]
pub(super) struct Listed {
    /// What it means.
    pub(super) text: String,
    /// How it is drawn.
    pub(super) items: Vec<Item>,
    /// How it is drawn where it is the line of a size.
    pub(super) samples: Vec<(usize, Item)>,
}

/// What is said of lines and symbols, below its heading.
pub(super) struct Legend {
    /// The heading.
    pub(super) heading: &'static str,
    /// The entries.
    pub(super) entries: Vec<Listed>,
}

/// The legend of what is drawn.
pub(super) fn of(design: &Design, drawings: &[Drawing], size: f64) -> Legend {
    let entries = used(design, drawings).into_iter().map(|e| explained(e, size)).collect();
    Legend { heading: "Lines and symbols", entries }
}

/// What is said of a line or symbol.
pub(super) fn explained(entry: Entry, size: f64) -> Listed {
    Listed { text: wording(entry).to_owned(), items: sample(entry, Point::default(), size), samples: Vec::new() }
}

/// A legend with so many entries below each other before a new column begins.
pub(super) fn cell(legend: &Legend, size: f64, per_column: usize) -> Cell {
    let mut stack = Stack::new(size);
    stack.heading(legend.heading);
    let top = stack.y;
    let mut left = stack.inset;
    let mut right = left;
    let mut samples = Vec::new();
    for column in legend.entries.chunks(per_column) {
        let mut y = top;
        for entry in column {
            let by = Vector::new(left, y - CAPITAL * size / 2.0);
            let moved = |item: &Item| {
                let mut item = item.clone();
                item.shape.shift(by);
                item
            };
            stack.items.extend(entry.items.iter().map(moved));
            samples.extend(entry.samples.iter().map(|(line, item)| (*line, moved(item))));
            let start = left + (SAMPLE + 1.2) * size;
            stack.items.push(words(Point::new(start, y - CAPITAL * size), size, Anchor::Start, false, entry.text.clone()));
            right = right.max(start + text_width(&entry.text, size, false));
            y -= STEP * size;
        }
        stack.y = stack.y.min(y);
        left = right + 2.0 * size;
    }
    stack.widest = (right - stack.inset).max(stack.widest);
    Cell { samples, ..stack.cell(0.0) }
}

/// What the drawings hold, in the order it is explained.
fn used(design: &Design, drawings: &[Drawing]) -> Vec<Entry> {
    let mut all = BTreeSet::new();
    for drawing in drawings {
        let lines = drawing.items.iter().filter(|i| matches!(i.shape, Shape::Line(_)) && !matches!(i.layer, Layer::Text | Layer::Frame));
        all.extend(lines.map(|i| Entry::Line(i.layer)));
        let Some(piece) = design.piece(drawing.piece) else { continue };
        all.extend(placed::marks(design, drawing.piece, piece).iter().filter_map(|m| match &m.shape {
            MarkShape::Point { .. } => Some(Entry::Point),
            MarkShape::OnEdge { symbol, .. } => Some(Entry::Symbol(*symbol)),
            MarkShape::Line { .. } => None,
        }));
    }
    let mut all: Vec<Entry> = all.into_iter().collect();
    all.sort_by_key(|e| match e {
        Entry::Line(Layer::Cut) => 0,
        Entry::Line(Layer::Stitch) => 1,
        Entry::Line(Layer::Fold) => 2,
        Entry::Line(Layer::Notch) => 3,
        Entry::Line(Layer::Hole) => 4,
        _ => 5,
    });
    all
}

const fn wording(entry: Entry) -> &'static str {
    match entry {
        Entry::Line(Layer::Cut) => "cut along",
        Entry::Line(Layer::Hole) => "cut out",
        Entry::Line(Layer::Stitch) => "stitch line, finished outline",
        Entry::Line(Layer::Fold) => "fold along",
        Entry::Line(Layer::Notch) => "notch: snip this deep",
        Entry::Line(Layer::Mark) => "mark on the face",
        Entry::Line(Layer::Grain) => "grain: the warp runs so",
        Entry::Line(Layer::Text | Layer::Frame) => "",
        Entry::Point => "mark a point",
        Entry::Symbol(Symbol::Bar) => "loop or tab on the edge",
        Entry::Symbol(Symbol::Band) => "sewn on along this stretch",
        Entry::Symbol(Symbol::Ring) => "snap or other fastener",
        Entry::Symbol(Symbol::Cross) => "tie",
        Entry::Symbol(Symbol::Tick) => "place of an attachment",
    }
}

/// A sample, its left end at a point.
fn sample(entry: Entry, at: Point, size: f64) -> Vec<Item> {
    let length = SAMPLE * size;
    let end = at + Vector::new(length, 0.0);
    let middle = at.lerp(end, 0.5);
    let up = Vector::new(0.0, 1.0);
    match entry {
        Entry::Line(Layer::Notch) => {
            let foot = middle - up * (size * 0.3);
            let base = Item::line(Layer::Cut, at - up * (size * 0.3), end - up * (size * 0.3));
            vec![base, Item::line(Layer::Notch, foot, foot + up * (size * 0.9))]
        }
        Entry::Line(Layer::Hole) => vec![Item::new(Layer::Hole, Shape::Circle { centre: middle, radius: size * 0.5 })],
        Entry::Line(Layer::Grain) => grain::shapes(middle, Vector::new(1.0, 0.0), length, size, false),
        Entry::Line(layer) => vec![Item::line(layer, at, end)],
        Entry::Point => {
            let arm = |v: Vector| Item::new(Layer::Mark, Shape::Symbol(Path::line(middle - v, middle + v)));
            vec![arm(Vector::new(size * 0.45, 0.0)), arm(up * (size * 0.45))]
        }
        Entry::Symbol(symbol) => {
            let edge = middle - up * (size * 0.25);
            let half = if symbol == Symbol::Band { length * 0.4 } else { size * 0.3 };
            let stretch = Path::line(edge - Vector::new(half, 0.0), edge + Vector::new(half, 0.0));
            let mut all = vec![Item::line(Layer::Stitch, at - up * (size * 0.25), end - up * (size * 0.25))];
            all.extend(marks::on_edge(symbol, &stretch, edge, up, size * 0.9));
            all
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::export::{drawing, sample};
    use crate::quantity::Style;

    #[test]
    fn only_what_is_used_is_explained() {
        let quilt = sample::quilt();
        let sheet = drawing::sheet(&quilt, Style::default());
        let entries = used(&quilt, &sheet.drawings);
        assert!(entries.contains(&Entry::Symbol(Symbol::Bar)) && entries.contains(&Entry::Line(Layer::Stitch)), "{entries:?}");
        assert!(!entries.contains(&Entry::Line(Layer::Fold)), "the quilt has no fold");
        let tarp = sample::tarp();
        let entries = used(&tarp, &drawing::sheet(&tarp, Style::default()).drawings);
        assert!(entries.contains(&Entry::Line(Layer::Fold)), "{entries:?}");
    }
}
