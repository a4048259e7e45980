//! The lines of one piece of cloth as a cutter follows them: made up for the kerf, each once.

use super::laid::Motion;
use crate::export::drawing::{self, Item, Layer, Shape};
use crate::geometry::{Bounds, FLATTEN, Path, Point, Vector, distance_to};
use crate::ir::{Cutter, Design, FoldLine, Followed, LineSort, Mark, Notch, NotchShape, Piece};
use crate::quantity::Style;

/// Two lines no farther apart than this (mm) are one: what closes a shape in a cutter's own software, from memory.
const SAME_LINE: f64 = 0.01;

/// A line and what it is.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Line {
    /// The place of its pass in the cutter's list.
    pub(super) pass: usize,
    /// What it is.
    pub(super) sort: LineSort,
    /// Its form.
    pub(super) shape: Shape,
}

/// All lines of a copy that the cutter's passes take, on the bed but not yet at their place there.
pub(super) fn of_copy(
    design: &Design,
    cutter: &Cutter,
    (piece, marks): (&Piece, &[Mark]),
    motion: Motion,
    title: Vec<String>,
    style: Style,
) -> Vec<Line> {
    let laid = motion.piece(piece);
    let marks: Vec<Mark> = marks.iter().map(|m| motion.mark(m)).collect();
    let wanted = [LineSort::Marks, LineSort::Grain, LineSort::Text].into_iter().any(|sort| cutter.does(sort));
    let items = if wanted { drawing::on_cloth(design, &laid, &marks, title, style) } else { Vec::new() };
    let followed = cutter.outline_to_follow(&laid);
    let mut all = Vec::new();
    for (index, pass) in cutter.passes.iter().enumerate() {
        for &sort in &pass.lines {
            let shapes = shapes(cutter, (&laid, &followed), &items, sort, pass.cuts);
            all.extend(shapes.into_iter().map(|shape| Line { pass: index, sort, shape }));
        }
    }
    each_once(cutter, all)
}

fn shapes(cutter: &Cutter, (laid, followed): (&Piece, &Followed<'_>), items: &[Item], sort: LineSort, cuts: bool) -> Vec<Shape> {
    let on = |layer: Layer| items.iter().filter(move |i| i.layer == layer).map(|i| i.shape.clone()).collect();
    let lines = |paths: Vec<Path>| paths.into_iter().map(Shape::Line).collect();
    match sort {
        LineSort::Outlines => lines(vec![if cuts { followed.path.clone() } else { laid.notched().cut.begun_on_a_straight() }]),
        LineSort::Holes => lines(laid.holes.iter().map(|h| hole(cutter, &h.path, cuts)).collect()),
        LineSort::Notches if cuts => lines(notches(&followed.others, cutter.kerf.as_mm() / 2.0, followed.made_up)),
        LineSort::Notches => lines(notches(&laid.notched().others, 0.0, false)),
        LineSort::Folds => lines(laid.folds.iter().map(FoldLine::folded).collect()),
        LineSort::Stitching => {
            let legs = laid.folds.iter().filter_map(FoldLine::sewn).cloned();
            lines(std::iter::once(drawing::outline(laid).begun_on_a_straight()).chain(legs).collect())
        }
        LineSort::Marks => on(Layer::Mark),
        LineSort::Grain => on(Layer::Grain),
        LineSort::Text => on(Layer::Text),
    }
}

fn hole(cutter: &Cutter, path: &Path, cuts: bool) -> Path {
    let followed = if cuts { cutter.hole_to_follow(path).ok() } else { None };
    followed.unwrap_or_else(|| path.begun_on_a_straight())
}

/// Notches that the outline does not run in and out of, at half of a kerf.
fn notches(others: &[&Notch], half: f64, made_up: bool) -> Vec<Path> {
    let out = if made_up { half } else { 0.0 };
    others.iter().flat_map(|n| if n.shape.opens() && half == 0.0 { n.lines.clone() } else { burnt(n, half, out) }).collect()
}

/// A notch that is a line and has no inside to widen. It begins on the outline that is followed, so far out, and ends half of the
/// kerf before its depth, since the beam reaches that much farther; so does the bar of a tee at both its ends. What is narrower
/// than the kerf becomes one such line.
fn burnt(notch: &Notch, half: f64, out: f64) -> Vec<Path> {
    let depth = notch.depth.as_mm();
    // Begun on the finished cut, a line too short for that stays as it is.
    let deep = if out > 0.0 || depth > 2.0 * half { depth - half } else { depth };
    let end = notch.point + notch.inward * deep;
    let slit = Path::line(notch.point - notch.inward * out, end);
    let bar = notch.inward.right() * (notch.width.as_mm() / 2.0 - half);
    match notch.shape {
        NotchShape::Tee if notch.width.as_mm() > 2.0 * half => vec![slit, Path::line(end - bar, end + bar)],
        _ => vec![slit],
    }
}

/// Without lines that lie wholly on another of the same act: a line cut twice is burnt or torn.
fn each_once(cutter: &Cutter, lines: Vec<Line>) -> Vec<Line> {
    let cuts = |line: &Line| cutter.passes.get(line.pass).is_some_and(|p| p.cuts);
    let mut kept: Vec<(Line, Option<Chords>)> = Vec::new();
    for line in lines {
        let chords = if let Shape::Line(path) = &line.shape { Some(Chords::of(path)) } else { None };
        if let Some(new) = &chords {
            let alike = |other: &(Line, Option<Chords>)| cuts(&other.0) == cuts(&line);
            if kept.iter().any(|k| alike(k) && k.1.as_ref().is_some_and(|old| old.covers(new))) {
                continue;
            }
            kept.retain(|k| !(alike(k) && k.1.as_ref().is_some_and(|old| new.covers(old))));
        }
        kept.push((line, chords));
    }
    kept.into_iter().map(|(line, _)| line).collect()
}

/// A line as chords, for comparing.
struct Chords {
    bounds: Bounds,
    points: Vec<Point>,
}

impl Chords {
    fn of(path: &Path) -> Self {
        Self { bounds: path.bounds(), points: path.flatten(FLATTEN / 4.0) }
    }

    /// Whether another line lies wholly on this one.
    fn covers(&self, other: &Self) -> bool {
        let on = |p: &Point| distance_to(&self.points, *p) <= SAME_LINE;
        let between = || other.points.iter().zip(other.points.iter().skip(1)).map(|(a, b)| a.lerp(*b, 0.5));
        self.bounds.grown(SAME_LINE).holds(other.bounds) && other.points.iter().all(on) && between().all(|p| on(&p))
    }
}

/// Box round lines; none round nothing.
pub(super) fn bounds(lines: &[Line]) -> Option<Bounds> {
    lines.iter().map(|l| l.shape.bounds()).reduce(Bounds::union)
}

/// The line at its place.
pub(super) fn moved(line: &Line, by: Vector) -> Line {
    Line { shape: line.shape.moved(by), ..line.clone() }
}
