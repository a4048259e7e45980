//! The grain arrow: along the warp; with one head on cloth that must all lie the same way.

use super::piece::Draft;
use super::room::Slot;
use super::shape::{Item, Layer, Shape};
use crate::geometry::{Path, Point, Vector};
use crate::ir::Direction;

/// Lengths tried, in heights of the main type, and as the most a part of the piece along the grain;
/// and the room across the arrow, in heights of type (its head takes 0.42).
const LENGTHS: [(f64, f64, f64); 5] = [(9.0, 0.3, 1.3), (6.0, 0.3, 1.0), (6.0, 0.3, 0.6), (4.0, 0.4, 0.6), (2.5, 0.6, 0.5)];

/// Places the arrow as near a place as there is room; on a piece with no room at all, in the middle over whatever is there.
pub(super) fn place(draft: &mut Draft<'_>, near: Point) {
    let Some(angle) = draft.piece.grain.angle else { return };
    let along = Vector::at_angle(angle.as_radians());
    let bounds = draft.room.bounds();
    let across = bounds.width() * along.x.abs() + bounds.height() * along.y.abs();
    for (heights, part, across_it) in LENGTHS {
        let length = (draft.size * heights).min(across * part);
        let slot = |at: Point| Slot::new(at, angle.as_radians(), length * 1.15, draft.size * across_it);
        if let Some(at) = draft.room.nearest(near, slot) {
            draft.room.take(slot(at));
            arrow(draft, at, along, length);
            return;
        }
    }
    arrow(draft, draft.room.middle(), along, (draft.size * 2.5).min(across * 0.6));
}

fn arrow(draft: &mut Draft<'_>, at: Point, along: Vector, length: f64) {
    let one_way = draft.design.material(draft.piece.material).is_some_and(|m| m.direction == Direction::OneWay);
    draft.items.extend(shapes(at, along, length, draft.size, one_way));
}

/// An arrow centred at a place; the legend shows it too.
pub(super) fn shapes(at: Point, along: Vector, length: f64, size: f64, one_way: bool) -> Vec<Item> {
    let (tail, tip) = (at - along * (length / 2.0), at + along * (length / 2.0));
    let long = (size * 0.7).min(length * 0.3);
    let mut all = Vec::new();
    let mut ends = vec![(tip, along)];
    if !one_way {
        ends.push((tail, -along));
    }
    let from = if one_way { tail } else { tail + along * (long * 0.8) };
    all.push(Item::line(Layer::Grain, from, tip - along * (long * 0.8)));
    for (tip, along) in ends {
        let back = tip - along * long;
        let side = along.left() * (long * 0.3);
        if let Some(head) = Path::polygon(&[tip, back + side, back - side]) {
            all.push(Item::new(Layer::Grain, Shape::Solid(head)));
        }
    }
    all
}
