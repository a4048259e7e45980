//! Edge names and finished lengths, set along the edges just inside the stitch line.

use super::piece::Draft;
use super::room::Slot;
use super::shape::{Anchor, CAPITAL, Words};
use super::{marks, words};
use crate::geometry::{Point, Vector};
use crate::ir::Edge;
use std::f64::consts::FRAC_PI_2;

/// Places tried along an edge, as parts of its length: its middle first.
const PLACES: [f64; 11] = [0.5, 0.42, 0.58, 0.34, 0.66, 0.26, 0.74, 0.18, 0.82, 0.1, 0.9];
/// Distances from the edge tried, in heights of the type.
const DISTANCES: [f64; 3] = [1.0, 1.7, 2.6];
/// Sizes tried, as parts of small type, and the least (mm).
const SIZES: [f64; 3] = [1.0, 0.8, 0.65];
const LEAST: f64 = 2.8;

/// Labels every edge and its parts: inside where there is room, else outside the cut line, else in a note below the piece.
pub(super) fn label(draft: &mut Draft<'_>) {
    let piece = draft.piece;
    for edge in &piece.edges {
        let texts = words::edge(piece, edge, draft.style);
        match inside(draft, edge, (0.0, edge.length.as_mm()), &texts).or_else(|| outside(draft, edge, texts.last()?)) {
            Some(found) => draft.write(found),
            None => led(draft, edge, (0.0, edge.length.as_mm()), &texts),
        }
    }
    for edge in &piece.edges {
        for (part, text) in words::parts(edge, draft.style) {
            let stretch = (part.from.as_mm(), part.to.as_mm());
            match inside(draft, edge, stretch, std::slice::from_ref(&text)) {
                Some(found) => draft.write(found),
                None => led(draft, edge, stretch, &[format!("{}: {text}", edge.name)]),
            }
        }
    }
}

/// Writes outside, with a leader to the middle of a stretch, the shortest text; the fullest below the piece where that can't be.
fn led(draft: &mut Draft<'_>, edge: &Edge, (from, to): (f64, f64), texts: &[String]) {
    let middle = f64::midpoint(from, to);
    let (at, out) = (edge.path.point_at(middle), edge.path.tangent_at(middle).right());
    let found = texts.last().and_then(|text| marks::led_out(draft, at, Some(out), 0.0, text));
    match found {
        Some((words, leader)) => {
            leader.into_iter().for_each(|(from, to)| draft.lead(from, to));
            draft.write(words);
        }
        None => draft.notes.extend(texts.first().cloned()),
    }
}

fn sizes(draft: &Draft<'_>) -> impl Iterator<Item = f64> {
    SIZES.map(|s| draft.small() * s).into_iter().filter(|&s| s >= LEAST)
}

/// Places along a stretch of an edge, the best first: its middle, or on an edge that closes on itself where it is level.
fn places(edge: &Edge, (from, to): (f64, f64)) -> Vec<Spot> {
    let on = |part: f64| from + (to - from) * part;
    let spot = |distance: f64| {
        let (at, along) = edge.path.stand_at(distance);
        Spot { distance, at, along }
    };
    if !edge.path.is_closed() {
        return PLACES.iter().map(|&p| spot(on(p))).collect();
    }
    let mut all: Vec<Spot> = (0..24).map(|i| spot(on(f64::from(i) / 24.0))).collect();
    all.sort_by(|a, b| (a.along.y.abs() * 1e6).round().total_cmp(&(b.along.y.abs() * 1e6).round()));
    all
}

/// A place on an edge.
#[derive(Clone, Copy)]
struct Spot {
    distance: f64,
    at: Point,
    along: Vector,
}

impl Spot {
    /// How far the edge bends inward beside words that reach so far to either side.
    fn bend(self, edge: &Edge, half: f64) -> f64 {
        let length = edge.path.length();
        let on = |d: f64| if edge.path.is_closed() { d.rem_euclid(length) } else { d.clamp(0.0, length) };
        let inward = |d: f64| (edge.path.point_at(on(d)) - self.at).dot(self.along.left());
        inward(self.distance - half).max(inward(self.distance + half)).max(0.0)
    }
}

fn inside(draft: &Draft<'_>, edge: &Edge, stretch: (f64, f64), texts: &[String]) -> Option<Words> {
    if draft.room.is_crowded() {
        return None;
    }
    let places = places(edge, stretch);
    sizes(draft).flat_map(|size| texts.iter().map(move |text| (text, size))).find_map(|(text, size)| {
        let mut words = set(edge.path.start, Vector::default(), Vector::default(), 0.0, size, text);
        if words.width() > stretch.1 - stretch.0 {
            return None;
        }
        let half = words.width() / 2.0;
        let places: Vec<(Spot, f64)> = places.iter().map(|p| (*p, p.bend(edge, half))).collect();
        let mut tries = DISTANCES.iter().flat_map(|d| places.iter().map(move |&(spot, bend)| (spot, bend + size * d)));
        let found = tries.any(|(spot, distance)| {
            words.stand(spot.at, spot.along, spot.along.left(), distance);
            draft.room.inside(&Slot::of(&words))
        });
        found.then_some(words)
    })
}

