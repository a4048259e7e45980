//! Marks on the face and attachments on the edges: their symbols, and a short label beside each.

use super::piece::Draft;
use super::room::Slot;
use super::shape::{Anchor, CAPITAL, Item, Layer, Shape, Words};
use super::words;
use crate::geometry::{Path, Point, Vector, meetings};
use crate::ir::{Mark, MarkShape, Pointing, Symbol};
use std::collections::BTreeSet;

/// A symbol is this part of the main type's height.
pub(super) const SYMBOL: f64 = 0.6;
/// Sizes of type tried for a label, as parts of small type; none below `LEAST` mm.
const SIZES: [f64; 2] = [1.0, 0.8];
const LEAST: f64 = 2.8;
/// How far to either side of its mark a label may slide, in heights of its type: nearest first.
const SLIDES: [f64; 7] = [0.0, 1.5, -1.5, 3.0, -3.0, 4.5, -4.5];
/// How far from its symbol, in heights of its type.
const REACHES: [f64; 4] = [0.8, 2.4, 4.4, 6.8];

/// Draws every mark of a piece. Of lines that are called the same, such as rows of quilting, the first alone is labelled.
pub(super) fn draw(draft: &mut Draft<'_>, marks: &[Mark]) {
    for mark in marks {
        symbol(draft, &mark.shape);
    }
    let mut labelled = BTreeSet::new();
    for mark in marks {
        let text = words::mark(draft.piece, mark, draft.style);
        if !matches!(mark.shape, MarkShape::Line { .. }) || labelled.insert(text.clone()) {
            label(draft, &mark.shape, text);
        }
    }
}

fn symbol(draft: &mut Draft<'_>, shape: &MarkShape) {
    let size = draft.size * SYMBOL;
    match shape {
        MarkShape::Point { at } => {
            draft.items.extend(cross(*at, Vector::new(1.0, 0.0), size));
            draft.room.take(Slot::new(*at, 0.0, size * 1.2, size * 1.2));
        }
        MarkShape::Drill { at, diameter } => {
            draft.items.extend(drill(*at, diameter.as_mm() / 2.0));
            draft.room.take(Slot::new(*at, 0.0, diameter.as_mm() * 1.4, diameter.as_mm() * 1.4));
        }
        MarkShape::Line { path } => {
            draft.room.take_line(path);
            draft.items.push(Item::new(Layer::Mark, Shape::Line(path.clone())));
        }
        MarkShape::OnEdge { stretch, at, inward, points, symbol, .. } => {
            let drawn = on_edge(*symbol, stretch, *at, (*inward, *points), size);
            if *symbol == Symbol::Band {
                // It may run all along an edge that bends: no box, but its lines are what is taken.
                drawn.iter().for_each(|i| draft.room.take_shape(&i.shape));
            } else {
                let span = (stretch.start - *at).length().max(size * 0.5) * 2.0;
                draft.room.take(Slot::new(*at, inward.right().angle(), span, size * 2.2));
            }
            draft.items.extend(drawn);
        }
    }
}

/// A hole to drill in its true size, and its middle; the legend shows it too.
pub(super) fn drill(at: Point, radius: f64) -> Vec<Item> {
    let dot = Item::new(Layer::Mark, Shape::Circle { centre: at, radius: radius * 0.15 });
    vec![Item::new(Layer::Mark, Shape::Circle { centre: at, radius }), dot]
}

