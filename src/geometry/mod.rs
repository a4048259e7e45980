//! Plane geometry: points, curves, paths, offsets. No sewing words here.
//!
//! Millimetres, x to the right, y up. Closed paths run counter-clockwise, so that
//! the outside lies to the right of the direction of travel.

mod bounds;
mod calipers;
mod combine;
mod crossing;
mod curve;
mod divide;
mod make;
mod meeting;
mod mitre;
mod nearest;
mod offset;
mod path;
mod point;
mod ring;
mod shifted;

pub use bounds::Bounds;
pub use calipers::{Hull, Lie};
pub use combine::{Bit, Combine, combine};
pub use crossing::{Crossing, crossing_between, distance_to, encloses, first_self_crossing, self_crossing};
pub use divide::{Chord, NoChord};
pub use make::Side;
pub use meeting::{Meeting, line_meeting, meetings};
pub use mitre::{MITRE_LIMIT, mitre};
pub use nearest::Nearest;
pub use offset::{Bend, OffsetError};
pub use path::{Path, Segment};
pub use point::{Point, Vector};
pub use shifted::ShiftError;

/// Two points closer than this are one: a tenth of what a cutter resolves, far above rounding noise.
pub const COINCIDENT: f64 = 1e-6;

/// Curves are flattened so that no point strays farther than this (mm): a tenth of a laser's kerf.
pub const FLATTEN: f64 = 0.02;

#[cfg(test)]
mod tests;