fn outside(draft: &Draft<'_>, edge: &Edge, text: &str) -> Option<Words> {
    if draft.room.is_crowded() {
        return None;
    }
    let size = sizes(draft).last()?;
    let Spot { at, along, .. } = places(edge, (0.0, edge.length.as_mm())).first().copied()?;
    [0.0, 1.5]
        .map(|d| set(at, along, along.right(), edge.allowance.as_mm() + size * (1.0 + d), size, text))
        .into_iter()
        .find(|w| w.width() <= edge.length.as_mm() * 2.0 && draft.room.outside(&Slot::of(w)))
}

/// Words along a direction, their middle a distance to one side of a point; turned so as to be read from below or from the right.
pub(super) fn set(at: Point, along: Vector, side: Vector, distance: f64, size: f64, text: &str) -> Words {
    let mut words = Words { at, angle: 0.0, size, anchor: Anchor::Middle, bold: false, text: text.to_owned() };
    words.stand(at, along, side, distance);
    words
}

impl Words {
    /// Sets them elsewhere, as [`set`] does.
    fn stand(&mut self, at: Point, along: Vector, side: Vector, distance: f64) {
        let mut angle = along.angle();
        if angle > FRAC_PI_2 + 1e-6 {
            angle -= 2.0 * FRAC_PI_2;
        } else if angle < -FRAC_PI_2 + 1e-6 {
            angle += 2.0 * FRAC_PI_2;
        }
        let up = Vector::at_angle(angle).left();
        (self.at, self.angle) = (at + side * distance - up * (CAPITAL * self.size / 2.0), angle);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::export::drawing::{Drawing, Item, Shape, sheet};
    use crate::export::sample;
    use crate::quantity::Style;

    fn texts(drawing: &Drawing) -> Vec<&Words> {
        drawing.items.iter().filter_map(|i| if let Shape::Words(w) = &i.shape { Some(w) } else { None }).collect()
    }

    #[test]
    fn what_finds_no_room_inside_is_led_outside() {
        let mut design = sample::quilt();
        let strip = design.pieces.iter().position(|p| p.name == "hem_cord.strip").expect("the casing strip");
        let piece = design.pieces.get_mut(strip).expect("it is there");
        let name = "a_very_long_name_for_so_short_an_edge_that_no_room_is_left_beside_it_in_any_size_of_type_or_place_whatever".to_owned();
        let edge = piece.edges.last_mut().expect("its short left edge");
        edge.name.clone_from(&name);
        let (at, length) = (edge.path.point_at(edge.path.length() / 2.0), edge.path.length());
        let cut = piece.cut_line.clone();
        let drawn = sheet(&design, Style::default());
        let drawing = drawn.drawings.get(strip).expect("it is drawn");
        let words = texts(drawing).into_iter().find(|w| w.text.starts_with("a_very_long")).expect("it is named");
        assert!(words.width() > length, "else it had room");
        let flat: Vec<Point> = cut.flatten(0.1).into_iter().map(|p| p + drawing.origin).collect();
        assert!(words.corners().iter().all(|c| !crate::geometry::encloses(&flat, *c)), "outside");
        // A line leads to the middle of its edge.
        let from = at + drawing.origin;
        let leads = |i: &Item| i.layer == super::super::Layer::Text && matches!(&i.shape, Shape::Line(p) if p.start.distance(from) < 1e-6);
        assert!(drawing.items.iter().any(leads), "{from:?}");
    }

    #[test]
    fn words_in_a_round_keep_clear_of_it_from_end_to_end() {
        let design = sample::sack();
        let drawn = sheet(&design, Style::default());
        let (piece, drawing) = design.pieces.iter().zip(&drawn.drawings).find(|(p, _)| p.edges.len() == 1).expect("a round base");
        let edge = piece.edges.first().expect("its rim");
        let words = texts(drawing).into_iter().find(|w| w.text.starts_with(&edge.name)).expect("it is named");
        let rim: Vec<Point> = edge.path.flatten(0.01).into_iter().map(|p| p + drawing.origin).collect();
        let nearest = words.corners().into_iter().map(|c| crate::geometry::distance_to(&rim, c)).fold(f64::INFINITY, f64::min);
        assert!(nearest > words.size * 0.4, "{nearest} beside type {} high", words.size);
    }

    #[test]
    fn words_are_never_upside_down() {
        for degrees in [-180.0_f64, -135.0, -91.0, -90.0, -45.0, 0.0, 45.0, 90.0, 91.0, 179.0] {
            let words = set(Point::default(), Vector::at_angle(degrees.to_radians()), Vector::new(0.0, 1.0), 5.0, 4.0, "left");
            let turned = words.angle.to_degrees();
            assert!(turned > -90.0 + 1e-6 && turned <= 90.0 + 1e-3, "{degrees} became {turned}");
        }
        // A vertical edge either way is read from the right.
        let down = set(Point::default(), Vector::new(0.0, -1.0), Vector::new(1.0, 0.0), 5.0, 4.0, "left");
        assert!((down.angle - FRAC_PI_2).abs() < 1e-9);
    }
}
