//! What a cutter does: frames of its bed, each with its lines in the order they are followed.
//!
//! Every copy of every piece of the materials sent to a cutter is laid on its bed, warp along the bed, face up, mirrored copies
//! mirrored; a frame holds pieces of one material. What fits is laid in rows; what does not is parted into frames (`frames`). Outlines
//! and holes are made up for the kerf (`lines`); lines are followed pass by pass, what lies inside a piece before its outline, nearest
//! first (`route`), closed ones from the middle of a straight. All that is decided here; the writers of DXF, HP-GL and text only say it.
//!
//! A dragged knife's offset is not made up for: makers of such machines ask to be told it, and bend the path themselves. Lines
//! here are where the tip should go. Its overcut is: a closed line goes on past its start.

mod border;
mod frames;
mod laid;
mod lay;
mod lines;
mod route;
#[cfg(test)]
mod tests;
mod undone;

use crate::export::drawing::{self, Shape};
use crate::geometry::{Bounds, Path, Point};
use crate::ir::{Cutter, Design, MaterialId, Piece, PieceId};
use crate::quantity::Style;
use laid::Motion;
use lines::Line;

pub use undone::{NarrowNotches, NotMadeUp, Undone};

/// All that one cutter does.
#[derive(Debug, Clone, PartialEq)]
pub struct Plan<'a> {
    /// The cutter.
    pub cutter: &'a Cutter,
    /// Its frames, in order.
    pub frames: Vec<Frame>,
    /// What it leaves to whoever stands at it.
    pub undone: Undone,
}

/// One filling of the bed: millimetres, x along the bed, the lower left corner at the origin.
#[derive(Debug, Clone, PartialEq)]
pub struct Frame {
    /// The name of its files, without their ending: `bench_01`.
    pub stem: String,
    /// What lies on the bed.
    pub material: MaterialId,
    /// What is on it.
    pub parts: Vec<Part>,
    /// The shapes of each of the cutter's passes, in the order they are followed.
    pub passes: Vec<Vec<Shape>>,
    /// The strokes of the crosses by which it is laid on its neighbours.
    pub crosses: Vec<Path>,
    /// The middles of those crosses that are not on the cloth yet: later frames are laid by them.
    pub new_crosses: Vec<Point>,
    /// How far the tool travels without working, from the corner of the bed, letters and crosses left out.
    pub travel: f64,
    /// How much is drawn, letters left out.
    pub drawn: f64,
    /// How much is cut.
    pub cut: f64,
}

/// A copy of a piece on a frame, or a part of one.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Part {
    /// The piece.
    pub piece: PieceId,
    /// Which copy, from 0.
    pub copy: usize,
    /// For a piece larger than the bed: which of its frames this is, from 1, and of how many.
    pub frame: Option<(usize, usize)>,
}

/// A copy ready to be laid.
struct Ready {
    part: Part,
    lines: Vec<Line>,
    bounds: Bounds,
}

/// What every cutter of a design does.
#[must_use]
pub fn plans(design: &Design, style: Style) -> Vec<Plan<'_>> {
    let undrawable = drawing::undrawable(design);
    design.cutters.iter().map(|cutter| plan(design, cutter, &undrawable, style)).collect()
}

/// What a copy of a piece is called: `Wall (front)`, `Strap (2 of 4)`.
#[must_use]
pub fn called(piece: &Piece, copy: usize) -> String {
    match piece.copies.get(copy).and_then(|c| c.name.as_ref()) {
        Some(name) => format!("{} ({name})", piece.label),
        None if piece.copies.len() > 1 => format!("{} ({} of {})", piece.label, copy + 1, piece.copies.len()),
        None => piece.label.clone(),
    }
}

fn plan<'a>(design: &'a Design, cutter: &'a Cutter, undrawable: &[PieceId], style: Style) -> Plan<'a> {
    let bed = (cutter.bed_length.as_mm(), cutter.bed_width.as_mm());
    let mut frames = Vec::new();
    for sent in &cutter.materials {
        let ready = ready(design, cutter, sent.material, undrawable, style);
        let (small, large): (Vec<_>, Vec<_>) = ready.into_iter().partition(|r| r.bounds.width() <= bed.0 && r.bounds.height() <= bed.1);
        for one in large {
            let run_on = |line: &Line| if cuts(cutter, line) { cutter.overcut.as_mm() } else { 0.0 };
            let windows = frames::divided(&one.lines, one.bounds, bed, cutter.overlap.as_mm(), run_on);
            let count = windows.len();
            for (index, window) in windows.into_iter().enumerate() {
                let part = Part { frame: Some((index + 1, count)), ..one.part.clone() };
                frames.push(frame(cutter, sent.material, vec![part], window.lines, (window.crosses, window.new)));
            }
        }
        frames.extend(rows(cutter, sent.material, small, bed));
    }
    let wide = frames.len().to_string().len().max(2);
    for (index, frame) in frames.iter_mut().enumerate() {
        frame.stem = format!("{}_{:0wide$}", cutter.name, index + 1);
    }
    Plan { cutter, frames, undone: undone::of(design, cutter, undrawable) }
}

