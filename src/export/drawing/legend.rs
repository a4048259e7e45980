//! The legend: lines and symbols that the sheet uses, and no others.

use super::furniture::{Cell, Stack, words};
use super::shape::{Anchor, CAPITAL, Item, Layer, Shape, text_width};
use super::{Drawing, grain, marks, placed};
use crate::geometry::{Path, Point, Vector};
use crate::ir::{Design, MarkShape, Symbol};
use std::collections::BTreeSet;

/// Length of a sample, and from one entry to the next, in heights of type.
const SAMPLE: f64 = 7.0;
const STEP: f64 = 1.9;

/// A line or symbol that the legend explains.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Entry {
    Line(Layer),
    Point,
    Symbol(Symbol),
}

/// The legend of these entries, with so many entries below each other before a new column begins.
pub(super) fn cell(entries: &[Entry], size: f64, per_column: usize) -> Cell {
    let mut stack = Stack::new(size);
    stack.heading("Lines and symbols");
    let top = stack.y;
    let mut left = stack.inset;
    let mut right = left;
    for column in entries.chunks(per_column) {
        let mut y = top;
        for entry in column {
            let middle = y - CAPITAL * size / 2.0;
            let text = wording(*entry);
            stack.items.extend(sample(*entry, Point::new(left, middle), size));
            let start = left + (SAMPLE + 1.2) * size;
            stack.items.push(words(Point::new(start, y - CAPITAL * size), size, Anchor::Start, false, text));
            right = right.max(start + text_width(text, size, false));
            y -= STEP * size;
        }
        stack.y = stack.y.min(y);
        left = right + 2.0 * size;
    }
    stack.widest = (right - stack.inset).max(stack.widest);
    stack.cell(0.0)
}

/// What the drawings hold, in the order it is explained.
pub(super) fn used(design: &Design, drawings: &[Drawing]) -> Vec<Entry> {
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
