//! The few entities of the file, as pairs.

use super::layer::Layer;
use super::vertex::Chain;
use crate::export::pairs::{Pair, decimal, pair, plain};
use crate::geometry::{Point, Vector};
use crate::ir::{Notch, NotchShape};

/// Release 12 holds texts of so many letters.
const LONGEST: usize = 255;

fn begin(kind: &str, layer: Layer) -> Vec<Pair> {
    vec![pair(0, kind), pair(8, layer.name())]
}

/// A point in the codes from `first` on: x, y, z.
fn place(first: u16, at: Point, z: f64) -> [Pair; 3] {
    [pair(first, decimal(at.x)), pair(first + 10, decimal(at.y)), pair(first + 20, decimal(z))]
}

/// A POLYLINE; a closed one says so and also ends with its first vertex, since readers look for one or the other.
pub(super) fn polyline(layer: Layer, chain: &Chain) -> Vec<Pair> {
    let mut all = begin("POLYLINE", layer);
    all.push(pair(66, 1));
    all.extend(place(10, Point::default(), 0.0));
    all.push(pair(70, u8::from(chain.closed)));
    let again = chain.vertices.first().filter(|_| chain.closed);
    for vertex in chain.vertices.iter().chain(again) {
        all.extend(begin("VERTEX", layer));
        all.extend(place(10, vertex.at, 0.0));
    }
    all.extend(begin("SEQEND", layer));
    all
}

/// A POINT.
pub(super) fn point(layer: Layer, at: Point) -> Vec<Pair> {
    let mut all = begin("POINT", layer);
    all.extend(place(10, at, 0.0));
    all
}

/// A notch: its place, depth, width and direction.
pub(super) fn notch(notch: &Notch) -> Vec<Pair> {
    let layer = match notch.shape {
        NotchShape::Slit | NotchShape::Vee => Layer::Notch,
        NotchShape::Tee => Layer::TNotch,
        NotchShape::Castle => Layer::CastleNotch,
        NotchShape::Check => Layer::CheckNotch,
        NotchShape::U => Layer::UNotch,
    };
    let mut all = begin("POINT", layer);
    all.extend(place(10, notch.point, notch.depth.as_mm()));
    all.extend([pair(39, decimal(notch.width.as_mm())), pair(50, decimal(notch.inward.angle().to_degrees().rem_euclid(360.0)))]);
    all
}

/// A LINE.
pub(super) fn line(layer: Layer, from: Point, to: Point) -> Vec<Pair> {
    let mut all = begin("LINE", layer);
    all.extend(place(10, from, 0.0));
    all.extend(place(11, to, 0.0));
    all
}

/// A TEXT; nothing for one without a letter.
pub(super) fn words(layer: Layer, text: &str, at: Point, height: f64) -> Vec<Pair> {
    let text: String = plain(text).trim().chars().take(LONGEST).collect();
    if text.is_empty() {
        return Vec::new();
    }
    let mut all = begin("TEXT", layer);
    all.extend(place(10, at, 0.0));
    all.extend([pair(40, decimal(height)), pair(1, text)]);
    all
}

/// A text of the form `KEYWORD: value`.
pub(super) fn said(keyword: &str, value: &str, at: Point, height: f64) -> Vec<Pair> {
    words(Layer::Boundary, &format!("{keyword}: {value}"), at, height)
}

/// A BLOCK round its content.
pub(super) fn block(name: &str, content: Vec<Pair>) -> Vec<Pair> {
    let mut all = begin("BLOCK", Layer::Boundary);
    all.extend([pair(2, name), pair(70, 0)]);
    all.extend(place(10, Point::default(), 0.0));
    all.extend(content);
    all.extend(begin("ENDBLK", Layer::Boundary));
    all
}

/// An INSERT of a block.
pub(super) fn insert(name: &str, by: Vector) -> Vec<Pair> {
    let mut all = begin("INSERT", Layer::Boundary);
    all.push(pair(2, name));
    all.extend(place(10, Point::default() + by, 0.0));
    all
}