/// Every copy of every piece cut of a material, its lines as they are followed.
fn ready(design: &Design, cutter: &Cutter, material: MaterialId, undrawable: &[PieceId], style: Style) -> Vec<Ready> {
    let bed = (cutter.bed_length.as_mm(), cutter.bed_width.as_mm());
    let mut all = Vec::new();
    for (index, piece) in design.pieces.iter().enumerate() {
        let id = PieceId::at(index);
        if piece.material != material || undrawable.contains(&id) {
            continue;
        }
        let marks = drawing::marks(design, id, piece);
        for (copy, of_cloth) in piece.copies.iter().enumerate() {
            let on_it = |m: &&crate::ir::Mark| m.copies.is_empty() || m.copies.iter().any(|&c| c as usize == copy);
            let own: Vec<_> = marks.iter().filter(on_it).cloned().collect();
            let motion = Motion::of(piece, of_cloth.mirrored, bed);
            // In one line: two could come apart at a border.
            let size = design.size.as_ref().map(|_| format!(", {}", design.size_title)).unwrap_or_default();
            let title = vec![format!("{}{size}", called(piece, copy))];
            let lines = lines::of_copy(design, cutter, (piece, &own), motion, title, style);
            if let Some(bounds) = lines::bounds(&lines) {
                all.push(Ready { part: Part { piece: id, copy, frame: None }, lines, bounds });
            }
        }
    }
    all
}

/// Frames of pieces in rows.
fn rows(cutter: &Cutter, material: MaterialId, ready: Vec<Ready>, bed: (f64, f64)) -> Vec<Frame> {
    let boxes: Vec<Bounds> = ready.iter().map(|r| r.bounds).collect();
    let spots = lay::spots(&boxes, bed, cutter.gap.as_mm());
    let count = spots.iter().map(|s| s.frame + 1).max().unwrap_or(0);
    let mut filled: Vec<(Vec<Part>, Vec<Line>)> = (0..count).map(|_| (Vec::new(), Vec::new())).collect();
    for (one, spot) in ready.into_iter().zip(spots) {
        if let Some((parts, all)) = filled.get_mut(spot.frame) {
            let by = spot.corner - one.bounds.min;
            all.extend(one.lines.iter().map(|l| lines::moved(l, by)));
            parts.push(one.part);
        }
    }
    filled.into_iter().map(|(parts, lines)| frame(cutter, material, parts, lines, (Vec::new(), Vec::new()))).collect()
}

/// Lines put in order, pass by pass.
fn frame(
    cutter: &Cutter,
    material: MaterialId,
    parts: Vec<Part>,
    lines: Vec<Line>,
    (crosses, new_crosses): (Vec<Path>, Vec<Point>),
) -> Frame {
    let (stem, passes) = (String::new(), Vec::new());
    let mut made = Frame { stem, material, parts, passes, crosses, new_crosses, travel: 0.0, drawn: 0.0, cut: 0.0 };
    let mut tool = Point::default();
    for (index, pass) in cutter.passes.iter().enumerate() {
        let own = lines.iter().filter(|l| l.pass == index).cloned().collect();
        let (ordered, travel) = route::order(own, &mut tool, |line| if pass.cuts { past_its_start(cutter, line) } else { line });
        let worked: f64 = ordered.iter().map(|l| length(&l.shape)).sum();
        made.travel += travel;
        *if pass.cuts { &mut made.cut } else { &mut made.drawn } += worked;
        made.passes.push(ordered.into_iter().map(|l| l.shape).collect());
    }
    made
}

/// A closed line goes on past its start, so that the piece comes free.
fn past_its_start(cutter: &Cutter, line: Line) -> Line {
    let overcut = cutter.overcut.as_mm();
    match &line.shape {
        Shape::Line(path) if overcut > 0.0 && path.is_closed() => {
            let more = path.subpath(0.0, overcut.min(path.length()));
            Line { shape: Shape::Line(path.clone().then(&more)), ..line }
        }
        _ => line,
    }
}

fn cuts(cutter: &Cutter, line: &Line) -> bool {
    cutter.passes.get(line.pass).is_some_and(|p| p.cuts)
}

fn length(shape: &Shape) -> f64 {
    match shape {
        Shape::Line(path) | Shape::Symbol(path) | Shape::Solid(path) => path.length(),
        Shape::Circle { radius, .. } => 2.0 * std::f64::consts::PI * radius,
        Shape::Words(_) => 0.0,
    }
}