/// The symbol of an attachment and the stretch of its edge that it takes; the legend shows it too. What is caught in the edge
/// has a head on the side to which it points while it is sewn.
pub(super) fn on_edge(symbol: Symbol, stretch: &Path, at: Point, (inward, points): (Vector, Pointing), size: f64) -> Vec<Item> {
    let along = inward.right();
    let way = if points == Pointing::In { inward } else { -inward };
    match symbol {
        Symbol::Bar => {
            let half = stretch.end().distance(stretch.start) / 2.0;
            let side = along * half.max(size * 0.18);
            let (tail, tip) = (at - way * (size * 0.4), at + way * size);
            let bar = Path::polygon(&[tail - side, tail + side, tip + side, tip - side]);
            bar.map(|p| Item::new(Layer::Mark, Shape::Symbol(p))).into_iter().chain(head(tip, way, size)).collect()
        }
        Symbol::Band => band(stretch, inward, size).into_iter().chain(head(at, way, size)).collect(),
        Symbol::Ring => {
            let circle = |radius| Item::new(Layer::Mark, Shape::Circle { centre: at, radius });
            [circle(size * 0.5), circle(size * 0.12)].into_iter().chain(interval(stretch, size)).collect()
        }
        Symbol::Cross => cross(at, (along + inward).unit(), size).into_iter().chain(interval(stretch, size)).collect(),
        Symbol::Tick => {
            let tick = stroke(at - way * (size * 0.3), at + way * size);
            std::iter::once(tick).chain(head(at + way * size, way, size)).chain(interval(stretch, size)).collect()
        }
    }
}

/// A head at a place, pointing that way.
pub(super) fn head(at: Point, way: Vector, size: f64) -> Option<Item> {
    let side = way.right() * (size * 0.2);
    Path::polygon(&[at - side, at + side, at + way * (size * 0.42)]).map(|p| Item::new(Layer::Mark, Shape::Solid(p)))
}

/// The stretch of the edge taken, with a short stroke across each end.
fn interval(stretch: &Path, size: f64) -> Vec<Item> {
    if stretch.length() < size * 0.05 {
        return Vec::new();
    }
    let ends = [(stretch.start, stretch.tangent_at_start()), (stretch.end(), stretch.tangent_at_end())];
    let across = ends.map(|(at, along)| stroke(at - along.left() * (size * 0.2), at + along.left() * (size * 0.2)));
    std::iter::once(Item::new(Layer::Mark, Shape::Symbol(stretch.clone()))).chain(across).collect()
}

/// A line along the stretch, and a tick into the piece at each of its ends.
fn band(stretch: &Path, inward: Vector, size: f64) -> Vec<Item> {
    let mut all = vec![Item::new(Layer::Mark, Shape::Symbol(stretch.clone()))];
    for (at, along) in [(stretch.start, stretch.tangent_at_start()), (stretch.end(), stretch.tangent_at_end())] {
        // A stretch runs along its edge, so that inward is to its left; unless it was given the other way round.
        let into = if along.left().dot(inward) < -0.5 { along.right() } else { along.left() };
        all.push(stroke(at, at + into * size));
    }
    all
}

fn cross(at: Point, along: Vector, size: f64) -> Vec<Item> {
    [along, along.left()].into_iter().map(|v| stroke(at - v * (size * 0.5), at + v * (size * 0.5))).collect()
}

fn stroke(from: Point, to: Point) -> Item {
    Item::new(Layer::Mark, Shape::Symbol(Path::line(from, to)))
}

/// Writes a mark's text beside it: on the piece where there is room, else outside, else in a note below.
fn label(draft: &mut Draft<'_>, shape: &MarkShape, text: String) {
    if draft.room.is_crowded() {
        draft.notes.push(text);
        return;
    }
    let found = match shape {
        MarkShape::Line { path } => along(draft, path, &text).map(|w| (w, None)),
        MarkShape::Point { at } => round_about(draft, *at, draft.size * SYMBOL * 0.5, &text),
        MarkShape::Drill { at, diameter } => round_about(draft, *at, diameter.as_mm() * 0.6, &text),
        MarkShape::OnEdge { at, inward, edge, .. } => {
            let symbol = draft.size * SYMBOL * 1.42;
            let allowance = draft.piece.edges.get(edge.index()).map_or(0.0, |e| e.allowance.as_mm());
            let inside = beside(draft, *at, *inward, symbol, &text, false);
            inside.or_else(|| beside(draft, *at, -*inward, symbol.max(allowance), &text, true))
        }
    };
    let symbol = draft.size * SYMBOL;
    let outside = || match shape {
        MarkShape::Line { path } => led_out(draft, path.point_at(path.length() / 2.0), None, 0.0, &text),
        MarkShape::Point { at } | MarkShape::Drill { at, .. } => led_out(draft, *at, None, symbol, &text),
        MarkShape::OnEdge { at, inward, .. } => led_out(draft, *at, Some(-*inward), symbol * 1.7, &text),
    };
    let found = found.or_else(outside);
    match found {
        Some((words, leader)) => {
            if let Some((from, to)) = leader {
                draft.lead(from, to);
            }
            draft.write(words);
        }
        None => draft.notes.push(text),
    }
}

