//! Shapes as what a pen does.

use crate::export::drawing::{Anchor, CAPITAL, Shape, Words};
use crate::export::letters::ascii;
use crate::geometry::{FLATTEN, Path, Point, Vector};
use crate::quantity::{push_decimal, push_whole};
use std::fmt::Write;

/// Units in a millimetre.
const UNITS: f64 = 40.0;
/// A pen stays down over several commands when a line has more vertices than this: plotters remember little at a time.
const MOST: usize = 64;
/// Letters stand so far apart, as parts of the type's height: as wide as a drawing allows for them at most.
const STEP: f64 = 0.6;
/// A letter fills two thirds of that; the language puts half its width between it and the next.
const LETTER: f64 = STEP / 1.5;
/// Ends a label.
const ETX: char = '\u{3}';

/// A file in the making. Each command stands on a line of its own.
pub(super) struct Plot {
    text: String,
    origin: Point,
}

impl Plot {
    /// An empty file; this place becomes 0,0.
    pub(super) fn from(origin: Point) -> Self {
        Self { text: "IN;\n".to_owned(), origin }
    }

    /// The file, its pen up and put away.
    pub(super) fn done(mut self) -> String {
        self.text.push_str("PU;\nSP0;\n");
        self.text
    }

    /// Takes a pen.
    pub(super) fn take(&mut self, pen: u8) {
        self.put(format_args!("PU;SP{pen};PA;\n"));
    }

    /// Draws a shape. What is filled elsewhere is drawn round here.
    pub(super) fn draw(&mut self, shape: &Shape) {
        match shape {
            Shape::Line(path) | Shape::Symbol(path) | Shape::Solid(path) => self.line(path),
            Shape::Circle { centre, radius } => self.line(&Path::circle(*centre, *radius)),
            Shape::Words(words) => self.words(words),
        }
    }

    fn put(&mut self, text: std::fmt::Arguments<'_>) {
        // Writing to a string does not fail.
        let _ = self.text.write_fmt(text);
    }

    fn units(&self, p: Point) -> (i64, i64) {
        let v = p - self.origin;
        (whole(v.x * UNITS), whole(v.y * UNITS))
    }

    fn line(&mut self, path: &Path) {
        let mut units: Vec<(i64, i64)> = path.flatten(FLATTEN).into_iter().map(|p| self.units(p)).collect();
        units.dedup();
        let Some(((x, y), rest)) = units.split_first().filter(|(_, rest)| !rest.is_empty()) else { return };
        self.text.push_str("PU");
        self.place(*x, *y);
        self.text.push(';');
        for part in rest.chunks(MOST) {
            let mut before = "PD";
            for (x, y) in part {
                self.text.push_str(before);
                self.place(*x, *y);
                before = ",";
            }
            self.text.push_str(";\n");
        }
    }

    fn place(&mut self, x: i64, y: i64) {
        for (number, after) in [(x, ","), (y, "")] {
            self.text.push_str(if number < 0 { "-" } else { "" });
            push_whole(&mut self.text, number.unsigned_abs());
            self.text.push_str(after);
        }
    }

    fn words(&mut self, words: &Words) {
        let text = ascii(&words.text);
        let along = Vector::at_angle(words.angle);
        let before = match words.anchor {
            Anchor::Start => 0.0,
            Anchor::Middle => -0.5,
            Anchor::End => -1.0,
        };
        // Spelt out in ASCII a text may have grown.
        let letters = text.chars().fold(0.0, |n, _| n + 1.0);
        let (x, y) = self.units(words.at + along * (before * letters * STEP * words.size));
        self.text.push_str("PU");
        self.place(x, y);
        self.pair(";DI", along.x, along.y);
        // The language takes these in centimetres.
        self.pair(";SI", words.size * LETTER / 10.0, words.size * CAPITAL / 10.0);
        self.text.extend([";LB", &text]);
        self.text.extend([ETX, '\n']);
    }

    /// A command with two numbers of four decimals at most.
    fn pair(&mut self, command: &str, first: f64, second: f64) {
        self.text.push_str(command);
        push_decimal(&mut self.text, first, 4);
        self.text.push(',');
        push_decimal(&mut self.text, second, 4);
    }
}

#[expect(clippy::cast_possible_truncation, reason = "a place is at most a few kilometres off")]
fn whole(value: f64) -> i64 {
    value.round() as i64
}

#[cfg(test)]
mod tests {
    use super::*;

    fn drawn(shape: &Shape) -> String {
        let mut plot = Plot::from(Point::default());
        plot.draw(shape);
        plot.text.strip_prefix("IN;\n").expect("it begins so").to_owned()
    }

    #[test]
    fn a_square_of_a_hundred_millimetres() {
        let corners = [(0.0, 0.0), (100.0, 0.0), (100.0, 100.0), (0.0, 100.0)].map(|(x, y)| Point::new(x, y));
        let square = Path::polygon(&corners).expect("it has corners");
        // 40 units a millimetre.
        assert_eq!(drawn(&Shape::Line(square)), "PU0,0;PD4000,0,4000,4000,0,4000,0,0;\n");
        // The long side of a sheet of A4.
        let side = Path::line(Point::default(), Point::new(297.0, 0.0));
        assert_eq!(drawn(&Shape::Line(side)), "PU0,0;PD11880,0;\n");
    }

    #[test]
    fn a_circle_is_chords_near_enough() {
        let text = drawn(&Shape::Circle { centre: Point::new(100.0, 100.0), radius: 50.0 });
        let numbers: Vec<f64> = text.split(|c: char| !c.is_ascii_digit() && c != '-').filter_map(|n| n.parse().ok()).collect();
        let points: Vec<Point> = numbers.chunks(2).map(|c| Point::new(c[0] / 40.0, c[1] / 40.0)).collect();
        assert_eq!(points.first(), points.last());
        for (a, b) in points.iter().zip(points.iter().skip(1)) {
            for t in [0.0, 0.5] {
                let off = (a.lerp(*b, t).distance(Point::new(100.0, 100.0)) - 50.0).abs();
                // A chord strays by 0.02, rounding to the plotter's units by half of one's diagonal, 0.0177.
                assert!(off < 0.038, "{off}");
            }
        }
        assert!(text.matches("PD").count() > 1, "long lines are given in parts");
    }

    #[test]
    fn words_are_turned_sized_and_ended() {
        let words = Words {
            at: Point::new(10.0, 20.0),
            angle: std::f64::consts::FRAC_PI_2,
            size: 10.0,
            anchor: Anchor::Middle,
            bold: false,
            text: "Größe\u{3}".to_owned(),
        };
        // `Grosse` and a space for the control character: 7 letters, 6 mm each, half of it below the place.
        assert_eq!(drawn(&Shape::Words(words)), "PU400,-40;DI0,1;SI0.4,0.72;LBGrosse \u{3}\n");
    }

    #[test]
    fn nothing_is_drawn_of_what_has_no_length() {
        assert_eq!(drawn(&Shape::Line(Path::line(Point::new(1.0, 1.0), Point::new(1.001, 1.0)))), "");
    }
}
