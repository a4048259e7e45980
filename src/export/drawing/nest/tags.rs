//! Names of sizes along their lines, where they lie apart.

use super::piece::Owner;
use crate::export::drawing::piece::Draft;
use crate::export::drawing::room::{Room, Slot};
use crate::export::drawing::{Item, Layer, Shape, Words, edges, furniture};
use crate::geometry::{Path, Point, Vector, distance_to};
use std::cell::OnceCell;

/// Places tried along a line.
const TRIED: u32 = 64;
/// Sizes of type tried, as parts of small type; none below `LEAST` mm.
const SIZES: [f64; 3] = [1.0, 0.8, 0.6];
const LEAST: f64 = 2.8;
/// How far from its line a name stands, in heights of its type: farther off only where the line bends towards it.
const OFF: [f64; 3] = [0.85, 1.2, 1.7];
/// No other size's line runs nearer than this, in heights of the type: a name among many lines names none.
const APART: f64 = 1.6;
/// How closely lines are followed for that (mm).
const CLOSE: f64 = 0.5;
/// How much farther from the common point a place must lie to be taken although words there stand upright, as a part of
/// the farthest.
const UPRIGHT: f64 = 0.25;

/// Writes the name of each of a piece's lines along it: where it lies farthest from the common point, since there the
/// sizes lie farthest apart.
pub(super) fn write(draft: &mut Draft<'_>, owners: &mut Vec<Owner>, names: &[String], centre: Point) {
    let around = draft.bounds().grown(draft.size * 3.0);
    let Some(Item { shape: Shape::Line(frame), .. }) = furniture::rectangle(around.min, around.max) else { return };
    let mut room = Room::new(&frame, &frame);
    for item in &draft.items {
        match &item.shape {
            Shape::Words(words) => room.take(Slot::of(words)),
            Shape::Circle { centre, radius } => room.take(Slot::new(*centre, 0.0, radius * 2.0, radius * 2.0)),
            lines => room.take_shape(lines),
        }
    }
    let cuts = draft.items.iter().zip(owners.iter()).filter(|(i, _)| i.layer == Layer::Cut);
    let chain = |(item, owner): (&Item, &Owner)| if let Shape::Line(p) = &item.shape { Some((*owner, p.flatten(CLOSE))) } else { None };
    let chains: Vec<(Owner, Vec<Point>)> = cuts.filter_map(chain).collect();
    for (index, name) in names.iter().enumerate() {
        let mine = draft.items.iter().zip(owners.iter()).filter(|(i, o)| **o == Owner::Line(index) && i.layer == Layer::Cut);
        let paths: Vec<&Path> = mine.filter_map(|(i, _)| if let Shape::Line(p) = &i.shape { Some(p) } else { None }).collect();
        let others: Vec<&[Point]> = chains.iter().filter(|(owner, _)| *owner != Owner::Line(index)).map(|(_, c)| c.as_slice()).collect();
        let places = places(&paths, centre);
        if let Some(words) = place(&room, &places, &others, name, draft.small()) {
            room.take(Slot::of(&words));
            draft.items.push(Item::new(Layer::Text, Shape::Words(words)));
            owners.push(Owner::Line(index));
        }
    }
}

/// Where a name could stand.
struct Place {
    at: Point,
    along: Vector,
    /// How far the nearest line of another size is, once that was asked.
    apart: OnceCell<f64>,
}

impl Place {
    fn apart(&self, others: &[&[Point]]) -> f64 {
        *self.apart.get_or_init(|| others.iter().map(|chain| distance_to(chain, self.at)).fold(f64::INFINITY, f64::min))
    }
}

/// Places along a size's paths, the best first.
fn places(paths: &[&Path], centre: Point) -> Vec<Place> {
    let mut all: Vec<(f64, Place)> = Vec::new();
    for path in paths {
        let length = path.length();
        for i in 0..TRIED {
            let distance = length * (f64::from(i) + 0.5) / f64::from(TRIED);
            let (at, along) = path.stand_at(distance);
            all.push((at.distance(centre), Place { at, along, apart: OnceCell::new() }));
        }
    }
    let farthest = all.iter().fold(0.0_f64, |most, p| most.max(p.0));
    let worth = |(far, place): &(f64, Place)| far - place.along.y.abs() * farthest * UPRIGHT;
    all.sort_by(|a, b| worth(b).total_cmp(&worth(a)));
    all.into_iter().map(|(_, place)| place).collect()
}

/// Room for a name at one of the places.
fn place(room: &Room, places: &[Place], others: &[&[Point]], name: &str, small: f64) -> Option<Words> {
    if room.is_crowded() {
        return None;
    }
    let sizes = SIZES.map(|s| (small * s).max(LEAST));
    sizes.into_iter().find_map(|size| {
        let clear = || places.iter().filter(|p| p.apart(others) >= size * APART);
        // Inside its line wherever there is room for it, so that all names stand on the same side; outside only then.
        let inside = OFF.iter().flat_map(|off| clear().map(move |p| (p.at, p.along, p.along.left(), off)));
        let outside = OFF.iter().flat_map(|off| clear().map(move |p| (p.at, p.along, p.along.right(), off)));
        let mut tries = inside.chain(outside).map(|(at, along, side, off)| edges::set(at, along, side, size * off, size, name));
        tries.find(|w| room.inside(&Slot::of(w)))
    })
}