/// Ways tried for a leader, as angles from the best, in eighths of a half turn.
const WAYS: [f64; 7] = [0.0, 1.0, -1.0, 2.0, -2.0, 3.0, -3.0];
/// How far past the cut line led words stand, in heights of their type.
const PAST: [f64; 6] = [1.0, 2.2, 3.6, 5.2, 7.0, 10.0];

/// Words outside the cut line, with a line that leads to what they are about: out on the side of the way given, or over the
/// nearest side of the piece.
pub(super) fn led_out(draft: &Draft<'_>, at: Point, way: Option<Vector>, clear: f64, text: &str) -> Option<Led> {
    if draft.room.is_crowded() {
        return None;
    }
    let bounds = draft.piece.cut_line.bounds();
    let far = bounds.width() + bounds.height();
    // How far it is out, and whether the ray stays out: first of all those that do.
    let leaves = |way: Vector| {
        let met = meetings(&Path::line(at, at + way * far), &draft.piece.cut_line);
        (way, met.last().map_or(0.0, |m| m.first), met.len() > 1)
    };
    let turned = |way: Vector| WAYS.map(|eighths| leaves(way.turned(eighths * std::f64::consts::FRAC_PI_8))).to_vec();
    let round = || (0..16).map(|i| leaves(Vector::at_angle(f64::from(i) * std::f64::consts::FRAC_PI_8))).collect();
    let mut all: Vec<(Vector, f64, bool)> = way.map_or_else(round, turned);
    if way.is_none() {
        all.sort_by(|a, b| a.1.total_cmp(&b.1));
    }
    let ways = |again: bool| all.iter().filter(move |w| w.2 == again).map(|(way, out, _)| (*way, *out)).collect::<Vec<_>>();
    [ways(false), ways(true)].iter().find_map(|ways| led_along(draft, at, ways, clear, text))
}

/// Words past the cut line on the first of these ways, each with how far it is out, that has room.
fn led_along(draft: &Draft<'_>, at: Point, ways: &[(Vector, f64)], clear: f64, text: &str) -> Option<Led> {
    for size in SIZES.map(|s| (draft.small() * s).max(LEAST)) {
        for past in PAST {
            for &(way, out) in ways {
                let level = way.x.abs() >= 0.6;
                let words = level_words(at + way * out, way, (past * size, 0.0), size, text, level);
                let (from, to) = (at + way * clear, foot(&words, way, level));
                if draft.room.outside(&Slot::of(&words)) && draft.room.clear(from, to) {
                    return Some((words, Some((from, to))));
                }
            }
        }
    }
    None
}

/// Words beside a point on the face, on the first side with room.
fn round_about(draft: &Draft<'_>, at: Point, clear: f64, text: &str) -> Option<Led> {
    [Vector::new(1.0, 0.0), Vector::new(-1.0, 0.0), Vector::new(0.0, -1.0), Vector::new(0.0, 1.0)]
        .into_iter()
        .find_map(|way| beside(draft, at, way, clear, text, false))
}

pub(super) type Led = (Words, Option<(Point, Point)>);

/// Level words on one side of a mark, with a line that leads to it where they can't stand right beside it.
fn beside(draft: &Draft<'_>, at: Point, way: Vector, clear: f64, text: &str, outside: bool) -> Option<Led> {
    let tip = at + way * clear;
    let sizes = SIZES.map(|s| (draft.small() * s).max(LEAST));
    let level = way.x.abs() >= 0.6;
    for size in sizes {
        for reach in REACHES {
            for slide in SLIDES {
                let words = level_words(tip, way, (reach * size, slide * size), size, text, level);
                let slot = Slot::of(&words);
                let free = if outside { draft.room.outside(&slot) } else { draft.room.inside(&slot) };
                let near = reach <= REACHES[0] && slide == 0.0;
                let foot = tip + (foot(&words, way, level) - tip) * 0.93;
                if free && (near || draft.room.clear(tip + (foot - tip) * 0.02, foot)) {
                    return Some((words, (!near).then_some((tip, foot))));
                }
            }
        }
    }
    None
}

