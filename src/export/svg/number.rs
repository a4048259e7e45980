//! Numbers and path data as text: fixed decimals, trimmed, never `-0`.

use crate::geometry::{Path, Point, Segment};

/// A micrometre: below what any plotter resolves.
const DECIMALS: usize = 3;
/// An arc flatter than this is straight: over a chord of ten metres it bends by less than a micrometre.
const FLAT: f64 = 1e-10;

/// A number.
pub(super) fn number(value: f64) -> String {
    let text = format!("{value:.DECIMALS$}");
    let text = if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.') } else { &text };
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}

/// A path's `d`, on a sheet of a height: y runs down in the file.
pub(super) fn data(path: &Path, height: f64) -> String {
    let place = |p: Point| format!("{} {}", number(p.x), number(height - p.y));
    let mut text = format!("M{}", place(path.start));
    let mut from = path.start;
    let closes = path.is_closed();
    for (i, segment) in path.segments.iter().enumerate() {
        let is_last = i + 1 == path.segments.len();
        match *segment {
            // Closing draws the last straight line.
            Segment::Line { .. } if closes && is_last => {}
            Segment::Arc { end, bulge } if bulge.abs() > FLAT => {
                let radius = number(from.distance(end) * (1.0 + bulge * bulge) / (4.0 * bulge.abs()));
                let long = u8::from(bulge.abs() > 1.0);
                // Turning left, y up, is turning against the clock: sweep 0 where y runs down.
                let sweep = u8::from(bulge < 0.0);
                text.push_str(&format!("A{radius} {radius} 0 {long} {sweep} {}", place(end)));
            }
            Segment::Line { end } | Segment::Arc { end, .. } => text.push_str(&format!("L{}", place(end))),
            Segment::Cubic { leaving, arriving, end } => {
                text.push_str(&format!("C{} {} {}", place(leaving), place(arriving), place(end)));
            }
        }
        from = segment.end();
    }
    if closes {
        text.push('Z');
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;

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
        assert_eq!(data(&path, 20.0), "M0 20L10 20A5 5 0 0 0 10 10C8 8 2 8 0 10Z");
    }

    #[test]
    fn a_large_arc_says_so_and_a_flat_one_is_a_line() {
        // tan(270° / 4): three quarters of a circle round (0, 0), radius 10, from (10, 0) to (0, -10).
        let bulge = (270.0_f64.to_radians() / 4.0).tan();
        let mut path = Path { start: Point::new(10.0, 0.0), segments: vec![Segment::Arc { end: Point::new(0.0, -10.0), bulge }] };
        assert_eq!(data(&path, 0.0), "M10 0A10 10 0 1 0 0 10");
        path.segments = vec![Segment::Arc { end: Point::new(0.0, -10.0), bulge: -bulge }];
        assert_eq!(data(&path, 0.0), "M10 0A10 10 0 1 1 0 10");
        path.segments = vec![Segment::Arc { end: Point::new(0.0, -10.0), bulge: 0.0 }];
        assert_eq!(data(&path, 0.0), "M10 0L0 10");
    }
}
