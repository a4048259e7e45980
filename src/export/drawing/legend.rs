//! The legend: lines and symbols that the sheet uses, and no others.

use super::furniture::{Cell, Stack, words};
use super::shape::{Anchor, CAPITAL, Item, Layer, Shape, text_width};
use super::{Drawing, grain, marks, placed};
use crate::geometry::{Path, Point, Vector};
use crate::ir::{Design, MarkShape, NotchShape, Piece, Pointing, Symbol};
use std::collections::BTreeSet;

/// Length of a sample, and from one entry to the next, in heights of type.
pub(super) const SAMPLE: f64 = 7.0;
const STEP: f64 = 1.9;
/// Where the text beside a sample stands, in heights of type from the sample's left end.
const BESIDE: f64 = SAMPLE + 1.2;

/// A line or symbol that the legend explains.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Entry {
    Line(Layer),
    Notch(NotchShape),
    Point,
    Drill,
    Symbol(Symbol),
    Pointing,
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
    let hemmed = drawings.iter().filter_map(|d| design.piece(d.piece)).any(is_hemmed);
    let told = |entry: Entry| {
        let mut listed = explained(entry, size);
        match entry {
            Entry::Line(Layer::Stitch) if hemmed => HEMMED.clone_into(&mut listed.text),
            Entry::Symbol(symbol) => listed.text = called(design, drawings, symbol, &listed.text),
            _ => {}
        }
        listed
    };
    let entries = used(design, drawings).into_iter().map(told).collect();
    Legend { heading: "Lines and symbols", entries }
}

/// What the finished outline is where some of it is a hem's.
pub(super) const HEMMED: &str = "finished outline: sew seams here, fold hems";

/// Whether an edge of a piece is folded over.
pub(super) fn is_hemmed(piece: &Piece) -> bool {
    piece.edges.iter().any(|e| e.finish.as_ref().is_some_and(|f| !f.folds.is_empty()))
}

/// What a symbol means, and the names of what it stands for.
fn called(design: &Design, drawings: &[Drawing], symbol: Symbol, meaning: &str) -> String {
    const MOST: usize = 3;
    let mut names: Vec<&str> = Vec::new();
    for mark in drawings.iter().filter_map(|d| design.piece(d.piece)).flat_map(|p| &p.marks) {
        let stands = matches!(mark.shape, MarkShape::OnEdge { symbol: s, .. } if s == symbol);
        if stands && !names.contains(&mark.name.as_str()) {
            names.push(&mark.name);
        }
    }
    match names.get(..MOST) {
        Some(few) if names.len() > MOST => format!("{meaning}: {} and {} more", few.join(", "), names.len() - MOST),
        _ => format!("{meaning}: {}", names.join(", ")),
    }
}

/// What is said of a line or symbol.
pub(super) fn explained(entry: Entry, size: f64) -> Listed {
    Listed { text: wording(entry).to_owned(), items: sample(entry, Point::default(), size), samples: Vec::new() }
}

/// A legend with so many entries below each other before a new column begins.
pub(super) fn cell(legend: &Legend, size: f64, per_column: usize) -> Cell {
    let mut samples = Vec::new();
    let cell = columns(legend, size, per_column, |stack, entry, left, y| {
        let by = Vector::new(left, y - CAPITAL * size / 2.0);
        stack.items.extend(entry.items.iter().map(|item| item.moved(by)));
        samples.extend(entry.samples.iter().map(|(line, item)| (*line, item.moved(by))));
        let at = Point::new(left + BESIDE * size, y - CAPITAL * size);
        stack.items.push(words(at, size, Anchor::Start, false, entry.text.clone()));
    });
    Cell { samples, ..cell }
}

/// How wide and high such a legend is.
pub(super) fn extent(legend: &Legend, size: f64, per_column: usize) -> (f64, f64) {
    let cell = columns(legend, size, per_column, |_, _, _, _| {});
    (cell.width, cell.height)
}

/// Goes through a legend column by column; `set` sets an entry, its left upper corner at a place.
fn columns(legend: &Legend, size: f64, per_column: usize, mut set: impl FnMut(&mut Stack, &Listed, f64, f64)) -> Cell {
    let mut stack = Stack::new(size);
    stack.heading(legend.heading);
    let top = stack.y;
    let mut left = stack.inset;
    let mut right = left;
    for column in legend.entries.chunks(per_column) {
        let mut y = top;
        for entry in column {
            set(&mut stack, entry, left, y);
            right = right.max(left + BESIDE * size + text_width(&entry.text, size, false));
            y -= STEP * size;
        }
        stack.y = stack.y.min(y);
        left = right + 2.0 * size;
    }
    stack.widest = (right - stack.inset).max(stack.widest);
    stack.cell(0.0)
}

