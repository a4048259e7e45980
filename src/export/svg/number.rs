//! Numbers and path data as text: fixed decimals, trimmed, never `-0`.

use crate::geometry::{Path, Point, Segment};
use crate::quantity::push_decimal;

/// A micrometre: below what any plotter resolves.
const DECIMALS: usize = 3;
/// An arc flatter than this is straight: over a chord of ten metres it bends by less than a micrometre.
const FLAT: f64 = 1e-10;
/// An arc of more than a quarter turn (tan 22.5°) is written in halves. A file gives an arc by its radius: near a half
/// turn a micrometre of that moves the arc by a third of a millimetre, up to a quarter turn by half as much as itself.
const QUARTER: f64 = 0.414_213_562_373_095_1;

/// A number.
pub(super) fn number(value: f64) -> String {
    let mut text = String::with_capacity(16);
    push(&mut text, value);
    text
}

/// Writes a number.
pub(super) fn push(text: &mut String, value: f64) {
    push_decimal(text, value, DECIMALS);
}

/// Writes a path's `d`, on a sheet of a height: y runs down in the file.
pub(super) fn push_data(text: &mut String, path: &Path, height: f64) {
    push_place(text, 'M', path.start, height);
    let mut from = path.start;
    let closes = path.is_closed();
    for (i, segment) in path.segments.iter().enumerate() {
        let is_last = i + 1 == path.segments.len();
        match *segment {
            // Closing draws the last straight line.
            Segment::Line { .. } if closes && is_last => {}
            Segment::Arc { end, bulge } if bulge.abs() > FLAT => push_arc(text, height, (from, end), bulge),
            Segment::Line { end } | Segment::Arc { end, .. } => push_place(text, 'L', end, height),
            Segment::Cubic { leaving, arriving, end } => {
                push_place(text, 'C', leaving, height);
                push_place(text, ' ', arriving, height);
                push_place(text, ' ', end, height);
            }
        }
        from = segment.end();
    }
    if closes {
        text.push('Z');
    }
}

fn push_place(text: &mut String, before: char, p: Point, height: f64) {
    text.push(before);
    push(text, p.x);
    text.push(' ');
    push(text, height - p.y);
}

fn push_arc(text: &mut String, height: f64, (from, end): (Point, Point), bulge: f64) {
    if bulge.abs() > QUARTER * (1.0 + 1e-9) {
        let middle = from.lerp(end, 0.5) + (end - from).right() * (bulge / 2.0);
        let half = (bulge.atan() / 2.0).tan();
        push_arc(text, height, (from, middle), half);
        push_arc(text, height, (middle, end), half);
        return;
    }
    let radius = number(from.distance(end) * (1.0 + bulge * bulge) / (4.0 * bulge.abs()));
    // Turning left, y up, is turning against the clock: sweep 0 where y runs down.
    let sweep = if bulge < 0.0 { '1' } else { '0' };
    text.extend(["A", &radius, " ", &radius, " 0 0 "]);
    text.push(sweep);
    push_place(text, ' ', end, height);
}

#[cfg(test)]
mod tests {
    use super::*;

    fn data(path: &Path, height: f64) -> String {
        let mut text = String::new();
        push_data(&mut text, path, height);
        text
    }

    #[test]
    fn numbers_are_short_and_plain() {
        let texts = [0.0, -0.0, -0.0001, 1.0, 100.0, 2.5, 1.23456, -7.25, 1300.0].map(number);
        assert_eq!(texts, ["0", "0", "0", "1", "100", "2.5", "1.235", "-7.25", "1300"]);
    }

    #[test]
    fn paths_are_flipped_and_closed() {
        let p = Point::new;
        let path = Path {
            start: p(0.0, 0.0),
            segments: vec![
                Segment::Line { end: p(10.0, 0.0) },
                Segment::Arc { end: p(10.0, 10.0), bulge: 1.0 },
                Segment::Cubic { leaving: p(8.0, 12.0), arriving: p(2.0, 12.0), end: p(0.0, 10.0) },
                Segment::Line { end: p(0.0, 0.0) },
            ],
        };
        assert_eq!(data(&path, 20.0), "M0 20L10 20A5 5 0 0 0 15 15A5 5 0 0 0 10 10C8 8 2 8 0 10Z");
    }

    #[test]
    fn a_large_arc_is_written_in_halves_and_a_flat_one_is_a_line() {
        // tan(270° / 4): three quarters of a circle round (0, 0), radius 10, from (10, 0) to (0, -10).
        let bulge = (270.0_f64.to_radians() / 4.0).tan();
        let mut path = Path { start: Point::new(10.0, 0.0), segments: vec![Segment::Arc { end: Point::new(0.0, -10.0), bulge }] };
        // Its quarters end at 67.5°, 135° and 202.5°.
        let arcs = "A10 10 0 0 0 3.827 -9.239A10 10 0 0 0 -7.071 -7.071A10 10 0 0 0 -9.239 3.827A10 10 0 0 0 0 10";
        assert_eq!(data(&path, 0.0), format!("M10 0{arcs}"));
        path.segments = vec![Segment::Arc { end: Point::new(0.0, -10.0), bulge: -QUARTER }];
        // The other way round it is a quarter, round the same centre.
        assert_eq!(data(&path, 0.0), "M10 0A10 10 0 0 1 0 10");
        path.segments = vec![Segment::Arc { end: Point::new(0.0, -10.0), bulge: 0.0 }];
        assert_eq!(data(&path, 0.0), "M10 0L0 10");
    }
}