fn level_words(tip: Point, way: Vector, (reach, slide): (f64, f64), size: f64, text: &str, level: bool) -> Words {
    let middle = CAPITAL * size / 2.0;
    let (at, anchor) = if level {
        let anchor = if way.x > 0.0 { Anchor::Start } else { Anchor::End };
        (Point::new(tip.x + reach * way.x.signum(), tip.y + way.y * reach + slide - middle), anchor)
    } else {
        // Above or below: the words are centred, and their own height comes on top of the reach.
        (Point::new(tip.x + slide * 2.0, tip.y + (reach + middle) * way.y.signum() - middle), Anchor::Middle)
    };
    Words { at, angle: 0.0, size, anchor, bold: false, text: text.to_owned() }
}

/// Where a leader meets words.
fn foot(words: &Words, way: Vector, level: bool) -> Point {
    let middle = words.at + Vector::new(0.0, CAPITAL * words.size / 2.0);
    let air = words.size * 0.5;
    if level {
        middle - Vector::new(air * way.x.signum(), 0.0)
    } else {
        middle - Vector::new(0.0, (air + CAPITAL * words.size / 2.0) * way.y.signum())
    }
}

/// Words along a marked line.
fn along(draft: &Draft<'_>, path: &Path, text: &str) -> Option<Words> {
    let length = path.length();
    for size in SIZES.map(|s| (draft.small() * s).max(LEAST)) {
        for place in [0.5, 0.3, 0.7, 0.15, 0.85] {
            let (at, along) = path.stand_at(length * place);
            for side in [along.left(), along.right()] {
                let words = super::edges::set(at, along, side, size * 0.95, size, text);
                if words.width() <= length && draft.room.inside(&Slot::of(&words)) {
                    return Some(words);
                }
            }
        }
    }
    let at = path.start;
    [Vector::new(1.0, 0.0), Vector::new(-1.0, 0.0)]
        .into_iter()
        .find_map(|way| beside(draft, at, way, draft.size * 0.3, text, false))
        .map(|(w, _)| w)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::export::drawing::sheet;
    use crate::export::sample;
    use crate::quantity::Style;

    #[test]
    fn rows_of_the_same_name_are_labelled_once() {
        let mut design = sample::tarp();
        let tarp = design.pieces.first_mut().expect("a canopy");
        let ridge = tarp.marks.last().expect("the ridge is the last mark").clone();
        let count = |design: &crate::ir::Design| {
            let sheet = sheet(design, Style::default());
            let items = sheet.drawings.iter().flat_map(|d| d.items.clone());
            items.filter(|i| matches!(&i.shape, Shape::Words(w) if w.text == "ridge")).count()
        };
        tarp.marks.extend([ridge.clone(), ridge]);
        assert_eq!(count(&design), 1);
    }

    #[test]
    fn a_head_stands_on_the_side_that_an_attachment_points_to() {
        let (stretch, inward) = (Path::line(Point::new(-5.0, 0.0), Point::new(5.0, 0.0)), Vector::new(0.0, 1.0));
        for (points, side) in [(Pointing::In, 1.0), (Pointing::Out, -1.0)] {
            for symbol in [Symbol::Bar, Symbol::Band, Symbol::Tick] {
                let items = on_edge(symbol, &stretch, Point::default(), (inward, points), 4.0);
                let heads: Vec<_> = items.iter().filter(|i| matches!(i.shape, Shape::Solid(_))).collect();
                assert!(matches!(heads[..], [one] if one.shape.bounds().centre().y * side > 0.0), "{symbol:?} {points:?}");
                // As wide as what it takes of its edge.
                let wide = items.iter().map(|i| i.shape.bounds()).reduce(crate::geometry::Bounds::union).expect("something");
                assert!((wide.width() - 10.0).abs() < 1e-9, "{symbol:?}: {wide:?}");
            }
        }
    }
}