/// What the drawings hold, in the order it is explained.
fn used(design: &Design, drawings: &[Drawing]) -> Vec<Entry> {
    let mut all = BTreeSet::new();
    for drawing in drawings {
        let lines = drawing.items.iter().filter(|i| matches!(i.shape, Shape::Line(_)) && !matches!(i.layer, Layer::Text | Layer::Frame));
        all.extend(lines.filter(|i| i.layer != Layer::Notch).map(|i| Entry::Line(i.layer)));
        let Some(piece) = design.piece(drawing.piece) else { continue };
        all.extend(piece.notches.iter().map(|n| Entry::Notch(n.shape)));
        all.extend(placed::marks(design, drawing.piece, piece).iter().filter_map(|m| match &m.shape {
            MarkShape::Point { .. } => Some(Entry::Point),
            MarkShape::Drill { .. } => Some(Entry::Drill),
            MarkShape::OnEdge { symbol, .. } => Some(Entry::Symbol(*symbol)),
            MarkShape::Line { .. } => None,
        }));
        if all.iter().any(|e| matches!(e, Entry::Symbol(Symbol::Bar | Symbol::Band | Symbol::Tick))) {
            all.insert(Entry::Pointing);
        }
    }
    let mut all: Vec<Entry> = all.into_iter().collect();
    all.sort_by_key(|e| match e {
        Entry::Line(Layer::Cut) => 0,
        Entry::Line(Layer::Stitch) => 1,
        Entry::Line(Layer::Fold) => 2,
        Entry::Notch(_) => 3,
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
        Entry::Notch(NotchShape::Slit) => "notch: snip this deep",
        Entry::Notch(NotchShape::Vee) => "vee notch: cut out",
        Entry::Notch(NotchShape::Castle) => "castle notch: cut out",
        Entry::Notch(NotchShape::Check) => "check notch: cut out",
        Entry::Notch(NotchShape::Tee) => "tee notch: cut",
        Entry::Notch(NotchShape::U) => "u notch: cut out",
        Entry::Line(Layer::Mark) => "mark on the face",
        Entry::Line(Layer::Grain) => "grain: the warp runs so",
        Entry::Line(Layer::Text | Layer::Frame | Layer::Notch) => "",
        Entry::Point => "mark a point",
        Entry::Drill => "prick or drill a hole",
        Entry::Pointing => "points this way while it is sewn",
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
        Entry::Notch(shape) => notch(shape, at, end, size),
        Entry::Line(Layer::Hole) => vec![Item::new(Layer::Hole, Shape::Circle { centre: middle, radius: size * 0.5 })],
        Entry::Line(Layer::Grain) => grain::shapes(middle, Vector::new(1.0, 0.0), length, size, false),
        Entry::Line(layer) => vec![Item::line(layer, at, end)],
        Entry::Drill => marks::drill(middle, size * 0.45),
        Entry::Point => {
            let arm = |v: Vector| Item::new(Layer::Mark, Shape::Symbol(Path::line(middle - v, middle + v)));
            vec![arm(Vector::new(size * 0.45, 0.0)), arm(up * (size * 0.45))]
        }
        Entry::Pointing => {
            let edge = middle - up * (size * 0.25);
            let line = Item::line(Layer::Stitch, at - up * (size * 0.25), end - up * (size * 0.25));
            std::iter::once(line).chain(marks::head(edge, up, size * 1.6)).collect()
        }
        Entry::Symbol(symbol) => {
            let edge = middle - up * (size * 0.25);
            let half = if symbol == Symbol::Band { length * 0.4 } else { size * 0.3 };
            let stretch = Path::line(edge - Vector::new(half, 0.0), edge + Vector::new(half, 0.0));
            let mut all = vec![Item::line(Layer::Stitch, at - up * (size * 0.25), end - up * (size * 0.25))];
            all.extend(marks::on_edge(symbol, &stretch, edge, (up, Pointing::In), size * 0.9));
            all
        }
    }
}

/// A notch in a stretch of a cut line.
fn notch(shape: NotchShape, from: Point, to: Point, size: f64) -> Vec<Item> {
    let down = Vector::new(0.0, size * 0.3);
    let (from, to) = (from - down, to - down);
    let (deep, half) = (Vector::new(0.0, size * 0.9), Vector::new(size * 0.45, 0.0));
    let foot = from.lerp(to, 0.5);
    let (left, right, tip) = (foot - half, foot + half, foot + deep);
    let way = |inside: &[Point]| Path::polyline(&[&[from, left], inside, &[right, to]].concat());
    let slit = || vec![Item::line(Layer::Cut, from, to), Item::line(Layer::Notch, foot, tip)];
    let cut = |path: Option<Path>| path.map(|p| Item::new(Layer::Cut, Shape::Line(p))).into_iter().collect();
    match shape {
        NotchShape::Slit => slit(),
        NotchShape::Tee => slit().into_iter().chain([Item::line(Layer::Notch, tip - half, tip + half)]).collect(),
        NotchShape::Vee => cut(way(&[tip])),
        NotchShape::Check => cut(way(&[left + deep])),
        NotchShape::Castle => cut(way(&[left + deep, right + deep])),
        NotchShape::U => {
            let out = Vector::new(0.0, half.x);
            let path = Path::new(from).line_to(left).line_to(left + deep - out).arc_to(right + deep - out, -1.0);
            cut(Some(path.line_to(right).line_to(to)))
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
