//! The few entities of the file, written one behind the other.

use super::layer::Layer;
use super::vertex::Chain;
use crate::export::pairs::{plain, push_length, push_number, push_text};
use crate::geometry::{Point, Vector};
use crate::ir::Notch;

/// Release 12 holds texts of so many letters.
const LONGEST: usize = 255;

fn begin(file: &mut String, kind: &str, layer: Layer) {
    push_text(file, 0, kind);
    push_text(file, 8, layer.name());
}

/// A point in the codes from `first` on: x, y, z.
fn place(file: &mut String, first: u16, at: Point, z: f64) {
    push_length(file, first, at.x);
    push_length(file, first + 10, at.y);
    push_length(file, first + 20, z);
}

/// A POLYLINE; a closed one says so and also ends with its first vertex, since readers look for one or the other.
pub(super) fn polyline(file: &mut String, layer: Layer, chain: &Chain) {
    begin(file, "POLYLINE", layer);
    push_number(file, 66, 1);
    place(file, 10, Point::default(), 0.0);
    push_number(file, 70, u64::from(chain.closed));
    let again = chain.vertices.first().filter(|_| chain.closed);
    for vertex in chain.vertices.iter().chain(again) {
        begin(file, "VERTEX", layer);
        place(file, 10, vertex.at, 0.0);
    }
    begin(file, "SEQEND", layer);
}

/// A POINT.
pub(super) fn point(file: &mut String, layer: Layer, at: Point) {
    begin(file, "POINT", layer);
    place(file, 10, at, 0.0);
}

/// A slit.
pub(super) fn notch(file: &mut String, notch: &Notch) {
    begin(file, "POINT", Layer::Notch);
    place(file, 10, notch.point, notch.depth.as_mm());
    push_length(file, 39, 0.0);
    push_length(file, 50, notch.inward.angle().to_degrees().rem_euclid(360.0));
}

/// A LINE.
pub(super) fn line(file: &mut String, layer: Layer, from: Point, to: Point) {
    begin(file, "LINE", layer);
    place(file, 10, from, 0.0);
    place(file, 11, to, 0.0);
}

/// A TEXT; nothing for one without a letter.
pub(super) fn words(file: &mut String, layer: Layer, text: &str, at: Point, height: f64) {
    let text = plain(text);
    // It is ASCII, a letter a byte.
    let text = text.trim();
    let text = text.get(..LONGEST).unwrap_or(text);
    if text.is_empty() {
        return;
    }
    begin(file, "TEXT", layer);
    place(file, 10, at, 0.0);
    push_length(file, 40, height);
    push_text(file, 1, text);
}

/// A text of the form `KEYWORD: value`.
pub(super) fn said(file: &mut String, keyword: &str, value: &str, at: Point, height: f64) {
    words(file, Layer::Boundary, &format!("{keyword}: {value}"), at, height);
}

/// A BLOCK round its content.
pub(super) fn block(file: &mut String, name: &str, content: &str) {
    begin(file, "BLOCK", Layer::Boundary);
    push_text(file, 2, name);
    push_number(file, 70, 0);
    place(file, 10, Point::default(), 0.0);
    file.push_str(content);
    begin(file, "ENDBLK", Layer::Boundary);
}

/// An INSERT of a block.
pub(super) fn insert(file: &mut String, name: &str, by: Vector) {
    begin(file, "INSERT", Layer::Boundary);
    push_text(file, 2, name);
    place(file, 10, Point::default() + by, 0.0);
}
